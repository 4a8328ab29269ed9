/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Function tables of the part library, whole: every combination of the inputs of every section, asked pin by pin, so
 * that a wrong pin and a wrong row both show.  The expected values were written from the sources named beside them. */
#include "parts-test.h"
#include <string.h>

/* One function.  # in a name stands for the section.  Results, one a combination, the first input being the slowest to
 * change (LL LH HL HH): L, H, Z = off; for two pins that a row joins, J = joined and - = open.  Blanks are for
 * reading. */
typedef struct { const char *part, *sections, *inputs, *output, *results, *source; } Function;

#define VECTORS "published logic-test vectors"
static const Function functions[] = {
  { "7400", "1234", "#A #B", "#Y", "HHHL", "TI SDFS035A, Fairchild DS006439" },
  { "7402", "1234", "#A #B", "#Y", "HLLL", VECTORS },
  { "7403", "1234", "#A #B", "#Y", "ZZZL", "Fairchild DS006513" },
  { "7404", "123456", "#A", "#Y", "HL", VECTORS },
  { "7405", "123456", "#A", "#Y", "ZL", VECTORS },
  { "7406", "123456", "#A", "#Y", "ZL", VECTORS },
  { "7407", "123456", "#A", "#Y", "LZ", VECTORS },
  { "7408", "1234", "#A #B", "#Y", "LLLH", "NTE74LS08" },
  { "7432", "1234", "#A #B", "#Y", "LHHH", "Fairchild DS006361" },
  { "7438", "1234", "#A #B", "#Y", "ZZZL", "Fairchild DS006513" },
  { "7486", "1234", "#A #B", "#Y", "LHHL", VECTORS },
  { "74125", "1234", "#/OE #A", "#Y", "LH ZZ", "Fairchild DS006387" },
  { "74126", "1234", "#OE #A", "#Y", "ZZ LH", "Fairchild DS006388" },
  { "74LS139", "12", "#/G #B #A", "#Y0", "LHHH HHHH", VECTORS },
  { "74LS139", "12", "#/G #B #A", "#Y1", "HLHH HHHH", VECTORS },
  { "74LS139", "12", "#/G #B #A", "#Y2", "HHLH HHHH", VECTORS },
  { "74LS139", "12", "#/G #B #A", "#Y3", "HHHL HHHH", VECTORS },
  { "74157", "1234", "/G S #A #B", "#Y", "LLHH LHLH LLLL LLLL", "DS006396, NXP 74HC_HCT157 Rev 7 table 3" },
  { "74LS158", "1234", "/G S #A #B", "#Y", "HHLL HLHL HHHH HHHH", "DS006396" },
  { "74LS257", "1234", "/G S #A #B", "#Y", "LLHH LHLH ZZZZ ZZZZ", "DS006417" },
  { "74LS244", "1234", "1/OE 1A#", "1Y#", "LH ZZ", VECTORS "; the off row from memory" },
  { "74LS244", "1234", "2/OE 2A#", "2Y#", "LH ZZ", VECTORS "; the off row from memory" },
  { "4053", "123", "E S#", "#Z-#Y0", "J- --", "NXP 74HC_HCT4053 Rev 8" },
  { "4053", "123", "E S#", "#Z-#Y1", "-J --", "NXP 74HC_HCT4053 Rev 8" },
  { "4066", "1234", "#E", "#Y-#Z", "-J", VECTORS },
  { "74CBT3257", "1234", "/OE S", "#A-#B1", "J- --", "TI SCDS040M table 1" },
  { "74CBT3257", "1234", "/OE S", "#A-#B2", "-J --", "TI SCDS040M table 1" },
};

static guint32
pin_of (const PmPart *part, const char *name)
{
  guint32 pin = pm_part_pin (part, name);

  if (pin == PM_NONE)
    g_error ("%s has no pin %s", part->name, name);
  return pin;
}

/* The one section and column that drives pin a (or joins it with b); which of two joined pins is named first is all
 * one. */
static const PmSection *
section_of (const PmPart *part, guint32 a, guint32 b, guint *column)
{
  const PmSection *found = NULL;

  for (guint s = 0; s < part->n_sections; s++) {
    const PmSection *section = &part->sections[s];
    for (guint i = 0; i < pm_table_n_outputs (section->table); i++) {
      guint32 p = section->outputs[i], q = section->others ? section->others[i] : PM_NONE;

      if (pm_table_kind (section->table, i) == PM_COLUMN_BIT)
        continue;
      if (!(p == a && q == b) && !(b != PM_NONE && p == b && q == a))
        continue;
      g_assert_null (found);
      found = section;
      *column = i;
    }
  }
  g_assert_nonnull (found);
  return found;
}

/* The reading of a section for levels given by pin (bit k: pins[k] is high); every input must be among the pins. */
static guint32
reading_of (const PmSection *section, const guint32 *pins, guint n_pins, guint32 levels)
{
  guint32 reading = 0;

  for (guint k = 0; k < pm_table_n_inputs (section->table); k++) {
    guint j = 0;
    while (j < n_pins && pins[j] != section->inputs[k])
      j++;
    g_assert_cmpuint (j, <, n_pins);
    reading |= ((levels >> j) & 1) << k;
  }
  return reading;
}

/* The same output by the decision tree. */
static PmOut
eval_tree (const PmTable *table, guint output, guint32 reading)
{
  guint32 node = 0, low, high;
  guint input;
  PmOut out;

  while (!pm_table_node (table, output, node, &out, &input, &low, &high))
    node = (reading >> input) & 1 ? high : low;
  return out;
}

static PmOut
out_of (char letter)
{
  switch (letter) {
  case 'L':
    return PM_OUT_LOW;
  case 'H':
    return PM_OUT_HIGH;
  case 'Z':
    return PM_OUT_OFF;
  case 'J':
    return PM_OUT_JOINED;
  case '-':
    return PM_OUT_OPEN;
  default:
    g_assert_not_reached ();
  }
}

static char *
in_section (const char *pattern, char section)
{
  char *name = g_strdup (pattern);

  for (char *c = name; *c; c++)
    if (*c == '#')
      *c = section;
  return name;
}

static void
check_section (const PmPart *part, const Function *function, char which)
{
  g_autofree char *inputs = in_section (function->inputs, which);
  g_autofree char *output = in_section (function->output, which);
  g_auto (GStrv) names = g_strsplit (inputs, " ", -1);
  g_auto (GStrv) ends = g_strsplit (output, "-", 2);
  g_autoptr (GString) results = g_string_new (NULL);
  guint n = g_strv_length (names), column = 0;
  guint32 pins[PM_TABLE_MAX_INPUTS];
  const PmSection *section =
    section_of (part, pin_of (part, ends[0]), ends[1] ? pin_of (part, ends[1]) : PM_NONE, &column);

  for (const char *c = function->results; *c; c++)
    if (*c != ' ')
      g_string_append_c (results, *c);
  g_assert_cmpuint (results->len, ==, 1u << n);
  for (guint k = 0; k < n; k++)
    pins[n - 1 - k] = pin_of (part, names[k]);
  for (guint32 levels = 0; levels < 1u << n; levels++) {
    guint32 reading = reading_of (section, pins, n, levels);
    g_assert_cmpint (pm_table_eval (section->table, column, reading, reading), ==, out_of (results->str[levels]));
    g_assert_cmpint (eval_tree (section->table, column, reading), ==, out_of (results->str[levels]));
  }
}

static void
test_function (gconstpointer data)
{
  const Function *function = data;
  const PmPart *part = parts_test_part (function->part, NULL);

  for (const char *s = function->sections; *s; s++)
    check_section (part, function, *s);
}

/* One of eight: 74F138 DS009478: "enabled only by G1=H, /G2A=L, /G2B=L; else all Y = H; enabled: only Y(4C+2B+A) = L".
 * */
static void
test_138 (void)
{
  const PmPart *part = parts_test_part ("74LS138", NULL);
  const char *names[] = { "A", "B", "C", "G1", "/G2A", "/G2B" };
  guint32 pins[6];

  for (guint k = 0; k < 6; k++)
    pins[k] = pin_of (part, names[k]);
  for (guint y = 0; y < 8; y++) {
    g_autofree char *output = g_strdup_printf ("Y%u", y);
    guint column = 0;
    const PmSection *section = section_of (part, pin_of (part, output), PM_NONE, &column);
    for (guint32 levels = 0; levels < 64; levels++) {
      guint32 reading = reading_of (section, pins, 6, levels);
      PmOut wanted = levels >> 3 == 1 && (levels & 7) == y ? PM_OUT_LOW : PM_OUT_HIGH;
      g_assert_cmpint (pm_table_eval (section->table, column, reading, reading), ==, wanted);
      g_assert_cmpint (eval_tree (section->table, column, reading), ==, wanted);
    }
  }
}

/* Two of four: TI SCHS339: "/G=H: L; else Y=C(2B+A); select common to both halves". */
static void
test_153 (void)
{
  const PmPart *part = parts_test_part ("74153", NULL);

  for (char half = '1'; half <= '2'; half++) {
    const char *patterns[] = { "A", "B", "#/G", "#C0", "#C1", "#C2", "#C3" };
    g_autofree char *output = in_section ("#Y", half);
    guint column = 0;
    const PmSection *section = section_of (part, pin_of (part, output), PM_NONE, &column);
    guint32 pins[7];

    for (guint k = 0; k < 7; k++) {
      g_autofree char *name = in_section (patterns[k], half);
      pins[k] = pin_of (part, name);
    }
    for (guint32 levels = 0; levels < 128; levels++) {
      guint32 reading = reading_of (section, pins, 7, levels);
      gboolean high = !(levels & 4) && (levels >> (3 + (levels & 3)) & 1);
      g_assert_cmpint (pm_table_eval (section->table, column, reading, reading), ==, high ? PM_OUT_HIGH : PM_OUT_LOW);
      g_assert_cmpint (eval_tree (section->table, column, reading), ==, high ? PM_OUT_HIGH : PM_OUT_LOW);
    }
  }
}

/* The section that sets a stored bit. */
static const PmSection *
setter_of (const PmPart *part, guint32 bit, guint *column)
{
  for (guint s = 0; s < part->n_sections; s++)
    for (guint i = 0; i < pm_table_n_outputs (part->sections[s].table); i++)
      if (pm_table_kind (part->sections[s].table, i) == PM_COLUMN_BIT && part->sections[s].outputs[i] == bit) {
        *column = i;
        return &part->sections[s];
      }
  g_assert_not_reached ();
}

/* What 1Q or /1Q shows for levels of /PRE (bit 0), /CLR (bit 1) and the stored bit (bit 2); bit is set to the bit it
 * reads. */
static PmOut
shown (const PmPart *part, char half, const char *pattern, guint32 levels, guint32 *bit)
{
  g_autofree char *output = in_section (pattern, half);
  g_autofree char *pre = in_section ("#/PRE", half), *clr = in_section ("#/CLR", half);
  guint column = 0;
  const PmSection *section = section_of (part, pin_of (part, output), PM_NONE, &column);
  guint32 reading = 0;

  for (guint k = 0; k < pm_table_n_inputs (section->table); k++) {
    guint from = 0;
    if (PM_IS_BIT (section->inputs[k])) {
      *bit = PM_BIT_OF (section->inputs[k]);
      from = 2;
    } else if (section->inputs[k] == pin_of (part, clr))
      from = 1;
    else
      g_assert_cmpuint (section->inputs[k], ==, pin_of (part, pre));
    reading |= ((levels >> from) & 1) << k;
  }
  return pm_table_eval (section->table, column, reading, reading);
}

/* Fairchild DS006373, rows /PR /CLR CLK D -> Q /Q: L H X X: H L; H L X X: L H; L L X X: H H, not stable when both
 * return high; H H up H: H L; H H up L: L H; H H L X: as before. */
static void
test_7474_outputs (void)
{
  const PmPart *part = parts_test_part ("7474", NULL);
  guint32 bits[2] = { PM_NONE, PM_NONE }, again = PM_NONE;

  for (guint half = 0; half < 2; half++)
    for (guint32 levels = 0; levels < 8; levels++) {
      gboolean pre = levels & 1, clr = levels & 2, stored = levels & 4;
      gboolean q = pre && clr ? stored : !pre, not_q = pre && clr ? !stored : !clr;
      g_assert_cmpint (shown (part, '1' + half, "#Q", levels, &bits[half]), ==, q ? PM_OUT_HIGH : PM_OUT_LOW);
      g_assert_cmpint (shown (part, '1' + half, "#/Q", levels, &again), ==, not_q ? PM_OUT_HIGH : PM_OUT_LOW);
      g_assert_cmpuint (again, ==, bits[half]);
    }
  g_assert_cmpuint (bits[0], !=, PM_NONE);
  g_assert_cmpuint (bits[0], !=, bits[1]);
}

/* Every step of /PRE /CLR CLK with D at rest. */
static void
test_7474_steps (void)
{
  const PmPart *part = parts_test_part ("7474", NULL);
  const char *patterns[] = { "#/PRE", "#/CLR", "#D", "#CLK" };

  for (char half = '1'; half <= '2'; half++) {
    guint32 bit = PM_NONE, pins[4];
    guint column = 0;
    const PmSection *section;

    shown (part, half, "#Q", 3, &bit);
    section = setter_of (part, bit, &column);
    g_assert_true (pm_table_has_edge (section->table));
    for (guint k = 0; k < 4; k++) {
      g_autofree char *name = in_section (patterns[k], half);
      pins[k] = pin_of (part, name);
    }
    for (guint32 before = 0; before < 16; before++)
      for (guint32 now = 0; now < 16; now++) {
        gboolean pre = now & 1, clr = now & 2, d = now & 4, rose = (now & 8) && !(before & 8);
        PmOut wanted = pre && clr ? (rose ? (d ? PM_OUT_HIGH : PM_OUT_LOW) : PM_OUT_HOLD)
                       : clr      ? PM_OUT_HIGH
                       : pre      ? PM_OUT_LOW
                                  : PM_OUT_UNSTABLE;

        if ((before & 4) == (now & 4))
          g_assert_cmpint (pm_table_eval (section->table, column, reading_of (section, pins, 4, now),
                                          reading_of (section, pins, 4, before)),
                           ==, wanted);
      }
  }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (functions); i++) {
    g_auto (GStrv) words = g_strsplit (functions[i].output, "#", -1); /* a # would begin a remark in the results */
    g_autofree char *output = g_strjoinv ("", words);
    g_autofree char *path = g_strdup_printf ("/parts/table/%s/%s", functions[i].part, output);
    g_test_add_data_func (path, &functions[i], test_function);
  }
  g_test_add_func ("/parts/table/74LS138", test_138);
  g_test_add_func ("/parts/table/74153", test_153);
  g_test_add_func ("/parts/table/7474/outputs", test_7474_outputs);
  g_test_add_func ("/parts/table/7474/steps", test_7474_steps);
  return parts_test_run ();
}
