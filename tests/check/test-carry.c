/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A remedy of several wires is typed into the file word by word, and the board is then what the remedy said: right. */
#include "check-text.h"

#include <string.h>

static PmLibrary *library;

static char *
replaced (char *text, const char *from, const char *to)
{
  g_auto (GStrv) parts = g_strsplit (text, from, 2);
  g_assert_nonnull (parts[1]);
  g_free (text);
  return g_strjoinv (to, parts);
}

/* "take U1.1A and U1.1B out of the 0V join": the pins go from the line of that join. */
static char *
take_out (char *text, const char *to_do)
{
  g_autoptr (GRegex) taking = g_regex_new ("take ([^;]*) out of the (\\S+) join;", 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  for (g_regex_match (taking, to_do, 0, &match); g_match_info_matches (match); g_match_info_next (match, NULL)) {
    g_autofree char *list = g_match_info_fetch (match, 1), *name = g_match_info_fetch (match, 2),
                    *start = g_strdup_printf ("<join>%s ", name);
    g_auto (GStrv) pins = g_regex_split_simple (", | and ", list, 0, 0);
    char *at = strstr (text, start);
    g_assert_nonnull (at);
    g_autofree char *head = g_strndup (text, (gsize) (at - text)), *tail = g_strdup (at);
    for (guint i = 0; pins[i] != NULL; i++) {
      g_autofree char *word = g_strconcat (" ", pins[i], NULL);
      tail = replaced (g_steal_pointer (&tail), word, "");
    }
    g_free (text);
    text = g_strconcat (head, tail, NULL);
  }
  return text;
}

/* "join U1.1A to SEL0:chip, ...": a join for each. */
static char *
join (char *text, const char *to_do)
{
  g_autoptr (GString) joins = g_string_new (NULL);
  g_autoptr (GRegex) wire = g_regex_new ("(\\S+) to ([^ ,]+)", 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  const char *from = g_strrstr_len (to_do, (gssize) (strstr (to_do, " Tried") - to_do), "join ") + strlen ("join ");
  g_autofree char *wires = g_strndup (from, (gsize) (strstr (from, ". Tried") - from));
  guint n = 0;
  for (g_regex_match (wire, wires, 0, &match); g_match_info_matches (match); g_match_info_next (match, NULL), n++) {
    g_autofree char *a = g_match_info_fetch (match, 1), *b = g_match_info_fetch (match, 2);
    g_string_append_printf (joins, "<join>%s %s</join>\n", a, b);
  }
  g_assert_cmpuint (n, >=, 3);
  g_string_append (joins, "<drive");
  return replaced (text, "<drive", joins->str);
}

static void
follow (const char *variable, const char *path, const char *cuts, const char *more_cuts)
{
  g_autofree char *file = g_build_filename (g_getenv (variable), path, NULL), *text = NULL;
  g_autoptr (PmBoard) board = check_text_load (file, library);
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  g_assert_cmpint (check->verdict, ==, PM_VERDICT_NOT_READY);
  const char *to_do = check->findings[0].to_do;
  g_test_message ("%s", to_do);
  g_assert_nonnull (strstr (to_do, "Tried"));
  g_assert_true (g_file_get_contents (file, &text, NULL, NULL));
  text = replaced (g_steal_pointer (&text), cuts, more_cuts);
  text = take_out (g_steal_pointer (&text), to_do);
  text = join (g_steal_pointer (&text), to_do);
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autoptr (PmBoard) typed = pm_board_load_text (file, text, strlen (text), library, faults);
  g_assert_nonnull (typed);
  g_autoptr (PmCheck) now = pm_check_new (typed, NULL, NULL);
  g_assert_cmpuint (now->counts[PM_SEVERITY_STOP], ==, 0);
  g_assert_cmpuint (now->counts[PM_SEVERITY_CARE], ==, 0);
  g_assert_cmpint (now->verdict, >=, PM_VERDICT_ROUTES_RIGHT);
}

static void
test_section (void)
{
  follow ("POINTSMAN_DATA", "boards/switched-on-one-side-only.board.xml", "cuts=\"SEL1\"", "cuts=\"SEL0 SEL1\"");
}

static void
test_two_sections (void)
{
  follow ("POINTSMAN_DATA", "boards/motor-stays.board.xml", "cuts=\"SEL0 SEL1\"", "cuts=\"SEL0 SEL1 MTR0 MTR1\"");
}

static void
test_pole (void)
{
  follow ("G_TEST_SRCDIR", "check/cases/one-pole.board.xml", "cuts=\"SEL1\"", "cuts=\"SEL0 SEL1\"");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  library = pm_library_new (NULL);
  g_test_add_func ("/carry/section", test_section);
  g_test_add_func ("/carry/two-sections", test_two_sections);
  g_test_add_func ("/carry/pole", test_pole);
  int status = g_test_run ();
  pm_library_free (library);
  return status;
}
