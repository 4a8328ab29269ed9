/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Labels that give way. */
#include "config.h"
#include "pm-label.h"

GtkWidget *
pm_label_new_wrapped (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  return label;
}

GtkWidget *
pm_label_new_cell (const char *text)
{
  GtkWidget *label = pm_label_new_wrapped (text);

  gtk_label_set_yalign (GTK_LABEL (label), 0);
  return label;
}
