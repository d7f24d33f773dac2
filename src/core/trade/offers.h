/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Offers as rows to show: what runs, what it drew, when it closes. Trade layer; read only. */
#pragma once

#include "core/catalogue/deals.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 deal;
  char *ref, *outlet; /* outlet "": none */
  char *items;        /* names joined by " + " */
  GArray *numbers;    /* gint64 item numbers */
  SwDay up;
  gboolean has_closes;
  SwInstant closes;
  gboolean has_start, has_reserve;
  SwMoney start, reserve;
  SwInterest interest; /* the latest; looks -1 where nothing was noted */
  gboolean has_interest;
  gboolean to_withdraw; /* one of its items is sold, gone, or was taken back by hand */
} SwOffer;
void sw_offer_free (SwOffer *offer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwOffer, sw_offer_free)

/* GPtrArray of SwOffer: the running ones by closing time (those without one last), then ref.
 * Transfer full. */
GPtrArray *sw_offer_list (SwCatalogue *catalogue, GError **error);

/* Whether an item in that state can still be sold. */
gboolean sw_offer_item_is_there (SwState state);

/* Whether an item in that state still belongs to its running offer: it is On offer, or held back
 * from it. In any other it was taken back by hand, sold or lost, and the offer is to be withdrawn.
 */
gboolean sw_offer_holds_item (SwState state);

G_END_DECLS
