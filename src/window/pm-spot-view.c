/* SPDX-License-Identifier: GPL-3.0-or-later */
/* GTK 4.8 has no accessible objects but widgets, so everything drawn that matters has one of these over it. */
#include "config.h"
#include "pm-spot-view.h"
#include <gdk/gdkkeysyms.h>

struct _PmSpotView {
  GtkWidget parent;
  char     *sentence;
};

static guint activate_signal;

G_DEFINE_FINAL_TYPE (PmSpotView, pm_spot_view, GTK_TYPE_WIDGET)

static void
pressed_cb (GtkGestureClick *gesture, int n_press, double x, double y, PmSpotView *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
  g_signal_emit (self, activate_signal, 0);
}

static void
pm_spot_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                      int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = 1;
}

/* To set a text asks the display server at once where the pointer is, which dozens of spots need not do. */
static gboolean
pm_spot_view_query_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  const char *sentence = PM_SPOT_VIEW (widget)->sentence;

  gtk_tooltip_set_text (tooltip, sentence);
  return sentence != NULL && *sentence != '\0';
}

static void
pm_spot_view_finalize (GObject *object)
{
  g_free (PM_SPOT_VIEW (object)->sentence);
  G_OBJECT_CLASS (pm_spot_view_parent_class)->finalize (object);
}

static void
pm_spot_view_class_init (PmSpotViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = pm_spot_view_finalize;
  widget_class->measure = pm_spot_view_measure;
  widget_class->query_tooltip = pm_spot_view_query_tooltip;
  activate_signal = g_signal_new ("activate", PM_TYPE_SPOT_VIEW, G_SIGNAL_RUN_LAST | G_SIGNAL_ACTION, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_activate_signal (widget_class, activate_signal);
  gtk_widget_class_add_binding_signal (widget_class, GDK_KEY_Return, 0, "activate", NULL);
  gtk_widget_class_add_binding_signal (widget_class, GDK_KEY_KP_Enter, 0, "activate", NULL);
  gtk_widget_class_add_binding_signal (widget_class, GDK_KEY_space, 0, "activate", NULL);
  gtk_widget_class_set_css_name (widget_class, "spot");
}

static void
pm_spot_view_init (PmSpotView *self)
{
  GtkGesture *click = gtk_gesture_click_new ();

  g_signal_connect (click, "pressed", G_CALLBACK (pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
}

GtkWidget *
pm_spot_view_new (GtkAccessibleRole role, const char *sentence)
{
  PmSpotView *self = g_object_new (PM_TYPE_SPOT_VIEW, "accessible-role", role, NULL);

  pm_spot_view_set_sentence (self, sentence);
  return GTK_WIDGET (self);
}

void
pm_spot_view_set_sentence (PmSpotView *self, const char *sentence)
{
  g_return_if_fail (PM_IS_SPOT_VIEW (self));
  if (g_strcmp0 (sentence, self->sentence) == 0)
    return;
  g_free (self->sentence);
  self->sentence = g_strdup (sentence);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, sentence, -1);
}

const char *
pm_spot_view_get_sentence (PmSpotView *self)
{
  g_return_val_if_fail (PM_IS_SPOT_VIEW (self), NULL);
  return self->sentence;
}

gboolean
pm_spot_view_rove (GtkWidget *parent, GtkDirectionType direction, GtkWidget *current)
{
  GtkWidget *focus = gtk_widget_get_focus_child (parent);
  GtkWidget *next;

  if (focus == NULL) {
    next = current != NULL ? current : gtk_widget_get_first_child (parent);
    return next != NULL && gtk_widget_grab_focus (next);
  }
  switch (direction) {
  case GTK_DIR_UP:
  case GTK_DIR_LEFT:
    next = gtk_widget_get_prev_sibling (focus);
    break;
  case GTK_DIR_DOWN:
  case GTK_DIR_RIGHT:
    next = gtk_widget_get_next_sibling (focus);
    break;
  default:
    return FALSE;
  }
  if (next != NULL)
    gtk_widget_grab_focus (next);
  return TRUE;
}
