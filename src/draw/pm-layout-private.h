/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the steps of the layout hand to each other.
 *
 * A NODE stands in a layer: a box, a WIRE that passes the layer, or a HANG: boxes with one wire at their top or bottom
 * (pull-ups) that hang side by side on a wire that passes beneath or above them.  A node has PINS at its left and right
 * side.  CHANNEL c lies left of layer c; the pins of one net in one channel are a LINK, which the router joins with an
 * upright trunk.  So a net is a tree: in each channel a link, through each layer at most one wire.
 */
#pragma once
#include "pm-layout.h"

#define PM_PITCH 2              /* wires side by side */
#define PM_BOX_GAP 1            /* between the room of a box and anything else */

typedef enum { PM_NODE_BOX, PM_NODE_WIRE, PM_NODE_HANG } PmNodeKind;
typedef enum { PM_SIDE_LEFT, PM_SIDE_RIGHT } PmSide;
#define PM_OTHER_SIDE(side) (1 - (side))

typedef struct {
  PmNodeKind kind;
  guint      box;                /* BOX: which; HANG: the first, the others follow in hang_next; else NONE */
  guint      net;                /* WIRE, HANG; else NONE */
  guint      group;              /* or NONE */
  guint      given;              /* place in the order given: decides ties */
  guint      layer;
  int        up, down;           /* room wanted above and below y */
  int        width;              /* with words */
  int        y;                  /* BOX: upper edge of the symbol, else the wire */
  guint      pin[2], n_pins[2];  /* by side, into pins, from the top */
} PmNode;

typedef struct {
  guint node, net;
  guint port;                    /* whose (all boxes' ports counted through), or NONE */
  int   dy;                      /* from the node's y */
  guint link;                    /* or NONE */
} PmPin;

/* By side: pins of the layer left of the channel are on its LEFT. */
typedef struct {
  guint net, channel;
  guint pin[2], n_pins[2];       /* into link_pins */
} PmLink;

typedef struct {
  const PmLayoutInput *input;    /* borrowed */

  /* Ports of all boxes counted through, and nets' ports. */
  guint   n_ports;
  guint  *port0;                 /* [n_boxes + 1] */
  guint  *port_box;              /* [n_ports] */
  guint  *net_port0, *net_ports; /* [n_nets + 1]; nets of one port have none */
  int    *port_row;              /* [n_ports] top and bottom ports: where the wire turns, from the box's y */
  guint8 *port_sides;            /* [n_ports] 1 left, 2 right: where it goes from there */

  /* Boxes. */
  guint8 *placed;                /* [n_boxes] FALSE: in the foot */
  guint8 *hangs;                 /* [n_boxes] its one wire is at its top or bottom */
  guint  *layer;                 /* [n_boxes] */
  guint  *node_of;               /* [n_boxes] */
  guint  *hang_next;             /* [n_boxes] */
  PmLayoutPoint *at;             /* [n_boxes] */
  guint   n_layers;

  GArray *nodes;                 /* of PmNode */
  GArray *pins;                  /* of PmPin, by node and side */
  GArray *links;                 /* of PmLink, by channel */
  guint  *link_pins;
  guint  *channel_link0;         /* [n_layers + 2] */
  guint  *layer0, *order;        /* [n_layers + 1]; nodes by layer from the top */
  int    *column_x, *column_width; /* [n_layers] */

  GArray *raw;                   /* of PmLayoutSegment: pieces as routed */
} PmLayoutWork;

#define PM_NODE(work, i) (&g_array_index ((work)->nodes, PmNode, i))
#define PM_PIN(work, i) (&g_array_index ((work)->pins, PmPin, i))
#define PM_LINK(work, i) (&g_array_index ((work)->links, PmLink, i))

static inline const PmLayoutPort *
pm_layout_port (const PmLayoutWork *work, guint port)
{
  guint box = work->port_box[port];

  return &work->input->boxes[box].ports[port - work->port0[box]];
}

static inline int
pm_pin_y (const PmLayoutWork *work, guint pin)
{
  return PM_NODE (work, PM_PIN (work, pin)->node)->y + PM_PIN (work, pin)->dy;
}

/* Least distance of the y of two nodes one above the other in a layer. */
int  pm_layout_distance  (const PmLayoutWork *work, guint upper, guint lower);

void pm_layout_layers    (PmLayoutWork *work);   /* layer, n_layers, hangs */
void pm_layout_nodes     (PmLayoutWork *work);   /* nodes, pins, links; order as given */
/* Up to that many orders, from different starts, the given one first; each to be freed.  Their number. */
guint pm_layout_orders   (PmLayoutWork *work, guint n_starts, guint **orders);
void pm_layout_place     (PmLayoutWork *work);   /* y of nodes */
void pm_layout_align    (PmLayoutWork *work);   /* y of nodes, from where they are */
void pm_layout_route     (PmLayoutWork *work);   /* columns, at, raw */
/* pieces (of PmLayoutSegment, everything at 0 or more) are cut at joints and in order of net; they stay so. */
void pm_layout_straighten (const PmLayoutInput *input, const PmLayoutPoint *boxes, GArray *pieces);
void pm_layout_labels    (const PmLayoutInput *input, PmLayout *layout);
