/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One library for all cases of a test program, made when first asked for, and parts that must be in it. */
#include "parts-test.h"

static PmLibrary *library;

PmLibrary *
parts_test_library (void)
{
  if (library == NULL)
    library = pm_library_new (NULL);
  return library;
}

static void
assert_no_faults (const PmFaults *faults, const char *of)
{
  for (guint i = 0; i < pm_faults_count (faults); i++) {
    g_autofree char *text = pm_fault_to_text (pm_faults_get (faults, i));
    g_test_message ("%s: %s", of, text);
  }
  g_assert_cmpuint (pm_faults_count (faults), ==, 0);
}

const PmPart *
parts_test_part (const char *is, const PmFamily **family)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  const PmFamily *unused;
  double value;
  const PmPart *part = pm_library_part (parts_test_library (), NULL, is, family ? family : &unused, &value,
                                        (PmSpot){ "test", 1, 0 }, faults);

  assert_no_faults (faults, is);
  g_assert_nonnull (part);
  return part;
}

const PmFamily *
parts_test_family (const char *name)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  const PmFamily *family = pm_library_family (parts_test_library (), NULL, name, (PmSpot){ "test", 1, 0 }, faults);

  assert_no_faults (faults, name);
  g_assert_nonnull (family);
  return family;
}

char *
parts_test_refused (const char *is)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  const PmPart *part = pm_library_part (parts_test_library (), NULL, is, NULL, NULL, (PmSpot){ "test", 1, 0 }, faults);

  g_assert_null (part);
  g_assert_cmpuint (pm_faults_count (faults), >=, 1);
  return g_strdup (pm_faults_get (faults, 0)->message);
}

char *
parts_test_named (const char *pattern, char section)
{
  char *name = g_strdup (pattern);

  for (char *c = name; *c; c++)
    if (*c == '#')
      *c = section;
  return name;
}

guint32
parts_test_pin (const PmPart *part, const char *name)
{
  guint32 pin = pm_part_pin (part, name);

  if (pin == PM_NONE)
    g_error ("%s has no pin %s", part->name, name);
  return pin;
}

const PmSection *
parts_test_section (const PmPart *part, guint32 a, guint32 b, guint *column)
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

guint32
parts_test_reading (const PmSection *section, const guint32 *pins, guint n_pins, guint32 levels)
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

PmOut
parts_test_eval (const PmSection *section, guint column, guint32 reading)
{
  PmOut out = pm_table_eval (section->table, column, reading, reading);

  g_assert_cmpint (eval_tree (section->table, column, reading), ==, out);
  return out;
}

int
parts_test_run (void)
{
  int status = g_test_run ();

  g_clear_pointer (&library, pm_library_free);
  return status;
}
