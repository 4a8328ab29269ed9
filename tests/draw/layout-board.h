/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inputs for the layout: boxes added one by one, and random boards from them. */
#pragma once
#include "pm-layout.h"

typedef struct {
  PmLayoutInput input;
  GArray *boxes, *nets;          /* what input shows */
  GPtrArray *words;              /* of char *, by box: for pictures */
} LayoutBoard;

LayoutBoard *layout_board_new    (void);
void         layout_board_free   (LayoutBoard *board);
guint        layout_board_net    (LayoutBoard *board, int label_width);
/* The number of a box of that size with its words around; ports are added after. */
guint        layout_board_box    (LayoutBoard *board, const char *word, PmBand band, int width, int height);
void         layout_board_words  (LayoutBoard *board, guint box, int left, int right, int top, int bottom);
void         layout_board_port   (LayoutBoard *board, guint box, PmEdge edge, int at, PmFlow flow, guint net);
/* Usual things; nets may be PM_LAYOUT_NONE. */
guint        layout_board_gate   (LayoutBoard *board, const char *word, const guint *in, guint n_in, guint out);
guint        layout_board_pull   (LayoutBoard *board, const char *word, gboolean up, guint net);
guint        layout_board_series (LayoutBoard *board, const char *word, guint a, guint b);
guint        layout_board_toggle (LayoutBoard *board, const char *word, guint common, guint one, guint two);
/* About that many boxes; the same seed gives the same board, and with one more box the rest of it stays. */
LayoutBoard *layout_board_random (guint32 seed, guint n_boxes, gboolean one_more);
LayoutBoard *layout_board_anything (guint32 seed, guint n_boxes);
/* By name: "swap", "two", "three"...; NULL past the last index. */
LayoutBoard *layout_board_demo   (guint index, const char **name);
char        *layout_board_svg    (const LayoutBoard *board, const PmLayout *layout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LayoutBoard, layout_board_free)
