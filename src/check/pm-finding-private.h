/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sentences of a finding, one function a row. For pm-finding*.c only. All strings but names are new: g_free. */
#pragma once
#include "pm-finding.h"

G_BEGIN_DECLS
/* Names; "a select", "nothing" for -1. Borrowed. */
const char *pm_tell_unit    (const PmTrial *trial, int unit);
const char *pm_tell_drive   (const PmTrial *trial, int drive);
char       *pm_tell_place   (const PmTrial *trial, guint32 place);
char       *pm_tell_when    (const PmTrial *trial, const GArray *raws);
char       *pm_tell_what    (const PmTrial *trial, const PmRaw *raw);
/* spot is set to the line that the cause stands in; NULL where no cause is known. */
char       *pm_tell_because (const PmTrial *trial, const PmCause *cause, const PmRaw *raw, PmSpot *spot);
char       *pm_tell_to_do   (const PmTrial *trial, const PmCause *cause, const PmRaw *raw);
char       *pm_tell_measure (const PmTrial *trial, const PmCause *cause, const PmRaw *raw);
/* The drive of the finding whose lamp is on exactly while one select is off. FALSE if there is none. */
gboolean    pm_tell_turned_sense (const PmTrial *trial, const PmRaw *raw, guint *unit, guint *drive);
G_END_DECLS
