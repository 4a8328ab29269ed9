/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What meets what when a board is put in turned round, or was built from the solder side taken for the top: rails
 * first. */
#include "config.h"
#include "pm-pins-private.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>

/* The worst first. */
typedef enum {
  RAIL_ON_RAIL,   /* a rail of the machine on another one of the board */
  LIVE_ON_PINS,   /* a live rail on pins that carry none */
  GROUND_ON_PINS,
  RAIL_MISSING,   /* the board's rail meets none */
  LINES,
  N_KINDS
} Kind;

typedef struct {
  const PmPins  *pins;
  const guint32 *rails;
  guint        (*image) (const PmPins *pins, guint pin);  /* where a pin of the board comes to lie */
  gboolean       mirrored;
  GPtrArray     *out[N_KINDS];
} Turn;

/* Takes text. */
static void
tell (Turn *turn, Kind kind, char *text)
{
  g_ptr_array_add (turn->out[kind],
                   g_strdup_printf (turn->mirrored ? _("Built mirrored: %s.") : _("Turned round: %s."), text));
  g_free (text);
}

static const PmRail *
rail_at (const Turn *turn, guint pin)
{
  return turn->rails[pin] != PM_NONE ? &turn->pins->check->board->rails[turn->rails[pin]] : NULL;
}

static gboolean
same_rail (const Turn *turn, guint a, guint b)
{
  return turn->rails[a] == turn->rails[b];
}

/* "SEL0 (pin 11), SEL1 (pin 12) and 3 pins not in use": pins of the board that carry no rail and meet this one. */
static char *
pins_on_rail (const Turn *turn, guint32 rail)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  const char *number = NULL;
  guint n_unused = 0;

  for (guint i = 0; i < turn->pins->n_pins; i++) {
    const PmPinFact *pin = &turn->pins->pins[i];
    guint at = turn->image (turn->pins, i);
    if (at == PM_NONE || turn->rails[at] != rail || turn->rails[i] != PM_NONE)
      continue;
    if (pin->line != NULL)
      g_ptr_array_add (words, g_strdup_printf (_("%s (pin %s)"), pin->line, pin->number));
    else if (pin->used || pin->fate != PM_PIN_UNUSED)
      g_ptr_array_add (words, g_strdup_printf (_("pin %s"), pin->number));
    else {
      number = pin->number;
      n_unused++;
    }
  }
  if (n_unused == 1 && words->len == 0)
    return g_strdup_printf (_("pin %s of the board, which is not used"), number);
  if (n_unused > 0)
    g_ptr_array_add (words,
                     g_strdup_printf (ngettext ("%u pin not in use", "%u pins not in use", n_unused), n_unused));
  if (words->len == 0)
    return NULL;
  g_autofree char *list = pm_name_list (words);
  return g_strdup_printf (_("%s of the board"), list);
}

static void
tell_rails (Turn *turn)
{
  const PmPins *pins = turn->pins;
  const PmBoard *board = pins->check->board;
  g_autoptr (GPtrArray) missing = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < pins->n_pins; i++) {
    guint at = turn->image (pins, i);
    const PmRail *own = rail_at (turn, i), *met = at != PM_NONE ? rail_at (turn, at) : NULL;
    gboolean told = FALSE;
    if (own == NULL || met == NULL || same_rail (turn, i, at))
      continue;
    for (guint k = 0; k < i && !told; k++) {
      guint other = turn->image (pins, k);
      told = same_rail (turn, k, i) && other != PM_NONE && same_rail (turn, other, at);
    }
    if (!told)
      tell (turn, RAIL_ON_RAIL,
            g_strdup_printf (_("%s of the machine meets %s of the board, pin %s on pin %s"), met->name, own->name,
                             pins->pins[at].number, pins->pins[i].number));
  }
  for (guint32 r = 0; r < board->n_rails; r++) {
    guint n = 0;
    gboolean gets = FALSE;
    const char *number = NULL;
    g_autofree char *list = pins_on_rail (turn, r);
    Kind kind = board->rails[r].volts < 0.5 && board->rails[r].volts > -0.5 ? GROUND_ON_PINS : LIVE_ON_PINS;
    if (list != NULL)
      tell (turn, kind, g_strdup_printf (_("%s of the machine meets %s"), board->rails[r].name, list));
    for (guint i = 0; i < pins->n_pins; i++) {
      guint at = turn->image (pins, i);
      if (turn->rails[i] != r)
        continue;
      n++;
      gets |= at != PM_NONE && turn->rails[at] == r;
      number = pins->pins[i].number;
    }
    if (n > 0 && !gets)
      g_ptr_array_add (missing, n == 1 ? g_strdup_printf (_("%s (pin %s)"), board->rails[r].name, number)
                                       : g_strdup (board->rails[r].name));
  }
  if (missing->len > 0) {
    g_autofree char *list = pm_name_list (missing);
    tell (turn, RAIL_MISSING, g_strdup_printf (_("the board is left without %s"), list));
  }
}

static void
tell_lines (Turn *turn)
{
  guint n_used = 0;
  g_autoptr (GPtrArray) right = g_ptr_array_new ();

  for (guint i = 0; i < turn->pins->n_pins; i++) {
    const PmPinFact *pin = &turn->pins->pins[i];
    guint at = turn->image (turn->pins, i);
    if (pin->line == NULL || turn->rails[i] != PM_NONE)
      continue;
    n_used++;
    if (at == i)
      g_ptr_array_add (right, pin->line);
  }
  if (n_used == 0)
    return;
  if (right->len == 0) {
    tell (turn, LINES, g_strdup (_("no line meets its own pin")));
  } else {
    g_autofree char *list = pm_name_list (right);
    tell (turn, LINES, g_strdup_printf (_("of %u lines these meet their own pins all the same: %s"), n_used, list));
  }
}

static void
fill (Turn *turn)
{
  const PmPins *pins = turn->pins;

  for (guint i = 0; i < pins->n_pins; i++) {
    guint at = turn->image (pins, i);
    char **text = turn->mirrored ? &pins->pins[i].mirrored : &pins->pins[i].turned;
    if (at != PM_NONE)
      *text = pm_pins_name (pins, at);
  }
  tell_rails (turn);
  tell_lines (turn);
}

void
pm_pins_warn (PmPins *pins, const guint32 *rails)
{
  Turn turns[2] = { { pins, rails, pm_pins_turned, FALSE, { NULL } },
                    { pins, rails, pm_pins_mirrored, TRUE, { NULL } } };
  g_autoptr (GPtrArray) all = g_ptr_array_new ();

  for (guint t = 0; t < 2; t++) {
    for (guint k = 0; k < N_KINDS; k++)
      turns[t].out[k] = g_ptr_array_new ();
    if (t == 1 || !pins->keyed)
      fill (&turns[t]);
  }
  for (guint k = 0; k < N_KINDS; k++)
    for (guint t = 0; t < 2; t++) {
      for (guint i = 0; i < turns[t].out[k]->len; i++)
        g_ptr_array_add (all, turns[t].out[k]->pdata[i]);
      g_ptr_array_unref (turns[t].out[k]);
    }
  if (pins->keyed)
    g_ptr_array_add (all, g_strdup (_("The connector is keyed: the board cannot be put in turned round.")));
  else if (pins->dual_in_line)
    g_ptr_array_add (all, g_strdup (_("The chip on the board can be turned round in its socket as well; then the same "
                                      "pins meet.")));
  g_ptr_array_add (all, NULL);
  pins->warnings = (char **) g_ptr_array_free (g_steal_pointer (&all), FALSE);
}
