/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All keys, in one table that feeds the accelerators and the window that lists them. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
typedef struct {
  const char *group;    /* untranslated title of its group */
  const char *title;    /* untranslated */
  const char *action;   /* "win.open"; NULL: told in the list, bound elsewhere */
  const char *accels;   /* as gtk_accelerator_parse, separated by blanks */
  gboolean gentle; /* works only where the focused widget has no use for the key: no accelerator but a binding of the
                      window */
} PmShortcut;

/* Ends with a title of NULL. */
const PmShortcut *pm_shortcuts_table     (void);
void              pm_shortcuts_install   (GtkApplication *application);
void              pm_shortcuts_add_gentle (GtkWidgetClass *widget_class);
G_END_DECLS
