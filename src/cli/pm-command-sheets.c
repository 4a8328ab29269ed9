/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pointsman-cli sheets, picture: hands over to pointsman-draw, which links what draws.  So this program runs
 * where there is no drawing library. */
#include "config.h"
#include "pm-command.h"
#include <errno.h>
#include <glib/gi18n.h>
#include <string.h>
#include <unistd.h>

/* Beside this program, in the build folder's sheets beside its cli, where it is installed, anywhere on the path. */
static char *
find_program (void)
{
  static const char *const BESIDE[] = { "pointsman-draw", "../sheets/pointsman-draw" };
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *folder = self != NULL ? g_path_get_dirname (self) : NULL;

  for (guint i = 0; folder != NULL && i < G_N_ELEMENTS (BESIDE); i++) {
    g_autofree char *path = g_build_filename (folder, BESIDE[i], NULL);
    if (g_file_test (path, G_FILE_TEST_IS_EXECUTABLE) && !g_file_test (path, G_FILE_TEST_IS_DIR))
      return g_steal_pointer (&path);
  }
  if (g_file_test (PM_BIN_DIR "/pointsman-draw", G_FILE_TEST_IS_EXECUTABLE))
    return g_strdup (PM_BIN_DIR "/pointsman-draw");
  return g_find_program_in_path ("pointsman-draw");
}

/* Only comes back if it cannot be started. arguments: NULL-terminated, without the program's name. */
static int
hand_over (const char *command, const char *const *arguments)
{
  g_autofree char *program = find_program ();
  g_autoptr (GPtrArray) all = g_ptr_array_new ();

  if (program == NULL) {
    g_printerr (_("pointsman-cli %s: pointsman-draw is not installed. It is built where cairo and pango are (in "
                  "Debian: libcairo2-dev and libpango1.0-dev)\n"), command);
    return PM_EXIT_UNREADABLE;
  }
  g_ptr_array_add (all, program);
  for (guint i = 0; arguments[i] != NULL; i++)
    g_ptr_array_add (all, (gpointer) arguments[i]);
  g_ptr_array_add (all, NULL);
  execv (program, (char **) all->pdata);
  g_printerr (_("pointsman-cli %s: cannot start %s: %s\n"), command, program, g_strerror (errno));
  return PM_EXIT_UNREADABLE;
}

int
pm_command_sheets (int argc, char **argv)
{
  return hand_over ("sheets", (const char *const *) argv + 1);
}

int
pm_command_picture (int argc, char **argv)
{
  g_autoptr (GPtrArray) arguments = g_ptr_array_new ();
  g_autofree char *kind = argc > 1 ? g_strdup_printf ("--picture=%s", argv[1]) : NULL;

  if (argc < 2) {
    g_printerr (_("pointsman-cli picture: name the picture (routes, diagram or pins) and the board. See pointsman-cli "
                  "picture --help\n"));
    return PM_EXIT_UNREADABLE;
  }
  g_ptr_array_add (arguments, argv[1][0] == '-' ? argv[1] : kind);
  for (int i = 2; i < argc; i++)
    g_ptr_array_add (arguments, argv[i]);
  g_ptr_array_add (arguments, NULL);
  return hand_over ("picture", (const char *const *) arguments->pdata);
}
