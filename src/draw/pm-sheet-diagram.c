/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The wiring diagram on paper: as large as the page allows, and never so small that its words are under 8 pt; then in
 * parts on several pages, cut where only wires are cut if there is such a place. */
#include "config.h"
#include "pm-sheet.h"
#include "pm-diagram.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* The smallest words of a diagram against its style's font of 10 pt; so much may it be made smaller. */
#define SMALLEST_WORDS 0.72
#define LEAST_SCALE (PM_SMALLEST_TEXT / (10 * SMALLEST_WORDS))
#define MOST_SCALE 1.5
#define OVERLAP 8.0               /* least, in the diagram's units */

/* One part of it, in its own units. */
typedef struct {
  PmDiagram  *diagram;
  guint       case_index;
  double      scale;
  double      x, y, width, height;
  double      full_width, full_height;
  gboolean    owner;
} Part;

static void
part_free (gpointer data)
{
  Part *part = data;

  if (part->owner)
    pm_diagram_free (part->diagram);
  g_free (part);
}

static void
part_draw (cairo_t *cr, const PmType *type, double width, double height, gpointer data)
{
  Part *part = data;
  PmDiagramShow show = { .case_index = part->case_index, .element = -1 };

  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  cairo_scale (cr, part->scale, part->scale);
  cairo_translate (cr, -part->x, -part->y);
  pm_diagram_draw (part->diagram, cr, &show);
  cairo_restore (cr);
}

static char **
part_check (gpointer data)
{
  return pm_diagram_check (((Part *) data)->diagram);
}

/* Dashed edges where it goes on, so that nobody takes a part for the whole. */
static void
add_edges (PmInk *ink, const Part *part, double x, double y, double wide, double high)
{
  if (part->x > 0)
    pm_ink_line (ink, x, y, x, y + high, 0.7, PM_INK_DASHED | PM_INK_FAINT);
  if (part->x + part->width < part->full_width - 0.5)
    pm_ink_line (ink, x + wide, y, x + wide, y + high, 0.7, PM_INK_DASHED | PM_INK_FAINT);
  if (part->y > 0)
    pm_ink_line (ink, x, y, x + wide, y, 0.7, PM_INK_DASHED | PM_INK_FAINT);
  if (part->y + part->height < part->full_height - 0.5)
    pm_ink_line (ink, x, y + high, x + wide, y + high, 0.7, PM_INK_DASHED | PM_INK_FAINT);
}

static PmInk *
part_picture (PmType *type, double width, double size, double *height, gpointer data)
{
  Part *part = data;
  PmInk *ink = pm_ink_new ();
  double wide = part->width * part->scale, high = part->height * part->scale, x = MAX (0, (width - wide) / 2);

  pm_ink_picture (ink, x, 0, wide, high, part_draw, part_check, part);
  add_edges (ink, part, x, 0, wide, high);
  *height = high + 4;
  return ink;
}

/* From where to where a part goes, in the diagram's units. */
typedef struct { double from, to; } Span;

/* Pin numbers and names stand outside of symbols: cuts keep as far away as there is room for. */
static const double AWAY[] = { 24, 14, 4 };

static gboolean
cuts_a_symbol (const PmDiagram *diagram, gboolean across, double at, double around)
{
  for (guint i = 0; i < pm_diagram_n_elements (diagram); i++) {
    const PmDiagramElement *element = pm_diagram_element (diagram, i);
    double from = across ? element->area.x : element->area.y;
    double to = from + (across ? element->area.width : element->area.height);

    if (element->kind == PM_DIAGRAM_SYMBOL && at > from - around && at < to + around)
      return TRUE;
  }
  return FALSE;
}

/* The place nearest to one wanted, from low to high, where a cut goes through wires only; high where there is none. */
static double
clear_cut (const PmDiagram *diagram, gboolean across, double low, double wanted, double high)
{
  for (guint i = 0; i < G_N_ELEMENTS (AWAY); i++)
    for (double way = 0; wanted - way >= low || wanted + way <= high; way += 2) {
      if (wanted + way <= high && !cuts_a_symbol (diagram, across, wanted + way, AWAY[i]))
        return wanted + way;
      if (wanted - way >= low && !cuts_a_symbol (diagram, across, wanted - way, AWAY[i]))
        return wanted - way;
    }
  return high;
}

/* As few as there is room for, about equally large. */
static GArray *
spans (const PmDiagram *diagram, gboolean across, double full, double room)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (Span));
  guint n = (guint) ceil ((full - 0.5) / room);
  double from = 0;

  for (; n > 1; n--) {
    double least = MAX (from + room * 0.2, full - (n - 1) * room);
    Span span = { from, clear_cut (diagram, across, least, from + (full - from) / n, from + room) };

    g_array_append_val (all, span);
    /* Where a symbol is cut all the same, the next part begins before it. */
    from = MAX (from + room * 0.2, clear_cut (diagram, across, span.to - room * 0.4, span.to - OVERLAP,
                                              span.to - OVERLAP));
    n += full - from > (n - 1) * room;
  }
  Span last = { from, full };
  g_array_append_val (all, last);
  return all;
}

/* scale: as large as it may be in one part, or the least. */
static void
parts_of (const PmDiagram *diagram, double room_width, double room_height, double least, double *scale,
          GArray **columns, GArray **rows)
{
  double width, height;

  pm_diagram_size (diagram, &width, &height);
  *scale = MIN (MIN (room_width / width, room_height / height), MOST_SCALE);
  *scale = MAX (*scale, least);
  *columns = spans (diagram, TRUE, width, room_width / *scale);
  *rows = spans (diagram, FALSE, height, room_height / *scale);
}

/* Height of what is told below it. */
static double
note_height (PmType *type, const PmDiagram *diagram, double width)
{
  const char *rest = pm_diagram_rest (diagram);
  double size = 9;

  return 10 + pm_type_line (type, size) *
                  (rest ? ceil ((pm_type_width (type, rest, size, FALSE) * 1.03) / width) : 0);
}

/* Whether it lies: fewer parts that way, or larger. */
gboolean
pm_sheet_diagram_lies (const PmSheetInput *in)
{
  g_autoptr (PmDiagram) diagram = pm_diagram_new (in->check, pm_type_style (in->type), pm_type_context (in->type));
  double scale[2], room_width, room_height;
  guint n[2];

  for (guint lies = 0; lies < 2; lies++) {
    g_autoptr (GArray) columns = NULL, rows = NULL;

    pm_sheet_room (in->options, lies, &room_width, &room_height);
    room_height -= note_height (in->type, diagram, room_width);
    parts_of (diagram, room_width, room_height, LEAST_SCALE, &scale[lies], &columns, &rows);
    n[lies] = columns->len * rows->len;
  }
  return n[1] < n[0] || (n[1] == n[0] && scale[1] >= scale[0]);
}

double
pm_sheet_diagram_width (const PmSheetInput *in)
{
  g_autoptr (PmDiagram) diagram = pm_diagram_new (in->check, pm_type_style (in->type), pm_type_context (in->type));
  double width, height;

  pm_diagram_size (diagram, &width, &height);
  return ceil (width);
}

void
pm_sheet_add_diagram (PmFlow *flow, const PmSheetInput *in, double room_width, double room_height, gboolean on_paper)
{
  PmDiagram *diagram = pm_diagram_new (in->check, pm_type_style (in->type), pm_type_context (in->type));
  g_autoptr (GArray) columns = NULL, rows = NULL;
  double width, height, scale;
  guint n;
  g_autofree char *told = g_strdup (pm_diagram_rest (diagram));

  pm_diagram_size (diagram, &width, &height);
  room_height -= note_height (in->type, diagram, room_width);
  parts_of (diagram, room_width, room_height, on_paper ? LEAST_SCALE : 0, &scale, &columns, &rows);
  n = columns->len * rows->len;
  for (guint i = 0; i < n; i++) {
    const Span *column = &g_array_index (columns, Span, i % columns->len);
    const Span *row = &g_array_index (rows, Span, i / columns->len);
    Part *part = g_new0 (Part, 1);

    *part = (Part) { .diagram = diagram, .case_index = in->options->case_index, .scale = scale,
                     .x = column->from, .y = row->from, .width = column->to - column->from,
                     .height = row->to - row->from, .full_width = width, .full_height = height, .owner = i == 0 };
    pm_flow_picture (flow, part_picture, part, part_free);
  }
  if (told)
    pm_flow_note (flow, told);
}

PmFlow *
pm_sheet_diagram (const PmSheetInput *in, guint degree)
{
  PmFlow *flow = pm_flow_new (in->type);
  double width, height;

  pm_sheet_room (in->options, pm_sheet_diagram_lies (in), &width, &height);
  pm_sheet_add_diagram (flow, in, width, height, TRUE);
  return flow;
}
