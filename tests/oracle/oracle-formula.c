/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the record of a circuit to formulas: tables as printed, what connects, what holds a net, what must be read. */
#include "oracle-formula.h"
#include <math.h>
#include <string.h>

/* ---- formulas ---- */

Z3_ast
oracle_both (const OracleEncoding *e, Z3_ast a, Z3_ast b)
{
  if (a == e->no || b == e->no)
    return e->no;
  if (a == e->yes)
    return b;
  return b == e->yes || a == b ? a : Z3_mk_and (e->context, 2, (Z3_ast[]){ a, b });
}

Z3_ast
oracle_either (const OracleEncoding *e, Z3_ast a, Z3_ast b)
{
  if (a == e->yes || b == e->yes)
    return e->yes;
  if (a == e->no)
    return b;
  return b == e->no || a == b ? a : Z3_mk_or (e->context, 2, (Z3_ast[]){ a, b });
}

Z3_ast
oracle_opposite (const OracleEncoding *e, Z3_ast a)
{
  if (a == e->yes)
    return e->no;
  return a == e->no ? e->yes : Z3_mk_not (e->context, a);
}

static Z3_ast
variable (const OracleEncoding *e, const char *word, guint number)
{
  g_autofree char *name = g_strdup_printf ("%s%u", word, number);

  return Z3_mk_const (e->context, Z3_mk_string_symbol (e->context, name), Z3_mk_bool_sort (e->context));
}

/* ---- tables as printed ---- */

static guint
input_column (const PmTable *table, const char *name)
{
  for (guint k = 0; k < pm_table_n_inputs (table); k++) {
    if (g_str_equal (pm_table_input (table, k), name))
      return k;
  }
  return G_MAXUINT;
}

/* The input column that an output cell copies (*inverse: turned over), or G_MAXUINT. */
static guint
copied_column (const PmTable *table, const char *cell, gboolean *inverse)
{
  static const char *const words[] = { "H", "L", "Z", "joined", "open", NULL };
  guint k;

  *inverse = FALSE;
  if (g_strv_contains (words, cell))
    return G_MAXUINT;
  k = input_column (table, cell);
  if (k != G_MAXUINT)
    return k;
  *inverse = TRUE;
  return input_column (table, cell + 1);
}

/* What a column says for a full reading, as the word printed, copies as H or L. */
static const char *
word_for (const PmTable *table, guint output, guint32 in)
{
  for (guint r = 0; r < pm_table_n_rows (table); r++) {
    const char *cell = pm_table_cell (table, r, pm_table_n_inputs (table) + output);
    gboolean matches = TRUE, inverse;
    guint copied;

    for (guint k = 0; k < pm_table_n_inputs (table) && matches; k++) {
      char want = pm_table_cell (table, r, k)[0];

      matches = want == 'X' || want == ((in >> k & 1) != 0 ? 'H' : 'L');
    }
    if (!matches)
      continue;
    copied = copied_column (table, cell, &inverse);
    return copied == G_MAXUINT ? cell : ((in >> copied & 1) != 0) != inverse ? "H" : "L";
  }
  g_assert_not_reached ();
}

static guint32
essential_columns (const PmTable *table, guint output)
{
  guint n = pm_table_n_inputs (table);
  guint32 found = 0;

  if (pm_table_kind (table, output) == PM_COLUMN_BIT)
    return 0;
  for (guint32 in = 0; in < 1u << n && found != (1u << n) - 1; in++) {
    const char *word = word_for (table, output, in);

    for (guint k = 0; k < n; k++) {
      if ((found >> k & 1) == 0 && (in >> k & 1) == 0 && !g_str_equal (word, word_for (table, output, in | 1u << k)))
        found |= 1u << k;
    }
  }
  return found;
}

/* What input column k of a section reads. */
static Z3_ast
column_read (const OracleEncoding *e, const OracleSection *section, guint k)
{
  guint32 input = section->inputs[k];

  if (!PM_IS_BIT (input))
    return e->reads[input];
  switch (e->state->bits[PM_BIT_OF (input)]) {
  case 0:
    return e->no;
  case 1:
    return e->yes;
  default:
    return e->bits[PM_BIT_OF (input)];
  }
}

/* The formula under which a column says a word. */
static Z3_ast
says (const OracleEncoding *e, const OracleSection *section, guint output, const char *word)
{
  const PmTable *table = section->table;
  gboolean high = g_str_equal (word, "H"), level = high || g_str_equal (word, "L");
  Z3_ast any = e->no;

  for (guint r = 0; r < pm_table_n_rows (table); r++) {
    const char *cell = pm_table_cell (table, r, pm_table_n_inputs (table) + output);
    gboolean inverse;
    guint copied = copied_column (table, cell, &inverse);
    Z3_ast row = e->yes;

    if (copied == G_MAXUINT ? !g_str_equal (cell, word) : !level)
      continue;
    for (guint k = 0; k < pm_table_n_inputs (table); k++) {
      char want = pm_table_cell (table, r, k)[0];
      Z3_ast read = column_read (e, section, k);

      if (want != 'X')
        row = oracle_both (e, row, want == 'H' ? read : oracle_opposite (e, read));
    }
    if (copied != G_MAXUINT) {
      Z3_ast read = column_read (e, section, copied);

      row = oracle_both (e, row, high != inverse ? read : oracle_opposite (e, read));
    }
    any = oracle_either (e, any, row);
  }
  return any;
}

/* ---- matters and what connects them ---- */

guint32
oracle_matter (const OracleEncoding *e, guint32 place)
{
  return e->matter_number[e->matter[place]];
}

/* Floods: slow and plain. */
static void
make_matters (OracleEncoding *e)
{
  gboolean changed = TRUE;

  e->matter = g_new (guint32, e->record->n_places + 1);
  e->matter_number = g_new0 (guint32, e->record->n_places + 1);
  for (guint32 p = 0; p < e->record->n_places; p++)
    e->matter[p] = p;
  while (changed) {
    changed = FALSE;
    for (guint k = 0; k < e->record->joints->len; k++) {
      guint32 *a = &e->matter[JOINT (e, k)->a], *b = &e->matter[JOINT (e, k)->b];

      if (e->state->joints[k] == PM_JOINT_CLOSED && *a != *b) {
        *a = *b = MIN (*a, *b);
        changed = TRUE;
      }
    }
  }
  for (guint32 p = 0; p < e->record->n_places; p++) {
    if (e->matter[p] == p)
      e->matter_number[p] = e->n_matters++;
  }
}

static gboolean
rail_is_live (const OracleEncoding *e, guint rail)
{
  return RAIL (e, rail)->volts == 0 || e->state->rails[rail];
}

static gboolean
is_supplied (const OracleEncoding *e, guint32 place, gboolean ground)
{
  if (place == PM_NONE)
    return TRUE;
  for (guint k = 0; k < e->record->rails->len; k++) {
    if (oracle_matter (e, RAIL (e, k)->place) == oracle_matter (e, place) && rail_is_live (e, k) &&
        (RAIL (e, k)->volts > 0) != ground)
      return TRUE;
  }
  return FALSE;
}

static void
make_sections (OracleEncoding *e)
{
  guint n = e->record->sections->len;

  e->works = g_new0 (guint8, n + 1);
  e->essential = g_new0 (guint32 *, n + 1);
  for (guint s = 0; s < n; s++) {
    const OracleSection *section = SECTION (e, s);
    guint n_outputs = pm_table_n_outputs (section->table);

    e->works[s] = e->state->sections[s] && is_supplied (e, section->supply, FALSE) &&
                  is_supplied (e, section->ground, TRUE);
    e->essential[s] = g_new (guint32, n_outputs);
    for (guint i = 0; i < n_outputs; i++)
      e->essential[s][i] = essential_columns (section->table, i);
  }
}

Z3_ast
oracle_closed (const OracleEncoding *e, guint joint)
{
  const OracleJoint *j = JOINT (e, joint);

  switch (e->state->joints[joint]) {
  case PM_JOINT_OPEN:
    return e->no;
  case PM_JOINT_CLOSED:
    return e->yes;
  case PM_JOINT_UNKNOWN:
    return e->joints[joint];
  default:
    return e->works[j->section] ? says (e, SECTION (e, j->section), j->column, "joined") : e->no;
  }
}

gboolean
oracle_is_dynamic (const OracleEncoding *e, guint joint)
{
  return e->state->joints[joint] == PM_JOINT_UNKNOWN ||
         (e->state->joints[joint] == PM_JOINT_CONTROLLED && e->works[JOINT (e, joint)->section]);
}

/* The dynamic joints themselves, and from which matters one can come to which others. */
static void
make_steps (OracleEncoding *e)
{
  guint n = e->n_matters;

  for (guint a = 0; a < n; a++) {
    for (guint b = 0; b < n; b++) {
      CONN (e, a, b) = a == b ? e->yes : e->no;
      MAY_CONN (e, a, b) = a == b;
    }
  }
  for (guint k = 0; k < e->record->joints->len; k++) {
    guint a = oracle_matter (e, JOINT (e, k)->a), b = oracle_matter (e, JOINT (e, k)->b);

    if (oracle_is_dynamic (e, k) && a != b) {
      CONN (e, a, b) = CONN (e, b, a) = oracle_either (e, CONN (e, a, b), oracle_closed (e, k));
      MAY_CONN (e, a, b) = MAY_CONN (e, b, a) = TRUE;
    }
  }
  for (guint m = 0; m < n; m++) {
    for (guint a = 0; a < n; a++) {
      for (guint b = 0; b < n && MAY_CONN (e, a, m); b++)
        MAY_CONN (e, a, b) |= MAY_CONN (e, m, b);
    }
  }
}

static void
make_connections (OracleEncoding *e)
{
  guint n = e->n_matters;

  e->conn = g_new (Z3_ast, n * n + 1);
  e->may_conn = g_new0 (guint8, n * n + 1);
  make_steps (e);
  /* After k rounds, conn holds the paths of up to 2^k joints. */
  for (guint length = 1; length < n; length *= 2) {
    g_autofree Z3_ast *longer = g_memdup2 (e->conn, n * n * sizeof (Z3_ast));

    for (guint a = 0; a < n; a++) {
      for (guint b = 0; b < n; b++) {
        for (guint m = 0; m < n && a != b && MAY_CONN (e, a, b); m++) {
          if (m != a && m != b)
            longer[a * n + b] = oracle_either (e, longer[a * n + b], oracle_both (e, CONN (e, a, m), CONN (e, m, b)));
        }
      }
    }
    memcpy (e->conn, longer, n * n * sizeof (Z3_ast));
  }
}

/* ---- what holds a net ---- */

static void
add_hold (const OracleEncoding *e, Z3_ast *holds, guint a, guint32 place, Z3_ast when)
{
  *holds = oracle_either (e, *holds, oracle_both (e, CONN (e, a, oracle_matter (e, place)), when));
}

static void
add_source (const OracleEncoding *e, OracleHolds *holds, guint a, guint source)
{
  guint32 place = g_array_index (e->record->sources, guint32, source);

  switch ((PmSourceValue) e->state->sources[source]) {
  case PM_SOURCE_LOW:
    add_hold (e, &holds->low, a, place, e->yes);
    break;
  case PM_SOURCE_HIGH:
    add_hold (e, &holds->high, a, place, e->yes);
    break;
  case PM_SOURCE_FREE:
    add_hold (e, &holds->high, a, place, e->sources[source]);
    add_hold (e, &holds->low, a, place, oracle_opposite (e, e->sources[source]));
    break;
  case PM_SOURCE_CLAMP:
    add_hold (e, &holds->clamped, a, place, e->yes);
    break;
  case PM_SOURCE_WEAK_HIGH:
    add_hold (e, &holds->weak_high, a, place, e->yes);
    add_hold (e, &holds->pulled, a, place, e->yes);
    break;
  case PM_SOURCE_WEAK_LOW:
    add_hold (e, &holds->pulled, a, place, e->yes);
    break;
  case PM_SOURCE_OFF:
    break;
  }
}

static void
add_section (const OracleEncoding *e, OracleHolds *holds, guint a, guint s)
{
  const OracleSection *section = SECTION (e, s);

  for (guint i = 0; i < pm_table_n_outputs (section->table); i++) {
    guint32 place = section->outputs[i];

    if (pm_table_kind (section->table, i) != PM_COLUMN_PIN || !e->state->sections[s] ||
        CONN (e, a, oracle_matter (e, place)) == e->no)
      continue;
    if (e->works[s]) {
      add_hold (e, &holds->low, a, place, says (e, section, i, "L"));
      add_hold (e, &holds->high, a, place, says (e, section, i, "H"));
    } else if (section->unpowered == PM_UNPOWERED_CLAMPS) {
      add_hold (e, &holds->clamped, a, place, e->yes);
    }
  }
}

/* The net of matter a holds a rail, live or not. */
static Z3_ast
holds_rail (const OracleEncoding *e, guint a)
{
  Z3_ast any = e->no;

  for (guint k = 0; k < e->record->rails->len; k++)
    add_hold (e, &any, a, RAIL (e, k)->place, e->yes);
  return any;
}

/* The formula under which resistor r carries the net of a towards a rail: one end in the net, the other (*far: its
 * matter) in another net that holds a rail.  direction: which end is which. */
static Z3_ast
pulls (const OracleEncoding *e, guint a, guint r, guint direction, guint *far)
{
  const OracleResistor *resistor = RESISTOR (e, r);
  guint near = oracle_matter (e, direction == 0 ? resistor->a : resistor->b);

  *far = oracle_matter (e, direction == 0 ? resistor->b : resistor->a);
  if (CONN (e, a, near) == e->no)
    return e->no;
  return oracle_both (e, oracle_both (e, CONN (e, a, near), oracle_opposite (e, CONN (e, a, *far))),
                      holds_rail (e, *far));
}

OracleHolds
oracle_holds (const OracleEncoding *e, guint a)
{
  OracleHolds holds = { e->no, e->no, e->no, e->no, e->no };
  guint far;

  for (guint k = 0; k < e->record->rails->len; k++) {
    Z3_ast *which = !rail_is_live (e, k) ? &holds.clamped : RAIL (e, k)->volts > 0 ? &holds.high : &holds.low;

    add_hold (e, which, a, RAIL (e, k)->place, e->yes);
  }
  for (guint k = 0; k < e->record->sources->len; k++)
    add_source (e, &holds, a, k);
  for (guint s = 0; s < e->record->sections->len; s++)
    add_section (e, &holds, a, s);
  for (guint r = 0; r < 2 * e->record->resistors->len; r++)
    holds.pulled = oracle_either (e, holds.pulled, pulls (e, a, r / 2, r % 2, &far));
  return holds;
}

Z3_ast
oracle_resistors (const OracleEncoding *e, const OracleHolds *holds)
{
  Z3_ast others = oracle_either (e, oracle_either (e, holds->low, holds->high), holds->clamped);

  return oracle_both (e, oracle_opposite (e, others), holds->pulled);
}

/* ---- dividers ---- */

/* A sum of currents, each flowing under a formula: what flows always is added up here. */
typedef struct {
  double     always;
  GPtrArray *terms; /* Z3_ast of reals */
} Sum;

static Z3_ast
real (const OracleEncoding *e, double value)
{
  g_autofree char *text = g_strdup_printf ("%" G_GINT64_FORMAT "/1000000000000", (gint64) llround (value * 1e12));

  return Z3_mk_numeral (e->context, text, Z3_mk_real_sort (e->context));
}

static void
add_current (const OracleEncoding *e, Sum *sum, Z3_ast when, double amperes)
{
  if (when == e->yes)
    sum->always += amperes;
  else if (when != e->no && amperes != 0)
    g_ptr_array_add (sum->terms, Z3_mk_ite (e->context, when, real (e, amperes), real (e, 0)));
}

/* Through a resistor of which the near end is at limit and the far end at the highest live rail of its net. */
static void
add_resistor_currents (const OracleEncoding *e, Sum *sum, guint a, guint r, double limit)
{
  double ohms = RESISTOR (e, r)->ohms;

  for (guint direction = 0; direction < 2; direction++) {
    guint far;
    Z3_ast when = pulls (e, a, r, direction, &far);
    double last = HUGE_VAL;

    /* The live rails from the highest down; with none, 0 V. */
    while (when != e->no && last > -HUGE_VAL) {
      double next = -HUGE_VAL;
      Z3_ast here = e->no;

      for (guint k = 0; k < e->record->rails->len; k++) {
        if (rail_is_live (e, k) && RAIL (e, k)->volts < last)
          next = MAX (next, RAIL (e, k)->volts);
      }
      for (guint k = 0; k < e->record->rails->len; k++) {
        if (rail_is_live (e, k) && RAIL (e, k)->volts == next)
          add_hold (e, &here, far, RAIL (e, k)->place, e->yes);
      }
      if (next == -HUGE_VAL)
        here = e->yes;
      add_current (e, sum, oracle_both (e, when, here), ((next > -HUGE_VAL ? next : 0) - limit) / ohms);
      when = oracle_both (e, when, oracle_opposite (e, here));
      last = next;
    }
  }
}

/* An input draws current if a section that reads it works, or if no section reads it (a machine's or drive's own). */
static gboolean
draws (const OracleEncoding *e, guint input)
{
  gboolean read = FALSE, works = FALSE;

  for (guint s = 0; s < e->record->sections->len; s++) {
    for (guint k = 0; k < pm_table_n_inputs (SECTION (e, s)->table); k++) {
      if (SECTION (e, s)->inputs[k] == input) {
        read = TRUE;
        works = works || e->works[s];
      }
    }
  }
  return works || !read;
}

/* All current into the net of a if it stood at limit, its inputs drawing as at a low or as at a high. */
static void
add_currents (const OracleEncoding *e, Sum *sum, guint a, double limit, gboolean high)
{
  for (guint r = 0; r < e->record->resistors->len; r++)
    add_resistor_currents (e, sum, a, r, limit);
  for (guint k = 0; k < e->record->sources->len; k++) {
    guint matter = oracle_matter (e, g_array_index (e->record->sources, guint32, k));

    if (e->state->sources[k] == PM_SOURCE_WEAK_HIGH)
      add_current (e, sum, CONN (e, a, matter), (5.0 - limit) / PM_WEAK_OHMS);
    else if (e->state->sources[k] == PM_SOURCE_WEAK_LOW)
      add_current (e, sum, CONN (e, a, matter), (0.0 - limit) / PM_WEAK_OHMS);
  }
  for (guint k = 0; k < e->record->inputs->len; k++) {
    const PmReceiver *receiver = &INPUT (e, k)->receiver;
    Z3_ast there = CONN (e, a, oracle_matter (e, INPUT (e, k)->place));

    if (draws (e, k))
      add_current (e, sum, there, high ? -receiver->iih : receiver->iil);
  }
}

/* The net of a stands at limit or lower (high: at limit or higher). */
static Z3_ast
stands (const OracleEncoding *e, guint a, const OracleHolds *holds, double limit, gboolean high)
{
  Sum sum = { 0, g_ptr_array_new () };
  double highest = 0;
  Z3_ast answer, reach;

  add_currents (e, &sum, a, limit, high);
  if (sum.terms->len == 0) {
    answer = (high ? sum.always >= -1e-13 : sum.always <= 1e-13) ? e->yes : e->no;
  } else {
    Z3_ast total;

    g_ptr_array_add (sum.terms, real (e, sum.always));
    total = Z3_mk_add (e->context, sum.terms->len, (Z3_ast *) sum.terms->pdata);
    answer = high ? Z3_mk_ge (e->context, total, real (e, -1e-12)) : Z3_mk_le (e->context, total, real (e, 1e-12));
  }
  g_ptr_array_unref (sum.terms);
  /* No net stands higher than the highest supply there is. */
  for (guint k = 0; k < e->record->rails->len; k++) {
    if (rail_is_live (e, k))
      highest = MAX (highest, RAIL (e, k)->volts);
  }
  if (high) {
    reach = highest >= limit ? e->yes : 5.0 >= limit ? holds->weak_high : e->no;
    return oracle_both (e, answer, reach);
  }
  reach = highest > limit ? e->yes : 5.0 > limit ? holds->weak_high : e->no;
  return oracle_either (e, answer, oracle_opposite (e, reach));
}

OracleForced
oracle_forced (const OracleEncoding *e, guint a, const OracleHolds *holds, double vil, double vih)
{
  Z3_ast nothing = oracle_opposite (e, oracle_either (e, holds->low, holds->high));
  Z3_ast resistors = oracle_resistors (e, holds);
  OracleForced forced;

  forced.low = oracle_both (e, holds->low, oracle_opposite (e, holds->high));
  forced.high = oracle_both (e, holds->high, oracle_opposite (e, holds->low));
  forced.low = oracle_either (e, forced.low, oracle_both (e, nothing, holds->clamped));
  if (resistors != e->no) {
    Z3_ast low = stands (e, a, holds, vil, FALSE), high = stands (e, a, holds, vih, TRUE);

    forced.low = oracle_either (e, forced.low, oracle_both (e, resistors, low));
    high = oracle_both (e, high, oracle_opposite (e, low));
    forced.high = oracle_either (e, forced.high, oracle_both (e, resistors, high));
  }
  return forced;
}

/* The input reads what its net makes it read, if that makes it. */
Z3_ast
oracle_input_obeys (const OracleEncoding *e, guint input)
{
  guint a = oracle_matter (e, INPUT (e, input)->place);
  const PmReceiver *receiver = &INPUT (e, input)->receiver;
  OracleHolds holds = oracle_holds (e, a);
  OracleForced forced = oracle_forced (e, a, &holds, receiver->vil, receiver->vih);
  Z3_ast read = e->reads[input];

  return oracle_both (e, oracle_either (e, oracle_opposite (e, forced.low), oracle_opposite (e, read)),
                      oracle_either (e, oracle_opposite (e, forced.high), read));
}

/* ---- all of it ---- */

static void
make_variables (OracleEncoding *e)
{
  const OracleRecord *record = e->record;

  e->yes = Z3_mk_true (e->context);
  e->no = Z3_mk_false (e->context);
  e->reads = g_new0 (Z3_ast, record->inputs->len + 1);
  e->joints = g_new0 (Z3_ast, record->joints->len + 1);
  e->sources = g_new0 (Z3_ast, record->sources->len + 1);
  e->bits = g_new0 (Z3_ast, record->n_bits + 1);
  for (guint k = 0; k < record->inputs->len; k++)
    e->reads[k] = variable (e, "read", k);
  for (guint k = 0; k < record->joints->len; k++)
    e->joints[k] = variable (e, "joint", k);
  for (guint k = 0; k < record->sources->len; k++)
    e->sources[k] = variable (e, "source", k);
  for (guint k = 0; k < record->n_bits; k++)
    e->bits[k] = variable (e, "bit", k);
}

void
oracle_encode_in (OracleEncoding *e, Z3_context context, const OracleRecord *record, const PmCase *state)
{
  memset (e, 0, sizeof *e);
  e->record = record;
  e->state = state;
  e->context = context;
  make_variables (e);
  make_matters (e);
  make_sections (e);
  make_connections (e);
}

void
oracle_encode (OracleEncoding *e, const OracleRecord *record, const PmCase *state)
{
  Z3_config config = Z3_mk_config ();
  Z3_context context = Z3_mk_context (config);

  Z3_del_config (config);
  oracle_encode_in (e, context, record, state);
}

void
oracle_encoding_leave (OracleEncoding *e)
{
  for (guint s = 0; s < e->record->sections->len; s++)
    g_free (e->essential[s]);
  g_free (e->essential);
  g_free (e->works);
  g_free (e->conn);
  g_free (e->may_conn);
  g_free (e->matter);
  g_free (e->matter_number);
  g_free (e->reads);
  g_free (e->joints);
  g_free (e->sources);
  g_free (e->bits);
}

void
oracle_encoding_clear (OracleEncoding *e)
{
  oracle_encoding_leave (e);
  Z3_del_context (e->context);
}
