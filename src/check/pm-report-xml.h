/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything that a check knows as one XML document, for scripts: namespace urn:x-pointsman:report:1, described by
 * data/schema/report.rng and docs/report.md.  Words that a script compares (is, kind, answer, mark) are never
 * translated; texts are those of the screen, in its language.
 */
#pragma once
#include "pm-list.h"

G_BEGIN_DECLS
/* lists: mask of 1u << PmListKind, the lists to put into it; PM_REPORT_NO_LISTS for none. UTF-8, well-formed whatever
 * stands in titles: characters that XML does not allow become U+FFFD. g_free. */
#define PM_REPORT_NO_LISTS 0u
#define PM_REPORT_ALL_LISTS ((1u << PM_N_LISTS) - 1)
char *pm_report_xml (const PmCheck *check, guint lists);
G_END_DECLS
