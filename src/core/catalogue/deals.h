/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Deals: what a ref names, which is an offer, a sale without an offer, or a yard's docket; with the
 * items in it and what was said of it (interest, fees, payments, reversals). Records of the
 * catalogue layer: rows in, rows out. The rules (fees, splits, states) are in core/trade. */
#pragma once

#include "core/base/language.h"
#include "core/base/mass.h"
#include "core/catalogue/catalogue.h"
#include "core/catalogue/states.h"

G_BEGIN_DECLS

/* X (tag, word). */
#define SW_DEAL_KINDS(X)                                                                           \
  X (OFFER, N_ ("offer"))                                                                          \
  X (SALE, N_ ("sale"))                                                                            \
  X (DOCKET, N_ ("docket"))
#define SW_DEAL_KIND_AS_ENUM(tag, word) SW_DEAL_##tag,
typedef enum
{
  SW_DEAL_KINDS (SW_DEAL_KIND_AS_ENUM) SW_N_DEAL_KINDS
} SwDealKind;

/* X (tag, word). RUNNING is an offer without a result; sales and dockets are SOLD from the start.
 */
#define SW_RESULTS(X)                                                                              \
  X (RUNNING, N_ ("running"))                                                                      \
  X (SOLD, N_ ("sold"))                                                                            \
  X (NO_SALE, N_ ("no sale"))                                                                      \
  X (WITHDRAWN, N_ ("withdrawn"))
#define SW_RESULT_AS_ENUM(tag, word) SW_RESULT_##tag,
typedef enum
{
  SW_RESULTS (SW_RESULT_AS_ENUM) SW_N_RESULTS
} SwResult;

/* In English, as tables have it; static, to be translated where a person reads it. */
const char *sw_deal_kind_word (SwDealKind kind);
const char *sw_result_word (SwResult result);
/* By word, without case, hyphens as blanks; RUNNING has no word to type. FALSE where there is none.
 */
gboolean sw_result_parse (const char *word, SwResult *out_result);

typedef struct
{
  gint64 id;
  char *ref;
  SwDealKind kind;
  gint64 outlet;     /* 0: none */
  char *outlet_name; /* read only; NULL: none */
  SwDay up;          /* an offer's; the day whose terms count. A sale's and a docket's own day */
  gboolean has_closes;
  SwInstant closes;
  gboolean has_start, has_reserve;
  SwMoney start, reserve;
  SwResult result;
  SwDay ended;              /* day of the result, sale or docket; unused while RUNNING */
  SwInstant ended_at;       /* the same with its time */
  SwMoney amount, delivery; /* when SOLD; a docket's amount is the sum of its lines */
  char *buyer;              /* NULL: not said */
  gboolean has_collected;
  SwDay collected;
  SwMass gross, tare; /* a docket's */
  char *split_rule;   /* "asking", "mass", "equally"; NULL until it ended */
} SwDeal;
void sw_deal_free (SwDeal *deal);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwDeal, sw_deal_free)

/* An item in a deal (several: a lot), with what the split needs. */
typedef struct
{
  gint64 item;
  char *name;     /* read only */
  SwState before; /* the item's state when it was put up: where a withdrawal leads back to */
  gint64 weight;  /* of the split, fixed when the deal ended; -1 until then */
  SwState state;  /* read only, of now, as are the next ones */
  gboolean has_asking, has_mass;
  SwMoney asking;
  SwMass mass;
} SwDealItem;

/* Inserts with its items; outlet_name, split_rule and the id are not read. REFUSED where the ref is
 * there. */
gboolean sw_deal_add (SwCatalogue *catalogue, const SwDeal *deal, const SwDealItem *items, gsize n,
                      gint64 *out_id, GError **error);
/* By exact ref; *out_deal NULL without an error where there is none. Transfer full. */
gboolean sw_deal_find (SwCatalogue *catalogue, const char *ref, SwDeal **out_deal, GError **error);
SwDeal *sw_deal_get (SwCatalogue *catalogue, gint64 id, GError **error);
/* GPtrArray of SwDeal: all, by id / the running offers by closing time (those without one last),
 * then ref. Transfer full. */
GPtrArray *sw_deal_list (SwCatalogue *catalogue, GError **error);
GPtrArray *sw_deal_list_running (SwCatalogue *catalogue, GError **error);
/* Offers that close, or closed, from 'from' until before 'until', by closing time, then ref. */
GPtrArray *sw_deal_list_closing (SwCatalogue *catalogue, SwInstant from, SwInstant until,
                                 GError **error);
/* Offers and sales through the outlet, by id. */
GPtrArray *sw_deal_list_outlet (SwCatalogue *catalogue, gint64 outlet, GError **error);
/* A ref that no deal bears yet: prefix and the next free number ("A12"). Transfer full. */
char *sw_deal_free_ref (SwCatalogue *catalogue, const char *prefix, GError **error);

/* When an outlet's offers close, or ended where no closing time was said; running ones without one
 * are left out. GPtrArray of SwDealClosing. Transfer full. */
typedef struct
{
  gint64 deal;
  char *ref;
  SwInstant closes;
  gint64 item; /* the lowest number */
  SwDay up;
  gboolean running;
} SwDealClosing;
void sw_deal_closing_free (SwDealClosing *closing);
GPtrArray *sw_deal_closings (SwCatalogue *catalogue, gint64 outlet, GError **error);
/* Writes result, ended, ended_at, amount, delivery and buyer of an offer. */
gboolean sw_deal_end (SwCatalogue *catalogue, const SwDeal *deal, GError **error);
gboolean sw_deal_set_collected (SwCatalogue *catalogue, gint64 deal, SwDay day, GError **error);

/* GArray of SwDealItem by item number. Transfer full. */
GArray *sw_deal_items (SwCatalogue *catalogue, gint64 deal, GError **error);
/* The same, their numbers alone: GArray of gint64. Transfer full. */
GArray *sw_deal_item_numbers (SwCatalogue *catalogue, gint64 deal, GError **error);
/* "Screw press + Crates": the names of the items as sw_deal_items gave them. Transfer full. */
char *sw_deal_item_names (const GArray *items);
/* What a list says of a deal: its ref, the day of its result (while it runs: the day it went up)
 * and the names of its items as sw_deal_item_names. */
typedef struct
{
  char *ref;
  SwDay day;
  char *items;
} SwDealLabel;
void sw_deal_label_free (SwDealLabel *label);
/* Of these deals (gint64, rising), in one pass over all deals: GPtrArray of SwDealLabel in the same
 * order. Transfer full. DAMAGED where one is not there. */
GPtrArray *sw_deal_labels (SwCatalogue *catalogue, const GArray *deals, GError **error);
/* Fixes the rule and the weights (items as sw_deal_items gave them). */
gboolean sw_deal_set_split (SwCatalogue *catalogue, gint64 deal, const char *rule,
                            const GArray *items, GError **error);
/* GArray of gint64: deals of an item that run (kind offer, no result), by id. Transfer full. */
GArray *sw_deal_running (SwCatalogue *catalogue, gint64 item, GError **error);
/* GArray of gint64: all deals of an item, by id. Transfer full. */
GArray *sw_deal_of_item (SwCatalogue *catalogue, gint64 item, GError **error);
/* GArray of gint64: deals in which the item was sold and that did not fall through, by id. */
GArray *sw_deal_standing_sales (SwCatalogue *catalogue, gint64 item, GError **error);

/* An item that went for good: sold, or on a docket. */
typedef struct
{
  gint64 item;
  gboolean scrapped; /* on a docket */
  SwDay day;         /* of that sale or docket */
  char *scrap_class; /* NULL: not said */
  gboolean has_mass;
  SwMass mass;
} SwGoneItem;
void sw_gone_item_free (SwGoneItem *gone);
/* GPtrArray of SwGoneItem by number: the items of all sales that did not fall through, and of all
 * dockets; of several the latest. Transfer full. */
GPtrArray *sw_deal_gone_items (SwCatalogue *catalogue, GError **error);

/* Fees: as worked out when the deal ended, and as charged by the outlet. */
typedef struct
{
  char *charge;
  SwMoney amount, tax; /* computed: apart; charged: all in amount */
  SwDay day;           /* charged: its own day */
} SwFee;
void sw_fee_free (SwFee *fee);
/* What a charge comes to that fell on the deal. due FALSE: nothing is owed by its terms (no sale);
 * the row is kept, because the offer counts among those of its month all the same. free_offers: how
 * many offers of a month the terms let go free. */
gboolean sw_fee_add_computed (SwCatalogue *catalogue, gint64 deal, const SwFee *fee, gboolean due,
                              gint64 free_offers, GError **error);
gboolean sw_fee_add_charged (SwCatalogue *catalogue, gint64 deal, const SwFee *fee, GError **error);
/* GPtrArrays of SwFee by charge, then day; computed: those that are due and not waived. Transfer
 * full. */
GPtrArray *sw_fee_computed (SwCatalogue *catalogue, gint64 deal, GError **error);
GPtrArray *sw_fee_charged (SwCatalogue *catalogue, gint64 deal, GError **error);

/* A charge that fell on an ended offer, as it counts among those of its month. */
typedef struct
{
  gint64 deal;
  const char *charge; /* interned */
  gboolean due, waived;
  gint64 free_offers;
  SwDay ended;
} SwFeeCounted;
/* GArray of SwFeeCounted of an outlet's ended offers, by charge, then deal; empty where no terms
 * let an offer go free. Transfer full. */
GArray *sw_fee_counted (SwCatalogue *catalogue, gint64 outlet, GError **error);
/* Waived: the offer is one of those of its month that are free. */
gboolean sw_fee_set_waived (SwCatalogue *catalogue, gint64 deal, const char *charge,
                            gboolean waived, GError **error);

/* Payments, money given back and reversals of a deal, by day, then in the order entered. */
typedef struct
{
  SwDay day;
  SwMoney amount;
  gboolean whole; /* reversals: the rest of the sale fell through; amount is what was left then */
} SwDealEntry;
gboolean sw_payment_add (SwCatalogue *catalogue, gint64 deal, const SwDealEntry *entry,
                         GError **error);
gboolean sw_reversal_add (SwCatalogue *catalogue, gint64 deal, const SwDealEntry *entry,
                          GError **error);
/* Money that was paid too much and given back: no part of the sale. Its rules are in core/trade. */
gboolean sw_paid_back_add (SwCatalogue *catalogue, gint64 deal, const SwDealEntry *entry,
                           GError **error);
/* The latest of the deal came out of the cash box; an act. */
gboolean sw_paid_back_in_cash (SwCatalogue *catalogue, gint64 deal, GError **error);
/* What of the deal was given back out of the cash box. */
gboolean sw_paid_back_cash (SwCatalogue *catalogue, gint64 deal, SwMoney *out_sum, GError **error);
GArray *sw_paid_back_list (SwCatalogue *catalogue, gint64 deal, GError **error);
/* GArrays of SwDealEntry. Transfer full. */
GArray *sw_payment_list (SwCatalogue *catalogue, gint64 deal, GError **error);
GArray *sw_reversal_list (SwCatalogue *catalogue, gint64 deal, GError **error);
/* Whether the sale fell through, and on which day; out_day may be NULL. */
gboolean sw_reversal_whole (SwCatalogue *catalogue, gint64 deal, gboolean *out_fell, SwDay *out_day,
                            GError **error);

/* The interest an offer drew at a moment; -1 and has_amount FALSE: not said. */
typedef struct
{
  SwInstant at;
  gint64 looks, followers, bids;
  gboolean has_amount;
  SwMoney amount;
} SwInterest;
gboolean sw_interest_add (SwCatalogue *catalogue, gint64 deal, const SwInterest *interest,
                          GError **error);
/* GArray of SwInterest by time. Transfer full. */
GArray *sw_interest_list (SwCatalogue *catalogue, gint64 deal, GError **error);
/* The latest of such a list; FALSE with nothing said of anything where it is empty. */
gboolean sw_interest_latest (const GArray *list, SwInterest *out_interest);

/* An item in a docket's line; the weight of the split is fixed when the docket is booked, -1 until
 * then. */
typedef struct
{
  gint64 item, weight;
} SwDocketItem;

/* A docket's line. Its items are in the deal too. */
typedef struct
{
  gint64 id;
  char *class_name;
  SwMass net;
  gboolean has_rate;
  SwMoney rate; /* per 1000 kg */
  SwMoney amount;
  gint64 place;  /* of loose scrap; 0: none */
  GArray *items; /* SwDocketItem, by number; empty: loose scrap */
} SwDocketLine;
void sw_docket_line_free (SwDocketLine *line);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwDocketLine, sw_docket_line_free)
gboolean sw_docket_line_add (SwCatalogue *catalogue, gint64 deal, const SwDocketLine *line,
                             GError **error);
/* Fixes the weights that stand in line->items. */
gboolean sw_docket_line_set_weights (SwCatalogue *catalogue, const SwDocketLine *line,
                                     GError **error);
/* GPtrArray of SwDocketLine in the order entered. Transfer full. */
GPtrArray *sw_docket_lines (SwCatalogue *catalogue, gint64 deal, GError **error);

/* A thing of a line of a docket as it stands in the catalogue, or a line of loose scrap. */
typedef struct
{
  gint64 deal, line;
  char *ref, *outlet_name; /* outlet_name NULL: none */
  SwDay ended;
  SwMoney amount, charges; /* of the whole docket; charges: all fees of it that count */
  char *class_name;        /* of the line, with its net mass */
  SwMass net;
  char *item_name, *scrap_class; /* NULL: loose; scrap_class NULL: the item bears none */
} SwDocketWeighed;
void sw_docket_weighed_free (SwDocketWeighed *weighed);
/* Those of all dockets in one pass: GPtrArray of SwDocketWeighed, the latest docket first, lines as
 * entered, items by number. Transfer full. */
GPtrArray *sw_docket_weighed_list (SwCatalogue *catalogue, GError **error);

/* What a trip cost. trip 0: none. */
typedef struct
{
  gint64 id, trip;
  SwDay day;
  SwMoney amount;
  char *remark;
} SwCost;
void sw_cost_free (SwCost *cost);
gboolean sw_cost_add (SwCatalogue *catalogue, const SwCost *cost, GError **error);
/* GPtrArray of SwCost by id. Transfer full. */
GPtrArray *sw_cost_list (SwCatalogue *catalogue, GError **error);

/* Rows of the money table that are booked, each as a digest of what it says, so that the same table
 * can be booked again without entering anything twice. Number of equal rows there / one more. */
gboolean sw_booked_count (SwCatalogue *catalogue, const char *content, gint64 *out_n,
                          GError **error);
gboolean sw_booked_add (SwCatalogue *catalogue, const char *content, GError **error);

G_END_DECLS
