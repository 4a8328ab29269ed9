/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tracks and marks as they are put into a plan: at drives, where the middle is left open, and the breaks of crossings.
 */
#include "config.h"
#include "pm-plan-private.h"

gboolean
pm_segments_cross (PmPoint a, PmPoint b, PmPoint c, PmPoint d, PmPoint *at)
{
  double ux = b.x - a.x, uy = b.y - a.y, vx = d.x - c.x, vy = d.y - c.y;
  double det = ux * vy - uy * vx, s, t;

  if (fabs (det) < 1e-6)
    return FALSE;
  s = ((c.x - a.x) * vy - (c.y - a.y) * vx) / det;
  t = ((c.x - a.x) * uy - (c.y - a.y) * ux) / det;
  if (s <= 0 || s >= 1 || t <= 0 || t >= 1)
    return FALSE;
  *at = (PmPoint){ a.x + s * ux, a.y + s * uy };
  return TRUE;
}

void
pm_plan_add_mark (PmPlan *plan, PmTrackMarkKind kind, int unit, int drive, double x, double y, double size)
{
  PmTrackMark mark = { .kind = kind, .unit = unit, .drive = drive, .x = x, .y = y, .size = size };

  mark.area = (PmRect){ x - size / 2, y - size / 2, size, size };
  if (kind == PM_TRACK_BUFFER || kind == PM_TRACK_GATE)
    mark.area = (PmRect){ x - size * 0.3, y - size / 2, size * 0.6, size };
  g_array_append_val (plan->marks, mark);
}

void
pm_plan_add_track (PmPlan *plan, int unit, int drive, gboolean hollow, double width, const PmPoint *points,
                   guint n_points)
{
  PmTrack track = { .unit = unit, .drive = drive, .hollow = hollow, .width = width };

  for (guint i = 0; i < n_points; i++) {
    if (track.n_points && fabs (points[i].x - track.points[track.n_points - 1].x) < 0.01 &&
        fabs (points[i].y - track.points[track.n_points - 1].y) < 0.01)
      continue;
    track.points[track.n_points++] = points[i];
  }
  if (track.n_points < 2)
    return;
  track.breaks = g_array_new (FALSE, FALSE, sizeof (PmBreak));
  g_array_append_val (plan->tracks, track);
}

static void
add_dotted (PmPlan *plan, guint drive, const PmPoint p[2])
{
  pm_plan_add_track (plan, -1, drive, FALSE, MAX (2, round (plan->frame.m.line / 2)), p, 2);
  PM_AT (plan->tracks, PmTrack, plan->tracks->len - 1)->dotted = TRUE;
}

void
pm_plan_add_drives (PmPlan *plan, gboolean open)
{
  const PmPlanFrame *f = &plan->frame;
  const PmPlanMetrics *m = &f->m;

  for (guint i = 0; i < plan->ports->len && !open; i++) {
    const PmPort *port = PM_AT (plan->ports, PmPort, i);
    PmPoint p[2] = { { port->box.x + port->box.width, port->y }, { f->drive_x, port->y } };
    if (port->text)
      pm_plan_add_track (plan, -1, port->drive, FALSE, m->line, p, 2);
  }
  for (guint d = 0; d < plan->board->n_drives; d++) {
    double y = pm_plan_row_y (f, d), x = round (f->right - 0.7 * m->em);
    gboolean reached = FALSE, wanted = FALSE;
    PmPoint p[2] = { { x, y }, { f->drive_x, y } };

    for (guint i = 0; i < plan->links->len; i++) {
      const PmLink *link = PM_AT (plan->links, PmLink, i);
      reached |= link->drive == d && link->kind != PM_LINK_WANTED;
      wanted |= link->drive == d;
    }
    if (reached)
      continue;
    switch (plan->result->marks[d]) {
    case PM_DRIVE_HELD:
      p[0].x = x - 0.9 * m->em;
      if (!wanted)
        pm_plan_add_track (plan, -1, d, FALSE, MAX (2, round (m->line / 2)), p, 2);
      pm_plan_add_mark (plan, PM_TRACK_GATE, -1, d, x, y, round (1.7 * m->em));
      break;
    case PM_DRIVE_FLOATS:
      p[0].x = x + 0.75 * m->em;
      add_dotted (plan, d, p);
      if (!wanted)
        add_dotted (plan, d, (PmPoint[]){ { x - 2.2 * m->em, y }, { x - 0.75 * m->em, y } });
      pm_plan_add_mark (plan, PM_TRACK_FLOATS, -1, d, x, y, round (1.6 * m->em));
      break;
    case PM_DRIVE_ALWAYS:
      p[0].x = x + 0.75 * m->em;
      pm_plan_add_track (plan, -1, d, FALSE, m->line, p, 2);
      pm_plan_add_mark (plan, PM_TRACK_ALWAYS, -1, d, x, y, round (1.9 * m->em));
      break;
    case PM_DRIVE_REACHED:
    case PM_DRIVE_UNREACHED:
    case PM_DRIVE_NOT_CERTAIN:
    case PM_DRIVE_NO_POWER:
    case PM_N_DRIVE_MARKS:
    default:
      break;
    }
  }
}

/* A drive's incoming piece with the end mark of each select that reaches it, strung on it like beads; those on a
 * condition are framed. */
static void
string_beads (PmPlan *plan, guint drive, double from)
{
  const PmPlanFrame *f = &plan->frame;
  const PmPlanMetrics *m = &f->m;
  double y = pm_plan_row_y (f, drive), x, step, need = 0;

  for (guint i = 0; i < plan->links->len; i++) {
    const PmLink *link = PM_AT (plan->links, PmLink, i);
    if (link->drive == drive && link->kind != PM_LINK_WANTED)
      need += link->kind == PM_LINK_GATED ? 1.4 : 1;
  }
  if (need == 0)
    return;
  step = MIN (round (m->end * 0.9) + 3, floor ((f->drive_x - 4 - from - 0.8 * m->em) / (need + 0.5)));
  step = MAX (step, 5);
  x = f->drive_x - 3;
  for (guint i = plan->links->len; i-- > 0;) {
    const PmLink *link = PM_AT (plan->links, PmLink, i);
    PmPlanBox box = { .kind = PM_BOX_GATE, .drive = drive, .unit = link->unit, .short_form = TRUE };
    double wide;

    if (link->drive != drive || link->kind == PM_LINK_WANTED)
      continue;
    wide = link->kind == PM_LINK_GATED ? floor (1.4 * step) : step;
    x -= wide;
    if (link->kind == PM_LINK_GATED) {
      box.area = (PmRect){ x + 1, round (y - wide / 2), wide - 2, wide };
      g_array_append_val (plan->boxes, box);
    }
    pm_plan_add_mark (plan, PM_TRACK_END, link->unit, drive, x + wide / 2, y, step - 3);
  }
  pm_plan_add_track (plan, -1, drive, FALSE, MAX (2, round (m->line / 2)),
                     (PmPoint[]){ { x - 0.3 * m->em, y }, { f->drive_x, y } }, 2);
}

void
pm_plan_route_open (PmPlan *plan)
{
  const PmPlanFrame *f = &plan->frame;
  const PmPlanMetrics *m = &f->m;
  double bead = round (m->end * 0.9);
  double x = round (MIN (f->left + 1.2 * m->em, f->host_width + 0.26 * (f->drive_x - f->host_width)));

  for (guint u = 0; u < plan->board->host.n_units; u++) {
    double y = pm_plan_row_y (f, u);
    PmPoint p[2] = { { f->host_width, y }, { x, y } };
    guint n = 0, n_yes = 0;

    for (guint i = 0; i < plan->links->len; i++) {
      const PmLink *link = PM_AT (plan->links, PmLink, i);
      n += link->unit == u && link->kind != PM_LINK_WANTED;
      n_yes += link->unit == u && link->kind == PM_LINK_YES;
    }
    pm_plan_add_track (plan, u, -1, FALSE, m->line, p, 2);
    pm_plan_add_mark (plan, PM_TRACK_END, u, -1, f->host_width, y, m->end);
    if (n == 0)
      pm_plan_add_mark (plan, PM_TRACK_BUFFER, u, -1, x, y, round (1.5 * m->em));
    else if (n_yes > 1)
      pm_plan_add_mark (plan, PM_TRACK_TWO, u, -1, x, y, 2 * m->joint);
    else
      pm_plan_add_mark (plan, PM_TRACK_END, u, -1, x, y, bead);
  }
  for (guint d = 0; d < plan->board->n_drives; d++)
    string_beads (plan, d, x);
  pm_plan_add_drives (plan, TRUE);
}

static void
break_at (PmTrack *track, PmPoint at, PmPoint a, PmPoint b, double width, double em)
{
  double length = hypot (b.x - a.x, b.y - a.y);
  PmBreak gap = { at, { (b.x - a.x) / length, (b.y - a.y) / length }, width / 2 + MAX (2, 0.22 * em) };

  g_array_append_val (track->breaks, gap);
}

void
pm_plan_break (PmPlan *plan)
{
  for (guint i = 0; i < plan->tracks->len; i++) {
    for (guint k = i + 1; k < plan->tracks->len; k++) {
      PmTrack *a = PM_AT (plan->tracks, PmTrack, i), *b = PM_AT (plan->tracks, PmTrack, k);
      PmTrack *under = a->hollow > b->hollow || (a->hollow == b->hollow && a->unit > b->unit) ? a : b;
      PmTrack *over = under == a ? b : a;
      PmPoint at;

      if (a->unit == b->unit)
        continue;
      for (guint p = 0; p + 1 < under->n_points; p++) {
        for (guint q = 0; q + 1 < over->n_points; q++) {
          if (pm_segments_cross (under->points[p], under->points[p + 1], over->points[q], over->points[q + 1], &at))
            break_at (under, at, over->points[q], over->points[q + 1], over->width, plan->frame.m.em);
        }
      }
    }
  }
}
