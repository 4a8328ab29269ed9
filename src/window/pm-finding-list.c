/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A list box: boards have a handful of findings.  The row of the open finding is selected, whoever opened it. */
#include "config.h"
#include "pm-finding-list.h"
#include "pm-label.h"
#include "pm-mark-view.h"
#include "pm-verdict-strip.h"
#include <glib/gi18n.h>

#define FILTER_FROM 4 /* fewer findings need no filter */

struct _PmFindingList {
  GtkBox        parent;
  /* template */
  GtkLabel     *heading, *unreadable, *nothing;
  GtkDropDown  *filter;
  GtkListBox   *list;
  /* owned */
  PmChoice     *choice;
  GtkSizeGroup *marks;
  gboolean      faulty;      /* the rows are faults of the file */
};

enum { FINDING_ACTIVATED, FAULT_ACTIVATED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PmFindingList, pm_finding_list, GTK_TYPE_BOX)

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PmFindingList *self)
{
  if (self->faulty) {
    g_signal_emit (self, signals[FAULT_ACTIVATED], 0, (guint) gtk_list_box_row_get_index (row));
    return;
  }
  pm_choice_set_finding (self->choice, GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), "finding")));
  g_signal_emit (self, signals[FINDING_ACTIVATED], 0);
}

static gboolean
filter_func (GtkListBoxRow *row, gpointer data)
{
  PmFindingList *self = data;
  const PmCheck *check = pm_choice_get_check (self->choice);
  guint index = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "finding"));
  guint selected = gtk_drop_down_get_selected (self->filter);

  if (self->faulty || check == NULL || index >= check->n_findings || selected == 0)
    return TRUE;
  return check->findings[index].severity <= (selected == 1 ? PM_SEVERITY_STOP : PM_SEVERITY_CARE);
}

static void
filter_cb (GtkDropDown *filter, GParamSpec *pspec, PmFindingList *self)
{
  gtk_list_box_invalidate_filter (self->list);
}

static GtkWidget *
new_row (PmFindingList *self, const PmFinding *finding, guint index)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *texts = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *mark = pm_mark_view_new (pm_shows_severity (finding->severity));
  GtkWidget *title = pm_label_new_wrapped (finding->title);
  g_autofree char *sentence =
      g_strdup_printf ("%s: %s%s%s", pm_mark_severity_word (finding->severity), finding->title,
                       finding->where != NULL ? ", " : "", finding->where != NULL ? finding->where : "");

  gtk_widget_set_valign (mark, GTK_ALIGN_START);
  gtk_size_group_add_widget (self->marks, mark);
  if (finding->severity == PM_SEVERITY_STOP)
    gtk_widget_add_css_class (title, "strong");
  gtk_box_append (GTK_BOX (texts), title);
  if (finding->where != NULL && *finding->where != '\0') {
    GtkWidget *where = pm_label_new_wrapped (finding->where);

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
  int finding = self->faulty ? -1 : pm_choice_get_finding (self->choice);
  GtkListBoxRow *row = finding >= 0 ? gtk_list_box_get_row_at_index (self->list, finding) : NULL;

  gtk_list_box_select_row (self->list, row);
}

static GtkWidget *
new_fault_row (const char *own, const PmFault *fault)
{
  GtkWidget *row = gtk_list_box_row_new (), *texts = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2), *place;
  g_autofree char *name = fault->spot.file != NULL ? g_path_get_basename (fault->spot.file) : NULL;
  g_autofree char *where = pm_fault_where (fault), *line = NULL, *sentence = NULL;

  line = name == NULL || g_strcmp0 (name, own) == 0 ? g_strdup (where) : g_strdup_printf ("%s, %s", name, where);
  place = pm_label_new_wrapped (line);
  gtk_widget_add_css_class (place, "strong");
  gtk_box_append (GTK_BOX (texts), place);
  gtk_box_append (GTK_BOX (texts), pm_label_new_wrapped (fault->message));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), texts);
  sentence = g_strdup_printf ("%s: %s", line, fault->message);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, sentence, -1);
  return row;
}

static void
clear (PmFindingList *self, gboolean faulty)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
  self->faulty = faulty;
  gtk_label_set_text (self->heading, faulty ? _("Faults") : _("Findings"));
  gtk_widget_set_visible (GTK_WIDGET (self->unreadable), faulty);
  gtk_list_box_set_placeholder (self->list, faulty ? NULL : GTK_WIDGET (self->nothing));
}

static void
rebuild (PmFindingList *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);

  clear (self, FALSE);
  for (guint i = 0; check != NULL && i < check->n_findings; i++)
    gtk_list_box_append (self->list, new_row (self, &check->findings[i], i));
  gtk_widget_set_visible (GTK_WIDGET (self->filter), check != NULL && check->n_findings >= FILTER_FROM);
  update (self);
}

static void
pm_finding_list_dispose (GObject *object)
{
  PmFindingList *self = PM_FINDING_LIST (object);

  g_clear_object (&self->nothing);
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
  gtk_widget_class_bind_template_child (widget_class, PmFindingList, heading);
  gtk_widget_class_bind_template_child (widget_class, PmFindingList, unreadable);
  gtk_widget_class_bind_template_child (widget_class, PmFindingList, nothing);
  gtk_widget_class_bind_template_child (widget_class, PmFindingList, filter);
  gtk_widget_class_bind_template_child (widget_class, PmFindingList, list);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, filter_cb);
  signals[FINDING_ACTIVATED] =
      g_signal_new ("finding-activated", PM_TYPE_FINDING_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[FAULT_ACTIVATED] = g_signal_new ("fault-activated", PM_TYPE_FINDING_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                           NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
}

static void
pm_finding_list_init (PmFindingList *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_object_ref (self->nothing); /* it is the list's only while there are no faults */
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

void
pm_finding_list_set_faults (PmFindingList *self, const char *path, const PmFaults *faults)
{
  g_autofree char *own = g_path_get_basename (path);

  g_return_if_fail (PM_IS_FINDING_LIST (self));
  clear (self, TRUE);
  for (guint i = 0; i < pm_faults_count (faults) && pm_faults_get (faults, i) != NULL; i++)
    gtk_list_box_append (self->list, new_fault_row (own, pm_faults_get (faults, i)));
  gtk_widget_set_visible (GTK_WIDGET (self->filter), FALSE);
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
