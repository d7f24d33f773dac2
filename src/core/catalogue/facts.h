/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Facts: what is said of an item, each with its source. Nothing is erased: a changed or withdrawn
 * fact stays in the history. Records of the catalogue layer. */
#pragma once

#include "core/base/language.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* Kinds with a meaning of their own; any other kind is the person's word ("maker", "length"). */
#define SW_FACT_CONDITION N_ ("condition")
#define SW_FACT_WRONG N_ ("what is wrong")
#define SW_FACT_BELONGS N_ ("belongs to it") /* 'place' says where that stands */
#define SW_FACT_STORY N_ ("story")
#define SW_FACT_REMARK N_ ("remark") /* of a field note: a word to oneself, for no buyer */
#define SW_FACT_DANGER N_ ("danger") /* text: a word of dangers.h */

typedef struct
{
  gint64 id, item, place; /* place 0: none */
  char *kind, *text, *source, *by_whom;
  char *place_path; /* NULL: none */
} SwFact;
void sw_fact_free (SwFact *fact);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwFact, sw_fact_free)

/* source: "seen", "tried", "told" (needs by_whom) or "guessed". Errors: BAD_INPUT, NOT_FOUND. */
gboolean sw_fact_add (SwCatalogue *catalogue, gint64 item, const char *kind, const char *text,
                      const char *source, const char *by_whom, gint64 *out_id, GError **error);
/* The only fact of that kind from now on: the standing one is changed, or one is added. Text "" or
 * NULL withdraws it. For what an item has one of (condition, what is wrong, story). */
gboolean sw_fact_set (SwCatalogue *catalogue, gint64 item, const char *kind, const char *text,
                      const char *source, const char *by_whom, GError **error);
/* Says it otherwise; what it said before stands in the history. The same again changes nothing.
 * REFUSED once withdrawn. */
gboolean sw_fact_edit (SwCatalogue *catalogue, gint64 id, const char *text, const char *source,
                       const char *by_whom, GError **error);
/* Where what belongs to the item stands; 0: not known. */
gboolean sw_fact_set_place (SwCatalogue *catalogue, gint64 id, gint64 place, GError **error);
/* It is not said any more; again is fine. */
gboolean sw_fact_withdraw (SwCatalogue *catalogue, gint64 id, GError **error);
/* Those that stand, in the order added: GPtrArray of SwFact, transfer full. */
GPtrArray *sw_fact_list (SwCatalogue *catalogue, gint64 item, GError **error);
/* Texts of that kind that stand anywhere, most used first, at most 200: for completion. Transfer
 * full GPtrArray of char *. */
GPtrArray *sw_fact_texts (SwCatalogue *catalogue, const char *kind, GError **error);

G_END_DECLS
