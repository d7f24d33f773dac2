/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The steps stand in a table; the popover shows one of them. It takes no grab: what a step speaks
 * of can be tried at once. */
#include "app/tour.h"

#include "app/text.h"
#include "app/widgets.h"

#define SHOWN "sw-tour"
#define WIDTH_CHARS 40

static const struct
{
  const char *page, *title, *text;
} steps[] = {
  { "photos", N_ ("The evening with the photos"),
    N_ ("Drop a folder or a stick on the window, or press Ctrl+B. Every photo is copied and read "
        "back "
        "before the window says that the card may be cleared.") },
  { "photos", N_ ("Photos become items"),
    N_ ("Each bracket is a stop: the photos of one thing. A accepts what is proposed, D goes to "
        "the "
        "next doubt, N names a new item. Ctrl+Z takes back whatever you did, also days later.") },
  { "property", N_ ("The property, building by building"),
    N_ ("Each box says what still stands in it and what waits. Choose one to see its things; "
        "choose a "
        "thing to see its sheet, where each fact says who knows it.") },
  { "property", N_ ("What is it, what is it worth, where does it go"),
    N_ ("Ctrl+D fills the window with one find after the other: a letter for each field, Enter to "
        "the "
        "next, until nothing is left to decide.") },
  { "offer", N_ ("A closing night"),
    N_ ("Offers stand in the order they close. Type a price and press Enter, or N where nobody "
        "bought; "
        "nothing is booked before you confirm it. What did not sell is decided beside its scrap "
        "floor.") },
  { "trip", N_ ("The next trip"),
    N_ ("Who collects what and what they still owe, the jobs with their tools, what pays best in "
        "the "
        "van, and the scrap run. Take it along on paper; tick it off at home.") },
  { "takings", N_ ("What it raised"),
    N_ ("Prices less fees, trip by trip, to the cent. Press a figure to see the sales behind it; "
        "Shares says who gets what.") },
  { "takings", N_ ("And from here"),
    N_ ("F1 says what the words of a page mean, Ctrl+? lists the keys. Nothing is ever sent "
        "anywhere, "
        "and nothing is decided for you.") },
};

typedef struct
{
  GtkWidget *popover, *title, *text, *count, *back, *next;
  guint at;
} Tour;

static void
show_step (Tour *tour)
{
  gboolean last = tour->at + 1 == G_N_ELEMENTS (steps);
  GtkWidget *window
      = gtk_widget_get_toplevel (gtk_popover_get_relative_to (GTK_POPOVER (tour->popover)));
  g_autofree char *count
      = g_strdup_printf (_ ("%u of %u"), tour->at + 1, (guint)G_N_ELEMENTS (steps));

  g_action_group_activate_action (G_ACTION_GROUP (window), "page",
                                  g_variant_new_string (steps[tour->at].page));
  gtk_label_set_text (GTK_LABEL (tour->title), _ (steps[tour->at].title));
  gtk_label_set_text (GTK_LABEL (tour->text), _ (steps[tour->at].text));
  gtk_label_set_text (GTK_LABEL (tour->count), count);
  gtk_widget_set_sensitive (tour->back, tour->at > 0);
  gtk_button_set_label (GTK_BUTTON (tour->next), last ? _ ("Done") : _ ("Next"));
  atk_object_set_name (gtk_widget_get_accessible (tour->popover), _ (steps[tour->at].title));
  gtk_widget_grab_focus (tour->next);
}

static void
on_next (Tour *tour)
{
  if (tour->at + 1 == G_N_ELEMENTS (steps))
    {
      gtk_popover_popdown (GTK_POPOVER (tour->popover));
      return;
    }
  tour->at++;
  show_step (tour);
}

static void
on_back (Tour *tour)
{
  tour->at -= tour->at > 0;
  show_step (tour);
}

static GtkWidget *
add_button (Tour *tour, GtkWidget *box, const char *label, GCallback clicked)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  g_signal_connect_swapped (button, "clicked", clicked, tour);
  gtk_container_add (GTK_CONTAINER (box), button);
  return button;
}

static void
leave (Tour *tour)
{
  gtk_popover_popdown (GTK_POPOVER (tour->popover));
}

void
sw_tour_begin (GtkWidget *button)
{
  Tour *tour = g_new0 (Tour, 1);
  GtkWidget *last = g_object_get_data (G_OBJECT (button), SHOWN);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  if (last != NULL)
    gtk_widget_destroy (last);
  tour->popover = gtk_popover_new (button);
  g_object_set_data_full (G_OBJECT (tour->popover), SHOWN, tour, g_free);
  g_object_set_data (G_OBJECT (button), SHOWN, tour->popover);
  gtk_popover_set_modal (GTK_POPOVER (tour->popover), FALSE);
  gtk_container_set_border_width (GTK_CONTAINER (box), 12);
  tour->title = sw_container_add_wide_line (box, "", "sw-state", WIDTH_CHARS);
  tour->text = sw_container_add_wide_line (box, "", NULL, WIDTH_CHARS);
  tour->count = sw_container_add_line (row, "", "dim-label");
  gtk_label_set_line_wrap (GTK_LABEL (tour->count), FALSE);
  gtk_widget_set_hexpand (tour->count, TRUE);
  add_button (tour, row, _ ("Leave"), G_CALLBACK (leave));
  tour->back = add_button (tour, row, _ ("Back"), G_CALLBACK (on_back));
  tour->next = add_button (tour, row, _ ("Next"), G_CALLBACK (on_next));
  gtk_container_add (GTK_CONTAINER (box), row);
  gtk_container_add (GTK_CONTAINER (tour->popover), box);
  gtk_widget_show_all (box);
  gtk_popover_popup (GTK_POPOVER (tour->popover));
  show_step (tour);
}
