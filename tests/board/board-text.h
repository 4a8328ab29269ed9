/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A board as text, one fact a line, so that two boards can be compared and a difference can be read. */
#pragma once
#include "pm-board.h"

/* Everything of pm-board.h but where it was read: no paths, no lines.  Free with g_free. */
char *board_text (const PmBoard *board);
