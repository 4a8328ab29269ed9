/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the words of the window mean, in the order in which they are met. */
#pragma once
#include <glib.h>

G_BEGIN_DECLS
typedef struct {
  const char *group;     /* all three untranslated */
  const char *word;      /* context "word" */
  const char *meaning;
} PmWord;

/* Ends with a group of NULL. */
const PmWord *pm_words_table (void);
G_END_DECLS
