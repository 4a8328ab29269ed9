/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Routes: from links to tracks that are level or at 45 degrees.
 *
 * The tracks of one unit are a tree: level from the machine to a turnout x, from there level on, diagonally down and
 * diagonally up; at each row wanted a level track leaves the diagonal.  So all freedom is one number per unit, its
 * turnout.  Turnouts are chosen one after the other, round and round, each the cheapest against the others, from three
 * starts; cost counts what must not be (tracks in one another, lines through turnouts, three tracks in a point) and
 * then crossings.  Everything is deterministic.
 */
#include "config.h"
#include "pm-plan-private.h"

#define MUST_NOT 1000.0
#define N_PLACES 40
#define N_ROUNDS 6
#define MAX_LEGS 20

typedef struct {
  gboolean hollow;
  int drive; /* where it ends, or -1 */
  guint n;
  PmPoint p[4];
} Leg;

typedef struct {
  guint unit;
  double start, y, x; /* x: the turnout, or where it stops */
  const PmLink *links[32];
  double ends[32]; /* x of the end of each link's level track */
  guint n_links, n_solid;
  double least, most; /* of x */
  double wish;
  Leg legs[MAX_LEGS];
  guint n_legs;
} Net;

typedef struct {
  PmPoint at;
  guint a, b;
} Crossing;

typedef struct {
  PmPlan *plan;
  Net *nets;
  guint n_nets;
  GArray *blocks; /* Block: what no track of another port may run through */
} Yard;
typedef struct {
  PmRect area;
  guint drive;
} Block;

/* How far a hollow track keeps off the point where it would leave a solid one. */
static double
hollow_gap (const Yard *yard)
{
  return round (yard->plan->frame.m.em * 0.85);
}

static Leg *
leg_new (Net *net, gboolean hollow, int drive)
{
  Leg *leg = &net->legs[MIN (net->n_legs, MAX_LEGS - 1)];

  net->n_legs = MIN (net->n_legs + 1, MAX_LEGS);
  *leg = (Leg){ .hollow = hollow, .drive = drive };
  return leg;
}

static void
leg_to (Leg *leg, double x, double y)
{
  leg->p[leg->n++] = (PmPoint){ x, y };
}

/* The tracks of one side (sign -1 up, +1 down) of the turnout, in order of distance; `continues`: a leg that has come
 * to the turnout and goes on here. */
static void
legs_of_side (const Yard *yard, Net *net, double x, int sign, gboolean continues)
{
  double reach_solid = 0, reach_all = 0, gap = hollow_gap (yard);
  gboolean only_wanted = net->n_solid == 0;

  for (guint i = 0; i < net->n_links; i++) {
    double dy = (net->links[i]->y - net->y) * sign;

    if (dy < 0.5)
      continue;
    reach_all = MAX (reach_all, dy);
    if (net->links[i]->kind != PM_LINK_WANTED)
      reach_solid = MAX (reach_solid, dy);
  }
  for (guint i = 0; i < net->n_links; i++) {
    const PmLink *link = net->links[i];
    double dy = (link->y - net->y) * sign, end = net->ends[i];
    gboolean hollow = link->kind == PM_LINK_WANTED;
    Leg *leg;

    if (dy < 0.5)
      continue;
    if (!hollow && dy == reach_solid && continues) {
      leg = &net->legs[0];
      leg->drive = link->drive;
    } else {
      leg = leg_new (net, hollow, link->drive);
      if (!hollow && dy == reach_solid) {
        leg_to (leg, x, net->y);
      } else if (hollow && dy == reach_all && dy > reach_solid) {
        /* The diagonal is hollow from the last solid row on. */
        double from = reach_solid > 0 ? reach_solid : only_wanted ? 0 : gap * 0.8;
        if (reach_solid > 0)
          from += gap * 0.8;
        if (from < dy)
          leg_to (leg, x + from, net->y + sign * from);
      } else if (hollow) {
        leg_to (leg, x + dy + (dy <= reach_solid ? gap : 0), link->y);
        leg_to (leg, end, link->y);
        continue;
      } else {
        leg_to (leg, x + dy, link->y);
        leg_to (leg, end, link->y);
        continue;
      }
    }
    leg_to (leg, x + dy, link->y);
    leg_to (leg, end, link->y);
  }
}

/* All legs for a turnout at x. */
static void
net_lay (const Yard *yard, Net *net, double x)
{
  int level = -1, down = FALSE, up = FALSE;
  double gap = hollow_gap (yard), from = x;
  Leg *trunk;

  net->x = x;
  net->n_legs = 0;
  trunk = leg_new (net, FALSE, -1);
  leg_to (trunk, net->start, net->y);
  for (guint i = 0; i < net->n_links; i++) {
    double dy = net->links[i]->y - net->y;

    if (fabs (dy) < 0.5)
      level = i;
    else if (net->links[i]->kind != PM_LINK_WANTED)
      *(dy > 0 ? &down : &up) = TRUE;
  }
  if (net->n_solid == 0)
    from = x + gap; /* a buffer stop stands at x */
  if (level >= 0 && net->links[level]->kind != PM_LINK_WANTED) {
    leg_to (trunk, net->ends[level], net->y);
    trunk->drive = net->links[level]->drive;
    legs_of_side (yard, net, x, 1, FALSE);
    legs_of_side (yard, net, x, -1, FALSE);
    return;
  }
  leg_to (trunk, x, net->y);
  if (level >= 0) {
    Leg *hollow = leg_new (net, TRUE, net->links[level]->drive);
    leg_to (hollow, x + gap, net->y);
    leg_to (hollow, net->ends[level], net->y);
  }
  legs_of_side (yard, net, from, 1, down);
  legs_of_side (yard, net, from, -1, up && !down);
}

static double
distance (PmPoint p, PmPoint a, PmPoint b)
{
  double dx = b.x - a.x, dy = b.y - a.y, length = dx * dx + dy * dy;
  double t = length > 0 ? CLAMP (((p.x - a.x) * dx + (p.y - a.y) * dy) / length, 0, 1) : 0;

  return hypot (p.x - a.x - t * dx, p.y - a.y - t * dy);
}

static double
corner_clearance (const Yard *yard, const Net *net, const Leg *leg, guint k)
{
  const PmPlanMetrics *m = &yard->plan->frame.m;

  if (leg == &net->legs[0] && k == 0)
    return 0; /* at the machine */
  if (k + 1 == leg->n && leg->drive >= 0)
    return 0; /* at the drive */
  if (net->n_solid == 0)
    return 0.85 * m->em; /* a buffer stop */
  return net->n_solid > 1 ? m->joint + m->line + 1 : 0.75 * m->em + m->line / 2;
}

/* Legs run from left to right, so their first and last points bound them. */
static gboolean
far_apart (const Leg *a, const Leg *b, double by)
{
  const PmPoint *p = &a->p[0], *q = &a->p[a->n - 1], *r = &b->p[0], *s = &b->p[b->n - 1];

  return p->x > s->x + by || r->x > q->x + by || MIN (p->y, q->y) > MAX (r->y, s->y) + by ||
         MIN (r->y, s->y) > MAX (p->y, q->y) + by;
}

static double
corner_cost (double distance_, double keep)
{
  return distance_ < keep ? MUST_NOT : distance_ < 1.9 * keep ? 3 : 0;
}

static double
pair_cost (const Yard *yard, const Net *a, const Net *b, GArray *crossings)
{
  const PmPlanMetrics *m = &yard->plan->frame.m;
  double cost = 0, close = m->line + 2.5;

  for (guint i = 0; i < a->n_legs; i++) {
    const Leg *la = &a->legs[i];
    for (guint k = 0; k < b->n_legs; k++) {
      const Leg *lb = &b->legs[k];
      if (far_apart (la, lb, 2.5 * m->em))
        continue;
      for (guint p = 0; p + 1 < la->n; p++) {
        for (guint q = 0; q + 1 < lb->n; q++) {
          Crossing crossing = { .a = a->unit, .b = b->unit };
          double near =
            MIN (MIN (distance (la->p[p], lb->p[q], lb->p[q + 1]), distance (la->p[p + 1], lb->p[q], lb->p[q + 1])),
                 MIN (distance (lb->p[q], la->p[p], la->p[p + 1]), distance (lb->p[q + 1], la->p[p], la->p[p + 1])));

          if (pm_segments_cross (la->p[p], la->p[p + 1], lb->p[q], lb->p[q + 1], &crossing.at)) {
            cost += la->hollow || lb->hollow ? 14 : 20;
            g_array_append_val (crossings, crossing);
          } else if (near < close) {
            cost += MUST_NOT;
          } else if (near < 1.3 * m->em) {
            cost += 0.5 * (1.3 * m->em - near);
          }
        }
      }
      for (guint p = 0; p < la->n; p++) {
        double keep =
          MIN (corner_clearance (yard, a, la, p), la->drive >= 0 && la->drive == lb->drive ? close : G_MAXDOUBLE);
        for (guint q = 0; q + 1 < lb->n && keep > 0; q++)
          cost += corner_cost (distance (la->p[p], lb->p[q], lb->p[q + 1]), keep);
      }
      for (guint q = 0; q < lb->n; q++) {
        double keep =
          MIN (corner_clearance (yard, b, lb, q), la->drive >= 0 && la->drive == lb->drive ? close : G_MAXDOUBLE);
        for (guint p = 0; p + 1 < la->n && keep > 0; p++)
          cost += corner_cost (distance (lb->p[q], la->p[p], la->p[p + 1]), keep);
      }
    }
  }
  return cost;
}

/* What a net costs by itself: off its wish, through boxes. */
static double
own_cost (const Yard *yard, const Net *net)
{
  double cost = 0.03 * fabs (net->x - net->wish), apart = yard->plan->frame.m.joint * 2;

  for (guint i = 0; i < net->n_legs; i++) {
    const Leg *leg = &net->legs[i];
    for (guint p = 0; p + 1 < leg->n; p++) {
      if (leg->p[p + 1].x < leg->p[p].x - 0.01)
        cost += MUST_NOT;
      for (guint k = 1; k < i && p == 0 && !leg->hollow; k++) {
        double d = hypot (leg->p[0].x - net->legs[k].p[0].x, leg->p[0].y - net->legs[k].p[0].y);
        if (!net->legs[k].hollow && d > 0.5 && d < apart)
          cost += MUST_NOT;
      }
      for (guint b = 0; b < yard->blocks->len; b++) {
        const Block *block = PM_AT (yard->blocks, Block, b);
        if ((leg->drive != (int) block->drive || leg->p[p].y != leg->p[p + 1].y) &&
            pm_segment_meets (leg->p[p], leg->p[p + 1], yard->plan->frame.m.line + 4, &block->area))
          cost += MUST_NOT;
      }
    }
  }
  return cost;
}

/* Three tracks in a point, or nearly. */
static double
crowd_cost (const Yard *yard, const GArray *crossings)
{
  double em = yard->plan->frame.m.em, cost = 0;

  for (guint i = 0; i < crossings->len; i++) {
    for (guint k = i + 1; k < crossings->len; k++) {
      PmPoint a = PM_AT (crossings, Crossing, i)->at, b = PM_AT (crossings, Crossing, k)->at;
      double d = hypot (a.x - b.x, a.y - b.y);

      cost += d < 0.75 * em ? MUST_NOT : d < 1.4 * em ? 8 : 0;
    }
  }
  return cost;
}

static double
yard_cost (const Yard *yard)
{
  g_autoptr (GArray) crossings = g_array_new (FALSE, FALSE, sizeof (Crossing));
  double cost = 0;

  for (guint i = 0; i < yard->n_nets; i++) {
    cost += own_cost (yard, &yard->nets[i]);
    for (guint k = 0; k < i; k++)
      cost += pair_cost (yard, &yard->nets[k], &yard->nets[i], crossings);
  }
  return cost + crowd_cost (yard, crossings);
}

/* What changes when net n moves: everything it is part of. */
static double
net_cost (const Yard *yard, guint n, const GArray *others)
{
  g_autoptr (GArray) crossings = g_array_new (FALSE, FALSE, sizeof (Crossing));
  double cost = own_cost (yard, &yard->nets[n]);

  for (guint k = 0; k < yard->n_nets; k++) {
    if (k != n)
      cost += pair_cost (yard, &yard->nets[n], &yard->nets[k], crossings);
  }
  g_array_append_vals (crossings, others->data, others->len);
  return cost + crowd_cost (yard, crossings);
}

static void
improve (Yard *yard)
{
  for (guint round_ = 0; round_ < N_ROUNDS; round_++) {
    gboolean moved = FALSE;

    for (guint n = 0; n < yard->n_nets; n++) {
      Net *net = &yard->nets[n];
      g_autoptr (GArray) others = g_array_new (FALSE, FALSE, sizeof (Crossing));
      double before = net->x, best = before, least;

      if (net->most <= net->least)
        continue;
      for (guint i = 0; i < yard->n_nets; i++) {
        for (guint k = 0; k < i; k++) {
          if (i != n && k != n)
            pair_cost (yard, &yard->nets[k], &yard->nets[i], others);
        }
      }
      least = net_cost (yard, n, others) - 0.001;
      for (guint i = 0; i <= N_PLACES; i++) {
        double cost;
        net_lay (yard, net, round (net->least + (net->most - net->least) * i / N_PLACES));
        cost = net_cost (yard, n, others);
        if (cost < least) {
          least = cost;
          best = net->x;
        }
      }
      net_lay (yard, net, best);
      moved |= best != before;
    }
    if (!moved)
      return;
  }
}

static void
add_blocks (Yard *yard)
{
  const PmPlan *plan = yard->plan;
  const PmPlanFrame *f = &plan->frame;

  for (guint i = 0; i < plan->ports->len; i++) {
    const PmPort *port = PM_AT (plan->ports, PmPort, i);
    Block block = { port->box, port->drive };
    if (port->text)
      g_array_append_val (yard->blocks, block);
  }
  for (guint d = 0; d < plan->board->n_drives; d++) {
    PmDriveMark mark = plan->result->marks[d];
    Block block = { { f->right - 2 * f->m.em, pm_plan_row_y (f, d) - 0.8 * f->m.em, 2.5 * f->m.em, 1.6 * f->m.em }, d };
    if (mark == PM_DRIVE_HELD || mark == PM_DRIVE_FLOATS || mark == PM_DRIVE_ALWAYS)
      g_array_append_val (yard->blocks, block);
  }
}

/* Hollow tracks end where the mark of a held or floating drive stands. */
static double
link_end (const PmPlan *plan, const PmLink *link)
{
  const PmPlanFrame *f = &plan->frame;
  const PmPort *port = PM_AT (plan->ports, PmPort, link->port);
  PmDriveMark mark = plan->result->marks[link->drive];

  if (port->text)
    return port->box.x;
  if (link->kind == PM_LINK_WANTED && (mark == PM_DRIVE_FLOATS || mark == PM_DRIVE_ALWAYS))
    return f->right - 1.6 * f->m.em;
  return f->drive_x;
}

static void
net_init (Yard *yard, Net *net, guint unit)
{
  const PmPlan *plan = yard->plan;
  const PmPlanFrame *f = &plan->frame;
  const PmPlanMetrics *m = &f->m;
  double steep = 0;

  net->unit = unit;
  net->start = f->host_width;
  net->y = pm_plan_row_y (f, unit);
  net->least = f->left;
  net->most = f->right;
  if (plan->result->collides && plan->result->collides[unit])
    net->least = MAX (net->least, f->host_width + 4.2 * m->em);
  for (guint i = 0; i < plan->links->len && net->n_links < G_N_ELEMENTS (net->links); i++) {
    const PmLink *link = PM_AT (plan->links, PmLink, i);
    const PmPort *port = PM_AT (plan->ports, PmPort, link->port);
    double dy, bend;

    if (link->unit != unit)
      continue;
    dy = fabs (link->y - net->y);
    net->links[net->n_links] = link;
    net->ends[net->n_links] = link_end (plan, link);
    bend = port->text ? port->box.x - GATE_LEAD * m->em
                      : f->right - (net->ends[net->n_links] < f->drive_x ? 2.2 * m->em : 0);
    net->n_links++;
    net->n_solid += link->kind != PM_LINK_WANTED;
    net->most = MIN (net->most, bend - dy);
    steep = MAX (steep, dy);
  }
  if (net->n_links == 0 || net->n_solid == 0) {
    net->most = MIN (net->most - hollow_gap (yard), f->left + 0.5 * (f->right - f->left));
    net->wish = f->left + 1.8 * m->em;
  } else if (net->n_links == 1 && steep == 0) {
    net->most = net->least;
    net->wish = net->least;
  } else {
    net->wish = net->least + 0.42 * (net->most - net->least);
  }
  net->least = round (net->least);
  net->most = floor (net->most);
  net->wish = round (net->wish);
}

static int
compare_points (gconstpointer a, gconstpointer b)
{
  const PmPoint *p = a, *q = b;

  return p->x != q->x ? (p->x > q->x) - (p->x < q->x) : (p->y > q->y) - (p->y < q->y);
}

/* Filled points where solid tracks part; where two drives answer the first of them is crossed. */
static void
add_joints (PmPlan *plan, const Net *net)
{
  const PmPlanMetrics *m = &plan->frame.m;
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (PmPoint));
  guint n_yes = 0;

  for (guint i = 0; i < net->n_links; i++)
    n_yes += net->links[i]->kind == PM_LINK_YES;
  for (guint i = 1; i < net->n_legs; i++) {
    gboolean known = net->legs[i].hollow;
    for (guint k = 0; k < points->len; k++)
      known |= compare_points (PM_AT (points, PmPoint, k), &net->legs[i].p[0]) == 0;
    if (!known)
      g_array_append_val (points, net->legs[i].p[0]);
  }
  g_array_sort (points, compare_points);
  for (guint i = 0; i < points->len; i++) {
    PmPoint p = *PM_AT (points, PmPoint, i);
    gboolean crossed = i == 0 && n_yes > 1;
    pm_plan_add_mark (plan, crossed ? PM_TRACK_TWO : PM_TRACK_JOINT, net->unit, -1, p.x, p.y,
                      crossed ? 2 * m->joint : round (m->line * 2.2));
  }
}

static void
net_emit (Yard *yard, const Net *net)
{
  PmPlan *plan = yard->plan;
  const PmPlanFrame *f = &plan->frame;
  const PmPlanMetrics *m = &f->m;

  for (guint i = 0; i < net->n_legs; i++)
    pm_plan_add_track (plan, net->unit, net->legs[i].drive, net->legs[i].hollow, m->line, net->legs[i].p,
                       net->legs[i].n);
  add_joints (plan, net);
  if (net->n_solid == 0)
    pm_plan_add_mark (plan, PM_TRACK_BUFFER, net->unit, -1, net->x, net->y, round (1.5 * m->em));
  if (plan->result->collides && plan->result->collides[net->unit])
    pm_plan_add_mark (plan, PM_TRACK_CLASH, net->unit, -1, round (f->host_width + 2.6 * m->em), net->y,
                      round (1.7 * m->em));
  pm_plan_add_mark (plan, PM_TRACK_END, net->unit, -1, net->start, net->y, m->end);
  for (guint i = 0; i < net->n_links; i++) {
    const PmPort *port = PM_AT (plan->ports, PmPort, net->links[i]->port);
    double size = m->end;

    if (net->links[i]->kind == PM_LINK_WANTED || port->short_form)
      continue;
    if (port->spread)
      size = MIN (size, port->spread - 2);
    for (guint k = 0; k < plan->links->len && !port->text; k++) {
      const PmLink *beside = PM_AT (plan->links, PmLink, k);
      if (beside->drive == port->drive && beside->port != net->links[i]->port && beside->kind != PM_LINK_WANTED)
        size = MIN (size, port->gap - 2);
    }
    pm_plan_add_mark (plan, PM_TRACK_END, net->unit, net->links[i]->drive, net->ends[i], net->links[i]->y, size);
  }
}

gboolean
pm_plan_route (PmPlan *plan)
{
  static const double STARTS[] = { 0, 1, -1 };
  Yard yard = { .plan = plan, .n_nets = plan->board->host.n_units };
  g_autofree Net *nets = g_new0 (Net, yard.n_nets);
  g_autofree Net *best = g_new0 (Net, yard.n_nets);
  g_autoptr (GArray) blocks = g_array_new (FALSE, FALSE, sizeof (Block));
  double least = G_MAXDOUBLE;

  /* More tracks than this are no plan but a tangle. */
  if (plan->links->len > 2 * MAX (plan->board->host.n_units, plan->board->n_drives) + 2)
    return FALSE;
  yard.nets = nets;
  yard.blocks = blocks;
  add_blocks (&yard);
  for (guint n = 0; n < yard.n_nets; n++) {
    net_init (&yard, &nets[n], n);
    if (nets[n].most < nets[n].least)
      return FALSE;
  }
  for (guint s = 0; s < G_N_ELEMENTS (STARTS); s++) {
    double cost;

    for (guint n = 0; n < yard.n_nets; n++) {
      double share = 0.5 + STARTS[s] * (yard.n_nets > 1 ? (double) n / (yard.n_nets - 1) - 0.5 : 0);
      net_lay (&yard, &nets[n],
               STARTS[s] == 0 ? CLAMP (nets[n].wish, nets[n].least, nets[n].most)
                              : round (nets[n].least + share * (nets[n].most - nets[n].least)));
    }
    improve (&yard);
    cost = yard_cost (&yard);
    if (cost < least - 0.001) {
      least = cost;
      memcpy (best, nets, sizeof *nets * yard.n_nets);
    }
  }
  if (least >= MUST_NOT)
    return FALSE;
  for (guint n = 0; n < yard.n_nets; n++)
    net_emit (&yard, &best[n]);
  pm_plan_add_drives (plan, FALSE);
  return TRUE;
}
