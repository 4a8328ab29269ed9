/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Symbols and wires in reading order, each with a sentence for those who hear it. */
#include "config.h"
#include "pm-diagram-private.h"
#include "pm-naming.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static int
compare_places (gconstpointer a, gconstpointer b)
{
  guint32 p = *(const guint32 *)a, q = *(const guint32 *)b;

  return p < q ? -1 : p > q;
}

static int
compare_reading (gconstpointer a, gconstpointer b, gpointer data)
{
  const PmDiagram *diagram = data;
  guint i = *(const guint *)a, k = *(const guint *)b;
  const PmDiagramSymbol *p = PM_SYMBOL_AT (diagram, i), *q = PM_SYMBOL_AT (diagram, k);

  if ((p->band == PM_BAND_FOOT) != (q->band == PM_BAND_FOOT))
    return p->band == PM_BAND_FOOT ? 1 : -1;
  if (p->band != PM_BAND_FOOT && p->x != q->x)
    return p->x < q->x ? -1 : 1;
  if (p->y != q->y)
    return p->y < q->y ? -1 : 1;
  return p->x != q->x ? (p->x < q->x ? -1 : 1) : i < k ? -1 : i > k;
}

/* "S", "/OE", "3" of a symbol's pin. */
static char *
pin_word (const PmDiagram *diagram, const PmDiagramPin *pin)
{
  const PmInstance *instance = &diagram->board->instances[pm_board_instance_of (diagram->board, pin->place)];
  const PmPin *from = &instance->part->pins[pin->place - instance->first_place];

  return g_strdup (instance->part->type == PM_PART_LOGIC || pin->name == NULL ? from->name : pin->name);
}

static char *
symbol_sentence (const PmDiagram *diagram, const PmDiagramSymbol *symbol)
{
  g_autoptr (GString) text = g_string_new (symbol->reference);
  gboolean block = symbol->look.shape == PM_SYMBOL_HOST || symbol->look.shape == PM_SYMBOL_DRIVE;

  if (!block)
    g_string_append_printf (
        text, ", %s",
        symbol->look.shape == PM_SYMBOL_BOX && symbol->value != NULL ? symbol->value : pm_symbol_words (symbol->look));
  if (symbol->value != NULL && symbol->look.shape != PM_SYMBOL_BOX)
    g_string_append_printf (text, ", %s", symbol->value);
  if (symbol->look.shape == PM_SYMBOL_BOX && symbol->look.qualifier[0] != '\0')
    g_string_append_printf (text, ", %s",
                            g_str_equal (symbol->look.qualifier, "MUX")   ? _("selector")
                            : g_str_equal (symbol->look.qualifier, "X/Y") ? _("decoder")
                            : symbol->look.contacts                       ? _("electronic contacts")
                                                                          : _("buffer"));
  if (symbol->in_machine)
    g_string_append_printf (text, ", %s", _("in the machine"));
  if (symbol->spare)
    g_string_append_printf (text, ", %s", _("spare"));
  for (guint i = 0; i < symbol->pins->len; i++) {
    const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
    g_autofree char *word = pin_word (diagram, pin);
    const char *to = pin->rail >= 0               ? diagram->board->rails[pin->rail].name
                     : pin->net != PM_LAYOUT_NONE ? PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, pin->net)->name
                                                  : NULL;
    g_string_append (text, i == 0 ? ": " : ", ");
    if (to != NULL)
      g_string_append_printf (text, _("%s on %s"), word, to);
    else
      g_string_append_printf (text, _("%s open"), word);
    if (pin->note != NULL)
      g_string_append_printf (text, " (%s)", pin->note);
  }
  g_string_append_c (text, '.');
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
add_other (GArray *others, guint element)
{
  for (guint i = 0; i < others->len; i++)
    if (g_array_index (others, guint, i) == element)
      return;
  g_array_append_val (others, element);
}

static void
take (GArray *from, gpointer *data, guint *n)
{
  *n = from->len;
  *data = g_array_free (from, FALSE);
}

static void
add_symbol_element (PmDiagram *diagram, guint index)
{
  PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, index);
  PmDiagramElement element = {.kind = PM_DIAGRAM_SYMBOL, .index = index};
  GArray *places = g_array_new (FALSE, FALSE, sizeof (guint32));
  double unit = diagram->m.unit;

  element.area =
      (PmRect){symbol->x * unit - 2, symbol->y * unit - 2, symbol->width * unit + 4, symbol->height * unit + 4};
  element.name = symbol->section != NULL && symbol->section[0] != '\0' && symbol->sw == PM_NONE
                     ? g_strdup_printf (_("%.*s section %s"), (int)strcspn (symbol->reference, "."), symbol->reference,
                                        symbol->section)
                     : g_strdup (symbol->reference);
  element.sentence = symbol_sentence (diagram, symbol);
  for (guint i = 0; i < symbol->pins->len; i++)
    g_array_append_val (places, PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i)->place);
  g_array_sort (places, compare_places);
  take (places, (gpointer *)&element.places, &element.n_places);
  symbol->element = diagram->elements->len;
  g_array_append_val (diagram->elements, element);
}

/* "choose: U1.1 S, R1, J3.2 of S1." */
static void
add_net_element (PmDiagram *diagram, guint index)
{
  PmDiagramNet *net = PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, index);
  PmDiagramElement element = {.kind = PM_DIAGRAM_NET, .index = index};
  g_autoptr (GString) text = g_string_new (net->name);
  GArray *places = g_array_new (FALSE, FALSE, sizeof (guint32));
  int x1 = G_MAXINT, y1 = G_MAXINT, x2 = 0, y2 = 0;
  double unit = diagram->m.unit;
  guint n = 0;

  for (guint i = 0; i < diagram->layout->n_segments; i++) {
    const PmLayoutSegment *piece = &diagram->layout->segments[i];
    if (piece->net != index)
      continue;
    x1 = MIN (x1, piece->x1);
    y1 = MIN (y1, piece->y1);
    x2 = MAX (x2, piece->x2);
    y2 = MAX (y2, piece->y2);
  }
  if (x1 <= x2)
    element.area = (PmRect){x1 * unit - 3, y1 * unit - 3, (x2 - x1) * unit + 6, (y2 - y1) * unit + 6};
  element.name = g_strdup (net->name);
  for (guint32 p = 0; p < diagram->board->n_places; p++) {
    if (diagram->roots[p] != net->root)
      continue;
    g_array_append_val (places, p);
    PmOwner owner = diagram->board->instances[pm_board_instance_of (diagram->board, p)].owner;
    if (owner == PM_OWNER_CABLE)
      continue;
    g_autofree char *name = pm_name_pin (diagram->board, p);
    g_string_append_printf (text, "%s %s", n++ == 0 ? ":" : ",", name);
  }
  g_string_append_c (text, '.');
  element.sentence = g_string_free (g_steal_pointer (&text), FALSE);
  take (places, (gpointer *)&element.places, &element.n_places);
  net->element = diagram->elements->len;
  g_array_append_val (diagram->elements, element);
}

/* Which elements hang on which, and whose a place is. */
static void
link_elements (PmDiagram *diagram)
{
  g_autoptr (GPtrArray) others = g_ptr_array_new ();

  for (guint i = 0; i < diagram->elements->len; i++)
    g_ptr_array_add (others, g_array_new (FALSE, FALSE, sizeof (guint)));
  diagram->element_of = g_new (int, diagram->board->n_places + 1);
  for (guint32 p = 0; p < diagram->board->n_places; p++)
    diagram->element_of[p] = -1;
  for (guint n = 0; n < diagram->nets->len; n++) {
    const PmDiagramElement *element =
        PM_DIAGRAM_AT (diagram->elements, PmDiagramElement, PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, n)->element);
    for (guint k = 0; k < element->n_places; k++)
      diagram->element_of[element->places[k]] = (int)PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, n)->element;
  }
  for (guint s = diagram->symbols->len; s > 0; s--) {
    const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s - 1);
    for (guint i = 0; i < symbol->pins->len; i++) {
      const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
      diagram->element_of[pin->place] = (int)symbol->element;
      if (pin->net == PM_LAYOUT_NONE)
        continue;
      guint net = PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, pin->net)->element;
      add_other (g_ptr_array_index (others, symbol->element), net);
      add_other (g_ptr_array_index (others, net), symbol->element);
    }
  }
  for (guint i = 0; i < diagram->elements->len; i++) {
    PmDiagramElement *element = PM_DIAGRAM_AT (diagram->elements, PmDiagramElement, i);
    take (g_ptr_array_index (others, i), (gpointer *)&element->others, &element->n_others);
  }
}

void
pm_diagram_sentences (PmDiagram *diagram)
{
  g_autofree guint *order = g_new (guint, diagram->symbols->len + 1);

  for (guint s = 0; s < diagram->symbols->len; s++)
    order[s] = s;
  g_qsort_with_data (order, (int)diagram->symbols->len, sizeof (guint), compare_reading, diagram);
  diagram->elements = g_array_new (FALSE, TRUE, sizeof (PmDiagramElement));
  for (guint s = 0; s < diagram->symbols->len; s++)
    add_symbol_element (diagram, order[s]);
  for (guint n = 0; n < diagram->nets->len; n++)
    add_net_element (diagram, n);
  link_elements (diagram);
}

/* ---- with levels */

static char *
net_now (const PmDiagram *diagram, const PmDiagramElement *element, PmProbe *probe)
{
  const PmDiagramNet *net = PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, element->index);
  const char *pins = element->sentence + strlen (net->name);

  return g_strdup_printf ("%s: %s. %s", net->name, pm_flag_words (pm_probe_flag (probe, net->root)),
                          pins[0] == ':' ? pins + 2 : pins);
}

char *
pm_diagram_now (const PmDiagram *diagram, guint index, PmProbe *probe)
{
  const PmDiagramElement *element;

  g_return_val_if_fail (index < diagram->elements->len, NULL);
  element = PM_DIAGRAM_AT (diagram->elements, PmDiagramElement, index);
  if (probe == NULL)
    return g_strdup (element->sentence);
  if (element->kind == PM_DIAGRAM_NET)
    return net_now (diagram, element, probe);
  const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, element->index);
  g_autoptr (GString) text = g_string_new (element->name);
  guint n = 0;
  if (symbol->drive != PM_NONE) {
    int answers = pm_probe_answers (probe, symbol->drive);
    g_string_append_printf (text, " %s",
                            answers == 1   ? _("answers")
                            : answers == 0 ? _("does not answer")
                                           : _("may answer"));
  }
  for (guint i = 0; i < symbol->pins->len; i++) {
    const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
    g_autofree char *word = pin_word (diagram, pin);
    if (pin->rail < 0)
      g_string_append_printf (text, "%s %s %s", n++ == 0 ? ":" : ",", word,
                              pm_flag_words (pm_probe_flag (probe, pin->place)));
  }
  g_string_append_c (text, '.');
  return g_string_free (g_steal_pointer (&text), FALSE);
}
