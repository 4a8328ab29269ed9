/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "pm-page.h"

G_DEFINE_INTERFACE (PmPage, pm_page, GTK_TYPE_WIDGET)

static void
pm_page_default_init (PmPageInterface *iface)
{
  g_signal_new ("text-changed", PM_TYPE_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

void
pm_page_set_choice (PmPage *self, PmChoice *choice)
{
  g_return_if_fail (PM_IS_PAGE (self));
  PM_PAGE_GET_IFACE (self)->set_choice (self, choice);
}

void
pm_page_set_room (PmPage *self, int width, int height, gboolean narrow)
{
  g_return_if_fail (PM_IS_PAGE (self));
  if (PM_PAGE_GET_IFACE (self)->set_room != NULL)
    PM_PAGE_GET_IFACE (self)->set_room (self, width, height, narrow);
}

void
pm_page_set_stale (PmPage *self, const char *text)
{
  g_return_if_fail (PM_IS_PAGE (self));
  PM_PAGE_GET_IFACE (self)->set_stale (self, text);
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
