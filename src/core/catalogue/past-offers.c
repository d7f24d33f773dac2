/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads the ended offers with what each drew. */
#include "core/catalogue/past-offers.h"

#include "core/catalogue/db.h"

void
sw_past_offer_free (SwPastOffer *offer)
{
  if (offer == NULL)
    return;
  g_free (offer->name);
  g_free (offer->kind);
  g_free (offer);
}

static gint64
noted (const SwUse *use, int column)
{
  return sw_col_is_null (use, column) ? -1 : sw_col_int (use, column);
}

static gpointer
offer_from_row (const SwUse *use)
{
  SwPastOffer *offer = g_new0 (SwPastOffer, 1);
  offer->deal = sw_col_int (use, 0);
  offer->outlet = sw_col_int (use, 1);
  offer->item = sw_col_int (use, 2);
  offer->sold = sw_col_int (use, 3) != 0;
  offer->amount = sw_money (sw_col_int (use, 4));
  offer->has_asking = !sw_col_is_null (use, 5);
  offer->asking = sw_money (sw_col_int (use, 5));
  offer->has_start = !sw_col_is_null (use, 6);
  offer->start = sw_money (sw_col_int (use, 6));
  offer->name = sw_col_text (use, 7);
  offer->kind = sw_col_text (use, 8);
  offer->looks = noted (use, 9);
  offer->followers = noted (use, 10);
  offer->bids = noted (use, 11);
  return offer;
}

GPtrArray *
sw_past_offers (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PAST_OFFERS, "");
  return sw_db_collect (catalogue, &use, offer_from_row, (GDestroyNotify)sw_past_offer_free, error);
}

gboolean
sw_past_interest (SwCatalogue *catalogue, gint64 item, gint64 *out_looks, gint64 *out_followers,
                  gint64 *out_bids, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PAST_INTEREST, "i", item);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  *out_looks = row ? noted (&use, 0) : -1;
  *out_followers = row ? noted (&use, 1) : -1;
  *out_bids = row ? noted (&use, 2) : -1;
  return TRUE;
}

gboolean
sw_past_kind (SwCatalogue *catalogue, gint64 item, char **out_text, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PAST_KIND, "i", item);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  *out_text = row ? sw_col_text (&use, 0) : NULL;
  return TRUE;
}
