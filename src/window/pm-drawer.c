/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The source view is made when a file is shown for the first time: most visits need none, and it is the dearest widget
 * here. */
#include "config.h"
#include "pm-drawer.h"
#include "pm-drop-down.h"
#include "pm-mark-view.h"
#include "pm-verdict-strip.h"
#include <glib/gi18n.h>
#include <stddef.h>

struct _PmDrawer {
  GtkBox          parent;
  /* template */
  GtkBox         *bar;
  GtkLabel       *title, *id;
  GtkDropDown    *files;
  GtkWidget      *show_in_file, *show_finding, *copy;
  GtkStack       *stack;
  GtkScrolledWindow *scroller;
  GtkGrid        *rows;
  GtkBox         *file_place;
  GtkLabel       *fault;
  /* borrowed */
  PmMarkView     *mark;
  PmFileView     *view;
  const PmFaults *faults;     /* the session's */
  /* owned */
  PmChoice       *choice;
  char           *board_path;
  GPtrArray      *paths;      /* of the files to choose from, the board first */
  int             to_do_row;  /* or -1 */
  int             width;      /* 0: not known yet */
  int             finding;    /* the one of the last change */
  gboolean        updating;
};

enum { CLOSED, TURNED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PmDrawer, pm_drawer, GTK_TYPE_BOX)

/* The rows of a finding in their order. */
typedef struct { const char *name; gsize offset; } Row;
static const Row finding_rows[] = {
  { N_("When"), offsetof (PmFinding, when) },
  { N_("What"), offsetof (PmFinding, what) },
  { N_("Because"), offsetof (PmFinding, because) },
  { N_("Matters"), offsetof (PmFinding, matters) },
  { N_("To do"), offsetof (PmFinding, to_do) },
  { N_("Measure"), offsetof (PmFinding, measure) },
  { N_("Follows"), offsetof (PmFinding, follows) },
};
#define MOST_ROWS (G_N_ELEMENTS (finding_rows) + 2) /* followers and "accepted" besides */

static const char *
row_text (const PmFinding *finding, guint i)
{
  const char *text = *(char *const *) ((const char *) finding + finding_rows[i].offset);

  return text != NULL && *text != '\0' ? text : NULL;
}

static const char *
row_name (const PmFinding *finding, guint i)
{
  if (finding_rows[i].offset == offsetof (PmFinding, to_do) && !finding->tried)
    return _("What to look at");
  return _(finding_rows[i].name);
}

char *
pm_finding_to_text (const PmFinding *finding)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s  %s  (%s)\n", pm_mark_severity_word (finding->severity), finding->title,
                          finding->id);
  for (guint i = 0; i < G_N_ELEMENTS (finding_rows); i++)
    if (row_text (finding, i) != NULL)
      g_string_append_printf (text, "%s: %s\n", row_name (finding, i), row_text (finding, i));
  for (guint i = 0; finding->followers != NULL && finding->followers[i] != NULL && finding->follows == NULL; i++)
    g_string_append_printf (text, "%s: %s\n", _("Follows"), finding->followers[i]);
  if (finding->accepted != NULL)
    g_string_append_printf (text, "%s: %s\n", _("Accepted"), finding->accepted);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* A selection that stays behind would look like a chosen row. */
static void
text_left_cb (GtkEventControllerFocus *controller, GtkLabel *label)
{
  gtk_label_select_region (label, 0, 0);
}

static void
add_row (PmDrawer *self, int row, const char *name, const char *text)
{
  GtkWidget *left = gtk_label_new (name), *right = gtk_label_new (text);
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_label_set_xalign (GTK_LABEL (left), 0);
  gtk_label_set_yalign (GTK_LABEL (left), 0);
  gtk_widget_add_css_class (left, "pm-row-name");
  gtk_label_set_xalign (GTK_LABEL (right), 0);
  gtk_label_set_yalign (GTK_LABEL (right), 0);
  gtk_label_set_wrap (GTK_LABEL (right), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (right), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable (GTK_LABEL (right), TRUE);
  gtk_widget_set_hexpand (right, TRUE);
  g_signal_connect (focus, "leave", G_CALLBACK (text_left_cb), right);
  gtk_widget_add_controller (right, focus);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (right), GTK_ACCESSIBLE_RELATION_LABELLED_BY, left, NULL, -1);
  gtk_grid_attach (self->rows, left, 0, row, 1, 1);
  gtk_grid_attach (self->rows, right, 1, row, 1, 1);
}

static const PmFinding *
open_finding (PmDrawer *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  int finding = pm_choice_get_finding (self->choice);

  return check != NULL && finding >= 0 ? &check->findings[finding] : NULL;
}

static void
fill_finding (PmDrawer *self)
{
  const PmFinding *finding = open_finding (self);
  GtkWidget *child;
  int row = 0;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->rows))) != NULL)
    gtk_grid_remove (self->rows, child);
  self->to_do_row = -1;
  if (finding == NULL)
    return;
  for (guint i = 0; i < G_N_ELEMENTS (finding_rows); i++)
    if (row_text (finding, i) != NULL) {
      if (finding_rows[i].offset == offsetof (PmFinding, to_do))
        self->to_do_row = row;
      add_row (self, row++, row_name (finding, i), row_text (finding, i));
    }
  if (finding->follows == NULL && finding->followers != NULL && finding->followers[0] != NULL) {
    g_autofree char *text = g_strjoinv ("\n", finding->followers);

    add_row (self, row++, _("Follows"), text);
  }
  if (finding->accepted != NULL)
    add_row (self, row, _("Accepted"), finding->accepted);
}

static int
natural_size (GtkWidget *widget, GtkOrientation orientation, int for_size)
{
  int natural;

  gtk_widget_measure (widget, orientation, for_size, NULL, &natural, NULL, NULL);
  return natural;
}

/* The name that files know a finding by goes before anything of its title does; a title that has too little room even
 * then takes two lines. */
static void
fit_id (PmDrawer *self)
{
  const PmFinding *finding = pm_drawer_is_file (self) ? NULL : open_finding (self);

  gtk_label_set_wrap (self->title, FALSE);
  gtk_label_set_text (self->id, finding != NULL ? finding->id : "");
  if (self->width > 0 && natural_size (GTK_WIDGET (self->bar), GTK_ORIENTATION_HORIZONTAL, -1) > self->width)
    gtk_label_set_text (self->id, "");
  gtk_label_set_wrap (self->title, self->width > 0 && natural_size (GTK_WIDGET (self->bar), GTK_ORIENTATION_HORIZONTAL,
                                                                    -1) > self->width);
}

static void
update_bar (PmDrawer *self)
{
  gboolean is_file = pm_drawer_is_file (self);
  const PmFinding *finding = open_finding (self);

  gtk_widget_set_visible (GTK_WIDGET (self->files), is_file && self->paths->len > 1);
  gtk_widget_set_visible (self->show_in_file, !is_file && finding != NULL && finding->n_spots > 0);
  gtk_widget_set_visible (self->show_finding, is_file && finding != NULL && self->faults == NULL);
  if (is_file) {
    g_autofree char *name = self->board_path != NULL ? g_path_get_basename (self->board_path) : NULL;

    pm_mark_view_set_shows (self->mark, PM_SHOWS_NOTHING);
    gtk_label_set_text (self->title, self->paths->len > 1 ? _("File") : name != NULL ? name : "");
  } else {
    pm_mark_view_set_shows (self->mark, finding != NULL ? pm_shows_severity (finding->severity) : PM_SHOWS_NOTHING);
    gtk_label_set_text (self->title, finding != NULL ? finding->title : "");
  }
  fit_id (self);
}

/* Shows the file at a spot; FALSE if it is in none of the board's files. */
static gboolean
show_spot (PmDrawer *self, PmSpot spot)
{
  for (guint i = 0; i < self->paths->len; i++)
    if (pm_spot_is_in_file (spot, g_ptr_array_index (self->paths, i))) {
      pm_drawer_show_file (self, g_ptr_array_index (self->paths, i), spot.line);
      return TRUE;
    }
  return FALSE;
}

/* An open file follows to the line of a finding that is chosen; where it has none, the finding is shown. */
static void
choice_changed_cb (PmChoice *choice, PmDrawer *self)
{
  const PmFinding *finding = open_finding (self);
  int index = pm_choice_get_finding (choice);

  fill_finding (self);
  update_bar (self);
  if (pm_drawer_is_file (self) && self->faults == NULL && finding != NULL && index != self->finding &&
      (finding->n_spots == 0 || !show_spot (self, finding->spots[0])))
    pm_drawer_show_finding (self);
  self->finding = index;
}

static void
finding_activated_cb (PmFileView *view, guint finding, PmDrawer *self)
{
  pm_choice_set_finding (self->choice, (int) finding);
  pm_drawer_show_finding (self);
}

static void
mark_file (PmDrawer *self)
{
  guint index = gtk_drop_down_get_selected (self->files);

  if (self->view == NULL || self->paths->len == 0)
    return;
  if (index >= self->paths->len)
    index = 0;
  pm_file_view_show (self->view, g_ptr_array_index (self->paths, index), pm_choice_get_check (self->choice),
                     self->faults);
}

/* What is wrong stands over the file, whose line with it is marked and gone to. */
static void
say_fault (PmDrawer *self, const PmFault *fault)
{
  g_autofree char *text = fault != NULL ? pm_fault_sentence (fault) : NULL;

  gtk_label_set_text (self->fault, text != NULL ? text : "");
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->fault), text);
  gtk_widget_set_visible (GTK_WIDGET (self->fault), text != NULL);
}

static void
file_selected_cb (GtkDropDown *files, GParamSpec *pspec, PmDrawer *self)
{
  if (!self->updating)
    mark_file (self);
}

static void
show_in_file_cb (GtkButton *button, PmDrawer *self)
{
  const PmFinding *finding = open_finding (self);

  if (finding == NULL || finding->n_spots == 0)
    return;
  if (show_spot (self, finding->spots[0]))
    pm_drawer_focus (self);
  else
    pm_drawer_show_file (self, NULL, finding->spots[0].line);
}

static void
show_finding_cb (GtkButton *button, PmDrawer *self)
{
  pm_drawer_show_finding (self);
  pm_drawer_focus (self);
}

static void
copy_cb (GtkButton *button, PmDrawer *self)
{
  const PmFinding *finding = open_finding (self);
  g_autofree char *text = NULL;

  if (pm_drawer_is_file (self))
    text = pm_file_view_dup_text (self->view);
  else if (finding != NULL)
    text = pm_finding_to_text (finding);
  if (text != NULL)
    gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), text);
}

static void
close_cb (GtkButton *button, PmDrawer *self)
{
  g_signal_emit (self, signals[CLOSED], 0);
}

static void
pm_drawer_dispose (GObject *object)
{
  PmDrawer *self = PM_DRAWER (object);

  g_clear_object (&self->choice);
  g_clear_pointer (&self->board_path, g_free);
  g_clear_pointer (&self->paths, g_ptr_array_unref);
  G_OBJECT_CLASS (pm_drawer_parent_class)->dispose (object);
}

static void
pm_drawer_class_init (PmDrawerClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_drawer_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-drawer.ui");
  gtk_widget_class_bind_template_child (widget_class, PmDrawer, bar);
  gtk_widget_class_bind_template_child (widget_class, PmDrawer, title);
  gtk_widget_class_bind_template_child (widget_class, PmDrawer, id);
  gtk_widget_class_bind_template_child (widget_class, PmDrawer, files);
  gtk_widget_class_bind_template_child (widget_class, PmDrawer, show_in_file);
  gtk_widget_class_bind_template_child (widget_class, PmDrawer, show_finding);
  gtk_widget_class_bind_template_child (widget_class, PmDrawer, copy);
  gtk_widget_class_bind_template_child (widget_class, PmDrawer, stack);
  gtk_widget_class_bind_template_child (widget_class, PmDrawer, rows);
  gtk_widget_class_bind_template_child (widget_class, PmDrawer, scroller);
  gtk_widget_class_bind_template_child (widget_class, PmDrawer, file_place);
  gtk_widget_class_bind_template_child (widget_class, PmDrawer, fault);
  gtk_widget_class_bind_template_callback (widget_class, file_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, show_in_file_cb);
  gtk_widget_class_bind_template_callback (widget_class, show_finding_cb);
  gtk_widget_class_bind_template_callback (widget_class, copy_cb);
  gtk_widget_class_bind_template_callback (widget_class, close_cb);
  signals[TURNED] = g_signal_new ("turned", PM_TYPE_DRAWER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CLOSED] = g_signal_new ("closed", PM_TYPE_DRAWER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pm_drawer_init (PmDrawer *self)
{
  self->paths = g_ptr_array_new_with_free_func (g_free);
  gtk_widget_init_template (GTK_WIDGET (self));
  pm_drop_down_shorten (self->files);
  self->mark = PM_MARK_VIEW (pm_mark_view_new (PM_SHOWS_NOTHING));
  gtk_box_prepend (self->bar, GTK_WIDGET (self->mark));
}

void
pm_drawer_set_choice (PmDrawer *self, PmChoice *choice)
{
  g_return_if_fail (PM_IS_DRAWER (self) && self->choice == NULL);
  self->choice = g_object_ref (choice);
  g_signal_connect_object (choice, "changed", G_CALLBACK (choice_changed_cb), self, 0);
}

void
pm_drawer_show_finding (PmDrawer *self)
{
  g_return_if_fail (PM_IS_DRAWER (self));
  gtk_stack_set_visible_child_name (self->stack, "finding");
  update_bar (self);
  g_signal_emit (self, signals[TURNED], 0);
}

void
pm_drawer_show_file (PmDrawer *self, const char *path, guint line)
{
  g_return_if_fail (PM_IS_DRAWER (self));
  if (self->view == NULL) {
    self->view = PM_FILE_VIEW (pm_file_view_new ());
    g_signal_connect (self->view, "finding-activated", G_CALLBACK (finding_activated_cb), self);
    gtk_box_append (self->file_place, GTK_WIDGET (self->view));
  }
  for (guint i = 0; path != NULL && i < self->paths->len; i++)
    if (g_strcmp0 (path, g_ptr_array_index (self->paths, i)) == 0) {
      self->updating = TRUE;
      gtk_drop_down_set_selected (self->files, i);
      self->updating = FALSE;
    }
  mark_file (self);
  gtk_stack_set_visible_child_name (self->stack, "file");
  update_bar (self);
  g_signal_emit (self, signals[TURNED], 0);
  pm_file_view_go_to_line (self->view, line);
}

void
pm_drawer_set_source (PmDrawer *self, const char *board_path, const PmFaults *faults)
{
  const PmBoard *board = pm_choice_get_board (self->choice);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  g_autofree char *was = NULL;
  guint selected = gtk_drop_down_get_selected (self->files);

  g_return_if_fail (PM_IS_DRAWER (self));
  if (selected < self->paths->len && g_strcmp0 (board_path, self->board_path) == 0)
    was = g_strdup (g_ptr_array_index (self->paths, selected));
  g_free (self->board_path);
  self->board_path = g_strdup (board_path);
  self->faults = faults;
  say_fault (self, faults != NULL && pm_faults_count (faults) > 0 ? pm_faults_get (faults, 0) : NULL);
  g_ptr_array_set_size (self->paths, 0);
  if (board_path != NULL)
    g_ptr_array_add (self->paths, g_strdup (board_path));
  for (guint i = 1; board != NULL && board->files != NULL && i < board->files->len; i++)
    g_ptr_array_add (self->paths, g_strdup (g_ptr_array_index (board->files, i)));
  self->updating = TRUE;
  for (guint i = 0; i < self->paths->len; i++) {
    g_autofree char *name = g_path_get_basename (g_ptr_array_index (self->paths, i));

    gtk_string_list_append (names, name);
  }
  gtk_drop_down_set_model (self->files, G_LIST_MODEL (names));
  for (guint i = 0; was != NULL && i < self->paths->len; i++)
    if (g_str_equal (was, g_ptr_array_index (self->paths, i)))
      gtk_drop_down_set_selected (self->files, i);
  self->updating = FALSE;
  if (pm_drawer_is_file (self))
    mark_file (self);
  update_bar (self);
}

/* Heights of the rows when all of them together are so wide. */
static guint
measure_rows (PmDrawer *self, int width, int heights[MOST_ROWS])
{
  GtkBorder padding;
  GtkWidget *name;
  guint n = 0;
  int names = 0;

  for (guint i = 0; i < MOST_ROWS && (name = gtk_grid_get_child_at (self->rows, 0, (int) i)) != NULL; i++)
    names = MAX (names, natural_size (name, GTK_ORIENTATION_HORIZONTAL, -1));
  gtk_style_context_get_padding (gtk_widget_get_style_context (GTK_WIDGET (self->rows)), &padding);
  width -= padding.left + padding.right + names + (int) gtk_grid_get_column_spacing (self->rows);
  for (; n < MOST_ROWS && (name = gtk_grid_get_child_at (self->rows, 0, (int) n)) != NULL; n++)
    heights[n] = MAX (natural_size (name, GTK_ORIENTATION_VERTICAL, -1),
                      natural_size (gtk_grid_get_child_at (self->rows, 1, (int) n), GTK_ORIENTATION_VERTICAL,
                                    MAX (width, 1)));
  return n;
}

void
pm_drawer_set_width (PmDrawer *self, int width)
{
  g_return_if_fail (PM_IS_DRAWER (self));
  self->width = width;
  fit_id (self);
}

int
pm_drawer_fit (PmDrawer *self, int width, int most, int most_to_do)
{
  int heights[MOST_ROWS], spacing, bar, whole, height, best = 0;
  GtkBorder padding;
  guint n;

  g_return_val_if_fail (PM_IS_DRAWER (self), most);
  spacing = (int) gtk_grid_get_row_spacing (self->rows);
  bar = natural_size (GTK_WIDGET (self), GTK_ORIENTATION_VERTICAL, width) -
        natural_size (GTK_WIDGET (self->stack), GTK_ORIENTATION_VERTICAL, width);
  whole = bar + natural_size (GTK_WIDGET (self->rows), GTK_ORIENTATION_VERTICAL, width);
  if (whole <= most)
    return whole;
  /* A bar to scroll with takes some of the width. */
  width -= natural_size (gtk_scrolled_window_get_vscrollbar (self->scroller), GTK_ORIENTATION_HORIZONTAL, -1);
  gtk_style_context_get_padding (gtk_widget_get_style_context (GTK_WIDGET (self->rows)), &padding);
  n = measure_rows (self, width, heights);
  height = bar + padding.top;
  for (guint i = 0; i < n; i++) {
    height += heights[i] + (i > 0 ? spacing : 0);
    if (height + spacing / 2 <= ((int) i <= self->to_do_row ? most_to_do : most))
      best = height + spacing / 2;
  }
  return best > 0 ? best : most;
}

gboolean
pm_drawer_is_file (PmDrawer *self)
{
  g_return_val_if_fail (PM_IS_DRAWER (self), FALSE);
  return g_strcmp0 (gtk_stack_get_visible_child_name (self->stack), "file") == 0;
}

void
pm_drawer_focus (PmDrawer *self)
{
  g_return_if_fail (PM_IS_DRAWER (self));
  if (pm_drawer_is_file (self))
    pm_file_view_focus (self->view);
  else
    gtk_widget_child_focus (GTK_WIDGET (self->rows), GTK_DIR_TAB_FORWARD);
}

void
pm_drawer_show_fault (PmDrawer *self, const PmFault *fault)
{
  g_return_if_fail (PM_IS_DRAWER (self));
  say_fault (self, fault);
  if (fault == NULL || !show_spot (self, fault->spot))
    pm_drawer_show_file (self, self->board_path, 0);
}

PmFileView *
pm_drawer_get_file_view (PmDrawer *self)
{
  g_return_val_if_fail (PM_IS_DRAWER (self), NULL);
  return self->view;
}
