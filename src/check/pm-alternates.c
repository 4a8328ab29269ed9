/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Other chips for a place, each tried on the whole board. */
#include "config.h"
#include "pm-alternates.h"
#include "pm-finding.h"
#include "pm-list-private.h"
#include "pm-part-text.h"
#include <glib/gi18n-lib.h>

/* Worlds that all chips tried for one board may look at together; the same on every machine. */
#define BUDGET 200000
/* Places of what is set once are not tried again: they say nothing of chips. */
#define TRIED (PM_CASES_ALL & ~PM_CASES_OF (PM_CASE_ONCE))

typedef struct {
  const PmBoard *board;
  PmTrial *before;
  GArray *out;
  GCancellable *cancellable;
  guint64 budget;
} Search;

const char *
pm_alternate_words (PmAlternateVerdict verdict)
{
  switch (verdict) {
  case PM_ALTERNATE_AS_GOOD:
    return _("as good");
  case PM_ALTERNATE_BETTER:
    return _("better");
  case PM_ALTERNATE_WORSE:
    return _("worse");
  case PM_ALTERNATE_NOT_KNOWN:
  default:
    return _("not known here");
  }
}

static void
alternate_clear (PmAlternate *alternate)
{
  g_free (alternate->type);
  g_free (alternate->why);
}

static gboolean
counts (const PmRaw *raw)
{
  return !raw->as_today && raw->severity != PM_SEVERITY_NOTE;
}

/* "two drives answer SEL0 in outside". */
static char *
finding_words (const PmTrial *trial, const PmRaw *raw)
{
  g_autoptr (GArray) raws = g_array_new (FALSE, FALSE, sizeof (PmRaw));
  g_array_append_val (raws, *raw);
  g_autofree char *title = pm_finding_lower (trial->board, pm_finding_title (trial, raw)),
                  *in = pm_finding_in (trial, raws);
  return in[0] != '\0' ? g_strdup_printf ("%s %s", title, in) : g_steal_pointer (&title);
}

static PmAlternateVerdict
compare (const PmTrial *before, const PmTrial *after, char **why)
{
  const PmRaw *come = NULL, *gone = NULL;
  for (guint i = 0; i < after->raws->len; i++) {
    const PmRaw *now = &g_array_index (after->raws, PmRaw, i);
    if (counts (now) && (!pm_trial_has (before, now) || pm_trial_is_worse (before, now)) &&
        (come == NULL || now->severity < come->severity))
      come = now;
  }
  if (come != NULL) {
    *why = finding_words (after, come);
    return PM_ALTERNATE_WORSE;
  }
  if ((after->not_decided && !before->not_decided) || (after->unjudged && !before->unjudged))
    return PM_ALTERNATE_NOT_KNOWN;
  for (guint i = 0; i < before->raws->len; i++) {
    const PmRaw *was = &g_array_index (before->raws, PmRaw, i);
    if (counts (was) && !pm_trial_has (after, was) && (gone == NULL || was->severity < gone->severity))
      gone = was;
  }
  if (gone != NULL) {
    g_autofree char *words = finding_words (before, gone);
    *why = g_strdup_printf (_("no longer: %s"), words);
    return PM_ALTERNATE_BETTER;
  }
  for (guint i = 1; i <= before->cases->n_settings; i++)
    if (!pm_cells_equal (before->board, before->results[i].cells, after->results[i].cells)) {
      *why = g_strdup_printf (_("the selects reach something else in %s"),
                              ((const PmCaseSpec *)g_ptr_array_index (before->cases->specs, i))->name);
      return PM_ALTERNATE_WORSE;
    }
  return PM_ALTERNATE_AS_GOOD;
}

/* The board with another chip in one place: it shares all else, so the pins must be numbered the same. FALSE when
 * cancelled. */
static gboolean
try (Search *search, guint place, const PmPart *part, const PmFamily *family, const char *type,
     PmAlternateVerdict *verdict)
{
  PmBoard board = *search->board;
  g_autofree PmInstance *instances = g_memdup2 (board.instances, sizeof (PmInstance) * board.n_instances);
  PmAlternate alternate = {.instance = place, .type = g_strdup (type)};
  alternate.other_function = !g_str_equal (part->name, board.instances[place].part->name);
  instances[place].part = part;
  instances[place].family = family;
  instances[place].is = alternate.type;
  board.instances = instances;
  if (search->budget == 0) {
    *verdict = alternate.verdict = PM_ALTERNATE_NOT_KNOWN;
    g_array_append_val (search->out, alternate);
    return TRUE;
  }
  g_autoptr (PmTrial) after = pm_trial_new (&board, NULL, 0, TRIED, search->cancellable);
  if (after == NULL) {
    alternate_clear (&alternate);
    return FALSE;
  }
  search->budget -= MIN (search->budget, after->survey->n_worlds);
  *verdict = alternate.verdict = compare (search->before, after, &alternate.why);
  g_array_append_val (search->out, alternate);
  return TRUE;
}

/* The same pins under the same names, so that it goes into the same socket. */
static gboolean
fits (const PmPart *part, const PmPart *other)
{
  if (other->type != PM_PART_LOGIC || other->n_pins != part->n_pins || g_strcmp0 (other->package, part->package) != 0)
    return FALSE;
  for (guint k = 0; k < part->n_pins; k++) {
    gboolean supply = part->pins[k].role == PM_PIN_SUPPLY || part->pins[k].role == PM_PIN_GROUND;
    if ((supply && other->pins[k].role != part->pins[k].role) ||
        (!supply && !g_str_equal (other->pins[k].name, part->pins[k].name)))
      return FALSE;
  }
  return TRUE;
}

/* One function in each of its families, the place's own family first; once only where that is worse already. */
static gboolean
try_function (Search *search, guint place, const char *function, char **all)
{
  const PmInstance *instance = &search->board->instances[place];
  g_autoptr (PmFaults) faults = pm_faults_new ();
  const PmPart *known =
      pm_library_function (search->board->library, search->board->path, function, (PmSpot){0}, faults);
  if (known == NULL || known->type != PM_PART_LOGIC || !fits (instance->part, known))
    return TRUE;
  char **families = known->families != NULL ? known->families : all;
  const char *own = instance->family != NULL ? instance->family->name : "";
  PmAlternateVerdict verdict = PM_ALTERNATE_AS_GOOD;
  gboolean same = g_str_equal (function, instance->part->name);
  for (guint turn = 0; turn < 2; turn++)
    for (guint f = 0; families[f] != NULL; f++) {
      if (g_str_equal (families[f], own) != (turn == 0) || (same && turn == 0))
        continue;
      g_autofree char *type = pm_part_text_type (function, families[f]);
      const PmFamily *family = NULL;
      const PmPart *part =
          pm_library_part (search->board->library, search->board->path, type, &family, NULL, (PmSpot){0}, faults);
      if (part == NULL || family == NULL || !fits (instance->part, part))
        continue;
      if (!try (search, place, part, family, type, &verdict))
        return FALSE;
      if (!same && verdict == PM_ALTERNATE_WORSE && turn == 0)
        return TRUE;
      if (turn > 0 || verdict != PM_ALTERNATE_WORSE)
        g_array_index (search->out, PmAlternate, search->out->len - 1).family_matters = TRUE;
    }
  return TRUE;
}

GArray *
pm_alternates_find (const PmCheck *check, GCancellable *cancellable)
{
  const PmBoard *board = check->board;
  Search search = {board, NULL, g_array_new (FALSE, FALSE, sizeof (PmAlternate)), cancellable, BUDGET};
  g_array_set_clear_func (search.out, (GDestroyNotify)alternate_clear);
  g_autoptr (PmTrial) before = NULL;
  g_auto (GStrv) functions = NULL, families = NULL;
  for (guint i = 0; i < board->n_instances; i++) {
    if (board->instances[i].part->type != PM_PART_LOGIC || !pm_list_is_built (board, i))
      continue;
    if (before == NULL) {
      before = pm_trial_new (board, NULL, 0, TRIED, cancellable);
      if (before == NULL)
        return search.out;
      search.before = before;
      if (before->not_decided)
        search.budget = 0; /* there is nothing to compare with */
      functions = pm_library_list (board->library, "part");
      families = pm_library_list (board->library, "family");
    }
    if (!try_function (&search, i, board->instances[i].part->name, families))
      return search.out;
    /* Where nothing is certain, nothing tells one function from another. */
    gboolean certain = check->verdict != PM_VERDICT_NOT_READY && check->verdict != PM_VERDICT_NO_VERDICT;
    for (guint f = 0; functions[f] != NULL && certain; f++)
      if (!g_str_equal (functions[f], board->instances[i].part->name) &&
          !try_function (&search, i, functions[f], families))
        return search.out;
  }
  return search.out;
}
