/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes a board out fact by fact. */
#include "board-text.h"

static void
add_place (GString *text, const PmBoard *board, guint32 place)
{
  g_autofree char *name = place != PM_NONE ? pm_board_place_name (board, place) : g_strdup ("none");

  g_string_append_printf (text, " %s", name);
}

static void
add_pairs (GString *text, const PmBoard *board, const char *mark, const PmPair *pairs, guint n)
{
  g_string_append_printf (text, " %s:", mark);
  for (guint i = 0; i < n; i++) {
    add_place (text, board, pairs[i].a);
    add_place (text, board, pairs[i].b);
  }
}

static void
add_words (GString *text, const char *mark, char **words)
{
  g_autofree char *joined = words != NULL ? g_strjoinv (" ", words) : NULL;

  g_string_append_printf (text, " %s(%s)", mark, joined != NULL ? joined : "");
}

static void
add_family (GString *text, const PmFamily *family)
{
  if (family == NULL)
    return;
  g_string_append_printf (text, " family %s (%s) %g %g %g %g, %g %g %g %g, %g..%g %d %d", family->name, family->title,
                          family->receiver.vil, family->receiver.vih, family->receiver.iil, family->receiver.iih,
                          family->vol, family->voh, family->iol, family->ioh, family->supply_low, family->supply_high,
                          family->unpowered, family->bipolar);
}

static void
add_instances (GString *text, const PmBoard *board)
{
  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *instance = &board->instances[i];
    const PmPart *part = instance->part;
    g_string_append_printf (text, "instance %s (%s) is %s owner %d %u value %g assumed %d: %s %d %s keyed %d rows %u",
                            instance->ref, instance->title, instance->is, instance->owner, instance->owner_index,
                            instance->value, instance->assumed, part->name, part->type, part->title, part->keyed,
                            part->rows);
    add_family (text, instance->family);
    for (guint k = 0; k < part->n_pins; k++)
      g_string_append_printf (text, " %s=%s/%d/%u", part->pins[k].number, part->pins[k].name, part->pins[k].role,
                              part->pins[k].loads);
    for (guint k = 0; k < part->n_sections; k++)
      g_string_append_printf (text, " section %s: %u rows", part->sections[k].name,
                              pm_table_n_rows (part->sections[k].table));
    for (guint k = 0; k < part->n_resistors; k++)
      g_string_append_printf (text, " resistor %u-%u", part->resistors[k].a, part->resistors[k].b);
    g_string_append_c (text, '\n');
  }
}

static void
add_joins (GString *text, const PmBoard *board)
{
  for (guint i = 0; i < board->n_joins; i++) {
    const PmJoin *join = &board->joins[i];
    g_string_append_printf (text, "join %d (%s) owner %d %u:", join->kind, join->name, join->owner,
                            join->owner_index);
    for (guint k = 0; k < join->n_places; k++)
      add_place (text, board, join->places[k]);
    g_string_append_c (text, '\n');
  }
  for (guint i = 0; i < board->n_matings; i++) {
    const PmMating *mating = &board->matings[i];
    g_string_append_printf (text, "mating %d: %s into %s, removable %d turns %d leaves out %u", mating->when,
                            board->instances[mating->a].ref, board->instances[mating->b].ref, mating->removable,
                            mating->turns, mating->leaves_out);
    add_pairs (text, board, "pairs", mating->pairs, mating->n_pairs);
    add_pairs (text, board, "turned", mating->turned, mating->n_turned);
    g_string_append_c (text, '\n');
  }
}

static void
add_switches (GString *text, const PmBoard *board)
{
  for (guint i = 0; i < board->n_switches; i++) {
    const PmSwitch *s = &board->switches[i];
    g_string_append_printf (text,
                            "switch %s (%s) of %s owner %d %u usual %u stated %d any %d moved %d contacts %d look "
                            "%d running %d lead %u", s->name, s->title, board->instances[s->instance].ref, s->owner,
                            s->owner_index, s->usual, s->stated, s->any, s->moved, s->contacts, s->look,
                            s->while_running, s->mating);
    for (guint k = 0; k < s->n_positions; k++) {
      g_string_append_printf (text, " position %s (%s)", s->positions[k].name, s->positions[k].title);
      add_pairs (text, board, "closes", s->positions[k].pairs, s->positions[k].n_pairs);
    }
    g_string_append_c (text, '\n');
  }
  for (guint i = 0; i < board->n_supplies; i++)
    g_string_append_printf (text, "supply %s (%s) %d %u\n", board->supplies[i].name, board->supplies[i].title,
                            board->supplies[i].owner, board->supplies[i].owner_index);
  for (guint i = 0; i < board->n_rails; i++) {
    const PmRail *rail = &board->rails[i];
    g_string_append_printf (text, "rail %s %g %g supply %u limit %g surge %g:", rail->name, rail->volts,
                            rail->tolerance, rail->supply, rail->limit, rail->surge);
    for (guint k = 0; k < rail->n_places; k++)
      add_place (text, board, rail->places[k]);
    g_string_append_c (text, '\n');
  }
}

static void
add_host (GString *text, const PmBoard *board)
{
  const PmHost *host = &board->host;

  g_string_append_printf (text, "host %s (%s) always one %d: %s\n", host->name, host->title, host->always_one,
                          host->about);
  for (guint i = 0; i < host->n_lines; i++) {
    const PmLine *line = &host->lines[i];
    g_string_append_printf (text,
                            "line %s does %s unit %d low %d drives %d reads %d reset %d %d latched %d power on %d "
                            "assumed %d at", line->name, line->does, line->unit, line->asserted_low, line->drives,
                            line->reads, line->in_reset, line->in_reset_stated, line->latched_select,
                            line->at_power_on, line->assumed);
    add_place (text, board, line->place);
    add_family (text, line->family);
    g_string_append_c (text, '\n');
  }
  for (guint i = 0; i < host->n_units; i++) {
    const PmUnit *unit = &host->units[i];
    g_string_append_printf (text, "unit %u %s", unit->number, unit->name);
    for (guint k = 0; k < unit->n_levels; k++)
      g_string_append_printf (text, " %s=%d", host->lines[unit->levels[k].line].name, unit->levels[k].high);
    add_words (text, "needs", unit->needs);
    g_string_append_c (text, '\n');
  }
  for (guint i = 0; i < host->n_nevers; i++) {
    g_string_append_printf (text, "never idle %d because %s:", host->nevers[i].idle, host->nevers[i].because);
    for (guint k = 0; k < host->nevers[i].n_units; k++)
      g_string_append_printf (text, " %u", host->nevers[i].units[k]);
    g_string_append_c (text, '\n');
  }
}

static void
add_drives (GString *text, const PmBoard *board)
{
  for (guint i = 0; i < board->n_drives; i++) {
    const PmDrive *drive = &board->drives[i];
    g_string_append_printf (text, "drive %s (%s) is %s at %s jumper %u supply %u into %u assumed %d", drive->name,
                            drive->title, drive->kind, board->instances[drive->instance].ref, drive->jumper,
                            drive->supply, drive->into, drive->assumed);
    add_family (text, drive->family);
    for (guint k = 0; k < drive->n_answers; k++) {
      g_string_append (text, " answers:");
      for (guint w = 0; w < drive->answers[k].n_whens; w++) {
        add_place (text, board, drive->answers[k].whens[w].place);
        g_string_append_printf (text, "=%d", drive->answers[k].whens[w].high);
      }
    }
    for (guint k = 0; k < drive->n_needs; k++) {
      g_string_append_printf (text, " needs %s high %d at", drive->needs[k].does, drive->needs[k].asserted_high);
      add_place (text, board, drive->needs[k].place);
    }
    for (guint k = 0; k < drive->n_gives; k++) {
      const PmGives *gives = &drive->gives[k];
      g_string_append_printf (text, " gives %s as %d while %d high %d holds %d at", gives->does, gives->as,
                              gives->while_, gives->asserted_high, gives->holds);
      add_place (text, board, gives->place);
    }
    g_string_append_c (text, '\n');
  }
}

static void
add_settings (GString *text, const PmBoard *board)
{
  for (guint i = 0; i < board->n_wanted; i++) {
    const PmWanted *wanted = &board->wanted[i];
    g_string_append_printf (text, "wanted %s removed %u:", wanted->text, wanted->removed);
    for (guint k = 0; k < board->n_switches; k++)
      g_string_append_printf (text, " %d", wanted->positions[k]);
    for (guint k = 0; k < board->host.n_units; k++)
      g_string_append_printf (text, " %s=%d/%u", board->host.units[k].name, wanted->units[k].want,
                              wanted->units[k].drive);
    add_words (text, "without", wanted->without);
    g_string_append_c (text, '\n');
  }
  for (guint i = 0; i < board->n_nevers; i++) {
    g_string_append_printf (text, "never because %s:", board->nevers[i].because);
    for (guint k = 0; k < board->n_switches; k++)
      g_string_append_printf (text, " %d", board->nevers[i].positions[k]);
    g_string_append_c (text, '\n');
  }
  for (guint i = 0; i < board->n_accepts; i++)
    g_string_append_printf (text, "accept %s at %s: %s\n", board->accepts[i].finding, board->accepts[i].at,
                            board->accepts[i].why);
}

char *
board_text (const PmBoard *board)
{
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, "board %s revision %s: %s\n%u places, board %d socket %u plug %u\n", board->title,
                          board->revision, board->about, board->n_places, board->has_board, board->socket,
                          board->plug);
  add_instances (text, board);
  add_joins (text, board);
  add_switches (text, board);
  add_host (text, board);
  add_drives (text, board);
  add_settings (text, board);
  return g_string_free (text, FALSE);
}
