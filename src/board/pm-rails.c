/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Supplies and rails: of the host, of the board, of drives with a supply of their own. */
#include "config.h"
#include "pm-board-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

static guint
add_supply (PmBuild *build, const char *name, const char *title, PmSupplyOwner owner, guint owner_index, PmSpot spot)
{
  PmSupply supply = { g_strdup (name), g_strdup (title), owner, owner_index, spot };

  g_array_append_val (build->supplies, supply);
  return build->supplies->len - 1;
}

static double
read_amperes (PmBuild *build, const PmXml *element, const char *name)
{
  const char *value = pm_xml_get (element, name);
  g_autoptr (GError) error = NULL;
  PmQuantity quantity;

  if (value == NULL)
    return NAN;
  if (pm_quantity_parse (value, PM_UNIT_AMPERE, &quantity, &error))
    return quantity.value;
  pm_faults_add (build->faults, pm_xml_spot (element), "%s=\"%s\": %s", name, value, error->message);
  return NAN;
}

/* "+12V" is 12 V, "0V" is 0 V, "-5V" is -5 V; 5 V where the name does not tell. */
static double
volts_of_name (const char *name)
{
  char *end = NULL;
  double volts = g_ascii_strtod (name, &end);

  return end != name && (*end == 'V' || *end == 'v') && fabs (volts) <= 100 ? volts : 5;
}

/* A rail no file gives a pin: a place of its own. */
static guint32
add_rail_place (PmBuild *build, const char *ref, PmOwner owner, guint owner_index, PmSpot spot)
{
  PmPart *part = pm_build_new_part (build, "rail", PM_PART_CONNECTOR, 1);

  g_free (part->pins[0].name);
  part->pins[0].name = g_strdup ("");
  return pm_build_raw (build, pm_build_add_raw (build, ref, part, owner, owner_index, spot))->instance.first_place;
}

static guint
add_rail (PmBuild *build, const char *name, double volts, guint supply, const guint32 *places, guint n_places,
          PmSpot spot)
{
  PmRail rail = { g_strdup (name), volts, 0.05, supply, g_memdup2 (places, sizeof (guint32) * n_places),
                  n_places,        NAN,   NAN,  spot };

  g_array_append_val (build->rails, rail);
  for (guint i = 1; i < n_places; i++)
    pm_net_unite (build, places[0], places[i]);
  return build->rails->len - 1;
}

static void
read_rail (PmBuild *build, const PmContext *context, const PmXml *element, guint supply)
{
  const char *name = pm_xml_get (element, "name"), *volts = pm_xml_get (element, "volts"),
             *at = pm_xml_get (element, "at");
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (guint32));
  g_autoptr (GError) error = NULL;
  PmSpot spot = pm_xml_spot (element);
  PmQuantity quantity;

  if (name == NULL)
    return;
  for (guint i = 0; i < build->rails->len; i++) {
    const PmRail *other = &g_array_index (build->rails, PmRail, i);
    if (strcmp (other->name, name) == 0 && other->spot.file == spot.file) {
      spot.other_line = spot.line;
      spot.line = other->spot.line;
      pm_faults_add (build->faults, spot,
                     _("the rail \"%s\" is given twice. One rail may have several pins: at=\"J1.1 J1.3\"."), name);
      return;
    }
  }
  g_auto (GStrv) words = pm_split_words (at);
  for (guint i = 0; words[i] != NULL; i++) {
    guint from = places->len;
    pm_build_word (build, context, words[i], spot, places, NULL);
    for (guint k = from; k < places->len; k++)
      build->mentioned->data[g_array_index (places, guint32, k)] = TRUE;
  }
  if (places->len == 0) {
    g_autofree char *ref = g_strconcat (context->owner == PM_OWNER_HOST ? "" : context->prefix, name, NULL);
    g_autofree char *other = g_hash_table_contains (build->refs, ref) ? g_strconcat ("board.", name, NULL) : NULL;
    guint32 place = add_rail_place (build, other != NULL ? other : ref, context->owner, context->owner_index, spot);
    g_array_append_val (places, place);
  }
  guint index = add_rail (build, name, volts_of_name (name), supply, (guint32 *)places->data, places->len, spot);
  PmRail *rail = &g_array_index (build->rails, PmRail, index);
  if (volts != NULL && pm_quantity_parse (volts, PM_UNIT_VOLT, &quantity, &error)) {
    rail->volts = quantity.value;
    rail->tolerance = quantity.tolerance;
  } else if (volts != NULL) {
    pm_faults_add (build->faults, spot, "volts=\"%s\": %s", volts, error->message);
  }
  rail->limit = read_amperes (build, element, "limit");
  rail->surge = read_amperes (build, element, "surge");
}

static guint32
find_rail (const PmBuild *build, PmSupplyOwner owner, guint owner_index, const char *name)
{
  for (guint i = 0; i < build->rails->len; i++) {
    const PmRail *rail = &g_array_index (build->rails, PmRail, i);
    const PmSupply *supply = &g_array_index (build->supplies, PmSupply, rail->supply);
    if (supply->owner == owner && supply->owner_index == owner_index && strcmp (rail->name, name) == 0)
      return i;
  }
  return PM_NONE;
}

/* A machine's rail by its name or, for what chips expect, by its volts. */
static guint32
find_host_rail (const PmBuild *build, const char *name)
{
  guint32 found = find_rail (build, PM_SUPPLY_HOST, 0, name);

  for (guint i = 0;
       found == PM_NONE && i < build->rails->len && (strcmp (name, "+5V") == 0 || strcmp (name, "0V") == 0); i++) {
    const PmRail *rail = &g_array_index (build->rails, PmRail, i);
    if (g_array_index (build->supplies, PmSupply, rail->supply).owner == PM_SUPPLY_HOST &&
        fabs (rail->volts - volts_of_name (name)) < 0.5)
      found = i;
  }
  return found;
}

static guint32
host_rail (PmBuild *build, const char *name)
{
  guint32 found = find_host_rail (build, name);

  /* 0 V is there in every machine. */
  if (found == PM_NONE && strcmp (name, "0V") == 0) {
    PmSpot spot = build->host != NULL ? pm_xml_spot (build->host) : pm_xml_spot (build->root);
    guint32 place = add_rail_place (build, name, PM_OWNER_HOST, 0, spot);
    found = add_rail (build, name, 0, 0, &place, 1, spot);
  }
  return found;
}

/* A drive's rails: 0 V is everybody's; the others belong to its supply and are there when they are spoken of. */
static guint32
drive_rail (PmBuild *build, guint index, const char *name)
{
  const PmDrive *drive = &build->board->drives[index];
  const PmSupply *supply = &g_array_index (build->supplies, PmSupply, drive->supply);
  gboolean own = supply->owner == PM_SUPPLY_DRIVE;

  if (strcmp (name, "0V") == 0)
    return host_rail (build, name);
  if (*name != '+' && *name != '-')
    return PM_NONE;
  g_autofree char *full = own ? g_strconcat (drive->name, " ", name, NULL) : g_strdup (name);
  guint32 found = own ? find_rail (build, PM_SUPPLY_DRIVE, index, full) : find_host_rail (build, name);
  if (found != PM_NONE)
    return found;
  g_autofree char *ref = own ? g_strconcat (drive->name, ".", name, NULL) : g_strdup (name);
  guint32 place = add_rail_place (build, ref, own ? PM_OWNER_DRIVE : PM_OWNER_HOST, own ? index : 0, drive->spot);
  return add_rail (build, full, volts_of_name (name), drive->supply, &place, 1, drive->spot);
}

/* Where the board's plug carries a rail of the host, that pin; else the rail itself. */
static guint32
rail_at_plug (PmBuild *build, const PmRail *rail)
{
  guint32 net = pm_net_of (build, rail->places[0]);

  for (guint i = 0; build->sits != NULL && i < build->n_machine; i++)
    if (build->machine[i] != PM_NONE && pm_net_of (build, build->machine[i]) == net)
      return pm_build_raw (build, build->sits_first + 1)->instance.first_place + i;
  return rail->places[0];
}

guint32
pm_build_rail (PmBuild *build, const PmContext *context, const char *name, const char **full_name)
{
  guint32 index = PM_NONE;

  if (context->owner == PM_OWNER_BOARD)
    index = find_rail (build, PM_SUPPLY_BOARD, 0, name);
  else if (context->owner == PM_OWNER_DRIVE)
    index = drive_rail (build, context->owner_index, name);
  gboolean of_host = index == PM_NONE && context->owner != PM_OWNER_DRIVE;
  if (of_host)
    index = strcmp (name, "0V") == 0 && build->host != NULL ? host_rail (build, name) : find_host_rail (build, name);
  if (index == PM_NONE)
    return PM_NONE;
  const PmRail *rail = &g_array_index (build->rails, PmRail, index);
  if (full_name != NULL)
    *full_name = rail->name;
  return of_host && context->owner == PM_OWNER_BOARD ? rail_at_plug (build, rail) : rail->places[0];
}

char *
pm_build_rail_names (PmBuild *build, const PmContext *context)
{
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < build->rails->len; i++) {
    const PmRail *rail = &g_array_index (build->rails, PmRail, i);
    PmSupplyOwner owner = g_array_index (build->supplies, PmSupply, rail->supply).owner;
    if (owner == PM_SUPPLY_HOST || (owner == PM_SUPPLY_BOARD && context->owner == PM_OWNER_BOARD))
      g_string_append_printf (names, "%s%s", names->len > 0 ? " " : "", rail->name);
  }
  return g_string_free (names, FALSE);
}

/* Rails of the board, and of its setup. */
static void
read_board_rails (PmBuild *build, const PmContext *context, guint *supply)
{
  for (const PmXml *child = context->root != NULL ? context->root->children : NULL; child != NULL;
       child = child->next) {
    if (!pm_xml_is (child, "rail"))
      continue;
    if (*supply == PM_NONE)
      *supply = add_supply (build, "board", _("the board's own supply"), PM_SUPPLY_BOARD, 0, pm_xml_spot (child));
    read_rail (build, context, child, *supply);
  }
}

void
pm_build_rails (PmBuild *build)
{
  const PmXml *host = build->host;
  const char *title = host != NULL ? pm_xml_get (host, "title") : NULL;
  guint board_supply = PM_NONE;

  add_supply (build, "host",
              title != NULL  ? title
              : host != NULL ? pm_xml_get (host, "name")
                             : "host",
              PM_SUPPLY_HOST, 0, pm_xml_spot (host != NULL ? host : build->root));
  for (const PmXml *child = host != NULL ? host->children : NULL; child != NULL; child = child->next)
    if (pm_xml_is (child, "rail"))
      read_rail (build, &build->host_context, child, 0);
  read_board_rails (build, &build->setup_context, &board_supply);
  read_board_rails (build, &build->board_context, &board_supply);
  for (guint i = 0; i < build->board->n_drives; i++) {
    static const char *const supplies[] = { "host", "own", NULL };
    const PmXml *element = g_array_index (build->raw_drives, PmRawDrive, i).element;
    PmDrive *drive = &build->board->drives[i];
    if (pm_xml_choice (element, "supply", supplies, 0, build->faults) == 0)
      continue;
    drive->supply = add_supply (build, drive->name, drive->title, PM_SUPPLY_DRIVE, i, drive->spot);
    drive_rail (build, i, "+5V");
  }
}
