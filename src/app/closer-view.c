/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which photos are looked at and what is said of them; how they are drawn is the canvas's business.
 * Holds no rule of its own: marks and covers come from core. */
#include "app/closer-view.h"

#include "app/closer-canvas.h"
#include "app/item-acts.h"
#include "app/sheet-data.h"
#include "app/side-box.h"
#include "app/text.h"
#include "core/catalogue/photo-quality.h"

/* What is known of a photo; read on the catalogue thread. */
typedef struct
{
  gint64 photo, item; /* item 0: none */
  char *caption, *item_name;
  guint marks;
  int turn;
  gboolean is_cover, is_chosen; /* chosen: by a person */
} Info;

struct _SwCloserView
{
  GtkBox parent;
  SwStore *store;
  gulong changed_id;
  GArray *photos; /* gint64 */
  int at[2];      /* which of them stands where */
  gboolean beside;
  Info *info[2];
  int reading;
  guint zoom_idle;
  gboolean following; /* buttons are being set */
  GtkWidget *canvas, *previous, *next, *zoom, *whole, *pixels, *beside_button, *turn, *cover;
};

enum
{
  SHOWN,
  LEFT,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwCloserView, sw_closer_view, GTK_TYPE_BOX)

static void
info_free (gpointer data)
{
  Info *info = data;

  if (info == NULL)
    return;
  g_free (info->caption);
  g_free (info->item_name);
  g_free (info);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Info, info_free)

static SwCloserCanvas *
canvas_of (SwCloserView *self)
{
  return SW_CLOSER_CANVAS (self->canvas);
}

static int
chosen (SwCloserView *self)
{
  return self->beside ? sw_closer_canvas_get_chosen (canvas_of (self)) : 0;
}

static gint64
photo_at (SwCloserView *self, int index)
{
  return index >= 0 && index < (int)self->photos->len ? g_array_index (self->photos, gint64, index)
                                                      : 0;
}

static gint64
photo_shown (SwCloserView *self)
{
  return photo_at (self, self->at[chosen (self)]);
}

/* ---- what is said ---- */

static gboolean
read_item (SwCatalogue *catalogue, Info *info, GError **error)
{
  g_autoptr (GArray) items = sw_photo_items (catalogue, info->photo, NULL, error);
  g_autoptr (SwItem) item = NULL;

  if (items == NULL || items->len == 0)
    return items != NULL;
  item = sw_item_get (catalogue, g_array_index (items, gint64, 0), error);
  if (item == NULL)
    return FALSE;
  info->item = item->id;
  info->item_name = g_strdup (item->name);
  info->is_cover = item->first_photo == info->photo;
  info->is_chosen = item->cover == info->photo;
  return TRUE;
}

static gpointer
info_run (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr (Info) info = g_new0 (Info, 1);
  g_autoptr (SwPhoto) photo = sw_photo_get (catalogue, *(const gint64 *)data, error);
  SwPhotoQuality quality = { 0 };
  gboolean measured = FALSE;

  if (photo == NULL)
    return NULL;
  info->photo = photo->id;
  info->turn = photo->turn;
  info->caption = sw_photo_caption (catalogue, photo);
  if (!sw_photo_quality_get (catalogue, photo->id, &quality, &measured, error)
      || !read_item (catalogue, info, error))
    return NULL;
  info->marks = quality.marks;
  return g_steal_pointer (&info);
}

static char *
told_text (SwCloserView *self, int side, const Info *info)
{
  GString *text = g_string_new (NULL);

  if (self->photos->len > 1)
    g_string_append_printf (text, _ ("%d of %u, "), self->at[side] + 1, self->photos->len);
  if (info->item_name != NULL)
    g_string_append_printf (text, info->is_cover ? _ ("cover of %s, ") : "%s, ", info->item_name);
  g_string_append (text, info->caption);
  return g_string_free (text, FALSE);
}

static void
follow_buttons (SwCloserView *self)
{
  const Info *info = self->info[chosen (self)];
  int at = self->at[chosen (self)];
  gboolean writable = self->store != NULL && sw_store_overview (self->store) != NULL
                      && !sw_store_overview (self->store)->read_only;

  self->following = TRUE;
  gtk_widget_set_sensitive (self->previous, at > 0);
  gtk_widget_set_sensitive (self->next, at + 1 < (int)self->photos->len);
  gtk_widget_set_sensitive (self->beside_button, self->photos->len > 1);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->beside_button), self->beside);
  gtk_widget_set_sensitive (self->turn, writable && info != NULL);
  gtk_widget_set_sensitive (self->cover, writable && info != NULL && info->item != 0);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->cover), info != NULL && info->is_chosen);
  gtk_widget_set_tooltip_text (self->cover, info == NULL || info->item != 0
                                                ? _ ("Show the item by this photo everywhere (C)")
                                                : _ ("It belongs to no item yet"));
  self->following = FALSE;
}

typedef struct
{
  SwCloserView *view;
  gint64 photo;
} Asked;

static void
take_info (SwCloserView *self, int side, Info *info)
{
  g_autofree char *text = told_text (self, side, info);
  SwCloserTold told = { text, info->marks != 0 ? _ (sw_photo_mark_word (info->marks)) : NULL,
                        sw_photo_mark_icon (info->marks) };

  if (self->info[side] != NULL && self->info[side]->photo == info->photo
      && self->info[side]->turn != info->turn)
    sw_closer_canvas_forget (canvas_of (self), info->photo);
  info_free (self->info[side]);
  self->info[side] = info;
  sw_closer_canvas_tell (canvas_of (self), side, &told);
  follow_buttons (self);
}

static void
on_info (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autofree Asked *asked = data;
  g_autoptr (SwCloserView) self = asked->view;
  g_autoptr (Info) info = NULL;

  self->reading--;
  if (self->store == NULL)
    return;
  info = sw_store_finish (self->store, result, NULL);
  for (int side = 0; info != NULL && side <= self->beside; side++)
    if (photo_at (self, self->at[side]) == info->photo)
      {
        take_info (self, side, g_steal_pointer (&info));
        break;
      }
}

static void
read_info (SwCloserView *self)
{
  for (int side = 0; self->store != NULL && side <= self->beside; side++)
    {
      gint64 photo = photo_at (self, self->at[side]);
      Asked *asked;

      if (photo == 0)
        continue;
      asked = g_new0 (Asked, 1);
      asked->view = g_object_ref (self);
      asked->photo = photo;
      self->reading++;
      sw_store_read (self->store, SW_RANK_VISIBLE, info_run, g_memdup2 (&photo, sizeof photo),
                     g_free, info_free, NULL, on_info, asked);
    }
}

/* ---- which photos ---- */

static void
show (SwCloserView *self)
{
  int at = self->at[chosen (self)];
  gint64 ahead[2] = { photo_at (self, at + 1), photo_at (self, at - 1) };
  gint64 known[2];
  guint n = 0;

  for (guint i = 0; i < 2; i++)
    if (ahead[i] != 0)
      known[n++] = ahead[i];
  for (int side = 0; side < 2; side++)
    if (self->info[side] != NULL && self->info[side]->photo != photo_at (self, self->at[side]))
      g_clear_pointer (&self->info[side], info_free);
  sw_closer_canvas_show (canvas_of (self), photo_at (self, self->at[0]),
                         self->beside ? photo_at (self, self->at[1]) : 0, known, n);
  read_info (self);
  follow_buttons (self);
  g_signal_emit (self, signals[SHOWN], 0, photo_shown (self));
}

static void
step (SwCloserView *self, int by)
{
  int side = chosen (self), last = (int)self->photos->len - 1;
  int to = CLAMP (self->at[side] + by, 0, last);

  if (to == self->at[side])
    return;
  self->at[side] = to;
  show (self);
}

void
sw_closer_view_set_beside (SwCloserView *self, gboolean beside)
{
  int kept = self->at[chosen (self)];

  if (beside == self->beside || self->photos->len < 2)
    return;
  self->beside = beside;
  self->at[0] = kept;
  self->at[1] = kept + 1 < (int)self->photos->len ? kept + 1 : kept - 1;
  for (int side = 0; side < 2; side++)
    g_clear_pointer (&self->info[side], info_free);
  show (self);
  sw_closer_canvas_choose (canvas_of (self), beside ? 1 : 0);
  follow_buttons (self);
}

void
sw_closer_view_open (SwCloserView *self, const gint64 *photos, guint n, gint64 current)
{
  g_return_if_fail (n > 0);
  g_array_set_size (self->photos, 0);
  g_array_append_vals (self->photos, photos, n);
  self->beside = FALSE;
  self->at[0] = self->at[1] = 0;
  for (guint i = 0; i < n; i++)
    if (photos[i] == current)
      self->at[0] = (int)i;
  for (int side = 0; side < 2; side++)
    g_clear_pointer (&self->info[side], info_free);
  sw_closer_canvas_set_zoom (canvas_of (self), 0);
  show (self);
  gtk_widget_grab_focus (self->canvas);
}

void
sw_closer_view_leave (SwCloserView *self)
{
  gint64 photo = photo_shown (self);

  if (photo == 0)
    return;
  g_array_set_size (self->photos, 0);
  self->beside = FALSE;
  self->at[0] = self->at[1] = 0;
  sw_closer_canvas_show (canvas_of (self), 0, 0, NULL, 0); /* lets go of the pixels */
  g_signal_emit (self, signals[LEFT], 0, photo);
}

void
sw_closer_view_set_zoom (SwCloserView *self, double zoom)
{
  sw_closer_canvas_set_zoom (canvas_of (self), zoom);
}

gboolean
sw_closer_view_is_idle (SwCloserView *self)
{
  return self->reading == 0 && sw_closer_canvas_is_idle (canvas_of (self));
}

/* ---- what the person does ---- */

static gboolean
follow_zoom (gpointer data)
{
  SwCloserView *self = data;
  double zoom = sw_closer_canvas_get_zoom (canvas_of (self));
  g_autofree char *text = g_strdup_printf (_ ("%.0f %%"), zoom * 100);

  self->zoom_idle = 0;
  gtk_label_set_text (GTK_LABEL (self->zoom), zoom > 0 ? text : "");
  gtk_widget_set_sensitive (self->whole, !sw_closer_canvas_is_whole (canvas_of (self)));
  return G_SOURCE_REMOVE;
}

/* The scale follows the size too, while sizes are being given out. */
static void
on_zoomed (SwCloserView *self)
{
  if (self->zoom_idle == 0)
    self->zoom_idle = g_idle_add (follow_zoom, self);
}

static void
on_previous (SwCloserView *self)
{
  step (self, -1);
}

static void
on_next (SwCloserView *self)
{
  step (self, 1);
}

static void
on_step (SwCloserView *self, int by)
{
  step (self, by);
}

static void
on_first (SwCloserView *self)
{
  step (self, -(int)self->photos->len);
}

static void
on_last (SwCloserView *self)
{
  step (self, (int)self->photos->len);
}

static void
on_nearer (SwCloserView *self)
{
  sw_closer_canvas_step_zoom (canvas_of (self), 1);
}

static void
on_farther (SwCloserView *self)
{
  sw_closer_canvas_step_zoom (canvas_of (self), -1);
}

static void
on_whole (SwCloserView *self)
{
  sw_closer_view_set_zoom (self, 0);
}

static void
on_pixels (SwCloserView *self)
{
  sw_closer_view_set_zoom (self, 1);
}

static void
on_pixels_doubled (SwCloserView *self)
{
  sw_closer_view_set_zoom (self, 2);
}

static void
on_beside (SwCloserView *self)
{
  sw_closer_view_set_beside (self, !self->beside);
}

static void
on_beside_toggled (GtkToggleButton *button, SwCloserView *self)
{
  if (!self->following)
    sw_closer_view_set_beside (self, gtk_toggle_button_get_active (button));
}

static void
on_chosen (SwCloserView *self)
{
  show (self);
}

static void
on_other (SwCloserView *self)
{
  if (!self->beside)
    return;
  sw_closer_canvas_choose (canvas_of (self), 1 - chosen (self));
  show (self);
}

static void
turn_by (SwCloserView *self, int quarters)
{
  gint64 photo = photo_shown (self);

  if (photo != 0 && gtk_widget_is_sensitive (self->turn))
    sw_act_photo_turn (self->store, photo, quarters);
}

static void
on_turn (SwCloserView *self)
{
  turn_by (self, 1);
}

static void
on_turn_back (SwCloserView *self)
{
  turn_by (self, -1);
}

static void
on_cover (SwCloserView *self)
{
  const Info *info = self->info[chosen (self)];

  if (self->following || info == NULL || !gtk_widget_is_sensitive (self->cover))
    return;
  sw_act_item_cover (self->store, info->item, 0, info->is_chosen ? 0 : info->photo);
}

static gboolean
on_key (GtkWidget *widget, GdkEventKey *event, SwCloserView *self)
{
  static const struct
  {
    guint key;
    void (*act) (SwCloserView *self);
  } keys[] = {
    { GDK_KEY_Escape, sw_closer_view_leave },
    { GDK_KEY_Page_Up, on_previous },
    { GDK_KEY_KP_Page_Up, on_previous },
    { GDK_KEY_Page_Down, on_next },
    { GDK_KEY_KP_Page_Down, on_next },
    { GDK_KEY_Home, on_first },
    { GDK_KEY_End, on_last },
    { GDK_KEY_plus, on_nearer },
    { GDK_KEY_equal, on_nearer },
    { GDK_KEY_KP_Add, on_nearer },
    { GDK_KEY_minus, on_farther },
    { GDK_KEY_KP_Subtract, on_farther },
    { GDK_KEY_0, on_whole },
    { GDK_KEY_KP_0, on_whole },
    { GDK_KEY_1, on_pixels },
    { GDK_KEY_KP_1, on_pixels },
    { GDK_KEY_2, on_pixels_doubled },
    { GDK_KEY_KP_2, on_pixels_doubled },
    { GDK_KEY_b, on_beside },
    { GDK_KEY_x, on_other },
    { GDK_KEY_t, on_turn },
    { GDK_KEY_T, on_turn_back },
    { GDK_KEY_c, on_cover },
  };
  guint held = event->state & gtk_accelerator_get_default_mod_mask ();

  if ((held & ~(guint)GDK_SHIFT_MASK) != 0)
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    if (event->keyval == keys[i].key)
      {
        keys[i].act (self);
        return TRUE;
      }
  return FALSE;
}

/* ---- object ---- */

void
sw_closer_view_set_store (SwCloserView *self, SwStore *store, SwPictures *pictures)
{
  if (self->store != NULL)
    g_clear_signal_handler (&self->changed_id, self->store);
  g_array_set_size (self->photos, 0);
  self->beside = FALSE;
  for (int side = 0; side < 2; side++)
    g_clear_pointer (&self->info[side], info_free);
  g_set_object (&self->store, store);
  sw_closer_canvas_show (canvas_of (self), 0, 0, NULL, 0);
  sw_closer_canvas_set_source (canvas_of (self), pictures,
                               store != NULL ? sw_store_picture_source (store) : NULL);
  if (store != NULL)
    self->changed_id = g_signal_connect_swapped (store, "changed", G_CALLBACK (read_info), self);
}

static void
sw_closer_view_dispose (GObject *object)
{
  SwCloserView *self = SW_CLOSER_VIEW (object);

  if (self->canvas != NULL)
    sw_closer_view_set_store (self, NULL, NULL);
  self->canvas = NULL;
  g_clear_handle_id (&self->zoom_idle, g_source_remove);
  G_OBJECT_CLASS (sw_closer_view_parent_class)->dispose (object);
}

static void
sw_closer_view_finalize (GObject *object)
{
  g_array_unref (SW_CLOSER_VIEW (object)->photos);
  G_OBJECT_CLASS (sw_closer_view_parent_class)->finalize (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwCloserView, name)
#define CALL(name) gtk_widget_class_bind_template_callback (widget, name)

static void
sw_closer_view_class_init (SwCloserViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_closer_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = sw_closer_view_finalize;
  g_type_ensure (SW_TYPE_CLOSER_CANVAS);
  g_type_ensure (SW_TYPE_SIDE_BOX);
  signals[SHOWN] = g_signal_new ("shown", SW_TYPE_CLOSER_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[LEFT] = g_signal_new ("left", SW_TYPE_CLOSER_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, G_TYPE_INT64);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/closer-view.ui");
  BIND (canvas);
  BIND (previous);
  BIND (next);
  BIND (zoom);
  BIND (whole);
  BIND (pixels);
  BIND (beside_button);
  BIND (turn);
  BIND (cover);
  CALL (on_zoomed);
  CALL (on_chosen);
  CALL (on_step);
  CALL (on_previous);
  CALL (on_next);
  CALL (on_nearer);
  CALL (on_farther);
  CALL (on_whole);
  CALL (on_pixels);
  CALL (on_beside_toggled);
  CALL (on_turn);
  CALL (on_cover);
}

static void
sw_closer_view_init (SwCloserView *self)
{
  self->photos = g_array_new (FALSE, FALSE, sizeof (gint64));
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect (self, "key-press-event", G_CALLBACK (on_key), self);
}
