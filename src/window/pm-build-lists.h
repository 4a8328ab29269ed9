/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lists of a board as the Build page shows them: made at once, but for other chips in each place, which a thread
 * tries. */
#pragma once
#include "pm-build-own.h"
#include "pm-study.h"

G_BEGIN_DECLS
typedef enum { PM_ALSO_NOT_TRIED, PM_ALSO_TRYING, PM_ALSO_TRIED } PmAlso;

#define PM_TYPE_BUILD_LISTS (pm_build_lists_get_type ())
G_DECLARE_FINAL_TYPE (PmBuildLists, pm_build_lists, PM, BUILD_LISTS, GObject)

/* Signals "changed": all lists may be others; "parts-changed": only the numbers of parts; "also-changed": other chips
 * are being tried, or have been. */
PmBuildLists *pm_build_lists_new        (void);
/* Stops what is being tried. */
void          pm_build_lists_set_study  (PmBuildLists *self, PmStudy *study);
/* How many boards parts are for, and how many per cent more of small ones. */
void          pm_build_lists_set_number (PmBuildLists *self, guint n_boards, guint spares);
guint         pm_build_lists_get_boards (PmBuildLists *self);
guint         pm_build_lists_get_spares (PmBuildLists *self);
/* Borrowed, until "changed" or "parts-changed"; NULL without a study. */
const PmList *pm_build_lists_get        (PmBuildLists *self, PmListKind kind);
/* The parts of one board, whatever number is set. */
const PmList *pm_build_lists_get_single (PmBuildLists *self);
/* Has other chips tried, once for each study. */
void          pm_build_lists_try_others (PmBuildLists *self);
PmAlso        pm_build_lists_get_also   (PmBuildLists *self);
/* What may stand in the place of a row of the parts list: "74HCT157: as good", "" for none, NULL where not known. */
const char   *pm_build_lists_also       (PmBuildLists *self, const char *row_id);
/* A list with what a person has ticked and priced in it.  plain: for CSV.  pm_list_free. */
PmList       *pm_build_lists_dup        (PmBuildLists *self, PmListKind kind, PmBuildOwn *own, gboolean plain);

guint         pm_list_column            (const PmList *list, const char *id);
/* What a tick in a row is kept by.  g_free. */
char         *pm_tick_key               (const PmList *list, guint row, guint column);
G_END_DECLS
