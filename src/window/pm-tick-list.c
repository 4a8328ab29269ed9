/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows are made when the list becomes another or the room does; a tick only changes what stands in them. */
#include "config.h"
#include "pm-tick-list.h"
#include "pm-label.h"
#include "pm-columns.h"
#include "pm-list-menu.h"
#include "pm-mark-view.h"
#include "pm-row-layout.h"
#include "pm-wrap-layout.h"
#include <glib/gi18n.h>

#define MOST_TICKS 4
#define TEXT_WIDTH 78
#define WIDE_COLUMN 85    /* a table is set from so many pixels a column on */

typedef struct {
  guint      index;       /* of the list */
  GtkWidget *row, *body;
  GtkWidget *ticks[MOST_TICKS];
  GtkLabel  *number;      /* the first cell: says "next" too */
  GtkLabel  *state;       /* of a hold point */
} Row;

struct _PmTickList {
  GtkBox        parent;
  PmListKind    kind;
  PmBuildLists *lists;
  PmBuildOwn   *own;
  GtkLabel     *title, *count, *about, *notes;
  GtkWidget    *head, *menu, *over, *frame;
  GtkListBox   *box;
  GArray       *rows;     /* Row */
  guint         shown[16], n_shown, ticks[MOST_TICKS], n_ticks;   /* columns */
  int           width;
  PmColumns    *columns;
  char         *made_of;  /* the list as text: the same again needs no other rows */
  gboolean      wide, updating;
};

G_DEFINE_FINAL_TYPE (PmTickList, pm_tick_list, GTK_TYPE_BOX)

static const struct { const char *id, *of; } counts[] = {
  { "fitted", N_("%u of %u fitted") },
  { "checked", N_("%u of %u checked") },
  { "done", N_("%u of %u done") },
  { "pass", N_("%u of %u passed") },
};

static const PmList *
list_of (PmTickList *self)
{
  return self->own != NULL ? pm_build_lists_get (self->lists, self->kind) : NULL;
}

static gboolean
is_ticked (PmTickList *self, const PmList *list, guint row, guint tick)
{
  g_autofree char *key = pm_tick_key (list, row, self->ticks[tick]);

  return pm_ticks_get (pm_build_own_get_ticks (self->own), key);
}

static gboolean
is_done (PmTickList *self, const PmList *list, guint row)
{
  for (guint t = 0; t < self->n_ticks; t++)
    if (!is_ticked (self, list, row, t))
      return FALSE;
  return TRUE;
}

/* ---- what has been ticked */

static char *
row_sentence (PmTickList *self, const PmList *list, guint index, gboolean next)
{
  const PmListRow *row = &list->rows[index];
  g_autoptr (GString) text = g_string_new (NULL);

  if (next)
    g_string_append_printf (text, "%s: ", _("Next"));
  for (guint k = 0; k < self->n_shown; k++)
    if (*row->cells[self->shown[k]] != '\0')
      g_string_append_printf (text, "%s%s %s", k > 0 ? ", " : "", list->columns[self->shown[k]].title,
                              row->cells[self->shown[k]]);
  for (guint t = 0; t < self->n_ticks && row->id != NULL; t++)
    g_string_append_printf (text, "; %s: %s", list->columns[self->ticks[t]].title,
                            is_ticked (self, list, index, t) ? _("yes") : _("not yet"));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
set_class (GtkWidget *widget, const char *name, gboolean on)
{
  if (on)
    gtk_widget_add_css_class (widget, name);
  else
    gtk_widget_remove_css_class (widget, name);
}

static void
refresh_plain (PmTickList *self, const PmList *list, Row *row, gboolean next)
{
  const PmListRow *is = &list->rows[row->index];
  const char *number = is->cells[self->shown[0]];
  g_autofree char *sentence = row_sentence (self, list, row->index, next), *words = NULL;

  for (guint t = 0; t < self->n_ticks && row->ticks[t] != NULL; t++)
    gtk_check_button_set_active (GTK_CHECK_BUTTON (row->ticks[t]), is_ticked (self, list, row->index, t));
  words = next && list->columns[self->shown[0]].kind == PM_CELLS_NUMBER
              ? g_strdup_printf (self->wide ? "%s\n%s" : "%s: %s", _("Next"), number)
              : g_strdup (number);
  gtk_label_set_text (row->number, words);
  set_class (row->row, "next", next);
  set_class (row->body, "strong", next);
  set_class (row->row, "done", is_done (self, list, row->index));
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->row), GTK_ACCESSIBLE_PROPERTY_LABEL, sentence, -1);
}

static void
refresh_hold (const PmList *list, Row *row, guint n_open)
{
  g_autofree char *state = n_open > 0 ? g_strdup_printf (ngettext ("Not yet: %u tick before it is missing.",
                                                                   "Not yet: %u ticks before it are missing.", n_open),
                                                         n_open)
                                      : g_strdup (_("All before it is ticked."));
  g_autofree char *sentence = g_strdup_printf ("%s %s", list->rows[row->index].cells[0], state);

  gtk_label_set_text (row->state, state);
  set_class (row->row, "open", n_open > 0);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->row), GTK_ACCESSIBLE_PROPERTY_LABEL, sentence, -1);
}

static char *
count_text (PmTickList *self, const PmList *list)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint t = 0; t < self->n_ticks; t++) {
    guint n = 0, all = 0;

    for (guint r = 0; r < list->n_rows; r++)
      if (list->rows[r].kind == PM_ROW_PLAIN && list->rows[r].id != NULL) {
        all++;
        n += is_ticked (self, list, r, t);
      }
    for (guint k = 0; k < G_N_ELEMENTS (counts) && all > 0; k++)
      if (g_str_equal (counts[k].id, list->columns[self->ticks[t]].id)) {
        if (text->len > 0)
          g_string_append (text, " · ");
        g_string_append_printf (text, _(counts[k].of), n, all);
      }
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
refresh (PmTickList *self)
{
  const PmList *list = list_of (self);
  g_autofree char *count = NULL;
  gboolean steps = self->n_ticks == 1; /* wires are all fitted, then all checked: there is no one that is next */
  gboolean any = FALSE;
  guint n_open = 0;

  if (list == NULL)
    return;
  self->updating = TRUE;
  for (guint i = 0; i < self->rows->len; i++) {
    Row *row = &g_array_index (self->rows, Row, i);
    PmRowKind kind = list->rows[row->index].kind;

    if (kind == PM_ROW_PLAIN) {
      gboolean open = list->rows[row->index].id != NULL && !is_done (self, list, row->index);

      refresh_plain (self, list, row, steps && open && n_open == 0);
      n_open += open;
      for (guint t = 0; t < self->n_ticks && list->rows[row->index].id != NULL; t++)
        any |= is_ticked (self, list, row->index, t);
    } else if (kind == PM_ROW_HOLD) {
      refresh_hold (list, row, n_open);
    }
  }
  self->updating = FALSE;
  if (self->columns != NULL)
    pm_columns_forget (self->columns);
  count = count_text (self, list);
  gtk_label_set_text (self->count, count);
  gtk_widget_set_sensitive (self->over, any);
}

static void
toggled_cb (GtkCheckButton *button, PmTickList *self)
{
  const PmList *list = list_of (self);
  gboolean active = gtk_check_button_get_active (button); /* ticks that are read again may be shown meanwhile */

  if (self->updating || list == NULL)
    return;
  for (guint i = 0; i < self->rows->len; i++) {
    Row *row = &g_array_index (self->rows, Row, i);

    for (guint t = 0; t < self->n_ticks; t++)
      if (row->ticks[t] == GTK_WIDGET (button)) {
        g_autofree char *key = pm_tick_key (list, row->index, self->ticks[t]);

        if (pm_build_own_begin (self->own, PM_OWN_TICKS)) {
          pm_ticks_set (pm_build_own_get_ticks (self->own), key, active);
          pm_build_own_end (self->own, PM_OWN_TICKS, NULL, NULL);
        } else {
          refresh (self);
        }
        return;
      }
  }
}

/* Enter, Space or a click on a row ticks what comes first in it. */
static void
activated_cb (GtkListBox *box, GtkListBoxRow *activated, PmTickList *self)
{
  for (guint i = 0; i < self->rows->len; i++) {
    Row *row = &g_array_index (self->rows, Row, i);

    if (row->row == GTK_WIDGET (activated) && row->ticks[0] != NULL)
      gtk_check_button_set_active (GTK_CHECK_BUTTON (row->ticks[0]),
                                   !gtk_check_button_get_active (GTK_CHECK_BUTTON (row->ticks[0])));
  }
}

static void
over_cb (GtkButton *button, PmTickList *self)
{
  const PmList *list = list_of (self);

  if (list == NULL || !pm_build_own_begin (self->own, PM_OWN_TICKS))
    return;
  for (guint r = 0; r < list->n_rows; r++)
    for (guint t = 0; t < self->n_ticks && list->rows[r].id != NULL; t++) {
      g_autofree char *key = pm_tick_key (list, r, self->ticks[t]);

      pm_ticks_set (pm_build_own_get_ticks (self->own), key, FALSE);
    }
  pm_build_own_end (self->own, PM_OWN_TICKS, NULL, _("All ticks of this list are taken away."));
  pm_tick_list_focus (self);
}

/* ---- rows */

static GtkWidget *
cell_label (const char *text)
{
  GtkWidget *label = pm_label_new_cell (text);

  gtk_widget_set_hexpand (label, TRUE);
  return label;
}

static GtkWidget *
tick_button (PmTickList *self, const PmList *list, guint index, guint tick, gboolean labelled)
{
  const PmListColumn *column = &list->columns[self->ticks[tick]];
  GtkWidget *button = gtk_check_button_new_with_label (labelled ? column->title : NULL);
  g_autofree char *what = row_sentence (self, list, index, FALSE);
  g_autofree char *label = g_strdup_printf ("%s: %.*s", column->title, (int) strcspn (what, ";"), what);

  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (button, column->title);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_signal_connect (button, "toggled", G_CALLBACK (toggled_cb), self);
  return button;
}

static GtkWidget *
wide_body (PmTickList *self, const PmList *list, Row *row)
{
  GtkWidget *body = pm_columns_new_row (self->columns);
  char **cells = list->rows[row->index].cells;

  for (guint k = 0; k < self->n_shown; k++) {
    GtkWidget *label = cell_label (cells[self->shown[k]]);

    gtk_widget_set_parent (label, body);
    if (k == 0)
      row->number = GTK_LABEL (label);
  }
  for (guint t = 0; t < self->n_ticks; t++) {
    row->ticks[t] = tick_button (self, list, row->index, t, FALSE);
    gtk_widget_set_parent (row->ticks[t], body);
  }
  return body;
}

/* Two lines of words, the first with what matters, and ticks that say what they are. */
static GtkWidget *
narrow_body (PmTickList *self, const PmList *list, Row *row)
{
  GtkWidget *body = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0),
            *ticks = pm_wrap_box_new (12);
  char **cells = list->rows[row->index].cells;
  g_autoptr (GString) rest = g_string_new (NULL);

  gtk_widget_set_layout_manager (line, g_object_new (PM_TYPE_ROW_LAYOUT, "spacing", 8, NULL));
  for (guint k = 0; k < MIN (self->n_shown, 2); k++) {
    GtkWidget *label = cell_label (cells[self->shown[k]]);

    gtk_widget_set_hexpand (label, k == 1);
    gtk_box_append (GTK_BOX (line), label);
    if (k == 0)
      row->number = GTK_LABEL (label);
  }
  gtk_box_append (GTK_BOX (body), line);
  for (guint k = 2; k < self->n_shown; k++)
    if (*cells[self->shown[k]] != '\0')
      g_string_append_printf (rest, "%s%s: %s", rest->len > 0 ? " · " : "", list->columns[self->shown[k]].title,
                              cells[self->shown[k]]);
  if (rest->len > 0) {
    GtkWidget *label = cell_label (rest->str);

    gtk_widget_add_css_class (label, "pm-second");
    gtk_box_append (GTK_BOX (body), label);
  }
  for (guint t = 0; t < self->n_ticks; t++) {
    row->ticks[t] = tick_button (self, list, row->index, t, TRUE);
    pm_wrap_box_append (PM_WRAP_BOX (ticks), row->ticks[t]);
  }
  gtk_box_append (GTK_BOX (body), ticks);
  return body;
}

/* A heading, a hold point or a caution. */
static GtkWidget *
line_body (const PmList *list, Row *row)
{
  static const struct { PmShows mark; const char *style; } looks[] = {
    [PM_ROW_HEADING] = { PM_SHOWS_NOTHING, "heading" },
    [PM_ROW_HOLD] = { PM_SHOWS_STOP, "hold" },
    [PM_ROW_CAUTION] = { PM_SHOWS_CARE, "caution" },
  };
  const PmListRow *is = &list->rows[row->index];
  GtkWidget *body = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0), *texts = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2),
            *label = cell_label (is->cells[0]);

  gtk_widget_set_layout_manager (body, g_object_new (PM_TYPE_ROW_LAYOUT, "spacing", 10, NULL));
  if (looks[is->kind].mark != PM_SHOWS_NOTHING) {
    GtkWidget *mark = pm_mark_view_new (looks[is->kind].mark);

    gtk_widget_set_valign (mark, GTK_ALIGN_START);
    gtk_box_append (GTK_BOX (body), mark);
  }
  gtk_widget_set_hexpand (texts, TRUE);
  gtk_box_append (GTK_BOX (texts), label);
  if (is->kind == PM_ROW_HOLD) {
    row->state = GTK_LABEL (cell_label (NULL));
    gtk_box_append (GTK_BOX (texts), GTK_WIDGET (row->state));
  }
  gtk_box_append (GTK_BOX (body), texts);
  gtk_widget_add_css_class (row->row, looks[is->kind].style);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row->row), FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->row), GTK_ACCESSIBLE_PROPERTY_LABEL, is->cells[0], -1);
  return body;
}

/* Columns to write in by hand, and those that are empty, are for paper. */
static void
choose_columns (PmTickList *self, const PmList *list)
{
  self->n_shown = self->n_ticks = 0;
  for (guint c = 0; c < list->n_columns; c++) {
    gboolean filled = FALSE;

    for (guint r = 0; r < list->n_rows && !filled; r++)
      filled = list->rows[r].kind == PM_ROW_PLAIN && *list->rows[r].cells[c] != '\0';
    if (list->columns[c].kind == PM_CELLS_TICK && self->n_ticks < MOST_TICKS)
      self->ticks[self->n_ticks++] = c;
    else if (filled && list->columns[c].kind != PM_CELLS_BLANK && self->n_shown < G_N_ELEMENTS (self->shown))
      self->shown[self->n_shown++] = c;
  }
}

static gboolean
is_wide (PmTickList *self)
{
  return self->width >= WIDE_COLUMN * (int) MAX (self->n_shown + self->n_ticks, 5);
}

static void
add_head (PmTickList *self, const PmList *list)
{
  GtkWidget *row = pm_columns_new_row (self->columns);

  for (guint k = 0; k < self->n_shown + self->n_ticks; k++) {
    guint c = k < self->n_shown ? self->shown[k] : self->ticks[k - self->n_shown];

    gtk_widget_set_parent (cell_label (list->columns[c].title), row);
  }
  gtk_box_append (GTK_BOX (self->head), row);
}

static void
rebuild (PmTickList *self)
{
  const PmList *list = list_of (self);
  g_autofree char *notes = NULL;
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->box))) != NULL)
    gtk_list_box_remove (self->box, child);
  while ((child = gtk_widget_get_first_child (self->head)) != NULL)
    gtk_box_remove (GTK_BOX (self->head), child);
  g_array_set_size (self->rows, 0);
  g_clear_pointer (&self->made_of, g_free);
  if (list == NULL)
    return;
  self->made_of = pm_list_csv (list);
  choose_columns (self, list);
  self->wide = is_wide (self);
  g_set_object (&self->columns, NULL);
  self->columns = pm_columns_new (self->n_shown + self->n_ticks, 12);
  if (self->wide)
    add_head (self, list);
  for (guint r = 0; r < list->n_rows && self->n_shown > 0; r++) {
    Row row = { r, gtk_list_box_row_new (), NULL, { NULL }, NULL, NULL };

    row.body = list->rows[r].kind != PM_ROW_PLAIN ? line_body (list, &row)
               : self->wide                       ? wide_body (self, list, &row)
                                                  : narrow_body (self, list, &row);
    gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row.row), row.body);
    gtk_list_box_append (self->box, row.row);
    g_array_append_val (self->rows, row);
  }
  notes = g_strjoinv ("\n", list->notes);
  gtk_label_set_text (self->title, list->title);
  gtk_label_set_text (self->about, list->about != NULL ? list->about : "");
  gtk_label_set_text (self->notes, notes);
  gtk_widget_set_visible (GTK_WIDGET (self->about), list->about != NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->notes), *notes != '\0');
  gtk_widget_set_visible (self->frame, list->n_rows > 0);
  gtk_widget_set_visible (self->head, self->wide);
  gtk_widget_set_visible (self->menu, list->n_rows > 0);
  gtk_widget_set_visible (self->over, list->n_rows > 0);
  refresh (self);
}

static void
lists_changed_cb (PmTickList *self)
{
  const PmList *list = list_of (self);
  g_autofree char *text = list != NULL ? pm_list_csv (list) : NULL;

  if (text != NULL && g_strcmp0 (text, self->made_of) == 0)
    refresh (self);
  else
    rebuild (self);
}

/* ---- the whole list */

void
pm_tick_list_set_room (PmTickList *self, int width)
{
  g_return_if_fail (PM_IS_TICK_LIST (self));
  self->width = width;
  if (list_of (self) != NULL && is_wide (self) != self->wide)
    rebuild (self);
}

static void
own_changed_cb (PmTickList *self, guint kind)
{
  if (kind == PM_OWN_TICKS)
    refresh (self);
}

void
pm_tick_list_set_own (PmTickList *self, PmBuildOwn *own)
{
  g_return_if_fail (PM_IS_TICK_LIST (self));
  pm_build_own_follow (&self->own, own, self, G_CALLBACK (own_changed_cb), G_CALLBACK (own_changed_cb));
  if (own != NULL)
    pm_list_menu_set_board (self->menu, pm_build_own_get_board (own));
  rebuild (self);
}

gboolean
pm_tick_list_focus (PmTickList *self)
{
  g_return_val_if_fail (PM_IS_TICK_LIST (self), FALSE);
  for (guint i = 0; i < self->rows->len; i++) {
    Row *row = &g_array_index (self->rows, Row, i);

    if (row->ticks[0] != NULL && !gtk_check_button_get_active (GTK_CHECK_BUTTON (row->ticks[0])))
      return gtk_widget_grab_focus (row->row);
  }
  return self->rows->len > 0 && gtk_widget_grab_focus (g_array_index (self->rows, Row, 0).row);
}

static PmList *
get_list (GtkWidget *owner, gboolean plain)
{
  PmTickList *self = PM_TICK_LIST (owner);

  return list_of (self) != NULL ? pm_build_lists_dup (self->lists, self->kind, self->own, plain) : NULL;
}

static void
tell (GtkWidget *owner, const char *text)
{
  if (PM_TICK_LIST (owner)->own != NULL)
    pm_build_own_tell (PM_TICK_LIST (owner)->own, text);
}

char *
pm_tick_list_dup_text (PmTickList *self)
{
  g_autoptr (PmList) list = NULL;
  g_autofree char *text = NULL;

  g_return_val_if_fail (PM_IS_TICK_LIST (self), NULL);
  list = get_list (GTK_WIDGET (self), FALSE);
  if (list == NULL)
    return g_strdup ("");
  text = pm_list_text (list, TEXT_WIDTH);
  return g_strdup_printf ("%s\n%s\n", text, gtk_label_get_text (self->count));
}

static void
pm_tick_list_dispose (GObject *object)
{
  PmTickList *self = PM_TICK_LIST (object);

  g_clear_object (&self->own);
  g_clear_object (&self->lists);
  g_clear_object (&self->columns);
  G_OBJECT_CLASS (pm_tick_list_parent_class)->dispose (object);
}

static void
pm_tick_list_finalize (GObject *object)
{
  g_array_unref (PM_TICK_LIST (object)->rows);
  g_free (PM_TICK_LIST (object)->made_of);
  G_OBJECT_CLASS (pm_tick_list_parent_class)->finalize (object);
}

static void
pm_tick_list_class_init (PmTickListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_tick_list_dispose;
  G_OBJECT_CLASS (klass)->finalize = pm_tick_list_finalize;
  g_type_ensure (PM_TYPE_ROW_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-tick-list.ui");
  gtk_widget_class_bind_template_child (widget_class, PmTickList, title);
  gtk_widget_class_bind_template_child (widget_class, PmTickList, count);
  gtk_widget_class_bind_template_child (widget_class, PmTickList, about);
  gtk_widget_class_bind_template_child (widget_class, PmTickList, notes);
  gtk_widget_class_bind_template_child (widget_class, PmTickList, head);
  gtk_widget_class_bind_template_child (widget_class, PmTickList, over);
  gtk_widget_class_bind_template_child (widget_class, PmTickList, frame);
  gtk_widget_class_bind_template_child (widget_class, PmTickList, box);
  gtk_widget_class_bind_template_callback (widget_class, activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, over_cb);
}

static void
pm_tick_list_init (PmTickList *self)
{
  self->rows = g_array_new (FALSE, TRUE, sizeof (Row));
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
pm_tick_list_new (PmListKind kind, PmBuildLists *lists)
{
  PmTickList *self = g_object_new (PM_TYPE_TICK_LIST, NULL);

  self->kind = kind;
  self->lists = g_object_ref (lists);
  self->menu = pm_list_menu_new (GTK_WIDGET (self), pm_list_kind_title (kind), get_list, tell);
  gtk_box_append (GTK_BOX (gtk_widget_get_parent (self->over)), self->menu);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->box), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  pm_list_kind_title (kind), -1);
  g_signal_connect_object (lists, "changed", G_CALLBACK (lists_changed_cb), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}
