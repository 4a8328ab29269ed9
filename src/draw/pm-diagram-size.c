/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How large symbols are, where their pins sit, and how much room the words around them take. */
#include "config.h"
#include "pm-diagram-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Sizes in units of the grid. */
#define GATE_WIDTH 5
#define BUFFER_WIDTH 4
#define TWO_ENDED 5 /* upright, its supply's mark not counted */
#define LEVEL 6     /* level in a line */
#define POLE_WIDTH 7
#define HEAD 4 /* of machine and drives: above the first pin */
#define BOX_LEAST 5

void
pm_diagram_measure (PmDiagram *diagram)
{
  PmDiagramMetrics *m = &diagram->m;

  m->em = pm_style_em (diagram->style, diagram->context);
  m->unit = MAX (4, round (0.53 * m->em));
  m->number = 0.72;
  m->name = 0.8;
  m->word = 0.84;
  m->line = MAX (1, round (m->em / 14));
  m->outline = m->line * 1.6;
  m->flag_width = round (0.72 * m->em);
  m->flag_height = round (0.86 * m->em);
}

double
pm_diagram_text_width (const PmDiagram *diagram, const char *text, double size, gboolean bold)
{
  g_autoptr (PangoLayout) layout = NULL;
  g_autofree char *key = NULL;
  double *known;
  int width;

  if (text == NULL || text[0] == '\0')
    return 0;
  key = g_strdup_printf ("%d%d%s", (int)(size * 100), bold, text);
  known = g_hash_table_lookup (diagram->widths, key);
  if (known != NULL)
    return *known;
  layout = pm_style_layout (diagram->style, diagram->context, text, size, bold);
  pango_layout_get_pixel_size (layout, &width, NULL);
  known = g_new (double, 1);
  *known = width;
  g_hash_table_insert (diagram->widths, g_steal_pointer (&key), known);
  return width;
}

char *
pm_diagram_caption (const PmDiagramSymbol *symbol)
{
  if (symbol->spare)
    return g_strdup_printf ("%s  %s", symbol->reference, _("spare"));
  if (symbol->value == NULL)
    return g_strdup (symbol->reference);
  return g_strdup_printf ("%s  %s", symbol->reference, symbol->value);
}

double
pm_diagram_marks (const PmDiagram *diagram, const PmDiagramPin *pin)
{
  double mark = round (0.95 * diagram->m.em);

  return (pin->both_ways ? mark : 0) + (pin->open_collector || pin->three_state ? mark : 0) +
         (pin->dynamic ? round (0.7 * diagram->m.em) : 0) + (pin->position != PM_NONE ? round (1.5 * mark) : 0);
}

static int
units (const PmDiagram *diagram, double pixels)
{
  return (int)ceil (pixels / diagram->m.unit);
}

static guint
count_edge (const PmDiagramSymbol *symbol, PmEdge edge)
{
  guint n = 0;

  for (guint i = 0; i < symbol->pins->len; i++)
    n += PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i)->edge == edge;
  return n;
}

/* Pins of an edge one below the other. */
static void
set_pins (PmDiagramSymbol *symbol, PmEdge edge, int first, int pitch)
{
  for (guint i = 0; i < symbol->pins->len; i++) {
    PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
    if (pin->edge != edge)
      continue;
    pin->at = first;
    first += pitch;
  }
}

/* Widest name with its marks on an edge. */
static double
widest_name (const PmDiagram *diagram, const PmDiagramSymbol *symbol, PmEdge edge)
{
  double widest = 0;

  for (guint i = 0; i < symbol->pins->len; i++) {
    const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
    if (pin->edge == edge)
      widest = MAX (widest, pm_diagram_text_width (diagram, pin->name, diagram->m.name, FALSE) +
                                pm_diagram_text_width (diagram, pin->note, diagram->m.number, FALSE) +
                                (pin->note != NULL ? diagram->m.em : 0) + pm_diagram_marks (diagram, pin));
  }
  return widest;
}

/* Numbers, flags and the names of rails outside an edge. */
static int
edge_room (const PmDiagram *diagram, PmDiagramSymbol *symbol, PmEdge edge)
{
  const PmDiagramMetrics *m = &diagram->m;
  double number = 0, after = 0;

  for (guint i = 0; i < symbol->pins->len; i++) {
    const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
    if (pin->edge != edge)
      continue;
    number = MAX (number, pm_diagram_text_width (diagram, pin->number, m->number, FALSE) +
                              (pin->plugged ? round (0.7 * m->em) : 0));
    after = MAX (after, pin->rail >= 0
                            ? pm_diagram_text_width (diagram, diagram->board->rails[pin->rail].name, m->name, FALSE) +
                                  round (0.4 * m->em)
                            : m->flag_width);
  }
  if (after == 0)
    return 0;
  symbol->numbers[edge == PM_EDGE_RIGHT] = number;
  return units (diagram, number + after + 10 * m->line);
}

static void
size_box (const PmDiagram *diagram, PmDiagramSymbol *symbol)
{
  int n_left = (int)count_edge (symbol, PM_EDGE_LEFT), n_right = (int)count_edge (symbol, PM_EDGE_RIGHT);
  int most = MAX (MAX (n_left, n_right), 1), head = symbol->look.qualifier[0] != '\0' ? 2 : 0;
  double left = widest_name (diagram, symbol, PM_EDGE_LEFT), right = widest_name (diagram, symbol, PM_EDGE_RIGHT);
  double qualifier = pm_diagram_text_width (diagram, symbol->look.qualifier, diagram->m.name, TRUE);

  double gap = left > 0 && right > 0 ? 1.0 : 0.6;
  int body = units (diagram, MAX (left + right + gap * diagram->m.em, qualifier + diagram->m.em));
  symbol->width = MAX (body, BOX_LEAST) + (n_left > 0) + (n_right > 0);
  symbol->height = head + PM_DIAGRAM_PITCH * most;
  set_pins (symbol, PM_EDGE_LEFT, head + 1 + most - n_left, PM_DIAGRAM_PITCH);
  set_pins (symbol, PM_EDGE_RIGHT, head + 1 + most - n_right, PM_DIAGRAM_PITCH);
}

static void
size_gate (PmDiagramSymbol *symbol)
{
  int n = (int)count_edge (symbol, PM_EDGE_LEFT);

  symbol->height = MAX (4, PM_DIAGRAM_PITCH * n);
  symbol->width = (symbol->look.shape == PM_SYMBOL_BUFFER ? BUFFER_WIDTH : GATE_WIDTH) + symbol->look.negated;
  set_pins (symbol, PM_EDGE_LEFT, n == 1 ? 2 : 1 + symbol->height / 2 - n, PM_DIAGRAM_PITCH);
  set_pins (symbol, PM_EDGE_RIGHT, symbol->height / 2, PM_DIAGRAM_PITCH);
}

static void
size_two_ended (const PmDiagram *diagram, PmDiagramSymbol *symbol)
{
  const PmDiagramMetrics *m = &diagram->m;
  double reference = pm_diagram_text_width (diagram, symbol->reference, m->word, FALSE);
  double value = pm_diagram_text_width (diagram, symbol->value, m->word, FALSE);
  int flag = units (diagram, m->flag_height + 2 * m->line);

  if (!symbol->upright) {
    g_autofree char *caption = pm_diagram_caption (symbol);
    int wide = units (diagram, pm_diagram_text_width (diagram, caption, m->word, FALSE) + 4 * m->line);
    symbol->width = LEVEL;
    symbol->height = 2;
    symbol->top = symbol->look.shape == PM_SYMBOL_LED ? 3 : 2;
    symbol->left = symbol->right = MAX (units (diagram, m->flag_width + 6 * m->line), (wide - LEVEL + 1) / 2);
    set_pins (symbol, PM_EDGE_LEFT, 1, 1);
    set_pins (symbol, PM_EDGE_RIGHT, 1, 1);
    return;
  }
  symbol->width = 2;
  symbol->height = TWO_ENDED;
  symbol->right = units (diagram, MAX (reference, value) + 6 * m->line +
                                      (symbol->look.shape == PM_SYMBOL_LED ? round (0.6 * m->em) : 0));
  symbol->top = symbol->rails[0] >= 0 ? 2 : flag;
  symbol->bottom = symbol->rails[1] < 0 ? flag : diagram->board->rails[symbol->rails[1]].volts == 0 ? 1 : 2;
  for (guint e = 0; e < 2; e++)
    if (symbol->rails[e] >= 0) {
      int wide = units (
          diagram, pm_diagram_text_width (diagram, diagram->board->rails[symbol->rails[e]].name, m->name, FALSE) + 2);
      symbol->left = MAX (symbol->left, (wide - 2 + 1) / 2);
      symbol->right = MAX (symbol->right, (wide - 2 + 1) / 2);
    }
  set_pins (symbol, PM_EDGE_TOP, 1, 1);
  set_pins (symbol, PM_EDGE_BOTTOM, 1, 1);
}

/* Throws at one side, the common at the middle of the other. */
static void
size_pole (const PmDiagram *diagram, PmDiagramSymbol *symbol)
{
  int n_throws = (int)symbol->pins->len - 1;
  PmEdge common = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, 0)->edge;
  const PmSwitch *sw = &diagram->board->switches[symbol->sw];
  double widest = 0;

  symbol->width = POLE_WIDTH;
  symbol->height = PM_DIAGRAM_PITCH * MAX (n_throws, 1);
  set_pins (symbol, common, n_throws, 1);
  set_pins (symbol, common == PM_EDGE_LEFT ? PM_EDGE_RIGHT : PM_EDGE_LEFT, 1, PM_DIAGRAM_PITCH);
  for (guint p = 0; p < sw->n_positions; p++)
    widest = MAX (widest, pm_diagram_text_width (
                              diagram, sw->positions[p].title != NULL ? sw->positions[p].title : sw->positions[p].name,
                              diagram->m.word, FALSE));
  symbol->value = g_strdup (sw->title != NULL && !g_str_equal (sw->title, sw->name) ? sw->title : NULL);
  symbol->bottom = 2;
  int room = units (diagram, widest + 4 * diagram->m.line) - symbol->width;
  symbol->left = symbol->right = MAX (0, (room + 1) / 2);
}

static void
size_block (const PmDiagram *diagram, PmDiagramSymbol *symbol)
{
  gboolean host = symbol->look.shape == PM_SYMBOL_HOST;
  PmEdge edge = host ? PM_EDGE_RIGHT : PM_EDGE_LEFT;
  double em = diagram->m.em, title = pm_diagram_text_width (diagram, symbol->title, 1, TRUE);
  double names = widest_name (diagram, symbol, edge);
  int n = (int)symbol->pins->len;

  symbol->width = units (diagram, MAX (MAX (title + (host ? 1.4 : 3.2) * em, names + 2 * em), 6.5 * em));
  symbol->height = HEAD + PM_DIAGRAM_WIDE * MAX (n - 1, 0) + (symbol->foot != NULL ? 4 : 2);
  set_pins (symbol, edge, HEAD, PM_DIAGRAM_WIDE);
}

static void
size_connector (const PmDiagram *diagram, PmDiagramSymbol *symbol)
{
  double names = widest_name (diagram, symbol, PM_EDGE_LEFT);

  symbol->width = MAX (3, units (diagram, names + diagram->m.em));
  symbol->height = PM_DIAGRAM_PITCH * (int)MAX (symbol->pins->len, 1);
  set_pins (symbol, PM_EDGE_LEFT, 1, PM_DIAGRAM_PITCH);
}

/* Whether numbers at its first pins reach up to where the caption would stand. */
gboolean
pm_diagram_rise (const PmDiagramSymbol *symbol)
{
  for (guint i = 0; i < symbol->pins->len; i++)
    if (PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i)->at < 2)
      return TRUE;
  return FALSE;
}

/* Room for words over it, centred on the symbol, and at its pins. */
static void
add_room (const PmDiagram *diagram, PmDiagramSymbol *symbol)
{
  g_autofree char *caption = pm_diagram_caption (symbol);
  int wide = units (diagram, pm_diagram_text_width (diagram, caption, diagram->m.word, FALSE) + 4 * diagram->m.line) -
             symbol->width;

  symbol->left = MAX (symbol->left, edge_room (diagram, symbol, PM_EDGE_LEFT));
  symbol->right = MAX (symbol->right, edge_room (diagram, symbol, PM_EDGE_RIGHT));
  symbol->left = MAX (symbol->left, (wide + 1) / 2);
  symbol->right = MAX (symbol->right, (wide + 1) / 2);
  symbol->top = pm_diagram_rise (symbol) ? 3 : 2;
}

/* Drives are alike: as wide as the widest. */
static void
even_drives (PmDiagram *diagram)
{
  int widest = 0;

  for (guint s = 0; s < diagram->symbols->len; s++)
    if (PM_SYMBOL_AT (diagram, s)->drive != PM_NONE)
      widest = MAX (widest, PM_SYMBOL_AT (diagram, s)->width);
  for (guint s = 0; s < diagram->symbols->len; s++)
    if (PM_SYMBOL_AT (diagram, s)->drive != PM_NONE)
      PM_SYMBOL_AT (diagram, s)->width = widest;
}

void
pm_diagram_sizes (PmDiagram *diagram)
{
  for (guint s = 0; s < diagram->symbols->len; s++) {
    PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s);
    switch (symbol->look.shape) {
    case PM_SYMBOL_AND:
    case PM_SYMBOL_OR:
    case PM_SYMBOL_XOR:
    case PM_SYMBOL_BUFFER:
      size_gate (symbol);
      add_room (diagram, symbol);
      break;
    case PM_SYMBOL_RESISTOR:
    case PM_SYMBOL_CAPACITOR:
    case PM_SYMBOL_DIODE:
    case PM_SYMBOL_LED:
      size_two_ended (diagram, symbol);
      break;
    case PM_SYMBOL_POLE:
    case PM_SYMBOL_JUMPER:
      size_pole (diagram, symbol);
      add_room (diagram, symbol);
      break;
    case PM_SYMBOL_HOST:
    case PM_SYMBOL_DRIVE:
      size_block (diagram, symbol);
      symbol->left = edge_room (diagram, symbol, PM_EDGE_LEFT);
      symbol->right = edge_room (diagram, symbol, PM_EDGE_RIGHT);
      break;
    case PM_SYMBOL_CONNECTOR:
      size_connector (diagram, symbol);
      add_room (diagram, symbol);
      break;
    case PM_SYMBOL_BOX:
    case PM_N_SYMBOLS:
    default:
      size_box (diagram, symbol);
      add_room (diagram, symbol);
      break;
    }
  }
  even_drives (diagram);
}
