/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The wiring diagram: model, sizes, layout and words put together, and questions about the result. */
#include "config.h"
#include "pm-diagram-private.h"

#include <stdlib.h>

static void
fill_input (PmDiagram *diagram)
{
  PmLayoutInput *input = &diagram->input;

  input->n_boxes = diagram->symbols->len;
  input->boxes = g_new0 (PmLayoutBox, input->n_boxes + 1);
  for (guint s = 0; s < diagram->symbols->len; s++) {
    const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s);
    PmLayoutBox *box = &input->boxes[s];
    *box = (PmLayoutBox){symbol->width,  symbol->height, symbol->left,  symbol->right, symbol->top,
                         symbol->bottom, symbol->band,   symbol->group, NULL,          0};
    box->ports = g_new0 (PmLayoutPort, symbol->pins->len + 1);
    for (guint i = 0; i < symbol->pins->len; i++) {
      const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
      gboolean at_end = symbol->upright && pin->rail >= 0; /* its mark is drawn there */
      if (!at_end)
        box->ports[box->n_ports++] = (PmLayoutPort){pin->edge, pin->at, pin->flow, pin->net};
    }
  }
  input->n_nets = diagram->nets->len;
  input->nets = g_new0 (PmLayoutNet, input->n_nets + 1);
  for (guint n = 0; n < input->n_nets; n++) {
    const char *label = PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, n)->label;
    double width = pm_diagram_text_width (diagram, label, diagram->m.name, FALSE);
    if (label != NULL)
      input->nets[n] = (PmLayoutNet){(int)ceil ((width + 6) / diagram->m.unit), 2};
  }
}

PmDiagram *
pm_diagram_new (const PmCheck *check, const PmStyle *style, PangoContext *context)
{
  PmDiagram *diagram = g_new0 (PmDiagram, 1);

  diagram->check = check;
  diagram->board = check->board;
  diagram->style = style;
  diagram->context = g_object_ref (context);
  diagram->widths = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  pm_diagram_measure (diagram);
  pm_diagram_model (diagram);
  pm_diagram_sizes (diagram);
  fill_input (diagram);
  diagram->layout = pm_layout_new (&diagram->input);
  for (guint s = 0; s < diagram->symbols->len; s++) {
    PM_SYMBOL_AT (diagram, s)->x = diagram->layout->boxes[s].x;
    PM_SYMBOL_AT (diagram, s)->y = diagram->layout->boxes[s].y;
  }
  pm_diagram_words (diagram);
  pm_diagram_sentences (diagram);
  return diagram;
}

void
pm_diagram_free (PmDiagram *diagram)
{
  if (diagram == NULL)
    return;
  for (guint i = 0; i < diagram->elements->len; i++) {
    PmDiagramElement *element = PM_DIAGRAM_AT (diagram->elements, PmDiagramElement, i);
    g_free (element->name);
    g_free (element->sentence);
    g_free (element->places);
    g_free (element->others);
  }
  for (guint i = 0; i < diagram->words->len; i++)
    g_object_unref (PM_DIAGRAM_AT (diagram->words, PmDiagramWord, i)->layout);
  for (guint n = 0; n < diagram->nets->len; n++) {
    g_free (PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, n)->name);
    g_free (PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, n)->label);
  }
  for (guint b = 0; b < diagram->input.n_boxes; b++)
    g_free (diagram->input.boxes[b].ports);
  g_free (diagram->input.boxes);
  g_free (diagram->input.nets);
  pm_layout_free (diagram->layout);
  g_array_unref (diagram->elements);
  g_array_unref (diagram->words);
  g_array_unref (diagram->nets);
  g_ptr_array_unref (diagram->symbols);
  g_free (diagram->roots);
  g_free (diagram->driven);
  g_free (diagram->rail_of);
  g_free (diagram->element_of);
  g_free (diagram->rest);
  g_hash_table_unref (diagram->widths);
  g_object_unref (diagram->context);
  g_free (diagram);
}

void
pm_diagram_size (const PmDiagram *diagram, double *width, double *height)
{
  *width = diagram->layout->width * diagram->m.unit + 1;
  *height = diagram->layout->height * diagram->m.unit + 1;
}

double
pm_diagram_unit (const PmDiagram *diagram)
{
  return diagram->m.unit;
}

guint
pm_diagram_n_elements (const PmDiagram *diagram)
{
  return diagram->elements->len;
}

const PmDiagramElement *
pm_diagram_element (const PmDiagram *diagram, guint index)
{
  return index < diagram->elements->len ? PM_DIAGRAM_AT (diagram->elements, PmDiagramElement, index) : NULL;
}

int
pm_diagram_at (const PmDiagram *diagram, double x, double y, double reach)
{
  double unit = diagram->m.unit, nearest = reach;
  int found = -1;

  for (guint i = 0; i < diagram->elements->len; i++) {
    const PmDiagramElement *element = PM_DIAGRAM_AT (diagram->elements, PmDiagramElement, i);
    if (element->kind == PM_DIAGRAM_SYMBOL && pm_rect_contains (&element->area, x, y))
      return (int)i;
  }
  for (guint i = 0; i < diagram->layout->n_segments; i++) {
    const PmLayoutSegment *piece = &diagram->layout->segments[i];
    double dx = MAX (MAX (piece->x1 * unit - x, x - piece->x2 * unit), 0);
    double dy = MAX (MAX (piece->y1 * unit - y, y - piece->y2 * unit), 0);
    double away = hypot (dx, dy);
    if (away > nearest || (away == nearest && found >= 0))
      continue;
    nearest = away;
    found = (int)PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, piece->net)->element;
  }
  return found;
}

int
pm_diagram_of_place (const PmDiagram *diagram, guint32 place)
{
  return place < diagram->board->n_places ? diagram->element_of[place] : -1;
}

const char *
pm_diagram_rest (const PmDiagram *diagram)
{
  return diagram->rest;
}

void
pm_diagram_counts (const PmDiagram *diagram, guint *crossings, guint *bends)
{
  if (crossings != NULL)
    *crossings = diagram->layout->n_crossings;
  if (bends != NULL)
    *bends = diagram->layout->n_bends;
}

int
pm_diagram_position (const PmDiagram *diagram, guint32 sw, guint case_index)
{
  const PmCheck *check = diagram->check;

  if (case_index < check->n_cases && check->cases[case_index].positions != NULL)
    return check->cases[case_index].positions[sw];
  return (int)diagram->board->switches[sw].usual;
}
