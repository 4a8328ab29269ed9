/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Records what is added to circuits.  The linker sends every call of pm_circuit_new, _free and _add_... to the __wrap_
 * function here, which calls the real one; the records of all living circuits stand in one table of this program. */
#include "oracle.h"

static GHashTable *records; /* PmCircuit -> OracleRecord */

/* One line for each wrapped function: what the linker calls it, and what it wraps. */
#define WRAPPED(type, name, arguments) \
  type __real_pm_circuit_##name arguments; \
  type __wrap_pm_circuit_##name arguments

WRAPPED (PmCircuit *, new, (void));
WRAPPED (void, free, (PmCircuit * circuit));
WRAPPED (guint32, add_place, (PmCircuit * circuit));
WRAPPED (void, add_places, (PmCircuit * circuit, guint32 n));
WRAPPED (guint32, add_joint, (PmCircuit * circuit, guint32 a, guint32 b, PmJointState usual));
WRAPPED (guint32, add_input, (PmCircuit * circuit, guint32 place, const PmReceiver *receiver));
WRAPPED (guint32, add_resistor, (PmCircuit * circuit, guint32 a, guint32 b, double ohms));
WRAPPED (guint32, add_rail, (PmCircuit * circuit, guint32 place, double volts));
WRAPPED (guint32, add_source, (PmCircuit * circuit, guint32 place, PmSourceValue usual));
WRAPPED (guint32, add_bit, (PmCircuit * circuit));
WRAPPED (guint32, add_section,
         (PmCircuit * circuit, PmTable *table, const guint32 *inputs, const guint32 *outputs, const guint32 *others,
          guint32 supply, guint32 ground, PmUnpowered unpowered, guint32 *first_joint));

static void
clear_section (gpointer data)
{
  OracleSection *section = data;

  pm_table_unref (section->table);
  g_free (section->inputs);
  g_free (section->outputs);
  g_free (section->others);
}

static void
record_free (gpointer data)
{
  OracleRecord *record = data;

  g_array_unref (record->joints);
  g_array_unref (record->inputs);
  g_array_unref (record->resistors);
  g_array_unref (record->rails);
  g_array_unref (record->sources);
  g_array_unref (record->sections);
  g_free (record);
}

static OracleRecord *
record_of (const PmCircuit *circuit)
{
  OracleRecord *record = records != NULL ? g_hash_table_lookup (records, circuit) : NULL;

  g_assert (record != NULL);
  return record;
}

const OracleRecord *
oracle_record_of (const PmCircuit *circuit)
{
  return record_of (circuit);
}

PmCircuit *
__wrap_pm_circuit_new (void)
{
  PmCircuit *circuit = __real_pm_circuit_new ();
  OracleRecord *record = g_new0 (OracleRecord, 1);

  record->joints = g_array_new (FALSE, FALSE, sizeof (OracleJoint));
  record->inputs = g_array_new (FALSE, FALSE, sizeof (OracleInput));
  record->resistors = g_array_new (FALSE, FALSE, sizeof (OracleResistor));
  record->rails = g_array_new (FALSE, FALSE, sizeof (OracleRail));
  record->sources = g_array_new (FALSE, FALSE, sizeof (guint32));
  record->sections = g_array_new (FALSE, FALSE, sizeof (OracleSection));
  g_array_set_clear_func (record->sections, clear_section);
  if (records == NULL)
    records = g_hash_table_new_full (NULL, NULL, NULL, record_free);
  g_hash_table_insert (records, circuit, record);
  return circuit;
}

void
__wrap_pm_circuit_free (PmCircuit *circuit)
{
  if (circuit == NULL)
    return;
  g_hash_table_remove (records, circuit);
  if (g_hash_table_size (records) == 0)
    g_clear_pointer (&records, g_hash_table_unref);
  __real_pm_circuit_free (circuit);
}

guint32
__wrap_pm_circuit_add_place (PmCircuit *circuit)
{
  record_of (circuit)->n_places++;
  return __real_pm_circuit_add_place (circuit);
}

void
__wrap_pm_circuit_add_places (PmCircuit *circuit, guint32 n)
{
  record_of (circuit)->n_places += n;
  __real_pm_circuit_add_places (circuit, n);
}

guint32
__wrap_pm_circuit_add_joint (PmCircuit *circuit, guint32 a, guint32 b, PmJointState usual)
{
  OracleJoint joint = { a, b, PM_NONE, PM_NONE };

  g_array_append_val (record_of (circuit)->joints, joint);
  return __real_pm_circuit_add_joint (circuit, a, b, usual);
}

guint32
__wrap_pm_circuit_add_input (PmCircuit *circuit, guint32 place, const PmReceiver *receiver)
{
  OracleInput input = { place, *receiver };

  g_array_append_val (record_of (circuit)->inputs, input);
  return __real_pm_circuit_add_input (circuit, place, receiver);
}

guint32
__wrap_pm_circuit_add_resistor (PmCircuit *circuit, guint32 a, guint32 b, double ohms)
{
  OracleResistor resistor = { a, b, ohms };

  g_array_append_val (record_of (circuit)->resistors, resistor);
  return __real_pm_circuit_add_resistor (circuit, a, b, ohms);
}

guint32
__wrap_pm_circuit_add_rail (PmCircuit *circuit, guint32 place, double volts)
{
  OracleRail rail = { place, volts };

  g_array_append_val (record_of (circuit)->rails, rail);
  return __real_pm_circuit_add_rail (circuit, place, volts);
}

guint32
__wrap_pm_circuit_add_source (PmCircuit *circuit, guint32 place, PmSourceValue usual)
{
  g_array_append_val (record_of (circuit)->sources, place);
  return __real_pm_circuit_add_source (circuit, place, usual);
}

guint32
__wrap_pm_circuit_add_bit (PmCircuit *circuit)
{
  record_of (circuit)->n_bits++;
  return __real_pm_circuit_add_bit (circuit);
}

guint32
__wrap_pm_circuit_add_section (PmCircuit *circuit, PmTable *table, const guint32 *inputs, const guint32 *outputs,
                               const guint32 *others, guint32 supply, guint32 ground, PmUnpowered unpowered,
                               guint32 *first_joint)
{
  OracleRecord *record = record_of (circuit);
  guint n_outputs = pm_table_n_outputs (table);
  OracleSection section = { .table = pm_table_ref (table), .supply = supply, .ground = ground, .unpowered = unpowered };

  section.inputs = g_memdup2 (inputs, pm_table_n_inputs (table) * sizeof *inputs);
  section.outputs = g_memdup2 (outputs, n_outputs * sizeof *outputs);
  section.others = others != NULL ? g_memdup2 (others, n_outputs * sizeof *others) : NULL;
  for (guint i = 0; i < n_outputs; i++) {
    if (pm_table_kind (table, i) == PM_COLUMN_JOIN) {
      OracleJoint joint = { outputs[i], others[i], record->sections->len, i };

      g_array_append_val (record->joints, joint);
    }
  }
  g_array_append_val (record->sections, section);
  return __real_pm_circuit_add_section (circuit, table, inputs, outputs, others, supply, ground, unpowered,
                                        first_joint);
}

/* ---- in words ---- */

static void
describe_section (const OracleRecord *record, guint s, GString *text)
{
  const OracleSection *section = &g_array_index (record->sections, OracleSection, s);
  const PmTable *table = section->table;
  guint n_inputs = pm_table_n_inputs (table), n_outputs = pm_table_n_outputs (table);

  for (guint k = 0; k < n_inputs; k++) {
    if (PM_IS_BIT (section->inputs[k]))
      g_string_append_printf (text, " %s=bit %u", pm_table_input (table, k), PM_BIT_OF (section->inputs[k]));
    else
      g_string_append_printf (text, " %s=input %u", pm_table_input (table, k), section->inputs[k]);
  }
  g_string_append (text, " :");
  for (guint i = 0; i < n_outputs; i++)
    g_string_append_printf (text, " %s=%u", pm_table_output (table, i), section->outputs[i]);
  g_string_append_printf (text, ", supply %d, ground %d%s\n", (int) section->supply, (int) section->ground,
                          section->unpowered == PM_UNPOWERED_CLAMPS ? ", clamps" : "");
  for (guint r = 0; r < pm_table_n_rows (table); r++) {
    for (guint k = 0; k < n_inputs + n_outputs; k++)
      g_string_append_printf (text, "%s%s", k == n_inputs ? " : " : " ", pm_table_cell (table, r, k));
    g_string_append_c (text, '\n');
  }
}

void
oracle_describe (const OracleRecord *record, const PmCase *state, GString *text)
{
  static const char *const joints[] = { "open", "closed", "unknown", "controlled" };
  static const char *const sources[] = { "off", "low", "high", "free", "weak high", "weak low", "clamp" };

  for (guint k = 0; k < record->rails->len; k++) {
    const OracleRail *rail = &g_array_index (record->rails, OracleRail, k);

    g_string_append_printf (text, "rail %u at %u: %g V%s\n", k, rail->place, rail->volts,
                            state->rails[k] ? "" : ", off");
  }
  for (guint k = 0; k < record->sources->len; k++)
    g_string_append_printf (text, "source %u at %u: %s\n", k, g_array_index (record->sources, guint32, k),
                            sources[state->sources[k]]);
  for (guint k = 0; k < record->inputs->len; k++) {
    const OracleInput *input = &g_array_index (record->inputs, OracleInput, k);

    g_string_append_printf (text, "input %u at %u: %g %g V, %g %g A\n", k, input->place, input->receiver.vil,
                            input->receiver.vih, input->receiver.iil, input->receiver.iih);
  }
  for (guint k = 0; k < record->resistors->len; k++) {
    const OracleResistor *resistor = &g_array_index (record->resistors, OracleResistor, k);

    g_string_append_printf (text, "resistor %u, %u to %u: %g\n", k, resistor->a, resistor->b, resistor->ohms);
  }
  for (guint k = 0; k < record->joints->len; k++) {
    const OracleJoint *joint = &g_array_index (record->joints, OracleJoint, k);

    g_string_append_printf (text, "joint %u, %u to %u: %s", k, joint->a, joint->b, joints[state->joints[k]]);
    if (joint->section != PM_NONE)
      g_string_append_printf (text, ", section %u column %u", joint->section, joint->column);
    g_string_append_c (text, '\n');
  }
  for (guint k = 0; k < record->n_bits; k++)
    g_string_append_printf (text, "bit %u: %u\n", k, state->bits[k]);
  for (guint s = 0; s < record->sections->len; s++) {
    g_string_append_printf (text, "section %u%s:", s, state->sections[s] ? "" : " left out");
    describe_section (record, s, text);
  }
}
