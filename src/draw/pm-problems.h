/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the checkers of pictures find: sentences in an array of char *. */
#pragma once
#include <glib.h>

G_BEGIN_DECLS
void pm_problems_add (GPtrArray *problems, const char *format, ...) G_GNUC_PRINTF (2, 3);
G_END_DECLS
