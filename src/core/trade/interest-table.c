/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads typed lines and pasted tables of interest and books them by rows of the money table. */
#include "core/trade/interest-table.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/table.h"
#include "core/base/text.h"
#include "core/catalogue/items.h"
#include "core/catalogue/offer-notes.h"
#include "core/trade/slip.h"

typedef enum
{
  REFERENCE,
  LOOKS,
  FOLLOWERS,
  BIDS,
  PRICE,
  N_COLUMNS
} Column;

static const char *const headings[N_COLUMNS][5] = {
  [REFERENCE] = { "reference", "ref", "number", "lot", NULL },
  [LOOKS] = { "looks", "seen", "views", NULL },
  [FOLLOWERS] = { "followers", "following", NULL },
  [BIDS] = { "bids", NULL },
  [PRICE] = { "price", "amount", "bid so far", NULL },
};
static const char *const names[N_COLUMNS] = { "reference", "looks", "followers", "bids", "price" };

#define MOST_COUNT 1000000000

/* A count as pages write it: "1,204" and "1 204" too. */
static gboolean
read_count (const char *cell, const char *name, gint64 *out, GError **error)
{
  g_autoptr (GString) digits = g_string_new (NULL);
  gint64 count;

  for (const char *at = cell; *at != '\0'; at++)
    if (g_ascii_isdigit (*at))
      g_string_append_c (digits, *at);
    else if (strchr (",.' ", *at) == NULL || at == cell || !g_ascii_isdigit (at[1]))
      {
        g_string_truncate (digits, 0);
        break;
      }
  if (digits->len > 0 && g_ascii_string_to_signed (digits->str, 10, 0, MOST_COUNT, &count, NULL))
    {
      *out = count;
      return TRUE;
    }
  g_autofree char *quoted = sw_text_quote (cell);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("%s is no count of %s; type a whole number, or - where it is not known."), quoted,
               name);
  return FALSE;
}

static gboolean
read_figure (Column column, const char *cell, SwCurrency currency, SwNumberStyle style,
             SwInterest *interest, GError **error)
{
  gint64 *counts[N_COLUMNS] = {
    [LOOKS] = &interest->looks, [FOLLOWERS] = &interest->followers, [BIDS] = &interest->bids
  };
  if (*cell == '\0' || g_str_equal (cell, "-"))
    return TRUE;
  if (column != PRICE)
    return read_count (cell, names[column], counts[column], error);
  if (!sw_money_parse_local (cell, currency, style, &interest->amount, error))
    return FALSE;
  interest->has_amount = TRUE;
  return TRUE;
}

static gboolean
says_something (const SwInterest *interest)
{
  return interest->looks >= 0 || interest->followers >= 0 || interest->bids >= 0
         || interest->has_amount;
}

gboolean
sw_interest_parse (const char *line, SwCurrency currency, SwNumberStyle style,
                   SwInterest *out_interest, GError **error)
{
  g_autofree char *tidy = sw_text_tidy (line);
  g_auto (GStrv) words = g_strsplit (tidy, " ", -1);
  SwInterest interest = { .looks = -1, .followers = -1, .bids = -1 };
  Column column = LOOKS;

  for (char **word = words; *word != NULL && **word != '\0'; word++, column++)
    {
      if (column >= N_COLUMNS)
        {
          g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                       _ ("There are more than four figures; type looks, followers, bids and price "
                          "with blanks between."));
          return FALSE;
        }
      if (!read_figure (column, *word, currency, style, &interest, error))
        return FALSE;
    }
  if (!says_something (&interest))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("No figure was typed; type looks, followers, bids and price with blanks "
                      "between."));
      return FALSE;
    }
  *out_interest = interest;
  return TRUE;
}

/* --- a table --- */

void
sw_interest_row_free (SwInterestRow *row)
{
  if (row == NULL)
    return;
  g_free (row->own_ref);
  g_free (row->items);
  g_free (row->problem);
  g_free (row);
}

static int
find_column (const SwTable *table, Column column)
{
  for (const char *const *name = headings[column]; *name != NULL; name++)
    {
      int at = sw_table_find_column (table, *name);
      if (at >= 0)
        return at;
    }
  return -1;
}

static gboolean
find_columns (const SwTable *table, int *at, GError **error)
{
  gboolean figures = FALSE;

  for (Column i = REFERENCE; i < N_COLUMNS; i++)
    {
      at[i] = find_column (table, i);
      figures = figures || (i != REFERENCE && at[i] >= 0);
    }
  if (at[REFERENCE] >= 0 && figures)
    return TRUE;
  g_set_error (
      error, SW_ERROR, SW_ERROR_BAD_INPUT,
      _ ("The first line must name the columns: reference, and of looks, followers, bids and "
         "price those that are there."));
  return FALSE;
}

/* The headings of columns that nobody reads: NULL for none. */
static char *
unread (const SwTable *table, const int *at)
{
  g_autoptr (GString) found = g_string_new (NULL);

  for (gsize i = 0; i < sw_table_n_columns (table); i++)
    {
      const char *name = sw_table_column_name (table, i);
      gboolean read = name == NULL || *name == '\0';
      for (Column column = REFERENCE; column < N_COLUMNS; column++)
        read = read || at[column] == (int)i;
      if (!read)
        g_string_append_printf (found, "%s%s", found->len > 0 ? ", " : "", name);
    }
  return found->len > 0 ? g_strdup (found->str) : NULL;
}

/* The running offer meant: by the outlet's own reference, else by ours. */
static gboolean
match (SwCatalogue *catalogue, SwInterestRow *row, GError **error)
{
  g_autoptr (GArray) deals = sw_offer_by_own_ref (catalogue, 0, row->own_ref, error);
  if (deals == NULL)
    return FALSE;
  if (deals->len == 0)
    {
      g_autoptr (SwDeal) deal = NULL;
      if (!sw_deal_find (catalogue, row->own_ref, &deal, error))
        return FALSE;
      if (deal != NULL && deal->kind == SW_DEAL_OFFER && deal->result == SW_RESULT_RUNNING)
        row->deal = deal->id;
    }
  else if (deals->len == 1)
    row->deal = g_array_index (deals, gint64, 0);
  if (row->deal == 0)
    row->problem = g_strdup (deals->len > 1 ? _ ("several running offers bear this reference")
                                            : _ ("no running offer bears this reference"));
  return TRUE;
}

static gboolean
name_items (SwCatalogue *catalogue, SwInterestRow *row, GError **error)
{
  g_autoptr (GArray) items = sw_deal_items (catalogue, row->deal, error);

  if (items == NULL)
    return FALSE;
  row->items = sw_deal_item_names (items);
  return TRUE;
}

static void
read_figures (const SwTable *table, gsize i, const int *at, SwCurrency currency,
              SwNumberStyle style, SwInterestRow *row)
{
  for (Column column = LOOKS; column < N_COLUMNS && row->problem == NULL; column++)
    {
      g_autoptr (GError) error = NULL;
      if (at[column] >= 0
          && !read_figure (column, sw_table_cell (table, i, at[column]), currency, style,
                           &row->interest, &error))
        row->problem = g_strdup (error->message);
    }
  if (row->problem == NULL && !says_something (&row->interest))
    row->problem = g_strdup (_ ("it has no figures"));
}

/* A second row of one offer would hide the first. */
static void
refuse_doubles (GPtrArray *rows)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_int64_hash, g_int64_equal);
  for (guint i = 0; i < rows->len; i++)
    {
      SwInterestRow *row = g_ptr_array_index (rows, i);
      if (row->problem == NULL && !g_hash_table_add (seen, &row->deal))
        row->problem = g_strdup (_ ("the offer stands in the table twice"));
    }
}

GPtrArray *
sw_interest_table_read (SwCatalogue *catalogue, const char *text, SwNumberStyle style,
                        char **out_unread, GError **error)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr (SwTable) table = sw_table_read (bytes, error);
  g_autoptr (GPtrArray) rows
      = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_interest_row_free);
  int at[N_COLUMNS];

  if (table == NULL || !find_columns (table, at, error))
    return NULL;
  for (gsize i = 0; i < sw_table_n_rows (table); i++)
    {
      SwInterestRow *row = g_new0 (SwInterestRow, 1);
      g_ptr_array_add (rows, row);
      row->line = sw_table_line (table, i);
      row->own_ref = g_strdup (sw_table_cell (table, i, at[REFERENCE]));
      row->interest = (SwInterest){ .looks = -1, .followers = -1, .bids = -1 };
      if (!match (catalogue, row, error) || (row->deal != 0 && !name_items (catalogue, row, error)))
        return NULL;
      read_figures (table, i, at, sw_catalogue_currency (catalogue), style, row);
    }
  refuse_doubles (rows);
  if (out_unread != NULL)
    *out_unread = unread (table, at);
  return g_steal_pointer (&rows);
}

/* --- taking it --- */

static void
add_count (SwSlip *slip, SwColumn column, gint64 count)
{
  if (count >= 0)
    sw_slip_number (slip, column, count);
}

gboolean
sw_interest_take (SwCatalogue *catalogue, const SwDealInterest *rows, gsize n, GError **error)
{
  g_autoptr (SwSlip) slip = sw_slip_new (catalogue);
  const SwInstant now = sw_catalogue_now (catalogue);
  g_autofree char *sentence
      = g_strdup_printf (n == 1 ? _ ("Interest noted") : _ ("Interest in %d offers noted"), (int)n);

  for (gsize i = 0; i < n; i++)
    {
      const SwInterest *interest = &rows[i].interest;
      g_autoptr (SwDeal) deal = sw_deal_get (catalogue, rows[i].deal, error);
      if (deal == NULL)
        return FALSE;
      sw_slip_row (slip, SW_ROW_INTEREST);
      sw_slip_text (slip, SW_COLUMN_REF, deal->ref);
      sw_slip_instant (slip, SW_COLUMN_AT, now);
      add_count (slip, SW_COLUMN_LOOKS, interest->looks);
      add_count (slip, SW_COLUMN_FOLLOWERS, interest->followers);
      add_count (slip, SW_COLUMN_BIDS, interest->bids);
      sw_slip_money (slip, SW_COLUMN_AMOUNT, interest->has_amount, interest->amount);
    }
  return sw_slip_book (slip, sentence, NULL, error);
}
