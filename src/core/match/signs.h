/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the codes on a trip's photos mean: cards of places and tags of this catalogue, and remarks
 * on the rest. Match layer. A code is text to compare, nothing more: never opened, run or looked
 * up. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 photo;
  gint64 place;  /* whose card it shows; 0: none */
  gboolean card; /* the photo is of the card, not of a thing with the card somewhere behind it */
  gint64 tag;    /* the tag it is a photo of; 0: none */
  GArray *seen;  /* gint64: all tags it shows, by number */
  char *remark;  /* what was ignored and why, or NULL */
} SwSign;

/* By photo; photos without any code are left out. trip 0: all. GPtrArray of SwSign, transfer full.
 * Errors of the database. */
GPtrArray *sw_signs_load (SwCatalogue *catalogue, gint64 trip, GError **error);
/* The photo's sign in that list, or NULL. */
const SwSign *sw_signs_find (const GPtrArray *signs, gint64 photo);

G_END_DECLS
