/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sentences: what a finding is called, when it is so, and what happens. */
#include "config.h"
#include "pm-finding-private.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>
#include <string.h>

const char *
pm_tell_unit (const PmTrial *trial, int unit)
{
  return unit >= 0 ? trial->board->host.units[unit].name : _("a select");
}

const char *
pm_tell_drive (const PmTrial *trial, int drive)
{
  return drive >= 0 ? pm_name_drive (trial->board, drive) : _("nothing");
}

char *
pm_tell_place (const PmTrial *trial, guint32 place)
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
  g_autofree char *at = pm_tell_place (trial, line->place);
  return raw->may ? g_strdup_printf (_("Assumed: %s is weakly high in reset"), line->name)
                  : g_strdup_printf (_("Assumed: %s is at %s"), line->name, at);
}

/* What the wanted drive's answer hangs on where it is other lines: "with MTR on"; NULL if it does not. */
static const char *
only_with (const PmTrial *trial, const PmRaw *raw)
{
  if (raw->drive < 0 || raw->other >= 0)
    return NULL;
  const PmCell *cell =
      &trial->results[raw->spec].cells[(guint) raw->unit * trial->board->n_drives + (guint) raw->drive];
  return cell->answer == PM_ANSWER_DEPENDS ? cell->only : NULL;
}

char *
pm_finding_title (const PmTrial *trial, const PmRaw *raw)
{
  const PmBoard *board = trial->board;
  g_autofree char *place = raw->place != PM_NONE ? pm_tell_place (trial, raw->place) : NULL;
  gboolean of_part = raw->kind == PM_FINDING_START_UNKNOWN || raw->kind == PM_FINDING_UNUSED_INPUT_OPEN;
  g_autofree char *part = of_part && raw->index != PM_NONE ? pm_name_instance (board, raw->index) : NULL;
  switch (raw->kind) {
  case PM_FINDING_RAILS_JOINED:
    return g_strdup_printf (_("%s and %s are joined"), board->rails[raw->index].name,
                            raw->place2 != PM_NONE ? board->rails[raw->place2].name : "0V");
  case PM_FINDING_SUPPLY_ON_SIGNAL: return g_strdup_printf (_("A supply stands on %s"), place);
  case PM_FINDING_SUPPLY_PIN:
    return g_strdup_printf (_("%s is joined to %s"), place, trial->board->rails[raw->index].name);
  case PM_FINDING_OUTPUTS_COLLIDE:
    return g_strdup_printf (raw->may ? _("Outputs may collide at %s") : _("Outputs collide at %s"), place);
  case PM_FINDING_CONTROL_WRONG_WAY:
    return g_strdup_printf (_("“%s” works the wrong way round"), pm_name_switch (&board->switches[raw->sw]));
  case PM_FINDING_THROUGH_NOT_CARRIED:
    return g_strdup_printf (_("%s is cut and not carried on"), board->host.lines[raw->index].name);
  case PM_FINDING_DATA_WITH_CLOCK: {
    g_autofree char *edge = pm_tell_place (trial, raw->place2);
    return g_strdup_printf (_("%s changes at the very moment %s takes it"), place, edge);
  }
  case PM_FINDING_START_UNKNOWN:
    return g_strdup_printf (_("%s starts one way or the other"), part != NULL ? part : _("A loop"));
  case PM_FINDING_NEVER_SETTLES: return g_strdup (_("A loop never settles"));
  case PM_FINDING_OPEN_CMOS_INPUT:
  case PM_FINDING_OPEN_BIPOLAR_INPUT:
    return g_strdup_printf (board->instances[pm_board_instance_of (board, raw->place)].part->n_sections > 0
                                ? _("%s is not held, and decides")
                                : _("The line at %s is not held, and decides"),
                            place);
  case PM_FINDING_SELECT_FLOATS:
    return g_strdup_printf (_("The select of %s floats"), pm_tell_drive (trial, raw->drive));
  case PM_FINDING_TWO_DRIVES:
    return g_strdup_printf (raw->may ? _("Two drives may answer %s") : _("Two drives answer %s"),
                            pm_tell_unit (trial, raw->unit));
  case PM_FINDING_ANSWERS_IDLE:
    return g_strdup_printf (raw->may ? _("%s may answer with nothing turned on")
                                     : _("%s answers with nothing turned on"),
                            pm_tell_drive (trial, raw->drive));
  case PM_FINDING_IDLE_TODAY:
    return g_strdup_printf (_("Without the board %s answers with nothing turned on"),
                            pm_tell_drive (trial, raw->drive));
  case PM_FINDING_TWO_SELECTS: return g_strdup_printf (_("%s answers two selects"), pm_tell_drive (trial, raw->drive));
  case PM_FINDING_REACHES_NOTHING: return g_strdup_printf (_("%s reaches nothing"), pm_tell_unit (trial, raw->unit));
  case PM_FINDING_NOT_AS_WANTED: {
    const char *only = only_with (trial, raw);
    if (only != NULL)
      return g_strdup_printf (_("%s answers %s only %s"), pm_tell_drive (trial, raw->drive),
                              pm_tell_unit (trial, raw->unit), only);
    return raw->may && raw->other < 0
               ? g_strdup_printf (_("It is not certain what %s reaches"), pm_tell_unit (trial, raw->unit))
               : g_strdup_printf (_("%s reaches %s"), pm_tell_unit (trial, raw->unit),
                                  pm_tell_drive (trial, raw->other));
  }
  case PM_FINDING_SHARED_LINE_HELD: {
    g_autofree char *does = pm_name_capital (g_strdup (raw->does));
    return g_strdup_printf (_("%s is held by %s"), does, pm_tell_drive (trial, raw->other));
  }
  case PM_FINDING_SIDE_LINE_STAYS: {
    g_autofree char *does = pm_name_capital (g_strdup (raw->does));
    return g_strdup_printf (raw->may ? _("%s does not surely go along") : _("%s stays behind"), does);
  }
  case PM_FINDING_ANSWERS_RESET: return g_strdup_printf (_("%s answers in reset"), pm_tell_drive (trial, raw->drive));
  case PM_FINDING_ANSWERS_HOST_OFF:
    return g_strdup_printf (_("%s answers with the machine off"), pm_tell_drive (trial, raw->drive));
  case PM_FINDING_NOT_SEEN_AS:
    return g_strdup_printf (_("%s is not seen as %s"), pm_tell_drive (trial, raw->drive),
                            pm_tell_unit (trial, raw->unit));
  case PM_FINDING_LOW_NOT_REACHED: return g_strdup_printf (_("%s cannot pull its line low"), place);
  case PM_FINDING_HIGH_NOT_ENOUGH: {
    g_autofree char *input = raw->place2 != PM_NONE ? pm_tell_place (trial, raw->place2) : NULL;
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
         kind == PM_FINDING_SUPPLY_PIN || kind == PM_FINDING_IDLE_TODAY || kind == PM_FINDING_POSITION_NOT_STATED ||
         kind == PM_FINDING_ASSUMED;
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

char *
pm_tell_when (const PmTrial *trial, const GArray *raws)
{
  const PmRaw *raw = &g_array_index (raws, PmRaw, 0);
  if (raw->kind == PM_FINDING_IDLE_TODAY)
    return g_strdup (_("Without the board, with nothing turned on."));
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
    if (state->kind == PM_STATE_RESET && raw->kind == PM_FINDING_DATA_WITH_CLOCK)
      g_string_append (text, _(" As a reset begins or ends."));
    if (state->kind == PM_STATE_SINGLE || state->kind == PM_STATE_IDLE)
      g_string_append_printf (text, _(" With %s."), words);
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
wrong_reach (const PmTrial *trial, const PmRaw *raw)
{
  const char *wanted = raw->drive >= 0 ? pm_tell_drive (trial, raw->drive) : _("nothing");
  const char *only = only_with (trial, raw);
  if (only != NULL)
    return g_strdup_printf (_("%s reaches %s, which is wanted, only %s."), pm_tell_unit (trial, raw->unit), wanted,
                            only);
  if (raw->other < 0 && raw->may)
    return g_strdup_printf (_("%s may or may not reach %s, which is wanted."), pm_tell_unit (trial, raw->unit), wanted);
  return g_strdup_printf (_("%s reaches %s; wanted is %s."), pm_tell_unit (trial, raw->unit),
                          pm_tell_drive (trial, raw->other), wanted);
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
      g_ptr_array_add (names, pm_tell_place (trial, place));
  }
  g_autofree char *list = pm_name_list (names);
  if (names->len < 2)
    return g_strdup_printf (raw->may ? _("What drives the line of %s may meet another output there.")
                                     : _("What drives the line of %s meets another output there."),
                            list);
  return g_strdup_printf (
      raw->may ? _("%s may drive one line to opposite levels.") : _("%s drive one line to opposite levels."), list);
}

char *
pm_tell_what (const PmTrial *trial, const PmRaw *raw)
{
  const PmBoard *board = trial->board;
  g_autofree char *place = raw->place != PM_NONE ? pm_tell_place (trial, raw->place) : NULL;
  switch (raw->kind) {
  case PM_FINDING_RAILS_JOINED: return g_strdup (_("Two supply rails are joined by plain metal."));
  case PM_FINDING_OUTPUTS_COLLIDE: return collision_text (trial, raw);
  case PM_FINDING_CONTROL_WRONG_WAY: return g_strdup (_("Each place of the lever does what another is wanted to do."));
  case PM_FINDING_THROUGH_NOT_CARRIED:
    return g_strdup_printf (_("%s of the machine ends at the board."), board->host.lines[raw->index].name);
  case PM_FINDING_DATA_WITH_CLOCK: {
    g_autofree char *edge = pm_tell_place (trial, raw->place2);
    return g_strdup_printf (
        _("The level of %s changes together with the edge of %s: the old or the new one may be taken."), place, edge);
  }
  case PM_FINDING_START_UNKNOWN:
    return g_strdup (_("Nothing says which way it comes up, and the drives that answer depend on it."));
  case PM_FINDING_OPEN_CMOS_INPUT:
  case PM_FINDING_OPEN_BIPOLAR_INPUT: return open_text (trial, raw, place);
  case PM_FINDING_SELECT_FLOATS:
    return g_strdup_printf (_("Nothing drives or holds the select of %s: it may answer or not."),
                            pm_tell_drive (trial, raw->drive));
  case PM_FINDING_TWO_DRIVES:
    return raw->may ? g_strdup_printf (_("%s and %s may both answer."), pm_tell_drive (trial, raw->drive),
                                       pm_tell_drive (trial, raw->other))
                    : g_strdup_printf (_("%s and %s both answer."), pm_tell_drive (trial, raw->drive),
                                       pm_tell_drive (trial, raw->other));
  case PM_FINDING_ANSWERS_IDLE:
  case PM_FINDING_ANSWERS_RESET:
  case PM_FINDING_ANSWERS_HOST_OFF:
    return g_strdup_printf (raw->may ? _("%s may answer.") : _("%s answers."), pm_tell_drive (trial, raw->drive));
  case PM_FINDING_TWO_SELECTS:
    return g_strdup_printf (_("%s answers %s and another select as well."), pm_tell_drive (trial, raw->drive),
                            pm_tell_unit (trial, raw->unit));
  case PM_FINDING_REACHES_NOTHING:
    return g_strdup_printf (_("No drive answers %s; wanted is %s."), pm_tell_unit (trial, raw->unit),
                            pm_tell_drive (trial, raw->drive));
  case PM_FINDING_NOT_AS_WANTED: return wrong_reach (trial, raw);
  case PM_FINDING_SHARED_LINE_HELD:
    for (guint g = 0; g < board->drives[raw->drive].n_gives; g++)
      if (board->drives[raw->drive].gives[g].holds >= 0 &&
          g_str_equal (board->drives[raw->drive].gives[g].does, raw->does))
        return g_strdup_printf (
            _("%s holds %s though it is not selected, and so does %s: the machine cannot tell which of them is there."),
            pm_tell_drive (trial, raw->other), raw->does, pm_tell_drive (trial, raw->drive));
    return g_strdup_printf (_("%s holds %s though it is not selected; what %s says does not reach the machine."),
                            pm_tell_drive (trial, raw->other), raw->does, pm_tell_drive (trial, raw->drive));
  case PM_FINDING_SIDE_LINE_STAYS:
    for (guint i = 0; i < trial->results[raw->spec].n_sides; i++) {
      const PmSideLine *side = &trial->results[raw->spec].sides[i];
      if (g_str_equal (side->does, raw->does) && side->drive == (guint) raw->drive && side->unit == (guint) raw->unit)
        return g_strdup_printf (_("%s reaches %s, but its %s."), pm_tell_unit (trial, raw->unit),
                                pm_tell_drive (trial, raw->drive), side->text);
    }
    return NULL;
  case PM_FINDING_NOT_SEEN_AS:
    return g_strdup_printf (_("The machine wants %s from a drive on %s; %s does not give it."), raw->does,
                            pm_tell_unit (trial, raw->unit), pm_tell_drive (trial, raw->drive));
  case PM_FINDING_LOW_NOT_REACHED:
    return g_strdup_printf (_("A low takes about %.1f mA; this output is sure to sink only %.1f mA."), raw->a * 1e3,
                            raw->b * 1e3);
  case PM_FINDING_HIGH_NOT_ENOUGH:
    if (raw->place2 == PM_NONE)
      return g_strdup_printf (_("A high takes about %.1f mA; this output is sure to give only %.1f mA."), raw->a * 1e3,
                              raw->b * 1e3);
    return g_strdup_printf (_("%s is sure to give %.2f V; the input needs %.2f V."), place, raw->a, raw->b);
  case PM_FINDING_SUPPLY_PIN:
    return g_strdup_printf (_("%s, a supply pin, is on the metal of %s."), place, board->rails[raw->index].name);
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
