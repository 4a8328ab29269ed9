/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one place where "what is chosen" is kept.  Nothing is computed here: every case is already in the check. */
#include "config.h"
#include "pm-choice.h"

struct _PmChoice {
  GObject  parent;
  PmStudy *study;      /* owned */
  guint    chosen;
  guint    shown;
  guint    compared;
  int      finding;
  char    *stale;      /* owned, or NULL */
  guint    n_faults;
};

enum { STUDY_CHANGED, STALE_CHANGED, CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PmChoice, pm_choice, G_TYPE_OBJECT)

static void
changed (PmChoice *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

/* A case of the same kind and name in another check of the same board, or PM_NONE. */
static guint
find_like (const PmCheck *check, const PmCheck *old, guint index)
{
  const PmCaseResult *was = &old->cases[index];
  const char *setting = old->cases[was->setting].name;

  for (guint i = 0; i < check->n_cases; i++) {
    const PmCaseResult *is = &check->cases[i];

    if (is->kind == was->kind && g_strcmp0 (is->name, was->name) == 0
        && g_strcmp0 (check->cases[is->setting].name, setting) == 0)
      return i;
  }
  return PM_NONE;
}

static int
find_finding_like (const PmCheck *check, const PmFinding *was)
{
  for (guint i = 0; i < check->n_findings; i++)
    if (g_strcmp0 (check->findings[i].identity, was->identity) == 0)
      return (int) i;
  return -1;
}

static void
pm_choice_dispose (GObject *object)
{
  g_clear_object (&PM_CHOICE (object)->study);
  g_clear_pointer (&PM_CHOICE (object)->stale, g_free);
  G_OBJECT_CLASS (pm_choice_parent_class)->dispose (object);
}

static void
pm_choice_class_init (PmChoiceClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = pm_choice_dispose;
  signals[STUDY_CHANGED] =
      g_signal_new ("study-changed", PM_TYPE_CHOICE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[STALE_CHANGED] =
      g_signal_new ("stale-changed", PM_TYPE_CHOICE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CHANGED] = g_signal_new ("changed", PM_TYPE_CHOICE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pm_choice_init (PmChoice *self)
{
  self->finding = -1;
}

PmChoice *
pm_choice_new (void)
{
  return g_object_new (PM_TYPE_CHOICE, NULL);
}

void
pm_choice_set_study (PmChoice *self, PmStudy *study, gboolean fresh)
{
  g_autoptr (PmStudy) old = NULL;
  const PmCheck *check, *was;
  guint chosen = PM_NONE, shown = PM_NONE, compared = PM_NONE;
  int finding = -1;

  g_return_if_fail (PM_IS_CHOICE (self));
  g_clear_pointer (&self->stale, g_free);
  self->n_faults = 0;
  old = g_steal_pointer (&self->study);
  g_set_object (&self->study, study);
  if (study != NULL) {
    check = pm_study_get_check (study);
    if (old != NULL && !fresh) {
      was = pm_study_get_check (old);
      chosen = find_like (check, was, self->chosen);
      shown = find_like (check, was, self->shown);
      compared = find_like (check, was, self->compared);
      if (self->finding >= 0)
        finding = find_finding_like (check, &was->findings[self->finding]);
    }
    self->chosen = chosen != PM_NONE ? chosen : check->usual;
    self->shown = shown != PM_NONE && check->cases[shown].setting == self->chosen ? shown : self->chosen;
    self->compared = compared != PM_NONE ? compared : 0;
    self->finding = finding;
  } else {
    self->chosen = self->shown = self->compared = 0;
    self->finding = -1;
  }
  g_signal_emit (self, signals[STUDY_CHANGED], 0);
  changed (self);
}

void
pm_choice_set_stale (PmChoice *self, const char *text, guint n_faults)
{
  g_return_if_fail (PM_IS_CHOICE (self) && self->study != NULL);
  g_free (self->stale);
  self->stale = g_strdup (text);
  self->n_faults = n_faults;
  g_signal_emit (self, signals[STALE_CHANGED], 0);
  changed (self);
}

const char *
pm_choice_get_stale (PmChoice *self, guint *n_faults)
{
  g_return_val_if_fail (PM_IS_CHOICE (self), NULL);
  if (n_faults != NULL)
    *n_faults = self->n_faults;
  return self->stale;
}

PmStudy *
pm_choice_get_study (PmChoice *self)
{
  g_return_val_if_fail (PM_IS_CHOICE (self), NULL);
  return self->study;
}

const PmCheck *
pm_choice_get_check (PmChoice *self)
{
  g_return_val_if_fail (PM_IS_CHOICE (self), NULL);
  return self->study != NULL ? pm_study_get_check (self->study) : NULL;
}

const PmBoard *
pm_choice_get_board (PmChoice *self)
{
  g_return_val_if_fail (PM_IS_CHOICE (self), NULL);
  return self->study != NULL ? pm_study_get_board (self->study) : NULL;
}

guint
pm_choice_get_chosen (PmChoice *self)
{
  g_return_val_if_fail (PM_IS_CHOICE (self), 0);
  return self->chosen;
}

guint
pm_choice_get_shown (PmChoice *self)
{
  g_return_val_if_fail (PM_IS_CHOICE (self), 0);
  return self->shown;
}

guint
pm_choice_get_compared (PmChoice *self)
{
  g_return_val_if_fail (PM_IS_CHOICE (self), 0);
  return self->compared;
}

int
pm_choice_get_finding (PmChoice *self)
{
  g_return_val_if_fail (PM_IS_CHOICE (self), -1);
  return self->finding;
}

void
pm_choice_set_chosen (PmChoice *self, guint setting)
{
  const PmCheck *check = pm_choice_get_check (self);

  if (check == NULL || setting == 0 || setting > check->n_settings)
    return;
  if (self->chosen == setting && self->shown == setting)
    return;
  self->chosen = self->shown = setting;
  changed (self);
}

void
pm_choice_show_case (PmChoice *self, guint case_index)
{
  const PmCheck *check = pm_choice_get_check (self);
  guint setting;

  if (check == NULL || case_index >= check->n_cases)
    return;
  setting = check->cases[case_index].setting;
  if (case_index == 0)
    case_index = setting = self->chosen;
  else if (setting == 0)
    setting = self->chosen;
  if (self->chosen == setting && self->shown == case_index)
    return;
  self->chosen = setting;
  self->shown = case_index;
  changed (self);
}

void
pm_choice_set_compared (PmChoice *self, guint case_index)
{
  const PmCheck *check = pm_choice_get_check (self);

  if (check == NULL || case_index >= check->n_cases || self->compared == case_index)
    return;
  self->compared = case_index;
  changed (self);
}

void
pm_choice_set_finding (PmChoice *self, int finding)
{
  const PmCheck *check = pm_choice_get_check (self);

  if (check == NULL || finding >= (int) check->n_findings)
    return;
  if (finding >= 0) {
    guint where = check->findings[finding].case_index;

    if (where != 0 && where < check->n_cases) {
      const PmCaseResult *result = &check->cases[where];

      self->chosen = result->setting != 0 ? result->setting : self->chosen;
      self->shown = where;
    }
  }
  self->finding = MAX (finding, -1);
  changed (self);
}

gboolean
pm_choice_set_position (PmChoice *self, guint switch_index, int position)
{
  const PmCheck *check = pm_choice_get_check (self);
  const PmBoard *board = pm_choice_get_board (self);
  g_autofree int *positions = NULL;
  guint setting;

  if (check == NULL || switch_index >= board->n_switches)
    return FALSE;
  positions = g_memdup2 (check->cases[self->chosen].positions, sizeof (int) * board->n_switches);
  positions[switch_index] = position;
  setting = pm_check_find_setting (check, positions);
  if (setting == PM_NONE)
    return FALSE;
  pm_choice_set_chosen (self, setting);
  return TRUE;
}

void
pm_choice_step_setting (PmChoice *self, int step)
{
  const PmCheck *check = pm_choice_get_check (self);
  int n, next;

  if (check == NULL || check->n_settings == 0)
    return;
  n = (int) check->n_settings;
  next = ((int) self->chosen - 1 + step + n) % n;
  pm_choice_set_chosen (self, (guint) next + 1);
}

void
pm_choice_step_finding (PmChoice *self, int step)
{
  const PmCheck *check = pm_choice_get_check (self);
  int n, next;

  if (check == NULL || check->n_findings == 0)
    return;
  n = (int) check->n_findings;
  next = self->finding < 0 ? (step > 0 ? 0 : n - 1) : (self->finding + step + n) % n;
  pm_choice_set_finding (self, next);
}
