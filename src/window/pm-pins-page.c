/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Map and chosen pin stand side by side where there is room, else one below the other; then a sentence at the foot says
 * what is looked at, since the rows may be scrolled out of sight. */
#include "config.h"
#include "pm-pins-page.h"
#include "pm-label.h"
#include "pm-look.h"
#include "pm-row-layout.h"
#include <glib/gi18n.h>

#define BESIDE_FROM 860       /* width, at ordinary text */
#define DETAIL_WIDTH 260
#define FOOT_LINE 95          /* height of the page for each line of the sentence at the foot */
#define SETTINGS_IN_FULL 4    /* more are told as one */

struct _PmPinsPage {
  GtkBox      parent;
  /* template */
  GtkWidget  *scroller, *body, *detail, *warned, *nothing;
  GtkLabel   *stale, *heading, *pin, *warnings, *said;
  GtkGrid    *rows;
  GtkToggleButton *above, *solder;
  PmPinView  *view;
  /* owned */
  PmChoice   *choice;
  int         finding;      /* whose pin was last chosen, or -1 */
};

static void pm_pins_page_page_init (PmPageInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE (PmPinsPage, pm_pins_page, GTK_TYPE_BOX,
                               G_IMPLEMENT_INTERFACE (PM_TYPE_PAGE, pm_pins_page_page_init))

/* ---- the chosen pin */

/* What a pin's rows say: the page's grid and its text take them from here.  Takes value; NULL is left out. */
typedef void (*SayFunc) (gpointer data, const char *name, char *value);

static void
say_goes (const PmPins *pins, guint index, guint shown, SayFunc say, gpointer data)
{
  const PmCheck *check = pins->check;
  const PmPinFact *pin = &pins->pins[index];
  gboolean same = TRUE;

  for (guint s = 1; s < check->n_settings; s++)
    same &= g_str_equal (pin->goes[s], pin->goes[0]);
  if (same || check->n_settings > SETTINGS_IN_FULL) {
    say (data, same ? _("Goes") : _("Goes in this setting"), pm_pins_goes (pins, index, same ? 0 : shown));
    if (!same)
      say (data, _("In all"), pm_pins_goes (pins, index, 0));
    return;
  }
  for (guint s = 0; s < check->n_settings; s++) {
    g_autofree char *name = g_strdup_printf (_("Goes in %s"), check->cases[s + 1].name);
    say (data, name, g_strdup (pin->goes[s]));
  }
}

static void
say_pin (const PmPins *pins, guint index, guint shown, SayFunc say, gpointer data)
{
  const PmBoard *board = pins->check->board;
  const PmPinFact *pin = &pins->pins[index];
  g_autofree char *chip = pm_board_place_name (board, pin->chip), *plug = pm_board_place_name (board, pin->machine);

  say (data, _("Fate"), pin->fate == PM_PIN_TAPPED ? g_strdup (_("straight through, tapped"))
                                                   : g_strdup (pm_pin_fate_words (pin->fate)));
  say_goes (pins, index, shown, say, data);
  if (pin->chip_to != NULL) {
    g_autofree char *name = g_strdup_printf (_("%s joined to"), chip);
    say (data, name, g_strdup (pin->chip_to));
  }
  if (pin->machine_to != NULL) {
    g_autofree char *name = g_strdup_printf (_("%s joined to"), plug);
    say (data, name, g_strdup (pin->machine_to));
  }
  say (data, _("Neighbours"), g_strdup (pin->neighbours));
  say (data, _("Must read open to"), g_strdup (pin->open_to));
  say (data, _("Turned round, it meets"), g_strdup (pin->turned));
  say (data, _("Built mirrored, it meets"), g_strdup (pin->mirrored));
}

static char *
pin_title (const PmPinFact *pin)
{
  return pin->line != NULL ? g_strdup_printf (_("Pin %s, %s"), pin->number, pin->line)
                           : g_strdup_printf (_("Pin %s"), pin->number);
}

typedef struct { GtkGrid *grid; int row; } Rows;

static void
say_in_grid (gpointer data, const char *name, char *value)
{
  Rows *rows = data;
  GtkWidget *head, *text;

  if (value == NULL || *value == '\0') {
    g_free (value);
    return;
  }
  head = pm_label_new_cell (name);
  text = pm_label_new_cell (value);
  gtk_widget_add_css_class (head, "pm-second");
  gtk_widget_set_hexpand (text, TRUE);
  gtk_label_set_selectable (GTK_LABEL (text), TRUE);
  gtk_widget_set_focusable (text, FALSE); /* the pin's sentence says it all */
  gtk_label_set_width_chars (GTK_LABEL (head), 10);
  gtk_label_set_max_width_chars (GTK_LABEL (head), 14);
  gtk_label_set_max_width_chars (GTK_LABEL (text), 24);
  gtk_grid_attach (rows->grid, head, 0, rows->row, 1, 1);
  gtk_grid_attach (rows->grid, text, 1, rows->row++, 1, 1);
  g_free (value);
}

static void
show_pin (PmPinsPage *self)
{
  const PmPinMap *map = pm_pin_view_get_map (self->view);
  int index = pm_pin_view_get_chosen (self->view);
  g_autofree char *title = NULL, *sentence = NULL;
  Rows rows = { self->rows, 0 };
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->rows))) != NULL)
    gtk_grid_remove (self->rows, child);
  if (map == NULL || index < 0 || self->choice == NULL)
    return;
  title = pin_title (pm_pin_map_pin (map, (guint) index));
  sentence = pm_pins_sentence (pm_pin_map_pins (map), (guint) index, pm_choice_get_shown (self->choice));
  gtk_label_set_text (self->pin, title);
  gtk_label_set_text (self->said, sentence);
  say_pin (pm_pin_map_pins (map), (guint) index, pm_choice_get_shown (self->choice), say_in_grid, &rows);
}

/* ---- following the choice */

/* A finding that is opened brings its pin. */
static void
follow_finding (PmPinsPage *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  const PmPinMap *map = pm_pin_view_get_map (self->view);
  int finding = pm_choice_get_finding (self->choice);
  const PmFinding *is;

  if (finding == self->finding || map == NULL)
    return;
  self->finding = finding;
  if (finding < 0 || (guint) finding >= check->n_findings)
    return;
  is = &check->findings[finding];
  for (guint k = 0; k < is->n_places; k++)
    for (guint i = 0; i < pm_pin_map_n_pins (map); i++) {
      const PmPinFact *pin = pm_pin_map_pin (map, i);

      if (is->places[k] == pin->chip || is->places[k] == pin->machine) {
        pm_pin_view_set_chosen (self->view, (int) i);
        return;
      }
    }
}

static void
show (PmPinsPage *self)
{
  if (pm_choice_get_check (self->choice) == NULL)
    return;
  follow_finding (self);
  pm_pin_view_show (self->view, pm_choice_get_shown (self->choice), gtk_toggle_button_get_active (self->solder));
  show_pin (self);
}

static void
study_changed_cb (PmPinsPage *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  const PmPinMap *map;
  g_autofree char *heading = NULL, *warnings = NULL;

  self->finding = -1;
  pm_pin_view_set_study (self->view, pm_choice_get_study (self->choice));
  map = pm_pin_view_get_map (self->view);
  gtk_widget_set_visible (self->body, map != NULL);
  gtk_widget_set_visible (self->warned, map != NULL);
  gtk_widget_set_visible (self->nothing, map == NULL);
  gtk_widget_set_visible (gtk_widget_get_parent (GTK_WIDGET (self->above)), map != NULL);
  if (map != NULL) {
    const PmBoard *board = check->board;
    heading = g_strdup_printf (_("Pins between %s and %s"), board->instances[board->socket].ref,
                               board->instances[board->plug].ref);
    warnings = g_strjoinv ("\n", (char **) pm_pin_map_warnings (map));
    gtk_label_set_text (self->warnings, warnings);
  }
  gtk_label_set_text (self->heading, heading != NULL ? heading : _("Pins"));
  show (self);
}

static void
side_cb (GtkToggleButton *button, PmPinsPage *self)
{
  if (!gtk_toggle_button_get_active (button) || self->choice == NULL)
    return;
  show (self);
  g_signal_emit_by_name (self, "text-changed");
}

/* ---- the page */

static void
set_choice (PmPage *page, PmChoice *choice)
{
  PmPinsPage *self = PM_PINS_PAGE (page);

  self->choice = g_object_ref (choice);
  g_signal_connect_object (choice, "study-changed", G_CALLBACK (study_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (choice, "changed", G_CALLBACK (show), self, G_CONNECT_SWAPPED);
  study_changed_cb (self);
}

static void
set_room (PmPage *page, int width, int height, gboolean narrow)
{
  PmPinsPage *self = PM_PINS_PAGE (page);
  double text = pm_look_text_scale (GTK_WIDGET (self));
  gboolean beside = width >= BESIDE_FROM * text;

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self->body),
                                  beside ? GTK_ORIENTATION_HORIZONTAL : GTK_ORIENTATION_VERTICAL);
  gtk_label_set_lines (self->said, CLAMP ((int) (height / text / FOOT_LINE), 1, 3));
  gtk_widget_set_visible (GTK_WIDGET (self->said), !beside && pm_pin_view_get_map (self->view) != NULL);
  gtk_widget_set_size_request (self->detail, beside ? (int) (DETAIL_WIDTH * text) : -1, -1);
}

static void
set_stale (PmPage *page, const char *text)
{
  PmPinsPage *self = PM_PINS_PAGE (page);

  pm_page_show_stale (self->stale, GTK_WIDGET (self->scroller), text);
}

static gboolean
page_focus (PmPage *page)
{
  return pm_pin_view_focus_chosen (PM_PINS_PAGE (page)->view);
}

static char *
dup_text (PmPage *page)
{
  PmPinsPage *self = PM_PINS_PAGE (page);
  const PmPinMap *map = pm_pin_view_get_map (self->view);
  g_autoptr (GString) text = g_string_new (NULL);

  if (map == NULL)
    return g_strdup (gtk_label_get_text (GTK_LABEL (self->nothing)));
  g_string_append_printf (text, "%s\n", gtk_label_get_text (self->heading));
  for (guint i = 0; i < pm_pin_map_n_pins (map); i++) {
    g_autofree char *sentence = pm_pins_sentence (pm_pin_map_pins (map), i, pm_choice_get_shown (self->choice));
    g_string_append_printf (text, "  %s\n", sentence);
  }
  g_string_append_printf (text, "\n%s\n", _("Put in turned round, or built mirrored"));
  for (const char *const *warning = pm_pin_map_warnings (map); *warning != NULL; warning++)
    g_string_append_printf (text, "  %s\n", *warning);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
pm_pins_page_page_init (PmPageInterface *iface)
{
  iface->set_choice = set_choice;
  iface->set_room = set_room;
  iface->set_stale = set_stale;
  iface->focus = page_focus;
  iface->dup_text = dup_text;
}

static void
pm_pins_page_dispose (GObject *object)
{
  g_clear_object (&PM_PINS_PAGE (object)->choice);
  G_OBJECT_CLASS (pm_pins_page_parent_class)->dispose (object);
}

static void
pm_pins_page_class_init (PmPinsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (PM_TYPE_PIN_VIEW);
  g_type_ensure (PM_TYPE_ROW_LAYOUT);
  G_OBJECT_CLASS (klass)->dispose = pm_pins_page_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-pins-page.ui");
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, body);
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, detail);
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, warned);
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, nothing);
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, stale);
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, heading);
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, pin);
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, warnings);
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, said);
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, rows);
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, above);
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, solder);
  gtk_widget_class_bind_template_child (widget_class, PmPinsPage, view);
  gtk_widget_class_bind_template_callback (widget_class, side_cb);
}

static void
pm_pins_page_init (PmPinsPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_object (self->view, "chosen", G_CALLBACK (show_pin), self, G_CONNECT_SWAPPED);
}
