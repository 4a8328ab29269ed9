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

int
parts_test_run (void)
{
  int status = g_test_run ();

  g_clear_pointer (&library, pm_library_free);
  return status;
}
