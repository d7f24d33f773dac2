/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of booking share: book.c (the phases), book-join.c (what belongs together, in
 * which order), book-offer.c, book-sale.c and book-docket.c (each row into the catalogue),
 * book-money.c (what it all comes to). Private to them. */
#pragma once

#include "core/catalogue/act.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/items.h"
#include "core/catalogue/outlets.h"
#include "core/trade/book.h"
#include "core/trade/rows.h"

G_BEGIN_DECLS

/* What one ref joins. */
typedef struct
{
  SwRow *opens; /* offer, sale or docket of this table; NULL: none, or booked already */
  SwRow *result;
  SwRow *collected;
  GPtrArray *lines; /* of a docket: SwRow, borrowed */
  gboolean spoilt;  /* a row that opens or ends it is at fault: what refers to it is passed over in
                       silence */
} SwRef;

/* A deal whose postings are to be worked out. */
typedef struct
{
  int line;
  gboolean ended_now;
} SwTouched;

typedef struct
{
  SwCatalogue *catalogue;
  const SwZone *zone;
  SwCurrency currency;
  SwBookReport *report;
  GPtrArray *rows;            /* SwRow */
  GHashTable *refs;           /* ref -> SwRef */
  GHashTable *spoilt_outlets; /* names of outlet rows at fault */
  GHashTable *touched;        /* deal id -> SwTouched */
  GHashTable *counted;        /* ids of outlets whose free offers are to be counted again */
  int line;                   /* of the row at hand; a docket's lines set their own */
  const char *row_remark;     /* of the row at hand; NULL: none */
} SwBook;

/* book.c */
void sw_book_fault (SwBook *book, int line, const char *sentence);
void sw_book_remark (SwBook *book, int line, const char *sentence);
void sw_book_touch (SwBook *book, gint64 deal, gboolean ended_now);
/* Offers or charges of the outlet are entered here. */
void sw_book_count_free (SwBook *book, gint64 outlet);
/* Whether the error lies in what a row says; else booking ends there. */
gboolean sw_book_is_of_row (const GError *error);
/* A refusal in book's own words; FALSE always. */
gboolean sw_book_refuse (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* book-join.c */
void sw_ref_free (SwRef *ref);
SwRef *sw_book_ref (SwBook *book, const char *ref);
/* Passes over what is booked already, joins rows by ref, names what is there twice. */
gboolean sw_book_join (SwBook *book, GError **error);
/* The dated rows in the order in which they are booked: container of borrowed SwRow. */
GPtrArray *sw_book_order (SwBook *book);

/* book-offer.c; each enters one row, within an act of the caller. */
gboolean sw_book_outlet (SwBook *book, SwRow *row, GError **error);
gboolean sw_book_charge (SwBook *book, SwRow *row, GError **error);
gboolean sw_book_offer (SwBook *book, SwRow *row, GError **error);
gboolean sw_book_interest (SwBook *book, SwRow *row, GError **error);
gboolean sw_book_result (SwBook *book, SwRow *row, GError **error);
gboolean sw_book_hold (SwBook *book, SwRow *row, GError **error);

/* book-sale.c */
gboolean sw_book_sale (SwBook *book, SwRow *row, GError **error);
gboolean sw_book_payment (SwBook *book, SwRow *row, GError **error);
gboolean sw_book_paid_back (SwBook *book, SwRow *row, GError **error);
gboolean sw_book_collected (SwBook *book, SwRow *row, GError **error);
gboolean sw_book_reversal (SwBook *book, SwRow *row, GError **error);
gboolean sw_book_fee (SwBook *book, SwRow *row, GError **error);
gboolean sw_book_cost (SwBook *book, SwRow *row, GError **error);

/* book-money.c */
/* Settles what was touched; what is at fault with the money stands in the report. */
gboolean sw_book_settle (SwBook *book, SwAct *act, GError **error);

/* book-docket.c */
gboolean sw_book_docket (SwBook *book, SwRow *row, GError **error);

/* book-items.c */
/* The items a cell means: one by number or exact name, or several with " + " between. GArray of
 * gint64 by number, transfer full. */
GArray *sw_book_find_items (SwBook *book, const char *cell, GError **error);
/* The items of an offer or sale row: the part split off for it, or what the cell means. */
GArray *sw_book_row_items (SwBook *book, SwRow *row, GError **error);
/* Splits off what the row's count takes of its item, where that is less than all. */
gboolean sw_book_split_count (SwBook *book, SwRow *row, GError **error);
/* Refuses a row whose ref is booked. */
gboolean sw_book_check_new (SwBook *book, const SwRow *row, GError **error);
/* SwDealItem for each number, with the state it is in. Transfer full. */
GArray *sw_book_deal_items (SwBook *book, const GArray *numbers, GError **error);
/* Takes the item to a state by the steps that lead there, on that day; a remark of the step goes
 * into the report. */
gboolean sw_book_walk (SwBook *book, gint64 item, SwState state, SwDay day, GError **error);
/* The outlet by name; a spoilt one is refused in silence (*out_silent). */
gboolean sw_book_find_outlet (SwBook *book, SwRow *row, SwOutlet **out_outlet, GError **error);
/* The deal of the row's ref, or an error that says what it should be. */
SwDeal *sw_book_find_deal (SwBook *book, const SwRow *row, GError **error);
/* The same, sold and no docket. */
SwDeal *sw_book_find_sale (SwBook *book, const SwRow *row, GError **error);
/* "Screw press" or "Screw press + Crates", cut to what a line bears. Transfer full. */
char *sw_book_item_names (const GArray *deal_items);
/* Tells an event of the deal, with the row's remark. */
gboolean sw_book_tell (SwBook *book, SwAct *act, gint64 deal, const char *verb, SwDay day,
                       const char *sentence, GError **error);

G_END_DECLS
