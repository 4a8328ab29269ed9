/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inputs for the layout: by hand, at random, and pictures of what becomes of them. */
#include "layout-board.h"

#define NONE PM_LAYOUT_NONE

LayoutBoard *
layout_board_new (void)
{
  LayoutBoard *board = g_new0 (LayoutBoard, 1);

  board->boxes = g_array_new (FALSE, FALSE, sizeof (PmLayoutBox));
  board->nets = g_array_new (FALSE, FALSE, sizeof (PmLayoutNet));
  board->words = g_ptr_array_new_with_free_func (g_free);
  return board;
}

void
layout_board_free (LayoutBoard *board)
{
  for (guint b = 0; b < board->boxes->len; b++)
    g_free (g_array_index (board->boxes, PmLayoutBox, b).ports);
  g_array_unref (board->boxes);
  g_array_unref (board->nets);
  g_ptr_array_unref (board->words);
  g_free (board);
}

static void
show (LayoutBoard *board)
{
  board->input.boxes = (PmLayoutBox *)board->boxes->data;
  board->input.n_boxes = board->boxes->len;
  board->input.nets = (PmLayoutNet *)board->nets->data;
  board->input.n_nets = board->nets->len;
}

guint
layout_board_net (LayoutBoard *board, int label_width)
{
  PmLayoutNet net = { label_width, label_width ? 2 : 0 };

  g_array_append_val (board->nets, net);
  show (board);
  return board->nets->len - 1;
}

guint
layout_board_box (LayoutBoard *board, const char *word, PmBand band, int width, int height)
{
  PmLayoutBox box = { .width = width, .height = height, .band = band, .group = NONE };

  g_array_append_val (board->boxes, box);
  g_ptr_array_add (board->words, g_strdup (word));
  show (board);
  return board->boxes->len - 1;
}

void
layout_board_words (LayoutBoard *board, guint box, int left, int right, int top, int bottom)
{
  PmLayoutBox *b = &board->input.boxes[box];

  b->left = left;
  b->right = right;
  b->top = top;
  b->bottom = bottom;
}

void
layout_board_port (LayoutBoard *board, guint box, PmEdge edge, int at, PmFlow flow, guint net)
{
  PmLayoutBox *b = &board->input.boxes[box];
  PmLayoutPort port = { edge, at, flow, net };

  b->ports = g_renew (PmLayoutPort, b->ports, b->n_ports + 1);
  b->ports[b->n_ports++] = port;
}

guint
layout_board_gate (LayoutBoard *board, const char *word, const guint *in, guint n_in, guint out)
{
  int height = MAX (4, 2 * (int)n_in);
  guint box = layout_board_box (board, word, PM_BAND_FLOW, 6, height);

  layout_board_words (board, box, 2, 2, 2, 0);
  for (guint i = 0; i < n_in; i++)
    layout_board_port (board, box, PM_EDGE_LEFT, n_in == 1 ? height / 2 : 1 + 2 * (int)i, PM_FLOW_IN, in[i]);
  if (out != NONE)
    layout_board_port (board, box, PM_EDGE_RIGHT, height / 2, PM_FLOW_OUT, out);
  return box;
}

guint
layout_board_pull (LayoutBoard *board, const char *word, gboolean up, guint net)
{
  guint box = layout_board_box (board, word, PM_BAND_FLOW, 2, 5);

  layout_board_words (board, box, 0, 5, up ? 2 : 0, up ? 0 : 2);
  layout_board_port (board, box, up ? PM_EDGE_BOTTOM : PM_EDGE_TOP, 1, PM_FLOW_NONE, net);
  return box;
}

guint
layout_board_series (LayoutBoard *board, const char *word, guint a, guint b)
{
  guint box = layout_board_box (board, word, PM_BAND_FLOW, 5, 2);

  layout_board_words (board, box, 0, 0, 2, 2);
  layout_board_port (board, box, PM_EDGE_LEFT, 1, PM_FLOW_NONE, a);
  layout_board_port (board, box, PM_EDGE_RIGHT, 1, PM_FLOW_NONE, b);
  return box;
}

guint
layout_board_toggle (LayoutBoard *board, const char *word, guint common, guint one, guint two)
{
  guint box = layout_board_box (board, word, PM_BAND_FLOW, 6, 4);

  layout_board_words (board, box, 1, 1, 2, 0);
  layout_board_port (board, box, PM_EDGE_LEFT, 2, PM_FLOW_BOTH, common);
  layout_board_port (board, box, PM_EDGE_RIGHT, 1, PM_FLOW_BOTH, one);
  layout_board_port (board, box, PM_EDGE_RIGHT, 3, PM_FLOW_BOTH, two);
  return box;
}

/* The machine at the left with the nets at its right edge, drives likewise. */
static guint
add_host (LayoutBoard *board, const char *word, PmBand band, const guint *nets, guint n_nets)
{
  guint box = layout_board_box (board, word, band, 9, 2 * (int)n_nets + 4);

  layout_board_words (board, box, band == PM_BAND_LAST ? 3 : 0, band == PM_BAND_LAST ? 0 : 3, 2, 0);
  for (guint i = 0; i < n_nets; i++)
    layout_board_port (board, box, band == PM_BAND_LAST ? PM_EDGE_LEFT : PM_EDGE_RIGHT, 3 + 2 * (int)i, PM_FLOW_BOTH,
                       nets[i]);
  return box;
}

#define DEEPEST 8                /* boxes between the machine and a drive */

/* A net from the last few, or one of the machine's; not one behind too many boxes. */
static guint
pick_net (GRand *rand, const GArray *nets, const GArray *depths, guint n_lines)
{
  guint window = 12, low = nets->len > window ? nets->len - window : 0, net;

  if (g_rand_int_range (rand, 0, 4) == 0)
    return g_array_index (nets, guint, g_rand_int_range (rand, 0, n_lines));
  for (guint i = 0; i < 4; i++) {
    net = g_array_index (nets, guint, g_rand_int_range (rand, low, nets->len));
    if (g_array_index (depths, guint, net) < DEEPEST)
      return net;
  }
  return g_array_index (nets, guint, g_rand_int_range (rand, 0, n_lines));
}

/* Select lines of the machine through gates, selectors, switches and resistors to drives, other lines to every drive;
 * nets are picked from those made before, now and then from later ones. */
LayoutBoard *
layout_board_random (guint32 seed, guint n_boxes, gboolean one_more)
{
  LayoutBoard *board = layout_board_new ();
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  guint n_lines = g_rand_int_range (rand, 3, 9) + n_boxes / 25, n_drives = g_rand_int_range (rand, 1, 5);
  guint n_common = MIN (n_lines - 1, 6);
  g_autoptr (GArray) nets = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GArray) depths = g_array_new (FALSE, TRUE, sizeof (guint));   /* by net */
  guint middle = n_boxes > n_drives + 1 ? n_boxes - n_drives - 1 : 1;

  for (guint i = 0; i < n_lines; i++) {
    guint net = layout_board_net (board, g_rand_boolean (rand) ? 6 : 0);
    g_array_append_val (nets, net);
  }
  g_array_set_size (depths, nets->len);
  add_host (board, "HOST", PM_BAND_FIRST, (guint *)nets->data, nets->len);
  for (guint i = 0; i < middle; i++) {
    guint kind = g_rand_int_range (rand, 0, 12), n_in = 1, in[4], out, box = NONE;

    out = layout_board_net (board, g_rand_int_range (rand, 0, 4) == 0 ? 5 : 0);
    for (guint k = 0; k < G_N_ELEMENTS (in); k++)
      in[k] = pick_net (rand, nets, depths, n_lines);
    g_array_set_size (depths, board->nets->len);
    g_array_index (depths, guint, out) =
      1 + MAX (g_array_index (depths, guint, in[0]), g_array_index (depths, guint, in[1]));
    if (kind < 4) {
      n_in = 1 + kind % 3;
      box = layout_board_gate (board, "G", in, n_in, out);
    } else if (kind < 6) {
      box = layout_board_gate (board, "SEL", in, 4, out);
    } else if (kind < 8) {
      box = layout_board_pull (board, "R", kind == 6, in[0]);
    } else if (kind == 8) {
      box = layout_board_series (board, "R", in[0], out);
    } else if (kind == 9) {
      box = layout_board_toggle (board, "S", in[0], in[1] == in[0] ? NONE : in[1], out);
    } else if (kind == 10) {
      box = layout_board_gate (board, "FB", in, 2, out);
      layout_board_port (board, box, PM_EDGE_BOTTOM, 3, PM_FLOW_IN, in[2]);
    } else {
      guint later = g_array_index (nets, guint, g_rand_int_range (rand, 0, nets->len));
      box = layout_board_gate (board, "G", in, 2, out);
      layout_board_port (board, box, PM_EDGE_TOP, 3, PM_FLOW_OUT, later);
    }
    if (g_rand_int_range (rand, 0, 5) == 0)
      board->input.boxes[box].group = i / 3;
    if (kind != 6 && kind != 7)
      g_array_append_val (nets, out);
  }
  for (guint d = 0; d < n_drives; d++) {
    g_autoptr (GArray) ports = g_array_new (FALSE, FALSE, sizeof (guint));
    guint net = g_array_index (nets, guint, g_rand_int_range (rand, nets->len / 2, nets->len));

    g_array_append_val (ports, net);
    for (guint i = 1; i <= n_common; i++)
      g_array_append_val (ports, g_array_index (nets, guint, i));
    add_host (board, "DRIVE", PM_BAND_LAST, (guint *)ports->data, ports->len);
  }
  for (guint i = 0; i < n_boxes % 4; i++)
    layout_board_words (board, layout_board_box (board, "C", PM_BAND_FOOT, 4, 5), 1, 4, 1, 1);
  if (one_more) {
    guint in = g_array_index (nets, guint, g_rand_int_range (rand, 0, nets->len));
    layout_board_gate (board, "NEW", &in, 1, g_array_index (nets, guint, nets->len - 1));
  }
  return board;
}

/* Boxes of any size with ports of any kind at any edge, no sense in it. */
LayoutBoard *
layout_board_anything (guint32 seed, guint n_boxes)
{
  LayoutBoard *board = layout_board_new ();
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  guint n_nets = 1 + n_boxes * 2 / 3;

  for (guint i = 0; i < n_nets; i++)
    layout_board_net (board, g_rand_boolean (rand) ? g_rand_int_range (rand, 1, 9) : 0);
  for (guint i = 0; i < n_boxes; i++) {
    int size[2] = { g_rand_int_range (rand, 2, 12), g_rand_int_range (rand, 2, 12) }, words[4];
    guint kind = g_rand_int_range (rand, 0, 12);
    PmBand band = kind == 0 ? PM_BAND_FIRST : kind == 1 ? PM_BAND_LAST : PM_BAND_FLOW;
    guint box = layout_board_box (board, "X", band, size[0], size[1]);

    for (guint k = 0; k < 4; k++)
      words[k] = g_rand_int_range (rand, 0, 4);
    layout_board_words (board, box, words[0], words[1], words[2], words[3]);
    board->input.boxes[box].group = g_rand_int_range (rand, 0, 4) ? NONE : (guint)g_rand_int_range (rand, 0, 3);
    for (PmEdge edge = PM_EDGE_LEFT; edge <= PM_EDGE_BOTTOM; edge++) {
      int most = edge == PM_EDGE_LEFT || edge == PM_EDGE_RIGHT ? size[1] : size[0];
      for (int at = g_rand_int_range (rand, 1, 4); at < most; at += g_rand_int_range (rand, 1, 6))
        layout_board_port (board, box, edge, at, g_rand_int_range (rand, 0, 4),
                           g_rand_int_range (rand, 0, 3) ? (guint)g_rand_int_range (rand, 0, n_nets) : NONE);
    }
  }
  return board;
}

/* The machine swaps two drives: by a selector chip with a toggle and a pull-up. */
static LayoutBoard *
demo_chip (guint n_drives)
{
  LayoutBoard *board = layout_board_new ();
  guint sel0 = layout_board_net (board, 5), sel1 = layout_board_net (board, 5), motor = layout_board_net (board, 0);
  guint ready = layout_board_net (board, 0), change = layout_board_net (board, 0), choose = layout_board_net (board, 7);
  guint a = layout_board_net (board, 7), b = layout_board_net (board, 8), box;
  guint host[] = { sel0, sel1, motor, ready, change };
  guint in_a[] = { sel0, sel1, choose }, in_b[] = { sel1, sel0, choose };

  add_host (board, "HOST", PM_BAND_FIRST, host, 5);
  box = layout_board_gate (board, "U1.1", in_a, 3, a);
  board->input.boxes[box].group = 0;
  box = layout_board_gate (board, "U1.2", in_b, 3, b);
  board->input.boxes[box].group = 0;
  box = layout_board_box (board, "S1", PM_BAND_FLOW, 6, 4);
  layout_board_words (board, box, 1, 1, 2, 0);
  layout_board_port (board, box, PM_EDGE_RIGHT, 2, PM_FLOW_BOTH, choose);
  layout_board_pull (board, "R1 10k", TRUE, choose);
  for (guint d = 0; d < n_drives; d++) {
    guint drive[] = { d == 0 ? a : d == 1 ? b : sel1, motor, ready, change };
    add_host (board, d ? "OUTSIDE" : "INSIDE", PM_BAND_LAST, drive, 4);
  }
  for (guint i = 0; i < 3; i++)
    layout_board_words (board, layout_board_box (board, i ? "U1 spare" : "C1", PM_BAND_FOOT, 5, 5), 1, 2, 2, 1);
  return board;
}

/* The same by a toggle of two poles. */
static LayoutBoard *
demo_contacts (void)
{
  LayoutBoard *board = layout_board_new ();
  guint sel0 = layout_board_net (board, 5), sel1 = layout_board_net (board, 5), motor = layout_board_net (board, 0);
  guint ready = layout_board_net (board, 0), a = layout_board_net (board, 7), b = layout_board_net (board, 8);
  guint pole, host[] = { sel0, sel1, motor, ready }, inside[] = { a, motor, ready }, outside[] = { b, motor, ready };

  add_host (board, "HOST", PM_BAND_FIRST, host, 4);
  pole = layout_board_toggle (board, "S1a", sel0, a, b);
  board->input.boxes[pole].group = 1;
  pole = layout_board_toggle (board, "S1b", sel1, b, a);
  board->input.boxes[pole].group = 1;
  add_host (board, "INSIDE", PM_BAND_LAST, inside, 3);
  add_host (board, "OUTSIDE", PM_BAND_LAST, outside, 3);
  layout_board_pull (board, "R1 1k", TRUE, a);
  layout_board_pull (board, "R2 1k", TRUE, b);
  return board;
}

/* Three selects decoded to three drives over gates with open collectors and pull-ups, a latch that feeds back. */
static LayoutBoard *
demo_decoder (void)
{
  LayoutBoard *board = layout_board_new ();
  guint n[14], box;

  for (guint i = 0; i < 14; i++)
    n[i] = layout_board_net (board, i < 3 || i > 9 ? 5 : 0);
  add_host (board, "HOST", PM_BAND_FIRST, (guint[]){ n[0], n[1], n[2], n[3], n[4], n[5] }, 6);
  layout_board_gate (board, "U1.1", (guint[]){ n[0] }, 1, n[6]);
  layout_board_gate (board, "U1.2", (guint[]){ n[1] }, 1, n[7]);
  layout_board_gate (board, "U2.1", (guint[]){ n[6], n[1], n[9] }, 3, n[10]);
  layout_board_gate (board, "U2.2", (guint[]){ n[0], n[7], n[9] }, 3, n[11]);
  layout_board_gate (board, "U2.3", (guint[]){ n[6], n[7] }, 2, n[12]);
  box = layout_board_gate (board, "U3", (guint[]){ n[2], n[13] }, 2, n[9]);
  layout_board_port (board, box, PM_EDGE_BOTTOM, 3, PM_FLOW_IN, n[1]);
  layout_board_gate (board, "U4", (guint[]){ n[9], n[0] }, 2, n[13]);
  layout_board_pull (board, "R1 1k", TRUE, n[10]);
  layout_board_pull (board, "R2 1k", TRUE, n[11]);
  layout_board_pull (board, "R3 1k", TRUE, n[12]);
  layout_board_pull (board, "R4 4k7", FALSE, n[2]);
  for (guint d = 0; d < 3; d++)
    add_host (board, "DRIVE", PM_BAND_LAST, (guint[]){ n[10 + d], n[3], n[4], n[5] }, 4);
  return board;
}

LayoutBoard *
layout_board_demo (guint index, const char **name)
{
  static const char *const NAMES[] = { "chip-two", "chip-three", "contacts", "decoder" };

  if (index >= G_N_ELEMENTS (NAMES))
    return NULL;
  *name = NAMES[index];
  return index < 2 ? demo_chip (2 + index) : index == 2 ? demo_contacts () : demo_decoder ();
}

char *
layout_board_svg (const LayoutBoard *board, const PmLayout *layout)
{
  GString *svg = g_string_new (NULL);
  double unit = 8;

  g_string_append_printf (svg, "<svg xmlns='http://www.w3.org/2000/svg' width='%g' height='%g' viewBox='-2 -2 %d %d' "
                               "font-family='sans-serif' font-size='1.5'>\n<rect x='-2' y='-2' width='%d' height='%d' "
                               "fill='white'/>\n",
                          (layout->width + 4) * unit, (layout->height + 4) * unit, layout->width + 4,
                          layout->height + 4,
                          layout->width + 4, layout->height + 4);
  for (guint b = 0; b < board->input.n_boxes; b++) {
    const PmLayoutBox *box = &board->input.boxes[b];
    PmLayoutPoint at = layout->boxes[b];

    g_string_append_printf (svg, "<rect x='%d' y='%d' width='%d' height='%d' fill='#eee'/>\n", at.x - box->left,
                            at.y - box->top, box->left + box->width + box->right, box->top + box->height + box->bottom);
    g_string_append_printf (svg, "<rect x='%d' y='%d' width='%d' height='%d' fill='white' stroke='black' "
                                 "stroke-width='0.2'/>\n", at.x, at.y, box->width, box->height);
    g_string_append_printf (svg, "<text x='%g' y='%g'>%s</text>\n", at.x + 0.4, at.y - 0.4,
                            (char *)board->words->pdata[b]);
  }
  for (guint i = 0; i < layout->n_segments; i++) {
    const PmLayoutSegment *s = &layout->segments[i];
    g_string_append_printf (svg, "<path d='M%d %dL%d %d' stroke='hsl(%d,70%%,35%%)' stroke-width='0.25' "
                                 "stroke-linecap='round'/>\n",
                            s->x1, s->y1, s->x2, s->y2, (int)(s->net * 67 % 360));
  }
  for (guint i = 0; i < layout->n_joints; i++)
    g_string_append_printf (svg, "<circle cx='%d' cy='%d' r='0.45'/>\n", layout->joints[i].x, layout->joints[i].y);
  for (guint net = 0; net < board->input.n_nets; net++)
    if (layout->labels[net].width)
      g_string_append_printf (svg, "<rect x='%d' y='%d' width='%d' height='%d' fill='none' stroke='gray' "
                                   "stroke-width='0.1'/><text x='%g' y='%g'>n%u</text>\n",
                              layout->labels[net].x, layout->labels[net].y, layout->labels[net].width,
                              layout->labels[net].height, layout->labels[net].x + 0.3,
                              layout->labels[net].y + layout->labels[net].height - 0.4, net);
  g_string_append (svg, "</svg>\n");
  return g_string_free (svg, FALSE);
}
