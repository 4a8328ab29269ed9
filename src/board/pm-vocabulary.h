/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The vocabulary of the files: which elements stand in which, with which attributes. */
#pragma once
#include "pm-xml.h"

G_BEGIN_DECLS
/* Every unknown or missing element and attribute is a fault. FALSE if there was any. */
gboolean pm_vocabulary_check (const PmXml *root, PmFaults *faults);
G_END_DECLS
