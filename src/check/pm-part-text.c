/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A part or a family as a page of plain text. */
#include "config.h"
#include "pm-part-text.h"
#include "pm-report.h"
#include "pm-text-table.h"
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define LABEL_WIDTH 10

/* In the order of PmPartType; several types under one heading. */
static const char *const headings[PM_N_PART_KINDS] = {
  [PM_PART_LOGIC] = N_("Logic"),
  [PM_PART_RESISTOR] = N_("Resistors, capacitors, diodes"), [PM_PART_NETWORK] = N_("Resistors, capacitors, diodes"),
  [PM_PART_CAPACITOR] = N_("Resistors, capacitors, diodes"), [PM_PART_DIODE] = N_("Resistors, capacitors, diodes"),
  [PM_PART_LED] = N_("Resistors, capacitors, diodes"),
  [PM_PART_CONNECTOR] = N_("Connectors"),
  [PM_PART_SOCKET] = N_("Sockets and pins of chips"), [PM_PART_PINS] = N_("Sockets and pins of chips"),
  [PM_PART_SWITCH] = N_("Switches and jumpers"), [PM_PART_JUMPER] = N_("Switches and jumpers"),
  [PM_PART_CHIP] = N_("Chips of machines"), [PM_PART_CABLE] = N_("Cables"), [PM_PART_DRIVE] = N_("Drives"),
};

char *
pm_part_text_type (const char *function, const char *family)
{
  if (g_str_equal (family, "std") || g_str_equal (family, "4000B"))
    return g_strdup (function);
  return g_strdup_printf ("74%s%s", family, g_str_has_prefix (function, "74") ? function + 2 : function);
}

/* ---- rows */

static void
row (GString *out, const char *label, const char *text, guint width)
{
  if (text == NULL || text[0] == '\0')
    return;
  guint indent = MAX (LABEL_WIDTH, pm_text_columns (label) + 2);
  g_autofree char *wrapped = pm_report_wrap (text, indent, width);
  pm_text_pad (out, label, indent);
  g_string_append_printf (out, "%s\n", wrapped);
}

static void
head (GString *out, const char *text)
{
  g_string_append_printf (out, "\n%s\n", text);
}

static gboolean
is_read (const PmPart *part, guint32 pin)
{
  for (guint s = 0; s < part->n_sections; s++)
    for (guint i = 0; i < pm_table_n_inputs (part->sections[s].table); i++)
      if (part->sections[s].inputs[i] == pin)
        return TRUE;
  return FALSE;
}

/* The two-way pins of a transceiver are listed with the inputs and with the outputs. */
static char *
pins_of_role (const PmPart *part, PmPinRole role)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < part->n_pins; i++)
    if (part->pins[i].role == role ||
        (role == PM_PIN_INPUT && part->pins[i].role == PM_PIN_OUTPUT && is_read (part, i)))
      g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", part->pins[i].name);
  return g_string_free (text, FALSE);
}

/* ---- pins */

static gboolean
is_dip (const PmPart *part)
{
  return part->n_pins >= 4 && part->n_pins % 2 == 0 &&
         ((part->package != NULL && g_str_has_prefix (part->package, "DIP")) || part->type == PM_PART_SOCKET ||
          part->type == PM_PART_PINS);
}

static const char *
name_beside (const PmPin *pin)
{
  return g_str_equal (pin->name, pin->number) ? "" : pin->name;
}

/* From above, notch up: 1 at the upper left, the numbers run down and up again at the right. */
static void
append_dip (GString *out, const PmPart *part)
{
  guint half = part->n_pins / 2, left = 0;
  for (guint i = 0; i < half; i++)
    left = MAX (left, pm_text_columns (name_beside (&part->pins[i])));
  head (out, _("Pins, seen from above"));
  g_string_append_printf (out, "  %*s  +--\\_/--+\n", (int) left + 4, "");
  for (guint i = 0; i < half; i++) {
    const PmPin *a = &part->pins[i], *b = &part->pins[part->n_pins - 1 - i];
    g_autoptr (GString) line = g_string_new ("  ");
    for (guint n = pm_text_columns (name_beside (a)); n < left; n++)
      g_string_append_c (line, ' ');
    g_string_append_printf (line, "%s  %2s  |       |  %2s  %s", name_beside (a), a->number, b->number,
                            name_beside (b));
    g_string_append_printf (out, "%s\n", g_strchomp (line->str));
  }
  g_string_append_printf (out, "  %*s  +-------+\n", (int) left + 4, "");
}

static void
append_pin_list (GString *out, const PmPart *part, guint width)
{
  g_autoptr (GString) names = g_string_new (NULL);
  for (guint i = 0; i < part->n_pins; i++) {
    const PmPin *pin = &part->pins[i];
    gboolean named = !g_str_equal (pin->name, pin->number);
    g_string_append_printf (names, "%s%s%s%s",
                            i == 0  ? ""
                            : named ? ", "
                                    : " ",
                            pin->number, named ? " " : "", named ? pin->name : "");
  }
  row (out, _("Pins"), names->str, width);
  if (part->rows == 2)
    row (out, _("Rows"),
         part->keyed ? _("two, with a key") : _("two: odd numbers in one, even numbers in the other"), width);
}

static void
append_roles (GString *out, const PmPart *part, guint width)
{
  static const struct { PmPinRole role; const char *label; } roles[] = {
    {PM_PIN_INPUT, N_("Inputs")}, {PM_PIN_OUTPUT, N_("Outputs")}, {PM_PIN_CONTACT, N_("Contacts")},
    {PM_PIN_SUPPLY, N_("Supply")}, {PM_PIN_GROUND, N_("Ground")}};
  for (guint i = 0; i < G_N_ELEMENTS (roles); i++) {
    g_autofree char *pins = pins_of_role (part, roles[i].role);
    row (out, _(roles[i].label), pins, width);
  }
}

static char *
pair_words (const PmPart *part, const PmPair *pairs, guint n)
{
  GString *text = g_string_new (NULL);
  for (guint k = 0; k < n; k++)
    g_string_append_printf (text, "%s%s-%s", k > 0 ? " " : "", part->pins[pairs[k].a].name,
                            part->pins[pairs[k].b].name);
  return g_string_free (text, FALSE);
}

static void
append_contacts (GString *out, const PmPart *part, guint width)
{
  if (part->n_resistors > 0) {
    g_autofree char *pairs = pair_words (part, part->resistors, part->n_resistors);
    row (out, _("Between"), pairs, width);
  }
  if (part->n_positions == 0)
    return;
  g_autoptr (PmTextTable) table = pm_text_table_new (2);
  pm_text_table_add (table, _("position"));
  pm_text_table_add (table, _("joins"));
  for (guint i = 0; i < part->n_positions; i++) {
    const PmPartPosition *position = &part->positions[i];
    pm_text_table_add (table, position->title != NULL ? position->title : position->name);
    pm_text_table_take (table, position->n_pairs > 0 ? pair_words (part, position->pairs, position->n_pairs)
                                                     : g_strdup (_("nothing")));
  }
  head (out, _("Positions, in the order in which the lever passes them"));
  pm_text_table_append (table, out, 2, 2, width);
  if (part->type != PM_PART_SWITCH)
    return;
  const char *contacts = g_strcmp0 (part->contacts, "break-first") == 0 ? _("break before they make")
                         : g_strcmp0 (part->contacts, "make-first") == 0
                             ? _("make before they break")
                             : _("not known whether they break or make first: both are tried");
  row (out, _("Contacts"), contacts, width);
}

/* ---- tables */

/* The tables of a section, in order; a part may set its stored bit in one and read it in another. */
static guint
tables_of (const PmPart *part, const char *section, const PmSection **out, guint most)
{
  guint n = 0;
  for (guint i = 0; i < part->n_sections && n < most; i++)
    if (g_str_equal (part->sections[i].name, section))
      out[n++] = &part->sections[i];
  return n;
}

static gboolean
same_tables (const PmPart *part, const char *a, const char *b)
{
  const PmSection *of_a[4], *of_b[4];
  guint n = tables_of (part, a, of_a, 4);
  if (n != tables_of (part, b, of_b, 4))
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (of_a[i]->table != of_b[i]->table)
      return FALSE;
  return TRUE;
}

GPtrArray *
pm_part_text_alike (const PmPart *part, const char *first)
{
  GPtrArray *names = g_ptr_array_new ();
  for (guint i = 0; i < part->n_sections; i++) {
    const char *name = part->sections[i].name;
    if (!g_ptr_array_find_with_equal_func (names, name, g_str_equal, NULL) && same_tables (part, first, name))
      g_ptr_array_add (names, (gpointer) name);
  }
  return names;
}

/* A colon stands before the first output, as in the file. */
static const char *
join_with (guint k)
{
  return k == 0 ? ": " : "";
}

static void
append_printed_table (GString *out, const PmTable *table, guint width)
{
  guint n_in = pm_table_n_inputs (table), n_out = pm_table_n_outputs (table), n = n_in + n_out;
  g_autoptr (PmTextTable) text = pm_text_table_new (n);
  for (guint k = 0; k < n_in; k++)
    pm_text_table_add (text, pm_table_input (table, k));
  for (guint k = 0; k < n_out; k++)
    pm_text_table_take (text, g_strconcat (join_with (k), pm_table_output (table, k), NULL));
  for (guint r = 0; r < pm_table_n_rows (table); r++)
    for (guint k = 0; k < n; k++)
      pm_text_table_take (text, g_strconcat (k >= n_in ? join_with (k - n_in) : "", pm_table_cell (table, r, k), NULL));
  pm_text_table_append (text, out, 2, n_in, width);
}

/* Which pin a column means in a section: "1A", "1Z-1Y0", "its own q". */
static char *
column_pin (const PmPart *part, const PmSection *section, guint column)
{
  guint n_in = pm_table_n_inputs (section->table);
  if (column < n_in)
    return PM_IS_BIT (section->inputs[column]) ? g_strdup (_("its own"))
                                               : g_strdup (part->pins[section->inputs[column]].name);
  guint k = column - n_in;
  switch (pm_table_kind (section->table, k)) {
  case PM_COLUMN_BIT: return g_strdup (_("its own"));
  case PM_COLUMN_JOIN:
    return g_strdup_printf ("%s-%s", part->pins[section->outputs[k]].name, part->pins[section->others[k]].name);
  case PM_COLUMN_PIN:
  default: return g_strdup (part->pins[section->outputs[k]].name);
  }
}

static const char *
column_name (const PmTable *table, guint column)
{
  guint n_in = pm_table_n_inputs (table);
  return column < n_in ? pm_table_input (table, column) : pm_table_output (table, column - n_in);
}

/* A row for each section that uses the table: which pin each column is. Nothing where columns are named after their
 * pins. */
static void
append_mapping (GString *out, const PmPart *part, const PmTable *table, guint width)
{
  guint n = pm_table_n_inputs (table) + pm_table_n_outputs (table), n_sections = 0;
  g_autoptr (PmTextTable) text = pm_text_table_new (n + 1);
  gboolean plain = TRUE;
  pm_text_table_add (text, _("section"));
  for (guint k = 0; k < n; k++)
    pm_text_table_add (text, column_name (table, k));
  for (guint i = 0; i < part->n_sections; i++) {
    const PmSection *section = &part->sections[i];
    if (section->table != table)
      continue;
    pm_text_table_add (text, section->name);
    n_sections++;
    for (guint k = 0; k < n; k++) {
      g_autofree char *pin = column_pin (part, section, k);
      plain = plain && g_str_equal (pin, column_name (table, k));
      pm_text_table_take (text, g_steal_pointer (&pin));
    }
  }
  if (plain && n_sections == 1)
    return;
  g_string_append_c (out, '\n');
  pm_text_table_append (text, out, 2, 1, width);
}

/* What the letters of the tables mean, those that occur. */
static void
append_legend (GString *out, const PmPart *part, guint width)
{
  static const struct { const char *cell, *meaning;
  } legend[] = {{"H", N_("H high")},
                {"L", N_("L low")},
                {"X", N_("X either")},
                {"Z", N_("Z off")},
                {"rise", N_("rise from low to high")},
                {"fall", N_("fall from high to low")},
                {"hold", N_("hold stays as it was")},
                {"toggle", N_("toggle turns over")},
                {"unstable", N_("unstable only while it lasts")},
                {"joined", N_("joined by a closed contact")}};
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint l = 0; l < G_N_ELEMENTS (legend); l++) {
    gboolean met = FALSE;
    for (guint i = 0; i < part->n_sections && !met; i++) {
      const PmTable *table = part->sections[i].table;
      guint n = pm_table_n_inputs (table) + pm_table_n_outputs (table);
      for (guint c = 0; c < pm_table_n_rows (table) * n && !met; c++)
        met = g_str_equal (pm_table_cell (table, c / n, c % n), legend[l].cell);
    }
    if (met)
      g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", _(legend[l].meaning));
  }
  g_autofree char *wrapped = pm_report_wrap (text->str, 2, width);
  if (text->len > 0)
    g_string_append_printf (out, "\n  %s\n", wrapped);
}

static void
append_tables (GString *out, const PmPart *part, guint width)
{
  for (guint i = 0; i < part->n_sections; i++) {
    const PmTable *table = part->sections[i].table;
    gboolean before = FALSE, sets = FALSE, reads = FALSE;
    for (guint k = 0; k < i && !before; k++)
      before = part->sections[k].table == table;
    if (before)
      continue;
    for (guint k = 0; k < pm_table_n_outputs (table); k++)
      sets = sets || pm_table_kind (table, k) == PM_COLUMN_BIT;
    for (guint k = 0; k < pm_table_n_inputs (table); k++)
      reads = reads || PM_IS_BIT (part->sections[i].inputs[k]);
    head (out, sets    ? _("Function table: what it remembers")
               : reads ? _("Function table: what it shows")
                       : _("Function table"));
    append_printed_table (out, table, width);
    append_mapping (out, part, table, width);
  }
  if (part->n_sections > 0)
    append_legend (out, part, width);
}

/* ---- levels */

/* Volts stay volts, as data books print them. */
static char *
quantity (double value, PmQuantityUnit unit)
{
  if (isnan (value))
    return g_strdup (_("not given"));
  g_autofree char *plain = pm_quantity_format (value, PM_UNIT_NONE);
  return unit == PM_UNIT_VOLT ? g_strdup_printf ("%s V", plain) : pm_quantity_format (value, unit);
}

static char *
supply_text (const PmFamily *family)
{
  g_autofree char *low = quantity (family->supply_low, PM_UNIT_VOLT),
                  *high = quantity (family->supply_high, PM_UNIT_VOLT);
  return g_strdup_printf (_("%s to %s"), low, high);
}

static const char *
open_text (const PmFamily *family)
{
  return family->bipolar ? _("reads high (bipolar)") : _("reads anything (CMOS)");
}

static const char *
unpowered_text (const PmFamily *family)
{
  return family->unpowered == PM_UNPOWERED_CLAMPS ? _("its pins are held low through its clamps")
                                                  : _("its pins are off");
}

static void
append_levels (GString *out, const PmFamily *family, guint width)
{
  const struct { const char *letters; double value; PmQuantityUnit unit; const char *meaning; } limits[] = {
    {"VIL", family->receiver.vil, PM_UNIT_VOLT, N_("an input is sure to read this or less as low")},
    {"VIH", family->receiver.vih, PM_UNIT_VOLT, N_("an input is sure to read this or more as high")},
    {"VOL", family->vol, PM_UNIT_VOLT, N_("a low output is at this or less")},
    {"VOH", family->voh, PM_UNIT_VOLT, N_("a high output is at this or more")},
    {"IIL", family->receiver.iil, PM_UNIT_AMPERE, N_("comes out of an input at a low, at most")},
    {"IIH", family->receiver.iih, PM_UNIT_AMPERE, N_("goes into an input at a high, at most")},
    {"IOL", family->iol, PM_UNIT_AMPERE, N_("a low output sinks this and keeps VOL")},
    {"IOH", family->ioh, PM_UNIT_AMPERE, N_("a high output gives this and keeps VOH")}};
  g_autofree char *title = g_strdup_printf (_("Levels: family %s, %s"), family->name, family->title),
                  *supply = supply_text (family);
  g_autoptr (PmTextTable) table = pm_text_table_new (3);
  head (out, title);
  for (guint i = 0; i < G_N_ELEMENTS (limits); i++) {
    pm_text_table_add (table, limits[i].letters);
    pm_text_table_take (table, quantity (limits[i].value, limits[i].unit));
    pm_text_table_add (table, _(limits[i].meaning));
  }
  pm_text_table_append (table, out, 2, 3, width);
  g_autofree char *text = g_strdup_printf (_("Supply %s. An open input %s. Without power %s."), supply,
                                           open_text (family), unpowered_text (family));
  g_autofree char *wrapped = pm_report_wrap (text, 2, width);
  g_string_append_printf (out, "  %s\n", wrapped);
}

static void
take_number (PmTextTable *table, double value, double scale, const char *none)
{
  if (isnan (value)) {
    pm_text_table_add (table, none);
    return;
  }
  g_autofree char *text = pm_quantity_format (round (value * scale * 1e6) / 1e6, PM_UNIT_NONE);
  pm_text_table_add (table, text);
}

static void
append_levels_of_all (GString *out, const GPtrArray *families, guint width)
{
  static const char *const heads[] = {"", "VIL", "VIH", "VOL", "VOH", "IIL", "IIH", "IOL", "IOH"};
  g_autoptr (PmTextTable) table = pm_text_table_new (11);
  for (guint i = 0; i < G_N_ELEMENTS (heads); i++)
    pm_text_table_add (table, heads[i]);
  pm_text_table_add (table, _("open"));
  pm_text_table_add (table, _("unpowered"));
  for (guint i = 0; i < families->len; i++) {
    const PmFamily *f = g_ptr_array_index (families, i);
    const double volts[] = {f->receiver.vil, f->receiver.vih, f->vol, f->voh},
                 amperes[] = {f->receiver.iil, f->receiver.iih, f->iol, f->ioh};
    pm_text_table_add (table, f->name);
    for (guint k = 0; k < 4; k++)
      take_number (table, volts[k], 1, "-");
    for (guint k = 0; k < 4; k++)
      take_number (table, amperes[k], 1e3, "-");
    pm_text_table_add (table, f->bipolar ? _("high") : _("either"));
    pm_text_table_add (table, f->unpowered == PM_UNPOWERED_CLAMPS ? _("held low") : _("off"));
  }
  head (out, _("Levels in volts, currents in milliamperes (explained: pointsman-cli parts LS)"));
  pm_text_table_append (table, out, 2, 1, width);
}

/* ---- loads */

static char *
load_words (const PmPart *part)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < part->n_pins; i++)
    if (part->pins[i].loads > 1)
      g_string_append_printf (text, _("%s%s counts %u"), text->len > 0 ? ", " : "", part->pins[i].name,
                              part->pins[i].loads);
  return g_string_free (text, FALSE);
}

/* ---- pages */

static void
append_title (GString *out, const char *is, const PmPart *part, const PmFamily *family, guint width)
{
  g_string_append_printf (out, "%s: %s", is, part->title);
  if (family != NULL)
    g_string_append_printf (out, _(", family %s"), family->name);
  g_string_append_c (out, '\n');
  g_autofree char *families = part->families != NULL ? g_strjoinv (" ", part->families) : NULL;
  g_autofree char *letters =
      part->letters != NULL ? g_strdup_printf (_("%s, as in %s1"), part->letters, part->letters) : NULL;
  row (out, _("Letters"), letters, width);
  row (out, _("Package"), part->package, width);
  row (out, _("Sizes"), part->sizes, width);
  row (out, _("Made in"), families, width);
}

static void
append_sources (GString *out, const PmPart *part, const PmFamily *family, guint width)
{
  g_string_append_c (out, '\n');
  row (out, _("Note"), part->note, width);
  row (out, _("Source"), part->source != NULL ? part->source : _("none"), width);
  if (family != NULL) {
    g_autofree char *label = g_strdup_printf ("%s", family->name);
    row (out, label, family->source, width);
  }
}

static void
append_body (GString *out, const PmPart *part, guint width)
{
  if (is_dip (part))
    append_dip (out, part);
  else if (part->n_pins > 0)
    append_pin_list (out, part, width);
  if (is_dip (part))
    append_roles (out, part, width);
  append_contacts (out, part, width);
  append_tables (out, part, width);
}

/* A part file by its own name: levels of every family it is made in. */
static char *
text_of_function (PmLibrary *library, const PmPart *function, guint width, PmFaults *faults)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autoptr (GPtrArray) families = g_ptr_array_new ();
  g_autoptr (GString) loads = g_string_new (NULL);
  for (guint i = 0; function->families != NULL && function->families[i] != NULL; i++) {
    g_autofree char *type = pm_part_text_type (function->name, function->families[i]);
    const PmFamily *family = NULL;
    const PmPart *part = pm_library_part (library, NULL, type, &family, NULL, (PmSpot) {0}, faults);
    if (part == NULL || family == NULL)
      return NULL;
    g_ptr_array_add (families, (gpointer) family);
    g_autofree char *words = load_words (part);
    if (words[0] != '\0')
      g_string_append_printf (loads, "%s%s: %s", loads->len > 0 ? "; " : "", family->name, words);
  }
  append_title (out, function->name, function, NULL, width);
  append_body (out, function, width);
  if (families->len > 0)
    append_levels_of_all (out, families, width);
  row (out, _("Loads"), loads->str, width);
  append_sources (out, function, NULL, width);
  return g_string_free (g_steal_pointer (&out), FALSE);
}

static gboolean
is_listed (PmLibrary *library, const char *ending, const char *name)
{
  g_auto (GStrv) names = pm_library_list (library, ending);
  return g_strv_contains ((const char *const *) names, name);
}

char *
pm_part_text_part (PmLibrary *library, const char *is, guint width, PmFaults *faults)
{
  const PmFamily *family = NULL;
  double value = NAN;
  if (is_listed (library, "part", is)) {
    const PmPart *function = pm_library_function (library, NULL, is, (PmSpot) {0}, faults);
    return function != NULL ? text_of_function (library, function, width, faults) : NULL;
  }
  const PmPart *part = pm_library_part (library, NULL, is, &family, &value, (PmSpot) {0}, faults);
  if (part == NULL)
    return NULL;
  g_autoptr (GString) out = g_string_new (NULL);
  g_autofree char *loads = load_words (part);
  append_title (out, is, part, family, width);
  if (!isnan (value)) {
    g_autofree char *text = pm_quantity_format (value, part->type == PM_PART_CAPACITOR ? PM_UNIT_FARAD : PM_UNIT_OHM);
    row (out, _("Value"), text, width);
  }
  append_body (out, part, width);
  if (family != NULL)
    append_levels (out, family, width);
  if (loads[0] != '\0')
    g_string_append_printf (out, _("  Input loads: %s.\n"), loads);
  append_sources (out, part, family, width);
  return g_string_free (g_steal_pointer (&out), FALSE);
}

char *
pm_part_text_family (PmLibrary *library, const char *name, guint width, PmFaults *faults)
{
  const PmFamily *family = pm_library_family (library, NULL, name, (PmSpot) {0}, faults);
  if (family == NULL)
    return NULL;
  g_autoptr (GString) out = g_string_new (NULL), made = g_string_new (NULL);
  g_auto (GStrv) names = pm_library_list (library, "part");
  for (guint i = 0; names[i] != NULL; i++) {
    const PmPart *part = pm_library_function (library, NULL, names[i], (PmSpot) {0}, faults);
    if (part == NULL || part->families == NULL || !g_strv_contains ((const char *const *) part->families, name))
      continue;
    g_autofree char *type = pm_part_text_type (part->name, name);
    g_string_append_printf (made, "%s%s", made->len > 0 ? " " : "", type);
  }
  g_string_append_printf (out, _("%s: %s, a logic family\n"), family->name, family->title);
  append_levels (out, family, width);
  g_string_append_c (out, '\n');
  row (out, _("Parts"), made->len > 0 ? made->str : _("none in the library"), width);
  row (out, _("Source"), family->source != NULL ? family->source : _("none"), width);
  return g_string_free (g_steal_pointer (&out), FALSE);
}

/* ---- the list */

static void
list_heading (GString *out, const GPtrArray *parts, const char *heading, guint width)
{
  g_autoptr (PmTextTable) table = pm_text_table_new (2);
  gboolean any = FALSE;
  for (guint i = 0; i < parts->len; i++) {
    const PmPart *part = g_ptr_array_index (parts, i);
    if (!g_str_equal (headings[part->type], heading))
      continue;
    pm_text_table_add (table, part->name);
    pm_text_table_take (table, part->sizes != NULL ? g_strdup_printf (_("%s, in many sizes"), part->title)
                                                   : g_strdup (part->title));
    any = TRUE;
  }
  if (!any)
    return;
  g_string_append_printf (out, "%s%s\n", out->len > 0 ? "\n" : "", _(heading));
  pm_text_table_append (table, out, 2, 2, width);
}

static void
list_families (GString *out, PmLibrary *library, guint width, PmFaults *faults)
{
  g_auto (GStrv) names = pm_library_list (library, "family");
  g_autoptr (PmTextTable) table = pm_text_table_new (2);
  g_string_append_printf (out, "\n%s\n", _("Families"));
  for (guint i = 0; names[i] != NULL; i++) {
    const PmFamily *family = pm_library_family (library, NULL, names[i], (PmSpot) {0}, faults);
    if (family == NULL)
      continue;
    pm_text_table_add (table, family->name);
    pm_text_table_add (table, family->title);
  }
  pm_text_table_append (table, out, 2, 2, width);
}

char *
pm_part_text_list (PmLibrary *library, guint width, PmFaults *faults)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autoptr (GPtrArray) parts = g_ptr_array_new ();
  g_auto (GStrv) names = pm_library_list (library, "part");
  for (guint i = 0; names[i] != NULL; i++) {
    const PmPart *part = pm_library_function (library, NULL, names[i], (PmSpot) {0}, faults);
    if (part != NULL)
      g_ptr_array_add (parts, (gpointer) part);
  }
  if (names[0] == NULL) {
    g_autofree char *looked = NULL, *path = pm_library_find (library, NULL, "7400", "part", &looked);
    pm_faults_add (faults, (PmSpot) {0}, _("no parts are here. Looked in: %s"), looked != NULL ? looked : path);
    return NULL;
  }
  for (guint type = 0; type < PM_N_PART_KINDS; type++)
    if (type == 0 || !g_str_equal (headings[type], headings[type - 1]))
      list_heading (out, parts, headings[type], width);
  list_families (out, library, width, faults);
  g_string_append_printf (out, "\n%s\n",
                          _("One in full: pointsman-cli parts 74LS157, or a family: pointsman-cli parts LS"));
  return g_string_free (g_steal_pointer (&out), FALSE);
}
