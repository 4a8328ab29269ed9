/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cables: conductors W1.1, W1.2 …, and at each end which pin meets which conductor. */
#include "config.h"
#include "pm-board-private.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#define MAX_CONDUCTORS 200

/* One "1-10" or "3..9-20..26" of map=: low ends and lengths. */
static gboolean
read_map_word (const char *word, guint *pin, guint *conductor, guint *n)
{
  guint a, b, c, d;
  int used = 0;

  if (sscanf (word, "%u..%u-%u..%u%n", &a, &b, &c, &d, &used) == 4 && word[used] == '\0') {
    if (a > b || c > d || b - a != d - c)
      return FALSE;
    *n = b - a + 1;
  } else if (sscanf (word, "%u-%u%n", &a, &c, &used) == 2 && word[used] == '\0') {
    *n = 1;
  } else {
    return FALSE;
  }
  *pin = a;
  *conductor = c;
  return a > 0 && c > 0 && *n <= MAX_CONDUCTORS && a < 10000 && c + *n - 1 <= MAX_CONDUCTORS;
}

guint
pm_cable_size (PmBuild *build, const PmXml *cable, guint first_pins)
{
  guint size = MIN (first_pins, MAX_CONDUCTORS), most = 0;
  const PmXml *first = pm_xml_child (cable, "end");

  for (const PmXml *end = cable->children; end != NULL; end = end->next) {
    g_auto (GStrv) words = pm_split_words (pm_xml_is (end, "end") ? pm_xml_get (end, "map") : NULL);
    guint pin, conductor, n;
    for (guint i = 0; words[i] != NULL; i++)
      if (read_map_word (words[i], &pin, &conductor, &n))
        most = MAX (most, conductor + n - 1);
  }
  if (first != NULL && pm_xml_get (first, "map") != NULL)
    return most;
  return MAX (size, most);
}

/* crossed="10..16": that range turned end for end. */
static void
cross (PmBuild *build, PmCableEnd *end)
{
  PmSpot spot = pm_xml_spot (end->element);
  g_auto (GStrv) words = pm_split_words (pm_xml_get (end->element, "crossed"));

  for (guint i = 0; words[i] != NULL; i++) {
    guint low, high;
    int used = 0;
    if (sscanf (words[i], "%u..%u%n", &low, &high, &used) != 2 || words[i][used] != '\0' || low == 0 || low >= high ||
        high > end->n_pins) {
      pm_faults_add (build->faults, spot,
                     _("crossed=\"%s\": it must be a range of pins, such as 10..16, within 1..%u."), words[i],
                     end->n_pins);
      continue;
    }
    for (guint a = low - 1, b = high - 1; a < b; a++, b--) {
      guint32 kept = end->conductors[a];
      end->conductors[a] = end->conductors[b];
      end->conductors[b] = kept;
    }
  }
}

static void
map (PmBuild *build, PmCableEnd *end, const char *text, guint n_conductors)
{
  PmSpot spot = pm_xml_spot (end->element);
  g_auto (GStrv) words = pm_split_words (text);

  for (guint i = 0; i < end->n_pins; i++)
    end->conductors[i] = PM_NONE;
  for (guint i = 0; words[i] != NULL; i++) {
    guint pin, conductor, n;
    if (!read_map_word (words[i], &pin, &conductor, &n)) {
      pm_faults_add (
          build->faults, spot,
          _("map: \"%s\": write PIN-CONDUCTOR, such as 1-10, or two ranges of one length, such as 3..9-20..26."),
          words[i]);
      continue;
    }
    if (pin + n - 1 > end->n_pins || conductor + n - 1 > n_conductors) {
      pm_faults_add (build->faults, spot, _("map: \"%s\": this end has pins 1..%u, the cable conductors 1..%u."),
                     words[i], end->n_pins, n_conductors);
      continue;
    }
    for (guint k = 0; k < n; k++) {
      guint32 *at = &end->conductors[pin - 1 + k];
      if (*at != PM_NONE)
        pm_faults_add (build->faults, spot, _("map: pin %u is given twice."), pin + k);
      *at = conductor - 1 + k;
    }
  }
}

static void
shift (PmBuild *build, PmCableEnd *end, const char *text)
{
  gint64 places;
  g_autofree guint32 *before = g_memdup2 (end->conductors, sizeof (guint32) * end->n_pins);

  if (!g_ascii_string_to_signed (*text == '+' ? text + 1 : text, 10, -(gint64)MAX_CONDUCTORS, MAX_CONDUCTORS, &places,
                                 NULL)) {
    pm_faults_add (build->faults, pm_xml_spot (end->element),
                   _("shifted=\"%s\": it must be a whole number of pins, such as 2."), text);
    return;
  }
  for (guint i = 0; i < end->n_pins; i++) {
    gint64 from = (gint64)i + places;
    end->conductors[i] = from >= 0 && from < end->n_pins ? before[from] : PM_NONE;
  }
}

static void
lay_out (PmBuild *build, PmCableEnd *end, guint n_pins, guint n_conductors)
{
  const char *text = pm_xml_get (end->element, "map"), *shifted = pm_xml_get (end->element, "shifted");

  end->n_pins = n_pins;
  end->conductors = g_new (guint32, n_pins + 1);
  for (guint i = 0; i < n_pins; i++)
    end->conductors[i] = i < n_conductors ? i : PM_NONE;
  if (text != NULL)
    map (build, end, text, n_conductors);
  if (pm_xml_yes (end->element, "turned", FALSE))
    for (guint a = 0, b = n_pins; a + 1 < b; a++) {
      guint32 kept = end->conductors[a];
      end->conductors[a] = end->conductors[--b];
      end->conductors[b] = kept;
    }
  cross (build, end);
  if (shifted != NULL)
    shift (build, end, shifted);
}

/* The instance at an end: a connector, a place, or a drive. */
static void
mate_end (PmBuild *build, const PmRawCable *cable, PmCableEnd *end, guint32 at)
{
  const PmRaw *wire = pm_build_raw (build, cable->instance), *other = pm_build_raw (build, at);
  gboolean is_drive = other->instance.part->type == PM_PART_DRIVE;

  if (at == cable->instance) {
    pm_faults_add (build->faults, pm_xml_spot (end->element),
                   _("an end of %s is plugged into itself. Correct at=\"…\"."), wire->instance.ref);
    return;
  }
  lay_out (build, end, other->n_outer, wire->n_outer);
  if (pm_xml_get (end->element, "map") == NULL && other->n_outer != wire->n_outer) {
    pm_faults_add (build->faults, pm_xml_spot (end->element),
                   _("%s has %u pins and %s has %u conductors. Say which meets which: map=\"1-10 2-12\"."),
                   other->instance.ref, other->n_outer, wire->instance.ref, wire->n_outer);
    return;
  }
  GArray *pairs = g_array_new (FALSE, FALSE, sizeof (PmPair));
  for (guint i = 0; i < end->n_pins; i++) {
    guint32 place = other->instance.first_place + i, conductor = end->conductors[i];
    if (conductor == PM_NONE)
      continue;
    PmPair pair = is_drive ? (PmPair){ place, wire->instance.first_place + conductor }
                           : (PmPair){ wire->instance.first_place + conductor, place };
    g_array_append_val (pairs, pair);
  }
  guint n = pairs->len;
  end->at = at;
  pm_build_mate (build, is_drive ? at : cable->instance, is_drive ? cable->instance : at,
                 (PmPair *)g_array_free (pairs, FALSE), n, end->element, PM_MATING_ALWAYS);
}

static void
read_ends (PmBuild *build, PmRawCable *cable)
{
  const PmRaw *raw = pm_build_raw (build, cable->instance);
  const PmContext *context =
      g_str_has_prefix (raw->instance.ref, "host.") ? &build->host_context : &build->board_context;
  GArray *ends = g_array_new (FALSE, TRUE, sizeof (PmCableEnd));

  for (const PmXml *child = cable->element->children; child != NULL; child = child->next) {
    PmCableEnd end = { child, PM_NONE, NULL, 0 };
    guint number;
    if (!pm_xml_is (child, "end"))
      continue;
    const char *at = pm_xml_get (child, "at");
    guint32 found = at != NULL ? pm_build_into (build, context, at, pm_xml_spot (child), &number) : PM_NONE;
    if (found != PM_NONE)
      mate_end (build, cable, &end, found);
    g_array_append_val (ends, end);
  }
  if (ends->len < 2)
    pm_faults_add (build->faults, raw->instance.spot,
                   _("cable %s has fewer than two ends. Add <end at=\"…\"/>, in order along the cable."),
                   raw->instance.ref);
  cable->n_ends = ends->len;
  cable->ends = (PmCableEnd *)g_array_free (ends, FALSE);
}

/* Drives that name their place themselves: a connector, a cable, or an end of one that is free. */
static void
plug_drive (PmBuild *build, const PmRawDrive *drive)
{
  const char *into = pm_xml_get (drive->element, "into");
  PmSpot spot = pm_xml_spot (drive->element);
  guint end = 0;
  guint32 at = into != NULL ? pm_build_into (build, &build->board_context, into, spot, &end) : PM_NONE;

  if (at == PM_NONE)
    return;
  for (guint i = 0; i < build->matings->len; i++)
    if (g_array_index (build->matings, PmMating, i).a == drive->instance) {
      spot.other_line = g_array_index (build->matings, PmMating, i).spot.line;
      if (spot.other_line < spot.line) {
        guint line = spot.line;
        spot.line = spot.other_line;
        spot.other_line = line;
      }
      pm_faults_add (build->faults, spot,
                     _("%s is plugged in twice, by into= and by an end of a cable. Take one out."),
                     pm_build_raw (build, drive->instance)->instance.ref);
      return;
    }
  for (guint i = 0; end > 0 && i < build->raw_cables->len; i++) {
    PmRawCable *cable = &g_array_index (build->raw_cables, PmRawCable, i);
    if (cable->instance != at)
      continue;
    if (end > cable->n_ends || cable->ends[end - 1].at != PM_NONE ||
        pm_xml_get (cable->ends[end - 1].element, "at") != NULL) {
      pm_faults_add (build->faults, spot,
                     _("into=\"%s\": that end of the cable is not there or not free. Name the drive in the end: <end "
                        "at=\"%s\"/>."),
                     into, pm_build_raw (build, drive->instance)->instance.ref);
      return;
    }
    mate_end (build, cable, &cable->ends[end - 1], drive->instance);
    return;
  }
  pm_build_mate_all (build, drive->instance, at, drive->element, PM_MATING_ALWAYS);
}

void
pm_build_cables (PmBuild *build)
{
  for (guint i = 0; i < build->raw_cables->len; i++)
    read_ends (build, &g_array_index (build->raw_cables, PmRawCable, i));
  for (guint i = 0; i < build->raw_drives->len; i++) {
    const PmRawDrive *raw = &g_array_index (build->raw_drives, PmRawDrive, i);
    plug_drive (build, raw);
    for (guint k = 0; k < build->matings->len; k++)
      if (g_array_index (build->matings, PmMating, k).a == raw->instance)
        build->board->drives[i].into = g_array_index (build->matings, PmMating, k).b;
  }
}
