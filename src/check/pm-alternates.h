/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Other chips for a place: every family and every chip with the same pins is put in and the board checked again. */
#pragma once
#include "pm-check.h"

G_BEGIN_DECLS

typedef enum {
  PM_ALTERNATE_AS_GOOD,
  PM_ALTERNATE_BETTER,       /* something that was found is gone */
  PM_ALTERNATE_WORSE,
  PM_ALTERNATE_NOT_KNOWN,    /* more than can be decided */
  PM_N_ALTERNATES
} PmAlternateVerdict;

typedef struct {
  guint              instance;  /* of the board: the place */
  char              *type;      /* "74HCT157" */
  gboolean           other_function;  /* not the function that stands there, with the same pins */
  gboolean           family_matters;  /* that function is as good in another family */
  PmAlternateVerdict verdict;
  char              *why;       /* WORSE, BETTER: "two drives answer SEL0 in outside"; else NULL */
} PmAlternate;

/* GArray of PmAlternate, which clears its elements; by place, function and family. A function that does not do even in
 * the family of the chip that stands there is told once; with a board that is not ready other functions are not tried.
 * Some milliseconds each, up to a budget, beyond which nothing is known; cancellable may be NULL, and what was
 * done by then is returned. */
GArray     *pm_alternates_find  (const PmCheck *check, GCancellable *cancellable);
/* "as good", "worse", translated. */
const char *pm_alternate_words  (PmAlternateVerdict verdict);
G_END_DECLS
