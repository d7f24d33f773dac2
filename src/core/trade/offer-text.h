/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The text of an offer, composed from the facts. What was only guessed is never claimed: it is left
 * out, or named as not known; what somebody told is given as told, without who. Dangers stand with
 * the usual caution. Neither the place nor anybody's name or days is in it. Trade layer. */
#pragma once

#include "core/catalogue/deals.h"

G_BEGIN_DECLS

/* Title and text of an offer (or sale) as its facts stand, in lines; the outlet's terms say how it
 * is paid and collected, 'extra' what is also to be had with it. Both transfer full. Errors:
 * NOT_FOUND. */
gboolean sw_offer_text_compose (SwCatalogue *catalogue, gint64 deal, char **out_title,
                                char **out_text, GError **error);

G_END_DECLS
