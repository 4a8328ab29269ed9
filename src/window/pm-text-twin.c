/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Takes its sentences from where the pictures take theirs, so that the two cannot differ. */
#include "config.h"
#include "pm-text-twin.h"
#include "pm-also-tried.h"
#include "pm-drawer.h"
#include "pm-mark-view.h"
#include "pm-plan.h"
#include "pm-result-table.h"
#include <glib/gi18n.h>

struct _PmTextTwin {
  GtkWindow    parent;
  /* template */
  GtkTextView *view;
  /* owned */
  PmChoice    *choice;
  PmSession   *session;
};

G_DEFINE_FINAL_TYPE (PmTextTwin, pm_text_twin, GTK_TYPE_WINDOW)

static void
say (GString *text, const char *name, const char *value)
{
  if (value == NULL || *value == '\0')
    return;
  if (name != NULL)
    g_string_append_printf (text, "%s: %s\n", name, value);
  else
    g_string_append_printf (text, "%s\n", value);
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
  if (index != 0 && result->changed != NULL)
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
    g_string_append_printf (text, "  %s: %s\n", result->name,
                            result->verdict != NULL ? result->verdict : _("nothing to say"));
  }
}

char *
pm_text_twin_text (PmChoice *choice, PangoContext *context)
{
  const PmCheck *check = pm_choice_get_check (choice);
  const PmBoard *board = pm_choice_get_board (choice);
  g_autoptr (PmStyle) style = NULL;
  g_autoptr (GString) text = g_string_new (NULL);

  if (check == NULL)
    return g_strdup (_("No board is open."));
  style = pm_style_new (PM_SCHEME_PAPER, NULL, 1);
  g_string_append (text, board->title != NULL ? board->title : _("Board"));
  if (board->revision != NULL)
    g_string_append_printf (text, ", %s %s", _("revision"), board->revision);
  g_string_append_printf (text, "\n%s: %s\n%s: %s\n\n", _("Machine"), board->host.title, _("Hash"), board->hash);
  say (text, NULL, check->verdict_text);
  say (text, NULL, check->tried_text);
  say (text, NULL, check->not_checked_text);
  say (text, _("What to do"), check->what_to_do);

  g_string_append_printf (text, "\n%s\n", _("WHAT EACH SELECT REACHES"));
  say_case (text, check, 0, _("Without the board"), style, context);
  for (guint i = 0; i < check->n_results; i++)
    say_result (text, choice, check, i, style, context);
  for (guint i = 1; i <= check->n_settings; i++)
    say_also_tried (text, check, i);

  g_string_append_printf (text, "\n%s\n\n", _("FINDINGS"));
  if (check->n_findings == 0)
    say (text, NULL, _("Nothing was found."));
  for (guint i = 0; i < check->n_findings; i++) {
    g_autofree char *finding = pm_finding_to_text (&check->findings[i]);

    g_string_append_printf (text, "%u. %s\n", i + 1, finding);
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* What the window shows: the page, under the faults of the file where the last reading of it failed. */
static char *
whole_text (PmTextTwin *self)
{
  const PmFaults *faults = pm_session_get_faults (self->session);
  g_autofree char *page = pm_text_twin_text (self->choice, gtk_widget_get_pango_context (GTK_WIDGET (self->view)));
  g_autoptr (GString) text = g_string_new (NULL);

  if (faults == NULL || pm_faults_count (faults) == 0)
    return g_steal_pointer (&page);
  g_string_append_printf (text, "%s\n\n", _("No verdict: the file cannot be read."));
  for (guint i = 0; i < pm_faults_count (faults); i++) {
    g_autofree char *line = pm_fault_to_text (pm_faults_get (faults, i));

    g_string_append_printf (text, "%s\n", line);
  }
  if (pm_choice_get_check (self->choice) != NULL)
    g_string_append_printf (text, "\n%s\n\n%s", _("Below: as it was before that went wrong. It does not hold now."),
                            page);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
refresh (PmTextTwin *self)
{
  g_autofree char *text = whole_text (self);

  gtk_text_buffer_set_text (gtk_text_view_get_buffer (self->view), text, -1);
}

static void
copy_cb (GtkButton *button, PmTextTwin *self)
{
  g_autofree char *text = whole_text (self);

  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), text);
}

static void
pm_text_twin_dispose (GObject *object)
{
  g_clear_object (&PM_TEXT_TWIN (object)->choice);
  g_clear_object (&PM_TEXT_TWIN (object)->session);
  G_OBJECT_CLASS (pm_text_twin_parent_class)->dispose (object);
}

static void
pm_text_twin_class_init (PmTextTwinClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_text_twin_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-text-twin.ui");
  gtk_widget_class_bind_template_child (widget_class, PmTextTwin, view);
  gtk_widget_class_bind_template_callback (widget_class, copy_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_w, GDK_CONTROL_MASK, "window.close", NULL);
}

static void
pm_text_twin_init (PmTextTwin *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
pm_text_twin_new (PmChoice *choice, PmSession *session, GtkWindow *parent)
{
  PmTextTwin *self = g_object_new (PM_TYPE_TEXT_TWIN, "transient-for", parent, "destroy-with-parent", TRUE, NULL);
  GtkTextIter start;

  self->choice = g_object_ref (choice);
  self->session = g_object_ref (session);
  g_signal_connect_object (choice, "changed", G_CALLBACK (refresh), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "loaded", G_CALLBACK (refresh), self, G_CONNECT_SWAPPED);
  refresh (self);
  gtk_text_buffer_get_start_iter (gtk_text_view_get_buffer (self->view), &start);
  gtk_text_buffer_place_cursor (gtk_text_view_get_buffer (self->view), &start);
  gtk_widget_grab_focus (GTK_WIDGET (self->view));
  return GTK_WIDGET (self);
}
