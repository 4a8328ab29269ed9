/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pointsman-cli parts. */
#include "config.h"
#include "pm-command.h"

int
pm_command_parts (int argc, char **argv)
{
  return PM_EXIT_UNREADABLE;
}
