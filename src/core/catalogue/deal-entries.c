/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was said of a deal: fees, payments, reversals, interest; and the rows of the money table
 * that are booked. */
#include "core/catalogue/act.h"
#include "core/base/language.h"
#include "core/catalogue/db.h"
#include "core/catalogue/deals.h"

void
sw_fee_free (SwFee *fee)
{
  if (fee == NULL)
    return;
  g_free (fee->charge);
  g_free (fee);
}

gboolean
sw_fee_add_computed (SwCatalogue *catalogue, gint64 deal, const SwFee *fee, gboolean due,
                     gint64 free_offers, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_FEE_ADD_COMPUTED, "itiiii", deal, fee->charge,
                       fee->amount.minor, fee->tax.minor, (gint64)(due ? 1 : 0), free_offers)
         && sw_act_commit (&act, _ ("Fee worked out"), error);
}

gboolean
sw_fee_add_charged (SwCatalogue *catalogue, gint64 deal, const SwFee *fee, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_FEE_ADD_CHARGED, "itii", deal, fee->charge,
                       (gint64)fee->day.n, fee->amount.minor)
         && sw_act_commit (&act, _ ("Fee charged"), error);
}

static GPtrArray *
list_fees (SwCatalogue *catalogue, SwStatementId id, gint64 deal, GError **error)
{
  g_autoptr (GPtrArray) fees = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_fee_free);
  g_auto (SwUse) use = sw_db_use (catalogue, id, "i", deal);
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      SwFee *fee = g_new0 (SwFee, 1);
      fee->charge = sw_col_text (&use, 0);
      fee->amount = sw_money (sw_col_int (&use, 1));
      fee->tax = sw_money (sw_col_int (&use, 2));
      fee->day = (SwDay){ (gint32)sw_col_int (&use, 3) };
      g_ptr_array_add (fees, fee);
    }
  return ok ? g_steal_pointer (&fees) : NULL;
}

GPtrArray *
sw_fee_computed (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  return list_fees (catalogue, SW_STMT_FEE_COMPUTED, deal, error);
}

GPtrArray *
sw_fee_charged (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  return list_fees (catalogue, SW_STMT_FEE_CHARGED, deal, error);
}

static void
fill_counted (const SwUse *use, gpointer out)
{
  g_autofree char *charge = sw_col_text (use, 1);
  *(SwFeeCounted *)out = (SwFeeCounted){ .deal = sw_col_int (use, 0),
                                         .charge = g_intern_string (charge),
                                         .due = sw_col_int (use, 2) != 0,
                                         .waived = sw_col_int (use, 4) != 0,
                                         .free_offers = sw_col_int (use, 3),
                                         .ended = { (gint32)sw_col_int (use, 5) } };
}

GArray *
sw_fee_counted (SwCatalogue *catalogue, gint64 outlet, GError **error)
{
  gint64 any = 0;
  if (!sw_db_get_int (catalogue, &any, NULL, error, SW_STMT_FEE_ANY_FREE, "i", outlet))
    return NULL;
  if (any == 0)
    return g_array_new (FALSE, FALSE, sizeof (SwFeeCounted));
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_FEE_COUNTED, "i", outlet);
  return sw_db_collect_plain (catalogue, &use, sizeof (SwFeeCounted), fill_counted, error);
}

gboolean
sw_fee_set_waived (SwCatalogue *catalogue, gint64 deal, const char *charge, gboolean waived,
                   GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_FEE_SET_WAIVED, "iti", deal, charge,
                       (gint64)(waived ? 1 : 0))
         && sw_act_commit (&act, _ ("Free offers counted"), error);
}

gboolean
sw_payment_add (SwCatalogue *catalogue, gint64 deal, const SwDealEntry *entry, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_PAYMENT_ADD, "iii", deal, (gint64)entry->day.n,
                       entry->amount.minor)
         && sw_act_commit (&act, _ ("Paid"), error);
}

gboolean
sw_reversal_add (SwCatalogue *catalogue, gint64 deal, const SwDealEntry *entry, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_REVERSAL_ADD, "iiii", deal, (gint64)entry->day.n,
                       entry->amount.minor, (gint64)(entry->whole ? 1 : 0))
         && sw_act_commit (&act, _ ("Taken back"), error);
}

gboolean
sw_paid_back_add (SwCatalogue *catalogue, gint64 deal, const SwDealEntry *entry, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_PAID_BACK_ADD, "iii", deal, (gint64)entry->day.n,
                       entry->amount.minor)
         && sw_act_commit (&act, _ ("Given back"), error);
}

gboolean
sw_paid_back_in_cash (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_PAID_BACK_IN_CASH, "i", deal)
         && sw_act_commit (&act, _ ("Given back in cash"), error);
}

gboolean
sw_paid_back_cash (SwCatalogue *catalogue, gint64 deal, SwMoney *out_sum, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PAID_BACK_CASH, "i", deal);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  *out_sum = row ? sw_money (sw_col_int (&use, 0)) : SW_MONEY_ZERO;
  return TRUE;
}

static void
fill_entry (const SwUse *use, gpointer out)
{
  *(SwDealEntry *)out = (SwDealEntry){ { (gint32)sw_col_int (use, 0) },
                                       sw_money (sw_col_int (use, 1)),
                                       sw_col_int (use, 2) != 0 };
}

static GArray *
list_entries (SwCatalogue *catalogue, SwStatementId id, gint64 deal, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, id, "i", deal);
  return sw_db_collect_plain (catalogue, &use, sizeof (SwDealEntry), fill_entry, error);
}

GArray *
sw_payment_list (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  return list_entries (catalogue, SW_STMT_PAYMENT_LIST, deal, error);
}

GArray *
sw_paid_back_list (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  return list_entries (catalogue, SW_STMT_PAID_BACK_LIST, deal, error);
}

GArray *
sw_reversal_list (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  return list_entries (catalogue, SW_STMT_REVERSAL_LIST, deal, error);
}

gboolean
sw_reversal_whole (SwCatalogue *catalogue, gint64 deal, gboolean *out_fell, SwDay *out_day,
                   GError **error)
{
  g_autoptr (GArray) reversals = sw_reversal_list (catalogue, deal, error);
  *out_fell = FALSE;
  for (guint i = 0; reversals != NULL && i < reversals->len; i++)
    {
      const SwDealEntry *entry = &g_array_index (reversals, SwDealEntry, i);
      *out_fell = *out_fell || entry->whole;
      if (entry->whole && out_day != NULL)
        *out_day = entry->day;
    }
  return reversals != NULL;
}

gboolean
sw_interest_add (SwCatalogue *catalogue, gint64 deal, const SwInterest *interest, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_INTEREST_ADD, "iiIIII", deal, interest->at.us,
                       interest->looks >= 0, interest->looks, interest->followers >= 0,
                       interest->followers, interest->bids >= 0, interest->bids,
                       interest->has_amount, interest->amount.minor)
         && sw_act_commit (&act, _ ("Interest noted"), error);
}

static gint64
count_or_none (const SwUse *use, int column)
{
  return sw_col_is_null (use, column) ? -1 : sw_col_int (use, column);
}

gboolean
sw_interest_latest (const GArray *list, SwInterest *out_interest)
{
  *out_interest = (SwInterest){ .looks = -1, .followers = -1, .bids = -1 };
  if (list->len > 0)
    *out_interest = g_array_index (list, SwInterest, list->len - 1);
  return list->len > 0;
}

static void
fill_interest (const SwUse *use, gpointer out)
{
  *(SwInterest *)out = (SwInterest){ { sw_col_int (use, 0) },  count_or_none (use, 1),
                                     count_or_none (use, 2),   count_or_none (use, 3),
                                     !sw_col_is_null (use, 4), sw_money (sw_col_int (use, 4)) };
}

GArray *
sw_interest_list (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_INTEREST_LIST, "i", deal);
  return sw_db_collect_plain (catalogue, &use, sizeof (SwInterest), fill_interest, error);
}

gboolean
sw_booked_count (SwCatalogue *catalogue, const char *content, gint64 *out_n, GError **error)
{
  return sw_db_get_int (catalogue, out_n, NULL, error, SW_STMT_BOOKED_COUNT, "t", content);
}

gboolean
sw_booked_add (SwCatalogue *catalogue, const char *content, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_BOOKED_ADD, "t", content)
         && sw_act_commit (&act, _ ("Row booked"), error);
}
