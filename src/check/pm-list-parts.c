/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a builder buys: the parts list, for one board or for a group; and other chips that would do. */
#include "config.h"
#include "pm-alternates.h"
#include "pm-list-private.h"
#include "pm-naming.h"
#include "pm-preferred.h"
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Parts that are bought as one. */
typedef struct {
  GArray *instances; /* guint */
} Item;

static void
item_free (Item *item)
{
  g_array_unref (item->instances);
  g_free (item);
}

/* In the order of the list. */
static guint
rank_of (const PmInstance *instance)
{
  static const PmPartType order[] = {PM_PART_LOGIC,     PM_PART_CHIP,      PM_PART_SOCKET, PM_PART_PINS,
                                     PM_PART_CONNECTOR, PM_PART_SWITCH,    PM_PART_JUMPER, PM_PART_RESISTOR,
                                     PM_PART_NETWORK,   PM_PART_CAPACITOR, PM_PART_DIODE,  PM_PART_LED,
                                     PM_PART_CABLE};
  for (guint k = 0; k < G_N_ELEMENTS (order); k++)
    if (order[k] == instance->part->type)
      return k;
  return G_N_ELEMENTS (order);
}

static gboolean
is_same (const PmInstance *a, const PmInstance *b)
{
  if (a->part->type == PM_PART_CABLE || b->part->type == PM_PART_CABLE)
    return FALSE; /* each cable has its own length and ends */
  return g_str_equal (a->part->name, b->part->name) && a->family == b->family &&
         (a->value == b->value || (isnan (a->value) && isnan (b->value)));
}

/* "R2" before "R10". */
static int
by_letters (const char *a, const char *b)
{
  gsize na = strcspn (a, "0123456789"), nb = strcspn (b, "0123456789");
  int letters = na == nb ? strncmp (a, b, na) : strcmp (a, b);
  gint64 xa = g_ascii_strtoll (a + na, NULL, 10), xb = g_ascii_strtoll (b + nb, NULL, 10);
  return letters != 0 ? letters : xa != xb ? (xa < xb ? -1 : 1) : strcmp (a, b);
}

static int
by_ref (gconstpointer a, gconstpointer b, gpointer board)
{
  return by_letters (((const PmBoard *)board)->instances[*(const guint *)a].ref,
                     ((const PmBoard *)board)->instances[*(const guint *)b].ref);
}

static int
by_item (gconstpointer a, gconstpointer b, gpointer board)
{
  const PmBoard *of = board;
  const Item *x = *(const Item *const *)a, *y = *(const Item *const *)b;
  const PmInstance *p = &of->instances[g_array_index (x->instances, guint, 0)],
                   *q = &of->instances[g_array_index (y->instances, guint, 0)];
  guint m = rank_of (p), n = rank_of (q);
  return m != n ? (m < n ? -1 : 1) : by_letters (p->ref, q->ref);
}

static GPtrArray *
items_of (const PmBoard *board)
{
  GPtrArray *items = g_ptr_array_new_with_free_func ((GDestroyNotify)item_free);
  for (guint i = 0; i < board->n_instances; i++) {
    Item *item = NULL;
    if (!pm_list_is_built (board, i))
      continue;
    for (guint k = 0; k < items->len && item == NULL; k++)
      if (is_same (&board->instances[g_array_index (((Item *)g_ptr_array_index (items, k))->instances, guint, 0)],
                   &board->instances[i]))
        item = g_ptr_array_index (items, k);
    if (item == NULL) {
      item = g_new0 (Item, 1);
      item->instances = g_array_new (FALSE, FALSE, sizeof (guint));
      g_ptr_array_add (items, item);
    }
    g_array_append_val (item->instances, i);
  }
  for (guint k = 0; k < items->len; k++)
    g_array_sort_with_data (((Item *)g_ptr_array_index (items, k))->instances, by_ref, (gpointer)board);
  g_ptr_array_sort_with_data (items, by_item, (gpointer)board);
  return items;
}

/* "R1-R3, R5". */
static char *
letters_of (const PmBoard *board, const GArray *instances)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint k = 0; k < instances->len;) {
    const char *ref = board->instances[g_array_index (instances, guint, k)].ref;
    gsize n = strcspn (ref, "0123456789");
    guint last = k;
    while (last + 1 < instances->len) {
      g_autofree char *next = g_strdup_printf ("%.*s%" G_GINT64_FORMAT, (int)n, ref,
                                               g_ascii_strtoll (ref + n, NULL, 10) + (gint64)(last + 1 - k));
      if (!g_str_equal (next, board->instances[g_array_index (instances, guint, last + 1)].ref))
        break;
      last++;
    }
    g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", ref);
    if (last > k + 1)
      g_string_append_printf (text, "-%s", board->instances[g_array_index (instances, guint, last)].ref);
    k = last > k + 1 ? last + 1 : k + 1;
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static gboolean
is_small (PmPartType type)
{
  return type == PM_PART_RESISTOR || type == PM_PART_NETWORK || type == PM_PART_CAPACITOR || type == PM_PART_DIODE ||
         type == PM_PART_LED || type == PM_PART_JUMPER;
}

static guint
number_for (const PmListOptions *options, const PmInstance *instance, guint each)
{
  guint all = each * options->n_boards;
  if (options->spares == 0 || !is_small (instance->part->type))
    return all;
  return all + MAX (1, (guint)ceil (all * options->spares / 100.0 - 1e-9));
}

static char *
value_words (const PmInstance *instance)
{
  PmPartType type = instance->part->type;
  if (type == PM_PART_CABLE)
    return g_strdup_printf (ngettext ("%u conductor", "%u conductors", instance->part->n_pins), instance->part->n_pins);
  if (type == PM_PART_RESISTOR && instance->value > 0)
    return pm_quantity_format (instance->value, PM_UNIT_OHM);
  if (type == PM_PART_CAPACITOR && instance->value > 0)
    return pm_quantity_format (instance->value, PM_UNIT_FARAD);
  return g_strdup (instance->is);
}

/* Types that are better in every place of an item, else those that are as good. */
static char *
alternates_words (const GArray *alternates, const GArray *instances)
{
  guint first = g_array_index (instances, guint, 0);
  for (guint better = 1; better <= 1; better--) {
    g_autoptr (GString) text = g_string_new (NULL);
    for (guint i = 0; i < alternates->len; i++) {
      const PmAlternate *one = &g_array_index (alternates, PmAlternate, i);
      guint n = 0, n_better = 0;
      for (guint k = 0; k < instances->len && one->instance == first; k++)
        for (guint e = 0; e < alternates->len; e++) {
          const PmAlternate *other = &g_array_index (alternates, PmAlternate, e);
          if (other->instance != g_array_index (instances, guint, k) || !g_str_equal (other->type, one->type))
            continue;
          n_better += other->verdict == PM_ALTERNATE_BETTER;
          n += other->verdict == PM_ALTERNATE_BETTER || other->verdict == PM_ALTERNATE_AS_GOOD;
        }
      if (n == instances->len && (n_better > 0) == (better > 0))
        g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", one->type);
    }
    if (text->len > 0)
      return g_strdup_printf (better > 0 ? _("%s: better") : _("%s: as good"), text->str);
  }
  return NULL;
}

enum { ITEM, LETTERS, EACH, ALL, DESCRIPTION, VALUE, PACKAGE, ALTERNATES, PRICE };

/* Sockets for chips that are soldered by the file as they are. */
static void
socket_note (PmListBuild *build)
{
  const PmBoard *board = build->board;
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *chip = &board->instances[i];
    gboolean plugged = FALSE;
    for (guint m = 0; m < board->n_matings; m++)
      plugged |= board->matings[m].a == i;
    if (!pm_list_is_built (board, i) || chip->part->type != PM_PART_LOGIC || plugged)
      continue;
    g_string_append_printf (text, text->len > 0 ? ", %s (%s)" : "%s (%s)", chip->ref,
                            chip->part->package != NULL ? chip->part->package : "?");
  }
  if (text->len > 0)
    pm_list_add_note (build, g_strdup_printf (_("Not counted: a socket for each chip, so that it can be taken out for "
                                                 "the checks: %s."),
                                              text->str));
}

/* A value that no shop keeps. */
static void
value_notes (PmListBuild *build)
{
  const PmBoard *board = build->board;
  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *part = &board->instances[i];
    PmQuantityUnit unit = part->part->type == PM_PART_CAPACITOR ? PM_UNIT_FARAD : PM_UNIT_OHM;
    double below, above;
    if (!pm_list_is_built (board, i) || !(part->value > 0) || pm_preferred_is (part->value))
      continue;
    pm_preferred_near (part->value, &below, &above);
    g_autofree char *is = pm_quantity_format (part->value, unit), *low = pm_quantity_format (below, unit),
                    *high = pm_quantity_format (above, unit);
    pm_list_add_note (build, g_strdup_printf (_("%s: %s is no value of the E24 series (IEC 60063); the nearest are %s "
                                                "and %s."),
                                              part->ref, is, low, high));
  }
}

static void
lead_notes (PmListBuild *build)
{
  const PmBoard *board = build->board;
  for (guint m = 0; m < board->n_matings; m++) {
    const PmMating *mating = &board->matings[m];
    if (pm_list_is_built (board, mating->a) && pm_list_is_built (board, mating->b) &&
        board->instances[mating->a].part->type == PM_PART_SWITCH)
      pm_list_add_note (
          build,
          g_strdup_printf (ngettext ("Not counted: a plug with %u place for %s and the lead to %s.",
                                     "Not counted: a plug with %u places for %s and the lead to %s.", mating->n_pairs),
                           mating->n_pairs, board->instances[mating->b].ref, board->instances[mating->a].ref));
  }
  for (guint i = 0; i < board->n_instances; i++) {
    if (board->instances[i].owner != PM_OWNER_CABLE || !pm_list_is_built (board, i))
      continue;
    g_autoptr (GArray) ends = pm_list_ends_of (board, i);
    guint n = ends->len;
    if (n > 0)
      pm_list_add_note (build, g_strdup_printf (ngettext ("Not counted: %u connector for the ends of %s.",
                                                          "Not counted: %u connectors for the ends of %s.", n),
                                                n, board->instances[i].ref));
  }
}

/* Those that the caller has found, else found here. */
static const GArray *
alternates_of (const PmListBuild *build, GArray **found)
{
  if (build->options.alternates != NULL)
    return build->options.alternates;
  return *found = pm_alternates_find (build->check, build->cancellable);
}

void
pm_list_parts (PmListBuild *build)
{
  const PmBoard *board = build->board;
  const PmListOptions *options = &build->options;
  g_autoptr (GPtrArray) items = items_of (board);
  g_autoptr (GArray) found = NULL;
  const GArray *alternates = alternates_of (build, &found);
  g_autofree char *all =
      g_strdup_printf (ngettext ("For %u board", "For %u boards", options->n_boards), options->n_boards);
  pm_list_add_column (build, "item", _("Item"), PM_CELLS_NUMBER);
  pm_list_add_column (build, "letters", _("Letters"), PM_CELLS_TEXT);
  pm_list_add_column (build, "each", _("Each"), PM_CELLS_NUMBER);
  pm_list_add_column (build, "all", all, PM_CELLS_NUMBER);
  pm_list_add_column (build, "description", _("Description"), PM_CELLS_TEXT);
  pm_list_add_column (build, "value", _("Value"), PM_CELLS_TEXT);
  pm_list_add_column (build, "package", _("Package"), PM_CELLS_TEXT);
  pm_list_add_column (build, "alternates", _("Also"), PM_CELLS_TEXT);
  pm_list_add_column (build, "price", _("Price"), PM_CELLS_BLANK);
  for (guint k = 0; k < items->len; k++) {
    const GArray *instances = ((Item *)g_ptr_array_index (items, k))->instances;
    const PmInstance *first = &board->instances[g_array_index (instances, guint, 0)];
    char **cells = pm_list_add_row (build, g_strdup_printf ("part %s", first->ref));
    pm_list_set (cells, ITEM, g_strdup_printf ("%u", k + 1));
    pm_list_set (cells, LETTERS, letters_of (board, instances));
    pm_list_set (cells, EACH, g_strdup_printf ("%u", instances->len));
    pm_list_set (cells, ALL, g_strdup_printf ("%u", number_for (options, first, instances->len)));
    pm_list_set (cells, DESCRIPTION,
                 first->part->type == PM_PART_CABLE ? g_strdup (_("ribbon cable")) : g_strdup (first->part->title));
    pm_list_set (cells, VALUE, value_words (first));
    pm_list_set (cells, PACKAGE, g_strdup (first->part->package));
    if (first->part->type == PM_PART_LOGIC)
      pm_list_set (cells, ALTERNATES, alternates_words (alternates, instances));
  }
  if (items->len == 0)
    pm_list_add_note (build, g_strdup (_("Nothing to buy: only jumpers are set.")));
  if (options->spares > 0)
    pm_list_add_note (
        build, g_strdup_printf (_("With %u %% more of the small parts, one at least of each."), options->spares));
  value_notes (build);
  socket_note (build);
  lead_notes (build);
  if (alternates->len > 0)
    pm_list_add_note (build,
                      g_strdup (_("As good, better: put in and the whole board checked again; time is not judged.")));
}

/* ---- other chips */

void
pm_list_alternates (PmListBuild *build)
{
  const PmBoard *board = build->board;
  g_autoptr (GArray) found = NULL;
  const GArray *alternates = alternates_of (build, &found);
  pm_list_add_column (build, "place", _("Chip"), PM_CELLS_TEXT);
  pm_list_add_column (build, "in-the-file", _("In the file"), PM_CELLS_TEXT);
  pm_list_add_column (build, "other", _("Instead"), PM_CELLS_TEXT);
  pm_list_add_column (build, "verdict", _("Verdict"), PM_CELLS_TEXT);
  pm_list_add_column (build, "what", _("What"), PM_CELLS_TEXT);
  g_autoptr (GString) others = g_string_new (NULL);
  for (guint i = 0; i < alternates->len; i++) {
    const PmAlternate *one = &g_array_index (alternates, PmAlternate, i);
    const PmInstance *instance = &board->instances[one->instance];
    if (one->other_function && one->verdict == PM_ALTERNATE_WORSE && !one->family_matters) {
      g_string_append_printf (others, "%s%s (%s)", others->len > 0 ? ", " : "", one->type, instance->ref);
      continue;
    }
    char **cells = pm_list_add_row (build, g_strdup_printf ("alternate %s %s", instance->ref, one->type));
    pm_list_set (cells, 0, g_strdup (instance->ref));
    pm_list_set (cells, 1, g_strdup (instance->is));
    pm_list_set (cells, 2, g_strdup (one->type));
    pm_list_set (cells, 3, g_strdup (pm_alternate_words (one->verdict)));
    pm_list_set (cells, 4, g_strdup (one->why));
  }
  if (g_cancellable_is_cancelled (build->cancellable))
    pm_list_add_note (build, g_strdup (_("Stopped before all were tried.")));
  else if (alternates->len == 0)
    pm_list_add_note (build, g_strdup (_("The board has no logic chip.")));
  if (alternates->len == 0)
    return;
  if (build->check->verdict == PM_VERDICT_NOT_READY || build->check->verdict == PM_VERDICT_NO_VERDICT)
    pm_list_add_note (build,
                      g_strdup (_("The board is not ready: as good means no worse than it is now. Other functions "
                                   "with the same pins were not tried.")));
  if (others->len > 0)
    pm_list_add_note (build, g_strdup_printf (_("The same pins, but they do something else: %s."), others->str));
  build->about = g_strdup (_("Each chip was put into its place and the whole board checked again, with every setting "
                              "and variation."));
  pm_list_add_note (build, g_strdup (_("As good: nothing is found that is not found with the chip in the file. Judged "
                                        "are routes, collisions, and lows and highs as far as the families give "
                                        "figures; not judged are time, other currents and margins.")));
}
