/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the wiring diagram's widget share: its state, and what the pointer asks of it. */
#pragma once
#include "pm-diagram-view.h"

G_BEGIN_DECLS

#define PM_DIAGRAM_ZOOM_STEP 1.25

struct _PmDiagramView {
  GtkWidget parent;
  /* owned */
  PmStudy    *study;
  PmProbe    *probe;
  PmStyle    *style;
  PmDiagram  *diagram;             /* NULL until it is next needed */
  GtkAdjustment *adjustments[2];   /* by GtkOrientation */
  /* state */
  GtkScrollablePolicy policies[2];
  guint       case_index, state;
  int         finding;             /* whose places are marked, or -1 */
  int         hovered, focused, chosen;   /* elements, or -1 */
  double      zoom;
  gboolean    fits;                /* the zoom follows the room there is */
  double      drag_from[2];        /* the adjustments when a drag began */
  guint       sync_id, told_id;
};

/* pm-diagram-view.c */
/* Where the drawing's 0,0 lies in the widget: in the middle where it is smaller. */
void pm_diagram_view_origin        (PmDiagramView *self, double *x, double *y);
/* Keeps the point x,y of the widget where it is; the zoom no longer follows the room. */
void pm_diagram_view_zoom_at       (PmDiagramView *self, double zoom, double x, double y);
/* which: hovered, focused or chosen of self; element -1: nothing.  Tells who listens if what is pointed at changes. */
void pm_diagram_view_look_at       (PmDiagramView *self, int *which, int element);
void pm_diagram_view_focus_element (PmDiagramView *self, int element);

/* pm-diagram-pointer.c */
/* Once, when the widget is made. */
void pm_diagram_pointer_add        (PmDiagramView *self);
G_END_DECLS
