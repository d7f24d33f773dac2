/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names of things that stand about on such a property, for completing what is typed. Common words
 * of the trades; sorted. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Static. */
const char *const *sw_trade_words (guint *out_n);

G_END_DECLS
