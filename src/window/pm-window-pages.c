/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pages of the window: one table; buttons in the header, keys and the pages themselves come from it.
 *
 * The first page is there from the start; the others are made when they are first gone to, so that the first frame need
 * not wait for them.
 */
#include "config.h"
#include "pm-build-page.h"
#include "pm-diagram-page.h"
#include "pm-pins-page.h"
#include "pm-window-private.h"
#include <glib/gi18n.h>

static const struct { const char *name, *title, *about; GType (*type) (void); } table[] = {
  { "routes", N_("Routes"), N_("What each select reaches (Alt+1)"), pm_routes_page_get_type },
  { "diagram", N_("Diagram"), N_("The wiring diagram, live (Alt+2)"), pm_diagram_page_get_type },
  { "pins", N_("Pins"), N_("What becomes of each pin (Alt+3)"), pm_pins_page_get_type },
  { "build", N_("Build"), N_("Parts, wires, steps, checks and a group order (Alt+4)"), pm_build_page_get_type },
};

static guint
index_of (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    if (g_strcmp0 (table[i].name, name) == 0)
      return i;
  return G_N_ELEMENTS (table);
}

static PmPage *
made_page (PmWindow *self, guint index)
{
  GtkWidget *child = gtk_stack_get_child_by_name (self->pages, table[index].name);

  return child != NULL ? PM_PAGE (child) : NULL;
}

static PmPage *
make_page (PmWindow *self, guint index)
{
  GtkWidget *page = g_object_new (table[index].type (), NULL);

  gtk_stack_add_titled (self->pages, page, table[index].name, _(table[index].title));
  pm_page_set_choice (PM_PAGE (page), self->choice);
  return PM_PAGE (page);
}

PmPage *
pm_window_get_shown_page (PmWindow *self)
{
  GtkWidget *child = gtk_stack_get_visible_child (self->pages);

  return child != NULL && PM_IS_PAGE (child) ? PM_PAGE (child) : NULL;
}

const char *
pm_window_get_page (PmWindow *self)
{
  return self->page;
}

void
pm_window_set_page (PmWindow *self, const char *name)
{
  guint index = index_of (name);

  if (index == G_N_ELEMENTS (table))
    return;
  self->page = table[index].name;
  gtk_menu_button_set_label (self->page_button, _(table[index].title));
  if (pm_choice_get_check (self->choice) != NULL) {
    if (made_page (self, index) == NULL)
      make_page (self, index);
    gtk_stack_set_visible_child_name (self->pages, self->page);
    pm_window_arrange (self);
  }
  g_object_notify (G_OBJECT (self), "page");
}

void
pm_window_show_faults_page (PmWindow *self)
{
  gtk_stack_set_visible_child_name (self->pages, "faults");
}

void
pm_window_pages_set_room (PmWindow *self, int width, int height)
{
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    PmPage *page = made_page (self, i);

    if (page != NULL)
      pm_page_set_room (page, width, height, self->narrow);
  }
}

void
pm_window_pages_set_compact (PmWindow *self, gboolean compact)
{
  gtk_widget_set_visible (GTK_WIDGET (self->switcher), !compact);
  gtk_widget_set_visible (GTK_WIDGET (self->page_button), compact);
}

gboolean
pm_window_focus_page (PmWindow *self)
{
  PmPage *page = pm_window_get_shown_page (self);

  return page != NULL && pm_page_focus (page);
}

void
pm_window_init_pages (PmWindow *self)
{
  self->page = table[0].name;
  gtk_menu_button_set_label (self->page_button, _(table[0].title));
  pm_page_set_choice (PM_PAGE (self->routes), self->choice);
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    GtkWidget *button = gtk_toggle_button_new_with_label (_(table[i].title));
    g_autoptr (GMenuItem) item = g_menu_item_new (_(table[i].title), NULL);

    g_menu_item_set_action_and_target (item, "win.page", "s", table[i].name);

    gtk_widget_set_tooltip_text (button, _(table[i].about));
    gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "win.page");
    gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", table[i].name);
    gtk_box_append (self->switcher, button);
    g_menu_append_item (self->pages_menu, item);
  }
}
