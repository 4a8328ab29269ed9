/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A read-only source view.  The marks are words in a gutter of their own and a tooltip with the titles, so nothing
 * hangs on colour. */
#include "config.h"
#include "pm-file-view.h"
#include "pm-look.h"
#include "pm-mark.h"
#include <glib/gi18n.h>
#include <gtksourceview/gtksource.h>

#define MOST_BYTES (8 * 1024 * 1024)
#define GUTTER_PAD 6
#define FAULT 100 /* beside severities */

typedef struct { int what; guint finding; GString *tip; } LineMark;

#define PM_TYPE_MARK_GUTTER (pm_mark_gutter_get_type ())
G_DECLARE_FINAL_TYPE (PmMarkGutter, pm_mark_gutter, PM, MARK_GUTTER, GtkSourceGutterRendererText)

struct _PmMarkGutter {
  GtkSourceGutterRendererText parent;
  PmFileView                 *view; /* borrowed */
};

G_DEFINE_FINAL_TYPE (PmMarkGutter, pm_mark_gutter, GTK_SOURCE_TYPE_GUTTER_RENDERER_TEXT)

struct _PmFileView {
  GtkBox           parent;
  /* borrowed from the widget tree */
  GtkSourceView   *view;
  GtkSourceBuffer *buffer;
  GtkTextTag      *marked;
  GtkSourceGutterRendererText *gutter;
  /* owned */
  char            *path;
  char            *contents;
  GHashTable      *marks;   /* line from 1 -> LineMark */
  guint            scroll_id;
};

static guint activated_signal;

G_DEFINE_FINAL_TYPE (PmFileView, pm_file_view, GTK_TYPE_BOX)

static void
line_mark_free (gpointer data)
{
  LineMark *mark = data;

  g_string_free (mark->tip, TRUE);
  g_free (mark);
}

static const char *
word_of (const LineMark *mark)
{
  return mark->what == FAULT ? _("fault") : pm_mark_severity_word ((PmSeverity) mark->what);
}

static void
pm_mark_gutter_query_data (GtkSourceGutterRenderer *renderer, GtkSourceGutterLines *lines, guint line)
{
  PmMarkGutter *self = PM_MARK_GUTTER (renderer);
  const LineMark *mark = g_hash_table_lookup (self->view->marks, GUINT_TO_POINTER (line + 1));
  g_autofree char *markup = NULL;
  GdkRGBA ink;

  if (mark == NULL) {
    gtk_source_gutter_renderer_text_set_text (GTK_SOURCE_GUTTER_RENDERER_TEXT (renderer), "", -1);
    return;
  }
  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (self->view)), &ink);
  markup = g_markup_printf_escaped (
      mark->what == PM_SEVERITY_NOTE ? "<span foreground='#%02x%02x%02x'>%s</span>"
                                     : "<span foreground='#%02x%02x%02x'><b>%s</b></span>",
      (guint)(ink.red * 255), (guint)(ink.green * 255), (guint)(ink.blue * 255), word_of (mark));
  gtk_source_gutter_renderer_text_set_markup (GTK_SOURCE_GUTTER_RENDERER_TEXT (renderer), markup, -1);
}

static gboolean
pm_mark_gutter_query_activatable (GtkSourceGutterRenderer *renderer, GtkTextIter *iter, GdkRectangle *area)
{
  const LineMark *mark = g_hash_table_lookup (PM_MARK_GUTTER (renderer)->view->marks,
                                              GUINT_TO_POINTER (gtk_text_iter_get_line (iter) + 1));

  return mark != NULL && mark->what != FAULT;
}

static void
pm_mark_gutter_activate (GtkSourceGutterRenderer *renderer, GtkTextIter *iter, GdkRectangle *area, guint button,
                         GdkModifierType state, int n_presses)
{
  PmFileView *view = PM_MARK_GUTTER (renderer)->view;
  const LineMark *mark = g_hash_table_lookup (view->marks, GUINT_TO_POINTER (gtk_text_iter_get_line (iter) + 1));

  if (mark != NULL && mark->what != FAULT)
    g_signal_emit (view, activated_signal, 0, mark->finding);
}

static void
pm_mark_gutter_class_init (PmMarkGutterClass *klass)
{
  GtkSourceGutterRendererClass *renderer_class = GTK_SOURCE_GUTTER_RENDERER_CLASS (klass);

  renderer_class->query_data = pm_mark_gutter_query_data;
  renderer_class->query_activatable = pm_mark_gutter_query_activatable;
  renderer_class->activate = pm_mark_gutter_activate;
}

static void
pm_mark_gutter_init (PmMarkGutter *self)
{
}

static gboolean
tooltip_cb (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip, PmFileView *self)
{
  GtkTextIter iter;
  const LineMark *mark;
  int buffer_x, buffer_y;

  if (keyboard) {
    gtk_text_buffer_get_iter_at_mark (GTK_TEXT_BUFFER (self->buffer), &iter,
                                      gtk_text_buffer_get_insert (GTK_TEXT_BUFFER (self->buffer)));
  } else {
    gtk_text_view_window_to_buffer_coords (GTK_TEXT_VIEW (self->view), GTK_TEXT_WINDOW_WIDGET, x, y, &buffer_x,
                                           &buffer_y);
    gtk_text_view_get_line_at_y (GTK_TEXT_VIEW (self->view), &iter, buffer_y, NULL);
  }
  mark = g_hash_table_lookup (self->marks, GUINT_TO_POINTER (gtk_text_iter_get_line (&iter) + 1));
  if (mark == NULL)
    return FALSE;
  gtk_tooltip_set_text (tooltip, mark->tip->str);
  return TRUE;
}

/* Colours of the text and of marked lines for light, dark or high contrast. */
static void
follow_theme (PmFileView *self)
{
  gboolean dark = pm_look_is_dark (GTK_WIDGET (self));
  GtkSourceStyleSchemeManager *manager = gtk_source_style_scheme_manager_get_default ();
  GtkSourceStyleScheme *scheme =
      gtk_source_style_scheme_manager_get_scheme (manager, dark ? "Adwaita-dark" : "Adwaita");
  GdkRGBA tint = dark ? (GdkRGBA){ 1, 1, 1, 0.12f } : (GdkRGBA){ 0, 0, 0, 0.08f };

  if (pm_look_is_high_contrast (GTK_WIDGET (self)))
    gtk_source_buffer_set_highlight_syntax (self->buffer, FALSE);
  gtk_source_buffer_set_style_scheme (self->buffer, scheme);
  g_object_set (self->marked, "paragraph-background-rgba", &tint, NULL);
}

static void
pm_file_view_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (pm_file_view_parent_class)->css_changed (widget, change);
  follow_theme (PM_FILE_VIEW (widget));
}

static void
pm_file_view_finalize (GObject *object)
{
  PmFileView *self = PM_FILE_VIEW (object);

  g_clear_handle_id (&self->scroll_id, g_source_remove);
  g_free (self->path);
  g_free (self->contents);
  g_hash_table_unref (self->marks);
  G_OBJECT_CLASS (pm_file_view_parent_class)->finalize (object);
}

static void
pm_file_view_class_init (PmFileViewClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = pm_file_view_finalize;
  GTK_WIDGET_CLASS (klass)->css_changed = pm_file_view_css_changed;
  activated_signal = g_signal_new ("finding-activated", PM_TYPE_FILE_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 1, G_TYPE_UINT);
}

static void
pm_file_view_init (PmFileView *self)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();
  PmMarkGutter *gutter = g_object_new (PM_TYPE_MARK_GUTTER, "xpad", GUTTER_PAD, "xalign", 0.0, NULL);
  GtkSourceLanguage *xml;

  self->marks = g_hash_table_new_full (NULL, NULL, NULL, line_mark_free);
  self->buffer = gtk_source_buffer_new (NULL);
  xml = gtk_source_language_manager_get_language (gtk_source_language_manager_get_default (), "xml");
  gtk_source_buffer_set_language (self->buffer, xml);
  self->marked = gtk_text_buffer_create_tag (GTK_TEXT_BUFFER (self->buffer), NULL, NULL);
  self->view = GTK_SOURCE_VIEW (gtk_source_view_new_with_buffer (self->buffer));
  g_object_unref (self->buffer);
  gtk_text_view_set_editable (GTK_TEXT_VIEW (self->view), FALSE);
  gtk_text_view_set_monospace (GTK_TEXT_VIEW (self->view), TRUE);
  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (self->view), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_accepts_tab (GTK_TEXT_VIEW (self->view), FALSE);
  gtk_source_view_set_show_line_numbers (self->view, TRUE);
  gtk_source_view_set_highlight_current_line (self->view, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->view), GTK_ACCESSIBLE_PROPERTY_LABEL, _("The file"), -1);
  gutter->view = self;
  self->gutter = GTK_SOURCE_GUTTER_RENDERER_TEXT (gutter);
  gtk_source_gutter_insert (gtk_source_view_get_gutter (self->view, GTK_TEXT_WINDOW_LEFT),
                            GTK_SOURCE_GUTTER_RENDERER (gutter), 10);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self->view), TRUE);
  g_signal_connect (self->view, "query-tooltip", G_CALLBACK (tooltip_cb), self);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), GTK_WIDGET (self->view));
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_hexpand (scroller, TRUE);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_box_append (GTK_BOX (self), scroller);
}

GtkWidget *
pm_file_view_new (void)
{
  return g_object_new (PM_TYPE_FILE_VIEW, NULL);
}

gboolean
pm_spot_is_in_file (PmSpot spot, const char *path)
{
  g_autofree char *name = NULL;

  if (spot.file == NULL || path == NULL)
    return FALSE;
  if (g_str_equal (spot.file, path))
    return TRUE;
  name = g_path_get_basename (path);
  return g_str_equal (spot.file, name);
}

static void
mark_line (PmFileView *self, guint line, int what, guint finding, const char *title)
{
  LineMark *mark;

  if (line == 0)
    return;
  mark = g_hash_table_lookup (self->marks, GUINT_TO_POINTER (line));
  if (mark == NULL) {
    mark = g_new0 (LineMark, 1);
    mark->what = what;
    mark->finding = finding;
    mark->tip = g_string_new (NULL);
    g_hash_table_insert (self->marks, GUINT_TO_POINTER (line), mark);
  } else {
    g_string_append_c (mark->tip, '\n');
  }
  g_string_append_printf (mark->tip, "%s: %s", what == FAULT ? _("fault") : pm_mark_severity_word ((PmSeverity)what),
                          title);
}

static void
mark_spot (PmFileView *self, PmSpot spot, int what, guint finding, const char *title)
{
  if (!pm_spot_is_in_file (spot, self->path))
    return;
  mark_line (self, spot.line, what, finding, title);
  mark_line (self, spot.other_line, what, finding, title);
}

static void
mark_all (PmFileView *self, const PmCheck *check, const PmFaults *faults)
{
  GtkTextBuffer *buffer = GTK_TEXT_BUFFER (self->buffer);
  GtkTextIter start, end;
  GHashTableIter iter;
  gpointer line;

  g_hash_table_remove_all (self->marks);
  for (guint i = 0; faults != NULL && i < pm_faults_count (faults); i++) {
    const PmFault *fault = pm_faults_get (faults, i);

    if (fault == NULL)
      break;
    mark_spot (self, fault->spot, FAULT, 0, fault->message);
  }
  /* Findings are worst first, so the first on a line gives it its word. */
  for (guint i = 0; faults == NULL && check != NULL && i < check->n_findings; i++)
    for (guint k = 0; k < check->findings[i].n_spots; k++)
      mark_spot (self, check->findings[i].spots[k], (int) check->findings[i].severity, i, check->findings[i].title);

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  gtk_text_buffer_remove_tag (buffer, self->marked, &start, &end);
  g_hash_table_iter_init (&iter, self->marks);
  while (g_hash_table_iter_next (&iter, &line, NULL)) {
    if (!gtk_text_buffer_get_iter_at_line (buffer, &start, (int) GPOINTER_TO_UINT (line) - 1))
      continue;
    end = start;
    gtk_text_iter_forward_line (&end);
    gtk_text_buffer_apply_tag (buffer, self->marked, &start, &end);
  }
  gtk_widget_queue_draw (GTK_WIDGET (self->view));
}

/* A text renderer does not know how wide its texts will be. */
static void
size_gutter (PmFileView *self)
{
  GHashTableIter iter;
  gpointer mark;
  int widest = 0;

  g_hash_table_iter_init (&iter, self->marks);
  while (g_hash_table_iter_next (&iter, NULL, &mark)) {
    g_autofree char *markup = g_markup_printf_escaped ("<b>%s</b>", word_of (mark));
    int width;

    gtk_source_gutter_renderer_text_measure_markup (self->gutter, markup, &width, NULL);
    widest = MAX (widest, width);
  }
  gtk_widget_set_size_request (GTK_WIDGET (self->gutter), widest > 0 ? widest + 2 * GUTTER_PAD : 0, -1);
  gtk_widget_set_visible (GTK_WIDGET (self->gutter), widest > 0);
}

/* A view can hold valid text only; bytes that are none are shown as marks of replacement, so that the lines stay where
 * they are. */
static char *
read_text (const char *path)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GFileInfo) info = NULL;
  g_autofree char *bytes = NULL;
  gsize length;

  info = g_file_query_info (file, G_FILE_ATTRIBUTE_STANDARD_TYPE "," G_FILE_ATTRIBUTE_STANDARD_SIZE,
                            G_FILE_QUERY_INFO_NONE, NULL, NULL);
  if (info == NULL || g_file_info_get_file_type (info) != G_FILE_TYPE_REGULAR ||
      g_file_info_get_size (info) > MOST_BYTES)
    return g_strdup ("");
  if (!g_file_load_contents (file, NULL, &bytes, &length, NULL, NULL))
    return g_strdup ("");
  return g_utf8_make_valid (bytes, (gssize) length);
}

void
pm_file_view_show (PmFileView *self, const char *path, const PmCheck *check, const PmFaults *faults)
{
  g_autofree char *text = NULL;
  gboolean other;

  g_return_if_fail (PM_IS_FILE_VIEW (self));
  other = g_strcmp0 (path, self->path) != 0;
  if (other) {
    g_free (self->path);
    self->path = g_strdup (path);
  }
  text = read_text (path);
  if (g_strcmp0 (text, self->contents) != 0) {
    guint line = other ? 1 : pm_file_view_get_line (self);

    gtk_text_buffer_set_text (GTK_TEXT_BUFFER (self->buffer), text, -1);
    g_free (self->contents);
    self->contents = g_steal_pointer (&text);
    pm_file_view_go_to_line (self, line);
  }
  mark_all (self, check, faults);
  size_gutter (self);
}

/* A view that has not been laid out yet cannot scroll, so it is done when it is idle. */
static gboolean
scroll_cb (gpointer data)
{
  PmFileView *self = data;

  self->scroll_id = 0;
  gtk_text_view_scroll_to_mark (GTK_TEXT_VIEW (self->view), gtk_text_buffer_get_insert (GTK_TEXT_BUFFER (self->buffer)),
                                0, TRUE, 0, 0.35);
  return G_SOURCE_REMOVE;
}

void
pm_file_view_go_to_line (PmFileView *self, guint line)
{
  GtkTextIter iter;

  g_return_if_fail (PM_IS_FILE_VIEW (self));
  if (line == 0)
    return;
  gtk_text_buffer_get_iter_at_line (GTK_TEXT_BUFFER (self->buffer), &iter, (int) line - 1);
  gtk_text_buffer_place_cursor (GTK_TEXT_BUFFER (self->buffer), &iter);
  if (self->scroll_id == 0)
    self->scroll_id = g_idle_add (scroll_cb, self);
}

guint
pm_file_view_get_line (PmFileView *self)
{
  GtkTextBuffer *buffer;
  GtkTextIter iter;

  g_return_val_if_fail (PM_IS_FILE_VIEW (self), 0);
  buffer = GTK_TEXT_BUFFER (self->buffer);
  gtk_text_buffer_get_iter_at_mark (buffer, &iter, gtk_text_buffer_get_insert (buffer));
  return (guint) gtk_text_iter_get_line (&iter) + 1;
}

const char *
pm_file_view_get_mark (PmFileView *self, guint line)
{
  const LineMark *mark;

  g_return_val_if_fail (PM_IS_FILE_VIEW (self), NULL);
  mark = g_hash_table_lookup (self->marks, GUINT_TO_POINTER (line));
  return mark != NULL ? word_of (mark) : NULL;
}

char *
pm_file_view_dup_text (PmFileView *self)
{
  g_return_val_if_fail (PM_IS_FILE_VIEW (self), NULL);
  return g_strdup (self->contents);
}

void
pm_file_view_focus (PmFileView *self)
{
  g_return_if_fail (PM_IS_FILE_VIEW (self));
  gtk_widget_grab_focus (GTK_WIDGET (self->view));
}
