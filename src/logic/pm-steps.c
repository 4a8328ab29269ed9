/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps of stored bits. */
#include "pm-steps.h"
#include "pm-bound-private.h"

gboolean
pm_step (PmBound *bound, const PmCase *old_case, PmState from, const PmCase *new_case, GArray *out, gboolean *race, gboolean *restless)
{
  return FALSE;
}

gboolean
pm_rest (PmBound *bound, const PmCase *state, PmState from, GArray *out, gboolean *restless)
{
  return FALSE;
}
