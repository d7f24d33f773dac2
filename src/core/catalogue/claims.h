/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Claims: what each person says of wanting an item. The item's own claim is their summary: 'mine'
 * before 'open', the earliest of equals. Two who say 'mine' are a clash, which people settle.
 * Records of the catalogue layer. */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 item;
  char *item_name, *place_path;
  char *person; /* "" where nobody was named */
  SwClaim says;
  SwInstant at;
} SwClaimSaid;
void sw_claim_said_free (SwClaimSaid *said);

/* What the person says from now on; person NULL or "" is somebody not named. An act with its event.
 * Whoever is Ready with an open claim falls back to Found. */
gboolean sw_claim_set (SwCatalogue *catalogue, gint64 item, const char *person, SwClaim says,
                       GError **error);
/* Everything said of the item (0: of all items), 'mine' first, then 'open', then 'none', each in
 * the order said. GPtrArray of SwClaimSaid, transfer full. */
GPtrArray *sw_claim_list (SwCatalogue *catalogue, gint64 item, GError **error);
/* Items that more than one person says are theirs: GArray of gint64 by number, transfer full. */
GArray *sw_claim_clashes (SwCatalogue *catalogue, GError **error);

/* For items.c, within its act: writes what was said (person NULL and NONE: everything is settled)
 * and reads the summary into *out_claim and *out_by (transfer full, NULL for nobody named).
 * *out_others (transfer full or NULL): who else says 'mine'. */
gboolean sw_claim_write (SwCatalogue *catalogue, gint64 item, const char *person, SwClaim says,
                         SwClaim *out_claim, char **out_by, char **out_others, GError **error);

G_END_DECLS
