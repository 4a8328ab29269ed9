/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheets to build by: wires, cables, parts, steps, checks. */
#include "config.h"
#include "pm-sheet.h"

#include <glib/gi18n-lib.h>

/* Nobody solders by a sheet without seeing what stands against it. */
static void
add_warning (PmFlow *flow, const PmCheck *check)
{
  PmSeverity mark = pm_sheet_verdict_mark (check);

  if (mark != PM_SEVERITY_NOTE)
    pm_flow_marked (flow, mark, check->verdict_text, FALSE);
}

static PmFlow *
list_sheet (const PmSheetInput *in, PmListKind kind)
{
  PmFlow *flow = pm_flow_new (in->type);

  pm_flow_heading (flow, 0, pm_list_kind_title (kind));
  add_warning (flow, in->check);
  pm_flow_list (flow, pm_sheet_list_of (in, kind), NULL);
  return flow;
}

PmFlow *
pm_sheet_wires (const PmSheetInput *in, guint degree)
{
  return list_sheet (in, PM_LIST_WIRES);
}

PmFlow *
pm_sheet_cables (const PmSheetInput *in, guint degree)
{
  return list_sheet (in, PM_LIST_CABLES);
}

PmFlow *
pm_sheet_parts (const PmSheetInput *in, guint degree)
{
  PmFlow *flow = list_sheet (in, PM_LIST_PARTS);
  PmList *alternates = pm_sheet_list_of (in, PM_LIST_ALTERNATES);

  if (alternates->n_rows > 0) {
    pm_flow_heading (flow, 1, pm_list_kind_title (PM_LIST_ALTERNATES));
    pm_flow_list (flow, alternates, NULL);
  } else
    pm_list_free (alternates);
  return flow;
}

PmFlow *
pm_sheet_steps (const PmSheetInput *in, guint degree)
{
  PmFlow *flow = pm_flow_new (in->type);

  pm_flow_heading (flow, 0, pm_list_kind_title (PM_LIST_STEPS));
  add_warning (flow, in->check);
  pm_flow_list (flow, pm_sheet_list_of (in, PM_LIST_STEPS), NULL);
  return flow;
}

PmFlow *
pm_sheet_checks (const PmSheetInput *in, guint degree)
{
  PmFlow *flow = pm_flow_new (in->type);

  pm_flow_heading (flow, 0, pm_list_kind_title (PM_LIST_CHECKS));
  add_warning (flow, in->check);
  pm_flow_marked (flow, PM_SEVERITY_CARE,
                  _("Checks 1 to 3 with the power off and the plug out of the mains: under power a reading of ohms is "
                    "worth nothing, and the meter may harm the machine."), TRUE);
  pm_flow_list (flow, pm_sheet_list_of (in, PM_LIST_CHECKS), NULL);
  return flow;
}
