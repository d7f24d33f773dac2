/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/key-choices.h"

#include "app/text.h"
#include "app/widgets.h"

/* What one button stands for, and what it is made of. One that nothing is left for is hidden and
 * waits for the next: to make a button costs a good part of a millisecond, to rename it nothing. */
typedef struct
{
  char *key, *word;
  guint id;
  GtkWidget *child, *button, *cap, *name, *mark; /* the flow's */
} Shown;

/* Of one flow. */
typedef struct
{
  GArray *shown;
  SwKeyChoiceTaken taken;
  gpointer data;
} Choices;

static void
shown_clear (gpointer data)
{
  g_free (((Shown *)data)->key);
  g_free (((Shown *)data)->word);
}

static void
choices_free (gpointer data)
{
  g_array_unref (((Choices *)data)->shown);
  g_free (data);
}

static Choices *
choices_of (GtkWidget *flow)
{
  Choices *self = g_object_get_data (G_OBJECT (flow), "sw-key-choices");

  if (self != NULL)
    return self;
  self = g_new0 (Choices, 1);
  self->shown = g_array_new (FALSE, TRUE, sizeof (Shown));
  g_array_set_clear_func (self->shown, shown_clear);
  g_object_set_data_full (G_OBJECT (flow), "sw-key-choices", self, choices_free);
  return self;
}

static void
on_clicked (GtkWidget *button, Choices *self)
{
  for (guint i = 0; i < self->shown->len; i++)
    {
      const Shown *shown = &g_array_index (self->shown, Shown, i);

      if (shown->button == button)
        {
          self->taken (self->data, shown->id); /* may show others: 'shown' is not looked at again */
          return;
        }
    }
}

static GtkWidget *
content (Shown *shown)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 5);

  shown->cap = gtk_label_new (NULL);
  shown->name = gtk_label_new (NULL);
  shown->mark = gtk_image_new_from_icon_name ("object-select-symbolic", GTK_ICON_SIZE_MENU);
  gtk_style_context_add_class (gtk_widget_get_style_context (shown->cap), "sw-key");
  gtk_label_set_ellipsize (GTK_LABEL (shown->name), PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars (GTK_LABEL (shown->name), 26);
  gtk_widget_set_no_show_all (shown->cap, TRUE);
  gtk_widget_set_no_show_all (shown->mark, TRUE);
  gtk_container_add (GTK_CONTAINER (box), shown->cap);
  gtk_container_add (GTK_CONTAINER (box), shown->name);
  gtk_container_add (GTK_CONTAINER (box), shown->mark);
  return box;
}

static void
add (GtkWidget *flow, Choices *self)
{
  Shown shown = { .button = gtk_button_new () };

  gtk_container_add (GTK_CONTAINER (shown.button), content (&shown));
  gtk_widget_set_can_focus (shown.button, FALSE);
  gtk_widget_set_focus_on_click (shown.button, FALSE);
  gtk_widget_set_halign (shown.button, GTK_ALIGN_START);
  gtk_style_context_add_class (gtk_widget_get_style_context (shown.button), "sw-add");
  gtk_container_add (GTK_CONTAINER (flow), shown.button);
  shown.child = gtk_widget_get_parent (shown.button);
  gtk_widget_set_can_focus (shown.child, FALSE);
  atk_object_set_role (gtk_widget_get_accessible (shown.child), ATK_ROLE_FILLER);
  g_signal_connect (shown.button, "clicked", G_CALLBACK (on_clicked), self);
  gtk_widget_show_all (shown.button);
  g_array_append_val (self->shown, shown);
}

static void
say (Shown *shown, const SwKeyChoice *choice)
{
  shown->id = choice->id;
  gtk_widget_set_visible (shown->mark, choice->is_set);
  atk_object_set_description (gtk_widget_get_accessible (shown->button),
                              choice->is_set ? _ ("set") : "");
  gtk_widget_show (shown->child);
  if (g_strcmp0 (shown->word, choice->word) == 0 && g_strcmp0 (shown->key, choice->key) == 0)
    return;
  g_free (shown->key);
  g_free (shown->word);
  shown->key = g_strdup (choice->key);
  shown->word = g_strdup (choice->word);
  gtk_label_set_text (GTK_LABEL (shown->cap), choice->key != NULL ? choice->key : "");
  gtk_widget_set_visible (shown->cap, choice->key != NULL);
  gtk_label_set_text (GTK_LABEL (shown->name), choice->word);
  atk_object_set_name (gtk_widget_get_accessible (shown->button), choice->word);
}

void
sw_key_choices_show (GtkWidget *flow, const SwKeyChoice *choices, guint n, SwKeyChoiceTaken taken,
                     gpointer data)
{
  Choices *self = choices_of (flow);

  self->taken = taken;
  self->data = data;
  while (self->shown->len < n)
    add (flow, self);
  for (guint i = 0; i < n; i++)
    say (&g_array_index (self->shown, Shown, i), &choices[i]);
  for (guint i = n; i < self->shown->len; i++)
    gtk_widget_hide (g_array_index (self->shown, Shown, i).child);
}
