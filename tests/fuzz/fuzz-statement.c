/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as an outlet's statement, held against books with two sales: refused with a sentence,
 * or rows that each stand once, the matched ones with their sums. Nothing is booked. */
#include "target.h"

#include "core/trade/statement.h"
#include "sw-test-money.h"

static SwTestBed bed;

static void
clean_up (void)
{
  sw_test_bed_clear (&bed);
}

static void
make_books (void)
{
  bed = sw_test_property_new ();
  sw_test_book (bed.catalogue,
                HILL PRESS
                "offer|ref=A2|outlet=Hill Road|item=Ladder|up=2026-04-14|closes=2026-04-26T20:05\n"
                "result|ref=A2|at=2026-04-26T20:05|result=sold|amount=35.00\n",
                NULL);
  atexit (clean_up);
}

static void
judge (const SwStatement *statement)
{
  guint matched = 0;

  for (guint i = 0; i < statement->lines->len; i++)
    {
      const SwStatementLine *line = g_ptr_array_index (statement->lines, i);
      gboolean is_matched
          = line->match == SW_STATEMENT_BY_REFERENCE || line->match == SW_STATEMENT_BY_AMOUNT;

      matched += is_matched;
      if (line->line < 1 || is_matched != (line->deal != 0)
          || (line->has_fees && line->fees.minor < 0))
        abort ();
      for (guint k = 0; is_matched && k < i && k < 50; k++)
        if (((const SwStatementLine *)g_ptr_array_index (statement->lines, k))->deal == line->deal)
          abort ();
    }
  if (matched != statement->matched || statement->differing > statement->lines->len)
    abort ();
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  static const SwStatementColumns columns
      = { { (char *)"Lot", (char *)"Date", (char *)"Hammer", (char *)"Charges" } };
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (SwTable) table = sw_table_read (bytes, NULL);
  g_autoptr (GError) error = NULL;
  g_auto (SwStatement) statement = { 0 };

  if (bed.catalogue == NULL)
    make_books ();
  if (table == NULL)
    return 0;
  if (sw_statement_read (bed.catalogue, "Hill Road", table, &columns, &statement, &error)
      != (error == NULL))
    abort ();
  if (error == NULL)
    judge (&statement);
  return 0;
}
