/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cameras above, below them one photo of the chosen camera between its neighbours in time, and
 * three ways to say how its clock goes. Each key typed shows what it would do; nothing is taken
 * before it is set. */
#include "app/clocks-form.h"

#include "app/clock-sends.h"
#include "app/order-view.h"
#include "app/stop-words.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/base/text.h"
#include "core/match/clock-order.h"
#include "core/match/clock-words.h"

#include <math.h>

/* Which of the three the preview goes by: the one touched last. */
typedef enum
{
  BY_NONE,
  BY_SHIFT,
  BY_SEEN,
  BY_SAME,
} Way;

/* Less than a clock shows. */
#define SAME_SHIFT_S 0.5

struct _SwClocksForm
{
  GtkBox parent;
  SwStore *store;
  gulong changed_id;
  GCancellable *cancellable;
  guint reading;
  gint64 trip, camera, photo; /* numbers; 0: none */
  SwClockOrder *order;        /* NULL before it is read */
  int at_camera;              /* index into order->cameras, -1: none */
  guint at_photo;             /* index into order->photos */
  Way way;
  gboolean has_change;
  SwClockChange change;
  gboolean filling;
  GtkWidget *leave, *title, *cameras, *none, *camera_box, *order_view, *earlier, *later, *caption,
      *effect, *shift, *set_shift, *from_here, *seen, *set_seen, *forget_seen, *same_child, *same,
      *set_same, *problem, *automatic;
};

enum
{
  LEAVE,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwClocksForm, sw_clocks_form, GTK_TYPE_BOX)

static SwOrderCamera *
camera_at (SwClocksForm *self, int index)
{
  return g_ptr_array_index (self->order->cameras, (guint)index);
}

static const SwOrderPhoto *
photo_of (SwClocksForm *self)
{
  return g_ptr_array_index (self->order->photos, self->at_photo);
}

static gboolean
is_writable (SwClocksForm *self)
{
  return !sw_store_overview (self->store)->read_only;
}

static gboolean
is_from_here (SwClocksForm *self)
{
  return gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->from_here));
}

/* ---- what a change would do ---- */

/* "12 photos get another time; 7 of them go past photos that keep theirs." */
static char *
effect_text (SwClocksForm *self)
{
  SwOrderEffect effect = sw_clock_order_effect (self->order, &self->change);
  g_autofree char *changed = sw_text_count (effect.n_changed, "%d photo gets another time",
                                            "%d photos get another time");
  g_autofree char *passing
      = sw_text_count (effect.n_passing, "%d goes past photos that keep theirs",
                       "%d go past photos that keep theirs");
  g_autofree char *outside
      = sw_text_count (effect.n_outside, "%d lies outside the trip’s days then",
                       "%d lie outside the trip’s days then");
  GString *text = g_string_new (changed);

  if (effect.n_changed == 0)
    g_string_assign (text, _ ("No photo gets another time"));
  else if (effect.n_passing == 0 && self->order->cameras->len > 1)
    g_string_append (text, _ (", their order stays"));
  else if (effect.n_passing > 0)
    g_string_append_printf (text, "; %s", passing);
  if (effect.n_outside > 0)
    g_string_append_printf (text, "; %s", outside);
  g_string_append_c (text, '.');
  return g_string_free (text, FALSE);
}

static void
show_preview (SwClocksForm *self)
{
  g_autofree char *text = self->has_change ? effect_text (self) : g_strdup ("");
  gboolean writable = is_writable (self);

  sw_order_view_set (SW_ORDER_VIEW (self->order_view), self->order, self->at_photo,
                     self->has_change ? &self->change : NULL);
  gtk_label_set_text (GTK_LABEL (self->effect), text);
  gtk_widget_set_visible (self->effect, self->has_change);
  gtk_widget_set_sensitive (self->set_shift, writable && self->way == BY_SHIFT);
  gtk_widget_set_sensitive (self->set_seen, writable && self->way == BY_SEEN);
  gtk_widget_set_sensitive (self->set_same, writable && self->way == BY_SAME && self->has_change);
}

static void
set_problem (SwClocksForm *self, const char *problem)
{
  gtk_label_set_text (GTK_LABEL (self->problem), problem != NULL ? problem : "");
  gtk_widget_set_visible (self->problem, problem != NULL);
  if (problem != NULL)
    g_signal_emit_by_name (gtk_widget_get_accessible (self->problem), "announcement", problem);
}

/* No preview while what is typed makes no sense yet: a problem is told on setting alone. */
static void
preview (SwClocksForm *self, Way way, gboolean valid, double shift_s)
{
  self->way = way;
  self->has_change = valid;
  self->change
      = (SwClockChange){ .camera = self->at_camera,
                         .from = is_from_here (self) && way == BY_SHIFT ? (int)self->at_photo : -1,
                         .shift_s = shift_s };
  set_problem (self, NULL);
  show_preview (self);
}

static gboolean
typed_shift (SwClocksForm *self, double *out_shift)
{
  return sw_clock_shift_parse (gtk_entry_get_text (GTK_ENTRY (self->shift)), out_shift);
}

static void
on_shift_typed (SwClocksForm *self)
{
  double shift = 0;
  gboolean valid = typed_shift (self, &shift);

  if (!self->filling)
    preview (self, BY_SHIFT, valid, shift);
}

static void
on_from_here (SwClocksForm *self)
{
  on_shift_typed (self);
}

static void
on_seen_typed (SwClocksForm *self)
{
  const char *text = gtk_entry_get_text (GTK_ENTRY (self->seen));
  double shift = 0;
  gboolean valid;

  if (self->filling)
    return;
  valid = sw_clock_order_seen (self->order, self->at_photo, text, &shift, NULL);
  preview (self, *text != '\0' ? BY_SEEN : BY_NONE, valid, shift);
}

/* The other camera, NULL where none is chosen. */
static const SwPairingClock *
other_clock (SwClocksForm *self)
{
  const char *id = gtk_combo_box_get_active_id (GTK_COMBO_BOX (self->same));

  return id != NULL ? &camera_at (self, (int)g_ascii_strtoll (id, NULL, 10))->clock : NULL;
}

static void
on_same (SwClocksForm *self)
{
  const SwPairingClock *other = self->filling ? NULL : other_clock (self);

  if (other != NULL)
    preview (self, BY_SAME, TRUE, other->shift_s);
}

/* ---- setting ---- */

static gint64
from_photo (SwClocksForm *self)
{
  return is_from_here (self) ? photo_of (self)->photo : 0;
}

static void
on_set_shift (SwClocksForm *self)
{
  double shift;

  if (!is_writable (self))
    return;
  if (typed_shift (self, &shift))
    sw_clock_send_shift (self->store, self->camera, self->trip, from_photo (self), &shift);
  else
    set_problem (self, _ ("Write what is added as +1:00:00 or -0:00:40 (hours:minutes:seconds), or "
                          "in seconds."));
}

static void
on_set_seen (SwClocksForm *self)
{
  const char *text = gtk_entry_get_text (GTK_ENTRY (self->seen));
  g_autoptr (GError) error = NULL;
  double shift;

  if (!is_writable (self))
    return;
  if (sw_clock_order_seen (self->order, self->at_photo, text, &shift, &error))
    sw_clock_send_seen (self->store, self->camera, self->trip, photo_of (self)->photo, text);
  else
    set_problem (self, error->message);
}

static void
on_forget_seen (SwClocksForm *self)
{
  sw_clock_send_seen (self->store, self->camera, self->trip, photo_of (self)->photo, "none");
}

static void
on_set_same (SwClocksForm *self)
{
  const SwPairingClock *other = other_clock (self);

  if (other != NULL)
    sw_clock_send_shift (self->store, self->camera, self->trip, 0, &other->shift_s);
}

static void
on_automatic (SwClocksForm *self)
{
  sw_clock_send_shift (self->store, self->camera, self->trip, 0, NULL);
}

/* ---- the photo in the middle ---- */

static const SwClockFace *
face_of_photo (SwClocksForm *self)
{
  const GArray *faces = camera_at (self, self->at_camera)->clock.faces;

  for (guint k = 0; k < faces->len; k++)
    if (g_array_index (faces, SwClockFace, k).photo == photo_of (self)->photo)
      return &g_array_index (faces, SwClockFace, k);
  return NULL;
}

static char *
face_text (const SwClockFace *face)
{
  SwCivil civil = sw_civil_from_us (face->seen_us);
  g_autofree char *dated = sw_civil_to_text (civil);

  if (face->dated)
    return g_steal_pointer (&dated);
  return face->resolution_s > 1
             ? g_strdup_printf ("%02d:%02d", civil.hour, civil.minute)
             : g_strdup_printf ("%02d:%02d:%02d", civil.hour, civil.minute, civil.second);
}

static void
show_photo (SwClocksForm *self)
{
  const SwOrderPhoto *photo = photo_of (self);
  const GArray *own = camera_at (self, self->at_camera)->photos;
  const SwClockFace *face = face_of_photo (self);
  g_autofree char *name = sw_text_printable (photo->file, -1);
  g_autofree char *wrote = sw_civil_to_text (sw_civil_from_us (photo->clock_us));
  g_autofree char *caption = NULL;
  g_autofree char *shift = sw_clock_shift_text (sw_clock_order_shift (self->order, self->at_photo));
  g_autofree char *seen = face != NULL ? face_text (face) : g_strdup ("");
  char *gap = strchr (wrote, 'T');

  if (gap != NULL)
    *gap = ' ';
  caption = g_strdup_printf (_ ("%s: its camera wrote %s"), name, wrote);
  self->photo = photo->photo;
  self->filling = TRUE;
  gtk_label_set_text (GTK_LABEL (self->caption), caption);
  gtk_entry_set_text (GTK_ENTRY (self->shift), shift);
  gtk_entry_set_text (GTK_ENTRY (self->seen), seen);
  gtk_combo_box_set_active (GTK_COMBO_BOX (self->same), -1);
  self->filling = FALSE;
  gtk_widget_set_visible (self->forget_seen, face != NULL);
  gtk_widget_set_sensitive (self->forget_seen, is_writable (self));
  gtk_widget_set_sensitive (self->earlier, g_array_index (own, guint, 0) != self->at_photo);
  gtk_widget_set_sensitive (self->later,
                            g_array_index (own, guint, own->len - 1) != self->at_photo);
  preview (self, BY_NONE, FALSE, 0);
}

/* Among the camera's own, by file. */
static guint
own_index (SwClocksForm *self)
{
  const GArray *own = camera_at (self, self->at_camera)->photos;

  for (guint k = 0; k < own->len; k++)
    if (g_array_index (own, guint, k) == self->at_photo)
      return k;
  return 0;
}

static void
on_go (SwClocksForm *self, int step)
{
  const GArray *own;
  gint64 to;

  if (self->at_camera < 0)
    return;
  own = camera_at (self, self->at_camera)->photos;
  to = CLAMP ((gint64)own_index (self) + step, 0, (gint64)own->len - 1);
  self->at_photo = g_array_index (own, guint, to);
  show_photo (self);
}

static void
on_earlier (SwClocksForm *self)
{
  on_go (self, -1);
}

static void
on_later (SwClocksForm *self)
{
  on_go (self, 1);
}

/* ---- cameras ---- */

static void
fill_same (SwClocksForm *self)
{
  self->filling = TRUE;
  gtk_combo_box_text_remove_all (GTK_COMBO_BOX_TEXT (self->same));
  for (int c = 0; c < (int)self->order->cameras->len; c++)
    if (c != self->at_camera)
      {
        g_autofree char *id = g_strdup_printf ("%d", c);
        gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (self->same), id,
                                   camera_at (self, c)->clock.label);
      }
  self->filling = FALSE;
  gtk_widget_set_visible (self->same_child, self->order->cameras->len > 1);
}

static gboolean
is_set (const SwPairingClock *clock)
{
  gboolean set = clock->set_by_person;

  for (guint k = 0; k < clock->parts->len; k++)
    set |= g_array_index (clock->parts, SwPairingClockPart, k).set_by_person;
  return set;
}

static void
choose_camera (SwClocksForm *self, int index)
{
  const SwOrderCamera *camera = camera_at (self, index);
  int at = sw_clock_order_find (self->order, self->photo);

  self->at_camera = index;
  self->camera = camera->clock.camera;
  if (at < 0
      || ((const SwOrderPhoto *)g_ptr_array_index (self->order->photos, (guint)at))->camera
             != index)
    at = (int)g_array_index (camera->photos, guint, 0);
  self->at_photo = (guint)at;
  fill_same (self);
  gtk_widget_set_sensitive (self->automatic, is_writable (self) && is_set (&camera->clock));
  self->filling = TRUE;
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->from_here), FALSE);
  self->filling = FALSE;
  show_photo (self);
}

static void
on_camera (SwClocksForm *self, GtkListBoxRow *row)
{
  if (row != NULL && !self->filling)
    choose_camera (self, gtk_list_box_row_get_index (row));
}

/* The camera, how many photos, and what is known of its clock, a line each. */
static GtkWidget *
camera_row (const SwOrderCamera *camera)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *label = sw_text_printable (camera->clock.label, -1);
  g_autofree char *photos = sw_text_count (camera->photos->len, "%d photo", "%d photos");
  g_autofree char *head = g_strdup_printf ("%s, %s", label, photos);
  g_autoptr (GPtrArray) words = sw_clock_words (&camera->clock);
  g_autoptr (GString) name = g_string_new (head);

  gtk_container_set_border_width (GTK_CONTAINER (box), 6);
  sw_container_add_line (box, head, "sw-state");
  for (guint k = 0; k < words->len; k++)
    {
      const char *line = g_ptr_array_index (words, k);
      sw_container_add_line (box, line, NULL);
      g_string_append_printf (name, "; %s", line);
    }
  gtk_container_add (GTK_CONTAINER (row), box);
  atk_object_set_name (gtk_widget_get_accessible (row), name->str);
  gtk_widget_show_all (row);
  return row;
}

static int
wanted_camera (SwClocksForm *self)
{
  int at = self->photo != 0 ? sw_clock_order_find (self->order, self->photo) : -1;

  for (guint c = 0; c < self->order->cameras->len && self->camera != 0; c++)
    if (camera_at (self, (int)c)->clock.camera == self->camera)
      return (int)c;
  return at >= 0
             ? ((const SwOrderPhoto *)g_ptr_array_index (self->order->photos, (guint)at))->camera
             : 0;
}

static void
show_order (SwClocksForm *self)
{
  gboolean any = self->order->cameras->len > 0;
  int wanted = any ? wanted_camera (self) : -1;

  self->filling = TRUE;
  sw_container_empty (self->cameras);
  for (guint c = 0; c < self->order->cameras->len; c++)
    gtk_container_add (GTK_CONTAINER (self->cameras), camera_row (camera_at (self, (int)c)));
  if (any)
    gtk_list_box_select_row (GTK_LIST_BOX (self->cameras),
                             gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->cameras), wanted));
  self->filling = FALSE;
  gtk_widget_set_visible (self->cameras, any);
  gtk_widget_set_visible (self->camera_box, any);
  gtk_widget_set_visible (self->none, !any);
  self->at_camera = wanted;
  if (any)
    choose_camera (self, wanted);
}

/* ---- reading ---- */

static gpointer
order_run (SwCatalogue *catalogue, gpointer trip, GCancellable *cancellable, GError **error)
{
  return sw_clock_order_read (catalogue, *(const gint64 *)trip, error);
}

static void
free_order (gpointer order)
{
  sw_clock_order_free (order);
}

static void
on_read (GObject *object, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (SwClocksForm) self = user_data;
  SwClockOrder *order;

  self->reading--;
  if (self->store == NULL)
    return;
  order = sw_store_finish (self->store, result, NULL);
  if (order == NULL)
    return;
  if (order->trip != self->trip)
    {
      sw_clock_order_free (order);
      return;
    }
  sw_order_view_set (SW_ORDER_VIEW (self->order_view), NULL, 0, NULL);
  g_clear_pointer (&self->order, sw_clock_order_free);
  self->order = order;
  show_order (self);
}

static void
load (SwClocksForm *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  self->reading++;
  sw_store_read (self->store, SW_RANK_VISIBLE, order_run,
                 g_memdup2 (&self->trip, sizeof self->trip), g_free, free_order, self->cancellable,
                 on_read, g_object_ref (self));
}

/* ---- object ---- */

static void
on_leave (SwClocksForm *self)
{
  g_signal_emit (self, signals[LEAVE], 0);
}

static gboolean
sw_clocks_form_key_press_event (GtkWidget *widget, GdkEventKey *event)
{
  if (GTK_WIDGET_CLASS (sw_clocks_form_parent_class)->key_press_event (widget, event))
    return TRUE;
  if (event->keyval != GDK_KEY_Escape)
    return FALSE;
  on_leave (SW_CLOCKS_FORM (widget));
  return TRUE;
}

static void
sw_clocks_form_dispose (GObject *object)
{
  SwClocksForm *self = SW_CLOCKS_FORM (object);

  if (self->store != NULL)
    sw_clocks_form_close (self);
  g_clear_object (&self->store);
  G_OBJECT_CLASS (sw_clocks_form_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwClocksForm, name)
#define CALLBACK(name) gtk_widget_class_bind_template_callback (widget, name)

static void
bind_children (GtkWidgetClass *widget)
{
  BIND (leave);
  BIND (title);
  BIND (cameras);
  BIND (none);
  BIND (camera_box);
  BIND (order_view);
  BIND (earlier);
  BIND (later);
  BIND (caption);
  BIND (effect);
  BIND (shift);
  BIND (set_shift);
  BIND (from_here);
  BIND (seen);
  BIND (set_seen);
  BIND (forget_seen);
  BIND (same_child);
  BIND (same);
  BIND (set_same);
  BIND (problem);
  BIND (automatic);
}

static void
bind_callbacks (GtkWidgetClass *widget)
{
  CALLBACK (on_leave);
  CALLBACK (on_camera);
  CALLBACK (on_earlier);
  CALLBACK (on_later);
  CALLBACK (on_go);
  CALLBACK (on_shift_typed);
  CALLBACK (on_set_shift);
  CALLBACK (on_from_here);
  CALLBACK (on_seen_typed);
  CALLBACK (on_set_seen);
  CALLBACK (on_forget_seen);
  CALLBACK (on_same);
  CALLBACK (on_set_same);
  CALLBACK (on_automatic);
}

static void
sw_clocks_form_class_init (SwClocksFormClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_clocks_form_dispose;
  widget->key_press_event = sw_clocks_form_key_press_event;
  g_type_ensure (SW_TYPE_ORDER_VIEW);
  signals[LEAVE] = g_signal_new ("leave", SW_TYPE_CLOCKS_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/clocks-form.ui");
  bind_children (widget);
  bind_callbacks (widget);
}

static void
sw_clocks_form_init (SwClocksForm *self)
{
  self->at_camera = -1;
  gtk_widget_init_template (GTK_WIDGET (self));
  sw_combo_ellipsize (self->same);
}

void
sw_clocks_form_set_store (SwClocksForm *self, SwStore *store, SwPictures *pictures)
{
  self->store = g_object_ref (store);
  sw_order_view_set_pictures (SW_ORDER_VIEW (self->order_view), pictures);
}

void
sw_clocks_form_open (SwClocksForm *self, gint64 trip, gint64 photo)
{
  g_autofree char *words = sw_text_trip (sw_store_trip (self->store, trip));
  g_autofree char *title = g_strdup_printf (_ ("Clocks, %s"), words);

  sw_clocks_form_close (self);
  self->trip = trip;
  self->camera = 0;
  self->photo = photo;
  gtk_label_set_text (GTK_LABEL (self->title), title);
  self->changed_id = g_signal_connect_swapped (self->store, "changed", G_CALLBACK (load), self);
  load (self);
  gtk_widget_grab_focus (self->order_view);
}

void
sw_clocks_form_close (SwClocksForm *self)
{
  g_clear_signal_handler (&self->changed_id, self->store);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->trip = 0;
  self->at_camera = -1;
  sw_order_view_set (SW_ORDER_VIEW (self->order_view), NULL, 0, NULL);
  g_clear_pointer (&self->order, sw_clock_order_free);
}

gboolean
sw_clocks_form_is_settled (SwClocksForm *self)
{
  return self->reading == 0;
}
