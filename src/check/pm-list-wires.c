/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a builder wires: the from-to list and the cables, conductor by conductor. */
#include "config.h"
#include "pm-list-private.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>
#include <string.h>

/* ---- colours: IEC 60757, letters in the order in which combinations are joined */

static const struct {
  const char *letters, *word;
} PM_COLOURS[] = {{"BK", "black"},   {"BN", "brown"}, {"RD", "red"},       {"OG", "orange"}, {"YE", "yellow"},
                  {"GN", "green"},   {"BU", "blue"},  {"VT", "violet"},    {"GY", "grey"},   {"WH", "white"},
                  {"PK", "pink"},    {"GD", "gold"},  {"TQ", "turquoise"}, {"SR", "silver"}, {"BN", "braun"},
                  {"BK", "schwarz"}, {"RD", "rot"},   {"YE", "gelb"},      {"GN", "grün"},   {"BU", "blau"},
                  {"VT", "violett"}, {"GY", "grau"},  {"WH", "weiß"},      {"GY", "gray"}};
#define N_COLOURS 14 /* those of the standard, in its order */

static int
colour_of (const char *word)
{
  for (guint i = 0; i < G_N_ELEMENTS (PM_COLOURS); i++) {
    g_autofree char *lower = g_utf8_strdown (word, -1);
    if (!g_str_equal (PM_COLOURS[i].word, lower) && g_ascii_strcasecmp (PM_COLOURS[i].letters, word) != 0)
      continue;
    for (guint k = 0; k < N_COLOURS; k++)
      if (g_str_equal (PM_COLOURS[k].letters, PM_COLOURS[i].letters))
        return (int)k;
  }
  return -1;
}

char *
pm_wire_colour (const char *written)
{
  gboolean used[N_COLOURS] = {FALSE};
  guint n = 0;
  if (written == NULL)
    return g_strdup ("");
  g_auto (GStrv) words = g_strsplit_set (written, " -/,", -1);
  for (guint i = 0; words[i] != NULL; i++) {
    if (words[i][0] == '\0' || g_str_equal (words[i], "and") || g_str_equal (words[i], "und"))
      continue;
    int colour = colour_of (words[i]);
    if (colour < 0)
      return g_strdup (written);
    used[colour] = TRUE;
    n++;
  }
  int green = colour_of ("green"), yellow = colour_of ("yellow");
  if (n == 2 && used[green] && used[yellow])
    return g_strdup ("GNYE"); /* the one pair that is not in the order of the table */
  g_autoptr (GString) letters = g_string_new (NULL);
  for (guint k = 0; k < N_COLOURS; k++)
    g_string_append (letters, used[k] ? PM_COLOURS[k].letters : "");
  return letters->len > 0 ? g_string_free (g_steal_pointer (&letters), FALSE) : g_strdup (written);
}

/* ---- wires */

static gboolean
is_wired (const PmJoin *join)
{
  return join->owner == PM_OWNER_BOARD && join->kind != PM_JOIN_THROUGH && join->kind != PM_JOIN_CUT;
}

/* From what is fixed outwards: machine, socket and plug, connectors, switches, chips, small parts. */
static guint
rank_of (const PmBoard *board, guint32 place)
{
  guint i = pm_board_instance_of (board, place);
  const PmInstance *instance = &board->instances[i];
  if (instance->owner != PM_OWNER_BOARD || i == board->socket || i == board->plug)
    return 0;
  switch (instance->part->type) {
  case PM_PART_CONNECTOR:
  case PM_PART_SOCKET:
  case PM_PART_PINS:
    return 1;
  case PM_PART_SWITCH:
  case PM_PART_JUMPER:
    return 2;
  case PM_PART_LOGIC:
  case PM_PART_CHIP:
    return 3;
  case PM_PART_CAPACITOR:
    return 4; /* at its chip */
  default:
    return 5;
  }
}

static int
by_rank (gconstpointer a, gconstpointer b, gpointer board)
{
  guint32 x = *(const guint32 *)a, y = *(const guint32 *)b;
  guint rank_x = rank_of (board, x), rank_y = rank_of (board, y);
  return rank_x != rank_y ? (rank_x < rank_y ? -1 : 1) : x < y ? -1 : x > y;
}

/* The places that are wired, each once, in the order in which they are soldered; join_of: per place the join that it is
 * named by, PM_NONE where it is not wired. */
static GArray *
wired_places (const PmBoard *board, guint32 *join_of)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (guint32));
  for (guint32 p = 0; p < board->n_places; p++)
    join_of[p] = PM_NONE;
  for (guint j = 0; j < board->n_joins; j++)
    for (guint k = 0; k < board->joins[j].n_places && is_wired (&board->joins[j]); k++) {
      guint32 place = board->joins[j].places[k];
      if (join_of[place] == PM_NONE)
        g_array_append_val (places, place);
      if (join_of[place] == PM_NONE || board->joins[join_of[place]].kind == PM_JOIN_WIRE)
        join_of[place] = j;
    }
  g_array_sort_with_data (places, by_rank, (gpointer)board);
  return places;
}

/* Those that stand in the file for themselves: a wire twice is two wires. */
static void
add_own_wires (const PmBoard *board, guint32 *wanted, guint32 net, guint32 *joined, GArray *wires)
{
  for (guint j = 0; j < board->n_joins; j++) {
    const PmJoin *join = &board->joins[j];
    if (!is_wired (join) || join->kind != PM_JOIN_WIRE || pm_metal_root (wanted, join->places[0]) != net)
      continue;
    PmWire wire = {join->places[0], join->places[1], j};
    pm_metal_unite (joined, wire.from, wire.to);
    g_array_append_val (wires, wire);
  }
}

GArray *
pm_list_wires_of (const PmBoard *board)
{
  GArray *wires = g_array_new (FALSE, FALSE, sizeof (PmWire));
  g_autofree guint32 *wanted = pm_metal_new (board->n_places), *joined = pm_metal_new (board->n_places),
                     *join_of = g_new (guint32, board->n_places + 1);
  g_autofree gboolean *done = g_new0 (gboolean, board->n_places + 1);
  g_autoptr (GArray) places = wired_places (board, join_of);
  for (guint j = 0; j < board->n_joins; j++)
    if (is_wired (&board->joins[j]))
      pm_metal_unite_join (wanted, &board->joins[j]);
  for (guint first = 0; first < places->len; first++) {
    guint32 tail = g_array_index (places, guint32, first), net = pm_metal_root (wanted, tail);
    if (done[net])
      continue;
    done[net] = TRUE;
    add_own_wires (board, wanted, net, joined, wires);
    for (guint k = first + 1; k < places->len; k++) {
      guint32 place = g_array_index (places, guint32, k);
      if (pm_metal_root (wanted, place) != net)
        continue;
      if (pm_metal_root (joined, tail) != pm_metal_root (joined, place)) {
        PmWire wire = {tail, place, join_of[place]};
        pm_metal_unite (joined, tail, place);
        g_array_append_val (wires, wire);
      }
      tail = place;
    }
  }
  return wires;
}

enum { WIRE, SIGNAL, FROM, TO, COLOUR, GAUGE, LENGTH, TERMINATION, FITTED, CHECKED };

static void
wire_row (PmListBuild *build, const PmWire *wire, guint number)
{
  const PmBoard *board = build->board;
  const PmJoin *join = &board->joins[wire->join];
  gboolean own = join->kind == PM_JOIN_WIRE;
  g_autofree char *a = pm_list_number (board, wire->from), *b = pm_list_number (board, wire->to);
  gboolean swap = strcmp (a, b) > 0; /* the same wire, whichever end comes first */
  char **cells = pm_list_add_row (build, g_strdup_printf ("wire %s %s", swap ? b : a, swap ? a : b));
  pm_list_set (cells, WIRE, own && join->name != NULL ? g_strdup (join->name) : g_strdup_printf ("%u", number));
  pm_list_set (cells, SIGNAL, pm_list_signal (build, wire->from));
  pm_list_set (cells, FROM, pm_list_pin (board, wire->from));
  pm_list_set (cells, TO, pm_list_pin (board, wire->to));
  if (own) {
    pm_list_set (cells, COLOUR, pm_wire_colour (join->colour));
    pm_list_set (cells, GAUGE, g_strdup (join->gauge));
    pm_list_set (cells, LENGTH, g_strdup (join->length));
  }
}

/* The lead of a switch that is plugged onto the board. */
static void
lead_rows (PmListBuild *build, const PmMating *mating, guint *number)
{
  const PmBoard *board = build->board;
  const PmInstance *part = &board->instances[mating->a], *into = &board->instances[mating->b];
  g_autofree char *name = pm_name_instance (board, mating->a);
  pm_list_add_line (build, PM_ROW_HEADING, g_strdup_printf ("lead %s", part->ref),
                    g_strdup_printf (_("Lead of %s, with a plug for %s"), name, into->ref));
  for (guint k = 0; k < mating->n_pairs; k++) {
    g_autofree char *a = pm_list_number (board, mating->pairs[k].a), *b = pm_list_number (board, mating->pairs[k].b);
    char **cells = pm_list_add_row (build, g_strdup_printf ("lead %s %s", a, b));
    pm_list_set (cells, WIRE, g_strdup_printf ("%u", ++*number));
    pm_list_set (cells, SIGNAL, pm_list_signal (build, mating->pairs[k].b));
    pm_list_set (cells, FROM, pm_list_pin (board, mating->pairs[k].a));
    pm_list_set (cells, TO, g_strdup_printf (_("plug of %s"), b));
  }
}

static gboolean
is_lead (const PmBoard *board, const PmMating *mating)
{
  return board->instances[mating->a].owner == PM_OWNER_BOARD && board->instances[mating->b].owner == PM_OWNER_BOARD &&
         board->instances[mating->a].part->type == PM_PART_SWITCH;
}

void
pm_list_wires (PmListBuild *build)
{
  const PmBoard *board = build->board;
  g_autoptr (GArray) wires = pm_list_wires_of (board);
  guint number = 0, n_through = 0;
  gboolean leads = FALSE;
  pm_list_add_column (build, "wire", _("Wire"), PM_CELLS_TEXT);
  pm_list_add_column (build, "signal", _("Signal"), PM_CELLS_TEXT);
  pm_list_add_column (build, "from", _("From"), PM_CELLS_TEXT);
  pm_list_add_column (build, "to", _("To"), PM_CELLS_TEXT);
  pm_list_add_column (build, "colour", _("Colour"), PM_CELLS_TEXT);
  pm_list_add_column (build, "gauge", _("Gauge"), PM_CELLS_TEXT);
  pm_list_add_column (build, "length", _("Length"), PM_CELLS_TEXT);
  pm_list_add_column (build, "termination", _("Ends"), PM_CELLS_BLANK);
  pm_list_add_column (build, "fitted", _("Fitted"), PM_CELLS_TICK);
  pm_list_add_column (build, "checked", _("Checked"), PM_CELLS_TICK);
  for (guint m = 0; m < board->n_matings; m++)
    leads |= is_lead (board, &board->matings[m]);
  if (leads && wires->len > 0)
    pm_list_add_line (build, PM_ROW_HEADING, g_strdup ("board"), g_strdup (_("On the board")));
  for (guint i = 0; i < wires->len; i++)
    wire_row (build, &g_array_index (wires, PmWire, i), ++number);
  for (guint m = 0; m < board->n_matings; m++)
    if (is_lead (board, &board->matings[m]))
      lead_rows (build, &board->matings[m], &number);
  for (guint j = 0; j < board->n_joins; j++)
    n_through += board->joins[j].kind == PM_JOIN_THROUGH;
  if (number == 0)
    pm_list_add_note (build, g_strdup (_("There is nothing to wire: the cables are in the cable table.")));
  else
    pm_list_add_note (build, g_strdup_printf (ngettext ("%u wire.", "%u wires.", number), number));
  if (n_through > 0)
    pm_list_add_note (
        build, g_strdup_printf (ngettext ("Not listed: %u pin that goes straight through from %s to %s.",
                                          "Not listed: %u pins that go straight through from %s to %s.", n_through),
                                n_through, board->instances[board->plug].ref, board->instances[board->socket].ref));
  if (number > 0)
    pm_list_add_note (build, g_strdup (_("Wires of one signal run from pin to pin in the order listed. Colours by the "
                                          "letters of IEC 60757: BK black, BN brown, RD red, OG orange, YE yellow, GN "
                                          "green, BU blue, VT violet, GY grey, WH white.")));
}

/* ---- cables */

static void
end_clear (PmListEnd *end)
{
  g_free (end->pins);
}

static int
by_line (gconstpointer a, gconstpointer b)
{
  return (int)((const PmListEnd *)a)->line - (int)((const PmListEnd *)b)->line;
}

GArray *
pm_list_ends_of (const PmBoard *board, guint cable)
{
  GArray *ends = g_array_new (FALSE, FALSE, sizeof (PmListEnd));
  guint n = board->instances[cable].part->n_pins;
  g_array_set_clear_func (ends, (GDestroyNotify)end_clear);
  for (guint m = 0; m < board->n_matings; m++) {
    const PmMating *mating = &board->matings[m];
    if ((mating->a != cable && mating->b != cable) || (board->has_board && mating->when == PM_MATING_WITHOUT_BOARD))
      continue;
    PmListEnd end = {mating->a == cable ? mating->b : mating->a, mating->spot.line, g_new (guint32, MAX (n, 1))};
    for (guint k = 0; k < n; k++)
      end.pins[k] = PM_NONE;
    for (guint k = 0; k < mating->n_pairs; k++) {
      guint32 own = mating->a == cable ? mating->pairs[k].a : mating->pairs[k].b,
              other = mating->a == cable ? mating->pairs[k].b : mating->pairs[k].a;
      end.pins[own - board->instances[cable].first_place] = other - board->instances[end.at].first_place;
    }
    g_array_append_val (ends, end);
  }
  g_array_sort (ends, by_line); /* the end that moved onto the board was appended last */
  return ends;
}

static char *
end_name (const PmBoard *board, guint at)
{
  const PmInstance *instance = &board->instances[at];
  return instance->part->type == PM_PART_DRIVE ? g_strdup (pm_name_drive (board, instance->owner_index))
                                               : pm_name_instance (board, at);
}

static const char *
pin_at (const PmBoard *board, const PmListEnd *end, guint conductor)
{
  return end->pins[conductor] == PM_NONE ? NULL : board->instances[end->at].part->pins[end->pins[conductor]].number;
}

/* "straight", or where it comes out at another pin than at the first end. */
static char *
way_words (const PmBoard *board, const GArray *ends, guint conductor, guint *n_crossed)
{
  g_autoptr (GString) text = g_string_new (NULL);
  const char *first = ends->len > 0 ? pin_at (board, &g_array_index (ends, PmListEnd, 0), conductor) : NULL;
  for (guint e = 1; e < ends->len; e++) {
    const PmListEnd *end = &g_array_index (ends, PmListEnd, e);
    const char *pin = pin_at (board, end, conductor);
    if (g_strcmp0 (pin, first) == 0)
      continue;
    g_autofree char *name = end_name (board, end->at);
    g_string_append (text, text->len > 0 ? "; " : "");
    g_string_append_printf (text, pin == NULL ? _("not joined at %s") : _("crossed at %s"), name);
  }
  *n_crossed += text->len > 0;
  return g_strdup (text->len > 0 ? text->str : _("straight"));
}

static guint
cable_rows (PmListBuild *build, guint cable, guint n_ends)
{
  const PmBoard *board = build->board;
  const PmInstance *instance = &board->instances[cable];
  g_autoptr (GArray) ends = pm_list_ends_of (board, cable);
  g_autofree char *name = pm_name_instance (board, cable);
  g_autoptr (GString) heading = g_string_new (name);
  guint n_crossed = 0;
  for (guint e = 0; e < ends->len; e++) {
    g_autofree char *at = end_name (board, g_array_index (ends, PmListEnd, e).at);
    g_string_append_printf (heading, "%s%c = %s", e > 0 ? ", " : ": ", 'A' + (int)MIN (e, 25), at);
  }
  pm_list_add_line (build, PM_ROW_HEADING, g_strdup_printf ("cable %s", instance->ref), g_strdup (heading->str));
  for (guint k = 0; k < instance->part->n_pins; k++) {
    char **cells = pm_list_add_row (build, g_strdup_printf ("cable %s.%u", instance->ref, k + 1));
    pm_list_set (cells, 0, g_strdup (instance->part->pins[k].number));
    for (guint e = 0; e < ends->len && e < n_ends; e++)
      pm_list_set (cells, 1 + e, g_strdup (pin_at (board, &g_array_index (ends, PmListEnd, e), k)));
    pm_list_set (cells, 1 + n_ends, pm_list_signal (build, instance->first_place + k));
    pm_list_set (cells, 2 + n_ends, way_words (board, ends, k, &n_crossed));
  }
  return n_crossed;
}

void
pm_list_cables (PmListBuild *build)
{
  const PmBoard *board = build->board;
  guint n_ends = 2, n_cables = 0;
  for (guint i = 0; i < board->n_instances; i++)
    if (board->instances[i].owner == PM_OWNER_CABLE && pm_list_is_built (board, i)) {
      g_autoptr (GArray) ends = pm_list_ends_of (board, i);
      n_ends = MAX (n_ends, ends->len);
      n_cables++;
    }
  pm_list_add_column (build, "conductor", _("Conductor"), PM_CELLS_NUMBER);
  for (guint e = 0; e < n_ends; e++) {
    g_autofree char *id = g_strdup_printf ("pin-%c", 'a' + (int)MIN (e, 25));
    g_autofree char *title = g_strdup_printf (_("Pin %c"), 'A' + (int)MIN (e, 25));
    pm_list_add_column (build, id, title, PM_CELLS_NUMBER);
  }
  pm_list_add_column (build, "signal", _("Signal"), PM_CELLS_TEXT);
  pm_list_add_column (build, "way", _("Straight or crossed"), PM_CELLS_TEXT);
  pm_list_add_column (build, "checked", _("Checked"), PM_CELLS_TICK);
  if (n_cables == 0) {
    pm_list_add_note (build, g_strdup (_("The file has no cable of its own.")));
    return;
  }
  for (guint i = 0; i < board->n_instances; i++) {
    if (board->instances[i].owner != PM_OWNER_CABLE || !pm_list_is_built (board, i))
      continue;
    guint n = cable_rows (build, i, n_ends);
    pm_list_add_note (build, n == 0
                                 ? g_strdup_printf (_("%s: every conductor meets the same pin at every end."),
                                                    board->instances[i].ref)
                                 : g_strdup_printf (ngettext ("%s: %u conductor does not come out at the same pin.",
                                                              "%s: %u conductors do not come out at the same pin.", n),
                                                    board->instances[i].ref, n));
  }
  pm_list_add_note (build, g_strdup (_("The stripe of the ribbon is conductor 1. Each connector is seen onto its open "
                                        "face, where the pins go in; a mark on it shows pin 1.")));
}
