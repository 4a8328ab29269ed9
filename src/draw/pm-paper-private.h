/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the writer of files needs to know of a paper. */
#pragma once
#include "pm-paper.h"

G_BEGIN_DECLS
const PmCheck        *pm_paper_check_of (const PmPaper *paper);
const PmPaperOptions *pm_paper_options  (const PmPaper *paper);
G_END_DECLS
