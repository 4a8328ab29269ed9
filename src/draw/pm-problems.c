/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One more problem that a checker found. */
#include "config.h"
#include "pm-problems.h"

void
pm_problems_add (GPtrArray *problems, const char *format, ...)
{
  va_list list;

  va_start (list, format);
  g_ptr_array_add (problems, g_strdup_vprintf (format, list));
  va_end (list);
}
