/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is sold and still stands on the property, buyer by buyer: what each fetches, where it
 * stands, what is due, and by when. Trip layer; read only. */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

typedef struct
{
  SwItem *item;
  gint64 deal;
  char *ref;
  gboolean delivered; /* its sale bears money for delivery */
} SwHandOverThing;

typedef struct
{
  char *buyer;       /* NULL: nobody named; then each sale stands by itself */
  GPtrArray *things; /* SwHandOverThing, by place as the list of places has them, then number */
  SwMoney due;       /* of all its sales; deliveries with it */
  gboolean has_deadline;
  SwDay deadline;       /* the earliest last day to collect by an outlet's terms */
  gboolean before_trip; /* that lies before the trip begins */
} SwHandOver;
void sw_hand_over_free (SwHandOver *hand_over);

/* By deadline (those without one last), then buyer. A sale counts while its items are Sold and it
 * is neither collected nor fallen through; things at home are left out. GPtrArray of SwHandOver,
 * transfer full. Errors: those of the database, overflow. */
GPtrArray *sw_hand_over_list (SwCatalogue *catalogue, SwDay trip_first, GError **error);

G_END_DECLS
