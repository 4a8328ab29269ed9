/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plain GTK 4.8 does not follow the desktop's colour scheme by itself, so the Settings portal is asked here.
 *
 * High contrast is told by the theme's name only: the theme "HighContrast" has two colours, and pictures then use no
 * others.
 */
#include "config.h"
#include "pm-look.h"

#define PORTAL "org.freedesktop.portal.Desktop"
#define PORTAL_PATH "/org/freedesktop/portal/desktop"
#define PORTAL_SETTINGS "org.freedesktop.portal.Settings"
#define APPEARANCE "org.freedesktop.appearance"
#define PREFERS_DARK 1 /* values of color-scheme: 0 none, 1 dark, 2 light */

/* Kept alive by the display it belongs to. */
typedef struct {
  GtkSettings *gtk;       /* borrowed from the display */
  GSettings   *settings;  /* owned, or NULL */
  GDBusProxy  *portal;    /* owned, or NULL until the bus has answered */
  gboolean     system_dark;
} Follower;

static void
follower_free (gpointer data)
{
  Follower *follower = data;

  if (follower->settings != NULL)
    g_signal_handlers_disconnect_by_data (follower->settings, follower);
  if (follower->portal != NULL)
    g_signal_handlers_disconnect_by_data (follower->portal, follower);
  g_clear_object (&follower->settings);
  g_clear_object (&follower->portal);
  g_free (follower);
}

static gboolean
is_high_contrast (GtkSettings *settings)
{
  const char *forced = g_getenv ("GTK_THEME"); /* goes before the setting */
  g_autofree char *name = NULL;

  if (forced != NULL && *forced != '\0')
    return g_str_has_prefix (forced, "HighContrast");
  g_object_get (settings, "gtk-theme-name", &name, NULL);
  return name != NULL && g_str_has_prefix (name, "HighContrast");
}

/* In high contrast nothing is told in a quieter colour. */
static void
contrast_cb (GtkSettings *settings, GParamSpec *pspec, GtkCssProvider *provider)
{
  static const char full[] = "@define-color pm_second @theme_fg_color; @define-color pm_line @theme_fg_color;"
                             "@define-color pm_edge @theme_fg_color; @define-color pm_focus @theme_fg_color;";

  gtk_css_provider_load_from_data (provider, is_high_contrast (settings) ? full : "", -1);
}

static void
apply (Follower *follower)
{
  g_autofree char *style = follower->settings != NULL ? g_settings_get_string (follower->settings, "style") : NULL;
  gboolean dark = g_strcmp0 (style, "dark") == 0 || (g_strcmp0 (style, "light") != 0 && follower->system_dark);
  gboolean is_dark;

  g_object_get (follower->gtk, "gtk-application-prefer-dark-theme", &is_dark, NULL);
  if (dark != is_dark)
    g_object_set (follower->gtk, "gtk-application-prefer-dark-theme", dark, NULL);
}

/* The portal wraps the value in one or two variants, depending on which of its methods is asked. */
static void
take_scheme (Follower *follower, GVariant *value)
{
  g_autoptr (GVariant) inner = g_variant_ref (value);

  while (g_variant_is_of_type (inner, G_VARIANT_TYPE_VARIANT)) {
    GVariant *next = g_variant_get_variant (inner);

    g_variant_unref (inner);
    inner = next;
  }
  if (!g_variant_is_of_type (inner, G_VARIANT_TYPE_UINT32))
    return;
  follower->system_dark = g_variant_get_uint32 (inner) == PREFERS_DARK;
  apply (follower);
}

static void
portal_signal_cb (GDBusProxy *proxy, const char *sender, const char *name, GVariant *parameters, Follower *follower)
{
  const char *group, *key;
  g_autoptr (GVariant) value = NULL;

  if (g_strcmp0 (name, "SettingChanged") != 0 || !g_variant_is_of_type (parameters, G_VARIANT_TYPE ("(ssv)")))
    return;
  g_variant_get (parameters, "(&s&sv)", &group, &key, &value);
  if (g_strcmp0 (group, APPEARANCE) == 0 && g_strcmp0 (key, "color-scheme") == 0)
    take_scheme (follower, value);
}

static void
read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GdkDisplay) display = data;
  Follower *follower = g_object_get_data (G_OBJECT (display), "pm-look");
  g_autoptr (GVariant) reply = g_dbus_proxy_call_finish (G_DBUS_PROXY (source), result, NULL);
  g_autoptr (GVariant) value = NULL;

  if (reply == NULL || follower == NULL)
    return; /* no portal on this desktop: light it stays */
  g_variant_get (reply, "(v)", &value);
  take_scheme (follower, value);
}

static void
proxy_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GdkDisplay) display = data;
  Follower *follower = g_object_get_data (G_OBJECT (display), "pm-look");

  if (follower == NULL)
    return;
  follower->portal = g_dbus_proxy_new_for_bus_finish (result, NULL);
  if (follower->portal == NULL)
    return;
  g_signal_connect (follower->portal, "g-signal", G_CALLBACK (portal_signal_cb), follower);
  g_dbus_proxy_call (follower->portal, "Read", g_variant_new ("(ss)", APPEARANCE, "color-scheme"),
                     G_DBUS_CALL_FLAGS_NONE, 1000, NULL, read_cb, g_object_ref (display));
}

void
pm_look_follow (GdkDisplay *display, GSettings *settings)
{
  g_autoptr (GtkCssProvider) provider = NULL, contrast = NULL;
  Follower *follower;

  g_return_if_fail (GDK_IS_DISPLAY (display));
  if (g_object_get_data (G_OBJECT (display), "pm-look") != NULL)
    return;
  provider = gtk_css_provider_new ();
  gtk_css_provider_load_from_resource (provider, "/org/pointsman/Pointsman/pointsman.css");
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);

  follower = g_new0 (Follower, 1);
  follower->gtk = gtk_settings_get_for_display (display);
  g_set_object (&follower->settings, settings);
  g_object_get (follower->gtk, "gtk-application-prefer-dark-theme", &follower->system_dark, NULL);
  contrast = gtk_css_provider_new ();
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (contrast),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 1);
  g_signal_connect_object (follower->gtk, "notify::gtk-theme-name", G_CALLBACK (contrast_cb), contrast, 0);
  contrast_cb (follower->gtk, NULL, contrast);
  /* A text that is walked to by keyboard is read, not chosen. */
  g_object_set (follower->gtk, "gtk-label-select-on-focus", FALSE, NULL);
  g_object_set_data_full (G_OBJECT (display), "pm-look", follower, follower_free);
  if (settings != NULL)
    g_signal_connect_swapped (settings, "changed::style", G_CALLBACK (apply), follower);
  apply (follower);
  g_dbus_proxy_new_for_bus (G_BUS_TYPE_SESSION,
                            G_DBUS_PROXY_FLAGS_DO_NOT_LOAD_PROPERTIES |
                                G_DBUS_PROXY_FLAGS_DO_NOT_AUTO_START_AT_CONSTRUCTION,
                            NULL, PORTAL, PORTAL_PATH, PORTAL_SETTINGS, NULL, proxy_cb, g_object_ref (display));
}

static PmColour
colour_of (const GdkRGBA *rgba)
{
  return (PmColour){ rgba->red, rgba->green, rgba->blue };
}

/* What stands behind cards and lists. */
static GdkRGBA
ground_of (GtkWidget *widget)
{
  GdkRGBA ground = { 1, 1, 1, 1 };

  gtk_style_context_lookup_color (gtk_widget_get_style_context (widget), "theme_base_color", &ground);
  return ground;
}

gboolean
pm_look_is_high_contrast (GtkWidget *widget)
{
  return is_high_contrast (gtk_widget_get_settings (widget));
}

gboolean
pm_look_is_dark (GtkWidget *widget)
{
  GdkRGBA ground = ground_of (widget);

  return 0.2126 * ground.red + 0.7152 * ground.green + 0.0722 * ground.blue < 0.5;
}

double
pm_look_text_scale (GtkWidget *widget)
{
  int dpi = -1;

  g_object_get (gtk_widget_get_settings (widget), "gtk-xft-dpi", &dpi, NULL);
  return dpi > 0 ? dpi / 1024.0 / 96.0 : 1.0;
}

PmStyle *
pm_look_new_style (GtkWidget *widget)
{
  const PangoFontDescription *font = pango_context_get_font_description (gtk_widget_get_pango_context (widget));
  GdkRGBA ground = ground_of (widget);
  GdkRGBA ink;

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &ink);
  if (pm_look_is_high_contrast (widget))
    return pm_style_new_high_contrast (colour_of (&ink), colour_of (&ground), font, 1);
  return pm_style_new (pm_look_is_dark (widget) ? PM_SCHEME_DARK : PM_SCHEME_LIGHT, font, 1);
}

/* The toolkit hides the ring again when no key has come for some seconds, and after a click. */
static void
focus_visible_cb (GtkWindow *window, GParamSpec *pspec, gpointer data)
{
  if (!gtk_window_get_focus_visible (window))
    gtk_window_set_focus_visible (window, TRUE);
}

void
pm_look_show_focus (GtkWindow *window)
{
  g_return_if_fail (GTK_IS_WINDOW (window));
  gtk_window_set_focus_visible (window, TRUE);
  g_signal_connect (window, "notify::focus-visible", G_CALLBACK (focus_visible_cb), NULL);
}
