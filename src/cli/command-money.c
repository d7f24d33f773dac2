/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands on money: book, takings. */
#include "cli/command.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/trade/book.h"
#include "core/trade/takings.h"

static gboolean book_strict;

static const GOptionEntry book_options[] = {
  { "strict", 0, 0, G_OPTION_ARG_NONE, &book_strict,
    N_ ("Exit 1 on any remark (what was booked stands)"), NULL },
  { NULL },
};

static void
print_booked (SwCall *call, const SwBookReport *report)
{
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_int (builder, "rows", report->rows);
      sw_json_int (builder, "booked", report->booked);
      sw_json_int (builder, "already_there", report->already);
      sw_json_texts (builder, "remarks", report->remarks);
      sw_json_texts (builder, "faults", report->faults);
      json_builder_end_object (builder);
      sw_out_json (builder);
      return;
    }
  for (guint i = 0; report->remarks != NULL && i < report->remarks->len; i++)
    sw_out_line (_ ("Remark: %s"), (char *)g_ptr_array_index (report->remarks, i));
  sw_out_line (_ ("Booked %d of %d rows; %d were booked already."), report->booked, report->rows,
               report->already);
}

static int
run_book (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  g_auto (SwBookReport) report = { 0 };

  if (catalogue == NULL)
    return SW_EXIT_REFUSED;
  if (!sw_book_file (catalogue, call->operands[1], &report, error))
    {
      if (call->json)
        print_booked (call, &report);
      return SW_EXIT_REFUSED;
    }
  print_booked (call, &report);
  if (book_strict && report.remarks != NULL && report.remarks->len > 0)
    return SW_EXIT_REFUSED;
  return SW_EXIT_STANDS;
}

static char *takings_credit, *takings_by;

static const GOptionEntry takings_options[] = {
  { "credit", 0, 0, G_OPTION_ARG_FILENAME, &takings_credit,
    N_ ("What money counts with: the trip that found the item, the day sold, the day handed over"),
    "found|sold|handed-over" },
  { "by", 0, 0, G_OPTION_ARG_FILENAME, &takings_by, N_ ("Rows by"),
    "trip|place|outlet|month|round" },
  { NULL },
};

static void
row_to_json (JsonBuilder *builder, const SwTakingsRow *row)
{
  if (row->key != NULL)
    sw_json_text (builder, "key", row->key);
  sw_json_int (builder, "proceeds", row->proceeds.minor);
  sw_json_int (builder, "fees", row->fees.minor);
  sw_json_int (builder, "takings", row->takings.minor);
  sw_json_int (builder, "costs", row->costs.minor);
  sw_json_int (builder, "owed", row->owed.minor);
}

static void
takings_to_json (const SwTakings *takings)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "rows");
  json_builder_begin_array (builder);
  for (guint i = 0; i < takings->rows->len; i++)
    {
      json_builder_begin_object (builder);
      row_to_json (builder, g_ptr_array_index (takings->rows, i));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "total");
  json_builder_begin_object (builder);
  row_to_json (builder, &takings->total);
  json_builder_end_object (builder);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

/* The contract's keys in words, for people. */
static char *
key_in_words (const SwTakingsRow *row, SwGrouping by)
{
  if (row->key == NULL)
    return g_strdup ("total");
  if (row->trip != 0)
    return g_strdup_printf ("trip %" PRId64, row->trip);
  if (by != SW_BY_TRIP && by != SW_BY_MONTH)
    return g_strdup (row->key);
  if (g_str_equal (row->key, "before"))
    return g_strdup ("before the first trip");
  if (g_str_equal (row->key, "waiting"))
    return g_strdup ("not yet handed over");
  if (by == SW_BY_MONTH)
    return g_strdup (row->key);
  return g_strdup ("no trip");
}

static char **
row_cells (const SwTakingsRow *row, SwGrouping by, SwCurrency currency)
{
  char **cells = g_new0 (char *, 7);

  cells[0] = key_in_words (row, by);
  cells[1] = sw_money_to_plain (row->proceeds, currency);
  cells[2] = sw_money_to_plain (row->fees, currency);
  cells[3] = sw_money_to_plain (row->takings, currency);
  cells[4] = sw_money_to_plain (row->costs, currency);
  cells[5] = sw_money_to_plain (row->owed, currency);
  return cells;
}

static void
print_takings (const SwTakings *takings, SwGrouping by, SwCurrency currency)
{
  static const char *const header[] = { "", "proceeds", "fees", "takings", "costs", "owed", NULL };
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);

  g_ptr_array_add (rows, g_strdupv ((char **)header));
  for (guint i = 0; i < takings->rows->len; i++)
    g_ptr_array_add (rows, row_cells (g_ptr_array_index (takings->rows, i), by, currency));
  g_ptr_array_add (rows, row_cells (&takings->total, by, currency));
  sw_out_table (rows, ~1u);
}

static int
run_takings (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_auto (SwTakings) takings = { 0 };
  SwCredit credit = SW_CREDIT_FOUND;
  SwGrouping by = SW_BY_TRIP;

  if (takings_credit != NULL && !sw_credit_parse (takings_credit, &credit))
    return sw_usage (error, _ ("--credit is found, sold or handed-over, not '%s'."),
                     takings_credit);
  if (takings_by != NULL && !sw_grouping_parse (takings_by, &by))
    return sw_usage (error, _ ("--by is trip, place, outlet, month or round, not '%s'."),
                     takings_by);
  catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  if (catalogue == NULL || !sw_takings_read (catalogue, credit, by, &takings, error))
    return SW_EXIT_REFUSED;
  if (call->json)
    takings_to_json (&takings);
  else
    print_takings (&takings, by, sw_catalogue_currency (catalogue));
  return SW_EXIT_STANDS;
}

const SwCommand sw_money_commands[] = {
  { "book", "CAT FILE.csv", 2, 2,
    N_ ("Book a money table: offers, results, payments, dockets, costs; all or nothing"), NULL,
    run_book, book_options, sw_book_help_text },
  { "takings", "CAT", 1, 1, N_ ("What each trip, place, outlet, month or round raised after fees"),
    N_ ("takings = proceeds - fees; owed is part of proceeds; costs of trips stand beside. All "
        "views\n"
        "have the same total."),
    run_takings, takings_options },
  { NULL },
};
