/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands around a page in every case, and the page's own words between. */
#include "config.h"
#include "pm-text-twin.h"
#include "pm-drawer.h"
#include <glib/gi18n.h>

struct _PmTextTwin {
  GtkWindow    parent;
  /* template */
  GtkTextView *view;
  /* owned */
  PmChoice    *choice;
  PmSession   *session;
  PmPage      *page;
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

char *
pm_text_twin_text (PmChoice *choice, PmPage *page)
{
  const PmCheck *check = pm_choice_get_check (choice);
  const PmBoard *board = pm_choice_get_board (choice);
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *shown = NULL;

  if (check == NULL)
    return g_strdup (_("No board is open."));
  g_string_append (text, board->title != NULL ? board->title : _("Board"));
  if (board->revision != NULL)
    g_string_append_printf (text, ", %s %s", _("revision"), board->revision);
  g_string_append_printf (text, "\n%s: %s\n%s: %s\n\n", _("Machine"), board->host.title, _("Hash"), board->hash);
  say (text, NULL, check->verdict_text);
  say (text, NULL, check->tried_text);
  say (text, NULL, check->not_checked_text);
  say (text, _("What to do"), check->what_to_do);

  shown = page != NULL ? pm_page_dup_text (page) : NULL;
  if (shown != NULL)
    g_string_append_printf (text, "\n%s", shown);

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
  g_autofree char *page = pm_text_twin_text (self->choice, self->page);
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
  g_clear_object (&PM_TEXT_TWIN (object)->page);
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
pm_text_twin_new (PmChoice *choice, PmSession *session, PmPage *page, GtkWindow *parent)
{
  PmTextTwin *self = g_object_new (PM_TYPE_TEXT_TWIN, "transient-for", parent, "destroy-with-parent", TRUE, NULL);
  GtkTextIter start;

  self->choice = g_object_ref (choice);
  self->session = g_object_ref (session);
  g_signal_connect_object (choice, "changed", G_CALLBACK (refresh), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "loaded", G_CALLBACK (refresh), self, G_CONNECT_SWAPPED);
  if (page != NULL) {
    self->page = g_object_ref (page);
    g_signal_connect_object (page, "text-changed", G_CALLBACK (refresh), self, G_CONNECT_SWAPPED);
  }
  refresh (self);
  gtk_text_buffer_get_start_iter (gtk_text_view_get_buffer (self->view), &start);
  gtk_text_buffer_place_cursor (gtk_text_view_get_buffer (self->view), &start);
  gtk_widget_grab_focus (GTK_WIDGET (self->view));
  return GTK_WIDGET (self);
}
