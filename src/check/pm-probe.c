/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands at every pin in one case and one host state. */
#include "config.h"
#include "pm-probe.h"
#include "pm-routes.h"
#include <glib/gi18n-lib.h>

#define UNKNOWN 0xff

struct _PmProbe {
  const PmCheck *check;
  PmTranslation *t;
  PmCases       *cases;
  PmSurvey      *survey;
  char         **names;          /* [n_states] */
  guint          n_states;       /* idle, singles, pairs: the first states of the survey */
  guint          spec, state;
  guint8        *flags;          /* [n_places] PmFlag, or UNKNOWN until asked */
  gint8         *lamps;          /* [n_drives]: 0, 1, -1; 2 until asked */
  guint32       *forced;         /* [n_forced] sources of side lines, and their values in this state */
  guint8        *values;
  guint          n_forced;
};

static const PmHostState *
host_state (const PmProbe *probe, guint state)
{
  return &g_array_index (probe->survey->states, PmHostState, state);
}

static char *
name_state (const PmBoard *board, const PmHostState *state)
{
  switch (state->kind) {
  case PM_STATE_SINGLE: return g_strdup (board->host.units[state->unit].name);
  case PM_STATE_PAIR:
    return g_strdup_printf (_("%s and %s"), board->host.units[state->unit].name, board->host.units[state->other].name);
  case PM_STATE_IDLE:
  case PM_STATE_RESET:
  case PM_STATE_HOST_OFF:
  default: return g_strdup (_("nothing"));
  }
}

PmProbe *
pm_probe_new (const PmCheck *check)
{
  PmProbe *probe = g_new0 (PmProbe, 1);
  probe->check = check;
  probe->t = pm_translate (check->board, NULL, 0);
  probe->cases = pm_cases_new (probe->t, PM_CASES_ALL);
  probe->survey = pm_survey_open (probe->t, probe->cases, TRUE);
  while (probe->n_states < probe->survey->states->len && host_state (probe, probe->n_states)->kind <= PM_STATE_PAIR)
    probe->n_states++;
  probe->names = g_new0 (char *, probe->n_states + 1);
  for (guint s = 0; s < probe->n_states; s++)
    probe->names[s] = name_state (check->board, host_state (probe, s));
  probe->flags = g_malloc (MAX (check->board->n_places, 1));
  probe->lamps = g_malloc (MAX (check->board->n_drives, 1));
  probe->forced = g_new (guint32, probe->survey->side_lines->len);
  probe->values = g_new (guint8, probe->survey->side_lines->len);
  pm_probe_set (probe, check->usual, 0);
  return probe;
}

void
pm_probe_free (PmProbe *probe)
{
  if (probe == NULL)
    return;
  g_strfreev (probe->names);
  g_free (probe->flags);
  g_free (probe->lamps);
  g_free (probe->forced);
  g_free (probe->values);
  pm_survey_free (probe->survey);
  pm_cases_free (probe->cases);
  pm_translation_free (probe->t);
  g_free (probe);
}

guint
pm_probe_n_states (const PmProbe *probe)
{
  return probe->n_states;
}

const char *
pm_probe_state_name (const PmProbe *probe, guint state)
{
  return probe->names[state];
}

gboolean
pm_probe_state_is_plain (const PmProbe *probe, guint state)
{
  return host_state (probe, state)->kind <= PM_STATE_SINGLE;
}

/* Reset and host off are states of their own: whatever was chosen, such a case is seen in its own. */
static guint
state_of_case (const PmProbe *probe, guint state)
{
  const PmCaseSpec *spec = g_ptr_array_index (probe->cases->specs, probe->spec);
  if (spec->reset)
    return pm_survey_state (probe->survey, PM_STATE_RESET, PM_NONE);
  if (spec->host_off)
    return pm_survey_state (probe->survey, PM_STATE_HOST_OFF, PM_NONE);
  return state;
}

void
pm_probe_set (PmProbe *probe, guint case_index, guint state)
{
  const PmBoard *board = probe->check->board;
  probe->spec = case_index; /* the survey's cases stand in the order of the check's */
  probe->state = state_of_case (probe, MIN (state, probe->n_states - 1));
  memset (probe->flags, UNKNOWN, board->n_places);
  memset (probe->lamps, 2, board->n_drives);
  PmHostStateKind kind = host_state (probe, probe->state)->kind;
  gboolean on = kind == PM_STATE_SINGLE || kind == PM_STATE_PAIR;
  probe->n_forced = 0;
  for (guint k = 0; k < probe->survey->side_lines->len && kind <= PM_STATE_PAIR; k++) {
    guint line = g_array_index (probe->survey->side_lines, guint, k);
    probe->forced[probe->n_forced] = pm_survey_line_source (probe->survey, line);
    probe->values[probe->n_forced++] = pm_survey_value_at (on != board->host.lines[line].asserted_low);
  }
}

/* All worlds of one question; those in which an open bipolar input reads low are passed by, as everywhere, unless there
 * are no others. */
static gboolean
ask (PmProbe *probe, const PmAsk *asks, guint n_asks, guint32 lamps, GArray *seen)
{
  gboolean latched = FALSE;
  for (guint k = 0; k < probe->survey->side_lines->len; k++)
    latched |= probe->check->board->host.lines[g_array_index (probe->survey->side_lines, guint, k)].latched_select;
  latched = latched && host_state (probe, probe->state)->kind == PM_STATE_SINGLE;
  probe->survey->lamps_asked = lamps;
  if (!pm_survey_ask (probe->survey, probe->spec, probe->state, probe->forced, probe->values, probe->n_forced, latched,
                      asks, n_asks, seen))
    return FALSE;
  pm_seen_keep_shown (seen);
  return seen->len > 0;
}

static PmFlag
flag_of_level (guint level)
{
  static const PmFlag flags[PM_N_LEVELS] = {[PM_LEVEL_LOW] = PM_FLAG_LOW,          [PM_LEVEL_HIGH] = PM_FLAG_HIGH,
                                            [PM_LEVEL_CLAMPED] = PM_FLAG_LOW,      [PM_LEVEL_PULLED_LOW] = PM_FLAG_LOW,
                                            [PM_LEVEL_PULLED_HIGH] = PM_FLAG_HIGH, [PM_LEVEL_BETWEEN] = PM_FLAG_OFF,
                                            [PM_LEVEL_OFF] = PM_FLAG_OFF,          [PM_LEVEL_CLASH] = PM_FLAG_CLASH};
  return flags[level];
}

PmFlag
pm_probe_flag (PmProbe *probe, guint32 place)
{
  if (probe->flags[place] != UNKNOWN)
    return probe->flags[place];
  g_autoptr (GArray) seen = g_array_new (FALSE, FALSE, sizeof (PmSeen));
  PmAsk level = {PM_ASK_LEVEL, place};
  guint flags = 0;
  if (!ask (probe, &level, 1, 0, seen))
    flags = 1u << PM_FLAG_EITHER;
  for (guint i = 0; i < seen->len; i++) {
    const PmSeen *world = &g_array_index (seen, PmSeen, i);
    flags |= 1u << (world->never_settles ? PM_FLAG_EITHER : flag_of_level (world->answers[0]));
  }
  PmFlag flag = PM_FLAG_EITHER;
  for (guint f = 0; f < PM_N_FLAGS; f++)
    if (flags == 1u << f)
      flag = f;
  if (flags >> PM_FLAG_CLASH & 1)
    flag = PM_FLAG_CLASH;
  probe->flags[place] = (guint8) flag;
  return flag;
}

int
pm_probe_answers (PmProbe *probe, guint drive)
{
  if (probe->lamps[drive] != 2)
    return probe->lamps[drive];
  g_autoptr (GArray) seen = g_array_new (FALSE, FALSE, sizeof (PmSeen));
  int lamp = -1;
  guint on = 0;
  if (drive < 32 && ask (probe, NULL, 0, 1u << drive, seen)) {
    for (guint i = 0; i < seen->len; i++)
      on += g_array_index (seen, PmSeen, i).lamps >> drive & 1;
    lamp = on == 0 ? 0 : on == seen->len ? 1 : -1;
  }
  probe->lamps[drive] = (gint8) lamp;
  return lamp;
}

const char *
pm_flag_mark (PmFlag flag)
{
  static const char *const marks[PM_N_FLAGS] = {"0", "1", "–", "?", "✗"};
  return marks[flag];
}

const char *
pm_flag_words (PmFlag flag)
{
  static const char *const words[PM_N_FLAGS] = {N_("low"), N_("high"), N_("off: nothing holds it"), N_("low or high"),
                                                N_("two outputs collide")};
  return _(words[flag]);
}
