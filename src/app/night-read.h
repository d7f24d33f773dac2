/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All that the closing night shows, read in one go on the catalogue thread. Plain data; no widget.
 */
#pragma once

#include "core/trade/run-sheet.h"

G_BEGIN_DECLS

/* Which night is to be read. */
typedef struct
{
  guint read;            /* of sw_night_begin_read (); comes back with what was read */
  gboolean has_span;     /* stay at the night of that span while it has offers */
  SwInstant from, until; /* the span */
  SwInstant now;
  gboolean next; /* the next one instead */
} SwNightWish;

typedef struct
{
  guint read;
  gboolean found; /* FALSE: nothing closes */
  SwInstant from, until;
  SwDay day, day_before; /* of this night and of the one before, in the catalogue's zone */
  SwRunNight before;     /* the one before it that lacks results; open 0: none */
  GPtrArray *rows;       /* SwRunRow; taken by whoever keeps them */
  SwRunTotals totals;
} SwNightRead;

void sw_night_read_free (gpointer read);

/* An SwWorkFunc; data is an SwNightWish. Makes an SwNightRead. */
gpointer sw_night_read (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable,
                        GError **error);

G_END_DECLS
