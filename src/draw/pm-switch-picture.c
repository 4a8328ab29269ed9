/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A switch as the switch it is.
 *
 * Two layouts.  AROUND: the switch in the middle, names left, right and above, each beside where the lever points.
 * LIST: names below one another, where width is short or a header has many places.  Names stand in the same place
 * whatever is chosen; their bold width is reserved.
 */
#include "config.h"
#include "pm-switch-picture.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define NAME_SIZE        1.0
#define MAX_AROUND_WIDTH 20.0 /* em; wider goes into a list */

typedef struct {
  double x, y;
} Point;

typedef struct {
  PangoLayout *layout;
  PmRect text; /* ink height, logical width */
  PmRect area; /* answers to clicks */
  PmRect sign; /* the triangle that marks the chosen one */
  gboolean points_left;
  Point place;  /* LIST: centre of its place on the switch; AROUND: the tick of a rotary */
  double angle; /* where the lever points: 0 = right, clockwise */
} Place;

struct _PmSwitchPicture {
  const PmSwitch *sw;
  const PmStyle *style;
  PangoContext *context;
  int position;
  double width, height, em, row;
  gboolean list;
  Point centre;
  PmRect body;
  Place *places;
};

static const char *
place_name (const PmSwitch *sw, guint i)
{
  return sw->positions[i].title ? sw->positions[i].title : sw->positions[i].name;
}

/* How many different pins the positions join; 3 for the header on which a block moves between two pairs. */
static guint
count_pins (const PmSwitch *sw)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < sw->n_positions; i++) {
    for (guint k = 0; k < sw->positions[i].n_pairs; k++) {
      g_hash_table_add (seen, GUINT_TO_POINTER (sw->positions[i].pairs[k].a));
      g_hash_table_add (seen, GUINT_TO_POINTER (sw->positions[i].pairs[k].b));
    }
  }
  return g_hash_table_size (seen);
}

static gboolean
can_stand_around (const PmSwitch *sw)
{
  switch (sw->look) {
  case PM_LOOK_ROTARY:
    return sw->n_positions >= 2;
  case PM_LOOK_JUMPER:
    return sw->n_positions == 2 && count_pins (sw) == 3;
  case PM_LOOK_TOGGLE:
  case PM_LOOK_SLIDE:
  default:
    return sw->n_positions == 2 || sw->n_positions == 3;
  }
}

static double
body_width (const PmSwitch *sw, double em, gboolean list)
{
  switch (sw->look) {
  case PM_LOOK_SLIDE:
    return round ((list ? 1.3 : 3.4) * em);
  case PM_LOOK_ROTARY:
    return round ((sw->n_positions > 3 ? 3.8 : 3.2) * em);
  case PM_LOOK_JUMPER:
    return round ((list ? 2.6 : 3.6) * em);
  case PM_LOOK_TOGGLE:
  default:
    return round ((list ? 2.0 : 4.4) * em);
  }
}

/* Rows of names at each side of a rotary. */
static guint
side_rows (const PmSwitch *sw)
{
  return sw->n_positions / 2;
}

typedef struct {
  double em, row, name, around_width, around_height, list_width, list_height;
} Sizes;

static void
sizes_init (Sizes *s, const PmSwitch *sw, const PmStyle *style, PangoContext *context)
{
  double text = 0;

  s->em = pm_style_em (style, context);
  s->name = 0;
  for (guint i = 0; i < sw->n_positions; i++) {
    g_autoptr (PangoLayout) layout = pm_style_layout (style, context, place_name (sw, i), NAME_SIZE, TRUE);
    int w, h;
    pango_layout_get_pixel_size (layout, &w, &h);
    s->name = MAX (s->name, w);
    text = MAX (text, h);
  }
  s->row = MAX (text + 2, round (1.6 * s->em));
  s->around_width = ceil (2 * (s->name + 1.7 * s->em) + body_width (sw, s->em, FALSE));
  s->around_height = ceil (MAX (2.2 * s->em, s->row));
  if (sw->look == PM_LOOK_ROTARY)
    s->around_height = ceil (MAX (2.6 * s->em, side_rows (sw) * s->row)) + (sw->n_positions % 2 ? s->row : 0);
  else if (sw->n_positions == 3)
    s->around_height += s->row;
  s->list_width = ceil (body_width (sw, s->em, TRUE) + s->name + 2.2 * s->em);
  s->list_height = ceil (MAX (sw->n_positions, sw->look == PM_LOOK_JUMPER ? 1 : 2) * s->row);
}

void
pm_switch_picture_measure (const PmSwitch *sw, const PmStyle *style, PangoContext *context, double *minimum_width,
                           double *minimum_height, double *natural_width, double *natural_height)
{
  Sizes s;
  gboolean around;

  g_return_if_fail (sw && style && context);
  sizes_init (&s, sw, style, context);
  around = can_stand_around (sw) && s.around_width <= MAX_AROUND_WIDTH * s.em;
  if (minimum_width)
    *minimum_width = around ? s.around_width : MIN (s.list_width, body_width (sw, s.em, TRUE) + 8 * s.em);
  if (minimum_height)
    *minimum_height = around ? s.around_height : s.list_height;
  if (natural_width)
    *natural_width = around ? s.around_width : s.list_width;
  if (natural_height)
    *natural_height = around ? MAX (s.around_height, round (2.6 * s.em)) : s.list_height;
}

static void
name_layout (PmSwitchPicture *p, Place *place, guint i, double most)
{
  PangoRectangle ink, logical;
  int w;

  place->layout = pm_style_layout (p->style, p->context, place_name (p->sw, i), NAME_SIZE, (int) i == p->position);
  pango_layout_get_pixel_size (place->layout, &w, NULL);
  if (w > most) {
    pango_layout_set_width (place->layout, (int) (MAX (most, p->em) * PANGO_SCALE));
    pango_layout_set_ellipsize (place->layout, PANGO_ELLIPSIZE_END);
  }
  pango_layout_get_pixel_extents (place->layout, &ink, &logical);
  place->text = (PmRect){ 0, 0, logical.width, ink.height };
}

/* Name and sign at one side of the switch; side -1 left, 1 right, 0 above. */
static void
set_name (PmSwitchPicture *p, Place *place, int side, double x, double y, double name_width)
{
  double sign = round (0.5 * p->em), gap = round (0.4 * p->em);

  place->text.y = round (y - place->text.height / 2);
  if (side < 0) {
    place->text.x = x - place->text.width;
    place->sign = (PmRect){ place->text.x - gap - sign, y - sign / 2, sign, sign };
  } else if (side > 0) {
    place->text.x = x;
    place->sign = (PmRect){ x + place->text.width + gap, y - sign / 2, sign, sign };
    place->points_left = TRUE;
  } else {
    place->text.x = round (x - place->text.width / 2);
    place->sign = (PmRect){ place->text.x - gap - sign, y - sign / 2, sign, sign };
  }
  place->area = (PmRect){ side < 0   ? x - name_width - 1.2 * p->em
                          : side > 0 ? x - 0.4 * p->em
                                     : x - name_width / 2,
                          y - p->row / 2, name_width + 1.6 * p->em, p->row };
}

static void
lay_around_two (PmSwitchPicture *p, const Sizes *s)
{
  const PmSwitch *sw = p->sw;
  gboolean three = sw->n_positions == 3;
  double half = body_width (sw, p->em, FALSE) / 2, gap = round (0.45 * p->em);

  p->centre = (Point){ round (p->width / 2), floor ((p->height + (three ? p->row : 0)) / 2) + 0.5 };
  p->body = (PmRect){ p->centre.x - half, p->centre.y - 1.1 * p->em, 2 * half, 2.2 * p->em };
  for (guint i = 0; i < sw->n_positions; i++) {
    int side = i == 0 ? -1 : i + 1 == sw->n_positions ? 1 : 0;
    Place *place = &p->places[i];

    name_layout (p, place, i, s->name);
    set_name (p, place, side, p->centre.x + side * (half + gap),
              side ? p->centre.y : p->centre.y - 1.1 * p->em - p->row / 2, s->name);
    place->angle = side < 0 ? G_PI : side > 0 ? 0 : -G_PI / 2;
    place->place = (Point){ p->centre.x + side * half, p->centre.y };
    if (side < 0)
      place->area = (PmRect){ 0, 0, three ? p->body.x : p->centre.x, p->height };
    else if (side > 0)
      place->area = (PmRect){ three ? p->body.x + p->body.width : p->centre.x, 0, 0, p->height };
    else
      place->area = (PmRect){ p->body.x, 0, p->body.width, p->height };
    if (side > 0)
      place->area.width = p->width - place->area.x;
  }
}

/* First place at the lower left, then clockwise over the top, as knobs count. */
static void
lay_around_knob (PmSwitchPicture *p, const Sizes *s)
{
  const PmSwitch *sw = p->sw;
  guint n = sw->n_positions, rows = side_rows (sw);
  double half = body_width (sw, p->em, FALSE) / 2, ring = half - 0.25 * p->em;
  double reach = rows > 1 ? (rows - 1) / 2.0 * p->row : 0, high = MAX (2.6 * p->em, rows * p->row);

  p->centre = (Point){ round (p->width / 2), floor ((p->height + (n % 2 ? p->row : 0)) / 2) + 0.5 };
  p->body = (PmRect){ p->centre.x - half, p->centre.y - half + 0.3 * p->em, 2 * half, 2 * half - 0.6 * p->em };
  for (guint i = 0; i < n; i++) {
    int side = i < rows ? -1 : n % 2 && i == rows ? 0 : 1;
    guint k = side < 0 ? rows - 1 - i : i - rows - n % 2; /* from the top */
    double y = rows > 1 ? -reach + k * p->row : 0;
    double up = rows > 1 ? CLAMP (y / reach, -1, 1) * G_PI / 3.4 : 0;
    Place *place = &p->places[i];

    place->angle = side < 0 ? G_PI - up : side > 0 ? up : -G_PI / 2;
    place->place = (Point){ p->centre.x + ring * cos (place->angle), p->centre.y + ring * sin (place->angle) };
    name_layout (p, place, i, s->name);
    set_name (p, place, side, p->centre.x + side * (half + round (0.55 * p->em)),
              side ? p->centre.y + y : p->centre.y - high / 2 - p->row / 2, s->name);
  }
}

static void
lay_list (PmSwitchPicture *p, const Sizes *s)
{
  const PmSwitch *sw = p->sw;
  double body = body_width (sw, p->em, TRUE), left = body + round (0.6 * p->em);
  double total, top;

  p->row = MIN (p->row, floor (p->height / MAX (sw->n_positions, 1)));
  total = MAX (sw->n_positions, 1) * p->row;
  top = MAX (0, floor ((p->height - total) / 2));
  p->body = (PmRect){ 0, top, body, total };
  p->centre = (Point){ round (body / 2), floor (top + total / 2) + 0.5 };
  for (guint i = 0; i < sw->n_positions; i++) {
    Place *place = &p->places[i];
    double y = floor (top + (i + 0.5) * p->row) + 0.5;

    name_layout (p, place, i, p->width - left - 1.1 * p->em);
    set_name (p, place, 1, left, y, s->name);
    place->place = (Point){ p->centre.x, y };
    place->angle = sw->n_positions > 1 ? -G_PI / 2 + G_PI * i / (sw->n_positions - 1) : 0;
    if (sw->look == PM_LOOK_ROTARY) /* fanned to the right, towards the names */
      place->angle = sw->n_positions > 1 ? (2.0 * i / (sw->n_positions - 1) - 1) * G_PI / 3 : 0;
    place->area = (PmRect){ 0, top + i * p->row, p->width, p->row };
  }
}

PmSwitchPicture *
pm_switch_picture_new (const PmSwitch *sw, int position, double width, double height, const PmStyle *style,
                       PangoContext *context)
{
  PmSwitchPicture *p;
  Sizes s;

  g_return_val_if_fail (sw && style && context && position < (int) sw->n_positions, NULL);
  sizes_init (&s, sw, style, context);
  p = g_new0 (PmSwitchPicture, 1);
  p->sw = sw;
  p->style = style;
  p->context = g_object_ref (context);
  p->position = position;
  p->width = floor (MAX (width, 1));
  p->height = floor (MAX (height, 1));
  p->em = s.em;
  p->row = s.row;
  p->list = !can_stand_around (sw) || s.around_width > MAX_AROUND_WIDTH * s.em || s.around_width > p->width ||
            s.around_height > p->height;
  p->places = g_new0 (Place, MAX (1, sw->n_positions));
  if (p->list)
    lay_list (p, &s);
  else if (sw->look == PM_LOOK_ROTARY)
    lay_around_knob (p, &s);
  else
    lay_around_two (p, &s);
  return p;
}

void
pm_switch_picture_free (PmSwitchPicture *p)
{
  if (!p)
    return;
  for (guint i = 0; i < p->sw->n_positions; i++)
    g_clear_object (&p->places[i].layout);
  g_free (p->places);
  g_object_unref (p->context);
  g_free (p);
}

static void
draw_toggle (const PmSwitchPicture *p, cairo_t *cr)
{
  double em = p->em, line = MAX (1.2, em / 10), angle, reach = p->list ? 1.3 * em : 1.75 * em, base = 0.24 * em,
         tip = 0.37 * em;
  gboolean towards; /* the middle of three: the lever points at the eye */

  cairo_new_path (cr);
  for (int k = 0; k < 6; k++)
    cairo_line_to (cr, p->centre.x + 0.98 * em * cos (k * G_PI / 3), p->centre.y + 0.98 * em * sin (k * G_PI / 3));
  cairo_close_path (cr);
  pm_style_fill_and_line (p->style, cr, line);
  cairo_arc (cr, p->centre.x, p->centre.y, 0.62 * em, 0, 2 * G_PI);
  pm_style_fill_and_line (p->style, cr, line);
  if (p->position < 0)
    return;
  angle = p->places[p->position].angle;
  towards = p->sw->n_positions == 3 && p->position == 1;
  pm_style_set_source (cr, p->style->ink);
  if (towards) {
    cairo_arc (cr, p->centre.x, p->centre.y, tip, 0, 2 * G_PI);
    cairo_fill (cr);
    return;
  }
  cairo_save (cr);
  cairo_translate (cr, p->centre.x, p->centre.y);
  cairo_rotate (cr, angle);
  cairo_new_path (cr);
  cairo_arc (cr, 0, 0, base, G_PI / 2, 3 * G_PI / 2);
  cairo_arc (cr, reach, 0, tip, -G_PI / 2, G_PI / 2);
  cairo_close_path (cr);
  /* A rim of ground lets the lever stand off the nut. */
  pm_style_set_source (cr, p->style->ground);
  cairo_set_line_width (cr, 2.4);
  cairo_stroke_preserve (cr);
  pm_style_set_source (cr, p->style->ink);
  cairo_fill (cr);
  cairo_restore (cr);
}

static void
draw_slide (const PmSwitchPicture *p, cairo_t *cr)
{
  double em = p->em, line = MAX (1.2, em / 10), w, h, x, y, at, knob;
  guint n = p->sw->n_positions;

  if (p->list) {
    w = round (1.2 * em);
    h = p->body.height - round (0.5 * em);
  } else {
    w = round (3.2 * em);
    h = round (1.2 * em);
  }
  x = round (p->centre.x - w / 2) + 0.5;
  y = round (p->centre.y - h / 2) + 0.5;
  pm_style_rounded (cr, x, y, w - 1, h - 1, 3);
  pm_style_fill_and_line (p->style, cr, line);
  if (p->position < 0)
    return;
  at = n > 1 ? (double) p->position / (n - 1) : 0.5;
  pm_style_set_source (cr, p->style->ink);
  knob = p->list ? MIN (p->row * 0.8, h / MAX (2, n)) : round (1.3 * em);
  x += 2 + (p->list ? 0 : at * (w - 5 - knob));
  y += 2 + (p->list ? at * (h - 5 - knob) : 0);
  w = p->list ? w - 5 : knob;
  h = p->list ? knob : h - 5;
  pm_style_rounded (cr, x, y, w, h, 1.5);
  cairo_fill (cr);
  pm_style_set_source (cr, p->style->ground);
  for (int k = -1; k <= 1; k++) {
    if (p->list)
      cairo_rectangle (cr, x + 2, round (y + h / 2 + k * 3), w - 4, 1);
    else
      cairo_rectangle (cr, round (x + w / 2 + k * 3), y + 2, 1, h - 4);
  }
  cairo_fill (cr);
}

static void
draw_rotary (const PmSwitchPicture *p, cairo_t *cr)
{
  double em = p->em, line = MAX (1.2, em / 10), big = p->sw->n_positions > 3 ? 1.25 : 1, radius = 0.95 * em * big,
         ring = radius + 0.37 * em;

  for (guint i = 0; i < p->sw->n_positions; i++) {
    double a = p->places[i].angle;
    pm_style_set_source (cr, p->style->ink);
    cairo_set_line_width (cr, line);
    cairo_move_to (cr, p->centre.x + (radius + 0.18 * em) * cos (a), p->centre.y + (radius + 0.18 * em) * sin (a));
    cairo_line_to (cr, p->centre.x + ring * cos (a), p->centre.y + ring * sin (a));
    cairo_stroke (cr);
  }
  cairo_arc (cr, p->centre.x, p->centre.y, radius, 0, 2 * G_PI);
  pm_style_fill_and_line (p->style, cr, line);
  if (p->position < 0)
    return;
  /* The knob's bar with its pointer. */
  cairo_save (cr);
  cairo_translate (cr, p->centre.x, p->centre.y);
  cairo_rotate (cr, p->places[p->position].angle);
  em *= big;
  cairo_move_to (cr, -0.72 * em, -0.26 * em);
  cairo_line_to (cr, 0.35 * em, -0.26 * em);
  cairo_line_to (cr, 0.86 * em, 0);
  cairo_line_to (cr, 0.35 * em, 0.26 * em);
  cairo_line_to (cr, -0.72 * em, 0.26 * em);
  cairo_close_path (cr);
  pm_style_set_source (cr, p->style->ink);
  cairo_fill (cr);
  cairo_restore (cr);
}

static void
draw_pin (const PmSwitchPicture *p, cairo_t *cr, double x, double y, gboolean covered)
{
  double size = round (0.42 * p->em);

  cairo_rectangle (cr, round (x - size / 2) + (covered ? 0 : 0.5), round (y - size / 2) + (covered ? 0 : 0.5),
                   size - !covered, size - !covered);
  pm_style_set_source (cr, p->style->ground);
  if (covered) {
    cairo_fill (cr);
    return;
  }
  cairo_fill_preserve (cr);
  pm_style_set_source (cr, p->style->ink);
  cairo_set_line_width (cr, MAX (1, floor (p->em / 10)));
  cairo_stroke (cr);
}

/* A block over two pins, x,y their middle. */
static void
draw_block (const PmSwitchPicture *p, cairo_t *cr, double x, double y, double pitch)
{
  double w = pitch + round (0.95 * p->em), h = round (1.05 * p->em);

  pm_style_rounded (cr, round (x - w / 2), round (y - h / 2), w, h, 2);
  pm_style_set_source (cr, p->style->ink);
  cairo_fill (cr);
  draw_pin (p, cr, x - pitch / 2, y, TRUE);
  draw_pin (p, cr, x + pitch / 2, y, TRUE);
}

/* A block on one pin, seen end on: it joins nothing. */
static void
draw_parked (const PmSwitchPicture *p, cairo_t *cr, double x, double y)
{
  double size = round (1.05 * p->em);

  pm_style_rounded (cr, round (x - size / 2), round (y - size / 2), size, size, 2);
  pm_style_set_source (cr, p->style->ink);
  cairo_fill (cr);
  draw_pin (p, cr, x, y, TRUE);
}

static void
draw_jumper (const PmSwitchPicture *p, cairo_t *cr)
{
  double pitch = round (1.15 * p->em), x = p->centre.x;

  if (!p->list) {
    for (int k = -1; k <= 1; k++)
      draw_pin (p, cr, x + k * pitch, p->centre.y, FALSE);
    if (p->position >= 0)
      draw_block (p, cr, x + (p->position == 0 ? -0.5 : 0.5) * pitch, p->centre.y, pitch);
    return;
  }
  for (guint i = 0; i < p->sw->n_positions; i++) {
    double y = p->places[i].place.y;
    gboolean joins = p->sw->positions[i].n_pairs > 0;

    draw_pin (p, cr, x - pitch / 2, y, FALSE);
    if (joins)
      draw_pin (p, cr, x + pitch / 2, y, FALSE);
    if ((int) i != p->position)
      continue;
    if (joins)
      draw_block (p, cr, x, y, pitch);
    else
      draw_parked (p, cr, x - pitch / 2, y);
  }
}

static void
draw_sign (const PmSwitchPicture *p, const Place *place, cairo_t *cr)
{
  const PmRect *r = &place->sign;
  double from = place->points_left ? r->x + r->width : r->x, to = place->points_left ? r->x : r->x + r->width;

  cairo_move_to (cr, from, r->y);
  cairo_line_to (cr, to, r->y + r->height / 2);
  cairo_line_to (cr, from, r->y + r->height);
  cairo_close_path (cr);
  cairo_fill (cr);
}

void
pm_switch_picture_draw (const PmSwitchPicture *p, cairo_t *cr)
{
  g_return_if_fail (p && cr);
  cairo_save (cr);
  cairo_new_path (cr);
  switch (p->sw->look) {
  case PM_LOOK_SLIDE:
    draw_slide (p, cr);
    break;
  case PM_LOOK_ROTARY:
    draw_rotary (p, cr);
    break;
  case PM_LOOK_JUMPER:
    draw_jumper (p, cr);
    break;
  case PM_LOOK_TOGGLE:
  default:
    draw_toggle (p, cr);
    break;
  }
  for (guint i = 0; i < p->sw->n_positions; i++) {
    const Place *place = &p->places[i];
    PangoRectangle ink, logical;
    gboolean chosen = (int) i == p->position;

    pango_layout_get_pixel_extents (place->layout, &ink, &logical);
    pm_style_set_source (cr, chosen ? p->style->ink : p->style->faint);
    cairo_move_to (cr, place->text.x - logical.x, place->text.y - ink.y);
    pango_cairo_show_layout (cr, place->layout);
    if (chosen)
      draw_sign (p, place, cr);
  }
  cairo_restore (cr);
}

int
pm_switch_picture_at (const PmSwitchPicture *p, double x, double y)
{
  for (guint i = 0; i < p->sw->n_positions; i++) {
    if (pm_rect_contains (&p->places[i].area, x, y))
      return i;
  }
  return -1;
}

const PmRect *
pm_switch_picture_area (const PmSwitchPicture *p, guint position)
{
  g_return_val_if_fail (p && position < p->sw->n_positions, NULL);
  return &p->places[position].area;
}

PmRect
pm_switch_picture_ring (const PmSwitchPicture *p, guint position)
{
  const Place *place;
  double pad, left, right, top, bottom;

  g_return_val_if_fail (p && position < p->sw->n_positions, ((PmRect){ 0, 0, 0, 0 }));
  place = &p->places[position];
  pad = round (0.3 * p->em);
  left = MAX (floor (MIN (place->text.x, place->sign.x) - pad), 0);
  right = MIN (ceil (MAX (place->text.x + place->text.width, place->sign.x + place->sign.width) + pad), p->width);
  top = MAX (floor (MIN (place->text.y, place->sign.y) - pad), 0);
  bottom = MIN (ceil (MAX (place->text.y + place->text.height, place->sign.y + place->sign.height) + pad), p->height);
  return (PmRect){ left, top, right - left, bottom - top };
}

char *
pm_switch_picture_sentence (const PmSwitchPicture *p)
{
  const char *title = p->sw->title ? p->sw->title : p->sw->name;

  if (p->position < 0)
    return g_strdup_printf (_("%s: its lead is off."), title);
  return g_strdup_printf (_("%s: %s, %u of %u positions."), title, place_name (p->sw, p->position), p->position + 1,
                          p->sw->n_positions);
}

char **
pm_switch_picture_check (const PmSwitchPicture *p)
{
  GPtrArray *out = g_ptr_array_new ();

  for (guint i = 0; i < p->sw->n_positions; i++) {
    const PmRect *a = &p->places[i].text;

    if (a->x < 0 || a->y < 0 || a->x + a->width > p->width || a->y + a->height > p->height)
      g_ptr_array_add (out, g_strdup_printf ("\"%s\" stands outside", place_name (p->sw, i)));
    if ((int) i == p->position && (p->places[i].sign.x < 0 || p->places[i].sign.x + p->places[i].sign.width > p->width))
      g_ptr_array_add (out, g_strdup_printf ("the sign of \"%s\" stands outside", place_name (p->sw, i)));
    if (pm_rect_overlaps (a, &p->body))
      g_ptr_array_add (out, g_strdup_printf ("\"%s\" stands on the switch", place_name (p->sw, i)));
    for (guint k = i + 1; k < p->sw->n_positions; k++) {
      if (pm_rect_overlaps (a, &p->places[k].text))
        g_ptr_array_add (out,
                         g_strdup_printf ("\"%s\" stands on \"%s\"", place_name (p->sw, i), place_name (p->sw, k)));
      if (pm_rect_overlaps (&p->places[i].area, &p->places[k].area))
        g_ptr_array_add (out, g_strdup_printf ("the areas of \"%s\" and \"%s\" overlap", place_name (p->sw, i),
                                               place_name (p->sw, k)));
    }
  }
  g_ptr_array_add (out, NULL);
  return (char **) g_ptr_array_free (out, FALSE);
}
