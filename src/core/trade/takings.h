/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Takings: proceeds minus fees, under three views (what the money is credited to) and three
 * groupings, to the cent. Trade layer. Whatever the view and the grouping, the total is the same.
 */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* X (tag, word in commands). */
#define SW_CREDITS(X)                                                                              \
  X (FOUND, "found")             /* to the trip that found the item */                             \
  X (SOLD, "sold")               /* to the trip period of the sale's day */                        \
  X (HANDED_OVER, "handed-over") /* to the trip period in which it was collected */
#define SW_CREDIT_AS_ENUM(tag, word) SW_CREDIT_##tag,
typedef enum
{
  SW_CREDITS (SW_CREDIT_AS_ENUM) SW_N_CREDITS
} SwCredit;

#define SW_GROUPINGS(X)                                                                            \
  X (TRIP, "trip")                                                                                 \
  X (PLACE, "place")                                                                               \
  X (OUTLET, "outlet")                                                                             \
  X (MONTH, "month") /* of the day it counts for: sold, or collected under HANDED_OVER */          \
  X (ROUND, "round") /* in which the offer went up */
#define SW_GROUPING_AS_ENUM(tag, word) SW_BY_##tag,
typedef enum
{
  SW_GROUPINGS (SW_GROUPING_AS_ENUM) SW_N_GROUPINGS
} SwGrouping;

/* "found", "sold", "handed-over". Static. */
const char *sw_credit_word (SwCredit credit);
/* By word, without case. FALSE where there is none. */
gboolean sw_credit_parse (const char *word, SwCredit *out_credit);
/* "trip", "place", "outlet". Static. */
const char *sw_grouping_word (SwGrouping grouping);
/* What a row of nothing of that kind is called: "No trip"; static, to be translated. */
const char *sw_grouping_none (SwGrouping grouping);
gboolean sw_grouping_parse (const char *word, SwGrouping *out_grouping);

/* takings = proceeds - fees; owed is part of proceeds; costs stand beside and are in no other
 * figure. */
typedef struct
{
  char *key;     /* trip number, "before", "none", "waiting"; a place's path; an outlet's name */
  gint64 trip;   /* the trip's number where the row is a trip's; else 0 */
  gint64 number; /* of the trip, place, outlet or round; 0 where the row is none of these */
  SwMoney proceeds, fees, takings, costs, owed;
  SwMoney running; /* takings of this row and of all rows before it */
} SwTakingsRow;

typedef struct
{
  GPtrArray *rows; /* SwTakingsRow: before, trips by number, none, waiting; names sorted, none last;
                      rows of zeros left out */
  SwTakingsRow total; /* key NULL */
} SwTakings;
void sw_takings_clear (SwTakings *takings);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwTakings, sw_takings_clear)

/* Fills *out_takings (zeroed before). Errors: BAD_INPUT on overflow, those of the catalogue. */
gboolean sw_takings_read (SwCatalogue *catalogue, SwCredit credit, SwGrouping grouping,
                          SwTakings *out_takings, GError **error);

/* One deal, or one cost, within a row of the takings. */
typedef struct
{
  gint64 deal; /* 0: a cost */
  char *ref;   /* the deal's; "" for a cost */
  char *what;  /* names of its items, or the cost's remark; may be "" */
  SwDay day;   /* of the result, the docket, the cost */
  SwMoney proceeds, fees, takings, costs, owed;
} SwTakingsEntry;

/* The deals and costs that a row is made of: GPtrArray of SwTakingsEntry by day, then ref; their
 * sums are the row's to the cent. 'key' as sw_takings_read gives it. Empty where there is no such
 * row. Transfer full. */
GPtrArray *sw_takings_entries (SwCatalogue *catalogue, SwCredit credit, SwGrouping grouping,
                               const char *key, GError **error);

/* Adds the check of sums to `check` (core/catalogue/check.h): postings of each deal against its
 * rows, dockets, equal totals of all views. To be called once at the start of the program. */
void sw_takings_register_check (void);

G_END_DECLS
