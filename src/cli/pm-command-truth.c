/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pointsman-cli truth. */
#include "config.h"
#include "pm-command.h"

int
pm_command_truth (int argc, char **argv)
{
  return PM_EXIT_UNREADABLE;
}
