/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The track plan of one case: what is made of what, sentences, hit testing. */
#include "config.h"
#include "pm-plan-private.h"

#include <glib/gi18n-lib.h>

static void
clear_port (gpointer port)
{
  g_free (((PmPort *) port)->text);
}

static void
clear_track (gpointer track)
{
  g_array_unref (((PmTrack *) track)->breaks);
}

static void
clear_word (gpointer word)
{
  g_object_unref (((PmWord *) word)->layout);
}

static void
clear_element (gpointer element)
{
  g_free (((PmPlanElement *) element)->sentence);
}

static GArray *
array_new (gsize size, GDestroyNotify clear)
{
  GArray *array = g_array_new (FALSE, TRUE, size);

  if (clear)
    g_array_set_clear_func (array, clear);
  return array;
}

static void
add_boxes (PmPlan *plan)
{
  const PmPlanFrame *f = &plan->frame;
  const PmPlanMetrics *m = &f->m;
  PmPlanBox host = { .kind = PM_BOX_HOST, .drive = -1, .unit = -1 };

  host.area = (PmRect){ f->host_x, f->platform_y, f->host_width, f->platform_height };
  g_array_append_val (plan->boxes, host);
  for (guint d = 0; d < plan->board->n_drives; d++) {
    PmPlanBox box = { .kind = PM_BOX_DRIVE, .drive = d, .unit = -1, .face = f->full_boxes };
    double y = pm_plan_row_y (f, d);

    box.area = (PmRect){ f->drive_x, y - f->box_height / 2, f->drive_width, f->box_height };
    box.shows = pm_mark_lamp (plan->result->marks[d]);
    box.lamp_radius = MIN (0.44 * m->em, f->box_height / 2 - 2);
    box.lamp = (PmPoint){ round (f->drive_x + 1.35 * m->em), box.face ? round (box.area.y + 0.7 * f->box_height) : y };
    g_array_append_val (plan->boxes, box);
  }
}

static void
add_gates (PmPlan *plan)
{
  for (guint i = 0; i < plan->ports->len; i++) {
    const PmPort *port = PM_AT (plan->ports, PmPort, i);
    PmPlanBox box = {
      .kind = PM_BOX_GATE, .drive = port->drive, .unit = -1, .area = port->box, .short_form = port->short_form
    };

    if (port->text)
      g_array_append_val (plan->boxes, box);
  }
}

/* "Inside", "Inside and Outside", "Inside, Outside and Third". */
static void
append_list (GString *out, const GPtrArray *names)
{
  for (guint i = 0; i < names->len; i++) {
    const char *separator = i == 0 ? "" : i + 1 == names->len ? _(" and ") : ", ";
    g_string_append_printf (out, "%s%s", separator, (const char *) names->pdata[i]);
  }
}

static GPtrArray *
linked (const PmPlan *plan, PmLinkKind kind, int unit, int drive)
{
  GPtrArray *names = g_ptr_array_new ();

  for (guint i = 0; i < plan->links->len; i++) {
    const PmLink *link = PM_AT (plan->links, PmLink, i);
    if (link->kind == kind && (unit < 0 || (int) link->unit == unit) && (drive < 0 || (int) link->drive == drive))
      g_ptr_array_add (names,
                       unit >= 0 ? plan->board->drives[link->drive].title : plan->board->host.units[link->unit].name);
  }
  return names;
}

/* ", through a box that says: ..." for each box that a unit or a drive has. */
static void
append_gated (GString *out, const PmPlan *plan, int unit, int drive)
{
  for (guint i = 0; i < plan->links->len; i++) {
    const PmLink *link = PM_AT (plan->links, PmLink, i);
    const char *name;

    if (link->kind != PM_LINK_GATED || (unit >= 0 && (int) link->unit != unit) ||
        (drive >= 0 && (int) link->drive != drive))
      continue;
    name = unit >= 0 ? plan->board->drives[link->drive].title : plan->board->host.units[link->unit].name;
    g_string_append_printf (out, _(" On a condition, %s: %s."), name, PM_AT (plan->ports, PmPort, link->port)->text);
  }
}

static char *
line_sentence (const PmPlan *plan, guint unit)
{
  g_autoptr (GPtrArray) yes = linked (plan, PM_LINK_YES, unit, -1);
  g_autoptr (GPtrArray) gated = linked (plan, PM_LINK_GATED, unit, -1);
  g_autoptr (GPtrArray) wanted = linked (plan, PM_LINK_WANTED, unit, -1);
  GString *out = g_string_new (NULL);
  g_autoptr (GString) list = g_string_new (NULL);
  const char *name = plan->board->host.units[unit].name;

  append_list (list, yes);
  if (yes->len > 1)
    g_string_append_printf (out, _("%s (%s) reaches %s: %u drives answer."), name, pm_style_line_words (unit),
                            list->str, yes->len);
  else if (yes->len == 1)
    g_string_append_printf (out, _("%s (%s) reaches %s."), name, pm_style_line_words (unit), list->str);
  else if (gated->len)
    g_string_append_printf (out, _("%s (%s) reaches no drive for certain."), name, pm_style_line_words (unit));
  else
    g_string_append_printf (out, _("%s (%s) reaches nothing."), name, pm_style_line_words (unit));
  append_gated (out, plan, unit, -1);
  if (wanted->len) {
    g_string_truncate (list, 0);
    append_list (list, wanted);
    g_string_append_printf (out, _(" Wanted, but absent: %s."), list->str);
  }
  if (plan->result->collides && plan->result->collides[unit])
    g_string_append (out, _(" Outputs collide when it is on."));
  return g_string_free (out, FALSE);
}

static const char *
drive_state (PmDriveMark mark)
{
  switch (mark) {
  case PM_DRIVE_HELD:
    return _("Its select is held: it can never be on.");
  case PM_DRIVE_FLOATS:
    return _("Its select floats: nothing holds it.");
  case PM_DRIVE_NOT_CERTAIN:
    return _("Not certain.");
  case PM_DRIVE_ALWAYS:
    return _("It answers with nothing turned on.");
  case PM_DRIVE_NO_POWER:
    return _("It has no power.");
  case PM_DRIVE_REACHED:
  case PM_DRIVE_UNREACHED:
  case PM_N_DRIVE_MARKS:
  default:
    return NULL;
  }
}

static char *
drive_sentence (const PmPlan *plan, guint drive)
{
  g_autoptr (GPtrArray) yes = linked (plan, PM_LINK_YES, -1, drive);
  g_autoptr (GPtrArray) wanted = linked (plan, PM_LINK_WANTED, -1, drive);
  const PmSideLine *sides[16];
  guint n = pm_plan_sides (plan->result, drive, sides, G_N_ELEMENTS (sides));
  const char *title = plan->board->drives[drive].title, *state = drive_state (plan->result->marks[drive]);
  GString *out = g_string_new (NULL);
  g_autoptr (GString) list = g_string_new (NULL);

  append_list (list, yes);
  if (yes->len)
    g_string_append_printf (out, _("%s answers %s."), title, list->str);
  else
    g_string_append_printf (out, _("%s answers no select for certain."), title);
  append_gated (out, plan, -1, drive);
  if (state)
    g_string_append_printf (out, " %s", state);
  if (wanted->len) {
    g_string_truncate (list, 0);
    append_list (list, wanted);
    g_string_append_printf (out, _(" Wanted, but absent: %s."), list->str);
  }
  for (guint i = 0; i < n; i++)
    g_string_append_printf (out, "%s%s%s", i ? "; " : " ", sides[i]->text, i + 1 == n ? "." : "");
  return g_string_free (out, FALSE);
}

static char *
mark_sentence (const PmPlan *plan, const PmTrackMark *mark)
{
  const char *unit = mark->unit >= 0 ? plan->board->host.units[mark->unit].name : NULL;
  const char *drive = mark->drive >= 0 ? plan->board->drives[mark->drive].title : NULL;

  switch (mark->kind) {
  case PM_TRACK_TWO: {
    g_autoptr (GPtrArray) yes = linked (plan, PM_LINK_YES, mark->unit, -1);
    g_autoptr (GString) list = g_string_new (NULL);
    append_list (list, yes);
    return g_strdup_printf (_("%s is answered by %s."), unit, list->str);
  }
  case PM_TRACK_BUFFER:
    return g_strdup_printf (_("%s reaches nothing."), unit);
  case PM_TRACK_CLASH:
    return g_strdup_printf (_("Outputs collide when %s is on."), unit);
  case PM_TRACK_FLOATS:
  case PM_TRACK_GATE:
  case PM_TRACK_ALWAYS:
    return g_strdup_printf ("%s: %s", drive, drive_state (plan->result->marks[mark->drive]));
  case PM_TRACK_END:
  case PM_TRACK_JOINT:
  default:
    return NULL;
  }
}

/* At least so large that a finger or an unsteady hand meets it; inside the plan. */
static PmRect
handle (const PmPlan *plan, PmRect area)
{
  const PmPlanFrame *f = &plan->frame;
  double least = MIN (24, f->pitch), x2, y2;

  if (area.width < least)
    area = (PmRect){ area.x - (least - area.width) / 2, area.y, least, area.height };
  if (area.height < least)
    area = (PmRect){ area.x, area.y - (least - area.height) / 2, area.width, least };
  x2 = MIN (f->width, area.x + area.width);
  y2 = MIN (f->height, area.y + area.height);
  area.x = MAX (0, area.x);
  area.y = MAX (0, area.y);
  return (PmRect){ area.x, area.y, x2 - area.x, y2 - area.y };
}

/* Takes sentence. */
static void
add_element (PmPlan *plan, PmPlanKind kind, int unit, int drive, PmRect area, char *sentence)
{
  PmPlanElement element = {
    .kind = kind, .unit = unit, .drive = drive, .area = handle (plan, area), .sentence = sentence
  };

  g_array_append_val (plan->elements, element);
}

static void
add_elements (PmPlan *plan)
{
  const PmPlanFrame *f = &plan->frame;
  double em = f->m.em;

  for (guint u = 0; u < plan->board->host.n_units; u++) {
    double left = f->host_width - 3.6 * em;
    for (guint i = 0; i < plan->words->len; i++) {
      const PmWord *word = PM_AT (plan->words, PmWord, i);
      if (word->box == 0 && fabs (word->area.y + word->area.height / 2 - pm_plan_row_y (f, u)) < 2)
        left = word->area.x - 0.4 * em;
    }
    add_element (plan, PM_PLAN_LINE, u, -1,
                 (PmRect){ left, pm_plan_row_y (f, u) - 0.9 * em, f->host_width + 0.9 * em - left, 1.8 * em },
                 line_sentence (plan, u));
  }
  for (guint i = 0; i < plan->boxes->len; i++) {
    const PmPlanBox *box = PM_AT (plan->boxes, PmPlanBox, i);
    if (box->kind == PM_BOX_DRIVE)
      add_element (plan, PM_PLAN_DRIVE, -1, box->drive, box->area, drive_sentence (plan, box->drive));
  }
  for (guint i = 0; i < plan->marks->len; i++) {
    const PmTrackMark *mark = PM_AT (plan->marks, PmTrackMark, i);
    char *sentence = mark_sentence (plan, mark);
    if (sentence)
      add_element (plan, PM_PLAN_MARK, mark->unit, mark->drive, mark->area, sentence);
  }
  for (guint i = 0; i < plan->ports->len && !plan->open; i++) {
    const PmPort *port = PM_AT (plan->ports, PmPort, i);
    if (port->text)
      add_element (plan, PM_PLAN_MARK, -1, port->drive, port->box,
                   g_strdup_printf (_("%s on a condition: %s."), plan->board->drives[port->drive].title, port->text));
  }
}

PmPlan *
pm_plan_new (const PmCheck *check, guint case_index, double width, double height, const PmStyle *style,
             PangoContext *context)
{
  PmPlan *plan;

  g_return_val_if_fail (check && style && context && case_index < check->n_cases, NULL);
  plan = g_new0 (PmPlan, 1);
  plan->check = check;
  plan->board = check->board;
  plan->result = &check->cases[case_index];
  plan->case_index = case_index;
  plan->style = style;
  plan->context = g_object_ref (context);
  plan->links = array_new (sizeof (PmLink), NULL);
  plan->ports = array_new (sizeof (PmPort), clear_port);
  plan->tracks = array_new (sizeof (PmTrack), clear_track);
  plan->marks = array_new (sizeof (PmTrackMark), NULL);
  plan->boxes = array_new (sizeof (PmPlanBox), NULL);
  plan->words = array_new (sizeof (PmWord), clear_word);
  plan->elements = array_new (sizeof (PmPlanElement), clear_element);
  pm_plan_frame_init (&plan->frame, check, floor (MAX (width, 1)), floor (MAX (height, 1)), style, context);
  plan->outlined = plan->board->has_board && plan->result->kind != PM_CASE_WITHOUT_BOARD && plan->frame.board.width > 0;
  add_boxes (plan);
  plan->open = !pm_plan_link (plan) || !pm_plan_route (plan);
  if (plan->open)
    pm_plan_route_open (plan);
  else
    add_gates (plan);
  pm_plan_break (plan);
  pm_plan_place_words (plan);
  add_elements (plan);
  return plan;
}

void
pm_plan_free (PmPlan *plan)
{
  if (!plan)
    return;
  g_array_unref (plan->links);
  g_array_unref (plan->ports);
  g_array_unref (plan->tracks);
  g_array_unref (plan->marks);
  g_array_unref (plan->boxes);
  g_array_unref (plan->words);
  g_array_unref (plan->elements);
  g_object_unref (plan->context);
  g_free (plan);
}

guint
pm_plan_n_elements (const PmPlan *plan)
{
  return plan->elements->len;
}

const PmPlanElement *
pm_plan_element (const PmPlan *plan, guint index)
{
  g_return_val_if_fail (index < plan->elements->len, NULL);
  return PM_AT (plan->elements, PmPlanElement, index);
}

gboolean
pm_plan_says_all (const PmPlan *plan)
{
  return plan->n_left_out == 0;
}

int
pm_plan_at (const PmPlan *plan, double x, double y)
{
  double least = G_MAXDOUBLE, reach = 0.6 * plan->frame.m.em;
  PmRect spot = { x - reach, y - reach, 2 * reach, 2 * reach };
  int found = -1;

  for (guint i = 0; i < plan->elements->len; i++) {
    const PmRect *area = &PM_AT (plan->elements, PmPlanElement, i)->area;
    if (pm_rect_contains (area, x, y) && area->width * area->height < least) {
      least = area->width * area->height;
      found = i;
    }
  }
  for (guint t = 0; t < plan->tracks->len && found < 0; t++) {
    const PmTrack *track = PM_AT (plan->tracks, PmTrack, t);
    for (guint p = 0; p + 1 < track->n_points && found < 0; p++) {
      if (!pm_segment_meets (track->points[p], track->points[p + 1], 0, &spot))
        continue;
      for (guint i = 0; i < plan->elements->len && found < 0; i++) {
        const PmPlanElement *element = PM_AT (plan->elements, PmPlanElement, i);
        if (track->unit >= 0 ? element->kind == PM_PLAN_LINE && element->unit == track->unit
                             : element->kind == PM_PLAN_DRIVE && element->drive == track->drive)
          found = i;
      }
    }
  }
  return found;
}
