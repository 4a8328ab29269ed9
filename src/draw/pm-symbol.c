/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which shape a section has, by evaluating its tables, and the outlines of all shapes. */
#include "config.h"
#include "pm-symbol.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Paths in hundredths of the box: M move, L line, C curve, Z close.  Level symbols have their first end at the left. */
static const struct {
  const char *path;
  double inset;
  const char *words;
} SHAPES[PM_N_SYMBOLS] = {
    [PM_SYMBOL_BOX] = {"M 0 0 L 100 0 L 100 100 L 0 100 Z", 0, N_("block")},
    [PM_SYMBOL_AND] = {"M 0 0 L 48 0 C 77 0 100 22 100 50 C 100 78 77 100 48 100 L 0 100 Z", 0, N_("AND gate")},
    [PM_SYMBOL_OR] = {"M 0 0 L 30 0 C 62 0 84 18 100 50 C 84 82 62 100 30 100 L 0 100 C 18 70 18 30 0 0 Z", 0.095,
                      N_("OR gate")},
    [PM_SYMBOL_XOR] = {"M 14 0 L 36 0 C 66 0 86 18 100 50 C 86 82 66 100 36 100 L 14 100 C 32 70 32 30 14 0 Z "
                       "M 0 0 C 18 30 18 70 0 100",
                       0.095, N_("exclusive OR gate")},
    [PM_SYMBOL_BUFFER] = {"M 0 0 L 100 50 L 0 100 Z", 0, N_("buffer")},
    [PM_SYMBOL_RESISTOR] = {"M 0 50 L 18 50 M 18 8 L 82 8 L 82 92 L 18 92 Z M 82 50 L 100 50", 0, N_("resistor")},
    [PM_SYMBOL_CAPACITOR] = {"M 0 50 L 42 50 M 42 -20 L 42 120 M 58 -20 L 58 120 M 58 50 L 100 50", 0,
                             N_("capacitor")},
    [PM_SYMBOL_DIODE] = {"M 0 50 L 30 50 M 30 0 L 70 50 L 30 100 Z M 70 0 L 70 100 M 70 50 L 100 50", 0, N_("diode")},
    [PM_SYMBOL_LED] = {"M 0 50 L 30 50 M 30 0 L 70 50 L 30 100 Z M 70 0 L 70 100 M 70 50 L 100 50 "
                       "M 56 8 L 74 -46 M 65 -34 L 74 -46 L 76 -24 M 74 18 L 92 -36 M 83 -24 L 92 -36 L 94 -14",
                       0, N_("LED")},
    [PM_SYMBOL_POLE] = {NULL, 0, N_("switch")},
    [PM_SYMBOL_JUMPER] = {NULL, 0, N_("jumper")},
    [PM_SYMBOL_CONNECTOR] = {"M 0 0 L 100 0 L 100 100 L 0 100 Z", 0, N_("connector")},
    [PM_SYMBOL_HOST] = {"M 0 0 L 100 0 L 100 100 L 0 100 Z", 0, N_("machine")},
    [PM_SYMBOL_DRIVE] = {"M 0 0 L 100 0 L 100 100 L 0 100 Z", 0, N_("drive")},
};

#define MOST_INPUTS 8

typedef struct {
  const PmTable *table;
  guint n_in, n_out;
  guint8 *out; /* [n_out << n_in] PmOut */
} Truth;

static guint8
at (const Truth *t, guint output, guint reading)
{
  return t->out[(output << t->n_in) + reading];
}

/* Everything is read out once: at most 256 readings an output. */
static gboolean
truth_init (Truth *t, const PmTable *table)
{
  guint n = pm_table_n_inputs (table);

  *t = (Truth){table, n, pm_table_n_outputs (table), NULL};
  if (n == 0 || n > MOST_INPUTS || t->n_out == 0 || pm_table_has_edge (table))
    return FALSE;
  for (guint o = 0; o < t->n_out; o++)
    if (pm_table_kind (table, o) != PM_COLUMN_PIN)
      return FALSE;
  t->out = g_new (guint8, (gsize)t->n_out << n);
  for (guint o = 0; o < t->n_out; o++)
    for (guint r = 0; r < 1u << n; r++)
      t->out[(o << n) + r] = pm_table_eval (table, o, r, r);
  return TRUE;
}

static gboolean
has (const Truth *t, PmOut what)
{
  for (gsize i = 0; i < (gsize)t->n_out << t->n_in; i++)
    if (t->out[i] == what)
      return TRUE;
  return FALSE;
}

/* AND, OR, parity of all inputs, or a copy; off counts as high where it is all that is not low. */
static gboolean
find_gate (const Truth *t, PmSymbolLook *look)
{
  guint all = (1u << t->n_in) - 1;
  guint fits = 0x3f; /* and, nand, or, nor, xor, xnor */

  if (t->n_out != 1 || (has (t, PM_OUT_OFF) && has (t, PM_OUT_HIGH)))
    return FALSE;
  for (guint r = 0; r <= all; r++) {
    gboolean high = at (t, 0, r) != PM_OUT_LOW, odd = FALSE;
    for (guint k = 0; k < t->n_in; k++)
      odd ^= r >> k & 1;
    gboolean want[6] = {r == all, r != all, r != 0, r == 0, odd, !odd};
    for (guint f = 0; f < 6; f++)
      if (high != want[f])
        fits &= ~(1u << f);
  }
  if (fits == 0)
    return FALSE;
  guint f = (guint)g_bit_nth_lsf (fits, -1);
  look->shape = t->n_in == 1 ? PM_SYMBOL_BUFFER : f < 2 ? PM_SYMBOL_AND : f < 4 ? PM_SYMBOL_OR : PM_SYMBOL_XOR;
  look->negated = f & 1;
  look->open_collector = has (t, PM_OUT_OFF);
  return TRUE;
}

/* With the inputs of `controls` at the levels of `set`, whether the output is constant, or one data input or its
 * inverse; used: which one that is. */
static gboolean
passes_one (const Truth *t, guint controls, guint set, guint *used)
{
  guint all = (1u << t->n_in) - 1, data = all & ~controls;
  guint8 low = at (t, 0, set), high;
  gboolean constant = TRUE;

  for (guint r = set;; r = set | (((r | controls) + 1) & data)) {
    constant &= at (t, 0, r) == low;
    if (((r | controls) & all) == all)
      break;
  }
  if (constant)
    return TRUE;
  for (guint k = 0; k < t->n_in; k++) {
    guint bit = 1u << k;
    gboolean same = (data & bit) != 0;
    high = at (t, 0, set | bit);
    for (guint r = 0; r <= all && same; r++)
      if ((r & controls) == set)
        same = at (t, 0, r) == (r & bit ? high : low) && high != low;
    if (same) {
      *used |= bit;
      return TRUE;
    }
  }
  return FALSE;
}

/* Some inputs choose which one of two or more others passes. */
static gboolean
is_selector (const Truth *t)
{
  guint all = (1u << t->n_in) - 1;

  for (guint controls = 1; t->n_in >= 3 && controls < all; controls++) {
    guint data = all & ~controls, used = 0;
    gboolean fits = (data & (data - 1)) != 0;
    for (guint set = 0; set <= controls && fits; set++)
      if ((set & ~controls) == 0)
        fits = passes_one (t, controls, set, &used);
    if (fits && used == data)
      return TRUE;
  }
  return FALSE;
}

/* Never more than one output differs from the others' rest level. */
static gboolean
is_decoder (const Truth *t)
{
  guint most[2] = {0, 0};

  if (t->n_out < 2)
    return FALSE;
  for (guint o = 0; o < t->n_out; o++) /* two-way: it leads through, and decodes nothing */
    for (guint i = 0; i < t->n_in; i++)
      if (g_str_equal (pm_table_output (t->table, o), pm_table_input (t->table, i)))
        return FALSE;
  for (guint r = 0; r < 1u << t->n_in; r++) {
    guint count[2] = {0, 0};
    for (guint o = 0; o < t->n_out; o++)
      if (at (t, o, r) <= PM_OUT_HIGH)
        count[at (t, o, r) == PM_OUT_HIGH]++;
    most[0] = MAX (most[0], count[0]);
    most[1] = MAX (most[1], count[1]);
  }
  return most[0] == 1 || most[1] == 1;
}

/* Off at one level of an input, never off at the other: and there one input is copied. */
static gboolean
is_three_state_buffer (const Truth *t)
{
  guint used = 0, all = (1u << t->n_in) - 1;

  if (t->n_out != 1 || t->n_in < 2)
    return FALSE;
  for (guint data = 1; data <= all; data <<= 1) {
    gboolean fits = TRUE;
    used = 0;
    for (guint set = 0; set <= all && fits; set++)
      if ((set & data) == 0)
        fits = passes_one (t, all & ~data, set, &used);
    if (fits && used == data)
      return TRUE;
  }
  return FALSE;
}

static void
look_at_table (const PmTable *table, PmSymbolLook *look)
{
  Truth t;

  for (guint o = 0; o < pm_table_n_outputs (table); o++)
    look->contacts |= pm_table_kind (table, o) == PM_COLUMN_JOIN;
  if (look->contacts)
    look->qualifier = "SW";
  if (!truth_init (&t, table))
    return;
  if (!find_gate (&t, look)) {
    look->three_state = has (&t, PM_OUT_OFF) && has (&t, PM_OUT_HIGH);
    look->open_collector = has (&t, PM_OUT_OFF) && !has (&t, PM_OUT_HIGH);
    look->qualifier = t.n_out == 1 && is_selector (&t) ? "MUX"
                      : is_decoder (&t)                ? "X/Y"
                      : is_three_state_buffer (&t)     ? "1"
                                                       : "";
  }
  g_free (t.out);
}

PmSymbolLook
pm_symbol_of_section (const PmPart *part, const char *section)
{
  PmSymbolLook look = {.shape = PM_SYMBOL_BOX, .qualifier = ""};
  guint n = 0;

  for (guint s = 0; s < part->n_sections; s++)
    n += g_str_equal (part->sections[s].name, section);
  for (guint s = 0; s < part->n_sections && n == 1; s++)
    if (g_str_equal (part->sections[s].name, section))
      look_at_table (part->sections[s].table, &look);
  return look;
}

gboolean
pm_symbol_is_gate (PmSymbolShape shape)
{
  return shape >= PM_SYMBOL_AND && shape <= PM_SYMBOL_BUFFER;
}

const char *
pm_symbol_words (PmSymbolLook look)
{
  static const char *const negated[] = {N_("NAND gate"), N_("NOR gate"), N_("exclusive NOR gate"), N_("inverter")};

  if (pm_symbol_is_gate (look.shape) && look.negated)
    return _ (negated[look.shape - PM_SYMBOL_AND]);
  return _ (SHAPES[look.shape].words);
}

double
pm_symbol_inset (PmSymbolShape shape)
{
  return SHAPES[shape].inset;
}

void
pm_symbol_path (PmSymbolShape shape, cairo_t *cr, double x, double y, double width, double height, gboolean upright)
{
  const char *p = SHAPES[shape].path;
  char op = 'M';

  cairo_new_path (cr);
  while (p != NULL && *p != '\0') {
    double v[6] = {0};
    guint n;
    while (*p == ' ')
      p++;
    if (*p == '\0')
      break;
    op = *p++;
    n = op == 'C' ? 3 : op == 'Z' ? 0 : 1;
    for (guint i = 0; i < n; i++) {
      char *end;
      double along = g_ascii_strtod (p, &end) / 100;
      double across = g_ascii_strtod (end, &end) / 100;
      p = end;
      v[2 * i] = x + (upright ? 1 - across : along) * width;
      v[2 * i + 1] = y + (upright ? along : across) * height;
    }
    switch (op) {
    case 'M':
      cairo_move_to (cr, v[0], v[1]);
      break;
    case 'L':
      cairo_line_to (cr, v[0], v[1]);
      break;
    case 'C':
      cairo_curve_to (cr, v[0], v[1], v[2], v[3], v[4], v[5]);
      break;
    default:
      cairo_close_path (cr);
      break;
    }
  }
}

void
pm_symbol_circle (cairo_t *cr, double x, double y, double radius)
{
  cairo_new_path (cr);
  cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
}

void
pm_symbol_open (cairo_t *cr, double x, double y, double size)
{
  double h = size / 2;

  cairo_new_path (cr);
  cairo_move_to (cr, x, y - h);
  cairo_line_to (cr, x + h, y);
  cairo_line_to (cr, x, y + h);
  cairo_line_to (cr, x - h, y);
  cairo_close_path (cr);
  cairo_move_to (cr, x - h, y + h + 1);
  cairo_line_to (cr, x + h, y + h + 1);
}

void
pm_symbol_three_state (cairo_t *cr, double x, double y, double size)
{
  double h = size / 2;

  cairo_new_path (cr);
  cairo_move_to (cr, x - h, y - h * 0.8);
  cairo_line_to (cr, x + h, y - h * 0.8);
  cairo_line_to (cr, x, y + h * 0.8);
  cairo_close_path (cr);
}

void
pm_symbol_dynamic (cairo_t *cr, double x, double y, double size, int direction)
{
  cairo_new_path (cr);
  cairo_move_to (cr, x, y - size / 2);
  cairo_line_to (cr, x + direction * size * 0.9, y);
  cairo_line_to (cr, x, y + size / 2);
}

void
pm_symbol_both_ways (cairo_t *cr, double x, double y, double size)
{
  double h = size / 2, head = size / 3.2;

  cairo_new_path (cr);
  cairo_move_to (cr, x - h, y);
  cairo_line_to (cr, x + h, y);
  for (int side = -1; side <= 1; side += 2) {
    cairo_move_to (cr, x + side * (h - head), y - head);
    cairo_line_to (cr, x + side * h, y);
    cairo_line_to (cr, x + side * (h - head), y + head);
  }
}

void
pm_symbol_supply (cairo_t *cr, double x, double y, double size)
{
  cairo_new_path (cr);
  cairo_move_to (cr, x - size / 2, y);
  cairo_line_to (cr, x + size / 2, y);
}

void
pm_symbol_zero (cairo_t *cr, double x, double y, double size)
{
  cairo_new_path (cr);
  for (int k = 0; k < 3; k++) {
    double half = size / 2 * (1 - k * 0.32), level = y + k * size * 0.24;
    cairo_move_to (cr, x - half, level);
    cairo_line_to (cr, x + half, level);
  }
}

void
pm_symbol_plug (cairo_t *cr, double x, double y, double size)
{
  cairo_new_path (cr);
  cairo_arc (cr, x, y, size / 2, G_PI / 2, G_PI * 1.5);
  cairo_new_sub_path (cr);
  cairo_arc (cr, x + size * 0.1, y, size / 5, 0, 2 * G_PI);
}
