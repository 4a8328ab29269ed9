/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pointsman-cli parts: the library as a list, or one part or family of it in full. */
#include "config.h"
#include "pm-command.h"
#include "pm-part-text.h"
#include <glib/gi18n.h>

static char *
one_in_full (PmLibrary *library, const char *name, PmFaults *faults)
{
  g_auto (GStrv) families = pm_library_list (library, "family");
  for (guint i = 0; families[i] != NULL; i++)
    if (g_ascii_strcasecmp (families[i], name) == 0)
      return pm_part_text_family (library, families[i], 80, faults);
  return pm_part_text_part (library, name, 80, faults);
}

int
pm_command_parts (int argc, char **argv)
{
  int code;
  if (!pm_command_options ("parts", N_("[TYPE]"), N_("the parts that are known, or one of them in full"), NULL, &argc,
                           &argv, &code))
    return code;
  g_autoptr (PmLibrary) library = pm_library_new (NULL);
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autofree char *name = g_strjoinv (" ", argv + 1); /* header 1x3 may be written as two words */
  g_autofree char *text = argc > 1 ? one_in_full (library, name, faults) : pm_part_text_list (library, 80, faults);
  pm_command_tell_faults ("parts", faults);
  if (text == NULL)
    return PM_EXIT_UNREADABLE;
  return pm_command_print (text, pm_faults_count (faults) > 0 ? PM_EXIT_UNREADABLE : PM_EXIT_FINE);
}
