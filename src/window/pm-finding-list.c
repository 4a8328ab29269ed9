/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A list box: boards have a handful of findings.  The row of the open finding is selected, whoever opened it. */
#include "config.h"
#include "pm-finding-list.h"
#include "pm-mark-view.h"
#include <glib/gi18n.h>

#define FILTER_FROM 4 /* fewer findings need no filter */

struct _PmFindingList {
  GtkBox        parent;
  /* template */
  GtkDropDown  *filter;
  GtkListBox   *list;
  /* owned */
  PmChoice     *choice;
  GtkSizeGroup *marks;
};

static guint activated_signal;

G_DEFINE_FINAL_TYPE (PmFindingList, pm_finding_list, GTK_TYPE_BOX)

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PmFindingList *self)
{
  pm_choice_set_finding (self->choice, GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), "finding")));
  g_signal_emit (self, activated_signal, 0);
}

static gboolean
filter_func (GtkListBoxRow *row, gpointer data)
{
  PmFindingList *self = data;
  const PmCheck *check = pm_choice_get_check (self->choice);
  guint index = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "finding"));
  guint selected = gtk_drop_down_get_selected (self->filter);

  if (check == NULL || index >= check->n_findings || selected == 0)
    return TRUE;
  return check->findings[index].severity <= (selected == 1 ? PM_SEVERITY_STOP : PM_SEVERITY_CARE);
}

static void
filter_cb (GtkDropDown *filter, GParamSpec *pspec, PmFindingList *self)
{
  gtk_list_box_invalidate_filter (self->list);
}

static GtkWidget *
text_label (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  return label;
}

static GtkWidget *
new_row (PmFindingList *self, const PmFinding *finding, guint index)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *texts = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *mark = pm_mark_view_new (pm_shows_severity (finding->severity));
  GtkWidget *title = text_label (finding->title);
  g_autofree char *sentence =
      g_strdup_printf ("%s: %s%s%s", pm_mark_severity_word (finding->severity), finding->title,
                       finding->where != NULL ? ", " : "", finding->where != NULL ? finding->where : "");

  gtk_widget_set_valign (mark, GTK_ALIGN_START);
  gtk_size_group_add_widget (self->marks, mark);
  if (finding->severity == PM_SEVERITY_STOP)
    gtk_widget_add_css_class (title, "strong");
  gtk_box_append (GTK_BOX (texts), title);
  if (finding->where != NULL && *finding->where != '\0') {
    GtkWidget *where = text_label (finding->where);

    gtk_widget_add_css_class (where, "pm-second");
    gtk_box_append (GTK_BOX (texts), where);
  }
  gtk_box_append (GTK_BOX (box), mark);
  gtk_box_append (GTK_BOX (box), texts);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, sentence, -1);
  g_object_set_data (G_OBJECT (row), "finding", GUINT_TO_POINTER (index));
  return row;
}

static void
update (PmFindingList *self)
{
  int finding = pm_choice_get_finding (self->choice);
  GtkListBoxRow *row = finding >= 0 ? gtk_list_box_get_row_at_index (self->list, finding) : NULL;

  gtk_list_box_select_row (self->list, row);
}

static void
rebuild (PmFindingList *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
  for (guint i = 0; check != NULL && i < check->n_findings; i++)
    gtk_list_box_append (self->list, new_row (self, &check->findings[i], i));
  gtk_widget_set_visible (GTK_WIDGET (self->filter), check != NULL && check->n_findings >= FILTER_FROM);
  update (self);
}

static void
pm_finding_list_dispose (GObject *object)
{
  PmFindingList *self = PM_FINDING_LIST (object);

  g_clear_object (&self->marks);
  g_clear_object (&self->choice);
  G_OBJECT_CLASS (pm_finding_list_parent_class)->dispose (object);
}

static void
pm_finding_list_class_init (PmFindingListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_finding_list_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-finding-list.ui");
  gtk_widget_class_bind_template_child (widget_class, PmFindingList, filter);
  gtk_widget_class_bind_template_child (widget_class, PmFindingList, list);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, filter_cb);
  activated_signal =
      g_signal_new ("finding-activated", PM_TYPE_FINDING_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pm_finding_list_init (PmFindingList *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->marks = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  gtk_list_box_set_filter_func (self->list, filter_func, self, NULL);
}

void
pm_finding_list_set_choice (PmFindingList *self, PmChoice *choice)
{
  g_return_if_fail (PM_IS_FINDING_LIST (self) && self->choice == NULL);
  self->choice = g_object_ref (choice);
  g_signal_connect_object (choice, "study-changed", G_CALLBACK (rebuild), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (choice, "changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
}

gboolean
pm_finding_list_focus_first (PmFindingList *self)
{
  GtkListBoxRow *row;

  g_return_val_if_fail (PM_IS_FINDING_LIST (self), FALSE);
  row = gtk_list_box_get_selected_row (self->list);
  if (row == NULL)
    row = gtk_list_box_get_row_at_index (self->list, 0);
  return row != NULL && gtk_widget_grab_focus (GTK_WIDGET (row));
}
