/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Settling: what a deal's rows come to, item by item, brought into its postings. Trade layer. */
#pragma once

#include "core/catalogue/deals.h"

G_BEGIN_DECLS

/* The deal ended in this act: fixes the weights of its split and what its charges come to, by the
 * terms, asking prices and masses of this moment. They never change again; which offers of a month
 * are free is counted anew (core/trade/free-offers.h). Within an act of the caller. Errors:
 * BAD_INPUT on overflow. */
gboolean sw_settle_fix (SwCatalogue *catalogue, gint64 deal, GError **error);

/* Brings the postings of the deal to what its rows say now. What is posted stays; differences are
 * added. Within an act of the caller. Errors: BAD_INPUT on overflow. */
gboolean sw_settle (SwCatalogue *catalogue, gint64 deal, GError **error);

/* Whether the postings of the deal are what its rows say; writes nothing. Weights of a split and
 * computed fees are taken as they were fixed. */
gboolean sw_settle_check (SwCatalogue *catalogue, gint64 deal, gboolean *out_sound, GError **error);

G_END_DECLS
