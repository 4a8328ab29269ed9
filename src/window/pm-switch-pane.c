/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Built anew for every study, updated for every choice. */
#include "config.h"
#include "pm-switch-pane.h"
#include "pm-mark-view.h"
#include "pm-switch-view.h"
#include <glib/gi18n.h>

struct _PmSwitchPane {
  GtkBox     parent;
  /* template */
  GtkBox    *switches;
  GtkLabel  *caption;
  GtkWidget *once;
  GtkLabel  *once_title, *once_summary;
  GtkBox    *once_list;
  GtkWidget *once_fold;
  GtkImage  *once_arrow;
  /* owned */
  PmChoice  *choice;
};

G_DEFINE_FINAL_TYPE (PmSwitchPane, pm_switch_pane, GTK_TYPE_BOX)

const char *
pm_switch_caption (const PmCheck *check, guint case_index)
{
  const char *caption = check->cases[case_index].caption;
  guint setting = check->cases[case_index].setting;

  for (guint i = 0; caption == NULL && i < check->n_cases; i++)
    if (check->cases[i].kind == PM_CASE_MOVING && check->cases[i].setting == setting)
      caption = check->cases[i].caption;
  return caption;
}

static void
clear (GtkBox *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (box))) != NULL)
    gtk_box_remove (box, child);
}

static void
add_by_hand (PmSwitchPane *self, guint index, const PmSwitch *sw)
{
  g_autofree char *text = g_strcmp0 (sw->title, sw->name) == 0 || sw->title == NULL
                              ? g_strdup (sw->name)
                              : g_strdup_printf ("%s %s", sw->name, sw->title);
  GtkWidget *label = gtk_label_new (text);
  GtkWidget *view = pm_switch_view_new (self->choice, index);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_box_append (self->switches, label);
  gtk_box_append (self->switches, view);
}

static void
once_toggled_cb (GtkToggleButton *button, PmSwitchPane *self)
{
  gboolean open = gtk_toggle_button_get_active (button);

  gtk_widget_set_visible (GTK_WIDGET (self->once_list), open);
  gtk_image_set_from_icon_name (self->once_arrow, open ? "pan-down-symbolic" : "pan-end-symbolic");
  gtk_accessible_update_state (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_STATE_EXPANDED, open, -1);
}

static void
once_clicked_cb (GtkButton *button, PmSwitchPane *self)
{
  guint index = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "case"));

  pm_choice_show_case (self->choice, index);
}

static void
add_once_row (PmSwitchPane *self, const PmCheck *check, guint index)
{
  const PmCaseResult *result = &check->cases[index];
  PmShows shows = pm_shows_case (check, index);
  g_autofree char *text =
      result->verdict != NULL ? g_strdup_printf ("%s: %s", result->title, result->verdict) : g_strdup (result->title);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *label = gtk_label_new (text);
  GtkWidget *button = gtk_button_new ();

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_box_append (GTK_BOX (box), pm_mark_view_new (shows));
  gtk_box_append (GTK_BOX (box), label);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_tooltip_text (button, _("Shows this in the chosen card, until Escape"));
  g_object_set_data (G_OBJECT (button), "case", GUINT_TO_POINTER (index));
  g_signal_connect (button, "clicked", G_CALLBACK (once_clicked_cb), self);
  gtk_box_append (self->once_list, button);
}

static void
add_once (PmSwitchPane *self, const PmBoard *board, const PmCheck *check)
{
  g_autoptr (GString) summary = g_string_new (NULL);
  g_autofree char *title = NULL;
  guint n = 0;

  for (guint i = 0; i < board->n_switches; i++) {
    const PmSwitch *sw = &board->switches[i];
    const PmPosition *place;

    if (sw->moved != PM_MOVED_ONCE || sw->n_positions == 0)
      continue;
    n++;
    place = &sw->positions[MIN (sw->usual, sw->n_positions - 1)];
    g_string_append_printf (summary, "%s%s: %s", summary->len > 0 ? ", " : "", sw->title != NULL ? sw->title : sw->name,
                            !sw->stated ? _("not stated") : place->title != NULL ? place->title : place->name);
  }
  title = g_strdup_printf (_("Set once (%u)"), n);
  gtk_label_set_text (self->once_title, title);
  gtk_label_set_text (self->once_summary, summary->str);
  gtk_widget_set_visible (self->once, n > 0);
  for (guint i = 0; i < check->n_cases; i++)
    if (check->cases[i].kind == PM_CASE_ONCE)
      add_once_row (self, check, i);
}

static void
update (PmSwitchPane *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  const char *caption = check != NULL ? pm_switch_caption (check, pm_choice_get_shown (self->choice)) : NULL;

  gtk_label_set_text (self->caption, caption != NULL ? caption : "");
  gtk_widget_set_visible (GTK_WIDGET (self->caption), caption != NULL);
}

static void
rebuild (PmSwitchPane *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  const PmBoard *board = pm_choice_get_board (self->choice);
  guint by_hand = 0;

  clear (self->switches);
  clear (self->once_list);
  if (check == NULL)
    return;
  for (guint i = 0; i < board->n_switches; i++)
    if (board->switches[i].moved == PM_MOVED_BY_HAND) {
      add_by_hand (self, i, &board->switches[i]);
      by_hand++;
    }
  if (by_hand == 0) {
    GtkWidget *label = gtk_label_new (_("No switch is moved by hand."));

    gtk_label_set_xalign (GTK_LABEL (label), 0);
    gtk_widget_add_css_class (label, "pm-second");
    gtk_box_append (self->switches, label);
  }
  add_once (self, board, check);
  update (self);
}

static void
pm_switch_pane_dispose (GObject *object)
{
  g_clear_object (&PM_SWITCH_PANE (object)->choice);
  G_OBJECT_CLASS (pm_switch_pane_parent_class)->dispose (object);
}

static void
pm_switch_pane_class_init (PmSwitchPaneClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_switch_pane_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-switch-pane.ui");
  gtk_widget_class_bind_template_child (widget_class, PmSwitchPane, switches);
  gtk_widget_class_bind_template_child (widget_class, PmSwitchPane, caption);
  gtk_widget_class_bind_template_child (widget_class, PmSwitchPane, once);
  gtk_widget_class_bind_template_child (widget_class, PmSwitchPane, once_title);
  gtk_widget_class_bind_template_child (widget_class, PmSwitchPane, once_summary);
  gtk_widget_class_bind_template_child (widget_class, PmSwitchPane, once_list);
  gtk_widget_class_bind_template_child (widget_class, PmSwitchPane, once_fold);
  gtk_widget_class_bind_template_child (widget_class, PmSwitchPane, once_arrow);
  gtk_widget_class_bind_template_callback (widget_class, once_toggled_cb);
}

static void
pm_switch_pane_init (PmSwitchPane *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
pm_switch_pane_set_choice (PmSwitchPane *self, PmChoice *choice)
{
  g_return_if_fail (PM_IS_SWITCH_PANE (self) && self->choice == NULL);
  self->choice = g_object_ref (choice);
  g_signal_connect_object (choice, "study-changed", G_CALLBACK (rebuild), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (choice, "changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
}

gboolean
pm_switch_pane_focus_first (PmSwitchPane *self)
{
  g_return_val_if_fail (PM_IS_SWITCH_PANE (self), FALSE);
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self->switches)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (PM_IS_SWITCH_VIEW (child))
      return gtk_widget_grab_focus (child);
  return FALSE;
}
