/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is in the window: opening by dialog, drop or list, and what a load that ends well or badly shows. */
#include "config.h"
#include "pm-window-private.h"
#include "pm-file-list.h"
#include "pm-look.h"
#include <glib/gi18n.h>

#define PATIENCE_MS 500    /* work that takes longer shows that it goes on and can be cancelled */
#define BLANK_MS 150       /* a window may come this much later if it then has its board */
#define DRAWER_FROM_TABLE 720 /* a table needs more of the page */
#define DRAWER_FROM 560    /* height of the window from which the first finding opens by itself */

static gboolean
still_busy_cb (gpointer data)
{
  PmWindow *self = data;

  self->busy_id = 0;
  gtk_widget_set_visible (self->spinner, TRUE);
  gtk_spinner_start (GTK_SPINNER (self->spinner));
  gtk_widget_set_visible (self->cancel, TRUE);
  pm_window_announce (self, _("Checking…"), FALSE);
  return G_SOURCE_REMOVE;
}

static gboolean
present_cb (gpointer data)
{
  PmWindow *self = data;

  self->present_id = 0;
  gtk_window_present (GTK_WINDOW (self));
  return G_SOURCE_REMOVE;
}

void
pm_window_present_ready (PmWindow *self)
{
  g_return_if_fail (PM_IS_WINDOW (self));
  if (gtk_widget_get_mapped (GTK_WIDGET (self)) || !pm_session_get_busy (self->session))
    gtk_window_present (GTK_WINDOW (self));
  else if (self->present_id == 0)
    self->present_id = g_timeout_add (BLANK_MS, present_cb, self);
}

static void
busy_cb (PmSession *session, GParamSpec *pspec, PmWindow *self)
{
  if (pm_session_get_busy (session)) {
    if (self->busy_id == 0)
      self->busy_id = g_timeout_add (PATIENCE_MS, still_busy_cb, self);
    return;
  }
  g_clear_handle_id (&self->busy_id, g_source_remove);
  gtk_spinner_stop (GTK_SPINNER (self->spinner));
  gtk_widget_set_visible (self->spinner, FALSE);
  gtk_widget_set_visible (self->cancel, FALSE);
  if (pm_session_get_study (session) == NULL && pm_session_get_faults (session) == NULL)
    gtk_stack_set_visible_child_name (self->stack, "start"); /* cancelled before there was anything */
  if (self->present_id != 0) {
    g_clear_handle_id (&self->present_id, g_source_remove);
    gtk_window_present (GTK_WINDOW (self));
  }
}

static void
fill_title (PmWindow *self)
{
  const char *path = pm_session_get_path (self->session);
  const PmBoard *board = pm_choice_get_board (self->choice);
  g_autofree char *name = path != NULL ? g_path_get_basename (path) : NULL, *title = NULL, *subtitle = NULL,
                  *more = NULL, *whole = NULL;

  if (board != NULL && board->title != NULL)
    title = board->revision != NULL ? g_strdup_printf (_("%s, rev %s"), board->title, board->revision)
                                    : g_strdup (board->title);
  else
    title = g_strdup (name != NULL ? name : _("Pointsman"));
  if (board != NULL)
    subtitle = g_strdup_printf ("%s · %s", board->host.title != NULL ? board->host.title : board->host.name, name);
  gtk_label_set_text (self->title, title);
  gtk_label_set_text (self->subtitle, subtitle != NULL ? subtitle : "");
  more = subtitle != NULL ? g_strdup_printf ("%s\n%s", title, subtitle) : NULL;
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->title), more);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->subtitle), more);
  pm_window_arrange (self);
  whole = name != NULL ? g_strdup_printf ("%s – %s", title, _("Pointsman")) : g_strdup (_("Pointsman"));
  gtk_window_set_title (GTK_WINDOW (self), whole);
}

static void
add_recent (const char *path)
{
  g_autofree char *full = g_canonicalize_filename (path, NULL), *uri = g_filename_to_uri (full, NULL, NULL);
  char groups[] = PM_RECENT_APP;
  char *group_list[] = { groups, NULL };
  GtkRecentData data = {NULL,       NULL, (char *)PM_BOARD_TYPE, (char *)PM_RECENT_APP, (char *)"pointsman %f",
                        group_list, FALSE};

  if (uri != NULL)
    gtk_recent_manager_add_full (gtk_recent_manager_get_default (), uri, &data);
}

/* The worst finding opens by itself if it is one to act on and the page keeps enough room beside it; without that room
 * at least its setting is chosen. */
static void
loaded_first (PmWindow *self, const PmCheck *check)
{
  gboolean open = check->n_findings > 0 && check->findings[0].severity <= PM_SEVERITY_CARE, act = open;
  int height = gtk_widget_get_height (GTK_WIDGET (self)), default_width, default_height;

  gtk_window_get_default_size (GTK_WINDOW (self), &default_width, &default_height);
  height = (int) ((height > 0 ? height : default_height) / pm_look_text_scale (GTK_WIDGET (self)));
  open &= height >= (pm_routes_page_is_table (self->routes) ? DRAWER_FROM_TABLE : DRAWER_FROM);
  if (open) {
    pm_choice_set_finding (self->choice, 0);
    pm_drawer_show_finding (self->drawer);
  } else if (act) {
    pm_choice_show_case (self->choice, check->findings[0].case_index);
  }
  pm_window_show_drawer (self, open);
  self->sheet_open = FALSE;
  add_recent (pm_session_get_path (self->session));
}

static void
show_good (PmWindow *self)
{
  PmStudy *study = pm_session_get_study (self->session);
  const PmCheck *check = pm_study_get_check (study);
  gboolean fresh = self->fresh || pm_choice_get_study (self->choice) == NULL;

  self->fresh = FALSE;
  pm_choice_set_study (self->choice, study, fresh);
  pm_drawer_set_source (self->drawer, pm_session_get_path (self->session), NULL);
  pm_verdict_strip_show_check (self->verdict, check);
  pm_window_set_page (self, fresh ? "routes" : self->page);
  gtk_stack_set_visible_child_name (self->stack, "board");
  if (fresh) {
    loaded_first (self, check);
  } else {
    if (self->finding_waits && pm_choice_get_finding (self->choice) >= 0)
      pm_drawer_show_finding (self->drawer);
    if (pm_choice_get_finding (self->choice) < 0 && (self->finding_waits || !pm_drawer_is_file (self->drawer)))
      pm_window_show_drawer (self, FALSE);
    pm_window_announce (self, _("The file has changed and was checked again."), TRUE);
  }
  self->finding_waits = FALSE;
  pm_window_arrange_now (self);
  if (fresh)
    pm_window_focus_first (self);
}

void
pm_window_go_to_fault (PmWindow *self, guint fault)
{
  const PmFaults *faults = pm_session_get_faults (self->session);
  guint n = faults != NULL ? pm_faults_count (faults) : 0;

  self->fault = fault < n ? fault : 0;
  pm_drawer_show_fault (self->drawer, n > 0 ? pm_faults_get (faults, self->fault) : NULL);
  pm_window_show_drawer (self, TRUE);
}

/* The first opening fails: the faults are the page.  A good file turns bad: its last good picture stays, and says so.
 */
static void
show_bad (PmWindow *self, const PmFaults *faults)
{
  PmStudy *study = pm_choice_get_study (self->choice);
  const char *path = pm_session_get_path (self->session);

  if (self->fresh && study != NULL) {
    pm_choice_set_study (self->choice, NULL, TRUE);
    study = NULL;
  }
  self->fresh = study == NULL;
  self->fault = 0;
  pm_drawer_set_source (self->drawer, path, faults);
  pm_verdict_strip_show_faults (self->verdict, faults);
  if (study != NULL) {
    g_autofree char *time = pm_study_dup_time (study);
    g_autofree char *where =
        pm_faults_count (faults) > 0 ? pm_fault_where (pm_faults_get (faults, 0)) : g_strdup (_("the file"));
    g_autofree char *text = g_strdup_printf (_("as it was at %s, before %s went wrong"), time, where);

    pm_choice_set_stale (self->choice, text, pm_faults_count (faults));
    pm_finding_list_set_faults (self->findings, path, faults);
    /* What an open drawer said holds no more; where the file broke does. */
    if (gtk_widget_get_visible (GTK_WIDGET (self->drawer))) {
      self->finding_waits |= !pm_drawer_is_file (self->drawer);
      pm_window_go_to_fault (self, 0);
    }
  } else {
    pm_faults_page_show (self->faults, path, faults);
    pm_window_show_faults_page (self);
    pm_window_go_to_fault (self, 0);
  }
  gtk_stack_set_visible_child_name (self->stack, "board");
  pm_window_announce (self, pm_verdict_strip_get_sentence (self->verdict), FALSE);
  pm_window_arrange (self);
  if (study == NULL)
    pm_faults_page_focus (self->faults);
}

static void
loaded_cb (PmSession *session, PmWindow *self)
{
  const PmFaults *faults = pm_session_get_faults (session);

  if (faults != NULL) {
    show_bad (self, faults);
  } else if (pm_session_get_study (session) != NULL) {
    show_good (self);
  } else {
    pm_choice_set_study (self->choice, NULL, TRUE);
    gtk_stack_set_visible_child_name (self->stack, "start");
  }
  fill_title (self);
  pm_window_update_actions (self);
}

void
pm_window_open (PmWindow *self, const char *path)
{
  g_autofree char *folder = NULL;

  g_return_if_fail (PM_IS_WINDOW (self));
  self->fresh = TRUE;
  if (self->settings != NULL) {
    g_autofree char *full = g_canonicalize_filename (path, NULL);

    folder = g_path_get_dirname (full);
    g_settings_set_string (self->settings, "folder", folder);
  }
  pm_drawer_set_source (self->drawer, NULL, NULL);
  pm_session_open (self->session, path);
  fill_title (self);
}

static void
open_file (PmWindow *self, GFile *file)
{
  g_autofree char *path = g_file_get_path (file);

  if (path != NULL)
    pm_window_open (self, path);
  else
    pm_window_announce (self, _("Only files on this machine can be opened."), TRUE);
}

static void
response_cb (GtkNativeDialog *dialog, int response, PmWindow *self)
{
  g_autoptr (GFile) file =
      response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;

  if (file != NULL)
    open_file (self, file);
  g_clear_object (&self->dialog);
}

static void
add_filter (GtkFileChooser *chooser, const char *name, const char *pattern)
{
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, name);
  gtk_file_filter_add_pattern (filter, pattern);
  gtk_file_chooser_add_filter (chooser, filter);
}

void
pm_window_choose_file (PmWindow *self)
{
  g_autofree char *folder = self->settings != NULL ? g_settings_get_string (self->settings, "folder") : NULL;

  if (self->dialog != NULL) {
    gtk_native_dialog_show (self->dialog);
    return;
  }
  self->dialog = GTK_NATIVE_DIALOG (
      gtk_file_chooser_native_new (_("Open a board"), GTK_WINDOW (self), GTK_FILE_CHOOSER_ACTION_OPEN, NULL, NULL));
  gtk_native_dialog_set_modal (self->dialog, TRUE);
  add_filter (GTK_FILE_CHOOSER (self->dialog), _("Boards"), "*.board.xml");
  add_filter (GTK_FILE_CHOOSER (self->dialog), _("All files"), "*");
  if (folder != NULL && *folder != '\0' && g_file_test (folder, G_FILE_TEST_IS_DIR)) {
    g_autoptr (GFile) where = g_file_new_for_path (folder);

    gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (self->dialog), where, NULL);
  }
  g_signal_connect (self->dialog, "response", G_CALLBACK (response_cb), self);
  gtk_native_dialog_show (self->dialog);
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, PmWindow *self)
{
  GdkFileList *list = g_value_get_boxed (value);
  GSList *files = list != NULL ? gdk_file_list_get_files (list) : NULL;
  GFile *first = files != NULL ? files->data : NULL;

  if (first != NULL)
    open_file (self, first);
  g_slist_free (files);
  return first != NULL;
}

static GdkDragAction
drag_enter_cb (GtkDropTarget *target, double x, double y, PmWindow *self)
{
  gtk_widget_add_css_class (GTK_WIDGET (self->stack), "drop-here");
  return GDK_ACTION_COPY;
}

static void
drag_leave_cb (GtkDropTarget *target, PmWindow *self)
{
  gtk_widget_remove_css_class (GTK_WIDGET (self->stack), "drop-here");
}

static void
fault_activated_cb (PmFaultsPage *page, guint fault, PmWindow *self)
{
  pm_window_go_to_fault (self, fault);
  pm_drawer_focus (self->drawer);
}

static void
what_to_do_cb (PmVerdictStrip *strip, PmWindow *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);

  if (pm_session_get_faults (self->session) != NULL) {
    pm_window_go_to_fault (self, 0);
  } else if (check != NULL && check->n_findings > 0) {
    pm_choice_set_finding (self->choice, 0);
    pm_drawer_show_finding (self->drawer);
    pm_window_show_drawer (self, TRUE);
  } else if (check != NULL && check->what_to_do != NULL) {
    pm_window_announce (self, check->what_to_do, TRUE);
    return;
  }
  pm_drawer_focus (self->drawer);
}

void
pm_window_init_open (PmWindow *self)
{
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  g_signal_connect (self->session, "loaded", G_CALLBACK (loaded_cb), self);
  g_signal_connect (self->session, "notify::busy", G_CALLBACK (busy_cb), self);
  g_signal_connect (self->faults, "fault-activated", G_CALLBACK (fault_activated_cb), self);
  g_signal_connect (self->verdict, "what-to-do", G_CALLBACK (what_to_do_cb), self);
  g_signal_connect (target, "drop", G_CALLBACK (drop_cb), self);
  g_signal_connect (target, "enter", G_CALLBACK (drag_enter_cb), self);
  g_signal_connect (target, "leave", G_CALLBACK (drag_leave_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
}
