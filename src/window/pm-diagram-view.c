/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawing is made once for a study, a font and a theme; scrolling, zoom, switches and flags only draw it again. */
#include "config.h"
#include "pm-diagram-view.h"
#include "pm-diagram-view-private.h"
#include "pm-look.h"
#include "pm-spot-view.h"
#include <glib/gi18n.h>
#include <math.h>

#define ZOOM_LEAST 0.25
#define ZOOM_MOST 4.0
#define FIT_LEAST 0.7     /* smaller cannot be read: then it is scrolled */
#define FIT_MOST 1.5
#define MARGIN 12     /* pixels around the drawing */
#define SEEN_FROM 48  /* pixels to the edge that a focused element keeps */

enum { PROP_ZOOM = 1, PROP_HADJUSTMENT, PROP_VADJUSTMENT, PROP_HPOLICY, PROP_VPOLICY };
static guint pointed_signal;

G_DEFINE_FINAL_TYPE_WITH_CODE (PmDiagramView, pm_diagram_view, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (GTK_TYPE_SCROLLABLE, NULL))

/* ---- the drawing, and where it lies */

static void
ensure_diagram (PmDiagramView *self)
{
  if (self->diagram != NULL || self->study == NULL)
    return;
  if (self->style == NULL)
    self->style = pm_look_new_style (GTK_WIDGET (self));
  self->diagram = pm_diagram_new (pm_study_get_check (self->study), self->style,
                                  gtk_widget_get_pango_context (GTK_WIDGET (self)));
}

static void
drawing_size (PmDiagramView *self, double *width, double *height)
{
  *width = *height = 0;
  ensure_diagram (self);
  if (self->diagram != NULL)
    pm_diagram_size (self->diagram, width, height);
  *width = *width * self->zoom + 2 * MARGIN;
  *height = *height * self->zoom + 2 * MARGIN;
}

void
pm_diagram_view_origin (PmDiagramView *self, double *x, double *y)
{
  double size[2], room[2] = {gtk_widget_get_width (GTK_WIDGET (self)), gtk_widget_get_height (GTK_WIDGET (self))},
         at[2];

  drawing_size (self, &size[0], &size[1]);
  for (guint i = 0; i < 2; i++) {
    at[i] = MARGIN - (self->adjustments[i] != NULL ? gtk_adjustment_get_value (self->adjustments[i]) : 0);
    if (size[i] < room[i])
      at[i] = MARGIN + (room[i] - size[i]) / 2;
  }
  *x = floor (at[0]);
  *y = floor (at[1]);
}

static double
zoom_that_fits (PmDiagramView *self, int width, int height)
{
  double w, h;

  ensure_diagram (self);
  if (self->diagram == NULL)
    return 1;
  pm_diagram_size (self->diagram, &w, &h);
  return CLAMP (MIN ((width - 2 * MARGIN) / MAX (w, 1), (height - 2 * MARGIN) / MAX (h, 1)), FIT_LEAST, FIT_MOST);
}

static void
value_changed_cb (PmDiagramView *self)
{
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

static void
configure_adjustments (PmDiagramView *self, int width, int height)
{
  double size[2], room[2] = {width, height};

  drawing_size (self, &size[0], &size[1]);
  for (guint i = 0; i < 2; i++) {
    double upper = MAX (size[i], room[i]);

    if (self->adjustments[i] == NULL)
      continue;
    g_signal_handlers_block_by_func (self->adjustments[i], value_changed_cb, self);
    gtk_adjustment_configure (self->adjustments[i],
                              CLAMP (gtk_adjustment_get_value (self->adjustments[i]), 0, upper - room[i]), 0, upper,
                              room[i] * 0.1, room[i] * 0.9, room[i]);
    g_signal_handlers_unblock_by_func (self->adjustments[i], value_changed_cb, self);
  }
}

static gboolean
tell_zoom_cb (gpointer data)
{
  PmDiagramView *self = data;

  self->told_id = 0;
  g_object_notify (G_OBJECT (self), "zoom");
  return G_SOURCE_REMOVE;
}

/* Those who hear of it change their size, which must not happen while sizes are handed out. */
static void
tell_zoom_soon (PmDiagramView *self)
{
  if (self->told_id == 0)
    self->told_id = g_idle_add_full (GTK_PRIORITY_RESIZE - 1, tell_zoom_cb, self, NULL);
}

void
pm_diagram_view_zoom_at (PmDiagramView *self, double zoom, double x, double y)
{
  double from[2], to[2], at[2] = {x, y}, before = self->zoom;

  self->fits = FALSE;
  zoom = CLAMP (zoom, ZOOM_LEAST, ZOOM_MOST);
  if (zoom == self->zoom)
    return;
  pm_diagram_view_origin (self, &from[0], &from[1]);
  self->zoom = zoom;
  configure_adjustments (self, gtk_widget_get_width (GTK_WIDGET (self)), gtk_widget_get_height (GTK_WIDGET (self)));
  for (guint i = 0; i < 2; i++) {
    to[i] = MARGIN - (at[i] - (at[i] - from[i]) / before * zoom);
    if (self->adjustments[i] != NULL)
      gtk_adjustment_set_value (self->adjustments[i], to[i]);
  }
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  tell_zoom_soon (self);
}

/* ---- what is looked at */

/* The focus may still be on a child of the drawing before this one, which had more elements. */
static int
pointed (PmDiagramView *self)
{
  int element = self->chosen >= 0 ? self->chosen : self->hovered >= 0 ? self->hovered : self->focused;

  return self->diagram != NULL && element < (int) pm_diagram_n_elements (self->diagram) ? element : -1;
}

void
pm_diagram_view_look_at (PmDiagramView *self, int *which, int element)
{
  int before = pointed (self);

  if (*which == element)
    return;
  *which = element;
  if (pointed (self) == before)
    return;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, pointed_signal, 0);
}

/* Scrolls so that an area of the drawing is seen. */
static void
bring_to_sight (PmDiagramView *self, const PmRect *area)
{
  double start[2] = {area->x * self->zoom + MARGIN, area->y * self->zoom + MARGIN},
         length[2] = {area->width * self->zoom, area->height * self->zoom};

  for (guint i = 0; i < 2; i++) {
    GtkAdjustment *adjustment = self->adjustments[i];
    double value, page;

    if (adjustment == NULL)
      continue;
    value = gtk_adjustment_get_value (adjustment);
    page = gtk_adjustment_get_page_size (adjustment);
    if (start[i] - SEEN_FROM < value || length[i] + 2 * SEEN_FROM > page)
      gtk_adjustment_set_value (adjustment, start[i] - SEEN_FROM);
    else if (start[i] + length[i] + SEEN_FROM > value + page)
      gtk_adjustment_set_value (adjustment, start[i] + length[i] + SEEN_FROM - page);
  }
}

static void
bring_finding_to_sight (PmDiagramView *self, const PmFinding *finding)
{
  for (guint i = 0; i < finding->n_places; i++) {
    int element = pm_diagram_of_place (self->diagram, finding->places[i]);

    if (element >= 0) {
      bring_to_sight (self, &pm_diagram_element (self->diagram, (guint) element)->area);
      return;
    }
  }
}

static int
index_of (GtkWidget *spot)
{
  return GPOINTER_TO_INT (g_object_get_data (G_OBJECT (spot), "element"));
}

static void
activate_cb (PmSpotView *spot, PmDiagramView *self)
{
  int element = index_of (GTK_WIDGET (spot));

  pm_diagram_view_look_at (self, &self->chosen, self->chosen == element ? -1 : element);
}

static void
focus_enter_cb (GtkEventControllerFocus *controller, PmDiagramView *self)
{
  GtkWidget *spot = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller));
  int element = index_of (spot);

  self->hovered = -1; /* what moved last counts, the pointer or the focus */
  pm_diagram_view_look_at (self, &self->focused, element);
  if (self->diagram != NULL && (guint) element < pm_diagram_n_elements (self->diagram))
    bring_to_sight (self, &pm_diagram_element (self->diagram, (guint) element)->area);
}

static void
focus_leave_cb (GtkEventControllerFocus *controller, PmDiagramView *self)
{
  pm_diagram_view_look_at (self, &self->focused, -1);
}

/* ---- children */

/* What an element is and what stands on it now. */
static char *
sentence_of (PmDiagramView *self, guint element)
{
  return self->probe != NULL ? pm_diagram_now (self->diagram, element, self->probe)
                             : g_strdup (pm_diagram_element (self->diagram, element)->sentence);
}

static void
add_spot (PmDiagramView *self, guint element)
{
  GtkWidget *spot = pm_spot_view_new (GTK_ACCESSIBLE_ROLE_LIST_ITEM, "");
  GtkEventController *focus = gtk_event_controller_focus_new ();

  g_object_set_data (G_OBJECT (spot), "element", GINT_TO_POINTER ((int) element));
  gtk_widget_set_has_tooltip (spot, FALSE); /* the line below the drawing says it */
  gtk_widget_set_can_target (spot, FALSE);  /* the pointer finds thin wires by itself */
  g_signal_connect (spot, "activate", G_CALLBACK (activate_cb), self);
  g_signal_connect (focus, "enter", G_CALLBACK (focus_enter_cb), self);
  g_signal_connect (focus, "leave", G_CALLBACK (focus_leave_cb), self);
  gtk_widget_add_controller (spot, focus);
  gtk_widget_set_parent (spot, GTK_WIDGET (self));
}

static void
sync_spots (PmDiagramView *self)
{
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self));
  guint n = self->diagram != NULL ? pm_diagram_n_elements (self->diagram) : 0;

  for (guint i = 0; i < n; i++) {
    g_autofree char *sentence = sentence_of (self, i);

    if (child == NULL) {
      add_spot (self, i);
      child = gtk_widget_get_last_child (GTK_WIDGET (self));
    }
    pm_spot_view_set_sentence (PM_SPOT_VIEW (child), sentence);
    child = gtk_widget_get_next_sibling (child);
  }
  while (child != NULL) {
    GtkWidget *next = gtk_widget_get_next_sibling (child);

    gtk_widget_unparent (child);
    child = next;
  }
}

static gboolean
sync_cb (gpointer data)
{
  PmDiagramView *self = data;

  self->sync_id = 0;
  ensure_diagram (self);
  sync_spots (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  return G_SOURCE_REMOVE;
}

/* Sentences cost a question each, and nobody hears them before the next frame. */
static void
sync_soon (PmDiagramView *self)
{
  if (self->sync_id == 0)
    self->sync_id = g_idle_add (sync_cb, self);
}

/* Questions about children must not meet those of the drawing before. */
static void
sync_now (PmDiagramView *self)
{
  if (self->sync_id == 0)
    return;
  g_source_remove (self->sync_id);
  sync_cb (self);
}

static void
forget_diagram (PmDiagramView *self)
{
  g_clear_pointer (&self->diagram, pm_diagram_free);
  self->hovered = self->chosen = -1;
  gtk_widget_queue_resize (GTK_WIDGET (self));
  sync_soon (self);
}

/* ---- the widget */

static void
pm_diagram_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                         int *minimum_baseline, int *natural_baseline)
{
  double size[2];

  drawing_size (PM_DIAGRAM_VIEW (widget), &size[0], &size[1]);
  *minimum = 1;
  *natural = (int) ceil (size[orientation == GTK_ORIENTATION_HORIZONTAL ? 0 : 1]);
}

static void
pm_diagram_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PmDiagramView *self = PM_DIAGRAM_VIEW (widget);
  double left, top;

  ensure_diagram (self);
  if (self->fits && self->diagram != NULL) {
    double zoom = zoom_that_fits (self, width, height);

    if (zoom != self->zoom)
      tell_zoom_soon (self);
    self->zoom = zoom;
  }
  configure_adjustments (self, width, height);
  pm_diagram_view_origin (self, &left, &top);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child)) {
    guint element = (guint) index_of (child);
    gboolean there = self->diagram != NULL && element < pm_diagram_n_elements (self->diagram);
    GtkAllocation where = {0, 0, 1, 1};

    if (there) {
      const PmRect *area = &pm_diagram_element (self->diagram, element)->area;

      where = (GtkAllocation){(int) floor (left + area->x * self->zoom), (int) floor (top + area->y * self->zoom),
                              MAX (1, (int) ceil (area->width * self->zoom)),
                              MAX (1, (int) ceil (area->height * self->zoom))};
    }
    gtk_widget_set_child_visible (child, there);
    gtk_widget_size_allocate (child, &where, -1);
  }
}

static void
pm_diagram_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PmDiagramView *self = PM_DIAGRAM_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  double left, top;

  ensure_diagram (self);
  if (self->diagram != NULL && width > 0 && height > 0) {
    const PmCheck *check = pm_study_get_check (self->study);
    PmDiagramShow show = {self->case_index, self->probe, pointed (self), NULL, 0};
    cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));

    if (self->finding >= 0 && (guint) self->finding < check->n_findings) {
      show.places = check->findings[self->finding].places;
      show.n_places = check->findings[self->finding].n_places;
    }
    pm_diagram_view_origin (self, &left, &top);
    cairo_translate (cr, left, top);
    cairo_scale (cr, self->zoom, self->zoom);
    pm_diagram_draw (self->diagram, cr, &show);
    cairo_destroy (cr);
  }
  GTK_WIDGET_CLASS (pm_diagram_view_parent_class)->snapshot (widget, snapshot);
}

/* Arrows go to the nearest element that way; Tab leaves. */
static gboolean
pm_diagram_view_focus (GtkWidget *widget, GtkDirectionType direction)
{
  PmDiagramView *self = PM_DIAGRAM_VIEW (widget);
  GtkWidget *focus, *best = NULL;
  const PmRect *from;
  double best_far = G_MAXDOUBLE, x, y;

  sync_now (self);
  focus = gtk_widget_get_focus_child (widget);
  if (focus == NULL)
    return pm_diagram_view_focus_first (self);
  if (direction == GTK_DIR_TAB_FORWARD || direction == GTK_DIR_TAB_BACKWARD || self->diagram == NULL)
    return FALSE;
  from = &pm_diagram_element (self->diagram, (guint) index_of (focus))->area;
  x = from->x + from->width / 2;
  y = from->y + from->height / 2;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child)) {
    const PmRect *area = &pm_diagram_element (self->diagram, (guint) index_of (child))->area;
    double dx = area->x + area->width / 2 - x, dy = area->y + area->height / 2 - y, along, beside;

    along = direction == GTK_DIR_LEFT ? -dx : direction == GTK_DIR_RIGHT ? dx : direction == GTK_DIR_UP ? -dy : dy;
    beside = fabs (direction == GTK_DIR_LEFT || direction == GTK_DIR_RIGHT ? dy : dx);
    if (child == focus || along < 1 || along + 2 * beside >= best_far)
      continue;
    best = child;
    best_far = along + 2 * beside;
  }
  if (best != NULL)
    gtk_widget_grab_focus (best);
  return TRUE;
}

static void
forget_style (PmDiagramView *self)
{
  forget_diagram (self);
  g_clear_pointer (&self->style, pm_style_free);
}

static void
pm_diagram_view_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (pm_diagram_view_parent_class)->css_changed (widget, change);
  forget_style (PM_DIAGRAM_VIEW (widget));
}

static void
pm_diagram_view_system_setting_changed (GtkWidget *widget, GtkSystemSetting setting)
{
  GTK_WIDGET_CLASS (pm_diagram_view_parent_class)->system_setting_changed (widget, setting);
  forget_style (PM_DIAGRAM_VIEW (widget));
}

static void
set_adjustment (PmDiagramView *self, guint which, GtkAdjustment *adjustment)
{
  if (adjustment == NULL)
    adjustment = gtk_adjustment_new (0, 0, 0, 0, 0, 0);
  if (self->adjustments[which] == adjustment)
    return;
  if (self->adjustments[which] != NULL)
    g_signal_handlers_disconnect_by_data (self->adjustments[which], self);
  g_clear_object (&self->adjustments[which]);
  self->adjustments[which] = g_object_ref_sink (adjustment);
  g_signal_connect_swapped (adjustment, "value-changed", G_CALLBACK (value_changed_cb), self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

static void
pm_diagram_view_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  PmDiagramView *self = PM_DIAGRAM_VIEW (object);

  switch (id) {
  case PROP_ZOOM: g_value_set_double (value, self->zoom); break;
  case PROP_HADJUSTMENT: g_value_set_object (value, self->adjustments[0]); break;
  case PROP_VADJUSTMENT: g_value_set_object (value, self->adjustments[1]); break;
  case PROP_HPOLICY: g_value_set_enum (value, (int) self->policies[0]); break;
  case PROP_VPOLICY: g_value_set_enum (value, (int) self->policies[1]); break;
  default: G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
  }
}

static void
pm_diagram_view_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  PmDiagramView *self = PM_DIAGRAM_VIEW (object);

  switch (id) {
  case PROP_HADJUSTMENT: set_adjustment (self, 0, g_value_get_object (value)); break;
  case PROP_VADJUSTMENT: set_adjustment (self, 1, g_value_get_object (value)); break;
  case PROP_HPOLICY: self->policies[0] = (GtkScrollablePolicy) g_value_get_enum (value); break;
  case PROP_VPOLICY: self->policies[1] = (GtkScrollablePolicy) g_value_get_enum (value); break;
  default: G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
  }
}

static void
pm_diagram_view_dispose (GObject *object)
{
  PmDiagramView *self = PM_DIAGRAM_VIEW (object);
  GtkWidget *child;

  g_clear_handle_id (&self->sync_id, g_source_remove);
  g_clear_handle_id (&self->told_id, g_source_remove);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  for (guint i = 0; i < 2; i++) {
    if (self->adjustments[i] != NULL)
      g_signal_handlers_disconnect_by_data (self->adjustments[i], self);
    g_clear_object (&self->adjustments[i]);
  }
  g_clear_pointer (&self->diagram, pm_diagram_free);
  g_clear_pointer (&self->probe, pm_probe_free);
  g_clear_object (&self->study);
  G_OBJECT_CLASS (pm_diagram_view_parent_class)->dispose (object);
}

static void
pm_diagram_view_finalize (GObject *object)
{
  g_clear_pointer (&PM_DIAGRAM_VIEW (object)->style, pm_style_free);
  G_OBJECT_CLASS (pm_diagram_view_parent_class)->finalize (object);
}

static void
pm_diagram_view_class_init (PmDiagramViewClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->get_property = pm_diagram_view_get_property;
  object_class->set_property = pm_diagram_view_set_property;
  object_class->dispose = pm_diagram_view_dispose;
  object_class->finalize = pm_diagram_view_finalize;
  widget_class->measure = pm_diagram_view_measure;
  widget_class->size_allocate = pm_diagram_view_size_allocate;
  widget_class->snapshot = pm_diagram_view_snapshot;
  widget_class->focus = pm_diagram_view_focus;
  widget_class->css_changed = pm_diagram_view_css_changed;
  widget_class->system_setting_changed = pm_diagram_view_system_setting_changed;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  g_object_class_install_property (object_class, PROP_ZOOM,
                                   g_param_spec_double ("zoom", NULL, NULL, ZOOM_LEAST, ZOOM_MOST, 1,
                                                        G_PARAM_READABLE | G_PARAM_STATIC_STRINGS));
  g_object_class_override_property (object_class, PROP_HADJUSTMENT, "hadjustment");
  g_object_class_override_property (object_class, PROP_VADJUSTMENT, "vadjustment");
  g_object_class_override_property (object_class, PROP_HPOLICY, "hscroll-policy");
  g_object_class_override_property (object_class, PROP_VPOLICY, "vscroll-policy");
  pointed_signal = g_signal_new ("pointed", PM_TYPE_DIAGRAM_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                 0);
}

static void
pm_diagram_view_init (PmDiagramView *self)
{
  self->zoom = 1;
  self->fits = TRUE;
  self->finding = self->hovered = self->focused = self->chosen = -1;
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  pm_diagram_pointer_add (self);
}

/* ---- what others call */

GtkWidget *
pm_diagram_view_new (void)
{
  return g_object_new (PM_TYPE_DIAGRAM_VIEW, NULL);
}

void
pm_diagram_view_set_study (PmDiagramView *self, PmStudy *study)
{
  g_return_if_fail (PM_IS_DIAGRAM_VIEW (self));
  if (self->study == study)
    return;
  forget_diagram (self);
  g_clear_pointer (&self->probe, pm_probe_free);
  g_set_object (&self->study, study);
  if (study != NULL)
    self->probe = pm_probe_new (pm_study_get_check (study));
  self->finding = -1;
  self->case_index = study != NULL ? pm_study_get_check (study)->usual : 0;
  self->state = 0;
}

void
pm_diagram_view_show (PmDiagramView *self, guint case_index, guint state, int finding)
{
  const PmCheck *check;

  g_return_if_fail (PM_IS_DIAGRAM_VIEW (self) && self->study != NULL);
  check = pm_study_get_check (self->study);
  self->case_index = case_index;
  self->state = state;
  pm_probe_set (self->probe, case_index, state);
  ensure_diagram (self);
  if (finding != self->finding && finding >= 0 && (guint) finding < check->n_findings)
    bring_finding_to_sight (self, &check->findings[finding]);
  self->finding = finding;
  sync_soon (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

PmProbe *
pm_diagram_view_get_probe (PmDiagramView *self)
{
  g_return_val_if_fail (PM_IS_DIAGRAM_VIEW (self), NULL);
  return self->probe;
}

const PmDiagram *
pm_diagram_view_get_diagram (PmDiagramView *self)
{
  g_return_val_if_fail (PM_IS_DIAGRAM_VIEW (self), NULL);
  ensure_diagram (self);
  return self->diagram;
}

int
pm_diagram_view_get_pointed (PmDiagramView *self)
{
  g_return_val_if_fail (PM_IS_DIAGRAM_VIEW (self), -1);
  ensure_diagram (self);
  return pointed (self);
}

gboolean
pm_diagram_view_let_go (PmDiagramView *self)
{
  gboolean had;

  g_return_val_if_fail (PM_IS_DIAGRAM_VIEW (self), FALSE);
  had = self->chosen >= 0;
  pm_diagram_view_look_at (self, &self->chosen, -1);
  return had;
}

double
pm_diagram_view_get_zoom (PmDiagramView *self)
{
  g_return_val_if_fail (PM_IS_DIAGRAM_VIEW (self), 1);
  return self->zoom;
}

void
pm_diagram_view_step_zoom (PmDiagramView *self, int step)
{
  g_return_if_fail (PM_IS_DIAGRAM_VIEW (self));
  pm_diagram_view_zoom_at (self, self->zoom * pow (PM_DIAGRAM_ZOOM_STEP, step),
                           gtk_widget_get_width (GTK_WIDGET (self)) / 2.0,
                           gtk_widget_get_height (GTK_WIDGET (self)) / 2.0);
}

void
pm_diagram_view_fit (PmDiagramView *self)
{
  g_return_if_fail (PM_IS_DIAGRAM_VIEW (self));
  self->fits = TRUE;
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

void
pm_diagram_view_full_size (PmDiagramView *self)
{
  g_return_if_fail (PM_IS_DIAGRAM_VIEW (self));
  pm_diagram_view_zoom_at (self, 1, gtk_widget_get_width (GTK_WIDGET (self)) / 2.0,
                           gtk_widget_get_height (GTK_WIDGET (self)) / 2.0);
}

void
pm_diagram_view_focus_element (PmDiagramView *self, int element)
{
  sync_now (self);
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (index_of (child) == element)
      gtk_widget_grab_focus (child);
}

gboolean
pm_diagram_view_focus_first (PmDiagramView *self)
{
  GtkWidget *child;

  g_return_val_if_fail (PM_IS_DIAGRAM_VIEW (self), FALSE);
  sync_now (self);
  for (child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (self->chosen < 0 || index_of (child) == self->chosen)
      return gtk_widget_grab_focus (child);
  return FALSE;
}
