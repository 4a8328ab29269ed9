/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The compound repair: cut this line and carry it like that one, over a spare section of the same chip or a free pole
 * of the same switch.  Its sentence is made of the edits that are tried, in the words of the file, so that it says what
 * was tried and can be typed in. */
#include "config.h"
#include "pm-propose-private.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>

/* A line on the board: the ends of its through pin, machine side and far side. */
typedef struct {
  guint32 join, machine, far;
} Line;

/* What carries a line: a section of a chip, or the pole of a switch that a contact belongs to. */
typedef struct {
  const PmInstance *instance;
  const PmSection *section;
  guint32 sw;
  guint contact;
} Carrier;

static Line
line_at (const PmBoard *board, guint32 j)
{
  return (Line){j, board->joins[j].places[0], board->joins[j].places[1]};
}

static gboolean
joined (const PmBoard *board, guint32 a, guint32 b)
{
  guint32 j = pm_propose_join_of (board, a);
  for (guint k = 0; j != PM_NONE && k < board->joins[j].n_places; k++)
    if (board->joins[j].places[k] == b)
      return TRUE;
  return FALSE;
}

static gboolean
joined_to_line (const PmBoard *board, guint32 place, const Line *line)
{
  return joined (board, place, line->machine) || joined (board, place, line->far);
}

/* ---- sections */

static gboolean
section_carries (const PmBoard *board, const PmInstance *instance, const PmSection *section, const Line *line)
{
  for (guint k = 0; k < pm_table_n_outputs (section->table); k++)
    if (pm_table_kind (section->table, k) == PM_COLUMN_PIN &&
        joined_to_line (board, instance->first_place + section->outputs[k], line))
      return TRUE;
  return FALSE;
}

static gboolean
section_is_free (const PmBoard *board, const PmInstance *instance, const PmSection *section)
{
  for (guint k = 0; k < pm_table_n_outputs (section->table); k++)
    if (pm_table_kind (section->table, k) == PM_COLUMN_PIN &&
        pm_propose_join_of (board, instance->first_place + section->outputs[k]) != PM_NONE)
      return FALSE;
  return TRUE;
}

/* Pins of a section with those of another that have the same part in it; shared ones are left out. */
static void
pair_sections (const PmInstance *instance, const PmSection *used, const PmSection *spare, GArray *pairs)
{
  guint n_in = pm_table_n_inputs (used->table), n_out = pm_table_n_outputs (used->table);
  for (guint k = 0; k < n_in + n_out; k++) {
    guint32 pin = k < n_in ? used->inputs[k] : used->outputs[k - n_in],
            other = k < n_in ? spare->inputs[k] : spare->outputs[k - n_in];
    if (PM_IS_BIT (pin) || pin == other || (k >= n_in && pm_table_kind (used->table, k - n_in) != PM_COLUMN_PIN))
      continue;
    PmPair pair = {instance->first_place + pin, instance->first_place + other};
    g_array_append_val (pairs, pair);
  }
}

/* ---- poles */

static PmPair
contact_at (const PmTrial *trial, guint sw, guint i)
{
  PmPair lugs = g_array_index (trial->t->contacts[sw], PmPair, i);
  return (PmPair){pm_name_plugged (trial->board, lugs.a), pm_name_plugged (trial->board, lugs.b)};
}

static gboolean
share_a_lug (PmPair x, PmPair y)
{
  return x.a == y.a || x.a == y.b || x.b == y.a || x.b == y.b;
}

static gboolean
lug_is_free (const PmTrial *trial, guint32 lug)
{
  const PmBoard *board = trial->board;
  return board->instances[pm_board_instance_of (board, lug)].owner == PM_OWNER_BOARD &&
         pm_propose_join_of (board, lug) == PM_NONE;
}

/* The contact of the spare pole that is closed in the same positions as contact i, and shares a lug with contact first;
 * PM_NONE if there is none. */
static guint
counterpart (const PmTrial *trial, guint sw, guint i, guint first)
{
  const PmSwitch *s = &trial->board->switches[sw];
  for (guint k = 0; k < trial->t->contacts[sw]->len; k++) {
    gboolean alike = k == first || share_a_lug (contact_at (trial, sw, k), contact_at (trial, sw, first));
    for (guint p = 0; p < s->n_positions && alike; p++) {
      guint64 closed = pm_translation_closed (trial->t, sw, p);
      alike = (closed >> i & 1) == (closed >> k & 1);
    }
    if (alike)
      return k;
  }
  return PM_NONE;
}

/* Lugs of the pole of contact used with those of the pole of contact spare; FALSE unless that one is free and alike. A
 * part writes the contacts of its poles in the same order, the common lug at the same end. */
static gboolean
pair_poles (const PmTrial *trial, guint sw, guint used, guint spare, GArray *pairs)
{
  PmPair of = contact_at (trial, sw, used);
  for (guint i = 0; i < trial->t->contacts[sw]->len; i++) {
    PmPair here = contact_at (trial, sw, i);
    if (i != used && !share_a_lug (here, of))
      continue;
    guint k = counterpart (trial, sw, i, spare);
    if (k == PM_NONE)
      return FALSE;
    PmPair there = contact_at (trial, sw, k), ends[2] = {{here.a, there.a}, {here.b, there.b}};
    for (guint e = 0; e < 2; e++) {
      gboolean known = FALSE;
      for (guint n = 0; n < pairs->len && !known; n++)
        known = g_array_index (pairs, PmPair, n).a == ends[e].a;
      if (!lug_is_free (trial, ends[e].b))
        return FALSE;
      if (!known)
        g_array_append_val (pairs, ends[e]);
    }
  }
  return TRUE;
}

/* ---- what carries a line, and what could carry one more */

static gboolean
find_carrier (const PmTrial *trial, const Line *line, Carrier *carrier)
{
  const PmBoard *board = trial->board;
  *carrier = (Carrier){NULL, NULL, PM_NONE, 0};
  for (guint i = 0; i < board->n_instances; i++) {
    carrier->instance = &board->instances[i];
    for (guint s = 0; s < carrier->instance->part->n_sections && carrier->instance->owner == PM_OWNER_BOARD; s++) {
      carrier->section = &carrier->instance->part->sections[s];
      if (section_carries (board, carrier->instance, carrier->section, line))
        return TRUE;
    }
  }
  for (guint s = 0; s < board->n_switches; s++)
    for (guint c = 0; c < trial->t->contacts[s]->len && board->switches[s].owner == PM_OWNER_BOARD; c++) {
      PmPair lugs = contact_at (trial, s, c);
      if (!joined_to_line (board, lugs.a, line) && !joined_to_line (board, lugs.b, line))
        continue;
      *carrier = (Carrier){&board->instances[board->switches[s].instance], NULL, s, c};
      return TRUE;
    }
  return FALSE;
}

/* The pins of a carrier with those of its spare number n, from 0: PmPair. NULL if there are not so many. */
static GArray *
spare_pairs (const PmTrial *trial, const Carrier *carrier, guint n)
{
  g_autoptr (GArray) pairs = g_array_new (FALSE, FALSE, sizeof (PmPair));
  if (carrier->section != NULL) {
    const PmPart *part = carrier->instance->part;
    for (guint s = 0; s < part->n_sections; s++)
      if (part->sections[s].table == carrier->section->table &&
          section_is_free (trial->board, carrier->instance, &part->sections[s]) && n-- == 0) {
        pair_sections (carrier->instance, carrier->section, &part->sections[s], pairs);
        return g_steal_pointer (&pairs);
      }
    return NULL;
  }
  g_autoptr (GArray) taken = g_array_new (FALSE, FALSE, sizeof (guint)); /* one contact of each free pole */
  for (guint c = 0; c < trial->t->contacts[carrier->sw]->len; c++) {
    gboolean known = FALSE;
    for (guint i = 0; i < taken->len && !known; i++)
      known = share_a_lug (contact_at (trial, carrier->sw, g_array_index (taken, guint, i)),
                           contact_at (trial, carrier->sw, c));
    g_array_set_size (pairs, 0);
    if (known || !pair_poles (trial, carrier->sw, carrier->contact, c, pairs))
      continue;
    if (n-- == 0)
      return g_steal_pointer (&pairs);
    g_array_append_val (taken, c);
  }
  return NULL;
}

/* Wires the spare pins as the used ones are wired, where the ends of lines from[0] and from[1] become those of to[0]
 * and to[1]; what the used ones share with others, an enable or a control, the spare ones share too. FALSE if that
 * takes more edits than a repair may have. */
static gboolean
wire_alike (const PmBoard *board, PmRepair *repair, const GArray *pairs, const Line from[2], const Line to[2])
{
  for (guint k = 0; k < pairs->len; k++) {
    guint32 here = g_array_index (pairs, PmPair, k).a, there = g_array_index (pairs, PmPair, k).b, target = PM_NONE;
    for (guint e = 0; e < 4 && target == PM_NONE; e++)
      if (joined (board, here, e % 2 ? from[e / 2].far : from[e / 2].machine))
        target = e % 2 ? to[e / 2].far : to[e / 2].machine;
    guint32 old = pm_propose_join_of (board, there);
    if (old != PM_NONE)
      pm_propose_edit (repair, PM_EDIT_CUT, there, old, 0, 0);
    if (target == PM_NONE && pm_propose_join_of (board, here) != PM_NONE)
      target = here;
    if (target != PM_NONE)
      pm_propose_edit (repair, PM_EDIT_JOIN, there, target, 0, 0);
  }
  return repair->n_edits < PM_REPAIR_MAX_EDITS;
}

/* ---- the sentence */

/* A place as a board file writes it: "SEL0:chip" where a line passes, else "U1.1A". */
static char *
written (const PmBoard *board, guint32 place)
{
  static const char *const sides[] = {"machine", "chip", "drive"};
  for (guint l = 0; l < board->host.n_lines; l++)
    for (guint s = 0; s < G_N_ELEMENTS (sides); s++) {
      g_autofree char *name = g_strdup_printf ("%s:%s", board->host.lines[l].name, sides[s]);
      if (pm_board_find_place (board, name) == place)
        return g_steal_pointer (&name);
    }
  return pm_name_pin (board, place);
}

/* "take U1.1A and U1.1B out of the 0V join; " for each join that pins leave. */
static void
say_leaving (const PmBoard *board, const PmRepair *repair, GString *text)
{
  for (guint j = 0; j < board->n_joins; j++) {
    g_autoptr (GPtrArray) pins = g_ptr_array_new_with_free_func (g_free);
    for (guint i = 0; i < repair->n_edits && board->joins[j].kind != PM_JOIN_THROUGH; i++)
      if (repair->edits[i].kind == PM_EDIT_CUT && repair->edits[i].b == j)
        g_ptr_array_add (pins, pm_name_pin (board, repair->edits[i].a));
    if (pins->len == 0)
      continue;
    g_autofree char *list = pm_name_list (pins);
    if (board->joins[j].name != NULL)
      g_string_append_printf (text, _("take %s out of the %s join; "), list, board->joins[j].name);
    else
      g_string_append_printf (text, _("take %s out of the join at line %u; "), list, board->joins[j].spot.line);
  }
}

/* What is to be taken out and what is to be joined, in the order of the edits. */
static char *
wiring_text (const PmBoard *board, const PmRepair *repair)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GPtrArray) wires = g_ptr_array_new_with_free_func (g_free);
  say_leaving (board, repair, text);
  for (guint i = 0; i < repair->n_edits; i++)
    if (repair->edits[i].kind == PM_EDIT_JOIN) {
      g_autofree char *pin = pm_name_pin (board, repair->edits[i].a), *to = written (board, repair->edits[i].b);
      g_ptr_array_add (wires, g_strdup_printf (C_("joined", "%s to %s"), pin, to));
    }
  g_autofree char *list = pm_name_list (wires);
  g_string_append_printf (text, _("join %s"), list);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* ---- proposals */

/* One line that goes straight through, carried like one that is cut, each in the other's place. */
static void
carry_one (PmPropose *p, guint32 through, guint32 cut)
{
  const PmBoard *board = p->trial->board;
  const Line own = line_at (board, through), like = line_at (board, cut), from[2] = {like, own}, to[2] = {own, like};
  Carrier carrier;
  g_autoptr (GArray) pairs = find_carrier (p->trial, &like, &carrier) ? spare_pairs (p->trial, &carrier, 0) : NULL;
  g_autofree PmRepair *repair = g_new0 (PmRepair, 1);
  pm_propose_edit (repair, PM_EDIT_CUT, own.machine, own.join, 0, 0);
  if (pairs == NULL || !wire_alike (board, repair, pairs, from, to))
    return;
  g_autofree char *a = pm_propose_join_name (p->trial, through), *b = pm_propose_join_name (p->trial, cut),
                  *wiring = wiring_text (board, repair);
  repair->text = g_strdup_printf (_("Cut %s and carry it like %s: %s."), a, b, wiring);
  g_ptr_array_add (p->out, g_steal_pointer (&repair));
}

/* Two lines that go straight through, made to change places with each other as the two cut ones do. */
static void
carry_two (PmPropose *p, const guint32 through[2], const guint32 cuts[2])
{
  const PmBoard *board = p->trial->board;
  const Line to[2] = {line_at (board, through[0]), line_at (board, through[1])};
  const Line from[2] = {line_at (board, cuts[0]), line_at (board, cuts[1])};
  Carrier carriers[2];
  if (!find_carrier (p->trial, &from[0], &carriers[0]) || !find_carrier (p->trial, &from[1], &carriers[1]) ||
      carriers[0].instance != carriers[1].instance ||
      (carriers[0].section != NULL && carriers[0].section->table != carriers[1].section->table))
    return;
  g_autofree PmRepair *repair = g_new0 (PmRepair, 1);
  for (guint n = 0; n < 2; n++)
    pm_propose_edit (repair, PM_EDIT_CUT, to[n].machine, to[n].join, 0, 0);
  for (guint n = 0; n < 2; n++) {
    g_autoptr (GArray) pairs = spare_pairs (p->trial, &carriers[n], n);
    if (pairs == NULL || !wire_alike (board, repair, pairs, from, to))
      return;
  }
  g_autofree char *a = pm_propose_join_name (p->trial, through[0]), *b = pm_propose_join_name (p->trial, through[1]),
                  *wiring = wiring_text (board, repair);
  repair->text = g_strdup_printf (_("Cut %s and %s as well, and exchange them as the selects are: %s."), a, b, wiring);
  g_ptr_array_add (p->out, g_steal_pointer (&repair));
}

void
pm_propose_carry (PmPropose *p)
{
  const PmBoard *board = p->trial->board;
  g_autoptr (GArray) throughs = g_array_new (FALSE, FALSE, sizeof (guint32));
  g_autoptr (GArray) cuts = g_array_new (FALSE, FALSE, sizeof (guint32));
  for (guint j = 0; j < board->n_joins; j++)
    if (board->joins[j].kind == PM_JOIN_CUT)
      g_array_append_val (cuts, j);
    else if (board->joins[j].kind == PM_JOIN_THROUGH && pm_propose_line_of_join (p->trial, j) != PM_NONE)
      g_array_append_val (throughs, j);
  for (guint i = 0; i < throughs->len; i++)
    for (guint m = 0; m < cuts->len && p->out->len < PM_MOST_PROPOSALS; m++)
      carry_one (p, g_array_index (throughs, guint32, i), g_array_index (cuts, guint32, m));
  for (guint i = 0; i < throughs->len && cuts->len == 2; i++)
    for (guint k = i + 1; k < throughs->len && p->out->len < PM_MOST_PROPOSALS; k++) {
      const guint32 pair[2] = {g_array_index (throughs, guint32, i), g_array_index (throughs, guint32, k)};
      carry_two (p, pair, (const guint32 *)(gconstpointer)cuts->data);
    }
}
