/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items as rows of a list: joins core's items with the row provider. Text only; no widget. */
#pragma once

#include "app/rows.h"
#include "app/store.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* items: GPtrArray of SwItem, transfer full. 'with_place' names the place in each row. Transfer
 * full. */
SwRows *sw_item_rows_new (SwStore *store, GPtrArray *items, gboolean with_place);

/* Reads items on the catalogue thread: for sw_store_read, with an SwItemQuery as data. */
typedef struct
{
  gint64 place; /* 0: all */
  char *search; /* NULL: all */
  /* Likeliest first, where it is asked for: these items in this order, then those of the place. */
  GArray *likely; /* gint64; NULL: by number */
  gint64 likely_place;
} SwItemQuery;
SwItemQuery *sw_item_query_new (gint64 place, const char *search);
/* likely is copied. */
void sw_item_query_set_likely (SwItemQuery *query, const GArray *likely, gint64 place);
void sw_item_query_free (gpointer query);
/* An SwWorkFunc: GPtrArray of SwItem. */
gpointer sw_item_query_run (SwCatalogue *catalogue, gpointer query, GCancellable *cancellable,
                            GError **error);

G_END_DECLS
