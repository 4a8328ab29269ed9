/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An outside judge of worlds: the rule of pm-worlds.h put to libz3.
 *
 * What was added to a circuit is recorded while it is built, by wrapping pm_circuit_add_* at link time (meson.build
 * here), so a circuit made anywhere in the program (a random board here, a translated board of the check layer) can be
 * judged.  The formula is made from this record and from the rows of tables as printed; it uses neither the circuit's
 * own arrays, nor its binding, nor the compiled trees.
 */
#pragma once
#include "pm-worlds.h"

G_BEGIN_DECLS

/* ---- the record ---- */

/* section, column: whose join column closes it, or PM_NONE. */
typedef struct { guint32 a, b, section, column; } OracleJoint;
typedef struct { guint32 place; PmReceiver receiver; } OracleInput;
typedef struct { guint32 a, b; double ohms; } OracleResistor;
typedef struct { guint32 place; double volts; } OracleRail;
/* Arrays by column, as given to pm_circuit_add_section. */
typedef struct {
  PmTable    *table;
  guint32    *inputs, *outputs, *others, supply, ground;
  PmUnpowered unpowered;
} OracleSection;

typedef struct {
  guint32 n_places, n_bits;
  GArray *joints, *inputs, *resistors, *rails, *sources /* guint32 places */, *sections;
} OracleRecord;
/* Borrowed; valid as long as the circuit. */
const OracleRecord *oracle_record_of (const PmCircuit *circuit);
/* The circuit in its case, a line for each thing, to find out by hand who is right. */
void                oracle_describe  (const OracleRecord *record, const PmCase *state, GString *text);

/* ---- the judge ---- */

/* Groups with more pins, and questions with more answers, are not put to the solver. */
#define ORACLE_MAX_GROUP 10
#define ORACLE_MAX_ANSWERS 1024

typedef struct {
  gboolean   too_large; /* and nothing else is told */
  GPtrArray *answers;   /* GBytes of n_asks bytes, every tuple that some world gives */
  GPtrArray *restless;  /* GBytes, the tuples that a world gives in which some group never settles */
} OracleAnswers;
OracleAnswers *oracle_ask          (const OracleRecord *record, const PmCase *state, const PmAsk *asks, guint32 n_asks);
void           oracle_answers_free (OracleAnswers *answers);

typedef enum { ORACLE_SAME, ORACLE_NOT_DECIDED, ORACLE_TOO_LARGE, ORACLE_DIFFERENT, ORACLE_N_VERDICTS } OracleVerdict;
/* Puts one question to pm_worlds_each and to the solver.  difference: what differs, for a person.
 * *n_answers and *n_restless (NULL if not wanted) are added to. */
OracleVerdict  oracle_compare      (const PmCircuit *circuit, const PmCase *state, const PmAsk *asks, guint32 n_asks,
                                    GString *difference, guint *n_answers, guint *n_restless);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OracleAnswers, oracle_answers_free)
G_END_DECLS
