/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verdict: the first sentence that applies, what was tried, what was not. Fills the verdict fields of a PmCheck. */
#pragma once
#include "pm-check.h"
#include "pm-raw.h"

G_BEGIN_DECLS
void pm_verdict_say (PmCheck *check, const PmTrial *trial);
G_END_DECLS
