/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One cause, one finding. The table of kinds is in order of depth: a collision comes before the drives that answer
 * because of it. */
#include "pm-cause.h"
#include "pm-finding-private.h"

static void
cause_free (PmCause *cause)
{
  g_array_unref (cause->raws);
  pm_repair_free (cause->repair);
  g_ptr_array_unref (cause->followers);
  g_free (cause);
}

void
pm_causes_free (PmCauses *causes)
{
  if (causes == NULL)
    return;
  g_ptr_array_unref (causes->causes);
  g_array_unref (causes->as_today);
  g_free (causes);
}

static PmCause *
cause_new (void)
{
  PmCause *cause = g_new0 (PmCause, 1);
  cause->raws = g_array_new (FALSE, FALSE, sizeof (PmRaw));
  cause->severity = PM_SEVERITY_NOTE;
  cause->followers = g_ptr_array_new_with_free_func ((GDestroyNotify) cause_free);
  return cause;
}

static const PmRaw *
first_raw (const PmCause *cause)
{
  return &g_array_index (cause->raws, PmRaw, 0);
}

static void
gather (GPtrArray *pending, const PmRaw *raw)
{
  PmCause *cause = NULL;
  for (guint i = 0; i < pending->len && cause == NULL; i++)
    if (pm_raw_same (first_raw (g_ptr_array_index (pending, i)), raw))
      cause = g_ptr_array_index (pending, i);
  if (cause == NULL) {
    cause = cause_new ();
    g_ptr_array_add (pending, cause);
  }
  /* The most severe, and the surest, stands first: it is the one that is told. */
  const PmRaw *head = cause->raws->len > 0 ? first_raw (cause) : NULL;
  if (head != NULL && (raw->severity < head->severity || (raw->severity == head->severity && head->may && !raw->may)))
    g_array_prepend_vals (cause->raws, raw, 1);
  else
    g_array_append_vals (cause->raws, raw, 1);
  cause->severity = MIN (cause->severity, raw->severity);
}

static int
by_depth (gconstpointer a, gconstpointer b)
{
  const PmCause *x = *(PmCause *const *) a, *y = *(PmCause *const *) b;
  if (x->severity != y->severity)
    return (int) x->severity - (int) y->severity;
  if (first_raw (x)->kind != first_raw (y)->kind)
    return (int) first_raw (x)->kind - (int) first_raw (y)->kind;
  return (int) first_raw (x)->spec - (int) first_raw (y)->spec;
}

/* Nothing else can be judged before these are settled. */
static gboolean
goes_first (const PmCause *cause)
{
  return first_raw (cause)->kind <= PM_FINDING_IDLE_TODAY;
}

static int
by_rank (gconstpointer a, gconstpointer b)
{
  const PmCause *x = *(PmCause *const *) a, *y = *(PmCause *const *) b;
  if (x->severity != y->severity)
    return (int) x->severity - (int) y->severity;
  if (goes_first (x) != goes_first (y) || goes_first (x))
    return by_depth (a, b);
  if (x->followers->len != y->followers->len)
    return (int) y->followers->len - (int) x->followers->len;
  return by_depth (a, b);
}

/* The setting a raw finding belongs to: a drive that answers all the time answers in reset and with the machine off as
 * well. */
static guint
setting_of (const PmTrial *trial, const PmRaw *raw)
{
  gboolean of_power = raw->kind == PM_FINDING_ANSWERS_RESET || raw->kind == PM_FINDING_ANSWERS_HOST_OFF;
  return of_power ? ((const PmCaseSpec *) g_ptr_array_index (trial->cases->specs, raw->spec))->setting : raw->spec;
}

static gboolean
share_a_case (const PmTrial *trial, const PmCause *a, const PmCause *b)
{
  for (guint i = 0; i < a->raws->len; i++)
    for (guint k = 0; k < b->raws->len; k++)
      if (setting_of (trial, &g_array_index (a->raws, PmRaw, i)) ==
          setting_of (trial, &g_array_index (b->raws, PmRaw, k)))
        return TRUE;
  return FALSE;
}

static gboolean
is_in_case (const PmCause *cause, guint spec)
{
  for (guint i = 0; i < cause->raws->len; i++)
    if (g_array_index (cause->raws, PmRaw, i).spec == spec)
      return TRUE;
  return FALSE;
}

/* Causes that explain whatever routes are wrong in the same case. A race explains them only if they hang on it. */
static gboolean
explains_all (const PmCause *cause)
{
  PmFindingKind kind = first_raw (cause)->kind;
  return kind <= PM_FINDING_OPEN_BIPOLAR_INPUT &&
         (kind != PM_FINDING_DATA_WITH_CLOCK || cause->severity == PM_SEVERITY_STOP);
}

static gboolean
touch (const PmRaw *a, const PmRaw *b)
{
  return (a->unit >= 0 && a->unit == b->unit) || (a->drive >= 0 && (a->drive == b->drive || a->drive == b->other)) ||
         (a->other >= 0 && (a->other == b->drive || a->other == b->other));
}

/* TRUE if every raw finding of the sort is gone. */
static gboolean
all_gone (const PmTrial *after, const PmCause *cause)
{
  return !pm_trial_has (after, first_raw (cause));
}

static gboolean
answers_unasked (PmFindingKind kind)
{
  return kind == PM_FINDING_ANSWERS_IDLE || kind == PM_FINDING_ANSWERS_RESET || kind == PM_FINDING_ANSWERS_HOST_OFF;
}

/* Drives that answer with nothing turned on because their selects are turned round on the way: one inverter too few or
 * too many for the machine, not one for each drive. */
static gboolean
share_a_sense (const PmTrial *trial, const PmRaw *a, const PmRaw *b)
{
  PmRaw there = *b;
  guint unit, drive;
  there.spec = a->spec;
  return a->kind == PM_FINDING_ANSWERS_IDLE && answers_unasked (b->kind) &&
         pm_tell_turned_sense (trial, a, &unit, &drive) && pm_tell_turned_sense (trial, &there, &unit, &drive);
}

static void
fold (const PmTrial *trial, GPtrArray *pending, PmCause *head, const PmTrial *after)
{
  for (guint i = 0; i < pending->len;) {
    PmCause *other = g_ptr_array_index (pending, i);
    const PmRaw *a = first_raw (head), *b = first_raw (other);
    gboolean follows;
    if (other->severity < head->severity)
      follows = FALSE;
    else if (after != NULL)
      follows = all_gone (after, other);
    else
      follows = PM_FINDINGS[a->kind].of_routes && PM_FINDINGS[b->kind].of_routes && share_a_case (trial, head, other) &&
                (explains_all (head) || touch (a, b) || share_a_sense (trial, a, b));
    if (follows)
      g_ptr_array_add (head->followers, g_ptr_array_steal_index (pending, i));
    else
      i++;
  }
}

/* An open bipolar input is a care as long as what is shown, it reading high, is right; data that move with their clock
 * are one as long as either level leads to the same drives. */
static gboolean
is_cause_of (const PmRaw *care, const PmRaw *stop)
{
  if (care->kind == PM_FINDING_DATA_WITH_CLOCK)
    return stop->kind == PM_FINDING_START_UNKNOWN && stop->choice.kind == PM_CHOICE_BIT && stop->index == care->index;
  return care->kind == PM_FINDING_OPEN_BIPOLAR_INPUT && PM_FINDINGS[stop->kind].of_routes;
}

/* Drives that answer with nothing turned on before the board is there, while the board does not do what is wanted: the
 * first thing to settle. */
static void
raise_idle_today (const PmTrial *trial, GPtrArray *pending)
{
  gboolean routes = FALSE;
  for (guint i = 0; i < trial->board->n_accepts; i++)
    if (g_str_equal (trial->board->accepts[i].finding, PM_FINDINGS[PM_FINDING_IDLE_TODAY].id))
      return;
  for (guint i = 0; i < pending->len; i++) {
    const PmCause *cause = g_ptr_array_index (pending, i);
    routes |= cause->severity == PM_SEVERITY_STOP && PM_FINDINGS[first_raw (cause)->kind].of_routes;
  }
  for (guint i = 0; i < pending->len && routes; i++) {
    PmCause *cause = g_ptr_array_index (pending, i);
    if (first_raw (cause)->kind == PM_FINDING_IDLE_TODAY)
      cause->severity = PM_SEVERITY_STOP;
  }
}

/* Where a stop stands in the same case they are the cause of that, and as severe. */
static void
raise_causes (GPtrArray *pending)
{
  for (guint i = 0; i < pending->len; i++) {
    PmCause *open = g_ptr_array_index (pending, i);
    for (guint k = 0; k < pending->len; k++) {
      const PmCause *other = g_ptr_array_index (pending, k);
      for (guint r = 0; r < other->raws->len && other->severity == PM_SEVERITY_STOP; r++) {
        const PmRaw *raw = &g_array_index (other->raws, PmRaw, r);
        if (raw->severity == PM_SEVERITY_STOP && is_cause_of (first_raw (open), raw) && is_in_case (open, raw->spec))
          open->severity = PM_SEVERITY_STOP;
      }
    }
  }
}

/* TRUE if the finding about what the machine does without the board says it of this drive. */
static gboolean
is_told_today (const PmTrial *trial, const PmRaw *today)
{
  for (guint i = 0; i < trial->raws->len; i++) {
    const PmRaw *raw = &g_array_index (trial->raws, PmRaw, i);
    if (raw->kind == PM_FINDING_IDLE_TODAY && raw->drive == today->drive)
      return TRUE;
  }
  return FALSE;
}

PmCauses *
pm_causes_find (const PmTrial *trial, GCancellable *cancellable)
{
  PmCauses *causes = g_new0 (PmCauses, 1);
  causes->causes = g_ptr_array_new_with_free_func ((GDestroyNotify) cause_free);
  causes->as_today = g_array_new (FALSE, FALSE, sizeof (PmRaw));
  guint64 budget = PM_REPAIR_BUDGET;
  g_autoptr (GPtrArray) pending = g_ptr_array_new_with_free_func ((GDestroyNotify) cause_free);
  for (guint i = 0; i < trial->raws->len; i++) {
    const PmRaw *raw = &g_array_index (trial->raws, PmRaw, i);
    if (raw->as_today && raw->kind == PM_FINDING_ANSWERS_IDLE && is_told_today (trial, raw))
      continue;
    if (raw->as_today)
      g_array_append_vals (causes->as_today, raw, 1);
    else
      gather (pending, raw);
  }
  raise_causes (pending);
  raise_idle_today (trial, pending);
  g_ptr_array_sort (pending, by_depth);
  while (pending->len > 0) {
    PmCause *head = g_ptr_array_steal_index (pending, 0);
    g_ptr_array_add (causes->causes, head);
    if (head->severity == PM_SEVERITY_NOTE || g_cancellable_is_cancelled (cancellable))
      continue;
    g_autoptr (GPtrArray) repairs = pm_repairs_propose (trial, first_raw (head));
    g_autoptr (PmTrial) after = NULL;
    head->repair = pm_repairs_try (trial, first_raw (head), repairs, &budget, &after, cancellable);
    fold (trial, pending, head, after);
  }
  g_ptr_array_sort (causes->causes, by_rank);
  return causes;
}
