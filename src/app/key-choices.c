/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/key-choices.h"

#include "app/text.h"
#include "app/widgets.h"

/* What one button stands for, and its mark. */
typedef struct
{
  char *key, *word;
  guint id;
  GtkWidget *button, *mark; /* the flow's */
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
content (const SwKeyChoice *choice, GtkWidget **out_mark)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 5);
  GtkWidget *name = gtk_label_new (choice->word);

  if (choice->key != NULL)
    {
      GtkWidget *cap = gtk_label_new (choice->key);
      gtk_style_context_add_class (gtk_widget_get_style_context (cap), "sw-key");
      gtk_container_add (GTK_CONTAINER (box), cap);
    }
  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars (GTK_LABEL (name), 26);
  gtk_container_add (GTK_CONTAINER (box), name);
  *out_mark = gtk_image_new_from_icon_name ("object-select-symbolic", GTK_ICON_SIZE_MENU);
  gtk_widget_set_no_show_all (*out_mark, TRUE);
  gtk_container_add (GTK_CONTAINER (box), *out_mark);
  return box;
}

static void
add (GtkWidget *flow, Choices *self, const SwKeyChoice *choice)
{
  Shown shown
      = { g_strdup (choice->key), g_strdup (choice->word), choice->id, gtk_button_new (), NULL };
  GtkWidget *child;

  gtk_container_add (GTK_CONTAINER (shown.button), content (choice, &shown.mark));
  gtk_widget_set_can_focus (shown.button, FALSE);
  gtk_widget_set_focus_on_click (shown.button, FALSE);
  gtk_widget_set_halign (shown.button, GTK_ALIGN_START);
  gtk_style_context_add_class (gtk_widget_get_style_context (shown.button), "sw-add");
  atk_object_set_name (gtk_widget_get_accessible (shown.button), choice->word);
  gtk_container_add (GTK_CONTAINER (flow), shown.button);
  child = gtk_widget_get_parent (shown.button);
  gtk_widget_set_can_focus (child, FALSE);
  atk_object_set_role (gtk_widget_get_accessible (child), ATK_ROLE_FILLER);
  g_signal_connect (shown.button, "clicked", G_CALLBACK (on_clicked), self);
  gtk_widget_show_all (child);
  g_array_append_val (self->shown, shown);
}

static gboolean
says_the_same (const Choices *self, const SwKeyChoice *choices, guint n)
{
  if (self->shown->len != n)
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      const Shown *shown = &g_array_index (self->shown, Shown, i);

      if (shown->id != choices[i].id || g_strcmp0 (shown->key, choices[i].key) != 0
          || g_strcmp0 (shown->word, choices[i].word) != 0)
        return FALSE;
    }
  return TRUE;
}

void
sw_key_choices_show (GtkWidget *flow, const SwKeyChoice *choices, guint n, SwKeyChoiceTaken taken,
                     gpointer data)
{
  Choices *self = choices_of (flow);

  self->taken = taken;
  self->data = data;
  if (!says_the_same (self, choices, n))
    {
      sw_container_empty (flow);
      g_array_set_size (self->shown, 0);
      for (guint i = 0; i < n; i++)
        add (flow, self, &choices[i]);
    }
  for (guint i = 0; i < n; i++)
    {
      const Shown *shown = &g_array_index (self->shown, Shown, i);

      gtk_widget_set_visible (shown->mark, choices[i].is_set);
      atk_object_set_description (gtk_widget_get_accessible (shown->button),
                                  choices[i].is_set ? _ ("set") : "");
    }
}
