/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Widths: the least of each, then up to what each would like, the rest to those that expand. */
#include "config.h"
#include "pm-row-layout.h"

struct _PmRowLayout {
  GtkLayoutManager parent;
  int              spacing;
};

enum { PROP_SPACING = 1, N_PROPS };

G_DEFINE_FINAL_TYPE (PmRowLayout, pm_row_layout, GTK_TYPE_LAYOUT_MANAGER)

/* One for each child that is laid out, `data` being the child; minimum_size is its width where a width is given. */
static GArray *
widths_for (PmRowLayout *self, GtkWidget *widget, int width)
{
  GArray *sizes = g_array_new (FALSE, FALSE, sizeof (GtkRequestedSize));
  guint expanding = 0;
  int left;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child)) {
    GtkRequestedSize size = { child, 0, 0 };

    if (!gtk_widget_should_layout (child))
      continue;
    gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &size.minimum_size, &size.natural_size, NULL, NULL);
    expanding += gtk_widget_compute_expand (child, GTK_ORIENTATION_HORIZONTAL) ? 1 : 0;
    g_array_append_val (sizes, size);
  }
  if (width < 0)
    return sizes;
  left = width - self->spacing * MAX ((int) sizes->len - 1, 0);
  for (guint i = 0; i < sizes->len; i++)
    left -= g_array_index (sizes, GtkRequestedSize, i).minimum_size;
  if (left > 0)
    left = gtk_distribute_natural_allocation (left, sizes->len, (GtkRequestedSize *) (void *) sizes->data);
  for (guint i = 0; left > 0 && expanding > 0 && i < sizes->len; i++) {
    GtkRequestedSize *size = &g_array_index (sizes, GtkRequestedSize, i);

    if (!gtk_widget_compute_expand (size->data, GTK_ORIENTATION_HORIZONTAL))
      continue;
    size->minimum_size += left / (int) expanding;
    left -= left / (int) expanding;
    expanding--;
  }
  return sizes;
}

static GtkSizeRequestMode
pm_row_layout_get_request_mode (GtkLayoutManager *manager, GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
pm_row_layout_measure (GtkLayoutManager *manager, GtkWidget *widget, GtkOrientation orientation, int for_size,
                       int *minimum, int *natural, int *minimum_baseline, int *natural_baseline)
{
  PmRowLayout *self = PM_ROW_LAYOUT (manager);
  gboolean across = orientation == GTK_ORIENTATION_HORIZONTAL;
  g_autoptr (GArray) sizes = widths_for (self, widget, across ? -1 : for_size);

  *minimum = *natural = across ? self->spacing * MAX ((int) sizes->len - 1, 0) : 0;
  for (guint i = 0; i < sizes->len; i++) {
    const GtkRequestedSize *size = &g_array_index (sizes, GtkRequestedSize, i);
    int least, liked;

    if (across) {
      *minimum += size->minimum_size;
      *natural += size->natural_size;
      continue;
    }
    gtk_widget_measure (size->data, orientation, for_size < 0 ? -1 : size->minimum_size, &least, &liked, NULL, NULL);
    *minimum = MAX (*minimum, least);
    *natural = MAX (*natural, liked);
  }
}

static void
pm_row_layout_allocate (GtkLayoutManager *manager, GtkWidget *widget, int width, int height, int baseline)
{
  PmRowLayout *self = PM_ROW_LAYOUT (manager);
  g_autoptr (GArray) sizes = widths_for (self, widget, width);
  gboolean rtl = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  int x = 0;

  for (guint i = 0; i < sizes->len; i++) {
    const GtkRequestedSize *size = &g_array_index (sizes, GtkRequestedSize, i);
    GtkAllocation where = { rtl ? width - x - size->minimum_size : x, 0, size->minimum_size, height };

    gtk_widget_size_allocate (size->data, &where, -1);
    x += size->minimum_size + self->spacing;
  }
}

static void
pm_row_layout_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  PM_ROW_LAYOUT (object)->spacing = g_value_get_int (value);
  gtk_layout_manager_layout_changed (GTK_LAYOUT_MANAGER (object));
}

static void
pm_row_layout_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  g_value_set_int (value, PM_ROW_LAYOUT (object)->spacing);
}

static void
pm_row_layout_class_init (PmRowLayoutClass *klass)
{
  GtkLayoutManagerClass *layout_class = GTK_LAYOUT_MANAGER_CLASS (klass);
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  layout_class->get_request_mode = pm_row_layout_get_request_mode;
  layout_class->measure = pm_row_layout_measure;
  layout_class->allocate = pm_row_layout_allocate;
  object_class->set_property = pm_row_layout_set_property;
  object_class->get_property = pm_row_layout_get_property;
  g_object_class_install_property (object_class, PROP_SPACING,
                                   g_param_spec_int ("spacing", NULL, NULL, 0, G_MAXINT16, 0,
                                                     G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS));
}

static void
pm_row_layout_init (PmRowLayout *self)
{
}
