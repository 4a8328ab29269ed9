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

static void
refresh (PmStartPage *self)
{
  gtk_widget_set_visible (self->recent_box, pm_file_list_fill_recent (self->recent, MOST_RECENT) > 0);
}

static void
take_focus (PmStartPage *self)
{
  if (!gtk_widget_get_visible (self->recent_box) || !pm_file_list_focus_first (self->recent))
    gtk_widget_grab_focus (self->open);
}

/* Drawing the icon takes a library of its own and recent boards are read from a file: a window that opens on a board
 * has no need of them. */
static void
pm_start_page_map (GtkWidget *widget)
{
  gtk_image_set_from_icon_name (PM_START_PAGE (widget)->icon, PM_APP_ID);
  refresh (PM_START_PAGE (widget));
  GTK_WIDGET_CLASS (pm_start_page_parent_class)->map (widget);
  take_focus (PM_START_PAGE (widget));
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

/* Made when it is asked for the first time. */
static void
create_popover_cb (GtkMenuButton *button, gpointer data)
{
  GtkWidget *popover;

  if (gtk_menu_button_get_popover (button) != NULL)
    return;
  popover = pm_open_popover_new (TRUE);
  g_signal_connect (popover, "file-activated", G_CALLBACK (file_activated_cb), data);
  gtk_menu_button_set_popover (button, popover);
}

static void
pm_start_page_init (PmStartPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_menu_button_set_create_popup_func (self->examples, create_popover_cb, self, NULL);
  g_signal_connect (self->recent, "file-activated", G_CALLBACK (file_activated_cb), self);
}
