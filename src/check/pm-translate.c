/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a board to its circuit. Order: places, joins, matings, contacts, rails, lines, parts, drives. */
#include "pm-translate.h"
#include <math.h>

static const PmReceiver ttl_receiver = {.vil = 0.8, .vih = 2.0, .iil = 0.4e-3, .iih = 20e-6, .open_high = TRUE};

static guint32
add_joint (PmTranslation *t, guint32 a, guint32 b, PmJointState usual, PmJointInfo info)
{
  guint32 joint = pm_circuit_add_joint (t->circuit, a, b, usual);
  g_assert (joint == t->joints->len);
  g_array_append_val (t->joints, info);
  return joint;
}

/* Controlled joints are numbered by the circuit; keep our list as long as its. */
static void
note_part_joints (PmTranslation *t, guint32 instance)
{
  PmJointInfo info = {PM_JOINT_OF_PART, instance, PM_NONE};
  while (t->joints->len < pm_circuit_n_joints (t->circuit))
    g_array_append_val (t->joints, info);
}

static guint32
need_input (PmTranslation *t, guint32 place, const PmFamily *family, guint loads)
{
  if (t->input_of[place] != PM_NONE)
    return t->input_of[place];
  PmReceiver receiver = family != NULL ? family->receiver : ttl_receiver;
  receiver.iil = (isnan (receiver.iil) ? 0 : receiver.iil) * MAX (loads, 1);
  receiver.iih = (isnan (receiver.iih) ? 0 : receiver.iih) * MAX (loads, 1);
  t->input_of[place] = pm_circuit_add_input (t->circuit, place, &receiver);
  g_array_append_val (t->input_place, place);
  return t->input_of[place];
}

/* Where a place's solder joint goes once exchanges are made. */
static guint32
exchanged (const PmTranslation *t, guint32 place)
{
  for (guint i = 0; i < t->n_edits; i++)
    if (t->edits[i].kind == PM_EDIT_EXCHANGE) {
      if (t->edits[i].a == place)
        return t->edits[i].b;
      if (t->edits[i].b == place)
        return t->edits[i].a;
    }
  return place;
}

static gboolean
is_cut (const PmTranslation *t, guint32 place, guint32 join)
{
  for (guint i = 0; i < t->n_edits; i++)
    if (t->edits[i].kind == PM_EDIT_CUT && t->edits[i].a == place && t->edits[i].b == join)
      return TRUE;
  return FALSE;
}

static void
translate_joins (PmTranslation *t)
{
  const PmBoard *board = t->board;
  for (guint j = 0; j < board->n_joins; j++) {
    const PmJoin *join = &board->joins[j];
    t->join_joint[j] = pm_circuit_n_joints (t->circuit);
    if (join->kind == PM_JOIN_THROUGH || join->kind == PM_JOIN_CUT) {
      PmJointInfo info = {PM_JOINT_OF_JOIN, j, join->places[1]};
      gboolean open = join->kind == PM_JOIN_CUT || is_cut (t, join->places[0], j) || is_cut (t, join->places[1], j);
      add_joint (t, join->places[0], join->places[1], open ? PM_JOINT_OPEN : PM_JOINT_CLOSED, info);
      continue;
    }
    guint32 centre = pm_circuit_add_place (t->circuit);
    for (guint k = 0; k < join->n_places; k++) {
      PmJointInfo info = {PM_JOINT_OF_JOIN, j, join->places[k]};
      add_joint (t, centre, exchanged (t, join->places[k]),
                 is_cut (t, join->places[k], j) ? PM_JOINT_OPEN : PM_JOINT_CLOSED, info);
    }
  }
  for (guint i = 0; i < t->n_edits; i++)
    if (t->edits[i].kind == PM_EDIT_JOIN) {
      PmJointInfo info = {PM_JOINT_OF_EDIT, i, t->edits[i].a};
      add_joint (t, t->edits[i].a, t->edits[i].b, PM_JOINT_CLOSED, info);
    }
}

/* The far end of pair k of a mating, and whether it is left open, once edits are made. */
static PmPair
edited_pair (const PmTranslation *t, guint m, guint k, gboolean *open)
{
  const PmMating *mating = &t->board->matings[m];
  PmPair pair = mating->pairs[k];
  for (guint i = 0; i < t->n_edits; i++) {
    const PmEdit *edit = &t->edits[i];
    if (edit->a != m)
      continue;
    if (edit->kind == PM_EDIT_CROSS && k >= edit->b && k <= edit->c)
      pair.b = mating->pairs[edit->b + edit->c - k].b;
    *open |= edit->kind == PM_EDIT_UNMATE && edit->b == k;
  }
  return pair;
}

static void
translate_matings (PmTranslation *t)
{
  for (guint m = 0; m < t->board->n_matings; m++) {
    const PmMating *mating = &t->board->matings[m];
    t->mating_joint[m] = pm_circuit_n_joints (t->circuit);
    PmJointState usual = mating->when == PM_MATING_WITHOUT_BOARD ? PM_JOINT_OPEN : PM_JOINT_CLOSED;
    for (guint k = 0; k < mating->n_pairs; k++) {
      gboolean open = FALSE;
      PmPair pair = edited_pair (t, m, k, &open);
      /* An open pair keeps its joint, onto itself, so that joints stay numbered alike. */
      add_joint (t, pair.a, open ? pair.a : pair.b, usual, (PmJointInfo) {PM_JOINT_OF_MATING, m, pair.a});
    }
    for (guint k = 0; k < mating->n_turned; k++)
      add_joint (t, mating->turned[k].a, mating->turned[k].b, PM_JOINT_OPEN,
                 (PmJointInfo){PM_JOINT_OF_TURNED, m, mating->turned[k].a});
  }
}

static guint
find_contact (const GArray *contacts, PmPair pair)
{
  for (guint i = 0; i < contacts->len; i++) {
    PmPair p = g_array_index (contacts, PmPair, i);
    if ((p.a == pair.a && p.b == pair.b) || (p.a == pair.b && p.b == pair.a))
      return i;
  }
  return PM_NONE;
}

static void
translate_switches (PmTranslation *t)
{
  for (guint s = 0; s < t->board->n_switches; s++) {
    const PmSwitch *sw = &t->board->switches[s];
    GArray *contacts = t->contacts[s] = g_array_new (FALSE, FALSE, sizeof (PmPair));
    for (guint p = 0; p < sw->n_positions; p++)
      for (guint k = 0; k < sw->positions[p].n_pairs; k++)
        if (find_contact (contacts, sw->positions[p].pairs[k]) == PM_NONE)
          g_array_append_val (contacts, sw->positions[p].pairs[k]);
    t->contact_joint[s] = pm_circuit_n_joints (t->circuit);
    guint64 closed = pm_translation_closed (t, s, pm_translation_usual (t, s));
    for (guint i = 0; i < contacts->len; i++) {
      PmPair pair = g_array_index (contacts, PmPair, i);
      add_joint (t, pair.a, pair.b, (closed >> i & 1) ? PM_JOINT_CLOSED : PM_JOINT_OPEN,
                 (PmJointInfo){PM_JOINT_OF_CONTACT, s, pair.a});
    }
  }
}

static void
translate_rails (PmTranslation *t)
{
  for (guint r = 0; r < t->board->n_rails; r++) {
    const PmRail *rail = &t->board->rails[r];
    guint32 place = rail->n_places > 0 ? rail->places[0] : pm_circuit_add_place (t->circuit);
    t->rail_of[r] = pm_circuit_add_rail (t->circuit, place, rail->volts);
    for (guint k = 1; k < rail->n_places; k++)
      add_joint (t, place, rail->places[k], PM_JOINT_CLOSED, (PmJointInfo) {PM_JOINT_OF_RAIL, r, rail->places[k]});
  }
}

/* A place on the lowest live rail of a supply, usually +5 V; PM_NONE if it has none. */
static guint32
supply_place (const PmBoard *board, guint supply)
{
  guint32 place = PM_NONE;
  double lowest = G_MAXDOUBLE;
  for (guint r = 0; r < board->n_rails; r++)
    if (board->rails[r].supply == supply && board->rails[r].volts > 0 && board->rails[r].volts < lowest &&
        board->rails[r].n_places > 0) {
      place = board->rails[r].places[0];
      lowest = board->rails[r].volts;
    }
  return place;
}

static guint32
host_supply_place (const PmBoard *board)
{
  for (guint p = 0; p < board->n_supplies; p++)
    if (board->supplies[p].owner == PM_SUPPLY_HOST)
      return supply_place (board, p);
  return PM_NONE;
}

/* A line that can only pull low: its level is a source of its own, read by a table that gives low or off.  So a line
 * whose level is free stays one choice between low and off, not between low and high. */
static void
add_open_line (PmTranslation *t, guint l)
{
  const PmLine *line = &t->board->host.lines[l];
  guint32 state = pm_circuit_add_place (t->circuit), output = line->place,
          instance = pm_board_instance_of (t->board, line->place);
  t->line_state[l] = pm_circuit_add_source (t->circuit, state, PM_SOURCE_HIGH);
  guint32 input = pm_circuit_add_input (t->circuit, state, &ttl_receiver);
  g_array_append_val (t->input_place, state);
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) pm_table_fault_free);
  g_autoptr (PmTable) table = pm_table_parse ("s : y\nH : Z\nL : L\n", NULL, faults);
  pm_circuit_add_section (t->circuit, table, &input, &output, NULL, host_supply_place (t->board), PM_NONE,
                          PM_UNPOWERED_OFF, NULL);
  g_array_append_val (t->section_instance, instance);
}

static void
translate_lines (PmTranslation *t)
{
  for (guint l = 0; l < t->board->host.n_lines; l++) {
    const PmLine *line = &t->board->host.lines[l];
    t->line_source[l] = t->line_state[l] = PM_NONE;
    if (line->place == PM_NONE)
      continue; /* a reset that the file does not draw */
    if (line->drives != PM_LINE_DRIVES_NOTHING) {
      t->line_source[l] = pm_circuit_add_source (t->circuit, line->place, PM_SOURCE_OFF);
      g_array_append_val (t->driver_places, line->place);
    }
    if (line->drives == PM_LINE_OPEN_COLLECTOR || line->drives == PM_LINE_WEAK)
      add_open_line (t, l);
    if (line->reads)
      need_input (t, line->place, line->family, 1);
  }
}

static const PmFamily *
family_of (const PmTranslation *t, guint32 instance)
{
  for (guint i = 0; i < t->n_edits; i++)
    if (t->edits[i].kind == PM_EDIT_FAMILY && t->edits[i].a == instance)
      return t->edits[i].family;
  return t->board->instances[instance].family;
}

static guint32
first_pin (const PmInstance *instance, PmPinRole role)
{
  for (guint k = 0; k < instance->part->n_pins; k++)
    if (instance->part->pins[k].role == role)
      return instance->first_place + k;
  return PM_NONE;
}

static void
translate_section (PmTranslation *t, guint32 i, const PmSection *section, guint32 first_bit)
{
  const PmInstance *instance = &t->board->instances[i];
  const PmFamily *family = family_of (t, i);
  guint n_in = pm_table_n_inputs (section->table), n_out = pm_table_n_outputs (section->table);
  g_autofree guint32 *inputs = g_new (guint32, MAX (n_in, 1)), *outputs = g_new (guint32, MAX (n_out, 1)),
                     *others = g_new (guint32, MAX (n_out, 1));
  for (guint k = 0; k < n_in; k++)
    if (PM_IS_BIT (section->inputs[k]))
      inputs[k] = PM_BIT (first_bit + PM_BIT_OF (section->inputs[k]));
    else
      inputs[k] = need_input (t, instance->first_place + section->inputs[k], family,
                              instance->part->pins[section->inputs[k]].loads);
  for (guint k = 0; k < n_out; k++) {
    others[k] = PM_NONE;
    switch (pm_table_kind (section->table, k)) {
    case PM_COLUMN_BIT:
      outputs[k] =
          first_bit + (PM_IS_BIT (section->outputs[k]) ? PM_BIT_OF (section->outputs[k]) : section->outputs[k]);
      break;
    case PM_COLUMN_JOIN:
      outputs[k] = instance->first_place + section->outputs[k];
      others[k] = instance->first_place + section->others[k];
      break;
    case PM_COLUMN_PIN:
    default:
      outputs[k] = instance->first_place + section->outputs[k];
      g_array_append_val (t->driver_places, outputs[k]);
      break;
    }
  }
  pm_circuit_add_section (t->circuit, section->table, inputs, outputs, others, first_pin (instance, PM_PIN_SUPPLY),
                          first_pin (instance, PM_PIN_GROUND), family != NULL ? family->unpowered : PM_UNPOWERED_OFF,
                          NULL);
  g_array_append_val (t->section_instance, i);
  note_part_joints (t, i);
}

/* A bilateral switch of a family that clamps holds its pins low when it has no power, like any output of that family:
 * each such pin gets a section that drives nothing as long as there is power. */
static void
add_clamps (PmTranslation *t, guint32 i, const PmSection *section)
{
  const PmInstance *instance = &t->board->instances[i];
  const PmFamily *family = family_of (t, i);
  if (family == NULL || family->unpowered != PM_UNPOWERED_CLAMPS || pm_table_n_inputs (section->table) == 0 ||
      PM_IS_BIT (section->inputs[0]))
    return;
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) pm_table_fault_free);
  g_autoptr (PmTable) table = pm_table_parse ("a : y\nX : Z\n", NULL, faults);
  for (guint k = 0; k < pm_table_n_outputs (section->table); k++) {
    const guint32 pins[2] = {section->outputs[k], section->others[k]};
    for (guint e = 0; e < 2 && pm_table_kind (section->table, k) == PM_COLUMN_JOIN; e++) {
      guint32 input = need_input (t, instance->first_place + section->inputs[0], family, 1),
              output = instance->first_place + pins[e];
      pm_circuit_add_section (t->circuit, table, &input, &output, NULL, first_pin (instance, PM_PIN_SUPPLY),
                              first_pin (instance, PM_PIN_GROUND), PM_UNPOWERED_CLAMPS, NULL);
      g_array_append_val (t->section_instance, i);
        }
  }
}

/* A part in a line whose effect on levels is not worked out: two resistors with a place between them that no rail
 * holds, which is what the evaluator calls not judged, from whichever side it is met. */
static void
add_unjudged (PmTranslation *t, guint32 a, guint32 b)
{
  guint32 between = pm_circuit_add_place (t->circuit);
  pm_circuit_add_resistor (t->circuit, a, between, 1);
  pm_circuit_add_resistor (t->circuit, between, b, 1);
}

static double
value_of (const PmTranslation *t, guint32 instance)
{
  for (guint i = 0; i < t->n_edits; i++)
    if (t->edits[i].kind == PM_EDIT_VALUE && t->edits[i].a == instance)
      return t->edits[i].c;
  return t->board->instances[instance].value;
}

static void
translate_parts (PmTranslation *t)
{
  for (guint32 i = 0; i < t->board->n_instances; i++) {
    const PmInstance *instance = &t->board->instances[i];
    const PmPart *part = instance->part;
    guint32 first_bit = pm_circuit_n_bits (t->circuit);
    for (guint b = 0; part->bits != NULL && part->bits[b] != NULL; b++) {
      pm_circuit_add_bit (t->circuit);
      g_array_append_val (t->bit_instance, i);
    }
    for (guint s = 0; s < part->n_sections; s++) {
      translate_section (t, i, &part->sections[s], first_bit);
      add_clamps (t, i, &part->sections[s]);
    }
    double ohms = value_of (t, i);
    if (!isnan (ohms) && ohms > 0)
      for (guint k = 0; k < part->n_resistors; k++)
        pm_circuit_add_resistor (t->circuit, instance->first_place + part->resistors[k].a,
                                 instance->first_place + part->resistors[k].b, ohms);
    t->capacitor_source[i] = PM_NONE;
    if (part->type == PM_PART_CAPACITOR &&
        part->n_pins == 2) { /* empty at power-on: it may hold a pin low for a moment */
      t->capacitor_source[i] = pm_circuit_add_source (t->circuit, instance->first_place, PM_SOURCE_OFF);
      pm_circuit_add_source (t->circuit, instance->first_place + 1, PM_SOURCE_OFF);
    }
    if ((part->type == PM_PART_DIODE || part->type == PM_PART_LED) && part->n_pins == 2)
      add_unjudged (t, instance->first_place, instance->first_place + 1);
  }
  for (guint i = 0; i < t->n_edits; i++)
    if (t->edits[i].kind == PM_EDIT_PULL)
      pm_circuit_add_resistor (t->circuit, t->edits[i].a, t->board->rails[t->edits[i].b].places[0], t->edits[i].c);
}

/* The places that decide whether a drive answers, each once. */
static GArray *
answer_places (const PmDrive *drive)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (guint32));
  for (guint a = 0; a < drive->n_answers; a++)
    for (guint w = 0; w < drive->answers[a].n_whens; w++) {
      gboolean known = FALSE;
      for (guint k = 0; k < places->len && !known; k++)
        known = g_array_index (places, guint32, k) == drive->answers[a].whens[w].place;
      if (!known && places->len < 10)
        g_array_append_val (places, drive->answers[a].whens[w].place);
    }
  return places;
}

static gboolean
answers_with (const PmDrive *drive, const GArray *places, guint32 reading)
{
  for (guint a = 0; a < drive->n_answers; a++) {
    gboolean all = TRUE;
    for (guint w = 0; w < drive->answers[a].n_whens && all; w++)
      for (guint k = 0; k < places->len; k++)
        if (g_array_index (places, guint32, k) == drive->answers[a].whens[w].place)
          all = all && (reading >> k & 1) == (drive->answers[a].whens[w].high ? 1u : 0u);
    if (all)
      return TRUE;
  }
  return FALSE;
}

/* A drive is tables like any chip.  Its lamp: every combination of what it looks at.  What it gives: the same with its
 * own state as one more input (column s). kind: 0 the lamp, else the output cells for (answering, state). */
static PmTable *
drive_table (const PmDrive *drive, const GArray *places, const PmGives *gives)
{
  g_autoptr (GString) text = g_string_new (NULL);
  guint n = places->len + (gives != NULL ? 1 : 0);
  for (guint k = 0; k < places->len; k++)
    g_string_append_printf (text, "i%u ", k);
  g_string_append (text, gives != NULL ? "s : y\n" : ": y\n");
  for (guint32 r = 0; r < (1u << n); r++) {
    gboolean on = answers_with (drive, places, r);
    const char *cell = on ? "H" : "L";
    if (gives != NULL) {
      gboolean state = r >> places->len & 1, high = state ? gives->asserted_high : !gives->asserted_high;
      if (gives->holds >= 0)
        high = gives->holds != 0;
      gboolean driven = on || gives->while_ == PM_WHILE_ALWAYS;
      cell = !driven ? "Z" : high ? (gives->as == PM_AS_OPEN_COLLECTOR ? "Z" : "H") : "L";
    }
    for (guint k = 0; k < n; k++)
      g_string_append (text, (r >> k & 1) ? "H " : "L ");
    g_string_append_printf (text, ": %s\n", cell);
  }
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) pm_table_fault_free);
  PmTable *table = pm_table_parse (text->str, NULL, faults);
  g_assert (table != NULL);
  return table;
}

static void
add_drive_section (PmTranslation *t, const PmDrive *drive, PmTable *table, const guint32 *inputs, guint32 output)
{
  guint32 instance = drive->instance;
  PmUnpowered unpowered = drive->family != NULL ? drive->family->unpowered : PM_UNPOWERED_OFF;
  pm_circuit_add_section (t->circuit, table, inputs, &output, NULL, supply_place (t->board, drive->supply), PM_NONE,
                          unpowered, NULL);
  g_array_append_val (t->section_instance, instance);
}

static void
translate_drives (PmTranslation *t)
{
  for (guint d = 0; d < t->board->n_drives; d++) {
    const PmDrive *drive = &t->board->drives[d];
    g_autoptr (GArray) places = answer_places (drive);
    guint32 inputs[12];
    for (guint k = 0; k < places->len; k++)
      inputs[k] = need_input (t, g_array_index (places, guint32, k), drive->family, 1);
    for (guint k = 0; k < drive->n_needs; k++)
      if (drive->needs[k].place != PM_NONE)
        need_input (t, drive->needs[k].place, drive->family, 1);
    g_autoptr (PmTable) lamp = drive_table (drive, places, NULL);
    t->lamp[d] = pm_circuit_add_place (t->circuit);
    t->lamp_section[d] = pm_circuit_n_sections (t->circuit);
    add_drive_section (t, drive, lamp, inputs, t->lamp[d]);
    for (guint g = 0; g < drive->n_gives; g++) {
      if (drive->gives[g].place == PM_NONE)
        continue;
      guint32 state = pm_circuit_add_place (t->circuit);
      PmGivesInfo info = {d, g, pm_circuit_add_source (t->circuit, state, PM_SOURCE_FREE), drive->gives[g].place};
      inputs[places->len] = pm_circuit_add_input (t->circuit, state, &ttl_receiver);
      g_array_append_val (t->input_place, state);
      g_autoptr (PmTable) table = drive_table (drive, places, &drive->gives[g]);
      add_drive_section (t, drive, table, inputs, info.place);
      g_array_append_val (t->gives, info);
      g_array_append_val (t->driver_places, info.place);
    }
  }
}

guint
pm_translation_usual (const PmTranslation *t, guint sw)
{
  for (guint i = 0; i < t->n_edits; i++)
    if (t->edits[i].kind == PM_EDIT_POSITION && t->edits[i].a == sw)
      return t->edits[i].b;
  return t->board->switches[sw].usual;
}

gboolean
pm_translation_turned (const PmTranslation *t, guint line)
{
  for (guint i = 0; i < t->n_edits; i++)
    if (t->edits[i].kind == PM_EDIT_SENSE && t->edits[i].a == line)
      return TRUE;
  return FALSE;
}

guint64
pm_translation_closed (const PmTranslation *t, guint sw, guint position)
{
  guint from = position;
  for (guint i = 0; i < t->n_edits; i++)
    if (t->edits[i].kind == PM_EDIT_SWAP_POSITIONS && t->edits[i].a == sw)
      from = position == t->edits[i].b ? t->edits[i].c : position == t->edits[i].c ? t->edits[i].b : from;
  const PmPosition *p = &t->board->switches[sw].positions[from];
  guint64 mask = 0;
  for (guint k = 0; k < p->n_pairs; k++)
    mask |= (guint64) 1 << find_contact (t->contacts[sw], p->pairs[k]);
  return mask;
}

PmTranslation *
pm_translate (const PmBoard *board, const PmEdit *edits, guint n_edits)
{
  PmTranslation *t = g_new0 (PmTranslation, 1);
  t->board = board;
  t->edits = edits;
  t->n_edits = n_edits;
  t->circuit = pm_circuit_new ();
  pm_circuit_add_places (t->circuit, board->n_places);
  t->joints = g_array_new (FALSE, FALSE, sizeof (PmJointInfo));
  t->input_of = g_new (guint32, MAX (board->n_places, 1));
  memset (t->input_of, 0xff, sizeof (guint32) * board->n_places);
  t->input_place = g_array_new (FALSE, FALSE, sizeof (guint32));
  t->join_joint = g_new0 (guint32, MAX (board->n_joins, 1));
  t->mating_joint = g_new0 (guint32, MAX (board->n_matings, 1));
  t->contacts = g_new0 (GArray *, MAX (board->n_switches, 1));
  t->contact_joint = g_new0 (guint32, MAX (board->n_switches, 1));
  t->rail_of = g_new0 (guint32, MAX (board->n_rails, 1));
  t->line_source = g_new0 (guint32, MAX (board->host.n_lines, 1));
  t->line_state = g_new0 (guint32, MAX (board->host.n_lines, 1));
  t->capacitor_source = g_new0 (guint32, MAX (board->n_instances, 1));
  t->lamp = g_new0 (guint32, MAX (board->n_drives, 1));
  t->lamp_section = g_new0 (guint32, MAX (board->n_drives, 1));
  t->gives = g_array_new (FALSE, FALSE, sizeof (PmGivesInfo));
  t->section_instance = g_array_new (FALSE, FALSE, sizeof (guint32));
  t->bit_instance = g_array_new (FALSE, FALSE, sizeof (guint32));
  t->driver_places = g_array_new (FALSE, FALSE, sizeof (guint32));
  translate_joins (t);
  translate_matings (t);
  translate_switches (t);
  translate_rails (t);
  translate_lines (t);
  translate_parts (t);
  translate_drives (t);
  pm_circuit_seal (t->circuit);
  return t;
}

void
pm_translation_free (PmTranslation *t)
{
  if (t == NULL)
    return;
  for (guint s = 0; s < t->board->n_switches; s++)
    g_array_unref (t->contacts[s]);
  g_free (t->contacts);
  g_array_unref (t->joints);
  g_free (t->input_of);
  g_array_unref (t->input_place);
  g_free (t->join_joint);
  g_free (t->mating_joint);
  g_free (t->contact_joint);
  g_free (t->rail_of);
  g_free (t->line_source);
  g_free (t->line_state);
  g_free (t->capacitor_source);
  g_free (t->lamp);
  g_free (t->lamp_section);
  g_array_unref (t->gives);
  g_array_unref (t->section_instance);
  g_array_unref (t->bit_instance);
  g_array_unref (t->driver_places);
  pm_circuit_free (t->circuit);
  g_free (t);
}
