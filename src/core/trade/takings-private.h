/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What takings.c (the rows) and takings-entries.c (what a row is made of) share. Private to them.
 */
#pragma once

#include "core/catalogue/deals.h"
#include "core/catalogue/postings.h"
#include "core/trade/takings.h"

G_BEGIN_DECLS

/* Rows that are no trip, place, outlet, month or round, as numbers beside theirs. */
enum
{
  SW_KEY_BEFORE = -1,
  SW_KEY_NONE = 0,
  SW_KEY_WAITING = -2,
  SW_KEY_LEAST = SW_KEY_WAITING,
};

typedef struct
{
  SwCredit credit;
  SwGrouping grouping;
  GPtrArray *trips;
  GArray *items;   /* SwCreditItem by number */
  GArray *deals;   /* SwCreditDeal by id */
  GPtrArray *rows; /* SwTakingsRow by key less SW_KEY_LEAST; NULL: none yet */
  gboolean overflow;
} SwTakingsAdding;
void sw_takings_adding_clear (SwTakingsAdding *adding);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwTakingsAdding, sw_takings_adding_clear)

/* Reads what postings are credited by. 'adding' is zeroed before. */
gboolean sw_takings_adding_start (SwCatalogue *catalogue, SwCredit credit, SwGrouping grouping,
                                  SwTakingsAdding *adding, GError **error);
/* In which row the posting and the cost stand. */
gint64 sw_takings_key_of (const SwTakingsAdding *adding, const SwPosting *posting);
gint64 sw_takings_cost_key (const SwTakingsAdding *adding, const SwCost *cost);
/* The key as text. Transfer full. */
char *sw_takings_key_text (SwCatalogue *catalogue, SwGrouping grouping, gint64 key, GError **error);
/* Adds the posting to the sum it belongs to; overflow is noted in 'adding'. */
void sw_takings_add (SwTakingsAdding *adding, const SwPosting *posting, SwMoney *proceeds,
                     SwMoney *fees, SwMoney *owed);
gboolean sw_takings_refuse_overflow (const SwTakingsAdding *adding, GError **error);

G_END_DECLS
