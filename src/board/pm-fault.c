/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A growing list of faults, and the nearest name for "Did you mean". */
#include "config.h"
#include "pm-fault.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Longer words are compared by their first bytes only. */
#define NEAREST_MAX 64
#define MESSAGE_MAX 1000
/* Less unlike than this: the same letters. */
#define SAME_LETTERS 10000

struct _PmFaults {
  GArray *faults; /* PmFault */
  guint found;    /* kept or not */
};

static void
fault_clear (gpointer data)
{
  g_free (((PmFault *)data)->message);
}

PmFaults *
pm_faults_new (void)
{
  PmFaults *faults = g_new0 (PmFaults, 1);
  faults->faults = g_array_new (FALSE, FALSE, sizeof (PmFault));
  g_array_set_clear_func (faults->faults, fault_clear);
  return faults;
}

void
pm_faults_free (PmFaults *faults)
{
  if (faults == NULL)
    return;
  g_array_unref (faults->faults);
  g_free (faults);
}

/* A message may quote a whole list of a spoilt file. */
static char *
cut_long (char *message)
{
  gsize n = strlen (message);

  if (n <= MESSAGE_MAX)
    return message;
  for (n = MESSAGE_MAX; n > 0 && (message[n] & 0xc0) == 0x80;)
    n--;
  memcpy (message + n, "…", sizeof "…");
  return g_realloc (message, n + sizeof "…");
}

void
pm_faults_add (PmFaults *faults, PmSpot spot, const char *format, ...)
{
  PmFault fault = { spot, NULL };
  va_list args;

  if (++faults->found > PM_FAULTS_MAX)
    return;
  if (faults->found == PM_FAULTS_MAX) {
    fault.spot = (PmSpot){ spot.file, 0, 0 };
    fault.message =
        g_strdup_printf (_("%d faults and more; the others are not told. Mend these first."), PM_FAULTS_MAX - 1);
    g_array_append_val (faults->faults, fault);
    return;
  }
  va_start (args, format);
  fault.message = cut_long (g_strdup_vprintf (format, args));
  va_end (args);
  g_array_append_val (faults->faults, fault);
}

guint
pm_faults_count (const PmFaults *faults)
{
  return faults->faults->len;
}

guint
pm_faults_found (const PmFaults *faults)
{
  return faults->found;
}

const PmFault *
pm_faults_get (const PmFaults *faults, guint i)
{
  g_return_val_if_fail (i < faults->faults->len, NULL);
  return &g_array_index (faults->faults, PmFault, i);
}

/* What a fault is sorted by: its file's turn, its line, its own turn. */
typedef struct {
  guint file, line, turn;
  PmFault fault;
} SortKey;

static gint
compare_keys (gconstpointer a, gconstpointer b)
{
  const SortKey *x = a, *y = b;

  if (x->file != y->file)
    return x->file < y->file ? -1 : 1;
  if (x->line != y->line)
    return x->line < y->line ? -1 : 1;
  return x->turn < y->turn ? -1 : x->turn > y->turn;
}

void
pm_faults_sort (PmFaults *faults)
{
  g_autoptr (GHashTable) turns = g_hash_table_new (g_direct_hash, g_direct_equal);
  guint n = faults->faults->len;
  g_autofree SortKey *keys = g_new (SortKey, n + 1);

  for (guint i = 0; i < n; i++) {
    PmFault *fault = &g_array_index (faults->faults, PmFault, i);
    gpointer turn;
    if (!g_hash_table_lookup_extended (turns, fault->spot.file, NULL, &turn)) {
      turn = GUINT_TO_POINTER (g_hash_table_size (turns));
      g_hash_table_insert (turns, (gpointer)fault->spot.file, turn);
    }
    gboolean more = i == PM_FAULTS_MAX - 1;
    keys[i] = (SortKey){ more ? G_MAXUINT : GPOINTER_TO_UINT (turn), fault->spot.line, i, *fault };
  }
  qsort (keys, n, sizeof (SortKey), compare_keys);
  for (guint i = 0; i < n; i++)
    g_array_index (faults->faults, PmFault, i) = keys[i].fault;
}

char *
pm_fault_to_text (const PmFault *fault)
{
  const PmSpot *spot = &fault->spot;
  const char *file = spot->file != NULL ? spot->file : "";

  if (spot->line == 0)
    return g_strdup_printf ("%s: %s", file, fault->message);
  if (spot->other_line == 0)
    return g_strdup_printf ("%s:%u: %s", file, spot->line, fault->message);
  /* Translators: FILE:LINE and LINE: MESSAGE */
  return g_strdup_printf (_("%s:%u and %u: %s"), file, spot->line, spot->other_line, fault->message);
}

/* Edits from a to b without regard to case; exchanging two neighbours is one edit. */
static guint
edit_distance (const char *a, gsize la, const char *b, gsize lb)
{
  guint rows[3][NEAREST_MAX + 1];
  guint *two = rows[0], *one = rows[1], *now = rows[2];

  for (gsize j = 0; j <= lb; j++)
    one[j] = j;
  memset (rows[0], 0, sizeof rows[0]);
  for (gsize i = 1; i <= la; i++) {
    now[0] = i;
    for (gsize j = 1; j <= lb; j++) {
      gboolean same = g_ascii_tolower (a[i - 1]) == g_ascii_tolower (b[j - 1]);
      guint best = one[j - 1] + !same;
      best = MIN (best, MIN (one[j], now[j - 1]) + 1);
      if (i > 1 && j > 1 && g_ascii_tolower (a[i - 1]) == g_ascii_tolower (b[j - 2]) &&
          g_ascii_tolower (a[i - 2]) == g_ascii_tolower (b[j - 1]))
        best = MIN (best, two[j - 2] + 1);
      now[j] = best;
    }
    guint *rest = two;
    two = one;
    one = now;
    now = rest;
  }
  return one[lb];
}

/* One letter moved to another place is one slip, however far it moved. */
static gboolean
one_moved (const char *a, const char *b, gsize n)
{
  gsize first = 0, last = n;

  while (first < n && g_ascii_tolower (a[first]) == g_ascii_tolower (b[first]))
    first++;
  while (last > first && g_ascii_tolower (a[last - 1]) == g_ascii_tolower (b[last - 1]))
    last--;
  gsize moved = last > first ? last - first - 1 : 0;
  return g_ascii_strncasecmp (a + first, b + first + 1, moved) == 0 ||
         g_ascii_strncasecmp (a + first + 1, b + first, moved) == 0;
}

/* Between equally distant names: the same letters in another order first, then the same length, then letters near in
 * the alphabet. */
static guint
unlikeness (const char *a, gsize la, const char *b, gsize lb)
{
  int counts[256] = { 0 };
  guint strange = 0, apart = 0;

  for (gsize i = 0; i < la; i++)
    counts[(guchar)g_ascii_tolower (a[i])]++;
  for (gsize i = 0; i < lb; i++)
    counts[(guchar)g_ascii_tolower (b[i])]--;
  for (guint i = 0; i < G_N_ELEMENTS (counts); i++)
    strange += ABS (counts[i]);
  for (gsize i = 0; i < MIN (la, lb); i++)
    apart += ABS (g_ascii_tolower (a[i]) - g_ascii_tolower (b[i]));
  apart = MIN (apart, SAME_LETTERS - 1);
  if (strange == 0)
    return apart;
  return SAME_LETTERS + (la != lb ? SAME_LETTERS : 0) + apart;
}

const char *
pm_nearest (const char *word, const char *const *names, gsize n)
{
  gsize length = MIN (strlen (word), NEAREST_MAX);
  guint limit = MAX (1, length / 3), best = G_MAXUINT, best_unlike = G_MAXUINT;
  const char *nearest = NULL;

  for (gsize i = 0; i < n; i++) {
    gsize other = MIN (strlen (names[i]), NEAREST_MAX);
    if (MAX (other, length) - MIN (other, length) > limit)
      continue;
    guint distance = edit_distance (word, length, names[i], other);
    if (distance > limit || distance >= MAX (length, other))
      continue;
    guint unlike = unlikeness (word, length, names[i], other);
    if (unlike < SAME_LETTERS && one_moved (word, names[i], length))
      distance = MIN (distance, 1);
    if (distance > best)
      continue;
    if (distance < best || unlike < best_unlike) {
      best = distance;
      best_unlike = unlike;
      nearest = names[i];
    }
  }
  return nearest;
}
