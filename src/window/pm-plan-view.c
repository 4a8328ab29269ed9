/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keeps one PmPlan for the width and style it was last drawn in; everything else about the picture is pm-plan.c's. */
#include "config.h"
#include "pm-plan-view.h"
#include "pm-look.h"
#include "pm-spot-view.h"
#include <glib/gi18n.h>
#include <math.h>

#define LEAST_WIDTH 120 /* how many cards stand in a row is decided elsewhere; a row must be able to become narrower   \
                         */
#define OUTLINE_MS 1200

struct _PmPlanView {
  GtkWidget parent;
  /* owned */
  PmStudy  *study;
  guint     case_index;
  GArray   *outlined;      /* guint element indices */
  guint     outline_id, sync_id;
  /* cached */
  PmStyle  *style;
  PmPlan   *plan;
  int       plan_width, plan_height;
  int       room;         /* the width to be high enough for, or 0: each that is asked about */
  double    minimum_width, natural_width, natural_height;   /* minimum_width < 0: not measured */
};

static guint activated_signal;

G_DEFINE_FINAL_TYPE (PmPlanView, pm_plan_view, GTK_TYPE_WIDGET)

static const PmStyle *
ensure_style (PmPlanView *self)
{
  if (self->style == NULL)
    self->style = pm_look_new_style (GTK_WIDGET (self));
  return self->style;
}

static void
forget_plan (PmPlanView *self)
{
  g_clear_pointer (&self->plan, pm_plan_free);
  self->minimum_width = -1;
}

static void
forget_style (PmPlanView *self)
{
  forget_plan (self);
  g_clear_pointer (&self->style, pm_style_free);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

static void
ensure_measured (PmPlanView *self)
{
  if (self->minimum_width >= 0 || self->study == NULL)
    return;
  pm_plan_measure (pm_study_get_check (self->study), ensure_style (self),
                   gtk_widget_get_pango_context (GTK_WIDGET (self)), &self->minimum_width, NULL, &self->natural_width,
                   &self->natural_height);
}

static void
ensure_plan (PmPlanView *self, int width, int height)
{
  if (self->study == NULL || (self->plan != NULL && self->plan_width == width && self->plan_height == height))
    return;
  g_clear_pointer (&self->plan, pm_plan_free);
  self->plan = pm_plan_new (pm_study_get_check (self->study), self->case_index, width, height, ensure_style (self),
                            gtk_widget_get_pango_context (GTK_WIDGET (self)));
  self->plan_width = width;
  self->plan_height = height;
}

static void
item_activate_cb (PmSpotView *item, PmPlanView *self)
{
  guint index = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (item), "element"));
  const PmPlanElement *element;

  if (self->plan == NULL || index >= pm_plan_n_elements (self->plan))
    return;
  element = pm_plan_element (self->plan, index);
  g_signal_emit (self, activated_signal, 0, element->unit, element->drive);
}

/* As many children as the plan has elements; kept where they can be, so that the focus stays. */
static void
sync_items (PmPlanView *self)
{
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self));
  guint n = self->plan != NULL ? pm_plan_n_elements (self->plan) : 0;

  for (guint i = 0; i < n; i++) {
    const PmPlanElement *element = pm_plan_element (self->plan, i);

    if (child == NULL) {
      child = pm_spot_view_new (GTK_ACCESSIBLE_ROLE_LIST_ITEM, element->sentence);
      g_object_set_data (G_OBJECT (child), "element", GUINT_TO_POINTER (i));
      g_signal_connect (child, "activate", G_CALLBACK (item_activate_cb), self);
      gtk_widget_set_parent (child, GTK_WIDGET (self));
    } else {
      pm_spot_view_set_sentence (PM_SPOT_VIEW (child), element->sentence);
    }
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
  PmPlanView *self = data;

  self->sync_id = 0;
  sync_items (self);
  return G_SOURCE_REMOVE;
}

/* Children cannot come and go while sizes are handed out. */
static void
sync_soon (PmPlanView *self)
{
  if (self->sync_id == 0)
    self->sync_id = g_idle_add_full (GTK_PRIORITY_RESIZE - 1, sync_cb, self, NULL);
}

/* How much a plan of a size says: its words, and how high its drives are. */
typedef struct { gsize words; double drives; } Richness;

static Richness
richness (PmPlanView *self, guint setting, int width, double height)
{
  g_autoptr (PmPlan) plan = pm_plan_new (pm_study_get_check (self->study), setting, width, height, ensure_style (self),
                                         gtk_widget_get_pango_context (GTK_WIDGET (self)));
  g_autofree char *words = pm_plan_words (plan);
  Richness is = { strlen (words), 0 };

  for (guint i = 0; i < pm_plan_n_elements (plan); i++)
    if (pm_plan_element (plan, i)->kind == PM_PLAN_DRIVE)
      is.drives += pm_plan_element (plan, i)->area.height;
  return is;
}

/* The least height at which the plan says as much as at its natural one, with a little air: narrow plans cannot use all
 * of that.  Two settings stand for all, since frame and rows are the same in every case. */
static double
useful_height (PmPlanView *self, int width)
{
  const PmCheck *check = pm_study_get_check (self->study);
  double low = self->natural_height / 4, high = self->natural_height;
  guint settings[] = { check->usual, check->n_settings };
  Richness full[G_N_ELEMENTS (settings)];

  for (guint i = 0; i < G_N_ELEMENTS (settings); i++)
    full[i] = richness (self, settings[i], width, high);
  while (high - low > 6) {
    double middle = (low + high) / 2;
    gboolean enough = TRUE;

    for (guint i = 0; i < G_N_ELEMENTS (settings) && enough; i++) {
      Richness is = richness (self, settings[i], width, middle);

      enough = is.words >= full[i].words && is.drives >= full[i].drives;
    }
    if (enough)
      high = middle;
    else
      low = middle;
  }
  return MIN (self->natural_height,
              high + pm_style_em (ensure_style (self), gtk_widget_get_pango_context (GTK_WIDGET (self))));
}

/* The same for every card of a study at one width, so it is worked out once and kept with the study. */
typedef struct { int width, height; double natural; } Height;

static int
height_for (PmPlanView *self, int width)
{
  Height *kept = g_object_get_data (G_OBJECT (self->study), "pm-plan-height");

  if (width < 0 || width >= self->natural_width)
    return (int) ceil (self->natural_height);
  if (kept == NULL) {
    kept = g_new0 (Height, 1);
    g_object_set_data_full (G_OBJECT (self->study), "pm-plan-height", kept, g_free);
  }
  if (kept->width != width || kept->natural != self->natural_height)
    *kept = (Height){ width, (int) ceil (useful_height (self, width)), self->natural_height };
  return kept->height;
}

static GtkSizeRequestMode
pm_plan_view_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
pm_plan_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                      int *minimum_baseline, int *natural_baseline)
{
  PmPlanView *self = PM_PLAN_VIEW (widget);

  if (self->study == NULL) {
    *minimum = *natural = 0;
    return;
  }
  ensure_measured (self);
  if (orientation == GTK_ORIENTATION_HORIZONTAL) {
    *minimum = MIN (LEAST_WIDTH, (int) ceil (self->minimum_width));
    *natural = MAX (*minimum, (int) ceil (self->natural_width));
  } else {
    *minimum = *natural = height_for (self, self->room > 0 ? self->room : for_size);
  }
}

static void
pm_plan_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PmPlanView *self = PM_PLAN_VIEW (widget);
  GtkWidget *child = gtk_widget_get_first_child (widget);

  guint n;

  ensure_plan (self, width, height);
  n = self->plan != NULL ? pm_plan_n_elements (self->plan) : 0;
  for (guint i = 0; child != NULL && i < n; i++) {
    const PmRect *area = &pm_plan_element (self->plan, i)->area;
    GtkAllocation where = {(int)floor (area->x), (int)floor (area->y), MAX (1, (int)ceil (area->width)),
                           MAX (1, (int)ceil (area->height))};

    gtk_widget_set_child_visible (child, TRUE);
    gtk_widget_size_allocate (child, &where, -1);
    child = gtk_widget_get_next_sibling (child);
    if (child == NULL && i + 1 < n)
      sync_soon (self);
  }
  /* A plan of another size may have fewer elements. */
  for (; child != NULL; child = gtk_widget_get_next_sibling (child)) {
    gtk_widget_set_child_visible (child, FALSE);
    sync_soon (self);
  }
}

static void
pm_plan_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PmPlanView *self = PM_PLAN_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);

  ensure_plan (self, width, height);
  if (self->plan != NULL && width > 0 && height > 0) {
    cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));

    pm_plan_draw (self->plan, cr);
    for (guint i = 0; i < self->outlined->len; i++)
      pm_plan_draw_ring (self->plan, g_array_index (self->outlined, guint, i), cr);
    cairo_destroy (cr);
  }
  GTK_WIDGET_CLASS (pm_plan_view_parent_class)->snapshot (widget, snapshot);
}

static gboolean
pm_plan_view_focus (GtkWidget *widget, GtkDirectionType direction)
{
  return pm_spot_view_rove (widget, direction, NULL);
}

static void
pm_plan_view_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (pm_plan_view_parent_class)->css_changed (widget, change);
  forget_style (PM_PLAN_VIEW (widget));
}

static void
pm_plan_view_system_setting_changed (GtkWidget *widget, GtkSystemSetting setting)
{
  GTK_WIDGET_CLASS (pm_plan_view_parent_class)->system_setting_changed (widget, setting);
  forget_style (PM_PLAN_VIEW (widget));
}

static void
pm_plan_view_dispose (GObject *object)
{
  PmPlanView *self = PM_PLAN_VIEW (object);
  GtkWidget *child;

  g_clear_handle_id (&self->outline_id, g_source_remove);
  g_clear_handle_id (&self->sync_id, g_source_remove);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  g_clear_pointer (&self->plan, pm_plan_free);
  g_clear_object (&self->study);
  G_OBJECT_CLASS (pm_plan_view_parent_class)->dispose (object);
}

static void
pm_plan_view_finalize (GObject *object)
{
  PmPlanView *self = PM_PLAN_VIEW (object);

  g_clear_pointer (&self->style, pm_style_free);
  g_array_unref (self->outlined);
  G_OBJECT_CLASS (pm_plan_view_parent_class)->finalize (object);
}

static void
pm_plan_view_class_init (PmPlanViewClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = pm_plan_view_dispose;
  object_class->finalize = pm_plan_view_finalize;
  widget_class->get_request_mode = pm_plan_view_get_request_mode;
  widget_class->measure = pm_plan_view_measure;
  widget_class->size_allocate = pm_plan_view_size_allocate;
  widget_class->snapshot = pm_plan_view_snapshot;
  widget_class->focus = pm_plan_view_focus;
  widget_class->css_changed = pm_plan_view_css_changed;
  widget_class->system_setting_changed = pm_plan_view_system_setting_changed;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  activated_signal = g_signal_new ("element-activated", PM_TYPE_PLAN_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 2, G_TYPE_INT, G_TYPE_INT);
}

static void
pm_plan_view_init (PmPlanView *self)
{
  self->minimum_width = -1;
  self->outlined = g_array_new (FALSE, FALSE, sizeof (guint));
}

GtkWidget *
pm_plan_view_new (void)
{
  return g_object_new (PM_TYPE_PLAN_VIEW, NULL);
}

void
pm_plan_view_set_case (PmPlanView *self, PmStudy *study, guint case_index)
{
  g_autofree char *label = NULL;

  g_return_if_fail (PM_IS_PLAN_VIEW (self));
  if (self->study == study && self->case_index == case_index)
    return;
  forget_plan (self);
  g_clear_handle_id (&self->outline_id, g_source_remove);
  g_array_set_size (self->outlined, 0);
  g_set_object (&self->study, study);
  self->case_index = case_index;
  if (study != NULL) {
    const PmCheck *check = pm_study_get_check (study);

    ensure_measured (self);
    /* At the size it will most likely have; elements are the same at every size. */
    ensure_plan (self,
                 gtk_widget_get_width (GTK_WIDGET (self)) > 0 ? gtk_widget_get_width (GTK_WIDGET (self))
                                                              : (int)self->natural_width,
                 (int)ceil (self->natural_height));
    label = g_strdup_printf (_("Routes, %s"), check->cases[case_index].title);
  }
  sync_items (self);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label != NULL ? label : "", -1);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

static gboolean
outline_over_cb (gpointer data)
{
  PmPlanView *self = data;

  self->outline_id = 0;
  g_array_set_size (self->outlined, 0);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  return G_SOURCE_REMOVE;
}

void
pm_plan_view_outline_changed (PmPlanView *self, guint other_case)
{
  const PmCheck *check;

  g_return_if_fail (PM_IS_PLAN_VIEW (self));
  if (self->study == NULL || self->plan == NULL || other_case == self->case_index)
    return;
  check = pm_study_get_check (self->study);
  g_clear_handle_id (&self->outline_id, g_source_remove);
  g_array_set_size (self->outlined, 0);
  for (guint i = 0; i < pm_plan_n_elements (self->plan); i++) {
    const PmPlanElement *element = pm_plan_element (self->plan, i);

    if (element->kind == PM_PLAN_LINE && element->unit >= 0
        && pm_check_differs (check, self->case_index, other_case, (guint) element->unit))
      g_array_append_val (self->outlined, i);
  }
  if (self->outlined->len > 0)
    self->outline_id = g_timeout_add (OUTLINE_MS, outline_over_cb, self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

const PmPlan *
pm_plan_view_get_plan (PmPlanView *self)
{
  g_return_val_if_fail (PM_IS_PLAN_VIEW (self), NULL);
  return self->plan;
}

int
pm_plan_view_get_good_width (PmPlanView *self)
{
  g_return_val_if_fail (PM_IS_PLAN_VIEW (self), 0);
  ensure_measured (self);
  return (int) ceil (self->minimum_width);
}

/* Its height goes up and down with its width.  Above it heights of other widths are guessed from such as were asked
 * for, which would keep a card at the height of a width that it no longer has. */
void
pm_plan_view_set_room (PmPlanView *self, int width)
{
  g_return_if_fail (PM_IS_PLAN_VIEW (self));
  if (self->room == width)
    return;
  self->room = width;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}
