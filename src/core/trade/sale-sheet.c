/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gathers a sale's rows and sets fees as worked out beside those charged. */
#include "core/trade/sale-sheet.h"

#include <string.h>

#include "core/catalogue/offer-notes.h"
#include "core/trade/holds.h"

void
sw_sale_fee_free (SwSaleFee *fee)
{
  if (fee == NULL)
    return;
  g_free (fee->charge);
  g_free (fee);
}

void
sw_sale_sheet_free (SwSaleSheet *sheet)
{
  if (sheet == NULL)
    return;
  sw_deal_free (sheet->deal);
  g_clear_pointer (&sheet->payments, g_ptr_array_unref);
  g_clear_pointer (&sheet->backs, g_array_unref);
  g_clear_pointer (&sheet->reversals, g_array_unref);
  g_clear_pointer (&sheet->fees, g_ptr_array_unref);
  g_clear_pointer (&sheet->enquiries, g_ptr_array_unref);
  g_free (sheet->extra);
  g_free (sheet);
}

static SwSaleFee *
fee_named (GPtrArray *fees, const char *charge)
{
  for (guint i = 0; i < fees->len; i++)
    {
      SwSaleFee *known = g_ptr_array_index (fees, i);
      if (strcmp (known->charge, charge) == 0)
        return known;
    }
  SwSaleFee *fee = g_new0 (SwSaleFee, 1);
  fee->charge = g_strdup (charge);
  g_ptr_array_add (fees, fee);
  return fee;
}

/* Of two charged under one name the later counts; they come by day. */
static gboolean
gather_fees (SwCatalogue *catalogue, SwSaleSheet *sheet, GError **error)
{
  g_autoptr (GPtrArray) computed = sw_fee_computed (catalogue, sheet->deal->id, error);
  g_autoptr (GPtrArray) charged
      = computed != NULL ? sw_fee_charged (catalogue, sheet->deal->id, error) : NULL;
  if (charged == NULL)
    return FALSE;
  for (guint i = 0; i < computed->len; i++)
    {
      const SwFee *row = g_ptr_array_index (computed, i);
      SwSaleFee *fee = fee_named (sheet->fees, row->charge);
      fee->has_computed = TRUE;
      if (!sw_money_add (row->amount, row->tax, &fee->computed, error))
        return FALSE;
    }
  for (guint i = 0; i < charged->len; i++)
    {
      const SwFee *row = g_ptr_array_index (charged, i);
      SwSaleFee *fee = fee_named (sheet->fees, row->charge);
      fee->has_charged = TRUE;
      fee->charged = row->amount;
    }
  return TRUE;
}

static gboolean
add_up_fees (SwSaleSheet *sheet, GError **error)
{
  for (guint i = 0; i < sheet->fees->len; i++)
    {
      SwSaleFee *fee = g_ptr_array_index (sheet->fees, i);
      fee->counts = fee->has_charged ? fee->charged : fee->computed;
      if ((fee->has_charged && !sw_money_sub (fee->charged, fee->computed, &fee->difference, error))
          || !sw_money_add (sheet->fees_total, fee->counts, &sheet->fees_total, error))
        return FALSE;
    }
  return TRUE;
}

SwSaleSheet *
sw_sale_sheet (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_autoptr (SwSaleSheet) sheet = g_new0 (SwSaleSheet, 1);
  g_autoptr (SwOfferNote) note = sw_offer_note_get (catalogue, deal, error);
  sheet->fees = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_sale_fee_free);
  if (note == NULL || (sheet->deal = sw_deal_get (catalogue, deal, error)) == NULL
      || (sheet->payments = sw_payment_told (catalogue, deal, error)) == NULL
      || (sheet->backs = sw_paid_back_list (catalogue, deal, error)) == NULL
      || (sheet->reversals = sw_reversal_list (catalogue, deal, error)) == NULL
      || (sheet->enquiries = sw_enquiry_list (catalogue, deal, error)) == NULL
      || !gather_fees (catalogue, sheet, error) || !add_up_fees (sheet, error))
    return NULL;
  sheet->extra = g_steal_pointer (&note->extra);
  sheet->next = sw_enquiry_next_best (sheet->enquiries, sheet->deal->buyer);
  return g_steal_pointer (&sheet);
}
