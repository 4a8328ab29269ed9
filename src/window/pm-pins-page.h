/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pins that the board sits between: their map from either side, the chosen pin in full, and what happens when the
 * board is put in turned round or was built mirrored. */
#pragma once
#include "pm-page.h"
#include "pm-pin-view.h"

G_BEGIN_DECLS
#define PM_TYPE_PINS_PAGE (pm_pins_page_get_type ())
G_DECLARE_FINAL_TYPE (PmPinsPage, pm_pins_page, PM, PINS_PAGE, GtkBox)
G_END_DECLS
