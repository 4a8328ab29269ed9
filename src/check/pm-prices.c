/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prices: words to numbers and back, and a file of them. */
#include "config.h"
#include "pm-prices.h"
#include "pm-document.h"
#include <glib/gi18n-lib.h>
#include <locale.h>
#include <string.h>

#define MOST_MONEY G_GINT64_CONSTANT (1000000000)   /* hundredths */
#define MOST_NUMBER 100000

G_DEFINE_QUARK (pm-prices-error-quark, pm_prices_error)

struct _PmPrices {
  GPtrArray  *names;    /* in the order in which they were first priced */
  GHashTable *breaks;   /* name: GArray of PmBreak */
};

/* ---- money */

gboolean
pm_money_parse (const char *text, gint64 *hundredths)
{
  g_autofree char *copy = g_strstrip (g_strdup (text));
  gint64 whole = 0, part = 0;
  guint n_digits = 0, n_part = 0;
  const char *at = copy;
  for (; g_ascii_isdigit (*at) && n_digits < 9; at++, n_digits++)
    whole = whole * 10 + (*at - '0');
  if (*at == '.' || *at == ',')
    for (at++; g_ascii_isdigit (*at) && n_part < 2; at++, n_part++)
      part = part * 10 + (*at - '0');
  if (*at != '\0' || n_digits + n_part == 0)
    return FALSE;
  whole = whole * 100 + (n_part == 1 ? part * 10 : part);
  if (whole > MOST_MONEY)
    return FALSE;
  *hundredths = whole;
  return TRUE;
}

char *
pm_money_plain (gint64 hundredths)
{
  const char *sign = hundredths < 0 ? "-" : "";
  gint64 size = ABS (hundredths);
  return g_strdup_printf ("%s%" G_GINT64_FORMAT ".%02d", sign, size / 100, (int) (size % 100));
}

char *
pm_money_text (gint64 hundredths)
{
  char *text = pm_money_plain (hundredths);
  const char *sign = localeconv ()->decimal_point;
  if (sign[0] != '\0' && sign[1] == '\0')
    text[strlen (text) - 3] = sign[0];
  return text;
}

gint64
pm_money_share (gint64 amount, guint n, guint i)
{
  return amount * (i + 1) / n - amount * i / n;
}

/* ---- breaks */

static int
by_from (gconstpointer a, gconstpointer b)
{
  const PmBreak *x = a, *y = b;
  return x->from < y->from ? -1 : x->from > y->from;
}

static gboolean
parse_break (const char *words, gboolean first, PmBreak *out, GError **error)
{
  const char *colon = strchr (words, ':');
  guint64 from = 1;
  if (colon != NULL) {
    g_autofree char *number = g_strstrip (g_strndup (words, (gsize) (colon - words)));
    if (!g_ascii_string_to_unsigned (number, 10, 1, MOST_NUMBER, &from, NULL)) {
      g_set_error (error, PM_PRICES_ERROR, PM_PRICES_ERROR_WORDS, _("\"%s\" is no number of pieces from 1 to %d."),
                   number, MOST_NUMBER);
      return FALSE;
    }
  } else if (!first) {
    g_set_error (error, PM_PRICES_ERROR, PM_PRICES_ERROR_WORDS,
                 _("\"%s\" does not say from how many on. Write 10: 0.70."), words);
    return FALSE;
  }
  out->from = (guint) from;
  if (!pm_money_parse (colon != NULL ? colon + 1 : words, &out->each)) {
    g_set_error (error, PM_PRICES_ERROR, PM_PRICES_ERROR_WORDS,
                 _("\"%s\" is no price. Write 0.85, or 0.85; 10: 0.70 with breaks."), words);
    return FALSE;
  }
  return TRUE;
}

GArray *
pm_breaks_parse (const char *text, GError **error)
{
  g_auto (GStrv) pieces = g_strsplit (text, ";", -1);
  g_autoptr (GArray) breaks = g_array_new (FALSE, FALSE, sizeof (PmBreak));
  for (guint i = 0; pieces[i] != NULL; i++) {
    PmBreak one;
    if (*g_strstrip (pieces[i]) == '\0')
      continue;
    if (!parse_break (pieces[i], breaks->len == 0, &one, error))
      return NULL;
    g_array_append_val (breaks, one);
  }
  g_array_sort (breaks, by_from);
  for (guint i = 1; i < breaks->len; i++)
    if (g_array_index (breaks, PmBreak, i).from == g_array_index (breaks, PmBreak, i - 1).from) {
      g_set_error (error, PM_PRICES_ERROR, PM_PRICES_ERROR_WORDS, _("there are two prices from %u on."),
                   g_array_index (breaks, PmBreak, i).from);
      return NULL;
    }
  if (breaks->len > 0)
    g_array_index (breaks, PmBreak, 0).from = 1; /* fewer cannot be had for less */
  return g_steal_pointer (&breaks);
}

static char *
write_breaks (const GArray *breaks, char *(*money) (gint64))
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < breaks->len; i++) {
    const PmBreak *one = &g_array_index (breaks, PmBreak, i);
    g_autofree char *each = money (one->each);
    if (i == 0)
      g_string_append (text, each);
    else
      g_string_append_printf (text, "; %u: %s", one->from, each);
  }
  return g_string_free (text, FALSE);
}

char *
pm_breaks_text (const GArray *breaks)
{
  return write_breaks (breaks, pm_money_text);
}

gint64
pm_breaks_each (const GArray *breaks, guint number)
{
  gint64 each = -1;
  for (guint i = 0; breaks != NULL && i < breaks->len; i++)
    if (i == 0 || number >= g_array_index (breaks, PmBreak, i).from)
      each = g_array_index (breaks, PmBreak, i).each;
  return each;
}

/* ---- a file of prices: a group for each item */

static PmPrices *
prices_new (void)
{
  PmPrices *prices = g_new0 (PmPrices, 1);
  prices->names = g_ptr_array_new_with_free_func (g_free);
  prices->breaks = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, (GDestroyNotify) g_array_unref);
  return prices;
}

void
pm_prices_free (PmPrices *prices)
{
  if (prices == NULL)
    return;
  g_hash_table_unref (prices->breaks);
  g_ptr_array_unref (prices->names);
  g_free (prices);
}

PmPrices *
pm_prices_load (const char *path, GError **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (PmPrices) prices = prices_new ();
  g_autoptr (GError) local = NULL;
  if (!g_key_file_load_from_file (file, path, G_KEY_FILE_NONE, &local)) {
    if (g_error_matches (local, G_FILE_ERROR, G_FILE_ERROR_NOENT))
      return g_steal_pointer (&prices);
    g_set_error (error, PM_PRICES_ERROR, PM_PRICES_ERROR_READ, _("%s: the prices cannot be read: %s."), path,
                 local->message);
    return NULL;
  }
  g_auto (GStrv) groups = g_key_file_get_groups (file, NULL);
  for (guint i = 0; groups[i] != NULL; i++) {
    g_autofree char *item = g_key_file_get_string (file, groups[i], "item", NULL),
                    *price = g_key_file_get_string (file, groups[i], "price", NULL);
    g_autoptr (GArray) breaks = price != NULL ? pm_breaks_parse (price, &local) : NULL;
    if (item == NULL || breaks == NULL) {
      g_set_error (error, PM_PRICES_ERROR, PM_PRICES_ERROR_READ, _("%s: [%s] has no item or no price: %s"), path,
                   groups[i], local != NULL ? local->message : "");
      return NULL;
    }
    pm_prices_set (prices, item, breaks);
  }
  return g_steal_pointer (&prices);
}

gboolean
pm_prices_save (const PmPrices *prices, const char *path, GError **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  for (guint i = 0; i < prices->names->len; i++) {
    const char *name = g_ptr_array_index (prices->names, i);
    g_autofree char *group = g_strdup_printf ("item %u", i + 1),
                    *price = write_breaks (g_hash_table_lookup (prices->breaks, name), pm_money_plain);
    g_key_file_set_string (file, group, "item", name);
    g_key_file_set_string (file, group, "price", price);
  }
  gsize length;
  g_autofree char *text = g_key_file_to_data (file, &length, NULL);
  return pm_file_write_atomic (path, text, length, error);
}

const GArray *
pm_prices_get (const PmPrices *prices, const char *item)
{
  return g_hash_table_lookup (prices->breaks, item);
}

void
pm_prices_set (PmPrices *prices, const char *item, const GArray *breaks)
{
  guint index = 0;
  gboolean known = g_ptr_array_find_with_equal_func (prices->names, item, g_str_equal, &index);
  if (breaks == NULL || breaks->len == 0) {
    g_hash_table_remove (prices->breaks, item);
    if (known)
      g_ptr_array_remove_index (prices->names, index);
    return;
  }
  if (!known)
    g_ptr_array_add (prices->names, g_strdup (item));
  char *name = g_ptr_array_index (prices->names, known ? index : prices->names->len - 1);
  GArray *copy = g_array_new (FALSE, FALSE, sizeof (PmBreak));
  g_array_append_vals (copy, breaks->data, breaks->len);
  g_hash_table_insert (prices->breaks, name, copy);
}
