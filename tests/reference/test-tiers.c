/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marginal tiers against published schedules of taxes, the one place where such schedules are printed
 * with their results. Each row names its publication. */
#include "../unit/sw-test.h"

#include "core/trade/terms.h"

/* Stamp duty land tax of England, one dwelling: Finance Act 2003 section 55 and schedule 4ZA as in
 * force in October 2024 and from April 2025 (HM Revenue and Customs, "Stamp Duty Land Tax:
 * residential property rates"). */
#define SDLT_2024 "250000:0%;925000:5%;1500000:10%;:12%"
#define SDLT_2025 "125000:0%;250000:2%;925000:5%;1500000:10%;:12%"

/* Income tax of the United States, single filers: Internal Revenue Service, Rev. Proc. 2023-34
 * (2024; bands from memory) and Rev. Proc. 2024-40 (2025). Cumulative figures are derived from the
 * bands. */
#define IRS_2024 "11600:10%;47150:12%;100525:22%;191950:24%;243725:32%;609350:35%;:37%"
#define IRS_2025 "11925:10%;48475:12%;103350:22%;197300:24%;250525:32%;626350:35%;:37%"

typedef struct
{
  const char *label;
  const char *tiers;
  gint64 amount, charge; /* minor units */
} Row;

static const Row rows[] = {
  /* the worked example of HM Revenue and Customs: 45,000 x 5% */
  { "SDLT October 2024, 295,000", SDLT_2024, 29500000, 225000 },
  /* the worked example for April 2025: 0 + 2,500 + 2,250 */
  { "SDLT April 2025, 295,000", SDLT_2025, 29500000, 475000 },
  { "SDLT April 2025, 400,000", SDLT_2025, 40000000, 1000000 },
  { "SDLT April 2025, first edge", SDLT_2025, 12500000, 0 },
  { "SDLT April 2025, second edge", SDLT_2025, 25000000, 250000 },
  { "SDLT April 2025, third edge", SDLT_2025, 92500000, 3625000 },
  { "SDLT April 2025, fourth edge", SDLT_2025, 150000000, 9375000 },
  { "SDLT April 2025, 2,000,000", SDLT_2025, 200000000, 15375000 },
  { "US 2025, first edge", IRS_2025, 1192500, 119250 },
  { "US 2025, second edge", IRS_2025, 4847500, 557850 },
  { "US 2025, third edge", IRS_2025, 10335000, 1765100 },
  { "US 2025, fourth edge", IRS_2025, 19730000, 4019900 },
  { "US 2025, fifth edge", IRS_2025, 25052500, 5723100 },
  { "US 2025, sixth edge", IRS_2025, 62635000, 18876975 },
  { "US 2024, 50,000", IRS_2024, 5000000, 605300 },
  { "US 2024, first edge", IRS_2024, 1160000, 116000 },
  { "US 2024, third edge", IRS_2024, 10052500, 1716850 },
  { "US 2024, sixth edge", IRS_2024, 60935000, 18364725 },
};

static void
test_published_tiers (void **state)
{
  const Row *row = *state;
  static const SwCurrency cents = { "GBP", 2 };
  g_autoptr (GError) error = NULL;
  g_autoptr (SwTiers) tiers = sw_tiers_parse (row->tiers, cents, &error);
  assert_no_error (error);
  SwMoney charge;
  assert_true (sw_tiers_apply (tiers, sw_money (row->amount), SW_ROUND_HALF_UP, &charge, &error));
  assert_money_equal (charge, row->charge);
}

/* Tax of a charge: 15% goods and services tax on 100.00 is 15.00, and 3/23 of the 115.00 that
 * includes it (New Zealand Inland Revenue, IR375); 10% on 100.00 is 1/11 of 110.00 (Australian
 * Taxation Office, "Working out GST"). */
typedef struct
{
  const char *label;
  const char *percent;
  gint64 net, tax, num, den;
} TaxRow;

static const TaxRow tax_rows[] = {
  { "New Zealand 15%", "15", 10000, 1500, 3, 23 },
  { "Australia 10%", "10", 10000, 1000, 1, 11 },
  { "United Kingdom 20%", "20", 10000, 2000, 1, 6 },
  { "New Zealand until 2010, 12.5%", "12.5", 10000, 1250, 1, 9 },
};

static void
test_tax_fraction (void **state)
{
  const TaxRow *row = *state;
  SwMoney net = sw_money (row->net), tax, inside;
  assert_true (sw_percent_sum (&net, &row->percent, 1, SW_ROUND_HALF_UP, &tax, NULL));
  assert_money_equal (tax, row->tax);
  assert_true (sw_money_scale (sw_money (net.minor + tax.minor), row->num, row->den,
                               SW_ROUND_HALF_UP, &inside, NULL));
  assert_money_equal (inside, row->tax);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_published_tiers, rows);
  SW_TEST_ROWS (tests, test_tax_fraction, tax_rows);
  return sw_tests_run (tests, "tiers");
}
