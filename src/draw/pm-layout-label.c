/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words on wires: above a level piece, else beside an upright one, the longest piece first, where nothing else is. */
#include "config.h"
#include "pm-layout-private.h"

#include <stdlib.h>

#define CELL 32

/* What is in the way, by cells of the plane. */
typedef struct { int x1, y1, x2, y2; guint net, next; } Thing;
typedef struct {
  GArray *things;                /* of Thing, chained by cell */
  guint  *heads;
  int     columns, rows;
} Plane;

static void
plane_add (Plane *plane, int x1, int y1, int x2, int y2, guint net)
{
  for (int r = y1 / CELL; r <= MIN (y2 / CELL, plane->rows - 1); r++)
    for (int c = x1 / CELL; c <= MIN (x2 / CELL, plane->columns - 1); c++) {
      guint *head = &plane->heads[r * plane->columns + c];
      Thing thing = { x1, y1, x2, y2, net, *head };
      *head = plane->things->len;
      g_array_append_val (plane->things, thing);
    }
}

/* May a word of that net stand there?  Its own wire may lie at its edge. */
static gboolean
is_free (const Plane *plane, int x1, int y1, int x2, int y2, guint net)
{
  if (x1 < 0 || y1 < 0)
    return FALSE;
  for (int r = y1 / CELL; r <= MIN (y2 / CELL, plane->rows - 1); r++)
    for (int c = x1 / CELL; c <= MIN (x2 / CELL, plane->columns - 1); c++)
      for (guint i = plane->heads[r * plane->columns + c]; i != PM_LAYOUT_NONE;
           i = g_array_index (plane->things, Thing, i).next) {
        const Thing *t = &g_array_index (plane->things, Thing, i);
        if (t->net == net ? x1 < t->x2 && t->x1 < x2 && y1 < t->y2 && t->y1 < y2
                          : x1 <= t->x2 && t->x1 <= x2 && y1 <= t->y2 && t->y1 <= y2)
          return FALSE;
      }
  return TRUE;
}

/* First free place along a piece, from its middle outward. */
static gboolean
try_piece (const Plane *plane, const PmLayoutSegment *piece, const PmLayoutNet *size, PmLayoutArea *label)
{
  gboolean level = piece->y1 == piece->y2;
  int room = level ? piece->x2 - piece->x1 - size->width : piece->y2 - piece->y1 - size->height;

  for (int step = 0; step <= room; step++) {
    int along = room / 2 + (step % 2 ? (step + 1) / 2 : -(step / 2));
    int x = level ? piece->x1 + along : piece->x1, y = level ? piece->y1 - size->height : piece->y1 + along;

    if (along < 0 || along > room || !is_free (plane, x, y, x + size->width, y + size->height, piece->net))
      continue;
    *label = (PmLayoutArea){ x, y, size->width, size->height };
    return TRUE;
  }
  return FALSE;
}

static int
piece_length (const PmLayoutSegment *piece)
{
  return piece->x2 - piece->x1 + piece->y2 - piece->y1;
}

static int
compare_lengths (gconstpointer a, gconstpointer b)
{
  const PmLayoutSegment *x = *(PmLayoutSegment *const *)a, *y = *(PmLayoutSegment *const *)b;
  gboolean level_x = x->y1 == x->y2, level_y = y->y1 == y->y2;

  if (level_x != level_y)
    return level_y - level_x;
  if (piece_length (x) != piece_length (y))
    return piece_length (y) - piece_length (x);
  return (x > y) - (x < y);
}

void
pm_layout_labels (const PmLayoutInput *input, PmLayout *layout)
{
  Plane plane = { .columns = layout->width / CELL + 1, .rows = layout->height / CELL + 1 };
  g_autoptr (GPtrArray) pieces = g_ptr_array_new ();

  plane.things = g_array_new (FALSE, FALSE, sizeof (Thing));
  plane.heads = g_new (guint, plane.columns * plane.rows);
  for (int i = 0; i < plane.columns * plane.rows; i++)
    plane.heads[i] = PM_LAYOUT_NONE;
  for (guint b = 0; b < input->n_boxes; b++) {
    const PmLayoutBox *box = &input->boxes[b];
    PmLayoutPoint at = layout->boxes[b];
    plane_add (&plane, at.x - box->left, at.y - box->top, at.x + box->width + box->right,
               at.y + box->height + box->bottom, PM_LAYOUT_NONE);
  }
  for (guint i = 0; i < layout->n_segments; i++) {
    const PmLayoutSegment *s = &layout->segments[i];
    plane_add (&plane, s->x1, s->y1, s->x2, s->y2, s->net);
  }
  for (guint from = 0, to; from < layout->n_segments; from = to) {
    guint net = layout->segments[from].net;
    const PmLayoutNet *size = &input->nets[net];

    g_ptr_array_set_size (pieces, 0);
    for (to = from; to < layout->n_segments && layout->segments[to].net == net; to++)
      g_ptr_array_add (pieces, &layout->segments[to]);
    if (size->width <= 0 || size->height <= 0)
      continue;
    g_ptr_array_sort (pieces, compare_lengths);
    for (guint i = 0; i < pieces->len; i++)
      if (try_piece (&plane, pieces->pdata[i], size, &layout->labels[net])) {
        const PmLayoutArea *a = &layout->labels[net];
        plane_add (&plane, a->x, a->y, a->x + a->width, a->y + a->height, PM_LAYOUT_NONE);
        break;
      }
  }
  g_array_unref (plane.things);
  g_free (plane.heads);
}
