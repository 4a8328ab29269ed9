/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loading a board from its files, its hash, and the names of its places. */
#include "config.h"
#include "pm-board-private.h"
#include "pm-vocabulary.h"

#include <glib/gstdio.h>
#include <glib/gi18n-lib.h>
#include <string.h>

#define MAX_SWITCHES 200
#define MAX_CONTACTS 64

static gint
compare_keys (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *)a, *(const char *const *)b);
}

/* Over everything used, by kind and name: the same for loose files and for one packed file. */
static char *
make_hash (PmBuild *build)
{
  g_autoptr (GChecksum) board = g_checksum_new (G_CHECKSUM_SHA256), sum = g_checksum_new (G_CHECKSUM_SHA256);
  g_autoptr (GPtrArray) keys = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer key;

  pm_xml_digest (build->root, board, pm_xml_is_definition);
  g_hash_table_insert (build->scope.used, g_strdup ("board"), g_strdup (g_checksum_get_string (board)));
  g_hash_table_iter_init (&iter, build->scope.used);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    g_ptr_array_add (keys, key);
  g_ptr_array_sort (keys, compare_keys);
  for (guint i = 0; i < keys->len; i++) {
    const char *name = g_ptr_array_index (keys, i), *digest = g_hash_table_lookup (build->scope.used, name);
    g_checksum_update (sum, (const guchar *)name, strlen (name) + 1);
    g_checksum_update (sum, (const guchar *)digest, strlen (digest));
  }
  return g_strndup (g_checksum_get_string (sum), 8);
}

static void
build_start (PmBuild *build, const char *path, const PmXml *root, PmLibrary *library, PmFaults *faults)
{
  g_autofree char *folder = g_path_get_dirname (path);
  const char *title = pm_xml_get (root, "title");
  PmBoardFull *full = g_new0 (PmBoardFull, 1);

  full->own_parts = g_ptr_array_new_with_free_func ((GDestroyNotify)pm_part_free);
  full->sides = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  *build = (PmBuild){ .full = full, .board = &full->board, .faults = faults, .root = root, .sits_first = PM_NONE };
  build->board->path = g_strdup (path);
  build->board->title = title != NULL ? g_strdup (title) : g_path_get_basename (path);
  build->board->revision = g_strdup (pm_xml_get (root, "revision"));
  build->board->about = pm_xml_dup_text_of (root, "about");
  build->board->socket = build->board->plug = PM_NONE;
  pm_scope_init (&build->scope, library, folder, root);
  build->raws = g_array_new (FALSE, TRUE, sizeof (PmRaw));
  build->joins = g_array_new (FALSE, TRUE, sizeof (PmJoin));
  build->matings = g_array_new (FALSE, TRUE, sizeof (PmMating));
  build->switches = g_array_new (FALSE, TRUE, sizeof (PmSwitch));
  build->supplies = g_array_new (FALSE, TRUE, sizeof (PmSupply));
  build->rails = g_array_new (FALSE, TRUE, sizeof (PmRail));
  build->raw_drives = g_array_new (FALSE, TRUE, sizeof (PmRawDrive));
  build->raw_cables = g_array_new (FALSE, TRUE, sizeof (PmRawCable));
  build->refs = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  build->spots = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  build->broken = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  build->told = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  build->join_names = g_hash_table_new_full (g_direct_hash, g_direct_equal, NULL, (GDestroyNotify)g_hash_table_unref);
  build->join_places = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  build->stamps = g_array_new (FALSE, TRUE, sizeof (guint32));
  build->nets = g_array_new (FALSE, FALSE, sizeof (guint32));
  build->named = g_array_new (FALSE, FALSE, sizeof (guint32));
  build->mentioned = g_byte_array_new ();
}

/* No board has so many; without a bound a spoilt file could take very long. */
static gboolean
check_counts (PmBuild *build)
{
  static const struct {
    const char *name;
    guint most;
  } bounds[] = { { "drive", 32 }, { "cable", 64 }, { "rail", 64 }, { "wanted", 200 }, { "never", 200 } };
  gboolean good = TRUE;

  for (guint i = 0; i < G_N_ELEMENTS (bounds); i++) {
    guint n = 0;
    for (const PmXml *child = build->root->children; child != NULL; child = child->next)
      if (pm_xml_is (child, bounds[i].name) && ++n == bounds[i].most + 1) {
        pm_faults_add (build->faults, pm_xml_spot (child), _("more than %u <%s>. Make the file smaller."),
                       bounds[i].most, bounds[i].name);
        good = FALSE;
      }
  }
  return good;
}

/* What a position closes is kept as bits of one number. */
static void
check_contacts (PmBuild *build)
{
  for (guint i = 0; i < build->switches->len; i++) {
    const PmSwitch *lever = &g_array_index (build->switches, PmSwitch, i);
    guint n = 0;
    for (guint p = 0; p < lever->n_positions; p++)
      n += lever->positions[p].n_pairs;
    if (n > MAX_CONTACTS)
      pm_faults_add (build->faults, lever->spot,
                     _ ("%s has more than %d contacts. Leave out positions that are not used."), lever->name,
                     MAX_CONTACTS);
  }
}

static void
build_all (PmBuild *build)
{
  PmBoard *board = build->board;

  if (!check_counts (build))
    return;
  pm_build_instances (build);
  board->n_drives = build->raw_drives->len;
  board->drives = g_new0 (PmDrive, board->n_drives + 1);
  pm_build_lines (build);
  pm_build_drives (build);
  pm_build_joins (build, &build->host_context);
  pm_build_plugs (build, &build->host_context);
  pm_build_cables (build);
  pm_build_sits (build);
  pm_build_plugs (build, &build->board_context);
  pm_build_joins (build, &build->setup_context);
  pm_build_joins (build, &build->board_context);
  pm_check_plugged (build);
  pm_build_supplies (build);
  pm_build_switches (build);
  check_contacts (build);
  if (build->switches->len > MAX_SWITCHES)
    pm_faults_add (build->faults, pm_xml_spot (build->root), _("more than %d switches. Make the file smaller."),
                   MAX_SWITCHES);
  else
    pm_build_settings (build);
  if (build->sits != NULL) {
    board->socket = build->sits_first;
    board->plug = build->sits_first + 1;
  }
}

/* Hands the arrays over to the board. */
static void
build_finish (PmBuild *build)
{
  PmBoard *board = build->board;

  board->n_instances = build->raws->len;
  board->instances = g_new (PmInstance, board->n_instances + 1);
  for (guint i = 0; i < board->n_instances; i++)
    board->instances[i] = g_array_index (build->raws, PmRaw, i).instance;
  board->n_joins = build->joins->len;
  board->joins = (PmJoin *)g_array_free (build->joins, FALSE);
  board->n_matings = build->matings->len;
  board->matings = (PmMating *)g_array_free (build->matings, FALSE);
  board->n_switches = build->switches->len;
  board->switches = (PmSwitch *)g_array_free (build->switches, FALSE);
  board->n_supplies = build->supplies->len;
  board->supplies = (PmSupply *)g_array_free (build->supplies, FALSE);
  board->n_rails = build->rails->len;
  board->rails = (PmRail *)g_array_free (build->rails, FALSE);
  board->files = g_steal_pointer (&build->scope.files);
  build->full->own = g_steal_pointer (&build->scope.own);
}

static void
build_clear (PmBuild *build)
{
  for (guint i = 0; i < build->raw_drives->len; i++)
    g_free (g_array_index (build->raw_drives, PmRawDrive, i).prefix);
  for (guint i = 0; i < build->raw_cables->len; i++) {
    PmRawCable *cable = &g_array_index (build->raw_cables, PmRawCable, i);
    for (guint k = 0; k < cable->n_ends; k++)
      g_free (cable->ends[k].conductors);
    g_free (cable->ends);
  }
  g_array_unref (build->raws);
  g_array_unref (build->raw_drives);
  g_array_unref (build->raw_cables);
  g_hash_table_unref (build->refs);
  g_hash_table_unref (build->spots);
  g_hash_table_unref (build->broken);
  g_hash_table_unref (build->told);
  g_hash_table_unref (build->join_names);
  g_hash_table_unref (build->join_places);
  g_array_unref (build->stamps);
  g_array_unref (build->nets);
  g_array_unref (build->named);
  g_byte_array_unref (build->mentioned);
  g_free (build->machine);
  pm_scope_clear (&build->scope);
}

static PmBoard *
load_xml (const char *path, PmXmlFile *file, PmLibrary *library, PmFaults *faults)
{
  guint before = pm_faults_found (faults);
  const PmXml *root = pm_xml_root (file);
  PmBuild build;

  pm_vocabulary_check (root, faults);
  build_start (&build, path, root, library, faults);
  build.board->library = library;
  g_ptr_array_add (build.scope.files, g_canonicalize_filename (path, NULL));
  build_all (&build);
  build.board->hash = make_hash (&build);
  build_finish (&build);
  build_clear (&build);
  if (pm_faults_found (faults) == before)
    return &build.full->board;
  pm_board_free (&build.full->board);
  pm_faults_sort (faults);
  return NULL;
}

PmBoard *
pm_board_load_text (const char *path, const char *text, gsize length, PmLibrary *library, PmFaults *faults)
{
  g_autoptr (PmXmlFile) file = pm_xml_parse (path, text, length, "board", faults);

  return file != NULL ? load_xml (path, file, library, faults) : NULL;
}

PmBoard *
pm_board_load (const char *path, PmLibrary *library, PmFaults *faults)
{
  g_autoptr (PmXmlFile) file = pm_xml_read (path, path, "board", faults);

  return file != NULL ? load_xml (path, file, library, faults) : NULL;
}

static void
free_instances (PmBoard *board)
{
  for (guint i = 0; i < board->n_instances; i++) {
    g_free (board->instances[i].ref);
    g_free (board->instances[i].title);
    g_free (board->instances[i].is);
  }
  for (guint i = 0; i < board->n_joins; i++) {
    g_free (board->joins[i].name);
    g_free (board->joins[i].places);
    g_free (board->joins[i].colour);
    g_free (board->joins[i].length);
    g_free (board->joins[i].gauge);
  }
  for (guint i = 0; i < board->n_matings; i++) {
    g_free (board->matings[i].pairs);
    g_free (board->matings[i].turned);
  }
  for (guint i = 0; i < board->n_switches; i++) {
    for (guint k = 0; k < board->switches[i].n_positions; k++) {
      g_free (board->switches[i].positions[k].name);
      g_free (board->switches[i].positions[k].title);
      g_free (board->switches[i].positions[k].pairs);
    }
    g_free (board->switches[i].positions);
    g_free (board->switches[i].name);
    g_free (board->switches[i].title);
  }
  for (guint i = 0; i < board->n_supplies; i++) {
    g_free (board->supplies[i].name);
    g_free (board->supplies[i].title);
  }
  for (guint i = 0; i < board->n_rails; i++) {
    g_free (board->rails[i].name);
    g_free (board->rails[i].places);
  }
  g_free (board->instances);
  g_free (board->joins);
  g_free (board->matings);
  g_free (board->switches);
  g_free (board->supplies);
  g_free (board->rails);
}

static void
free_host (PmHost *host)
{
  for (guint i = 0; i < host->n_lines; i++) {
    g_free (host->lines[i].name);
    g_free (host->lines[i].does);
  }
  for (guint i = 0; i < host->n_units; i++) {
    g_free (host->units[i].name);
    g_free (host->units[i].levels);
    g_strfreev (host->units[i].needs);
  }
  for (guint i = 0; i < host->n_nevers; i++) {
    g_free (host->nevers[i].units);
    g_free (host->nevers[i].because);
  }
  g_free (host->lines);
  g_free (host->units);
  g_free (host->nevers);
  g_free (host->name);
  g_free (host->title);
  g_free (host->about);
}

static void
free_drives (PmBoard *board)
{
  for (guint i = 0; i < board->n_drives; i++) {
    PmDrive *drive = &board->drives[i];
    for (guint k = 0; k < drive->n_answers; k++)
      g_free (drive->answers[k].whens);
    for (guint k = 0; k < drive->n_needs; k++)
      g_free (drive->needs[k].does);
    for (guint k = 0; k < drive->n_gives; k++)
      g_free (drive->gives[k].does);
    g_free (drive->answers);
    g_free (drive->needs);
    g_free (drive->gives);
    g_free (drive->name);
    g_free (drive->title);
    g_free (drive->kind);
  }
  g_free (board->drives);
}

static void
free_settings (PmBoard *board)
{
  for (guint i = 0; i < board->n_wanted; i++) {
    g_free (board->wanted[i].positions);
    g_free (board->wanted[i].units);
    g_strfreev (board->wanted[i].without);
    g_free (board->wanted[i].text);
  }
  for (guint i = 0; i < board->n_nevers; i++) {
    g_free (board->nevers[i].positions);
    g_free (board->nevers[i].because);
  }
  for (guint i = 0; i < board->n_accepts; i++) {
    g_free (board->accepts[i].finding);
    g_free (board->accepts[i].at);
    g_free (board->accepts[i].why);
  }
  g_free (board->wanted);
  g_free (board->nevers);
  g_free (board->accepts);
}

gboolean
pm_board_reads (const PmBoard *board, const char *path)
{
  GStatBuf there, read;

  if (g_stat (path, &there) < 0)
    return FALSE;
  for (guint i = 0; board->files != NULL && i < board->files->len; i++)
    if (g_stat (g_ptr_array_index (board->files, i), &read) == 0 && read.st_dev == there.st_dev
        && read.st_ino == there.st_ino)
      return TRUE;
  return FALSE;
}

void
pm_board_free (PmBoard *board)
{
  PmBoardFull *full = (PmBoardFull *)board;

  if (board == NULL)
    return;
  free_instances (board);
  free_host (&board->host);
  free_drives (board);
  free_settings (board);
  g_free (board->path);
  g_free (board->title);
  g_free (board->revision);
  g_free (board->about);
  g_free (board->hash);
  g_clear_pointer (&board->files, g_ptr_array_unref);
  g_clear_pointer (&full->own, g_hash_table_unref);
  g_ptr_array_unref (full->own_parts);
  g_hash_table_unref (full->sides);
  g_free (full);
}

guint
pm_board_instance_of (const PmBoard *board, guint32 place)
{
  guint low = 0, high = board->n_instances;

  g_return_val_if_fail (place < board->n_places, 0);
  while (high - low > 1) {
    guint middle = (low + high) / 2;
    if (board->instances[middle].first_place <= place)
      low = middle;
    else
      high = middle;
  }
  return low;
}

char *
pm_board_place_name (const PmBoard *board, guint32 place)
{
  const PmInstance *instance = &board->instances[pm_board_instance_of (board, place)];
  const char *pin = instance->part->pins[place - instance->first_place].name;

  return *pin != '\0' ? g_strconcat (instance->ref, ".", pin, NULL) : g_strdup (instance->ref);
}

static guint32
place_in (const PmInstance *instance, const char *pin)
{
  guint32 index = pm_part_pin (instance->part, pin);

  return index == PM_NONE ? PM_NONE : instance->first_place + index;
}

guint32
pm_board_find_place (const PmBoard *board, const char *name)
{
  const PmBoardFull *full = (const PmBoardFull *)board;
  guint32 side = GPOINTER_TO_UINT (g_hash_table_lookup (full->sides, name)), found = PM_NONE;
  const char *dot = strrchr (name, '.');

  if (side != 0)
    return side - 1;
  for (guint i = 0; i < board->n_instances; i++)
    if (strcmp (board->instances[i].ref, name) == 0 && *board->instances[i].part->pins[0].name == '\0')
      return board->instances[i].first_place;
  if (dot == NULL)
    return PM_NONE;
  g_autofree char *ref = g_strndup (name, dot - name);
  for (guint i = 0; i < board->n_instances; i++)
    if (strcmp (board->instances[i].ref, ref) == 0)
      return place_in (&board->instances[i], dot + 1);
  /* A prefix may be left out where only one file has the name. */
  g_autofree char *suffix = g_strconcat (".", ref, NULL);
  for (guint i = 0; i < board->n_instances; i++)
    if (g_str_has_suffix (board->instances[i].ref, suffix)) {
      if (found != PM_NONE)
        return PM_NONE;
      found = place_in (&board->instances[i], dot + 1);
    }
  return found;
}
