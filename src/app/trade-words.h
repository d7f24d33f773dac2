/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words for completing what is typed: names of things that stand about on such a property, their
 * conditions, and what is wrong with them. Common words of the trades, to be translated. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Names, sorted. Static, as are the others. */
const char *const *sw_trade_words (guint *out_n);
/* At most nine, from best to worst. */
const char *const *sw_trade_conditions (guint *out_n);
const char *const *sw_trade_faults (guint *out_n);

G_END_DECLS
