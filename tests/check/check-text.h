/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a check found, as text that does not change with the wording of sentences: for expected files. */
#pragma once
#include "pm-check.h"

/* Loads a board; stops the test with the messages if it cannot be read. */
PmBoard *check_text_load (const char *path, PmLibrary *library);
/* Cells, marks and side lines of each case, findings, verdict, exit codes. g_free. */
char    *check_text_of   (const PmCheck *check);
