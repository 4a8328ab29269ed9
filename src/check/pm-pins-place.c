/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where pins lie, which lie side by side, and which come to lie where others were when a board is turned or mirrored.
 * The last two are found by turning the picture, not by counting, so that they hold for every connector. */
#include "config.h"
#include "pm-pins-private.h"
#include <math.h>
#include <string.h>

#define PITCH 2.54
/* Of D-type connectors: 0.109 and 0.112 inch, from memory. */
#define D_PITCH 2.77
#define D_ROWS 2.84

static double
rows_apart (guint n_pins)
{
  return n_pins <= 20 ? 3 * PITCH : n_pins <= 22 ? 4 * PITCH : 6 * PITCH;
}

void
pm_pins_lay (PmPins *pins, const PmPart *part)
{
  guint n = pins->n_pins, half = (n + 1) / 2;
  gboolean d_type = part->name != NULL && strncmp (part->name, "d-type", 6) == 0;

  pins->dual_in_line = part->type != PM_PART_CONNECTOR && part->type != PM_PART_DRIVE;
  for (guint i = 0; i < n; i++) {
    PmPinFact *pin = &pins->pins[i];

    if (pins->dual_in_line) {
      pin->side = i < half ? -1 : 1;
      pin->x = i < half ? 0 : rows_apart (n);
      pin->y = PITCH * (i < half ? i : n - 1 - i);
    } else if (d_type) {
      pin->side = i < half ? -1 : 1;
      pin->x = i < half ? 0 : D_ROWS;
      pin->y = D_PITCH * (i < half ? i : i - half + 0.5);
    } else if (part->rows == 2) {
      pin->side = i % 2 == 0 ? -1 : 1;
      pin->x = i % 2 == 0 ? 0 : PITCH;
      pin->y = PITCH * (i / 2);
    } else {
      pin->side = 1;
      pin->y = PITCH * i;
    }
    pins->width = MAX (pins->width, pin->x);
    pins->height = MAX (pins->height, pin->y);
  }
}

static guint
pin_at (const PmPins *pins, double x, double y)
{
  for (guint i = 0; i < pins->n_pins; i++)
    if (hypot (pins->pins[i].x - x, pins->pins[i].y - y) < 0.1)
      return i;
  return PM_NONE;
}

guint
pm_pins_turned (const PmPins *pins, guint pin)
{
  g_return_val_if_fail (pin < pins->n_pins, PM_NONE);
  return pin_at (pins, pins->width - pins->pins[pin].x, pins->height - pins->pins[pin].y);
}

/* About the line along the rows; where that gives no fit (rows of unequal length), across them. */
guint
pm_pins_mirrored (const PmPins *pins, guint pin)
{
  gboolean along = TRUE;

  g_return_val_if_fail (pin < pins->n_pins, PM_NONE);
  for (guint i = 0; i < pins->n_pins && along; i++)
    along = pin_at (pins, pins->width - pins->pins[i].x, pins->pins[i].y) != PM_NONE;
  return along ? pin_at (pins, pins->width - pins->pins[pin].x, pins->pins[pin].y)
               : pin_at (pins, pins->pins[pin].x, pins->height - pins->pins[pin].y);
}

gboolean
pm_pins_adjoin (const PmPins *pins, guint a, guint b)
{
  g_return_val_if_fail (a < pins->n_pins && b < pins->n_pins, FALSE);
  return a != b && hypot (pins->pins[a].x - pins->pins[b].x, pins->pins[a].y - pins->pins[b].y) < 1.2 * PITCH;
}
