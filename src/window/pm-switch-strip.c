/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What of the pane must stay in sight in a narrow window. */
#include "config.h"
#include "pm-switch-strip.h"
#include "pm-switch-view.h"
#include "pm-wrap-layout.h"
#include <glib/gi18n.h>

struct _PmSwitchStrip {
  GtkBox     parent;
  /* owned */
  PmChoice  *choice;
  /* borrowed */
  PmWrapBox *levers;
  GtkButton *findings;
};

G_DEFINE_FINAL_TYPE (PmSwitchStrip, pm_switch_strip, GTK_TYPE_BOX)

static void
add_switch (PmSwitchStrip *self, guint index, const PmSwitch *sw)
{
  GtkWidget *box = pm_wrap_box_new (8); /* at large text the name goes above its lever */
  g_autofree char *text = g_strcmp0 (sw->title, sw->name) == 0 || sw->title == NULL
                              ? g_strdup (sw->name)
                              : g_strdup_printf ("%s %s", sw->name, sw->title);
  GtkWidget *label = gtk_label_new (text), *view = pm_switch_view_new (self->choice, index);

  pm_switch_view_set_compact (PM_SWITCH_VIEW (view), TRUE);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars (GTK_LABEL (label), 2);
  pm_wrap_box_append (PM_WRAP_BOX (box), label);
  pm_wrap_box_append (PM_WRAP_BOX (box), view);
  pm_wrap_box_append (self->levers, box);
}

/* No findings of a file that cannot be read would read as if all were well. */
static void
count (PmSwitchStrip *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  g_autofree char *text = NULL;
  guint n_faults;

  if (check == NULL)
    return;
  if (pm_choice_get_stale (self->choice, &n_faults) == NULL)
    text = g_strdup_printf (_("Findings %u (F9)"), check->n_findings);
  else
    text = n_faults > 0 ? g_strdup_printf (_("Faults %u (F9)"), n_faults) : g_strdup (_("No verdict (F9)"));
  gtk_button_set_label (self->findings, text);
}

static void
rebuild (PmSwitchStrip *self)
{
  const PmBoard *board = pm_choice_get_board (self->choice);

  pm_wrap_box_clear (self->levers);
  if (board == NULL)
    return;
  for (guint i = 0; i < board->n_switches; i++)
    if (board->switches[i].moved == PM_MOVED_BY_HAND)
      add_switch (self, i, &board->switches[i]);
  count (self);
}

static void
pm_switch_strip_dispose (GObject *object)
{
  g_clear_object (&PM_SWITCH_STRIP (object)->choice);
  G_OBJECT_CLASS (pm_switch_strip_parent_class)->dispose (object);
}

static void
pm_switch_strip_class_init (PmSwitchStripClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = pm_switch_strip_dispose;
}

static void
pm_switch_strip_init (PmSwitchStrip *self)
{
  self->levers = PM_WRAP_BOX (pm_wrap_box_new (14));
  gtk_widget_set_hexpand (GTK_WIDGET (self->levers), TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->levers), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Switches"), -1);
  gtk_box_append (GTK_BOX (self), GTK_WIDGET (self->levers));
  self->findings = GTK_BUTTON (gtk_button_new ());
  gtk_widget_set_valign (GTK_WIDGET (self->findings), GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->findings), _("Switches that are set once, and all findings"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->findings), "win.pane");
  gtk_box_append (GTK_BOX (self), GTK_WIDGET (self->findings));
  gtk_box_set_spacing (GTK_BOX (self), 12);
  /* No higher than its levers, so that all stand in line. */
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
}

void
pm_switch_strip_set_choice (PmSwitchStrip *self, PmChoice *choice)
{
  g_return_if_fail (PM_IS_SWITCH_STRIP (self) && self->choice == NULL);
  self->choice = g_object_ref (choice);
  g_signal_connect_object (choice, "study-changed", G_CALLBACK (rebuild), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (choice, "stale-changed", G_CALLBACK (count), self, G_CONNECT_SWAPPED);
}

gboolean
pm_switch_strip_focus_first (PmSwitchStrip *self)
{
  GtkWidget *first;

  g_return_val_if_fail (PM_IS_SWITCH_STRIP (self), FALSE);
  first = gtk_widget_get_first_child (GTK_WIDGET (self->levers));
  return first != NULL && gtk_widget_grab_focus (gtk_widget_get_last_child (first));
}

gboolean
pm_switch_strip_has_levers (PmSwitchStrip *self)
{
  g_return_val_if_fail (PM_IS_SWITCH_STRIP (self), FALSE);
  return gtk_widget_get_first_child (GTK_WIDGET (self->levers)) != NULL;
}

const char *
pm_switch_strip_get_findings (PmSwitchStrip *self)
{
  g_return_val_if_fail (PM_IS_SWITCH_STRIP (self), NULL);
  return gtk_button_get_label (self->findings);
}
