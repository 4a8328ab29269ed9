/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets to write on and to leave behind: find my pins, case note, as built. */
#include "config.h"
#include "pm-sheet.h"
#include "pm-cases.h"
#include "pm-naming.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

/* ---- find my pins */

/* A pin of a drive's connector, and what the drive has there. */
typedef struct { guint32 pin; GString *does; } DrivePin;

static int
compare_pins (gconstpointer a, gconstpointer b)
{
  const DrivePin *x = a, *y = b;

  return x->pin < y->pin ? -1 : x->pin > y->pin;
}

static void
drive_pin_clear (gpointer data)
{
  g_string_free (((DrivePin *) data)->does, TRUE);
}

static void
add_pin (GArray *pins, const PmBoard *board, guint instance, guint32 place, const char *does)
{
  const PmInstance *of = &board->instances[instance];
  guint32 pin = place - of->first_place;
  char *end;

  if (place == PM_NONE || place < of->first_place || pin >= of->part->n_pins)
    return;
  /* Pins with a number only: what has a name alone is inside the drive. */
  (void) strtoul (of->part->pins[pin].number, &end, 10);
  if (*end != '\0')
    return;
  for (guint i = 0; i < pins->len; i++) {
    DrivePin *known = &g_array_index (pins, DrivePin, i);

    if (known->pin == pin) {
      if (!strstr (known->does->str, does))
        g_string_append_printf (known->does, ", %s", does);
      return;
    }
  }
  DrivePin fresh = { pin, g_string_new (does) };
  g_array_append_val (pins, fresh);
}

/* Pins of a drive that matter: its selects in every jumper position, what it needs and what it gives. */
static GArray *
pins_that_matter (const PmBoard *board, const PmDrive *drive)
{
  GArray *pins = g_array_new (FALSE, FALSE, sizeof (DrivePin));

  g_array_set_clear_func (pins, drive_pin_clear);
  if (drive->jumper != PM_NONE) {
    const PmSwitch *jumper = &board->switches[drive->jumper];

    for (guint i = 0; i < jumper->n_positions; i++)
      for (guint k = 0; k < jumper->positions[i].n_pairs; k++) {
        const PmPosition *position = &jumper->positions[i];
        g_autofree char *does = g_strdup_printf (_("select (%s)"), pm_position_title (jumper, i));

        add_pin (pins, board, drive->instance, position->pairs[k].a, does);
        add_pin (pins, board, drive->instance, position->pairs[k].b, does);
      }
  } else {
    for (guint i = 0; i < drive->n_answers; i++)
      for (guint k = 0; k < drive->answers[i].n_whens; k++)
        add_pin (pins, board, drive->instance, drive->answers[i].whens[k].place, _("select"));
  }
  for (guint i = 0; i < drive->n_needs; i++)
    add_pin (pins, board, drive->instance, drive->needs[i].place, drive->needs[i].does);
  for (guint i = 0; i < drive->n_gives; i++)
    if (drive->gives[i].place != PM_NONE)
      add_pin (pins, board, drive->instance, drive->gives[i].place, drive->gives[i].does);
  g_array_sort (pins, compare_pins);
  return pins;
}

static void
add_find_table (PmFlow *flow, const PmBoard *board, const PmDrive *drive)
{
  static const PmSheetColumn COLUMNS[] = {
    { "pin", N_("Pin"), PM_CELLS_NUMBER },
    { "does", N_("What a drive has there"), PM_CELLS_TEXT },
    { "socket", N_("beeps to pin … of the empty chip socket"), PM_CELLS_BLANK },
    { "driver", N_("to pin … of chip … (a driver in between)"), PM_CELLS_BLANK },
    { "nothing", N_("to nothing"), PM_CELLS_TICK },
    { NULL, NULL, 0 } };
  PmList *list = pm_sheet_list (COLUMNS);
  g_autoptr (GArray) pins = pins_that_matter (board, drive);

  for (guint i = 0; i < pins->len; i++) {
    const DrivePin *pin = &g_array_index (pins, DrivePin, i);

    pm_sheet_row (list, PM_ROW_PLAIN, board->instances[drive->instance].part->pins[pin->pin].number, pin->does->str,
                  NULL);
  }
  pm_flow_list (flow, list, NULL);
}

PmFlow *
pm_sheet_find_pins (const PmSheetInput *in, guint degree)
{
  const PmBoard *board = in->check->board;
  PmFlow *flow = pm_flow_new (in->type);

  pm_flow_heading (flow, 0, pm_sheet_title (PM_SHEET_FIND_PINS));
  pm_flow_paragraph (flow, _("Which pin of the socketed chip is behind which pin of the drive connector. Chip out of "
                             "its socket, no drive plugged in, a meter that beeps; one row after the other."));
  pm_flow_marked (flow, PM_SEVERITY_CARE,
                  _("Power off and the plug out of the mains before the first pin is touched. Never open a power "
                    "supply. A meter that beeps under power may harm the machine and tells nothing."), TRUE);
  pm_flow_bullet (flow, _("Pin 1 of a chip is at its notch, left, seen from above with the notch up; then on down that "
                          "side and up the other. Pin 1 of a drive connector has a mark, and the ribbon its stripe "
                          "there."));
  pm_flow_bullet (flow, _("Touch both tips first: it must beep. Below 1 Ω is a wire; tens of ohms are a part in "
                          "between, and no beep is not nothing: try the other chips’ pins."));
  for (guint d = 0; d < board->n_drives; d++) {
    const PmDrive *drive = &board->drives[d];
    gboolean told = FALSE;
    g_autofree char *heading = NULL;

    for (guint e = 0; e < d; e++)
      told = told || (board->drives[e].into == drive->into && g_strcmp0 (board->drives[e].kind, drive->kind) == 0);
    if (told)
      continue;
    if (drive->into != PM_NONE) {
      g_autofree char *into = pm_name_instance (board, drive->into);

      heading = g_strdup_printf (_("Connector of %s: %s"), pm_name_drive (board, d), into);
    } else
      heading = g_strdup_printf (_("Connector of %s"), pm_name_drive (board, d));
    pm_flow_heading (flow, 1, heading);
    add_find_table (flow, board, drive);
  }
  pm_flow_gap (flow, 0.6);
  pm_flow_blank (flow, _("Machine, its board’s number and revision"));
  pm_flow_blank (flow, _("Chip, and which way its notch looks"));
  pm_flow_blank (flow, _("Free height above the chip, in millimetres"));
  pm_flow_blank (flow, _("5 V at pin … of the socket, 0 V at pin …"));
  pm_flow_blank (flow, _("Date, by"));
  return flow;
}

/* ---- case note */

static double
note_line (PmInk *ink, PmType *type, double y, double width, const char *text, double size, guint how, double after)
{
  return y + pm_ink_paragraph (ink, type, 14, y, width, text, size, how) + after;
}

static double
note_positions (PmInk *ink, PmType *type, const PmCheck *check, double y, double width, double size, double most,
                gboolean *all)
{
  for (guint c = 1; c <= check->n_settings; c++) {
    g_autoptr (GString) text = g_string_new (NULL);
    const PmCaseResult *result = &check->cases[c];

    for (guint u = 0; u < check->board->host.n_units; u++) {
      g_autofree char *reach = pm_check_reach_text (check, c, u);

      g_string_append_printf (text, "%s%s: %s", u > 0 ? "; " : "", check->board->host.units[u].name, reach);
    }
    if (c == check->n_settings || y + 4 * pm_type_line (type, size) + 6 < most) {
      y = note_line (ink, type, y, width, result->title, size + 0.5, PM_INK_BOLD, 0);
      y = note_line (ink, type, y, width, text->str, size, 0, size * 0.5);
    } else {
      g_autofree char *more = g_strdup_printf (ngettext ("%u more setting: see the sheets.",
                                                         "%u more settings: see the sheets.",
                                                         check->n_settings - c + 1), check->n_settings - c + 1);
      *all = FALSE;
      return note_line (ink, type, y, width, more, size, PM_INK_FAINT, size * 0.5);
    }
  }
  return y;
}

static void
note_blank (PmInk *ink, PmType *type, double x, double y, double to, const char *label, const char *value)
{
  double wide = pm_type_width (type, label, 8, FALSE);

  pm_ink_text (ink, type, x, y, label, 8, PM_INK_FAINT);
  if (value && value[0]) {
    g_autofree char *fits = pm_type_shorten (type, value, 8, TRUE, to - x - wide - 4);

    pm_ink_text (ink, type, x + wide + 4, y, fits, 8, PM_INK_BOLD);
  } else
    pm_ink_line (ink, x + wide + 4, y + 9, to, y + 9, 0.6, PM_INK_FAINT);
}

/* How to take it out again, by how it was put in. */
static const char *
note_way_back (const PmBoard *board)
{
  gboolean in_socket = board->has_board && board->socket != PM_NONE &&
                       board->instances[board->socket].part->type == PM_PART_SOCKET;

  return in_socket
             ? _("To take it out: power off, plug out of the mains. Unplug the switch’s lead, lift the board out of "
                 "its socket level, take the chip out of the board, put it back where the board sat, notch as before. "
                 "The machine is then as it was made.")
         : board->has_board ? _("To take it out: power off, plug out of the mains. Take the board out of the cable and "
                                "plug the cable’s ends together again.")
                            : _("To take it back: power off, plug out of the mains. Put the jumpers and the cable back "
                                "as they were; how they were is on the sheets.");
}

#define NOTE_FOOT (PM_A6_HEIGHT - 14 - 4 * 13)

/* All above the foot; returns where it ends.  all: FALSE where settings are left out. */
static double
note_body (PmInk *ink, const PmSheetInput *in, double size, gboolean *all)
{
  const PmBoard *board = in->check->board;
  PmType *type = in->type;
  double width = PM_A6_WIDTH - 28, y = 14, back, move = 0;
  g_autofree char *name = pm_sheet_board (in->check);
  g_autofree char *fitted = g_strdup_printf (_("In this machine: %s"), name);
  g_autoptr (GPtrArray) lines = pm_type_wrap (type, note_way_back (board), size, FALSE, width);
  gboolean hand = FALSE;

  for (guint s = 0; s < board->n_switches; s++)
    hand = hand || pm_sheet_is_hand_switch (board, s);
  back = lines->len * pm_type_line (type, size) + 10;
  move = hand ? 2 * pm_type_line (type, size + 1) + 13 : 0;
  y = note_line (ink, type, y, width, fitted, size + 2, PM_INK_BOLD, 2);
  pm_ink_line (ink, 14, y, PM_A6_WIDTH - 14, y, 1, 0);
  y = note_line (ink, type, y + 4, width, in->check->verdict_text, size, 0, size * 0.7);
  y = note_positions (ink, type, in->check, y, width, size, NOTE_FOOT - back - move, all);
  if (hand) {
    double text = pm_ink_paragraph (ink, type, 20, y + 4, width - 12,
                                    _("Move only with the power off, then start again."), size + 1, PM_INK_BOLD);

    pm_ink_box (ink, 14, y, width, text + 8, 1.2, -1, 0);
    y += text + 13;
  }
  return note_line (ink, type, y, width, note_way_back (board), size, 0, 0);
}

/* In the largest text that fits. */
static PmInk *
note_ink (const PmSheetInput *in)
{
  static const double SIZES[] = { 10.5, 10, 9.5, 9, 8.5, 8 };
  const PmBoard *board = in->check->board;
  PmType *type = in->type;
  PmInk *ink = NULL;
  g_autofree char *file = g_path_get_basename (board->path);

  for (guint i = 0; i < G_N_ELEMENTS (SIZES); i++) {
    gboolean all = TRUE;

    pm_ink_free (ink);
    ink = pm_ink_new ();
    if (note_body (ink, in, SIZES[i], &all) < NOTE_FOOT - 4 && all)
      break;
  }
  pm_ink_line (ink, 14, NOTE_FOOT, PM_A6_WIDTH - 14, NOTE_FOOT, 0.6, PM_INK_FAINT);
  note_blank (ink, type, 14, NOTE_FOOT + 5, PM_A6_WIDTH / 2, _("Date"), in->options->date);
  note_blank (ink, type, PM_A6_WIDTH / 2 + 6, NOTE_FOOT + 5, PM_A6_WIDTH - 14, _("By"), in->options->creator);
  note_blank (ink, type, 14, NOTE_FOOT + 20, PM_A6_WIDTH / 2, _("Revision"), board->revision);
  note_blank (ink, type, PM_A6_WIDTH / 2 + 6, NOTE_FOOT + 20, PM_A6_WIDTH - 14, _("Hash"), board->hash);
  note_blank (ink, type, 14, NOTE_FOOT + 35, PM_A6_WIDTH - 14, _("File"), file);
  return ink;
}

static void
cut_marks (PmInk *ink, double x, double y, double width, double height)
{
  for (guint i = 0; i < 4; i++) {
    double cx = x + (i & 1 ? width : 0), cy = y + (i & 2 ? height : 0), dx = i & 1 ? 1 : -1, dy = i & 2 ? 1 : -1;

    pm_ink_line (ink, cx, cy + dy * 2, cx, cy + dy * 10, 0.6, 0);
    pm_ink_line (ink, cx + dx * 2, cy, cx + dx * 10, cy, 0.6, 0);
  }
}

/* Two slips, one for the machine and one to keep, with marks to cut along. */
static PmInk *
note_picture (PmType *type, double width, double size, double *height, gpointer data)
{
  PmInk *ink = pm_ink_new ();
  guint n = width >= 2 * PM_A6_WIDTH + 30 ? 2 : 1;
  double gap = n > 1 ? 24 : 0, x = (width - n * PM_A6_WIDTH - (n - 1) * gap) / 2, y = 12;

  for (guint i = 0; i < n; i++) {
    pm_ink_box (ink, x, y, PM_A6_WIDTH, PM_A6_HEIGHT, 0.5, -1, PM_INK_FAINT | PM_INK_DASHED);
    cut_marks (ink, x, y, PM_A6_WIDTH, PM_A6_HEIGHT);
    pm_ink_take (ink, note_ink (data), x, y);
    x += PM_A6_WIDTH + gap;
  }
  *height = PM_A6_HEIGHT + 24;
  return ink;
}

PmFlow *
pm_sheet_case_note (const PmSheetInput *in, guint degree)
{
  PmFlow *flow = pm_flow_new (in->type);

  pm_flow_picture (flow, note_picture, g_memdup2 (in, sizeof *in), g_free);
  return flow;
}

/* ---- as built */

PmFlow *
pm_sheet_as_built (const PmSheetInput *in, guint degree)
{
  static const PmSheetColumn PARTS[] = {
    { "part", N_("Part"), PM_CELLS_TEXT },           { "planned", N_("Planned"), PM_CELLS_TEXT },
    { "fitted", N_("Fitted: maker, marking"), PM_CELLS_BLANK }, { "value", N_("Measured value"), PM_CELLS_BLANK },
    { NULL, NULL, 0 } };
  static const PmSheetColumn READINGS[] = {
    { "what", N_("Measured"), PM_CELLS_TEXT }, { "expected", N_("Expected"), PM_CELLS_TEXT },
    { "read", N_("Read"), PM_CELLS_BLANK },    { NULL, NULL, 0 } };
  const PmBoard *board = in->check->board;
  PmFlow *flow = pm_flow_new (in->type);
  PmList *parts = pm_sheet_list (PARTS), *readings = pm_sheet_list (READINGS);

  pm_flow_heading (flow, 0, pm_sheet_title (PM_SHEET_AS_BUILT));
  pm_flow_paragraph (flow, _("What was really fitted. Write here, not from memory later: a part of another kind is the "
                             "commonest reason why a copy does not work."));
  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *instance = &board->instances[i];

    if (instance->owner == PM_OWNER_BOARD && instance->part->type != PM_PART_DRIVE) {
      g_autofree char *planned = instance->title ? g_strdup_printf ("%s, %s", instance->is, instance->title)
                                                 : g_strdup (instance->is);

      pm_sheet_row (parts, PM_ROW_PLAIN, instance->ref, planned, NULL);
    }
  }
  if (parts->n_rows > 0)
    pm_flow_list (flow, parts, NULL);
  else
    pm_list_free (parts);
  for (guint r = 0; r < board->n_rails; r++) {
    const PmRail *rail = &board->rails[r];
    g_autofree char *expected = NULL, *what = NULL;

    if (rail->volts <= 0)
      continue;
    what = g_strdup_printf (_("%s of %s, everything running"), rail->name,
                            board->supplies[rail->supply].title ? board->supplies[rail->supply].title
                                                                : board->supplies[rail->supply].name);
    expected = rail->tolerance > 0 ? g_strdup_printf (_("%.2f to %.2f V"), rail->volts * (1 - rail->tolerance),
                                                      rail->volts * (1 + rail->tolerance))
                                   : g_strdup_printf (_("%.2f V"), rail->volts);
    pm_sheet_row (readings, PM_ROW_PLAIN, what, expected, NULL);
  }
  pm_sheet_row (readings, PM_ROW_PLAIN, _("+5 V to 0 V with the power off"), _("not a short"), NULL);
  pm_sheet_row (readings, PM_ROW_PLAIN, _("current of the board alone"), "", NULL);
  pm_flow_heading (flow, 1, _("Readings"));
  pm_flow_list (flow, readings, NULL);
  pm_flow_heading (flow, 1, _("Where it is not as planned, and why"));
  for (guint i = 0; i < 4; i++)
    pm_flow_blank (flow, "");
  pm_flow_gap (flow, 0.6);
  pm_flow_blank (flow, _("Works in these settings"));
  pm_flow_blank (flow, _("Date, by"));
  return flow;
}
