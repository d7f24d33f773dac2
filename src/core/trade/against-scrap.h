/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was raised, against what scrap alone would have brought for the same things. Trade layer;
 * read only. */
#pragma once

#include "core/base/money.h"
#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* The four sums of takings (proceeds less fees) add up to the total of the takings page. */
typedef struct
{
  guint things;           /* items sold whose scrap value is known; a count is one item */
  SwMoney raised;         /* their takings */
  SwMoney scrap;          /* what the yards would have paid for them, less cartage: mass x rate of
                           * the class on the day of the sale (none then: of today), and the load
                           * planned, as sw_scrap_floor works it out */
  SwMoney more;           /* raised less scrap; below zero: scrap would have brought more */
  guint unknown;          /* items sold without a class, a mass or a rate */
  SwMoney unknown_raised; /* their takings: not compared */
  SwMoney as_scrap;       /* takings of dockets: the same either way */
  SwMoney unsold;         /* fees of what did not sell, and what else fits none of these */
} SwAgainstScrap;

/* Errors: BAD_INPUT on overflow, those of the catalogue. */
gboolean sw_against_scrap_read (SwCatalogue *catalogue, SwAgainstScrap *out_sums, GError **error);

G_END_DECLS
