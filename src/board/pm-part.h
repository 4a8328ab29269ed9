/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts and families: what a library file says of one kind of thing. Plain structs, filled by the library, read-only
 * afterwards. */
#pragma once
#include "pm-circuit.h"
#include "pm-quantity.h"
#include "pm-fault.h"

G_BEGIN_DECLS

/* One family file.  Volts and amperes; currents positive. NAN = not given by the source. */
typedef struct {
  const char *name;              /* "LS" */
  char       *title;             /* "low-power Schottky TTL" */
  PmReceiver  receiver;          /* VIL, VIH, IIL, IIH, open inputs */
  double      vol, voh;          /* guaranteed, volts */
  double      iol, ioh;          /* at those, amperes */
  double      supply_low, supply_high;
  PmUnpowered unpowered;
  gboolean    bipolar;           /* open inputs read high */
  char       *source;            /* where the figures come from; "assumed" where from memory */
  PmSpot      spot;
} PmFamily;

typedef enum {
  PM_PIN_PASSIVE,
  PM_PIN_INPUT,
  PM_PIN_OUTPUT,
  PM_PIN_SUPPLY,
  PM_PIN_GROUND,
  PM_PIN_CONTACT,
  PM_PIN_NONE
} PmPinRole;

typedef struct {
  char      *number;             /* as printed on the package: "1", "A3" */
  char      *name;               /* "1A", "/CLR"; same as number where it has none */
  PmPinRole  role;
  guint      loads;              /* input loads of the family, usually 1 (S of an LS157: 2) */
} PmPin;

/* One table applied to pins. Column k of the table is pin/bit inputs[k]: < n_pins a pin index, else PM_BIT (bit). */
typedef struct {
  char      *name;               /* "1", "2"; "" where the part is one section */
  PmTable   *table;
  guint32   *inputs;
  guint32   *outputs;            /* pin index, or bit number for bit columns, or pin P for join columns */
  guint32   *others;             /* pin Q for join columns, else PM_NONE */
} PmSection;

typedef enum {
  PM_PART_LOGIC,
  PM_PART_RESISTOR,
  PM_PART_NETWORK,
  PM_PART_CAPACITOR,
  PM_PART_DIODE,
  PM_PART_LED,
  PM_PART_CONNECTOR,
  PM_PART_SOCKET,
  PM_PART_PINS,
  PM_PART_SWITCH,
  PM_PART_JUMPER,
  PM_PART_CHIP /* pins only, e.g. a port chip */,
  PM_PART_CABLE,
  PM_PART_DRIVE,
  PM_N_PART_KINDS
} PmPartType;

typedef struct { guint32 a, b; } PmPair;                /* pin indices */
typedef struct { char *name; char *title; PmPair *pairs; guint n_pairs; } PmPartPosition;
/* What a switch looks like, for drawing. */
typedef enum { PM_LOOK_TOGGLE, PM_LOOK_SLIDE, PM_LOOK_ROTARY, PM_LOOK_JUMPER } PmLook;

typedef struct {
  const char *name;              /* the function: "74157", "resistor", "header 1x3" (with its size) */
  char       *title;             /* "four two-way selectors" */
  char       *letters;           /* reference letters: "U" */
  char       *package;           /* "DIP-16" */
  PmPartType  type;
  PmPin      *pins;      guint n_pins;
  char      **bits;              /* NULL-terminated names of stored bits, or NULL */
  PmSection  *sections;  guint n_sections;
  PmPartPosition *positions; guint n_positions;  /* switches: the places a lever has, and what each joins */
  PmPair     *resistors; guint n_resistors;      /* resistor and network: between which pins */
  PmLook      look;              /* switches */
  char       *contacts;          /* "break-first", "make-first" or NULL = not known */
  gboolean    keyed;             /* connectors: cannot be turned */
  guint       rows;              /* connectors: 1 or 2; 0 where it has no meaning */
  char       *source;            /* data sheet, standard, or "common practice, no source" */
  char       *note;              /* what else one should know, or NULL */
  char *sizes; /* parts of many sizes: what follows the name: "-8 -14 -16", "rows x places, at most 2x40"; else NULL */
  char      **families;          /* NULL-terminated: families it exists in, or NULL = any */
  PmSpot      spot;
} PmPart;

/* Pin index by name or number; PM_NONE if there is none. */
guint32 pm_part_pin (const PmPart *part, const char *name);
G_END_DECLS
