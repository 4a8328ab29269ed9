/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words of a track plan: placed one after the other by rank, each where it is free of lines, boxes, marks and other
 * words, or left out. */
#include "config.h"
#include "pm-plan-private.h"

#include <glib/gi18n-lib.h>

/* Sizes against the style's font. */
#define NAME_SIZE  0.95
#define TITLE_SIZE 0.9
#define SMALL_SIZE 0.85
#define BOARD_SIZE 0.8
/* Between words. */
#define WORD_AIR_X 9
#define WORD_AIR_Y 3

gboolean
pm_segment_meets (PmPoint a, PmPoint b, double width, const PmRect *rect)
{
  double grow = width / 2, t0 = 0, t1 = 1;
  double low[2] = { rect->x - grow, rect->y - grow };
  double high[2] = { rect->x + rect->width + grow, rect->y + rect->height + grow };
  double from[2] = { a.x, a.y }, step[2] = { b.x - a.x, b.y - a.y };

  for (int i = 0; i < 2; i++) {
    if (fabs (step[i]) < 1e-9) {
      if (from[i] <= low[i] || from[i] >= high[i])
        return FALSE;
    } else {
      double s = (low[i] - from[i]) / step[i], e = (high[i] - from[i]) / step[i];
      t0 = MAX (t0, MIN (s, e));
      t1 = MIN (t1, MAX (s, e));
    }
  }
  return t0 < t1;
}

static PmRect
grown (const PmRect *r, double x, double y)
{
  return (PmRect){ r->x - x, r->y - y, r->width + 2 * x, r->height + 2 * y };
}

static gboolean
meets_outline (const PmPlan *plan, const PmRect *area)
{
  const PmRect *b = &plan->frame.board;
  PmPoint c[5] = { { b->x, b->y },
                   { b->x + b->width, b->y },
                   { b->x + b->width, b->y + b->height },
                   { b->x, b->y + b->height },
                   { b->x, b->y } };

  for (int i = 0; plan->outlined && i < 4; i++) {
    if (pm_segment_meets (c[i], c[i + 1], plan->frame.m.thin + 7, area))
      return TRUE;
  }
  return FALSE;
}

gboolean
pm_plan_is_free (const PmPlan *plan, const PmRect *area, int box, guint except_word)
{
  const PmPlanFrame *f = &plan->frame;

  if (area->x < 0 || area->y < 0 || area->x + area->width > f->width || area->y + area->height > f->height)
    return FALSE;
  for (guint i = 0; i < plan->boxes->len; i++) {
    const PmRect *b = &PM_AT (plan->boxes, PmPlanBox, i)->area;
    PmRect near = grown (b, 1, 1);
    if ((int) i == box) {
      if (area->x < b->x || area->y < b->y || area->x + area->width > b->x + b->width ||
          area->y + area->height > b->y + b->height)
        return FALSE;
    } else if (pm_rect_overlaps (area, &near)) {
      return FALSE;
    }
  }
  for (guint i = 0; i < plan->tracks->len; i++) {
    const PmTrack *track = PM_AT (plan->tracks, PmTrack, i);
    for (guint p = 0; p + 1 < track->n_points; p++) {
      if (pm_segment_meets (track->points[p], track->points[p + 1], track->width + 2, area))
        return FALSE;
    }
  }
  for (guint i = 0; i < plan->marks->len; i++) {
    PmRect near = grown (&PM_AT (plan->marks, PmTrackMark, i)->area, 2, 1);
    if (pm_rect_overlaps (area, &near))
      return FALSE;
  }
  for (guint i = 0; i < plan->words->len; i++) {
    PmRect near = grown (&PM_AT (plan->words, PmWord, i)->area, WORD_AIR_X, WORD_AIR_Y);
    if (i != except_word && pm_rect_overlaps (area, &near))
      return FALSE;
  }
  return box >= 0 || !meets_outline (plan, area);
}

/* The room that a text takes: its lines without the air above capitals and below the base that fonts add. */
static PmRect
layout_room (PangoLayout *layout)
{
  PangoRectangle ink, logical;

  pango_layout_get_pixel_extents (layout, &ink, &logical);
  return (PmRect){ MIN (ink.x, logical.x), ink.y, MAX (logical.width, ink.width), ink.height };
}

/* How far below the top of its room a text looks centred: a line in the middle of its capitals, whatever hangs below.
 */
static double
middle (PangoLayout *layout, const PmRect *room)
{
  const PangoFontDescription *font = pango_layout_get_font_description (layout);

  if (pango_layout_get_line_count (layout) > 1)
    return room->height / 2;
  return pango_layout_get_baseline (layout) / (double) PANGO_SCALE -
         0.365 * pango_font_description_get_size (font) / PANGO_SCALE - room->y;
}

/* x,y: upper left of the room.  FALSE, and nothing happens, where it is not free. */
static gboolean
put (PmPlan *plan, PangoLayout *layout, double x, double y, int box, PmWordSign sign, gboolean faint)
{
  PmRect room = layout_room (layout);
  PmWord word = { .sign = sign, .faint = faint, .box = box };

  word.indent = sign == PM_WORD_PLAIN ? 0 : round (1.15 * plan->frame.m.em);
  word.area = (PmRect){ round (x), round (y), ceil (room.width + word.indent), room.height };
  if (!pm_plan_is_free (plan, &word.area, box, G_MAXUINT))
    return FALSE;
  word.layout = g_object_ref (layout);
  g_array_append_val (plan->words, word);
  return TRUE;
}

static PangoLayout *
layout_new (const PmPlan *plan, const char *text, double size, gboolean bold)
{
  return pm_style_layout (plan->style, plan->context, text, size, bold);
}

/* Makes a layout fit a width: as it is, then smaller, then in two lines, then with an ellipsis. */
static PangoLayout *
fitted (const PmPlan *plan, const char *text, double size, gboolean bold, double width, double height)
{
  PangoLayout *layout = layout_new (plan, text, size, bold);
  int w, h;

  pango_layout_get_pixel_size (layout, &w, NULL);
  if (w <= width)
    return layout;
  g_object_unref (layout);
  layout = layout_new (plan, text, SMALL_SIZE, bold);
  pango_layout_get_pixel_size (layout, &w, &h);
  if (w <= width)
    return layout;
  pango_layout_set_width (layout, (int) (width * PANGO_SCALE));
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  if (2 * h <= height)
    pango_layout_set_height (layout, -2);
  return layout;
}

static void
host_words (PmPlan *plan)
{
  const PmPlanFrame *f = &plan->frame;
  const PmHost *host = &plan->board->host;
  double inside = f->host_width - 0.8 * f->m.em;

  for (guint u = 0; u < host->n_units; u++) {
    double right = f->host_width - f->m.end / 2 - 0.4 * f->m.em;
    g_autoptr (PangoLayout) layout =
      fitted (plan, host->units[u].name, NAME_SIZE, FALSE, right - 0.3 * f->m.em, f->pitch);
    PmRect room = layout_room (layout);
    plan->n_left_out +=
      !put (plan, layout, right - room.width, pm_plan_row_y (f, u) - middle (layout, &room), 0, PM_WORD_PLAIN, FALSE);
  }
  if (f->host_title && host->title) {
    g_autoptr (PangoLayout) layout = fitted (plan, host->title, TITLE_SIZE, TRUE, inside, 4 * f->m.text);
    PmRect room;
    if (pango_layout_get_width (layout) > 0) {
      pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
      pango_layout_set_wrap (layout, PANGO_WRAP_WORD);
    }
    room = layout_room (layout);
    plan->n_left_out +=
      !put (plan, layout, (f->host_width - room.width) / 2, f->platform_y + 0.55 * f->m.em, 0, PM_WORD_PLAIN, FALSE);
  } else {
    plan->n_left_out++;
  }
}

static void
box_words (PmPlan *plan)
{
  double em = plan->frame.m.em;

  for (guint i = 0; i < plan->boxes->len; i++) {
    PmPlanBox *box = PM_AT (plan->boxes, PmPlanBox, i);
    g_autoptr (PangoLayout) layout = NULL;
    PmRect room;

    if (box->kind == PM_BOX_DRIVE) {
      double left = box->lamp.x + box->lamp_radius + 0.45 * em;
      double width = box->area.x + box->area.width - 0.4 * em - left, height = box->area.height - 4;
      layout = fitted (plan, plan->board->drives[box->drive].title, NAME_SIZE, TRUE, width, box->face ? 0 : height);
      room = layout_room (layout);
      plan->n_left_out += !put (plan, layout, left, box->lamp.y - middle (layout, &room), i, PM_WORD_PLAIN, FALSE);
    } else if (box->kind == PM_BOX_GATE && !plan->open) {
      const PmPort *port = NULL;
      for (guint k = 0; k < plan->ports->len; k++) {
        const PmPort *p = PM_AT (plan->ports, PmPort, k);
        if (p->text && p->box.x == box->area.x && p->box.y == box->area.y)
          port = p;
      }
      if (!port || box->short_form)
        continue;
      layout = pm_plan_gate_layout (plan, port->shown, box->area.width);
      plan->n_left_out += port->shown != port->text;
      room = layout_room (layout);
      plan->n_left_out += !put (plan, layout,
                                box->area.x + PM_GATE_LEFT (&plan->frame.m) +
                                  (box->area.width - PM_GATE_AIR (&plan->frame.m) - room.width) / 2,
                                box->area.y + (box->area.height - room.height) / 2, i, PM_WORD_PLAIN, FALSE);
    }
  }
}

/* Round a mark, nearest first: words of two lines where one line finds no room. */
static gboolean
put_round (PmPlan *plan, const char *text, const PmRect *mark, gboolean beside, gboolean bold, gboolean faint)
{
  double em = plan->frame.m.em, air = round (0.22 * em);

  for (int lines = 1; lines <= 2; lines++) {
    g_autoptr (PangoLayout) layout = layout_new (plan, text, SMALL_SIZE, bold);
    PmRect room;
    double cx = mark->x + mark->width / 2, cy = mark->y + mark->height / 2;

    if (lines == 2) {
      int w;
      pango_layout_get_pixel_size (layout, &w, NULL);
      pango_layout_set_width (layout, (int) ((w * 0.62 + 4) * PANGO_SCALE));
      pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
      pango_layout_set_wrap (layout, PANGO_WRAP_WORD);
      if (pango_layout_get_line_count (layout) != 2)
        return FALSE;
    }
    room = layout_room (layout);
    if (beside &&
        put (plan, layout, mark->x + mark->width + 0.45 * em, cy - middle (layout, &room), -1, PM_WORD_PLAIN, faint))
      return TRUE;
    /* Where rows are close a word between them could be either row's. */
    for (int side = 0; side < 2 && plan->frame.pitch > (lines == 1 ? 2.1 : 2.8) * em; side++) {
      double y = side == 0 ? mark->y - air - room.height : mark->y + mark->height + air;
      double most = room.width / 2 + 1.2 * em;
      for (double off = 0; off <= most; off += 0.35 * em) {
        if (put (plan, layout, cx - room.width / 2 + off, y, -1, PM_WORD_PLAIN, faint) ||
            put (plan, layout, cx - room.width / 2 - off, y, -1, PM_WORD_PLAIN, faint))
          return TRUE;
      }
    }
  }
  return FALSE;
}

static char *
mark_text (const PmPlan *plan, const PmTrackMark *mark)
{
  guint n = 0;

  switch (mark->kind) {
  case PM_TRACK_TWO:
    for (guint i = 0; i < plan->links->len; i++) {
      const PmLink *link = PM_AT (plan->links, PmLink, i);
      n += (int) link->unit == mark->unit && link->kind == PM_LINK_YES;
    }
    return n == 2 ? g_strdup (_("two drives answer"))
                  : g_strdup_printf (ngettext ("%u drive answers", "%u drives answer", n), n);
  case PM_TRACK_BUFFER:
    return g_strdup (_("reaches nothing"));
  case PM_TRACK_FLOATS:
    return g_strdup (_("floats"));
  case PM_TRACK_GATE:
    return g_strdup (_("never on"));
  case PM_TRACK_ALWAYS:
    return g_strdup (_("always on"));
  case PM_TRACK_CLASH:
    return g_strdup (_("outputs collide"));
  case PM_TRACK_END:
  case PM_TRACK_JOINT:
  default:
    return NULL;
  }
}

static void
mark_words (PmPlan *plan)
{
  static const PmTrackMarkKind RANKS[] = { PM_TRACK_TWO,  PM_TRACK_CLASH,  PM_TRACK_BUFFER,
                                           PM_TRACK_GATE, PM_TRACK_FLOATS, PM_TRACK_ALWAYS };

  for (guint r = 0; r < G_N_ELEMENTS (RANKS); r++) {
    for (guint i = 0; i < plan->marks->len; i++) {
      const PmTrackMark *mark = PM_AT (plan->marks, PmTrackMark, i);
      g_autofree char *text = mark->kind == RANKS[r] ? mark_text (plan, mark) : NULL;
      if (text)
        plan->n_left_out += !put_round (plan, text, &mark->area, mark->kind == PM_TRACK_BUFFER, TRUE, FALSE);
    }
  }
}

/* Over or under a level piece of track, its middle first. */
static gboolean
put_along (PmPlan *plan, const char *text, PmPoint a, PmPoint b, double width, double from, gboolean bold,
           gboolean faint)
{
  g_autoptr (PangoLayout) layout = layout_new (plan, text, SMALL_SIZE, bold);
  PmRect room = layout_room (layout);
  double spare = b.x - a.x - room.width, off = width / 2 + MAX (2, round (0.2 * plan->frame.m.em));

  if (a.y != b.y || spare < 0)
    return FALSE;
  for (int side = 0; side < 2; side++) {
    double y = side == 0 ? a.y - off - room.height - 1 : a.y + off + 1;
    for (int i = 0; i <= 8; i++) {
      double at = from + (i % 2 ? 1 : -1) * ((i + 1) / 2) * 0.125 * MAX (1, 2 * fabs (from - 0.5) + 1);
      if (at >= 0 && at <= 1 && put (plan, layout, a.x + spare * at, y, -1, PM_WORD_PLAIN, faint))
        return TRUE;
    }
  }
  return FALSE;
}

static void
wanted_words (PmPlan *plan)
{
  for (guint i = 0; i < plan->links->len; i++) {
    const PmLink *link = PM_AT (plan->links, PmLink, i);
    g_autofree char *text = NULL;
    gboolean done = FALSE;

    if (link->kind != PM_LINK_WANTED)
      continue;
    text = g_strdup_printf (_("%s wanted"), plan->board->host.units[link->unit].name);
    for (guint pass = 0; pass < 2 && !done; pass++) {
      for (guint t = 0; t < plan->tracks->len && !done; t++) {
        const PmTrack *track = PM_AT (plan->tracks, PmTrack, t);
        for (guint p = track->n_points - 1;
             track->hollow && track->unit == (int) link->unit && track->drive == (int) link->drive && p > 0 && !done;
             p--)
          done = put_along (plan, pass ? _("wanted") : text, track->points[p - 1], track->points[p], track->width, 0.5,
                            TRUE, FALSE);
      }
    }
    plan->n_left_out += !done;
  }
}

/* One line under a drive. */
static gboolean
put_side (PmPlan *plan, guint drive, guint row, const char *text, PmWordSign sign, gboolean bold)
{
  const PmPlanFrame *f = &plan->frame;
  const PmPlanBox *box = NULL;
  g_autoptr (PangoLayout) layout = layout_new (plan, text, SMALL_SIZE, bold);
  PmRect room = layout_room (layout);

  for (guint i = 0; i < plan->boxes->len; i++) {
    const PmPlanBox *b = PM_AT (plan->boxes, PmPlanBox, i);
    if (b->kind == PM_BOX_DRIVE && b->drive == (int) drive)
      box = b;
  }
  g_return_val_if_fail (box, FALSE);
  return put (plan, layout, f->drive_x + 0.25 * f->m.em,
              box->area.y + box->area.height + 0.25 * f->m.em + row * f->m.small + f->m.small / 2 -
                middle (layout, &room),
              -1, sign, FALSE);
}

static PmWordSign
side_sign (PmSide side)
{
  switch (side) {
  case PM_SIDE_FOLLOWS:
    return PM_WORD_TICK;
  case PM_SIDE_STAYS:
  case PM_SIDE_HELD:
    return PM_WORD_CROSS;
  case PM_SIDE_NOT_CERTAIN:
  case PM_SIDE_NOT_JUDGED:
  case PM_N_SIDES:
  default:
    return PM_WORD_DOUBT;
  }
}

static gboolean
put_side_line (PmPlan *plan, guint drive, guint row, const PmSideLine *side)
{
  PmWordSign sign = side_sign (side->side);

  return (sign == PM_WORD_CROSS && put_side (plan, drive, row, side->text, sign, TRUE)) ||
         put_side (plan, drive, row, side->text, sign, FALSE) ||
         put_side (plan, drive, row, side->does, sign, sign == PM_WORD_CROSS);
}

static void
side_words (PmPlan *plan, guint drive)
{
  const PmSideLine *sides[16];
  guint n = pm_plan_sides (plan->result, drive, sides, G_N_ELEMENTS (sides)), row = 0, rows = plan->frame.side_rows;
  guint first_follows = 0;

  while (first_follows < n && side_sign (sides[first_follows]->side) != PM_WORD_TICK)
    first_follows++;
  if (plan->result->marks[drive] == PM_DRIVE_NO_POWER && rows > 0)
    row += put_side (plan, drive, row, _("no power"), PM_WORD_PLAIN, FALSE);
  for (guint i = 0; i < n; i++) {
    if (i == first_follows && n - i > rows - MIN (rows, row) && n - i > 1) {
      g_autoptr (GString) all = g_string_new (NULL);
      for (guint k = i; k < n && side_sign (sides[k]->side) == PM_WORD_TICK; k++)
        g_string_append_printf (all, "%s%s", k > i ? ", " : "", sides[k]->does);
      if (row < rows && put_side (plan, drive, row, all->str, PM_WORD_TICK, FALSE))
        row++;
      else
        plan->n_left_out++;
      return;
    }
    if (row < rows && put_side_line (plan, drive, row, sides[i]))
      row++;
    else
      plan->n_left_out++;
  }
}

/* Names at the drives' ends, so that no line must be followed by its dash alone. */
static void
end_names (PmPlan *plan)
{
  const PmPlanFrame *f = &plan->frame;

  for (guint i = 0; i < plan->tracks->len; i++) {
    const PmTrack *track = PM_AT (plan->tracks, PmTrack, i);
    PmPoint a, b;

    if (track->unit < 0 || track->hollow || track->drive < 0)
      continue;
    a = track->points[track->n_points - 2];
    b = track->points[track->n_points - 1];
    a.x = MAX (a.x, f->left);
    if (b.x == f->drive_x)
      b.x = MIN (f->board.x + f->board.width - 0.3 * f->m.em, b.x - 0.7 * f->m.em);
    put_along (plan, plan->board->host.units[track->unit].name, a, b, track->width, 1, FALSE, TRUE);
  }
}

/* With the middle left open: the names of the selects left of their end marks, all or none of a drive's. */
static void
open_names (PmPlan *plan)
{
  for (guint d = 0; d < plan->board->n_drives; d++) {
    g_autoptr (GString) text = g_string_new (NULL);
    g_autoptr (PangoLayout) layout = NULL;
    double left = plan->frame.drive_x, y = pm_plan_row_y (&plan->frame, d);
    PmRect room;

    for (guint i = 0; i < plan->links->len; i++) {
      const PmLink *link = PM_AT (plan->links, PmLink, i);
      if (link->drive == d && link->kind != PM_LINK_WANTED)
        g_string_append_printf (text, "%s%s", text->len ? " " : "", plan->board->host.units[link->unit].name);
    }
    for (guint i = 0; i < plan->tracks->len; i++) {
      const PmTrack *track = PM_AT (plan->tracks, PmTrack, i);
      if (track->drive == (int) d)
        left = MIN (left, track->points[0].x);
    }
    if (!text->len)
      continue;
    layout = layout_new (plan, text->str, SMALL_SIZE, FALSE);
    room = layout_room (layout);
    put (plan, layout, left - 0.4 * plan->frame.m.em - room.width, y - middle (layout, &room), -1, PM_WORD_PLAIN, TRUE);
  }
}

static void
board_name (PmPlan *plan)
{
  const PmRect *b = &plan->frame.board;
  double em = plan->frame.m.em, pad = round (0.5 * em);
  g_autofree char *text = NULL;
  g_autoptr (PangoLayout) layout = NULL;
  PmRect room;

  if (!plan->outlined || !plan->board->title)
    return;
  text = plan->board->revision ? g_strdup_printf (_("%s, rev %s"), plan->board->title, plan->board->revision)
                               : g_strdup (plan->board->title);
  layout = layout_new (plan, text, BOARD_SIZE, FALSE);
  room = layout_room (layout);
  for (int i = 0; i < 4; i++) {
    double x = i % 2 == 0 ? b->x + b->width - pad - room.width : b->x + pad;
    double y = i < 2 ? b->y + b->height - pad - room.height : b->y + pad;
    if (put (plan, layout, x, y, -1, PM_WORD_PLAIN, TRUE))
      return;
  }
  plan->n_left_out++;
}

/* Boxes too small for their words have them beside, when there is room. */
static void
short_box_words (PmPlan *plan)
{
  for (guint i = 0; i < plan->ports->len && !plan->open; i++) {
    const PmPort *port = PM_AT (plan->ports, PmPort, i);
    if (port->text && port->short_form)
      plan->n_left_out += !put_round (plan, port->text, &port->box, FALSE, FALSE, FALSE);
  }
}

void
pm_plan_place_words (PmPlan *plan)
{
  host_words (plan);
  box_words (plan);
  mark_words (plan);
  wanted_words (plan);
  short_box_words (plan);
  for (guint d = 0; d < plan->board->n_drives; d++)
    side_words (plan, d);
  if (plan->open)
    open_names (plan);
  else
    end_names (plan);
  board_name (plan);
}
