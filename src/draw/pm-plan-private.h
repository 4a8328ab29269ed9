/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the track plan share: frame, connections, routes, words, marks.
 *
 * Order of work: frame (columns and rows, the same for all cases of a check) -> connections of the case, with their
 * ports -> routes -> marks and words.
 */
#pragma once
#include "pm-plan.h"
#include "pm-mark.h"
#include <math.h>

G_BEGIN_DECLS

/* Sizes that grow with the font.  Whole pixels, so that level lines stand on the grid. */
typedef struct {
  double em;
  double line;       /* width of a track */
  double thin;       /* width of an outline */
  double end;        /* width of an end mark */
  double joint;      /* radius of a crossed joint */
  double text;       /* height of a line of text, of a line of small text */
  double small;
} PmPlanMetrics;

/* The case as it is drawn; one per drive that a unit reaches or ought to reach. */
typedef enum {
  PM_LINK_YES,
  PM_LINK_GATED,     /* through a box that says on what it depends */
  PM_LINK_WANTED,    /* wanted, but absent: hollow */
} PmLinkKind;
typedef struct {
  PmLinkKind kind;
  guint      unit, drive;
  guint      port;   /* index into ports */
  double     y;      /* where it arrives: at the drive, or at the port's box */
} PmLink;

/* Where one or more links arrive at a drive. */
typedef struct {
  guint   drive;
  double  y;         /* on the drive's edge */
  double  gap;       /* to the next port of the drive */
  double  spread;    /* distance of its links at the box */
  char   *text;      /* of its box; NULL without one */
  const char *brief; /* what the box says where that has no room: "not certain" */
  const char *shown; /* one of the two, or NULL */
  PmRect  box;       /* width 0 without one */
  gboolean short_form; /* the box has no room for its text */
} PmPort;

/* Columns and rows. */
typedef struct {
  PmPlanMetrics m;
  double  width, height;
  double  host_x, host_width, drive_x, drive_width;
  double  platform_y, platform_height;
  double  first_row, pitch;  /* y of row 0, distance of rows; unit i and drive i stand in row i */
  guint   n_rows;
  double  box_height;        /* of a drive */
  guint   side_rows;         /* small lines of words there is room for under a drive */
  gboolean full_boxes;       /* room for the drive's face */
  gboolean host_title;       /* room for the machine's title */
  gboolean board_label;      /* room for the board's name under the last row */
  double  left, right;       /* diagonals and joints stay between these */
  PmRect  board;             /* outline */
} PmPlanFrame;

typedef struct { double x, y; } PmPoint;

/* A track: level and 45 degree pieces; unit -1 is ink. */
typedef struct {
  int      unit, drive;
  gboolean hollow, dotted;   /* wanted; thin dots: not driven */
  double   width;
  guint    n_points;
  PmPoint  points[6];
  GArray  *breaks;           /* PmBreak: where another track crosses over */
} PmTrack;
typedef struct { PmPoint at, along; double half; } PmBreak;  /* along: unit direction of the other track */

typedef enum {
  PM_TRACK_END, PM_TRACK_JOINT, PM_TRACK_TWO, PM_TRACK_BUFFER, PM_TRACK_FLOATS, PM_TRACK_GATE, PM_TRACK_ALWAYS,
  PM_TRACK_CLASH
} PmTrackMarkKind;
typedef struct {
  PmTrackMarkKind kind;
  int     unit, drive;
  double  x, y, size;
  PmRect  area;
} PmTrackMark;

typedef enum { PM_BOX_HOST, PM_BOX_DRIVE, PM_BOX_GATE } PmPlanBoxKind;
typedef struct {
  PmPlanBoxKind kind;
  PmRect  area;
  int     drive, unit;
  gboolean face, short_form;
  PmPoint lamp;              /* drives: centre */
  double  lamp_radius;       /* 0 = no room */
  PmLamp  shows;
} PmPlanBox;

typedef enum { PM_WORD_PLAIN, PM_WORD_TICK, PM_WORD_CROSS, PM_WORD_DOUBT } PmWordSign;
typedef struct {
  PangoLayout *layout;
  PmRect       area;         /* of text and sign */
  double       indent;       /* room of the sign */
  PmWordSign   sign;
  gboolean     faint;
  int          box;          /* index of the box it stands in, or -1 */
} PmWord;

struct _PmPlan {
  const PmCheck      *check;
  const PmBoard      *board;
  const PmCaseResult *result;
  const PmStyle      *style;
  PangoContext       *context;
  guint               case_index;
  PmPlanFrame         frame;
  gboolean            open;     /* too dense for tracks: the middle is left open, end marks tell */
  gboolean            outlined; /* the board's outline is drawn */
  GArray *links;      /* PmLink, unit major */
  GArray *ports;      /* PmPort */
  GArray *tracks;     /* PmTrack */
  GArray *marks;      /* PmTrackMark */
  GArray *boxes;      /* PmPlanBox */
  GArray *words;      /* PmWord */
  GArray *elements;   /* PmPlanElement */
  guint   n_left_out; /* words without room */
};

/* A box's level lead, in em. */
#define GATE_LEAD 0.9
#define PM_AT(array, type, i) (&g_array_index ((array), type, (i)))

/* pm-plan-frame.c */
void pm_plan_frame_init   (PmPlanFrame *frame, const PmCheck *check, double width, double height,
                           const PmStyle *style, PangoContext *context);
/* Centre of a level line in a row, on the pixel grid for tracks. */
double pm_plan_row_y      (const PmPlanFrame *frame, guint row);
double pm_plan_snap       (double y, double line_width);
/* Words under a drive: text of each, worst first; sides that stand there once only. Owned by the check. */
guint pm_plan_sides       (const PmCaseResult *result, guint drive, const PmSideLine **out, guint max);
/* Text of a box on a track, wrapped for a box of this width; clear of the end marks on its left edge. */
#define PM_GATE_LEFT(m) ((m)->end / 2 + 3)
#define PM_GATE_AIR(m) (PM_GATE_LEFT (m) + round (0.4 * (m)->em))
PangoLayout *pm_plan_gate_layout (const PmPlan *plan, const char *text, double width);
/* Links of the case and the ports they arrive at.  FALSE: they do not fit at the drives. */
gboolean pm_plan_link     (PmPlan *plan);

/* pm-plan-route.c: tracks and marks from links.  FALSE: no clean way. */
gboolean pm_plan_route    (PmPlan *plan);

/* pm-plan-track.c */
void pm_plan_add_mark     (PmPlan *plan, PmTrackMarkKind kind, int unit, int drive, double x, double y, double size);
void pm_plan_add_track    (PmPlan *plan, int unit, int drive, gboolean hollow, double width, const PmPoint *points,
                           guint n_points);
/* From boxes to their drives, and what stands at drives that no select reaches.  open: the middle is left open. */
void pm_plan_add_drives   (PmPlan *plan, gboolean open);
/* All tracks and marks with the middle left open. */
void pm_plan_route_open   (PmPlan *plan);
/* Breaks of all tracks where they cross. */
void pm_plan_break        (PmPlan *plan);
/* Where two pieces cross, ends not included. */
gboolean pm_segments_cross (PmPoint a, PmPoint b, PmPoint c, PmPoint d, PmPoint *at);

/* pm-plan-words.c */
void pm_plan_place_words  (PmPlan *plan);
/* Whether a rectangle is free of lines, boxes, marks, words and lies in the plan.  box: in this box, or -1. */
gboolean pm_plan_is_free  (const PmPlan *plan, const PmRect *area, int box, guint except_word);
/* Whether a piece of line of a width touches a rectangle. */
gboolean pm_segment_meets (PmPoint a, PmPoint b, double width, const PmRect *rect);
G_END_DECLS
