/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The application: one process, a window a catalogue. Reads its few arguments and hands over to the
 * window. */
#include "app/app.h"

#include <gtk/gtk.h>

#include "app/shots.h"
#include "app/theme.h"
#include "app/window.h"
#include "core/base/language.h"
#include "core/catalogue/catalogue.h"

#define APP_ID "org.shedwalk.Shedwalk"

static char *pictures_dir;

static const GOptionEntry options[] = {
  { "pictures", 0, G_OPTION_FLAG_HIDDEN, G_OPTION_ARG_FILENAME, &pictures_dir,
    "Write pictures of the window's pages into DIR and leave", "DIR" },
  { NULL },
};

static void
on_startup (GApplication *app, gpointer data)
{
  sw_theme_start ();
  gtk_window_set_default_icon_name (APP_ID);
  for (guint i = 0; i < sw_window_n_accels; i++)
    {
      const char *keys[] = { sw_window_accels[i][1], sw_window_accels[i][2], NULL };
      gtk_application_set_accels_for_action (GTK_APPLICATION (app), sw_window_accels[i][0], keys);
    }
}

static SwWindow *
add_window (GApplication *app, const char *folder)
{
  SwWindow *window = sw_window_new (GTK_APPLICATION (app));
  if (folder != NULL)
    sw_window_open (window, folder);
  else
    sw_window_start (window);
  gtk_widget_show (GTK_WIDGET (window));
  return window;
}

static void
on_activate (GApplication *app, gpointer data)
{
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (app));

  if (window == NULL)
    window = GTK_WINDOW (add_window (app, NULL));
  if (pictures_dir != NULL)
    sw_shots_start (app, SW_WINDOW (window), pictures_dir, NULL);
  else
    gtk_window_present (window);
}

/* A window that already shows the catalogue comes to the front. */
static SwWindow *
find_window (GApplication *app, const char *folder)
{
  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (app)); l != NULL; l = l->next)
    {
      SwStore *store = SW_IS_WINDOW (l->data) ? sw_window_store (l->data) : NULL;
      if (store != NULL && g_strcmp0 (sw_store_folder (store), folder) == 0)
        return l->data;
    }
  return NULL;
}

/* A catalogue is a folder; a file manager, which goes by the type of a file, hands over the records
 * inside it. NULL where the file has no path here. */
static char *
folder_of (GFile *file)
{
  g_autofree char *path = g_file_get_path (file);
  g_autofree char *name = g_file_get_basename (file);

  if (path != NULL && g_strcmp0 (name, SW_DATABASE_NAME) == 0)
    return g_path_get_dirname (path);
  return g_steal_pointer (&path);
}

static void
on_open (GApplication *app, GFile **files, int n, const char *hint, gpointer data)
{
  for (int i = 0; i < n; i++)
    {
      g_autofree char *folder = folder_of (files[i]);
      SwWindow *window = folder != NULL ? find_window (app, folder) : NULL;
      if (folder == NULL)
        continue;
      if (window == NULL)
        window = add_window (app, folder);
      gtk_window_present (GTK_WINDOW (window));
      if (pictures_dir != NULL)
        sw_shots_start (app, window, pictures_dir, folder);
    }
}

static void
quit_action (GSimpleAction *action, GVariant *parameter, gpointer app)
{
  for (GList *l = gtk_application_get_windows (app); l != NULL;
       l = gtk_application_get_windows (app))
    gtk_widget_destroy (
        l->data); /* the last one ends the program, unless a bring-in has to stop first */
}

static void
about_action (GSimpleAction *action, GVariant *parameter, gpointer app)
{
  gtk_show_about_dialog (gtk_application_get_active_window (app), "program-name", "Shedwalk",
                         "version", SHEDWALK_VERSION, "logo-icon-name", APP_ID, "license-type",
                         GTK_LICENSE_GPL_3_0, "comments",
                         _ ("Clear a property, building by building"), NULL);
}

static const GActionEntry actions[] = {
  { "quit", quit_action },
  { "about", about_action },
};

/* The same answer as the commands give to a malformed line; GApplication's own would be 1. */
#define EXIT_MALFORMED 2

static const char *
unknown_option (int argc, char **argv)
{
  for (int i = 1; i < argc && !g_str_equal (argv[i], "--"); i++)
    if (argv[i][0] == '-' && !g_str_equal (argv[i], "--pictures")
        && !g_str_equal (argv[i], "--gapplication-service")
        && !g_str_has_prefix (argv[i], "--display"))
      return argv[i];
  return NULL;
}

int
sw_app_main (int argc, char **argv)
{
  g_autoptr (GtkApplication) app = NULL;
  const char *unknown = unknown_option (argc, argv);
  int status;

  if (unknown != NULL)
    {
      g_printerr ("shedwalk: there is no option %s; see shedwalk --help.\n", unknown);
      return EXIT_MALFORMED;
    }

  g_set_prgname (APP_ID); /* window class and desktop entry agree */
  g_set_application_name ("Shedwalk");
  app = gtk_application_new (APP_ID, G_APPLICATION_HANDLES_OPEN);
  g_application_add_main_option_entries (G_APPLICATION (app), options);
  g_action_map_add_action_entries (G_ACTION_MAP (app), actions, G_N_ELEMENTS (actions), app);
  g_signal_connect (app, "startup", G_CALLBACK (on_startup), NULL);
  g_signal_connect (app, "activate", G_CALLBACK (on_activate), NULL);
  g_signal_connect (app, "open", G_CALLBACK (on_open), NULL);
  status = g_application_run (G_APPLICATION (app), argc, argv);
  g_clear_pointer (&pictures_dir, g_free);
  return status != 0 ? status : sw_shots_status ();
}
