/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pin map: fates by a slow rule of its own, numbers of published packages, lengths read back from the finished
 * drawing, clean geometry for every demo board, what meets what when turned or mirrored. */
#include "config.h"
#include "fake.h"
#include "pm-library.h"
#include "pm-pin-map.h"
#include <cairo-svg.h>
#include <libintl.h>
#include <locale.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define ONE_TO_ONE (72 / 25.4)

typedef struct {
  char      *name;
  PmLibrary *library;
  PmBoard   *board;
  PmCheck   *check;
  PmPinMap  *map;           /* NULL where the board sits nowhere */
} Demo;

static void
demo_free (Demo *demo)
{
  pm_pin_map_free (demo->map);
  pm_check_free (demo->check);
  pm_board_free (demo->board);
  pm_library_free (demo->library);
  g_free (demo->name);
  g_free (demo);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Demo, demo_free)

static Demo *
demo_new (const char *name, const char *text)
{
  g_autofree char *path = g_build_filename (g_getenv ("POINTSMAN_DATA"), "boards", name, NULL);
  g_autoptr (PmFaults) faults = pm_faults_new ();
  Demo *demo = g_new0 (Demo, 1);

  demo->name = g_strdup (name);
  demo->library = pm_library_new (NULL);
  demo->board = text ? pm_board_load_text (path, text, strlen (text), demo->library, faults)
                     : pm_board_load (path, demo->library, faults);
  g_assert_nonnull (demo->board);
  demo->check = pm_check_new (demo->board, NULL, NULL);
  demo->map = pm_pin_map_new (demo->check);
  return demo;
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* All demo boards; with sanitizers, which make text fifty times slower, every fifth. */
#ifdef __SANITIZE_ADDRESS__
#define STEP 5
#else
#define STEP 1
#endif
static GPtrArray *
demos_new (void)
{
  g_autofree char *folder = g_build_filename (g_getenv ("POINTSMAN_DATA"), "boards", NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  GPtrArray *demos = g_ptr_array_new_with_free_func ((GDestroyNotify) demo_free);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  while ((name = g_dir_read_name (dir)))
    if (g_str_has_suffix (name, ".board.xml"))
      g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, by_name);
  for (guint i = 0; i < names->len; i += STEP)
    g_ptr_array_add (demos, demo_new (g_ptr_array_index (names, i), NULL));
  g_assert_cmpuint (demos->len, >=, 20 / STEP);
  return demos;
}

/* ---- fates, by a rule of its own: labels spread until none changes */

static void
spread (guint32 *labels, const PmBoard *board, gboolean own)
{
  gboolean moved = TRUE;

  while (moved) {
    moved = FALSE;
    for (guint j = 0; j < board->n_joins; j++) {
      const PmJoin *join = &board->joins[j];
      if (join->kind == PM_JOIN_CUT || join->kind == PM_JOIN_THROUGH || (join->owner == PM_OWNER_BOARD) != own)
        continue;
      for (guint a = 0; a < join->n_places; a++)
        for (guint b = 0; b < join->n_places; b++)
          if (labels[join->places[a]] < labels[join->places[b]]) {
            labels[join->places[b]] = labels[join->places[a]];
            moved = TRUE;
          }
    }
    for (guint m = 0; m < board->n_matings && !own; m++)
      for (guint k = 0; k < board->matings[m].n_pairs && board->matings[m].when != PM_MATING_WITH_BOARD; k++) {
        guint32 *a = &labels[board->matings[m].pairs[k].a], *b = &labels[board->matings[m].pairs[k].b];
        if (*a != *b) {
          *a = *b = MIN (*a, *b);
          moved = TRUE;
        }
      }
  }
}

static gboolean
alone (const guint32 *labels, const PmBoard *board, guint32 place)
{
  for (guint32 p = 0; p < board->n_places; p++)
    if (p != place && labels[p] == labels[place])
      return FALSE;
  return TRUE;
}

/* Whether a file of the machine or a drive says anything of what is on a place. */
static gboolean
spoken_of (const guint32 *labels, const PmBoard *board, guint32 place)
{
#define ON(p) ((p) < board->n_places && labels[p] == labels[place])
  for (guint j = 0; j < board->n_joins; j++)
    for (guint k = 0; k < board->joins[j].n_places; k++)
      if (board->joins[j].owner != PM_OWNER_BOARD && ON (board->joins[j].places[k]))
        return TRUE;
  for (guint l = 0; l < board->host.n_lines; l++)
    if (ON (board->host.lines[l].place))
      return TRUE;
  for (guint r = 0; r < board->n_rails; r++)
    for (guint k = 0; k < board->rails[r].n_places; k++)
      if (ON (board->rails[r].places[k]))
        return TRUE;
  for (guint d = 0; d < board->n_drives; d++) {
    const PmDrive *drive = &board->drives[d];
    for (guint k = 0; k < drive->n_needs; k++)
      if (ON (drive->needs[k].place))
        return TRUE;
    for (guint k = 0; k < drive->n_gives; k++)
      if (ON (drive->gives[k].place))
        return TRUE;
    for (guint a = 0; a < drive->n_answers; a++)
      for (guint k = 0; k < drive->answers[a].n_whens; k++)
        if (ON (drive->answers[a].whens[k].place))
          return TRUE;
  }
  return FALSE;
#undef ON
}

static PmPinFate
slow_fate (const PmBoard *board, const guint32 *own, const guint32 *outside, guint pin)
{
  guint32 chip = board->instances[board->socket].first_place + pin;
  guint32 machine = board->instances[board->plug].first_place + pin, met = PM_NONE;
  gboolean cut = FALSE, joined = !alone (own, board, chip) || !alone (own, board, machine);

  for (guint j = 0; j < board->n_joins; j++)
    if (board->joins[j].kind == PM_JOIN_CUT && board->joins[j].places[1] == chip)
      cut = TRUE;
  for (guint m = 0; m < board->n_matings; m++)
    for (guint k = 0; k < board->matings[m].n_pairs; k++)
      if (board->matings[m].pairs[k].a == machine)
        met = board->matings[m].pairs[k].b;
  if (cut)
    return joined ? PM_PIN_REROUTED : PM_PIN_CUT;
  if (joined)
    return PM_PIN_TAPPED;
  return met != PM_NONE && spoken_of (outside, board, met) ? PM_PIN_THROUGH : PM_PIN_UNUSED;
}

static void
test_fates (void)
{
  g_autoptr (GPtrArray) demos = demos_new ();
  guint seen[PM_N_PIN_FATES] = { 0 };

  for (guint i = 0; i < demos->len; i++) {
    const Demo *demo = demos->pdata[i];
    const PmBoard *board = demo->board;
    g_assert_cmpint (demo->map != NULL, ==, board->has_board);
    if (!demo->map)
      continue;
    g_autofree guint32 *own = g_new (guint32, board->n_places), *outside = g_new (guint32, board->n_places);
    for (guint32 p = 0; p < board->n_places; p++)
      own[p] = outside[p] = p;
    spread (own, board, TRUE);
    spread (outside, board, FALSE);
    for (guint p = 0; p < pm_pin_map_n_pins (demo->map); p++) {
      const PmPinFact *pin = pm_pin_map_pin (demo->map, p);
      if (pin->fate != slow_fate (board, own, outside, p))
        g_error ("%s: pin %s is %s", demo->name, pin->number, pm_pin_fate_words (pin->fate));
      seen[pin->fate]++;
    }
  }
  for (guint f = 0; STEP == 1 && f < PM_N_PIN_FATES; f++)
    g_assert_cmpuint (seen[f], >, 0);
}

static void
assert_pin (const Demo *demo, guint number, PmPinFate fate, const char *line, const char *first, const char *second)
{
  const PmPinFact *pin = pm_pin_map_pin (demo->map, number - 1);

  g_assert_cmpint (atoi (pin->number), ==, (int) number);
  g_assert_cmpstr (pm_pin_fate_words (pin->fate), ==, pm_pin_fate_words (fate));
  g_assert_cmpstr (pin->line, ==, line);
  if (first)
    g_assert_cmpstr (pin->goes[0], ==, first);
  if (second)
    g_assert_cmpstr (pin->goes[1], ==, second);
}

/* As one reads them in the files. */
static void
test_by_hand (void)
{
  g_autoptr (Demo) chip = demo_new ("swap-by-chip.board.xml", NULL);
  g_autoptr (Demo) contacts = demo_new ("swap-by-contacts.board.xml", NULL);
  g_autoptr (Demo) left_out = demo_new ("through-pin-left-out.board.xml", NULL);
  g_autoptr (Demo) not_made = demo_new ("cut-not-made.board.xml", NULL);
  g_autoptr (Demo) one = demo_new ("always-one.board.xml", NULL);
  g_autoptr (Demo) coded = demo_new ("four-selects-coded.board.xml", NULL);
  g_autoptr (Demo) nowhere = demo_new ("jumper-only.board.xml", NULL);

  assert_pin (chip, 1, PM_PIN_TAPPED, "0V", "straight through", "straight through");
  assert_pin (chip, 2, PM_PIN_UNUSED, NULL, NULL, NULL);
  assert_pin (chip, 11, PM_PIN_REROUTED, "SEL0", "Inside", "Outside");
  assert_pin (chip, 12, PM_PIN_REROUTED, "SEL1", "Outside", "Inside");
  assert_pin (chip, 14, PM_PIN_THROUGH, "MTR", "straight through", NULL);
  assert_pin (chip, 20, PM_PIN_TAPPED, "+5V", NULL, NULL);
  assert_pin (chip, 34, PM_PIN_THROUGH, "RES", NULL, NULL);
  g_assert_cmpstr (pm_pin_map_pin (chip->map, 10)->neighbours, ==, "10 (not used), 12 (SEL1)");
  g_assert_cmpstr (pm_pin_map_pin (chip->map, 10)->open_to, ==, "10, 12; X1.11 to P1.11");
  assert_pin (contacts, 11, PM_PIN_REROUTED, "SEL0", "Inside (its own pin)", "Outside (pin 12, SEL1)");
  assert_pin (left_out, 14, PM_PIN_CUT, "MTR", "nowhere", "nowhere");
  assert_pin (not_made, 11, PM_PIN_TAPPED, "SEL0", "straight through", NULL);
  assert_pin (one, 1, PM_PIN_TAPPED, "0V", NULL, NULL);
  assert_pin (one, 3, PM_PIN_THROUGH, "0V", NULL, NULL);
  assert_pin (one, 10, PM_PIN_REROUTED, "DSEL", NULL, NULL);
  assert_pin (one, 12, PM_PIN_REROUTED, "DSEL inverted", NULL, NULL);
  assert_pin (one, 16, PM_PIN_THROUGH, "MTR", NULL, NULL);
  assert_pin (coded, 6, PM_PIN_TAPPED, NULL, NULL, NULL);
  assert_pin (coded, 10, PM_PIN_REROUTED, "A0", "X1 to U1.1Y0; P1 to U2.1A", NULL);
  g_assert_null (nowhere->map);
}

/* ---- packages: DIP counter-clockwise from the notch, rows 15.24 mm apart (JEDEC MS-011), pitch 2.54 mm; box header
 * odd and even */

static void
test_numbering (void)
{
  g_autoptr (Demo) dip = demo_new ("swap-by-chip.board.xml", NULL);
  g_autoptr (Demo) cable = demo_new ("always-one.board.xml", NULL);
  const PmPins *pins = pm_pin_map_pins (dip->map);

  g_assert_cmpuint (pins->n_pins, ==, 40);
  g_assert_true (pins->dual_in_line && !pins->keyed);
  for (guint k = 0; k < 40; k++) {
    const PmPinFact *pin = &pins->pins[k];
    g_assert_cmpint (pin->side, ==, k < 20 ? -1 : 1);
    g_assert_cmpfloat_with_epsilon (pin->x, k < 20 ? 0 : 15.24, 1e-9);
    g_assert_cmpfloat_with_epsilon (pin->y, 2.54 * (k < 20 ? k : 39 - k), 1e-9);
    g_assert_cmpuint (pm_pins_turned (pins, k), ==, (k + 20) % 40);   /* pin 1 meets 21 */
    g_assert_cmpuint (pm_pins_mirrored (pins, k), ==, 39 - k);        /* pin 1 meets 40 */
    for (guint q = 0; q < 40; q++)
      g_assert_cmpint (pm_pins_adjoin (pins, k, q), ==, abs ((int) k - (int) q) == 1 && MAX (k, q) != 20);
  }
  pins = pm_pin_map_pins (cable->map);
  g_assert_cmpuint (pins->n_pins, ==, 34);
  g_assert_true (!pins->dual_in_line && pins->keyed);
  for (guint k = 0; k < 34; k++) {
    g_assert_cmpfloat_with_epsilon (pins->pins[k].x, k % 2 ? 2.54 : 0, 1e-9);
    g_assert_cmpfloat_with_epsilon (pins->pins[k].y, 2.54 * (k / 2), 1e-9);
    g_assert_cmpuint (pm_pins_turned (pins, k), ==, 33 - k);
    g_assert_cmpuint (pm_pins_mirrored (pins, k), ==, k ^ 1);
    g_assert_null (pins->pins[k].turned);
    g_assert_nonnull (pins->pins[k].mirrored);
  }
  g_assert_cmpstr (pins->pins[9].neighbours, ==, "8 (not used), 9 (0V), 12 (DSEL inverted)");
}

/* ---- lengths, from the drawing */

static cairo_status_t
collect (void *closure, const unsigned char *data, unsigned length)
{
  g_string_append_len (closure, (const char *) data, length);
  return CAIRO_STATUS_SUCCESS;
}

static PmStyle *
paper_style (void)
{
  PangoFontDescription *font = pango_font_description_from_string ("sans");
  PmStyle *style;

  pango_font_description_set_absolute_size (font, 8 * PANGO_SCALE);
  style = pm_style_new (PM_SCHEME_PAPER, font, 1);
  pango_font_description_free (font);
  return style;
}

static char *
draw_svg (const PmPinMap *map, gboolean solder_side)
{
  GString *out = g_string_new (NULL);
  g_autoptr (PmStyle) style = paper_style ();
  PangoContext *context = fake_context ();
  double width, height;
  cairo_surface_t *surface;
  cairo_t *cr;

  pm_pin_map_measure (map, style, context, ONE_TO_ONE, &width, &height);
  surface = cairo_svg_surface_create_for_stream (collect, out, width, height);
  cr = cairo_create (surface);
  pm_pin_map_draw (map, cr, style, context, ONE_TO_ONE, solder_side, 1, -1, TRUE);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  g_object_unref (context);
  return g_string_free (out, FALSE);
}

typedef struct { double x, y, radius; } Circle;

/* Circles are paths of curves only that come back to where they began; the ends of the curves lie on them. */
static GArray *
circles_of (const char *svg)
{
  GArray *circles = g_array_new (FALSE, FALSE, sizeof (Circle));
  const char *at = strstr (svg, "</defs>");

  for (at = at ? at : svg; (at = strstr (at, " d=\"")); ) {
    const char *end = strchr (at += 4, '"');
    double v[64] = { 0 }, low = G_MAXDOUBLE, high = -G_MAXDOUBLE, sum = 0;
    guint n_curves = 0, n_lines = 0, n = 0;
    while (at < end) {
      char *next;
      double value = g_ascii_strtod (at, &next);
      if (next == at) {
        n_curves += *at == 'C';
        n_lines += *at == 'L';
        at++;
        continue;
      }
      if (n < G_N_ELEMENTS (v))
        v[n++] = value;
      at = next;
    }
    if (n_lines > 0 || n_curves < 2 || n != 2 + 6 * n_curves || hypot (v[n - 2] - v[0], v[n - 1] - v[1]) > 0.01)
      continue;
    for (guint k = 6; k < n; k += 6) {
      low = MIN (low, v[k]);
      high = MAX (high, v[k]);
      sum += v[k + 1];
    }
    Circle circle = { (low + high) / 2, sum / n_curves, (high - low) / 2 };
    g_array_append_val (circles, circle);
  }
  return circles;
}

static gboolean
has_circle (const GArray *circles, double x, double y, double radius)
{
  for (guint i = 0; i < circles->len; i++) {
    const Circle *c = &g_array_index (circles, Circle, i);
    if (hypot (c->x - x, c->y - y) < 0.02 && fabs (c->radius - radius) < 0.02)
      return TRUE;
  }
  return FALSE;
}

static void
field (const GArray *circles, double *x, double *y, double *right, double *bottom)
{
  *x = *y = G_MAXDOUBLE;
  *right = *bottom = -G_MAXDOUBLE;
  for (guint i = 0; i < circles->len; i++) {
    const Circle *c = &g_array_index (circles, Circle, i);
    if (c->radius < 0.3 * ONE_TO_ONE) /* the ends of branches */
      continue;
    *x = MIN (*x, c->x);
    *right = MAX (*right, c->x);
    *y = MIN (*y, c->y);
    *bottom = MAX (*bottom, c->y);
  }
}

static void
test_true_scale (void)
{
  g_autoptr (Demo) dip = demo_new ("swap-by-chip.board.xml", NULL);
  g_autofree char *above = draw_svg (dip->map, FALSE), *solder = draw_svg (dip->map, TRUE);
  g_autoptr (GArray) top = circles_of (above), bottom = circles_of (solder);
  double x, y, right, low, x2, y2, right2, low2;
  guint n = 0;

  field (top, &x, &y, &right, &low);
  g_assert_cmpfloat_with_epsilon ((low - y) / ONE_TO_ONE, 48.26, 0.01);   /* pin 1 to pin 20, both discs */
  g_assert_cmpfloat_with_epsilon ((right - x) / ONE_TO_ONE, 15.24, 0.01);
  /* Every pin of this board is a circle at the pitch; the other side is its mirror. */
  field (bottom, &x2, &y2, &right2, &low2);
  for (guint i = 0; i < top->len; i++) {
    const Circle *c = &g_array_index (top, Circle, i);
    double row = (c->y - y) / ONE_TO_ONE / 2.54;
    n += c->radius >= 0.3 * ONE_TO_ONE;
    if (c->radius >= 0.3 * ONE_TO_ONE)
      g_assert_cmpfloat_with_epsilon (row, round (row), 0.01);
    g_assert_true (has_circle (bottom, right2 - (c->x - x), y2 + (c->y - y), c->radius));
  }
  g_assert_cmpuint (n, ==, 40);
  g_assert_cmpuint (top->len, ==, bottom->len);
}

/* The scale bar: a level line of 50 mm in the drawing. */
static void
test_scale_bar (void)
{
  g_autoptr (Demo) dip = demo_new ("swap-by-chip.board.xml", NULL);
  g_autofree char *svg = draw_svg (dip->map, FALSE);
  gboolean found = FALSE;

  for (const char *at = svg; (at = strstr (at, " d=\"M ")); at += 4) {
    double v[4];
    const char *next = at + 6;
    guint n = 0;
    for (; n < 4; n++) {
      char *end;
      next += strspn (next, " L");
      v[n] = g_ascii_strtod (next, &end);
      if (end == next)
        break;
      next = end;
    }
    found |= n == 4 && fabs (v[1] - v[3]) < 0.001 && fabs ((v[2] - v[0]) / ONE_TO_ONE - 50) < 0.01;
  }
  g_assert_true (found);
}

/* ---- geometry of every demo board */

static guint
check_all (GPtrArray *demos, const PmStyle *style, double scale, double resolution, const char *what)
{
  PangoContext *context = fake_context ();
  guint bad = 0;

  pango_cairo_context_set_resolution (context, resolution);
  for (guint i = 0; i < demos->len; i++) {
    Demo *demo = demos->pdata[i];
    for (guint words = 0; words < PM_N_MAP_WORDS && demo->map; words++) {
      pm_pin_map_set_words (demo->map, words);
      g_auto (GStrv) problems = pm_pin_map_check (demo->map, style, context, scale);
      for (guint p = 0; problems[p]; p++)
        g_test_message ("%s, %s: %s", demo->name, what, problems[p]);
      bad += g_strv_length (problems);
    }
  }
  g_object_unref (context);
  return bad;
}

static void
test_geometry (void)
{
  g_autoptr (GPtrArray) demos = demos_new ();
  g_autoptr (PmStyle) paper = paper_style ();
  g_autoptr (PmStyle) light = pm_style_new (PM_SCHEME_LIGHT, NULL, 1);
  g_autoptr (PmStyle) large = pm_style_new (PM_SCHEME_DARK, NULL, 2);

  g_assert_cmpuint (check_all (demos, paper, ONE_TO_ONE, 72, "paper"), ==, 0);
  g_assert_cmpuint (check_all (demos, light, 6, 96, "screen"), ==, 0);
  g_assert_cmpuint (check_all (demos, light, 10, 96, "large"), ==, 0);
  g_assert_cmpuint (check_all (demos, large, 3, 96, "large text"), ==, 0);
}

static void
test_german (void)
{
  g_autofree char *folder = g_build_filename (g_getenv ("G_TEST_BUILDDIR"), "..", "po", NULL);
  g_autofree char *made = g_build_filename (folder, "de", "LC_MESSAGES", GETTEXT_PACKAGE ".mo", NULL);

  setlocale (LC_ALL, "");
  g_setenv ("LANGUAGE", "de", TRUE);
  bindtextdomain (GETTEXT_PACKAGE, folder);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  {
    g_autoptr (GPtrArray) demos = demos_new ();
    g_autoptr (PmStyle) paper = paper_style ();
    if (g_file_test (made, G_FILE_TEST_EXISTS))
      g_assert_cmpstr (pm_pin_fate_words (PM_PIN_CUT), ==, "getrennt");
    g_assert_cmpuint (check_all (demos, paper, ONE_TO_ONE, 72, "German"), ==, 0);
  }
}

/* ---- turned and mirrored */

/* A port chip with +5V at pin 21 and 0V at pin 1: just what turning brings together. */
static const char TURNED[] =
    "<board xmlns=\"urn:x-pointsman:1\" title=\"t\">"
    "<host name=\"h\" title=\"Larkspur\">"
    "<part name=\"U7\" is=\"port-chip-40\" into=\"XU7\" title=\"port chip\"/>"
    "<part name=\"XU7\" is=\"socket-dip-40\" place=\"port-chip\"/>"
    "<part name=\"JI\" is=\"box-header-34\" place=\"internal\"/>"
    "<line name=\"SEL0\" does=\"select\" unit=\"0\" asserted=\"low\" drives=\"push-pull\" family=\"std\" at=\"U7.11\"/>"
    "<line name=\"MTR\" does=\"motor\" asserted=\"low\" drives=\"push-pull\" family=\"std\" at=\"U7.31\"/>"
    "<join>XU7.11 JI.10</join><join>XU7.31 JI.16</join><join>0V JI.odd</join>"
    "<rail name=\"+5V\" volts=\"5.0\" at=\"XU7.21\"/><rail name=\"0V\" volts=\"0\" at=\"XU7.1\"/>"
    "</host>"
    "<sits into=\"port-chip\"/>"
    "<drive name=\"INSIDE\" title=\"Inside\" is=\"drive-34-way\" into=\"internal\" jumper=\"first\"/>"
    "</board>";

static void
test_turned (void)
{
  g_autoptr (Demo) dip = demo_new ("turned.board.xml", TURNED);
  g_autoptr (Demo) chip = demo_new ("swap-by-chip.board.xml", NULL);
  g_autoptr (Demo) cable = demo_new ("always-one.board.xml", NULL);
  const char *const *warnings = pm_pin_map_warnings (dip->map);
  guint n;

  g_assert_cmpstr (warnings[0], ==,
                   "Turned round: +5V of the machine meets 0V of the board, pin 21 on pin 1.");
  g_assert_cmpstr (warnings[1], ==,
                   "Turned round: 0V of the machine meets +5V of the board, pin 1 on pin 21.");
  g_assert_cmpstr (warnings[2], ==,
                   "Built mirrored: +5V of the machine meets pin 20 of the board, which is not used.");
  g_assert_cmpstr (pm_pin_map_pin (dip->map, 10)->turned, ==, "31 (MTR)");
  g_assert_cmpstr (pm_pin_map_pin (dip->map, 0)->mirrored, ==, "40 (not used)");

  warnings = pm_pin_map_warnings (chip->map);
  g_assert_cmpstr (warnings[0], ==, "Turned round: +5V of the machine meets pin 40 of the board, which is not used.");
  g_assert_true (g_strv_contains (warnings, "Turned round: the board is left without +5V (pin 20) and 0V (pin 1)."));

  warnings = pm_pin_map_warnings (cable->map);
  for (n = 0; warnings[n]; n++)
    g_assert_false (g_str_has_prefix (warnings[n], "Turned"));
  g_assert_cmpstr (warnings[n - 1], ==, "The connector is keyed: the board cannot be put in turned round.");
  g_assert_true (g_str_has_prefix (warnings[0], "Built mirrored: 0V of the machine meets CHG (pin 2), DSEL (pin 10)"));
}

/* Other connectors: what lies where, and what turning and mirroring make of it, as one sees it on the bench. */
static void
test_connectors (void)
{
  static const struct {
    const char *is;
    guint n, turned, mirrored; /* what pin 1 meets, from 1; 0: nothing, or keyed */
    double width, height;
  } CASES[] = {
    { "header 2x5", 10, 10, 2, 2.54, 4 * 2.54 },
    { "header 1x6", 6, 6, 1, 0, 5 * 2.54 },
    { "d-type-9", 9, 0, 5, 2.84, 4 * 2.77 },
    { "card-edge-34", 34, 0, 2, 2.54, 16 * 2.54 },
    { "socket-dip-16", 16, 9, 16, 7.62, 7 * 2.54 },
    { "socket-dip-28", 28, 15, 28, 15.24, 13 * 2.54 },
  };
  g_autoptr (PmStyle) style = paper_style ();
  PangoContext *context = fake_context ();

  pango_cairo_context_set_resolution (context, 72);
  for (guint i = 0; i < G_N_ELEMENTS (CASES); i++) {
    g_autofree char *text = g_strdup_printf (
      "<board xmlns=\"urn:x-pointsman:1\" title=\"t\"><host name=\"h\" title=\"Larkspur\">"
      "<part name=\"U7\" is=\"port-chip-40\"/><part name=\"JI\" is=\"box-header-34\" place=\"internal\"/>"
      "<part name=\"JX\" is=\"%s\" place=\"here\"/>"
      "<line name=\"SEL0\" does=\"select\" unit=\"0\" asserted=\"low\" "
      "drives=\"push-pull\" family=\"std\" at=\"U7.11\"/><join>U7.11 JX.2 JI.10</join><join>+5V JX.3</join>"
      "<join>0V JX.1 JI.odd</join><rail name=\"+5V\" volts=\"5.0\" at=\"U7.20\"/>"
      "<rail name=\"0V\" volts=\"0\" at=\"U7.1\"/></host><sits into=\"here\" cuts=\"2\"/>"
      "<drive name=\"INSIDE\" title=\"Inside\" is=\"drive-34-way\" into=\"internal\" jumper=\"first\"/>"
      "</board>",
      CASES[i].is);
    g_autoptr (Demo) demo = demo_new ("connector.board.xml", text);
    const PmPins *pins = pm_pin_map_pins (demo->map);
    guint keyed = CASES[i].turned == 0;

    g_test_message ("%s", CASES[i].is);
    g_assert_cmpuint (pins->n_pins, ==, CASES[i].n);
    g_assert_cmpfloat_with_epsilon (pins->width, CASES[i].width, 1e-9);
    g_assert_cmpfloat_with_epsilon (pins->height, CASES[i].height, 1e-9);
    g_assert_cmpint (pins->keyed, ==, keyed);
    if (!keyed)
      g_assert_cmpuint (pm_pins_turned (pins, 0) + 1, ==, CASES[i].turned);
    g_assert_cmpuint (pm_pins_mirrored (pins, 0) + 1, ==, CASES[i].mirrored);
    assert_pin (demo, 1, PM_PIN_THROUGH, "0V", NULL, NULL);
    assert_pin (demo, 2, PM_PIN_CUT, "SEL0", "nowhere", NULL);
    assert_pin (demo, 3, PM_PIN_THROUGH, "+5V", NULL, NULL);
    assert_pin (demo, 5, PM_PIN_UNUSED, NULL, NULL, NULL);
    for (guint solder = 0; solder < 2; solder++) {
      g_auto (GStrv) problems = pm_pin_map_check (demo->map, style, context, solder ? 6 : ONE_TO_ONE);
      for (guint p = 0; problems[p]; p++)
        g_test_message ("%s", problems[p]);
      g_assert_null (problems[0]);
    }
  }
  g_object_unref (context);
}

static void
test_pointing (void)
{
  g_autoptr (Demo) dip = demo_new ("swap-by-chip.board.xml", NULL);
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_LIGHT, NULL, 1);
  PangoContext *context = fake_context ();

  for (guint solder = 0; solder < 2; solder++) {
    PmRect areas[2][40];
    pm_pin_map_areas (dip->map, style, context, 6, solder, areas[0], areas[1]);
    for (guint i = 0; i < 80; i++) {
      const PmRect *area = &areas[i / 40][i % 40];
      g_assert_cmpint (pm_pin_map_at (dip->map, style, context, 6, solder, area->x + area->width / 2,
                                      area->y + area->height / 2), ==, (int) (i % 40));
    }
  }
  g_assert_cmpint (pm_pin_map_at (dip->map, style, context, 6, FALSE, -5, -5), ==, -1);
  g_object_unref (context);
}

/* The largest picture for a width; never wider, and a little larger would be. */
static void
test_fit (void)
{
  g_autoptr (GPtrArray) demos = demos_new ();
  g_autoptr (PmStyle) style = pm_style_new (PM_SCHEME_LIGHT, NULL, 1);
  PangoContext *context = fake_context ();
  guint n = 0;

  for (guint i = 0; i < demos->len; i++) {
    const Demo *demo = demos->pdata[i];
    for (double width = 200; width < 1200 && demo->map; width += 190) {
      double height, scale = pm_pin_map_fit (demo->map, style, context, width, 3, 7, &height), is, high;
      for (double tried = MAX (3, scale + 0.07); tried <= 7; tried += 0.9) {
        pm_pin_map_measure (demo->map, style, context, tried, &is, NULL);
        g_assert_cmpfloat (is, >, width);
      }
      if (scale < 0)
        continue;
      pm_pin_map_measure (demo->map, style, context, scale, &is, &high);
      g_assert_cmpfloat (is, <=, width);
      g_assert_cmpfloat (height, <, high);
      n += scale > 3.1 && scale < 6.9;
    }
  }
  g_assert_cmpuint (n, >, 0);
  g_object_unref (context);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/pin-map/fates", test_fates);
  g_test_add_func ("/pin-map/by-hand", test_by_hand);
  g_test_add_func ("/pin-map/numbering", test_numbering);
  g_test_add_func ("/pin-map/true-scale", test_true_scale);
  g_test_add_func ("/pin-map/scale-bar", test_scale_bar);
  g_test_add_func ("/pin-map/geometry", test_geometry);
  g_test_add_func ("/pin-map/turned", test_turned);
  g_test_add_func ("/pin-map/pointing", test_pointing);
  g_test_add_func ("/pin-map/connectors", test_connectors);
  g_test_add_func ("/pin-map/fit", test_fit);
  g_test_add_func ("/pin-map/german", test_german); /* last: a language that was used once stays */
  return g_test_run ();
}
