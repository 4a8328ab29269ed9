/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures to hand on: a flow without pages, drawn at twice its size. */
#include "config.h"
#include "pm-picture.h"
#include "pm-sheet.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define WIDTH 600.0
#define MARGIN 24.0
#define SCALE 2.0
#define TEXT 9.5

struct _PmPicture {
  PmType     *type;
  GHashTable *plans;
  PmFlow     *flow;
  PmInk      *ink;
  double      width, height;      /* before scaling */
};

static const char *const IDS[PM_N_PICTURES] = { "routes", "diagram", "pins" };

const char *
pm_picture_id (PmPictureKind kind)
{
  g_return_val_if_fail (kind < PM_N_PICTURES, NULL);
  return IDS[kind];
}

int
pm_picture_kind (const char *id)
{
  for (guint i = 0; i < PM_N_PICTURES; i++)
    if (g_str_equal (id, IDS[i]))
      return i;
  return -1;
}

gboolean
pm_picture_applies (const PmCheck *check, PmPictureKind kind)
{
  return kind != PM_PICTURE_PINS || check->board->has_board;
}

static void
add_head (PmFlow *flow, const PmCheck *check)
{
  g_autofree char *name = pm_sheet_board (check);
  PmSeverity mark = pm_sheet_verdict_mark (check);

  pm_flow_heading (flow, 0, name);
  if (mark == PM_SEVERITY_NOTE)
    pm_flow_strong (flow, check->verdict_text);
  else
    pm_flow_marked (flow, mark, check->verdict_text, FALSE);
}

static void
add_pins (PmFlow *flow, const PmSheetInput *in)
{
  const char *const *warnings = pm_sheet_pin_maps (flow, in, FALSE);

  for (guint i = 0; warnings[i]; i++)
    pm_flow_bullet (flow, warnings[i]);
}

PmPicture *
pm_picture_new (const PmCheck *check, PmPictureKind kind, guint case_index, gboolean no_colour)
{
  PmPicture *picture = g_new0 (PmPicture, 1);
  g_autofree char *file = g_path_get_basename (check->board->path);
  g_autofree char *foot = g_strdup_printf (_("%s, file %s"), file, check->board->hash);
  g_autoptr (GPtrArray) pages = NULL;
  const PmPaperOptions options = { .case_index = case_index, .no_colour = no_colour };
  PmSheetInput in = { .check = check, .options = &options };
  double width = WIDTH;

  picture->type = in.type = pm_type_new (no_colour);
  picture->plans = in.plans = pm_sheet_plans_new ();
  picture->flow = pm_flow_new (picture->type);
  if (kind == PM_PICTURE_DIAGRAM)
    width = MAX (WIDTH, pm_sheet_diagram_width (&in) + 2 * MARGIN);
  add_head (picture->flow, check);
  if (kind == PM_PICTURE_PINS)
    add_pins (picture->flow, &in);
  else if (kind == PM_PICTURE_DIAGRAM)
    pm_sheet_add_diagram (picture->flow, &in, width - 2 * MARGIN, 1e6, FALSE);
  else {
    GArray *cases = pm_sheet_result_cases (check);

    pm_sheet_plans (picture->flow, &in, cases, MIN (2, cases->len), 1);
  }
  pm_flow_note (picture->flow, foot);
  pages = pm_flow_pages (picture->flow, width - 2 * MARGIN, 1e6, 1e6, TEXT, &picture->height);
  picture->ink = g_steal_pointer (&pages->pdata[0]);
  picture->width = width;
  picture->height = ceil (picture->height + 2 * MARGIN);
  return picture;
}

void
pm_picture_free (PmPicture *picture)
{
  if (!picture)
    return;
  pm_ink_free (picture->ink);
  pm_flow_free (picture->flow);
  g_hash_table_unref (picture->plans);
  pm_type_free (picture->type);
  g_free (picture);
}

void
pm_picture_size (const PmPicture *picture, double *width, double *height)
{
  *width = picture->width * SCALE;
  *height = picture->height * SCALE;
}

void
pm_picture_draw (cairo_t *cr, gpointer data)
{
  const PmPicture *picture = data;

  cairo_save (cr);
  cairo_scale (cr, SCALE, SCALE);
  cairo_translate (cr, MARGIN, MARGIN);
  pm_ink_draw (picture->ink, picture->type, cr);
  cairo_restore (cr);
}
