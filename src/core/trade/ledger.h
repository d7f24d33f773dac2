/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ledger of one deal while it is settled: what each item and place is to have of it, set
 * against what is posted. Knows no rule of offers, sales or dockets. Private to the trade layer. */
#pragma once

#include "core/catalogue/deals.h"
#include "core/catalogue/postings.h"

G_BEGIN_DECLS

typedef struct
{
  SwCatalogue *catalogue;
  SwDeal *deal;
  GArray *items;    /* SwDealItem by number */
  GHashTable *sums; /* Sum -> itself */
  gboolean overflow;
  gboolean unweighed; /* a docket's line without weights: only in a damaged catalogue */
} SwLedger;

/* That of the deal, with nothing in it. Error: NOT_FOUND. Clear it either way. */
gboolean sw_ledger_init (SwLedger *ledger, SwCatalogue *catalogue, gint64 deal, GError **error);
void sw_ledger_clear (SwLedger *ledger);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwLedger, sw_ledger_clear)

/* The amount, in minor units, is wanted there; its deal and minor are not read. */
void sw_ledger_add (SwLedger *ledger, const SwPosting *key, gint64 amount);
/* What is posted already counts against what is wanted; ledger is an SwLedger. */
void sw_ledger_subtract (const SwPosting *posting, gpointer ledger);

/* Splits by the weights of the items: one part an item. */
void sw_ledger_split (const SwLedger *ledger, SwMoney amount, SwMoney *out_parts);
/* One part an item; sign 1 or -1. */
void sw_ledger_add_parts (SwLedger *ledger, SwPostingKind kind, const char *charge, SwDay day,
                          const SwMoney *parts, int sign);
void sw_ledger_add_split (SwLedger *ledger, SwPostingKind kind, const char *charge, SwDay day,
                          SwMoney amount);

/* Calls 'add' with each fee that counts: of one name the one charged last, else the one computed
 * with its tax. */
typedef void (*SwLedgerFee) (SwLedger *ledger, const SwFee *fee, gpointer data);
gboolean sw_ledger_each_fee (SwLedger *ledger, SwLedgerFee add, gpointer data, GError **error);

/* Posts what is missing. Error: BAD_INPUT on overflow. */
gboolean sw_ledger_post (const SwLedger *ledger, GError **error);
/* Whether nothing is missing; of a running offer, whose split may still change, in all. */
gboolean sw_ledger_is_sound (const SwLedger *ledger);

G_END_DECLS
