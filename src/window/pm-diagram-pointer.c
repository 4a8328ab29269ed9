/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pointer on the wiring diagram: pointing, choosing, dragging, zooming with the wheel and with two fingers. */
#include "config.h"
#include "pm-diagram-view-private.h"
#include <math.h>

#define REACH 6       /* pixels beside a wire that still count as on it */

static int
element_at (PmDiagramView *self, double x, double y)
{
  double left, top;

  if (self->diagram == NULL)
    return -1;
  pm_diagram_view_origin (self, &left, &top);
  return pm_diagram_at (self->diagram, (x - left) / self->zoom, (y - top) / self->zoom, REACH / self->zoom);
}

static void
motion_cb (GtkEventControllerMotion *controller, double x, double y, PmDiagramView *self)
{
  int element = element_at (self, x, y);

  pm_diagram_view_look_at (self, &self->hovered, element);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), element >= 0 ? "pointer" : NULL);
}

static void
leave_cb (GtkEventControllerMotion *controller, PmDiagramView *self)
{
  pm_diagram_view_look_at (self, &self->hovered, -1);
}

static void
clicked_cb (GtkGestureClick *click, int n_press, double x, double y, PmDiagramView *self)
{
  int element = element_at (self, x, y);

  if (element >= 0)
    pm_diagram_view_focus_element (self, element);
  pm_diagram_view_look_at (self, &self->chosen, self->chosen == element ? -1 : element);
}

static gboolean
scroll_cb (GtkEventControllerScroll *controller, double dx, double dy, PmDiagramView *self)
{
  GdkEvent *event = gtk_event_controller_get_current_event (GTK_EVENT_CONTROLLER (controller));
  double x = gtk_widget_get_width (GTK_WIDGET (self)) / 2.0, y = gtk_widget_get_height (GTK_WIDGET (self)) / 2.0;
  GtkNative *native = gtk_widget_get_native (GTK_WIDGET (self));
  double nx, ny;

  if ((gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (controller)) & GDK_CONTROL_MASK) == 0)
    return FALSE;
  if (event != NULL && gdk_event_get_position (event, &x, &y)) {
    gtk_native_get_surface_transform (native, &nx, &ny);
    gtk_widget_translate_coordinates (GTK_WIDGET (native), GTK_WIDGET (self), x - nx, y - ny, &x, &y);
  }
  pm_diagram_view_zoom_at (self, self->zoom * pow (PM_DIAGRAM_ZOOM_STEP, -dy), x, y);
  return TRUE;
}

static void
drag_begin_cb (GtkGestureDrag *drag, double x, double y, PmDiagramView *self)
{
  for (guint i = 0; i < 2; i++)
    self->drag_from[i] = self->adjustments[i] != NULL ? gtk_adjustment_get_value (self->adjustments[i]) : 0;
}

static void
drag_update_cb (GtkGestureDrag *drag, double x, double y, PmDiagramView *self)
{
  double by[2] = {x, y};

  if (!gtk_drag_check_threshold (GTK_WIDGET (self), 0, 0, (int) x, (int) y))
    return;
  gtk_gesture_set_state (GTK_GESTURE (drag), GTK_EVENT_SEQUENCE_CLAIMED);
  for (guint i = 0; i < 2; i++)
    if (self->adjustments[i] != NULL)
      gtk_adjustment_set_value (self->adjustments[i], self->drag_from[i] - by[i]);
}

static void
pinched_cb (GtkGestureZoom *gesture, double scale, PmDiagramView *self)
{
  double x, y, *from = g_object_get_data (G_OBJECT (gesture), "from");

  if (from == NULL || !gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y))
    return;
  pm_diagram_view_zoom_at (self, *from * scale, x, y);
}

static void
pinch_begin_cb (GtkGesture *gesture, GdkEventSequence *sequence, PmDiagramView *self)
{
  double *from = g_new (double, 1);

  *from = self->zoom;
  g_object_set_data_full (G_OBJECT (gesture), "from", from, g_free);
}

void
pm_diagram_pointer_add (PmDiagramView *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new (),
                     *scroll = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_VERTICAL);
  GtkGesture *click = gtk_gesture_click_new (), *drag = gtk_gesture_drag_new (), *pinch = gtk_gesture_zoom_new ();

  g_signal_connect (motion, "motion", G_CALLBACK (motion_cb), self);
  g_signal_connect (motion, "leave", G_CALLBACK (leave_cb), self);
  g_signal_connect (scroll, "scroll", G_CALLBACK (scroll_cb), self);
  g_signal_connect (click, "released", G_CALLBACK (clicked_cb), self);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect (pinch, "begin", G_CALLBACK (pinch_begin_cb), self);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (pinched_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), motion);
  gtk_widget_add_controller (GTK_WIDGET (self), scroll);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (pinch));
}
