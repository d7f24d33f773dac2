/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shows what core finds open near the item, and sends each one that is taken. */
#include "app/photo-adder.h"

#include "app/row-list.h"
#include "app/sheet-data.h"
#include "app/sort-acts.h"
#include "app/text.h"
#include "core/catalogue/open-photos.h"

/* Further than this many nobody looks down a list. */
#define MOST_PHOTOS 200

struct _SwPhotoAdder
{
  GtkPopover parent;
  SwStore *store;
  GtkWidget *list, *none;
  gint64 item;
  GCancellable *cancellable;
};

G_DEFINE_TYPE (SwPhotoAdder, sw_photo_adder, GTK_TYPE_POPOVER)

/* ---- rows ---- */

typedef struct
{
  gint64 photo;
  char *caption;
} Open;

static void
open_clear (gpointer data)
{
  g_free (((Open *)data)->caption);
}

static SwRowKind
kind (gpointer data, guint i)
{
  return SW_ROW_ITEM;
}

static gint64
key (gpointer data, guint i)
{
  return g_array_index ((GArray *)data, Open, i).photo;
}

static void
face (gpointer data, guint i, SwRowFace *out_face)
{
  const Open *open = &g_array_index ((GArray *)data, Open, i);

  out_face->title = g_strdup (open->caption);
  out_face->sentence = g_strdup (open->caption);
  out_face->picture = open->photo;
}

static const SwRowsFuncs funcs = { kind, key, face };

/* ---- reading ---- */

static gpointer
read_open (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) photos
      = sw_open_photos_near (catalogue, *(const gint64 *)data, MOST_PHOTOS, error);
  g_autoptr (GArray) rows = g_array_new (FALSE, FALSE, sizeof (Open));

  if (photos == NULL)
    return NULL;
  g_array_set_clear_func (rows, open_clear);
  for (guint i = 0; i < photos->len; i++)
    {
      const SwPhoto *photo = g_ptr_array_index (photos, i);
      Open open = { photo->id, sw_photo_time_and_name (catalogue, photo) };

      g_array_append_val (rows, open);
    }
  return g_steal_pointer (&rows);
}

static void
free_open (gpointer rows)
{
  g_array_unref (rows);
}

static void
on_read (GObject *object, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (SwPhotoAdder) self = user_data;
  g_autoptr (SwRows) rows = NULL;
  GArray *open;

  if (self->store == NULL)
    return;
  open = sw_store_finish (self->store, result, NULL);
  if (open == NULL)
    return;
  rows = sw_rows_new (open->len, &funcs, open, free_open);
  sw_row_list_set_rows (SW_ROW_LIST (self->list), rows);
  gtk_widget_set_visible (self->none, sw_rows_count (rows) == 0);
  if (sw_row_list_get_key (SW_ROW_LIST (self->list)) == 0 && sw_rows_count (rows) > 0)
    sw_row_list_set_key (SW_ROW_LIST (self->list), sw_rows_key (rows, 0));
}

static void
load (SwPhotoAdder *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  if (self->store == NULL || !gtk_widget_is_visible (GTK_WIDGET (self)))
    return;
  self->cancellable = g_cancellable_new ();
  sw_store_read (self->store, SW_RANK_VISIBLE, read_open,
                 g_memdup2 (&self->item, sizeof self->item), g_free, free_open, self->cancellable,
                 on_read, g_object_ref (self));
}

/* ---- taking ---- */

static void
on_activated (SwRowList *list, gint64 photo, SwPhotoAdder *self)
{
  SwSort *sort;

  if (photo == 0)
    return;
  sort = sw_sort_new (SW_SORT_GIVE, 0, NULL, NULL);
  g_array_append_val (sort->photos, photo);
  sort->item = self->item;
  sw_sort_send (self->store, sort, NULL, NULL);
}

/* ---- object ---- */

static void
sw_photo_adder_dispose (GObject *object)
{
  SwPhotoAdder *self = SW_PHOTO_ADDER (object);

  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->store);
  G_OBJECT_CLASS (sw_photo_adder_parent_class)->dispose (object);
}

static void
sw_photo_adder_class_init (SwPhotoAdderClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_photo_adder_dispose;
}

static void
sw_photo_adder_init (SwPhotoAdder *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *how = gtk_label_new (_ ("Enter adds the photo chosen; Escape closes."));
  GtkWidget *scroller = gtk_scrolled_window_new (NULL, NULL);

  self->list = sw_row_list_new ();
  self->none = gtk_label_new (_ ("No photo of its trip is open any more."));
  gtk_label_set_xalign (GTK_LABEL (how), 0);
  atk_object_set_name (gtk_widget_get_accessible (self->list), _ ("Open photos of its trip"));
  gtk_container_add (GTK_CONTAINER (scroller), self->list);
  gtk_widget_set_size_request (scroller, 340, 320);
  gtk_scrolled_window_set_shadow_type (GTK_SCROLLED_WINDOW (scroller), GTK_SHADOW_IN);
  gtk_container_set_border_width (GTK_CONTAINER (box), 10);
  gtk_container_add (GTK_CONTAINER (box), how);
  gtk_box_pack_start (GTK_BOX (box), scroller, TRUE, TRUE, 0);
  gtk_container_add (GTK_CONTAINER (box), self->none);
  gtk_container_add (GTK_CONTAINER (self), box);
  gtk_widget_show_all (box);
  gtk_widget_hide (self->none);
  gtk_widget_set_no_show_all (self->none, TRUE);
  g_signal_connect (self->list, "activated", G_CALLBACK (on_activated), self);
}

GtkWidget *
sw_photo_adder_new (GtkWidget *relative_to, SwStore *store, SwPictures *pictures)
{
  SwPhotoAdder *self = g_object_new (SW_TYPE_PHOTO_ADDER, "relative-to", relative_to, NULL);

  self->store = g_object_ref (store);
  sw_row_list_set_pictures (SW_ROW_LIST (self->list), pictures);
  g_signal_connect_object (store, "changed", G_CALLBACK (load), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

void
sw_photo_adder_ask (SwPhotoAdder *self, gint64 item)
{
  self->item = item;
  sw_row_list_set_rows (SW_ROW_LIST (self->list), NULL);
  gtk_popover_popup (GTK_POPOVER (self));
  load (self);
  gtk_widget_grab_focus (self->list);
}
