/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Order in the layers, so that few wires cross: by the middle of what is joined on the other side, layer by layer to
 * and fro (Sugiyama, Tagawa, Toda 1981), then neighbours change places where that helps (Gansner, Koutsofios, North,
 * Vo 1993).  Starts with the order given and stops when nothing gets better.
 *
 * What moves is a UNIT: a node, or the nodes of one group in that layer, which keep their order.
 */
#include "config.h"
#include "pm-layout-private.h"

#include <stdlib.h>

#define SWEEPS 16
#define PATIENCE 4               /* sweeps without a gain */

typedef struct { guint first, n; double key; guint given; } Unit;   /* of order, of one layer */

typedef struct {
  PmLayoutWork *work;
  guint  *place;                 /* [pins] from the top among the pins of its layer and side */
  guint  *scratch;               /* [nodes] */
  Unit   *units;                 /* [nodes] of the layer at work */
  guint  *tree;                  /* Fenwick sums over places */
  GArray *ends[2];               /* of guint: a pair of places for each wire of the channel */
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

/* The middle place of the pins of a link at one side. */
static guint
middle (const Sorter *s, const PmLink *link, PmSide side)
{
  const guint *pins = s->work->link_pins + link->pin[side];
  guint n = link->n_pins[side], places[64];

  n = MIN (n, G_N_ELEMENTS (places));
  for (guint i = 0; i < n; i++)
    places[i] = s->place[pins[i]];
  if (n > 2)
    qsort (places, n, sizeof *places, compare_guints);
  return places[(n - 1) / 2];
}

static void
add_wire (Sorter *s, guint left, guint right)
{
  guint pair[2] = { left, right };

  g_array_append_vals (s->ends[0], pair, 2);
}

static int
compare_wires (gconstpointer a, gconstpointer b)
{
  const guint *x = a, *y = b;

  return x[0] != y[0] ? (x[0] > y[0]) - (x[0] < y[0]) : (x[1] > y[1]) - (x[1] < y[1]);
}

/* Crossings in a channel, a net of many pins counted as wires from its middle pins to all others. */
static guint64
crossings (Sorter *s, guint channel)
{
  PmLayoutWork *work = s->work;
  guint64 sum = 0;
  guint most = 0;

  g_array_set_size (s->ends[0], 0);
  for (guint l = work->channel_link0[channel]; l < work->channel_link0[channel + 1]; l++) {
    const PmLink *link = PM_LINK (work, l);
    guint n_left = link->n_pins[PM_SIDE_LEFT], n_right = link->n_pins[PM_SIDE_RIGHT], left, right;

    if (!n_left || !n_right)
      continue;
    left = middle (s, link, PM_SIDE_LEFT);
    right = middle (s, link, PM_SIDE_RIGHT);
    for (guint i = 0; i < n_left; i++)
      add_wire (s, s->place[work->link_pins[link->pin[PM_SIDE_LEFT] + i]], right);
    for (guint i = 0; i < n_right; i++) {
      guint place = s->place[work->link_pins[link->pin[PM_SIDE_RIGHT] + i]];
      most = MAX (most, place);
      if (place != right)
        add_wire (s, left, place);
    }
  }
  qsort (s->ends[0]->data, s->ends[0]->len / 2, 2 * sizeof (guint), compare_wires);
  memset (s->tree, 0, sizeof (guint) * (most + 2));
  for (guint i = 0; i < s->ends[0]->len / 2; i++) {
    guint at = g_array_index (s->ends[0], guint, 2 * i + 1) + 1;

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

/* Crossings of the wires of two units at one side if a stands above b, less those if b stands above a. */
static int
swap_gain (Sorter *s, guint layer, const Unit *a, const Unit *b, PmSide side)
{
  PmLayoutWork *work = s->work;
  const Unit *units[2] = { a, b };
  guint64 above = 0, below = 0;
  guint k = 0, tie = 0, n_a;

  for (guint u = 0; u < 2; u++) {
    g_array_set_size (s->ends[u], 0);
    for (guint i = 0; i < units[u]->n; i++) {
      const PmNode *node = PM_NODE (work, work->order[work->layer0[layer] + units[u]->first + i]);
      for (guint p = 0; p < node->n_pins[side]; p++) {
        const PmLink *link = PM_LINK (work, PM_PIN (work, node->pin[side] + p)->link);
        for (guint q = 0; q < link->n_pins[side]; q++)
          g_array_append_val (s->ends[u], s->place[work->link_pins[link->pin[side] + q]]);
      }
    }
    g_array_sort (s->ends[u], compare_guints);
  }
  n_a = s->ends[0]->len;
  for (guint j = 0; j < s->ends[1]->len; j++) {
    guint at = g_array_index (s->ends[1], guint, j);

    while (k < n_a && g_array_index (s->ends[0], guint, k) < at)
      k++;
    for (tie = k; tie < n_a && g_array_index (s->ends[0], guint, tie) == at; tie++)
      ;
    above += n_a - tie;          /* of a, joined below this one of b */
    below += k;
  }
  return (int)above - (int)below;
}

/* Neighbours change places while that takes crossings away. */
static void
transpose_layer (Sorter *s, guint layer)
{
  guint n_units = find_units (s, layer);
  gboolean changed = TRUE;

  for (guint round = 0; changed && round < 4; round++) {
    changed = FALSE;
    for (guint u = 0; u + 1 < n_units; u++) {
      int gain = 0;

      if (layer > 0)
        gain += swap_gain (s, layer, &s->units[u], &s->units[u + 1], PM_SIDE_LEFT);
      if (layer + 1 < s->work->n_layers)
        gain += swap_gain (s, layer, &s->units[u], &s->units[u + 1], PM_SIDE_RIGHT);
      if (gain > 0) {
        Unit unit = s->units[u];
        s->units[u] = s->units[u + 1];
        s->units[u + 1] = unit;
        changed = TRUE;
      }
    }
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

void
pm_layout_order (PmLayoutWork *work)
{
  Sorter s = { .work = work };
  guint n_nodes = work->nodes->len;
  guint64 best, now;
  g_autofree guint *best_order = NULL;

  s.place = g_new0 (guint, work->pins->len + 1);
  s.scratch = g_new (guint, n_nodes + 1);
  s.units = g_new (Unit, n_nodes + 1);
  s.tree = g_new (guint, work->pins->len + 3);
  s.ends[0] = g_array_new (FALSE, FALSE, sizeof (guint));
  s.ends[1] = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint l = 0; l < work->n_layers; l++)
    apply_units (&s, l, find_units (&s, l));
  sweep (&s, TRUE);
  best = all_crossings (&s);
  best_order = g_memdup2 (work->order, sizeof (guint) * (n_nodes + 1));
  for (guint i = 0, waited = 0; i < SWEEPS && waited < PATIENCE && best; i++) {
    if (i)
      sweep (&s, i % 2 == 0);
    for (guint l = 0; l < work->n_layers; l++)
      if (!layer_is_fixed (work, l))
        transpose_layer (&s, l);
    now = all_crossings (&s);
    waited = now < best ? 0 : waited + 1;
    if (now < best) {
      best = now;
      memcpy (best_order, work->order, sizeof (guint) * n_nodes);
    }
  }
  memcpy (work->order, best_order, sizeof (guint) * n_nodes);
  g_free (s.place);
  g_free (s.scratch);
  g_free (s.units);
  g_free (s.tree);
  g_array_unref (s.ends[0]);
  g_array_unref (s.ends[1]);
}
