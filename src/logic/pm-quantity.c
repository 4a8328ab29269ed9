/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities: reading and writing numbers with a unit.
 *
 * A number is read as digits and a power of ten and only then turned into a double, so 4k7, 4.7k and 4700 give the very
 * same value.  Whatever could mean two values is refused with both, because a wrong guess here ends up soldered in. */
#include "config.h"
#include "pm-quantity.h"
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

G_DEFINE_QUARK (pm-quantity-error-quark, pm_quantity_error)

#define MAX_DIGITS 40

/* Longer spellings before their own beginnings. */
static const struct {
  const char *text;
  int         exponent;
} prefixes[] = {
  { "Meg", 6 }, { "meg", 6 }, { "G", 9 },         { "M", 6 },         { "k", 3 },   { "K", 3 },
  { "m", -3 },  { "u", -6 },  { "\302\265", -6 }, { "\316\274", -6 }, { "n", -9 },  { "p", -12 },
};

static const struct {
  const char *text;
  PmQuantityUnit unit;
} unit_words[] = {
  { "ohms", PM_UNIT_OHM },   { "ohm", PM_UNIT_OHM },     { "Ohms", PM_UNIT_OHM },    { "Ohm", PM_UNIT_OHM },
  { "\316\251", PM_UNIT_OHM }, { "\342\204\246", PM_UNIT_OHM }, { "R", PM_UNIT_OHM }, { "F", PM_UNIT_FARAD },
  { "f", PM_UNIT_FARAD },    { "V", PM_UNIT_VOLT },      { "v", PM_UNIT_VOLT },      { "A", PM_UNIT_AMPERE },
  { "a", PM_UNIT_AMPERE },   { "s", PM_UNIT_SECOND },    { "m", PM_UNIT_METRE },     { "H", PM_UNIT_HENRY },
  { "W", PM_UNIT_WATT },     { "w", PM_UNIT_WATT },
};

/* symbol: as written by pm_quantity_format.  below_zero: may be negative.  other_milli: the power of ten that a lone
 * "m" may also have been meant as, or -3 where it is plain: mega on a resistor, micro on an old capacitor. */
static const struct {
  const char *symbol;
  gboolean    below_zero;
  int         other_milli;
} units[PM_N_UNITS] = {
  [PM_UNIT_NONE] = { "", TRUE, -3 },
  [PM_UNIT_OHM] = { "\316\251", FALSE, 6 },
  [PM_UNIT_FARAD] = { "F", FALSE, -6 },
  [PM_UNIT_VOLT] = { "V", TRUE, -3 },
  [PM_UNIT_AMPERE] = { "A", TRUE, -3 },
  [PM_UNIT_SECOND] = { "s", FALSE, -3 },
  [PM_UNIT_METRE] = { "m", FALSE, 0 },
  [PM_UNIT_HENRY] = { "H", FALSE, -3 },
  [PM_UNIT_WATT] = { "W", FALSE, -3 },
};

static const char *const engineering[] = { "p", "n", "\302\265", "m", "", "k", "M", "G" };

typedef struct {
  const char *text; /* all of it, for messages */
  const char *at;
  PmQuantityUnit wanted;
  GError    **error;
} Scan;

/* A number as written: digits "4.7", what its prefix adds to the exponent, and whether a prefix or a unit was there. */
typedef struct {
  char     digits[MAX_DIGITS + 2];
  int      exponent;
  gboolean has_prefix, has_unit;
} Number;

static gboolean G_GNUC_PRINTF (3, 4)
fail (const Scan *scan, PmQuantityError code, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list args;

  va_start (args, format);
  message = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (scan->error, PM_QUANTITY_ERROR, code, message);
  return FALSE;
}

static gboolean
fail_choice (const Scan *scan, double one, double other)
{
  g_autofree char *a = pm_quantity_format (one, scan->wanted), *b = pm_quantity_format (other, scan->wanted);

  return fail (scan, PM_QUANTITY_ERROR_AMBIGUOUS, _("“%s” can be %s or %s"), scan->text, a, b);
}

static gboolean
fail_syntax (const Scan *scan)
{
  if (*scan->at == '\0')
    return fail (scan, PM_QUANTITY_ERROR_SYNTAX, _("“%s” is no quantity: a number is missing"), scan->text);
  return fail (scan, PM_QUANTITY_ERROR_SYNTAX, _("“%s” is no quantity: “%s” is not understood"), scan->text,
               scan->at);
}

static gboolean
skip (Scan *scan, const char *word)
{
  size_t length = strlen (word);

  if (strncmp (scan->at, word, length) != 0)
    return FALSE;
  scan->at += length;
  return TRUE;
}

static void
skip_blanks (Scan *scan)
{
  while (skip (scan, " ") || skip (scan, "\t") || skip (scan, "\302\240") || skip (scan, "\342\200\257"))
    ;
}

static double
value_of (const Number *number)
{
  g_autofree char *text = g_strdup_printf ("%se%d", number->digits, number->exponent);

  return g_ascii_strtod (text, NULL);
}

/* "5 Vx" is no volts, and in 4R7 the letter is the point. */
static gboolean
ends_word (const char *at)
{
  return !g_unichar_isalnum (g_utf8_get_char (at));
}

static gboolean
scan_unit (Scan *scan, PmQuantityUnit *unit)
{
  for (guint k = 0; k < G_N_ELEMENTS (unit_words); k++) {
    size_t length = strlen (unit_words[k].text);

    if (strncmp (scan->at, unit_words[k].text, length) == 0 && ends_word (scan->at + length)) {
      scan->at += length;
      *unit = unit_words[k].unit;
      return TRUE;
    }
  }
  return FALSE;
}

/* Takes digits, with one decimal point or comma where allowed.  *comma_at: how many stand before a comma, or -1. */
static gboolean
scan_digits (Scan *scan, Number *number, gboolean point_allowed, int *comma_at)
{
  guint n = strlen (number->digits), first = n;
  gboolean has_point = !point_allowed;

  for (;; scan->at++) {
    char c = *scan->at;

    if (n >= MAX_DIGITS)
      return fail (scan, PM_QUANTITY_ERROR_RANGE, _("“%s” has too many digits"), scan->text);
    if (g_ascii_isdigit (c)) {
      number->digits[n++] = c;
    } else if (!has_point && (c == '.' || c == ',') && g_ascii_isdigit (scan->at[1])) {
      has_point = TRUE;
      *comma_at = c == ',' ? (int) (n - first) : -1;
      number->digits[n++] = '.';
    } else {
      break;
    }
  }
  number->digits[n] = '\0';
  return TRUE;
}

static double
power (const Number *number, int exponent)
{
  Number other = *number;

  other.exponent = exponent;
  return value_of (&other);
}

/* A comma before exactly three digits is a decimal comma to some and groups thousands for others. */
static gboolean
check_comma (const Scan *scan, const Number *number, int comma_at, guint sign)
{
  const char *digits = number->digits + sign;
  gboolean three = comma_at >= 0 && strlen (digits + comma_at) == 4;

  if (comma_at >= 0 && (*scan->at == ',' || *scan->at == '.') && g_ascii_isdigit (scan->at[1]))
    return fail (scan, PM_QUANTITY_ERROR_SYNTAX,
                 _("“%s” groups its digits: write them without a comma"), scan->text);
  if (!three || comma_at > 3 || comma_at == 0 || digits[0] == '0')
    return TRUE;
  return fail_choice (scan, power (number, number->exponent), power (number, number->exponent + 3));
}

/* A letter in the place of the point, or a prefix with or without a unit. */
static gboolean
scan_prefix (Scan *scan, Number *number, gboolean has_point)
{
  const char *start = scan->at;
  PmQuantityUnit unit;
  int unused;
  gboolean lone_milli;

  /* "1 m" is a metre where metres are wanted, and "470 R" is ohms: the unit is tried first. */
  if (scan_unit (scan, &unit) && (unit == scan->wanted || unit != PM_UNIT_METRE)) {
    number->has_unit = TRUE;
    if (unit != scan->wanted)
      scan->at = start;
    return TRUE;
  }
  scan->at = start;
  for (guint k = 0; k < G_N_ELEMENTS (prefixes) && !number->has_prefix; k++) {
    if (skip (scan, prefixes[k].text)) {
      number->has_prefix = TRUE;
      number->exponent = prefixes[k].exponent;
    }
  }
  if ((scan->wanted == PM_UNIT_OHM && *start == 'R') || (scan->wanted == PM_UNIT_VOLT && *start == 'V'))
    scan->at += g_ascii_isdigit (start[1]) ? 1 : 0;
  if (scan->at != start && g_ascii_isdigit (*scan->at)) {
    if (has_point)
      return fail_syntax (scan);
    g_strlcat (number->digits, ".", sizeof number->digits);
    if (!scan_digits (scan, number, FALSE, &unused))
      return FALSE;
  }
  lone_milli = number->exponent == -3 && units[scan->wanted].other_milli != -3;
  skip_blanks (scan);
  start = scan->at;
  if (scan_unit (scan, &unit)) {
    number->has_unit = TRUE;
    if (unit != scan->wanted)
      scan->at = start;
  } else if (lone_milli) {
    return fail_choice (scan, power (number, -3), power (number, units[scan->wanted].other_milli));
  }
  return TRUE;
}

static gboolean
scan_number (Scan *scan, Number *number)
{
  int comma_at = -1;
  guint sign;
  gboolean has_point;
  const char *start;

  memset (number, 0, sizeof *number);
  skip_blanks (scan);
  if (skip (scan, "-") || skip (scan, "\342\210\222"))
    number->digits[0] = '-';
  else
    skip (scan, "+");
  sign = strlen (number->digits);
  /* R47: the letter may stand first. */
  if (*scan->at == 'R' && scan->wanted == PM_UNIT_OHM && g_ascii_isdigit (scan->at[1]))
    g_strlcat (number->digits, "0", sizeof number->digits);
  else if (!g_ascii_isdigit (*scan->at))
    return fail_syntax (scan);
  else if (!scan_digits (scan, number, TRUE, &comma_at))
    return FALSE;
  has_point = strchr (number->digits, '.') != NULL;
  start = scan->at;
  skip_blanks (scan);
  /* A letter for the point stands without a blank. */
  if (!scan_prefix (scan, number, has_point || scan->at != start))
    return FALSE;
  return check_comma (scan, number, comma_at, sign);
}

static gboolean
fail_unit (const Scan *scan)
{
  Scan rest = *scan;
  PmQuantityUnit unit;

  if (!scan_unit (&rest, &unit))
    return fail_syntax (scan);
  if (scan->wanted == PM_UNIT_NONE)
    return fail (scan, PM_QUANTITY_ERROR_UNIT, _("“%s” is in %s, but a plain number is wanted"), scan->text,
                 units[unit].symbol);
  return fail (scan, PM_QUANTITY_ERROR_UNIT, _("“%s” is in %s, but %s is wanted"), scan->text, units[unit].symbol,
               units[scan->wanted].symbol);
}

/* "±5 %", "5 %", "±0.25 V"; nothing at all is 0. The width is half of the band, in the quantity's own unit. */
static gboolean
scan_tolerance (Scan *scan, double value, double *tolerance)
{
  gboolean marked;
  Number number;
  double width;
  PmQuantityUnit wanted = scan->wanted;
  Scan percent;

  *tolerance = 0;
  skip_blanks (scan);
  if (*scan->at == '\0')
    return TRUE;
  marked = skip (scan, "\302\261") || skip (scan, "+/-") || skip (scan, "+-");
  percent = *scan;
  percent.wanted = PM_UNIT_NONE;
  percent.error = NULL;
  if (scan_number (&percent, &number) && skip (&percent, "%")) {
    scan->at = percent.at;
    *tolerance = power (&number, number.exponent - 2);
  } else {
    if (!marked)
      return fail_unit (scan);
    scan->wanted = wanted;
    if (!scan_number (scan, &number))
      return FALSE;
    width = value_of (&number);
    *tolerance = value != 0 ? width / fabs (value) : NAN;
  }
  if (!(*tolerance >= 0 && *tolerance < 1))
    return fail (scan, PM_QUANTITY_ERROR_RANGE, _("“%s” has a tolerance that cannot be"), scan->text);
  return TRUE;
}

static gboolean
check_range (const Scan *scan, const PmQuantity *quantity)
{
  if (!isfinite (quantity->low) || !isfinite (quantity->high))
    return fail (scan, PM_QUANTITY_ERROR_RANGE, _("“%s” is too large"), scan->text);
  if (quantity->low < 0 && !units[scan->wanted].below_zero)
    return fail (scan, PM_QUANTITY_ERROR_RANGE, _("“%s” is below zero"), scan->text);
  if (quantity->low > quantity->high)
    return fail (scan, PM_QUANTITY_ERROR_RANGE, _("“%s” ends below where it begins"), scan->text);
  return TRUE;
}

gboolean
pm_quantity_parse (const char *text, PmQuantityUnit wanted, PmQuantity *out, GError **error)
{
  Scan scan = { .text = text, .at = text, .wanted = wanted, .error = error };
  Number first, last;
  PmQuantity quantity = { .unit = wanted };

  g_return_val_if_fail (text != NULL && out != NULL && wanted < PM_N_UNITS, FALSE);

  if (!g_utf8_validate (text, -1, NULL)) {
    scan.text = scan.at = "?";
    return fail_syntax (&scan);
  }
  if (!scan_number (&scan, &first))
    return FALSE;
  skip_blanks (&scan);
  if (skip (&scan, "..") || skip (&scan, "\342\200\223") || skip (&scan, "\342\200\246")) {
    if (!scan_number (&scan, &last))
      return FALSE;
    /* 4.5..5.5 mA: the prefix stands for both. */
    if (!first.has_prefix && !first.has_unit)
      first.exponent = last.exponent;
    quantity.low = value_of (&first);
    quantity.high = value_of (&last);
    quantity.value = quantity.low + (quantity.high - quantity.low) / 2;
  } else {
    double width;

    quantity.value = value_of (&first);
    if (!scan_tolerance (&scan, quantity.value, &quantity.tolerance))
      return FALSE;
    width = fabs (quantity.value) * quantity.tolerance;
    quantity.low = quantity.value - width;
    quantity.high = quantity.value + width;
  }
  skip_blanks (&scan);
  if (*scan.at != '\0')
    return fail_unit (&scan);
  if (!check_range (&scan, &quantity))
    return FALSE;
  *out = quantity;
  return TRUE;
}

/* The fewest digits that read back as value: "47" and where its point stands, counted from the first digit. */
static void
shortest_digits (double value, char *digits, int *point)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  char *e;
  guint n = 0;

  for (int precision = 0; precision <= 17; precision++) {
    char format[8];

    g_snprintf (format, sizeof format, "%%.%de", precision);
    g_ascii_formatd (text, sizeof text, format, value);
    if (g_ascii_strtod (text, NULL) == value)
      break;
  }
  e = strchr (text, 'e');
  for (const char *c = text; c < e; c++) {
    if (g_ascii_isdigit (*c))
      digits[n++] = *c;
  }
  digits[n] = '\0';
  *point = (int) g_ascii_strtoll (e + 1, NULL, 10) + 1;
}

char *
pm_quantity_format (double value, PmQuantityUnit unit)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  GString *text;
  int point, group = 0, n;

  g_return_val_if_fail (unit < PM_N_UNITS, NULL);

  if (isnan (value))
    return g_strdup ("?");
  text = g_string_new (value < 0 ? "-" : NULL);
  if (isinf (value)) {
    g_string_append (text, "\342\210\236");
  } else {
    shortest_digits (fabs (value), digits, &point);
    /* The group of three in which the first digit stands; a plain number has none. */
    if (unit != PM_UNIT_NONE && value != 0)
      group = CLAMP ((int) floor ((point - 1) / 3.0), -4, 3);
    point -= 3 * group;
    n = strlen (digits);
    for (int k = MIN (point - 1, 0); k < MAX (n, point); k++) {
      if (k == point)
        g_string_append_c (text, '.');
      g_string_append_c (text, k >= 0 && k < n ? digits[k] : '0');
    }
  }
  if (unit != PM_UNIT_NONE)
    g_string_append_printf (text, " %s%s", engineering[group + 4], units[unit].symbol);
  return g_string_free (text, FALSE);
}
