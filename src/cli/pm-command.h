/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands of pointsman-cli: one file each, one table in main.c. Exit codes: 0 fine, 1 not ready or no verdict, 2
 * cannot be read or wrong use. */
#pragma once
#include "pm-board.h"

G_BEGIN_DECLS
#define PM_EXIT_FINE 0
#define PM_EXIT_NOT_READY 1
#define PM_EXIT_UNREADABLE 2

typedef struct {
  const char *name, *arguments, *summary;          /* summary: N_() */
  int (*run) (int argc, char **argv);              /* argv[0] is the command */
} PmCommand;

int pm_command_check  (int argc, char **argv);
int pm_command_routes (int argc, char **argv);
int pm_command_truth  (int argc, char **argv);
int pm_command_list   (int argc, char **argv);
int pm_command_report (int argc, char **argv);
int pm_command_parts  (int argc, char **argv);
int pm_command_sheets (int argc, char **argv);
int pm_command_picture(int argc, char **argv);

/* Parses options of a command; prints and returns FALSE on an error or --help, with *code set. */
gboolean pm_command_options (const char *name, const char *arguments, const char *summary, const GOptionEntry *entries,
                             int *argc, char ***argv, int *code);
/* The same with a description (translated) after the options in --help; NULL for none. */
gboolean pm_command_options_with (const char *description, const char *name, const char *arguments,
                                  const char *summary, const GOptionEntry *entries, int *argc, char ***argv, int *code);
/* Prints every fault to stderr, those of no file under the name of the command. */
void     pm_command_tell_faults (const char *command, const PmFaults *faults);
/* Loads a board; prints every fault to stderr and returns NULL if there was any. */
PmBoard *pm_command_load    (const char *path, PmLibrary *library);
/* Prints to stdout; PM_EXIT_UNREADABLE with a message if that fails (a full disk, a closed pipe). */
int      pm_command_print   (const char *text, int code);
G_END_DECLS
