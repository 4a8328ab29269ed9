/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Truth tables, worked out: of places of a board in its settings, and of one part. */
#pragma once
#include "pm-raw.h"

G_BEGIN_DECLS

#define PM_TRUTH_ERROR (pm_truth_error_quark ())
GQuark pm_truth_error_quark (void);
/* NAME: no such place, drive, setting or section; the message names what is near. */
typedef enum { PM_TRUTH_ERROR_NAME } PmTruthError;

/* What an answer is at in all the worlds of a row: one level, one of two, either, or more than can be decided. */
typedef struct { guint16 levels; /* bit per PmLevel */ gboolean restless, not_decided; } PmTruthCell;

typedef struct {
  guint        state;            /* index into survey->states */
  guint32      side;             /* bit k: side line lines[k] is high */
  PmTruthCell *cells;            /* [n_columns] */
} PmTruthRow;

/* A column: a place, or, where drive is not -1, whether that drive answers (high) or not (low). */
typedef struct { char *name; guint32 place; int drive; } PmTruthColumn;

typedef struct {
  guint       spec;              /* the case */
  guint lines[4]; /* host lines that matter and that no unit names, at most four; further ones are left free */
  guint       n_lines;
  GArray     *rows;              /* PmTruthRow */
} PmTruthBlock;

typedef struct {
  PmTrial   *trial;              /* owned */
  GArray    *columns;            /* PmTruthColumn */
  GPtrArray *blocks;             /* PmTruthBlock, one per setting */
} PmTruth;

/* names: places as in files (U1.1Y, SEL0:machine, INSIDE.select, host.U7.11) and names of drives; NULL or empty for
 * every select line and every drive's select. setting: a setting's name or title, "without the board", or NULL for all.
 * NULL with an error for a name that is not there. */
PmTruth *pm_truth_new     (const PmBoard *board, const char * const *names, const char *setting, GError **error);
void     pm_truth_free    (PmTruth *truth);
/* Plain text, a table for each setting. g_free. */
char    *pm_truth_to_text (const PmTruth *truth, guint width);

/* The truth table of a part or, if section is not NULL, of that section only, from evaluating every combination of its
 * inputs: folded where an input does not matter. g_free; NULL with an error if there is no such section or nothing to
 * evaluate. */
char    *pm_truth_of_part (const PmPart *part, const char *section, guint width, GError **error);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmTruth, pm_truth_free)
G_END_DECLS
