/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Undo keeps the files as they were: each change is one small file before and after it. */
#include "config.h"
#include "pm-build-own.h"
#include "pm-document.h"
#include <errno.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>

#define MOST_UNDO 200

typedef struct {
  PmOwnKind kind;
  char     *before, *after;   /* of the file; NULL: there was none */
  char     *key;
} Change;

typedef struct {
  char    *path;
  char    *text;              /* as last read or written, or NULL */
  char    *fault;
  gboolean unread;
} Own;

struct _PmBuildOwn {
  GObject    parent;
  char      *board;
  Own        own[PM_N_OWN];
  PmPrices  *prices;
  PmTicks   *ticks;
  PmOrder   *order;
  GPtrArray *changes;
};

enum { CHANGED, RELOADED, TOLD, FAULTS_CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];
static const struct { const char *name; gboolean of_board; } files[PM_N_OWN] = {
  [PM_OWN_PRICES] = { "prices", FALSE },
  [PM_OWN_TICKS] = { "ticks", TRUE },
  [PM_OWN_ORDER] = { "orders", TRUE },
};

G_DEFINE_FINAL_TYPE (PmBuildOwn, pm_build_own, G_TYPE_OBJECT)

static void
change_free (gpointer data)
{
  Change *change = data;

  g_free (change->before);
  g_free (change->after);
  g_free (change->key);
  g_free (change);
}

void
pm_build_own_tell (PmBuildOwn *self, const char *text)
{
  g_return_if_fail (PM_IS_BUILD_OWN (self));
  g_signal_emit (self, signals[TOLD], 0, text, FALSE);
}

/* Takes fault. */
static void
set_fault (PmBuildOwn *self, PmOwnKind kind, char *fault, gboolean unread)
{
  Own *own = &self->own[kind];
  gboolean same = g_strcmp0 (own->fault, fault) == 0;

  g_free (own->fault);
  own->fault = fault;
  own->unread = fault != NULL && unread;
  if (!same)
    g_signal_emit (self, signals[FAULTS_CHANGED], 0);
}

/* The file as it is now.  FALSE where it is there and cannot be read. */
static gboolean
read_text (PmBuildOwn *self, PmOwnKind kind, char **text, GError **error)
{
  g_autoptr (GError) local = NULL;

  *text = NULL;
  if (g_file_get_contents (self->own[kind].path, text, NULL, &local) ||
      g_error_matches (local, G_FILE_ERROR, G_FILE_ERROR_NOENT))
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&local));
  return FALSE;
}

/* What is in memory stays as it is where the file cannot be read. */
static gboolean
load (PmBuildOwn *self, PmOwnKind kind)
{
  Own *own = &self->own[kind];
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  g_autoptr (PmPrices) prices = NULL;
  g_autoptr (PmTicks) ticks = NULL;
  g_autoptr (PmOrder) order = NULL;
  gboolean good = read_text (self, kind, &text, &error);

  if (good && kind == PM_OWN_PRICES)
    good = (prices = pm_prices_load (own->path, &error)) != NULL;
  else if (good && kind == PM_OWN_TICKS)
    good = (ticks = pm_ticks_load (own->path, &error)) != NULL;
  else if (good)
    good = (order = pm_order_load (own->path, &error)) != NULL;
  if (!good) {
    const char *why = error != NULL ? error->message : "";

    set_fault (self, kind,
               strstr (why, own->path) != NULL ? g_strdup (why) : g_strdup_printf ("%s: %s", own->path, why), TRUE);
    return FALSE;
  }
  g_free (own->text);
  own->text = g_steal_pointer (&text);
  if (prices != NULL) {
    g_clear_pointer (&self->prices, pm_prices_free);
    self->prices = g_steal_pointer (&prices);
  } else if (ticks != NULL) {
    g_clear_pointer (&self->ticks, pm_ticks_free);
    self->ticks = g_steal_pointer (&ticks);
  } else {
    g_clear_pointer (&self->order, pm_order_free);
    self->order = g_steal_pointer (&order);
  }
  set_fault (self, kind, NULL, FALSE);
  return TRUE;
}

gboolean
pm_build_own_begin (PmBuildOwn *self, PmOwnKind kind)
{
  Own *own;
  g_autofree char *now = NULL;

  g_return_val_if_fail (PM_IS_BUILD_OWN (self), FALSE);
  own = &self->own[kind];
  if (own->fault != NULL && !own->unread) /* what could not be saved is newer than the file */
    return TRUE;
  if (!own->unread && read_text (self, kind, &now, NULL) && g_strcmp0 (now, own->text) == 0)
    return TRUE;
  if (!load (self, kind)) {
    pm_build_own_tell (self, own->fault);
    return FALSE;
  }
  g_signal_emit (self, signals[RELOADED], 0, kind);
  if (kind != PM_OWN_ORDER) /* by names: a change fits whatever else has changed */
    return TRUE;
  pm_build_own_tell (self, _("The order was changed elsewhere meanwhile and was read again: look at it first."));
  return FALSE;
}

static gboolean
save (PmBuildOwn *self, PmOwnKind kind)
{
  Own *own = &self->own[kind];
  g_autoptr (GError) error = NULL;
  gboolean good = pm_user_data_prepare (own->path, &error);

  if (good && kind == PM_OWN_PRICES)
    good = pm_prices_save (self->prices, own->path, &error);
  else if (good && kind == PM_OWN_TICKS)
    good = pm_ticks_save (self->ticks, own->path, &error);
  else if (good)
    good = pm_order_save (self->order, own->path, &error);
  if (good) {
    g_clear_pointer (&own->text, g_free);
    read_text (self, kind, &own->text, NULL);
  }
  set_fault (self, kind, good ? NULL : g_strdup (error != NULL ? error->message : own->path), FALSE);
  return good;
}

void
pm_build_own_end (PmBuildOwn *self, PmOwnKind kind, const char *key, const char *told)
{
  Own *own;
  g_autofree char *before = NULL;
  Change *last;

  g_return_if_fail (PM_IS_BUILD_OWN (self));
  own = &self->own[kind];
  before = g_strdup (own->text);
  if (save (self, kind) && g_strcmp0 (before, own->text) != 0) {
    last = self->changes->len > 0 ? g_ptr_array_index (self->changes, self->changes->len - 1) : NULL;
    if (last == NULL || key == NULL || g_strcmp0 (last->key, key) != 0 || last->kind != kind) {
      last = g_new0 (Change, 1);
      last->kind = kind;
      last->before = g_steal_pointer (&before);
      last->key = g_strdup (key);
      g_ptr_array_add (self->changes, last);
    }
    g_free (last->after);
    last->after = g_strdup (own->text);
    if (self->changes->len > MOST_UNDO)
      g_ptr_array_remove_index (self->changes, 0);
  }
  g_signal_emit (self, signals[CHANGED], 0, kind);
  if (told != NULL)
    g_signal_emit (self, signals[TOLD], 0, told, own->fault == NULL);
}

static gboolean
put_back (PmBuildOwn *self, const Change *change, GError **error)
{
  const char *path = self->own[change->kind].path;

  if (change->before != NULL)
    return pm_file_write_atomic (path, change->before, strlen (change->before), error);
  if (g_unlink (path) == 0 || errno == ENOENT)
    return TRUE;
  g_set_error (error, G_IO_ERROR, g_io_error_from_errno (errno), "%s: %s", path, g_strerror (errno));
  return FALSE;
}

gboolean
pm_build_own_undo (PmBuildOwn *self)
{
  Change *change;
  g_autofree char *now = NULL;
  g_autoptr (GError) error = NULL;

  g_return_val_if_fail (PM_IS_BUILD_OWN (self), FALSE);
  if (self->changes->len == 0)
    return FALSE;
  change = g_ptr_array_index (self->changes, self->changes->len - 1);
  if (!read_text (self, change->kind, &now, NULL) || g_strcmp0 (now, change->after) != 0) {
    g_ptr_array_set_size (self->changes, 0);
    pm_build_own_tell (self, _("The file was changed elsewhere meanwhile: that cannot be undone here."));
    return TRUE;
  }
  if (!put_back (self, change, &error)) {
    pm_build_own_tell (self, error->message);
    return TRUE;
  }
  if (load (self, change->kind))
    g_signal_emit (self, signals[RELOADED], 0, change->kind);
  g_ptr_array_remove_index (self->changes, self->changes->len - 1);
  pm_build_own_tell (self, _("Undone."));
  return TRUE;
}

const char *
pm_build_own_get_fault (PmBuildOwn *self, PmOwnKind kind, gboolean *unread)
{
  g_return_val_if_fail (PM_IS_BUILD_OWN (self), NULL);
  if (unread != NULL)
    *unread = self->own[kind].unread;
  return self->own[kind].fault;
}

/* Beside where it stood, under a name that nothing has. */
static char *
set_aside (const char *path, GError **error)
{
  g_autofree char *aside = NULL;

  for (guint n = 1; aside == NULL || g_file_test (aside, G_FILE_TEST_EXISTS); n++) {
    g_free (aside);
    aside = g_strdup_printf ("%s.unread-%u", path, n);
  }
  if (g_rename (path, aside) == 0)
    return g_steal_pointer (&aside);
  g_set_error (error, G_IO_ERROR, g_io_error_from_errno (errno), "%s: %s", path, g_strerror (errno));
  return NULL;
}

void
pm_build_own_mend (PmBuildOwn *self)
{
  g_return_if_fail (PM_IS_BUILD_OWN (self));
  for (guint k = 0; k < PM_N_OWN; k++) {
    g_autoptr (GError) error = NULL;
    g_autofree char *aside = NULL, *text = NULL;

    if (self->own[k].fault == NULL)
      continue;
    if (!self->own[k].unread) {
      if (save (self, k))
        pm_build_own_tell (self, _("Saved."));
      continue;
    }
    if (!load (self, k)) {
      aside = set_aside (self->own[k].path, &error);
      text = aside != NULL ? g_strdup_printf (_("Set aside as %s."), aside) : g_strdup (error->message);
      load (self, k);
      pm_build_own_tell (self, text);
    }
    g_signal_emit (self, signals[RELOADED], 0, k);
  }
}

const char *
pm_build_own_get_board (PmBuildOwn *self)
{
  g_return_val_if_fail (PM_IS_BUILD_OWN (self), NULL);
  return self->board;
}

PmPrices *
pm_build_own_get_prices (PmBuildOwn *self)
{
  g_return_val_if_fail (PM_IS_BUILD_OWN (self), NULL);
  return self->prices;
}

PmTicks *
pm_build_own_get_ticks (PmBuildOwn *self)
{
  g_return_val_if_fail (PM_IS_BUILD_OWN (self), NULL);
  return self->ticks;
}

PmOrder *
pm_build_own_get_order (PmBuildOwn *self)
{
  g_return_val_if_fail (PM_IS_BUILD_OWN (self), NULL);
  return self->order;
}

static void
pm_build_own_finalize (GObject *object)
{
  PmBuildOwn *self = PM_BUILD_OWN (object);

  for (guint k = 0; k < PM_N_OWN; k++) {
    g_free (self->own[k].path);
    g_free (self->own[k].text);
    g_free (self->own[k].fault);
  }
  g_free (self->board);
  pm_prices_free (self->prices);
  pm_ticks_free (self->ticks);
  pm_order_free (self->order);
  g_ptr_array_unref (self->changes);
  G_OBJECT_CLASS (pm_build_own_parent_class)->finalize (object);
}

static void
pm_build_own_class_init (PmBuildOwnClass *klass)
{
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = pm_build_own_finalize;
  signals[CHANGED] =
      g_signal_new ("changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[RELOADED] =
      g_signal_new ("reloaded", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[TOLD] = g_signal_new ("told", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING,
                                G_TYPE_BOOLEAN);
  signals[FAULTS_CHANGED] =
      g_signal_new ("faults-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pm_build_own_init (PmBuildOwn *self)
{
  self->changes = g_ptr_array_new_with_free_func (change_free);
}

PmBuildOwn *
pm_build_own_new (const char *board)
{
  PmBuildOwn *self = g_object_new (PM_TYPE_BUILD_OWN, NULL);

  self->board = g_strdup (board);
  for (guint k = 0; k < PM_N_OWN; k++) {
    self->own[k].path = pm_user_data_path (files[k].name, files[k].of_board ? board : NULL);
    load (self, k);
  }
  /* Of what cannot be read there is nothing, but views need not know that. */
  if (self->prices == NULL)
    self->prices = pm_prices_load ("/nonexistent/prices", NULL);
  if (self->ticks == NULL)
    self->ticks = pm_ticks_load ("/nonexistent/ticks", NULL);
  if (self->order == NULL)
    self->order = pm_order_new ();
  return self;
}

void
pm_build_own_follow (PmBuildOwn **slot, PmBuildOwn *own, gpointer view, GCallback changed, GCallback reloaded)
{
  if (*slot != NULL)
    g_signal_handlers_disconnect_by_data (*slot, view);
  g_set_object (slot, own);
  if (own == NULL)
    return;
  g_signal_connect_object (own, "changed", changed, view, G_CONNECT_SWAPPED);
  g_signal_connect_object (own, "reloaded", reloaded, view, G_CONNECT_SWAPPED);
}
