/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first half of reading a board: which things there are, from the board, its host, its drives and cables, so that
 * every place has a number. */
#include "config.h"
#include "pm-board-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Names of parts stand in lists and before dots. */
gboolean
pm_is_name (const char *name)
{
  return name != NULL && *name != '\0' && strlen (name) <= 60 && strpbrk (name, " \t\r\n,.:=\"") == NULL &&
         *name != '+' && *name != '-';
}

static void
bad_name (PmBuild *build, const PmXml *element, const char *name)
{
  /* No name at all is told by the vocabulary. */
  if (name != NULL)
    pm_faults_add (
        build->faults, pm_xml_spot (element),
        _("\"%s\" cannot be a name: no blanks, commas, dots, colons or equals signs, and no + or - at the front."),
        name);
}

const PmRaw *
pm_build_raw (const PmBuild *build, guint32 instance)
{
  return &g_array_index (build->raws, PmRaw, instance);
}

PmPart *
pm_build_new_part (PmBuild *build, const char *name, PmPartType type, guint n_pins)
{
  PmPart *part = g_new0 (PmPart, 1);

  part->name = g_intern_string (name);
  part->type = type;
  part->n_pins = n_pins;
  part->pins = g_new0 (PmPin, n_pins + 1);
  part->rows = type == PM_PART_CABLE || type == PM_PART_DRIVE ? 2 : 0;
  for (guint i = 0; i < n_pins; i++)
    part->pins[i] = (PmPin){ g_strdup_printf ("%u", i + 1), g_strdup_printf ("%u", i + 1), PM_PIN_PASSIVE, 1 };
  g_ptr_array_add (build->full->own_parts, part);
  return part;
}

/* FALSE and a fault if the ref is taken. */
static gboolean
claim_ref (PmBuild *build, GHashTable *seen, const char *ref, const PmXml *element)
{
  const PmXml *first = g_hash_table_lookup (seen, ref);

  if (first == NULL) {
    g_hash_table_insert (seen, g_strdup (ref), (gpointer)element);
    return TRUE;
  }
  PmSpot spot = pm_xml_spot (first);
  if (first->file == element->file && element->line != first->line)
    spot.other_line = element->line;
  pm_faults_add (build->faults, spot, _("the name %s is given twice. Rename one."), ref);
  return FALSE;
}

static void
add_part (PmBuild *build, GArray *raws, GHashTable *seen, const PmContext *context, const PmXml *element)
{
  const char *name = pm_xml_get (element, "name"), *is = pm_xml_get (element, "is");
  PmRaw raw = { .element = element };

  if (!pm_is_name (name)) {
    bad_name (build, element, name);
    return;
  }
  g_autofree char *ref = g_strconcat (context->prefix, name, NULL);
  if (!claim_ref (build, seen, ref, element))
    return;
  if (is == NULL)
    pm_faults_add (build->faults, pm_xml_spot (element),
                   _("%s does not say what it is. Add is=\"…\"; all parts: pointsman-cli parts"), name);
  else
    raw.instance.part = pm_scope_part (&build->scope, is, &raw.instance.family, &raw.instance.value,
                                       pm_xml_spot (element), build->faults);
  if (raw.instance.part == NULL) {
    g_hash_table_add (build->broken, g_steal_pointer (&ref));
    build->lost_switch = build->lost_switch || pm_xml_child (element, "position") != NULL;
    return;
  }
  raw.instance.ref = g_steal_pointer (&ref);
  raw.instance.title = g_strdup (pm_xml_get (element, "title"));
  raw.instance.owner = context->owner;
  raw.instance.owner_index = context->owner_index;
  raw.instance.is = g_strdup (is);
  raw.instance.assumed = pm_xml_yes (element, "assumed", FALSE);
  raw.instance.spot = pm_xml_spot (element);
  raw.n_outer = raw.instance.part->n_pins;
  g_array_append_val (raws, raw);
}

static void
add_parts (PmBuild *build, GArray *raws, GHashTable *seen, const PmContext *context)
{
  for (const PmXml *child = context->root != NULL ? context->root->children : NULL; child != NULL; child = child->next)
    if (pm_xml_is (child, "part") && !pm_xml_is_definition (child))
      add_part (build, raws, seen, context, child);
}

static const PmXml *
find_kind (PmBuild *build, const PmXml *use, const char *kind, const char *docs)
{
  const char *is = pm_xml_get (use, "is");
  g_autofree char *looked = NULL;

  const PmXml *found = pm_scope_find (&build->scope, kind, is, &looked, build->faults);
  if (found == NULL && looked != NULL && g_hash_table_add (build->told, g_strdup_printf ("no %s %s", kind, is))) {
    g_auto (GStrv) names = pm_library_list (build->scope.library, kind);
    const char *near = pm_nearest (is, (const char *const *)names, g_strv_length (names));
    if (near != NULL)
      pm_faults_add (build->faults, pm_xml_spot (use), _("%s \"%s\" is not here. Looked in: %s. Did you mean %s?"),
                     kind, is, looked, near);
    else
      pm_faults_add (build->faults, pm_xml_spot (use), _("%s \"%s\" is not here. Looked in: %s. Describe it: %s"),
                     kind, is, looked, docs);
  }
  return found;
}

/* The host's definition: named, or standing inside. */
static void
find_host (PmBuild *build, const PmXml *root)
{
  const PmXml *use = NULL;

  for (const PmXml *child = root->children; child != NULL; child = child->next) {
    if (!pm_xml_is (child, "host"))
      continue;
    if (pm_xml_get (child, "is") == NULL && (use != NULL || pm_xml_get (child, "name") == NULL))
      continue;
    if (use != NULL && pm_xml_get (use, "is") != NULL) {
      PmSpot spot = pm_xml_spot (use);
      spot.other_line = child->line;
      pm_faults_add (build->faults, spot, _("there are two machines. A board has one: take one <host …/> out."));
      continue;
    }
    use = child;
  }
  if (use != NULL)
    build->host = pm_xml_get (use, "is") != NULL ? find_kind (build, use, "host", "docs/host-file.md") : use;
  if (use != NULL && pm_xml_get (use, "is") == NULL)
    build->host = pm_scope_find (&build->scope, "host", pm_xml_get (use, "name"), NULL, build->faults);
  if (use == NULL && (root != build->root || build->setup == NULL))
    pm_faults_add (build->faults, pm_xml_spot (root),
                   _("it does not say which machine. Add <host is=\"…\"/>; to describe one: docs/host-file.md."));
}

static void
find_setup (PmBuild *build)
{
  const PmXml *use = pm_xml_child (build->root, "setup");

  if (use == NULL || pm_xml_get (use, "is") == NULL)
    return;
  build->setup = find_kind (build, use, "setup", "docs/setup-file.md");
  if (build->setup != NULL)
    find_host (build, build->setup);
}

static void
add_drive (PmBuild *build, GArray *raws, GHashTable *seen, const PmXml *element)
{
  const char *name = pm_xml_get (element, "name"), *is = pm_xml_get (element, "is");
  PmRawDrive drive = { element, NULL, PM_NONE, NULL };
  PmRaw raw = { .element = element };

  if (!pm_is_name (name)) {
    bad_name (build, element, name);
    return;
  }
  if (!claim_ref (build, seen, name, element))
    return;
  if (is == NULL)
    pm_faults_add (build->faults, pm_xml_spot (element), _("drive %s does not say what it is. Add is=\"…\"."), name);
  else
    drive.kind = find_kind (build, element, "drive", "docs/drive-file.md");
  PmPart *part = drive.kind != NULL ? pm_drive_part (build, drive.kind, is, &raw.n_outer) : NULL;
  if (part == NULL) {
    g_hash_table_add (build->broken, g_strdup (name));
    return;
  }
  raw.instance.ref = g_strdup (name);
  raw.instance.title = g_strdup (pm_xml_get (element, "title") ? pm_xml_get (element, "title") : name);
  raw.instance.owner = PM_OWNER_DRIVE;
  raw.instance.owner_index = build->raw_drives->len;
  raw.instance.part = part;
  raw.instance.is = g_strdup (is);
  raw.instance.value = NAN;
  raw.instance.assumed = pm_xml_yes (element, "assumed", FALSE) || pm_xml_yes (drive.kind, "assumed", FALSE);
  raw.instance.spot = pm_xml_spot (element);
  drive.instance = raws->len; /* within raws; moved later */
  drive.prefix = g_strconcat (name, ".", NULL);
  g_array_append_val (raws, raw);
  PmContext context = { drive.prefix, PM_OWNER_DRIVE, build->raw_drives->len, PM_NONE, drive.kind };
  g_array_append_val (build->raw_drives, drive);
  add_parts (build, raws, seen, &context);
}

static void
add_drives (PmBuild *build, GArray *raws, GHashTable *seen, const PmXml *root)
{
  for (const PmXml *child = root != NULL ? root->children : NULL; child != NULL; child = child->next)
    if (pm_xml_is (child, "drive") && !pm_xml_is_definition (child))
      add_drive (build, raws, seen, child);
}

/* Pins of what a cable's first end plugs into, before instances have their numbers. */
static guint
pins_at (GArray *const *groups, guint n_groups, const char *at)
{
  g_autofree char *host_ref = g_strconcat ("host.", at, NULL);

  for (guint g = 0; g < n_groups; g++)
    for (guint i = 0; i < groups[g]->len; i++) {
      const PmRaw *raw = &g_array_index (groups[g], PmRaw, i);
      if (g_str_equal (raw->instance.ref, at) || g_str_equal (raw->instance.ref, host_ref) ||
          g_strcmp0 (pm_xml_get (raw->element, "place"), at) == 0)
        return raw->n_outer;
    }
  return 0;
}

static void
add_cables (PmBuild *build, GArray *raws, GHashTable *seen, const PmContext *context, const PmXml *root,
            GArray *const *groups, guint n_groups)
{
  for (const PmXml *child = root != NULL ? root->children : NULL; child != NULL; child = child->next) {
    const char *name = pm_xml_get (child, "name");
    if (!pm_xml_is (child, "cable"))
      continue;
    if (!pm_is_name (name)) {
      bad_name (build, child, name);
      continue;
    }
    g_autofree char *ref = g_strconcat (context->prefix, name, NULL);
    if (!claim_ref (build, seen, ref, child))
      continue;
    const PmXml *first = pm_xml_child (child, "end");
    const char *at = first != NULL ? pm_xml_get (first, "at") : NULL;
    guint n = pm_cable_size (build, child, at != NULL ? pins_at (groups, n_groups, at) : 0);
    PmRaw raw = { .element = child, .n_outer = n };
    PmRawCable cable = { child, raws->len, NULL, 0 };
    raw.instance.ref = g_steal_pointer (&ref);
    raw.instance.title = g_strdup (pm_xml_get (child, "title"));
    raw.instance.owner = PM_OWNER_CABLE;
    raw.instance.owner_index = build->raw_cables->len;
    raw.instance.part = pm_build_new_part (build, "cable", PM_PART_CABLE, n);
    raw.instance.is = g_strdup ("cable");
    raw.instance.value = NAN;
    raw.instance.spot = pm_xml_spot (child);
    g_array_append_val (raws, raw);
    g_array_append_val (build->raw_cables, cable);
  }
}

static const PmRaw *
raw_at (GArray *const *groups, guint n_groups, const char *into)
{
  g_autofree char *host_ref = g_strconcat ("host.", into, NULL);

  for (guint g = 0; g < n_groups; g++)
    for (guint i = 0; i < groups[g]->len; i++) {
      const PmRaw *raw = &g_array_index (groups[g], PmRaw, i);
      if (g_str_equal (raw->instance.ref, into) || g_str_equal (raw->instance.ref, host_ref) ||
          g_strcmp0 (pm_xml_get (raw->element, "place"), into) == 0)
        return raw;
    }
  return NULL;
}

/* A chip named instead of its socket means the socket. */
static const PmRaw *
sits_target (GArray *const *groups, guint n_groups, const char *into)
{
  const PmRaw *target = raw_at (groups, n_groups, into);
  const char *socket = target != NULL ? pm_xml_get (target->element, "into") : NULL;

  if (target != NULL && socket != NULL && target->instance.owner == PM_OWNER_HOST &&
      target->instance.part->type != PM_PART_SOCKET)
    return raw_at (groups, n_groups, socket);
  return target;
}

/* The socket X1, which takes what sat in the machine, and the plug P1, which goes in its place. */
static void
add_sits (PmBuild *build, GArray *raws, GHashTable *seen, GArray *const *groups, guint n_groups)
{
  const PmXml *sits = pm_xml_child (build->root, "sits");
  const char *names[2];

  if (sits == NULL)
    return;
  for (const PmXml *child = sits->next; child != NULL; child = child->next)
    if (pm_xml_is (child, "sits")) {
      PmSpot spot = pm_xml_spot (sits);
      spot.other_line = child->line;
      pm_faults_add (build->faults, spot, _("a board sits in one place only. Take one <sits …/> out."));
    }
  names[0] = pm_xml_get (sits, "socket") ? pm_xml_get (sits, "socket") : "X1";
  names[1] = pm_xml_get (sits, "plug") ? pm_xml_get (sits, "plug") : "P1";
  g_hash_table_add (build->broken, g_strdup (names[0]));
  g_hash_table_add (build->broken, g_strdup (names[1]));
  const char *into = pm_xml_get (sits, "into");
  if (into == NULL || build->host == NULL)
    return; /* told, or told by the vocabulary */
  const PmRaw *target = sits_target (groups, n_groups, into);
  if (target == NULL) {
    g_autoptr (GPtrArray) places = g_ptr_array_new ();
    for (guint g = 0; g < n_groups; g++)
      for (guint i = 0; i < groups[g]->len; i++) {
        const PmRaw *raw = &g_array_index (groups[g], PmRaw, i);
        if (pm_xml_get (raw->element, "place") != NULL)
          g_ptr_array_add (places, (gpointer)pm_xml_get (raw->element, "place"));
      }
    const char *near = pm_nearest (into, (const char *const *)places->pdata, places->len);
    g_ptr_array_add (places, NULL);
    g_autofree char *list = g_strjoinv (" ", (char **)places->pdata);
    if (near != NULL)
      pm_faults_add (build->faults, pm_xml_spot (sits),
                     _("there is no place \"%s\" to sit in. There are: %s. Did you mean %s?"), into, list, near);
    else
      pm_faults_add (build->faults, pm_xml_spot (sits), _("there is no place \"%s\" to sit in. There are: %s."), into,
                     list);
    return;
  }
  PmPartType type = target->instance.part->type;
  if (type != PM_PART_SOCKET && type != PM_PART_CONNECTOR && type != PM_PART_DRIVE) {
    pm_faults_add (build->faults, pm_xml_spot (sits),
                   _("%s is no socket, connector or drive: a board cannot sit there."), target->instance.ref);
    return;
  }
  g_autofree char *socket_is =
      type == PM_PART_DRIVE ? g_strdup_printf ("box-header-%u", target->n_outer) : g_strdup (target->instance.is);
  g_autofree char *plug_is =
      type == PM_PART_SOCKET ? g_strdup_printf ("dip-pins-%u", target->n_outer) : g_strdup (socket_is);
  for (guint i = 0; i < 2; i++) {
    PmRaw raw = { .element = sits };
    const char *is = i == 0 ? socket_is : plug_is;
    if (!pm_is_name (names[i])) {
      bad_name (build, sits, names[i]);
      return;
    }
    raw.instance.part = pm_scope_part (&build->scope, is, NULL, &raw.instance.value, pm_xml_spot (sits), build->faults);
    if (raw.instance.part == NULL || !claim_ref (build, seen, names[i], sits))
      return;
    raw.instance.ref = g_strdup (names[i]);
    raw.instance.owner = PM_OWNER_BOARD;
    raw.instance.is = g_strdup (is);
    raw.instance.spot = pm_xml_spot (sits);
    raw.n_outer = raw.instance.part->n_pins;
    g_array_append_val (raws, raw);
  }
  if (raws->len >= 2) {
    g_hash_table_remove (build->broken, names[0]);
    g_hash_table_remove (build->broken, names[1]);
    build->sits = sits;
  }
}

guint32
pm_build_add_raw (PmBuild *build, const char *ref, const PmPart *part, PmOwner owner, guint owner_index, PmSpot spot)
{
  PmRaw raw = { { g_strdup (ref), NULL, owner, owner_index, part, NULL, g_strdup (part->name), NAN,
                  build->board->n_places, FALSE, spot },
                NULL,
                part->n_pins };
  guint32 index = build->raws->len;

  g_array_append_val (build->raws, raw);
  build->board->n_places += part->n_pins;
  g_hash_table_insert (build->refs, g_strdup (ref), GUINT_TO_POINTER (index + 1));
  pm_build_grow (build);
  return index;
}

/* Puts the groups one behind the other, numbers the places, and notes names. */
static void
number_all (PmBuild *build, GArray *const *groups, guint n_groups)
{
  for (guint g = 0; g < n_groups; g++)
    g_array_append_vals (build->raws, groups[g]->data, groups[g]->len);
  for (guint i = 0; i < build->raws->len; i++) {
    PmRaw *raw = &g_array_index (build->raws, PmRaw, i);
    const char *place = raw->element != build->sits ? pm_xml_get (raw->element, "place") : NULL;
    raw->instance.first_place = build->board->n_places;
    build->board->n_places += raw->instance.part->n_pins;
    g_hash_table_insert (build->refs, g_strdup (raw->instance.ref), GUINT_TO_POINTER (i + 1));
    if (place == NULL || raw->instance.part->type == PM_PART_DRIVE)
      continue;
    if (g_hash_table_contains (build->spots, place))
      pm_faults_add (build->faults, raw->instance.spot, _("the place \"%s\" is given twice. Rename one."), place);
    else
      g_hash_table_insert (build->spots, g_strdup (place), GUINT_TO_POINTER (i + 1));
  }
}

void
pm_build_instances (PmBuild *build)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  /* board, X1 and P1, host, drives, cables */
  GArray *groups[5];

  for (guint g = 0; g < G_N_ELEMENTS (groups); g++)
    groups[g] = g_array_new (FALSE, TRUE, sizeof (PmRaw));
  find_setup (build);
  if (build->host == NULL)
    find_host (build, build->root);
  build->board_context = (PmContext){ "", PM_OWNER_BOARD, 0, PM_NONE, build->root };
  build->host_context = (PmContext){ "host.", PM_OWNER_HOST, 0, PM_NONE, build->host };
  build->setup_context = (PmContext){ "", PM_OWNER_BOARD, 0, PM_NONE, build->setup };
  add_parts (build, groups[0], seen, &build->board_context);
  add_parts (build, groups[0], seen, &build->setup_context);
  add_parts (build, groups[2], seen, &build->host_context);
  add_drives (build, groups[3], seen, build->root);
  add_drives (build, groups[3], seen, build->setup);
  add_cables (build, groups[4], seen, &build->board_context, build->root, groups, 5);
  add_cables (build, groups[4], seen, &build->board_context, build->setup, groups, 5);
  add_cables (build, groups[4], seen, &build->host_context, build->host, groups, 5);
  add_sits (build, groups[1], seen, groups, 5);

  guint before_drives = groups[0]->len + groups[1]->len + groups[2]->len,
        before_cables = before_drives + groups[3]->len;
  build->sits_first = build->sits != NULL ? groups[0]->len : PM_NONE;
  for (guint i = 0; i < build->raw_drives->len; i++)
    g_array_index (build->raw_drives, PmRawDrive, i).instance += before_drives;
  for (guint i = 0; i < build->raw_cables->len; i++)
    g_array_index (build->raw_cables, PmRawCable, i).instance += before_cables;
  number_all (build, groups, 5);
  for (guint g = 0; g < G_N_ELEMENTS (groups); g++)
    g_array_unref (groups[g]);
  pm_build_grow (build);
}
