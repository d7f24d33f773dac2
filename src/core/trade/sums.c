/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trade layer's part of `check`: whether what is posted is what the rows say, and whether the
 * takings agree with themselves. Mends nothing. */
#include "core/catalogue/check.h"
#include "core/base/language.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/postings.h"
#include "core/trade/free-offers.h"
#include "core/trade/settle.h"
#include "core/trade/takings.h"

static gboolean
check_docket (SwCatalogue *catalogue, const SwDeal *deal, SwCheckReport *report, GError **error)
{
  g_autoptr (GPtrArray) lines = sw_docket_lines (catalogue, deal->id, error);
  if (lines == NULL)
    return FALSE;
  gint64 nets = 0, money = 0;
  gboolean overflow = FALSE;
  for (guint i = 0; i < lines->len; i++)
    {
      const SwDocketLine *line = g_ptr_array_index (lines, i);
      overflow = overflow || __builtin_add_overflow (nets, line->net.ug, &nets);
      overflow = overflow || __builtin_add_overflow (money, line->amount.minor, &money);
    }
  if (overflow || nets != deal->gross.ug - deal->tare.ug)
    sw_check_fault (report,
                    _ ("The docket %s: the nets of its lines are not its gross less its tare."),
                    deal->ref);
  if (overflow || money != deal->amount.minor)
    sw_check_fault (report, _ ("The docket %s: its lines do not add up to its money."), deal->ref);
  return TRUE;
}

static gboolean
check_deals (SwCatalogue *catalogue, GCancellable *cancellable, SwCheckReport *report,
             GError **error)
{
  g_autoptr (GPtrArray) deals = sw_deal_list (catalogue, error);
  if (deals == NULL)
    return FALSE;
  for (guint i = 0; i < deals->len; i++)
    {
      const SwDeal *deal = g_ptr_array_index (deals, i);
      gboolean sound = FALSE;
      if (g_cancellable_set_error_if_cancelled (cancellable, error)
          || !sw_settle_check (catalogue, deal->id, &sound, error)
          || (deal->kind == SW_DEAL_DOCKET && !check_docket (catalogue, deal, report, error)))
        return FALSE;
      report->sums++;
      if (!sound)
        sw_check_fault (
            report, _ ("The postings of %s do not add up to its price, fees, reversals and debts."),
            deal->ref);
    }
  return TRUE;
}

static gboolean
check_free (SwCatalogue *catalogue, SwCheckReport *report, GError **error)
{
  g_autoptr (GPtrArray) outlets = sw_outlet_list (catalogue, error);
  if (outlets == NULL)
    return FALSE;
  for (guint i = 0; i < outlets->len; i++)
    {
      const SwOutlet *outlet = g_ptr_array_index (outlets, i);
      gboolean sound = FALSE;
      if (!sw_free_offers_check (catalogue, outlet->id, &sound, error))
        return FALSE;
      report->sums++;
      if (!sound)
        sw_check_fault (report,
                        _ ("The offers of %s that are free are not the first ones of their month."),
                        outlet->name);
    }
  return TRUE;
}

static gboolean
same_sums (const SwTakingsRow *a, const SwTakingsRow *b)
{
  return a->proceeds.minor == b->proceeds.minor && a->fees.minor == b->fees.minor
         && a->takings.minor == b->takings.minor && a->costs.minor == b->costs.minor
         && a->owed.minor == b->owed.minor;
}

static gboolean
check_views (SwCatalogue *catalogue, SwCheckReport *report, GError **error)
{
  g_auto (SwTakings) first = { 0 };
  if (!sw_takings_read (catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &first, error))
    return FALSE;
  for (int credit = 0; credit < SW_N_CREDITS; credit++)
    for (int grouping = 0; grouping < SW_N_GROUPINGS; grouping++)
      {
        g_auto (SwTakings) other = { 0 };
        if (!sw_takings_read (catalogue, (SwCredit)credit, (SwGrouping)grouping, &other, error))
          return FALSE;
        report->sums++;
        if (!same_sums (&first.total, &other.total))
          sw_check_fault (
              report, _ ("The takings by %s credited to %s have another total than those by trip."),
              sw_grouping_word ((SwGrouping)grouping), sw_credit_word ((SwCredit)credit));
      }
  return TRUE;
}

static gboolean
check_sums (SwCatalogue *catalogue, GCancellable *cancellable, SwCheckReport *report,
            GError **error)
{
  return check_deals (catalogue, cancellable, report, error)
         && check_free (catalogue, report, error) && check_views (catalogue, report, error);
}

void
sw_takings_register_check (void)
{
  sw_check_register ("sums", check_sums);
}
