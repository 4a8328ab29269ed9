/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Preview, printer and files draw the same PmPaper, so that none can differ from another. */
#include "config.h"
#include "pm-print-window.h"
#include "pm-export.h"
#include "pm-look.h"
#include "pm-page-setup.h"
#include "pm-paper.h"
#include "pm-save-as.h"
#include <glib/gi18n.h>
#include <math.h>

#define PREVIEW_WIDTH 480    /* pixels that an upright page takes */
#define LAY_OUT_AFTER_MS 150 /* several ticks in a row are laid out once */

struct _PmPrintWindow {
  GtkWindow        parent;
  /* template */
  GtkBox          *sets, *sheets, *pages;
  GtkDropDown     *size;
  GtkCheckButton  *colour;
  GtkSpinButton   *boards;
  GtkLabel        *count, *message;
  GtkWidget       *print, *save;
  /* owned */
  PmStudy         *study;
  GSettings       *settings;
  PmPaper         *paper;
  PmPaperOptions   options;
  char            *path;
  GtkCheckButton  *set_buttons[PM_N_SETS], *sheet_buttons[PM_N_SHEETS];   /* borrowed; NULL where it does not apply */
  gboolean         updating;
  guint            layout_id;
};

G_DEFINE_FINAL_TYPE (PmPrintWindow, pm_print_window, GTK_TYPE_WINDOW)

static void
say (PmPrintWindow *self, const char *text)
{
  gtk_label_set_text (self->message, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (self->message), text != NULL);
}

/* ---- preview */

typedef struct { PmPrintWindow *window; guint page; } Page;

static void
draw_page_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const Page *page = data;
  double w, h;

  if (page->window->paper == NULL || page->page >= pm_paper_n_pages (page->window->paper))
    return;
  pm_paper_page_size (page->window->paper, page->page, &w, &h);
  cairo_scale (cr, width / w, height / h);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  pm_paper_draw (page->window->paper, page->page, cr);
}

static void
add_page (PmPrintWindow *self, guint index)
{
  GtkWidget *area = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL),
            *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4),
            *title = gtk_label_new (pm_paper_page_title (self->paper, index));
  Page *page = g_new0 (Page, 1);
  double w, h, scale;

  page->window = self;
  page->page = index;
  pm_paper_page_size (self->paper, index, &w, &h);
  scale = PREVIEW_WIDTH / MIN (w, h);
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), (int) lround (w * scale));
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), (int) lround (h * scale));
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw_page_cb, page, g_free);
  gtk_widget_set_halign (area, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (area, "pm-sheet");
  gtk_widget_set_focusable (area, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (area), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  pm_paper_page_title (self->paper, index), -1);
  gtk_widget_add_css_class (title, "pm-second");
  gtk_box_append (GTK_BOX (box), title);
  gtk_box_append (GTK_BOX (box), area);
  gtk_box_append (self->pages, box);
}

static void
lay_out (PmPrintWindow *self)
{
  g_autofree char *text = NULL;
  GtkWidget *child;
  guint n;

  g_clear_handle_id (&self->layout_id, g_source_remove);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->pages))) != NULL)
    gtk_box_remove (self->pages, child);
  g_clear_pointer (&self->paper, pm_paper_free);
  if (self->options.sheets != 0)
    self->paper = pm_paper_new (pm_study_get_check (self->study), &self->options);
  n = self->paper != NULL ? pm_paper_n_pages (self->paper) : 0;
  for (guint i = 0; i < n; i++)
    add_page (self, i);
  text = n > 0 ? g_strdup_printf (ngettext ("%u page", "%u pages", n), n) : g_strdup (_("Nothing is ticked."));
  gtk_label_set_text (self->count, text);
  gtk_widget_set_sensitive (self->print, n > 0);
  gtk_widget_set_sensitive (self->save, n > 0);
}

static gboolean
lay_out_cb (gpointer data)
{
  PmPrintWindow *self = data;

  self->layout_id = 0;
  lay_out (self);
  return G_SOURCE_REMOVE;
}

/* ---- choices */

/* The ready choice that ticks just these, if one does; ticks that do not apply count for nothing. */
static void
show_choices (PmPrintWindow *self)
{
  guint32 can = 0;

  self->updating = TRUE;
  for (guint k = 0; k < PM_N_SHEETS; k++)
    if (self->sheet_buttons[k] != NULL) {
      can |= 1u << k;
      gtk_check_button_set_active (self->sheet_buttons[k], self->options.sheets >> k & 1);
    }
  for (guint s = 0; s < PM_N_SETS; s++)
    gtk_check_button_set_active (self->set_buttons[s],
                                 (pm_paper_set_sheets ((PmPaperSet) s) & can) == (self->options.sheets & can));
  gtk_drop_down_set_selected (self->size, self->options.size);
  gtk_check_button_set_active (self->colour, !self->options.no_colour);
  gtk_spin_button_set_value (self->boards, self->options.lists.n_boards);
  self->updating = FALSE;
}

static void
changed (PmPrintWindow *self)
{
  say (self, NULL);
  show_choices (self);
  pm_page_setup_save (self->settings, &self->options);
  g_clear_handle_id (&self->layout_id, g_source_remove);
  self->layout_id = g_timeout_add (LAY_OUT_AFTER_MS, lay_out_cb, self);
}

static void
set_toggled_cb (GtkCheckButton *button, PmPrintWindow *self)
{
  if (self->updating || !gtk_check_button_get_active (button))
    return;
  self->options.sheets =
      pm_paper_set_sheets ((PmPaperSet) GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "set")));
  changed (self);
}

static void
sheet_toggled_cb (GtkCheckButton *button, PmPrintWindow *self)
{
  guint32 bit = 1u << GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "sheet"));

  if (self->updating)
    return;
  self->options.sheets = gtk_check_button_get_active (button) ? self->options.sheets | bit
                                                              : self->options.sheets & ~bit;
  changed (self);
}

static void
option_cb (PmPrintWindow *self)
{
  if (self->updating)
    return;
  self->options.size = (PmPaperSize) gtk_drop_down_get_selected (self->size);
  self->options.no_colour = !gtk_check_button_get_active (self->colour);
  self->options.lists.n_boards = (guint) gtk_spin_button_get_value_as_int (self->boards);
  changed (self);
}

static void
fill_choices (PmPrintWindow *self)
{
  const PmCheck *check = pm_study_get_check (self->study);

  for (guint s = 0; s < PM_N_SETS; s++) {
    GtkWidget *button = gtk_check_button_new_with_label (pm_paper_set_title ((PmPaperSet) s));

    self->set_buttons[s] = GTK_CHECK_BUTTON (button);
    if (s > 0)
      gtk_check_button_set_group (GTK_CHECK_BUTTON (button), self->set_buttons[0]);
    g_object_set_data (G_OBJECT (button), "set", GUINT_TO_POINTER (s));
    g_signal_connect (button, "toggled", G_CALLBACK (set_toggled_cb), self);
    gtk_box_append (self->sets, button);
  }
  for (guint k = 0; k < PM_N_SHEETS; k++) {
    GtkWidget *button;

    if (!pm_sheet_applies (check, (PmSheetKind) k))
      continue;
    button = gtk_check_button_new_with_label (pm_sheet_title ((PmSheetKind) k));
    self->sheet_buttons[k] = GTK_CHECK_BUTTON (button);
    g_object_set_data (G_OBJECT (button), "sheet", GUINT_TO_POINTER (k));
    g_signal_connect (button, "toggled", G_CALLBACK (sheet_toggled_cb), self);
    gtk_box_append (self->sheets, button);
  }
}

/* ---- saving */

gboolean
pm_print_window_save (PmPrintWindow *self, const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  g_return_val_if_fail (PM_IS_PRINT_WINDOW (self), FALSE);
  if (self->layout_id != 0)
    lay_out (self);
  if (self->paper == NULL)
    return FALSE;
  if (!pm_export_paper (self->paper, path, pm_study_get_board (self->study)->title, &error)) {
    say (self, error->message);
    return FALSE;
  }
  text = g_strdup_printf (_("Saved: %s"), path);
  say (self, text);
  return TRUE;
}

static void
save_path_cb (const char *path, gpointer self)
{
  pm_print_window_save (self, path);
  gtk_widget_grab_focus (PM_PRINT_WINDOW (self)->save);
}

static void
save_cb (GtkButton *button, PmPrintWindow *self)
{
  pm_save_as (GTK_WINDOW (self), _("Save the sheets"), self->path, "pdf", save_path_cb, self);
}

/* ---- printing */

static void
begin_print_cb (GtkPrintOperation *operation, GtkPrintContext *context, PmPrintWindow *self)
{
  gtk_print_operation_set_n_pages (operation, (int) pm_paper_n_pages (self->paper));
}

static void
page_setup_cb (GtkPrintOperation *operation, GtkPrintContext *context, int page, GtkPageSetup *setup,
               PmPrintWindow *self)
{
  double w, h;

  pm_paper_page_size (self->paper, (guint) page, &w, &h);
  gtk_page_setup_set_orientation (setup, w > h ? GTK_PAGE_ORIENTATION_LANDSCAPE : GTK_PAGE_ORIENTATION_PORTRAIT);
}

static void
print_page_cb (GtkPrintOperation *operation, GtkPrintContext *context, int page, PmPrintWindow *self)
{
  pm_paper_draw (self->paper, (guint) page, gtk_print_context_get_cairo_context (context));
}

GtkPrintOperationResult
pm_print_window_print (PmPrintWindow *self, GtkPrintOperationAction action, const char *export_path)
{
  g_autoptr (GtkPrintOperation) operation = gtk_print_operation_new ();
  g_autoptr (GtkPageSetup) setup = gtk_page_setup_new ();
  g_autoptr (GtkPaperSize) size = NULL;
  g_autoptr (GError) error = NULL;
  GtkPrintOperationResult result;

  g_return_val_if_fail (PM_IS_PRINT_WINDOW (self), GTK_PRINT_OPERATION_RESULT_ERROR);
  if (self->layout_id != 0)
    lay_out (self);
  if (self->paper == NULL)
    return GTK_PRINT_OPERATION_RESULT_CANCEL;
  size = gtk_paper_size_new (self->options.size == PM_PAPER_LETTER ? GTK_PAPER_NAME_LETTER : GTK_PAPER_NAME_A4);
  gtk_page_setup_set_paper_size (setup, size);
  gtk_print_operation_set_default_page_setup (operation, setup);
  gtk_print_operation_set_use_full_page (operation, TRUE); /* sheets have their own margins, and are true to scale */
  gtk_print_operation_set_unit (operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_job_name (operation, pm_study_get_board (self->study)->title);
  if (export_path != NULL)
    gtk_print_operation_set_export_filename (operation, export_path);
  g_signal_connect (operation, "begin-print", G_CALLBACK (begin_print_cb), self);
  g_signal_connect (operation, "request-page-setup", G_CALLBACK (page_setup_cb), self);
  g_signal_connect (operation, "draw-page", G_CALLBACK (print_page_cb), self);
  result = gtk_print_operation_run (operation, action, GTK_WINDOW (self), &error);
  if (result == GTK_PRINT_OPERATION_RESULT_ERROR)
    say (self, error != NULL ? error->message : _("It could not be printed."));
  return result;
}

static void
print_cb (GtkButton *button, PmPrintWindow *self)
{
  pm_print_window_print (self, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, NULL);
}

/* ---- the window */

static void
pm_print_window_dispose (GObject *object)
{
  PmPrintWindow *self = PM_PRINT_WINDOW (object);

  g_clear_handle_id (&self->layout_id, g_source_remove);
  g_clear_pointer (&self->paper, pm_paper_free);
  g_clear_object (&self->study);
  g_clear_object (&self->settings);
  G_OBJECT_CLASS (pm_print_window_parent_class)->dispose (object);
}

static void
pm_print_window_finalize (GObject *object)
{
  PmPrintWindow *self = PM_PRINT_WINDOW (object);

  g_free (self->path);
  g_free (self->options.as_it_was);
  g_free (self->options.date);
  G_OBJECT_CLASS (pm_print_window_parent_class)->finalize (object);
}

static void
pm_print_window_class_init (PmPrintWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pm_print_window_dispose;
  G_OBJECT_CLASS (klass)->finalize = pm_print_window_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-print-window.ui");
  gtk_widget_class_bind_template_child (widget_class, PmPrintWindow, sets);
  gtk_widget_class_bind_template_child (widget_class, PmPrintWindow, sheets);
  gtk_widget_class_bind_template_child (widget_class, PmPrintWindow, pages);
  gtk_widget_class_bind_template_child (widget_class, PmPrintWindow, size);
  gtk_widget_class_bind_template_child (widget_class, PmPrintWindow, colour);
  gtk_widget_class_bind_template_child (widget_class, PmPrintWindow, boards);
  gtk_widget_class_bind_template_child (widget_class, PmPrintWindow, count);
  gtk_widget_class_bind_template_child (widget_class, PmPrintWindow, message);
  gtk_widget_class_bind_template_child (widget_class, PmPrintWindow, print);
  gtk_widget_class_bind_template_child (widget_class, PmPrintWindow, save);
  gtk_widget_class_bind_template_callback (widget_class, option_cb);
  gtk_widget_class_bind_template_callback (widget_class, save_cb);
  gtk_widget_class_bind_template_callback (widget_class, print_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
pm_print_window_init (PmPrintWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  pm_look_show_focus (GTK_WINDOW (self));
}

static void
focus_set (PmPrintWindow *self)
{
  guint chosen = 0;

  for (guint s = 0; s < PM_N_SETS; s++)
    if (gtk_check_button_get_active (self->set_buttons[s]))
      chosen = s;
  gtk_widget_grab_focus (GTK_WIDGET (self->set_buttons[chosen]));
}

GtkWidget *
pm_print_window_new (GtkWindow *parent, PmStudy *study, guint case_index, const char *stale, const char *path,
                     GSettings *settings)
{
  PmPrintWindow *self = g_object_new (PM_TYPE_PRINT_WINDOW, "transient-for", parent, "destroy-with-parent", TRUE, NULL);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();

  self->study = g_object_ref (study);
  self->settings = settings != NULL ? g_object_ref (settings) : NULL;
  self->path = g_strdup (path);
  pm_page_setup_load (settings, &self->options);
  self->options.case_index = case_index;
  self->options.as_it_was = g_strdup (stale);
  self->options.date = g_date_time_format (now, "%Y-%m-%d");
  fill_choices (self);
  show_choices (self);
  lay_out (self);
  focus_set (self);
  return GTK_WIDGET (self);
}

guint
pm_print_window_get_n_pages (PmPrintWindow *self)
{
  g_return_val_if_fail (PM_IS_PRINT_WINDOW (self), 0);
  return self->paper != NULL ? pm_paper_n_pages (self->paper) : 0;
}
