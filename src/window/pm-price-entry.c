/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A price is taken when Enter is pressed or the entry is left. */
#include "config.h"
#include "pm-price-entry.h"
#include <glib/gi18n.h>

struct _PmPriceEntry {
  GtkBox    parent;
  GtkEntry *entry;
  GtkLabel *fault;
  GArray   *breaks;      /* PmBreak */
  gboolean  has_breaks;
};

enum { GIVEN, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PmPriceEntry, pm_price_entry, GTK_TYPE_BOX)

static void
set_fault (PmPriceEntry *self, const char *fault)
{
  gboolean bad = fault != NULL;

  if (bad)
    gtk_widget_add_css_class (GTK_WIDGET (self->entry), "error");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->entry), "error");
  gtk_label_set_text (self->fault, bad ? fault : "");
  gtk_widget_set_visible (GTK_WIDGET (self->fault), bad);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_STATE_INVALID,
                               bad ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, bad ? fault : "",
                                  -1);
}

static void
show (PmPriceEntry *self)
{
  g_autofree char *text = pm_breaks_text (self->breaks);

  if (g_strcmp0 (gtk_editable_get_text (GTK_EDITABLE (self->entry)), text) != 0)
    gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
  set_fault (self, NULL);
}

static gboolean
is_same (const GArray *a, const GArray *b)
{
  return a->len == b->len && (a->len == 0 || memcmp (a->data, b->data, a->len * sizeof (PmBreak)) == 0);
}

static void
take (PmPriceEntry *self)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) breaks = NULL;
  gint64 amount;

  if (self->has_breaks || strspn (text, " ") == strlen (text)) {
    breaks = pm_breaks_parse (text, &error);
  } else if (pm_money_parse (text, &amount)) {
    PmBreak one = { 1, amount };

    breaks = g_array_new (FALSE, FALSE, sizeof (PmBreak));
    g_array_append_val (breaks, one);
  }
  if (breaks == NULL) {
    g_autofree char *fault = error != NULL ? g_strdup (error->message)
                                           : g_strdup_printf (_("\"%s\" is no amount. Write 3.50."), text);

    set_fault (self, fault);
    return;
  }
  if (is_same (breaks, self->breaks)) {
    show (self);
    return;
  }
  g_array_unref (self->breaks);
  self->breaks = g_steal_pointer (&breaks);
  show (self);
  g_signal_emit (self, signals[GIVEN], 0);
}

void
pm_price_entry_set_breaks (PmPriceEntry *self, const GArray *breaks)
{
  g_return_if_fail (PM_IS_PRICE_ENTRY (self));
  g_array_set_size (self->breaks, 0);
  if (breaks != NULL)
    g_array_append_vals (self->breaks, breaks->data, breaks->len);
  show (self);
}

const GArray *
pm_price_entry_get_breaks (PmPriceEntry *self)
{
  g_return_val_if_fail (PM_IS_PRICE_ENTRY (self), NULL);
  return self->breaks;
}

void
pm_price_entry_set_amount (PmPriceEntry *self, gint64 hundredths)
{
  PmBreak one = { 1, hundredths };

  g_return_if_fail (PM_IS_PRICE_ENTRY (self));
  g_array_set_size (self->breaks, 0);
  if (hundredths != 0)
    g_array_append_val (self->breaks, one);
  show (self);
}

gint64
pm_price_entry_get_amount (PmPriceEntry *self)
{
  g_return_val_if_fail (PM_IS_PRICE_ENTRY (self), 0);
  return self->breaks->len > 0 ? g_array_index (self->breaks, PmBreak, 0).each : 0;
}

GtkWidget *
pm_price_entry_get_entry (PmPriceEntry *self)
{
  g_return_val_if_fail (PM_IS_PRICE_ENTRY (self), NULL);
  return GTK_WIDGET (self->entry);
}

static void
pm_price_entry_finalize (GObject *object)
{
  g_array_unref (PM_PRICE_ENTRY (object)->breaks);
  G_OBJECT_CLASS (pm_price_entry_parent_class)->finalize (object);
}

static void
pm_price_entry_class_init (PmPriceEntryClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = pm_price_entry_finalize;
  signals[GIVEN] =
      g_signal_new ("given", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pm_price_entry_init (PmPriceEntry *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->breaks = g_array_new (FALSE, FALSE, sizeof (PmBreak));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  self->entry = GTK_ENTRY (gtk_entry_new ());
  self->fault = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_wrap (self->fault, TRUE);
  gtk_label_set_wrap_mode (self->fault, PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (self->fault, 24);
  gtk_label_set_xalign (self->fault, 0);
  gtk_widget_set_visible (GTK_WIDGET (self->fault), FALSE);
  gtk_widget_add_css_class (GTK_WIDGET (self->fault), "strong");
  gtk_box_append (GTK_BOX (self), GTK_WIDGET (self->entry));
  gtk_box_append (GTK_BOX (self), GTK_WIDGET (self->fault));
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (take), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (take), self);
  gtk_widget_add_controller (GTK_WIDGET (self->entry), focus);
}

GtkWidget *
pm_price_entry_new (const char *label, gboolean breaks)
{
  PmPriceEntry *self = g_object_new (PM_TYPE_PRICE_ENTRY, NULL);

  self->has_breaks = breaks;
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), breaks ? 15 : 7);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), breaks ? 15 : 7);
  gtk_entry_set_placeholder_text (self->entry, breaks ? _("none yet") : NULL);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->entry),
                               breaks ? _("0.85 each, or 0.85; 10: 0.70 where ten or more are cheaper") : NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return GTK_WIDGET (self);
}
