/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is kept of an offer beside its money: the round it went up in, title and text, the outlet's
 * own reference, and a result that was caught and waits to be confirmed. Records of the catalogue
 * layer. */
#pragma once

#include "core/catalogue/deals.h"

G_BEGIN_DECLS

typedef struct
{
  gboolean has_hoped;
  SwMoney hoped;              /* what the seller hopes for */
  gint64 round;               /* 0: none */
  char *round_title;          /* read only; NULL: none */
  char *own_ref;              /* the outlet's own reference; NULL: not up yet, or not noted */
  char *title, *text, *extra; /* "" where not written; extra: also to be had with it */
} SwOfferNote;
void sw_offer_note_free (SwOfferNote *note);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwOfferNote, sw_offer_note_free)

/* Changes; NULL fields stay. own_ref "": not known any more. An act with its event. Errors:
 * BAD_INPUT, NOT_FOUND (no such offer). */
typedef struct
{
  const SwMoney *hoped;
  const gint64 *round; /* 0: of no round */
  const char *own_ref, *title, *text, *extra;
} SwOfferNoteChange;
gboolean sw_offer_note_change (SwCatalogue *catalogue, gint64 deal, const SwOfferNoteChange *change,
                               GError **error);
SwOfferNote *sw_offer_note_get (SwCatalogue *catalogue, gint64 deal, GError **error);
/* The latest other offer of just the same items, by the day it was up: *out_deal 0 where there is
 * none. */
gboolean sw_offer_before (SwCatalogue *catalogue, gint64 deal, gint64 *out_deal, GError **error);
/* Running offers of the outlet (0: of any) that bear that reference, without case: GArray of
 * gint64, transfer full. */
GArray *sw_offer_by_own_ref (SwCatalogue *catalogue, gint64 outlet, const char *own_ref,
                             GError **error);

/* The round of that title, made where there is none. Error: BAD_INPUT. */
gboolean sw_round_ensure (SwCatalogue *catalogue, const char *title, gint64 *out_id,
                          GError **error);

/* The offer is of the round of that title from now on, which is made where there is none; "": of no
 * round. One act with its event; nothing is written where it stands so already. Errors: BAD_INPUT,
 * NOT_FOUND (no such offer). */
gboolean sw_offer_into_round (SwCatalogue *catalogue, gint64 deal, const char *title,
                              GError **error);

/* The title of a round. Error: NOT_FOUND. Transfer full. */
char *sw_round_title (SwCatalogue *catalogue, gint64 id, GError **error);

typedef struct
{
  gint64 id;
  char *title;
  guint offered, sold, no_sale, withdrawn; /* offers of it, and how they ended */
  gboolean has_up;                         /* FALSE: no offer yet */
  SwDay up;                                /* the first day that one of them was up */
} SwOfferRound;
void sw_offer_round_free (SwOfferRound *round);
/* GPtrArray of SwOfferRound in the order in which they were begun. Transfer full. */
GPtrArray *sw_offer_round_list (SwCatalogue *catalogue, GError **error);

/* A result seen as the offer closed, not confirmed yet; the next one of the offer takes its place.
 */
typedef struct
{
  SwResult result; /* SOLD or NO_SALE */
  SwMoney amount;  /* SOLD */
  char *verdict;   /* a word of run-sheet.h; NULL: none yet */
  SwInstant at;    /* when it was caught */
} SwCaught;
void sw_caught_clear (SwCaught *caught);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwCaught, sw_caught_clear)

/* caught->at is not read: it is now. 'sentence' names the act and its event. */
gboolean sw_caught_put (SwCatalogue *catalogue, gint64 deal, const SwCaught *caught,
                        const char *sentence, GError **error);
/* Nothing was caught of it any more; again is fine. */
gboolean sw_caught_remove (SwCatalogue *catalogue, gint64 deal, const char *sentence,
                           GError **error);
/* *out_found FALSE where nothing waits. */
gboolean sw_caught_get (SwCatalogue *catalogue, gint64 deal, gboolean *out_found,
                        SwCaught *out_caught, GError **error);
/* Deals with a caught result: GArray of gint64 by closing time, then ref. Transfer full. */
GArray *sw_caught_list (SwCatalogue *catalogue, GError **error);

G_END_DECLS
