/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the window share: pm-window.c has its shape, -pages.c its pages, -open.c what is in it, -actions.c
 * what can be done. */
#pragma once
#include "pm-drawer.h"
#include "pm-faults-page.h"
#include "pm-finding-list.h"
#include "pm-page.h"
#include "pm-routes-page.h"
#include "pm-start-page.h"
#include "pm-switch-pane.h"
#include "pm-switch-strip.h"
#include "pm-verdict-strip.h"
#include "pm-window.h"

G_BEGIN_DECLS
struct _PmWindow {
  GtkApplicationWindow parent;
  /* template */
  GtkMenuButton  *open_button;
  GtkLabel       *title, *subtitle;
  GtkWidget      *spinner, *cancel;
  GtkLabel       *status;
  GtkStack       *stack, *pages;
  GtkBox         *switcher;
  GtkWidget      *pages_box;
  GtkMenuButton  *page_button;   /* stands for the switcher where that has no room */
  GMenu          *pages_menu;
  GtkWidget      *print, *share;
  PmStartPage    *start;
  PmVerdictStrip *verdict;
  PmSwitchStrip  *strip;
  GtkWidget      *strip_scroller;
  GtkWidget      *body, *pane;
  PmSwitchPane   *switches;
  PmFindingList  *findings;
  GtkPaned       *paned;
  PmRoutesPage   *routes;
  PmFaultsPage   *faults;
  PmDrawer       *drawer;
  /* owned */
  GSettings      *settings;      /* or NULL */
  PmSession      *session;
  PmChoice       *choice;
  GtkNativeDialog *dialog;       /* the open dialog while it is there */
  char           *announced;
  /* state */
  const char     *page;          /* name of the page gone to; it is shown when a board can be */
  gboolean        fresh;         /* the next study is another board's */
  gboolean        finding_waits; /* the drawer showed a finding before the file went bad */
  gboolean        narrow, arranging;
  gboolean        by_hand;       /* somebody has set the height of the drawer in this window */
  gboolean        pane_wanted, sheet_open;
  int             drawer_height, last_height, last_width;
  guint           fault;         /* the one gone to last, while the file is bad */
  guint           arrange_id, quiet_id, busy_id, present_id;
};

/* pm-window.c */
void pm_window_arrange      (PmWindow *self);                      /* soon: sizes, pane, drawer */
void pm_window_arrange_now  (PmWindow *self);
void pm_window_show_drawer  (PmWindow *self, gboolean shown);
void pm_window_toggle_pane  (PmWindow *self);
/* Said to screen readers; visible: also shown at the foot for a moment. */
void pm_window_announce     (PmWindow *self, const char *text, gboolean visible);
void pm_window_focus_first  (PmWindow *self);
/* pm-window-pages.c */
void pm_window_init_pages   (PmWindow *self);
const char *pm_window_get_page    (PmWindow *self);
/* "routes", "diagram" ...; another name changes nothing. */
void pm_window_set_page     (PmWindow *self, const char *name);
void pm_window_show_faults_page   (PmWindow *self);
void pm_window_pages_set_room     (PmWindow *self, int width, int height);
/* Little room in the header: pages in a menu, print and share in the main menu only. */
void pm_window_pages_set_compact  (PmWindow *self, gboolean compact);
gboolean pm_window_focus_page     (PmWindow *self);
/* pm-window-open.c */
void pm_window_init_open    (PmWindow *self);
void pm_window_choose_file  (PmWindow *self);
void pm_window_go_to_fault  (PmWindow *self, guint fault);
/* pm-window-share.c */
void pm_window_print        (PmWindow *self);
void pm_window_copy_routes  (PmWindow *self);
void pm_window_save_picture (PmWindow *self);
void pm_window_save_lists   (PmWindow *self);
/* pm-window-actions.c */
void pm_window_class_init_actions (GtkWidgetClass *widget_class);
void pm_window_update_actions     (PmWindow *self);
G_END_DECLS
