/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finding files by name, reading each once, and handing out parts and families.
 *
 * A file that has changed on disk is read again; what was read before is kept, because boards still speak of it.
 */
#include "config.h"
#include "pm-library-private.h"
#include "pm-vocabulary.h"

#include <dirent.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const struct {
  const char *ending, *folder;
} kinds[] = {
  { "board", "boards" }, { "host", "hosts" },      { "drive", "drives" },
  { "part", "parts" },   { "family", "families" }, { "setup", "setups" },
};

/* A file that has been read. */
typedef struct {
  PmXmlFile *xml;
  struct timespec changed; /* as it was when read */
  off_t size;
  ino_t inode;
  char *digest;
  GHashTable *entries; /* "argument|family" -> PmPartEntry */
} LibraryFile;

struct _PmLibrary {
  GPtrArray *folders_first; /* char* */
  GPtrArray *folders;       /* char*, looked in after the board's own */
  GHashTable *files;        /* path -> LibraryFile */
  GPtrArray *retired;       /* LibraryFile that changed since */
};

static void
library_file_free (gpointer data)
{
  LibraryFile *file = data;

  pm_xml_free (file->xml);
  g_free (file->digest);
  g_hash_table_unref (file->entries);
  g_free (file);
}

void
pm_part_entry_free (gpointer data)
{
  PmPartEntry *entry = data;

  pm_part_free (entry->part);
  pm_family_free (entry->family);
  g_free (entry);
}

static void
add_folder (GPtrArray *folders, char *folder)
{
  /* What is not there now is still named in messages, so it stays in the list. */
  for (guint i = 0; i < folders->len; i++)
    if (g_str_equal (g_ptr_array_index (folders, i), folder)) {
      g_free (folder);
      return;
    }
  g_ptr_array_add (folders, folder);
}

const char *
pm_library_data_folder (void)
{
  const char *stand_in = g_getenv ("POINTSMAN_DATA");
  if (stand_in != NULL && *stand_in != '\0')
    return stand_in;
  return g_file_test (PM_DATA_DIR, G_FILE_TEST_IS_DIR) || !g_file_test (PM_SOURCE_DATA, G_FILE_TEST_IS_DIR)
             ? PM_DATA_DIR
             : PM_SOURCE_DATA;
}

PmLibrary *
pm_library_new (const char *const *extra)
{
  PmLibrary *library = g_new0 (PmLibrary, 1);
  const char *const *system = g_get_system_data_dirs ();

  library->folders_first = g_ptr_array_new_with_free_func (g_free);
  library->folders = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; extra != NULL && extra[i] != NULL; i++)
    add_folder (library->folders_first, g_strdup (extra[i]));
  add_folder (library->folders, g_build_filename (g_get_user_data_dir (), "pointsman", NULL));
  for (guint i = 0; system[i] != NULL; i++)
    add_folder (library->folders, g_build_filename (system[i], "pointsman", NULL));
  add_folder (library->folders, g_strdup (pm_library_data_folder ()));
  library->files = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, library_file_free);
  library->retired = g_ptr_array_new_with_free_func (library_file_free);
  return library;
}

void
pm_library_free (PmLibrary *library)
{
  if (library == NULL)
    return;
  g_ptr_array_unref (library->folders_first);
  g_ptr_array_unref (library->folders);
  g_hash_table_unref (library->files);
  g_ptr_array_unref (library->retired);
  g_free (library);
}

static const char *
folder_of_kind (const char *ending)
{
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (strcmp (kinds[i].ending, ending) == 0)
      return kinds[i].folder;
  return ending;
}

/* Names come from files: they must not lead out of the folders. */
static gboolean
is_safe_name (const char *name)
{
  gsize n = strlen (name);

  return n > 0 && n <= 100 && name[0] != '.' && strpbrk (name, "/\\\n\t") == NULL;
}

static char *
find_in (const char *folder, const char *name, const char *ending, struct stat *info)
{
  char path[4096];
  const char *plural = folder_of_kind (ending);

  for (guint i = 0; i < 2; i++) {
    int n = i == 0 ? g_snprintf (path, sizeof path, "%s/%s/%s.%s.xml", folder, plural, name, ending)
                   : g_snprintf (path, sizeof path, "%s/%s.%s.xml", folder, name, ending);
    if (n < (int)sizeof path && stat (path, info) == 0)
      return g_strdup (path);
  }
  return NULL;
}

/* Lists are for messages: where there are many faults they help no more and would cost much. */
static gboolean
too_many (const PmFaults *faults)
{
  return pm_faults_found (faults) >= PM_FAULTS_MAX;
}

static char *
find_file (PmLibrary *library, const char *beside, const char *name, const char *ending, struct stat *info)
{
  char *path = NULL;

  if (!is_safe_name (name))
    return NULL;
  for (guint i = 0; i < library->folders_first->len && path == NULL; i++)
    path = find_in (g_ptr_array_index (library->folders_first, i), name, ending, info);
  if (path == NULL && beside != NULL)
    path = find_in (beside, name, ending, info);
  for (guint i = 0; i < library->folders->len && path == NULL; i++)
    path = find_in (g_ptr_array_index (library->folders, i), name, ending, info);
  return path;
}

static char *
folders_text (PmLibrary *library, const char *beside)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < library->folders_first->len; i++)
    g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "",
                            (char *)g_ptr_array_index (library->folders_first, i));
  if (beside != NULL)
    g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", beside);
  for (guint i = 0; i < library->folders->len; i++)
    g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", (char *)g_ptr_array_index (library->folders, i));
  return g_string_free (text, FALSE);
}

char *
pm_library_find (PmLibrary *library, const char *beside, const char *name, const char *ending, char **looked)
{
  struct stat info;
  char *path = find_file (library, beside, name, ending, &info);

  if (looked != NULL)
    *looked = path == NULL ? folders_text (library, beside) : NULL;
  return path;
}

static void
list_folder (GHashTable *names, const char *folder, const char *ending)
{
  g_autofree char *suffix = g_strdup_printf (".%s.xml", ending);
  DIR *open_folder = opendir (folder);
  struct dirent *item;

  if (open_folder == NULL)
    return;
  while ((item = readdir (open_folder)) != NULL)
    if (item->d_name[0] != '.' && g_str_has_suffix (item->d_name, suffix))
      g_hash_table_add (names, g_strndup (item->d_name, strlen (item->d_name) - strlen (suffix)));
  closedir (open_folder);
}

static gint
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *)a, *(const char *const *)b);
}

static char **
list_names (PmLibrary *library, const char *beside, const char *ending)
{
  g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);
  GPtrArray *sorted = g_ptr_array_new ();
  g_autoptr (GPtrArray) folders = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer name;

  g_ptr_array_extend (folders, library->folders_first, NULL, NULL);
  g_ptr_array_extend (folders, library->folders, NULL, NULL);
  if (beside != NULL)
    g_ptr_array_add (folders, (gpointer)beside);
  for (guint i = 0; i < folders->len; i++) {
    g_autofree char *inner = g_build_filename (g_ptr_array_index (folders, i), folder_of_kind (ending), NULL);
    list_folder (names, g_ptr_array_index (folders, i), ending);
    list_folder (names, inner, ending);
  }
  g_hash_table_iter_init (&iter, names);
  while (g_hash_table_iter_next (&iter, &name, NULL))
    g_ptr_array_add (sorted, name);
  g_ptr_array_sort (sorted, compare_names);
  g_ptr_array_add (sorted, NULL);
  return (char **)g_ptr_array_free (sorted, FALSE);
}

char **
pm_library_list (PmLibrary *library, const char *ending)
{
  return list_names (library, NULL, ending);
}

static char *
digest_of (const PmXml *root)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);

  pm_xml_digest (root, sum, NULL);
  return g_strdup (g_checksum_get_string (sum));
}

/* The file at path as it is on disk now. NULL and faults if it cannot be read; then nothing is kept. */
static LibraryFile *
read_library_file (PmLibrary *library, const char *path, const struct stat *info, const char *kind, PmFaults *faults)
{
  LibraryFile *file = g_hash_table_lookup (library->files, path);
  g_autofree char *shown = g_path_get_basename (path);

  if (file != NULL && file->size == info->st_size && file->inode == info->st_ino &&
      file->changed.tv_sec == info->st_mtim.tv_sec && file->changed.tv_nsec == info->st_mtim.tv_nsec)
    return file;
  PmXmlFile *xml = pm_xml_read (path, shown, kind, faults);
  if (xml == NULL)
    return NULL;
  if (!pm_vocabulary_check (pm_xml_root (xml), faults)) {
    pm_xml_free (xml);
    return NULL;
  }
  if (file != NULL) {
    gpointer key, old;
    g_hash_table_steal_extended (library->files, path, &key, &old);
    g_free (key);
    g_ptr_array_add (library->retired, old);
  }
  file = g_new0 (LibraryFile, 1);
  file->xml = xml;
  file->changed = info->st_mtim;
  file->size = info->st_size;
  file->inode = info->st_ino;
  file->digest = digest_of (pm_xml_root (xml));
  file->entries = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, pm_part_entry_free);
  g_hash_table_insert (library->files, g_strdup (path), file);
  return file;
}

void
pm_scope_clear (PmScope *scope)
{
  g_free (scope->beside);
  g_clear_pointer (&scope->own, g_hash_table_unref);
  g_clear_pointer (&scope->used, g_hash_table_unref);
  g_clear_pointer (&scope->inside_names, g_hash_table_unref);
  g_clear_pointer (&scope->known, g_hash_table_unref);
  g_clear_pointer (&scope->failed, g_hash_table_unref);
  g_clear_pointer (&scope->files, g_ptr_array_unref);
}

gboolean
pm_xml_is_definition (const PmXml *element)
{
  if (pm_xml_get (element, "is") != NULL || element->parent == NULL)
    return FALSE;
  if (pm_xml_is (element, "host") || pm_xml_is (element, "family") || pm_xml_is (element, "setup"))
    return pm_xml_get (element, "name") != NULL;
  if (pm_xml_is (element, "part"))
    return pm_xml_child (element, "pins") != NULL;
  return pm_xml_is (element, "drive") && pm_xml_get (element, "pins") != NULL;
}

/* A definition that one board has asked for before. */
typedef struct {
  const PmXml *element;
  GHashTable *entries;
} Known;

void
pm_scope_init (PmScope *scope, PmLibrary *library, const char *beside, const PmXml *inside)
{
  scope->library = library;
  scope->beside = g_strdup (beside);
  scope->inside = inside;
  scope->own = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, pm_part_entry_free);
  scope->used = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  scope->inside_names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  scope->known = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  scope->failed = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  scope->files = g_ptr_array_new_with_free_func (g_free);
  for (const PmXml *child = inside != NULL ? inside->children : NULL; child != NULL; child = child->next) {
    const char *name = pm_xml_is_definition (child) ? pm_xml_get (child, "name") : NULL;
    g_autofree char *key = name != NULL ? g_strdup_printf ("%s %s", child->name, name) : NULL;
    if (key != NULL && !g_hash_table_contains (scope->inside_names, key))
      g_hash_table_insert (scope->inside_names, g_steal_pointer (&key), (gpointer)child);
  }
}

static void
note_file (PmScope *scope, const char *path)
{
  g_autofree char *full = g_canonicalize_filename (path, NULL);

  if (!g_ptr_array_find_with_equal_func (scope->files, full, g_str_equal, NULL))
    g_ptr_array_add (scope->files, g_steal_pointer (&full));
}

static const PmXml *
note_definition (PmScope *scope, const char *key, const PmXml *element, GHashTable *entries, char *digest)
{
  Known *known = g_new (Known, 1);

  *known = (Known){ element, entries };
  g_hash_table_insert (scope->known, g_strdup (key), known);
  g_hash_table_insert (scope->used, g_strdup (key), digest);
  return element;
}

/* As pm_scope_find, with the table that parts made from it are kept in. */
static const PmXml *
find_definition (PmScope *scope, const char *kind, const char *name, GHashTable **entries, char **looked,
                 PmFaults *faults)
{
  g_autofree char *key = g_strdup_printf ("%s %s", kind, name);
  const Known *known = g_hash_table_lookup (scope->known, key);
  struct stat info;

  if (looked != NULL)
    *looked = NULL;
  if (known != NULL) {
    *entries = known->entries;
    return known->element;
  }
  const PmXml *inside = g_hash_table_lookup (scope->inside_names, key);
  if (inside != NULL) {
    *entries = scope->own;
    return note_definition (scope, key, inside, scope->own, digest_of (inside));
  }
  if (g_hash_table_contains (scope->failed, key))
    return NULL;
  g_autofree char *path = find_file (scope->library, scope->beside, name, kind, &info);
  if (path == NULL) {
    if (looked != NULL)
      *looked = folders_text (scope->library, scope->beside);
    return NULL;
  }
  note_file (scope, path);
  LibraryFile *file = read_library_file (scope->library, path, &info, kind, faults);
  if (file == NULL) {
    g_hash_table_add (scope->failed, g_steal_pointer (&key));
    return NULL;
  }
  *entries = file->entries;
  return note_definition (scope, key, pm_xml_root (file->xml), file->entries, g_strdup (file->digest));
}

const PmXml *
pm_scope_find (PmScope *scope, const char *kind, const char *name, char **looked, PmFaults *faults)
{
  GHashTable *entries;

  return find_definition (scope, kind, name, &entries, looked, faults);
}

const PmFamily *
pm_scope_family (PmScope *scope, const char *name, PmSpot spot, PmFaults *faults)
{
  GHashTable *entries;
  g_autofree char *looked = NULL, *key = g_strdup_printf ("family|%s", name);
  const PmXml *element = find_definition (scope, "family", name, &entries, &looked, faults);

  if (element == NULL) {
    if (looked == NULL)
      return NULL;
    g_auto (GStrv) names = list_names (scope->library, scope->beside, "family");
    g_autofree char *list = g_strjoinv (" ", names);
    pm_faults_add (faults, spot, _("there is no family \"%s\". There are %s."), name, list);
    return NULL;
  }
  PmPartEntry *entry = g_hash_table_lookup (entries, key);
  if (entry != NULL)
    return entry->family;
  if (g_hash_table_contains (scope->failed, key))
    return NULL;
  PmFamily *family = pm_family_read (element, faults);
  if (family == NULL) {
    g_hash_table_add (scope->failed, g_steal_pointer (&key));
    return NULL;
  }
  entry = g_new0 (PmPartEntry, 1);
  entry->family = family;
  g_hash_table_insert (entries, g_steal_pointer (&key), entry);
  return family;
}

/* What a type comes down to. */
typedef struct {
  const PmXml *element;
  GHashTable *entries;
  const char *name;     /* of the part file */
  const char *argument; /* "1x3", "10k", or NULL */
  const char *family;   /* or NULL */
  gboolean told;        /* not there, and the fault has been told */
} Found;

static void
find_part (PmScope *scope, const char *word, const char *rest, char **function, char **family, Found *found,
           PmFaults *faults)
{
  g_autofree char *looked = NULL;

  *found = (Found){ 0 };
  if (pm_logic_name (word, function, family)) {
    found->element = find_definition (scope, "part", *function, &found->entries, &looked, faults);
    found->name = *function;
    found->family = *family;
    if (found->element != NULL || looked == NULL) {
      found->told = found->element == NULL;
      return;
    }
    g_clear_pointer (&looked, g_free);
  }
  found->family = NULL;
  found->name = word;
  found->argument = *rest != '\0' ? rest : NULL;
  found->element = find_definition (scope, "part", word, &found->entries, &looked, faults);
  if (found->element != NULL || looked == NULL) {
    found->told = found->element == NULL;
    return;
  }
  const char *dash = strrchr (word, '-');
  if (dash == NULL || dash[1] == '\0' || dash[1 + strspn (dash + 1, "0123456789")] != '\0')
    return;
  g_clear_pointer (&looked, g_free);
  g_free (*function);
  *function = g_strndup (word, dash - word);
  found->name = *function;
  found->argument = dash + 1;
  found->element = find_definition (scope, "part", *function, &found->entries, &looked, faults);
  found->told = found->element == NULL && looked == NULL;
}

static void
no_part (PmScope *scope, const char *is, const char *word, PmSpot spot, PmFaults *faults)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *function = NULL, *family = NULL, *plain = NULL;

  if (too_many (faults)) {
    pm_faults_add (faults, spot, "%s", is);
    return;
  }
  g_auto (GStrv) files = list_names (scope->library, scope->beside, "part");
  if (pm_logic_name (word, &function, &family)) {
    const char *letters = g_str_equal (family, "std") || g_str_equal (family, "4000B") ? "" : family;
    const char *digits = g_str_has_prefix (function, "74") ? function + 2 : function;
    gboolean is_74 = !g_str_equal (family, "4000B");
    plain = is_74 ? g_strconcat ("74", letters, digits, NULL) : g_strdup (function);
    for (guint i = 0; files[i] != NULL; i++)
      if (is_74 && g_str_has_prefix (files[i], "74"))
        g_ptr_array_add (names, g_strconcat ("74", letters, files[i] + 2, NULL));
      else if (!is_74)
        g_ptr_array_add (names, g_strdup (files[i]));
  } else {
    const char *dash = strrchr (word, '-');
    gboolean counted = dash != NULL && dash[1] != '\0' && dash[1 + strspn (dash + 1, "0123456789")] == '\0';
    plain = g_strndup (word, counted ? dash - word : (gssize)strlen (word));
    for (guint i = 0; files[i] != NULL; i++)
      g_ptr_array_add (names, g_strdup (files[i]));
  }
  const char *near = pm_nearest (plain, (const char *const *)names->pdata, names->len);
  if (near != NULL)
    pm_faults_add (faults, spot, _("there is no part \"%s\". Near: %s. All parts: pointsman-cli parts"), is, near);
  else
    pm_faults_add (faults, spot, _("there is no part \"%s\". All parts: pointsman-cli parts"), is);
}

/* The value written behind a resistor, network or capacitor. FALSE and a fault if it cannot be read. */
static gboolean
read_value (const PmPart *part, const char *is, const char *argument, double *value, PmSpot spot, PmFaults *faults)
{
  PmQuantityUnit unit = part->type == PM_PART_CAPACITOR ? PM_UNIT_FARAD : PM_UNIT_OHM;
  g_autofree char *text = g_strdup (argument);
  g_autoptr (GError) error = NULL;
  PmQuantity quantity;

  if (part->type != PM_PART_RESISTOR && part->type != PM_PART_NETWORK && part->type != PM_PART_CAPACITOR)
    return TRUE;
  if (text != NULL && part->type == PM_PART_NETWORK) {
    char *isolated = strstr (text, "isolated");
    if (isolated != NULL)
      *isolated = '\0';
    char *times = strpbrk (text, "xX");
    if (times != NULL)
      memmove (text, times + 1, strlen (times + 1) + 1);
  }
  if (text == NULL || *g_strstrip (text) == '\0') {
    if (part->type == PM_PART_CAPACITOR)
      return TRUE;
    pm_faults_add (faults, spot, _("\"%s\": how many ohms? Write for example is=\"resistor 10k\""), is);
    return FALSE;
  }
  if (!pm_quantity_parse (text, unit, &quantity, &error)) {
    pm_faults_add (faults, spot, "\"%s\": %s", is, error->message);
    return FALSE;
  }
  if (quantity.value <= 0) {
    pm_faults_add (faults, spot, _("\"%s\": the value must be above zero. A plain wire is a <wire> or a <join>."), is);
    return FALSE;
  }
  if (unit == PM_UNIT_OHM ? quantity.value < 1e-3 || quantity.value > 1e9
                          : quantity.value < 1e-13 || quantity.value > 1) {
    g_autofree char *plain = pm_quantity_format (quantity.value, unit);
    pm_faults_add (faults, spot, _("\"%s\" is %s: no such part is made. Is the letter right?"), is, plain);
    return FALSE;
  }
  *value = quantity.value;
  return TRUE;
}

/* The entry of a part with its size and family, read now if it has not been. */
static PmPartEntry *
take_entry (PmScope *scope, const Found *found, const char *is, PmSpot spot, PmFaults *faults)
{
  const PmXml *pins = pm_xml_child (found->element, "pins");
  const char *size = pins != NULL ? pm_xml_get (pins, "size") : NULL;
  g_autofree char *key =
      g_strdup_printf ("part|%s|%s|%s", found->name, size != NULL && found->argument != NULL ? found->argument : "",
                       found->family != NULL ? found->family : "");
  PmPartEntry *entry = g_hash_table_lookup (found->entries, key);

  if (entry != NULL)
    return entry;
  if (g_hash_table_contains (scope->failed, key) ||
      !pm_part_check_argument (found->element, is, found->argument, spot, faults))
    return NULL;
  PmPartSize sizes = { (char *)found->argument, found->family };
  PmPart *part = pm_part_read (found->element, &sizes, faults);
  if (part == NULL) {
    g_hash_table_add (scope->failed, g_steal_pointer (&key));
    return NULL;
  }
  if (size != NULL && g_str_equal (size, "count")) {
    g_autofree char *name = g_strdup_printf ("%s-%s", part->name, found->argument);
    part->name = g_intern_string (name);
  } else if (size != NULL && !g_str_equal (size, "network")) {
    g_autofree char *name = g_strdup_printf ("%s %s", part->name, found->argument);
    part->name = g_intern_string (name);
  }
  entry = g_new0 (PmPartEntry, 1);
  entry->part = part;
  g_hash_table_insert (found->entries, g_steal_pointer (&key), entry);
  return entry;
}

/* The family of a part: of its type's letters, else the only one it is made in. */
static gboolean
take_family (PmScope *scope, const Found *found, PmPartEntry *entry, const PmFamily **family, PmSpot spot,
             PmFaults *faults)
{
  const PmPart *part = entry->part;
  const char *name = found->family;

  *family = NULL;
  if (name == NULL && part->families != NULL && part->families[0] != NULL &&
      (part->type == PM_PART_LOGIC || part->type == PM_PART_CHIP))
    name = part->families[0];
  if (name == NULL)
    return TRUE;
  if (found->family != NULL && part->families != NULL && !g_strv_contains ((const char *const *)part->families, name)) {
    g_autofree char *list = g_strjoinv (" ", part->families);
    pm_faults_add (faults, spot, _("a %s is not made in family \"%s\". It is made in %s."), part->name, name, list);
    return FALSE;
  }
  if (entry->family != NULL) {
    *family = entry->family;
    return TRUE;
  }
  *family = pm_scope_family (scope, name, spot, faults);
  if (*family == NULL)
    return FALSE;
  entry->family = pm_family_override (*family, found->element, faults);
  if (entry->family != NULL)
    *family = entry->family;
  return TRUE;
}

const PmPart *
pm_scope_part (PmScope *scope, const char *is, const PmFamily **family, double *value, PmSpot spot, PmFaults *faults)
{
  g_autofree char *text = g_strstrip (g_strdup (is)), *function = NULL, *letters = NULL;
  const PmFamily *of = NULL;
  double ohms = NAN;
  Found found;

  gsize n = strcspn (text, " \t\r\n");
  char *rest = text + n + strspn (text + n, " \t\r\n");
  if (text[n] != '\0')
    text[n] = '\0';
  find_part (scope, text, rest, &function, &letters, &found, faults);
  if (found.element == NULL) {
    g_autofree char *key = g_strconcat ("no part ", text, NULL);
    /* Told once, however many parts are said to be it. */
    if (!found.told && g_hash_table_add (scope->failed, g_steal_pointer (&key)))
      no_part (scope, is, text, spot, faults);
    return NULL;
  }
  PmPartEntry *entry = take_entry (scope, &found, is, spot, faults);
  if (entry == NULL || !take_family (scope, &found, entry, &of, spot, faults) ||
      !read_value (entry->part, is, found.argument, &ohms, spot, faults))
    return NULL;
  if (family != NULL)
    *family = of;
  if (value != NULL)
    *value = ohms;
  return entry->part;
}

const PmPart *
pm_library_part (PmLibrary *library, const char *beside, const char *is, const PmFamily **family, double *value,
                 PmSpot spot, PmFaults *faults)
{
  PmScope scope;

  pm_scope_init (&scope, library, beside, NULL);
  const PmPart *part = pm_scope_part (&scope, is, family, value, spot, faults);
  pm_scope_clear (&scope);
  return part;
}

const PmPart *
pm_library_function (PmLibrary *library, const char *beside, const char *name, PmSpot spot, PmFaults *faults)
{
  PmScope scope;
  GHashTable *entries;
  const PmPart *part = NULL;
  g_autofree char *looked = NULL, *key = g_strdup_printf ("function|%s", name);

  pm_scope_init (&scope, library, beside, NULL);
  const PmXml *element = find_definition (&scope, "part", name, &entries, &looked, faults);
  PmPartEntry *entry = element != NULL ? g_hash_table_lookup (entries, key) : NULL;
  if (element == NULL && looked != NULL)
    no_part (&scope, name, name, spot, faults);
  if (element != NULL && entry == NULL) {
    entry = g_new0 (PmPartEntry, 1);
    entry->part = pm_part_read (element, NULL, faults);
    g_hash_table_insert (entries, g_steal_pointer (&key), entry);
  }
  if (entry != NULL)
    part = entry->part;
  pm_scope_clear (&scope);
  return part;
}

const PmFamily *
pm_library_family (PmLibrary *library, const char *beside, const char *name, PmSpot spot, PmFaults *faults)
{
  PmScope scope;

  pm_scope_init (&scope, library, beside, NULL);
  const PmFamily *family = pm_scope_family (&scope, name, spot, faults);
  pm_scope_clear (&scope);
  return family;
}
