/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Proposals of repairs: cheap and many, the simplest first. */
#include "config.h"
#include "pm-propose-private.h"
#include "pm-finding-private.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>

/* Takes text. */
static PmRepair *
propose (PmPropose *p, char *text)
{
  PmRepair *repair = g_new0 (PmRepair, 1);
  repair->text = text;
  g_ptr_array_add (p->out, repair);
  return repair;
}

void
pm_propose_edit (PmRepair *repair, PmEditKind kind, guint32 a, guint32 b, guint32 c, guint32 d)
{
  if (repair->n_edits < PM_REPAIR_MAX_EDITS)
    repair->edits[repair->n_edits++] = (PmEdit){kind, a, b, c, d, NULL};
}

/* ---- what stands where */

static gboolean
same_net (const PmTrial *trial, guint32 a, guint32 b)
{
  return pm_bound_net (trial->survey->bound, a) == pm_bound_net (trial->survey->bound, b);
}

guint32
pm_propose_line_of_join (const PmTrial *trial, guint32 j)
{
  const PmJoin *join = &trial->board->joins[j];
  for (guint l = 0; l < trial->board->host.n_lines; l++)
    if (same_net (trial, trial->board->host.lines[l].place, join->places[0]) ||
        same_net (trial, trial->board->host.lines[l].place, join->places[1]))
      return l;
  return PM_NONE;
}

char *
pm_propose_join_name (const PmTrial *trial, guint32 j)
{
  guint32 line = pm_propose_line_of_join (trial, j);
  const char *pin = pm_name_number (trial->board, trial->board->joins[j].places[1]);
  return line != PM_NONE ? g_strdup_printf (_("pin %s (%s)"), pin, trial->board->host.lines[line].name)
                         : g_strdup_printf (_("pin %s"), pin);
}

static guint32
rail_place (const PmBoard *board, gboolean live, guint *rail)
{
  for (guint r = 0; r < board->n_rails; r++)
    if ((board->rails[r].volts > 0 && board->rails[r].volts < 6) == live && (live || board->rails[r].volts == 0) &&
        board->rails[r].n_places > 0 && board->supplies[board->rails[r].supply].owner != PM_SUPPLY_DRIVE) {
      *rail = r;
      return board->rails[r].places[0];
    }
  return PM_NONE;
}

guint32
pm_propose_join_of (const PmBoard *board, guint32 place)
{
  for (guint j = 0; j < board->n_joins; j++) {
    if (board->joins[j].kind == PM_JOIN_THROUGH || board->joins[j].kind == PM_JOIN_CUT)
      continue;
    for (guint k = 0; k < board->joins[j].n_places; k++)
      if (board->joins[j].places[k] == place)
        return j;
  }
  return PM_NONE;
}

/* ---- one edit */

static void
propose_throughs (PmPropose *p)
{
  const PmBoard *board = p->trial->board;
  for (guint j = 0; j < board->n_joins; j++) {
    g_autofree char *name = NULL;
    if (board->joins[j].kind == PM_JOIN_CUT) {
      name = pm_propose_join_name (p->trial, j);
      pm_propose_edit (propose (p, g_strdup_printf (_("Leave %s uncut, so that it goes straight through."), name)),
                       PM_EDIT_JOIN, board->joins[j].places[0], board->joins[j].places[1], 0, 0);
    } else if (board->joins[j].kind == PM_JOIN_THROUGH && pm_propose_line_of_join (p->trial, j) != PM_NONE) {
      name = pm_propose_join_name (p->trial, j);
      pm_propose_edit (propose (p, g_strdup_printf (_("Cut %s."), name)), PM_EDIT_CUT, board->joins[j].places[0], j, 0,
                       0);
    }
  }
}

static void
propose_positions (PmPropose *p)
{
  const PmBoard *board = p->trial->board;
  for (guint s = 0; s < board->n_switches; s++) {
    const PmSwitch *sw = &board->switches[s];
    if (pm_switch_is_by_hand (sw))
      continue;
    for (guint k = 0; k < sw->n_positions; k++)
      if (k != sw->usual) {
        char *text =
            sw->owner == PM_OWNER_DRIVE
                ? g_strdup_printf (_("Put the jumper of %s to %s (in the file: jumper=\"%s\")."),
                                   pm_name_drive (board, sw->owner_index), pm_position_title (sw, k),
                                   sw->positions[k].name)
                : g_strdup_printf (_("Put %s to %s."), pm_name_switch (sw), pm_position_title (sw, k));
        pm_propose_edit (propose (p, text), PM_EDIT_POSITION, s, k, 0, 0);
      }
  }
}

/* As files write it: "2-1 5-4". */
static char *
closes_text (const PmBoard *board, const PmPosition *position)
{
  GString *text = g_string_new (NULL);
  for (guint k = 0; k < position->n_pairs; k++)
    g_string_append_printf (text, "%s%s-%s", k > 0 ? " " : "", pm_name_number (board, position->pairs[k].a),
                            pm_name_number (board, position->pairs[k].b));
  return g_string_free (text, FALSE);
}

static void
propose_swaps (PmPropose *p)
{
  const PmBoard *board = p->trial->board;
  for (guint s = 0; s < board->n_switches; s++) {
    const PmSwitch *sw = &board->switches[s];
    if (!pm_switch_is_by_hand (sw) || sw->n_positions != 2)
      continue;
    g_autofree char *first = closes_text (board, &sw->positions[0]), *second = closes_text (board, &sw->positions[1]);
    pm_propose_edit (
        propose (p, g_strdup_printf (_("Exchange the two outer wires of %s, or turn the switch (or its plate) round "
                                       "(in the file: exchange closes=\"%s\" and closes=\"%s\" of %s)."),
                                     sw->name, first, second, sw->name)),
        PM_EDIT_SWAP_POSITIONS, s, 0, 1, 0);
  }
}

/* The lines of the machine whose selects are turned round on the way to a drive: on at the other level, all of them. */
static void
propose_senses (PmPropose *p)
{
  const PmTrial *trial = p->trial;
  const PmBoard *board = trial->board;
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  PmRepair *repair = propose (p, NULL);
  for (guint d = 0; d < board->n_drives; d++) {
    guint unit, drive;
    PmRaw of = pm_raw_init (p->raw->kind, p->raw->severity, p->raw->spec);
    of.drive = (int) d;
    if (!pm_tell_turned_sense (trial, &of, &unit, &drive) || board->host.units[unit].n_levels != 1)
      continue;
    guint l = board->host.units[unit].levels[0].line;
    const PmLine *line = &board->host.lines[l];
    gboolean known = FALSE;
    for (guint i = 0; i < repair->n_edits; i++)
      known |= repair->edits[i].a == l;
    if (known)
      continue;
    pm_propose_edit (repair, PM_EDIT_SENSE, l, 0, 0, 0);
    g_ptr_array_add (words, g_strdup_printf (_("asserted=\"%s\" at %s (line %u)"), line->asserted_low ? "high" : "low",
                                             line->name, line->spot.line));
  }
  g_autofree char *list = pm_name_list (words);
  repair->text = g_strdup_printf (_("In the machine's file write %s, if that is what it does."), list);
  if (repair->n_edits == 0)
    g_ptr_array_set_size (p->out, (int) p->out->len - 1);
}

/* What an open place could be joined to for good. */
static void
propose_ties (PmPropose *p)
{
  const PmBoard *board = p->trial->board;
  if (p->raw->place == PM_NONE || !PM_FINDINGS[p->raw->kind].of_routes)
    return;
  g_autofree char *one = pm_name_probe (board, p->raw->place);
  for (guint up = 0; up < 2; up++) {
    guint rail;
    guint32 at = rail_place (board, up == 1, &rail);
    if (at != PM_NONE)
      pm_propose_edit (propose (p, g_strdup_printf (up ? _("Join %s to +5 V.") : _("Join %s to 0 V."), one)),
                       PM_EDIT_JOIN, p->raw->place, at, 0, 0);
  }
  for (guint j = 0; j < board->n_joins; j++)
    for (guint e = 0; e < 2 && board->joins[j].kind == PM_JOIN_CUT; e++) {
      g_autofree char *pin = pm_name_pin (board, board->joins[j].places[e]);
      pm_propose_edit (propose (p, g_strdup_printf (_("Join %s to %s."), one, pin)), PM_EDIT_JOIN, p->raw->place,
                       board->joins[j].places[e], 0, 0);
    }
}

static void
propose_pulls (PmPropose *p)
{
  static const struct {
    gboolean up;
    guint ohms;
    const char *text, *each;
  } pulls[] = {{TRUE, 10000, N_("Fit 10 kΩ from %s to +5 V."), N_("Fit 10 kΩ from each of %s to +5 V.")},
               {FALSE, 10000, N_("Fit 10 kΩ from %s to 0 V."), N_("Fit 10 kΩ from each of %s to 0 V.")},
               {FALSE, 330, N_("Fit 330 Ω from %s to 0 V."), N_("Fit 330 Ω from each of %s to 0 V.")}};
  const PmTrial *trial = p->trial;
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (guint32));
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  for (guint r = 0; r < trial->raws->len; r++) { /* all open places of this sort at once: one remedy for one habit */
    const PmRaw *raw = &g_array_index (trial->raws, PmRaw, r);
    gboolean known = FALSE;
    if (raw->kind != p->raw->kind || raw->place == PM_NONE || raw->as_today)
      continue;
    for (guint i = 0; i < places->len && !known; i++)
      known = g_array_index (places, guint32, i) == raw->place;
    if (known)
      continue;
    g_array_append_val (places, raw->place);
    g_ptr_array_add (names, pm_name_probe (trial->board, raw->place));
  }
  if (p->raw->place == PM_NONE || places->len == 0)
    return;
  g_autofree char *one = pm_name_probe (trial->board, p->raw->place), *all = pm_name_list (names);
  gboolean up_only = p->raw->kind == PM_FINDING_HIGH_NOT_ENOUGH;
  for (guint every = 0; every < (places->len > 1 ? 2u : 1u); every++)
    for (guint k = 0; k < G_N_ELEMENTS (pulls); k++) {
      guint rail;
      if (rail_place (trial->board, pulls[k].up, &rail) == PM_NONE || (up_only && !pulls[k].up))
        continue;
      PmRepair *repair = propose (p, g_strdup_printf (_(every ? pulls[k].each : pulls[k].text), every ? all : one));
      if (every)
        for (guint i = 0; i < places->len; i++)
          pm_propose_edit (repair, PM_EDIT_PULL, g_array_index (places, guint32, i), rail, pulls[k].ohms, 0);
      else
        pm_propose_edit (repair, PM_EDIT_PULL, p->raw->place, rail, pulls[k].ohms, 0);
    }
}

static void
propose_families_of (PmPropose *p, guint i)
{
  static const char *const order[] = {"HCT", "LS", "ALS", "F", "ACT", "S", "std", "HC", "AC"};
  const PmBoard *board = p->trial->board;
  const PmInstance *instance = &board->instances[i];
  if (board->library == NULL || instance->part->n_sections == 0 || instance->owner != PM_OWNER_BOARD ||
      instance->family == NULL)
    return;
  for (guint k = 0; k < G_N_ELEMENTS (order); k++) {
    if (g_strcmp0 (order[k], instance->family->name) == 0 || instance->part->families == NULL ||
        !g_strv_contains ((const char *const *)instance->part->families, order[k]))
      continue;
    g_autofree char *is = g_str_equal (order[k], "std") ? g_strdup (instance->part->name)
                          : g_str_has_prefix (instance->part->name, "74")
                              ? g_strdup_printf ("74%s%s", order[k], instance->part->name + 2)
                              : g_strdup_printf ("74%s%s", order[k], instance->part->name);
    g_autoptr (PmFaults) faults = pm_faults_new ();
    const PmFamily *family = NULL;
    if (pm_library_part (board->library, NULL, is, &family, NULL, instance->spot, faults) == NULL || family == NULL)
      continue;
    PmRepair *repair = propose (p, g_strdup_printf (_("Take a %s for %s."), is, instance->ref));
    pm_propose_edit (repair, PM_EDIT_FAMILY, i, 0, 0, 0);
    repair->edits[0].family = family;
  }
}

/* A resistor that is there already on the net of the finding: smaller where it does not hold, larger where it
 * overloads. */
static void
propose_values (PmPropose *p)
{
  static const guint smaller[] = {4700, 1000, 330}, larger[] = {10000, 47000, 100000};
  gboolean grow = p->raw->kind == PM_FINDING_HIGH_NOT_ENOUGH || p->raw->kind == PM_FINDING_LOW_NOT_REACHED;
  const guint *values = grow ? larger : smaller;
  const PmTrial *trial = p->trial;
  const PmBoard *board = trial->board;
  if (p->raw->place == PM_NONE)
    return;
  pm_survey_bind (trial->survey, p->raw->spec, p->raw->state != PM_NONE ? p->raw->state : 0);
  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *r = &board->instances[i];
    if (r->part->type != PM_PART_RESISTOR || r->owner != PM_OWNER_BOARD || r->part->n_pins != 2)
      continue;
    if (!same_net (trial, r->first_place, p->raw->place) && !same_net (trial, r->first_place + 1, p->raw->place))
      continue;
    for (guint k = 0; k < G_N_ELEMENTS (smaller); k++) {
      if (grow ? values[k] <= r->value : values[k] >= r->value)
        continue;
      g_autofree char *ohms = pm_quantity_format (values[k], PM_UNIT_OHM);
      pm_propose_edit (propose (p, g_strdup_printf (_("Take %s for %s."), ohms, r->ref)), PM_EDIT_VALUE, i, 0,
                       values[k], 0);
    }
  }
  pm_survey_bind (trial->survey, MIN (1, trial->cases->specs->len - 1), 0);
}

/* Lugs and pins of the board that a switch can reach and that are joined to nothing: led to 0 V, to +5 V, to either
 * side of a cut line. */
static void
propose_bare_lugs (PmPropose *p)
{
  const PmBoard *board = p->trial->board;
  for (guint s = 0; s < board->n_switches; s++) {
    if (board->switches[s].owner != PM_OWNER_BOARD)
      continue;
    const GArray *contacts = p->trial->t->contacts[s];
    for (guint c = 0; c < 2 * contacts->len; c++) {
      PmPair pair = g_array_index (contacts, PmPair, c / 2);
      guint32 lug = pm_name_plugged (board, c % 2 ? pair.b : pair.a), rail;
      if (pm_propose_join_of (board, lug) != PM_NONE || p->out->len >= PM_MOST_PROPOSALS)
        continue;
      g_autofree char *name = pm_name_pin (board, lug);
      for (guint up = 0; up < 2; up++) {
        guint32 at = rail_place (board, up == 1, &rail);
        if (at != PM_NONE)
          pm_propose_edit (propose (p, g_strdup_printf (up ? _("Join %s to +5 V.") : _("Join %s to 0 V."), name)),
                           PM_EDIT_JOIN, lug, at, 0, 0);
      }
      for (guint j = 0; j < board->n_joins; j++)
        for (guint e = 0; e < 2 && board->joins[j].kind == PM_JOIN_CUT; e++) {
          g_autofree char *pin = pm_name_pin (board, board->joins[j].places[e]);
          pm_propose_edit (propose (p, g_strdup_printf (_("Join %s to %s."), name, pin)), PM_EDIT_JOIN, lug,
                           board->joins[j].places[e], 0, 0);
        }
    }
  }
}

/* The chip that the finding names, or each chip of the board. */
static void
propose_families (PmPropose *p)
{
  guint32 place = p->raw->kind == PM_FINDING_HIGH_NOT_ENOUGH ? p->raw->place2 : p->raw->place;
  if (place != PM_NONE)
    propose_families_of (p, pm_board_instance_of (p->trial->board, place));
  for (guint i = 0; place == PM_NONE && i < p->trial->board->n_instances; i++)
    propose_families_of (p, i);
}

static void
propose_cable (PmPropose *p)
{
  const PmBoard *board = p->trial->board;
  for (guint m = 0; m < board->n_matings; m++) {
    const PmMating *mating = &board->matings[m];
    const PmInstance *a = &board->instances[mating->a], *b = &board->instances[mating->b];
    if (a->part->type != PM_PART_CABLE && b->part->type != PM_PART_CABLE)
      continue;
    const PmInstance *other = a->part->type == PM_PART_CABLE ? b : a, *cable = other == a ? b : a;
    guint32 lo = PM_NONE, hi = PM_NONE;
    for (guint k = 0; k < mating->n_pairs; k++) {
      guint32 conductor = cable == a ? mating->pairs[k].a : mating->pairs[k].b;
      guint n = conductor - cable->first_place + 1;
      lo = n == 10 ? k : lo;
      hi = n == 16 ? k : hi;
    }
    if (lo == PM_NONE || hi == PM_NONE)
      continue;
    guint32 far = cable == a ? mating->pairs[lo].b : mating->pairs[lo].a;
    gboolean crossed = far - other->first_place + 1 != 10;
    const char *where = other->part->type == PM_PART_DRIVE ? pm_name_drive (board, other->owner_index)
                        : other->title != NULL             ? other->title
                                                           : other->ref;
    pm_propose_edit (
        propose (p,
                 g_strdup_printf (crossed ? _("Straighten conductors 10 to 16 of %s before %s (no twist at this end).")
                                          : _("Cross conductors 10 to 16 of %s before %s (a twisted cable end)."),
                                  cable->ref, where)),
        PM_EDIT_CROSS, m, MIN (lo, hi), MAX (lo, hi), crossed);
  }
}

/* How a file writes a cable's end with one conductor left out: map="1..33-1..33".  NULL where it is no straight end. */
static char *
map_without (const PmBoard *board, const PmMating *mating, guint without)
{
  const PmInstance *a = &board->instances[mating->a], *b = &board->instances[mating->b];
  if (a->part->type != PM_PART_CABLE && b->part->type != PM_PART_CABLE)
    return NULL;
  for (guint k = 0; k < mating->n_pairs; k++)
    if (mating->pairs[k].a - a->first_place != k || mating->pairs[k].b - b->first_place != k)
      return NULL;
  g_autofree char *before = without == 0   ? g_strdup ("")
                            : without == 1 ? g_strdup ("1-1")
                                           : g_strdup_printf ("1..%u-1..%u", without, without),
                  *after = without + 1 == mating->n_pairs   ? g_strdup ("")
                           : without + 2 == mating->n_pairs ? g_strdup_printf ("%u-%u", without + 2, without + 2)
                                                            : g_strdup_printf ("%u..%u-%u..%u", without + 2,
                                                                               mating->n_pairs, without + 2,
                                                                               mating->n_pairs);
  return g_strdup_printf ("%s%s%s", before, *before != '\0' && *after != '\0' ? " " : "", after);
}

static void
propose_unmate (PmPropose *p)
{
  const PmBoard *board = p->trial->board;
  if (p->raw->place == PM_NONE)
    return;
  for (guint m = 0; m < board->n_matings; m++)
    for (guint k = 0; k < board->matings[m].n_pairs; k++)
      if (board->matings[m].pairs[k].a == p->raw->place || board->matings[m].pairs[k].b == p->raw->place) {
        const PmMating *mating = &board->matings[m];
        g_autofree char *pin = pm_name_place (board, p->raw->place), *map = map_without (board, mating, k);
        const PmInstance *end = &board->instances[mating->a];
        end = end->part->type == PM_PART_CABLE ? &board->instances[mating->b] : end;
        char *text = map != NULL ? g_strdup_printf (_("Take the conductor to %s out, or insulate that contact (in the "
                                                      "file: <end at=\"%s\" map=\"%s\"/>)."),
                                                    pin, end->ref, map)
                                 : g_strdup_printf (_("Take the conductor to %s out, or insulate that contact."), pin);
        pm_propose_edit (propose (p, text), PM_EDIT_UNMATE, m, k, 0, 0);
      }
}

/* ---- joins of the board */

static void
propose_joins (PmPropose *p)
{
  const PmBoard *board = p->trial->board;
  g_autoptr (GArray) members = g_array_new (FALSE, FALSE, sizeof (PmPair)); /* a: place, b: join */
  for (guint j = 0; j < board->n_joins; j++) {
    const PmJoin *join = &board->joins[j];
    if (join->owner != PM_OWNER_BOARD || join->kind == PM_JOIN_THROUGH || join->kind == PM_JOIN_CUT ||
        join->spot.line == 0)
      continue;
    for (guint k = 0; k < join->n_places; k++) {
      const PmInstance *instance = &board->instances[pm_board_instance_of (board, join->places[k])];
      PmPinRole role = instance->part->pins[join->places[k] - instance->first_place].role;
      if (join->kind == PM_JOIN_SUPPLY && k == 0)
        continue; /* the rail itself, not what the file joined to it */
      if (instance->owner != PM_OWNER_BOARD || role == PM_PIN_SUPPLY || role == PM_PIN_GROUND ||
          instance->part->type == PM_PART_CAPACITOR || instance->part->n_pins < 2)
        continue;
      if (p->raw->kind == PM_FINDING_RAILS_JOINED &&
          !same_net (p->trial, join->places[k], board->rails[p->raw->index].places[0]))
        continue; /* no other metal has to do with it */
      PmPair member = {join->places[k], j};
      g_array_append_val (members, member);
    }
  }
  for (guint i = 0; i < members->len && p->out->len < PM_MOST_PROPOSALS; i++)
    for (guint k = 0; k < i && p->out->len < PM_MOST_PROPOSALS; k++) {
      PmPair a = g_array_index (members, PmPair, i), b = g_array_index (members, PmPair, k);
      guint ia = pm_board_instance_of (board, a.a), ib = pm_board_instance_of (board, b.a);
      if (ia != ib || a.b == b.b)
        continue;
      const PmPin *pa = &board->instances[ia].part->pins[a.a - board->instances[ia].first_place];
      const PmPin *pb = &board->instances[ib].part->pins[b.a - board->instances[ib].first_place];
      if (pa->role != pb->role || pa->role == PM_PIN_SUPPLY)
        continue;
      g_autofree char *na = pm_name_pin (board, b.a), *nb = pm_name_pin (board, a.a);
      pm_propose_edit (propose (p, g_strdup_printf (_("Exchange what is joined to %s and to %s."), na, nb)),
                       PM_EDIT_EXCHANGE, a.a, b.a, 0, 0);
    }
  for (guint i = 0; i < members->len && p->out->len < PM_MOST_PROPOSALS;
       i++) { /* an output and a free one of the same chip */
    PmPair m = g_array_index (members, PmPair, i);
    const PmInstance *chip = &board->instances[pm_board_instance_of (board, m.a)];
    for (guint k = 0; k < chip->part->n_pins && chip->part->pins[m.a - chip->first_place].role == PM_PIN_OUTPUT; k++) {
      if (chip->part->pins[k].role != PM_PIN_OUTPUT || pm_propose_join_of (board, chip->first_place + k) != PM_NONE ||
          p->out->len >= PM_MOST_PROPOSALS)
        continue;
      g_autofree char *na = pm_name_pin (board, m.a), *nb = pm_name_pin (board, chip->first_place + k);
      pm_propose_edit (propose (p, g_strdup_printf (_("Move the wire of %s to %s."), na, nb)), PM_EDIT_EXCHANGE, m.a,
                       chip->first_place + k, 0, 0);
    }
  }
  if (p->raw->kind == PM_FINDING_START_UNKNOWN)
    return; /* a wire less settles no memory */
  for (guint i = 0; i < members->len && p->out->len < PM_MOST_PROPOSALS; i++) {
    PmPair m = g_array_index (members, PmPair, i);
    g_autofree char *pin = pm_name_pin (board, m.a);
    const PmJoin *join = &board->joins[m.b];
    pm_propose_edit (propose (p, join->spot.line > 0
                                     ? g_strdup_printf (_("Take %s out of the join at line %u."), pin, join->spot.line)
                                     : g_strdup_printf (_("Take %s off its net."), pin)),
                     PM_EDIT_CUT, m.a, m.b, 0, 0);
  }
}

/* One pin of a lead that a switch moves, in place of another, with a third one (or the first) off its rail: a throw to
 * the rail opposite to the pull is enough where there is a pull. They come after those of the joins, which may have
 * used all their room. */
static void
propose_lug_off (PmPropose *p, PmPair to, PmPair from, PmPair off)
{
  const PmBoard *board = p->trial->board;
  g_autofree char *a = pm_name_pin (board, to.a), *b = pm_name_pin (board, from.a), *c = pm_name_pin (board, off.a);
  guint at = board->joins[from.b].spot.line, out = board->joins[off.b].spot.line;
  char *text = off.a == to.a ? g_strdup_printf (_("Join %s in place of %s (line %u), take it out of the join at line "
                                                  "%u, and leave %s joined to nothing."),
                                                a, b, at, out, b)
                             : g_strdup_printf (_("Exchange what is joined to %s and to %s, and take %s out of the "
                                                  "join at line %u."),
                                                a, b, c, out);
  PmRepair *repair = propose (p, text);
  pm_propose_edit (repair, PM_EDIT_EXCHANGE, to.a, from.a, 0, 0);
  pm_propose_edit (repair, PM_EDIT_CUT, off.a, off.b, 0, 0);
}

static void
propose_lugs_off (PmPropose *p)
{
  const PmBoard *board = p->trial->board;
  if (p->raw->sw == PM_NONE)
    return;
  g_autoptr (GArray) lugs = g_array_new (FALSE, FALSE, sizeof (PmPair)); /* a: place, b: join */
  const GArray *contacts = p->trial->t->contacts[p->raw->sw];
  for (guint c = 0; c < 2 * contacts->len; c++) {
    PmPair pair = g_array_index (contacts, PmPair, c / 2), lug;
    lug.a = pm_name_plugged (board, c % 2 ? pair.b : pair.a);
    lug.b = pm_propose_join_of (board, lug.a);
    gboolean known = lug.b == PM_NONE || board->joins[lug.b].spot.line == 0;
    for (guint i = 0; i < lugs->len && !known; i++)
      known = g_array_index (lugs, PmPair, i).a == lug.a;
    if (!known)
      g_array_append_val (lugs, lug);
  }
  for (guint i = 0; i < lugs->len; i++)
    for (guint k = 0; k < lugs->len; k++)
      for (guint o = 0; o < lugs->len && p->out->len < PM_MOST_PROPOSALS + 32; o++) {
        PmPair to = g_array_index (lugs, PmPair, i), from = g_array_index (lugs, PmPair, k),
               off = g_array_index (lugs, PmPair, o);
        if (to.b != from.b && o != k && (o == i || i < k))
          propose_lug_off (p, to, from, off);
      }
}

/* A rail soldered straight to what a switch moves, where a resistor was meant. */
static void
propose_resistor_for_link (PmPropose *p)
{
  const PmBoard *board = p->trial->board;
  for (guint j = 0; j < board->n_joins; j++) {
    const PmJoin *join = &board->joins[j];
    if (join->owner != PM_OWNER_BOARD || join->n_places < 2)
      continue;
    for (guint k = 0; k < join->n_places; k++)
      for (guint i = 0; i < join->n_places; i++) {
        guint32 moved = join->places[k], input = join->places[i];
        const PmInstance *chip = &board->instances[pm_board_instance_of (board, input)];
        const PmInstance *lead = &board->instances[pm_board_instance_of (board, moved)];
        gboolean is_lead = lead->part->type == PM_PART_CONNECTOR || lead->part->type == PM_PART_SWITCH ||
                           lead->part->type == PM_PART_JUMPER;
        if (k == i || !is_lead || chip->part->n_sections == 0 || p->trial->t->input_of[input] == PM_NONE)
          continue;
        guint rail;
        if (rail_place (board, TRUE, &rail) == PM_NONE)
          return;
        g_autofree char *a = pm_name_pin (board, moved), *b = pm_name_pin (board, input);
        PmRepair *repair = propose (
            p, g_strdup_printf (_("Take %s and %s off %s, join them to each other, and fit 10 kΩ from there to +5 V."),
                                a, b, join->name != NULL ? join->name : _("that net")));
        pm_propose_edit (repair, PM_EDIT_CUT, moved, j, 0, 0);
        pm_propose_edit (repair, PM_EDIT_CUT, input, j, 0, 0);
        pm_propose_edit (repair, PM_EDIT_JOIN, moved, input, 0, 0);
        pm_propose_edit (repair, PM_EDIT_PULL, moved, rail, 10000, 0);
      }
  }
}

/* Chips of the board that have no power in the first setting. */
static void
propose_power (PmPropose *p)
{
  const PmTranslation *t = p->trial->t;
  guint rail;
  guint32 live = rail_place (t->board, TRUE, &rail), last = PM_NONE;
  for (guint s = 0; s < t->section_instance->len && live != PM_NONE; s++) {
    guint32 i = g_array_index (t->section_instance, guint32, s);
    const PmInstance *chip = &t->board->instances[i];
    if (i == last || chip->owner != PM_OWNER_BOARD || pm_bound_powered (p->trial->survey->bound, s))
      continue;
    last = i;
    for (guint k = 0; k < chip->part->n_pins; k++)
      if (chip->part->pins[k].role == PM_PIN_SUPPLY) {
        g_autofree char *pin = pm_name_pin (t->board, chip->first_place + k);
        PmRepair *repair = propose (p, g_strdup_printf (_("Join %s to +5 V."), pin));
        pm_propose_edit (repair, PM_EDIT_JOIN, chip->first_place + k, live, 0, 0);
      }
  }
}

/* A supply pin out of the join that takes it to the wrong rail: it is on the right one by itself then. */
static void
propose_supply_pin (PmPropose *p)
{
  const PmBoard *board = p->trial->board;
  const PmInstance *chip = &board->instances[pm_board_instance_of (board, p->raw->place)];
  guint rail, join = pm_propose_join_of (board, p->raw->place);
  gboolean live = chip->part->pins[p->raw->place - chip->first_place].role == PM_PIN_SUPPLY;
  guint32 at = rail_place (board, live, &rail);
  if (join == PM_NONE || at == PM_NONE || board->joins[join].spot.line == 0)
    return;
  g_autofree char *pin = pm_name_pin (board, p->raw->place);
  PmRepair *repair =
      propose (p, g_strdup_printf (_("Take %s out of the join at line %u; it is joined to %s by itself."), pin,
                                   board->joins[join].spot.line, board->rails[rail].name));
  pm_propose_edit (repair, PM_EDIT_CUT, p->raw->place, join, 0, 0);
  pm_propose_edit (repair, PM_EDIT_JOIN, p->raw->place, at, 0, 0);
}

GPtrArray *
pm_repairs_propose (const PmTrial *trial, const PmRaw *raw)
{
  PmPropose p = {trial, raw, g_ptr_array_new_with_free_func ((GDestroyNotify)pm_repair_free)};
  pm_survey_bind (trial->survey, MIN (1, trial->cases->specs->len - 1), 0);
  switch (raw->kind) {
  case PM_FINDING_ASSUMED:
  case PM_FINDING_POSITION_NOT_STATED:
  case PM_FINDING_NOT_SEEN_AS:
  case PM_FINDING_POWER_ON_RESET:
  case PM_FINDING_DATA_WITH_CLOCK:
  case PM_FINDING_AS_TODAY:
    return p.out;
  case PM_FINDING_LOW_NOT_REACHED:
  case PM_FINDING_HIGH_NOT_ENOUGH:
    propose_values (&p);
    propose_families (&p);
    if (raw->kind == PM_FINDING_HIGH_NOT_ENOUGH && raw->place2 != PM_NONE)
      propose_pulls (&p);
    return p.out;
  case PM_FINDING_UNUSED_INPUT_OPEN:
    return p.out;
  case PM_FINDING_RAILS_JOINED:
    propose_resistor_for_link (&p);
    pm_survey_bind (trial->survey, raw->spec, 0);
    propose_joins (&p);
    propose_lugs_off (&p);
    return p.out;
  case PM_FINDING_SUPPLY_PIN:
    propose_supply_pin (&p);
    return p.out;
  case PM_FINDING_IDLE_TODAY:
    propose_senses (&p);
    return p.out;
  case PM_FINDING_CONTROL_WRONG_WAY:
    propose_swaps (&p);
    return p.out;
  case PM_FINDING_ANSWERS_IDLE:
    if (!trial->board->has_board)
      propose_senses (&p);
    break;
  default:
    break;
  }
  gboolean unjoined = raw->place != PM_NONE && pm_propose_join_of (trial->board, raw->place) == PM_NONE;
  if (raw->kind != PM_FINDING_THROUGH_NOT_CARRIED) {
    if (unjoined)
      propose_ties (&p);
    propose_values (&p);
    propose_pulls (&p);
    if (!unjoined)
      propose_ties (&p);
  }
  propose_power (&p);
  propose_throughs (&p);
  if (raw->kind != PM_FINDING_ANSWERS_RESET && raw->kind != PM_FINDING_ANSWERS_HOST_OFF)
    propose_positions (&p);
  propose_bare_lugs (&p);
  propose_cable (&p);
  pm_propose_carry (&p);
  if (raw->kind == PM_FINDING_SHARED_LINE_HELD)
    propose_unmate (&p);
  if (raw->kind == PM_FINDING_ANSWERS_HOST_OFF)
    propose_families (&p);
  propose_joins (&p);
  return p.out;
}
