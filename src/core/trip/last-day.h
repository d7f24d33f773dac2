/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Counted back from the property's last day: what still stands unsold, how much of it will be left
 * at the present rate, and what must be decided by when. It proposes; nothing is decided. Trip
 * layer; read only. */
#pragma once

#include "core/catalogue/items.h"
#include "core/catalogue/trips.h"

G_BEGIN_DECLS

/* What went in so many days tells the present rate. */
#define SW_LAST_RATE_DAYS 90

/* Found, Ready or No sale on the property. */
typedef struct
{
  SwItem *item;
  char *outlet;    /* through which it would go; NULL: none with terms is known */
  int days;        /* from going up until the buyer has to have fetched it, by its terms */
  SwDay decide_by; /* the latest day to put it up so that it can be fetched on the last trip */
  gboolean too_late;
  gboolean has_price;
  SwMoney price; /* suggested from the next trip on: the first of the steps that fall to the scrap
                  * floor (else nothing) on the last day, one a trip */
  gboolean has_floor;
  SwMoney floor; /* as scrap, after cartage */
} SwLastThing;

typedef struct
{
  gboolean known; /* FALSE: no last day was entered, and all below is empty */
  SwDay day;
  SwDay fetched_by;          /* last day of the last trip before it; without one the day itself */
  int days_left, trips_left; /* trips that end from today on, until that day */
  guint standing;            /* things on the property that are not sold */
  guint gone;                /* sold or scrapped in the last rate_days */
  int rate_days;     /* SW_LAST_RATE_DAYS, or since the first trip where that is less; at least 1 */
  guint left;        /* standing less what goes at that rate; never below 0 */
  GPtrArray *things; /* SwLastThing by decide_by, then number */
} SwLastDay;
void sw_last_day_free (SwLastDay *last);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwLastDay, sw_last_day_free)

/* As seen from that day. Errors: those of the catalogue, overflow. */
SwLastDay *sw_last_day (SwCatalogue *catalogue, SwDay today, GError **error);

/* The price at step k of n (0 <= k <= n, n > 0) of a price that falls in equal steps from 'asking'
 * to 'least', rounded half-up: asking - (asking - least) k / n. Where asking is not above least it
 * stays. Marking down in steps is common practice. Error: overflow. */
gboolean sw_falling_price (SwMoney asking, SwMoney least, int k, int n, SwMoney *out_price,
                           GError **error);

/* "Last day 2026-12-31: 66 days and 2 trips left. ..."; NULL where it is not known. */
char *sw_last_day_sentence (const SwLastDay *last);
/* "up by 2026-11-02 (20 days at Hill Road); from the next trip on ask 40.00"; for what is too late
 * what is left to do. Transfer full. */
char *sw_last_thing_words (const SwLastThing *thing, SwCurrency currency);

G_END_DECLS
