/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pm-board.h"
int main (void) { return 0; }
