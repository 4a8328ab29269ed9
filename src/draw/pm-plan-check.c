/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is wrong with the geometry of a plan: found by looking at all of it once more, apart from the code that placed
 * it. */
#include "config.h"
#include "pm-plan-private.h"
#include "pm-problems.h"

static gboolean
outside (const PmPlan *plan, const PmRect *r)
{
  return r->x < -0.01 || r->y < -0.01 || r->x + r->width > plan->frame.width + 0.01 ||
         r->y + r->height > plan->frame.height + 0.01;
}

static void
check_words (const PmPlan *plan, GPtrArray *out)
{
  for (guint i = 0; i < plan->words->len; i++) {
    const PmWord *word = PM_AT (plan->words, PmWord, i);
    const char *text = pango_layout_get_text (word->layout);

    if (outside (plan, &word->area))
      pm_problems_add (out, "\"%s\" stands outside", text);
    for (guint k = i + 1; k < plan->words->len; k++) {
      if (pm_rect_overlaps (&word->area, &PM_AT (plan->words, PmWord, k)->area))
        pm_problems_add (out, "\"%s\" stands on \"%s\"", text,
                         pango_layout_get_text (PM_AT (plan->words, PmWord, k)->layout));
    }
    for (guint t = 0; t < plan->tracks->len; t++) {
      const PmTrack *track = PM_AT (plan->tracks, PmTrack, t);
      for (guint p = 0; p + 1 < track->n_points; p++) {
        if (pm_segment_meets (track->points[p], track->points[p + 1], track->width, &word->area))
          pm_problems_add (out, "\"%s\" stands on a track of unit %d", text, track->unit);
      }
    }
    for (guint m = 0; m < plan->marks->len; m++) {
      if (pm_rect_overlaps (&word->area, &PM_AT (plan->marks, PmTrackMark, m)->area))
        pm_problems_add (out, "\"%s\" stands on a mark", text);
    }
    for (guint b = 0; b < plan->boxes->len; b++) {
      const PmRect *box = &PM_AT (plan->boxes, PmPlanBox, b)->area;
      gboolean inside = word->area.x >= box->x && word->area.y >= box->y &&
                        word->area.x + word->area.width <= box->x + box->width &&
                        word->area.y + word->area.height <= box->y + box->height;
      if ((int) b == word->box ? !inside : pm_rect_overlaps (&word->area, box))
        pm_problems_add (out, "\"%s\" stands over the edge of box %u", text, b);
    }
  }
}

static void
check_tracks (const PmPlan *plan, GPtrArray *out)
{
  for (guint i = 0; i < plan->tracks->len; i++) {
    const PmTrack *a = PM_AT (plan->tracks, PmTrack, i);

    for (guint p = 0; p + 1 < a->n_points; p++) {
      double dx = a->points[p + 1].x - a->points[p].x, dy = a->points[p + 1].y - a->points[p].y;
      if (dx < 0 || (fabs (dy) > 0.01 && fabs (fabs (dy) - dx) > 0.01))
        pm_problems_add (out, "track of unit %d is neither level nor at 45 degrees", a->unit);
      if (a->points[p].y < a->width / 2 || a->points[p].y > plan->frame.height - a->width / 2)
        pm_problems_add (out, "track of unit %d runs outside", a->unit);
      for (guint b = 0; b < plan->boxes->len; b++) {
        PmRect box = PM_AT (plan->boxes, PmPlanBox, b)->area;
        box = (PmRect){ box.x + 1, box.y + 1, box.width - 2, box.height - 2 };
        if (!plan->open && pm_segment_meets (a->points[p], a->points[p + 1], 0, &box))
          pm_problems_add (out, "track of unit %d runs through box %u", a->unit, b);
      }
      for (guint k = i + 1; k < plan->tracks->len; k++) {
        const PmTrack *b = PM_AT (plan->tracks, PmTrack, k);
        for (guint q = 0; q + 1 < b->n_points && a->unit != b->unit; q++) {
          double ex = b->points[q + 1].x - b->points[q].x, ey = b->points[q + 1].y - b->points[q].y, ux, uy, s, e,
                 apart;
          if (fabs (dx * ey - dy * ex) > 0.01)
            continue;
          ux = dx / hypot (dx, dy);
          uy = dy / hypot (dx, dy);
          s = (b->points[q].x - a->points[p].x) * ux + (b->points[q].y - a->points[p].y) * uy;
          e = s + ex * ux + ey * uy;
          apart = fabs ((b->points[q].x - a->points[p].x) * uy - (b->points[q].y - a->points[p].y) * ux);
          if (apart < (a->width + b->width) / 2 + 1 && MIN (e, hypot (dx, dy)) - MAX (s, 0) > 0.5)
            pm_problems_add (out, "tracks of units %d and %d run in one another", a->unit, b->unit);
        }
      }
    }
  }
}

static void
check_boxes (const PmPlan *plan, GPtrArray *out)
{
  for (guint i = 0; i < plan->boxes->len; i++) {
    const PmPlanBox *a = PM_AT (plan->boxes, PmPlanBox, i);
    if (outside (plan, &a->area))
      pm_problems_add (out, "box %u stands outside", i);
    for (guint k = i + 1; k < plan->boxes->len; k++) {
      if (pm_rect_overlaps (&a->area, &PM_AT (plan->boxes, PmPlanBox, k)->area))
        pm_problems_add (out, "boxes %u and %u overlap", i, k);
    }
  }
  for (guint i = 0; i < plan->marks->len; i++) {
    const PmTrackMark *a = PM_AT (plan->marks, PmTrackMark, i);
    if (outside (plan, &a->area))
      pm_problems_add (out, "mark %u stands outside", i);
    for (guint k = i + 1; k < plan->marks->len; k++) {
      if (pm_rect_overlaps (&a->area, &PM_AT (plan->marks, PmTrackMark, k)->area))
        pm_problems_add (out, "marks %u and %u overlap", i, k);
    }
  }
}

char **
pm_plan_check (const PmPlan *plan)
{
  GPtrArray *out = g_ptr_array_new ();

  check_words (plan, out);
  check_tracks (plan, out);
  check_boxes (plan, out);
  g_ptr_array_add (out, NULL);
  return (char **) g_ptr_array_free (out, FALSE);
}

char *
pm_plan_words (const PmPlan *plan)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < plan->words->len; i++)
    g_string_append_printf (out, "%s\n", pango_layout_get_text (PM_AT (plan->words, PmWord, i)->layout));
  return g_string_free (out, FALSE);
}
