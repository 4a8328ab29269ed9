/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How things are called on the bench. */
#include "config.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>

char *
pm_name_pin (const PmBoard *board, guint32 place)
{
  return pm_board_place_name (board, place);
}

char *
pm_name_place (const PmBoard *board, guint32 place)
{
  if (place >= board->n_places)
    return g_strdup ("?");
  guint i = pm_board_instance_of (board, place);
  const PmInstance *instance = &board->instances[i];
  const PmPin *pin = &instance->part->pins[place - instance->first_place];
  const char *what = instance->ref;
  if (instance->owner == PM_OWNER_DRIVE && instance->part->type == PM_PART_DRIVE)
    what = pm_name_drive (board, instance->owner_index);
  else if (instance->owner == PM_OWNER_HOST && instance->title != NULL)
    what = instance->title;
  gboolean plain = g_str_equal (pin->number, pin->name);
  if (instance->part->n_pins == 1 && instance->owner != PM_OWNER_DRIVE)
    return g_strdup (instance->ref);
  if (instance->owner == PM_OWNER_HOST && instance->title != NULL)
    return g_strdup_printf (_("pin %s of the %s"), pin->number, what);
  if (plain && g_ascii_isdigit (pin->number[0]))
    return g_strdup_printf (_("pin %s of %s"), pin->number, what);
  if (plain)
    return g_strdup_printf ("%s.%s", what, pin->name);
  return g_strdup_printf (_("%s pin %s (%s)"), what, pin->number, pin->name);
}

const char *
pm_name_drive (const PmBoard *board, guint drive)
{
  const PmDrive *d = &board->drives[drive];
  return d->title != NULL && d->title[0] != '\0' ? d->title : d->name;
}

const char *
pm_name_host (const PmBoard *board)
{
  return board->host.title != NULL && board->host.title[0] != '\0' ? board->host.title
         : board->host.name != NULL                                ? board->host.name
                                                                   : _("the machine");
}

const char *
pm_name_switch (const PmSwitch *sw)
{
  return sw->title != NULL && sw->title[0] != '\0' ? sw->title : sw->name;
}

const char *
pm_name_number (const PmBoard *board, guint32 place)
{
  const PmInstance *instance = &board->instances[pm_board_instance_of (board, place)];
  return instance->part->pins[place - instance->first_place].number;
}

char *
pm_name_instance (const PmBoard *board, guint i)
{
  const PmInstance *instance = &board->instances[i];
  if (instance->title == NULL || instance->title[0] == '\0')
    return g_strdup (instance->ref);
  if (instance->part->type == PM_PART_DRIVE)
    return g_strdup_printf (_("the drive %s"), pm_name_drive (board, instance->owner_index));
  return instance->owner == PM_OWNER_BOARD ? g_strdup_printf ("%s (%s)", instance->ref, instance->title)
                                           : g_strdup_printf (_("the %s"), instance->title);
}

char *
pm_name_probe (const PmBoard *board, guint32 place)
{
  return board->instances[pm_board_instance_of (board, place)].owner == PM_OWNER_BOARD ? pm_name_pin (board, place)
                                                                                       : pm_name_place (board, place);
}

guint32
pm_name_plugged (const PmBoard *board, guint32 place)
{
  for (guint m = 0; m < board->n_matings; m++)
    for (guint k = 0; k < board->matings[m].n_pairs; k++) {
      if (board->matings[m].pairs[k].a == place)
        return board->matings[m].pairs[k].b;
      if (board->matings[m].pairs[k].b == place)
        return board->matings[m].pairs[k].a;
    }
  return place;
}

static char *
source_words (const PmTranslation *t, guint32 source)
{
  for (guint l = 0; l < t->board->host.n_lines; l++)
    if (t->line_source[l] == source || t->line_state[l] == source)
      return g_strdup (t->board->host.lines[l].name);
  for (guint g = 0; g < t->gives->len; g++) {
    const PmGivesInfo *info = &g_array_index (t->gives, PmGivesInfo, g);
    if (info->source == source)
      return g_strdup_printf (_("what %s says on %s"), pm_name_drive (t->board, info->drive),
                              t->board->drives[info->drive].gives[info->gives].does);
  }
  return g_strdup (_("a line"));
}

char *
pm_name_choice (const PmTranslation *t, const PmChoice *choice)
{
  switch (choice->kind) {
  case PM_CHOICE_INPUT: {
    guint32 place = g_array_index (t->input_place, guint32, choice->index);
    if (place >= t->board->n_places)
      return g_strdup (_("a line"));
    g_autofree char *name = pm_name_place (t->board, place);
    return g_strdup_printf (_("the open input %s"), name);
  }
  case PM_CHOICE_JOINT: return g_strdup (_("a contact that may be open or closed"));
  case PM_CHOICE_SOURCE: return source_words (t, choice->index);
  case PM_CHOICE_BIT: {
    g_autofree char *name = pm_name_instance (t->board, g_array_index (t->bit_instance, guint32, choice->index));
    return g_strdup_printf (_("what %s remembers from before"), name);
  }
  case PM_CHOICE_LOOP:
  default: {
    guint32 place = g_array_index (t->input_place, guint32, choice->index);
    g_autofree char *name = place < t->board->n_places ? pm_name_place (t->board, place) : g_strdup ("?");
    return g_strdup_printf (_("which way the loop at %s rests"), name);
  }
  }
}

char *
pm_name_state (const PmBoard *board, const PmHostState *state)
{
  switch (state->kind) {
  case PM_STATE_SINGLE: {
    const PmUnit *unit = &board->host.units[state->unit];
    if (unit->n_levels == 1)
      return g_strdup_printf (unit->levels[0].high ? _("%s on (high)") : _("%s on (low)"), unit->name);
    return g_strdup_printf (_("%s on"), unit->name);
  }
  case PM_STATE_PAIR:
    return g_strdup_printf (_("%s and %s both on"), board->host.units[state->unit].name,
                            board->host.units[state->other].name);
  case PM_STATE_RESET: return g_strdup (_("the machine in reset"));
  case PM_STATE_HOST_OFF: return g_strdup (_("the machine off"));
  case PM_STATE_IDLE:
  default: return g_strdup (_("nothing turned on"));
  }
}

static void
join_name (GString *text, const char *with, const char *name)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? with : "", name);
}

char *
pm_name_reach (const PmBoard *board, const PmCell *cells)
{
  g_autoptr (GString) sure = g_string_new (NULL), perhaps = g_string_new (NULL);
  gboolean undecided = FALSE;
  for (guint d = 0; d < board->n_drives; d++) {
    const PmCell *cell = &cells[d];
    const char *name = pm_name_drive (board, d);
    if (cell->answer == PM_ANSWER_YES)
      join_name (sure, " + ", name);
    else if (cell->answer == PM_ANSWER_DEPENDS) {
      g_autofree char *with = g_strdup_printf (_("%s if %s"), name, cell->on);
      join_name (sure, " + ", with);
    } else if (cell->answer != PM_ANSWER_NEVER) {
      undecided |= cell->answer == PM_ANSWER_NOT_DECIDED;
      join_name (perhaps, _(" or "), name);
    }
  }
  if (perhaps->len > 0)
    g_string_append_printf (sure,
                            sure->len > 0 ? _(", perhaps %s too")
                            : undecided   ? _("%s, not decided")
                                          : _("%s, not certain"),
                            perhaps->str);
  if (sure->len == 0)
    g_string_append (sure, _("nothing"));
  return g_string_free (g_steal_pointer (&sure), FALSE);
}

PmSpot
pm_name_spot (const PmBoard *board, guint32 place)
{
  /* The board's own joins first, then those of the machine and the drives, then the line that cuts or passes the pin.
   */
  for (guint rank = 0; rank < 3; rank++)
    for (guint j = 0; j < board->n_joins; j++) {
      const PmJoin *join = &board->joins[j];
      gboolean passes = join->kind == PM_JOIN_THROUGH || join->kind == PM_JOIN_CUT;
      if (join->kind == PM_JOIN_SUPPLY || rank != (passes ? 2u : join->owner == PM_OWNER_BOARD ? 0u : 1u))
        continue;
      for (guint k = 0; k < join->n_places; k++)
        if (join->places[k] == place)
          return join->spot;
    }
  return place < board->n_places ? board->instances[pm_board_instance_of (board, place)].spot : (PmSpot) {0};
}

char *
pm_name_list (GPtrArray *words)
{
  if (words->len == 0)
    return g_strdup ("");
  g_autoptr (GString) text = g_string_new (g_ptr_array_index (words, 0));
  for (guint i = 1; i + 1 < words->len; i++)
    g_string_append_printf (text, ", %s", (char *) g_ptr_array_index (words, i));
  if (words->len > 1)
    g_string_append_printf (text, _(" and %s"), (char *) g_ptr_array_index (words, words->len - 1));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
pm_name_capital (char *text)
{
  gunichar first = g_utf8_get_char (text), upper = g_unichar_toupper (first);
  if (first == upper || first == 0)
    return text;
  char head[8] = {0};
  g_unichar_to_utf8 (upper, head);
  char *out = g_strconcat (head, g_utf8_next_char (text), NULL);
  g_free (text);
  return out;
}
