/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The second half of reading a board: joins, wires, matings, and the supplies that chips get by themselves. */
#include "config.h"
#include "pm-board-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Arrays by place grow when a rail without a pin gets a place of its own. */
void
pm_build_grow (PmBuild *build)
{
  while (build->nets->len < build->board->n_places) {
    guint32 place = build->nets->len, none = 0;
    guint8 no = FALSE;
    g_array_append_val (build->nets, place);
    g_array_append_val (build->named, none);
    g_array_append_val (build->stamps, none);
    g_byte_array_append (build->mentioned, &no, 1);
  }
}

guint32
pm_net_of (PmBuild *build, guint32 place)
{
  pm_build_grow (build);
  guint32 *nets = (guint32 *)build->nets->data;
  while (nets[place] != place) {
    nets[place] = nets[nets[place]];
    place = nets[place];
  }
  return place;
}

void
pm_net_unite (PmBuild *build, guint32 a, guint32 b)
{
  a = pm_net_of (build, a);
  b = pm_net_of (build, b);
  ((guint32 *)build->nets->data)[MAX (a, b)] = MIN (a, b);
}

void
pm_build_add_join (PmBuild *build, PmJoinKind kind, const char *name, const guint32 *places, guint n,
                   const PmContext *context, PmSpot spot)
{
  PmJoin join = { kind, g_strdup (name), g_memdup2 (places, sizeof (guint32) * n),
                  n,    context->owner,  context->owner_index,
                  spot, NULL,            NULL,
                  NULL };

  g_array_append_val (build->joins, join);
  for (guint i = 1; i < n && context->owner != PM_OWNER_BOARD; i++)
    pm_net_unite (build, places[0], places[i]);
}

/* A place belongs to one named join only: else two lists would silently be one net. */
static void
note_named (PmBuild *build, const PmXml *element, guint32 place)
{
  guint32 *named = &g_array_index (build->named, guint32, place);
  guint32 own = build->joins->len + 1;
  PmSpot spot = pm_xml_spot (element);

  if (*named == 0 || *named == own) {
    *named = own;
    return;
  }
  const PmJoin *other = &g_array_index (build->joins, PmJoin, *named - 1);
  g_autofree char *name = pm_build_place_name (build, place);
  if (other->spot.file == spot.file) {
    spot.other_line = MAX (spot.line, other->spot.line);
    spot.line = MIN (spot.line, other->spot.line);
    pm_faults_add (build->faults, spot, _("%s is in two named joins. Put both lists into one, or take it out of one."),
                   name);
  } else {
    pm_faults_add (build->faults, spot, _("%s is in two named joins, here and in %s:%u. Take it out of one."), name,
                   other->spot.file, other->spot.line);
  }
}

/* Takes the places of one word into a join's list: each once. */
static void
take_places (PmBuild *build, const PmXml *element, const GArray *of_word, gboolean named, GArray *places)
{
  for (guint i = 0; i < of_word->len; i++) {
    guint32 place = g_array_index (of_word, guint32, i), *stamp = &g_array_index (build->stamps, guint32, place);
    if (*stamp == build->stamp)
      continue;
    *stamp = build->stamp;
    build->mentioned->data[place] = TRUE;
    if (named)
      note_named (build, element, place);
    g_array_append_val (places, place);
  }
}

static void
read_join (PmBuild *build, const PmContext *context, const PmXml *element)
{
  const char *name = pm_xml_get (element, "name");
  g_autofree char *rail_name = NULL;
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (guint32)),
                     of_word = g_array_new (FALSE, FALSE, sizeof (guint32));
  g_auto (GStrv) words = pm_split_words (element->text);
  gboolean good = TRUE;

  build->stamp++;
  for (guint i = 0; words[i] != NULL; i++) {
    const char *net = NULL;
    if (name != NULL && strcmp (words[i], name) == 0 && pm_build_rail (build, context, name, NULL) == PM_NONE)
      continue;
    g_array_set_size (of_word, 0);
    good = pm_build_word (build, context, words[i], pm_xml_spot (element), of_word, &net) && good;
    pm_build_grow (build);
    guint from = places->len;
    take_places (build, element, of_word, name != NULL && net == NULL, places);
    /* A rail is the middle of its star. */
    if (net != NULL && rail_name == NULL && places->len > from &&
        pm_build_rail (build, context, words[i], NULL) != PM_NONE) {
      guint32 rail = g_array_index (places, guint32, from);
      g_array_index (places, guint32, from) = g_array_index (places, guint32, 0);
      g_array_index (places, guint32, 0) = rail;
      rail_name = g_strdup (net);
    }
  }
  if (places->len == 0 && good)
    pm_faults_add (build->faults, pm_xml_spot (element),
                   _("this join is empty. List what it joins: <join>U1.1Y J1.10</join>"));
  else if (places->len == 1 && good && name == NULL)
    pm_faults_add (build->faults, pm_xml_spot (element),
                   _("this join names one pin only. List what it is joined to, or take it out."));
  /* A named join is kept even where it is short: its number stands in build->named. */
  if (places->len >= 2 || name != NULL)
    pm_build_add_join (build, rail_name != NULL ? PM_JOIN_SUPPLY : PM_JOIN_JOIN, name != NULL ? name : rail_name,
                       (guint32 *)places->data, places->len, context, pm_xml_spot (element));
}

static void
read_wire (PmBuild *build, const PmContext *context, const PmXml *element)
{
  const char *from = pm_xml_get (element, "from"), *to = pm_xml_get (element, "to");
  PmSpot spot = pm_xml_spot (element);
  guint32 places[2];

  if (from == NULL || to == NULL)
    return;
  places[0] = pm_build_place (build, context, from, spot);
  places[1] = pm_build_place (build, context, to, spot);
  if (places[0] == PM_NONE || places[1] == PM_NONE)
    return;
  pm_build_grow (build);
  build->mentioned->data[places[0]] = build->mentioned->data[places[1]] = TRUE;
  if (places[0] == places[1])
    pm_faults_add (build->faults, spot, _("this wire begins and ends at the same pin. Correct from= or to=."));
  else {
    pm_build_add_join (build, PM_JOIN_WIRE, pm_xml_get (element, "name"), places, 2, context, spot);
    PmJoin *wire = &g_array_index (build->joins, PmJoin, build->joins->len - 1);
    wire->colour = g_strdup (pm_xml_get (element, "colour"));
    wire->length = g_strdup (pm_xml_get (element, "length"));
    wire->gauge = g_strdup (pm_xml_get (element, "gauge"));
  }
}

static void
check_join_names (PmBuild *build, const PmContext *context)
{
  g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);

  for (const PmXml *child = context->root->children; child != NULL; child = child->next) {
    const char *name = pm_xml_is (child, "join") ? pm_xml_get (child, "name") : NULL;
    const PmXml *other = name != NULL ? g_hash_table_lookup (names, name) : NULL;
    if (name == NULL)
      continue;
    if (other != NULL) {
      PmSpot spot = pm_xml_spot (other);
      spot.other_line = child->line;
      pm_faults_add (build->faults, spot, _("two joins are named \"%s\". Put both lists into one, or rename one."),
                     name);
    } else {
      g_hash_table_insert (names, (gpointer)name, (gpointer)child);
    }
  }
}

void
pm_build_joins (PmBuild *build, const PmContext *context)
{
  if (context->root == NULL)
    return;
  pm_build_grow (build);
  check_join_names (build, context);
  for (const PmXml *child = context->root->children; child != NULL; child = child->next)
    if (pm_xml_is (child, "join"))
      read_join (build, context, child);
    else if (pm_xml_is (child, "wire"))
      read_wire (build, context, child);
}

/* How a plug can be turned round: end for end along a row or two facing rows; pins that run round a package by half the
 * way. */
static guint
turned_pin (const PmPart *part, guint n, guint pin)
{
  gboolean round = part->type == PM_PART_SOCKET || part->type == PM_PART_PINS || part->type == PM_PART_CHIP ||
                   part->type == PM_PART_LOGIC;

  return round ? (pin + n / 2) % n : n - 1 - pin;
}

guint32
pm_build_mate (PmBuild *build, guint32 a, guint32 b, PmPair *pairs, guint n_pairs, const PmXml *element,
               PmMatingWhen when)
{
  const PmRaw *plug = pm_build_raw (build, a), *into = pm_build_raw (build, b);
  const PmPart *part = into->instance.part;
  gboolean bare = part->type == PM_PART_CONNECTOR && !part->keyed && plug->instance.owner != PM_OWNER_DRIVE &&
                  plug->instance.owner != PM_OWNER_CABLE && !plug->instance.part->keyed;
  PmMating mating = { .when = when,
                      .a = a,
                      .b = b,
                      .pairs = pairs,
                      .n_pairs = n_pairs,
                      .leaves_out = PM_NONE,
                      .spot = pm_xml_spot (element) };

  mating.removable = pm_xml_yes (element, "removable", FALSE);
  mating.turns = pm_xml_yes (element, "turns", bare && when == PM_MATING_ALWAYS);
  if (mating.removable)
    mating.leaves_out = a;
  if (mating.turns) {
    guint n = into->n_outer;
    mating.turned = g_new (PmPair, n_pairs + 1);
    for (guint i = 0; i < n_pairs; i++)
      mating.turned[mating.n_turned++] =
          (PmPair){ pairs[i].a,
                    into->instance.first_place + turned_pin (part, n, pairs[i].b - into->instance.first_place) };
  }
  for (guint i = 0; i < n_pairs && plug->instance.owner != PM_OWNER_BOARD && into->instance.owner != PM_OWNER_BOARD;
       i++)
    pm_net_unite (build, pairs[i].a, pairs[i].b);
  g_array_append_val (build->matings, mating);
  return build->matings->len - 1;
}

guint32
pm_build_mate_all (PmBuild *build, guint32 a, guint32 b, const PmXml *element, PmMatingWhen when)
{
  const PmRaw *plug = pm_build_raw (build, a), *into = pm_build_raw (build, b);

  if (a == b) {
    pm_faults_add (build->faults, pm_xml_spot (element), _("%s is plugged into itself. Correct into=\"…\"."),
                   plug->instance.ref);
    return PM_NONE;
  }
  if (plug->n_outer != into->n_outer) {
    pm_faults_add (build->faults, pm_xml_spot (element), _("%s has %u pins and %s has %u: they do not fit."),
                   plug->instance.ref, plug->n_outer, into->instance.ref, into->n_outer);
    return PM_NONE;
  }
  PmPair *pairs = g_new (PmPair, plug->n_outer + 1);
  for (guint i = 0; i < plug->n_outer; i++)
    pairs[i] = (PmPair){ plug->instance.first_place + i, into->instance.first_place + i };
  return pm_build_mate (build, a, b, pairs, plug->n_outer, element, when);
}

/* into= of the parts of one file. */
void
pm_build_plugs (PmBuild *build, const PmContext *context)
{
  guint n = build->raws->len;

  for (guint i = 0; i < n; i++) {
    const PmRaw *raw = pm_build_raw (build, i);
    guint end;
    if (raw->element == NULL || !pm_xml_is (raw->element, "part") || raw->instance.owner != context->owner ||
        raw->instance.owner_index != context->owner_index)
      continue;
    const char *into = pm_xml_get (raw->element, "into");
    guint32 target = into != NULL ? pm_build_into (build, context, into, raw->instance.spot, &end) : PM_NONE;
    if (target != PM_NONE)
      pm_build_mate_all (build, i, target, raw->element, PM_MATING_ALWAYS);
  }
}

/* A pin that is plugged onto a pin that the files join is joined by that. */
static void
spread_mentions (PmBuild *build)
{
  for (guint i = 0; i < build->matings->len; i++) {
    const PmMating *mating = &g_array_index (build->matings, PmMating, i);
    for (guint k = 0; k < mating->n_pairs; k++) {
      guint8 *a = &build->mentioned->data[mating->pairs[k].a], *b = &build->mentioned->data[mating->pairs[k].b];
      *a = *b = *a || *b;
    }
  }
}

static void
supply_pin (PmBuild *build, const PmContext *context, const PmRaw *raw, guint pin)
{
  const PmPart *part = raw->instance.part;
  const char *rail = part->pins[pin].role == PM_PIN_SUPPLY ? "+5V" : "0V", *name = NULL;
  guint32 places[2] = { PM_NONE, raw->instance.first_place + pin };
  PmSpot spot = raw->instance.spot;
  char *ref = raw->instance.ref;

  places[0] = pm_build_rail (build, context, rail, &name);
  if (places[0] != PM_NONE) {
    g_autofree char *kept = g_strdup (name);
    pm_build_grow (build);
    pm_build_add_join (build, PM_JOIN_SUPPLY, kept, places, 2, context, spot);
  } else if (part->type == PM_PART_LOGIC && build->host != NULL) {
    pm_faults_add (
        build->faults, spot,
        _("%s.%s is not joined, and there is no rail \"%s\" for it. Add <rail name=\"%s\" …/>, or join the pin."), ref,
        part->pins[pin].name, rail, rail);
  }
}

/* VCC and VDD to +5V, GND, VSS and VEE to 0V, unless the files join the pin. */
void
pm_build_supplies (PmBuild *build)
{
  guint n = build->raws->len;

  pm_build_grow (build);
  spread_mentions (build);
  for (guint i = 0; i < n; i++) {
    PmRaw raw = *pm_build_raw (build, i);
    if (raw.instance.part->type != PM_PART_LOGIC && raw.instance.part->type != PM_PART_CHIP)
      continue;
    PmContext context = raw.instance.owner == PM_OWNER_DRIVE  ? pm_drive_context (build, raw.instance.owner_index)
                        : raw.instance.owner == PM_OWNER_HOST ? build->host_context
                                                              : build->board_context;
    for (guint pin = 0; pin < raw.instance.part->n_pins; pin++) {
      PmPinRole role = raw.instance.part->pins[pin].role;
      if ((role == PM_PIN_SUPPLY || role == PM_PIN_GROUND) && !build->mentioned->data[raw.instance.first_place + pin])
        supply_pin (build, &context, &raw, pin);
    }
  }
}
