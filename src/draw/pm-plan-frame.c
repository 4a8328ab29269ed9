/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Columns and rows of a track plan, and where links arrive.
 *
 * The frame depends on the check's settings and the size only, never on the case drawn.  When height is short, a row of
 * economies gives way in a fixed order: the drives' faces, the board's name, words under drives, the machine's title.
 * Tracks and names of drives and selects are never given up.
 */
#include "config.h"
#include "pm-plan-private.h"

#include <glib/gi18n-lib.h>

/* What is kept at a level of economy. */
typedef struct {
  gboolean full_boxes, all_sides, board_label, host_title;
} Economy;
static const Economy ECONOMIES[] = {
  { TRUE, TRUE, TRUE, TRUE },   { TRUE, TRUE, FALSE, TRUE },   { FALSE, TRUE, TRUE, TRUE },
  { FALSE, TRUE, FALSE, TRUE }, { FALSE, FALSE, FALSE, TRUE }, { FALSE, FALSE, FALSE, FALSE },
};

/* In em. */
#define FULL_BOX 3.4
#define LOW_BOX  1.7
#define ROW_GAP  0.55
/* Of the room between the columns a diagonal takes so much; the rest stays level, for joints and words. */
#define LEVEL_SHARE 0.85
#define SPARE_PITCH 4.5
#define SHORT_GATE  1.5
#define HOST_SHARE  0.25
#define DRIVE_SHARE 0.36

double
pm_plan_snap (double y, double line_width)
{
  return (int) line_width % 2 ? floor (y) + 0.5 : round (y);
}

double
pm_plan_row_y (const PmPlanFrame *frame, guint row)
{
  return pm_plan_snap (frame->first_row + row * frame->pitch, frame->m.line);
}

static double
text_width (const PmStyle *style, PangoContext *context, const char *text, double size, gboolean bold, double *height)
{
  g_autoptr (PangoLayout) layout = pm_style_layout (style, context, text, size, bold);
  int w, h;

  pango_layout_get_pixel_size (layout, &w, &h);
  if (height)
    *height = h;
  return w;
}

static void
metrics_init (PmPlanMetrics *m, const PmStyle *style, PangoContext *context)
{
  m->em = pm_style_em (style, context);
  m->line = MAX (2, round (m->em * 0.34));
  m->thin = MAX (1, floor (m->em / 8));
  m->end = MAX (5, round (m->em * 1.0));
  m->joint = round (m->em * 0.78);
  text_width (style, context, "Ag", 1, FALSE, &m->text);
  text_width (style, context, "Ag", 0.85, FALSE, &m->small);
}

static int
side_rank (const PmSideLine *side)
{
  static const int RANKS[PM_N_SIDES] = {
    [PM_SIDE_STAYS] = 0, [PM_SIDE_HELD] = 1, [PM_SIDE_NOT_CERTAIN] = 2, [PM_SIDE_FOLLOWS] = 3, [PM_SIDE_NOT_JUDGED] = 4
  };

  return RANKS[side->side];
}

guint
pm_plan_sides (const PmCaseResult *result, guint drive, const PmSideLine **out, guint max)
{
  guint n = 0;

  for (int rank = 0; rank < 5; rank++) {
    for (guint i = 0; i < result->n_sides && n < max; i++) {
      const PmSideLine *side = &result->sides[i];
      gboolean said = FALSE;

      if (side->drive != drive || side_rank (side) != rank)
        continue;
      for (guint k = 0; k < n; k++)
        said |= g_strcmp0 (out[k]->text, side->text) == 0;
      if (!said)
        out[n++] = side;
    }
  }
  return n;
}

/* Settings make the frame; variations, which are shown in a setting's card, are drawn into it. */
static gboolean
makes_frame (const PmCaseResult *result)
{
  return result->kind == PM_CASE_WITHOUT_BOARD || result->kind == PM_CASE_SETTING;
}

/* The longest column of words under a drive, and the widest word there, over all settings. */
static guint
measure_sides (const PmCheck *check, const PmStyle *style, PangoContext *context, double *widest)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  guint rows = 0;

  *widest = 0;
  for (guint c = 0; c < check->n_cases; c++) {
    for (guint d = 0; d < check->board->n_drives && makes_frame (&check->cases[c]); d++) {
      const PmSideLine *sides[8];
      guint n = pm_plan_sides (&check->cases[c], d, sides, G_N_ELEMENTS (sides));

      rows = MAX (rows, MIN (n, 4));
      for (guint i = 0; i < n; i++) {
        if (sides[i]->text && g_hash_table_add (seen, sides[i]->text))
          *widest =
            MAX (*widest, text_width (style, context, sides[i]->text, 0.85, sides[i]->side != PM_SIDE_FOLLOWS, NULL));
      }
    }
  }
  return rows;
}

static gboolean
is_wanted (const PmBoard *board, const PmCaseResult *result, guint unit, guint drive)
{
  const PmWantCell *want;

  if (result->wanted == PM_NONE || result->wanted >= board->n_wanted)
    return FALSE;
  want = &board->wanted[result->wanted].units[unit];
  return want->want == PM_WANT_DRIVE && want->drive == drive;
}

typedef struct {
  double host, drive; /* natural widths of the columns */
  double least_host, least_drive;
  guint n_rows, side_rows;
  guint steepest; /* rows between the ends of the steepest link of any setting */
  gboolean boxes; /* some track of some setting goes through a box */
  guint ports;    /* the most tracks that come to one drive in a setting */
} Needs;

static void
needs_init (Needs *needs, const PmPlanMetrics *m, const PmCheck *check, const PmStyle *style, PangoContext *context)
{
  const PmBoard *board = check->board;
  double sides;

  needs->n_rows = MAX (1, MAX (board->host.n_units, board->n_drives));
  needs->side_rows = measure_sides (check, style, context, &sides);
  needs->host = text_width (style, context, board->host.title, 0.9, TRUE, NULL) + 1.1 * m->em;
  needs->least_host = 3 * m->em;
  for (guint u = 0; u < board->host.n_units; u++)
    needs->least_host =
      MAX (needs->least_host, text_width (style, context, board->host.units[u].name, 0.95, FALSE, NULL) + 1.5 * m->em);
  needs->host = MAX (needs->host, needs->least_host + 0.8 * m->em);
  needs->drive = 0;
  for (guint d = 0; d < board->n_drives; d++)
    needs->drive =
      MAX (needs->drive, text_width (style, context, board->drives[d].title, 0.95, TRUE, NULL) + 3.6 * m->em);
  needs->least_drive = 5.6 * m->em;
  needs->drive = MAX (MAX (needs->drive, 8.6 * m->em), sides + 1.9 * m->em);
  needs->steepest = 0;
  needs->boxes = FALSE;
  needs->ports = 1;
  for (guint c = 0; c < check->n_cases; c++) {
    for (guint d = 0; d < board->n_drives && makes_frame (&check->cases[c]); d++) {
      guint ports = 0;
      for (guint u = 0; u < board->host.n_units; u++) {
        PmAnswer answer = check->cases[c].cells[u * board->n_drives + d].answer;

        if (answer == PM_ANSWER_NEVER && !is_wanted (board, &check->cases[c], u, d))
          continue;
        needs->steepest = MAX (needs->steepest, u > d ? u - d : d - u);
        needs->boxes |= answer != PM_ANSWER_NEVER && answer != PM_ANSWER_YES;
        ports++;
      }
      needs->ports = MAX (needs->ports, ports);
    }
  }
}

static double
pitch_need (const PmPlanMetrics *m, const Economy *e, guint side_rows)
{
  double box = round ((e->full_boxes ? FULL_BOX : LOW_BOX) * m->em);

  return box + (e->all_sides ? side_rows * m->small + (side_rows ? 0.25 * m->em : 0) : 0) + ROW_GAP * m->em;
}

/* Above the first row and under the last one. */
static void
margins (const PmPlanMetrics *m, const Economy *e, guint side_rows, double title_height, double *above, double *below)
{
  double box = round ((e->full_boxes ? FULL_BOX : LOW_BOX) * m->em);
  double sides = e->all_sides && side_rows ? side_rows * m->small + 0.25 * m->em : 0;

  *above = MAX (box / 2 + m->thin, (e->host_title ? title_height + 1.6 * m->em : 1.1 * m->em));
  *below = MAX (box / 2 + sides + m->thin, (e->board_label ? 2.9 : 1.2) * m->em);
}

static void
frame_columns (PmPlanFrame *f, const Needs *needs)
{
  const PmPlanMetrics *m = &f->m;
  double most_host = MAX (needs->least_host, HOST_SHARE * f->width);
  double most_drive = MAX (needs->least_drive, DRIVE_SHARE * f->width);
  double inset;

  f->host_x = 0;
  f->host_width = round (MIN (needs->host, most_host));
  f->drive_width = round (MIN (needs->drive, most_drive));
  f->drive_x = f->width - f->drive_width;
  inset = MIN (1.7 * m->em, (f->drive_x - f->host_width) / 11);
  f->board.x = floor (f->host_width + inset) + 0.5;
  f->board.width = floor (f->drive_x - inset) + 0.5 - f->board.x;
  f->left = round (f->board.x + MIN (1.2 * m->em, f->board.width / 12));
  f->right = round (f->board.x + f->board.width - MIN (1.0 * m->em, f->board.width / 12));
}

static double
title_height (const PmPlanFrame *f, const char *title, const PmStyle *style, PangoContext *context)
{
  g_autoptr (PangoLayout) layout = pm_style_layout (style, context, title, 0.9, TRUE);
  int h;

  pango_layout_set_width (layout, (int) ((f->host_width - 0.8 * f->m.em) * PANGO_SCALE));
  pango_layout_set_height (layout, -2);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_get_pixel_size (layout, NULL, &h);
  return h;
}

/* The width that a box on a track may take. */
static double
gate_width (const PmPlanFrame *f)
{
  double channel = f->right - f->left, em = f->m.em;

  return channel > 10 * em ? MIN (8 * em, 0.45 * channel) : round (SHORT_GATE * em);
}

/* The most that rows may be apart so that the steepest link fits between the columns at 45 degrees. */
static double
room_of_row (const PmPlanFrame *f, const Needs *needs)
{
  double boxes = needs->boxes ? gate_width (f) + GATE_LEAD * f->m.em : 0;

  return needs->steepest ? (f->right - f->left - boxes - 0.4 * f->m.em) / needs->steepest : G_MAXDOUBLE;
}

static void
frame_place (PmPlanFrame *f, double above, double below)
{
  const PmPlanMetrics *m = &f->m;
  double rows = (f->n_rows - 1) * f->pitch;

  f->first_row = floor (above + MAX (0, f->height - above - rows - below) / 2);
  f->platform_y = MAX (0, floor (f->first_row - above));
  f->platform_height = MIN (f->height, ceil (f->first_row + rows + below)) - f->platform_y;
  f->board.y = floor (MAX (f->platform_y, f->first_row - (f->board.width < 9 * m->em ? 3.3 : 2.0) * m->em)) + 0.5;
  f->board.height =
    floor (MIN (f->platform_y + f->platform_height - 1, f->first_row + rows + MAX (below, 2.0 * m->em))) + 0.5 -
    f->board.y;
}

void
pm_plan_frame_init (PmPlanFrame *f, const PmCheck *check, double width, double height, const PmStyle *style,
                    PangoContext *context)
{
  const PmPlanMetrics *m = &f->m;
  Needs needs;
  double title, above = 0, below = 0, need = 0, room, grow, under;
  guint level, gaps;

  memset (f, 0, sizeof *f);
  metrics_init (&f->m, style, context);
  needs_init (&needs, m, check, style, context);
  f->width = width;
  f->height = height;
  f->n_rows = needs.n_rows;
  frame_columns (f, &needs);
  title = title_height (f, check->board->host.title, style, context);
  gaps = f->n_rows - 1;
  room = room_of_row (f, &needs);
  /* Where no pitch is small enough for 45 degrees the room does not count; such cases are drawn with the middle left
   * open. */
  if (pitch_need (m, &ECONOMIES[G_N_ELEMENTS (ECONOMIES) - 1], needs.side_rows) > room)
    room = G_MAXDOUBLE;
  for (level = 0; level < G_N_ELEMENTS (ECONOMIES); level++) {
    need = pitch_need (m, &ECONOMIES[level], needs.side_rows);
    margins (m, &ECONOMIES[level], needs.side_rows, title, &above, &below);
    if (above + gaps * need + below <= height && (need <= room || gaps == 0))
      break;
  }
  if (level == G_N_ELEMENTS (ECONOMIES)) {
    level--;
    if (gaps)
      need = MAX (m->text, MIN (room, (height - above - below) / gaps));
  }
  f->full_boxes = ECONOMIES[level].full_boxes;
  f->board_label = ECONOMIES[level].board_label;
  f->host_title = ECONOMIES[level].host_title;
  f->box_height = MIN (round ((f->full_boxes ? FULL_BOX : LOW_BOX) * m->em), floor (need - 2));
  f->pitch = need;
  if (gaps)
    f->pitch =
      floor (MAX (need, MIN (MIN (need + SPARE_PITCH * m->em, LEVEL_SHARE * room), (height - above - below) / gaps)));
  /* Higher boxes where several tracks come to one. */
  grow = CLAMP (needs.ports * (m->end + 3) + 2 - f->box_height, 0, f->pitch - need);
  if (gaps && grow > 0) {
    double box = f->box_height;

    f->box_height = floor (box + grow);
    above = MAX (above, f->box_height / 2 + m->thin);
    below += MAX (0, grow / 2 - MAX (0, below - box / 2 - f->side_rows * m->small));
    f->pitch = floor (MAX (need, MIN (f->pitch, (height - above - below) / gaps)));
  }
  if ((int) f->box_height % 2 != (int) m->line % 2)
    f->box_height--; /* so that a level track meets the middle */
  frame_place (f, above, below);
  /* Between two rows and under the last one. */
  under = f->height - f->first_row - gaps * f->pitch - f->box_height / 2;
  if (gaps)
    under = MIN (under, f->pitch - f->box_height - ROW_GAP * m->em);
  f->side_rows = MIN (needs.side_rows, (guint) MAX (0, floor ((under - 0.25 * m->em) / m->small)));
}

void
pm_plan_measure (const PmCheck *check, const PmStyle *style, PangoContext *context, double *minimum_width,
                 double *minimum_height, double *natural_width, double *natural_height)
{
  PmPlanMetrics m;
  Needs needs;
  double above, below, rows;
  const Economy *least = &ECONOMIES[G_N_ELEMENTS (ECONOMIES) - 1];

  metrics_init (&m, style, context);
  needs_init (&needs, &m, check, style, context);
  rows = needs.n_rows - 1;
  if (minimum_width)
    *minimum_width = ceil (needs.least_host + needs.least_drive + 9 * m.em);
  if (natural_width)
    *natural_width = ceil (needs.host + needs.drive + 8 * m.em + (needs.boxes ? 9 * m.em : 0) +
                           needs.steepest * pitch_need (&m, &ECONOMIES[0], needs.side_rows));
  if (minimum_height) {
    margins (&m, least, needs.side_rows, m.text, &above, &below);
    *minimum_height = ceil (above + below + rows * pitch_need (&m, least, needs.side_rows));
  }
  if (natural_height) {
    margins (&m, &ECONOMIES[0], needs.side_rows, m.text, &above, &below);
    *natural_height = ceil (above + below + rows * (pitch_need (&m, &ECONOMIES[0], needs.side_rows) + 0.6 * m.em));
  }
}

static void
add_link (PmPlan *plan, PmLinkKind kind, guint unit, guint drive, guint port)
{
  PmLink link = { .kind = kind, .unit = unit, .drive = drive, .port = port };

  g_array_append_val (plan->links, link);
}

static guint
add_port (PmPlan *plan, guint drive, const char *text, const char *brief)
{
  PmPort port = { .drive = drive, .text = g_strdup (text), .brief = brief };

  g_array_append_val (plan->ports, port);
  return plan->ports->len - 1;
}

static const char *
gate_brief (PmAnswer answer)
{
  switch (answer) {
  case PM_ANSWER_DEPENDS:
    return _("depends");
  case PM_ANSWER_MAY:
    return _("not certain");
  case PM_ANSWER_NOT_DECIDED:
  case PM_ANSWER_NEVER:
  case PM_ANSWER_YES:
  case PM_N_ANSWERS:
  default:
    return _("not decided");
  }
}

static char *
gate_text (const PmCell *cell)
{
  if (cell->answer == PM_ANSWER_DEPENDS && cell->on)
    return g_strdup (cell->on);
  if (cell->answer == PM_ANSWER_MAY && cell->on)
    return g_strdup_printf (_("not certain: %s"), cell->on);
  return g_strdup (gate_brief (cell->answer));
}

/* Links of one drive, units top down; links that go through a box with the same words share it. */
static void
link_drive (PmPlan *plan, guint drive)
{
  for (guint u = 0; u < plan->board->host.n_units; u++) {
    const PmCell *cell = &plan->result->cells[u * plan->board->n_drives + drive];
    guint port = PM_NONE;

    if (cell->answer == PM_ANSWER_YES) {
      add_link (plan, PM_LINK_YES, u, drive, add_port (plan, drive, NULL, NULL));
    } else if (cell->answer == PM_ANSWER_NEVER) {
      if (is_wanted (plan->board, plan->result, u, drive))
        add_link (plan, PM_LINK_WANTED, u, drive, add_port (plan, drive, NULL, NULL));
    } else {
      g_autofree char *text = gate_text (cell);

      for (guint i = 0; i < plan->ports->len; i++) {
        const PmPort *other = PM_AT (plan->ports, PmPort, i);
        if (other->drive == drive && other->text && g_str_equal (other->text, text) && i + 1 == plan->ports->len)
          port = i;
      }
      if (port == PM_NONE)
        port = add_port (plan, drive, text, gate_brief (cell->answer));
      add_link (plan, PM_LINK_GATED, u, drive, port);
    }
  }
}

static guint
links_of_port (const PmPlan *plan, guint port)
{
  guint n = 0;

  for (guint i = 0; i < plan->links->len; i++)
    n += PM_AT (plan->links, PmLink, i)->port == port;
  return n;
}

PangoLayout *
pm_plan_gate_layout (const PmPlan *plan, const char *text, double width)
{
  PangoLayout *layout = pm_style_layout (plan->style, plan->context, text, 0.85, FALSE);

  pango_layout_set_width (layout, (int) (MAX (1, width - PM_GATE_AIR (&plan->frame.m)) * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD);
  pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
  return layout;
}

/* Text of a box in at most three lines; FALSE if it does not fit. */
static gboolean
box_size (const PmPlan *plan, const char *text, double most_width, double most_height, double *width, double *height)
{
  const PmPlanMetrics *m = &plan->frame.m;
  g_autoptr (PangoLayout) layout = pm_plan_gate_layout (plan, text, most_width);
  PangoRectangle logical;

  pango_layout_get_pixel_extents (layout, NULL, &logical);
  *width = ceil (logical.width + PM_GATE_AIR (m) + 2);
  *height = ceil (logical.height + 0.3 * m->em);
  return *width <= most_width && *height <= most_height && pango_layout_get_line_count (layout) <= 3;
}

/* Distance of the ports of a drive; so small, where that is enough, that the drive's own select, with so many ports at
 * one side, goes straight in. */
static double
port_gap (const PmPlanFrame *f, guint n_ports, double most_aside)
{
  double usual = floor (MIN (f->m.end + 3, (f->box_height - 2) / n_ports));
  double straight = most_aside > 0 ? floor ((f->box_height / 2 - f->m.line) / most_aside) : usual;

  return straight >= f->m.line + 4 ? MIN (usual, straight) : usual;
}

/* What width a port's box may have: the steepest track to it needs room as well. */
static double
box_room (const PmPlan *plan, guint port)
{
  const PmPlanFrame *f = &plan->frame;
  double steep = 0;

  for (guint i = 0; i < plan->links->len; i++) {
    const PmLink *link = PM_AT (plan->links, PmLink, i);
    if (link->port == port)
      steep = MAX (steep, fabs (link->y - pm_plan_row_y (f, link->unit)));
  }
  return MIN (8 * f->m.em, MIN (0.5 * (f->right - f->left), f->right - f->left - steep - (GATE_LEAD + 0.2) * f->m.em));
}

static gboolean
arrange_ports (PmPlan *plan, guint drive)
{
  const PmPlanFrame *f = &plan->frame;
  const PmPlanMetrics *m = &f->m;
  double most = f->n_rows > 1 ? f->pitch - 3 : 4 * m->em, y = pm_plan_row_y (f, drive);
  double gap, above, total = 0;
  g_autoptr (GArray) mine = g_array_new (FALSE, FALSE, sizeof (guint));
  guint own = PM_NONE, n_lines = 0;

  for (guint i = 0; i < plan->ports->len; i++) {
    if (PM_AT (plan->ports, PmPort, i)->drive == drive)
      g_array_append_val (mine, i);
  }
  for (guint i = 0; i < plan->links->len; i++) {
    const PmLink *link = PM_AT (plan->links, PmLink, i);
    n_lines += link->drive == drive;
    if (link->drive == drive && link->unit == drive)
      own = link->port;
  }
  if (n_lines == 0)
    return TRUE;
  above = 0;
  for (guint k = 0; k < mine->len; k++) {
    PmPort *port = PM_AT (plan->ports, PmPort, g_array_index (mine, guint, k));
    guint inside = links_of_port (plan, g_array_index (mine, guint, k));
    if (g_array_index (mine, guint, k) == own)
      above = k;
    port->spread = inside > 1 ? round (MIN (1.2 * m->em, (most - 4) / inside)) : 0;
    if (inside > 1 && port->spread < m->line + 3)
      return FALSE;
  }
  gap = port_gap (f, mine->len, own == PM_NONE ? 0 : MAX (above, mine->len - 1 - above));
  if (mine->len > 1 && gap < m->line + 4)
    return FALSE;
  total = (mine->len - 1) * gap;
  above =
    own == PM_NONE ? total / 2 : CLAMP (above * gap, total - f->box_height / 2 + m->line, f->box_height / 2 - m->line);
  for (guint k = 0; k < mine->len; k++) {
    guint index = g_array_index (mine, guint, k);
    PmPort *port = PM_AT (plan->ports, PmPort, index);
    guint nth = 0, inside = links_of_port (plan, index);

    port->gap = mine->len == 1 ? 4 * m->end : gap;
    port->y = mine->len == 1 ? y : y + round (k * gap - above);
    for (guint i = 0; i < plan->links->len; i++) {
      PmLink *link = PM_AT (plan->links, PmLink, i);
      if (link->port == index)
        link->y = port->y + pm_plan_snap ((nth++ - (inside - 1) / 2.0) * port->spread, 2);
    }
    if (port->text) {
      double w, h, round_inputs, most_width = box_room (plan, index);
      double most_height = mine->len == 1 ? most : gap - 2;

      port->shown = port->text;
      if (!box_size (plan, port->text, most_width, most_height, &w, &h)) {
        port->shown = port->brief;
        port->short_form = !box_size (plan, port->brief, most_width, most_height, &w, &h);
      }
      if (port->short_form && most_height < 1.15 * m->em)
        return FALSE;
      if (port->short_form)
        w = h = MIN (round (SHORT_GATE * m->em), most_height);
      round_inputs = port->short_form || inside == 1 ? m->line + 4 : m->end + 4;
      round_inputs = MIN (round_inputs, MAX (m->line + 4, most - (inside - 1) * port->spread));
      h = MAX (h, (inside - 1) * port->spread + round_inputs);
      port->box = (PmRect){ round (f->right - w), round (port->y - h / 2), w, h };
    }
  }
  return TRUE;
}

gboolean
pm_plan_link (PmPlan *plan)
{
  gboolean fits = TRUE;

  for (guint d = 0; d < plan->board->n_drives; d++) {
    link_drive (plan, d);
    fits = arrange_ports (plan, d) && fits;
  }
  return fits;
}
