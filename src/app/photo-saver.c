/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decodes in the helper and writes plain JPEGs, on a thread of its own. */
#include "app/photo-saver.h"

#include "app/text.h"
#include "app/widgets.h"
#include "core/base/error.h"
#include "core/base/text.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/items.h"

#define LONG_SIDE 2048
#define JPEG_QUALITY "90"

typedef struct
{
  SwStore *store;
  SwPictureSource *source;
  char *folder, *stem;
  gint64 deal;
  GArray *photos; /* gint64 */
} Saver;

static void
saver_free (gpointer data)
{
  Saver *saver = data;

  g_object_unref (saver->store);
  sw_picture_source_unref (saver->source);
  g_free (saver->folder);
  g_free (saver->stem);
  g_clear_pointer (&saver->photos, g_array_unref);
  g_free (saver);
}

/* ---- which photos ---- */

static void
add_once (GArray *all, const GArray *photos)
{
  for (guint i = 0; i < photos->len; i++)
    {
      gboolean known = FALSE;
      for (guint k = 0; k < all->len; k++)
        known = known || g_array_index (all, gint64, k) == g_array_index (photos, gint64, i);
      if (!known)
        g_array_append_val (all, g_array_index (photos, gint64, i));
    }
}

/* Each item's cover first. */
static gpointer
read_photos (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) items = sw_deal_items (catalogue, *(const gint64 *)data, error);
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; items != NULL && i < items->len; i++)
    {
      gint64 number = g_array_index (items, SwDealItem, i).item;
      g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
      g_autoptr (GArray) photos = item != NULL ? sw_item_photos (catalogue, number, error) : NULL;
      if (photos == NULL)
        return NULL;
      if (item->first_photo != 0)
        g_array_prepend_val (photos, item->first_photo);
      add_once (all, photos);
    }
  return items != NULL ? g_steal_pointer (&all) : NULL;
}

/* ---- writing ---- */

static char *
path_of (const Saver *saver, guint i)
{
  g_autofree char *name = g_strdup_printf ("%s-%02u.jpg", saver->stem, i + 1);
  return g_build_filename (saver->folder, name, NULL);
}

static gboolean
refuse_known (const Saver *saver, GError **error)
{
  for (guint i = 0; i < saver->photos->len; i++)
    {
      g_autofree char *path = path_of (saver, i);
      g_autofree char *shown = g_path_get_basename (path);
      if (!g_file_test (path, G_FILE_TEST_EXISTS))
        continue;
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("%s is there already: choose another folder."), shown);
      return FALSE;
    }
  return TRUE;
}

static gboolean
save_one (const Saver *saver, guint i, gboolean *out_saved, GError **error)
{
  const SwDecodePart whole = { .max_side = LONG_SIDE, .width = LONG_SIDE, .height = LONG_SIDE };
  int turn;
  g_autofree char *path = path_of (saver, i);
  SwPicture *picture = sw_picture_source_part (
      saver->source, g_array_index (saver->photos, gint64, i), &whole, NULL, &turn);
  g_autoptr (GdkPixbuf) pixbuf = NULL;

  *out_saved = picture != NULL;
  if (picture == NULL)
    return TRUE; /* no picture can be made of it: counted, the others go on */
  pixbuf
      = gdk_pixbuf_new_from_bytes (picture->rgb, GDK_COLORSPACE_RGB, FALSE, 8, (int)picture->width,
                                   (int)picture->height, (int)picture->width * 3);
  sw_picture_free (picture);
  return gdk_pixbuf_save (pixbuf, path, "jpeg", error, "quality", JPEG_QUALITY, NULL);
}

static void
run_save (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  const Saver *saver = data;
  GError *error = NULL;
  guint saved = 0;
  g_autofree char *count = NULL;

  if (!refuse_known (saver, &error))
    {
      g_task_return_error (task, error);
      return;
    }
  for (guint i = 0; i < saver->photos->len; i++)
    {
      gboolean done = FALSE;
      if (!save_one (saver, i, &done, &error))
        {
          g_task_return_error (task, error);
          return;
        }
      saved += done;
    }
  count = sw_text_count (saved, _ ("photo"), _ ("photos"));
  g_task_return_pointer (
      task, g_strdup_printf (_ ("%s written, without camera and position."), count), g_free);
}

static void
on_saved (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwStore) store = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = g_task_propagate_pointer (G_TASK (result), &error);

  sw_store_tell (store, sentence != NULL ? sentence : error->message, sentence == NULL);
}

static void
on_photos (GObject *object, GAsyncResult *result, gpointer data)
{
  Saver *saver = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GTask) task = NULL;

  saver->photos = sw_store_finish (saver->store, result, &error);
  if (saver->photos == NULL || saver->photos->len == 0)
    {
      sw_store_tell (saver->store,
                     error != NULL ? error->message : _ ("There is no photo of it to write."),
                     TRUE);
      saver_free (saver);
      return;
    }
  task = g_task_new (NULL, NULL, on_saved, g_object_ref (saver->store));
  g_task_set_task_data (task, saver, saver_free);
  g_task_run_in_thread (task, run_save);
}

/* ---- asking ---- */

static void
on_folder (GtkNativeDialog *dialog, int response, Saver *saver)
{
  if (response == GTK_RESPONSE_ACCEPT)
    saver->folder = gtk_file_chooser_get_filename (GTK_FILE_CHOOSER (dialog));
  sw_native_dialog_done (dialog);
  if (saver->folder == NULL)
    {
      saver_free (saver);
      return;
    }
  sw_store_read (saver->store, SW_RANK_VISIBLE, read_photos,
                 g_memdup2 (&saver->deal, sizeof saver->deal), g_free,
                 (GDestroyNotify)g_array_unref, NULL, on_photos, saver);
}

void
sw_photo_saver_ask (GtkWindow *parent, SwStore *store, gint64 deal, const char *ref)
{
  Saver *saver = g_new0 (Saver, 1);
  GtkFileChooserNative *dialog = gtk_file_chooser_native_new (
      _ ("Folder for the offer's photos"), parent, GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER,
      _ ("_Write them"), _ ("_Cancel"));

  saver->store = g_object_ref (store);
  saver->source = sw_picture_source_ref (sw_store_picture_source (store));
  saver->deal = deal;
  saver->stem = sw_text_safe_stem (ref);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  g_signal_connect (dialog, "response", G_CALLBACK (on_folder), saver);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}
