/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Flip-flops and latches of the part library, pin by pin and step by step: one pin moves, every stored bit follows its
 * table, and the outputs are looked at.  The steps and the rules were written from the sources named beside them. */
#include "parts-test.h"
#include <string.h>

#define MAX_PINS 20

/* A chip on the bench: the levels at its pins, and what it remembers. */
typedef struct {
  const PmPart *part;
  gboolean      pins[MAX_PINS], bits[8];
} Chip;

/* The reading of a section at these levels of the pins. */
static guint32
chip_reading (const Chip *chip, const PmSection *section, const gboolean *pins)
{
  guint32 reading = 0;

  for (guint k = 0; k < pm_table_n_inputs (section->table); k++) {
    guint32 input = section->inputs[k];
    reading |= (guint32) (PM_IS_BIT (input) ? chip->bits[PM_BIT_OF (input)] : pins[input]) << k;
  }
  return reading;
}

/* The bits after a pin has moved.  A bit of a row that is not stable stays: nothing reads it in such a row. */
static void
chip_follow (Chip *chip, const gboolean *before)
{
  gboolean after[8];

  memcpy (after, chip->bits, sizeof after);
  for (guint s = 0; s < chip->part->n_sections; s++) {
    const PmSection *section = &chip->part->sections[s];
    for (guint i = 0; i < pm_table_n_outputs (section->table); i++) {
      if (pm_table_kind (section->table, i) != PM_COLUMN_BIT)
        continue;
      gboolean *bit = &after[section->outputs[i]];
      PmOut out = pm_table_eval (section->table, i, chip_reading (chip, section, chip->pins),
                                 chip_reading (chip, section, before));
      if (out == PM_OUT_HIGH || out == PM_OUT_LOW)
        *bit = out == PM_OUT_HIGH;
      else if (out == PM_OUT_TOGGLE)
        *bit = !*bit;
    }
  }
  memcpy (chip->bits, after, sizeof after);
}

static void
chip_set (Chip *chip, const char *pin, gboolean high)
{
  gboolean before[MAX_PINS];

  memcpy (before, chip->pins, sizeof before);
  chip->pins[parts_test_pin (chip->part, pin)] = high;
  chip_follow (chip, before);
}

static char
chip_shows (const Chip *chip, const char *pin)
{
  guint column = 0;
  const PmSection *section = parts_test_section (chip->part, parts_test_pin (chip->part, pin), PM_NONE, &column);

  switch (parts_test_eval (section, column, chip_reading (chip, section, chip->pins))) {
  case PM_OUT_LOW:
    return 'L';
  case PM_OUT_HIGH:
    return 'H';
  case PM_OUT_OFF:
    return 'Z';
  default:
    g_assert_not_reached ();
  }
}

static Chip
chip_new (const char *is, gboolean bits)
{
  Chip chip = { parts_test_part (is, NULL), { FALSE }, { FALSE } };

  g_assert_cmpuint (chip.part->n_pins, <=, MAX_PINS);
  g_assert_cmpuint (g_strv_length (chip.part->bits), <=, 8);
  for (guint i = 0; i < 8; i++)
    chip.bits[i] = bits;
  return chip;
}

/* ---- steps
 * PIN:L sets a pin, PIN=L looks at an output; # stands for the section, every one of which goes through them alone. */
static const struct { const char *part, *sections, *name, *steps, *source; } scripts[] = {
  { "74LS107", "12", "clear, set, hold, toggle",
    "#CLK:H #/CLR:L #Q=L #/Q=H #CLK:L #Q=L #J:H #CLK:H #CLK:L #Q=L " /* clear overrides the clock */
    "#/CLR:H #Q=L #CLK:H #Q=L #CLK:L #Q=H #/Q=L "                    /* J: set by the falling edge alone */
    "#J:L #CLK:H #CLK:L #Q=H #K:H #Q=H #CLK:H #Q=H #CLK:L #Q=L "     /* hold, K: reset */
    "#J:H #CLK:H #Q=L #CLK:L #Q=H #CLK:H #Q=H #CLK:L #Q=L "          /* both: toggle */
    "#CLK:H #CLK:L #Q=H #/CLR:L #Q=L #/Q=H #/CLR:H #Q=L",            /* clear at once */
    "National TL/F/6367" },
  { "74LS107", "12", "data may change while the clock is high or low",
    "#/CLR:L #/CLR:H #CLK:H #J:H #J:L #Q=L #CLK:L #Q=L #J:H #J:L #Q=L #CLK:H #J:H #CLK:L #Q=H",
    "National TL/F/6367" },
  { "74109", "12", "preset, clear, load, hold, toggle",
    "#/PRE:L #/CLR:H #Q=H #/Q=L #/PRE:H #Q=H #/CLR:L #Q=L #/Q=H #/PRE:L #Q=H #/Q=H #/CLR:H #Q=H #/Q=L #/PRE:H #Q=H "
    "#J:L #/K:L #Q=H #CLK:H #Q=L #/Q=H #J:H #/K:H #CLK:L #Q=L #CLK:H #Q=H "  /* J and K together: D */
    "#J:L #CLK:L #CLK:H #Q=H #J:H #/K:L #CLK:L #Q=H #CLK:H #Q=L #CLK:L #Q=L #CLK:H #Q=H " /* hold, toggle */
    "#/CLR:L #Q=L #CLK:L #CLK:H #Q=L #/CLR:H #Q=L",
    "Fairchild DS006368, TI SCLS470C" },
  { "74175", "1234", "clear, load on the rising edge, hold",
    "/CLR:L #Q=L #/Q=H #D:H CLK:H #Q=L CLK:L /CLR:H #Q=L CLK:H #Q=H #/Q=L #D:L #Q=H CLK:L #Q=H CLK:H #Q=L #/Q=H "
    "#D:H #Q=L CLK:L CLK:H #Q=H /CLR:L #Q=L",
    "Motorola SN74LS175, Integral IN74HC175" },
  { "74273", "12345678", "clear, load on the rising edge, hold",
    "/CLR:L #Q=L #D:H CLK:H #Q=L CLK:L /CLR:H #Q=L CLK:H #Q=H #D:L #Q=H CLK:L #Q=H CLK:H #Q=L #D:H #Q=L CLK:L "
    "CLK:H #Q=H /CLR:L #Q=L /CLR:H #Q=L",
    "TI SDLS090" },
  { "74LS373", "12345678", "transparent, latched, off and still latching",
    "LE:H #D:L #Q=L #D:H #Q=H #D:L #Q=L #D:H LE:L #Q=H #D:L #Q=H #D:H #D:L #Q=H " /* holds what it had when LE fell */
    "/OE:H #Q=Z LE:H #Q=Z #D:L LE:L #D:H /OE:L #Q=L "                             /* new data while off */
    "/OE:H #Q=Z /OE:L #Q=L LE:H #Q=H",
    "Motorola 5-521, TI SCLS453E" },
  { "74LS374", "12345678", "loads on the rising edge, off and still loading",
    "#D:H CLK:H #Q=H #D:L #Q=H CLK:L #Q=H CLK:H #Q=L #D:H CLK:L #Q=L "
    "/OE:H #Q=Z CLK:H #Q=Z #D:L /OE:L #Q=H "                                      /* loaded while off */
    "/OE:H CLK:L CLK:H #Q=Z /OE:L #Q=L",
    "Motorola 5-521, TI SCHS183E: independent of the register" },
};

static void
run_steps (guint row, char which, gboolean bits)
{
  Chip chip = chip_new (scripts[row].part, bits);
  g_autofree char *steps = parts_test_named (scripts[row].steps, which);
  g_auto (GStrv) words = g_strsplit_set (steps, " ", -1);

  g_test_message ("%s section %c, bits %s at first", scripts[row].part, which, bits ? "high" : "low");
  for (guint i = 0; words[i]; i++) {
    gsize n = strlen (words[i]);
    char level, how;
    if (n == 0)
      continue;
    level = words[i][n - 1];
    how = words[i][n - 2];
    words[i][n - 2] = '\0';
    if (how == ':')
      chip_set (&chip, words[i], level == 'H');
    else if (chip_shows (&chip, words[i]) != level)
      g_error ("%s section %c, word %u: %s is not %c", scripts[row].part, which, i + 1, words[i], level);
  }
}

static void
test_steps (gconstpointer data)
{
  guint row = GPOINTER_TO_UINT (data);

  for (const char *s = scripts[row].sections; *s; s++) {
    run_steps (row, *s, FALSE);
    run_steps (row, *s, TRUE);
  }
}

/* ---- rules: what Q is after one pin has moved, by a formula, along random walks over all pins */

/* The level of a pin of one section, before or after. */
typedef struct { const PmPart *part; const gboolean *before, *now; char section; } Move;

static gboolean
at (const Move *move, const char *pattern, const gboolean *pins)
{
  g_autofree char *name = parts_test_named (pattern, move->section);

  return pins[parts_test_pin (move->part, name)];
}

static gboolean
rose (const Move *move, const char *pattern)
{
  return !at (move, pattern, move->before) && at (move, pattern, move->now);
}

typedef gboolean Next (const Move *move, gboolean q);

/* SN74LS107A: JQ' + K'Q at the falling edge. */
static gboolean
next_107 (const Move *move, gboolean q)
{
  gboolean fell = at (move, "#CLK", move->before) && !at (move, "#CLK", move->now);

  if (!at (move, "#/CLR", move->now))
    return FALSE;
  return fell ? (q ? !at (move, "#K", move->now) : at (move, "#J", move->now)) : q;
}

/* SN74109: JQ' + K'Q at the rising edge, where the pin is K'.  Both preset and clear low: asked elsewhere. */
static gboolean
next_109 (const Move *move, gboolean q)
{
  if (!at (move, "#/PRE", move->now))
    return TRUE;
  if (!at (move, "#/CLR", move->now))
    return FALSE;
  return rose (move, "#CLK") ? (q ? at (move, "#/K", move->now) : at (move, "#J", move->now)) : q;
}

static gboolean
next_74 (const Move *move, gboolean q)
{
  if (!at (move, "#/PRE", move->now))
    return TRUE;
  if (!at (move, "#/CLR", move->now))
    return FALSE;
  return rose (move, "#CLK") ? at (move, "#D", move->now) : q;
}

static gboolean
next_register (const Move *move, gboolean q)
{
  if (!at (move, "/CLR", move->now))
    return FALSE;
  return rose (move, "CLK") ? at (move, "#D", move->now) : q;
}

static gboolean
next_latch (const Move *move, gboolean q)
{
  return at (move, "LE", move->now) ? at (move, "#D", move->now) : q;
}

static gboolean
next_374 (const Move *move, gboolean q)
{
  return rose (move, "CLK") ? at (move, "#D", move->now) : q;
}

static const struct {
  const char *part, *sections, *inputs, *clear; /* clear: words that bring every section to low */
  Next       *next;
  gboolean    complement, both_low;             /* has /Q; has /PRE and /CLR that may be low together */
  const char *source;
} rules[] = {
  { "7474", "12", "1/PRE 1/CLR 1CLK 1D 2/PRE 2/CLR 2CLK 2D", "1/PRE:H 2/PRE:H 1/CLR:L 2/CLR:L", next_74, TRUE, TRUE,
    "Fairchild DS006373" },
  { "74LS107", "12", "1/CLR 1CLK 1J 1K 2/CLR 2CLK 2J 2K", "1/CLR:L 2/CLR:L", next_107, TRUE, FALSE,
    "National TL/F/6367" },
  { "74109", "12", "1/PRE 1/CLR 1CLK 1J 1/K 2/PRE 2/CLR 2CLK 2J 2/K", "1/PRE:H 2/PRE:H 1/CLR:L 2/CLR:L", next_109,
    TRUE, TRUE, "Fairchild DS006368" },
  { "74175", "1234", "/CLR CLK 1D 2D 3D 4D", "/CLR:L", next_register, TRUE, FALSE, "Motorola SN74LS175" },
  { "74273", "12345678", "/CLR CLK 1D 2D 3D 4D 5D 6D 7D 8D", "/CLR:L", next_register, FALSE, FALSE, "TI SDLS090" },
  { "74LS373", "12345678", "/OE LE 1D 2D 3D 4D 5D 6D 7D 8D", "LE:H LE:L", next_latch, FALSE, FALSE, "Motorola 5-521" },
  { "74LS374", "12345678", "/OE CLK 1D 2D 3D 4D 5D 6D 7D 8D", "CLK:L CLK:H", next_374, FALSE, FALSE, "Motorola 5-521" },
};

static void
look (const Chip *chip, guint row, const Move *move, gboolean q)
{
  g_autofree char *out = parts_test_named ("#Q", move->section), *inverse = parts_test_named ("#/Q", move->section);
  gboolean both = rules[row].both_low && !at (move, "#/PRE", move->now) && !at (move, "#/CLR", move->now);
  gboolean off = strchr (rules[row].inputs, 'O') != NULL && at (move, "/OE", move->now);

  g_assert_cmpint (chip_shows (chip, out), ==, off ? 'Z' : q || both ? 'H' : 'L');
  if (rules[row].complement)
    g_assert_cmpint (chip_shows (chip, inverse), ==, !q || both ? 'H' : 'L');
}

/* Moves one pin and asks every section. */
static void
walk (Chip *chip, guint row, const char *pin, gboolean *q)
{
  gboolean before[MAX_PINS];
  Move move = { chip->part, before, chip->pins, '1' };

  memcpy (before, chip->pins, sizeof before);
  chip_set (chip, pin, !chip->pins[parts_test_pin (chip->part, pin)]);
  for (const char *s = rules[row].sections; *s; s++) {
    move.section = *s;
    q[*s - '1'] = rules[row].next (&move, q[*s - '1']);
    look (chip, row, &move, q[*s - '1']);
  }
}

static void
test_rule (gconstpointer data)
{
  guint row = GPOINTER_TO_UINT (data);
  Chip chip = chip_new (rules[row].part, FALSE);
  g_auto (GStrv) inputs = g_strsplit (rules[row].inputs, " ", -1), clear = g_strsplit (rules[row].clear, " ", -1);
  g_autoptr (GRand) random = g_rand_new_with_seed (74);
  guint n = g_strv_length (inputs);
  gboolean q[8] = { FALSE };

  for (guint i = 0; clear[i]; i++) {
    gsize length = strlen (clear[i]);
    gboolean high = clear[i][length - 1] == 'H';
    clear[i][length - 2] = '\0';
    chip_set (&chip, clear[i], high);
  }
  for (guint step = 0; step < 4000; step++)
    walk (&chip, row, inputs[g_rand_int_range (random, 0, n)], q);
}

/* With preset and clear both low nothing is stored that can be relied upon (DS006373, DS006368). */
static void
test_unstable (void)
{
  static const char *const names[] = { "7474", "74109" };

  for (guint k = 0; k < G_N_ELEMENTS (names); k++) {
    Chip chip = chip_new (names[k], FALSE);
    guint met = 0;
    for (guint s = 0; s < chip.part->n_sections; s++) {
      const PmSection *section = &chip.part->sections[s];
      guint32 now = chip_reading (&chip, section, chip.pins); /* all pins low */
      if (pm_table_kind (section->table, 0) != PM_COLUMN_BIT)
        continue;
      g_assert_true (pm_table_has_edge (section->table));
      g_assert_cmpint (pm_table_eval (section->table, 0, now, now), ==, PM_OUT_UNSTABLE);
      met++;
    }
    g_assert_cmpuint (met, ==, 2);
  }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (scripts); i++) {
    g_autofree char *path = g_strdup_printf ("/parts/memory/%s/%s", scripts[i].part, scripts[i].name);
    g_test_add_data_func (path, GUINT_TO_POINTER (i), test_steps);
  }
  for (guint i = 0; i < G_N_ELEMENTS (rules); i++) {
    g_autofree char *path = g_strdup_printf ("/parts/memory/%s/rule", rules[i].part);
    g_test_add_data_func (path, GUINT_TO_POINTER (i), test_rule);
  }
  g_test_add_func ("/parts/memory/unstable", test_unstable);
  return parts_test_run ();
}
