/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is wrong with a file: where, what, and what to do, one line each, several in one go. */
#pragma once
#include <glib.h>
#include <stdio.h>

G_BEGIN_DECLS

/* A place in a file. file is interned (g_intern_string) and is what messages show: the path as given for the board, the
 * base name for files found by name. line counts from 1 and is true beyond 65,535; 0 = the file as a whole. */
typedef struct { const char *file; guint line; guint other_line; /* "10 and 13", 0 = none */ } PmSpot;

typedef struct { PmSpot spot; char *message; } PmFault;

#define PM_FAULTS_MAX 200
typedef struct _PmFaults PmFaults;
PmFaults      *pm_faults_new    (void);
void           pm_faults_free   (PmFaults *faults);
void           pm_faults_add    (PmFaults *faults, PmSpot spot, const char *format, ...) G_GNUC_PRINTF (3, 4);
guint          pm_faults_count  (const PmFaults *faults);   /* all kept: at most PM_FAULTS_MAX,
                                 the last of which says that there are more */
guint          pm_faults_found  (const PmFaults *faults);   /* all found, kept or not */
const PmFault *pm_faults_get    (const PmFaults *faults, guint i); /* in order of file as met, then line */
void           pm_faults_sort   (PmFaults *faults);
/* "file:line: message", "file:10 and 13: message", "file: message" */
char          *pm_fault_to_text (const PmFault *fault);
/* "Did you mean Y?": the nearest of names to word within a small edit distance, or NULL. Borrowed from names. */
const char    *pm_nearest       (const char *word, const char * const *names, gsize n);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmFaults, pm_faults_free)
G_END_DECLS
