/* SPDX-License-Identifier: GPL-3.0-or-later */
/* GTK 4 has no recent chooser, so two plain lists stand here. */
#include "config.h"
#include "pm-open-popover.h"
#include "pm-file-list.h"

#define MOST_RECENT 5

struct _PmOpenPopover {
  GtkPopover  parent;
  /* template */
  GtkWidget  *open;
  GtkWidget  *recent_box, *examples_box;
  PmFileList *recent, *examples;
  gboolean    only_examples;
};

static guint activated_signal;

G_DEFINE_FINAL_TYPE (PmOpenPopover, pm_open_popover, GTK_TYPE_POPOVER)

static void
close_cb (PmOpenPopover *self)
{
  gtk_popover_popdown (GTK_POPOVER (self));
}

static void
file_activated_cb (PmFileList *list, const char *path, PmOpenPopover *self)
{
  gtk_popover_popdown (GTK_POPOVER (self));
  g_signal_emit (self, activated_signal, 0, path);
}

static void
pm_open_popover_show (GtkWidget *widget)
{
  PmOpenPopover *self = PM_OPEN_POPOVER (widget);

  gtk_widget_set_visible (self->recent_box,
                          !self->only_examples && pm_file_list_fill_recent (self->recent, MOST_RECENT) > 0);
  gtk_widget_set_visible (self->examples_box, pm_file_list_fill_examples (self->examples) > 0);
  GTK_WIDGET_CLASS (pm_open_popover_parent_class)->show (widget);
}

static void
pm_open_popover_class_init (PmOpenPopoverClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (PM_TYPE_FILE_LIST);
  widget_class->show = pm_open_popover_show;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-open-popover.ui");
  gtk_widget_class_bind_template_child (widget_class, PmOpenPopover, open);
  gtk_widget_class_bind_template_child (widget_class, PmOpenPopover, recent_box);
  gtk_widget_class_bind_template_child (widget_class, PmOpenPopover, examples_box);
  gtk_widget_class_bind_template_child (widget_class, PmOpenPopover, recent);
  gtk_widget_class_bind_template_child (widget_class, PmOpenPopover, examples);
  gtk_widget_class_bind_template_callback (widget_class, close_cb);
  activated_signal = g_signal_new ("file-activated", PM_TYPE_OPEN_POPOVER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
pm_open_popover_init (PmOpenPopover *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect (self->recent, "file-activated", G_CALLBACK (file_activated_cb), self);
  g_signal_connect (self->examples, "file-activated", G_CALLBACK (file_activated_cb), self);
}

GtkWidget *
pm_open_popover_new (gboolean only_examples)
{
  PmOpenPopover *self = g_object_new (PM_TYPE_OPEN_POPOVER, NULL);

  self->only_examples = only_examples;
  gtk_widget_set_visible (self->open, !only_examples);
  return GTK_WIDGET (self);
}
