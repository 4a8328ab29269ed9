/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is printed and on what, remembered from one time to the next: choices of the print window, kept in GSettings. */
#pragma once
#include "pm-paper.h"
#include <gio/gio.h>

G_BEGIN_DECLS

/* settings may be NULL: the usual ones.  Strings in options are left alone. */
void        pm_page_setup_load (GSettings *settings, PmPaperOptions *options);
void        pm_page_setup_save (GSettings *settings, const PmPaperOptions *options);
G_END_DECLS
