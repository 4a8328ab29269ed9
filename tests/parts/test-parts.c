/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every part file: that it reads, in every family it is made in and every size it comes in, and that its pins,
 * contacts and resistors are where the sources named beside the values have them. */
#include "parts-test.h"
#include <math.h>
#include <string.h>

/* Pins 1 to n, compared with published logic-test vectors (969 output values); beside that: 7400 TI SDFS035A, Nexperia
 * 74HC00 Rev 7 table 2; 7406 TI SDLS031A; 7474 Motorola 5-72; 74125 Motorola 5-207; 74157 NXP 74HC_HCT157 Rev 7 table
 * 2; 4053 NXP 74HC_HCT4053 Rev 8 p. 5; 3257 from memory.  Not among the vectors: 7401 a published pin list; 7410, 7411
 * Philips IC06 December 1990; 7414 TI SDLS049C; 7420 TI SDAS192B; 7421 NXP 74HC21 Rev 6 table 2; 7427 TI SDAS112B; 7430
 * TI SDFS043A; 7451 Motorola MC74HC51; 74107 Motorola SN74LS107A; 74109 TI SCHS326A; 74132 from memory; 74175 Motorola
 * MC74HC175A; 74258 TI SDAS124C; 74273 TI SDLS090. */
static const struct { const char *name, *pins; } pin_rows[] = {
  { "7400", "1A 1B 1Y 2A 2B 2Y GND 3Y 3A 3B 4Y 4A 4B VCC" },
  { "7401", "1Y 1A 1B 2Y 2A 2B GND 3A 3B 3Y 4A 4B 4Y VCC" },
  { "7402", "1Y 1A 1B 2Y 2A 2B GND 3A 3B 3Y 4A 4B 4Y VCC" },
  { "7403", "1A 1B 1Y 2A 2B 2Y GND 3Y 3A 3B 4Y 4A 4B VCC" },
  { "7404", "1A 1Y 2A 2Y 3A 3Y GND 4Y 4A 5Y 5A 6Y 6A VCC" },
  { "7405", "1A 1Y 2A 2Y 3A 3Y GND 4Y 4A 5Y 5A 6Y 6A VCC" },
  { "7406", "1A 1Y 2A 2Y 3A 3Y GND 4Y 4A 5Y 5A 6Y 6A VCC" },
  { "7407", "1A 1Y 2A 2Y 3A 3Y GND 4Y 4A 5Y 5A 6Y 6A VCC" },
  { "7408", "1A 1B 1Y 2A 2B 2Y GND 3Y 3A 3B 4Y 4A 4B VCC" },
  { "7410", "1A 1B 2A 2B 2C 2Y GND 3Y 3A 3B 3C 1Y 1C VCC" },
  { "7411", "1A 1B 2A 2B 2C 2Y GND 3Y 3A 3B 3C 1Y 1C VCC" },
  { "7414", "1A 1Y 2A 2Y 3A 3Y GND 4Y 4A 5Y 5A 6Y 6A VCC" },
  { "7420", "1A 1B NC 1C 1D 1Y GND 2Y 2A 2B NC 2C 2D VCC" },
  { "7421", "1A 1B NC 1C 1D 1Y GND 2Y 2A 2B NC 2C 2D VCC" },
  { "7427", "1A 1B 2A 2B 2C 2Y GND 3Y 3A 3B 3C 1Y 1C VCC" },
  { "7430", "A B C D E F GND Y NC NC G H NC VCC" },
  { "7432", "1A 1B 1Y 2A 2B 2Y GND 3Y 3A 3B 4Y 4A 4B VCC" },
  { "7438", "1A 1B 1Y 2A 2B 2Y GND 3Y 3A 3B 4Y 4A 4B VCC" },
  { "7451", "1A 2A 2B 2C 2D 2Y GND 1Y 1D 1E 1F 1B 1C VCC" },
  { "7474", "1/CLR 1D 1CLK 1/PRE 1Q 1/Q GND 2/Q 2Q 2/PRE 2CLK 2D 2/CLR VCC" },
  { "7486", "1A 1B 1Y 2A 2B 2Y GND 3Y 3A 3B 4Y 4A 4B VCC" },
  { "74107", "1J 1/Q 1Q 1K 2Q 2/Q GND 2J 2CLK 2/CLR 2K 1CLK 1/CLR VCC" },
  { "74109", "1/CLR 1J 1/K 1CLK 1/PRE 1Q 1/Q GND 2/Q 2Q 2/PRE 2CLK 2/K 2J 2/CLR VCC" },
  { "74125", "1/OE 1A 1Y 2/OE 2A 2Y GND 3Y 3A 3/OE 4Y 4A 4/OE VCC" },
  { "74126", "1OE 1A 1Y 2OE 2A 2Y GND 3Y 3A 3OE 4Y 4A 4OE VCC" },
  { "74132", "1A 1B 1Y 2A 2B 2Y GND 3Y 3A 3B 4Y 4A 4B VCC" },
  { "74138", "A B C /G2A /G2B G1 Y7 GND Y6 Y5 Y4 Y3 Y2 Y1 Y0 VCC" },
  { "74139", "1/G 1A 1B 1Y0 1Y1 1Y2 1Y3 GND 2Y3 2Y2 2Y1 2Y0 2B 2A 2/G VCC" },
  { "74151", "D3 D2 D1 D0 Y W /G GND C B A D7 D6 D5 D4 VCC" },
  { "74153", "1/G B 1C3 1C2 1C1 1C0 1Y GND 2Y 2C0 2C1 2C2 2C3 A 2/G VCC" },
  { "74157", "S 1A 1B 1Y 2A 2B 2Y GND 3Y 3B 3A 4Y 4B 4A /G VCC" },
  { "74158", "S 1A 1B 1Y 2A 2B 2Y GND 3Y 3B 3A 4Y 4B 4A /G VCC" },
  { "74175", "/CLR 1Q 1/Q 1D 2D 2/Q 2Q GND CLK 3Q 3/Q 3D 4D 4/Q 4Q VCC" },
  { "74240", "1/OE 1A1 2Y4 1A2 2Y3 1A3 2Y2 1A4 2Y1 GND 2A1 1Y4 2A2 1Y3 2A3 1Y2 2A4 1Y1 2/OE VCC" },
  { "74244", "1/OE 1A1 2Y4 1A2 2Y3 1A3 2Y2 1A4 2Y1 GND 2A1 1Y4 2A2 1Y3 2A3 1Y2 2A4 1Y1 2/OE VCC" },
  { "74245", "DIR A1 A2 A3 A4 A5 A6 A7 A8 GND B8 B7 B6 B5 B4 B3 B2 B1 /OE VCC" },
  { "74251", "D3 D2 D1 D0 Y W /G GND C B A D7 D6 D5 D4 VCC" },
  { "74257", "S 1A 1B 1Y 2A 2B 2Y GND 3Y 3B 3A 4Y 4B 4A /G VCC" },
  { "74258", "S 1A 1B 1Y 2A 2B 2Y GND 3Y 3B 3A 4Y 4B 4A /G VCC" },
  { "74266", "1A 1B 1Y 2Y 2A 2B GND 3A 3B 3Y 4Y 4A 4B VCC" },
  { "74273", "/CLR 1Q 1D 2D 2Q 3Q 3D 4D 4Q GND CLK 5Q 5D 6D 6Q 7Q 7D 8D 8Q VCC" },
  { "74373", "/OE 1Q 1D 2D 2Q 3Q 3D 4D 4Q GND LE 5Q 5D 6D 6Q 7Q 7D 8D 8Q VCC" },
  { "74374", "/OE 1Q 1D 2D 2Q 3Q 3D 4D 4Q GND CLK 5Q 5D 6D 6Q 7Q 7D 8D 8Q VCC" },
  { "4053", "2Y1 2Y0 3Y1 3Z 3Y0 E VEE VSS S3 S2 S1 1Y0 1Y1 1Z 2Z VDD" },
  { "4066", "1Y 1Z 2Z 2Y 2E 3E GND 3Y 3Z 4Z 4Y 4E 1E VDD" },
  { "3257", "S 1B1 1B2 1A 2B1 2B2 2A GND 3A 3B2 3B1 4A 4B2 4B1 /OE VCC" },
};

/* Parts that are no chips: every size, how many pins, what kind.  Sizes: common practice, no source. */
static const struct { const char *is; guint n_pins; PmPartType type; gboolean keyed; guint rows; } sizes[] = {
  { "socket-dip-8", 8, PM_PART_SOCKET, FALSE, 0 },   { "socket-dip-14", 14, PM_PART_SOCKET, FALSE, 0 },
  { "socket-dip-16", 16, PM_PART_SOCKET, FALSE, 0 }, { "socket-dip-18", 18, PM_PART_SOCKET, FALSE, 0 },
  { "socket-dip-20", 20, PM_PART_SOCKET, FALSE, 0 }, { "socket-dip-22", 22, PM_PART_SOCKET, FALSE, 0 },
  { "socket-dip-24", 24, PM_PART_SOCKET, FALSE, 0 }, { "socket-dip-28", 28, PM_PART_SOCKET, FALSE, 0 },
  { "socket-dip-40", 40, PM_PART_SOCKET, FALSE, 0 }, { "dip-pins-8", 8, PM_PART_PINS, FALSE, 0 },
  { "dip-pins-14", 14, PM_PART_PINS, FALSE, 0 },     { "dip-pins-16", 16, PM_PART_PINS, FALSE, 0 },
  { "dip-pins-18", 18, PM_PART_PINS, FALSE, 0 },     { "dip-pins-20", 20, PM_PART_PINS, FALSE, 0 },
  { "dip-pins-22", 22, PM_PART_PINS, FALSE, 0 },     { "dip-pins-24", 24, PM_PART_PINS, FALSE, 0 },
  { "dip-pins-28", 28, PM_PART_PINS, FALSE, 0 },     { "dip-pins-40", 40, PM_PART_PINS, FALSE, 0 },
  { "box-header-10", 10, PM_PART_CONNECTOR, TRUE, 2 }, { "box-header-34", 34, PM_PART_CONNECTOR, TRUE, 2 },
  { "box-header-60", 60, PM_PART_CONNECTOR, TRUE, 2 }, { "card-edge-34", 34, PM_PART_CONNECTOR, TRUE, 2 },
  { "card-edge-50", 50, PM_PART_CONNECTOR, TRUE, 2 },  { "d-type-9", 9, PM_PART_CONNECTOR, TRUE, 2 },
  { "d-type-15", 15, PM_PART_CONNECTOR, TRUE, 2 },     { "d-type-23", 23, PM_PART_CONNECTOR, TRUE, 2 },
  { "d-type-25", 25, PM_PART_CONNECTOR, TRUE, 2 },     { "d-type-37", 37, PM_PART_CONNECTOR, TRUE, 2 },
  { "header 1x2", 2, PM_PART_CONNECTOR, FALSE, 1 },    { "header 1x3", 3, PM_PART_CONNECTOR, FALSE, 1 },
  { "header 2x17", 34, PM_PART_CONNECTOR, FALSE, 2 },  { "header 2x40", 80, PM_PART_CONNECTOR, FALSE, 2 },
  { "drive-power-large", 4, PM_PART_CONNECTOR, TRUE, 1 }, { "drive-power-small", 4, PM_PART_CONNECTOR, TRUE, 1 },
  { "port-chip-40", 40, PM_PART_CHIP, FALSE, 0 },
};

/* Contacts: what every position joins, as the trade numbers the lugs (common practice, no source). */
static const struct { const char *is; PmPartType type; const char *positions; } switches[] = {
  { "toggle-spst", PM_PART_SWITCH, "off: on:1-2" },
  { "toggle-spdt", PM_PART_SWITCH, "1:2-1 2:2-3" },
  { "toggle-spdt-middle", PM_PART_SWITCH, "1:2-1 middle: 2:2-3" },
  { "toggle-dpdt", PM_PART_SWITCH, "1:2-1,5-4 2:2-3,5-6" },
  { "toggle-dpdt-middle", PM_PART_SWITCH, "1:2-1,5-4 middle: 2:2-3,5-6" },
  { "toggle-3pdt", PM_PART_SWITCH, "1:2-1,5-4,8-7 2:2-3,5-6,8-9" },
  { "toggle-3pdt-middle", PM_PART_SWITCH, "1:2-1,5-4,8-7 middle: 2:2-3,5-6,8-9" },
  { "slide-spdt", PM_PART_SWITCH, "1:2-1 2:2-3" },
  { "slide-dpdt", PM_PART_SWITCH, "1:2-1,5-4 2:2-3,5-6" },
  { "jumper", PM_PART_JUMPER, "off: on:1-2" },
  { "jumper-3-way", PM_PART_JUMPER, "1:2-1 off: 2:2-3" },
  { "rotary 1x2", PM_PART_SWITCH, "1:A-A1 2:A-A2" },
  { "rotary 2x3", PM_PART_SWITCH, "1:A-A1,B-B1 2:A-A2,B-B2 3:A-A3,B-B3" },
  { "rotary 1x6", PM_PART_SWITCH, "1:A-A1 2:A-A2 3:A-A3 4:A-A4 5:A-A5 6:A-A6" },
};

/* Reads is and looks at what every part must have. */
static const PmPart *
whole_part (const char *is)
{
  const PmPart *part = parts_test_part (is, NULL);

  g_test_message ("%s: %u pins", is, part->n_pins);
  g_assert_cmpuint (part->n_pins, >=, 2);
  g_assert_nonnull (part->title);
  g_assert_nonnull (part->letters);
  g_assert_true (part->source != NULL && *part->source != '\0');
  for (guint i = 0; i < part->n_pins; i++) {
    g_assert_nonnull (part->pins[i].number);
    g_assert_cmpuint (pm_part_pin (part, part->pins[i].name), ==, part->pins[i].role == PM_PIN_NONE ? PM_NONE : i);
    g_assert_cmpuint (pm_part_pin (part, part->pins[i].number), ==, i);
  }
  return part;
}

/* Every family that a chip is made in, by the type as it is printed on the chip. */
static void
read_in_families (const char *name, const PmPart *part)
{
  g_assert_nonnull (part->families);
  for (guint i = 0; part->families[i]; i++) {
    const char *family_name = part->families[i];
    const PmFamily *family = NULL;
    g_autofree char *is = NULL;

    if (!strcmp (family_name, "std") || !strcmp (family_name, "4000B"))
      is = g_strdup (name);
    else
      is = g_strconcat ("74", family_name, g_str_has_prefix (name, "74") ? name + 2 : name, NULL);
    part = parts_test_part (is, &family);
    g_assert_nonnull (family);
    g_assert_cmpstr (family->name, ==, family_name);
    g_assert_cmpint (part->type, ==, PM_PART_LOGIC);
  }
}

/* A type of the function in a family it is made in. */
static char *
chip_type (const char *name)
{
  static const char *const not_std[] = { "7451",  "74107", "74138", "74139", "74158", "74240", "74244", "74245",
                                         "74257", "74258", "74266", "74373", "74374", NULL };

  if (!strcmp (name, "3257"))
    return g_strdup ("74CBT3257");
  return g_strv_contains (not_std, name) ? g_strconcat ("74LS", name + 2, NULL) : g_strdup (name);
}

/* One case a file: the smallest size of a mechanical part, all families of a chip. */
static void
test_file (gconstpointer data)
{
  static const struct { const char *name, *is; } samples[] = {
    { "resistor", "resistor 4k7" }, { "capacitor", "capacitor 100n" }, { "network", "network 8x1k" },
    { "header", "header 1x3" },     { "rotary", "rotary 1x2" },        { "socket-dip", "socket-dip-8" },
    { "dip-pins", "dip-pins-8" },   { "box-header", "box-header-10" }, { "card-edge", "card-edge-20" },
    { "d-type", "d-type-9" },
  };
  const char *name = data;

  if (g_ascii_isdigit (name[0])) {
    g_autofree char *is = chip_type (name);
    read_in_families (name, whole_part (is));
    return;
  }
  for (guint i = 0; i < G_N_ELEMENTS (samples); i++)
    if (!strcmp (samples[i].name, name)) {
      whole_part (samples[i].is);
      return;
    }
  whole_part (name);
}

static void
test_pins (void)
{
  for (guint r = 0; r < G_N_ELEMENTS (pin_rows); r++) {
    g_autofree char *is = chip_type (pin_rows[r].name);
    g_auto (GStrv) names = g_strsplit (pin_rows[r].pins, " ", -1);
    const PmPart *part = whole_part (is);

    g_test_message ("%s", is);
    g_assert_cmpstr (part->name, ==, pin_rows[r].name);
    g_assert_cmpuint (part->n_pins, ==, g_strv_length (names));
    for (guint i = 0; i < part->n_pins; i++) {
      g_autofree char *number = g_strdup_printf ("%u", i + 1);
      g_assert_cmpstr (part->pins[i].number, ==, number);
      g_assert_cmpstr (part->pins[i].name, ==, names[i]);
    }
  }
}

/* What a pin is for follows from its name in a data book: supplies as above, Y and Q give, contacts of the switches,
 * W the other output of a selector, the two sides of a transceiver give in turn; the rest read. */
static PmPinRole
role_of (const char *part, const char *pin)
{
  gboolean bilateral = !strcmp (part, "4053") || !strcmp (part, "4066") || !strcmp (part, "3257");

  if (!strcmp (pin, "VCC") || !strcmp (pin, "VDD"))
    return PM_PIN_SUPPLY;
  if (!strcmp (pin, "GND") || !strcmp (pin, "VSS") || !strcmp (pin, "VEE"))
    return PM_PIN_GROUND;
  if (!strcmp (pin, "NC"))
    return PM_PIN_NONE;
  if (bilateral && g_ascii_isdigit (pin[0]) && strchr ("YZAB", pin[1]))
    return PM_PIN_CONTACT;
  if (!bilateral && (strpbrk (pin, "YQW") || (!strcmp (part, "74245") && strpbrk (pin, "AB"))))
    return PM_PIN_OUTPUT;
  return PM_PIN_INPUT;
}

static void
test_roles (void)
{
  for (guint r = 0; r < G_N_ELEMENTS (pin_rows); r++) {
    g_autofree char *is = chip_type (pin_rows[r].name);
    const PmPart *part = parts_test_part (is, NULL);

    for (guint i = 0; i < part->n_pins; i++) {
      g_test_message ("%s %s", is, part->pins[i].name);
      g_assert_cmpint (part->pins[i].role, ==, role_of (pin_rows[r].name, part->pins[i].name));
    }
  }
}

static void
test_sizes (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++) {
    const PmPart *part = whole_part (sizes[i].is);

    g_assert_cmpuint (part->n_pins, ==, sizes[i].n_pins);
    g_assert_cmpint (part->type, ==, sizes[i].type);
    g_assert_cmpint (part->keyed, ==, sizes[i].keyed);
    if (sizes[i].rows > 0)
      g_assert_cmpuint (part->rows, ==, sizes[i].rows);
    for (guint k = 0; k < part->n_pins; k++) {
      g_autofree char *number = g_strdup_printf ("%u", k + 1);
      g_assert_cmpstr (part->pins[k].number, ==, number);
    }
  }
}

/* The pairs that a position joins, as "2-1,5-4". */
static char *
pairs_text (const PmPart *part, const PmPartPosition *position)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < position->n_pairs; i++)
    g_string_append_printf (text, "%s%s-%s", i > 0 ? "," : "", part->pins[position->pairs[i].a].name,
                            part->pins[position->pairs[i].b].name);
  return g_string_free (text, FALSE);
}

static void
test_switches (void)
{
  for (guint r = 0; r < G_N_ELEMENTS (switches); r++) {
    const PmPart *part = whole_part (switches[r].is);
    g_autoptr (GString) text = g_string_new (NULL);

    for (guint i = 0; i < part->n_positions; i++) {
      g_autofree char *pairs = pairs_text (part, &part->positions[i]);
      g_string_append_printf (text, "%s%s:%s", i > 0 ? " " : "", part->positions[i].name, pairs);
    }
    g_assert_cmpstr (text->str, ==, switches[r].positions);
    g_assert_cmpint (part->type, ==, switches[r].type);
    /* No source says of any of them that it breaks first. */
    g_assert_null (part->contacts);
  }
}

/* Poles by positions up to 4 by 6: one common a pole, one throw a pole and position. */
static void
test_rotary_sizes (void)
{
  for (guint poles = 1; poles <= 4; poles++)
    for (guint places = 2; places <= 6; places++) {
      g_autofree char *is = g_strdup_printf ("rotary %ux%u", poles, places);
      const PmPart *part = whole_part (is);

      g_assert_cmpuint (part->n_pins, ==, poles * (places + 1));
      g_assert_cmpuint (part->n_positions, ==, places);
      for (guint i = 0; i < places; i++)
        g_assert_cmpuint (part->positions[i].n_pairs, ==, poles);
    }
}

/* Between which pins a resistor or network has its resistors, as "1-2 1-3". */
static void
assert_resistors (const char *is, guint n_pins, double ohms, const char *wanted)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autoptr (GString) text = g_string_new (NULL);
  double value = 0;
  const PmPart *part =
    pm_library_part (parts_test_library (), NULL, is, NULL, &value, (PmSpot){ "test", 1, 0 }, faults);

  g_assert_nonnull (part);
  g_assert_cmpuint (part->n_pins, ==, n_pins);
  g_assert_cmpfloat_with_epsilon (value, ohms, ohms * 1e-9);
  for (guint i = 0; i < part->n_resistors; i++)
    g_string_append_printf (text, "%s%s-%s", i > 0 ? " " : "", part->pins[part->resistors[i].a].number,
                            part->pins[part->resistors[i].b].number);
  g_assert_cmpstr (text->str, ==, wanted);
}

static void
test_values (void)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  double farads = 0;

  assert_resistors ("resistor 10k", 2, 10e3, "1-2");
  assert_resistors ("resistor 4k7", 2, 4700, "1-2");
  assert_resistors ("network 8x1k", 9, 1000, "1-2 1-3 1-4 1-5 1-6 1-7 1-8 1-9");
  assert_resistors ("network 7x150", 8, 150, "1-2 1-3 1-4 1-5 1-6 1-7 1-8");
  assert_resistors ("network 4x1k isolated", 8, 1000, "1-2 3-4 5-6 7-8");
  g_assert_nonnull (pm_library_part (parts_test_library (), NULL, "capacitor 100n", NULL, &farads,
                                     (PmSpot){ "test", 1, 0 }, faults));
  g_assert_cmpfloat_with_epsilon (farads, 100e-9, 1e-16);
}

/* Names as printed on chips lead to the function and the family. */
static void
test_types (void)
{
  static const struct { const char *is, *part, *family; } rows[] = {
    { "74157", "74157", "std" },       { "74HCT157", "74157", "HCT" },   { "SN74LS157N", "74157", "LS" },
    { "DM74LS00N", "7400", "LS" },     { "SN7406N", "7406", "std" },     { "MM74HCT00N", "7400", "HCT" },
    { "CD74HC4053E", "4053", "HC" },   { "CD4053BE", "4053", "4000B" },  { "CD4066B", "4066", "4000B" },
    { "4053", "4053", "4000B" },       { "HEF4053BP", "4053", "4000B" }, { "SN74CBT3257", "3257", "CBT" },
    { "74F138", "74138", "F" },        { "74ALS00AN", "7400", "ALS" },   { "74ACT157", "74157", "ACT" },
    { "74AC257", "74257", "AC" },      { "74S157", "74157", "S" },
    { "DM74LS374N", "74374", "LS" },   { "74HCT245", "74245", "HCT" },   { "SN74LS14N", "7414", "LS" },
    { "SN74LS107AN", "74107", "LS" },  { "SN74109N", "74109", "std" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    const PmFamily *family = NULL;
    const PmPart *part = parts_test_part (rows[i].is, &family);

    g_assert_nonnull (family);
    g_assert_cmpstr (part->name, ==, rows[i].part);
    g_assert_cmpstr (family->name, ==, rows[i].family);
  }
}

/* Pins without a connection have no name to join them by, only their numbers. */
static void
test_not_connected (void)
{
  static const struct { const char *part, *pins; } rows[] = {
    { "7420", "3 11" }, { "7421", "3 11" }, { "7430", "9 10 13" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    const PmPart *part = parts_test_part (rows[i].part, NULL);
    g_auto (GStrv) numbers = g_strsplit (rows[i].pins, " ", -1);
    guint none = 0;
    g_assert_cmpuint (pm_part_pin (part, "NC"), ==, PM_NONE);
    for (guint k = 0; k < part->n_pins; k++)
      none += part->pins[k].role == PM_PIN_NONE;
    g_assert_cmpuint (none, ==, g_strv_length (numbers));
    for (guint k = 0; numbers[k]; k++)
      g_assert_cmpint (part->pins[pm_part_pin (part, numbers[k])].role, ==, PM_PIN_NONE);
  }
}

/* Diodes name their ends. */
static void
test_ends (void)
{
  g_assert_cmpuint (pm_part_pin (whole_part ("diode"), "K"), ==, 0);
  g_assert_cmpuint (pm_part_pin (whole_part ("led"), "A"), ==, 1);
}

static void
test_refused (void)
{
  static const char *const rows[] = {
    "box-header-35", "socket-dip-15", "d-type-24", "header 3x5", "rotary 5x6", "rotary 4x7", "74138", "74HCT571",
    "74LS", "7451", "74107", "74HC266", "resistor", "resistor ten", "network 0x1k", "toggle", "",
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autofree char *message = parts_test_refused (rows[i]);
    g_test_message ("%s: %s", rows[i], message);
  }
}

int
main (int argc, char **argv)
{
  g_auto (GStrv) names = NULL;

  g_test_init (&argc, &argv, NULL);
  names = pm_library_list (parts_test_library (), "part");
  g_assert_cmpuint (g_strv_length (names), >=, 72);
  for (guint i = 0; names[i]; i++) {
    g_autofree char *path = g_strdup_printf ("/parts/file/%s", names[i]);
    g_test_add_data_func (path, names[i], test_file);
  }
  g_test_add_func ("/parts/pins", test_pins);
  g_test_add_func ("/parts/roles", test_roles);
  g_test_add_func ("/parts/sizes", test_sizes);
  g_test_add_func ("/parts/switches", test_switches);
  g_test_add_func ("/parts/rotary-sizes", test_rotary_sizes);
  g_test_add_func ("/parts/values", test_values);
  g_test_add_func ("/parts/types", test_types);
  g_test_add_func ("/parts/not-connected", test_not_connected);
  g_test_add_func ("/parts/ends", test_ends);
  g_test_add_func ("/parts/refused", test_refused);
  return parts_test_run ();
}
