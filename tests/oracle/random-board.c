/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making random boards: nets first, then parts whose pins are wired to them, mostly as one would. */
#include "random-board.h"

/* Parts, and how often they are taken. The first of a pair with bit sets what the second reads. */
static const struct {
  const char *text;
  guint       weight;
  gboolean    bit;
} parts[] = {
  { "/G S A B : Y\n H X X X : L\n L L L X : L\n L L H X : H\n L H X L : L\n L H X H : H", 8 },   /* 157 */
  { "/OC S A B : Y\n H X X X : Z\n L L X X : A\n L H X X : B", 3 },                              /* 257 */
  { "/G B A C0 C1 C2 C3 : Y\n H X X X X X X : L\n L L L X X X X : C0\n L L H X X X X : C1\n"
    "L H L X X X X : C2\n L H H X X X X : C3", 2 },                                              /* 153 */
  { "/G B A : Y0 Y1 Y2 Y3\n H X X : H H H H\n L L L : L H H H\n L L H : H L H H\n L H L : H H L H\n"
    "L H H : H H H L", 3 },                                                                      /* 139 */
  { "A B : Y\n L X : H\n X L : H\n H H : L", 5 },                                                /* 00 */
  { "A B : Y\n L X : Z\n X L : Z\n H H : L", 2 },                                                /* 03 */
  { "A : Y\n X : /A", 4 },                                                                       /* 04 */
  { "A : Y\n H : Z\n L : L", 3 },                                                                /* 07 */
  { "A B : Y\n L L : L\n H X : H\n X H : H", 2 },                                                /* 32 */
  { "A B : Y\n L L : L\n L H : H\n H L : H\n H H : L", 2 },                                      /* 86 */
  { "A C : Y\n L L : L\n H L : H\n X H : Z", 4 },                                                /* 125 */
  { "E S : Z-Y0 Z-Y1\n L L : joined open\n L H : open joined\n H X : open open", 5 },            /* 4053 */
  { "E : Y-Z\n H : joined\n L : open", 3 },                                                      /* 4066 */
  { "/OE S : A-B1 A-B2\n L L : joined open\n L H : open joined\n H X : open open", 3 },          /* 3257 */
  { "SEL MOT : RDY\n L L : L\n H X : Z\n X H : Z", 5 },                                          /* a drive */
  { "SEL : LAMP\n L : H\n H : L", 5 },                                                           /* a drive's lamp */
  { "/PRE /CLR CLK D : q\n L H X X : H\n H L X X : L\n L L X X : unstable\n H H rise X : D", 3, TRUE },
  { "/PRE /CLR q : Q /Q\n L H X : H L\n H L X : L H\n L L X : H H\n H H X : q /q", 0 },          /* 74 */
};
enum { PART_NAND = 4, PART_NOT = 6, PART_CONTACT = 12 };

static const PmReceiver receivers[] = {
  { 0.8, 2.0, 0.4e-3, 20e-6, TRUE },  { 0.8, 2.0, 1.6e-3, 40e-6, TRUE },  { 1.35, 3.15, 0, 0, FALSE },
  { 0.8, 2.0, 1e-6, 1e-6, FALSE },    { 0.8, 2.0, 0.1e-3, 20e-6, TRUE },
};

static const double ohms[] = { 150, 220, 330, 1e3, 1e3, 2.2e3, 4.7e3, 10e3, 10e3, 47e3 };

typedef struct {
  GRand       *rand;
  GPtrArray   *tables;
  RandomBoard *board;
  PmCircuit   *circuit;
  GArray      *nets;     /* guint32 places; the first few are supplies */
  guint        n_supplies, n_unknown;
} Maker;

GPtrArray *
random_board_tables (void)
{
  GPtrArray *tables = g_ptr_array_new_with_free_func ((GDestroyNotify) pm_table_unref);
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) pm_table_fault_free);
  const char *bits[] = { "q", NULL };

  for (guint k = 0; k < G_N_ELEMENTS (parts); k++)
    g_ptr_array_add (tables, pm_table_parse (parts[k].text, bits, faults));
  g_assert_cmpuint (faults->len, ==, 0);
  return tables;
}

static guint
upto (Maker *maker, guint n)
{
  return g_rand_int_range (maker->rand, 0, n);
}

static gboolean
chance (Maker *maker, guint percent)
{
  return upto (maker, 100) < percent;
}

static guint32
net (Maker *maker, guint k)
{
  return g_array_index (maker->nets, guint32, k);
}

static guint32
new_net (Maker *maker)
{
  guint32 place = pm_circuit_add_place (maker->circuit);

  g_array_append_val (maker->nets, place);
  return place;
}

static void
ask (Maker *maker, PmAskKind kind, guint32 index)
{
  PmAsk one = { kind, index };

  g_array_append_val (maker->board->asks, one);
}

static void
join (Maker *maker, guint32 a, guint32 b)
{
  PmJointState state = PM_JOINT_CLOSED;

  if (chance (maker, 3))
    state = PM_JOINT_OPEN;
  else if (chance (maker, 3) && maker->n_unknown < 3)
    state = PM_JOINT_UNKNOWN;
  maker->n_unknown += state == PM_JOINT_UNKNOWN;
  pm_circuit_add_joint (maker->circuit, a, b, state);
}

/* A supply now and then, nothing at times, mostly a wire. */
static guint32
any_net (Maker *maker)
{
  return chance (maker, 8) ? net (maker, upto (maker, maker->n_supplies))
                           : net (maker, maker->n_supplies + upto (maker, maker->nets->len - maker->n_supplies));
}

static guint32
add_input (Maker *maker, guint32 at)
{
  guint32 place = pm_circuit_add_place (maker->circuit);
  guint32 input = pm_circuit_add_input (maker->circuit, place, &receivers[upto (maker, G_N_ELEMENTS (receivers))]);

  if (at != PM_NONE && !chance (maker, 4))
    join (maker, at, place);
  ask (maker, PM_ASK_READ, input);
  return input;
}

static guint32
add_output (Maker *maker, guint32 at)
{
  guint32 place = pm_circuit_add_place (maker->circuit);

  join (maker, at, place);
  ask (maker, PM_ASK_LEVEL, place);
  return place;
}

static guint32
add_supply (Maker *maker, gboolean ground)
{
  guint32 place;

  if (chance (maker, 30))
    return PM_NONE;
  place = pm_circuit_add_place (maker->circuit);
  pm_circuit_add_joint (maker->circuit, place, net (maker, ground ? 0 : 1 + upto (maker, 2)),
                        chance (maker, 2) ? PM_JOINT_OPEN : PM_JOINT_CLOSED);
  return place;
}

/* Inputs at the nets given, then at any; outputs at the net given, then at new ones or any. */
static void
add_section (Maker *maker, guint part, const guint32 *at, guint n_at, guint32 drives, guint32 bit)
{
  PmTable *table = maker->tables->pdata[part];
  guint n_inputs = pm_table_n_inputs (table), n_outputs = pm_table_n_outputs (table);
  guint32 inputs[PM_TABLE_MAX_INPUTS], outputs[4], others[4], first_joint;
  guint32 supply = add_supply (maker, FALSE), ground = add_supply (maker, TRUE);

  for (guint k = 0; k < n_inputs; k++) {
    gboolean stored = bit != PM_NONE && g_str_equal (pm_table_input (table, k), "q");

    inputs[k] = stored ? PM_BIT (bit) : add_input (maker, k < n_at ? at[k] : any_net (maker));
  }
  for (guint i = 0; i < n_outputs; i++) {
    PmColumnKind kind = pm_table_kind (table, i);

    others[i] = PM_NONE;
    if (kind == PM_COLUMN_BIT)
      outputs[i] = bit;
    else if (kind == PM_COLUMN_JOIN && i > 0)
      outputs[i] = outputs[0];
    else if (i == 0 && drives != PM_NONE)
      outputs[i] = add_output (maker, drives);
    else
      outputs[i] = add_output (maker, chance (maker, 70) ? new_net (maker) : any_net (maker));
    if (kind == PM_COLUMN_JOIN)
      others[i] = add_output (maker, chance (maker, 30) ? new_net (maker) : any_net (maker));
  }
  pm_circuit_add_section (maker->circuit, table, inputs, outputs, others, supply, ground,
                          chance (maker, 50) ? PM_UNPOWERED_CLAMPS : PM_UNPOWERED_OFF, &first_joint);
  for (guint i = 0, k = 0; i < n_outputs; i++) {
    if (pm_table_kind (table, i) == PM_COLUMN_JOIN)
      ask (maker, PM_ASK_JOINT, first_joint + k++);
  }
}

static void
add_part (Maker *maker)
{
  guint total = 0, pick, part;
  guint32 bit = PM_NONE;

  for (part = 0; part < G_N_ELEMENTS (parts); part++)
    total += parts[part].weight;
  pick = upto (maker, total);
  for (part = 0; pick >= parts[part].weight; part++)
    pick -= parts[part].weight;
  if (parts[part].bit) {
    bit = pm_circuit_add_bit (maker->circuit);
    add_section (maker, part++, NULL, 0, PM_NONE, bit);
  }
  add_section (maker, part, NULL, 0, PM_NONE, bit);
}

/* Two gates that hold each other, or a ring of one to three inverters. */
static void
add_loop (Maker *maker)
{
  guint32 a = new_net (maker), b = new_net (maker), c;

  switch (upto (maker, 4)) {
  case 0:
  case 1:
    add_section (maker, PART_NAND, (guint32[]){ any_net (maker), b }, 2, a, PM_NONE);
    add_section (maker, PART_NAND, (guint32[]){ any_net (maker), a }, 2, b, PM_NONE);
    break;
  case 2:
    add_section (maker, PART_NAND, (guint32[]){ any_net (maker), a }, 2, a, PM_NONE);
    break;
  default:
    c = chance (maker, 50) ? b : new_net (maker);
    add_section (maker, PART_NOT, &a, 1, b, PM_NONE);
    add_section (maker, PART_NOT, &b, 1, c == b ? a : c, PM_NONE);
    if (c != b)
      add_section (maker, PART_NOT, &c, 1, a, PM_NONE);
    break;
  }
}

/* A toggle: one of its two contacts closed, none, both or not known which. */
static void
add_toggle (Maker *maker)
{
  guint32 common = any_net (maker);
  guint at = upto (maker, 8);

  for (guint k = 0; k < 2; k++) {
    PmJointState state = at == k || at == 5 ? PM_JOINT_CLOSED : PM_JOINT_OPEN;

    if (at >= 6 && maker->n_unknown < 3) {
      state = PM_JOINT_UNKNOWN;
      maker->n_unknown++;
    }
    ask (maker, PM_ASK_JOINT,
         pm_circuit_add_joint (maker->circuit, common, chance (maker, 40) ? new_net (maker) : any_net (maker), state));
  }
}

static void
add_resistor (Maker *maker)
{
  guint32 place = pm_circuit_add_place (maker->circuit), end = pm_circuit_add_place (maker->circuit);

  join (maker, any_net (maker), place);
  join (maker, chance (maker, 93) ? net (maker, upto (maker, maker->n_supplies)) : any_net (maker), end);
  pm_circuit_add_resistor (maker->circuit, place, end, ohms[upto (maker, G_N_ELEMENTS (ohms))]);
}

/* A resistor whose far end comes to a supply only through a bilateral switch or a lever; the switch may be
 * controlled by the very net that the resistor pulls. */
static void
add_switched_resistor (Maker *maker)
{
  guint32 pin = pm_circuit_add_place (maker->circuit), far = pm_circuit_add_place (maker->circuit);
  guint32 near = any_net (maker), supply = net (maker, upto (maker, maker->n_supplies)), end, input;

  join (maker, near, pin);
  pm_circuit_add_resistor (maker->circuit, pin, far, ohms[upto (maker, G_N_ELEMENTS (ohms))]);
  if (chance (maker, 30)) {
    join (maker, far, supply);
    return;
  }
  input = add_input (maker, chance (maker, 40) ? near : any_net (maker));
  end = add_output (maker, supply);
  pm_circuit_add_section (maker->circuit, maker->tables->pdata[PART_CONTACT], &input, &far, &end, PM_NONE, PM_NONE,
                          PM_UNPOWERED_OFF, NULL);
}

static void
add_lines (Maker *maker)
{
  static const guint8 values[] = { PM_SOURCE_LOW,  PM_SOURCE_HIGH, PM_SOURCE_LOW,
                                   PM_SOURCE_HIGH, PM_SOURCE_FREE, PM_SOURCE_OFF,
                                   PM_SOURCE_WEAK_HIGH, PM_SOURCE_WEAK_LOW, PM_SOURCE_CLAMP };

  for (guint n = 2 + upto (maker, 4); n > 0; n--)
    pm_circuit_add_source (maker->circuit, new_net (maker), values[upto (maker, G_N_ELEMENTS (values))]);
}

/* What a case can have otherwise than usual. */
static void
vary (Maker *maker)
{
  PmCase *state = maker->board->state;

  for (guint32 k = 0; k < state->n_rails; k++)
    state->rails[k] = !chance (maker, 12);
  for (guint32 k = 0; k < state->n_sections; k++)
    state->sections[k] = !chance (maker, 3);
  for (guint32 k = 0; k < state->n_bits; k++)
    state->bits[k] = upto (maker, 3);
  for (guint32 k = 0; k < state->n_joints; k++) {
    if (state->joints[k] == PM_JOINT_CONTROLLED && chance (maker, 4))
      state->joints[k] = chance (maker, 50) ? PM_JOINT_OPEN : PM_JOINT_CLOSED;
  }
}

RandomBoard *
random_board_new (GPtrArray *tables, guint32 seed)
{
  static const double volts[] = { 0, 5, 5, 12 };
  RandomBoard *board = g_new0 (RandomBoard, 1);
  Maker maker = { .rand = g_rand_new_with_seed (seed), .tables = tables, .board = board };

  board->circuit = maker.circuit = pm_circuit_new ();
  board->asks = g_array_new (FALSE, FALSE, sizeof (PmAsk));
  maker.nets = g_array_new (FALSE, FALSE, sizeof (guint32));
  maker.n_supplies = chance (&maker, 10) ? 4 : 3;
  for (guint k = 0; k < maker.n_supplies; k++)
    pm_circuit_add_rail (maker.circuit, new_net (&maker), volts[k]);
  add_lines (&maker);
  for (guint n = 2 + upto (&maker, 5); n > 0; n--)
    add_part (&maker);
  if (chance (&maker, 30))
    add_loop (&maker);
  for (guint n = upto (&maker, 3); n > 0; n--)
    add_toggle (&maker);
  for (guint n = upto (&maker, 5); n > 0; n--)
    add_resistor (&maker);
  for (guint n = upto (&maker, 3); n > 1; n--)
    add_switched_resistor (&maker);
  for (guint n = 1 + upto (&maker, 2); n > 0; n--)
    add_input (&maker, any_net (&maker));
  for (guint k = 0; k < maker.nets->len; k++)
    ask (&maker, PM_ASK_LEVEL, net (&maker, k));
  pm_circuit_seal (maker.circuit);
  board->state = pm_case_new (maker.circuit);
  vary (&maker);
  g_array_unref (maker.nets);
  g_rand_free (maker.rand);
  return board;
}

void
random_board_free (RandomBoard *board)
{
  if (board == NULL)
    return;
  pm_case_free (board->state);
  pm_circuit_free (board->circuit);
  g_array_unref (board->asks);
  g_free (board);
}
