/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Goes through the finds and joins photos, form and what is said about the round. What is shown was
 * read in one go (decide-data.c); no rule and no sum. */
#include "app/decide-view.h"

#include "app/photo-view.h"
#include "app/decide-form.h"
#include "app/side-box.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/like-things.h"

#include <string.h>

struct _SwDecideView
{
  GtkBox parent;
  SwStore *store;
  SwDecideData *data; /* NULL: not read yet */
  gint64 place, trip;
  gint64 item;     /* shown or being read; 0: none */
  gint64 next;     /* where to go once the step that was sent stands */
  guint index;     /* where it stood in the round, for when it left it */
  GArray *visited; /* gint64, the way back */
  gboolean open;
  gboolean begins; /* the keyboard goes into the first empty field once it is read */
  gboolean has_words;
  gboolean filling;
  GCancellable *cancellable;
  GtkWidget *stack, *left, *order, *photos, *caption, *about, *form, *notes, *like_box, *like,
      *lacks_icon, *lacks, *priced, *later, *ready, *done_words, *leave;
};

enum
{
  LEFT,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwDecideView, sw_decide_view, GTK_TYPE_BOX)

static void load (SwDecideView *self);

static SwDecideForm *
form_of (SwDecideView *self)
{
  return SW_DECIDE_FORM (self->form);
}

static const SwItem *
item_of (SwDecideView *self)
{
  return self->data != NULL && self->data->sheet != NULL ? self->data->sheet->item : NULL;
}

/* ---- filling ---- */

/* "5 wait: 2 to be priced, 1 later"; NULL where nothing waits. Transfer full. */
static char *
waiting_words (const SwDecideRound *round)
{
  static const char *const words[SW_N_PUT_OFFS] = {
    [SW_PUT_OFF_LATER] = N_ ("put off till later"),
    [SW_PUT_OFF_PRICE] = N_ ("to be priced"),
    [SW_PUT_OFF_ASK] = N_ ("for an answer"),
    [SW_PUT_OFF_JOB] = N_ ("for a job on site"),
  };
  g_autoptr (GString) text = g_string_new (NULL);
  guint n = 0;

  for (int why = SW_PUT_OFF_NOT + 1; why < SW_N_PUT_OFFS; why++)
    {
      if (round->waiting[why] == 0)
        continue;
      g_string_append_printf (text, "%s%u %s", n > 0 ? ", " : "", round->waiting[why],
                              _ (words[why]));
      n += round->waiting[why];
    }
  return n > 0 ? g_strdup_printf (n == 1 ? _ ("%u waits: %s") : _ ("%u wait: %s"), n, text->str)
               : NULL;
}

static void
show_left (SwDecideView *self)
{
  static const char *const orders[SW_N_DECIDE_ORDERS] = {
    [SW_DECIDE_BY_PLACE] = N_ ("by place"),
    [SW_DECIDE_BY_WORTH] = N_ ("dearest first"),
    [SW_DECIDE_BY_DUE] = N_ ("soonest up first"),
  };
  const SwDecideRound *round = self->data->round;
  guint left = round->waiting[SW_PUT_OFF_NOT];
  g_autofree char *waits = waiting_words (round);
  g_autofree char *text
      = left > 0 ? g_strdup_printf (_ ("%u left, %s."), left, _ (orders[self->data->mark.order]))
                 : g_strdup (_ ("Nothing left but what waits."));
  const SwPlace *place = sw_store_place (self->store, self->place);
  g_autofree char *scope = self->data->widened ? g_strdup (_ ("None left there; all places: "))
                           : place != NULL     ? g_strdup_printf ("%s: ", place->path)
                                               : g_strdup ("");
  g_autofree char *whole = waits != NULL ? g_strdup_printf ("%s%s %s.", scope, text, waits)
                                         : g_strdup_printf ("%s%s", scope, text);

  gtk_label_set_text (GTK_LABEL (self->left), whole);
  self->filling = TRUE;
  gtk_combo_box_set_active (GTK_COMBO_BOX (self->order), (int)self->data->mark.order);
  self->filling = FALSE;
}

static const SwDecideItem *
round_item (SwDecideView *self, guint *out_index)
{
  const GArray *items = self->data->round->items;

  for (guint i = 0; i < items->len; i++)
    {
      const SwDecideItem *each = &g_array_index (items, SwDecideItem, i);
      if (each->item != self->item)
        continue;
      *out_index = i;
      return each;
    }
  return NULL;
}

static void
show_about (SwDecideView *self)
{
  const SwItem *item = self->data->sheet->item;
  const SwDecideItem *found = round_item (self, &self->index);
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_printf (text, _ ("Item %" PRId64 ", %s"), item->id, item->place_path);
  if (item->state != SW_STATE_FOUND)
    g_string_append_printf (text, ", %s", _ (sw_state_word (item->state)));
  if (self->data->sheet->tags != NULL)
    g_string_append_printf (text, ", %s", self->data->sheet->tags);
  if (found != NULL && found->has_due)
    {
      g_autofree char *day = sw_day_written (found->due);
      g_string_append_printf (text, _ (". Up by %s to be paid before the next trip"), day);
    }
  g_string_append_c (text, '.');
  gtk_label_set_text (GTK_LABEL (self->about), text->str);
}

/* Dangers with their caution, and what stands in the way of offering it. */
static void
show_notes (SwDecideView *self)
{
  const SwItem *item = self->data->sheet->item;
  const GPtrArray *facts = self->data->sheet->facts;

  sw_container_empty (self->notes);
  if (item->never_offer)
    sw_container_add_line (
        self->notes,
        _ ("Never offer before it is cleared. Ask the authority or a licensed person first."),
        "sw-problem");
  if (item->clash)
    sw_container_add_line (self->notes,
                           _ ("More than one person says it is theirs: settle that first."),
                           "sw-problem");
  else if (item->claim != SW_CLAIM_NONE)
    {
      g_autofree char *text = g_strdup_printf (
          item->claim == SW_CLAIM_MINE ? _ ("%s wants it.") : _ ("%s has still to say."),
          item->claim_by != NULL ? item->claim_by : _ ("Somebody"));
      sw_container_add_line (self->notes, text, "sw-problem");
    }
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      const SwDanger *danger
          = strcmp (fact->kind, SW_FACT_DANGER) == 0 ? sw_danger_find (fact->text) : NULL;
      g_autofree char *text = NULL;
      if (danger == NULL)
        continue;
      text = g_strdup_printf ("%s: %s", _ (danger->word), _ (danger->caution));
      sw_container_add_line (self->notes, text, "sw-caution");
    }
}

static void
show_like (SwDecideView *self)
{
  const GPtrArray *like = self->data->like;

  sw_container_empty (self->like);
  gtk_widget_set_visible (self->like_box, like->len > 0);
  for (guint i = 0; i < like->len; i++)
    {
      const SwLikeThing *thing = g_ptr_array_index (like, i);
      g_autofree char *price = sw_store_money_with_code (self->store, thing->price);
      g_autofree char *month = sw_text_month (thing->day);
      g_autofree char *name
          = thing->count > 1 ? g_strdup_printf ("%s × %" G_GINT64_FORMAT, thing->name, thing->count)
                             : g_strdup (thing->name);
      g_autofree char *days = thing->days >= 0
                                  ? sw_text_count (thing->days, "%d day up", "%d days up")
                                  : g_strdup (_ ("without an offer"));
      g_autofree char *text
          = g_strdup_printf (_ ("%s: %s, %s, %s, %s"), name, price,
                             thing->outlet != NULL ? thing->outlet : _ ("no outlet"), days, month);
      sw_container_add_line (self->like, text, NULL);
    }
}

static void
show_step (SwDecideView *self)
{
  const SwItem *item = self->data->sheet->item;
  gboolean is_ready = item->state == SW_STATE_READY;
  g_autofree char *text = NULL;

  if (is_ready)
    text = g_strdup (_ ("It is Ready."));
  else if (self->data->lacks != NULL)
    text = g_strdup_printf (_ ("Still lacks %s."), self->data->lacks);
  else if (self->data->blocked != NULL)
    text = g_strdup (self->data->blocked);
  else
    text = g_strdup (_ ("Has all it needs to be Ready."));
  gtk_label_set_text (GTK_LABEL (self->lacks), text);
  gtk_image_set_from_icon_name (
      GTK_IMAGE (self->lacks_icon),
      is_ready || (self->data->lacks == NULL && self->data->blocked == NULL)
          ? sw_state_icon (SW_STATE_READY)
          : sw_state_icon (SW_STATE_FOUND),
      GTK_ICON_SIZE_BUTTON);
  self->filling = TRUE;
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->priced), item->waits == SW_WAITS_PRICE);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->later), item->waits == SW_WAITS_LATER);
  self->filling = FALSE;
}

static void
show_caption (SwDecideView *self)
{
  gtk_label_set_text (GTK_LABEL (self->caption),
                      sw_photo_view_get_caption (SW_PHOTO_VIEW (self->photos)));
}

static void
show_done (SwDecideView *self)
{
  g_autofree char *waits = waiting_words (self->data->round);
  g_autofree char *text
      = waits != NULL
            ? g_strdup_printf (_ ("Every find is decided but those that wait. %s."), waits)
            : g_strdup (_ ("Every find is decided."));

  gtk_label_set_text (GTK_LABEL (self->done_words), text);
  gtk_label_set_text (GTK_LABEL (self->left), "");
  gtk_widget_hide (self->order);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "done");
  gtk_widget_grab_focus (self->leave);
}

static void
fill (SwDecideView *self)
{
  const SwSheetData *sheet = self->data->sheet;

  if (sheet == NULL)
    {
      sw_decide_form_show (form_of (self), NULL);
      show_done (self);
      return;
    }
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "find");
  gtk_widget_show (self->order);
  show_left (self);
  show_about (self);
  sw_photo_view_set_photos (SW_PHOTO_VIEW (self->photos), sheet->photos,
                            (const char *const *)sheet->captions, sheet->n_photos);
  show_caption (self);
  sw_decide_form_show (form_of (self), self->data);
  show_notes (self);
  show_like (self);
  show_step (self);
  if (!self->begins)
    return;
  self->begins = FALSE;
  sw_decide_form_begin (form_of (self));
}

static void
on_read (GObject *object, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (SwDecideView) self = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (SwDecideData) data = NULL;
  g_autoptr (SwDecideData) old = NULL;

  if (self->store == NULL)
    return;
  data = sw_store_finish (self->store, result, &error);
  if (data == NULL && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    sw_store_tell (self->store, error->message, TRUE);
  if (data == NULL || !self->open)
    return;
  if (self->item != 0 && data->sheet != NULL && data->sheet->item->id != self->item)
    self->begins = TRUE; /* what was wanted is gone: another one stands in its place */
  self->has_words |= data->names != NULL;
  old = self->data; /* the form looks at it until it is shown the new one */
  self->data = g_steal_pointer (&data);
  self->item = self->data->sheet != NULL ? self->data->sheet->item->id : 0;
  fill (self);
}

static void
load (SwDecideView *self)
{
  SwDecideWish *wish;

  if (self->store == NULL || !self->open)
    return;
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  wish = g_new0 (SwDecideWish, 1);
  wish->item = self->item;
  wish->place = self->place;
  wish->trip = self->trip;
  wish->order = -1;
  wish->with_words = !self->has_words;
  sw_store_read (self->store, SW_RANK_VISIBLE, sw_decide_data_read, wish, g_free,
                 sw_decide_data_free, self->cancellable, on_read, g_object_ref (self));
}

/* ---- going from find to find ---- */

static gboolean
is_typing (SwDecideView *self)
{
  GtkWidget *top = gtk_widget_get_toplevel (GTK_WIDGET (self));
  GtkWidget *focus = GTK_IS_WINDOW (top) ? gtk_window_get_focus (GTK_WINDOW (top)) : NULL;

  return focus != NULL && (gtk_widget_is_ancestor (focus, self->form) || focus == self->ready);
}

static void
mark (SwDecideView *self, SwDecideOrder order, gint64 before)
{
  SwDecideMark now = { order, self->item, before };

  if (!sw_store_overview (self->store)->read_only)
    sw_decide_send_mark (self->store, &now);
}

static void
go (SwDecideView *self, gint64 item)
{
  gint64 before = self->item;

  self->begins = is_typing (self) || before == 0;
  sw_decide_form_flush (form_of (self));
  self->item = item;
  self->has_words = FALSE; /* what was said of this one is offered for the next */
  mark (self, self->data->mark.order, before);
  load (self);
}

/* The one after the shown one in the round; 0: there is none. */
static gint64
next_of (SwDecideView *self)
{
  const GArray *items = self->data->round->items;
  guint at = self->index;

  if (round_item (self, &at) != NULL)
    at++;
  if (at >= items->len)
    at = 0;
  if (items->len == 0 || g_array_index (items, SwDecideItem, at).item == self->item)
    return 0;
  return g_array_index (items, SwDecideItem, at).item;
}

static void
go_on (SwDecideView *self, gint64 next)
{
  if (next == 0)
    {
      sw_store_tell (self->store, _ ("There is no other find to decide."), FALSE);
      return;
    }
  g_array_append_val (self->visited, self->item);
  go (self, next);
}

static void
on_next (SwDecideView *self)
{
  if (item_of (self) != NULL)
    go_on (self, next_of (self));
}

static void
on_previous (SwDecideView *self)
{
  guint at = self->index;

  if (self->data == NULL)
    return;
  if (self->visited->len > 0)
    {
      gint64 last = g_array_index (self->visited, gint64, self->visited->len - 1);
      g_array_set_size (self->visited, self->visited->len - 1);
      go (self, last);
    }
  else if (round_item (self, &at) != NULL && at > 0)
    go (self, g_array_index (self->data->round->items, SwDecideItem, at - 1).item);
  else
    sw_store_tell (self->store, _ ("This is the first one."), FALSE);
}

static void
on_order (SwDecideView *self)
{
  int order = gtk_combo_box_get_active (GTK_COMBO_BOX (self->order));

  if (self->filling || self->data == NULL || order < 0)
    return;
  mark (self, (SwDecideOrder)order, self->data->mark.before);
  load (self);
}

/* ---- decisions ---- */

/* The step stands: the next find, or the end of the round. */
static void
on_ready_done (gpointer view, gboolean done)
{
  SwDecideView *self = view;

  if (!done || !self->open || self->data == NULL)
    return;
  if (self->next != 0)
    {
      go_on (self, self->next);
      return;
    }
  g_array_append_val (self->visited, self->item);
  self->item = 0;
  load (self);
}

static void
on_ready (SwDecideView *self)
{
  if (item_of (self) == NULL)
    return;
  sw_decide_form_flush (form_of (self));
  self->next = next_of (self);
  sw_decide_send_ready (self->store, self->item, G_OBJECT (self), on_ready_done);
}

static void
on_later_done (gpointer view, gboolean done)
{
  SwDecideView *self = view;

  if (done && self->open && self->data != NULL)
    go_on (self, self->next);
}

static void
on_later (SwDecideView *self)
{
  const SwItem *item = item_of (self);
  gboolean put_off = item != NULL && item->waits != SW_WAITS_LATER;

  if (self->filling || item == NULL)
    return;
  sw_decide_form_flush (form_of (self));
  self->next = next_of (self);
  sw_decide_send_waits (self->store, self->item, put_off ? SW_WAITS_LATER : SW_WAITS_NOT,
                        G_OBJECT (self), put_off ? on_later_done : NULL);
}

static void
on_priced (SwDecideView *self)
{
  const SwItem *item = item_of (self);

  if (self->filling || item == NULL)
    return;
  sw_decide_send_waits (self->store, self->item,
                        item->waits != SW_WAITS_PRICE ? SW_WAITS_PRICE : SW_WAITS_NOT, NULL, NULL);
}

/* The last field is through: the button that ends it has the keyboard. */
static void
on_form_done (SwDecideView *self)
{
  gtk_widget_grab_focus (self->ready);
}

static void
on_form_left (SwDecideView *self)
{
  gtk_widget_grab_focus (self->photos);
}

void
sw_decide_view_leave (SwDecideView *self)
{
  gint64 item = self->item;

  if (!self->open)
    return;
  sw_decide_form_flush (form_of (self));
  self->open = FALSE;
  g_signal_emit (self, signals[LEFT], 0, item);
}

/* ---- keys ---- */

static void
repeat (SwDecideView *self)
{
  sw_decide_form_repeat (form_of (self));
}

static void
next_photo (SwDecideView *self)
{
  sw_photo_view_next (SW_PHOTO_VIEW (self->photos), 1);
}

static void
photo_before (SwDecideView *self)
{
  sw_photo_view_next (SW_PHOTO_VIEW (self->photos), -1);
}

static void
closer (SwDecideView *self)
{
  sw_photo_view_look_closer (SW_PHOTO_VIEW (self->photos));
}

static const struct
{
  guint keyval;
  GdkModifierType modifiers;
  void (*run) (SwDecideView *self);
} commands[] = {
  { GDK_KEY_Page_Down, 0, on_next },
  { GDK_KEY_Page_Up, 0, on_previous },
  { GDK_KEY_Page_Down, GDK_CONTROL_MASK, next_photo },
  { GDK_KEY_Page_Up, GDK_CONTROL_MASK, photo_before },
  { GDK_KEY_Return, GDK_CONTROL_MASK, closer },
  { GDK_KEY_space, 0, next_photo },
  { GDK_KEY_BackSpace, 0, photo_before },
  { GDK_KEY_equal, 0, repeat },
  { GDK_KEY_y, 0, on_ready },
  { GDK_KEY_t, 0, on_later },
  { GDK_KEY_b, 0, on_priced },
  { GDK_KEY_Escape, 0, sw_decide_view_leave },
};

static gboolean
on_key (GtkWidget *widget, GdkEventKey *event, SwDecideView *self)
{
  guint modifiers = event->state & gtk_accelerator_get_default_mod_mask ();
  guint keyval = gdk_keyval_to_lower (event->keyval);

  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    if (commands[i].keyval == keyval
        && (guint)commands[i].modifiers == (modifiers & ~(guint)GDK_SHIFT_MASK))
      {
        if (item_of (self) != NULL || commands[i].run == sw_decide_view_leave
            || commands[i].run == on_previous)
          commands[i].run (self);
        return GDK_EVENT_STOP;
      }
  if ((modifiers & ~(guint)GDK_SHIFT_MASK) != 0 || item_of (self) == NULL)
    return GDK_EVENT_PROPAGATE;
  return sw_decide_form_source_key (form_of (self), keyval)
         || sw_decide_form_go (form_of (self), gdk_keyval_to_unicode (keyval));
}

/* ---- object ---- */

static void
sw_decide_view_dispose (GObject *object)
{
  SwDecideView *self = SW_DECIDE_VIEW (object);

  if (self->store != NULL)
    sw_decide_view_set_store (self, NULL, NULL);
  g_clear_pointer (&self->visited, g_array_unref);
  G_OBJECT_CLASS (sw_decide_view_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwDecideView, name)

static void
sw_decide_view_class_init (SwDecideViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_decide_view_dispose;
  signals[LEFT] = g_signal_new ("left", SW_TYPE_DECIDE_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, G_TYPE_INT64);
  g_type_ensure (SW_TYPE_PHOTO_VIEW);
  g_type_ensure (SW_TYPE_DECIDE_FORM);
  g_type_ensure (SW_TYPE_SIDE_BOX);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/decide-view.ui");
  BIND (stack);
  BIND (left);
  BIND (order);
  BIND (photos);
  BIND (caption);
  BIND (about);
  BIND (form);
  BIND (notes);
  BIND (like_box);
  BIND (like);
  BIND (lacks_icon);
  BIND (lacks);
  BIND (priced);
  BIND (later);
  BIND (ready);
  BIND (done_words);
  BIND (leave);
  gtk_widget_class_bind_template_callback (widget, on_next);
  gtk_widget_class_bind_template_callback (widget, on_previous);
  gtk_widget_class_bind_template_callback (widget, on_order);
  gtk_widget_class_bind_template_callback (widget, on_ready);
  gtk_widget_class_bind_template_callback (widget, on_later);
  gtk_widget_class_bind_template_callback (widget, on_priced);
  gtk_widget_class_bind_template_callback (widget, on_form_done);
  gtk_widget_class_bind_template_callback (widget, on_form_left);
  gtk_widget_class_bind_template_callback (widget, on_key);
  gtk_widget_class_bind_template_callback (widget, show_caption);
  gtk_widget_class_bind_template_callback (widget, sw_decide_view_leave);
}

static void
sw_decide_view_init (SwDecideView *self)
{
  self->visited = g_array_new (FALSE, FALSE, sizeof (gint64));
  gtk_widget_init_template (GTK_WIDGET (self));
  sw_photo_view_set_spread (SW_PHOTO_VIEW (self->photos));
}

void
sw_decide_view_set_store (SwDecideView *self, SwStore *store, SwPictures *pictures)
{
  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->open = FALSE;
  sw_decide_form_show (form_of (self), NULL);
  g_clear_pointer (&self->data, sw_decide_data_free);
  self->item = 0;
  g_array_set_size (self->visited, 0);
  g_set_object (&self->store, store);
  sw_decide_form_set_store (form_of (self), store);
  sw_photo_view_set_pictures (SW_PHOTO_VIEW (self->photos), pictures);
  if (store != NULL)
    g_signal_connect_object (store, "changed", G_CALLBACK (load), self, G_CONNECT_SWAPPED);
}

void
sw_decide_view_open (SwDecideView *self, gint64 place, gint64 trip)
{
  self->place = place;
  self->trip = trip;
  self->item = 0;
  self->open = self->begins = TRUE;
  self->has_words = FALSE;
  g_array_set_size (self->visited, 0);
  load (self);
}
