/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Board files made at random: about that many parts of all kinds on a machine with two drives, joined anyhow but never
 * against the format. */
#pragma once
#include <glib.h>

G_BEGIN_DECLS
/* The same seed gives the same file.  g_free. */
char *random_file_new (guint32 seed, guint n_parts);
G_END_DECLS
