/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One table for GtkApplication, which takes accelerators by action, and for the help window, which lists them. */
#include "config.h"
#include "pm-shortcuts.h"
#include <glib/gi18n.h>

static const PmShortcut table[] = {
  { N_("Board"), N_("Open a board"), "win.open", "<Control>o", FALSE },
  { N_("Board"), N_("Read the file again"), "win.reload", "F5 <Control>r", FALSE },
  { N_("Board"), N_("The file, with findings at their lines"), "win.file", "<Control>e", FALSE },
  { N_("Board"), N_("The page as text"), "win.text-twin", "<Control>t", FALSE },
  { N_("Board"), N_("Print, or save sheets as PDF"), "win.print", "<Control>p", FALSE },
  { N_("Settings and findings"), N_("Move the lever that has the focus"), NULL, "Left Right", FALSE },
  { N_("Settings and findings"), N_("Next setting"), "win.setting-next", "bracketright", TRUE },
  { N_("Settings and findings"), N_("Setting before"), "win.setting-before", "bracketleft", TRUE },
  { N_("Settings and findings"), N_("Choose a result by its number"), NULL, "1...9", FALSE },
  { N_("Settings and findings"), N_("Next finding"), "win.finding-next", "F8", FALSE },
  { N_("Settings and findings"), N_("Finding before"), "win.finding-before", "<Shift>F8", FALSE },
  { N_("Pages"), N_("Routes"), "win.page::routes", "<Alt>1", FALSE },
  { N_("Pages"), N_("Diagram"), "win.page::diagram", "<Alt>2", FALSE },
  { N_("Pages"), N_("Pins"), "win.page::pins", "<Alt>3", FALSE },
  { N_("Pages"), N_("Build"), "win.page::build", "<Alt>4", FALSE },
  { N_("Diagram"), N_("Larger"), NULL, "<Control>plus", FALSE },
  { N_("Diagram"), N_("Smaller"), NULL, "<Control>minus", FALSE },
  { N_("Diagram"), N_("Full size"), NULL, "<Control>0", FALSE },
  { N_("Diagram"), N_("The whole diagram"), NULL, "<Control>9", FALSE },
  { N_("Window"), N_("Next area"), "win.area-next", "F6", FALSE },
  { N_("Window"), N_("Area before"), "win.area-before", "<Shift>F6", FALSE },
  { N_("Window"), N_("Show or hide switches and findings"), "win.pane", "F9", FALSE },
  { N_("Window"), N_("Back: end what is tried, close the pane, close the drawer"), "win.back", "Escape", TRUE },
  { N_("Window"), N_("Main menu"), NULL, "F10", FALSE },
  { N_("Window"), N_("Help: what the words mean"), "win.help", "F1", FALSE },
  { N_("Window"), N_("Help: the keys"), "win.shortcuts", "<Control>question", FALSE },
  { N_("Window"), N_("Close the window"), "win.close", "<Control>w", FALSE },
  { N_("Window"), N_("Quit"), "app.quit", "<Control>q", FALSE },
  { NULL },
};

const PmShortcut *
pm_shortcuts_table (void)
{
  return table;
}

void
pm_shortcuts_install (GtkApplication *application)
{
  for (const PmShortcut *shortcut = table; shortcut->title != NULL; shortcut++) {
    g_auto (GStrv) accels = g_strsplit (shortcut->accels, " ", -1);

    if (shortcut->action != NULL && !shortcut->gentle)
      gtk_application_set_accels_for_action (application, shortcut->action, (const char *const *) accels);
  }
}

void
pm_shortcuts_add_gentle (GtkWidgetClass *widget_class)
{
  for (const PmShortcut *shortcut = table; shortcut->title != NULL; shortcut++) {
    g_auto (GStrv) accels = g_strsplit (shortcut->accels, " ", -1);
    guint key;
    GdkModifierType modifiers;

    for (guint i = 0; accels[i] != NULL && shortcut->gentle; i++)
      if (gtk_accelerator_parse (accels[i], &key, &modifiers))
        gtk_widget_class_add_binding_action (widget_class, key, modifiers, shortcut->action, NULL);
  }
}
