/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is still on offer of each trip's finds. Trade layer; read only. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 trip; /* that found them; 0: none */
  guint things;
  guint unpriced; /* of them without an asking price */
  SwMoney asked;  /* for the others, whole counts */
} SwOnOfferRow;

/* Of all items in the state On offer, each once however many outlets have it: GArray of
 * SwOnOfferRow by trip, those of no trip last. Errors: BAD_INPUT on overflow. Transfer full. */
GArray *sw_on_offer_by_trip (SwCatalogue *catalogue, GError **error);

G_END_DECLS
