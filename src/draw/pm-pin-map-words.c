/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Geometry of the pin map.  Words stand in a column on each side, in rows as high as a line of text needs; where that
 * is more than the pitch, leaders fan out from the pins to the rows.  Order of a row, from the pins outward: number,
 * line, what becomes of it; where a pin has no line, that takes its place. */
#include "config.h"
#include "pm-pin-map-private.h"
#include <glib/gi18n-lib.h>
#include <math.h>

enum { NUMBER, LINE, FATE, N_COLUMNS };

/* In em. */
#define COLUMN_GAP 0.7
#define LEADER_GAP 0.35
#define HEADING_GAP 0.5
/* Slant of the steepest leader: run over rise. */
#define SLANT 0.6
/* Millimetres: of a leader before it slants, and of the body beyond the pins. */
#define STUB 1.6
#define BODY_END 1.6
#define FIT_STEPS 64

/* bare: of the fates of pins without a line, which stand in the line's column and the next. */
typedef struct { double widths[2][N_COLUMNS], bare[2], height; } Columns;

static void
clear_word (gpointer word)
{
  g_object_unref (((PmMapWord *) word)->layout);
}

/* g_free. */
static char *
fate_text (const PmPins *pins, guint index, guint case_index, gboolean brief)
{
  const PmPinFact *pin = &pins->pins[index];

  if (brief)
    return g_strdup (pm_pin_fate_words (pin->fate));
  if (pin->fate == PM_PIN_REROUTED) {
    g_autofree char *goes = pm_pins_goes (pins, index, case_index);
    return g_strdup_printf (_("re-routed: %s"), goes);
  }
  if (pin->fate == PM_PIN_TAPPED)
    return g_strdup (_("straight through, tapped"));
  if (pin->fate == PM_PIN_CUT)
    return g_strdup (_("cut: goes nowhere"));
  return g_strdup (pm_pin_fate_words (pin->fate));
}

static char *
column_text (const PmPinMap *map, guint pin, guint column, guint case_index)
{
  switch (column) {
  case NUMBER:
    return g_strdup (map->pins->pins[pin].number);
  case LINE:
    return g_strdup (map->pins->pins[pin].line ? map->pins->pins[pin].line : "");
  case FATE:
  default:
    return map->words == PM_MAP_WORDS_LINES
               ? g_strdup ("")
               : fate_text (map->pins, pin, case_index, map->words == PM_MAP_WORDS_FATES);
  }
}

/* Widths that do for every setting, so that the picture stands still when a switch is flipped. */
static void
measure_columns (const PmPinMap *map, const PmStyle *style, PangoContext *context, Columns *out)
{
  g_autoptr (PangoLayout) layout = pm_style_layout (style, context, "0", 1, FALSE);
  const PmCheck *check = map->pins->check;
  int width, height;

  *out = (Columns){ 0 };
  pango_layout_get_pixel_size (layout, NULL, &height);
  out->height = height;
  for (guint i = 0; i < map->pins->n_pins; i++) {
    const PmPinFact *pin = &map->pins->pins[i];
    for (guint c = 0; c < N_COLUMNS; c++) {
      guint n = c == FATE && pin->fate == PM_PIN_REROUTED ? check->n_settings : 0;
      for (guint s = 0; s <= n; s++) {
        g_autofree char *text = column_text (map, i, c, s);
        double *most = c == FATE && pin->line == NULL ? &out->bare[pin->side > 0] : &out->widths[pin->side > 0][c];
        if (s > 1 && g_str_equal (pin->goes[s - 1], pin->goes[s - 2]))
          continue;
        pango_layout_set_text (layout, text, -1);
        pango_layout_get_pixel_size (layout, &width, &height);
        *most = MAX (*most, width);
        out->height = MAX (out->height, height);
      }
    }
  }
}

static double
side_width (const Columns *columns, guint side, double em)
{
  double width = 0, bare = columns->widths[side][NUMBER] + COLUMN_GAP * em + columns->bare[side];

  for (guint c = 0; c < N_COLUMNS; c++)
    if (columns->widths[side][c] > 0)
      width += columns->widths[side][c] + (width > 0 ? COLUMN_GAP * em : 0);
  return columns->bare[side] > 0 ? MAX (width, bare) : width;
}

static guint
rows_on (const PmPins *pins, int side)
{
  guint n = 0;

  for (guint i = 0; i < pins->n_pins; i++)
    n += pins->pins[i].side == side;
  return n;
}

static void
add_word (PmMapLayout *out, PangoLayout *layout, double x, double y, int pin, gboolean faint)
{
  PmMapWord word = { g_object_ref (layout), { x, y, 0, 0 }, pin, faint };
  int width, height;

  pango_layout_get_pixel_size (layout, &width, &height);
  word.area.width = width;
  word.area.height = height;
  g_array_append_val (out->words, word);
}

/* One row: columns from the leader's end at x outward. */
static void
add_row (PmMapLayout *out, const PmPinMap *map, const PmStyle *style, PangoContext *context, const Columns *columns,
         guint index, guint case_index, double x)
{
  PmMapSpot *spot = &out->spots[index];
  const PmPinFact *pin = &map->pins->pins[index];
  const double *widths = columns->widths[pin->side > 0];
  double start = x, end = x, y = spot->leader[3].y - out->row_height / 2;

  for (guint c = 0; c < N_COLUMNS; c++) {
    g_autofree char *text = column_text (map, index, c, case_index);
    gboolean bold = pin->fate == PM_PIN_CUT || pin->fate == PM_PIN_REROUTED;
    g_autoptr (PangoLayout) layout = pm_style_layout (style, context, text, 1, bold && c == NUMBER);
    int width, height;
    double at;

    if (c == LINE && pin->line == NULL)
      continue;
    pango_layout_get_pixel_size (layout, &width, &height);
    at = spot->side < 0 ? x - width : c == NUMBER ? x + MAX (0, widths[c] - width) : x;
    if (text[0] != '\0') {
      add_word (out, layout, at, y + (out->row_height - height) / 2, index, pin->fate == PM_PIN_UNUSED);
      end = spot->side < 0 ? at : at + width;
    }
    if (widths[c] > 0)
      x += spot->side * (widths[c] + COLUMN_GAP * out->em);
  }
  spot->row = (PmRect){ MIN (start, end), y, fabs (end - start), out->row_height };
}

/* The pin as it lies in the picture. */
static PmMapPoint
place (const PmMapLayout *out, const PmPins *pins, guint index, double x, double y)
{
  const PmPinFact *pin = &pins->pins[index];

  return (PmMapPoint){ x + out->scale * (out->solder_side ? pins->width - pin->x : pin->x), y + out->scale * pin->y };
}

static void
add_leaders (PmMapLayout *out, const PmPinMap *map, double left, double right, double top, double field_x)
{
  const PmPins *pins = map->pins;
  guint row[2] = { 0, 0 };
  double right_edge = field_x + out->scale * pins->width;

  /* Rows in the order in which the pins lie. */
  for (guint n = 0; n < pins->n_pins; n++) {
    guint index = n;
    if (pins->dual_in_line && n >= (pins->n_pins + 1) / 2)
      index = pins->n_pins - 1 - (n - (pins->n_pins + 1) / 2);
    PmMapSpot *spot = &out->spots[index];
    guint rows = rows_on (pins, pins->pins[index].side), *k = &row[pins->pins[index].side > 0];
    double middle = top + out->scale * pins->height / 2;
    double edge = spot->side < 0 ? field_x : right_edge;
    double y = middle + (*k + 0.5 - rows / 2.0) * out->row_height;

    if (out->row_height <= out->scale * 2.54 + 0.01)
      y = spot->at.y;
    (*k)++;
    spot->leader[0] = (PmMapPoint){ spot->at.x + spot->side * PM_MAP_MARK * out->scale, spot->at.y };
    spot->leader[1] = (PmMapPoint){ edge + spot->side * STUB * out->scale, spot->at.y };
    spot->leader[3] = (PmMapPoint){ spot->side < 0 ? left : right, y };
    spot->leader[2] = (PmMapPoint){ spot->leader[3].x - spot->side * 0.9 * out->em, y };
  }
}

static void
add_bar (PmMapLayout *out, const PmStyle *style, PangoContext *context, double x, double y)
{
  /* Each tick says its length where that has room. */
  int step = 10 * out->scale >= 2.2 * out->em ? 10 : PM_MAP_BAR_MM;

  out->bar_x = x;
  out->bar_y = y + out->row_height + 0.7 * out->em;
  for (int mm = 0; mm <= PM_MAP_BAR_MM; mm += step) {
    g_autofree char *text = g_strdup_printf (mm == PM_MAP_BAR_MM ? "%d mm" : "%d", mm);
    g_autoptr (PangoLayout) layout = pm_style_layout (style, context, text, 1, FALSE);
    g_autoptr (PangoLayout) number = pm_style_layout (style, context, "50", 1, FALSE);
    int width;

    pango_layout_get_pixel_size (mm == PM_MAP_BAR_MM ? number : layout, &width, NULL);
    add_word (out, layout, x + mm * out->scale - width / 2.0, y, -1, FALSE);
  }
}

/* Where the field of pins and the columns of words stand. */
typedef struct { double left, right, top, field_x; } Frame;

/* Everything but leaders and words.  heading: height of the heading. */
static void
set_frame (PmMapLayout *out, const PmPins *pins, const Columns *columns, double heading, Frame *f)
{
  double scale = out->scale, em = out->em;
  double most = MAX (rows_on (pins, -1), rows_on (pins, 1)), rows, fan, leader;

  out->row_height = MAX (columns->height, scale * 2.54);
  /* How far the outermost rows are from their pins says how long the leaders must be. */
  rows = MAX (most * out->row_height, scale * (pins->height + 2.54));
  fan = MAX (0, (out->row_height - scale * 2.54) * (most - 1) / 2);
  leader = STUB * scale + MAX (1.2 * em, SLANT * fan) + 0.9 * em;
  f->left = side_width (columns, out->solder_side, em);
  f->right = side_width (columns, !out->solder_side, em);
  f->field_x = f->left > 0 ? f->left + leader + LEADER_GAP * em : 2.2 * scale;
  f->top = heading + HEADING_GAP * em + MAX ((rows - scale * pins->height) / 2, scale * (BODY_END + 2.2));
  out->width = f->field_x + scale * pins->width;
  out->width += f->right > 0 ? leader + LEADER_GAP * em + f->right : 2.2 * scale;
  out->height = f->top + MAX (scale * (pins->height + BODY_END), scale * pins->height / 2 + rows / 2) + out->thin;
  out->body = pins->dual_in_line ? (PmRect){ f->field_x + scale * 1.5, f->top - scale * BODY_END,
                                             scale * (pins->width - 3), scale * (pins->height + 2 * BODY_END) }
                                 : (PmRect){ f->field_x - scale * 1.45, f->top - scale * BODY_END,
                                             scale * (pins->width + 2.9), scale * (pins->height + 2 * BODY_END) };
}

PmMapLayout *
pm_map_layout_new (const PmPinMap *map, const PmStyle *style, PangoContext *context, double scale,
                   gboolean solder_side, guint case_index, gboolean bar)
{
  const PmPins *pins = map->pins;
  PmMapLayout *out = g_new0 (PmMapLayout, 1);
  Columns columns;
  Frame f;
  g_autoptr (PangoLayout) heading = NULL;
  double at;
  int width, height;

  measure_columns (map, style, context, &columns);
  out->em = pm_style_em (style, context);
  out->scale = scale;
  out->solder_side = solder_side;
  out->thin = MAX (1, round (out->em / 12));
  out->spots = g_new0 (PmMapSpot, pins->n_pins + 1);
  out->words = g_array_new (FALSE, TRUE, sizeof (PmMapWord));
  g_array_set_clear_func (out->words, clear_word);
  heading = pm_style_layout (style, context, solder_side ? _("Solder side: mirrored") : _("From above"), 1, TRUE);
  pango_layout_get_pixel_size (heading, &width, &height);
  set_frame (out, pins, &columns, height, &f);
  for (guint i = 0; i < pins->n_pins; i++) {
    out->spots[i].at = place (out, pins, i, f.field_x, f.top);
    out->spots[i].side = solder_side ? -pins->pins[i].side : pins->pins[i].side;
  }
  add_leaders (out, map, f.left + (f.left > 0 ? LEADER_GAP * out->em : 0),
               out->width - f.right - (f.right > 0 ? LEADER_GAP * out->em : 0), f.top, f.field_x);
  for (guint i = 0; i < pins->n_pins; i++)
    add_row (out, map, style, context, &columns, i, case_index, out->spots[i].side < 0 ? f.left : out->width - f.right);
  if (bar) {
    double bar_width = PM_MAP_BAR_MM * scale;
    out->width = MAX (out->width, bar_width + 5 * out->em);
    add_bar (out, style, context,
             CLAMP (f.field_x + (scale * pins->width - bar_width) / 2, out->em, out->width - bar_width - 4 * out->em),
             out->height + 0.8 * out->em);
    out->height = out->bar_y + 0.5 * out->em + out->thin;
  }
  at = f.field_x + scale * pins->width / 2 - width / 2.0;
  add_word (out, heading, MAX (0, MIN (at, out->width - width)), 0, -1, FALSE);
  return out;
}

/* Looked for from above in steps: a smaller picture has longer leaders and may be the wider one. */
double
pm_pin_map_fit (const PmPinMap *map, const PmStyle *style, PangoContext *context, double width, double least,
                double most, double *height)
{
  g_autoptr (PangoLayout) heading = pm_style_layout (style, context, _("From above"), 1, TRUE);
  PmMapLayout out = { .em = pm_style_em (style, context), .thin = 1 };
  Columns columns;
  Frame f;
  int heading_height;

  measure_columns (map, style, context, &columns);
  pango_layout_get_pixel_size (heading, NULL, &heading_height);
  for (guint i = 0; i <= FIT_STEPS && (i == 0 || out.width > width); i++) {
    out.scale = most + (least - most) * i / FIT_STEPS;
    set_frame (&out, map->pins, &columns, heading_height, &f);
  }
  if (height != NULL)
    *height = ceil (out.height + 1);
  return out.width > width ? -1 : out.scale;
}

void
pm_map_layout_free (PmMapLayout *layout)
{
  if (layout == NULL)
    return;
  g_array_unref (layout->words);
  g_free (layout->spots);
  g_free (layout);
}
