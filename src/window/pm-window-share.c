/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Print and Share: everything that leaves the window. */
#include "config.h"
#include "pm-window-private.h"
#include "pm-alternates.h"
#include "pm-document.h"
#include "pm-export.h"
#include "pm-list.h"
#include "pm-picture.h"
#include "pm-print-window.h"
#include "pm-report.h"
#include "pm-save-as.h"
#include <glib/gi18n.h>

void
pm_window_print (PmWindow *self)
{
  gtk_window_present (GTK_WINDOW (pm_print_window_new (
      GTK_WINDOW (self), pm_choice_get_study (self->choice), pm_choice_get_chosen (self->choice),
      pm_choice_get_stale (self->choice, NULL), pm_session_get_path (self->session), self->settings)));
}

/* What is handed on while the file cannot be read says so itself. */
static char *
with_stale (PmWindow *self, char *text)
{
  g_autofree char *rest = text;
  const char *stale = pm_choice_get_stale (self->choice, NULL);

  return stale != NULL ? g_strdup_printf ("%s\n%s", stale, rest) : g_steal_pointer (&rest);
}

void
pm_window_copy_routes (PmWindow *self)
{
  g_autofree char *text = with_stale (self, pm_report_routes (pm_choice_get_check (self->choice)));

  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), text);
  pm_window_announce (self, _("The routes are copied as text."), TRUE);
}

static void
tell_saved (PmWindow *self, const char *path, const GError *error)
{
  g_autofree char *text = error != NULL ? g_strdup (error->message) : g_strdup_printf (_("Saved: %s"), path);

  pm_window_announce (self, text, TRUE);
}

/* The picture of the page that is shown; pages without one hand on the routes. */
static void
save_picture_cb (const char *path, gpointer data)
{
  PmWindow *self = data;
  const PmCheck *check = pm_choice_get_check (self->choice);
  int kind = pm_picture_kind (pm_window_get_page (self));
  g_autoptr (PmPicture) picture = NULL;
  g_autoptr (GError) error = NULL;
  double width, height;

  if (check == NULL)
    return;
  if (pm_board_reads (check->board, path)) {
    pm_window_announce (self, _("This file is part of the board: choose another name."), TRUE);
    return;
  }
  if (kind < 0 || !pm_picture_applies (check, (PmPictureKind) kind))
    kind = PM_PICTURE_ROUTES;
  picture = pm_picture_new (check, (PmPictureKind) kind, pm_choice_get_chosen (self->choice), FALSE);
  pm_picture_size (picture, &width, &height);
  pm_export_picture (path, width, height, check->board->title, pm_picture_draw, picture, &error);
  tell_saved (self, path, error);
}

void
pm_window_save_picture (PmWindow *self)
{
  if (pm_choice_get_stale (self->choice, NULL) != NULL) {
    pm_window_announce (self, _("The file cannot be read now: mend it first, a picture would show what was."), TRUE);
    return;
  }
  pm_save_as (GTK_WINDOW (self), _("Save this page as a picture"), pm_session_get_path (self->session), "png",
              save_picture_cb, self);
}

/* One CSV file for each list, named by board and list. */
static void
save_lists_cb (const char *folder, gpointer data)
{
  PmWindow *self = data;
  const PmCheck *check = pm_choice_get_check (self->choice);
  const char *board = pm_session_get_path (self->session);
  g_autofree char *base = board != NULL ? g_path_get_basename (board) : NULL;
  g_autoptr (GArray) alternates = NULL;
  g_autoptr (GError) error = NULL;
  PmListOptions options = PM_LIST_OPTIONS_USUAL;

  if (check == NULL || base == NULL)
    return;
  options.alternates = alternates = pm_alternates_find (check, NULL); /* they are in two of the lists */
  if (strchr (base, '.') != NULL)
    *strchr (base, '.') = '\0';
  for (guint k = 0; k < PM_N_LISTS && error == NULL; k++) {
    g_autoptr (PmList) list = pm_list_new (check, (PmListKind) k, &options, NULL);
    g_autofree char *csv = pm_list_csv (list), *name = g_strdup_printf ("%s-%s.csv", base, list->id),
                    *path = g_build_filename (folder, name, NULL);

    if (list->n_rows > 0)
      pm_file_write_atomic (path, csv, strlen (csv), &error);
  }
  tell_saved (self, folder, error);
}

void
pm_window_save_lists (PmWindow *self)
{
  if (pm_choice_get_stale (self->choice, NULL) != NULL) {
    pm_window_announce (self, _("The file cannot be read now: mend it first, the lists would say what was."), TRUE);
    return;
  }
  pm_save_as (GTK_WINDOW (self), _("Save all lists as CSV: choose a folder"), pm_session_get_path (self->session),
              NULL, save_lists_cb, self);
}
