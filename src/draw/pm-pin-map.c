/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pin map: made of the pins of a check; measuring and finding. */
#include "config.h"
#include "pm-pin-map-private.h"
#include <math.h>

PmPinMap *
pm_pin_map_new (const PmCheck *check)
{
  PmPins *pins = pm_pins_new (check);

  if (pins == NULL)
    return NULL;
  PmPinMap *map = g_new0 (PmPinMap, 1);
  map->pins = pins;
  return map;
}

void
pm_pin_map_free (PmPinMap *map)
{
  if (map == NULL)
    return;
  pm_pins_free (map->pins);
  g_free (map);
}

const PmPins *
pm_pin_map_pins (const PmPinMap *map)
{
  return map->pins;
}

void
pm_pin_map_set_words (PmPinMap *map, PmMapWords words)
{
  g_return_if_fail (words < PM_N_MAP_WORDS);
  map->words = words;
}

guint
pm_pin_map_n_pins (const PmPinMap *map)
{
  return map->pins->n_pins;
}

const PmPinFact *
pm_pin_map_pin (const PmPinMap *map, guint index)
{
  g_return_val_if_fail (index < map->pins->n_pins, NULL);
  return &map->pins->pins[index];
}

const char *const *
pm_pin_map_warnings (const PmPinMap *map)
{
  return (const char *const *) map->pins->warnings;
}

void
pm_pin_map_measure (const PmPinMap *map, const PmStyle *style, PangoContext *context, double scale, double *width,
                    double *height)
{
  g_autoptr (PmMapLayout) layout = pm_map_layout_new (map, style, context, scale, FALSE, 0, TRUE);

  if (width != NULL)
    *width = layout->width;
  if (height != NULL)
    *height = layout->height;
}

static PmRect
cell (const PmMapLayout *layout, guint index)
{
  double half = 1.27 * layout->scale;

  return (PmRect){ layout->spots[index].at.x - half, layout->spots[index].at.y - half, 2 * half, 2 * half };
}

void
pm_pin_map_areas (const PmPinMap *map, const PmStyle *style, PangoContext *context, double scale, gboolean solder_side,
                  PmRect *words, PmRect *pins)
{
  g_autoptr (PmMapLayout) layout = pm_map_layout_new (map, style, context, scale, solder_side, 0, FALSE);

  for (guint i = 0; i < map->pins->n_pins; i++) {
    if (words != NULL)
      words[i] = layout->spots[i].row;
    if (pins != NULL)
      pins[i] = cell (layout, i);
  }
}

int
pm_pin_map_at (const PmPinMap *map, const PmStyle *style, PangoContext *context, double scale, gboolean solder_side,
               double x, double y)
{
  g_autoptr (PmMapLayout) layout = pm_map_layout_new (map, style, context, scale, solder_side, 0, FALSE);

  for (guint i = 0; i < map->pins->n_pins; i++) {
    PmRect pin = cell (layout, i);
    if (pm_rect_contains (&pin, x, y) || pm_rect_contains (&layout->spots[i].row, x, y))
      return i;
  }
  return -1;
}
