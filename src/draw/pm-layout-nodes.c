/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From layers to nodes, pins and links: where wires pass a layer, what hangs on them there, and how wires of ports at
 * top and bottom come out at the sides of their box. */
#include "config.h"
#include "pm-layout-private.h"

#include <stdlib.h>

/* The channels that a net reaches, and which of the layers between are passed already. */
typedef struct {
  int    first, last;            /* channels; first > last: none yet */
  guint *passes;                 /* [last - first] node, by layer - first; NONE: a wire is wanted */
} Reach;

static gboolean
is_upright (const PmLayoutPort *port)
{
  return port->edge == PM_EDGE_TOP || port->edge == PM_EDGE_BOTTOM;
}

static void
reach_channel (Reach *reach, int channel)
{
  reach->first = MIN (reach->first, channel);
  reach->last = MAX (reach->last, channel);
}

/* Ports at the sides reach the channel there, ports at top and bottom the one where their signal comes from or goes
 * to. Those without a direction take what there is. */
static void
find_reaches (PmLayoutWork *work, Reach *reaches)
{
  for (guint net = 0; net < work->input->n_nets; net++) {
    Reach *reach = &reaches[net];
    guint from = work->net_port0[net], to = work->net_port0[net + 1];

    *reach = (Reach){ G_MAXINT, -1, NULL };
    for (guint i = from; i < to; i++) {
      guint port = work->net_ports[i];
      const PmLayoutPort *p = pm_layout_port (work, port);
      int layer = work->layer[work->port_box[port]];

      if (p->edge == PM_EDGE_LEFT || (is_upright (p) && p->flow == PM_FLOW_IN))
        work->port_sides[port] = 1;
      else if (p->edge == PM_EDGE_RIGHT || (is_upright (p) && p->flow == PM_FLOW_OUT))
        work->port_sides[port] = 2;
      else
        continue;
      reach_channel (reach, layer + (work->port_sides[port] == 2));
    }
    for (guint i = from; i < to; i++) {
      guint port = work->net_ports[i];
      int layer = work->layer[work->port_box[port]];

      if (work->port_sides[port])
        continue;
      if (reach->last < 0 || layer >= reach->last)
        work->port_sides[port] = 1;
      else if (layer < reach->first)
        work->port_sides[port] = 2;
      else
        continue;
      reach_channel (reach, layer + (work->port_sides[port] == 2));
    }
  }
}

static PmNode *
add_node (PmLayoutWork *work, PmNodeKind kind, guint layer, guint given)
{
  PmNode node = { .kind = kind, .box = PM_LAYOUT_NONE, .net = PM_LAYOUT_NONE, .group = PM_LAYOUT_NONE,
                  .given = given, .layer = layer };

  g_array_append_val (work->nodes, node);
  return PM_NODE (work, work->nodes->len - 1);
}

/* Ports at one edge turn in rows of their own: the nearest row to the outermost port, so that none crosses another.
 * Ports of one net share a row. */
typedef struct { guint port; int at; guint8 sides; } Turn;

static int
compare_turns (gconstpointer a, gconstpointer b)
{
  const Turn *x = a, *y = b;
  int kind_x = x->sides % 3, kind_y = y->sides % 3;   /* through (3) last: 0 is told apart below */

  kind_x = kind_x ? kind_x : 3;
  kind_y = kind_y ? kind_y : 3;
  if (kind_x != kind_y)
    return kind_x - kind_y;
  return kind_x == 2 ? y->at - x->at : x->at - y->at;
}

static int
set_rows (PmLayoutWork *work, guint box, PmEdge edge)
{
  const PmLayoutBox *b = &work->input->boxes[box];
  g_autoptr (GArray) turns = g_array_new (FALSE, FALSE, sizeof (Turn));
  int room = edge == PM_EDGE_TOP ? b->top : b->bottom, n_rows = 0;

  for (guint i = 0; i < b->n_ports; i++) {
    guint port = work->port0[box] + i;
    Turn turn = { port, b->ports[i].at, work->port_sides[port] };
    if (b->ports[i].edge == edge && turn.sides)
      g_array_append_val (turns, turn);
  }
  g_array_sort (turns, compare_turns);
  for (guint i = 0; i < turns->len; i++) {
    guint port = g_array_index (turns, Turn, i).port, same = 0;
    int row;

    while (pm_layout_port (work, g_array_index (turns, Turn, same).port)->net != pm_layout_port (work, port)->net)
      same++;
    if (same < i) {
      work->port_row[port] = work->port_row[g_array_index (turns, Turn, same).port];
      continue;
    }
    row = room + PM_BOX_GAP + PM_PITCH * n_rows++;
    work->port_row[port] = edge == PM_EDGE_TOP ? -row : b->height + row;
  }
  return n_rows ? room + PM_BOX_GAP + PM_PITCH * (n_rows - 1) : room;
}

/* One box, or one more box that hangs on a wire where another does. */
static void
add_box (PmLayoutWork *work, guint box, Reach *reaches)
{
  const PmLayoutBox *b = &work->input->boxes[box];
  guint layer = work->layer[box];
  PmNode *node;

  work->hang_next[box] = PM_LAYOUT_NONE;
  if (work->hangs[box]) {
    guint port = work->port0[box];
    Reach *reach;
    guint *pass;

    while (pm_layout_port (work, port)->net == PM_LAYOUT_NONE ||
           work->net_port0[pm_layout_port (work, port)->net] ==
             work->net_port0[pm_layout_port (work, port)->net + 1])
      port++;
    reach = &reaches[pm_layout_port (work, port)->net];
    if ((int)layer >= reach->first && (int)layer < reach->last) {
      pass = &reach->passes[layer - reach->first];
      if (*pass == PM_LAYOUT_NONE) {
        node = add_node (work, PM_NODE_HANG, layer, box);
        node->box = box;
        node->net = pm_layout_port (work, port)->net;
        *pass = work->nodes->len - 1;
        work->node_of[box] = *pass;
        return;
      }
      node = PM_NODE (work, *pass);
      if (node->kind == PM_NODE_HANG) {
        guint other = node->box;
        while (work->hang_next[other] != PM_LAYOUT_NONE)
          other = work->hang_next[other];
        work->hang_next[other] = box;
        work->node_of[box] = *pass;
        return;
      }
    }
  }
  work->hangs[box] = FALSE;
  node = add_node (work, PM_NODE_BOX, layer, box);
  node->box = box;
  node->group = b->group;
  work->node_of[box] = work->nodes->len - 1;
}

/* Ports of one net at one edge share a row, which joins both sides only where the net passes there. */
static void
settle_sides (PmLayoutWork *work, guint box)
{
  const PmLayoutBox *b = &work->input->boxes[box];

  for (guint i = 0; i < b->n_ports; i++) {
    guint8 sides = 0, first = 0;

    if (!is_upright (&b->ports[i]) || !work->port_sides[work->port0[box] + i])
      continue;
    for (guint k = 0; k < b->n_ports; k++)
      if (b->ports[k].net == b->ports[i].net && b->ports[k].edge == b->ports[i].edge) {
        guint8 here = work->port_sides[work->port0[box] + k];
        first = first ? first : here;
        sides = here == 3 ? 3 : sides;
      }
    work->port_sides[work->port0[box] + i] = sides ? sides : first;
  }
}

/* A wire at top or bottom of a box goes on to both sides where its net passes that layer and nothing else does. */
static void
let_through (PmLayoutWork *work, guint box, Reach *reaches)
{
  const PmLayoutBox *b = &work->input->boxes[box];
  int layer = work->layer[box];

  if (work->hangs[box])
    return;
  for (guint i = 0; i < b->n_ports; i++) {
    guint port = work->port0[box] + i, net = b->ports[i].net;
    Reach *reach;

    if (!is_upright (&b->ports[i]) || net == PM_LAYOUT_NONE || work->net_port0[net] == work->net_port0[net + 1])
      continue;
    reach = &reaches[net];
    if (layer >= reach->first && layer < reach->last && reach->passes[layer - reach->first] == PM_LAYOUT_NONE) {
      reach->passes[layer - reach->first] = work->node_of[box];
      work->port_sides[port] = 3;
    } else if (!work->port_sides[port]) {
      work->port_sides[port] = layer >= reach->first ? 1 : 2;
    }
  }
  settle_sides (work, box);
}

static void
measure_node (PmLayoutWork *work, PmNode *node)
{
  if (node->kind == PM_NODE_BOX) {
    const PmLayoutBox *b = &work->input->boxes[node->box];

    node->up = set_rows (work, node->box, PM_EDGE_TOP);
    node->down = b->height + set_rows (work, node->box, PM_EDGE_BOTTOM);
    node->width = b->left + b->width + b->right;
  } else if (node->kind == PM_NODE_HANG) {
    int width[2] = { 0, 0 };

    for (guint box = node->box; box != PM_LAYOUT_NONE; box = work->hang_next[box]) {
      const PmLayoutBox *b = &work->input->boxes[box];
      gboolean below = FALSE;

      for (guint i = 0; i < b->n_ports; i++)
        if (b->ports[i].net == node->net)
          below = b->ports[i].edge == PM_EDGE_TOP;
      width[below] += (width[below] ? PM_BOX_GAP : 0) + b->left + b->width + b->right;
      if (below)
        node->down = MAX (node->down, PM_BOX_GAP + b->top + b->height + b->bottom);
      else
        node->up = MAX (node->up, PM_BOX_GAP + b->top + b->height + b->bottom);
    }
    node->width = MAX (width[0], width[1]);
  }
}

static int
compare_pins (gconstpointer a, gconstpointer b)
{
  const PmPin *x = a, *y = b;

  return x->dy != y->dy ? x->dy - y->dy : (x->port > y->port) - (x->port < y->port);
}

static void
add_pins (PmLayoutWork *work, guint index)
{
  PmNode *node = PM_NODE (work, index);

  for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++) {
    node->pin[side] = work->pins->len;
    if (node->kind != PM_NODE_BOX) {
      PmPin pin = { index, node->net, PM_LAYOUT_NONE, 0, PM_LAYOUT_NONE };
      g_array_append_val (work->pins, pin);
    } else {
      const PmLayoutBox *b = &work->input->boxes[node->box];
      for (guint i = 0; i < b->n_ports; i++) {
        guint port = work->port0[node->box] + i;
        gboolean upright = is_upright (&b->ports[i]), known = FALSE;
        PmPin pin = { index, b->ports[i].net, port, upright ? work->port_row[port] : b->ports[i].at,
                      PM_LAYOUT_NONE };

        if (!(work->port_sides[port] & (1 << side)))
          continue;
        for (guint k = node->pin[side]; upright && k < work->pins->len; k++)
          known |= PM_PIN (work, k)->net == pin.net && PM_PIN (work, k)->dy == pin.dy;
        if (!known)
          g_array_append_val (work->pins, pin);
      }
    }
    node->n_pins[side] = work->pins->len - node->pin[side];
    if (node->n_pins[side])
      qsort (PM_PIN (work, node->pin[side]), node->n_pins[side], sizeof (PmPin), compare_pins);
  }
}

/* Links are numbered by channel, then net. */
static int
compare_keys (gconstpointer a, gconstpointer b)
{
  const guint64 *x = a, *y = b;

  return x[0] != y[0] ? (x[0] > y[0]) - (x[0] < y[0]) : (x[1] > y[1]) - (x[1] < y[1]);
}

static void
find_links (PmLayoutWork *work)
{
  guint n_pins = work->pins->len;
  g_autofree guint64 *keys = g_new (guint64, 2 * n_pins + 2);

  for (guint i = 0; i < work->nodes->len; i++)
    for (PmSide side = PM_SIDE_LEFT; side <= PM_SIDE_RIGHT; side++)
      for (guint k = 0; k < PM_NODE (work, i)->n_pins[side]; k++) {
        guint pin = PM_NODE (work, i)->pin[side] + k;
        keys[2 * pin] = (guint64)(PM_NODE (work, i)->layer + side) << 32 | PM_PIN (work, pin)->net;
        keys[2 * pin + 1] = (guint64)PM_OTHER_SIDE (side) << 32 | pin;
      }
  qsort (keys, n_pins, 2 * sizeof *keys, compare_keys);
  work->link_pins = g_new (guint, n_pins + 1);
  work->channel_link0 = g_new0 (guint, work->n_layers + 2);
  for (guint i = 0; i < n_pins; i++) {
    guint pin = keys[2 * i + 1] & 0xffffffff, side = keys[2 * i + 1] >> 32;
    PmLink *link;

    if (i == 0 || keys[2 * i] != keys[2 * i - 2]) {
      PmLink fresh = { keys[2 * i] & 0xffffffff, keys[2 * i] >> 32, { i, i }, { 0, 0 } };
      g_array_append_val (work->links, fresh);
      work->channel_link0[fresh.channel + 1]++;
    }
    link = PM_LINK (work, work->links->len - 1);
    if (side == PM_SIDE_RIGHT && link->n_pins[PM_SIDE_RIGHT] == 0)
      link->pin[PM_SIDE_RIGHT] = i;
    link->n_pins[side]++;
    work->link_pins[i] = pin;
    PM_PIN (work, pin)->link = work->links->len - 1;
  }
  for (guint c = 0; c <= work->n_layers; c++)
    work->channel_link0[c + 1] += work->channel_link0[c];
}

static void
sort_into_layers (PmLayoutWork *work)
{
  g_autofree guint *next = NULL;

  work->layer0 = g_new0 (guint, work->n_layers + 1);
  work->order = g_new (guint, work->nodes->len + 1);
  for (guint i = 0; i < work->nodes->len; i++)
    work->layer0[PM_NODE (work, i)->layer + 1]++;
  for (guint l = 0; l < work->n_layers; l++)
    work->layer0[l + 1] += work->layer0[l];
  next = g_memdup2 (work->layer0, sizeof (guint) * (work->n_layers + 1));
  for (guint i = 0; i < work->nodes->len; i++)
    work->order[next[PM_NODE (work, i)->layer]++] = i;
}

/* The outermost channels where something of the net comes in, now that all sides are settled. */
static void
find_ends (const PmLayoutWork *work, guint net, int *first, int *last)
{
  for (guint i = work->net_port0[net]; i < work->net_port0[net + 1]; i++) {
    guint port = work->net_ports[i];
    int layer = work->layer[work->port_box[port]];

    if (work->port_sides[port] & 1) {
      *first = MIN (*first, layer);
      *last = MAX (*last, layer);
    }
    if (work->port_sides[port] & 2) {
      *first = MIN (*first, layer + 1);
      *last = MAX (*last, layer + 1);
    }
  }
}

void
pm_layout_nodes (PmLayoutWork *work)
{
  const PmLayoutInput *input = work->input;
  g_autofree Reach *reaches = g_new (Reach, input->n_nets + 1);

  find_reaches (work, reaches);
  for (guint net = 0; net < input->n_nets; net++)
    if (reaches[net].last > reaches[net].first) {
      guint n = reaches[net].last - reaches[net].first;
      reaches[net].passes = g_new (guint, n);
      for (guint i = 0; i < n; i++)
        reaches[net].passes[i] = PM_LAYOUT_NONE;
    }
  for (guint box = 0; box < input->n_boxes; box++)
    if (work->placed[box])
      add_box (work, box, reaches);
  for (guint box = 0; box < input->n_boxes; box++)
    if (work->placed[box])
      let_through (work, box, reaches);
  for (guint net = 0; net < input->n_nets; net++) {
    int first = G_MAXINT, last = -1;

    find_ends (work, net, &first, &last);
    for (int l = MAX (first, reaches[net].first); l < MIN (last, reaches[net].last); l++)
      if (reaches[net].passes[l - reaches[net].first] == PM_LAYOUT_NONE)
        add_node (work, PM_NODE_WIRE, l, input->n_boxes + net)->net = net;
    g_free (reaches[net].passes);
  }
  for (guint i = 0; i < work->nodes->len; i++) {
    measure_node (work, PM_NODE (work, i));
    add_pins (work, i);
  }
  sort_into_layers (work);
  find_links (work);
  work->column_x = g_new0 (int, work->n_layers + 1);
  work->column_width = g_new0 (int, work->n_layers + 1);
}
