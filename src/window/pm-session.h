/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One open file: reads and checks it in a thread, watches it and all files it names, and does it again when one of them
 * changes. */
#pragma once
#include "pm-study.h"

G_BEGIN_DECLS
#define PM_TYPE_SESSION (pm_session_get_type ())
G_DECLARE_FINAL_TYPE (PmSession, pm_session, PM, SESSION, GObject)

/* Signal "loaded": a load ended, well or not.  Property "busy": one is running. */
PmSession      *pm_session_new        (void);
/* Forgets what was open and loads path. */
void            pm_session_open       (PmSession *self, const char *path);
/* Loads the same file again; what is shown stays until the new answer is there. */
void            pm_session_reload     (PmSession *self);
/* Stops a running load; what is shown stays. */
void            pm_session_cancel     (PmSession *self);
void            pm_session_close      (PmSession *self);
const char     *pm_session_get_path   (PmSession *self);   /* or NULL */
PmStudy        *pm_session_get_study  (PmSession *self);   /* the last good one, or NULL */
const PmFaults *pm_session_get_faults (PmSession *self);   /* of the last load; NULL if it was good */
gboolean        pm_session_get_busy   (PmSession *self);
G_END_DECLS
