/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One row of choices, "Machine turns on", one at a time; the drawing; a line that says what is looked at. */
#include "config.h"
#include "pm-diagram-page.h"
#include "pm-diagram-view.h"
#include <glib/gi18n.h>

#define CHOICES_IN_A_ROW 5   /* more states, and pairs, stand in a list behind "more…" */

struct _PmDiagramPage {
  GtkBox         parent;
  /* template */
  GtkLabel      *stale, *said, *turns_on;
  GtkBox        *states;
  GtkDropDown   *more;
  GtkButton     *full_size;
  PmDiagramView *view;
  /* owned */
  PmChoice      *choice;
  GArray        *listed;      /* guint: states behind "more…", in its order from the second entry on */
  guint          state;
  int            finding;     /* whose state was last turned to, or -1 */
  gboolean       updating;
};

static void pm_diagram_page_page_init (PmPageInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE (PmDiagramPage, pm_diagram_page, GTK_TYPE_BOX,
                               G_IMPLEMENT_INTERFACE (PM_TYPE_PAGE, pm_diagram_page_page_init))

/* ---- what is said below the drawing */

static void
say (PmDiagramPage *self)
{
  const PmDiagram *diagram = pm_diagram_view_get_diagram (self->view);
  int element = pm_diagram_view_get_pointed (self->view);
  g_autofree char *now = NULL;

  if (diagram == NULL)
    return;
  if (element >= 0)
    now = pm_diagram_now (diagram, (guint) element, pm_diagram_view_get_probe (self->view));
  if (now == NULL)
    now = g_strdup_printf ("%s %s", _("Point at a wire or a symbol to read what it is."),
                           pm_diagram_rest (diagram) != NULL ? pm_diagram_rest (diagram) : "");
  gtk_label_set_text (self->said, now);
}

/* Shows in the choices what is turned on. */
static void
show_state (PmDiagramPage *self)
{
  guint selected = 0;

  self->updating = TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self->states)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (child),
                                  GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (child), "state")) == self->state);
  for (guint i = 0; i < self->listed->len; i++)
    if (g_array_index (self->listed, guint, i) == self->state)
      selected = i + 1;
  gtk_drop_down_set_selected (self->more, selected);
  self->updating = FALSE;
}

/* A finding that is opened brings the select that it is about. */
static void
follow_finding (PmDiagramPage *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  PmProbe *probe = pm_diagram_view_get_probe (self->view);
  int finding = pm_choice_get_finding (self->choice);

  if (finding == self->finding)
    return;
  self->finding = finding;
  if (finding < 0 || check->findings[finding].unit < 0)
    return;
  for (guint s = 0; s < pm_probe_n_states (probe); s++)
    if (pm_probe_state_is_plain (probe, s) &&
        g_str_equal (pm_probe_state_name (probe, s),
                     check->board->host.units[check->findings[finding].unit].name))
      self->state = s;
  show_state (self);
}

static void
show (PmDiagramPage *self)
{
  if (pm_choice_get_check (self->choice) == NULL)
    return;
  follow_finding (self);
  pm_diagram_view_show (self->view, pm_choice_get_shown (self->choice), self->state,
                        pm_choice_get_finding (self->choice));
  say (self);
}

/* ---- what the machine turns on */

static void
set_state (PmDiagramPage *self, guint state)
{
  self->state = state;
  show_state (self);
  show (self);
  g_signal_emit_by_name (self, "text-changed");
}

static void
toggled_cb (GtkToggleButton *button, PmDiagramPage *self)
{
  if (!self->updating && gtk_toggle_button_get_active (button))
    set_state (self, GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "state")));
}

static void
more_cb (GtkDropDown *more, GParamSpec *pspec, PmDiagramPage *self)
{
  guint selected = gtk_drop_down_get_selected (more);

  if (!self->updating && selected > 0 && selected <= self->listed->len)
    set_state (self, g_array_index (self->listed, guint, selected - 1));
}

static void
add_state (PmDiagramPage *self, const char *name, guint state, GtkToggleButton **group)
{
  GtkWidget *button = gtk_toggle_button_new_with_label (name);

  g_object_set_data (G_OBJECT (button), "state", GUINT_TO_POINTER (state));
  if (*group != NULL)
    gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button), *group);
  else
    *group = GTK_TOGGLE_BUTTON (button);
  g_signal_connect (button, "toggled", G_CALLBACK (toggled_cb), self);
  gtk_box_append (self->states, button);
}

static void
fill_states (PmDiagramPage *self)
{
  PmProbe *probe = pm_diagram_view_get_probe (self->view);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  GtkToggleButton *group = NULL;
  GtkWidget *child;
  guint n_row = 0;

  self->updating = TRUE;
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->states))) != NULL)
    gtk_box_remove (self->states, child);
  g_array_set_size (self->listed, 0);
  gtk_string_list_append (names, _("more…"));
  for (guint s = 0; probe != NULL && s < pm_probe_n_states (probe); s++) {
    if (pm_probe_state_is_plain (probe, s) && n_row < CHOICES_IN_A_ROW) {
      add_state (self, pm_probe_state_name (probe, s), s, &group);
      n_row++;
    } else {
      gtk_string_list_append (names, pm_probe_state_name (probe, s));
      g_array_append_val (self->listed, s);
    }
  }
  gtk_drop_down_set_model (self->more, G_LIST_MODEL (names));
  gtk_widget_set_visible (GTK_WIDGET (self->more), self->listed->len > 0);
  self->updating = FALSE;
  show_state (self);
}

/* ---- following the choice */

static void
study_changed_cb (PmDiagramPage *self)
{
  PmProbe *probe;

  pm_diagram_view_set_study (self->view, pm_choice_get_study (self->choice));
  probe = pm_diagram_view_get_probe (self->view);
  if (probe == NULL)
    return;
  self->state = MIN (self->state, pm_probe_n_states (probe) - 1);
  self->finding = -1;
  fill_states (self);
  show (self);
}

static void
zoom_cb (PmDiagramPage *self)
{
  g_autofree char *text = g_strdup_printf ("%.0f %%", pm_diagram_view_get_zoom (self->view) * 100);

  gtk_button_set_label (self->full_size, text);
}

/* ---- the page */

static void
set_choice (PmPage *page, PmChoice *choice)
{
  PmDiagramPage *self = PM_DIAGRAM_PAGE (page);

  self->choice = g_object_ref (choice);
  g_signal_connect_object (choice, "study-changed", G_CALLBACK (study_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (choice, "changed", G_CALLBACK (show), self, G_CONNECT_SWAPPED);
  study_changed_cb (self);
}

static void
set_room (PmPage *page, int width, int height, gboolean narrow)
{
  PmDiagramPage *self = PM_DIAGRAM_PAGE (page);

  gtk_widget_set_visible (GTK_WIDGET (self->turns_on), !narrow); /* the buttons say it too, to those who hear them */
}

static void
set_stale (PmPage *page, const char *text)
{
  PmDiagramPage *self = PM_DIAGRAM_PAGE (page);

  pm_page_show_stale (self->stale, NULL, text);
}

static gboolean
page_focus (PmPage *page)
{
  return pm_diagram_view_focus_first (PM_DIAGRAM_PAGE (page)->view);
}

static gboolean
back (PmPage *page)
{
  return pm_diagram_view_let_go (PM_DIAGRAM_PAGE (page)->view);
}

static char *
dup_text (PmPage *page)
{
  PmDiagramPage *self = PM_DIAGRAM_PAGE (page);
  const PmDiagram *diagram = pm_diagram_view_get_diagram (self->view);
  PmProbe *probe = pm_diagram_view_get_probe (self->view);
  const PmCheck *check = pm_choice_get_check (self->choice);
  g_autoptr (GString) text = g_string_new (NULL);

  if (diagram == NULL)
    return g_strdup ("");
  g_string_append_printf (text, _("Setting: %s.  The machine turns on: %s.\n"),
                          check->cases[pm_choice_get_shown (self->choice)].title,
                          pm_probe_state_name (probe, self->state));
  for (guint i = 0; i < pm_diagram_n_elements (diagram); i++) {
    g_autofree char *now = pm_diagram_now (diagram, i, probe);

    if (i == 0 || pm_diagram_element (diagram, i)->kind != pm_diagram_element (diagram, i - 1)->kind)
      g_string_append_printf (text, "\n%s\n", pm_diagram_element (diagram, i)->kind == PM_DIAGRAM_NET ? _("Wires")
                                                                                                     : _("Parts"));
    g_string_append_printf (text, "  %s\n", now);
  }
  if (pm_diagram_rest (diagram) != NULL)
    g_string_append_printf (text, "\n%s\n", pm_diagram_rest (diagram));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
pm_diagram_page_page_init (PmPageInterface *iface)
{
  iface->set_choice = set_choice;
  iface->set_room = set_room;
  iface->set_stale = set_stale;
  iface->focus = page_focus;
  iface->back = back;
  iface->dup_text = dup_text;
}

static void
step_zoom (GtkWidget *widget, const char *name, GVariant *parameter)
{
  pm_diagram_view_step_zoom (PM_DIAGRAM_PAGE (widget)->view, g_str_equal (name, "diagram.larger") ? 1 : -1);
}

static void
full_size (GtkWidget *widget, const char *name, GVariant *parameter)
{
  pm_diagram_view_full_size (PM_DIAGRAM_PAGE (widget)->view);
}

static void
fit (GtkWidget *widget, const char *name, GVariant *parameter)
{
  pm_diagram_view_fit (PM_DIAGRAM_PAGE (widget)->view);
}

static void
pm_diagram_page_dispose (GObject *object)
{
  PmDiagramPage *self = PM_DIAGRAM_PAGE (object);

  g_clear_object (&self->choice);
  g_clear_pointer (&self->listed, g_array_unref);
  G_OBJECT_CLASS (pm_diagram_page_parent_class)->dispose (object);
}

static void
pm_diagram_page_class_init (PmDiagramPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  static const struct { guint key; const char *action; } keys[] = {
    {GDK_KEY_plus, "diagram.larger"},   {GDK_KEY_equal, "diagram.larger"}, {GDK_KEY_KP_Add, "diagram.larger"},
    {GDK_KEY_minus, "diagram.smaller"}, {GDK_KEY_KP_Subtract, "diagram.smaller"},
    {GDK_KEY_0, "diagram.full-size"},   {GDK_KEY_9, "diagram.fit"},
  };

  g_type_ensure (PM_TYPE_DIAGRAM_VIEW);
  G_OBJECT_CLASS (klass)->dispose = pm_diagram_page_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-diagram-page.ui");
  gtk_widget_class_bind_template_child (widget_class, PmDiagramPage, stale);
  gtk_widget_class_bind_template_child (widget_class, PmDiagramPage, said);
  gtk_widget_class_bind_template_child (widget_class, PmDiagramPage, turns_on);
  gtk_widget_class_bind_template_child (widget_class, PmDiagramPage, states);
  gtk_widget_class_bind_template_child (widget_class, PmDiagramPage, more);
  gtk_widget_class_bind_template_child (widget_class, PmDiagramPage, full_size);
  gtk_widget_class_bind_template_child (widget_class, PmDiagramPage, view);
  gtk_widget_class_bind_template_callback (widget_class, more_cb);
  gtk_widget_class_install_action (widget_class, "diagram.larger", NULL, step_zoom);
  gtk_widget_class_install_action (widget_class, "diagram.smaller", NULL, step_zoom);
  gtk_widget_class_install_action (widget_class, "diagram.full-size", NULL, full_size);
  gtk_widget_class_install_action (widget_class, "diagram.fit", NULL, fit);
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_widget_class_add_binding_action (widget_class, keys[i].key, GDK_CONTROL_MASK, keys[i].action, NULL);
}

static void
pm_diagram_page_init (PmDiagramPage *self)
{
  self->finding = -1;
  self->listed = g_array_new (FALSE, FALSE, sizeof (guint));
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_object (self->view, "pointed", G_CALLBACK (say), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->view, "notify::zoom", G_CALLBACK (zoom_cb), self, G_CONNECT_SWAPPED);
  zoom_cb (self);
}
