/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program: options, windows, settings, what belongs to no single window. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_APPLICATION (pm_application_get_type ())
G_DECLARE_FINAL_TYPE (PmApplication, pm_application, PM, APPLICATION, GtkApplication)

PmApplication *pm_application_new          (void);
/* As g_application_run, but a picture that could not be written is an exit status as well. */
int            pm_application_run          (PmApplication *self, int argc, char **argv);
/* The program's settings; NULL where the schema is not installed. New reference. */
GSettings     *pm_application_new_settings (void);
G_END_DECLS
