/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Views beside the pages, made when they are first asked for (the first frame needs none of them),
 * and what they say back. */
#include "app/window-private.h"

#include "app/closer-view.h"
#include "app/form-acts.h"
#include "app/photos-page.h"
#include "app/property-page.h"

gboolean
sw_window_is_closer (SwWindow *self)
{
  return self->over != NULL
         && g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->over)), "closer") == 0;
}

gboolean
sw_window_is_round (SwWindow *self)
{
  return self->over != NULL
         && g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->over)), "round") == 0;
}

/* ---- what they say back ---- */

static void
on_start_open (SwStartPage *start, const char *folder, SwWindow *self)
{
  g_autofree char *kept = g_strdup (folder); /* the page is rebuilt while it opens */
  sw_window_open (self, kept);
}

static void
on_made (GtkWidget *page, const char *folder, SwWindow *self)
{
  sw_window_open (self, folder);
}

static void
on_set_up_left (SwWindow *self)
{
  sw_window_show_start (self, NULL);
}

static void
on_set_up_plan (SwWindow *self)
{
  sw_window_show_page (self, "property");
  sw_store_tell (self->store,
                 _ ("Drag each box to where it stands. Set up, in the menu, goes on from here."),
                 FALSE);
}

static void
on_set_up_photos (SwWindow *self)
{
  sw_window_bring_in_view (self);
  sw_window_show_view (self, "bring-in");
  sw_bring_in_view_choose (sw_window_bring_in_view (self), FALSE);
}

/* Photos are the last step of the set-up: it is through once the person has chosen or gone on. */
static void
end_set_up (SwWindow *self)
{
  static const SwSetUp done = { .step = SW_SET_UP_DONE };

  if (sw_store_overview (self->store)->set_up->step == SW_SET_UP_PHOTOS)
    sw_form_keep_set_up (self->store, &done);
}

static void
on_copy (GtkWidget *view, char **folders, SwWindow *self)
{
  end_set_up (self);
  sw_window_show_page (self, "photos");
  sw_photos_page_bring_in (SW_PHOTOS_PAGE (sw_window_page (self, "photos")),
                           (const char *const *)folders);
}

static void
on_bring_in_left (SwWindow *self)
{
  end_set_up (self);
  sw_window_show_page (self, "photos");
}

static void
on_round_left (SwDecideView *round, gint64 item, SwWindow *self)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->over), "pages");
  sw_window_follow_back (self);
  if (self->has_pages && item != 0)
    sw_property_page_show_item (SW_PROPERTY_PAGE (sw_window_page (self, "property")), item);
}

static void
on_closer_left (SwCloserView *closer, gint64 photo, SwWindow *self)
{
  g_autoptr (GtkWidget) from = g_weak_ref_get (&self->closer_from);
  g_autoptr (GObject) owner = g_weak_ref_get (&self->closer_owner);

  gtk_stack_set_visible_child_name (GTK_STACK (self->over), self->closer_over);
  sw_window_follow_back (self);
  if (from != NULL && gtk_widget_get_mapped (from))
    gtk_widget_grab_focus (from);
  if (owner != NULL && self->closed != NULL)
    self->closed (owner, photo);
}

/* ---- made when they are first asked for ---- */

SwSetUpPage *
sw_window_set_up_page (SwWindow *self)
{
  if (self->set_up == NULL)
    {
      self->set_up = sw_set_up_page_new ();
      gtk_widget_show (self->set_up);
      gtk_stack_add_named (GTK_STACK (self->views), self->set_up, "set-up");
      g_signal_connect (self->set_up, "made", G_CALLBACK (on_made), self);
      g_signal_connect_swapped (self->set_up, "left", G_CALLBACK (on_set_up_left), self);
      g_signal_connect_swapped (self->set_up, "plan", G_CALLBACK (on_set_up_plan), self);
      g_signal_connect_swapped (self->set_up, "photos", G_CALLBACK (on_set_up_photos), self);
      if (self->has_pages)
        sw_set_up_page_set_store (SW_SET_UP_PAGE (self->set_up), self->store);
    }
  return SW_SET_UP_PAGE (self->set_up);
}

SwBringInView *
sw_window_bring_in_view (SwWindow *self)
{
  if (self->bring_in == NULL)
    {
      self->bring_in = g_object_new (SW_TYPE_BRING_IN_VIEW, "visible", TRUE, NULL);
      gtk_stack_add_named (GTK_STACK (self->views), self->bring_in, "bring-in");
      g_signal_connect (self->bring_in, "copy", G_CALLBACK (on_copy), self);
      g_signal_connect_swapped (self->bring_in, "leave", G_CALLBACK (on_bring_in_left), self);
      if (self->has_pages)
        sw_bring_in_view_set_store (SW_BRING_IN_VIEW (self->bring_in), self->store);
    }
  return SW_BRING_IN_VIEW (self->bring_in);
}

SwCloserView *
sw_window_closer (SwWindow *self)
{
  if (self->closer == NULL)
    {
      self->closer = g_object_new (SW_TYPE_CLOSER_VIEW, "visible", TRUE, NULL);
      gtk_stack_add_named (GTK_STACK (self->over), self->closer, "closer");
      g_signal_connect (self->closer, "left", G_CALLBACK (on_closer_left), self);
      if (self->has_pages)
        sw_closer_view_set_store (SW_CLOSER_VIEW (self->closer), self->store, self->pictures);
    }
  return SW_CLOSER_VIEW (self->closer);
}

SwDecideView *
sw_window_round_view (SwWindow *self)
{
  if (self->round == NULL)
    {
      self->round = g_object_new (SW_TYPE_DECIDE_VIEW, "visible", TRUE, NULL);
      gtk_stack_add_named (GTK_STACK (self->over), self->round, "round");
      g_signal_connect (self->round, "left", G_CALLBACK (on_round_left), self);
      if (self->has_pages)
        sw_decide_view_set_store (SW_DECIDE_VIEW (self->round), self->store, self->pictures);
    }
  return SW_DECIDE_VIEW (self->round);
}

SwTakingsPanel *
sw_window_takings_panel (SwWindow *self)
{
  if (self->panel == NULL)
    {
      self->panel = g_object_new (SW_TYPE_TAKINGS_PANEL, NULL);
      gtk_container_add (GTK_CONTAINER (self->catalogue), self->panel);
      gtk_box_reorder_child (GTK_BOX (self->catalogue), self->panel, 1);
      if (self->has_pages)
        sw_takings_panel_set_store (SW_TAKINGS_PANEL (self->panel), self->store);
    }
  return SW_TAKINGS_PANEL (self->panel);
}

SwStartPage *
sw_window_start_page (SwWindow *self)
{
  if (self->start == NULL)
    {
      self->start = g_object_new (SW_TYPE_START_PAGE, "visible", TRUE, NULL);
      gtk_stack_add_named (GTK_STACK (self->views), self->start, "start");
      g_signal_connect (self->start, "open", G_CALLBACK (on_start_open), self);
    }
  return SW_START_PAGE (self->start);
}

/* Those that are there follow the catalogue: the open one, or none. */
void
sw_window_give_store (SwWindow *self)
{
  SwStore *store = self->has_pages ? self->store : NULL;

  if (self->closer != NULL)
    sw_closer_view_set_store (SW_CLOSER_VIEW (self->closer), store,
                              store != NULL ? self->pictures : NULL);
  if (self->round != NULL)
    sw_decide_view_set_store (SW_DECIDE_VIEW (self->round), store,
                              store != NULL ? self->pictures : NULL);
  if (self->panel != NULL)
    sw_takings_panel_set_store (SW_TAKINGS_PANEL (self->panel), store);
  if (self->set_up != NULL)
    sw_set_up_page_set_store (SW_SET_UP_PAGE (self->set_up), store);
  if (self->bring_in != NULL)
    sw_bring_in_view_set_store (SW_BRING_IN_VIEW (self->bring_in), store);
}

/* ---- shown ---- */

void
sw_window_show_view (SwWindow *self, const char *name)
{
  if (sw_window_is_closer (self))
    sw_closer_view_leave (sw_window_closer (self));
  if (sw_window_is_round (self))
    sw_decide_view_leave (sw_window_round_view (self));
  gtk_stack_set_visible_child_name (GTK_STACK (self->views), name);
}

void
sw_window_look_at (SwWindow *self, const char *const *folders)
{
  sw_window_bring_in_view (self);
  sw_window_show_view (self, "bring-in");
  sw_bring_in_view_look (sw_window_bring_in_view (self), folders);
}

void
sw_window_look_closer (SwWindow *self, const gint64 *photos, guint n, gint64 current,
                       GObject *owner, SwClosedCloser closed)
{
  if (n == 0 || self->store == NULL)
    return;
  if (!sw_window_is_closer (self))
    {
      g_weak_ref_set (&self->closer_from, gtk_window_get_focus (GTK_WINDOW (self)));
      self->closer_over = sw_window_is_round (self) ? "round" : "pages";
    }
  g_weak_ref_set (&self->closer_owner, owner);
  self->closed = closed;
  sw_window_closer (self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->over), "closer");
  sw_closer_view_open (sw_window_closer (self), photos, n, current);
  sw_window_follow_back (self);
}
