/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Switches: levers, jumpers, and the jumpers of drives. */
#include "config.h"
#include "pm-board-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static gboolean
has_pair (const PmPartPosition *position, PmPair pair)
{
  for (guint i = 0; i < position->n_pairs; i++)
    if ((position->pairs[i].a == pair.a && position->pairs[i].b == pair.b) ||
        (position->pairs[i].a == pair.b && position->pairs[i].b == pair.a))
      return TRUE;
  return FALSE;
}

/* "2-1 5-4" or "10-select" as pin indices. FALSE after a fault. */
static gboolean
read_closes (PmBuild *build, guint32 instance, const PmXml *element, GArray *pairs)
{
  g_auto (GStrv) words = pm_split_words (pm_xml_get (element, "closes"));
  PmSpot spot = pm_xml_spot (element);
  gboolean good = TRUE;

  for (guint i = 0; words[i] != NULL; i++) {
    g_autoptr (GArray) pins = g_array_new (FALSE, FALSE, sizeof (guint32));
    g_auto (GStrv) names = g_strsplit (words[i], "-", -1);
    gboolean fits = g_strv_length (names) >= 2;
    if (!fits)
      pm_faults_add (build->faults, spot, _("closes=\"%s\": write pairs of pins, such as 2-1."), words[i]);
    for (guint k = 0; fits && names[k] != NULL; k++)
      fits = pm_build_pins (build, instance, names[k], spot, pins);
    good = good && fits;
    for (guint k = 1; fits && k < pins->len; k++) {
      PmPair pair = { g_array_index (pins, guint32, k - 1), g_array_index (pins, guint32, k) };
      g_array_append_val (pairs, pair);
    }
  }
  return good;
}

static char *
pairs_text (const PmPart *part)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < part->n_positions; i++) {
    g_string_append (text, i > 0 ? ", " : "");
    for (guint k = 0; k < part->positions[i].n_pairs; k++)
      g_string_append_printf (text, "%s%s-%s", k > 0 ? " " : "", part->pins[part->positions[i].pairs[k].a].number,
                              part->pins[part->positions[i].pairs[k].b].number);
    if (part->positions[i].n_pairs == 0)
      g_string_append (text, _("nothing"));
  }
  return g_string_free (text, FALSE);
}

/* The position of the part that closes all these pairs, and the fewest besides; PM_NONE if there is none. */
static guint32
match_position (const PmPart *part, const GArray *pairs)
{
  guint32 best = PM_NONE;

  for (guint i = 0; i < part->n_positions; i++) {
    const PmPartPosition *position = &part->positions[i];
    gboolean all = pairs->len > 0 || position->n_pairs == 0;
    for (guint k = 0; all && k < pairs->len; k++)
      all = has_pair (position, g_array_index (pairs, PmPair, k));
    if (all && (best == PM_NONE || position->n_pairs < part->positions[best].n_pairs))
      best = i;
  }
  return best;
}

static PmPosition
make_position (const PmInstance *instance, const PmPartPosition *from, const char *name, const char *title, PmSpot spot)
{
  PmPosition position = { g_strdup (name), g_strdup (title), g_new (PmPair, from->n_pairs + 1), from->n_pairs, spot };

  for (guint i = 0; i < from->n_pairs; i++)
    position.pairs[i] = (PmPair){ instance->first_place + from->pairs[i].a, instance->first_place + from->pairs[i].b };
  return position;
}

static gboolean
check_position_name (PmBuild *build, const PmXml *element, const GArray *positions, const char *switch_name)
{
  const char *name = pm_xml_get (element, "name");

  if (name == NULL || positions->len >= 100)
    return FALSE;
  if (strpbrk (name, " \t\r\n,=") != NULL || *name == '\0') {
    pm_faults_add (build->faults, pm_xml_spot (element),
                   _("a position's name is one word without , and =: \"%s\" is not. Put the rest into title=\"…\"."),
                   name);
    return FALSE;
  }
  for (guint i = 0; i < positions->len; i++) {
    const PmPosition *other = &g_array_index (positions, PmPosition, i);
    if (strcmp (other->name, name) != 0)
      continue;
    PmSpot spot = other->spot;
    spot.other_line = element->line;
    pm_faults_add (build->faults, spot, _("%s has two positions named \"%s\". Rename one."), switch_name, name);
    return FALSE;
  }
  return TRUE;
}

/* Positions in the order of the lever, which the file may give from either side; those of a lever that the file leaves
 * out keep the part's names. */
static void
order_positions (const PmRaw *raw, GArray *positions, GArray *which)
{
  const PmPart *part = raw->instance.part;
  gboolean lever = part->look == PM_LOOK_TOGGLE || part->look == PM_LOOK_SLIDE;
  gboolean backwards =
      which->len > 1 && g_array_index (which, guint32, 0) > g_array_index (which, guint32, which->len - 1);
  GArray *ordered = g_array_new (FALSE, FALSE, sizeof (PmPosition));

  if (part->look == PM_LOOK_JUMPER) {
    g_array_unref (ordered);
    return;
  }
  for (guint turn = 0; turn < part->n_positions; turn++) {
    guint32 of_part = backwards ? part->n_positions - 1 - turn : turn;
    gboolean given = FALSE;
    for (guint i = 0; i < which->len; i++)
      if (g_array_index (which, guint32, i) == of_part) {
        g_array_append_val (ordered, g_array_index (positions, PmPosition, i));
        given = TRUE;
      }
    if (!given && lever) {
      PmPosition rest = make_position (&raw->instance, &part->positions[of_part], part->positions[of_part].name,
                                       part->positions[of_part].title, raw->instance.spot);
      g_array_append_val (ordered, rest);
    }
  }
  g_array_set_size (positions, 0);
  g_array_append_vals (positions, ordered->data, ordered->len);
  g_array_unref (ordered);
}

static void
read_positions (PmBuild *build, guint32 instance, GArray *positions)
{
  const PmRaw *raw = pm_build_raw (build, instance);
  const PmPart *part = raw->instance.part;
  g_autoptr (GArray) which = g_array_new (FALSE, FALSE, sizeof (guint32));

  for (const PmXml *child = raw->element->children; child != NULL; child = child->next) {
    g_autoptr (GArray) pairs = g_array_new (FALSE, FALSE, sizeof (PmPair));
    if (!pm_xml_is (child, "position") || !check_position_name (build, child, positions, raw->instance.ref) ||
        !read_closes (build, instance, child, pairs))
      continue;
    guint32 match = match_position (part, pairs);
    if (match == PM_NONE) {
      g_autofree char *list = pairs_text (part);
      const char *closes = pm_xml_get (child, "closes");
      pm_faults_add (build->faults, pm_xml_spot (child),
                     _("%s: no position of a %s closes %s. Its positions close: %s."), raw->instance.ref,
                     raw->instance.is, closes != NULL && *closes != '\0' ? closes : _("nothing"), list);
      continue;
    }
    PmPosition position = make_position (&raw->instance, &part->positions[match], pm_xml_get (child, "name"),
                                         pm_xml_get (child, "title"), pm_xml_spot (child));
    for (guint i = 0; i < which->len; i++)
      if (g_array_index (which, guint32, i) == match) {
        PmSpot spot = g_array_index (positions, PmPosition, i).spot;
        spot.other_line = child->line;
        pm_faults_add (build->faults, spot, _("the positions %s and %s of %s close the same. Correct one."),
                       g_array_index (positions, PmPosition, i).name, position.name, raw->instance.ref);
      }
    g_array_append_val (positions, position);
    g_array_append_val (which, match);
  }
  if (positions->len > 0) {
    order_positions (raw, positions, which);
    return;
  }
  for (guint i = 0; i < part->n_positions; i++) {
    PmPosition position = make_position (&raw->instance, &part->positions[i], part->positions[i].name,
                                         part->positions[i].title, raw->instance.spot);
    g_array_append_val (positions, position);
  }
}

/* Position by its name, or by what is printed beside it. */
static guint32
find_position (const PmSwitch *lever, const char *word)
{
  for (guint i = 0; i < lever->n_positions; i++)
    if (strcmp (lever->positions[i].name, word) == 0)
      return i;
  for (guint i = 0; i < lever->n_positions; i++)
    if (lever->positions[i].title != NULL && strcmp (lever->positions[i].title, word) == 0)
      return i;
  return PM_NONE;
}

/* Where the file puts a switch: a position, or "any". */
static void
read_usual (PmBuild *build, PmSwitch *lever, const PmXml *element, const char *attribute)
{
  const char *word = pm_xml_get (element, attribute);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  if (word == NULL)
    return;
  lever->stated = TRUE;
  if (strcmp (word, "any") == 0) {
    lever->any = TRUE;
    return;
  }
  guint32 position = find_position (lever, word);
  if (position != PM_NONE) {
    lever->usual = position;
    return;
  }
  for (guint i = 0; i < lever->n_positions; i++)
    g_ptr_array_add (names, lever->positions[i].name);
  const char *near = pm_nearest (word, (const char *const *)names->pdata, names->len);
  g_ptr_array_add (names, NULL);
  g_autofree char *list = g_strjoinv (", ", (char **)names->pdata);
  if (near != NULL)
    pm_faults_add (build->faults, pm_xml_spot (element), _("%s=\"%s\": %s has the positions %s. Did you mean %s?"),
                   attribute, word, lever->name, list, near);
  else
    pm_faults_add (build->faults, pm_xml_spot (element), _("%s=\"%s\": %s has the positions %s."), attribute, word,
                   lever->name, list);
}

static void
add_switch (PmBuild *build, guint32 instance)
{
  static const char *const moves[] = { "by-hand", "once", NULL };
  static const char *const contacts[] = { "break-first", "make-first", NULL };
  static const char *const whiles[] = { "off", "running", NULL };
  const PmRaw *raw = pm_build_raw (build, instance);
  const PmXml *element = raw->element;
  const PmPart *part = raw->instance.part;
  GArray *positions = g_array_new (FALSE, TRUE, sizeof (PmPosition));
  PmSwitch lever = { .instance = instance,
                     .owner = raw->instance.owner,
                     .owner_index = raw->instance.owner_index,
                     .mating = PM_NONE,
                     .spot = raw->instance.spot };
  gboolean jumper = part->type == PM_PART_JUMPER || part->look == PM_LOOK_JUMPER;

  read_positions (build, instance, positions);
  lever.name = g_strdup (raw->instance.ref);
  lever.title = g_strdup (raw->instance.title != NULL ? raw->instance.title : raw->instance.ref);
  lever.n_positions = positions->len;
  lever.positions = (PmPosition *)g_array_free (positions, FALSE);
  lever.moved = pm_xml_choice (element, "moved", moves, jumper, build->faults) == 1 ? PM_MOVED_ONCE : PM_MOVED_BY_HAND;
  lever.look = jumper ? PM_LOOK_JUMPER : part->look;
  lever.contacts = g_strcmp0 (part->contacts, "break-first") == 0  ? PM_CONTACTS_BREAK_FIRST
                   : g_strcmp0 (part->contacts, "make-first") == 0 ? PM_CONTACTS_MAKE_FIRST
                                                                   : PM_CONTACTS_UNKNOWN;
  lever.contacts = pm_xml_choice (element, "contacts", contacts, (int)lever.contacts - 1, build->faults) + 1;
  lever.while_running = pm_xml_choice (element, "while", whiles, 0, build->faults) == 1;
  lever.stated = lever.moved == PM_MOVED_BY_HAND;
  read_usual (build, &lever, element, "usual");
  for (guint i = 0; i < build->matings->len; i++)
    if (g_array_index (build->matings, PmMating, i).removable &&
        g_array_index (build->matings, PmMating, i).a == instance)
      lever.mating = i;
  if (lever.n_positions == 0)
    pm_faults_add (build->faults, lever.spot,
                   _("%s is a switch without positions. Give its part <position name=\"…\" closes=\"2-1\"/>."),
                   lever.name);
  g_array_append_val (build->switches, lever);
}

/* A drive's own jumper: set once, named like the drive. */
static void
add_jumper (PmBuild *build, guint index)
{
  PmDrive *drive = &build->board->drives[index];
  const PmRawDrive *raw = &g_array_index (build->raw_drives, PmRawDrive, index);
  const PmXml *jumper = pm_xml_child (raw->kind, "jumper");
  const PmInstance *instance = &pm_build_raw (build, raw->instance)->instance;
  GArray *positions = g_array_new (FALSE, TRUE, sizeof (PmPosition));
  PmFaults *kept = build->faults, *silent = pm_drive_silence (build, index);
  PmSwitch lever = { .instance = raw->instance,
                     .owner = PM_OWNER_DRIVE,
                     .owner_index = index,
                     .moved = PM_MOVED_ONCE,
                     .look = PM_LOOK_JUMPER,
                     .mating = PM_NONE,
                     .spot = instance->spot };

  for (const PmXml *child = jumper != NULL ? jumper->children : NULL; child != NULL; child = child->next) {
    g_autoptr (GArray) pairs = g_array_new (FALSE, FALSE, sizeof (PmPair));
    if (!pm_xml_is (child, "position") || !check_position_name (build, child, positions, drive->name) ||
        !read_closes (build, raw->instance, child, pairs))
      continue;
    PmPartPosition closed = { NULL, NULL, (PmPair *)pairs->data, pairs->len };
    PmPosition position =
        make_position (instance, &closed, pm_xml_get (child, "name"), pm_xml_get (child, "title"), pm_xml_spot (child));
    g_array_append_val (positions, position);
  }
  lever.n_positions = positions->len;
  lever.positions = (PmPosition *)g_array_free (positions, FALSE);
  lever.name = drive->name;
  if (jumper != NULL)
    read_usual (build, &lever, jumper, "usual");
  build->faults = kept;
  g_clear_pointer (&silent, pm_faults_free);
  if (lever.n_positions == 0) {
    g_free (lever.positions);
    if (pm_xml_get (raw->element, "jumper") != NULL)
      pm_faults_add (build->faults, instance->spot, _("jumper=\"%s\": a %s has no jumper. Take jumper= out."),
                     pm_xml_get (raw->element, "jumper"), drive->kind);
    return;
  }
  lever.name = g_strdup (drive->name);
  lever.title = g_strdup (drive->title);
  lever.stated = lever.any = FALSE;
  read_usual (build, &lever, raw->element, "jumper");
  drive->jumper = build->switches->len;
  g_array_append_val (build->switches, lever);
}

void
pm_build_switches (PmBuild *build)
{
  guint n = build->raws->len;

  for (guint i = 0; i < n; i++) {
    const PmRaw *raw = pm_build_raw (build, i);
    PmPartType type = raw->instance.part->type;
    if (raw->element == NULL)
      continue;
    if (type == PM_PART_SWITCH || type == PM_PART_JUMPER)
      add_switch (build, i);
    else if (type == PM_PART_DRIVE)
      add_jumper (build, raw->instance.owner_index);
    else if (pm_xml_is (raw->element, "part") && pm_xml_child (raw->element, "position") != NULL)
      pm_faults_add (build->faults, raw->instance.spot,
                     _("%s is a %s, which has no positions. Only switches and jumpers have."), raw->instance.ref,
                     raw->instance.is);
  }
}
