/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sentences: the cause of a finding with its line in the file, what to do, and what a meter reads on a good board. */
#include "config.h"
#include "pm-finding-private.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>
#include <string.h>

static char *
with_line (PmSpot spot, char *sentence)
{
  if (spot.line == 0 || sentence == NULL)
    return sentence;
  const char *base = strrchr (spot.file, '/');
  char *text = g_strdup_printf (_("%s (%s line %u)."), sentence, base != NULL ? base + 1 : spot.file, spot.line);
  g_free (sentence);
  return text;
}

static gboolean
is_on_a_join (const PmBoard *board, guint32 place)
{
  for (guint j = 0; j < board->n_joins; j++)
    for (guint k = 0; k < board->joins[j].n_places; k++)
      if (board->joins[j].places[k] == place)
        return TRUE;
  return FALSE;
}

/* The drive of the finding whose lamp is on exactly while one select is off: its sense is turned round on the way.
 * FALSE if there is none. */
gboolean
pm_tell_turned_sense (const PmTrial *trial, const PmRaw *raw, guint *unit, guint *drive)
{
  const PmBoard *board = trial->board;
  for (guint d = 0; d < board->n_drives; d++)
    for (guint u = 0; u < board->host.n_units; u++) {
      gboolean turned = TRUE, any = FALSE;
      guint others = 0; /* states without this select: with only one, "not SEL0" may just be "SEL1" */
      for (guint s = 0; s < trial->survey->states->len && turned; s++) {
        const PmHostState *state = &g_array_index (trial->survey->states, PmHostState, s);
        const GArray *seen = trial->survey->of[raw->spec].seen[s];
        if (seen == NULL || (state->kind != PM_STATE_IDLE && state->kind != PM_STATE_SINGLE))
          continue;
        gboolean on_here = state->kind == PM_STATE_SINGLE && state->unit == u;
        any |= on_here;
        others += !on_here;
        for (guint i = 0; i < seen->len && turned; i++)
          turned = (g_array_index (seen, PmSeen, i).lamps >> d & 1) != (guint) on_here;
      }
      if (turned && any && others > 1 && ((raw->drive < 0 || raw->drive == (int) d || raw->other == (int) d))) {
        *unit = u;
        *drive = d;
        return TRUE;
      }
    }
  return FALSE;
}

/* What turns a drive on in reset: the select that it answers there, at rest. */
static char *
reset_text (const PmTrial *trial, const PmRaw *raw, PmSpot *spot)
{
  static const char *const rests[] = {N_("weakly high"), N_("high"), N_("low"), N_("off")};
  const PmBoard *board = trial->board;
  guint setting = ((const PmCaseSpec *) g_ptr_array_index (trial->cases->specs, raw->spec))->setting;
  for (guint u = 0; u < board->host.n_units; u++) {
    if (trial->results[setting].cells[u * board->n_drives + (guint)raw->drive].answer != PM_ANSWER_YES ||
        board->host.units[u].n_levels != 1)
      continue;
    const PmLine *line = &board->host.lines[board->host.units[u].levels[0].line];
    *spot = line->spot;
    return g_strdup_printf (line->in_reset_stated ? _("%s rests %s in reset, and it reaches %s here")
                                                  : _("%s is assumed to rest %s in reset, and it reaches %s here"),
                            line->name, _ (rests[line->in_reset]), pm_tell_drive (trial, raw->drive));
  }
  return NULL;
}

/* A resistor on what the drive of the finding looks at that leads to a supply without power in this case, and the level
 * that it leaves there; NULL if there is none. */
static const PmInstance *
dead_pull (const PmTrial *trial, const PmRaw *raw, double *volts)
{
  const PmBoard *board = trial->board;
  const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, raw->spec);
  guint64 dead = 0;
  double ohms;
  if (raw->drive < 0 || board->drives[raw->drive].n_answers == 0 ||
      (spec->kind != PM_CASE_SUPPLY_OFF && spec->kind != PM_CASE_HOST_OFF))
    return NULL;
  for (guint r = 0; r < board->n_rails; r++) {
    gboolean off = spec->host_off ? board->supplies[board->rails[r].supply].owner == PM_SUPPLY_HOST
                                  : board->rails[r].supply == spec->supply;
    if (off && board->rails[r].volts != 0 && trial->t->rail_of[r] < 64)
      dead |= (guint64) 1 << trial->t->rail_of[r];
  }
  guint32 at = board->drives[raw->drive].answers[0].whens[0].place;
  PmBound *bound = pm_survey_bind (trial->survey, raw->spec, raw->state != PM_NONE ? raw->state : 0);
  for (guint i = 0; i < board->n_instances; i++)
    for (guint k = 0; k < board->instances[i].part->n_resistors; k++) {
      const PmInstance *r = &board->instances[i];
      guint32 ends[2] = {r->first_place + r->part->resistors[k].a, r->first_place + r->part->resistors[k].b};
      for (guint e = 0; e < 2; e++)
        if (pm_bound_net (bound, ends[e]) == pm_bound_net (bound, at) && (pm_bound_rails (bound, ends[!e]) & dead) &&
            pm_bound_thevenin (bound, at, volts, &ohms))
          return r;
    }
  return NULL;
}

static char *
because_of_edit (const PmTrial *trial, const PmEdit *edit, const PmRaw *raw, PmSpot *spot)
{
  const PmBoard *board = trial->board;
  switch (edit->kind) {
  case PM_EDIT_CUT: {
    const PmJoin *join = &board->joins[edit->b];
    *spot = join->spot;
    if (join->kind == PM_JOIN_THROUGH)
      return g_strdup_printf (_("Pin %s goes straight through in every setting"),
                              pm_name_number (board, join->places[1]));
    g_autofree char *name = pm_name_pin (board, edit->a);
    return g_strdup_printf (_("%s is joined to this net"), name);
  }
  case PM_EDIT_JOIN:
    for (guint j = 0; j < board->n_joins; j++)
      if (board->joins[j].kind == PM_JOIN_CUT && board->joins[j].places[0] == edit->a &&
          board->joins[j].places[1] == edit->b) {
        *spot = board->joins[j].spot;
        return g_strdup_printf (_("Pin %s is cut, and nothing carries it on"), pm_name_number (board, edit->b));
      }
    const PmInstance *chip = &board->instances[pm_board_instance_of (board, edit->a)];
    if (chip->part->pins[edit->a - chip->first_place].role == PM_PIN_SUPPLY) {
      g_autofree char *name = pm_name_instance (board, pm_board_instance_of (board, edit->a));
      *spot = pm_name_spot (board, edit->a);
      return g_strdup_printf (_("%s has no power"), name);
    }
    if (!is_on_a_join (board, edit->a)) {
      g_autofree char *name = pm_name_probe (board, edit->a);
      *spot = pm_name_spot (board, edit->a);
      return g_strdup_printf (_("%s is joined to nothing"), name);
    }
    goto open;
  case PM_EDIT_VALUE: {
    const PmInstance *r = &board->instances[edit->a];
    g_autofree char *ohms = pm_quantity_format (r->value, PM_UNIT_OHM);
    *spot = r->spot;
    return g_strdup_printf (_("%s, %s, is too large to hold this line"), r->ref, ohms);
  }
  case PM_EDIT_PULL:
  open: {
    g_autofree char *name = pm_name_place (board, edit->a);
    *spot = pm_name_spot (board, edit->a);
    return raw->kind == PM_FINDING_HIGH_NOT_ENOUGH
               ? g_strdup_printf (_("No resistor lifts the line of %s"), name)
               : g_strdup_printf (_("No resistor holds %s while nothing drives it"), name);
  }
  case PM_EDIT_POSITION: {
    const PmSwitch *sw = &board->switches[edit->a];
    *spot = sw->spot;
    return sw->owner == PM_OWNER_DRIVE
               ? g_strdup_printf (_("The jumper of %s is at %s"), pm_name_drive (board, sw->owner_index),
                                  pm_position_title (sw, sw->usual))
               : g_strdup_printf (_("%s is at %s"), pm_name_switch (sw), pm_position_title (sw, sw->usual));
  }
  case PM_EDIT_SWAP_POSITIONS: {
    const PmSwitch *sw = &board->switches[edit->a];
    *spot = sw->positions[0].spot.line > 0 ? sw->positions[0].spot : sw->spot;
    return g_strdup_printf (_("What %s joins at %s is what %s needs, and the other way round"), sw->name,
                            pm_position_title (sw, 0), pm_position_title (sw, 1));
  }
  case PM_EDIT_FAMILY: {
    const PmInstance *instance = &board->instances[edit->a];
    *spot = instance->spot;
    return g_strdup_printf (_("%s is a %s"), instance->ref, instance->is);
  }
  case PM_EDIT_CROSS:
    *spot = board->matings[edit->a].spot;
    return g_strdup (edit->d ? _("The cable is crossed at this end") : _("The cable is straight at this end"));
  case PM_EDIT_UNMATE:
    *spot = raw->other >= 0 ? board->drives[raw->other].spot : board->matings[edit->a].spot;
    return g_strdup_printf (_("%s gives this level all the time, selected or not"), pm_tell_drive (trial, raw->other));
  case PM_EDIT_SENSE:
    *spot = board->host.lines[edit->a].spot;
    return g_strdup_printf (board->host.lines[edit->a].asserted_low ? _("%s is said to be on when low")
                                                                    : _("%s is said to be on when high"),
                            board->host.lines[edit->a].name);
  case PM_EDIT_EXCHANGE: {
    g_autofree char *a = pm_name_pin (board, edit->a), *b = pm_name_pin (board, edit->b);
    *spot = pm_name_spot (board, edit->a);
    return g_strdup_printf (_("%s and %s are exchanged"), a, b);
  }
  default: return NULL;
  }
}

/* Family of what drives a place: the machine's line or a chip. */
static const PmFamily *
driver_family (const PmTrial *trial, guint32 place)
{
  const PmBoard *board = trial->board;
  for (guint l = 0; l < board->host.n_lines; l++)
    if (board->host.lines[l].place == place)
      return board->host.lines[l].family;
  return pm_trial_family (trial, pm_board_instance_of (board, place));
}

/* The two lugs between which a switch joins rails in the case of the finding, each with the rail that it is on where
 * nothing is joined: "J3.2 (+5V) and J3.1 (0V)". NULL where they are not found. */
static char *
joined_lugs (const PmTrial *trial, const PmRaw *raw)
{
  const PmBoard *board = trial->board;
  const PmSwitch *sw = &board->switches[raw->sw];
  guint apart = 0;
  for (guint i = 1; i <= trial->cases->n_settings && apart == 0; i++)
    apart = trial->survey->of[i].joined_rails == 0 ? i : 0;
  int at = ((const PmCaseSpec *) g_ptr_array_index (trial->cases->specs, raw->spec))->positions[raw->sw];
  if (apart == 0 || at < 0)
    return NULL;
  PmBound *bound = pm_survey_bind (trial->survey, apart, 0);
  for (guint k = 0; k < sw->positions[at].n_pairs; k++) {
    const guint32 ends[2] = {sw->positions[at].pairs[k].a, sw->positions[at].pairs[k].b};
    const PmRail *on[2] = {NULL, NULL};
    for (guint e = 0; e < 2; e++)
      for (guint r = 0; r < board->n_rails && on[e] == NULL; r++)
        if (board->rails[r].n_places > 0 &&
            pm_bound_net (bound, board->rails[r].places[0]) == pm_bound_net (bound, ends[e]))
          on[e] = &board->rails[r];
    if (on[0] == NULL || on[1] == NULL || on[0] == on[1])
      continue;
    g_autofree char *a = pm_name_pin (board, pm_name_plugged (board, ends[0])),
                    *b = pm_name_pin (board, pm_name_plugged (board, ends[1]));
    return g_strdup_printf (_("%s (%s) and %s (%s)"), a, on[0]->name, b, on[1]->name);
  }
  return NULL;
}

char *
pm_tell_because (const PmTrial *trial, const PmCause *cause, const PmRaw *raw, PmSpot *spot)
{
  const PmBoard *board = trial->board;
  if (raw->kind == PM_FINDING_RAILS_JOINED) {
    const PmSwitch *sw = raw->sw != PM_NONE ? &board->switches[raw->sw] : NULL;
    *spot = sw != NULL ? sw->spot : board->rails[raw->index].spot;
    if (cause->repair != NULL && cause->repair->edits[0].kind == PM_EDIT_CUT)
      *spot = board->joins[cause->repair->edits[0].b].spot;
    g_autofree char *lugs = sw != NULL ? joined_lugs (trial, raw) : NULL;
    if (lugs != NULL)
      return with_line (*spot, g_strdup_printf (_("%s joins %s"), sw->name, lugs));
    return with_line (*spot, sw != NULL ? g_strdup_printf (_("%s closes onto a rail at both ends"), sw->name)
                                        : g_strdup (_("Both are on one net")));
  }
  if (raw->kind == PM_FINDING_SUPPLY_PIN) {
    *spot = cause->repair != NULL ? board->joins[cause->repair->edits[0].b].spot : pm_name_spot (board, raw->place);
    return with_line (
        *spot, g_strdup (_("A join of the file takes it there; by itself it would be on the right rail")));
  }
  if (raw->kind == PM_FINDING_HIGH_NOT_ENOUGH && raw->place2 == PM_NONE) {
    *spot = pm_name_spot (board, raw->place);
    return with_line (*spot, g_strdup (_("A resistor on the line pulls down harder than the output can lift")));
  }
  if (raw->kind == PM_FINDING_ANSWERS_RESET && cause->repair == NULL) {
    char *text = reset_text (trial, raw, spot);
    if (text != NULL)
      return with_line (*spot, text);
  }
  double volts;
  const PmInstance *pull = cause->repair == NULL ? dead_pull (trial, raw, &volts) : NULL;
  if (pull != NULL) {
    g_autofree char *ohms = pm_quantity_format (pull->value, PM_UNIT_OHM);
    *spot = pull->spot;
    return with_line (
        *spot, g_strdup_printf (_("%s, %s, leads to the supply that is off and leaves about %.2g V on the line"),
                                pull->ref, ohms, volts));
  }
  guint turned_unit, turned_drive;
  if (raw->kind == PM_FINDING_IDLE_TODAY) {
    if (!pm_tell_turned_sense (trial, raw, &turned_unit, &turned_drive))
      return NULL;
    const PmLine *line = &board->host.lines[board->host.units[turned_unit].levels[0].line];
    g_autofree char *at = pm_tell_place (trial, line->place);
    *spot = line->spot;
    return with_line (*spot, g_strdup_printf (line->asserted_low ? _("%s is said to be on when low at %s, and there is "
                                                                     "an inverter between it and %s")
                                                                 : _("%s is said to be on when high at %s, and there "
                                                                     "is an inverter too few or too many between it "
                                                                     "and %s"),
                                              line->name, at, pm_tell_drive (trial, (int) turned_drive)));
  }
  if (cause->repair == NULL && PM_FINDINGS[raw->kind].of_routes && !raw->has_choice &&
      pm_tell_turned_sense (trial, raw, &turned_unit, &turned_drive)) {
    *spot = board->host.lines[board->host.units[turned_unit].levels[0].line].spot;
    return with_line (
        *spot,
        g_strdup_printf (
            _("%s is on while %s is off, and off while it is on: the sense is turned round on the way between them"),
            pm_tell_drive (trial, (int)turned_drive), pm_tell_unit (trial, (int)turned_unit)));
  }
  if (raw->kind == PM_FINDING_LOW_NOT_REACHED || raw->kind == PM_FINDING_HIGH_NOT_ENOUGH) {
    guint i = pm_board_instance_of (board, raw->kind == PM_FINDING_LOW_NOT_REACHED ? raw->place : raw->place2);
    *spot = board->instances[i].spot;
    const PmFamily *family = driver_family (trial, raw->place);
    if (raw->kind == PM_FINDING_LOW_NOT_REACHED && family != NULL &&
        g_strstr_len (family->source != NULL ? family->source : "", -1, "assumed") != NULL)
      return with_line (family->spot,
                        g_strdup_printf (_("The resistors on the line against what the family %s is assumed to sink"),
                                         family->name));
    return with_line (
        *spot, g_strdup_printf (raw->kind == PM_FINDING_LOW_NOT_REACHED
                                    ? _("The resistors on the line against what a %s can sink")
                                    : _("What drives the line against what a %s needs"),
                                board->instances[i].is != NULL ? board->instances[i].is : board->instances[i].ref));
  }
  if (raw->kind == PM_FINDING_THROUGH_NOT_CARRIED) {
    *spot = board->joins[raw->join].spot;
    return with_line (*spot, g_strdup_printf (_("Pin %s is cut, and nothing carries it on"),
                                              pm_name_number (board, board->joins[raw->join].places[1])));
  }
  if (raw->kind == PM_FINDING_DATA_WITH_CLOCK) {
    *spot = pm_name_spot (board, raw->place);
    return with_line (*spot, g_strdup (_("One and the same change of the machine moves both")));
  }
  if (raw->kind == PM_FINDING_OUTPUTS_COLLIDE && cause->repair == NULL) {
    *spot = pm_name_spot (board, raw->place);
    return with_line (*spot, g_strdup (_("More than one output is joined to this line")));
  }
  if (cause->repair != NULL)
    return with_line (*spot, because_of_edit (trial, &cause->repair->edits[0], raw, spot));
  if (raw->kind == PM_FINDING_START_UNKNOWN && raw->choice.kind == PM_CHOICE_BIT) {
    *spot = board->instances[raw->index].spot;
    return with_line (
        *spot, g_strdup (_("Nothing sets or clears it when the power comes on, and no clock edge has come yet")));
  }
  if (raw->has_choice) {
    g_autofree char *choice = pm_name_choice (trial->t, &raw->choice);
    *spot = raw->place != PM_NONE   ? pm_name_spot (board, raw->place)
            : raw->index != PM_NONE ? board->instances[raw->index].spot
                                    : (PmSpot){0};
    return with_line (*spot, g_strdup_printf (_("It hangs on %s"), choice));
  }
  if (raw->place != PM_NONE)
    *spot = pm_name_spot (board, raw->place);
  else if (raw->sw != PM_NONE)
    *spot = board->switches[raw->sw].spot;
  else if (raw->kind == PM_FINDING_ASSUMED)
    *spot = g_strcmp0 (raw->does, "line") == 0 ? board->host.lines[raw->index].spot : board->instances[raw->index].spot;
  else if (raw->drive >= 0)
    *spot = board->drives[raw->drive].spot;
  return NULL;
}

/* Where to look, with the ends of the way by name. */
static char *
look_at_text (const PmTrial *trial, const PmRaw *raw)
{
  const PmBoard *board = trial->board;
  const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, raw->spec);
  guint unit, drive;
  double volts;
  const PmInstance *pull = dead_pull (trial, raw, &volts);
  if (pull != NULL)
    return g_strdup_printf (_("Switch both supplies together, or take %s out."), pull->ref);
  if (raw->kind == PM_FINDING_IDLE_TODAY)
    return g_strdup (_("The asserted= of the selects in the machine's file, and what stands between them and the "
                       "drives."));
  if (PM_FINDINGS[raw->kind].of_routes && !raw->has_choice && pm_tell_turned_sense (trial, raw, &unit, &drive))
    return g_strdup_printf (_("An inverter is missing, or one too many, between %s and %s."),
                            pm_tell_unit (trial, (int)unit), pm_tell_drive (trial, (int)drive));
  if (raw->kind == PM_FINDING_SIDE_LINE_STAYS)
    for (guint l = 0; l < board->host.n_lines; l++)
      if (pm_line_serves (board, &board->host.lines[l], raw->does, (guint) raw->unit) &&
          board->host.lines[l].place != PM_NONE) {
        g_autofree char *at = pm_tell_place (trial, board->host.lines[l].place);
        return g_strdup_printf (_("The way between %s (%s) and %s, joint by joint."), at, board->host.lines[l].name,
                                pm_tell_drive (trial, raw->drive));
      }
  if (spec->kind == PM_CASE_REMOVED && spec->sw != PM_NONE)
    return g_strdup_printf (_("What holds the line that %s switches while its lead is off."),
                            board->switches[spec->sw].name);
  if (raw->place != PM_NONE) {
    g_autofree char *place = pm_tell_place (trial, raw->place);
    return g_strdup_printf (_("The net of %s, joint by joint."), place);
  }
  const PmUnit *u = raw->unit >= 0 ? &board->host.units[raw->unit] : NULL;
  g_autofree char *from =
      u != NULL && u->n_levels > 0 ? pm_tell_place (trial, board->host.lines[u->levels[0].line].place) : NULL;
  g_autofree char *to = raw->drive >= 0 && board->drives[raw->drive].n_answers > 0
                            ? pm_tell_place (trial, board->drives[raw->drive].answers[0].whens[0].place)
                            : NULL;
  if (from != NULL && to != NULL)
    return g_strdup_printf (_("The way from %s (%s) to %s, joint by joint."), from, u->name, to);
  if (to != NULL)
    return g_strdup_printf (_("What drives %s, joint by joint."), to);
  return from != NULL ? g_strdup_printf (_("Where %s (%s) leads, joint by joint."), from, u->name)
                      : g_strdup (_("The lines that the finding names."));
}

char *
pm_tell_to_do (const PmTrial *trial, const PmCause *cause, const PmRaw *raw)
{
  if (cause->repair != NULL && cause->repair->brings.kind != PM_N_FINDING_KINDS) {
    g_autofree char *brings = pm_finding_title (trial, &cause->repair->brings);
    return g_strdup_printf (_("%s Tried: then this is right; to be taken care of with it: %s."), cause->repair->text,
                            brings);
  }
  if (cause->repair != NULL)
    return g_strdup_printf (_("%s Tried: then this is right and nothing else goes wrong."), cause->repair->text);
  switch (raw->kind) {
  case PM_FINDING_ASSUMED:
    if (raw->may)
      return g_strdup_printf (_("Measure %s with the machine held in reset, and write in-reset= with what it is "
                                 "(high, low, weak-high or off)."),
                              trial->board->host.lines[raw->index].name);
    return g_strdup (_("Measure it, and write measured= with the date in place of assumed=."));
  case PM_FINDING_POSITION_NOT_STATED: return g_strdup (_("Look where it is, and write it down."));
  case PM_FINDING_NOT_SEEN_AS:
    return g_strdup (
        _("Put this drive on a select of which the machine does not want it, or one that gives it here."));
  case PM_FINDING_UNUSED_INPUT_OPEN: return g_strdup (_("Join the open inputs to 0 V or +5 V."));
  case PM_FINDING_LOW_NOT_REACHED:
    return g_strdup (_("The resistors on the line (one terminator too many?), and a driver that sinks more."));
  case PM_FINDING_DATA_WITH_CLOCK: {
    g_autofree char *data = pm_tell_place (trial, raw->place), *edge = pm_tell_place (trial, raw->place2);
    return g_strdup_printf (
        _("What moves %s and what moves %s: the level has to stand before the edge comes and a while after it."), data,
        edge);
  }
  case PM_FINDING_START_UNKNOWN: return g_strdup (_("What sets or clears the memory at power-on."));
  case PM_FINDING_RAILS_JOINED:
    return raw->sw != PM_NONE
               ? g_strdup (_("Switch one rail only, and let a resistor hold the line at the other level."))
               : g_strdup_printf (_("Where %s and %s meet, joint by joint."), trial->board->rails[raw->index].name,
                                  raw->place2 != PM_NONE ? trial->board->rails[raw->place2].name : "0V");
  default: return look_at_text (trial, raw);
  }
}

char *
pm_tell_measure (const PmTrial *trial, const PmCause *cause, const PmRaw *raw)
{
  const PmBoard *board = trial->board;
  const PmEdit *edit = cause->repair != NULL ? &cause->repair->edits[0] : NULL;
  if (raw->kind == PM_FINDING_RAILS_JOINED) {
    return g_strdup_printf (_("Power off, chips out, every setting in turn: %s to %s must read open (above 1 kΩ)."),
                            board->rails[raw->index].name,
                            raw->place2 != PM_NONE ? board->rails[raw->place2].name : "0V");
  }
  if (edit == NULL)
    return NULL;
  if (edit->kind == PM_EDIT_CUT) {
    const PmJoin *join = &board->joins[edit->b];
    g_autofree char *a = pm_name_probe (board, edit->a),
                    *b = pm_name_probe (board, join->places[0] == edit->a ? join->places[join->n_places > 1 ? 1 : 0]
                                                                          : join->places[0]);
    return g_strdup_printf (_("Power off, chips out: %s to %s must read open (above 1 MΩ)."), b, a);
  }
  if (edit->kind == PM_EDIT_JOIN) {
    g_autofree char *a = pm_name_probe (board, edit->a), *b = pm_name_probe (board, edit->b);
    return g_strdup_printf (_("Power off, chips out: %s to %s must read below 1 Ω."), a, b);
  }
  if (edit->kind == PM_EDIT_PULL) {
    g_autofree char *a = pm_name_probe (board, edit->a), *ohms = pm_quantity_format (edit->c, PM_UNIT_OHM);
    return g_strdup_printf (_("Power off, chips out, lead off: %s to %s must read about %s."), a,
                            board->rails[edit->b].name, ohms);
  }
  if (edit->kind == PM_EDIT_SWAP_POSITIONS) {
    const PmSwitch *sw = &board->switches[edit->a];
    if (sw->positions[1].n_pairs == 0)
      return NULL;
    g_autofree char *a = pm_name_probe (board, pm_name_plugged (board, sw->positions[1].pairs[0].a)),
                    *b = pm_name_probe (board, pm_name_plugged (board, sw->positions[1].pairs[0].b));
    return g_strdup_printf (_("Power off, lever at %s: %s to %s must read below 1 Ω."), pm_position_title (sw, 0), a,
                            b);
  }
  if (edit->kind == PM_EDIT_CROSS)
    return g_strdup (
        _("Cable off at both ends: contact 10 of one end to contact 16 of the other must read below 1 Ω."));
  return NULL;
}
