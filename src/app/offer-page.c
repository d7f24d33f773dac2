/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sections by one table; only the one that is seen is read anew when the catalogue changes. */
#include "app/offer-page.h"

#include "app/night-view.h"
#include "app/outlets-view.h"
#include "app/rounds-view.h"
#include "app/running-view.h"
#include "app/sales-view.h"
#include "app/scrap-view.h"
#include "app/side-box.h"
#include "app/text.h"
#include "app/unsold-view.h"

typedef struct
{
  const char *name, *title;
  GtkWidget *(*make) (SwStore *store, SwPictures *pictures);
  void (*load) (GtkWidget *view);
  void (*focus) (GtkWidget *view); /* the keyboard to where the work is */
} Section;

static const Section sections[] = {
  { "night", N_ ("Closing _night"), sw_night_view_new, sw_night_view_load, sw_night_view_focus },
  { "running", N_ ("_Running"), sw_running_view_new, sw_running_view_load, sw_running_view_focus },
  { "unsold", N_ ("_Unsold"), sw_unsold_view_new, sw_unsold_view_load, sw_unsold_view_focus },
  { "sales", N_ ("S_ales"), sw_sales_view_new, sw_sales_view_load, sw_sales_view_focus },
  { "scrap", N_ ("Scra_p"), sw_scrap_view_new, sw_scrap_view_load, sw_scrap_view_focus },
  { "rounds", N_ ("Roun_ds"), sw_rounds_view_new, sw_rounds_view_load, sw_rounds_view_focus },
  { "outlets", N_ ("_Outlets"), sw_outlets_view_new, sw_outlets_view_load, sw_outlets_view_focus },
};

#define N_SECTIONS G_N_ELEMENTS (sections)
/* The first ones are the closing itself; the others fold under them where there is little room. */
#define N_CLOSING 3

struct _SwOfferPage
{
  GtkBox parent;
  SwStore *store;
  SwPictures *pictures;
  GtkWidget *closing, *around, *stack;
  GtkWidget *buttons[N_SECTIONS], *views[N_SECTIONS]; /* a view is made when it is first shown */
  guint shown;
};

G_DEFINE_TYPE (SwOfferPage, sw_offer_page, GTK_TYPE_BOX)

static void
load_shown (SwOfferPage *self)
{
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    sections[self->shown].load (self->views[self->shown]);
}

static void
show_section (SwOfferPage *self, guint i)
{
  self->shown = i;
  if (self->views[i] == NULL)
    {
      self->views[i] = sections[i].make (self->store, self->pictures);
      gtk_stack_add_named (GTK_STACK (self->stack), self->views[i], sections[i].name);
    }
  gtk_stack_set_visible_child (GTK_STACK (self->stack), self->views[i]);
  load_shown (self);
}

static void
on_toggled (GtkToggleButton *button, SwOfferPage *self)
{
  if (!gtk_toggle_button_get_active (button))
    return;
  for (guint i = 0; i < N_SECTIONS; i++)
    if (self->buttons[i] == GTK_WIDGET (button))
      {
        show_section (self, i);
        if (gtk_widget_get_mapped (GTK_WIDGET (self)))
          sections[i].focus (self->views[i]);
      }
}

static void
add_buttons (SwOfferPage *self)
{
  for (guint i = 0; i < N_SECTIONS; i++)
    {
      GtkWidget *button = gtk_radio_button_new_with_mnemonic_from_widget (
          i > 0 ? GTK_RADIO_BUTTON (self->buttons[0]) : NULL, _ (sections[i].title));
      gtk_toggle_button_set_mode (GTK_TOGGLE_BUTTON (button), FALSE);
      g_signal_connect (button, "toggled", G_CALLBACK (on_toggled), self);
      gtk_container_add (GTK_CONTAINER (i < N_CLOSING ? self->closing : self->around), button);
      gtk_widget_show (button);
      self->buttons[i] = button;
    }
}

static void
sw_offer_page_map (GtkWidget *widget)
{
  SwOfferPage *self = SW_OFFER_PAGE (widget);

  GTK_WIDGET_CLASS (sw_offer_page_parent_class)->map (widget);
  load_shown (self);
  sections[self->shown].focus (self->views[self->shown]);
}

static void
sw_offer_page_dispose (GObject *object)
{
  SwOfferPage *self = SW_OFFER_PAGE (object);

  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_clear_object (&self->store);
  g_clear_object (&self->pictures);
  G_OBJECT_CLASS (sw_offer_page_parent_class)->dispose (object);
}

static void
sw_offer_page_class_init (SwOfferPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_offer_page_dispose;
  widget->map = sw_offer_page_map;
  g_type_ensure (SW_TYPE_SIDE_BOX);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/offer-page.ui");
  gtk_widget_class_bind_template_child (widget, SwOfferPage, closing);
  gtk_widget_class_bind_template_child (widget, SwOfferPage, around);
  gtk_widget_class_bind_template_child (widget, SwOfferPage, stack);
}

static void
sw_offer_page_init (SwOfferPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  add_buttons (self);
}

GtkWidget *
sw_offer_page_new (SwStore *store, SwPictures *pictures)
{
  SwOfferPage *self = g_object_new (SW_TYPE_OFFER_PAGE, NULL);

  self->store = g_object_ref (store);
  self->pictures = g_object_ref (pictures);
  g_signal_connect_object (store, "changed", G_CALLBACK (load_shown), self, G_CONNECT_SWAPPED);
  show_section (self, 0);
  return GTK_WIDGET (self);
}

void
sw_offer_page_show_section (SwOfferPage *self, const char *name)
{
  for (guint i = 0; i < N_SECTIONS; i++)
    if (g_str_equal (sections[i].name, name))
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->buttons[i]), TRUE);
}
