/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lining up: nodes that are joined straight move as one UNIT to where more wires run straight, pushing on what stands
 * in their way, as long as that makes trunks shorter or takes bends out.  Then single nodes do.
 */
#include "config.h"
#include "pm-layout-private.h"

#include <stdlib.h>

#define ROUNDS 8
#define BEND_COST 6              /* of a bend, in units of trunk length */
#define MOST_PUSHED 96           /* nodes */
#define MOST_TRIED 10            /* heights for a unit */
#define STALE 3                  /* for units of either kind */

typedef struct {
  PmLayoutWork *work;
  guint  n_nodes;
  guint *above, *below;          /* [n_nodes] neighbour in the layer, or NONE */
  guint *unit;                   /* [n_nodes] its unit's first node */
  guint *next;                   /* [n_nodes] of the same unit, or NONE */
  guint *last;                   /* [n_nodes] of the unit whose first node this is */
  int   *move;                   /* [n_nodes] of the unit whose first node this is */
  guint *pushed, n_pushed;       /* units with a move */
  guint *queue;
  GArray *links;                 /* of guint, those of moved nodes */
  guint8 *seen;                  /* [links] */
  int    *cost;                  /* [links] as things are */
  guint8 *stale;                 /* [n_nodes] bit by kind of unit: something near has moved since it was tried */
} Aligner;

static int
moved_y (const Aligner *a, guint pin)
{
  return pm_pin_y (a->work, pin) + a->move[a->unit[PM_PIN (a->work, pin)->node]];
}

/* Length of the trunk and bends at its ends, with the moves proposed. */
static int
link_cost (const Aligner *a, const PmLink *link)
{
  int first = G_MAXINT, last = G_MININT;
  guint at_first = 0, at_last = 0;   /* 1 left, 2 right */

  for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++)
    for (guint i = 0; i < link->n_pins[side]; i++) {
      guint pin = a->work->link_pins[link->pin[side] + i];
      int y = moved_y (a, pin);

      if (y < first)
        at_first = 0;
      if (y > last)
        at_last = 0;
      first = MIN (first, y);
      last = MAX (last, y);
      at_first |= y == first ? 1 << side : 0;
      at_last |= y == last ? 1 << side : 0;
    }
  if (first == last)
    return 0;
  return last - first + BEND_COST * ((at_first != 3) + (at_last != 3));
}

/* Moves a unit and whatever is in its way.  FALSE if that runs into itself or goes too far. */
static gboolean
push (Aligner *a, guint unit, int distance)
{
  guint head = 0, tail = 0, n = 0;

  a->n_pushed = 0;
  a->move[unit] = distance;
  a->pushed[a->n_pushed++] = unit;
  a->queue[tail++] = unit;
  while (head < tail) {
    guint v = a->queue[head++];

    for (guint node = v; node != PM_LAYOUT_NONE; node = a->next[node]) {
      guint other = distance > 0 ? a->below[node] : a->above[node];
      int gap, need;

      if (++n > MOST_PUSHED)
        return FALSE;
      if (other == PM_LAYOUT_NONE || a->unit[other] == v)
        continue;
      gap = distance > 0 ? pm_layout_distance (a->work, node, other) : -pm_layout_distance (a->work, other, node);
      need = PM_NODE (a->work, node)->y + a->move[v] + gap - PM_NODE (a->work, other)->y;
      if (distance > 0 ? need <= a->move[a->unit[other]] : need >= a->move[a->unit[other]])
        continue;
      if (a->unit[other] == unit || tail >= MOST_PUSHED)
        return FALSE;
      if (!a->move[a->unit[other]])
        a->pushed[a->n_pushed++] = a->unit[other];
      a->move[a->unit[other]] = need;
      a->queue[tail++] = a->unit[other];
    }
  }
  return TRUE;
}

/* What the proposed moves cost more than things as they are. */
static int
push_cost (Aligner *a)
{
  PmLayoutWork *work = a->work;
  int cost = 0;

  g_array_set_size (a->links, 0);
  for (guint i = 0; i < a->n_pushed; i++)
    for (guint n = a->pushed[i]; n != PM_LAYOUT_NONE; n = a->next[n])
      for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++)
        for (guint k = 0; k < PM_NODE (work, n)->n_pins[side]; k++) {
          guint link = PM_PIN (work, PM_NODE (work, n)->pin[side] + k)->link;
          if (a->seen[link])
            continue;
          a->seen[link] = TRUE;
          g_array_append_val (a->links, link);
        }
  for (guint i = 0; i < a->links->len; i++) {
    guint l = g_array_index (a->links, guint, i);
    a->seen[l] = FALSE;
    cost += link_cost (a, PM_LINK (work, l)) - a->cost[l];
  }
  return cost;
}

static void
forget_push (Aligner *a)
{
  for (guint i = 0; i < a->n_pushed; i++)
    a->move[a->pushed[i]] = 0;
}

/* Does what is proposed; everything that it can have changed something for is to be tried again. */
static void
apply_push (Aligner *a)
{
  PmLayoutWork *work = a->work;

  push_cost (a);                 /* for the links */
  for (guint i = 0; i < a->n_pushed; i++)
    for (guint n = a->pushed[i]; n != PM_LAYOUT_NONE; n = a->next[n]) {
      PM_NODE (work, n)->y += a->move[a->pushed[i]];
      if (a->above[n] != PM_LAYOUT_NONE)
        a->stale[a->above[n]] = STALE;
      if (a->below[n] != PM_LAYOUT_NONE)
        a->stale[a->below[n]] = STALE;
    }
  for (guint i = 0; i < a->n_pushed; i++)
    a->move[a->pushed[i]] = 0;
  for (guint i = 0; i < a->links->len; i++) {
    guint l = g_array_index (a->links, guint, i);
    const PmLink *link = PM_LINK (work, l);

    a->cost[l] = link_cost (a, link);
    for (guint k = 0; k < link->n_pins[0] + link->n_pins[1]; k++)
      a->stale[PM_PIN (work, work->link_pins[link->pin[0] + k])->node] = STALE;
  }
}

static void
add_try (int *tries, guint *n, int distance)
{
  guint i;

  if (distance == 0)
    return;
  for (i = 0; i < *n; i++)
    if (tries[i] == distance)
      return;
  for (i = *n; i > 0 && ABS (tries[i - 1]) > ABS (distance); i--)
    if (i < MOST_TRIED)
      tries[i] = tries[i - 1];
  if (i == MOST_TRIED)
    return;
  tries[i] = distance;
  *n = MIN (*n + 1, MOST_TRIED);
}

/* Heights that would line a pin of the unit up with one opposite, nearest first; and as far as there is room. */
static guint
find_tries (const Aligner *a, guint unit, int *tries)
{
  PmLayoutWork *work = a->work;
  guint n_tries = 0;
  int up = G_MININT, down = G_MAXINT;

  for (guint n = unit; n != PM_LAYOUT_NONE; n = a->next[n]) {
    const PmNode *node = PM_NODE (work, n);

    if (a->above[n] != PM_LAYOUT_NONE)
      up = MAX (up, PM_NODE (work, a->above[n])->y + pm_layout_distance (work, a->above[n], n) - node->y);
    if (a->below[n] != PM_LAYOUT_NONE)
      down = MIN (down, PM_NODE (work, a->below[n])->y - pm_layout_distance (work, n, a->below[n]) - node->y);
    for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++)
      for (guint k = 0; k < node->n_pins[side]; k++) {
        const PmLink *link = PM_LINK (work, PM_PIN (work, node->pin[side] + k)->link);
        for (guint i = 0; i < link->n_pins[side] && i < 16; i++) {
          guint pin = work->link_pins[link->pin[side] + i];
          if (a->unit[PM_PIN (work, pin)->node] != unit)
            add_try (tries, &n_tries, pm_pin_y (work, pin) - pm_pin_y (work, node->pin[side] + k));
        }
      }
  }
  if (n_tries && up > G_MININT && up < 0)
    add_try (tries, &n_tries, up);
  if (n_tries && down < G_MAXINT && down > 0)
    add_try (tries, &n_tries, down);
  return n_tries;
}

static gboolean
move_units (Aligner *a, guint8 kind)
{
  gboolean changed = FALSE;

  for (guint u = 0; u < a->n_nodes; u++) {
    int tries[MOST_TRIED], best = 0, best_cost = 0;
    guint n_tries;
    guint8 stale = 0;

    if (a->unit[u] != u)
      continue;
    for (guint n = u; n != PM_LAYOUT_NONE; n = a->next[n]) {
      stale |= a->stale[n] & kind;
      a->stale[n] &= ~kind;
    }
    n_tries = stale ? find_tries (a, u, tries) : 0;
    for (guint i = 0; i < n_tries; i++) {
      if (push (a, u, tries[i])) {
        int cost = push_cost (a);
        if (cost < best_cost) {
          best_cost = cost;
          best = tries[i];
        }
      }
      forget_push (a);
    }
    if (!best)
      continue;
    push (a, u, best);
    apply_push (a);
    changed = TRUE;
  }
  return changed;
}

static guint
find_unit (Aligner *a, guint node)
{
  while (a->unit[node] != node)
    node = a->unit[node] = a->unit[a->unit[node]];
  return node;
}

/* Units of what is joined straight, or of single nodes. */
static void
find_units (Aligner *a, gboolean straight)
{
  PmLayoutWork *work = a->work;

  for (guint n = 0; n < a->n_nodes; n++) {
    a->unit[n] = n;
    a->next[n] = PM_LAYOUT_NONE;
  }
  for (guint l = 0; straight && l < work->links->len; l++) {
    const PmLink *link = PM_LINK (work, l);
    guint i = 0, k = 0;

    while (i < link->n_pins[0] && k < link->n_pins[1]) {   /* both from the top */
      guint left = work->link_pins[link->pin[0] + i], right = work->link_pins[link->pin[1] + k];
      int yl = pm_pin_y (work, left), yr = pm_pin_y (work, right);

      if (yl == yr) {
        guint ul = find_unit (a, PM_PIN (work, left)->node), ur = find_unit (a, PM_PIN (work, right)->node);
        if (ul != ur)
          a->unit[MAX (ul, ur)] = MIN (ul, ur);
      }
      i += yl <= yr;
      k += yr <= yl;
    }
  }
  for (guint n = 0; n < a->n_nodes; n++) {
    guint unit = find_unit (a, n);
    a->unit[n] = unit;
    if (unit != n)
      a->next[a->last[unit]] = n;
    a->last[unit] = n;
  }
}

/* The pins of a link from the top, so that those of both sides can be matched in one go. */
static int
compare_heights (gconstpointer a, gconstpointer b, gpointer data)
{
  const PmLayoutWork *work = data;
  int x = pm_pin_y (work, *(const guint *)a), y = pm_pin_y (work, *(const guint *)b);

  return (x > y) - (x < y);
}

static void
sort_links (PmLayoutWork *work)
{
  for (guint l = 0; l < work->links->len; l++)
    for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++) {
      const PmLink *link = PM_LINK (work, l);
      if (link->n_pins[side] > 1)
        g_qsort_with_data (work->link_pins + link->pin[side], link->n_pins[side], sizeof (guint), compare_heights,
                           work);
    }
}

void
pm_layout_align (PmLayoutWork *work)
{
  guint n = work->nodes->len;
  Aligner a = { .work = work, .n_nodes = n };
  gboolean changed = TRUE;

  a.above = g_new (guint, n + 1);
  a.below = g_new (guint, n + 1);
  a.unit = g_new (guint, n + 1);
  a.next = g_new (guint, n + 1);
  a.last = g_new (guint, n + 1);
  a.move = g_new0 (int, n + 1);
  a.pushed = g_new (guint, n + MOST_PUSHED + 2);
  a.queue = g_new (guint, MOST_PUSHED + 2);
  a.links = g_array_new (FALSE, FALSE, sizeof (guint));
  a.seen = g_new0 (guint8, work->links->len + 1);
  a.cost = g_new (int, work->links->len + 1);
  a.stale = g_new (guint8, n + 1);
  for (guint l = 0; l < work->n_layers; l++)
    for (guint i = work->layer0[l]; i < work->layer0[l + 1]; i++) {
      a.above[work->order[i]] = i > work->layer0[l] ? work->order[i - 1] : PM_LAYOUT_NONE;
      a.below[work->order[i]] = i + 1 < work->layer0[l + 1] ? work->order[i + 1] : PM_LAYOUT_NONE;
    }
  sort_links (work);
  for (guint i = 0; i < n; i++) {
    a.stale[i] = STALE;
    a.unit[i] = i;
  }
  for (guint l = 0; l < work->links->len; l++)
    a.cost[l] = link_cost (&a, PM_LINK (work, l));
  for (guint round = 0; changed && round < ROUNDS; round++) {
    changed = FALSE;
    for (guint8 kind = 1; kind <= 2; kind++) {
      find_units (&a, kind == 1);
      changed |= move_units (&a, kind);
    }
  }
  g_free (a.above);
  g_free (a.below);
  g_free (a.unit);
  g_free (a.next);
  g_free (a.last);
  g_free (a.move);
  g_free (a.pushed);
  g_free (a.queue);
  g_array_unref (a.links);
  g_free (a.seen);
  g_free (a.cost);
  g_free (a.stale);
}
