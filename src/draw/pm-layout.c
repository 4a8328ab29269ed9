/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The layout from its steps: layers, nodes, order, heights, channels; then the pieces of each net are put together,
 * joints and bends found, and what has no wires is set below. */
#include "config.h"
#include "pm-layout-private.h"

#include <stdlib.h>

#define FOOT_GAP 3               /* between the wires and the rows below, and between these */
#define FOOT_WIDTH 60            /* at least so much before a new row */
#define MOST_STARTS 8
#define START_NODES 600
#define WORTH 4                  /* of a hundred less ugly before another start is preferred, to move little */

static void
work_clear (PmLayoutWork *work)
{
  g_free (work->port0);
  g_free (work->port_box);
  g_free (work->net_port0);
  g_free (work->net_ports);
  g_free (work->port_row);
  g_free (work->port_sides);
  g_free (work->placed);
  g_free (work->hangs);
  g_free (work->layer);
  g_free (work->node_of);
  g_free (work->hang_next);
  g_free (work->at);
  g_array_unref (work->nodes);
  g_array_unref (work->pins);
  g_array_unref (work->links);
  g_array_unref (work->raw);
  g_free (work->link_pins);
  g_free (work->channel_link0);
  g_free (work->layer0);
  g_free (work->order);
  g_free (work->column_x);
  g_free (work->column_width);
}

/* Counts the ports through, finds the nets that join anything, and the boxes that have a part in it. */
static void
work_init (PmLayoutWork *work, const PmLayoutInput *input)
{
  guint n_boxes = input->n_boxes, n_nets = input->n_nets;
  g_autofree guint *next = NULL;

  *work = (PmLayoutWork){ .input = input };
  work->port0 = g_new0 (guint, n_boxes + 1);
  for (guint b = 0; b < n_boxes; b++)
    work->port0[b + 1] = work->port0[b] + input->boxes[b].n_ports;
  work->n_ports = work->port0[n_boxes];
  work->port_box = g_new (guint, work->n_ports + 1);
  work->net_port0 = g_new0 (guint, n_nets + 2);
  work->net_ports = g_new (guint, work->n_ports + 1);
  work->port_row = g_new0 (int, work->n_ports + 1);
  work->port_sides = g_new0 (guint8, work->n_ports + 1);
  for (guint b = 0; b < n_boxes; b++)
    for (guint i = 0; i < input->boxes[b].n_ports; i++) {
      guint net = input->boxes[b].ports[i].net;
      work->port_box[work->port0[b] + i] = b;
      if (net != PM_LAYOUT_NONE)
        work->net_port0[net + 1]++;
    }
  for (guint net = 0; net < n_nets; net++)
    work->net_port0[net + 1] = work->net_port0[net] + (work->net_port0[net + 1] > 1 ? work->net_port0[net + 1] : 0);
  next = g_memdup2 (work->net_port0, sizeof (guint) * (n_nets + 1));
  work->placed = g_new0 (guint8, n_boxes + 1);
  work->hangs = g_new0 (guint8, n_boxes + 1);
  for (guint port = 0; port < work->n_ports; port++) {
    guint net = pm_layout_port (work, port)->net;
    if (net == PM_LAYOUT_NONE || work->net_port0[net] == work->net_port0[net + 1])
      continue;
    work->net_ports[next[net]++] = port;
    work->placed[work->port_box[port]] = TRUE;
  }
  for (guint b = 0; b < n_boxes; b++) {
    const PmLayoutBox *box = &input->boxes[b];
    guint n_wires = 0, n_upright = 0;

    work->placed[b] |= box->band == PM_BAND_FIRST || box->band == PM_BAND_LAST;
    for (guint i = 0; i < box->n_ports; i++) {
      guint net = box->ports[i].net;
      if (net == PM_LAYOUT_NONE || work->net_port0[net] == work->net_port0[net + 1])
        continue;
      n_wires++;
      n_upright += box->ports[i].edge == PM_EDGE_TOP || box->ports[i].edge == PM_EDGE_BOTTOM;
    }
    work->hangs[b] = n_wires == 1 && n_upright == 1 && box->band == PM_BAND_FLOW;
  }
  work->layer = g_new0 (guint, n_boxes + 1);
  work->node_of = g_new0 (guint, n_boxes + 1);
  work->hang_next = g_new0 (guint, n_boxes + 1);
  work->at = g_new0 (PmLayoutPoint, n_boxes + 1);
  work->nodes = g_array_new (FALSE, FALSE, sizeof (PmNode));
  work->pins = g_array_new (FALSE, FALSE, sizeof (PmPin));
  work->links = g_array_new (FALSE, FALSE, sizeof (PmLink));
  work->raw = g_array_new (FALSE, FALSE, sizeof (PmLayoutSegment));
}

static gboolean
is_level (const PmLayoutSegment *piece)
{
  return piece->y1 == piece->y2;
}

/* By net, level before upright, then by the line that they lie on, then along it. */
static int
compare_pieces (gconstpointer a, gconstpointer b)
{
  const PmLayoutSegment *x = a, *y = b;
  int keys[2][3] = { { !is_level (x), is_level (x) ? x->y1 : x->x1, is_level (x) ? x->x1 : x->y1 },
                     { !is_level (y), is_level (y) ? y->y1 : y->x1, is_level (y) ? y->x1 : y->y1 } };

  if (x->net != y->net)
    return x->net < y->net ? -1 : 1;
  for (guint i = 0; i < 3; i++)
    if (keys[0][i] != keys[1][i])
      return keys[0][i] < keys[1][i] ? -1 : 1;
  return 0;
}

/* Pieces that go on in each other become one.  Sorted before and after. */
static void
merge_pieces (GArray *pieces)
{
  guint out = 0;

  g_array_sort (pieces, compare_pieces);
  for (guint i = 0; i < pieces->len; i++) {
    const PmLayoutSegment *piece = &g_array_index (pieces, PmLayoutSegment, i);
    PmLayoutSegment *last = out ? &g_array_index (pieces, PmLayoutSegment, out - 1) : NULL;
    gboolean level = is_level (piece);

    if (last && last->net == piece->net && is_level (last) == level &&
        (level ? last->y1 == piece->y1 && piece->x1 <= last->x2 : last->x1 == piece->x1 && piece->y1 <= last->y2)) {
      last->x2 = MAX (last->x2, piece->x2);
      last->y2 = MAX (last->y2, piece->y2);
    } else {
      g_array_index (pieces, PmLayoutSegment, out++) = *piece;
    }
  }
  g_array_set_size (pieces, out);
}

/* The merged piece of that direction that the point lies on, ends included; NONE. */
static guint
find_piece (const GArray *pieces, guint net, gboolean level, PmLayoutPoint p)
{
  PmLayoutSegment key = { p.x, p.y, level ? p.x + 1 : p.x, level ? p.y : p.y + 1, net };
  guint low = 0, high = pieces->len;

  while (low < high) {
    guint mid = (low + high) / 2;
    if (compare_pieces (&g_array_index (pieces, PmLayoutSegment, mid), &key) <= 0)
      low = mid + 1;
    else
      high = mid;
  }
  if (low == 0)
    return PM_LAYOUT_NONE;
  key = g_array_index (pieces, PmLayoutSegment, low - 1);
  if (key.net != net || is_level (&key) != level || (level ? key.y1 != p.y : key.x1 != p.x) ||
      key.x1 > p.x || key.x2 < p.x || key.y1 > p.y || key.y2 < p.y)
    return PM_LAYOUT_NONE;
  return low - 1;
}

typedef struct { guint piece; PmLayoutPoint at; } Cut;

static int
compare_cuts (gconstpointer a, gconstpointer b)
{
  const Cut *x = a, *y = b;

  if (x->piece != y->piece)
    return x->piece < y->piece ? -1 : 1;
  return x->at.x != y->at.x ? x->at.x - y->at.x : x->at.y - y->at.y;
}

/* Cuts merged pieces where pieces of the other direction meet them. */
static GArray *
cut_pieces (const GArray *raw, const GArray *merged)
{
  g_autoptr (GArray) cuts = g_array_new (FALSE, FALSE, sizeof (Cut));
  GArray *pieces = g_array_sized_new (FALSE, FALSE, sizeof (PmLayoutSegment), merged->len);
  guint c = 0;

  for (guint i = 0; i < raw->len; i++) {
    const PmLayoutSegment *piece = &g_array_index (raw, PmLayoutSegment, i);
    for (guint end = 0; end < 2; end++) {
      PmLayoutPoint p = { end ? piece->x2 : piece->x1, end ? piece->y2 : piece->y1 };
      Cut level = { find_piece (merged, piece->net, TRUE, p), p };
      Cut upright = { find_piece (merged, piece->net, FALSE, p), p };

      if (level.piece == PM_LAYOUT_NONE || upright.piece == PM_LAYOUT_NONE)
        continue;
      g_array_append_val (cuts, level);
      g_array_append_val (cuts, upright);
    }
  }
  g_array_sort (cuts, compare_cuts);
  for (guint i = 0; i < merged->len; i++) {
    PmLayoutSegment piece = g_array_index (merged, PmLayoutSegment, i), part;

    for (; c < cuts->len && g_array_index (cuts, Cut, c).piece == i; c++) {
      PmLayoutPoint p = g_array_index (cuts, Cut, c).at;
      if ((p.x == piece.x1 && p.y == piece.y1) || (p.x == piece.x2 && p.y == piece.y2))
        continue;
      part = piece;
      part.x2 = piece.x1 = p.x;
      part.y2 = piece.y1 = p.y;
      g_array_append_val (pieces, part);
    }
    g_array_append_val (pieces, piece);
  }
  return pieces;
}

typedef struct { guint net; PmLayoutPoint at; gboolean level; } PieceEnd;

static int
compare_piece_ends (gconstpointer a, gconstpointer b)
{
  const PieceEnd *x = a, *y = b;

  if (x->net != y->net)
    return x->net < y->net ? -1 : 1;
  return x->at.x != y->at.x ? x->at.x - y->at.x : x->at.y - y->at.y;
}

static void
find_joints (PmLayout *layout)
{
  g_autofree PieceEnd *ends = g_new (PieceEnd, 2 * layout->n_segments + 1);
  guint n = 0, out = 0;

  for (guint i = 0; i < layout->n_segments; i++) {
    const PmLayoutSegment *s = &layout->segments[i];
    ends[n++] = (PieceEnd){ s->net, { s->x1, s->y1 }, is_level (s) };
    ends[n++] = (PieceEnd){ s->net, { s->x2, s->y2 }, is_level (s) };
  }
  qsort (ends, n, sizeof *ends, compare_piece_ends);
  layout->joints = g_new (PmLayoutPoint, layout->n_segments + 1);
  layout->joint_nets = g_new (guint, layout->n_segments + 1);
  for (guint i = 0, k; i < n; i = k) {
    for (k = i; k < n && compare_piece_ends (&ends[i], &ends[k]) == 0; k++)
      ;
    if (k - i == 2 && ends[i].level != ends[i + 1].level)
      layout->n_bends++;
    if (k - i < 3)
      continue;
    layout->joints[out] = ends[i].at;
    layout->joint_nets[out++] = ends[i].net;
  }
  layout->n_joints = out;
}

/* Upright pieces met by a sweep over the level ones that are open, summed in a Fenwick tree over heights. */
typedef struct { int x, kind, y1, y2; } Event;   /* kind: 0 level ends, 1 upright, 2 level begins */

static int
compare_events (gconstpointer a, gconstpointer b)
{
  const Event *x = a, *y = b;

  return x->x != y->x ? (x->x > y->x) - (x->x < y->x) : x->kind - y->kind;
}

static guint
count_crossings (const PmLayout *layout)
{
  g_autofree Event *events = g_new (Event, 2 * layout->n_segments + 1);
  g_autofree int *tree = g_new0 (int, layout->height + 3);
  guint n = 0, sum = 0, size = layout->height + 2;

  for (guint i = 0; i < layout->n_segments; i++) {
    const PmLayoutSegment *s = &layout->segments[i];
    if (!is_level (s)) {
      events[n++] = (Event){ s->x1, 1, s->y1, s->y2 };
      continue;
    }
    events[n++] = (Event){ s->x1, 2, s->y1, s->y1 };
    events[n++] = (Event){ s->x2, 0, s->y1, s->y1 };
  }
  qsort (events, n, sizeof *events, compare_events);
  for (guint i = 0; i < n; i++) {
    const Event *e = &events[i];

    if (e->kind == 1) {
      for (guint k = e->y2; k; k &= k - 1)         /* heights below y2, place y + 1 */
        sum += tree[k];
      for (guint k = e->y1 + 1; k; k &= k - 1)
        sum -= tree[k];
    } else {
      for (guint k = e->y1 + 1; k <= size; k += k & -k)
        tree[k] += e->kind - 1;
    }
  }
  return sum;
}

/* Boxes without wires in rows under the rest. */
static void
place_foot (PmLayoutWork *work, int width, int y)
{
  const PmLayoutInput *input = work->input;
  int x = 0, row = 0;

  width = MAX (width, FOOT_WIDTH);
  for (guint from = 0, to; from < input->n_boxes; from = to) {
    int above = 0;

    for (to = from, x = 0; to < input->n_boxes; to++) {
      const PmLayoutBox *b = &input->boxes[to];
      int wide = b->left + b->width + b->right;
      if (work->placed[to])
        continue;
      if (x && x + wide > width)
        break;
      work->at[to].x = x + b->left;
      x += wide + FOOT_GAP;
      above = MAX (above, b->top);
    }
    row = 0;
    for (guint i = from; i < to; i++) {
      const PmLayoutBox *b = &input->boxes[i];
      if (work->placed[i])
        continue;
      work->at[i].y = y + above;
      row = MAX (row, above + b->height + b->bottom);
    }
    y += row + FOOT_GAP;
  }
}

/* Everything to 0,0 and beyond; width and height. */
static void
set_bounds (const PmLayoutInput *input, PmLayout *layout, gboolean shift)
{
  int x = G_MAXINT, y = G_MAXINT;

  for (guint i = 0; i < layout->n_segments; i++) {
    x = MIN (x, layout->segments[i].x1);
    y = MIN (y, layout->segments[i].y1);
  }
  for (guint b = 0; b < input->n_boxes; b++) {
    x = MIN (x, layout->boxes[b].x - input->boxes[b].left);
    y = MIN (y, layout->boxes[b].y - input->boxes[b].top);
  }
  if (!shift)
    x = y = 0;
  layout->width = layout->height = 0;
  for (guint i = 0; i < layout->n_segments; i++) {
    PmLayoutSegment *s = &layout->segments[i];
    *s = (PmLayoutSegment){ s->x1 - x, s->y1 - y, s->x2 - x, s->y2 - y, s->net };
    layout->width = MAX (layout->width, s->x2);
    layout->height = MAX (layout->height, s->y2);
  }
  for (guint b = 0; b < input->n_boxes; b++) {
    const PmLayoutBox *box = &input->boxes[b];
    layout->boxes[b] = (PmLayoutPoint){ layout->boxes[b].x - x, layout->boxes[b].y - y };
    layout->width = MAX (layout->width, layout->boxes[b].x + box->width + box->right);
    layout->height = MAX (layout->height, layout->boxes[b].y + box->height + box->bottom);
  }
  for (guint net = 0; net < input->n_nets; net++) {
    const PmLayoutArea *label = &layout->labels[net];
    layout->width = MAX (layout->width, label->x + label->width);
    layout->height = MAX (layout->height, label->y + label->height);
  }
}

/* The lower edge of what has wires. */
static int
lower_edge (const PmLayoutWork *work)
{
  int y = 0;

  for (guint b = 0; b < work->input->n_boxes; b++)
    if (work->placed[b])
      y = MAX (y, work->at[b].y + work->input->boxes[b].height + work->input->boxes[b].bottom);
  for (guint i = 0; i < work->raw->len; i++)
    y = MAX (y, g_array_index (work->raw, PmLayoutSegment, i).y2);
  return y;
}

/* Everything after the order of the layers. */
static PmLayout *
finish (PmLayoutWork *work)
{
  const PmLayoutInput *input = work->input;
  PmLayout *layout = g_new0 (PmLayout, 1);
  g_autoptr (GArray) merged = NULL;
  GArray *pieces;
  int width = 0;

  g_array_set_size (work->raw, 0);
  pm_layout_place (work);
  pm_layout_route (work);
  if (work->n_layers)
    width = work->column_x[work->n_layers - 1] + work->column_width[work->n_layers - 1];
  place_foot (work, width, work->n_layers ? lower_edge (work) + FOOT_GAP : 0);

  merged = g_array_copy (work->raw);
  merge_pieces (merged);
  pieces = cut_pieces (work->raw, merged);
  layout->n_layers = work->n_layers;
  layout->boxes = g_memdup2 (work->at, sizeof *work->at * (input->n_boxes + 1));
  layout->labels = g_new0 (PmLayoutArea, input->n_nets + 1);
  layout->n_segments = pieces->len;
  layout->segments = (PmLayoutSegment *)pieces->data;
  set_bounds (input, layout, TRUE);
  pm_layout_straighten (input, layout->boxes, pieces);
  layout->n_segments = pieces->len;
  layout->segments = (PmLayoutSegment *)g_array_free (pieces, FALSE);
  find_joints (layout);
  layout->n_crossings = count_crossings (layout);
  return layout;
}

static guint
ugliness (const PmLayout *layout)
{
  return 3 * layout->n_crossings + 2 * layout->n_bends;
}

PmLayout *
pm_layout_new (const PmLayoutInput *input)
{
  PmLayoutWork work;
  PmLayout *best = NULL;
  guint *orders[MOST_STARTS], n_orders;

  g_return_val_if_fail (input, g_new0 (PmLayout, 1));
  work_init (&work, input);
  pm_layout_layers (&work);
  pm_layout_nodes (&work);
  n_orders = pm_layout_orders (&work, CLAMP (START_NODES / (work.nodes->len + 1), 2, MOST_STARTS), orders);
  for (guint i = 0; i < n_orders; i++) {
    PmLayout *layout;

    memcpy (work.order, orders[i], sizeof (guint) * work.nodes->len);
    g_free (orders[i]);
    layout = finish (&work);
    if (best && 100 * ugliness (layout) >= (100 - WORTH) * ugliness (best)) {
      pm_layout_free (layout);
      continue;
    }
    pm_layout_free (best);
    best = layout;
  }
  pm_layout_labels (input, best);
  set_bounds (input, best, FALSE);
  work_clear (&work);
  return best;
}

void
pm_layout_free (PmLayout *layout)
{
  if (!layout)
    return;
  g_free (layout->boxes);
  g_free (layout->segments);
  g_free (layout->joints);
  g_free (layout->joint_nets);
  g_free (layout->labels);
  g_free (layout);
}
