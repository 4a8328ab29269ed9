/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A menu button cannot be derived from, so what belongs to one hangs on it. */
#include "config.h"
#include "pm-list-menu.h"
#include "pm-document.h"
#include "pm-save-as.h"
#include <glib/gi18n.h>
#include <string.h>

#define KEY "pm-list-menu"
#define TEXT_WIDTH 78

typedef struct {
  GtkWidget     *owner;      /* weak */
  PmListMenuFunc get;
  PmListToldFunc told;
  char          *title, *board;
} Menu;

static void
menu_free (gpointer data)
{
  Menu *menu = data;

  g_clear_weak_pointer (&menu->owner);
  g_free (menu->title);
  g_free (menu->board);
  g_free (menu);
}

static void
copy_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  Menu *menu = g_object_get_data (data, KEY);
  g_autoptr (PmList) list = menu->owner != NULL ? menu->get (menu->owner, FALSE) : NULL;
  g_autofree char *text = NULL, *told = NULL;

  if (list == NULL)
    return;
  text = pm_list_text (list, TEXT_WIDTH);
  told = g_strdup_printf (_("%s: copied as text."), list->title);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (menu->owner), text);
  menu->told (menu->owner, told);
}

static void
save_cb (const char *path, gpointer data)
{
  Menu *menu = g_object_get_data (data, KEY);
  g_autoptr (PmList) list = menu->owner != NULL ? menu->get (menu->owner, TRUE) : NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *csv = NULL, *told = NULL;

  if (list == NULL)
    return;
  csv = pm_list_csv (list);
  if (pm_file_write_atomic (path, csv, strlen (csv), &error))
    told = g_strdup_printf (_("Saved: %s"), path);
  menu->told (menu->owner, told != NULL ? told : error->message);
}

static void
csv_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  Menu *menu = g_object_get_data (data, KEY);
  GtkRoot *root = gtk_widget_get_root (data);
  g_autofree char *title = g_strdup_printf (_("%s: save as CSV"), menu->title);

  if (GTK_IS_WINDOW (root))
    pm_save_as (GTK_WINDOW (root), title, menu->board, "csv", save_cb, data);
}

GtkWidget *
pm_list_menu_new (GtkWidget *owner, const char *title, PmListMenuFunc get, PmListToldFunc told)
{
  static const GActionEntry entries[] = { { "copy", copy_cb, NULL, NULL, NULL, { 0 } },
                                          { "save", csv_cb, NULL, NULL, NULL, { 0 } } };
  GtkWidget *button = gtk_menu_button_new ();
  g_autoptr (GSimpleActionGroup) actions = g_simple_action_group_new ();
  g_autoptr (GMenu) model = g_menu_new ();
  g_autofree char *label = g_strdup_printf (_("Menu of the list: %s"), title);
  Menu *menu = g_new0 (Menu, 1);

  g_set_weak_pointer (&menu->owner, owner);
  menu->get = get;
  menu->told = told;
  menu->title = g_strdup (title);
  g_object_set_data_full (G_OBJECT (button), KEY, menu, menu_free);
  g_action_map_add_action_entries (G_ACTION_MAP (actions), entries, G_N_ELEMENTS (entries), button);
  gtk_widget_insert_action_group (button, "list", G_ACTION_GROUP (actions));
  g_menu_append (model, _("_Copy as text"), "list.copy");
  g_menu_append (model, _("_Save as CSV…"), "list.save");
  g_menu_append (model, _("_Print…"), "win.print");
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), G_MENU_MODEL (model));
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (button), "view-more-symbolic");
  gtk_widget_set_tooltip_text (button, _("Copy, save or print this list"));
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return button;
}

void
pm_list_menu_set_board (GtkWidget *button, const char *board)
{
  Menu *menu = g_object_get_data (G_OBJECT (button), KEY);

  g_return_if_fail (menu != NULL);
  g_free (menu->board);
  menu->board = g_strdup (board);
}
