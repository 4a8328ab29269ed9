/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sentence of pm-worlds.h as a formula.
 *
 * A MATTER is places that closed joints make one.  For two matters, conn[a][b] is the formula under which dynamic
 * joints (unknown ones and those that sections control) connect them: paths of one joint, then of at most two, four and
 * so on.  A net is then never named: "the net of a is driven low" is "some matter b with conn[a][b] is".  Divider and
 * limits are a sum of currents against nothing: at the limit T, (V - T) / R of all resistors and what the inputs draw.
 *
 * Formulas that are simply true or false are the objects yes and no: most of a board is, and the solver never sees
 * it. */
#pragma once
#include "oracle.h"
#include <z3.h>

G_BEGIN_DECLS

typedef struct {
  const OracleRecord *record;
  const PmCase       *state;
  Z3_context          context;
  Z3_ast              yes, no;
  Z3_ast             *reads, *joints, *sources, *bits; /* variables, by number */
  guint32            *matter;                          /* [n_places] lowest place */
  guint32             n_matters, *matter_number;       /* [n_places] 0, 1, ... of lowest places */
  Z3_ast             *conn;                            /* [n_matters * n_matters] */
  guint8             *may_conn;                        /* the same, dynamic joints taken as closed */
  guint8             *works;                           /* [n_sections] there and with power */
  guint32           **essential;                       /* [n_sections][n_outputs] inputs that a column hangs on */
} OracleEncoding;

#define JOINT(e, k) (&g_array_index ((e)->record->joints, OracleJoint, k))
#define INPUT(e, k) (&g_array_index ((e)->record->inputs, OracleInput, k))
#define RESISTOR(e, k) (&g_array_index ((e)->record->resistors, OracleResistor, k))
#define RAIL(e, k) (&g_array_index ((e)->record->rails, OracleRail, k))
#define SECTION(e, k) (&g_array_index ((e)->record->sections, OracleSection, k))
#define CONN(e, a, b) ((e)->conn[(a) * (e)->n_matters + (b)])
#define MAY_CONN(e, a, b) ((e)->may_conn[(a) * (e)->n_matters + (b)])

/* What holds the net of a matter; pulled: some resistor to a rail does. */
typedef struct {
  Z3_ast low, high, clamped, pulled, weak_high;
} OracleHolds;

/* A receiver must read 0, must read 1. */
typedef struct {
  Z3_ast low, high;
} OracleForced;

Z3_ast       oracle_both            (const OracleEncoding *e, Z3_ast a, Z3_ast b);
Z3_ast       oracle_either          (const OracleEncoding *e, Z3_ast a, Z3_ast b);
Z3_ast       oracle_opposite        (const OracleEncoding *e, Z3_ast a);

void         oracle_encode          (OracleEncoding *e, const OracleRecord *record, const PmCase *state);
void         oracle_encoding_clear  (OracleEncoding *e);
/* The same in a context of the caller's, which lives on, and with it context, yes and no. */
void         oracle_encode_in       (OracleEncoding *e, Z3_context context, const OracleRecord *record,
                                     const PmCase *state);
void         oracle_encoding_leave  (OracleEncoding *e);
guint32      oracle_matter          (const OracleEncoding *e, guint32 place);
/* When a joint is closed, and whether that is an open question. */
Z3_ast       oracle_closed          (const OracleEncoding *e, guint joint);
gboolean     oracle_is_dynamic      (const OracleEncoding *e, guint joint);
OracleHolds  oracle_holds           (const OracleEncoding *e, guint a);
/* The net is left to its resistors. */
Z3_ast       oracle_resistors       (const OracleEncoding *e, const OracleHolds *holds);
/* What a receiver of these limits at the net of a must read. */
OracleForced oracle_forced          (const OracleEncoding *e, guint a, const OracleHolds *holds, double vil,
                                     double vih);
Z3_ast       oracle_input_obeys     (const OracleEncoding *e, guint input);

/* A question as formulas in a context that lives longer: to be put to a solver more than once. */
typedef struct {
  OracleEncoding e; /* left: only context, yes and no */
  Z3_ast         worlds, *digits;
  guint32        n_asks;
} OracleQuestion;
/* NULL if a group is too large. */
OracleQuestion *oracle_question_new     (Z3_context context, const OracleRecord *record, const PmCase *state,
                                         const PmAsk *asks, guint32 n_asks);
void            oracle_question_free    (OracleQuestion *question);
/* Between push and pop. Of GBytes, as OracleAnswers has them; NULL if there are too many. */
GPtrArray      *oracle_question_answers (const OracleQuestion *question, Z3_solver solver);
G_END_DECLS
