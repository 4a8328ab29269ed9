/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loading and following a board file.
 *
 * Everything slow is in load_thread; the main loop only swaps pointers.  A newer load cancels an older one.  Editors
 * save in several steps (temporary file, rename, touch), so a change is acted on when SETTLE_MS have passed without
 * another.  To begin to watch a folder can take longer than to check a board, so the answer is shown first.
 */
#include "config.h"
#include "pm-session.h"

#define SETTLE_MS 120

struct _PmSession {
  GObject       parent;
  /* owned */
  char         *path;
  PmStudy      *study;
  PmFaults     *faults;
  GPtrArray    *monitors;     /* GFileMonitor */
  GCancellable *cancellable;  /* of the running load, or NULL */
  guint         settle_id, watch_id;
};

typedef struct {
  char     *path;
  PmStudy  *study;
  PmFaults *faults;
} Load;

enum { PROP_BUSY = 1, N_PROPS };
static GParamSpec *properties[N_PROPS];
static guint loaded_signal;

G_DEFINE_FINAL_TYPE (PmSession, pm_session, G_TYPE_OBJECT)

static void
load_free (Load *load)
{
  g_free (load->path);
  g_clear_object (&load->study);
  g_clear_pointer (&load->faults, pm_faults_free);
  g_free (load);
}

static void
load_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Load *load = data;
  PmLibrary *library = pm_library_new (NULL);
  PmBoard *board;
  PmCheck *check = NULL;

  load->faults = pm_faults_new ();
  board = pm_board_load (load->path, library, load->faults);
  if (board != NULL)
    check = pm_check_new (board, cancellable, NULL);
  if (check != NULL) {
    load->study = pm_study_new_take (library, board, check);
    g_clear_pointer (&load->faults, pm_faults_free);
  } else {
    pm_faults_sort (load->faults);
    g_clear_pointer (&board, pm_board_free);
    pm_library_free (library);
  }
  g_task_return_boolean (task, TRUE);
}

static gboolean
settled_cb (gpointer data)
{
  PmSession *self = data;

  self->settle_id = 0;
  pm_session_reload (self);
  return G_SOURCE_REMOVE;
}

static void
file_changed_cb (GFileMonitor *monitor, GFile *file, GFile *other, GFileMonitorEvent event, PmSession *self)
{
  if (event == G_FILE_MONITOR_EVENT_ATTRIBUTE_CHANGED || event == G_FILE_MONITOR_EVENT_PRE_UNMOUNT)
    return;
  if (self->settle_id != 0)
    g_source_remove (self->settle_id);
  self->settle_id = g_timeout_add (SETTLE_MS, settled_cb, self);
}

static void
stop_watching (PmSession *self)
{
  g_clear_handle_id (&self->settle_id, g_source_remove);
  g_clear_handle_id (&self->watch_id, g_source_remove);
  for (guint i = 0; i < self->monitors->len; i++) {
    GFileMonitor *monitor = g_ptr_array_index (self->monitors, i);

    g_signal_handlers_disconnect_by_data (monitor, self);
    g_file_monitor_cancel (monitor);
  }
  g_ptr_array_set_size (self->monitors, 0);
}

static void
watch_one (PmSession *self, const char *path)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GFileMonitor) monitor = g_file_monitor_file (file, G_FILE_MONITOR_WATCH_MOVES, NULL, NULL);

  if (monitor == NULL)
    return;
  g_signal_connect (monitor, "changed", G_CALLBACK (file_changed_cb), self);
  g_ptr_array_add (self->monitors, g_steal_pointer (&monitor));
}

/* While a file is bad, the fault may be in one that is named by it and has not been found: any file beside it may mend
 * that. */
static void
folder_changed_cb (GFileMonitor *monitor, GFile *file, GFile *other, GFileMonitorEvent event, PmSession *self)
{
  g_autofree char *name = g_file_get_basename (file);

  if (g_str_has_suffix (name, ".xml"))
    file_changed_cb (monitor, file, other, event, self);
}

static void
watch_folder (PmSession *self)
{
  g_autoptr (GFile) file = g_file_new_for_path (self->path);
  g_autoptr (GFile) folder = g_file_get_parent (file);
  g_autoptr (GFileMonitor) monitor = NULL;

  if (folder != NULL)
    monitor = g_file_monitor_directory (folder, G_FILE_MONITOR_WATCH_MOVES, NULL, NULL);
  if (monitor == NULL)
    return;
  g_signal_connect (monitor, "changed", G_CALLBACK (folder_changed_cb), self);
  g_ptr_array_add (self->monitors, g_steal_pointer (&monitor));
}

/* The first monitor is that of the board itself and stays from opening to closing; the others follow the last answer.
 */
static gboolean
watch_cb (gpointer data)
{
  PmSession *self = data;
  const PmBoard *board = self->study != NULL ? pm_study_get_board (self->study) : NULL;

  self->watch_id = 0;

  while (self->monitors->len > 1) {
    GFileMonitor *last = g_ptr_array_index (self->monitors, self->monitors->len - 1);

    g_signal_handlers_disconnect_by_data (last, self);
    g_ptr_array_remove_index (self->monitors, self->monitors->len - 1);
  }
  if (self->faults != NULL)
    watch_folder (self);
  for (guint i = 1; board != NULL && board->files != NULL && i < board->files->len; i++)
    watch_one (self, g_ptr_array_index (board->files, i));
  return G_SOURCE_REMOVE;
}

static void
load_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PmSession *self = PM_SESSION (source);
  GTask *task = G_TASK (result);
  Load *load = g_task_get_task_data (task);
  GCancellable *cancellable = g_task_get_cancellable (task);

  if (cancellable != self->cancellable)
    return; /* a newer load is running */
  g_clear_object (&self->cancellable);
  if (!g_cancellable_is_cancelled (cancellable)) {
    g_clear_pointer (&self->faults, pm_faults_free);
    self->faults = g_steal_pointer (&load->faults);
    if (load->study != NULL)
      g_set_object (&self->study, load->study);
    if (self->watch_id == 0)
      self->watch_id = g_idle_add_full (G_PRIORITY_LOW, watch_cb, self, NULL);
    g_signal_emit (self, loaded_signal, 0);
  }
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_BUSY]);
}

void
pm_session_reload (PmSession *self)
{
  g_autoptr (GTask) task = NULL;
  Load *load;

  g_return_if_fail (PM_IS_SESSION (self));
  if (self->path == NULL)
    return;
  g_clear_handle_id (&self->settle_id, g_source_remove);
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  task = g_task_new (self, self->cancellable, load_done_cb, NULL);
  g_task_set_check_cancellable (task, FALSE);
  load = g_new0 (Load, 1);
  load->path = g_strdup (self->path);
  g_task_set_task_data (task, load, (GDestroyNotify) load_free);
  g_task_run_in_thread (task, load_thread);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_BUSY]);
}

static void
forget (PmSession *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  stop_watching (self);
  g_clear_object (&self->study);
  g_clear_pointer (&self->faults, pm_faults_free);
  g_clear_pointer (&self->path, g_free);
}

static void
pm_session_dispose (GObject *object)
{
  PmSession *self = PM_SESSION (object);

  if (self->monitors != NULL)
    forget (self);
  g_clear_pointer (&self->monitors, g_ptr_array_unref);
  G_OBJECT_CLASS (pm_session_parent_class)->dispose (object);
}

static void
pm_session_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_BUSY)
    g_value_set_boolean (value, PM_SESSION (object)->cancellable != NULL);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
pm_session_class_init (PmSessionClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = pm_session_dispose;
  object_class->get_property = pm_session_get_property;
  properties[PROP_BUSY] = g_param_spec_boolean ("busy", NULL, NULL, FALSE,
                                                G_PARAM_READABLE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  loaded_signal = g_signal_new ("loaded", PM_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pm_session_init (PmSession *self)
{
  self->monitors = g_ptr_array_new_with_free_func (g_object_unref);
}

PmSession *
pm_session_new (void)
{
  return g_object_new (PM_TYPE_SESSION, NULL);
}

void
pm_session_open (PmSession *self, const char *path)
{
  char *copy;

  g_return_if_fail (PM_IS_SESSION (self));
  g_return_if_fail (path != NULL);
  copy = g_strdup (path);
  forget (self);
  self->path = copy;
  watch_one (self, self->path);
  pm_session_reload (self);
}

void
pm_session_cancel (PmSession *self)
{
  g_return_if_fail (PM_IS_SESSION (self));
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
}

void
pm_session_close (PmSession *self)
{
  g_return_if_fail (PM_IS_SESSION (self));
  forget (self);
  g_signal_emit (self, loaded_signal, 0);
}

const char *
pm_session_get_path (PmSession *self)
{
  g_return_val_if_fail (PM_IS_SESSION (self), NULL);
  return self->path;
}

PmStudy *
pm_session_get_study (PmSession *self)
{
  g_return_val_if_fail (PM_IS_SESSION (self), NULL);
  return self->study;
}

const PmFaults *
pm_session_get_faults (PmSession *self)
{
  g_return_val_if_fail (PM_IS_SESSION (self), NULL);
  return self->faults;
}

gboolean
pm_session_get_busy (PmSession *self)
{
  g_return_val_if_fail (PM_IS_SESSION (self), FALSE);
  return self->cancellable != NULL;
}
