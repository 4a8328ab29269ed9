/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options that need no display are dealt with before one is asked for.
 *
 * Two hidden ones are for scripts: --picture=FILE.png writes the settled window and ends, --exit-after-first-frame ends
 * when a settled window has been drawn once; --size=WIDTHxHEIGHT gives its size, --text=200 the size of its text in
 * percent,
 * --do=win.file does that before the picture is taken.  A window opened for a script never hands its files to a program
 * that already runs.
 */
#include "config.h"
#include "pm-application.h"
#include "pm-look.h"
#include "pm-window-picture.h"
#include "pm-shortcuts.h"
#include "pm-window-resources.h"
#include "pm-window.h"
#include <glib/gi18n.h>
#include <stdio.h>

#define SETTLE_FRAMES 4

struct _PmApplication {
  GtkApplication parent;
  GSettings     *settings;     /* owned, or NULL */
  char          *picture;      /* owned, or NULL */
  char         **todo;         /* owned; actions before the picture */
  guint          n_done;
  gboolean       exit_after_first_frame;
  int            width, height, text;
  guint          frames;
  int            status;
};

G_DEFINE_FINAL_TYPE (PmApplication, pm_application, GTK_TYPE_APPLICATION)

GSettings *
pm_application_new_settings (void)
{
  GSettingsSchemaSource *usual = g_settings_schema_source_get_default ();
  g_autoptr (GSettingsSchema) schema = usual != NULL ? g_settings_schema_source_lookup (usual, PM_APP_ID, TRUE) : NULL;

  if (schema == NULL) {
    /* Run from where it was built: the compiled schema lies in data/ of the build folder. */
    g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);
    g_autofree char *folder = program != NULL ? g_path_get_dirname (program) : NULL;
    g_autofree char *data = folder != NULL ? g_build_filename (folder, "..", "..", "data", NULL) : NULL;
    g_autoptr (GSettingsSchemaSource) built =
        data != NULL ? g_settings_schema_source_new_from_directory (data, usual, FALSE, NULL) : NULL;

    schema = built != NULL ? g_settings_schema_source_lookup (built, PM_APP_ID, TRUE) : NULL;
  }
  return schema != NULL ? g_settings_new_full (schema, NULL, NULL) : NULL;
}

static void
end (PmApplication *self, int status)
{
  self->status = status;
  g_application_quit (G_APPLICATION (self));
}

static gboolean
tick_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  PmApplication *self = data;
  g_autoptr (GError) error = NULL;

  self->frames = pm_window_is_settled (PM_WINDOW (widget)) ? self->frames + 1 : 0;
  if (self->frames < (self->picture != NULL ? SETTLE_FRAMES : 2)) {
    if (self->frames > 0)
      gtk_widget_queue_draw (widget);
    return G_SOURCE_CONTINUE;
  }
  if (self->todo != NULL && self->todo[self->n_done] != NULL) {
    g_autofree char *name = NULL;
    g_autoptr (GVariant) target = NULL;

    if (g_action_parse_detailed_name (self->todo[self->n_done++], &name, &target, NULL))
      gtk_widget_activate_action_variant (widget, name, target);
    self->frames = 0;
    return G_SOURCE_CONTINUE;
  }
  if (self->picture != NULL && !pm_window_picture_save (widget, self->picture, &error)) {
    g_printerr ("pointsman: %s\n", error->message);
    end (self, 1);
  } else {
    end (self, 0);
  }
  return G_SOURCE_REMOVE;
}

static PmWindow *
new_window (PmApplication *self)
{
  GtkWidget *window = pm_window_new (GTK_APPLICATION (self), self->settings, self->width, self->height);

  if (self->picture != NULL || self->exit_after_first_frame)
    gtk_widget_add_tick_callback (window, tick_cb, self, NULL);
  return PM_WINDOW (window);
}

static void
pm_application_activate (GApplication *application)
{
  PmApplication *self = PM_APPLICATION (application);
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (self));

  gtk_window_present (window != NULL ? window : GTK_WINDOW (new_window (self)));
}

/* Each file has a window; one that shows no board yet is taken first. */
static void
pm_application_open (GApplication *application, GFile **files, int n_files, const char *hint)
{
  PmApplication *self = PM_APPLICATION (application);

  for (int i = 0; i < n_files; i++) {
    GtkWindow *active = gtk_application_get_active_window (GTK_APPLICATION (self));
    PmWindow *window =
        PM_IS_WINDOW (active) && !pm_window_has_board (PM_WINDOW (active)) ? PM_WINDOW (active) : new_window (self);
    g_autofree char *path = g_file_get_path (files[i]);

    if (path != NULL)
      pm_window_open (window, path);
    pm_window_present_ready (window);
  }
}

static void
quit_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  GList *windows = g_list_copy (gtk_application_get_windows (data));

  for (GList *item = windows; item != NULL; item = item->next)
    gtk_window_close (item->data);
  g_list_free (windows);
}

static void
about_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  gtk_show_about_dialog (gtk_application_get_active_window (data), "program-name", _("Pointsman"), "version",
                         PM_VERSION, "logo-icon-name", PM_APP_ID, "comments",
                         _("Checks a drive-select board before you solder it."), "license-type", GTK_LICENSE_GPL_3_0,
                         NULL);
}

static void
pm_application_startup (GApplication *application)
{
  PmApplication *self = PM_APPLICATION (application);
  static const GActionEntry entries[] = { { "quit", quit_cb }, { "about", about_cb } };
  GdkDisplay *display;

  pm_window_register_resource ();
  G_APPLICATION_CLASS (pm_application_parent_class)->startup (application);
  display = gdk_display_get_default ();
  self->settings = pm_application_new_settings ();
  if (display != NULL) {
    gtk_icon_theme_add_resource_path (gtk_icon_theme_get_for_display (display), "/org/pointsman/Pointsman/icons");
    pm_look_follow (display, self->settings);
    if (self->text > 0)
      g_object_set (gtk_settings_get_for_display (display), "gtk-xft-dpi", 96 * 1024 * self->text / 100, NULL);
  }
  g_action_map_add_action_entries (G_ACTION_MAP (self), entries, G_N_ELEMENTS (entries), self);
  if (self->settings != NULL) {
    g_autoptr (GAction) style = g_settings_create_action (self->settings, "style");

    g_action_map_add_action (G_ACTION_MAP (self), style);
  }
  pm_shortcuts_install (GTK_APPLICATION (self));
}

static int
pm_application_handle_local_options (GApplication *application, GVariantDict *options)
{
  PmApplication *self = PM_APPLICATION (application);
  const char *size;

  if (g_variant_dict_contains (options, "version")) {
    printf ("pointsman %s\n", PM_VERSION);
    return 0;
  }
  g_variant_dict_lookup (options, "picture", "^ay", &self->picture);
  g_variant_dict_lookup (options, "exit-after-first-frame", "b", &self->exit_after_first_frame);
  if (g_variant_dict_lookup (options, "size", "&s", &size) &&
      sscanf (size, "%dx%d", &self->width, &self->height) != 2) {
    g_printerr (_("pointsman: --size takes WIDTHxHEIGHT, as 1280x800\n"));
    return 2;
  }
  g_variant_dict_lookup (options, "text", "i", &self->text);
  g_variant_dict_lookup (options, "do", "^as", &self->todo);
  if (self->picture != NULL || self->exit_after_first_frame)
    g_application_set_flags (application, g_application_get_flags (application) | G_APPLICATION_NON_UNIQUE);
  return -1;
}

static void
pm_application_finalize (GObject *object)
{
  PmApplication *self = PM_APPLICATION (object);

  g_clear_object (&self->settings);
  g_free (self->picture);
  g_strfreev (self->todo);
  G_OBJECT_CLASS (pm_application_parent_class)->finalize (object);
}

static void
pm_application_class_init (PmApplicationClass *klass)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = pm_application_finalize;
  application_class->activate = pm_application_activate;
  application_class->open = pm_application_open;
  application_class->startup = pm_application_startup;
  application_class->handle_local_options = pm_application_handle_local_options;
}

static void
pm_application_init (PmApplication *self)
{
  const GOptionEntry entries[] = {
    { "version", 0, 0, G_OPTION_ARG_NONE, NULL, N_("Print the version and end"), NULL },
    { "picture", 0, G_OPTION_FLAG_HIDDEN, G_OPTION_ARG_FILENAME, NULL, NULL, NULL },
    { "size", 0, G_OPTION_FLAG_HIDDEN, G_OPTION_ARG_STRING, NULL, NULL, NULL },
    { "text", 0, G_OPTION_FLAG_HIDDEN, G_OPTION_ARG_INT, NULL, NULL, NULL },
    { "do", 0, G_OPTION_FLAG_HIDDEN, G_OPTION_ARG_STRING_ARRAY, NULL, NULL, NULL },
    { "exit-after-first-frame", 0, G_OPTION_FLAG_HIDDEN, G_OPTION_ARG_NONE, NULL, NULL, NULL },
    { NULL },
  };

  g_application_add_main_option_entries (G_APPLICATION (self), entries);
  g_application_set_option_context_parameter_string (G_APPLICATION (self), _("[BOARD.board.xml…]"));
  g_application_set_option_context_summary (G_APPLICATION (self),
                                            _("Checks a drive-select board before you solder it."));
}

int
pm_application_run (PmApplication *self, int argc, char **argv)
{
  int status;

  g_return_val_if_fail (PM_IS_APPLICATION (self), 1);
  status = g_application_run (G_APPLICATION (self), argc, argv);
  return status != 0 ? status : self->status;
}

PmApplication *
pm_application_new (void)
{
  return g_object_new (PM_TYPE_APPLICATION, "application-id", PM_APP_ID, "flags", G_APPLICATION_HANDLES_OPEN, NULL);
}
