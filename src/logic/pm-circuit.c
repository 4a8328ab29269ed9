/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Building a circuit: rows are appended to arrays, and sealing sorts what stands at each place into one list, so that
 * binding a case walks memory in order and never looks a thing up. */
#include "pm-circuit.h"
#include "pm-bound-private.h"

#define LEAST_OHMS 1e-3

static guint32
append (GArray *array, gconstpointer value)
{
  g_array_append_vals (array, value, 1);
  return array->len - 1;
}

/* Input columns that the decision tree of a column reads. A column that hangs on edges has no tree: all of them. */
static guint32
tree_reads (const PmTable *table, guint32 column, guint32 node)
{
  PmOut out;
  guint input;
  guint32 low, high;
  if (pm_table_node (table, column, node, &out, &input, &low, &high))
    return 0;
  return 1u << input | tree_reads (table, column, low) | tree_reads (table, column, high);
}

static void
check_place (const PmCircuit *circuit, guint32 place)
{
  g_assert (!circuit->sealed);
  g_assert (place < circuit->n_places);
}

PmCircuit *
pm_circuit_new (void)
{
  PmCircuit *circuit = g_new0 (PmCircuit, 1);
  circuit->ends = g_array_new (FALSE, FALSE, sizeof (PmEnds));
  circuit->joints = g_array_new (FALSE, FALSE, sizeof (PmJoint));
  circuit->inputs = g_array_new (FALSE, FALSE, sizeof (PmInput));
  circuit->resistors = g_array_new (FALSE, FALSE, sizeof (PmResistor));
  circuit->rails = g_array_new (FALSE, FALSE, sizeof (PmRail));
  circuit->sources = g_array_new (FALSE, FALSE, sizeof (PmSource));
  circuit->outputs = g_array_new (FALSE, FALSE, sizeof (PmOutput));
  circuit->sections = g_array_new (FALSE, FALSE, sizeof (PmSection));
  circuit->refs = g_array_new (FALSE, FALSE, sizeof (guint32));
  return circuit;
}

void
pm_circuit_free (PmCircuit *circuit)
{
  if (circuit == NULL)
    return;
  for (guint32 i = 0; i < circuit->sections->len; i++)
    pm_table_unref (PM_AT (circuit->sections, PmSection, i)->table);
  GArray *arrays[] = {circuit->ends,    circuit->joints,  circuit->inputs,   circuit->resistors, circuit->rails,
                      circuit->sources, circuit->outputs, circuit->sections, circuit->refs};
  for (guint i = 0; i < G_N_ELEMENTS (arrays); i++)
    g_array_unref (arrays[i]);
  g_free (circuit->item_first);
  g_free (circuit->items);
  g_free (circuit->users);
  g_free (circuit->identity);
  g_free (circuit);
}

guint32
pm_circuit_add_place (PmCircuit *circuit)
{
  g_assert (!circuit->sealed);
  return circuit->n_places++;
}

void
pm_circuit_add_places (PmCircuit *circuit, guint32 n)
{
  g_assert (!circuit->sealed);
  circuit->n_places += n;
}

static guint32
add_joint (PmCircuit *circuit, guint32 a, guint32 b, PmJointState usual, guint32 output)
{
  check_place (circuit, a);
  check_place (circuit, b);
  append (circuit->ends, &(PmEnds){a, b});
  return append (circuit->joints, &(PmJoint){.usual = usual, .output = output});
}

guint32
pm_circuit_add_joint (PmCircuit *circuit, guint32 a, guint32 b, PmJointState usual)
{
  g_assert (usual != PM_JOINT_CONTROLLED);
  return add_joint (circuit, a, b, usual, PM_NONE);
}

guint32
pm_circuit_add_input (PmCircuit *circuit, guint32 place, const PmReceiver *receiver)
{
  check_place (circuit, place);
  return append (circuit->inputs, &(PmInput){.place = place, .receiver = *receiver});
}

guint32
pm_circuit_add_resistor (PmCircuit *circuit, guint32 a, guint32 b, double ohms)
{
  check_place (circuit, a);
  check_place (circuit, b);
  return append (circuit->resistors, &(PmResistor){a, b, MAX (ohms, LEAST_OHMS)});
}

guint32
pm_circuit_add_rail (PmCircuit *circuit, guint32 place, double volts)
{
  check_place (circuit, place);
  return append (circuit->rails, &(PmRail){place, volts});
}

guint32
pm_circuit_add_source (PmCircuit *circuit, guint32 place, PmSourceValue usual)
{
  check_place (circuit, place);
  return append (circuit->sources, &(PmSource){.place = place, .usual = usual});
}

guint32
pm_circuit_add_bit (PmCircuit *circuit)
{
  g_assert (!circuit->sealed);
  return circuit->n_bits++;
}

guint32
pm_circuit_add_section (PmCircuit *circuit, PmTable *table, const guint32 *inputs, const guint32 *outputs,
                        const guint32 *others, guint32 supply, guint32 ground, PmUnpowered unpowered,
                        guint32 *first_joint)
{
  g_assert (!circuit->sealed);
  guint32 number = circuit->sections->len;
  PmSection section = {.table = pm_table_ref (table),
                       .first_ref = circuit->refs->len,
                       .n_refs = pm_table_n_inputs (table),
                       .first_output = circuit->outputs->len,
                       .n_outputs = pm_table_n_outputs (table),
                       .supply = supply,
                       .ground = ground,
                       .unpowered = unpowered};
  for (guint32 i = 0; i < section.n_refs; i++)
    g_assert (PM_IS_BIT (inputs[i]) ? PM_BIT_OF (inputs[i]) < circuit->n_bits : inputs[i] < circuit->inputs->len);
  if (section.n_refs > 0)
    g_array_append_vals (circuit->refs, inputs, section.n_refs);
  if (first_joint != NULL)
    *first_joint = circuit->joints->len;
  for (guint32 i = 0; i < section.n_outputs; i++) {
    PmOutput output = {.section = number,
                       .column = i,
                       .place = outputs[i],
                       .other = PM_NONE,
                       .joint = PM_NONE,
                       .kind = pm_table_kind (table, i)};
    if (output.kind == PM_COLUMN_BIT && PM_IS_BIT (output.place))
      output.place = PM_BIT_OF (output.place);
    if (output.kind == PM_COLUMN_JOIN) {
      output.other = others[i];
      output.joint = add_joint (circuit, output.place, output.other, PM_JOINT_CONTROLLED, circuit->outputs->len);
    }
    if (output.kind != PM_COLUMN_BIT)
      output.reads = tree_reads (table, i, 0);
    append (circuit->outputs, &output);
  }
  return append (circuit->sections, &section);
}

/* Calls for each thing at a place, in two passes: counting, then placing. */
static void
sort_item (PmCircuit *circuit, gboolean placing, PmItemKind kind, guint32 place, guint32 index, guint32 other)
{
  if (place == PM_NONE)
    return;
  g_assert (place < circuit->n_places);
  if (placing)
    circuit->items[--circuit->item_first[place]] = (PmItem){.kind = kind, .index = index, .other = other};
  else
    circuit->item_first[place]++;
}

static void
sort_items (PmCircuit *circuit, gboolean placing)
{
  for (guint32 i = 0; i < circuit->inputs->len; i++)
    sort_item (circuit, placing, PM_ITEM_INPUT, PM_AT (circuit->inputs, PmInput, i)->place, i, PM_NONE);
  for (guint32 i = 0; i < circuit->outputs->len; i++) {
    const PmOutput *output = PM_AT (circuit->outputs, PmOutput, i);
    if (output->kind == PM_COLUMN_PIN)
      sort_item (circuit, placing, PM_ITEM_OUTPUT, output->place, i, PM_NONE);
  }
  for (guint32 i = 0; i < circuit->resistors->len; i++) {
    const PmResistor *resistor = PM_AT (circuit->resistors, PmResistor, i);
    sort_item (circuit, placing, PM_ITEM_RESISTOR, resistor->a, i, resistor->b);
    sort_item (circuit, placing, PM_ITEM_RESISTOR, resistor->b, i, resistor->a);
  }
  for (guint32 i = 0; i < circuit->rails->len; i++)
    sort_item (circuit, placing, PM_ITEM_RAIL, PM_AT (circuit->rails, PmRail, i)->place, i, PM_NONE);
  for (guint32 i = 0; i < circuit->sources->len; i++)
    sort_item (circuit, placing, PM_ITEM_SOURCE, PM_AT (circuit->sources, PmSource, i)->place, i, PM_NONE);
}

static void
sort_users (PmCircuit *circuit, gboolean placing)
{
  for (guint32 s = 0; s < circuit->sections->len; s++) {
    const PmSection *section = PM_AT (circuit->sections, PmSection, s);
    for (guint32 i = 0; i < section->n_refs; i++) {
      guint32 ref = *PM_AT (circuit->refs, guint32, section->first_ref + i);
      if (PM_IS_BIT (ref))
        continue;
      PmInput *input = PM_AT (circuit->inputs, PmInput, ref);
      if (placing)
        circuit->users[--input->first_user] = s;
      else
        input->n_users++;
    }
  }
}

void
pm_circuit_seal (PmCircuit *circuit)
{
  g_assert (!circuit->sealed);
  circuit->sealed = TRUE;
  circuit->item_first = g_new0 (guint32, circuit->n_places + 1);
  sort_items (circuit, FALSE);
  for (guint32 i = 1; i <= circuit->n_places; i++)
    circuit->item_first[i] += circuit->item_first[i - 1];
  circuit->items = g_new0 (PmItem, circuit->item_first[circuit->n_places] + 1);
  sort_items (circuit, TRUE);

  guint32 n_users = 0;
  sort_users (circuit, FALSE);
  for (guint32 i = 0; i < circuit->inputs->len; i++) {
    PmInput *input = PM_AT (circuit->inputs, PmInput, i);
    n_users += input->n_users;
    input->first_user = n_users;
  }
  circuit->users = g_new0 (guint32, n_users + 1);
  sort_users (circuit, TRUE);

  circuit->identity = g_new (guint32, circuit->n_places + 1);
  for (guint32 i = 0; i < circuit->n_places; i++)
    circuit->identity[i] = i;
}

guint32
pm_circuit_n_places (const PmCircuit *circuit)
{
  return circuit->n_places;
}

guint32
pm_circuit_n_joints (const PmCircuit *circuit)
{
  return circuit->joints->len;
}

guint32
pm_circuit_n_inputs (const PmCircuit *circuit)
{
  return circuit->inputs->len;
}

guint32
pm_circuit_n_sources (const PmCircuit *circuit)
{
  return circuit->sources->len;
}

guint32
pm_circuit_n_rails (const PmCircuit *circuit)
{
  return circuit->rails->len;
}

guint32
pm_circuit_n_bits (const PmCircuit *circuit)
{
  return circuit->n_bits;
}

guint32
pm_circuit_n_sections (const PmCircuit *circuit)
{
  return circuit->sections->len;
}

void
pm_circuit_joint_ends (const PmCircuit *circuit, guint32 joint, guint32 *a, guint32 *b)
{
  g_assert (joint < circuit->ends->len);
  const PmEnds *ends = PM_AT (circuit->ends, PmEnds, joint);
  *a = ends->a;
  *b = ends->b;
}

guint32
pm_circuit_input_place (const PmCircuit *circuit, guint32 input)
{
  g_assert (input < circuit->inputs->len);
  return PM_AT (circuit->inputs, PmInput, input)->place;
}

PmCase *
pm_case_new (const PmCircuit *circuit)
{
  PmCase *state = g_new0 (PmCase, 1);
  state->n_joints = circuit->joints->len;
  state->n_sources = circuit->sources->len;
  state->n_rails = circuit->rails->len;
  state->n_sections = circuit->sections->len;
  state->n_bits = circuit->n_bits;
  state->joints = g_new0 (guint8, state->n_joints + 1);
  state->sources = g_new0 (guint8, state->n_sources + 1);
  state->rails = g_new0 (guint8, state->n_rails + 1);
  state->sections = g_new0 (guint8, state->n_sections + 1);
  state->bits = g_new0 (guint8, state->n_bits + 1);
  for (guint32 i = 0; i < state->n_joints; i++)
    state->joints[i] = PM_AT (circuit->joints, PmJoint, i)->usual;
  for (guint32 i = 0; i < state->n_sources; i++)
    state->sources[i] = PM_AT (circuit->sources, PmSource, i)->usual;
  memset (state->rails, TRUE, state->n_rails);
  memset (state->sections, TRUE, state->n_sections);
  memset (state->bits, 2, state->n_bits);
  return state;
}

PmCase *
pm_case_copy (const PmCase *from)
{
  PmCase *state = g_memdup2 (from, sizeof *from);
  state->joints = g_memdup2 (from->joints, from->n_joints + 1);
  state->sources = g_memdup2 (from->sources, from->n_sources + 1);
  state->rails = g_memdup2 (from->rails, from->n_rails + 1);
  state->sections = g_memdup2 (from->sections, from->n_sections + 1);
  state->bits = g_memdup2 (from->bits, from->n_bits + 1);
  return state;
}

void
pm_case_free (PmCase *state)
{
  if (state == NULL)
    return;
  g_free (state->joints);
  g_free (state->sources);
  g_free (state->rails);
  g_free (state->sections);
  g_free (state->bits);
  g_free (state);
}
