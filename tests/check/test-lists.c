/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lists to build by: facts from outside, CSV read back by another reader, and that nothing is missing: the wires join
 * what the joins of the file join, the parts are all the parts. */
#include "boards-test.h"
#include "pm-alternates.h"
#include "pm-list-private.h"
#include "pm-report-xml.h"
#include "pm-text-table.h"
#include <math.h>
#include <string.h>

static PmLibrary *library;

static PmBoard *
load_text (const char *text)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  PmBoard *board = pm_board_load_text ("test.board.xml", text, strlen (text), library, faults);
  for (guint i = 0; i < pm_faults_count (faults); i++) {
    g_autofree char *line = pm_fault_to_text (pm_faults_get (faults, i));
    g_test_message ("%s", line);
  }
  g_assert_nonnull (board);
  return board;
}

static guint
column_of (const PmList *list, const char *id)
{
  for (guint c = 0; c < list->n_columns; c++)
    if (g_str_equal (list->columns[c].id, id))
      return c;
  g_error ("no column %s", id);
}

static const PmListRow *
row_of (const PmList *list, const char *id)
{
  for (guint r = 0; r < list->n_rows; r++)
    if (g_strcmp0 (list->rows[r].id, id) == 0)
      return &list->rows[r];
  g_error ("no row %s", id);
}

static const char *
cell (const PmList *list, const char *row, const char *column)
{
  return row_of (list, row)->cells[column_of (list, column)];
}

/* ---- facts */

/* IEC 60757 (GOST 28763-90 is IEC 757-83): letters; "RDBU" for red and blue, GNYE for green and yellow. The names in
 * words: the same table. */
static void
test_colours (void)
{
  static const char *const facts[][2] = {{"black", "BK"},
                                         {"brown", "BN"},
                                         {"red", "RD"},
                                         {"orange", "OG"},
                                         {"yellow", "YE"},
                                         {"green", "GN"},
                                         {"blue", "BU"},
                                         {"violet", "VT"},
                                         {"grey", "GY"},
                                         {"white", "WH"},
                                         {"pink", "PK"},
                                         {"gold", "GD"},
                                         {"turquoise", "TQ"},
                                         {"silver", "SR"},
                                         {"red-blue", "RDBU"},
                                         {"blue/red", "RDBU"},
                                         {"green-yellow", "GNYE"},
                                         {"yellow and green", "GNYE"},
                                         /* not of the standard: as people write them, or in the letters themselves */
                                         {"RD", "RD"},
                                         {"gnye", "gnye"},
                                         {"gray", "GY"},
                                         {"Red", "RD"},
                                         {"rot", "RD"},
                                         {"transparent", "transparent"},
                                         {"", ""}};
  for (guint i = 0; i < G_N_ELEMENTS (facts); i++) {
    g_autofree char *letters = pm_wire_colour (facts[i][0]);
    g_assert_cmpstr (letters, ==, facts[i][1]);
  }
  g_autofree char *none = pm_wire_colour (NULL);
  g_assert_cmpstr (none, ==, "");
}

static char *
beside (const char *is, guint pin)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  const PmPart *part = pm_library_part (library, NULL, is, NULL, NULL, (PmSpot){0}, faults);
  g_autoptr (GString) text = g_string_new (NULL);
  g_assert_nonnull (part);
  g_autoptr (GArray) near = pm_pin_neighbours (part, pin - 1);
  for (guint k = 0; k < near->len; k++)
    g_string_append_printf (text, "%s%s", k > 0 ? " " : "", part->pins[g_array_index (near, guint32, k)].number);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* Dual in-line packages: counter-clockwise from the notch, so two rows of half (JEDEC MS-001, MS-011). Two-row
 * connectors: 1 beside 2, odd pins in one row (common practice, no source). D-type: the longer row first (from memory).
 */
static void
test_neighbours (void)
{
  static const struct {
    const char *is;
    guint pin;
    const char *near;
  } facts[] = {{"socket-dip-40", 11, "10 12"}, {"socket-dip-40", 1, "2"},   {"socket-dip-40", 20, "19"},
               {"socket-dip-40", 21, "22"},    {"socket-dip-40", 40, "39"}, {"74LS157", 8, "7"},
               {"74LS157", 9, "10"},           {"box-header-34", 1, "3 2"}, {"box-header-34", 10, "8 12 9"},
               {"box-header-34", 34, "32 33"}, {"header 1x3", 2, "1 3"},    {"card-edge-34", 10, "8 12"},
               {"d-type-25", 1, "2 14"},       {"d-type-25", 13, "12 25"},  {"d-type-25", 14, "15 1 2"}};
  for (guint i = 0; i < G_N_ELEMENTS (facts); i++) {
    g_autofree char *near = beside (facts[i].is, facts[i].pin);
    g_assert_cmpstr (near, ==, facts[i].near);
  }
}

#define HOST                                                                                                           \
  "<board xmlns=\"urn:x-pointsman:1\" title=\"T\"><host is=\"larkspur-40\"/>"                                          \
  "<sits into=\"port-chip\" cuts=\"SEL0\"/>"

/* Colour codes of IEC 60062, worked examples as published: 1 kΩ brown black red, 4.7 kΩ yellow violet red, 22 kΩ red
 * red orange, 10 Ω brown black black. */
static void
test_bands (void)
{
  g_autoptr (PmBoard) board =
      load_text (HOST "<part name=\"R1\" is=\"resistor 1k\"/><part name=\"R2\" is=\"resistor 4k7\"/>"
                      "<part name=\"R3\" is=\"resistor 22k\"/><part name=\"R4\" is=\"resistor 10\"/>"
                      "<part name=\"R5\" is=\"resistor 1234\"/></board>");
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  g_autoptr (PmList) list = pm_list_new (check, PM_LIST_STEPS, NULL, NULL);
  g_assert_cmpstr (cell (list, "solder R1", "look"), ==, "bands brown, black, red");
  g_assert_cmpstr (cell (list, "solder R2", "look"), ==, "bands yellow, violet, red");
  g_assert_cmpstr (cell (list, "solder R3", "look"), ==, "bands red, red, orange");
  g_assert_cmpstr (cell (list, "solder R4", "look"), ==, "bands brown, black, black");
  g_assert_cmpstr (cell (list, "solder R5", "look"), ==, "");
}

/* Three of 3 kΩ in a triangle: 3 in parallel with 6 is 2 kΩ. A balanced bridge: what lies across it does not matter. */
static void
test_ohms (void)
{
  g_autoptr (PmBoard) board = load_text (
      HOST
      "<part name=\"J1\" is=\"header 1x8\"/>"
      "<part name=\"R1\" is=\"resistor 3k\"/><part name=\"R2\" is=\"resistor 3k\"/><part name=\"R3\" is=\"resistor "
      "3k\"/>"
      "<join>J1.1 R1.1 R3.2</join><join>J1.2 R1.2 R2.1</join><join>J1.3 R2.2 R3.1</join>"
      "<part name=\"R4\" is=\"resistor 1k\"/><part name=\"R5\" is=\"resistor 2k\"/><part name=\"R6\" is=\"resistor "
      "10k\"/>"
      "<part name=\"R7\" is=\"resistor 20k\"/><part name=\"R8\" is=\"resistor 47\"/>"
      "<join>J1.4 R4.1 R6.1</join><join>R4.2 R5.1 R8.1</join><join>R6.2 R7.1 R8.2</join><join>R5.2 R7.2 J1.5</join>"
      "<join>J1.6 J1.7</join></board>");
  g_autofree guint32 *nets = pm_metal_of_board (board, PM_METAL_BOARD, NULL);
  guint32 j = pm_board_find_place (board, "J1.1");
  g_assert_cmpfloat (fabs (pm_list_ohms (board, nets, j, j + 1) - 2000.0), <, 1e-6);
  /* 3 kΩ beside 30 kΩ */
  g_assert_cmpfloat (fabs (pm_list_ohms (board, nets, j + 3, j + 4) - 3000.0 * 30000.0 / 33000.0), <, 1e-6);
  g_assert_cmpfloat (pm_list_ohms (board, nets, j + 5, j + 6), ==, 0.0);
  g_assert_true (isinf (pm_list_ohms (board, nets, j, j + 3)));
  g_autofree char *text = pm_list_ohms_text (2727.27);
  g_assert_cmpstr (text, ==, "2.73 kΩ");
}

/* ---- CSV, read back by the grammar of RFC 4180 */

static GPtrArray *
read_csv (const char *text)
{
  GPtrArray *records = g_ptr_array_new_with_free_func ((GDestroyNotify)g_ptr_array_unref);
  const char *c = text;
  while (*c != '\0') {
    GPtrArray *record = g_ptr_array_new_with_free_func (g_free);
    for (gboolean more = TRUE; more;) {
      g_autoptr (GString) field = g_string_new (NULL);
      if (*c == '"') {
        for (c++; *c != '"' || c[1] == '"'; c++) {
          g_assert_cmpint (*c, !=, '\0');
          if (*c == '"')
            c++;
          g_string_append_c (field, *c);
        }
        c++;
      } else
        for (; *c != ',' && *c != '\r' && *c != '\0'; c++) {
          g_assert_cmpint (*c, !=, '"');
          g_assert_cmpint (*c, !=, '\n');
          g_string_append_c (field, *c);
        }
      g_ptr_array_add (record, g_string_free (g_steal_pointer (&field), FALSE));
      more = *c == ',';
      if (more)
        c++;
    }
    g_assert_cmpint (c[0], ==, '\r');
    g_assert_cmpint (c[1], ==, '\n');
    c += 2;
    g_ptr_array_add (records, record);
  }
  return records;
}

static const char *
field (GPtrArray *records, guint r, guint f)
{
  return g_ptr_array_index ((GPtrArray *)g_ptr_array_index (records, r), f);
}

static void
test_csv_quotes (void)
{
  PmListColumn columns[] = {{(char *)"a", (char *)"A", PM_CELLS_TEXT}, {(char *)"b", (char *)"B", PM_CELLS_TEXT}};
  static const char *const hard[] = {"a, b",    "say \"no\"", "two\nlines", "two\r\nlines", "\"", "\"\"", ",",
                                     " blank ", "Ω – µ",      "\r",         "plain",        "",   "=1+1", "'"};
  PmListRow rows[G_N_ELEMENTS (hard) / 2];
  char *cells[G_N_ELEMENTS (hard)], *notes[] = {NULL};
  for (guint i = 0; i < G_N_ELEMENTS (hard); i++)
    cells[i] = (char *)hard[i];
  for (guint r = 0; r < G_N_ELEMENTS (rows); r++)
    rows[r] = (PmListRow){PM_ROW_PLAIN, &cells[2 * r], NULL};
  PmList list = {PM_LIST_WIRES, "wires", (char *)"T", NULL, columns, 2, rows, G_N_ELEMENTS (rows), notes};
  g_autofree char *text = pm_list_csv (&list);
  g_autoptr (GPtrArray) records = read_csv (text);
  g_assert_cmpuint (records->len, ==, 1 + G_N_ELEMENTS (rows));
  g_assert_cmpstr (field (records, 0, 0), ==, "a");
  for (guint i = 0; i < G_N_ELEMENTS (hard); i++)
    g_assert_cmpstr (field (records, 1 + i / 2, i % 2), ==, hard[i]);
}

static void
test_csv_headings (void)
{
  PmListColumn columns[] = {{(char *)"n", (char *)"N", PM_CELLS_NUMBER}, {(char *)"w", (char *)"W", PM_CELLS_TEXT}};
  char *heading[] = {(char *)"Part, one"}, *plain[] = {(char *)"1", (char *)"do"}, *hold[] = {(char *)"Stop"};
  PmListRow rows[] = {{PM_ROW_HEADING, heading, NULL}, {PM_ROW_PLAIN, plain, NULL}, {PM_ROW_HOLD, hold, NULL}};
  char *notes[] = {NULL};
  PmList list = {PM_LIST_STEPS, "steps", (char *)"T", NULL, columns, 2, rows, 3, notes};
  g_autofree char *text = pm_list_csv (&list);
  g_assert_cmpstr (text, ==, "part-of-list,kind,n,w\r\n\"Part, one\",,1,do\r\n\"Part, one\",hold,,Stop\r\n");
}

/* ---- every list of every demo board */

static void
look_at_list (const PmList *list, const char *name)
{
  g_autofree char *csv = pm_list_csv (list), *text = pm_list_text (list, 100);
  g_autoptr (GPtrArray) records = read_csv (csv);
  g_autoptr (GHashTable) ids = g_hash_table_new (g_str_hash, g_str_equal);
  guint n_fields = ((GPtrArray *)g_ptr_array_index (records, 0))->len, n_rows = 0;
  for (guint r = 0; r < records->len; r++)
    g_assert_cmpuint (((GPtrArray *)g_ptr_array_index (records, r))->len, ==, n_fields);
  for (guint r = 0; r < list->n_rows; r++) {
    n_rows += list->rows[r].kind != PM_ROW_HEADING;
    for (guint c = 0; c < (list->rows[r].kind == PM_ROW_PLAIN ? list->n_columns : 1); c++) {
      const char *words = list->rows[r].cells[c];
      g_assert_nonnull (words);
      g_assert_true (g_utf8_validate (words, -1, NULL));
      g_assert_null (strstr (words, "(null)"));
      if (list->kind != PM_LIST_FINDINGS) /* their places are as in the file */
        g_assert_null (strstr (words, "host."));
      if (list->rows[r].kind == PM_ROW_PLAIN && list->columns[c].kind >= PM_CELLS_TICK)
        g_assert_cmpstr (words, ==, "");
    }
    if (list->rows[r].kind == PM_ROW_PLAIN) {
      g_assert_nonnull (list->rows[r].id);
      if (!g_hash_table_add (ids, list->rows[r].id) && list->kind != PM_LIST_FINDINGS)
        g_error ("%s: %s has the row \"%s\" twice", name, list->id, list->rows[r].id);
    }
  }
  g_assert_cmpuint (records->len, ==, n_rows + 1);
  g_assert_true (list->n_rows > 0 || list->notes[0] != NULL);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++) {
    if (pm_text_columns (lines[i]) > 100)
      g_error ("%s: %s: wider than 100 columns: %s", name, list->id, lines[i]);
    g_assert_false (g_str_has_suffix (lines[i], " "));
  }
}

static void
test_every (void)
{
  g_auto (GStrv) names = boards_test_names ();
  for (guint i = 0; names[i] != NULL; i++) {
    g_autoptr (PmBoard) board = boards_test_load (library, names[i]);
    g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
    for (guint k = 0; k < PM_N_LISTS; k++)
      for (guint at = 0; at <= 1; at++) {
        PmListOptions options = {1, 0, at};
        g_autoptr (PmList) list = pm_list_new (check, (PmListKind)k, &options, NULL);
        g_assert_cmpint (list->kind, ==, k);
        g_assert_cmpstr (list->id, ==, pm_list_id ((PmListKind)k));
        g_assert_cmpint (pm_list_kind (list->id), ==, k);
        g_assert_cmpstr (list->title, ==, pm_list_kind_title ((PmListKind)k));
        look_at_list (list, names[i]);
      }
  }
  g_assert_cmpint (pm_list_kind ("nets"), ==, -1);
}

/* ---- completeness: wires */

static guint32
root (guint32 *nets, guint32 place)
{
  while (nets[place] != place)
    place = nets[place];
  return place;
}

/* The joins of the file and the rows of the list make the same pieces of metal, and no wire is one too many. */
static void
compare_wires (const PmBoard *board, const PmList *list, const char *name)
{
  g_autofree guint32 *by_joins = g_new (guint32, board->n_places), *by_rows = g_new (guint32, board->n_places);
  guint n_rows = 0, n_joints = 0, n_wires = 0;
  for (guint32 p = 0; p < board->n_places; p++)
    by_joins[p] = by_rows[p] = p;
  for (guint j = 0; j < board->n_joins; j++) {
    const PmJoin *join = &board->joins[j];
    if (join->owner != PM_OWNER_BOARD || join->kind == PM_JOIN_THROUGH || join->kind == PM_JOIN_CUT)
      continue;
    for (guint k = 1; k < join->n_places; k++) {
      guint32 a = root (by_joins, join->places[0]), b = root (by_joins, join->places[k]);
      n_joints += a != b;
      by_joins[MAX (a, b)] = MIN (a, b);
    }
    n_wires += join->kind == PM_JOIN_WIRE;
  }
  for (guint r = 0; r < list->n_rows; r++) {
    if (list->rows[r].id == NULL || !g_str_has_prefix (list->rows[r].id, "wire "))
      continue;
    g_auto (GStrv) words = g_strsplit (list->rows[r].id, " ", -1);
    g_assert_cmpuint (g_strv_length (words), ==, 3);
    guint32 a = pm_board_find_place (board, words[1]), b = pm_board_find_place (board, words[2]);
    g_assert_cmpuint (a, !=, PM_NONE);
    g_assert_cmpuint (b, !=, PM_NONE);
    a = root (by_rows, a);
    b = root (by_rows, b);
    by_rows[MAX (a, b)] = MIN (a, b);
    n_rows++;
  }
  for (guint32 p = 0; p < board->n_places; p++)
    if (root (by_joins, p) != root (by_rows, p)) {
      g_autofree char *place = pm_board_place_name (board, p);
      g_error ("%s: the wire list does not join %s as the file does", name, place);
    }
  g_assert_cmpuint (n_rows, >=, n_joints);
  g_assert_cmpuint (n_rows, <=, n_joints + n_wires);
}

/* A board with random chips and joins on them; joins without a name may meet. */
static char *
random_board (GRand *rand)
{
  static const char *const chips[] = {"74LS00", "74LS157", "74LS139", "74HCT86", "7406", "74LS74"};
  static const guint pins[] = {14, 16, 16, 14, 14, 14};
  g_autoptr (GString) text = g_string_new (HOST);
  g_autoptr (GPtrArray) places = g_ptr_array_new_with_free_func (g_free);
  guint n = (guint)g_rand_int_range (rand, 1, 8);
  for (guint i = 1; i <= n; i++) {
    guint kind = (guint)g_rand_int_range (rand, 0, G_N_ELEMENTS (chips));
    g_string_append_printf (text, "<part name=\"U%u\" is=\"%s\"/>", i, chips[kind]);
    for (guint p = 1; p <= pins[kind]; p++)
      g_ptr_array_add (places, g_strdup_printf ("U%u.%u", i, p));
  }
  for (guint i = 1; i <= 3; i++) {
    g_string_append_printf (text, "<part name=\"R%u\" is=\"resistor %uk\"/>", i, i);
    g_ptr_array_add (places, g_strdup_printf ("R%u.1", i));
    g_ptr_array_add (places, g_strdup_printf ("R%u.2", i));
  }
  for (guint p = 1; p <= 40; p++)
    g_ptr_array_add (places, g_strdup_printf (p % 2 ? "X1.%u" : "P1.%u", p));
  for (guint j = (guint)g_rand_int_range (rand, 1, 30); j > 0; j--) {
    guint m = (guint)g_rand_int_range (rand, 2, 6);
    const char *words[6];
    for (guint k = 0; k < m; k++)
      words[k] = g_ptr_array_index (places, (guint)g_rand_int_range (rand, 0, (int)places->len));
    if (m == 2 && !g_str_equal (words[0], words[1])) {
      g_string_append_printf (text, "<wire from=\"%s\" to=\"%s\" colour=\"red\"/>", words[0], words[1]);
      continue;
    }
    g_string_append (text, g_rand_boolean (rand) ? "<join>" : "<join>0V ");
    for (guint k = 0; k < m; k++)
      g_string_append_printf (text, "%s ", words[k]);
    g_string_append (text, "U1.1 U1.2</join>");
  }
  g_string_append (text, "</board>");
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
test_wires (void)
{
  g_auto (GStrv) names = boards_test_names ();
  for (guint i = 0; names[i] != NULL; i++) {
    g_autoptr (PmBoard) board = boards_test_load (library, names[i]);
    g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
    g_autoptr (PmList) list = pm_list_new (check, PM_LIST_WIRES, NULL, NULL);
    compare_wires (board, list, names[i]);
  }
}

/* The wires need no check of the board: that would not end for some of these. */
static void
test_wires_of_random_boards (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20261125);
  for (guint n = 0; n < 200; n++) {
    g_autofree char *text = random_board (rand);
    g_autoptr (PmBoard) board = load_text (text);
    g_autoptr (GArray) wires = pm_list_wires_of (board);
    PmListRow *rows = g_new0 (PmListRow, wires->len + 1);
    for (guint w = 0; w < wires->len; w++) {
      const PmWire *wire = &g_array_index (wires, PmWire, w);
      g_autofree char *a = pm_list_number (board, wire->from), *b = pm_list_number (board, wire->to);
      rows[w].id = g_strdup_printf ("wire %s %s", a, b);
    }
    PmList list = {.rows = rows, .n_rows = wires->len};
    compare_wires (board, &list, text);
    for (guint w = 0; w < wires->len; w++)
      g_free (rows[w].id);
    g_free (rows);
  }
}

static void
test_wire_words (void)
{
  g_autoptr (PmBoard) board = load_text (
      HOST "<part name=\"J1\" is=\"header 1x3\"/><wire name=\"W7\" from=\"J1.1\" to=\"SEL0:chip\" colour=\"red\" "
           "gauge=\"0.25 mm²\" length=\"12 cm\"/><join>J1.1 J1.2 J1.3</join></board>");
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  g_autoptr (PmList) list = pm_list_new (check, PM_LIST_WIRES, NULL, NULL);
  g_assert_cmpuint (list->n_rows, ==, 3);
  g_assert_cmpstr (cell (list, "wire J1.1 X1.11", "wire"), ==, "W7");
  g_assert_cmpstr (cell (list, "wire J1.1 X1.11", "signal"), ==, "SEL0, chip side");
  g_assert_cmpstr (cell (list, "wire J1.1 X1.11", "colour"), ==, "RD");
  g_assert_cmpstr (cell (list, "wire J1.1 X1.11", "gauge"), ==, "0.25 mm²");
  g_assert_cmpstr (cell (list, "wire J1.1 X1.11", "length"), ==, "12 cm");
  g_assert_cmpstr (cell (list, "wire J1.1 J1.2", "from"), ==, "J1.1");
  g_assert_cmpstr (cell (list, "wire J1.2 J1.3", "colour"), ==, "");
}

/* ---- completeness: parts */

static void
test_parts (void)
{
  g_auto (GStrv) names = boards_test_names ();
  for (guint i = 0; names[i] != NULL; i++) {
    g_autoptr (PmBoard) board = boards_test_load (library, names[i]);
    g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
    PmListOptions options = {5, 10, 0};
    g_autoptr (PmList) list = pm_list_new (check, PM_LIST_PARTS, &options, NULL);
    guint n_built = 0, n_each = 0;
    for (guint k = 0; k < board->n_instances; k++)
      n_built += (board->instances[k].owner == PM_OWNER_BOARD || board->instances[k].owner == PM_OWNER_CABLE) &&
                 !g_str_equal (board->instances[k].part->name, "rail") &&
                 !g_str_has_prefix (board->instances[k].ref, "host.");
    for (guint r = 0; r < list->n_rows; r++) {
      guint each = (guint)atoi (list->rows[r].cells[column_of (list, "each")]);
      guint all = (guint)atoi (list->rows[r].cells[column_of (list, "all")]);
      const char *description = list->rows[r].cells[column_of (list, "description")];
      gboolean small = g_str_equal (description, "resistor") || g_str_equal (description, "capacitor");
      n_each += each;
      g_assert_cmpuint (all, ==, small ? 5 * each + MAX (1, (5 * each + 9) / 10) : 5 * each);
    }
    g_assert_cmpuint (n_each, ==, n_built);
  }
}

static void
test_letters (void)
{
  g_autoptr (PmBoard) board =
      load_text (HOST "<part name=\"R1\" is=\"resistor 1k\"/><part name=\"R2\" is=\"resistor 1k\"/><part name=\"R3\" "
                      "is=\"resistor 1k\"/>"
                      "<part name=\"R5\" is=\"resistor 1k\"/><part name=\"R10\" is=\"resistor 1k\"/><part name=\"R11\" "
                      "is=\"resistor 1k\"/>"
                      "<part name=\"R4\" is=\"resistor 1.0 kΩ\"/><part name=\"R6\" is=\"resistor 4k7\"/></board>");
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  g_autoptr (PmList) list = pm_list_new (check, PM_LIST_PARTS, NULL, NULL);
  g_assert_cmpstr (cell (list, "part R1", "letters"), ==, "R1-R5, R10, R11");
  g_assert_cmpstr (cell (list, "part R1", "each"), ==, "7");
  g_assert_cmpstr (cell (list, "part R1", "value"), ==, "1 kΩ");
  g_assert_cmpstr (cell (list, "part R6", "letters"), ==, "R6");
}

/* ---- other chips */

static const PmAlternate *
alternate (const GArray *found, const char *type)
{
  for (guint i = 0; i < found->len; i++)
    if (g_str_equal (g_array_index (found, PmAlternate, i).type, type))
      return &g_array_index (found, PmAlternate, i);
  return NULL;
}

static void
test_alternates (void)
{
  g_autoptr (PmBoard) good = boards_test_load (library, "swap-by-chip.board.xml");
  g_autoptr (PmCheck) of_good = pm_check_new (good, NULL, NULL);
  g_autoptr (GArray) ls = pm_alternates_find (of_good, NULL);
  g_assert_cmpint (alternate (ls, "74S157")->verdict, ==, PM_ALTERNATE_AS_GOOD);
  g_assert_cmpint (alternate (ls, "74LS257")->verdict, ==, PM_ALTERNATE_AS_GOOD);
  g_assert_cmpint (alternate (ls, "74HC157")->verdict, ==, PM_ALTERNATE_WORSE); /* a TTL high does not reach it */
  g_assert_cmpint (alternate (ls, "74LS158")->verdict, ==, PM_ALTERNATE_WORSE); /* it inverts */
  g_assert_true (alternate (ls, "74LS158")->other_function);
  g_assert_null (alternate (ls, "74LS157")); /* the one that stands there */
  g_assert_null (alternate (ls, "74LS139")); /* other pins */
  g_autoptr (PmBoard) care = boards_test_load (library, "hc-behind-ttl.board.xml");
  g_autoptr (PmCheck) of_care = pm_check_new (care, NULL, NULL);
  g_autoptr (GArray) hc = pm_alternates_find (of_care, NULL);
  g_assert_cmpint (alternate (hc, "74HCT157")->verdict, ==, PM_ALTERNATE_BETTER);
  g_assert_cmpint (alternate (hc, "74HC158")->verdict, ==, PM_ALTERNATE_WORSE);
  /* The board that was checked is as it was. */
  g_autoptr (PmCheck) again = pm_check_new (good, NULL, NULL);
  g_assert_cmpstr (again->verdict_text, ==, of_good->verdict_text);
  g_autoptr (GCancellable) cancelled = g_cancellable_new ();
  g_cancellable_cancel (cancelled);
  g_autoptr (GArray) none = pm_alternates_find (of_good, cancelled);
  g_assert_cmpuint (none->len, ==, 0);
}

/* ---- checks and pins */

static void
test_checks (void)
{
  g_autoptr (PmBoard) board = boards_test_load (library, "swap-by-chip.board.xml");
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  g_autoptr (PmList) list = pm_list_new (check, PM_LIST_CHECKS, NULL, NULL);
  g_assert_cmpstr (cell (list, "rails P1.20 P1.1", "expected"), ==, "about 10 kΩ");
  g_assert_cmpstr (cell (list, "cut X1.11 P1.11", "expected"), ==, "above 1 MΩ");
  g_assert_cmpstr (cell (list, "throw J3.2 J3.1 inside", "expected"), ==, "below 1 Ω");
  g_assert_cmpstr (cell (list, "throw J3.2 J3.3 inside", "expected"), ==, "above 1 MΩ");
  g_assert_cmpstr (cell (list, "throw J3.2 J3.1 outside", "expected"), ==, "above 1 MΩ");
  g_assert_cmpstr (cell (list, "throw J3.2 J3.3 outside", "expected"), ==, "below 1 Ω");
  g_assert_cmpstr (cell (list, "control U1.S P1.1 inside", "expected"), ==, "0 to 0.4 V");
  g_assert_cmpstr (cell (list, "control U1.S P1.1 outside", "expected"), ==, "3.5 to 5.25 V");
  g_assert_cmpstr (cell (list, "control U1.S P1.1 S1 unplugged", "expected"), ==, "3.5 to 5.25 V");
  g_assert_cmpstr (cell (list, "select-at-rest INSIDE.10 P1.1 inside", "expected"), ==, "2.4 to 5.25 V");
  g_assert_cmpstr (cell (list, "select-on INSIDE.10 P1.1 inside", "expected"), ==, "0 to 0.4 V; lamp of Inside on");
  g_assert_cmpstr (cell (list, "select-on OUTSIDE.10 P1.1 outside", "expected"), ==, "0 to 0.4 V; lamp of Outside on");
}

/* Both poles of both positions; the cut reads open where no contact closes it again. */
static void
test_checks_of_contacts (void)
{
  g_autoptr (PmBoard) board = boards_test_load (library, "swap-by-contacts.board.xml");
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  g_autoptr (PmList) list = pm_list_new (check, PM_LIST_CHECKS, NULL, NULL);
  static const char *const closed[] = {"throw S1.2 S1.1 inside", "throw S1.5 S1.4 inside", "throw S1.2 S1.3 outside",
                                       "throw S1.5 S1.6 outside"};
  static const char *const open[] = {"throw S1.2 S1.3 inside", "throw S1.5 S1.6 inside", "throw S1.2 S1.1 outside",
                                     "throw S1.5 S1.4 outside"};
  for (guint i = 0; i < 4; i++) {
    g_assert_cmpstr (cell (list, closed[i], "expected"), ==, "below 1 Ω");
    g_assert_cmpstr (cell (list, open[i], "expected"), ==, "above 1 MΩ");
  }
  g_assert_cmpstr (cell (list, "cut X1.11 P1.11", "condition"), ==, "off; outside");
}

static void
test_pins (void)
{
  g_autoptr (PmBoard) board = boards_test_load (library, "swap-by-chip.board.xml");
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  g_autoptr (PmList) list = pm_list_new (check, PM_LIST_PINS, NULL, NULL);
  PmListOptions outside = {1, 0, 2};
  g_autoptr (PmList) of_outside = pm_list_new (check, PM_LIST_PINS, &outside, NULL);
  g_assert_cmpuint (list->n_rows, ==, 40);
  g_assert_cmpstr (cell (list, "pin X1.11", "line"), ==, "SEL0");
  g_assert_cmpstr (cell (list, "pin X1.11", "what"), ==, "re-routed");
  g_assert_cmpstr (cell (list, "pin X1.11", "goes-to"), ==, "inside: Inside; outside: Outside");
  g_assert_cmpstr (cell (of_outside, "pin X1.11", "goes-to"), ==, "Outside");
  g_assert_cmpstr (cell (list, "pin X1.11", "beside"), ==, "10, 12");
  g_assert_cmpstr (cell (list, "pin X1.11", "at-rest"), ==, "high");
  g_assert_cmpstr (cell (list, "pin X1.14", "what"), ==, "straight through");
  g_assert_cmpstr (cell (list, "pin X1.14", "direction"), ==, "from the machine");
  g_assert_cmpstr (cell (list, "pin X1.15", "direction"), ==, "to the machine");
  g_assert_cmpstr (cell (list, "pin X1.20", "what"), ==, "tapped");
}

/* The twist, conductors 10 to 16: NAVEDTRA 14100, chapter 10, table 10-7. */
static void
test_cables (void)
{
  g_autoptr (PmBoard) board = boards_test_load (library, "twisted-cable.board.xml");
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  g_autoptr (PmList) list = pm_list_new (check, PM_LIST_CABLES, NULL, NULL);
  for (guint k = 1; k <= 34; k++) {
    g_autofree char *id = g_strdup_printf ("cable W1.%u", k), *straight = g_strdup_printf ("%u", k),
                    *twisted = g_strdup_printf ("%u", k >= 10 && k <= 16 ? 26 - k : k);
    g_assert_cmpstr (cell (list, id, "pin-a"), ==, straight);
    g_assert_cmpstr (cell (list, id, "pin-b"), ==, straight);
    g_assert_cmpstr (cell (list, id, "pin-c"), ==, twisted);
    g_assert_cmpstr (cell (list, id, "way"), ==, k >= 10 && k <= 16 && k != 13 ? "crossed at Inside" : "straight");
  }
}

/* ---- the report as XML */

static void
no_control (GMarkupParseContext *context, const char *element, const char **names, const char **values,
            gpointer user_data, GError **error)
{
  guint *n = user_data;
  (*n)++;
}

/* Whatever stands in a title, the document is well-formed and holds only characters of XML 1.0. */
static void
test_report (void)
{
  static const char *const titles[] = {
      "a\001b\033[31m\177",  "<b>&\"'", "]]>", "two\nlines\tand a tab", "\xEF\xBF\xBE\xEF\xBF\xBF", "broken \xC3",
      "Ω – \xF0\x9F\x92\xBE"};
  const GMarkupParser parser = {.start_element = no_control};
  g_autoptr (PmBoard) board = boards_test_load (library, "control-wrong-way.board.xml");
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  char *kept = board->title;
  for (guint i = 0; i < G_N_ELEMENTS (titles); i++) {
    guint n = 0;
    g_autoptr (GError) error = NULL;
    board->title = (char *)titles[i];
    g_autofree char *text = pm_report_xml (check, PM_REPORT_ALL_LISTS);
    g_autoptr (GMarkupParseContext) context = g_markup_parse_context_new (&parser, 0, &n, NULL);
    g_assert_true (g_utf8_validate (text, -1, NULL));
    for (const char *c = text; *c != '\0'; c = g_utf8_next_char (c)) {
      gunichar u = g_utf8_get_char (c);
      g_assert_true (u == '\n' || (u >= 0x20 && u != 0xFFFE && u != 0xFFFF));
    }
    g_markup_parse_context_parse (context, text, -1, &error);
    g_assert_no_error (error);
    g_assert_true (g_markup_parse_context_end_parse (context, &error));
    g_assert_cmpuint (n, >, 100);
  }
  board->title = kept;
}

int
main (int argc, char *argv[])
{
  int status;
  g_test_init (&argc, &argv, NULL);
  library = pm_library_new (NULL);
  g_test_add_func ("/lists/colours", test_colours);
  g_test_add_func ("/lists/neighbours", test_neighbours);
  g_test_add_func ("/lists/bands", test_bands);
  g_test_add_func ("/lists/ohms", test_ohms);
  g_test_add_func ("/lists/csv/quotes", test_csv_quotes);
  g_test_add_func ("/lists/csv/headings", test_csv_headings);
  g_test_add_func ("/lists/every", test_every);
  g_test_add_func ("/lists/wires", test_wires);
  g_test_add_func ("/lists/wires/random", test_wires_of_random_boards);
  g_test_add_func ("/lists/wires/words", test_wire_words);
  g_test_add_func ("/lists/parts", test_parts);
  g_test_add_func ("/lists/letters", test_letters);
  g_test_add_func ("/lists/alternates", test_alternates);
  g_test_add_func ("/lists/checks", test_checks);
  g_test_add_func ("/lists/checks/contacts", test_checks_of_contacts);
  g_test_add_func ("/lists/pins", test_pins);
  g_test_add_func ("/lists/cables", test_cables);
  g_test_add_func ("/lists/report", test_report);
  status = g_test_run ();
  pm_library_free (library);
  return status;
}
