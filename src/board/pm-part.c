/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Part files: pins, tables applied to pins, positions, resistors; with the sizes of parts that come in many. */
#include "config.h"
#include "pm-part.h"
#include "pm-library-private.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#define MAX_PINS 512

/* What the kind attribute can say, in the order of kind_types. */
static const char *const kind_names[] = { "logic",  "resistor", "network", "capacitor", "diode", "led", "connector",
                                          "socket", "pins",     "switch",  "jumper",    "chip",  NULL };
static const PmPartType kind_types[] = { PM_PART_LOGIC, PM_PART_RESISTOR, PM_PART_NETWORK,   PM_PART_CAPACITOR,
                                         PM_PART_DIODE, PM_PART_LED,      PM_PART_CONNECTOR, PM_PART_SOCKET,
                                         PM_PART_PINS,  PM_PART_SWITCH,   PM_PART_JUMPER,    PM_PART_CHIP };
static const char *const look_names[] = { "toggle", "slide", "rotary", "jumper", NULL };
static const char *const supply_names[] = { "VCC", "VDD", NULL };
static const char *const ground_names[] = { "GND", "VSS", "VEE", NULL };

/* A part while it is read. */
typedef struct {
  const PmXml *element;
  PmPart *part;
  GArray *pins;      /* PmPin */
  GArray *sections;  /* PmSection */
  GPtrArray *bits;   /* char*: "1q" for bit q of section 1 */
  GArray *positions; /* PmPartPosition */
  GArray *resistors; /* PmPair */
  PmFaults *faults;
} Reader;

char **
pm_split_words (const char *text)
{
  GPtrArray *words = g_ptr_array_new ();

  for (const char *at = text; at != NULL && *at != '\0';) {
    gsize n = strcspn (at, " \t\r\n,");
    if (n > 0)
      g_ptr_array_add (words, g_strndup (at, n));
    at += n;
    at += strspn (at, " \t\r\n,");
  }
  g_ptr_array_add (words, NULL);
  return (char **)g_ptr_array_free (words, FALSE);
}

static gboolean
all_digits (const char *word)
{
  return *word != '\0' && word[strspn (word, "0123456789")] == '\0';
}

static guint32
find_pin (const PmPin *pins, guint n, const char *name)
{
  for (guint i = 0; i < n; i++)
    if (strcmp (pins[i].number, name) == 0)
      return i;
  if (all_digits (name))
    return PM_NONE;
  /* A part may have many pins called NC: they go by their numbers alone. */
  for (guint i = 0; i < n; i++)
    if (pins[i].role != PM_PIN_NONE && strcmp (pins[i].name, name) == 0)
      return i;
  return PM_NONE;
}

guint32
pm_part_pin (const PmPart *part, const char *name)
{
  return find_pin (part->pins, part->n_pins, name);
}

static guint32
reader_pin (const Reader *reader, const char *name)
{
  return find_pin ((const PmPin *)reader->pins->data, reader->pins->len, name);
}

static PmPinRole
role_of_name (const char *name)
{
  if (g_strv_contains (supply_names, name))
    return PM_PIN_SUPPLY;
  if (g_strv_contains (ground_names, name))
    return PM_PIN_GROUND;
  return strcmp (name, "NC") == 0 ? PM_PIN_NONE : PM_PIN_PASSIVE;
}

static void
add_pin (Reader *reader, const char *name)
{
  PmPin pin = { g_strdup_printf ("%u", reader->pins->len + 1), g_strdup (name), role_of_name (name), 1 };
  g_array_append_val (reader->pins, pin);
}

/* "8x1k", "2x6": two numbers, or one and the rest. */
static gboolean
two_numbers (const char *text, guint *a, guint *b)
{
  char *end = NULL;
  guint64 first = text != NULL ? g_ascii_strtoull (text, &end, 10) : 0;

  if (text == NULL || end == text || (*end != 'x' && *end != 'X') || first == 0 || first > MAX_PINS)
    return FALSE;
  *a = first;
  if (b == NULL)
    return TRUE;
  const char *rest = end + 1;
  guint64 second = g_ascii_strtoull (rest, &end, 10);
  *b = second;
  return end != rest && *end == '\0' && second > 0 && second <= MAX_PINS;
}

static void
add_numbered (Reader *reader, guint n)
{
  for (guint i = 1; i <= n; i++) {
    g_autofree char *number = g_strdup_printf ("%u", i);
    add_pin (reader, number);
  }
}

/* Poles A B C D, throws A1 A2 …: each position joins every pole to its throw. */
static void
add_rotary (Reader *reader, guint poles, guint places)
{
  for (guint pole = 0; pole < poles; pole++)
    for (guint place = 0; place <= places; place++) {
      PmPin pin = { place == 0 ? g_strdup_printf ("%c", 'A' + pole) : g_strdup_printf ("%c%u", 'A' + pole, place), NULL,
                    PM_PIN_CONTACT, 1 };
      pin.name = g_strdup (pin.number);
      g_array_append_val (reader->pins, pin);
    }
  for (guint place = 1; place <= places; place++) {
    PmPartPosition position = { g_strdup_printf ("%u", place), NULL, g_new (PmPair, poles), poles };
    for (guint pole = 0; pole < poles; pole++)
      position.pairs[pole] = (PmPair){ pole * (places + 1), pole * (places + 1) + place };
    g_array_append_val (reader->positions, position);
  }
}

static void
add_network (Reader *reader, const char *argument)
{
  guint n = 0;
  gboolean isolated = strstr (argument, "isolated") != NULL;

  if (!two_numbers (argument, &n, NULL) || n > 32)
    return;
  add_numbered (reader, isolated ? 2 * n : n + 1);
  for (guint i = 0; i < n; i++) {
    PmPair pair = isolated ? (PmPair){ 2 * i, 2 * i + 1 } : (PmPair){ 0, i + 1 };
    g_array_append_val (reader->resistors, pair);
  }
}

gboolean
pm_part_check_argument (const PmXml *element, const char *is, const char *argument, PmSpot spot, PmFaults *faults)
{
  const PmXml *pins = pm_xml_child (element, "pins");
  const char *size = pins != NULL ? pm_xml_get (pins, "size") : NULL, *name = pm_xml_get (element, "name");
  guint a, b, most_a = 4, most_b = 40;
  guint64 count;

  if (size == NULL)
    return TRUE;
  if (g_str_equal (size, "count")) {
    const char *of = pm_xml_get (pins, "of");
    g_auto (GStrv) counts = pm_split_words (of);
    if (argument != NULL && g_ascii_string_to_unsigned (argument, 10, 1, MAX_PINS, &count, NULL) &&
        (of == NULL || g_strv_contains ((const char *const *)counts, argument)))
      return TRUE;
    g_autofree char *list = g_strjoinv (" ", counts);
    pm_faults_add (faults, spot, _("\"%s\": %s comes with %s pins. Write for example %s-%s"), is, name, list, name,
                   counts[0] != NULL ? counts[0] : "8");
    return FALSE;
  }
  if (g_str_equal (size, "network")) {
    if (two_numbers (argument, &a, NULL) && a <= 32)
      return TRUE;
    pm_faults_add (faults, spot,
                   _("\"%s\": a network needs how many and which: network 8x1k, or network 4x1k isolated."), is);
    return FALSE;
  }
  two_numbers (pm_xml_get (pins, "most"), &most_a, &most_b);
  if (two_numbers (argument, &a, &b) && a <= most_a && b <= most_b && a <= 26 && a * b <= MAX_PINS)
    return TRUE;
  pm_faults_add (faults, spot, _("\"%s\": %s needs its size, %s, at most %ux%u. Write for example %s 1x3."), is, name,
                 size, most_a, most_b, name);
  return FALSE;
}

/* A word of <pins>: a name, or a range of numbers. */
static void
add_pin_word (Reader *reader, const char *word)
{
  const char *dots = strstr (word, "..");
  guint low, high;

  if (dots != NULL && sscanf (word, "%u..%u", &low, &high) == 2 && low <= high && high <= MAX_PINS)
    for (guint i = low; i <= high; i++) {
      g_autofree char *number = g_strdup_printf ("%u", i);
      add_pin (reader, number);
    }
  else
    add_pin (reader, word);
}

static void
read_pins (Reader *reader, const PmPartSize *size)
{
  const PmXml *pins = pm_xml_child (reader->element, "pins");
  const char *sized = pins != NULL ? pm_xml_get (pins, "size") : NULL;
  const char *argument = size != NULL ? size->argument : NULL;
  guint a, b;

  if (pins == NULL) {
    pm_faults_add (reader->faults, pm_xml_spot (reader->element),
                   _("part \"%s\" has no <pins>. List its pins in order, pin 1 first."), reader->part->name);
    return;
  }
  if (sized != NULL && argument != NULL) {
    if (g_str_equal (sized, "network"))
      add_network (reader, argument);
    else if (g_str_equal (sized, "count"))
      add_numbered (reader, MIN (atoi (argument), MAX_PINS));
    else if (two_numbers (argument, &a, &b) && g_str_has_prefix (sized, "poles"))
      add_rotary (reader, a, b);
    else if (two_numbers (argument, &a, &b)) {
      add_numbered (reader, a * b);
      reader->part->rows = a;
    }
    return;
  }
  g_auto (GStrv) words = pm_split_words (pins->text);
  for (guint i = 0; words[i] != NULL && reader->pins->len < MAX_PINS; i++)
    add_pin_word (reader, words[i]);
  if (reader->pins->len == 0 && sized == NULL)
    pm_faults_add (reader->faults, pm_xml_spot (pins), _("part \"%s\" has no pins. List them in order, pin 1 first."),
                   reader->part->name);
}

static char *
pin_names (const Reader *reader)
{
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < reader->pins->len; i++)
    g_string_append_printf (names, "%s%s", i > 0 ? " " : "", g_array_index (reader->pins, PmPin, i).name);
  return g_string_free (names, FALSE);
}

static void
no_pin (Reader *reader, PmSpot spot, const char *name)
{
  g_autofree char *names = pin_names (reader);

  pm_faults_add (reader->faults, spot, _("part \"%s\" has no pin \"%s\". It has %s."), reader->part->name, name,
                 names);
}

/* "2-1 5-4": pairs of pins; "1-2-3" joins all three. */
static PmPair *
read_pairs (Reader *reader, const char *text, PmSpot spot, guint *n)
{
  GArray *pairs = g_array_new (FALSE, FALSE, sizeof (PmPair));
  g_auto (GStrv) words = pm_split_words (text);

  for (guint i = 0; words[i] != NULL; i++) {
    g_auto (GStrv) names = g_strsplit (words[i], "-", -1);
    guint32 last = PM_NONE;
    if (g_strv_length (names) < 2) {
      pm_faults_add (reader->faults, spot, _("\"%s\": write pairs of pins, such as 2-1."), words[i]);
      continue;
    }
    for (guint k = 0; names[k] != NULL; k++) {
      guint32 pin = reader_pin (reader, names[k]);
      if (pin == PM_NONE)
        no_pin (reader, spot, names[k]);
      else if (last != PM_NONE) {
        PmPair pair = { last, pin };
        g_array_append_val (pairs, pair);
      }
      last = pin;
    }
  }
  *n = pairs->len;
  return (PmPair *)g_array_free (pairs, FALSE);
}

static void
read_positions (Reader *reader)
{
  for (const PmXml *child = reader->element->children; child != NULL; child = child->next) {
    const char *name = pm_xml_get (child, "name");
    if (!pm_xml_is (child, "position"))
      continue;
    if (name == NULL) {
      pm_faults_add (reader->faults, pm_xml_spot (child), _("a position needs a name. Add name=\"…\"."));
      continue;
    }
    PmPartPosition position = { g_strdup (name), g_strdup (pm_xml_get (child, "title")), NULL, 0 };
    position.pairs = read_pairs (reader, pm_xml_get (child, "closes"), pm_xml_spot (child), &position.n_pairs);
    g_array_append_val (reader->positions, position);
  }
  for (guint i = 0; i < reader->positions->len; i++) {
    const PmPartPosition *position = &g_array_index (reader->positions, PmPartPosition, i);
    for (guint k = 0; k < position->n_pairs; k++) {
      g_array_index (reader->pins, PmPin, position->pairs[k].a).role = PM_PIN_CONTACT;
      g_array_index (reader->pins, PmPin, position->pairs[k].b).role = PM_PIN_CONTACT;
    }
  }
}

/* Which pin a column of a table means in one section: see the brief words in the part reference. */
static guint32
column_pin (Reader *reader, const char *section, const PmXml *mapping, const char *column)
{
  g_auto (GStrv) words = mapping != NULL ? pm_split_words (pm_xml_get (mapping, "pins")) : NULL;
  gsize n = strlen (column);
  g_autofree char *name = NULL;
  guint32 pin = PM_NONE;

  for (guint i = 0; words != NULL && words[i] != NULL; i++)
    if (strncmp (words[i], column, n) == 0 && words[i][n] == '=')
      return reader_pin (reader, words[i] + n + 1);
  if (*section != '\0') {
    name = g_strconcat (section, column, NULL);
    pin = reader_pin (reader, name);
    if (pin == PM_NONE && *column == '/') {
      g_free (name);
      name = g_strconcat ("/", section, column + 1, NULL);
      pin = reader_pin (reader, name);
    }
  }
  return pin != PM_NONE ? pin : reader_pin (reader, column);
}

static guint32
section_bit (Reader *reader, const char *section, const char *bit)
{
  g_autofree char *name = g_strconcat (section, bit, NULL);

  for (guint i = 0; i < reader->bits->len; i++)
    if (g_str_equal (g_ptr_array_index (reader->bits, i), name))
      return i;
  g_ptr_array_add (reader->bits, g_steal_pointer (&name));
  return reader->bits->len - 1;
}

static void
no_column (Reader *reader, const PmXml *table, const char *section, const char *column)
{
  g_autofree char *names = pin_names (reader);
  PmSpot spot = { table->file, table->text_line, 0 };

  if (*section == '\0')
    pm_faults_add (reader->faults, spot, _("the table's column \"%s\" is no pin of part \"%s\". It has %s."), column,
                   reader->part->name, names);
  else
    pm_faults_add (reader->faults, spot,
                   _("the table's column \"%s\" is no pin of part \"%s\" in section %s. It has %s."), column,
                   reader->part->name, section, names);
}

/* "Z-Y0": the dash that has a pin on either side. */
static gboolean
join_pins (Reader *reader, const char *section, const PmXml *mapping, const char *column, guint32 *p, guint32 *q)
{
  for (const char *dash = strchr (column, '-'); dash != NULL; dash = strchr (dash + 1, '-')) {
    g_autofree char *left = g_strndup (column, dash - column);
    *p = column_pin (reader, section, mapping, left);
    *q = column_pin (reader, section, mapping, dash + 1);
    if (*p != PM_NONE && *q != PM_NONE)
      return TRUE;
  }
  return FALSE;
}

static void
set_role (Reader *reader, guint32 pin, PmPinRole role)
{
  PmPin *at = &g_array_index (reader->pins, PmPin, pin);

  if (at->role == PM_PIN_PASSIVE || at->role == PM_PIN_NONE || (at->role == PM_PIN_INPUT && role != PM_PIN_INPUT))
    at->role = role;
}

static void
add_section (Reader *reader, const PmXml *element, PmTable *table, const char *name, const PmXml *mapping,
             const char *const *bit_names)
{
  guint n_inputs = pm_table_n_inputs (table), n_outputs = pm_table_n_outputs (table);
  PmSection section = { g_strdup (name), pm_table_ref (table), g_new (guint32, n_inputs + 1),
                        g_new (guint32, n_outputs + 1), g_new (guint32, n_outputs + 1) };

  memset (section.outputs, 0xff, sizeof (guint32) * (n_outputs + 1));
  memset (section.others, 0xff, sizeof (guint32) * (n_outputs + 1));
  for (guint i = 0; i < n_inputs; i++) {
    const char *column = pm_table_input (table, i);
    if (bit_names != NULL && g_strv_contains (bit_names, column)) {
      section.inputs[i] = PM_BIT (section_bit (reader, name, column));
      continue;
    }
    section.inputs[i] = column_pin (reader, name, mapping, column);
    if (section.inputs[i] == PM_NONE)
      no_column (reader, element, name, column);
    else
      set_role (reader, section.inputs[i], PM_PIN_INPUT);
  }
  for (guint i = 0; i < n_outputs; i++) {
    const char *column = pm_table_output (table, i);
    switch (pm_table_kind (table, i)) {
    case PM_COLUMN_BIT:
      section.outputs[i] = section_bit (reader, name, column);
      continue;
    case PM_COLUMN_JOIN:
      if (!join_pins (reader, name, mapping, column, &section.outputs[i], &section.others[i])) {
        no_column (reader, element, name, column);
        continue;
      }
      set_role (reader, section.outputs[i], PM_PIN_CONTACT);
      set_role (reader, section.others[i], PM_PIN_CONTACT);
      continue;
    case PM_COLUMN_PIN:
    default:
      section.outputs[i] = column_pin (reader, name, mapping, column);
      if (section.outputs[i] == PM_NONE)
        no_column (reader, element, name, column);
      else
        set_role (reader, section.outputs[i], PM_PIN_OUTPUT);
    }
  }
  g_array_append_val (reader->sections, section);
}

/* File line of the n-th line of a text that is not empty, from 0. */
static guint
line_of_row (const PmXml *element, guint row)
{
  guint line = element->text_line, met = 0;
  gboolean filled = FALSE;

  for (const char *at = element->text; *at != '\0'; at++)
    if (*at == '\n') {
      if (filled && met++ == row)
        return line;
      filled = FALSE;
      line++;
    } else {
      filled = filled || !g_ascii_isspace (*at);
    }
  return line;
}

static void
read_table (Reader *reader, const PmXml *element, const char *const *bit_names)
{
  g_autoptr (GPtrArray) table_faults = g_ptr_array_new_with_free_func ((GDestroyNotify)pm_table_fault_free);
  g_autoptr (PmTable) table = pm_table_parse (element->text, bit_names, table_faults);
  guint before = pm_faults_found (reader->faults);
  gboolean named = FALSE;

  for (guint i = 0; i < table_faults->len; i++) {
    const PmTableFault *fault = g_ptr_array_index (table_faults, i);
    pm_faults_add (reader->faults, (PmSpot){ element->file, line_of_row (element, fault->row), 0 }, "%s",
                   fault->message);
  }
  if (table == NULL)
    return;
  for (const PmXml *child = element->children; child != NULL; child = child->next) {
    const char *name = pm_xml_get (child, "name");
    if (!pm_xml_is (child, "section"))
      continue;
    named = TRUE;
    if (pm_faults_found (reader->faults) == before)
      add_section (reader, element, table, name != NULL ? name : "", child, bit_names);
  }
  g_auto (GStrv) sections = pm_split_words (pm_xml_get (element, "sections"));
  for (guint i = 0; sections[i] != NULL; i++) {
    named = TRUE;
    if (pm_faults_found (reader->faults) == before)
      add_section (reader, element, table, sections[i], NULL, bit_names);
  }
  if (!named)
    add_section (reader, element, table, "", NULL, bit_names);
}

static void
read_tables (Reader *reader)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (const PmXml *child = reader->element->children; child != NULL; child = child->next)
    if (pm_xml_is (child, "bit") && pm_xml_get (child, "name") != NULL)
      g_ptr_array_add (names, (gpointer)pm_xml_get (child, "name"));
  gboolean has_bits = names->len > 0;
  g_ptr_array_add (names, NULL);
  for (const PmXml *child = reader->element->children; child != NULL; child = child->next)
    if (pm_xml_is (child, "table"))
      read_table (reader, child, has_bits ? (const char *const *)names->pdata : NULL);
}

/* <supply>, <ground>, <loads>, <resistor>: what is said of single pins. */
static void
read_pin_facts (Reader *reader, const PmPartSize *size)
{
  for (const PmXml *child = reader->element->children; child != NULL; child = child->next) {
    const char *between = pm_xml_get (child, "between"), *family = pm_xml_get (child, "family");
    gboolean loads = pm_xml_is (child, "loads");
    PmPinRole role = pm_xml_is (child, "supply")   ? PM_PIN_SUPPLY
                     : pm_xml_is (child, "ground") ? PM_PIN_GROUND
                                                   : PM_PIN_PASSIVE;
    if (pm_xml_is (child, "resistor") && between != NULL) {
      guint n;
      g_autofree PmPair *pairs = read_pairs (reader, between, pm_xml_spot (child), &n);
      g_array_append_vals (reader->resistors, pairs, n);
    }
    if (!loads && role == PM_PIN_PASSIVE)
      continue;
    guint number = 1;
    pm_xml_number (child, "number", 1, 1000, &number, reader->faults);
    g_auto (GStrv) families = pm_split_words (family);
    if (loads && family != NULL &&
        (size == NULL || size->family == NULL || !g_strv_contains ((const char *const *)families, size->family)))
      continue;
    g_auto (GStrv) pins = pm_split_words (pm_xml_get (child, loads ? "pins" : "pin"));
    for (guint i = 0; pins[i] != NULL; i++) {
      guint32 pin = reader_pin (reader, pins[i]);
      if (pin == PM_NONE)
        no_pin (reader, pm_xml_spot (child), pins[i]);
      else if (loads)
        g_array_index (reader->pins, PmPin, pin).loads = number;
      else
        g_array_index (reader->pins, PmPin, pin).role = role;
    }
  }
}

/* What may follow the name of a part that comes in many sizes. */
static char *
sizes_text (const PmXml *pins)
{
  const char *size = pins != NULL ? pm_xml_get (pins, "size") : NULL,
             *most = pins != NULL ? pm_xml_get (pins, "most") : NULL;

  if (size == NULL || g_str_equal (size, "network"))
    return size != NULL ? g_strdup (_("how many and which: 8x1k, or 4x1k isolated.")) : NULL;
  if (!g_str_equal (size, "count"))
    return most != NULL ? g_strdup_printf (_("%s, at most %s"), size, most) : g_strdup (size);
  g_auto (GStrv) counts = pm_split_words (pm_xml_get (pins, "of"));
  GString *text = g_string_new (NULL);
  for (guint i = 0; counts[i] != NULL; i++)
    g_string_append_printf (text, "%s-%s", i > 0 ? " " : "", counts[i]);
  return g_string_free (text, FALSE);
}

static void
read_head (Reader *reader, const PmPartSize *size)
{
  const PmXml *element = reader->element;
  PmPart *part = reader->part;
  const char *families = pm_xml_get (element, "families");
  gboolean tables = pm_xml_child (element, "table") != NULL;

  part->title = g_strdup (pm_xml_get (element, "title"));
  part->letters = g_strdup (pm_xml_get (element, "letters"));
  part->package = g_strdup (pm_xml_get (element, "package"));
  part->contacts = g_strdup (pm_xml_get (element, "contacts"));
  part->source = pm_xml_dup_text_of (element, "source");
  part->note = pm_xml_dup_text_of (element, "note");
  part->sizes = sizes_text (pm_xml_child (element, "pins"));
  part->keyed = pm_xml_yes (element, "keyed", FALSE);
  pm_xml_number (element, "rows", 1, 4, &part->rows, reader->faults);
  part->type = kind_types[pm_xml_choice (element, "kind", kind_names, tables ? 0 : 11, reader->faults)];
  part->look = pm_xml_choice (element, "look", look_names,
                              part->type == PM_PART_JUMPER ? PM_LOOK_JUMPER : PM_LOOK_TOGGLE, reader->faults);
  part->families = families != NULL ? pm_split_words (families) : NULL;
  part->spot = pm_xml_spot (element);
}

PmPart *
pm_part_read (const PmXml *element, const PmPartSize *size, PmFaults *faults)
{
  const char *name = pm_xml_get (element, "name");
  guint before = pm_faults_found (faults);
  Reader reader = { element, NULL, NULL, NULL, NULL, NULL, NULL, faults };

  if (name == NULL) {
    pm_faults_add (faults, pm_xml_spot (element), _("the part has no name. Add name=\"…\"."));
    return NULL;
  }
  PmPart *part = reader.part = g_new0 (PmPart, 1);
  reader.pins = g_array_new (FALSE, FALSE, sizeof (PmPin));
  reader.sections = g_array_new (FALSE, FALSE, sizeof (PmSection));
  reader.bits = g_ptr_array_new ();
  reader.positions = g_array_new (FALSE, FALSE, sizeof (PmPartPosition));
  reader.resistors = g_array_new (FALSE, FALSE, sizeof (PmPair));
  part->name = g_intern_string (name);
  read_head (&reader, size);
  read_pins (&reader, size);
  read_pin_facts (&reader, size);
  read_tables (&reader);
  read_positions (&reader);

  part->n_pins = reader.pins->len;
  part->pins = (PmPin *)g_array_free (reader.pins, FALSE);
  part->n_sections = reader.sections->len;
  part->sections = (PmSection *)g_array_free (reader.sections, FALSE);
  part->n_positions = reader.positions->len;
  part->positions = (PmPartPosition *)g_array_free (reader.positions, FALSE);
  part->n_resistors = reader.resistors->len;
  part->resistors = (PmPair *)g_array_free (reader.resistors, FALSE);
  gboolean has_bits = reader.bits->len > 0;
  g_ptr_array_add (reader.bits, NULL);
  part->bits = (char **)g_ptr_array_free (reader.bits, !has_bits);
  if (!has_bits)
    part->bits = NULL;
  if (part->n_resistors == 0 && part->type == PM_PART_RESISTOR && part->n_pins == 2) {
    part->resistors = g_renew (PmPair, part->resistors, 1);
    part->resistors[part->n_resistors++] = (PmPair){ 0, 1 };
  }
  if (pm_faults_found (faults) == before)
    return part;
  pm_part_free (part);
  return NULL;
}

void
pm_part_free (PmPart *part)
{
  if (part == NULL)
    return;
  for (guint i = 0; i < part->n_pins; i++) {
    g_free (part->pins[i].number);
    g_free (part->pins[i].name);
  }
  for (guint i = 0; i < part->n_sections; i++) {
    g_free (part->sections[i].name);
    g_clear_pointer (&part->sections[i].table, pm_table_unref);
    g_free (part->sections[i].inputs);
    g_free (part->sections[i].outputs);
    g_free (part->sections[i].others);
  }
  for (guint i = 0; i < part->n_positions; i++) {
    g_free (part->positions[i].name);
    g_free (part->positions[i].title);
    g_free (part->positions[i].pairs);
  }
  g_free (part->pins);
  g_free (part->sections);
  g_free (part->positions);
  g_free (part->resistors);
  g_strfreev (part->bits);
  g_strfreev (part->families);
  g_free (part->title);
  g_free (part->letters);
  g_free (part->package);
  g_free (part->contacts);
  g_free (part->source);
  g_free (part->note);
  g_free (part->sizes);
  g_free (part);
}
