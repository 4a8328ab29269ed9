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
/* Runs the tests and frees the library. */
int             parts_test_run    (void);
