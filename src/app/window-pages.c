/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pages in the order of the work, as one table: made one by one, shown, gone back in. */
#include "app/window-private.h"

#include "app/offer-page.h"
#include "app/photos-page.h"
#include "app/property-page.h"
#include "app/takings-page.h"
#include "app/trip-page.h"
#include "app/widgets.h"

static GtkWidget *
make_takings (SwStore *store, SwPictures *pictures)
{
  return sw_takings_page_new (store);
}

static SwColumns *
property_columns (GtkWidget *page)
{
  return sw_property_page_columns (SW_PROPERTY_PAGE (page));
}

/* 'columns' NULL: the page never folds. */
static const struct
{
  const char *name, *title;
  GtkWidget *(*make) (SwStore *store, SwPictures *pictures);
  SwColumns *(*columns) (GtkWidget *page);
} page_table[] = {
  { "photos", N_ ("Photos in"), sw_photos_page_new, NULL },
  { "property", N_ ("Property"), sw_property_page_new, property_columns },
  { "offer", N_ ("On offer"), sw_offer_page_new, NULL },
  { "trip", N_ ("Next trip"), sw_trip_page_new, NULL },
  { "takings", N_ ("Takings"), make_takings, NULL },
};

/* The page in its holder, made where it is not there yet. */
static GtkWidget *
page_at (SwWindow *self, guint i)
{
  GtkWidget *holder = gtk_stack_get_child_by_name (GTK_STACK (self->pages), page_table[i].name);
  g_autoptr (GList) inside = gtk_container_get_children (GTK_CONTAINER (holder));
  GtkWidget *page;

  if (inside != NULL)
    return inside->data;
  page = page_table[i].make (self->store, self->pictures);
  gtk_box_pack_start (GTK_BOX (holder), page, TRUE, TRUE, 0);
  gtk_widget_show (page);
  if (page_table[i].columns != NULL)
    g_signal_connect_object (page_table[i].columns (page), "notify::can-go-back",
                             G_CALLBACK (sw_window_follow_back), self, G_CONNECT_SWAPPED);
  return page;
}

GtkWidget *
sw_window_page (SwWindow *self, const char *name)
{
  for (guint i = 0; self->has_pages && i < G_N_ELEMENTS (page_table); i++)
    if (g_str_equal (page_table[i].name, name))
      return page_at (self, i);
  return NULL;
}

SwColumns *
sw_window_page_columns (SwWindow *self)
{
  const char *shown = gtk_stack_get_visible_child_name (GTK_STACK (self->pages));

  for (guint i = 0; self->has_pages && i < G_N_ELEMENTS (page_table); i++)
    if (page_table[i].columns != NULL && g_strcmp0 (shown, page_table[i].name) == 0)
      return page_table[i].columns (sw_window_page (self, shown));
  return NULL;
}

/* ---- the way back ---- */

static gboolean
follow_back_now (gpointer data)
{
  SwWindow *self = data;
  SwColumns *columns = sw_window_page_columns (self);
  gboolean can = sw_window_is_closer (self) || sw_window_is_round (self)
                 || (columns != NULL && sw_columns_get_can_go_back (columns));

  self->back_idle = 0;
  gtk_widget_set_visible (self->back, can);
  sw_window_enable (self, "back", can);
  return G_SOURCE_REMOVE;
}

/* Columns fold while sizes are being given out; a button must not appear in the middle of that. */
void
sw_window_follow_back (SwWindow *self)
{
  if (self->back_idle == 0)
    self->back_idle = g_idle_add (follow_back_now, self);
}

/* ---- made ---- */

static gboolean
is_made (SwWindow *self, guint i)
{
  GtkWidget *holder = gtk_stack_get_child_by_name (GTK_STACK (self->pages), page_table[i].name);
  g_autoptr (GList) inside = gtk_container_get_children (GTK_CONTAINER (holder));

  return inside != NULL;
}

/* One page at a time, when there is nothing else to do. */
static gboolean
make_next_page (gpointer data)
{
  SwWindow *self = data;

  sw_window_give_menu (self);
  for (guint i = 0; i < G_N_ELEMENTS (page_table); i++)
    if (!is_made (self, i))
      {
        page_at (self, i);
        return G_SOURCE_CONTINUE;
      }
  sw_window_round_view (self); /* its many fields take longer to make than a frame lasts */
  /* its parents were measured before the titles could wrap, and GTK keeps that */
  gtk_widget_queue_resize (self->switcher);
  self->pages_idle = 0;
  return G_SOURCE_REMOVE;
}

/* Where letters are large the titles of five pages need two lines beside a browser. */
static void
wrap_title (GtkWidget *button, gpointer data)
{
  GtkWidget *label = gtk_bin_get_child (GTK_BIN (button));

  gtk_label_set_line_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_CENTER);
}

/* Holders alone: the page that is seen is made first, so that what the person waits for comes
 * before what they may look at later. */
void
sw_window_add_pages (SwWindow *self)
{
  for (guint i = 0; i < G_N_ELEMENTS (page_table); i++)
    {
      GtkWidget *holder = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
      gtk_widget_show (holder);
      gtk_stack_add_titled (GTK_STACK (self->pages), holder, page_table[i].name,
                            _ (page_table[i].title));
    }
  gtk_container_foreach (GTK_CONTAINER (self->switcher), wrap_title, NULL);
  self->has_pages = TRUE;
  gtk_widget_show (self->help);
  self->pages_idle = g_idle_add_full (G_PRIORITY_LOW, make_next_page, self, NULL);
}

/* ---- shown ---- */

/* A look at a folder that was left for another page is what "Photos in" shows. */
void
sw_window_take_up_look (SwWindow *self)
{
  if (self->bring_in == NULL || !sw_bring_in_view_has_look (sw_window_bring_in_view (self)))
    return;
  gtk_stack_set_visible_child_name (GTK_STACK (self->views), "bring-in");
  sw_bring_in_view_take_up (sw_window_bring_in_view (self));
}

void
sw_window_follow_page (SwWindow *self)
{
  const char *shown = gtk_stack_get_visible_child_name (GTK_STACK (self->pages));

  if (self->has_pages && shown != NULL)
    sw_window_page (self, shown);
  sw_window_follow_back (self);
  if (g_strcmp0 (shown, "photos") == 0
      && g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->views)), "catalogue") == 0)
    sw_window_take_up_look (self);
}

void
sw_window_show_page (SwWindow *self, const char *name)
{
  if (self->store == NULL || gtk_stack_get_child_by_name (GTK_STACK (self->pages), name) == NULL)
    return;
  sw_window_show_view (self, "catalogue");
  gtk_stack_set_visible_child_name (GTK_STACK (self->pages), name);
}
