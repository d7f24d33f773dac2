/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the records of things said of an item (facts, questions, jobs, claims, prices) check and
 * tell alike. Private to core/catalogue. */
#pragma once

#include "core/catalogue/act.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* FALSE with "'what' is a, b or c, not 'word'." */
gboolean sw_said_is_one_of (const char *word, const char *const *words, gsize n, const char *what,
                            GError **error);
/* A person's name; NULL and "" are both nobody. */
gboolean sw_said_check_person (const char *person, GError **error);
/* NULL for nothing but blanks. Transfer full. */
char *sw_said_tidy (const char *text);
/* Tells of the item and commits. */
gboolean sw_said_commit (SwAct *act, gint64 item, const char *verb, const char *sentence,
                         GError **error);
/* As sw_said_commit; the item's revision moves on too, and what is found of it is worked out anew.
 */
gboolean sw_said_commit_found (SwAct *act, gint64 item, const char *verb, const char *sentence,
                               GError **error);

G_END_DECLS
