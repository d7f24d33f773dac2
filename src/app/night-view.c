/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys to what they mean, and the tick of the countdown. How a row stands is night.h's business,
 * what may be done core's. */
#include "app/night-view.h"

#include <string.h>

#include "app/clock.h"
#include "app/interest-form.h"
#include "app/night-read.h"
#include "app/night-rows.h"
#include "app/offer-acts.h"
#include "app/offer-words.h"
#include "app/row-list.h"
#include "app/side-box.h"
#include "app/text.h"
#include "app/verdict-bar.h"

struct _SwNightView
{
  GtkBox parent;
  SwStore *store;
  SwNight *night;
  GQueue tickets;        /* of the keys that have not answered, oldest first */
  gboolean has_span;     /* FALSE: nothing closes */
  SwInstant from, until; /* of the night shown */
  gboolean wants_next;   /* the person asked for the next night */
  gboolean went_back;    /* the night shown is an earlier one, asked for */
  SwRunNight before;     /* the one before it that lacks results; open 0: none */
  gboolean noting;       /* the entry takes interest, else a price */
  guint tick;
  GtkWidget *stack, *heading, *counts, *list, *entry, *entry_label, *totals;
  GtkWidget *sold, *no_sale, *take_back, *interest, *paste, *confirm, *confirm_one, *earlier,
      *next_night, *verdicts, *desk;
};

G_DEFINE_TYPE (SwNightView, sw_night_view, GTK_TYPE_BOX)

/* ---- what is shown ---- */

static const SwRunRow *
current (SwNightView *self)
{
  int i = sw_night_find (self->night, sw_night_get_cursor (self->night));
  return i >= 0 ? sw_night_row (self->night, (guint)i) : NULL;
}

static void
follow_counts (SwNightView *self)
{
  SwNightCounts counts = sw_night_counts (self->night);
  g_autofree char *text = g_strdup_printf (_ ("%u sold, %u no sale, %u to come"), counts.sold,
                                           counts.no_sale, counts.open);
  g_autofree char *confirm = g_strdup_printf (_ ("_Confirm %u"), counts.unconfirmed);

  gtk_label_set_text (GTK_LABEL (self->counts), text);
  gtk_button_set_label (GTK_BUTTON (self->confirm), confirm);
  gtk_widget_set_sensitive (self->confirm,
                            counts.unconfirmed > 0 && !sw_store_overview (self->store)->read_only);
  gtk_widget_set_visible (
      self->next_night,
      self->went_back || (counts.offers > 0 && counts.open == 0 && counts.unconfirmed == 0));
}

/* Which keys mean something for the row under the cursor. */
static void
follow_cursor (SwNightView *self)
{
  int i = sw_night_find (self->night, sw_night_get_cursor (self->night));
  SwNightStand stand = i >= 0 ? sw_night_stand (self->night, (guint)i) : (SwNightStand){ 0 };
  gboolean open = i >= 0 && !stand.booked && !sw_store_overview (self->store)->read_only;
  gboolean unsold = open && !(stand.caught && stand.result == SW_RESULT_SOLD);

  if (i >= 0)
    sw_row_list_set_key (SW_ROW_LIST (self->list), sw_night_get_cursor (self->night));
  /* it keeps the keyboard on rows that are booked too, to move on from there */
  gtk_widget_set_sensitive (self->entry, i >= 0 && !sw_store_overview (self->store)->read_only);
  gtk_widget_set_sensitive (self->sold, open);
  gtk_widget_set_sensitive (self->no_sale, open);
  gtk_widget_set_sensitive (self->take_back, open && stand.caught);
  gtk_widget_set_sensitive (self->confirm_one, open && stand.caught);
  gtk_widget_set_sensitive (self->interest, open);
  gtk_widget_set_sensitive (self->verdicts, unsold);
}

static void
follow_mode (SwNightView *self)
{
  const SwRunRow *row = current (self);
  g_autofree char *label
      = g_strdup_printf (self->noting ? _ ("Interest in %s") : _ ("Price for %s"),
                         row != NULL ? row->items : _ ("nothing"));

  gtk_label_set_text (GTK_LABEL (self->entry_label), label);
  atk_object_set_name (gtk_widget_get_accessible (self->entry), label);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), self->noting
                                                               ? _ ("looks followers bids price")
                                                               : _ ("what it sold for"));
  gtk_button_set_label (GTK_BUTTON (self->sold), self->noting ? _ ("Note") : _ ("Sold"));
}

static void
follow (SwNightView *self)
{
  follow_cursor (self);
  follow_counts (self);
  follow_mode (self);
  sw_row_list_redraw (SW_ROW_LIST (self->list));
}

/* ---- the countdown ---- */

static gboolean on_tick (gpointer data);

static void
start_tick (SwNightView *self)
{
  guint seconds = gtk_widget_get_mapped (GTK_WIDGET (self))
                      ? sw_night_next_tick (self->night, sw_clock_now ())
                      : 0;

  g_clear_handle_id (&self->tick, g_source_remove);
  if (seconds > 0)
    self->tick = g_timeout_add_seconds (seconds, on_tick, self);
}

static gboolean
on_tick (gpointer data)
{
  SwNightView *self = data;

  self->tick = 0;
  sw_row_list_redraw (SW_ROW_LIST (self->list));
  start_tick (self);
  return G_SOURCE_REMOVE;
}

/* ---- reading ---- */

static void
show_totals (SwNightView *self, const SwRunTotals *totals)
{
  g_autofree char *before = sw_store_money_with_code (self->store, totals->proceeds);
  g_autofree char *after = sw_store_money_with_code (self->store, totals->leaves);
  g_autofree char *text = g_strdup_printf (_ ("%s before fees, %s after"), before, after);

  gtk_label_set_text (GTK_LABEL (self->totals), text);
}

/* "3 without a result from 26 April 2026" */
static void
show_earlier (SwNightView *self, const SwNightRead *read)
{
  g_autofree char *day = sw_day_written (read->day_before);
  g_autofree char *text = sw_text_counted (read->before.open, "%u without a result from %s",
                                           "%u without a result from %s", read->before.open, day);

  self->before = read->before;
  gtk_button_set_label (GTK_BUTTON (self->earlier), text);
  gtk_widget_set_visible (self->earlier, read->before.open > 0);
}

static void
on_night (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwNightView) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (SwRows) rows = NULL;
  g_autofree char *day = NULL, *heading = NULL;
  SwNightRead *read;

  if (self->store == NULL)
    return;
  read = sw_store_finish (self->store, result, &error);
  if (read == NULL)
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        sw_store_tell (self->store, error->message, TRUE);
      return;
    }
  self->has_span = read->found;
  self->from = read->from;
  self->until = read->until;
  day = sw_day_written (read->day);
  heading = g_strdup_printf (_ ("Closing from %s"), day);
  gtk_label_set_text (GTK_LABEL (self->heading), heading);
  sw_night_set_rows (self->night, read->rows, read->read);
  rows = sw_night_rows_new (self->store, self->night);
  sw_row_list_set_rows (SW_ROW_LIST (self->list), rows);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), read->found ? "night" : "none");
  show_totals (self, &read->totals);
  show_earlier (self, read);
  follow (self);
  start_tick (self);
  sw_night_read_free (read);
}

static void
load (SwNightView *self)
{
  SwNightWish *wish = g_new0 (SwNightWish, 1);

  wish->read = sw_night_begin_read (self->night);
  wish->has_span = self->has_span;
  wish->from = self->from;
  wish->until = self->until;
  wish->now = sw_clock_now ();
  wish->next = self->wants_next;
  self->wants_next = FALSE;
  sw_store_read (self->store, SW_RANK_VISIBLE, sw_night_read, wish, g_free, sw_night_read_free,
                 NULL, on_night, g_object_ref (self));
}

/* ---- keys ---- */

/* The row under the cursor alone. */
static void
on_confirm_one (SwNightView *self)
{
  gint64 deal = sw_night_get_cursor (self->night);
  int i = sw_night_find (self->night, deal);

  if (i >= 0 && sw_night_stand (self->night, (guint)i).caught)
    sw_act_confirm (self->store, &deal, 1);
  gtk_widget_grab_focus (self->entry); /* the next key is a price again */
}

static void
on_landed (gpointer owner, gboolean done)
{
  SwNightView *self = owner;
  guint ticket = GPOINTER_TO_UINT (g_queue_pop_head (&self->tickets));

  sw_night_landed (self->night, ticket, done);
  if (!done)
    follow (self);
}

static gboolean
sent (SwNightView *self, guint ticket)
{
  if (ticket == 0)
    {
      sw_store_tell (self->store,
                     _ ("That says nothing of this row: it is booked, or was caught as sold."),
                     TRUE);
      return FALSE;
    }
  g_queue_push_tail (&self->tickets, GUINT_TO_POINTER (ticket));
  gtk_entry_set_text (GTK_ENTRY (self->entry), "");
  follow (self);
  return TRUE;
}

static void
catch_row (SwNightView *self, SwResult result, SwMoney amount)
{
  gint64 deal = sw_night_get_cursor (self->night);

  if (sent (self, sw_night_catch (self->night, deal, result, amount)))
    sw_act_catch (self->store, deal, result, amount, G_OBJECT (self), on_landed);
}

static void
take_back (SwNightView *self)
{
  gint64 deal = sw_night_get_cursor (self->night);

  if (sent (self, sw_night_take_back (self->night, deal)))
    sw_act_take_back (self->store, deal, G_OBJECT (self), on_landed);
}

static void
say_verdict (SwNightView *self, SwVerdict verdict)
{
  gint64 deal = sw_night_get_cursor (self->night);

  if (sent (self, sw_night_verdict (self->night, deal, verdict)))
    sw_act_verdict (self->store, deal, verdict, G_OBJECT (self), on_landed);
}

static void
move (SwNightView *self, GtkMovementStep step, int count)
{
  gboolean moved;
  g_signal_emit_by_name (self->list, "move", step, count, &moved);
}

static void
set_noting (SwNightView *self, gboolean noting)
{
  self->noting = noting;
  gtk_entry_set_text (GTK_ENTRY (self->entry), "");
  follow_mode (self);
  gtk_widget_grab_focus (self->entry);
}

/* Takes the line typed; the next row is the next to be noted. */
static void
note_interest (SwNightView *self, const char *text)
{
  g_autoptr (GError) error = NULL;
  SwDealInterest row = { .deal = sw_night_get_cursor (self->night) };

  if (!sw_interest_parse (text, sw_store_overview (self->store)->currency, sw_number_style (),
                          &row.interest, &error))
    {
      sw_store_tell (self->store, error->message, TRUE);
      return;
    }
  sw_act_interest (self->store, &row, 1);
  gtk_entry_set_text (GTK_ENTRY (self->entry), "");
  move (self, GTK_MOVEMENT_DISPLAY_LINES, 1);
}

static void
on_activate (SwNightView *self)
{
  const char *text = gtk_entry_get_text (GTK_ENTRY (self->entry));
  g_autoptr (GError) error = NULL;
  SwMoney amount;

  if (current (self) == NULL)
    return;
  if (self->noting)
    {
      note_interest (self, text);
      return;
    }
  if (*text == '\0')
    {
      sw_store_tell (self->store, _ ("Type the price it sold for; N where nobody bought it."),
                     TRUE);
      return;
    }
  if (sw_store_parse_money (self->store, text, &amount, &error))
    catch_row (self, SW_RESULT_SOLD, amount);
  else
    sw_store_tell (self->store, error->message, TRUE);
}

static void
note_from_here (SwNightView *self)
{
  if (gtk_widget_get_sensitive (self->interest))
    set_noting (self, TRUE);
  else
    sent (self, 0); /* says that the row is booked */
}

/* A letter while nothing is typed; FALSE: it means nothing here. */
static gboolean
take_letter (SwNightView *self, guint letter)
{
  SwVerdict verdict;

  if (letter == 'n')
    catch_row (self, SW_RESULT_NO_SALE, SW_MONEY_ZERO);
  else if (letter == 'i')
    note_from_here (self);
  else if (sw_night_verdict_of_key (letter, &verdict))
    say_verdict (self, verdict);
  else
    return FALSE;
  return TRUE;
}

static gboolean
take_move (SwNightView *self, guint keyval)
{
  static const struct
  {
    guint key, keypad;
    GtkMovementStep step;
    int count;
  } moves[] = {
    { GDK_KEY_Up, GDK_KEY_KP_Up, GTK_MOVEMENT_DISPLAY_LINES, -1 },
    { GDK_KEY_Down, GDK_KEY_KP_Down, GTK_MOVEMENT_DISPLAY_LINES, 1 },
    { GDK_KEY_Page_Up, GDK_KEY_KP_Page_Up, GTK_MOVEMENT_PAGES, -1 },
    { GDK_KEY_Page_Down, GDK_KEY_KP_Page_Down, GTK_MOVEMENT_PAGES, 1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (moves); i++)
    if (keyval == moves[i].key || keyval == moves[i].keypad)
      {
        move (self, moves[i].step, moves[i].count);
        return TRUE;
      }
  return FALSE;
}

static gboolean
take_plain_key (SwNightView *self, guint keyval, gboolean empty)
{
  guint letter = gdk_keyval_to_lower (keyval);

  if (take_move (self, keyval))
    return TRUE;
  if (keyval == GDK_KEY_Escape && (!empty || self->noting))
    {
      set_noting (self, empty ? FALSE : self->noting);
      return TRUE;
    }
  if (self->noting)
    return FALSE;
  if (empty && (keyval == GDK_KEY_BackSpace || keyval == GDK_KEY_Delete))
    {
      take_back (self);
      return TRUE;
    }
  if (letter < 'a' || letter > 'z')
    return FALSE;
  /* a letter behind figures is neither a price nor surely a key */
  if (!empty)
    sw_store_tell (self->store, _ ("Enter catches the price typed; Escape clears it."), TRUE);
  else
    take_letter (self, letter);
  return TRUE;
}

static void
on_pasted (GtkClipboard *clipboard, const char *text, gpointer data)
{
  g_autoptr (SwNightView) self = data;
  int at;

  if (self->store == NULL || text == NULL)
    return;
  if (strchr (text, '\n') != NULL && strchr (text, '\n')[1] != '\0')
    {
      sw_interest_form_show (GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self))), self->store,
                             text);
      return;
    }
  at = gtk_editable_get_position (GTK_EDITABLE (self->entry));
  gtk_editable_insert_text (GTK_EDITABLE (self->entry), text, -1, &at);
  gtk_editable_set_position (GTK_EDITABLE (self->entry), at);
}

static void
paste (SwNightView *self)
{
  gtk_entry_grab_focus_without_selecting (GTK_ENTRY (self->entry));
  gtk_clipboard_request_text (gtk_widget_get_clipboard (self->entry, GDK_SELECTION_CLIPBOARD),
                              on_pasted, g_object_ref (self));
}

static gboolean
on_key (GtkWidget *widget, GdkEventKey *event, SwNightView *self)
{
  guint held = event->state & gtk_accelerator_get_default_mod_mask ();
  gboolean empty = *gtk_entry_get_text (GTK_ENTRY (self->entry)) == '\0';

  if (sw_store_overview (self->store)->read_only || current (self) == NULL)
    return FALSE;
  if (held == GDK_CONTROL_MASK && gdk_keyval_to_lower (event->keyval) == 'v')
    {
      paste (self);
      return TRUE;
    }
  if (held == GDK_CONTROL_MASK
      && (event->keyval == GDK_KEY_Return || event->keyval == GDK_KEY_KP_Enter))
    {
      on_confirm_one (self);
      return TRUE;
    }
  if ((held & ~GDK_SHIFT_MASK) != 0)
    return FALSE;
  return take_plain_key (self, event->keyval, empty);
}

/* What begins a price while the list has the keyboard goes where prices are typed. */
static gboolean
on_list_key (GtkWidget *widget, GdkEventKey *event, SwNightView *self)
{
  if (event->keyval == GDK_KEY_Return || event->keyval == GDK_KEY_KP_Enter
      || event->keyval == GDK_KEY_space)
    return FALSE;
  if (on_key (widget, event, self))
    return TRUE;
  if ((event->state & (GDK_CONTROL_MASK | GDK_MOD1_MASK)) != 0
      || !g_unichar_isdigit (gdk_keyval_to_unicode (event->keyval)))
    return FALSE;
  gtk_entry_grab_focus_without_selecting (GTK_ENTRY (self->entry));
  return gtk_widget_event (self->entry, (GdkEvent *)event);
}

static void
on_selected (GtkWidget *list, gint64 deal, SwNightView *self)
{
  sw_night_set_cursor (self->night, deal);
  follow (self);
}

static void
on_activated (GtkWidget *list, gint64 deal, SwNightView *self)
{
  gtk_widget_grab_focus (self->entry);
}

/* ---- buttons ---- */

static void
on_no_sale (SwNightView *self)
{
  catch_row (self, SW_RESULT_NO_SALE, SW_MONEY_ZERO);
  gtk_widget_grab_focus (self->entry);
}

static void
on_take_back (SwNightView *self)
{
  take_back (self);
  gtk_widget_grab_focus (self->entry);
}

static void
on_interest (SwNightView *self)
{
  set_noting (self, !self->noting);
}

static void
on_verdict (GtkWidget *bar, int verdict, SwNightView *self)
{
  say_verdict (self, (SwVerdict)verdict);
  gtk_widget_grab_focus (self->entry);
}

static void
on_confirm (SwNightView *self)
{
  g_autoptr (GArray) deals = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; i < sw_night_count (self->night); i++)
    if (sw_night_stand (self->night, i).caught)
      g_array_append_val (deals, sw_night_row (self->night, i)->deal);
  sw_act_confirm (self->store, (const gint64 *)(gconstpointer)deals->data, deals->len);
  gtk_widget_grab_focus (self->entry);
}

static void
on_next_night (SwNightView *self)
{
  self->wants_next = TRUE;
  self->went_back = FALSE;
  set_noting (self, FALSE); /* what is typed next is a price, whatever was done last night */
  load (self);
}

static void
on_earlier (SwNightView *self)
{
  self->has_span = TRUE;
  self->went_back = TRUE;
  self->from = self->before.from;
  self->until = self->before.until;
  set_noting (self, FALSE);
  load (self);
  gtk_widget_grab_focus (self->entry);
}

/* ---- object ---- */

static void
sw_night_view_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (sw_night_view_parent_class)->map (widget);
  start_tick (SW_NIGHT_VIEW (widget));
}

static void
sw_night_view_unmap (GtkWidget *widget)
{
  g_clear_handle_id (&SW_NIGHT_VIEW (widget)->tick, g_source_remove);
  GTK_WIDGET_CLASS (sw_night_view_parent_class)->unmap (widget);
}

static void
sw_night_view_dispose (GObject *object)
{
  SwNightView *self = SW_NIGHT_VIEW (object);

  g_clear_handle_id (&self->tick, g_source_remove);
  if (self->list != NULL) /* its rows lead to the night */
    sw_row_list_set_rows (SW_ROW_LIST (self->list), NULL);
  self->list = NULL;
  g_clear_object (&self->store);
  g_queue_clear (&self->tickets);
  G_OBJECT_CLASS (sw_night_view_parent_class)->dispose (object);
}

static void
sw_night_view_finalize (GObject *object)
{
  sw_night_free (SW_NIGHT_VIEW (object)->night);
  G_OBJECT_CLASS (sw_night_view_parent_class)->finalize (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwNightView, name)

static void
sw_night_view_class_init (SwNightViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_night_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = sw_night_view_finalize;
  widget->map = sw_night_view_map;
  widget->unmap = sw_night_view_unmap;
  g_type_ensure (SW_TYPE_ROW_LIST);
  g_type_ensure (SW_TYPE_SIDE_BOX);
  g_type_ensure (SW_TYPE_VERDICT_BAR);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/night-view.ui");
  BIND (stack);
  BIND (heading);
  BIND (counts);
  BIND (list);
  BIND (entry);
  BIND (entry_label);
  BIND (totals);
  BIND (sold);
  BIND (no_sale);
  BIND (take_back);
  BIND (interest);
  BIND (paste);
  BIND (confirm);
  BIND (confirm_one);
  BIND (earlier);
  BIND (next_night);
  BIND (verdicts);
  BIND (desk);
  gtk_widget_class_bind_template_callback (widget, on_activate);
  gtk_widget_class_bind_template_callback (widget, on_key);
  gtk_widget_class_bind_template_callback (widget, on_list_key);
  gtk_widget_class_bind_template_callback (widget, on_selected);
  gtk_widget_class_bind_template_callback (widget, on_activated);
  gtk_widget_class_bind_template_callback (widget, on_no_sale);
  gtk_widget_class_bind_template_callback (widget, on_take_back);
  gtk_widget_class_bind_template_callback (widget, on_interest);
  gtk_widget_class_bind_template_callback (widget, paste);
  gtk_widget_class_bind_template_callback (widget, on_verdict);
  gtk_widget_class_bind_template_callback (widget, on_confirm);
  gtk_widget_class_bind_template_callback (widget, on_confirm_one);
  gtk_widget_class_bind_template_callback (widget, on_earlier);
  gtk_widget_class_bind_template_callback (widget, on_next_night);
}

static void
sw_night_view_init (SwNightView *self)
{
  self->night = sw_night_new ();
  g_queue_init (&self->tickets);
  gtk_widget_init_template (GTK_WIDGET (self));
  sw_mark_key (self->no_sale, _ ("no sale"), 'n');
  sw_mark_key (self->interest, _ ("interest"), 'i');
}

GtkWidget *
sw_night_view_new (SwStore *store, SwPictures *pictures)
{
  SwNightView *self = g_object_new (SW_TYPE_NIGHT_VIEW, NULL);

  self->store = g_object_ref (store);
  sw_row_list_set_pictures (SW_ROW_LIST (self->list), pictures);
  return GTK_WIDGET (self);
}

void
sw_night_view_load (GtkWidget *view)
{
  load (SW_NIGHT_VIEW (view));
}

void
sw_night_view_focus (GtkWidget *view)
{
  SwNightView *self = SW_NIGHT_VIEW (view);
  gtk_widget_grab_focus (gtk_widget_get_sensitive (self->entry) ? self->entry : self->list);
}
