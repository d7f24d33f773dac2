/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Opens a form for what is done to several items. The acts are say.c's. */
#include "app/batch-bar.h"

#include "app/put-up-form.h"
#include "app/say-form.h"
#include "app/text.h"
#include "app/widgets.h"

struct _SwBatchBar
{
  GtkBox parent;
  SwStore *store;
  GArray *items;
  GtkWidget *label, *buttons, *popover;
};

G_DEFINE_TYPE (SwBatchBar, sw_batch_bar, GTK_TYPE_BOX)

static void
on_form_closed (SwBatchBar *self)
{
  if (self->popover != NULL)
    gtk_popover_popdown (GTK_POPOVER (self->popover));
}

static void
on_popover_closed (GtkPopover *popover, SwBatchBar *self)
{
  if (self->popover == GTK_WIDGET (popover))
    self->popover = NULL;
  /* not within its own signal, and the form may still wait for its act to come back */
  g_idle_add_once ((GSourceOnceFunc)gtk_widget_destroy, popover);
}

static void
on_button (GtkButton *button, SwBatchBar *self)
{
  SwSayKind kind = (SwSayKind)GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "sw-kind"));
  g_autoptr (SwSay) say = sw_say_new (kind, 0, 0);
  GtkWidget *form, *box;

  say->n_items = self->items->len;
  say->items = g_memdup2 (self->items->data, self->items->len * sizeof (gint64));
  form = sw_say_form_new (self->store, say);
  self->popover = gtk_popover_new (GTK_WIDGET (button));
  box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_container_set_border_width (GTK_CONTAINER (box), 6);
  gtk_container_add (GTK_CONTAINER (box), form);
  gtk_widget_show (box);
  gtk_container_add (GTK_CONTAINER (self->popover), box);
  g_signal_connect_swapped (form, "closed", G_CALLBACK (on_form_closed), self);
  g_signal_connect (self->popover, "closed", G_CALLBACK (on_popover_closed), self);
  gtk_popover_popup (GTK_POPOVER (self->popover));
  sw_say_form_focus (SW_SAY_FORM (form));
}

static void
on_put_up (SwBatchBar *self)
{
  sw_put_up_form_show (GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self))), self->store,
                       (const gint64 *)(gconstpointer)self->items->data, self->items->len);
}

static void
add_button (SwBatchBar *self, GtkWidget *button)
{
  GtkWidget *child;

  gtk_container_add (GTK_CONTAINER (self->buttons), button);
  child = gtk_widget_get_parent (button);
  gtk_widget_set_can_focus (child, FALSE);
  atk_object_set_role (gtk_widget_get_accessible (child), ATK_ROLE_FILLER);
}

void
sw_batch_bar_set_items (SwBatchBar *self, const GArray *items)
{
  g_autofree char *text = g_strdup_printf (_ ("%u chosen"), items->len);

  g_array_set_size (self->items, 0);
  g_array_append_vals (self->items, items->data, items->len);
  gtk_label_set_text (GTK_LABEL (self->label), text);
  gtk_widget_set_visible (GTK_WIDGET (self),
                          items->len > 1 && !sw_store_overview (self->store)->read_only);
}

static void
sw_batch_bar_dispose (GObject *object)
{
  SwBatchBar *self = SW_BATCH_BAR (object);

  g_clear_object (&self->store);
  g_clear_pointer (&self->items, g_array_unref);
  self->popover = NULL;
  G_OBJECT_CLASS (sw_batch_bar_parent_class)->dispose (object);
}

static void
sw_batch_bar_class_init (SwBatchBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_batch_bar_dispose;
}

static void
sw_batch_bar_init (SwBatchBar *self)
{
  GtkWidget *put_up;

  self->items = g_array_new (FALSE, FALSE, sizeof (gint64));
  gtk_box_set_spacing (GTK_BOX (self), 8);
  gtk_widget_set_no_show_all (GTK_WIDGET (self), TRUE);
  gtk_style_context_add_class (gtk_widget_get_style_context (GTK_WIDGET (self)), "sw-decide");
  self->label = sw_container_add_line (GTK_WIDGET (self), "", "sw-state");
  gtk_label_set_line_wrap (GTK_LABEL (self->label), FALSE);
  self->buttons = gtk_flow_box_new ();
  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (self->buttons), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (self->buttons), 8);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (self->buttons), 4);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (self->buttons), 4);
  gtk_widget_set_can_focus (self->buttons, FALSE);
  atk_object_set_name (gtk_widget_get_accessible (self->buttons), _ ("Do to all chosen"));
  atk_object_set_role (gtk_widget_get_accessible (self->buttons), ATK_ROLE_PANEL);
  for (int kind = SW_SAY_MANY_STATE; kind < SW_N_SAYS; kind++)
    {
      g_autofree char *text = g_strdup_printf ("%s…", _ (sw_say_spec ((SwSayKind)kind)->title));
      GtkWidget *button = gtk_button_new_with_label (text);
      g_object_set_data (G_OBJECT (button), "sw-kind", GINT_TO_POINTER (kind));
      g_signal_connect (button, "clicked", G_CALLBACK (on_button), self);
      add_button (self, button);
    }
  put_up = gtk_button_new_with_label (_ ("Put up…"));
  g_signal_connect_swapped (put_up, "clicked", G_CALLBACK (on_put_up), self);
  add_button (self, put_up);
  gtk_widget_show_all (self->buttons);
  gtk_box_pack_start (GTK_BOX (self), self->buttons, TRUE, TRUE, 0);
}


void
sw_batch_bar_set_store (SwBatchBar *self, SwStore *store)
{
  g_set_object (&self->store, store);
}
