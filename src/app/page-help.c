/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/page-help.h"

#include "app/text.h"
#include "app/widgets.h"

#define SHOWN "sw-page-help"
#define MOST_WORDS 8
#define WIDTH_CHARS 44
#define MOST_HEIGHT 460 /* of what a window of 640x720 shows below its header; the rest scrolls */

typedef struct
{
  const char *word, *means;
} Line;

static const struct
{
  const char *page, *title;
  Line lines[MOST_WORDS];
} pages[] = {
  { "photos",
    N_ ("Photos in: what it means"),
    { { N_ ("Stop"),
        N_ ("The photos of one thing, taken between two walks. Each stop becomes an item.") },
      { N_ ("Sure, doubtful, unknown"),
        N_ ("How likely the proposal is right. Under each stop a line says why.") },
      { N_ ("Accept (A)"),
        N_ ("What is proposed holds. Nothing counts before you accept it, and what you decided is "
            "never changed by the program.") },
      { N_ ("Clocks"),
        N_ ("A camera whose clock is wrong is put right for a whole trip at once.") },
      { N_ ("The memory card may be cleared"),
        N_ ("Said only when every photo is in the catalogue and was read back.") } } },
  { "property",
    N_ ("Property: what it means"),
    { { N_ ("Plan"), N_ ("A box for each building. The bar shows how much of it has gone.") },
      { N_ ("Item"), N_ ("One thing, or a count of like things, that needs a decision.") },
      { N_ ("State"),
        N_ ("Where it is on its way: Found, Ready, On offer, Sold, Handed over. A symbol and a "
            "word.") },
      { N_ ("Ready"), N_ ("It has a name, a place, a count and a price, and no open claim.") },
      { N_ ("Floor"),
        N_ ("What it would bring as scrap after cartage: the least that makes sense.") },
      { N_ ("Decide"),
        N_ ("Goes through the finds one by one, photos large, one key a field.") } } },
  { "offer",
    N_ ("On offer: what it means"),
    { { N_ ("Outlet"),
        N_ ("Where things are sold or go: auction, priced ad, shop floor, dealer, scrap yard, "
            "gift. With its fees.") },
      { N_ ("Closing night"), N_ ("Type each price as it comes and press Enter; N where nobody "
                                  "bought. Only Confirm books "
                                  "it.") },
      { N_ ("No sale"),
        N_ ("An offer that ended without a buyer. Under Unsold its outlook stands beside its scrap "
            "floor; you decide.") },
      { N_ ("Hold"), N_ ("Kept back for somebody until a day. A hold goes before an offer.") },
      { N_ ("Round"), N_ ("Offers put up together, so that rounds can be compared.") } } },
  { "trip",
    N_ ("Next trip: what it means"),
    { { N_ ("Hand-over"),
        N_ ("Goods that are sold and wait to be fetched. Paid and collected are two facts.") },
      { N_ ("Load"),
        N_ ("What pays best in the van, by mass and floor. M: it must go; N: not this time.") },
      { N_ ("Walk"),
        N_ ("The order of the places. A shorter one is shown, never taken by itself.") },
      { N_ ("Tick off"), N_ ("Back home: say line by line what became of it.") },
      { N_ ("Last day"),
        N_ ("When the property is handed over. What must be decided by when is counted back from "
            "it.") } } },
  { "takings",
    N_ ("Takings: what it means"),
    { { N_ ("Proceeds"), N_ ("Prices, with the delivery money that buyers paid.") },
      { N_ ("Takings"), N_ ("Proceeds less the fees of the outlets.") },
      { N_ ("Trip costs"), N_ ("Shown beside the takings, never taken off them.") },
      { N_ ("Owed"), N_ ("What buyers still have to pay. It is part of the proceeds.") },
      { N_ ("Credit to the trip that"),
        N_ ("Found it, sold it or handed it over: three views of the same money, with the same "
            "total.") },
      { N_ ("Shares"),
        N_ ("Who gets which part, after costs, advances and things taken at a value.") } } },
};

static GtkWidget *
make_lines (const Line *lines)
{
  GtkWidget *scrolled = gtk_scrolled_window_new (NULL, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  for (int i = 0; i < MOST_WORDS && lines[i].word != NULL; i++)
    {
      sw_container_add_wide_line (box, _ (lines[i].word), "sw-state", WIDTH_CHARS);
      sw_container_add_wide_line (box, _ (lines[i].means), NULL, WIDTH_CHARS);
    }
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scrolled), MOST_HEIGHT);
  gtk_container_add (GTK_CONTAINER (scrolled), box);
  return scrolled;
}

void
sw_page_help_show (GtkWidget *button, const char *page)
{
  GtkWidget *popover = gtk_popover_new (button);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *keys = gtk_button_new_with_mnemonic (_ ("_Keyboard shortcuts"));
  GtkWidget *last = g_object_get_data (G_OBJECT (button), SHOWN);
  guint at = 0;

  while (at + 1 < G_N_ELEMENTS (pages) && g_strcmp0 (pages[at].page, page) != 0)
    at++;
  gtk_container_set_border_width (GTK_CONTAINER (box), 12);
  sw_container_add_wide_line (box, _ (pages[at].title), "dim-label", WIDTH_CHARS);
  gtk_container_add (GTK_CONTAINER (box), make_lines (pages[at].lines));
  gtk_widget_set_halign (keys, GTK_ALIGN_START);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (keys), "win.shortcuts");
  g_signal_connect_swapped (keys, "clicked", G_CALLBACK (gtk_popover_popdown), popover);
  gtk_container_add (GTK_CONTAINER (box), keys);
  gtk_container_add (GTK_CONTAINER (popover), box);
  atk_object_set_name (gtk_widget_get_accessible (popover), _ (pages[at].title));
  gtk_widget_show_all (box);
  /* not while it closes: its own button may be what closes it */
  if (last != NULL)
    gtk_widget_destroy (last);
  g_object_set_data (G_OBJECT (button), SHOWN, popover);
  gtk_popover_popup (GTK_POPOVER (popover));
  gtk_widget_grab_focus (keys);
}
