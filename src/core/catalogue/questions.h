/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Questions about items: who knows, by when, whether the person was asked, who answered when.
 * Records of the catalogue layer. */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 id, item;
  char *item_name, *place_path; /* of the item, for call lists */
  char *text, *person;          /* person NULL: nobody named */
  char *answer, *answered_by;   /* NULL: none yet */
  gboolean has_by, asked, has_answered, withdrawn;
  SwDay by;
  SwInstant asked_at, answered_at;
} SwQuestion;
void sw_question_free (SwQuestion *question);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwQuestion, sw_question_free)

/* Something to find out of an item: of whom (NULL: nobody named), by when (NULL: no day). One act
 * with its event; *out_id may be NULL. Errors: BAD_INPUT, NOT_FOUND (the item). */
gboolean sw_question_add (SwCatalogue *catalogue, gint64 item, const char *text, const char *person,
                          const SwDay *by, gint64 *out_id, GError **error);
/* Takes the answer as given by the person asked. "mine" claims the item for that person; "not mine"
 * settles that person's claim. A later answer takes the place of the earlier one, which stays in
 * the history. REFUSED where the question was withdrawn. */
gboolean sw_question_answer (SwCatalogue *catalogue, gint64 id, const char *answer, GError **error);
/* The same, answered by somebody else than the one asked; by_whom NULL: by the one asked. */
gboolean sw_question_answer_by (SwCatalogue *catalogue, gint64 id, const char *answer,
                                const char *by_whom, GError **error);
/* It was put to the person (TRUE), or not after all. */
gboolean sw_question_set_asked (SwCatalogue *catalogue, gint64 id, gboolean asked, GError **error);
/* Nobody need find out any more; again is fine. */
gboolean sw_question_withdraw (SwCatalogue *catalogue, gint64 id, GError **error);
/* Those not withdrawn; item 0: of all items. GPtrArray of SwQuestion, transfer full. */
GPtrArray *sw_question_list (SwCatalogue *catalogue, gint64 item, GError **error);
/* Those open (no answer, not withdrawn), by person, then by when, then by place. person NULL: of
 * everybody; "": where nobody is named. */
GPtrArray *sw_question_open (SwCatalogue *catalogue, const char *person, GError **error);

G_END_DECLS
