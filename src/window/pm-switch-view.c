/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture comes from pm-switch-picture; over the name of each of its places lies a child with role RADIO.  Tab
 * reaches the place the lever is at, and the focus stays there however the lever is moved.  Clicks also count beside
 * the names. */
#include "config.h"
#include "pm-switch-view.h"
#include "pm-look.h"
#include "pm-spot-view.h"
#include <math.h>

struct _PmSwitchView {
  GtkWidget        parent;
  /* owned */
  PmStudy         *study;
  PmChoice        *choice;
  guint            index;
  int              position;
  gboolean         compact;
  /* cached */
  PmStyle         *style;
  PmSwitchPicture *picture;
  int              picture_width, picture_height;
};

G_DEFINE_FINAL_TYPE (PmSwitchView, pm_switch_view, GTK_TYPE_WIDGET)

static const PmSwitch *
the_switch (PmSwitchView *self)
{
  return &pm_study_get_board (self->study)->switches[self->index];
}

static const PmStyle *
ensure_style (PmSwitchView *self)
{
  if (self->style == NULL)
    self->style = pm_look_new_style (GTK_WIDGET (self));
  return self->style;
}

static void
ensure_picture (PmSwitchView *self, int width, int height)
{
  if (self->picture != NULL && self->picture_width == width && self->picture_height == height)
    return;
  g_clear_pointer (&self->picture, pm_switch_picture_free);
  self->picture = pm_switch_picture_new (the_switch (self), self->position, width, height, ensure_style (self),
                                         gtk_widget_get_pango_context (GTK_WIDGET (self)));
  self->picture_width = width;
  self->picture_height = height;
}

static GtkWidget *
place_child (PmSwitchView *self, int position)
{
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self));

  for (int i = 0; child != NULL && i < position; i++)
    child = gtk_widget_get_next_sibling (child);
  return child;
}

static void
update (PmSwitchView *self)
{
  const PmCheck *check = pm_study_get_check (self->study);
  int position = check->cases[pm_choice_get_shown (self->choice)].positions[self->index];
  GtkWidget *focus = gtk_widget_get_focus_child (GTK_WIDGET (self)), *place = place_child (self, position);
  int i = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    gtk_accessible_update_state (GTK_ACCESSIBLE (child), GTK_ACCESSIBLE_STATE_CHECKED, i++ == position, -1);
  if (position == self->position)
    return;
  self->position = position;
  if (position >= 0 && focus != NULL && focus != place && gtk_widget_has_focus (focus))
    gtk_widget_grab_focus (place);
  g_clear_pointer (&self->picture, pm_switch_picture_free);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
choice_changed_cb (PmChoice *choice, PmSwitchView *self)
{
  if (pm_choice_get_study (choice) == self->study)
    update (self);
}

static void
place_activate_cb (PmSpotView *place, PmSwitchView *self)
{
  int position = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (place), "position"));

  pm_choice_set_position (self->choice, self->index, position);
}

static void
pressed_cb (GtkGestureClick *gesture, int n_press, double x, double y, PmSwitchView *self)
{
  int position = self->picture != NULL ? pm_switch_picture_at (self->picture, x, y) : -1;

  if (position < 0)
    return;
  gtk_widget_grab_focus (place_child (self, position));
  pm_choice_set_position (self->choice, self->index, position);
}

static void
pm_switch_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                        int *minimum_baseline, int *natural_baseline)
{
  PmSwitchView *self = PM_SWITCH_VIEW (widget);
  double least, least_height, usual, usual_height;

  pm_switch_picture_measure (the_switch (self), ensure_style (self), gtk_widget_get_pango_context (widget), &least,
                             &least_height, &usual, &usual_height);
  *minimum = (int) ceil (orientation == GTK_ORIENTATION_HORIZONTAL ? least : least_height);
  *natural = (int) ceil (orientation == GTK_ORIENTATION_HORIZONTAL ? (self->compact ? least : usual) : usual_height);
}

static void
pm_switch_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PmSwitchView *self = PM_SWITCH_VIEW (widget);
  guint i = 0;

  ensure_picture (self, width, height);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child)) {
    PmRect ring = pm_switch_picture_ring (self->picture, i++);
    GtkAllocation where = { (int) ring.x, (int) ring.y, MAX (1, (int) ring.width), MAX (1, (int) ring.height) };

    gtk_widget_size_allocate (child, &where, -1);
  }
}

static void
pm_switch_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PmSwitchView *self = PM_SWITCH_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);

  ensure_picture (self, width, height);
  if (width > 0 && height > 0) {
    cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));

    pm_switch_picture_draw (self->picture, cr);
    cairo_destroy (cr);
  }
  GTK_WIDGET_CLASS (pm_switch_view_parent_class)->snapshot (widget, snapshot);
}

/* Tab enters where the lever is; an arrow moves focus and lever together, as in any radio group. */
static gboolean
pm_switch_view_focus (GtkWidget *widget, GtkDirectionType direction)
{
  PmSwitchView *self = PM_SWITCH_VIEW (widget);
  GtkWidget *before = gtk_widget_get_focus_child (widget);
  gboolean done = pm_spot_view_rove (widget, direction, place_child (self, MAX (self->position, 0)));
  GtkWidget *after = gtk_widget_get_focus_child (widget);

  if (done && before != NULL && after != NULL && after != before)
    place_activate_cb (PM_SPOT_VIEW (after), self);
  return done;
}

static gboolean
pm_switch_view_grab_focus (GtkWidget *widget)
{
  PmSwitchView *self = PM_SWITCH_VIEW (widget);
  GtkWidget *child = place_child (self, MAX (self->position, 0));

  return child != NULL && gtk_widget_grab_focus (child);
}

static void
forget_style (PmSwitchView *self)
{
  g_clear_pointer (&self->picture, pm_switch_picture_free);
  g_clear_pointer (&self->style, pm_style_free);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

static void
pm_switch_view_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (pm_switch_view_parent_class)->css_changed (widget, change);
  forget_style (PM_SWITCH_VIEW (widget));
}

static void
pm_switch_view_system_setting_changed (GtkWidget *widget, GtkSystemSetting setting)
{
  GTK_WIDGET_CLASS (pm_switch_view_parent_class)->system_setting_changed (widget, setting);
  forget_style (PM_SWITCH_VIEW (widget));
}

static void
pm_switch_view_dispose (GObject *object)
{
  PmSwitchView *self = PM_SWITCH_VIEW (object);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  g_clear_pointer (&self->picture, pm_switch_picture_free);
  g_clear_pointer (&self->style, pm_style_free);
  g_clear_object (&self->choice);
  g_clear_object (&self->study);
  G_OBJECT_CLASS (pm_switch_view_parent_class)->dispose (object);
}

static void
pm_switch_view_class_init (PmSwitchViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_switch_view_dispose;
  widget_class->measure = pm_switch_view_measure;
  widget_class->size_allocate = pm_switch_view_size_allocate;
  widget_class->snapshot = pm_switch_view_snapshot;
  widget_class->focus = pm_switch_view_focus;
  widget_class->grab_focus = pm_switch_view_grab_focus;
  widget_class->css_changed = pm_switch_view_css_changed;
  widget_class->system_setting_changed = pm_switch_view_system_setting_changed;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_RADIO_GROUP);
  gtk_widget_class_set_css_name (widget_class, "lever");
}

static void
pm_switch_view_init (PmSwitchView *self)
{
  GtkGesture *click = gtk_gesture_click_new ();

  self->position = -2;
  g_signal_connect (click, "pressed", G_CALLBACK (pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
}

GtkWidget *
pm_switch_view_new (PmChoice *choice, guint switch_index)
{
  PmSwitchView *self = g_object_new (PM_TYPE_SWITCH_VIEW, NULL);
  g_autofree char *label = NULL;
  const PmSwitch *sw;

  self->choice = g_object_ref (choice);
  self->study = g_object_ref (pm_choice_get_study (choice));
  self->index = switch_index;
  sw = the_switch (self);
  label = g_strcmp0 (sw->title, sw->name) == 0 ? g_strdup (sw->name) : g_strdup_printf ("%s %s", sw->name, sw->title);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  for (guint i = 0; i < sw->n_positions; i++) {
    const PmPosition *place = &sw->positions[i];
    GtkWidget *child = pm_spot_view_new (GTK_ACCESSIBLE_ROLE_RADIO, place->title != NULL ? place->title : place->name);

    g_object_set_data (G_OBJECT (child), "position", GINT_TO_POINTER ((int) i));
    g_signal_connect (child, "activate", G_CALLBACK (place_activate_cb), self);
    gtk_widget_set_parent (child, GTK_WIDGET (self));
  }
  g_signal_connect_object (choice, "changed", G_CALLBACK (choice_changed_cb), self, 0);
  update (self);
  return GTK_WIDGET (self);
}

void
pm_switch_view_set_compact (PmSwitchView *self, gboolean compact)
{
  g_return_if_fail (PM_IS_SWITCH_VIEW (self));
  self->compact = compact;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}
