/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Takes its sentences from where the pictures take theirs, so that the two cannot differ. */
#include "config.h"
#include "pm-routes-text.h"
#include "pm-also-tried.h"
#include "pm-mark-view.h"
#include "pm-plan.h"
#include "pm-result-table.h"
#include <glib/gi18n.h>

gboolean
pm_routes_are_alone (const PmCheck *check)
{
  return !check->board->has_board && check->n_settings <= 1;
}

static void
say_case (GString *text, const PmCheck *check, guint index, const char *title, const PmStyle *style,
          PangoContext *context)
{
  const PmCaseResult *result = &check->cases[index];
  g_autoptr (PmPlan) plan = pm_plan_new (check, index, 480, 320, style, context);
  PmShows shows = pm_shows_case (check, index);
  const char *mark = shows == PM_SHOWS_STOP || shows == PM_SHOWS_CARE
                         ? pm_mark_severity_word ((PmSeverity)(shows - PM_SHOWS_STOP))
                         : NULL;

  g_string_append_printf (text, "\n%s\n", title);
  if (index != 0 && result->verdict != NULL)
    g_string_append_printf (text, "  %s%s%s\n", mark != NULL ? mark : "", mark != NULL ? ": " : "", result->verdict);
  for (guint i = 0; i < pm_plan_n_elements (plan); i++)
    g_string_append_printf (text, "  %s\n", pm_plan_element (plan, i)->sentence);
  if (index != 0 && result->changed != NULL && !pm_routes_are_alone (check))
    g_string_append_printf (text, "  %s: %s\n", _("Changed against without the board"), result->changed);
  if (result->side_text != NULL && *result->side_text != '\0')
    g_string_append_printf (text, "  %s\n", result->side_text);
  if (result->caption != NULL)
    g_string_append_printf (text, "  %s\n", result->caption);
}

static void
say_result (GString *text, PmChoice *choice, const PmCheck *check, guint index, const PmStyle *style,
            PangoContext *context)
{
  const PmResult *result = &check->results[index];
  guint chosen = pm_choice_get_chosen (choice);
  gboolean has_chosen = check->cases[chosen].result == index;
  guint setting = has_chosen ? chosen : g_array_index (result->settings, guint, 0);
  g_autoptr (GString) title = g_string_new (check->cases[setting].title);

  if (has_chosen)
    g_string_append_printf (title, " (%s)", _("chosen"));
  for (guint i = 0; i < result->settings->len; i++) {
    guint other = g_array_index (result->settings, guint, i);

    if (other != setting)
      g_string_append_printf (title, "; %s %s", _("the same:"), check->cases[other].name);
  }
  say_case (text, check, setting, title->str, style, context);
}

static void
say_also_tried (GString *text, const PmCheck *check, guint setting)
{
  gboolean any = FALSE;

  for (guint i = 0; i < check->n_cases; i++) {
    const PmCaseResult *result = &check->cases[i];

    if (!pm_case_is_variation_of (check, i, setting))
      continue;
    if (!any)
      g_string_append_printf (text, "\n%s: %s\n", _("Also tried in"), check->cases[setting].name);
    any = TRUE;
    g_string_append_printf (text, "  %s: %s\n", result->name, pm_variation_verdict (check, i));
  }
}

char *
pm_routes_text (PmChoice *choice, PangoContext *context)
{
  const PmCheck *check = pm_choice_get_check (choice);
  g_autoptr (PmStyle) style = NULL;
  g_autoptr (GString) text = g_string_new (NULL);

  if (check == NULL)
    return g_strdup ("");
  style = pm_style_new (PM_SCHEME_PAPER, NULL, 1);
  g_string_append_printf (text, "%s\n", _("WHAT EACH SELECT REACHES"));
  if (!pm_routes_are_alone (check))
    say_case (text, check, 0, _("Without the board"), style, context);
  for (guint i = 0; i < check->n_results; i++)
    say_result (text, choice, check, i, style, context);
  for (guint i = 1; i <= check->n_settings; i++)
    say_also_tried (text, check, i);
  return g_string_free (g_steal_pointer (&text), FALSE);
}
