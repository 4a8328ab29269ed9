/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A check made by hand. */
#include "fake.h"

static const char *const DRIVES[] = { "Inside", "Outside", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth" };

Fake *
fake_new (guint n_units, guint n_drives, guint n_settings)
{
  Fake *fake = g_new0 (Fake, 1);
  PmBoard *board = &fake->board;
  PmCheck *check = &fake->check;

  board->title = g_strdup ("Boot swap");
  board->revision = g_strdup ("B");
  board->has_board = TRUE;
  board->host.title = g_strdup ("Larkspur 40");
  board->host.n_units = n_units;
  board->host.units = g_new0 (PmUnit, n_units);
  for (guint u = 0; u < n_units; u++) {
    board->host.units[u].number = u;
    board->host.units[u].name = g_strdup_printf ("SEL%u", u);
  }
  board->n_drives = n_drives;
  board->drives = g_new0 (PmDrive, n_drives);
  for (guint d = 0; d < n_drives; d++)
    board->drives[d].title = g_strdup (DRIVES[d % G_N_ELEMENTS (DRIVES)]);
  board->n_wanted = n_settings + 1;
  board->wanted = g_new0 (PmWanted, board->n_wanted);
  check->board = board;
  check->n_cases = n_settings + 1;
  check->n_settings = n_settings;
  check->cases = g_new0 (PmCaseResult, check->n_cases);
  for (guint c = 0; c < check->n_cases; c++) {
    PmCaseResult *result = &check->cases[c];
    result->kind = c ? PM_CASE_SETTING : PM_CASE_WITHOUT_BOARD;
    result->setting = c;
    result->cells = g_new0 (PmCell, n_units * n_drives);
    result->collides = g_new0 (gboolean, n_units);
    result->marks = g_new0 (PmDriveMark, n_drives);
    result->sides = g_new0 (PmSideLine, 64);
    result->wanted = c;
    board->wanted[c].units = g_new0 (PmWantCell, n_units);
    for (guint d = 0; d < n_drives; d++)
      result->marks[d] = PM_DRIVE_UNREACHED;
  }
  for (guint u = 0; u < MIN (n_units, n_drives); u++)
    fake_cell (fake, 0, u, u, PM_ANSWER_YES, NULL);
  return fake;
}

void
fake_free (Fake *fake)
{
  if (!fake)
    return;
  for (guint c = 0; c < fake->check.n_cases; c++) {
    PmCaseResult *result = &fake->check.cases[c];
    for (guint i = 0; i < fake->board.host.n_units * fake->board.n_drives; i++)
      g_free (result->cells[i].on);
    for (guint i = 0; i < result->n_sides; i++) {
      g_free (result->sides[i].does);
      g_free (result->sides[i].text);
    }
    g_free (result->cells);
    g_free (result->collides);
    g_free (result->marks);
    g_free (result->sides);
    g_free (fake->board.wanted[c].units);
  }
  for (guint u = 0; u < fake->board.host.n_units; u++)
    g_free (fake->board.host.units[u].name);
  for (guint d = 0; d < fake->board.n_drives; d++)
    g_free (fake->board.drives[d].title);
  g_free (fake->board.title);
  g_free (fake->board.revision);
  g_free (fake->board.host.title);
  g_free (fake->board.host.units);
  g_free (fake->board.drives);
  g_free (fake->board.wanted);
  g_free (fake->check.cases);
  g_free (fake);
}

void
fake_cell (Fake *fake, guint case_index, guint unit, guint drive, PmAnswer answer, const char *on)
{
  PmCaseResult *result = &fake->check.cases[case_index];
  PmCell *cell = &result->cells[unit * fake->board.n_drives + drive];

  cell->answer = answer;
  g_free (cell->on);
  cell->on = g_strdup (on);
  if (answer == PM_ANSWER_YES)
    result->marks[drive] = PM_DRIVE_REACHED;
  else if (answer != PM_ANSWER_NEVER && result->marks[drive] != PM_DRIVE_REACHED)
    result->marks[drive] = PM_DRIVE_NOT_CERTAIN;
}

void
fake_mark (Fake *fake, guint case_index, guint drive, PmDriveMark mark)
{
  fake->check.cases[case_index].marks[drive] = mark;
}

void
fake_want (Fake *fake, guint case_index, guint unit, guint drive)
{
  fake->board.wanted[case_index].units[unit] = (PmWantCell){ PM_WANT_DRIVE, drive };
}

void
fake_side (Fake *fake, guint case_index, guint drive, PmSide side, const char *does, const char *text)
{
  PmCaseResult *result = &fake->check.cases[case_index];

  g_assert_cmpuint (result->n_sides, <, 64);
  result->sides[result->n_sides++] =
    (PmSideLine){ .does = g_strdup (does), .drive = drive, .side = side, .text = g_strdup (text) };
}

void
fake_titles (Fake *fake, const char *host, const char *board, const char *const *drives)
{
  g_free (fake->board.host.title);
  fake->board.host.title = g_strdup (host);
  g_free (fake->board.title);
  fake->board.title = g_strdup (board);
  for (guint d = 0; drives && d < fake->board.n_drives; d++) {
    g_free (fake->board.drives[d].title);
    fake->board.drives[d].title = g_strdup (drives[d]);
  }
}

PmSwitch *
fake_switch (PmLook look, const char *names)
{
  g_auto (GStrv) list = g_strsplit (names, "|", -1);
  PmSwitch *sw = g_new0 (PmSwitch, 1);

  sw->name = g_strdup ("S1");
  sw->title = g_strdup ("Start from");
  sw->look = look;
  sw->n_positions = g_strv_length (list);
  sw->positions = g_new0 (PmPosition, sw->n_positions);
  for (guint i = 0; i < sw->n_positions; i++) {
    sw->positions[i].name = g_strdup (list[i]);
    sw->positions[i].pairs = g_new0 (PmPair, 1);
    sw->positions[i].n_pairs = g_str_equal (list[i], "off") ? 0 : 1;
    sw->positions[i].pairs[0] = sw->n_positions == 2 ? (PmPair){ 10, 11 + 2 * i } : (PmPair){ 10 + 2 * i, 11 + 2 * i };
  }
  return sw;
}

void
fake_switch_free (PmSwitch *sw)
{
  for (guint i = 0; i < sw->n_positions; i++) {
    g_free (sw->positions[i].name);
    g_free (sw->positions[i].pairs);
  }
  g_free (sw->positions);
  g_free (sw->name);
  g_free (sw->title);
  g_free (sw);
}

PangoContext *
fake_context (void)
{
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());

  pango_cairo_context_set_resolution (context, 96);
  return context;
}
