/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A group order: who gets what, what it costs in all, and who owes how much. */
#include "config.h"
#include "pm-order.h"
#include "pm-document.h"
#include <glib/gi18n-lib.h>
#include <math.h>

#define MOST_BOARDS 10000

static const struct { const char *id, *words; } kinds[PM_N_ORDER_KINDS] = {
  [PM_ORDER_BARE] = {"bare", N_("bare board")},
  [PM_ORDER_PARTS] = {"parts", N_("board and parts")},
  [PM_ORDER_BUILT] = {"built", N_("built")},
};

const char *
pm_order_kind_words (PmOrderKind kind)
{
  return _(kinds[kind].words);
}

const char *
pm_order_kind_id (PmOrderKind kind)
{
  return kinds[kind].id;
}

/* ---- making and keeping one */

static void
person_free (gpointer data)
{
  PmOrderPerson *person = data;
  g_free (person->name);
  g_free (person->setup);
  g_free (person);
}

static void
cost_free (gpointer data)
{
  g_free (((PmOrderCost *) data)->name);
  g_free (data);
}

PmOrder *
pm_order_new (void)
{
  PmOrder *order = g_new0 (PmOrder, 1);
  order->people = g_ptr_array_new_with_free_func (person_free);
  order->costs = g_ptr_array_new_with_free_func (cost_free);
  order->board = g_array_new (FALSE, FALSE, sizeof (PmBreak));
  return order;
}

void
pm_order_free (PmOrder *order)
{
  if (order == NULL)
    return;
  g_ptr_array_unref (order->people);
  g_ptr_array_unref (order->costs);
  g_array_unref (order->board);
  g_free (order);
}

PmOrderPerson *
pm_order_add_person (PmOrder *order, const char *name)
{
  PmOrderPerson *person = g_new0 (PmOrderPerson, 1);
  person->name = g_strdup (name);
  person->n_boards = 1;
  person->setup = g_strdup ("");
  g_ptr_array_add (order->people, person);
  return person;
}

PmOrderCost *
pm_order_add_cost (PmOrder *order, const char *name, gint64 amount)
{
  PmOrderCost *cost = g_new0 (PmOrderCost, 1);
  cost->name = g_strdup (name);
  cost->amount = amount;
  g_ptr_array_add (order->costs, cost);
  return cost;
}

static gint64
read_money (GKeyFile *file, const char *group, const char *key)
{
  g_autofree char *text = g_key_file_get_string (file, group, key, NULL);
  gint64 amount = 0;
  if (text != NULL)
    pm_money_parse (text, &amount);
  return amount;
}

static void
read_person (PmOrder *order, GKeyFile *file, const char *group)
{
  g_autofree char *name = g_key_file_get_string (file, group, "name", NULL),
                  *kind = g_key_file_get_string (file, group, "gets", NULL),
                  *setup = g_key_file_get_string (file, group, "setup", NULL);
  PmOrderPerson *person = pm_order_add_person (order, name != NULL ? name : "");
  person->n_boards = (guint) CLAMP (g_key_file_get_integer (file, group, "boards", NULL), 0, MOST_BOARDS);
  for (guint k = 0; k < PM_N_ORDER_KINDS; k++)
    if (g_strcmp0 (kind, kinds[k].id) == 0)
      person->kind = (PmOrderKind) k;
  if (setup != NULL) {
    g_free (person->setup);
    person->setup = g_steal_pointer (&setup);
  }
  person->postage = read_money (file, group, "postage");
  person->paid = g_key_file_get_boolean (file, group, "paid", NULL);
  person->sent = g_key_file_get_boolean (file, group, "sent", NULL);
}

PmOrder *
pm_order_load (const char *path, GError **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (PmOrder) order = pm_order_new ();
  g_autoptr (GError) local = NULL;
  if (!g_key_file_load_from_file (file, path, G_KEY_FILE_NONE, &local)) {
    if (g_error_matches (local, G_FILE_ERROR, G_FILE_ERROR_NOENT))
      return g_steal_pointer (&order);
    g_set_error (error, PM_PRICES_ERROR, PM_PRICES_ERROR_READ, _("%s: the order cannot be read: %s."), path,
                 local->message);
    return NULL;
  }
  g_auto (GStrv) groups = g_key_file_get_groups (file, NULL);
  for (guint i = 0; groups[i] != NULL; i++) {
    if (g_str_has_prefix (groups[i], "person "))
      read_person (order, file, groups[i]);
    else if (g_str_has_prefix (groups[i], "shared ")) {
      g_autofree char *name = g_key_file_get_string (file, groups[i], "name", NULL);
      pm_order_add_cost (order, name != NULL ? name : "", read_money (file, groups[i], "amount"));
    }
  }
  g_autofree char *board = g_key_file_get_string (file, "order", "board", NULL);
  GArray *breaks = board != NULL ? pm_breaks_parse (board, error) : NULL;
  if (board != NULL && breaks == NULL)
    return NULL;
  if (breaks != NULL) {
    g_array_unref (order->board);
    order->board = breaks;
  }
  order->work = read_money (file, "order", "work");
  return g_steal_pointer (&order);
}

static void
write_money (GKeyFile *file, const char *group, const char *key, gint64 amount)
{
  g_autofree char *text = pm_money_plain (amount);
  g_key_file_set_string (file, group, key, text);
}

gboolean
pm_order_save (const PmOrder *order, const char *path, GError **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (GString) board = g_string_new (NULL);
  for (guint i = 0; i < order->board->len; i++) {
    const PmBreak *one = &g_array_index (order->board, PmBreak, i);
    g_autofree char *each = pm_money_plain (one->each);
    g_string_append_printf (board, "%s%u: %s", i > 0 ? "; " : "", one->from, each);
  }
  g_key_file_set_string (file, "order", "board", board->str);
  write_money (file, "order", "work", order->work);
  for (guint i = 0; i < order->costs->len; i++) {
    const PmOrderCost *cost = g_ptr_array_index (order->costs, i);
    g_autofree char *group = g_strdup_printf ("shared %u", i + 1);
    g_key_file_set_string (file, group, "name", cost->name);
    write_money (file, group, "amount", cost->amount);
  }
  for (guint i = 0; i < order->people->len; i++) {
    const PmOrderPerson *person = g_ptr_array_index (order->people, i);
    g_autofree char *group = g_strdup_printf ("person %u", i + 1);
    g_key_file_set_string (file, group, "name", person->name);
    g_key_file_set_integer (file, group, "boards", (int) person->n_boards);
    g_key_file_set_string (file, group, "gets", kinds[person->kind].id);
    g_key_file_set_string (file, group, "setup", person->setup);
    write_money (file, group, "postage", person->postage);
    g_key_file_set_boolean (file, group, "paid", person->paid);
    g_key_file_set_boolean (file, group, "sent", person->sent);
  }
  gsize length;
  g_autofree char *text = g_key_file_to_data (file, &length, NULL);
  return pm_file_write_atomic (path, text, length, error);
}

/* ---- sums */

static guint
column_of (const PmList *list, const char *id)
{
  for (guint c = 0; c < list->n_columns; c++)
    if (g_str_equal (list->columns[c].id, id))
      return c;
  g_assert_not_reached ();
}

char *
pm_order_item (const PmList *parts, guint row)
{
  const char *value = parts->rows[row].cells[column_of (parts, "value")],
             *description = parts->rows[row].cells[column_of (parts, "description")];
  /* A type says what it is; a bare value does not. */
  return g_unichar_isdigit (g_utf8_get_char (value)) && !g_str_has_prefix (value, "74") && *description != '\0'
             ? g_strdup_printf ("%s, %s", description, value)
             : g_strdup (*value != '\0' ? value : description);
}

static gint64
cost_of_parts (const PmList *parts, const PmPrices *prices, guint n, guint spares, GPtrArray *unpriced)
{
  guint each_column = column_of (parts, "each");
  gint64 cost = 0;
  for (guint r = 0; r < parts->n_rows; r++) {
    if (parts->rows[r].kind != PM_ROW_PLAIN)
      continue;
    g_autofree char *item = pm_order_item (parts, r);
    guint number = n * (guint) g_ascii_strtoull (parts->rows[r].cells[each_column], NULL, 10);
    if (spares > 0 && number > 0)
      number += MAX (1, (guint) ceil (number * spares / 100.0 - 1e-9));
    gint64 each = pm_breaks_each (pm_prices_get (prices, item), number);
    if (each < 0)
      g_ptr_array_add (unpriced, g_steal_pointer (&item));
    else
      cost += each * number;
  }
  return cost;
}

/* The shares of boards from `from` on, n of them. */
static gint64
shares (gint64 amount, guint of, guint from, guint n)
{
  gint64 sum = 0;
  for (guint i = from; i < from + n; i++)
    sum += pm_money_share (amount, of, i);
  return sum;
}

static void
add_share (PmOrderShare *sum, PmOrderShare *share)
{
  share->all = share->boards + share->parts + share->work + share->shared + share->postage;
  sum->boards += share->boards;
  sum->parts += share->parts;
  sum->work += share->work;
  sum->shared += share->shared;
  sum->postage += share->postage;
  sum->all += share->all;
}

PmOrderTotals *
pm_order_totals (const PmOrder *order, const PmList *parts, const PmPrices *prices, guint spares)
{
  PmOrderTotals *totals = g_new0 (PmOrderTotals, 1);
  totals->of = g_new0 (PmOrderShare, MAX (order->people->len, 1));
  totals->unpriced = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < order->people->len; i++) {
    const PmOrderPerson *person = g_ptr_array_index (order->people, i);
    totals->n_boards += person->n_boards;
    totals->n_with_parts += person->kind != PM_ORDER_BARE ? person->n_boards : 0;
    totals->n_built += person->kind == PM_ORDER_BUILT ? person->n_boards : 0;
  }
  gint64 board = pm_breaks_each (order->board, totals->n_boards), shared = 0;
  gint64 all_parts = cost_of_parts (parts, prices, totals->n_with_parts, spares, totals->unpriced);
  totals->board_unpriced = board < 0;
  for (guint i = 0; i < order->costs->len; i++)
    shared += ((const PmOrderCost *) g_ptr_array_index (order->costs, i))->amount;
  guint boards_before = 0, parts_before = 0;
  for (guint i = 0; i < order->people->len; i++) {
    const PmOrderPerson *person = g_ptr_array_index (order->people, i);
    PmOrderShare *share = &totals->of[i];
    share->boards = MAX (board, 0) * person->n_boards;
    share->shared = shares (shared, MAX (totals->n_boards, 1), boards_before, person->n_boards);
    boards_before += person->n_boards;
    if (person->kind != PM_ORDER_BARE) {
      share->parts = shares (all_parts, MAX (totals->n_with_parts, 1), parts_before, person->n_boards);
      parts_before += person->n_boards;
    }
    share->work = person->kind == PM_ORDER_BUILT ? order->work * person->n_boards : 0;
    share->postage = person->postage;
    add_share (&totals->sum, share);
    totals->paid += person->paid ? share->all : 0;
  }
  return totals;
}

void
pm_order_totals_free (PmOrderTotals *totals)
{
  if (totals == NULL)
    return;
  g_ptr_array_unref (totals->unpriced);
  g_free (totals->of);
  g_free (totals);
}

/* ---- as a list */

enum { NAME, BOARDS, GETS, SETUP, BOARD, PARTS, WORK, SHARED, POSTAGE, TOTAL, PAID, SENT, N_COLUMNS };

static const struct { const char *id, *title; PmCellsKind kind; } columns[N_COLUMNS] = {
  [NAME] = {"name", N_("Name"), PM_CELLS_TEXT},         [BOARDS] = {"boards", N_("Boards"), PM_CELLS_NUMBER},
  [GETS] = {"gets", N_("Gets"), PM_CELLS_TEXT},         [SETUP] = {"setup", N_("For"), PM_CELLS_TEXT},
  [BOARD] = {"board", N_("Bare boards"), PM_CELLS_NUMBER}, [PARTS] = {"parts", N_("Parts"), PM_CELLS_NUMBER},
  [WORK] = {"work", N_("Work"), PM_CELLS_NUMBER},       [SHARED] = {"shared", N_("Shared"), PM_CELLS_NUMBER},
  [POSTAGE] = {"postage", N_("Postage"), PM_CELLS_NUMBER}, [TOTAL] = {"total", N_("Total"), PM_CELLS_NUMBER},
  [PAID] = {"paid", N_("Paid"), PM_CELLS_TEXT},         [SENT] = {"sent", N_("Sent"), PM_CELLS_TEXT},
};

static char **
share_cells (const PmOrderShare *share, gboolean plain)
{
  char *(*money) (gint64) = plain ? pm_money_plain : pm_money_text;
  const gint64 amounts[] = {share->boards, share->parts, share->work, share->shared, share->postage, share->all};
  char **cells = g_new0 (char *, N_COLUMNS + 1);
  for (guint c = 0; c < N_COLUMNS; c++)
    cells[c] = c >= BOARD && c <= TOTAL ? money (amounts[c - BOARD]) : g_strdup ("");
  return cells;
}

static void
set (char **cells, guint column, char *text)
{
  g_free (cells[column]);
  cells[column] = text;
}

static char **
notes_of (const PmOrderTotals *totals, gboolean plain)
{
  g_autoptr (GPtrArray) notes = g_ptr_array_new ();
  g_autofree char *paid = plain ? pm_money_plain (totals->paid) : pm_money_text (totals->paid),
                  *open = plain ? pm_money_plain (totals->sum.all - totals->paid)
                                : pm_money_text (totals->sum.all - totals->paid);
  g_ptr_array_add (notes, g_strdup_printf (_("Paid: %s. Still open: %s."), paid, open));
  if (totals->board_unpriced)
    g_ptr_array_add (notes, g_strdup (_("The bare board has no price yet: it is not in the sums.")));
  if (totals->unpriced->len > 0 && totals->n_with_parts > 0) {
    g_ptr_array_add (totals->unpriced, NULL);
    g_autofree char *names = g_strjoinv ("; ", (char **) totals->unpriced->pdata);
    g_ptr_array_remove_index (totals->unpriced, totals->unpriced->len - 1);
    g_ptr_array_add (notes, g_strdup_printf (_("Without a price, not in the sums: %s."), names));
  }
  g_ptr_array_add (notes, NULL);
  return (char **) g_ptr_array_steal (notes, NULL);
}

PmList *
pm_order_list (const PmOrder *order, const PmOrderTotals *totals, gboolean plain)
{
  PmList *list = g_new0 (PmList, 1);
  list->kind = PM_N_LISTS;
  list->id = "order";
  list->title = g_strdup (_("Group order"));
  list->n_columns = N_COLUMNS;
  list->columns = g_new0 (PmListColumn, N_COLUMNS);
  for (guint c = 0; c < N_COLUMNS; c++)
    list->columns[c] = (PmListColumn){g_strdup (columns[c].id), g_strdup (_(columns[c].title)), columns[c].kind};
  list->n_rows = order->people->len + 1;
  list->rows = g_new0 (PmListRow, list->n_rows);
  for (guint i = 0; i < order->people->len; i++) {
    const PmOrderPerson *person = g_ptr_array_index (order->people, i);
    char **cells = share_cells (&totals->of[i], plain);
    set (cells, NAME, g_strdup (person->name));
    set (cells, BOARDS, g_strdup_printf ("%u", person->n_boards));
    set (cells, GETS, g_strdup (plain ? kinds[person->kind].id : _(kinds[person->kind].words)));
    set (cells, SETUP, g_strdup (person->setup));
    set (cells, PAID, g_strdup (person->paid ? C_("paid", "yes") : C_("paid", "no")));
    set (cells, SENT, g_strdup (person->sent ? C_("sent", "yes") : C_("sent", "no")));
    list->rows[i] = (PmListRow){PM_ROW_PLAIN, cells, g_strdup_printf ("person %u", i + 1)};
  }
  char **sums = share_cells (&totals->sum, plain);
  set (sums, NAME, g_strdup (_("All")));
  set (sums, BOARDS, g_strdup_printf ("%u", totals->n_boards));
  list->rows[order->people->len] = (PmListRow){PM_ROW_PLAIN, sums, g_strdup ("all")};
  list->notes = notes_of (totals, plain);
  return list;
}
