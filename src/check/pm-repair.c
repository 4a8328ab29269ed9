/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tried repairs: each proposal is tried on the cases it is for, and the best over everything. */
#include "pm-repair.h"

void
pm_repair_free (PmRepair *repair)
{
  if (repair == NULL)
    return;
  g_free (repair->text);
  g_free (repair);
}

gboolean
pm_trial_has (const PmTrial *trial, const PmRaw *raw)
{
  for (guint i = 0; i < trial->raws->len; i++) {
    const PmRaw *other = &g_array_index (trial->raws, PmRaw, i);
    if (!other->as_today && pm_raw_same (other, raw) && other->severity <= raw->severity)
      return TRUE;
  }
  return FALSE;
}

/* TRUE if a case was looked at in a trial that has fewer. */
static gboolean
was_looked_at (const PmTrial *before, const PmRaw *raw, guint which)
{
  PmCaseKind kind = ((const PmCaseSpec *) g_ptr_array_index (before->cases->specs, raw->spec))->kind;
  return kind == PM_CASE_SETTING || kind == PM_CASE_WITHOUT_BOARD || (which & PM_CASES_OF (kind)) != 0;
}

/* TRUE if a finding of this sort was in that case. */
static gboolean
has_in_case (const PmTrial *trial, const PmRaw *raw, guint spec)
{
  for (guint i = 0; i < trial->raws->len; i++)
    if (g_array_index (trial->raws, PmRaw, i).spec == spec && pm_raw_same (&g_array_index (trial->raws, PmRaw, i), raw))
      return TRUE;
  return FALSE;
}

gboolean
pm_trial_is_worse (const PmTrial *before, const PmRaw *now)
{
  for (guint i = 0; i < before->raws->len; i++) {
    const PmRaw *was = &g_array_index (before->raws, PmRaw, i);
    if (pm_raw_same (was, now) && was->spec == now->spec &&
        (now->kind == PM_FINDING_LOW_NOT_REACHED || now->kind == PM_FINDING_HIGH_NOT_ENOUGH) &&
        now->a > was->a * 1.02 && now->place2 == was->place2)
      return TRUE;
  }
  return FALSE;
}

/* What was right stays right: a repair for a variation leaves every setting as it was, and one for a setting leaves
 * each select on its drive where exactly one answered it. */
static gboolean
spoils_routes (const PmTrial *before, const PmTrial *after, const PmRaw *raw)
{
  const PmBoard *board = before->board;
  if (after->t->n_edits > 0 && after->t->edits[0].kind == PM_EDIT_SENSE)
    return FALSE; /* what the machine itself means by its lines changes */
  gboolean variation =
      ((const PmCaseSpec *)g_ptr_array_index (before->cases->specs, raw->spec))->kind != PM_CASE_SETTING;
  for (guint i = 1; i <= before->cases->n_settings && i <= after->cases->n_settings; i++) {
    if (variation && !pm_cells_equal (board, before->results[i].cells, after->results[i].cells))
      return TRUE;
    for (guint u = 0; u < board->host.n_units && before->results[i].wanted == PM_NONE; u++) {
      guint n = 0, sure = 0, same = 0;
      for (guint d = 0; d < board->n_drives; d++) {
        PmAnswer was = before->results[i].cells[u * board->n_drives + d].answer,
                 now = after->results[i].cells[u * board->n_drives + d].answer;
        n += was != PM_ANSWER_NEVER;
        sure += was == PM_ANSWER_YES;
        same += was == PM_ANSWER_YES && now == PM_ANSWER_YES;
      }
      if (n == 1 && sure == 1 && same == 0)
        return TRUE;
    }
  }
  return FALSE;
}

/* TRUE where in some setting a drive answers with nothing turned on, as today or not: then no route is right, whatever
 * the cells say. A file that accepts it says that the machine is so. */
static gboolean
answers_idle (const PmTrial *trial)
{
  for (guint i = 0; i < trial->board->n_accepts; i++)
    if (g_str_equal (trial->board->accepts[i].finding, PM_FINDINGS[PM_FINDING_IDLE_TODAY].id))
      return FALSE;
  for (guint i = 0; i < trial->raws->len; i++) {
    const PmRaw *raw = &g_array_index (trial->raws, PmRaw, i);
    if (raw->kind == PM_FINDING_ANSWERS_IDLE && raw->as_today && !raw->may && raw->spec >= 1 &&
        raw->spec <= trial->cases->n_settings)
      return TRUE;
  }
  return FALSE;
}

/* TRUE where rails stay joined in a setting: what is right in the others is of no use before that is mended. */
static gboolean
joins_rails (const PmTrial *trial)
{
  for (guint i = 1; i <= trial->cases->n_settings; i++)
    if (trial->survey->of[i].joined_rails != 0)
      return TRUE;
  return FALSE;
}

/* Findings of before, in the cases looked at, that are gone; -1 if raw is still there, something new came, or a case
 * of raw is still not right. */
static int
gain (const PmTrial *before, const PmTrial *after, const PmRaw *raw, guint which, PmRaw *brings)
{
  int gone = 0, come = 0;
  brings->kind = PM_N_FINDING_KINDS;
  if (PM_FINDINGS[raw->kind].of_routes && (answers_idle (after) || joins_rails (after)))
    return -1;
  if (pm_trial_has (after, raw) || (after->not_decided && !before->not_decided) || spoils_routes (before, after, raw))
    return -1;
  for (guint i = 0; i < after->raws->len; i++) {
    const PmRaw *now = &g_array_index (after->raws, PmRaw, i);
    if (now->as_today || now->severity == PM_SEVERITY_NOTE)
      continue;
    if (!pm_trial_has (before, now) || pm_trial_is_worse (before, now)) {
      if (now->severity <= raw->severity)
        return -1;
      *brings = come++ == 0 ? *now : *brings;
      continue;
    }
    if (PM_FINDINGS[raw->kind].of_routes && PM_FINDINGS[now->kind].of_routes && now->severity <= raw->severity &&
        has_in_case (before, raw, now->spec))
      return -1;
  }
  for (guint i = 0; i < before->raws->len; i++) {
    const PmRaw *was = &g_array_index (before->raws, PmRaw, i);
    gone += !was->as_today && was->severity != PM_SEVERITY_NOTE && was_looked_at (before, was, which) &&
            !pm_trial_has (after, was);
  }
  return gone > 0 ? MAX (4 * gone - come, 1) : 0;
}

/* What is left over for which nobody can be blamed but the file: no repair takes it away. */
static gboolean
is_clean (const PmTrial *trial)
{
  for (guint i = 0; i < trial->raws->len; i++) {
    const PmRaw *raw = &g_array_index (trial->raws, PmRaw, i);
    if (!raw->as_today && raw->severity != PM_SEVERITY_NOTE && raw->kind != PM_FINDING_ASSUMED &&
        raw->kind != PM_FINDING_POSITION_NOT_STATED)
      return FALSE;
  }
  return TRUE;
}

PmRepair *
pm_repairs_try (const PmTrial *trial, const PmRaw *raw, GPtrArray *repairs, guint64 *budget, PmTrial **after,
                GCancellable *cancellable)
{
  PmCaseKind kind = ((const PmCaseSpec *) g_ptr_array_index (trial->cases->specs, raw->spec))->kind;
  guint which = kind == PM_CASE_SETTING || kind == PM_CASE_WITHOUT_BOARD ? PM_CASES_SETTINGS : PM_CASES_OF (kind);
  g_autofree int *gains = g_new0 (int, MAX (repairs->len, 1));
  PmRaw brings;
  *after = NULL;
  for (guint i = 0; i < repairs->len && *budget > 0; i++) {
    const PmRepair *repair = g_ptr_array_index (repairs, i);
    guint64 n_worlds = 0;
    g_autoptr (PmTrial) tried =
        pm_trial_try (trial, raw, repair->edits, repair->n_edits, which, &n_worlds, cancellable);
    *budget -= MIN (*budget, n_worlds);
    gains[i] = tried == NULL ? -1 : gain (trial, tried, raw, which, &brings);
    if (gains[i] > 0 && is_clean (tried))
      break; /* nothing can be better, and what comes later is less simple */
  }
  for (guint tries = 0; tries < repairs->len && tries < 6; tries++) {
    guint best = PM_NONE;
    for (guint i = 0; i < repairs->len; i++)
      if (gains[i] > 0 && (best == PM_NONE || gains[i] > gains[best]))
        best = i;
    if (best == PM_NONE)
      return NULL;
    PmRepair *repair = g_ptr_array_index (repairs, best);
    g_autoptr (PmTrial) tried = pm_trial_new (trial->board, repair->edits, repair->n_edits,
                                              PM_CASES_ALL & ~PM_CASES_OF (PM_CASE_ONCE), cancellable);
    if (tried != NULL && gain (trial, tried, raw, PM_CASES_ALL, &repair->brings) > 0) {
      *after = g_steal_pointer (&tried);
      g_ptr_array_steal_index (repairs, best);
      return repair;
    }
    gains[best] = -1;
  }
  return NULL;
}
