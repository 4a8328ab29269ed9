/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows stay while only numbers, prices or other chips change. */
#include "config.h"
#include "pm-parts-view.h"
#include "pm-label.h"
#include "pm-columns.h"
#include "pm-list-menu.h"
#include "pm-price-entry.h"
#include "pm-row-layout.h"
#include "pm-wrap-layout.h"
#include <glib/gi18n.h>

#define TABLE_FROM 560    /* width, at ordinary text */
#define TEXT_WIDTH 78

enum { NUMBER, LETTERS, WHAT, PRICE, SUM, N_COLUMNS };
static const char *const titles[N_COLUMNS] = { N_("Number"), N_("Letters"), N_("Part"), N_("Price each"), N_("Sum") };

typedef struct {
  guint         index;
  char         *item;
  GtkWidget    *row;
  GtkLabel     *number, *also, *sum;
  PmPriceEntry *price;
} Row;

struct _PmPartsView {
  GtkBox         parent;
  /* template */
  GtkLabel      *title, *each, *all, *missing, *notes;
  GtkWidget     *head_row, *head, *frame, *sums;
  GtkSpinButton *boards, *spares;
  GtkListBox    *box;
  /* owned */
  PmBuildLists  *lists;
  PmBuildOwn    *own;
  GArray        *rows;
  char          *made_of;
  PmColumns     *columns;
  /* borrowed */
  GtkWidget     *menu;
  int            width;
  gboolean       wide, updating;
};

G_DEFINE_FINAL_TYPE (PmPartsView, pm_parts_view, GTK_TYPE_BOX)

static void
row_clear (gpointer data)
{
  g_free (((Row *) data)->item);
}

static const PmList *
list_of (PmPartsView *self)
{
  return self->own != NULL ? pm_build_lists_get (self->lists, PM_LIST_PARTS) : NULL;
}

static const char *
cell (const PmList *list, guint row, const char *column)
{
  return list->rows[row].cells[pm_list_column (list, column)];
}

/* ---- numbers */

static void
refresh_row (PmPartsView *self, const PmList *list, Row *row, gint64 *sum, GString *missing)
{
  const GArray *breaks = pm_prices_get (pm_build_own_get_prices (self->own), row->item);
  guint number = (guint) g_ascii_strtoull (cell (list, row->index, "all"), NULL, 10);
  gint64 each = breaks != NULL ? pm_breaks_each (breaks, number) : -1;
  g_autofree char *count = g_strdup_printf ("%u ×", number);
  g_autofree char *cost = each >= 0 ? pm_money_text (each * number) : g_strdup (_("no price"));
  const char *other = pm_build_lists_also (self->lists, list->rows[row->index].id);
  PmAlso also = pm_build_lists_get_also (self->lists);
  gboolean chip = g_str_has_prefix (cell (list, row->index, "letters"), "U");
  g_autofree char *words = other != NULL && *other != '\0' ? g_strdup_printf (_("Also: %s"), other)
                           : chip && also == PM_ALSO_TRYING ? g_strdup (_("Also: trying other chips…"))
                                                            : NULL;
  g_autofree char *sentence =
      g_strdup_printf ("%s %s, %s: %s", count, row->item, cell (list, row->index, "letters"), cost);

  gtk_label_set_text (row->number, count);
  gtk_label_set_text (row->sum, cost);
  gtk_label_set_text (row->also, words != NULL ? words : "");
  gtk_widget_set_visible (GTK_WIDGET (row->also), words != NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->row), GTK_ACCESSIBLE_PROPERTY_LABEL, sentence, -1);
  if (each >= 0)
    *sum += each * number;
  else
    g_string_append_printf (missing, "%s%s", missing->len > 0 ? "; " : "", row->item);
}

static void
refresh (PmPartsView *self)
{
  const PmList *list = list_of (self);
  guint n_boards = pm_build_lists_get_boards (self->lists);
  g_autoptr (GString) missing = g_string_new (NULL);
  g_autofree char *each = NULL, *all = NULL, *without = NULL, *each_money = NULL, *all_money = NULL, *notes = NULL;
  gint64 sum = 0;

  if (list == NULL)
    return;
  for (guint i = 0; i < self->rows->len; i++)
    refresh_row (self, list, &g_array_index (self->rows, Row, i), &sum, missing);
  if (self->columns != NULL)
    pm_columns_forget (self->columns);
  all_money = pm_money_text (sum);
  each_money = pm_money_text ((sum + n_boards / 2) / n_boards);
  each = g_strdup_printf (_("Parts of one board: %s"), each_money);
  all = g_strdup_printf (ngettext ("For %u board: %s", "For %u boards: %s", n_boards), n_boards, all_money);
  without = g_strdup_printf (_("Without a price, not in the sums: %s."), missing->str);
  notes = g_strjoinv ("\n", list->notes);
  gtk_label_set_text (self->each, each);
  gtk_label_set_text (self->all, all);
  gtk_label_set_text (self->missing, without);
  gtk_label_set_text (self->notes, notes);
  gtk_widget_set_visible (GTK_WIDGET (self->missing), missing->len > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->notes), *notes != '\0');
  gtk_widget_set_visible (GTK_WIDGET (self->each), n_boards > 1);
}

static void
show_prices (PmPartsView *self)
{
  for (guint i = 0; i < self->rows->len; i++) {
    Row *row = &g_array_index (self->rows, Row, i);

    pm_price_entry_set_breaks (row->price, pm_prices_get (pm_build_own_get_prices (self->own), row->item));
  }
}

static void
given_cb (PmPriceEntry *price, PmPartsView *self)
{
  for (guint i = 0; i < self->rows->len; i++) {
    Row *row = &g_array_index (self->rows, Row, i);
    g_autoptr (GArray) breaks = NULL;

    if (row->price != price)
      continue;
    breaks = g_array_copy ((GArray *) pm_price_entry_get_breaks (price)); /* begin may show what was read again */
    if (pm_build_own_begin (self->own, PM_OWN_PRICES)) {
      pm_prices_set (pm_build_own_get_prices (self->own), row->item, breaks);
      pm_build_own_end (self->own, PM_OWN_PRICES, NULL, NULL);
      pm_price_entry_set_breaks (price, breaks);
    }
    return;
  }
}

/* ---- rows */

static GtkWidget *
words (const char *text, const char *style)
{
  GtkWidget *label = pm_label_new_wrapped (text);

  gtk_widget_set_valign (label, GTK_ALIGN_CENTER);
  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

static GtkWidget *
what_box (const PmList *list, Row *row)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  const char *value = cell (list, row->index, "value"), *description = cell (list, row->index, "description"),
             *package = cell (list, row->index, "package");
  g_autofree char *rest = *package != '\0' ? g_strdup_printf ("%s, %s", description, package) : g_strdup (description);

  gtk_box_append (GTK_BOX (box), words (*value != '\0' ? value : description, "strong"));
  if (*value != '\0')
    gtk_box_append (GTK_BOX (box), words (rest, "pm-second"));
  row->also = GTK_LABEL (words (NULL, NULL));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (row->also));
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  return box;
}

static void
make_row (PmPartsView *self, const PmList *list, guint index)
{
  Row row = { index, pm_order_item (list, index), gtk_list_box_row_new (), NULL, NULL, NULL, NULL };
  g_autofree char *label = g_strdup_printf (_("Price of %s"), row.item);
  GtkWidget *letters = words (cell (list, index, "letters"), NULL), *what = what_box (list, &row), *body;

  row.number = GTK_LABEL (words (NULL, NULL));
  row.sum = GTK_LABEL (words (NULL, NULL));
  gtk_label_set_xalign (row.sum, self->wide ? 1 : 0);
  row.price = PM_PRICE_ENTRY (pm_price_entry_new (label, TRUE));
  gtk_widget_set_valign (GTK_WIDGET (row.price), GTK_ALIGN_CENTER);
  g_signal_connect_object (row.price, "given", G_CALLBACK (given_cb), self, 0);
  if (self->wide) {
    GtkWidget *cells[N_COLUMNS] = { GTK_WIDGET (row.number), letters, what, GTK_WIDGET (row.price),
                                    GTK_WIDGET (row.sum) };

    body = pm_columns_new_row (self->columns);
    for (guint c = 0; c < N_COLUMNS; c++)
      gtk_widget_set_parent (cells[c], body);
  } else {
    GtkWidget *first = pm_wrap_box_new (8), *last = pm_wrap_box_new (8);

    body = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
    pm_wrap_box_append (PM_WRAP_BOX (first), GTK_WIDGET (row.number));
    pm_wrap_box_append (PM_WRAP_BOX (first), letters);
    pm_wrap_box_append (PM_WRAP_BOX (last), GTK_WIDGET (row.price));
    pm_wrap_box_append (PM_WRAP_BOX (last), GTK_WIDGET (row.sum));
    gtk_box_append (GTK_BOX (body), first);
    gtk_box_append (GTK_BOX (body), what);
    gtk_box_append (GTK_BOX (body), last);
  }
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row.row), body);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row.row), FALSE);
  gtk_list_box_append (self->box, row.row);
  g_array_append_val (self->rows, row);
}

static void
rebuild (PmPartsView *self)
{
  const PmList *list = list_of (self), *single = self->own != NULL ? pm_build_lists_get_single (self->lists) : NULL;
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->box))) != NULL)
    gtk_list_box_remove (self->box, child);
  while ((child = gtk_widget_get_first_child (self->head)) != NULL)
    gtk_box_remove (GTK_BOX (self->head), child);
  g_array_set_size (self->rows, 0);
  g_clear_pointer (&self->made_of, g_free);
  if (list == NULL)
    return;
  self->made_of = pm_list_csv (single);
  self->wide = self->width >= TABLE_FROM;
  g_set_object (&self->columns, NULL);
  self->columns = pm_columns_new (N_COLUMNS, 14);
  pm_columns_set_growing (self->columns, WHAT);
  if (self->wide) {
    GtkWidget *row = pm_columns_new_row (self->columns);

    for (guint c = 0; c < N_COLUMNS; c++) {
      GtkWidget *title = words (_(titles[c]), NULL);

      gtk_label_set_xalign (GTK_LABEL (title), c == SUM ? 1 : 0);
      gtk_widget_set_parent (title, row);
    }
    gtk_box_append (GTK_BOX (self->head), row);
  }
  for (guint r = 0; r < list->n_rows; r++)
    if (list->rows[r].kind == PM_ROW_PLAIN)
      make_row (self, list, r);
  gtk_label_set_text (self->title, list->title);
  gtk_widget_set_visible (self->head, self->wide);
  gtk_widget_set_visible (self->frame, self->rows->len > 0);
  gtk_widget_set_visible (self->sums, self->rows->len > 0);
  gtk_widget_set_visible (self->menu, self->rows->len > 0);
  show_prices (self);
  refresh (self);
}

static void
lists_changed_cb (PmPartsView *self)
{
  const PmList *list = list_of (self) != NULL ? pm_build_lists_get_single (self->lists) : NULL;
  g_autofree char *text = list != NULL ? pm_list_csv (list) : NULL;

  if (text != NULL && g_strcmp0 (text, self->made_of) == 0)
    refresh (self);
  else
    rebuild (self);
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    pm_build_lists_try_others (self->lists);
}

/* ---- the view */

static void
number_cb (GtkSpinButton *button, PmPartsView *self)
{
  if (!self->updating && self->lists != NULL)
    pm_build_lists_set_number (self->lists, (guint) gtk_spin_button_get_value_as_int (self->boards),
                               (guint) gtk_spin_button_get_value_as_int (self->spares));
}

static void
parts_changed_cb (PmPartsView *self)
{
  self->updating = TRUE;
  gtk_spin_button_set_value (self->boards, pm_build_lists_get_boards (self->lists));
  gtk_spin_button_set_value (self->spares, pm_build_lists_get_spares (self->lists));
  self->updating = FALSE;
  refresh (self);
}

static void
own_changed_cb (PmPartsView *self, guint kind)
{
  if (kind == PM_OWN_PRICES)
    refresh (self);
}

static void
own_reloaded_cb (PmPartsView *self, guint kind)
{
  if (kind != PM_OWN_PRICES)
    return;
  show_prices (self);
  refresh (self);
}

void
pm_parts_view_set_own (PmPartsView *self, PmBuildOwn *own)
{
  g_return_if_fail (PM_IS_PARTS_VIEW (self));
  pm_build_own_follow (&self->own, own, self, G_CALLBACK (own_changed_cb), G_CALLBACK (own_reloaded_cb));
  if (own != NULL)
    pm_list_menu_set_board (self->menu, pm_build_own_get_board (own));
  rebuild (self);
}

void
pm_parts_view_set_room (PmPartsView *self, int width)
{
  g_return_if_fail (PM_IS_PARTS_VIEW (self));
  self->width = width;
  if (list_of (self) != NULL && self->wide != (width >= TABLE_FROM))
    rebuild (self);
}

gboolean
pm_parts_view_focus (PmPartsView *self)
{
  g_return_val_if_fail (PM_IS_PARTS_VIEW (self), FALSE);
  return gtk_widget_child_focus (GTK_WIDGET (self->boards), GTK_DIR_TAB_FORWARD);
}

static PmList *
get_list (GtkWidget *owner, gboolean plain)
{
  PmPartsView *self = PM_PARTS_VIEW (owner);

  return list_of (self) != NULL ? pm_build_lists_dup (self->lists, PM_LIST_PARTS, self->own, plain) : NULL;
}

static void
tell (GtkWidget *owner, const char *text)
{
  if (PM_PARTS_VIEW (owner)->own != NULL)
    pm_build_own_tell (PM_PARTS_VIEW (owner)->own, text);
}

char *
pm_parts_view_dup_text (PmPartsView *self)
{
  g_autoptr (PmList) list = NULL;
  g_autofree char *text = NULL;
  gboolean missing;

  g_return_val_if_fail (PM_IS_PARTS_VIEW (self), NULL);
  list = get_list (GTK_WIDGET (self), FALSE);
  if (list == NULL)
    return g_strdup ("");
  text = pm_list_text (list, TEXT_WIDTH);
  missing = gtk_widget_get_visible (GTK_WIDGET (self->missing));
  return g_strdup_printf ("%s\n%s\n%s\n%s%s", text, gtk_label_get_text (self->each), gtk_label_get_text (self->all),
                          missing ? gtk_label_get_text (self->missing) : "", missing ? "\n" : "");
}

static void
map_cb (PmPartsView *self)
{
  pm_build_lists_try_others (self->lists);
}

static void
pm_parts_view_dispose (GObject *object)
{
  PmPartsView *self = PM_PARTS_VIEW (object);

  g_clear_object (&self->own);
  g_clear_object (&self->lists);
  g_clear_object (&self->columns);
  G_OBJECT_CLASS (pm_parts_view_parent_class)->dispose (object);
}

static void
pm_parts_view_finalize (GObject *object)
{
  g_array_unref (PM_PARTS_VIEW (object)->rows);
  g_free (PM_PARTS_VIEW (object)->made_of);
  G_OBJECT_CLASS (pm_parts_view_parent_class)->finalize (object);
}

static void
pm_parts_view_class_init (PmPartsViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_parts_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = pm_parts_view_finalize;
  g_type_ensure (PM_TYPE_ROW_LAYOUT);
  g_type_ensure (PM_TYPE_WRAP_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-parts-view.ui");
  gtk_widget_class_bind_template_child (widget_class, PmPartsView, title);
  gtk_widget_class_bind_template_child (widget_class, PmPartsView, each);
  gtk_widget_class_bind_template_child (widget_class, PmPartsView, all);
  gtk_widget_class_bind_template_child (widget_class, PmPartsView, missing);
  gtk_widget_class_bind_template_child (widget_class, PmPartsView, notes);
  gtk_widget_class_bind_template_child (widget_class, PmPartsView, head_row);
  gtk_widget_class_bind_template_child (widget_class, PmPartsView, head);
  gtk_widget_class_bind_template_child (widget_class, PmPartsView, frame);
  gtk_widget_class_bind_template_child (widget_class, PmPartsView, sums);
  gtk_widget_class_bind_template_child (widget_class, PmPartsView, boards);
  gtk_widget_class_bind_template_child (widget_class, PmPartsView, spares);
  gtk_widget_class_bind_template_child (widget_class, PmPartsView, box);
  gtk_widget_class_bind_template_callback (widget_class, number_cb);
}

static void
pm_parts_view_init (PmPartsView *self)
{
  self->rows = g_array_new (FALSE, TRUE, sizeof (Row));
  g_array_set_clear_func (self->rows, row_clear);
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
pm_parts_view_new (PmBuildLists *lists)
{
  PmPartsView *self = g_object_new (PM_TYPE_PARTS_VIEW, NULL);

  self->lists = g_object_ref (lists);
  self->menu = pm_list_menu_new (GTK_WIDGET (self), pm_list_kind_title (PM_LIST_PARTS), get_list, tell);
  gtk_box_append (GTK_BOX (self->head_row), self->menu);
  g_signal_connect_object (lists, "changed", G_CALLBACK (lists_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (lists, "parts-changed", G_CALLBACK (parts_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (lists, "also-changed", G_CALLBACK (refresh), self, G_CONNECT_SWAPPED);
  g_signal_connect (self, "map", G_CALLBACK (map_cb), NULL);
  parts_changed_cb (self);
  return GTK_WIDGET (self);
}
