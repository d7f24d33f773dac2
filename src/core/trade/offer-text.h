/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The text of an offer, composed from the facts. What was only guessed is never claimed: it is left
 * out, or named as not known; what somebody told is given as told, without who. Dangers stand with
 * the usual caution. Neither the place nor anybody's name or days is in it. Trade layer. */
#pragma once

#include "core/catalogue/deals.h"
#include "core/catalogue/going-out.h"

G_BEGIN_DECLS

/* Title and text of an offer (or sale) as its facts stand, in lines; the outlet's terms say how it
 * is paid and collected, 'extra' what is also to be had with it. Both transfer full. Errors:
 * NOT_FOUND. */
gboolean sw_offer_text_compose (SwCatalogue *catalogue, gint64 deal, char **out_title,
                                char **out_text, GError **error);

typedef struct
{
  char *title, *text;
  guint left_out; /* lines that the limit of the text left no room for */
} SwOfferText;
void sw_offer_text_clear (SwOfferText *text);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwOfferText, sw_offer_text_clear)

/* The same of items (gint64) that may not be on offer yet. outlet NULL: nothing is said of paying
 * and collecting; extra "" for nothing. A title that is too long is cut between words; of a text
 * that is too long what says least is left out, never condition, faults, lifting, dangers or terms.
 * Errors: NOT_FOUND; REFUSED where what must stand is too long. */
gboolean sw_offer_text_of_items (SwCatalogue *catalogue, const GArray *items, const char *outlet,
                                 const char *extra, const SwTextLimits *limits,
                                 SwOfferText *out_text, GError **error);

G_END_DECLS
