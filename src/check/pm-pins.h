/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pins of the socket and plug that a board sits between: what becomes of each, and what meets what when the board
 * is put in turned round or was built mirrored.
 *
 * The fate of a pin follows from the file alone: a pin that is not cut and to which the board joins nothing goes
 * straight through; one that the board joins something to is tapped; a cut pin of which a side is joined to something
 * is re-routed, else it is cut.  A pin that goes straight through and that neither the machine nor a drive uses is not
 * used.
 *
 * Places of pins are those of the published packages: pitch 2.54 mm; rows of dual in-line packages 7.62 mm apart up to
 * 20 pins, 10.16 mm with 22, 15.24 mm from 24 on (JEDEC MS-001, MS-010, MS-011; narrow ones of 24 and 28 pins exist
 * too), numbered counter-clockwise from the notch; two-row connectors have odd pins in one row and even ones in the
 * other.
 */
#pragma once
#include "pm-check.h"

G_BEGIN_DECLS

typedef enum { PM_PIN_THROUGH, PM_PIN_CUT, PM_PIN_REROUTED, PM_PIN_TAPPED, PM_PIN_UNUSED, PM_N_PIN_FATES } PmPinFate;

typedef struct {
  char     *number;
  char     *line;              /* "SEL0", "+5V"; or NULL */
  gboolean  used;              /* by the machine or a drive */
  PmPinFate fate;
  guint32   chip, machine;     /* places of the two sides (X1.11, P1.11) */
  char     *chip_to, *machine_to;  /* what the board joins to each: "U1.1A, U1.2B"; or NULL */
  char    **goes;              /* [n_settings] where it goes in each: "straight through", "Inside", "nowhere" */
  char     *neighbours;        /* "10 (not used), 12 (SEL1)" */
  char     *open_to;           /* what it must read open to: "10, 12, from X1.11 to P1.11"; or NULL */
  char     *turned;            /* what it meets when the board is turned by 180 degrees; NULL where it cannot be */
  char     *mirrored;          /* the same for the solder side taken for the top; or NULL */
  double    x, y;              /* centre in millimetres, from above, notch or pin 1 up; pin 1 is near 0,0 */
  int       side;              /* of the picture where its words stand: -1 left, 1 right */
} PmPinFact;

typedef struct {
  const PmCheck *check;
  PmPinFact *pins; guint n_pins;   /* in order of number */
  double     width, height;        /* of the field of pins, from centre to centre, millimetres */
  gboolean   dual_in_line;         /* has a notch */
  gboolean   keyed;                /* cannot be put in turned round */
  char     **warnings;             /* turned, then mirrored, the worst first; NULL-terminated */
} PmPins;

/* NULL if the board sits nowhere.  check must outlive it. */
PmPins     *pm_pins_new       (const PmCheck *check);
void        pm_pins_free      (PmPins *pins);
/* Translated: "straight through", "cut", "re-routed", "tapped", "not used".  Borrowed. */
const char *pm_pin_fate_words (PmPinFate fate);
/* Where it goes in a case; case 0: in all settings, "Inside / Outside".  g_free. */
char       *pm_pins_goes      (const PmPins *pins, guint pin, guint case_index);
/* Everything of a pin in one paragraph.  Where it goes is told for every setting while they are few, else for that of
 * the case.  g_free. */
char       *pm_pins_sentence  (const PmPins *pins, guint pin, guint case_index);
/* Index of the pin that lies where this one would with the board turned by 180 degrees or mirrored; PM_NONE. */
guint       pm_pins_turned    (const PmPins *pins, guint pin);
guint       pm_pins_mirrored  (const PmPins *pins, guint pin);
/* Whether two pins are so close that solder may bridge them. */
gboolean    pm_pins_adjoin    (const PmPins *pins, guint a, guint b);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmPins, pm_pins_free)
G_END_DECLS
