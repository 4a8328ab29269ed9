/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every word of the diagram at its place, by its ink, so that the checker sees what is really drawn. */
#include "config.h"
#include "pm-diagram-private.h"

#include <glib/gi18n-lib.h>

typedef enum { SIDE_LEFT, SIDE_MIDDLE, SIDE_RIGHT } Side; /* where x is: left end, middle, right end */

/* y is the baseline. */
static PmDiagramWord *
add_word (PmDiagram *diagram, int symbol, const char *text, double size, gboolean bold, double x, double y, Side side)
{
  PmDiagramWord word = {.symbol = symbol, .sw = PM_NONE};
  PangoRectangle ink, logical;
  int baseline;

  if (text == NULL || text[0] == '\0')
    return NULL;
  word.layout = pm_style_layout (diagram->style, diagram->context, text, size, bold);
  pango_layout_get_pixel_extents (word.layout, &ink, &logical);
  baseline = pango_layout_get_baseline (word.layout) / PANGO_SCALE;
  word.x = round (side == SIDE_LEFT ? x : side == SIDE_RIGHT ? x - logical.width : x - logical.width / 2.0);
  word.y = round (y) - baseline;
  word.area = (PmRect){word.x + ink.x, word.y + ink.y, ink.width, ink.height};
  g_array_append_val (diagram->words, word);
  return PM_DIAGRAM_AT (diagram->words, PmDiagramWord, diagram->words->len - 1);
}

/* Baseline of a word whose capitals are centred on y. */
static double
centred (const PmDiagram *diagram, double y, double size)
{
  return round (y + 0.36 * size * diagram->m.em);
}

void
pm_diagram_pin_at (const PmDiagram *diagram, const PmDiagramSymbol *symbol, const PmDiagramPin *pin, double *x,
                   double *y)
{
  double unit = diagram->m.unit;
  int at_x = pin->edge == PM_EDGE_LEFT ? 0 : pin->edge == PM_EDGE_RIGHT ? symbol->width : pin->at;
  int at_y = pin->edge == PM_EDGE_TOP ? 0 : pin->edge == PM_EDGE_BOTTOM ? symbol->height : pin->at;

  *x = (symbol->x + at_x) * unit;
  *y = (symbol->y + at_y) * unit;
}

PmRect
pm_diagram_flag_area (const PmDiagram *diagram, const PmDiagramSymbol *symbol, const PmDiagramPin *pin)
{
  const PmDiagramMetrics *m = &diagram->m;
  double x, y, gap, number = symbol->numbers[pin->edge == PM_EDGE_RIGHT];
  PmRect area = {0, 0, m->flag_width, m->flag_height};

  pm_diagram_pin_at (diagram, symbol, pin, &x, &y);
  gap = (number > 0 ? number + 6 * m->line : 3 * m->line);
  switch (pin->edge) {
  case PM_EDGE_LEFT:
    area.x = x - gap - area.width;
    break;
  case PM_EDGE_RIGHT:
    area.x = x + gap;
    break;
  case PM_EDGE_TOP:
  case PM_EDGE_BOTTOM:
  default:
    area.x = x - floor (area.width / 2);
    break;
  }
  area.y = pin->edge == PM_EDGE_TOP      ? y - 2 * m->line - area.height
           : pin->edge == PM_EDGE_BOTTOM ? y + 2 * m->line
                                         : y - floor (area.height / 2);
  return area;
}

PmRect
pm_diagram_body (const PmDiagram *diagram, const PmDiagramSymbol *symbol)
{
  double unit = diagram->m.unit;
  PmRect body = {symbol->x * unit, symbol->y * unit, symbol->width * unit, symbol->height * unit};
  gboolean left = FALSE, right = FALSE;

  if (pm_symbol_is_gate (symbol->look.shape) && symbol->look.negated)
    body.width -= unit;
  if (symbol->look.shape == PM_SYMBOL_BOX) {
    for (guint i = 0; i < symbol->pins->len; i++) {
      left |= PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i)->edge == PM_EDGE_LEFT;
      right |= PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i)->edge == PM_EDGE_RIGHT;
    }
    body.x += left ? unit : 0;
    body.width -= (left + right) * unit;
  }
  return body;
}

PmRect
pm_diagram_lamp (const PmDiagram *diagram, const PmDiagramSymbol *symbol)
{
  PmRect body = pm_diagram_body (diagram, symbol);
  double size = round (0.85 * diagram->m.em), air = round (0.55 * diagram->m.em);

  return (PmRect){body.x + body.width - air - size, body.y + round (1.25 * diagram->m.unit) - size / 2, size, size};
}

static void
add_pin_words (PmDiagram *diagram, guint index, const PmDiagramPin *pin)
{
  const PmDiagramMetrics *m = &diagram->m;
  const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, index);
  PmRect body = pm_diagram_body (diagram, symbol);
  gboolean left = pin->edge == PM_EDGE_LEFT, pole = symbol->sw != PM_NONE;
  double x, y, air = round (0.3 * m->em), out = left ? -1 : 1;
  PmDiagramWord *word;

  if (pin->edge != PM_EDGE_LEFT && pin->edge != PM_EDGE_RIGHT)
    return;
  pm_diagram_pin_at (diagram, symbol, pin, &x, &y);
  word = add_word (diagram, (int)index, pin->number, m->number, FALSE, x + out * 3 * m->line, y - 3 * m->line,
                   left ? SIDE_RIGHT : SIDE_LEFT);
  if (word != NULL)
    word->faint = TRUE;
  if (pin->rail >= 0)
    add_word (diagram, (int)index, diagram->board->rails[pin->rail].name, m->name, FALSE,
              x + out * (symbol->numbers[!left] + 6 * m->line + round (0.3 * m->em)), centred (diagram, y, m->name),
              left ? SIDE_RIGHT : SIDE_LEFT);
  if (pin->name == NULL)
    return;
  word = add_word (diagram, (int)index, pin->note, m->number, FALSE, body.x + air, centred (diagram, y, m->name),
                   SIDE_LEFT);
  if (word != NULL)
    word->inside = word->faint = TRUE;
  double inner = left ? body.x + air : body.x + body.width - air;
  double baseline = centred (diagram, y, m->name);
  if (pole) { /* the lug's own number, over its contact's line */
    inner = x - out * m->line;
    baseline = y - 3 * m->line;
  } else if (pin->dynamic)
    inner -= out * round (0.7 * m->em);
  else if (pin->open_collector || pin->three_state)
    inner -= out * round (0.95 * m->em);
  word = add_word (diagram, (int)index, pin->name, pole ? m->number : m->name, FALSE, inner, baseline,
                   left ? SIDE_LEFT : SIDE_RIGHT);
  if (word != NULL) {
    word->inside = TRUE;
    word->faint = pole;
  }
}

static const char *
position_words (const PmPosition *position)
{
  return position->title != NULL ? position->title : position->name;
}

/* The longest stands for all: the drawing puts the chosen one there. */
static void
add_position (PmDiagram *diagram, guint index, double x, double y)
{
  const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, index);
  const PmSwitch *sw = &diagram->board->switches[symbol->sw];
  const char *longest = "";
  double most = -1;

  for (guint p = 0; p < sw->n_positions; p++) {
    double width = pm_diagram_text_width (diagram, position_words (&sw->positions[p]), diagram->m.word, FALSE);
    if (width > most) {
      most = width;
      longest = position_words (&sw->positions[p]);
    }
  }
  PmDiagramWord *word = add_word (diagram, (int)index, longest, diagram->m.word, FALSE, x, y, SIDE_MIDDLE);
  if (word != NULL)
    word->sw = symbol->sw;
}

static void
add_two_ended_words (PmDiagram *diagram, guint index)
{
  const PmDiagramMetrics *m = &diagram->m;
  const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, index);
  PmRect body = pm_diagram_body (diagram, symbol);
  double middle = body.y + body.height / 2, x = body.x + body.width + round (0.25 * m->em);
  double line = 0.5 * m->em;

  if (symbol->look.shape == PM_SYMBOL_LED) /* clear of its light */
    x += round (0.6 * m->em);
  if (!symbol->upright) {
    g_autofree char *caption = pm_diagram_caption (symbol);
    add_word (diagram, (int)index, caption, m->word, FALSE, body.x + body.width / 2,
              body.y - (symbol->look.shape == PM_SYMBOL_LED ? 9 : 5) * m->line, SIDE_MIDDLE);
    return;
  }
  add_word (diagram, (int)index, symbol->reference, m->word, FALSE, x,
            centred (diagram, symbol->value != NULL ? middle - line : middle, m->word), SIDE_LEFT);
  add_word (diagram, (int)index, symbol->value, m->word, FALSE, x, centred (diagram, middle + line, m->word),
            SIDE_LEFT);
  for (guint e = 0; e < 2; e++) {
    const PmRail *rail = symbol->rails[e] >= 0 ? &diagram->board->rails[symbol->rails[e]] : NULL;
    if (rail != NULL && (e == 0 || rail->volts != 0))
      add_word (diagram, (int)index, rail->name, m->name, FALSE, body.x + body.width / 2,
                e == 0 ? body.y - 4 * m->line : body.y + body.height + 4 * m->line + 0.75 * m->name * m->em,
                SIDE_MIDDLE);
  }
}

static void
add_symbol_words (PmDiagram *diagram, guint index)
{
  const PmDiagramMetrics *m = &diagram->m;
  const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, index);
  PmRect body = pm_diagram_body (diagram, symbol);
  PmSymbolShape shape = symbol->look.shape;
  PmDiagramWord *word;

  for (guint i = 0; i < symbol->pins->len; i++)
    add_pin_words (diagram, index, PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i));
  if (shape == PM_SYMBOL_HOST || shape == PM_SYMBOL_DRIVE) {
    word = add_word (diagram, (int)index, symbol->title, 1, TRUE, body.x + round (0.6 * m->em),
                     centred (diagram, body.y + round (1.25 * m->unit), 1), SIDE_LEFT);
    if (word != NULL)
      word->inside = TRUE;
    word = add_word (diagram, (int)index, symbol->foot, m->number, FALSE, body.x + body.width - round (0.3 * m->em),
                     body.y + body.height - round (0.45 * m->em), SIDE_RIGHT);
    if (word != NULL)
      word->inside = word->faint = TRUE;
    return;
  }
  if (shape >= PM_SYMBOL_RESISTOR && shape <= PM_SYMBOL_LED) {
    add_two_ended_words (diagram, index);
    return;
  }
  g_autofree char *caption = pm_diagram_caption (symbol);
  double x = (symbol->x + symbol->width / 2.0) * m->unit;
  add_word (diagram, (int)index, caption, m->word, FALSE, x, body.y - (pm_diagram_rise (symbol) ? 8 : 4) * m->line,
            SIDE_MIDDLE);
  if (symbol->sw != PM_NONE)
    add_position (diagram, index, x, body.y + body.height + 3 * m->line + 0.75 * m->word * m->em);
  word = add_word (diagram, (int)index, symbol->look.qualifier, m->name, TRUE, body.x + body.width / 2,
                   centred (diagram, body.y + 1.2 * m->unit, m->name), SIDE_MIDDLE);
  if (word != NULL)
    word->inside = TRUE;
}

void
pm_diagram_words (PmDiagram *diagram)
{
  diagram->words = g_array_new (FALSE, TRUE, sizeof (PmDiagramWord));
  for (guint s = 0; s < diagram->symbols->len; s++)
    add_symbol_words (diagram, s);
  for (guint n = 0; n < diagram->nets->len; n++) {
    const PmLayoutArea *area = &diagram->layout->labels[n];
    if (area->width > 0)
      add_word (diagram, -1, PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, n)->label, diagram->m.name, FALSE,
                (area->x + area->width / 2.0) * diagram->m.unit,
                (area->y + area->height) * diagram->m.unit - 4 * diagram->m.line, SIDE_MIDDLE);
  }
}
