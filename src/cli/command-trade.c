/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands on what core/trade works out beside the takings: the family's account, rounds,
 * an outlet's statement, the outlook of an item. */
#include <string.h>

#include "cli/command.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/offer-notes.h"
#include "core/trade/account.h"
#include "core/trade/outlook.h"
#include "core/trade/rounds.h"
#include "core/trade/statement.h"

/* ---- share, account ---- */

static int
run_share (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  gint64 part;

  if (!sw_share_parse (call->operands[2], &part, error))
    return SW_EXIT_REFUSED;
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL || !sw_share_set (catalogue, call->operands[1], part, error))
    return SW_EXIT_REFUSED;
  g_autofree char *percent = sw_share_to_text (part);
  if (!call->json)
    sw_out_line (_ ("%s has a share of %s %%."), call->operands[1], percent);
  return SW_EXIT_STANDS;
}

static void
account_row_to_json (JsonBuilder *builder, const SwAccountRow *row)
{
  g_autofree char *percent = sw_share_to_text (row->share);

  json_builder_begin_object (builder);
  sw_json_text (builder, "person", row->person);
  sw_json_text (builder, "percent", percent);
  sw_json_int (builder, "part", row->part.minor);
  sw_json_int (builder, "costs_paid", row->costs_paid.minor);
  sw_json_int (builder, "advances", row->advances.minor);
  sw_json_int (builder, "payouts", row->payouts.minor);
  sw_json_int (builder, "taken", row->taken.minor);
  sw_json_int (builder, "due", row->due.minor);
  sw_json_int (builder, "holds", row->holds.minor);
  json_builder_end_object (builder);
}

static void
account_to_json (const SwAccount *account)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  sw_json_int (builder, "to_share", account->to_share.minor);
  sw_json_int (builder, "takings", account->takings.minor);
  sw_json_int (builder, "costs", account->costs.minor);
  sw_json_int (builder, "taken", account->taken.minor);
  json_builder_set_member_name (builder, "rows");
  json_builder_begin_array (builder);
  for (guint i = 0; i < account->rows->len; i++)
    account_row_to_json (builder, g_ptr_array_index (account->rows, i));
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "transfers");
  json_builder_begin_array (builder);
  for (guint i = 0; i < account->transfers->len; i++)
    {
      const SwTransfer *transfer = g_ptr_array_index (account->transfers, i);
      json_builder_begin_object (builder);
      sw_json_text (builder, "from", transfer->from);
      sw_json_text (builder, "to", transfer->to);
      sw_json_int (builder, "amount", transfer->amount.minor);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

static char **
account_cells (const SwAccountRow *row, SwCurrency currency)
{
  char **cells = g_new0 (char *, 9);

  cells[0] = g_strdup (row->person);
  cells[1] = sw_share_to_text (row->share);
  cells[2] = sw_money_to_plain (row->part, currency);
  cells[3] = sw_money_to_plain (row->costs_paid, currency);
  cells[4] = sw_money_to_plain (row->advances, currency);
  cells[5] = sw_money_to_plain (row->payouts, currency);
  cells[6] = sw_money_to_plain (row->taken, currency);
  cells[7] = sw_money_to_plain (row->due, currency);
  return cells;
}

static void
print_account (const SwAccount *account, SwCurrency currency)
{
  static const char *const header[]
      = { "", "percent", "part", "costs paid", "advances", "payouts", "taken", "due", NULL };
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);

  g_ptr_array_add (rows, g_strdupv ((char **)header));
  for (guint i = 0; i < account->rows->len; i++)
    g_ptr_array_add (rows, account_cells (g_ptr_array_index (account->rows, i), currency));
  sw_out_table (rows, ~1u);
  for (guint i = 0; i < account->transfers->len; i++)
    {
      const SwTransfer *transfer = g_ptr_array_index (account->transfers, i);
      g_autofree char *amount = sw_money_to_plain (transfer->amount, currency);
      sw_out_line (_ ("%s pays %s %s."), transfer->from != NULL ? transfer->from : _ ("The till"),
                   transfer->to != NULL ? transfer->to : _ ("the till"), amount);
    }
}

static int
run_account (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  g_auto (SwAccount) account = { 0 };

  if (catalogue == NULL || !sw_account_read (catalogue, &account, error))
    return SW_EXIT_REFUSED;
  if (call->json)
    account_to_json (&account);
  else
    print_account (&account, sw_catalogue_currency (catalogue));
  return SW_EXIT_STANDS;
}

/* ---- account entry ---- */

static char *entry_day, *entry_remark;

static const GOptionEntry entry_options[] = {
  { "day", 0, 0, G_OPTION_ARG_FILENAME, &entry_day, N_ ("The day it counts for (today)"),
    "YYYY-MM-DD" },
  { "remark", 0, 0, G_OPTION_ARG_FILENAME, &entry_remark, N_ ("What it was"), "TEXT" },
  { NULL },
};

static gboolean
parse_family_kind (const char *word, SwFamilyKind *out_kind, GError **error)
{
  for (int i = 0; i < SW_N_FAMILY_KINDS; i++)
    if (strcmp (sw_family_kind_word ((SwFamilyKind)i), word) == 0)
      {
        *out_kind = (SwFamilyKind)i;
        return TRUE;
      }
  sw_usage (error, _ ("KIND is advance, cost, taken, payout or holds, not '%s'."), word);
  return FALSE;
}

static int
run_account_entry (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  SwFamilyEntry entry = { .person = call->operands[2], .remark = entry_remark };

  if (entry.remark == NULL)
    entry.remark = (char *)"";
  if (!parse_family_kind (call->operands[1], &entry.kind, error))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL || !sw_call_day (catalogue, entry_day, &entry.day, error)
      || !sw_money_parse_plain (call->operands[3], sw_catalogue_currency (catalogue), FALSE,
                                &entry.amount, error)
      || !sw_family_entry_add (catalogue, &entry, &entry.id, error))
    return SW_EXIT_REFUSED;
  if (!call->json)
    sw_out_line (_ ("Entered: %s, %s %s."), entry.person, sw_family_kind_word (entry.kind),
                 call->operands[3]);
  return SW_EXIT_STANDS;
}

/* ---- round, rounds ---- */

static gboolean
join_round (SwCatalogue *catalogue, const char *ref, const char *title, GError **error)
{
  g_autoptr (SwDeal) deal = NULL;

  if (!sw_deal_find (catalogue, ref, &deal, error))
    return FALSE;
  if (deal != NULL && deal->kind == SW_DEAL_OFFER)
    return sw_offer_into_round (catalogue, deal->id, title, error);
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no offer '%s'."), ref);
  return FALSE;
}

static int
run_round (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  const char *title = call->operands[1];
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence = g_strdup_printf (_ ("Offers put up together: %s"), title);
  gint64 round = 0;

  if (catalogue == NULL || !sw_act_begin (&act, catalogue, error)
      || !sw_round_ensure (catalogue, title, &round, error))
    return SW_EXIT_REFUSED;
  for (int i = 2; i < call->n_operands; i++)
    if (!join_round (catalogue, call->operands[i], title, error))
      return SW_EXIT_REFUSED;
  if (!sw_act_commit (&act, sentence, error))
    return SW_EXIT_REFUSED;
  if (!call->json)
    sw_out_line (_ ("%d offers are of the round %s."), call->n_operands - 2, title);
  return SW_EXIT_STANDS;
}

static void
rounds_to_json (const GPtrArray *rounds)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_array (builder);
  for (guint i = 0; i < rounds->len; i++)
    {
      const SwRoundSum *round = g_ptr_array_index (rounds, i);
      json_builder_begin_object (builder);
      sw_json_text (builder, "round", round->title);
      sw_json_int (builder, "offered", round->offered);
      sw_json_int (builder, "sold", round->sold);
      sw_json_int (builder, "no_sale", round->no_sale);
      sw_json_int (builder, "withdrawn", round->withdrawn);
      sw_json_int (builder, "running", round->running);
      sw_json_int (builder, "proceeds", round->proceeds.minor);
      sw_json_int (builder, "fees", round->fees.minor);
      sw_json_int (builder, "takings", round->takings.minor);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  sw_out_json (builder);
}

static char **
round_cells (const SwRoundSum *round, SwCurrency currency)
{
  char **cells = g_new0 (char *, 7);

  cells[0] = g_strdup (round->title);
  cells[1] = g_strdup_printf ("%u", round->offered);
  cells[2] = g_strdup_printf ("%u", round->sold);
  cells[3] = sw_money_to_plain (round->proceeds, currency);
  cells[4] = sw_money_to_plain (round->fees, currency);
  cells[5] = sw_money_to_plain (round->takings, currency);
  return cells;
}

static int
run_rounds (SwCall *call, GError **error)
{
  static const char *const header[]
      = { "", "offered", "sold", "proceeds", "fees", "takings", NULL };
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  g_autoptr (GPtrArray) rounds = catalogue != NULL ? sw_round_sums (catalogue, error) : NULL;
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);

  if (rounds == NULL)
    return SW_EXIT_REFUSED;
  g_ptr_array_add (rows, g_strdupv ((char **)header));
  for (guint i = 0; i < rounds->len; i++)
    g_ptr_array_add (
        rows, round_cells (g_ptr_array_index (rounds, i), sw_catalogue_currency (catalogue)));
  if (call->json)
    rounds_to_json (rounds);
  else
    sw_out_table (rows, ~1u);
  return SW_EXIT_STANDS;
}

/* ---- statement ---- */

static char *column_options[SW_N_STATEMENT_FIELDS];
static gboolean statement_book;

static const GOptionEntry statement_options[] = {
  { "reference", 0, 0, G_OPTION_ARG_FILENAME, &column_options[SW_STATEMENT_REFERENCE],
    N_ ("The column of the outlet's reference"), "HEADING" },
  { "day", 0, 0, G_OPTION_ARG_FILENAME, &column_options[SW_STATEMENT_DAY],
    N_ ("The column of the day"), "HEADING" },
  { "price", 0, 0, G_OPTION_ARG_FILENAME, &column_options[SW_STATEMENT_PRICE],
    N_ ("The column of the price"), "HEADING" },
  { "fees", 0, 0, G_OPTION_ARG_FILENAME, &column_options[SW_STATEMENT_FEES],
    N_ ("The column of the fees"), "HEADING" },
  { "book", 0, 0, G_OPTION_ARG_NONE, &statement_book,
    N_ ("Enter fees as charged, and what was owed as paid"), NULL },
  { NULL },
};

/* What was given now, and what was remembered of the outlet for the rest. */
static gboolean
columns_for (SwCatalogue *catalogue, const char *outlet, SwStatementColumns *out_columns,
             GError **error)
{
  g_autoptr (SwOutlet) known = NULL;
  SwStatementColumns given = { { NULL } };
  gboolean any = FALSE;

  if (!sw_outlet_find (catalogue, outlet, &known, error))
    return FALSE;
  if (known == NULL)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no outlet '%s'."), outlet);
      return FALSE;
    }
  for (int i = 0; i < SW_N_STATEMENT_FIELDS; i++)
    {
      given.heading[i] = column_options[i];
      any = any || given.heading[i] != NULL;
    }
  return (!any || sw_statement_columns_keep (catalogue, known->id, &given, error))
         && sw_statement_columns_get (catalogue, known->id, out_columns, error);
}

static void
print_statement (const SwStatement *statement, SwCurrency currency)
{
  g_autofree char *price = sw_money_to_plain (statement->price, currency);
  g_autofree char *booked = sw_money_to_plain (statement->booked_price, currency);
  g_autofree char *fees = sw_money_to_plain (statement->fees, currency);
  g_autofree char *booked_fees = sw_money_to_plain (statement->booked_fees, currency);

  for (guint i = 0; i < statement->lines->len; i++)
    {
      const SwStatementLine *line = g_ptr_array_index (statement->lines, i);
      if (line->says != NULL)
        sw_out_line (_ ("line %d%s%s: %s"), line->line, *line->reference != '\0' ? " " : "",
                     line->reference, line->says);
    }
  for (guint i = 0; i < statement->missing->len; i++)
    sw_out_line (_ ("Not listed: %s"), (char *)g_ptr_array_index (statement->missing, i));
  sw_out_line (_ ("%u of %u rows matched; sold for %s (books %s), fees %s (books %s)."),
               statement->matched, statement->lines->len, price, booked, fees, booked_fees);
}

static void
statement_to_json (const SwStatement *statement, guint entered)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  sw_json_int (builder, "rows", statement->lines->len);
  sw_json_int (builder, "matched", statement->matched);
  sw_json_int (builder, "differing", statement->differing);
  sw_json_int (builder, "entered", entered);
  sw_json_int (builder, "price", statement->price.minor);
  sw_json_int (builder, "booked_price", statement->booked_price.minor);
  sw_json_int (builder, "fees", statement->fees.minor);
  sw_json_int (builder, "booked_fees", statement->booked_fees.minor);
  sw_json_texts (builder, "missing", statement->missing);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

static int
run_statement (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  g_autoptr (SwTable) table
      = catalogue != NULL ? sw_table_read_file (call->operands[2], error) : NULL;
  g_auto (SwStatementColumns) columns = { { NULL } };
  g_auto (SwStatement) statement = { 0 };
  guint entered = 0;

  if (table == NULL || !columns_for (catalogue, call->operands[1], &columns, error)
      || !sw_statement_read (catalogue, call->operands[1], table, &columns, &statement, error)
      || (statement_book && !sw_statement_book (catalogue, &statement, &entered, error)))
    return SW_EXIT_REFUSED;
  if (call->json)
    statement_to_json (&statement, entered);
  else
    print_statement (&statement, sw_catalogue_currency (catalogue));
  if (!call->json && statement_book)
    sw_out_line (_ ("%u sales settled."), entered);
  return SW_EXIT_STANDS;
}

/* ---- outlook ---- */

static void
outlook_to_json (const GPtrArray *outlooks)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_array (builder);
  for (guint i = 0; i < outlooks->len; i++)
    {
      const SwOutlook *outlook = g_ptr_array_index (outlooks, i);
      json_builder_begin_object (builder);
      sw_json_text (builder, "outlet", outlook->name);
      sw_json_int (builder, "cases", outlook->cases);
      sw_json_int (builder, "sold", outlook->sold);
      sw_json_double_or_null (builder, "chance", TRUE, outlook->chance);
      sw_json_double_or_null (builder, "low", TRUE, outlook->low);
      sw_json_double_or_null (builder, "high", TRUE, outlook->high);
      sw_json_int_or_null (builder, "price", outlook->has_money, outlook->price.minor);
      sw_json_int_or_null (builder, "fees", outlook->has_money, outlook->fees.minor);
      sw_json_int_or_null (builder, "expected", outlook->has_money, outlook->expected.minor);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  sw_out_json (builder);
}

static void
print_outlook (const SwOutlook *outlook, SwCurrency currency)
{
  g_autofree char *price = sw_money_to_plain (outlook->price, currency);
  g_autofree char *fees = sw_money_to_plain (outlook->fees, currency);
  g_autofree char *expected = sw_money_to_plain (outlook->expected, currency);
  g_autofree char *money = outlook->has_money
                               ? g_strdup_printf (_ ("; likely %s less fees of %s, %s over all"),
                                                  price, fees, expected)
                               : g_strdup (_ ("; no price asked"));

  sw_out_line (_ ("%s: sells with %.0f %% (%.0f to %.0f %%), %d of %d sold%s%s."), outlook->name,
               100 * outlook->chance, 100 * outlook->low, 100 * outlook->high, outlook->sold,
               outlook->cases, outlook->few ? _ (", too few to tell") : "", money);
}

static int
run_outlook (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  g_autoptr (SwItem) item
      = catalogue != NULL ? sw_item_find (catalogue, call->operands[1], error) : NULL;
  g_autoptr (SwOutlookBook) book = item != NULL ? sw_outlook_learn (catalogue, error) : NULL;
  g_autoptr (GPtrArray) outlooks = book != NULL ? sw_outlook_of (book, item, error) : NULL;

  if (outlooks == NULL)
    return SW_EXIT_REFUSED;
  if (call->json)
    outlook_to_json (outlooks);
  for (guint i = 0; !call->json && i < outlooks->len; i++)
    print_outlook (g_ptr_array_index (outlooks, i), sw_catalogue_currency (catalogue));
  if (!call->json && outlooks->len == 0)
    sw_out_line (_ ("There is no outlet yet that sells."));
  return SW_EXIT_STANDS;
}

const SwCommand sw_trade_commands[] = {
  { "share", "CAT PERSON PERCENT", 3, 3, N_ ("Say which part of the takings a person gets"),
    N_ ("Shares add up to 100 %; at most four decimals. 0 takes it away."), run_share, NULL },
  { "account", "CAT", 1, 1, N_ ("What each person is due of the takings, and who pays whom"),
    N_ ("to share = takings - costs + agreed values of things taken; due = part + costs paid -\n"
        "advances - payouts - things taken."),
    run_account, NULL },
  { "account entry", "CAT KIND PERSON MONEY", 4, 4,
    N_ ("Enter what a person got, paid or holds: advance, cost, taken, payout or holds"),
    N_ ("advance: got before a division; cost: paid from the own pocket; taken: a thing at its "
        "agreed\n"
        "value; payout: got at a division; holds: the family's cash in hand."),
    run_account_entry, entry_options },
  { "round", "CAT TITLE REF...", 3, -1, N_ ("Say which offers were put up together"), NULL,
    run_round, NULL },
  { "rounds", "CAT", 1, 1,
    N_ ("Rounds of offers side by side: offered, sold, before and after fees"), NULL, run_rounds,
    NULL },
  { "statement", "CAT OUTLET FILE.csv", 3, 3, N_ ("Hold an outlet's statement against the books"),
    N_ ("Rows are matched by reference, else by price and day. The headings given are remembered "
        "for\n"
        "the outlet. With --book fees that differ are entered as charged; nothing is entered "
        "twice.\n"
        "Example: shedwalk statement CAT 'Hill Road' may.csv --reference Lot --price Hammer --fees "
        "Charges"),
    run_statement, statement_options },
  { "outlook", "CAT ITEM", 2, 2, N_ ("How likely an item sells, and for how much, by outlet"),
    N_ ("From the ended offers of this catalogue; it shows its figures and decides nothing."),
    run_outlook, NULL },
  { NULL },
};
