/* SPDX-License-Identifier: GPL-3.0-or-later */
/* GTK 3 does not follow the desktop's light or dark by itself: the settings portal is asked for
 * org.freedesktop.appearance color-scheme (XDG desktop portal documentation, Settings: 1 prefers
 * dark). */
#include "app/theme.h"

#define PORTAL "org.freedesktop.portal.Desktop"
#define PORTAL_PATH "/org/freedesktop/portal/desktop"
#define SETTINGS "org.freedesktop.portal.Settings"
#define APPEARANCE "org.freedesktop.appearance"
#define KEY "color-scheme"
#define PREFERS_DARK 1

static void
apply (GVariant *value)
{
  g_autoptr (GVariant) inner = g_variant_ref (value);

  /* Read wraps its answer in one variant more than the signal does */
  while (g_variant_is_of_type (inner, G_VARIANT_TYPE_VARIANT))
    {
      GVariant *deeper = g_variant_get_variant (inner);
      g_variant_unref (inner);
      inner = deeper;
    }
  if (!g_variant_is_of_type (inner, G_VARIANT_TYPE_UINT32))
    return;
  g_object_set (gtk_settings_get_default (), "gtk-application-prefer-dark-theme",
                g_variant_get_uint32 (inner) == PREFERS_DARK, NULL);
}

static void
on_read (GObject *bus, GAsyncResult *result, gpointer data)
{
  g_autoptr (GVariant) answer
      = g_dbus_connection_call_finish (G_DBUS_CONNECTION (bus), result, NULL);
  g_autoptr (GVariant) value = NULL;

  if (answer == NULL)
    return; /* no portal: GTK's own setting stays */
  g_variant_get (answer, "(v)", &value);
  apply (value);
}

static void
on_setting (GDBusConnection *bus, const char *sender, const char *path, const char *interface,
            const char *signal, GVariant *parameters, gpointer data)
{
  const char *space, *key;
  g_autoptr (GVariant) value = NULL;

  if (!g_variant_is_of_type (parameters, G_VARIANT_TYPE ("(ssv)")))
    return;
  g_variant_get (parameters, "(&s&sv)", &space, &key, &value);
  if (g_str_equal (space, APPEARANCE) && g_str_equal (key, KEY))
    apply (value);
}

static void
on_bus (GObject *object, GAsyncResult *result, gpointer data)
{
  GDBusConnection *bus = g_bus_get_finish (result, NULL);

  if (bus == NULL)
    return;
  g_dbus_connection_signal_subscribe (bus, PORTAL, SETTINGS, "SettingChanged", PORTAL_PATH,
                                      APPEARANCE, G_DBUS_SIGNAL_FLAGS_NONE, on_setting, NULL, NULL);
  g_dbus_connection_call (bus, PORTAL, PORTAL_PATH, SETTINGS, "Read",
                          g_variant_new ("(ss)", APPEARANCE, KEY), G_VARIANT_TYPE ("(v)"),
                          G_DBUS_CALL_FLAGS_NONE, 2000, NULL, on_read, NULL);
  g_object_unref (bus);
}

static void
load_style (void)
{
  g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();

  gtk_css_provider_load_from_resource (provider, "/org/shedwalk/Shedwalk/style.css");
  gtk_style_context_add_provider_for_screen (gdk_screen_get_default (),
                                             GTK_STYLE_PROVIDER (provider),
                                             GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
}

void
sw_theme_start (void)
{
  const char *forced = g_getenv ("SHEDWALK_THEME");

  load_style ();
  if (forced != NULL)
    g_object_set (gtk_settings_get_default (), "gtk-application-prefer-dark-theme",
                  g_str_equal (forced, "dark"), NULL);
  else
    g_bus_get (G_BUS_TYPE_SESSION, NULL, on_bus, NULL);
}
