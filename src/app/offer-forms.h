/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small windows for what is said of one offer or sale beyond rows of the money table: a changed
 * price, an enquiry, a hold, a payment with how it was made, the underbidder. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

typedef enum
{
  SW_OFFER_FORM_PRICE,   /* of a deal: what it asks from now on */
  SW_OFFER_FORM_ENQUIRY, /* of a deal: who, how much, what */
  SW_OFFER_FORM_HOLD,    /* of an enquiry: until when */
  SW_OFFER_FORM_PAID_BACK, /* of a deal: how much of what was paid too much, whence, when */
  SW_OFFER_FORM_PAYMENT, /* of a deal: how much, how, to whom, when */
  SW_OFFER_FORM_ROUND,   /* of an offer: which round it is of */
  SW_OFFER_FORM_NEXT,    /* of a sold deal: to whom and for how much it goes instead */
  SW_N_OFFER_FORMS,
} SwOfferFormKind;

/* id: of the deal or the enquiry. about: what it speaks of, shown over the fields. begun: as in
 * SwAsk, copied by the fields; NULL: all empty. */
void sw_offer_form_show (GtkWindow *parent, SwStore *store, SwOfferFormKind kind, gint64 id,
                         const char *about, const char *const *begun);

/* The person of an enquiry did not come; an act. */
void sw_act_no_show (SwStore *store, gint64 enquiry);
/* Asks in a window of its own, then takes the name off the whole catalogue for good. */
void sw_remove_buyer_ask (GtkWindow *parent, SwStore *store, const char *name);

G_END_DECLS
