/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CPU time of every view of the takings over many sales, each beside stepping the rows that it is
 * made of once, in the same run: the postings, items and deals, with their columns read and nothing
 * done. A view is to cost no more than twice that; says which does not. Then how long a large table
 * takes to book. Run by hand: takings-speed [SALES [ROWS]]. */
#include "../unit/sw-test-money.h"

#include "core/catalogue/deals.h"
#include "core/catalogue/postings.h"
#include "core/trade/against-scrap.h"
#include "core/trade/rounds.h"

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
    "UPDATE item SET scrap_class = 'iron', mass_ug = 1000000000 * (1 + id %% 90)"
    " WHERE id %% 3 > 0",
    "INSERT INTO yard_rate (outlet, class, from_day, rate) VALUES (1, 'iron', 20000, 18750)",
    "INSERT INTO round (title, made_us) VALUES ('Spring', 0), ('Open day', 0)",
    "INSERT INTO deal (ref, kind, outlet, up_day, result, ended_day, ended_us, amount, "
    "collected_day, round)"
    " SELECT 'S' || id, 'offer', nullif (id %% 3, 0), 20500 + id %% 90, 'sold', 20500 + id %% 90, "
    "0, id %% 5000,"
    " CASE id %% 2 WHEN 0 THEN 20530 + id %% 90 END, nullif (id %% 3, 0) FROM item LIMIT %d",
    "INSERT INTO deal_item (deal, item, before) SELECT id, id, 'ready' FROM deal LIMIT %d",
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

/* --- what the views are held against --- */

static void
look_at (const SwPosting *posting, gpointer data)
{
  *(gint64 *)data += posting->minor;
}

static void
step_rows (SwCatalogue *catalogue)
{
  gint64 sum = 0;
  assert_true (sw_posting_each (catalogue, look_at, &sum, NULL));
  g_autoptr (GArray) items = sw_credit_items (catalogue, NULL);
  g_autoptr (GArray) deals = sw_credit_deals (catalogue, NULL);
  assert_true (items != NULL && deals != NULL);
}

/* What a list of deals is made of besides: refs, and names of items. */
static void
step_labels (SwCatalogue *catalogue)
{
  gint64 none = G_MAXINT64;
  g_autoptr (GArray) deals = g_array_new (FALSE, FALSE, sizeof none);
  g_array_append_val (deals, none);
  g_autoptr (GPtrArray) labels = sw_deal_labels (catalogue, deals, NULL);
  assert_null (labels);
}

typedef void (*Work) (SwCatalogue *catalogue, gpointer data);

/* The best of some rounds, in which the rows are stepped before each time: so both are measured
 * under the same load. */
static void
time_beside (SwCatalogue *catalogue, const char *what, gboolean lists, Work work, gpointer data)
{
  double best = G_MAXDOUBLE, rows = G_MAXDOUBLE;
  for (int i = 0; i < ROUNDS; i++)
    {
      gint64 start = cpu_us ();
      step_rows (catalogue);
      if (lists)
        step_labels (catalogue);
      rows = MIN (rows, milliseconds (start));
      start = cpu_us ();
      work (catalogue, data);
      best = MIN (best, milliseconds (start));
    }
  g_print ("%-32s %7.1f ms  x %.2f%s\n", what, best, best / rows,
           best > 2 * rows ? "  MORE THAN TWICE ITS ROWS" : "");
}

typedef struct
{
  SwCredit credit;
  SwGrouping by;
  char *key;
} View;

static void
read_view (SwCatalogue *catalogue, gpointer data)
{
  const View *view = data;
  g_auto (SwTakings) takings = { 0 };
  assert_true (sw_takings_read (catalogue, view->credit, view->by, &takings, NULL));
}

static void
read_entries (SwCatalogue *catalogue, gpointer data)
{
  const View *view = data;
  g_autoptr (GPtrArray) entries
      = sw_takings_entries (catalogue, view->credit, view->by, view->key, NULL);
  assert_non_null (entries);
}

static void
read_rounds (SwCatalogue *catalogue, gpointer data)
{
  g_autoptr (GPtrArray) rounds = sw_round_sums (catalogue, NULL);
  assert_non_null (rounds);
}

static void
read_against_scrap (SwCatalogue *catalogue, gpointer data)
{
  SwAgainstScrap sums;
  assert_true (sw_against_scrap_read (catalogue, &sums, NULL));
}

/* The row with the most in it. */
static char *
greatest_key (SwCatalogue *catalogue, SwCredit credit, SwGrouping by)
{
  g_auto (SwTakings) takings = { 0 };
  const SwTakingsRow *found = NULL;
  assert_true (sw_takings_read (catalogue, credit, by, &takings, NULL));
  for (guint i = 0; i < takings.rows->len; i++)
    {
      const SwTakingsRow *row = g_ptr_array_index (takings.rows, i);
      if (found == NULL || row->proceeds.minor > found->proceeds.minor)
        found = row;
    }
  return found != NULL ? g_strdup (found->key) : g_strdup ("none");
}

static void
time_views (SwCatalogue *catalogue)
{
  for (int credit = 0; credit < SW_N_CREDITS; credit++)
    for (int by = 0; by < SW_N_GROUPINGS; by++)
      {
        View view = { (SwCredit)credit, (SwGrouping)by, NULL };
        g_autofree char *key = greatest_key (catalogue, view.credit, view.by);
        view.key = key;
        g_autofree char *name = g_strdup_printf ("%s by %s", sw_credit_word (view.credit),
                                                 sw_grouping_word (view.by));
        g_autofree char *entries = g_strdup_printf ("  its entries under %s", key);
        time_beside (catalogue, name, FALSE, read_view, &view);
        time_beside (catalogue, entries, TRUE, read_entries, &view);
      }
  time_beside (catalogue, "rounds", TRUE, read_rounds, NULL);
  time_beside (catalogue, "raised against scrap", TRUE, read_against_scrap, NULL);
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
  time_views (bed.catalogue);
  time_book (bed.catalogue, rows);
  sw_test_property_end ();
  return 0;
}
