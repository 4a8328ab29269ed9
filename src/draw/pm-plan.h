/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The track plan of one case: the machine as a platform at the left, the drives at the right, what each select reaches
 * as tracks.
 *
 * A plan is geometry: boxes, tracks level or at 45 degrees, marks, words, worked out once for a width and height and
 * then drawn any number of times.  It judges nothing; all it shows stands in the PmCheck.  Platform, rows and drives
 * stand in the same place for every case of a check at one size, so that cards can be compared by eye.  A word
 * without room is left out and stands in its element's sentence. Not thread-safe with others that use the same
 * PangoContext.  Same input, same plan, same bytes.
 */
#pragma once
#include "pm-check.h"
#include "pm-style.h"

G_BEGIN_DECLS

typedef struct _PmPlan PmPlan;

typedef enum { PM_PLAN_LINE, PM_PLAN_DRIVE, PM_PLAN_MARK, PM_N_PLAN_KINDS } PmPlanKind;

/* One thing to look at: becomes a focusable child, and a row of the text twin. */
typedef struct {
  PmPlanKind kind;
  int        unit, drive;      /* or -1 */
  PmRect     area;             /* where to draw a focus ring; inside the plan */
  char      *sentence;         /* "SEL0, solid line with disc, reaches Inside and Outside: two drives answer." */
} PmPlanElement;

/* check and style must outlive the plan.  Widths below pm_plan_measure's minimum are drawn as well as they can be.
 * Never NULL. */
PmPlan *pm_plan_new      (const PmCheck *check, guint case_index, double width, double height, const PmStyle *style,
                          PangoContext *context);
void    pm_plan_free     (PmPlan *plan);

/* Sizes that suit every case of the check; any pointer may be NULL. */
void    pm_plan_measure  (const PmCheck *check, const PmStyle *style, PangoContext *context, double *minimum_width,
                          double *minimum_height,
                          double *natural_width, double *natural_height);

/* Draws at 0,0 in cr's user space; does not paint the ground. */
void    pm_plan_draw     (const PmPlan *plan, cairo_t *cr);
/* A ring round one element, 2 px, in ink: "changed", or focus where no widget draws it. */
void    pm_plan_draw_ring(const PmPlan *plan, guint element, cairo_t *cr);

/* In reading order: lines top down, drives top down, marks.  Borrowed. */
guint                pm_plan_n_elements (const PmPlan *plan);
const PmPlanElement *pm_plan_element    (const PmPlan *plan, guint index);
/* Index of the element at x,y, the smallest one there, or -1. */
int                  pm_plan_at         (const PmPlan *plan, double x, double y);

/* Whether every word found room (FALSE: some stand in sentences only). */
gboolean pm_plan_says_all (const PmPlan *plan);
/* Problems of the geometry, one line each: a word over a line or a word, out of the picture, a track neither level nor
 * at 45 degrees, tracks that run in one another.  NULL-terminated, empty when clean.  For tests. */
char   **pm_plan_check    (const PmPlan *plan);
/* Words that stand in the picture, one a line, in the order placed.  For tests. */
char    *pm_plan_words    (const PmPlan *plan);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmPlan, pm_plan_free)
G_END_DECLS
