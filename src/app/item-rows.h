/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items as rows of a list: joins core's items with the row provider. Text only; no widget. */
#pragma once

#include "app/rows.h"
#include "app/store.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* An item's scrap floor, where one can be worked out. */
typedef struct
{
  gboolean has_floor;
  SwMoney floor;
} SwItemWorth;

/* Items as they were read, with their floors; immutable, counted. */
typedef struct
{
  gatomicrefcount count;
  GPtrArray *items; /* SwItem */
  GArray *worth;    /* SwItemWorth, one an item */
} SwItemList;
SwItemList *sw_item_list_ref (SwItemList *list);
void sw_item_list_unref (gpointer list);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwItemList, sw_item_list_unref)

/* 'with_place' names the place in each row. Transfer full. */
SwRows *sw_item_rows_new (SwStore *store, SwItemList *list, gboolean with_place);

/* What is asked for; empty fields ask for all. For sw_store_read with sw_item_query_run. */
typedef struct
{
  gint64 place, trip, outlet; /* 0: all */
  gboolean has_state;
  SwState state;
  guint needs; /* SwItemNeed */
  gboolean has_asking_least, has_asking_most, has_mass_least, has_mass_most;
  SwMoney asking_least, asking_most;
  SwMass mass_least, mass_most;
  SwItemOrder order;
  gboolean descending;
  char *search; /* NULL: all */
  /* Likeliest first, where it is asked for: these items in this order, then those of the place. */
  GArray *likely; /* gint64; NULL: by number */
  gint64 likely_place;
  gint64 leave_out; /* the one item that is not asked for; 0: none */
} SwItemQuery;
SwItemQuery *sw_item_query_new (gint64 place, const char *search);
/* likely is copied. */
void sw_item_query_set_likely (SwItemQuery *query, const GArray *likely, gint64 place);
void sw_item_query_free (gpointer query);
/* An SwWorkFunc: SwItemList. */
gpointer sw_item_query_run (SwCatalogue *catalogue, gpointer query, GCancellable *cancellable,
                            GError **error);

G_END_DECLS
