/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Postings: the money of each item of each deal as rows that are only ever added. What changes
 * later (a fee as charged, a payment) is a further row with the difference. Records of the
 * catalogue layer. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* X (tag, key). Reversals are negative; fees positive; OWED is what the buyer still owes, part of
 * the proceeds and shown apart. */
#define SW_POSTING_KINDS(X)                                                                        \
  X (PRICE, "price")                                                                               \
  X (DELIVERY, "delivery")                                                                         \
  X (REVERSAL, "reversal")                                                                         \
  X (FEE, "fee")                                                                                   \
  X (OWED, "owed")
#define SW_POSTING_KIND_AS_ENUM(tag, key) SW_POSTING_##tag,
typedef enum
{
  SW_POSTING_KINDS (SW_POSTING_KIND_AS_ENUM) SW_N_POSTING_KINDS
} SwPostingKind;

typedef struct
{
  gint64 deal;
  gint64 item;  /* 0: loose scrap */
  gint64 place; /* of loose scrap; 0: none, or the item's */
  SwPostingKind kind;
  const char *charge; /* name of the fee; "" else. Not filled by sw_posting_each */
  SwDay day;
  gint64 minor;
} SwPosting;

/* Adds n postings; those of nothing are left out. */
gboolean sw_posting_add (SwCatalogue *catalogue, const SwPosting *postings, gsize n,
                         GError **error);

/* Steps once over all postings by the covering index; deal, item, place, kind, day, minor. */
typedef void (*SwPostingFunc) (const SwPosting *posting, gpointer data);
gboolean sw_posting_each (SwCatalogue *catalogue, SwPostingFunc func, gpointer data,
                          GError **error);

/* The postings of a deal added up by item, place, kind, charge and day; charge is valid during the
 * call. */
gboolean sw_posting_sums (SwCatalogue *catalogue, gint64 deal, SwPostingFunc func, gpointer data,
                          GError **error);

/* What the takings look up beside the postings: each item's trip and the place it was found in,
 * each deal's outlet and day of collection. GArrays by id. Transfer full. */
typedef struct
{
  gint64 item, trip, place; /* trip 0: none */
} SwCreditItem;
typedef struct
{
  gint64 deal, outlet, round; /* 0: none */
  gboolean sold;       /* sold, or a docket */
  gboolean has_collected;
  SwDay collected;
} SwCreditDeal;
GArray *sw_credit_items (SwCatalogue *catalogue, GError **error);
GArray *sw_credit_deals (SwCatalogue *catalogue, GError **error);

G_END_DECLS
