/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The statement of an outlet: a table of what it sold and kept, held against the books to the cent.
 * Trade layer. Reading changes nothing but the remembered columns; booking enters fees as charged
 * and payments, and enters nothing twice. */
#pragma once

#include "core/base/language.h"
#include "core/base/table.h"
#include "core/catalogue/outlets.h"

G_BEGIN_DECLS

/* X (tag, word kept). What a row can tell; REFERENCE or PRICE with DAY must be there. */
#define SW_STATEMENT_FIELDS(X)                                                                     \
  X (REFERENCE, N_ ("reference"))                                                                  \
  X (DAY, N_ ("day"))                                                                              \
  X (PRICE, N_ ("price"))                                                                          \
  X (FEES, N_ ("fees"))
#define SW_STATEMENT_FIELD_AS_ENUM(tag, word) SW_STATEMENT_##tag,
typedef enum
{
  SW_STATEMENT_FIELDS (SW_STATEMENT_FIELD_AS_ENUM) SW_N_STATEMENT_FIELDS
} SwStatementField;
const char *sw_statement_field_word (SwStatementField field);

/* The heading of each field's column, as the outlet writes it; NULL: not in the table. */
typedef struct
{
  char *heading[SW_N_STATEMENT_FIELDS];
} SwStatementColumns;
void sw_statement_columns_clear (SwStatementColumns *columns);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwStatementColumns, sw_statement_columns_clear)
/* As remembered for the outlet; an act. NULL fields stay as they were remembered. */
gboolean sw_statement_columns_keep (SwCatalogue *catalogue, gint64 outlet,
                                    const SwStatementColumns *columns, GError **error);
gboolean sw_statement_columns_get (SwCatalogue *catalogue, gint64 outlet,
                                   SwStatementColumns *out_columns, GError **error);

typedef enum
{
  SW_STATEMENT_BY_REFERENCE,
  SW_STATEMENT_BY_AMOUNT, /* the only sale of that price within three days */
  SW_STATEMENT_UNKNOWN,   /* no sale of the books */
  SW_STATEMENT_UNCLEAR,   /* several could be it, or an earlier row is it already */
  SW_STATEMENT_UNREAD,    /* a cell makes no sense */
} SwStatementMatch;

typedef struct
{
  int line; /* in the table */
  char *reference;
  gboolean has_day, has_price, has_fees;
  SwDay day;
  SwMoney price, fees; /* as the outlet says; fees not below zero, however they were signed */
  SwStatementMatch match;
  gint64 deal;                             /* 0: none */
  char *ref;                               /* of the deal; NULL: none */
  SwMoney booked_price, booked_fees, owed; /* as the books stand */
  char *says; /* one sentence where something differs or is odd; NULL: agrees */
} SwStatementLine;

typedef struct
{
  GPtrArray *lines;   /* SwStatementLine in the table's order */
  GPtrArray *missing; /* char *: refs sold through the outlet within the days of the statement that
                         it does not list; none that fell through */
  guint matched, differing;
  SwMoney price, fees;               /* of the matched rows, as the outlet says */
  SwMoney booked_price, booked_fees; /* of the same, as the books stand */
} SwStatement;
void sw_statement_clear (SwStatement *statement);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwStatement, sw_statement_clear)

/* Errors: NOT_FOUND (the outlet); BAD_INPUT where a column named is not in the table, or there is
 * too little to match by; REFUSED where no row matches (another outlet's statement). */
gboolean sw_statement_read (SwCatalogue *catalogue, const char *outlet, const SwTable *table,
                            const SwStatementColumns *columns, SwStatement *out_statement,
                            GError **error);

/* Enters, for the matched rows, fees that differ as the outlet charged them and what was still owed
 * as paid, on the row's day (else today). One act; *out_entered (may be NULL) counts the rows for
 * which something was entered. Prices that differ are not touched: the person decides. */
gboolean sw_statement_book (SwCatalogue *catalogue, const SwStatement *statement,
                            guint *out_entered, GError **error);

G_END_DECLS
