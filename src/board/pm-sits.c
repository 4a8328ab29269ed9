/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a board sits: the socket X1 takes what was plugged into the machine, the plug P1 goes in its place, and every
 * pin that is not cut goes straight through. */
#include "config.h"
#include "pm-board-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

guint32
pm_build_passes (PmBuild *build, guint32 place, gboolean *more)
{
  guint32 found = PM_NONE;

  *more = FALSE;
  if (place == PM_NONE)
    return PM_NONE;
  guint32 net = pm_net_of (build, place);
  for (guint32 i = 0; i < build->n_machine; i++)
    if (build->machine[i] != PM_NONE && pm_net_of (build, build->machine[i]) == net) {
      if (found != PM_NONE) {
        *more = TRUE;
        return found;
      }
      found = i;
    }
  return found;
}

/* Instance that the board's place names; sits_target has looked at it before. */
static guint32
find_target (PmBuild *build)
{
  const char *into = pm_xml_get (build->sits, "into");
  guint end;
  guint32 target = pm_build_into (build, &build->board_context, into, pm_xml_spot (build->sits), &end);

  if (target == PM_NONE)
    return PM_NONE;
  const PmRaw *raw = pm_build_raw (build, target);
  const char *socket = pm_xml_get (raw->element, "into");
  if (raw->instance.owner != PM_OWNER_HOST || socket == NULL || raw->instance.part->type == PM_PART_SOCKET)
    return target;
  return pm_build_into (build, &build->host_context, socket, raw->instance.spot, &end);
}

/* The board at a drive: P1 goes where the drive was plugged. */
static guint32
move_drive (PmBuild *build, guint32 drive, guint32 *into)
{
  guint32 moved = PM_NONE;

  for (guint i = 0; i < build->matings->len; i++) {
    const PmMating *mating = &g_array_index (build->matings, PmMating, i);
    if (mating->a != drive)
      continue;
    moved = i;
    *into = mating->b;
    for (guint k = 0; k < mating->n_pairs; k++) {
      guint32 pin = mating->pairs[k].a - pm_build_raw (build, drive)->instance.first_place;
      if (pin < build->n_machine)
        build->machine[pin] = mating->pairs[k].b;
    }
  }
  return moved;
}

/* What was plugged straight is so only without the board; with it, it is in X1. */
static void
move_to_socket (PmBuild *build, guint32 index, guint32 target)
{
  PmMating straight = g_array_index (build->matings, PmMating, index);
  const PmInstance *socket = &pm_build_raw (build, build->sits_first)->instance;
  const PmInstance *from = &pm_build_raw (build, straight.a == target ? straight.a : straight.b)->instance;
  PmMating moved = straight;

  moved.when = PM_MATING_WITH_BOARD;
  moved.b = build->sits_first;
  moved.pairs = g_memdup2 (straight.pairs, sizeof (PmPair) * straight.n_pairs);
  moved.turned = straight.n_turned > 0 ? g_memdup2 (straight.turned, sizeof (PmPair) * straight.n_turned) : NULL;
  for (guint k = 0; k < moved.n_pairs; k++)
    moved.pairs[k].b =
        socket->first_place + ((straight.a == target ? moved.pairs[k].a : moved.pairs[k].b) - from->first_place);
  for (guint k = 0; k < moved.n_turned; k++)
    moved.turned[k].b =
        straight.a == target ? moved.turned[k].b : socket->first_place + (moved.turned[k].b - from->first_place);
  if (straight.a == target) /* a drive cannot be plugged turned round and moved at once */
    moved.n_turned = 0;
  g_array_index (build->matings, PmMating, index).when = PM_MATING_WITHOUT_BOARD;
  g_array_append_val (build->matings, moved);
}

/* Marks the pins that cuts= names: lines of the host, numbers, ranges. */
static void
read_cuts (PmBuild *build, gboolean *cut)
{
  const PmHost *host = &build->board->host;
  PmSpot spot = pm_xml_spot (build->sits);
  g_auto (GStrv) words = pm_split_words (pm_xml_get (build->sits, "cuts"));

  for (guint i = 0; words[i] != NULL; i++) {
    guint32 line = pm_host_line (host, words[i]);
    gboolean more = FALSE, passes = FALSE;
    if (line != PM_NONE) {
      guint32 net = host->lines[line].place != PM_NONE ? pm_net_of (build, host->lines[line].place) : PM_NONE;
      for (guint k = 0; k < build->n_machine && net != PM_NONE; k++)
        if (build->machine[k] != PM_NONE && pm_net_of (build, build->machine[k]) == net)
          passes = cut[k] = TRUE;
      if (!passes)
        pm_faults_add (build->faults, spot,
                       _("cuts: %s does not pass where the board sits. Name the pin by its number."), words[i]);
      continue;
    }
    if (!g_ascii_isdigit (words[i][0]) && strcmp (words[i], "odd") != 0 && strcmp (words[i], "even") != 0 &&
        strcmp (words[i], "all") != 0) {
      g_autoptr (GPtrArray) names = g_ptr_array_new ();
      for (guint k = 0; k < host->n_lines; k++)
        if (pm_build_passes (build, host->lines[k].place, &more) != PM_NONE)
          g_ptr_array_add (names, host->lines[k].name);
      const char *near = pm_nearest (words[i], (const char *const *)names->pdata, names->len);
      g_ptr_array_add (names, NULL);
      g_autofree char *list = g_strjoinv (" ", (char **)names->pdata);
      if (near != NULL)
        pm_faults_add (build->faults, spot, _("cuts: \"%s\" is no line and no pin. Here pass %s. Did you mean %s?"),
                       words[i], list, near);
      else
        pm_faults_add (build->faults, spot, _("cuts: \"%s\" is no line and no pin. Here pass %s."), words[i], list);
      continue;
    }
    g_autoptr (GArray) pins = g_array_new (FALSE, FALSE, sizeof (guint32));
    pm_build_pins (build, build->sits_first, words[i], spot, pins);
    for (guint k = 0; k < pins->len; k++)
      cut[g_array_index (pins, guint32, k)] = TRUE;
  }
}

static void
add_through (PmBuild *build)
{
  const PmInstance *socket = &pm_build_raw (build, build->sits_first)->instance;
  const PmInstance *plug = &pm_build_raw (build, build->sits_first + 1)->instance;
  g_autofree gboolean *cut = g_new0 (gboolean, build->n_machine + 1);
  guint n = build->n_machine;

  read_cuts (build, cut);
  for (guint i = 0; i < n; i++) {
    guint32 places[2] = { plug->first_place + i, socket->first_place + i };
    pm_build_add_join (build, cut[i] ? PM_JOIN_CUT : PM_JOIN_THROUGH, NULL, places, 2, &build->board_context,
                       pm_xml_spot (build->sits));
  }
}

/* "SEL0:chip" for later: pm_board_find_place. */
static void
note_sides (PmBuild *build)
{
  const PmHost *host = &build->board->host;
  guint32 socket = pm_build_raw (build, build->sits_first)->instance.first_place;
  guint32 plug = pm_build_raw (build, build->sits_first + 1)->instance.first_place;
  gboolean more;

  for (guint i = 0; i < host->n_lines; i++) {
    guint32 pin = pm_build_passes (build, host->lines[i].place, &more);
    if (pin == PM_NONE || more)
      continue;
    g_hash_table_insert (build->full->sides, g_strconcat (host->lines[i].name, ":machine", NULL),
                         GUINT_TO_POINTER (plug + pin + 1));
    g_hash_table_insert (build->full->sides,
                         g_strconcat (host->lines[i].name, build->in_cable ? ":drive" : ":chip", NULL),
                         GUINT_TO_POINTER (socket + pin + 1));
  }
}

void
pm_build_sits (PmBuild *build)
{
  if (build->sits == NULL)
    return;
  guint32 target = find_target (build), into = target;
  if (target == PM_NONE) {
    build->sits = NULL;
    return;
  }
  const PmRaw *at = pm_build_raw (build, target);
  guint32 plug = build->sits_first + 1;
  guint n_before = build->matings->len;

  build->n_machine = pm_build_raw (build, plug)->n_outer;
  build->machine = g_new (guint32, build->n_machine + 1);
  build->in_cable = at->instance.part->type != PM_PART_SOCKET;
  build->board->has_board = TRUE;
  for (guint i = 0; i < build->n_machine; i++)
    build->machine[i] =
        at->instance.part->type != PM_PART_DRIVE && i < at->n_outer ? at->instance.first_place + i : PM_NONE;
  if (at->instance.part->type == PM_PART_DRIVE) {
    guint32 moved = move_drive (build, target, &into);
    if (moved == PM_NONE) {
      g_hash_table_add (build->told, g_strconcat ("plugged ", at->instance.ref, NULL));
      pm_faults_add (build->faults, pm_xml_spot (build->sits),
                     _("%s is plugged into nothing, so nothing can sit before it. Give the drive into=\"…\"."),
                     at->instance.ref);
      return;
    }
    move_to_socket (build, moved, target);
  } else {
    for (guint i = 0; i < n_before; i++)
      if (g_array_index (build->matings, PmMating, i).b == target)
        move_to_socket (build, i, target);
  }
  GArray *pairs = g_array_new (FALSE, FALSE, sizeof (PmPair));
  for (guint i = 0; i < build->n_machine; i++) {
    PmPair pair = { pm_build_raw (build, plug)->instance.first_place + i, build->machine[i] };
    if (pair.b != PM_NONE)
      g_array_append_val (pairs, pair);
  }
  guint n_pairs = pairs->len;
  pm_build_mate (build, plug, into, (PmPair *)g_array_free (pairs, FALSE), n_pairs, build->sits, PM_MATING_WITH_BOARD);
  add_through (build);
  note_sides (build);
}
