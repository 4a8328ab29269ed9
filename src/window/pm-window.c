/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shape of the window: header, verdict, pane or sheet, page, drawer.
 *
 * Wide or narrow is decided after each allocation and carried out when idle, since sizes must not be changed while they
 * are handed out. The pane always lies in an overlay; in a wide window the page leaves room for it, in a narrow one it
 * covers the page as a sheet.
 */
#include "config.h"
#include "pm-window-private.h"
#include "pm-look.h"
#include "pm-open-popover.h"
#include "pm-shortcuts.h"
#include <glib/gi18n.h>

#define PANE_WIDTH 300
#define WIDE_FROM 1000
#define ROOMY_FROM 790   /* narrower, the header has no room for a button per page */
#define BUTTONS_FROM 960 /* and none for others than those beside the title */
#define SENTENCE_LEAST 250 /* width of the verdict that a button beside it must leave, at ordinary text */
#define QUIET_AFTER_MS 3000
#define DRAWER_LEAST 110
#define FILE_SHARE 38    /* percent of the room below the switches */
#define FINDING_SHARE 50
#define PAGE_LEAST 64    /* what is left of the page above a finding that is long */
#define STRIP_SHARE 28   /* percent of the window that switches in a line may take */

enum { PROP_PAGE = 1 };

G_DEFINE_FINAL_TYPE (PmWindow, pm_window, GTK_TYPE_APPLICATION_WINDOW)

static gboolean
quiet_cb (gpointer data)
{
  PmWindow *self = data;

  self->quiet_id = 0;
  gtk_widget_add_css_class (GTK_WIDGET (self->status), "silent");
  return G_SOURCE_REMOVE;
}

void
pm_window_announce (PmWindow *self, const char *text, gboolean visible)
{
  g_free (self->announced);
  self->announced = g_strdup (text);
  gtk_label_set_text (self->status, text);
  g_clear_handle_id (&self->quiet_id, g_source_remove);
  if (visible) {
    gtk_widget_remove_css_class (GTK_WIDGET (self->status), "silent");
    self->quiet_id = g_timeout_add (QUIET_AFTER_MS, quiet_cb, self);
  } else {
    gtk_widget_add_css_class (GTK_WIDGET (self->status), "silent");
  }
}

static gboolean
has_check (PmWindow *self)
{
  return pm_choice_get_check (self->choice) != NULL;
}

static GtkWidget *
handle_of (GtkPaned *paned)
{
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (paned));

  while (child != NULL && (child == gtk_paned_get_start_child (paned) || child == gtk_paned_get_end_child (paned)))
    child = gtk_widget_get_next_sibling (child);
  return child;
}

/* A finding takes the height that its rows need; what to do about it goes before the page, which scrolls.  The file
 * takes the height that was chosen by hand, but leaves the page at least a good half. */
static void
place_drawer (PmWindow *self, int height)
{
  double scale = pm_look_text_scale (GTK_WIDGET (self));
  int least = MIN ((int) (DRAWER_LEAST * scale), height / 2), wanted, handle = 0;

  if (!gtk_widget_get_visible (GTK_WIDGET (self->drawer)) || height <= 0)
    return;
  if (self->last_width > 0)
    pm_drawer_set_width (self->drawer, self->last_width);
  if (!self->by_hand && !pm_drawer_is_file (self->drawer) && self->last_width > 0)
    wanted = pm_drawer_fit (self->drawer, self->last_width, MAX (height * FINDING_SHARE / 100, least),
                            MAX (height - MIN ((int) (PAGE_LEAST * scale), height / 4), least));
  else
    wanted = CLAMP (self->drawer_height, least, MAX (height * (self->by_hand ? 75 : FILE_SHARE) / 100, least));
  gtk_widget_measure (handle_of (self->paned), GTK_ORIENTATION_VERTICAL, -1, NULL, &handle, NULL, NULL);
  self->arranging = TRUE;
  gtk_paned_set_position (self->paned, height - wanted - handle);
  self->arranging = FALSE;
}

/* A scrolled window asks how high its child is without telling how wide, which is one line of switches. */
static void
size_strip (PmWindow *self, int width, int most)
{
  GtkScrolledWindow *scroller = GTK_SCROLLED_WINDOW (self->strip_scroller);
  GtkBorder padding;
  int height;

  gtk_style_context_get_padding (gtk_widget_get_style_context (self->strip_scroller), &padding);
  gtk_widget_measure (GTK_WIDGET (self->strip), GTK_ORIENTATION_VERTICAL,
                      MAX (width - padding.left - padding.right, 1), NULL, &height, NULL, NULL);
  height = MIN (height, most);
  if (gtk_scrolled_window_get_min_content_height (scroller) == height &&
      gtk_scrolled_window_get_max_content_height (scroller) == most)
    return;
  gtk_scrolled_window_set_min_content_height (scroller, -1);
  gtk_scrolled_window_set_max_content_height (scroller, most);
  gtk_scrolled_window_set_min_content_height (scroller, height);
}

/* Without a switch to move, the button for the pane alone is worth no band of its own where the verdict has room. */
static void
place_strip (PmWindow *self, int width)
{
  gboolean wanted = has_check (self) && (self->narrow || !self->pane_wanted);
  gboolean alone = wanted && !pm_switch_strip_has_levers (self->strip);
  double scale = pm_look_text_scale (GTK_WIDGET (self));
  int least = 0;

  pm_verdict_strip_set_findings (self->verdict, alone ? pm_switch_strip_get_findings (self->strip) : NULL);
  if (alone)
    gtk_widget_measure (GTK_WIDGET (self->verdict), GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  if (least + (int) (SENTENCE_LEAST * scale) > width) {
    pm_verdict_strip_set_findings (self->verdict, NULL);
    alone = FALSE;
  }
  gtk_widget_set_visible (self->strip_scroller, wanted && !alone);
}

/* A title that is too long for its line takes the place of the machine and the file, which its tooltip tells. */
static void
place_title (PmWindow *self)
{
  int room = gtk_widget_get_width (gtk_widget_get_parent (GTK_WIDGET (self->title))), wanted;
  gboolean has_more = *gtk_label_get_text (self->subtitle) != '\0';

  gtk_widget_measure (GTK_WIDGET (self->title), GTK_ORIENTATION_HORIZONTAL, -1, NULL, &wanted, NULL, NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->subtitle), has_more && (room <= 0 || wanted <= room));
}

static gboolean
arrange_cb (gpointer data)
{
  PmWindow *self = data;
  double scale = pm_look_text_scale (GTK_WIDGET (self));
  int width = gtk_widget_get_width (GTK_WIDGET (self)), height = gtk_widget_get_height (self->body);
  int default_width, default_height, pane_width, whole = gtk_widget_get_height (GTK_WIDGET (self));
  gboolean show_pane;

  self->arrange_id = 0;
  gtk_window_get_default_size (GTK_WINDOW (self), &default_width, &default_height);
  if (width <= 0)
    width = default_width;
  if (height <= 0)
    height = default_height - (int) (120 * scale);
  whole = whole > 0 ? whole : default_height;
  self->narrow = width < WIDE_FROM * scale;
  pm_window_pages_set_compact (self, width < ROOMY_FROM * scale);
  /* Both are in the menu as well; the title is nowhere else. */
  gtk_widget_set_visible (self->print, width >= BUTTONS_FROM * scale);
  gtk_widget_set_visible (self->share, width >= BUTTONS_FROM * scale);
  show_pane = has_check (self) && (self->narrow ? self->sheet_open : self->pane_wanted);
  pane_width = MIN ((int) (PANE_WIDTH * scale), width - 32);
  gtk_widget_set_size_request (self->pane, pane_width, -1);
  gtk_widget_set_visible (self->pane, show_pane);
  /* The focus must not walk about behind the sheet, where nobody sees it. */
  gtk_widget_set_can_focus (GTK_WIDGET (self->paned), !(show_pane && self->narrow));
  if (self->narrow)
    gtk_widget_add_css_class (self->pane, "sheet");
  else
    gtk_widget_remove_css_class (self->pane, "sheet");
  gtk_widget_set_margin_start (GTK_WIDGET (self->paned), show_pane && !self->narrow ? pane_width : 0);
  pm_verdict_strip_set_narrow (self->verdict, self->narrow);
  place_strip (self, width);
  /* Many switches at large text must leave the page some room: then they scroll. */
  size_strip (self, width, MAX (whole * STRIP_SHARE / 100, 40));
  pm_window_pages_set_room (self, show_pane && !self->narrow ? width - pane_width : width, height);
  self->last_width = show_pane && !self->narrow ? width - pane_width : width;
  place_title (self);
  place_drawer (self, height);
  self->last_height = height;
  return G_SOURCE_REMOVE;
}

void
pm_window_arrange (PmWindow *self)
{
  if (self->arrange_id == 0)
    self->arrange_id = g_idle_add_full (GTK_PRIORITY_RESIZE - 1, arrange_cb, self, NULL);
}

void
pm_window_arrange_now (PmWindow *self)
{
  g_clear_handle_id (&self->arrange_id, g_source_remove);
  arrange_cb (self);
}

void
pm_window_show_drawer (PmWindow *self, gboolean shown)
{
  if (gtk_widget_get_visible (GTK_WIDGET (self->drawer)) == shown)
    return;
  gtk_widget_set_visible (GTK_WIDGET (self->drawer), shown);
  pm_window_update_actions (self);
  pm_window_arrange (self);
}

void
pm_window_toggle_pane (PmWindow *self)
{
  gboolean shown;

  if (self->narrow) {
    self->sheet_open = !self->sheet_open;
    shown = self->sheet_open;
  } else {
    self->pane_wanted = !self->pane_wanted;
    shown = self->pane_wanted;
  }
  pm_window_arrange_now (self);
  if (shown && self->narrow) {
    if (!pm_finding_list_focus_first (self->findings))
      pm_switch_pane_focus_first (self->switches);
  } else if (!shown) {
    pm_window_focus_first (self);
  }
  pm_window_update_actions (self);
}

/* The first switch; without one the first finding; without that the page. */
void
pm_window_focus_first (PmWindow *self)
{
  gboolean done = FALSE;

  if (gtk_widget_get_visible (self->pane) && !self->narrow)
    done = pm_switch_pane_focus_first (self->switches) || pm_finding_list_focus_first (self->findings);
  else if (gtk_widget_get_visible (self->strip_scroller))
    done = pm_switch_strip_focus_first (self->strip);
  if (!done)
    pm_window_focus_page (self);
}

static void
position_cb (GtkPaned *paned, GParamSpec *pspec, PmWindow *self)
{
  int height = gtk_widget_get_height (GTK_WIDGET (paned));
  GtkWidget *handle = handle_of (paned);

  /* Only a hand on the handle counts, not sizes that are being handed out. */
  if (self->arranging || height != self->last_height || !gtk_widget_get_visible (GTK_WIDGET (self->drawer)))
    return;
  if (handle != NULL && gtk_widget_get_state_flags (handle) &
      (GTK_STATE_FLAG_ACTIVE | GTK_STATE_FLAG_FOCUSED | GTK_STATE_FLAG_PRELIGHT)) {
    self->drawer_height = height - gtk_paned_get_position (paned);
    self->by_hand = TRUE;
  }
}

static void
drawer_closed_cb (PmDrawer *drawer, PmWindow *self)
{
  pm_window_show_drawer (self, FALSE);
  pm_window_focus_first (self);
}

static void
finding_activated_cb (PmFindingList *list, PmWindow *self)
{
  if (!gtk_widget_get_visible (GTK_WIDGET (self->drawer)))
    pm_drawer_show_finding (self->drawer);
  pm_window_show_drawer (self, TRUE);
  if (self->narrow && self->sheet_open)
    pm_window_toggle_pane (self);
}

static void
fault_activated_cb (PmFindingList *list, guint fault, PmWindow *self)
{
  pm_window_go_to_fault (self, fault);
  if (self->narrow && self->sheet_open)
    pm_window_toggle_pane (self);
  pm_drawer_focus (self->drawer);
}

static void
choice_changed_cb (PmChoice *choice, PmWindow *self)
{
  const PmCheck *check = pm_choice_get_check (choice);
  const PmCaseResult *shown;
  g_autofree char *text = NULL;

  pm_window_update_actions (self);
  if (check == NULL || pm_choice_get_stale (choice, NULL) != NULL)
    return;
  shown = &check->cases[pm_choice_get_shown (choice)];
  text = g_strdup_printf ("%s: %s", shown->title, shown->verdict != NULL ? shown->verdict : "");
  pm_window_announce (self, text, FALSE);
  if (pm_choice_get_finding (choice) >= 0 && gtk_widget_get_visible (GTK_WIDGET (self->drawer)) &&
      !pm_drawer_is_file (self->drawer))
    pm_drawer_show_finding (self->drawer);
  if (gtk_widget_get_visible (GTK_WIDGET (self->drawer)))
    pm_window_arrange (self); /* other rows, other height */
}

static void
pm_window_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PmWindow *self = PM_WINDOW (widget);
  int before = self->last_height;

  GTK_WIDGET_CLASS (pm_window_parent_class)->size_allocate (widget, width, height, baseline);
  /* Pages must not be told while sizes are handed out: they may change theirs. */
  if (gtk_widget_get_height (self->body) != before ||
      (width < WIDE_FROM * pm_look_text_scale (widget)) != self->narrow ||
      width - gtk_widget_get_margin_start (GTK_WIDGET (self->paned)) != self->last_width)
    pm_window_arrange (self);
}

static void
remember (PmWindow *self)
{
  int width, height;

  if (self->settings == NULL)
    return;
  gtk_window_get_default_size (GTK_WINDOW (self), &width, &height);
  g_settings_set_int (self->settings, "window-width", MAX (width, 320));
  g_settings_set_int (self->settings, "window-height", MAX (height, 240));
  g_settings_set_boolean (self->settings, "maximized", gtk_window_is_maximized (GTK_WINDOW (self)));
  g_settings_set_boolean (self->settings, "pane", self->pane_wanted);
  g_settings_set_int (self->settings, "drawer-height", CLAMP (self->drawer_height, 80, 20000));
}

static gboolean
pm_window_close_request (GtkWindow *window)
{
  remember (PM_WINDOW (window));
  return GTK_WINDOW_CLASS (pm_window_parent_class)->close_request (window);
}

static void
pm_window_system_setting_changed (GtkWidget *widget, GtkSystemSetting setting)
{
  GTK_WIDGET_CLASS (pm_window_parent_class)->system_setting_changed (widget, setting);
  pm_window_arrange (PM_WINDOW (widget));
}

static void
pm_window_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  g_value_set_string (value, pm_window_get_page (PM_WINDOW (object)));
}

static void
pm_window_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  pm_window_set_page (PM_WINDOW (object), g_value_get_string (value));
}

static void
pm_window_dispose (GObject *object)
{
  PmWindow *self = PM_WINDOW (object);

  g_clear_handle_id (&self->arrange_id, g_source_remove);
  g_clear_handle_id (&self->quiet_id, g_source_remove);
  g_clear_handle_id (&self->busy_id, g_source_remove);
  g_clear_handle_id (&self->present_id, g_source_remove);
  if (self->session != NULL)
    g_signal_handlers_disconnect_by_data (self->session, self);
  if (self->dialog != NULL)
    gtk_native_dialog_destroy (self->dialog);
  g_clear_object (&self->dialog);
  g_clear_object (&self->session);
  g_clear_object (&self->choice);
  g_clear_object (&self->settings);
  g_clear_pointer (&self->announced, g_free);
  G_OBJECT_CLASS (pm_window_parent_class)->dispose (object);
}

static void
ensure_types (void)
{
  g_type_ensure (PM_TYPE_START_PAGE);
  g_type_ensure (PM_TYPE_VERDICT_STRIP);
  g_type_ensure (PM_TYPE_SWITCH_STRIP);
  g_type_ensure (PM_TYPE_SWITCH_PANE);
  g_type_ensure (PM_TYPE_FINDING_LIST);
  g_type_ensure (PM_TYPE_ROUTES_PAGE);
  g_type_ensure (PM_TYPE_FAULTS_PAGE);
  g_type_ensure (PM_TYPE_DRAWER);
}

static void
pm_window_class_init (PmWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  ensure_types ();
  G_OBJECT_CLASS (klass)->get_property = pm_window_get_property;
  G_OBJECT_CLASS (klass)->set_property = pm_window_set_property;
  G_OBJECT_CLASS (klass)->dispose = pm_window_dispose;
  g_object_class_install_property (G_OBJECT_CLASS (klass), PROP_PAGE,
                                   g_param_spec_string ("page", NULL, NULL, NULL,
                                                        G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS));
  gtk_widget_class_install_property_action (widget_class, "win.page", "page");
  GTK_WINDOW_CLASS (klass)->close_request = pm_window_close_request;
  widget_class->size_allocate = pm_window_size_allocate;
  widget_class->system_setting_changed = pm_window_system_setting_changed;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-window.ui");
  gtk_widget_class_bind_template_child (widget_class, PmWindow, open_button);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, title);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, subtitle);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, spinner);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, cancel);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, status);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, stack);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, pages);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, switcher);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, pages_box);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, page_button);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, pages_menu);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, print);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, share);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, start);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, verdict);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, strip);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, strip_scroller);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, body);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, pane);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, switches);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, findings);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, paned);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, routes);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, faults);
  gtk_widget_class_bind_template_child (widget_class, PmWindow, drawer);
  pm_window_class_init_actions (widget_class);
  pm_shortcuts_add_gentle (widget_class);
}

/* Made when it is asked for the first time. */
static void
create_popover_cb (GtkMenuButton *button, gpointer data)
{
  GtkWidget *popover;

  if (gtk_menu_button_get_popover (button) != NULL)
    return;
  popover = pm_open_popover_new (FALSE);
  g_signal_connect_swapped (popover, "file-activated", G_CALLBACK (pm_window_open), data);
  gtk_menu_button_set_popover (button, popover);
}

static void
pm_window_init (PmWindow *self)
{
  self->session = pm_session_new ();
  self->choice = pm_choice_new ();
  self->pane_wanted = TRUE;
  self->drawer_height = 280;
  gtk_widget_init_template (GTK_WIDGET (self));
  pm_look_show_focus (GTK_WINDOW (self));
  gtk_widget_set_visible (GTK_WIDGET (self->drawer), FALSE);
  gtk_widget_add_css_class (GTK_WIDGET (self->status), "silent");
  pm_switch_pane_set_choice (self->switches, self->choice);
  pm_switch_strip_set_choice (self->strip, self->choice);
  pm_finding_list_set_choice (self->findings, self->choice);
  pm_window_init_pages (self);
  pm_drawer_set_choice (self->drawer, self->choice);
  gtk_menu_button_set_create_popup_func (self->open_button, create_popover_cb, self, NULL);
  g_signal_connect_swapped (self->start, "file-activated", G_CALLBACK (pm_window_open), self);
  g_signal_connect (self->paned, "notify::position", G_CALLBACK (position_cb), self);
  g_signal_connect (self->drawer, "closed", G_CALLBACK (drawer_closed_cb), self);
  g_signal_connect_swapped (self->drawer, "turned", G_CALLBACK (pm_window_arrange), self);
  g_signal_connect (self->findings, "finding-activated", G_CALLBACK (finding_activated_cb), self);
  g_signal_connect (self->findings, "fault-activated", G_CALLBACK (fault_activated_cb), self);
  g_signal_connect_object (self->choice, "changed", G_CALLBACK (choice_changed_cb), self, 0);
  pm_window_init_open (self);
}

GtkWidget *
pm_window_new (GtkApplication *application, GSettings *settings, int width, int height)
{
  PmWindow *self = g_object_new (PM_TYPE_WINDOW, "application", application, NULL);

  if (settings != NULL) {
    self->settings = g_object_ref (settings);
    self->pane_wanted = g_settings_get_boolean (settings, "pane");
    self->drawer_height = g_settings_get_int (settings, "drawer-height");
    width = width > 0 ? width : g_settings_get_int (settings, "window-width");
    height = height > 0 ? height : g_settings_get_int (settings, "window-height");
    if (g_settings_get_boolean (settings, "maximized"))
      gtk_window_maximize (GTK_WINDOW (self));
  }
  gtk_window_set_default_size (GTK_WINDOW (self), width > 0 ? width : 1280, height > 0 ? height : 800);
  arrange_cb (self);
  pm_window_update_actions (self);
  return GTK_WIDGET (self);
}

PmChoice *
pm_window_get_choice (PmWindow *self)
{
  g_return_val_if_fail (PM_IS_WINDOW (self), NULL);
  return self->choice;
}

PmSession *
pm_window_get_session (PmWindow *self)
{
  g_return_val_if_fail (PM_IS_WINDOW (self), NULL);
  return self->session;
}

const char *
pm_window_get_announced (PmWindow *self)
{
  g_return_val_if_fail (PM_IS_WINDOW (self), NULL);
  return self->announced;
}

gboolean
pm_window_has_board (PmWindow *self)
{
  g_return_val_if_fail (PM_IS_WINDOW (self), FALSE);
  return pm_session_get_path (self->session) != NULL;
}

gboolean
pm_window_is_settled (PmWindow *self)
{
  g_return_val_if_fail (PM_IS_WINDOW (self), FALSE);
  return !pm_session_get_busy (self->session) && self->arrange_id == 0;
}
