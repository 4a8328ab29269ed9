/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spoilt boards, demo boards and small ones: a join dropped, pins exchanged, another chip, a cut left out ...  Whatever
 * comes of it is judged without a crash, in good time, and what is said holds together: every finding complete and in
 * order, every sure cell true for the slow evaluator.
 *
 * How many: MUTANTS in the environment, else 200 (2,000 are run by hand now and then).
 */
#include "boards-test.h"
#include "check-text.h"
#include "pm-finding-kinds.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

/* Of this program's own time: others may be at work on the machine. */
#ifdef __SANITIZE_ADDRESS__
#define SECONDS 60
#else
#define SECONDS 5
#endif

typedef struct { GRand *rand; GPtrArray *lines; } Mutant;

static guint
upto (Mutant *m, guint n)
{
  return (guint) g_rand_int_range (m->rand, 0, (gint32) n);
}

/* A random line that holds word; G_MAXUINT if there is none. */
static guint
line_with (Mutant *m, const char *word)
{
  guint found = G_MAXUINT, n = 0;
  for (guint i = 0; i < m->lines->len; i++)
    if (strstr (g_ptr_array_index (m->lines, i), word) != NULL && upto (m, ++n) == 0)
      found = i;
  return found;
}

static void
set_line (Mutant *m, guint i, char *text)
{
  g_free (g_ptr_array_index (m->lines, i));
  g_ptr_array_index (m->lines, i) = text;
}

static void
replace (Mutant *m, guint i, const char *from, const char *to)
{
  const char *line = g_ptr_array_index (m->lines, i), *at = strstr (line, from);
  if (at == NULL)
    return;
  g_autofree char *head = g_strndup (line, (gsize) (at - line));
  set_line (m, i, g_strconcat (head, to, at + strlen (from), NULL));
}

/* The pins of a join on one line, and what stands around them; NULL if it is no such line. */
static GPtrArray *
pins_of (Mutant *m, guint i, char **head)
{
  const char *line = g_ptr_array_index (m->lines, i), *open = strstr (line, "<join"),
             *from = open != NULL ? strchr (open, '>') : NULL, *to = from != NULL ? strstr (from, "</join>") : NULL;
  if (to == NULL)
    return NULL;
  g_autofree char *inside = g_strndup (from + 1, (gsize) (to - from - 1));
  g_auto (GStrv) words = g_strsplit (inside, " ", -1);
  GPtrArray *pins = g_ptr_array_new_with_free_func (g_free);
  for (guint k = 0; words[k] != NULL; k++)
    if (words[k][0] != '\0')
      g_ptr_array_add (pins, g_strdup (words[k]));
  *head = g_strndup (line, (gsize) (from + 1 - line));
  return pins;
}

static void
put_pins (Mutant *m, guint i, const char *head, GPtrArray *pins)
{
  g_autoptr (GString) text = g_string_new (head);
  for (guint k = 0; k < pins->len; k++)
    g_string_append_printf (text, "%s%s", k > 0 ? " " : "", (char *) g_ptr_array_index (pins, k));
  g_string_append (text, "</join>");
  set_line (m, i, g_string_free (g_steal_pointer (&text), FALSE));
}

/* ---- what is spoilt; each does nothing where the board has no such thing */

static void
drop (Mutant *m, const char *word)
{
  guint i = line_with (m, word);
  if (i != G_MAXUINT)
    g_ptr_array_remove_index (m->lines, i);
}

/* move: a pin goes from one join to another; else two pins change places. */
static void
mix_pins (Mutant *m, gboolean move)
{
  guint a = line_with (m, "<join"), b = line_with (m, "<join");
  g_autofree char *head_a = NULL, *head_b = NULL;
  if (a == G_MAXUINT || b == G_MAXUINT || a == b)
    return;
  g_autoptr (GPtrArray) from = pins_of (m, a, &head_a), to = pins_of (m, b, &head_b);
  if (from == NULL || to == NULL || from->len < 2 || to->len < 1)
    return;
  guint i = upto (m, from->len), k = upto (m, to->len);
  if (move)
    g_ptr_array_add (to, g_ptr_array_steal_index (from, i));
  else {
    gpointer pin = g_ptr_array_index (from, i);
    g_ptr_array_index (from, i) = g_ptr_array_index (to, k);
    g_ptr_array_index (to, k) = pin;
  }
  put_pins (m, a, head_a, from);
  put_pins (m, b, head_b, to);
}

static void
drop_pin (Mutant *m)
{
  guint i = line_with (m, "<join");
  g_autofree char *head = NULL;
  g_autoptr (GPtrArray) pins = i != G_MAXUINT ? pins_of (m, i, &head) : NULL;
  if (pins == NULL || pins->len < 2)
    return;
  g_ptr_array_remove_index (pins, upto (m, pins->len));
  put_pins (m, i, head, pins);
}

/* One pin is joined to a pin of another join. */
static void
bridge (Mutant *m)
{
  guint a = line_with (m, "<join>"), b = line_with (m, "<join>");
  g_autofree char *head_a = NULL, *head_b = NULL;
  if (a == G_MAXUINT || b == G_MAXUINT)
    return;
  g_autoptr (GPtrArray) from = pins_of (m, a, &head_a), to = pins_of (m, b, &head_b);
  if (from == NULL || to == NULL)
    return;
  g_ptr_array_insert (m->lines, (gint)a,
                      g_strdup_printf ("<join>%s %s</join>", (char *)g_ptr_array_index (from, upto (m, from->len)),
                                       (char *)g_ptr_array_index (to, upto (m, to->len))));
}

/* One word of a list becomes another of the same list. */
static void
exchange (Mutant *m, const char *const *words, guint n)
{
  const char *from = words[upto (m, n)];
  guint i = line_with (m, from);
  if (i != G_MAXUINT)
    replace (m, i, from, words[upto (m, n)]);
}

static void
exchange_throws (Mutant *m)
{
  guint i = line_with (m, "<position"), k = i + 1;
  if (i == G_MAXUINT || k >= m->lines->len || strstr (g_ptr_array_index (m->lines, k), "<position") == NULL)
    return;
  const char *a = strstr (g_ptr_array_index (m->lines, i), "closes="),
             *b = strstr (g_ptr_array_index (m->lines, k), "closes=");
  if (a == NULL || b == NULL)
    return;
  g_autofree char *was = g_strdup (a), *is = g_strdup (b);
  replace (m, i, was, is);
  replace (m, k, is, was);
}

static void
spoil (Mutant *m)
{
  static const char *const selectors[] = {"\"74LS157\"", "\"74HCT157\"", "\"74HC157\"", "\"74LS158\"",
                                          "\"74LS257\"", "\"74F157\"",   "\"3257\""};
  static const char *const gates[] = {"\"74LS00\"", "\"7438\"",   "\"74LS08\"", "\"74LS32\"",
                                      "\"74LS86\"", "\"74LS03\"", "\"74HC00\"", "\"74LS125\""};
  static const char *const hosts[] = {"\"larkspur-40\"", "\"larkspur-60\"", "\"larkspur-80\"",
                                      "\"larkspur-20\"", "\"larkspur-90\"", "\"larkspur-100\""};
  static const char *const drives[] = {"\"drive-34-way\"",     "\"drive-34-way-second\"", "\"drive-34-way-terminated\"",
                                       "\"drive-ready-held\"", "\"drive-no-identity\"",   "\"drive-emulated\""};
  static const char *const jumpers[] = {"jumper=\"first\"", "jumper=\"second\"", "jumper=\"third\"", "jumper=\"any\"",
                                        ""};
  static const char *const ohms[] = {"resistor 10k",  "resistor 1k", "resistor 150",  "resistor 330",
                                     "resistor 100k", "diode",       "capacitor 100n"};
  static const char *const cuts[] = {"cuts=\"SEL0 SEL1\"", "cuts=\"SEL0\"", "cuts=\"SEL1\"", "cuts=\"SEL0 SEL1 MTR\"",
                                     "cuts=\"SEL0 SEL1 RDY\""};
  static const char *const rails[] = {">+5V ", ">0V "};
  static const char *const levers[] = {"removable=\"yes\"", "while=\"running\"", "contacts=\"make-first\"",
                                       "contacts=\"break-first\"", "moved=\"once\""};
  static const char *const supplies[] = {" supply=\"own\"", " title=\"Somewhere\""};
  switch (upto (m, 18)) {
  case 0: drop (m, "<join"); break;
  case 1: drop (m, "<part"); break;
  case 2: drop (m, "<wanted"); break;
  case 3: drop (m, "<drive"); break;
  case 4: case 5: mix_pins (m, FALSE); break;
  case 6: mix_pins (m, TRUE); break;
  case 7: drop_pin (m); break;
  case 8: bridge (m); break;
  case 9: exchange (m, selectors, G_N_ELEMENTS (selectors)); break;
  case 10: exchange (m, gates, G_N_ELEMENTS (gates)); break;
  case 11: exchange (m, hosts, G_N_ELEMENTS (hosts)); break;
  case 12: exchange (m, drives, G_N_ELEMENTS (drives)); break;
  case 13: exchange (m, jumpers, G_N_ELEMENTS (jumpers) - 1); break;
  case 14: exchange (m, ohms, G_N_ELEMENTS (ohms)); break;
  case 15: exchange (m, cuts, G_N_ELEMENTS (cuts)); break;
  case 16: exchange (m, upto (m, 2) ? rails : supplies, 2); break;
  default: {
    guint i = line_with (m, "is=\"toggle");
    if (upto (m, 2))
      exchange_throws (m);
    else if (i != G_MAXUINT) {
      g_autofree char *with = g_strconcat (levers[upto (m, G_N_ELEMENTS (levers))], " is=\"toggle", NULL);
      replace (m, i, "is=\"toggle", with);
    }
  }
  }
}

/* ---- what must hold */

#define HOLDS(what) do { if (!(what)) { g_test_message ("does not hold: %s", #what); return FALSE; } } while (0)

static gboolean
finding_holds (const PmCheck *check, const PmFinding *finding)
{
  HOLDS (finding->kind < PM_N_FINDING_KINDS && g_str_equal (finding->id, PM_FINDINGS[finding->kind].id));
  HOLDS (finding->severity < PM_N_SEVERITIES && finding->case_index < check->n_cases);
  HOLDS (finding->title != NULL && finding->title[0] != '\0' && finding->short_text != NULL && finding->where != NULL);
  HOLDS (finding->when != NULL || finding->what != NULL || finding->because != NULL);
  HOLDS (g_utf8_validate (finding->title, -1, NULL) && strstr (finding->title, "(null)") == NULL);
  HOLDS (finding->when == NULL || strstr (finding->when, "(null)") == NULL);
  HOLDS (finding->what == NULL || strstr (finding->what, "(null)") == NULL);
  HOLDS (finding->to_do == NULL || strstr (finding->to_do, "(null)") == NULL);
  HOLDS (finding->unit >= -1 && finding->unit < (int) check->board->host.n_units);
  HOLDS (finding->drive >= -1 && finding->drive < (int) check->board->n_drives);
  HOLDS (!finding->tried || finding->to_do != NULL);
  HOLDS (finding->accepted == NULL || finding->severity == PM_SEVERITY_NOTE);
  HOLDS (finding->followers != NULL && g_str_has_prefix (finding->identity, finding->id));
  for (guint i = 0; i < finding->n_places; i++)
    HOLDS (finding->places[i] < check->board->n_places && (i == 0 || finding->places[i - 1] < finding->places[i]));
  return TRUE;
}

static gboolean
case_holds (const PmCheck *check, const PmCaseResult *result)
{
  const PmBoard *board = check->board;
  HOLDS (result->kind < PM_N_CASE_KINDS && result->name != NULL && result->title != NULL && result->verdict != NULL &&
         result->changed != NULL);
  HOLDS (result->setting < check->n_cases && (result->wanted == PM_NONE || result->wanted < board->n_wanted));
  for (guint s = 0; s < board->n_switches; s++)
    HOLDS (result->positions[s] >= -1 && result->positions[s] < (int) board->switches[s].n_positions);
  for (guint i = 0; i < board->host.n_units * board->n_drives; i++)
    HOLDS (result->cells[i].answer < PM_N_ANSWERS &&
           (result->cells[i].answer != PM_ANSWER_DEPENDS || result->cells[i].on != NULL));
  for (guint d = 0; d < board->n_drives; d++)
    HOLDS (result->marks[d] < PM_N_DRIVE_MARKS);
  for (guint i = 0; i < result->n_sides; i++) {
    const PmSideLine *side = &result->sides[i];
    HOLDS (side->drive < board->n_drives && side->unit < board->host.n_units && side->side < PM_N_SIDES &&
           side->text != NULL);
    HOLDS (result->cells[side->unit * board->n_drives + side->drive].answer == PM_ANSWER_YES);
  }
  for (guint i = 0; i < result->findings->len; i++)
    HOLDS (g_array_index (result->findings, guint, i) < check->n_findings);
  HOLDS (result->fit != PM_FIT_AS_WANTED || result->wanted != PM_NONE);
  return TRUE;
}

static gboolean
check_holds (const PmCheck *check)
{
  guint counts[PM_N_SEVERITIES] = {0}, in_results = 0;
  for (guint i = 0; i < check->n_findings; i++) {
    HOLDS (finding_holds (check, &check->findings[i]));
    HOLDS (i == 0 || check->findings[i - 1].severity <= check->findings[i].severity);
    counts[check->findings[i].severity]++;
  }
  HOLDS (memcmp (counts, check->counts, sizeof counts) == 0);
  HOLDS ((check->verdict == PM_VERDICT_NOT_READY) == (counts[PM_SEVERITY_STOP] > 0));
  HOLDS (check->verdict_text != NULL && check->tried_text != NULL && check->not_checked_text != NULL &&
         strstr (check->verdict_text, "(null)") == NULL);
  HOLDS (check->n_settings < check->n_cases && check->usual <= check->n_settings);
  HOLDS (check->n_settings == 0 || check->usual >= 1);
  for (guint i = 0; i < check->n_cases; i++)
    HOLDS (case_holds (check, &check->cases[i]));
  for (guint r = 0; r < check->n_results; r++)
    in_results += check->results[r].settings->len;
  HOLDS (in_results == check->n_settings);
  return TRUE;
}

static gboolean
is_told_as_today (const PmCheck *check)
{
  for (guint i = 0; i < check->n_findings; i++)
    if (check->findings[i].kind == PM_FINDING_AS_TODAY)
      return TRUE;
  return FALSE;
}

/* What stands in the table of a setting and what is found agree: nothing bad is seen there and passed over. */
static gboolean
judgement_holds (const PmCheck *check)
{
  const PmBoard *board = check->board;
  gboolean excused = check->counts[PM_SEVERITY_STOP] > 0, today = excused || is_told_as_today (check);
  for (guint i = 1; i <= check->n_settings; i++) {
    const PmCaseResult *result = &check->cases[i];
    HOLDS (result->fit != PM_FIT_NOT_AS_WANTED || excused);
    HOLDS (check->verdict != PM_VERDICT_ROUTES_RIGHT || result->fit == PM_FIT_AS_WANTED ||
           result->fit == PM_FIT_NOT_STATED);
    for (guint d = 0; d < board->n_drives; d++)
      HOLDS (result->marks[d] != PM_DRIVE_ALWAYS || board->host.always_one || today);
    for (guint u = 0; u < board->host.n_units; u++) {
      guint n = 0;
      for (guint d = 0; d < board->n_drives; d++)
        n += pm_check_cell (check, i, u, d)->answer == PM_ANSWER_YES;
      HOLDS (n < 2 || today);
    }
    for (guint k = 0; k < result->n_sides; k++) {
      const PmWanted *wanted = result->wanted != PM_NONE ? &board->wanted[result->wanted] : NULL;
      gboolean bad = result->sides[k].side == PM_SIDE_STAYS || result->sides[k].side == PM_SIDE_HELD;
      HOLDS (!bad || today || (wanted != NULL && wanted->without != NULL));
    }
  }
  for (guint i = 0; i < check->n_findings; i++) {
    const PmFinding *finding = &check->findings[i];
    PmCaseKind kind = check->cases[finding->case_index].kind;
    gboolean anywhere = finding->kind == PM_FINDING_RAILS_JOINED || finding->kind == PM_FINDING_SUPPLY_ON_SIGNAL;
    HOLDS (finding->severity != PM_SEVERITY_STOP || anywhere || kind == PM_CASE_SETTING || kind == PM_CASE_MOVING);
  }
  return TRUE;
}

typedef struct { gboolean on, off, open; } Lamp;

static gboolean
look (const PmWorld *world, gpointer data)
{
  Lamp *lamp = data;
  lamp->on |= world->answers[0] == PM_LEVEL_HIGH;
  lamp->off |= world->answers[0] != PM_LEVEL_HIGH;
  for (guint i = 0; i < world->n_choices; i++)
    lamp->open |= world->choices[i].open_high;
  return TRUE;
}

/* A drive that looks at a side line of its own (a motor) answers with that line on: the lamp alone does not tell. */
static gboolean
looks_at_its_needs (const PmDrive *drive)
{
  for (guint n = 0; n < drive->n_needs; n++)
    for (guint a = 0; a < drive->n_answers; a++)
      for (guint w = 0; w < drive->answers[a].n_whens; w++)
        if (drive->answers[a].whens[w].place == drive->needs[n].place)
          return TRUE;
  return FALSE;
}

/* A cell that says yes or never, against the slow evaluator: only open bipolar inputs (of which the high is shown) may
 * disagree. */
static gboolean
cells_hold (const PmBoard *board, const PmCheck *check, guint *n)
{
  g_autoptr (PmTranslation) t = pm_translate (board, NULL, 0);
  g_autoptr (PmCases) cases = pm_cases_new (t, PM_CASES_SETTINGS);
  g_autoptr (PmSurvey) survey = pm_survey_new (t, cases, FALSE, NULL);
  if (pm_circuit_n_bits (t->circuit) > 0)
    return TRUE;
  for (guint i = 0; i <= check->n_settings && i < 8; i++)
    for (guint u = 0; u < board->host.n_units; u++)
      for (guint d = 0; d < board->n_drives; d++) {
        PmAnswer answer = pm_check_cell (check, i, u, d)->answer;
        Lamp slow = {0}, working = {0};
        PmAsk ask = {PM_ASK_LEVEL, t->lamp[d]};
        PmBound *bound = pm_survey_bind (survey, i, pm_survey_state (survey, PM_STATE_SINGLE, u));
        if (pm_worlds_each_slowly (bound, &ask, 1, look, &slow) != PM_WORLDS_DONE ||
            pm_worlds_each (bound, &ask, 1, look, &working) != PM_WORLDS_DONE)
          continue;
        (*n)++;
        HOLDS (slow.on == working.on && slow.off == working.off);
        if (looks_at_its_needs (&board->drives[d]))
          continue;
        HOLDS (answer != PM_ANSWER_YES || (slow.on && (!slow.off || working.open)));
        HOLDS (answer != PM_ANSWER_NEVER || (slow.off && (!slow.on || working.open)));
      }
  return TRUE;
}

/* ---- the run */

typedef struct { guint made, read, cells, bad; double slowest; } Tally;

static void
keep_text (const char *text, guint number)
{
  const char *folder = g_getenv ("MUTANTS_KEEP");
  if (folder == NULL)
    return;
  g_autofree char *name = g_strdup_printf ("mutant-%u.board.xml", number),
                  *path = g_build_filename (folder, name, NULL);
  g_file_set_contents (path, text, -1, NULL);
}

static void
try_one (PmLibrary *library, const char *file, const char *text, guint number, Tally *tally)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autoptr (PmBoard) board = pm_board_load_text (file, text, strlen (text), library, faults);
  tally->made++;
  if (board == NULL)
    return;
  tally->read++;
  keep_text (text, number);
  clock_t before = clock ();
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  double took = (double) (clock () - before) / CLOCKS_PER_SEC;
  if (took > MIN (tally->slowest, 1.0)) {
    tally->slowest = MAX (tally->slowest, took);
    g_test_message ("%s, number %u: %.2f s", file, number, took);
  }
  g_autofree char *all = check_text_of (check);
  if (check_holds (check) && judgement_holds (check) && cells_hold (board, check, &tally->cells) && took < SECONDS)
    return;
  g_test_message ("%s, number %u, %.2f s:\n%s\n%s", file, number, took, text, all);
  tally->bad++;
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *) a, *(char *const *) b);
}

/* The demo boards and the small ones of cases/, full paths, sorted. */
static GPtrArray *
boards (void)
{
  GPtrArray *all = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *cases = g_build_filename (g_getenv ("G_TEST_SRCDIR"), "check", "cases", NULL);
  g_autoptr (GDir) dir = g_dir_open (cases, 0, NULL);
  g_auto (GStrv) demos = boards_test_names ();
  for (guint i = 0; demos[i] != NULL; i++)
    g_ptr_array_add (all, g_build_filename (g_getenv ("POINTSMAN_DATA"), "boards", demos[i], NULL));
  for (const char *name; (name = g_dir_read_name (dir)) != NULL;)
    if (g_str_has_suffix (name, ".board.xml"))
      g_ptr_array_add (all, g_build_filename (cases, name, NULL));
  g_ptr_array_sort (all, compare_names);
  return all;
}

static char *
spoilt (const char *path, guint number)
{
  g_autofree char *text = NULL;
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  Mutant mutant = {g_rand_new_with_seed (number + 1), g_ptr_array_new_with_free_func (g_free)};
  for (guint k = 0; lines[k] != NULL; k++)
    g_ptr_array_add (mutant.lines, g_strdup (lines[k]));
  for (guint k = 1 + upto (&mutant, 3); k > 0; k--)
    spoil (&mutant);
  g_ptr_array_add (mutant.lines, NULL);
  char *out = g_strjoinv ("\n", (char **) mutant.lines->pdata);
  g_ptr_array_unref (mutant.lines);
  g_rand_free (mutant.rand);
  return out;
}

static void
test_mutants (void)
{
  const char *wish = g_getenv ("MUTANTS"), *first = g_getenv ("MUTANTS_FROM");
  guint n = wish != NULL ? (guint) atoi (wish) : 200, from = first != NULL ? (guint) atoi (first) : 0;
  g_autoptr (GPtrArray) files = boards ();
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  Tally tally = {0};
  for (guint i = from; i < from + n && tally.bad < 5; i++) {
    const char *path = g_ptr_array_index (files, i % files->len);
    g_autofree char *text = spoilt (path, i);
    try_one (library, path, text, i, &tally);
  }
  g_test_message ("%u spoilt boards, %u of them read and judged, %u cells the same slowly, slowest %.2f s", tally.made,
                  tally.read, tally.cells, tally.slowest);
  g_assert_cmpuint (tally.bad, ==, 0);
  g_assert_cmpuint (tally.read * 3, >, tally.made);
}

/* What is found without what is proposed: of repairs that are as good the first is told. */
static char *
found_in (PmLibrary *library, const char *path, const char *text)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autoptr (PmBoard) board = pm_board_load_text (path, text, strlen (text), library, faults);
  g_assert_nonnull (board);
  g_autoptr (PmCheck) check = pm_check_new (board, NULL, NULL);
  g_autofree char *all = check_text_of (check);
  g_auto (GStrv) lines = g_strsplit (all, "\n", -1);
  g_autoptr (GString) out = g_string_new (NULL);
  for (guint i = 0; lines[i] != NULL; i++)
    if (!g_str_has_prefix (lines[i], "    tried: ") && !g_str_has_prefix (lines[i], "    follows: "))
      g_string_append_printf (out, "%s\n", lines[i]);
  return g_string_free (g_steal_pointer (&out), FALSE);
}

/* The order of the joins in a file says nothing. */
static void
test_order (void)
{
  g_autoptr (GPtrArray) files = boards ();
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  for (guint f = 0; f < files->len; f++) {
    const char *path = g_ptr_array_index (files, f);
    g_autofree char *text = NULL;
    g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
    g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
    for (guint a = 0, b = g_strv_length (lines); a < b; a++) { /* the first with the last, and so on */
      while (b > a && !g_str_has_prefix (lines[b - 1], "  <join"))
        b--;
      if (b <= a || !g_str_has_prefix (lines[a], "  <join"))
        continue;
      char *line = lines[a];
      lines[a] = lines[--b];
      lines[b] = line;
    }
    g_autofree char *turned = g_strjoinv ("\n", lines), *was = found_in (library, path, text),
                    *is = found_in (library, path, turned);
    if (!g_str_equal (was, is)) {
      g_test_message ("%s:\n%s\n%s", path, was, is);
      g_test_fail ();
    }
  }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/mutants", test_mutants);
  g_test_add_func ("/order", test_order);
  return g_test_run ();
}
