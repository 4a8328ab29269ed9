/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A drop-down of long names that does not ask for their whole width. */
#pragma once
#include <gtk/gtk.h>

G_BEGIN_DECLS
/* Names on the button are cut with an ellipsis; the list shows them whole. */
void pm_drop_down_shorten (GtkDropDown *drop_down);
G_END_DECLS
