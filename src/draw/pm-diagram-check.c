/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether the finished diagram is clean: the layout's own checker, and every word and flag as it is really drawn. */
#include "config.h"
#include "pm-diagram-private.h"

typedef struct {
  PmRect area;
  int symbol; /* its own, or -1 */
  char *text;
} Thing;

static void
tell (GPtrArray *problems, const char *what, const char *a, const char *b)
{
  g_ptr_array_add (problems, g_strdup_printf ("%s: \"%s\" and \"%s\"", what, a, b));
}

static void
thing_clear (gpointer data)
{
  g_free (((Thing *)data)->text);
}

static void
add_thing (GArray *things, PmRect area, int symbol, char *text)
{
  Thing thing = {area, symbol, text};

  g_array_append_val (things, thing);
}

/* Words and, at every wired pin, the flag that may stand there. */
static GArray *
words_and_flags (const PmDiagram *diagram)
{
  GArray *things = g_array_new (FALSE, FALSE, sizeof (Thing));

  g_array_set_clear_func (things, thing_clear);
  for (guint i = 0; i < diagram->words->len; i++) {
    const PmDiagramWord *word = PM_DIAGRAM_AT (diagram->words, PmDiagramWord, i);
    add_thing (things, word->area, word->symbol, g_strdup (pango_layout_get_text (word->layout)));
  }
  for (guint s = 0; s < diagram->symbols->len; s++) {
    const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s);
    for (guint i = 0; i < symbol->pins->len; i++) {
      const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
      if (pin->net != PM_LAYOUT_NONE)
        add_thing (things, pm_diagram_flag_area (diagram, symbol, pin), (int)s,
                   g_strdup_printf ("flag %u at %s", i, symbol->reference));
    }
  }
  return things;
}

static void
check_lines (const PmDiagram *diagram, GPtrArray *problems)
{
  double unit = diagram->m.unit, half = diagram->m.line / 2;

  for (guint i = 0; i < diagram->words->len; i++) {
    const PmDiagramWord *word = PM_DIAGRAM_AT (diagram->words, PmDiagramWord, i);
    for (guint k = 0; k < diagram->layout->n_segments; k++) {
      const PmLayoutSegment *piece = &diagram->layout->segments[k];
      PmRect wire = {piece->x1 * unit + 0.5 - half, piece->y1 * unit + 0.5 - half,
                     (piece->x2 - piece->x1) * unit + 2 * half, (piece->y2 - piece->y1) * unit + 2 * half};
      if (pm_rect_overlaps (&word->area, &wire))
        tell (problems, "a word on a wire", pango_layout_get_text (word->layout),
              PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, piece->net)->name);
    }
  }
}

static void
check_symbols (const PmDiagram *diagram, GPtrArray *problems)
{
  for (guint i = 0; i < diagram->words->len; i++) {
    const PmDiagramWord *word = PM_DIAGRAM_AT (diagram->words, PmDiagramWord, i);
    const char *text = pango_layout_get_text (word->layout);
    for (guint s = 0; s < diagram->symbols->len; s++) {
      const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s);
      PmRect body = pm_diagram_body (diagram, symbol), a = word->area;
      if (symbol->sw != PM_NONE &&
          word->symbol == (int)s) { /* a pole has no outline: its numbers stand over its lines */
        body.y -= diagram->m.unit;
        body.height += diagram->m.unit;
      }
      if (word->inside && word->symbol == (int)s) {
        if (a.x < body.x + 1 || a.y < body.y + 1 || a.x + a.width > body.x + body.width - 1 ||
            a.y + a.height > body.y + body.height)
          tell (problems, "a word leaves its symbol", text, symbol->reference);
      } else if (pm_rect_overlaps (&a, &body) && !(symbol->sw != PM_NONE && word->symbol == (int)s))
        tell (problems, "a word on a symbol", text, symbol->reference);
    }
  }
}

static void
check_things (const PmDiagram *diagram, GPtrArray *problems)
{
  g_autoptr (GArray) things = words_and_flags (diagram);
  double width, height;

  pm_diagram_size (diagram, &width, &height);
  for (guint i = 0; i < things->len; i++) {
    const Thing *a = PM_DIAGRAM_AT (things, Thing, i);
    if (a->area.x < 0 || a->area.y < 0 || a->area.x + a->area.width > width || a->area.y + a->area.height > height)
      tell (problems, "out of the drawing", a->text, "");
    for (guint k = 0; k < i; k++) {
      const Thing *b = PM_DIAGRAM_AT (things, Thing, k);
      if (pm_rect_overlaps (&a->area, &b->area))
        tell (problems, "one over the other", a->text, b->text);
    }
  }
  for (guint s = 0; s < diagram->symbols->len; s++) {
    PmRect lamp = pm_diagram_lamp (diagram, PM_SYMBOL_AT (diagram, s));
    for (guint i = 0; i < things->len && PM_SYMBOL_AT (diagram, s)->drive != PM_NONE; i++)
      if (pm_rect_overlaps (&lamp, &PM_DIAGRAM_AT (things, Thing, i)->area))
        tell (problems, "on the lamp", PM_DIAGRAM_AT (things, Thing, i)->text, PM_SYMBOL_AT (diagram, s)->reference);
  }
}

/* Every pin that is joined has its wire, and nothing is on two nets. */
static void
check_nets (const PmDiagram *diagram, GPtrArray *problems)
{
  for (guint s = 0; s < diagram->symbols->len; s++) {
    const PmDiagramSymbol *symbol = PM_SYMBOL_AT (diagram, s);
    for (guint i = 0; i < symbol->pins->len; i++) {
      const PmDiagramPin *pin = PM_DIAGRAM_AT (symbol->pins, PmDiagramPin, i);
      if (pin->net != PM_LAYOUT_NONE && PM_DIAGRAM_AT (diagram->nets, PmDiagramNet, pin->net)->root != pin->root)
        tell (problems, "a pin on a wrong wire", symbol->reference, pin->number != NULL ? pin->number : "");
    }
  }
}

char **
pm_diagram_check (const PmDiagram *diagram)
{
  g_autoptr (GPtrArray) problems = g_ptr_array_new ();
  char **layout = pm_layout_check (&diagram->input, diagram->layout);

  for (guint i = 0; layout[i] != NULL; i++)
    g_ptr_array_add (problems, layout[i]);
  g_free (layout);
  check_lines (diagram, problems);
  check_symbols (diagram, problems);
  check_things (diagram, problems);
  check_nets (diagram, problems);
  g_ptr_array_add (problems, NULL);
  return (char **)g_ptr_array_free (g_steal_pointer (&problems), FALSE);
}
