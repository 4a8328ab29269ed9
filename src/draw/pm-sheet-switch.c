/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Switch and lead: the front, the lugs from behind, what each place does, the plug turned round, a label to cut out. */
#include "config.h"
#include "pm-sheet.h"
#include "pm-cases.h"
#include "pm-naming.h"
#include "pm-switch-picture.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define LUG_WIDTH 22.0
#define LUG_HEIGHT 18.0
#define HOLE (6.5 * PM_MM)

typedef struct {
  const PmCheck   *check;
  const PmSwitch  *sw;
  PmSwitchPicture *front;
} View;

static void
view_free (gpointer data)
{
  View *view = data;

  if (view->front)
    pm_switch_picture_free (view->front);
  g_free (view);
}

static View *
view_new (const PmCheck *check, const PmSwitch *sw)
{
  View *view = g_new0 (View, 1);

  view->check = check;
  view->sw = sw;
  return view;
}

static const PmPart *
part_of (const View *view)
{
  return view->check->board->instances[view->sw->instance].part;
}

static guint32
lug_place (const View *view, guint pin)
{
  return view->check->board->instances[view->sw->instance].first_place + pin;
}

/* ---- front */

static void
front_draw (cairo_t *cr, const PmType *type, double width, double height, gpointer data)
{
  pm_switch_picture_draw (((View *) data)->front, cr);
}

static char **
front_check (gpointer data)
{
  return pm_switch_picture_check (((View *) data)->front);
}

static PmInk *
front_picture (PmType *type, double width, double size, double *height, gpointer data)
{
  View *view = data;
  PmInk *ink = pm_ink_new ();
  double wide, high;

  pm_switch_picture_measure (view->sw, pm_type_style (type), pm_type_context (type), NULL, NULL, &wide, &high);
  wide = MIN (wide, width);
  if (!view->front)
    view->front = pm_switch_picture_new (view->sw, view->sw->usual, wide, high, pm_type_style (type),
                                         pm_type_context (type));
  pm_ink_picture (ink, 0, 0, wide, high, front_draw, front_check, view);
  *height = high;
  return ink;
}

/* ---- lugs from behind */

/* "J3.2", where the lug's plug meets it; the lug's own name where it has no plug. */
static char *
lug_meets (const View *view, guint pin)
{
  guint32 place = lug_place (view, pin), plugged = pm_name_plugged (view->check->board, place);

  return plugged == place ? NULL : pm_name_pin (view->check->board, plugged);
}

static void
draw_lug (PmInk *ink, PmType *type, const View *view, guint pin, double x, double y)
{
  g_autofree char *meets = lug_meets (view, pin);

  pm_ink_box (ink, x, y, LUG_WIDTH, LUG_HEIGHT, 1, -1, 0);
  pm_ink_text (ink, type, x + LUG_WIDTH / 2, y + (LUG_HEIGHT - pm_type_line (type, 9)) / 2,
               part_of (view)->pins[pin].number, 9, PM_INK_BOLD | PM_INK_CENTRE);
  if (meets)
    pm_ink_text (ink, type, x + LUG_WIDTH + 4, y + (LUG_HEIGHT - pm_type_line (type, 8)) / 2, meets, 8, 0);
}

/* Poles stand side by side, seen from behind: the first at the right. */
static double
draw_lug_block (PmInk *ink, PmType *type, const View *view, double width)
{
  const PmPart *part = part_of (view);
  guint in_pole = part->n_pins % 3 == 0 ? 3 : part->n_pins, poles = part->n_pins / in_pole;
  double pitch = LUG_WIDTH + 12, step = LUG_HEIGHT + 6;

  for (guint i = 0; i < part->n_pins; i++) {
    g_autofree char *meets = lug_meets (view, i);

    pitch = MAX (pitch, LUG_WIDTH + 14 + (meets ? pm_type_width (type, meets, 8, FALSE) : 0));
  }
  pm_ink_box (ink, 0, 0, poles * pitch + 10, in_pole * step + 8, 1.4, -1, 0);
  for (guint i = 0; i < part->n_pins; i++)
    draw_lug (ink, type, view, i, 9 + (poles - 1 - i / in_pole) * pitch, 7 + i % in_pole * step);
  return in_pole * step + 8;
}

/* A knob's lugs stand round it, the poles' own inside; seen from behind they count against the clock. */
static double
draw_lug_ring (PmInk *ink, PmType *type, const View *view, double width)
{
  const PmPart *part = part_of (view);
  g_autoptr (GArray) outer = g_array_new (FALSE, FALSE, sizeof (guint)), inner = g_array_new (FALSE, FALSE,
                                                                                              sizeof (guint));
  double wide = LUG_WIDTH, radius, middle;

  for (guint i = 0; i < part->n_pins; i++) {
    wide = MAX (wide, pm_type_width (type, part->pins[i].number, 8, FALSE) + 6);
    if (strlen (part->pins[i].number) > 1)
      g_array_append_val (outer, i);
    else
      g_array_append_val (inner, i);
  }
  radius = MAX (46, outer->len * (wide + 2) / (2 * G_PI));
  radius = MIN (radius, width / 2 - wide);
  middle = radius + 14;
  pm_ink_ring (ink, middle, middle, radius + 13, 1.4, -1);
  for (guint k = 0; k < outer->len + inner->len; k++) {
    gboolean out = k < outer->len;
    guint pin = out ? g_array_index (outer, guint, k) : g_array_index (inner, guint, k - outer->len);
    double turn = 2 * G_PI * (out ? k + 0.5 : k - outer->len + 0.5) / (out ? outer->len : inner->len);
    double r = out ? radius : inner->len > 1 ? radius * 0.42 : 0;

    pm_ink_text (ink, type, middle - r * sin (turn), middle - r * cos (turn) - pm_type_line (type, 8) / 2,
                 part->pins[pin].number, 8, PM_INK_CENTRE | PM_INK_BOLD);
  }
  return 2 * middle;
}

static PmInk *
lugs_picture (PmType *type, double width, double size, double *height, gpointer data)
{
  View *view = data;
  PmInk *ink = pm_ink_new ();

  *height = view->sw->look == PM_LOOK_ROTARY ? draw_lug_ring (ink, type, view, width)
                                             : draw_lug_block (ink, type, view, width);
  return ink;
}

/* ---- label */

/* True size; names beside the lever as the front picture has them, below each other for more than two. */
static PmInk *
label_picture (PmType *type, double width, double size, double *height, gpointer data)
{
  View *view = data;
  const PmSwitch *sw = view->sw;
  PmInk *ink = pm_ink_new ();
  double wide = 0, text = 9.5, line = pm_type_line (type, text), hole = sw->look == PM_LOOK_TOGGLE ? HOLE : 10 * PM_MM;
  const char *warning = _("only with the power off");
  double w, h, x = 14, y = 14;
  gboolean beside = sw->n_positions == 2;
  g_autofree char *says = NULL, *title = pm_type_shorten (type, sw->title, text, FALSE, width - 40);

  for (guint i = 0; i < sw->n_positions; i++)
    wide = MAX (wide, pm_type_width (type, pm_position_title (sw, i), text, TRUE));
  beside = beside && 2 * wide + hole + 36 <= width - 28;
  w = MAX ((beside ? 2 : 1) * wide + hole + 36, 40 * PM_MM);
  w = MAX (w, pm_type_width (type, warning, 8, FALSE) + 12);
  w = MIN (MAX (w, pm_type_width (type, title, text, FALSE) + 12), width - 28);
  h = line + (beside ? MAX (hole, line) + 12 : hole + 10 + sw->n_positions * line + 4) + pm_type_line (type, 8) + 10;
  w = ceil (w / PM_MM) * PM_MM;
  h = ceil (h / PM_MM) * PM_MM;
  pm_ink_box (ink, x, y, w, h, 0.6, -1, 0);
  for (guint i = 0; i < 4; i++) {
    double cx = x + (i & 1 ? w : 0), cy = y + (i & 2 ? h : 0), dx = i & 1 ? 1 : -1, dy = i & 2 ? 1 : -1;

    pm_ink_line (ink, cx, cy + dy * 2, cx, cy + dy * 10, 0.6, 0);
    pm_ink_line (ink, cx + dx * 2, cy, cx + dx * 10, cy, 0.6, 0);
  }
  pm_ink_text (ink, type, x + w / 2, y + 4, title, text, PM_INK_CENTRE);
  y += 4 + line + 4 + hole / 2;
  pm_ink_ring (ink, x + w / 2, y, hole / 2, 0.8, -1);
  pm_ink_line (ink, x + w / 2 - 4, y, x + w / 2 + 4, y, 0.5, 0);
  pm_ink_line (ink, x + w / 2, y - 4, x + w / 2, y + 4, 0.5, 0);
  if (beside) {
    pm_ink_text (ink, type, x + w / 2 - hole / 2 - 5, y - line / 2, pm_position_title (sw, 0), text,
                 PM_INK_BOLD | PM_INK_RIGHT);
    pm_ink_text (ink, type, x + w / 2 + hole / 2 + 5, y - line / 2, pm_position_title (sw, 1), text, PM_INK_BOLD);
  } else
    for (guint i = 0; i < sw->n_positions; i++)
      pm_ink_text (ink, type, x + w / 2, y + hole / 2 + 4 + i * line, pm_position_title (sw, i), text,
                   PM_INK_BOLD | PM_INK_CENTRE);
  pm_ink_text (ink, type, x + w / 2, 14 + h - pm_type_line (type, 8) - 3, warning, 8, PM_INK_CENTRE);
  says = g_strdup_printf (_("%.0f × %.0f mm; the ring is %.1f mm wide"), w / PM_MM, h / PM_MM, hole / PM_MM);
  pm_ink_text (ink, type, x, 14 + h + 14, says, 8, PM_INK_FAINT);
  *height = 14 + h + 14 + pm_type_line (type, 8);
  return ink;
}

/* ---- tables */

/* The setting in which this switch stands at a position and the others as the file puts them. */
static guint
case_at (const PmCheck *check, guint sw, guint position)
{
  for (guint c = 1; c <= check->n_settings; c++) {
    gboolean fits = check->cases[c].positions[sw] == (int) position;

    for (guint s = 0; s < check->board->n_switches && fits; s++)
      fits = s == sw || check->cases[c].positions[s] == check->cases[check->usual].positions[s];
    if (fits)
      return c;
  }
  return 0;
}

static char *
reach_words (const PmCheck *check, guint c)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint u = 0; u < check->board->host.n_units; u++) {
    g_autofree char *reach = pm_check_reach_text (check, c, u);

    g_string_append_printf (text, "%s%s: %s", u > 0 ? "; " : "", check->board->host.units[u].name, reach);
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static PmList *
positions_list (const PmCheck *check, guint s)
{
  static const PmSheetColumn COLUMNS[] = { { "place", N_("Place"), PM_CELLS_TEXT },
                                           { "joins", N_("Joins lugs"), PM_CELLS_TEXT },
                                           { "reaches", N_("Then"), PM_CELLS_TEXT },
                                           { NULL, NULL, 0 } };
  const PmBoard *board = check->board;
  const PmSwitch *sw = &board->switches[s];
  PmList *list = pm_sheet_list (COLUMNS);

  for (guint p = 0; p < sw->n_positions; p++) {
    guint c = case_at (check, s, p);
    g_autofree char *reaches = c > 0 ? reach_words (check, c) : g_strdup ("");
    g_autoptr (GString) joins = g_string_new (NULL);

    for (guint k = 0; k < sw->positions[p].n_pairs; k++)
      g_string_append_printf (joins, "%s%s–%s", k > 0 ? ", " : "",
                              pm_name_number (board, sw->positions[p].pairs[k].a),
                              pm_name_number (board, sw->positions[p].pairs[k].b));
    pm_sheet_row (list, PM_ROW_PLAIN, pm_position_title (sw, p), joins->len > 0 ? joins->str : _("none"), reaches,
                  NULL);
  }
  return list;
}

/* What else is on the metal of a place, by the board's joins: "choose: U1.S, R1.1". */
static char *
joined_words (const PmBoard *board, guint32 place)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint j = 0; j < board->n_joins; j++) {
    const PmJoin *join = &board->joins[j];
    gboolean here = FALSE;
    guint told = 0;

    for (guint k = 0; k < join->n_places; k++)
      here = here || join->places[k] == place;
    if (!here || join->kind == PM_JOIN_THROUGH || join->kind == PM_JOIN_CUT)
      continue;
    if (text->len > 0)
      g_string_append (text, "; ");
    if (join->name)
      g_string_append_printf (text, "%s: ", join->name);
    for (guint k = 0; k < join->n_places; k++)
      if (join->places[k] != place && ++told <= 4) {
        g_autofree char *pin = pm_name_pin (board, join->places[k]);

        g_string_append_printf (text, "%s%s", told > 1 ? ", " : "", pin);
      }
    if (told > 4)
      g_string_append (text, ", …");
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static PmList *
lugs_list (const View *view)
{
  static const PmSheetColumn COLUMNS[] = { { "lug", N_("Lug"), PM_CELLS_TEXT },
                                           { "meets", N_("Plug’s pin"), PM_CELLS_TEXT },
                                           { "joined", N_("On the board"), PM_CELLS_TEXT },
                                           { "colour", N_("Wire’s colour"), PM_CELLS_BLANK },
                                           { NULL, NULL, 0 } };
  const PmPart *part = part_of (view);
  PmList *list = pm_sheet_list (COLUMNS);

  for (guint i = 0; i < part->n_pins; i++) {
    g_autofree char *meets = lug_meets (view, i);
    g_autofree char *joined = joined_words (view->check->board,
                                            pm_name_plugged (view->check->board, lug_place (view, i)));

    pm_sheet_row (list, PM_ROW_PLAIN, part->pins[i].number, meets ? meets : _("soldered"),
                  joined[0] ? joined : _("nothing"), NULL);
  }
  return list;
}

/* What the lead does when it is off or turned round, from the cases that were tried. */
static PmList *
lead_list (const PmCheck *check, const PmSwitch *sw)
{
  static const PmSheetColumn COLUMNS[] = { { "lead", N_("Lead"), PM_CELLS_TEXT },
                                           { "setting", N_("Lever at"), PM_CELLS_TEXT },
                                           { "reaches", N_("Then"), PM_CELLS_TEXT },
                                           { "verdict", N_("Verdict"), PM_CELLS_TEXT },
                                           { NULL, NULL, 0 } };
  PmList *list = pm_sheet_list (COLUMNS);

  for (guint c = 0; c < check->n_cases; c++) {
    const PmCaseResult *result = &check->cases[c];
    gsize n = strlen (sw->name);

    if ((result->kind == PM_CASE_TURNED || result->kind == PM_CASE_REMOVED) &&
        strncmp (result->name, sw->name, n) == 0 && result->name[n] == ' ') {
      g_autofree char *reaches = reach_words (check, c);
      gboolean off = result->kind == PM_CASE_REMOVED, told = FALSE;

      /* Where the lead is off the lever's place is of no matter: said once. */
      for (guint r = 0; r < list->n_rows && off; r++)
        told = told || (g_str_equal (list->rows[r].cells[0], _("unplugged")) &&
                        g_str_equal (list->rows[r].cells[2], reaches) &&
                        g_str_equal (list->rows[r].cells[3], result->verdict));
      if (told)
        continue;
      pm_sheet_row (list, PM_ROW_PLAIN, off ? _("unplugged") : _("plug turned round"),
                    off ? _("any") : check->cases[result->setting].name, reaches, result->verdict, NULL);
    }
  }
  return list;
}

static void
add_switch (PmFlow *flow, const PmSheetInput *in, guint s)
{
  const PmCheck *check = in->check;
  const PmSwitch *sw = &check->board->switches[s];
  const PmPart *part = check->board->instances[sw->instance].part;
  gboolean panel = sw->look != PM_LOOK_JUMPER;
  PmFlow *front = pm_flow_new (in->type), *behind = pm_flow_new (in->type), *label = pm_flow_new (in->type);
  g_autofree char *heading = g_strdup_printf (_("%s, %s: %s"), sw->name, sw->title, part->title);
  PmList *lead = lead_list (check, sw);

  pm_flow_heading (flow, 1, heading);
  pm_flow_strong (front, _("From the front"));
  pm_flow_picture (front, front_picture, view_new (check, sw), view_free);
  if (panel) {
    PmFlow *rest = pm_flow_new (in->type);

    pm_flow_strong (behind, _("Lugs from behind"));
    pm_flow_picture (behind, lugs_picture, view_new (check, sw), view_free);
    pm_flow_strong (label, _("Label, true size: print at 100 %"));
    pm_flow_picture (label, label_picture, view_new (check, sw), view_free);
    pm_flow_columns (rest, behind, label, 0.4);
    pm_flow_columns (flow, front, rest, 0.3);
  } else {
    pm_flow_free (label);
    pm_flow_columns (flow, front, behind, 0.5);
  }
  pm_flow_list (flow, positions_list (check, s), NULL);
  if (!sw->while_running)
    pm_flow_marked (flow, PM_SEVERITY_CARE, _("Move it only with the power off, then start again."), FALSE);
  pm_flow_list (flow, lugs_list (&(View) { check, sw, NULL }), NULL);
  if (lead->n_rows > 0)
    pm_flow_list (flow, lead, NULL);
  else
    pm_list_free (lead);
  if (part->note && panel) {
    g_autofree char *note = g_strdup_printf (_("From the part’s file: %s"), part->note);

    pm_flow_note (flow, note);
  }
}

PmFlow *
pm_sheet_switch (const PmSheetInput *in, guint degree)
{
  const PmBoard *board = in->check->board;
  PmFlow *flow = pm_flow_new (in->type);

  pm_flow_heading (flow, 0, pm_sheet_title (PM_SHEET_SWITCH));
  for (guint s = 0; s < board->n_switches; s++)
    if (pm_sheet_is_hand_switch (board, s))
      add_switch (flow, in, s);
  pm_flow_note (flow, _("Lugs are numbered as in the part’s file. Switches often bear no numbers, and makers number "
                        "differently: find the lugs that a place joins with the meter before soldering."));
  return flow;
}
