/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One picture to hand on: routes of every result, wiring diagram or pins, with title, verdict and hash in it.
 *
 * 1200 pixels wide where its content allows, as high as it must be; always ink on white.
 */
#pragma once
#include "pm-check.h"
#include "pm-style.h"

G_BEGIN_DECLS

typedef enum { PM_PICTURE_ROUTES, PM_PICTURE_DIAGRAM, PM_PICTURE_PINS, PM_N_PICTURES } PmPictureKind;
typedef struct _PmPicture PmPicture;

/* "routes", "diagram", "pins": borrowed; and the kind of an id, or -1. */
const char *pm_picture_id      (PmPictureKind kind);
int         pm_picture_kind    (const char *id);
/* FALSE where a board has nothing for it. */
gboolean    pm_picture_applies (const PmCheck *check, PmPictureKind kind);
/* case_index: the setting it shows, where it shows one.  check must outlive it.  Never NULL. */
PmPicture  *pm_picture_new     (const PmCheck *check, PmPictureKind kind, guint case_index, gboolean no_colour);
void        pm_picture_free    (PmPicture *picture);
void        pm_picture_size    (const PmPicture *picture, double *width, double *height);
/* At 0,0, on a ground that is white already; picture is a PmPicture, for pm_export_picture. */
void        pm_picture_draw    (cairo_t *cr, gpointer picture);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmPicture, pm_picture_free)
G_END_DECLS
