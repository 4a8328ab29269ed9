/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bends taken out of finished wires: a piece between two bends that can be moved, over nothing but free space and what
 * crosses the whole of it, to where it goes straight on in the next piece but one.
 *
 * Works on pieces cut at ends and joints.  What is near is found in a grid of cells, kept up to date.
 */
#include "config.h"
#include "pm-layout-private.h"

#include <stdlib.h>

#define CELL 16
#define NONE PM_LAYOUT_NONE

/* Up to four pieces of a net can end in a point. */
typedef struct { PmLayoutPoint at; guint net, n, piece[4]; gboolean port; } Knot;

typedef struct { guint thing, next; } Entry;

typedef struct {
  const PmLayoutInput *input;
  const PmLayoutPoint *boxes;
  GArray  *pieces;               /* of PmLayoutSegment; net NONE: gone */
  Knot    *knots;
  guint   *knot[2];              /* [pieces] of either end */
  GArray  *entries;              /* of Entry: pieces, then boxes from n_pieces on, chained by cell */
  guint   *heads;
  int      columns, rows;
} Straightener;

#define PIECE(s, i) (&g_array_index ((s)->pieces, PmLayoutSegment, i))

static gboolean
is_level (const PmLayoutSegment *piece)
{
  return piece->y1 == piece->y2;
}

static void
add_thing (Straightener *s, guint thing, PmLayoutSegment r)
{
  for (int row = MAX (r.y1, 0) / CELL; row <= MIN (r.y2 / CELL, s->rows - 1); row++)
    for (int column = MAX (r.x1, 0) / CELL; column <= MIN (r.x2 / CELL, s->columns - 1); column++) {
      guint *head = &s->heads[row * s->columns + column];
      Entry entry = { thing, *head };
      *head = s->entries->len;
      g_array_append_val (s->entries, entry);
    }
}

static PmLayoutSegment
words_area (const Straightener *s, guint b)
{
  const PmLayoutBox *box = &s->input->boxes[b];
  PmLayoutPoint at = s->boxes[b];

  return (PmLayoutSegment){ at.x - box->left, at.y - box->top, at.x + box->width + box->right,
                            at.y + box->height + box->bottom, NONE };
}

static gboolean
touch (const PmLayoutSegment *a, const PmLayoutSegment *b)
{
  return a->x1 <= b->x2 && b->x1 <= a->x2 && a->y1 <= b->y2 && b->y1 <= a->y2;
}

/* Does this thing keep the piece from being moved over the area? */
static gboolean
is_in_way (const Straightener *s, guint thing, guint moving, const guint beside[2], const PmLayoutSegment *area)
{
  const PmLayoutSegment *other;
  PmLayoutSegment wide = { area->x1 - 1, area->y1 - 1, area->x2 + 1, area->y2 + 1, NONE };
  gboolean level = is_level (PIECE (s, moving));

  if (thing >= s->pieces->len) {
    PmLayoutSegment words = words_area (s, thing - s->pieces->len);
    return touch (&words, area);
  }
  other = PIECE (s, thing);
  if (thing == moving || thing == beside[0] || thing == beside[1] || other->net == NONE || !touch (other, &wide))
    return FALSE;
  if (other->net == PIECE (s, moving)->net) {
    if (!touch (other, area))
      return FALSE;
    return is_level (other) != level ||
           (level ? other->x2 > area->x1 && other->x1 < area->x2 : other->y2 > area->y1 && other->y1 < area->y2);
  }
  if (is_level (other) == level)
    return TRUE;
  return level ? other->x1 <= area->x1 || other->x1 >= area->x2 || other->y1 >= area->y1 || other->y2 <= area->y2
               : other->y1 <= area->y1 || other->y1 >= area->y2 || other->x1 >= area->x1 || other->x2 <= area->x2;
}

static gboolean
is_free (const Straightener *s, guint moving, const guint beside[2], const PmLayoutSegment *area)
{
  for (int row = MAX (area->y1 - 1, 0) / CELL; row <= MIN ((area->y2 + 1) / CELL, s->rows - 1); row++)
    for (int column = MAX (area->x1 - 1, 0) / CELL; column <= MIN ((area->x2 + 1) / CELL, s->columns - 1); column++)
      for (guint e = s->heads[row * s->columns + column]; e != NONE; e = g_array_index (s->entries, Entry, e).next)
        if (is_in_way (s, g_array_index (s->entries, Entry, e).thing, moving, beside, area))
          return FALSE;
  return TRUE;
}

/* The piece of a plain bend that is not this one; NONE if the knot is a joint or a port. */
static guint
piece_beyond (const Straightener *s, guint knot, guint piece)
{
  const Knot *k = &s->knots[knot];

  if (k->n != 2 || k->port || is_level (PIECE (s, k->piece[0])) == is_level (PIECE (s, k->piece[1])))
    return NONE;
  return k->piece[k->piece[0] == piece];
}

static guint
far_knot (const Straightener *s, guint piece, guint near)
{
  return s->knot[0][piece] == near ? s->knot[1][piece] : s->knot[0][piece];
}

static void
replace_piece (Knot *knot, guint old, guint fresh)
{
  for (guint i = 0; i < knot->n; i++)
    if (knot->piece[i] == old)
      knot->piece[i] = fresh;
}

/* Sets a piece between its two knots. */
static void
set_piece (Straightener *s, guint piece, guint a, guint b)
{
  PmLayoutPoint p = s->knots[a].at, q = s->knots[b].at;
  PmLayoutSegment *segment = PIECE (s, piece);
  gboolean ahead = p.x < q.x || p.y < q.y;

  s->knot[0][piece] = ahead ? a : b;
  s->knot[1][piece] = ahead ? b : a;
  *segment = (PmLayoutSegment){ MIN (p.x, q.x), MIN (p.y, q.y), MAX (p.x, q.x), MAX (p.y, q.y), segment->net };
  add_thing (s, piece, *segment);
}

/* Takes out a knot where two pieces now run straight on: the second becomes part of the first. */
static void
join_pieces (Straightener *s, guint keep, guint gone, guint knot)
{
  guint a = far_knot (s, keep, knot), b = far_knot (s, gone, knot);

  PIECE (s, gone)->net = NONE;
  replace_piece (&s->knots[b], gone, keep);
  s->knots[knot].n = 0;
  set_piece (s, keep, a, b);
}

/* Tries to move a piece to the far end of its neighbour at that end. */
static gboolean
move_piece (Straightener *s, guint piece, guint end)
{
  PmLayoutSegment *p = PIECE (s, piece), area;
  gboolean level = is_level (p);
  guint near = s->knot[end][piece], other = s->knot[!end][piece], beside[2], far, on, last, beyond;
  PmLayoutPoint to;

  beside[0] = piece_beyond (s, near, piece);
  beside[1] = piece_beyond (s, other, piece);
  if (beside[0] == NONE || beside[1] == NONE)
    return FALSE;
  far = far_knot (s, beside[0], near);
  on = piece_beyond (s, far, beside[0]);
  if (on == NONE)
    return FALSE;
  to = s->knots[far].at;
  if (level ? (PIECE (s, on)->x1 < to.x) == (end == 1) : (PIECE (s, on)->y1 < to.y) == (end == 1))
    return FALSE;                /* turns back */
  last = far_knot (s, beside[1], other);
  if ((level ? s->knots[last].at.y == to.y : s->knots[last].at.x == to.x) && s->knots[last].port)
    return FALSE;                /* would leave the port sideways */
  area = (PmLayoutSegment){ MIN (p->x1, to.x), MIN (p->y1, to.y), MAX (p->x2, to.x), MAX (p->y2, to.y), NONE };
  if (!is_free (s, piece, beside, &area))
    return FALSE;

  PIECE (s, beside[0])->net = NONE;
  s->knots[near].n = 0;
  replace_piece (&s->knots[far], beside[0], piece);
  if (level)
    s->knots[other].at.y = to.y;
  else
    s->knots[other].at.x = to.x;
  if (s->knots[other].at.x == s->knots[last].at.x && s->knots[other].at.y == s->knots[last].at.y) {
    PIECE (s, beside[1])->net = NONE;
    s->knots[other].n = 0;
    replace_piece (&s->knots[last], beside[1], piece);
    set_piece (s, piece, far, last);
    beyond = s->knots[last].n == 2 ? s->knots[last].piece[s->knots[last].piece[0] == piece] : NONE;
    if (beyond != NONE && !s->knots[last].port && is_level (PIECE (s, beyond)) == level)
      join_pieces (s, piece, beyond, last);
  } else {
    set_piece (s, beside[1], other, last);
    set_piece (s, piece, far, other);
  }
  join_pieces (s, piece, on, far);
  return TRUE;
}

typedef struct { PmLayoutPoint at; guint net, piece, end; } End;

static int
compare_ends (gconstpointer a, gconstpointer b)
{
  const End *x = a, *y = b;

  if (x->net != y->net)
    return x->net < y->net ? -1 : 1;
  if (x->at.x != y->at.x)
    return x->at.x - y->at.x;
  return x->at.y != y->at.y ? x->at.y - y->at.y : (x->piece > y->piece) - (x->piece < y->piece);
}

/* A point where only one piece ends is a port; more than one may end in a port too, then it is told by the box. */
static void
find_knots (Straightener *s)
{
  guint n = 0, n_knots = 0;
  g_autofree End *ends = g_new (End, 2 * s->pieces->len + 1);

  for (guint i = 0; i < s->pieces->len; i++) {
    const PmLayoutSegment *p = PIECE (s, i);
    ends[n++] = (End){ { p->x1, p->y1 }, p->net, i, 0 };
    ends[n++] = (End){ { p->x2, p->y2 }, p->net, i, 1 };
  }
  qsort (ends, n, sizeof *ends, compare_ends);
  for (guint i = 0; i < n; i++) {
    Knot *knot;

    if (i == 0 || ends[i].net != ends[i - 1].net || ends[i].at.x != ends[i - 1].at.x ||
        ends[i].at.y != ends[i - 1].at.y)
      s->knots[n_knots++] = (Knot){ ends[i].at, ends[i].net, 0, { 0 }, FALSE };
    knot = &s->knots[n_knots - 1];
    if (knot->n < G_N_ELEMENTS (knot->piece))
      knot->piece[knot->n] = ends[i].piece;
    knot->n++;
    s->knot[ends[i].end][ends[i].piece] = n_knots - 1;
  }
  for (guint i = 0; i < n_knots; i++)
    s->knots[i].port = s->knots[i].n == 1;
}

void
pm_layout_straighten (const PmLayoutInput *input, const PmLayoutPoint *boxes, GArray *pieces)
{
  Straightener s = { .input = input, .boxes = boxes, .pieces = pieces };
  guint n = pieces->len, out = 0;
  gboolean changed = TRUE;

  for (guint i = 0; i < n; i++) {
    s.columns = MAX (s.columns, PIECE (&s, i)->x2 / CELL + 1);
    s.rows = MAX (s.rows, PIECE (&s, i)->y2 / CELL + 1);
  }
  s.heads = g_new (guint, s.columns * s.rows + 1);
  for (int i = 0; i < s.columns * s.rows; i++)
    s.heads[i] = NONE;
  s.entries = g_array_new (FALSE, FALSE, sizeof (Entry));
  s.knots = g_new (Knot, 2 * n + 1);
  s.knot[0] = g_new (guint, n + 1);
  s.knot[1] = g_new (guint, n + 1);
  find_knots (&s);
  for (guint i = 0; i < n; i++)
    add_thing (&s, i, *PIECE (&s, i));
  for (guint b = 0; b < input->n_boxes; b++)
    add_thing (&s, n + b, words_area (&s, b));
  while (changed) {
    changed = FALSE;
    for (guint i = 0; i < n; i++)
      for (guint end = 0; end < 2 && PIECE (&s, i)->net != NONE; end++)
        changed |= move_piece (&s, i, end);
  }
  for (guint i = 0; i < n; i++)
    if (PIECE (&s, i)->net != NONE)
      g_array_index (pieces, PmLayoutSegment, out++) = *PIECE (&s, i);
  g_array_set_size (pieces, out);
  g_free (s.heads);
  g_array_unref (s.entries);
  g_free (s.knots);
  g_free (s.knot[0]);
  g_free (s.knot[1]);
}
