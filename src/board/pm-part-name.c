/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Chip types as people write them: [maker letters]74[family]number[package letters], [maker
 * letters]4000-number[B|UB][package letters]. */
#include "config.h"
#include "pm-library-private.h"

#include <string.h>

static gsize
count_letters (const char *at)
{
  gsize n = 0;

  while (g_ascii_isalpha (at[n]))
    n++;
  return n;
}

static gsize
count_digits (const char *at)
{
  return strspn (at, "0123456789");
}

gboolean
pm_logic_name (const char *is, char **function, char **family)
{
  g_autofree char *upper = g_ascii_strup (is, -1);
  gsize maker = count_letters (upper), n;
  const char *at = upper + maker;

  if (maker > 4 || strlen (is) > 24)
    return FALSE;
  if (at[0] == '7' && at[1] == '4') {
    const char *letters = at + 2;
    n = count_letters (letters);
    const char *digits = letters + n;
    gsize n_digits = count_digits (digits);
    if (n_digits < 2 || n_digits > 5 || digits[n_digits + count_letters (digits + n_digits)] != '\0')
      return FALSE;
    *family = n > 0 ? g_strndup (letters, n) : g_strdup ("std");
    /* 74HC4053 and 74CBT3257 do what 4053 and 3257 do. */
    *function = g_strdup_printf ("%s%.*s", n_digits >= 4 ? "" : "74", (int)n_digits, digits);
    return TRUE;
  }
  n = count_digits (at);
  /* One maker writes 14053 for 4053. */
  if (n == 5 && g_str_has_prefix (at, "14")) {
    at++;
    n--;
  }
  if (n != 4 || at[0] != '4' || at[n + count_letters (at + n)] != '\0')
    return FALSE;
  *family = g_strdup ("4000B");
  *function = g_strndup (at, n);
  return TRUE;
}
