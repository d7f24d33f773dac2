/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shows the photos one by one, and has the pack written on a thread of its own. What goes into it
 * is core's. */
#include "app/pack-form.h"

#include "app/closer-pixels.h"
#include "app/file-out.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/base/error.h"
#include "core/handout/pack.h"

typedef enum
{
  NOT_LOOKED_AT,
  MAY_GO,
  LEFT_OUT,
} Look;

typedef struct
{
  SwStore *store;
  SwCloserPixels *pixels;
  SwPack *pack;
  Look *looks;  /* one a photo */
  guint at;     /* the photo shown; the number of photos: all are looked at */
  char *path;   /* once it is written */
  int done;     /* photos made; atomic */
  guint ticker; /* while it is written */
  GCancellable *cancellable;
  GtkWidget *dialog, *count, *picture, *state, *go, *stay, *back, *write;
} Form;

#define RESPONSE_WRITE 1

/* Lives as long as the dialog, or a thread that writes. */
static void
form_clear (gpointer data)
{
  Form *form = data;

  g_object_unref (form->store);
  g_object_unref (form->cancellable);
  g_clear_object (&form->pixels);
  g_clear_pointer (&form->pack, sw_pack_free);
  g_free (form->looks);
  g_free (form->path);
}

static void
form_unref (Form *form)
{
  g_atomic_rc_box_release_full (form, form_clear);
}

/* ---- what is shown ---- */

static guint
n_photos (const Form *form)
{
  return form->pack->photos->len;
}

static guint
count_of (const Form *form, Look look)
{
  guint n = 0;

  for (guint i = 0; i < n_photos (form); i++)
    n += form->looks[i] == look;
  return n;
}

static gint64
photo_at (const Form *form, guint i)
{
  return ((const SwOutPhoto *)g_ptr_array_index (form->pack->photos, i))->photo;
}

/* What cannot be shown cannot be passed. */
static gboolean
is_seen (const Form *form)
{
  return form->at < n_photos (form)
         && (sw_closer_pixels_whole (form->pixels, photo_at (form, form->at)) != NULL
             || sw_closer_pixels_failed (form->pixels, photo_at (form, form->at)));
}

static void
want_pixels (const Form *form)
{
  SwCloserWish wishes[2] = { 0 };
  guint n = 0;

  for (guint i = form->at; i < MIN (form->at + 2, n_photos (form)); i++)
    wishes[n++].photo = photo_at (form, i);
  sw_closer_pixels_set_wishes (form->pixels, wishes, n);
}

static char *
state_text (const Form *form)
{
  static const char *const words[] = { [NOT_LOOKED_AT] = N_ ("Not looked at yet"),
                                       [MAY_GO] = N_ ("May go"),
                                       [LEFT_OUT] = N_ ("Left out") };
  gint64 photo;

  if (form->at == n_photos (form))
    return n_photos (form) == 0
               ? g_strdup (_ ("There is no photo of it; title and text go alone."))
               : g_strdup_printf (_ ("Each photo is looked at: %u may go, %u left out."),
                                  count_of (form, MAY_GO), count_of (form, LEFT_OUT));
  photo = photo_at (form, form->at);
  if (sw_closer_pixels_failed (form->pixels, photo))
    return g_strdup (_ ("No picture can be made of it; it does not go."));
  return g_strdup (is_seen (form) ? _ (words[form->looks[form->at]]) : _ ("Coming…"));
}

static void
show_state (Form *form)
{
  g_autofree char *state = state_text (form);
  gboolean all = count_of (form, NOT_LOOKED_AT) == 0, seen = is_seen (form);

  gtk_label_set_text (GTK_LABEL (form->state), state);
  gtk_widget_set_sensitive (form->go, seen);
  gtk_widget_set_sensitive (form->stay, seen);
  gtk_widget_set_sensitive (form->back, form->at > 0);
  gtk_widget_set_sensitive (form->write, all);
  gtk_widget_queue_draw (form->picture);
}

static void
show_photo (Form *form)
{
  guint n = n_photos (form);
  g_autofree char *count
      = form->at < n ? g_strdup_printf (_ ("Photo %u of %u"), form->at + 1, n) : g_strdup ("");

  gtk_label_set_text (GTK_LABEL (form->count), count);
  atk_object_set_name (gtk_widget_get_accessible (form->picture), count);
  want_pixels (form);
  show_state (form);
  if (form->at == n)
    gtk_widget_grab_focus (form->write);
}

static void
on_loaded (SwCloserPixels *pixels, gint64 photo, Form *form)
{
  show_state (form);
}

static gboolean
on_draw (GtkWidget *widget, cairo_t *cr, Form *form)
{
  const SwCloserPart *part = form->at < n_photos (form)
                                 ? sw_closer_pixels_whole (form->pixels, photo_at (form, form->at))
                                 : NULL;
  double width = gtk_widget_get_allocated_width (widget),
         height = gtk_widget_get_allocated_height (widget), scale;

  if (part == NULL)
    return FALSE;
  scale = MIN (1, MIN (width / part->width, height / part->height));
  cairo_translate (cr, (width - part->width * scale) / 2, (height - part->height * scale) / 2);
  cairo_scale (cr, scale, scale);
  cairo_set_source_surface (cr, part->surface, 0, 0);
  cairo_paint (cr);
  return FALSE;
}

/* ---- looking ---- */

static void
decide (Form *form, Look look)
{
  if (!is_seen (form))
    return;
  if (sw_closer_pixels_failed (form->pixels, photo_at (form, form->at)))
    look = LEFT_OUT;
  form->looks[form->at++] = look;
  show_photo (form);
}

static void
on_go (GtkWidget *button, Form *form)
{
  decide (form, MAY_GO);
}

static void
on_stay (GtkWidget *button, Form *form)
{
  decide (form, LEFT_OUT);
}

static void
on_back (GtkWidget *button, Form *form)
{
  if (form->at > 0)
    form->at--;
  show_photo (form);
  gtk_widget_grab_focus (is_seen (form) ? form->go : form->dialog);
}

static gboolean
on_key (GtkWidget *dialog, GdkEventKey *event, Form *form)
{
  if (form->path != NULL || (event->state & gtk_accelerator_get_default_mod_mask ()) != 0)
    return FALSE;
  switch (gdk_keyval_to_lower (event->keyval))
    {
    case GDK_KEY_m:
      decide (form, MAY_GO);
      return TRUE;
    case GDK_KEY_l:
      decide (form, LEFT_OUT);
      return TRUE;
    case GDK_KEY_Left:
      on_back (dialog, form);
      return TRUE;
    default:
      return FALSE;
    }
}

/* ---- writing ---- */

static void
run_write (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  Form *form = data;
  g_autofree gboolean *keep = g_new0 (gboolean, n_photos (form) + 1);
  g_autofree char *name = g_path_get_basename (form->path), *count = NULL;
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 1);
  SwPackReport report = { 0 };
  GError *error = NULL;

  for (guint i = 0; i < n_photos (form); i++)
    keep[i] = form->looks[i] == MAY_GO;
  if (!sw_pack_write (form->pack, decoder, keep, form->path, &form->done, cancellable, &report,
                      &error))
    {
      g_task_return_error (task, error);
      return;
    }
  count = sw_text_count (report.photos, "%d photo", "%d photos");
  g_task_return_pointer (task, g_strdup_printf (_ ("%s written: %s, title and text."), name, count),
                         g_free);
}

/* What was looked at stays looked at. */
static void
try_again (Form *form, const char *problem)
{
  g_source_remove (form->ticker);
  form->ticker = 0;
  g_atomic_int_set (&form->done, 0);
  g_clear_pointer (&form->path, g_free);
  show_photo (form);
  gtk_label_set_text (GTK_LABEL (form->state), problem);
}

static void
on_written (GObject *object, GAsyncResult *result, gpointer data)
{
  Form *form = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = g_task_propagate_pointer (G_TASK (result), &error);

  if (sentence == NULL && form->dialog != NULL)
    try_again (form, error->message);
  else
    {
      sw_store_tell (form->store, sentence != NULL ? sentence : error->message,
                     sentence == NULL && !g_error_matches (error, SW_ERROR, SW_ERROR_CANCELLED));
      if (form->dialog != NULL)
        gtk_widget_destroy (form->dialog);
    }
  form_unref (form);
}

static gboolean
on_tick (gpointer data)
{
  Form *form = data;
  g_autofree char *text = g_strdup_printf (_ ("Writing: %d of %u photos"),
                                           g_atomic_int_get (&form->done), count_of (form, MAY_GO));

  gtk_label_set_text (GTK_LABEL (form->state), text);
  return G_SOURCE_CONTINUE;
}

static void
start_writing (Form *form)
{
  g_autoptr (GTask) task
      = g_task_new (NULL, form->cancellable, on_written, g_atomic_rc_box_acquire (form));
  GtkWidget *const used[] = { form->go, form->stay, form->back, form->write };

  for (gsize i = 0; i < G_N_ELEMENTS (used); i++)
    gtk_widget_set_sensitive (used[i], FALSE);
  form->ticker = g_timeout_add (100, on_tick, form);
  on_tick (form);
  g_task_set_task_data (task, form, NULL);
  g_task_set_check_cancellable (task, FALSE); /* core says it in words */
  g_task_run_in_thread (task, run_write);
}

static void
on_folder (char *path, gpointer data)
{
  Form *form = data;

  if (form->dialog != NULL && form->path == NULL)
    form->path = g_steal_pointer (&path);
  g_free (path);
  if (form->path != NULL && form->ticker == 0 && form->dialog != NULL)
    start_writing (form);
  form_unref (form);
}

static void
ask_folder (Form *form)
{
  sw_file_out_ask_path (GTK_WINDOW (form->dialog), _ ("Name a new folder for the pack"),
                        form->pack->stem, "", on_folder, g_atomic_rc_box_acquire (form));
}

/* ---- the window ---- */

static void
on_response (GtkDialog *dialog, int response, Form *form)
{
  if (response == RESPONSE_WRITE)
    ask_folder (form);
  else
    gtk_widget_destroy (GTK_WIDGET (dialog));
}

static void
on_destroy (GtkWidget *dialog, Form *form)
{
  if (form->ticker != 0)
    g_source_remove (form->ticker);
  form->ticker = 0;
  g_cancellable_cancel (form->cancellable);
  g_signal_handlers_disconnect_by_data (form->pixels, form);
  form->dialog = NULL;
  form_unref (form);
}

static void
add_head (const Form *form, GtkWidget *box)
{
  sw_container_add_line (box, form->pack->title, "sw-heading");
  sw_container_add_line (box,
                         _ ("Look at each photo for house numbers, number plates and faces before "
                            "it leaves. Camera, position and all else its file says stay here."),
                         NULL);
  for (guint i = 0; i < form->pack->names->len; i++)
    {
      g_autofree char *line
          = g_strdup_printf (_ ("The text names %s: see whether that should leave."),
                             (const char *)g_ptr_array_index (form->pack->names, i));
      sw_container_add_line (box, line, "sw-problem");
    }
  if (form->pack->left_out > 0)
    {
      g_autofree char *line = sw_text_count (
          form->pack->left_out, "%d line of the text was left out to keep to the outlet's limit.",
          "%d lines of the text were left out to keep to the outlet's limit.");
      sw_container_add_line (box, line, "dim-label");
    }
}

static GtkWidget *
add_button (GtkWidget *box, const char *label, const char *hint, GCallback clicked, Form *form)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  gtk_widget_set_tooltip_text (button, hint);
  g_signal_connect (button, "clicked", clicked, form);
  gtk_container_add (GTK_CONTAINER (box), button);
  return button;
}

static void
add_photo (Form *form, GtkWidget *box)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  form->count = sw_container_add_line (box, "", NULL);
  form->picture = gtk_drawing_area_new ();
  atk_object_set_role (gtk_widget_get_accessible (form->picture), ATK_ROLE_IMAGE);
  gtk_widget_set_size_request (form->picture, 320, 240);
  gtk_widget_set_vexpand (form->picture, TRUE);
  g_signal_connect (form->picture, "draw", G_CALLBACK (on_draw), form);
  gtk_container_add (GTK_CONTAINER (box), form->picture);
  form->state = sw_container_add_line (box, "", NULL);
  form->back
      = add_button (row, _ ("_Back"), _ ("The photo before (Left)"), G_CALLBACK (on_back), form);
  form->stay = add_button (row, _ ("_Leave it out"), _ ("It stays at home (L)"),
                           G_CALLBACK (on_stay), form);
  form->go = add_button (row, _ ("It _may go"), _ ("Nothing on it gives anybody away (M)"),
                         G_CALLBACK (on_go), form);
  gtk_widget_set_halign (row, GTK_ALIGN_END);
  gtk_container_add (GTK_CONTAINER (box), row);
}

static void
open_dialog (Form *form, GtkWindow *parent)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);

  form->dialog = gtk_dialog_new_with_buttons (
      _ ("Offer pack"), parent,
      GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR, _ ("_Cancel"),
      GTK_RESPONSE_CANCEL, _ ("_Write…"), RESPONSE_WRITE, NULL);
  form->write = gtk_dialog_get_widget_for_response (GTK_DIALOG (form->dialog), RESPONSE_WRITE);
  gtk_window_set_default_size (GTK_WINDOW (form->dialog), 600, 620);
  gtk_container_set_border_width (GTK_CONTAINER (box), 18);
  add_head (form, box);
  add_photo (form, box);
  gtk_box_pack_start (GTK_BOX (gtk_dialog_get_content_area (GTK_DIALOG (form->dialog))), box, TRUE,
                      TRUE, 0);
  g_signal_connect (form->pixels, "loaded", G_CALLBACK (on_loaded), form);
  g_signal_connect (form->dialog, "key-press-event", G_CALLBACK (on_key), form);
  g_signal_connect (form->dialog, "response", G_CALLBACK (on_response), form);
  g_signal_connect (form->dialog, "destroy", G_CALLBACK (on_destroy), form);
  gtk_widget_show_all (form->dialog);
  show_photo (form);
}

/* ---- reading ---- */

typedef struct
{
  SwStore *store;
  GtkWindow *parent; /* weak */
} Asked;

static gpointer
read_pack (SwCatalogue *catalogue, gpointer ref, GCancellable *cancellable, GError **error)
{
  return sw_pack_of_offer (catalogue, ref, error);
}

static void
on_pack (GObject *object, GAsyncResult *result, gpointer data)
{
  Asked *asked = data;
  g_autoptr (GError) error = NULL;
  SwPack *pack = sw_store_finish (asked->store, result, &error);

  if (pack != NULL && asked->parent != NULL)
    {
      Form *form = g_atomic_rc_box_new0 (Form);

      form->store = g_object_ref (asked->store);
      form->pack = pack;
      form->looks = g_new0 (Look, pack->photos->len + 1);
      form->cancellable = g_cancellable_new ();
      form->pixels = sw_closer_pixels_new (sw_store_picture_source (asked->store));
      open_dialog (form, asked->parent);
    }
  else
    {
      sw_pack_free (pack);
      if (error != NULL)
        sw_store_tell (asked->store, error->message, TRUE);
    }
  g_clear_weak_pointer (&asked->parent);
  g_object_unref (asked->store);
  g_free (asked);
}

typedef struct
{
  GArray *items; /* gint64 */
  char *outlet;  /* NULL: of the items */
} ItemsWish;

static void
items_wish_free (gpointer data)
{
  ItemsWish *wish = data;

  g_array_unref (wish->items);
  g_free (wish->outlet);
  g_free (wish);
}

static gpointer
read_pack_of_items (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable,
                    GError **error)
{
  const ItemsWish *wish = data;

  return sw_pack_of_items (catalogue, (const gint64 *)(gconstpointer)wish->items->data,
                           wish->items->len, wish->outlet, error);
}

static void
read_and_open (GtkWindow *parent, SwStore *store, SwWorkFunc read, gpointer data,
               GDestroyNotify destroy)
{
  Asked *asked = g_new0 (Asked, 1);

  asked->store = g_object_ref (store);
  g_set_weak_pointer (&asked->parent, parent);
  sw_store_read (store, SW_RANK_KEY, read, data, destroy, (GDestroyNotify)sw_pack_free, NULL,
                 on_pack, asked);
}

void
sw_pack_form_open (GtkWindow *parent, SwStore *store, const char *ref)
{
  read_and_open (parent, store, read_pack, g_strdup (ref), g_free);
}

void
sw_pack_form_open_items (GtkWindow *parent, SwStore *store, const gint64 *items, guint n,
                         const char *outlet)
{
  ItemsWish *wish = g_new0 (ItemsWish, 1);

  wish->items = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_array_append_vals (wish->items, items, n);
  wish->outlet = g_strdup (outlet);
  read_and_open (parent, store, read_pack_of_items, wish, items_wish_free);
}
