/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sales as rows to see to: what is owed, what is not collected yet. Trade layer; read only. */
#pragma once

#include "core/catalogue/deals.h"

G_BEGIN_DECLS

typedef struct
{
  SwDeal *deal;              /* sold, an offer's or one without an offer */
  char *items;               /* names joined by " + " */
  gint64 photo;              /* of the first item; 0: none */
  SwMoney price, taken_back; /* price: amount and delivery */
  SwMoney paid;              /* less what of it was given back */
  SwMoney owed;              /* never below zero */
  SwMoney over;              /* paid beyond the price; never below zero */
  gboolean fell_through;
} SwSale;
void sw_sale_free (SwSale *sale);

/* What is still owed or not collected first, then the settled ones; each part the latest first.
 * GPtrArray of SwSale, transfer full. */
GPtrArray *sw_sale_list (SwCatalogue *catalogue, GError **error);
/* What was paid for it beyond price and delivery and is not given back yet; never below zero.
 * Error: BAD_INPUT on overflow. */
gboolean sw_sale_over (SwCatalogue *catalogue, const SwDeal *deal, SwMoney *out_over,
                       GError **error);
/* Nothing is owed and it is collected, or it fell through. */
gboolean sw_sale_is_settled (const SwSale *sale);

G_END_DECLS
