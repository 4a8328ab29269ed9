/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One view at a time.  A person's own data is another when the board has another path, and stays when only its file was
 * edited: ticks are kept by the names of rows.
 */
#include "config.h"
#include "pm-build-page.h"
#include "pm-application.h"
#include "pm-look.h"
#include "pm-mark-view.h"
#include "pm-order-view.h"
#include "pm-parts-view.h"
#include "pm-row-layout.h"
#include "pm-tick-list.h"
#include "pm-wrap-layout.h"
#include <glib/gi18n.h>

#define QUIET_AFTER_S 10
#define SIDES 46             /* of the content, and the scroll bar */
#define BOARDS_KEY "boards"

enum { PARTS, WIRES, STEPS, CHECKS, ORDER, N_VIEWS };
static const struct { const char *name, *title, *about; } views[N_VIEWS] = {
  [PARTS] = { "parts", N_("Parts"), N_("What to buy, and what it costs") },
  [WIRES] = { "wires", N_("Wires"), N_("Wires and cables, to tick off") },
  [STEPS] = { "steps", N_("Steps"), N_("How to build it, step by step") },
  [CHECKS] = { "checks", N_("Checks"), N_("Five checks with a meter") },
  [ORDER] = { "order", N_("Order"), N_("Boards for a group: who gets what and owes what") },
};

struct _PmBuildPage {
  GtkBox        parent;
  /* template */
  GtkWidget    *scroller, *switcher, *fault, *foot, *undo, *mend;
  GtkLabel     *stale, *fault_text, *told;
  GtkStack     *stack;
  /* owned */
  PmChoice     *choice;
  GSettings    *settings;     /* or NULL */
  PmBuildLists *lists;
  PmBuildOwn   *own;
  /* borrowed from the stack */
  PmPartsView  *parts;
  PmTickList   *wires, *cables, *steps, *checks;
  PmOrderView  *order;
  guint         shown, quiet_id;
};

static void pm_build_page_page_init (PmPageInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE (PmBuildPage, pm_build_page, GTK_TYPE_BOX,
                               G_IMPLEMENT_INTERFACE (PM_TYPE_PAGE, pm_build_page_page_init))

/* ---- what is said at the foot, and above */

static gboolean
quiet_cb (gpointer data)
{
  PmBuildPage *self = data;

  self->quiet_id = 0;
  gtk_label_set_text (self->told, "");
  gtk_widget_set_visible (self->foot, FALSE);
  return G_SOURCE_REMOVE;
}

static void
told_cb (PmBuildPage *self, const char *text, gboolean undo)
{
  g_clear_handle_id (&self->quiet_id, g_source_remove);
  gtk_label_set_text (self->told, text);
  gtk_widget_set_visible (self->undo, undo);
  gtk_widget_set_visible (self->foot, TRUE);
  if (!undo) /* a way back stays until something else is said */
    self->quiet_id = g_timeout_add_seconds (QUIET_AFTER_S, quiet_cb, self);
}

static gboolean
end_told (PmBuildPage *self)
{
  gboolean was = gtk_widget_get_visible (self->foot);

  g_clear_handle_id (&self->quiet_id, g_source_remove);
  quiet_cb (self);
  return was;
}

static void
show_faults (PmBuildPage *self)
{
  g_autoptr (GString) text = g_string_new (NULL);
  gboolean any_unread = FALSE, unread = FALSE;

  for (guint k = 0; k < PM_N_OWN && self->own != NULL; k++) {
    const char *fault = pm_build_own_get_fault (self->own, k, &unread);

    if (fault == NULL)
      continue;
    any_unread |= unread;
    g_string_append_printf (text, "%s%s %s", text->len > 0 ? "\n" : "", fault,
                            unread ? _("Nothing is written over it, and nothing of it can be changed here.")
                                   : _("What you entered is still here, but not saved."));
  }
  gtk_label_set_text (self->fault_text, text->str);
  gtk_button_set_label (GTK_BUTTON (self->mend), any_unread ? _("Set it aside and start anew") : _("Save again"));
  gtk_widget_set_visible (self->fault, text->len > 0);
  gtk_widget_set_sensitive (GTK_WIDGET (self->order), self->own == NULL ||
                            pm_build_own_get_fault (self->own, PM_OWN_ORDER, &unread) == NULL || !unread);
}

static void
mend_cb (PmBuildPage *self)
{
  if (self->own != NULL)
    pm_build_own_mend (self->own);
}

static void
undo_cb (PmBuildPage *self)
{
  if (self->own != NULL)
    pm_build_own_undo (self->own);
  pm_page_focus (PM_PAGE (self)); /* the button is gone */
}

static gboolean
undo_key_cb (GtkWidget *widget, GVariant *parameter, gpointer data)
{
  PmBuildPage *self = PM_BUILD_PAGE (widget);

  return self->own != NULL && pm_build_own_undo (self->own);
}

/* ---- views */

void
pm_build_page_set_view (PmBuildPage *self, const char *name)
{
  GtkWidget *button;

  g_return_if_fail (PM_IS_BUILD_PAGE (self));
  button = gtk_widget_get_first_child (self->switcher);
  for (guint v = 0; v < N_VIEWS; v++, button = gtk_widget_get_next_sibling (button))
    if (g_strcmp0 (views[v].name, name) == 0)
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), TRUE);
}

const char *
pm_build_page_get_view (PmBuildPage *self)
{
  g_return_val_if_fail (PM_IS_BUILD_PAGE (self), NULL);
  return views[self->shown].name;
}

const char *
pm_build_page_get_told (PmBuildPage *self)
{
  g_return_val_if_fail (PM_IS_BUILD_PAGE (self), NULL);
  return gtk_label_get_text (self->told);
}

static void
view_cb (GtkToggleButton *button, PmBuildPage *self)
{
  GtkWidget *child = gtk_widget_get_first_child (self->switcher);

  if (!gtk_toggle_button_get_active (button))
    return;
  for (guint v = 0; v < N_VIEWS; v++, child = gtk_widget_get_next_sibling (child))
    if (child == GTK_WIDGET (button))
      self->shown = v;
  gtk_stack_set_visible_child_name (self->stack, views[self->shown].name);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller)), 0);
  g_signal_emit_by_name (self, "text-changed");
}

static void
add_view (PmBuildPage *self, guint view, GtkToggleButton **group, GtkWidget *first, GtkWidget *second)
{
  GtkWidget *button = gtk_toggle_button_new_with_label (_(views[view].title)),
            *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 14);

  gtk_widget_set_tooltip_text (button, _(views[view].about));
  gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button), *group);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), view == PARTS);
  g_signal_connect (button, "toggled", G_CALLBACK (view_cb), self);
  gtk_box_append (GTK_BOX (self->switcher), button);
  gtk_box_append (GTK_BOX (box), first);
  if (second != NULL)
    gtk_box_append (GTK_BOX (box), second);
  gtk_stack_add_named (self->stack, box, views[view].name);
  *group = GTK_TOGGLE_BUTTON (button);
}

static void
text_changed (PmBuildPage *self)
{
  g_signal_emit_by_name (self, "text-changed");
}

static void
set_own (PmBuildPage *self, PmBuildOwn *own)
{
  if (self->own != NULL)
    g_signal_handlers_disconnect_by_data (self->own, self);
  g_set_object (&self->own, own);
  end_told (self);
  if (own != NULL) {
    g_signal_connect_object (own, "told", G_CALLBACK (told_cb), self, G_CONNECT_SWAPPED);
    g_signal_connect_object (own, "faults-changed", G_CALLBACK (show_faults), self, G_CONNECT_SWAPPED);
  }
  pm_parts_view_set_own (self->parts, own);
  pm_tick_list_set_own (self->wires, own);
  pm_tick_list_set_own (self->cables, own);
  pm_tick_list_set_own (self->steps, own);
  pm_tick_list_set_own (self->checks, own);
  pm_order_view_set_own (self->order, own);
  if (own != NULL) { /* after the views, which have changed by then */
    g_signal_connect_object (own, "changed", G_CALLBACK (text_changed), self, G_CONNECT_SWAPPED | G_CONNECT_AFTER);
    g_signal_connect_object (own, "reloaded", G_CALLBACK (text_changed), self, G_CONNECT_SWAPPED | G_CONNECT_AFTER);
  }
  show_faults (self);
}

static void
study_changed_cb (PmBuildPage *self)
{
  const PmBoard *board = pm_choice_get_board (self->choice);

  if (board == NULL)
    return; /* the window shows another page then */
  if (self->own == NULL || g_strcmp0 (pm_build_own_get_board (self->own), board->path) != 0) {
    g_autoptr (PmBuildOwn) own = pm_build_own_new (board->path);

    set_own (self, NULL); /* lists of one board are never shown with the ticks of another */
    pm_build_lists_set_study (self->lists, pm_choice_get_study (self->choice));
    set_own (self, own);
  } else {
    pm_build_lists_set_study (self->lists, pm_choice_get_study (self->choice));
  }
  if (gtk_widget_get_mapped (GTK_WIDGET (self->parts)))
    pm_build_lists_try_others (self->lists);
}

static void
number_changed_cb (PmBuildPage *self)
{
  if (self->settings != NULL)
    g_settings_set_int (self->settings, BOARDS_KEY, (int) pm_build_lists_get_boards (self->lists));
  text_changed (self);
}

/* ---- the page */

static void
set_choice (PmPage *page, PmChoice *choice)
{
  PmBuildPage *self = PM_BUILD_PAGE (page);

  self->choice = g_object_ref (choice);
  g_signal_connect_object (choice, "study-changed", G_CALLBACK (study_changed_cb), self, G_CONNECT_SWAPPED);
  study_changed_cb (self);
}

static void
set_room (PmPage *page, int width, int height, gboolean narrow)
{
  PmBuildPage *self = PM_BUILD_PAGE (page);
  int room = (int) ((width - SIDES) / pm_look_text_scale (GTK_WIDGET (self)));

  pm_parts_view_set_room (self->parts, room);
  pm_tick_list_set_room (self->wires, room);
  pm_tick_list_set_room (self->cables, room);
  pm_tick_list_set_room (self->steps, room);
  pm_tick_list_set_room (self->checks, room);
}

static void
set_stale (PmPage *page, const char *text)
{
  PmBuildPage *self = PM_BUILD_PAGE (page);

  pm_page_show_stale (self->stale, GTK_WIDGET (self->scroller), text);
}

static gboolean
page_focus (PmPage *page)
{
  PmBuildPage *self = PM_BUILD_PAGE (page);

  switch (self->shown) {
  case WIRES:
    return pm_tick_list_focus (self->wires) || pm_tick_list_focus (self->cables);
  case STEPS:
    return pm_tick_list_focus (self->steps);
  case CHECKS:
    return pm_tick_list_focus (self->checks);
  case ORDER:
    return pm_order_view_focus (self->order);
  default:
    return pm_parts_view_focus (self->parts);
  }
}

static gboolean
back (PmPage *page)
{
  return end_told (PM_BUILD_PAGE (page));
}

static char *
dup_text (PmPage *page)
{
  PmBuildPage *self = PM_BUILD_PAGE (page);
  g_autofree char *wires = NULL, *cables = NULL;

  switch (self->shown) {
  case WIRES:
    wires = pm_tick_list_dup_text (self->wires);
    cables = pm_tick_list_dup_text (self->cables);
    return g_strdup_printf ("%s\n%s", wires, cables);
  case STEPS:
    return pm_tick_list_dup_text (self->steps);
  case CHECKS:
    return pm_tick_list_dup_text (self->checks);
  case ORDER:
    return pm_order_view_dup_text (self->order);
  default:
    return pm_parts_view_dup_text (self->parts);
  }
}

static void
pm_build_page_page_init (PmPageInterface *iface)
{
  iface->set_choice = set_choice;
  iface->set_room = set_room;
  iface->set_stale = set_stale;
  iface->focus = page_focus;
  iface->back = back;
  iface->dup_text = dup_text;
}

static void
pm_build_page_dispose (GObject *object)
{
  PmBuildPage *self = PM_BUILD_PAGE (object);

  g_clear_handle_id (&self->quiet_id, g_source_remove);
  if (self->lists != NULL)
    pm_build_lists_set_study (self->lists, NULL);
  g_clear_object (&self->choice);
  g_clear_object (&self->own);
  g_clear_object (&self->lists);
  g_clear_object (&self->settings);
  G_OBJECT_CLASS (pm_build_page_parent_class)->dispose (object);
}

static void
pm_build_page_class_init (PmBuildPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_build_page_dispose;
  g_type_ensure (PM_TYPE_MARK_VIEW);
  g_type_ensure (PM_TYPE_ROW_LAYOUT);
  g_type_ensure (PM_TYPE_WRAP_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-build-page.ui");
  gtk_widget_class_bind_template_child (widget_class, PmBuildPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, PmBuildPage, switcher);
  gtk_widget_class_bind_template_child (widget_class, PmBuildPage, fault);
  gtk_widget_class_bind_template_child (widget_class, PmBuildPage, foot);
  gtk_widget_class_bind_template_child (widget_class, PmBuildPage, undo);
  gtk_widget_class_bind_template_child (widget_class, PmBuildPage, mend);
  gtk_widget_class_bind_template_child (widget_class, PmBuildPage, stale);
  gtk_widget_class_bind_template_child (widget_class, PmBuildPage, fault_text);
  gtk_widget_class_bind_template_child (widget_class, PmBuildPage, told);
  gtk_widget_class_bind_template_child (widget_class, PmBuildPage, stack);
  gtk_widget_class_bind_template_callback (widget_class, mend_cb);
  gtk_widget_class_bind_template_callback (widget_class, undo_cb);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_z, GDK_CONTROL_MASK, undo_key_cb, NULL);
}

static void
pm_build_page_init (PmBuildPage *self)
{
  GtkToggleButton *group = NULL;
  GSettings *settings = pm_application_new_settings ();

  self->settings = settings;
  self->lists = pm_build_lists_new ();
  if (settings != NULL)
    pm_build_lists_set_number (self->lists, (guint) g_settings_get_int (settings, BOARDS_KEY), 0);
  gtk_widget_init_template (GTK_WIDGET (self));
  self->parts = PM_PARTS_VIEW (pm_parts_view_new (self->lists));
  self->wires = PM_TICK_LIST (pm_tick_list_new (PM_LIST_WIRES, self->lists));
  self->cables = PM_TICK_LIST (pm_tick_list_new (PM_LIST_CABLES, self->lists));
  self->steps = PM_TICK_LIST (pm_tick_list_new (PM_LIST_STEPS, self->lists));
  self->checks = PM_TICK_LIST (pm_tick_list_new (PM_LIST_CHECKS, self->lists));
  self->order = PM_ORDER_VIEW (pm_order_view_new (self->lists));
  add_view (self, PARTS, &group, GTK_WIDGET (self->parts), NULL);
  add_view (self, WIRES, &group, GTK_WIDGET (self->wires), GTK_WIDGET (self->cables));
  add_view (self, STEPS, &group, GTK_WIDGET (self->steps), NULL);
  add_view (self, CHECKS, &group, GTK_WIDGET (self->checks), NULL);
  add_view (self, ORDER, &group, GTK_WIDGET (self->order), NULL);
  g_signal_connect_object (self->lists, "parts-changed", G_CALLBACK (number_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->lists, "also-changed", G_CALLBACK (text_changed), self, G_CONNECT_SWAPPED);
}
