/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Groups, and the answers of the solver.
 *
 * Groups (rule 6) are the cycles of "an input's net can hang on an input".  A group's pins read what they must, or it
 * has no reading at all for what enters (all readings of its pins tried by substitution) and they read anything.
 * So every reading of a part can be carried on to the rest, and the answers to a question are those of its cone. */
#include "oracle-formula.h"
#include <string.h>

/* ---- groups ---- */

static void
add_section_depends (const OracleEncoding *e, guint s, guint output, guint8 *depends)
{
  for (guint k = 0; k < pm_table_n_inputs (SECTION (e, s)->table); k++) {
    if ((e->essential[s][output] >> k & 1) != 0 && !PM_IS_BIT (SECTION (e, s)->inputs[k]))
      depends[SECTION (e, s)->inputs[k]] = TRUE;
  }
}

/* What decides the joints that may carry a net through matter a. */
static void
add_joint_depends (const OracleEncoding *e, guint a, guint8 *depends)
{
  for (guint k = 0; k < e->record->joints->len; k++) {
    const OracleJoint *joint = JOINT (e, k);
    guint end = oracle_matter (e, joint->a);

    if (e->state->joints[k] == PM_JOINT_CONTROLLED && oracle_is_dynamic (e, k) && MAY_CONN (e, a, end) &&
        end != oracle_matter (e, joint->b))
      add_section_depends (e, joint->section, joint->column, depends);
  }
}

static gboolean
may_hold_rail (const OracleEncoding *e, guint a)
{
  for (guint k = 0; k < e->record->rails->len; k++) {
    if (MAY_CONN (e, a, oracle_matter (e, RAIL (e, k)->place)))
      return TRUE;
  }
  return FALSE;
}

/* The inputs that the net of an input can hang on. */
static void
find_depends (const OracleEncoding *e, guint input, guint8 *depends)
{
  guint a = oracle_matter (e, INPUT (e, input)->place);

  for (guint s = 0; s < e->record->sections->len; s++) {
    for (guint i = 0; i < pm_table_n_outputs (SECTION (e, s)->table); i++) {
      if (e->works[s] && pm_table_kind (SECTION (e, s)->table, i) == PM_COLUMN_PIN &&
          MAY_CONN (e, a, oracle_matter (e, SECTION (e, s)->outputs[i])))
        add_section_depends (e, s, i, depends);
    }
  }
  add_joint_depends (e, a, depends);
  for (guint r = 0; r < e->record->resistors->len; r++) {
    guint ends[] = { oracle_matter (e, RESISTOR (e, r)->a), oracle_matter (e, RESISTOR (e, r)->b) };

    for (guint near = 0; near < 2; near++) {
      if (MAY_CONN (e, a, ends[near]) && may_hold_rail (e, ends[1 - near]))
        add_joint_depends (e, ends[1 - near], depends);
    }
  }
}

/* reach[i * n + j]: the net of input i can hang on input j, through others or not. */
static guint8 *
make_reach (const OracleEncoding *e)
{
  guint n = e->record->inputs->len;
  guint8 *reach = g_new0 (guint8, n * n + 1);

  for (guint i = 0; i < n; i++)
    find_depends (e, i, reach + i * n);
  for (guint m = 0; m < n; m++) {
    for (guint i = 0; i < n; i++) {
      for (guint j = 0; j < n && reach[i * n + m]; j++)
        reach[i * n + j] |= reach[m * n + j];
    }
  }
  return reach;
}

/* The group has no reading, whatever its n pins read. */
static Z3_ast
never_settles (const OracleEncoding *e, Z3_ast holds, Z3_ast *pins, guint n)
{
  Z3_ast never = e->yes;

  for (guint32 way = 0; way < 1u << n; way++) {
    Z3_ast values[ORACLE_MAX_GROUP];

    for (guint k = 0; k < n; k++)
      values[k] = (way >> k & 1) != 0 ? e->yes : e->no;
    never = oracle_both (e, never, oracle_opposite (e, Z3_substitute (e->context, holds, n, pins, values)));
  }
  return Z3_simplify (e->context, never);
}

/* All that must hold in a world; *restless: some group never settles.  FALSE if a group is too large. */
static gboolean
make_worlds (const OracleEncoding *e, Z3_ast *worlds, Z3_ast *restless)
{
  guint n = e->record->inputs->len;
  g_autofree guint8 *reach = make_reach (e);
  g_autofree guint8 *done = g_new0 (guint8, n + 1);

  *worlds = e->yes;
  *restless = e->no;
  for (guint i = 0; i < n; i++) {
    Z3_ast holds = e->yes, never, pins[ORACLE_MAX_GROUP];
    guint n_pins = 0;

    if (done[i])
      continue;
    if (!reach[i * n + i]) {
      *worlds = oracle_both (e, *worlds, oracle_input_obeys (e, i));
      continue;
    }
    for (guint j = i; j < n; j++) {
      if (!reach[i * n + j] || !reach[j * n + i])
        continue;
      if (n_pins == ORACLE_MAX_GROUP)
        return FALSE;
      done[j] = TRUE;
      pins[n_pins++] = e->reads[j];
      holds = oracle_both (e, holds, oracle_input_obeys (e, j));
    }
    never = never_settles (e, holds, pins, n_pins);
    *worlds = oracle_both (e, *worlds, oracle_either (e, holds, never));
    *restless = oracle_either (e, *restless, never);
  }
  return TRUE;
}

/* ---- answers ---- */

/* The formula of each level that the net of a place can have. */
static void
find_levels (const OracleEncoding *e, guint32 place, Z3_ast *at)
{
  guint a = oracle_matter (e, place);
  OracleHolds holds = oracle_holds (e, a);
  OracleForced forced = oracle_forced (e, a, &holds, 0.8, 2.0);
  Z3_ast nothing = oracle_opposite (e, oracle_either (e, holds.low, holds.high));
  Z3_ast resistors = oracle_resistors (e, &holds);
  Z3_ast neither = oracle_opposite (e, oracle_either (e, forced.low, forced.high));

  at[PM_LEVEL_LOW] = oracle_both (e, holds.low, oracle_opposite (e, holds.high));
  at[PM_LEVEL_HIGH] = oracle_both (e, holds.high, oracle_opposite (e, holds.low));
  at[PM_LEVEL_CLASH] = oracle_both (e, holds.low, holds.high);
  at[PM_LEVEL_CLAMPED] = oracle_both (e, nothing, holds.clamped);
  at[PM_LEVEL_PULLED_LOW] = oracle_both (e, resistors, forced.low);
  at[PM_LEVEL_PULLED_HIGH] = oracle_both (e, resistors, forced.high);
  at[PM_LEVEL_BETWEEN] = oracle_both (e, resistors, neither);
  nothing = oracle_both (e, nothing, oracle_opposite (e, holds.clamped));
  at[PM_LEVEL_OFF] = oracle_both (e, nothing, oracle_opposite (e, holds.pulled));
}

/* An answer as three formulas, its binary digits. */
static void
ask_digits (const OracleEncoding *e, const PmAsk *ask, Z3_ast *digits)
{
  Z3_ast at[PM_N_LEVELS];

  digits[0] = digits[1] = digits[2] = e->no;
  switch (ask->kind) {
  case PM_ASK_READ:
    digits[0] = e->reads[ask->index];
    break;
  case PM_ASK_JOINT:
    digits[0] = oracle_closed (e, ask->index);
    break;
  case PM_ASK_LEVEL:
    find_levels (e, ask->index, at);
    for (guint level = 0; level < PM_N_LEVELS; level++) {
      for (guint d = 0; d < 3; d++) {
        if ((level >> d & 1) != 0)
          digits[d] = oracle_either (e, digits[d], at[level]);
      }
    }
    break;
  }
}

/* All values of the digits under what the solver holds; FALSE if there are too many. */
static gboolean
enumerate (const OracleEncoding *e, Z3_solver solver, const Z3_ast *digits, guint32 n_asks, GPtrArray *found)
{
  g_autofree guint8 *tuple = g_malloc (n_asks + 1);

  for (;;) {
    Z3_lbool answer = Z3_solver_check (e->context, solver);
    Z3_model model;
    Z3_ast other = e->no;

    g_assert (answer != Z3_L_UNDEF);
    if (answer == Z3_L_FALSE)
      return TRUE;
    if (found->len == ORACLE_MAX_ANSWERS)
      return FALSE;
    model = Z3_solver_get_model (e->context, solver);
    Z3_model_inc_ref (e->context, model);
    memset (tuple, 0, n_asks);
    for (guint32 k = 0; k < 3 * n_asks; k++) {
      gboolean set = digits[k] == e->yes;

      if (!set && digits[k] != e->no) {
        Z3_ast value;

        g_assert_true (Z3_model_eval (e->context, model, digits[k], TRUE, &value));
        set = Z3_get_bool_value (e->context, value) == Z3_L_TRUE;
        other = oracle_either (e, other, set ? oracle_opposite (e, digits[k]) : digits[k]);
      }
      tuple[k / 3] |= set << k % 3;
    }
    Z3_model_dec_ref (e->context, model);
    g_ptr_array_add (found, g_bytes_new (tuple, n_asks));
    Z3_solver_assert (e->context, solver, other);
  }
}

OracleAnswers *
oracle_ask (const OracleRecord *record, const PmCase *state, const PmAsk *asks, guint32 n_asks)
{
  OracleAnswers *answers = g_new0 (OracleAnswers, 1);
  g_autofree Z3_ast *digits = g_new (Z3_ast, 3 * n_asks + 1);
  OracleEncoding e;
  Z3_ast worlds, restless;

  answers->answers = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);
  answers->restless = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);
  oracle_encode (&e, record, state);
  answers->too_large = !make_worlds (&e, &worlds, &restless);
  if (!answers->too_large) {
    Z3_solver solver = Z3_mk_simple_solver (e.context);

    Z3_solver_inc_ref (e.context, solver);
    for (guint32 k = 0; k < n_asks; k++)
      ask_digits (&e, &asks[k], digits + 3 * k);
    Z3_solver_assert (e.context, solver, worlds);
    Z3_solver_push (e.context, solver);
    answers->too_large = !enumerate (&e, solver, digits, n_asks, answers->answers);
    Z3_solver_pop (e.context, solver, 1);
    Z3_solver_assert (e.context, solver, restless);
    if (!answers->too_large && restless != e.no)
      answers->too_large = !enumerate (&e, solver, digits, n_asks, answers->restless);
    Z3_solver_dec_ref (e.context, solver);
  }
  oracle_encoding_clear (&e);
  return answers;
}

OracleQuestion *
oracle_question_new (Z3_context context, const OracleRecord *record, const PmCase *state, const PmAsk *asks,
                     guint32 n_asks)
{
  OracleQuestion *question = g_new0 (OracleQuestion, 1);
  gboolean small;
  Z3_ast restless;

  question->n_asks = n_asks;
  question->digits = g_new (Z3_ast, 3 * n_asks + 1);
  oracle_encode_in (&question->e, context, record, state);
  small = make_worlds (&question->e, &question->worlds, &restless);
  for (guint32 k = 0; k < n_asks && small; k++)
    ask_digits (&question->e, &asks[k], question->digits + 3 * k);
  oracle_encoding_leave (&question->e);
  if (!small)
    g_clear_pointer (&question, oracle_question_free);
  return question;
}

void
oracle_question_free (OracleQuestion *question)
{
  g_free (question->digits);
  g_free (question);
}

GPtrArray *
oracle_question_answers (const OracleQuestion *question, Z3_solver solver)
{
  const OracleEncoding *e = &question->e;
  GPtrArray *found = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);
  gboolean all;

  Z3_solver_push (e->context, solver);
  Z3_solver_assert (e->context, solver, question->worlds);
  all = enumerate (e, solver, question->digits, question->n_asks, found);
  Z3_solver_pop (e->context, solver, 1);
  if (!all)
    g_clear_pointer (&found, g_ptr_array_unref);
  return found;
}

void
oracle_answers_free (OracleAnswers *answers)
{
  if (answers == NULL)
    return;
  g_ptr_array_unref (answers->answers);
  g_ptr_array_unref (answers->restless);
  g_free (answers);
}
