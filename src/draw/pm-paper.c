/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets into pages: which sheets there are, how large and which way round each is set, frame and title strip.
 *
 * Sheet sizes are those of ISO 216 and, for Letter, 8.5 by 11 inches; the frame leaves 20 mm at the left, to be filed,
 * and 10 mm elsewhere (ISO 5457 as general pages give it).  The strip has the fields of ISO 7200 that are filled.
 */
#include "config.h"
#include "pm-paper.h"
#include "pm-paper-private.h"
#include "pm-sheet.h"
#include "pm-naming.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define LEFT (20 * PM_MM)
#define OTHER (10 * PM_MM)
#define FRAME_LINE (0.7 * PM_MM)
#define STRIP_ROW 24.0
#define INSIDE 7.0                /* white between the frame and what stands in it */
#define GAP 10.0                  /* between two sheets on one page */
#define LEAST_ROOM 60.0
#define ALMOST_EMPTY 0.3          /* of a page: then smaller text is tried */

typedef enum {
  SHEET_JOINS = 1 << 0,           /* may stand below another sheet on its page */
  SHEET_JOINS_ANY = 1 << 3,       /* not only the one just before it */
  SHEET_LANDSCAPE = 1 << 1,
  SHEET_BARE = 1 << 2,            /* no setting of its own, takes the whole page */
} SheetFlags;

typedef struct {
  const char  *id, *title;
  PmSheetFunc  tell;
  guint        flags;
} Sheet;

static const Sheet PM_SHEETS[PM_N_SHEETS] = {
  [PM_SHEET_ONE_PAGE] = { "one-page", N_("One page"), pm_sheet_one_page, SHEET_BARE },
  [PM_SHEET_COVER] = { "cover", N_("Cover"), pm_sheet_cover, 0 },
  [PM_SHEET_DIAGRAM] = { "diagram", N_("Wiring diagram"), pm_sheet_diagram, SHEET_BARE },
  [PM_SHEET_PINS] = { "pins", N_("Pins"), pm_sheet_pins, 0 },
  [PM_SHEET_WIRES] = { "wires", N_("Wire list"), pm_sheet_wires, 0 },
  [PM_SHEET_CABLES] = { "cables", N_("Cable table"), pm_sheet_cables, SHEET_JOINS },
  [PM_SHEET_PARTS] = { "parts", N_("Parts list"), pm_sheet_parts, SHEET_JOINS },
  [PM_SHEET_RESULTS] = { "results", N_("Comparison of results"), pm_sheet_results, SHEET_JOINS | SHEET_JOINS_ANY },
  [PM_SHEET_SWITCH] = { "switch", N_("Switch and lead"), pm_sheet_switch, SHEET_JOINS },
  [PM_SHEET_STEPS] = { "steps", N_("Build steps"), pm_sheet_steps, SHEET_JOINS },
  [PM_SHEET_CHECKS] = { "checks", N_("Five checks with a meter"), pm_sheet_checks, SHEET_JOINS },
  [PM_SHEET_FIND_PINS] = { "find-pins", N_("Find my pins"), pm_sheet_find_pins, 0 },
  [PM_SHEET_CASE_NOTE] = { "case-note", N_("Case note"), pm_sheet_case_note, SHEET_LANDSCAPE },
  [PM_SHEET_AS_BUILT] = { "as-built", N_("As built"), pm_sheet_as_built, 0 },
};

#define BIT(kind) (1u << PM_SHEET_##kind)
static const struct {
  const char *id, *title;
  guint32     sheets;
} PM_SETS[PM_N_SETS] = {
  [PM_SET_ONE_PAGE] = { "one-page", N_("One page"), BIT (ONE_PAGE) },
  [PM_SET_TO_BUILD] = { "to-build", N_("To build"),
                        BIT (ONE_PAGE) | BIT (DIAGRAM) | BIT (PINS) | BIT (WIRES) | BIT (CABLES) | BIT (PARTS) |
                            BIT (SWITCH) | BIT (STEPS) | BIT (CHECKS) },
  [PM_SET_EVERYTHING] = { "everything", N_("Everything"), (1u << PM_N_SHEETS) - 1 },
};

static const struct { double width, height; } SIZES[PM_N_PAPER_SIZES] = {
  [PM_PAPER_A4] = { 210 * PM_MM, 297 * PM_MM },
  [PM_PAPER_LETTER] = { 612, 792 },
};

static const double TEXT_SIZES[] = { 9.5, 9, 8.5, 8 };

typedef struct {
  PmSheetKind kind;
  PmInk      *ink;
  double      width, height;
  double      used;               /* from the top of the place for sheets */
  char       *title;              /* of the sheets on it */
  char       *full_title;         /* with n of m */
  guint       n, of;              /* of its sheet's pages */
  gboolean    shows_setting;
} Page;

struct _PmPaper {
  PmSheetInput in;                /* borrowed but for the type */
  PmType      *type;
  GArray      *alternates;        /* PmAlternate, or NULL while no list has asked */
  PmList      *lists[PM_N_LISTS];
  GPtrArray   *flows;             /* pictures on pages belong to them */
  GPtrArray   *pages;
};

const char *
pm_paper_set_id (PmPaperSet set)
{
  g_return_val_if_fail (set < PM_N_SETS, NULL);
  return PM_SETS[set].id;
}

const char *
pm_paper_set_title (PmPaperSet set)
{
  g_return_val_if_fail (set < PM_N_SETS, NULL);
  return _(PM_SETS[set].title);
}

guint32
pm_paper_set_sheets (PmPaperSet set)
{
  g_return_val_if_fail (set < PM_N_SETS, 0);
  return PM_SETS[set].sheets;
}

const char *
pm_sheet_id (PmSheetKind kind)
{
  g_return_val_if_fail (kind < PM_N_SHEETS, NULL);
  return PM_SHEETS[kind].id;
}

const char *
pm_sheet_title (PmSheetKind kind)
{
  g_return_val_if_fail (kind < PM_N_SHEETS, NULL);
  return _(PM_SHEETS[kind].title);
}

static gboolean
any_cable (const PmBoard *board)
{
  for (guint i = 0; i < board->n_instances; i++)
    if (board->instances[i].part->type == PM_PART_CABLE)
      return TRUE;
  return FALSE;
}

static gboolean
any_hand_switch (const PmBoard *board)
{
  for (guint s = 0; s < board->n_switches; s++)
    if (pm_sheet_is_hand_switch (board, s))
      return TRUE;
  return FALSE;
}

gboolean
pm_sheet_applies (const PmCheck *check, PmSheetKind kind)
{
  const PmBoard *board = check->board;

  g_return_val_if_fail (kind < PM_N_SHEETS, FALSE);
  switch (kind) {
  case PM_SHEET_PINS:
    return board->has_board;
  case PM_SHEET_WIRES:
    return board->has_board;
  case PM_SHEET_CABLES:
    return any_cable (board);
  case PM_SHEET_SWITCH:
    return any_hand_switch (board);
  case PM_SHEET_FIND_PINS:
    return board->n_drives > 0;
  default:
    return TRUE;
  }
}

/* ---- frame and title strip */

/* label small above, value below it; the value is shortened to what fits. */
static void
add_field (PmInk *ink, PmType *type, double x, double y, double width, const char *label, const char *value,
           gboolean bold)
{
  double room = width - 2 * 3;
  g_autofree char *fits = NULL;
  double size = 9;

  value = value ? value : "";
  while (size > PM_SMALLEST_TEXT && pm_type_width (type, value, size, bold) > room)
    size -= 0.25;
  fits = pm_type_shorten (type, value, size, bold, room);
  pm_ink_box (ink, x, y, width, STRIP_ROW, 0.7, -1, 0);
  pm_ink_text (ink, type, x + 3, y + 1.5, label, 8, PM_INK_FAINT);
  pm_ink_text (ink, type, x + 3, y + STRIP_ROW - pm_type_line (type, size) - 1.5, fits, size, bold ? PM_INK_BOLD : 0);
}

typedef struct { const char *label, *value; double share; gboolean bold; } Field;

static void
add_fields (PmInk *ink, PmType *type, double x, double y, double width, const Field *fields, guint n)
{
  double sum = 0;

  for (guint i = 0; i < n; i++)
    sum += fields[i].share;
  for (guint i = 0; i < n; i++) {
    double wide = width * fields[i].share / sum;

    add_field (ink, type, x, y, wide, fields[i].label, fields[i].value, fields[i].bold);
    x += wide;
  }
}

static void
add_strip (PmPaper *paper, Page *page, guint number)
{
  const PmCheck *check = paper->in.check;
  const PmPaperOptions *options = paper->in.options;
  const PmBoard *board = check->board;
  g_autofree char *file = g_path_get_basename (board->path);
  g_autofree char *name = g_strdup (board->title ? board->title : file);
  g_autofree char *identity = g_strdup_printf ("%s · %s", file, board->hash);
  g_autofree char *sheet = g_strdup_printf (_("%u of %u"), number, paper->pages->len);
  gboolean revision = board->revision && board->revision[0];
  const char *setting = page->shows_setting && options->case_index < check->n_cases
                            ? check->cases[options->case_index].title : NULL;
  double x = LEFT, y = page->height - OTHER - 2 * STRIP_ROW, width = page->width - LEFT - OTHER;
  const Field first[] = { { _("Title"), name, 30, TRUE },
                          { _("Machine"), pm_name_host (board), 20, FALSE },
                          { _("Sheet"), page->full_title, 40, FALSE },
                          { _("Page"), sheet, 11, FALSE } };
  Field second[6];
  guint n = 0;

  second[n++] = (Field) { _("File, hash"), identity, 46, FALSE };
  if (setting)
    second[n++] = (Field) { _("Setting"), setting, 22, FALSE };
  if (revision)
    second[n++] = (Field) { _("Revision"), board->revision, 12, FALSE };
  second[n++] = (Field) { _("Date of issue"), options->date, 18, FALSE };
  second[n++] = (Field) { _("Made by"), options->creator, 20, FALSE };
  add_fields (page->ink, paper->type, x, y, width, first, G_N_ELEMENTS (first));
  add_fields (page->ink, paper->type, x, y + STRIP_ROW, width, second, n);
  pm_ink_box (page->ink, LEFT, OTHER, width, page->height - 2 * OTHER, FRAME_LINE, -1, 0);
  if (options->as_it_was) {
    double line = pm_type_line (paper->type, 9);

    pm_ink_text (page->ink, paper->type, LEFT + width / 2, OTHER + 4, options->as_it_was, 9,
                 PM_INK_BOLD | PM_INK_CENTRE);
    pm_ink_line (page->ink, LEFT, OTHER + line + 8, LEFT + width, OTHER + line + 8, 0.7, 0);
  }
}

/* ---- pages */

/* Where sheets stand on a page. */
static PmRect
place (const PmPaper *paper, double width, double height)
{
  double top = OTHER + INSIDE;

  if (paper->in.options->as_it_was)
    top += pm_type_line (paper->type, 9) + 8;
  return (PmRect) { LEFT + INSIDE, top, width - LEFT - OTHER - 2 * INSIDE,
                    height - OTHER - 2 * STRIP_ROW - INSIDE - top };
}

void
pm_sheet_room (const PmPaperOptions *options, gboolean lies, double *width, double *height)
{
  g_autoptr (PmType) type = pm_type_new (options->no_colour);
  const PmPaper paper = { .in = { .options = options }, .type = type };
  PmRect area = place (&paper, lies ? SIZES[options->size].height : SIZES[options->size].width,
                       lies ? SIZES[options->size].width : SIZES[options->size].height);

  *width = area.width;
  *height = area.height;
}

static void
page_free (gpointer data)
{
  Page *page = data;

  pm_ink_free (page->ink);
  g_free (page->title);
  g_free (page->full_title);
  g_free (page);
}

static Page *
page_new (PmPaper *paper, PmSheetKind kind, double width, double height)
{
  Page *page = g_new0 (Page, 1);

  page->kind = kind;
  page->ink = pm_ink_new ();
  page->width = width;
  page->height = height;
  page->title = g_strdup (pm_sheet_title (kind));
  page->shows_setting = kind == PM_SHEET_DIAGRAM || kind == PM_SHEET_PINS;
  g_ptr_array_add (paper->pages, page);
  return page;
}

/* The largest text with which the sheet needs no page for a few lines only. */
static GPtrArray *
set_sheet (PmFlow *flow, const PmRect *area, double *last)
{
  GPtrArray *best = NULL;
  double best_last = 0;

  for (guint i = 0; i < G_N_ELEMENTS (TEXT_SIZES); i++) {
    double used;
    GPtrArray *pages = pm_flow_pages (flow, area->width, area->height, area->height, TEXT_SIZES[i], &used);
    gboolean better = !best || pages->len < best->len;

    if (better) {
      g_clear_pointer (&best, g_ptr_array_unref);
      best = pages;
      best_last = used;
    } else
      g_ptr_array_unref (pages);
    if (best->len == 1 || best_last > area->height * ALMOST_EMPTY)
      break;
  }
  *last = best_last;
  return best;
}

static PmFlow *
told (PmPaper *paper, PmSheetKind kind, guint degree)
{
  PmFlow *flow = PM_SHEETS[kind].tell (&paper->in, degree);

  g_ptr_array_add (paper->flows, flow);
  return flow;
}

static void
take_pages (PmPaper *paper, PmSheetKind kind, GPtrArray *inks, double width, double height, double last)
{
  PmRect area = place (paper, width, height);

  for (guint i = 0; i < inks->len; i++) {
    Page *page = page_new (paper, kind, width, height);

    pm_ink_take (page->ink, g_steal_pointer (&inks->pdata[i]), area.x, area.y);
    page->used = i + 1 == inks->len ? last : area.height;
    page->n = i + 1;
    page->of = inks->len;
  }
  g_ptr_array_unref (inks);
}

/* The fullest page there is room for: as little as possible is left out, then the text is as large as possible.  What
 * is left out makes a page no higher, so the degree is found by halving. */
static void
add_one_page (PmPaper *paper, double width, double height)
{
  static const double SIZES_TRIED[] = { 9, 8.5, PM_SMALLEST_TEXT };
  PmRect area = place (paper, width, height);
  guint low = 0, high = PM_ONE_PAGE_DEGREES - 1;
  PmFlow *flow;
  double last;

  while (low < high) {
    guint middle = (low + high) / 2;
    g_autoptr (GPtrArray) tried = pm_flow_pages (told (paper, PM_SHEET_ONE_PAGE, middle), area.width, area.height,
                                                 area.height, PM_SMALLEST_TEXT, &last);

    if (tried->len == 1)
      high = middle;
    else
      low = middle + 1;
  }
  flow = told (paper, PM_SHEET_ONE_PAGE, low);
  for (guint i = 0; i < G_N_ELEMENTS (SIZES_TRIED); i++) {
    GPtrArray *inks = pm_flow_pages (flow, area.width, area.height, area.height, SIZES_TRIED[i], &last);

    if (inks->len == 1 || i + 1 == G_N_ELEMENTS (SIZES_TRIED)) {
      take_pages (paper, PM_SHEET_ONE_PAGE, inks, width, height, last);
      return;
    }
    g_ptr_array_unref (inks);
  }
}

/* Below another sheet, if it fits there whole. */
static gboolean
join_page (PmPaper *paper, PmSheetKind kind, PmFlow *flow, Page *page, double width)
{
  PmRect area;
  double last;
  g_autoptr (GPtrArray) inks = NULL;
  g_autofree char *title = g_strdup (page->title);

  if (page->width != width || page->n != page->of || (PM_SHEETS[page->kind].flags & (SHEET_BARE | SHEET_LANDSCAPE)))
    return FALSE;
  area = place (paper, page->width, page->height);
  if (area.height - page->used < LEAST_ROOM)
    return FALSE;
  inks = pm_flow_pages (flow, area.width, area.height, area.height, TEXT_SIZES[1], &last);
  if (inks->len > 1 || page->used + GAP + last > area.height)
    return FALSE;
  pm_ink_take (page->ink, g_steal_pointer (&inks->pdata[0]), area.x, area.y + page->used + GAP);
  page->used += GAP + last;
  g_free (page->title);
  page->title = g_strdup_printf ("%s · %s", title, pm_sheet_title (kind));
  return TRUE;
}

static gboolean
join_any_page (PmPaper *paper, PmSheetKind kind, PmFlow *flow, double width)
{
  if (!(PM_SHEETS[kind].flags & SHEET_JOINS))
    return FALSE;
  for (guint i = paper->pages->len; i > 0; i--) {
    if (join_page (paper, kind, flow, paper->pages->pdata[i - 1], width))
      return TRUE;
    if (!(PM_SHEETS[kind].flags & SHEET_JOINS_ANY))
      return FALSE;
  }
  return FALSE;
}

static void
add_sheet (PmPaper *paper, PmSheetKind kind)
{
  double width = SIZES[paper->in.options->size].width, height = SIZES[paper->in.options->size].height, last = 0;
  PmFlow *flow;
  PmRect area;
  GPtrArray *inks;

  if (kind == PM_SHEET_ONE_PAGE) {
    add_one_page (paper, width, height);
    return;
  }
  flow = told (paper, kind, 0);
  area = place (paper, width, height);
  if ((PM_SHEETS[kind].flags & SHEET_LANDSCAPE) || (kind == PM_SHEET_DIAGRAM && pm_sheet_diagram_lies (&paper->in)) ||
      pm_flow_wants (flow, PM_SMALLEST_TEXT) > area.width) {
    double swap = width;

    width = height;
    height = swap;
    area = place (paper, width, height);
  }
  if (join_any_page (paper, kind, flow, width))
    return;
  inks = set_sheet (flow, &area, &last);
  take_pages (paper, kind, inks, width, height, last);
}

PmPaper *
pm_paper_new (const PmCheck *check, const PmPaperOptions *options)
{
  PmPaper *paper = g_new0 (PmPaper, 1);

  g_return_val_if_fail (check != NULL && options != NULL && options->size < PM_N_PAPER_SIZES, NULL);
  paper->type = pm_type_new (options->no_colour);
  paper->in = (PmSheetInput) { check, options, paper->type, &paper->alternates, paper->lists,
                               pm_sheet_plans_new () };
  paper->flows = g_ptr_array_new_with_free_func ((GDestroyNotify) pm_flow_free);
  paper->pages = g_ptr_array_new_with_free_func (page_free);
  for (guint kind = 0; kind < PM_N_SHEETS; kind++)
    if ((options->sheets & 1u << kind) && pm_sheet_applies (check, kind))
      add_sheet (paper, kind);
  if (paper->pages->len == 0)
    add_sheet (paper, PM_SHEET_ONE_PAGE);
  for (guint i = 0; i < paper->pages->len; i++) {
    Page *page = paper->pages->pdata[i];

    page->full_title = page->of > 1 ? g_strdup_printf (_("%s, %u of %u"), page->title, page->n, page->of)
                                    : g_strdup (page->title);
    add_strip (paper, page, i + 1);
  }
  return paper;
}

void
pm_paper_free (PmPaper *paper)
{
  if (!paper)
    return;
  g_ptr_array_unref (paper->pages);
  g_ptr_array_unref (paper->flows);
  g_hash_table_unref (paper->in.plans);
  g_clear_pointer (&paper->alternates, g_array_unref);
  for (guint kind = 0; kind < PM_N_LISTS; kind++)
    pm_list_free (paper->lists[kind]);
  pm_type_free (paper->type);
  g_free (paper);
}

const PmCheck *
pm_paper_check_of (const PmPaper *paper)
{
  return paper->in.check;
}

const PmPaperOptions *
pm_paper_options (const PmPaper *paper)
{
  return paper->in.options;
}

guint
pm_paper_n_pages (const PmPaper *paper)
{
  return paper->pages->len;
}

void
pm_paper_page_size (const PmPaper *paper, guint page, double *width, double *height)
{
  g_return_if_fail (page < paper->pages->len);
  *width = ((Page *) paper->pages->pdata[page])->width;
  *height = ((Page *) paper->pages->pdata[page])->height;
}

PmSheetKind
pm_paper_page_kind (const PmPaper *paper, guint page)
{
  g_return_val_if_fail (page < paper->pages->len, PM_SHEET_ONE_PAGE);
  return ((Page *) paper->pages->pdata[page])->kind;
}

const char *
pm_paper_page_title (const PmPaper *paper, guint page)
{
  g_return_val_if_fail (page < paper->pages->len, NULL);
  return ((Page *) paper->pages->pdata[page])->full_title;
}

void
pm_paper_draw (const PmPaper *paper, guint page, cairo_t *cr)
{
  const Page *of;

  g_return_if_fail (page < paper->pages->len);
  of = paper->pages->pdata[page];
  cairo_save (cr);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_rectangle (cr, 0, 0, of->width, of->height);
  cairo_fill (cr);
  pm_ink_draw (of->ink, paper->type, cr);
  cairo_restore (cr);
}

char **
pm_paper_check (const PmPaper *paper)
{
  g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < paper->pages->len; i++) {
    const Page *page = paper->pages->pdata[i];
    PmRect inside = { LEFT, OTHER, page->width - LEFT - OTHER, page->height - 2 * OTHER };
    g_autoptr (GPtrArray) own = g_ptr_array_new_with_free_func (g_free);

    pm_ink_check (page->ink, paper->type, &inside, own);
    for (guint k = 0; k < own->len; k++)
      g_ptr_array_add (problems, g_strdup_printf ("%s: %s", page->full_title, (char *) own->pdata[k]));
  }
  g_ptr_array_add (problems, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&problems), FALSE);
}
