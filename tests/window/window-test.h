/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of the window share: a window on a board, waiting, finding widgets, files that may be changed. */
#pragma once
#include "pm-window.h"

G_BEGIN_DECLS
/* Starts GTK, registers the program; criticals and warnings are fatal.  Then g_test_add_func and window_test_run. */
void       window_test_init     (int *argc, char ***argv);
int        window_test_run      (void);
/* Runs the main loop until condition (data) is TRUE; fails after half a minute. */
void       window_test_wait     (gboolean (*condition) (gpointer data), gpointer data, const char *what);
void       window_test_settle   (PmWindow *window);
/* A shown window of a size; path NULL: the start page. */
PmWindow  *window_test_open     (const char *path, int width, int height);
void       window_test_close    (PmWindow *window);
/* Depth first; the nth widget below root of a type, of those that are mapped; NULL if there is none. */
GtkWidget *window_test_find     (gpointer root, GType type, guint n);
guint      window_test_count    (gpointer root, GType type);
/* The first mapped label that contains text. */
GtkWidget *window_test_label    (gpointer root, const char *text);
void       window_test_action   (PmWindow *window, const char *name);
char      *window_test_board    (const char *name);                  /* path of a demo board */
/* A copy of a demo board in a folder of its own, with `from` replaced by `to` where from is not NULL. */
char      *window_test_copy     (const char *name, const char *from, const char *to);
void       window_test_replace  (const char *path, const char *from, const char *to);
G_END_DECLS
