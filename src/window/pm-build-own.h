/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A person's own data beside a board: prices, ticks and the group order; kept in files, saved after each change, with
 * undo.
 *
 * A file that cannot be read is never written over: what belongs in it cannot be changed until it is set aside.  What
 * cannot be saved stays here and is saved with the next change or try.  Another window may have the same files: they
 * are read again before a change where they are others than they were.
 */
#pragma once
#include "pm-order.h"
#include "pm-ticks.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS
typedef enum { PM_OWN_PRICES, PM_OWN_TICKS, PM_OWN_ORDER, PM_N_OWN } PmOwnKind;

#define PM_TYPE_BUILD_OWN (pm_build_own_get_type ())
G_DECLARE_FINAL_TYPE (PmBuildOwn, pm_build_own, PM, BUILD_OWN, GObject)

/* Signals, each with a PmOwnKind: "changed": by a change here; "reloaded": all of it may be other.
 * "told" (text, undo): something to say, which can be undone or not.  "faults-changed": pm_build_own_get_fault says
 * something else. */
PmBuildOwn *pm_build_own_new        (const char *board);
const char *pm_build_own_get_board  (PmBuildOwn *self);
PmPrices   *pm_build_own_get_prices (PmBuildOwn *self);
PmTicks    *pm_build_own_get_ticks  (PmBuildOwn *self);
PmOrder    *pm_build_own_get_order  (PmBuildOwn *self);

/* For a view that keeps own in *slot (NULL: none): it no longer hears the one before, and calls changed and reloaded
 * (view, kind) with this one. */
void        pm_build_own_follow     (PmBuildOwn **slot, PmBuildOwn *own, gpointer view, GCallback changed,
                                     GCallback reloaded);

/* Before a change of what was got above.  FALSE: it must not be made; why has been told. */
gboolean    pm_build_own_begin      (PmBuildOwn *self, PmOwnKind kind);
/* After it.  Changes in a row with the same key are undone as one; key may be NULL.  told: said with a way to undo, or
 * NULL where what was done can be seen. */
void        pm_build_own_end        (PmBuildOwn *self, PmOwnKind kind, const char *key, const char *told);
/* FALSE: there was nothing. */
gboolean    pm_build_own_undo       (PmBuildOwn *self);
/* Why a kind's file cannot be read or written, or NULL.  unread: nothing can be changed until it is set aside. */
const char *pm_build_own_get_fault  (PmBuildOwn *self, PmOwnKind kind, gboolean *unread);
/* What can be done about all faults: renames what cannot be read, tries again to save what could not be saved. */
void        pm_build_own_mend       (PmBuildOwn *self);
/* Says something, as its views do. */
void        pm_build_own_tell       (PmBuildOwn *self, const char *text);
G_END_DECLS
