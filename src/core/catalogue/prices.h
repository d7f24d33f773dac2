/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Price evidence: what was paid, what it costs new, what like things brought, what was guessed.
 * Records of the catalogue layer; the asking price and the reserve are the item's own. */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 id, item;
  char *kind; /* "paid", "new", "like things" or "guessed" */
  SwMoney amount;
  gint64 pieces; /* the amount is for so many of it */
  gboolean has_day;
  SwDay day;
  char *source, *remark; /* "" for none */
} SwPrice;
void sw_price_free (SwPrice *price);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwPrice, sw_price_free)

typedef struct
{
  const char *kind;
  SwMoney amount;
  gint64 pieces;    /* 0: the item's count */
  const SwDay *day; /* NULL: not known */
  const char *source, *remark;
} SwPriceSaid;
/* Errors: BAD_INPUT (kind, an amount below zero, text), NOT_FOUND. */
gboolean sw_price_add (SwCatalogue *catalogue, gint64 item, const SwPriceSaid *said, gint64 *out_id,
                       GError **error);
/* Says it otherwise; REFUSED once withdrawn. */
gboolean sw_price_edit (SwCatalogue *catalogue, gint64 id, const SwPriceSaid *said, GError **error);
/* Again is fine. */
gboolean sw_price_withdraw (SwCatalogue *catalogue, gint64 id, GError **error);
/* Those that stand: GPtrArray of SwPrice in the order added, transfer full. */
GPtrArray *sw_price_list (SwCatalogue *catalogue, gint64 item, GError **error);

G_END_DECLS
