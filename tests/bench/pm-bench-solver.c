/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The route questions of a board put to the working evaluator and to an SMT solver (libz3): every setting and variation
 * in the idle state and with each unit on, all lamps together.  A section of pm-bench, which starts it; a program of
 * its own, because the record that the formula is made from costs time that the other sections must not see.
 *
 * Cold: a new context and solver for each question.  Warm: one of each for a board, with every formula made before and
 * every question put once before; push, assert, all answers, pop are what is timed.  The making of the formula stands
 * by itself.  Every answer is compared. */
#include "oracle-formula.h"
#include "pm-raw.h"
#include "pm-reach.h"

#include <string.h>
#include <time.h>

#define ENOUGH_US 50000 /* the evaluator asks all questions of a board again until this has passed */

typedef struct {
  PmCase *state;
  GHashTable *told;     /* GBytes, what the evaluator tells */
  OracleQuestion *warm; /* in the context of the board */
} Question;

typedef struct {
  const char *name;
  guint n_units, n_settings;
  guint n_left_out;                   /* too large for the solver, or not decided */
  double ours, formula, cold, warm;   /* microseconds, of all questions */
} Row;

static void
question_free (gpointer data)
{
  Question *question = data;

  g_clear_pointer (&question->warm, oracle_question_free);
  g_hash_table_unref (question->told);
  pm_case_free (question->state);
  g_free (question);
}

static double
now_us (void)
{
  struct timespec time;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &time);
  return time.tv_sec * 1e6 + time.tv_nsec / 1e3;
}

/* ---- boards that grow ---- */

/* A machine of n units with a drive on each. Pairs of units change places by two sections of a selector; there are up
 * to four toggles, each with a chip of its own that serves one pair or two. */
static char *
grown_text (guint n)
{
  guint n_pairs = n / 2, n_toggles = MIN (4, n_pairs);
  GString *text = g_string_new ("<board xmlns=\"urn:x-pointsman:1\" title=\"Grown\">\n"
                                "<host name=\"grown\" title=\"Grown\">\n"
                                "<part name=\"U1\" is=\"port-chip-40\" into=\"XU1\"/>\n"
                                "<part name=\"XU1\" is=\"socket-dip-40\" place=\"port-chip\"/>\n"
                                "<part name=\"R1\" is=\"resistor 1k\"/>\n<join>+5V R1.2</join>\n"
                                "<line name=\"MTR\" does=\"motor\" asserted=\"low\" "
                                "drives=\"push-pull\" family=\"std\" in-reset=\"weak-high\" at=\"U1.38\"/>\n"
                                "<line name=\"RDY\" does=\"ready\" asserted=\"low\" reads=\"TTL\" at=\"U1.39\"/>\n"
                                "<rail name=\"+5V\" volts=\"5.0\" at=\"XU1.20\"/>\n"
                                "<rail name=\"0V\" volts=\"0\" at=\"XU1.40\"/>\n");
  g_autoptr (GString) sits = g_string_new (NULL);

  for (guint u = 0; u < n; u++) {
    g_string_append_printf (text,
                            "<part name=\"J%u\" is=\"box-header-34\" place=\"place-%u\"/>\n"
                            "<line name=\"SEL%u\" does=\"select\" unit=\"%u\" asserted=\"low\" drives=\"push-pull\" "
                            "family=\"std\" in-reset=\"weak-high\" at=\"U1.%u\"/>\n<join>XU1.%u J%u.10</join>\n"
                            "<join>0V J%u.odd</join>\n",
                            u, u, u, u, u + 1, u + 1, u, u);
    g_string_append_printf (sits, "%sSEL%u", u ? " " : "", u);
  }
  g_string_append (text, "<join>XU1.38");
  for (guint u = 0; u < n; u++)
    g_string_append_printf (text, " J%u.16", u);
  g_string_append (text, "</join>\n<join>XU1.39 R1.1");
  for (guint u = 0; u < n; u++)
    g_string_append_printf (text, " J%u.34", u);
  g_string_append_printf (text, "</join>\n</host>\n<sits into=\"port-chip\" cuts=\"%s\"/>\n", sits->str);
  for (guint t = 1; t <= n_toggles; t++) {
    g_string_append_printf (text,
                            "<part name=\"U%u\" is=\"74LS157\"/>\n<part name=\"R%u\" is=\"resistor 10k\"/>\n"
                            "<part name=\"S%u\" is=\"toggle-spdt\"><position name=\"straight\" closes=\"2-1\"/>"
                            "<position name=\"crossed\" closes=\"2-3\"/></part>\n"
                            "<join>S%u.2 U%u.S R%u.1</join>\n<join>+5V R%u.2</join>\n<join>0V S%u.1 U%u./G",
                            t, t, t, t, t, t, t, t, t);
    if (t - 1 + n_toggles >= n_pairs)
      g_string_append_printf (text, " U%u.3A U%u.3B U%u.4A U%u.4B", t, t, t, t);
    g_string_append (text, "</join>\n");
  }
  for (guint p = 0; p < n_pairs; p++) {
    guint chip = p % n_toggles + 1, a = 2 * (p / n_toggles) + 1, b = a + 1;

    g_string_append_printf (text,
                            "<join>SEL%u:chip U%u.%uA U%u.%uB</join>\n<join>U%u.%uY SEL%u:machine</join>\n"
                            "<join>SEL%u:chip U%u.%uB U%u.%uA</join>\n<join>U%u.%uY SEL%u:machine</join>\n",
                            2 * p, chip, a, chip, b, chip, a, 2 * p, 2 * p + 1, chip, a, chip, b, chip, b, 2 * p + 1);
  }
  for (guint u = 0; u < n; u++)
    g_string_append_printf (text, "<drive name=\"D%u\" is=\"drive-34-way\" into=\"place-%u\" jumper=\"first\"/>\n", u,
                            u);
  g_string_append (text, "</board>\n");
  return g_string_free (text, FALSE);
}

/* ---- questions ---- */

static gboolean
keep_answer (const PmWorld *world, gpointer data)
{
  GPtrArray *asked = data; /* table, count of lamps */

  g_hash_table_add (asked->pdata[0], g_bytes_new (world->answers, GPOINTER_TO_UINT (asked->pdata[1])));
  return TRUE;
}

static gboolean
count_world (const PmWorld *world, gpointer data)
{
  *(guint64 *)data += world->answers[0] + 1u;
  return TRUE;
}

/* Case x host state, evenly taken if there are more than most; the evaluator's answers are in them. */
static GPtrArray *
make_questions (const PmSurvey *survey, PmBound *bound, const GArray *asks, guint most, Row *row)
{
  GPtrArray *all = g_ptr_array_new_with_free_func (question_free);
  g_autoptr (GPtrArray) states = g_ptr_array_new ();
  guint n_cases = survey->cases->specs->len, total, taken;

  for (guint s = 0; s < survey->states->len; s++) {
    PmHostState *host = &g_array_index (survey->states, PmHostState, s);

    if (host->kind == PM_STATE_IDLE || host->kind == PM_STATE_SINGLE)
      g_ptr_array_add (states, host);
  }
  total = n_cases * states->len;
  taken = MIN (total, most);
  for (guint q = 0; q < taken; q++) {
    guint which = (guint64)q * total / taken;
    const PmCaseSpec *spec = survey->cases->specs->pdata[which / states->len];
    Question *question = g_new0 (Question, 1);
    g_autoptr (GPtrArray) asked = g_ptr_array_new ();

    question->state = pm_case_copy (spec->bindings->pdata[0]);
    question->told = g_hash_table_new_full (g_bytes_hash, g_bytes_equal, (GDestroyNotify)g_bytes_unref, NULL);
    pm_survey_set_sources (survey, states->pdata[which % states->len], question->state);
    memset (question->state->bits, 2, question->state->n_bits);
    g_ptr_array_add (asked, question->told);
    g_ptr_array_add (asked, GUINT_TO_POINTER (asks->len));
    pm_bound_set (bound, question->state);
    if (pm_worlds_each (bound, (PmAsk *)asks->data, asks->len, keep_answer, asked) == PM_WORLDS_DONE) {
      g_ptr_array_add (all, question);
    } else {
      question_free (question);
      row->n_left_out++;
    }
  }
  return all;
}

static void
must_be_same (const Row *row, const Question *question, const GPtrArray *answers)
{
  gboolean same = answers->len == g_hash_table_size (question->told);

  for (guint k = 0; k < answers->len && same; k++)
    same = g_hash_table_contains (question->told, answers->pdata[k]);
  if (!same)
    g_error ("%s: the solver and the evaluator answer differently", row->name);
}

static Z3_context
new_context (void)
{
  Z3_config config = Z3_mk_config ();
  Z3_context context = Z3_mk_context (config);

  Z3_del_config (config);
  return context;
}

/* Questions that are too large are taken out. */
static void
ask_cold (const OracleRecord *record, const GArray *asks, GPtrArray *questions, Row *row)
{
  for (guint q = 0; q < questions->len;) {
    Question *question = questions->pdata[q];
    double start = now_us (), made, ready;
    Z3_context context = new_context ();
    g_autoptr (GPtrArray) answers = NULL;

    made = now_us ();
    OracleQuestion *formulas =
        oracle_question_new (context, record, question->state, (PmAsk *)asks->data, asks->len);
    ready = now_us ();
    if (formulas != NULL) {
      Z3_solver solver = Z3_mk_simple_solver (context);

      Z3_solver_inc_ref (context, solver);
      answers = oracle_question_answers (formulas, solver);
      Z3_solver_dec_ref (context, solver);
      oracle_question_free (formulas);
    }
    Z3_del_context (context);
    if (answers == NULL) {
      g_ptr_array_remove_index (questions, q);
      row->n_left_out++;
      continue;
    }
    row->cold += now_us () - ready + made - start;
    row->formula += ready - made;
    must_be_same (row, question, answers);
    q++;
  }
}

static void
ask_warm (const OracleRecord *record, const GArray *asks, GPtrArray *questions, Row *row)
{
  Z3_context context = new_context ();
  Z3_solver solver = Z3_mk_simple_solver (context);

  Z3_solver_inc_ref (context, solver);
  for (guint q = 0; q < questions->len; q++) {
    Question *question = questions->pdata[q];

    question->warm = oracle_question_new (context, record, question->state, (PmAsk *)asks->data, asks->len);
  }
  for (guint round = 0; round < 2; round++) {
    row->warm = 0;
    for (guint q = 0; q < questions->len; q++) {
      Question *question = questions->pdata[q];
      double start = now_us ();
      g_autoptr (GPtrArray) answers = oracle_question_answers (question->warm, solver);

      row->warm += now_us () - start;
      must_be_same (row, question, answers);
    }
  }
  for (guint q = 0; q < questions->len; q++)
    g_clear_pointer (&((Question *)questions->pdata[q])->warm, oracle_question_free);
  Z3_solver_dec_ref (context, solver);
  Z3_del_context (context);
}

static void
ask_ours (PmBound *bound, const GArray *asks, GPtrArray *questions, Row *row)
{
  guint64 seen = 0;
  guint rounds = 0;
  double start = now_us (), passed = 0;

  while (passed < ENOUGH_US) {
    for (guint q = 0; q < questions->len; q++) {
      pm_bound_set (bound, ((Question *)questions->pdata[q])->state);
      pm_worlds_each (bound, (PmAsk *)asks->data, asks->len, count_world, &seen);
    }
    rounds++;
    passed = now_us () - start;
  }
  g_assert (seen > 0);
  row->ours = passed / rounds;
}

static void
measure (const PmBoard *board, const char *name, guint which, guint most)
{
  g_autoptr (PmTranslation) translation = pm_translate (board, NULL, 0);
  g_autoptr (PmCases) cases = pm_cases_new (translation, which);
  g_autoptr (PmSurvey) survey = pm_survey_new (translation, cases, FALSE, NULL);
  g_autoptr (PmBound) bound = pm_bound_new (translation->circuit);
  g_autoptr (GArray) asks = g_array_new (FALSE, FALSE, sizeof (PmAsk));
  const OracleRecord *record = oracle_record_of (translation->circuit);
  Row row = {.name = name, .n_units = board->host.n_units, .n_settings = cases->n_settings};

  for (guint d = 0; d < board->n_drives; d++) {
    PmAsk ask = {PM_ASK_LEVEL, translation->lamp[d]};
    g_array_append_val (asks, ask);
  }
  g_autoptr (GPtrArray) questions = make_questions (survey, bound, asks, most, &row);
  ask_cold (record, asks, questions, &row);
  if (questions->len > 0) {
    ask_warm (record, asks, questions, &row);
    ask_ours (bound, asks, questions, &row);
  }
  double n = MAX (questions->len, 1);
  g_print ("  %-28s %5u %4u %5u %4u %8.2f %9.0f %8.0f %8.0f %7.0f %7.1f\n", name, row.n_units, row.n_settings,
           questions->len, row.n_left_out, row.ours / n, row.formula / n, row.cold / n, row.warm / n,
           row.cold / MAX (row.ours, 0.001), row.warm / MAX (row.ours, 0.001));
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *)a, *(const char *const *)b);
}

static void
measure_boards (const char *folder, char **names, PmLibrary *library, guint most)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  g_autoptr (GPtrArray) files = g_ptr_array_new_with_free_func (g_free);
  const char *entry;

  while (dir != NULL && (entry = g_dir_read_name (dir)) != NULL) {
    g_autofree char *name = g_strndup (entry, strcspn (entry, "."));

    if (g_str_has_suffix (entry, ".board.xml") &&
        (names == NULL || g_strv_contains ((const char *const *)names, name)))
      g_ptr_array_add (files, g_steal_pointer (&name));
  }
  g_ptr_array_sort (files, compare_names);
  for (guint i = 0; i < files->len; i++) {
    g_autoptr (PmFaults) faults = pm_faults_new ();
    g_autofree char *file = g_strconcat (files->pdata[i], ".board.xml", NULL);
    g_autofree char *path = g_build_filename (folder, file, NULL);
    g_autoptr (PmBoard) board = pm_board_load (path, library, faults);

    if (board != NULL)
      measure (board, files->pdata[i], PM_CASES_ALL, most);
  }
}

static void
measure_growth (PmLibrary *library, guint most)
{
  for (guint n = 2; n <= 16; n *= 2) {
    g_autoptr (PmFaults) faults = pm_faults_new ();
    g_autofree char *text = grown_text (n), *name = g_strdup_printf ("grown to %u units", n);
    g_autoptr (PmBoard) board = pm_board_load_text ("grown.board.xml", text, strlen (text), library, faults);

    if (board == NULL) {
      g_autofree char *fault = pm_fault_to_text (pm_faults_get (faults, 0));
      g_error ("%s: %s", name, fault);
    }
    measure (board, name, PM_CASES_SETTINGS, most);
  }
}

int
main (int argc, char **argv)
{
  g_autofree char *boards = NULL;
  g_auto (GStrv) names = NULL;
  int most = 120;
  const GOptionEntry entries[] = {
      {"boards", 0, 0, G_OPTION_ARG_FILENAME, &boards, "Where the boards are", "FOLDER"},
      {"questions", 0, 0, G_OPTION_ARG_INT, &most, "How many questions of a board are put", "N"},
      {G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_STRING_ARRAY, &names, "Only these boards", NULL},
      {NULL}};
  g_autoptr (GOptionContext) context = g_option_context_new ("[BOARD...] - measures against an SMT solver");
  g_autoptr (GError) error = NULL;

  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error) || boards == NULL || most < 1) {
    g_printerr ("%s\n", error != NULL ? error->message : "give --boards, and at least one question");
    return 2;
  }
  g_autoptr (PmLibrary) library = pm_library_new (NULL);

  g_print ("  %-28s %5s %4s %5s %4s %8s %9s %8s %8s %7s %7s\n", "board", "units", "set", "asked", "left", "ours us",
           "formula", "cold us", "warm us", "cold x", "warm x");
  measure_boards (boards, names, library, most);
  measure_growth (library, most);
  g_print ("  (set: settings; asked: case x host state, at most %d, evenly taken; left: left out, too large for\n"
           "  the solver or not decided; us per question; ours with binding; cold: a new context for each,\n"
           "  without the making of its formula, which stands by itself; warm: one context for a board, formulas\n"
           "  made before)\n",
           most);
  return 0;
}
