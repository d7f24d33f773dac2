/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which offers of a calendar month an outlet lets go free. Trade layer.
 *
 * The offers that a charge falls on are counted month by month, by closing time (where none was
 * said, the end), then lowest item number, then ref; the first ones are free, as many as the terms
 * of each say. Running offers count too. The count is made again whenever offers, results or
 * charges of the outlet are entered, so that it never depends on the order of entry; what a charge
 * comes to, and how many are free, stay as they were fixed when each offer ended. A fee as charged
 * counts before the one worked out, in either case. */
#pragma once

#include "core/catalogue/deals.h"

G_BEGIN_DECLS

/* An ended offer whose fee is waived now, or is so no longer. */
typedef struct
{
  gint64 deal;
  char *ref;
  const char *charge; /* interned */
  gboolean waived;
  SwDay ended;
} SwFreeChange;

/* Counts the free offers of an outlet again and writes which are waived. GPtrArray of SwFreeChange
 * by charge, then rank: their postings are for the caller to bring up (sw_settle). Within an act of
 * the caller. Transfer full. */
GPtrArray *sw_free_offers_recount (SwCatalogue *catalogue, gint64 outlet, GError **error);

/* Whether the offers that are waived are those that the count says; writes nothing. */
gboolean sw_free_offers_check (SwCatalogue *catalogue, gint64 outlet, gboolean *out_sound,
                               GError **error);

G_END_DECLS
