/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layers: which box stands how far to the right.
 *
 * A graph of boxes and nets, each net as two vertices: where its drivers are met and where its receivers leave, so that
 * what hangs on it can stand between.  Cycles are broken as Eades, Lin, Smyth (1993): sinks to the end, sources to the
 * front, else the vertex with most out over in; ties by distance from the machine, then as given.  Then the longest way
 * from the left gives the layer, and boxes move right where that makes wires shorter.
 */
#include "config.h"
#include "pm-layout-private.h"

#include <stdlib.h>

typedef struct { guint from, to, length; } Edge;

typedef struct {
  guint   n;                     /* boxes, then nets twice */
  GArray *edges;                 /* of Edge */
  guint  *out0, *out, *in0, *in; /* edges by vertex */
  guint  *rank;                  /* [n] place in the sequence without cycles */
  guint  *sequence;
  int    *layer;                 /* [n] */
} Graph;

#define EDGE(graph, i) (&g_array_index ((graph)->edges, Edge, i))

static void
graph_clear (Graph *graph)
{
  g_array_unref (graph->edges);
  g_free (graph->out0);
  g_free (graph->out);
  g_free (graph->in0);
  g_free (graph->in);
  g_free (graph->rank);
  g_free (graph->sequence);
  g_free (graph->layer);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Graph, graph_clear)

static void
add_edge (Graph *graph, guint from, guint to, guint length)
{
  Edge edge = { from, to, length };

  g_array_append_val (graph->edges, edge);
}

/* Steps from the machine over wires, whichever way they point; boxes that are not reached count from the first of them
 * in the order given. */
static guint *
distances (const PmLayoutWork *work)
{
  const PmLayoutInput *input = work->input;
  guint n = input->n_boxes + input->n_nets, head = 0, tail = 0, next = 0;
  guint *distance = g_new (guint, n), *queue = g_new (guint, n);

  for (guint i = 0; i < n; i++)
    distance[i] = G_MAXUINT;
  for (guint i = 0; i < input->n_boxes; i++)
    if (input->boxes[i].band == PM_BAND_FIRST && work->placed[i]) {
      distance[i] = 0;
      queue[tail++] = i;
    }
  for (;;) {
    for (; head < tail; head++) {
      guint v = queue[head], box_end = input->n_boxes;
      guint from = v < box_end ? work->port0[v] : work->net_port0[v - box_end];
      guint to = v < box_end ? work->port0[v + 1] : work->net_port0[v - box_end + 1];

      if (v < box_end && input->boxes[v].band == PM_BAND_LAST)
        continue;                /* a line that a drive has is no way to its others */
      for (guint i = from; i < to; i++) {
        guint net = v < box_end ? pm_layout_port (work, i)->net : 0, w;

        if (v < box_end && (net == PM_LAYOUT_NONE || work->net_port0[net] == work->net_port0[net + 1]))
          continue;
        w = v < box_end ? box_end + net : work->port_box[work->net_ports[i]];
        if (distance[w] == G_MAXUINT) {
          distance[w] = distance[v] + 1;
          queue[tail++] = w;
        }
      }
    }
    while (next < input->n_boxes && (!work->placed[next] || distance[next] != G_MAXUINT))
      next++;
    if (next == input->n_boxes)
      break;
    distance[next] = 2;
    queue[tail++] = next;
  }
  g_free (queue);
  return distance;
}

/* Does the wire of this port come from the left?  What stands at the edge decides; at top and bottom the flow. */
static gboolean
port_is_input (const PmLayoutWork *work, guint port, const guint *distance)
{
  guint box = work->port_box[port];
  const PmLayoutPort *p = pm_layout_port (work, port);
  PmBand band = work->input->boxes[box].band;

  if (band == PM_BAND_FIRST || band == PM_BAND_LAST)
    return band == PM_BAND_LAST;
  if (p->edge == PM_EDGE_LEFT || p->edge == PM_EDGE_RIGHT)
    return p->edge == PM_EDGE_LEFT;
  if (p->flow == PM_FLOW_IN || p->flow == PM_FLOW_OUT)
    return p->flow == PM_FLOW_IN;
  return distance[work->input->n_boxes + p->net] < distance[box];
}

static void
index_edges (Graph *graph)
{
  guint n_edges = graph->edges->len;
  g_autofree guint *out_next = NULL, *in_next = NULL;

  graph->out0 = g_new0 (guint, graph->n + 1);
  graph->in0 = g_new0 (guint, graph->n + 1);
  graph->out = g_new (guint, n_edges + 1);
  graph->in = g_new (guint, n_edges + 1);
  for (guint i = 0; i < n_edges; i++) {
    graph->out0[EDGE (graph, i)->from + 1]++;
    graph->in0[EDGE (graph, i)->to + 1]++;
  }
  for (guint v = 0; v < graph->n; v++) {
    graph->out0[v + 1] += graph->out0[v];
    graph->in0[v + 1] += graph->in0[v];
  }
  out_next = g_memdup2 (graph->out0, sizeof (guint) * (graph->n + 1));
  in_next = g_memdup2 (graph->in0, sizeof (guint) * (graph->n + 1));
  for (guint i = 0; i < n_edges; i++) {
    graph->out[out_next[EDGE (graph, i)->from]++] = i;
    graph->in[in_next[EDGE (graph, i)->to]++] = i;
  }
}

static void
build_graph (PmLayoutWork *work, Graph *graph, const guint *distance)
{
  const PmLayoutInput *input = work->input;
  guint n_boxes = input->n_boxes, n_nets = input->n_nets;

  graph->n = n_boxes + 2 * n_nets;
  graph->edges = g_array_new (FALSE, FALSE, sizeof (Edge));
  for (guint net = 0; net < n_nets; net++) {
    guint enter = n_boxes + net, leave = enter + n_nets;

    if (work->net_port0[net] == work->net_port0[net + 1])
      continue;
    add_edge (graph, enter, leave, 0);
    for (guint i = work->net_port0[net]; i < work->net_port0[net + 1]; i++) {
      guint port = work->net_ports[i], box = work->port_box[port];

      if (work->hangs[box]) {
        add_edge (graph, enter, box, 0);
        add_edge (graph, box, leave, 1);
      } else if (port_is_input (work, port, distance)) {
        add_edge (graph, leave, box, 0);
      } else {
        add_edge (graph, box, enter, 1);
      }
    }
  }
  index_edges (graph);
}

#define FARTHEST 62              /* steps told apart */

/* Vertices waiting: bucket 0 sinks, 1 sources, then by how many steps the signal takes to them. */
typedef struct {
  guint  head[FARTHEST + 3], tail[FARTHEST + 3];
  guint *next, *prev, *bucket;
  guint *n_out, *n_in, *steps;
} Waiting;

/* Steps along the edges from whatever has none to it. */
static guint *
flow_steps (const Graph *graph)
{
  guint *steps = g_new (guint, graph->n + 1), head = 0, tail = 0;
  g_autofree guint *queue = g_new (guint, graph->n + 1);

  for (guint v = 0; v < graph->n; v++) {
    gboolean source = graph->in0[v] == graph->in0[v + 1];
    steps[v] = source ? 0 : FARTHEST;
    if (source)
      queue[tail++] = v;
  }
  for (; head < tail; head++)
    for (guint i = graph->out0[queue[head]]; i < graph->out0[queue[head] + 1]; i++) {
      guint to = EDGE (graph, graph->out[i])->to;
      if (steps[to] < FARTHEST || steps[queue[head]] + 1 >= FARTHEST)
        continue;
      steps[to] = steps[queue[head]] + 1;
      queue[tail++] = to;
    }
  return steps;
}

static void
waiting_remove (Waiting *w, guint v)
{
  guint b = w->bucket[v];

  if (w->prev[v] != PM_LAYOUT_NONE)
    w->next[w->prev[v]] = w->next[v];
  else
    w->head[b] = w->next[v];
  if (w->next[v] != PM_LAYOUT_NONE)
    w->prev[w->next[v]] = w->prev[v];
  else
    w->tail[b] = w->prev[v];
}

static void
waiting_add (Waiting *w, guint v)
{
  guint b = w->n_in[v] == 0 ? 1 : w->n_out[v] == 0 ? 0 : 2 + w->steps[v];

  w->bucket[v] = b;
  w->prev[v] = w->tail[b];
  w->next[v] = PM_LAYOUT_NONE;
  if (w->tail[b] != PM_LAYOUT_NONE)
    w->next[w->tail[b]] = v;
  else
    w->head[b] = v;
  w->tail[b] = v;
}

static guint
waiting_take (Waiting *w)
{
  guint b = w->head[1] != PM_LAYOUT_NONE ? 1 : 0, v;

  while (w->head[b] == PM_LAYOUT_NONE)
    b++;
  v = w->head[b];
  waiting_remove (w, v);
  return v;
}

/* Orders the vertices so that few edges point back. */
static void
find_sequence (Graph *graph, const guint *start)
{
  Waiting w = { 0 };
  guint front = 0, back = graph->n;
  g_autofree guint8 *done = g_new0 (guint8, graph->n);

  w.steps = flow_steps (graph);
  w.next = g_new (guint, graph->n);
  w.prev = g_new (guint, graph->n);
  w.bucket = g_new (guint, graph->n);
  w.n_out = g_new (guint, graph->n);
  w.n_in = g_new (guint, graph->n);
  for (guint b = 0; b < G_N_ELEMENTS (w.head); b++)
    w.head[b] = w.tail[b] = PM_LAYOUT_NONE;
  for (guint i = 0; i < graph->n; i++) {
    guint v = start[i];
    w.n_out[v] = graph->out0[v + 1] - graph->out0[v];
    w.n_in[v] = graph->in0[v + 1] - graph->in0[v];
    waiting_add (&w, v);
  }
  graph->rank = g_new (guint, graph->n);
  graph->sequence = g_new (guint, graph->n);
  while (front < back) {
    guint v = waiting_take (&w);

    done[v] = TRUE;
    graph->rank[v] = w.bucket[v] == 0 ? --back : front++;
    graph->sequence[graph->rank[v]] = v;
    for (guint i = graph->out0[v]; i < graph->out0[v + 1]; i++) {
      guint to = EDGE (graph, graph->out[i])->to;
      if (done[to])
        continue;
      waiting_remove (&w, to);
      w.n_in[to]--;
      waiting_add (&w, to);
    }
    for (guint i = graph->in0[v]; i < graph->in0[v + 1]; i++) {
      guint from = EDGE (graph, graph->in[i])->from;
      if (done[from])
        continue;
      waiting_remove (&w, from);
      w.n_out[from]--;
      waiting_add (&w, from);
    }
  }
  g_free (w.steps);
  g_free (w.next);
  g_free (w.prev);
  g_free (w.bucket);
  g_free (w.n_out);
  g_free (w.n_in);
}

static int
compare_keys (gconstpointer a, gconstpointer b)
{
  guint64 x = *(const guint64 *)a, y = *(const guint64 *)b;

  return (x > y) - (x < y);
}

/* The vertices by distance from the machine, then as given. */
static guint *
starting_order (const PmLayoutWork *work, const guint *distance)
{
  guint n_boxes = work->input->n_boxes, n_nets = work->input->n_nets, n = n_boxes + 2 * n_nets;
  g_autofree guint64 *keys = g_new (guint64, n);
  guint *order = g_new (guint, n);

  for (guint v = 0; v < n; v++) {
    guint plain = v < n_boxes + n_nets ? v : v - n_nets;
    keys[v] = (guint64)MIN (distance[plain], 0xffffff) << 32 | v;
  }
  if (n)
    qsort (keys, n, sizeof *keys, compare_keys);
  for (guint i = 0; i < n; i++)
    order[i] = keys[i] & 0xffffffff;
  return order;
}

static gboolean
edge_counts (const Graph *graph, const Edge *edge)
{
  return graph->rank[edge->from] < graph->rank[edge->to];
}

/* Longest ways from the left, from what the layers are already. */
static void
push_right (Graph *graph)
{
  for (guint i = 0; i < graph->n; i++) {
    guint v = graph->sequence[i];

    for (guint k = graph->out0[v]; k < graph->out0[v + 1]; k++) {
      const Edge *edge = EDGE (graph, graph->out[k]);
      if (edge_counts (graph, edge))
        graph->layer[edge->to] = MAX (graph->layer[edge->to], graph->layer[v] + (int)edge->length);
    }
  }
}

/* Boxes of one group in one layer where that holds; a group that would push itself on stays as it is. */
static void
level_groups (const PmLayoutWork *work, Graph *graph)
{
  const PmLayoutInput *input = work->input;
  g_autoptr (GHashTable) most = g_hash_table_new (NULL, NULL);
  g_autofree int *before = g_memdup2 (graph->layer, sizeof (int) * graph->n);
  gboolean moved = TRUE;

  for (guint round = 0; moved && round < 6; round++) {
    moved = FALSE;
    g_hash_table_remove_all (most);
    for (guint i = 0; i < input->n_boxes; i++) {
      gpointer key = GUINT_TO_POINTER (input->boxes[i].group + 1);
      if (work->placed[i] && input->boxes[i].group != PM_LAYOUT_NONE && input->boxes[i].band == PM_BAND_FLOW &&
          graph->layer[i] > GPOINTER_TO_INT (g_hash_table_lookup (most, key)))
        g_hash_table_insert (most, key, GINT_TO_POINTER (graph->layer[i]));
    }
    for (guint i = 0; i < input->n_boxes; i++) {
      int to = GPOINTER_TO_INT (g_hash_table_lookup (most, GUINT_TO_POINTER (input->boxes[i].group + 1)));
      if (!work->placed[i] || input->boxes[i].group == PM_LAYOUT_NONE || input->boxes[i].band != PM_BAND_FLOW ||
          graph->layer[i] >= to)
        continue;
      graph->layer[i] = to;
      moved = TRUE;
    }
    push_right (graph);
  }
  if (moved)
    memcpy (graph->layer, before, sizeof (int) * graph->n);
}

/* A box moves right as far as it can where more wires get shorter than longer. */
static void
pull_right (const PmLayoutWork *work, Graph *graph, int last)
{
  guint n_boxes = work->input->n_boxes;
  g_autofree int *latest = g_new (int, graph->n);

  for (guint v = 0; v < graph->n; v++)
    latest[v] = last;
  for (guint i = graph->n; i-- > 0;) {
    guint v = graph->sequence[i], n_in = 0, n_out = 0;

    for (guint k = graph->out0[v]; k < graph->out0[v + 1]; k++) {
      const Edge *edge = EDGE (graph, graph->out[k]);
      if (!edge_counts (graph, edge))
        continue;
      n_out++;
      latest[v] = MIN (latest[v], latest[edge->to] - (int)edge->length);
    }
    if (v >= n_boxes)
      continue;
    for (guint k = graph->in0[v]; k < graph->in0[v + 1]; k++)
      n_in += edge_counts (graph, EDGE (graph, graph->in[k]));
    if (n_out > n_in && work->input->boxes[v].band == PM_BAND_FLOW && !work->hangs[v] &&
        work->input->boxes[v].group == PM_LAYOUT_NONE)
      graph->layer[v] = MAX (graph->layer[v], latest[v]);
    latest[v] = graph->layer[v];
  }
}

/* Layers that hold no box are taken out. */
static void
number_layers (PmLayoutWork *work, const Graph *graph)
{
  const PmLayoutInput *input = work->input;
  guint n = 0, most = 0;
  g_autofree guint *number = NULL;

  for (guint i = 0; i < input->n_boxes; i++)
    if (work->placed[i])
      most = MAX (most, (guint)graph->layer[i] + 1);
  number = g_new0 (guint, most + 1);
  for (guint i = 0; i < input->n_boxes; i++)
    if (work->placed[i])
      number[graph->layer[i]] = 1;
  for (guint l = 0; l < most; l++) {
    guint used = number[l];
    number[l] = n;
    n += used;
  }
  for (guint i = 0; i < input->n_boxes; i++)
    if (work->placed[i])
      work->layer[i] = number[graph->layer[i]];
  work->n_layers = n;
}

void
pm_layout_layers (PmLayoutWork *work)
{
  const PmLayoutInput *input = work->input;
  g_auto (Graph) graph = { 0 };
  g_autofree guint *distance = distances (work), *start = starting_order (work, distance);
  int last = 0;
  gboolean any_first = FALSE, any_last = FALSE;

  build_graph (work, &graph, distance);
  find_sequence (&graph, start);
  graph.layer = g_new0 (int, graph.n);
  for (guint i = 0; i < input->n_boxes; i++) {
    any_first |= work->placed[i] && input->boxes[i].band == PM_BAND_FIRST;
    any_last |= work->placed[i] && input->boxes[i].band == PM_BAND_LAST;
  }
  for (guint i = 0; i < input->n_boxes; i++)
    graph.layer[i] = any_first && input->boxes[i].band != PM_BAND_FIRST;
  push_right (&graph);
  level_groups (work, &graph);
  for (guint i = 0; i < input->n_boxes; i++)
    if (work->placed[i])
      last = MAX (last, graph.layer[i] + (any_last && input->boxes[i].band != PM_BAND_LAST));
  for (guint i = 0; i < input->n_boxes; i++)
    if (input->boxes[i].band == PM_BAND_LAST)
      graph.layer[i] = last;
  pull_right (work, &graph, any_last ? last - 1 : last);
  number_layers (work, &graph);
}
