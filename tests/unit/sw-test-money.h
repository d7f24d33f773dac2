/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small property with two trips and six items, and money tables written short, for the tests of
 * booking and takings. */
#pragma once

#include "sw-test-catalogue.h"

#include "core/base/text.h"
#include "core/catalogue/items.h"
#include "core/catalogue/places.h"
#include "core/catalogue/trips.h"
#include "core/trade/book.h"
#include "core/trade/rows.h"
#include "core/trade/takings.h"

/* listing: 2.00 + 15% tax = 2.30 an offer; commission: 10% to 100.00, 5% above, of the price. */
#define HILL                                                                                       \
  "outlet|outlet=Hill Road|kind=auction\n"                                                         \
  "charge|outlet=Hill Road|charge=listing|from=2026-01-01|on=offer|flat=2.00|tax=15%\n"            \
  "charge|outlet=Hill Road|charge=commission|from=2026-01-01|on=price|tiers=100:10%;:5%\n"
/* No charges. */
#define YARD "outlet|outlet=Yard|kind=scrap yard\n"
/* The press up at Hill Road, sold for 200.00: commission 10.00 + 5.00, listing 2.30: fees 17.30. */
#define PRESS_UP                                                                                   \
  "offer|ref=A1|outlet=Hill Road|item=Screw press|up=2026-04-14|closes=2026-04-26T20:00\n"
#define PRESS_SOLD "result|ref=A1|at=2026-04-26T20:00|result=sold|amount=200.00|buyer=A. Buyer\n"
#define PRESS PRESS_UP PRESS_SOLD

typedef struct
{
  const char *name, *place;
  gint64 trip, count;
  gint64 asking; /* minor units; -1: none */
  const char *mass;
} SwTestItem;

/* Trips: 1 from 2026-04-10 to 13, 2 from 2026-05-08 to 11. */
static const SwTestItem sw_test_items[] = {
  { "Screw press", "Press house", 1, 1, 30000, "400" },   /* 1 */
  { "Crates", "Packing shed", 1, 10, 10000, "50" },       /* 2 */
  { "Scales", "Packing shed > Loft", 2, 1, 10000, NULL }, /* 3 */
  { "Vat", "Press house", 2, 1, -1, "100" },              /* 4 */
  { "Ladder", "Packing shed", 0, 1, 5000, NULL },         /* 5 */
  { "Pump", "Press house", 1, 1, -1, "300" },             /* 6 */
  { "Bottles", "Packing shed > Loft", 2, 2, 1, NULL },    /* 7: one cent for two */
};

static inline SwDay
sw_test_day (const char *text)
{
  SwDay day = { 0 };
  assert_true (sw_day_parse (text, &day, NULL));
  return day;
}

static inline void
sw_test_add_item (SwCatalogue *catalogue, const SwTestItem *row)
{
  g_autoptr (GError) error = NULL;
  gint64 place = 0, number = 0;
  SwMoney asking = sw_money (row->asking);
  SwItemNew item
      = { row->name, 0, row->trip, row->count, row->asking >= 0 ? &asking : NULL, FALSE };
  sw_place_ensure (catalogue, row->place, &place, NULL, &error);
  assert_no_error (error);
  item.place = place;
  sw_item_add (catalogue, &item, &number, &error);
  assert_no_error (error);
  if (row->mass == NULL)
    return;
  SwMass mass;
  sw_mass_parse (row->mass, &mass, &error);
  assert_no_error (error);
  SwItemChange change = { .mass = &mass };
  sw_item_change (catalogue, number, &change, &error);
  assert_no_error (error);
}

static inline void
sw_test_add_property (SwCatalogue *catalogue)
{
  static const char *const trips[][2]
      = { { "2026-04-10", "2026-04-13" }, { "2026-05-08", "2026-05-11" } };
  g_autoptr (GError) error = NULL;
  g_auto (SwAct) act = SW_ACT_INIT;
  sw_act_begin (&act, catalogue, &error);
  assert_no_error (error);
  for (gsize i = 0; i < G_N_ELEMENTS (trips); i++)
    {
      sw_trip_add (catalogue, "At the works", sw_test_day (trips[i][0]), sw_test_day (trips[i][1]),
                   NULL, &error);
      assert_no_error (error);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (sw_test_items); i++)
    sw_test_add_item (catalogue, &sw_test_items[i]);
  sw_act_commit (&act, "The property", &error);
  assert_no_error (error);
}

/* The property, made once and copied for each test: most of a new catalogue's time is flushing. */
static SwTestBed sw_test_template;

static inline void
sw_test_copy_tree (const char *from, const char *to)
{
  g_autoptr (GDir) dir = g_dir_open (from, 0, NULL);
  if (dir == NULL)
    {
      g_autofree char *bytes = NULL;
      gsize length = 0;
      assert_true (g_file_get_contents (from, &bytes, &length, NULL));
      FILE *file = g_fopen (to, "wb");
      assert_true (file != NULL && fwrite (bytes, 1, length, file) == length && fclose (file) == 0);
      return;
    }
  g_mkdir (to, 0755);
  const char *name;
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (from, name, NULL);
      g_autofree char *target = g_build_filename (to, name, NULL);
      sw_test_copy_tree (inner, target);
    }
}

static inline SwTestBed
sw_test_property_new (void)
{
  if (sw_test_template.folder == NULL)
    {
      sw_test_template = sw_test_bed_new ();
      sw_test_add_property (sw_test_template.catalogue);
      g_clear_pointer (&sw_test_template.catalogue, sw_catalogue_close);
    }
  SwTestBed bed = { 0 };
  bed.folder = g_dir_make_tmp ("sw-test-XXXXXX", NULL);
  assert_non_null (bed.folder);
  bed.path = g_build_filename (bed.folder, "Cider works.shedwalk", NULL);
  sw_test_copy_tree (sw_test_template.path, bed.path);
  bed.catalogue = sw_test_open (bed.path, SW_OPEN_READ_WRITE);
  return bed;
}

static inline void
sw_test_property_end (void)
{
  if (sw_test_template.folder != NULL)
    sw_test_bed_clear (&sw_test_template);
}

/* "sale|ref=S1|item=Ladder|at=2026-04-12|amount=35.00", a line a row, into CSV with all columns.
 * The header is line 1, so the first row is line 2. */
static inline GBytes *
sw_test_table (const char *shorthand)
{
  GString *csv = g_string_new (NULL);
  for (int c = 0; c < SW_N_COLUMNS; c++)
    g_string_append_printf (csv, "%s%s", c > 0 ? "," : "", sw_column_name ((SwColumn)c));
  g_auto (GStrv) lines = g_strsplit (shorthand, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    {
      if (*lines[i] == '\0')
        continue;
      g_auto (GStrv) cells = g_strsplit (lines[i], "|", -1);
      g_string_append_printf (csv, "\n%s", cells[0]);
      for (int c = 1; c < SW_N_COLUMNS; c++)
        {
          g_autofree char *prefix = g_strdup_printf ("%s=", sw_column_name ((SwColumn)c));
          const char *value = "";
          for (guint k = 1; cells[k] != NULL; k++)
            if (g_str_has_prefix (cells[k], prefix))
              value = cells[k] + strlen (prefix);
          g_string_append_c (csv, ',');
          sw_table_append_cell (csv, value, FALSE);
        }
    }
  g_string_append_c (csv, '\n');
  return g_string_free_to_bytes (csv);
}

static inline void
sw_test_book (SwCatalogue *catalogue, const char *shorthand, SwBookReport *out_report)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = sw_test_table (shorthand);
  sw_book_bytes (catalogue, bytes, "table.csv", out_report, &error);
  assert_no_error (error);
}

/* "1 64000 6972 0 4000 | none 3500 0 0 0": key, proceeds, fees, costs, owed. Takings are checked
 * here. */
static inline char *
sw_test_takings (SwCatalogue *catalogue, SwCredit credit, SwGrouping by, SwTakingsRow *out_total)
{
  g_autoptr (GError) error = NULL;
  g_auto (SwTakings) takings = { 0 };
  sw_takings_read (catalogue, credit, by, &takings, &error);
  assert_no_error (error);
  GString *text = g_string_new (NULL);
  SwTakingsRow sum = { 0 };
  for (guint i = 0; i < takings.rows->len; i++)
    {
      const SwTakingsRow *row = g_ptr_array_index (takings.rows, i);
      g_string_append_printf (text, "%s%s %d %d %d %d", i > 0 ? " | " : "", row->key,
                              (int)row->proceeds.minor, (int)row->fees.minor, (int)row->costs.minor,
                              (int)row->owed.minor);
      assert_i64_equal (row->takings.minor, row->proceeds.minor - row->fees.minor);
      sum.proceeds.minor += row->proceeds.minor;
      sum.fees.minor += row->fees.minor;
      sum.takings.minor += row->takings.minor;
      sum.costs.minor += row->costs.minor;
      sum.owed.minor += row->owed.minor;
      assert_i64_equal (row->running.minor, sum.takings.minor);
    }
  assert_i64_equal (takings.total.proceeds.minor, sum.proceeds.minor);
  assert_i64_equal (takings.total.fees.minor, sum.fees.minor);
  assert_i64_equal (takings.total.takings.minor, sum.takings.minor);
  assert_i64_equal (takings.total.costs.minor, sum.costs.minor);
  assert_i64_equal (takings.total.owed.minor, sum.owed.minor);
  *out_total = takings.total;
  return g_string_free (text, FALSE);
}

/* All nine tables have one total. */
static inline void
sw_test_totals_agree (SwCatalogue *catalogue)
{
  SwTakingsRow first = { 0 };
  for (int credit = 0; credit < SW_N_CREDITS; credit++)
    for (int by = 0; by < SW_N_GROUPINGS; by++)
      {
        SwTakingsRow total;
        g_autofree char *text
            = sw_test_takings (catalogue, (SwCredit)credit, (SwGrouping)by, &total);
        if (credit == 0 && by == 0)
          first = total;
        assert_i64_equal (total.proceeds.minor, first.proceeds.minor);
        assert_i64_equal (total.fees.minor, first.fees.minor);
        assert_i64_equal (total.costs.minor, first.costs.minor);
        assert_i64_equal (total.owed.minor, first.owed.minor);
      }
}

/* "1 Sold, 2 Found x7 7000": number, state, count where not 1, asking where it changed. */
static inline char *
sw_test_item (SwCatalogue *catalogue, gint64 number)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, &error);
  assert_no_error (error);
  return g_strdup_printf ("%d %s x%d %d", (int)number, sw_state_word (item->state),
                          (int)item->count, item->has_asking ? (int)item->asking.minor : -1);
}

/* How many rows each table of money has, and each item: what a refused table must leave as it was.
 */
static inline char *
sw_test_dump (SwCatalogue *catalogue)
{
  GString *text = g_string_new (NULL);
  static const char *const tables[]
      = { "outlet",   "charge",      "deal",         "deal_item",   "payment",
          "reversal", "posting",     "booked",       "person",      "cost",
          "interest", "fee_charged", "fee_computed", "docket_line", "docket_line_item",
          "event",    "act" };
  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      g_autofree char *sql = g_strdup_printf ("SELECT count (*) FROM %s", tables[i]);
      g_string_append_printf (text, "%s %d\n", tables[i], (int)sw_test_ask (catalogue, sql));
    }
  gint64 n = sw_test_ask (catalogue, "SELECT count (*) FROM item");
  for (gint64 i = 1; i <= n; i++)
    {
      g_autofree char *item = sw_test_item (catalogue, i);
      g_string_append_printf (text, "%s\n", item);
    }
  return g_string_free (text, FALSE);
}
