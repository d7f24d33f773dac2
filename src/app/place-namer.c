/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The popover is made for one box and goes with it. It stays open while a name is refused. */
#include "app/place-namer.h"

#include "app/place-acts.h"
#include "app/text.h"

typedef struct
{
  SwStore *store;
  SwPlan *plan;
  gint64 parent;
  SwPlanBox box; /* geometry alone */
  GtkWidget *entry, *problem;
} Namer;

static void
namer_free (gpointer data)
{
  Namer *self = data;

  g_object_unref (self->store);
  g_clear_weak_pointer (&self->plan);
  g_free (self);
}

static void
on_tried (gpointer popover, const char *problem)
{
  Namer *self = g_object_get_data (popover, "sw-namer");

  if (problem == NULL)
    {
      gtk_popover_popdown (GTK_POPOVER (popover));
      return;
    }
  gtk_label_set_text (GTK_LABEL (self->problem), problem);
  gtk_widget_show (self->problem);
  gtk_widget_grab_focus (self->entry);
}

static void
on_activate (GtkEntry *entry, GtkWidget *popover)
{
  Namer *self = g_object_get_data (G_OBJECT (popover), "sw-namer");

  sw_place_act_draw (self->store, gtk_entry_get_text (entry), self->parent, &self->box,
                     self->plan != NULL ? sw_plan_get_box (self->plan, self->parent) : NULL,
                     G_OBJECT (popover), on_tried);
}

static gboolean
destroy_now (gpointer popover)
{
  gtk_widget_destroy (popover);
  return G_SOURCE_REMOVE;
}

static void
on_closed (GtkPopover *popover)
{
  Namer *self = g_object_get_data (G_OBJECT (popover), "sw-namer");

  if (self->plan != NULL)
    {
      sw_plan_end_sketch (self->plan);
      gtk_widget_grab_focus (GTK_WIDGET (self->plan));
    }
  g_idle_add (destroy_now, popover); /* not within its own signal */
}

static GtkWidget *
box_new (Namer *self, const SwPlace *outer)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  g_autofree char *words = outer != NULL ? g_strdup_printf (_ ("New place in %s"), outer->path)
                                         : g_strdup (_ ("New place"));
  GtkWidget *title = gtk_label_new (words);

  self->entry = gtk_entry_new ();
  self->problem = gtk_label_new (NULL);
  gtk_container_set_border_width (GTK_CONTAINER (box), 10);
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars (GTK_LABEL (title), 30);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), _ ("Its name, then Enter"));
  gtk_entry_set_width_chars (GTK_ENTRY (self->entry), 22);
  atk_object_set_name (gtk_widget_get_accessible (self->entry), words);
  gtk_label_set_line_wrap (GTK_LABEL (self->problem), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (self->problem), 30);
  gtk_label_set_xalign (GTK_LABEL (self->problem), 0);
  gtk_style_context_add_class (gtk_widget_get_style_context (self->problem), "sw-problem");
  gtk_container_add (GTK_CONTAINER (box), title);
  gtk_container_add (GTK_CONTAINER (box), self->entry);
  gtk_container_add (GTK_CONTAINER (box), self->problem);
  gtk_widget_show_all (box);
  gtk_widget_hide (self->problem);
  return box;
}

void
sw_place_namer_ask (SwPlan *plan, SwStore *store, gint64 parent, const SwPlanBox *box)
{
  Namer *self = g_new0 (Namer, 1);
  GtkWidget *popover = gtk_popover_new (GTK_WIDGET (plan));
  GdkRectangle area = { 0 };

  self->store = g_object_ref (store);
  g_set_weak_pointer (&self->plan, plan);
  self->parent = parent;
  self->box = (SwPlanBox){ .x = box->x, .y = box->y, .w = box->w, .h = box->h };
  g_object_set_data_full (G_OBJECT (popover), "sw-namer", self, namer_free);
  gtk_container_add (GTK_CONTAINER (popover), box_new (self, sw_store_place (store, parent)));
  sw_plan_get_sketch_area (plan, &area);
  gtk_popover_set_pointing_to (GTK_POPOVER (popover), &area);
  gtk_popover_set_position (GTK_POPOVER (popover), GTK_POS_BOTTOM);
  g_signal_connect (self->entry, "activate", G_CALLBACK (on_activate), popover);
  g_signal_connect (popover, "closed", G_CALLBACK (on_closed), NULL);
  gtk_popover_popup (GTK_POPOVER (popover));
  gtk_widget_grab_focus (self->entry);
}
