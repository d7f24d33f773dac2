/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of running offers and, below it, what is copied to and pasted from the outlet's page. */
#include "app/running-view.h"

#include "app/enquiries-box.h"
#include "app/night-rows.h"
#include "app/offer-acts.h"
#include "app/offer-forms.h"
#include "app/pack-form.h"
#include "app/put-up-form.h"
#include "app/row-list.h"
#include "app/slip-form.h"
#include "app/text.h"
#include "core/catalogue/enquiries.h"
#include "core/trade/offer-text.h"

struct _SwRunningView
{
  GtkBox parent;
  SwStore *store;
  SwNight *night; /* its rows alone: nothing is caught here */
  gint64 noted;   /* the offer whose notes the fields show; 0: none */
  char *kept_own_ref, *kept_title, *kept_text, *kept_extra; /* as they were read */
  char *composed;                                           /* the text that the facts make */
  char *likely_round; /* its round, or else the one begun last; "" */
  GtkWidget *stack, *summary, *list, *own_ref, *title, *text, *extra, *price, *round, *desk,
      *enquiries, *from_facts;
};

G_DEFINE_TYPE (SwRunningView, sw_running_view, GTK_TYPE_BOX)

static const SwRunRow *
current (SwRunningView *self)
{
  int i = sw_night_find (self->night, sw_row_list_get_key (SW_ROW_LIST (self->list)));
  return i >= 0 ? sw_night_row (self->night, (guint)i) : NULL;
}

/* ---- what is copied over ---- */

static char *
text_of (SwRunningView *self)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->text));
  GtkTextIter start, end;

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  return gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
}

static const char *
changed (const char *now, const char *kept)
{
  return g_strcmp0 (now, kept) != 0 ? now : NULL;
}

static void
keep (char **kept, const char *text)
{
  char *copy = g_strdup (text);
  g_free (*kept);
  *kept = copy;
}

/* Sends what was typed since it was read. */
static void
save (SwRunningView *self)
{
  g_autofree char *text = text_of (self);
  const char *own_ref
      = changed (gtk_entry_get_text (GTK_ENTRY (self->own_ref)), self->kept_own_ref);
  const char *title = changed (gtk_entry_get_text (GTK_ENTRY (self->title)), self->kept_title);
  const char *extra = changed (gtk_entry_get_text (GTK_ENTRY (self->extra)), self->kept_extra);
  const char *new_text = changed (text, self->kept_text);

  if (self->noted == 0 || (own_ref == NULL && title == NULL && extra == NULL && new_text == NULL))
    return;
  sw_act_offer_note (self->store, self->noted, own_ref, title, new_text, extra);
  if (own_ref != NULL)
    keep (&self->kept_own_ref, own_ref);
  if (title != NULL)
    keep (&self->kept_title, title);
  if (extra != NULL)
    keep (&self->kept_extra, extra);
  if (new_text != NULL)
    keep (&self->kept_text, new_text);
}

static gboolean
on_left (GtkWidget *field, GdkEvent *event, SwRunningView *self)
{
  save (self);
  return FALSE;
}

/* What one offer shows beside its row. */
typedef struct
{
  SwOfferNote *note;
  GPtrArray *enquiries;   /* SwEnquiry */
  GPtrArray *rounds;      /* SwOfferRound */
  char *title, *composed; /* by the facts */
} Beside;

static void
beside_free (gpointer data)
{
  Beside *beside = data;

  sw_offer_note_free (beside->note);
  g_clear_pointer (&beside->enquiries, g_ptr_array_unref);
  g_clear_pointer (&beside->rounds, g_ptr_array_unref);
  g_free (beside->title);
  g_free (beside->composed);
  g_free (beside);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Beside, beside_free)

typedef struct
{
  SwRunningView *view;
  gint64 deal;
} NoteRead;

static gpointer
read_beside (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  gint64 deal = *(const gint64 *)data;
  g_autoptr (Beside) beside = g_new0 (Beside, 1);

  beside->note = sw_offer_note_get (catalogue, deal, error);
  if (beside->note == NULL || (beside->enquiries = sw_enquiry_list (catalogue, deal, error)) == NULL
      || (beside->rounds = sw_offer_round_list (catalogue, error)) == NULL
      || !sw_offer_text_compose (catalogue, deal, &beside->title, &beside->composed, error))
    return NULL;
  return g_steal_pointer (&beside);
}

static void
set_text (SwRunningView *self, const char *text)
{
  gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->text)), text, -1);
}

/* Where nothing was written, what the facts make stands there, and follows them. */
static void
show_fields (SwRunningView *self, gint64 deal, const Beside *beside)
{
  const SwOfferNote *note = beside->note;

  self->noted = deal;
  keep (&self->kept_own_ref, note->own_ref != NULL ? note->own_ref : "");
  keep (&self->kept_title, *note->title != '\0' ? note->title : beside->title);
  keep (&self->kept_text, *note->text != '\0' ? note->text : beside->composed);
  keep (&self->kept_extra, note->extra);
  gtk_entry_set_text (GTK_ENTRY (self->own_ref), self->kept_own_ref);
  gtk_entry_set_text (GTK_ENTRY (self->title), self->kept_title);
  gtk_entry_set_text (GTK_ENTRY (self->extra), self->kept_extra);
  set_text (self, self->kept_text);
}

/* Nobody types in it: what is read anew may take its place. */
static gboolean
is_untouched (SwRunningView *self)
{
  g_autofree char *text = text_of (self);

  return !gtk_widget_has_focus (self->text) && !gtk_widget_has_focus (self->title)
         && !gtk_widget_has_focus (self->own_ref) && !gtk_widget_has_focus (self->extra)
         && changed (text, self->kept_text) == NULL;
}

static void
follow_facts (SwRunningView *self)
{
  g_autofree char *text = text_of (self);

  gtk_widget_set_sensitive (self->from_facts, g_strcmp0 (text, self->composed) != 0);
}

/* What goes up together is often put into its round together: the latest is offered for the next.
 */
static void
show_round (SwRunningView *self, const Beside *beside)
{
  const char *title = beside->note->round_title;
  const SwOfferRound *last = beside->rounds->len > 0
                                 ? g_ptr_array_index (beside->rounds, beside->rounds->len - 1)
                                 : NULL;
  g_autofree char *text = title != NULL ? g_strdup_printf (_ ("Round: %s"), title) : NULL;

  keep (&self->likely_round, title != NULL ? title : last != NULL ? last->title : "");
  gtk_label_set_text (GTK_LABEL (self->round), text != NULL ? text : "");
}

static void
on_beside (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autofree NoteRead *read = data;
  g_autoptr (SwRunningView) self = read->view;
  g_autoptr (Beside) beside = NULL;
  const SwRunRow *row;

  if (self->store == NULL)
    return;
  beside = sw_store_finish (self->store, result, NULL);
  row = current (self);
  if (beside == NULL || row == NULL || row->deal != read->deal)
    return; /* another was chosen meanwhile */
  keep (&self->composed, beside->composed);
  show_round (self, beside);
  if (self->noted != read->deal || is_untouched (self))
    show_fields (self, read->deal, beside);
  sw_enquiries_box_show (SW_ENQUIRIES_BOX (self->enquiries), self->store, beside->enquiries,
                         row->items);
  follow_facts (self);
}

static void
follow (SwRunningView *self)
{
  const SwRunRow *row = current (self);
  g_autofree char *price = NULL;
  NoteRead *read;

  gtk_widget_set_sensitive (self->desk, row != NULL && !sw_store_overview (self->store)->read_only);
  if (row == NULL)
    return;
  if (row->has_start || row->has_asking)
    price = sw_store_money (self->store, row->has_start ? row->start : row->asking);
  gtk_label_set_text (GTK_LABEL (self->price), price != NULL ? price : "");
  read = g_new0 (NoteRead, 1);
  read->view = g_object_ref (self);
  read->deal = row->deal;
  sw_store_read (self->store, SW_RANK_VISIBLE, read_beside,
                 g_memdup2 (&row->deal, sizeof row->deal), g_free, beside_free, NULL, on_beside,
                 read);
}

/* ---- the list ---- */

static gpointer
read_running (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  return sw_run_running (catalogue, error);
}

static void
summarize (SwRunningView *self)
{
  guint withdraw = 0, n = sw_night_count (self->night);
  g_autofree char *text = NULL;

  for (guint i = 0; i < n; i++)
    withdraw += sw_night_row (self->night, i)->to_withdraw;
  text = withdraw > 0 ? sw_text_counted (n, "%u running offer, %u to withdraw",
                                         "%u running offers, %u to withdraw", n, withdraw)
                      : sw_text_count (n, "%d running offer", "%d running offers");
  gtk_label_set_text (GTK_LABEL (self->summary), text);
}

static void
on_running (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwRunningView) self = data;
  g_autoptr (GPtrArray) offers = NULL;
  g_autoptr (SwRows) rows = NULL;

  if (self->store == NULL)
    return;
  offers = sw_store_finish (self->store, result, NULL);
  if (offers == NULL)
    return;
  sw_night_set_rows (self->night, offers, sw_night_begin_read (self->night));
  rows = sw_night_rows_new (self->store, self->night);
  sw_row_list_set_rows (SW_ROW_LIST (self->list), rows);
  if (sw_row_list_get_key (SW_ROW_LIST (self->list)) == 0 && offers->len > 0)
    sw_row_list_set_key (SW_ROW_LIST (self->list), sw_night_row (self->night, 0)->deal);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), offers->len > 0 ? "offers" : "none");
  summarize (self);
  follow (self);
}

static void
on_selected (SwRunningView *self)
{
  save (self);
  self->noted = 0;
  follow (self);
}

static void
withdraw (SwRunningView *self)
{
  const SwRunRow *row = current (self);

  if (row != NULL)
    sw_act_withdraw (self->store, row->deal);
}

static gboolean
on_key (GtkWidget *list, GdkEventKey *event, SwRunningView *self)
{
  if ((event->state & gtk_accelerator_get_default_mod_mask ()) != 0
      || gdk_keyval_to_lower (event->keyval) != 'w' || !gtk_widget_get_sensitive (self->desk))
    return FALSE;
  withdraw (self);
  return TRUE;
}

static void
on_activated (SwRunningView *self)
{
  gtk_widget_grab_focus (self->own_ref);
}

/* ---- buttons ---- */

static GtkWindow *
window_of (SwRunningView *self)
{
  return GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self)));
}

static void
copy (SwRunningView *self, const char *text, const char *told)
{
  gtk_clipboard_set_text (gtk_widget_get_clipboard (self->list, GDK_SELECTION_CLIPBOARD), text, -1);
  sw_store_tell (self->store, told, FALSE);
}

static void
on_copy_title (SwRunningView *self)
{
  copy (self, gtk_entry_get_text (GTK_ENTRY (self->title)), _ ("The title is copied."));
}

static void
on_copy_text (SwRunningView *self)
{
  g_autofree char *text = text_of (self);
  copy (self, text, _ ("The text is copied."));
}

static void
on_copy_price (SwRunningView *self)
{
  copy (self, gtk_label_get_text (GTK_LABEL (self->price)), _ ("The price is copied."));
}

static void
on_copy_extra (SwRunningView *self)
{
  copy (self, gtk_entry_get_text (GTK_ENTRY (self->extra)),
        _ ("What is also to be had is copied."));
}

/* What the person wrote gives way; undo brings it back. */
static void
on_from_facts (SwRunningView *self)
{
  if (self->composed == NULL)
    return;
  set_text (self, self->composed);
  save (self);
  follow_facts (self);
}

static void
on_pasted (GtkClipboard *clipboard, const char *text, gpointer data)
{
  g_autoptr (SwRunningView) self = data;
  g_autofree char *line = text != NULL ? g_strdelimit (g_strdup (text), "\r\n\t", ' ') : NULL;

  if (self->store == NULL || line == NULL)
    return;
  gtk_entry_set_text (GTK_ENTRY (self->own_ref), g_strstrip (line));
  save (self);
}

static void
on_paste_ref (SwRunningView *self)
{
  gtk_clipboard_request_text (gtk_widget_get_clipboard (self->list, GDK_SELECTION_CLIPBOARD),
                              on_pasted, g_object_ref (self));
}

/* The reference is noted: on to the next offer's. */
static void
on_ref_entered (SwRunningView *self)
{
  gboolean moved;

  save (self);
  g_signal_emit_by_name (self->list, "move", GTK_MOVEMENT_DISPLAY_LINES, 1, &moved);
}

static void
on_result (SwRunningView *self)
{
  const SwRunRow *row = current (self);

  if (row != NULL)
    sw_slip_form_show (window_of (self), self->store, SW_SLIP_RESULT, row->ref, row->items, NULL);
}

static void
open_offer_form (SwRunningView *self, SwOfferFormKind kind)
{
  const SwRunRow *row = current (self);

  if (row != NULL)
    sw_offer_form_show (window_of (self), self->store, kind, row->deal, row->items, NULL);
}

static void
on_price (SwRunningView *self)
{
  open_offer_form (self, SW_OFFER_FORM_PRICE);
}

static void
on_enquiry (SwRunningView *self)
{
  open_offer_form (self, SW_OFFER_FORM_ENQUIRY);
}

static void
on_round (SwRunningView *self)
{
  const SwRunRow *row = current (self);
  const char *begun[] = { self->likely_round };

  if (row != NULL)
    sw_offer_form_show (window_of (self), self->store, SW_OFFER_FORM_ROUND, row->deal, row->items,
                        begun);
}

static void
on_pack (SwRunningView *self)
{
  const SwRunRow *row = current (self);

  if (row != NULL)
    sw_pack_form_open (window_of (self), self->store, row->ref);
}

static void
on_put_up (SwRunningView *self)
{
  sw_put_up_form_show (window_of (self), self->store, NULL, 0);
}

/* ---- object ---- */

static void
sw_running_view_dispose (GObject *object)
{
  SwRunningView *self = SW_RUNNING_VIEW (object);

  if (self->store != NULL && self->list != NULL)
    save (self);
  if (self->list != NULL) /* its rows lead to the offers kept here */
    sw_row_list_set_rows (SW_ROW_LIST (self->list), NULL);
  self->list = NULL;
  g_clear_object (&self->store);
  G_OBJECT_CLASS (sw_running_view_parent_class)->dispose (object);
}

static void
sw_running_view_finalize (GObject *object)
{
  SwRunningView *self = SW_RUNNING_VIEW (object);

  sw_night_free (self->night);
  g_free (self->kept_own_ref);
  g_free (self->kept_title);
  g_free (self->kept_text);
  g_free (self->kept_extra);
  g_free (self->composed);
  g_free (self->likely_round);
  G_OBJECT_CLASS (sw_running_view_parent_class)->finalize (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwRunningView, name)

static void
sw_running_view_class_init (SwRunningViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_running_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = sw_running_view_finalize;
  g_type_ensure (SW_TYPE_ENQUIRIES_BOX);
  g_type_ensure (SW_TYPE_ROW_LIST);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/running-view.ui");
  BIND (stack);
  BIND (summary);
  BIND (list);
  BIND (own_ref);
  BIND (title);
  BIND (text);
  BIND (extra);
  BIND (price);
  BIND (round);
  BIND (desk);
  BIND (enquiries);
  BIND (from_facts);
  gtk_widget_class_bind_template_callback (widget, on_selected);
  gtk_widget_class_bind_template_callback (widget, on_activated);
  gtk_widget_class_bind_template_callback (widget, on_key);
  gtk_widget_class_bind_template_callback (widget, on_left);
  gtk_widget_class_bind_template_callback (widget, on_ref_entered);
  gtk_widget_class_bind_template_callback (widget, on_copy_title);
  gtk_widget_class_bind_template_callback (widget, on_copy_text);
  gtk_widget_class_bind_template_callback (widget, on_copy_price);
  gtk_widget_class_bind_template_callback (widget, on_paste_ref);
  gtk_widget_class_bind_template_callback (widget, on_pack);
  gtk_widget_class_bind_template_callback (widget, on_enquiry);
  gtk_widget_class_bind_template_callback (widget, on_price);
  gtk_widget_class_bind_template_callback (widget, on_round);
  gtk_widget_class_bind_template_callback (widget, on_from_facts);
  gtk_widget_class_bind_template_callback (widget, on_copy_extra);
  gtk_widget_class_bind_template_callback (widget, on_result);
  gtk_widget_class_bind_template_callback (widget, on_put_up);
  gtk_widget_class_bind_template_callback (widget, save);
  gtk_widget_class_bind_template_callback (widget, withdraw);
}

static void
sw_running_view_init (SwRunningView *self)
{
  self->night = sw_night_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
sw_running_view_new (SwStore *store, SwPictures *pictures)
{
  SwRunningView *self = g_object_new (SW_TYPE_RUNNING_VIEW, NULL);

  self->store = g_object_ref (store);
  sw_row_list_set_pictures (SW_ROW_LIST (self->list), pictures);
  return GTK_WIDGET (self);
}

void
sw_running_view_load (GtkWidget *view)
{
  SwRunningView *self = SW_RUNNING_VIEW (view);

  sw_store_read (self->store, SW_RANK_VISIBLE, read_running, NULL, NULL,
                 (GDestroyNotify)g_ptr_array_unref, NULL, on_running, g_object_ref (self));
}

void
sw_running_view_focus (GtkWidget *view)
{
  gtk_widget_grab_focus (SW_RUNNING_VIEW (view)->list);
}
