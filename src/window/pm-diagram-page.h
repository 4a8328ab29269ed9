/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The wiring diagram as it stands in the chosen setting, with what the machine turns on. */
#pragma once
#include "pm-page.h"

G_BEGIN_DECLS
#define PM_TYPE_DIAGRAM_PAGE (pm_diagram_page_get_type ())
G_DECLARE_FINAL_TYPE (PmDiagramPage, pm_diagram_page, PM, DIAGRAM_PAGE, GtkBox)
G_END_DECLS
