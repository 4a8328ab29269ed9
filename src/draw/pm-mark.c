/* SPDX-License-Identifier: GPL-3.0-or-later */
/* STOP, CARE, note, tick, cross, lamps and ends of lines. */
#include "config.h"
#include "pm-mark.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Size of the severity words against the style's font; room left and right, above and below, in em of that word. */
#define WORD_SIZE  0.8
#define WORD_PAD_X 0.75
#define WORD_PAD_Y 0.28

static const char *const SEVERITY_WORDS[PM_N_SEVERITIES] = { N_("STOP"), N_("CARE"), N_("note") };

static const char *const LAMP_WORDS[PM_N_LAMPS] = {
  [PM_LAMP_EMPTY] = N_("empty: no select reaches it"),
  [PM_LAMP_FULL] = N_("full: a select reaches it"),
  [PM_LAMP_HALF] = N_("half: not certain"),
  [PM_LAMP_HATCHED] = N_("hatched: no power"),
};

static const PmLamp LAMPS[PM_N_DRIVE_MARKS] = {
  [PM_DRIVE_REACHED] = PM_LAMP_FULL,     [PM_DRIVE_UNREACHED] = PM_LAMP_EMPTY,  [PM_DRIVE_HELD] = PM_LAMP_EMPTY,
  [PM_DRIVE_FLOATS] = PM_LAMP_HALF,      [PM_DRIVE_NOT_CERTAIN] = PM_LAMP_HALF, [PM_DRIVE_ALWAYS] = PM_LAMP_FULL,
  [PM_DRIVE_NO_POWER] = PM_LAMP_HATCHED,
};

const char *
pm_mark_severity_word (PmSeverity severity)
{
  g_return_val_if_fail (severity >= 0 && severity < PM_N_SEVERITIES, "");
  return _(SEVERITY_WORDS[severity]);
}

void
pm_mark_severity_measure (const PmStyle *style, PangoContext *context, double *width, double *height)
{
  double em = pm_style_em (style, context) * WORD_SIZE;
  double widest = 0, highest = 0;

  for (guint i = 0; i < PM_N_SEVERITIES; i++) {
    g_autoptr (PangoLayout) layout = pm_style_layout (style, context, _(SEVERITY_WORDS[i]), WORD_SIZE, TRUE);
    int w, h;

    pango_layout_get_pixel_size (layout, &w, &h);
    widest = MAX (widest, w);
    highest = MAX (highest, h);
  }
  if (width)
    *width = ceil (widest + 2 * WORD_PAD_X * em);
  if (height)
    *height = ceil (highest + 2 * WORD_PAD_Y * em);
}

static void
octagon (cairo_t *cr, double x, double y, double w, double h)
{
  double c = round (h * 0.29);

  cairo_move_to (cr, x + c, y);
  cairo_line_to (cr, x + w - c, y);
  cairo_line_to (cr, x + w, y + c);
  cairo_line_to (cr, x + w, y + h - c);
  cairo_line_to (cr, x + w - c, y + h);
  cairo_line_to (cr, x + c, y + h);
  cairo_line_to (cr, x, y + h - c);
  cairo_line_to (cr, x, y + c);
  cairo_close_path (cr);
}

/* Words of capitals look centred when their capitals are, not their line. */
static void
word_centred (PangoLayout *layout, cairo_t *cr, double x, double y)
{
  PangoRectangle ink;

  pango_layout_get_pixel_extents (layout, &ink, NULL);
  cairo_move_to (cr, round (x - ink.x - ink.width / 2.0), round (y - ink.y - ink.height / 2.0));
  pango_cairo_show_layout (cr, layout);
}

void
pm_mark_severity_draw (PmSeverity severity, const PmStyle *style, PangoContext *context, cairo_t *cr, double x,
                       double y)
{
  g_autoptr (PangoLayout) layout = NULL;
  double w, h;

  g_return_if_fail (severity >= 0 && severity < PM_N_SEVERITIES);
  layout = pm_style_layout (style, context, _(SEVERITY_WORDS[severity]), WORD_SIZE, severity != PM_SEVERITY_NOTE);
  pm_mark_severity_measure (style, context, &w, &h);
  x = round (x);
  y = round (y);
  cairo_save (cr);
  pm_style_set_source (cr, style->ink);
  if (severity == PM_SEVERITY_STOP) {
    octagon (cr, x, y, w, h);
    cairo_fill (cr);
    pm_style_set_source (cr, style->ground);
  } else if (severity == PM_SEVERITY_CARE) {
    double line = MAX (1, round (pm_style_em (style, context) / 7));

    cairo_set_line_width (cr, line);
    cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER);
    cairo_rectangle (cr, x + line / 2, y + line / 2, w - line, h - line);
    pm_style_set_source (cr, style->ground);
    cairo_fill_preserve (cr);
    pm_style_set_source (cr, style->ink);
    cairo_stroke (cr);
  }
  word_centred (layout, cr, x + w / 2, y + h / 2);
  cairo_restore (cr);
}

void
pm_mark_tick_draw (const PmStyle *style, cairo_t *cr, double x, double y, double size)
{
  double s = size / 2;

  cairo_save (cr);
  pm_style_set_source (cr, style->ink);
  cairo_set_line_width (cr, MAX (1.2, size / 6.5));
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER);
  cairo_move_to (cr, x - s, y + s * 0.1);
  cairo_line_to (cr, x - s * 0.3, y + s * 0.8);
  cairo_line_to (cr, x + s, y - s * 0.85);
  cairo_stroke (cr);
  cairo_restore (cr);
}

void
pm_mark_cross_draw (const PmStyle *style, cairo_t *cr, double x, double y, double size)
{
  double s = size / 2 * 0.82;

  cairo_save (cr);
  pm_style_set_source (cr, style->ink);
  cairo_set_line_width (cr, MAX (1.4, size / 5));
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_move_to (cr, x - s, y - s);
  cairo_line_to (cr, x + s, y + s);
  cairo_move_to (cr, x - s, y + s);
  cairo_line_to (cr, x + s, y - s);
  cairo_stroke (cr);
  cairo_restore (cr);
}

void
pm_mark_doubt_draw (const PmStyle *style, PangoContext *context, cairo_t *cr, double x, double y, double size)
{
  double em = pm_style_em (style, context);
  g_autoptr (PangoLayout) layout = pm_style_layout (style, context, "?", size * 0.85 / em, TRUE);
  double line = MAX (1, size / 10);

  cairo_save (cr);
  cairo_new_path (cr);
  cairo_arc (cr, x, y, size / 2 - line / 2, 0, 2 * G_PI);
  pm_style_set_source (cr, style->ground);
  cairo_fill_preserve (cr);
  pm_style_set_source (cr, style->ink);
  cairo_set_line_width (cr, line);
  cairo_stroke (cr);
  word_centred (layout, cr, x, y);
  cairo_restore (cr);
}

void
pm_mark_lamp_draw (PmLamp lamp, const PmStyle *style, cairo_t *cr, double x, double y, double radius)
{
  double line = MAX (1.2, radius / 3.6);
  double r = radius - line / 2;

  cairo_save (cr);
  cairo_new_path (cr);
  cairo_arc (cr, x, y, r, 0, 2 * G_PI);
  pm_style_set_source (cr, lamp == PM_LAMP_FULL ? style->ink : style->ground);
  cairo_fill (cr);
  pm_style_set_source (cr, style->ink);
  if (lamp == PM_LAMP_HALF) {
    cairo_arc (cr, x, y, r, G_PI / 2, 3 * G_PI / 2);
    cairo_close_path (cr);
    cairo_fill (cr);
  } else if (lamp == PM_LAMP_HATCHED) {
    double step = MAX (2.4, radius / 1.9);

    cairo_save (cr);
    cairo_arc (cr, x, y, r, 0, 2 * G_PI);
    cairo_clip (cr);
    cairo_set_line_width (cr, MAX (1, radius / 5));
    for (double d = -2 * step; d <= 2 * step; d += step) {
      cairo_move_to (cr, x + d - radius, y + radius);
      cairo_line_to (cr, x + d + radius, y - radius);
    }
    cairo_stroke (cr);
    cairo_restore (cr);
  }
  cairo_arc (cr, x, y, r, 0, 2 * G_PI);
  cairo_set_line_width (cr, line);
  cairo_stroke (cr);
  cairo_restore (cr);
}

PmLamp
pm_mark_lamp (PmDriveMark mark)
{
  g_return_val_if_fail (mark >= 0 && mark < PM_N_DRIVE_MARKS, PM_LAMP_HALF);
  return LAMPS[mark];
}

const char *
pm_mark_lamp_words (PmLamp lamp)
{
  g_return_val_if_fail (lamp >= 0 && lamp < PM_N_LAMPS, "");
  return _(LAMP_WORDS[lamp]);
}

/* Shapes of equal weight to the eye, not of equal width: a triangle or diamond in the same square looks smaller than a
 * square. */
static void
end_path (PmEnd end, cairo_t *cr, double x, double y, double s)
{
  cairo_new_path (cr);
  switch (end) {
  case PM_END_SQUARE:
    cairo_rectangle (cr, x - s * 0.9, y - s * 0.9, 1.8 * s, 1.8 * s);
    break;
  case PM_END_TRIANGLE: /* points the way the select goes */
    cairo_move_to (cr, x - s * 0.9, y - s * 1.08);
    cairo_line_to (cr, x + s * 1.1, y);
    cairo_line_to (cr, x - s * 0.9, y + s * 1.08);
    cairo_close_path (cr);
    break;
  case PM_END_DIAMOND:
    cairo_move_to (cr, x, y - s * 1.15);
    cairo_line_to (cr, x + s * 1.15, y);
    cairo_line_to (cr, x, y + s * 1.15);
    cairo_line_to (cr, x - s * 1.15, y);
    cairo_close_path (cr);
    break;
  case PM_END_DISC:
  default:
    cairo_arc (cr, x, y, s, 0, 2 * G_PI);
    break;
  }
}

void
pm_mark_end_draw (guint unit, const PmStyle *style, cairo_t *cr, double x, double y, double size)
{
  PmLineCode code = pm_style_line (style, unit);
  double line = MAX (1.4, size / 5);

  cairo_save (cr);
  end_path (code.end, cr, x, y, (size - line) / 2);
  pm_style_set_source (cr, code.end_filled ? code.colour : style->ground);
  cairo_fill_preserve (cr);
  pm_style_set_source (cr, code.colour);
  cairo_set_line_width (cr, line);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER);
  cairo_stroke (cr);
  cairo_restore (cr);
}

void
pm_mark_line_draw (guint unit, const PmStyle *style, PangoContext *context, cairo_t *cr, double x, double y,
                   double length, gboolean ends)
{
  PmLineCode code = pm_style_line (style, unit);
  double em = pm_style_em (style, context);
  double line = MAX (2, round (em * 0.34));
  double size = round (em);
  double dashes[6];

  for (guint i = 0; i < code.n_dashes; i++)
    dashes[i] = code.dashes[i] * line;
  cairo_save (cr);
  pm_style_set_source (cr, code.colour);
  cairo_set_line_width (cr, line);
  cairo_set_dash (cr, dashes, code.n_dashes, 0);
  cairo_move_to (cr, x + (ends ? size / 2 : 0), y);
  cairo_line_to (cr, x + length - (ends ? size / 2 : 0), y);
  cairo_stroke (cr);
  cairo_restore (cr);
  if (ends) {
    pm_mark_end_draw (unit, style, cr, x + size / 2, y, size);
    pm_mark_end_draw (unit, style, cr, x + length - size / 2, y, size);
  }
}
