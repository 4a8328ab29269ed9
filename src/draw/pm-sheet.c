/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces that several sheets have: names, lists made by hand, cautions, plans of cases. */
#include "config.h"
#include "pm-sheet.h"
#include "pm-alternates.h"
#include "pm-mark.h"
#include "pm-naming.h"
#include "pm-plan.h"
#include "pm-cases.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdarg.h>

#define PLAN_GAP 14.0
#define ROW_HEIGHT 30.0      /* of a select or drive in a narrow plan, and what stands above and below */
#define ROWS_BESIDE 24.0

char *
pm_sheet_board (const PmCheck *check)
{
  const PmBoard *board = check->board;
  g_autofree char *name = board->title ? g_strdup (board->title) : g_path_get_basename (board->path);
  g_autofree char *revision =
      board->revision && board->revision[0] ? g_strdup_printf (_(" rev %s"), board->revision) : g_strdup ("");
  g_autofree char *host = g_strdup_printf (_(" on %s"), pm_name_host (board));

  return g_strconcat (name, revision, host, NULL);
}

PmSeverity
pm_sheet_verdict_mark (const PmCheck *check)
{
  static const PmSeverity MARKS[PM_N_VERDICTS] = {
    [PM_VERDICT_NOT_READY] = PM_SEVERITY_STOP,
    [PM_VERDICT_NO_VERDICT] = PM_SEVERITY_STOP,
    [PM_VERDICT_READY_IF] = PM_SEVERITY_CARE,
    [PM_VERDICT_ROUTES_RIGHT] = PM_SEVERITY_NOTE,
    [PM_VERDICT_READY] = PM_SEVERITY_NOTE,
  };

  return MARKS[check->verdict];
}

gboolean
pm_sheet_is_hand_switch (const PmBoard *board, guint sw)
{
  const PmSwitch *s = &board->switches[sw];

  return s->owner == PM_OWNER_BOARD && pm_switch_is_by_hand (s);
}

/* ---- lists made by hand */

PmList *
pm_sheet_list (const PmSheetColumn *columns)
{
  PmList *list = g_new0 (PmList, 1);
  guint n = 0;

  while (columns[n].id)
    n++;
  list->kind = PM_N_LISTS;
  list->id = "";
  list->title = g_strdup ("");
  list->columns = g_new0 (PmListColumn, n);
  list->n_columns = n;
  for (guint i = 0; i < n; i++)
    list->columns[i] = (PmListColumn) { g_strdup (columns[i].id), g_strdup (_(columns[i].title)), columns[i].kind };
  list->notes = g_new0 (char *, 1);
  return list;
}

void
pm_sheet_row (PmList *list, PmRowKind kind, ...)
{
  guint n = kind == PM_ROW_PLAIN ? list->n_columns : 1;
  char **cells = g_new0 (char *, n + 1);
  va_list args;

  va_start (args, kind);
  for (guint i = 0; i < n; i++) {
    const char *cell = va_arg (args, const char *);

    if (!cell)
      break;
    cells[i] = g_strdup (cell);
  }
  va_end (args);
  for (guint i = 0; i < n; i++)
    if (!cells[i])
      cells[i] = g_strdup ("");
  list->rows = g_renew (PmListRow, list->rows, list->n_rows + 1);
  list->rows[list->n_rows++] = (PmListRow) { kind, cells, NULL };
}

PmList *
pm_sheet_list_of (const PmSheetInput *in, PmListKind kind)
{
  PmList *copy = g_new0 (PmList, 1);
  const PmList *list;

  if (!in->lists[kind]) {
    PmListOptions options = in->options->lists;

    if (!*in->alternates && (kind == PM_LIST_PARTS || kind == PM_LIST_ALTERNATES))
      *in->alternates = pm_alternates_find (in->check, NULL);
    options.alternates = *in->alternates;
    in->lists[kind] = pm_list_new (in->check, kind, &options, NULL);
  }
  list = in->lists[kind];
  *copy = *list;
  copy->title = g_strdup (list->title);
  copy->about = g_strdup (list->about);
  copy->notes = g_strdupv (list->notes);
  copy->columns = g_memdup2 (list->columns, list->n_columns * sizeof *list->columns);
  for (guint i = 0; i < list->n_columns; i++) {
    copy->columns[i].id = g_strdup (list->columns[i].id);
    copy->columns[i].title = g_strdup (list->columns[i].title);
  }
  copy->rows = g_memdup2 (list->rows, list->n_rows * sizeof *list->rows);
  for (guint i = 0; i < list->n_rows; i++) {
    guint n = list->rows[i].kind == PM_ROW_PLAIN ? list->n_columns : 1;

    copy->rows[i].cells = g_new0 (char *, n + 1);
    for (guint k = 0; k < n; k++)
      copy->rows[i].cells[k] = g_strdup (list->rows[i].cells[k]);
    copy->rows[i].id = g_strdup (list->rows[i].id);
  }
  return copy;
}

static void
row_clear (PmListRow *row)
{
  g_strfreev (row->cells);
  g_free (row->id);
}

guint
pm_sheet_cut_rows (PmList *list, guint most)
{
  guint kept = 0, plain = 0, dropped = 0;

  for (guint r = 0; r < list->n_rows; r++) {
    gboolean is_plain = list->rows[r].kind == PM_ROW_PLAIN;

    if (plain + is_plain > most || (!is_plain && plain >= most)) {
      dropped += is_plain;
      row_clear (&list->rows[r]);
    } else
      list->rows[kept++] = list->rows[r];
    plain += is_plain;
  }
  list->n_rows = kept;
  return dropped;
}

/* ---- cautions */

void
pm_sheet_cautions (PmFlow *flow, gboolean all)
{
  static const char *const CAUTIONS[] = {
    N_("Local electrical codes, and the practice of people licensed to do such work, come before anything said here."),
    N_("Unplug from the mains; switching off is not enough. Never open a power supply: its capacitors keep a charge, "
       "and old mains parts are for a qualified person."),
    N_("Hold boards by their edges; wrist strap and mat, but no strap at equipment that has power."),
    N_("Plug nothing in or out under power. Move the switch only with the power off."),
    N_("Measure an outside supply’s voltage and polarity before it is connected; common ground first. Red and yellow "
       "exchanged in a drive’s power plug destroy the drive."),
    N_("Ventilate when soldering, wash your hands after leaded solder, protect your eyes when clipping leads."),
  };

  pm_flow_marked (flow, PM_SEVERITY_CARE, _("Before the case is opened"), TRUE);
  for (guint i = 0; i < (all ? G_N_ELEMENTS (CAUTIONS) : 4); i++)
    pm_flow_bullet (flow, _(CAUTIONS[i]));
}

/* ---- plans of cases */

typedef struct {
  const PmCheck *check;
  GHashTable    *store;          /* of the paper: its plans outlive the flow */
  GArray        *cases;
  guint          columns;
  double         part;           /* of the height that it likes */
  double         wide, height;   /* of a plan */
} Plans;

/* What a plan is made from; a key of the store. */
typedef struct { guint c; int width, height; } PlanKey;

static guint
key_hash (gconstpointer data)
{
  const PlanKey *key = data;

  return key->c * 1000003u + (guint) key->width * 1009u + (guint) key->height;
}

static gboolean
key_equal (gconstpointer a, gconstpointer b)
{
  const PlanKey *x = a, *y = b;

  return x->c == y->c && x->width == y->width && x->height == y->height;
}

GHashTable *
pm_sheet_plans_new (void)
{
  return g_hash_table_new_full (key_hash, key_equal, g_free, (GDestroyNotify) pm_plan_free);
}

static void
plans_free (gpointer data)
{
  Plans *plans = data;

  g_array_unref (plans->cases);
  g_free (plans);
}

static void
plan_draw (cairo_t *cr, const PmType *type, double width, double height, gpointer data)
{
  pm_plan_draw (data, cr);
}

static char **
plan_check (gpointer data)
{
  return pm_plan_check (data);
}

static void
plans_measure (Plans *plans, PmType *type, double width)
{
  double least, natural, likes;
  const PmBoard *board = plans->check->board;
  guint rows = MAX (board->host.n_units, board->n_drives);

  plans->wide = floor ((width - (plans->columns - 1) * PLAN_GAP) / plans->columns);
  pm_plan_measure (plans->check, pm_type_style (type), pm_type_context (type), NULL, &least, &likes, &natural);
  /* A narrow plan has no words below its drives, and needs no room for them. */
  likes = plans->wide < likes ? MIN (natural, rows * ROW_HEIGHT + ROWS_BESIDE) : natural;
  plans->height = floor (CLAMP (likes * plans->part, least, natural));
}

static PmPlan *
plan_of (Plans *plans, PmType *type, guint c)
{
  PlanKey key = { c, (int) plans->wide, (int) plans->height };
  PmPlan *plan = g_hash_table_lookup (plans->store, &key);

  if (!plan) {
    plan = pm_plan_new (plans->check, c, plans->wide, plans->height, pm_type_style (type), pm_type_context (type));
    g_hash_table_insert (plans->store, g_memdup2 (&key, sizeof key), plan);
  }
  return plan;
}

/* Name, verdict and side lines, above a plan. */
static double
plan_words (Plans *plans, PmType *type, PmInk *ink, guint i, double x, double y, double width, double size)
{
  guint c = g_array_index (plans->cases, guint, i);
  const PmCaseResult *result = &plans->check->cases[c];
  g_autofree char *name = pm_sheet_case_name (plans->check, c);
  double height = pm_ink_paragraph (ink, type, x, y, width, name, size, PM_INK_BOLD);
  const char *says = c == 0 ? "" : result->verdict, *sides = result->side_text ? result->side_text : "";
  g_autofree char *text = g_strdup_printf ("%s%s%s", says, says[0] && sides[0] ? ". " : "", sides);

  if (text[0])
    height += pm_ink_paragraph (ink, type, x, y + height, width, text, MAX (PM_SMALLEST_TEXT, size - 1), 0);
  return height;
}

static PmInk *
plans_picture (PmType *type, double width, double size, double *height, gpointer data)
{
  Plans *plans = data;
  PmInk *ink = pm_ink_new ();
  double y = 0;

  plans_measure (plans, type, width);
  for (guint from = 0; from < plans->cases->len; from += plans->columns) {
    double words = 0, wide = plans->wide;
    guint to = MIN (from + plans->columns, plans->cases->len);

    y += from > 0 ? PLAN_GAP : 0;
    for (guint i = from; i < to; i++) {
      double own = plan_words (plans, type, ink, i, (i - from) * (wide + PLAN_GAP), y, wide, size);

      words = MAX (words, own);
    }
    y += words + 3;
    for (guint i = from; i < to; i++)
      pm_ink_picture (ink, (i - from) * (wide + PLAN_GAP), y, wide, plans->height, plan_draw, plan_check,
                      plan_of (plans, type, g_array_index (plans->cases, guint, i)));
    y += plans->height;
  }
  *height = y;
  return ink;
}

static void
line_draw (cairo_t *cr, const PmType *type, double width, double height, gpointer data)
{
  pm_mark_line_draw (GPOINTER_TO_UINT (data), pm_type_style (type), pm_type_context (type), cr, 0, height / 2, width,
                     TRUE);
}

/* "—●— SEL0  ..." as many in a row as fit. */
static PmInk *
legend_picture (PmType *type, double width, double size, double *height, gpointer data)
{
  const PmCheck *check = data;
  PmInk *ink = pm_ink_new ();
  double small = MAX (PM_SMALLEST_TEXT, size - 1), line = pm_type_line (type, small) + 2, sample = 42;
  double x = 0, y = 0;

  for (guint u = 0; u < check->board->host.n_units; u++) {
    const char *name = check->board->host.units[u].name;
    g_autofree char *text = g_strdup_printf ("%s: %s", name, pm_style_line_words (u));
    double wide = sample + 5 + pm_type_width (type, text, small, FALSE) + 14;

    if (x > 0 && x + wide > width + 14) {
      x = 0;
      y += line;
    }
    pm_ink_picture (ink, x, y, sample, line - 2, line_draw, NULL, GUINT_TO_POINTER (u));
    pm_ink_text (ink, type, x + sample + 5, y, text, small, 0);
    x += wide;
  }
  *height = y + line;
  return ink;
}

void
pm_sheet_plans (PmFlow *flow, const PmSheetInput *in, GArray *cases, guint columns, double part)
{
  /* Each row is a picture of its own, so that pages can break between them. */
  for (guint from = 0; from < cases->len; from += columns) {
    Plans *plans = g_new0 (Plans, 1);

    plans->check = in->check;
    plans->store = in->plans;
    plans->cases = g_array_new (FALSE, FALSE, sizeof (guint));
    g_array_append_vals (plans->cases, &g_array_index (cases, guint, from), MIN (columns, cases->len - from));
    plans->columns = columns;
    plans->part = part;
    pm_flow_picture (flow, plans_picture, plans, plans_free);
  }
  g_array_unref (cases);
  pm_flow_picture (flow, legend_picture, (gpointer) in->check, NULL);
}

GArray *
pm_sheet_result_cases (const PmCheck *check)
{
  GArray *cases = g_array_new (FALSE, TRUE, sizeof (guint));
  guint without = 0;

  g_array_append_val (cases, without);
  for (guint r = 0; r < check->n_results; r++)
    g_array_append_val (cases, g_array_index (check->results[r].settings, guint, 0));
  return cases;
}

char *
pm_sheet_case_name (const PmCheck *check, guint c)
{
  const PmCaseResult *result = &check->cases[c];
  const PmResult *same;
  g_autoptr (GString) names = NULL;

  if (c == 0)
    return g_strdup (check->board->has_board ? _("Without the board") : _("Without the change"));
  if (result->kind != PM_CASE_SETTING || result->result >= check->n_results)
    return g_strdup (result->title);
  same = &check->results[result->result];
  if (same->settings->len == 1)
    return g_strdup (result->title);
  names = g_string_new (NULL);
  for (guint i = 0; i < same->settings->len && i < 4; i++)
    g_string_append_printf (names, "%s%s", i > 0 ? "; " : "",
                            check->cases[g_array_index (same->settings, guint, i)].name);
  if (same->settings->len > 4)
    g_string_append (names, "; …");
  return g_strdup_printf (ngettext ("%u setting: %s", "%u settings: %s", same->settings->len), same->settings->len,
                          names->str);
}
