/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Things on paper: recorded, checked, drawn.
 *
 * Text is measured by words, each word once at one size: paper is drawn without hinting, so widths are exactly
 * proportional to the size, and the same few hundred words stand on every sheet of a board.
 */
#include "config.h"
#include "pm-ink.h"
#include "pm-mark.h"

#include <math.h>

/* The size at which words are measured. */
#define UNIT 100.0

struct _PmType {
  PmStyle      *style;
  PangoContext *context;
  PangoFontDescription *fonts[2];   /* plain, bold */
  PangoLayout  *layout;             /* used again and again */
  GHashTable   *widths[2];          /* word -> double * at UNIT */
  double        line;               /* height of a line at size 1 */
  double        blank[2];
};

typedef enum { THING_TEXT, THING_LINE, THING_BOX, THING_RING, THING_MARK, THING_PICTURE } ThingKind;
typedef struct {
  ThingKind      kind;
  guint          how;
  double         x, y, width, height;     /* line: to x + width, y + height; ring: centre, radius = width */
  double         size;                    /* of text; thickness of lines */
  double         grey;
  char          *text;
  PmSeverity     severity;
  PmInkDraw      draw;
  PmInkCheck     check;
  gpointer       data;
} Thing;

struct _PmInk {
  GArray *things;
};

/* ---- type */

PmType *
pm_type_new (gboolean no_colour)
{
  PmType *type = g_new0 (PmType, 1);
  PangoFontMetrics *metrics;
  cairo_font_options_t *options = cairo_font_options_create ();

  type->style = pm_style_new (no_colour ? PM_SCHEME_MONOCHROME : PM_SCHEME_PAPER, NULL, 1);
  type->context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  pango_cairo_context_set_resolution (type->context, 72);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (type->context, options);
  cairo_font_options_destroy (options);
  pango_context_set_round_glyph_positions (type->context, FALSE);
  type->layout = pango_layout_new (type->context);
  for (guint bold = 0; bold < 2; bold++) {
    type->fonts[bold] = pango_font_description_copy (type->style->font);
    if (bold)
      pango_font_description_set_weight (type->fonts[bold], PANGO_WEIGHT_BOLD);
    pango_font_description_set_absolute_size (type->fonts[bold], UNIT * PANGO_SCALE);
    type->widths[bold] = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  }
  metrics = pango_context_get_metrics (type->context, type->fonts[0], NULL);
  type->line = (pango_font_metrics_get_ascent (metrics) + pango_font_metrics_get_descent (metrics)) /
               (PANGO_SCALE * UNIT);
  type->line = MAX (type->line, 1.16);
  pango_font_metrics_unref (metrics);
  for (guint bold = 0; bold < 2; bold++)
    type->blank[bold] = -1;
  return type;
}

void
pm_type_free (PmType *type)
{
  if (!type)
    return;
  g_object_unref (type->layout);
  for (guint bold = 0; bold < 2; bold++) {
    pango_font_description_free (type->fonts[bold]);
    g_hash_table_unref (type->widths[bold]);
  }
  g_object_unref (type->context);
  pm_style_free (type->style);
  g_free (type);
}

const PmStyle *
pm_type_style (const PmType *type)
{
  return type->style;
}

PangoContext *
pm_type_context (const PmType *type)
{
  return type->context;
}

double
pm_type_line (const PmType *type, double size)
{
  return type->line * size;
}

static double
measured (PmType *type, const char *text, gboolean bold)
{
  PangoRectangle logical;

  pango_layout_set_font_description (type->layout, type->fonts[bold]);
  pango_layout_set_text (type->layout, text, -1);
  pango_layout_get_extents (type->layout, NULL, &logical);
  return logical.width / (double) PANGO_SCALE;
}

static double
word_width (PmType *type, const char *word, gboolean bold)
{
  double *width = g_hash_table_lookup (type->widths[bold], word);

  if (!width) {
    width = g_new (double, 1);
    *width = measured (type, word, bold);
    g_hash_table_insert (type->widths[bold], g_strdup (word), width);
  }
  return *width;
}

static double
blank_width (PmType *type, gboolean bold)
{
  if (type->blank[bold] < 0)
    type->blank[bold] = measured (type, "n n", bold) - measured (type, "nn", bold);
  return type->blank[bold];
}

double
pm_type_width (PmType *type, const char *text, double size, gboolean bold)
{
  char word[256];
  double width = 0;

  bold = bold != 0;
  while (*text) {
    gsize n = strcspn (text, " ");

    if (n >= sizeof word)
      return width * size / UNIT + measured (type, text, bold) * size / UNIT;
    memcpy (word, text, n);
    word[n] = '\0';
    if (n > 0)
      width += word_width (type, word, bold);
    text += n;
    if (*text == ' ') {
      width += blank_width (type, bold);
      text++;
    }
  }
  return width * size / UNIT;
}

double
pm_type_least (PmType *type, const char *text, double size, gboolean bold)
{
  g_auto (GStrv) words = g_strsplit_set (text, " \n", -1);
  double least = 0;

  for (guint i = 0; words[i]; i++)
    least = MAX (least, pm_type_width (type, words[i], size, bold));
  return least;
}

/* As many characters of a word as fit, at least one; a break after - / , . : is better than any other. */
static gsize
part_that_fits (PmType *type, const char *word, double size, gboolean bold, double width)
{
  const char *at = word, *good = NULL, *last = word;

  while (*at) {
    const char *next = g_utf8_next_char (at);
    g_autofree char *part = g_strndup (word, next - word);

    if (measured (type, part, bold) * size / UNIT > width && last > word)
      break;
    if (strchr ("-/,.:_", *at) && next[0] != '\0')
      good = next;
    last = next;
    at = next;
  }
  return (good && good > word + 2 ? good : last) - word;
}

static void
wrap_line (PmType *type, const char *text, double size, gboolean bold, double width, GPtrArray *lines)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  g_autoptr (GString) line = g_string_new (NULL);
  double at = 0, blank = blank_width (type, bold) * size / UNIT;

  for (guint i = 0; words[i]; i++) {
    const char *word = words[i];
    double wide = pm_type_width (type, word, size, bold);

    if (line->len > 0 && at + blank + wide > width + 0.01) {
      g_ptr_array_add (lines, g_strdup (line->str));
      g_string_truncate (line, 0);
      at = 0;
    }
    while (wide > width + 0.01 && g_utf8_strlen (word, -1) > 1) {
      gsize n = part_that_fits (type, word, size, bold, width);

      if (word[n] == '\0')
        break;
      g_ptr_array_add (lines, g_strndup (word, n));
      word += n;
      wide = pm_type_width (type, word, size, bold);
    }
    if (line->len > 0) {
      g_string_append_c (line, ' ');
      at += blank;
    }
    g_string_append (line, word);
    at += wide;
  }
  g_ptr_array_add (lines, g_strdup (line->str));
}

GPtrArray *
pm_type_wrap (PmType *type, const char *text, double size, gboolean bold, double width)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  g_auto (GStrv) given = g_strsplit (text, "\n", -1);

  for (guint i = 0; given[i]; i++)
    wrap_line (type, given[i], size, bold != 0, width, lines);
  if (lines->len == 0)
    g_ptr_array_add (lines, g_strdup (""));
  return lines;
}

/* The first n characters and an ellipsis. */
static char *
cut_after (const char *text, glong n)
{
  g_autofree char *part = g_utf8_substring (text, 0, n);

  return g_strconcat (g_strchomp (part), "…", NULL);
}

char *
pm_type_shorten (PmType *type, const char *text, double size, gboolean bold, double width)
{
  glong fits = 0, too_many = g_utf8_strlen (text, -1);

  if (pm_type_width (type, text, size, bold) <= width)
    return g_strdup (text);
  /* Halving: measuring a text of thousands of characters once for each of them takes minutes. */
  while (too_many - fits > 1) {
    glong n = fits + (too_many - fits) / 2;
    g_autofree char *tried = cut_after (text, n);

    if (measured (type, tried, bold != 0) * size / UNIT <= width)
      fits = n;
    else
      too_many = n;
  }
  return cut_after (text, fits);
}

/* ---- things */

static void
thing_clear (gpointer data)
{
  Thing *thing = data;

  g_free (thing->text);
}

PmInk *
pm_ink_new (void)
{
  PmInk *ink = g_new0 (PmInk, 1);

  ink->things = g_array_new (FALSE, TRUE, sizeof (Thing));
  g_array_set_clear_func (ink->things, thing_clear);
  return ink;
}

void
pm_ink_free (PmInk *ink)
{
  if (!ink)
    return;
  g_array_unref (ink->things);
  g_free (ink);
}

void
pm_ink_text (PmInk *ink, PmType *type, double x, double y, const char *text, double size, guint how)
{
  double width = pm_type_width (type, text, size, (how & PM_INK_BOLD) != 0);
  Thing thing = { .kind = THING_TEXT, .how = how, .x = x, .y = y, .width = width, .size = size };

  if (text[0] == '\0')
    return;
  thing.height = pm_type_line (type, size);
  thing.x -= how & PM_INK_CENTRE ? width / 2 : how & PM_INK_RIGHT ? width : 0;
  thing.text = g_strdup (text);
  g_array_append_val (ink->things, thing);
}

double
pm_ink_paragraph (PmInk *ink, PmType *type, double x, double y, double width, const char *text, double size, guint how)
{
  g_autoptr (GPtrArray) lines = pm_type_wrap (type, text, size, (how & PM_INK_BOLD) != 0, width);
  double line = pm_type_line (type, size);

  x += how & PM_INK_CENTRE ? width / 2 : how & PM_INK_RIGHT ? width : 0;
  for (guint i = 0; i < lines->len; i++)
    pm_ink_text (ink, type, x, y + i * line, lines->pdata[i], size, how);
  return lines->len * line;
}

void
pm_ink_line (PmInk *ink, double x1, double y1, double x2, double y2, double thick, guint how)
{
  Thing thing = { .kind = THING_LINE, .how = how, .x = x1, .y = y1, .width = x2 - x1, .height = y2 - y1,
                  .size = thick };

  g_array_append_val (ink->things, thing);
}

void
pm_ink_box (PmInk *ink, double x, double y, double width, double height, double thick, double grey, guint how)
{
  Thing thing = { .kind = THING_BOX, .how = how, .x = x, .y = y, .width = width, .height = height, .size = thick,
                  .grey = grey };

  g_array_append_val (ink->things, thing);
}

void
pm_ink_ring (PmInk *ink, double x, double y, double radius, double thick, double grey)
{
  Thing thing = { .kind = THING_RING, .x = x, .y = y, .width = radius, .size = thick, .grey = grey };

  g_array_append_val (ink->things, thing);
}

void
pm_ink_mark (PmInk *ink, PmType *type, double x, double y, PmSeverity severity)
{
  Thing thing = { .kind = THING_MARK, .x = x, .y = y, .severity = severity, .size = 8 };

  pm_mark_severity_measure (type->style, type->context, &thing.width, &thing.height);
  g_array_append_val (ink->things, thing);
}

void
pm_ink_picture (PmInk *ink, double x, double y, double width, double height, PmInkDraw draw, PmInkCheck check,
                gpointer data)
{
  Thing thing = { .kind = THING_PICTURE, .x = x, .y = y, .width = width, .height = height, .draw = draw,
                  .check = check, .data = data };

  g_array_append_val (ink->things, thing);
}

void
pm_ink_take (PmInk *ink, PmInk *other, double dx, double dy)
{
  for (guint i = 0; i < other->things->len; i++) {
    Thing thing = g_array_index (other->things, Thing, i);

    thing.x += dx;
    thing.y += dy;
    g_array_append_val (ink->things, thing);
  }
  g_array_set_clear_func (other->things, NULL);
  pm_ink_free (other);
}

/* ---- drawing */

static void
set_colour (cairo_t *cr, const PmStyle *style, guint how)
{
  pm_style_set_source (cr, how & PM_INK_GROUND ? style->ground : how & PM_INK_FAINT ? style->faint : style->ink);
}

static void
draw_text (const Thing *thing, const PmType *type, cairo_t *cr)
{
  PangoFontDescription *font = type->fonts[(thing->how & PM_INK_BOLD) != 0];

  pango_font_description_set_absolute_size (font, thing->size * PANGO_SCALE);
  pango_layout_set_font_description (type->layout, font);
  pango_font_description_set_absolute_size (font, UNIT * PANGO_SCALE);
  pango_layout_set_text (type->layout, thing->text, -1);
  set_colour (cr, type->style, thing->how);
  cairo_move_to (cr, thing->x, thing->y);
  pango_cairo_show_layout (cr, type->layout);
}

/* Fills with a grey and strokes the path. */
static void
fill_and_stroke (const Thing *thing, const PmType *type, cairo_t *cr)
{
  if (thing->grey >= 0) {
    cairo_set_source_rgb (cr, 1 - thing->grey, 1 - thing->grey, 1 - thing->grey);
    cairo_fill_preserve (cr);
  }
  if (thing->size > 0) {
    set_colour (cr, type->style, thing->how);
    cairo_stroke (cr);
  }
  cairo_new_path (cr);
}

static void
draw_thing (const Thing *thing, const PmType *type, cairo_t *cr)
{
  static const double DASHES[] = { 6, 3 };

  cairo_set_line_width (cr, thing->size);
  cairo_set_dash (cr, DASHES, thing->how & PM_INK_DASHED ? G_N_ELEMENTS (DASHES) : 0, 0);
  switch (thing->kind) {
  case THING_TEXT:
    draw_text (thing, type, cr);
    break;
  case THING_LINE:
    set_colour (cr, type->style, thing->how);
    cairo_move_to (cr, thing->x, thing->y);
    cairo_line_to (cr, thing->x + thing->width, thing->y + thing->height);
    cairo_stroke (cr);
    break;
  case THING_BOX:
    cairo_rectangle (cr, thing->x, thing->y, thing->width, thing->height);
    fill_and_stroke (thing, type, cr);
    break;
  case THING_RING:
    cairo_new_path (cr);
    cairo_arc (cr, thing->x, thing->y, thing->width, 0, 2 * G_PI);
    fill_and_stroke (thing, type, cr);
    break;
  case THING_MARK:
    pm_mark_severity_draw (thing->severity, type->style, type->context, cr, thing->x, thing->y);
    break;
  case THING_PICTURE:
    cairo_save (cr);
    cairo_set_dash (cr, NULL, 0, 0);
    cairo_translate (cr, thing->x, thing->y);
    thing->draw (cr, type, thing->width, thing->height, thing->data);
    cairo_restore (cr);
    break;
  default:
    g_assert_not_reached ();
  }
}

void
pm_ink_draw (const PmInk *ink, const PmType *type, cairo_t *cr)
{
  cairo_save (cr);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER);
  for (guint i = 0; i < ink->things->len; i++)
    draw_thing (&g_array_index (ink->things, Thing, i), type, cr);
  cairo_restore (cr);
}

/* ---- checking */

static gboolean
is_words (const Thing *thing)
{
  return thing->kind == THING_TEXT || thing->kind == THING_MARK || thing->kind == THING_PICTURE;
}

static const char *
thing_words (const Thing *thing)
{
  return thing->text ? thing->text : thing->kind == THING_MARK ? pm_mark_severity_word (thing->severity) : "a picture";
}

/* Half a point: what a line's descent and the next one's ascent may share. */
static PmRect
thing_rect (const Thing *thing)
{
  return (PmRect) { thing->x + 0.25, thing->y + 0.5, thing->width - 0.5, thing->height - 1 };
}

void
pm_ink_check (const PmInk *ink, const PmType *type, const PmRect *inside, GPtrArray *problems)
{
  for (guint i = 0; i < ink->things->len; i++) {
    const Thing *a = &g_array_index (ink->things, Thing, i);
    PmRect area = thing_rect (a);

    if (!is_words (a))
      continue;
    if (a->check) {
      g_auto (GStrv) own = a->check (a->data);

      for (guint k = 0; own[k]; k++)
        g_ptr_array_add (problems, g_strdup (own[k]));
    }
    if (a->kind == THING_TEXT && a->size < PM_SMALLEST_TEXT - 0.001)
      g_ptr_array_add (problems, g_strdup_printf ("\"%s\" is %.1f pt high", a->text, a->size));
    if (area.x < inside->x - 0.1 || area.y < inside->y - 0.1 ||
        area.x + area.width > inside->x + inside->width + 0.1 ||
        area.y + area.height > inside->y + inside->height + 0.1)
      g_ptr_array_add (problems, g_strdup_printf ("\"%s\" is out of the frame", thing_words (a)));
    for (guint j = i + 1; j < ink->things->len; j++) {
      const Thing *b = &g_array_index (ink->things, Thing, j);
      PmRect other = thing_rect (b);

      if (is_words (b) && pm_rect_overlaps (&area, &other))
        g_ptr_array_add (problems,
                         g_strdup_printf ("\"%s\" is over \"%s\"", thing_words (a), thing_words (b)));
    }
  }
}
