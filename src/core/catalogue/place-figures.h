/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the plan shows of its places: what still stands there, what waits, whether somebody was
 * there. Read in a handful of passes for all places at once. Records of the catalogue layer. */
#pragma once

#include "core/base/mass.h"
#include "core/base/money.h"
#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef enum
{
  SW_PLACE_NOT_WALKED, /* no item, photo, note or stop of it, and nobody said so */
  SW_PLACE_WALKED,
  SW_PLACE_EMPTY,     /* walked, and nothing stands there (any more) */
  SW_PLACE_ELSEWHERE, /* off the property: nobody walks there */
  SW_N_PLACE_STATUS,
} SwPlaceStatus;
/* "Not walked yet", "Walked", "Empty", "Off the property", and the name of its symbol. Static. */
const char *sw_place_status_word (SwPlaceStatus status);
const char *sw_place_status_icon (SwPlaceStatus status);

/* With the places inside it, as the list of its items has them. */
typedef struct
{
  gint64 place;
  int items;         /* all ever */
  int standing;      /* items whose state still stands (sw_state_stands) */
  int by_state[32];  /* items by SwState */
  SwMoney asking;    /* of the standing ones that have a price */
  SwMass mass;       /* of the standing ones whose mass is known */
  int to_decide;     /* Found or No sale */
  int to_photograph; /* standing, without a photo or with that job open */
  int to_collect;    /* sold and not collected */
  int photos;        /* photos of its items; a photo of items in two rooms counts in both */
  SwPlaceStatus status;
} SwPlaceSummary;
/* GArray of SwPlaceSummary, by place id; places without items are there too. Transfer full. */
GArray *sw_place_summaries (SwCatalogue *catalogue, GError **error);

G_END_DECLS
