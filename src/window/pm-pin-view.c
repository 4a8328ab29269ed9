/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keeps the scale for the width it has; everything else about the picture is pm-pin-map's.  Arrow keys go to the pin
 * that lies that way, on the side that is seen. */
#include "config.h"
#include "pm-pin-view.h"
#include "pm-look.h"
#include "pm-spot-view.h"
#include <glib/gi18n.h>
#include <math.h>

/* Pixels per millimetre at ordinary text. */
#define LEAST_SCALE 3.2
/* Narrower is drawn all the same, and cut: nothing can be told in less. */
#define LEAST_WIDTH 220

struct _PmPinView {
  GtkWidget  parent;
  /* owned */
  PmStudy   *study;
  PmPinMap  *map;
  guint      case_index;
  gboolean   solder_side;
  int        chosen;
  /* cached */
  PmStyle   *style;
  int        width;          /* that scale, height and areas are for; -1: none */
  double     scale, height;
  PmMapWords words;
  PmRect    *rows, *cells;   /* [n_pins]; NULL: not worked out */
};

static guint chosen_signal;

G_DEFINE_FINAL_TYPE (PmPinView, pm_pin_view, GTK_TYPE_WIDGET)

static const PmStyle *
ensure_style (PmPinView *self)
{
  if (self->style == NULL)
    self->style = pm_look_new_style (GTK_WIDGET (self));
  return self->style;
}

static void
forget_areas (PmPinView *self)
{
  g_clear_pointer (&self->rows, g_free);
  g_clear_pointer (&self->cells, g_free);
}

static void
forget_sizes (PmPinView *self)
{
  forget_areas (self);
  self->width = -1;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

static void
forget_style (PmPinView *self)
{
  g_clear_pointer (&self->style, pm_style_free);
  forget_sizes (self);
}

/* As many words as have room, then as large as there is room. */
static void
ensure_scale (PmPinView *self, int width)
{
  PangoContext *context = gtk_widget_get_pango_context (GTK_WIDGET (self));
  double text = pm_look_text_scale (GTK_WIDGET (self)), most;

  if (self->width == width || self->map == NULL)
    return;
  most = MAX (LEAST_SCALE, 0.52 * pm_style_em (ensure_style (self), context));
  self->scale = -1;
  for (guint words = 0; words < PM_N_MAP_WORDS && self->scale < 0; words++) {
    self->words = words;
    pm_pin_map_set_words (self->map, words);
    self->scale = pm_pin_map_fit (self->map, self->style, context, width, MIN (most, LEAST_SCALE * text), most,
                                  &self->height);
  }
  if (self->scale < 0)
    self->scale = pm_pin_map_fit (self->map, self->style, context, G_MAXDOUBLE, LEAST_SCALE, LEAST_SCALE,
                                  &self->height);
  self->width = width;
  forget_areas (self);
}

static void
ensure_areas (PmPinView *self)
{
  guint n = pm_pin_map_n_pins (self->map);

  if (self->rows != NULL)
    return;
  self->rows = g_new (PmRect, n + 1);
  self->cells = g_new (PmRect, n + 1);
  pm_pin_map_areas (self->map, ensure_style (self), gtk_widget_get_pango_context (GTK_WIDGET (self)), self->scale,
                    self->solder_side, self->rows, self->cells);
}

/* The picture stands in the middle of its room. */
static double
picture_x (PmPinView *self)
{
  double low = G_MAXDOUBLE, high = 0;

  ensure_areas (self);
  for (guint i = 0; i < pm_pin_map_n_pins (self->map); i++) {
    low = MIN (low, MIN (self->rows[i].x, self->cells[i].x));
    high = MAX (high, MAX (self->rows[i].x + self->rows[i].width, self->cells[i].x + self->cells[i].width));
  }
  return MAX (0, round ((gtk_widget_get_width (GTK_WIDGET (self)) - (low + high)) / 2));
}

static GtkWidget *
child_at (PmPinView *self, int pin)
{
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self));

  for (int i = 0; i < pin && child != NULL; i++)
    child = gtk_widget_get_next_sibling (child);
  return pin >= 0 ? child : NULL;
}

static int
index_of (PmPinView *self, GtkWidget *widget)
{
  int i = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child), i++)
    if (child == widget)
      return i;
  return -1;
}

static void
pressed_cb (GtkGestureClick *gesture, int n_press, double x, double y, PmPinView *self)
{
  int pin;

  if (self->map == NULL)
    return;
  pin = pm_pin_map_at (self->map, ensure_style (self), gtk_widget_get_pango_context (GTK_WIDGET (self)), self->scale,
                       self->solder_side, x - picture_x (self), y);
  if (pin >= 0) {
    pm_pin_view_set_chosen (self, pin);
    gtk_widget_grab_focus (child_at (self, pin));
  }
}

static void
focused_cb (GtkEventControllerFocus *controller, PmPinView *self)
{
  pm_pin_view_set_chosen (
      self, index_of (self, gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller))));
}

static void
sync_items (PmPinView *self)
{
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self));
  guint n = self->map != NULL ? pm_pin_map_n_pins (self->map) : 0;

  for (guint i = 0; i < n; i++) {
    g_autofree char *sentence = pm_pins_sentence (pm_pin_map_pins (self->map), i, self->case_index);

    if (child == NULL) {
      GtkEventController *focus = gtk_event_controller_focus_new ();

      child = pm_spot_view_new (GTK_ACCESSIBLE_ROLE_LIST_ITEM, sentence);
      g_signal_connect (focus, "enter", G_CALLBACK (focused_cb), self);
      gtk_widget_add_controller (child, focus);
      gtk_widget_set_parent (child, GTK_WIDGET (self));
    } else {
      pm_spot_view_set_sentence (PM_SPOT_VIEW (child), sentence);
    }
    child = gtk_widget_get_next_sibling (child);
  }
  while (child != NULL) {
    GtkWidget *next = gtk_widget_get_next_sibling (child);

    gtk_widget_unparent (child);
    child = next;
  }
}

static void
update_label (PmPinView *self)
{
  g_autofree char *label = NULL;

  if (self->map != NULL) {
    const PmCheck *check = pm_study_get_check (self->study);
    label = g_strdup_printf (self->solder_side ? _("Pins, solder side, mirrored, %s") : _("Pins, from above, %s"),
                             check->cases[self->case_index].title);
  }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label != NULL ? label : "", -1);
}

static GtkSizeRequestMode
pm_pin_view_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
pm_pin_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                     int *minimum_baseline, int *natural_baseline)
{
  PmPinView *self = PM_PIN_VIEW (widget);

  *minimum = *natural = 0;
  if (self->map == NULL)
    return;
  if (orientation == GTK_ORIENTATION_HORIZONTAL) {
    *minimum = LEAST_WIDTH;
    *natural = (int) (640 * pm_look_text_scale (widget));
  } else {
    ensure_scale (self, for_size > 0 ? for_size : LEAST_WIDTH);
    *minimum = *natural = (int) ceil (self->height);
  }
}

static void
pm_pin_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PmPinView *self = PM_PIN_VIEW (widget);
  GtkWidget *child = gtk_widget_get_first_child (widget);
  double x;

  if (self->map == NULL)
    return;
  ensure_scale (self, width);
  ensure_areas (self);
  x = picture_x (self);
  for (guint i = 0; child != NULL && i < pm_pin_map_n_pins (self->map);
       child = gtk_widget_get_next_sibling (child), i++) {
    const PmRect *row = &self->rows[i];
    GtkAllocation where = { (int) floor (row->x + x) - 2, (int) round (row->y), (int) ceil (row->width) + 4,
                            MAX (1, (int) floor (row->height)) };

    gtk_widget_size_allocate (child, &where, -1);
  }
}

static void
pm_pin_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PmPinView *self = PM_PIN_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);

  if (self->map != NULL && width > 0 && height > 0) {
    cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));

    ensure_scale (self, width);
    cairo_translate (cr, picture_x (self), 0);
    pm_pin_map_draw (self->map, cr, ensure_style (self), gtk_widget_get_pango_context (widget), self->scale,
                     self->solder_side, self->case_index, self->chosen, FALSE);
    cairo_destroy (cr);
  }
  GTK_WIDGET_CLASS (pm_pin_view_parent_class)->snapshot (widget, snapshot);
}

/* The pin that lies that way: straight on in its row of pins, across to the nearest of the other row; PM_NONE. */
static guint
pin_that_way (PmPinView *self, guint from, GtkDirectionType direction)
{
  const PmRect *here;
  guint best = PM_NONE;
  double least = G_MAXDOUBLE;
  gboolean level = direction == GTK_DIR_LEFT || direction == GTK_DIR_RIGHT;
  int sign = direction == GTK_DIR_LEFT || direction == GTK_DIR_UP ? -1 : 1;

  ensure_areas (self);
  here = &self->cells[from];
  for (guint i = 0; i < pm_pin_map_n_pins (self->map); i++) {
    double dx = self->cells[i].x - here->x, dy = self->cells[i].y - here->y;
    double along = sign * (level ? dx : dy), across = fabs (level ? dy : dx);

    if (along < 1 || (!level && across > 1))
      continue;
    if (along + 3 * across < least) {
      least = along + 3 * across;
      best = i;
    }
  }
  return best;
}

static gboolean
pm_pin_view_focus (GtkWidget *widget, GtkDirectionType direction)
{
  PmPinView *self = PM_PIN_VIEW (widget);
  GtkWidget *focus = gtk_widget_get_focus_child (widget);
  guint to;

  if (self->map == NULL)
    return FALSE;
  if (focus == NULL)
    return pm_pin_view_focus_chosen (self);
  if (direction == GTK_DIR_TAB_FORWARD || direction == GTK_DIR_TAB_BACKWARD)
    return FALSE;
  to = pin_that_way (self, (guint) index_of (self, focus), direction);
  if (to != PM_NONE)
    gtk_widget_grab_focus (child_at (self, (int) to));
  return TRUE;
}

static void
pm_pin_view_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (pm_pin_view_parent_class)->css_changed (widget, change);
  forget_style (PM_PIN_VIEW (widget));
}

static void
pm_pin_view_system_setting_changed (GtkWidget *widget, GtkSystemSetting setting)
{
  GTK_WIDGET_CLASS (pm_pin_view_parent_class)->system_setting_changed (widget, setting);
  forget_style (PM_PIN_VIEW (widget));
}

static void
pm_pin_view_dispose (GObject *object)
{
  PmPinView *self = PM_PIN_VIEW (object);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  g_clear_pointer (&self->map, pm_pin_map_free);
  g_clear_object (&self->study);
  G_OBJECT_CLASS (pm_pin_view_parent_class)->dispose (object);
}

static void
pm_pin_view_finalize (GObject *object)
{
  PmPinView *self = PM_PIN_VIEW (object);

  forget_areas (self);
  g_clear_pointer (&self->style, pm_style_free);
  G_OBJECT_CLASS (pm_pin_view_parent_class)->finalize (object);
}

static void
pm_pin_view_class_init (PmPinViewClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = pm_pin_view_dispose;
  object_class->finalize = pm_pin_view_finalize;
  widget_class->get_request_mode = pm_pin_view_get_request_mode;
  widget_class->measure = pm_pin_view_measure;
  widget_class->size_allocate = pm_pin_view_size_allocate;
  widget_class->snapshot = pm_pin_view_snapshot;
  widget_class->focus = pm_pin_view_focus;
  widget_class->css_changed = pm_pin_view_css_changed;
  widget_class->system_setting_changed = pm_pin_view_system_setting_changed;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  chosen_signal = g_signal_new ("chosen", PM_TYPE_PIN_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pm_pin_view_init (PmPinView *self)
{
  GtkGesture *click = gtk_gesture_click_new ();

  self->width = self->chosen = -1;
  g_signal_connect (click, "pressed", G_CALLBACK (pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
}

/* The first pin that is not as it was, else the first. */
static int
first_of_interest (const PmPinMap *map)
{
  for (guint i = 0; i < pm_pin_map_n_pins (map); i++) {
    PmPinFate fate = pm_pin_map_pin (map, i)->fate;
    if (fate == PM_PIN_REROUTED || fate == PM_PIN_CUT)
      return (int) i;
  }
  return 0;
}

void
pm_pin_view_set_study (PmPinView *self, PmStudy *study)
{
  g_return_if_fail (PM_IS_PIN_VIEW (self));
  g_clear_pointer (&self->map, pm_pin_map_free);
  g_set_object (&self->study, study);
  if (study != NULL)
    self->map = pm_pin_map_new (pm_study_get_check (study));
  self->case_index = 0;
  if (self->map == NULL)
    self->chosen = -1;
  else if (self->chosen < 0 || (guint) self->chosen >= pm_pin_map_n_pins (self->map))
    self->chosen = first_of_interest (self->map);
  sync_items (self);
  update_label (self);
  forget_sizes (self);
  g_signal_emit (self, chosen_signal, 0);
}

void
pm_pin_view_show (PmPinView *self, guint case_index, gboolean solder_side)
{
  g_return_if_fail (PM_IS_PIN_VIEW (self));
  if (self->solder_side != solder_side) {
    forget_areas (self);
    gtk_widget_queue_allocate (GTK_WIDGET (self));
  }
  if (self->case_index != case_index) {
    self->case_index = case_index;
    sync_items (self);
  }
  self->solder_side = solder_side;
  update_label (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

const PmPinMap *
pm_pin_view_get_map (PmPinView *self)
{
  g_return_val_if_fail (PM_IS_PIN_VIEW (self), NULL);
  return self->map;
}

int
pm_pin_view_get_chosen (PmPinView *self)
{
  g_return_val_if_fail (PM_IS_PIN_VIEW (self), -1);
  return self->chosen;
}

void
pm_pin_view_set_chosen (PmPinView *self, int pin)
{
  g_return_if_fail (PM_IS_PIN_VIEW (self));
  if (pin == self->chosen || self->map == NULL || pin < 0 || (guint) pin >= pm_pin_map_n_pins (self->map))
    return;
  self->chosen = pin;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, chosen_signal, 0);
}

gboolean
pm_pin_view_focus_chosen (PmPinView *self)
{
  GtkWidget *child = child_at (self, self->chosen);

  g_return_val_if_fail (PM_IS_PIN_VIEW (self), FALSE);
  return child != NULL && gtk_widget_grab_focus (child);
}
