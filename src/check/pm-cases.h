/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cases of a board: without it, every setting, and one thing different at a time.
 *
 * A case has one or more bindings: states of joints, rails and sections of the same circuit.  Only a lever on its way
 * has several (each pole old, open or new; or old, both or new).  Sources are left to the survey, which knows the host
 * states.
 */
#pragma once
#include "pm-check.h"
#include "pm-translate.h"

G_BEGIN_DECLS

#define PM_CASES_MAX_SETTINGS 1024

typedef struct {
  PmCaseKind kind;
  char      *name, *title;
  char      *phrase;         /* variations, in a sentence: "with S1 unplugged", "while S1 moves"; else NULL */
  int       *positions;      /* [n_switches]; -1 = lead off */
  guint      setting;        /* index of the setting it belongs to */
  guint32    sw, mating, supply; /* what is different; PM_NONE */
  guint      position;       /* MOVING and ONCE: the other position */
  GPtrArray *bindings;       /* PmCase */
  gboolean   host_off, reset;
  gboolean   baseline;       /* without the board in a variation: only to compare with, not shown */
} PmCaseSpec;

typedef struct {
  GPtrArray *specs;          /* PmCaseSpec: without the board, settings, variations, once */
  guint      n_settings, usual;
  gboolean   too_many;       /* more settings than PM_CASES_MAX_SETTINGS: the rest was left out */
} PmCases;

/* Which cases are made beside without the board and the settings: a mask of bits by PmCaseKind. A tried repair needs
 * few. */
#define PM_CASES_OF(kind) (1u << (kind))
#define PM_CASES_ALL G_MAXUINT
#define PM_CASES_SETTINGS 0u
PmCases    *pm_cases_new      (const PmTranslation *translation, guint which);
/* One case alone: places of all switches, of which a set-once one is not in its usual place. */
PmCases    *pm_cases_once     (const PmTranslation *translation, const int *positions, guint setting);
void        pm_cases_free     (PmCases *cases);
/* TRUE for switches whose every position is a setting: by hand, or any. */
gboolean    pm_switch_is_by_hand (const PmSwitch *sw);
const char *pm_position_title (const PmSwitch *sw, int position);
/* The without-the-board case in the same variation, or NULL. */
const PmCaseSpec *pm_cases_baseline (const PmCases *cases, const PmCaseSpec *spec);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmCases, pm_cases_free)
G_END_DECLS
