/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A sheet as it is told: headings, words, lists, pictures one after another, broken into pages.
 *
 * A flow knows no page: pm_flow_pages sets it at a width, height and size of text, as often as wanted, so that a sheet
 * can be tried at several sizes.  Rows of tables, paragraphs and pictures are never split; heads of tables stand again
 * on every page; headings and cautions stay with what follows them.  Lengths are points.
 */
#pragma once
#include "pm-ink.h"
#include "pm-list.h"

G_BEGIN_DECLS

typedef struct _PmFlow PmFlow;

/* Makes a picture for a width there is; sets the size it took. */
typedef PmInk *(*PmFlowPicture) (PmType *type, double width, double size, double *height, gpointer data);

/* type must outlive it. */
PmFlow *pm_flow_new       (PmType *type);
void    pm_flow_free      (PmFlow *flow);
/* rank 0: the sheet's own title, 1: within it. */
void    pm_flow_heading   (PmFlow *flow, guint rank, const char *text);
void    pm_flow_paragraph (PmFlow *flow, const char *text);
/* Bold, and kept with what follows. */
void    pm_flow_strong    (PmFlow *flow, const char *text);
void    pm_flow_bullet    (PmFlow *flow, const char *text);
/* A small-type remark. */
void    pm_flow_note      (PmFlow *flow, const char *text);
/* The mark and words beside it; kept with what follows where before is TRUE. */
void    pm_flow_marked    (PmFlow *flow, PmSeverity severity, const char *text, gboolean before);
/* "Measured by" and a line to write on. */
void    pm_flow_blank     (PmFlow *flow, const char *label);
/* Takes the list: its about, its table, its notes.  columns: ids in order, or NULL for all; what is no column is left
 * out.  A list without rows is its notes only. */
void    pm_flow_list      (PmFlow *flow, PmList *list, const char *const *columns);
void    pm_flow_picture   (PmFlow *flow, PmFlowPicture make, gpointer data, GDestroyNotify destroy);
/* Side by side, share of the width to the left one; both are taken. */
void    pm_flow_columns   (PmFlow *flow, PmFlow *left, PmFlow *right, double share);
/* More white. */
void    pm_flow_gap       (PmFlow *flow, double lines);

/* The width at which no table must break words or squeeze its columns. */
double  pm_flow_wants     (PmFlow *flow, double size);
/* PmInk pages, at least one; each at 0,0.  first: height there is on the first page.  last: what the last one takes,
 * may be NULL. */
GPtrArray *pm_flow_pages  (PmFlow *flow, double width, double first, double height, double size, double *last);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmFlow, pm_flow_free)
G_END_DECLS
