/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces of metal: joins, plugs, rails and closed contacts, united place by place. */
#include "config.h"
#include "pm-metal.h"

guint32 *
pm_metal_new (guint32 n_places)
{
  guint32 *metal = g_new (guint32, n_places + 1);
  for (guint32 p = 0; p < n_places; p++)
    metal[p] = p;
  return metal;
}

guint32
pm_metal_root (guint32 *metal, guint32 place)
{
  while (metal[place] != place)
    place = metal[place] = metal[metal[place]];
  return place;
}

void
pm_metal_unite (guint32 *metal, guint32 a, guint32 b)
{
  a = pm_metal_root (metal, a);
  b = pm_metal_root (metal, b);
  metal[MAX (a, b)] = MIN (a, b);
}

void
pm_metal_unite_join (guint32 *metal, const PmJoin *join)
{
  for (guint k = 1; k < join->n_places; k++)
    pm_metal_unite (metal, join->places[0], join->places[k]);
}

static void
unite_matings (const PmBoard *board, guint which, guint32 *metal)
{
  for (guint m = 0; m < board->n_matings; m++) {
    const PmMating *mating = &board->matings[m];
    gboolean own =
        board->instances[mating->a].owner == PM_OWNER_BOARD && board->instances[mating->b].owner == PM_OWNER_BOARD;
    if (mating->when == PM_MATING_WITHOUT_BOARD || (which & (own ? PM_METAL_LEADS : PM_METAL_MACHINE)) == 0)
      continue;
    for (guint k = 0; k < mating->n_pairs; k++)
      pm_metal_unite (metal, mating->pairs[k].a, mating->pairs[k].b);
  }
}

guint32 *
pm_metal_of_board (const PmBoard *board, guint which, const int *positions)
{
  guint32 *metal = pm_metal_new (board->n_places);
  for (guint j = 0; j < board->n_joins; j++) {
    const PmJoin *join = &board->joins[j];
    if (join->kind == PM_JOIN_CUT || (which & (join->owner == PM_OWNER_BOARD ? PM_METAL_JOINS : PM_METAL_MACHINE)) == 0)
      continue;
    pm_metal_unite_join (metal, join);
  }
  unite_matings (board, which, metal);
  for (guint r = 0; r < board->n_rails && (which & PM_METAL_MACHINE) != 0; r++)
    for (guint k = 1; k < board->rails[r].n_places; k++)
      pm_metal_unite (metal, board->rails[r].places[0], board->rails[r].places[k]);
  for (guint s = 0; s < board->n_switches && positions != NULL; s++) {
    const PmSwitch *sw = &board->switches[s];
    if (positions[s] < 0 || (guint)positions[s] >= sw->n_positions ||
        (sw->owner != PM_OWNER_BOARD && (which & PM_METAL_MACHINE) == 0))
      continue;
    for (guint k = 0; k < sw->positions[positions[s]].n_pairs; k++)
      pm_metal_unite (metal, sw->positions[positions[s]].pairs[k].a, sw->positions[positions[s]].pairs[k].b);
  }
  for (guint32 p = 0; p < board->n_places; p++)
    metal[p] = pm_metal_root (metal, p);
  return metal;
}
