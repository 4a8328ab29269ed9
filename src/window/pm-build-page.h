/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a board is built by: parts with prices, wires and steps to tick off, checks, and an order for a group. */
#pragma once
#include "pm-page.h"

G_BEGIN_DECLS
#define PM_TYPE_BUILD_PAGE (pm_build_page_get_type ())
G_DECLARE_FINAL_TYPE (PmBuildPage, pm_build_page, PM, BUILD_PAGE, GtkBox)

/* "parts", "wires", "steps", "checks" or "order"; another name changes nothing. */
void        pm_build_page_set_view (PmBuildPage *self, const char *name);
const char *pm_build_page_get_view (PmBuildPage *self);
/* The sentence at the foot, "" where there is none. */
const char *pm_build_page_get_told (PmBuildPage *self);
G_END_DECLS
