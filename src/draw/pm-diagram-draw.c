/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The wiring diagram in ink: geometry is read, nothing is worked out here but what a case shows. */
#include "config.h"
#include "pm-diagram-private.h"
#include "pm-mark.h"

typedef struct {
  const PmDiagram *diagram;
  const PmDiagramShow *show;
  cairo_t *cr;
  guint8 *stands_out; /* [n_elements] */
} Ink;

static double
thick (const Ink *ink, guint element, double width)
{
  return ink->stands_out[element] ? width + 1.6 * ink->diagram->m.line : width;
}

static void
stroke (const Ink *ink, double width)
{
  cairo_set_line_width (ink->cr, width);
  cairo_stroke (ink->cr);
}

static void
line (const Ink *ink, double x1, double y1, double x2, double y2, double width)
{
  cairo_new_path (ink->cr);
  cairo_move_to (ink->cr, x1, y1);
  cairo_line_to (ink->cr, x2, y2);
  stroke (ink, width);
}

/* ---- wires */

static void
draw_wires (const Ink *ink)
{
  const PmDiagram *diagram = ink->diagram;
  const PmLayout *layout = diagram->layout;
  double unit = diagram->m.unit;

  cairo_set_line_cap (ink->cr, CAIRO_LINE_CAP_SQUARE);
  for (int pass = 0; pass < 2; pass++) {
    cairo_new_path (ink->cr);
    for (guint i = 0; i < layout->n_segments; i++) {
      const PmLayoutSegment *piece = &layout->segments[i];
      guint element = PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, piece->net)->element;
      if (ink->stands_out[element] != pass)
        continue;
      cairo_move_to (ink->cr, piece->x1 * unit, piece->y1 * unit);
      cairo_line_to (ink->cr, piece->x2 * unit, piece->y2 * unit);
    }
    stroke (ink, pass ? diagram->m.line * 2.6 : diagram->m.line);
  }
  cairo_set_line_cap (ink->cr, CAIRO_LINE_CAP_BUTT);
  for (guint i = 0; i < layout->n_joints; i++) {
    guint element = PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, layout->joint_nets[i])->element;
    pm_symbol_circle (ink->cr, layout->joints[i].x * unit, layout->joints[i].y * unit,
                      (ink->stands_out[element] ? 3.4 : 2.6) * diagram->m.line);
    cairo_fill (ink->cr);
  }
}

/* ---- pins */

static void
ground_and_ink (const Ink *ink, double width)
{
  pm_style_set_source (ink->cr, ink->diagram->style->ground);
  cairo_fill_preserve (ink->cr);
  pm_style_set_source (ink->cr, ink->diagram->style->ink);
  stroke (ink, width);
}

/* Lines from the symbol's edge inwards to its outline, and outwards where no wire comes. */
static void
draw_stub (const Ink *ink, const PmDiagramSymbol *symbol, const PmDiagramPin *pin)
{
  const PmDiagramMetrics *m = &ink->diagram->m;
  PmRect body = pm_diagram_body (ink->diagram, symbol);
  gboolean left = pin->edge == PM_EDGE_LEFT;
  double x, y, out = left ? -1 : 1, number = symbol->numbers[!left], radius = round (0.42 * m->unit);

  if (pin->edge != PM_EDGE_LEFT && pin->edge != PM_EDGE_RIGHT)
    return;
  pm_diagram_pin_at (ink->diagram, symbol, pin, &x, &y);
  double inner = left ? body.x + pm_symbol_inset (symbol->look.shape) * body.width : body.x + body.width;
  double to = pin->rail >= 0               ? x + out * (number + 5 * m->line)
              : pin->net == PM_LAYOUT_NONE ? x + out * (number + 3 * m->line)
                                           : x;
  gboolean circle = pin->negated || (!left && pm_symbol_is_gate (symbol->look.shape) && symbol->look.negated);
  if (circle)
    inner += out * 2 * radius;
  if (inner != to)
    line (ink, inner, y, to, y, m->line);
  if (circle) {
    pm_symbol_circle (ink->cr, inner - out * radius, y, radius);
    ground_and_ink (ink, m->outline * 0.8);
    inner -= out * 2 * radius;
  }
  if (pin->rail >= 0)
    line (ink, to, y - round (0.32 * m->em), to, y + round (0.32 * m->em), m->outline);
  if (pin->plugged) {
    pm_symbol_plug (ink->cr, x + out * (3 * m->line + number - round (0.38 * m->em)), y, round (0.5 * m->em));
    ground_and_ink (ink, m->line);
  }
}

/* Marks inside: clock edges, both ways, open collector, three-state, jumper blocks. */
static void
draw_pin_marks (const Ink *ink, const PmDiagramSymbol *symbol, const PmDiagramPin *pin)
{
  const PmDiagram *diagram = ink->diagram;
  const PmDiagramMetrics *m = &diagram->m;
  PmRect body = pm_diagram_body (diagram, symbol);
  gboolean left = pin->edge == PM_EDGE_LEFT;
  double x, y, in = left ? 1 : -1, edge = left ? body.x : body.x + body.width, size = round (0.62 * m->em);
  double name = 0;

  pm_diagram_pin_at (diagram, symbol, pin, &x, &y);
  if (pin->both_ways || pin->position != PM_NONE)
    name = pm_diagram_text_width (diagram, pin->name, m->name, FALSE) + round (0.3 * m->em);
  if (pm_symbol_is_gate (symbol->look.shape)) {
    if (!left && pin->open_collector) {
      pm_symbol_open (ink->cr, body.x + body.width * (symbol->look.shape == PM_SYMBOL_BUFFER ? 0.34 : 0.5), y - 1,
                      size);
      stroke (ink, m->line);
    }
    return;
  }
  if (pin->dynamic) {
    pm_symbol_dynamic (ink->cr, edge, y, round (0.6 * m->em), left ? 1 : -1);
    stroke (ink, m->line);
  }
  if (pin->open_collector || pin->three_state) {
    if (pin->open_collector)
      pm_symbol_open (ink->cr, edge + in * round (0.65 * m->em), y - 1, size);
    else
      pm_symbol_three_state (ink->cr, edge + in * round (0.65 * m->em), y, size);
    stroke (ink, m->line);
    name += round (0.95 * m->em);
  }
  if (pin->both_ways && symbol->sw == PM_NONE) {
    pm_symbol_both_ways (ink->cr, edge + in * (name + round (0.62 * m->em)), y, round (0.75 * m->em));
    stroke (ink, m->line);
  }
  if (pin->position != PM_NONE) {
    guint32 jumper = diagram->board->drives[symbol->drive].jumper;
    gboolean set = pm_diagram_position (diagram, jumper, ink->show->case_index) == (int)pin->position;
    double width = round (1.05 * m->em), height = round (0.5 * m->em), at = edge + name + round (0.35 * m->em);
    for (int k = 0; k < 2; k++) {
      pm_symbol_circle (ink->cr, at + width * (k == 0 ? 0.25 : 0.75), y, m->line * 1.4);
      cairo_fill (ink->cr);
    }
    pm_style_rounded (ink->cr, at, y - height / 2, width, height, height / 2);
    if (set)
      cairo_fill (ink->cr);
  }
}

/* ---- bodies */

static void
draw_two_ended (const Ink *ink, const PmDiagramSymbol *symbol, double width)
{
  const PmDiagramMetrics *m = &ink->diagram->m;
  PmRect body = pm_diagram_body (ink->diagram, symbol);
  double mark = round (0.95 * m->em), x = body.x + body.width / 2, dash[] = {2.5 * m->line, 1.5 * m->line};
  double across = round (0.72 * m->em), left = symbol->upright ? x - across / 2 : body.x;
  double top = symbol->upright ? body.y : body.y + body.height / 2 - across / 2;
  double wide = symbol->upright ? across : body.width, high = symbol->upright ? body.height : across;

  cairo_save (ink->cr);
  if (symbol->look.negated) { /* the cathode comes first */
    cairo_translate (ink->cr, symbol->upright ? 0 : 2 * left + wide, symbol->upright ? 2 * top + high : 0);
    cairo_scale (ink->cr, symbol->upright ? 1 : -1, symbol->upright ? -1 : 1);
  }
  pm_symbol_path (symbol->look.shape, ink->cr, left, top, wide, high, symbol->upright);
  cairo_restore (ink->cr);
  if (symbol->in_machine)
    cairo_set_dash (ink->cr, dash, 2, 0);
  stroke (ink, width);
  cairo_set_dash (ink->cr, NULL, 0, 0);
  for (guint e = 0; e < 2 && symbol->upright; e++) {
    if (symbol->rails[e] < 0)
      continue;
    double y = e == 0 ? body.y : body.y + body.height;
    if (e == 1 && ink->diagram->board->rails[symbol->rails[e]].volts == 0)
      pm_symbol_zero (ink->cr, x, y, mark);
    else
      pm_symbol_supply (ink->cr, x, y, mark);
    stroke (ink, m->outline);
  }
}

static gboolean
closes (const PmSwitch *sw, int position, guint32 a, guint32 b)
{
  for (guint k = 0; position >= 0 && k < sw->positions[position].n_pairs; k++) {
    const PmPair *pair = &sw->positions[position].pairs[k];
    if ((pair->a == a && pair->b == b) || (pair->a == b && pair->b == a))
      return TRUE;
  }
  return FALSE;
}

/* Where a pole's contact stands. */
static void
contact_at (const Ink *ink, const PmDiagramSymbol *symbol, const PmDiagramPin *pin, double *x, double *y)
{
  pm_diagram_pin_at (ink->diagram, symbol, pin, x, y);
  *x += (pin->edge == PM_EDGE_LEFT ? 1 : -1) * 1.6 * ink->diagram->m.unit;
}

static void
draw_lever (const Ink *ink, const PmDiagramSymbol *symbol, double x1, double y1, double x2, double y2, double width)
{
  double block = ink->diagram->m.unit;

  cairo_set_line_cap (ink->cr, CAIRO_LINE_CAP_ROUND);
  if (symbol->look.shape == PM_SYMBOL_JUMPER) {
    line (ink, x1, y1, x2, y2, block + width);
    pm_style_set_source (ink->cr, ink->diagram->style->ground);
    line (ink, x1, y1, x2, y2, block - width);
    pm_style_set_source (ink->cr, ink->diagram->style->ink);
  } else
    line (ink, x1, y1, x2, y2, width * 1.3);
  cairo_set_line_cap (ink->cr, CAIRO_LINE_CAP_BUTT);
}

static void
draw_pole (const Ink *ink, const PmDiagramSymbol *symbol, double width)
{
  const PmDiagram *diagram = ink->diagram;
  const PmDiagramMetrics *m = &diagram->m;
  const PmSwitch *sw = &diagram->board->switches[symbol->sw];
  const PmDiagramPin *common = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, 0);
  int position = pm_diagram_position (diagram, symbol->sw, ink->show->case_index);
  gboolean any = FALSE, jumper = symbol->look.shape == PM_SYMBOL_JUMPER;
  double x, y, tx, ty;

  contact_at (ink, symbol, common, &x, &y);
  for (guint i = 1; i < symbol->pins->len; i++) {
    const PmDiagramPin *throw = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
    if (!closes (sw, position, common->place, throw->place))
      continue;
    contact_at (ink, symbol, throw, &tx, &ty);
    draw_lever (ink, symbol, x, y, tx, ty, width);
    any = TRUE;
  }
  if (!any && !jumper && symbol->pins->len > 1) {
    contact_at (ink, symbol, PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, 1), &tx, &ty);
    draw_lever (ink, symbol, x, y, x + (tx - x) * 0.72, symbol->pins->len == 2 ? y - 0.9 * m->unit : y, width);
  }
  for (guint i = 0; i < symbol->pins->len; i++) {
    const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
    double ex, ey, radius = round (0.2 * m->em);
    contact_at (ink, symbol, pin, &tx, &ty);
    pm_diagram_pin_at (diagram, symbol, pin, &ex, &ey);
    line (ink, ex, ey, tx + (pin->edge == PM_EDGE_LEFT ? -radius : radius), ty, m->line);
    pm_symbol_circle (ink->cr, tx, ty, jumper ? radius * 0.7 : radius);
    if (jumper)
      cairo_fill (ink->cr);
    else
      ground_and_ink (ink, width * 0.8);
  }
}

static void
draw_lamp (const Ink *ink, const PmDiagramSymbol *symbol)
{
  const PmDiagram *diagram = ink->diagram;
  PmRect area = pm_diagram_lamp (diagram, symbol);
  int answers = ink->show->probe != NULL ? pm_probe_answers (ink->show->probe, symbol->drive) : 0;

  pm_mark_lamp_draw (answers == 1   ? PM_LAMP_FULL
                     : answers == 0 ? PM_LAMP_EMPTY
                                    : PM_LAMP_HALF,
                     diagram->style, ink->cr, area.x + area.width / 2, area.y + area.height / 2, area.width / 2);
  cairo_new_path (ink->cr);
  pm_style_set_source (ink->cr, diagram->style->ink);
}

static void
draw_symbol (const Ink *ink, const PmDiagramSymbol *symbol)
{
  const PmDiagramMetrics *m = &ink->diagram->m;
  PmRect body = pm_diagram_body (ink->diagram, symbol);
  PmSymbolShape shape = symbol->look.shape;
  double width = thick (ink, symbol->element, m->outline), dash[] = {4 * m->line, 2.5 * m->line};

  if (symbol->sw != PM_NONE)
    draw_pole (ink, symbol, width);
  else if (shape >= PM_SYMBOL_RESISTOR && shape <= PM_SYMBOL_LED)
    draw_two_ended (ink, symbol, width);
  else {
    if (shape == PM_SYMBOL_HOST || shape == PM_SYMBOL_DRIVE)
      pm_style_rounded (ink->cr, body.x, body.y, body.width, body.height, 2 * m->line);
    else
      pm_symbol_path (shape, ink->cr, body.x, body.y, body.width, body.height, FALSE);
    if (symbol->in_machine)
      cairo_set_dash (ink->cr, dash, 2, 0);
    stroke (ink, width);
    cairo_set_dash (ink->cr, NULL, 0, 0);
  }
  if (shape == PM_SYMBOL_HOST || shape == PM_SYMBOL_DRIVE)
    line (ink, body.x, body.y + 2.5 * m->unit, body.x + body.width, body.y + 2.5 * m->unit, m->line);
  if (symbol->drive != PM_NONE)
    draw_lamp (ink, symbol);
  for (guint i = 0; i < symbol->pins->len; i++) {
    const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
    draw_stub (ink, symbol, pin);
    if (pin->edge == PM_EDGE_LEFT || pin->edge == PM_EDGE_RIGHT)
      draw_pin_marks (ink, symbol, pin);
  }
}

/* ---- words */

static const char *
chosen (const Ink *ink, const PmDiagramWord *word)
{
  const PmSwitch *sw = &ink->diagram->board->switches[word->sw];
  int position = pm_diagram_position (ink->diagram, word->sw, ink->show->case_index);

  if (position < 0 || (guint)position >= sw->n_positions)
    return "–";
  return sw->positions[position].title != NULL ? sw->positions[position].title : sw->positions[position].name;
}

static void
draw_words (const Ink *ink)
{
  const PmDiagram *diagram = ink->diagram;

  for (guint i = 0; i < diagram->words->len; i++) {
    const PmDiagramWord *word = PM_DIAGRAM_AT (diagram->words, PmDiagramWord, i);
    pm_style_set_source (ink->cr, word->faint ? diagram->style->faint : diagram->style->ink);
    if (word->sw != PM_NONE) {
      g_autoptr (PangoLayout) layout =
          pm_style_layout (diagram->style, diagram->context, chosen (ink, word), diagram->m.word, FALSE);
      int now, most;
      pango_layout_get_pixel_size (layout, &now, NULL);
      pango_layout_get_pixel_size (word->layout, &most, NULL);
      cairo_move_to (ink->cr, word->x + round ((most - now) / 2.0), word->y);
      pango_cairo_show_layout (ink->cr, layout);
      continue;
    }
    cairo_move_to (ink->cr, word->x, word->y);
    pango_cairo_show_layout (ink->cr, word->layout);
  }
  pm_style_set_source (ink->cr, diagram->style->ink);
}

/* ---- flags and marks */

/* Low, high and off are plain; what is not certain has a thick frame, a clash is filled. */
static void
draw_flag (const Ink *ink, const PmDiagramSymbol *symbol, const PmDiagramPin *pin)
{
  const PmDiagram *diagram = ink->diagram;
  const PmDiagramMetrics *m = &diagram->m;
  PmRect area = pm_diagram_flag_area (diagram, symbol, pin);
  PmFlag flag = pm_probe_flag (ink->show->probe, pin->place);
  g_autoptr (PangoLayout) layout = NULL;
  PangoRectangle around;

  cairo_new_path (ink->cr);
  cairo_rectangle (ink->cr, area.x, area.y, area.width, area.height);
  pm_style_set_source (ink->cr, flag == PM_FLAG_CLASH ? diagram->style->ink : diagram->style->ground);
  cairo_fill_preserve (ink->cr);
  pm_style_set_source (ink->cr, diagram->style->ink);
  stroke (ink, flag == PM_FLAG_EITHER ? 2.2 * m->line : m->line * 0.8);
  if (flag == PM_FLAG_CLASH) {
    double size = area.width * 0.3, x = area.x + area.width / 2, y = area.y + area.height / 2;
    pm_style_set_source (ink->cr, diagram->style->ground);
    line (ink, x - size, y - size, x + size, y + size, 1.5 * m->line);
    line (ink, x - size, y + size, x + size, y - size, 1.5 * m->line);
    pm_style_set_source (ink->cr, diagram->style->ink);
    return;
  }
  layout = pm_style_layout (diagram->style, diagram->context, pm_flag_mark (flag), 0.74, TRUE);
  pango_layout_get_pixel_extents (layout, &around, NULL);
  cairo_move_to (ink->cr, round (area.x + (area.width - around.width) / 2) - around.x - 0.5,
                 round (area.y + (area.height - around.height) / 2) - around.y - 0.5);
  pango_cairo_show_layout (ink->cr, layout);
}

static void
draw_flags (const Ink *ink)
{
  for (guint s = 0; s < ink->diagram->symbols->len; s++) {
    const PmDiagramSymbol *symbol = PM_SYMBOL_AT (ink->diagram, s);
    for (guint i = 0; i < symbol->pins->len; i++) {
      const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
      if (pin->net != PM_LAYOUT_NONE || (pin->rail < 0 && !symbol->spare && symbol->band != PM_BAND_FOOT))
        draw_flag (ink, symbol, pin);
    }
  }
}

/* Around a pin's number and its piece of wire, so that neither is covered; around the end where it has no number. */
static void
ring_path (const Ink *ink, const PmDiagramSymbol *symbol, const PmDiagramPin *pin)
{
  const PmDiagramMetrics *m = &ink->diagram->m;
  double x, y, height = round (1.35 * m->em), low = round (0.3 * m->em);
  double width = symbol->numbers[pin->edge == PM_EDGE_RIGHT] + 6 * m->line;

  pm_diagram_pin_at (ink->diagram, symbol, pin, &x, &y);
  if (pin->number == NULL || (pin->edge != PM_EDGE_LEFT && pin->edge != PM_EDGE_RIGHT)) {
    pm_symbol_circle (ink->cr, x, y, round (0.5 * m->em));
    return;
  }
  pm_style_rounded (ink->cr, pin->edge == PM_EDGE_LEFT ? x - width : x, y + low - height, width, height, 3 * m->line);
}

/* Rings around the pins of the chosen finding. */
static void
draw_places (const Ink *ink)
{
  const PmDiagram *diagram = ink->diagram;

  for (guint s = 0; s < diagram->symbols->len; s++) {
    const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s);
    for (guint i = 0; i < symbol->pins->len; i++) {
      const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
      gboolean marked = FALSE;
      for (guint k = 0; k < ink->show->n_places && !marked; k++)
        marked = ink->show->places[k] == pin->place;
      if (!marked)
        continue;
      ring_path (ink, symbol, pin);
      stroke (ink, 2.4 * diagram->m.line);
    }
  }
}

/* What is pointed at, all on it, and wires with a place of the finding that no pin shows. */
static void
find_outstanding (Ink *ink)
{
  const PmDiagram *diagram = ink->diagram;

  ink->stands_out = g_new0 (guint8, diagram->elements->len + 1);
  if (ink->show->element >= 0 && (guint)ink->show->element < diagram->elements->len) {
    const PmDiagramElement *element = PM_DIAGRAM_AT (diagram->elements, PmDiagramElement, ink->show->element);
    ink->stands_out[ink->show->element] = TRUE;
    for (guint i = 0; i < element->n_others; i++)
      ink->stands_out[element->others[i]] = TRUE;
  }
  for (guint k = 0; k < ink->show->n_places; k++) {
    int element = pm_diagram_of_place (diagram, ink->show->places[k]);
    if (element >= 0 && PM_DIAGRAM_AT (diagram->elements, PmDiagramElement, element)->kind == PM_DIAGRAM_NET)
      ink->stands_out[element] = TRUE;
  }
}

void
pm_diagram_draw (const PmDiagram *diagram, cairo_t *cr, const PmDiagramShow *show)
{
  Ink ink = {diagram, show, cr, NULL};

  find_outstanding (&ink);
  cairo_save (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER);
  pm_style_set_source (cr, diagram->style->ink);
  cairo_save (cr);
  cairo_translate (cr, 0.5, 0.5); /* level and upright lines of one pixel lie on pixels */
  draw_wires (&ink);
  for (guint s = 0; s < diagram->symbols->len; s++)
    draw_symbol (&ink, PM_SYMBOL_AT (diagram, s));
  cairo_restore (cr);
  draw_words (&ink);
  cairo_translate (cr, 0.5, 0.5);
  if (show->probe != NULL)
    draw_flags (&ink);
  draw_places (&ink);
  cairo_restore (cr);
  g_free (ink.stands_out);
}
