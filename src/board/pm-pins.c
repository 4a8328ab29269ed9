/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pin lists: what the words of joins and of at= attributes mean, seen from one file.
 *
 * A word that begins with + or -, or is the name of a rail or of a join, is a net; a word with a colon is a side of a
 * line; else the last dot splits part and pin, and pins are names, numbers, ranges 10..16, odd, even, all.
 */
#include "config.h"
#include "pm-board-private.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

/* Suggestions are left out where there are many faults: they help no more and would cost much. */
static gboolean
too_many (PmBuild *build, const char *word, PmSpot spot)
{
  if (pm_faults_found (build->faults) < PM_FAULTS_MAX)
    return FALSE;
  pm_faults_add (build->faults, spot, "%s", word);
  return TRUE;
}

static gboolean
all_digits (const char *word)
{
  return *word != '\0' && word[strspn (word, "0123456789")] == '\0';
}

static gint
compare_sections (gconstpointer a, gconstpointer b)
{
  const PmPin *x = *(const PmPin *const *)a, *y = *(const PmPin *const *)b;
  const char *xn = x->name + (*x->name == '/'), *yn = y->name + (*y->name == '/');
  long xs = strtol (xn, (char **)&xn, 10), ys = strtol (yn, (char **)&yn, 10);

  return xs != ys ? (xs < ys ? -1 : 1) : strcmp (xn, yn);
}

static gboolean
has_section (const PmPin *pin)
{
  const char *name = pin->name + (*pin->name == '/');

  return g_ascii_isdigit (*name) && !all_digits (name);
}

/* "1..34", or names: those of numbered sections first, then what they share, then supply and ground. */
char *
pm_part_pins_text (const PmPart *part)
{
  g_autoptr (GPtrArray) sections = g_ptr_array_new (), rest = g_ptr_array_new ();
  GString *text = g_string_new (NULL);

  if (part->n_pins > 3 && all_digits (part->pins[part->n_pins - 1].name) && all_digits (part->pins[0].name)) {
    g_string_printf (text, "1..%u", part->n_pins);
    return g_string_free (text, FALSE);
  }
  for (guint i = 0; i < part->n_pins; i++)
    if (has_section (&part->pins[i]))
      g_ptr_array_add (sections, &part->pins[i]);
  g_ptr_array_sort (sections, compare_sections);
  for (guint turn = 0; turn < 3; turn++)
    for (guint i = 0; i < part->n_pins; i++) {
      PmPinRole role = part->pins[i].role;
      guint when = role == PM_PIN_SUPPLY ? 1 : role == PM_PIN_GROUND ? 2 : 0;
      if (when == turn && !has_section (&part->pins[i]))
        g_ptr_array_add (rest, &part->pins[i]);
    }
  g_ptr_array_extend (sections, rest, NULL, NULL);
  /* A drive's numbers are one range, its inner pins are named. */
  for (guint i = 0; i < sections->len; i++) {
    const PmPin *pin = g_ptr_array_index (sections, i);
    if (part->type == PM_PART_DRIVE && all_digits (pin->number)) {
      if (i == 0)
        g_string_append (text, "1");
      else if (i + 1 == sections->len || !all_digits (((PmPin *)g_ptr_array_index (sections, i + 1))->number))
        g_string_append_printf (text, "..%s", pin->number);
      continue;
    }
    g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", pin->name);
  }
  return g_string_free (text, FALSE);
}

static void
no_pin (PmBuild *build, const PmRaw *raw, const char *name, PmSpot spot)
{
  const PmPart *part = raw->instance.part;
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  const char *near = NULL;

  if (too_many (build, name, spot))
    return;
  g_autofree char *list = pm_part_pins_text (part);
  for (guint i = 0; i < part->n_pins; i++)
    if (!all_digits (part->pins[i].name))
      g_ptr_array_add (names, part->pins[i].name);
  if (!all_digits (name))
    near = pm_nearest (name, (const char *const *)names->pdata, names->len);
  if (near != NULL)
    pm_faults_add (build->faults, spot, _("%s has no pin \"%s\". A %s has %s. Did you mean %s?"), raw->instance.ref,
                   name, raw->instance.is, list, near);
  else
    pm_faults_add (build->faults, spot, _("%s has no pin \"%s\". A %s has %s."), raw->instance.ref, name,
                   raw->instance.is, list);
}

static gboolean
add_pin (PmBuild *build, const PmRaw *raw, const char *name, PmSpot spot, GArray *pins)
{
  guint32 pin = pm_part_pin (raw->instance.part, name);

  if (pin == PM_NONE) {
    no_pin (build, raw, name, spot);
    return FALSE;
  }
  g_array_append_val (pins, pin);
  return TRUE;
}

static gboolean
add_range (PmBuild *build, const PmRaw *raw, const char *spec, PmSpot spot, GArray *pins)
{
  guint low, high;
  char rest;

  if (sscanf (spec, "%u..%u%c", &low, &high, &rest) != 2 || low == 0 || high > 9999) {
    pm_faults_add (build->faults, spot, _("\"%s\": a range is two numbers with two dots, such as 10..16"), spec);
    return FALSE;
  }
  for (guint i = low;; i += low <= high ? 1 : -1) {
    const PmPart *part = raw->instance.part;
    guint32 pin = i - 1;
    /* Most parts count from 1. */
    if (i <= part->n_pins && g_ascii_strtoull (part->pins[pin].number, NULL, 10) == i) {
      g_array_append_val (pins, pin);
    } else {
      g_autofree char *number = g_strdup_printf ("%u", i);
      if (!add_pin (build, raw, number, spot, pins))
        return FALSE;
    }
    if (i == high)
      return TRUE;
  }
}

static gboolean
add_spec (PmBuild *build, const PmRaw *raw, const char *spec, PmSpot spot, GArray *pins)
{
  const PmPart *part = raw->instance.part;
  gboolean odd = strcmp (spec, "odd") == 0, even = strcmp (spec, "even") == 0;

  if (strstr (spec, "..") != NULL)
    return add_range (build, raw, spec, spot, pins);
  if (!odd && !even && strcmp (spec, "all") != 0)
    return add_pin (build, raw, spec, spot, pins);
  for (guint32 i = 0; i < raw->n_outer; i++)
    if ((!odd || i % 2 == 0) && (!even || i % 2 == 1) && i < part->n_pins)
      g_array_append_val (pins, i);
  return TRUE;
}

gboolean
pm_build_pins (PmBuild *build, guint32 instance, const char *spec, PmSpot spot, GArray *pins)
{
  g_auto (GStrv) words = pm_split_words (spec);
  gboolean good = TRUE;

  for (guint i = 0; words[i] != NULL; i++)
    good = add_spec (build, pm_build_raw (build, instance), words[i], spot, pins) && good;
  return good;
}

static guint32
ref_index (PmBuild *build, const char *prefix, const char *ref)
{
  g_autofree char *full = *prefix != '\0' ? g_strconcat (prefix, ref, NULL) : NULL;

  return GPOINTER_TO_UINT (g_hash_table_lookup (build->refs, full != NULL ? full : ref)) - 1;
}

static gboolean
is_broken (PmBuild *build, const char *prefix, const char *ref)
{
  g_autofree char *full = g_strconcat (prefix, ref, NULL);

  return g_hash_table_contains (build->broken, full);
}

guint32
pm_build_find (PmBuild *build, const PmContext *context, const char *ref, gboolean *broken, const char **also)
{
  guint32 found = ref_index (build, context->prefix, ref), other;

  *broken = FALSE;
  *also = NULL;
  if (found != PM_NONE)
    return found;
  *broken = is_broken (build, context->prefix, ref);
  if (*broken || context->owner != PM_OWNER_BOARD)
    return PM_NONE;
  /* From the board every prefix may be left out where only one file has the name. */
  found = ref_index (build, "host.", ref);
  *broken = found == PM_NONE && is_broken (build, "host.", ref);
  for (guint i = 0; i < build->raw_drives->len; i++) {
    const PmRawDrive *drive = &g_array_index (build->raw_drives, PmRawDrive, i);
    other = ref_index (build, drive->prefix, ref);
    *broken = *broken || (other == PM_NONE && is_broken (build, drive->prefix, ref));
    if (other == PM_NONE)
      continue;
    if (found != PM_NONE)
      *also = pm_build_raw (build, other)->instance.ref;
    else
      found = other;
  }
  return found;
}

static void
no_ref (PmBuild *build, const PmContext *context, const char *ref, const char *word, PmSpot spot)
{
  g_autofree char *key = g_strconcat (context->prefix, " ", ref, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  gsize prefix = strlen (context->prefix);

  if ((build->host == NULL && context->owner == PM_OWNER_BOARD) || g_hash_table_contains (build->told, key))
    return;
  /* A drive whose kind was not found has inner names that nobody knows. */
  const char *dot = strchr (ref, '.');
  g_autofree char *head = dot != NULL ? g_strndup (ref, dot - ref) : NULL;
  if (head != NULL && g_hash_table_contains (build->broken, head))
    return;
  g_hash_table_add (build->told, g_steal_pointer (&key));
  if (too_many (build, word, spot))
    return;
  for (guint i = 0; i < build->raws->len; i++)
    if (g_str_has_prefix (pm_build_raw (build, i)->instance.ref, context->prefix))
      g_ptr_array_add (names, pm_build_raw (build, i)->instance.ref + prefix);
  /* U2 is no misspelt U1. */
  const char *near = strlen (ref) > 3 ? pm_nearest (ref, (const char *const *)names->pdata, names->len) : NULL;
  if (near != NULL)
    pm_faults_add (build->faults, spot, _("%s: there is no part \"%s\". Did you mean %s?"), word, ref, near);
  else
    pm_faults_add (build->faults, spot,
                   _("%s: there is no part \"%s\". Add <part name=\"%s\" is=\"…\"/>, or correct the name."), word, ref,
                   ref);
}

static const PmXml *
find_join (PmBuild *build, const PmContext *context, const char *name)
{
  GHashTable *names = g_hash_table_lookup (build->join_names, context->root);

  if (names == NULL && context->root != NULL) {
    names = g_hash_table_new (g_str_hash, g_str_equal);
    g_hash_table_insert (build->join_names, (gpointer)context->root, names);
    for (const PmXml *child = context->root->children; child != NULL; child = child->next) {
      const char *own = pm_xml_is (child, "join") ? pm_xml_get (child, "name") : NULL;
      if (own != NULL && !g_hash_table_contains (names, own))
        g_hash_table_insert (names, (gpointer)own, (gpointer)child);
    }
  }
  return names != NULL ? g_hash_table_lookup (names, name) : NULL;
}

/* A named join stands for the first place in its list.  Each is looked at once per file; one that leads back to itself
 * has none. */
static guint32
join_place (PmBuild *build, const PmContext *context, const PmXml *join)
{
  g_autofree char *key = g_strdup_printf ("%s%s", context->prefix, pm_xml_get (join, "name"));
  gpointer known;
  guint32 place = PM_NONE;

  if (g_hash_table_lookup_extended (build->join_places, key, NULL, &known))
    return GPOINTER_TO_UINT (known);
  g_hash_table_insert (build->join_places, g_strdup (key), GUINT_TO_POINTER (PM_NONE));
  g_auto (GStrv) words = pm_split_words (join->text);
  /* Faults of that list are told where it stands. */
  PmFaults *silent = pm_faults_new (), *kept = build->faults;
  build->faults = silent;
  for (guint i = 0; words[i] != NULL && place == PM_NONE; i++) {
    g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (guint32));
    if (strcmp (words[i], pm_xml_get (join, "name")) != 0 &&
        pm_build_word (build, context, words[i], pm_xml_spot (join), places, NULL) && places->len > 0)
      place = g_array_index (places, guint32, 0);
  }
  build->faults = kept;
  pm_faults_free (silent);
  g_hash_table_insert (build->join_places, g_steal_pointer (&key), GUINT_TO_POINTER (place));
  return place;
}

static gboolean
names_only_joins (PmBuild *build, const PmContext *context, const PmXml *join)
{
  g_auto (GStrv) words = pm_split_words (join->text);

  for (guint i = 0; words[i] != NULL; i++)
    if (find_join (build, context, words[i]) == NULL)
      return FALSE;
  return words[0] != NULL;
}

static gboolean
no_rail (PmBuild *build, const PmContext *context, const char *word, PmSpot spot)
{
  g_autofree char *key = g_strconcat ("rail ", context->prefix, word, NULL), *list = NULL;

  if ((build->host == NULL && context->owner == PM_OWNER_BOARD) || g_hash_table_contains (build->told, key))
    return FALSE;
  g_hash_table_add (build->told, g_steal_pointer (&key));
  if (too_many (build, word, spot))
    return FALSE;
  list = pm_build_rail_names (build, context);
  if (*list == '\0')
    pm_faults_add (
        build->faults, spot,
        _("there is no rail \"%s\". Add <rail name=\"%s\" volts=\"…\" at=\"…\"/> to the machine or the board."), word,
        word);
  else
    pm_faults_add (build->faults, spot, _("there is no rail \"%s\". There are: %s."), word, list);
  return FALSE;
}

static void
no_line (PmBuild *build, const char *line, PmSpot spot)
{
  const PmHost *host = &build->board->host;
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < host->n_lines; i++)
    g_ptr_array_add (names, host->lines[i].name);
  const char *near = pm_nearest (line, (const char *const *)names->pdata, names->len);
  g_ptr_array_add (names, NULL);
  g_autofree char *list = g_strjoinv (" ", (char **)names->pdata);
  if (near != NULL)
    pm_faults_add (build->faults, spot, _("%s has no line \"%s\". It has %s. Did you mean %s?"), host->title, line,
                   list, near);
  else
    pm_faults_add (build->faults, spot, _("%s has no line \"%s\". It has %s."), host->title, line, list);
}

/* "SEL0:chip": the pin of X1 or P1 at which the line passes. */
static gboolean
side_place (PmBuild *build, const char *word, PmSpot spot, GArray *places)
{
  const char *colon = strrchr (word, ':'), *side = colon + 1;
  g_autofree char *name = g_strndup (word, colon - word);
  const char *far_side = build->in_cable ? "drive" : "chip";
  gboolean more = FALSE;

  if (build->host == NULL)
    return FALSE;
  if (build->sits == NULL) {
    if (pm_xml_child (build->root, "sits") == NULL)
      pm_faults_add (
          build->faults, spot,
          _("%s: this board sits nowhere, so a line has no sides. Add <sits into=\"…\"/>, or name the pin."), word);
    return FALSE;
  }
  if (strcmp (side, "machine") != 0 && strcmp (side, far_side) != 0) {
    pm_faults_add (build->faults, spot, _("%s: the sides here are %s:machine and %s:%s."), word, name, name, far_side);
    return FALSE;
  }
  guint32 line = pm_host_line (&build->board->host, name);
  if (line == PM_NONE) {
    no_line (build, name, spot);
    return FALSE;
  }
  guint32 at = build->board->host.lines[line].place;
  if (at == PM_NONE)
    return FALSE;
  guint32 socket = build->sits_first, pin = pm_build_passes (build, at, &more);
  if (pin == PM_NONE || more) {
    const char *ref = pm_build_raw (build, socket)->instance.ref;
    if (more)
      pm_faults_add (build->faults, spot, _("%s: the line passes several pins of %s. Name one, such as %s.%u."), word,
                     ref, ref, pin + 1);
    else
      pm_faults_add (build->faults, spot,
                     _("%s: the line does not pass where the board sits. Name the pin itself, such as %s.1."), word,
                     ref);
    return FALSE;
  }
  guint32 place = pm_build_raw (build, socket + (strcmp (side, "machine") == 0))->instance.first_place + pin;
  g_array_append_val (places, place);
  return TRUE;
}

static gboolean
spec_places (PmBuild *build, guint32 instance, const char *spec, PmSpot spot, GArray *places)
{
  g_autoptr (GArray) pins = g_array_new (FALSE, FALSE, sizeof (guint32));
  const PmRaw *raw = pm_build_raw (build, instance);

  if (!add_spec (build, raw, spec, spot, pins))
    return FALSE;
  for (guint i = 0; i < pins->len; i++) {
    guint32 place = raw->instance.first_place + g_array_index (pins, guint32, i);
    g_array_append_val (places, place);
  }
  return TRUE;
}

/* A word without a dot: a drive's own pin, a line of the host, or a mistake. */
static gboolean
bare_word (PmBuild *build, const PmContext *context, const char *word, PmSpot spot, GArray *places)
{
  const PmHost *host = &build->board->host;
  gboolean broken;
  const char *also;

  if (context->self != PM_NONE)
    return spec_places (build, context->self, word, spot, places);
  guint32 line = context->owner != PM_OWNER_DRIVE ? pm_host_line (host, word) : PM_NONE;
  if (line != PM_NONE) {
    gboolean more;
    if (context->owner == PM_OWNER_BOARD && build->sits != NULL &&
        pm_build_passes (build, host->lines[line].place, &more) != PM_NONE) {
      pm_faults_add (build->faults, spot, _("%s: which side? Write %s:machine or %s:%s."), word, word, word,
                     build->in_cable ? "drive" : "chip");
      return FALSE;
    }
    if (host->lines[line].place == PM_NONE)
      return FALSE;
    g_array_append_val (places, host->lines[line].place);
    return TRUE;
  }
  guint32 instance = pm_build_find (build, context, word, &broken, &also);
  if (instance != PM_NONE) {
    g_autofree char *list = pm_part_pins_text (pm_build_raw (build, instance)->instance.part);
    pm_faults_add (build->faults, spot, _("%s: which pin of it? Write %s.PIN; it has %s."), word, word, list);
  } else if (!broken && (build->host != NULL || context->owner != PM_OWNER_BOARD)) {
    pm_faults_add (build->faults, spot,
                   _("\"%s\" is no pin and no net. A pin is PART.PIN, such as U1.3; a net is a rail or a named join."),
                   word);
  }
  return FALSE;
}

gboolean
pm_build_word (PmBuild *build, const PmContext *context, const char *word, PmSpot spot, GArray *places,
               const char **net)
{
  const char *full_name = NULL, *also = NULL, *range = strstr (word, "..");
  gboolean broken;

  if (net != NULL)
    *net = NULL;
  guint32 rail = pm_build_rail (build, context, word, &full_name);
  if (rail != PM_NONE) {
    g_array_append_val (places, rail);
    if (net != NULL)
      *net = full_name;
    return TRUE;
  }
  if (*word == '+' || *word == '-')
    return no_rail (build, context, word, spot);
  const PmXml *join = find_join (build, context, word);
  if (join != NULL) {
    guint32 place = join_place (build, context, join);
    if (place == PM_NONE) {
      if (names_only_joins (build, context, join))
        pm_faults_add (build->faults, spot,
                       _("\"%s\" is the name of a join that names no pin: its list leads back to itself."), word);
      return FALSE;
    }
    g_array_append_val (places, place);
    if (net != NULL)
      *net = pm_xml_get (join, "name");
    return TRUE;
  }
  if (strchr (word, ':') != NULL)
    return side_place (build, word, spot, places);
  const char *dot = range != NULL ? g_strrstr_len (word, range - word, ".") : strrchr (word, '.');
  if (dot == NULL)
    return bare_word (build, context, word, spot, places);
  g_autofree char *ref = g_strndup (word, dot - word);
  guint32 instance = pm_build_find (build, context, ref, &broken, &also);
  if (instance == PM_NONE) {
    if (!broken)
      no_ref (build, context, ref, word, spot);
    return FALSE;
  }
  if (also != NULL) {
    pm_faults_add (build->faults, spot, _("%s: several files have a %s. Write %s.%s or %s.%s."), word, ref,
                   pm_build_raw (build, instance)->instance.ref, dot + 1, also, dot + 1);
    return FALSE;
  }
  return spec_places (build, instance, dot + 1, spot, places);
}

guint32
pm_build_place (PmBuild *build, const PmContext *context, const char *word, PmSpot spot)
{
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (guint32));
  g_autofree char *text = g_strstrip (g_strdup (word));

  if (*text == '\0' || strpbrk (text, " \t\r\n,") != NULL) {
    pm_faults_add (build->faults, spot, _("\"%s\": one pin is wanted here, such as U1.3"), word);
    return PM_NONE;
  }
  if (!pm_build_word (build, context, text, spot, places, NULL))
    return PM_NONE;
  if (places->len != 1) {
    pm_faults_add (build->faults, spot, _("\"%s\": one pin is wanted here, such as U1.3"), word);
    return PM_NONE;
  }
  return g_array_index (places, guint32, 0);
}

char *
pm_build_place_name (const PmBuild *build, guint32 place)
{
  for (guint i = 0; i < build->raws->len; i++) {
    const PmInstance *instance = &pm_build_raw (build, i)->instance;
    if (place < instance->first_place || place - instance->first_place >= instance->part->n_pins)
      continue;
    const char *pin = instance->part->pins[place - instance->first_place].name;
    return *pin != '\0' ? g_strconcat (instance->ref, ".", pin, NULL) : g_strdup (instance->ref);
  }
  return g_strdup ("?");
}

static gint
compare_words (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *)a, *(const char *const *)b);
}

static void
no_into (PmBuild *build, const char *word, PmSpot spot)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer name;

  if (build->host == NULL || too_many (build, word, spot))
    return;
  g_hash_table_iter_init (&iter, build->spots);
  while (g_hash_table_iter_next (&iter, &name, NULL))
    g_ptr_array_add (names, name);
  for (guint i = 0; i < build->raws->len; i++) {
    const PmInstance *instance = &pm_build_raw (build, i)->instance;
    if (instance->part->type == PM_PART_CONNECTOR || instance->part->type == PM_PART_SOCKET ||
        instance->part->type == PM_PART_CABLE)
      g_ptr_array_add (names, instance->ref);
  }
  g_ptr_array_sort (names, compare_words);
  const char *near = pm_nearest (word, (const char *const *)names->pdata, names->len);
  g_ptr_array_add (names, NULL);
  g_autofree char *list = g_strjoinv (" ", (char **)names->pdata);
  if (near != NULL)
    pm_faults_add (build->faults, spot, _("there is no place or connector \"%s\". There are: %s. Did you mean %s?"),
                   word, list, near);
  else
    pm_faults_add (build->faults, spot, _("there is no place or connector \"%s\". There are: %s."), word, list);
}

guint32
pm_build_into (PmBuild *build, const PmContext *context, const char *word, PmSpot spot, guint *end)
{
  gboolean broken;
  const char *also;
  guint32 found = GPOINTER_TO_UINT (g_hash_table_lookup (build->spots, word)) - 1;

  *end = 0;
  if (found != PM_NONE)
    return found;
  found = pm_build_find (build, context, word, &broken, &also);
  if (also != NULL) {
    pm_faults_add (build->faults, spot, _("\"%s\": several files have it. Write %s or %s."), word,
                   pm_build_raw (build, found)->instance.ref, also);
    return PM_NONE;
  }
  if (found != PM_NONE || broken)
    return found;
  const char *dot = strrchr (word, '.');
  if (dot != NULL && all_digits (dot + 1)) {
    g_autofree char *cable = g_strndup (word, dot - word);
    found = pm_build_find (build, context, cable, &broken, &also);
    if (found != PM_NONE && pm_build_raw (build, found)->instance.part->type == PM_PART_CABLE) {
      *end = atoi (dot + 1);
      return found;
    }
  }
  no_into (build, word, spot);
  return PM_NONE;
}
