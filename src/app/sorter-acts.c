/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys and buttons of the sorter with the decisions they send. After a decision it goes on to the
 * next doubt. */
#include "app/sorter-private.h"

#include "app/item-chooser.h"
#include "app/item-namer.h"
#include "app/receipt-form.h"
#include "app/sort-acts.h"
#include "app/stop-words.h"
#include "app/text.h"
#include "app/window.h"
#include "core/catalogue/photos.h"

/* ---- decisions ---- */

static void
say (SwSorter *self, const char *problem)
{
  sw_store_tell (self->store, problem, TRUE);
}

static SwSort *
sort_new (SwSorter *self, SwSortKind kind, const GArray *photos, const char *text)
{
  const SwStopRecord *stop = sw_strip_view_get_stop (sw_sorter_strip (self));
  SwSort *sort = sw_sort_new (kind, self->trip, photos, text);

  sort->stop = stop != NULL ? sw_stop_key (stop) : 0;
  return sort;
}

static void
send (SwSorter *self, SwSort *sort)
{
  sw_sort_send (self->store, sort, NULL, NULL);
}

/* The strip still shows the stop as open: where it was the last one, what is proposed next may
 * bring more. Where there was another to go to, a person who comes back here is left here. */
static void
to_next_doubt (SwSorter *self)
{
  gint64 photo = sw_sorter_get_photo (self);

  sw_strip_view_next_doubt (sw_sorter_strip (self), FALSE);
  self->done_at = photo == sw_sorter_get_photo (self) ? photo : 0;
}

/* After a whole stop the next doubt; after picked photos the stop's others. */
static void
go_on (SwSorter *self)
{
  if (sw_strip_view_has_picked (sw_sorter_strip (self)))
    sw_strip_view_toggle_picked (sw_sorter_strip (self));
  else
    to_next_doubt (self);
}

/* A decision about the picked photos, else the whole stop. */
static void
decide (SwSorter *self, SwSortKind kind, gint64 item, const char *text)
{
  g_autoptr (GArray) photos = sw_strip_view_get_photos (sw_sorter_strip (self));
  SwSort *sort = sort_new (self, kind, photos, text);

  sort->item = item;
  send (self, sort);
  go_on (self);
}

static GArray *
chosen_photo (SwSorter *self)
{
  const SwStripUnit *unit = sw_strip_view_get_unit (sw_sorter_strip (self));
  GArray *photos = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (unit != NULL && unit->file == NULL)
    g_array_append_val (photos, unit->photo);
  return photos;
}

static void
accept_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;

  send (self, sort_new (self, SW_SORT_ACCEPT, NULL, NULL));
  to_next_doubt (self);
}

static void
other_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;
  int which = g_variant_get_int32 (parameter);
  SwLikelyOther others[SW_LIKELY_OTHERS];

  sw_sorter_find_others (self, sw_strip_view_get_stop (sw_sorter_strip (self)), others);
  if (which >= 0 && which < SW_LIKELY_OTHERS && others[which].item != 0)
    decide (self, SW_SORT_GIVE, others[which].item, NULL);
}

static void
accept_sure_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  send (data, sort_new (data, SW_SORT_ACCEPT_SURE, NULL, NULL));
}

static void
next_doubt_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_strip_view_next_doubt (sw_sorter_strip (data), FALSE);
}

static void
last_doubt_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_strip_view_next_doubt (sw_sorter_strip (data), TRUE);
}

/* At a clip or memo the new stop begins with the photo after it. */
static void
cut_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  const SwStrip *strip = sw_strip_view_get_strip (sw_sorter_strip (data));
  const SwStripUnit *unit = sw_strip_view_get_unit (sw_sorter_strip (data));
  const SwStripUnit *end = &g_array_index (strip->units, SwStripUnit, 0) + strip->units->len;
  g_autoptr (GArray) photos = g_array_new (FALSE, FALSE, sizeof (gint64));

  while (unit + 1 < end && unit->file != NULL)
    unit++;
  g_array_append_val (photos, unit->photo);
  send (data, sort_new (data, SW_SORT_CUT, photos, NULL));
  sw_strip_view_choose_photo (sw_sorter_strip (data), unit->photo);
}

/* Two things taken one after the other most often have the longest pause between them. */
static void
cut_pause_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;
  const SwStrip *strip = sw_strip_view_get_strip (sw_sorter_strip (self));
  const SwStopRecord *stop = sw_strip_view_get_stop (sw_sorter_strip (self));
  int at = sw_strip_longest_pause (strip, stop->position - 1);
  g_autoptr (GArray) photos = g_array_new (FALSE, FALSE, sizeof (gint64));
  gint64 photo = at >= 0 ? g_array_index (strip->units, SwStripUnit, at).photo : 0;

  if (at < 0)
    {
      say (self, _ ("This stop has one photo alone, or none with a time; it cannot be split."));
      return;
    }
  g_array_append_val (photos, photo);
  send (self, sort_new (self, SW_SORT_CUT, photos, NULL));
  sw_strip_view_choose_photo (sw_sorter_strip (self), photo);
}

static void
join_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;

  send (self, sort_new (self, SW_SORT_JOIN, NULL, NULL));
  self->done_at = sw_sorter_get_photo (self);
}

static const SwStopRecord *
stop_before (SwSorter *self)
{
  const SwStrip *strip = sw_strip_view_get_strip (sw_sorter_strip (self));
  const SwStopRecord *stop = sw_strip_view_get_stop (sw_sorter_strip (self));

  return stop != NULL && stop->position > 1
             ? g_ptr_array_index (strip->stops, (guint)stop->position - 2)
             : NULL;
}

static void
another_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;
  gint64 item = sw_stop_item (stop_before (self));

  if (item == 0)
    say (self, _ ("The stop before this one is not decided as an item yet; accept it first."));
  else
    decide (self, SW_SORT_ANOTHER, item, NULL);
}

static void
none_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  decide (data, SW_SORT_NONE, 0, g_variant_get_string (parameter, NULL));
}

static void
open_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  g_autoptr (GArray) photos = sw_strip_view_get_photos (sw_sorter_strip (data));

  send (data, sort_new (data, SW_SORT_OPEN, photos, NULL));
}

static void
cover_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;
  const SwStripUnit *unit = sw_strip_view_get_unit (sw_sorter_strip (self));
  g_autoptr (GArray) photos = chosen_photo (self);
  SwSort *sort;

  if (unit == NULL || unit->decided <= 0)
    {
      say (self, _ ("This photo is no item's yet; decide first which item it shows."));
      return;
    }
  sort = sort_new (self, SW_SORT_COVER, photos, NULL);
  sort->item = unit->decided;
  send (self, sort);
}

static void
turn_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  g_autoptr (GArray) photos = chosen_photo (data);
  SwSort *sort = sort_new (data, SW_SORT_TURN, photos, NULL);

  sort->quarters = g_variant_get_int32 (parameter);
  send (data, sort);
}

/* The photo looked at last is the chosen one then. */
static void
on_closer_left (gpointer owner, gint64 photo)
{
  sw_strip_view_choose_photo (sw_sorter_strip (owner), photo);
  gtk_widget_grab_focus (SW_SORTER (owner)->strip);
}

static void
closer_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;
  const SwStopRecord *stop = sw_strip_view_get_stop (sw_sorter_strip (self));
  const SwStripUnit *unit = sw_strip_view_get_unit (sw_sorter_strip (self));
  GtkWidget *window = gtk_widget_get_toplevel (GTK_WIDGET (self));

  if (stop != NULL && unit->file == NULL)
    sw_window_look_closer (SW_WINDOW (window), (const gint64 *)(gpointer)stop->photos->data,
                           stop->photos->len, unit->photo, G_OBJECT (self), on_closer_left);
}

static void
pick_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_strip_view_toggle_picked (sw_sorter_strip (data));
}

static void
undo_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_store_undo (SW_SORTER (data)->store);
}

static void
redo_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_store_redo (SW_SORTER (data)->store);
}

/* ---- which item ---- */

static void
ask_item (SwSorter *self, SwSortKind kind, GArray *photos)
{
  const SwStopRecord *stop = sw_strip_view_get_stop (sw_sorter_strip (self));
  g_autoptr (GArray) likely
      = sw_likely_items (sw_strip_view_get_strip (sw_sorter_strip (self)), stop);

  self->choosing = kind;
  g_clear_pointer (&self->about, g_array_unref);
  self->about = photos;
  sw_item_chooser_ask (SW_ITEM_CHOOSER (self->chooser), likely, stop != NULL ? stop->place : 0, 0);
}

static void
give_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  ask_item (data, SW_SORT_GIVE, sw_strip_view_get_photos (sw_sorter_strip (data)));
}

/* A wide view is one photo; more of them are picked. */
static void
also_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  gboolean picked = sw_strip_view_has_picked (sw_sorter_strip (data));

  ask_item (data, SW_SORT_ALSO,
            picked ? sw_strip_view_get_photos (sw_sorter_strip (data)) : chosen_photo (data));
}

static void
send_about (SwSorter *self, SwSortKind kind, gint64 item, const char *text)
{
  SwSort *sort = sort_new (self, kind, self->about, text);

  sort->item = item;
  send (self, sort);
  if (kind != SW_SORT_ALSO)
    go_on (self);
}

/* A popover leaves the focus where it likes; what comes next is the strip again. */
static void
on_asked (SwSorter *self)
{
  gtk_widget_grab_focus (self->strip);
}

static void
on_item_chosen (GtkWidget *chooser, gint64 item, SwSorter *self)
{
  send_about (self, self->choosing, item, NULL);
}

static void
new_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;
  const SwStopRecord *stop = sw_strip_view_get_stop (sw_sorter_strip (self));

  g_clear_pointer (&self->about, g_array_unref);
  self->about = sw_strip_view_get_photos (sw_sorter_strip (self));
  sw_item_namer_ask (SW_ITEM_NAMER (self->namer), stop != NULL ? stop->place_path : NULL);
}

static void
on_named (GtkWidget *namer, const char *name, SwSorter *self)
{
  send_about (self, SW_SORT_NEW, 0, name);
}

/* ---- receipts ---- */

static void
cost_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;
  const SwStopRecord *stop = sw_strip_view_get_stop (sw_sorter_strip (self));
  const SwStripUnit *unit = sw_strip_view_get_unit (sw_sorter_strip (self));
  g_autofree char *when = sw_strip_time (unit->timed, unit->t_us, TRUE);

  if (stop->has_cost)
    say (self, _ ("The cost of this receipt is entered already; take it back to enter another."));
  else
    sw_receipt_form_ask (SW_RECEIPT_FORM (self->receipt), self->trip,
                         sw_strip_view_get_photos (sw_sorter_strip (self)), when);
}

/* The first on the strip, whatever is chosen. */
static void
next_receipt_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;
  const SwStrip *strip = sw_strip_view_get_strip (sw_sorter_strip (self));

  for (guint k = 0; k < strip->stops->len; k++)
    {
      const SwStopRecord *stop = g_ptr_array_index (strip->stops, k);

      if (!sw_strip_wants_cost (stop))
        continue;
      sw_strip_view_choose_stop (sw_sorter_strip (self), sw_stop_key (stop));
      cost_action (NULL, NULL, self);
      return;
    }
}

/* A receipt among stops that are decided leaves the person there. */
static void
on_receipt_entered (SwSorter *self)
{
  const SwStrip *strip = sw_strip_view_get_strip (sw_sorter_strip (self));

  if (strip != NULL && strip->left.open > 0)
    go_on (self);
}

void
sw_sorter_on_dropped (GtkWidget *strip, gint64 stop, SwSorter *self)
{
  g_autoptr (GArray) photos = sw_strip_view_get_photos (sw_sorter_strip (self));
  SwSort *sort = sort_new (self, stop != 0 ? SW_SORT_MOVE : SW_SORT_APART, photos, NULL);

  sort->stop = stop;
  if (sw_sorter_is_writable (self))
    send (self, sort);
  else
    sw_sort_free (sort);
}

/* ---- clips and memos ---- */

static gpointer
path_run (SwCatalogue *catalogue, gpointer number, GCancellable *cancellable, GError **error)
{
  g_autoptr (SwPhoto) photo = sw_photo_get (catalogue, *(const gint64 *)number, error);

  return photo != NULL ? g_strdup (photo->stored) : NULL;
}

static void
on_launched (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwSorter) self = data;
  g_autoptr (GError) error = NULL;

  if (!g_app_info_launch_default_for_uri_finish (result, &error) && self->store != NULL)
    say (self, _ ("No program here plays this file; install one and try again."));
}

static void
on_path (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwSorter) self = data;
  g_autofree char *stored
      = self->store != NULL ? sw_store_finish (self->store, result, NULL) : NULL;
  g_autofree char *path = NULL, *uri = NULL;

  if (stored == NULL)
    return;
  path = g_build_filename (sw_store_folder (self->store), stored, NULL);
  uri = g_filename_to_uri (path, NULL, NULL);
  if (uri != NULL)
    g_app_info_launch_default_for_uri_async (uri, NULL, NULL, on_launched, g_object_ref (self));
}

void
sw_sorter_on_activated (GtkWidget *strip, gint64 photo, SwSorter *self)
{
  const SwStripUnit *unit = sw_strip_view_get_unit (sw_sorter_strip (self));

  if (unit != NULL && unit->file != NULL)
    sw_store_read (self->store, SW_RANK_KEY, path_run, g_memdup2 (&photo, sizeof photo), g_free,
                   g_free, NULL, on_path, g_object_ref (self));
  else
    closer_action (NULL, NULL, self);
}

/* ---- keys ---- */

static const GActionEntry action_entries[] = {
  { .name = "accept", .activate = accept_action },
  { .name = "other", .parameter_type = "i", .activate = other_action },
  { .name = "accept-sure", .activate = accept_sure_action },
  { .name = "next-doubt", .activate = next_doubt_action },
  { .name = "last-doubt", .activate = last_doubt_action },
  { .name = "cut", .activate = cut_action },
  { .name = "cut-pause", .activate = cut_pause_action },
  { .name = "join", .activate = join_action },
  { .name = "give", .activate = give_action },
  { .name = "new", .activate = new_action },
  { .name = "another", .activate = another_action },
  { .name = "also", .activate = also_action },
  { .name = "none", .parameter_type = "s", .activate = none_action },
  { .name = "open-again", .activate = open_action },
  { .name = "cover", .activate = cover_action },
  { .name = "turn", .parameter_type = "i", .activate = turn_action },
  { .name = "closer", .activate = closer_action },
  { .name = "pick", .activate = pick_action },
  { .name = "cost", .activate = cost_action },
  { .name = "next-receipt", .activate = next_receipt_action },
  { .name = "undo", .activate = undo_action },
  { .name = "redo", .activate = redo_action },
};

/* One key a decision; the letters stand for what they do. Shown on the buttons, in their menus and
 * in the overview of keys. */
static const struct
{
  guint key;
  gboolean shift;
  const char *action; /* detailed */
} keys[] = {
  { GDK_KEY_a, FALSE, "accept" },        { GDK_KEY_a, TRUE, "accept-sure" },
  { GDK_KEY_e, FALSE, "other(0)" },      { GDK_KEY_e, TRUE, "other(1)" },
  { GDK_KEY_d, FALSE, "next-doubt" },    { GDK_KEY_d, TRUE, "last-doubt" },
  { GDK_KEY_s, FALSE, "cut" },           { GDK_KEY_s, TRUE, "cut-pause" },
  { GDK_KEY_j, FALSE, "join" },          { GDK_KEY_g, FALSE, "give" },
  { GDK_KEY_n, FALSE, "new" },           { GDK_KEY_m, FALSE, "another" },
  { GDK_KEY_w, FALSE, "also" },          { GDK_KEY_b, FALSE, "none('building')" },
  { GDK_KEY_p, FALSE, "none('paper')" }, { GDK_KEY_r, FALSE, "none('receipt')" },
  { GDK_KEY_k, FALSE, "cost" },          { GDK_KEY_x, FALSE, "none('mistake')" },
  { GDK_KEY_u, FALSE, "open-again" },    { GDK_KEY_c, FALSE, "cover" },
  { GDK_KEY_t, FALSE, "turn(1)" },       { GDK_KEY_t, TRUE, "turn(-1)" },
  { GDK_KEY_l, FALSE, "closer" },        { GDK_KEY_o, FALSE, "pick" },
  { GDK_KEY_z, FALSE, "undo" },          { GDK_KEY_y, FALSE, "redo" },
};

gboolean
sw_sorter_key (SwSorter *self, const GdkEventKey *event)
{
  GdkModifierType modifiers = event->state & gtk_accelerator_get_default_mod_mask ();

  if ((modifiers & ~(guint)GDK_SHIFT_MASK) != 0 || self->trip == 0)
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    if (gdk_keyval_to_lower (event->keyval) == keys[i].key
        && ((modifiers & GDK_SHIFT_MASK) != 0) == (keys[i].shift != FALSE))
      {
        g_autofree char *name = NULL;
        g_autoptr (GVariant) target = NULL;

        if (g_action_parse_detailed_name (keys[i].action, &name, &target, NULL))
          g_action_group_activate_action (G_ACTION_GROUP (self->actions), name, target);
        return TRUE;
      }
  return FALSE;
}

/* ---- set-up ---- */

void
sw_sorter_add_actions (SwSorter *self)
{
  self->actions = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), action_entries,
                                   G_N_ELEMENTS (action_entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "sort", G_ACTION_GROUP (self->actions));
}

void
sw_sorter_add_popovers (SwSorter *self)
{
  self->chooser = sw_item_chooser_new (self->give, self->store, self->pictures);
  g_signal_connect (self->chooser, "chosen", G_CALLBACK (on_item_chosen), self);
  g_signal_connect_swapped (self->chooser, "closed", G_CALLBACK (on_asked), self);
  self->namer = sw_item_namer_new (self->new_item, self->store);
  g_signal_connect_swapped (self->namer, "closed", G_CALLBACK (on_asked), self);
  g_signal_connect (self->namer, "named", G_CALLBACK (on_named), self);
  /* over the strip: the receipt is read while its amount is typed */
  self->receipt = sw_receipt_form_new (self->photo, self->store);
  gtk_popover_set_position (GTK_POPOVER (self->receipt), GTK_POS_TOP);
  g_signal_connect_swapped (self->receipt, "closed", G_CALLBACK (on_asked), self);
  g_signal_connect_swapped (self->receipt, "entered", G_CALLBACK (on_receipt_entered), self);
}
