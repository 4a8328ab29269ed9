/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Board files made at random. */
#include "random-file.h"

#include <string.h>

/* Pins that take part: what drives before the colon, what listens after it; the rest stays open. */
static const struct {
  const char *letter, *is, *drives, *listens;
} PARTS[] = {{"U", "74LS00", "1Y 2Y", "1A 1B 2A 2B"},
             {"U", "74LS04", "1Y 2Y 3Y", "1A 2A 3A"},
             {"U", "74LS157", "1Y 2Y", "1A 1B 2A 2B S /G"},
             {"U", "74LS138", "Y0 Y1 Y2", "A B C G1 /G2A /G2B"},
             {"U", "74LS74", "1Q 1/Q", "1D 1CLK 1/CLR 1/PRE"},
             {"U", "74LS86", "1Y", "1A 1B"},
             {"U", "7438", "1Y", "1A 1B"},
             {"U", "74LS125", "1Y", "1A 1/OE"},
             {"U", "74CBT3257", "", "1A 1B1 1B2 S /OE"},
             {"R", "resistor 10k", "", "1 +5V"},
             {"R", "resistor 10k", "", "1 0V"},
             {"R", "resistor 330", "1", "2"},
             {"C", "capacitor 100n", "", "+5V 0V"},
             {"S", "toggle-spdt", "2", "1 3"},
             {"S", "toggle-dpdt", "2 5", "1 3 4 6"},
             {"D", "led", "", "A K"}};

static void
add_pins (GPtrArray *to, const char *reference, const char *pins, GString *rails)
{
  g_auto (GStrv) words = g_strsplit (pins, " ", -1);

  for (guint i = 0; words[i] != NULL; i++) {
    /* A rail's name stands for the next free pin of a two-ended part. */
    if (words[i][0] == '+' || g_str_equal (words[i], "0V"))
      g_string_append_printf (rails, "  <join>%s %s.%s</join>\n", words[i], reference, i == 0 ? "1" : "2");
    else if (words[i][0] != '\0')
      g_ptr_array_add (to, g_strdup_printf ("%s.%s", reference, words[i]));
  }
}

char *
random_file_new (guint32 seed, guint n_parts)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  g_autoptr (GPtrArray) drives = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) listens = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) nets = g_ptr_array_new ();
  g_autoptr (GString) rails = g_string_new (NULL);
  GString *text = g_string_new ("<board xmlns=\"urn:x-pointsman:1\" title=\"Random\">\n  <host is=\"larkspur-40\"/>\n"
                                "  <sits into=\"port-chip\" cuts=\"SEL0 SEL1\"/>\n");
  guint numbers[128] = {0};

  for (guint i = 0; i < n_parts; i++) {
    guint k = (guint)g_rand_int_range (rand, 0, G_N_ELEMENTS (PARTS));
    g_autofree char *reference = g_strdup_printf ("%s%u", PARTS[k].letter, 1 + numbers[(guchar)PARTS[k].letter[0]]++);
    g_string_append_printf (text, "  <part name=\"%s\" is=\"%s\"/>\n", reference, PARTS[k].is);
    add_pins (drives, reference, PARTS[k].drives, rails);
    add_pins (listens, reference, PARTS[k].listens, rails);
  }
  g_ptr_array_add (drives, g_strdup ("SEL0:chip"));
  g_ptr_array_add (drives, g_strdup ("SEL1:chip"));
  g_ptr_array_add (listens, g_strdup ("SEL0:machine"));
  g_ptr_array_add (listens, g_strdup ("SEL1:machine"));
  for (guint i = 0; i < drives->len; i++)
    g_ptr_array_add (nets, g_string_new (g_ptr_array_index (drives, i)));
  for (guint i = 0; i < listens->len; i++) {
    guint which = (guint)g_rand_int_range (rand, 0, (gint32)nets->len + 2);
    if (which >= nets->len) {
      if (g_rand_boolean (rand))
        g_string_append_printf (rails, "  <join>%s %s</join>\n", g_rand_boolean (rand) ? "+5V" : "0V",
                                (char *)g_ptr_array_index (listens, i));
      continue;
    }
    g_string_append_printf (g_ptr_array_index (nets, which), " %s", (char *)g_ptr_array_index (listens, i));
  }
  for (guint i = 0; i < nets->len; i++) {
    GString *net = g_ptr_array_index (nets, i);
    g_autofree char *name = i % 5 == 0 ? g_strdup_printf (" name=\"net%u\"", i) : g_strdup ("");
    if (strchr (net->str, ' ') != NULL)
      g_string_append_printf (text, "  <join%s>%s</join>\n", name, net->str);
    g_string_free (net, TRUE);
  }
  g_string_append (text, rails->str);
  g_string_append (
      text, "  <drive name=\"INSIDE\" title=\"Inside\" is=\"drive-34-way\" into=\"internal\" jumper=\"first\"/>\n"
            "  <drive name=\"OUTSIDE\" title=\"Outside\" is=\"drive-emulated\" into=\"external\" "
            "jumper=\"first\" supply=\"own\"/>\n</board>\n");
  return g_string_free (text, FALSE);
}
