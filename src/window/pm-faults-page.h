/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A file that could not be read when it was opened: one row per fault. */
#pragma once
#include "pm-fault.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_FAULTS_PAGE (pm_faults_page_get_type ())
G_DECLARE_FINAL_TYPE (PmFaultsPage, pm_faults_page, PM, FAULTS_PAGE, GtkBox)

/* Signal "fault-activated" (uint index). */
void     pm_faults_page_show  (PmFaultsPage *self, const char *path, const PmFaults *faults);
gboolean pm_faults_page_focus (PmFaultsPage *self);
G_END_DECLS
