/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes takings as a sheet and as a table. Adds nothing up: every figure is core/trade's. */
#include "core/handout/takings-sheet.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/table.h"
#include "core/base/text.h"
#include "core/catalogue/trips.h"
#include "core/handout/paper.h"
#include "core/trade/account.h"
#include "core/trade/against-scrap.h"

enum
{
  COL_KEY,
  COL_PROCEEDS,
  COL_FEES,
  COL_TAKINGS,
  COL_RUNNING,
  COL_COSTS,
  COL_OWED,
  N_COLS
};

static const char *const group_headings[SW_N_GROUPINGS] = {
  [SW_BY_TRIP] = N_ ("Trip"),   [SW_BY_PLACE] = N_ ("Place"), [SW_BY_OUTLET] = N_ ("Outlet"),
  [SW_BY_MONTH] = N_ ("Month"), [SW_BY_ROUND] = N_ ("Round"),
};
static const char *const headings[N_COLS] = {
  "",         N_ ("Proceeds"), N_ ("Fees"), N_ ("Takings"), N_ ("Running total"), N_ ("Trip costs"),
  N_ ("Owed")
};

static const char *const credit_sentences[SW_N_CREDITS] = {
  N_ ("All money of an item counts with the trip that found it."),
  N_ ("Money counts with the trip during or after which the item was sold."),
  N_ ("Money counts with the trip during or after which the item was collected."),
};

/* What the view credits, in one plain sentence. Static. */
static const char *
credit_sentence (SwCredit credit)
{
  g_return_val_if_fail (credit >= 0 && credit < SW_N_CREDITS, "");
  return _ (credit_sentences[credit]);
}

/* "Trip 2, Winter", "Before the first trip"; else the key itself. Transfer full. */
static char *
row_name (const GPtrArray *trips, const SwTakingsRow *row, SwGrouping grouping)
{
  if (row->key == NULL)
    return g_strdup (_ ("Total"));
  for (guint i = 0; row->trip != 0 && i < trips->len; i++)
    {
      const SwTrip *trip = g_ptr_array_index (trips, i);
      if (trip->id == row->trip)
        return g_strdup_printf (_ ("Trip %" PRId64 ", %s"), trip->id, trip->title);
    }
  if (strcmp (row->key, "before") == 0)
    return g_strdup (_ ("Before the first trip"));
  if (strcmp (row->key, "waiting") == 0)
    return g_strdup (_ ("Not yet handed over"));
  return strcmp (row->key, "none") == 0 ? g_strdup (_ (sw_grouping_none (grouping)))
                                        : g_strdup (row->key);
}

/* A table has plain figures, a sheet is for people. */
typedef char *(*MoneyText) (SwMoney amount, SwCurrency currency);

static char **
cells_of (const char *name, const SwTakingsRow *row, SwCurrency currency, MoneyText text)
{
  char **cells = g_new0 (char *, N_COLS + 1);
  cells[COL_KEY] = g_strdup (name);
  cells[COL_PROCEEDS] = text (row->proceeds, currency);
  cells[COL_FEES] = text (row->fees, currency);
  cells[COL_TAKINGS] = text (row->takings, currency);
  cells[COL_RUNNING] = text (row->running, currency);
  cells[COL_COSTS] = text (row->costs, currency);
  cells[COL_OWED] = text (row->owed, currency);
  return cells;
}

static GPtrArray *
rows_of (SwCatalogue *catalogue, const SwTakings *takings, SwGrouping grouping, MoneyText text,
         GError **error)
{
  SwCurrency currency = sw_catalogue_currency (catalogue);
  g_autoptr (GPtrArray) trips = sw_trip_list (catalogue, error);
  if (trips == NULL)
    return NULL;
  GPtrArray *rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);
  char **head = g_new0 (char *, N_COLS + 1);
  head[COL_KEY] = g_strdup (_ (group_headings[grouping]));
  for (int i = COL_KEY + 1; i < N_COLS; i++)
    head[i] = g_strdup (_ (headings[i]));
  g_ptr_array_add (rows, head);
  for (guint i = 0; i <= takings->rows->len; i++)
    {
      const SwTakingsRow *row
          = i < takings->rows->len ? g_ptr_array_index (takings->rows, i) : &takings->total;
      g_autofree char *name = row_name (trips, row, grouping);
      g_ptr_array_add (rows, cells_of (name, row, currency, text));
    }
  return rows;
}

/* --- the table --- */

static GBytes *
csv_of (const GPtrArray *rows)
{
  GString *csv = g_string_new (NULL);
  for (guint i = 0; i < rows->len; i++)
    {
      char **cells = g_ptr_array_index (rows, i);
      for (int c = 0; c < N_COLS; c++)
        {
          if (c > 0)
            g_string_append_c (csv, ',');
          /* names are words of people; figures may be below zero */
          sw_table_append_cell (csv, cells[c], c == COL_KEY);
        }
      g_string_append (csv, "\r\n");
    }
  return g_string_free_to_bytes (csv);
}

/* --- the sheet --- */

static void
add_account_row (GPtrArray *rows, const SwAccountRow *row, SwCurrency currency)
{
  const SwMoney sums[]
      = { row->part, row->costs_paid, row->advances, row->taken, row->payouts, row->due };
  char **cells = g_new0 (char *, 2 + G_N_ELEMENTS (sums) + 1);
  g_autofree char *percent = sw_share_to_text (row->share);
  cells[0] = g_strdup (row->person);
  cells[1] = g_strdup_printf ("%s %%", percent);
  for (guint i = 0; i < G_N_ELEMENTS (sums); i++)
    cells[2 + i] = sw_money_to_person (sums[i], currency);
  g_ptr_array_add (rows, cells);
}

/* Who pays whom, so that everybody has what is due. */
static void
add_transfers (SwPaper *paper, const SwAccount *account, SwCurrency currency)
{
  for (guint i = 0; i < account->transfers->len; i++)
    {
      const SwTransfer *transfer = g_ptr_array_index (account->transfers, i);
      g_autofree char *money = sw_money_to_person (transfer->amount, currency);
      g_autofree char *line = g_strdup_printf (
          _ ("%s pays %s %s %s."),
          transfer->from != NULL ? transfer->from : _ ("The family's till"),
          transfer->to != NULL ? transfer->to : _ ("the family's till"), money, currency.code);
      sw_paper_line (paper, line);
    }
  if (account->transfers->len == 0)
    sw_paper_line (paper, _ ("Nobody owes anybody anything."));
}

/* Nothing while nobody has a share yet, or they are not whole: the sheet is about the takings then.
 */
static gboolean
add_account (SwPaper *paper, SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GError) why = NULL;
  const char *const head[] = { _ ("Person"),     _ ("Share"),     _ ("Part"),
                               _ ("Costs paid"), _ ("Advances"),  _ ("Taken"),
                               _ ("Paid out"),   _ ("Still due"), NULL };
  g_auto (SwAccount) account = { 0 };
  SwCurrency currency = sw_catalogue_currency (catalogue);
  if (!sw_account_read (catalogue, &account, &why))
    {
      if (g_error_matches (why, SW_ERROR, SW_ERROR_REFUSED))
        return TRUE;
      g_propagate_error (error, g_steal_pointer (&why));
      return FALSE;
    }
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);
  g_ptr_array_add (rows, g_strdupv ((char **)head));
  for (guint i = 0; i < account.rows->len; i++)
    add_account_row (rows, g_ptr_array_index (account.rows, i), currency);
  g_autofree char *to_share = sw_money_to_person (account.to_share, currency);
  g_autofree char *line
      = g_strdup_printf (_ ("To share: %s %s (takings less trip costs, with things taken at their "
                            "agreed value)."),
                         to_share, currency.code);
  g_autofree char *final = sw_account_final_words (&account, currency);
  sw_paper_gap (paper);
  sw_paper_heading (paper, _ ("Shares"));
  sw_paper_line (paper, line);
  sw_paper_line (paper, final);
  sw_paper_table (paper, (char **const *)rows->pdata, rows->len, G_N_ELEMENTS (head) - 1, 0xfe,
                  FALSE);
  add_transfers (paper, &account, currency);
  return TRUE;
}

/* Nothing where no scrap value is known. */
static gboolean
add_against_scrap (SwPaper *paper, SwCatalogue *catalogue, GError **error)
{
  SwAgainstScrap sums;
  SwCurrency currency = sw_catalogue_currency (catalogue);
  if (!sw_against_scrap_read (catalogue, &sums, error))
    return FALSE;
  g_autofree char *raised = sw_money_to_person (sums.raised, currency);
  g_autofree char *scrap = sw_money_to_person (sums.scrap, currency);
  g_autofree char *line
      = g_strdup_printf (_ ("Of what was sold, %u things have a known scrap value: "
                            "they raised %s %s after fees; as scrap "
                            "alone they would have brought %s."),
                         sums.things, raised, currency.code, scrap);
  if (sums.things > 0)
    sw_paper_line (paper, line);
  return TRUE;
}

static SwPaper *
sheet_of (SwCatalogue *catalogue, const SwTakings *takings, SwCredit credit, const GPtrArray *rows,
          GError **error)
{
  SwCurrency currency = sw_catalogue_currency (catalogue);
  const char *name = sw_catalogue_name (catalogue);
  SwDay today = sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));
  g_autofree char *day = sw_day_to_person (today);
  g_autofree char *total = sw_money_to_person (takings->total.takings, currency);
  g_autofree char *costs = sw_money_to_person (takings->total.costs, currency);
  g_autofree char *owed = sw_money_to_person (takings->total.owed, currency);
  g_autofree char *title = g_strdup_printf (_ ("%s: what was raised, as of %s"), name, day);
  g_autofree char *sum = g_strdup_printf (_ ("Raised after fees: %s %s. Of this buyers still owe "
                                             "%s. Trips cost %s; that is not taken off "
                                             "here."),
                                          total, currency.code, owed, costs);
  g_autoptr (SwPaper) paper = sw_paper_new (title);
  sw_paper_heading (paper, title);
  sw_paper_line (paper, sum);
  sw_paper_line (paper, credit_sentence (credit));
  sw_paper_gap (paper);
  sw_paper_table (paper, (char **const *)rows->pdata, rows->len, N_COLS, ~1u, TRUE);
  sw_paper_line (paper,
                 _ ("Proceeds are prices with the delivery money that buyers paid; takings are "
                    "proceeds less the fees of the outlets."));
  if (!add_against_scrap (paper, catalogue, error) || !add_account (paper, catalogue, error))
    return NULL;
  return g_steal_pointer (&paper);
}

SwPaper *
sw_takings_sheet_new (SwCatalogue *catalogue, SwCredit credit, SwGrouping grouping, GError **error)
{
  g_auto (SwTakings) takings = { 0 };
  if (!sw_takings_read (catalogue, credit, grouping, &takings, error))
    return NULL;
  g_autoptr (GPtrArray) rows = rows_of (catalogue, &takings, grouping, sw_money_to_person, error);
  return rows != NULL ? sheet_of (catalogue, &takings, credit, rows, error) : NULL;
}

static GBytes *
table_of (SwCatalogue *catalogue, SwCredit credit, SwGrouping grouping, GError **error)
{
  g_auto (SwTakings) takings = { 0 };
  if (!sw_takings_read (catalogue, credit, grouping, &takings, error))
    return NULL;
  g_autoptr (GPtrArray) rows = rows_of (catalogue, &takings, grouping, sw_money_to_plain, error);
  return rows != NULL ? csv_of (rows) : NULL;
}

gboolean
sw_takings_hand_out (SwCatalogue *catalogue, SwCredit credit, SwGrouping grouping, const char *path,
                     int *out_pages, GError **error)
{
  int pages = 0;
  gboolean table = g_str_has_suffix (path, ".csv");
  g_autoptr (SwPaper) paper
      = table ? NULL : sw_takings_sheet_new (catalogue, credit, grouping, error);
  if (!table && paper == NULL)
    return FALSE;
  g_autoptr (GBytes) bytes
      = table ? table_of (catalogue, credit, grouping, error) : sw_paper_pdf (paper, &pages, error);
  if (bytes == NULL
      || !sw_paper_write_file (path, table ? ".csv" : ".pdf", bytes, _ ("The takings"), error))
    return FALSE;
  if (out_pages != NULL)
    *out_pages = pages;
  return TRUE;
}
