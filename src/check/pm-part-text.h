/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A part or a family of the library as a page of plain text: pins, tables, levels, sources. All strings are new:
 * g_free. */
#pragma once
#include "pm-library.h"

G_BEGIN_DECLS
/* Every part and family with its title, by kind and name. Files that cannot be read are faults, and left out.
 * NULL and a fault if there are none at all. */
char *pm_part_text_list   (PmLibrary *library, guint width, PmFaults *faults);
/* One part in full. is: a type ("74HCT157", "resistor 10k"), or a part file's own name ("74157", "header"), which is
 * told for every family it is made in. NULL and faults if there is none. */
char *pm_part_text_part   (PmLibrary *library, const char *is, guint width, PmFaults *faults);
/* One family in full, with the parts that are made in it. NULL and faults if there is none. */
char *pm_part_text_family (PmLibrary *library, const char *name, guint width, PmFaults *faults);
/* The type of a function in a family as people write it: "74157" in LS is "74LS157", "4053" in HC is "74HC4053". */
char *pm_part_text_type   (const char *function, const char *family);
/* The sections of a part from first on that have the same tables, as a list of section names that goes with one printed
 * table. Sections are told by name; those of a name before are left out. GPtrArray of const char*. */
GPtrArray *pm_part_text_alike (const PmPart *part, const char *first);
G_END_DECLS
