/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a piece of metal is called, and how many ohms lie between two. */
#include "config.h"
#include "pm-list-private.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>
#include <math.h>

/* ---- ohms */

typedef struct {
  guint a, b;
  double ohms;
} Branch;

static guint
node_of (GHashTable *nodes, guint32 net)
{
  gpointer known = g_hash_table_lookup (nodes, GUINT_TO_POINTER (net + 1));
  if (known != NULL)
    return GPOINTER_TO_UINT (known) - 1;
  guint n = g_hash_table_size (nodes);
  g_hash_table_insert (nodes, GUINT_TO_POINTER (net + 1), GUINT_TO_POINTER (n + 1));
  return n;
}

static GArray *
branches_of (const PmBoard *board, const guint32 *nets, GHashTable *nodes)
{
  GArray *branches = g_array_new (FALSE, FALSE, sizeof (Branch));
  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *instance = &board->instances[i];
    if (instance->owner != PM_OWNER_BOARD || !(instance->value > 0) ||
        (instance->part->type != PM_PART_RESISTOR && instance->part->type != PM_PART_NETWORK))
      continue;
    for (guint k = 0; k < instance->part->n_resistors; k++) {
      guint32 a = nets[instance->first_place + instance->part->resistors[k].a],
              b = nets[instance->first_place + instance->part->resistors[k].b];
      Branch branch = {node_of (nodes, a), node_of (nodes, b), instance->value};
      if (a != b)
        g_array_append_val (branches, branch);
    }
  }
  return branches;
}

/* Nodes that resistors lead to from one. */
static gboolean *
reached_from (const GArray *branches, guint n, guint from)
{
  gboolean *reached = g_new0 (gboolean, n), more = TRUE;
  reached[from] = TRUE;
  while (more) {
    more = FALSE;
    for (guint k = 0; k < branches->len; k++) {
      const Branch *branch = &g_array_index (branches, Branch, k);
      if (reached[branch->a] != reached[branch->b])
        more = reached[branch->a] = reached[branch->b] = TRUE;
    }
  }
  return reached;
}

/* Node voltages for one ampere from a to b, by Gauss and Jordan with pivots by column (nodal analysis): the voltage at
 * a is the ohms. */
double
pm_list_ohms (const PmBoard *board, const guint32 *nets, guint32 from, guint32 to)
{
  if (nets[from] == nets[to])
    return 0.0;
  g_autoptr (GHashTable) nodes = g_hash_table_new (NULL, NULL);
  guint a = node_of (nodes, nets[from]), b = node_of (nodes, nets[to]);
  g_autoptr (GArray) branches = branches_of (board, nets, nodes);
  guint n = g_hash_table_size (nodes), width = n + 1;
  g_autofree gboolean *reached = reached_from (branches, n, b);
  if (!reached[a])
    return INFINITY;
  g_autofree double *m = g_new0 (double, (gsize)n * width);
  for (guint k = 0; k < branches->len; k++) {
    const Branch *branch = &g_array_index (branches, Branch, k);
    double g = 1.0 / branch->ohms;
    m[branch->a * width + branch->a] += g;
    m[branch->b * width + branch->b] += g;
    m[branch->a * width + branch->b] -= g;
    m[branch->b * width + branch->a] -= g;
  }
  m[a * width + n] = 1.0;
  for (guint r = 0; r < n; r++)
    if (r == b || !reached[r]) {
      for (guint c = 0; c <= n; c++)
        m[r * width + c] = 0.0;
      m[r * width + r] = 1.0;
    }
  for (guint k = 0; k < n; k++) {
    guint best = k;
    for (guint r = k + 1; r < n; r++)
      if (fabs (m[r * width + k]) > fabs (m[best * width + k]))
        best = r;
    for (guint c = 0; c <= n; c++) {
      double kept = m[k * width + c];
      m[k * width + c] = m[best * width + c];
      m[best * width + c] = kept;
    }
    for (guint r = 0; r < n; r++) {
      double factor = r == k ? 0.0 : m[r * width + k] / m[k * width + k];
      for (guint c = k; c <= n && factor != 0.0; c++)
        m[r * width + c] -= factor * m[k * width + c];
    }
  }
  return m[a * width + n] / m[a * width + a];
}

char *
pm_list_ohms_text (double ohms)
{
  double step = pow (10.0, floor (log10 (ohms)) - 2.0);
  return pm_quantity_format (round (ohms / step) * step, PM_UNIT_OHM);
}

/* ---- names */

guint32 *
pm_list_side_lines (const PmBoard *board)
{
  static const char *const sides[] = {"machine", "chip", "drive"};
  guint32 *lines = g_new (guint32, MAX (board->n_places, 1));
  for (guint32 p = 0; p < board->n_places; p++)
    lines[p] = PM_NONE;
  for (guint l = 0; l < board->host.n_lines && board->has_board; l++)
    for (guint s = 0; s < G_N_ELEMENTS (sides); s++) {
      g_autofree char *name = g_strdup_printf ("%s:%s", board->host.lines[l].name, sides[s]);
      guint32 place = board->host.lines[l].name != NULL ? pm_board_find_place (board, name) : PM_NONE;
      if (place != PM_NONE)
        lines[place] = l;
    }
  return lines;
}

guint32
pm_list_passing (const PmBoard *board, guint32 place)
{
  for (guint j = 0; j < board->n_joins; j++)
    if ((board->joins[j].kind == PM_JOIN_THROUGH || board->joins[j].kind == PM_JOIN_CUT) &&
        (board->joins[j].places[0] == place || board->joins[j].places[1] == place))
      return j;
  return PM_NONE;
}

guint32
pm_list_rail (const PmListBuild *build, guint32 place)
{
  const PmBoard *board = build->board;
  for (guint r = 0; r < board->n_rails; r++)
    for (guint k = 0; k < board->rails[r].n_places; k++)
      if (build->in_machine[board->rails[r].places[k]] == build->in_machine[place])
        return r;
  return PM_NONE;
}

guint32
pm_list_line (const PmListBuild *build, guint32 place)
{
  const PmHost *host = &build->board->host;
  for (guint l = 0; l < host->n_lines; l++)
    if (host->lines[l].place != PM_NONE && build->in_machine[host->lines[l].place] == build->in_machine[place])
      return l;
  return PM_NONE;
}

static const char *
jumper_use (const PmListBuild *build, const PmDrive *drive, guint32 net)
{
  const PmSwitch *sw = drive->jumper != PM_NONE ? &build->board->switches[drive->jumper] : NULL;
  for (guint p = 0; sw != NULL && p < sw->n_positions; p++)
    for (guint k = 0; k < sw->positions[p].n_pairs; k++)
      if (build->in_machine[sw->positions[p].pairs[k].a] == net ||
          build->in_machine[sw->positions[p].pairs[k].b] == net)
        return sw->positions[p].title != NULL ? sw->positions[p].title : sw->positions[p].name;
  return NULL;
}

static void
add_use (GPtrArray *uses, const char *use)
{
  if (use != NULL && !g_ptr_array_find_with_equal_func (uses, use, g_str_equal, NULL))
    g_ptr_array_add (uses, (gpointer)use);
}

char *
pm_list_use (const PmListBuild *build, guint32 place, gboolean *given)
{
  g_autoptr (GPtrArray) uses = g_ptr_array_new ();
  guint32 net = build->in_machine[place];
  *given = FALSE;
  for (guint d = 0; d < build->board->n_drives; d++) {
    const PmDrive *drive = &build->board->drives[d];
    for (guint i = 0; i < drive->n_needs; i++)
      if (drive->needs[i].place != PM_NONE && build->in_machine[drive->needs[i].place] == net)
        add_use (uses, drive->needs[i].does);
    add_use (uses, jumper_use (build, drive, net));
    for (guint i = 0; i < drive->n_answers; i++)
      for (guint k = 0; k < drive->answers[i].n_whens; k++)
        if (build->in_machine[drive->answers[i].whens[k].place] == net)
          add_use (uses, "select");
    for (guint i = 0; i < drive->n_gives; i++)
      if (drive->gives[i].place != PM_NONE && build->in_machine[drive->gives[i].place] == net) {
        add_use (uses, drive->gives[i].does);
        *given = TRUE;
      }
  }
  if (uses->len == 0)
    return NULL;
  g_ptr_array_add (uses, NULL);
  return g_strjoinv (" / ", (char **)uses->pdata);
}

/* The board sits in a drive's cable, not at a chip: so its sides are called. */
static gboolean
sits_in_cable (const PmBoard *board)
{
  for (guint l = 0; l < board->host.n_lines; l++) {
    g_autofree char *name = g_strdup_printf ("%s:chip", board->host.lines[l].name);
    if (board->host.lines[l].name != NULL && pm_board_find_place (board, name) != PM_NONE)
      return FALSE;
  }
  return TRUE;
}

char *
pm_list_side (const PmListBuild *build, guint32 place)
{
  const PmBoard *board = build->board;
  guint32 line = build->side_line[place], j = pm_list_passing (board, place);
  if (line == PM_NONE || j == PM_NONE)
    return NULL;
  const char *name = board->host.lines[line].name;
  if (board->joins[j].kind == PM_JOIN_THROUGH)
    return g_strdup (name);
  return g_strdup_printf (board->joins[j].places[0] == place ? _("%s, machine side")
                          : sits_in_cable (board)            ? _("%s, drive side")
                                                             : _("%s, chip side"),
                          name);
}

static guint32
driver_of (const PmListBuild *build, guint32 net)
{
  const PmBoard *board = build->board;
  for (guint i = 0; i < board->n_instances; i++)
    for (guint k = 0; k < board->instances[i].part->n_pins && board->instances[i].owner == PM_OWNER_BOARD; k++)
      if (board->instances[i].part->type == PM_PART_LOGIC && board->instances[i].part->pins[k].role == PM_PIN_OUTPUT &&
          build->nets[board->instances[i].first_place + k] == net)
        return board->instances[i].first_place + k;
  return PM_NONE;
}

char *
pm_list_signal (const PmListBuild *build, guint32 place)
{
  const PmBoard *board = build->board;
  guint32 rail = pm_list_rail (build, place), net = build->nets[place];
  if (rail != PM_NONE)
    return g_strdup (board->rails[rail].name);
  for (guint32 p = 0; p < board->n_places; p++)
    if (build->nets[p] == net && build->side_line[p] != PM_NONE && pm_list_passing (board, p) != PM_NONE)
      return pm_list_side (build, p);
  for (guint j = 0; j < board->n_joins; j++)
    if (board->joins[j].owner == PM_OWNER_BOARD && board->joins[j].kind != PM_JOIN_WIRE &&
        board->joins[j].name != NULL && board->joins[j].n_places > 0 && build->nets[board->joins[j].places[0]] == net)
      return g_strdup (board->joins[j].name);
  guint32 line = pm_list_line (build, place);
  if (line != PM_NONE && board->host.lines[line].name != NULL)
    return g_strdup (board->host.lines[line].name);
  gboolean given;
  g_autofree char *use = pm_list_use (build, place, &given);
  if (use != NULL)
    return g_steal_pointer (&use);
  guint32 driver = driver_of (build, net);
  return driver != PM_NONE ? pm_board_place_name (board, driver) : g_strdup ("");
}

gboolean
pm_list_is_built (const PmBoard *board, guint i)
{
  const PmInstance *instance = &board->instances[i];
  if (instance->owner == PM_OWNER_CABLE)
    return !g_str_has_prefix (instance->ref, "host.");
  return instance->owner == PM_OWNER_BOARD && !g_str_equal (instance->part->name, "rail");
}

char *
pm_list_number (const PmBoard *board, guint32 place)
{
  const PmInstance *instance = &board->instances[pm_board_instance_of (board, place)];
  return instance->part->n_pins == 1
             ? g_strdup (instance->ref)
             : g_strdup_printf ("%s.%s", instance->ref, instance->part->pins[place - instance->first_place].number);
}

char *
pm_list_pin (const PmBoard *board, guint32 place)
{
  const PmInstance *instance = &board->instances[pm_board_instance_of (board, place)];
  const PmPin *pin = &instance->part->pins[place - instance->first_place];
  g_autofree char *number = pm_list_number (board, place);
  if (instance->owner == PM_OWNER_HOST)
    return g_strdup_printf ("%s (%s)", g_str_has_prefix (number, "host.") ? number + 5 : number,
                            instance->title != NULL ? instance->title : _("in the machine"));
  if (instance->owner == PM_OWNER_DRIVE)
    return pm_name_place (board, place);
  return g_str_equal (pin->number, pin->name) ? g_steal_pointer (&number)
                                              : g_strdup_printf ("%s (%s)", number, pin->name);
}
