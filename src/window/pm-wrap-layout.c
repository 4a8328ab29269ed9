/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines are filled with natural widths; a child wider than the whole line gets the line.  A flow box would give all
 * children one width. */
#include "config.h"
#include "pm-wrap-layout.h"

struct _PmWrapLayout {
  GtkLayoutManager parent;
  int              spacing;
};

struct _PmWrapBox {
  GtkWidget parent;
};

G_DEFINE_FINAL_TYPE (PmWrapLayout, pm_wrap_layout, GTK_TYPE_LAYOUT_MANAGER)
G_DEFINE_FINAL_TYPE (PmWrapBox, pm_wrap_box, GTK_TYPE_WIDGET)

typedef struct { GtkWidget *child; int width, height; } Item;

static int
line_height (GArray *line)
{
  int height = 0;

  for (guint i = 0; i < line->len; i++)
    height = MAX (height, g_array_index (line, Item, i).height);
  return height;
}

static void
place_line (PmWrapLayout *self, GArray *line, int width, int y, gboolean rtl)
{
  int height = line_height (line);
  int x = 0;

  for (guint i = 0; i < line->len; i++) {
    Item *item = &g_array_index (line, Item, i);
    GtkAllocation where = {rtl ? width - x - item->width : x, y + (height - item->height) / 2, item->width,
                           item->height};

    gtk_widget_size_allocate (item->child, &where, -1);
    x += item->width + self->spacing;
  }
}

/* Breaks the children into lines of `width`, places them if told to, and says how high all lines are. */
static int
flow (PmWrapLayout *self, GtkWidget *widget, int width, gboolean place)
{
  g_autoptr (GArray) line = g_array_new (FALSE, FALSE, sizeof (Item));
  gboolean rtl = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  int x = 0, y = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child)) {
    Item item = { child, 0, 0 };

    if (!gtk_widget_should_layout (child))
      continue;
    gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &item.width, NULL, NULL);
    item.width = MIN (item.width, width);
    gtk_widget_measure (child, GTK_ORIENTATION_VERTICAL, item.width, NULL, &item.height, NULL, NULL);
    if (line->len > 0 && x + item.width > width) {
      if (place)
        place_line (self, line, width, y, rtl);
      y += line_height (line) + self->spacing;
      g_array_set_size (line, 0);
      x = 0;
    }
    g_array_append_val (line, item);
    x += item.width + self->spacing;
  }
  if (place)
    place_line (self, line, width, y, rtl);
  return y + line_height (line);
}

static GtkSizeRequestMode
pm_wrap_layout_get_request_mode (GtkLayoutManager *manager, GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
pm_wrap_layout_measure (GtkLayoutManager *manager, GtkWidget *widget, GtkOrientation orientation, int for_size,
                        int *minimum, int *natural, int *minimum_baseline, int *natural_baseline)
{
  PmWrapLayout *self = PM_WRAP_LAYOUT (manager);
  int widest = 0, sum = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child)) {
    int child_minimum, child_natural;

    if (!gtk_widget_should_layout (child))
      continue;
    gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &child_minimum, &child_natural, NULL, NULL);
    widest = MAX (widest, child_minimum);
    sum += child_natural + (sum > 0 ? self->spacing : 0);
  }
  if (orientation == GTK_ORIENTATION_HORIZONTAL) {
    *minimum = widest;
    *natural = MAX (widest, sum);
  } else {
    *minimum = *natural = flow (self, widget, for_size < 0 ? MAX (widest, sum) : MAX (widest, for_size), FALSE);
  }
}

static void
pm_wrap_layout_allocate (GtkLayoutManager *manager, GtkWidget *widget, int width, int height, int baseline)
{
  flow (PM_WRAP_LAYOUT (manager), widget, width, TRUE);
}

static void
pm_wrap_layout_class_init (PmWrapLayoutClass *klass)
{
  GtkLayoutManagerClass *layout_class = GTK_LAYOUT_MANAGER_CLASS (klass);

  layout_class->get_request_mode = pm_wrap_layout_get_request_mode;
  layout_class->measure = pm_wrap_layout_measure;
  layout_class->allocate = pm_wrap_layout_allocate;
}

static void
pm_wrap_layout_init (PmWrapLayout *self)
{
  self->spacing = 8;
}

void
pm_wrap_box_clear (PmWrapBox *self)
{
  GtkWidget *child;

  g_return_if_fail (PM_IS_WRAP_BOX (self));
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
}

static void
pm_wrap_box_dispose (GObject *object)
{
  pm_wrap_box_clear (PM_WRAP_BOX (object));
  G_OBJECT_CLASS (pm_wrap_box_parent_class)->dispose (object);
}

static void
pm_wrap_box_class_init (PmWrapBoxClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = pm_wrap_box_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), PM_TYPE_WRAP_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
pm_wrap_box_init (PmWrapBox *self)
{
}

GtkWidget *
pm_wrap_box_new (int spacing)
{
  PmWrapBox *self = g_object_new (PM_TYPE_WRAP_BOX, NULL);

  PM_WRAP_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self)))->spacing = spacing;
  return GTK_WIDGET (self);
}

void
pm_wrap_box_append (PmWrapBox *self, GtkWidget *child)
{
  g_return_if_fail (PM_IS_WRAP_BOX (self));
  gtk_widget_set_parent (child, GTK_WIDGET (self));
}
