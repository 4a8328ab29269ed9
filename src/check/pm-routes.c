/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Routes: judged over idle and single host states of one case. */
#include "config.h"
#include "pm-routes.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>

#define MOST_IN_PAIRS 128 /* worlds that are looked at pair by pair */

gboolean
pm_seen_is_shown (const PmSeen *seen)
{
  for (guint i = 0; i < seen->n_choices; i++)
    if (seen->choices[i].open_high && seen->choices[i].value == 0)
      return FALSE;
  return TRUE;
}

void
pm_seen_keep_shown (GArray *seen)
{
  guint n = 0;
  for (guint i = 0; i < seen->len; i++)
    n += pm_seen_is_shown (&g_array_index (seen, PmSeen, i));
  for (guint i = seen->len; i > 0 && n > 0; i--)
    if (!pm_seen_is_shown (&g_array_index (seen, PmSeen, i - 1)))
      g_array_remove_index (seen, i - 1);
}

int
pm_seen_choice (const PmSeen *seen, PmChoiceKind kind, guint32 index)
{
  for (guint i = 0; i < seen->n_choices; i++)
    if (seen->choices[i].kind == kind && seen->choices[i].index == index)
      return seen->choices[i].value;
  return -1;
}

/* Two worlds that differ in nothing that both chose but this one choice: then something that they extend to is the same
 * but for it. */
static gboolean
differ_in_one (const PmSeen *a, const PmSeen *b, const PmChoice *choice)
{
  for (guint i = 0; i < a->n_choices; i++) {
    const PmChoice *mine = &a->choices[i];
    int other = pm_seen_choice (b, mine->kind, mine->index);
    gboolean this = mine->kind == choice->kind && mine->index == choice->index;
    if (other >= 0 && (other != mine->value) != this)
      return FALSE;
  }
  return TRUE;
}

gboolean
pm_seen_flip_in_a_pair (const GArray *seen, guint32 lamps, gboolean shown_only, const PmChoice *choice)
{
  for (guint i = 0; i < seen->len && seen->len <= MOST_IN_PAIRS; i++) {
    const PmSeen *a = &g_array_index (seen, PmSeen, i);
    if (pm_seen_choice (a, choice->kind, choice->index) < 0 || (shown_only && !pm_seen_is_shown (a)))
      continue;
    for (guint k = 0; k < i; k++) {
      const PmSeen *b = &g_array_index (seen, PmSeen, k);
      if (((a->lamps ^ b->lamps) & lamps) != 0 && pm_seen_choice (b, choice->kind, choice->index) >= 0 &&
          (!shown_only || pm_seen_is_shown (b)) && differ_in_one (a, b, choice))
        return TRUE;
    }
  }
  return FALSE;
}

/* Which outcomes of the lamps asked about are seen with a choice at each value: differing sets mean that the result
 * hangs on it. */
gboolean
pm_seen_flip_matters (const GArray *seen, guint32 lamps, gboolean shown_only, const PmChoice *choice)
{
  g_autoptr (GHashTable) low = g_hash_table_new (NULL, NULL), high = g_hash_table_new (NULL, NULL);
  GHashTable *of[2] = {low, high};
  for (guint i = 0; i < seen->len; i++) {
    const PmSeen *world = &g_array_index (seen, PmSeen, i);
    int value = pm_seen_choice (world, choice->kind, choice->index);
    if (value < 0 || (shown_only && !pm_seen_is_shown (world)))
      continue;
    g_hash_table_add (of[value > 0], GUINT_TO_POINTER (world->lamps & lamps));
  }
  if (g_hash_table_size (of[0]) == 0 || g_hash_table_size (of[1]) == 0)
    return FALSE;
  if (g_hash_table_size (of[0]) != g_hash_table_size (of[1]))
    return TRUE;
  GHashTableIter iter;
  gpointer key;
  g_hash_table_iter_init (&iter, of[0]);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    if (!g_hash_table_contains (of[1], key))
      return TRUE;
  return FALSE;
}

gboolean
pm_seen_hangs_on (const GArray *seen, guint32 lamps, gboolean shown_only, PmChoice *out)
{
  gboolean differ = FALSE;
  for (guint i = 1; i < seen->len && !differ; i++)
    differ = (g_array_index (seen, PmSeen, i).lamps & lamps) != (g_array_index (seen, PmSeen, 0).lamps & lamps);
  if (!differ)
    return FALSE;
  for (guint i = 0; i < seen->len; i++) {
    const PmSeen *world = &g_array_index (seen, PmSeen, i);
    for (guint k = 0; k < world->n_choices; k++)
      if (pm_seen_flip_matters (seen, lamps, shown_only, &world->choices[k])) {
        *out = world->choices[k];
        return TRUE;
      }
  }
  for (guint i = 0; i < seen->len; i++) {
    const PmSeen *world = &g_array_index (seen, PmSeen, i);
    for (guint k = 0; k < world->n_choices; k++)
      if (pm_seen_flip_in_a_pair (seen, lamps, shown_only, &world->choices[k])) {
        *out = world->choices[k];
        return TRUE;
      }
  }
  return FALSE;
}

gboolean
pm_line_serves (const PmBoard *board, const PmLine *line, const char *does, guint unit)
{
  return g_strcmp0 (line->does, does) == 0 && (line->unit < 0 || (guint) line->unit == board->host.units[unit].number);
}

static gboolean
answers_look_at (const PmDrive *drive, guint32 place)
{
  for (guint a = 0; a < drive->n_answers; a++)
    for (guint w = 0; w < drive->answers[a].n_whens; w++)
      if (drive->answers[a].whens[w].place == place)
        return TRUE;
  return FALSE;
}

/* TRUE if every side line that the drive itself needs for answering is on in this world, as far as it was read. */
static gboolean
own_needs_on (const PmSurvey *survey, const PmSeen *world, guint unit, const PmDrive *drive)
{
  const PmBoard *board = survey->t->board;
  for (guint n = 0; n < drive->n_needs; n++) {
    if (!answers_look_at (drive, drive->needs[n].place))
      continue;
    for (guint i = 0; i < survey->side_lines->len; i++) {
      guint l = g_array_index (survey->side_lines, guint, i);
      const PmLine *line = &board->host.lines[l];
      if (!pm_line_serves (board, line, drive->needs[n].does, unit))
        continue;
      int value = pm_seen_choice (world, PM_CHOICE_SOURCE, pm_survey_line_source (survey, l));
      if (value >= 0 && (value == 1) == line->asserted_low)
        return FALSE;
    }
  }
  return TRUE;
}

static gboolean
is_side_line (const PmSurvey *survey, const PmChoice *choice, guint *line)
{
  if (choice->kind != PM_CHOICE_SOURCE)
    return FALSE;
  for (guint i = 0; i < survey->side_lines->len; i++) {
    *line = g_array_index (survey->side_lines, guint, i);
    if (pm_survey_line_source (survey, *line) == choice->index)
      return TRUE;
  }
  return FALSE;
}

static gboolean
any_restless (const GArray *seen)
{
  for (guint i = 0; i < seen->len; i++)
    if (g_array_index (seen, PmSeen, i).never_settles)
      return TRUE;
  return FALSE;
}

static void
judge_cell (PmSurvey *survey, guint spec, guint s, guint unit, guint d, PmCell *cell)
{
  const GArray *seen = survey->of[spec].seen[s];
  const PmDrive *drive = &survey->t->board->drives[d];
  if (seen == NULL)
    return;
  g_autoptr (GArray) alone = g_array_new (FALSE, FALSE, sizeof (PmSeen));
  gboolean decided = !survey->of[spec].not_decided;
  if (!decided) { /* all lamps at once hang on too much; this one alone may not */
    survey->lamps_asked = 1u << d;
    decided = pm_survey_ask (survey, spec, s, NULL, NULL, 0, FALSE, NULL, 0, alone);
    survey->lamps_asked = G_MAXUINT32;
    seen = alone;
  }
  if (!decided) {
    cell->answer = PM_ANSWER_NOT_DECIDED;
    return;
  }
  g_autoptr (GArray) counted = g_array_new (FALSE, FALSE, sizeof (PmSeen));
  guint on = 0;
  gboolean unjudged = FALSE;
  for (guint i = 0; i < seen->len; i++) {
    const PmSeen *world = &g_array_index (seen, PmSeen, i);
    if (!pm_seen_is_shown (world) || !own_needs_on (survey, world, unit, drive))
      continue;
    g_array_append_vals (counted, world, 1);
    on += world->lamps >> d & 1;
    unjudged |= world->unjudged;
  }
  if (unjudged && on < counted->len)
    cell->answer = PM_ANSWER_NOT_DECIDED;
  else if (on == 0)
    cell->answer = PM_ANSWER_NEVER;
  else if (on == counted->len)
    cell->answer = PM_ANSWER_YES;
  else {
    PmChoice choice;
    guint line;
    cell->answer = PM_ANSWER_MAY;
    if (!pm_seen_hangs_on (counted, 1u << d, FALSE, &choice))
      return;
    if (is_side_line (survey, &choice, &line)) {
      cell->answer = PM_ANSWER_DEPENDS;
      gboolean with = FALSE; /* on while the line is on, or while it is off */
      for (guint i = 0; i < counted->len && !with; i++) {
        const PmSeen *world = &g_array_index (counted, PmSeen, i);
        int value = pm_seen_choice (world, choice.kind, choice.index);
        with = (world->lamps >> d & 1) && value >= 0 && (value == 0) == survey->t->board->host.lines[line].asserted_low;
      }
      const char *name = survey->t->board->host.lines[line].name;
      cell->only = g_strdup_printf (with ? _("with %s on") : _("with %s off"), name);
      cell->on = g_strdup_printf (with ? _("%s with %s") : _("%s without %s"),
                                  survey->t->board->host.units[unit].name, name);
    } else
      cell->on = choice.kind == PM_CHOICE_INPUT && any_restless (counted) ? g_strdup (_("a loop that never settles"))
                                                                          : pm_name_choice (survey->t, &choice);
  }
}

static PmDriveMark
mark_of_unreached (PmSurvey *survey, guint spec, guint d)
{
  const PmDrive *drive = &survey->t->board->drives[d];
  gboolean held = TRUE, floats = FALSE;
  for (guint s = 0; s < survey->states->len; s++) {
    PmHostStateKind kind = g_array_index (survey->states, PmHostState, s).kind;
    if (survey->of[spec].seen[s] == NULL || kind == PM_STATE_PAIR)
      continue;
    PmAsk asks[8];
    guint n = 0;
    for (guint a = 0; a < drive->n_answers; a++)
      for (guint w = 0; w < drive->answers[a].n_whens && n < 8; w++)
        asks[n++] = (PmAsk) {PM_ASK_LEVEL, drive->answers[a].whens[w].place};
    g_autoptr (GArray) out = g_array_new (FALSE, FALSE, sizeof (PmSeen));
    pm_survey_ask (survey, spec, s, NULL, NULL, 0, FALSE, asks, n, out);
    for (guint i = 0; i < out->len; i++) {
      const PmSeen *world = &g_array_index (out, PmSeen, i);
      gboolean driven_off = FALSE;
      guint k = 0;
      for (guint a = 0; a < drive->n_answers; a++)
        for (guint w = 0; w < drive->answers[a].n_whens && k < n; w++, k++) {
          guint8 level = world->answers[k];
          floats |= level == PM_LEVEL_OFF || level == PM_LEVEL_BETWEEN;
          driven_off |= level == (drive->answers[a].whens[w].high ? PM_LEVEL_LOW : PM_LEVEL_HIGH);
        }
      held &= driven_off;
    }
  }
  return floats ? PM_DRIVE_FLOATS : held ? PM_DRIVE_HELD : PM_DRIVE_UNREACHED;
}

static PmDriveMark
judge_mark (PmSurvey *survey, guint spec, guint d, const PmCaseResult *result)
{
  const PmBoard *board = survey->t->board;
  guint idle = pm_survey_state (survey, PM_STATE_IDLE, 0), first = PM_NONE;
  gboolean reached = FALSE, unsure = FALSE;
  for (guint s = 0; s < survey->states->len && first == PM_NONE; s++)
    if (survey->of[spec].seen[s] != NULL)
      first = s;
  if (first == PM_NONE)
    return PM_DRIVE_UNREACHED;
  pm_survey_bind (survey, spec, first);
  if (!pm_bound_powered (survey->bound, survey->t->lamp_section[d]))
    return PM_DRIVE_NO_POWER;
  const GArray *seen = survey->of[spec].seen[idle != PM_NONE && survey->of[spec].seen[idle] != NULL ? idle : first];
  if (idle != PM_NONE || first >= board->host.n_units) {
    gboolean always = seen->len > 0;
    for (guint i = 0; i < seen->len; i++)
      always &= g_array_index (seen, PmSeen, i).lamps >> d & 1;
    if (always)
      return PM_DRIVE_ALWAYS;
  }
  for (guint u = 0; u < board->host.n_units; u++) {
    PmAnswer answer = result->cells[u * board->n_drives + d].answer;
    reached |= answer == PM_ANSWER_YES;
    unsure |= answer == PM_ANSWER_MAY || answer == PM_ANSWER_DEPENDS || answer == PM_ANSWER_NOT_DECIDED;
  }
  if (reached)
    return PM_DRIVE_REACHED;
  PmDriveMark mark = mark_of_unreached (survey, spec, d);
  return mark == PM_DRIVE_FLOATS ? mark : unsure ? PM_DRIVE_NOT_CERTAIN : mark;
}

static void
add_side (PmCaseResult *result, const PmBoard *board, const char *does, guint drive, guint unit, PmSide side,
          int with_drive)
{
  result->sides = g_renew (PmSideLine, result->sides, result->n_sides + 1);
  PmSideLine *line = &result->sides[result->n_sides++];
  *line = (PmSideLine) {g_strdup (does), drive, unit, side, NULL};
  const char *other = with_drive >= 0 ? pm_name_drive (board, with_drive) : NULL;
  switch (side) {
  case PM_SIDE_FOLLOWS: line->text = g_strdup_printf (_("%s goes along"), does); break;
  case PM_SIDE_STAYS:
    line->text = other != NULL ? g_strdup_printf (_("%s stays with %s"), does, other)
                               : g_strdup_printf (_("%s does not go along"), does);
    break;
  case PM_SIDE_HELD:
    line->text = other != NULL ? g_strdup_printf (_("%s is held by %s"), does, other)
                               : g_strdup_printf (_("%s is held"), does);
    break;
  case PM_SIDE_NOT_CERTAIN: line->text = g_strdup_printf (_("%s not certain"), does); break;
  default: line->text = g_strdup_printf (_("%s not judged"), does); break;
  }
}

/* How place reads in the worlds in which the drive answers: mask of 1 (reads 0) and 2 (reads 1). */
static guint
readings (const GArray *out, guint d, guint ask)
{
  guint mask = 0;
  for (guint i = 0; i < out->len; i++) {
    const PmSeen *world = &g_array_index (out, PmSeen, i);
    if ((world->lamps >> d & 1) && pm_seen_is_shown (world))
      mask |= world->answers[ask] ? 2 : 1;
  }
  return mask;
}

/* TRUE if something else than lines and drives is unknown in these worlds: then a reading that varies is not certain,
 * else it follows another line. */
static gboolean
anything_unknown (const GArray *out)
{
  for (guint i = 0; i < out->len; i++) {
    const PmSeen *world = &g_array_index (out, PmSeen, i);
    for (guint k = 0; k < world->n_choices; k++)
      if (world->choices[k].kind != PM_CHOICE_SOURCE && world->choices[k].kind != PM_CHOICE_BIT)
        return TRUE;
  }
  return FALSE;
}

/* Which of the other drives a line towards the drives goes to instead, or -1. */
static int
goes_to_instead (PmSurvey *survey, guint spec, guint s, guint d, const char *does, const guint32 *forced,
                 const guint8 *on, const guint8 *off, guint n_forced)
{
  const PmBoard *board = survey->t->board;
  for (guint other = 0; other < board->n_drives; other++)
    for (guint n = 0; n < board->drives[other].n_needs; n++) {
      const PmNeeds *needs = &board->drives[other].needs[n];
      if (other == d || !g_str_equal (needs->does, does) || needs->place == PM_NONE)
        continue;
      PmAsk ask = {PM_ASK_READ, survey->t->input_of[needs->place]};
      g_autoptr (GArray) a = g_array_new (FALSE, FALSE, sizeof (PmSeen)),
                         b = g_array_new (FALSE, FALSE, sizeof (PmSeen));
      pm_survey_ask (survey, spec, s, forced, on, n_forced, FALSE, &ask, 1, a);
      pm_survey_ask (survey, spec, s, forced, off, n_forced, FALSE, &ask, 1, b);
      if (a->len > 0 && b->len > 0 &&
          g_array_index (a, PmSeen, 0).answers[0] != g_array_index (b, PmSeen, 0).answers[0])
        return (int) other;
    }
  return -1;
}

static void
judge_towards_drive (PmSurvey *survey, guint spec, guint s, guint u, guint d, const PmNeeds *needs,
                     PmCaseResult *result)
{
  const PmBoard *board = survey->t->board;
  guint32 forced[8];
  guint8 values[2][8];
  guint n = 0;
  gboolean latched = FALSE;
  for (guint i = 0; i < survey->side_lines->len && n < 8; i++) {
    guint l = g_array_index (survey->side_lines, guint, i);
    const PmLine *line = &board->host.lines[l];
    if (!pm_line_serves (board, line, needs->does, u))
      continue;
    forced[n] = pm_survey_line_source (survey, l);
    values[0][n] = pm_survey_value_at (line->asserted_low);
    values[1][n] = pm_survey_value_at (!line->asserted_low);
    latched |= line->latched_select;
    n++;
  }
  if (n == 0 || needs->place == PM_NONE)
    return;
  PmAsk ask = {PM_ASK_READ, survey->t->input_of[needs->place]};
  gboolean wrong = FALSE, right = FALSE;
  for (guint sense = 0; sense < 2; sense++) {
    g_autoptr (GArray) out = g_array_new (FALSE, FALSE, sizeof (PmSeen));
    if (!pm_survey_ask (survey, spec, s, forced, values[sense], n, latched, &ask, 1, out)) {
      add_side (result, board, needs->does, d, u, PM_SIDE_NOT_JUDGED, -1);
      return;
    }
    guint mask = readings (out, d, 0), good = (sense == 1) == needs->asserted_high ? 2 : 1;
    wrong |= (mask & ~good) != 0;
    right |= (mask & good) != 0 && (mask & ~good) != 0 && anything_unknown (out);
  }
  int other = wrong ? goes_to_instead (survey, spec, s, d, needs->does, forced, values[1], values[0], n) : -1;
  add_side (result, board, needs->does, d, u,
            !wrong  ? PM_SIDE_FOLLOWS
            : right ? PM_SIDE_NOT_CERTAIN
                    : PM_SIDE_STAYS,
            other);
}

/* A drive that says something on the line all the time and shares it: it holds the line. */
static int
who_holds (PmSurvey *survey, guint d, guint32 line_place)
{
  const PmTranslation *t = survey->t;
  for (guint g = 0; g < t->gives->len; g++) {
    const PmGivesInfo *info = &g_array_index (t->gives, PmGivesInfo, g);
    const PmGives *gives = &t->board->drives[info->drive].gives[info->gives];
    if (info->drive == d || gives->while_ != PM_WHILE_ALWAYS)
      continue;
    if (pm_bound_net (survey->bound, info->place) == pm_bound_net (survey->bound, line_place))
      return (int) info->drive;
  }
  return -1;
}

static void
judge_towards_host (PmSurvey *survey, guint spec, guint s, guint u, const PmGivesInfo *info, const PmLine *line,
                    PmCaseResult *result)
{
  const PmBoard *board = survey->t->board;
  PmAsk ask = {PM_ASK_READ, survey->t->input_of[line->place]};
  guint mask[2];
  int holder = -1;
  const char *does = board->drives[info->drive].gives[info->gives].does;
  for (guint8 asserted = 0; asserted < 2; asserted++) {
    guint8 value = asserted ? PM_SOURCE_HIGH : PM_SOURCE_LOW;
    g_autoptr (GArray) out = g_array_new (FALSE, FALSE, sizeof (PmSeen));
    if (!pm_survey_ask (survey, spec, s, &info->source, &value, 1, FALSE, &ask, 1, out)) {
      add_side (result, board, does, info->drive, u, PM_SIDE_NOT_JUDGED, -1);
      return;
    }
    mask[asserted] = readings (out, info->drive, 0);
    if (holder < 0)
      holder = who_holds (survey, info->drive, line->place);
  }
  guint good = line->asserted_low ? 1 : 2;
  gboolean follows = mask[1] == good && mask[0] == (3 ^ good);
  gboolean certain = (mask[0] == 1 || mask[0] == 2) && (mask[1] == 1 || mask[1] == 2);
  PmSide side = follows ? PM_SIDE_FOLLOWS : holder >= 0 ? PM_SIDE_HELD : certain ? PM_SIDE_STAYS : PM_SIDE_NOT_CERTAIN;
  add_side (result, board, does, info->drive, u, side, follows ? -1 : holder);
}

static void
judge_sides (PmSurvey *survey, guint spec, guint u, guint d, PmCaseResult *result)
{
  const PmTranslation *t = survey->t;
  const PmBoard *board = t->board;
  const PmDrive *drive = &board->drives[d];
  guint s = pm_survey_state (survey, PM_STATE_SINGLE, u);
  for (guint n = 0; n < drive->n_needs; n++)
    judge_towards_drive (survey, spec, s, u, d, &drive->needs[n], result);
  for (guint g = 0; g < t->gives->len; g++) {
    const PmGivesInfo *info = &g_array_index (t->gives, PmGivesInfo, g);
    for (guint l = 0; l < board->host.n_lines && info->drive == d; l++) {
      const char *does = drive->gives[info->gives].does;
      if (!board->host.lines[l].reads || !pm_line_serves (board, &board->host.lines[l], does, u))
        continue;
      if (drive->gives[info->gives].holds < 0) {
        judge_towards_host (survey, spec, s, u, info, &board->host.lines[l], result);
        continue;
      }
      /* A drive that holds its line tells nothing on it; it may have it to itself, but not share it with another. */
      PmBound *bound = pm_survey_bind (survey, spec, s);
      int holder = who_holds (survey, d, info->place);
      if (holder >= 0 && pm_bound_net (bound, info->place) == pm_bound_net (bound, board->host.lines[l].place))
        add_side (result, board, does, d, u, PM_SIDE_HELD, holder);
    }
  }
}

/* Side lines mean something only for a drive that answers alone. */
static gboolean
only_one_answers (const PmCaseResult *result, guint n_drives, guint unit)
{
  guint n = 0;
  for (guint d = 0; d < n_drives; d++)
    n += result->cells[unit * n_drives + d].answer != PM_ANSWER_NEVER;
  return n == 1;
}

void
pm_routes_judge (PmSurvey *survey, guint spec, gboolean with_sides, PmCaseResult *out)
{
  const PmBoard *board = survey->t->board;
  guint n_units = board->host.n_units, n_drives = board->n_drives;
  out->cells = g_new0 (PmCell, MAX (n_units * n_drives, 1));
  out->collides = g_new0 (gboolean, MAX (n_units, 1));
  out->marks = g_new0 (PmDriveMark, MAX (n_drives, 1));
  for (guint u = 0; u < n_units; u++) {
    guint s = pm_survey_state (survey, PM_STATE_SINGLE, u);
    for (guint d = 0; d < n_drives && s != PM_NONE; d++)
      judge_cell (survey, spec, s, u, d, &out->cells[u * n_drives + d]);
    for (guint i = 0; i < survey->of[spec].clashes->len; i++)
      out->collides[u] |= g_array_index (survey->of[spec].clashes, PmClash, i).state == s;
  }
  for (guint d = 0; d < n_drives; d++)
    out->marks[d] = judge_mark (survey, spec, d, out);
  for (guint u = 0; u < n_units && with_sides; u++)
    for (guint d = 0; d < n_drives && only_one_answers (out, n_drives, u); d++)
      if (out->cells[u * n_drives + d].answer == PM_ANSWER_YES)
        judge_sides (survey, spec, u, d, out);
}

void
pm_case_result_clear (PmCaseResult *result)
{
  g_free (result->name);
  g_free (result->title);
  g_free (result->positions);
  g_free (result->collides);
  g_free (result->marks);
  for (guint i = 0; i < result->n_sides; i++) {
    g_free (result->sides[i].does);
    g_free (result->sides[i].text);
  }
  g_free (result->sides);
  g_clear_pointer (&result->findings, g_array_unref);
  g_free (result->caption);
  g_free (result->verdict);
  g_free (result->changed);
  g_free (result->side_text);
}
