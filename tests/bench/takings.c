/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CPU time of the takings over many sales, beside SQLite's bare sum of the same postings, and how
 * long a large table takes to book. Prints; judges nothing. Run by hand: takings [SALES [ROWS]]. */
#include "../unit/sw-test-money.h"

#include <time.h>

#define ROUNDS 5

/* Of this process's own work: other programs on the machine do not count. */
static gint64
cpu_us (void)
{
  struct timespec now;
  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return (gint64)now.tv_sec * 1000000 + now.tv_nsec / 1000;
}

static double
milliseconds (gint64 since_us)
{
  return (double)(cpu_us () - since_us) / 1000.0;
}

/* Items over four places and three trips, one sale each with price, fee and debt posted, half of
 * them collected. */
static void
fill (SwCatalogue *catalogue, int sales)
{
  static const char *const statements[] = {
    "INSERT INTO outlet (name, rounding) VALUES ('Hill Road', 'half-up'), ('Shop', 'half-even')",
    "INSERT INTO item (name, place, trip, added_us)"
    " WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < %d)"
    " SELECT 'Thing ' || i, 1 + i %% 3, 1 + i %% 2, 0 FROM n",
    "INSERT INTO deal (ref, kind, outlet, up_day, result, ended_day, ended_us, amount, "
    "collected_day)"
    " SELECT 'S' || id, 'sale', nullif (id %% 3, 0), 20500 + id %% 90, 'sold', 20500 + id %% 90, "
    "0, id %% 5000,"
    " CASE id %% 2 WHEN 0 THEN 20530 + id %% 90 END FROM item LIMIT %d",
    "INSERT INTO posting (deal, item, kind, day, minor)"
    " SELECT id, id, 0, ended_day, amount + 1 FROM deal LIMIT %d",
    "INSERT INTO posting (deal, item, kind, charge, day, minor)"
    " SELECT id, id, 3, 'commission', ended_day, 150 FROM deal LIMIT %d",
    "INSERT INTO posting (deal, item, kind, day, minor)"
    " SELECT id, id, 4, ended_day, amount + 1 FROM deal LIMIT %d",
  };
  g_autoptr (GError) error = NULL;
  g_auto (SwAct) act = SW_ACT_INIT;
  sw_act_begin_plain (&act, catalogue, &error);
  assert_no_error (error);
  for (gsize i = 0; i < G_N_ELEMENTS (statements); i++)
    {
      g_autoptr (GString) sql = g_string_new (statements[i]);
      g_autofree char *number = g_strdup_printf ("%d", sales);
      g_string_replace (sql, "%d", number, 0);
      g_string_replace (sql, "%%", "%", 0);
      sw_test_exec (catalogue, sql->str);
    }
  sw_act_commit (&act, "Filled", &error);
  assert_no_error (error);
}

static void
time_takings (SwCatalogue *catalogue)
{
  for (int credit = 0; credit < SW_N_CREDITS; credit++)
    for (int by = 0; by < SW_N_GROUPINGS; by++)
      {
        double best = G_MAXDOUBLE;
        for (int i = 0; i < ROUNDS; i++)
          {
            g_auto (SwTakings) takings = { 0 };
            gint64 start = cpu_us ();
            assert_true (
                sw_takings_read (catalogue, (SwCredit)credit, (SwGrouping)by, &takings, NULL));
            best = MIN (best, milliseconds (start));
          }
        g_print ("takings --credit %s --by %s: %.1f ms\n", sw_credit_word ((SwCredit)credit),
                 sw_grouping_word ((SwGrouping)by), best);
      }
}

static void
time_sum (SwCatalogue *catalogue)
{
  double best = G_MAXDOUBLE;
  for (int i = 0; i < ROUNDS; i++)
    {
      gint64 start = cpu_us ();
      sw_test_ask (catalogue, "SELECT sum (minor) FROM posting");
      best = MIN (best, milliseconds (start));
    }
  g_print ("bare SQL sum of all postings: %.1f ms\n", best);
}

static void
time_book (SwCatalogue *catalogue, int rows)
{
  g_autoptr (GString) csv = g_string_new ("what,ref,outlet,item,at,amount\n");
  for (int i = 1; i <= rows; i++)
    g_string_append_printf (csv, "sale,B%d,Shop,%d,2026-05-%02d,%d.50\n", i, i, 1 + i % 28,
                            i % 900);
  g_autoptr (GBytes) bytes = g_bytes_new (csv->str, csv->len);
  g_autoptr (GError) error = NULL;
  gint64 start = cpu_us ();
  sw_book_bytes (catalogue, bytes, "bench", NULL, &error);
  assert_no_error (error);
  g_print ("book %d sales: %.0f ms\n", rows, milliseconds (start));
}

int
main (int argc, char **argv)
{
  int sales = argc > 1 ? atoi (argv[1]) : 100000;
  int rows = argc > 2 ? atoi (argv[2]) : 5000;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  fill (bed.catalogue, sales);
  g_print ("%d sales, %d postings\n", sales,
           (int)sw_test_ask (bed.catalogue, "SELECT count (*) FROM posting"));
  time_sum (bed.catalogue);
  time_takings (bed.catalogue);
  time_book (bed.catalogue, rows);
  sw_test_property_end ();
  return 0;
}
