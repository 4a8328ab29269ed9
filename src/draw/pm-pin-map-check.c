/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is wrong with the geometry of a pin map: both sides and every case are looked at, apart from the code that laid
 * them out. */
#include "config.h"
#include "pm-pin-map-private.h"
#include "pm-problems.h"
#include <math.h>

static const char *
text_of (const PmMapWord *word)
{
  return pango_layout_get_text (word->layout);
}

static double
turn (PmMapPoint a, PmMapPoint b, PmMapPoint c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static gboolean
cross (PmMapPoint a, PmMapPoint b, PmMapPoint c, PmMapPoint d)
{
  return turn (a, b, c) * turn (a, b, d) < 0 && turn (c, d, a) * turn (c, d, b) < 0;
}

/* Whether a piece of line comes into a box: what is left of it between each pair of edges (Liang, Barsky, 1984). */
static gboolean
meets (PmMapPoint a, PmMapPoint b, const PmRect *box)
{
  double from = 0, to = 1;
  const double start[2] = { a.x, a.y }, way[2] = { b.x - a.x, b.y - a.y };
  const double low[2] = { box->x, box->y }, high[2] = { box->x + box->width, box->y + box->height };

  for (guint i = 0; i < 2; i++) {
    if (fabs (way[i]) < 1e-9) {
      if (start[i] <= low[i] || start[i] >= high[i])
        return FALSE;
      continue;
    }
    double first = (low[i] - start[i]) / way[i], second = (high[i] - start[i]) / way[i];
    from = MAX (from, MIN (first, second));
    to = MIN (to, MAX (first, second));
  }
  return to - from > 1e-9;
}

static void
check_words (const PmMapLayout *l, guint n_pins, GPtrArray *out)
{
  for (guint i = 0; i < l->words->len; i++) {
    const PmMapWord *a = &g_array_index (l->words, PmMapWord, i);

    if (a->area.x < -0.01 || a->area.y < -0.01 || a->area.x + a->area.width > l->width + 0.01 ||
        a->area.y + a->area.height > l->height + 0.01)
      pm_problems_add (out, "\"%s\" stands outside", text_of (a));
    for (guint k = i + 1; k < l->words->len; k++) {
      const PmMapWord *b = &g_array_index (l->words, PmMapWord, k);
      if (pm_rect_overlaps (&a->area, &b->area))
        pm_problems_add (out, "\"%s\" stands on \"%s\"", text_of (a), text_of (b));
    }
    if (pm_rect_overlaps (&a->area, &l->body))
      pm_problems_add (out, "\"%s\" stands on the body", text_of (a));
    for (guint p = 0; p < n_pins; p++) {
      const PmMapSpot *spot = &l->spots[p];
      double r = PM_MAP_MARK * l->scale;
      PmRect mark = { spot->at.x - r, spot->at.y - r, 2 * r, 2 * r };
      if (pm_rect_overlaps (&a->area, &mark))
        pm_problems_add (out, "\"%s\" stands on the mark of pin %u", text_of (a), p + 1);
      for (guint k = 0; k < 3; k++)
        if (meets (spot->leader[k], spot->leader[k + 1], &a->area))
          pm_problems_add (out, "\"%s\" stands on the line of pin %u", text_of (a), p + 1);
    }
  }
}

static void
check_lines (const PmMapLayout *l, guint n_pins, GPtrArray *out)
{
  for (guint p = 0; p < n_pins; p++)
    for (guint q = 0; q < n_pins; q++) {
      const PmMapSpot *a = &l->spots[p], *b = &l->spots[q];
      double r = PM_MAP_MARK * l->scale;
      PmRect mark = { b->at.x - r, b->at.y - 0.7 * r, 2 * r, 1.4 * r };
      for (guint i = 0; i < 3 && p != q; i++) {
        if (meets (a->leader[i], a->leader[i + 1], &mark))
          pm_problems_add (out, "the line of pin %u runs over pin %u", p + 1, q + 1);
        for (guint k = 0; k < 3 && p < q; k++)
          if (cross (a->leader[i], a->leader[i + 1], b->leader[k], b->leader[k + 1]))
            pm_problems_add (out, "the lines of pins %u and %u cross", p + 1, q + 1);
      }
    }
}

static void
check_pins (const PmPinMap *map, const PmMapLayout *l, GPtrArray *out)
{
  for (guint p = 0; p < map->pins->n_pins; p++) {
    const PmMapSpot *a = &l->spots[p];
    if (a->at.x < 0 || a->at.y < 0 || a->at.x > l->width || a->at.y > l->height)
      pm_problems_add (out, "pin %u lies outside", p + 1);
    for (guint q = p + 1; q < map->pins->n_pins; q++) {
      const PmPinFact *x = &map->pins->pins[p], *y = &map->pins->pins[q];
      double shown = hypot (a->at.x - l->spots[q].at.x, a->at.y - l->spots[q].at.y);
      if (fabs (shown - l->scale * hypot (x->x - y->x, x->y - y->y)) > 0.01)
        pm_problems_add (out, "pins %u and %u are %.3f apart", p + 1, q + 1, shown / l->scale);
    }
  }
}

char **
pm_pin_map_check (const PmPinMap *map, const PmStyle *style, PangoContext *context, double scale)
{
  GPtrArray *out = g_ptr_array_new ();
  double width, height;

  pm_pin_map_measure (map, style, context, scale, &width, &height);
  for (guint c = 0; c <= map->pins->check->n_settings; c++)
    for (guint solder = 0; solder < 2; solder++) {
      g_autoptr (PmMapLayout) l = pm_map_layout_new (map, style, context, scale, solder, c, TRUE);
      if (fabs (l->width - width) > 0.01 || fabs (l->height - height) > 0.01)
        pm_problems_add (out, "case %u takes another size: %g x %g", c, l->width, l->height);
      check_words (l, map->pins->n_pins, out);
      check_lines (l, map->pins->n_pins, out);
      check_pins (map, l, out);
    }
  g_ptr_array_add (out, NULL);
  return (char **) g_ptr_array_free (out, FALSE);
}
