/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prices, group orders and ticks: what people owe adds up to the cent, and what is written is read again. */
#include "pm-order.h"
#include "pm-ticks.h"
#include <glib/gstdio.h>
#include <locale.h>

static void
test_money (void)
{
  static const struct { const char *text; gint64 is; } good[] = {
    {"0.85", 85}, {"0,85", 85}, {" 12 ", 1200}, {"0.8", 80},
    {".5", 50},   {"3.", 300},  {"0", 0},       {"9999999.99", 999999999},
  };
  static const char *const bad[] = {"", " ", ".", "-1", "1.234", "1 2", "1e3", "10000000000", "EUR 3", "1,000.00"};
  for (guint i = 0; i < G_N_ELEMENTS (good); i++) {
    gint64 is = -1;
    g_assert_true (pm_money_parse (good[i].text, &is));
    g_assert_cmpint (is, ==, good[i].is);
    g_autofree char *plain = pm_money_plain (is);
    gint64 again;
    g_assert_true (pm_money_parse (plain, &again));
    g_assert_cmpint (again, ==, is);
  }
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++) {
    gint64 is = 7;
    g_assert_false (pm_money_parse (bad[i], &is));
    g_assert_cmpint (is, ==, 7);
  }
}

/* Parts of an amount differ by one at most and add up to it. */
static void
test_shares (void)
{
  for (gint64 amount = 0; amount < 200; amount += 7)
    for (guint n = 1; n < 23; n++) {
      gint64 sum = 0;
      for (guint i = 0; i < n; i++) {
        gint64 share = pm_money_share (amount, n, i);
        g_assert_cmpint (share, >=, amount / n);
        g_assert_cmpint (share, <=, amount / n + 1);
        sum += share;
      }
      g_assert_cmpint (sum, ==, amount);
    }
}

static void
test_breaks (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) breaks = pm_breaks_parse ("0.85; 100: 0,55;10:0.70", &error);
  g_assert_no_error (error);
  g_assert_cmpint (pm_breaks_each (breaks, 1), ==, 85);
  g_assert_cmpint (pm_breaks_each (breaks, 9), ==, 85);
  g_assert_cmpint (pm_breaks_each (breaks, 10), ==, 70);
  g_assert_cmpint (pm_breaks_each (breaks, 99), ==, 70);
  g_assert_cmpint (pm_breaks_each (breaks, 5000), ==, 55);
  g_autofree char *text = pm_breaks_text (breaks);
  g_assert_cmpstr (text, ==, "0.85; 10: 0.70; 100: 0.55");
  g_autoptr (GArray) none = pm_breaks_parse ("", &error);
  g_assert_cmpint (pm_breaks_each (none, 1), ==, -1);
  static const char *const bad[] = {"a", "1; 2", "1; x: 3", "1; 10: y", "1; 10: 1; 10: 2", "1; 0: 2"};
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++) {
    g_autoptr (GError) why = NULL;
    g_assert_null (pm_breaks_parse (bad[i], &why));
    g_assert_error (why, PM_PRICES_ERROR, PM_PRICES_ERROR_WORDS);
  }
}

static char *
scratch (const char *name)
{
  g_autofree char *folder = g_dir_make_tmp ("pointsman-order-XXXXXX", NULL);
  return g_build_filename (folder, name, NULL);
}

static void
test_prices_file (void)
{
  g_autofree char *path = scratch ("prices.ini");
  g_autoptr (GError) error = NULL;
  g_autoptr (PmPrices) prices = pm_prices_load (path, &error);
  g_assert_no_error (error);
  g_autoptr (GArray) breaks = pm_breaks_parse ("0.85; 10: 0.70", NULL);
  pm_prices_set (prices, "resistor, 10 kΩ [x=y]", breaks);
  pm_prices_set (prices, "74LS157", breaks);
  pm_prices_set (prices, "74LS157", NULL);
  pm_prices_set (prices, "74LS04", breaks);
  g_assert_true (pm_prices_save (prices, path, &error));
  g_autoptr (PmPrices) again = pm_prices_load (path, &error);
  g_assert_no_error (error);
  g_assert_cmpint (pm_breaks_each (pm_prices_get (again, "resistor, 10 kΩ [x=y]"), 10), ==, 70);
  g_assert_cmpint (pm_breaks_each (pm_prices_get (again, "74LS04"), 1), ==, 85);
  g_assert_null (pm_prices_get (again, "74LS157"));
  g_assert_true (g_file_set_contents (path, "[item 1]\nitem=x\nprice=free\n", -1, NULL));
  g_assert_null (pm_prices_load (path, &error));
  g_assert_error (error, PM_PRICES_ERROR, PM_PRICES_ERROR_READ);
  g_remove (path);
}

/* A parts list of two items: one chip and two resistors on each board. */
static PmList *
two_items (void)
{
  static const char *const ids[] = {"each", "description", "value"};
  static const char *const cells[][3] = {{"1", "selector", "74LS157"}, {"2", "resistor", "10 kΩ"}};
  PmList *list = g_new0 (PmList, 1);
  list->id = "parts";
  list->n_columns = 3;
  list->columns = g_new0 (PmListColumn, 3);
  list->n_rows = 2;
  list->rows = g_new0 (PmListRow, 2);
  list->notes = g_new0 (char *, 1);
  for (guint c = 0; c < 3; c++)
    list->columns[c] = (PmListColumn){g_strdup (ids[c]), g_strdup (ids[c]), PM_CELLS_TEXT};
  for (guint r = 0; r < 2; r++) {
    list->rows[r].cells = g_new0 (char *, 4);
    for (guint c = 0; c < 3; c++)
      list->rows[r].cells[c] = g_strdup (cells[r][c]);
  }
  return list;
}

/* Worked by hand: 7 boards at 2.10 (from 5 on); 3 with parts: 3 chips at 0.90, 6 resistors and one spare at 0.05 (a
 * spare of the chip too: 4 at 0.90); shared 10.00 by 7. */
static void
test_totals (void)
{
  g_autoptr (PmList) parts = two_items ();
  g_autoptr (PmOrder) order = pm_order_new ();
  g_autoptr (PmPrices) prices = pm_prices_load ("/nowhere/at/all", NULL);
  g_autoptr (GArray) chip = pm_breaks_parse ("0.90", NULL), resistor = pm_breaks_parse ("0.10; 7: 0.05", NULL);
  pm_prices_set (prices, "74LS157", chip);
  pm_prices_set (prices, "resistor, 10 kΩ", resistor);
  g_array_unref (order->board);
  order->board = pm_breaks_parse ("3.00; 5: 2.10", NULL);
  order->work = 500;
  pm_order_add_cost (order, "tool charge", 1000);
  PmOrderPerson *a = pm_order_add_person (order, "A"), *b = pm_order_add_person (order, "B"),
                *c = pm_order_add_person (order, "C");
  a->n_boards = 4;
  b->n_boards = 2;
  b->kind = PM_ORDER_PARTS;
  b->postage = 395;
  c->kind = PM_ORDER_BUILT;
  c->paid = TRUE;
  g_autoptr (PmOrderTotals) totals = pm_order_totals (order, parts, prices, 10);
  g_assert_cmpuint (totals->n_boards, ==, 7);
  g_assert_cmpuint (totals->n_with_parts, ==, 3);
  g_assert_cmpint (totals->sum.boards, ==, 7 * 210);
  g_assert_cmpint (totals->sum.parts, ==, 4 * 90 + 7 * 5);
  g_assert_cmpint (totals->sum.shared, ==, 1000);
  g_assert_cmpint (totals->sum.work, ==, 500);
  g_assert_cmpint (totals->sum.all, ==, 1470 + 395 + 1000 + 500 + 395);
  g_assert_cmpint (totals->of[0].all + totals->of[1].all + totals->of[2].all, ==, totals->sum.all);
  g_assert_cmpint (totals->paid, ==, totals->of[2].all);
  g_assert_cmpuint (totals->unpriced->len, ==, 0);
  g_autoptr (PmList) list = pm_order_list (order, totals, TRUE);
  g_autofree char *csv = pm_list_csv (list), *text = pm_list_text (list, 100);
  g_assert_nonnull (g_strstr_len (csv, -1, "\r\nAll,7,"));
  g_assert_nonnull (g_strstr_len (text, -1, "37.60"));
  pm_prices_set (prices, "74LS157", NULL);
  g_autoptr (PmOrderTotals) less = pm_order_totals (order, parts, prices, 0);
  g_assert_cmpuint (less->unpriced->len, ==, 1);
  g_assert_cmpint (less->sum.parts, ==, 6 * 10);
}

static void
test_order_file (void)
{
  g_autofree char *path = scratch ("order.ini");
  g_autoptr (GError) error = NULL;
  g_autoptr (PmOrder) order = pm_order_new ();
  PmOrderPerson *person = pm_order_add_person (order, "Åsa; [x] = \\ \"y\"");
  person->n_boards = 3;
  person->kind = PM_ORDER_BUILT;
  person->sent = TRUE;
  person->postage = 250;
  pm_order_add_cost (order, "customs", 1234);
  g_assert_true (pm_order_save (order, path, &error));
  g_autoptr (PmOrder) again = pm_order_load (path, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (again->people->len, ==, 1);
  const PmOrderPerson *is = g_ptr_array_index (again->people, 0);
  g_assert_cmpstr (is->name, ==, person->name);
  g_assert_cmpuint (is->n_boards, ==, 3);
  g_assert_cmpint (is->kind, ==, PM_ORDER_BUILT);
  g_assert_true (is->sent && !is->paid);
  g_assert_cmpint (((PmOrderCost *) g_ptr_array_index (again->costs, 0))->amount, ==, 1234);
  /* Written twice, the same bytes. */
  g_autofree char *first = NULL, *second = NULL;
  g_assert_true (g_file_get_contents (path, &first, NULL, NULL));
  g_assert_true (pm_order_save (again, path, &error));
  g_assert_true (g_file_get_contents (path, &second, NULL, NULL));
  g_assert_cmpstr (first, ==, second);
  g_remove (path);
}

static void
test_ticks (void)
{
  g_autofree char *path = scratch ("ticks.ini"), *one = pm_user_data_path ("ticks", "a/x.board.xml"),
                  *two = pm_user_data_path ("ticks", "b/x.board.xml"),
                  *same = pm_user_data_path ("ticks", "a/./x.board.xml");
  g_autoptr (GError) error = NULL;
  g_autoptr (PmTicks) ticks = pm_ticks_load (path, &error);
  g_assert_no_error (error);
  pm_ticks_set (ticks, "wire X1.11 U1.2", TRUE);
  pm_ticks_set (ticks, "part R1", TRUE);
  pm_ticks_set (ticks, "part R1", FALSE);
  g_assert_true (pm_ticks_save (ticks, path, &error));
  g_autoptr (PmTicks) again = pm_ticks_load (path, &error);
  g_assert_true (pm_ticks_get (again, "wire X1.11 U1.2"));
  g_assert_false (pm_ticks_get (again, "part R1"));
  g_assert_cmpstr (one, !=, two);
  g_assert_cmpstr (one, ==, same);
  g_assert_false (pm_ticks_save (ticks, "/nowhere/at/all", &error));
  g_assert_nonnull (error);
  g_remove (path);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/order/money", test_money);
  g_test_add_func ("/order/shares", test_shares);
  g_test_add_func ("/order/breaks", test_breaks);
  g_test_add_func ("/order/prices-file", test_prices_file);
  g_test_add_func ("/order/totals", test_totals);
  g_test_add_func ("/order/order-file", test_order_file);
  g_test_add_func ("/order/ticks", test_ticks);
  return g_test_run ();
}
