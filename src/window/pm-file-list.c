/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of title and a second line.  A file is only glanced at for its title: whether it can be read is found out when
 * it is opened. */
#include "config.h"
#include "pm-file-list.h"
#include "pm-library.h"
#include <glib/gi18n.h>
#include <stdlib.h>

#define HEAD_BYTES 4096

struct _PmFileList {
  GtkBox      parent;
  GtkListBox *list; /* borrowed */
};

typedef struct { char *title; GString *about; gboolean in_about; } Head;

static guint activated_signal;

G_DEFINE_FINAL_TYPE (PmFileList, pm_file_list, GTK_TYPE_BOX)

static void
start_element_cb (GMarkupParseContext *context, const char *element, const char **names, const char **values,
                  gpointer data, GError **error)
{
  Head *head = data;

  for (guint i = 0; names[i] != NULL && g_str_equal (element, "board"); i++)
    if (g_str_equal (names[i], "title") && head->title == NULL)
      head->title = g_strdup (values[i]);
  head->in_about = g_str_equal (element, "about") && head->about->len == 0;
}

static void
end_element_cb (GMarkupParseContext *context, const char *element, gpointer data, GError **error)
{
  ((Head *) data)->in_about = FALSE;
}

static void
text_cb (GMarkupParseContext *context, const char *text, gsize length, gpointer data, GError **error)
{
  Head *head = data;

  if (head->in_about)
    g_string_append_len (head->about, text, (gssize) length);
}

/* Up to and with the first full stop, blanks and line ends made one blank. */
static char *
first_sentence (const char *text)
{
  g_auto (GStrv) words = g_strsplit_set (text, " \t\r\n", -1);
  g_autoptr (GString) sentence = g_string_new (NULL);

  for (guint i = 0; words[i] != NULL; i++) {
    if (*words[i] == '\0')
      continue;
    if (sentence->len > 0)
      g_string_append_c (sentence, ' ');
    g_string_append (sentence, words[i]);
    if (g_str_has_suffix (words[i], "."))
      break;
  }
  return sentence->len > 0 ? g_string_free (g_steal_pointer (&sentence), FALSE) : NULL;
}

/* Said behind the title where the about names a planted fault. */
static char *
fault_sentence (const char *about)
{
  const char *fault = strstr (about, "Fault");

  return fault != NULL ? first_sentence (fault) : NULL;
}

void
pm_file_list_read_head (const char *path, char **title, char **about)
{
  static const GMarkupParser parser = { start_element_cb, end_element_cb, text_cb, NULL, NULL };
  Head head = { NULL, g_string_new (NULL), FALSE };
  g_autoptr (GMarkupParseContext) context = g_markup_parse_context_new (&parser, G_MARKUP_DEFAULT_FLAGS, &head, NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GFileInfo) info =
      g_file_query_info (file, G_FILE_ATTRIBUTE_STANDARD_TYPE, G_FILE_QUERY_INFO_NONE, NULL, NULL);
  char text[HEAD_BYTES];
  gsize length = 0;

  if (info != NULL && g_file_info_get_file_type (info) == G_FILE_TYPE_REGULAR) {
    g_autoptr (GFileInputStream) stream = g_file_read (file, NULL, NULL);

    if (stream != NULL)
      g_input_stream_read_all (G_INPUT_STREAM (stream), text, sizeof text, &length, NULL, NULL);
  }
  g_markup_parse_context_parse (context, text, (gssize)length,
                                NULL); /* a cut or broken file gives what was read so far */
  *title = head.title;
  *about = fault_sentence (head.about->str);
  if (*about == NULL)
    *about = first_sentence (head.about->str);
  g_string_free (head.about, TRUE);
}

static int
compare_paths (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

char **
pm_file_list_examples (void)
{
  g_autofree char *folder = g_build_filename (pm_library_data_folder (), "boards", NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  g_autoptr (GPtrArray) paths = g_ptr_array_new ();
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ".board.xml"))
      g_ptr_array_add (paths, g_build_filename (folder, name, NULL));
  g_ptr_array_sort (paths, compare_paths);
  g_ptr_array_add (paths, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&paths), FALSE);
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PmFileList *self)
{
  g_autofree char *path = g_strdup (g_object_get_data (G_OBJECT (row), "path"));

  g_signal_emit (self, activated_signal, 0, path);
}

static GtkWidget *
line_label (const char *text, gboolean second)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 52);
  if (second)
    gtk_widget_add_css_class (label, "pm-second");
  return label;
}

static void
add_row (PmFileList *self, const char *path, const char *title, const char *second)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  g_autofree char *name = title == NULL ? g_path_get_basename (path) : NULL;
  const char *first = title != NULL ? title : name;
  g_autofree char *spoken = second != NULL ? g_strdup_printf ("%s. %s", first, second) : g_strdup (first);

  gtk_box_append (GTK_BOX (box), line_label (first, FALSE));
  if (second != NULL)
    gtk_box_append (GTK_BOX (box), line_label (second, TRUE));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_widget_set_tooltip_text (row, path);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_object_set_data_full (G_OBJECT (row), "path", g_strdup (path), g_free);
  gtk_list_box_append (self->list, row);
}

static void
clear (PmFileList *self)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
}

static int
newest_first (gconstpointer a, gconstpointer b)
{
  return g_date_time_compare (gtk_recent_info_get_modified ((GtkRecentInfo *)b),
                              gtk_recent_info_get_modified ((GtkRecentInfo *)a));
}

/* "~/boards" rather than "/home/somebody/boards". */
static char *
short_folder (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  const char *home = g_get_home_dir ();

  if (home != NULL && g_str_has_prefix (folder, home) &&
      (folder[strlen (home)] == '/' || folder[strlen (home)] == '\0'))
    return g_strconcat ("~", folder + strlen (home), NULL);
  return g_steal_pointer (&folder);
}

guint
pm_file_list_fill_recent (PmFileList *self, guint most)
{
  GList *items = gtk_recent_manager_get_items (gtk_recent_manager_get_default ());
  guint n = 0;

  g_return_val_if_fail (PM_IS_FILE_LIST (self), 0);
  clear (self);
  items = g_list_sort (items, newest_first);
  for (GList *item = items; item != NULL && n < most; item = item->next) {
    g_autofree char *path = NULL, *title = NULL, *about = NULL, *folder = NULL;

    if (!gtk_recent_info_has_application (item->data, PM_RECENT_APP) || !gtk_recent_info_is_local (item->data))
      continue;
    path = g_filename_from_uri (gtk_recent_info_get_uri (item->data), NULL, NULL);
    if (path == NULL || !g_file_test (path, G_FILE_TEST_IS_REGULAR))
      continue;
    pm_file_list_read_head (path, &title, &about);
    folder = short_folder (path);
    add_row (self, path, title, folder);
    n++;
  }
  g_list_free_full (items, (GDestroyNotify) gtk_recent_info_unref);
  return n;
}

guint
pm_file_list_fill_examples (PmFileList *self)
{
  g_auto (GStrv) paths = pm_file_list_examples ();
  guint n = 0;

  g_return_val_if_fail (PM_IS_FILE_LIST (self), 0);
  clear (self);
  /* Good ones first, then those with a planted fault. */
  for (guint pass = 0; pass < 2; pass++)
    for (guint i = 0; paths[i] != NULL; i++) {
      g_autofree char *title = NULL, *about = NULL;

      pm_file_list_read_head (paths[i], &title, &about);
      if ((about != NULL && g_str_has_prefix (about, "Fault")) == (pass == 1)) {
        add_row (self, paths[i], title, about);
        n++;
      }
    }
  return n;
}

gboolean
pm_file_list_focus_first (PmFileList *self)
{
  GtkListBoxRow *row;

  g_return_val_if_fail (PM_IS_FILE_LIST (self), FALSE);
  row = gtk_list_box_get_row_at_index (self->list, 0);
  return row != NULL && gtk_widget_grab_focus (GTK_WIDGET (row));
}

static void
pm_file_list_class_init (PmFileListClass *klass)
{
  activated_signal = g_signal_new ("file-activated", PM_TYPE_FILE_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
pm_file_list_init (PmFileList *self)
{
  self->list = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_list_box_set_selection_mode (self->list, GTK_SELECTION_NONE);
  gtk_widget_add_css_class (GTK_WIDGET (self->list), "pm-list");
  gtk_widget_add_css_class (GTK_WIDGET (self->list), "pm-framed");
  gtk_widget_set_hexpand (GTK_WIDGET (self->list), TRUE);
  g_signal_connect (self->list, "row-activated", G_CALLBACK (row_activated_cb), self);
  gtk_box_append (GTK_BOX (self), GTK_WIDGET (self->list));
}
