/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The money table as typed rows: which columns there are, which rows read and need which, and each
 * cell read by its kind. Trade layer; pure: knows a currency and a zone, no catalogue. What belongs
 * together is joined in book.c. */
#pragma once

#include "core/base/civil.h"
#include "core/base/language.h"
#include "core/base/money.h"
#include "core/base/table.h"

G_BEGIN_DECLS

/* X (tag, name in the header line, how its cells are read). */
#define SW_COLUMNS(X)                                                                              \
  X (WHAT, "what", TEXT)                                                                           \
  X (OUTLET, "outlet", TEXT)                                                                       \
  X (KIND, "kind", TEXT)                                                                           \
  X (RUNNING_DAYS, "running_days", NUMBER)                                                         \
  X (PAY_DAYS, "pay_days", NUMBER)                                                                 \
  X (COLLECT_DAYS, "collect_days", NUMBER)                                                         \
  X (ROUNDING, "rounding", TEXT)                                                                   \
  X (FROM, "from", MOMENT)                                                                         \
  X (CHARGE, "charge", TEXT)                                                                       \
  X (ON, "on", TEXT)                                                                               \
  X (FLAT, "flat", MONEY)                                                                          \
  X (TIERS, "tiers", TIERS)                                                                        \
  X (LEAST, "least", MONEY)                                                                        \
  X (MOST, "most", MONEY)                                                                          \
  X (TAX, "tax", PERCENT)                                                                          \
  X (FREE, "free", NUMBER)                                                                         \
  X (REF, "ref", TEXT)                                                                             \
  X (ITEM, "item", TEXT)                                                                           \
  X (COUNT, "count", NUMBER)                                                                       \
  X (START, "start", MONEY)                                                                        \
  X (RESERVE, "reserve", MONEY)                                                                    \
  X (UP, "up", MOMENT)                                                                             \
  X (CLOSES, "closes", MOMENT)                                                                     \
  X (AT, "at", MOMENT)                                                                             \
  X (LOOKS, "looks", NUMBER)                                                                       \
  X (FOLLOWERS, "followers", NUMBER)                                                               \
  X (BIDS, "bids", NUMBER)                                                                         \
  X (AMOUNT, "amount", MONEY)                                                                      \
  X (RESULT, "result", TEXT)                                                                       \
  X (DELIVERY, "delivery", MONEY)                                                                  \
  X (BUYER, "buyer", TEXT)                                                                         \
  X (UNTIL, "until", MOMENT)                                                                       \
  X (TRIP, "trip", NUMBER)                                                                         \
  X (REMARK, "remark", TEXT)                                                                       \
  X (GROSS, "gross", KG)                                                                           \
  X (TARE, "tare", KG)                                                                             \
  X (CLASS, "class", TEXT)                                                                         \
  X (NET, "net", KG)                                                                               \
  X (RATE, "rate", MONEY)                                                                          \
  X (PLACE, "place", TEXT)

#define SW_COLUMN_AS_ENUM(tag, name, type) SW_COLUMN_##tag,
typedef enum
{
  SW_COLUMNS (SW_COLUMN_AS_ENUM) SW_N_COLUMNS
} SwColumn;

#define SW_COL(tag) (G_GUINT64_CONSTANT (1) << SW_COLUMN_##tag)

/* X (tag, word in 'what', columns read, of those needed, rank among rows of one day). A remark may
 * stand in any row: it is kept with costs, and else in the history. Ranks: a hold goes before what
 * ends it, results before new offers; rows that move no item come last. */
#define SW_ROW_KINDS(X)                                                                            \
  X (OUTLET, N_ ("outlet"),                                                                        \
     SW_COL (OUTLET) | SW_COL (KIND) | SW_COL (RUNNING_DAYS) | SW_COL (PAY_DAYS)                   \
         | SW_COL (COLLECT_DAYS) | SW_COL (ROUNDING),                                              \
     SW_COL (OUTLET), 0)                                                                           \
  X (CHARGE, N_ ("charge"),                                                                        \
     SW_COL (OUTLET) | SW_COL (FROM) | SW_COL (CHARGE) | SW_COL (ON) | SW_COL (FLAT)               \
         | SW_COL (TIERS) | SW_COL (LEAST) | SW_COL (MOST) | SW_COL (TAX) | SW_COL (FREE),         \
     SW_COL (OUTLET) | SW_COL (FROM) | SW_COL (CHARGE), 0)                                         \
  X (OFFER, N_ ("offer"),                                                                          \
     SW_COL (REF) | SW_COL (OUTLET) | SW_COL (ITEM) | SW_COL (COUNT) | SW_COL (START)              \
         | SW_COL (RESERVE) | SW_COL (UP) | SW_COL (CLOSES),                                       \
     SW_COL (REF) | SW_COL (OUTLET) | SW_COL (ITEM) | SW_COL (UP), 8)                              \
  X (INTEREST, N_ ("interest"),                                                                    \
     SW_COL (REF) | SW_COL (AT) | SW_COL (LOOKS) | SW_COL (FOLLOWERS) | SW_COL (BIDS)              \
         | SW_COL (AMOUNT),                                                                        \
     SW_COL (REF) | SW_COL (AT), 9)                                                                \
  X (RESULT, N_ ("result"),                                                                        \
     SW_COL (REF) | SW_COL (AT) | SW_COL (RESULT) | SW_COL (AMOUNT) | SW_COL (DELIVERY)            \
         | SW_COL (BUYER),                                                                         \
     SW_COL (REF) | SW_COL (AT) | SW_COL (RESULT), 2)                                              \
  X (HOLD, N_ ("hold"), SW_COL (ITEM) | SW_COL (AT) | SW_COL (UNTIL) | SW_COL (BUYER),             \
     SW_COL (ITEM) | SW_COL (AT) | SW_COL (UNTIL), 1)                                              \
  X (SALE, N_ ("sale"),                                                                            \
     SW_COL (REF) | SW_COL (ITEM) | SW_COL (COUNT) | SW_COL (OUTLET) | SW_COL (AT)                 \
         | SW_COL (AMOUNT) | SW_COL (DELIVERY) | SW_COL (BUYER),                                   \
     SW_COL (REF) | SW_COL (ITEM) | SW_COL (AT) | SW_COL (AMOUNT), 3)                              \
  X (PAYMENT, N_ ("payment"), SW_COL (REF) | SW_COL (AT) | SW_COL (AMOUNT),                        \
     SW_COL (REF) | SW_COL (AT) | SW_COL (AMOUNT), 6)                                              \
  X (PAID_BACK, N_ ("paid back"), SW_COL (REF) | SW_COL (AT) | SW_COL (AMOUNT),                    \
     SW_COL (REF) | SW_COL (AT) | SW_COL (AMOUNT), 7)                                              \
  X (COLLECTED, N_ ("collected"), SW_COL (REF) | SW_COL (AT), SW_COL (REF) | SW_COL (AT), 7)       \
  X (REVERSAL, N_ ("reversal"), SW_COL (REF) | SW_COL (AT) | SW_COL (AMOUNT),                      \
     SW_COL (REF) | SW_COL (AT), 5)                                                                \
  X (FEE, N_ ("fee"), SW_COL (REF) | SW_COL (CHARGE) | SW_COL (AT) | SW_COL (AMOUNT),              \
     SW_COL (REF) | SW_COL (CHARGE) | SW_COL (AT) | SW_COL (AMOUNT), 10)                           \
  X (COST, N_ ("cost"), SW_COL (TRIP) | SW_COL (AT) | SW_COL (AMOUNT) | SW_COL (REMARK),           \
     SW_COL (AT) | SW_COL (AMOUNT), 11)                                                            \
  X (DOCKET, N_ ("docket"),                                                                        \
     SW_COL (REF) | SW_COL (OUTLET) | SW_COL (AT) | SW_COL (GROSS) | SW_COL (TARE),                \
     SW_COL (REF) | SW_COL (OUTLET) | SW_COL (AT) | SW_COL (GROSS) | SW_COL (TARE), 4)             \
  X (DOCKET_LINE, N_ ("docket line"),                                                              \
     SW_COL (REF) | SW_COL (CLASS) | SW_COL (NET) | SW_COL (RATE) | SW_COL (AMOUNT)                \
         | SW_COL (ITEM) | SW_COL (PLACE),                                                         \
     SW_COL (REF) | SW_COL (CLASS) | SW_COL (NET), 4)

#define SW_ROW_KIND_AS_ENUM(tag, word, reads, needs, rank) SW_ROW_##tag,
typedef enum
{
  SW_ROW_KINDS (SW_ROW_KIND_AS_ENUM) SW_N_ROW_KINDS
} SwRowKind;

typedef struct _SwRow SwRow;
struct _SwRow
{
  int line;
  SwRowKind kind;
  gboolean known;             /* FALSE: 'what' says nothing we know, or the row is at fault */
  char *text[SW_N_COLUMNS];   /* tidied; NULL where empty or not read by this kind */
  gint64 value[SW_N_COLUMNS]; /* MONEY: minor units; NUMBER; KG: micrograms; MOMENT: microseconds */
  SwDay day;                  /* that counts: of 'up' or 'at' or 'from' */

  /* for book.c, as it joins and orders them */
  SwRow *opens;     /* row that opens the deal this one speaks of; NULL: in the catalogue already */
  SwRow *waits_for; /* row that must be booked before */
  GPtrArray *waiters;
  SwDay order_day;
  gint64 part;       /* the item split off for this row; 0: none */
  gboolean split;    /* the count was seen to */
  gboolean deferred; /* a hold, to be tried once more as the last row of its day */
  gboolean failed, done;
};
void sw_row_free (SwRow *row);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwRow, sw_row_free)

/* As the header of the table has it. Static. */
const char *sw_column_name (SwColumn column);
/* What stands in the cell "what". Static. */
const char *sw_row_kind_word (SwRowKind kind);
/* The order of rows of one day: the lower first. */
int sw_row_kind_rank (SwRowKind kind);

/* Whether the cell holds something. */
#define sw_row_has(row, tag) ((row)->text[SW_COLUMN_##tag] != NULL)
#define sw_row_money(row, tag) (sw_money ((row)->value[SW_COLUMN_##tag]))

/* Called for each fault and remark with the row's line. 'sentence' is valid during the call. */
typedef void (*SwRowSayFunc) (int line, const char *sentence, gpointer data);

/* Reads all rows, those at fault too (known FALSE), so that what refers to them is not called
 * missing. GPtrArray of SwRow, transfer full. NULL with an error only where the table as a whole
 * makes no sense (no 'what' column, a column twice). */
GPtrArray *sw_rows_read (const SwTable *table, SwCurrency currency, const SwZone *zone,
                         SwRowSayFunc fault, SwRowSayFunc remark, gpointer data, GError **error);

/* A digest of what the row says: equal for rows that say the same, however they are written. A
 * digest, so that no buyer's name is kept a second time. Remarks do not count but with costs.
 * Transfer full. */
char *sw_row_content (const SwRow *row);

G_END_DECLS
