/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measures and prints; judges nothing.  Each figure is a ratio to something else in the same run, or stands beside the
 * frame that it has to fit in, and with how often it was taken.  docs/numbers.md says how to run it and what it
 * printed.
 *
 * Times are processor times.  Medians are taken, and commands that are compared run in turn, so that a machine that
 * slows down slows both. */
#include "config.h"

#include "pm-check.h"
#include "pm-survey.h"

#include <fcntl.h>
#include <spawn.h>
#include <stdio.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#define FRAME_US 16000.0
#define ENOUGH_US 1000000 /* a thing that takes long is measured less often */

typedef struct {
  const char *cli, *schema, *solver;
  const char *boards; /* folder */
  char **names;       /* only these, or NULL */
  int rounds;         /* of child processes; the rest scales with it */
  PmLibrary *library;
} Bench;

typedef struct {
  char *path, *name;
  PmBoard *board;
} Subject;

static void
subject_free (gpointer data)
{
  Subject *subject = data;

  pm_board_free (subject->board);
  g_free (subject->path);
  g_free (subject->name);
  g_free (subject);
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;

  return (x > y) - (x < y);
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *)a, *(const char *const *)b);
}

/* Sorts times. */
static double
median (GArray *times)
{
  g_array_sort (times, compare_doubles);
  return times->len ? g_array_index (times, double, times->len / 2) : 0.0;
}

static void
print_heading (const char *text)
{
  g_print ("\n%s\n", text);
}

/* Every good board of the folder, by name. */
static GPtrArray *
read_subjects (Bench *bench)
{
  GPtrArray *subjects = g_ptr_array_new_with_free_func (subject_free);
  g_autoptr (GDir) dir = g_dir_open (bench->boards, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *entry;

  while (dir != NULL && (entry = g_dir_read_name (dir)) != NULL) {
    g_autofree char *name = g_strndup (entry, strcspn (entry, "."));

    if (g_str_has_suffix (entry, ".board.xml") &&
        (bench->names == NULL || g_strv_contains ((const char *const *)bench->names, name)))
      g_ptr_array_add (names, g_strdup (entry));
  }
  g_ptr_array_sort (names, compare_names);
  for (guint i = 0; i < names->len; i++) {
    g_autoptr (PmFaults) faults = pm_faults_new ();
    g_autofree char *path = g_build_filename (bench->boards, names->pdata[i], NULL);
    PmBoard *board = pm_board_load (path, bench->library, faults);

    if (board == NULL) {
      g_autofree char *text = pm_faults_count (faults) ? pm_fault_to_text (pm_faults_get (faults, 0)) : NULL;

      g_printerr ("left out: %s\n", text != NULL ? text : path);
      continue;
    }
    Subject *subject = g_new0 (Subject, 1);
    subject->path = g_steal_pointer (&path);
    subject->name = g_strndup (names->pdata[i], strlen (names->pdata[i]) - strlen (".board.xml"));
    subject->board = board;
    g_ptr_array_add (subjects, subject);
  }
  return subjects;
}

/* Processor time of this program so far, in microseconds: other work on the machine does not count. */
static gint64
now_us (void)
{
  struct timespec time;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &time);
  return (gint64)time.tv_sec * G_USEC_PER_SEC + time.tv_nsec / 1000;
}

/* Processor time in microseconds of one run of a program with its output thrown away. */
static double
run_child (char **argv)
{
  posix_spawn_file_actions_t actions;
  struct rusage usage;
  pid_t child;
  int status;

  posix_spawn_file_actions_init (&actions);
  posix_spawn_file_actions_addopen (&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
  posix_spawn_file_actions_addopen (&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
  if (posix_spawnp (&child, argv[0], &actions, NULL, argv, environ) != 0)
    g_error ("cannot run %s", argv[0]);
  wait4 (child, &status, 0, &usage);
  posix_spawn_file_actions_destroy (&actions);
  return (usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) * 1e6 + usage.ru_utime.tv_usec + usage.ru_stime.tv_usec;
}

static void
measure_command (Bench *bench, GPtrArray *subjects)
{
  print_heading ("pointsman-cli check, against xmllint --noout --relaxng over all files that it reads");
  if (bench->cli == NULL || bench->schema == NULL) {
    g_print ("  not measured: give --cli and --schema\n");
    return;
  }
  g_print ("  %-36s %6s %10s %10s %7s\n", "board", "files", "check us", "xmllint us", "ratio");
  for (guint i = 0; i < subjects->len; i++) {
    Subject *subject = subjects->pdata[i];
    g_autoptr (GPtrArray) lint = g_ptr_array_new ();
    g_autoptr (GArray) checks = g_array_new (FALSE, FALSE, sizeof (double));
    g_autoptr (GArray) lints = g_array_new (FALSE, FALSE, sizeof (double));
    char *check[] = {(char *)bench->cli, (char *)"check", subject->path, NULL};
    double a, b;

    g_ptr_array_add (lint, (char *)"xmllint");
    g_ptr_array_add (lint, (char *)"--noout");
    g_ptr_array_add (lint, (char *)"--relaxng");
    g_ptr_array_add (lint, (char *)bench->schema);
    for (guint f = 0; f < subject->board->files->len; f++)
      g_ptr_array_add (lint, subject->board->files->pdata[f]);
    g_ptr_array_add (lint, NULL);
    for (int round = 0; round < bench->rounds; round++) {
      a = run_child (check);
      b = run_child ((char **)lint->pdata);
      g_array_append_val (checks, a);
      g_array_append_val (lints, b);
    }
    a = median (checks);
    b = median (lints);
    g_print ("  %-36s %6u %10.0f %10.0f %7.2f\n", subject->name, subject->board->files->len, a, b, a / b);
  }
  g_print ("  (medians of %d runs each, in turn)\n", bench->rounds);
}

static void
measure_survey (Bench *bench, GPtrArray *subjects)
{
  guint rounds = bench->rounds;

  print_heading ("whole survey, compile included, against one frame of 16 ms");
  g_print ("  %-36s %6s %6s %10s %12s %7s\n", "board", "cases", "runs", "us", "us per run", "frames");
  for (guint i = 0; i < subjects->len; i++) {
    Subject *subject = subjects->pdata[i];
    g_autoptr (GArray) times = g_array_new (FALSE, FALSE, sizeof (double));
    guint cases_run = 0, runs = 0;

    for (gint64 begun = now_us (); times->len < rounds && (times->len < 3 || now_us () - begun < ENOUGH_US);) {
      gint64 start = now_us ();
      g_autoptr (PmTranslation) translation = pm_translate (subject->board, NULL, 0);
      g_autoptr (PmCases) cases = pm_cases_new (translation, PM_CASES_ALL);
      g_autoptr (PmSurvey) survey = pm_survey_new (translation, cases, TRUE, NULL);
      double us = now_us () - start;

      cases_run = cases->specs->len;
      runs = survey->n_runs;
      g_array_append_val (times, us);
    }
    double us = median (times);
    g_print ("  %-36s %6u %6u %10.0f %12.2f %7.2f\n", subject->name, cases_run, runs, us, us / MAX (runs, 1),
             us / FRAME_US);
  }
  g_print ("  (medians of at most %u; a run is one case in one host state)\n", rounds);
}

static void
measure_binding (Bench *bench, GPtrArray *subjects)
{
  guint wanted = 2000 * bench->rounds;

  print_heading ("binding one case");
  g_print ("  %-36s %7s %7s %9s %10s\n", "board", "places", "joints", "bindings", "us each");
  for (guint i = 0; i < subjects->len; i++) {
    Subject *subject = subjects->pdata[i];
    g_autoptr (PmTranslation) translation = pm_translate (subject->board, NULL, 0);
    g_autoptr (PmCases) cases = pm_cases_new (translation, PM_CASES_ALL);
    g_autoptr (PmBound) bound = pm_bound_new (translation->circuit);
    guint bindings = 0;
    gint64 start = now_us ();

    while (bindings < wanted) {
      for (guint s = 0; s < cases->specs->len; s++) {
        PmCaseSpec *spec = cases->specs->pdata[s];

        for (guint b = 0; b < spec->bindings->len; b++, bindings++)
          pm_bound_set (bound, spec->bindings->pdata[b]);
      }
      if (bindings == 0)
        break;
    }
    g_print ("  %-36s %7u %7u %9u %10.3f\n", subject->name, subject->board->n_places, translation->joints->len,
             bindings, (double)(now_us () - start) / MAX (bindings, 1));
  }
}

static void
measure_findings (Bench *bench, GPtrArray *subjects)
{
  guint rounds = MAX (3, bench->rounds / 3);

  print_heading ("everything: survey, findings, tried repairs, verdict, against 100 ms");
  g_print ("  %-36s %5s %5s %5s %10s %7s\n", "board", "stop", "care", "note", "us", "of it");
  for (guint i = 0; i < subjects->len; i++) {
    Subject *subject = subjects->pdata[i];
    g_autoptr (GArray) times = g_array_new (FALSE, FALSE, sizeof (double));
    guint counts[PM_N_SEVERITIES] = {0};

    for (gint64 begun = now_us (); times->len < rounds && (times->len < 3 || now_us () - begun < ENOUGH_US);) {
      gint64 start = now_us ();
      g_autoptr (PmCheck) check = pm_check_new (subject->board, NULL, NULL);
      double us = now_us () - start;

      memcpy (counts, check->counts, sizeof counts);
      g_array_append_val (times, us);
    }
    double us = median (times);
    g_print ("  %-36s %5u %5u %5u %10.0f %7.2f\n", subject->name, counts[PM_SEVERITY_STOP], counts[PM_SEVERITY_CARE],
             counts[PM_SEVERITY_NOTE], us, us / 100000.0);
  }
  g_print ("  (medians of at most %u)\n", rounds);
}

/* By a program of its own, which prints the rows. */
static void
measure_solver (Bench *bench)
{
  g_autoptr (GPtrArray) argv = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;
  int status;

  print_heading ("the same route questions put to an SMT solver (libz3), cold and warm context");
  if (bench->solver == NULL) {
    g_print ("  not measured: libz3 was not found when this was built, or --solver is not given\n");
    return;
  }
  g_ptr_array_add (argv, (char *)bench->solver);
  g_ptr_array_add (argv, (char *)"--boards");
  g_ptr_array_add (argv, (char *)bench->boards);
  for (char **name = bench->names; name != NULL && *name != NULL; name++)
    g_ptr_array_add (argv, *name);
  g_ptr_array_add (argv, NULL);
  fflush (stdout);
  if (!g_spawn_sync (NULL, (char **)argv->pdata, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL, &status, &error) ||
      !g_spawn_check_wait_status (status, &error))
    g_error ("%s: %s", bench->solver, error->message);
}

int
main (int argc, char **argv)
{
  g_autofree char *cli = NULL, *schema = NULL, *solver = NULL, *boards = NULL;
  g_auto (GStrv) names = NULL;
  int rounds = 31;
  const GOptionEntry entries[] = {
      {"cli", 0, 0, G_OPTION_ARG_FILENAME, &cli, "The program pointsman-cli", "FILE"},
      {"schema", 0, 0, G_OPTION_ARG_FILENAME, &schema, "A schema that takes every kind of file", "FILE"},
      {"solver", 0, 0, G_OPTION_ARG_FILENAME, &solver, "The program pm-bench-solver", "FILE"},
      {"boards", 0, 0, G_OPTION_ARG_FILENAME, &boards, "Where the boards are", "FOLDER"},
      {"rounds", 0, 0, G_OPTION_ARG_INT, &rounds, "How often each thing is measured", "N"},
      {G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_STRING_ARRAY, &names, "Only these boards", NULL},
      {NULL}};
  g_autoptr (GOptionContext) context = g_option_context_new ("[BOARD...] - measures how long answers take");
  g_autoptr (GError) error = NULL;

  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error) || boards == NULL || rounds < 1) {
    g_printerr ("%s\n", error != NULL ? error->message : "give --boards, and at least one round");
    return 2;
  }
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  Bench bench = {.cli = cli, .schema = schema, .solver = solver, .boards = boards,
                 .names = names, .rounds = rounds, .library = library};
  g_autoptr (GPtrArray) subjects = read_subjects (&bench);

  g_print ("%u boards\n", subjects->len);
  measure_command (&bench, subjects);
  measure_survey (&bench, subjects);
  measure_binding (&bench, subjects);
  measure_findings (&bench, subjects);
  measure_solver (&bench);
  return subjects->len > 0 ? 0 : 1;
}
