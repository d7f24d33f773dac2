/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rounds side by side: what was put up together, what of it sold, what it raised before and after
 * fees. Trade layer; read only. */
#pragma once

#include "core/catalogue/catalogue.h"
#include "core/base/civil.h"
#include "core/base/money.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 id;
  char *title;
  gboolean has_up;
  SwDay up; /* the first day that an offer of it was up */
  guint offered, sold, no_sale, withdrawn, running;
  SwMoney proceeds; /* price and delivery, reversals taken off: what fell through is none */
  SwMoney fees, takings;
} SwRoundSum;
void sw_round_sum_free (SwRoundSum *sum);

/* GPtrArray of SwRoundSum, the latest first. BAD_INPUT on overflow. Transfer full. */
GPtrArray *sw_round_sums (SwCatalogue *catalogue, GError **error);

G_END_DECLS
