/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rows say file and line in words and the message as the reader worded it; choosing one opens the drawer there. */
#include "config.h"
#include "pm-faults-page.h"
#include "pm-verdict-strip.h"
#include <glib/gi18n.h>

struct _PmFaultsPage {
  GtkBox        parent;
  /* template */
  GtkLabel     *heading;
  GtkListBox   *list;
  /* owned */
  GtkSizeGroup *places;
};

static guint activated_signal;

G_DEFINE_FINAL_TYPE (PmFaultsPage, pm_faults_page, GTK_TYPE_BOX)

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PmFaultsPage *self)
{
  g_signal_emit (self, activated_signal, 0, (guint) gtk_list_box_row_get_index (row));
}

static void
pm_faults_page_dispose (GObject *object)
{
  g_clear_object (&PM_FAULTS_PAGE (object)->places);
  G_OBJECT_CLASS (pm_faults_page_parent_class)->dispose (object);
}

static void
pm_faults_page_class_init (PmFaultsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_faults_page_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-faults-page.ui");
  gtk_widget_class_bind_template_child (widget_class, PmFaultsPage, heading);
  gtk_widget_class_bind_template_child (widget_class, PmFaultsPage, list);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  activated_signal = g_signal_new ("fault-activated", PM_TYPE_FAULTS_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 1, G_TYPE_UINT);
}

static void
pm_faults_page_init (PmFaultsPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->places = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
}

static GtkWidget *
new_row (PmFaultsPage *self, const char *own, const PmFault *fault)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 14);
  GtkWidget *message = gtk_label_new (fault->message), *place;
  g_autofree char *where = pm_fault_where (fault), *line = NULL, *spoken = NULL;
  g_autofree char *name = fault->spot.file != NULL ? g_path_get_basename (fault->spot.file) : NULL;

  /* The board's own lines need no file name. */
  line = name == NULL || g_strcmp0 (name, own) == 0 ? g_strdup (where) : g_strdup_printf ("%s, %s", name, where);
  place = gtk_label_new (line);
  gtk_label_set_xalign (GTK_LABEL (place), 0);
  gtk_label_set_yalign (GTK_LABEL (place), 0);
  gtk_label_set_wrap (GTK_LABEL (place), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (place), 22);
  gtk_widget_add_css_class (place, "strong");
  gtk_size_group_add_widget (self->places, place);
  gtk_label_set_xalign (GTK_LABEL (message), 0);
  gtk_label_set_wrap (GTK_LABEL (message), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (message), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_hexpand (message, TRUE);
  gtk_box_append (GTK_BOX (box), place);
  gtk_box_append (GTK_BOX (box), message);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  spoken = g_strdup_printf ("%s: %s", line, fault->message);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  return row;
}

void
pm_faults_page_show (PmFaultsPage *self, const char *path, const PmFaults *faults)
{
  g_autofree char *name = g_path_get_basename (path), *text = NULL;
  GtkListBoxRow *row;
  guint n = pm_faults_count (faults);

  g_return_if_fail (PM_IS_FAULTS_PAGE (self));
  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
  text = g_strdup_printf (ngettext ("%s cannot be read: %u fault", "%s cannot be read: %u faults", n), name, n);
  gtk_label_set_text (self->heading, text);
  for (guint i = 0; i < n; i++) {
    const PmFault *fault = pm_faults_get (faults, i);

    if (fault == NULL)
      break; /* more were found than kept */
    gtk_list_box_append (self->list, new_row (self, name, fault));
  }
}

gboolean
pm_faults_page_focus (PmFaultsPage *self)
{
  GtkListBoxRow *row;

  g_return_val_if_fail (PM_IS_FAULTS_PAGE (self), FALSE);
  row = gtk_list_box_get_row_at_index (self->list, 0);
  return row != NULL && gtk_widget_grab_focus (GTK_WIDGET (row));
}
