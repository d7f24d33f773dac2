/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each field of the deciding round offers, and what typed words mean in it. Plain data; no
 * widget. */
#pragma once

#include "app/decide-data.h"

G_BEGIN_DECLS

/* One key sets something in this field. */
gboolean sw_decide_word_is_offered (SwDecideField field);
/* What is set by the keys 1 to 9 and 0, in a fixed order; the strings belong to data or are static.
 * Transfer container; may be empty. */
GPtrArray *sw_decide_words (const SwDecideData *data, SwDecideField field);
gboolean sw_decide_word_is_set (const SwDecideData *data, SwDecideField field, guint which);
/* The value of that one, without a source; FALSE where there is none. */
gboolean sw_decide_word_value (const SwDecideData *data, SwDecideField field, guint which,
                               SwDecideValue *out_value);
/* What typing is completed from: the person's own words, then the trades'. Transfer container. */
GPtrArray *sw_decide_completion (const SwDecideData *data, SwDecideField field);

/* The number of a typed class of LIFTED or RIDES, by its word or how it begins; 0 and a sentence
 * (transfer full) where it is none. */
gint64 sw_decide_word_number (SwDecideField field, const char *text, char **out_why);
/* "Ada: does it turn?" asks Ada; a question mark without a colon is a question to nobody named;
 * anything else is a person, asked what they know. */
void sw_decide_word_question (const char *text, SwDecideValue *out_value);
/* What stands already in a field that is added to, each with its source or person; NULL: nothing.
 * Transfer full. */
char *sw_decide_word_standing (const SwDecideData *data, SwDecideField field);

G_END_DECLS
