/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Packs what a person did into acts for the catalogue thread. No rule and no sum of its own. */
#include "app/item-acts.h"

#include "app/text.h"
#include "app/typed-day.h"
#include "core/base/error.h"
#include "core/catalogue/act.h"
#include "core/catalogue/photo-quality.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/lots.h"
#include "core/catalogue/parts.h"
#include "core/trade/book.h"
#include "core/trade/taking-back.h"

#include <string.h>

/* ---- fields ---- */

typedef struct
{
  gint64 item;
  SwItemChange change; /* its pointers lead to the fields below */
  char *name;
  gint64 number; /* count, place or cover */
  gboolean flag;
  SwMoney asking;
} Change;

static void
change_free (gpointer data)
{
  Change *self = data;
  g_free (self->name);
  g_free (self);
}

static gboolean
change_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Change *self = data;
  return sw_item_change (catalogue, self->item, &self->change, error);
}

static Change *
change_new (gint64 item, gint64 revision)
{
  Change *self = g_new0 (Change, 1);

  self->item = item;
  self->change.revision = revision;
  return self;
}

static void
change_send (SwStore *store, Change *self, GObject *owner, SwActDone done)
{
  sw_store_act (store, change_run, self, change_free, owner, done);
}

void
sw_act_item_name (SwStore *store, gint64 item, gint64 revision, const char *name, GObject *owner,
                  SwActDone done)
{
  Change *self = change_new (item, revision);

  self->change.name = self->name = g_strdup (name);
  change_send (store, self, owner, done);
}

void
sw_act_item_count (SwStore *store, gint64 item, gint64 revision, gint64 count, GObject *owner,
                   SwActDone done)
{
  Change *self = change_new (item, revision);

  self->number = count;
  self->change.count = &self->number;
  change_send (store, self, owner, done);
}

void
sw_act_item_asking (SwStore *store, gint64 item, gint64 revision, const SwMoney *asking,
                    GObject *owner, SwActDone done)
{
  Change *self = change_new (item, revision);

  if (asking != NULL)
    {
      self->asking = *asking;
      self->change.asking = &self->asking;
    }
  else
    self->change.clear_asking = TRUE;
  change_send (store, self, owner, done);
}

void
sw_act_item_place (SwStore *store, gint64 item, gint64 revision, gint64 place, GObject *owner,
                   SwActDone done)
{
  Change *self = change_new (item, revision);

  self->number = place;
  self->change.place = &self->number;
  change_send (store, self, owner, done);
}

void
sw_act_item_cover (SwStore *store, gint64 item, gint64 revision, gint64 photo)
{
  Change *self = change_new (item, revision);

  self->number = photo;
  self->change.cover = &self->number;
  change_send (store, self, NULL, NULL);
}

typedef struct
{
  gint64 item, photo, to;
} PhotoMove;

static gboolean
photo_move_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const PhotoMove *self = data;
  return sw_item_photo_move (catalogue, self->item, self->photo, self->to, error);
}

void
sw_act_item_photo_move (SwStore *store, gint64 item, gint64 photo, gint64 to)
{
  PhotoMove *self = g_new0 (PhotoMove, 1);

  *self = (PhotoMove){ item, photo, to };
  sw_store_act (store, photo_move_run, self, g_free, NULL, NULL);
}

/* ---- photos by themselves ---- */

typedef struct
{
  gint64 photo;
  int quarters;
} Turn;

static gboolean
turn_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Turn *self = data;
  return sw_photo_turn (catalogue, self->photo, self->quarters, error);
}

void
sw_act_photo_turn (SwStore *store, gint64 photo, int quarters)
{
  Turn *self = g_new0 (Turn, 1);

  self->photo = photo;
  self->quarters = quarters;
  sw_store_act (store, turn_run, self, g_free, NULL, NULL);
}

void
sw_act_item_never_offer (SwStore *store, gint64 item, gboolean never)
{
  Change *self = change_new (item, 0);

  self->flag = never;
  self->change.never_offer = &self->flag;
  change_send (store, self, NULL, NULL);
}

/* ---- one number or two ---- */

typedef struct
{
  gint64 one, two;
} Pair;

static void
pair_send (SwStore *store, SwActFunc run, gint64 one, gint64 two)
{
  Pair *pair = g_new0 (Pair, 1);

  pair->one = one;
  pair->two = two;
  sw_store_act (store, run, pair, g_free, NULL, NULL);
}

static gboolean
join_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Pair *pair = data;
  return sw_item_join (catalogue, pair->one, pair->two, error);
}

void
sw_act_item_join (SwStore *store, gint64 item, gint64 other)
{
  pair_send (store, join_run, item, other);
}

static gboolean
leave_lot_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  return sw_lot_leave (catalogue, ((const Pair *)data)->one, error);
}

void
sw_act_item_leave_lot (SwStore *store, gint64 item)
{
  pair_send (store, leave_lot_run, item, 0);
}

static gboolean
split_photo_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Pair *pair = data;
  return sw_item_split_photos (catalogue, pair->one, &pair->two, 1, 1, NULL, error);
}

void
sw_act_item_split_photo (SwStore *store, gint64 item, gint64 photo)
{
  pair_send (store, split_photo_run, item, photo);
}

static gboolean
job_done_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Pair *pair = data;
  return sw_job_set_done (catalogue, pair->one, pair->two != 0, error);
}

void
sw_act_job_done (SwStore *store, gint64 job, gboolean done)
{
  pair_send (store, job_done_run, job, done);
}

static gboolean
job_withdraw_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  return sw_job_withdraw (catalogue, ((const Pair *)data)->one, error);
}

void
sw_act_job_withdraw (SwStore *store, gint64 job)
{
  pair_send (store, job_withdraw_run, job, 0);
}

/* ---- steps ---- */

typedef struct
{
  gint64 item, count;
  SwState to;
  char *until, *hold_for;
} Move;

static void
move_free (gpointer data)
{
  Move *self = data;
  g_free (self->until);
  g_free (self->hold_for);
  g_free (self);
}

static gboolean
move_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Move *self = data;
  SwStepOptions options = { .count = self->count, .hold_for = self->hold_for };
  SwDay until;

  if (self->until != NULL)
    {
      if (!sw_typed_day (catalogue, self->until, SW_DAY_AHEAD, &until, error))
        return FALSE;
      options.until = &until;
    }
  return sw_item_step_by_hand (catalogue, self->item, self->to, &options, NULL, error);
}

void
sw_act_item_move (SwStore *store, gint64 item, SwState to, gint64 count, const char *until_text,
                  const char *hold_for)
{
  Move *self = g_new0 (Move, 1);

  self->item = item;
  self->count = count;
  self->to = to;
  self->until = g_strdup (until_text);
  self->hold_for = g_strdup (hold_for);
  sw_store_act (store, move_run, self, move_free, NULL, NULL);
}

typedef struct
{
  gint64 item, count;
  SwMoney amount;
  char *outlet, *buyer;
} Sale;

static void
sale_free (gpointer data)
{
  Sale *self = data;
  g_free (self->outlet);
  g_free (self->buyer);
  g_free (self);
}

/* RFC 4180: every field quoted, quotes doubled. */
static char *
quoted (const char *text)
{
  g_auto (GStrv) parts = g_strsplit (text, "\"", -1);
  g_autofree char *joined = g_strjoinv ("\"\"", parts);

  return g_strdup_printf ("\"%s\"", joined);
}

static gboolean
sale_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Sale *self = data;
  SwInstant now = sw_catalogue_now (catalogue);
  g_autofree char *at = sw_instant_to_text (now, sw_catalogue_zone (catalogue));
  g_autofree char *amount = sw_money_to_plain (self->amount, sw_catalogue_currency (catalogue));
  g_autofree char *outlet = quoted (self->outlet);
  g_autofree char *buyer = quoted (self->buyer);
  g_autofree char *count
      = self->count > 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, self->count) : g_strdup ("");
  g_autofree char *table = g_strdup_printf ("what,ref,item,count,outlet,at,amount,buyer\n"
                                            "sale,by hand %" G_GINT64_FORMAT "/%" G_GINT64_FORMAT
                                            ",%" G_GINT64_FORMAT ",%s,%s,%s,%s,%s\n",
                                            self->item, now.us / SW_US_PER_SECOND, self->item,
                                            count, outlet, at, amount, buyer);
  g_autoptr (GBytes) bytes = g_bytes_new_static (table, strlen (table));
  g_auto (SwBookReport) report = { 0 };

  if (sw_book_bytes (catalogue, bytes, _ ("a sale entered by hand"), &report, error))
    return TRUE;
  if (report.faults != NULL && report.faults->len > 0)
    { /* the person typed no line 2: drop where it stands in our little table */
      const char *fault = g_ptr_array_index (report.faults, 0);
      const char *colon = g_str_has_prefix (fault, "line ") ? strstr (fault, ": ") : NULL;
      g_clear_error (error);
      g_set_error_literal (error, SW_ERROR, SW_ERROR_REFUSED, colon != NULL ? colon + 2 : fault);
    }
  return FALSE;
}

void
sw_act_item_sold (SwStore *store, gint64 item, gint64 count, SwMoney amount, const char *outlet,
                  const char *buyer)
{
  Sale *self = g_new0 (Sale, 1);

  self->item = item;
  self->count = count;
  self->amount = amount;
  self->outlet = g_strdup (outlet);
  self->buyer = g_strdup (buyer);
  sw_store_act (store, sale_run, self, sale_free, NULL, NULL);
}
