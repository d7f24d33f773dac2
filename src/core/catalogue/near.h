/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names close to what a person typed, for sentences that say what there is. Private to
 * core/catalogue. Knows no table: names in, words out. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Collects at most three names close to one typed: equal but for case first, then one that begins
 * with the other, then the smallest edit distance (insertions, deletions, exchanges, swapped
 * neighbours; at most a quarter of the letters, at least 1). */
typedef struct _SwNear SwNear;
SwNear *sw_near_new (const char *typed);
void sw_near_free (SwNear *near_names);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwNear, sw_near_free)
void sw_near_consider (SwNear *near_names, const char *name);
/* "'Packing shed' or 'Press house'", NULL where none is close. Transfer full. */
char *sw_near_words (const SwNear *near_names);

/* 'text' as a whole number of at most 18 digits. */
gboolean sw_near_is_number (const char *text, gint64 *out_number);

G_END_DECLS
