/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the window asks of each of its pages, whatever they show.
 *
 * Pages follow the choice and never talk to each other.  A page is made when it is first gone to.
 */
#pragma once
#include "pm-choice.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_PAGE (pm_page_get_type ())
G_DECLARE_INTERFACE (PmPage, pm_page, PM, PAGE, GtkWidget)

/* Signal "text-changed": the text is another, and neither the choice nor the study is. */
struct _PmPageInterface {
  GTypeInterface parent;
  void     (*set_choice) (PmPage *self, PmChoice *choice);
  void     (*set_room)   (PmPage *self, int width, int height, gboolean narrow);
  void     (*set_stale)  (PmPage *self, const char *text);
  gboolean (*focus)      (PmPage *self);
  gboolean (*back)       (PmPage *self);
  char    *(*dup_text)   (PmPage *self);
};

/* Once, before anything else.  set_stale is called now and whenever it changes. */
void     pm_page_set_choice (PmPage *self, PmChoice *choice);
/* The room there is, drawer closed; in a narrow window the page has the class "narrow".  Optional. */
void     pm_page_set_room   (PmPage *self, int width, int height, gboolean narrow);
/* For set_stale: text ("as it was at 14:02, before line 34 went wrong", or NULL) in a page's label.  Wherever the page
 * had been scrolled to, that what stands here is old must be seen: scroller goes to its top; NULL where label does not
 * scroll. */
void     pm_page_show_stale (GtkLabel *label, GtkWidget *scroller, const char *text);
/* Puts the focus on what matters most.  FALSE if there is nothing. */
gboolean pm_page_focus      (PmPage *self);
/* Ends what can be ended, as Escape does.  FALSE if there was nothing.  Optional. */
gboolean pm_page_back       (PmPage *self);
/* The page as text, without the verdict and the findings, which every page has.  g_free. */
char    *pm_page_dup_text   (PmPage *self);
G_END_DECLS
