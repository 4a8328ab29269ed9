/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Proves a finished layout from its geometry alone: every pair is looked at, nothing of the maker is used. */
#include "config.h"
#include "pm-layout.h"
#include "pm-problems.h"

#include <stdarg.h>

/* Closed: the edges belong to it. */
typedef struct { int x1, y1, x2, y2; } Rect;

/* A point where pieces of a net end. */
typedef struct { PmLayoutPoint at; guint net, n_ends, n_level, group; gboolean port; guint ends[4]; } Knot;

typedef struct {
  const PmLayoutInput *input;
  const PmLayout *layout;
  GPtrArray *problems;
  GArray    *knots;              /* of Knot */
  guint     *knot_of[2];         /* [n_segments] of either end */
} Checker;

static gboolean
level (const PmLayoutSegment *s)
{
  return s->y1 == s->y2;
}

static Rect
segment_rect (const PmLayoutSegment *s)
{
  return (Rect){ s->x1, s->y1, s->x2, s->y2 };
}

static Rect
symbol_rect (const Checker *c, guint b)
{
  PmLayoutPoint at = c->layout->boxes[b];

  return (Rect){ at.x, at.y, at.x + c->input->boxes[b].width, at.y + c->input->boxes[b].height };
}

static Rect
words_rect (const Checker *c, guint b)
{
  const PmLayoutBox *box = &c->input->boxes[b];
  Rect r = symbol_rect (c, b);

  return (Rect){ r.x1 - box->left, r.y1 - box->top, r.x2 + box->right, r.y2 + box->bottom };
}

static Rect
area_rect (const PmLayoutArea *a)
{
  return (Rect){ a->x, a->y, a->x + a->width, a->y + a->height };
}

static gboolean
touches (Rect a, Rect b)
{
  return a.x1 <= b.x2 && b.x1 <= a.x2 && a.y1 <= b.y2 && b.y1 <= a.y2;
}

static gboolean
overlaps (Rect a, Rect b)
{
  return a.x1 < b.x2 && b.x1 < a.x2 && a.y1 < b.y2 && b.y1 < a.y2;
}

static PmLayoutPoint
port_point (const Checker *c, guint b, const PmLayoutPort *port)
{
  Rect r = symbol_rect (c, b);

  switch (port->edge) {
  case PM_EDGE_LEFT:
    return (PmLayoutPoint){ r.x1, r.y1 + port->at };
  case PM_EDGE_RIGHT:
    return (PmLayoutPoint){ r.x2, r.y1 + port->at };
  case PM_EDGE_TOP:
    return (PmLayoutPoint){ r.x1 + port->at, r.y1 };
  default:
    return (PmLayoutPoint){ r.x1 + port->at, r.y2 };
  }
}

/* The piece leaves the box at that port, straight away from its edge. */
static gboolean
leaves_port (const Checker *c, guint b, const PmLayoutPort *port, const PmLayoutSegment *s)
{
  PmLayoutPoint p = port_point (c, b, port);

  switch (port->edge) {
  case PM_EDGE_LEFT:
    return level (s) && s->x2 == p.x && s->y1 == p.y;
  case PM_EDGE_RIGHT:
    return level (s) && s->x1 == p.x && s->y1 == p.y;
  case PM_EDGE_TOP:
    return !level (s) && s->x1 == p.x && s->y2 == p.y;
  default:
    return !level (s) && s->x1 == p.x && s->y1 == p.y;
  }
}

static void
check_bounds (Checker *c)
{
  const PmLayout *layout = c->layout;
  Rect all = { 0, 0, layout->width, layout->height };

  for (guint b = 0; b < c->input->n_boxes; b++) {
    Rect r = words_rect (c, b);
    if (r.x1 < 0 || r.y1 < 0 || r.x2 > all.x2 || r.y2 > all.y2)
      pm_problems_add (c->problems, "box %u is out of bounds", b);
  }
  for (guint i = 0; i < layout->n_segments; i++) {
    const PmLayoutSegment *s = &layout->segments[i];
    if (s->net >= c->input->n_nets)
      pm_problems_add (c->problems, "piece %u is of no net", i);
    if ((s->x1 == s->x2) == (s->y1 == s->y2) || s->x1 > s->x2 || s->y1 > s->y2)
      pm_problems_add (c->problems, "piece %u is neither level nor upright, or turned round", i);
    if (s->x1 < 0 || s->y1 < 0 || s->x2 > all.x2 || s->y2 > all.y2)
      pm_problems_add (c->problems, "piece %u is out of bounds", i);
    if (i && s->net < layout->segments[i - 1].net)
      pm_problems_add (c->problems, "piece %u is out of order", i);
  }
}

/* A box of the flow that no wire reaches may stand in the foot. */
static gboolean
has_wires (const Checker *c, guint b)
{
  const PmLayoutBox *box = &c->input->boxes[b];

  for (guint i = 0; i < c->layout->n_segments; i++)
    for (guint p = 0; p < box->n_ports; p++)
      if (box->ports[p].net == c->layout->segments[i].net)
        return TRUE;
  return box->band != PM_BAND_FLOW;
}

static void
check_boxes (Checker *c)
{
  const PmLayoutInput *input = c->input;

  for (guint a = 0; a < input->n_boxes; a++)
    for (guint b = 0; b < input->n_boxes; b++) {
      Rect ra = words_rect (c, a), rb = words_rect (c, b);
      PmBand band_a = input->boxes[a].band, band_b = input->boxes[b].band;

      if (a < b && (overlaps (ra, rb) || touches (symbol_rect (c, a), symbol_rect (c, b))))
        pm_problems_add (c->problems, "boxes %u and %u overlap", a, b);
      if (band_a == PM_BAND_FIRST && (band_b == PM_BAND_FLOW || band_b == PM_BAND_LAST) && ra.x2 > rb.x1 &&
          c->layout->n_segments && has_wires (c, b))
        pm_problems_add (c->problems, "box %u is not right of the first, %u", b, a);
      if (band_a == PM_BAND_LAST && band_b == PM_BAND_FLOW && rb.x2 > ra.x1 && has_wires (c, b))
        pm_problems_add (c->problems, "box %u is not left of the last, %u", b, a);
      if (band_a == PM_BAND_FOOT && band_b != PM_BAND_FOOT && rb.y2 > ra.y1 && has_wires (c, b))
        pm_problems_add (c->problems, "box %u is not above the foot, %u", b, a);
    }
}

static void
check_wires_and_boxes (Checker *c)
{
  for (guint b = 0; b < c->input->n_boxes; b++) {
    const PmLayoutBox *box = &c->input->boxes[b];
    Rect symbol = symbol_rect (c, b), words = words_rect (c, b);

    for (guint i = 0; i < c->layout->n_segments; i++) {
      const PmLayoutSegment *s = &c->layout->segments[i];
      gboolean own = FALSE;

      if (!touches (segment_rect (s), symbol) && !overlaps (segment_rect (s), words))
        continue;
      for (guint p = 0; p < box->n_ports && !own; p++)
        own = box->ports[p].net == s->net && leaves_port (c, b, &box->ports[p], s);
      if (!own)
        pm_problems_add (c->problems, "piece %u of net %u goes through %s of box %u", i, s->net,
                         touches (segment_rect (s), symbol) ? "the symbol" : "words", b);
    }
  }
}

static gboolean
is_end (const PmLayoutSegment *s, int x, int y)
{
  return (s->x1 == x && s->y1 == y) || (s->x2 == x && s->y2 == y);
}

static void
check_pairs (Checker *c)
{
  const PmLayout *layout = c->layout;
  guint n_crossings = 0;

  for (guint i = 0; i < layout->n_segments; i++)
    for (guint k = i + 1; k < layout->n_segments; k++) {
      const PmLayoutSegment *a = &layout->segments[i], *b = &layout->segments[k];
      Rect both;

      if (!touches (segment_rect (a), segment_rect (b)))
        continue;
      both = (Rect){ MAX (a->x1, b->x1), MAX (a->y1, b->y1), MIN (a->x2, b->x2), MIN (a->y2, b->y2) };
      if (a->net != b->net) {
        if (level (a) == level (b) || is_end (a, both.x1, both.y1) || is_end (b, both.x1, both.y1))
          pm_problems_add (c->problems, "nets %u and %u touch at %d,%d", a->net, b->net, both.x1, both.y1);
        else
          n_crossings++;
      } else if (both.x1 != both.x2 || both.y1 != both.y2 || !is_end (a, both.x1, both.y1) ||
                 !is_end (b, both.x1, both.y1)) {
        pm_problems_add (c->problems, "pieces %u and %u of net %u touch where not both end", i, k, a->net);
      }
    }
  if (n_crossings != layout->n_crossings)
    pm_problems_add (c->problems, "%u crossings are told, %u found", layout->n_crossings, n_crossings);
}

static guint
find_knot (Checker *c, guint net, int x, int y)
{
  Knot knot = { { x, y }, net, 0, 0, 0, FALSE, { 0 } };

  for (guint i = 0; i < c->knots->len; i++) {
    const Knot *k = &g_array_index (c->knots, Knot, i);
    if (k->net == net && k->at.x == x && k->at.y == y)
      return i;
  }
  knot.group = c->knots->len;
  g_array_append_val (c->knots, knot);
  return c->knots->len - 1;
}

static Knot *
knot_at (Checker *c, guint i)
{
  return &g_array_index (c->knots, Knot, i);
}

static void
find_knots (Checker *c)
{
  for (guint i = 0; i < c->layout->n_segments; i++) {
    const PmLayoutSegment *s = &c->layout->segments[i];
    guint group[2];

    c->knot_of[0][i] = find_knot (c, s->net, s->x1, s->y1);
    c->knot_of[1][i] = find_knot (c, s->net, s->x2, s->y2);
    for (guint e = 0; e < 2; e++) {
      Knot *knot = knot_at (c, c->knot_of[e][i]);
      if (knot->n_ends < G_N_ELEMENTS (knot->ends))
        knot->ends[knot->n_ends] = i;
      knot->n_ends++;
      knot->n_level += level (s);
      group[e] = knot->group;
    }
    if (group[0] == group[1])
      pm_problems_add (c->problems, "net %u runs in a ring", s->net);
    for (guint k = 0; k < c->knots->len; k++)
      if (knot_at (c, k)->group == group[0])
        knot_at (c, k)->group = group[1];
  }
}

static void
check_nets (Checker *c)
{
  const PmLayoutInput *input = c->input;
  g_autofree guint *n_ports = g_new0 (guint, input->n_nets + 1), *group = g_new0 (guint, input->n_nets + 1);
  guint n_bends = 0;

  for (guint b = 0; b < input->n_boxes; b++)
    for (guint p = 0; p < input->boxes[b].n_ports; p++)
      if (input->boxes[b].ports[p].net != PM_LAYOUT_NONE)
        n_ports[input->boxes[b].ports[p].net]++;
  for (guint net = 0; net < input->n_nets; net++)
    group[net] = PM_LAYOUT_NONE;
  for (guint b = 0; b < input->n_boxes; b++)
    for (guint p = 0; p < input->boxes[b].n_ports; p++) {
      guint net = input->boxes[b].ports[p].net, known = c->knots->len;
      PmLayoutPoint at = port_point (c, b, &input->boxes[b].ports[p]);
      Knot *knot;

      if (net == PM_LAYOUT_NONE || n_ports[net] < 2)
        continue;
      knot = knot_at (c, find_knot (c, net, at.x, at.y));
      knot->port = TRUE;
      if (c->knots->len > known)
        pm_problems_add (c->problems, "port %u of box %u is not joined", p, b);
      else if (group[net] != PM_LAYOUT_NONE && group[net] != knot->group)
        pm_problems_add (c->problems, "net %u falls apart at port %u of box %u", net, p, b);
      group[net] = knot->group;
    }
  for (guint i = 0; i < c->knots->len; i++) {
    const Knot *knot = knot_at (c, i);

    if (n_ports[knot->net] < 2 || (knot->n_ends && knot->group != group[knot->net]))
      pm_problems_add (c->problems, "a piece of net %u at %d,%d joins nothing", knot->net, knot->at.x, knot->at.y);
    if (knot->n_ends == 1 && !knot->port)
      pm_problems_add (c->problems, "net %u ends at %d,%d in nothing", knot->net, knot->at.x, knot->at.y);
    if (knot->n_ends == 2 && knot->n_level != 1 && !knot->port)
      pm_problems_add (c->problems, "two pieces of net %u at %d,%d are one", knot->net, knot->at.x, knot->at.y);
    n_bends += knot->n_ends == 2 && knot->n_level == 1;
  }
  if (n_bends != c->layout->n_bends)
    pm_problems_add (c->problems, "%u bends are told, %u found", c->layout->n_bends, n_bends);
}

static void
check_joints (Checker *c)
{
  const PmLayout *layout = c->layout;

  for (guint i = 0; i < c->knots->len; i++) {
    const Knot *knot = knot_at (c, i);
    guint n = 0;

    for (guint j = 0; j < layout->n_joints; j++)
      n += layout->joint_nets[j] == knot->net && layout->joints[j].x == knot->at.x && layout->joints[j].y == knot->at.y;
    if (n != (knot->n_ends >= 3))
      pm_problems_add (c->problems, "%u joints for %u ends of net %u at %d,%d", n, knot->n_ends, knot->net, knot->at.x,
                       knot->at.y);
  }
  for (guint j = 0; j < layout->n_joints; j++) {
    guint known = c->knots->len;
    find_knot (c, layout->joint_nets[j], layout->joints[j].x, layout->joints[j].y);
    if (c->knots->len > known)
      pm_problems_add (c->problems, "joint %u of net %u lies on no end", j, layout->joint_nets[j]);
  }
}

static void
check_labels (Checker *c)
{
  const PmLayout *layout = c->layout;

  for (guint net = 0; net < c->input->n_nets; net++) {
    const PmLayoutArea *a = &layout->labels[net];
    Rect r = area_rect (a), all = { 0, 0, layout->width, layout->height };
    gboolean on_wire = FALSE;

    if (a->width == 0)
      continue;
    if (a->width != c->input->nets[net].width || a->height != c->input->nets[net].height)
      pm_problems_add (c->problems, "the label of net %u has not its size", net);
    if (r.x1 < 0 || r.y1 < 0 || r.x2 > all.x2 || r.y2 > all.y2)
      pm_problems_add (c->problems, "the label of net %u is out of bounds", net);
    for (guint b = 0; b < c->input->n_boxes; b++)
      if (overlaps (r, words_rect (c, b)))
        pm_problems_add (c->problems, "the label of net %u lies on box %u", net, b);
    for (guint other = net + 1; other < c->input->n_nets; other++)
      if (layout->labels[other].width && overlaps (r, area_rect (&layout->labels[other])))
        pm_problems_add (c->problems, "the labels of nets %u and %u overlap", net, other);
    for (guint i = 0; i < layout->n_segments; i++) {
      const PmLayoutSegment *s = &layout->segments[i];
      Rect piece = segment_rect (s);

      if (s->net == net ? overlaps (r, piece) : touches (r, piece))
        pm_problems_add (c->problems, "a piece of net %u lies on the label of net %u", s->net, net);
      on_wire |= s->net == net && (level (s) ? s->y1 == r.y2 && s->x1 <= r.x1 && s->x2 >= r.x2
                                             : s->x1 == r.x1 && s->y1 <= r.y1 && s->y2 >= r.y2);
    }
    if (!on_wire)
      pm_problems_add (c->problems, "the label of net %u stands on no piece of it", net);
  }
}

/* May piece i move so that it covers the swept area, with nothing in the way?  What crosses all of it may stay. */
static gboolean
sweep_is_free (Checker *c, guint i, const guint neighbours[2], Rect swept)
{
  const PmLayoutSegment *s = &c->layout->segments[i];
  Rect wide = { swept.x1 - 1, swept.y1 - 1, swept.x2 + 1, swept.y2 + 1 };

  for (guint b = 0; b < c->input->n_boxes; b++)
    if (touches (swept, words_rect (c, b)))
      return FALSE;
  for (guint net = 0; net < c->input->n_nets; net++)
    if (c->layout->labels[net].width && net != s->net && touches (swept, area_rect (&c->layout->labels[net])))
      return FALSE;
  for (guint k = 0; k < c->layout->n_segments; k++) {
    const PmLayoutSegment *o = &c->layout->segments[k];
    Rect r = segment_rect (o);

    if (k == i || k == neighbours[0] || k == neighbours[1] || !touches (wide, r))
      continue;
    if (o->net == s->net && !touches (swept, r))
      continue;
    if (o->net == s->net) {      /* what it would run into: only where it is to arrive */
      if (level (o) == level (s) &&
          (level (s) ? r.x2 <= swept.x1 || r.x1 >= swept.x2 : r.y2 <= swept.y1 || r.y1 >= swept.y2))
        continue;
      return FALSE;
    }
    if (level (s) ? r.x1 > swept.x1 && r.x1 < swept.x2 && r.y1 < swept.y1 && r.y2 > swept.y2 && !level (o)
                  : r.y1 > swept.y1 && r.y1 < swept.y2 && r.x1 < swept.x1 && r.x2 > swept.x2 && level (o))
      continue;
    return FALSE;
  }
  return TRUE;
}

/* A piece between two bends that, moved along one of its neighbours to that one's far bend, goes straight on there. */
static void
check_bends (Checker *c)
{
  const PmLayout *layout = c->layout;

  for (guint i = 0; i < layout->n_segments; i++) {
    const PmLayoutSegment *s = &layout->segments[i];
    guint neighbours[2];
    gboolean plain = TRUE;

    for (guint e = 0; e < 2; e++) {
      const Knot *knot = knot_at (c, c->knot_of[e][i]);
      plain &= knot->n_ends == 2 && knot->n_level == 1 && !knot->port;
      neighbours[e] = knot->ends[knot->ends[0] == i];
    }
    for (guint e = 0; plain && e < 2; e++) {
      guint n = neighbours[e], far = c->knot_of[c->knot_of[0][n] == c->knot_of[e][i]][n];
      const Knot *knot = knot_at (c, far);
      const PmLayoutSegment *on;
      Rect swept;

      if (knot->n_ends != 2 || knot->n_level != 1 || knot->port)
        continue;
      on = &layout->segments[knot->ends[knot->ends[0] == n]];
      swept = (Rect){ MIN (s->x1, knot->at.x), MIN (s->y1, knot->at.y), MAX (s->x2, knot->at.x),
                      MAX (s->y2, knot->at.y) };
      if (level (s) ? (on->x1 < knot->at.x) == (e == 1) : (on->y1 < knot->at.y) == (e == 1))
        continue;                /* turns back */
      far = c->knot_of[c->knot_of[0][neighbours[!e]] == c->knot_of[!e][i]][neighbours[!e]];
      if (knot_at (c, far)->port &&
          (level (s) ? knot_at (c, far)->at.y == knot->at.y : knot_at (c, far)->at.x == knot->at.x))
        continue;                /* would leave a port sideways */
      if (sweep_is_free (c, i, neighbours, swept))
        pm_problems_add (c->problems, "piece %u of net %u, %d,%d to %d,%d, bends for nothing", i, s->net, s->x1, s->y1,
                         s->x2, s->y2);
    }
  }
}

char **
pm_layout_check (const PmLayoutInput *input, const PmLayout *layout)
{
  Checker c = { .input = input, .layout = layout };

  c.problems = g_ptr_array_new ();
  c.knots = g_array_new (FALSE, TRUE, sizeof (Knot));
  c.knot_of[0] = g_new0 (guint, layout->n_segments + 1);
  c.knot_of[1] = g_new0 (guint, layout->n_segments + 1);
  check_bounds (&c);
  if (c.problems->len == 0) {
    check_boxes (&c);
    check_wires_and_boxes (&c);
    check_pairs (&c);
    find_knots (&c);
    check_nets (&c);
    check_joints (&c);
    check_labels (&c);
    check_bends (&c);
  }
  g_array_unref (c.knots);
  g_free (c.knot_of[0]);
  g_free (c.knot_of[1]);
  g_ptr_array_add (c.problems, NULL);
  return (char **)g_ptr_array_free (c.problems, FALSE);
}
