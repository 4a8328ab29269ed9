/* SPDX-License-Identifier: GPL-3.0-or-later */
/* GTK does not keep a native dialog alive, so its parent does. */
#include "config.h"
#include "pm-save-as.h"
#include <string.h>

#define KEY "pm-save-as"

typedef struct { PmSaveFunc func; gpointer data; GtkWindow *parent; } Asked;

static void
response_cb (GtkNativeDialog *dialog, int response, Asked *asked)
{
  g_autoptr (GFile) file =
      response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;
  Asked now = *asked;

  gtk_native_dialog_hide (dialog);
  g_object_set_data (G_OBJECT (now.parent), KEY, NULL); /* the dialog and what was asked are gone now */
  if (path != NULL)
    now.func (path, now.data);
}

static void
destroy_dialog (gpointer data)
{
  gtk_native_dialog_destroy (data);
  g_object_unref (data);
}

static char *
proposed_name (const char *board, const char *ending)
{
  g_autofree char *base = board != NULL ? g_path_get_basename (board) : g_strdup ("board");
  char *dot = strchr (base, '.');

  if (dot != NULL && dot != base)
    *dot = '\0';
  return g_strconcat (base, ".", ending, NULL);
}

void
pm_save_as (GtkWindow *parent, const char *title, const char *board, const char *ending, PmSaveFunc func,
            gpointer data)
{
  GtkFileChooserAction action = ending != NULL ? GTK_FILE_CHOOSER_ACTION_SAVE : GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER;
  GtkNativeDialog *dialog = g_object_get_data (G_OBJECT (parent), KEY);
  g_autofree char *full = board != NULL ? g_canonicalize_filename (board, NULL) : NULL;
  Asked *asked;

  if (dialog != NULL) {
    gtk_native_dialog_show (dialog);
    return;
  }
  dialog = GTK_NATIVE_DIALOG (gtk_file_chooser_native_new (title, parent, action, NULL, NULL));
  gtk_native_dialog_set_modal (dialog, TRUE);
  if (ending != NULL) {
    g_autofree char *name = proposed_name (board, ending);

    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (dialog), name);
  }
  if (full != NULL && g_file_test (full, G_FILE_TEST_EXISTS)) {
    g_autofree char *folder = g_path_get_dirname (full);
    g_autoptr (GFile) where = g_file_new_for_path (folder);

    gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (dialog), where, NULL);
  }
  asked = g_new0 (Asked, 1);
  *asked = (Asked){func, data, parent};
  g_object_set_data_full (G_OBJECT (dialog), "asked", asked, g_free);
  g_object_set_data_full (G_OBJECT (parent), KEY, dialog, destroy_dialog);
  g_signal_connect (dialog, "response", G_CALLBACK (response_cb), asked);
  gtk_native_dialog_show (dialog);
}
