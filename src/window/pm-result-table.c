/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of a list box whose cells share widths by column.  Built once per study; a new comparison fills the cells again.
 *
 * A cell holds words, never a mark alone; the sign for "differs" stands behind the words it is about.
 */
#include "config.h"
#include "pm-result-table.h"
#include "pm-label.h"
#include "pm-columns.h"
#include "pm-mark-view.h"
#include <glib/gi18n.h>

#define FILTER_FROM 65     /* rows */
#define DIFFERS "\u00a0◂"

struct _PmResultTable {
  GtkBox      parent;
  /* template */
  GtkWidget  *search;
  GtkBox     *header;      /* holds the row of headings */
  GtkListBox *rows;
  GtkLabel   *legend;
  /* owned */
  PmChoice   *choice;
  PmColumns  *columns;
  guint       compared;
  gboolean    built;       /* rows are only made while the table can be seen */
};

G_DEFINE_FINAL_TYPE (PmResultTable, pm_result_table, GTK_TYPE_BOX)

static guint
result_of (GtkListBoxRow *row)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "result"));
}

static const char *
position_title (const PmPosition *position)
{
  return position->title != NULL ? position->title : position->name;
}

char *
pm_result_position_text (const PmCheck *check, guint result, guint switch_index)
{
  const PmSwitch *sw = &check->board->switches[switch_index];
  const GArray *settings = check->results[result].settings;
  g_autofree gboolean *used = g_new0 (gboolean, sw->n_positions + 1);
  g_autoptr (GString) text = g_string_new (NULL);
  guint n_used = 0;

  for (guint i = 0; i < settings->len; i++) {
    int position = check->cases[g_array_index (settings, guint, i)].positions[switch_index];

    if (position >= 0 && position < (int) sw->n_positions && !used[position]) {
      used[position] = TRUE;
      n_used++;
    }
  }
  if (n_used == sw->n_positions && n_used > 1)
    return g_strdup (_("any"));
  for (guint i = 0; i < sw->n_positions; i++) {
    guint last = i;

    if (!used[i])
      continue;
    while (last + 1 < sw->n_positions && used[last + 1])
      last++;
    if (text->len > 0)
      g_string_append (text, ", ");
    g_string_append (text, position_title (&sw->positions[i]));
    if (last > i)
      g_string_append_printf (text, last > i + 1 ? "–%s" : ", %s", position_title (&sw->positions[last]));
    i = last;
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static guint
n_columns (const PmCheck *check)
{
  guint n = 3 + check->board->host.n_units;

  for (guint i = 0; i < check->board->n_switches; i++)
    n += check->board->switches[i].moved == PM_MOVED_BY_HAND ? 1 : 0;
  return n;
}

static GtkWidget *
add_cell (GtkWidget *row, const char *text, gboolean strong)
{
  GtkWidget *label = pm_label_new_cell (text);

  gtk_label_set_max_width_chars (GTK_LABEL (label), 24);
  gtk_widget_set_margin_top (label, 2); /* in line with the text beside a mark */
  if (strong)
    gtk_widget_add_css_class (label, "strong");
  gtk_widget_set_parent (label, row);
  return label;
}

static const char *
short_side (const PmCaseResult *result)
{
  PmSide worst = PM_SIDE_FOLLOWS;

  for (guint i = 0; i < result->n_sides; i++)
    worst = MAX (worst, result->sides[i].side);
  if (worst == PM_SIDE_FOLLOWS)
    return result->n_sides > 0 ? _("go along") : "–";
  for (guint i = 0; i < result->n_sides; i++)
    if (result->sides[i].side == worst)
      return result->sides[i].text;
  return "";
}

static void
fill_row (PmResultTable *self, GtkListBoxRow *row)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  const PmBoard *board = check->board;
  const PmResult *result = &check->results[result_of (row)];
  guint setting = g_array_index (result->settings, guint, 0);
  const PmCaseResult *shown = &check->cases[setting];
  GtkWidget *box = pm_columns_new_row (self->columns);
  GtkWidget *verdict = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *label;
  const char *side = short_side (shown), *stale = pm_choice_get_stale (self->choice, NULL), *said;
  g_autoptr (GString) spoken = g_string_new (NULL);
  g_autofree char *name = g_strdup_printf ("%s (%u)", result->name, result->settings->len);
  gboolean side_differs = g_strcmp0 (side, short_side (&check->cases[self->compared])) != 0;

  g_string_append_printf (spoken, "%s, %s", result->name, result->text);
  add_cell (box, result->settings->len > 1 ? name : result->name, FALSE);
  for (guint i = 0; i < board->n_switches; i++) {
    g_autofree char *text = NULL;

    if (board->switches[i].moved != PM_MOVED_BY_HAND)
      continue;
    text = pm_result_position_text (check, result_of (row), i);
    g_string_append_printf (spoken, "; %s %s", board->switches[i].name, text);
    add_cell (box, text, FALSE);
  }
  for (guint i = 0; i < board->host.n_units; i++) {
    g_autofree char *text = pm_check_reach_text (check, setting, i), *cell = NULL;
    gboolean differs = pm_check_differs (check, setting, self->compared, i);

    cell = g_strconcat (text, differs ? DIFFERS : "", NULL);
    g_string_append_printf (spoken, "; %s: %s", board->host.units[i].name, text);
    add_cell (box, cell, differs);
  }
  if (side_differs) {
    g_autofree char *cell = g_strconcat (side, DIFFERS, NULL);

    add_cell (box, cell, TRUE);
  } else {
    add_cell (box, side, FALSE);
  }
  said = stale != NULL ? stale : shown->verdict != NULL ? shown->verdict : "";
  gtk_box_append (GTK_BOX (verdict),
                  pm_mark_view_new (stale != NULL ? PM_SHOWS_NOTHING : pm_shows_case (check, setting)));
  gtk_widget_set_valign (gtk_widget_get_first_child (verdict), GTK_ALIGN_START);
  label = gtk_label_new (said);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  gtk_widget_set_margin_top (label, 2);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_box_append (GTK_BOX (verdict), label);
  gtk_widget_set_parent (verdict, box);
  g_string_append_printf (spoken, "; %s; %s", side, said);
  gtk_list_box_row_set_child (row, box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken->str, -1);
}

static void
fill_header (PmResultTable *self, const PmCheck *check)
{
  const PmBoard *board = check->board;
  GtkWidget *child, *row = pm_columns_new_row (self->columns);

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->header))) != NULL)
    gtk_box_remove (self->header, child);
  gtk_widget_set_hexpand (row, TRUE);
  gtk_box_append (self->header, row);
  add_cell (row, _("result"), TRUE);
  for (guint i = 0; i < board->n_switches; i++)
    if (board->switches[i].moved == PM_MOVED_BY_HAND) {
      child = add_cell (row, board->switches[i].name, TRUE);
      gtk_widget_set_tooltip_text (child, board->switches[i].title);
    }
  for (guint i = 0; i < board->host.n_units; i++)
    add_cell (row, board->host.units[i].name, TRUE);
  add_cell (row, _("side lines"), TRUE);
  add_cell (row, _("verdict"), TRUE);
}

static void
fill_legend (PmResultTable *self, const PmCheck *check)
{
  g_autofree char *text =
      g_strdup_printf (_("◂ differs from “%s”. Enter chooses a row; 1 to 9 choose a result."),
                       self->compared == 0 ? _("without the board") : check->cases[self->compared].name);

  gtk_label_set_text (self->legend, text);
}

static void
select_chosen (PmResultTable *self, const PmCheck *check)
{
  guint result = check->cases[pm_choice_get_chosen (self->choice)].result;

  gtk_list_box_select_row (self->rows, gtk_list_box_get_row_at_index (self->rows, (int) result));
}

static void
build (PmResultTable *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (self->rows, 0)) != NULL)
    gtk_list_box_remove (self->rows, GTK_WIDGET (row));
  self->built = check != NULL && gtk_widget_get_visible (GTK_WIDGET (self));
  if (!self->built)
    return;
  self->compared = pm_choice_get_compared (self->choice);
  g_clear_object (&self->columns);
  self->columns = pm_columns_new (n_columns (check), 16);
  fill_header (self, check);
  fill_legend (self, check);
  for (guint i = 0; i < check->n_results; i++) {
    row = GTK_LIST_BOX_ROW (gtk_list_box_row_new ());
    g_object_set_data (G_OBJECT (row), "result", GUINT_TO_POINTER (i));
    fill_row (self, row);
    gtk_list_box_append (self->rows, GTK_WIDGET (row));
  }
  gtk_widget_set_visible (self->search, check->n_results >= FILTER_FROM);
  select_chosen (self, check);
}

static void
update (PmResultTable *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);

  if (check == NULL || !gtk_widget_get_visible (GTK_WIDGET (self)))
    return;
  if (!self->built || self->compared != pm_choice_get_compared (self->choice))
    build (self);
  else
    select_chosen (self, check);
}

static void
visible_cb (PmResultTable *self, GParamSpec *pspec, gpointer data)
{
  if (self->choice != NULL && !self->built)
    update (self);
}

/* Keeps the chosen setting where it already belongs to the row's result. */
static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PmResultTable *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  guint result = result_of (row);

  if (check->cases[pm_choice_get_chosen (self->choice)].result == result)
    pm_choice_set_chosen (self->choice, pm_choice_get_chosen (self->choice));
  else
    pm_choice_set_chosen (self->choice, g_array_index (check->results[result].settings, guint, 0));
}

static gboolean
filter_func (GtkListBoxRow *row, gpointer data)
{
  PmResultTable *self = data;
  const PmCheck *check = pm_choice_get_check (self->choice);
  const char *wanted = gtk_editable_get_text (GTK_EDITABLE (self->search));
  const GArray *settings;

  if (check == NULL || *wanted == '\0')
    return TRUE;
  settings = check->results[result_of (row)].settings;
  for (guint i = 0; i < settings->len; i++)
    if (g_str_match_string (wanted, check->cases[g_array_index (settings, guint, i)].name, TRUE))
      return TRUE;
  return FALSE;
}

static void
search_cb (GtkSearchEntry *entry, PmResultTable *self)
{
  gtk_list_box_invalidate_filter (self->rows);
}

static void
pm_result_table_dispose (GObject *object)
{
  PmResultTable *self = PM_RESULT_TABLE (object);

  g_clear_object (&self->choice);
  g_clear_object (&self->columns);
  G_OBJECT_CLASS (pm_result_table_parent_class)->dispose (object);
}

static void
pm_result_table_class_init (PmResultTableClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_result_table_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-result-table.ui");
  gtk_widget_class_bind_template_child (widget_class, PmResultTable, search);
  gtk_widget_class_bind_template_child (widget_class, PmResultTable, header);
  gtk_widget_class_bind_template_child (widget_class, PmResultTable, rows);
  gtk_widget_class_bind_template_child (widget_class, PmResultTable, legend);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, search_cb);
}

static void
pm_result_table_init (PmResultTable *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_list_box_set_filter_func (self->rows, filter_func, self, NULL);
  g_signal_connect (self, "notify::visible", G_CALLBACK (visible_cb), NULL);
}

void
pm_result_table_set_choice (PmResultTable *self, PmChoice *choice)
{
  g_return_if_fail (PM_IS_RESULT_TABLE (self) && self->choice == NULL);
  self->choice = g_object_ref (choice);
  g_signal_connect_object (choice, "study-changed", G_CALLBACK (build), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (choice, "stale-changed", G_CALLBACK (build), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (choice, "changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
}
