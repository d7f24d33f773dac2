/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Offers that ended, as a record to learn from. Records of the catalogue layer; read only. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* An offer that was sold or ended without a buyer; withdrawn ones tell nothing and are left out. */
typedef struct
{
  gint64 deal, outlet, item; /* the lowest number of a lot */
  gboolean sold;             /* and did not fall through */
  SwMoney amount;            /* when sold */
  gboolean has_asking, has_start;
  SwMoney asking; /* of all its items, as it is now; only where each has one */
  SwMoney start;
  char *name;                    /* of that item */
  char *kind;                    /* what the person said it is; NULL: not said */
  gint64 looks, followers, bids; /* the latest noted; -1: not noted */
} SwPastOffer;
void sw_past_offer_free (SwPastOffer *offer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwPastOffer, sw_past_offer_free)

/* GPtrArray of SwPastOffer in the order in which they ended. Transfer full. */
GPtrArray *sw_past_offers (SwCatalogue *catalogue, GError **error);

/* The latest interest that any offer of the item drew; -1 each where none was noted. */
gboolean sw_past_interest (SwCatalogue *catalogue, gint64 item, gint64 *out_looks,
                           gint64 *out_followers, gint64 *out_bids, GError **error);

/* The standing fact of that kind of an item: transfer full, *out_text NULL where there is none. */
gboolean sw_past_kind (SwCatalogue *catalogue, gint64 item, char **out_text, GError **error);

G_END_DECLS
