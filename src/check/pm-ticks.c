/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ticks: a set of ids, one a line in the file, sorted, so that it can be read and compared by eye. */
#include "config.h"
#include "pm-ticks.h"
#include "pm-document.h"
#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#define MOST_BYTES (1 << 20)

struct _PmTicks { GHashTable *done; };

PmTicks *
pm_ticks_load (const char *path, GError **error)
{
  g_autoptr (PmTicks) ticks = g_new0 (PmTicks, 1);
  g_autofree char *text = NULL;
  g_autoptr (GError) local = NULL;
  gsize length = 0;
  ticks->done = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  if (!g_file_get_contents (path, &text, &length, &local)) {
    if (g_error_matches (local, G_FILE_ERROR, G_FILE_ERROR_NOENT))
      return g_steal_pointer (&ticks);
    g_propagate_error (error, g_steal_pointer (&local));
    return NULL;
  }
  if (length > MOST_BYTES || !g_utf8_validate (text, (gssize) length, NULL)) {
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA, _("%s: this is no list of ticks."), path);
    return NULL;
  }
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    if (*lines[i] != '\0' && *lines[i] != '#')
      pm_ticks_set (ticks, lines[i], TRUE);
  return g_steal_pointer (&ticks);
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (a, b);
}

gboolean
pm_ticks_save (const PmTicks *ticks, const char *path, GError **error)
{
  g_autoptr (GString) text = g_string_new ("# Pointsman: what is done\n");
  GList *ids = g_list_sort (g_hash_table_get_keys (ticks->done), by_name);
  for (GList *id = ids; id != NULL; id = id->next)
    g_string_append_printf (text, "%s\n", (const char *) id->data);
  g_list_free (ids);
  return pm_file_write_atomic (path, text->str, text->len, error);
}

void
pm_ticks_free (PmTicks *ticks)
{
  if (ticks == NULL)
    return;
  g_hash_table_unref (ticks->done);
  g_free (ticks);
}

gboolean
pm_ticks_get (const PmTicks *ticks, const char *id)
{
  return g_hash_table_contains (ticks->done, id);
}

void
pm_ticks_set (PmTicks *ticks, const char *id, gboolean done)
{
  if (done)
    g_hash_table_add (ticks->done, g_strdup (id));
  else
    g_hash_table_remove (ticks->done, id);
}

/* ---- where a person's own data stands */

char *
pm_user_data_path (const char *what, const char *board)
{
  if (board == NULL) {
    g_autofree char *file = g_strdup_printf ("%s.ini", what);
    return g_build_filename (g_get_user_data_dir (), "pointsman", file, NULL);
  }
  /* The name is for people, the digits tell boards of one name in different folders apart. */
  g_autofree char *full = g_canonicalize_filename (board, NULL), *name = g_path_get_basename (full),
                  *digits = g_compute_checksum_for_string (G_CHECKSUM_SHA256, full, -1),
                  *file = g_strdup_printf ("%s-%.8s.ini", name, digits);
  return g_build_filename (g_get_user_data_dir (), "pointsman", what, file, NULL);
}

gboolean
pm_user_data_prepare (const char *path, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  if (g_mkdir_with_parents (folder, 0700) == 0)
    return TRUE;
  g_set_error (error, G_IO_ERROR, g_io_error_from_errno (errno), _("%s: the folder cannot be made: %s."), folder,
               g_strerror (errno));
  return FALSE;
}
