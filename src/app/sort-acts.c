/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One function a kind of decision, each calling its like in core. No rule of its own. */
#include "app/sort-acts.h"

#include "core/catalogue/items.h"
#include "core/catalogue/photo-quality.h"
#include "core/match/sorting.h"

SwSort *
sw_sort_new (SwSortKind kind, gint64 trip, const GArray *photos, const char *text)
{
  SwSort *sort = g_new0 (SwSort, 1);

  sort->kind = kind;
  sort->trip = trip;
  sort->photos = g_array_new (FALSE, FALSE, sizeof (gint64));
  if (photos != NULL)
    g_array_append_vals (sort->photos, photos->data, photos->len);
  sort->text = g_strdup (text);
  return sort;
}

void
sw_sort_free (gpointer data)
{
  SwSort *sort = data;

  g_array_unref (sort->photos);
  g_free (sort->text);
  g_free (sort);
}

static const gint64 *
photos_of (const SwSort *sort)
{
  return (const gint64 *)(gconstpointer)sort->photos->data;
}

static gint64
first_of (const SwSort *sort)
{
  return sort->photos->len > 0 ? photos_of (sort)[0] : 0;
}

static gboolean
accept_one (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_sorting_accept (catalogue, sort->trip, sort->stop, NULL, error);
}

static gboolean
accept_sure (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_sorting_accept_band (catalogue, sort->trip, SW_BAND_SURE, NULL, error);
}

static gboolean
cut (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_sorting_cut (catalogue, sort->trip, first_of (sort), error);
}

static gboolean
join (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_sorting_join (catalogue, sort->trip, sort->stop, error);
}

static gboolean
move (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_sorting_move (catalogue, sort->trip, photos_of (sort), sort->photos->len, sort->stop,
                          error);
}

static gboolean
set_apart (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_sorting_set_apart (catalogue, sort->trip, photos_of (sort), sort->photos->len, error);
}

static gboolean
give (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_sorting_give (catalogue, sort->trip, sort->item, photos_of (sort), sort->photos->len,
                          error);
}

static gboolean
also (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_item_assign (catalogue, sort->item, photos_of (sort), sort->photos->len, TRUE, error);
}

static gboolean
another (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_sorting_give_another (catalogue, sort->trip, sort->item, photos_of (sort),
                                  sort->photos->len, error);
}

static gboolean
give_new (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_sorting_give_new (catalogue, sort->trip, sort->text, 0, photos_of (sort),
                              sort->photos->len, NULL, error);
}

static gboolean
no_item (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_sorting_no_item (catalogue, sort->trip, sort->text, photos_of (sort), sort->photos->len,
                             error);
}

static gboolean
open_again (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_item_unassign (catalogue, photos_of (sort), sort->photos->len, error);
}

static gboolean
set_cover (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_item_cover_set (catalogue, sort->item, first_of (sort), error);
}

static gboolean
turn (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_photo_turn (catalogue, first_of (sort), sort->quarters, error);
}

static gboolean
receipt (SwCatalogue *catalogue, const SwSort *sort, GError **error)
{
  return sw_sorting_receipt (catalogue, sort->trip, photos_of (sort), sort->photos->len,
                             sort->amount, sort->text, error);
}

static gboolean
sort_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  static gboolean (*const runs[SW_N_SORTS]) (SwCatalogue * catalogue, const SwSort *sort,
                                             GError **error)
      = {
          [SW_SORT_ACCEPT] = accept_one, [SW_SORT_ACCEPT_SURE] = accept_sure,
          [SW_SORT_CUT] = cut,           [SW_SORT_JOIN] = join,
          [SW_SORT_MOVE] = move,         [SW_SORT_APART] = set_apart,
          [SW_SORT_GIVE] = give,         [SW_SORT_ALSO] = also,
          [SW_SORT_ANOTHER] = another,   [SW_SORT_NEW] = give_new,
          [SW_SORT_NONE] = no_item,      [SW_SORT_OPEN] = open_again,
          [SW_SORT_COVER] = set_cover,   [SW_SORT_TURN] = turn,
          [SW_SORT_RECEIPT] = receipt,
        };
  const SwSort *sort = data;

  return runs[sort->kind](catalogue, sort, error);
}

void
sw_sort_send (SwStore *store, SwSort *sort, GObject *owner, SwActDone done)
{
  sw_store_act (store, sort_run, sort, sw_sort_free, owner, done);
}

void
sw_sort_try (SwStore *store, SwSort *sort, GObject *owner, SwTryDone done)
{
  sw_store_try (store, sort_run, sort, sw_sort_free, owner, done);
}
