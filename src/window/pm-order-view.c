/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Widgets hold what is typed, the order what is kept: each edit goes from one to the other and to the file. */
#include "config.h"
#include "pm-order-view.h"
#include "pm-list-menu.h"
#include "pm-person-row.h"
#include "pm-price-entry.h"
#include "pm-row-layout.h"
#include "pm-wrap-layout.h"
#include <glib/gi18n.h>

#define TEXT_WIDTH 100

struct _PmOrderView {
  GtkBox        parent;
  /* template */
  GtkWidget    *head_row, *prices, *costs, *people, *nobody, *add_person;
  GtkLabel     *sum, *notes;
  /* owned */
  PmBuildLists *lists;
  PmBuildOwn   *own;
  /* borrowed */
  GtkWidget    *menu;
  PmPriceEntry *board, *work;
  gboolean      updating;
};

G_DEFINE_FINAL_TYPE (PmOrderView, pm_order_view, GTK_TYPE_BOX)

static PmOrder *
order_of (PmOrderView *self)
{
  return self->own != NULL ? pm_build_own_get_order (self->own) : NULL;
}

static PmOrderTotals *
totals_of (PmOrderView *self)
{
  const PmList *parts = pm_build_lists_get_single (self->lists);

  return order_of (self) != NULL && parts != NULL
             ? pm_order_totals (order_of (self), parts, pm_build_own_get_prices (self->own),
                                pm_build_lists_get_spares (self->lists))
             : NULL;
}

static guint
index_of (GtkWidget *box, GtkWidget *row)
{
  guint index = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (box); child != row && child != NULL;
       child = gtk_widget_get_next_sibling (child))
    index++;
  return index;
}

/* ---- sums */

static void
refresh (PmOrderView *self)
{
  g_autoptr (PmOrderTotals) totals = totals_of (self);
  g_autoptr (PmList) list = NULL;
  g_autofree char *all = NULL, *sum = NULL, *notes = NULL;
  GtkWidget *row = gtk_widget_get_first_child (self->people);

  if (totals == NULL)
    return;
  for (guint i = 0; row != NULL && i < order_of (self)->people->len; i++, row = gtk_widget_get_next_sibling (row))
    pm_person_row_set_share (PM_PERSON_ROW (row), &totals->of[i]);
  list = pm_order_list (order_of (self), totals, FALSE);
  all = pm_money_text (totals->sum.all);
  sum = g_strdup_printf (ngettext ("%u board, all together %s", "%u boards, all together %s", totals->n_boards),
                         totals->n_boards, all);
  notes = g_strjoinv ("\n", list->notes);
  gtk_label_set_text (self->sum, sum);
  gtk_label_set_text (self->notes, notes);
  gtk_widget_set_visible (self->nobody, order_of (self)->people->len == 0);
}

/* ---- edits */

static void
board_cb (PmOrderView *self)
{
  g_autoptr (GArray) breaks = g_array_copy ((GArray *) pm_price_entry_get_breaks (self->board));

  if (order_of (self) == NULL || !pm_build_own_begin (self->own, PM_OWN_ORDER))
    return;
  g_array_set_size (order_of (self)->board, 0);
  g_array_append_vals (order_of (self)->board, breaks->data, breaks->len);
  pm_build_own_end (self->own, PM_OWN_ORDER, NULL, NULL);
}

static void
work_cb (PmOrderView *self)
{
  gint64 work = pm_price_entry_get_amount (self->work);

  if (order_of (self) == NULL || !pm_build_own_begin (self->own, PM_OWN_ORDER))
    return;
  order_of (self)->work = work;
  pm_build_own_end (self->own, PM_OWN_ORDER, NULL, NULL);
}

static void
person_edited_cb (PmPersonRow *row, const char *name, PmOrderView *self)
{
  guint index = index_of (self->people, GTK_WIDGET (row));
  g_autofree char *key = g_strdup_printf ("person %u %s", index, name);

  if (!pm_build_own_begin (self->own, PM_OWN_ORDER) || index >= order_of (self)->people->len)
    return;
  pm_person_row_store (row, g_ptr_array_index (order_of (self)->people, index));
  pm_build_own_end (self->own, PM_OWN_ORDER, key, NULL);
}

static void show_people (PmOrderView *self);
static void show_costs (PmOrderView *self);

static void
person_remove_cb (PmPersonRow *row, PmOrderView *self)
{
  guint index = index_of (self->people, GTK_WIDGET (row));
  const PmOrderPerson *person;
  g_autofree char *told = NULL;

  if (!pm_build_own_begin (self->own, PM_OWN_ORDER) || index >= order_of (self)->people->len)
    return;
  person = g_ptr_array_index (order_of (self)->people, index);
  told = g_strdup_printf (_("%s is removed from the order."), *person->name != '\0' ? person->name : _("One person"));
  g_ptr_array_remove_index (order_of (self)->people, index);
  show_people (self);
  pm_build_own_end (self->own, PM_OWN_ORDER, NULL, told);
  gtk_widget_grab_focus (self->add_person);
}

static void
add_person_cb (GtkButton *button, PmOrderView *self)
{
  PmOrderPerson *person;

  if (order_of (self) == NULL || !pm_build_own_begin (self->own, PM_OWN_ORDER))
    return;
  person = pm_order_add_person (order_of (self), "");
  person->n_boards = MAX (person->n_boards, 1);
  show_people (self);
  pm_build_own_end (self->own, PM_OWN_ORDER, NULL, NULL);
  pm_person_row_focus (PM_PERSON_ROW (gtk_widget_get_last_child (self->people)));
}

static void
cost_edited_cb (GtkWidget *widget, PmOrderView *self)
{
  GtkWidget *row = gtk_widget_get_ancestor (widget, PM_TYPE_WRAP_BOX);
  guint index = index_of (self->costs, row);
  gpointer name = g_object_get_data (G_OBJECT (row), "name"), amount = g_object_get_data (G_OBJECT (row), "amount");
  g_autofree char *words = g_strdup (gtk_editable_get_text (GTK_EDITABLE (name)));
  g_autofree char *key = g_strdup_printf ("cost %u %s", index, widget == name ? "name" : "amount");
  gint64 money = pm_price_entry_get_amount (amount);
  PmOrderCost *cost;

  if (self->updating || !pm_build_own_begin (self->own, PM_OWN_ORDER) || index >= order_of (self)->costs->len)
    return;
  cost = g_ptr_array_index (order_of (self)->costs, index);
  g_free (cost->name);
  cost->name = g_steal_pointer (&words);
  cost->amount = money;
  pm_build_own_end (self->own, PM_OWN_ORDER, key, NULL);
}

static void
cost_remove_cb (GtkWidget *button, PmOrderView *self)
{
  guint index = index_of (self->costs, gtk_widget_get_ancestor (button, PM_TYPE_WRAP_BOX));

  if (!pm_build_own_begin (self->own, PM_OWN_ORDER) || index >= order_of (self)->costs->len)
    return;
  g_ptr_array_remove_index (order_of (self)->costs, index);
  show_costs (self);
  pm_build_own_end (self->own, PM_OWN_ORDER, NULL, _("A shared cost is removed from the order."));
  gtk_widget_grab_focus (self->add_person);
}

static void
add_cost_cb (GtkButton *button, PmOrderView *self)
{
  if (order_of (self) == NULL || !pm_build_own_begin (self->own, PM_OWN_ORDER))
    return;
  pm_order_add_cost (order_of (self), "", 0);
  show_costs (self);
  pm_build_own_end (self->own, PM_OWN_ORDER, NULL, NULL);
  gtk_widget_child_focus (gtk_widget_get_last_child (self->costs), GTK_DIR_TAB_FORWARD);
}

/* ---- rows */

static void
empty (GtkWidget *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (box)) != NULL)
    gtk_box_remove (GTK_BOX (box), child);
}

/* As many rows as there are people; rows that are there are used again. */
static void
show_people (PmOrderView *self)
{
  const GPtrArray *people = order_of (self)->people;
  GtkWidget *row = gtk_widget_get_first_child (self->people), *next;

  for (guint i = 0; i < people->len; i++) {
    if (row == NULL) {
      row = pm_person_row_new ();
      g_signal_connect_object (row, "edited", G_CALLBACK (person_edited_cb), self, 0);
      g_signal_connect_object (row, "remove", G_CALLBACK (person_remove_cb), self, 0);
      gtk_box_append (GTK_BOX (self->people), row);
    }
    pm_person_row_show (PM_PERSON_ROW (row), g_ptr_array_index (people, i));
    row = gtk_widget_get_next_sibling (row);
  }
  for (; row != NULL; row = next) {
    next = gtk_widget_get_next_sibling (row);
    gtk_box_remove (GTK_BOX (self->people), row);
  }
}

static void
show_costs (PmOrderView *self)
{
  const GPtrArray *costs = order_of (self)->costs;

  self->updating = TRUE;
  empty (self->costs);
  for (guint i = 0; i < costs->len; i++) {
    const PmOrderCost *cost = g_ptr_array_index (costs, i);
    GtkWidget *row = pm_wrap_box_new (8), *name = gtk_entry_new (), *away = gtk_button_new_with_label (_("Remove")),
              *amount = pm_price_entry_new (_("Amount of the shared cost"), FALSE);
    g_autofree char *label = g_strdup_printf (_("Remove %s"), *cost->name != '\0' ? cost->name : _("the shared cost"));

    gtk_entry_set_placeholder_text (GTK_ENTRY (name), _("tool charge, customs…"));
    gtk_editable_set_width_chars (GTK_EDITABLE (name), 24);
    gtk_editable_set_text (GTK_EDITABLE (name), cost->name);
    pm_price_entry_set_amount (PM_PRICE_ENTRY (amount), cost->amount);
    gtk_accessible_update_property (GTK_ACCESSIBLE (name), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                    _("Name of the shared cost"), -1);
    gtk_accessible_update_property (GTK_ACCESSIBLE (away), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
    g_object_set_data (G_OBJECT (row), "name", name);
    g_object_set_data (G_OBJECT (row), "amount", amount);
    g_signal_connect (name, "changed", G_CALLBACK (cost_edited_cb), self);
    g_signal_connect (amount, "given", G_CALLBACK (cost_edited_cb), self);
    g_signal_connect (away, "clicked", G_CALLBACK (cost_remove_cb), self);
    pm_wrap_box_append (PM_WRAP_BOX (row), name);
    pm_wrap_box_append (PM_WRAP_BOX (row), amount);
    pm_wrap_box_append (PM_WRAP_BOX (row), away);
    gtk_box_append (GTK_BOX (self->costs), row);
  }
  self->updating = FALSE;
}

static void
show_order (PmOrderView *self)
{
  if (order_of (self) == NULL)
    return;
  pm_price_entry_set_breaks (self->board, order_of (self)->board);
  pm_price_entry_set_amount (self->work, order_of (self)->work);
  show_costs (self);
  show_people (self);
  refresh (self);
}

/* ---- the view */

static void
own_changed_cb (PmOrderView *self, guint kind)
{
  if (kind != PM_OWN_TICKS)
    refresh (self);
}

static void
own_reloaded_cb (PmOrderView *self, guint kind)
{
  if (kind == PM_OWN_ORDER)
    show_order (self);
  else
    own_changed_cb (self, kind);
}

void
pm_order_view_set_own (PmOrderView *self, PmBuildOwn *own)
{
  g_return_if_fail (PM_IS_ORDER_VIEW (self));
  pm_build_own_follow (&self->own, own, self, G_CALLBACK (own_changed_cb), G_CALLBACK (own_reloaded_cb));
  if (own != NULL)
    pm_list_menu_set_board (self->menu, pm_build_own_get_board (own));
  show_order (self);
}

gboolean
pm_order_view_focus (PmOrderView *self)
{
  GtkWidget *first;

  g_return_val_if_fail (PM_IS_ORDER_VIEW (self), FALSE);
  first = gtk_widget_get_first_child (self->people);
  return first != NULL ? pm_person_row_focus (PM_PERSON_ROW (first)) : gtk_widget_grab_focus (self->add_person);
}

static PmList *
get_list (GtkWidget *owner, gboolean plain)
{
  PmOrderView *self = PM_ORDER_VIEW (owner);
  g_autoptr (PmOrderTotals) totals = totals_of (self);

  return totals != NULL ? pm_order_list (order_of (self), totals, plain) : NULL;
}

static void
tell (GtkWidget *owner, const char *text)
{
  if (PM_ORDER_VIEW (owner)->own != NULL)
    pm_build_own_tell (PM_ORDER_VIEW (owner)->own, text);
}

char *
pm_order_view_dup_text (PmOrderView *self)
{
  g_autoptr (PmList) list = NULL;

  g_return_val_if_fail (PM_IS_ORDER_VIEW (self), NULL);
  list = get_list (GTK_WIDGET (self), FALSE);
  return list != NULL ? pm_list_text (list, TEXT_WIDTH) : g_strdup ("");
}

static void
pm_order_view_dispose (GObject *object)
{
  PmOrderView *self = PM_ORDER_VIEW (object);

  g_clear_object (&self->own);
  g_clear_object (&self->lists);
  G_OBJECT_CLASS (pm_order_view_parent_class)->dispose (object);
}

static void
pm_order_view_class_init (PmOrderViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_order_view_dispose;
  g_type_ensure (PM_TYPE_ROW_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-order-view.ui");
  gtk_widget_class_bind_template_child (widget_class, PmOrderView, head_row);
  gtk_widget_class_bind_template_child (widget_class, PmOrderView, prices);
  gtk_widget_class_bind_template_child (widget_class, PmOrderView, costs);
  gtk_widget_class_bind_template_child (widget_class, PmOrderView, people);
  gtk_widget_class_bind_template_child (widget_class, PmOrderView, nobody);
  gtk_widget_class_bind_template_child (widget_class, PmOrderView, add_person);
  gtk_widget_class_bind_template_child (widget_class, PmOrderView, sum);
  gtk_widget_class_bind_template_child (widget_class, PmOrderView, notes);
  gtk_widget_class_bind_template_callback (widget_class, add_person_cb);
  gtk_widget_class_bind_template_callback (widget_class, add_cost_cb);
}

/* A word and its price. */
static PmPriceEntry *
add_price (PmOrderView *self, GtkWidget *box, const char *word, gboolean breaks, GCallback given)
{
  GtkWidget *field = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *label = gtk_label_new (word),
            *price = pm_price_entry_new (word, breaks);

  gtk_box_append (GTK_BOX (field), label);
  gtk_box_append (GTK_BOX (field), price);
  pm_wrap_box_append (PM_WRAP_BOX (box), field);
  g_signal_connect_object (price, "given", given, self, G_CONNECT_SWAPPED);
  return PM_PRICE_ENTRY (price);
}

static void
pm_order_view_init (PmOrderView *self)
{
  GtkWidget *fields = pm_wrap_box_new (14);

  gtk_widget_init_template (GTK_WIDGET (self));
  self->board = add_price (self, fields, _("Bare board"), TRUE, G_CALLBACK (board_cb));
  self->work = add_price (self, fields, _("Work to build one"), FALSE, G_CALLBACK (work_cb));
  gtk_box_prepend (GTK_BOX (self->prices), fields);
}

GtkWidget *
pm_order_view_new (PmBuildLists *lists)
{
  PmOrderView *self = g_object_new (PM_TYPE_ORDER_VIEW, NULL);

  self->lists = g_object_ref (lists);
  self->menu = pm_list_menu_new (GTK_WIDGET (self), _("Group order"), get_list, tell);
  gtk_box_append (GTK_BOX (self->head_row), self->menu);
  g_signal_connect_object (lists, "changed", G_CALLBACK (refresh), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (lists, "parts-changed", G_CALLBACK (refresh), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}
