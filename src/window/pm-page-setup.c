/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Choices of the print window, as GSettings keeps them: ids, so that another language reads the same. */
#include "config.h"
#include "pm-page-setup.h"
#include <langinfo.h>

static const char *const sizes[PM_N_PAPER_SIZES] = {[PM_PAPER_A4] = "a4", [PM_PAPER_LETTER] = "letter"};

/* A4, or Letter where the locale uses it (_NL_PAPER_HEIGHT of the C library). */
static PmPaperSize
usual_size (void)
{
  /* Not a pointer to words: the number itself, in millimetres. */
  union { const char *words; int number; } height = {.words = nl_langinfo (_NL_PAPER_HEIGHT)};

  return height.number == 279 ? PM_PAPER_LETTER : PM_PAPER_A4;
}

void
pm_page_setup_load (GSettings *settings, PmPaperOptions *options)
{
  g_autofree char *size = settings != NULL ? g_settings_get_string (settings, "paper") : g_strdup ("");
  g_auto (GStrv) sheets = settings != NULL ? g_settings_get_strv (settings, "sheets") : NULL;

  options->size = usual_size ();
  for (guint i = 0; i < PM_N_PAPER_SIZES; i++)
    if (g_str_equal (size, sizes[i]))
      options->size = (PmPaperSize) i;
  options->sheets = 0;
  for (guint i = 0; sheets != NULL && sheets[i] != NULL; i++)
    for (guint k = 0; k < PM_N_SHEETS; k++)
      if (g_str_equal (sheets[i], pm_sheet_id ((PmSheetKind) k)))
        options->sheets |= 1u << k;
  if (options->sheets == 0)
    options->sheets = pm_paper_set_sheets (PM_SET_ONE_PAGE);
  options->no_colour = settings != NULL && !g_settings_get_boolean (settings, "print-colour");
  options->lists.n_boards = settings != NULL ? (guint) g_settings_get_int (settings, "boards") : 1;
}

void
pm_page_setup_save (GSettings *settings, const PmPaperOptions *options)
{
  const char *sheets[PM_N_SHEETS + 1];
  guint n = 0;

  if (settings == NULL)
    return;
  for (guint k = 0; k < PM_N_SHEETS; k++)
    if (options->sheets >> k & 1)
      sheets[n++] = pm_sheet_id ((PmSheetKind) k);
  sheets[n] = NULL;
  g_settings_set_strv (settings, "sheets", sheets);
  g_settings_set_string (settings, "paper", sizes[options->size]);
  g_settings_set_boolean (settings, "print-colour", !options->no_colour);
  g_settings_set_int (settings, "boards", (int) options->lists.n_boards);
}
