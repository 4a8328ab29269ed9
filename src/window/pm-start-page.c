/* SPDX-License-Identifier: GPL-3.0-or-later */
/* No empty page: recent boards stand below the buttons where there are any. */
#include "config.h"
#include "pm-start-page.h"
#include "pm-file-list.h"
#include "pm-open-popover.h"

#define MOST_RECENT 6

struct _PmStartPage {
  GtkBox         parent;
  /* template */
  GtkImage      *icon;
  GtkWidget     *open;
  GtkMenuButton *examples;
  GtkWidget     *recent_box;
  PmFileList    *recent;
};

static guint activated_signal;

G_DEFINE_FINAL_TYPE (PmStartPage, pm_start_page, GTK_TYPE_BOX)

static void
file_activated_cb (GtkWidget *list, const char *path, PmStartPage *self)
{
  g_signal_emit (self, activated_signal, 0, path);
}

/* Drawing the icon takes a library of its own, which a window that opens on a board has no need of. */
static void
pm_start_page_map (GtkWidget *widget)
{
  gtk_image_set_from_icon_name (PM_START_PAGE (widget)->icon, PM_APP_ID);
  GTK_WIDGET_CLASS (pm_start_page_parent_class)->map (widget);
}

static void
pm_start_page_class_init (PmStartPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (PM_TYPE_FILE_LIST);
  widget_class->map = pm_start_page_map;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-start-page.ui");
  gtk_widget_class_bind_template_child (widget_class, PmStartPage, icon);
  gtk_widget_class_bind_template_child (widget_class, PmStartPage, open);
  gtk_widget_class_bind_template_child (widget_class, PmStartPage, examples);
  gtk_widget_class_bind_template_child (widget_class, PmStartPage, recent_box);
  gtk_widget_class_bind_template_child (widget_class, PmStartPage, recent);
  activated_signal = g_signal_new ("file-activated", PM_TYPE_START_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
pm_start_page_init (PmStartPage *self)
{
  GtkWidget *popover;

  gtk_widget_init_template (GTK_WIDGET (self));
  popover = pm_open_popover_new (TRUE);
  g_signal_connect (popover, "file-activated", G_CALLBACK (file_activated_cb), self);
  gtk_menu_button_set_popover (self->examples, popover);
  g_signal_connect (self->recent, "file-activated", G_CALLBACK (file_activated_cb), self);
}

void
pm_start_page_refresh (PmStartPage *self)
{
  g_return_if_fail (PM_IS_START_PAGE (self));
  gtk_widget_set_visible (self->recent_box, pm_file_list_fill_recent (self->recent, MOST_RECENT) > 0);
}

void
pm_start_page_focus (PmStartPage *self)
{
  g_return_if_fail (PM_IS_START_PAGE (self));
  if (!gtk_widget_get_visible (self->recent_box) || !pm_file_list_focus_first (self->recent))
    gtk_widget_grab_focus (self->open);
}
