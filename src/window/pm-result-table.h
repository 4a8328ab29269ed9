/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The results as a table, a row each, where there are too many for cards. */
#pragma once
#include "pm-choice.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
#define PM_TYPE_RESULT_TABLE (pm_result_table_get_type ())
G_DECLARE_FINAL_TYPE (PmResultTable, pm_result_table, PM, RESULT_TABLE, GtkBox)

void  pm_result_table_set_choice (PmResultTable *self, PmChoice *choice);
/* Where a switch stands in a result: "any", one position, "inside or middle"... Free with g_free. */
char *pm_result_position_text    (const PmCheck *check, guint result, guint switch_index);
G_END_DECLS
