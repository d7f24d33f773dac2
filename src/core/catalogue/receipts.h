/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos of receipts, and the costs that were entered from them. Records of the catalogue layer. */
#pragma once

#include "core/base/civil.h"
#include "core/base/money.h"
#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* "Cost of 12.50: diesel, from its receipt", as its act is named. Transfer full. */
char *sw_receipt_sentence (SwCatalogue *catalogue, SwMoney amount, const char *remark);

/* A cost with the photos of its receipt: amount in minor units, remark NULL or blank for none. The
 * day is that of the first photo with a time; the cost is the trip's. Tells it and names the act.
 * BAD_INPUT: a negative amount, a remark that is too long or holds a control character, no photo;
 * NOT_FOUND: no such photo or trip. */
gboolean sw_receipt_enter (SwCatalogue *catalogue, gint64 trip, const gint64 *photos, gsize n,
                           SwMoney amount, const char *remark, GError **error);

G_END_DECLS
