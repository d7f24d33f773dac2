/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of enquiries, of changed prices and of how payments were made. */
#include "core/catalogue/enquiries.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"

#define AS_WORD(tag, word) word,
static const char *const outcome_words[] = { SW_ENQUIRY_OUTCOMES (AS_WORD) };

void
sw_enquiry_free (SwEnquiry *enquiry)
{
  if (enquiry == NULL)
    return;
  g_free (enquiry->person);
  g_free (enquiry->remark);
  g_free (enquiry);
}

static gpointer
enquiry_from_row (const SwUse *use)
{
  SwEnquiry *enquiry = g_new0 (SwEnquiry, 1);
  g_autofree char *outcome = sw_col_text (use, 7);
  enquiry->id = sw_col_int (use, 0);
  enquiry->deal = sw_col_int (use, 1);
  enquiry->at = (SwInstant){ sw_col_int (use, 2) };
  enquiry->person = sw_col_text (use, 3);
  enquiry->has_amount = !sw_col_is_null (use, 4);
  enquiry->amount = sw_money (sw_col_int (use, 4));
  enquiry->remark = sw_col_text (use, 5);
  enquiry->has_until = !sw_col_is_null (use, 6);
  enquiry->until = (SwDay){ (gint32)sw_col_int (use, 6) };
  for (int i = 0; i < SW_N_ENQUIRY_OUTCOMES; i++)
    if (strcmp (outcome, outcome_words[i]) == 0)
      enquiry->outcome = (SwEnquiryOutcome)i;
  return enquiry;
}

static void
place_end (SwCatalogue *catalogue, SwEnquiry *enquiry)
{
  if (enquiry->has_until)
    enquiry->until_end
        = sw_day_start ((SwDay){ enquiry->until.n + 1 }, sw_catalogue_zone (catalogue));
}

static gboolean
check_new (const SwEnquiry *enquiry, const char *person, const char *remark, GError **error)
{
  if (!sw_text_check (person, _ ("The name"), FALSE, TRUE, error)
      || !sw_text_check (remark, _ ("The remark"), FALSE, TRUE, error))
    return FALSE;
  if (enquiry->has_amount && enquiry->amount.minor < 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("What is offered is not below zero."));
      return FALSE;
    }
  if (*person != '\0' || *remark != '\0' || enquiry->has_amount)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("An enquiry has a name, an amount or a remark; give at least one of them."));
  return FALSE;
}

gboolean
sw_enquiry_add (SwCatalogue *catalogue, const SwEnquiry *enquiry, gint64 *out_id, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *person = sw_text_tidy (enquiry->person != NULL ? enquiry->person : "");
  g_autofree char *remark = sw_text_tidy (enquiry->remark != NULL ? enquiry->remark : "");
  if (!check_new (enquiry, person, remark, error) || !sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwDeal) deal = sw_deal_get (catalogue, enquiry->deal, error);
  if (deal == NULL
      || (*person != '\0' && !sw_db_run (catalogue, error, SW_STMT_BUYER_ENSURE, "t", person))
      || !sw_db_run (catalogue, error, SW_STMT_ENQUIRY_ADD, "iitIt", enquiry->deal, enquiry->at.us,
                     *person != '\0' ? person : NULL, enquiry->has_amount, enquiry->amount.minor,
                     remark))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  /* names nobody: of a buyer only what a hand-over needs is kept, and that in one place */
  g_autofree char *sentence = g_strdup_printf (_ ("Enquiry for %s noted"), deal->ref);
  if (!sw_act_tell (&act, SW_SUBJECT_OFFER, deal->id, "offer.enquiry", NULL, sentence, error)
      || !sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_id != NULL)
    *out_id = id;
  return TRUE;
}

SwEnquiry *
sw_enquiry_get (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ENQUIRY_GET, "i", id);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  if (row)
    {
      SwEnquiry *enquiry = enquiry_from_row (&use);
      place_end (catalogue, enquiry);
      return enquiry;
    }
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no enquiry %" PRId64 "."), id);
  return NULL;
}

GPtrArray *
sw_enquiry_list (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ENQUIRY_LIST, "i", deal);
  GPtrArray *enquiries
      = sw_db_collect (catalogue, &use, enquiry_from_row, (GDestroyNotify)sw_enquiry_free, error);
  for (guint i = 0; enquiries != NULL && i < enquiries->len; i++)
    place_end (catalogue, g_ptr_array_index (enquiries, i));
  return enquiries;
}

const SwEnquiry *
sw_enquiry_held (const GPtrArray *enquiries)
{
  const SwEnquiry *last = NULL;
  for (guint i = 0; i < enquiries->len; i++)
    {
      const SwEnquiry *enquiry = g_ptr_array_index (enquiries, i);
      if (enquiry->outcome == SW_ENQUIRY_HELD && enquiry->has_until
          && (last == NULL || last->until.n < enquiry->until.n))
        last = enquiry;
    }
  return last;
}

gboolean
sw_enquiry_set (SwCatalogue *catalogue, gint64 id, SwEnquiryOutcome outcome, const SwDay *until,
                const char *sentence, GError **error)
{
  g_return_val_if_fail (outcome != SW_ENQUIRY_HELD || until != NULL, FALSE);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwEnquiry) known = sw_enquiry_get (catalogue, id, error);
  if (known == NULL)
    return FALSE;
  gboolean has = until != NULL || (outcome == SW_ENQUIRY_NO_SHOW && known->has_until);
  return sw_db_run (catalogue, error, SW_STMT_ENQUIRY_SET, "itI", id, outcome_words[outcome], has,
                    (gint64)(until != NULL ? until->n : known->until.n))
         && sw_act_tell (&act, SW_SUBJECT_OFFER, known->deal, "offer.enquiry", NULL, sentence,
                         error)
         && sw_act_commit (&act, sentence, error);
}

/* --- a changed price --- */

gboolean
sw_offer_set_price (SwCatalogue *catalogue, gint64 deal, SwMoney price, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (price.minor < 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("A price is not below zero."));
      return FALSE;
    }
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwDeal) known = sw_deal_get (catalogue, deal, error);
  if (known == NULL)
    return FALSE;
  if (known->kind != SW_DEAL_OFFER || known->result != SW_RESULT_RUNNING)
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_REFUSED,
          _ ("%s runs no more: its price stays as it was; put it up again for another one."),
          known->ref);
      return FALSE;
    }
  if (known->has_start && known->start.minor == price.minor)
    return TRUE;
  SwCurrency currency = sw_catalogue_currency (catalogue);
  g_autofree char *before
      = known->has_start ? sw_money_to_person (known->start, currency) : g_strdup (_ ("no price"));
  g_autofree char *after = sw_money_to_person (price, currency);
  g_autofree char *sentence
      = g_strdup_printf (_ ("Offer %s: price from %s to %s"), known->ref, before, after);
  return sw_db_run (catalogue, error, SW_STMT_DEAL_SET_START, "ii", deal, price.minor)
         && sw_act_tell (&act, SW_SUBJECT_OFFER, deal, "offer.price", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

/* --- how it was paid --- */

gboolean
sw_payment_tell (SwCatalogue *catalogue, gint64 deal, const char *how, const char *to_whom,
                 GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *how_tidy = sw_text_tidy (how), *to_tidy = sw_text_tidy (to_whom);
  return sw_text_check (how, _ ("How it was paid"), FALSE, TRUE, error)
         && sw_text_check (to_whom, _ ("To whom it was paid"), FALSE, TRUE, error)
         && sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_PAYMENT_TELL, "itt", deal, how_tidy, to_tidy)
         && sw_act_commit (&act, _ ("How it was paid"), error);
}

void
sw_payment_told_free (SwPaymentTold *payment)
{
  if (payment == NULL)
    return;
  g_free (payment->how);
  g_free (payment->to_whom);
  g_free (payment);
}

static gpointer
told_from_row (const SwUse *use)
{
  SwPaymentTold *told = g_new0 (SwPaymentTold, 1);
  told->day = (SwDay){ (gint32)sw_col_int (use, 0) };
  told->amount = sw_money (sw_col_int (use, 1));
  told->how = sw_col_text (use, 2);
  told->to_whom = sw_col_text (use, 3);
  return told;
}

GPtrArray *
sw_payment_told (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PAYMENT_TOLD, "i", deal);
  return sw_db_collect (catalogue, &use, told_from_row, (GDestroyNotify)sw_payment_told_free,
                        error);
}
