/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every demo board says what its file says of itself: the good ones nothing, each faulty one its fault, at the top and
 * alone.
 *
 * What is expected was worked out by hand from the drawings of the boards, before there was a program. */
#include "boards-test.h"
#include "pm-check.h"
#include <string.h>

/* wanted: what every select reaches, setting by setting, as "inside: SEL0=Inside SEL1=Outside"; NULL where nothing can
 * be sure. */
typedef struct {
  const char *file;
  const char *finding;       /* the one above a note; NULL: none */
  PmSeverity  severity;
  PmVerdict   verdict;
  const char *routes[4];
} Expected;

static const Expected table[] = {
    /* good */
    {"always-one.board.xml",
     NULL,
     PM_N_SEVERITIES,
     PM_VERDICT_ROUTES_RIGHT,
     {"without the board: Inside, Outside", "inside: Inside, Outside", "outside: Outside, Inside"}},
    {"four-selects-coded.board.xml",
     NULL,
     PM_N_SEVERITIES,
     PM_VERDICT_ROUTES_RIGHT,
     {"without the board: First + Second + Third, Second + Third, First + Third, Third",
      "first: First, Second, Third, Fourth", "second: Second, First, Fourth, Third"}},
    {"jumper-only.board.xml", NULL, PM_N_SEVERITIES, PM_VERDICT_ROUTES_RIGHT, {NULL, "as it is: Outside, Inside"}},
    {"swap-by-bilateral-switch.board.xml",
     NULL,
     PM_N_SEVERITIES,
     PM_VERDICT_ROUTES_RIGHT,
     {"without the board: Inside, Outside", "inside: Inside, Outside", "outside: Outside, Inside"}},
    {"swap-by-chip.board.xml",
     NULL,
     PM_N_SEVERITIES,
     PM_VERDICT_ROUTES_RIGHT,
     {"without the board: Inside, Outside", "inside: Inside, Outside", "outside: Outside, Inside"}},
    {"swap-by-contacts.board.xml",
     NULL,
     PM_N_SEVERITIES,
     PM_VERDICT_ROUTES_RIGHT,
     {"without the board: Inside, Outside", "inside: Inside, Outside", "outside: Outside, Inside"}},
    {"three-drive-rotary.board.xml",
     NULL,
     PM_N_SEVERITIES,
     PM_VERDICT_ROUTES_RIGHT,
     {"without the board: Inside, Near box, Far box, nothing", "inside: Inside, Near box, Far box, nothing",
      "near box: Near box, Inside, Far box, nothing", "far box: Far box, Near box, Inside, nothing"}},
    {"twisted-cable.board.xml", NULL, PM_N_SEVERITIES, PM_VERDICT_ROUTES_RIGHT, {NULL, "as it is: Inside, Outside"}},
    /* a stop */
    {"choice-remembered-at-reset.board.xml",
     "start-unknown",
     PM_SEVERITY_STOP,
     PM_VERDICT_NOT_READY,
     {"without the board: Inside, Outside"}},
    {"control-wrong-way.board.xml",
     "control-wrong-way",
     PM_SEVERITY_STOP,
     PM_VERDICT_NOT_READY,
     {"without the board: Inside, Outside", "inside: Outside, Inside", "outside: Inside, Outside"}},
    {"cut-not-made.board.xml",
     "outputs-collide",
     PM_SEVERITY_STOP,
     PM_VERDICT_NOT_READY,
     {"without the board: Inside, Outside"}},
    {"motor-stays.board.xml",
     "side-line-stays",
     PM_SEVERITY_STOP,
     PM_VERDICT_NOT_READY,
     {"without the board: Inside, Outside", "inside: Inside, Outside", "outside: Outside, Inside"}},
    {"rails-joined-by-switch.board.xml",
     "rails-joined",
     PM_SEVERITY_STOP,
     PM_VERDICT_NOT_READY,
     {"without the board: Inside, Outside", NULL, "outside: Outside, Inside"}},
    {"ready-held.board.xml",
     "shared-line-held",
     PM_SEVERITY_STOP,
     PM_VERDICT_NOT_READY,
     {NULL, "as it is: Inside, Outside"}},
    {"same-jumper.board.xml",
     "two-drives-answer",
     PM_SEVERITY_STOP,
     PM_VERDICT_NOT_READY,
     {NULL, "as it is: Inside + Outside, nothing"}},
    {"sixteen-settings.board.xml",
     "open-cmos-input",
     PM_SEVERITY_STOP,
     PM_VERDICT_NOT_READY,
     {"without the board: Inside, Outside", "inside, on, on, told: Inside, Outside",
      "inside, on, on, kept: Inside, Outside"}},
    {"straight-cable.board.xml",
     "two-drives-answer",
     PM_SEVERITY_STOP,
     PM_VERDICT_NOT_READY,
     {NULL, "as it is: nothing, Inside + Outside"}},
    {"switched-on-one-side-only.board.xml",
     "two-drives-answer",
     PM_SEVERITY_STOP,
     PM_VERDICT_NOT_READY,
     {"without the board: Inside, Outside", "inside: Inside, Outside", "outside: Inside + Outside, nothing"}},
    {"through-pin-left-out.board.xml",
     "through-not-carried",
     PM_SEVERITY_STOP,
     PM_VERDICT_NOT_READY,
     {"without the board: Inside, Outside", "inside: Inside, Outside", "outside: Outside, Inside"}},
    /* a care */
    {"hc-behind-ttl.board.xml",
     "high-not-enough",
     PM_SEVERITY_CARE,
     PM_VERDICT_READY_IF,
     {"without the board: Inside, Outside", "inside: Inside, Outside", "outside: Outside, Inside"}},
    {"ls-output-terminated.board.xml",
     "low-not-reached",
     PM_SEVERITY_CARE,
     PM_VERDICT_READY_IF,
     {"without the board: Inside, Outside", "inside: Inside, Outside", "outside: Outside, Inside"}},
    {"select-floats-lead-off.board.xml",
     "open-bipolar-input",
     PM_SEVERITY_CARE,
     PM_VERDICT_READY_IF,
     {"without the board: Inside, Outside", "inside: Inside, Outside", "outside: Outside, Inside"}},
};

static char *
routes_of (const PmCheck *check, guint i)
{
  GString *text = g_string_new (check->cases[i].name);
  for (guint u = 0; u < check->board->host.n_units; u++) {
    g_autofree char *reach = pm_check_reach_text (check, i, u);
    g_string_append_printf (text, "%s%s", u == 0 ? ": " : ", ", reach);
  }
  return g_string_free (text, FALSE);
}

/* What the about says must be what is expected here. */
static void
assert_about (const Expected *expected, const PmBoard *board)
{
  static const char *const words[] = {"Fault, a stop:", "Fault, a care:", "", "Good: nothing to say."};
  g_assert_nonnull (board->about);
  g_auto (GStrv) about_lines = g_strsplit (board->about, "\n", -1);
  g_autofree char *about = g_strjoinv (" ", about_lines);
  if (strstr (about, words[expected->severity]) == NULL)
    g_test_message ("%s: the about does not say \"%s\"", expected->file, words[expected->severity]);
  g_assert_nonnull (strstr (about, words[expected->severity]));
}

static void
assert_findings (const Expected *expected, const PmCheck *check)
{
  for (guint i = 0; i < check->n_findings; i++)
    g_test_message ("%s: %s", check->findings[i].id, check->findings[i].short_text);
  g_test_message ("%s", check->verdict_text);
  g_assert_cmpuint (check->counts[PM_SEVERITY_STOP] + check->counts[PM_SEVERITY_CARE], ==,
                    expected->finding != NULL ? 1 : 0);
  if (expected->finding != NULL) {
    g_assert_cmpuint (check->n_findings, >=, 1);
    g_assert_cmpstr (check->findings[0].id, ==, expected->finding);
    g_assert_cmpint (check->findings[0].severity, ==, expected->severity);
  }
  g_assert_cmpint (check->verdict, ==, expected->verdict);
  g_assert_false (check->not_decided);
  g_assert_cmpint (pm_check_exit_code (check, FALSE), ==, expected->severity == PM_SEVERITY_STOP);
  g_assert_cmpint (pm_check_exit_code (check, TRUE), ==, expected->finding != NULL);
}

static void
test_board (gconstpointer data)
{
  const Expected *expected = data;
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = boards_test_load (library, expected->file);
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  assert_about (expected, board);
  assert_findings (expected, check);
  for (guint i = 0; i < G_N_ELEMENTS (expected->routes); i++) {
    if (expected->routes[i] == NULL)
      continue;
    g_autofree char *routes = routes_of (check, i);
    g_assert_cmpstr (routes, ==, expected->routes[i]);
  }
}

/* A board put into the folder is a board to be expected something of. */
static void
test_all_expected (void)
{
  g_auto (GStrv) names = boards_test_names ();
  for (guint i = 0; names[i] != NULL; i++) {
    gboolean known = FALSE;
    for (guint k = 0; k < G_N_ELEMENTS (table) && !known; k++)
      known = g_str_equal (table[k].file, names[i]);
    if (!known)
      g_test_message ("%s is in data/boards and not in the table", names[i]);
    g_assert_true (known);
  }
  g_assert_cmpuint (g_strv_length (names), ==, G_N_ELEMENTS (table));
}

/* Settings of sixteen-settings, from its drawing: S3 (second select) off leaves two inputs open; S2 and S4 do not. */
static void
test_sixteen (void)
{
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmBoard) board = boards_test_load (library, "sixteen-settings.board.xml");
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  guint uncertain = 0;
  g_assert_cmpuint (check->n_settings, ==, 16);
  for (guint i = 1; i <= check->n_settings; i++) {
    gboolean certain = TRUE, off = strstr (check->cases[i].name, ", off, told") != NULL ||
                                   strstr (check->cases[i].name, ", off, kept") != NULL;
    for (guint u = 0; u < board->host.n_units; u++)
      for (guint d = 0; d < board->n_drives; d++)
        certain = certain && pm_check_cell (check, i, u, d)->answer != PM_ANSWER_MAY;
    g_assert_cmpint (certain, ==, !off);
    uncertain += !certain;
  }
  g_assert_cmpuint (uncertain, ==, 8);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    g_autofree char *path = g_strdup_printf ("/check/boards/%s", table[i].file);
    g_test_add_data_func (path, &table[i], test_board);
  }
  g_test_add_func ("/check/boards/all-expected", test_all_expected);
  g_test_add_func ("/check/boards/sixteen-settings", test_sixteen);
  return g_test_run ();
}
