/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What did not sell, item by item, with all that helps to decide: what was asked, what interest it
 * drew, how often it was offered, its floor, the outlook outlet by outlet. Decides nothing. Trade
 * layer. */
#pragma once

#include "core/catalogue/deals.h"
#include "core/catalogue/items.h"
#include "core/trade/outlook.h"
#include "core/trade/run-sheet.h"
#include "core/trade/scrap.h"
#include "core/trade/van-fit.h"

G_BEGIN_DECLS

typedef struct
{
  SwItem *item;
  int times;               /* offers of it without a buyer, or whose sale fell through */
  char *ref, *outlet_name; /* of the latest of those; NULL: none, a sale by hand fell through */
  gboolean fell_through;   /* that offer found a buyer, and the sale fell through */
  gint64 outlet;           /* 0: none */
  SwDay ended;             /* of that offer */
  gboolean has_asked;
  SwMoney asked; /* its start, else what is asked now */
  gboolean has_interest;
  SwInterest interest; /* the latest of that offer */
  SwItemFloor floor;
  SwVanFit van;
  SwFloorVerdict against_floor; /* what was asked, against the floor */
  GPtrArray *outlooks;          /* SwOutlook, as sw_outlook_of orders them */
} SwUnsold;
void sw_unsold_free (SwUnsold *unsold);

/* The items in No sale, the heaviest decision first: by what was asked, the most first; those
 * without a price last; then by number. GPtrArray of SwUnsold, transfer full. */
GPtrArray *sw_unsold_list (SwCatalogue *catalogue, GError **error);

/* What becomes of one of them, as a step of its own with its event: AGAIN means the outlet of its
 * latest offer, ELSEWHERE leaves the outlet open. LATER leaves all as it is. REFUSED where it is no
 * No sale any more, or the step cannot be taken. */
gboolean sw_unsold_decide (SwCatalogue *catalogue, gint64 item, SwVerdict verdict, GError **error);

G_END_DECLS
