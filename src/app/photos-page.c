/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page Photos in. Shows the stored proposals of a trip and sends what the person decides; what
 * is proposed, and how sure it is, is core's business. One key a decision. */
#include "app/photos-page.h"

#include "app/bring-in-bar.h"
#include "app/clocks-form.h"
#include "app/item-acts.h"
#include "app/item-chooser.h"
#include "app/photo-view.h"
#include "app/row-list.h"
#include "app/sheet-data.h"
#include "app/stop-rows.h"
#include "app/text.h"
#include "app/widgets.h"

struct _SwPhotosPage
{
  GtkBox parent;
  SwStore *store;
  SwPictures *pictures;
  gint64 trip;      /* 0: none */
  GPtrArray *stops; /* SwStopRecord of the trip; NULL until read */
  int position;     /* the stop shown; 0: none */
  gboolean filling;
  GCancellable *cancellable;
  GtkWidget *stack, *columns, *trip_combo, *clocks, *accept_sure, *bar, *list_stack, *list;
  GtkWidget *open_only, *summary, *none_label, *propose_button, *empty_title, *empty_text,
      *empty_trip;
  GtkWidget *stop_stack, *stop_icon, *stop_word, *stop_number, *stop_title, *stop_reason, *photos,
      *caption;
  GtkWidget *accept, *give, *no_item, *take_off, *single;
  gint64 one; /* the photo shown, while a decision is about it alone */
  GtkWidget *chooser;
};

G_DEFINE_TYPE (SwPhotosPage, sw_photos_page, GTK_TYPE_BOX)

static const SwStopRecord *
find_stop (SwPhotosPage *self, gint64 position)
{
  for (guint i = 0; self->stops != NULL && i < self->stops->len; i++)
    {
      const SwStopRecord *stop = g_ptr_array_index (self->stops, i);
      if (stop->position == position)
        return stop;
    }
  return NULL;
}

/* ---- the stop at the right ---- */

/* Captions of a stop's photos, read on the catalogue thread. */
static gpointer
captions_run (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const GArray *numbers = data;
  g_auto (GStrv) captions = g_new0 (char *, numbers->len + 1);

  for (guint i = 0; i < numbers->len; i++)
    {
      g_autoptr (SwPhoto) photo
          = sw_photo_get (catalogue, g_array_index (numbers, gint64, i), error);
      if (photo == NULL)
        return NULL;
      captions[i] = sw_photo_caption (catalogue, photo);
    }
  return g_steal_pointer (&captions);
}

typedef struct
{
  SwPhotosPage *page;
  GArray *numbers;
} Captions;

static void
show_caption (SwPhotosPage *self)
{
  gtk_label_set_text (GTK_LABEL (self->caption),
                      sw_photo_view_get_caption (SW_PHOTO_VIEW (self->photos)));
}

static void
on_captions (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autofree Captions *wanted = data;
  g_autoptr (SwPhotosPage) self = wanted->page;
  g_autoptr (GArray) numbers = wanted->numbers;
  g_auto (GStrv) captions = NULL;
  const SwStopRecord *stop;

  if (self->store == NULL)
    return;
  captions = sw_store_finish (self->store, result, NULL);
  stop = find_stop (self, self->position);
  if (captions == NULL || stop == NULL || stop->photos->len != numbers->len
      || memcmp (stop->photos->data, numbers->data, numbers->len * sizeof (gint64)) != 0)
    return;
  sw_photo_view_set_photos (SW_PHOTO_VIEW (self->photos), (const gint64 *)(gpointer)numbers->data,
                            (const char *const *)captions, numbers->len);
  show_caption (self);
}

static GArray *
copy_numbers (const GArray *numbers)
{
  GArray *copy = g_array_new (FALSE, FALSE, sizeof (gint64));
  return g_array_append_vals (copy, numbers->data, numbers->len);
}

static void
load_captions (SwPhotosPage *self, const SwStopRecord *stop)
{
  Captions *wanted = g_new0 (Captions, 1);

  wanted->page = g_object_ref (self);
  wanted->numbers = copy_numbers (stop->photos);
  sw_store_read (self->store, SW_RANK_VISIBLE, captions_run, copy_numbers (stop->photos),
                 (GDestroyNotify)g_array_unref, (GDestroyNotify)g_strfreev, NULL, on_captions,
                 wanted);
}

static void
show_stop (SwPhotosPage *self)
{
  const SwStopRecord *stop = find_stop (self, self->position);
  gboolean writable = !sw_store_overview (self->store)->read_only;
  g_autofree char *title = NULL, *number = NULL;

  gtk_stack_set_visible_child_name (GTK_STACK (self->stop_stack), stop != NULL ? "stop" : "none");
  if (stop == NULL)
    return;
  if (gtk_widget_get_visible (self->single) != (stop->photos->len > 1))
    gtk_widget_set_visible (self->single, stop->photos->len > 1);
  title = sw_stop_title (stop);
  number = g_strdup_printf (_ ("Stop %d"), stop->position);
  gtk_image_set_from_icon_name (GTK_IMAGE (self->stop_icon), sw_stop_icon (stop),
                                GTK_ICON_SIZE_BUTTON);
  gtk_label_set_text (GTK_LABEL (self->stop_word), sw_stop_word (stop));
  gtk_label_set_text (GTK_LABEL (self->stop_number), number);
  gtk_label_set_text (GTK_LABEL (self->stop_title), title);
  gtk_label_set_text (GTK_LABEL (self->stop_reason), stop->reason != NULL ? stop->reason : "");
  gtk_widget_set_sensitive (self->accept, writable && stop->n_open > 0);
  gtk_widget_set_sensitive (self->give, writable);
  gtk_widget_set_sensitive (self->no_item, writable);
  gtk_widget_set_sensitive (self->take_off, writable && stop->n_open < (int)stop->photos->len);
  load_captions (self, stop);
}

/* ---- the stops ---- */

static void
fill_summary (SwPhotosPage *self)
{
  int open = 0, sure = 0;
  g_autofree char *text = NULL, *label = NULL, *left = NULL;

  for (guint i = 0; i < self->stops->len; i++)
    {
      const SwStopRecord *stop = g_ptr_array_index (self->stops, i);
      open += stop->n_open > 0;
      sure += stop->n_open > 0 && g_strcmp0 (stop->band, "sure") == 0;
    }
  left = sw_text_count (self->stops->len, _ ("stop"), _ ("stops"));
  text = open == 0 ? g_strdup_printf (_ ("%s, all decided"), left)
                   : g_strdup_printf (_ ("%s, %d to decide"), left, open);
  label = sure > 0 ? g_strdup_printf (_ ("Accept all _sure (%d)"), sure)
                   : g_strdup (_ ("Accept all _sure"));
  gtk_label_set_text (GTK_LABEL (self->summary), self->stops->len > 0 ? text : "");
  gtk_button_set_label (GTK_BUTTON (self->accept_sure), label);
  gtk_widget_set_sensitive (self->accept_sure,
                            sure > 0 && !sw_store_overview (self->store)->read_only);
}

/* The stop itself, else the next one that is still open. */
static void
fill_list (SwPhotosPage *self)
{
  gboolean open_only = gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->open_only));
  g_autoptr (SwRows) rows = sw_stop_rows_new (g_ptr_array_ref (self->stops), open_only);
  gboolean any = sw_rows_count (rows) > 0;

  gtk_label_set_text (GTK_LABEL (self->none_label),
                      self->stops->len > 0
                          ? _ ("All stops of this trip are decided.")
                          : _ ("No stops yet. Sort the photos of this trip into stops."));
  gtk_widget_set_visible (self->propose_button, self->stops->len == 0);
  gtk_stack_set_visible_child_name (GTK_STACK (self->list_stack), any ? "list" : "none");
  sw_row_list_set_rows (SW_ROW_LIST (self->list), rows);
  self->position = (int)sw_row_list_get_key (SW_ROW_LIST (self->list));
  show_stop (self);
}

static gpointer
stops_run (SwCatalogue *catalogue, gpointer trip, GCancellable *cancellable, GError **error)
{
  return sw_proposal_list (catalogue, *(const gint64 *)trip, error);
}

static void
on_stops (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwPhotosPage) self = data;
  GPtrArray *stops;

  if (self->store == NULL)
    return;
  stops = sw_store_finish (self->store, result, NULL);
  if (stops == NULL)
    return;
  g_clear_pointer (&self->stops, g_ptr_array_unref);
  self->stops = stops;
  fill_summary (self);
  fill_list (self);
}

static void
load_stops (SwPhotosPage *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  if (self->trip == 0)
    return;
  sw_store_read (
      self->store, SW_RANK_VISIBLE, stops_run, g_memdup2 (&self->trip, sizeof self->trip), g_free,
      (GDestroyNotify)g_ptr_array_unref, self->cancellable, on_stops, g_object_ref (self));
}

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

static void
on_changed (SwPhotosPage *self)
{
  const SwOverview *overview = sw_store_overview (self->store);
  gboolean busy = sw_bring_in_bar_is_running (SW_BRING_IN_BAR (self->bar));

  fill_trips (self);
  fill_empty (self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack),
                                    overview->n_photos > 0 || busy ? "photos" : "empty");
  load_stops (self);
}

static void
on_trip_changed (GtkComboBox *combo, SwPhotosPage *self)
{
  const char *id = gtk_combo_box_get_active_id (combo);

  if (self->filling || id == NULL)
    return;
  self->trip = g_ascii_strtoll (id, NULL, 10);
  load_stops (self);
}

/* ---- what the person does ---- */

static void
on_stop_selected (GtkWidget *list, gint64 position, SwPhotosPage *self)
{
  self->position = (int)position;
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->single), FALSE);
  show_stop (self);
}

static void
on_stop_activated (GtkWidget *list, gint64 position, SwPhotosPage *self)
{
  on_stop_selected (list, position, self);
  sw_columns_set_depth (SW_COLUMNS (self->columns), 2);
}

static void
on_stop_clicked (GtkWidget *list, gint64 position, SwPhotosPage *self)
{
  sw_columns_set_depth (SW_COLUMNS (self->columns), 2);
}

/* The next open stop after this one is chosen, so that deciding goes on with the same key. */
static void
go_on (SwPhotosPage *self)
{
  for (guint i = 0; i < self->stops->len; i++)
    {
      const SwStopRecord *stop = g_ptr_array_index (self->stops, i);
      if (stop->position <= self->position || stop->n_open == 0)
        continue;
      sw_row_list_set_key (SW_ROW_LIST (self->list), stop->position);
      self->position = stop->position;
      show_stop (self);
      return;
    }
}

static void
on_clocks (SwPhotosPage *self)
{
  if (self->trip != 0)
    sw_clocks_form_open (self->clocks, self->store, self->trip);
}

static void
on_accept (SwPhotosPage *self)
{
  const SwStopRecord *stop = find_stop (self, self->position);

  if (stop == NULL || stop->n_open == 0)
    return;
  sw_act_accept_stop (self->store, self->trip, sw_stop_key (stop));
  go_on (self);
}

static void
on_accept_sure (SwPhotosPage *self)
{
  sw_act_accept_sure (self->store, self->trip);
}

static void
on_give (SwPhotosPage *self)
{
  if (find_stop (self, self->position) == NULL)
    return;
  sw_columns_set_depth (SW_COLUMNS (self->columns), 2); /* the popover hangs at a button there */
  sw_item_chooser_ask (SW_ITEM_CHOOSER (self->chooser));
}

/* What a decision is about: the stop's photos, or only the one shown. */
static const gint64 *
decided_photos (SwPhotosPage *self, const SwStopRecord *stop, guint *out_n)
{
  if (gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->single)))
    {
      self->one = sw_photo_view_get_photo (SW_PHOTO_VIEW (self->photos));
      *out_n = self->one != 0;
      return &self->one;
    }
  *out_n = stop->photos->len;
  return (const gint64 *)(gpointer)stop->photos->data;
}

static void
give_to (SwPhotosPage *self, gint64 item)
{
  const SwStopRecord *stop = find_stop (self, self->position);
  const gint64 *photos;
  guint n;

  if (stop == NULL)
    return;
  photos = decided_photos (self, stop, &n);
  if (n > 0)
    sw_act_photos_give (self->store, item, photos, n, self->trip);
}

static void
on_chosen (GtkWidget *chooser, gint64 item, SwPhotosPage *self)
{
  give_to (self, item);
}

static void
on_no_item (SwPhotosPage *self)
{
  give_to (self, 0);
}

static void
on_take_off (SwPhotosPage *self)
{
  const SwStopRecord *stop = find_stop (self, self->position);
  const gint64 *photos;
  guint n;

  if (stop == NULL)
    return;
  photos = decided_photos (self, stop, &n);
  if (n > 0)
    sw_act_photos_open (self->store, photos, n, self->trip);
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
  static const struct
  {
    guint key;
    void (*decide) (SwPhotosPage *self);
  } keys[] = {
    { GDK_KEY_a, on_accept },
    { GDK_KEY_g, on_give },
    { GDK_KEY_n, on_no_item },
    { GDK_KEY_u, on_take_off },
  };

  if (event->state & gtk_accelerator_get_default_mod_mask ())
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    if (event->keyval == keys[i].key && !sw_store_overview (self->store)->read_only)
      {
        keys[i].decide (self);
        return TRUE;
      }
  return FALSE;
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
  gtk_widget_set_sensitive (self->propose_button, !running);
  on_changed (self);
}

/* ---- object ---- */

static void
sw_photos_page_dispose (GObject *object)
{
  SwPhotosPage *self = SW_PHOTOS_PAGE (object);

  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->stops, g_ptr_array_unref);
  g_clear_object (&self->store);
  g_clear_object (&self->pictures);
  G_OBJECT_CLASS (sw_photos_page_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwPhotosPage, name)
#define CALLBACK(name) gtk_widget_class_bind_template_callback (widget, name)

static void
bind_children (GtkWidgetClass *widget)
{
  BIND (stack);
  BIND (columns);
  BIND (trip_combo);
  BIND (clocks);
  BIND (accept_sure);
  BIND (bar);
  BIND (list_stack);
  BIND (list);
  BIND (open_only);
  BIND (summary);
  BIND (none_label);
  BIND (propose_button);
  BIND (empty_title);
  BIND (empty_text);
  BIND (empty_trip);
  BIND (stop_stack);
  BIND (stop_icon);
  BIND (stop_word);
  BIND (stop_number);
  BIND (stop_title);
  BIND (stop_reason);
  BIND (photos);
  BIND (caption);
  BIND (accept);
  BIND (give);
  BIND (no_item);
  BIND (take_off);
  BIND (single);
}

static void
sw_photos_page_class_init (SwPhotosPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_photos_page_dispose;
  g_type_ensure (SW_TYPE_BRING_IN_BAR);
  g_type_ensure (SW_TYPE_COLUMNS);
  g_type_ensure (SW_TYPE_PHOTO_VIEW);
  g_type_ensure (SW_TYPE_ROW_LIST);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/photos-page.ui");
  bind_children (widget);
  CALLBACK (on_trip_changed);
  CALLBACK (on_accept_sure);
  CALLBACK (on_clocks);
  CALLBACK (on_stop_selected);
  CALLBACK (on_stop_activated);
  CALLBACK (on_stop_clicked);
  CALLBACK (on_accept);
  CALLBACK (on_give);
  CALLBACK (on_no_item);
  CALLBACK (on_take_off);
  CALLBACK (on_propose);
  CALLBACK (on_running);
  CALLBACK (fill_list);
  CALLBACK (show_caption);
}

static void
sw_photos_page_init (SwPhotosPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  sw_columns_set_share (SW_COLUMNS (self->columns), 0, 440, 1);
  sw_columns_set_share (SW_COLUMNS (self->columns), 1, 440, 1);
  sw_columns_set_depth (SW_COLUMNS (self->columns), 1);
  sw_combo_ellipsize (self->trip_combo);
  g_signal_connect (self, "key-press-event", G_CALLBACK (on_page_key), self);
}

GtkWidget *
sw_photos_page_new (SwStore *store, SwPictures *pictures)
{
  SwPhotosPage *self = g_object_new (SW_TYPE_PHOTOS_PAGE, NULL);

  self->store = g_object_ref (store);
  self->pictures = g_object_ref (pictures);
  sw_bring_in_bar_set_store (SW_BRING_IN_BAR (self->bar), store);
  sw_row_list_set_pictures (SW_ROW_LIST (self->list), pictures);
  sw_photo_view_set_pictures (SW_PHOTO_VIEW (self->photos), pictures);
  sw_photo_view_set_most_height (SW_PHOTO_VIEW (self->photos), 400);
  self->chooser = sw_item_chooser_new (self->give, store, pictures);
  g_signal_connect (self->chooser, "chosen", G_CALLBACK (on_chosen), self);
  g_signal_connect_object (store, "changed", G_CALLBACK (on_changed), self, G_CONNECT_SWAPPED);
  if (sw_store_overview (store) != NULL)
    on_changed (self);
  return GTK_WIDGET (self);
}

SwColumns *
sw_photos_page_columns (SwPhotosPage *self)
{
  return SW_COLUMNS (self->columns);
}

/* The first that is open, else the first; 0 where there is none. */
static int
first_stop (const GPtrArray *stops)
{
  for (guint i = 0; i < stops->len; i++)
    if (((const SwStopRecord *)g_ptr_array_index (stops, i))->n_open > 0)
      return ((const SwStopRecord *)g_ptr_array_index (stops, i))->position;
  return stops->len > 0 ? ((const SwStopRecord *)g_ptr_array_index (stops, 0))->position : 0;
}

gboolean
sw_photos_page_open_first (SwPhotosPage *self, gboolean opened)
{
  if (self->trip != 0 && self->stops == NULL)
    return FALSE;
  if (self->stops != NULL && self->position == 0)
    {
      self->position = first_stop (self->stops);
      if (self->position != 0)
        {
          sw_row_list_set_key (SW_ROW_LIST (self->list), self->position);
          show_stop (self);
        }
    }
  if (opened)
    sw_columns_set_depth (SW_COLUMNS (self->columns), 2);
  return TRUE;
}
