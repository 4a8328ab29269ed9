/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cases of a board. One variation at a time, never multiplied. */
#include "config.h"
#include "pm-cases.h"
#include <glib/gi18n-lib.h>

/* States of a lever on its way: six poles, each old, new, open or both. */
#define MAX_WAYS 4096

static void
spec_free (PmCaseSpec *spec)
{
  g_free (spec->name);
  g_free (spec->title);
  g_free (spec->phrase);
  g_free (spec->positions);
  g_ptr_array_unref (spec->bindings);
  g_free (spec);
}

void
pm_cases_free (PmCases *cases)
{
  if (cases == NULL)
    return;
  g_ptr_array_unref (cases->specs);
  g_free (cases);
}

gboolean
pm_switch_is_by_hand (const PmSwitch *sw)
{
  return sw->moved == PM_MOVED_BY_HAND || sw->any;
}

const char *
pm_position_title (const PmSwitch *sw, int position)
{
  if (position < 0)
    return _("unplugged");
  const PmPosition *p = &sw->positions[position];
  return p->title != NULL && p->title[0] != '\0' ? p->title : p->name;
}

static void
set_mating (const PmTranslation *t, PmCase *state, guint m, gboolean there, gboolean turned)
{
  const PmMating *mating = &t->board->matings[m];
  for (guint k = 0; k < mating->n_pairs; k++)
    state->joints[t->mating_joint[m] + k] = there && !turned ? PM_JOINT_CLOSED : PM_JOINT_OPEN;
  for (guint k = 0; k < mating->n_turned; k++)
    state->joints[t->mating_joint[m] + mating->n_pairs + k] = there && turned ? PM_JOINT_CLOSED : PM_JOINT_OPEN;
}

static void
set_contacts (const PmTranslation *t, PmCase *state, guint sw, guint64 closed)
{
  for (guint i = 0; i < t->contacts[sw]->len; i++)
    state->joints[t->contact_joint[sw] + i] = (closed >> i & 1) ? PM_JOINT_CLOSED : PM_JOINT_OPEN;
}

static PmCase *
bind_positions (const PmTranslation *t, const int *positions, gboolean with_board)
{
  PmCase *state = pm_case_new (t->circuit);
  for (guint m = 0; m < t->board->n_matings; m++) {
    PmMatingWhen when = t->board->matings[m].when;
    if (when != PM_MATING_ALWAYS)
      set_mating (t, state, m, (when == PM_MATING_WITH_BOARD) == with_board, FALSE);
  }
  for (guint s = 0; s < t->board->n_switches; s++)
    set_contacts (t, state, s, positions[s] >= 0 ? pm_translation_closed (t, s, positions[s]) : 0);
  return state;
}

static PmCaseSpec *
spec_new (PmCases *cases, const PmTranslation *t, PmCaseKind kind, const int *positions, guint setting)
{
  PmCaseSpec *spec = g_new0 (PmCaseSpec, 1);
  spec->kind = kind;
  spec->positions = g_memdup2 (positions, sizeof (int) * MAX (t->board->n_switches, 1));
  spec->setting = setting;
  spec->sw = spec->mating = spec->supply = PM_NONE;
  spec->bindings = g_ptr_array_new_with_free_func ((GDestroyNotify) pm_case_free);
  g_ptr_array_add (cases->specs, spec);
  return spec;
}

static void
name_setting (const PmBoard *board, PmCaseSpec *spec)
{
  g_autoptr (GString) name = g_string_new (NULL), title = g_string_new (NULL);
  for (guint s = 0; s < board->n_switches; s++) {
    const PmSwitch *sw = &board->switches[s];
    if (!pm_switch_is_by_hand (sw))
      continue;
    const char *at = pm_position_title (sw, spec->positions[s]);
    g_string_append_printf (name, "%s%s", name->len > 0 ? ", " : "", at);
    g_string_append_printf (title, "%s%s: %s", title->len > 0 ? ", " : "", sw->title != NULL ? sw->title : sw->name,
                            at);
  }
  if (name->len == 0) {
    g_string_append (name, _("as it is"));
    g_string_append (title, _("As it is"));
  }
  spec->name = g_string_free (g_steal_pointer (&name), FALSE);
  spec->title = g_string_free (g_steal_pointer (&title), FALSE);
}

/* Counts through the product of the by-hand switches; FALSE when it wraps. */
static gboolean
next_setting (const PmBoard *board, int *positions)
{
  for (guint s = board->n_switches; s-- > 0;) {
    if (!pm_switch_is_by_hand (&board->switches[s]))
      continue;
    if ((guint) ++positions[s] < board->switches[s].n_positions)
      return TRUE;
    positions[s] = 0;
  }
  return FALSE;
}

static int *
usual_positions (const PmTranslation *t)
{
  int *positions = g_new0 (int, MAX (t->board->n_switches, 1));
  for (guint s = 0; s < t->board->n_switches; s++)
    positions[s] = (int) pm_translation_usual (t, s);
  return positions;
}

static gboolean
setting_is_never (const PmBoard *board, const int *positions)
{
  for (guint n = 0; n < board->n_nevers; n++) {
    gboolean match = TRUE;
    for (guint s = 0; s < board->n_switches && match; s++)
      match = board->nevers[n].positions[s] < 0 || board->nevers[n].positions[s] == positions[s];
    if (match)
      return TRUE;
  }
  return FALSE;
}

static void
add_settings (PmCases *cases, const PmTranslation *t)
{
  const PmBoard *board = t->board;
  g_autofree int *usual = usual_positions (t);
  g_autofree int *positions = usual_positions (t);
  for (guint s = 0; s < board->n_switches; s++)
    if (pm_switch_is_by_hand (&board->switches[s]))
      positions[s] = 0;
  do {
    if (setting_is_never (board, positions))
      continue;
    if (cases->n_settings >= PM_CASES_MAX_SETTINGS) {
      cases->too_many = TRUE;
      break;
    }
    guint index = cases->specs->len;
    PmCaseSpec *spec = spec_new (cases, t, PM_CASE_SETTING, positions, index);
    name_setting (board, spec);
    g_ptr_array_add (spec->bindings, bind_positions (t, positions, TRUE));
    cases->n_settings++;
    if (cases->usual == 0 || memcmp (positions, usual, sizeof (int) * board->n_switches) == 0)
      cases->usual = index;
  } while (next_setting (board, positions));
}

/* Poles: contacts that share a terminal, over all positions, move together. Returns the pole number of each contact. */
static guint
find_poles (const GArray *contacts, guint *pole)
{
  guint n = 0;
  for (guint i = 0; i < contacts->len; i++)
    pole[i] = i;
  for (gboolean moved = TRUE; moved;) {
    moved = FALSE;
    for (guint i = 0; i < contacts->len; i++)
      for (guint k = 0; k < i; k++) {
        PmPair a = g_array_index (contacts, PmPair, i), b = g_array_index (contacts, PmPair, k);
        if ((a.a == b.a || a.a == b.b || a.b == b.a || a.b == b.b) && pole[i] != pole[k]) {
          pole[i] = pole[k] = MIN (pole[i], pole[k]);
          moved = TRUE;
        }
      }
  }
  for (guint i = 0; i < contacts->len; i++) {
    gboolean first = pole[i] == i;
    for (guint k = 0; first && k < contacts->len; k++)
      if (pole[k] == i)
        pole[k] = n | 0x10000u;
    n += first;
  }
  for (guint i = 0; i < contacts->len; i++)
    pole[i] &= 0xffffu;
  return n;
}

/* Each pole old, new, open (break first) or both (make first); all combinations but the two ends. FALSE if the lever
 * has so many poles that they are more than can be tried. */
static gboolean
bind_moving (const PmTranslation *t, PmCaseSpec *spec, guint s, guint to)
{
  const PmSwitch *sw = &t->board->switches[s];
  g_autofree guint *pole = g_new0 (guint, MAX (t->contacts[s]->len, 1));
  guint n_poles = find_poles (t->contacts[s], pole), n_ways = 0;
  guint64 old = pm_translation_closed (t, s, spec->positions[s]), new = pm_translation_closed (t, s, to);
  enum { OLD, NEW, OPEN, BOTH } ways[4];
  ways[n_ways++] = OLD;
  ways[n_ways++] = NEW;
  if (sw->contacts != PM_CONTACTS_MAKE_FIRST)
    ways[n_ways++] = OPEN;
  if (sw->contacts != PM_CONTACTS_BREAK_FIRST)
    ways[n_ways++] = BOTH;
  guint total = 1;
  for (guint p = 0; p < n_poles && total <= MAX_WAYS; p++)
    total *= n_ways;
  if (total > MAX_WAYS)
    return FALSE;
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  for (guint c = 0; c < total; c++) {
    guint64 closed = 0;
    for (guint i = 0; i < t->contacts[s]->len; i++) {
      guint way = c;
      for (guint p = 0; p < pole[i]; p++)
        way /= n_ways;
      gboolean was = old >> i & 1, will = new >> i & 1;
      switch (ways[way % n_ways]) {
      case OLD: closed |= (guint64) was << i; break;
      case NEW: closed |= (guint64) will << i; break;
      case OPEN: closed |= (guint64) (was && will) << i; break;
      case BOTH: closed |= (guint64) (was || will) << i; break;
      }
    }
    if (closed == old || closed == new || !g_hash_table_add (seen, g_memdup2 (&closed, sizeof closed)))
      continue;
    PmCase *state = bind_positions (t, spec->positions, TRUE);
    set_contacts (t, state, s, closed);
    g_ptr_array_add (spec->bindings, state);
  }
  return TRUE;
}

static void
leave_out (const PmTranslation *t, PmCase *state, guint32 instance)
{
  if (instance == PM_NONE)
    return;
  for (guint s = 0; s < t->section_instance->len; s++)
    if (g_array_index (t->section_instance, guint32, s) == instance)
      state->sections[s] = FALSE;
}

static void
rails_off (const PmTranslation *t, PmCase *state, guint supply)
{
  for (guint r = 0; r < t->board->n_rails; r++)
    if (t->board->rails[r].supply == supply && t->board->rails[r].volts != 0)
      state->rails[t->rail_of[r]] = FALSE;
}

static const char *
mating_name (const PmBoard *board, guint m)
{
  for (guint s = 0; s < board->n_switches; s++)
    if (board->switches[s].mating == m)
      return board->switches[s].name;
  const PmMating *mating = &board->matings[m];
  const PmInstance *instance = &board->instances[mating->leaves_out != PM_NONE ? mating->leaves_out : mating->a];
  return instance->title != NULL ? instance->title : instance->ref;
}

/* One spec for a state of the whole; takes state. */
static PmCaseSpec *
add_variation (PmCases *cases, const PmTranslation *t, PmCaseKind kind, const PmCaseSpec *of, char *name, PmCase *state)
{
  PmCaseSpec *spec = spec_new (cases, t, kind, of->positions, of->setting);
  spec->title = g_strdup (name);
  spec->name = name;
  if (state != NULL)
    g_ptr_array_add (spec->bindings, state);
  return spec;
}

static void
add_moving (PmCases *cases, const PmTranslation *t, const PmCaseSpec *setting)
{
  for (guint s = 0; s < t->board->n_switches; s++) {
    const PmSwitch *sw = &t->board->switches[s];
    if (sw->moved != PM_MOVED_BY_HAND || sw->n_positions < 2)
      continue;
    PmCaseSpec *spec =
        add_variation (cases, t, PM_CASE_MOVING, setting, g_strdup_printf (_("moving %s"), sw->name), NULL);
    spec->sw = s;
    int at = setting->positions[s];
    for (int to = at - 1; to <= at + 1; to += 2)
      if (to >= 0 && (guint) to < sw->n_positions)
        cases->too_many |= !bind_moving (t, spec, s, to);
    spec->phrase = g_strdup_printf (_("while %s moves"), sw->name);
    if (spec->bindings->len == 0) /* a single throw has nothing between its ends */
      g_ptr_array_set_size (cases->specs, (int) cases->specs->len - 1);
  }
}

static void
add_matings (PmCases *cases, const PmTranslation *t, const PmCaseSpec *setting)
{
  const PmBoard *board = t->board;
  for (guint m = 0; m < board->n_matings; m++) {
    const PmMating *mating = &board->matings[m];
    guint32 sw = PM_NONE;
    for (guint s = 0; s < board->n_switches; s++)
      if (board->switches[s].mating == m)
        sw = s;
    if (mating->removable) {
      PmCase *state = bind_positions (t, setting->positions, TRUE);
      set_mating (t, state, m, FALSE, FALSE);
      leave_out (t, state, mating->leaves_out);
      PmCaseSpec *spec = add_variation (cases, t, PM_CASE_REMOVED, setting,
                                        g_strdup_printf (_("%s unplugged"), mating_name (board, m)), state);
      spec->mating = m;
      spec->sw = sw;
      spec->phrase = g_strdup_printf (_("with %s unplugged"), mating_name (board, m));
      if (sw != PM_NONE)
        spec->positions[sw] = -1;
    }
    if (mating->turns && mating->n_turned > 0) {
      PmCase *state = bind_positions (t, setting->positions, TRUE);
      set_mating (t, state, m, TRUE, TRUE);
      PmCaseSpec *spec = add_variation (cases, t, PM_CASE_TURNED, setting,
                                        g_strdup_printf (_("%s plug turned"), mating_name (board, m)), state);
      spec->mating = m;
      spec->sw = sw;
      spec->phrase = g_strdup_printf (_("with the plug of %s turned"), mating_name (board, m));
    }
  }
}

static void
add_supplies (PmCases *cases, const PmTranslation *t, const PmCaseSpec *setting, gboolean with_board)
{
  const PmBoard *board = t->board;
  gboolean others = FALSE;
  for (guint p = 0; p < board->n_supplies; p++) {
    if (board->supplies[p].owner == PM_SUPPLY_HOST)
      continue;
    others = TRUE;
    const PmSupply *supply = &board->supplies[p];
    const char *title = supply->owner == PM_SUPPLY_DRIVE ? board->drives[supply->owner_index].title : supply->title;
    PmCase *state = bind_positions (t, setting->positions, with_board);
    rails_off (t, state, p);
    PmCaseSpec *spec =
        add_variation (cases, t, PM_CASE_SUPPLY_OFF, setting,
                       g_strdup_printf (_("%s without power"), title != NULL ? title : supply->name), state);
    spec->supply = p;
    spec->phrase = g_strdup_printf (_("while %s has no power"), title != NULL ? title : supply->name);
    spec->baseline = !with_board;
  }
  PmCaseSpec *reset = add_variation (cases, t, PM_CASE_RESET, setting, g_strdup (_("reset")),
                                     bind_positions (t, setting->positions, with_board));
  reset->reset = TRUE;
  reset->phrase = g_strdup (_("in reset"));
  reset->baseline = !with_board;
  if (!others)
    return; /* with the machine off nothing at all has power */
  PmCase *state = bind_positions (t, setting->positions, with_board);
  for (guint p = 0; p < board->n_supplies; p++)
    if (board->supplies[p].owner == PM_SUPPLY_HOST)
      rails_off (t, state, p);
  PmCaseSpec *off = add_variation (cases, t, PM_CASE_HOST_OFF, setting, g_strdup (_("machine off, drives on")), state);
  off->host_off = TRUE;
  off->phrase = g_strdup (_("with the machine off"));
  off->baseline = !with_board;
}

static void
add_once (PmCases *cases, const PmTranslation *t)
{
  const PmCaseSpec *usual = g_ptr_array_index (cases->specs, cases->usual);
  for (guint s = 0; s < t->board->n_switches; s++) {
    const PmSwitch *sw = &t->board->switches[s];
    if (pm_switch_is_by_hand (sw))
      continue;
    for (guint p = 0; p < sw->n_positions; p++) {
      if (p == pm_translation_usual (t, s))
        continue;
      g_autofree int *positions = g_memdup2 (usual->positions, sizeof (int) * t->board->n_switches);
      positions[s] = (int) p;
      PmCaseSpec *spec = spec_new (cases, t, PM_CASE_ONCE, positions, cases->usual);
      spec->name = g_strdup_printf ("%s: %s", sw->title != NULL ? sw->title : sw->name, pm_position_title (sw, p));
      spec->title = g_strdup (spec->name);
      spec->sw = s;
      spec->position = p;
      g_ptr_array_add (spec->bindings, bind_positions (t, positions, TRUE));
    }
  }
}

#define POWER_CASES (PM_CASES_OF (PM_CASE_SUPPLY_OFF) | PM_CASES_OF (PM_CASE_RESET) | PM_CASES_OF (PM_CASE_HOST_OFF))

PmCases *
pm_cases_new (const PmTranslation *t, guint which)
{
  PmCases *cases = g_new0 (PmCases, 1);
  cases->specs = g_ptr_array_new_with_free_func ((GDestroyNotify) spec_free);
  g_autofree int *positions = usual_positions (t);
  PmCaseSpec *without = spec_new (cases, t, PM_CASE_WITHOUT_BOARD, positions, 0);
  without->name = g_strdup (_("without the board"));
  without->title = g_strdup (_("Without the board"));
  g_ptr_array_add (without->bindings, bind_positions (t, positions, FALSE));
  add_settings (cases, t);
  for (guint i = 1; i <= cases->n_settings; i++) {
    const PmCaseSpec *setting = g_ptr_array_index (cases->specs, i);
    if (which & PM_CASES_OF (PM_CASE_MOVING))
      add_moving (cases, t, setting);
    if (which & (PM_CASES_OF (PM_CASE_REMOVED) | PM_CASES_OF (PM_CASE_TURNED)))
      add_matings (cases, t, setting);
    if (which & POWER_CASES)
      add_supplies (cases, t, setting, TRUE);
  }
  if (which & PM_CASES_OF (PM_CASE_ONCE))
    add_once (cases, t);
  if (which & POWER_CASES)
    add_supplies (cases, t, without, FALSE);
  return cases;
}

PmCases *
pm_cases_once (const PmTranslation *t, const int *positions, guint setting)
{
  PmCases *cases = g_new0 (PmCases, 1);
  cases->specs = g_ptr_array_new_with_free_func ((GDestroyNotify) spec_free);
  PmCaseSpec *spec = spec_new (cases, t, PM_CASE_ONCE, positions, setting);
  g_ptr_array_add (spec->bindings, bind_positions (t, positions, TRUE));
  return cases;
}

const PmCaseSpec *
pm_cases_baseline (const PmCases *cases, const PmCaseSpec *spec)
{
  if (spec->kind != PM_CASE_SUPPLY_OFF && spec->kind != PM_CASE_RESET && spec->kind != PM_CASE_HOST_OFF)
    return g_ptr_array_index (cases->specs, 0);
  for (guint i = 0; i < cases->specs->len; i++) {
    const PmCaseSpec *other = g_ptr_array_index (cases->specs, i);
    if (other->baseline && other->kind == spec->kind && other->supply == spec->supply)
      return other;
  }
  return NULL;
}
