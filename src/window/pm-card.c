/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clicking anywhere on a card chooses its setting; its plan's elements also open the finding they are about. */
#include "config.h"
#include "pm-card.h"
#include "pm-mark-view.h"
#include "pm-row-layout.h"
#include <glib/gi18n.h>

#define STALE_OPACITY 0.6 /* still at least 3:1 for a black line on white */

struct _PmCard {
  GtkBox      parent;
  /* template */
  GtkWidget  *head;
  GtkLabel   *title;
  GtkWidget  *chosen;
  GtkBox     *verdict_row;
  GtkLabel   *verdict;
  GtkBox     *plan_place;
  GtkLabel   *changed;
  GtkLabel   *side;
  /* owned */
  PmChoice   *choice;
  guint       case_index;
  /* borrowed */
  PmPlanView *plan;
  PmMarkView *mark;
};

G_DEFINE_FINAL_TYPE (PmCard, pm_card, GTK_TYPE_BOX)

char *
pm_card_changed_text (const PmCheck *check, guint case_index, guint compared)
{
  g_autoptr (GString) text = g_string_new (NULL);
  const PmHost *host = &check->board->host;

  if (compared == 0 && check->cases[case_index].changed != NULL)
    return g_strdup (check->cases[case_index].changed);
  for (guint i = 0; i < host->n_units; i++) {
    g_autofree char *is = NULL, *was = NULL;

    if (!pm_check_differs (check, case_index, compared, i))
      continue;
    is = pm_check_reach_text (check, case_index, i);
    was = pm_check_reach_text (check, compared, i);
    if (text->len > 0)
      g_string_append (text, "; ");
    g_string_append_printf (text, _("%s reaches %s (there: %s)"), host->units[i].name, is, was);
  }
  return text->len > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : g_strdup (_("nothing"));
}

static void
clicked_cb (GtkGestureClick *gesture, int n_press, double x, double y, PmCard *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);

  if (check != NULL && self->case_index > 0)
    pm_choice_set_chosen (self->choice, check->cases[self->case_index].setting);
}

/* The worst finding of this case that is about the element. */
static void
element_cb (PmPlanView *plan, int unit, int drive, PmCard *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  const PmCaseResult *result;

  if (check == NULL || self->case_index >= check->n_cases)
    return;
  result = &check->cases[self->case_index];
  for (guint i = 0; result->findings != NULL && i < result->findings->len; i++) {
    guint index = g_array_index (result->findings, guint, i);
    const PmFinding *finding = &check->findings[index];

    if ((unit >= 0 && finding->unit == unit) || (drive >= 0 && finding->drive == drive)) {
      pm_choice_set_finding (self->choice, (int) index);
      return;
    }
  }
  if (self->case_index > 0)
    pm_choice_set_chosen (self->choice, result->setting);
}

static void
pm_card_dispose (GObject *object)
{
  g_clear_object (&PM_CARD (object)->choice);
  G_OBJECT_CLASS (pm_card_parent_class)->dispose (object);
}

static void
pm_card_class_init (PmCardClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_card_dispose;
  g_type_ensure (PM_TYPE_ROW_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-card.ui");
  gtk_widget_class_bind_template_child (widget_class, PmCard, head);
  gtk_widget_class_bind_template_child (widget_class, PmCard, title);
  gtk_widget_class_bind_template_child (widget_class, PmCard, chosen);
  gtk_widget_class_bind_template_child (widget_class, PmCard, verdict_row);
  gtk_widget_class_bind_template_child (widget_class, PmCard, verdict);
  gtk_widget_class_bind_template_child (widget_class, PmCard, plan_place);
  gtk_widget_class_bind_template_child (widget_class, PmCard, changed);
  gtk_widget_class_bind_template_child (widget_class, PmCard, side);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
pm_card_init (PmCard *self)
{
  GtkGesture *click = gtk_gesture_click_new ();

  gtk_widget_init_template (GTK_WIDGET (self));
  self->mark = PM_MARK_VIEW (pm_mark_view_new (PM_SHOWS_NOTHING));
  gtk_widget_set_valign (GTK_WIDGET (self->mark), GTK_ALIGN_START);
  gtk_box_prepend (self->verdict_row, GTK_WIDGET (self->mark));
  self->plan = PM_PLAN_VIEW (pm_plan_view_new ());
  g_signal_connect (self->plan, "element-activated", G_CALLBACK (element_cb), self);
  gtk_box_append (self->plan_place, GTK_WIDGET (self->plan));
  g_signal_connect (click, "pressed", G_CALLBACK (clicked_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
}

GtkWidget *
pm_card_new (PmChoice *choice)
{
  PmCard *self = g_object_new (PM_TYPE_CARD, NULL);

  self->choice = g_object_ref (choice);
  return GTK_WIDGET (self);
}

void
pm_card_set_case (PmCard *self, guint case_index, guint compared, const char *title)
{
  const PmCheck *check;
  const PmCaseResult *result;
  g_autofree char *changed = NULL, *changed_line = NULL, *label = NULL;
  const char *stale, *verdict;
  PmShows shows;
  gboolean differs;

  g_return_if_fail (PM_IS_CARD (self));
  stale = pm_choice_get_stale (self->choice, NULL);
  check = pm_choice_get_check (self->choice);
  result = &check->cases[case_index];
  self->case_index = case_index;
  if (title == NULL)
    title = case_index == 0 ? _("Without the board") : result->title;
  gtk_label_set_text (self->title, title);

  /* An old picture carries no verdict. */
  shows = stale != NULL ? PM_SHOWS_NOTHING : pm_shows_case (check, case_index);
  pm_mark_view_set_shows (self->mark, shows);
  verdict = case_index == 0 ? _("what the machine does today") : result->verdict != NULL ? result->verdict : "";
  if (stale != NULL) {
    verdict = stale;
    gtk_widget_add_css_class (GTK_WIDGET (self), "stale");
  } else {
    gtk_widget_remove_css_class (GTK_WIDGET (self), "stale");
  }
  gtk_widget_set_opacity (GTK_WIDGET (self->plan_place), stale != NULL ? STALE_OPACITY : 1);
  gtk_label_set_text (self->verdict, verdict);
  if (shows == PM_SHOWS_STOP)
    gtk_widget_add_css_class (GTK_WIDGET (self->verdict), "strong");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->verdict), "strong");

  pm_plan_view_set_case (self->plan, pm_choice_get_study (self->choice), case_index);

  changed = case_index == compared || (compared == 0 && !check->board->has_board)
                ? NULL
                : pm_card_changed_text (check, case_index, compared);
  differs = FALSE;
  for (guint i = 0; i < check->board->host.n_units; i++)
    differs |= pm_check_differs (check, case_index, compared, i);
  if (changed != NULL)
    changed_line = g_strdup_printf (_("changed: %s"), changed);
  gtk_label_set_text (self->changed, changed_line != NULL ? changed_line : "");
  gtk_widget_set_visible (GTK_WIDGET (self->changed), changed_line != NULL);
  if (differs)
    gtk_widget_add_css_class (GTK_WIDGET (self->changed), "strong");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->changed), "strong");
  gtk_label_set_text (self->side, result->side_text != NULL ? result->side_text : "");
  gtk_widget_set_visible (GTK_WIDGET (self->side), result->side_text != NULL && *result->side_text != '\0');

  label = stale != NULL || result->verdict != NULL
              ? g_strdup_printf ("%s: %s", title, stale != NULL ? stale : result->verdict)
              : g_strdup (title);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

void
pm_card_set_chosen (PmCard *self, gboolean chosen)
{
  g_return_if_fail (PM_IS_CARD (self));
  gtk_widget_set_opacity (self->chosen, chosen ? 1 : 0);
  if (chosen)
    gtk_widget_add_css_class (GTK_WIDGET (self), "chosen");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "chosen");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->chosen), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  chosen ? _("chosen") : "", -1);
}

PmPlanView *
pm_card_get_plan (PmCard *self)
{
  g_return_val_if_fail (PM_IS_CARD (self), NULL);
  return self->plan;
}

void
pm_card_align (PmCard *self, GtkSizeGroup *heads, GtkSizeGroup *verdicts)
{
  g_return_if_fail (PM_IS_CARD (self));
  gtk_size_group_add_widget (heads, self->head);
  gtk_size_group_add_widget (verdicts, GTK_WIDGET (self->verdict_row));
}

guint
pm_card_get_case (PmCard *self)
{
  g_return_val_if_fail (PM_IS_CARD (self), 0);
  return self->case_index;
}

void
pm_card_set_width (PmCard *self, int width)
{
  GtkStyleContext *context;
  GtkBorder padding, border;

  g_return_if_fail (PM_IS_CARD (self));
  context = gtk_widget_get_style_context (GTK_WIDGET (self));
  gtk_style_context_get_padding (context, &padding);
  gtk_style_context_get_border (context, &border);
  pm_plan_view_set_room (self->plan,
                         MAX (width - padding.left - padding.right - border.left - border.right, 1));
}
