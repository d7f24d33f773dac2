/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The states of an item, once: the window, the commands, the schema and the docs read this table.
 * Rules: each state is reachable from FOUND; ends lead nowhere (undo leads back); a test holds the
 * table to it. */
#pragma once

#include "core/base/language.h"

#include <glib.h>

G_BEGIN_DECLS

#define SW_TO(tag) (1u << SW_STATE_##tag)

/* What FOUND leads to besides READY, and READY too. */
#define SW_FROM_FOUND                                                                              \
  (SW_TO (ON_HOLD) | SW_TO (SOLD) | SW_TO (BRING_HOME) | SW_TO (FOR_SCRAP) | SW_TO (KEPT)          \
   | SW_TO (GIVEN_AWAY) | SW_TO (DISPOSED) | SW_TO (BROKEN_UP) | SW_TO (MISSING))

/* X (tag, key in the database, word, symbol, may become). */
#define SW_ITEM_STATES(X)                                                                          \
  X (FOUND, "found", N_ ("Found"), "sw-found-symbolic", SW_TO (READY) | SW_FROM_FOUND)             \
  X (READY, "ready", N_ ("Ready"), "sw-ready-symbolic",                                            \
     SW_TO (ON_OFFER) | SW_TO (FOUND) | SW_FROM_FOUND)                                             \
  X (ON_OFFER, "on-offer", N_ ("On offer"), "sw-on-offer-symbolic",                                \
     SW_TO (SOLD) | SW_TO (NO_SALE) | SW_TO (ON_HOLD) | SW_TO (MISSING) | SW_TO (READY)            \
         | SW_TO (AT_HOME))                                                                        \
  X (ON_HOLD, "on-hold", N_ ("On hold"), "sw-on-hold-symbolic",                                    \
     SW_TO (ON_OFFER) | SW_TO (READY) | SW_TO (FOUND) | SW_TO (AT_HOME) | SW_TO (SOLD)             \
         | SW_TO (KEPT) | SW_TO (GIVEN_AWAY) | SW_TO (MISSING))                                    \
  X (SOLD, "sold", N_ ("Sold"), "sw-sold-symbolic", SW_TO (HANDED_OVER) | SW_TO (NO_SALE))         \
  X (NO_SALE, "no-sale", N_ ("No sale"), "sw-no-sale-symbolic",                                    \
     SW_TO (READY) | SW_TO (ON_OFFER) | SW_TO (SOLD) | SW_TO (ON_HOLD) | SW_TO (BRING_HOME)        \
         | SW_TO (AT_HOME) | SW_TO (FOR_SCRAP) | SW_TO (KEPT) | SW_TO (GIVEN_AWAY)                 \
         | SW_TO (DISPOSED) | SW_TO (BROKEN_UP) | SW_TO (MISSING))                                 \
  X (BRING_HOME, "bring-home", N_ ("Bring home"), "sw-bring-home-symbolic",                        \
     SW_TO (AT_HOME) | SW_TO (READY) | SW_TO (FOUND) | SW_TO (ON_HOLD) | SW_TO (SOLD)              \
         | SW_TO (KEPT) | SW_TO (MISSING))                                                         \
  X (AT_HOME, "at-home", N_ ("At home"), "sw-at-home-symbolic",                                    \
     SW_TO (ON_OFFER) | SW_TO (ON_HOLD) | SW_TO (SOLD) | SW_TO (KEPT) | SW_TO (GIVEN_AWAY)         \
         | SW_TO (FOR_SCRAP) | SW_TO (DISPOSED) | SW_TO (BROKEN_UP) | SW_TO (MISSING))             \
  X (FOR_SCRAP, "for-scrap", N_ ("For scrap"), "sw-for-scrap-symbolic",                            \
     SW_TO (SCRAPPED) | SW_TO (READY) | SW_TO (FOUND) | SW_TO (SOLD) | SW_TO (KEPT)                \
         | SW_TO (GIVEN_AWAY) | SW_TO (DISPOSED) | SW_TO (MISSING))                                \
  X (MISSING, "missing", N_ ("Missing"), "sw-missing-symbolic", SW_TO (FOUND) | SW_TO (DISPOSED))  \
  X (HANDED_OVER, "handed-over", N_ ("Handed over"), "sw-handed-over-symbolic", SW_TO (NO_SALE))   \
  X (SCRAPPED, "scrapped", N_ ("Scrapped"), "sw-scrapped-symbolic", 0)                             \
  X (KEPT, "kept", N_ ("Kept"), "sw-kept-symbolic", 0)                                             \
  X (GIVEN_AWAY, "given-away", N_ ("Given away"), "sw-given-away-symbolic", 0)                     \
  X (DISPOSED, "disposed", N_ ("Disposed"), "sw-disposed-symbolic", 0)                             \
  X (BROKEN_UP, "broken-up", N_ ("Broken up"), "sw-broken-up-symbolic", 0)

#define SW_STATE_AS_ENUM(tag, key, word, icon, next) SW_STATE_##tag,
typedef enum
{
  SW_ITEM_STATES (SW_STATE_AS_ENUM) SW_N_STATES
} SwState;

/* What the database stores ("on-offer"). Static. */
const char *sw_state_key (SwState state);
/* What commands and tables write ("On offer"); to be translated in the window. Static. */
const char *sw_state_word (SwState state);
/* The name of its symbolic icon. Static. */
const char *sw_state_icon (SwState state);
/* Bits SW_TO (...) of what it may become. */
guint sw_state_next (SwState state);
/* By key, FALSE where there is none. */
gboolean sw_state_from_key (const char *key, SwState *out_state);
/* By word as a person types it, without case. Error: BAD_INPUT listing the words. */
gboolean sw_state_parse (const char *word, SwState *out_state, GError **error);
/* Still at the property or at home, with a decision or goods to come: everything but the ends,
 * HANDED_OVER and MISSING. */
gboolean sw_state_stands (SwState state);
/* "Ready, On hold, Sold or Kept": what the state may become, for refusals. Transfer full; "" for an
 * end. */
char *sw_state_next_words (SwState state);

G_END_DECLS
