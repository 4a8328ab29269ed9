/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Chips are toggles: the pressed one is the variation that the chosen card shows. */
#include "config.h"
#include "pm-also-tried.h"
#include "pm-mark-view.h"
#include "pm-wrap-layout.h"
#include <glib/gi18n.h>

struct _PmAlsoTried {
  GtkBox     parent;
  /* owned */
  PmChoice  *choice;
  guint      setting;    /* whose chips are shown */
  gboolean   unfolded;
  gboolean   updating;
  /* borrowed */
  PmWrapBox *chips;
};

G_DEFINE_FINAL_TYPE (PmAlsoTried, pm_also_tried, GTK_TYPE_BOX)

gboolean
pm_case_is_variation_of (const PmCheck *check, guint case_index, guint setting)
{
  const PmCaseResult *result = &check->cases[case_index];

  return result->kind >= PM_CASE_MOVING && result->kind <= PM_CASE_HOST_OFF && result->setting == setting;
}

static void
chip_toggled_cb (GtkToggleButton *chip, PmAlsoTried *self)
{
  guint index = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (chip), "case"));

  if (self->updating)
    return;
  pm_choice_show_case (self->choice, gtk_toggle_button_get_active (chip) ? index : pm_choice_get_chosen (self->choice));
}

static gboolean
speaks (const PmCheck *check, guint index)
{
  PmShows shows = pm_shows_case (check, index);

  return shows == PM_SHOWS_STOP || shows == PM_SHOWS_CARE || shows == PM_SHOWS_DOUBT;
}

const char *
pm_variation_verdict (const PmCheck *check, guint case_index)
{
  const PmCaseResult *result = &check->cases[case_index];

  if (!speaks (check, case_index) && result->kind > PM_CASE_SETTING && speaks (check, result->setting))
    return _("nothing further");
  return result->verdict != NULL ? result->verdict : _("nothing to say");
}

static GtkWidget *
new_chip (PmAlsoTried *self, const PmCheck *check, guint index)
{
  const PmCaseResult *result = &check->cases[index];
  GtkWidget *chip = gtk_toggle_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  PmShows shows = pm_shows_case (check, index);
  const char *tip = result->caption != NULL ? result->caption : pm_variation_verdict (check, index);
  GtkWidget *label = gtk_label_new (result->name);

  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  if (!speaks (check, index)) {
    shows = PM_SHOWS_TICK;
  } else {
    gtk_widget_add_css_class (chip, "speaks");
  }
  gtk_box_append (GTK_BOX (box), label);
  if (shows == PM_SHOWS_TICK)
    gtk_box_prepend (GTK_BOX (box), pm_mark_view_new (shows));
  else
    gtk_box_append (GTK_BOX (box), pm_mark_view_new (shows));
  gtk_button_set_child (GTK_BUTTON (chip), box);
  gtk_widget_add_css_class (chip, "pm-chip");
  gtk_widget_set_tooltip_text (chip, tip);
  gtk_accessible_update_property (GTK_ACCESSIBLE (chip), GTK_ACCESSIBLE_PROPERTY_LABEL, result->name, -1);
  if (tip != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (chip), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, tip, -1);
  g_object_set_data (G_OBJECT (chip), "case", GUINT_TO_POINTER (index));
  g_signal_connect (chip, "toggled", G_CALLBACK (chip_toggled_cb), self);
  return chip;
}

static void build_chips (PmAlsoTried *self);

static void
more_clicked_cb (GtkButton *button, PmAlsoTried *self)
{
  self->unfolded = !self->unfolded;
  build_chips (self);
  gtk_widget_grab_focus (gtk_widget_get_last_child (GTK_WIDGET (self->chips)));
}

static void
add_fold (PmAlsoTried *self, const PmCheck *check, guint n_quiet, guint n_speaking)
{
  g_autofree char *text = NULL;
  GtkWidget *button;

  if (self->unfolded)
    text = g_strdup (_("Fewer"));
  else if (n_speaking > 0)
    text = g_strdup_printf (_("✓ %u more"), n_quiet);
  else
    text = g_strdup_printf (speaks (check, self->setting)
                                ? ngettext ("✓ %u, nothing further", "✓ %u, nothing further", n_quiet)
                                : ngettext ("✓ %u, nothing to say", "✓ %u, nothing to say", n_quiet),
                            n_quiet);
  button = gtk_button_new_with_label (text);
  gtk_widget_add_css_class (button, "pm-chip");
  gtk_widget_set_tooltip_text (button, self->unfolded ? _("Hides those with nothing to say")
                                                      : _("Shows those with nothing to say as well"));
  g_signal_connect (button, "clicked", G_CALLBACK (more_clicked_cb), self);
  pm_wrap_box_append (self->chips, button);
}

static void
build_chips (PmAlsoTried *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  guint shown = pm_choice_get_shown (self->choice);
  guint n_quiet = 0, n_speaking = 0;

  pm_wrap_box_clear (self->chips);
  for (guint i = 0; i < check->n_cases; i++)
    if (pm_case_is_variation_of (check, i, self->setting) && speaks (check, i)) {
      pm_wrap_box_append (self->chips, new_chip (self, check, i));
      n_speaking++;
    }
  for (guint i = 0; i < check->n_cases; i++)
    if (pm_case_is_variation_of (check, i, self->setting) && !speaks (check, i)) {
      if (self->unfolded || i == shown)
        pm_wrap_box_append (self->chips, new_chip (self, check, i));
      n_quiet += i == shown && !self->unfolded ? 0 : 1;
    }
  if (n_quiet > 0)
    add_fold (self, check, n_quiet, n_speaking);
  gtk_widget_set_visible (GTK_WIDGET (self),
                          pm_choice_get_stale (self->choice, NULL) == NULL &&
                              (n_quiet + n_speaking > 0 || pm_case_is_variation_of (check, shown, self->setting)));
}

static GtkWidget *
chip_of (PmAlsoTried *self, guint index)
{
  for (GtkWidget *chip = gtk_widget_get_first_child (GTK_WIDGET (self->chips)); chip != NULL;
       chip = gtk_widget_get_next_sibling (chip))
    if (GTK_IS_TOGGLE_BUTTON (chip) && GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (chip), "case")) == index)
      return chip;
  return NULL;
}

static void
update (PmAlsoTried *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  guint chosen = pm_choice_get_chosen (self->choice), shown = pm_choice_get_shown (self->choice);

  if (check == NULL)
    return;
  if (self->setting != chosen || (shown != chosen && chip_of (self, shown) == NULL)) {
    self->setting = chosen;
    build_chips (self);
  }
  self->updating = TRUE;
  for (GtkWidget *chip = gtk_widget_get_first_child (GTK_WIDGET (self->chips)); chip != NULL;
       chip = gtk_widget_get_next_sibling (chip))
    if (GTK_IS_TOGGLE_BUTTON (chip))
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (chip),
                                    GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (chip), "case")) == shown);
  self->updating = FALSE;
}

static void
rebuild (PmAlsoTried *self)
{
  pm_wrap_box_clear (self->chips);
  self->setting = PM_NONE;
  self->unfolded = FALSE;
  update (self);
}

/* Ticks of a board that cannot be read any more are worth nothing. */
static void
stale_changed_cb (PmChoice *choice, PmAlsoTried *self)
{
  if (self->setting != PM_NONE)
    build_chips (self);
}

static void
pm_also_tried_dispose (GObject *object)
{
  g_clear_object (&PM_ALSO_TRIED (object)->choice);
  G_OBJECT_CLASS (pm_also_tried_parent_class)->dispose (object);
}

static void
pm_also_tried_class_init (PmAlsoTriedClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = pm_also_tried_dispose;
}

static void
pm_also_tried_init (PmAlsoTried *self)
{
  GtkWidget *label = gtk_label_new (_("Also tried"));

  gtk_widget_add_css_class (label, "pm-heading");
  gtk_widget_add_css_class (label, "pm-chip-line");
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (self), label);
  gtk_box_set_spacing (GTK_BOX (self), 12);
  self->chips = PM_WRAP_BOX (pm_wrap_box_new (8));
  gtk_widget_set_hexpand (GTK_WIDGET (self->chips), TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->chips), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Also tried"), -1);
  gtk_box_append (GTK_BOX (self), GTK_WIDGET (self->chips));
  self->setting = PM_NONE;
}

void
pm_also_tried_set_choice (PmAlsoTried *self, PmChoice *choice)
{
  g_return_if_fail (PM_IS_ALSO_TRIED (self) && self->choice == NULL);
  self->choice = g_object_ref (choice);
  g_signal_connect_object (choice, "study-changed", G_CALLBACK (rebuild), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (choice, "changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (choice, "stale-changed", G_CALLBACK (stale_changed_cb), self, 0);
}

gboolean
pm_also_tried_end (PmAlsoTried *self)
{
  g_return_val_if_fail (PM_IS_ALSO_TRIED (self), FALSE);
  if (pm_choice_get_check (self->choice) == NULL ||
      pm_choice_get_shown (self->choice) == pm_choice_get_chosen (self->choice))
    return FALSE;
  pm_choice_show_case (self->choice, pm_choice_get_chosen (self->choice));
  return TRUE;
}
