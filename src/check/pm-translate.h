/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a board to its circuit: the one place where names become integers.
 *
 * Circuit places 0 .. board->n_places-1 are the board's own places; a centre for each join and a lamp for each drive
 * follow. Made once per board, or once per tried repair (a board with edits); every case is bound to it afterwards.
 */
#pragma once
#include "pm-board.h"
#include "pm-worlds.h"

G_BEGIN_DECLS

/* A change that a repair tries. Places and indices are the board's. */
typedef enum {
  PM_EDIT_JOIN,           /* join places a and b */
  PM_EDIT_CUT,            /* take place a out of join b (a solder joint left open, a track cut, a through pin cut) */
  PM_EDIT_EXCHANGE,       /* what is soldered to a goes to b and the other way round */
  PM_EDIT_PULL,           /* c ohms from a to rail b */
  PM_EDIT_FAMILY,         /* instance a becomes family (b unused) */
  PM_EDIT_POSITION,       /* set-once switch a into position b */
  PM_EDIT_SWAP_POSITIONS, /* positions b and c of switch a close what the other did */
  PM_EDIT_CROSS,          /* mating a: its pairs b .. c turned end for end */
  PM_EDIT_VALUE,          /* resistor a has c ohms */
  PM_EDIT_UNMATE,         /* mating a: its pair b is left open */
  PM_EDIT_SENSE,          /* host line a is on at the other level */
  PM_N_EDITS
} PmEditKind;
typedef struct { PmEditKind kind; guint32 a, b, c, d; const PmFamily *family; } PmEdit;

/* What a joint of the circuit is. */
typedef enum {
  PM_JOINT_OF_JOIN,
  PM_JOINT_OF_MATING,
  PM_JOINT_OF_TURNED,
  PM_JOINT_OF_CONTACT,
  PM_JOINT_OF_RAIL,
  PM_JOINT_OF_PART,
  PM_JOINT_OF_EDIT
} PmJointOf;
typedef struct { PmJointOf of; guint32 index, place; } PmJointInfo;   /* join, mating, switch, rail, instance */

typedef struct { guint32 drive, gives, source; guint32 place; } PmGivesInfo;

typedef struct {
  const PmBoard *board;
  PmCircuit     *circuit;
  const PmEdit  *edits; guint n_edits;
  GArray        *joints;          /* PmJointInfo per joint of the circuit */
  guint32       *input_of;        /* [n_places] input reading a place, or PM_NONE */
  GArray        *input_place;     /* guint32: place per input */
  guint32       *join_joint;      /* [n_joins] first joint; n_places joints (1 for through and cut) */
  guint32       *mating_joint;    /* [n_matings] first joint; n_pairs, then n_turned */
  GArray       **contacts;        /* [n_switches] PmPair of joints' places, and ... */
  guint32       *contact_joint;   /* [n_switches] first joint of its contacts */
  guint32       *rail_of;         /* [n_rails] circuit rail */
  guint32       *line_source;     /* [n_lines] source at the line's pin, or PM_NONE */
  guint32
      *line_state; /* [n_lines] open-collector and weak lines: the source whose level the line follows; else PM_NONE */
  guint32       *lamp;            /* [n_drives] place that is high while the drive answers */
  guint32       *lamp_section;    /* [n_drives] */
  GArray        *gives;           /* PmGivesInfo */
  GArray        *section_instance;/* guint32 per section: instance; for a drive's own sections its instance */
  GArray        *bit_instance;    /* guint32 per stored bit */
  GArray        *driver_places;   /* guint32: places that a section or line drives */
  guint32
      *capacitor_source; /* [n_instances] source at a capacitor's first pin, the second pin's is the next; PM_NONE */
} PmTranslation;

PmTranslation *pm_translate          (const PmBoard *board, const PmEdit *edits, guint n_edits);
void           pm_translation_free   (PmTranslation *translation);
/* Which contacts of a switch a position closes, as a bit mask over contacts[sw]; with edits applied. */
guint64        pm_translation_closed (const PmTranslation *t, guint sw, guint position);
/* Position a switch stands in by the file and edits. */
guint          pm_translation_usual  (const PmTranslation *t, guint sw);
/* TRUE if an edit turns the sense of a line of the host. */
gboolean       pm_translation_turned (const PmTranslation *t, guint line);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmTranslation, pm_translation_free)
G_END_DECLS
