/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The family's account as rows: shares of the takings, and what each person paid, took and holds.
 * Records of the catalogue layer; the sums are core/trade/account.h's. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* All of the takings, in the unit of SwShare.part. */
#define SW_SHARE_WHOLE 1000000

typedef struct
{
  gint64 id;
  char *person;
  gint64 part; /* ten-thousandths of a percent: 1000000 is all */
} SwShare;
void sw_share_free (SwShare *share);

/* The person's share; 0 takes it away. An act with its event. Error: BAD_INPUT. */
gboolean sw_share_set (SwCatalogue *catalogue, const char *person, gint64 part, GError **error);
/* GPtrArray of SwShare above 0 in the order in which the persons were first entered. Transfer full.
 */
GPtrArray *sw_share_list (SwCatalogue *catalogue, GError **error);
/* "33.3333", "50 %": at most four decimals. Error: BAD_INPUT. */
gboolean sw_share_parse (const char *text, gint64 *out_part, GError **error);
/* "33.3333" without needless zeros. Transfer full. */
char *sw_share_to_text (gint64 part);

/* X (tag, word in database and window). ADVANCE: got before a division; COST: paid from the own
 * pocket; TAKEN: a thing at its agreed value; PAYOUT: got at a division; HOLDS: the family's cash
 * that the person has in hand. */
#define SW_FAMILY_KINDS(X)                                                                         \
  X (ADVANCE, "advance")                                                                           \
  X (COST, "cost")                                                                                 \
  X (TAKEN, "taken")                                                                               \
  X (PAYOUT, "payout")                                                                             \
  X (HOLDS, "holds")
#define SW_FAMILY_KIND_AS_ENUM(tag, word) SW_FAMILY_##tag,
typedef enum
{
  SW_FAMILY_KINDS (SW_FAMILY_KIND_AS_ENUM) SW_N_FAMILY_KINDS
} SwFamilyKind;
const char *sw_family_kind_word (SwFamilyKind kind);

typedef struct
{
  gint64 id;
  char *person;
  SwFamilyKind kind;
  SwDay day;
  SwMoney amount;
  gint64 item; /* TAKEN: which; 0: not said */
  char *remark;
} SwFamilyEntry;
void sw_family_entry_free (SwFamilyEntry *entry);

/* entry->id is not read. Errors: BAD_INPUT, NOT_FOUND (the item). */
gboolean sw_family_entry_add (SwCatalogue *catalogue, const SwFamilyEntry *entry, gint64 *out_id,
                              GError **error);
/* It was a mistake; it stays in the history. Again is fine. */
gboolean sw_family_entry_withdraw (SwCatalogue *catalogue, gint64 id, GError **error);
/* Those that stand: GPtrArray of SwFamilyEntry by day, then in the order entered. Transfer full. */
GPtrArray *sw_family_entry_list (SwCatalogue *catalogue, GError **error);

G_END_DECLS
