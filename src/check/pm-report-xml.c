/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The check as XML, written by hand: a stack of open elements, attributes in the order given. */
#include "config.h"
#include "pm-report-xml.h"
#include "pm-alternates.h"
#include "pm-naming.h"
#include <math.h>
#include <string.h>

#define NAMESPACE "urn:x-pointsman:report:1"

static const char *const case_kinds[PM_N_CASE_KINDS] = {[PM_CASE_WITHOUT_BOARD] = "without-board",
                                                        [PM_CASE_SETTING] = "setting",
                                                        [PM_CASE_MOVING] = "moving",
                                                        [PM_CASE_REMOVED] = "removed",
                                                        [PM_CASE_TURNED] = "turned",
                                                        [PM_CASE_SUPPLY_OFF] = "supply-off",
                                                        [PM_CASE_RESET] = "reset",
                                                        [PM_CASE_HOST_OFF] = "host-off",
                                                        [PM_CASE_ONCE] = "once"};
static const char *const answers[PM_N_ANSWERS] = {[PM_ANSWER_NEVER] = "never",
                                                  [PM_ANSWER_YES] = "yes",
                                                  [PM_ANSWER_MAY] = "not-certain",
                                                  [PM_ANSWER_DEPENDS] = "depends",
                                                  [PM_ANSWER_NOT_DECIDED] = "not-decided"};
static const char *const marks[PM_N_DRIVE_MARKS] = {
    [PM_DRIVE_REACHED] = "reached",  [PM_DRIVE_UNREACHED] = "unreached",     [PM_DRIVE_HELD] = "held",
    [PM_DRIVE_FLOATS] = "floats",    [PM_DRIVE_NOT_CERTAIN] = "not-certain", [PM_DRIVE_ALWAYS] = "always",
    [PM_DRIVE_NO_POWER] = "no-power"};
static const char *const sides[PM_N_SIDES] = {[PM_SIDE_FOLLOWS] = "follows",
                                              [PM_SIDE_STAYS] = "stays",
                                              [PM_SIDE_HELD] = "held",
                                              [PM_SIDE_NOT_CERTAIN] = "not-certain",
                                              [PM_SIDE_NOT_JUDGED] = "not-judged"};
static const char *const fits[] = {[PM_FIT_NOT_STATED] = "not-stated",
                                   [PM_FIT_AS_WANTED] = "as-wanted",
                                   [PM_FIT_NOT_AS_WANTED] = "not-as-wanted",
                                   [PM_FIT_NOT_DECIDED] = "not-decided"};
static const char *const severities[PM_N_SEVERITIES] = {
    [PM_SEVERITY_STOP] = "stop", [PM_SEVERITY_CARE] = "care", [PM_SEVERITY_NOTE] = "note"};
static const char *const verdicts[PM_N_VERDICTS] = {[PM_VERDICT_NOT_READY] = "not-ready",
                                                    [PM_VERDICT_NO_VERDICT] = "no-verdict",
                                                    [PM_VERDICT_READY_IF] = "ready-if",
                                                    [PM_VERDICT_ROUTES_RIGHT] = "routes-right",
                                                    [PM_VERDICT_READY] = "ready"};
static const char *const row_kinds[] = {
    [PM_ROW_PLAIN] = "plain", [PM_ROW_HEADING] = "heading", [PM_ROW_HOLD] = "hold", [PM_ROW_CAUTION] = "caution"};
static const char *const cell_kinds[] = {
    [PM_CELLS_TEXT] = "text", [PM_CELLS_NUMBER] = "number", [PM_CELLS_TICK] = "tick", [PM_CELLS_BLANK] = "blank"};

/* ---- writing */

typedef struct {
  GString *out;
  GPtrArray *open; /* const char* */
} Xml;

/* XML 1.0, production 2 (Char); line ends and tabs as references, so that attributes keep them. */
static void
escape (GString *out, const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  for (const char *c = valid; *c != '\0'; c = g_utf8_next_char (c)) {
    gunichar u = g_utf8_get_char (c);
    if (u == '\t' || u == '\n' || u == '\r')
      g_string_append_printf (out, "&#%u;", u);
    else if (u < 0x20 || u == 0xFFFE || u == 0xFFFF)
      g_string_append (out, "\xEF\xBF\xBD");
    else if (u == '&')
      g_string_append (out, "&amp;");
    else if (u == '<')
      g_string_append (out, "&lt;");
    else if (u == '>')
      g_string_append (out, "&gt;");
    else if (u == '"')
      g_string_append (out, "&quot;");
    else
      g_string_append_unichar (out, u);
  }
}

/* Pairs of name and value up to a NULL name; a NULL value leaves its attribute out. */
static void
append_attributes (Xml *xml, va_list pairs)
{
  for (const char *name = va_arg (pairs, const char *); name != NULL; name = va_arg (pairs, const char *)) {
    const char *value = va_arg (pairs, const char *);
    if (value == NULL)
      continue;
    g_string_append_printf (xml->out, " %s=\"", name);
    escape (xml->out, value);
    g_string_append_c (xml->out, '"');
  }
}

static void
indent (Xml *xml)
{
  g_string_append_printf (xml->out, "%*s", (int)xml->open->len * 2, "");
}

static void G_GNUC_NULL_TERMINATED
begin (Xml *xml, const char *element, ...)
{
  va_list pairs;
  indent (xml);
  g_string_append_printf (xml->out, "<%s", element);
  va_start (pairs, element);
  append_attributes (xml, pairs);
  va_end (pairs);
  g_string_append (xml->out, ">\n");
  g_ptr_array_add (xml->open, (gpointer)element);
}

static void
end (Xml *xml)
{
  const char *element = g_ptr_array_steal_index (xml->open, xml->open->len - 1);
  indent (xml);
  g_string_append_printf (xml->out, "</%s>\n", element);
}

/* An element with text, or empty; left out where text is NULL and there are no attributes to say. */
static void G_GNUC_NULL_TERMINATED
leaf (Xml *xml, const char *element, const char *text, ...)
{
  va_list pairs;
  indent (xml);
  g_string_append_printf (xml->out, "<%s", element);
  va_start (pairs, text);
  append_attributes (xml, pairs);
  va_end (pairs);
  if (text == NULL || text[0] == '\0') {
    g_string_append (xml->out, "/>\n");
    return;
  }
  g_string_append_c (xml->out, '>');
  escape (xml->out, text);
  g_string_append_printf (xml->out, "</%s>\n", element);
}

static void
text_if (Xml *xml, const char *element, const char *text)
{
  if (text != NULL && text[0] != '\0')
    leaf (xml, element, text, NULL);
}

typedef struct {
  char text[16];
} Number;

static const char *
number (Number *in, guint value)
{
  g_snprintf (in->text, sizeof in->text, "%u", value);
  return in->text;
}

/* ---- the parts of the report */

static void
write_board (Xml *xml, const PmCheck *check)
{
  const PmBoard *board = check->board;
  Number a;
  begin (xml, "board", "title", board->title, "revision", board->revision, "hash", board->hash, "file", board->path,
         NULL);
  text_if (xml, "about", board->about);
  leaf (xml, "machine", NULL, "name", board->host.name, "title", board->host.title, NULL);
  for (guint u = 0; u < board->host.n_units; u++)
    leaf (xml, "select", NULL, "number", number (&a, board->host.units[u].number), "name", board->host.units[u].name,
          NULL);
  for (guint d = 0; d < board->n_drives; d++)
    leaf (xml, "drive", NULL, "name", board->drives[d].name, "title", board->drives[d].title, "is",
          board->drives[d].kind, NULL);
  for (guint s = 0; s < board->n_switches; s++) {
    const PmSwitch *sw = &board->switches[s];
    begin (xml, "switch", "name", sw->name, "title", sw->title, "moved",
           sw->moved == PM_MOVED_BY_HAND ? "by-hand" : "once", NULL);
    for (guint p = 0; p < sw->n_positions; p++)
      leaf (xml, "position", NULL, "name", sw->positions[p].name, "title", sw->positions[p].title, "usual",
            p == sw->usual ? "yes" : NULL, NULL);
    end (xml);
  }
  for (guint i = 0; board->files != NULL && i < board->files->len; i++)
    leaf (xml, "file", g_ptr_array_index (board->files, i), NULL);
  end (xml);
}

static void
write_verdict (Xml *xml, const PmCheck *check)
{
  Number a, b, c;
  leaf (xml, "verdict", check->verdict_text, "is", verdicts[check->verdict], "stops",
        number (&a, check->counts[PM_SEVERITY_STOP]), "cares", number (&b, check->counts[PM_SEVERITY_CARE]), "notes",
        number (&c, check->counts[PM_SEVERITY_NOTE]), "exit-status", pm_check_exit_code (check, FALSE) ? "1" : "0",
        "exit-status-strict", pm_check_exit_code (check, TRUE) ? "1" : "0", NULL);
  leaf (xml, "tried", check->tried_text, "runs", number (&a, check->n_runs), "not-decided",
        check->not_decided ? "yes" : NULL, NULL);
  leaf (xml, "not-checked", check->not_checked_text, NULL);
  text_if (xml, "what-to-do", check->what_to_do);
  for (guint i = 0; check->assumed != NULL && check->assumed[i] != NULL; i++)
    leaf (xml, "assumed", check->assumed[i], NULL);
}

static void
write_cells (Xml *xml, const PmCheck *check, guint i)
{
  const PmBoard *board = check->board;
  for (guint u = 0; u < board->host.n_units; u++) {
    g_autofree char *reach = pm_check_reach_text (check, i, u);
    begin (xml, "reaches", "select", board->host.units[u].name, "text", reach, "collides",
           check->cases[i].collides[u] ? "yes" : NULL, NULL);
    for (guint d = 0; d < board->n_drives; d++) {
      const PmCell *cell = pm_check_cell (check, i, u, d);
      leaf (xml, "cell", NULL, "drive", board->drives[d].name, "answer", answers[cell->answer], "on", cell->on, NULL);
    }
    end (xml);
  }
}

static void
write_case (Xml *xml, const PmCheck *check, guint i)
{
  const PmBoard *board = check->board;
  const PmCaseResult *of = &check->cases[i];
  Number a, b;
  gboolean setting = of->kind == PM_CASE_SETTING;
  begin (xml, "case", "number", number (&a, i), "kind", case_kinds[of->kind], "name", of->name, "title", of->title,
         "setting", i > 0 ? number (&b, of->setting) : NULL, "usual", i == check->usual && i > 0 ? "yes" : NULL,
         "result", setting && of->result < check->n_results ? check->results[of->result].name : NULL, "fit",
         fits[of->fit], NULL);
  for (guint s = 0; s < board->n_switches && of->positions != NULL; s++)
    if (of->positions[s] >= 0 && (guint)of->positions[s] < board->switches[s].n_positions)
      leaf (xml, "at", NULL, "switch", board->switches[s].name, "position",
            board->switches[s].positions[of->positions[s]].name, NULL);
    else
      leaf (xml, "at", NULL, "switch", board->switches[s].name, NULL);
  write_cells (xml, check, i);
  for (guint d = 0; d < board->n_drives; d++)
    leaf (xml, "lamp", NULL, "drive", board->drives[d].name, "mark", marks[of->marks[d]], NULL);
  for (guint k = 0; k < of->n_sides; k++)
    leaf (xml, "side-line", of->sides[k].text, "does", of->sides[k].does, "drive",
          board->drives[of->sides[k].drive].name, "select", board->host.units[of->sides[k].unit].name, "is",
          sides[of->sides[k].side], NULL);
  for (guint k = 0; of->findings != NULL && k < of->findings->len; k++)
    leaf (xml, "finding-here", NULL, "number", number (&a, g_array_index (of->findings, guint, k) + 1), NULL);
  text_if (xml, "verdict", of->verdict);
  text_if (xml, "changed", of->changed);
  text_if (xml, "side-lines", of->side_text);
  text_if (xml, "caption", of->caption);
  end (xml);
}

static void
write_results (Xml *xml, const PmCheck *check)
{
  Number a;
  for (guint r = 0; r < check->n_results; r++) {
    begin (xml, "result", "name", check->results[r].name, "text", check->results[r].text, NULL);
    for (guint k = 0; k < check->results[r].settings->len; k++) {
      guint i = g_array_index (check->results[r].settings, guint, k);
      leaf (xml, "setting", NULL, "number", number (&a, i), "name", check->cases[i].name, NULL);
    }
    end (xml);
  }
}

static void
write_spot (Xml *xml, const PmSpot *spot)
{
  Number a, b;
  leaf (xml, "spot", NULL, "file", spot->file, "line", number (&a, spot->line), "other-line",
        spot->other_line > 0 ? number (&b, spot->other_line) : NULL, NULL);
}

static void
write_finding (Xml *xml, const PmCheck *check, guint i)
{
  const PmFinding *finding = &check->findings[i];
  const PmBoard *board = check->board;
  Number a, b;
  begin (xml, "finding", "number", number (&a, i + 1), "kind", finding->id, "severity", severities[finding->severity],
         "case", number (&b, finding->case_index), "select",
         finding->unit >= 0 ? board->host.units[finding->unit].name : NULL, "drive",
         finding->drive >= 0 ? board->drives[finding->drive].name : NULL, "tried", finding->tried ? "yes" : NULL,
         "identity", finding->identity, NULL);
  text_if (xml, "title", finding->title);
  text_if (xml, "short", finding->short_text);
  text_if (xml, "where", finding->where);
  text_if (xml, "when", finding->when);
  text_if (xml, "what", finding->what);
  text_if (xml, "because", finding->because);
  text_if (xml, "matters", finding->matters);
  text_if (xml, "to-do", finding->to_do);
  text_if (xml, "measure", finding->measure);
  text_if (xml, "follows", finding->follows);
  text_if (xml, "accepted", finding->accepted);
  for (guint k = 0; finding->followers != NULL && finding->followers[k] != NULL; k++)
    leaf (xml, "follower", finding->followers[k], NULL);
  for (guint k = 0; k < finding->n_places; k++)
    if (finding->places[k] < board->n_places) {
      g_autofree char *name = pm_board_place_name (board, finding->places[k]);
      leaf (xml, "place", NULL, "name", name, NULL);
    }
  for (guint k = 0; k < finding->n_spots; k++)
    if (finding->spots[k].file != NULL)
      write_spot (xml, &finding->spots[k]);
  end (xml);
}

static void
write_list (Xml *xml, const PmCheck *check, PmListKind kind, const PmListOptions *options)
{
  g_autoptr (PmList) list = pm_list_new (check, kind, options, NULL);
  begin (xml, "list", "kind", list->id, "title", list->title, NULL);
  text_if (xml, "about", list->about);
  for (guint c = 0; c < list->n_columns; c++)
    leaf (xml, "column", list->columns[c].title, "id", list->columns[c].id, "kind", cell_kinds[list->columns[c].kind],
          NULL);
  for (guint r = 0; r < list->n_rows; r++) {
    const PmListRow *row = &list->rows[r];
    begin (xml, "row", "kind", row_kinds[row->kind], "id", row->id, NULL);
    for (guint c = 0; c < (row->kind == PM_ROW_PLAIN ? list->n_columns : 1); c++)
      leaf (xml, "cell", row->cells[c], "column", row->kind == PM_ROW_PLAIN ? list->columns[c].id : NULL, NULL);
    end (xml);
  }
  for (guint i = 0; list->notes[i] != NULL; i++)
    leaf (xml, "note", list->notes[i], NULL);
  end (xml);
}

char *
pm_report_xml (const PmCheck *check, guint lists)
{
  g_autoptr (GPtrArray) open = g_ptr_array_new ();
  Xml xml = {g_string_new ("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"), open};
  begin (&xml, "report", "xmlns", NAMESPACE, "program", "pointsman " PM_VERSION, NULL);
  write_board (&xml, check);
  write_verdict (&xml, check);
  for (guint i = 0; i < check->n_cases; i++)
    write_case (&xml, check, i);
  write_results (&xml, check);
  for (guint i = 0; i < check->n_findings; i++)
    write_finding (&xml, check, i);
  PmListOptions options = PM_LIST_OPTIONS_USUAL;
  g_autoptr (GArray) alternates = NULL;
  if (lists & (1u << PM_LIST_PARTS | 1u << PM_LIST_ALTERNATES))
    options.alternates = alternates = pm_alternates_find (check, NULL);
  for (guint k = 0; k < PM_N_LISTS; k++)
    if (lists >> k & 1)
      write_list (&xml, check, (PmListKind)k, &options);
  end (&xml);
  return g_string_free (xml.out, FALSE);
}
