/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Flows: blocks, set at a width as pieces that stay whole, pieces on pages. */
#include "config.h"
#include "pm-flow.h"
#include "pm-flow-private.h"
#include "pm-mark.h"

#include <math.h>

typedef enum {
  BLOCK_HEADING, BLOCK_WORDS, BLOCK_BULLET, BLOCK_NOTE, BLOCK_MARKED, BLOCK_BLANK, BLOCK_LIST, BLOCK_PICTURE,
  BLOCK_COLUMNS, BLOCK_GAP
} BlockKind;

typedef struct {
  BlockKind      kind;
  guint          rank;                 /* of headings; how of words */
  char          *text;
  PmSeverity     severity;
  gboolean       keep;
  PmList        *list;
  char         **columns;
  PmFlowPicture  make;
  gpointer       data;
  GDestroyNotify destroy;
  PmFlow        *left, *right;
  double         share;                /* of the left column; lines of a gap */
} FlowBlock;

struct _PmFlow {
  PmType *type;
  GArray *blocks;
};

/* Headings against the size of the text, by rank. */
static const double HEADINGS[] = { 1.5, 1.15 };
#define COLUMN_GAP 16.0

static void
block_clear (gpointer data)
{
  FlowBlock *block = data;

  g_free (block->text);
  pm_list_free (block->list);
  g_strfreev (block->columns);
  if (block->destroy)
    block->destroy (block->data);
  pm_flow_free (block->left);
  pm_flow_free (block->right);
}

PmFlow *
pm_flow_new (PmType *type)
{
  PmFlow *flow = g_new0 (PmFlow, 1);

  flow->type = type;
  flow->blocks = g_array_new (FALSE, TRUE, sizeof (FlowBlock));
  g_array_set_clear_func (flow->blocks, block_clear);
  return flow;
}

void
pm_flow_free (PmFlow *flow)
{
  if (!flow)
    return;
  g_array_unref (flow->blocks);
  g_free (flow);
}

static void
add_words (PmFlow *flow, BlockKind kind, guint rank, const char *text)
{
  FlowBlock block = { .kind = kind, .rank = rank, .text = g_strdup (text) };

  g_array_append_val (flow->blocks, block);
}

void
pm_flow_heading (PmFlow *flow, guint rank, const char *text)
{
  add_words (flow, BLOCK_HEADING, MIN (rank, G_N_ELEMENTS (HEADINGS) - 1), text);
}

void
pm_flow_paragraph (PmFlow *flow, const char *text)
{
  add_words (flow, BLOCK_WORDS, 0, text);
}

void
pm_flow_strong (PmFlow *flow, const char *text)
{
  add_words (flow, BLOCK_WORDS, PM_INK_BOLD, text);
}

void
pm_flow_bullet (PmFlow *flow, const char *text)
{
  add_words (flow, BLOCK_BULLET, 0, text);
}

void
pm_flow_note (PmFlow *flow, const char *text)
{
  add_words (flow, BLOCK_NOTE, 0, text);
}

void
pm_flow_marked (PmFlow *flow, PmSeverity severity, const char *text, gboolean before)
{
  FlowBlock block = { .kind = BLOCK_MARKED, .severity = severity, .text = g_strdup (text), .keep = before };

  g_array_append_val (flow->blocks, block);
}

void
pm_flow_blank (PmFlow *flow, const char *label)
{
  add_words (flow, BLOCK_BLANK, 0, label);
}

void
pm_flow_list (PmFlow *flow, PmList *list, const char *const *columns)
{
  FlowBlock block = { .kind = BLOCK_LIST, .list = list, .columns = g_strdupv ((char **) columns) };

  g_array_append_val (flow->blocks, block);
}

void
pm_flow_picture (PmFlow *flow, PmFlowPicture make, gpointer data, GDestroyNotify destroy)
{
  FlowBlock block = { .kind = BLOCK_PICTURE, .make = make, .data = data, .destroy = destroy };

  g_array_append_val (flow->blocks, block);
}

void
pm_flow_columns (PmFlow *flow, PmFlow *left, PmFlow *right, double share)
{
  FlowBlock block = { .kind = BLOCK_COLUMNS, .left = left, .right = right, .share = share };

  g_array_append_val (flow->blocks, block);
}

void
pm_flow_gap (PmFlow *flow, double lines)
{
  FlowBlock block = { .kind = BLOCK_GAP, .share = lines };

  g_array_append_val (flow->blocks, block);
}

/* ---- pieces */

/* Tables are a little smaller than the words around them. */
static double
table_size (double size)
{
  return MAX (PM_SMALLEST_TEXT, size - 0.5);
}

static void
add_piece (GArray *pieces, PmInk *ink, double height, double before, gboolean keep)
{
  PmPiece piece = { .ink = ink, .height = height, .before = before, .keep = keep };

  g_array_append_val (pieces, piece);
}

static void
set_note (PmFlow *flow, const char *text, double width, double size, GArray *pieces)
{
  PmInk *ink = pm_ink_new ();
  double height = pm_ink_paragraph (ink, flow->type, 0, 0, width, text, table_size (size), PM_INK_FAINT);

  add_piece (pieces, ink, height, size * 0.35, FALSE);
}

static void
set_marked (PmFlow *flow, const FlowBlock *block, double width, double size, GArray *pieces)
{
  PmInk *ink = pm_ink_new ();
  double mark_width, mark_height, line = pm_type_line (flow->type, size), down, height;

  pm_mark_severity_measure (pm_type_style (flow->type), pm_type_context (flow->type), &mark_width, &mark_height);
  down = MAX (0, (mark_height - line) / 2);
  pm_ink_mark (ink, flow->type, 0, MAX (0, (line - mark_height) / 2), block->severity);
  height = pm_ink_paragraph (ink, flow->type, mark_width + 7, down, width - mark_width - 7, block->text, size,
                             block->severity == PM_SEVERITY_NOTE ? 0 : PM_INK_BOLD);
  add_piece (pieces, ink, MAX (mark_height, height + down), size * 0.4, block->keep);
}

static void
set_list (PmFlow *flow, const FlowBlock *block, double width, double size, GArray *pieces, GPtrArray *tables)
{
  const PmList *list = block->list;

  if (list->about) {
    PmInk *ink = pm_ink_new ();
    double height = pm_ink_paragraph (ink, flow->type, 0, 0, width, list->about, size, 0);

    add_piece (pieces, ink, height, size * 0.4, TRUE);
  }
  if (list->n_rows > 0) {
    PmFlowTable *table = pm_flow_table_new (flow->type, list, (const char *const *) block->columns, width,
                                            table_size (size), size <= PM_SMALLEST_TEXT);

    g_ptr_array_add (tables, table);
    pm_flow_table_pieces (table, pieces);
  }
  for (guint i = 0; list->notes[i]; i++)
    set_note (flow, list->notes[i], width, size, pieces);
}

static void set_pieces (PmFlow *flow, double width, double size, GArray *pieces, GPtrArray *tables);

static double
stack (GArray *pieces, PmInk *ink, double x)
{
  double y = 0;

  for (guint i = 0; i < pieces->len; i++) {
    PmPiece *piece = &g_array_index (pieces, PmPiece, i);

    y += i > 0 ? piece->before : 0;
    pm_ink_take (ink, g_steal_pointer (&piece->ink), x, y);
    y += piece->height;
  }
  return y;
}

static void
set_columns (const FlowBlock *block, double width, double size, GArray *pieces, GPtrArray *tables)
{
  PmInk *ink = pm_ink_new ();
  double left = (width - COLUMN_GAP) * block->share, height, other;
  g_autoptr (GArray) parts = g_array_new (FALSE, FALSE, sizeof (PmPiece));

  set_pieces (block->left, left, size, parts, tables);
  height = stack (parts, ink, 0);
  g_array_set_size (parts, 0);
  set_pieces (block->right, width - left - COLUMN_GAP, size, parts, tables);
  other = stack (parts, ink, left + COLUMN_GAP);
  add_piece (pieces, ink, MAX (height, other), size * 0.6, FALSE);
}

static void
set_words (PmFlow *flow, const FlowBlock *block, double width, double size, GArray *pieces)
{
  PmInk *ink = pm_ink_new ();
  PmType *type = flow->type;
  double height;

  switch (block->kind) {
  case BLOCK_HEADING: {
    double big = size * HEADINGS[block->rank];

    height = pm_ink_paragraph (ink, type, 0, 0, width, block->text, big, PM_INK_BOLD);
    if (block->rank == 0) {
      pm_ink_line (ink, 0, height + 2, width, height + 2, 1.4, 0);
      height += 4;
    }
    add_piece (pieces, ink, height, block->rank == 0 ? size * 1.8 : size * 1.1, TRUE);
    break;
  }
  case BLOCK_BULLET:
    pm_ink_text (ink, type, 2, 0, "•", size, 0);
    height = pm_ink_paragraph (ink, type, 11, 0, width - 11, block->text, size, 0);
    add_piece (pieces, ink, height, size * 0.25, FALSE);
    break;
  case BLOCK_BLANK: {
    double wide = pm_type_width (type, block->text, size, FALSE);

    height = pm_type_line (type, size) * 1.7;
    pm_ink_text (ink, type, 0, height - pm_type_line (type, size), block->text, size, 0);
    pm_ink_line (ink, wide > 0 ? wide + 6 : 0, height - 1, width, height - 1, 0.6, PM_INK_FAINT);
    add_piece (pieces, ink, height, 2, FALSE);
    break;
  }
  default:
    height = pm_ink_paragraph (ink, type, 0, 0, width, block->text, size, block->rank);
    add_piece (pieces, ink, height, size * 0.45, (block->rank & PM_INK_BOLD) != 0);
  }
}

static void
set_pieces (PmFlow *flow, double width, double size, GArray *pieces, GPtrArray *tables)
{
  for (guint i = 0; i < flow->blocks->len; i++) {
    const FlowBlock *block = &g_array_index (flow->blocks, FlowBlock, i);

    switch (block->kind) {
    case BLOCK_MARKED:
      set_marked (flow, block, width, size, pieces);
      break;
    case BLOCK_NOTE:
      set_note (flow, block->text, width, size, pieces);
      break;
    case BLOCK_LIST:
      set_list (flow, block, width, size, pieces, tables);
      break;
    case BLOCK_PICTURE: {
      double height = 0;
      PmInk *ink = block->make (flow->type, width, size, &height, block->data);

      add_piece (pieces, ink, height, size * 0.6, FALSE);
      break;
    }
    case BLOCK_COLUMNS:
      set_columns (block, width, size, pieces, tables);
      break;
    case BLOCK_GAP:
      add_piece (pieces, pm_ink_new (), block->share * size, 0, FALSE);
      break;
    case BLOCK_HEADING:
    case BLOCK_WORDS:
    case BLOCK_BULLET:
    case BLOCK_BLANK:
    default:
      set_words (flow, block, width, size, pieces);
    }
  }
}

/* ---- pages */

static double
head_height (const PmPiece *piece)
{
  double height = 0;

  if (piece->table)
    pm_ink_free (pm_flow_table_head (piece->table, piece->block, &height));
  return height;
}

/* Height of pieces that must stand on one page, from index on, as far as a page of most height can hold them; sets
 * how many. */
static double
group_height (GArray *pieces, guint from, double most, guint *n)
{
  double height = g_array_index (pieces, PmPiece, from).height;
  guint i = from;

  while (g_array_index (pieces, PmPiece, i).keep && i + 1 < pieces->len) {
    double more = g_array_index (pieces, PmPiece, i + 1).before + g_array_index (pieces, PmPiece, i + 1).height;

    if (height + more > most)
      break;
    i++;
    height += more;
  }
  *n = i - from + 1;
  return height;
}

GPtrArray *
pm_flow_pages (PmFlow *flow, double width, double first, double height, double size, double *last)
{
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (PmPiece));
  g_autoptr (GPtrArray) tables = g_ptr_array_new_with_free_func ((GDestroyNotify) pm_flow_table_free);
  GPtrArray *pages = g_ptr_array_new_with_free_func ((GDestroyNotify) pm_ink_free);
  PmInk *page = pm_ink_new ();
  double y = 0, room = first;

  g_ptr_array_add (pages, page);
  set_pieces (flow, width, size, pieces, tables);
  for (guint i = 0; i < pieces->len;) {
    guint n;
    double group = group_height (pieces, i, height, &n);
    const PmPiece *lead = &g_array_index (pieces, PmPiece, i);

    if (y + (y > 0 ? lead->before : 0) + group > room + 0.01 && (y > 0 || room < height)) {
      page = pm_ink_new ();
      g_ptr_array_add (pages, page);
      y = 0;
      room = height;
      if (lead->table && head_height (lead) > 0) {
        double head;

        pm_ink_take (page, pm_flow_table_head (lead->table, lead->block, &head), 0, 0);
        y = head;
      }
    }
    for (guint k = 0; k < n; k++, i++) {
      PmPiece *piece = &g_array_index (pieces, PmPiece, i);

      y += y > 0 ? piece->before : 0;
      pm_ink_take (page, g_steal_pointer (&piece->ink), 0, y);
      y += piece->height;
    }
  }
  if (last)
    *last = y;
  return pages;
}

double
pm_flow_wants (PmFlow *flow, double size)
{
  double wants = 0;

  for (guint i = 0; i < flow->blocks->len; i++) {
    const FlowBlock *block = &g_array_index (flow->blocks, FlowBlock, i);

    if (block->list && block->list->n_rows > 0)
      wants = MAX (wants, pm_flow_table_wants (flow->type, block->list, (const char *const *) block->columns,
                                               table_size (size)));
  }
  return wants;
}
