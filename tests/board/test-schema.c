/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The schema, which editors ask, and the reader, which is the judge, give the same yes and no: over every file there
 * is, right or wrong, and over every file with one thing put in or taken out.
 *
 * Only what stands where is compared.  Names, pins, settings and values are for the reader alone. */
#include "pm-board.h"
#include "pm-library-private.h"
#include "pm-vocabulary.h"

#include <libxml/parser.h>
#include <libxml/relaxng.h>
#include <string.h>

typedef struct {
  xmlRelaxNGPtr schema;
  xmlRelaxNGValidCtxtPtr validity;
} Schema;

static Schema schema;

static void
be_silent (void *data, xmlErrorPtr error)
{
}

static void
keep_message (void *data, xmlErrorPtr error)
{
  char **message = data;

  if (*message == NULL)
    *message = g_strdup_printf ("%d: %s", error->line, error->message);
}

static void
schema_start (void)
{
  g_autofree char *path = g_build_filename (g_getenv ("POINTSMAN_DATA"), "schema", "pointsman.rng", NULL);
  xmlRelaxNGParserCtxtPtr parser = xmlRelaxNGNewParserCtxt (path);

  schema.schema = xmlRelaxNGParse (parser);
  g_assert_nonnull (schema.schema);
  schema.validity = xmlRelaxNGNewValidCtxt (schema.schema);
  xmlRelaxNGFreeParserCtxt (parser);
}

static void
schema_end (void)
{
  xmlRelaxNGFreeValidCtxt (schema.validity);
  xmlRelaxNGFree (schema.schema);
  xmlRelaxNGCleanupTypes ();
  xmlCleanupParser ();
}

static xmlDocPtr
parse (const char *text, gsize length)
{
  return xmlReadMemory (text, length, "file", NULL, XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING);
}

/* why: the first thing the schema says against it. */
static gboolean
schema_allows (const char *text, gsize length, char **why)
{
  xmlDocPtr doc = parse (text, length);

  if (doc == NULL) {
    *why = g_strdup ("not well-formed");
    return FALSE;
  }
  xmlRelaxNGSetValidStructuredErrors (schema.validity, keep_message, why);
  int result = xmlRelaxNGValidateDoc (schema.validity, doc);
  xmlRelaxNGSetValidStructuredErrors (schema.validity, be_silent, NULL);
  xmlFreeDoc (doc);
  return result == 0;
}

/* Whether everything stands where it may; the root may be of any kind that there is. */
static gboolean
vocabulary_allows (const char *text, gsize length, const char *root, char **why)
{
  static const char *const kinds[] = { "board", "host", "drive", "part", "family", "setup", NULL };
  g_autoptr (PmFaults) faults = pm_faults_new ();
  const char *kind = g_strv_contains (kinds, root) ? root : "board";
  g_autoptr (PmXmlFile) file = pm_xml_parse ("file", text, length, kind, faults);

  if (file != NULL)
    pm_vocabulary_check (pm_xml_root (file), faults);
  if (pm_faults_count (faults) > 0)
    *why = pm_fault_to_text (pm_faults_get (faults, 0));
  return pm_faults_count (faults) == 0;
}

/* The file as part of a board that uses it: what it lacks may be told only when it is used. */
static char *
board_around (const char *text, const PmXml *root)
{
  const char *element = strstr (text, "?>"), *name = pm_xml_get (root, "name");
  const char *format;

#define BOARD "<board xmlns=\"" PM_XML_NAMESPACE "\">"
  element = element != NULL ? element + 2 : text;
  if (pm_xml_is (root, "board"))
    return g_strdup (text);
  if (pm_xml_is (root, "host"))
    format = BOARD "%s</board><!-- %s -->";
  else if (pm_xml_is (root, "drive"))
    format = BOARD "<host is=\"larkspur-40\"/>%s<drive name=\"D\" is=\"%s\" into=\"internal\"/></board>";
  else
    format = BOARD "%s<setup is=\"%s\"/></board>";
  return g_strdup_printf (format, element, name != NULL ? name : "x");
}

/* Whether the whole reader has nothing against it, values and names included. */
static gboolean
reader_allows (const char *text, gsize length, const char *kind)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autoptr (PmXmlFile) file = pm_xml_parse ("file", text, length, kind, faults);

  if (file == NULL || !pm_vocabulary_check (pm_xml_root (file), faults))
    return FALSE;
  if (g_str_equal (kind, "family")) {
    pm_family_free (pm_family_read (pm_xml_root (file), faults));
  } else if (g_str_equal (kind, "part")) {
    g_autofree char *argument = g_strdup ("1x3");
    PmPartSize size = { argument, NULL };
    pm_part_free (pm_part_read (pm_xml_root (file), &size, faults));
  } else {
    g_autoptr (PmLibrary) library = pm_library_new (NULL);
    g_autofree char *around = board_around (text, pm_xml_root (file));
    g_autoptr (PmBoard) board = pm_board_load_text ("board.xml", around, strlen (around), library, faults);
  }
  return pm_faults_count (faults) == 0;
}

static char *
root_name (const char *text, gsize length)
{
  xmlDocPtr doc = parse (text, length);
  xmlNodePtr root = doc != NULL ? xmlDocGetRootElement (doc) : NULL;
  char *name = g_strdup (root != NULL ? (const char *) root->name : "board");

  if (doc != NULL)
    xmlFreeDoc (doc);
  return name;
}

/* ---- files */

static int
compare_paths (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

static GPtrArray *
data_files (void)
{
  static const char *const folders[] = { "boards", "hosts", "drives", "parts", "families", "setups" };
  GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < G_N_ELEMENTS (folders); i++) {
    g_autofree char *folder = g_build_filename (g_getenv ("POINTSMAN_DATA"), folders[i], NULL);
    g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
    g_assert_nonnull (dir);
    for (const char *name; (name = g_dir_read_name (dir)) != NULL;)
      if (g_str_has_suffix (name, ".xml"))
        g_ptr_array_add (paths, g_build_filename (folder, name, NULL));
  }
  g_ptr_array_sort (paths, compare_paths);
  g_assert_cmpuint (paths->len, >=, 90);
  return paths;
}

/* What ships is right for both. */
static void
test_data (void)
{
  g_autoptr (GPtrArray) paths = data_files ();
  g_autoptr (PmLibrary) library = pm_library_new (NULL);

  for (guint i = 0; i < paths->len; i++) {
    g_autofree char *text = NULL, *says = NULL, *finds = NULL;
    gsize length;
    g_assert_true (g_file_get_contents (paths->pdata[i], &text, &length, NULL));
    g_autofree char *root = root_name (text, length);
    if (!schema_allows (text, length, &says))
      g_error ("%s: the schema says: %s", (char *) paths->pdata[i], says);
    if (!vocabulary_allows (text, length, root, &finds))
      g_error ("%s: the reader says: %s", (char *) paths->pdata[i], finds);
    if (!g_str_equal (root, "board"))
      continue;
    g_autoptr (PmFaults) faults = pm_faults_new ();
    g_autoptr (PmBoard) board = pm_board_load (paths->pdata[i], library, faults);
    if (board == NULL) {
      g_autofree char *fault = pm_fault_to_text (pm_faults_get (faults, 0));
      g_error ("the reader says: %s", fault);
    }
  }
}

/* ---- faulty files */

/* What no schema can see, by what it takes to see it.  Every other faulty file is refused by both. */
static const struct { const char *what; const char *files; } only_reader[] = {
  { "which kind is wanted where, and that there is a host",
    "wrong-root.board.xml two-hosts.board.xml no-host.board.xml" },
  { "declarations and encodings, which the reader refuses although XML has them",
    "attribute-default.board.xml parameter-entity.board.xml utf-16.board.xml "
    "latin-1-said.board.xml" },
  { "names of parts, families, hosts and drives, and sizes",
    "unknown-parts.board.xml families.board.xml embedded.board.xml duplicate-names.board.xml no-parts.board.xml "
    "sizes.board.xml part-files.board.xml sample-part/boot-swap.board.xml sample-host/boot-swap.board.xml" },
  { "files that are named, and are wrong themselves",
    "bad-drive.board.xml bad-host.board.xml no-pins.board.xml part-facts.board.xml" },
  { "pins, joins and rails",
    "nets.board.xml two-named-joins.board.xml bad-drive-pins.board.xml drives.board.xml rails.board.xml "
    "no-supply.board.xml no-rail.host.xml many.board.xml several.board.xml sample-pin/boot-swap.board.xml "
    "sample-join/boot-swap.board.xml" },
  { "what fits into what, and what is cut",
    "plugs.board.xml cables.board.xml no-sides.board.xml sits-twice.board.xml sits-nowhere.board.xml "
    "sits-at-loose-drive.board.xml sits-in-resistor.board.xml cuts.board.xml cuts-elsewhere.board.xml" },
  { "positions and settings",
    "positions.board.xml settings.board.xml settings-ambiguous.board.xml settings-without-switch.board.xml "
    "wanted.board.xml wanted-like.board.xml wanted-like-none.board.xml wanted-ties.board.xml accept.board.xml "
    "sample-setting/boot-swap.board.xml" },
  { "quantities and numbers", "values.board.xml vague.family.xml" },
  { "pins and tables of parts",
    "no-pins.drive.xml empty-pins.part.xml no-part-pins.part.xml odd-chip.part.xml vague-chip.part.xml "
    "table-cells.board.xml table-cells.part.xml table-columns.board.xml table-columns.part.xml "
    "table-contradiction.board.xml table-contradiction.part.xml table-gap.board.xml table-gap.part.xml" },
};

static const char *
why_only_reader (const char *file)
{
  for (guint i = 0; i < G_N_ELEMENTS (only_reader); i++) {
    g_auto (GStrv) files = g_strsplit (only_reader[i].files, " ", -1);
    if (g_strv_contains ((const char *const *) files, file))
      return only_reader[i].what;
  }
  return NULL;
}

/* Paths from folder on, of every XML file in and below it. */
static void
collect_faults (const char *folder, const char *prefix, GPtrArray *files)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);

  g_assert_nonnull (dir);
  for (const char *name; (name = g_dir_read_name (dir)) != NULL;) {
    g_autofree char *path = g_build_filename (folder, name, NULL);
    g_autofree char *shown = g_strconcat (prefix, name, NULL);
    if (g_file_test (path, G_FILE_TEST_IS_DIR)) {
      g_autofree char *below = g_strconcat (shown, "/", NULL);
      collect_faults (path, below, files);
    } else if (g_str_has_suffix (name, ".xml"))
      g_ptr_array_add (files, g_steal_pointer (&shown));
  }
}

static void
test_faults (void)
{
  g_autofree char *folder = g_test_build_filename (G_TEST_DIST, "board", "faults", NULL);
  g_autoptr (GPtrArray) files = g_ptr_array_new_with_free_func (g_free);
  guint n_both = 0, n_wrong = 0;

  collect_faults (folder, "", files);
  g_ptr_array_sort (files, compare_paths);
  for (guint i = 0; i < files->len; i++) {
    const char *file = files->pdata[i], *only = why_only_reader (file);
    g_autofree char *path = g_build_filename (folder, file, NULL), *text = NULL, *says = NULL;
    gsize length;
    g_assert_true (g_file_get_contents (path, &text, &length, NULL));
    if (schema_allows (text, length, &says) != (only != NULL)) {
      g_test_message (only != NULL ? "%s: is listed here, but the schema says: %s"
                                   : "%s: the schema allows it. List it if its fault is not one of structure%s",
                      file, only != NULL ? says : "");
      n_wrong++;
    }
    /* Whatever the schema refuses, the reader refuses too. */
    g_autofree char *kind = root_name (text, length);
    if (only == NULL && reader_allows (text, length, kind)) {
      g_test_message ("%s: the reader allows it, the schema says: %s", file, says);
      n_wrong++;
    }
    n_both += only == NULL;
  }
  g_assert_cmpuint (n_wrong, ==, 0);
  g_assert_cmpuint (n_both, >=, 25);
}

/* ---- one thing different */

/* A value that each attribute may have, where not any text will do. */
static const struct { const char *element, *attribute, *value; } values[] = {
  { NULL, "assumed", "yes" },
  { NULL, "turns", "yes" },
  { NULL, "removable", "yes" },
  { NULL, "keyed", "yes" },
  { NULL, "turned", "yes" },
  { NULL, "always-one", "yes" },
  { NULL, "idle", "yes" },
  { NULL, "look", "toggle" },
  { NULL, "moved", "once" },
  { NULL, "contacts", "break-first" },
  { "gives", "while", "always" },
  { NULL, "while", "off" },
  { NULL, "kind", "chip" },
  { NULL, "rows", "2" },
  { NULL, "open-input", "high" },
  { NULL, "unpowered", "off" },
  { NULL, "level", "low" },
  { NULL, "asserted", "low" },
  { NULL, "holds", "low" },
  { NULL, "drives", "push-pull" },
  { NULL, "reads", "TTL" },
  { NULL, "in-reset", "low" },
  { NULL, "latched", "select" },
  { NULL, "at-power-on", "asserted" },
  { NULL, "as", "push-pull" },
  { NULL, "size", "count" },
};

static const char *
value_for (const char *element, const char *attribute)
{
  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    if (g_str_equal (values[i].attribute, attribute)
        && (values[i].element == NULL || g_str_equal (values[i].element, element)))
      return values[i].value;
  return "x";
}

/* One place where an element stands in some file: the first of its kind. */
typedef struct {
  char      *path; /* "board>drive is>position": what it stands in; "is" where it names what is defined elsewhere */
  xmlDocPtr  doc;  /* of its own */
  xmlNodePtr node;
} Sample;

static char *
path_of (xmlNodePtr node)
{
  gboolean inside = node->parent != NULL && node->parent->type == XML_ELEMENT_NODE;
  g_autofree char *outer = inside ? path_of (node->parent) : NULL;

  return g_strconcat (outer != NULL ? outer : "", outer != NULL ? ">" : "", (const char *) node->name,
                      xmlHasProp (node, BAD_CAST "is") != NULL ? " is" : "", NULL);
}

/* The last step of a path. */
static const char *
last_of (const char *path)
{
  const char *mark = strrchr (path, '>');

  return mark != NULL ? mark + 1 : path;
}

/* The same element in another reading of the same file. */
static xmlNodePtr
find_path (xmlNodePtr node, const char *path)
{
  g_autofree char *own = path_of (node);

  if (g_str_equal (own, path))
    return node;
  for (xmlNodePtr child = xmlFirstElementChild (node); child != NULL; child = xmlNextElementSibling (child)) {
    xmlNodePtr found = find_path (child, path);
    if (found != NULL)
      return found;
  }
  return NULL;
}

/* Names of all attributes that the schema knows, and one that nobody knows. */
static void
collect_attributes (xmlNodePtr node, GHashTable *attributes)
{
  xmlChar *name = xmlGetNoNsProp (node, BAD_CAST "name");

  if (name != NULL && g_str_equal (node->name, "attribute"))
    g_hash_table_add (attributes, g_strdup ((const char *) name));
  xmlFree (name);
  for (xmlNodePtr child = xmlFirstElementChild (node); child != NULL; child = xmlNextElementSibling (child))
    collect_attributes (child, attributes);
}

static void
read_attributes (GHashTable *attributes)
{
  g_autofree char *path = g_build_filename (g_getenv ("POINTSMAN_DATA"), "schema", "pointsman.rng", NULL);
  xmlDocPtr doc = xmlReadFile (path, NULL, XML_PARSE_NONET);

  collect_attributes (xmlDocGetRootElement (doc), attributes);
  g_assert_cmpuint (g_hash_table_size (attributes), >, 60);
  g_hash_table_add (attributes, g_strdup ("unheard-of"));
  xmlFreeDoc (doc);
}

static void
collect (xmlNodePtr node, const char *text, gsize length, GHashTable *samples)
{
  char *path = path_of (node);

  if (!g_hash_table_contains (samples, path)) {
    Sample *sample = g_new0 (Sample, 1);
    sample->path = path;
    sample->doc = parse (text, length);
    sample->node = find_path (xmlDocGetRootElement (sample->doc), path);
    g_assert_nonnull (sample->node);
    g_hash_table_insert (samples, path, sample);
  } else
    g_free (path);
  for (xmlNodePtr child = xmlFirstElementChild (node); child != NULL; child = xmlNextElementSibling (child))
    collect (child, text, length, samples);
}

static void
sample_free (gpointer data)
{
  Sample *sample = data;

  xmlFreeDoc (sample->doc);
  g_free (sample->path);
  g_free (sample);
}

typedef struct { guint n_both_allow, n_both_refuse, n_later, n_differ; } Tally;

/* The schema may refuse at once what the reader refuses only when it comes to use it. */
static void
compare (const Sample *sample, const char *change, const char *what, Tally *tally)
{
  xmlChar *text = NULL;
  int length = 0;
  g_autofree char *says = NULL, *finds = NULL;

  xmlDocDumpMemory (sample->doc, &text, &length);
  gboolean by_schema = schema_allows ((const char *) text, length, &says);
  const char *kind = (const char *) xmlDocGetRootElement (sample->doc)->name;
  gboolean by_reader = vocabulary_allows ((const char *) text, length, kind, &finds);
  if (by_schema == by_reader) {
    tally->n_both_allow += by_schema;
    tally->n_both_refuse += !by_schema;
  } else if (by_reader && !reader_allows ((const char *) text, length, kind)) {
    tally->n_later++;
  } else {
    tally->n_differ++;
    g_test_message ("%s %s %s: %s", sample->path, change, what, by_schema ? finds : says);
  }
  xmlFree (text);
}

static void
change_attributes (const Sample *sample, GHashTable *attributes, Tally *tally)
{
  GHashTableIter iter;
  gpointer name;

  g_hash_table_iter_init (&iter, attributes);
  while (g_hash_table_iter_next (&iter, &name, NULL)) {
    xmlChar *old = xmlGetNoNsProp (sample->node, name);
    if (old != NULL) {
      xmlUnsetProp (sample->node, name);
      compare (sample, "without", name, tally);
      xmlSetProp (sample->node, name, old);
      xmlFree (old);
    } else {
      xmlSetProp (sample->node, name, BAD_CAST value_for ((const char *) sample->node->name, name));
      compare (sample, "with", name, tally);
      xmlUnsetProp (sample->node, name);
    }
  }
}

static void
change_children (const Sample *sample, GHashTable *samples, Tally *tally)
{
  g_autoptr (GHashTable) done = g_hash_table_new (g_str_hash, g_str_equal);
  GHashTableIter iter;
  gpointer other;

  g_hash_table_iter_init (&iter, samples);
  while (g_hash_table_iter_next (&iter, NULL, &other)) {
    const Sample *from = other;
    if (!g_hash_table_add (done, (gpointer) last_of (from->path)))
      continue;
    xmlNodePtr copy = xmlDocCopyNode (from->node, sample->doc, 1);
    xmlAddChild (sample->node, copy);
    compare (sample, "with inside", from->path, tally);
    xmlUnlinkNode (copy);
    xmlFreeNode (copy);
  }
}

static void
change_text (const Sample *sample, Tally *tally)
{
  xmlNodePtr text = xmlNewDocText (sample->doc, BAD_CAST " word ");

  /* Behind a comment, so that it does not flow into other text and can be taken out again. */
  xmlNodePtr comment = xmlNewDocComment (sample->doc, BAD_CAST "c");
  xmlAddChild (sample->node, comment);
  xmlAddChild (sample->node, text);
  compare (sample, "with", "loose text", tally);
  xmlUnlinkNode (text);
  xmlFreeNode (text);
  xmlUnlinkNode (comment);
  xmlFreeNode (comment);
}

static void
test_one_different (void)
{
  g_autoptr (GPtrArray) paths = data_files ();
  g_autoptr (GHashTable) samples = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, sample_free);
  g_autoptr (GHashTable) attributes = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Tally tally = { 0 };
  GHashTableIter iter;
  gpointer sample;

  for (guint i = 0; i < paths->len; i++) {
    g_autofree char *text = NULL;
    gsize length;
    g_assert_true (g_file_get_contents (paths->pdata[i], &text, &length, NULL));
    xmlDocPtr doc = parse (text, length);
    collect (xmlDocGetRootElement (doc), text, length, samples);
    xmlFreeDoc (doc);
  }
  read_attributes (attributes);
  g_hash_table_iter_init (&iter, samples);
  while (g_hash_table_iter_next (&iter, NULL, &sample)) {
    change_attributes (sample, attributes, &tally);
    change_children (sample, samples, &tally);
    change_text (sample, &tally);
  }
  g_test_message ("%u elements, %u attributes: both allow %u, both refuse %u, the reader later %u, they differ in %u",
                  g_hash_table_size (samples), g_hash_table_size (attributes), tally.n_both_allow, tally.n_both_refuse,
                  tally.n_later, tally.n_differ);
  g_assert_cmpuint (tally.n_both_allow, >, 500);
  g_assert_cmpuint (tally.n_both_refuse, >, 5000);
  g_assert_cmpuint (tally.n_differ, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  schema_start ();
  g_test_add_func ("/schema/data", test_data);
  g_test_add_func ("/schema/faults", test_faults);
  g_test_add_func ("/schema/one-different", test_one_different);
  int status = g_test_run ();
  schema_end ();
  return status;
}
