/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A finding as it is told: its rows put together, its places, its followers, what is accepted.  The sentences stand in
 * pm-finding-what.c and pm-finding-why.c. */
#include "config.h"
#include "pm-finding-private.h"
#include "pm-naming.h"
#include <glib/gi18n-lib.h>
#include <string.h>

void
pm_finding_clear (PmFinding *finding)
{
  char **texts[] = {&finding->title,   &finding->short_text, &finding->where,    &finding->when,
                    &finding->what,    &finding->because,    &finding->matters,  &finding->to_do,
                    &finding->measure, &finding->follows,    &finding->accepted, &finding->identity};
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    g_free (*texts[i]);
  g_strfreev (finding->followers);
  g_free (finding->places);
  g_free (finding->spots);
}

static void
tell_followers (const PmTrial *trial, const PmCause *cause, PmFinding *out)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();
  g_autoptr (GString) row = g_string_new (NULL);
  for (guint i = 0; i < cause->followers->len; i++) {
    const PmCause *other = g_ptr_array_index (cause->followers, i);
    g_autofree char *title = pm_finding_title (trial, &g_array_index (other->raws, PmRaw, 0)),
                    *in = pm_finding_in (trial, other->raws);
    char *line = g_strdup_printf ("%s%s%s", title, in[0] != '\0' ? " " : "", in);
    g_ptr_array_add (lines, line);
    if (i < 3)
      g_string_append_printf (row, "%s%s", row->len > 0 ? "; " : "", line);
  }
  if (cause->followers->len > 3)
    g_string_append_printf (row, ngettext ("; %u more", "; %u more", cause->followers->len - 3),
                            cause->followers->len - 3);
  if (row->len > 0)
    g_string_append_c (row, '.');
  g_ptr_array_add (lines, NULL);
  out->followers = (char **) g_ptr_array_steal (lines, NULL);
  out->follows = row->len > 0 ? g_string_free (g_steal_pointer (&row), FALSE) : NULL;
}

static void
add_spot (PmFinding *out, PmSpot spot)
{
  if (spot.line == 0)
    return;
  for (guint i = 0; i < out->n_spots; i++)
    if (out->spots[i].line == spot.line && out->spots[i].file == spot.file)
      return;
  out->spots = g_renew (PmSpot, out->spots, out->n_spots + 1);
  out->spots[out->n_spots++] = spot;
}

static int
compare_places (gconstpointer a, gconstpointer b)
{
  guint32 x = *(const guint32 *) a, y = *(const guint32 *) b;
  return x < y ? -1 : x > y;
}

static void
tell_places (const PmTrial *trial, const PmCause *cause, PmFinding *out)
{
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (guint32));
  for (guint i = 0; i < cause->raws->len; i++) {
    const PmRaw *raw = &g_array_index (cause->raws, PmRaw, i);
    const guint32 of[] = {raw->place, raw->kind == PM_FINDING_RAILS_JOINED ? PM_NONE : raw->place2};
    for (guint k = 0; k < G_N_ELEMENTS (of); k++) {
      gboolean known = of[k] >= trial->board->n_places;
      for (guint p = 0; p < places->len && !known; p++)
        known = g_array_index (places, guint32, p) == of[k];
      if (!known)
        g_array_append_val (places, of[k]);
    }
  }
  g_array_sort (places, compare_places);
  out->n_places = places->len;
  g_autoptr (GString) identity = g_string_new (out->id);
  for (guint i = 0; i < places->len; i++) {
    g_autofree char *name = pm_name_pin (trial->board, g_array_index (places, guint32, i));
    g_string_append_printf (identity, " %s", name);
  }
  const PmRaw *raw = &g_array_index (cause->raws, PmRaw, 0);
  if (raw->unit >= 0)
    g_string_append_printf (identity, " %s", trial->board->host.units[raw->unit].name);
  if (raw->drive >= 0)
    g_string_append_printf (identity, " %s", trial->board->drives[raw->drive].name);
  if (raw->does != NULL && raw->kind != PM_FINDING_NOT_SEEN_AS)
    g_string_append_printf (identity, " %s", raw->does);
  if (raw->sw != PM_NONE)
    g_string_append_printf (identity, " %s", trial->board->switches[raw->sw].name);
  if (raw->index != PM_NONE && raw->kind == PM_FINDING_ASSUMED && g_strcmp0 (raw->does, "line") == 0)
    g_string_append_printf (identity, " %s", trial->board->host.lines[raw->index].name);
  else if (raw->index != PM_NONE && (raw->kind == PM_FINDING_ASSUMED || raw->kind == PM_FINDING_START_UNKNOWN ||
                                     raw->kind == PM_FINDING_UNUSED_INPUT_OPEN))
    g_string_append_printf (identity, " %s", trial->board->instances[raw->index].ref);
  out->identity = g_string_free (g_steal_pointer (&identity), FALSE);
  out->places = (guint32 *) (gpointer) g_array_free (g_steal_pointer (&places), FALSE);
}

static void
look_for_accept (const PmTrial *trial, PmFinding *out)
{
  for (guint i = 0; i < trial->board->n_accepts; i++) {
    const PmAccept *accept = &trial->board->accepts[i];
    if (out->severity != PM_SEVERITY_CARE || g_strcmp0 (accept->finding, out->id) != 0)
      continue;
    if (accept->at != NULL && accept->at[0] != '\0') {
      g_auto (GStrv) words = g_strsplit (out->identity, " ", -1);
      if (!g_strv_contains ((const char *const *) words, accept->at))
        continue;
    }
    out->severity = PM_SEVERITY_NOTE;
    out->accepted = g_strdup (accept->why != NULL ? accept->why : "");
  }
}

/* Some findings gather several things of one sort: what a drive does not give, which inputs hang open. */
static char *
what_of_all (const PmTrial *trial, const PmCause *cause, const PmRaw *raw)
{
  if (raw->kind != PM_FINDING_NOT_SEEN_AS && raw->kind != PM_FINDING_IDLE_TODAY &&
      raw->kind != PM_FINDING_UNUSED_INPUT_OPEN)
    return pm_tell_what (trial, raw);
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < cause->raws->len; i++) {
    const PmRaw *one = &g_array_index (cause->raws, PmRaw, i);
    char *word = raw->kind == PM_FINDING_NOT_SEEN_AS  ? g_strdup (one->does)
                 : raw->kind == PM_FINDING_IDLE_TODAY ? g_strdup (pm_tell_drive (trial, one->drive))
                                                      : pm_name_pin (trial->board, one->place);
    if (g_ptr_array_find_with_equal_func (words, word, g_str_equal, NULL))
      g_free (word);
    else
      g_ptr_array_add (words, word);
  }
  g_autofree char *list = pm_name_list (words);
  if (raw->kind == PM_FINDING_NOT_SEEN_AS)
    return g_strdup_printf (_("The machine wants %s from a drive on %s; %s does not give that."), list,
                            pm_tell_unit (trial, raw->unit), pm_tell_drive (trial, raw->drive));
  if (raw->kind == PM_FINDING_IDLE_TODAY)
    return g_strdup_printf (ngettext ("By the files %s is on before any board is there. Is that what the machine does?",
                                      "By the files %s are on before any board is there. Is that what the machine "
                                      "does?",
                                      words->len),
                            list);
  return g_strdup_printf (_("Nothing drives or holds %s."), list);
}

/* A title inside a sentence: its first letter small, unless it begins with a name. Takes text. */
char *
pm_finding_lower (const PmBoard *board, char *text)
{
  /* Translators: "kept" if a title inside a sentence keeps its capital letter, as in a language with capital nouns. */
  if (g_str_equal (C_("capital of a title inside a sentence", "dropped"), "kept"))
    return text;
  gboolean name = !g_ascii_isupper (text[0]) || !(text[1] == ' ' || g_ascii_islower (text[1]));
  for (guint d = 0; d < board->n_drives && !name; d++)
    name = g_str_has_prefix (text, pm_name_drive (board, d));
  for (guint u = 0; u < board->host.n_units && !name; u++)
    name = g_str_has_prefix (text, board->host.units[u].name);
  for (guint l = 0; l < board->host.n_lines && !name; l++)
    name = g_str_has_prefix (text, board->host.lines[l].name);
  for (guint i = 0; i < board->n_instances && !name; i++)
    name = strlen (board->instances[i].ref) > 1 && g_str_has_prefix (text, board->instances[i].ref);
  if (!name)
    text[0] = g_ascii_tolower (text[0]);
  return text;
}

/* What is certain is told of the cases where it is certain. */
static GArray *
as_sure_as_the_first (const GArray *raws)
{
  GArray *sure = g_array_new (FALSE, FALSE, sizeof (PmRaw));
  for (guint i = 0; i < raws->len; i++)
    if (g_array_index (raws, PmRaw, i).may == g_array_index (raws, PmRaw, 0).may)
      g_array_append_vals (sure, &g_array_index (raws, PmRaw, i), 1);
  return sure;
}

void
pm_finding_tell (const PmTrial *trial, const PmCause *cause, PmFinding *out)
{
  const PmRaw *raw = &g_array_index (cause->raws, PmRaw, 0);
  PmSpot spot = {0};
  out->kind = raw->kind;
  out->id = PM_FINDINGS[raw->kind].id;
  out->severity = cause->severity;
  out->title = pm_name_capital (pm_finding_title (trial, raw));
  g_autoptr (GArray) sure = as_sure_as_the_first (cause->raws);
  g_autofree char *in = pm_finding_in (trial, sure);
  g_autofree char *lower = g_strdup (out->title);
  lower = pm_finding_lower (trial->board, g_steal_pointer (&lower));
  out->short_text = g_strdup_printf ("%s%s%s", lower, in[0] != '\0' ? " " : "", in);
  out->when = pm_tell_when (trial, sure);
  out->what = what_of_all (trial, cause, raw);
  if (out->what != NULL)
    out->what = pm_name_capital (out->what);
  out->because = pm_tell_because (trial, cause, raw, &spot);
  out->matters = g_strdup (_(PM_FINDINGS[raw->kind].matters));
  out->to_do = pm_tell_to_do (trial, cause, raw);
  out->tried = cause->repair != NULL;
  out->measure = pm_tell_measure (trial, cause, raw);
  out->case_index = raw->spec;
  out->unit = raw->unit;
  out->drive = raw->drive;
  tell_followers (trial, cause, out);
  add_spot (out, spot);
  if (raw->place < trial->board->n_places)
    add_spot (out, pm_name_spot (trial->board, raw->place));
  if (raw->unit >= 0 && trial->results[raw->spec].wanted != PM_NONE)
    add_spot (out, trial->board->wanted[trial->results[raw->spec].wanted].spot);
  tell_places (trial, cause, out);
  g_autofree char *pin = out->n_places > 0 ? pm_name_pin (trial->board, out->places[0]) : NULL;
  out->where = in[0] != '\0' && pin != NULL ? g_strdup_printf ("%s · %s", in, pin)
                                            : g_strdup (in[0] != '\0' ? in
                                                        : pin != NULL ? pin
                                                                      : "");
  look_for_accept (trial, out);
}

void
pm_finding_tell_today (const PmTrial *trial, const GArray *as_today, PmFinding *out)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < as_today->len; i++) {
    g_autofree char *title = pm_finding_title (trial, &g_array_index (as_today, PmRaw, i));
    if (words->len < 4 && !g_ptr_array_find_with_equal_func (words, title, g_str_equal, NULL))
      g_ptr_array_add (words, g_steal_pointer (&title));
  }
  g_autoptr (GString) list = g_string_new (NULL);
  for (guint i = 0; i < words->len; i++)
    g_string_append_printf (list, "%s%s", i > 0 ? "; " : "", (char *) g_ptr_array_index (words, i));
  g_string_append_c (list, '.');
  const PmRaw *raw = &g_array_index (as_today, PmRaw, 0);
  out->kind = PM_FINDING_AS_TODAY;
  out->id = PM_FINDINGS[PM_FINDING_AS_TODAY].id;
  out->severity = PM_SEVERITY_NOTE;
  out->title = g_strdup (_("As today"));
  out->short_text = g_strdup (_("as today"));
  out->where = g_strdup (_("without the board too"));
  out->when = g_strdup (_("With and without the board."));
  out->what = g_string_free (g_steal_pointer (&list), FALSE);
  out->matters = g_strdup (_(PM_FINDINGS[PM_FINDING_AS_TODAY].matters));
  out->case_index = raw->spec;
  out->unit = out->drive = -1;
  out->followers = g_new0 (char *, 1);
  out->identity = g_strdup (out->id);
}
