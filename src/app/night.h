/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The closing night as the person at the keys sees it: the rows last read, what was typed since and
 * is still on its way to the catalogue, and the row the next key means. No widget and no catalogue:
 * what is caught here shows at once, so that typing never waits. */
#pragma once

#include "core/trade/run-sheet.h"

G_BEGIN_DECLS

/* How a row stands, with what is on its way. */
typedef struct
{
  gboolean booked; /* confirmed, or booked otherwise: no key changes it */
  gboolean caught; /* something was caught and waits for confirmation */
  SwResult result; /* RUNNING, SOLD, NO_SALE, WITHDRAWN */
  SwMoney amount;  /* SOLD */
  gboolean has_verdict;
  SwVerdict verdict;
  gboolean on_its_way;
} SwNightStand;

typedef struct _SwNight SwNight;
/* Without rows. Transfer full. */
SwNight *sw_night_new (void);
void sw_night_free (SwNight *night);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwNight, sw_night_free)

/* A read of the rows begins: its number, to hand over with what it brings. */
guint sw_night_begin_read (SwNight *night);
/* rows: GPtrArray of SwRunRow in closing order, kept (counted). What landed before that read began
 * is in them; the rest stays laid over them. The cursor stays at its offer; where there is none it
 * goes to the first open one. */
void sw_night_set_rows (SwNight *night, GPtrArray *rows, guint read);

/* The rows in closing order, and where each stands with what the keys did laid over it. */
guint sw_night_count (const SwNight *night);
const SwRunRow *sw_night_row (const SwNight *night, guint i);
SwNightStand sw_night_stand (const SwNight *night, guint i);
/* -1 where it is not among the rows. */
int sw_night_find (const SwNight *night, gint64 deal);

/* The offer that the next key means; 0: none. */
gint64 sw_night_get_cursor (const SwNight *night);
void sw_night_set_cursor (SwNight *night, gint64 deal);

/* What a key did, laid over the row; the cursor goes on by itself: after a result to the next offer
 * to close that has none, after a verdict on a no sale that was caught before to the next no sale
 * without one. The ticket goes back with sw_night_landed. 0: the row cannot take it (it is booked,
 * or a verdict for one caught as sold, or there is nothing to take back) and nothing changed. */
guint sw_night_catch (SwNight *night, gint64 deal, SwResult result, SwMoney amount);
guint sw_night_verdict (SwNight *night, gint64 deal, SwVerdict verdict);
guint sw_night_take_back (SwNight *night, gint64 deal);
/* The catalogue took it (then it stays laid over until a later read brings it) or refused it. */
void sw_night_landed (SwNight *night, guint ticket, gboolean taken);

typedef struct
{
  guint offers, sold, no_sale, open; /* with what is on its way */
  guint unconfirmed;
} SwNightCounts;
/* Of all rows. */
SwNightCounts sw_night_counts (const SwNight *night);

/* Seconds until any countdown would read otherwise, at most 10; 0: nothing closes any more. */
guint sw_night_next_tick (const SwNight *night, SwInstant now);
/* "0:12", "59:03", "3 h 05 min", "2 days"; "closed" from the moment on. Transfer full. */
char *sw_night_countdown (SwInstant closes, SwInstant now);
/* The same in words for reading aloud: "closes in 12 seconds". Transfer full. */
char *sw_night_countdown_words (SwInstant closes, SwInstant now);

/* The verdict that a letter stands for; FALSE for other letters. */
gboolean sw_night_verdict_of_key (guint letter, SwVerdict *out_verdict);
char sw_night_key_of_verdict (SwVerdict verdict);

G_END_DECLS
