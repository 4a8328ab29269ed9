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
  { "7401", "1234", "#A #B", "#Y", "ZZZL", "Fairchild DS006493, which prints H for off" },
  { "7402", "1234", "#A #B", "#Y", "HLLL", VECTORS },
  { "7403", "1234", "#A #B", "#Y", "ZZZL", "Fairchild DS006513" },
  { "7404", "123456", "#A", "#Y", "HL", VECTORS },
  { "7405", "123456", "#A", "#Y", "ZL", VECTORS },
  { "7406", "123456", "#A", "#Y", "ZL", VECTORS },
  { "7407", "123456", "#A", "#Y", "LZ", VECTORS },
  { "7408", "1234", "#A #B", "#Y", "LLLH", "NTE74LS08" },
  { "7414", "123456", "#A", "#Y", "HL", "TI SDLS049C: inverters" },
  { "7432", "1234", "#A #B", "#Y", "LHHH", "Fairchild DS006361" },
  { "7438", "1234", "#A #B", "#Y", "ZZZL", "Fairchild DS006513" },
  { "7486", "1234", "#A #B", "#Y", "LHHL", VECTORS },
  { "74125", "1234", "#/OE #A", "#Y", "LH ZZ", "Fairchild DS006387" },
  { "74126", "1234", "#OE #A", "#Y", "ZZ LH", "Fairchild DS006388" },
  { "74132", "1234", "#A #B", "#Y", "HHHL", "NTE74132, Motorola SN74LS132: NAND" },
  { "74LS139", "12", "#/G #B #A", "#Y0", "LHHH HHHH", VECTORS },
  { "74LS139", "12", "#/G #B #A", "#Y1", "HLHH HHHH", VECTORS },
  { "74LS139", "12", "#/G #B #A", "#Y2", "HHLH HHHH", VECTORS },
  { "74LS139", "12", "#/G #B #A", "#Y3", "HHHL HHHH", VECTORS },
  { "74157", "1234", "/G S #A #B", "#Y", "LLHH LHLH LLLL LLLL", "DS006396, NXP 74HC_HCT157 Rev 7 table 3" },
  { "74LS158", "1234", "/G S #A #B", "#Y", "HHLL HLHL HHHH HHHH", "DS006396" },
  { "74LS257", "1234", "/G S #A #B", "#Y", "LLHH LHLH ZZZZ ZZZZ", "DS006417" },
  { "74LS240", "1234", "1/OE 1A#", "1Y#", "HL ZZ", VECTORS ", Fairchild DS006411" },
  { "74LS240", "1234", "2/OE 2A#", "2Y#", "HL ZZ", VECTORS ", Fairchild DS006411" },
  { "74LS258", "1234", "/G S #A #B", "#Y", "HHLL HLHL ZZZZ ZZZZ", "TI SDAS124C, Motorola 5-429" },
  { "74LS266", "1234", "#A #B", "#Y", "ZLLZ", VECTORS },
  { "74LS244", "1234", "1/OE 1A#", "1Y#", "LH ZZ", VECTORS "; the off row from memory" },
  { "74LS244", "1234", "2/OE 2A#", "2Y#", "LH ZZ", VECTORS "; the off row from memory" },
  { "4053", "123", "E S#", "#Z-#Y0", "J- --", "NXP 74HC_HCT4053 Rev 8" },
  { "4053", "123", "E S#", "#Z-#Y1", "-J --", "NXP 74HC_HCT4053 Rev 8" },
  { "4066", "1234", "#E", "#Y-#Z", "-J", VECTORS },
  { "74CBT3257", "1234", "/OE S", "#A-#B1", "J- --", "TI SCDS040M table 1" },
  { "74CBT3257", "1234", "/OE S", "#A-#B2", "-J --", "TI SCDS040M table 1" },
};

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

static void
check_section (const PmPart *part, const Function *function, char which)
{
  g_autofree char *inputs = parts_test_named (function->inputs, which);
  g_autofree char *output = parts_test_named (function->output, which);
  g_auto (GStrv) names = g_strsplit (inputs, " ", -1);
  g_auto (GStrv) ends = g_strsplit (output, "-", 2);
  g_autoptr (GString) results = g_string_new (NULL);
  guint n = g_strv_length (names), column = 0;
  guint32 pins[PM_TABLE_MAX_INPUTS];
  guint32 other = ends[1] ? parts_test_pin (part, ends[1]) : PM_NONE;
  const PmSection *section = parts_test_section (part, parts_test_pin (part, ends[0]), other, &column);

  for (const char *c = function->results; *c; c++)
    if (*c != ' ')
      g_string_append_c (results, *c);
  g_assert_cmpuint (results->len, ==, 1u << n);
  for (guint k = 0; k < n; k++)
    pins[n - 1 - k] = parts_test_pin (part, names[k]);
  for (guint32 levels = 0; levels < 1u << n; levels++) {
    guint32 reading = parts_test_reading (section, pins, n, levels);
    g_assert_cmpint (parts_test_eval (section, column, reading), ==, out_of (results->str[levels]));
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

/* What an output gives: bit k of v is the k-th input of the list; n of them; which is a number for the formula. */
typedef PmOut Formula (guint32 v, guint n, guint which);

static PmOut
level (gboolean high)
{
  return high ? PM_OUT_HIGH : PM_OUT_LOW;
}

static PmOut
not_all_high (guint32 v, guint n, guint which)
{
  return level (v + 1 < 1u << n);
}

static PmOut
all_high (guint32 v, guint n, guint which)
{
  return level (v + 1 == 1u << n);
}

static PmOut
none_high (guint32 v, guint n, guint which)
{
  return level (v == 0);
}

/* Two ANDs of n / 2 inputs each, NORed. */
static PmOut
and_or_invert (guint32 v, guint n, guint which)
{
  guint32 all = (1u << n / 2) - 1;

  return level ((v & all) != all && v >> n / 2 != all);
}

/* A B C G1 /G2A /G2B: Y(which) is low only if enabled and chosen. */
static PmOut
one_of_eight (guint32 v, guint n, guint which)
{
  return level (v != (which | 8));
}

/* A B /G C0 C1 C2 C3. */
static PmOut
two_of_four (guint32 v, guint n, guint which)
{
  return level (!(v & 4) && (v >> (3 + (v & 3)) & 1));
}

/* A B C /G D0 … D7; which: 0 Y, 1 W, and 2 more for a part whose outputs go off. */
static PmOut
eight_way (guint32 v, guint n, guint which)
{
  gboolean off = v & 8, chosen = v >> (4 + (v & 7)) & 1;

  if (off && which >= 2)
    return PM_OUT_OFF;
  return level ((!off && chosen) != (which & 1));
}

/* /OE DIR A B; which: 0 side A, 1 side B: DIR low is from B to A. */
static PmOut
two_way (guint32 v, guint n, guint which)
{
  gboolean off = v & 1, to_b = (v & 2) != 0, a = v & 4, b = v & 8;

  if (off || to_b != (which == 1))
    return PM_OUT_OFF;
  return level (to_b ? a : b);
}

static const struct {
  const char *part, *sections, *inputs, *output;
  Formula    *formula;
  guint       which;
  const char *source;
} formulas[] = {
  { "7410", "123", "#A #B #C", "#Y", not_all_high, 0, "Philips 74HC/HCT10" },
  { "7411", "123", "#A #B #C", "#Y", all_high, 0, "Fairchild DS006350: Y = ABC" },
  { "7420", "12", "#A #B #C #D", "#Y", not_all_high, 0, "TI SDAS192B, Fairchild DS006506" },
  { "7421", "12", "#A #B #C #D", "#Y", all_high, 0, "NXP 74HC21 Rev 5 table 3" },
  { "7427", "123", "#A #B #C", "#Y", none_high, 0, "TI SDAS112B" },
  { "7430", "1", "A B C D E F G H", "Y", not_all_high, 0, "TI SDFS043A" },
  { "74LS51", "1", "1A 1B 1C 1D 1E 1F", "1Y", and_or_invert, 0, "DS006369: Y1 = not (A1 B1 C1 + D1 E1 F1)" },
  { "74LS51", "2", "2A 2B 2C 2D", "2Y", and_or_invert, 0, "DS006369: Y2 = not (A2 B2 + C2 D2)" },
  { "74LS138", "01234567", "A B C G1 /G2A /G2B", "Y#", one_of_eight, 0,
    "74F138 DS009478: enabled only by G1=H, /G2A=L, /G2B=L; else all Y = H; enabled: only Y(4C+2B+A) = L" },
  { "74151", "1", "A B C /G D0 D1 D2 D3 D4 D5 D6 D7", "Y", eight_way, 0, "TI SCHS338, DS006392: /G=H: L" },
  { "74151", "1", "A B C /G D0 D1 D2 D3 D4 D5 D6 D7", "W", eight_way, 1, "TI SCHS338, DS006392: /G=H: H" },
  { "74153", "12", "A B #/G #C0 #C1 #C2 #C3", "#Y", two_of_four, 0,
    "TI SCHS339: /G=H: L; else Y=C(2B+A); select common to both halves" },
  { "74LS245", "12345678", "/OE DIR A# B#", "A#", two_way, 0, "Motorola 5-398" },
  { "74LS245", "12345678", "/OE DIR A# B#", "B#", two_way, 1, "Motorola 5-398" },
  { "74LS251", "1", "A B C /G D0 D1 D2 D3 D4 D5 D6 D7", "Y", eight_way, 2, "National TL/F/6415: strobe H: Z" },
  { "74LS251", "1", "A B C /G D0 D1 D2 D3 D4 D5 D6 D7", "W", eight_way, 3, "National TL/F/6415: strobe H: Z" },
};

static void
check_formula (guint row, char which)
{
  const PmPart *part = parts_test_part (formulas[row].part, NULL);
  g_autofree char *inputs = parts_test_named (formulas[row].inputs, which);
  g_autofree char *output = parts_test_named (formulas[row].output, which);
  g_auto (GStrv) names = g_strsplit (inputs, " ", -1);
  guint n = g_strv_length (names), column = 0;
  guint32 pins[PM_TABLE_MAX_INPUTS];
  const PmSection *section = parts_test_section (part, parts_test_pin (part, output), PM_NONE, &column);
  /* The outputs of a decoder are told apart by their numbers. */
  guint number = formulas[row].formula == one_of_eight ? (guint) (which - '0') : formulas[row].which;

  for (guint k = 0; k < n; k++)
    pins[k] = parts_test_pin (part, names[k]);
  for (guint32 levels = 0; levels < 1u << n; levels++)
    g_assert_cmpint (parts_test_eval (section, column, parts_test_reading (section, pins, n, levels)), ==,
                     formulas[row].formula (levels, n, number));
}

static void
test_formula (gconstpointer data)
{
  guint row = GPOINTER_TO_UINT (data);

  for (const char *s = formulas[row].sections; *s; s++)
    check_formula (row, *s);
}

/* ---- without # in the path, which would begin a remark in the results */
static void
add_test (const char *part, const char *output, GTestDataFunc function, gconstpointer data)
{
  g_auto (GStrv) words = g_strsplit (output, "#", -1);
  g_autofree char *plain = g_strjoinv ("", words);
  g_autofree char *path = g_strdup_printf ("/parts/table/%s/%s", part, plain);

  g_test_add_data_func (path, data, function);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (functions); i++)
    add_test (functions[i].part, functions[i].output, test_function, &functions[i]);
  for (guint i = 0; i < G_N_ELEMENTS (formulas); i++)
    add_test (formulas[i].part, formulas[i].output, test_formula, GUINT_TO_POINTER (i));
  return parts_test_run ();
}
