/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where host, drive, part and family files are found, and the parts and families that have been read from them. */
#pragma once
#include "pm-part.h"

G_BEGIN_DECLS

typedef struct _PmLibrary PmLibrary;

/* The data folder that came with the program: POINTSMAN_DATA, else the installed one, else, where nothing is installed,
 * that of the source tree it was built from. Borrowed. */
const char     *pm_library_data_folder (void);
/* extra: NULL-terminated folders looked in first, or NULL.  Then: beside the board, $XDG_DATA_HOME/pointsman,
 * $XDG_DATA_DIRS/pointsman, the installed data folder; the environment variable POINTSMAN_DATA names a data folder that
 * stands in for the last (for running from a build tree). In each folder both the folder itself and its hosts/,
 * drives/, parts/, families/ are looked in.  Reads nothing until asked: parts and families are read one file at a time,
 * on first use, and kept. */
PmLibrary      *pm_library_new      (const char * const *extra);
void            pm_library_free     (PmLibrary *library);
/* Path of a file by name and ending ("larkspur-40", "host"); NULL if not found, and then *looked (if not NULL) is the
 * folders as text. */
char *pm_library_find (PmLibrary *library, const char *beside, const char *name, const char *ending, char **looked);
/* "74HCT157", "SN74LS157N", "CD4053BE", "resistor 10k", "header 1x3", "socket-dip-40".  family and value are optional
 * outs. NULL and a fault (at spot) if there is none: says what is near. Borrowed, lives as long as the library. */
const PmPart *pm_library_part (PmLibrary *library, const char *beside, const char *is, const PmFamily **family,
                               double *value, PmSpot spot, PmFaults *faults);
/* A part file by its own name ("74157", "header"), whatever its family and size, for lists: without pins where the size
 * decides them. NULL and a fault if there is none. Borrowed. */
const PmPart *pm_library_function (PmLibrary *library, const char *beside, const char *name, PmSpot spot,
                                   PmFaults *faults);
const PmFamily *pm_library_family (PmLibrary *library, const char *beside, const char *name, PmSpot spot,
                                   PmFaults *faults);
/* Names of every part / family / host / drive file that can be found: sorted, NULL-terminated, free with g_strfreev. */
char          **pm_library_list     (PmLibrary *library, const char *ending);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmLibrary, pm_library_free)
G_END_DECLS
