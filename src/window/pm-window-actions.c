/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be done in the window, and when.  Keys for it stand in pm-shortcuts.c. */
#include "config.h"
#include "pm-window-private.h"
#include "pm-help.h"
#include "pm-mark.h"
#include "pm-text-twin.h"
#include <glib/gi18n.h>

typedef void (*Action) (PmWindow *self);

static void
close_window (PmWindow *self)
{
  gtk_window_close (GTK_WINDOW (self));
}

static void
reload (PmWindow *self)
{
  pm_session_reload (self->session);
}

static void
cancel (PmWindow *self)
{
  pm_session_cancel (self->session);
}

static void
next_setting (PmWindow *self)
{
  pm_choice_step_setting (self->choice, 1);
}

static void
setting_before (PmWindow *self)
{
  pm_choice_step_setting (self->choice, -1);
}

/* While the file is bad its faults are what is to be gone through. */
static void
step_fault (PmWindow *self, const PmFaults *faults, int step)
{
  gboolean shown = gtk_widget_get_visible (GTK_WIDGET (self->drawer)) && pm_drawer_is_file (self->drawer);
  int n = (int) pm_faults_count (faults);
  g_autofree char *text = NULL;

  if (n == 0)
    return;
  pm_window_go_to_fault (self, (guint) (shown ? ((int) self->fault + step + n) % n : (int) self->fault));
  text = pm_fault_sentence (pm_faults_get (faults, self->fault));
  pm_window_announce (self, text, FALSE);
}

static void
step_finding (PmWindow *self, int step)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  const PmFaults *faults = pm_session_get_faults (self->session);
  g_autofree char *text = NULL;
  int finding;

  if (faults != NULL) {
    step_fault (self, faults, step);
    return;
  }
  pm_choice_step_finding (self->choice, step);
  if (!gtk_widget_get_visible (GTK_WIDGET (self->drawer)))
    pm_drawer_show_finding (self->drawer);
  pm_window_show_drawer (self, TRUE);
  finding = pm_choice_get_finding (self->choice);
  if (finding < 0)
    return;
  text = g_strdup_printf ("%s: %s", pm_mark_severity_word (check->findings[finding].severity),
                          check->findings[finding].title);
  pm_window_announce (self, text, FALSE);
}

static void
next_finding (PmWindow *self)
{
  step_finding (self, 1);
}

static void
finding_before (PmWindow *self)
{
  step_finding (self, -1);
}

/* The file, and once more: what was there before. */
static void
toggle_file (PmWindow *self)
{
  gboolean shown = gtk_widget_get_visible (GTK_WIDGET (self->drawer));
  const PmCheck *check = pm_choice_get_check (self->choice);
  int finding = pm_choice_get_finding (self->choice);
  const char *path = pm_session_get_path (self->session);
  guint line = 0;

  if (shown && pm_drawer_is_file (self->drawer)) {
    pm_window_show_drawer (self, FALSE);
    pm_window_focus_first (self);
    return;
  }
  if (pm_session_get_faults (self->session) != NULL) {
    pm_window_go_to_fault (self, self->fault);
  } else {
    if (finding >= 0 && check->findings[finding].n_spots > 0 &&
        pm_spot_is_in_file (check->findings[finding].spots[0], path))
      line = check->findings[finding].spots[0].line;
    pm_drawer_show_file (self->drawer, path, line);
    pm_window_show_drawer (self, TRUE);
  }
  pm_drawer_focus (self->drawer);
}

static void
show_text_twin (PmWindow *self)
{
  gtk_window_present (GTK_WINDOW (pm_text_twin_new (self->choice, self->session, pm_window_get_shown_page (self),
                                                     GTK_WINDOW (self))));
}

static void
show_shortcuts (PmWindow *self)
{
  pm_help_show (GTK_WINDOW (self), "keys");
}

static void
show_help (PmWindow *self)
{
  pm_help_show (GTK_WINDOW (self), "words");
}

/* One thing at a time: what is tried, the sheet, the drawer. */
static void
back (PmWindow *self)
{
  if (self->narrow && self->sheet_open)
    pm_window_toggle_pane (self);
  else if (pm_window_get_shown_page (self) != NULL && pm_page_back (pm_window_get_shown_page (self)))
    return;
  else if (gtk_widget_get_visible (GTK_WIDGET (self->drawer))) {
    pm_window_show_drawer (self, FALSE);
    pm_window_focus_first (self);
  }
}

/* Areas in order: verdict, switches and findings, page, drawer. */
static void
move_area (PmWindow *self, int step)
{
  GtkWidget *areas[] = {GTK_WIDGET (self->verdict), self->strip_scroller, self->pane, GTK_WIDGET (self->pages),
                        GTK_WIDGET (self->drawer)};
  int n = G_N_ELEMENTS (areas), now = -1;
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));

  for (int i = 0; i < n && focus != NULL; i++)
    if (gtk_widget_is_ancestor (focus, areas[i]))
      now = i;
  if (now < 0)
    now = step > 0 ? -1 : n;
  for (int tried = 0; tried < n; tried++) {
    now = (now + step + n) % n;
    if (!gtk_widget_get_mapped (areas[now]) ||
        (gtk_widget_is_ancestor (areas[now], GTK_WIDGET (self->paned)) &&
         !gtk_widget_get_can_focus (GTK_WIDGET (self->paned))))
      continue;
    if (areas[now] == GTK_WIDGET (self->drawer)) {
      pm_drawer_focus (self->drawer);
      return;
    }
    if (areas[now] == GTK_WIDGET (self->pages) && pm_choice_get_check (self->choice) != NULL &&
        pm_window_focus_page (self))
      return;
    if (gtk_widget_child_focus (areas[now], GTK_DIR_TAB_FORWARD))
      return;
  }
}

static void
next_area (PmWindow *self)
{
  move_area (self, 1);
}

static void
area_before (PmWindow *self)
{
  move_area (self, -1);
}

typedef enum { ALWAYS, WITH_FILE, WITH_CHECK, WITH_FINDINGS } When;

static const struct { const char *name; Action action; When when; } actions[] = {
  { "win.open", pm_window_choose_file, ALWAYS },
  { "win.close", close_window, ALWAYS },
  { "win.help", show_help, ALWAYS },
  { "win.shortcuts", show_shortcuts, ALWAYS },
  { "win.reload", reload, WITH_FILE },
  { "win.cancel", cancel, ALWAYS },
  { "win.file", toggle_file, WITH_FILE },
  { "win.text-twin", show_text_twin, WITH_CHECK },
  { "win.print", pm_window_print, WITH_CHECK },
  { "win.copy-routes", pm_window_copy_routes, WITH_CHECK },
  { "win.save-picture", pm_window_save_picture, WITH_CHECK },
  { "win.save-lists", pm_window_save_lists, WITH_CHECK },
  { "win.pane", pm_window_toggle_pane, WITH_CHECK },
  { "win.setting-next", next_setting, WITH_CHECK },
  { "win.setting-before", setting_before, WITH_CHECK },
  { "win.finding-next", next_finding, WITH_FINDINGS },
  { "win.finding-before", finding_before, WITH_FINDINGS },
  { "win.area-next", next_area, ALWAYS },
  { "win.area-before", area_before, ALWAYS },
  { "win.back", back, ALWAYS },
};

static void
activate (GtkWidget *widget, const char *name, GVariant *parameter)
{
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    if (g_str_equal (actions[i].name, name))
      actions[i].action (PM_WINDOW (widget));
}

void
pm_window_class_init_actions (GtkWidgetClass *widget_class)
{
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    gtk_widget_class_install_action (widget_class, actions[i].name, NULL, activate);
}

void
pm_window_update_actions (PmWindow *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  const PmFaults *faults = pm_session_get_faults (self->session);
  gboolean enabled[] = {
    [ALWAYS] = TRUE,
    [WITH_FILE] = pm_session_get_path (self->session) != NULL,
    [WITH_CHECK] = check != NULL,
    [WITH_FINDINGS] = faults != NULL ? pm_faults_count (faults) > 0 : check != NULL && check->n_findings > 0,
  };

  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    gtk_widget_action_set_enabled (GTK_WIDGET (self), actions[i].name, enabled[actions[i].when]);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.page", enabled[WITH_CHECK]);
  gtk_widget_set_visible (self->pages_box, enabled[WITH_FILE]);
  gtk_widget_set_sensitive (self->print, enabled[WITH_CHECK]);
  gtk_widget_set_sensitive (self->share, enabled[WITH_CHECK]);
}
