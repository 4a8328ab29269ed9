/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pin map on a cairo context: body, marks, leaders, words, scale bar.  A fate is told by its mark and its word,
 * never by colour. */
#include "config.h"
#include "pm-pin-map-private.h"
#include <math.h>

/* Millimetres. */
#define DISC 0.62
#define RING 0.42
#define BAR_GAP 0.3
#define BAR_THICK 0.6
#define BRANCH 0.95
#define BRANCH_END 0.27
#define NOTCH 1.4
#define PIN_ONE 0.75

typedef struct {
  const PmMapLayout *layout;
  const PmPinMap    *map;
  const PmStyle     *style;
  cairo_t           *cr;
} Drawing;

static void
disc (cairo_t *cr, double x, double y, double radius)
{
  cairo_new_path (cr);
  cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
}

/* A notch at the upper end where there is one, and a triangle that points at pin 1. */
static void
draw_body (const Drawing *d)
{
  const PmMapLayout *l = d->layout;
  const PmMapPoint *one = &l->spots[0].at;
  double s = l->scale, middle = l->body.x + l->body.width / 2, x, size = PIN_ONE * s;
  int inward = one->x < middle ? 1 : -1;

  cairo_new_path (d->cr);
  if (d->map->pins->dual_in_line) {
    double notch = MIN (NOTCH * s, l->body.width / 4);
    cairo_move_to (d->cr, middle + notch, l->body.y);
    cairo_line_to (d->cr, l->body.x + l->body.width, l->body.y);
    cairo_line_to (d->cr, l->body.x + l->body.width, l->body.y + l->body.height);
    cairo_line_to (d->cr, l->body.x, l->body.y + l->body.height);
    cairo_line_to (d->cr, l->body.x, l->body.y);
    cairo_line_to (d->cr, middle - notch, l->body.y);
    cairo_arc_negative (d->cr, middle, l->body.y, notch, G_PI, 0);
    cairo_close_path (d->cr);
  } else {
    cairo_rectangle (d->cr, l->body.x, l->body.y, l->body.width, l->body.height);
  }
  pm_style_set_source (d->cr, d->style->ink);
  cairo_set_line_width (d->cr, l->thin);
  cairo_stroke (d->cr);

  cairo_new_path (d->cr);
  if (d->map->pins->dual_in_line) {
    x = one->x + inward * (1.5 * s + 0.5 * s);
    cairo_move_to (d->cr, x, one->y);
    cairo_line_to (d->cr, x + inward * 1.6 * size, one->y - size);
    cairo_line_to (d->cr, x + inward * 1.6 * size, one->y + size);
  } else {
    double y = l->body.y - 0.4 * s;
    cairo_move_to (d->cr, one->x, y);
    cairo_line_to (d->cr, one->x - size, y - 1.6 * size);
    cairo_line_to (d->cr, one->x + size, y - 1.6 * size);
  }
  cairo_close_path (d->cr);
  cairo_fill (d->cr);
}

static void
draw_mark (const Drawing *d, guint index)
{
  const PmMapLayout *l = d->layout;
  const PmMapSpot *spot = &l->spots[index];
  double s = l->scale, x = spot->at.x, y = spot->at.y;
  cairo_t *cr = d->cr;

  pm_style_set_source (cr, d->style->ink);
  cairo_set_line_width (cr, MAX (l->thin, 0.25 * s));
  switch (d->map->pins->pins[index].fate) {
  case PM_PIN_CUT:
    cairo_rectangle (cr, x - PM_MAP_MARK * s, y - BAR_THICK / 2 * s, (PM_MAP_MARK - BAR_GAP) * s, BAR_THICK * s);
    cairo_rectangle (cr, x + BAR_GAP * s, y - BAR_THICK / 2 * s, (PM_MAP_MARK - BAR_GAP) * s, BAR_THICK * s);
    cairo_fill (cr);
    break;
  case PM_PIN_REROUTED:
    disc (cr, x, y, DISC * s);
    cairo_stroke (cr);
    break;
  case PM_PIN_TAPPED:
    cairo_move_to (cr, x, y);
    cairo_line_to (cr, x - spot->side * BRANCH * s, y - BRANCH * s);
    cairo_stroke (cr);
    disc (cr, x - spot->side * BRANCH * s, y - BRANCH * s, BRANCH_END * s);
    cairo_fill (cr);
    disc (cr, x, y, DISC * s);
    cairo_fill (cr);
    break;
  case PM_PIN_UNUSED:
    pm_style_set_source (cr, d->style->faint);
    cairo_set_line_width (cr, 0.7 * l->thin);
    disc (cr, x, y, RING * s);
    cairo_stroke (cr);
    break;
  case PM_PIN_THROUGH:
  case PM_N_PIN_FATES:
  default:
    disc (cr, x, y, DISC * s);
    cairo_fill (cr);
    break;
  }
}

static void
draw_leader (const Drawing *d, guint index, gboolean strong)
{
  const PmMapLayout *l = d->layout;
  const PmMapSpot *spot = &l->spots[index];
  PmPinFate fate = d->map->pins->pins[index].fate;
  gboolean arrow = fate == PM_PIN_REROUTED;
  const PmMapPoint *end = &spot->leader[3];
  double head = 0.55 * l->em, from = fate == PM_PIN_UNUSED ? RING : fate == PM_PIN_CUT ? PM_MAP_MARK : DISC;
  cairo_t *cr = d->cr;

  pm_style_set_source (cr, fate == PM_PIN_UNUSED && !strong ? d->style->faint : d->style->ink);
  cairo_set_line_width (cr, arrow || strong ? 2 * l->thin : fate == PM_PIN_UNUSED ? 0.7 * l->thin : l->thin);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_new_path (cr);
  cairo_move_to (cr, spot->at.x + spot->side * (from * l->scale + (fate == PM_PIN_CUT ? l->thin : 0)), spot->at.y);
  cairo_line_to (cr, spot->leader[1].x, spot->leader[1].y);
  cairo_line_to (cr, spot->leader[2].x, spot->leader[2].y);
  cairo_line_to (cr, end->x - (arrow ? spot->side * head * 0.8 : 0), end->y);
  cairo_stroke (cr);
  if (!arrow)
    return;
  cairo_move_to (cr, end->x, end->y);
  cairo_line_to (cr, end->x - spot->side * head, end->y - head / 2);
  cairo_line_to (cr, end->x - spot->side * head, end->y + head / 2);
  cairo_close_path (cr);
  cairo_fill (cr);
}

static void
draw_bar (const Drawing *d)
{
  const PmMapLayout *l = d->layout;

  pm_style_set_source (d->cr, d->style->ink);
  cairo_set_line_width (d->cr, l->thin);
  cairo_new_path (d->cr);
  cairo_move_to (d->cr, l->bar_x, l->bar_y);
  cairo_line_to (d->cr, l->bar_x + PM_MAP_BAR_MM * l->scale, l->bar_y);
  for (int mm = 0; mm <= PM_MAP_BAR_MM; mm += 10) {
    double half = (mm % PM_MAP_BAR_MM == 0 ? 0.5 : 0.3) * l->em;
    cairo_move_to (d->cr, l->bar_x + mm * l->scale, l->bar_y - half);
    cairo_line_to (d->cr, l->bar_x + mm * l->scale, l->bar_y + half);
  }
  cairo_stroke (d->cr);
}

/* A ring round the pin and a frame round its words. */
static void
draw_pointed (const Drawing *d, guint index)
{
  const PmMapLayout *l = d->layout;
  const PmMapSpot *spot = &l->spots[index];
  double air = 0.2 * l->em;

  pm_style_set_source (d->cr, d->style->ink);
  cairo_set_line_width (d->cr, MAX (2, l->thin));
  disc (d->cr, spot->at.x, spot->at.y, 1.2 * l->scale);
  cairo_stroke (d->cr);
  if (spot->row.width > 0) {
    pm_style_rounded (d->cr, spot->row.x - air, spot->row.y, spot->row.width + 2 * air, spot->row.height, air);
    cairo_stroke (d->cr);
  }
}

void
pm_pin_map_draw (const PmPinMap *map, cairo_t *cr, const PmStyle *style, PangoContext *context, double scale,
                 gboolean solder_side, guint case_index, int pointed, gboolean bar)
{
  g_autoptr (PmMapLayout) layout = pm_map_layout_new (map, style, context, scale, solder_side, case_index, bar);
  Drawing d = { layout, map, style, cr };

  cairo_save (cr);
  draw_body (&d);
  for (guint i = 0; i < map->pins->n_pins; i++)
    draw_leader (&d, i, (int) i == pointed);
  for (guint i = 0; i < map->pins->n_pins; i++)
    draw_mark (&d, i);
  for (guint i = 0; i < layout->words->len; i++) {
    const PmMapWord *word = &g_array_index (layout->words, PmMapWord, i);
    pm_style_set_source (cr, word->faint && word->pin != pointed ? style->faint : style->ink);
    cairo_move_to (cr, word->area.x, word->area.y);
    pango_cairo_show_layout (cr, word->layout);
  }
  if (pointed >= 0 && (guint) pointed < map->pins->n_pins)
    draw_pointed (&d, pointed);
  if (bar)
    draw_bar (&d);
  cairo_restore (cr);
}
