/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A circuit of integers: places, the joints between them, and what drives them.
 *
 * A PLACE is one piece of metal.  A JOINT joins two places and is open, closed, unknown, or controlled by an output
 * column of a section.  An INPUT is a pin that reads its place as 0 or 1.  A SECTION is one table with inputs and
 * outputs. A SOURCE drives a place with a value that the case gives.  A RAIL is a supply at a place, on or off. A BIT
 * is stored.  All are numbered from 0 in the order of adding.  A circuit is built once and then only read; a PmCase
 * says what state things are in, and a PmBound (pm-worlds.h) is a circuit with a case bound to it.
 *
 * Units: volts, ohms, amperes.  Nothing here knows names: the layers above keep them.
 */
#pragma once
#include "pm-table.h"

G_BEGIN_DECLS

#define PM_NONE G_MAXUINT32

typedef enum { PM_JOINT_OPEN, PM_JOINT_CLOSED, PM_JOINT_UNKNOWN, PM_JOINT_CONTROLLED } PmJointState;

/* How an input reads a net that no driver holds (volts), and what it draws.
 * open_high: an open input of this family reads high (bipolar).  iil flows out of the pin at a low, iih into it at a
 * high. */
typedef struct { double vil, vih, iil, iih; gboolean open_high; } PmReceiver;

/* What an output does when its section has no power. */
typedef enum { PM_UNPOWERED_OFF, PM_UNPOWERED_CLAMPS } PmUnpowered;

/* Values of a source. FREE = either 0 or 1, a named choice. WEAK_HIGH = a high stronger than nothing,
 * weaker than a driver: a resistor of PM_WEAK_OHMS to a live 5 V. CLAMP = low, stronger than resistors, weaker than
 * drivers. */
typedef enum {
  PM_SOURCE_OFF,
  PM_SOURCE_LOW,
  PM_SOURCE_HIGH,
  PM_SOURCE_FREE,
  PM_SOURCE_WEAK_HIGH,
  PM_SOURCE_WEAK_LOW,
  PM_SOURCE_CLAMP
} PmSourceValue;
#define PM_WEAK_OHMS 10e3

typedef struct _PmCircuit PmCircuit;

PmCircuit *pm_circuit_new          (void);
void       pm_circuit_free         (PmCircuit *circuit);
guint32    pm_circuit_add_place    (PmCircuit *circuit);
void       pm_circuit_add_places   (PmCircuit *circuit, guint32 n);
/* usual is OPEN, CLOSED or UNKNOWN; controlled joints come from sections. */
guint32    pm_circuit_add_joint    (PmCircuit *circuit, guint32 a, guint32 b, PmJointState usual);
guint32    pm_circuit_add_input    (PmCircuit *circuit, guint32 place, const PmReceiver *receiver);
guint32    pm_circuit_add_resistor (PmCircuit *circuit, guint32 a, guint32 b, double ohms);
/* volts 0 is a ground: never off. */
guint32    pm_circuit_add_rail     (PmCircuit *circuit, guint32 place, double volts);
guint32    pm_circuit_add_source   (PmCircuit *circuit, guint32 place, PmSourceValue usual);
guint32    pm_circuit_add_bit      (PmCircuit *circuit);

/* inputs: for each input column an input number, or PM_BIT (b) for a stored bit.
 * outputs: for each output column, a place (pin columns) or a bit number (bit columns); for join columns the place of
 * P, and others[] the place of Q (others may be NULL if there is no join column).  Returns the section; each join
 * column makes one controlled joint, numbered in order: the first is in *first_joint if that is not NULL. supply,
 * ground: places that must be in a net with a live rail and a 0 V rail, or PM_NONE for always powered. */
#define PM_BIT(b) ((guint32) (0x80000000u | (b)))
#define PM_IS_BIT(i) (((i) & 0x80000000u) != 0 && (i) != PM_NONE)
#define PM_BIT_OF(i) ((i) & 0x7fffffffu)
guint32    pm_circuit_add_section  (PmCircuit *circuit, PmTable *table, const guint32 *inputs, const guint32 *outputs,
                                    const guint32 *others, guint32 supply, guint32 ground, PmUnpowered unpowered,
                                    guint32 *first_joint);
/* Ends building; circuits are read-only afterwards. */
void       pm_circuit_seal         (PmCircuit *circuit);

guint32    pm_circuit_n_places     (const PmCircuit *circuit);
guint32    pm_circuit_n_joints     (const PmCircuit *circuit);
guint32    pm_circuit_n_inputs     (const PmCircuit *circuit);
guint32    pm_circuit_n_sources    (const PmCircuit *circuit);
guint32    pm_circuit_n_rails      (const PmCircuit *circuit);
guint32    pm_circuit_n_bits       (const PmCircuit *circuit);
guint32    pm_circuit_n_sections   (const PmCircuit *circuit);
void       pm_circuit_joint_ends   (const PmCircuit *circuit, guint32 joint, guint32 *a, guint32 *b);
guint32    pm_circuit_input_place  (const PmCircuit *circuit, guint32 input);

/* A case: arrays the size of the circuit, filled with the usual states by pm_case_new.  The caller writes into them. */
typedef struct {
  guint8 *joints;     /* PmJointState, [n_joints]; CONTROLLED ones may be set OPEN or CLOSED to force them */
  guint8 *sources;    /* PmSourceValue, [n_sources] */
  guint8 *rails;      /* TRUE = on, [n_rails] */
  guint8 *sections;   /* TRUE = there, FALSE = left out (removed), [n_sections] */
  guint8 *bits;       /* 0, 1 or 2 = unknown (a named choice), [n_bits] */
  guint32 n_joints, n_sources, n_rails, n_sections, n_bits;
} PmCase;
PmCase    *pm_case_new             (const PmCircuit *circuit);
PmCase    *pm_case_copy            (const PmCase *from);
void       pm_case_free            (PmCase *state);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmCircuit, pm_circuit_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmCase, pm_case_free)
G_END_DECLS
