/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A track plan in ink: the geometry is read, nothing is worked out here. */
#include "config.h"
#include "pm-plan-private.h"

static void
rounded (cairo_t *cr, const PmRect *r, double radius, double inset)
{
  pm_style_rounded (cr, r->x + inset, r->y + inset, r->width - 2 * inset, r->height - 2 * inset, radius);
}

/* Round dots along the path. */
static void
dots (cairo_t *cr, double size, double step)
{
  double dash[] = { 0.001, step };

  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_dash (cr, dash, 2, 0);
  cairo_set_line_width (cr, size);
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
}

/* The track's path, moved sideways by off, its corners mitred. */
static void
track_path (const PmTrack *track, cairo_t *cr, double off)
{
  cairo_new_path (cr);
  for (guint i = 0; i < track->n_points; i++) {
    PmPoint p = track->points[i], before = track->points[i ? i - 1 : 0],
            after = track->points[MIN (i + 1, track->n_points - 1)];
    double a = atan2 ((i ? p.y - before.y : after.y - p.y), (i ? p.x - before.x : after.x - p.x));
    double b = atan2 ((i + 1 < track->n_points ? after.y - p.y : p.y - before.y),
                      (i + 1 < track->n_points ? after.x - p.x : p.x - before.x));
    double mid = (a + b) / 2, reach = off / cos ((b - a) / 2);

    cairo_line_to (cr, p.x - sin (mid) * reach, p.y + cos (mid) * reach);
  }
}

/* Leaves out a strip along the track that crosses over. */
static void
clip_break (const PmPlan *plan, const PmBreak *gap, cairo_t *cr)
{
  double long_ = 2 * plan->frame.m.em, ax = gap->along.x * long_, ay = gap->along.y * long_;
  double nx = -gap->along.y * gap->half, ny = gap->along.x * gap->half;

  cairo_new_path (cr);
  cairo_rectangle (cr, -1, -1, plan->frame.width + 2, plan->frame.height + 2);
  cairo_move_to (cr, gap->at.x - ax + nx, gap->at.y - ay + ny);
  cairo_line_to (cr, gap->at.x + ax + nx, gap->at.y + ay + ny);
  cairo_line_to (cr, gap->at.x + ax - nx, gap->at.y + ay - ny);
  cairo_line_to (cr, gap->at.x - ax - nx, gap->at.y - ay - ny);
  cairo_close_path (cr);
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_clip (cr);
}

static void
draw_track (const PmPlan *plan, const PmTrack *track, cairo_t *cr)
{
  const PmStyle *style = plan->style;

  cairo_save (cr);
  for (guint i = 0; i < track->breaks->len; i++)
    clip_break (plan, PM_AT (track->breaks, PmBreak, i), cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER);
  if (track->dotted) {
    pm_style_set_source (cr, style->ink);
    track_path (track, cr, 0);
    dots (cr, track->width, track->width * 2.4);
  } else if (track->hollow) {
    double size = MAX (1.3, plan->frame.m.em / 9), off = (track->width - size) / 2 + 0.5;
    pm_style_set_source (cr, style->ink);
    track_path (track, cr, off);
    dots (cr, size, size * 2.2);
    track_path (track, cr, -off);
    dots (cr, size, size * 2.2);
  } else {
    double dashes[6];
    PmLineCode code = { .colour = style->ink };
    if (track->unit >= 0)
      code = pm_style_line (style, track->unit);
    for (guint i = 0; i < code.n_dashes; i++)
      dashes[i] = code.dashes[i] * track->width;
    pm_style_set_source (cr, code.colour);
    cairo_set_line_width (cr, track->width);
    cairo_set_dash (cr, dashes, code.n_dashes, 0);
    track_path (track, cr, 0);
    cairo_stroke (cr);
  }
  cairo_restore (cr);
}

static void
draw_face (const PmPlan *plan, const PmPlanBox *box, cairo_t *cr)
{
  double em = plan->frame.m.em, pad = round (0.75 * em);
  double button = round (1.15 * em), high = round (0.8 * em), slot = round (0.42 * em);
  double middle = round (box->area.y + box->area.height * 0.31);
  PmRect slit = { box->area.x + pad + round (0.1 * em), middle - floor (slot / 2),
                  box->area.width - 2 * pad - button - round (0.8 * em), slot };
  PmRect knob = { box->area.x + box->area.width - pad - button, middle - floor (high / 2), button, high };

  rounded (cr, &slit, slot / 2, 0.5);
  pm_style_fill_and_line (plan->style, cr, 1);
  rounded (cr, &knob, 2, 0.5);
  pm_style_fill_and_line (plan->style, cr, 1);
}

static void
draw_box (const PmPlan *plan, const PmPlanBox *box, cairo_t *cr)
{
  const PmPlanMetrics *m = &plan->frame.m;
  double line = m->thin;

  switch (box->kind) {
  case PM_BOX_HOST:
    rounded (cr, &box->area, 0, line / 2);
    pm_style_fill_and_line (plan->style, cr, line);
    break;
  case PM_BOX_DRIVE:
    rounded (cr, &box->area, round (0.32 * m->em), line / 2);
    pm_style_fill_and_line (plan->style, cr, line);
    if (box->face)
      draw_face (plan, box, cr);
    if (box->lamp_radius > 0)
      pm_mark_lamp_draw (box->shows, plan->style, cr, box->lamp.x, box->lamp.y, box->lamp_radius);
    break;
  case PM_BOX_GATE:
  default:
    rounded (cr, &box->area, 2, line / 2);
    pm_style_fill_and_line (plan->style, cr, line);
    if (box->short_form && !plan->open) {
      g_autoptr (PangoLayout) layout = pm_style_layout (plan->style, plan->context, "?", 0.9, TRUE);
      PangoRectangle ink;
      pango_layout_get_pixel_extents (layout, &ink, NULL);
      cairo_move_to (cr, round (box->area.x + (box->area.width - ink.width) / 2) - ink.x,
                     round (box->area.y + (box->area.height - ink.height) / 2) - ink.y);
      pango_cairo_show_layout (cr, layout);
    }
    break;
  }
}

/* A barrier with slanting stripes across the track. */
static void
draw_gate (const PmPlan *plan, const PmTrackMark *mark, cairo_t *cr)
{
  double h = mark->size, w = round (h * 0.36), x = round (mark->x - w / 2), y = round (mark->y - h / 2);
  PmRect bar = { x, y, w, h };

  cairo_save (cr);
  rounded (cr, &bar, 1, 0.5);
  pm_style_set_source (cr, plan->style->ground);
  cairo_fill_preserve (cr);
  cairo_clip (cr);
  pm_style_set_source (cr, plan->style->ink);
  cairo_set_line_width (cr, w * 0.45);
  for (double at = -w; at < h + w; at += w * 1.05) {
    cairo_move_to (cr, x - 1, y + at + w + 1);
    cairo_line_to (cr, x + w + 1, y + at - 1);
  }
  cairo_stroke (cr);
  cairo_restore (cr);
  rounded (cr, &bar, 1, plan->frame.m.thin / 2);
  pm_style_set_source (cr, plan->style->ink);
  cairo_set_line_width (cr, MAX (1, plan->frame.m.thin));
  cairo_stroke (cr);
}

static void
draw_two (const PmPlan *plan, const PmTrackMark *mark, cairo_t *cr)
{
  double line = MAX (1.5, mark->size / 11), r = mark->size / 2 - line / 2;

  cairo_new_path (cr);
  cairo_arc (cr, mark->x, mark->y, r, 0, 2 * G_PI);
  pm_style_fill_and_line (plan->style, cr, line);
  pm_mark_cross_draw (plan->style, cr, mark->x, mark->y, mark->size * 0.56);
}

/* Two arrows head on. */
static void
draw_clash (const PmPlan *plan, const PmTrackMark *mark, cairo_t *cr)
{
  double h = mark->size * 0.36, w = mark->size / 2, x = mark->x, y = mark->y;

  pm_style_set_source (cr, plan->style->ground);
  cairo_rectangle (cr, x - w - 1, y - h - 1, 2 * w + 2, 2 * h + 2);
  cairo_fill (cr);
  pm_style_set_source (cr, plan->style->ink);
  for (int side = -1; side <= 1; side += 2) {
    cairo_move_to (cr, x + side * w, y - h);
    cairo_line_to (cr, x + side * 0.5, y);
    cairo_line_to (cr, x + side * w, y + h);
    cairo_close_path (cr);
  }
  cairo_fill (cr);
}

static void
draw_mark (const PmPlan *plan, const PmTrackMark *mark, cairo_t *cr)
{
  const PmPlanMetrics *m = &plan->frame.m;
  double em = m->em;

  cairo_save (cr);
  switch (mark->kind) {
  case PM_TRACK_END:
    pm_mark_end_draw (mark->unit, plan->style, cr, mark->x, mark->y, mark->size);
    break;
  case PM_TRACK_JOINT:
    pm_style_set_source (cr, pm_style_line (plan->style, mark->unit).colour);
    cairo_arc (cr, mark->x, mark->y, mark->size / 2, 0, 2 * G_PI);
    cairo_fill (cr);
    break;
  case PM_TRACK_TWO:
    draw_two (plan, mark, cr);
    break;
  case PM_TRACK_BUFFER:
    pm_style_set_source (cr, pm_style_line (plan->style, mark->unit).colour);
    cairo_rectangle (cr, round (mark->x - m->line / 2), round (mark->y - mark->size / 2), m->line, mark->size);
    cairo_fill (cr);
    break;
  case PM_TRACK_FLOATS:
    pm_style_set_source (cr, plan->style->ink);
    cairo_set_line_width (cr, MAX (1.5, em / 7));
    cairo_arc (cr, mark->x - 0.95 * em, mark->y, 0.65 * em, -G_PI * 0.42, G_PI * 0.42);
    cairo_stroke (cr);
    cairo_arc (cr, mark->x + 0.95 * em, mark->y, 0.65 * em, G_PI * 0.58, G_PI * 1.42);
    cairo_stroke (cr);
    break;
  case PM_TRACK_GATE:
    draw_gate (plan, mark, cr);
    break;
  case PM_TRACK_ALWAYS:
    pm_style_set_source (cr, plan->style->ink);
    cairo_set_line_width (cr, MAX (2, round (m->line * 0.6)));
    cairo_arc (cr, mark->x, mark->y, mark->size / 2 - m->line / 2, 0, 2 * G_PI);
    cairo_stroke (cr);
    break;
  case PM_TRACK_CLASH:
    draw_clash (plan, mark, cr);
    break;
  default:
    break;
  }
  cairo_restore (cr);
}

static void
draw_word (const PmPlan *plan, const PmWord *word, cairo_t *cr)
{
  PangoRectangle ink, logical;
  double em = plan->frame.m.em, y = word->area.y + word->area.height / 2, size = round (0.62 * em);

  switch (word->sign) {
  case PM_WORD_TICK:
    pm_mark_tick_draw (plan->style, cr, word->area.x + size / 2 + 0.5, y, size);
    break;
  case PM_WORD_CROSS:
    pm_mark_cross_draw (plan->style, cr, word->area.x + size / 2 + 0.5, y, size);
    break;
  case PM_WORD_DOUBT:
    pm_mark_doubt_draw (plan->style, plan->context, cr, word->area.x + size / 2 + 1, y, size + 3);
    break;
  case PM_WORD_PLAIN:
  default:
    break;
  }
  pango_layout_get_pixel_extents (word->layout, &ink, &logical);
  pm_style_set_source (cr, word->faint ? plan->style->faint : plan->style->ink);
  cairo_move_to (cr, word->area.x + word->indent - MIN (ink.x, logical.x), word->area.y - ink.y);
  pango_cairo_show_layout (cr, word->layout);
}

void
pm_plan_draw (const PmPlan *plan, cairo_t *cr)
{
  g_return_if_fail (plan && cr);
  cairo_save (cr);
  if (plan->outlined) {
    double size = MAX (1.3, plan->frame.m.em / 9);
    rounded (cr, &plan->frame.board, round (0.4 * plan->frame.m.em), 0);
    pm_style_set_source (cr, plan->style->faint);
    dots (cr, size, size * 3);
  }
  for (guint i = 0; i < plan->tracks->len; i++)
    draw_track (plan, PM_AT (plan->tracks, PmTrack, i), cr);
  for (guint i = 0; i < plan->boxes->len; i++)
    draw_box (plan, PM_AT (plan->boxes, PmPlanBox, i), cr);
  for (guint i = 0; i < plan->marks->len; i++)
    draw_mark (plan, PM_AT (plan->marks, PmTrackMark, i), cr);
  for (guint i = 0; i < plan->words->len; i++)
    draw_word (plan, PM_AT (plan->words, PmWord, i), cr);
  cairo_restore (cr);
}

void
pm_plan_draw_ring (const PmPlan *plan, guint element, cairo_t *cr)
{
  const PmRect *area;

  g_return_if_fail (plan && cr && element < plan->elements->len);
  area = &PM_AT (plan->elements, PmPlanElement, element)->area;
  cairo_save (cr);
  rounded (cr, area, 4, 1);
  pm_style_set_source (cr, plan->style->ink);
  cairo_set_line_width (cr, 2);
  cairo_stroke (cr);
  cairo_restore (cr);
}
