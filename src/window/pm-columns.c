/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Widths come from all rows together: each column gets its least, then what is left goes to the columns that want
 * little more first, so that short words stay whole and long sentences wrap.  What is left after that goes to the
 * growing column.
 */
#include "config.h"
#include "pm-columns.h"

struct _PmColumns {
  GObject            parent;
  guint              n;
  int                spacing;
  guint              growing;  /* what is left goes to this one */
  GPtrArray         *rows;     /* borrowed; rows leave when they go */
  GtkRequestedSize  *sizes;    /* [n], of all rows */
  gboolean           known;
};

struct _PmColumnsRow {
  GtkWidget  parent;
  PmColumns *columns;          /* owned */
};

G_DEFINE_FINAL_TYPE (PmColumns, pm_columns, G_TYPE_OBJECT)
G_DEFINE_FINAL_TYPE (PmColumnsRow, pm_columns_row, GTK_TYPE_WIDGET)

/* Each row keeps the height that it had at other widths of columns: all are to be measured again. */
void
pm_columns_forget (PmColumns *self)
{
  g_return_if_fail (PM_IS_COLUMNS (self));
  if (!self->known)
    return;
  self->known = FALSE;
  for (guint i = 0; i < self->rows->len; i++)
    gtk_widget_queue_resize (g_ptr_array_index (self->rows, i));
}

void
pm_columns_set_growing (PmColumns *self, guint column)
{
  g_return_if_fail (PM_IS_COLUMNS (self) && column < self->n);
  self->growing = column;
  pm_columns_forget (self);
}

static void
ensure_sizes (PmColumns *self)
{
  if (self->known)
    return;
  for (guint i = 0; i < self->n; i++)
    self->sizes[i] = (GtkRequestedSize){ GUINT_TO_POINTER (i), 0, 0 };
  for (guint i = 0; i < self->rows->len; i++) {
    GtkWidget *cell = gtk_widget_get_first_child (g_ptr_array_index (self->rows, i));

    for (guint k = 0; cell != NULL && k < self->n; k++) {
      int minimum, natural;

      gtk_widget_measure (cell, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, &natural, NULL, NULL);
      self->sizes[k].minimum_size = MAX (self->sizes[k].minimum_size, minimum);
      self->sizes[k].natural_size = MAX (self->sizes[k].natural_size, natural);
      cell = gtk_widget_get_next_sibling (cell);
    }
  }
  self->known = TRUE;
}

/* Widths of all columns for a table of `width`. Free with g_free. */
static int *
widths (PmColumns *self, int width)
{
  g_autofree GtkRequestedSize *sizes = NULL;
  int *result = g_new0 (int, MAX (self->n, 1));
  int left = width - self->spacing * MAX ((int) self->n - 1, 0);

  ensure_sizes (self);
  sizes = g_memdup2 (self->sizes, sizeof (GtkRequestedSize) * self->n);
  for (guint i = 0; i < self->n; i++)
    left -= sizes[i].minimum_size;
  if (left > 0)
    left = gtk_distribute_natural_allocation (left, self->n, sizes);
  for (guint i = 0; i < self->n; i++)
    result[i] = sizes[i].minimum_size;
  if (left > 0 && self->n > 0)
    result[self->growing] += left;
  return result;
}

static void
pm_columns_row_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                        int *minimum_baseline, int *natural_baseline)
{
  PmColumns *columns = PM_COLUMNS_ROW (widget)->columns;
  int gaps = columns->spacing * MAX ((int) columns->n - 1, 0);

  ensure_sizes (columns);
  if (orientation == GTK_ORIENTATION_HORIZONTAL) {
    *minimum = *natural = gaps;
    for (guint i = 0; i < columns->n; i++) {
      *minimum += columns->sizes[i].minimum_size;
      *natural += columns->sizes[i].natural_size;
    }
  } else {
    g_autofree int *each = NULL;
    guint i = 0;

    if (for_size < 0)
      pm_columns_row_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, &gaps, &for_size, NULL, NULL);
    each = widths (columns, for_size);
    *minimum = *natural = 0;
    for (GtkWidget *cell = gtk_widget_get_first_child (widget); cell != NULL && i < columns->n;
         cell = gtk_widget_get_next_sibling (cell)) {
      int height;

      gtk_widget_measure (cell, GTK_ORIENTATION_VERTICAL, each[i++], &height, NULL, NULL, NULL);
      *minimum = *natural = MAX (*minimum, height);
    }
  }
}

static void
pm_columns_row_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PmColumns *columns = PM_COLUMNS_ROW (widget)->columns;
  g_autofree int *each = widths (columns, width);
  gboolean rtl = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  int x = 0;
  guint i = 0;

  for (GtkWidget *cell = gtk_widget_get_first_child (widget); cell != NULL && i < columns->n;
       cell = gtk_widget_get_next_sibling (cell)) {
    GtkAllocation where = { rtl ? width - x - each[i] : x, 0, each[i], height };

    gtk_widget_size_allocate (cell, &where, -1);
    x += each[i++] + columns->spacing;
  }
}

static GtkSizeRequestMode
pm_columns_row_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

/* A row whose font has changed changes all. */
static void
pm_columns_row_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (pm_columns_row_parent_class)->css_changed (widget, change);
  pm_columns_forget (PM_COLUMNS_ROW (widget)->columns);
}

static void
pm_columns_row_system_setting_changed (GtkWidget *widget, GtkSystemSetting setting)
{
  GTK_WIDGET_CLASS (pm_columns_row_parent_class)->system_setting_changed (widget, setting);
  pm_columns_forget (PM_COLUMNS_ROW (widget)->columns);
}

static void
pm_columns_row_dispose (GObject *object)
{
  PmColumnsRow *self = PM_COLUMNS_ROW (object);
  GtkWidget *cell;

  while ((cell = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (cell);
  if (self->columns != NULL) {
    g_ptr_array_remove (self->columns->rows, self);
    pm_columns_forget (self->columns);
  }
  g_clear_object (&self->columns);
  G_OBJECT_CLASS (pm_columns_row_parent_class)->dispose (object);
}

static void
pm_columns_row_class_init (PmColumnsRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_columns_row_dispose;
  widget_class->measure = pm_columns_row_measure;
  widget_class->size_allocate = pm_columns_row_size_allocate;
  widget_class->get_request_mode = pm_columns_row_get_request_mode;
  widget_class->css_changed = pm_columns_row_css_changed;
  widget_class->system_setting_changed = pm_columns_row_system_setting_changed;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
pm_columns_row_init (PmColumnsRow *self)
{
}

static void
pm_columns_finalize (GObject *object)
{
  PmColumns *self = PM_COLUMNS (object);

  g_ptr_array_unref (self->rows);
  g_free (self->sizes);
  G_OBJECT_CLASS (pm_columns_parent_class)->finalize (object);
}

static void
pm_columns_class_init (PmColumnsClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = pm_columns_finalize;
}

static void
pm_columns_init (PmColumns *self)
{
  self->rows = g_ptr_array_new ();
}

PmColumns *
pm_columns_new (guint n, int spacing)
{
  PmColumns *self = g_object_new (PM_TYPE_COLUMNS, NULL);

  self->n = n;
  self->growing = MAX (n, 1) - 1;
  self->spacing = spacing;
  self->sizes = g_new0 (GtkRequestedSize, MAX (n, 1));
  return self;
}

GtkWidget *
pm_columns_new_row (PmColumns *self)
{
  PmColumnsRow *row;

  g_return_val_if_fail (PM_IS_COLUMNS (self), NULL);
  row = g_object_new (PM_TYPE_COLUMNS_ROW, NULL);
  row->columns = g_object_ref (self);
  g_ptr_array_add (self->rows, row);
  pm_columns_forget (self);
  return GTK_WIDGET (row);
}
