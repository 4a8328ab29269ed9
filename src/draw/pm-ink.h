/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands on a piece of paper: words, rules, boxes, pictures, each recorded with its place and drawn later.
 *
 * Sheets are put together from such pieces, so that they can be moved, joined, checked (words over words, words out of
 * the frame, words too small) and drawn any number of times.  Lengths are points, y runs down.
 */
#pragma once
#include "pm-check.h"
#include "pm-style.h"

G_BEGIN_DECLS

/* The smallest text on paper (ISO 3098 has 2.5 mm = 7.1 pt as its usual smallest). */
#define PM_SMALLEST_TEXT 8.0
#define PM_MM (72 / 25.4)

/* How wide words are, worked out once for each word: widths grow with the size, for paper has no pixels. Style and
 * type are read-only for their users, but for the store of widths: one thread. */
typedef struct _PmType PmType;
PmType       *pm_type_new       (gboolean no_colour);
void          pm_type_free      (PmType *type);
const PmStyle *pm_type_style    (const PmType *type);
PangoContext *pm_type_context   (const PmType *type);
double        pm_type_width     (PmType *type, const char *text, double size, gboolean bold);
/* Height of a line, and how far above the line's top the next baseline lies. */
double        pm_type_line      (const PmType *type, double size);
/* Width of the widest part that cannot be broken. */
double        pm_type_least     (PmType *type, const char *text, double size, gboolean bold);
/* Lines of at most width where words allow it; char *, at least one. */
GPtrArray    *pm_type_wrap      (PmType *type, const char *text, double size, gboolean bold, double width);
/* The text, or as much of its beginning as fits with "…" after it.  g_free. */
char         *pm_type_shorten   (PmType *type, const char *text, double size, gboolean bold, double width);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmType, pm_type_free)

typedef enum {
  PM_INK_PLAIN = 0,
  PM_INK_BOLD = 1 << 0,
  PM_INK_FAINT = 1 << 1,
  PM_INK_CENTRE = 1 << 2,      /* x is the middle */
  PM_INK_RIGHT = 1 << 3,       /* x is the right end */
  PM_INK_GROUND = 1 << 4,      /* white, on something black */
  PM_INK_DASHED = 1 << 5       /* rules and boxes */
} PmInkHow;

typedef void (*PmInkDraw) (cairo_t *cr, const PmType *type, double width, double height, gpointer data);

typedef char **(*PmInkCheck) (gpointer data);

typedef struct _PmInk PmInk;
PmInk  *pm_ink_new       (void);
void    pm_ink_free      (PmInk *ink);
/* y is the line's top. */
void    pm_ink_text      (PmInk *ink, PmType *type, double x, double y, const char *text, double size, guint how);
/* Wrapped to width; returns the height it took. */
double  pm_ink_paragraph (PmInk *ink, PmType *type, double x, double y, double width, const char *text, double size,
                          guint how);
void    pm_ink_line      (PmInk *ink, double x1, double y1, double x2, double y2, double thick, guint how);
/* grey: 0 white inside, 1 black; below 0: nothing inside. thick 0: no outline. */
void    pm_ink_box       (PmInk *ink, double x, double y, double width, double height, double thick, double grey,
                          guint how);
void    pm_ink_ring      (PmInk *ink, double x, double y, double radius, double thick, double grey);
void    pm_ink_mark      (PmInk *ink, PmType *type, double x, double y, PmSeverity severity);
/* Drawn at its own 0,0; data must outlive the ink.  check: problems of the picture itself (g_strfreev), or NULL. */
void    pm_ink_picture   (PmInk *ink, double x, double y, double width, double height, PmInkDraw draw,
                          PmInkCheck check, gpointer data);
/* Moves everything of other into ink; other is freed. */
void    pm_ink_take      (PmInk *ink, PmInk *other, double dx, double dy);
void    pm_ink_draw      (const PmInk *ink, const PmType *type, cairo_t *cr);
/* Appends problems (char *), each with the words it is about. */
void    pm_ink_check     (const PmInk *ink, const PmType *type, const PmRect *inside, GPtrArray *problems);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmInk, pm_ink_free)
G_END_DECLS
