/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Goes through a table of scenes: sets each, waits until nothing is read, loaded or laid out any
 * more, and writes what the window shows. Waits for states, never for a time; a limit ends it with
 * an error if a state never comes. */
#include "app/shots.h"

#include <stdio.h>

#include "app/offer-page.h"
#include "app/photos-page.h"
#include "app/property-page.h"
#include "app/text.h"
#include "app/trip-page.h"

/* Past this many quarter frames without settling something is wrong. */
#define MOST_TICKS 6000
/* Quiet ticks in a row before the picture: late reads push others. */
#define QUIET_TICKS 12

typedef struct
{
  GApplication *app;
  SwWindow *window;
  char *dir, *folder;
  gboolean has_catalogue;
  guint scene;
  gboolean set;
  int ticks, quiet;
  int width, height; /* wanted of the whole picture; 0: as the window comes */
  gboolean fitted;
} Shots;

static int status;

static gboolean
set_start (Shots *shots)
{
  return TRUE;
}

static gboolean
set_new (Shots *shots)
{
  g_action_group_activate_action (G_ACTION_GROUP (shots->window), "new", NULL);
  return TRUE;
}

static gboolean
set_places (Shots *shots)
{
  g_action_group_activate_action (G_ACTION_GROUP (shots->window), "set-up", NULL);
  return TRUE;
}

/* A card with photos, where one is named. */
static gboolean
set_look (Shots *shots)
{
  const char *folders[] = { g_getenv ("SHEDWALK_CARD"), NULL };

  if (folders[0] != NULL)
    sw_window_look_at (shots->window, folders);
  return TRUE;
}

static gboolean
set_photos (Shots *shots)
{
  sw_window_show_page (shots->window, "photos");
  return sw_photos_page_is_settled (SW_PHOTOS_PAGE (sw_window_page (shots->window, "photos")));
}

static gboolean
set_clocks (Shots *shots)
{
  sw_photos_page_show_clocks (SW_PHOTOS_PAGE (sw_window_page (shots->window, "photos")));
  return TRUE;
}

static gboolean
set_property (Shots *shots)
{
  sw_window_show_page (shots->window, "property");
  return sw_property_page_open_first (SW_PROPERTY_PAGE (sw_window_page (shots->window, "property")),
                                      FALSE);
}

static gboolean
set_walk (Shots *shots)
{
  return sw_property_page_show_walk (SW_PROPERTY_PAGE (sw_window_page (shots->window, "property")));
}

static gboolean
set_table (Shots *shots)
{
  sw_property_page_show_table (SW_PROPERTY_PAGE (sw_window_page (shots->window, "property")), TRUE);
  return TRUE;
}

static gboolean
set_item (Shots *shots)
{
  sw_property_page_show_table (SW_PROPERTY_PAGE (sw_window_page (shots->window, "property")),
                               FALSE);

  return sw_property_page_open_first (SW_PROPERTY_PAGE (sw_window_page (shots->window, "property")),
                                      TRUE);
}

static gboolean
set_round (Shots *shots)
{
  g_action_group_activate_action (G_ACTION_GROUP (shots->window), "round", NULL);
  return TRUE;
}

static gboolean
set_panel (Shots *shots)
{
  sw_window_show_page (shots->window, "property");
  sw_window_show_panel (shots->window, TRUE);
  return TRUE;
}

static gboolean
show_offer (Shots *shots, const char *section)
{
  sw_window_show_panel (shots->window, FALSE);
  sw_window_show_page (shots->window, "offer");
  sw_offer_page_show_section (SW_OFFER_PAGE (sw_window_page (shots->window, "offer")), section);
  return TRUE;
}

static gboolean
set_night (Shots *shots)
{
  return show_offer (shots, "night");
}

static gboolean
set_running (Shots *shots)
{
  return show_offer (shots, "running");
}

static gboolean
set_unsold (Shots *shots)
{
  return show_offer (shots, "unsold");
}

static gboolean
set_sales (Shots *shots)
{
  return show_offer (shots, "sales");
}

static gboolean
set_scrap (Shots *shots)
{
  return show_offer (shots, "scrap");
}

static gboolean
set_rounds (Shots *shots)
{
  return show_offer (shots, "rounds");
}

static gboolean
set_outlets (Shots *shots)
{
  return show_offer (shots, "outlets");
}

static gboolean
set_trip (Shots *shots)
{
  sw_window_show_panel (shots->window, FALSE);
  sw_window_show_page (shots->window, "trip");
  return TRUE;
}

static gboolean
set_ticks (Shots *shots)
{
  sw_trip_page_show_ticks (SW_TRIP_PAGE (sw_window_page (shots->window, "trip")));
  return TRUE;
}

static gboolean
set_takings (Shots *shots)
{
  sw_window_show_panel (shots->window, FALSE);
  sw_window_show_page (shots->window, "takings");
  return TRUE;
}

/* At the item of the scene before; where it has no photos its sheet stays. */
static gboolean
set_closer (Shots *shots)
{
  sw_property_page_look_closer (SW_PROPERTY_PAGE (sw_window_page (shots->window, "property")));
  return TRUE;
}

static gboolean
set_closer_beside (Shots *shots)
{
  sw_closer_view_set_beside (sw_window_closer (shots->window), TRUE);
  return TRUE;
}

static gboolean
set_closer_pixels (Shots *shots)
{
  sw_closer_view_set_zoom (sw_window_closer (shots->window), 1);
  return TRUE;
}

static const struct
{
  const char *name;
  gboolean with_catalogue;
  gboolean (*set) (Shots *shots); /* FALSE: try again when more has been read */
} scenes[] = {
  { "start", FALSE, set_start },
  { "new", FALSE, set_new },
  { "photos", TRUE, set_photos },
  { "clocks", TRUE, set_clocks },
  { "property", TRUE, set_property },
  { "walk", TRUE, set_walk },
  { "table", TRUE, set_table },
  { "item", TRUE, set_item },
  { "closer", TRUE, set_closer },
  { "closer-beside", TRUE, set_closer_beside },
  { "closer-pixels", TRUE, set_closer_pixels },
  { "round", TRUE, set_round },
  { "panel", TRUE, set_panel },
  { "night", TRUE, set_night },
  { "running", TRUE, set_running },
  { "unsold", TRUE, set_unsold },
  { "sales", TRUE, set_sales },
  { "scrap", TRUE, set_scrap },
  { "rounds", TRUE, set_rounds },
  { "outlets", TRUE, set_outlets },
  { "trip", TRUE, set_trip },
  { "ticks", TRUE, set_ticks },
  { "takings", TRUE, set_takings },
  { "places", TRUE, set_places },
  { "look", TRUE, set_look },
};

static void
write_picture (Shots *shots)
{
  g_autofree char *path = g_strdup_printf ("%s/%s.png", shots->dir, scenes[shots->scene].name);
  /* what the display shows: a table's header is drawn in windows of its own and is missing from
   * gtk_widget_draw */
  GdkWindow *window = gtk_widget_get_window (GTK_WIDGET (shots->window));
  g_autoptr (GdkPixbuf) picture = gdk_pixbuf_get_from_window (
      window, 0, 0, gdk_window_get_width (window), gdk_window_get_height (window));
  g_autoptr (GError) error = NULL;

  if (picture == NULL || !gdk_pixbuf_save (picture, path, "png", &error, NULL))
    {
      g_printerr ("The picture %s could not be written%s%s.\n", path, error != NULL ? ": " : "",
                  error != NULL ? error->message : "");
      status = 1;
    }
}

static void
finish (Shots *shots)
{
  GtkWidget *window = GTK_WIDGET (shots->window);
  g_autoptr (GApplication) app = shots->app;

  g_free (shots->dir);
  g_free (shots->folder);
  g_free (shots);
  gtk_widget_destroy (window);
  g_application_quit (app);
}

/* All of them, or those named in SHEDWALK_SCENES, with commas between. */
static gboolean
is_wanted (const Shots *shots)
{
  const char *named = g_getenv ("SHEDWALK_SCENES");
  g_auto (GStrv) names = named != NULL ? g_strsplit (named, ",", -1) : NULL;

  return scenes[shots->scene].with_catalogue == shots->has_catalogue
         && (names == NULL
             || g_strv_contains ((const char *const *)names, scenes[shots->scene].name));
}

static gboolean
next_scene (Shots *shots)
{
  do
    shots->scene++;
  while (shots->scene < G_N_ELEMENTS (scenes) && !is_wanted (shots));
  shots->set = FALSE;
  shots->ticks = shots->quiet = 0;
  return shots->scene < G_N_ELEMENTS (scenes);
}

/* Asking for a size leaves the header bar out of the count, so what came is put right by the
 * difference. FALSE: not yet. */
static gboolean
fit (Shots *shots)
{
  GdkWindow *window = gtk_widget_get_window (GTK_WIDGET (shots->window));
  int width, height;

  if (shots->fitted || shots->width == 0)
    return TRUE;
  shots->fitted = TRUE;
  gtk_window_get_size (GTK_WINDOW (shots->window), &width, &height);
  gtk_window_resize (GTK_WINDOW (shots->window),
                     width + shots->width - gdk_window_get_width (window),
                     height + shots->height - gdk_window_get_height (window));
  return FALSE;
}

static gboolean
on_tick (gpointer data)
{
  Shots *shots = data;

  if (++shots->ticks > MOST_TICKS)
    {
      g_printerr ("The picture %s could not be made: the window never came to rest.\n",
                  scenes[shots->scene].name);
      status = 1;
      finish (shots);
      return G_SOURCE_REMOVE;
    }
  if (!sw_window_is_settled (shots->window))
    {
      shots->quiet = 0;
      return G_SOURCE_CONTINUE;
    }
  if (shots->has_catalogue && sw_window_store (shots->window) == NULL)
    {
      const char *problem = sw_window_get_problem (shots->window);
      g_printerr ("There are no pictures of %s: %s\n", shots->folder,
                  problem != NULL ? problem : "it could not be opened.");
      status = 1;
      finish (shots);
      return G_SOURCE_REMOVE;
    }
  if (!fit (shots))
    return G_SOURCE_CONTINUE;
  if (!shots->set)
    {
      shots->set = scenes[shots->scene].set (shots);
      shots->quiet = 0;
      gtk_widget_queue_draw (GTK_WIDGET (shots->window));
      return G_SOURCE_CONTINUE;
    }
  if (++shots->quiet < QUIET_TICKS)
    return G_SOURCE_CONTINUE;
  write_picture (shots);
  if (next_scene (shots))
    return G_SOURCE_CONTINUE;
  finish (shots);
  return G_SOURCE_REMOVE;
}

/* Without a compositor GTK draws a border to grip the window by; it is no part of the picture. */
static void
drop_frame (void)
{
  g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();

  gtk_css_provider_load_from_data (provider,
                                   "window decoration, window.solid-csd decoration { margin: 0; "
                                   "padding: 0; border: none; box-shadow: none; }",
                                   -1, NULL);
  gtk_style_context_add_provider_for_screen (
      gdk_screen_get_default (), GTK_STYLE_PROVIDER (provider), GTK_STYLE_PROVIDER_PRIORITY_USER);
}

void
sw_shots_start (GApplication *app, SwWindow *window, const char *dir, const char *folder)
{
  Shots *shots = g_new0 (Shots, 1);
  const char *size = g_getenv ("SHEDWALK_SIZE");

  if (size != NULL && sscanf (size, "%dx%d", &shots->width, &shots->height) == 2)
    gtk_window_resize (GTK_WINDOW (window), shots->width, shots->height);
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  drop_frame ();
  shots->app = g_object_ref (app);
  shots->window = window;
  shots->dir = g_strdup (dir);
  shots->folder = g_strdup (folder);
  shots->has_catalogue = folder != NULL;
  shots->scene = (guint)-1;
  next_scene (shots);
  g_timeout_add (10, on_tick, shots);
}

int
sw_shots_status (void)
{
  return status;
}
