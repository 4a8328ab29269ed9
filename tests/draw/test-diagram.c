/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The wiring diagram of every demo board and of random boards: clean geometry, the same every time, and what it says.
 *
 * --picture=DIR [BOARD...]: writes PNG files to be looked at, light, dark and grey, and nothing else.
 */
#include "fake.h"
#include "pm-diagram.h"
#include "pm-symbol.h"
#include "random-file.h"

#include <cairo-svg.h>
#include <string.h>

/* ---- boards */

static int
compare (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *)a, *(const char *const *)b);
}

static GPtrArray *
board_files (void)
{
  g_autofree char *folder = g_build_filename (g_getenv ("POINTSMAN_DATA"), "boards", NULL);
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ".board.xml"))
      g_ptr_array_add (names, g_build_filename (folder, name, NULL));
  g_ptr_array_sort (names, compare);
  return names;
}

typedef struct {
  PmLibrary *library;
  PmBoard *board;
  PmCheck *check;
} Subject;

static void
subject_free (Subject *subject)
{
  pm_check_free (subject->check);
  pm_board_free (subject->board);
  pm_library_free (subject->library);
  g_free (subject);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Subject, subject_free)

static Subject *
subject_new (const char *path)
{
  Subject *subject = g_new0 (Subject, 1);
  g_autoptr (PmFaults) faults = pm_faults_new ();

  subject->library = pm_library_new (NULL);
  subject->board = pm_board_load (path, subject->library, faults);
  g_assert_nonnull (subject->board);
  subject->check = pm_check_new (subject->board, NULL, NULL);
  g_assert_nonnull (subject->check);
  return subject;
}

static int
find_symbol (const PmDiagram *diagram, const char *name)
{
  for (guint i = 0; i < pm_diagram_n_elements (diagram); i++)
    if (g_str_equal (pm_diagram_element (diagram, i)->name, name))
      return (int)i;
  return -1;
}

/* ---- pictures */

static cairo_status_t
append (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* What an SVG picture says; names of its pieces count surfaces and are left out. */
static char *
hash_of (const PmCheck *check, PangoContext *context)
{
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_PAPER, NULL, 1);
  g_autoptr (PmDiagram) diagram = pm_diagram_new (check, style, context);
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  PmDiagramShow show = {.case_index = check->usual, .element = -1};
  double width, height;

  pm_diagram_size (diagram, &width, &height);
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream (append, bytes, width, height);
  cairo_t *cr = cairo_create (surface);
  pm_diagram_draw (diagram, cr, &show);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  g_assert_cmpuint (bytes->len, >, 500);
  g_autoptr (GRegex) names = g_regex_new ("(id|href|clip-path|url)=\"[^\"]*\"|url\\([^)]*\\)", 0, 0, NULL);
  g_autofree char *text = g_regex_replace (names, (const char *)bytes->data, (gssize)bytes->len, 0, "", 0, NULL);
  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, text, -1);
}

static void
to_grey (cairo_surface_t *surface)
{
  int width = cairo_image_surface_get_width (surface), height = cairo_image_surface_get_height (surface);
  int stride = cairo_image_surface_get_stride (surface);
  unsigned char *data = cairo_image_surface_get_data (surface);

  cairo_surface_flush (surface);
  for (int y = 0; y < height; y++) {
    guint32 *row = (guint32 *)(void *)(data + y * stride);
    for (int x = 0; x < width; x++) {
      guint32 p = row[x], grey = ((p >> 16 & 255) * 54 + (p >> 8 & 255) * 183 + (p & 255) * 19) >> 8;
      row[x] = 0xff000000u | grey << 16 | grey << 8 | grey;
    }
  }
  cairo_surface_mark_dirty (surface);
}

static void
picture (const PmDiagram *diagram, const PmStyle *style, const PmDiagramShow *show, const char *path, gboolean grey)
{
  double width, height, margin = 12;

  pm_diagram_size (diagram, &width, &height);
  cairo_surface_t *surface =
      cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int)(width + 2 * margin), (int)(height + 2 * margin));
  cairo_t *cr = cairo_create (surface);
  pm_style_set_source (cr, style->ground);
  cairo_paint (cr);
  cairo_translate (cr, margin, margin);
  pm_diagram_draw (diagram, cr, show);
  if (grey)
    to_grey (surface);
  g_assert_cmpint (cairo_surface_write_to_png (surface, path), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

static void
pictures_of (const char *folder, const char *path)
{
  static const struct {
    const char *name;
    PmScheme scheme;
    gboolean grey, live, pointed;
  } KINDS[] = {{"light", PM_SCHEME_LIGHT, FALSE, FALSE, FALSE},
               {"dark", PM_SCHEME_DARK, FALSE, TRUE, TRUE},
               {"grey", PM_SCHEME_PAPER, TRUE, TRUE, FALSE}};
  g_autoptr (Subject) subject = subject_new (path);
  g_autoptr (PmProbe) probe = pm_probe_new (subject->check);
  g_autoptr (GObject) owner = G_OBJECT (fake_context ());
  PangoContext *context = PANGO_CONTEXT (owner);
  g_autofree char *base = g_path_get_basename (path);

  *strchr (base, '.') = '\0';
  for (guint k = 0; k < G_N_ELEMENTS (KINDS); k++) {
    g_autoptr (PmStyle) style = pm_style_new (KINDS[k].scheme, NULL, 1);
    g_autoptr (PmDiagram) diagram = pm_diagram_new (subject->check, style, context);
    g_autofree char *out = g_strdup_printf ("%s/%s-%s.png", folder, base, KINDS[k].name);
    PmDiagramShow show = {.case_index = subject->check->n_settings > 1 && k > 0 ? 2 : subject->check->usual,
                          .element = -1};
    pm_probe_set (probe, show.case_index, MIN (1, pm_probe_n_states (probe) - 1));
    show.probe = KINDS[k].live ? probe : NULL;
    if (KINDS[k].pointed) {
      for (guint i = 0; i < pm_diagram_n_elements (diagram) && show.element < 0; i++)
        if (pm_diagram_element (diagram, i)->kind == PM_DIAGRAM_NET)
          show.element = (int)i;
      if (subject->check->n_findings > 0) {
        show.places = subject->check->findings[0].places;
        show.n_places = subject->check->findings[0].n_places;
      }
    }
    picture (diagram, style, &show, out, KINDS[k].grey);
    if (k == 0) {
      g_auto (GStrv) problems = pm_diagram_check (diagram);
      guint crossings, bends;
      double width, height;
      pm_diagram_counts (diagram, &crossings, &bends);
      pm_diagram_size (diagram, &width, &height);
      g_print ("%s: %.0f x %.0f, %u crossings, %u bends. %s\n", base, width, height, crossings, bends,
               pm_diagram_rest (diagram) != NULL ? pm_diagram_rest (diagram) : "");
      for (guint i = 0; problems[i] != NULL; i++)
        g_print ("  %s\n", problems[i]);
    }
  }
}

static int
pictures (const char *folder, int n, char **boards)
{
  g_autoptr (GPtrArray) files = board_files ();

  g_mkdir_with_parents (folder, 0755);
  for (guint i = 0; i < files->len && n == 0; i++)
    pictures_of (folder, g_ptr_array_index (files, i));
  for (int i = 0; i < n; i++)
    pictures_of (folder, boards[i]);
  return 0;
}

/* ---- tests */

/* What it looks like, as a short text. */
static char *
pixels_of (const PmDiagram *diagram, const PmDiagramShow *show)
{
  double width, height;

  pm_diagram_size (diagram, &width, &height);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, (int)width, (int)height);
  cairo_t *cr = cairo_create (surface);
  pm_diagram_draw (diagram, cr, show);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  char *hash = g_compute_checksum_for_data (G_CHECKSUM_SHA256, cairo_image_surface_get_data (surface),
                                            (gsize)cairo_image_surface_get_stride (surface) * (gsize)height);
  cairo_surface_destroy (surface);
  return hash;
}

static void
check_clean (const PmDiagram *diagram, const char *name)
{
  g_auto (GStrv) problems = pm_diagram_check (diagram);
  guint crossings, bends;

  for (guint i = 0; problems[i] != NULL; i++)
    g_test_message ("%s: %s", name, problems[i]);
  g_assert_null (problems[0]);
  pm_diagram_counts (diagram, &crossings, &bends);
  g_test_message ("%s: %u elements, %u crossings, %u bends", name, pm_diagram_n_elements (diagram), crossings, bends);
}

/* Elements and places know each other both ways, and every element has something to say. */
static void
check_elements (const PmDiagram *diagram, const PmBoard *board)
{
  for (guint i = 0; i < pm_diagram_n_elements (diagram); i++) {
    const PmDiagramElement *element = pm_diagram_element (diagram, i);
    g_assert_cmpuint (strlen (element->name), >, 0);
    g_assert_true (g_str_has_suffix (element->sentence, "."));
    g_assert_true (g_utf8_validate (element->sentence, -1, NULL));
    for (guint k = 0; k < element->n_others; k++) {
      const PmDiagramElement *other = pm_diagram_element (diagram, element->others[k]);
      gboolean back = FALSE;
      g_assert_cmpint (other->kind, !=, element->kind);
      for (guint b = 0; b < other->n_others; b++)
        back |= other->others[b] == i;
      g_assert_true (back);
    }
    for (guint k = 0; k < element->n_places; k++)
      g_assert_cmpint (pm_diagram_of_place (diagram, element->places[k]), >=, 0);
    if (element->kind == PM_DIAGRAM_SYMBOL)
      g_assert_cmpint (pm_diagram_at (diagram, element->area.x + element->area.width / 2,
                                      element->area.y + element->area.height / 2, 3),
                       ==, (int)i);
  }
  g_assert_cmpint (pm_diagram_of_place (diagram, board->n_places), ==, -1);
}

static void
test_demo_boards (void)
{
  g_autoptr (GPtrArray) files = board_files ();
  g_autoptr (GObject) owner = G_OBJECT (fake_context ());
  PangoContext *context = PANGO_CONTEXT (owner);
  static const double SCALES[] = {1, 2};

  g_assert_cmpuint (files->len, >=, 22);
  for (guint i = 0; i < files->len; i++)
    for (guint s = 0; s < G_N_ELEMENTS (SCALES); s++) {
      g_autoptr (Subject) subject = subject_new (g_ptr_array_index (files, i));
      g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_PAPER, NULL, SCALES[s]);
      g_autoptr (PmDiagram) diagram = pm_diagram_new (subject->check, style, context);
      g_autofree char *base = g_path_get_basename (g_ptr_array_index (files, i));
      check_clean (diagram, base);
      check_elements (diagram, subject->board);
    }
}

static void
test_same (void)
{
  g_autoptr (GPtrArray) files = board_files ();
  g_autoptr (GObject) owner = G_OBJECT (fake_context ());
  PangoContext *context = PANGO_CONTEXT (owner);

  for (guint i = 0; i < files->len; i++) {
    g_autoptr (Subject) first = subject_new (g_ptr_array_index (files, i));
    g_autoptr (Subject) second = subject_new (g_ptr_array_index (files, i));
    g_autofree char *a = hash_of (first->check, context), *b = hash_of (second->check, context);
    g_assert_cmpstr (a, ==, b);
  }
}

/* Boards from a text made at random; the check of such a board is not asked, only its circuit drawn. */
static void
test_random (void)
{
  g_autoptr (GObject) owner = G_OBJECT (fake_context ());
  PangoContext *context = PANGO_CONTEXT (owner);
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_PAPER, NULL, 1);
#ifdef __SANITIZE_ADDRESS__
  guint n = 15;
#else
  guint n = g_test_thorough () ? 400 : 60;
#endif

  for (guint32 seed = 1; seed <= n; seed++) {
    g_autoptr (PmLibrary) library = pm_library_new (NULL);
    g_autoptr (PmFaults) faults = pm_faults_new ();
    g_autofree char *text = random_file_new (seed, 3 + seed * 57 / n), *name = g_strdup_printf ("random %u", seed);
    PmBoard *board = pm_board_load_text ("random.board.xml", text, strlen (text), library, faults);
    if (board == NULL)
      g_test_message ("%s", text);
    g_assert_nonnull (board);
    PmCheck check = {.board = board};
    PmDiagram *diagram = pm_diagram_new (&check, style, context);
    check_clean (diagram, name);
    check_elements (diagram, board);
    pm_diagram_free (diagram);
    pm_board_free (board);
  }
}

static void
test_words (void)
{
  g_autofree char *path = g_build_filename (g_getenv ("POINTSMAN_DATA"), "boards", "swap-by-chip.board.xml", NULL);
  g_autoptr (Subject) subject = subject_new (path);
  g_autoptr (GObject) owner = G_OBJECT (fake_context ());
  PangoContext *context = PANGO_CONTEXT (owner);
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_LIGHT, NULL, 1);
  g_autoptr (PmDiagram) diagram = pm_diagram_new (subject->check, style, context);
  g_autoptr (PmProbe) probe = pm_probe_new (subject->check);
  int section = find_symbol (diagram, "U1 section 1"), choose = find_symbol (diagram, "choose");

  g_assert_cmpint (section, >=, 0);
  g_assert_cmpint (choose, >=, 0);
  g_assert_cmpint (find_symbol (diagram, "U1 section 3"), >=, 0);
  g_assert_cmpstr (pm_diagram_element (diagram, section)->sentence, ==,
                   "U1.1, 74LS157, selector: /G on 0V, S on choose, 1A on SEL0 (X1.11), 1B on SEL1 (X1.12), "
                   "1Y on SEL0 (P1.11).");
  g_assert_nonnull (strstr (pm_diagram_element (diagram, find_symbol (diagram, "U1 section 3"))->sentence, "spare"));
  g_assert_nonnull (strstr (pm_diagram_rest (diagram), "more pins go straight through."));
  pm_probe_set (probe, 1, 0);
  g_autofree char *now = pm_diagram_now (diagram, (guint)choose, probe);
  g_assert_true (g_str_has_prefix (now, "choose: low. "));
  g_assert_nonnull (strstr (now, "U1.S"));
  pm_probe_set (probe, 2, 0);
  g_autofree char *later = pm_diagram_now (diagram, (guint)choose, probe);
  g_assert_true (g_str_has_prefix (later, "choose: high. "));
}

/* What a case, a probe, a pointer and a finding show is drawn over the same geometry, and each of them is seen. */
static void
test_shown (void)
{
  g_autoptr (GPtrArray) files = board_files ();
  g_autoptr (GObject) owner = G_OBJECT (fake_context ());
  PangoContext *context = PANGO_CONTEXT (owner);
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_DARK, NULL, 1);

  for (guint i = 0; i < files->len; i++) {
    g_autoptr (Subject) subject = subject_new (g_ptr_array_index (files, i));
    g_autoptr (PmProbe) probe = pm_probe_new (subject->check);
    g_autoptr (PmDiagram) diagram = pm_diagram_new (subject->check, style, context);
    PmDiagramShow show = {.element = -1};
    for (guint c = 0; c < subject->check->n_cases; c++) {
      show.case_index = c;
      pm_probe_set (probe, c, c % pm_probe_n_states (probe));
      show.probe = NULL;
      g_autofree char *plain = pixels_of (diagram, &show);
      show.probe = probe;
      g_autofree char *live = pixels_of (diagram, &show);
      g_assert_cmpstr (plain, !=, live);
    }
    g_autofree char *before = pixels_of (diagram, &show);
    show.element = 0;
    g_autofree char *pointed = pixels_of (diagram, &show);
    g_assert_cmpstr (before, !=, pointed);
    show.element = -1;
    show.places = pm_diagram_element (diagram, 0)->places;
    show.n_places = pm_diagram_element (diagram, 0)->n_places;
    g_autofree char *marked = pixels_of (diagram, &show);
    g_assert_cmpstr (before, !=, marked);
    show.n_places = 0;
    g_autofree char *after = pixels_of (diagram, &show);
    g_assert_cmpstr (before, ==, after);
  }
}

/* Shapes come from the tables. */
static void
test_shapes (void)
{
  static const struct {
    const char *is, *section;
    PmSymbolShape shape;
    gboolean negated, open;
    const char *qualifier;
  } CASES[] = {
      {"74LS00", "1", PM_SYMBOL_AND, TRUE, FALSE, ""},      {"74LS02", "1", PM_SYMBOL_OR, TRUE, FALSE, ""},
      {"74LS04", "1", PM_SYMBOL_BUFFER, TRUE, FALSE, ""},   {"7406", "1", PM_SYMBOL_BUFFER, TRUE, TRUE, ""},
      {"7407", "1", PM_SYMBOL_BUFFER, FALSE, TRUE, ""},     {"74LS08", "1", PM_SYMBOL_AND, FALSE, FALSE, ""},
      {"74LS32", "1", PM_SYMBOL_OR, FALSE, FALSE, ""},      {"74LS86", "1", PM_SYMBOL_XOR, FALSE, FALSE, ""},
      {"7438", "1", PM_SYMBOL_AND, TRUE, TRUE, ""},         {"74LS157", "1", PM_SYMBOL_BOX, FALSE, FALSE, "MUX"},
      {"74LS153", "1", PM_SYMBOL_BOX, FALSE, FALSE, "MUX"}, {"74LS139", "1", PM_SYMBOL_BOX, FALSE, FALSE, "X/Y"},
      {"74LS138", "", PM_SYMBOL_BOX, FALSE, FALSE, "X/Y"},  {"74LS125", "1", PM_SYMBOL_BOX, FALSE, FALSE, "1"},
      {"74LS74", "1", PM_SYMBOL_BOX, FALSE, FALSE, ""},     {"74CBT3257", "1", PM_SYMBOL_BOX, FALSE, FALSE, "SW"}};
  g_autoptr (PmLibrary) library = pm_library_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (CASES); i++) {
    g_autoptr (PmFaults) faults = pm_faults_new ();
    const PmPart *part = pm_library_part (library, NULL, CASES[i].is, NULL, NULL, (PmSpot){0}, faults);
    g_assert_nonnull (part);
    PmSymbolLook look = pm_symbol_of_section (part, CASES[i].section);
    g_test_message ("%s: %s", CASES[i].is, pm_symbol_words (look));
    g_assert_cmpint (look.shape, ==, CASES[i].shape);
    g_assert_cmpint (look.negated, ==, CASES[i].negated);
    g_assert_cmpint (look.open_collector, ==, CASES[i].open);
    g_assert_cmpstr (look.qualifier, ==, CASES[i].qualifier);
  }
}

int
main (int argc, char **argv)
{
  if (argc > 1 && g_str_has_prefix (argv[1], "--picture="))
    return pictures (argv[1] + strlen ("--picture="), argc - 2, argv + 2);
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/diagram/shapes", test_shapes);
  g_test_add_func ("/diagram/words", test_words);
  g_test_add_func ("/diagram/demo-boards", test_demo_boards);
  g_test_add_func ("/diagram/same", test_same);
  g_test_add_func ("/diagram/shown", test_shown);
  g_test_add_func ("/diagram/random", test_random);
  return g_test_run ();
}
