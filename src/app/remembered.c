/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/remembered.h"

#define SCHEMA "org.shedwalk.Shedwalk"
#define SIZE "window-size"
#define MAXIMIZED "window-maximized"
#define TAKINGS_OPEN "takings-open"

/* Asking GSettings for a schema that is not there ends the program; run from the build folder it is
 * not. NULL then. Transfer none. */
static GSettings *
settings (void)
{
  static gsize begun;
  static GSettings *kept;

  if (g_once_init_enter (&begun))
    {
      GSettingsSchemaSource *source = g_settings_schema_source_get_default ();
      g_autoptr (GSettingsSchema) schema
          = source != NULL ? g_settings_schema_source_lookup (source, SCHEMA, TRUE) : NULL;

      if (schema != NULL)
        kept = g_settings_new_full (schema, NULL, NULL);
      g_once_init_leave (&begun, 1);
    }
  return kept;
}

/* As the window is now; a maximized one keeps the size it would go back to. */
typedef struct
{
  int width, height; /* 0: never shown */
  gboolean maximized;
} Shape;

static void
on_resized (GtkWindow *window, GdkRectangle *area, Shape *shape)
{
  shape->maximized = gtk_window_is_maximized (window);
  if (!shape->maximized)
    gtk_window_get_size (window, &shape->width, &shape->height);
}

static void
on_window_gone (GtkWindow *window, Shape *shape)
{
  g_settings_set_boolean (settings (), MAXIMIZED, shape->maximized);
  if (shape->width > 0)
    g_settings_set (settings (), SIZE, "(ii)", shape->width, shape->height);
}

static void
shape_free (gpointer shape, GClosure *closure)
{
  g_free (shape);
}

void
sw_remembered_follow (GtkWindow *window)
{
  int width, height;
  Shape *shape;

  if (settings () == NULL)
    return;
  g_settings_get (settings (), SIZE, "(ii)", &width, &height);
  if (width > 0 && height > 0)
    gtk_window_set_default_size (window, width, height);
  if (g_settings_get_boolean (settings (), MAXIMIZED))
    gtk_window_maximize (window);
  shape = g_new0 (Shape, 1);
  g_signal_connect (window, "size-allocate", G_CALLBACK (on_resized), shape);
  g_signal_connect_data (window, "destroy", G_CALLBACK (on_window_gone), shape, shape_free, 0);
}

gboolean
sw_remembered_get_takings_open (void)
{
  return settings () != NULL && g_settings_get_boolean (settings (), TAKINGS_OPEN);
}

void
sw_remembered_set_takings_open (gboolean open)
{
  if (settings () != NULL && open != sw_remembered_get_takings_open ())
    g_settings_set_boolean (settings (), TAKINGS_OPEN, open);
}
