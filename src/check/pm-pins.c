/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What becomes of each pin.  Three kinds of nets are looked at: those of the machine and the drives without the board
 * (names of lines), what the board joins for good (fates), and that with the contacts of a setting closed (where a pin
 * goes by contacts alone). */
#include "config.h"
#include "pm-pins-private.h"
#include "pm-metal.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>
#include <string.h>

/* So many settings are told one by one in a sentence. */
#define TOLD_IN_FULL 4

typedef struct {
  PmPins        *pins;
  const PmBoard *board;
  guint32       *outside;   /* nets of machine, cables and drives, without the board */
  guint32       *own;       /* what the board joins for good, through pins apart */
  guint32       *meets;     /* per pin: the machine's place that P1's pin meets, or PM_NONE */
  guint32       *rails;     /* per pin: the machine's rail there, or PM_NONE */
  gboolean      *used;      /* per root of outside */
} Work;

/* ---- nets: union-find, the root is the smallest place */

static gboolean
passes (const PmJoin *join)
{
  return join->kind == PM_JOIN_THROUGH || join->kind == PM_JOIN_CUT;
}

static void
make_nets (Work *w)
{
  const PmBoard *board = w->board;

  w->outside = pm_metal_new (board->n_places);
  w->own = pm_metal_new (board->n_places);
  for (guint j = 0; j < board->n_joins; j++)
    if (board->joins[j].owner != PM_OWNER_BOARD)
      pm_metal_unite_join (w->outside, &board->joins[j]);
    else if (!passes (&board->joins[j]))
      pm_metal_unite_join (w->own, &board->joins[j]);
  for (guint m = 0; m < board->n_matings; m++)
    for (guint k = 0; k < board->matings[m].n_pairs && board->matings[m].when != PM_MATING_WITH_BOARD; k++)
      pm_metal_unite (w->outside, board->matings[m].pairs[k].a, board->matings[m].pairs[k].b);
}

/* ---- names of lines */

static void
mark_used (Work *w)
{
  const PmBoard *board = w->board;

  w->used = g_new0 (gboolean, board->n_places + 1);
#define USE(place)                                                                                                     \
  G_STMT_START                                                                                                         \
  {                                                                                                                    \
    if ((place) < board->n_places)                                                                                     \
      w->used[pm_metal_root (w->outside, (place))] = TRUE; \
  }                                                                                                                    \
  G_STMT_END
  for (guint j = 0; j < board->n_joins; j++)
    for (guint k = 0; k < board->joins[j].n_places && board->joins[j].owner != PM_OWNER_BOARD; k++)
      USE (board->joins[j].places[k]);
  for (guint l = 0; l < board->host.n_lines; l++)
    USE (board->host.lines[l].place);
  for (guint r = 0; r < board->n_rails; r++)
    for (guint k = 0; k < board->rails[r].n_places; k++)
      USE (board->rails[r].places[k]);
  for (guint d = 0; d < board->n_drives; d++) {
    const PmDrive *drive = &board->drives[d];
    for (guint k = 0; k < drive->n_needs; k++)
      USE (drive->needs[k].place);
    for (guint k = 0; k < drive->n_gives; k++)
      USE (drive->gives[k].place);
    for (guint a = 0; a < drive->n_answers; a++)
      for (guint k = 0; k < drive->answers[a].n_whens; k++)
        USE (drive->answers[a].whens[k].place);
  }
#undef USE
}

static const PmLine *
line_on (const Work *w, guint32 root)
{
  for (guint l = 0; l < w->board->host.n_lines; l++) {
    guint32 place = w->board->host.lines[l].place;
    if (place < w->board->n_places && pm_metal_root (w->outside, place) == root)
      return &w->board->host.lines[l];
  }
  return NULL;
}

/* The line of which a part of the machine makes what stands on a net, all inputs together on that line's net. */
static const PmLine *
line_behind (const Work *w, guint32 root, gboolean *inverted)
{
  const PmBoard *board = w->board;

  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *instance = &board->instances[i];
    for (guint s = 0; s < instance->part->n_sections && instance->owner == PM_OWNER_HOST; s++) {
      const PmSection *section = &instance->part->sections[s];
      guint n_in = pm_table_n_inputs (section->table);
      const PmLine *line = NULL;
      if (n_in == 0 || pm_table_has_edge (section->table) || pm_table_n_outputs (section->table) != 1 ||
          pm_table_kind (section->table, 0) != PM_COLUMN_PIN ||
          pm_metal_root (w->outside, instance->first_place + section->outputs[0]) != root)
        continue;
      for (guint k = 0; k < n_in; k++) {
        const PmLine *at = PM_IS_BIT (section->inputs[k])
                               ? NULL
                               : line_on (w, pm_metal_root (w->outside, instance->first_place + section->inputs[k]));
        line = k == 0 || at == line ? at : NULL;
        if (line == NULL)
          break;
      }
      if (line == NULL)
        continue;
      guint32 all = (1u << n_in) - 1;
      *inverted = pm_table_eval (section->table, 0, all, all) == PM_OUT_LOW;
      return line;
    }
  }
  return NULL;
}

static guint32
rail_on (const Work *w, guint32 root)
{
  for (guint r = 0; r < w->board->n_rails; r++)
    for (guint k = 0; k < w->board->rails[r].n_places; k++)
      if (w->board->supplies[w->board->rails[r].supply].owner == PM_SUPPLY_HOST &&
          pm_metal_root (w->outside, w->board->rails[r].places[k]) == root)
        return r;
  return PM_NONE;
}

static void
name_lines (Work *w)
{
  PmPins *pins = w->pins;
  g_autofree const PmLine **behind = g_new0 (const PmLine *, pins->n_pins + 1);
  g_autofree gboolean *inverted = g_new0 (gboolean, pins->n_pins + 1);

  for (guint i = 0; i < pins->n_pins; i++) {
    if (w->meets[i] == PM_NONE)
      continue;
    guint32 root = pm_metal_root (w->outside, w->meets[i]);
    const PmLine *line = line_on (w, root);
    w->rails[i] = rail_on (w, root);
    pins->pins[i].used = w->used[root];
    if (w->rails[i] != PM_NONE)
      pins->pins[i].line = g_strdup (w->board->rails[w->rails[i]].name);
    else if (line != NULL)
      pins->pins[i].line = g_strdup (line->name);
    else
      behind[i] = line_behind (w, root, &inverted[i]);
  }
  /* Only where both senses of a line pass does it matter which is which. */
  for (guint i = 0; i < pins->n_pins; i++) {
    gboolean both = FALSE;
    for (guint k = 0; k < pins->n_pins && behind[i] != NULL; k++)
      both |= k != i && behind[k] == behind[i];
    if (behind[i] != NULL)
      pins->pins[i].line =
          both && inverted[i] ? g_strdup_printf (_("%s inverted"), behind[i]->name) : g_strdup (behind[i]->name);
  }
}

/* ---- fates */

/* Names of what the board joins to a place, pins of its own parts before others; NULL if nothing. */
static char *
joined_to (const Work *w, guint32 place)
{
  guint32 root = pm_metal_root (w->own, place);
  g_autoptr (GString) out = g_string_new (NULL);

  for (guint32 p = 0; p < w->board->n_places; p++) {
    if (p == place || pm_metal_root (w->own, p) != root)
      continue;
    g_autofree char *name = pm_name_pin (w->board, p);
    g_string_append_printf (out, "%s%s", out->len > 0 ? ", " : "", name);
  }
  return out->len > 0 ? g_string_free (g_steal_pointer (&out), FALSE) : NULL;
}

static void
find_fates (Work *w)
{
  const PmBoard *board = w->board;

  for (guint i = 0; i < w->pins->n_pins; i++) {
    PmPinFact *pin = &w->pins->pins[i];
    gboolean cut = FALSE, joined;
    for (guint j = 0; j < board->n_joins; j++)
      cut |= board->joins[j].kind == PM_JOIN_CUT && board->joins[j].n_places == 2 &&
             board->joins[j].places[0] == pin->machine;
    pin->chip_to = joined_to (w, pin->chip);
    pin->machine_to = joined_to (w, pin->machine);
    joined = pin->chip_to != NULL || pin->machine_to != NULL;
    pin->fate = cut ? (joined ? PM_PIN_REROUTED : PM_PIN_CUT)
                    : (joined      ? PM_PIN_TAPPED
                       : pin->used ? PM_PIN_THROUGH
                                   : PM_PIN_UNUSED);
  }
}

/* ---- where they go */

/* The unit that a line alone turns on, or -1. */
static int
unit_of (const PmBoard *board, const char *line)
{
  int found = -1;

  for (guint u = 0; u < board->host.n_units && line != NULL; u++)
    for (guint k = 0; k < board->host.units[u].n_levels; k++)
      if (g_str_equal (board->host.lines[board->host.units[u].levels[k].line].name, line)) {
        if (found >= 0 || board->host.units[u].n_levels > 1)
          return -1;
        found = u;
      }
  return found;
}

/* Pins that a place is joined to on the machine's side with the contacts of a setting: "pin 12, SEL1"; NULL if none.
 */
static char *
led_to (const Work *w, guint32 *nets, guint pin)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

  for (guint k = 0; k < w->pins->n_pins; k++) {
    if (pm_metal_root (nets, w->pins->pins[k].machine) != pm_metal_root (nets, w->pins->pins[pin].chip))
      continue;
    const PmPinFact *to = &w->pins->pins[k];
    g_ptr_array_add (words, k == pin             ? g_strdup (_("its own pin"))
                            : to->line != NULL ? g_strdup_printf (_("pin %s, %s"), to->number, to->line)
                                               : g_strdup_printf (_("pin %s"), to->number));
  }
  return words->len > 0 ? pm_name_list (words) : NULL;
}

static char *
joints_words (const Work *w, const PmPinFact *pin)
{
  const char *chip = w->board->instances[w->board->socket].ref, *plug = w->board->instances[w->board->plug].ref;

  if (pin->machine_to == NULL)
    return g_strdup_printf (_("%s to %s"), chip, pin->chip_to);
  if (pin->chip_to == NULL)
    return g_strdup_printf (_("%s to %s"), plug, pin->machine_to);
  return g_strdup_printf (_("%s to %s; %s to %s"), chip, pin->chip_to, plug, pin->machine_to);
}

static char *
goes_in (const Work *w, guint32 *nets, guint index, guint case_index)
{
  const PmPinFact *pin = &w->pins->pins[index];
  int unit = unit_of (w->board, pin->line);

  if (pin->fate == PM_PIN_CUT)
    return g_strdup (_("nowhere"));
  if (pin->fate != PM_PIN_REROUTED)
    return g_strdup (_("straight through"));
  g_autofree char *led = led_to (w, nets, index);
  if (unit < 0)
    return led != NULL ? g_steal_pointer (&led) : joints_words (w, pin);
  g_autofree char *reach = pm_check_reach_text (w->pins->check, case_index, unit);
  return led != NULL ? g_strdup_printf ("%s (%s)", reach, led) : g_steal_pointer (&reach);
}

static void
find_ways (Work *w)
{
  guint n = w->pins->check->n_settings, n_pins = w->pins->n_pins;
  g_autofree gboolean *joined = g_new0 (gboolean, (gsize) n_pins * (n_pins + 1) + 1);
  const char *chip = w->board->instances[w->board->socket].ref, *plug = w->board->instances[w->board->plug].ref;

  for (guint i = 0; i < n_pins; i++)
    w->pins->pins[i].goes = g_new0 (char *, n + 1);
  for (guint s = 0; s < n; s++) {
    g_autofree guint32 *nets = pm_metal_of_board (w->board, PM_METAL_BOARD, w->pins->check->cases[s + 1].positions);
    for (guint i = 0; i < n_pins; i++) {
      const PmPinFact *pin = &w->pins->pins[i];
      pin->goes[s] = goes_in (w, nets, i, s + 1);
      joined[i * (n_pins + 1) + n_pins] |= pm_metal_root (nets, pin->chip) == pm_metal_root (nets, pin->machine);
      for (guint k = 0; k < n_pins; k++)
        joined[i * (n_pins + 1) + k] |=
            pm_metal_root (nets, pin->chip) == pm_metal_root (nets, w->pins->pins[k].chip) ||
            pm_metal_root (nets, pin->machine) == pm_metal_root (nets, w->pins->pins[k].machine);
    }
  }
  for (guint i = 0; i < n_pins; i++) {
    PmPinFact *pin = &w->pins->pins[i];
    g_autoptr (GString) open = g_string_new (NULL), near = g_string_new (NULL);
    for (guint k = 0; k < n_pins; k++) {
      if (!pm_pins_adjoin (w->pins, i, k))
        continue;
      g_autofree char *name = pm_pins_name (w->pins, k);
      gboolean rail = w->rails[i] != PM_NONE && w->rails[i] == w->rails[k];
      g_string_append_printf (near, "%s%s", near->len > 0 ? ", " : "", name);
      if (!joined[i * (n_pins + 1) + k] && !rail)
        g_string_append_printf (open, "%s%s", open->len > 0 ? ", " : "", w->pins->pins[k].number);
    }
    if ((pin->fate == PM_PIN_CUT || pin->fate == PM_PIN_REROUTED) && !joined[i * (n_pins + 1) + n_pins]) {
      g_string_append (open, open->len > 0 ? "; " : "");
      g_string_append_printf (open, _("%s.%s to %s.%s"), chip, pin->number, plug, pin->number);
    }
    pin->neighbours = g_string_free (g_steal_pointer (&near), FALSE);
    pin->open_to = open->len > 0 ? g_string_free (g_steal_pointer (&open), FALSE) : NULL;
  }
}

/* ---- */

char *
pm_pins_name (const PmPins *pins, guint index)
{
  const PmPinFact *pin = &pins->pins[index];

  if (pin->line != NULL)
    return g_strdup_printf ("%s (%s)", pin->number, pin->line);
  if (pin->fate == PM_PIN_UNUSED)
    return g_strdup_printf (_("%s (not used)"), pin->number);
  return g_strdup (pin->number);
}

const char *
pm_pin_fate_words (PmPinFate fate)
{
  static const char *const WORDS[PM_N_PIN_FATES] = { N_("straight through"), N_("cut"), N_("re-routed"), N_("tapped"),
                                                     N_("not used") };

  g_return_val_if_fail (fate < PM_N_PIN_FATES, NULL);
  return _(WORDS[fate]);
}

/* Distinct texts of all settings; more than three would be no answer. */
static char *
goes_in_all (const PmPins *pins, const PmPinFact *pin)
{
  const char *seen[3];
  guint n = 0;
  g_autoptr (GString) out = g_string_new (NULL);

  for (guint s = 0; s < pins->check->n_settings; s++) {
    gboolean known = FALSE;
    for (guint k = 0; k < n && !known; k++)
      known = g_str_equal (seen[k], pin->goes[s]);
    if (known)
      continue;
    if (n == G_N_ELEMENTS (seen))
      return g_strdup (_("by the setting"));
    seen[n++] = pin->goes[s];
    g_string_append_printf (out, "%s%s", n > 1 ? " / " : "", pin->goes[s]);
  }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

char *
pm_pins_goes (const PmPins *pins, guint pin, guint case_index)
{
  const PmCheck *check = pins->check;

  g_return_val_if_fail (pin < pins->n_pins && case_index < check->n_cases, NULL);
  guint setting = check->cases[case_index].setting;
  if (setting == 0 || setting > check->n_settings)
    return goes_in_all (pins, &pins->pins[pin]);
  return g_strdup (pins->pins[pin].goes[setting - 1]);
}

char *
pm_pins_sentence (const PmPins *pins, guint index, guint case_index)
{
  const PmPinFact *pin = &pins->pins[index];
  const PmCheck *check = pins->check;
  GString *out;

  g_return_val_if_fail (index < pins->n_pins && case_index < check->n_cases, NULL);
  out = g_string_new (NULL);
  if (pin->line != NULL)
    g_string_append_printf (out, _("Pin %s, %s: %s."), pin->number, pin->line, pm_pin_fate_words (pin->fate));
  else
    g_string_append_printf (out, _("Pin %s: %s."), pin->number, pm_pin_fate_words (pin->fate));
  if (pin->fate == PM_PIN_TAPPED)
    g_string_append_printf (out, _(" Straight through, and joined to %s."),
                            pin->chip_to != NULL ? pin->chip_to : pin->machine_to);
  if (pin->fate == PM_PIN_REROUTED && check->n_settings <= TOLD_IN_FULL)
    for (guint s = 0; s < check->n_settings; s++)
      g_string_append_printf (out, _(" In %s: %s."), check->cases[s + 1].name, pin->goes[s]);
  else if (pin->fate == PM_PIN_REROUTED) {
    guint setting = check->cases[case_index].setting;
    g_autofree char *goes = pm_pins_goes (pins, index, case_index);
    if (setting == 0)
      g_string_append_printf (out, _(" In all settings: %s."), goes);
    else
      g_string_append_printf (out, _(" In %s: %s."), check->cases[setting].name, goes);
  }
  if (pin->neighbours[0] != '\0')
    g_string_append_printf (out, _(" Neighbours: %s."), pin->neighbours);
  if (pin->open_to != NULL)
    g_string_append_printf (out, _(" Must read open to: %s."), pin->open_to);
  return g_string_free (out, FALSE);
}

PmPins *
pm_pins_new (const PmCheck *check)
{
  const PmBoard *board = check->board;
  Work w = { .board = board };

  if (!board->has_board || board->socket == PM_NONE || board->plug == PM_NONE)
    return NULL;
  const PmInstance *socket = &board->instances[board->socket], *plug = &board->instances[board->plug];
  PmPins *pins = w.pins = g_new0 (PmPins, 1);
  pins->check = check;
  pins->n_pins = socket->part->n_pins;
  pins->pins = g_new0 (PmPinFact, pins->n_pins + 1);
  pins->keyed = plug->part->keyed || socket->part->keyed;
  w.meets = g_new (guint32, pins->n_pins + 1);
  w.rails = g_new (guint32, pins->n_pins + 1);
  for (guint i = 0; i < pins->n_pins; i++) {
    pins->pins[i].number = g_strdup (socket->part->pins[i].number);
    pins->pins[i].chip = socket->first_place + i;
    pins->pins[i].machine = plug->first_place + i;
    w.meets[i] = w.rails[i] = PM_NONE;
  }
  for (guint m = 0; m < board->n_matings; m++)
    for (guint k = 0; k < board->matings[m].n_pairs && board->matings[m].a == board->plug; k++)
      w.meets[board->matings[m].pairs[k].a - plug->first_place] = board->matings[m].pairs[k].b;
  pm_pins_lay (pins, socket->part);
  make_nets (&w);
  mark_used (&w);
  name_lines (&w);
  find_fates (&w);
  find_ways (&w);
  pm_pins_warn (pins, w.rails);
  g_free (w.meets);
  g_free (w.rails);
  g_free (w.used);
  g_free (w.own);
  g_free (w.outside);
  return pins;
}

void
pm_pins_free (PmPins *pins)
{
  if (pins == NULL)
    return;
  for (guint i = 0; i < pins->n_pins; i++) {
    PmPinFact *pin = &pins->pins[i];
    g_free (pin->number);
    g_free (pin->line);
    g_free (pin->chip_to);
    g_free (pin->machine_to);
    g_strfreev (pin->goes);
    g_free (pin->neighbours);
    g_free (pin->open_to);
    g_free (pin->turned);
    g_free (pin->mirrored);
  }
  g_free (pins->pins);
  g_strfreev (pins->warnings);
  g_free (pins);
}
