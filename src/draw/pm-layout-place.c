/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heights: nodes move up and down in their layers, in the order found, so that wires run straight.
 *
 * The cost of a wire between two pins is how far apart they are in height, times a weight: most where a wire goes on
 * straight on both sides, as Gansner, Koutsofios, North, Vo (1993).  Layer by layer the best heights for given
 * neighbours are found exactly (isotonic regression to medians, pooling adjacent violators).
 */
#include "config.h"
#include "pm-layout-private.h"

#include <stdlib.h>

#define SWEEPS 6

static const int WEIGHTS[2][2] = { { 4, 6 }, { 6, 8 } };   /* by both ends: box or wire */

typedef struct { int at, weight; } Target;

/* Neighbours that touch and move as one: sorted targets, as heights of the first. */
typedef struct { guint first, n; Target *targets; guint n_targets; int at; } Pool;

/* What a node has at its upper or lower end: a wire that runs level, or a box. */
static gboolean
ends_in_wire (const PmLayoutWork *work, const PmNode *node, gboolean lower)
{
  if (node->kind == PM_NODE_BOX)
    return lower ? node->down > work->input->boxes[node->box].height + work->input->boxes[node->box].bottom
                 : node->up > work->input->boxes[node->box].top;
  return (lower ? node->down : node->up) == 0;
}

int
pm_layout_distance (const PmLayoutWork *work, guint upper, guint lower)
{
  const PmNode *a = PM_NODE (work, upper), *b = PM_NODE (work, lower);
  gboolean mixed = ends_in_wire (work, a, TRUE) != ends_in_wire (work, b, FALSE);

  return a->down + b->up + (mixed ? PM_BOX_GAP : PM_PITCH);
}

static int
compare_targets (gconstpointer a, gconstpointer b)
{
  return ((const Target *)a)->at - ((const Target *)b)->at;
}

/* Where a node wants to be by the pins at the sides asked for: with one pin opposite level with it, with more of them
 * between the outermost. */
static guint
find_targets (const PmLayoutWork *work, const PmNode *node, guint sides, int shift, Target *targets)
{
  guint n = 0;

  for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++)
    for (guint k = 0; (sides & (1 << side)) && k < node->n_pins[side]; k++) {
      const PmPin *pin = PM_PIN (work, node->pin[side] + k);
      const PmLink *link = PM_LINK (work, pin->link);
      int first = G_MAXINT, last = G_MININT, weight;

      if (!link->n_pins[side])
        continue;
      for (guint i = 0; i < link->n_pins[side]; i++) {
        int y = pm_pin_y (work, work->link_pins[link->pin[side] + i]);
        first = MIN (first, y);
        last = MAX (last, y);
      }
      weight = WEIGHTS[node->kind != PM_NODE_BOX]
                      [PM_NODE (work, PM_PIN (work, work->link_pins[link->pin[side]])->node)->kind != PM_NODE_BOX];
      targets[n++] = (Target){ first - pin->dy - shift, weight };
      targets[n++] = (Target){ last - pin->dy - shift, weight };
    }
  targets[n].at = node->y - shift;
  targets[n++].weight = 1;
  qsort (targets, n, sizeof *targets, compare_targets);
  return n;
}

static int
median (const Target *targets, guint n)
{
  int sum = 0, half = 0;
  guint i = 0;

  for (guint k = 0; k < n; k++)
    sum += targets[k].weight;
  for (; i + 1 < n && 2 * (half + targets[i].weight) < sum; i++)
    half += targets[i].weight;
  return targets[i].at;
}

static void
merge_pools (Pool *upper, const Pool *lower, Target *scratch)
{
  guint i = 0, k = 0, n = upper->n_targets + lower->n_targets;

  for (guint m = 0; m < n; m++)
    scratch[m] = k == lower->n_targets || (i < upper->n_targets && upper->targets[i].at <= lower->targets[k].at)
                   ? upper->targets[i++] : lower->targets[k++];
  memcpy (upper->targets, scratch, sizeof (Target) * n);   /* lower's lie right behind */
  upper->n_targets = n;
  upper->n += lower->n;
  upper->at = median (upper->targets, n);
}

static void
place_layer (PmLayoutWork *work, guint layer, guint sides, Pool *pools, Target *targets)
{
  const guint *order = work->order + work->layer0[layer];
  guint n = work->layer0[layer + 1] - work->layer0[layer], n_pools = 0, used = 0;
  g_autofree int *shift = g_new0 (int, n + 1);
  guint most = 0;

  for (guint i = 0; i < n; i++) {
    const PmNode *node = PM_NODE (work, order[i]);
    most += 1 + 2 * (node->n_pins[0] + node->n_pins[1]);
  }
  for (guint i = 0; i < n; i++) {
    const PmNode *node = PM_NODE (work, order[i]);
    Pool *pool = &pools[n_pools++];

    if (i)
      shift[i] = shift[i - 1] + pm_layout_distance (work, order[i - 1], order[i]);
    *pool = (Pool){ i, 1, targets + used, 0, 0 };
    pool->n_targets = find_targets (work, node, sides, shift[i], pool->targets);
    used += pool->n_targets;
    pool->at = median (pool->targets, pool->n_targets);
    for (; n_pools > 1 && pools[n_pools - 2].at >= pools[n_pools - 1].at; n_pools--)
      merge_pools (&pools[n_pools - 2], &pools[n_pools - 1], targets + most);
  }
  for (guint p = 0; p < n_pools; p++)
    for (guint i = pools[p].first; i < pools[p].first + pools[p].n; i++)
      PM_NODE (work, order[i])->y = pools[p].at + shift[i];
}

static void
stack_layers (PmLayoutWork *work)
{
  for (guint l = 0; l < work->n_layers; l++)
    for (guint i = work->layer0[l]; i < work->layer0[l + 1]; i++) {
      PmNode *node = PM_NODE (work, work->order[i]);
      node->y = i == work->layer0[l] ? node->up
                : PM_NODE (work, work->order[i - 1])->y + pm_layout_distance (work, work->order[i - 1], work->order[i]);
    }
}

void
pm_layout_place (PmLayoutWork *work)
{
  guint n_pins = work->pins->len, n_nodes = work->nodes->len;
  g_autofree Pool *pools = g_new (Pool, n_nodes + 1);
  g_autofree Target *targets = g_new (Target, 4 * (n_pins + n_nodes) + 2);

  stack_layers (work);
  for (guint i = 0; i < SWEEPS; i++)
    for (guint k = 0; k < work->n_layers; k++) {
      guint layer = i % 2 ? work->n_layers - 1 - k : k;
      place_layer (work, layer, i + 2 >= SWEEPS ? 3 : i % 2 ? 2 : 1, pools, targets);
    }
  pm_layout_align (work);
}
