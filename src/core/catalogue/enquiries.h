/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What people asked or bid of an offer: who, when, how much, until when it is held for them and
 * whether they came. Also what else is said of money while an offer runs or is paid: a changed
 * price, and how and to whom a payment was made. Records of the catalogue layer. */
#pragma once

#include "core/base/language.h"
#include "core/catalogue/deals.h"

G_BEGIN_DECLS

/* X (tag, word in database and window). */
#define SW_ENQUIRY_OUTCOMES(X)                                                                     \
  X (ASKED, N_ ("asked"))                                                                          \
  X (HELD, N_ ("held"))                                                                            \
  X (NO_SHOW, "no-show")
#define SW_ENQUIRY_OUTCOME_AS_ENUM(tag, word) SW_ENQUIRY_##tag,
typedef enum
{
  SW_ENQUIRY_OUTCOMES (SW_ENQUIRY_OUTCOME_AS_ENUM) SW_N_ENQUIRY_OUTCOMES
} SwEnquiryOutcome;

typedef struct
{
  gint64 id, deal;
  SwInstant at;
  char *person;        /* NULL: not named */
  gboolean has_amount; /* what was bid, or would be paid */
  SwMoney amount;
  char *remark; /* "" for none */
  SwEnquiryOutcome outcome;
  gboolean has_until;
  SwDay until;         /* the last day of the hold */
  SwInstant until_end; /* where it ends, in the catalogue's zone */
} SwEnquiry;
void sw_enquiry_free (SwEnquiry *enquiry);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwEnquiry, sw_enquiry_free)

/* Notes it as asked; id, outcome and until are not read. An act with its event. Errors: BAD_INPUT,
 * NOT_FOUND (the offer), REFUSED (neither name, amount nor remark). */
gboolean sw_enquiry_add (SwCatalogue *catalogue, const SwEnquiry *enquiry, gint64 *out_id,
                         GError **error);
SwEnquiry *sw_enquiry_get (SwCatalogue *catalogue, gint64 id, GError **error);
/* Of one offer or sale: GPtrArray of SwEnquiry by time, transfer full. */
GPtrArray *sw_enquiry_list (SwCatalogue *catalogue, gint64 deal, GError **error);
/* Of those still held the one whose hold ends last; NULL for none. Transfer none. */
const SwEnquiry *sw_enquiry_held (const GPtrArray *enquiries);
/* The outcome alone; until is needed with HELD, and kept with NO_SHOW. 'sentence' names the act. */
gboolean sw_enquiry_set (SwCatalogue *catalogue, gint64 id, SwEnquiryOutcome outcome,
                         const SwDay *until, const char *sentence, GError **error);

/* What a running offer asks from now on, in minor units, not below zero; the earlier price stays in
 * its history. An act with its event. Errors: BAD_INPUT, REFUSED (it has ended), NOT_FOUND. */
gboolean sw_offer_set_price (SwCatalogue *catalogue, gint64 deal, SwMoney price, GError **error);

/* How the latest payment of a deal was made ("cash", "bank") and who took it; "" for not said. An
 * act. Errors: BAD_INPUT. */
gboolean sw_payment_tell (SwCatalogue *catalogue, gint64 deal, const char *how, const char *to_whom,
                          GError **error);
typedef struct
{
  SwDay day;
  SwMoney amount;
  char *how, *to_whom; /* "" for not said */
} SwPaymentTold;
void sw_payment_told_free (SwPaymentTold *payment);
/* GPtrArray of SwPaymentTold by day, then as entered. Transfer full. */
GPtrArray *sw_payment_told (SwCatalogue *catalogue, gint64 deal, GError **error);

G_END_DECLS
