/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plain text of what was found: for the command line, for copying, for the text twin of a page. All strings are new:
 * g_free. */
#pragma once
#include "pm-check.h"

G_BEGIN_DECLS
/* "STOP", "CARE", "note", translated. */
const char *pm_report_severity (PmSeverity severity);
/* One finding in its rows, wrapped to width columns; short: title and place only. */
char *pm_report_finding (const PmFinding *finding, guint width);
/* Title, verdict, what was tried, findings (notes in full only with all), table of set-once positions. */
char *pm_report_check   (const PmCheck *check, gboolean all, guint width);
/* The table to paste into a forum: at most 72 columns; with more than two selects, selects down and settings across,
 * six a block. */
char *pm_report_routes  (const PmCheck *check);
/* Side lines of a case in few words: "go along", "not: motor", "not judged". */
char *pm_report_sides   (const PmCheck *check, guint case_index);
/* Drives that answer in a case with nothing turned on; "nothing" where there are none. */
char *pm_report_always  (const PmCheck *check, guint case_index);
/* TRUE if in some setting, or without the board, a drive does. */
gboolean pm_report_any_always (const PmCheck *check);
/* "inside, any, off, any" where the settings (guint) are all that have those places; else NULL. */
char *pm_report_settings (const PmCheck *check, const GArray *settings);
/* Words wrapped to width, later lines indented. */
char *pm_report_wrap    (const char *text, guint indent, guint width);
G_END_DECLS
