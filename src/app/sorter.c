/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Joins the strip with what is known of the chosen stop, and has the open rest proposed again after
 * each change. Keys, buttons and what they decide stand in sorter-acts.c. */
#include "app/sorter-private.h"

#include "app/proposer.h"
#include "app/sheet-data.h"
#include "app/sorted-bar.h"
#include "app/stop-words.h"
#include "app/text.h"
#include "core/base/text.h"

enum
{
  PROPOSE,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwSorter, sw_sorter, GTK_TYPE_BOX)

SwStripView *
sw_sorter_strip (SwSorter *self)
{
  return SW_STRIP_VIEW (self->strip);
}

gboolean
sw_sorter_is_writable (SwSorter *self)
{
  return self->store != NULL && sw_store_overview (self->store) != NULL
         && !sw_store_overview (self->store)->read_only;
}

/* ---- the chosen photo and its stop ---- */

typedef struct
{
  SwSorter *sorter;
  gint64 photo;
  const char *mark; /* what spoils it; NULL: nothing */
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

  if (caption == NULL || wanted->photo != self->captioned)
    return;
  if (wanted->mark != NULL)
    {
      g_autofree char *mark = sw_text_capital (_ (wanted->mark));
      g_autofree char *both = g_strdup_printf ("%s\n%s", caption, mark);
      gtk_label_set_text (GTK_LABEL (self->caption), both);
    }
  else
    gtk_label_set_text (GTK_LABEL (self->caption), caption);
}

/* The whole photo, as large as there is room. */
static gboolean
on_draw_photo (GtkWidget *widget, cairo_t *cr, SwSorter *self)
{
  const SwStripUnit *unit = sw_strip_view_get_unit (sw_sorter_strip (self));
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
  g_autofree char *sentence = sw_strip_view_describe (sw_sorter_strip (self));
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
  wanted->mark = sw_photo_mark_word (unit->marks);
  sw_store_read (self->store, SW_RANK_VISIBLE, caption_run, g_memdup2 (&photo, sizeof photo),
                 g_free, g_free, NULL, on_caption, wanted);
}

static void
show_picked (SwSorter *self)
{
  g_autoptr (GArray) photos = sw_strip_view_get_photos (sw_sorter_strip (self));
  gboolean picked = sw_strip_view_has_picked (sw_sorter_strip (self));
  g_autofree char *text = sw_text_count (photos->len, "Decides on the %d photo picked alone",
                                         "Decides on the %d photos picked alone");

  gtk_label_set_text (GTK_LABEL (self->picked), picked ? text : "");
  gtk_widget_set_visible (self->picked, picked);
}

void
sw_sorter_find_others (SwSorter *self, const SwStopRecord *stop,
                       SwLikelyOther others[SW_LIKELY_OTHERS])
{
  const SwPairingOther *other
      = stop != NULL ? sw_proposer_other (self->proposer, sw_stop_key (stop)) : NULL;

  sw_likely_others (sw_strip_view_get_strip (sw_sorter_strip (self)), stop, other, others);
}

/* "Or Glass panes (E)", and the one after that. */
static void
show_others (SwSorter *self, const SwStopRecord *stop)
{
  static const char *const labels[SW_LIKELY_OTHERS] = { N_ ("Or %s (E)"), N_ ("Or %s (Shift+E)") };
  SwLikelyOther others[SW_LIKELY_OTHERS];

  sw_sorter_find_others (self, stop, others);
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
  gboolean writable = sw_sorter_is_writable (self);
  const SwStrip *strip = sw_strip_view_get_strip (sw_sorter_strip (self));

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
  const SwStopRecord *stop = sw_strip_view_get_stop (sw_sorter_strip (self));
  const SwStripUnit *unit = sw_strip_view_get_unit (sw_sorter_strip (self));
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
  const SwStrip *strip = sw_strip_view_get_strip (sw_sorter_strip (self));

  if (self->proposed_act == self->act || !sw_sorter_is_writable (self) || strip->stops->len == 0)
    return;
  self->proposed_act = self->act;
  sw_proposer_request (self->proposer, self->trip);
}

/* Only where the person has not moved since, and what was decided there is. */
static void
go_on_where_done (SwSorter *self)
{
  const SwStopRecord *stop = sw_strip_view_get_stop (sw_sorter_strip (self));

  if (self->done_at == 0 || sw_sorter_get_photo (self) != self->done_at)
    self->done_at = 0;
  else if (stop != NULL && stop->n_open == 0
           && sw_strip_view_get_strip (sw_sorter_strip (self))->left.open > 0)
    {
      self->done_at = 0;
      sw_strip_view_next_doubt (sw_sorter_strip (self), FALSE);
    }
}

static void
show_strip (SwSorter *self)
{
  const SwStrip *strip = sw_strip_view_get_strip (sw_sorter_strip (self));
  gboolean any = strip->stops->len > 0;

  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), any ? "strip" : "none");
  show_left (self, strip);
  if (any && !self->opened)
    {
      self->opened = TRUE;
      if (!sw_strip_view_next_doubt (sw_sorter_strip (self), FALSE))
        sw_strip_view_choose_stop (sw_sorter_strip (self),
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
      sw_strip_view_set_strip (sw_sorter_strip (self), g_steal_pointer (&answer->strip));
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
  gtk_widget_class_bind_template_callback_full (widget, "on_activated",
                                                G_CALLBACK (sw_sorter_on_activated));
  gtk_widget_class_bind_template_callback_full (widget, "on_dropped",
                                                G_CALLBACK (sw_sorter_on_dropped));
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
  sw_sorter_add_actions (self);
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
  sw_strip_view_set_pictures (sw_sorter_strip (self), pictures);
  self->pictures = g_object_ref (pictures);
  g_signal_connect_object (pictures, "loaded", G_CALLBACK (on_loaded), self, G_CONNECT_SWAPPED);
  sw_sorter_add_popovers (self);
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
  const SwStripUnit *unit = sw_strip_view_get_unit (sw_sorter_strip (self));

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
         && (self->trip == 0 || sw_strip_view_get_strip (sw_sorter_strip (self)) != NULL);
}
