/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which symbols a thing of the board, the machine or a drive is drawn as, and which pins each has. */
#include "config.h"
#include "pm-diagram-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static PmDiagramSymbol *
add_symbol (PmDiagram *diagram, guint instance, PmSymbolShape shape)
{
  PmDiagramSymbol *symbol = g_new0 (PmDiagramSymbol, 1);

  symbol->look = (PmSymbolLook){.shape = shape, .qualifier = ""};
  symbol->instance = instance;
  symbol->sw = symbol->drive = PM_NONE;
  symbol->band = PM_BAND_FLOW;
  symbol->group = PM_LAYOUT_NONE;
  symbol->rails[0] = symbol->rails[1] = -1;
  symbol->in_machine = diagram->board->instances[instance].owner == PM_OWNER_HOST;
  symbol->pins = g_array_new (FALSE, TRUE, sizeof (PmDiagramPin));
  g_ptr_array_add (diagram->symbols, symbol);
  return symbol;
}

static PmDiagramPin *
add_pin (PmDiagram *diagram, PmDiagramSymbol *symbol, guint32 place, PmEdge edge, PmFlow flow)
{
  PmDiagramPin pin = {.place = place, .edge = edge, .flow = flow, .net = PM_LAYOUT_NONE, .position = PM_NONE};

  pin.root = diagram->roots[place];
  pin.rail = diagram->rail_of[pin.root];
  g_array_append_val (symbol->pins, pin);
  return PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, symbol->pins->len - 1);
}

static const PmPin *
part_pin (const PmDiagram *diagram, guint32 place)
{
  const PmInstance *instance = &diagram->board->instances[pm_board_instance_of (diagram->board, place)];

  return &instance->part->pins[place - instance->first_place];
}

static gboolean
is_driven (const PmDiagram *diagram, guint32 place)
{
  return diagram->driven[diagram->roots[place]] != 0;
}

/* The last piece of "host.U8". */
static const char *
short_reference (const PmInstance *instance)
{
  const char *dot = strrchr (instance->ref, '.');

  return dot != NULL ? dot + 1 : instance->ref;
}

/* ---- the machine */

static gboolean
is_select (const PmLine *line)
{
  return g_strcmp0 (line->does, "select") == 0 || g_strcmp0 (line->does, "address") == 0 ||
         g_strcmp0 (line->does, "enable") == 0;
}

void
pm_diagram_add_host (PmDiagram *diagram)
{
  const PmBoard *board = diagram->board;
  const PmHost *host = &board->host;
  PmDiagramSymbol *symbol;

  if (host->n_lines == 0)
    return;
  symbol = add_symbol (diagram, pm_board_instance_of (board, host->lines[0].place), PM_SYMBOL_HOST);
  symbol->band = PM_BAND_FIRST;
  symbol->in_machine = FALSE;
  symbol->title = g_strdup (host->title != NULL ? host->title : host->name);
  symbol->reference = g_strdup (symbol->title);
  symbol->foot = g_strdup (board->instances[symbol->instance].title);
  for (guint side = 0; side < 2; side++)
    for (guint l = 0; l < host->n_lines; l++) {
      const PmLine *line = &host->lines[l];
      if (line->place == PM_NONE || is_select (line) != (side == 0))
        continue;
      PmDiagramPin *pin = add_pin (diagram, symbol, line->place, PM_EDGE_RIGHT,
                                   line->drives != PM_LINE_DRIVES_NOTHING ? PM_FLOW_OUT : PM_FLOW_NONE);
      pin->name = g_strdup (line->name);
      pin->number = g_strdup (part_pin (diagram, line->place)->number);
      pin->both_ways = line->drives != PM_LINE_DRIVES_NOTHING && line->reads;
      pin->open_collector = line->drives == PM_LINE_OPEN_COLLECTOR;
    }
}

/* ---- drives */

static gboolean
has_pin (const PmDiagramSymbol *symbol, guint32 place)
{
  for (guint i = 0; i < symbol->pins->len; i++)
    if (PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i)->place == place)
      return TRUE;
  return FALSE;
}

static void
add_drive_pin (PmDiagram *diagram, PmDiagramSymbol *symbol, guint32 place, const char *name, PmFlow flow,
               guint32 position)
{
  const PmPin *from;

  if (place == PM_NONE || has_pin (symbol, place))
    return;
  from = part_pin (diagram, place);
  if (!g_ascii_isdigit (from->number[0]))
    return;
  PmDiagramPin *pin = add_pin (diagram, symbol, place, PM_EDGE_LEFT, flow);
  pin->name = g_strdup (name);
  pin->number = g_strdup (from->number);
  pin->position = position;
}

/* Selects by the jumper or fixed, then what the drive needs, then what it gives. */
void
pm_diagram_add_drive (PmDiagram *diagram, guint index)
{
  const PmDrive *drive = &diagram->board->drives[index];
  PmDiagramSymbol *symbol = add_symbol (diagram, drive->instance, PM_SYMBOL_DRIVE);

  symbol->drive = index;
  symbol->band = PM_BAND_LAST;
  symbol->title = g_strdup (drive->title != NULL && drive->title[0] != '\0' ? drive->title : drive->name);
  symbol->reference = g_strdup (symbol->title);
  symbol->value = g_strdup (drive->kind);
  if (drive->jumper != PM_NONE) {
    const PmSwitch *sw = &diagram->board->switches[drive->jumper];
    for (guint p = 0; p < sw->n_positions; p++) {
      const PmPosition *position = &sw->positions[p];
      const char *title = position->title != NULL ? position->title : position->name;
      for (guint k = 0; k < position->n_pairs; k++) {
        add_drive_pin (diagram, symbol, position->pairs[k].a, title, PM_FLOW_IN, p);
        add_drive_pin (diagram, symbol, position->pairs[k].b, title, PM_FLOW_IN, p);
      }
    }
  }
  for (guint a = 0; a < drive->n_answers; a++)
    for (guint w = 0; w < drive->answers[a].n_whens; w++)
      add_drive_pin (diagram, symbol, drive->answers[a].whens[w].place, _("select"), PM_FLOW_IN, PM_NONE);
  for (guint n = 0; n < drive->n_needs; n++)
    add_drive_pin (diagram, symbol, drive->needs[n].place, _(drive->needs[n].does), PM_FLOW_IN, PM_NONE);
  for (guint g = 0; g < drive->n_gives; g++)
    add_drive_pin (diagram, symbol, drive->gives[g].place, _(drive->gives[g].does), PM_FLOW_NONE, PM_NONE);
}

/* ---- logic */

static void
name_pin (PmDiagramPin *pin, const PmPin *from, gboolean inside)
{
  const char *name = from->name;

  pin->number = g_strdup (from->number);
  if (!inside || g_str_equal (from->name, from->number))
    return;
  /* "/1G", "1/G": the slash becomes a circle. */
  const char *slash = strchr (name, '/');
  pin->negated = slash != NULL;
  g_auto (GStrv) pieces = g_strsplit (name, "/", 2);
  pin->name = g_strjoinv ("", pieces);
}

static gboolean
is_output (const PmSection *section, guint32 pin)
{
  for (guint o = 0; o < pm_table_n_outputs (section->table); o++)
    if (pm_table_kind (section->table, o) == PM_COLUMN_PIN && section->outputs[o] == pin)
      return TRUE;
  return FALSE;
}

static void
add_inputs (PmDiagram *diagram, PmDiagramSymbol *symbol, const PmInstance *instance, const PmSection *section)
{
  gboolean gate = pm_symbol_is_gate (symbol->look.shape);
  guint32 edges = pm_table_edge_inputs (section->table);

  for (guint i = 0; i < pm_table_n_inputs (section->table); i++) {
    guint32 index = section->inputs[i];
    if (index >= instance->part->n_pins || is_output (section, index) ||
        has_pin (symbol, instance->first_place + index))
      continue;
    PmDiagramPin *pin = add_pin (diagram, symbol, instance->first_place + index, PM_EDGE_LEFT, PM_FLOW_IN);
    name_pin (pin, &instance->part->pins[index], !gate);
    pin->dynamic = edges >> i & 1;
  }
}

/* Pins that are joined: the one that is driven stands at the left, else the first. */
static void
add_contacts (PmDiagram *diagram, PmDiagramSymbol *symbol, const PmInstance *instance, const PmSection *section)
{
  guint n = pm_table_n_outputs (section->table);
  gboolean first_driven = FALSE, other_driven = FALSE;

  for (guint o = 0; o < n; o++)
    if (pm_table_kind (section->table, o) == PM_COLUMN_JOIN) {
      first_driven |= is_driven (diagram, instance->first_place + section->outputs[o]);
      other_driven |= is_driven (diagram, instance->first_place + section->others[o]);
    }
  gboolean first_left = first_driven || !other_driven;
  for (guint end = 0; end < 2; end++)
    for (guint o = 0; o < n; o++) {
      guint32 index = end == 0 ? section->outputs[o] : section->others[o];
      if (pm_table_kind (section->table, o) != PM_COLUMN_JOIN || has_pin (symbol, instance->first_place + index))
        continue;
      gboolean left = (end == 0) == first_left;
      PmDiagramPin *pin = add_pin (diagram, symbol, instance->first_place + index, left ? PM_EDGE_LEFT : PM_EDGE_RIGHT,
                                   left ? PM_FLOW_IN : PM_FLOW_OUT);
      name_pin (pin, &instance->part->pins[index], TRUE);
      pin->both_ways = TRUE;
    }
}

static void
add_outputs (PmDiagram *diagram, PmDiagramSymbol *symbol, const PmInstance *instance, const PmSection *section)
{
  gboolean gate = pm_symbol_is_gate (symbol->look.shape);
  guint n_both = 0;

  for (guint o = 0; o < pm_table_n_outputs (section->table); o++) {
    guint32 index = section->outputs[o];
    gboolean both = FALSE;
    if (pm_table_kind (section->table, o) != PM_COLUMN_PIN || has_pin (symbol, instance->first_place + index))
      continue;
    for (guint i = 0; i < pm_table_n_inputs (section->table); i++)
      both |= section->inputs[i] == index;
    gboolean left = both && n_both++ % 2 == 0;
    PmDiagramPin *pin = add_pin (diagram, symbol, instance->first_place + index, left ? PM_EDGE_LEFT : PM_EDGE_RIGHT,
                                 left ? PM_FLOW_IN : PM_FLOW_OUT);
    name_pin (pin, &instance->part->pins[index], !gate);
    pin->both_ways = both;
    pin->open_collector = symbol->look.open_collector;
    pin->three_state = symbol->look.three_state;
  }
}

static void
add_sections (PmDiagram *diagram, guint index)
{
  const PmInstance *instance = &diagram->board->instances[index];
  const PmPart *part = instance->part;

  for (guint s = 0; s < part->n_sections; s++) {
    const char *name = part->sections[s].name;
    gboolean seen = FALSE;
    for (guint k = 0; k < s; k++)
      seen |= g_str_equal (part->sections[k].name, name);
    if (seen)
      continue;
    PmDiagramSymbol *symbol = add_symbol (diagram, index, PM_SYMBOL_BOX);
    symbol->look = pm_symbol_of_section (part, name);
    symbol->section = g_strdup (name);
    symbol->reference = name[0] != '\0' ? g_strdup_printf ("%s.%s", short_reference (instance), name)
                                        : g_strdup (short_reference (instance));
    symbol->value = g_strdup (instance->is);
    for (guint k = s; k < part->n_sections; k++)
      if (g_str_equal (part->sections[k].name, name)) {
        add_contacts (diagram, symbol, instance, &part->sections[k]);
        add_inputs (diagram, symbol, instance, &part->sections[k]);
        add_outputs (diagram, symbol, instance, &part->sections[k]);
      }
  }
}

/* ---- two-ended parts */

/* Upright where one end is a supply, level in a line. */
static void
add_two_ended (PmDiagram *diagram, guint index, PmSymbolShape shape, PmPair pair, gboolean numbered)
{
  const PmInstance *instance = &diagram->board->instances[index];
  PmDiagramSymbol *symbol = add_symbol (diagram, index, shape);
  guint32 ends[2] = {instance->first_place + pair.a, instance->first_place + pair.b};
  int rails[2];
  const char *space = strchr (instance->is, ' ');

  symbol->reference = numbered
                          ? g_strdup_printf ("%s.%s-%s", short_reference (instance),
                                             instance->part->pins[pair.a].number, instance->part->pins[pair.b].number)
                          : g_strdup (short_reference (instance));
  symbol->value = space != NULL ? g_strdup (space + 1) : NULL;
  for (guint e = 0; e < 2; e++)
    rails[e] = diagram->rail_of[diagram->roots[ends[e]]];
  symbol->upright = rails[0] >= 0 || rails[1] >= 0;
  /* The supply end is up, 0 V down; between two rails the higher is up. */
  gboolean turn =
      symbol->upright
          ? (rails[0] >= 0 && diagram->board->rails[rails[0]].volts == 0) ||
                (rails[1] >= 0 && diagram->board->rails[rails[1]].volts != 0 &&
                 (rails[0] < 0 || diagram->board->rails[rails[1]].volts > diagram->board->rails[rails[0]].volts))
          : is_driven (diagram, ends[1]) && !is_driven (diagram, ends[0]);
  for (guint e = 0; e < 2; e++) {
    guint32 place = ends[turn ? 1 - e : e];
    PmEdge edge = symbol->upright ? (e == 0 ? PM_EDGE_TOP : PM_EDGE_BOTTOM) : e == 0 ? PM_EDGE_LEFT : PM_EDGE_RIGHT;
    PmFlow flow = symbol->upright ? PM_FLOW_NONE : e == 0 ? PM_FLOW_IN : PM_FLOW_OUT;
    PmDiagramPin *pin = add_pin (diagram, symbol, place, edge, flow);
    symbol->rails[e] = pin->rail;
  }
  if ((shape == PM_SYMBOL_DIODE || shape == PM_SYMBOL_LED)) {
    /* The path shows the anode first; pins are K, A. */
    guint32 cathode = pm_part_pin (instance->part, "K");
    guint32 first = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, 0)->place - instance->first_place;
    symbol->look.negated = cathode != PM_NONE && first == cathode;
  }
  if (rails[0] >= 0 && rails[1] >= 0)
    symbol->band = PM_BAND_FOOT;
}

/* ---- switches */

#define MOST_LUGS 64

/* Lugs that some position joins hang together: a pole.  pole[] numbers them, PM_NONE for lugs without. */
static guint
find_poles (const PmSwitch *sw, const PmInstance *instance, guint32 *pole)
{
  guint n = 0, n_lugs = MIN (instance->part->n_pins, MOST_LUGS);

  for (guint i = 0; i < n_lugs; i++)
    pole[i] = PM_NONE;
  for (guint p = 0; p < sw->n_positions; p++)
    for (guint k = 0; k < sw->positions[p].n_pairs; k++) {
      guint a = sw->positions[p].pairs[k].a - instance->first_place;
      guint b = sw->positions[p].pairs[k].b - instance->first_place;
      if (a >= n_lugs || b >= n_lugs)
        continue;
      guint32 from = pole[a], to = pole[b];
      if (from == PM_NONE && to == PM_NONE)
        pole[a] = pole[b] = n++;
      else if (from == PM_NONE)
        pole[a] = to;
      else if (to == PM_NONE)
        pole[b] = from;
      else
        for (guint i = 0; i < n_lugs; i++)
          pole[i] = pole[i] == from ? to : pole[i];
    }
  return n;
}

/* The lug with most contacts. */
static guint
find_common (const PmSwitch *sw, const PmInstance *instance, const guint32 *pole, guint32 which)
{
  guint best = 0, most = 0;

  for (guint i = 0; i < MIN (instance->part->n_pins, MOST_LUGS); i++) {
    guint n = 0;
    for (guint p = 0; p < sw->n_positions && pole[i] == which; p++)
      for (guint k = 0; k < sw->positions[p].n_pairs; k++)
        n += sw->positions[p].pairs[k].a == instance->first_place + i ||
             sw->positions[p].pairs[k].b == instance->first_place + i;
    if (n > most) {
      most = n;
      best = i;
    }
  }
  return best;
}

/* "J3.2" where the lug's lead plugs in; NULL where it does not. */
static char *
plug_of (const PmDiagram *diagram, guint32 place)
{
  const PmBoard *board = diagram->board;

  for (guint m = 0; m < board->n_matings; m++) {
    const PmMating *mating = &board->matings[m];
    for (guint k = 0; k < mating->n_pairs && mating->when != PM_MATING_WITHOUT_BOARD; k++) {
      guint32 other = mating->pairs[k].a == place   ? mating->pairs[k].b
                      : mating->pairs[k].b == place ? mating->pairs[k].a
                                                    : PM_NONE;
      if (other == PM_NONE)
        continue;
      const PmInstance *instance = &board->instances[pm_board_instance_of (board, other)];
      return g_strdup_printf ("%s.%s", short_reference (instance),
                              instance->part->pins[other - instance->first_place].number);
    }
  }
  return NULL;
}

static void
add_lug (PmDiagram *diagram, PmDiagramSymbol *symbol, guint32 place, gboolean left)
{
  PmDiagramPin *pin =
      add_pin (diagram, symbol, place, left ? PM_EDGE_LEFT : PM_EDGE_RIGHT, left ? PM_FLOW_IN : PM_FLOW_OUT);
  const PmPin *lug = part_pin (diagram, place);
  char *plug = plug_of (diagram, place);

  pin->plugged = plug != NULL;
  pin->number = plug != NULL ? plug : g_strdup (lug->number);
  pin->name = plug != NULL ? g_strdup (lug->number) : NULL;
}

/* One symbol a pole, common first. */
static void
add_switch (PmDiagram *diagram, guint32 index)
{
  const PmSwitch *sw = &diagram->board->switches[index];
  const PmInstance *instance = &diagram->board->instances[sw->instance];
  guint32 pole[MOST_LUGS];
  guint n = find_poles (sw, instance, pole), count = 0;

  for (guint32 which = 0; which < n; which++) {
    guint common = find_common (sw, instance, pole, which), n_throws = 0, n_driven = 0;
    if (pole[common] != which)
      continue;
    PmDiagramSymbol *symbol =
        add_symbol (diagram, sw->instance, sw->look == PM_LOOK_JUMPER ? PM_SYMBOL_JUMPER : PM_SYMBOL_POLE);
    symbol->sw = index;
    symbol->group = index;
    symbol->section = g_strdup_printf ("%c", 'a' + (char)MIN (count, 25u));
    count++;
    for (guint i = 0; i < MIN (instance->part->n_pins, MOST_LUGS); i++)
      if (pole[i] == which && i != common) {
        n_throws++;
        n_driven += is_driven (diagram, instance->first_place + i) ||
                    diagram->rail_of[diagram->roots[instance->first_place + i]] >= 0;
      }
    gboolean common_left = is_driven (diagram, instance->first_place + common) && n_driven == 0;
    add_lug (diagram, symbol, instance->first_place + common, common_left);
    for (guint i = 0; i < MIN (instance->part->n_pins, MOST_LUGS); i++)
      if (pole[i] == which && i != common)
        add_lug (diagram, symbol, instance->first_place + i, !common_left);
  }
  for (guint i = diagram->symbols->len; i > 0 && count > 0; i--) {
    PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, i - 1);
    if (symbol->sw != index)
      continue;
    symbol->reference = g_strdup_printf ("%s%s", short_reference (instance), count > 1 ? symbol->section : "");
  }
}

/* ---- the rest */

static gboolean
is_plugged (const PmDiagram *diagram, guint instance)
{
  for (guint m = 0; m < diagram->board->n_matings; m++)
    if (diagram->board->matings[m].a == instance || diagram->board->matings[m].b == instance)
      return TRUE;
  return FALSE;
}

/* A connector or a chip with pins only: those that are joined to anything. */
static void
add_pins (PmDiagram *diagram, guint index)
{
  const PmInstance *instance = &diagram->board->instances[index];
  PmDiagramSymbol *symbol = add_symbol (diagram, index, PM_SYMBOL_CONNECTOR);

  symbol->reference = g_strdup (short_reference (instance));
  symbol->value = g_strdup (instance->title != NULL ? instance->title : instance->is);
  for (guint i = 0; i < instance->part->n_pins; i++) {
    const PmPin *from = &instance->part->pins[i];
    gboolean supply = from->role == PM_PIN_SUPPLY || from->role == PM_PIN_GROUND;
    if (diagram->rail_of[diagram->roots[instance->first_place + i]] >= 0 || supply)
      continue;
    PmDiagramPin *pin = add_pin (diagram, symbol, instance->first_place + i, PM_EDGE_LEFT, PM_FLOW_NONE);
    name_pin (pin, from, TRUE);
  }
}

void
pm_diagram_add_part (PmDiagram *diagram, guint index)
{
  const PmBoard *board = diagram->board;
  const PmInstance *instance = &board->instances[index];
  const PmPart *part = instance->part;
  static const PmSymbolShape shapes[PM_N_PART_KINDS] = {[PM_PART_RESISTOR] = PM_SYMBOL_RESISTOR,
                                                        [PM_PART_NETWORK] = PM_SYMBOL_RESISTOR,
                                                        [PM_PART_CAPACITOR] = PM_SYMBOL_CAPACITOR,
                                                        [PM_PART_DIODE] = PM_SYMBOL_DIODE,
                                                        [PM_PART_LED] = PM_SYMBOL_LED};

  switch (part->type) {
  case PM_PART_LOGIC:
    add_sections (diagram, index);
    break;
  case PM_PART_RESISTOR:
  case PM_PART_NETWORK:
    for (guint k = 0; k < part->n_resistors; k++)
      add_two_ended (diagram, index, PM_SYMBOL_RESISTOR, part->resistors[k], part->n_resistors > 1);
    break;
  case PM_PART_CAPACITOR:
  case PM_PART_DIODE:
  case PM_PART_LED:
    if (part->n_pins >= 2)
      add_two_ended (diagram, index, shapes[part->type], (PmPair){0, 1}, FALSE);
    break;
  case PM_PART_SWITCH:
  case PM_PART_JUMPER:
    for (guint s = 0; s < board->n_switches; s++)
      if (board->switches[s].instance == index)
        add_switch (diagram, s);
    break;
  case PM_PART_CONNECTOR:
  case PM_PART_PINS:
  case PM_PART_CHIP:
  case PM_PART_SOCKET:
    if (instance->owner == PM_OWNER_BOARD && index != board->socket && index != board->plug &&
        !is_plugged (diagram, index))
      add_pins (diagram, index);
    break;
  case PM_PART_CABLE:
  case PM_PART_DRIVE:
  case PM_N_PART_KINDS:
  default:
    break;
  }
}
