/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Packs the arguments of acts on offers. */
#include "app/offer-acts.h"

#include "app/clock.h"
#include "app/text.h"
#include "core/trade/offering.h"
#include "core/trade/unsold.h"

/* ---- keys of the closing night ---- */

typedef struct
{
  gint64 deal; /* or the item that is decided on */
  SwResult result;
  SwMoney amount;
  SwVerdict verdict;
} Key;

static gboolean
run_catch (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Key *key = data;
  return sw_run_catch (catalogue, key->deal, key->result, key->amount, error);
}

void
sw_act_catch (SwStore *store, gint64 deal, SwResult result, SwMoney amount, GObject *owner,
              SwActDone done)
{
  const Key key = { .deal = deal, .result = result, .amount = amount };
  sw_store_act (store, run_catch, g_memdup2 (&key, sizeof key), g_free, owner, done);
}

static gboolean
run_verdict (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Key *key = data;
  return sw_run_verdict (catalogue, key->deal, key->verdict, error);
}

void
sw_act_verdict (SwStore *store, gint64 deal, SwVerdict verdict, GObject *owner, SwActDone done)
{
  const Key key = { .deal = deal, .verdict = verdict };
  sw_store_act (store, run_verdict, g_memdup2 (&key, sizeof key), g_free, owner, done);
}

static gboolean
run_take_back (SwCatalogue *catalogue, gpointer data, GError **error)
{
  return sw_run_take_back (catalogue, ((const Key *)data)->deal, error);
}

void
sw_act_take_back (SwStore *store, gint64 deal, GObject *owner, SwActDone done)
{
  const Key key = { .deal = deal };
  sw_store_act (store, run_take_back, g_memdup2 (&key, sizeof key), g_free, owner, done);
}

/* ---- confirming ---- */

/* Counted: the thread that acts writes the remarks, the answer tells them. */
typedef struct
{
  gatomicrefcount count;
  GArray *deals;      /* gint64 */
  GPtrArray *remarks; /* of char; NULL until it ran */
  SwStore *store;
} Confirming;

static void
confirming_unref (gpointer data)
{
  Confirming *self = data;

  if (!g_atomic_ref_count_dec (&self->count))
    return;
  g_array_unref (self->deals);
  g_clear_pointer (&self->remarks, g_ptr_array_unref);
  g_free (self);
}

static gboolean
run_confirm (SwCatalogue *catalogue, gpointer data, GError **error)
{
  Confirming *self = data;
  guint booked = 0;

  return self->deals->len == 0
         || sw_run_confirm (catalogue, (const gint64 *)(gconstpointer)self->deals->data,
                            self->deals->len, &booked, &self->remarks, error);
}

#define CONFIRMING "sw-confirming"

static void
on_confirmed (gpointer store, gboolean done)
{
  Confirming *self = g_object_get_data (store, CONFIRMING);

  if (done && self->remarks != NULL && self->remarks->len > 0)
    {
      g_ptr_array_add (self->remarks, NULL);
      g_autofree char *all = g_strjoinv (" ", (char **)self->remarks->pdata);
      sw_store_tell (store, all, TRUE);
    }
  g_object_set_data (store, CONFIRMING, NULL);
}

void
sw_act_confirm (SwStore *store, const gint64 *deals, guint n)
{
  Confirming *self;

  if (g_object_get_data (G_OBJECT (store), CONFIRMING) != NULL)
    return; /* one at a time: the key was struck twice */
  self = g_new0 (Confirming, 1);
  g_atomic_ref_count_init (&self->count);
  self->deals = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_array_append_vals (self->deals, deals, n);
  g_atomic_ref_count_inc (&self->count);
  g_object_set_data_full (G_OBJECT (store), CONFIRMING, self, confirming_unref);
  sw_store_act (store, run_confirm, self, confirming_unref, NULL, on_confirmed);
}

/* ---- interest ---- */

static gboolean
run_interest (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const GArray *rows = data;
  return sw_interest_take (catalogue, (const SwDealInterest *)(gconstpointer)rows->data, rows->len,
                           error);
}

void
sw_act_interest (SwStore *store, const SwDealInterest *rows, guint n)
{
  GArray *kept = g_array_new (FALSE, FALSE, sizeof (SwDealInterest));

  g_array_append_vals (kept, rows, n);
  sw_store_act (store, run_interest, kept, (GDestroyNotify)g_array_unref, NULL, NULL);
}

/* ---- one item or offer ---- */

static gboolean
run_decide (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Key *key = data;
  return sw_unsold_decide (catalogue, key->deal, key->verdict, error);
}

void
sw_act_decide (SwStore *store, gint64 item, SwVerdict verdict)
{
  const Key key = { .deal = item, .verdict = verdict };
  sw_store_act (store, run_decide, g_memdup2 (&key, sizeof key), g_free, NULL, NULL);
}

static gboolean
run_withdraw (SwCatalogue *catalogue, gpointer data, GError **error)
{
  SwDay today = sw_day_of_instant (sw_clock_now (), sw_catalogue_zone (catalogue));
  return sw_offer_withdraw (catalogue, *(const gint64 *)data, today, error);
}

void
sw_act_withdraw (SwStore *store, gint64 deal)
{
  sw_store_act (store, run_withdraw, g_memdup2 (&deal, sizeof deal), g_free, NULL, NULL);
}

typedef struct
{
  gint64 deal;
  char *own_ref, *title, *text, *extra;
} Note;

static void
note_free (gpointer data)
{
  Note *note = data;

  g_free (note->own_ref);
  g_free (note->title);
  g_free (note->text);
  g_free (note->extra);
  g_free (note);
}

static gboolean
run_note (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Note *note = data;
  const SwOfferNoteChange change = {
    .own_ref = note->own_ref, .title = note->title, .text = note->text, .extra = note->extra
  };
  return sw_offer_note_change (catalogue, note->deal, &change, error);
}

void
sw_act_offer_note (SwStore *store, gint64 deal, const char *own_ref, const char *title,
                   const char *text, const char *extra)
{
  Note *note = g_new0 (Note, 1);

  note->deal = deal;
  note->own_ref = g_strdup (own_ref);
  note->title = g_strdup (title);
  note->text = g_strdup (text);
  note->extra = g_strdup (extra);
  sw_store_act (store, run_note, note, note_free, NULL, NULL);
}
