/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pins at true scale, from above and from the solder side, what happens when it is turned or mirrored, the table.
 */
#include "config.h"
#include "pm-sheet.h"
#include "pm-pin-map.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define WORDS "sans 8"

/* A view; the map and the style are shared by both and owned by the first. */
typedef struct {
  PmPinMap *map;
  PmStyle  *style;
  guint     case_index;
  double    scale;
  double    most;          /* the largest scale: true size on paper, larger in a picture to look at */
  gboolean  solder_side, bar;
} Map;

static void
map_free (gpointer data)
{
  Map *map = data;

  pm_pin_map_free (map->map);
  pm_style_free (map->style);
  g_free (map);
}

static void
map_draw (cairo_t *cr, const PmType *type, double width, double height, gpointer data)
{
  Map *map = data;

  pm_pin_map_draw (map->map, cr, map->style, pm_type_context (type), map->scale, map->solder_side, map->case_index, -1,
                   map->bar);
}

/* At true scale with as many words as there is room for; smaller only where not even the lines fit. */
static PmInk *
map_picture (PmType *type, double width, double size, double *height, gpointer data)
{
  Map *map = data;
  PmInk *ink = pm_ink_new ();
  double wide = INFINITY, high = 0, y = 0;

  map->scale = PM_MM;
  for (guint words = 0; words < PM_N_MAP_WORDS && wide > width; words++) {
    pm_pin_map_set_words (map->map, words);
    pm_pin_map_measure (map->map, map->style, pm_type_context (type), map->scale, &wide, &high);
  }
  if (map->most > map->scale && wide <= width) {
    double fits = pm_pin_map_fit (map->map, map->style, pm_type_context (type), width, map->scale, map->most, &high);

    map->scale = fits > 0 ? fits : map->scale;
    pm_pin_map_measure (map->map, map->style, pm_type_context (type), map->scale, &wide, &high);
  } else if (wide > width) {
    double fits = pm_pin_map_fit (map->map, map->style, pm_type_context (type), width, 0.2 * PM_MM, PM_MM, &high);

    map->scale = fits > 0 ? fits : 0.2 * PM_MM;
    pm_pin_map_measure (map->map, map->style, pm_type_context (type), map->scale, &wide, &high);
    g_autofree char *title = g_strdup_printf (_("Too wide for this paper: at %.0f %% of true size"),
                                              map->scale / PM_MM * 100);
    y = pm_ink_paragraph (ink, type, 0, 0, width, title, size, PM_INK_BOLD) + 4;
  }
  pm_ink_picture (ink, MAX (0, (width - wide) / 2), y, wide, high, map_draw, NULL, map);
  *height = y + high;
  return ink;
}

static Map *
add_map (PmFlow *flow, const PmSheetInput *in, const Map *other, gboolean true_size)
{
  Map *map = g_new0 (Map, 1);

  if (other) {
    *map = *other;
    map->solder_side = TRUE;
  } else {
    PangoFontDescription *font = pango_font_description_from_string (WORDS);

    map->map = pm_pin_map_new (in->check);
    map->style = pm_style_new (in->options->no_colour ? PM_SCHEME_MONOCHROME : PM_SCHEME_PAPER, font, 1);
    map->case_index = in->options->case_index;
    map->bar = true_size;
    map->most = true_size ? PM_MM : 2 * PM_MM;
    pango_font_description_free (font);
  }
  pm_flow_picture (flow, map_picture, map, other ? g_free : map_free);
  return map;
}

const char *const *
pm_sheet_pin_maps (PmFlow *flow, const PmSheetInput *in, gboolean true_size)
{
  const Map *above = add_map (flow, in, NULL, true_size);

  add_map (flow, in, above, true_size);
  return pm_pin_map_warnings (above->map);
}

PmFlow *
pm_sheet_pins (const PmSheetInput *in, guint degree)
{
  PmFlow *flow = pm_flow_new (in->type);
  const char *const *warnings;

  pm_flow_heading (flow, 0, pm_sheet_title (PM_SHEET_PINS));
  pm_flow_paragraph (flow, _("At true size: print at 100 %, not fitted to the page, and measure the bar before "
                             "anything is drilled or cut."));
  warnings = pm_sheet_pin_maps (flow, in, TRUE);
  for (guint i = 0; warnings[i]; i++)
    pm_flow_bullet (flow, warnings[i]);
  pm_flow_heading (flow, 1, pm_list_kind_title (PM_LIST_PINS));
  pm_flow_list (flow, pm_sheet_list_of (in, PM_LIST_PINS), NULL);
  return flow;
}
