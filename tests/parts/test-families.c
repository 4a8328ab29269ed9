/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Limits of the families, and what follows from them: fan-outs, margins and pull-up windows against published figures.
 * */
#include "parts-test.h"
#include <math.h>
#include <string.h>

/* Volts and milliamperes. NAN = the source gives none. */
typedef struct {
  const char *name;
  double      vil, vih, iil, iih, vol, iol, voh, ioh;
  gboolean    open_high, clamps;
  const char *source;
} Limits;

static const Limits limits[] = {
  { "std", 0.8, 2.0, 1.6, 0.040, 0.4, 16, 2.4, 0.8, TRUE, FALSE, "Fairchild DM7486" },
  { "LS", 0.8, 2.0, 0.4, 0.020, 0.5, 8, 2.7, 0.4, TRUE, FALSE, "Fairchild DS006439, Motorola SN74LS00 5-2" },
  { "S", 0.8, 2.0, 2.0, 0.050, 0.5, 20, 2.7, 1, TRUE, FALSE, "DM74S157, data inputs" },
  { "ALS", 0.8, 2.0, 0.1, 0.020, 0.5, 8, 2.5, 0.4, TRUE, FALSE,
    "Philips IC05 1991; output levels at 4.5 V from memory" },
  { "F", 0.8, 2.0, 0.6, 0.020, 0.5, 20, 2.5, 1, TRUE, FALSE, "Philips IC15, 4 Oct 1990, supply +-10 %" },
  { "HC", 1.35, 3.15, 0.001, 0.001, 0.33, 4, 3.84, 4, FALSE, TRUE,
    "at 4.5 V: VIH, VOH textbook table 16.1; VIL, VOL, currents from memory" },
  { "HCT", 0.8, 2.0, 0.001, 0.001, 0.33, 4, 3.84, 4, FALSE, TRUE, "Fairchild MM74HCT00, TI CD74HCT, 85 C" },
  { "AC", 1.35, 3.15, 0.001, 0.001, 0.44, 24, 3.76, 24, FALSE, TRUE, "Fairchild 74AC, 4.5 V, 85 C" },
  { "ACT", 0.8, 2.0, 0.001, 0.001, 0.44, 24, 3.76, 24, FALSE, TRUE, "TI SCHS338, SCHS339; input levels from memory" },
  { "4000B", 1.5, 3.5, 0.001, 0.001, 0.4, 0.44, 4.6, 0.44, FALSE, TRUE,
    "National CD4001BC, CD4011BC at 5 V; input currents from memory" },
  { "CBT", 0.8, 2.0, 0.001, 0.001, NAN, NAN, NAN, NAN, FALSE, FALSE, "from memory" },
  { "NMOS", 0.8, 2.0, 0.010, 0.010, 0.4, 1.6, 2.4, 0.1, FALSE, FALSE, "from memory, assumed" },
};

static void
assert_near (double value, double wanted)
{
  if (isnan (wanted))
    g_assert_true (isnan (value));
  else
    g_assert_cmpfloat_with_epsilon (value, wanted, 1e-9);
}

static void
test_limits (gconstpointer data)
{
  const Limits *row = data;
  const PmFamily *family = parts_test_family (row->name);

  g_assert_cmpstr (family->name, ==, row->name);
  assert_near (family->receiver.vil, row->vil);
  assert_near (family->receiver.vih, row->vih);
  assert_near (family->receiver.iil, row->iil / 1e3);
  assert_near (family->receiver.iih, row->iih / 1e3);
  assert_near (family->vol, row->vol);
  assert_near (family->iol, row->iol / 1e3);
  assert_near (family->voh, row->voh);
  assert_near (family->ioh, row->ioh / 1e3);
  g_assert_cmpint (family->receiver.open_high, ==, row->open_high);
  g_assert_cmpint (family->bipolar, ==, row->open_high);
  g_assert_cmpint (family->unpowered, ==, row->clamps ? PM_UNPOWERED_CLAMPS : PM_UNPOWERED_OFF);
  g_assert_cmpfloat (family->supply_low, <, 5);
  g_assert_cmpfloat (family->supply_high, >, 5);
  g_assert_nonnull (family->source);
  if (strstr (row->source, "memory"))
    g_assert_nonnull (strstr (family->source, "rom memory"));
}

static void
test_all_are_here (void)
{
  g_auto (GStrv) names = pm_library_list (parts_test_library (), "family");

  g_assert_cmpuint (g_strv_length (names), ==, G_N_ELEMENTS (limits));
  for (guint i = 0; i < G_N_ELEMENTS (limits); i++)
    g_assert_true (g_strv_contains ((const char *const *) names, limits[i].name));
}

/* Loads that an output of one family carries, high and low.  Published: LS 10/5 standard unit loads (Motorola), F 50/33
 * (Philips), ALS 20/80 (Philips), 20 for LS and 10 for standard (textbook table 16.1, whose
 * standard output sources 0.4 mA: 10 high); the others worked out from the limits. */
static const struct { const char *from, *to; guint high, low; } fan_outs[] = {
  { "LS", "std", 10, 5 }, { "LS", "LS", 20, 20 }, { "F", "F", 50, 33 }, { "ALS", "ALS", 20, 80 },
  { "S", "S", 20, 10 },   { "LS", "F", 20, 13 },  { "std", "std", 20, 10 },
};

static guint
times (double supply, double load)
{
  return floor (supply / load * (1 + 1e-12));
}

static void
test_fan_out (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (fan_outs); i++) {
    const PmFamily *from = parts_test_family (fan_outs[i].from), *to = parts_test_family (fan_outs[i].to);
    g_assert_cmpuint (times (from->ioh, to->receiver.iih), ==, fan_outs[i].high);
    g_assert_cmpuint (times (from->iol, to->receiver.iil), ==, fan_outs[i].low);
  }
}

/* Worked out from the sheets: volts between what an output gives and what an input needs, high and low. */
static const struct { const char *from, *to; double high, low; } margins[] = {
  { "LS", "LS", 0.7, 0.3 },    { "std", "std", 0.4, 0.4 }, { "LS", "HCT", 0.7, 0.3 },
  { "HC", "LS", 1.84, 0.47 },  { "LS", "HC", -0.45, 0.85 }, /* a high of LS is none for HC */
};

static void
test_margins (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (margins); i++) {
    const PmFamily *from = parts_test_family (margins[i].from), *to = parts_test_family (margins[i].to);
    assert_near (from->voh - to->receiver.vih, margins[i].high);
    assert_near (to->receiver.vil - from->vol, margins[i].low);
  }
}

/* More than one load where the sheets print a multiple of the current: DS006396 (S and /G of LS157, LS158), DM74S157,
 * DS006373 (LS74 CLR, PRE), Motorola SN74LS107A (20, 60, 80 uA), HD74LS257 (S), from memory (LS109, LS266); one:
 * Motorola 5-521 (0.5/0.25 at every input of LS374), SN74LS273, SN74LS175. */
static void
test_loads (void)
{
  static const struct { const char *part, *pin; guint loads; } rows[] = {
    { "74LS157", "S", 2 },     { "74LS157", "/G", 2 },    { "74LS157", "1A", 1 },  { "74LS157", "4B", 1 },
    { "74S157", "S", 2 },      { "74S157", "/G", 2 },     { "74S157", "2A", 1 },   { "74HCT157", "S", 1 },
    { "74LS158", "S", 2 },     { "74LS158", "/G", 2 },    { "74LS158", "3B", 1 },  { "74LS74", "1/CLR", 2 },
    { "74LS74", "2/PRE", 2 },  { "74LS74", "1D", 1 },     { "74LS74", "2CLK", 1 }, { "74HC74", "1/CLR", 1 },
    { "74LS00", "1A", 1 },     { "74LS107", "1CLK", 4 },  { "74LS107", "2/CLR", 3 }, { "74LS107", "1J", 1 },
    { "74HC107", "1CLK", 1 },  { "74LS109", "1/PRE", 2 }, { "74LS109", "2/K", 1 },   { "74LS258", "S", 2 },
    { "74LS258", "/G", 1 },    { "74LS258", "4A", 1 },    { "74LS266", "3B", 2 },    { "74LS374", "CLK", 1 },
    { "74LS374", "8D", 1 },    { "74LS273", "CLK", 1 },   { "74LS175", "/CLR", 1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    const PmPart *part = parts_test_part (rows[i].part, NULL);
    guint32 pin = pm_part_pin (part, rows[i].pin);
    g_assert_cmpuint (pin, !=, PM_NONE);
    g_assert_cmpuint (part->pins[pin].loads, ==, rows[i].loads);
  }
}

/* Outputs that are not those of the family: the limits that come with the part.  Volts and milliamperes. */
static void
test_outputs (void)
{
  static const struct { const char *part; double vol, iol, voh, ioh; } rows[] = {
    { "7438", 0.4, 48, 2.4, 0.8 },     /* DS006513; the number: catalogue text */
    { "7406", 0.7, 40, 2.4, 0.8 },     /* TI SDLS031A; 0.7 V from memory */
    { "7407", 0.7, 40, 2.4, 0.8 },     /* from memory */
    { "74LS125", 0.5, 24, 2.4, 2.6 },  /* Motorola 5-207 */
    { "74LS126", 0.5, 24, 2.4, 2.6 },  /* Motorola 5-207 */
    { "74125", 0.4, 16, 2.4, 0.8 },    /* as the family */
    { "74LS00", 0.5, 8, 2.7, 0.4 },    /* as the family */
    { "74HC125", 0.33, 4, 3.84, 4 },   /* as the family */
    { "74LS240", 0.5, 24, 2.4, 3 },    /* Fairchild DS006411 */
    { "74ALS240", 0.5, 24, 2.4, 3 },   /* Integral IN74ALS240A */
    { "74LS245", 0.5, 24, 2.4, 3 },    /* Fairchild DM74LS245 */
    { "74ALS245", 0.5, 24, 2.4, 3 },   /* TI SDAS272A */
    { "74F245", 0.5, 24, 2.4, 3 },     /* Motorola 4-116, side A */
    { "74HC245", 0.33, 6, 3.84, 6 },   /* TI SCLS131D */
    { "74LS251", 0.5, 8, 2.4, 2.6 },   /* from memory */
    { "74LS258", 0.5, 24, 2.4, 2.6 },  /* Motorola 5-429, Hitachi HD74LS257 */
    { "74LS373", 0.5, 24, 2.4, 2.6 },  /* Motorola 5-521; 2.4 V from memory */
    { "74S374", 0.5, 20, 2.4, 6.5 },   /* from memory */
    { "74LS273", 0.5, 8, 2.7, 0.4 },   /* Motorola SN74LS273, as the family */
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    const PmFamily *family = NULL;

    parts_test_part (rows[i].part, &family);
    g_test_message ("%s", rows[i].part);
    assert_near (family->vol, rows[i].vol);
    assert_near (family->iol, rows[i].iol / 1e3);
    assert_near (family->voh, rows[i].voh);
    assert_near (family->ioh, rows[i].ioh / 1e3);
  }
  /* The family itself stays as it is. */
  assert_near (parts_test_family ("std")->iol, 16e-3);
}

/* Schmitt triggers: the lowest falling and the highest rising threshold. */
static void
test_thresholds (void)
{
  static const struct { const char *part; double vil, vih; } rows[] = {
    { "7414", 0.6, 2.0 },      /* NTE74132: 0.6 … 1.1, 1.5 … 2.0 */
    { "74132", 0.6, 2.0 },     /* NTE74132 */
    { "74LS14", 0.5, 1.9 },    /* from memory */
    { "74LS132", 0.5, 2.0 },   /* from memory */
    { "74F14", 0.7, 2.0 },     /* Philips 26 November 1990: 0.7 … 1.1, 1.4 … 2.0 */
    { "74HC14", 0.9, 3.15 },   /* NXP 74HC1G14 table 7 at 4.5 V: 0.9 … 2.0, 1.7 … 3.15 */
    { "74AC132", 0.9, 3.2 },   /* TI SCAS915B at 4.5 V: 0.9 … 1.8, 1.5 … 3.2 */
    { "74ACT14", 0.8, 2.0 },   /* as the family */
    { "74S132", 0.8, 2.0 },    /* as the family */
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    const PmFamily *family = NULL;

    parts_test_part (rows[i].part, &family);
    g_test_message ("%s", rows[i].part);
    assert_near (family->receiver.vil, rows[i].vil);
    assert_near (family->receiver.vih, rows[i].vih);
  }
}

/* The window of a pull-up, by the formula of the open-collector sheets (DM74LS12 TL/F/6351, DM7438 DS006513): Rmax =
 * (4.75 V - VOH) / (N1 IOH + N2 IIH), Rmin = (5.25 V - VOL) / (IOL - N3 IIL).  VOH is what the reading family gives as
 * its own high.  The 250 uA that an output lets through when off is of the same sheet. */
static void
test_pull_ups (void)
{
  static const struct {
    const char *driver; guint outputs;
    const char *reader; guint inputs;
    double      leak, most, least;
  } rows[] = {
    { "7438", 1, "std", 1, 250e-6, 8103, 104.5 },
    { "7438", 1, "LS", 1, 250e-6, 7593, 101.9 },
    { "7438", 2, "LS", 2, 250e-6, 3796, 102.8 },
    { "7406", 1, "std", 1, NAN, NAN, 118.5 },
    { "74LS03", 1, "LS", 1, 100e-6, 17080, 625 }, /* 100 uA from memory */
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    const PmFamily *driver = NULL, *reader = parts_test_family (rows[i].reader);
    parts_test_part (rows[i].driver, &driver);
    double least = (5.25 - driver->vol) / (driver->iol - rows[i].inputs * reader->receiver.iil);
    double most = (4.75 - reader->voh) / (rows[i].outputs * rows[i].leak + rows[i].inputs * reader->receiver.iih);

    g_assert_cmpfloat_with_epsilon (least, rows[i].least, 0.05);
    if (!isnan (rows[i].most))
      g_assert_cmpfloat_with_epsilon (most, rows[i].most, rows[i].most * 2e-4);
    /* A 150 ohm terminator lies inside the window of the 7438 and outside that of LS. */
    if (!strcmp (rows[i].driver, "7438"))
      g_assert_cmpfloat (least, <, 150);
    if (!strcmp (rows[i].driver, "74LS03"))
      g_assert_cmpfloat (least, >, 150);
  }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (limits); i++) {
    g_autofree char *path = g_strdup_printf ("/parts/family/%s", limits[i].name);
    g_test_add_data_func (path, &limits[i], test_limits);
  }
  g_test_add_func ("/parts/families/all-are-here", test_all_are_here);
  g_test_add_func ("/parts/families/fan-out", test_fan_out);
  g_test_add_func ("/parts/families/margins", test_margins);
  g_test_add_func ("/parts/families/loads", test_loads);
  g_test_add_func ("/parts/families/outputs", test_outputs);
  g_test_add_func ("/parts/families/thresholds", test_thresholds);
  g_test_add_func ("/parts/families/pull-ups", test_pull_ups);
  return parts_test_run ();
}
