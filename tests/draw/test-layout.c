/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layouts of shapes by hand and of random boards, all clean; the checker finds what is spoilt.  --svg=FOLDER draws
 * them. */
#include "layout-board.h"

#include <string.h>

/* Sanitizers take long: some of the random boards do. */
#ifdef __SANITIZE_ADDRESS__
#define STEP 5
#else
#define STEP 1
#endif

static const char *svg_folder;

static void
draw (const LayoutBoard *board, const PmLayout *layout, const char *name)
{
  g_autofree char *svg = NULL, *path = NULL;

  if (!svg_folder)
    return;
  svg = layout_board_svg (board, layout);
  path = g_strdup_printf ("%s/%s.svg", svg_folder, name);
  g_assert_true (g_file_set_contents (path, svg, -1, NULL));
}

static guint
n_problems (const LayoutBoard *board, const PmLayout *layout, const char *name)
{
  g_auto (GStrv) problems = pm_layout_check (&board->input, layout);

  for (guint i = 0; problems[i] && i < 5; i++)
    g_test_message ("%s: %s", name, problems[i]);
  return g_strv_length (problems);
}

/* Lays out, draws if asked, and wants nothing to be wrong. */
static PmLayout *
lay_out (const LayoutBoard *board, const char *name)
{
  PmLayout *layout = pm_layout_new (&board->input);

  draw (board, layout, name);
  g_assert_cmpuint (n_problems (board, layout, name), ==, 0);
  return layout;
}

/* A box at the left or right with a port for each net, three apart or more. */
static guint
add_end (LayoutBoard *board, PmBand band, int step, const guint *nets, guint n)
{
  guint box = layout_board_box (board, "END", band, 8, step * (int)(n + 1));

  for (guint i = 0; i < n; i++)
    layout_board_port (board, box, band == PM_BAND_LAST ? PM_EDGE_LEFT : PM_EDGE_RIGHT, step * (int)(i + 1),
                       PM_FLOW_BOTH, nets[i]);
  return box;
}

static void
test_empty (void)
{
  g_autoptr (LayoutBoard) board = layout_board_new ();
  g_autoptr (PmLayout) nothing = lay_out (board, "empty"), alone = NULL, lonely = NULL;
  guint net;

  g_assert_cmpuint (nothing->n_segments, ==, 0);
  g_assert_cmpint (nothing->width, ==, 0);
  layout_board_box (board, "A", PM_BAND_FLOW, 4, 4);
  layout_board_box (board, "B", PM_BAND_FOOT, 4, 4);
  layout_board_box (board, "C", PM_BAND_LAST, 4, 4);
  alone = lay_out (board, "alone");
  g_assert_cmpuint (alone->n_segments, ==, 0);
  net = layout_board_net (board, 4);   /* a net of one port is no wire */
  layout_board_port (board, 0, PM_EDGE_RIGHT, 2, PM_FLOW_OUT, net);
  lonely = lay_out (board, "lonely");
  g_assert_cmpuint (lonely->n_segments, ==, 0);
  g_assert_cmpint (lonely->labels[net].width, ==, 0);
}

static void
test_straight (void)
{
  g_autoptr (LayoutBoard) board = layout_board_new ();
  g_autoptr (PmLayout) layout = NULL;
  guint net = layout_board_net (board, 4);

  layout_board_gate (board, "A", NULL, 0, net);
  layout_board_gate (board, "B", &net, 1, PM_LAYOUT_NONE);
  layout = lay_out (board, "straight");
  g_assert_cmpuint (layout->n_segments, ==, 1);
  g_assert_cmpuint (layout->n_bends, ==, 0);
  g_assert_cmpuint (layout->n_layers, ==, 2);
  g_assert_cmpint (layout->segments[0].y1, ==, layout->segments[0].y2);
  g_assert_cmpint (layout->segments[0].x1, ==, layout->boxes[0].x + 6);
  g_assert_cmpint (layout->segments[0].x2, ==, layout->boxes[1].x);
}

static void
test_fan_out (void)
{
  g_autoptr (LayoutBoard) board = layout_board_new ();
  g_autoptr (PmLayout) layout = NULL;
  guint net = layout_board_net (board, 0);

  layout_board_gate (board, "A", NULL, 0, net);
  for (guint i = 0; i < 3; i++)
    layout_board_gate (board, "B", &net, 1, PM_LAYOUT_NONE);
  layout = lay_out (board, "fan-out");
  g_assert_cmpuint (layout->n_crossings, ==, 0);
  g_assert_cmpuint (layout->n_bends, ==, 1);   /* level with the first or the last */
  g_assert_cmpuint (layout->n_joints, >=, 1);
  for (guint i = 1; i < 3; i++)    /* as given from the top */
    g_assert_cmpint (layout->boxes[i].y, <, layout->boxes[i + 1].y);
}

static void
test_swap (void)
{
  for (int step = 2; step <= 4; step++) {
    g_autoptr (LayoutBoard) board = layout_board_new ();
    g_autoptr (PmLayout) layout = NULL;
    guint a = layout_board_net (board, 0), b = layout_board_net (board, 0);

    add_end (board, PM_BAND_FIRST, step, (guint[]){ a, b }, 2);
    add_end (board, PM_BAND_LAST, step, (guint[]){ b, a }, 2);
    layout = lay_out (board, "swap");
    g_assert_cmpuint (layout->n_crossings, ==, 1);
    g_assert_cmpuint (layout->n_bends, <=, 6);
    g_assert_cmpuint (layout->n_joints, ==, 0);
  }
}

static void
test_feedback (void)
{
  g_autoptr (LayoutBoard) board = layout_board_new ();
  g_autoptr (PmLayout) layout = NULL;
  guint in = layout_board_net (board, 0), middle = layout_board_net (board, 0), out = layout_board_net (board, 0);

  add_end (board, PM_BAND_FIRST, 3, &in, 1);
  layout_board_gate (board, "A", (guint[]){ in, out }, 2, middle);
  layout_board_gate (board, "B", &middle, 1, out);
  add_end (board, PM_BAND_LAST, 3, &out, 1);
  layout = lay_out (board, "feedback");
  g_assert_cmpuint (layout->n_crossings, ==, 0);
  g_assert_cmpuint (layout->n_bends, <=, 6);
  g_assert_cmpuint (layout->n_joints, ==, 1);
  g_assert_cmpuint (layout->n_layers, ==, 4);
}

static void
test_pull (gconstpointer data)
{
  gboolean up = GPOINTER_TO_INT (data);
  g_autoptr (LayoutBoard) board = layout_board_new ();
  g_autoptr (PmLayout) layout = NULL;
  guint net = layout_board_net (board, 0), box;

  add_end (board, PM_BAND_FIRST, 3, &net, 1);
  layout_board_gate (board, "G", &net, 1, PM_LAYOUT_NONE);
  box = layout_board_pull (board, "R", up, net);
  layout_board_pull (board, "R", !up, net);
  layout_board_pull (board, "R", up, net);
  layout = lay_out (board, up ? "pull-up" : "pull-down");
  g_assert_cmpuint (layout->n_bends, ==, 0);
  g_assert_cmpuint (layout->n_crossings, ==, 0);
  g_assert_cmpuint (layout->n_joints, >=, 2);
  for (guint i = 0; i < layout->n_segments; i++) {
    const PmLayoutSegment *s = &layout->segments[i];
    if (s->x1 == s->x2)
      g_assert_cmpint (s->y2 - s->y1, <=, 2);
    else
      g_assert_true (up ? s->y1 > layout->boxes[box].y + 5 : s->y1 < layout->boxes[box].y);
  }
}

/* Lines with nothing on them run straight past the box of another. */
static void
test_through (void)
{
  g_autoptr (LayoutBoard) board = layout_board_new ();
  g_autoptr (PmLayout) layout = NULL;
  guint nets[7], out;

  for (guint i = 0; i < 6; i++)
    nets[i] = layout_board_net (board, 0);
  out = layout_board_net (board, 0);
  add_end (board, PM_BAND_FIRST, 2, nets, 6);
  layout_board_gate (board, "A", &nets[0], 1, out);
  nets[0] = out;
  add_end (board, PM_BAND_LAST, 2, nets, 6);
  layout = lay_out (board, "through");
  g_assert_cmpuint (layout->n_crossings, ==, 0);
  g_assert_cmpuint (layout->n_bends, <=, 4);
  for (guint net = 1; net < 6; net++) {
    guint n = 0;
    for (guint i = 0; i < layout->n_segments; i++)
      n += layout->segments[i].net == net;
    g_assert_cmpuint (n, ==, 1);
  }
}

/* Two poles stand one above the other with nothing between, in the order given. */
static void
test_group (void)
{
  const char *name;
  g_autoptr (LayoutBoard) board = layout_board_demo (2, &name);
  g_autoptr (PmLayout) layout = lay_out (board, name);

  g_assert_cmpint (layout->boxes[1].x, ==, layout->boxes[2].x);
  g_assert_cmpint (layout->boxes[1].y + 4, <, layout->boxes[2].y);
  g_assert_cmpint (layout->boxes[2].y, <=, layout->boxes[1].y + 10);
}

/* Wires at all four edges, to both sides. */
static void
test_edges (void)
{
  g_autoptr (LayoutBoard) board = layout_board_new ();
  g_autoptr (PmLayout) layout = NULL;
  guint nets[10], box;

  for (guint i = 0; i < 10; i++)
    nets[i] = layout_board_net (board, 0);
  add_end (board, PM_BAND_FIRST, 2, nets, 8);
  box = layout_board_gate (board, "A", nets, 2, nets[8]);
  for (guint i = 0; i < 3; i++) {
    layout_board_port (board, box, PM_EDGE_TOP, 1 + 2 * (int)i, PM_FLOW_IN, nets[2 + i]);
    layout_board_port (board, box, PM_EDGE_BOTTOM, 1 + 2 * (int)i, i ? PM_FLOW_NONE : PM_FLOW_OUT,
                       i ? nets[4 + i] : nets[9]);
  }
  box = layout_board_gate (board, "B", &nets[8], 1, nets[9]);
  layout_board_port (board, box, PM_EDGE_TOP, 1, PM_FLOW_NONE, nets[3]);
  layout_board_port (board, box, PM_EDGE_TOP, 3, PM_FLOW_NONE, nets[3]);
  layout_board_port (board, box, PM_EDGE_TOP, 5, PM_FLOW_NONE, nets[8]);
  layout_board_port (board, box, PM_EDGE_BOTTOM, 2, PM_FLOW_NONE, PM_LAYOUT_NONE);
  add_end (board, PM_BAND_LAST, 2, nets, 10);
  layout = lay_out (board, "edges");
  g_assert_cmpuint (layout->n_layers, >=, 3);
}

static void
test_same (void)
{
  for (guint seed = 1; seed < 20; seed++) {
    g_autoptr (LayoutBoard) board = layout_board_random (seed, 30, FALSE);
    g_autoptr (PmLayout) one = pm_layout_new (&board->input), two = pm_layout_new (&board->input);

    g_assert_cmpmem (one->boxes, sizeof *one->boxes * board->input.n_boxes, two->boxes,
                     sizeof *two->boxes * board->input.n_boxes);
    g_assert_cmpmem (one->segments, sizeof *one->segments * one->n_segments, two->segments,
                     sizeof *two->segments * two->n_segments);
    g_assert_cmpmem (one->labels, sizeof *one->labels * board->input.n_nets, two->labels,
                     sizeof *two->labels * board->input.n_nets);
  }
}

/* One change to a good layout that the checker has to find. */
typedef enum {
  SPOIL_SHIFT, SPOIL_SHORTEN, SPOIL_LENGTHEN, SPOIL_DROP, SPOIL_DOUBLE, SPOIL_TURN, SPOIL_NET, SPOIL_JOINT_LOST,
  SPOIL_JOINT_MOVED, SPOIL_BOX, SPOIL_BOX_AWAY, SPOIL_BOX_ON_BOX, SPOIL_CROSSINGS, SPOIL_BENDS, SPOIL_WIDTH,
  SPOIL_LABEL, SPOIL_LABEL_SIZE, SPOIL_LABEL_ON_BOX, N_SPOILS
} Spoil;

/* What is spoilt, of how many; 0: nothing of that kind is left to spoil. */
static gboolean
spoil (const LayoutBoard *board, PmLayout *layout, Spoil kind, guint i)
{
  PmLayoutSegment *s = i < layout->n_segments ? &layout->segments[i] : NULL;
  gboolean level = s && s->y1 == s->y2;

  if (kind <= SPOIL_NET && !s)
    return FALSE;
  if ((kind == SPOIL_JOINT_LOST || kind == SPOIL_JOINT_MOVED) && i >= layout->n_joints)
    return FALSE;
  if ((kind == SPOIL_BOX || kind == SPOIL_BOX_AWAY || kind == SPOIL_BOX_ON_BOX) && i >= board->input.n_boxes)
    return FALSE;
  if (kind >= SPOIL_CROSSINGS && kind <= SPOIL_WIDTH && i)
    return FALSE;
  if (kind >= SPOIL_LABEL && i >= board->input.n_nets)
    return FALSE;
  switch (kind) {
  case SPOIL_SHIFT:
    *(level ? &s->y1 : &s->x1) += 1;
    *(level ? &s->y2 : &s->x2) += 1;
    break;
  case SPOIL_SHORTEN:
    *(level ? &s->x2 : &s->y2) -= 1;
    break;
  case SPOIL_LENGTHEN:
    *(level ? &s->x2 : &s->y2) += 1;
    break;
  case SPOIL_DROP:
    *s = layout->segments[i ? i - 1 : 1];
    break;
  case SPOIL_DOUBLE:
    layout->segments[i ? i - 1 : 1] = *s;
    break;
  case SPOIL_TURN:
    *s = (PmLayoutSegment){ s->x2, s->y2, s->x1, s->y1, s->net };
    break;
  case SPOIL_NET:
    s->net = (s->net + 1) % board->input.n_nets;
    break;
  case SPOIL_JOINT_LOST:
    layout->joints[i] = layout->joints[--layout->n_joints];
    layout->joint_nets[i] = layout->joint_nets[layout->n_joints];
    break;
  case SPOIL_JOINT_MOVED:
    layout->joints[i].x += 1;
    break;
  case SPOIL_BOX:                  /* seen where it has wires */
    if (!board->input.boxes[i].n_ports)
      return TRUE;
    layout->boxes[i].y += 1;
    break;
  case SPOIL_BOX_AWAY:
    layout->boxes[i].x = -1 - layout->boxes[i].x;
    break;
  case SPOIL_BOX_ON_BOX:
    layout->boxes[i] = layout->boxes[i ? 0 : 1];
    break;
  case SPOIL_CROSSINGS:
    layout->n_crossings += 1;
    break;
  case SPOIL_BENDS:
    layout->n_bends += 1;
    break;
  case SPOIL_WIDTH:
    layout->width -= 1;
    break;
  case SPOIL_LABEL:
    if (!layout->labels[i].width)
      return TRUE;
    layout->labels[i].x += 1;
    layout->labels[i].y += 1;
    break;
  case SPOIL_LABEL_SIZE:
    if (!layout->labels[i].width)
      return TRUE;
    layout->labels[i].width += 1;
    break;
  case SPOIL_LABEL_ON_BOX:
    if (!layout->labels[i].width)
      return TRUE;
    layout->labels[i].x = layout->boxes[0].x;
    layout->labels[i].y = layout->boxes[0].y;
    break;
  case N_SPOILS:
    break;
  }
  return TRUE;
}

/* Whether the change was one at all. */
static gboolean
is_spoilt (const LayoutBoard *board, Spoil kind, const PmLayout *layout, guint i)
{
  if (kind == SPOIL_BOX)
    for (guint p = 0; p < board->input.boxes[i].n_ports; p++)
      for (guint k = 0; k < layout->n_segments; k++)
        if (layout->segments[k].net == board->input.boxes[i].ports[p].net)
          return TRUE;
  return kind >= SPOIL_LABEL ? layout->labels[i].width > 0 : kind != SPOIL_BOX;
}

static void
test_spoilt (void)
{
  guint n = 0;
  const char *name;

  for (guint demo = 0; demo < 4; demo++)
    for (Spoil kind = 0; kind < N_SPOILS; kind++)
      for (guint i = 0;; i++) {
        g_autoptr (LayoutBoard) board = layout_board_demo (demo, &name);
        g_autoptr (PmLayout) layout = pm_layout_new (&board->input);
        g_auto (GStrv) problems = NULL;

        if (!spoil (board, layout, kind, i))
          break;
        problems = pm_layout_check (&board->input, layout);
        if (is_spoilt (board, kind, layout, i) && !problems[0])
          g_error ("%s: kind %d of spoiling at %u is not found", name, kind, i);
        n++;
      }
  g_test_message ("%u spoilt layouts, each found", n);
}

/* A straight wire with a detour in free space; then with a box in the way of the straight one. */
static void
test_needless (void)
{
  static const PmLayoutSegment DETOUR[] = { { 6, 2, 10, 2, 0 }, { 10, 2, 10, 6, 0 }, { 10, 6, 20, 6, 0 },
                                            { 20, 2, 20, 6, 0 }, { 20, 2, 26, 2, 0 } };
  g_autoptr (LayoutBoard) board = layout_board_new ();
  PmLayoutPoint boxes[] = { { 0, 0 }, { 26, 0 }, { 14, 1 } };
  PmLayoutArea label = { 0 };
  PmLayout layout = { .width = 32, .height = 10, .boxes = boxes, .segments = (PmLayoutSegment *)DETOUR,
                      .n_segments = 5, .labels = &label, .n_bends = 4 };
  guint a, b, net = layout_board_net (board, 0);

  a = layout_board_box (board, "A", PM_BAND_FLOW, 6, 4);
  layout_board_port (board, a, PM_EDGE_RIGHT, 2, PM_FLOW_OUT, net);
  b = layout_board_box (board, "B", PM_BAND_FLOW, 6, 4);
  layout_board_port (board, b, PM_EDGE_LEFT, 2, PM_FLOW_IN, net);
  g_assert_cmpuint (n_problems (board, &layout, "needless"), >=, 1);
  layout_board_box (board, "C", PM_BAND_FLOW, 2, 2);
  g_assert_cmpuint (n_problems (board, &layout, "needed"), ==, 0);
}

static void
test_demo (void)
{
  const char *name;

  for (guint i = 0;; i++) {
    g_autoptr (LayoutBoard) board = layout_board_demo (i, &name);
    g_autoptr (PmLayout) layout = NULL;

    if (!board)
      break;
    layout = pm_layout_new (&board->input);
    draw (board, layout, name);
    g_test_message ("%s: %u crossings, %u bends, %d x %d", name, layout->n_crossings, layout->n_bends, layout->width,
                    layout->height);
    g_assert_cmpuint (n_problems (board, layout, name), ==, 0);
  }
}

static void
test_random (void)
{
  guint n_bad = 0, n_crossings = 0, n_bends = 0, n_boxes = 0;

  for (guint seed = 1; seed <= 330; seed += STEP) {
    guint n = seed <= 320 ? 4 + seed * 7 % 57 : 100 + (seed - 320) * 30;
    g_autoptr (LayoutBoard) board = layout_board_random (seed, n, FALSE);
    g_autoptr (PmLayout) layout = pm_layout_new (&board->input);
    g_autofree char *name = g_strdup_printf ("random-%03u-%u", seed, n);
    guint problems = n_problems (board, layout, name);

    if (problems || seed % 40 == 0)
      draw (board, layout, name);
    n_bad += problems != 0;
    n_crossings += layout->n_crossings;
    n_bends += layout->n_bends;
    n_boxes += board->input.n_boxes;
  }
  g_test_message ("%u bad; %u boxes, %u crossings, %u bends", n_bad, n_boxes, n_crossings, n_bends);
  g_assert_cmpuint (n_bad, ==, 0);
  g_assert_cmpuint (n_crossings, <, 88000);
  g_assert_cmpuint (n_bends, <, 45000);
}

static void
test_anything (void)
{
  guint n_bad = 0;

  for (guint seed = 1; seed <= 400; seed += STEP) {
    g_autoptr (LayoutBoard) board = layout_board_anything (seed, 1 + seed % 19);
    g_autoptr (PmLayout) layout = pm_layout_new (&board->input);
    g_autofree char *name = g_strdup_printf ("anything-%03u", seed);
    guint problems = n_problems (board, layout, name);

    if (problems)
      draw (board, layout, name);
    n_bad += problems != 0;
  }
  g_assert_cmpuint (n_bad, ==, 0);
}

/* Of pairs of boxes, one left of or above the other by their middles: how many in a hundred change when one box is
 * added. */
static double
moved_pairs (const LayoutBoard *board, const PmLayout *before, const PmLayout *after)
{
  guint n = board->input.n_boxes, n_moved = 0;

  for (guint a = 0; a < n; a++)
    for (guint b = a + 1; b < n; b++) {
      int dx[2] = { before->boxes[a].x - before->boxes[b].x, after->boxes[a].x - after->boxes[b].x };
      int dy[2] = { before->boxes[a].y - before->boxes[b].y, after->boxes[a].y - after->boxes[b].y };

      n_moved += (dx[0] < 0) != (dx[1] < 0) || (dy[0] < 0) != (dy[1] < 0);
    }
  return n > 1 ? 200.0 * n_moved / (n * (n - 1)) : 0;
}

static void
test_stable (void)
{
  double sum = 0, most = 0;
  guint n_boards = 100;

  for (guint seed = 1; seed <= n_boards; seed++) {
    g_autoptr (LayoutBoard) board = layout_board_random (seed, 8 + seed * 7 % 40, FALSE);
    g_autoptr (LayoutBoard) more = layout_board_random (seed, 8 + seed * 7 % 40, TRUE);
    g_autoptr (PmLayout) before = pm_layout_new (&board->input);
    g_autoptr (PmLayout) after = pm_layout_new (&more->input);
    double moved = moved_pairs (board, before, after);

    sum += moved;
    most = MAX (most, moved);
  }
  g_test_message ("one box more: %.1f of 100 pairs of boxes change their sides, at most %.1f", sum / n_boards, most);
  g_assert_cmpfloat (sum / n_boards, <, 16);
}

int
main (int argc, char **argv)
{
  for (int i = 1; i < argc; i++)
    if (g_str_has_prefix (argv[i], "--svg="))
      svg_folder = argv[i] + 6;
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/layout/empty", test_empty);
  g_test_add_func ("/layout/straight", test_straight);
  g_test_add_func ("/layout/fan-out", test_fan_out);
  g_test_add_func ("/layout/swap", test_swap);
  g_test_add_func ("/layout/feedback", test_feedback);
  g_test_add_data_func ("/layout/pull-up", GINT_TO_POINTER (TRUE), test_pull);
  g_test_add_data_func ("/layout/pull-down", GINT_TO_POINTER (FALSE), test_pull);
  g_test_add_func ("/layout/through", test_through);
  g_test_add_func ("/layout/group", test_group);
  g_test_add_func ("/layout/edges", test_edges);
  g_test_add_func ("/layout/same", test_same);
  g_test_add_func ("/layout/spoilt", test_spoilt);
  g_test_add_func ("/layout/needless", test_needless);
  g_test_add_func ("/layout/demo", test_demo);
  g_test_add_func ("/layout/random", test_random);
  g_test_add_func ("/layout/anything", test_anything);
  g_test_add_func ("/layout/stable", test_stable);
  return g_test_run ();
}
