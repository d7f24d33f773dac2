/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Joins the strip with what is known of the chosen stop, and keys and buttons with the decisions
 * they send. After a decision it goes on to the next doubt, and has the open rest proposed again.
 */
#include "app/sorter.h"

#include "app/item-chooser.h"
#include "app/item-namer.h"
#include "app/likely.h"
#include "app/proposer.h"
#include "app/receipt-form.h"
#include "app/sheet-data.h"
#include "app/sort-acts.h"
#include "app/sorted-bar.h"
#include "app/stop-words.h"
#include "app/strip-view.h"
#include "app/text.h"
#include "app/window.h"

struct _SwSorter
{
  GtkBox parent;
  SwStore *store;
  SwPictures *pictures;
  SwProposer *proposer;
  gint64 trip;
  gboolean opened;     /* the trip's first doubt was gone to */
  gint64 act;          /* of the strip shown */
  gint64 proposed_act; /* of the last proposing asked for */
  guint reading;
  GCancellable *cancellable;
  GSimpleActionGroup *actions;
  SwSortKind choosing; /* what the chooser is open for */
  GArray *about;       /* photos that an open popover is about */
  gint64 done_at;      /* decided at that photo with no doubt left: goes on once there is one */
  gint64 captioned;    /* the photo whose caption is shown or read */
  GtkWidget *stack, *left, *accept_sure, *strip, *photo, *stop_icon, *stop_word, *stop_number,
      *stop_title, *stop_reason, *caption, *picked, *propose_button, *give, *new_item, *no_item,
      *sorted;
  GtkWidget *others[SW_LIKELY_OTHERS];
  GtkWidget *chooser, *namer, *receipt;
};

enum
{
  PROPOSE,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwSorter, sw_sorter, GTK_TYPE_BOX)

static SwStripView *
strip_of (SwSorter *self)
{
  return SW_STRIP_VIEW (self->strip);
}

static gboolean
is_writable (SwSorter *self)
{
  return self->store != NULL && sw_store_overview (self->store) != NULL
         && !sw_store_overview (self->store)->read_only;
}

/* ---- the chosen photo and its stop ---- */

typedef struct
{
  SwSorter *sorter;
  gint64 photo;
} Captioning;

static gpointer
caption_run (SwCatalogue *catalogue, gpointer number, GCancellable *cancellable, GError **error)
{
  g_autoptr (SwPhoto) photo = sw_photo_get (catalogue, *(const gint64 *)number, error);

  return photo != NULL ? sw_photo_caption (catalogue, photo) : NULL;
}

static void
on_caption (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autofree Captioning *wanted = data;
  g_autoptr (SwSorter) self = wanted->sorter;
  g_autofree char *caption
      = self->store != NULL ? sw_store_finish (self->store, result, NULL) : NULL;

  if (caption != NULL && wanted->photo == self->captioned)
    gtk_label_set_text (GTK_LABEL (self->caption), caption);
}

/* The whole photo, as large as there is room. */
static gboolean
on_draw_photo (GtkWidget *widget, cairo_t *cr, SwSorter *self)
{
  const SwStripUnit *unit = sw_strip_view_get_unit (strip_of (self));
  GdkRectangle area
      = { 0, 0, gtk_widget_get_allocated_width (widget), gtk_widget_get_allocated_height (widget) };
  GtkStyleContext *style = gtk_widget_get_style_context (widget);

  gtk_render_background (style, cr, 0, 0, area.width, area.height);
  if (unit != NULL && unit->file == NULL)
    sw_pictures_draw (self->pictures, cr, style, unit->photo, SW_PICTURE_LARGE, &area, TRUE);
  return FALSE;
}

static void
on_loaded (SwSorter *self, gint64 photo)
{
  if (photo == self->captioned)
    gtk_widget_queue_draw (self->photo);
}

static void
show_photo (SwSorter *self, const SwStripUnit *unit)
{
  gint64 photo = unit != NULL ? unit->photo : 0;
  g_autofree char *sentence = sw_strip_view_describe (strip_of (self));
  Captioning *wanted;

  atk_object_set_name (gtk_widget_get_accessible (self->photo), sentence);
  if (photo == self->captioned)
    return;
  self->captioned = photo;
  gtk_widget_queue_draw (self->photo);
  gtk_label_set_text (GTK_LABEL (self->caption),
                      unit != NULL && unit->file != NULL ? unit->file : "");
  if (unit == NULL || unit->file != NULL)
    return;
  wanted = g_new0 (Captioning, 1);
  wanted->sorter = g_object_ref (self);
  wanted->photo = photo;
  sw_store_read (self->store, SW_RANK_VISIBLE, caption_run, g_memdup2 (&photo, sizeof photo),
                 g_free, g_free, NULL, on_caption, wanted);
}

static void
show_picked (SwSorter *self)
{
  g_autoptr (GArray) photos = sw_strip_view_get_photos (strip_of (self));
  gboolean picked = sw_strip_view_has_picked (strip_of (self));
  g_autofree char *count = sw_text_count (photos->len, _ ("photo"), _ ("photos"));
  g_autofree char *text = g_strdup_printf (_ ("Decides on the %s picked alone"), count);

  gtk_label_set_text (GTK_LABEL (self->picked), picked ? text : "");
  gtk_widget_set_visible (self->picked, picked);
}

static void
find_others (SwSorter *self, const SwStopRecord *stop, SwLikelyOther others[SW_LIKELY_OTHERS])
{
  const SwPairingOther *other
      = stop != NULL ? sw_proposer_other (self->proposer, sw_stop_key (stop)) : NULL;

  sw_likely_others (sw_strip_view_get_strip (strip_of (self)), stop, other, others);
}

/* "Or Glass panes (E)", and the one after that. */
static void
show_others (SwSorter *self, const SwStopRecord *stop)
{
  static const char *const labels[SW_LIKELY_OTHERS] = { N_ ("Or %s (E)"), N_ ("Or %s (Shift+E)") };
  SwLikelyOther others[SW_LIKELY_OTHERS];

  find_others (self, stop, others);
  for (int k = 0; k < SW_LIKELY_OTHERS; k++)
    {
      GtkWidget *label = gtk_bin_get_child (GTK_BIN (self->others[k]));
      g_auto (GStrv) parts = g_strsplit (_ (labels[k]), "%s", 2);
      g_autofree char *text
          = g_strconcat (parts[0], others[k].item != 0 ? others[k].name : "", parts[1], NULL);

      gtk_label_set_text (GTK_LABEL (label), text);
      gtk_widget_set_visible (self->others[k], others[k].item != 0);
    }
}

static void
set_enabled (SwSorter *self, const char *name, gboolean enabled)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self->actions), name);

  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), enabled);
}

static void
follow_actions (SwSorter *self, const SwStopRecord *stop, const SwStripUnit *unit)
{
  static const char *const on_stop[] = { "cut",  "cut-pause", "join",  "give", "new",  "another",
                                         "also", "none",      "cover", "turn", "pick", "cost" };
  gboolean writable = is_writable (self);
  const SwStrip *strip = sw_strip_view_get_strip (strip_of (self));

  for (guint i = 0; i < G_N_ELEMENTS (on_stop); i++)
    set_enabled (self, on_stop[i], writable && stop != NULL);
  set_enabled (self, "accept", writable && stop != NULL && stop->n_open > 0);
  set_enabled (self, "other", writable && stop != NULL && stop->n_open > 0);
  set_enabled (self, "open-again",
               writable && stop != NULL && stop->n_open < (int)stop->photos->len);
  set_enabled (self, "accept-sure", writable && strip != NULL && strip->left.sure > 0);
  set_enabled (self, "next-doubt", strip != NULL && strip->left.open > 0);
  set_enabled (self, "last-doubt", strip != NULL && strip->left.open > 0);
}

static void
show_chosen (SwSorter *self)
{
  const SwStopRecord *stop = sw_strip_view_get_stop (strip_of (self));
  const SwStripUnit *unit = sw_strip_view_get_unit (strip_of (self));
  g_autofree char *title = stop != NULL ? sw_stop_title (stop) : g_strdup ("");
  g_autofree char *number
      = stop != NULL ? g_strdup_printf (_ ("Stop %d"), stop->position) : g_strdup ("");

  gtk_widget_set_visible (self->stop_icon, stop != NULL);
  if (stop != NULL)
    gtk_image_set_from_icon_name (GTK_IMAGE (self->stop_icon), sw_stop_icon (stop),
                                  GTK_ICON_SIZE_BUTTON);
  gtk_label_set_text (GTK_LABEL (self->stop_word), stop != NULL ? sw_stop_word (stop) : "");
  gtk_label_set_text (GTK_LABEL (self->stop_number), number);
  gtk_label_set_text (GTK_LABEL (self->stop_title), title);
  gtk_label_set_text (GTK_LABEL (self->stop_reason), stop != NULL ? stop->reason : "");
  show_others (self, stop);
  show_picked (self);
  show_photo (self, unit);
  follow_actions (self, stop, unit);
}

/* ---- what is left ---- */

static void
show_left (SwSorter *self, const SwStrip *strip)
{
  g_autofree char *text = sw_strip_left_text (&strip->left);
  g_autofree char *label = strip->left.sure > 0
                               ? g_strdup_printf (_ ("Accept all _sure (%d)"), strip->left.sure)
                               : g_strdup (_ ("Accept all _sure"));
  gboolean done = strip->left.stops > 0 && strip->left.open == 0;

  gtk_label_set_text (GTK_LABEL (self->left), text);
  gtk_button_set_label (GTK_BUTTON (self->accept_sure), label);
  gtk_widget_set_visible (self->accept_sure, !done);
  if (done)
    sw_sorted_bar_show (SW_SORTED_BAR (self->sorted), self->store, self->trip);
  else
    gtk_widget_hide (self->sorted);
}

/* ---- reading ---- */

typedef struct
{
  SwStrip *strip;
  gint64 act;
} Answer;

static void
answer_free (gpointer data)
{
  Answer *answer = data;

  sw_strip_free (answer->strip);
  g_free (answer);
}

static gpointer
strip_run (SwCatalogue *catalogue, gpointer trip, GCancellable *cancellable, GError **error)
{
  Answer *answer = g_new0 (Answer, 1);

  if (sw_act_latest (catalogue, &answer->act, error)
      && (answer->strip = sw_strip_read (catalogue, *(const gint64 *)trip, error)) != NULL)
    return answer;
  answer_free (answer);
  return NULL;
}

/* Decisions made since it was proposed last are evidence for the rest. */
static void
propose_again (SwSorter *self)
{
  const SwStrip *strip = sw_strip_view_get_strip (strip_of (self));

  if (self->proposed_act == self->act || !is_writable (self) || strip->stops->len == 0)
    return;
  self->proposed_act = self->act;
  sw_proposer_request (self->proposer, self->trip);
}

/* Only where the person has not moved since, and what was decided there is. */
static void
go_on_where_done (SwSorter *self)
{
  const SwStopRecord *stop = sw_strip_view_get_stop (strip_of (self));

  if (self->done_at == 0 || sw_sorter_get_photo (self) != self->done_at)
    self->done_at = 0;
  else if (stop != NULL && stop->n_open == 0
           && sw_strip_view_get_strip (strip_of (self))->left.open > 0)
    {
      self->done_at = 0;
      sw_strip_view_next_doubt (strip_of (self), FALSE);
    }
}

static void
show_strip (SwSorter *self)
{
  const SwStrip *strip = sw_strip_view_get_strip (strip_of (self));
  gboolean any = strip->stops->len > 0;

  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), any ? "strip" : "none");
  show_left (self, strip);
  if (any && !self->opened)
    {
      self->opened = TRUE;
      if (!sw_strip_view_next_doubt (strip_of (self), FALSE))
        sw_strip_view_choose_stop (strip_of (self),
                                   sw_stop_key (g_ptr_array_index (strip->stops, 0)));
    }
  go_on_where_done (self);
  show_chosen (self);
  propose_again (self);
}

static void
on_strip (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwSorter) self = data;
  Answer *answer;

  self->reading--;
  if (self->store == NULL)
    return;
  answer = sw_store_finish (self->store, result, NULL);
  if (answer == NULL)
    return;
  if (answer->strip->trip == self->trip)
    {
      self->act = answer->act;
      sw_strip_view_set_strip (strip_of (self), g_steal_pointer (&answer->strip));
      show_strip (self);
    }
  answer_free (answer);
}

static void
load (SwSorter *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  if (self->trip == 0)
    return;
  self->reading++;
  sw_store_read (self->store, SW_RANK_VISIBLE, strip_run,
                 g_memdup2 (&self->trip, sizeof self->trip), g_free, answer_free, self->cancellable,
                 on_strip, g_object_ref (self));
}

/* ---- decisions ---- */

static void
say (SwSorter *self, const char *problem)
{
  sw_store_tell (self->store, problem, TRUE);
}

static SwSort *
sort_new (SwSorter *self, SwSortKind kind, const GArray *photos, const char *text)
{
  const SwStopRecord *stop = sw_strip_view_get_stop (strip_of (self));
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

  sw_strip_view_next_doubt (strip_of (self), FALSE);
  self->done_at = photo == sw_sorter_get_photo (self) ? photo : 0;
}

/* After a whole stop the next doubt; after picked photos the stop's others. */
static void
go_on (SwSorter *self)
{
  if (sw_strip_view_has_picked (strip_of (self)))
    sw_strip_view_toggle_picked (strip_of (self));
  else
    to_next_doubt (self);
}

/* A decision about the picked photos, else the whole stop. */
static void
decide (SwSorter *self, SwSortKind kind, gint64 item, const char *text)
{
  g_autoptr (GArray) photos = sw_strip_view_get_photos (strip_of (self));
  SwSort *sort = sort_new (self, kind, photos, text);

  sort->item = item;
  send (self, sort);
  go_on (self);
}

static GArray *
chosen_photo (SwSorter *self)
{
  const SwStripUnit *unit = sw_strip_view_get_unit (strip_of (self));
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

  find_others (self, sw_strip_view_get_stop (strip_of (self)), others);
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
  sw_strip_view_next_doubt (strip_of (data), FALSE);
}

static void
last_doubt_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_strip_view_next_doubt (strip_of (data), TRUE);
}

/* At a clip or memo the new stop begins with the photo after it. */
static void
cut_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  const SwStrip *strip = sw_strip_view_get_strip (strip_of (data));
  const SwStripUnit *unit = sw_strip_view_get_unit (strip_of (data));
  const SwStripUnit *end = &g_array_index (strip->units, SwStripUnit, 0) + strip->units->len;
  g_autoptr (GArray) photos = g_array_new (FALSE, FALSE, sizeof (gint64));

  while (unit + 1 < end && unit->file != NULL)
    unit++;
  g_array_append_val (photos, unit->photo);
  send (data, sort_new (data, SW_SORT_CUT, photos, NULL));
  sw_strip_view_choose_photo (strip_of (data), unit->photo);
}

/* Two things taken one after the other most often have the longest pause between them. */
static void
cut_pause_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;
  const SwStrip *strip = sw_strip_view_get_strip (strip_of (self));
  const SwStopRecord *stop = sw_strip_view_get_stop (strip_of (self));
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
  sw_strip_view_choose_photo (strip_of (self), photo);
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
  const SwStrip *strip = sw_strip_view_get_strip (strip_of (self));
  const SwStopRecord *stop = sw_strip_view_get_stop (strip_of (self));

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
  g_autoptr (GArray) photos = sw_strip_view_get_photos (strip_of (data));

  send (data, sort_new (data, SW_SORT_OPEN, photos, NULL));
}

static void
cover_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;
  const SwStripUnit *unit = sw_strip_view_get_unit (strip_of (self));
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
  sw_strip_view_choose_photo (strip_of (owner), photo);
  gtk_widget_grab_focus (SW_SORTER (owner)->strip);
}

static void
closer_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;
  const SwStopRecord *stop = sw_strip_view_get_stop (strip_of (self));
  const SwStripUnit *unit = sw_strip_view_get_unit (strip_of (self));
  GtkWidget *window = gtk_widget_get_toplevel (GTK_WIDGET (self));

  if (stop != NULL && unit->file == NULL)
    sw_window_look_closer (SW_WINDOW (window), (const gint64 *)(gpointer)stop->photos->data,
                           stop->photos->len, unit->photo, G_OBJECT (self), on_closer_left);
}

static void
pick_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_strip_view_toggle_picked (strip_of (data));
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
  const SwStopRecord *stop = sw_strip_view_get_stop (strip_of (self));
  g_autoptr (GArray) likely = sw_likely_items (sw_strip_view_get_strip (strip_of (self)), stop);

  self->choosing = kind;
  g_clear_pointer (&self->about, g_array_unref);
  self->about = photos;
  sw_item_chooser_ask (SW_ITEM_CHOOSER (self->chooser), likely, stop != NULL ? stop->place : 0);
}

static void
give_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  ask_item (data, SW_SORT_GIVE, sw_strip_view_get_photos (strip_of (data)));
}

/* A wide view is one photo; more of them are picked. */
static void
also_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  gboolean picked = sw_strip_view_has_picked (strip_of (data));

  ask_item (data, SW_SORT_ALSO,
            picked ? sw_strip_view_get_photos (strip_of (data)) : chosen_photo (data));
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
  const SwStopRecord *stop = sw_strip_view_get_stop (strip_of (self));

  g_clear_pointer (&self->about, g_array_unref);
  self->about = sw_strip_view_get_photos (strip_of (self));
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
  const SwStopRecord *stop = sw_strip_view_get_stop (strip_of (self));
  const SwStripUnit *unit = sw_strip_view_get_unit (strip_of (self));
  g_autofree char *when = sw_strip_time (unit->timed, unit->t_us, TRUE);

  if (stop->has_cost)
    say (self, _ ("The cost of this receipt is entered already; take it back to enter another."));
  else
    sw_receipt_form_ask (SW_RECEIPT_FORM (self->receipt), self->trip,
                         sw_strip_view_get_photos (strip_of (self)), when);
}

/* The first on the strip, whatever is chosen. */
static void
next_receipt_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwSorter *self = data;
  const SwStrip *strip = sw_strip_view_get_strip (strip_of (self));

  for (guint k = 0; k < strip->stops->len; k++)
    {
      const SwStopRecord *stop = g_ptr_array_index (strip->stops, k);

      if (!sw_strip_wants_cost (stop))
        continue;
      sw_strip_view_choose_stop (strip_of (self), sw_stop_key (stop));
      cost_action (NULL, NULL, self);
      return;
    }
}

/* A receipt among stops that are decided leaves the person there. */
static void
on_receipt_entered (SwSorter *self)
{
  const SwStrip *strip = sw_strip_view_get_strip (strip_of (self));

  if (strip != NULL && strip->left.open > 0)
    go_on (self);
}

static void
on_dropped (GtkWidget *strip, gint64 stop, SwSorter *self)
{
  g_autoptr (GArray) photos = sw_strip_view_get_photos (strip_of (self));
  SwSort *sort = sort_new (self, stop != 0 ? SW_SORT_MOVE : SW_SORT_APART, photos, NULL);

  sort->stop = stop;
  if (is_writable (self))
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

static void
on_activated (GtkWidget *strip, gint64 photo, SwSorter *self)
{
  const SwStripUnit *unit = sw_strip_view_get_unit (strip_of (self));

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

/* ---- object ---- */

static void
on_propose (SwSorter *self)
{
  g_signal_emit (self, signals[PROPOSE], 0);
}

static void
sw_sorter_dispose (GObject *object)
{
  SwSorter *self = SW_SORTER (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  if (self->proposer != NULL)
    g_object_run_dispose (G_OBJECT (self->proposer));
  g_clear_object (&self->proposer);
  g_clear_object (&self->store);
  g_clear_object (&self->pictures);
  g_clear_object (&self->actions);
  g_clear_pointer (&self->about, g_array_unref);
  G_OBJECT_CLASS (sw_sorter_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwSorter, name)

static void
bind_children (GtkWidgetClass *widget)
{
  BIND (stack);
  BIND (left);
  BIND (accept_sure);
  BIND (strip);
  BIND (photo);
  BIND (stop_icon);
  BIND (stop_word);
  BIND (stop_number);
  BIND (stop_title);
  BIND (stop_reason);
  gtk_widget_class_bind_template_child_full (widget, "other_1", FALSE, 0);
  gtk_widget_class_bind_template_child_full (widget, "other_2", FALSE, 0);
  BIND (caption);
  BIND (picked);
  BIND (propose_button);
  BIND (give);
  BIND (new_item);
  BIND (no_item);
  BIND (sorted);
}

static void
sw_sorter_class_init (SwSorterClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_sorter_dispose;
  g_type_ensure (SW_TYPE_SORTED_BAR);
  g_type_ensure (SW_TYPE_STRIP_VIEW);
  signals[PROPOSE] = g_signal_new ("propose", SW_TYPE_SORTER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/sorter.ui");
  bind_children (widget);
  gtk_widget_class_bind_template_callback (widget, show_chosen);
  gtk_widget_class_bind_template_callback (widget, on_activated);
  gtk_widget_class_bind_template_callback (widget, on_dropped);
  gtk_widget_class_bind_template_callback (widget, on_propose);
  gtk_widget_class_bind_template_callback (widget, on_draw_photo);
}

static GtkWidget *
other_button (SwSorter *self, const char *name)
{
  return GTK_WIDGET (gtk_widget_get_template_child (GTK_WIDGET (self), SW_TYPE_SORTER, name));
}

static void
sw_sorter_init (SwSorter *self)
{
  self->actions = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), action_entries,
                                   G_N_ELEMENTS (action_entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "sort", G_ACTION_GROUP (self->actions));
  gtk_widget_init_template (GTK_WIDGET (self));
  self->others[0] = other_button (self, "other_1");
  self->others[1] = other_button (self, "other_2");
}

void
sw_sorter_set_store (SwSorter *self, SwStore *store, SwPictures *pictures)
{
  self->store = g_object_ref (store);
  self->proposer = sw_proposer_new (store);
  g_signal_connect_object (self->proposer, "rested", G_CALLBACK (show_chosen), self,
                           G_CONNECT_SWAPPED);
  sw_strip_view_set_pictures (strip_of (self), pictures);
  self->pictures = g_object_ref (pictures);
  g_signal_connect_object (pictures, "loaded", G_CALLBACK (on_loaded), self, G_CONNECT_SWAPPED);
  self->chooser = sw_item_chooser_new (self->give, store, pictures);
  g_signal_connect (self->chooser, "chosen", G_CALLBACK (on_item_chosen), self);
  g_signal_connect_swapped (self->chooser, "closed", G_CALLBACK (on_asked), self);
  self->namer = sw_item_namer_new (self->new_item, store);
  g_signal_connect_swapped (self->namer, "closed", G_CALLBACK (on_asked), self);
  g_signal_connect (self->namer, "named", G_CALLBACK (on_named), self);
  self->receipt = sw_receipt_form_new (self->no_item, store);
  g_signal_connect_swapped (self->receipt, "closed", G_CALLBACK (on_asked), self);
  g_signal_connect_swapped (self->receipt, "entered", G_CALLBACK (on_receipt_entered), self);
}

void
sw_sorter_set_trip (SwSorter *self, gint64 trip)
{
  if (trip != self->trip)
    {
      self->opened = FALSE;
      self->proposed_act = 0;
      sw_proposer_stop (self->proposer);
    }
  self->trip = trip;
  load (self);
}

void
sw_sorter_set_can_propose (SwSorter *self, gboolean can)
{
  gtk_widget_set_sensitive (self->propose_button, can);
}

gint64
sw_sorter_get_photo (SwSorter *self)
{
  const SwStripUnit *unit = sw_strip_view_get_unit (strip_of (self));

  return unit != NULL && unit->file == NULL ? unit->photo : 0;
}

void
sw_sorter_focus (SwSorter *self)
{
  gtk_widget_grab_focus (self->strip);
}

gboolean
sw_sorter_is_settled (SwSorter *self)
{
  return self->reading == 0 && !sw_proposer_is_busy (self->proposer)
         && (self->trip == 0 || sw_strip_view_get_strip (strip_of (self)) != NULL);
}
