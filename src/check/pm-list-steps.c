/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How to build it: steps in an order in which nothing is in the way, hold points, cautions before what they are about.
 *
 * Low parts before high ones, sockets before chips, chips after the checks without power, one change at a time with
 * power: common practice, no source.  What a step is about is in its id, so that a tick stays with it when the file is
 * edited elsewhere.
 */
#include "config.h"
#include "pm-list-private.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

enum { STEP, WHAT, LOOK, DONE };

typedef struct {
  PmListBuild *build;
  const PmBoard *board;
  guint n;
} Steps;

/* Takes id, what and look. */
static void
step (Steps *steps, char *id, char *what, char *look)
{
  char **cells = pm_list_add_row (steps->build, id);
  pm_list_set (cells, STEP, g_strdup_printf ("%u", ++steps->n));
  pm_list_set (cells, WHAT, what);
  pm_list_set (cells, LOOK, look);
}

static void
line (Steps *steps, PmRowKind kind, const char *id, const char *text)
{
  pm_list_add_line (steps->build, kind, g_strdup (id), g_strdup (text));
}

static gboolean
is_own (const PmBoard *board, guint i)
{
  return board->instances[i].owner == PM_OWNER_BOARD && pm_list_is_built (board, i);
}

static gboolean
is_plugged (const PmBoard *board, guint i)
{
  for (guint m = 0; m < board->n_matings; m++)
    if (board->matings[m].a == i)
      return TRUE;
  return FALSE;
}

/* ---- soldering */

/* IEC 60062: black 0 to white 9, then the power of ten; gold 0.1. Two figures only. */
static char *
bands (double ohms)
{
  static const char *const colours[] = {N_("black"), N_("brown"), N_("red"),    N_("orange"), N_("yellow"),
                                        N_("green"), N_("blue"),  N_("violet"), N_("grey"),   N_("white")};
  int power = (int)floor (log10 (ohms) + 1e-9) - 1;
  double figures = ohms / pow (10.0, power);
  guint n = (guint)lround (figures);
  if (!(ohms >= 1.0) || fabs (figures - n) > 1e-6 || power < -1 || power > 7)
    return NULL;
  return g_strdup_printf (_("bands %s, %s, %s"), _(colours[n / 10]), _(colours[n % 10]),
                          power < 0 ? _("gold") : _(colours[power]));
}

/* Where a small part goes: "between U1.16 (VCC) and U1.1 (S)", by what else is on its pins. */
static char *
orientation (const PmInstance *instance)
{
  switch (instance->part->type) {
  case PM_PART_RESISTOR:
    return instance->value > 0 ? bands (instance->value) : NULL;
  case PM_PART_NETWORK:
    return g_strdup (_("the dot is at pin 1"));
  case PM_PART_DIODE:
    return g_strdup (_("the band is the cathode, K"));
  case PM_PART_LED:
    return g_strdup (_("the shorter leg is the cathode, K"));
  case PM_PART_CAPACITOR:
    return g_strdup (_("close to its chip; either way round if it has no mark"));
  case PM_PART_SOCKET:
    return g_strdup (_("notch at the mark, pin 1 beside it, seen from above; nothing in it yet"));
  case PM_PART_PINS:
    return g_strdup (_("on the side of the machine; pin 1 under pin 1 of the socket"));
  case PM_PART_CONNECTOR:
    return g_strdup (instance->part->keyed ? _("key as drawn, pin 1 at the mark")
                                           : _("pin 1 at the mark: it has no key"));
  case PM_PART_SWITCH:
    return g_strdup (_("lugs seen from behind"));
  default:
    return NULL;
  }
}

static void
solder_part (Steps *steps, guint i)
{
  const PmInstance *instance = &steps->board->instances[i];
  g_autofree char *value = instance->part->type == PM_PART_RESISTOR && instance->value > 0
                               ? pm_quantity_format (instance->value, PM_UNIT_OHM)
                           : instance->part->type == PM_PART_CAPACITOR && instance->value > 0
                               ? pm_quantity_format (instance->value, PM_UNIT_FARAD)
                               : g_strdup (instance->is);
  step (steps, g_strdup_printf ("solder %s", instance->ref),
        g_strdup_printf (_("Solder %s, %s."), instance->ref, value), orientation (instance));
}

static gboolean
any_of (const PmBoard *board, const PmPartType *types, guint n)
{
  for (guint i = 0; i < board->n_instances; i++)
    for (guint k = 0; k < n && is_own (board, i); k++)
      if (board->instances[i].part->type == types[k] && !(types[k] == PM_PART_SWITCH && is_plugged (board, i)))
        return TRUE;
  return FALSE;
}

static void
solder_types (Steps *steps, const char *id, const char *heading, const PmPartType *types, guint n)
{
  const PmBoard *board = steps->board;
  if (!any_of (board, types, n))
    return;
  line (steps, PM_ROW_HEADING, id, heading);
  for (guint k = 0; k < n; k++)
    for (guint i = 0; i < board->n_instances; i++) {
      const PmInstance *instance = &board->instances[i];
      if (!is_own (board, i) || instance->part->type != types[k] ||
          (types[k] == PM_PART_SWITCH && is_plugged (board, i)))
        continue;
      if (types[k] == PM_PART_LOGIC)
        step (steps, g_strdup_printf ("socket %s", instance->ref),
              g_strdup_printf (_("Solder a socket for %s, %s."), instance->ref,
                               instance->part->package != NULL ? instance->part->package : instance->is),
              g_strdup (_("notch at the mark, pin 1 beside it, seen from above; nothing in it yet")));
      else
        solder_part (steps, i);
    }
}

/* "11 (SEL0), 12 (SEL1)". */
static char *
pins_that_are (const Steps *steps, PmJoinKind kind, guint *n)
{
  g_autoptr (GString) text = g_string_new (NULL);
  const PmBoard *board = steps->board;
  *n = 0;
  for (guint j = 0; j < board->n_joins; j++) {
    if (board->joins[j].kind != kind)
      continue;
    guint32 line = steps->build->side_line[board->joins[j].places[1]];
    g_string_append_printf (text, "%s%s", *n > 0 ? ", " : "", pm_name_number (board, board->joins[j].places[1]));
    if (line != PM_NONE)
      g_string_append_printf (text, " (%s)", board->host.lines[line].name);
    (*n)++;
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
cut_steps (Steps *steps)
{
  guint n_cut, n_through;
  g_autofree char *cut = pins_that_are (steps, PM_JOIN_CUT, &n_cut);
  g_autofree char *through = pins_that_are (steps, PM_JOIN_THROUGH, &n_through);
  const PmBoard *board = steps->board;
  if (!board->has_board)
    return;
  const char *plug = board->instances[board->plug].ref, *socket = board->instances[board->socket].ref;
  line (steps, PM_ROW_HEADING, "steps pins", _("Pins from the plug to the socket"));
  if (n_cut > 0)
    step (steps, g_strdup_printf ("cut %s", cut),
          g_strdup_printf (
              ngettext ("Leave open between %s and %s: pin %s.", "Leave open between %s and %s: pins %s.", n_cut), plug,
              socket, cut),
          g_strdup (_("on a printed board: cut the track; these go to the wires below")));
  if (n_through > 0)
    step (steps, g_strdup ("through"),
          g_strdup_printf (ngettext ("Join straight from %s to %s, same number to same number: the other %u pin.",
                                     "Join straight from %s to %s, same number to same number: the other %u pins.",
                                     n_through),
                           plug, socket, n_through),
          g_strdup (_("dull ones too: count them with the pin table")));
}

/* One step for each piece of metal: its wires in order. */
static void
wire_steps (Steps *steps)
{
  const PmBoard *board = steps->board;
  g_autoptr (GArray) wires = pm_list_wires_of (board);
  if (wires->len == 0)
    return;
  line (steps, PM_ROW_HEADING, "steps wires", _("Wires, by the wire list"));
  for (guint i = 0, last; i < wires->len; i = last) {
    guint32 net = steps->build->nets[g_array_index (wires, PmWire, i).from];
    g_autoptr (GString) path = g_string_new (NULL), id = g_string_new ("wires");
    guint32 tail = PM_NONE;
    for (last = i; last < wires->len; last++) {
      const PmWire *wire = &g_array_index (wires, PmWire, last);
      if (steps->build->nets[wire->from] != net)
        break;
      g_autofree char *from = pm_list_number (board, wire->from), *to = pm_list_number (board, wire->to);
      const char *a = g_str_has_prefix (from, "host.") ? from + 5 : from,
                 *b = g_str_has_prefix (to, "host.") ? to + 5 : to;
      if (wire->from != tail)
        g_string_append_printf (path, "%s%s", tail != PM_NONE ? "; " : "", a);
      g_string_append_printf (path, " – %s", b);
      g_string_append_printf (id, " %s %s", from, to);
      tail = wire->to;
    }
    g_autofree char *signal = pm_list_signal (steps->build, g_array_index (wires, PmWire, i).from);
    step (steps, g_strdup (id->str),
          signal[0] != '\0' ? g_strdup_printf ("%s: %s", signal, path->str) : g_strdup (path->str),
          last - i == 1 ? g_strdup_printf (_("wire %u"), i + 1) : g_strdup_printf (_("wires %u to %u"), i + 1, last));
  }
}

/* "inside joins 2-1; outside joins 2-3". */
static char *
places_words (const PmBoard *board, const PmSwitch *sw)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint p = 0; p < sw->n_positions; p++) {
    g_autoptr (GString) pairs = g_string_new (NULL);
    for (guint k = 0; k < sw->positions[p].n_pairs; k++)
      g_string_append_printf (pairs, " %s-%s", pm_name_number (board, sw->positions[p].pairs[k].a),
                              pm_name_number (board, sw->positions[p].pairs[k].b));
    g_string_append (text, p > 0 ? "; " : "");
    g_string_append_printf (text, pairs->len > 0 ? _("%s joins%s") : _("%s joins nothing%s"),
                            sw->positions[p].title != NULL ? sw->positions[p].title : sw->positions[p].name,
                            pairs->str);
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
label_steps (Steps *steps)
{
  const PmBoard *board = steps->board;
  gboolean any = FALSE;
  for (guint s = 0; s < board->n_switches; s++) {
    const PmSwitch *sw = &board->switches[s];
    if (sw->owner != PM_OWNER_BOARD || sw->moved != PM_MOVED_BY_HAND)
      continue;
    if (!any)
      line (steps, PM_ROW_HEADING, "steps labels", _("Labels"));
    any = TRUE;
    g_autofree char *places = places_words (board, sw);
    step (steps, g_strdup_printf ("label %s", sw->name), g_strdup_printf (_("Label %s: %s."), sw->name, places),
          g_strdup (sw->look == PM_LOOK_TOGGLE
                        ? _("most levers point away from the lugs that they join: try it with the meter")
                        : _("try it with the meter")));
  }
}

static void
lead_steps (Steps *steps)
{
  const PmBoard *board = steps->board;
  gboolean any = FALSE;
  for (guint m = 0; m < board->n_matings; m++) {
    const PmMating *mating = &board->matings[m];
    const PmInstance *part = &board->instances[mating->a];
    if (!is_own (board, mating->a) || !is_own (board, mating->b) || part->part->type != PM_PART_SWITCH)
      continue;
    if (!any)
      line (steps, PM_ROW_HEADING, "steps leads", _("Switches on a lead"));
    any = TRUE;
    step (steps, g_strdup_printf ("lead %s", part->ref),
          g_strdup_printf (_("Make the lead of %s with a plug for %s: same number to same number."), part->ref,
                           board->instances[mating->b].ref),
          g_strdup (mating->turns ? _("lugs seen from behind; mark pin 1 on the plug: it can be put on turned round")
                                  : _("lugs seen from behind; mark pin 1 on the plug")));
  }
}

/* ---- cables, drives */

static void
cable_steps (Steps *steps)
{
  const PmBoard *board = steps->board;
  gboolean any = FALSE;
  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *cable = &board->instances[i];
    if (cable->owner != PM_OWNER_CABLE || !pm_list_is_built (board, i))
      continue;
    if (!any)
      line (steps, PM_ROW_HEADING, "steps cables", _("Cables"));
    any = TRUE;
    g_autoptr (GArray) ends = pm_list_ends_of (board, i);
    for (guint e = 0; e < ends->len; e++) {
      const PmListEnd *end = &g_array_index (ends, PmListEnd, e);
      gboolean crossed = FALSE;
      for (guint k = 0; k < cable->part->n_pins; k++)
        crossed |= end->pins[k] != PM_NONE && !g_str_equal (board->instances[end->at].part->pins[end->pins[k]].number,
                                                            cable->part->pins[k].number);
      g_autofree char *name = pm_name_instance (board, end->at);
      step (steps, g_strdup_printf ("press %s %s", cable->ref, board->instances[end->at].ref),
            g_strdup_printf (_("Press a connector for %s onto %s."), name, cable->ref),
            g_strdup (crossed ? _("not straight: conductor by conductor as the cable table says")
                              : _("stripe at pin 1")));
    }
  }
}

static void
jumper_steps (Steps *steps)
{
  const PmBoard *board = steps->board;
  gboolean any = FALSE;
  for (guint s = 0; s < board->n_switches; s++) {
    const PmSwitch *sw = &board->switches[s];
    if (sw->moved != PM_MOVED_ONCE || sw->n_positions == 0 || sw->owner == PM_OWNER_HOST)
      continue;
    const PmPosition *at = &sw->positions[sw->usual];
    const char *whose = sw->owner == PM_OWNER_DRIVE ? pm_name_drive (board, sw->owner_index) : sw->name;
    if (!any)
      line (steps, PM_ROW_HEADING, "steps jumpers", _("Jumpers"));
    any = TRUE;
    step (steps, g_strdup_printf ("jumper %s %s", sw->name, at->name),
          g_strdup_printf (sw->owner == PM_OWNER_DRIVE ? _("Set the jumper of %s to %s.") : _("Set %s to %s."), whose,
                           at->title != NULL ? at->title : at->name),
          sw->any      ? g_strdup (_("any place will do"))
          : sw->stated ? NULL
                       : g_strdup (_("the file does not say where it is: look")));
  }
}

/* ---- with power */

/* Where the file gives no tolerance: what the data sheets of the 74 families allow, 4.75 to 5.25 V. */
#define USUAL_TOLERANCE 0.05

/* "+5V: 4.75 to 5.25 V": of the file's tolerance. */
static char *
rail_words (const PmListBuild *build)
{
  const PmBoard *board = build->board;
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint r = 0; r < board->n_rails; r++) {
    const PmRail *rail = &board->rails[r];
    if (rail->volts == 0.0 || board->supplies[rail->supply].owner != PM_SUPPLY_HOST)
      continue;
    double tolerance = rail->tolerance > 0 ? rail->tolerance : USUAL_TOLERANCE;
    char low[32], high[32];
    g_ascii_formatd (low, sizeof low, "%.2f", rail->volts * (1.0 - tolerance));
    g_ascii_formatd (high, sizeof high, "%.2f", rail->volts * (1.0 + tolerance));
    g_string_append_printf (text, _("%s%s: %s to %s V, else stop"), text->len > 0 ? "; " : "", rail->name, low, high);
    if (!isnan (rail->limit)) {
      g_autofree char *limit = pm_quantity_format (rail->limit, PM_UNIT_AMPERE);
      g_string_append_printf (text, _("; more than %s: stop"), limit);
    }
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* What is plugged where the board goes and moves onto its socket; PM_NONE. */
static guint
moved_part (const PmBoard *board)
{
  for (guint m = 0; m < board->n_matings && board->has_board; m++)
    if (board->matings[m].when == PM_MATING_WITH_BOARD && board->matings[m].b == board->socket)
      return board->matings[m].a;
  return PM_NONE;
}

static gboolean
is_chip (const PmBoard *board, guint i)
{
  return i != PM_NONE &&
         (board->instances[i].part->type == PM_PART_CHIP || board->instances[i].part->type == PM_PART_LOGIC);
}

/* Cables into the machine, not into drives: those come one by one. */
static void
plug_cables (Steps *steps)
{
  const PmBoard *board = steps->board;
  for (guint m = 0; m < board->n_matings; m++) {
    const PmMating *mating = &board->matings[m];
    gboolean a = board->instances[mating->a].owner == PM_OWNER_CABLE;
    guint cable = a ? mating->a : mating->b, into = a ? mating->b : mating->a;
    if (board->instances[cable].owner != PM_OWNER_CABLE || !pm_list_is_built (board, cable) ||
        board->instances[into].part->type == PM_PART_DRIVE ||
        (board->has_board && mating->when == PM_MATING_WITHOUT_BOARD))
      continue;
    g_autofree char *name = pm_name_instance (board, into);
    step (steps, g_strdup_printf ("plug %s %s", board->instances[cable].ref, board->instances[into].ref),
          g_strdup_printf (_("Plug %s into %s."), board->instances[cable].ref, name),
          g_strdup (_("stripe at pin 1")));
  }
}

static void
into_machine (Steps *steps)
{
  const PmBoard *board = steps->board;
  guint moved = moved_part (board);
  line (steps, PM_ROW_HEADING, "steps machine", _("Into the machine"));
  line (steps, PM_ROW_CAUTION, "caution mains",
        _("Unplug from the mains, do not just switch off. Never open a power supply. No plugging under power."));
  line (steps, PM_ROW_CAUTION, "caution static",
        _("Hold boards and chips by the edges; wrist strap and mat, but no strap on anything that has power."));
  if (is_chip (board, moved)) {
    g_autofree char *name = pm_name_instance (board, moved);
    step (steps, g_strdup ("take out"), g_strdup_printf (_("Take out %s; keep it in foam."), name),
          g_strdup (_("note where its notch points")));
  }
  if (board->has_board && board->plug != PM_NONE)
    for (guint m = 0; m < board->n_matings; m++)
      if (board->matings[m].a == board->plug) {
        g_autofree char *into = pm_name_instance (board, board->matings[m].b);
        step (steps, g_strdup ("plug in"),
              g_strdup_printf (_("Plug %s into %s."), board->instances[board->plug].ref, into),
              g_strdup (
                  board->instances[board->matings[m].b].part->keyed
                      ? _("pin 1 to pin 1; no pin beside the connector")
                      : _("pin 1 to pin 1: the other way round destroys it; no pin beside its place, none folded")));
      }
  plug_cables (steps);
}

static void
first_power (Steps *steps)
{
  const PmBoard *board = steps->board;
  g_autofree char *rails = rail_words (steps->build);
  guint moved = moved_part (board);
  gboolean chips = FALSE, told = FALSE;
  line (steps, PM_ROW_HEADING, "steps power", _("First power-up, one change at a time"));
  line (steps, PM_ROW_CAUTION, "caution smell",
        _("Hot, smoke, smell, or a reading outside its limits: power off at once."));
  if (board->has_board) {
    step (steps, g_strdup ("power bare"),
          g_strdup (_("Drives unplugged, no chip on the board: power on, read, power off.")), g_strdup (rails));
    for (guint i = 0; i < board->n_instances; i++)
      if (is_own (board, i) && board->instances[i].part->type == PM_PART_LOGIC) {
        chips = TRUE;
        step (steps, g_strdup_printf ("chip %s", board->instances[i].ref),
              g_strdup_printf (_("Power off. Put %s, %s, into its socket."), board->instances[i].ref,
                               board->instances[i].is),
              g_strdup (_("notch to notch; no leg folded under")));
      }
    if (chips)
      step (steps, g_strdup ("power chips"), g_strdup (_("Power on, read again, do check 4, power off.")),
            g_strdup (rails));
    if (is_chip (board, moved)) {
      g_autofree char *name = pm_name_instance (board, moved);
      step (steps, g_strdup ("power moved"),
            g_strdup_printf (_("Put %s into %s; power on: the machine starts as without drives."), name,
                             board->instances[board->socket].ref),
            g_strdup (_("notch to notch, pin 1 to pin 1")));
    }
  } else {
    step (steps, g_strdup ("power bare"), g_strdup (_("Drives unplugged: power on, read, power off.")),
          g_strdup (rails));
  }
  for (guint d = 0; d < board->n_drives; d++) {
    const PmDrive *drive = &board->drives[d];
    const char *name = pm_name_drive (board, d);
    if (board->supplies[drive->supply].owner == PM_SUPPLY_DRIVE && !told)
      line (
          steps, PM_ROW_CAUTION, "caution supply",
          _("Measure an outside supply, volts and polarity, before it is plugged in; red and yellow exchanged destroy "
             "the drive. Common 0 V first."));
    told |= board->supplies[drive->supply].owner == PM_SUPPLY_DRIVE;
    step (steps, g_strdup_printf ("drive %s", drive->name),
          g_strdup_printf (_("Power off. Plug in %s; power on: its lamp stays off until it is used."), name),
          g_strdup (_("at its connector 4.75 V at least while it runs")));
  }
  line (steps, PM_ROW_CAUTION, "caution disk", _("From here on: a scrap disk in every drive, write-protected."));
  step (steps, g_strdup ("power select"), g_strdup (_("Do check 5, then start from each drive.")),
        g_strdup (_("lamps as in the comparison of results")));
  if (steps->build->check->n_settings > 1)
    step (steps, g_strdup ("settings"),
          g_strdup (_("Power off, move the switch, power on: the same in every setting.")),
          g_strdup (_("move it only with the power off")));
}

void
pm_list_steps (PmListBuild *build)
{
  static const PmPartType sockets[] = {PM_PART_SOCKET, PM_PART_PINS, PM_PART_LOGIC},
                          small[] = {PM_PART_RESISTOR, PM_PART_NETWORK, PM_PART_DIODE, PM_PART_CAPACITOR, PM_PART_LED},
                          high[] = {PM_PART_CONNECTOR, PM_PART_JUMPER, PM_PART_SWITCH};
  Steps steps = {build, build->board, 0};
  pm_list_add_column (build, "step", _("Step"), PM_CELLS_NUMBER);
  pm_list_add_column (build, "what", _("What to do"), PM_CELLS_TEXT);
  pm_list_add_column (build, "look", _("Look for"), PM_CELLS_TEXT);
  pm_list_add_column (build, "done", _("Done"), PM_CELLS_TICK);
  build->about =
      g_strdup_printf (_("Local electrical codes and licensed practice come first. %s."), build->check->verdict_text);
  if (build->check->verdict == PM_VERDICT_NOT_READY)
    line (&steps, PM_ROW_HOLD, "hold verdict",
          _("Stop: it is not ready. Put the file right before anything is soldered."));
  if (build->board->has_board || any_of (build->board, small, G_N_ELEMENTS (small)))
    line (&steps, PM_ROW_CAUTION, "caution solder",
          _("Fresh air when soldering, hands washed after leaded solder, eyes protected when clipping legs."));
  solder_types (&steps, "steps sockets", _("Sockets and pins"), sockets, G_N_ELEMENTS (sockets));
  solder_types (&steps, "steps small", _("Resistors, diodes, capacitors"), small, G_N_ELEMENTS (small));
  solder_types (&steps, "steps high", _("Headers and switches"), high, G_N_ELEMENTS (high));
  cut_steps (&steps);
  wire_steps (&steps);
  lead_steps (&steps);
  label_steps (&steps);
  cable_steps (&steps);
  line (&steps, PM_ROW_HOLD, "hold checks",
        build->board->has_board ? _("Stop: do checks 1 to 3 before any chip goes in and before any power.")
                                : _("Stop: do checks 1 to 3 before any power."));
  jumper_steps (&steps);
  into_machine (&steps);
  first_power (&steps);
  pm_list_add_note (build, g_strdup (_("Limits are those of the machine's file.")));
}
