/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A widget round pm-mark.h.  The word of the mark is its accessible label; where a text beside it says the same, the
 * parent hides it. */
#include "config.h"
#include "pm-mark-view.h"
#include "pm-look.h"
#include <glib/gi18n.h>
#include <math.h>

struct _PmMarkView {
  GtkWidget parent;
  PmShows   shows;
  double    size;
  PmStyle  *style;   /* cached, made again when the theme changes */
};

G_DEFINE_FINAL_TYPE (PmMarkView, pm_mark_view, GTK_TYPE_WIDGET)

static const char *
word (PmShows shows)
{
  switch (shows) {
  case PM_SHOWS_STOP:
    return pm_mark_severity_word (PM_SEVERITY_STOP);
  case PM_SHOWS_CARE:
    return pm_mark_severity_word (PM_SEVERITY_CARE);
  case PM_SHOWS_NOTE:
    return pm_mark_severity_word (PM_SEVERITY_NOTE);
  case PM_SHOWS_TICK:
    return _("good");
  case PM_SHOWS_DOUBT:
    return _("not certain");
  default:
    return "";
  }
}

static gboolean
is_severity (PmShows shows)
{
  return shows == PM_SHOWS_STOP || shows == PM_SHOWS_CARE || shows == PM_SHOWS_NOTE;
}

static const PmStyle *
ensure_style (PmMarkView *self)
{
  if (self->style == NULL)
    self->style = pm_look_new_style (GTK_WIDGET (self));
  return self->style;
}

static void
pm_mark_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                      int *minimum_baseline, int *natural_baseline)
{
  PmMarkView *self = PM_MARK_VIEW (widget);
  const PmStyle *style = ensure_style (self);
  PangoContext *context = gtk_widget_get_pango_context (widget);
  double width = 0, height = 0;

  /* All marks are equally high, so that a text beside any of them stands at the same height. */
  pm_mark_severity_measure (style, context, &width, &height);
  if (!is_severity (self->shows))
    width = self->shows == PM_SHOWS_NOTHING ? 0 : 1.15 * pm_style_em (style, context);
  *minimum = *natural = (int) ceil ((orientation == GTK_ORIENTATION_HORIZONTAL ? width : height) * self->size);
}

static void
pm_mark_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PmMarkView *self = PM_MARK_VIEW (widget);
  const PmStyle *style = ensure_style (self);
  PangoContext *context = gtk_widget_get_pango_context (widget);
  float width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  double own_width, own_height;
  cairo_t *cr;

  if (self->shows == PM_SHOWS_NOTHING || width <= 0 || height <= 0)
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  if (is_severity (self->shows)) {
    PmSeverity severity = (PmSeverity) (self->shows - PM_SHOWS_STOP);

    pm_mark_severity_measure (style, context, &own_width, &own_height);
    cairo_translate (cr, (width - own_width * self->size) / 2, (height - own_height * self->size) / 2);
    cairo_scale (cr, self->size, self->size);
    pm_mark_severity_draw (severity, style, context, cr, 0, 0);
  } else if (self->shows == PM_SHOWS_TICK) {
    pm_mark_tick_draw (style, cr, width / 2, height / 2, MIN (width, height) * 0.8);
  } else {
    pm_mark_doubt_draw (style, context, cr, width / 2, height / 2, MIN (width, height) * 0.95);
  }
  cairo_destroy (cr);
}

static void
pm_mark_view_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (pm_mark_view_parent_class)->css_changed (widget, change);
  g_clear_pointer (&PM_MARK_VIEW (widget)->style, pm_style_free);
  gtk_widget_queue_resize (widget);
}

static void
pm_mark_view_system_setting_changed (GtkWidget *widget, GtkSystemSetting setting)
{
  GTK_WIDGET_CLASS (pm_mark_view_parent_class)->system_setting_changed (widget, setting);
  g_clear_pointer (&PM_MARK_VIEW (widget)->style, pm_style_free);
  gtk_widget_queue_resize (widget);
}

static void
pm_mark_view_finalize (GObject *object)
{
  g_clear_pointer (&PM_MARK_VIEW (object)->style, pm_style_free);
  G_OBJECT_CLASS (pm_mark_view_parent_class)->finalize (object);
}

static void
pm_mark_view_class_init (PmMarkViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = pm_mark_view_finalize;
  widget_class->measure = pm_mark_view_measure;
  widget_class->snapshot = pm_mark_view_snapshot;
  widget_class->css_changed = pm_mark_view_css_changed;
  widget_class->system_setting_changed = pm_mark_view_system_setting_changed;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
pm_mark_view_init (PmMarkView *self)
{
  self->size = 1;
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
pm_mark_view_new (PmShows shows)
{
  PmMarkView *self = g_object_new (PM_TYPE_MARK_VIEW, NULL);

  pm_mark_view_set_shows (self, shows);
  return GTK_WIDGET (self);
}

void
pm_mark_view_set_shows (PmMarkView *self, PmShows shows)
{
  g_return_if_fail (PM_IS_MARK_VIEW (self));
  self->shows = shows;
  gtk_widget_set_visible (GTK_WIDGET (self), shows != PM_SHOWS_NOTHING);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, word (shows), -1);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

PmShows
pm_mark_view_get_shows (PmMarkView *self)
{
  g_return_val_if_fail (PM_IS_MARK_VIEW (self), PM_SHOWS_NOTHING);
  return self->shows;
}

void
pm_mark_view_set_size (PmMarkView *self, double size)
{
  g_return_if_fail (PM_IS_MARK_VIEW (self));
  self->size = size;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

PmShows
pm_shows_severity (PmSeverity severity)
{
  return (PmShows) (PM_SHOWS_STOP + (int) severity);
}

PmShows
pm_shows_case (const PmCheck *check, guint case_index)
{
  const PmCaseResult *result = &check->cases[case_index];
  PmSeverity worst = PM_N_SEVERITIES;

  for (guint i = 0; result->findings != NULL && i < result->findings->len; i++) {
    guint finding = g_array_index (result->findings, guint, i);

    worst = MIN (worst, check->findings[finding].severity);
  }
  if (worst <= PM_SEVERITY_CARE)
    return pm_shows_severity (worst);
  switch (result->fit) {
  case PM_FIT_AS_WANTED:
    return PM_SHOWS_TICK;
  case PM_FIT_NOT_DECIDED:
    return PM_SHOWS_DOUBT;
  default:
    return result->kind > PM_CASE_SETTING && worst == PM_N_SEVERITIES ? PM_SHOWS_TICK : PM_SHOWS_NOTHING;
  }
}
