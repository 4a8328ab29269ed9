/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the owner wants of each setting, what must never be, what is accepted. */
#include "config.h"
#include "pm-board-private.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

/* Switches in the order that names are looked for: those moved by hand first. */
static PmSwitch *
switch_at (const PmBuild *build, guint i)
{
  return &g_array_index (build->switches, PmSwitch, i);
}

static guint32
position_of (const PmSwitch *lever, const char *word)
{
  for (guint i = 0; i < lever->n_positions; i++)
    if (strcmp (lever->positions[i].name, word) == 0)
      return i;
  for (guint i = 0; lever->moved == PM_MOVED_ONCE && i < lever->n_positions; i++)
    if (g_strcmp0 (lever->positions[i].title, word) == 0)
      return i;
  return PM_NONE;
}

/* "S1", "host.S1", or "S1" where only the host has it. */
static guint32
find_switch (const PmBuild *build, const char *name)
{
  gsize n = strlen (name);

  for (guint i = 0; i < build->switches->len; i++)
    if (strcmp (switch_at (build, i)->name, name) == 0)
      return i;
  for (guint i = 0; i < build->switches->len; i++) {
    gsize whole = strlen (switch_at (build, i)->name);
    const char *tail = switch_at (build, i)->name + (whole > n ? whole - n : 0);
    if (whole > n + 1 && tail[-1] == '.' && strcmp (tail, name) == 0)
      return i;
  }
  return PM_NONE;
}

static void
add_names (const PmSwitch *lever, GPtrArray *names)
{
  for (guint i = 0; i < lever->n_positions; i++)
    g_ptr_array_add (names, lever->positions[i].name);
}

static char *
positions_text (const PmSwitch *lever)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < lever->n_positions; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? ", " : "", lever->positions[i].name);
  return g_string_free (text, FALSE);
}

static void
no_position (PmBuild *build, const char *text, const PmSwitch *lever, const char *word, PmSpot spot)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  g_autofree char *list = positions_text (lever);

  add_names (lever, names);
  const char *near = pm_nearest (word, (const char *const *)names->pdata, names->len);
  if (near != NULL)
    pm_faults_add (build->faults, spot, _("setting \"%s\": %s has the positions %s. Did you mean %s?"), text,
                   lever->name, list, near);
  else
    pm_faults_add (build->faults, spot, _("setting \"%s\": %s has the positions %s."), text, lever->name, list);
}

/* A bare word that no switch has as a position. */
static void
no_word (PmBuild *build, const char *text, const char *word, PmSpot spot)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  GString *list = g_string_new (NULL);
  const PmSwitch *only = NULL;
  guint n_hand = 0;

  for (guint i = 0; i < build->switches->len; i++)
    if (switch_at (build, i)->moved == PM_MOVED_BY_HAND) {
      g_autofree char *positions = positions_text (switch_at (build, i));
      g_string_append_printf (list, "%s%s: %s", list->len > 0 ? "; " : "", switch_at (build, i)->name, positions);
      add_names (switch_at (build, i), names);
      only = switch_at (build, i);
      n_hand++;
    }
  const char *near = pm_nearest (word, (const char *const *)names->pdata, names->len);
  if (n_hand == 1)
    no_position (build, text, only, word, spot);
  else if (n_hand == 0)
    pm_faults_add (build->faults, spot,
                   _("setting \"%s\": there is no switch that is moved by hand. Leave setting= out."), text);
  else if (near != NULL)
    pm_faults_add (build->faults, spot,
                   _("setting \"%s\": no switch has a position \"%s\". There are %s. Did you mean %s?"), text, word,
                   list->str, near);
  else
    pm_faults_add (build->faults, spot, _("setting \"%s\": no switch has a position \"%s\". There are %s."), text,
                   word, list->str);
  g_string_free (list, TRUE);
}

static void
no_switch (PmBuild *build, const char *text, const char *name, PmSpot spot)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  if (g_hash_table_contains (build->broken, name))
    return;
  for (guint i = 0; i < build->switches->len; i++)
    g_ptr_array_add (names, switch_at (build, i)->name);
  const char *near = strlen (name) > 2 ? pm_nearest (name, (const char *const *)names->pdata, names->len) : NULL;
  g_ptr_array_add (names, NULL);
  g_autofree char *list = g_strjoinv (" ", (char **)names->pdata);
  if (near != NULL)
    pm_faults_add (build->faults, spot,
                   _("setting \"%s\": there is no switch \"%s\". There are: %s. Did you mean %s?"), text, name, list,
                   near);
  else
    pm_faults_add (build->faults, spot, _("setting \"%s\": there is no switch \"%s\". There are: %s."), text, name,
                   list);
}

static gboolean
set_position (PmBuild *build, const char *text, int *positions, guint lever, guint32 position, PmSpot spot)
{
  if (positions[lever] >= 0 && positions[lever] != (int)position) {
    pm_faults_add (build->faults, spot, _("setting \"%s\": %s cannot be in two positions at once. Take one out."),
                   text, switch_at (build, lever)->name);
    return FALSE;
  }
  positions[lever] = position;
  return TRUE;
}

static gboolean
bare_position (PmBuild *build, const char *text, const char *word, int *positions, PmSpot spot)
{
  for (PmMoved moved = PM_MOVED_BY_HAND; moved <= PM_MOVED_ONCE; moved++) {
    guint32 found = PM_NONE, position = PM_NONE;
    for (guint i = 0; i < build->switches->len; i++) {
      guint32 at = switch_at (build, i)->moved == moved ? position_of (switch_at (build, i), word) : PM_NONE;
      if (at == PM_NONE)
        continue;
      if (found != PM_NONE) {
        const char *first = switch_at (build, found)->name, *second = switch_at (build, i)->name;
        pm_faults_add (build->faults, spot,
                       _("setting \"%s\": %s and %s both have a position %s. Write %s=%s or %s=%s."), text, first,
                       second, word, first, word, second, word);
        return FALSE;
      }
      found = i;
      position = at;
    }
    if (found != PM_NONE)
      return set_position (build, text, positions, found, position, spot);
  }
  /* Where a switch could not be read, nobody knows its positions. */
  if (!build->lost_switch)
    no_word (build, text, word, spot);
  return FALSE;
}

static gboolean
named_position (PmBuild *build, const char *text, const char *word, int *positions, PmSpot spot)
{
  const char *equals = strchr (word, '=');
  g_autofree char *name = g_strndup (word, equals - word);
  guint32 lever = find_switch (build, name);

  if (lever == PM_NONE) {
    no_switch (build, text, name, spot);
    return FALSE;
  }
  if (strcmp (equals + 1, "any") == 0)
    return TRUE;
  guint32 position = position_of (switch_at (build, lever), equals + 1);
  if (position == PM_NONE) {
    no_position (build, text, switch_at (build, lever), equals + 1, spot);
    return FALSE;
  }
  return set_position (build, text, positions, lever, position, spot);
}

/* "S1=inside S2=any", "inside", "S1 removed". FALSE after a fault. */
static gboolean
read_setting (PmBuild *build, const char *text, int *positions, guint32 *removed, PmSpot spot)
{
  g_auto (GStrv) words = pm_split_words (text);
  gboolean good = TRUE;

  *removed = PM_NONE;
  for (guint i = 0; i < build->switches->len; i++)
    positions[i] = -1;
  for (guint i = 0; words[i] != NULL; i++) {
    if (words[i + 1] != NULL && strcmp (words[i + 1], "removed") == 0) {
      guint32 lever = find_switch (build, words[i]);
      if (lever == PM_NONE) {
        no_switch (build, text, words[i], spot);
        good = FALSE;
      } else if (switch_at (build, lever)->mating == PM_NONE) {
        pm_faults_add (build->faults, spot,
                       _("setting \"%s\": %s cannot be removed. Give it into=\"…\" removable=\"yes\"."), text,
                       words[i]);
        good = FALSE;
      }
      *removed = lever;
      i++;
    } else if (strchr (words[i], '=') != NULL) {
      good = named_position (build, text, words[i], positions, spot) && good;
    } else {
      good = bare_position (build, text, words[i], positions, spot) && good;
    }
  }
  return good;
}

static guint32
find_unit (const PmHost *host, const char *word)
{
  for (guint i = 0; i < host->n_units; i++)
    if (strcmp (host->units[i].name, word) == 0)
      return i;
  for (guint i = 0; i < host->n_units; i++)
    if (*word != '\0' && word[strspn (word, "0123456789")] == '\0' && strlen (word) < 6 &&
        (guint)atoi (word) == host->units[i].number)
      return i;
  return PM_NONE;
}

static void
no_unit (PmBuild *build, const char *word, PmSpot spot)
{
  const PmHost *host = &build->board->host;
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  if (build->host == NULL)
    return;
  for (guint i = 0; i < host->n_units; i++)
    g_ptr_array_add (names, host->units[i].name);
  const char *near = pm_nearest (word, (const char *const *)names->pdata, names->len);
  g_ptr_array_add (names, NULL);
  g_autofree char *list = g_strjoinv (", ", (char **)names->pdata);
  if (near != NULL)
    pm_faults_add (build->faults, spot, _("%s has no select \"%s\". It has %s. Did you mean %s?"), host->title, word,
                   list, near);
  else
    pm_faults_add (build->faults, spot, _("%s has no select \"%s\". It has %s."), host->title, word, list);
}

static gboolean
find_drive (PmBuild *build, const char *word, PmWantCell *cell, PmSpot spot)
{
  const PmBoard *board = build->board;
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  if (strcmp (word, "none") == 0 || strcmp (word, "nothing") == 0) {
    cell->want = PM_WANT_NOTHING;
    return TRUE;
  }
  if (strcmp (word, "any") == 0) {
    cell->want = PM_WANT_ANY;
    return TRUE;
  }
  for (guint i = 0; i < board->n_drives; i++) {
    g_ptr_array_add (names, board->drives[i].name);
    if (strcmp (board->drives[i].name, word) == 0) {
      *cell = (PmWantCell){ PM_WANT_DRIVE, i };
      return TRUE;
    }
  }
  if (g_hash_table_contains (build->broken, word))
    return FALSE;
  const char *near = pm_nearest (word, (const char *const *)names->pdata, names->len);
  g_ptr_array_add (names, NULL);
  g_autofree char *list = g_strjoinv (", ", (char **)names->pdata);
  if (near != NULL)
    pm_faults_add (build->faults, spot, _("there is no drive \"%s\". There are %s; or none, any. Did you mean %s?"),
                   word, list, near);
  else
    pm_faults_add (build->faults, spot, _("there is no drive \"%s\". There are %s; or none, any."), word, list);
  return FALSE;
}

static void
read_cells (PmBuild *build, const PmXml *element, PmWanted *wanted)
{
  g_auto (GStrv) words = pm_split_words (element->text);
  PmSpot spot = pm_xml_spot (element);

  for (guint i = 0; words[i] != NULL; i++) {
    const char *equals = strchr (words[i], '=');
    if (equals == NULL) {
      pm_faults_add (build->faults, spot, _("\"%s\": write SELECT=DRIVE, such as SEL0=INSIDE, or SEL0=none."),
                     words[i]);
      continue;
    }
    g_autofree char *name = g_strndup (words[i], equals - words[i]);
    guint32 unit = find_unit (&build->board->host, name);
    PmWantCell cell = { PM_WANT_NOT_STATED, 0 };
    if (unit == PM_NONE) {
      no_unit (build, name, spot);
      continue;
    }
    if (!find_drive (build, equals + 1, &cell, spot))
      continue;
    if (wanted->units[unit].want != PM_WANT_NOT_STATED)
      pm_faults_add (build->faults, spot, _("%s is wanted twice in one setting. Take one out."), name);
    wanted->units[unit] = cell;
  }
}

static void
check_without (PmBuild *build, const PmWanted *wanted)
{
  const PmHost *host = &build->board->host;

  for (guint i = 0; wanted->without != NULL && wanted->without[i] != NULL && build->host != NULL; i++) {
    g_autoptr (GPtrArray) names = g_ptr_array_new ();
    gboolean found = FALSE;
    for (guint k = 0; k < host->n_lines; k++) {
      found = found || strcmp (host->lines[k].does, wanted->without[i]) == 0;
      if (strcmp (host->lines[k].does, "select") != 0)
        g_ptr_array_add (names, host->lines[k].does);
    }
    if (found)
      continue;
    const char *near = pm_nearest (wanted->without[i], (const char *const *)names->pdata, names->len);
    g_ptr_array_add (names, NULL);
    g_autofree char *list = g_strjoinv (", ", (char **)names->pdata);
    if (near != NULL)
      pm_faults_add (build->faults, wanted->spot,
                     _("without=\"%s\": no line of the machine does that. There are %s. Did you mean %s?"),
                     wanted->without[i], list, near);
    else
      pm_faults_add (build->faults, wanted->spot, _("without=\"%s\": no line of the machine does that. There are %s."),
                     wanted->without[i], list);
  }
}

typedef struct {
  const PmXml *element;
  PmWanted wanted;
  gboolean good;
  gboolean copied;
} RawWanted;

static gboolean
same_setting (const PmBuild *build, const PmWanted *a, const PmWanted *b)
{
  return a->removed == b->removed && memcmp (a->positions, b->positions, sizeof (int) * build->switches->len) == 0;
}

/* like="outside": the cells of the wanted of that setting, where this one says nothing itself. */
static void
copy_like (PmBuild *build, GArray *raws, guint index, guint depth)
{
  RawWanted *raw = &g_array_index (raws, RawWanted, index);
  const char *like = pm_xml_get (raw->element, "like");
  g_autofree int *positions = g_new (int, build->switches->len + 1);
  PmWanted target = { .positions = positions };

  if (like == NULL || raw->copied)
    return;
  if (depth > raws->len) {
    pm_faults_add (build->faults, raw->wanted.spot,
                   _("like=\"%s\" leads back to itself. Write the drives out in one of them."), like);
    raw->copied = TRUE;
    return;
  }
  if (!read_setting (build, like, positions, &target.removed, raw->wanted.spot)) {
    raw->copied = TRUE;
    return;
  }
  for (guint i = 0; i < raws->len; i++) {
    RawWanted *other = &g_array_index (raws, RawWanted, i);
    if (i == index || !other->good || !same_setting (build, &other->wanted, &target))
      continue;
    copy_like (build, raws, i, depth + 1);
    for (guint u = 0; u < build->board->host.n_units; u++)
      if (raw->wanted.units[u].want == PM_WANT_NOT_STATED)
        raw->wanted.units[u] = other->wanted.units[u];
    if (raw->wanted.without == NULL)
      raw->wanted.without = g_strdupv (other->wanted.without);
    raw->copied = TRUE;
    return;
  }
  raw->copied = TRUE;
  /* One whose setting could not be read may be the one that is meant. */
  for (guint i = 0; i < raws->len; i++)
    if (!g_array_index (raws, RawWanted, i).good)
      return;
  pm_faults_add (build->faults, raw->wanted.spot,
                 _("like=\"%s\": no <wanted> has that setting. Write one, or write the drives out here."), like);
}

static guint
weight (const PmBuild *build, const int *positions)
{
  guint n = 0;

  for (guint i = 0; i < build->switches->len; i++)
    n += positions[i] >= 0;
  return n;
}

/* The common settings of two wanted; FALSE if there are none. */
static gboolean
overlap (const PmBuild *build, const PmWanted *a, const PmWanted *b, int *common)
{
  if (a->removed != b->removed)
    return FALSE;
  for (guint i = 0; i < build->switches->len; i++) {
    if (a->positions[i] >= 0 && b->positions[i] >= 0 && a->positions[i] != b->positions[i])
      return FALSE;
    common[i] = MAX (a->positions[i], b->positions[i]);
  }
  return TRUE;
}

static gboolean
covers (const PmBuild *build, const PmWanted *wanted, guint32 removed, const int *settings)
{
  for (guint i = 0; i < build->switches->len; i++)
    if (wanted->positions[i] >= 0 && wanted->positions[i] != settings[i])
      return FALSE;
  return wanted->removed == removed;
}

/* Two that are equally specific and meet in some setting, with nothing more specific there, are a tie. */
static void
check_ties (PmBuild *build, GArray *raws)
{
  g_autofree int *common = g_new (int, build->switches->len + 1);

  for (guint i = 0; i < raws->len; i++)
    for (guint k = i + 1; k < raws->len; k++) {
      const RawWanted *a = &g_array_index (raws, RawWanted, i), *b = &g_array_index (raws, RawWanted, k);
      guint n = weight (build, a->wanted.positions);
      gboolean settled = FALSE;
      if (!a->good || !b->good || n != weight (build, b->wanted.positions) ||
          !overlap (build, &a->wanted, &b->wanted, common))
        continue;
      for (guint o = 0; o < raws->len && !settled; o++) {
        const RawWanted *other = &g_array_index (raws, RawWanted, o);
        settled = other->good && weight (build, other->wanted.positions) > n &&
                  covers (build, &other->wanted, a->wanted.removed, common);
      }
      if (settled)
        continue;
      PmSpot spot = a->wanted.spot;
      spot.other_line = b->wanted.spot.line;
      if (same_setting (build, &a->wanted, &b->wanted))
        pm_faults_add (build->faults, spot,
                       _("the setting \"%s\" is wanted twice. Put both into one, or take one out."), b->wanted.text);
      else
        pm_faults_add (build->faults, spot,
                       _("\"%s\" and \"%s\" both speak of the same setting, and neither is more specific. Name the "
                          "switch in both, or add a <wanted> for where they meet."),
                       a->wanted.text, b->wanted.text);
    }
}

static void
read_wanted (PmBuild *build)
{
  g_autoptr (GArray) raws = g_array_new (FALSE, TRUE, sizeof (RawWanted));
  PmBoard *board = build->board;

  for (const PmXml *child = build->root->children; child != NULL; child = child->next) {
    const char *setting = pm_xml_get (child, "setting"), *without = pm_xml_get (child, "without");
    RawWanted raw = { .element = child };
    if (!pm_xml_is (child, "wanted"))
      continue;
    raw.wanted.spot = pm_xml_spot (child);
    raw.wanted.text = g_strdup (setting != NULL ? setting : "");
    raw.wanted.positions = g_new (int, build->switches->len + 1);
    raw.wanted.units = g_new0 (PmWantCell, board->host.n_units + 1);
    raw.wanted.without = without != NULL ? pm_split_words (without) : NULL;
    raw.good = read_setting (build, raw.wanted.text, raw.wanted.positions, &raw.wanted.removed, raw.wanted.spot);
    read_cells (build, child, &raw.wanted);
    check_without (build, &raw.wanted);
    if (pm_xml_get (child, "like") == NULL && child->text[strspn (child->text, " \t\r\n")] == '\0')
      pm_faults_add (build->faults, raw.wanted.spot,
                     _("this <wanted> says nothing. Write for example SEL0=INSIDE SEL1=none."));
    g_array_append_val (raws, raw);
  }
  for (guint i = 0; i < raws->len; i++)
    copy_like (build, raws, i, 0);
  check_ties (build, raws);
  board->n_wanted = raws->len;
  board->wanted = g_new (PmWanted, raws->len + 1);
  for (guint i = 0; i < raws->len; i++)
    board->wanted[i] = g_array_index (raws, RawWanted, i).wanted;
}

/* A finding may be of a part, a drive, a switch, a line or a unit as a whole. */
static gboolean
names_a_thing (const PmBuild *build, const char *name)
{
  const PmHost *host = &build->board->host;
  gboolean known = g_hash_table_contains (build->refs, name);
  for (guint l = 0; l < host->n_lines && !known; l++)
    known = g_strcmp0 (host->lines[l].name, name) == 0;
  for (guint u = 0; u < host->n_units && !known; u++)
    known = g_strcmp0 (host->units[u].name, name) == 0;
  return known;
}

void
pm_build_settings (PmBuild *build)
{
  GArray *nevers = g_array_new (FALSE, TRUE, sizeof (PmNever)), *accepts = g_array_new (FALSE, TRUE, sizeof (PmAccept));

  read_wanted (build);
  for (const PmXml *child = build->root->children; child != NULL; child = child->next) {
    if (pm_xml_is (child, "never") && pm_xml_get (child, "setting") != NULL) {
      PmNever never = { g_new (int, build->switches->len + 1), g_strdup (pm_xml_get (child, "because")),
                        pm_xml_spot (child) };
      guint32 removed;
      read_setting (build, pm_xml_get (child, "setting"), never.positions, &removed, never.spot);
      g_array_append_val (nevers, never);
    } else if (pm_xml_is (child, "accept")) {
      PmAccept accept = { g_strdup (pm_xml_get (child, "finding")), g_strdup (pm_xml_get (child, "at")),
                          g_strdup (pm_xml_get (child, "why")), pm_xml_spot (child) };
      if (accept.why == NULL)
        pm_faults_add (build->faults, accept.spot, _("<accept> needs its reason: why=\"…\"."));
      if (accept.at != NULL && !names_a_thing (build, accept.at))
        pm_build_place (build, &build->board_context, accept.at, accept.spot);
      g_array_append_val (accepts, accept);
    }
  }
  build->board->n_nevers = nevers->len;
  build->board->nevers = (PmNever *)g_array_free (nevers, FALSE);
  build->board->n_accepts = accepts->len;
  build->board->accepts = (PmAccept *)g_array_free (accepts, FALSE);
}
