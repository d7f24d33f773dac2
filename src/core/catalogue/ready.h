/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an item must have to become Ready, once: the steps refuse by it and the window shows it.
 * Knows no database: an item in, words out. */
#pragma once

#include "core/base/language.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* X (tag, what is lacking). In the order a person would see to it. */
#define SW_READY_NEEDS(X)                                                                          \
  X (NAME, N_ ("a name of its own"))                                                               \
  X (PLACE, N_ ("a place"))                                                                        \
  X (COUNT, N_ ("a count"))                                                                        \
  X (ASKING, N_ ("an asking price"))                                                               \
  X (CLAIM, N_ ("an answer to the open claim"))

#define SW_READY_AS_ENUM(tag, lacking) SW_READY_##tag,
typedef enum
{
  SW_READY_NEEDS (SW_READY_AS_ENUM) SW_N_READY_NEEDS
} SwReadyNeed;

/* Bits 1 << SwReadyNeed of what the item lacks; 0: nothing. */
guint sw_item_lacks (const SwItem *item);
/* "a name of its own and an asking price"; NULL for no bits. Transfer full. */
char *sw_ready_lacking_words (guint lacks);

G_END_DECLS
