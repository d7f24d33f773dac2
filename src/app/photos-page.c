/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page Photos in: which trip, bringing in, and the sorter of what came. Decides nothing itself.
 */
#include "app/photos-page.h"

#include "app/bring-in-bar.h"
#include "app/clocks-form.h"
#include "app/sorter.h"
#include "app/text.h"
#include "app/widgets.h"

struct _SwPhotosPage
{
  GtkBox parent;
  SwStore *store;
  gint64 trip; /* 0: none */
  gboolean filling;
  GtkWidget *stack, *trip_combo, *clocks, *bar, *sorter, *empty_title, *empty_text, *empty_trip;
};

G_DEFINE_TYPE (SwPhotosPage, sw_photos_page, GTK_TYPE_BOX)

/* ---- trips ---- */

static void
fill_trips (SwPhotosPage *self)
{
  GtkComboBoxText *combo = GTK_COMBO_BOX_TEXT (self->trip_combo);
  const GPtrArray *trips = sw_store_overview (self->store)->trips;

  self->filling = TRUE;
  gtk_combo_box_text_remove_all (combo);
  if (sw_store_trip (self->store, self->trip) == NULL)
    self->trip = 0;
  if (self->trip == 0)
    self->trip = sw_store_overview (self->store)->latest_trip;
  if (self->trip == 0 && trips->len > 0)
    self->trip = ((const SwTrip *)g_ptr_array_index (trips, trips->len - 1))->id;
  for (guint i = 0; i < trips->len; i++)
    {
      const SwTrip *trip = g_ptr_array_index (trips, i);
      g_autofree char *id = g_strdup_printf ("%" G_GINT64_FORMAT, trip->id);
      g_autofree char *text = sw_text_trip (trip);
      gtk_combo_box_text_append (combo, id, text);
      if (trip->id == self->trip)
        gtk_combo_box_set_active_id (GTK_COMBO_BOX (combo), id);
    }
  self->filling = FALSE;
}

static void
fill_empty (SwPhotosPage *self)
{
  gboolean no_trip = sw_store_overview (self->store)->trips->len == 0;

  gtk_label_set_text (GTK_LABEL (self->empty_title),
                      no_trip ? _ ("First the trip, then its photos") : _ ("Bring the photos in"));
  gtk_label_set_text (
      GTK_LABEL (self->empty_text),
      no_trip
          ? _ ("Say when you were there: photos of those days belong to that trip. Then choose the "
               "memory card, or drop its folder here.")
          : _ ("Choose the memory card, or drop its folder here. Photos are copied and never "
               "changed; "
               "the same photo is never taken twice."));
  gtk_widget_set_visible (self->empty_trip, no_trip);
}

static gboolean
shows (SwPhotosPage *self, const char *state)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->stack)), state) == 0;
}

/* The clocks stay while they are looked at, unless their trip is gone. */
static void
on_changed (SwPhotosPage *self)
{
  const SwOverview *overview = sw_store_overview (self->store);
  gboolean busy = sw_bring_in_bar_is_running (SW_BRING_IN_BAR (self->bar));

  gint64 trip = self->trip;

  fill_trips (self);
  fill_empty (self);
  if (!shows (self, "clocks") || trip != self->trip)
    gtk_stack_set_visible_child_name (GTK_STACK (self->stack),
                                      overview->n_photos > 0 || busy ? "photos" : "empty");
  sw_sorter_set_trip (SW_SORTER (self->sorter), self->trip);
}

static void
on_trip_changed (GtkComboBox *combo, SwPhotosPage *self)
{
  const char *id = gtk_combo_box_get_active_id (combo);

  if (self->filling || id == NULL)
    return;
  self->trip = g_ascii_strtoll (id, NULL, 10);
  sw_sorter_set_trip (SW_SORTER (self->sorter), self->trip);
}

/* ---- what the person does ---- */

void
sw_photos_page_show_clocks (SwPhotosPage *self)
{
  if (self->trip == 0)
    return;
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "clocks");
  sw_clocks_form_open (SW_CLOCKS_FORM (self->clocks), self->trip,
                       sw_sorter_get_photo (SW_SORTER (self->sorter)));
}

static void
on_clocks_left (SwPhotosPage *self)
{
  sw_clocks_form_close (SW_CLOCKS_FORM (self->clocks));
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "photos");
  sw_sorter_focus (SW_SORTER (self->sorter));
}

static void
on_propose (SwPhotosPage *self)
{
  sw_bring_in_bar_propose (SW_BRING_IN_BAR (self->bar), self->trip);
}

/* One key a decision, wherever on the page the focus is: nothing is typed here. */
static gboolean
on_page_key (GtkWidget *page, GdkEventKey *event, SwPhotosPage *self)
{
  return shows (self, "photos") && sw_sorter_key (SW_SORTER (self->sorter), event);
}

/* ---- bringing in ---- */

void
sw_photos_page_bring_in (SwPhotosPage *self, const char *const *folders)
{
  sw_bring_in_bar_start (SW_BRING_IN_BAR (self->bar), folders);
}

gboolean
sw_photos_page_is_bringing_in (SwPhotosPage *self)
{
  return sw_bring_in_bar_is_running (SW_BRING_IN_BAR (self->bar));
}

static void
on_running (GtkWidget *bar, gboolean running, SwPhotosPage *self)
{
  sw_sorter_set_can_propose (SW_SORTER (self->sorter), !running);
  on_changed (self);
}

/* What came in is what is looked at next, whichever trip was shown before. */
static void
on_came (GtkWidget *bar, gint64 trip, SwPhotosPage *self)
{
  self->trip = trip;
  on_changed (self);
}

/* ---- object ---- */

static void
sw_photos_page_dispose (GObject *object)
{
  SwPhotosPage *self = SW_PHOTOS_PAGE (object);

  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_clear_object (&self->store);
  G_OBJECT_CLASS (sw_photos_page_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwPhotosPage, name)
#define CALLBACK(name) gtk_widget_class_bind_template_callback (widget, name)

static void
bind_children (GtkWidgetClass *widget)
{
  BIND (stack);
  BIND (trip_combo);
  BIND (clocks);
  BIND (bar);
  BIND (sorter);
  BIND (empty_title);
  BIND (empty_text);
  BIND (empty_trip);
}

static void
sw_photos_page_class_init (SwPhotosPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_photos_page_dispose;
  g_type_ensure (SW_TYPE_BRING_IN_BAR);
  g_type_ensure (SW_TYPE_CLOCKS_FORM);
  g_type_ensure (SW_TYPE_SORTER);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/photos-page.ui");
  bind_children (widget);
  CALLBACK (on_trip_changed);
  gtk_widget_class_bind_template_callback_full (widget, "on_clocks",
                                                G_CALLBACK (sw_photos_page_show_clocks));
  CALLBACK (on_clocks_left);
  CALLBACK (on_propose);
  CALLBACK (on_running);
}

static void
sw_photos_page_init (SwPhotosPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  sw_combo_ellipsize (self->trip_combo);
  g_signal_connect (self->bar, "came", G_CALLBACK (on_came), self);
  g_signal_connect (self, "key-press-event", G_CALLBACK (on_page_key), self);
}

GtkWidget *
sw_photos_page_new (SwStore *store, SwPictures *pictures)
{
  SwPhotosPage *self = g_object_new (SW_TYPE_PHOTOS_PAGE, NULL);

  self->store = g_object_ref (store);
  sw_bring_in_bar_set_store (SW_BRING_IN_BAR (self->bar), store);
  sw_clocks_form_set_store (SW_CLOCKS_FORM (self->clocks), store, pictures);
  sw_sorter_set_store (SW_SORTER (self->sorter), store, pictures);
  g_signal_connect_object (store, "changed", G_CALLBACK (on_changed), self, G_CONNECT_SWAPPED);
  if (sw_store_overview (store) != NULL)
    on_changed (self);
  return GTK_WIDGET (self);
}

gboolean
sw_photos_page_is_settled (SwPhotosPage *self)
{
  return sw_sorter_is_settled (SW_SORTER (self->sorter))
         && sw_clocks_form_is_settled (SW_CLOCKS_FORM (self->clocks));
}
