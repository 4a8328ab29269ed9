/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The wiring diagram on the screen: scrolled, zoomed, pointed at, followed.
 *
 * One focusable child per symbol and wire, laid over the drawing.  It stands in a GtkScrolledWindow.
 */
#pragma once
#include "pm-diagram.h"
#include "pm-study.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_DIAGRAM_VIEW (pm_diagram_view_get_type ())
G_DECLARE_FINAL_TYPE (PmDiagramView, pm_diagram_view, PM, DIAGRAM_VIEW, GtkWidget)

/* Signal "pointed": the element that is looked at has changed (by pointer, focus or choice).
 * Property "zoom": 1 is the size of the text around. */
GtkWidget       *pm_diagram_view_new         (void);
/* study may be NULL. */
void             pm_diagram_view_set_study   (PmDiagramView *self, PmStudy *study);
/* Which case and state of the machine is shown; the finding whose places are marked, or -1. */
void             pm_diagram_view_show        (PmDiagramView *self, guint case_index, guint state, int finding);
/* NULL without a study. Borrowed; set to the case and state shown. */
PmProbe         *pm_diagram_view_get_probe   (PmDiagramView *self);
const PmDiagram *pm_diagram_view_get_diagram (PmDiagramView *self);
/* The element looked at, or -1. */
int              pm_diagram_view_get_pointed (PmDiagramView *self);
/* TRUE if an element had been chosen (by click or Enter) and no longer is. */
gboolean         pm_diagram_view_let_go      (PmDiagramView *self);
double           pm_diagram_view_get_zoom    (PmDiagramView *self);
/* Larger or smaller about the middle of what is seen. */
void             pm_diagram_view_step_zoom   (PmDiagramView *self, int step);
/* The whole drawing in the room there is; it stays so until the zoom is changed. */
void             pm_diagram_view_fit         (PmDiagramView *self);
void             pm_diagram_view_full_size   (PmDiagramView *self);
/* Puts the focus on the element last focused, or the first. */
gboolean         pm_diagram_view_focus_first (PmDiagramView *self);
G_END_DECLS
