/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colours, line codes and text of pictures.
 *
 * The line colours are from the set that Okabe and Ito published in 2002, two maps of it: one that keeps 3:1 on white,
 * one that keeps it on dark grounds (the contrast that WCAG 2.1, 1.4.11 asks of parts of graphics).  In grey they are
 * nearly alike, so dash and end mark carry the meaning.
 */
#include "config.h"
#include "pm-style.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define COLOUR(hex) { ((hex) >> 16 & 255) / 255.0, ((hex) >> 8 & 255) / 255.0, ((hex) & 255) / 255.0 }

typedef struct {
  PmColour ground, ink, faint, lines[4];
} Palette;

static const Palette PALETTES[PM_N_SCHEMES] = {
  [PM_SCHEME_LIGHT] = { COLOUR (0xffffff), COLOUR (0x1a1a1a), COLOUR (0x555555),
                        { COLOUR (0x0072b2), COLOUR (0xd55e00), COLOUR (0x009e73), COLOUR (0x000000) } },
  [PM_SCHEME_PAPER] = { COLOUR (0xffffff), COLOUR (0x000000), COLOUR (0x444444),
                        { COLOUR (0x0072b2), COLOUR (0xd55e00), COLOUR (0x009e73), COLOUR (0x000000) } },
  [PM_SCHEME_DARK] = { COLOUR (0x2d2d2d), COLOUR (0xeeeeec), COLOUR (0xbcbcba),
                       { COLOUR (0x56b4e9), COLOUR (0xe69f00), COLOUR (0x00b083), COLOUR (0xf4f4f2) } },
  [PM_SCHEME_HIGH_CONTRAST] = { COLOUR (0xffffff), COLOUR (0x000000), COLOUR (0x000000),
                                { COLOUR (0x000000), COLOUR (0x000000), COLOUR (0x000000), COLOUR (0x000000) } },
  [PM_SCHEME_MONOCHROME] = { COLOUR (0xffffff), COLOUR (0x000000), COLOUR (0x000000),
                             { COLOUR (0x000000), COLOUR (0x000000), COLOUR (0x000000), COLOUR (0x000000) } },
};

/* In line widths.  Every period differs in rhythm, not only in length, so that none turns into another in a copy at
 * half the size. */
typedef struct {
  double      dashes[6];
  guint       n_dashes;
  const char *words;
} Dash;

static const Dash DASHES[PM_N_LINE_CODES] = {
  { { 0 }, 0, N_("solid line with discs") },
  { { 3.2, 1.4 }, 2, N_("long dashes with squares") },
  { { 3.6, 1.1, 1, 1.1 }, 4, N_("dash and dot with triangles") },
  { { 1, 1.1 }, 2, N_("dots with diamonds") },
  { { 6, 1.4 }, 2, N_("very long dashes with filled discs") },
  { { 3.6, 1, 1, 1, 1, 1 }, 6, N_("dash and two dots with filled squares") },
  { { 1.8, 1.4 }, 2, N_("short dashes with filled triangles") },
  { { 1, 1, 1, 2.6 }, 4, N_("pairs of dots with filled diamonds") },
};

static double
linear (double part)
{
  return part <= 0.04045 ? part / 12.92 : pow ((part + 0.055) / 1.055, 2.4);
}

static double
luminance (PmColour c)
{
  return 0.2126 * linear (c.red) + 0.7152 * linear (c.green) + 0.0722 * linear (c.blue);
}

static PmStyle *
style_new (const Palette *palette, PmScheme scheme, const PangoFontDescription *font, double text_scale)
{
  PmStyle *style = g_new0 (PmStyle, 1);

  style->scheme = scheme;
  style->ground = palette->ground;
  style->ink = palette->ink;
  style->faint = palette->faint;
  memcpy (style->lines, palette->lines, sizeof style->lines);
  style->font = font ? pango_font_description_copy (font) : pango_font_description_from_string ("sans 10");
  if (pango_font_description_get_size (style->font) <= 0)
    pango_font_description_set_size (style->font, 10 * PANGO_SCALE);
  style->text_scale = text_scale > 0 ? text_scale : 1;
  return style;
}

PmStyle *
pm_style_new (PmScheme scheme, const PangoFontDescription *font, double text_scale)
{
  g_return_val_if_fail (scheme >= 0 && scheme < PM_N_SCHEMES, NULL);
  return style_new (&PALETTES[scheme], scheme, font, text_scale);
}

PmStyle *
pm_style_new_high_contrast (PmColour ink, PmColour ground, const PangoFontDescription *font, double text_scale)
{
  const Palette palette = { ground, ink, ink, { ink, ink, ink, ink } };

  return style_new (&palette, PM_SCHEME_HIGH_CONTRAST, font, text_scale);
}

void
pm_style_free (PmStyle *style)
{
  if (!style)
    return;
  pango_font_description_free (style->font);
  g_free (style);
}

PmLineCode
pm_style_line (const PmStyle *style, guint unit)
{
  guint code = unit % PM_N_LINE_CODES;

  return (PmLineCode) {
    .dashes = DASHES[code].n_dashes ? DASHES[code].dashes : NULL,
    .n_dashes = DASHES[code].n_dashes,
    .end = code % PM_N_ENDS,
    .end_filled = code >= PM_N_ENDS,
    .colour = style->lines[code % G_N_ELEMENTS (style->lines)],
  };
}

const char *
pm_style_line_words (guint unit)
{
  return _(DASHES[unit % PM_N_LINE_CODES].words);
}

double
pm_style_contrast (PmColour a, PmColour b)
{
  double high = MAX (luminance (a), luminance (b));
  double low = MIN (luminance (a), luminance (b));

  return (high + 0.05) / (low + 0.05);
}

double
pm_style_em (const PmStyle *style, PangoContext *context)
{
  double size = pango_font_description_get_size (style->font) / (double) PANGO_SCALE;

  if (!pango_font_description_get_size_is_absolute (style->font)) {
    double resolution = pango_cairo_context_get_resolution (context);
    PangoFontMap *map = pango_context_get_font_map (context);

    if (resolution <= 0 && PANGO_IS_CAIRO_FONT_MAP (map))
      resolution = pango_cairo_font_map_get_resolution (PANGO_CAIRO_FONT_MAP (map));
    size *= (resolution > 0 ? resolution : 96) / 72;
  }
  return size * style->text_scale;
}

void
pm_style_set_source (cairo_t *cr, PmColour colour)
{
  cairo_set_source_rgb (cr, colour.red, colour.green, colour.blue);
}

void
pm_style_fill_and_line (const PmStyle *style, cairo_t *cr, double width)
{
  pm_style_set_source (cr, style->ground);
  cairo_fill_preserve (cr);
  pm_style_set_source (cr, style->ink);
  cairo_set_line_width (cr, width);
  cairo_stroke (cr);
}

void
pm_style_rounded (cairo_t *cr, double x, double y, double width, double height, double radius)
{
  double r = MAX (0, MIN (radius, MIN (width, height) / 2));

  cairo_new_path (cr);
  cairo_arc (cr, x + width - r, y + r, r, -G_PI / 2, 0);
  cairo_arc (cr, x + width - r, y + height - r, r, 0, G_PI / 2);
  cairo_arc (cr, x + r, y + height - r, r, G_PI / 2, G_PI);
  cairo_arc (cr, x + r, y + r, r, G_PI, 3 * G_PI / 2);
  cairo_close_path (cr);
}

PangoLayout *
pm_style_layout (const PmStyle *style, PangoContext *context, const char *text, double size, gboolean bold)
{
  PangoLayout *layout = pango_layout_new (context);
  PangoFontDescription *font = pango_font_description_copy (style->font);

  pango_font_description_set_absolute_size (font, pm_style_em (style, context) * size * PANGO_SCALE);
  if (bold)
    pango_font_description_set_weight (font, PANGO_WEIGHT_BOLD);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_text (layout, text ? text : "", -1);
  pango_font_description_free (font);
  return layout;
}

gboolean
pm_rect_contains (const PmRect *rect, double x, double y)
{
  return x >= rect->x && y >= rect->y && x < rect->x + rect->width && y < rect->y + rect->height;
}

gboolean
pm_rect_overlaps (const PmRect *a, const PmRect *b)
{
  return a->x < b->x + b->width && b->x < a->x + a->width && a->y < b->y + b->height && b->y < a->y + a->height;
}
