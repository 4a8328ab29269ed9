/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pin table: every pin of the interposer, or of the connectors where there is no board, dull ones too. */
#include "config.h"
#include "pm-list-private.h"
#include "pm-naming.h"
#include "pm-pins.h"
#include "pm-report.h"
#include <glib/gi18n-lib.h>
#include <string.h>

enum { PIN, LINE, FATE, GOES_TO, DIRECTION, REST, BESIDE, OPEN_TO, NOTES };

typedef struct {
  PmListBuild *build;
  guint counts[PM_N_PIN_FATES];
} Pins;

/* Pins of packages run round: two rows of half. Two-row connectors are numbered across; of a card edge the two sides
 * are apart; the two rows of a D-type stand half a pitch out of step. */
GArray *
pm_pin_neighbours (const PmPart *part, guint pin)
{
  GArray *near = g_array_new (FALSE, FALSE, sizeof (guint32));
  gboolean round = part->type == PM_PART_SOCKET || part->type == PM_PART_PINS || part->type == PM_PART_CHIP ||
                   part->type == PM_PART_LOGIC;
  gboolean d_type = g_str_has_prefix (part->name, "d-type");
  guint n = part->n_pins, row = round ? n / 2 : d_type ? (n + 1) / 2 : 0;
  guint step = part->rows == 2 && row == 0 ? 2 : 1;
  guint32 before = pin - step, after = pin + step;
  if (pin >= step && (row == 0 || before / row == pin / row))
    g_array_append_val (near, before);
  if (after < n && (row == 0 || after / row == pin / row))
    g_array_append_val (near, after);
  guint32 across = pin ^ 1;
  if (step == 2 && across < n && !g_str_has_prefix (part->name, "card-edge"))
    g_array_append_val (near, across);
  for (guint32 k = 0; d_type && k < 2; k++) { /* 1 and 2 of the long row stand over 14 of a 25-way one */
    guint32 other = pin < row ? pin + row - 1 + k : pin - row + k;
    if (other < n && other / row != pin / row)
      g_array_append_val (near, other);
  }
  return near;
}

/* Settings in which it goes where it goes in setting s. */
static GArray *
same_as (const PmCheck *check, const PmPinFact *pin, guint s)
{
  GArray *same = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint e = 0; e < check->n_settings; e++) {
    guint case_index = e + 1;
    if (g_str_equal (pin->goes[e], pin->goes[s]))
      g_array_append_val (same, case_index);
  }
  return same;
}

static char *
settings_words (const PmCheck *check, const GArray *same)
{
  guint first = g_array_index (same, guint, 0);
  char *label = same->len > 1 ? pm_report_settings (check, same) : NULL;
  if (label != NULL && label[0] != '\0')
    return label;
  g_free (label);
  return same->len > 1 ? g_strdup_printf (ngettext ("%s and %u more", "%s and %u more", same->len - 1),
                                          check->cases[first].name, same->len - 1)
                       : g_strdup (check->cases[first].name);
}

/* Where it goes, settings that say the same together: "inside: Inside; outside: Outside". */
static char *
goes_words (const PmListBuild *build, const PmPinFact *pin, gboolean rail)
{
  const PmCheck *check = build->check;
  g_autoptr (GString) text = g_string_new (NULL);
  guint n = 0;
  if (pin->fate == PM_PIN_THROUGH || pin->fate == PM_PIN_UNUSED)
    return NULL; /* what becomes of it says it */
  if (pin->fate == PM_PIN_TAPPED && rail)
    return g_strdup (_("also feeds the board"));
  if (pin->fate == PM_PIN_TAPPED)
    return g_strdup_printf (_("also to %s"), pin->chip_to != NULL ? pin->chip_to : pin->machine_to);
  if (build->options.case_index > 0 && build->options.case_index <= check->n_settings)
    return g_strdup (pin->goes[build->options.case_index - 1]);
  for (guint s = 0; s < check->n_settings; s++) {
    g_autoptr (GArray) same = same_as (check, pin, s);
    if (same->len == check->n_settings)
      return g_strdup (pin->goes[s]);
    if (g_array_index (same, guint, 0) != s + 1)
      continue;
    g_autofree char *settings = settings_words (check, same);
    g_string_append_printf (text, "%s%s: %s", n > 0 ? "; " : "", settings, pin->goes[s]);
    if (++n > 4)
      return g_strdup (_("by the setting: see the comparison of results"));
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static const char *
direction (const PmLine *line)
{
  gboolean drives = line->drives != PM_LINE_DRIVES_NOTHING;
  return drives && line->reads ? _("both ways")
         : drives              ? _("from the machine")
         : line->reads         ? _("to the machine")
                               : "";
}

/* Columns of what stands on a pin; *line_of: the host's line or PM_NONE. */
static void
tell_line (const PmListBuild *build, char **cells, guint32 place, guint32 line, guint32 rail)
{
  const PmHost *host = &build->board->host;
  gboolean given = FALSE;
  g_autofree char *use = pm_list_use (build, place, &given);
  if (rail != PM_NONE) {
    pm_list_set (cells, LINE, g_strdup (build->board->rails[rail].name));
    pm_list_set (cells, DIRECTION, g_strdup (_("supply")));
  } else if (line != PM_NONE) {
    pm_list_set (cells, LINE, g_strdup (host->lines[line].name));
    pm_list_set (cells, DIRECTION, g_strdup (direction (&host->lines[line])));
    if (host->lines[line].unit >= 0 || host->lines[line].drives == PM_LINE_DRIVES_NOTHING ||
        !g_str_equal (host->lines[line].does, "address"))
      pm_list_set (cells, REST, g_strdup (host->lines[line].asserted_low ? _("high") : _("low")));
  } else if (use != NULL) {
    pm_list_set (cells, LINE, g_strdup (use));
    pm_list_set (cells, DIRECTION, g_strdup (given ? _("to the machine") : _("from the machine")));
  }
}

static char *
neighbour_words (const PmInstance *instance, guint pin)
{
  g_autoptr (GArray) near = pm_pin_neighbours (instance->part, pin);
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint k = 0; k < near->len; k++)
    g_string_append_printf (text, "%s%s", k > 0 ? ", " : "",
                            instance->part->pins[g_array_index (near, guint32, k)].number);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* ---- the interposer */

static void
interposer_row (Pins *pins, const PmPinFact *pin)
{
  PmListBuild *build = pins->build;
  const PmBoard *board = build->board;
  const PmInstance *in = &board->instances[board->socket];
  const char *socket = in->ref, *plug = board->instances[board->plug].ref;
  guint32 line = build->side_line[pin->chip] != PM_NONE ? build->side_line[pin->chip] : build->side_line[pin->machine];
  gboolean cut = pin->fate == PM_PIN_CUT || pin->fate == PM_PIN_REROUTED;
  pins->counts[pin->fate]++;
  char **cells = pm_list_add_row (build, g_strdup_printf ("pin %s.%s", socket, pin->number));
  pm_list_set (cells, PIN, g_strdup (pin->number));
  tell_line (build, cells, pin->machine, line != PM_NONE || cut ? line : pm_list_line (build, pin->machine),
             cut ? PM_NONE : pm_list_rail (build, pin->machine));
  if (pin->line != NULL)
    pm_list_set (cells, LINE, g_strdup (pin->line));
  pm_list_set (cells, FATE, g_strdup (pm_pin_fate_words (pin->fate)));
  pm_list_set (cells, GOES_TO, goes_words (build, pin, !cut && pm_list_rail (build, pin->machine) != PM_NONE));
  pm_list_set (cells, BESIDE, neighbour_words (in, pin->chip - in->first_place));
  pm_list_set (cells, OPEN_TO, g_strdup (pin->open_to));
  g_autoptr (GString) note = g_string_new (NULL);
  if (cut && pin->chip_to != NULL)
    g_string_append_printf (note, "%s: %s", socket, pin->chip_to);
  if (cut && pin->machine_to != NULL)
    g_string_append_printf (note, "%s%s: %s", note->len > 0 ? "; " : "", plug, pin->machine_to);
  if (line != PM_NONE && board->host.lines[line].assumed)
    g_string_append_printf (note, "%s%s", note->len > 0 ? "; " : "", _("assumed"));
  pm_list_set (cells, NOTES, g_strdup (note->str));
}

static void
counts_note (Pins *pins)
{
  g_autoptr (GString) text = g_string_new (NULL);
  guint all = 0;
  for (guint f = 0; f < PM_N_PIN_FATES; f++) {
    all += pins->counts[f];
    if (pins->counts[f] > 0)
      g_string_append_printf (text, "%s%u %s", text->len > 0 ? ", " : "", pins->counts[f], pm_pin_fate_words (f));
  }
  pm_list_add_note (pins->build, g_strdup_printf (ngettext ("%u pin: %s.", "%u pins: %s.", all), all, text->str));
}

static void
interposer (Pins *pins)
{
  PmListBuild *build = pins->build;
  const PmBoard *board = build->board;
  const PmInstance *socket = &board->instances[board->socket], *plug = &board->instances[board->plug];
  build->about =
      g_strdup_printf (_("Seen from above, pin 1 at the mark. %s is the side of what was plugged in before, %s the "
                          "machine's side; the same number is the same pin."),
                       socket->ref, plug->ref);
  g_autoptr (PmPins) facts = pm_pins_new (build->check);
  for (guint pin = 0; facts != NULL && pin < facts->n_pins; pin++)
    interposer_row (pins, &facts->pins[pin]);
  counts_note (pins);
  if (pins->counts[PM_PIN_UNUSED] > 0)
    pm_list_add_note (build, g_strdup (_("Not used: by the files; carry these straight through too.")));
  pm_list_add_note (build, g_strdup (_("Must be open to: with the power off, the chips out of their sockets and the "
                                        "board out of the machine, above 1 MΩ in every setting.")));
}

/* ---- connectors, where there is no board */

static gboolean
is_plugged (const PmBoard *board, guint32 place)
{
  for (guint m = 0; m < board->n_matings; m++)
    for (guint k = 0; k < board->matings[m].n_pairs; k++)
      if (board->matings[m].pairs[k].a == place || board->matings[m].pairs[k].b == place)
        return TRUE;
  return FALSE;
}

/* "Inside 10, Outside 12": drives whose pins are on the same metal, with this number where it differs. */
static char *
drives_on (const PmListBuild *build, guint32 place, const char *number)
{
  const PmBoard *board = build->board;
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint d = 0; d < board->n_drives; d++) {
    const PmInstance *drive = &board->instances[board->drives[d].instance];
    for (guint k = 0; k < drive->part->n_pins; k++) {
      if (build->in_machine[drive->first_place + k] != build->in_machine[place] ||
          !g_ascii_isdigit (drive->part->pins[k].number[0]))
        continue;
      g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", pm_name_drive (board, d));
      if (!g_str_equal (drive->part->pins[k].number, number))
        g_string_append_printf (text, _(" (pin %s)"), drive->part->pins[k].number);
      break; /* one pin of each drive says it: ground has many */
    }
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
connector_row (Pins *pins, const PmInstance *connector, guint pin)
{
  PmListBuild *build = pins->build;
  guint32 place = connector->first_place + pin, rail = pm_list_rail (build, place);
  guint32 line = pm_list_line (build, place);
  const char *number = connector->part->pins[pin].number;
  g_autofree char *drives = drives_on (build, place, number);
  gboolean used = is_plugged (build->board, place) && drives[0] != '\0';
  PmPinFate fate = used ? PM_PIN_THROUGH : PM_PIN_UNUSED;
  pins->counts[fate]++;
  char **cells = pm_list_add_row (build, g_strdup_printf ("pin %s.%s", connector->ref, number));
  pm_list_set (cells, PIN, g_strdup (number));
  tell_line (build, cells, place, line, rail);
  pm_list_set (cells, FATE, g_strdup (pm_pin_fate_words (fate)));
  pm_list_set (cells, GOES_TO, rail == PM_NONE ? g_steal_pointer (&drives) : g_strdup (_("every drive")));
  pm_list_set (cells, BESIDE, neighbour_words (connector, pin));
  g_autoptr (GArray) near = pm_pin_neighbours (connector->part, pin);
  g_autoptr (GString) open = g_string_new (NULL);
  for (guint k = 0; k < near->len; k++) {
    guint32 other = g_array_index (near, guint32, k);
    if (build->in_machine[connector->first_place + other] != build->in_machine[place])
      g_string_append_printf (open, "%s%s", open->len > 0 ? ", " : "", connector->part->pins[other].number);
  }
  pm_list_set (cells, OPEN_TO, g_strdup (open->str));
}

static void
connectors (Pins *pins)
{
  PmListBuild *build = pins->build;
  const PmBoard *board = build->board;
  for (guint i = 0; i < board->n_instances; i++) {
    const PmInstance *connector = &board->instances[i];
    if (connector->owner != PM_OWNER_HOST || connector->part->type != PM_PART_CONNECTOR ||
        connector->part->n_pins < 2 || g_str_equal (connector->part->name, "rail") ||
        !is_plugged (board, connector->first_place))
      continue;
    g_autofree char *name = pm_name_capital (pm_name_instance (board, i));
    pm_list_add_line (build, PM_ROW_HEADING, g_strdup_printf ("connector %s", connector->ref), g_steal_pointer (&name));
    for (guint pin = 0; pin < connector->part->n_pins; pin++)
      connector_row (pins, connector, pin);
  }
  if (build->rows->len == 0) {
    pm_list_add_note (build, g_strdup (_("There is no board and no cable at a connector of the machine.")));
    return;
  }
  build->about = g_strdup (_("No board: the machine's connectors as the cables and drives meet them."));
  counts_note (pins);
  pm_list_add_note (build, g_strdup (_("Must be open to: on the cable alone, unplugged at both ends, above 1 MΩ.")));
}

void
pm_list_pins (PmListBuild *build)
{
  Pins pins = {.build = build};
  pm_list_add_column (build, "pin", _("Pin"), PM_CELLS_NUMBER);
  pm_list_add_column (build, "line", _("Line"), PM_CELLS_TEXT);
  pm_list_add_column (build, "what", _("What becomes of it"), PM_CELLS_TEXT);
  pm_list_add_column (build, "goes-to", _("Goes to"), PM_CELLS_TEXT);
  pm_list_add_column (build, "direction", _("Direction"), PM_CELLS_TEXT);
  pm_list_add_column (build, "at-rest", _("At rest"), PM_CELLS_TEXT);
  pm_list_add_column (build, "beside", _("Beside"), PM_CELLS_TEXT);
  pm_list_add_column (build, "open-to", _("Must be open to"), PM_CELLS_TEXT);
  pm_list_add_column (build, "notes", _("Notes"), PM_CELLS_TEXT);
  if (build->board->has_board && build->board->socket != PM_NONE && build->board->plug != PM_NONE)
    interposer (&pins);
  else
    connectors (&pins);
}
