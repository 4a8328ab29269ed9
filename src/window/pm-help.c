/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two lists made from the tables of words and of keys.  The window fits 640x480 and its lists scroll. */
#include "config.h"
#include "pm-help.h"
#include "pm-label.h"
#include "pm-shortcuts.h"
#include "pm-words.h"
#include <glib/gi18n.h>

#define WIDTH 620
#define HEIGHT 460
#define WORD_CHARS 18
#define KEYS_WIDTH 170

struct _PmHelp {
  GtkWindow   parent;
  /* borrowed from the widget tree */
  GtkStack   *stack;
  GtkWidget  *search;
  GtkListBox *words;
};

G_DEFINE_FINAL_TYPE (PmHelp, pm_help, GTK_TYPE_WINDOW)

/* Lefts are equally wide by themselves: a size group and texts that wrap do not go together. */
static void
add_row (GtkListBox *list, const char *group, GtkWidget *left, const char *text, const char *spoken)
{
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 14);
  GtkWidget *right = pm_label_new_cell (text);

  gtk_widget_set_valign (left, GTK_IS_LABEL (left) ? GTK_ALIGN_START : GTK_ALIGN_CENTER);
  gtk_widget_set_valign (right, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (right, TRUE);
  gtk_box_append (GTK_BOX (box), left);
  gtk_box_append (GTK_BOX (box), right);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_object_set_data (G_OBJECT (row), "group", (gpointer) group);
  g_object_set_data_full (G_OBJECT (row), "text", g_strdup (spoken), g_free);
  gtk_list_box_append (list, row);
}

static void
header_func (GtkListBoxRow *row, GtkListBoxRow *before, gpointer data)
{
  const char *group = g_object_get_data (G_OBJECT (row), "group");
  GtkWidget *heading;

  if (before != NULL && g_strcmp0 (g_object_get_data (G_OBJECT (before), "group"), group) == 0) {
    gtk_list_box_row_set_header (row, NULL);
    return;
  }
  heading = pm_label_new_cell (group);
  gtk_widget_add_css_class (heading, "pm-help-heading");
  gtk_list_box_row_set_header (row, heading);
}

static gboolean
filter_func (GtkListBoxRow *row, gpointer data)
{
  const char *wanted = gtk_editable_get_text (GTK_EDITABLE (PM_HELP (data)->search));

  return *wanted == '\0' || g_str_match_string (wanted, g_object_get_data (G_OBJECT (row), "text"), TRUE);
}

static void
search_cb (GtkSearchEntry *entry, PmHelp *self)
{
  gtk_list_box_invalidate_filter (self->words);
}

static GtkListBox *
new_list (const char *name)
{
  GtkListBox *list = GTK_LIST_BOX (gtk_list_box_new ());

  gtk_list_box_set_selection_mode (list, GTK_SELECTION_NONE);
  gtk_list_box_set_header_func (list, header_func, NULL, NULL);
  gtk_widget_add_css_class (GTK_WIDGET (list), "pm-help");
  gtk_accessible_update_property (GTK_ACCESSIBLE (list), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return list;
}

static GtkWidget *
in_scroller (GtkListBox *list)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();

  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_overlay_scrolling (GTK_SCROLLED_WINDOW (scroller), FALSE);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), GTK_WIDGET (list));
  gtk_widget_set_vexpand (scroller, TRUE);
  return scroller;
}

static GtkWidget *
new_words_page (PmHelp *self)
{
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->search = gtk_search_entry_new ();
  g_object_set (self->search, "placeholder-text", _("Find a word"), NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->search), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Find a word"), -1);
  gtk_widget_add_css_class (self->search, "pm-help-search");
  g_signal_connect (self->search, "search-changed", G_CALLBACK (search_cb), self);
  g_signal_connect_swapped (self->search, "stop-search", G_CALLBACK (gtk_window_close), self);
  self->words = new_list (_("Words"));
  gtk_list_box_set_filter_func (self->words, filter_func, self, NULL);
  for (const PmWord *word = pm_words_table (); word->group != NULL; word++) {
    const char *name = g_dpgettext2 (NULL, "word", word->word);
    GtkWidget *left = pm_label_new_cell (name);
    g_autofree char *spoken = g_strdup_printf ("%s: %s", name, _(word->meaning));

    gtk_label_set_width_chars (GTK_LABEL (left), WORD_CHARS);
    gtk_label_set_max_width_chars (GTK_LABEL (left), WORD_CHARS);
    gtk_widget_add_css_class (left, "strong");
    add_row (self->words, _(word->group), left, _(word->meaning), spoken);
  }
  gtk_box_append (GTK_BOX (page), self->search);
  gtk_box_append (GTK_BOX (page), in_scroller (self->words));
  return page;
}

static char *
keys_text (const char *accels)
{
  g_auto (GStrv) names = g_strsplit (accels, " ", -1);
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; names[i] != NULL; i++) {
    g_autofree char *label = NULL;
    guint key;
    GdkModifierType modifiers;

    if (gtk_accelerator_parse (names[i], &key, &modifiers))
      label = gtk_accelerator_get_label (key, modifiers);
    if (text->len > 0)
      g_string_append (text, ", ");
    g_string_append (text, label != NULL ? label : names[i]);
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static GtkWidget *
new_keys_page (void)
{
  GtkListBox *list = new_list (_("Keys"));

  for (const PmShortcut *shortcut = pm_shortcuts_table (); shortcut->title != NULL; shortcut++) {
    GtkWidget *label = gtk_shortcut_label_new (shortcut->accels);
    g_autofree char *keys = keys_text (shortcut->accels);
    g_autofree char *spoken = g_strdup_printf ("%s: %s", _(shortcut->title), keys);

    gtk_widget_set_size_request (label, KEYS_WIDTH, -1);
    add_row (list, _(shortcut->group), label, _(shortcut->title), spoken);
  }
  return in_scroller (list);
}

static void
pm_help_class_init (PmHelpClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_w, GDK_CONTROL_MASK, "window.close", NULL);
}

static void
pm_help_init (PmHelp *self)
{
  GtkWidget *header = gtk_header_bar_new (), *switcher = gtk_stack_switcher_new ();

  self->stack = GTK_STACK (gtk_stack_new ());
  gtk_stack_add_titled (self->stack, new_words_page (self), "words", _("Words"));
  gtk_stack_add_titled (self->stack, new_keys_page (), "keys", _("Keys"));
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), self->stack);
  gtk_header_bar_set_title_widget (GTK_HEADER_BAR (header), switcher);
  gtk_window_set_titlebar (GTK_WINDOW (self), header);
  gtk_window_set_title (GTK_WINDOW (self), _("Help"));
  gtk_window_set_default_size (GTK_WINDOW (self), WIDTH, HEIGHT);
  gtk_window_set_child (GTK_WINDOW (self), GTK_WIDGET (self->stack));
}

void
pm_help_show (GtkWindow *parent, const char *page)
{
  GListModel *windows = gtk_window_get_toplevels ();
  PmHelp *self = NULL;

  g_return_if_fail (GTK_IS_WINDOW (parent));
  for (guint i = 0; i < g_list_model_get_n_items (windows) && self == NULL; i++) {
    g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

    if (PM_IS_HELP (window) && gtk_window_get_transient_for (window) == parent)
      self = PM_HELP (window);
  }
  if (self == NULL)
    self = g_object_new (PM_TYPE_HELP, "transient-for", parent, "destroy-with-parent", TRUE, NULL);
  gtk_stack_set_visible_child_name (self->stack, page);
  gtk_window_present (GTK_WINDOW (self));
  gtk_widget_child_focus (gtk_stack_get_visible_child (self->stack), GTK_DIR_TAB_FORWARD);
}
