/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Function tables: published functions against their formulas, faults with their exact words, edges, and random tables
 * against trying every combination. */
#include "pm-table.h"
#include <string.h>

typedef guint (*Formula) (guint32 in);

#define IN(k) (in >> (k) & 1)
#define Z PM_OUT_OFF

static PmTable *
parse (const char *text, const char *const *bits)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) pm_table_fault_free);
  PmTable *table = pm_table_parse (text, bits, faults);

  if (faults->len > 0)
    g_test_message ("%s", ((PmTableFault *) faults->pdata[0])->message);
  g_assert_nonnull (table);
  return table;
}

/* Follows the tree of an output for a full reading. read: the columns that it looked at. */
static PmOut
walk (const PmTable *table, guint output, guint32 in, guint32 *read)
{
  guint32 node = 0, low, high;
  guint input;
  PmOut out;

  *read = 0;
  while (!pm_table_node (table, output, node, &out, &input, &low, &high)) {
    g_assert_cmpuint (input, <, pm_table_n_inputs (table));
    g_assert_cmpuint (*read & 1u << input, ==, 0);
    *read |= 1u << input;
    node = IN (input) ? high : low;
  }
  return out;
}

/* ---- published tables ---- */

static guint f_nand (guint32 in) { return !(IN (0) && IN (1)); }
static guint f_nor (guint32 in) { return !(IN (0) || IN (1)); }
static guint f_nand_oc (guint32 in) { return IN (0) && IN (1) ? PM_OUT_LOW : Z; }
static guint f_not (guint32 in) { return !IN (0); }
static guint f_not_oc (guint32 in) { return IN (0) ? PM_OUT_LOW : Z; }
static guint f_buffer_oc (guint32 in) { return IN (0) ? Z : PM_OUT_LOW; }
static guint f_and (guint32 in) { return IN (0) && IN (1); }
static guint f_or (guint32 in) { return IN (0) || IN (1); }
static guint f_xor (guint32 in) { return IN (0) ^ IN (1); }
static guint f_xnor_oc (guint32 in) { return IN (0) ^ IN (1) ? PM_OUT_LOW : Z; }
static guint f_buffer_low (guint32 in) { return IN (1) ? Z : IN (0); }
static guint f_buffer_high (guint32 in) { return IN (1) ? IN (0) : Z; }
static guint f_invert_low (guint32 in) { return IN (0) ? Z : !IN (1); }
static guint f_selector (guint32 in) { return !IN (0) && (IN (1) ? IN (3) : IN (2)); }
static guint f_selector_not (guint32 in) { return IN (0) || !(IN (1) ? IN (3) : IN (2)); }
static guint f_selector_off (guint32 in) { return IN (0) ? Z : IN (1) ? IN (3) : IN (2); }
/* /G C B A D0.. and /G B A C0..: the address is read with A as the lowest place. */
static guint address_3 (guint32 in) { return IN (1) << 2 | IN (2) << 1 | IN (3); }
static guint address_2 (guint32 in) { return IN (1) << 1 | IN (2); }
static guint f_151_y (guint32 in) { return !IN (0) && IN (4 + address_3 (in)); }
static guint f_251_w (guint32 in) { return IN (0) ? Z : !IN (4 + address_3 (in)); }
static guint f_153 (guint32 in) { return !IN (0) && IN (3 + address_2 (in)); }
static guint f_139_y0 (guint32 in) { return IN (0) || address_2 (in) != 0; }
static guint f_139_y2 (guint32 in) { return IN (0) || address_2 (in) != 2; }
/* G1 /G2A /G2B C B A */
static guint f_138_y5 (guint32 in) { return !(IN (0) && !IN (1) && !IN (2) && IN (3) && !IN (4) && IN (5)); }
static guint f_245_a (guint32 in) { return IN (0) || IN (1) ? Z : IN (3); }
static guint f_245_b (guint32 in) { return IN (0) || !IN (1) ? Z : IN (2); }
static guint f_4053_0 (guint32 in) { return !IN (0) && !IN (1) ? PM_OUT_JOINED : PM_OUT_OPEN; }
static guint f_4053_1 (guint32 in) { return !IN (0) && IN (1) ? PM_OUT_JOINED : PM_OUT_OPEN; }
static guint f_4066 (guint32 in) { return IN (0) ? PM_OUT_JOINED : PM_OUT_OPEN; }

static const struct {
  const char *name;
  const char *text;
  Formula     formulas[2];
} published[] = {
  { "7400", /* TI SDFS035A (F00), Fairchild DS006439 */
    "A B : Y\n L X : H\n X L : H\n H H : L", { f_nand } },
  { "7402", /* published vectors */
    "A B : Y\n L L : H\n H X : L\n X H : L", { f_nor } },
  { "7403", /* Fairchild DS006513, which prints H for the off rows: a pull-up is assumed there */
    "A B : Y\n L X : Z\n X L : Z\n H H : L", { f_nand_oc } },
  { "7404", /* published vectors */
    "A : Y\n L : H\n H : L", { f_not } },
  { "7404 as a formula", /* the same */
    "A : Y\n X : /A", { f_not } },
  { "7406", /* published vectors */
    "A : Y\n L : Z\n H : L", { f_not_oc } },
  { "7407", /* published vectors */
    "A : Y\n H : Z\n L : L", { f_buffer_oc } },
  { "7408", /* NTE74LS08 sheet */
    "A B : Y\n H H : H\n L X : L\n X L : L", { f_and } },
  { "7432", /* Fairchild DS006361 */
    "A B : Y\n L L : L\n H X : H\n X H : H", { f_or } },
  { "7486", /* published vectors */
    "A B : Y\n L L : L\n L H : H\n H L : H\n H H : L", { f_xor } },
  { "74266", /* published vectors */
    "A B : Y\n L L : Z\n L H : L\n H L : L\n H H : Z", { f_xnor_oc } },
  { "74125", /* Fairchild DS006387 */
    "A C : Y\n L L : L\n H L : H\n X H : Z", { f_buffer_low } },
  { "74126", /* Fairchild DS006388 */
    "A C : Y\n L H : L\n H H : H\n X L : Z", { f_buffer_high } },
  { "74240", /* published vectors */
    "/OE A : Y\n L L : H\n L H : L\n H X : Z", { f_invert_low } },
  { "74157", /* Fairchild DS006396; NXP 74HC_HCT157 Rev 7 table 3 */
    "/G S A B : Y\n H X X X : L\n L L L X : L\n L L H X : H\n L H X L : L\n L H X H : H", { f_selector } },
  { "74158", /* Fairchild DS006396 */
    "/G S A B : Y\n H X X X : H\n L L L X : H\n L L H X : L\n L H X L : H\n L H X H : L", { f_selector_not } },
  { "74257", /* Fairchild DS006417 */
    "/OC S A B : Y\n H X X X : Z\n L L L X : L\n L L H X : H\n L H X L : L\n L H X H : H", { f_selector_off } },
  { "74151", /* TI SCHS338 (ACT151) */
    "/G C B A D0 D1 D2 D3 D4 D5 D6 D7 : Y\n H X X X X X X X X X X X : L\n L L L L X X X X X X X X : D0\n"
    "L L L H X X X X X X X X : D1\n L L H L X X X X X X X X : D2\n L L H H X X X X X X X X : D3\n"
    "L H L L X X X X X X X X : D4\n L H L H X X X X X X X X : D5\n L H H L X X X X X X X X : D6\n"
    "L H H H X X X X X X X X : D7", { f_151_y } },
  { "74251", /* DM74LS251 sheets: strobe high turns both outputs off, else as 151 */
    "S C B A D0 D1 D2 D3 D4 D5 D6 D7 : W\n H X X X X X X X X X X X : Z\n L L L L X X X X X X X X : /D0\n"
    "L L L H X X X X X X X X : /D1\n L L H L X X X X X X X X : /D2\n L L H H X X X X X X X X : /D3\n"
    "L H L L X X X X X X X X : /D4\n L H L H X X X X X X X X : /D5\n L H H L X X X X X X X X : /D6\n"
    "L H H H X X X X X X X X : /D7", { f_251_w } },
  { "74153", /* TI SCHS339 */
    "/G B A C0 C1 C2 C3 : Y\n H X X X X X X : L\n L L L X X X X : C0\n L L H X X X X : C1\n L H L X X X X : C2\n"
    "L H H X X X X : C3", { f_153 } },
  { "74139", /* published vectors */
    "/G B A : Y0 Y2\n H X X : H H\n L L L : L H\n L L H : H H\n L H L : H L\n L H H : H H", { f_139_y0, f_139_y2 } },
  { "74138", /* Fairchild DS009478 text (74F138): one output */
    "G1 /G2A /G2B C B A : Y5\n L X X X X X : H\n X H X X X X : H\n X X H X X X : H\n H L L H L H : L\n"
    "X X X L X X : H\n X X X X H X : H\n X X X X X L : H", { f_138_y5 } },
  { "74245", /* direction rows: published; the off row from memory */
    "/OE DIR A B : A B\n L L X X : B Z\n L H X X : Z A\n H X X X : Z Z", { f_245_a, f_245_b } },
  { "4053", /* NXP 74HC_HCT4053 Rev 8 */
    "E S : Z-Y0 Z-Y1\n L L : joined open\n L H : open joined\n H X : open open", { f_4053_0, f_4053_1 } },
  { "4066", /* published vectors */
    "E : Y-Z\n H : joined\n L : open", { f_4066 } },
  { "3257", /* TI SCDS040M table 1 */
    "/OE S : A-B1 A-B2\n L L : joined open\n L H : open joined\n H X : open open", { f_4053_0, f_4053_1 } },
};

static void
test_published (void)
{
  for (guint p = 0; p < G_N_ELEMENTS (published); p++) {
    g_autoptr (PmTable) table = parse (published[p].text, NULL);

    g_test_message ("%s", published[p].name);
    g_assert_false (pm_table_has_edge (table));
    for (guint i = 0; i < pm_table_n_outputs (table); i++) {
      for (guint32 in = 0; in < 1u << pm_table_n_inputs (table); in++) {
        guint32 read;
        guint want = published[p].formulas[i](in);

        g_assert_cmpuint (pm_table_eval (table, i, in, in), ==, want);
        g_assert_cmpuint (pm_table_eval (table, i, in, ~in), ==, want);
        g_assert_cmpuint (walk (table, i, in, &read), ==, want);
      }
    }
  }
}

static void
test_reads_little (void)
{
  g_autoptr (PmTable) selector = parse ("/G S A B : Y\n H X X X : L\n L L X X : A\n L H X X : B", NULL);
  g_autoptr (PmTable) same = parse ("S A B : Y\n L L X : H\n L H X : H\n H X X : H", NULL);
  guint32 read;

  walk (selector, 0, 0x1, &read);
  g_assert_cmphex (read, ==, 0x1);
  walk (selector, 0, 0x0, &read);
  g_assert_cmphex (read, ==, 0x7);
  walk (selector, 0, 0x2, &read);
  g_assert_cmphex (read, ==, 0xb);
  /* Whatever S and A are, Y is high: nothing is read. */
  walk (same, 0, 0x0, &read);
  g_assert_cmphex (read, ==, 0);
}

static void
test_as_printed (void)
{
  const char *bits[] = { "q", NULL };
  g_autoptr (PmTable) table = parse ("\n\n  /CLR CLR q-x q : Q /Q Y-Z\t q\r\n\n X L  H X: L H joined hold\r\n"
                                     "X H X X : /CLR //CLR open toggle\n  X L L X : q /q open /q-x \n", bits);
  guint32 in;

  g_assert_cmpuint (pm_table_n_inputs (table), ==, 4);
  g_assert_cmpuint (pm_table_n_outputs (table), ==, 4);
  g_assert_cmpuint (pm_table_n_rows (table), ==, 3);
  g_assert_cmpstr (pm_table_input (table, 2), ==, "q-x");
  g_assert_cmpstr (pm_table_output (table, 2), ==, "Y-Z");
  g_assert_cmpuint (pm_table_kind (table, 1), ==, PM_COLUMN_PIN);
  g_assert_cmpuint (pm_table_kind (table, 2), ==, PM_COLUMN_JOIN);
  g_assert_cmpuint (pm_table_kind (table, 3), ==, PM_COLUMN_BIT);
  g_assert_cmpstr (pm_table_cell (table, 1, 5), ==, "//CLR");
  g_assert_cmpstr (pm_table_cell (table, 2, 0), ==, "X");
  /* /CLR is the column of that name, //CLR its inverse. */
  in = 0x2 | 0x1;
  g_assert_cmpuint (pm_table_eval (table, 0, in, in), ==, PM_OUT_HIGH);
  g_assert_cmpuint (pm_table_eval (table, 1, in, in), ==, PM_OUT_LOW);
  g_assert_cmpuint (pm_table_eval (table, 3, in, in), ==, PM_OUT_TOGGLE);
  in = 0x8;
  g_assert_cmpuint (pm_table_eval (table, 0, in, in), ==, PM_OUT_HIGH);
  g_assert_cmpuint (pm_table_eval (table, 1, in, in), ==, PM_OUT_LOW);
  g_assert_cmpuint (pm_table_eval (table, 3, in, in), ==, PM_OUT_HIGH);
  pm_table_unref (pm_table_ref (table));
}

/* ---- edges ---- */

enum { PRE = 1, CLR = 2, CLK = 4, D = 8 };

static void
test_edges (void)
{
  const char *bits[] = { "q", NULL };
  /* Fairchild DS006373 (DM74LS74A) */
  g_autoptr (PmTable) table = parse ("/PRE /CLR CLK D : q\n L H X X : H\n H L X X : L\n L L X X : unstable\n"
                                     "H H rise H : H\n H H rise L : L\n H H L X : hold", bits);
  const struct {
    guint32 before, now;
    PmOut   out;
  } steps[] = {
    { PRE | CLR, PRE | CLR | CLK, PM_OUT_LOW },
    { PRE | CLR | D, PRE | CLR | CLK | D, PM_OUT_HIGH },
    { PRE | CLR | CLK | D, PRE | CLR | D, PM_OUT_HOLD },
    { PRE | CLR | CLK, PRE | CLR | CLK | D, PM_OUT_HOLD },
    /* The data move with their edge: as they were before, and as they are now. */
    { PRE | CLR | D, PRE | CLR | CLK, PM_OUT_HIGH },
    { PRE | CLR, PRE | CLR | CLK, PM_OUT_LOW },
    /* Preset and clear act at once and count as they are now. */
    { PRE | CLR | D, PRE | CLK | D, PM_OUT_LOW },
    { PRE | CLR, CLR | CLK, PM_OUT_HIGH },
    { PRE | CLR, 0, PM_OUT_UNSTABLE },
    { PRE | D, PRE | CLR | CLK | D, PM_OUT_HIGH },
    { PRE, PRE | CLR, PM_OUT_HOLD },
  };
  g_autoptr (PmTable) counter = parse ("CLK : q\n fall : toggle", bits);
  g_autoptr (PmTable) latch = parse ("LE D : q\n H X : D\n L X : hold", bits); /* Motorola 5-521 text (LS373) */
  guint32 edges = pm_table_edge_inputs (table);

  g_assert_true (pm_table_has_edge (table));
  g_assert_cmphex (edges, ==, CLK);
  for (guint k = 0; k < G_N_ELEMENTS (steps); k++) {
    g_test_message ("step %u", k);
    g_assert_cmpuint (pm_table_eval (table, 0, steps[k].now, steps[k].before), ==, steps[k].out);
  }
  for (guint32 in = 0; in < 16; in++) {
    PmOut at_rest = pm_table_eval (table, 0, in, in);

    g_assert_true ((at_rest == PM_OUT_HOLD) == ((in & (PRE | CLR)) == (PRE | CLR)));
  }
  g_assert_cmpuint (pm_table_eval (table, 0, PRE | CLR | CLK, (PRE | CLR | D) & edges), ==, PM_OUT_LOW);
  g_assert_cmpuint (pm_table_eval (counter, 0, 0, 1), ==, PM_OUT_TOGGLE);
  g_assert_cmpuint (pm_table_eval (counter, 0, 1, 0), ==, PM_OUT_HOLD);
  g_assert_false (pm_table_has_edge (latch));
  g_assert_cmpuint (pm_table_eval (latch, 0, 3, 0), ==, PM_OUT_HIGH);
  g_assert_cmpuint (pm_table_eval (latch, 0, 2, 3), ==, PM_OUT_HOLD);
}

/* ---- faults ---- */

static const struct {
  const char *text;
  const char *faults; /* all of them, "row: message" a line */
} faulty[] = {
  { "", "0: the table is empty" },
  { " \n\n", "0: the table is empty" },
  { "A B Y\nL L L", "0: the column line needs one colon, between the inputs and the outputs" },
  { "A : B : Y", "0: the column line needs one colon, between the inputs and the outputs" },
  { "A B :\n", "0: there is no output column" },
  { "A : Y", "0: the table has no rows" },
  { "a b c d e f g h i j k l m n o p r : Y", "0: 17 input columns, but a table has at most 16" },
  { "A B A : Y Y\nX X X : L L", "0: the column A stands here twice\n0: the column Y stands here twice" },
  { "E : Y-Y\nX : open", "0: the column Y-Y joins a pin to itself" },
  { "A B : Y\nL L : H\n\nH : L\nH X H : L H\nX H L", "2: 1 : 1 cells stand here under 2 : 1 columns\n"
    "3: 3 : 2 cells stand here under 2 : 1 columns\n4: a row needs one colon, between its input and its output cells" },
  { "A : Y\nh : L\nL : Q", "1: A says “h”, but an input is H, L, X, rise or fall\n"
    "2: Y says “Q”, but an output is H, L, Z, or an input column or /input column" },
  { "A : Y q Y-Z\nH : hold Z H\nL : joined open A",
    "1: Y says “hold”, but an output is H, L, Z, or an input column or /input column\n"
    "1: q says “Z”, but a stored bit is H, L, hold, toggle, unstable, or an input column or /input column\n"
    "1: Y-Z says “H”, but a pair of pins is joined or open\n"
    "2: Y says “joined”, but an output is H, L, Z, or an input column or /input column\n"
    "2: q says “open”, but a stored bit is H, L, hold, toggle, unstable, or an input column or /input column\n"
    "2: Y-Z says “A”, but a pair of pins is joined or open" },
  { "/G S A B : Y\nH X X X : L\nL L X X : A\nL H X H : B\n", "0: no row says what happens for /G=L S=H B=L" },
  { "A B : Y\nL X : H\nX L : L\nH H : L", "2: Y is not what row 1 says of it for A=L B=L" },
  { "A B : Y\nX X : A\nH X : H\nX H : B", "3: Y is not what row 1 says of it for A=L B=H" },
  { "A : Y\nX : H\nX : L", "2: Y is not what row 1 says of it" },
  { "A : Y\nH : H\nL : L\nX : /A",
    "3: Y is not what row 1 says of it for A=H\n3: Y is not what row 2 says of it for A=L" },
  { "A : Y\nL : Z\nX : L", "2: Y is not what row 1 says of it for A=L\n" },
  { "LE D : q\nH X : D\nX L : hold\nL H : hold", "2: q is not what row 1 says of it for LE=H D=L" },
  { "C D : Y\nrise X : D\n", "0: Y is no stored bit, but the table names an edge" },
  { "C /R D : q\nrise X X : D\nX L X : L", "2: q is not what row 1 says of it for C=rise /R=L D=H" },
  { "C D : q\nrise X : H\nX H : L", "2: q is not what row 1 says of it for C=rise D=H" },
};

static void
test_faults (void)
{
  const char *bits[] = { "q", NULL };

  for (guint k = 0; k < G_N_ELEMENTS (faulty); k++) {
    g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) pm_table_fault_free);
    g_autoptr (PmTable) table = pm_table_parse (faulty[k].text, bits, faults);
    g_autoptr (GString) said = g_string_new (NULL);
    g_autofree char *want = g_strchomp (g_strdup (faulty[k].faults));

    g_assert_null (table);
    for (guint f = 0; f < faults->len; f++) {
      PmTableFault *fault = faults->pdata[f];

      g_string_append_printf (said, "%s%u: %s", f > 0 ? "\n" : "", fault->row, fault->message);
    }
    g_assert_cmpstr (said->str, ==, want);
  }
}

/* ---- random tables ---- */

/* Rows as a random table has them, kept apart from what the reader makes of them. */
typedef struct {
  guint n_inputs, n_rows;
  char  cells[40][6];
  char  outs[40];
} Printed;

static void
make_printed (GRand *rand, Printed *printed)
{
  printed->n_inputs = g_rand_int_range (rand, 1, 6);
  printed->n_rows = g_rand_int_range (rand, 1, 12);
  for (guint r = 0; r < printed->n_rows; r++) {
    for (guint k = 0; k < printed->n_inputs; k++)
      printed->cells[r][k] = "LHXX"[g_rand_int_range (rand, 0, 4)];
    /* '0' + k is a copy of input k, 'a' + k its inverse. */
    printed->outs[r] = "LLLLHHHHZ"[g_rand_int_range (rand, 0, 9)];
    if (g_rand_int_range (rand, 0, 4) == 0)
      printed->outs[r] = (g_rand_boolean (rand) ? '0' : 'a') + g_rand_int_range (rand, 0, printed->n_inputs);
  }
}

static char *
print (const Printed *printed)
{
  GString *text = g_string_new (NULL);

  for (guint k = 0; k < printed->n_inputs; k++)
    g_string_append_printf (text, "i%u ", k);
  g_string_append (text, ": Y\n");
  for (guint r = 0; r < printed->n_rows; r++) {
    char out = printed->outs[r];

    for (guint k = 0; k < printed->n_inputs; k++)
      g_string_append_printf (text, "%c ", printed->cells[r][k]);
    if (g_ascii_isdigit (out))
      g_string_append_printf (text, ": i%c\n", out);
    else if (g_ascii_islower (out))
      g_string_append_printf (text, ": /i%c\n", out - 'a' + '0');
    else
      g_string_append_printf (text, ": %c\n", out);
  }
  return g_string_free (text, FALSE);
}

/* What the rows say together: a letter, '?' for nothing, '!' for two things. */
static char
say (const Printed *printed, guint32 in)
{
  char said = '?';

  for (guint r = 0; r < printed->n_rows; r++) {
    char out = printed->outs[r];
    gboolean matches = TRUE;

    for (guint k = 0; k < printed->n_inputs; k++)
      matches = matches && (printed->cells[r][k] == 'X' || printed->cells[r][k] == "LH"[IN (k)]);
    if (!matches)
      continue;
    if (g_ascii_isdigit (out))
      out = "LH"[IN (out - '0')];
    else if (g_ascii_islower (out))
      out = "HL"[IN (out - 'a')];
    said = said == '?' || said == out ? out : '!';
  }
  return said;
}

static void
test_random (void)
{
  guint n_good = 0;

  for (guint seed = 0; seed < 20000; seed++) {
    g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
    g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) pm_table_fault_free);
    g_autoptr (PmTable) table = NULL;
    g_autofree char *text = NULL;
    gboolean gap = FALSE, clash = FALSE, said_gap = FALSE, said_clash = FALSE;
    Printed printed;

    make_printed (rand, &printed);
    text = print (&printed);
    table = pm_table_parse (text, NULL, faults);
    for (guint32 in = 0; in < 1u << printed.n_inputs; in++) {
      char said = say (&printed, in);

      gap = gap || said == '?';
      clash = clash || said == '!';
    }
    for (guint f = 0; f < faults->len; f++) {
      said_gap = said_gap || ((PmTableFault *) faults->pdata[f])->row == 0;
      said_clash = said_clash || ((PmTableFault *) faults->pdata[f])->row != 0;
    }
    g_assert_true (gap == said_gap && clash == said_clash);
    for (guint32 in = 0; table != NULL && in < 1u << printed.n_inputs; in++) {
      guint32 read, unread;
      PmOut out = walk (table, 0, in, &read);

      unread = ~read & ((1u << printed.n_inputs) - 1);
      g_assert_cmpuint ("LHZ"[out], ==, say (&printed, in));
      g_assert_cmpuint (pm_table_eval (table, 0, in, in), ==, out);
      /* What was not read does not matter. */
      g_assert_cmpuint ("LHZ"[out], ==, say (&printed, in ^ (unread & seed)));
    }
    n_good += table != NULL;
  }
  g_assert_cmpuint (n_good, >, 500);
}

/* As many inputs as a table may have, and rows that split them all. */
static void
test_wide (void)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (PmTable) table = NULL;
  guint32 read;

  for (guint k = 0; k < PM_TABLE_MAX_INPUTS; k++)
    g_string_append_printf (text, "i%u ", k);
  g_string_append (text, ": Y\n");
  /* The first low input says which input is copied; all high is off. */
  for (guint r = 0; r <= PM_TABLE_MAX_INPUTS; r++) {
    for (guint k = 0; k < PM_TABLE_MAX_INPUTS; k++)
      g_string_append (text, k < r ? "H " : k == r ? "L " : "X ");
    if (r < PM_TABLE_MAX_INPUTS)
      g_string_append_printf (text, ": i%u\n", PM_TABLE_MAX_INPUTS - 1 - r);
    else
      g_string_append (text, ": Z\n");
  }
  table = parse (text->str, NULL);
  for (guint32 in = 0; in < 1u << PM_TABLE_MAX_INPUTS; in++)
    g_assert_cmpuint (walk (table, 0, in, &read), ==, pm_table_eval (table, 0, in, in));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/table/published", test_published);
  g_test_add_func ("/table/reads-little", test_reads_little);
  g_test_add_func ("/table/as-printed", test_as_printed);
  g_test_add_func ("/table/edges", test_edges);
  g_test_add_func ("/table/faults", test_faults);
  g_test_add_func ("/table/random", test_random);
  g_test_add_func ("/table/wide", test_wide);
  return g_test_run ();
}
