/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All that an item's sheet shows, read in one go on the catalogue thread. Plain data; no widget. */
#pragma once

#include "core/catalogue/act.h"
#include "core/catalogue/items.h"
#include "core/catalogue/photos.h"
#include "core/trade/scrap.h"

G_BEGIN_DECLS

typedef struct
{
  SwItem *item;
  gint64 *photos;
  char **captions; /* NULL-terminated, one a photo */
  guint n_photos;
  GPtrArray *facts;     /* SwFact */
  GPtrArray *questions; /* SwQuestion */
  GPtrArray *claims;    /* SwClaimSaid, of this item */
  GPtrArray *jobs;      /* SwJob */
  GPtrArray *prices;    /* SwPrice */
  SwItemFloor floor;
  char *today;                /* in the catalogue's zone, written out */
  GPtrArray *events;          /* SwEvent, newest first */
  char **event_days;          /* NULL-terminated, one an event: its day in the catalogue's zone */
  SwMoney each;               /* asking of one of the count; only where item->has_asking */
  char *why_not[SW_N_STATES]; /* of states the table leads to; NULL: may be taken */
  char *origin;               /* name of the item it was split from; NULL: none */
  char *tags;                 /* "tag 7, tag 12"; NULL: none */
} SwSheetData;

void sw_sheet_data_free (gpointer data);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwSheetData, sw_sheet_data_free)

/* An SwWorkFunc; data points to the item's number. */
gpointer sw_sheet_data_read (SwCatalogue *catalogue, gpointer number, GCancellable *cancellable,
                             GError **error);

/* "10:42:05 on 14 March 2026, DSC_0042.JPG"; transfer full. */
char *sw_photo_time_and_name (SwCatalogue *catalogue, const SwPhoto *photo);
/* "10:42 on 14 March 2026, phone": what is said of a photo, and of a code on it that was ignored.
 * Transfer full. */
char *sw_photo_caption (SwCatalogue *catalogue, const SwPhoto *photo);

G_END_DECLS
