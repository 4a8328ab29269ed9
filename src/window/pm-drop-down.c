/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The factory for the button makes short labels, that for the list whole ones. */
#include "config.h"
#include "pm-drop-down.h"

#define MOST_CHARS 36

static void
setup_cb (GtkListItemFactory *factory, GtkListItem *item, gpointer short_names)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (GPOINTER_TO_INT (short_names)) {
    gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_MIDDLE);
    gtk_label_set_max_width_chars (GTK_LABEL (label), MOST_CHARS);
  }
  gtk_list_item_set_child (item, label);
}

static void
bind_cb (GtkListItemFactory *factory, GtkListItem *item, gpointer data)
{
  gtk_label_set_text (GTK_LABEL (gtk_list_item_get_child (item)),
                      gtk_string_object_get_string (gtk_list_item_get_item (item)));
}

static GtkListItemFactory *
new_factory (gboolean short_names)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  g_signal_connect (factory, "setup", G_CALLBACK (setup_cb), GINT_TO_POINTER (short_names));
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), NULL);
  return factory;
}

void
pm_drop_down_shorten (GtkDropDown *drop_down)
{
  g_autoptr (GtkListItemFactory) button = new_factory (TRUE), list = new_factory (FALSE);

  gtk_drop_down_set_factory (drop_down, button);
  gtk_drop_down_set_list_factory (drop_down, list);
}
