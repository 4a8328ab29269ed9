/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of the part library share: reading one part from the data folder that POINTSMAN_DATA names. */
#pragma once
#include "pm-library.h"

/* A part and its family (NULL if it has none), which must be there with no fault. They live until parts_test_end. */
const PmPart   *parts_test_part   (const char *is, const PmFamily **family);
const PmFamily *parts_test_family (const char *name);
/* is must be refused; returns the first message, free with g_free. */
char           *parts_test_refused (const char *is);
/* The library itself, for lists of names. */
PmLibrary      *parts_test_library (void);
/* A pin that must be there. */
guint32         parts_test_pin    (const PmPart *part, const char *name);
/* pattern with every # replaced by the section; free with g_free. */
char           *parts_test_named  (const char *pattern, char section);
/* The one section and column that drives pin a, or joins it with b (PM_NONE: drives); which of two joined pins is named
 * first is all one. */
const PmSection *parts_test_section (const PmPart *part, guint32 a, guint32 b, guint *column);
/* The reading of a section for levels given by pin (bit k: pins[k] is high); every input must be among the pins. */
guint32         parts_test_reading (const PmSection *section, const guint32 *pins, guint n_pins, guint32 levels);
/* The output by rows and by the decision tree, which must be the same. */
PmOut           parts_test_eval   (const PmSection *section, guint column, guint32 reading);
/* Runs the tests and frees the library. */
int             parts_test_run    (void);
