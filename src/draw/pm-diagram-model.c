/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a board to symbols and nets: what hangs together for good with the board in place, what of it is worth drawing,
 * and how the wires are called. */
#include "config.h"
#include "pm-diagram-private.h"
#include "pm-metal.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static void
symbol_free (PmDiagramSymbol *symbol)
{
  for (guint i = 0; i < symbol->pins->len; i++) {
    PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
    g_free (pin->name);
    g_free (pin->number);
    g_free (pin->note);
  }
  g_array_unref (symbol->pins);
  g_free (symbol->section);
  g_free (symbol->reference);
  g_free (symbol->value);
  g_free (symbol->title);
  g_free (symbol->foot);
  g_free (symbol);
}

/* ---- what hangs together */

/* Which nets are rails, and which something drives. */
static void
find_kinds (PmDiagram *diagram)
{
  const PmBoard *board = diagram->board;

  diagram->rail_of = g_new (int, board->n_places + 1);
  diagram->driven = g_new0 (gint8, board->n_places + 1);
  for (guint32 p = 0; p < board->n_places; p++)
    diagram->rail_of[p] = -1;
  for (guint r = board->n_rails; r > 0; r--)
    for (guint k = 0; k < board->rails[r - 1].n_places; k++)
      diagram->rail_of[diagram->roots[board->rails[r - 1].places[k]]] = (int)r - 1;
  for (guint l = 0; l < board->host.n_lines; l++)
    if (board->host.lines[l].drives != PM_LINE_DRIVES_NOTHING && board->host.lines[l].place != PM_NONE)
      diagram->driven[diagram->roots[board->host.lines[l].place]] = TRUE;
  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *instance = &board->instances[i];
    for (guint k = 0; k < instance->part->n_pins && instance->part->type == PM_PART_LOGIC; k++)
      if (instance->part->pins[k].role == PM_PIN_OUTPUT)
        diagram->driven[diagram->roots[instance->first_place + k]] = TRUE;
  }
}

/* ---- what is worth drawing */

/* A select that the drive's jumper does not listen to. */
static gboolean
is_idle_select (const PmDiagram *diagram, const PmDiagramSymbol *symbol, const PmDiagramPin *pin)
{
  if (pin->position == PM_NONE)
    return FALSE;
  return diagram->board->switches[diagram->board->drives[symbol->drive].jumper].usual != pin->position;
}

/* How many pins of drawn symbols each net has; selects that nobody listens to count only where others are. */
static guint *
count_pins (const PmDiagram *diagram)
{
  guint *count = g_new0 (guint, diagram->board->n_places + 1);

  for (guint idle = 0; idle < 2; idle++)
    for (guint s = 0; s < diagram->symbols->len; s++) {
      const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s);
      for (guint i = 0; i < symbol->pins->len && !symbol->dropped && !symbol->spare; i++) {
        const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
        if (is_idle_select (diagram, symbol, pin) == (idle == 1) && (idle == 0 || count[pin->root] > 0))
          count[pin->root]++;
      }
    }
  return count;
}

/* Outputs lead nowhere, and inputs are tied or open. Pins that other sections have too do not count. */
static gboolean
is_spare (const PmDiagram *diagram, const PmDiagramSymbol *symbol, const guint *count)
{
  gboolean any = FALSE;

  if (diagram->board->instances[symbol->instance].part->type != PM_PART_LOGIC)
    return FALSE;
  for (guint i = 0; i < symbol->pins->len; i++) {
    const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
    gboolean shared = FALSE;
    for (guint s = 0; s < diagram->symbols->len && !shared; s++) {
      const PmDiagramSymbol *other = PM_SYMBOL_AT (diagram, s);
      for (guint k = 0; k < other->pins->len && other != symbol && other->instance == symbol->instance; k++)
        shared |= PM_DIAGRAM_AT (other->pins, PmDiagramPin, k)->place == pin->place;
    }
    if (pin->rail < 0 && count[pin->root] > 1 && !shared)
      return FALSE;
    any |= pin->flow == PM_FLOW_OUT;
  }
  return any;
}

static void
remove_pin (PmDiagramSymbol *symbol, guint i)
{
  PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);

  g_free (pin->name);
  g_free (pin->number);
  g_free (pin->note);
  g_array_remove_index (symbol->pins, i);
}

/* Pins of machine, drives and connectors that lead to nothing drawn; a drive keeps the select it listens to. */
static gboolean
drop_pins (PmDiagram *diagram, PmDiagramSymbol *symbol, const guint *count)
{
  gboolean dropped = FALSE;

  for (guint i = symbol->pins->len; i > 0; i--) {
    const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i - 1);
    if (pin->rail >= 0 || count[pin->root] > 1 || (pin->position != PM_NONE && !is_idle_select (diagram, symbol, pin)))
      continue;
    remove_pin (symbol, i - 1);
    dropped = TRUE;
  }
  return dropped;
}

static gboolean
leads_nowhere (const PmDiagramSymbol *symbol, const guint *count)
{
  for (guint i = 0; i < symbol->pins->len; i++) {
    const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
    if (pin->rail < 0 && count[pin->root] > 1)
      return FALSE;
  }
  return TRUE;
}

/* Resistors of the machine at its own lines are told in its block, not drawn. */
static void
fold_pulls (PmDiagram *diagram)
{
  for (guint s = 0; s < diagram->symbols->len; s++) {
    PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s);
    const PmDiagramSymbol *host = PM_SYMBOL_AT (diagram, 0);
    if (!symbol->in_machine || !symbol->upright || symbol->look.shape != PM_SYMBOL_RESISTOR)
      continue;
    guint end = symbol->rails[0] >= 0 ? 1 : 0;
    guint32 root = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, end)->root;
    for (guint i = 0; i < host->pins->len && host->look.shape == PM_SYMBOL_HOST && symbol->rails[end] < 0; i++) {
      PmDiagramPin *pin = PM_DIAGRAM_AT (host->pins, PmDiagramPin, i);
      if (pin->root != root || pin->note != NULL)
        continue;
      pin->note = g_strdup_printf ("%s %s", symbol->value, end == 1 ? "↑" : "↓");
      symbol->dropped = TRUE;
    }
  }
}

/* Until nothing more falls: what is dropped may leave others alone. */
static void
prune (PmDiagram *diagram)
{
  for (gboolean again = TRUE; again;) {
    g_autofree guint *count = count_pins (diagram);
    again = FALSE;
    for (guint s = 0; s < diagram->symbols->len; s++) {
      PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s);
      PmSymbolShape shape = symbol->look.shape;
      if (symbol->dropped || symbol->spare || symbol->band == PM_BAND_FOOT)
        continue;
      if (shape == PM_SYMBOL_HOST || shape == PM_SYMBOL_DRIVE || shape == PM_SYMBOL_CONNECTOR) {
        again |= drop_pins (diagram, symbol, count);
        symbol->dropped = shape == PM_SYMBOL_CONNECTOR && symbol->pins->len == 0;
      } else if (symbol->in_machine)
        symbol->dropped = symbol->upright ? leads_nowhere (symbol, count) : is_spare (diagram, symbol, count);
      else if (is_spare (diagram, symbol, count)) {
        symbol->spare = TRUE;
        symbol->band = PM_BAND_FOOT;
      } else if (symbol->sw != PM_NONE && leads_nowhere (symbol, count))
        symbol->band = PM_BAND_FOOT;
      again |= symbol->dropped || symbol->spare;
      if (symbol->dropped)
        break;
    }
  }
  for (guint s = diagram->symbols->len; s > 0; s--)
    if (PM_SYMBOL_AT (diagram, s - 1)->dropped)
      g_ptr_array_remove_index (diagram->symbols, s - 1);
}

/* Pins that a spare section shares with others need not be shown again. */
static void
strip_spares (PmDiagram *diagram)
{
  for (guint s = 0; s < diagram->symbols->len; s++) {
    PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s);
    for (guint i = symbol->pins->len; i > 0 && symbol->spare; i--) {
      guint32 place = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i - 1)->place;
      gboolean shared = FALSE;
      for (guint o = 0; o < diagram->symbols->len && !shared; o++) {
        const PmDiagramSymbol *other = PM_SYMBOL_AT (diagram, o);
        for (guint k = 0; k < other->pins->len && !shared && (o < s || (o > s && !other->spare)); k++)
          shared = PM_DIAGRAM_AT (other->pins, PmDiagramPin, k)->place == place;
      }
      if (shared)
        remove_pin (symbol, i - 1);
    }
  }
}

/* ---- order: the machine's lines give their order to the pins of drives */

static guint
line_of_root (const PmDiagram *diagram, guint32 root)
{
  const PmBoard *board = diagram->board;

  for (guint l = 0; l < board->host.n_lines; l++)
    if (board->host.lines[l].place != PM_NONE && diagram->roots[board->host.lines[l].place] == root)
      return l;
  return G_MAXUINT;
}

/* ---- nets */

/* "X1.14" of an instance on the net; NULL if it is not on it. */
static char *
pin_on_net (const PmDiagram *diagram, guint32 instance, guint32 root)
{
  const PmInstance *at;

  if (instance == PM_NONE)
    return NULL;
  at = &diagram->board->instances[instance];
  for (guint i = 0; i < at->part->n_pins; i++)
    if (diagram->roots[at->first_place + i] == root)
      return g_strdup_printf ("%s.%s", at->ref, at->part->pins[i].number);
  return NULL;
}

/* The connector by which the machine's net goes out, where no board says it. */
static char *
machine_pin (const PmDiagram *diagram, guint32 root)
{
  const PmBoard *board = diagram->board;

  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *instance = &board->instances[i];
    if (instance->owner != PM_OWNER_HOST || instance->part->type != PM_PART_CONNECTOR)
      continue;
    char *text = pin_on_net (diagram, i, root);
    if (text != NULL) {
      const char *dot = strchr (text, '.');
      char *out = g_strdup (g_str_has_prefix (text, "host.") ? dot + 1 : text);
      g_free (text);
      return out;
    }
  }
  return NULL;
}

static const char *
join_name (const PmDiagram *diagram, guint32 root)
{
  const PmBoard *board = diagram->board;

  for (guint j = 0; j < board->n_joins; j++)
    if (board->joins[j].name != NULL && board->joins[j].n_places > 0 &&
        diagram->roots[board->joins[j].places[0]] == root && board->joins[j].kind != PM_JOIN_SUPPLY)
      return board->joins[j].name;
  return NULL;
}

/* The line that a cut pin carried: name of the far side. */
static const char *
cut_line (const PmDiagram *diagram, guint32 root)
{
  const PmBoard *board = diagram->board;

  for (guint j = 0; j < board->n_joins; j++) {
    const PmJoin *join = &board->joins[j];
    if (join->kind != PM_JOIN_CUT || join->n_places < 2)
      continue;
    for (guint k = 0; k < 2; k++)
      if (diagram->roots[join->places[k]] == root) {
        guint line = line_of_root (diagram, diagram->roots[join->places[1 - k]]);
        if (line != G_MAXUINT)
          return board->host.lines[line].name;
      }
  }
  return NULL;
}

static void
name_net (const PmDiagram *diagram, PmDiagramNet *net)
{
  const PmBoard *board = diagram->board;
  const char *join = join_name (diagram, net->root);
  guint line = line_of_root (diagram, net->root);
  const char *own = line != G_MAXUINT ? board->host.lines[line].name : NULL;
  const char *cut = own == NULL ? cut_line (diagram, net->root) : NULL;
  g_autofree char *socket = pin_on_net (diagram, board->socket, net->root);
  g_autofree char *plug = pin_on_net (diagram, board->plug, net->root);
  g_autofree char *machine = socket == NULL && plug == NULL ? machine_pin (diagram, net->root) : NULL;
  g_autofree char *at = socket != NULL && plug != NULL ? g_strdup_printf ("%s–%s", socket, plug)
                        : socket != NULL               ? g_strdup (socket)
                        : plug != NULL                 ? g_strdup (plug)
                                                       : g_strdup (machine);

  /* Short, for wires are short: the pin tells which line it was. */
  net->label = g_strdup (join != NULL ? join : at != NULL ? at : cut);
  /* In words: the two halves of a cut line are told apart by the side they are on. */
  if (join != NULL)
    net->name = g_strdup (join);
  else if (own != NULL)
    net->name = plug == NULL && socket != NULL ? g_strdup_printf ("%s (%s)", own, socket) : g_strdup (own);
  else if (cut != NULL)
    net->name = g_strdup_printf ("%s (%s)", cut, at != NULL ? at : "");
  else
    net->name = at != NULL ? g_strdup (at) : pm_board_place_name (board, net->root);
}

static int
compare_rank (gconstpointer a, gconstpointer b, gpointer data)
{
  const PmDiagramPin *p = a, *q = b;
  const guint *rank = data;
  guint by[2] = {p->position != PM_NONE ? p->position : 1000 + rank[p->root],
                 q->position != PM_NONE ? q->position : 1000 + rank[q->root]};

  if (by[0] != by[1])
    return by[0] < by[1] ? -1 : 1;
  return p->flow != q->flow ? (p->flow == PM_FLOW_IN ? -1 : 1) : p->place < q->place ? -1 : p->place > q->place;
}

/* Selects keep their order at a drive; side lines come in the machine's order, those it does not know in the drive's.
 */
static void
order_drives (PmDiagram *diagram)
{
  const PmBoard *board = diagram->board;
  g_autofree guint *rank = g_new (guint, board->n_places + 1);

  for (guint s = 0; s < diagram->symbols->len; s++) {
    const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s);
    const PmDrive *drive;
    if (symbol->look.shape != PM_SYMBOL_DRIVE)
      continue;
    drive = &board->drives[symbol->drive];
    memset (rank, 0, sizeof (guint) * (board->n_places + 1));
    for (guint l = 0; l < board->host.n_lines; l++) {
      const char *does = board->host.lines[l].does;
      for (guint k = 0; k < drive->n_needs; k++)
        if (drive->needs[k].place != PM_NONE && g_strcmp0 (drive->needs[k].does, does) == 0)
          rank[diagram->roots[drive->needs[k].place]] = 1 + l;
      for (guint k = 0; k < drive->n_gives; k++)
        if (drive->gives[k].place != PM_NONE && g_strcmp0 (drive->gives[k].does, does) == 0)
          rank[diagram->roots[drive->gives[k].place]] = 1 + l;
    }
    g_array_sort_with_data (symbol->pins, compare_rank, rank);
  }
}

static void
number_nets (PmDiagram *diagram)
{
  g_autofree guint *count = count_pins (diagram);
  g_autofree guint *net_of = g_new (guint, diagram->board->n_places + 1);

  memset (net_of, 0xff, sizeof (guint) * (diagram->board->n_places + 1));
  diagram->nets = g_array_new (FALSE, TRUE, sizeof (PmDiagramNet));
  for (guint s = 0; s < diagram->symbols->len; s++) {
    PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s);
    for (guint i = 0; i < symbol->pins->len && symbol->band != PM_BAND_FOOT; i++) {
      PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
      if (pin->rail >= 0 || count[pin->root] < 2)
        continue;
      if (net_of[pin->root] == G_MAXUINT) {
        PmDiagramNet net = {.root = pin->root};
        name_net (diagram, &net);
        net_of[pin->root] = diagram->nets->len;
        g_array_append_val (diagram->nets, net);
      }
      pin->net = net_of[pin->root];
    }
  }
}

static void
add_rest (GString *text, const char *more)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", more);
}

/* Where a cable leads conductors to pins of other numbers: only those that are drawn. */
static void
tell_cables (const PmDiagram *diagram, GString *text)
{
  const PmBoard *board = diagram->board;

  for (guint s = 0; s < diagram->symbols->len; s++) {
    const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s);
    g_autoptr (GString) pairs = g_string_new (NULL);
    const char *cable = NULL;
    for (guint i = 0; i < symbol->pins->len && symbol->drive != PM_NONE; i++) {
      const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
      for (guint m = 0; m < board->n_matings; m++)
        for (guint k = 0; k < board->matings[m].n_pairs; k++) {
          const PmPair *pair = &board->matings[m].pairs[k];
          if (pair->a != pin->place || board->matings[m].when == PM_MATING_WITHOUT_BOARD)
            continue;
          const PmInstance *at = &board->instances[pm_board_instance_of (board, pair->b)];
          const char *number = at->part->pins[pair->b - at->first_place].number;
          if (at->part->type != PM_PART_CABLE || g_str_equal (number, pin->number))
            continue;
          cable = at->ref;
          g_string_append_printf (pairs, "%s%s–%s", pairs->len > 0 ? ", " : "", number, pin->number);
        }
    }
    if (cable != NULL) {
      g_autofree char *more =
          g_strdup_printf (_("%s changes places at %s: %s (conductor–pin)."), cable, symbol->title, pairs->str);
      add_rest (text, more);
    }
  }
}

/* What is not drawn. */
static void
tell_rest (PmDiagram *diagram)
{
  const PmBoard *board = diagram->board;
  g_autoptr (GString) text = g_string_new (NULL);
  guint n_through = 0, n_spare = 0, n_machine = 0;

  for (guint j = 0; j < board->n_joins; j++) {
    gboolean drawn = board->joins[j].kind != PM_JOIN_THROUGH;
    for (guint n = 0; n < diagram->nets->len && !drawn; n++)
      drawn = PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, n)->root == diagram->roots[board->joins[j].places[0]];
    n_through += !drawn;
  }
  for (guint s = 0; s < diagram->symbols->len; s++) {
    n_spare += PM_SYMBOL_AT (diagram, s)->spare;
    n_machine += PM_SYMBOL_AT (diagram, s)->in_machine;
  }
  if (n_through > 0) {
    g_autofree char *more = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u more pin goes straight through.",
                                                          "%u more pins go straight through.", n_through),
                                             n_through);
    add_rest (text, more);
  }
  tell_cables (diagram, text);
  if (n_machine > 0)
    add_rest (text, _("Dashed outlines stand for parts in the machine."));
  if (n_spare > 0) {
    g_autofree char *more = g_strdup_printf (
        g_dngettext (GETTEXT_PACKAGE, "%u section is spare.", "%u sections are spare.", n_spare), n_spare);
    add_rest (text, more);
  }
  if (text->len > 0)
    diagram->rest = g_string_free (g_steal_pointer (&text), FALSE);
}

void
pm_diagram_model (PmDiagram *diagram)
{
  const PmBoard *board = diagram->board;

  diagram->symbols = g_ptr_array_new_with_free_func ((GDestroyNotify)symbol_free);
  diagram->roots = pm_metal_of_board (diagram->board, PM_METAL_ALL, NULL);
  find_kinds (diagram);
  pm_diagram_add_host (diagram);
  for (guint i = 0; i < board->n_instances; i++)
    if (board->instances[i].owner == PM_OWNER_BOARD || board->instances[i].owner == PM_OWNER_HOST)
      pm_diagram_add_part (diagram, i);
  for (guint d = 0; d < board->n_drives; d++)
    pm_diagram_add_drive (diagram, d);
  fold_pulls (diagram);
  prune (diagram);
  strip_spares (diagram);
  order_drives (diagram);
  number_nets (diagram);
  tell_rest (diagram);
}
