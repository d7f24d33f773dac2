/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A list of items for the window: their numbers in order at once, with the rows it begins with; the
 * others are read page by page on the catalogue thread, those that are looked at first. Text only;
 * no widget. Everything but sw_item_query_run belongs on the main thread. */
#pragma once

#include "app/store.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* An item's scrap floor, where one can be worked out. */
typedef struct
{
  gboolean has_floor;
  SwMoney floor;
} SwItemWorth;

/* Counted. Its numbers and their order never change; its rows come. */
typedef struct _SwItemList SwItemList;
SwItemList *sw_item_list_ref (SwItemList *list);
void sw_item_list_unref (gpointer list);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwItemList, sw_item_list_unref)

/* How many items, and the number of item i; known from the first. */
guint sw_item_list_length (const SwItemList *list);
gint64 sw_item_list_number (const SwItemList *list, guint i);
/* NULL where the row is not read yet: its page is then the next to be read. Valid while the list
 * is, and until its rows are taken over. */
const SwItem *sw_item_list_look (SwItemList *list, guint i);
/* Of a row that is read. */
const SwItemWorth *sw_item_list_worth (const SwItemList *list, guint i);

/* Takes the rows of the list that was shown before for those not read yet, so that nothing blinks;
 * they are read anew all the same. 'before' shows its numbers from then on. */
void sw_item_list_take_over (SwItemList *list, SwItemList *before);

/* Reads what is missing until all is there, 'owner' is gone or it is cancelled. 'told' follows each
 * page: these rows say something now. */
typedef void (*SwItemListTold) (gpointer owner, guint first, guint n);
void sw_item_list_read_on (SwItemList *list, SwStore *store, GCancellable *cancellable,
                           GObject *owner, SwItemListTold told);

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
