/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Family files: limits of a logic family, and what a part says of its own limits. */
#include "config.h"
#include "pm-library-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

static double
read_quantity (const PmXml *element, const char *name, PmQuantityUnit unit, double usual, PmFaults *faults)
{
  const char *value = pm_xml_get (element, name);
  PmQuantity quantity;
  g_autoptr (GError) error = NULL;

  if (value == NULL)
    return usual;
  if (pm_quantity_parse (value, unit, &quantity, &error))
    return quantity.value;
  pm_faults_add (faults, pm_xml_spot (element), "%s=\"%s\": %s", name, value, error->message);
  return usual;
}

static void
read_limits (PmFamily *family, const PmXml *element, PmFaults *faults)
{
  if (pm_xml_is (element, "input")) {
    PmReceiver *receiver = &family->receiver;
    receiver->vil = read_quantity (element, "low", PM_UNIT_VOLT, receiver->vil, faults);
    receiver->vih = read_quantity (element, "high", PM_UNIT_VOLT, receiver->vih, faults);
    receiver->iil = read_quantity (element, "current-low", PM_UNIT_AMPERE, receiver->iil, faults);
    receiver->iih = read_quantity (element, "current-high", PM_UNIT_AMPERE, receiver->iih, faults);
  } else {
    family->vol = read_quantity (element, "low", PM_UNIT_VOLT, family->vol, faults);
    family->voh = read_quantity (element, "high", PM_UNIT_VOLT, family->voh, faults);
    family->iol = read_quantity (element, "sinks", PM_UNIT_AMPERE, family->iol, faults);
    family->ioh = read_quantity (element, "sources", PM_UNIT_AMPERE, family->ioh, faults);
  }
}

PmFamily *
pm_family_read (const PmXml *element, PmFaults *faults)
{
  static const char *const opens[] = { "loose", "high", NULL };
  static const char *const unpowered[] = { "off", "clamps", NULL };
  const char *name = pm_xml_get (element, "name"), *supply = pm_xml_get (element, "supply");
  guint before = pm_faults_found (faults);

  if (name == NULL) {
    pm_faults_add (faults, pm_xml_spot (element), _("the family has no name. Add name=\"…\"."));
    return NULL;
  }
  PmFamily *family = g_new0 (PmFamily, 1);
  family->name = g_intern_string (name);
  family->title = g_strdup (pm_xml_get (element, "title") ? pm_xml_get (element, "title") : name);
  family->source = pm_xml_dup_text_of (element, "source");
  family->spot = pm_xml_spot (element);
  family->bipolar = pm_xml_choice (element, "open-input", opens, 0, faults) == 1;
  family->unpowered =
      pm_xml_choice (element, "unpowered", unpowered, 0, faults) == 1 ? PM_UNPOWERED_CLAMPS : PM_UNPOWERED_OFF;
  /* Currents that no source gives are taken as none. */
  family->receiver = (PmReceiver){ NAN, NAN, 0, 0, family->bipolar };
  family->vol = family->voh = family->iol = family->ioh = NAN;
  family->supply_low = 4.75;
  family->supply_high = 5.25;
  if (supply != NULL) {
    g_autoptr (GError) error = NULL;
    PmQuantity range;
    if (pm_quantity_parse (supply, PM_UNIT_VOLT, &range, &error)) {
      family->supply_low = range.low;
      family->supply_high = range.high;
    } else {
      pm_faults_add (faults, family->spot, "supply=\"%s\": %s", supply, error->message);
    }
  }
  for (const PmXml *child = element->children; child != NULL; child = child->next)
    if (pm_xml_is (child, "input") || pm_xml_is (child, "output"))
      read_limits (family, child, faults);
  if (isnan (family->receiver.vil) || isnan (family->receiver.vih))
    pm_faults_add (faults, family->spot,
                   _("family \"%s\" does not say when an input reads low and when high. Add <input low=\"0.8 V\" "
                      "high=\"2.0 V\"/>."),
                   name);
  if (pm_faults_found (faults) == before)
    return family;
  pm_family_free (family);
  return NULL;
}

PmFamily *
pm_family_override (const PmFamily *family, const PmXml *part, PmFaults *faults)
{
  PmFamily *own = NULL;

  for (const PmXml *child = part->children; child != NULL; child = child->next) {
    const char *only = pm_xml_get (child, "family");
    if (!pm_xml_is (child, "input") && !pm_xml_is (child, "output"))
      continue;
    g_auto (GStrv) names = pm_split_words (only);
    if (only != NULL && !g_strv_contains ((const char *const *)names, family->name))
      continue;
    if (own == NULL) {
      own = g_memdup2 (family, sizeof *family);
      own->title = g_strdup (family->title);
      own->source = g_strdup (family->source);
    }
    read_limits (own, child, faults);
  }
  return own;
}

void
pm_family_free (PmFamily *family)
{
  if (family == NULL)
    return;
  g_free (family->title);
  g_free (family->source);
  g_free (family);
}
