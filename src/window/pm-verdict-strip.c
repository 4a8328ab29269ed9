/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Says what the check says and judges nothing. */
#include "config.h"
#include "pm-verdict-strip.h"
#include "pm-mark-view.h"
#include "pm-row-layout.h"
#include <glib/gi18n.h>

struct _PmVerdictStrip {
  GtkBox       parent;
  /* template */
  GtkBox      *mark_place;
  GtkLabel    *sentence;
  GtkLabel    *tried;
  GtkWidget   *more;
  GtkWidget   *what_to_do;
  GtkWidget   *findings;
  /* borrowed */
  PmMarkView  *mark;
};

static guint what_to_do_signal;

G_DEFINE_FINAL_TYPE (PmVerdictStrip, pm_verdict_strip, GTK_TYPE_BOX)

static const PmShows verdict_marks[PM_N_VERDICTS] = {
    [PM_VERDICT_NOT_READY] = PM_SHOWS_STOP, [PM_VERDICT_NO_VERDICT] = PM_SHOWS_DOUBT,
    [PM_VERDICT_READY_IF] = PM_SHOWS_CARE,  [PM_VERDICT_ROUTES_RIGHT] = PM_SHOWS_TICK,
    [PM_VERDICT_READY] = PM_SHOWS_TICK,
};

/* The second line is always there in a wide window; in a narrow one when it is asked for. */
static void
show_tried (PmVerdictStrip *self)
{
  gboolean wanted =
      !gtk_widget_get_visible (self->more) || gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->more));

  gtk_widget_set_visible (GTK_WIDGET (self->tried), wanted && *gtk_label_get_text (self->tried) != '\0');
}

static void
more_toggled_cb (GtkToggleButton *button, PmVerdictStrip *self)
{
  show_tried (self);
}

static void
what_to_do_clicked_cb (GtkButton *button, PmVerdictStrip *self)
{
  g_signal_emit (self, what_to_do_signal, 0);
}

static void
pm_verdict_strip_class_init (PmVerdictStripClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (PM_TYPE_ROW_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-verdict-strip.ui");
  gtk_widget_class_bind_template_child (widget_class, PmVerdictStrip, mark_place);
  gtk_widget_class_bind_template_child (widget_class, PmVerdictStrip, sentence);
  gtk_widget_class_bind_template_child (widget_class, PmVerdictStrip, tried);
  gtk_widget_class_bind_template_child (widget_class, PmVerdictStrip, more);
  gtk_widget_class_bind_template_child (widget_class, PmVerdictStrip, what_to_do);
  gtk_widget_class_bind_template_child (widget_class, PmVerdictStrip, findings);
  gtk_widget_class_bind_template_callback (widget_class, more_toggled_cb);
  gtk_widget_class_bind_template_callback (widget_class, what_to_do_clicked_cb);
  what_to_do_signal =
      g_signal_new ("what-to-do", PM_TYPE_VERDICT_STRIP, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pm_verdict_strip_init (PmVerdictStrip *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->mark = PM_MARK_VIEW (pm_mark_view_new (PM_SHOWS_NOTHING));
  pm_mark_view_set_size (self->mark, 1.35);
  gtk_box_append (self->mark_place, GTK_WIDGET (self->mark));
}

static void
say (PmVerdictStrip *self, PmShows mark, const char *sentence, const char *tried)
{
  pm_mark_view_set_shows (self->mark, mark);
  gtk_label_set_text (self->sentence, sentence);
  gtk_label_set_text (self->tried, tried);
  show_tried (self);
}

static void
append (GString *text, const char *sentence)
{
  if (sentence == NULL || *sentence == '\0')
    return;
  if (text->len > 0)
    g_string_append_c (text, ' ');
  g_string_append (text, sentence);
}

/* "1 stop, 2 cares." */
static char *
counts_text (const PmCheck *check)
{
  g_autoptr (GString) text = g_string_new (NULL);

  if (check->n_findings == 0)
    return g_strdup (_("Nothing was found."));
  for (guint i = 0; i < PM_N_SEVERITIES; i++) {
    guint n = check->counts[i];
    g_autofree char *count = NULL;

    if (n == 0)
      continue;
    if (i == PM_SEVERITY_STOP)
      count = g_strdup_printf (ngettext ("%u stop", "%u stops", n), n);
    else if (i == PM_SEVERITY_CARE)
      count = g_strdup_printf (ngettext ("%u care", "%u cares", n), n);
    else
      count = g_strdup_printf (ngettext ("%u note", "%u notes", n), n);
    g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", count);
  }
  g_string_append_c (text, '.');
  return g_string_free (g_steal_pointer (&text), FALSE);
}

void
pm_verdict_strip_show_check (PmVerdictStrip *self, const PmCheck *check)
{
  g_autoptr (GString) tried = g_string_new (NULL);
  g_autofree char *counts = NULL;

  g_return_if_fail (PM_IS_VERDICT_STRIP (self));
  counts = counts_text (check);
  append (tried, counts);
  append (tried, check->tried_text);
  append (tried, check->not_checked_text);
  say (self, verdict_marks[check->verdict], check->verdict_text, tried->str);
  gtk_widget_set_visible (self->what_to_do, check->n_findings > 0 || check->what_to_do != NULL);
  gtk_widget_set_tooltip_text (self->what_to_do, check->what_to_do);
}

char *
pm_fault_where (const PmFault *fault)
{
  if (fault->spot.line == 0)
    return g_strdup (_("the file"));
  if (fault->spot.other_line != 0)
    return g_strdup_printf (_("lines %u and %u"), fault->spot.line, fault->spot.other_line);
  return g_strdup_printf (_("line %u"), fault->spot.line);
}

char *
pm_fault_sentence (const PmFault *fault)
{
  g_autofree char *where = pm_fault_where (fault);

  return g_strdup_printf ("%s: %s", where, fault->message);
}

void
pm_verdict_strip_show_faults (PmVerdictStrip *self, const PmFaults *faults)
{
  const PmFault *first;
  g_autofree char *where = NULL, *sentence = NULL, *more = NULL;
  guint others;

  g_return_if_fail (PM_IS_VERDICT_STRIP (self));
  if (pm_faults_count (faults) == 0) {
    say (self, PM_SHOWS_DOUBT, _("No verdict: the file cannot be read"), "");
    return;
  }
  first = pm_faults_get (faults, 0);
  others = pm_faults_count (faults) - 1;
  where = pm_fault_where (first);
  sentence = g_strdup_printf (_("No verdict: %s cannot be read"), where);
  more = others == 0 ? g_strdup (first->message)
                     : g_strdup_printf (ngettext ("%s And %u more fault.", "%s And %u more faults.", others),
                                        first->message, others);
  say (self, PM_SHOWS_DOUBT, sentence, more);
  gtk_widget_set_visible (self->what_to_do, TRUE);
  gtk_widget_set_tooltip_text (self->what_to_do, _("Opens the file at the first fault"));
}

void
pm_verdict_strip_set_narrow (PmVerdictStrip *self, gboolean narrow)
{
  g_return_if_fail (PM_IS_VERDICT_STRIP (self));
  gtk_widget_set_visible (self->more, narrow);
  show_tried (self);
}

void
pm_verdict_strip_set_findings (PmVerdictStrip *self, const char *label)
{
  g_return_if_fail (PM_IS_VERDICT_STRIP (self));
  if (label != NULL)
    gtk_button_set_label (GTK_BUTTON (self->findings), label);
  gtk_widget_set_visible (self->findings, label != NULL);
}

const char *
pm_verdict_strip_get_sentence (PmVerdictStrip *self)
{
  g_return_val_if_fail (PM_IS_VERDICT_STRIP (self), NULL);
  return gtk_label_get_text (self->sentence);
}
