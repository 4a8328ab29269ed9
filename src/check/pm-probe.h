/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands at every pin in one case and one host state: what the diagram's flags show.
 *
 * The board is translated once; a change of case or state binds it anew and asks each net when it is first looked at,
 * some microseconds a net.  Not thread-safe; one probe per viewer.
 */
#pragma once
#include "pm-check.h"

G_BEGIN_DECLS

typedef enum {
  PM_FLAG_LOW,            /* 0 in every world */
  PM_FLAG_HIGH,           /* 1 in every world */
  PM_FLAG_OFF,            /* nothing holds it, or resistors leave it in between */
  PM_FLAG_EITHER,         /* 0 in some worlds, 1 in others, or not decided */
  PM_FLAG_CLASH,          /* two outputs fight in some world */
  PM_N_FLAGS
} PmFlag;

typedef struct _PmProbe PmProbe;

/* check must outlive the probe. */
PmProbe    *pm_probe_new        (const PmCheck *check);
void        pm_probe_free       (PmProbe *probe);
/* What the machine can turn on: state 0 is nothing, unless the host always keeps one on; then each unit, then pairs. */
guint       pm_probe_n_states   (const PmProbe *probe);
/* "nothing", "SEL0", "SEL0 and SEL1".  Borrowed. */
const char *pm_probe_state_name (const PmProbe *probe, guint state);
/* TRUE where it is one of nothing and single units, FALSE for pairs ("more…"). */
gboolean    pm_probe_state_is_plain (const PmProbe *probe, guint state);
/* case_index: any case of the check. */
void        pm_probe_set        (PmProbe *probe, guint case_index, guint state);
/* Side lines that the host drives (motor ...) are at rest while nothing is on and asserted while a unit is. */
PmFlag      pm_probe_flag       (PmProbe *probe, guint32 place);
/* Whether a drive's lamp is on: 1, 0, or -1 = not certain. */
int         pm_probe_answers    (PmProbe *probe, guint drive);
/* "0", "1", "–", "?", "✗"; in words: "low", "high", "off: nothing holds it", "low or high", .... */
const char *pm_flag_mark        (PmFlag flag);
const char *pm_flag_words       (PmFlag flag);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmProbe, pm_probe_free)
G_END_DECLS
