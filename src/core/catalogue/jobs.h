/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Jobs: what is to be done on site at an item or a place, with what and by how many. Records of the
 * catalogue layer. */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 id, item, place; /* one of them may be 0 */
  char *subject;          /* the item's name or the place's path */
  char *kind, *text, *tools;
  gint64 hands; /* people needed, at least 1 */
  gboolean done;
} SwJob;
void sw_job_free (SwJob *job);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwJob, sw_job_free)

/* "take off: from its bed", for a person. Transfer full. */
char *sw_job_words (const SwJob *job);

/* The kinds, NULL-terminated: photograph, measure, try, gather, clean, drain, take off, cut, tag,
 * load. Transfer none. */
const char *const *sw_job_kinds (void);

/* A job at an item or at a place (the other one 0), of one of the kinds; one act with its event. text
 * may be NULL; *out_id may be NULL. Errors: BAD_INPUT, NOT_FOUND. */
gboolean sw_job_add (SwCatalogue *catalogue, gint64 item, gint64 place, const char *kind,
                     const char *text, gint64 *out_id, GError **error);
/* The same with tools ("" or NULL: none) and hands (0 is taken as 1). */
gboolean sw_job_add_with (SwCatalogue *catalogue, gint64 item, gint64 place, const char *kind,
                          const char *text, const char *tools, gint64 hands, gint64 *out_id,
                          GError **error);
gboolean sw_job_set_done (SwCatalogue *catalogue, gint64 id, gboolean done, GError **error);
/* It need not be done. NOT_FOUND once withdrawn. */
gboolean sw_job_withdraw (SwCatalogue *catalogue, gint64 id, GError **error);
/* Those not withdrawn, in the order added; item 0: of every item and place. GPtrArray of SwJob,
 * transfer full. */
GPtrArray *sw_job_list (SwCatalogue *catalogue, gint64 item, GError **error);

G_END_DECLS
