/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fields flow into as many lines as they need, so that one row does for every width. */
#include "config.h"
#include "pm-person-row.h"
#include "pm-price-entry.h"
#include "pm-row-layout.h"
#include "pm-wrap-layout.h"
#include <glib/gi18n.h>

struct _PmPersonRow {
  GtkBox         parent;
  GtkEntry      *name, *setup;
  GtkLabel      *total, *share;
  GtkSpinButton *boards;
  GtkDropDown   *kind;
  PmPriceEntry  *postage;
  GtkCheckButton *paid, *sent;
  gboolean       updating;
};

enum { EDITED, REMOVE, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PmPersonRow, pm_person_row, GTK_TYPE_BOX)

#define FIELD "pm-field"

static void
edited_cb (GtkWidget *widget)
{
  PmPersonRow *self = PM_PERSON_ROW (gtk_widget_get_ancestor (widget, PM_TYPE_PERSON_ROW));

  if (self != NULL && !self->updating)
    g_signal_emit (self, signals[EDITED], 0, g_object_get_data (G_OBJECT (widget), FIELD));
}

static void
remove_cb (PmPersonRow *self)
{
  g_signal_emit (self, signals[REMOVE], 0);
}

static void
set_label (gpointer widget, const char *label)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

/* A word and what it is about, side by side. */
static GtkWidget *
field (const char *word, gpointer widget)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  gtk_box_append (GTK_BOX (box), gtk_label_new (word));
  gtk_box_append (GTK_BOX (box), widget);
  return box;
}

static gpointer
watched (gpointer widget, const char *name, const char *signal)
{
  g_object_set_data (G_OBJECT (widget), FIELD, (gpointer) name);
  g_signal_connect (widget, signal, G_CALLBACK (edited_cb), NULL);
  return widget;
}

/* The names of whoever this is make the labels tell rows apart. */
static void
name_fields (PmPersonRow *self)
{
  const char *name = gtk_editable_get_text (GTK_EDITABLE (self->name));
  const struct { gpointer widget; const char *word; } all[] = {
    { self->boards, _("Boards") }, { self->kind, _("Gets") }, { self->setup, _("For") },
    { pm_price_entry_get_entry (self->postage), _("Postage") }, { self->paid, _("Paid") }, { self->sent, _("Sent") },
  };

  for (guint i = 0; i < G_N_ELEMENTS (all); i++) {
    g_autofree char *label = *name != '\0' ? g_strdup_printf ("%s, %s", all[i].word, name) : g_strdup (all[i].word);

    set_label (all[i].widget, label);
  }
  set_label (self, *name != '\0' ? name : _("Person"));
}

void
pm_person_row_show (PmPersonRow *self, const PmOrderPerson *person)
{
  g_return_if_fail (PM_IS_PERSON_ROW (self));
  self->updating = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->name), person->name);
  gtk_editable_set_text (GTK_EDITABLE (self->setup), person->setup != NULL ? person->setup : "");
  gtk_spin_button_set_value (self->boards, person->n_boards);
  gtk_drop_down_set_selected (self->kind, person->kind);
  pm_price_entry_set_amount (self->postage, person->postage);
  gtk_check_button_set_active (self->paid, person->paid);
  gtk_check_button_set_active (self->sent, person->sent);
  self->updating = FALSE;
  name_fields (self);
}

void
pm_person_row_store (PmPersonRow *self, PmOrderPerson *person)
{
  g_return_if_fail (PM_IS_PERSON_ROW (self));
  g_free (person->name);
  g_free (person->setup);
  person->name = g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->name)));
  person->setup = g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->setup)));
  person->n_boards = (guint) gtk_spin_button_get_value_as_int (self->boards);
  person->kind = (PmOrderKind) gtk_drop_down_get_selected (self->kind);
  person->postage = pm_price_entry_get_amount (self->postage);
  person->paid = gtk_check_button_get_active (self->paid);
  person->sent = gtk_check_button_get_active (self->sent);
  name_fields (self);
}

void
pm_person_row_set_share (PmPersonRow *self, const PmOrderShare *share)
{
  const struct { const char *word; gint64 amount; } parts[] = {
    { _("boards %s"), share->boards }, { _("parts %s"), share->parts },     { _("work %s"), share->work },
    { _("shared %s"), share->shared }, { _("postage %s"), share->postage },
  };
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *all = pm_money_text (share->all), *total = g_strdup_printf (_("Total %s"), all);

  g_return_if_fail (PM_IS_PERSON_ROW (self));
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++) {
    g_autofree char *money = pm_money_text (parts[i].amount);

    if (parts[i].amount == 0)
      continue;
    if (text->len > 0)
      g_string_append (text, " + ");
    g_string_append_printf (text, parts[i].word, money);
  }
  gtk_label_set_text (self->total, total);
  gtk_label_set_text (self->share, text->str);
  gtk_widget_set_visible (GTK_WIDGET (self->share), text->len > 0);
}

gboolean
pm_person_row_focus (PmPersonRow *self)
{
  g_return_val_if_fail (PM_IS_PERSON_ROW (self), FALSE);
  return gtk_widget_grab_focus (GTK_WIDGET (self->name));
}

static void
pm_person_row_class_init (PmPersonRowClass *klass)
{
  GType type = G_TYPE_FROM_CLASS (klass);

  signals[EDITED] =
      g_signal_new ("edited", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[REMOVE] = g_signal_new ("remove", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
make_fields (PmPersonRow *self)
{
  const char *kinds[PM_N_ORDER_KINDS + 1] = { NULL };
  GtkWidget *fields = pm_wrap_box_new (12);

  for (guint k = 0; k < PM_N_ORDER_KINDS; k++)
    kinds[k] = pm_order_kind_words (k);
  self->boards = watched (gtk_spin_button_new_with_range (0, 10000, 1), "boards", "value-changed");
  gtk_editable_set_width_chars (GTK_EDITABLE (self->boards), 3);
  self->kind = watched (gtk_drop_down_new_from_strings (kinds), "gets", "notify::selected");
  self->setup = watched (gtk_entry_new (), "setup", "changed");
  gtk_entry_set_placeholder_text (self->setup, _("machine and drives"));
  gtk_editable_set_width_chars (GTK_EDITABLE (self->setup), 20);
  self->postage = watched (pm_price_entry_new (_("Postage"), FALSE), "postage", "given");
  self->paid = watched (gtk_check_button_new_with_label (_("Paid")), "paid", "toggled");
  self->sent = watched (gtk_check_button_new_with_label (_("Sent")), "sent", "toggled");
  pm_wrap_box_append (PM_WRAP_BOX (fields), field (_("Boards"), self->boards));
  pm_wrap_box_append (PM_WRAP_BOX (fields), field (_("Gets"), self->kind));
  pm_wrap_box_append (PM_WRAP_BOX (fields), field (_("For"), self->setup));
  pm_wrap_box_append (PM_WRAP_BOX (fields), field (_("Postage"), self->postage));
  pm_wrap_box_append (PM_WRAP_BOX (fields), GTK_WIDGET (self->paid));
  pm_wrap_box_append (PM_WRAP_BOX (fields), GTK_WIDGET (self->sent));
  gtk_box_append (GTK_BOX (self), fields);
}

static void
pm_person_row_init (PmPersonRow *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10), *away = gtk_button_new_with_label (_("Remove"));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 8);
  gtk_widget_add_css_class (GTK_WIDGET (self), "pm-card");
  self->name = watched (gtk_entry_new (), "name", "changed");
  gtk_entry_set_placeholder_text (self->name, _("Name"));
  set_label (self->name, _("Name"));
  gtk_editable_set_width_chars (GTK_EDITABLE (self->name), 10);
  gtk_widget_set_hexpand (GTK_WIDGET (self->name), TRUE);
  self->total = GTK_LABEL (gtk_label_new (NULL));
  gtk_widget_add_css_class (GTK_WIDGET (self->total), "strong");
  g_signal_connect_swapped (away, "clicked", G_CALLBACK (remove_cb), self);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->name));
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->total));
  gtk_box_append (GTK_BOX (line), away);
  gtk_box_append (GTK_BOX (self), line);
  make_fields (self);
  self->share = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_xalign (self->share, 0);
  gtk_label_set_wrap (self->share, TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (self->share), "pm-second");
  gtk_box_append (GTK_BOX (self), GTK_WIDGET (self->share));
}

GtkWidget *
pm_person_row_new (void)
{
  return g_object_new (PM_TYPE_PERSON_ROW, NULL);
}
