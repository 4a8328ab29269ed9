/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How pictures look: colours, line codes, font and sizes, the same for screen, paper and files.
 *
 * A line is told by its dash, its end mark and its label; colour comes last, so every style can be read in grey.
 * Lengths are in pixels of the target (points on paper); everything but the caller's width and height grows with the
 * font, so a picture at 200 % text is the same picture.
 */
#pragma once
#include <glib.h>
#include <pango/pangocairo.h>

G_BEGIN_DECLS

typedef struct { double red, green, blue; } PmColour;           /* 0..1, sRGB */
typedef struct { double x, y, width, height; } PmRect;

typedef enum {
  PM_SCHEME_LIGHT,         /* on the light theme's card, white */
  PM_SCHEME_PAPER,         /* print and files: white, black ink */
  PM_SCHEME_DARK,
  PM_SCHEME_HIGH_CONTRAST, /* two colours only, given by the caller */
  PM_SCHEME_MONOCHROME,    /* black on white only: "colour off" */
  PM_N_SCHEMES
} PmScheme;

typedef enum { PM_END_DISC, PM_END_SQUARE, PM_END_TRIANGLE, PM_END_DIAMOND, PM_N_ENDS } PmEnd;

/* How the line of a unit is drawn. */
typedef struct {
  const double *dashes;    /* in line widths, on off on off; NULL for solid */
  guint         n_dashes;
  PmEnd         end;
  gboolean      end_filled; /* from the fifth unit on */
  PmColour      colour;
} PmLineCode;

/* Read-only once made. */
typedef struct {
  PmScheme              scheme;
  PmColour              ground;    /* behind everything; also inside hollow marks */
  PmColour              ink;       /* outlines, words */
  PmColour              faint;     /* words and outlines of second rank, still 4.5:1 */
  PmColour              lines[4];
  PangoFontDescription *font;
  double                text_scale;
} PmStyle;

/* Line codes repeat after so many units; labels still tell them apart. */
#define PM_N_LINE_CODES 8

/* font may be NULL: sans, 10 pt.  text_scale multiplies the font's size, normally 1: a widget's PangoContext has the
 * desktop's text size in it already. */
PmStyle   *pm_style_new               (PmScheme scheme, const PangoFontDescription *font, double text_scale);
/* ink and ground from the theme; nothing else is used. */
PmStyle   *pm_style_new_high_contrast (PmColour ink, PmColour ground, const PangoFontDescription *font,
                                       double text_scale);
void       pm_style_free              (PmStyle *style);
PmLineCode pm_style_line              (const PmStyle *style, guint unit);
/* "long dashes, square": how a line looks, in words, for a text twin or a tooltip.  Borrowed, translated. */
const char *pm_style_line_words       (guint unit);
/* Contrast of two colours by the WCAG 2 formula, 1 to 21. */
double     pm_style_contrast          (PmColour a, PmColour b);
/* The em of the style's font in context, in pixels, text_scale in it. */
double     pm_style_em                (const PmStyle *style, PangoContext *context);
void       pm_style_set_source        (cairo_t *cr, PmColour colour);
/* Fills the path with the ground and draws its outline in ink, width wide.  The path is used up. */
void       pm_style_fill_and_line     (const PmStyle *style, cairo_t *cr, double width);
/* A new path: a box with round corners; radius is cut to what fits. */
void       pm_style_rounded           (cairo_t *cr, double x, double y, double width, double height, double radius);
/* Text in the style's font, `size` times its size.  New reference. */
PangoLayout *pm_style_layout          (const PmStyle *style, PangoContext *context, const char *text, double size,
                                       gboolean bold);
gboolean   pm_rect_contains           (const PmRect *rect, double x, double y);
gboolean   pm_rect_overlaps           (const PmRect *a, const PmRect *b);   /* touching edges do not overlap */
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmStyle, pm_style_free)
G_END_DECLS
