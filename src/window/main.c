/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pointsman: the window. */
#include "config.h"
#include "pm-application.h"
#include <glib/gi18n.h>
#include <locale.h>

int
main (int argc, char **argv)
{
  g_autoptr (PmApplication) application = NULL;

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, PM_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  g_set_application_name (_("Pointsman"));
  application = pm_application_new ();
  return pm_application_run (application, argc, argv);
}
