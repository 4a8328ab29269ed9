/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The five checks with a meter, chosen by rule: the rails, one cut, each throw, the control level, one select.
 *
 * What must be read comes from the board: ohms from its joins and resistors in the setting, levels from what holds a
 * pin.  Limits are those of the table below.
 */
#include "config.h"
#include "pm-list-private.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Static levels at 5 V: a TTL low is at most 0.4 V (Fairchild DM74LS00, DS006439: 0.5 V at full load) and its high at
 * least 2.4 V; a pulled or tied pin stands above 3.5 V, which is also what an HC input needs.  5.25 V: 5 V and 5 %.
 * Ohms: common practice, no source. */
#define LOW_BAND N_("0 to 0.4 V")
#define HIGH_BAND N_("2.4 to 5.25 V")
#define PULLED_BAND N_("3.5 to 5.25 V")
#define CLOSED N_("below 1 Ω")
#define OPEN N_("above 1 MΩ")

enum { POINT_A, POINT_B, CONDITION, EXPECTED, MEASURED, PASS };

static char *
point (const PmListBuild *build, guint32 place)
{
  const PmBoard *board = build->board;
  const PmInstance *instance = &board->instances[pm_board_instance_of (board, place)];
  if (instance->owner == PM_OWNER_HOST || instance->owner == PM_OWNER_DRIVE)
    return pm_name_place (board, place);
  g_autofree char *pin = pm_list_pin (board, place), *side = pm_list_side (build, place);
  return side != NULL ? g_strdup_printf ("%s (%s)", pin, side) : g_steal_pointer (&pin);
}

static void
row (PmListBuild *build, const char *check, guint32 a, guint32 b, const char *setting, char *condition, char *expected)
{
  g_autofree char *x = pm_board_place_name (build->board, a), *y = pm_board_place_name (build->board, b);
  char **cells = pm_list_add_row (
      build, g_strdup_printf ("%s %s %s%s%s", check, x, y, setting != NULL ? " " : "", setting != NULL ? setting : ""));
  pm_list_set (cells, POINT_A, point (build, a));
  pm_list_set (cells, POINT_B, point (build, b));
  pm_list_set (cells, CONDITION, condition);
  pm_list_set (cells, EXPECTED, expected);
}

static void
heading (PmListBuild *build, const char *id, const char *text)
{
  pm_list_add_line (build, PM_ROW_HEADING, g_strdup (id), g_strdup (text));
}

static char *
ohms_words (double ohms)
{
  if (ohms == 0.0)
    return g_strdup (_(CLOSED));
  if (isinf (ohms))
    return g_strdup (_(OPEN));
  g_autofree char *text = pm_list_ohms_text (ohms);
  return g_strdup_printf (_("about %s"), text);
}

/* The name of a setting, or NULL where there is only one. */
static const char *
setting_name (const PmCheck *check, guint i)
{
  return check->n_settings > 1 ? check->cases[i].name : NULL;
}

static char *
at (const char *condition, const char *setting)
{
  return setting != NULL ? g_strdup_printf (_("%s; %s"), condition, setting) : g_strdup (condition);
}

/* ---- 1: rails */

/* Where a rail is touched on the board: at the plug if it passes there, else at a chip or other part; PM_NONE. */
static guint32
rail_point (const PmListBuild *build, guint rail)
{
  const PmBoard *board = build->board;
  guint32 found = PM_NONE;
  guint best = 0;
  for (guint32 p = 0; p < board->n_places; p++) {
    guint i = pm_board_instance_of (board, p);
    if (board->instances[i].owner != PM_OWNER_BOARD || g_str_equal (board->instances[i].part->name, "rail") ||
        pm_list_rail (build, p) != rail)
      continue;
    if (i == board->plug)
      return p;
    PmPinRole role = board->instances[i].part->pins[p - board->instances[i].first_place].role;
    guint good = role == PM_PIN_SUPPLY || role == PM_PIN_GROUND ? 2 : 1;
    if (good > best) {
      found = p;
      best = good;
    }
  }
  return found;
}

guint32
pm_list_ground (const PmListBuild *build)
{
  for (guint r = 0; r < build->board->n_rails; r++)
    if (build->board->rails[r].volts == 0.0) {
      guint32 place = rail_point (build, r);
      for (guint d = 0; d < build->board->n_drives && place == PM_NONE; d++) {
        const PmInstance *drive = &build->board->instances[build->board->drives[d].instance];
        for (guint k = 0; k < drive->part->n_pins && place == PM_NONE; k++)
          if (pm_list_rail (build, drive->first_place + k) == r)
            place = drive->first_place + k;
      }
      return place != PM_NONE                      ? place
             : build->board->rails[r].n_places > 0 ? build->board->rails[r].places[0]
                                                   : PM_NONE;
    }
  return PM_NONE;
}

static gboolean
has_capacitor (const PmBoard *board)
{
  for (guint i = 0; i < board->n_instances; i++)
    if (board->instances[i].owner == PM_OWNER_BOARD && board->instances[i].part->type == PM_PART_CAPACITOR)
      return TRUE;
  return FALSE;
}

/* The least ohms of all settings; *where is the setting that has them, *same: all have. */
static double
least_ohms (const PmListBuild *build, guint32 a, guint32 b, guint *where, gboolean *same)
{
  double least = INFINITY;
  *same = TRUE;
  for (guint i = 1; i <= build->check->n_settings; i++) {
    g_autofree guint32 *nets = pm_metal_of_board (build->board, PM_METAL_BOARD, build->check->cases[i].positions);
    double ohms = pm_list_ohms (build->board, nets, a, b);
    *same &= i == 1 || ohms == least;
    if (ohms < least || i == 1) {
      least = ohms;
      *where = i;
    }
  }
  return least;
}

static gboolean
rails (PmListBuild *build)
{
  const PmBoard *board = build->board;
  guint32 ground = pm_list_ground (build);
  gboolean any = FALSE;
  for (guint r = 0; r < board->n_rails && board->has_board; r++) {
    guint32 place = board->rails[r].volts != 0.0 ? rail_point (build, r) : PM_NONE;
    guint where = 0;
    gboolean same;
    if (place == PM_NONE || ground == PM_NONE ||
        board->instances[pm_board_instance_of (board, ground)].owner != PM_OWNER_BOARD)
      continue;
    double ohms = least_ohms (build, place, ground, &where, &same);
    g_autofree char *words = ohms_words (ohms);
    if (!any)
      heading (build, "check rails", _("1 Rails: chips out, board out of the machine"));
    any = TRUE;
    row (build, "rails", place, ground, NULL, at (_("off"), same ? NULL : setting_name (build->check, where)),
         ohms == 0.0 ? g_strdup_printf (_("%s; the file joins them in %s: do not build it"), _(OPEN),
                                        build->check->cases[where].name)
         : isinf (ohms) && has_capacitor (board) ? g_strdup_printf (_("%s; it climbs as the capacitors charge"), words)
                                                 : g_steal_pointer (&words));
  }
  return any;
}

/* ---- 2: each cut, or one conductor: a cut that was forgotten must not pass */

static gboolean
each_cut (PmListBuild *build)
{
  const PmBoard *board = build->board;
  gboolean any = FALSE;
  for (guint j = 0; j < board->n_joins; j++) {
    const PmJoin *join = &board->joins[j];
    gboolean same = TRUE;
    double first = -1.0;
    guint best = 0;
    double best_ohms = -1.0;
    if (join->kind != PM_JOIN_CUT)
      continue;
    for (guint i = 1; i <= build->check->n_settings; i++) {
      g_autofree guint32 *nets = pm_metal_of_board (board, PM_METAL_BOARD, build->check->cases[i].positions);
      double ohms = pm_list_ohms (board, nets, join->places[0], join->places[1]);
      same &= first < 0.0 || ohms == first;
      first = i == 1 ? ohms : first;
      if (ohms > best_ohms) {
        best_ohms = ohms;
        best = i;
      }
    }
    if (best == 0 || best_ohms == 0.0)
      continue; /* the contacts close it in every setting: it cannot be told */
    const char *setting = same ? NULL : setting_name (build->check, best);
    if (!any)
      heading (build, "check cut", _("2 Each cut: chips out, board out of the machine"));
    row (build, "cut", join->places[1], join->places[0], NULL, at (_("off"), setting), ohms_words (best_ohms));
    any = TRUE;
  }
  return any;
}

/* Of a cable: a conductor that is crossed, else the first; from end to end, and to the pin beside it. */
static gboolean
one_conductor (PmListBuild *build)
{
  const PmBoard *board = build->board;
  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *cable = &board->instances[i];
    guint32 best_a = PM_NONE, best_b = PM_NONE;
    if (cable->owner != PM_OWNER_CABLE || !pm_list_is_built (board, i))
      continue;
    for (guint k = 0; k < cable->part->n_pins; k++) {
      guint32 first = PM_NONE, last = PM_NONE;
      for (guint m = 0; m < board->n_matings; m++)
        for (guint p = 0; p < board->matings[m].n_pairs; p++) {
          const PmPair *pair = &board->matings[m].pairs[p];
          if (pair->a != cable->first_place + k && pair->b != cable->first_place + k)
            continue;
          last = pair->a == cable->first_place + k ? pair->b : pair->a;
          first = first == PM_NONE ? last : first;
        }
      gboolean crossed = first != last && !g_str_equal (pm_name_number (board, first), pm_name_number (board, last));
      if (first != last && (best_a == PM_NONE || crossed)) {
        best_a = first;
        best_b = last;
      }
      if (crossed)
        break;
    }
    if (best_a == PM_NONE)
      continue;
    heading (build, "check conductor", _("2 One conductor: the cable alone, unplugged"));
    row (build, "conductor", best_a, best_b, NULL, g_strdup_printf (_("off; %s"), cable->ref), g_strdup (_(CLOSED)));
    const PmInstance *end = &board->instances[pm_board_instance_of (board, best_b)];
    g_autoptr (GArray) near = pm_pin_neighbours (end->part, best_b - end->first_place);
    if (near->len > 0)
      row (build, "conductor", best_a, end->first_place + g_array_index (near, guint32, 0), NULL,
           g_strdup_printf (_("off; %s"), cable->ref), g_strdup (_(OPEN)));
    return TRUE;
  }
  return FALSE;
}

/* ---- 3: each throw */

static gboolean
has_pair (const PmPosition *position, const PmPair *pair)
{
  for (guint k = 0; k < position->n_pairs; k++)
    if ((position->pairs[k].a == pair->a && position->pairs[k].b == pair->b) ||
        (position->pairs[k].a == pair->b && position->pairs[k].b == pair->a))
      return TRUE;
  return FALSE;
}

/* A pair is measured in its own position and, where it must be open, in the next one: not in all of a rotary's. */
static void
throws_of (PmListBuild *build, guint s, gboolean *any)
{
  const PmBoard *board = build->board;
  const PmCheck *check = build->check;
  const PmSwitch *sw = &board->switches[s];
  g_autofree int *positions = g_memdup2 (check->cases[check->usual].positions, sizeof (int) * board->n_switches);
  for (guint at = 0; at < sw->n_positions; at++) {
    positions[s] = (int)at;
    g_autofree guint32 *nets = pm_metal_of_board (board, PM_METAL_BOARD, positions);
    for (guint p = 0; p < sw->n_positions; p++)
      for (guint k = 0; k < sw->positions[p].n_pairs; k++) {
        const PmPair *pair = &sw->positions[p].pairs[k];
        gboolean closed = has_pair (&sw->positions[at], pair);
        guint32 a = pm_name_plugged (board, pair->a), b = pm_name_plugged (board, pair->b);
        if (p != at && (closed || (p + 1) % sw->n_positions != at))
          continue;
        const char *name = sw->positions[at].title != NULL ? sw->positions[at].title : sw->positions[at].name;
        if (!*any)
          heading (build, "check throws", _("3 Each throw: chips out, board out of the machine"));
        *any = TRUE;
        row (build, "throw", a, b, sw->positions[at].name,
             g_strdup_printf (_("off; %s: %s"), pm_name_switch (sw), name),
             ohms_words (pm_list_ohms (board, nets, a, b)));
      }
  }
}

static gboolean
throws (PmListBuild *build)
{
  gboolean any = FALSE;
  for (guint s = 0; s < build->board->n_switches; s++)
    if (build->board->switches[s].owner == PM_OWNER_BOARD && build->board->switches[s].moved == PM_MOVED_BY_HAND)
      throws_of (build, s, &any);
  return any;
}

/* ---- 4: the control level */

/* What holds a place for good: 0 or 1 from a rail, by metal or (*pulled) by resistors; -1 where nothing does. */
static int
held_at (const PmListBuild *build, const guint32 *nets, guint32 place, gboolean *pulled)
{
  const PmBoard *board = build->board;
  int held = -1;
  *pulled = FALSE;
  for (guint r = 0; r < board->n_rails; r++)
    for (guint k = 0; k < board->rails[r].n_places; k++)
      if (nets[board->rails[r].places[k]] == nets[place])
        return board->rails[r].volts > 0.0;
  for (guint r = 0; r < board->n_rails; r++)
    for (guint k = 0; k < board->rails[r].n_places; k++) {
      int level = board->rails[r].volts > 0.0;
      if (isinf (pm_list_ohms (board, nets, board->rails[r].places[k], place)) || held == level)
        continue;
      if (held >= 0)
        return -1; /* a divider */
      held = level;
      *pulled = TRUE;
    }
  return held;
}

/* Input pins of chips that stand at one level in one setting and at the other in another, each net once. */
static GArray *
control_places (const PmListBuild *build, GPtrArray *nets)
{
  const PmBoard *board = build->board;
  GArray *found = g_array_new (FALSE, FALSE, sizeof (guint32));
  for (guint i = 0; i < board->n_instances; i++)
    for (guint k = 0; k < board->instances[i].part->n_pins && board->instances[i].owner == PM_OWNER_BOARD; k++) {
      guint32 place = board->instances[i].first_place + k;
      gboolean seen[2] = {FALSE, FALSE}, known = TRUE, pulled;
      if (board->instances[i].part->type != PM_PART_LOGIC || board->instances[i].part->pins[k].role != PM_PIN_INPUT)
        continue;
      for (guint f = 0; f < found->len && known; f++)
        known = build->nets[g_array_index (found, guint32, f)] != build->nets[place];
      for (guint s = 0; s < nets->len && known; s++) {
        int level = held_at (build, g_ptr_array_index (nets, s), place, &pulled);
        known = level >= 0;
        if (known)
          seen[level] = TRUE;
      }
      if (known && seen[0] && seen[1])
        g_array_append_val (found, place);
    }
  return found;
}

static void
level_row (PmListBuild *build, guint32 place, guint32 ground, guint i, const guint32 *nets)
{
  gboolean pulled;
  int level = held_at (build, nets, place, &pulled);
  if (level >= 0)
    row (build, "control", place, ground, build->check->cases[i].name,
         g_strdup_printf (_("on, nothing accessed; %s"), build->check->cases[i].name),
         g_strdup (level > 0 ? _(PULLED_BAND) : _(LOW_BAND)));
}

static gboolean
control (PmListBuild *build)
{
  const PmCheck *check = build->check;
  guint32 ground = pm_list_ground (build);
  g_autoptr (GPtrArray) nets = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 1; i <= check->n_settings; i++)
    g_ptr_array_add (nets, pm_metal_of_board (build->board, PM_METAL_ALL, check->cases[i].positions));
  g_autoptr (GArray) places = control_places (build, nets);
  if (places->len == 0 || ground == PM_NONE)
    return FALSE;
  heading (build, "check control", _("4 The control level: board in, chips in"));
  for (guint p = 0; p < places->len; p++) {
    guint32 place = g_array_index (places, guint32, p);
    int told[2] = {-1, -1};
    for (guint i = 1; i <= check->n_settings; i++) { /* one setting of each level says it */
      gboolean pulled;
      int level = held_at (build, g_ptr_array_index (nets, i - 1), place, &pulled);
      if (level < 0 || told[level] >= 0)
        continue;
      told[level] = (int)i;
      level_row (build, place, ground, i, g_ptr_array_index (nets, i - 1));
    }
    for (guint i = check->n_settings + 1; i < check->n_cases; i++) {
      if (check->cases[i].kind != PM_CASE_REMOVED || p > 0)
        continue;
      g_autofree guint32 *out =
          pm_metal_of_board (build->board, PM_METAL_JOINS | PM_METAL_MACHINE, check->cases[i].positions);
      level_row (build, place, ground, i, out);
      break;
    }
  }
  return TRUE;
}

/* ---- 5: one select, at the drive */

/* The pin of a drive's connector on which it listens in this setting; *low: it answers a low. */
static guint32
select_pin (const PmBoard *board, const PmDrive *drive, const int *positions, gboolean *low)
{
  if (drive->n_answers == 0 || drive->answers[0].n_whens == 0)
    return PM_NONE;
  const PmWhen *when = &drive->answers[0].whens[0];
  const PmInstance *instance = &board->instances[drive->instance];
  g_autofree guint32 *nets = pm_metal_of_board (board, PM_METAL_BOARD | PM_METAL_MACHINE, positions);
  *low = !when->high;
  for (guint k = 0; k < instance->part->n_pins; k++)
    if (nets[instance->first_place + k] == nets[when->place] && g_ascii_isdigit (instance->part->pins[k].number[0]))
      return instance->first_place + k;
  return when->place;
}

static gboolean
one_select (PmListBuild *build)
{
  const PmCheck *check = build->check;
  const PmBoard *board = build->board;
  guint32 ground = pm_list_ground (build);
  guint64 told = 0;
  guint first = build->options.case_index > 0 ? build->options.case_index : 1;
  gboolean any = FALSE;
  for (guint u = 0; u < board->host.n_units && !any && ground != PM_NONE; u++)
    for (guint i = first; i <= (build->options.case_index > 0 ? first : check->n_settings); i++)
      for (guint d = 0; d < board->n_drives; d++) {
        gboolean low = TRUE;
        if (pm_check_cell (check, i, u, d)->answer != PM_ANSWER_YES || (told >> (d % 64) & 1))
          continue;
        guint32 pin = select_pin (board, &board->drives[d], check->cases[i].positions, &low);
        if (pin == PM_NONE)
          continue;
        told |= (guint64)1 << (d % 64);
        if (!any)
          heading (build, "check select", _("5 One select, at the drives: all plugged in"));
        any = TRUE;
        const char *setting = setting_name (check, i), *drive = pm_name_drive (board, d);
        row (build, "select-at-rest", pin, ground, setting, at (_("on, nothing accessed"), setting),
             g_strdup (low ? _(HIGH_BAND) : _(LOW_BAND)));
        g_autofree char *condition = g_strdup_printf (_("%s held on"), board->host.units[u].name);
        row (build, "select-on", pin, ground, setting, at (condition, setting),
             g_strdup_printf (_("%s; lamp of %s on"), low ? _(LOW_BAND) : _(HIGH_BAND), drive));
      }
  return any;
}

/* ---- */

void
pm_list_checks (PmListBuild *build)
{
  gboolean cables = !build->board->has_board;
  build->about =
      g_strdup (_("Five checks find most of what goes wrong, before it can do harm. Write down what you read."));
  pm_list_add_column (build, "point-a", _("Between"), PM_CELLS_TEXT);
  pm_list_add_column (build, "point-b", _("and"), PM_CELLS_TEXT);
  pm_list_add_column (build, "condition", _("Power and setting"), PM_CELLS_TEXT);
  pm_list_add_column (build, "expected", _("Expected"), PM_CELLS_TEXT);
  pm_list_add_column (build, "measured", _("Measured"), PM_CELLS_BLANK);
  pm_list_add_column (build, "pass", _("Pass"), PM_CELLS_TICK);
  if (!rails (build))
    pm_list_add_note (build, g_strdup (_("1 Rails: there is no supply on what is built here.")));
  if (!each_cut (build) && !one_conductor (build))
    pm_list_add_note (build, cables ? g_strdup (_("2 Each cut: there is none."))
                                    : g_strdup (_("2 Each cut: none that reads open in any setting.")));
  if (!throws (build))
    pm_list_add_note (build, g_strdup (_("3 Each throw: there is no switch on the board.")));
  pm_list_add_line (
      build, PM_ROW_HOLD, g_strdup ("hold power"),
      g_strdup (_("Stop: power only when everything above has passed, and off again for every change.")));
  if (!control (build))
    pm_list_add_note (build, g_strdup (_("4 The control level: no chip is told by a switch.")));
  if (!one_select (build))
    pm_list_add_note (build, g_strdup (_("5 One select: no select reaches a drive for certain.")));
  else
    pm_list_add_note (build, g_strdup (_("A meter on a line that pulses shows an average: read with nothing accessed, "
                                          "or with the select held on.")));
  pm_list_add_note (build, g_strdup (_("Ohms: below 1 Ω passes, 1 to 10 Ω is a dirty joint, above 10 Ω fails; between "
                                        "1 and 100 kΩ it is usually a pull-up. Read the ohms: a buzzer sounds too "
                                        "early.")));
  pm_list_add_note (build, g_strdup (_("Volts: 0.4 to 0.8 V is low with little margin, 0.8 to 2.0 V is wrong: an open "
                                        "joint, or two outputs on one line. 3.4 V is a good high of a TTL chip. Above "
                                        "5.25 V: stop.")));
}
