/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads a statement's rows, matches them to sales, and books what they tell. */
#include "core/trade/statement.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/offer-notes.h"
#include "core/catalogue/postings.h"
#include "core/trade/slip.h"

/* A row without a reference is a sale's only within so many days of it. */
#define DAYS_APART 3
/* The fee that stands for all of an outlet's charges where it states their sum alone. */
#define FEE_AS_STATED N_ ("as stated")

#define AS_WORD(tag, word) [SW_STATEMENT_##tag] = word,
static const char *const field_words[SW_N_STATEMENT_FIELDS] = { SW_STATEMENT_FIELDS (AS_WORD) };

const char *
sw_statement_field_word (SwStatementField field)
{
  g_return_val_if_fail (field >= 0 && field < SW_N_STATEMENT_FIELDS, "");
  return field_words[field];
}

void
sw_statement_columns_clear (SwStatementColumns *columns)
{
  for (int i = 0; i < SW_N_STATEMENT_FIELDS; i++)
    g_clear_pointer (&columns->heading[i], g_free);
}

static void
line_free (gpointer data)
{
  SwStatementLine *line = data;
  g_free (line->reference);
  g_free (line->ref);
  g_free (line->says);
  g_free (line);
}

void
sw_statement_clear (SwStatement *statement)
{
  g_clear_pointer (&statement->lines, g_ptr_array_unref);
  g_clear_pointer (&statement->missing, g_ptr_array_unref);
}

gboolean
sw_statement_columns_keep (SwCatalogue *catalogue, gint64 outlet, const SwStatementColumns *columns,
                           GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  for (int i = 0; i < SW_N_STATEMENT_FIELDS; i++)
    if (columns->heading[i] != NULL
        && !sw_statement_column_put (catalogue, outlet, field_words[i], columns->heading[i], error))
      return FALSE;
  return sw_act_commit (&act, _ ("Columns of a statement"), error);
}

gboolean
sw_statement_columns_get (SwCatalogue *catalogue, gint64 outlet, SwStatementColumns *out_columns,
                          GError **error)
{
  SwStatementColumns columns = { { NULL } };
  for (int i = 0; i < SW_N_STATEMENT_FIELDS; i++)
    if (!sw_statement_column_get (catalogue, outlet, field_words[i], &columns.heading[i], error))
      {
        sw_statement_columns_clear (&columns);
        return FALSE;
      }
  *out_columns = columns;
  return TRUE;
}

/* --- cells --- */

typedef struct
{
  SwCatalogue *catalogue;
  SwCurrency currency;
  SwNumberStyle style;
  int column[SW_N_STATEMENT_FIELDS]; /* -1: not there */
  GPtrArray *deals;                  /* SwDeal, sold through the outlet */
  GHashTable *by_reference;          /* folded -> SwDeal */
  GHashTable *fallen;                /* SwDeal -> SwDay since when it is no sale any more */
  GHashTable *taken;                 /* deals that a row is already */
} Reading;

/* As the contract writes it, else as the person's locale does ("26.04.2026"). */
static gboolean
read_day (const Reading *reading, const char *cell, SwDay *out_day)
{
  SwInstant at;
  const SwZone *zone = sw_catalogue_zone (reading->catalogue);
  if (sw_moment_parse (cell, zone, &at, NULL, NULL))
    {
      *out_day = sw_day_of_instant (at, zone);
      return TRUE;
    }
  GDate date;
  g_date_clear (&date, 1);
  g_date_set_parse (&date, cell);
  if (!g_date_valid (&date))
    return FALSE;
  *out_day = sw_day_from_ymd (g_date_get_year (&date), (int)g_date_get_month (&date),
                              g_date_get_day (&date));
  return TRUE;
}

/* A sign in front is dropped: outlets write what they keep with and without one. */
static gboolean
read_money (const Reading *reading, const char *cell, SwMoney *out)
{
  const char *unsigned_cell = *cell == '-' || *cell == '+' ? cell + 1 : cell;
  return sw_money_parse_plain (unsigned_cell, reading->currency, FALSE, out, NULL)
         || sw_money_parse_local (unsigned_cell, reading->currency, reading->style, out, NULL);
}

static const char *
cell_of (const Reading *reading, const SwTable *table, gsize row, SwStatementField field)
{
  return sw_table_cell (table, row, reading->column[field]);
}

static void
unread (SwStatementLine *line, SwStatementField field, const char *cell)
{
  g_autofree char *shown = sw_text_quote (cell);
  line->match = SW_STATEMENT_UNREAD;
  g_free (line->says);
  line->says = g_strdup_printf (_ ("%s makes no sense as the %s."), shown, field_words[field]);
}

static SwStatementLine *
read_line (const Reading *reading, const SwTable *table, gsize row)
{
  SwStatementLine *line = g_new0 (SwStatementLine, 1);
  const char *day = cell_of (reading, table, row, SW_STATEMENT_DAY);
  const char *price = cell_of (reading, table, row, SW_STATEMENT_PRICE);
  const char *fees = cell_of (reading, table, row, SW_STATEMENT_FEES);
  line->line = sw_table_line (table, row);
  line->match = SW_STATEMENT_UNKNOWN;
  line->reference = sw_text_tidy (cell_of (reading, table, row, SW_STATEMENT_REFERENCE));
  line->has_day = *day != '\0' && read_day (reading, day, &line->day);
  line->has_price = *price != '\0' && read_money (reading, price, &line->price);
  line->has_fees = *fees != '\0' && read_money (reading, fees, &line->fees);
  if (*day != '\0' && !line->has_day)
    unread (line, SW_STATEMENT_DAY, day);
  if (*price != '\0' && !line->has_price)
    unread (line, SW_STATEMENT_PRICE, price);
  if (*fees != '\0' && !line->has_fees)
    unread (line, SW_STATEMENT_FEES, fees);
  return line;
}

/* --- matching --- */

static void
index_reference (Reading *reading, const char *reference, SwDeal *deal)
{
  if (reference != NULL && *reference != '\0')
    g_hash_table_insert (reading->by_reference, g_utf8_casefold (reference, -1), deal);
}

static gboolean
note_fallen (Reading *reading, SwDeal *deal, GError **error)
{
  gboolean fell;
  SwDay day;
  if (!sw_reversal_whole (reading->catalogue, deal->id, &fell, &day, error))
    return FALSE;
  if (fell)
    g_hash_table_insert (reading->fallen, deal, g_memdup2 (&day, sizeof day));
  return TRUE;
}

static gboolean
read_deals (Reading *reading, gint64 outlet, GError **error)
{
  g_autoptr (GPtrArray) all = sw_deal_list_outlet (reading->catalogue, outlet, error);
  if (all == NULL)
    return FALSE;
  g_ptr_array_set_free_func (all, NULL);
  for (guint i = 0; i < all->len; i++)
    {
      SwDeal *deal = g_ptr_array_index (all, i);
      if (deal->result == SW_RESULT_SOLD)
        g_ptr_array_add (reading->deals, deal);
      else
        sw_deal_free (deal);
    }
  for (guint i = 0; i < reading->deals->len; i++)
    {
      SwDeal *deal = g_ptr_array_index (reading->deals, i);
      g_autoptr (SwOfferNote) note = sw_offer_note_get (reading->catalogue, deal->id, error);
      if (note == NULL || !note_fallen (reading, deal, error))
        return FALSE;
      index_reference (reading, deal->ref, deal);
      index_reference (reading, note->own_ref, deal);
    }
  return TRUE;
}

static const SwDeal *
by_reference (const Reading *reading, const SwStatementLine *line)
{
  g_autofree char *folded = g_utf8_casefold (line->reference, -1);
  return *folded != '\0' ? g_hash_table_lookup (reading->by_reference, folded) : NULL;
}

static gboolean
is_fallen (const Reading *reading, const SwDeal *deal)
{
  return g_hash_table_contains (reading->fallen, deal);
}

static const SwDeal *
by_amount_among (const Reading *reading, const SwStatementLine *line, gboolean fallen, guint *out_n)
{
  const SwDeal *found = NULL;
  *out_n = 0;
  for (guint i = 0; line->has_price && line->has_day && i < reading->deals->len; i++)
    {
      const SwDeal *deal = g_ptr_array_index (reading->deals, i);
      if (deal->amount.minor != line->price.minor || ABS (deal->ended.n - line->day.n) > DAYS_APART
          || g_hash_table_contains (reading->taken, deal) || is_fallen (reading, deal) != fallen)
        continue;
      found = deal;
      ++*out_n;
    }
  return found;
}

/* *out_n says how many sales could be it. One that stands goes before one that fell through. */
static const SwDeal *
by_amount (const Reading *reading, const SwStatementLine *line, guint *out_n)
{
  const SwDeal *found = by_amount_among (reading, line, FALSE, out_n);
  return *out_n > 0 ? found : by_amount_among (reading, line, TRUE, out_n);
}

static void
add_posting (const SwPosting *posting, gpointer data)
{
  SwStatementLine *line = data;
  if (posting->kind == SW_POSTING_FEE)
    line->booked_fees.minor += posting->minor;
  else if (posting->kind == SW_POSTING_OWED)
    line->owed.minor += posting->minor;
}

static void
say_difference (const Reading *reading, SwStatementLine *line, const SwDeal *deal)
{
  const SwDay *fell = g_hash_table_lookup (reading->fallen, deal);
  g_autofree char *day = fell != NULL ? sw_day_to_person (*fell) : NULL;
  g_autofree char *price = sw_money_to_person (line->price, reading->currency);
  g_autofree char *booked = sw_money_to_person (line->booked_price, reading->currency);
  g_autofree char *fees = sw_money_to_person (line->fees, reading->currency);
  g_autofree char *booked_fees = sw_money_to_person (line->booked_fees, reading->currency);
  gboolean other_price = line->has_price && line->price.minor != line->booked_price.minor;
  gboolean other_fees = line->has_fees && line->fees.minor != line->booked_fees.minor;
  if (fell != NULL)
    line->says
        = g_strdup_printf (_ ("Sold by the statement; by the books it fell through on %s."), day);
  else if (other_price)
    line->says
        = g_strdup_printf (_ ("Sold for %s by the statement, for %s by the books."), price, booked);
  else if (other_fees)
    line->says = g_strdup_printf (_ ("Fees of %s by the statement, of %s by the books."), fees,
                                  booked_fees);
}

static gboolean
take_deal (Reading *reading, SwStatementLine *line, const SwDeal *deal, SwStatementMatch match,
           GError **error)
{
  if (!g_hash_table_add (reading->taken, (gpointer)deal))
    {
      line->match = SW_STATEMENT_UNCLEAR;
      line->says = g_strdup_printf (_ ("An earlier row is the sale %s already."), deal->ref);
      return TRUE;
    }
  line->match = match;
  line->deal = deal->id;
  line->ref = g_strdup (deal->ref);
  line->booked_price = deal->amount;
  if (!sw_posting_sums (reading->catalogue, deal->id, add_posting, line, error))
    return FALSE;
  say_difference (reading, line, deal);
  return TRUE;
}

static gboolean
match_reference (Reading *reading, SwStatementLine *line, GError **error)
{
  const SwDeal *deal = line->match != SW_STATEMENT_UNREAD ? by_reference (reading, line) : NULL;
  return deal == NULL || take_deal (reading, line, deal, SW_STATEMENT_BY_REFERENCE, error);
}

static gboolean
is_open (const SwStatementLine *line)
{
  return line->match == SW_STATEMENT_UNKNOWN && line->says == NULL;
}

/* One pass over the rows that are no sale yet: all of them look at the sales that were free when it
 * began, so that the order of the rows does not matter. */
static gboolean
match_amounts_once (Reading *reading, const GPtrArray *lines, gboolean *out_any, GError **error)
{
  g_autofree const SwDeal **only = g_new0 (const SwDeal *, lines->len);
  *out_any = FALSE;
  for (guint i = 0; i < lines->len; i++)
    {
      guint n = 0;
      const SwStatementLine *line = g_ptr_array_index (lines, i);
      const SwDeal *deal = is_open (line) ? by_amount (reading, line, &n) : NULL;
      only[i] = n == 1 ? deal : NULL;
    }
  for (guint i = 0; i < lines->len; i++)
    {
      SwStatementLine *line = g_ptr_array_index (lines, i);
      if (only[i] != NULL && !take_deal (reading, line, only[i], SW_STATEMENT_BY_AMOUNT, error))
        return FALSE;
      *out_any = *out_any || only[i] != NULL;
    }
  return TRUE;
}

/* What is no sale after all: several could be it, or none. */
static void
say_unmatched (const Reading *reading, SwStatementLine *line)
{
  guint n = 0;
  if (!is_open (line))
    return;
  by_amount (reading, line, &n);
  line->match = n > 1 ? SW_STATEMENT_UNCLEAR : SW_STATEMENT_UNKNOWN;
  line->says = n > 1 ? g_strdup_printf (_ ("%u sales of that price lie within %d days of it."), n,
                                        DAYS_APART)
                     : g_strdup (_ ("No sale of the books is this row."));
}

/* By reference first, whichever row comes first; then by amount and day, as long as a sale taken
 * leaves another row only one. */
static gboolean
match_lines (Reading *reading, const GPtrArray *lines, GError **error)
{
  for (guint i = 0; i < lines->len; i++)
    if (!match_reference (reading, g_ptr_array_index (lines, i), error))
      return FALSE;
  gboolean any = TRUE;
  while (any)
    if (!match_amounts_once (reading, lines, &any, error))
      return FALSE;
  for (guint i = 0; i < lines->len; i++)
    say_unmatched (reading, g_ptr_array_index (lines, i));
  return TRUE;
}

/* --- the whole --- */

static gboolean
find_columns (const SwTable *table, const SwStatementColumns *columns, Reading *reading,
              GError **error)
{
  for (int i = 0; i < SW_N_STATEMENT_FIELDS; i++)
    {
      reading->column[i] = -1;
      if (columns->heading[i] == NULL)
        continue;
      reading->column[i] = sw_table_find_column (table, columns->heading[i]);
      if (reading->column[i] >= 0)
        continue;
      g_autofree char *shown = sw_text_quote (columns->heading[i]);
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("The statement has no column %s; say which one holds the %s."), shown,
                   field_words[i]);
      return FALSE;
    }
  if (reading->column[SW_STATEMENT_REFERENCE] >= 0
      || (reading->column[SW_STATEMENT_PRICE] >= 0 && reading->column[SW_STATEMENT_DAY] >= 0))
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("Say which column holds the reference, or which hold the price and the day: rows "
                  "are matched by one or the other."));
  return FALSE;
}

static gboolean
add_line (SwStatement *statement, const SwStatementLine *line, GError **error)
{
  if (line->deal == 0)
    return TRUE;
  statement->matched++;
  statement->differing += line->says != NULL;
  return sw_money_add (statement->price, line->has_price ? line->price : line->booked_price,
                       &statement->price, error)
         && sw_money_add (statement->fees, line->has_fees ? line->fees : line->booked_fees,
                          &statement->fees, error)
         && sw_money_add (statement->booked_price, line->booked_price, &statement->booked_price,
                          error)
         && sw_money_add (statement->booked_fees, line->booked_fees, &statement->booked_fees,
                          error);
}

/* Sales within the days of the statement that no row is. One that fell through need not be in it.
 */
static void
find_missing (const Reading *reading, SwStatement *statement)
{
  gint32 first = G_MAXINT32, last = G_MININT32;
  for (guint i = 0; i < statement->lines->len; i++)
    {
      const SwStatementLine *line = g_ptr_array_index (statement->lines, i);
      if (!line->has_day)
        continue;
      first = MIN (first, line->day.n);
      last = MAX (last, line->day.n);
    }
  for (guint i = 0; i < reading->deals->len; i++)
    {
      const SwDeal *deal = g_ptr_array_index (reading->deals, i);
      if (deal->ended.n >= first && deal->ended.n <= last
          && !g_hash_table_contains (reading->taken, deal) && !is_fallen (reading, deal))
        g_ptr_array_add (statement->missing, g_strdup (deal->ref));
    }
}

static gboolean
read_lines (Reading *reading, const SwTable *table, const char *outlet, SwStatement *statement,
            GError **error)
{
  gsize n = sw_table_n_rows (table);
  for (gsize i = 0; i < n; i++)
    g_ptr_array_add (statement->lines, read_line (reading, table, i));
  if (!match_lines (reading, statement->lines, error))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    if (!add_line (statement, g_ptr_array_index (statement->lines, i), error))
      return FALSE;
  find_missing (reading, statement);
  if (statement->matched > 0)
    return TRUE;
  g_autofree char *shown = sw_text_quote (outlet);
  g_set_error (
      error, SW_ERROR, SW_ERROR_REFUSED,
      _ ("None of the %d rows is a sale through %s; it may be another outlet's statement, or "
         "the results are not entered yet."),
      (int)n, shown);
  return FALSE;
}

static void
reading_clear (Reading *reading)
{
  g_clear_pointer (&reading->deals, g_ptr_array_unref);
  g_clear_pointer (&reading->by_reference, g_hash_table_unref);
  g_clear_pointer (&reading->fallen, g_hash_table_unref);
  g_clear_pointer (&reading->taken, g_hash_table_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Reading, reading_clear)

static gboolean
find_outlet (SwCatalogue *catalogue, const char *name, SwOutlet **out_outlet, GError **error)
{
  if (!sw_outlet_find (catalogue, name, out_outlet, error))
    return FALSE;
  if (*out_outlet != NULL)
    return TRUE;
  g_autofree char *shown = sw_text_quote (name);
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no outlet %s."), shown);
  return FALSE;
}

gboolean
sw_statement_read (SwCatalogue *catalogue, const char *outlet, const SwTable *table,
                   const SwStatementColumns *columns, SwStatement *out_statement, GError **error)
{
  g_autoptr (SwOutlet) known = NULL;
  g_auto (Reading) reading = { .catalogue = catalogue,
                               .currency = sw_catalogue_currency (catalogue),
                               .style = sw_number_style () };
  g_auto (SwStatement) statement = { 0 };
  reading.deals = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_deal_free);
  reading.by_reference = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  reading.fallen = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  reading.taken = g_hash_table_new (NULL, NULL);
  statement.lines = g_ptr_array_new_with_free_func (line_free);
  statement.missing = g_ptr_array_new_with_free_func (g_free);
  if (!find_outlet (catalogue, outlet, &known, error)
      || !find_columns (table, columns, &reading, error) || !read_deals (&reading, known->id, error)
      || !read_lines (&reading, table, outlet, &statement, error))
    return FALSE;
  *out_statement = statement;
  statement = (SwStatement){ 0 };
  return TRUE;
}

/* --- booking --- */

static void
add_fee (SwSlip *slip, const SwStatementLine *line, SwDay day, const char *charge, SwMoney amount)
{
  sw_slip_row (slip, SW_ROW_FEE);
  sw_slip_text (slip, SW_COLUMN_REF, line->ref);
  sw_slip_text (slip, SW_COLUMN_CHARGE, charge);
  sw_slip_day (slip, SW_COLUMN_AT, day);
  sw_slip_money (slip, SW_COLUMN_AMOUNT, TRUE, amount);
}

/* The outlet states the sum of its charges alone, so each one that stands is given back and the sum
 * stands in their place: no share of a difference is guessed. */
static gboolean
add_fees (SwCatalogue *catalogue, SwSlip *slip, const SwStatementLine *line, SwDay day,
          GError **error)
{
  g_autoptr (GPtrArray) computed = sw_fee_computed (catalogue, line->deal, error);
  g_autoptr (GPtrArray) charged
      = computed != NULL ? sw_fee_charged (catalogue, line->deal, error) : NULL;
  if (charged == NULL)
    return FALSE;
  g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < computed->len; i++)
    g_hash_table_add (names, ((SwFee *)g_ptr_array_index (computed, i))->charge);
  for (guint i = 0; i < charged->len; i++)
    g_hash_table_add (names, ((SwFee *)g_ptr_array_index (charged, i))->charge);
  /* of one charge the latest day counts, and a day holds one: a corrected statement comes later */
  for (guint i = 0; i < charged->len; i++)
    day.n = MAX (day.n, ((SwFee *)g_ptr_array_index (charged, i))->day.n + 1);
  g_hash_table_remove (names, FEE_AS_STATED);
  g_autoptr (GList) sorted = g_list_sort (g_hash_table_get_keys (names), (GCompareFunc)strcmp);
  for (GList *name = sorted; name != NULL; name = name->next)
    add_fee (slip, line, day, name->data, SW_MONEY_ZERO);
  add_fee (slip, line, day, FEE_AS_STATED, line->fees);
  return TRUE;
}

static gboolean
add_rows (SwCatalogue *catalogue, SwSlip *slip, const SwStatementLine *line, SwDay today,
          guint *entered, GError **error)
{
  SwDay day = line->has_day ? line->day : today;
  gboolean other_fees = line->has_fees && line->fees.minor != line->booked_fees.minor;
  gboolean agreed = !line->has_price || line->price.minor == line->booked_price.minor;
  if (line->deal == 0 || !agreed || (!other_fees && line->owed.minor <= 0))
    return TRUE;
  ++*entered;
  if (line->owed.minor > 0)
    {
      sw_slip_row (slip, SW_ROW_PAYMENT);
      sw_slip_text (slip, SW_COLUMN_REF, line->ref);
      sw_slip_day (slip, SW_COLUMN_AT, day);
      sw_slip_money (slip, SW_COLUMN_AMOUNT, TRUE, line->owed);
    }
  return !other_fees || add_fees (catalogue, slip, line, day, error);
}

gboolean
sw_statement_book (SwCatalogue *catalogue, const SwStatement *statement, guint *out_entered,
                   GError **error)
{
  guint entered = 0;
  g_autoptr (SwSlip) slip = sw_slip_new (catalogue);
  SwDay today = sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));
  for (guint i = 0; i < statement->lines->len; i++)
    if (!add_rows (catalogue, slip, g_ptr_array_index (statement->lines, i), today, &entered,
                   error))
      return FALSE;
  g_autofree char *sentence = g_strdup_printf (_ ("Statement: %u sales settled"), entered);
  if (entered > 0 && !sw_slip_book (slip, sentence, NULL, error))
    return FALSE;
  if (out_entered != NULL)
    *out_entered = entered;
  return TRUE;
}
