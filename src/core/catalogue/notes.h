/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Field notes: lines jotted on site. Records of the catalogue layer; how a file of them is read is
 * the match layer's. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 id, trip;
  SwInstant at;
  int resolution_s;   /* 60: to the minute, so written somewhere in it; else 1 */
  gint64 place, item; /* 0: none; no item means 'I am here now' */
  char *place_path;   /* read only; NULL without a place */
  char *what;         /* the item's name as it was written; "" for 'here now' */
  gint64 count;       /* 0: not said */
  char *remark;       /* "" for none */
} SwNote;
void sw_note_free (SwNote *note);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwNote, sw_note_free)

/* Adds a note unless the trip has the very same one (time, place, what, count, remark): *out_added
 * says which. Fills note->id where added. Part of an act of the caller's or its own. */
gboolean sw_note_add (SwCatalogue *catalogue, SwNote *note, gboolean *out_added, GError **error);
/* By time, then number. Transfer full, of SwNote. */
GPtrArray *sw_note_list (SwCatalogue *catalogue, gint64 trip, GError **error);

G_END_DECLS
