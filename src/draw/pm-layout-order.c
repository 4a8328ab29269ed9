/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Order in the layers, so that few wires cross: by the middle of what is joined on the other side, layer by layer to
 * and fro (Sugiyama, Tagawa, Toda 1981), then each is moved up and down past its neighbours to where fewest cross
 * (the transposition of Gansner, Koutsofios, North, Vo 1993, carried on past the next as Matuszewski, Schoenfeld,
 * Molitor 1999 do).  Starts with the order given, once from either side, and stops when nothing gets better.
 *
 * What moves is a UNIT: a node, or the nodes of one group in that layer, which keep their order.  A pin whose net has
 * several pins opposite counts as two wires, to the first and the last of them; any other as two to the same.
 */
#include "config.h"
#include "pm-layout-private.h"

#include <stdlib.h>

#define SWEEPS 16
#define PATIENCE 4               /* sweeps without a gain */
#define HOPELESS (-64)           /* crossings too many to try on past further neighbours; two wires count 4 */

typedef struct {
  guint  first, n;               /* of order, of one layer */
  double key;
  guint  given;
  guint  ends[2], n_ends[2];     /* by side, into Sorter.ends: sorted places of what it is joined to */
} Unit;

typedef struct {
  PmLayoutWork *work;
  guint  *place;                 /* [pins] from the top among the pins of its layer and side */
  guint  *scratch;               /* [nodes] */
  Unit   *units;                 /* [nodes] of the layer at work */
  guint  *tree;                  /* Fenwick sums over places */
  GArray *wires;                 /* of guint: a pair of places for each wire of the channel */
  GArray *ends;                  /* of guint */
} Sorter;

static guint
layer_size (const PmLayoutWork *work, guint layer)
{
  return work->layer0[layer + 1] - work->layer0[layer];
}

static void
set_places (Sorter *s, guint layer)
{
  PmLayoutWork *work = s->work;

  for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++) {
    guint place = 0;
    for (guint i = work->layer0[layer]; i < work->layer0[layer + 1]; i++) {
      const PmNode *node = PM_NODE (work, work->order[i]);
      for (guint k = 0; k < node->n_pins[side]; k++)
        s->place[node->pin[side] + k] = place++;
    }
  }
}

static int
compare_guints (gconstpointer a, gconstpointer b)
{
  guint x = *(const guint *)a, y = *(const guint *)b;

  return (x > y) - (x < y);
}

static int
compare_units (gconstpointer a, gconstpointer b)
{
  const Unit *x = a, *y = b;

  if (x->key != y->key)
    return x->key < y->key ? -1 : 1;
  return (x->given > y->given) - (x->given < y->given);
}

/* The first and the last place of the pins of a link at one side. */
static void
outer_places (const Sorter *s, const PmLink *link, PmSide side, guint places[2])
{
  places[0] = G_MAXUINT;
  places[1] = 0;
  for (guint i = 0; i < link->n_pins[side]; i++) {
    guint place = s->place[s->work->link_pins[link->pin[side] + i]];
    places[0] = MIN (places[0], place);
    places[1] = MAX (places[1], place);
  }
}

static void
add_wire (Sorter *s, guint left, guint right)
{
  guint pair[2] = { left, right };

  g_array_append_vals (s->wires, pair, 2);
}

static int
compare_wires (gconstpointer a, gconstpointer b)
{
  const guint *x = a, *y = b;

  return x[0] != y[0] ? (x[0] > y[0]) - (x[0] < y[0]) : (x[1] > y[1]) - (x[1] < y[1]);
}

/* Crossings in a channel, each wire counted from both its ends. */
static guint64
crossings (Sorter *s, guint channel)
{
  PmLayoutWork *work = s->work;
  guint64 sum = 0;
  guint most = 0;

  g_array_set_size (s->wires, 0);
  for (guint l = work->channel_link0[channel]; l < work->channel_link0[channel + 1]; l++) {
    const PmLink *link = PM_LINK (work, l);
    guint outer[2][2];

    if (!link->n_pins[PM_SIDE_LEFT] || !link->n_pins[PM_SIDE_RIGHT])
      continue;
    outer_places (s, link, PM_SIDE_LEFT, outer[PM_SIDE_LEFT]);
    outer_places (s, link, PM_SIDE_RIGHT, outer[PM_SIDE_RIGHT]);
    most = MAX (most, outer[PM_SIDE_RIGHT][1]);
    for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++)
      for (guint i = 0; i < link->n_pins[side]; i++) {
        guint place = s->place[work->link_pins[link->pin[side] + i]];
        for (guint k = 0; k < 2; k++)
          if (side == PM_SIDE_LEFT)
            add_wire (s, place, outer[PM_SIDE_RIGHT][k]);
          else
            add_wire (s, outer[PM_SIDE_LEFT][k], place);
      }
  }
  if (!s->wires->len)
    return 0;
  qsort (s->wires->data, s->wires->len / 2, 2 * sizeof (guint), compare_wires);
  memset (s->tree, 0, sizeof (guint) * (most + 2));
  for (guint i = 0; i < s->wires->len / 2; i++) {
    guint at = g_array_index (s->wires, guint, 2 * i + 1) + 1;

    sum += i;
    for (guint k = at; k; k &= k - 1)
      sum -= s->tree[k];
    for (guint k = at; k <= most + 1; k += k & -k)
      s->tree[k]++;
  }
  return sum;
}

static guint64
all_crossings (Sorter *s)
{
  guint64 sum = 0;

  for (guint c = 1; c < s->work->n_layers; c++)
    sum += crossings (s, c);
  return sum;
}

static gboolean
layer_is_fixed (const PmLayoutWork *work, guint layer)
{
  for (guint i = work->layer0[layer]; i < work->layer0[layer + 1]; i++) {
    const PmNode *node = PM_NODE (work, work->order[i]);
    if (node->kind == PM_NODE_BOX && work->input->boxes[node->box].band != PM_BAND_FLOW)
      return TRUE;
  }
  return FALSE;
}

/* Groups the nodes of a layer into units in the present order; a group stands where its first node stands. */
static guint
find_units (Sorter *s, guint layer)
{
  PmLayoutWork *work = s->work;
  guint n = layer_size (work, layer), n_units = 0, out = 0, *order = work->order + work->layer0[layer];
  g_autoptr (GHashTable) groups = g_hash_table_new (NULL, NULL);

  memcpy (s->scratch, order, sizeof (guint) * n);
  for (guint i = 0; i < n; i++) {
    const PmNode *node = PM_NODE (work, s->scratch[i]);
    guint first = out;

    if (node->group == PM_LAYOUT_NONE) {
      order[out++] = s->scratch[i];
    } else if (g_hash_table_add (groups, GUINT_TO_POINTER (node->group + 1))) {
      for (guint k = i; k < n; k++)
        if (PM_NODE (work, s->scratch[k])->group == node->group)
          order[out++] = s->scratch[k];
      qsort (order + first, out - first, sizeof (guint), compare_guints);
    } else {
      continue;
    }
    s->units[n_units++] = (Unit){ first, out - first, 0, PM_NODE (work, order[first])->given };
  }
  return n_units;
}

static void
apply_units (Sorter *s, guint layer, guint n_units)
{
  guint *order = s->work->order + s->work->layer0[layer], out = 0;

  memcpy (s->scratch, order, sizeof (guint) * layer_size (s->work, layer));
  for (guint u = 0; u < n_units; u++) {
    memcpy (order + out, s->scratch + s->units[u].first, sizeof (guint) * s->units[u].n);
    s->units[u].first = out;
    out += s->units[u].n;
  }
  set_places (s, layer);
}

/* Sorts a layer by the middle of what its pins at one side are joined to. */
static void
sort_layer (Sorter *s, guint layer, PmSide side)
{
  PmLayoutWork *work = s->work;
  guint n_units = find_units (s, layer);
  double last = -1;

  for (guint u = 0; u < n_units; u++) {
    Unit *unit = &s->units[u];
    double sum = 0;
    guint n = 0;

    for (guint i = 0; i < unit->n; i++) {
      const PmNode *node = PM_NODE (work, work->order[work->layer0[layer] + unit->first + i]);
      for (guint k = 0; k < node->n_pins[side]; k++) {
        const PmLink *link = PM_LINK (work, PM_PIN (work, node->pin[side] + k)->link);
        if (!link->n_pins[side])
          continue;
        for (guint p = 0; p < link->n_pins[side]; p++)
          sum += (double)s->place[work->link_pins[link->pin[side] + p]] / link->n_pins[side];
        n++;
      }
    }
    unit->key = n ? sum / n : last;
    last = unit->key;
  }
  qsort (s->units, n_units, sizeof *s->units, compare_units);
  apply_units (s, layer, n_units);
}

/* Where the wires of the units of a layer end on either side. */
static void
find_unit_ends (Sorter *s, guint layer, guint n_units)
{
  PmLayoutWork *work = s->work;

  g_array_set_size (s->ends, 0);
  for (guint u = 0; u < n_units; u++)
    for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++) {
      Unit *unit = &s->units[u];

      unit->ends[side] = s->ends->len;
      for (guint i = 0; i < unit->n; i++) {
        const PmNode *node = PM_NODE (work, work->order[work->layer0[layer] + unit->first + i]);
        for (guint k = 0; k < node->n_pins[side]; k++) {
          const PmLink *link = PM_LINK (work, PM_PIN (work, node->pin[side] + k)->link);
          guint outer[2];

          if (!link->n_pins[side])
            continue;
          outer_places (s, link, side, outer);
          g_array_append_vals (s->ends, outer, 2);
        }
      }
      unit->n_ends[side] = s->ends->len - unit->ends[side];
      if (unit->n_ends[side] > 1)
        qsort (&g_array_index (s->ends, guint, unit->ends[side]), unit->n_ends[side], sizeof (guint), compare_guints);
    }
}

/* Crossings of the wires of two units if a stands above b, less those if b stands above a. */
static int
swap_gain (const Sorter *s, const Unit *a, const Unit *b)
{
  int gain = 0;

  for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++) {
    const guint *ends_a = (guint *)s->ends->data + a->ends[side], *ends_b = (guint *)s->ends->data + b->ends[side];
    guint n = a->n_ends[side], below = 0, tie = 0;

    for (guint j = 0; j < b->n_ends[side]; j++) {
      while (below < n && ends_a[below] < ends_b[j])
        below++;
      for (tie = MAX (tie, below); tie < n && ends_a[tie] == ends_b[j];)
        tie++;
      gain += (int)(n - tie) - (int)below;   /* of a, joined below this one of b; and above it */
    }
  }
  return gain;
}

/* Moves a unit of the layer to the place where it gains most. */
static gboolean
sift_unit (Sorter *s, guint n_units, guint u)
{
  Unit unit = s->units[u];
  int best = 0, gain = 0;
  guint to = u;

  for (guint i = u; i-- > 0 && gain > HOPELESS;) {
    gain += swap_gain (s, &s->units[i], &unit);
    if (gain > best) {
      best = gain;
      to = i;
    }
  }
  gain = 0;
  for (guint i = u + 1; i < n_units && gain > HOPELESS; i++) {
    gain += swap_gain (s, &unit, &s->units[i]);
    if (gain > best) {
      best = gain;
      to = i;
    }
  }
  if (to < u)
    memmove (&s->units[to + 1], &s->units[to], sizeof (Unit) * (u - to));
  else
    memmove (&s->units[u], &s->units[u + 1], sizeof (Unit) * (to - u));
  s->units[to] = unit;
  return to != u;
}

static void
sift_layer (Sorter *s, guint layer)
{
  guint n_units = find_units (s, layer);
  gboolean changed = TRUE;

  find_unit_ends (s, layer, n_units);
  for (guint round = 0; changed && round < 3; round++) {
    changed = FALSE;
    for (guint u = 0; u < n_units; u++)
      changed |= sift_unit (s, n_units, u);
  }
  apply_units (s, layer, n_units);
}

static void
sweep (Sorter *s, gboolean right)
{
  guint n = s->work->n_layers;

  for (guint i = 1; i < n; i++) {
    guint layer = right ? i : n - 1 - i;
    if (!layer_is_fixed (s->work, layer))
      sort_layer (s, layer, right ? PM_SIDE_LEFT : PM_SIDE_RIGHT);
  }
}

/* From the order that is there, the first sweep to the right or to the left. */
static guint64
find_order (Sorter *s, gboolean right, guint *best_order)
{
  PmLayoutWork *work = s->work;
  gsize size = sizeof (guint) * work->nodes->len;
  guint64 best = G_MAXUINT64;

  for (guint i = 0, waited = 0; i < SWEEPS && waited < PATIENCE && best; i++) {
    guint64 now;

    sweep (s, right == (i % 2 == 0));
    for (guint k = 0; k < work->n_layers; k++) {
      guint layer = right == (i % 2 == 0) ? k : work->n_layers - 1 - k;
      if (!layer_is_fixed (work, layer))
        sift_layer (s, layer);
    }
    now = all_crossings (s);
    waited = now < best ? 0 : waited + 1;
    if (now < best) {
      best = now;
      memcpy (best_order, work->order, size);
    }
  }
  return best;
}

/* The order given, turned round, or mixed: always in the same way. */
static void
set_start (PmLayoutWork *work, const guint *given, guint start)
{
  guint32 random = start;

  for (guint l = 0; l < work->n_layers; l++) {
    guint first = work->layer0[l], n = layer_size (work, l);

    for (guint i = 0; i < n; i++)
      work->order[first + i] = given[start / 2 == 1 && !layer_is_fixed (work, l) ? first + n - 1 - i : first + i];
    for (guint i = n; start >= 4 && !layer_is_fixed (work, l) && i > 1; i--) {
      guint k = first + (random = random * 1664525u + 1013904223u) / 65536 % i, node = work->order[k];
      work->order[k] = work->order[first + i - 1];
      work->order[first + i - 1] = node;
    }
  }
}

guint
pm_layout_orders (PmLayoutWork *work, guint n_starts, guint **orders)
{
  Sorter s = { .work = work };
  guint n_nodes = work->nodes->len, n = 0;
  gsize size = sizeof (guint) * n_nodes;
  g_autofree guint *given = g_memdup2 (work->order, size + 1);

  s.place = g_new0 (guint, work->pins->len + 1);
  s.scratch = g_new (guint, n_nodes + 1);
  s.units = g_new (Unit, n_nodes + 1);
  s.tree = g_new (guint, work->pins->len + 3);
  s.wires = g_array_new (FALSE, FALSE, sizeof (guint));
  s.ends = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint start = 0; start < n_starts; start++) {
    guint known = 0;

    set_start (work, given, start);
    for (guint l = 0; l < work->n_layers; l++)
      apply_units (&s, l, find_units (&s, l));
    orders[n] = g_malloc (size + 1);
    find_order (&s, start % 2 == 0, orders[n]);
    while (known < n && memcmp (orders[known], orders[n], size))
      known++;
    if (known < n)
      g_free (orders[n]);
    else
      n++;
  }
  g_free (s.place);
  g_free (s.scratch);
  g_free (s.units);
  g_free (s.tree);
  g_array_unref (s.wires);
  g_array_unref (s.ends);
  return n;
}
