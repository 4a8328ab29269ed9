/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The host's lines and units, and what it never does. */
#include "config.h"
#include "pm-board-private.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#define MAX_UNIT 255

static const char *const level_names[] = { "low", "high", NULL };

guint32
pm_host_line (const PmHost *host, const char *name)
{
  for (guint i = 0; i < host->n_lines; i++)
    if (strcmp (host->lines[i].name, name) == 0)
      return i;
  return PM_NONE;
}

static void
read_line (PmBuild *build, const PmXml *element, GArray *lines)
{
  static const char *const drives[] = { "push-pull", "open-collector", "three-state", "weak-high", NULL };
  static const char *const reads[] = { "TTL", "CMOS", NULL };
  static const char *const rests[] = { "weak-high", "high", "low", "off", NULL };
  static const char *const latched[] = { "select", NULL };
  static const char *const power_on[] = { "asserted", "released", NULL };
  PmFaults *faults = build->faults;
  const char *name = pm_xml_get (element, "name"), *does = pm_xml_get (element, "does"),
             *at = pm_xml_get (element, "at");
  const char *family = pm_xml_get (element, "family");
  PmSpot spot = pm_xml_spot (element);
  PmLine line = { .unit = -1, .place = PM_NONE, .spot = spot };
  guint unit;

  if (name == NULL)
    name = does;
  if (name == NULL || does == NULL)
    return; /* told by the vocabulary */
  for (guint i = 0; i < lines->len; i++) {
    const PmLine *other = &g_array_index (lines, PmLine, i);
    if (strcmp (other->name, name) != 0)
      continue;
    spot.other_line = spot.line;
    spot.line = other->spot.line;
    pm_faults_add (faults, spot, _("the line \"%s\" is given twice. Rename one."), name);
    return;
  }
  line.name = g_strdup (name);
  line.does = g_strdup (does);
  if (pm_xml_number (element, "unit", 0, MAX_UNIT, &unit, faults))
    line.unit = unit;
  line.asserted_low = pm_xml_choice (element, "asserted", level_names, 0, faults) == 0;
  line.drives = pm_xml_choice (element, "drives", drives, -1, faults) + 1;
  int input = pm_xml_choice (element, "reads", reads, -1, faults);
  line.reads = input >= 0;
  line.in_reset = pm_xml_choice (element, "in-reset", rests, 0, faults);
  line.in_reset_stated = pm_xml_get (element, "in-reset") != NULL;
  line.latched_select = pm_xml_choice (element, "latched", latched, -1, faults) == 0;
  line.at_power_on = pm_xml_choice (element, "at-power-on", power_on, 1, faults) == 0;
  line.assumed = pm_xml_yes (element, "assumed", FALSE);
  if (line.drives == PM_LINE_DRIVES_NOTHING && !line.reads)
    pm_faults_add (faults, spot,
                   _("the line \"%s\" neither drives nor reads. Add drives=\"push-pull\" (or open-collector, "
                      "three-state, weak-high) or reads=\"TTL\"."),
                   name);
  if (family == NULL)
    family = line.drives != PM_LINE_DRIVES_NOTHING ? "NMOS" : input == 1 ? "HC" : "LS";
  line.family = pm_scope_family (&build->scope, family, spot, faults);
  if (at != NULL)
    line.place = pm_build_place (build, &build->host_context, at, spot);
  else if (strcmp (does, "reset") != 0)
    pm_faults_add (faults, spot, _("the line \"%s\" does not say at which pin it is. Add at=\"U7.11\"."), name);
  if (line.place != PM_NONE)
    build->mentioned->data[line.place] = TRUE;
  g_array_append_val (lines, line);
}

static PmUnit *
find_unit (GArray *units, guint number)
{
  for (guint i = 0; i < units->len; i++)
    if (g_array_index (units, PmUnit, i).number == number)
      return &g_array_index (units, PmUnit, i);
  return NULL;
}

static void
add_level (PmUnit *unit, guint line, gboolean high)
{
  unit->levels = g_renew (PmUnitLevel, unit->levels, unit->n_levels + 1);
  unit->levels[unit->n_levels++] = (PmUnitLevel){ line, high };
}

/* A select line with unit= is the short form of a unit with one level. */
static void
unit_of_line (PmBuild *build, const PmXml *element, guint index, GArray *units)
{
  const PmLine *line = &build->board->host.lines[index];
  const char *needs = pm_xml_get (element, "needs");
  PmUnit unit = { .number = line->unit, .name = g_strdup (line->name), .spot = line->spot };

  if (find_unit (units, line->unit) != NULL) {
    PmSpot spot = find_unit (units, line->unit)->spot;
    spot.other_line = line->spot.line;
    pm_faults_add (
        build->faults, spot,
        _("unit %d is given twice. If it needs two lines, write <unit number=\"%d\"> with a <when> for each."),
        line->unit, line->unit);
    g_free (unit.name);
    return;
  }
  add_level (&unit, index, !line->asserted_low);
  unit.needs = needs != NULL ? pm_split_words (needs) : NULL;
  g_array_append_val (units, unit);
}

static void
no_such_line (PmBuild *build, const char *name, PmSpot spot)
{
  const PmHost *host = &build->board->host;
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < host->n_lines; i++)
    g_ptr_array_add (names, host->lines[i].name);
  const char *near = pm_nearest (name, (const char *const *)names->pdata, names->len);
  g_ptr_array_add (names, NULL);
  g_autofree char *list = g_strjoinv (" ", (char **)names->pdata);
  if (near != NULL)
    pm_faults_add (build->faults, spot, _("there is no line \"%s\". There are %s. Did you mean %s?"), name, list,
                   near);
  else
    pm_faults_add (build->faults, spot, _("there is no line \"%s\". There are %s."), name, list);
}

static void
read_unit (PmBuild *build, const PmXml *element, GArray *units)
{
  const char *name = pm_xml_get (element, "name"), *needs = pm_xml_get (element, "needs");
  PmUnit unit = { .spot = pm_xml_spot (element) };

  if (!pm_xml_number (element, "number", 0, MAX_UNIT, &unit.number, build->faults))
    return;
  PmUnit *other = find_unit (units, unit.number);
  if (other != NULL) {
    PmSpot spot = other->spot;
    spot.other_line = element->line;
    pm_faults_add (build->faults, spot, _("unit %u is given twice. Take one out, or give it another number."),
                   unit.number);
    return;
  }
  unit.name = name != NULL ? g_strdup (name) : g_strdup_printf (_("select %u"), unit.number);
  unit.needs = needs != NULL ? pm_split_words (needs) : NULL;
  for (const PmXml *child = element->children; child != NULL; child = child->next) {
    const char *line_name = pm_xml_get (child, "line");
    if (!pm_xml_is (child, "when") || line_name == NULL)
      continue;
    guint32 line = pm_host_line (&build->board->host, line_name);
    if (line == PM_NONE)
      no_such_line (build, line_name, pm_xml_spot (child));
    else
      add_level (&unit, line, pm_xml_choice (child, "level", level_names, 0, build->faults) == 1);
  }
  if (unit.n_levels == 0)
    pm_faults_add (build->faults, unit.spot,
                   _("unit %u does not say which lines turn it on. Add <when line=\"…\" level=\"low\"/>."),
                   unit.number);
  g_array_append_val (units, unit);
}

static gint
compare_units (gconstpointer a, gconstpointer b)
{
  guint x = ((const PmUnit *)a)->number, y = ((const PmUnit *)b)->number;

  return x < y ? -1 : x > y;
}

static void
read_never (PmBuild *build, const PmXml *element, GArray *nevers)
{
  const PmHost *host = &build->board->host;
  g_auto (GStrv) words = pm_split_words (pm_xml_get (element, "units"));
  PmHostNever never = { .idle = pm_xml_yes (element, "idle", FALSE), .spot = pm_xml_spot (element) };

  never.because = g_strdup (pm_xml_get (element, "because"));
  never.units = g_new (guint, g_strv_length (words) + 1);
  for (guint i = 0; words[i] != NULL; i++) {
    guint before = never.n_units;
    for (guint u = 0; u < host->n_units; u++)
      if (strcmp (host->units[u].name, words[i]) == 0 ||
          (g_ascii_isdigit (*words[i]) && (guint)atoi (words[i]) == host->units[u].number)) {
        never.units[never.n_units++] = u;
        break;
      }
    if (before == never.n_units)
      pm_faults_add (build->faults, never.spot, _("never: there is no unit \"%s\" in this machine."), words[i]);
  }
  g_array_append_val (nevers, never);
}

void
pm_build_lines (PmBuild *build)
{
  PmHost *host = &build->board->host;
  GArray *lines = g_array_new (FALSE, TRUE, sizeof (PmLine)), *units = g_array_new (FALSE, TRUE, sizeof (PmUnit));
  GArray *nevers = g_array_new (FALSE, TRUE, sizeof (PmHostNever));
  const PmXml *element = build->host;

  if (element != NULL) {
    const char *title = pm_xml_get (element, "title");
    host->name = g_strdup (pm_xml_get (element, "name") ? pm_xml_get (element, "name") : "host");
    host->title = g_strdup (title != NULL ? title : host->name);
    host->about = pm_xml_dup_text_of (element, "about");
    host->always_one = pm_xml_yes (element, "always-one", FALSE);
    host->spot = pm_xml_spot (element);
  }
  for (const PmXml *child = element != NULL ? element->children : NULL; child != NULL; child = child->next)
    if (pm_xml_is (child, "line"))
      read_line (build, child, lines);
  host->n_lines = lines->len;
  host->lines = (PmLine *)g_array_free (lines, FALSE);

  for (const PmXml *child = element != NULL ? element->children : NULL; child != NULL; child = child->next) {
    const char *name = pm_xml_get (child, "name");
    guint32 line = pm_xml_is (child, "line") && name != NULL ? pm_host_line (host, name) : PM_NONE;
    if (line != PM_NONE && host->lines[line].unit >= 0 && strcmp (host->lines[line].does, "select") == 0 &&
        host->lines[line].spot.line == child->line)
      unit_of_line (build, child, line, units);
    else if (pm_xml_is (child, "unit"))
      read_unit (build, child, units);
  }
  g_array_sort (units, compare_units);
  host->n_units = units->len;
  host->units = (PmUnit *)g_array_free (units, FALSE);
  for (const PmXml *child = element != NULL ? element->children : NULL; child != NULL; child = child->next)
    if (pm_xml_is (child, "never"))
      read_never (build, child, nevers);
  host->n_nevers = nevers->len;
  host->nevers = (PmHostNever *)g_array_free (nevers, FALSE);
}
