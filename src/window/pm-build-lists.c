/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lists are made with a cancelled GCancellable: then no other chip is tried.  The thread that tries them reads the
 * board again for itself, since a library of parts belongs to one thread.
 */
#include "config.h"
#include "pm-build-lists.h"
#include <glib/gi18n.h>

struct _PmBuildLists {
  GObject       parent;
  PmStudy      *study;
  PmList       *lists[PM_N_LISTS], *single;
  GCancellable *never;      /* cancelled */
  GCancellable *trying;     /* or NULL */
  GHashTable   *also;       /* row id: words; NULL until tried */
  guint         n_boards, spares;
};

enum { CHANGED, PARTS_CHANGED, ALSO_CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PmBuildLists, pm_build_lists, G_TYPE_OBJECT)

guint
pm_list_column (const PmList *list, const char *id)
{
  for (guint c = 0; c < list->n_columns; c++)
    if (g_str_equal (list->columns[c].id, id))
      return c;
  return list->n_columns;
}

char *
pm_tick_key (const PmList *list, guint row, guint column)
{
  return g_strdup_printf ("%s %s %s", list->id, list->rows[row].id, list->columns[column].id);
}

static void
clear_lists (PmBuildLists *self)
{
  for (guint k = 0; k < PM_N_LISTS; k++)
    g_clear_pointer (&self->lists[k], pm_list_free);
  g_clear_pointer (&self->single, pm_list_free);
}

static void
stop (PmBuildLists *self)
{
  if (self->trying != NULL)
    g_cancellable_cancel (self->trying);
  g_clear_object (&self->trying);
}

void
pm_build_lists_set_study (PmBuildLists *self, PmStudy *study)
{
  g_return_if_fail (PM_IS_BUILD_LISTS (self));
  if (!g_set_object (&self->study, study))
    return;
  stop (self);
  g_clear_pointer (&self->also, g_hash_table_unref);
  clear_lists (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

void
pm_build_lists_set_number (PmBuildLists *self, guint n_boards, guint spares)
{
  g_return_if_fail (PM_IS_BUILD_LISTS (self));
  if (n_boards == self->n_boards && spares == self->spares)
    return;
  self->n_boards = n_boards;
  self->spares = spares;
  g_clear_pointer (&self->lists[PM_LIST_PARTS], pm_list_free);
  g_signal_emit (self, signals[PARTS_CHANGED], 0);
}

guint
pm_build_lists_get_boards (PmBuildLists *self)
{
  g_return_val_if_fail (PM_IS_BUILD_LISTS (self), 1);
  return self->n_boards;
}

guint
pm_build_lists_get_spares (PmBuildLists *self)
{
  g_return_val_if_fail (PM_IS_BUILD_LISTS (self), 0);
  return self->spares;
}

static PmList *
make (PmBuildLists *self, PmListKind kind, guint n_boards, guint spares)
{
  PmListOptions options = PM_LIST_OPTIONS_USUAL;

  options.n_boards = n_boards;
  options.spares = spares;
  return pm_list_new (pm_study_get_check (self->study), kind, &options, self->never);
}

const PmList *
pm_build_lists_get (PmBuildLists *self, PmListKind kind)
{
  g_return_val_if_fail (PM_IS_BUILD_LISTS (self), NULL);
  if (self->study != NULL && self->lists[kind] == NULL)
    self->lists[kind] = make (self, kind, self->n_boards, self->spares);
  return self->lists[kind];
}

const PmList *
pm_build_lists_get_single (PmBuildLists *self)
{
  g_return_val_if_fail (PM_IS_BUILD_LISTS (self), NULL);
  if (self->study != NULL && self->single == NULL)
    self->single = make (self, PM_LIST_PARTS, 1, 0);
  return self->single;
}

/* ---- other chips */

static void
try_in_thread (GTask *task, gpointer source, gpointer path, GCancellable *cancellable)
{
  PmLibrary *library = pm_library_new (NULL);
  PmFaults *faults = pm_faults_new ();
  PmBoard *board = pm_board_load (path, library, faults);
  PmCheck *check = board != NULL ? pm_check_new (board, cancellable, NULL) : NULL;
  PmList *list = check != NULL ? pm_list_new (check, PM_LIST_PARTS, NULL, cancellable) : NULL;

  g_clear_pointer (&check, pm_check_free);
  g_clear_pointer (&board, pm_board_free);
  pm_faults_free (faults);
  pm_library_free (library);
  g_task_return_pointer (task, list, (GDestroyNotify) pm_list_free);
}

static void
tried_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PmBuildLists *self = PM_BUILD_LISTS (source);
  g_autoptr (PmList) list = g_task_propagate_pointer (G_TASK (result), NULL);
  guint column;

  if (self->trying == NULL || g_task_get_cancellable (G_TASK (result)) != self->trying)
    return; /* of a board that is no longer the one */
  g_clear_object (&self->trying);
  self->also = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  column = list != NULL ? pm_list_column (list, "alternates") : 0;
  for (guint r = 0; list != NULL && r < list->n_rows; r++)
    if (list->rows[r].kind == PM_ROW_PLAIN && list->rows[r].id != NULL)
      g_hash_table_insert (self->also, g_strdup (list->rows[r].id), g_strdup (list->rows[r].cells[column]));
  g_signal_emit (self, signals[ALSO_CHANGED], 0);
}

void
pm_build_lists_try_others (PmBuildLists *self)
{
  g_autoptr (GTask) task = NULL;

  g_return_if_fail (PM_IS_BUILD_LISTS (self));
  if (self->study == NULL || self->trying != NULL || self->also != NULL)
    return;
  self->trying = g_cancellable_new ();
  task = g_task_new (self, self->trying, tried_cb, NULL);
  g_task_set_check_cancellable (task, TRUE);
  g_task_set_task_data (task, g_strdup (pm_study_get_board (self->study)->path), g_free);
  g_task_run_in_thread (task, try_in_thread);
  g_signal_emit (self, signals[ALSO_CHANGED], 0);
}

PmAlso
pm_build_lists_get_also (PmBuildLists *self)
{
  g_return_val_if_fail (PM_IS_BUILD_LISTS (self), PM_ALSO_NOT_TRIED);
  return self->trying != NULL ? PM_ALSO_TRYING : self->also != NULL ? PM_ALSO_TRIED : PM_ALSO_NOT_TRIED;
}

const char *
pm_build_lists_also (PmBuildLists *self, const char *row_id)
{
  g_return_val_if_fail (PM_IS_BUILD_LISTS (self), NULL);
  return self->also != NULL && row_id != NULL ? g_hash_table_lookup (self->also, row_id) : NULL;
}

/* ---- with what is a person's own in it */

static void
set_cell (PmList *list, guint row, guint column, char *text)
{
  g_free (list->rows[row].cells[column]);
  list->rows[row].cells[column] = text;
}

/* Breaks with a point, whatever the locale. */
static char *
breaks_plain (const GArray *breaks)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < breaks->len; i++) {
    const PmBreak *one = &g_array_index (breaks, PmBreak, i);
    g_autofree char *each = pm_money_plain (one->each);

    if (i > 0)
      g_string_append_printf (text, "; %u: ", one->from);
    g_string_append (text, each);
  }
  return g_string_free (text, FALSE);
}

static void
fill_prices (PmBuildLists *self, PmList *list, PmBuildOwn *own, gboolean plain)
{
  guint price = pm_list_column (list, "price"), also = pm_list_column (list, "alternates");

  list->columns[price].kind = PM_CELLS_TEXT;
  for (guint r = 0; r < list->n_rows; r++) {
    g_autofree char *item = NULL;
    const char *other;
    const GArray *breaks;

    if (list->rows[r].kind != PM_ROW_PLAIN)
      continue;
    item = pm_order_item (list, r);
    breaks = pm_prices_get (pm_build_own_get_prices (own), item);
    other = pm_build_lists_also (self, list->rows[r].id);
    if (breaks != NULL)
      set_cell (list, r, price, plain ? breaks_plain (breaks) : pm_breaks_text (breaks));
    if (other != NULL)
      set_cell (list, r, also, g_strdup (other));
  }
}

static void
fill_ticks (PmList *list, PmBuildOwn *own, gboolean plain)
{
  for (guint c = 0; c < list->n_columns; c++) {
    if (list->columns[c].kind != PM_CELLS_TICK)
      continue;
    list->columns[c].kind = PM_CELLS_TEXT;
    for (guint r = 0; r < list->n_rows; r++)
      if (list->rows[r].kind == PM_ROW_PLAIN && list->rows[r].id != NULL) {
        g_autofree char *key = pm_tick_key (list, r, c);
        gboolean done = pm_ticks_get (pm_build_own_get_ticks (own), key);

        set_cell (list, r, c, g_strdup (plain ? (done ? "yes" : "no") : done ? "[x]" : "[ ]"));
      }
  }
}

PmList *
pm_build_lists_dup (PmBuildLists *self, PmListKind kind, PmBuildOwn *own, gboolean plain)
{
  PmList *list;

  g_return_val_if_fail (PM_IS_BUILD_LISTS (self) && self->study != NULL, NULL);
  list = make (self, kind, self->n_boards, self->spares);
  if (kind == PM_LIST_PARTS)
    fill_prices (self, list, own, plain);
  fill_ticks (list, own, plain);
  return list;
}

static void
pm_build_lists_dispose (GObject *object)
{
  PmBuildLists *self = PM_BUILD_LISTS (object);

  stop (self);
  clear_lists (self);
  g_clear_object (&self->study);
  g_clear_object (&self->never);
  g_clear_pointer (&self->also, g_hash_table_unref);
  G_OBJECT_CLASS (pm_build_lists_parent_class)->dispose (object);
}

static void
pm_build_lists_class_init (PmBuildListsClass *klass)
{
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_build_lists_dispose;
  signals[CHANGED] = g_signal_new ("changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[PARTS_CHANGED] = g_signal_new ("parts-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ALSO_CHANGED] = g_signal_new ("also-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pm_build_lists_init (PmBuildLists *self)
{
  self->n_boards = 1;
  self->never = g_cancellable_new ();
  g_cancellable_cancel (self->never);
}

PmBuildLists *
pm_build_lists_new (void)
{
  return g_object_new (PM_TYPE_BUILD_LISTS, NULL);
}
