/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet of one item. Shows what sheet-data.c read and sends acts; rules and sums are core's. */
#include "app/item-sheet.h"

#include "app/about-box.h"
#include "app/choice.h"
#include "app/item-acts.h"
#include "app/item-chooser.h"
#include "app/item-fields.h"
#include "app/photo-adder.h"
#include "app/photo-view.h"
#include "app/sheet-data.h"
#include "app/sort-acts.h"
#include "app/pack-form.h"
#include "app/put-up-form.h"
#include "app/side-box.h"
#include "app/step-form.h"
#include "app/text.h"
#include "app/widgets.h"

struct _SwItemSheet
{
  GtkBox parent;
  SwStore *store;
  SwPictures *pictures;
  gint64 item;
  SwSheetData *data; /* NULL until read */
  GCancellable *cancellable;
  GtkWidget *stack, *photos, *caption, *give_button, *off_button, *cover_button, *add_button;
  GtkWidget *state_icon, *state_label, *number_label, *name, *count, *asking, *each, *place;
  GtkWidget *step_count, *step_count_box, *step_count_label, *steps, *blocked;
  GtkWidget *warnings, *about, *history;
  GtkWidget *split_button, *lot_button, *more, *more_button;
  GtkWidget *chooser, *joiner, *adder;
  SwItemFields fields;
};

G_DEFINE_TYPE (SwItemSheet, sw_item_sheet, GTK_TYPE_BOX)

/* ---- filling ---- */

static void
fill_places (SwItemSheet *self)
{
  const SwOverview *overview = sw_store_overview (self->store);

  sw_choice_begin (self->place);
  for (guint i = 0; i < overview->places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (overview->places, i);
      sw_choice_add (self->place, place->id, place->path);
    }
  sw_choice_end (self->place, self->data->item->place);
}

static void
fill_fields (SwItemSheet *self)
{
  const SwItem *item = self->data->item;
  g_autofree char *number
      = self->data->tags != NULL
            ? g_strdup_printf (_ ("Item %" PRId64 ", %s"), item->id, self->data->tags)
            : g_strdup_printf (_ ("Item %" PRId64), item->id);
  g_autofree char *each = NULL;

  gtk_image_set_from_icon_name (GTK_IMAGE (self->state_icon), sw_state_icon (item->state),
                                GTK_ICON_SIZE_BUTTON);
  gtk_label_set_text (GTK_LABEL (self->state_label), _ (sw_state_word (item->state)));
  gtk_label_set_text (GTK_LABEL (self->number_label), number);
  sw_item_fields_show (&self->fields, item);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->asking),
                                  sw_store_overview (self->store)->currency.code);
  if (item->has_asking && item->count > 1)
    {
      g_autofree char *money = sw_store_money (self->store, self->data->each);
      each = g_strdup_printf (_ ("%s each"), money);
    }
  gtk_label_set_text (GTK_LABEL (self->each), each != NULL ? each : "");
  fill_places (self);
}

static void
on_step (GtkButton *button, SwItemSheet *self)
{
  SwState to = (SwState)GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "sw-state"));
  gint64 count;

  if (self->data == NULL)
    return;
  gtk_spin_button_update (GTK_SPIN_BUTTON (self->step_count)); /* takes what was typed */
  count = gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (self->step_count));
  if (count >= self->data->item->count)
    count = 0;
  if (sw_step_form_is_for (to))
    sw_step_form_ask (self->steps, GTK_WIDGET (button), self->store, self->item, count, to);
  else
    sw_act_item_move (self->store, self->item, to, count, NULL, NULL);
}

static void
add_step (SwItemSheet *self, SwState to, const char *why_not)
{
  GtkWidget *button = gtk_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *child;

  gtk_container_add (GTK_CONTAINER (box),
                     gtk_image_new_from_icon_name (sw_state_icon (to), GTK_ICON_SIZE_BUTTON));
  gtk_container_add (GTK_CONTAINER (box), gtk_label_new (_ (sw_state_word (to))));
  gtk_container_add (GTK_CONTAINER (button), box);
  atk_object_set_name (gtk_widget_get_accessible (button), _ (sw_state_word (to)));
  g_object_set_data (G_OBJECT (button), "sw-state", GINT_TO_POINTER (to));
  g_signal_connect (button, "clicked", G_CALLBACK (on_step), self);
  if (why_not != NULL)
    {
      gtk_widget_set_sensitive (button, FALSE);
      gtk_widget_set_tooltip_text (button, why_not);
      atk_object_set_description (gtk_widget_get_accessible (button), why_not);
    }
  gtk_container_add (GTK_CONTAINER (self->steps), button);
  child = gtk_widget_get_parent (button);
  gtk_widget_set_can_focus (child, FALSE);
  atk_object_set_role (gtk_widget_get_accessible (child), ATK_ROLE_FILLER);
  gtk_widget_show_all (child);
}

static void
fill_steps (SwItemSheet *self)
{
  const SwItem *item = self->data->item;
  guint next = sw_state_next (item->state);
  g_autofree char *of = g_strdup_printf (_ ("of %" PRId64), item->count);
  const char *blocked = NULL;

  sw_container_empty (self->steps);
  for (int i = 0; i < SW_N_STATES; i++)
    if (next & (1u << i))
      {
        add_step (self, (SwState)i, self->data->why_not[i]);
        if (i == SW_STATE_READY)
          blocked = self->data->why_not[i];
      }
  gtk_spin_button_set_range (GTK_SPIN_BUTTON (self->step_count), 1, (double)MAX (1, item->count));
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->step_count), (double)item->count);
  gtk_label_set_text (GTK_LABEL (self->step_count_label), of);
  gtk_widget_set_visible (self->step_count_box, item->count > 1 && next != 0);
  gtk_label_set_text (GTK_LABEL (self->blocked),
                      next == 0 ? _ ("The end of its way. Undo leads back.") : blocked);
  gtk_widget_set_visible (self->blocked, next == 0 || blocked != NULL);
}

static void
fill_warnings (SwItemSheet *self)
{
  const SwItem *item = self->data->item;
  g_autoptr (GList) lines = NULL;

  sw_container_empty (self->warnings);
  if (item->has_hold)
    {
      g_autofree char *day = sw_day_written (item->hold_until);
      g_autofree char *text
          = g_strdup_printf (_ ("Kept back for %s until %s."), item->hold_for, day);
      sw_container_add_line (self->warnings, text, NULL);
    }
  if (item->claim != SW_CLAIM_NONE)
    {
      g_autofree char *text = g_strdup_printf (
          item->claim == SW_CLAIM_MINE ? _ ("%s wants it.") : _ ("%s has still to say."),
          item->claim_by != NULL ? item->claim_by : _ ("Somebody"));
      sw_container_add_line (self->warnings, text, NULL);
    }
  if (item->never_offer)
    sw_container_add_line (
        self->warnings,
        _ ("Never offer before it is cleared. Ask the authority or a licensed person first."),
        NULL);
  if (item->clash)
    sw_container_add_line (self->warnings,
                           _ ("More than one person says it is theirs: settle that first."), NULL);
  if (item->lot != 0)
    {
      g_autofree char *text = g_strdup_printf (_ ("In the lot ‘%s’."), item->lot_name);
      sw_container_add_line (self->warnings, text, NULL);
    }
  if (self->data->origin != NULL)
    {
      g_autofree char *text = g_strdup_printf (_ ("Split from item %" PRId64 ", %s."), item->origin,
                                               self->data->origin);
      sw_container_add_line (self->warnings, text, NULL);
    }
  lines = gtk_container_get_children (GTK_CONTAINER (self->warnings));
  gtk_widget_set_visible (self->warnings, lines != NULL);
}

static void
fill_history (SwItemSheet *self)
{
  const SwSheetData *data = self->data;

  sw_container_empty (self->history);
  for (guint i = 0; i < data->events->len; i++)
    {
      const SwEvent *event = g_ptr_array_index (data->events, i);
      g_autofree char *text = g_strdup_printf (event->undone ? _ ("%s: %s (undone)") : "%s: %s",
                                               data->event_days[i], event->sentence);
      sw_container_add_line (self->history, text, event->undone ? "dim-label" : NULL);
    }
}

static void
show_caption (SwItemSheet *self)
{
  gint64 photo = sw_photo_view_get_photo (SW_PHOTO_VIEW (self->photos));
  const char *caption = "";

  for (guint i = 0; self->data != NULL && i < self->data->n_photos; i++)
    if (self->data->photos[i] == photo)
      caption = self->data->captions[i];
  gtk_label_set_text (GTK_LABEL (self->caption), caption);
  gtk_widget_set_sensitive (self->give_button, photo != 0);
  gtk_widget_set_sensitive (self->off_button, photo != 0);
  gtk_widget_set_sensitive (self->split_button,
                            photo != 0 && self->data != NULL && self->data->n_photos > 1);
  gtk_widget_set_sensitive (self->cover_button, photo != 0 && self->data != NULL
                                                    && photo != self->data->item->first_photo);
}

static void
fill (SwItemSheet *self)
{
  self->fields.filling = TRUE;
  fill_fields (self);
  fill_steps (self);
  fill_warnings (self);
  sw_about_box_show (SW_ABOUT_BOX (self->about), self->data);
  gtk_widget_set_visible (self->lot_button, self->data->item->lot != 0);
  fill_history (self);
  sw_photo_view_set_photos (SW_PHOTO_VIEW (self->photos), self->data->photos,
                            (const char *const *)self->data->captions, self->data->n_photos);
  show_caption (self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "sheet");
  self->fields.filling = FALSE;
}

/* ---- reading ---- */

static void
on_read (GObject *object, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (SwItemSheet) self = user_data;
  g_autoptr (SwSheetData) data = NULL;

  if (self->store == NULL)
    return;
  data = sw_store_finish (self->store, result, NULL);
  if (data == NULL || data->item->id != self->item)
    return;
  g_autoptr (SwSheetData) old = self->data; /* the widgets look at it until they are filled */
  self->data = g_steal_pointer (&data);
  fill (self);
  if (old != NULL && old->item->id == self->item)
    sw_item_fields_wait (&self->fields); /* what was typed meanwhile */
}

static void
load (SwItemSheet *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  if (self->item == 0 || self->store == NULL)
    return;
  self->cancellable = g_cancellable_new ();
  sw_store_read (self->store, SW_RANK_VISIBLE, sw_sheet_data_read,
                 g_memdup2 (&self->item, sizeof self->item), g_free, sw_sheet_data_free,
                 self->cancellable, on_read, g_object_ref (self));
}

/* ---- what the person does ---- */

static void
save_all (SwItemSheet *self)
{
  sw_item_fields_save (&self->fields);
}

/* Before another item is shown, or none. */
static void
flush (SwItemSheet *self)
{
  sw_item_fields_leave (&self->fields);
  sw_choice_leave (self->place);
  sw_about_box_leave (SW_ABOUT_BOX (self->about));
}

static void
on_entry_changed (GtkWidget *entry, SwItemSheet *self)
{
  sw_item_fields_typed (&self->fields, entry);
}

static void
on_entry_activate (GtkWidget *entry, SwItemSheet *self)
{
  sw_item_fields_take (&self->fields, entry);
}

static gboolean
on_entry_left (GtkWidget *entry, GdkEvent *event, SwItemSheet *self)
{
  sw_item_fields_take (&self->fields, entry);
  return FALSE;
}

static gboolean
on_entry_key (GtkWidget *entry, GdkEventKey *event, SwItemSheet *self)
{
  return event->keyval == GDK_KEY_Escape && sw_item_fields_put_back (&self->fields, entry);
}

static void
on_place_taken (gpointer data, gint64 place)
{
  SwItemSheet *self = data;

  sw_act_item_place (self->store, self->item, self->data->item->revision, place,
                     G_OBJECT (self->place), sw_choice_settle);
}

static void
on_give (SwItemSheet *self)
{
  if (self->chooser == NULL)
    return;
  sw_item_chooser_ask (SW_ITEM_CHOOSER (self->chooser), NULL, 0, self->item);
}

/* A decision about the photo shown. */
static void
send_photo (SwItemSheet *self, SwSortKind kind, gint64 item)
{
  gint64 photo = sw_photo_view_get_photo (SW_PHOTO_VIEW (self->photos));
  SwSort *sort;

  if (photo == 0)
    return;
  sort = sw_sort_new (kind, 0, NULL, NULL);
  g_array_append_val (sort->photos, photo);
  sort->item = item;
  sw_sort_send (self->store, sort, NULL, NULL);
}

static void
on_chosen (SwItemChooser *chooser, gint64 item, SwItemSheet *self)
{
  send_photo (self, SW_SORT_GIVE, item);
}

static void
on_off (SwItemSheet *self)
{
  send_photo (self, SW_SORT_OPEN, 0);
}

static void
on_add (SwItemSheet *self)
{
  if (self->adder != NULL)
    sw_photo_adder_ask (SW_PHOTO_ADDER (self->adder), self->item);
}

static void
on_cover (SwItemSheet *self)
{
  gint64 photo = sw_photo_view_get_photo (SW_PHOTO_VIEW (self->photos));

  if (photo != 0 && self->data != NULL)
    sw_act_item_cover (self->store, self->item, self->data->item->revision, photo);
}

static void
on_photo_moved (SwItemSheet *self, gint64 photo, int to)
{
  sw_act_item_photo_move (self->store, self->item, photo, to);
}

static void
on_split (SwItemSheet *self)
{
  gint64 photo = sw_photo_view_get_photo (SW_PHOTO_VIEW (self->photos));

  if (photo != 0 && self->data != NULL)
    sw_act_item_split_photo (self->store, self->item, photo);
}

static void
on_join (SwItemSheet *self)
{
  gtk_popover_popdown (GTK_POPOVER (self->more));
  sw_item_chooser_ask (SW_ITEM_CHOOSER (self->joiner), NULL, 0, self->item);
}

static void
on_joined (SwItemChooser *chooser, gint64 other, SwItemSheet *self)
{
  sw_act_item_join (self->store, self->item, other);
}

static void
on_put_up (SwItemSheet *self)
{
  sw_put_up_form_show (GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self))), self->store,
                       &self->item, 1);
}

static void
on_pack (SwItemSheet *self)
{
  gtk_popover_popdown (GTK_POPOVER (self->more));
  sw_pack_form_open_items (GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self))), self->store,
                           &self->item, 1, NULL);
}

static void
on_break_up (SwItemSheet *self)
{
  g_autoptr (SwSay) say = sw_say_new (SW_SAY_BREAK_UP, self->item, 0);

  gtk_popover_popdown (GTK_POPOVER (self->more));
  if (self->data != NULL)
    sw_about_box_open (SW_ABOUT_BOX (self->about), say);
}

static void
on_leave_lot (SwItemSheet *self)
{
  sw_act_item_leave_lot (self->store, self->item);
}

/* ---- object ---- */

static void
sw_item_sheet_dispose (GObject *object)
{
  SwItemSheet *self = SW_ITEM_SHEET (object);

  if (self->store != NULL && self->data != NULL)
    flush (self);
  sw_item_fields_clear (&self->fields);
  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->store);
  g_clear_object (&self->pictures);
  g_clear_pointer (&self->data, sw_sheet_data_free);
  self->chooser = self->joiner = self->adder = NULL;
  G_OBJECT_CLASS (sw_item_sheet_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwItemSheet, name)

static void
sw_item_sheet_class_init (SwItemSheetClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_item_sheet_dispose;
  g_type_ensure (SW_TYPE_ABOUT_BOX);
  g_type_ensure (SW_TYPE_PHOTO_VIEW);
  g_type_ensure (SW_TYPE_SIDE_BOX);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/item-sheet.ui");
  BIND (stack);
  BIND (photos);
  BIND (caption);
  BIND (give_button);
  BIND (off_button);
  BIND (add_button);
  BIND (cover_button);
  BIND (state_icon);
  BIND (state_label);
  BIND (number_label);
  BIND (name);
  BIND (count);
  BIND (asking);
  BIND (each);
  BIND (place);
  BIND (step_count);
  BIND (step_count_box);
  BIND (step_count_label);
  BIND (steps);
  BIND (blocked);
  BIND (warnings);
  BIND (about);
  BIND (split_button);
  BIND (lot_button);
  BIND (more);
  BIND (more_button);
  BIND (history);
  gtk_widget_class_bind_template_callback (widget, on_entry_activate);
  gtk_widget_class_bind_template_callback (widget, on_entry_left);
  gtk_widget_class_bind_template_callback (widget, on_entry_key);
  gtk_widget_class_bind_template_callback (widget, on_entry_changed);
  gtk_widget_class_bind_template_callback (widget, on_split);
  gtk_widget_class_bind_template_callback (widget, on_join);
  gtk_widget_class_bind_template_callback (widget, on_pack);
  gtk_widget_class_bind_template_callback (widget, on_put_up);
  gtk_widget_class_bind_template_callback (widget, on_break_up);
  gtk_widget_class_bind_template_callback (widget, on_leave_lot);
  gtk_widget_class_bind_template_callback (widget, on_give);
  gtk_widget_class_bind_template_callback (widget, on_off);
  gtk_widget_class_bind_template_callback (widget, on_add);
  gtk_widget_class_bind_template_callback (widget, on_cover);
  gtk_widget_class_bind_template_callback (widget, on_photo_moved);
  gtk_widget_class_bind_template_callback (widget, show_caption);
}

static void
sw_item_sheet_init (SwItemSheet *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->fields.name = self->name;
  self->fields.count = self->count;
  self->fields.asking = self->asking;
}

void
sw_item_sheet_set_store (SwItemSheet *self, SwStore *store, SwPictures *pictures)
{
  self->store = g_object_ref (store);
  self->fields.store = store;
  self->pictures = g_object_ref (pictures);
  sw_photo_view_set_pictures (SW_PHOTO_VIEW (self->photos), pictures);
  sw_choice_set_up (self->place, store, on_place_taken, self);
  sw_about_box_set_store (SW_ABOUT_BOX (self->about), store);
  self->chooser = sw_item_chooser_new (self->give_button, store, pictures);
  self->joiner = sw_item_chooser_new (self->more_button, store, pictures);
  self->adder = sw_photo_adder_new (self->add_button, store, pictures);
  g_signal_connect (self->chooser, "chosen", G_CALLBACK (on_chosen), self);
  g_signal_connect (self->joiner, "chosen", G_CALLBACK (on_joined), self);
  g_signal_connect_object (store, "changed", G_CALLBACK (load), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (store, "settle", G_CALLBACK (save_all), self, G_CONNECT_SWAPPED);
}

void
sw_item_sheet_set_item (SwItemSheet *self, gint64 item)
{
  if (self->item == item)
    return;
  if (self->data != NULL)
    flush (self);
  self->item = item;
  g_clear_pointer (&self->data, sw_sheet_data_free);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), item == 0 ? "none" : "sheet");
  load (self);
}

gboolean
sw_item_sheet_look_closer (SwItemSheet *self)
{
  return self->data != NULL && sw_photo_view_look_closer (SW_PHOTO_VIEW (self->photos));
}
