/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A set of sheets, laid out for a size of paper: pages that can be drawn on any cairo context.
 *
 * A sheet of one kind is told as a flow of blocks (headings, words, lists, pictures) by its own file pm-sheet-NAME.c;
 * the flow is broken into pages with a frame, a title strip with the ISO 7200 fields that are filled, sheet n of m,
 * file hash, setting and view side.  Lengths are points (1/72 inch), measures of the trade millimetres where said.  The
 * smallest text is 8 pt.  White ground and black ink always; it must read in black and white.
 */
#pragma once
#include "pm-check.h"
#include "pm-style.h"
#include "pm-list.h"

G_BEGIN_DECLS

typedef enum { PM_PAPER_A4, PM_PAPER_LETTER, PM_N_PAPER_SIZES } PmPaperSize;

/* In the order printed; the table PM_SHEETS in pm-paper.c names each and its function. */
typedef enum {
  PM_SHEET_ONE_PAGE,      /* verdict, routes of every result, moved pins, parts, five checks */
  PM_SHEET_COVER,         /* verdict, routes of every result, cautions */
  PM_SHEET_DIAGRAM,
  PM_SHEET_PINS,          /* the map at 1:1, then the pin table */
  PM_SHEET_WIRES,
  PM_SHEET_CABLES,
  PM_SHEET_PARTS,
  PM_SHEET_RESULTS,
  PM_SHEET_SWITCH,        /* Switch and lead */
  PM_SHEET_STEPS,
  PM_SHEET_CHECKS,
  PM_SHEET_FIND_PINS,
  PM_SHEET_CASE_NOTE,     /* A6 */
  PM_SHEET_AS_BUILT,
  PM_N_SHEETS
} PmSheetKind;

typedef enum { PM_SET_ONE_PAGE, PM_SET_TO_BUILD, PM_SET_EVERYTHING, PM_N_SETS } PmPaperSet;

typedef struct {
  PmPaperSize   size;
  guint32       sheets;         /* mask of 1u << PmSheetKind */
  guint         case_index;     /* the setting drawn on the diagram */
  PmListOptions lists;
  gboolean      no_colour;
  char         *as_it_was;      /* "as it was at 14:02, before line 34 went wrong": on every sheet; or NULL */
  char         *date;           /* ISO 8601, of issue; NULL = left free */
  char         *creator;        /* or NULL */
} PmPaperOptions;

typedef struct _PmPaper PmPaper;

guint32     pm_paper_set_sheets  (PmPaperSet set);
/* "one-page", "to-build", "everything"; "wires" ... and their titles, translated. */
const char *pm_paper_set_id      (PmPaperSet set);
const char *pm_paper_set_title   (PmPaperSet set);
const char *pm_sheet_id          (PmSheetKind kind);
const char *pm_sheet_title       (PmSheetKind kind);
/* FALSE where a board has nothing for it (no cable, no switch, sits nowhere). */
gboolean    pm_sheet_applies     (const PmCheck *check, PmSheetKind kind);

/* check and options must outlive the paper.  Sheets that do not apply are left out.  Never NULL; at least one page. */
PmPaper    *pm_paper_new         (const PmCheck *check, const PmPaperOptions *options);
void        pm_paper_free        (PmPaper *paper);
guint       pm_paper_n_pages     (const PmPaper *paper);
/* Points; landscape pages are wider than high. */
void        pm_paper_page_size   (const PmPaper *paper, guint page, double *width, double *height);
PmSheetKind pm_paper_page_kind   (const PmPaper *paper, guint page);
/* "Wire list, 2 of 3": for outlines and previews.  Borrowed. */
const char *pm_paper_page_title  (const PmPaper *paper, guint page);
void        pm_paper_draw        (const PmPaper *paper, guint page, cairo_t *cr);
/* Words over words or out of the frame, text under 8 pt: problems, one a line, empty when clean.  For tests. */
char      **pm_paper_check       (const PmPaper *paper);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmPaper, pm_paper_free)
G_END_DECLS
