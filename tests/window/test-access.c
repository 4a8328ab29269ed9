/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What somebody who cannot see the window is told: roles, labels, states of everything drawn. */
#include "pm-card.h"
#include "pm-finding-list.h"
#include "pm-plan-view.h"
#include "pm-result-table.h"
#include "pm-spot-view.h"
#include "pm-switch-view.h"
#include "pm-text-twin.h"
#include "pm-verdict-strip.h"
#include "window-test.h"

static void
test_levers (void)
{
  g_autofree char *path = window_test_board ("swap-by-chip");
  PmWindow *window = window_test_open (path, 1280, 800);
  GtkWidget *lever = window_test_find (window, PM_TYPE_SWITCH_VIEW, 0);
  GtkWidget *inside = window_test_find (lever, PM_TYPE_SPOT_VIEW, 0),
            *outside = window_test_find (lever, PM_TYPE_SPOT_VIEW, 1);

  gtk_test_accessible_assert_role (lever, GTK_ACCESSIBLE_ROLE_RADIO_GROUP);
  gtk_test_accessible_assert_property (lever, GTK_ACCESSIBLE_PROPERTY_LABEL, "S1 Start from");
  gtk_test_accessible_assert_role (inside, GTK_ACCESSIBLE_ROLE_RADIO);
  gtk_test_accessible_assert_property (inside, GTK_ACCESSIBLE_PROPERTY_LABEL, "inside");
  gtk_test_accessible_assert_state (inside, GTK_ACCESSIBLE_STATE_CHECKED, GTK_ACCESSIBLE_TRISTATE_TRUE);
  gtk_test_accessible_assert_state (outside, GTK_ACCESSIBLE_STATE_CHECKED, GTK_ACCESSIBLE_TRISTATE_FALSE);
  g_signal_emit_by_name (outside, "activate");
  gtk_test_accessible_assert_state (inside, GTK_ACCESSIBLE_STATE_CHECKED, GTK_ACCESSIBLE_TRISTATE_FALSE);
  gtk_test_accessible_assert_state (outside, GTK_ACCESSIBLE_STATE_CHECKED, GTK_ACCESSIBLE_TRISTATE_TRUE);
  window_test_close (window);
}

/* Every element of every plan has a focusable child with its sentence, inside the plan. */
static void
test_plans (void)
{
  static const char *const boards[] = {"swap-by-chip", "switched-on-one-side-only", "four-selects-coded",
                                       "jumper-only"};

  for (guint i = 0; i < G_N_ELEMENTS (boards); i++) {
    g_autofree char *path = window_test_board (boards[i]);
    PmWindow *window = window_test_open (path, 1280, 800);

    for (guint k = 0; k < window_test_count (window, PM_TYPE_PLAN_VIEW); k++) {
      PmPlanView *view = PM_PLAN_VIEW (window_test_find (window, PM_TYPE_PLAN_VIEW, k));
      const PmPlan *plan = pm_plan_view_get_plan (view);
      guint n = 0;

      gtk_test_accessible_assert_role (view, GTK_ACCESSIBLE_ROLE_IMG);
      for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (view)); child != NULL;
           child = gtk_widget_get_next_sibling (child)) {
        graphene_rect_t bounds;

        gtk_test_accessible_assert_role (child, GTK_ACCESSIBLE_ROLE_LIST_ITEM);
        gtk_test_accessible_assert_property (child, GTK_ACCESSIBLE_PROPERTY_LABEL, pm_plan_element (plan, n)->sentence);
        g_assert_true (gtk_widget_get_focusable (child));
        g_assert_true (gtk_widget_compute_bounds (child, GTK_WIDGET (view), &bounds));
        g_assert_cmpfloat (bounds.origin.x + bounds.size.width, <=, gtk_widget_get_width (GTK_WIDGET (view)) + 1);
        g_assert_cmpfloat (bounds.origin.y + bounds.size.height, <=, gtk_widget_get_height (GTK_WIDGET (view)) + 1);
        n++;
      }
      g_assert_cmpuint (n, ==, pm_plan_n_elements (plan));
      g_assert_cmpuint (n, >=, 2);
    }
    window_test_close (window);
  }
}

static void
test_findings (void)
{
  g_autofree char *path = window_test_board ("switched-on-one-side-only");
  PmWindow *window = window_test_open (path, 1280, 800);
  GtkWidget *list = window_test_find (window, PM_TYPE_FINDING_LIST, 0);
  GtkWidget *row = window_test_find (list, GTK_TYPE_LIST_BOX_ROW, 0);

  g_assert_nonnull (row);
  g_assert_true (gtk_test_accessible_has_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL));
  g_assert_true (gtk_list_box_row_is_selected (GTK_LIST_BOX_ROW (row)));
  gtk_test_accessible_assert_role (window_test_label (window, "Not ready: two drives answer SEL0"),
                                   GTK_ACCESSIBLE_ROLE_STATUS);
  gtk_test_accessible_assert_role (window_test_find (window, PM_TYPE_CARD, 0), GTK_ACCESSIBLE_ROLE_GROUP);
  window_test_close (window);
}

/* Nothing that can have the focus is without a name. */
static void
check_named (GtkWidget *widget)
{
  if (!gtk_widget_get_mapped (widget))
    return;
  if (gtk_widget_get_focusable (widget) &&
      (GTK_IS_BUTTON (widget) || PM_IS_SPOT_VIEW (widget) || GTK_IS_MENU_BUTTON (widget))) {
    gboolean named = gtk_test_accessible_has_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL)
                     || gtk_test_accessible_has_relation (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_RELATION_LABELLED_BY)
                     || window_test_find (widget, GTK_TYPE_LABEL, 0) != NULL;

    if (!named && gtk_widget_get_tooltip_text (widget) == NULL &&
        gtk_widget_get_ancestor (widget, GTK_TYPE_WINDOW_CONTROLS) == NULL &&
        gtk_widget_get_ancestor (widget, GTK_TYPE_DROP_DOWN) == NULL &&
        gtk_widget_get_ancestor (widget, GTK_TYPE_MENU_BUTTON) == NULL)
      g_error ("a %s without a name", G_OBJECT_TYPE_NAME (widget));
  }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    check_named (child);
}

static void
test_names (void)
{
  g_autofree char *path = window_test_board ("sixteen-settings");
  PmWindow *window = window_test_open (path, 1280, 800);

  check_named (GTK_WIDGET (window));
  window_test_action (window, "win.file");
  check_named (GTK_WIDGET (window));
  window_test_close (window);
}

/* The text has the verdict, every select of every result, and every finding. */
static void
test_twin (void)
{
  g_autofree char *path = window_test_board ("switched-on-one-side-only"), *text = NULL;
  PmWindow *window = window_test_open (path, 1280, 800);
  PmChoice *choice = pm_window_get_choice (window);
  const PmCheck *check = pm_choice_get_check (choice);

  text = pm_text_twin_text (choice, pm_window_get_shown_page (window));
  g_test_message ("%s", text);
  g_assert_nonnull (strstr (text, check->verdict_text));
  for (guint i = 1; i <= check->n_settings; i++)
    g_assert_nonnull (strstr (text, check->cases[i].title));
  for (guint i = 0; i < check->n_findings; i++) {
    g_assert_nonnull (strstr (text, check->findings[i].title));
    g_assert_nonnull (strstr (text, check->findings[i].because));
  }
  window_test_close (window);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/access/levers", test_levers);
  g_test_add_func ("/access/plans", test_plans);
  g_test_add_func ("/access/findings", test_findings);
  g_test_add_func ("/access/names", test_names);
  g_test_add_func ("/access/twin", test_twin);
  return window_test_run ();
}
