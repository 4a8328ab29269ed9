/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wires in the channels: each link of more than one height gets an upright trunk on a track of its own.
 *
 * Left edge rule of Hashimoto, Stevens (1971) with its upright constraint: where one net comes from the left and
 * another from the right at the same height, the trunk of the first stands left of the trunk of the second.  Which of
 * two trunks that overlap stands left is else decided by the crossings that either way costs.  A ring of constraints is
 * opened by giving one link two trunks, joined at a height that nothing uses.
 */
#include "config.h"
#include "pm-layout-private.h"

#include <stdlib.h>

#define MARGIN 2                 /* from the layer to the first track */

/* An upright piece to come. */
typedef struct {
  guint    link;
  int      first, last;          /* heights */
  guint    sides;                /* pins at 1 left, 2 right: a link with two trunks has one for each */
  gboolean split;                /* has a twin right after it */
  int      bridge;               /* height where the twins are joined */
  guint    track, waits;
  gboolean done;
} Trunk;

typedef struct { int y; guint trunk; PmSide side; } End;

typedef struct {
  PmLayoutWork *work;
  guint   channel;
  GArray *trunks;                /* of Trunk */
  GArray *ends;                  /* of End, by y */
  GArray *arcs;                  /* of guint pairs: trunk left of trunk */
} Channel;

#define TRUNK(channel, i) (&g_array_index ((channel)->trunks, Trunk, i))

static void
add_piece (PmLayoutWork *work, guint net, int x1, int y1, int x2, int y2)
{
  PmLayoutSegment piece = { MIN (x1, x2), MIN (y1, y2), MAX (x1, x2), MAX (y1, y2), net };

  if (x1 != x2 || y1 != y2)
    g_array_append_val (work->raw, piece);
}

static int
link_pin_y (const PmLayoutWork *work, const PmLink *link, PmSide side, guint i)
{
  return pm_pin_y (work, work->link_pins[link->pin[side] + i]);
}

static void
measure_link (const PmLayoutWork *work, const PmLink *link, guint sides, int *first, int *last)
{
  *first = G_MAXINT;
  *last = G_MININT;
  for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++)
    for (guint i = 0; (sides & (1 << side)) && i < link->n_pins[side]; i++) {
      int y = link_pin_y (work, link, side, i);
      *first = MIN (*first, y);
      *last = MAX (*last, y);
    }
}

static int
compare_ends (gconstpointer a, gconstpointer b)
{
  const End *x = a, *y = b;

  if (x->y != y->y)
    return x->y < y->y ? -1 : 1;
  return (int)x->side - (int)y->side;
}

static void
find_ends (Channel *channel)
{
  PmLayoutWork *work = channel->work;

  g_array_set_size (channel->ends, 0);
  for (guint t = 0; t < channel->trunks->len; t++) {
    const Trunk *trunk = TRUNK (channel, t);
    const PmLink *link = PM_LINK (work, trunk->link);

    for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++)
      for (guint i = 0; (trunk->sides & (1 << side)) && i < link->n_pins[side]; i++) {
        End end = { link_pin_y (work, link, side, i), t, side };
        g_array_append_val (channel->ends, end);
      }
  }
  if (channel->ends->len)
    qsort (channel->ends->data, channel->ends->len, sizeof (End), compare_ends);
}

/* First end at y or below. */
static guint
first_end (const Channel *channel, int y)
{
  guint low = 0, high = channel->ends->len;

  while (low < high) {
    guint mid = (low + high) / 2;
    if (g_array_index (channel->ends, End, mid).y < y)
      low = mid + 1;
    else
      high = mid;
  }
  return low;
}

/* How many level pieces cross between if a stands left of b; G_MAXINT / 2 if it cannot. */
static int
left_cost (const Channel *channel, guint a, guint b)
{
  const Trunk *left = TRUNK (channel, a), *right = TRUNK (channel, b);
  int cost = 0, first = MAX (left->first, right->first), last = MIN (left->last, right->last);

  if (left->link == right->link)
    return left->sides == 1 ? 0 : G_MAXINT / 2;
  for (guint i = first_end (channel, first); i < channel->ends->len; i++) {
    const End *end = &g_array_index (channel->ends, End, i);

    if (end->y > last)
      break;
    if (end->trunk == a && end->side == PM_SIDE_RIGHT) {
      for (guint k = i; k-- > 0 && g_array_index (channel->ends, End, k).y == end->y;) {
        const End *other = &g_array_index (channel->ends, End, k);
        if (other->trunk == b && other->side == PM_SIDE_LEFT)
          return G_MAXINT / 2;
      }
      cost += end->y > right->first && end->y < right->last;
    }
    if (end->trunk == b && end->side == PM_SIDE_LEFT)
      cost += end->y > left->first && end->y < left->last;
  }
  return cost;
}

static int
compare_first (gconstpointer a, gconstpointer b)
{
  const int *x = a, *y = b;

  return x[0] != y[0] ? (x[0] > y[0]) - (x[0] < y[0]) : x[1] - y[1];
}

/* Pairs of trunks whose heights overlap: from, to, weight; the weight is the crossings saved, or G_MAXINT / 2. */
typedef struct { guint from, to; int weight; } Arc;

static void
find_arcs (Channel *channel)
{
  guint n = channel->trunks->len;
  g_autofree int *sorted = g_new (int, 2 * n + 2);

  g_array_set_size (channel->arcs, 0);
  for (guint t = 0; t < n; t++) {
    sorted[2 * t] = TRUNK (channel, t)->first;
    sorted[2 * t + 1] = t;
  }
  qsort (sorted, n, 2 * sizeof (int), compare_first);
  for (guint i = 0; i < n; i++) {
    guint a = sorted[2 * i + 1];
    if (TRUNK (channel, a)->first == TRUNK (channel, a)->last)
      continue;
    for (guint k = i + 1; k < n && sorted[2 * k] <= TRUNK (channel, a)->last; k++) {
      guint b = sorted[2 * k + 1];
      int ab, ba;
      Arc arc;

      if (TRUNK (channel, b)->first == TRUNK (channel, b)->last)
        continue;                /* straight: in nobody's way */
      ab = left_cost (channel, a, b);
      ba = left_cost (channel, b, a);
      arc = (Arc){ a, b, ba - ab };
      if (ba < ab || (ba == ab && b < a))
        arc = (Arc){ b, a, ab - ba };
      if (ab == G_MAXINT / 2 && ba == G_MAXINT / 2) {   /* two that forbid each other */
        arc.weight = G_MAXINT / 2;
        g_array_append_val (channel->arcs, arc);
        arc = (Arc){ arc.to, arc.from, G_MAXINT / 2 };
      } else if (ab == G_MAXINT / 2 || ba == G_MAXINT / 2) {
        arc.weight = G_MAXINT / 2;
      }
      g_array_append_val (channel->arcs, arc);
    }
  }
}

/* A height near the middle of a link where no end of the channel and no other bridge lies. */
static int
find_bridge (const Channel *channel, int first, int last)
{
  int middle = (first + last) / 2;

  for (int clear = PM_PITCH - 1; ; clear--)
    for (int step = 0; step < (clear ? last - first : G_MAXINT); step++) {
      int y = middle + (step % 2 ? (step + 1) / 2 : -(step / 2));
      guint i = first_end (channel, y - clear);
      gboolean used = i < channel->ends->len && g_array_index (channel->ends, End, i).y <= y + clear;

      for (guint t = 0; t < channel->trunks->len && !used; t++)
        used = TRUNK (channel, t)->split && ABS (TRUNK (channel, t)->bridge - y) <= clear;
      if (!used)
        return y;
    }
}

/* Gives a link two trunks.  The one of the right side stands at the end of the array. */
static void
split_trunk (Channel *channel, guint t)
{
  const PmLink *link = PM_LINK (channel->work, TRUNK (channel, t)->link);
  Trunk right = *TRUNK (channel, t), *left;
  int bridge = find_bridge (channel, right.first, right.last);

  right.sides = 2;
  measure_link (channel->work, link, 2, &right.first, &right.last);
  right.first = MIN (right.first, bridge);
  right.last = MAX (right.last, bridge);
  g_array_append_val (channel->trunks, right);
  left = TRUNK (channel, t);
  left->sides = 1;
  left->split = TRUE;
  left->bridge = bridge;
  measure_link (channel->work, link, 1, &left->first, &left->last);
  left->first = MIN (left->first, bridge);
  left->last = MAX (left->last, bridge);
}

static int
trunk_length (const Trunk *trunk)
{
  return trunk->last - trunk->first;
}

/* The longest trunk of a ring of constraints, among those that are not done: each of them waits for another. */
static guint
find_ring (Channel *channel)
{
  guint n = channel->trunks->len, t = 0, longest;
  g_autofree guint *before = g_new (guint, n + 1);
  g_autofree guint8 *seen = g_new0 (guint8, n + 1);

  for (guint i = 0; i < channel->arcs->len; i++) {
    const Arc *arc = &g_array_index (channel->arcs, Arc, i);
    if (arc->weight == G_MAXINT / 2 && !TRUNK (channel, arc->from)->done)
      before[arc->to] = arc->from;
  }
  while (TRUNK (channel, t)->done)
    t++;
  for (; !seen[t]; t = before[t])
    seen[t] = TRUE;
  longest = t;
  for (guint k = before[t]; k != t; k = before[k])
    if (trunk_length (TRUNK (channel, k)) > trunk_length (TRUNK (channel, longest)))
      longest = k;
  return longest;
}

/* Puts the trunks one after another: always one that nothing must stand left of, and of those the one that saves most
 * crossings.  FALSE: a ring of constraints; the trunk to split is returned. */
static gboolean
find_sequence (Channel *channel, guint *sequence, guint *ring)
{
  guint n = channel->trunks->len;
  g_autofree gint64 *gain = g_new0 (gint64, n + 1);

  for (guint t = 0; t < n; t++) {
    TRUNK (channel, t)->waits = 0;
    TRUNK (channel, t)->done = FALSE;
  }
  for (guint i = 0; i < channel->arcs->len; i++) {
    const Arc *arc = &g_array_index (channel->arcs, Arc, i);
    if (arc->weight == G_MAXINT / 2) {
      TRUNK (channel, arc->to)->waits++;
    } else {
      gain[arc->from] += arc->weight;
      gain[arc->to] -= arc->weight;
    }
  }
  for (guint k = 0; k < n; k++) {
    guint best = PM_LAYOUT_NONE;

    for (guint t = 0; t < n; t++)
      if (!TRUNK (channel, t)->done && !TRUNK (channel, t)->waits && (best == PM_LAYOUT_NONE || gain[t] > gain[best]))
        best = t;
    if (best == PM_LAYOUT_NONE) {
      *ring = find_ring (channel);
      return FALSE;
    }
    sequence[k] = best;
    TRUNK (channel, best)->done = TRUE;
    for (guint i = 0; i < channel->arcs->len; i++) {
      const Arc *arc = &g_array_index (channel->arcs, Arc, i);
      if (arc->from == best && arc->weight == G_MAXINT / 2)
        TRUNK (channel, arc->to)->waits--;
      else if (arc->from == best)
        gain[arc->to] += arc->weight;
      else if (arc->to == best && arc->weight < G_MAXINT / 2)
        gain[arc->from] -= arc->weight;
    }
  }
  return TRUE;
}

/* Each trunk on the first track right of all that overlap it and stand before it.  Number of tracks. */
static guint
assign_tracks (Channel *channel, const guint *sequence)
{
  guint n = channel->trunks->len, n_tracks = 0;
  g_autofree guint *place = g_new (guint, n + 1);

  for (guint k = 0; k < n; k++)
    place[sequence[k]] = k;
  for (guint k = 0; k < n; k++) {
    Trunk *trunk = TRUNK (channel, sequence[k]);
    trunk->track = 0;
    for (guint i = 0; i < channel->arcs->len; i++) {
      const Arc *arc = &g_array_index (channel->arcs, Arc, i);
      guint other = arc->from == sequence[k] ? arc->to : arc->to == sequence[k] ? arc->from : PM_LAYOUT_NONE;
      if (other != PM_LAYOUT_NONE && place[other] < k)
        trunk->track = MAX (trunk->track, TRUNK (channel, other)->track + 1);
    }
    n_tracks = MAX (n_tracks, trunk->track + 1);
  }
  return n_tracks;
}

/* Finds the trunks of a channel and their tracks. */
static guint
route_channel (Channel *channel)
{
  PmLayoutWork *work = channel->work;
  guint ring;

  g_array_set_size (channel->trunks, 0);
  for (guint l = work->channel_link0[channel->channel]; l < work->channel_link0[channel->channel + 1]; l++) {
    const PmLink *link = PM_LINK (work, l);
    Trunk trunk = { .link = l, .sides = 3 };

    if (link->n_pins[0] + link->n_pins[1] < 2)
      continue;
    measure_link (work, link, 3, &trunk.first, &trunk.last);
    g_array_append_val (channel->trunks, trunk);
  }
  for (;;) {
    g_autofree guint *sequence = g_new (guint, channel->trunks->len + 1);

    find_ends (channel);
    find_arcs (channel);
    ring = PM_LAYOUT_NONE;
    if (find_sequence (channel, sequence, &ring))
      return assign_tracks (channel, sequence);
    g_assert (ring != PM_LAYOUT_NONE);
    split_trunk (channel, ring);
  }
}

/* Where the outermost of the boxes that hang on a wire are joined to it on that side. */
static int
hang_x (const PmLayoutWork *work, const PmNode *node, PmSide side)
{
  int x = side == PM_SIDE_LEFT ? G_MAXINT : G_MININT;

  for (guint box = node->box; box != PM_LAYOUT_NONE; box = work->hang_next[box]) {
    const PmLayoutBox *b = &work->input->boxes[box];
    guint i = 0;

    while (b->ports[i].net != node->net)
      i++;
    x = side == PM_SIDE_LEFT ? MIN (x, work->at[box].x + b->ports[i].at) : MAX (x, work->at[box].x + b->ports[i].at);
  }
  return x;
}

/* Where the wire of a pin starts on its way to the channel. */
static int
pin_x (const PmLayoutWork *work, guint pin, PmSide side)
{
  const PmPin *p = PM_PIN (work, pin);
  const PmNode *node = PM_NODE (work, p->node);
  const PmLayoutPort *port;

  if (node->kind == PM_NODE_WIRE)
    return work->column_x[node->layer] + work->column_width[node->layer] / 2;
  if (node->kind == PM_NODE_HANG)
    return hang_x (work, node, side);
  port = pm_layout_port (work, p->port);
  if (port->edge == PM_EDGE_LEFT)
    return work->at[node->box].x;
  if (port->edge == PM_EDGE_RIGHT)
    return work->at[node->box].x + work->input->boxes[node->box].width;
  return work->at[node->box].x + port->at;
}

/* The pieces of a trunk and of what leads to it. */
static void
draw_trunk (Channel *channel, guint t, int x)
{
  PmLayoutWork *work = channel->work;
  const Trunk *trunk = TRUNK (channel, t);
  const PmLink *link = PM_LINK (work, trunk->link);

  add_piece (work, link->net, x, trunk->first, x, trunk->last);
  for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++)
    for (guint i = 0; (trunk->sides & (1 << side)) && i < link->n_pins[side]; i++) {
      guint pin = work->link_pins[link->pin[side] + i];
      int y = pm_pin_y (work, pin);
      add_piece (work, link->net, pin_x (work, pin, PM_OTHER_SIDE (side)), y, x, y);
    }
}

static void
draw_channel (Channel *channel, int x)
{
  guint n = channel->trunks->len;

  for (guint t = 0; t < n; t++) {
    const Trunk *trunk = TRUNK (channel, t);

    draw_trunk (channel, t, x + MARGIN + PM_PITCH * trunk->track);
    for (guint k = t + 1; trunk->split && k < n; k++)
      if (TRUNK (channel, k)->link == trunk->link)
        add_piece (channel->work, PM_LINK (channel->work, trunk->link)->net, x + MARGIN + PM_PITCH * trunk->track,
                   trunk->bridge, x + MARGIN + PM_PITCH * TRUNK (channel, k)->track, trunk->bridge);
  }
}

static void
place_hanging (PmLayoutWork *work, const PmNode *node)
{
  int x[2] = { work->column_x[node->layer], work->column_x[node->layer] }, width[2] = { 0, 0 };

  for (guint round = 0; round < 2; round++)
    for (guint box = node->box; box != PM_LAYOUT_NONE; box = work->hang_next[box]) {
      const PmLayoutBox *b = &work->input->boxes[box];
      int wide = b->left + b->width + b->right;
      guint i = 0, below;

      while (b->ports[i].net != node->net)
        i++;
      below = b->ports[i].edge == PM_EDGE_TOP;
      if (round == 0) {
        width[below] += (width[below] ? PM_BOX_GAP : 0) + wide;
        continue;
      }
      if (width[below]) {
        x[below] += (work->column_width[node->layer] - width[below]) / 2;
        width[below] = 0;
      }
      work->at[box].x = x[below] + b->left;
      work->at[box].y = below ? node->y + PM_BOX_GAP + b->top : node->y - PM_BOX_GAP - b->bottom - b->height;
      x[below] += wide + PM_BOX_GAP;
    }
}

/* Boxes of a layer from its left edge: those of the first layer stand at the right, of the last at the left. */
static void
place_column (PmLayoutWork *work, guint layer)
{
  int wide = work->column_width[layer];

  for (guint i = work->layer0[layer]; i < work->layer0[layer + 1]; i++) {
    const PmNode *node = PM_NODE (work, work->order[i]);
    const PmLayoutBox *b;
    int free_width;

    if (node->kind == PM_NODE_HANG)
      place_hanging (work, node);
    if (node->kind != PM_NODE_BOX)
      continue;
    b = &work->input->boxes[node->box];
    free_width = wide - node->width;
    work->at[node->box].x = work->column_x[layer] + b->left +
                            (b->band == PM_BAND_FIRST ? free_width : b->band == PM_BAND_LAST ? 0 : free_width / 2);
    work->at[node->box].y = node->y;
  }
}

/* From ports at top and bottom to the row where they turn. */
static void
draw_stubs (PmLayoutWork *work)
{
  for (guint box = 0; box < work->input->n_boxes; box++) {
    const PmLayoutBox *b = &work->input->boxes[box];

    for (guint i = 0; work->placed[box] && i < b->n_ports; i++) {
      guint port = work->port0[box] + i;
      const PmNode *node = PM_NODE (work, work->node_of[box]);
      const PmLayoutPort *p = &b->ports[i];
      int x = work->at[box].x + p->at, y = work->at[box].y + (p->edge == PM_EDGE_BOTTOM ? b->height : 0), row;

      if (p->edge == PM_EDGE_LEFT || p->edge == PM_EDGE_RIGHT || p->net == PM_LAYOUT_NONE ||
          work->net_port0[p->net] == work->net_port0[p->net + 1])
        continue;
      row = node->kind == PM_NODE_HANG ? node->y : node->y + work->port_row[port];
      add_piece (work, p->net, x, y, x, row);
      if (node->kind == PM_NODE_HANG)
        add_piece (work, p->net, x, row, hang_x (work, node, PM_SIDE_LEFT), row);
      for (guint k = 0; k < b->n_ports; k++)   /* others of the net in the same row */
        if (b->ports[k].net == p->net && b->ports[k].edge == p->edge && k < i) {
          add_piece (work, p->net, x, row, work->at[box].x + b->ports[k].at, row);
          break;
        }
    }
  }
}

void
pm_layout_route (PmLayoutWork *work)
{
  Channel channel = { .work = work };
  int x = 0;

  channel.trunks = g_array_new (FALSE, FALSE, sizeof (Trunk));
  channel.ends = g_array_new (FALSE, FALSE, sizeof (End));
  channel.arcs = g_array_new (FALSE, FALSE, sizeof (Arc));
  memset (work->column_width, 0, sizeof (int) * (work->n_layers + 1));
  for (guint l = 0; l < work->n_layers; l++)
    for (guint i = work->layer0[l]; i < work->layer0[l + 1]; i++)
      work->column_width[l] = MAX (work->column_width[l], PM_NODE (work, work->order[i])->width);
  for (guint pass = 0; pass < 2; pass++) {
    x = 0;
    for (guint c = 0; c <= work->n_layers; c++) {
      guint n_tracks;

      channel.channel = c;
      n_tracks = route_channel (&channel);
      if (pass == 1)
        draw_channel (&channel, x);
      if (n_tracks || (c > 0 && c < work->n_layers))
        x += 2 * MARGIN + PM_PITCH * (MAX ((int)n_tracks, 1) - 1);
      if (c < work->n_layers) {
        work->column_x[c] = x;
        x += work->column_width[c];
      }
    }
    if (pass == 0)
      for (guint l = 0; l < work->n_layers; l++)
        place_column (work, l);
  }
  draw_stubs (work);
  g_array_unref (channel.trunks);
  g_array_unref (channel.ends);
  g_array_unref (channel.arcs);
}
