/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sentences. Each row of a finding is one small function; names are as they stand on the bench, never a net number. */
#include "config.h"
#include "pm-finding.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>
#include <string.h>

void
pm_finding_clear (PmFinding *finding)
{
  char **texts[] = {&finding->title,   &finding->short_text, &finding->where,    &finding->when,
                    &finding->what,    &finding->because,    &finding->matters,  &finding->to_do,
                    &finding->measure, &finding->follows,    &finding->accepted, &finding->identity};
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    g_free (*texts[i]);
  g_strfreev (finding->followers);
  g_free (finding->places);
  g_free (finding->spots);
}

static const char *
unit_name (const PmTrial *trial, int unit)
{
  return unit >= 0 ? trial->board->host.units[unit].name : _("a select");
}

static const char *
drive_name (const PmTrial *trial, int drive)
{
  return drive >= 0 ? pm_name_drive (trial->board, drive) : _("nothing");
}

static char *
place_name (const PmTrial *trial, guint32 place)
{
  return place < trial->board->n_places ? pm_name_place (trial->board, place) : g_strdup ("?");
}

static char *
assumed_title (const PmTrial *trial, const PmRaw *raw)
{
  if (g_strcmp0 (raw->does, "line") != 0)
  {
    g_autofree char *part = pm_name_instance (trial->board, raw->index);
    return g_strdup_printf (_("Assumed: %s"), part);
  }
  const PmLine *line = &trial->board->host.lines[raw->index];
  g_autofree char *at = place_name (trial, line->place);
  return raw->may ? g_strdup_printf (_("Assumed: %s is weakly high in reset"), line->name)
                  : g_strdup_printf (_("Assumed: %s is at %s"), line->name, at);
}

char *
pm_finding_title (const PmTrial *trial, const PmRaw *raw)
{
  const PmBoard *board = trial->board;
  g_autofree char *place = raw->place != PM_NONE ? place_name (trial, raw->place) : NULL;
  gboolean of_part = raw->kind == PM_FINDING_START_UNKNOWN || raw->kind == PM_FINDING_UNUSED_INPUT_OPEN;
  g_autofree char *part = of_part && raw->index != PM_NONE ? pm_name_instance (board, raw->index) : NULL;
  switch (raw->kind) {
  case PM_FINDING_RAILS_JOINED:
    return g_strdup_printf (_("%s and %s are joined"), board->rails[raw->index].name,
                            raw->place2 != PM_NONE ? board->rails[raw->place2].name : "0V");
  case PM_FINDING_SUPPLY_ON_SIGNAL: return g_strdup_printf (_("A supply stands on %s"), place);
  case PM_FINDING_OUTPUTS_COLLIDE:
    return g_strdup_printf (raw->may ? _("Outputs may collide at %s") : _("Outputs collide at %s"), place);
  case PM_FINDING_CONTROL_WRONG_WAY:
    return g_strdup_printf (_("“%s” works the wrong way round"), pm_name_switch (&board->switches[raw->sw]));
  case PM_FINDING_THROUGH_NOT_CARRIED:
    return g_strdup_printf (_("%s is cut and not carried on"), board->host.lines[raw->index].name);
  case PM_FINDING_START_UNKNOWN:
    return g_strdup_printf (_("%s starts one way or the other"), part != NULL ? part : _("A loop"));
  case PM_FINDING_NEVER_SETTLES: return g_strdup (_("A loop never settles"));
  case PM_FINDING_OPEN_CMOS_INPUT:
  case PM_FINDING_OPEN_BIPOLAR_INPUT:
    return g_strdup_printf (board->instances[pm_board_instance_of (board, raw->place)].part->n_sections > 0
                                ? _("%s is not held, and decides")
                                : _("The line at %s is not held, and decides"),
                            place);
  case PM_FINDING_SELECT_FLOATS: return g_strdup_printf (_("The select of %s floats"), drive_name (trial, raw->drive));
  case PM_FINDING_TWO_DRIVES:
    return g_strdup_printf (raw->may ? _("Two drives may answer %s") : _("Two drives answer %s"),
                            unit_name (trial, raw->unit));
  case PM_FINDING_ANSWERS_IDLE:
    return g_strdup_printf (raw->may ? _("%s may answer with nothing turned on")
                                     : _("%s answers with nothing turned on"),
                            drive_name (trial, raw->drive));
  case PM_FINDING_TWO_SELECTS: return g_strdup_printf (_("%s answers two selects"), drive_name (trial, raw->drive));
  case PM_FINDING_REACHES_NOTHING: return g_strdup_printf (_("%s reaches nothing"), unit_name (trial, raw->unit));
  case PM_FINDING_NOT_AS_WANTED: {
    const PmCell *cell =
        raw->drive >= 0 ? &trial->results[raw->spec].cells[raw->unit * (int) board->n_drives + raw->drive] : NULL;
    if (cell != NULL && cell->answer == PM_ANSWER_DEPENDS && raw->other < 0)
      return g_strdup_printf (_("%s answers only %s"), drive_name (trial, raw->drive), cell->on);
    return raw->may && raw->other < 0
               ? g_strdup_printf (_("It is not certain what %s reaches"), unit_name (trial, raw->unit))
               : g_strdup_printf (_("%s reaches %s"), unit_name (trial, raw->unit), drive_name (trial, raw->other));
  }
  case PM_FINDING_SHARED_LINE_HELD: {
    g_autofree char *does = pm_name_capital (g_strdup (raw->does));
    return g_strdup_printf (_("%s is held by %s"), does, drive_name (trial, raw->other));
  }
  case PM_FINDING_SIDE_LINE_STAYS: {
    g_autofree char *does = pm_name_capital (g_strdup (raw->does));
    return g_strdup_printf (raw->may ? _("%s does not surely go along") : _("%s stays behind"), does);
  }
  case PM_FINDING_ANSWERS_RESET: return g_strdup_printf (_("%s answers in reset"), drive_name (trial, raw->drive));
  case PM_FINDING_ANSWERS_HOST_OFF:
    return g_strdup_printf (_("%s answers with the machine off"), drive_name (trial, raw->drive));
  case PM_FINDING_NOT_SEEN_AS:
    return g_strdup_printf (_("%s is not seen as %s"), drive_name (trial, raw->drive), unit_name (trial, raw->unit));
  case PM_FINDING_LOW_NOT_REACHED: return g_strdup_printf (_("%s cannot pull its line low"), place);
  case PM_FINDING_HIGH_NOT_ENOUGH: {
    g_autofree char *input = raw->place2 != PM_NONE ? place_name (trial, raw->place2) : NULL;
    return input != NULL ? g_strdup_printf (_("The high is too low for %s"), input)
                         : g_strdup_printf (_("%s cannot lift its line high"), place);
  }
  case PM_FINDING_UNUSED_INPUT_OPEN: return g_strdup_printf (_("Inputs of %s hang open"), part);
  case PM_FINDING_POSITION_NOT_STATED: {
    const PmSwitch *sw = &board->switches[raw->sw];
    return sw->owner == PM_OWNER_DRIVE
               ? g_strdup_printf (_("The jumper of %s is not stated"), pm_name_drive (board, sw->owner_index))
               : g_strdup_printf (_("The place of %s is not stated"), pm_name_switch (sw));
  }
  case PM_FINDING_ASSUMED: return assumed_title (trial, raw);
  case PM_FINDING_POWER_ON_RESET: return g_strdup_printf (_("%s is reset by a resistor and a capacitor"), place);
  case PM_FINDING_NEXT_RESET:
    return g_strdup_printf (_("%s acts at the next reset"),
                            raw->sw != PM_NONE ? pm_name_switch (&board->switches[raw->sw]) : "");
  case PM_FINDING_BOTH_SELECTS: return g_strdup (_("Outputs collide if two selects are on"));
  case PM_FINDING_AS_TODAY:
  default: return g_strdup (_("As today"));
  }
}

/* ---- When */

static gboolean
all_settings (const PmTrial *trial, const GArray *raws)
{
  for (guint i = 1; i <= trial->cases->n_settings; i++) {
    gboolean here = FALSE;
    for (guint r = 0; r < raws->len && !here; r++)
      here = g_array_index (raws, PmRaw, r).spec == i;
    if (!here)
      return FALSE;
  }
  return TRUE;
}

static gboolean
is_anywhere (PmFindingKind kind)
{
  return kind == PM_FINDING_CONTROL_WRONG_WAY || kind == PM_FINDING_THROUGH_NOT_CARRIED ||
         kind == PM_FINDING_POSITION_NOT_STATED || kind == PM_FINDING_ASSUMED;
}

static guint
by_hand_switches (const PmBoard *board)
{
  guint n = 0;
  for (guint s = 0; s < board->n_switches; s++)
    n += pm_switch_is_by_hand (&board->switches[s]);
  return n;
}

/* Settings as people say them: only the switches that matter, "Start from: outside, Second: off", where the settings
 * are all that have those places; NULL where they are no such product. titles: with the switch's title. */
static char *
product_of_settings (const PmTrial *trial, const GArray *raws, gboolean titles)
{
  const PmBoard *board = trial->board;
  g_autofree guint64 *used = g_new0 (guint64, MAX (board->n_switches, 1));
  g_autofree gboolean *in = g_new0 (gboolean, trial->cases->n_settings + 1);
  guint by_hand = 0;
  for (guint r = 0; r < raws->len; r++) {
    guint spec = g_array_index (raws, PmRaw, r).spec;
    if (spec < 1 || spec > trial->cases->n_settings)
      continue;
    in[spec] = TRUE;
    for (guint s = 0; s < board->n_switches; s++)
      used[s] |= (guint64) 1 << trial->results[spec].positions[s];
  }
  for (guint i = 1; i <= trial->cases->n_settings; i++) {
    gboolean fits = TRUE;
    for (guint s = 0; s < board->n_switches && fits; s++)
      fits = used[s] >> trial->results[i].positions[s] & 1;
    if (fits != in[i])
      return NULL;
  }
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  by_hand = by_hand_switches (board);
  for (guint s = 0; s < board->n_switches; s++) {
    const PmSwitch *sw = &board->switches[s];
    guint64 all = ((guint64) 1 << sw->n_positions) - 1;
    if (!pm_switch_is_by_hand (sw) || (used[s] & all) == all || used[s] == 0)
      continue;
    g_autoptr (GString) at = g_string_new (NULL);
    for (guint p = 0; p < sw->n_positions; p++)
      if (used[s] >> p & 1)
        g_string_append_printf (at, "%s%s", at->len > 0 ? _(" or ") : "", pm_position_title (sw, (int) p));
    if (titles)
      g_ptr_array_add (words, g_strdup_printf ("%s: %s", pm_name_switch (sw), at->str));
    else
      g_ptr_array_add (words, by_hand > 1 ? g_strdup_printf (_("%s is %s"), pm_name_switch (sw), at->str)
                                          : g_strdup (at->str));
  }
  if (!titles)
    return words->len > 0 ? pm_name_list (words) : NULL;
  g_ptr_array_add (words, NULL);
  return words->len > 1 ? g_strjoinv (", ", (char **) words->pdata) : NULL;
}

/* Names of the cases, settings first; each name once, at most four. titles: "Start from: outside" instead of "outside".
 */
static char *
case_names (const PmTrial *trial, const GArray *raws, gboolean settings, gboolean titles)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  guint more = 0;
  char *product = settings ? product_of_settings (trial, raws, titles) : NULL;
  if (product != NULL)
    return product;
  for (guint r = 0; r < raws->len; r++) {
    const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, g_array_index (raws, PmRaw, r).spec);
    const char *name = titles ? spec->title : spec->name;
    if ((spec->kind == PM_CASE_SETTING) != settings ||
        g_ptr_array_find_with_equal_func (names, name, g_str_equal, NULL))
      continue;
    if (names->len < 4)
      g_ptr_array_add (names, g_strdup (name));
    else
      more++;
  }
  if (more > 0)
    g_ptr_array_add (names, g_strdup_printf (ngettext ("%u more", "%u more", more), more));
  return names->len > 0 ? pm_name_list (names) : NULL;
}

/* Which settings variations belong to, in words; NULL where it is all of them. */
static char *
settings_of (const PmTrial *trial, const GArray *raws)
{
  g_autoptr (GArray) of = g_array_new (FALSE, FALSE, sizeof (PmRaw));
  for (guint r = 0; r < raws->len; r++) {
    PmRaw raw = g_array_index (raws, PmRaw, r);
    const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, raw.spec);
    raw.spec = spec->setting;
    if (spec->kind != PM_CASE_SETTING && spec->setting > 0)
      g_array_append_val (of, raw);
  }
  return of->len == 0 || all_settings (trial, of) ? NULL : case_names (trial, of, TRUE, FALSE);
}

/* "in outside"; with several switches "where Start from is outside". */
static char *
in_settings (const PmTrial *trial, const char *settings)
{
  return g_strdup_printf (by_hand_switches (trial->board) > 1 ? _("where %s") : _("in %s"), settings);
}

char *
pm_finding_in (const PmTrial *trial, const GArray *raws)
{
  const PmRaw *raw = &g_array_index (raws, PmRaw, 0);
  if (is_anywhere (raw->kind))
    return g_strdup ("");
  if (all_settings (trial, raws))
    return trial->cases->n_settings > 1 ? g_strdup (_("in every setting")) : g_strdup ("");
  g_autofree char *settings = case_names (trial, raws, TRUE, FALSE);
  if (settings != NULL)
    return in_settings (trial, settings);
  if (raw->kind == PM_FINDING_ANSWERS_RESET || raw->kind == PM_FINDING_ANSWERS_HOST_OFF) {
    g_autofree char *of = settings_of (trial, raws);
    return of != NULL ? in_settings (trial, of) : g_strdup ("");
  }
  const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, raw->spec);
  g_autofree char *others = case_names (trial, raws, FALSE, FALSE);
  if (spec->phrase != NULL && g_strcmp0 (others, spec->name) == 0)
    return g_strdup (spec->phrase);
  return others != NULL ? g_strdup_printf (_("with %s"), others) : g_strdup ("");
}

static char *
when_text (const PmTrial *trial, const GArray *raws)
{
  const PmRaw *raw = &g_array_index (raws, PmRaw, 0);
  if (is_anywhere (raw->kind))
    return g_strdup (_("Always."));
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *settings = case_names (trial, raws, TRUE, TRUE), *others = case_names (trial, raws, FALSE, FALSE);
  if (all_settings (trial, raws))
    g_string_append (text, trial->cases->n_settings > 1 ? _("In every setting.") : _("Always."));
  else if (settings != NULL)
    g_string_append_printf (text, "%s.", settings);
  else if (others != NULL) {
    g_autofree char *capital = pm_name_capital (g_steal_pointer (&others)), *of = settings_of (trial, raws);
    g_string_append_printf (text, of != NULL ? _("%s, lever at %s.") : "%s.", capital, of);
  }
  if (raw->state != PM_NONE) {
    const PmHostState *state = &g_array_index (trial->survey->states, PmHostState, raw->state);
    g_autofree char *words = pm_name_state (trial->board, state);
    if (state->kind == PM_STATE_SINGLE || state->kind == PM_STATE_IDLE)
      g_string_append_printf (text, _(" With %s."), words);
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* ---- What */

static char *
wrong_reach (const PmTrial *trial, const PmRaw *raw)
{
  g_autofree char *hangs = raw->has_choice ? pm_name_choice (trial->t, &raw->choice) : NULL;
  const char *wanted = raw->drive >= 0 ? drive_name (trial, raw->drive) : _("nothing");
  if (raw->other < 0 && raw->may)
    return g_strdup_printf (_("%s may or may not reach %s, which is wanted."), unit_name (trial, raw->unit), wanted);
  return g_strdup_printf (_("%s reaches %s; wanted is %s."), unit_name (trial, raw->unit),
                          drive_name (trial, raw->other), wanted);
}

/* An input that nothing drives: with nothing on it, or with a resistor too large to hold it. */
static char *
open_text (const PmTrial *trial, const PmRaw *raw, const char *place)
{
  double volts, ohms;
  PmBound *bound = pm_survey_bind (trial->survey, raw->spec, raw->state != PM_NONE ? raw->state : 0);
  if (!pm_bound_thevenin (bound, raw->place, &volts, &ohms))
    return g_strdup_printf (_("Nothing drives or holds %s, and which drive answers depends on it."), place);
  g_autofree char *size = pm_quantity_format (ohms, PM_UNIT_OHM);
  return g_strdup_printf (
      _("A resistor of %s to %.2g V is too large to hold %s at a sure level, and which drive answers depends on it."),
      size, volts, place);
}

/* The outputs on the line by name, as far as plain metal joins them. */
static char *
collision_text (const PmTrial *trial, const PmRaw *raw)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  PmBound *bound = pm_survey_bind (trial->survey, raw->spec, raw->state);
  for (guint i = 0; i < trial->t->driver_places->len && names->len < 4; i++) {
    guint32 place = g_array_index (trial->t->driver_places, guint32, i);
    if (pm_bound_net (bound, place) == pm_bound_net (bound, raw->place))
      g_ptr_array_add (names, place_name (trial, place));
  }
  g_autofree char *list = pm_name_list (names);
  if (names->len < 2)
    return g_strdup_printf (raw->may ? _("What drives the line of %s may meet another output there.")
                                     : _("What drives the line of %s meets another output there."),
                            list);
  return g_strdup_printf (
      raw->may ? _("%s may drive one line to opposite levels.") : _("%s drive one line to opposite levels."), list);
}

static char *
what_text (const PmTrial *trial, const PmRaw *raw)
{
  const PmBoard *board = trial->board;
  g_autofree char *place = raw->place != PM_NONE ? place_name (trial, raw->place) : NULL;
  switch (raw->kind) {
  case PM_FINDING_RAILS_JOINED: return g_strdup (_("Two supply rails are joined by plain metal."));
  case PM_FINDING_OUTPUTS_COLLIDE: return collision_text (trial, raw);
  case PM_FINDING_CONTROL_WRONG_WAY: return g_strdup (_("Each place of the lever does what another is wanted to do."));
  case PM_FINDING_THROUGH_NOT_CARRIED:
    return g_strdup_printf (_("%s of the machine ends at the board."), board->host.lines[raw->index].name);
  case PM_FINDING_START_UNKNOWN:
    return g_strdup (_("Nothing says which way it comes up, and the drives that answer depend on it."));
  case PM_FINDING_OPEN_CMOS_INPUT:
  case PM_FINDING_OPEN_BIPOLAR_INPUT: return open_text (trial, raw, place);
  case PM_FINDING_SELECT_FLOATS:
    return g_strdup_printf (_("Nothing drives or holds the select of %s: it may answer or not."),
                            drive_name (trial, raw->drive));
  case PM_FINDING_TWO_DRIVES:
    return raw->may ? g_strdup_printf (_("%s and %s may both answer."), drive_name (trial, raw->drive),
                                       drive_name (trial, raw->other))
                    : g_strdup_printf (_("%s and %s both answer."), drive_name (trial, raw->drive),
                                       drive_name (trial, raw->other));
  case PM_FINDING_ANSWERS_IDLE:
  case PM_FINDING_ANSWERS_RESET:
  case PM_FINDING_ANSWERS_HOST_OFF:
    return g_strdup_printf (raw->may ? _("%s may answer.") : _("%s answers."), drive_name (trial, raw->drive));
  case PM_FINDING_TWO_SELECTS:
    return g_strdup_printf (_("%s answers %s and another select as well."), drive_name (trial, raw->drive),
                            unit_name (trial, raw->unit));
  case PM_FINDING_REACHES_NOTHING:
    return g_strdup_printf (_("No drive answers %s; wanted is %s."), unit_name (trial, raw->unit),
                            drive_name (trial, raw->drive));
  case PM_FINDING_NOT_AS_WANTED: return wrong_reach (trial, raw);
  case PM_FINDING_SHARED_LINE_HELD:
    return g_strdup_printf (_("%s holds %s though it is not selected; what %s says does not reach the machine."),
                            drive_name (trial, raw->other), raw->does, drive_name (trial, raw->drive));
  case PM_FINDING_SIDE_LINE_STAYS:
    for (guint i = 0; i < trial->results[raw->spec].n_sides; i++) {
      const PmSideLine *side = &trial->results[raw->spec].sides[i];
      if (g_str_equal (side->does, raw->does) && side->drive == (guint) raw->drive && side->unit == (guint) raw->unit)
        return g_strdup_printf (_("%s reaches %s, but its %s."), unit_name (trial, raw->unit),
                                drive_name (trial, raw->drive), side->text);
    }
    return NULL;
  case PM_FINDING_NOT_SEEN_AS:
    return g_strdup_printf (_("The machine wants %s from a drive on %s; %s does not give it."), raw->does,
                            unit_name (trial, raw->unit), drive_name (trial, raw->drive));
  case PM_FINDING_LOW_NOT_REACHED:
    return g_strdup_printf (_("A low takes about %.1f mA; this output is sure to sink only %.1f mA."), raw->a * 1e3,
                            raw->b * 1e3);
  case PM_FINDING_HIGH_NOT_ENOUGH:
    if (raw->place2 == PM_NONE)
      return g_strdup_printf (_("A high takes about %.1f mA; this output is sure to give only %.1f mA."), raw->a * 1e3,
                              raw->b * 1e3);
    return g_strdup_printf (_("%s is sure to give %.2f V; the input needs %.2f V."), place, raw->a, raw->b);
  case PM_FINDING_SUPPLY_ON_SIGNAL:
    return g_strdup_printf (_("%s of %.3g V is on the net of %s."), board->rails[raw->index].name,
                            board->rails[raw->index].volts, place);
  case PM_FINDING_POWER_ON_RESET:
    return g_strdup_printf (_("A resistor and a capacitor hold %s low for a moment after power-on."), place);
  case PM_FINDING_NEXT_RESET:
    return g_strdup (_("What is remembered changes only with the reset, not with the lever."));
  case PM_FINDING_UNUSED_INPUT_OPEN:
    return g_strdup_printf (_("Nothing drives or holds %s, and perhaps others of the same chip."), place);
  case PM_FINDING_POSITION_NOT_STATED:
    return g_strdup_printf (_("It was taken to be at %s."),
                            pm_position_title (&board->switches[raw->sw], board->switches[raw->sw].usual));
  case PM_FINDING_ASSUMED: return g_strdup (_("The file says that this is assumed and not measured."));
  case PM_FINDING_NEVER_SETTLES: return g_strdup (_("A loop of gates finds no level at which it can rest."));
  default: return NULL;
  }
}

/* ---- Because */

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
static gboolean
sense_is_turned (const PmTrial *trial, const PmRaw *raw, guint *unit, guint *drive)
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
                            line->name, _ (rests[line->in_reset]), drive_name (trial, raw->drive));
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
    g_autofree char *name = pm_name_pin (board, join->kind == PM_JOIN_THROUGH ? join->places[1] : edit->a);
    *spot = join->spot;
    if (join->kind == PM_JOIN_THROUGH) {
      const char *number = strrchr (name, '.');
      return g_strdup_printf (_("Pin %s goes straight through in every setting"), number != NULL ? number + 1 : name);
    }
    return g_strdup_printf (_("%s is joined to this net"), name);
  }
  case PM_EDIT_JOIN:
    for (guint j = 0; j < board->n_joins; j++)
      if (board->joins[j].kind == PM_JOIN_CUT && board->joins[j].places[0] == edit->a &&
          board->joins[j].places[1] == edit->b) {
        g_autofree char *name = pm_name_pin (board, edit->b);
        const char *number = strrchr (name, '.');
        *spot = board->joins[j].spot;
        return g_strdup_printf (_("Pin %s is cut, and nothing carries it on"), number != NULL ? number + 1 : name);
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
    return g_strdup_printf (_("%s gives this level all the time, selected or not"), drive_name (trial, raw->other));
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

static char *
because_text (const PmTrial *trial, const PmCause *cause, const PmRaw *raw, PmSpot *spot)
{
  const PmBoard *board = trial->board;
  if (raw->kind == PM_FINDING_RAILS_JOINED) {
    const PmSwitch *sw = raw->sw != PM_NONE ? &board->switches[raw->sw] : NULL;
    *spot = sw != NULL ? sw->spot : board->rails[raw->index].spot;
    if (cause->repair != NULL && cause->repair->edits[0].kind == PM_EDIT_CUT)
      *spot = board->joins[cause->repair->edits[0].b].spot;
    return with_line (*spot, sw != NULL ? g_strdup_printf (_("%s closes onto a rail at both ends"), sw->name)
                                        : g_strdup (_("Both are on one net")));
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
  guint turned_unit, turned_drive;
  if (cause->repair == NULL && PM_FINDINGS[raw->kind].of_routes && !raw->has_choice &&
      sense_is_turned (trial, raw, &turned_unit, &turned_drive)) {
    *spot = board->host.lines[board->host.units[turned_unit].levels[0].line].spot;
    return with_line (
        *spot,
        g_strdup_printf (
            _("%s is on while %s is off, and off while it is on: the sense is turned round on the way between them"),
            drive_name (trial, (int)turned_drive), unit_name (trial, (int)turned_unit)));
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
    g_autofree char *name = pm_name_pin (board, board->joins[raw->join].places[1]);
    const char *number = strrchr (name, '.');
    *spot = board->joins[raw->join].spot;
    return with_line (
        *spot, g_strdup_printf (_("Pin %s is cut, and nothing carries it on"), number != NULL ? number + 1 : name));
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

/* ---- To do, Measure */

/* Where to look, with the ends of the way by name. */
static char *
look_at_text (const PmTrial *trial, const PmRaw *raw)
{
  const PmBoard *board = trial->board;
  const PmCaseSpec *spec = g_ptr_array_index (trial->cases->specs, raw->spec);
  guint unit, drive;
  if (PM_FINDINGS[raw->kind].of_routes && !raw->has_choice && sense_is_turned (trial, raw, &unit, &drive))
    return g_strdup_printf (_("An inverter is missing, or one too many, between %s and %s."),
                            unit_name (trial, (int)unit), drive_name (trial, (int)drive));
  if (raw->kind == PM_FINDING_SIDE_LINE_STAYS)
    for (guint l = 0; l < board->host.n_lines; l++)
      if (pm_line_serves (board, &board->host.lines[l], raw->does, (guint) raw->unit) &&
          board->host.lines[l].place != PM_NONE) {
        g_autofree char *at = place_name (trial, board->host.lines[l].place);
        return g_strdup_printf (_("The way between %s (%s) and %s, joint by joint."), at, board->host.lines[l].name,
                                drive_name (trial, raw->drive));
      }
  if (spec->kind == PM_CASE_REMOVED && spec->sw != PM_NONE)
    return g_strdup_printf (_("What holds the line that %s switches while its lead is off."),
                            board->switches[spec->sw].name);
  if (raw->place != PM_NONE) {
    g_autofree char *place = place_name (trial, raw->place);
    return g_strdup_printf (_("The net of %s, joint by joint."), place);
  }
  const PmUnit *u = raw->unit >= 0 ? &board->host.units[raw->unit] : NULL;
  g_autofree char *from =
      u != NULL && u->n_levels > 0 ? place_name (trial, board->host.lines[u->levels[0].line].place) : NULL;
  g_autofree char *to = raw->drive >= 0 && board->drives[raw->drive].n_answers > 0
                            ? place_name (trial, board->drives[raw->drive].answers[0].whens[0].place)
                            : NULL;
  if (from != NULL && to != NULL)
    return g_strdup_printf (_("The way from %s (%s) to %s, joint by joint."), from, u->name, to);
  if (to != NULL)
    return g_strdup_printf (_("What drives %s, joint by joint."), to);
  return from != NULL ? g_strdup_printf (_("Where %s (%s) leads, joint by joint."), from, u->name)
                      : g_strdup (_("The lines that the finding names."));
}

static char *
to_do_text (const PmTrial *trial, const PmCause *cause, const PmRaw *raw)
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
  case PM_FINDING_START_UNKNOWN: return g_strdup (_("What sets or clears the memory at power-on."));
  case PM_FINDING_RAILS_JOINED:
    return raw->sw != PM_NONE
               ? g_strdup (_("Switch one rail only, and let a resistor hold the line at the other level."))
               : g_strdup_printf (_("Where %s and %s meet, joint by joint."), trial->board->rails[raw->index].name,
                                  raw->place2 != PM_NONE ? trial->board->rails[raw->place2].name : "0V");
  default: return look_at_text (trial, raw);
  }
}

static char *
measure_text (const PmTrial *trial, const PmCause *cause, const PmRaw *raw)
{
  const PmBoard *board = trial->board;
  const PmEdit *edit = cause->repair != NULL ? &cause->repair->edits[0] : NULL;
  if (raw->kind == PM_FINDING_RAILS_JOINED) {
    const PmRail *a = &board->rails[raw->index];
    return g_strdup_printf (_("Power off, chips out, every setting in turn: %s to 0 V must read open (above 1 kΩ)."),
                            a->name);
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

/* ---- the whole */

static void
tell_followers (const PmTrial *trial, const PmCause *cause, PmFinding *out)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();
  g_autoptr (GString) row = g_string_new (NULL);
  for (guint i = 0; i < cause->followers->len; i++) {
    const PmCause *other = g_ptr_array_index (cause->followers, i);
    g_autofree char *title = pm_finding_title (trial, &g_array_index (other->raws, PmRaw, 0)),
                    *in = pm_finding_in (trial, other->raws);
    char *line = g_strdup_printf ("%s%s%s", title, in[0] != '\0' ? " " : "", in);
    g_ptr_array_add (lines, line);
    if (i < 3)
      g_string_append_printf (row, "%s%s", row->len > 0 ? "; " : "", line);
  }
  if (cause->followers->len > 3)
    g_string_append_printf (row, ngettext ("; %u more", "; %u more", cause->followers->len - 3),
                            cause->followers->len - 3);
  if (row->len > 0)
    g_string_append_c (row, '.');
  g_ptr_array_add (lines, NULL);
  out->followers = (char **) g_ptr_array_steal (lines, NULL);
  out->follows = row->len > 0 ? g_string_free (g_steal_pointer (&row), FALSE) : NULL;
}

static void
add_spot (PmFinding *out, PmSpot spot)
{
  if (spot.line == 0)
    return;
  for (guint i = 0; i < out->n_spots; i++)
    if (out->spots[i].line == spot.line && out->spots[i].file == spot.file)
      return;
  out->spots = g_renew (PmSpot, out->spots, out->n_spots + 1);
  out->spots[out->n_spots++] = spot;
}

static int
compare_places (gconstpointer a, gconstpointer b)
{
  guint32 x = *(const guint32 *) a, y = *(const guint32 *) b;
  return x < y ? -1 : x > y;
}

static void
tell_places (const PmTrial *trial, const PmCause *cause, PmFinding *out)
{
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (guint32));
  for (guint i = 0; i < cause->raws->len; i++) {
    const PmRaw *raw = &g_array_index (cause->raws, PmRaw, i);
    const guint32 of[] = {raw->place, raw->kind == PM_FINDING_RAILS_JOINED ? PM_NONE : raw->place2};
    for (guint k = 0; k < G_N_ELEMENTS (of); k++) {
      gboolean known = of[k] >= trial->board->n_places;
      for (guint p = 0; p < places->len && !known; p++)
        known = g_array_index (places, guint32, p) == of[k];
      if (!known)
        g_array_append_val (places, of[k]);
    }
  }
  g_array_sort (places, compare_places);
  out->n_places = places->len;
  g_autoptr (GString) identity = g_string_new (out->id);
  for (guint i = 0; i < places->len; i++) {
    g_autofree char *name = pm_name_pin (trial->board, g_array_index (places, guint32, i));
    g_string_append_printf (identity, " %s", name);
  }
  const PmRaw *raw = &g_array_index (cause->raws, PmRaw, 0);
  if (raw->unit >= 0)
    g_string_append_printf (identity, " %s", trial->board->host.units[raw->unit].name);
  if (raw->drive >= 0)
    g_string_append_printf (identity, " %s", trial->board->drives[raw->drive].name);
  if (raw->does != NULL && raw->kind != PM_FINDING_NOT_SEEN_AS)
    g_string_append_printf (identity, " %s", raw->does);
  if (raw->sw != PM_NONE)
    g_string_append_printf (identity, " %s", trial->board->switches[raw->sw].name);
  if (raw->index != PM_NONE && raw->kind == PM_FINDING_ASSUMED && g_strcmp0 (raw->does, "line") == 0)
    g_string_append_printf (identity, " %s", trial->board->host.lines[raw->index].name);
  else if (raw->index != PM_NONE && (raw->kind == PM_FINDING_ASSUMED || raw->kind == PM_FINDING_START_UNKNOWN ||
                                     raw->kind == PM_FINDING_UNUSED_INPUT_OPEN))
    g_string_append_printf (identity, " %s", trial->board->instances[raw->index].ref);
  out->identity = g_string_free (g_steal_pointer (&identity), FALSE);
  out->places = (guint32 *) (gpointer) g_array_free (g_steal_pointer (&places), FALSE);
}

static void
look_for_accept (const PmTrial *trial, PmFinding *out)
{
  for (guint i = 0; i < trial->board->n_accepts; i++) {
    const PmAccept *accept = &trial->board->accepts[i];
    if (out->severity != PM_SEVERITY_CARE || g_strcmp0 (accept->finding, out->id) != 0)
      continue;
    if (accept->at != NULL && accept->at[0] != '\0') {
      g_auto (GStrv) words = g_strsplit (out->identity, " ", -1);
      if (!g_strv_contains ((const char *const *) words, accept->at))
        continue;
    }
    out->severity = PM_SEVERITY_NOTE;
    out->accepted = g_strdup (accept->why != NULL ? accept->why : "");
  }
}

/* Some findings gather several things of one sort: what a drive does not give, which inputs hang open. */
static char *
what_of_all (const PmTrial *trial, const PmCause *cause, const PmRaw *raw)
{
  if (raw->kind != PM_FINDING_NOT_SEEN_AS && raw->kind != PM_FINDING_UNUSED_INPUT_OPEN)
    return what_text (trial, raw);
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < cause->raws->len; i++) {
    const PmRaw *one = &g_array_index (cause->raws, PmRaw, i);
    char *word = raw->kind == PM_FINDING_NOT_SEEN_AS ? g_strdup (one->does) : pm_name_pin (trial->board, one->place);
    if (g_ptr_array_find_with_equal_func (words, word, g_str_equal, NULL))
      g_free (word);
    else
      g_ptr_array_add (words, word);
  }
  g_autofree char *list = pm_name_list (words);
  if (raw->kind == PM_FINDING_NOT_SEEN_AS)
    return g_strdup_printf (_("The machine wants %s from a drive on %s; %s does not give that."), list,
                            unit_name (trial, raw->unit), drive_name (trial, raw->drive));
  return g_strdup_printf (_("Nothing drives or holds %s."), list);
}

/* A title inside a sentence: its first letter small, unless it begins with a name. Takes text. */
char *
pm_finding_lower (const PmBoard *board, char *text)
{
  /* Translators: "kept" if a title inside a sentence keeps its capital letter, as in a language with capital nouns. */
  if (g_str_equal (C_("capital of a title inside a sentence", "dropped"), "kept"))
    return text;
  gboolean name = !g_ascii_isupper (text[0]) || !(text[1] == ' ' || g_ascii_islower (text[1]));
  for (guint d = 0; d < board->n_drives && !name; d++)
    name = g_str_has_prefix (text, pm_name_drive (board, d));
  for (guint u = 0; u < board->host.n_units && !name; u++)
    name = g_str_has_prefix (text, board->host.units[u].name);
  for (guint l = 0; l < board->host.n_lines && !name; l++)
    name = g_str_has_prefix (text, board->host.lines[l].name);
  for (guint i = 0; i < board->n_instances && !name; i++)
    name = strlen (board->instances[i].ref) > 1 && g_str_has_prefix (text, board->instances[i].ref);
  if (!name)
    text[0] = g_ascii_tolower (text[0]);
  return text;
}

/* What is certain is told of the cases where it is certain. */
static GArray *
as_sure_as_the_first (const GArray *raws)
{
  GArray *sure = g_array_new (FALSE, FALSE, sizeof (PmRaw));
  for (guint i = 0; i < raws->len; i++)
    if (g_array_index (raws, PmRaw, i).may == g_array_index (raws, PmRaw, 0).may)
      g_array_append_vals (sure, &g_array_index (raws, PmRaw, i), 1);
  return sure;
}

void
pm_finding_tell (const PmTrial *trial, const PmCause *cause, PmFinding *out)
{
  const PmRaw *raw = &g_array_index (cause->raws, PmRaw, 0);
  PmSpot spot = {0};
  out->kind = raw->kind;
  out->id = PM_FINDINGS[raw->kind].id;
  out->severity = cause->severity;
  out->title = pm_name_capital (pm_finding_title (trial, raw));
  g_autoptr (GArray) sure = as_sure_as_the_first (cause->raws);
  g_autofree char *in = pm_finding_in (trial, sure);
  g_autofree char *lower = g_strdup (out->title);
  lower = pm_finding_lower (trial->board, g_steal_pointer (&lower));
  out->short_text = g_strdup_printf ("%s%s%s", lower, in[0] != '\0' ? " " : "", in);
  out->when = when_text (trial, sure);
  out->what = what_of_all (trial, cause, raw);
  if (out->what != NULL)
    out->what = pm_name_capital (out->what);
  out->because = because_text (trial, cause, raw, &spot);
  out->matters = g_strdup (_(PM_FINDINGS[raw->kind].matters));
  out->to_do = to_do_text (trial, cause, raw);
  out->tried = cause->repair != NULL;
  out->measure = measure_text (trial, cause, raw);
  out->case_index = raw->spec;
  out->unit = raw->unit;
  out->drive = raw->drive;
  tell_followers (trial, cause, out);
  add_spot (out, spot);
  if (raw->place < trial->board->n_places)
    add_spot (out, pm_name_spot (trial->board, raw->place));
  if (raw->unit >= 0 && trial->results[raw->spec].wanted != PM_NONE)
    add_spot (out, trial->board->wanted[trial->results[raw->spec].wanted].spot);
  tell_places (trial, cause, out);
  g_autofree char *pin = out->n_places > 0 ? pm_name_pin (trial->board, out->places[0]) : NULL;
  out->where = in[0] != '\0' && pin != NULL ? g_strdup_printf ("%s · %s", in, pin)
                                            : g_strdup (in[0] != '\0' ? in
                                                        : pin != NULL ? pin
                                                                      : "");
  look_for_accept (trial, out);
}

void
pm_finding_tell_today (const PmTrial *trial, const GArray *as_today, PmFinding *out)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < as_today->len; i++) {
    g_autofree char *title = pm_finding_title (trial, &g_array_index (as_today, PmRaw, i));
    if (words->len < 4 && !g_ptr_array_find_with_equal_func (words, title, g_str_equal, NULL))
      g_ptr_array_add (words, g_steal_pointer (&title));
  }
  g_autoptr (GString) list = g_string_new (NULL);
  for (guint i = 0; i < words->len; i++)
    g_string_append_printf (list, "%s%s", i > 0 ? "; " : "", (char *) g_ptr_array_index (words, i));
  g_string_append_c (list, '.');
  const PmRaw *raw = &g_array_index (as_today, PmRaw, 0);
  out->kind = PM_FINDING_AS_TODAY;
  out->id = PM_FINDINGS[PM_FINDING_AS_TODAY].id;
  out->severity = PM_SEVERITY_NOTE;
  out->title = g_strdup (_("As today"));
  out->short_text = g_strdup (_("as today"));
  out->where = g_strdup (_("without the board too"));
  out->when = g_strdup (_("With and without the board."));
  out->what = g_string_free (g_steal_pointer (&list), FALSE);
  out->matters = g_strdup (_(PM_FINDINGS[PM_FINDING_AS_TODAY].matters));
  out->case_index = raw->spec;
  out->unit = out->drive = -1;
  out->followers = g_new0 (char *, 1);
  out->identity = g_strdup (out->id);
}
