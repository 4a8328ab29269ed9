/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A counted holder; frees check, board and library in that order, since each borrows from the next. */
#include "config.h"
#include "pm-study.h"

struct _PmStudy {
  GObject    parent;
  PmLibrary *library;
  PmBoard   *board;
  PmCheck   *check;
  GDateTime *time;
};

G_DEFINE_FINAL_TYPE (PmStudy, pm_study, G_TYPE_OBJECT)

static void
pm_study_finalize (GObject *object)
{
  PmStudy *self = PM_STUDY (object);

  g_clear_pointer (&self->check, pm_check_free);
  g_clear_pointer (&self->board, pm_board_free);
  g_clear_pointer (&self->library, pm_library_free);
  g_clear_pointer (&self->time, g_date_time_unref);
  G_OBJECT_CLASS (pm_study_parent_class)->finalize (object);
}

static void
pm_study_class_init (PmStudyClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = pm_study_finalize;
}

static void
pm_study_init (PmStudy *self)
{
  self->time = g_date_time_new_now_local ();
}

PmStudy *
pm_study_new_take (PmLibrary *library, PmBoard *board, PmCheck *check)
{
  PmStudy *self = g_object_new (PM_TYPE_STUDY, NULL);

  self->library = library;
  self->board = board;
  self->check = check;
  return self;
}

const PmBoard *
pm_study_get_board (PmStudy *self)
{
  g_return_val_if_fail (PM_IS_STUDY (self), NULL);
  return self->board;
}

const PmCheck *
pm_study_get_check (PmStudy *self)
{
  g_return_val_if_fail (PM_IS_STUDY (self), NULL);
  return self->check;
}

char *
pm_study_dup_time (PmStudy *self)
{
  g_return_val_if_fail (PM_IS_STUDY (self), NULL);
  return g_date_time_format (self->time, "%H:%M");
}
