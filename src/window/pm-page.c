/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is the same for every page: the class of a narrow window, and following whether what is shown is old. */
#include "config.h"
#include "pm-page.h"

G_DEFINE_INTERFACE (PmPage, pm_page, GTK_TYPE_WIDGET)

static void
pm_page_default_init (PmPageInterface *iface)
{
  g_signal_new ("text-changed", PM_TYPE_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tell_stale (PmChoice *choice, PmPage *self)
{
  PM_PAGE_GET_IFACE (self)->set_stale (self, pm_choice_get_stale (choice, NULL));
}

void
pm_page_set_choice (PmPage *self, PmChoice *choice)
{
  g_return_if_fail (PM_IS_PAGE (self));
  PM_PAGE_GET_IFACE (self)->set_choice (self, choice);
  /* Another study ends what was stale about the last one. */
  g_signal_connect_object (choice, "stale-changed", G_CALLBACK (tell_stale), self, 0);
  g_signal_connect_object (choice, "study-changed", G_CALLBACK (tell_stale), self, 0);
  tell_stale (choice, self);
}

void
pm_page_set_room (PmPage *self, int width, int height, gboolean narrow)
{
  g_return_if_fail (PM_IS_PAGE (self));
  if (narrow)
    gtk_widget_add_css_class (GTK_WIDGET (self), "narrow");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "narrow");
  if (PM_PAGE_GET_IFACE (self)->set_room != NULL)
    PM_PAGE_GET_IFACE (self)->set_room (self, width, height, narrow);
}

void
pm_page_show_stale (GtkLabel *label, GtkWidget *scroller, const char *text)
{
  gtk_label_set_text (label, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (label), text != NULL);
  if (text != NULL && scroller != NULL)
    gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scroller)), 0);
}

gboolean
pm_page_focus (PmPage *self)
{
  g_return_val_if_fail (PM_IS_PAGE (self), FALSE);
  return PM_PAGE_GET_IFACE (self)->focus (self);
}

gboolean
pm_page_back (PmPage *self)
{
  g_return_val_if_fail (PM_IS_PAGE (self), FALSE);
  return PM_PAGE_GET_IFACE (self)->back != NULL && PM_PAGE_GET_IFACE (self)->back (self);
}

char *
pm_page_dup_text (PmPage *self)
{
  g_return_val_if_fail (PM_IS_PAGE (self), NULL);
  return PM_PAGE_GET_IFACE (self)->dup_text (self);
}
