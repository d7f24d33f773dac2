/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person decides on the strip, as it is sent to the catalogue thread. What may be done and
 * how it is said is core's business; the answer comes with the store's "told". */
#pragma once

#include "app/store.h"

G_BEGIN_DECLS

typedef enum
{
  SW_SORT_ACCEPT, /* stop */
  SW_SORT_ACCEPT_SURE,
  SW_SORT_CUT,     /* before the first of photos */
  SW_SORT_JOIN,    /* stop, with the one before it */
  SW_SORT_MOVE,    /* photos, to stop */
  SW_SORT_APART,   /* photos, a stop of their own */
  SW_SORT_GIVE,    /* photos, to item */
  SW_SORT_ALSO,    /* photos, show item too */
  SW_SORT_ANOTHER, /* photos, one more of item */
  SW_SORT_NEW,     /* photos, text: the name, "" for none yet */
  SW_SORT_NONE,    /* photos, text: the kind */
  SW_SORT_OPEN,    /* photos, open again */
  SW_SORT_COVER,   /* of item, the first of photos */
  SW_SORT_TURN,    /* the first of photos, by quarters */
  SW_SORT_RECEIPT, /* photos, text: what the cost was for; amount */
  SW_N_SORTS,
} SwSortKind;

typedef struct
{
  SwSortKind kind;
  gint64 trip, stop, item;
  GArray *photos; /* gint64; owned, may be NULL where not read */
  char *text;     /* owned */
  int quarters;   /* of a turn, clockwise */
  SwMoney amount; /* of a receipt */
} SwSort;

/* photos and text are copied. */
SwSort *sw_sort_new (SwSortKind kind, gint64 trip, const GArray *photos, const char *text);
void sw_sort_free (gpointer sort);
/* sort: transfer full. owner and done as in sw_store_act. */
void sw_sort_send (SwStore *store, SwSort *sort, GObject *owner, SwActDone done);
/* The same from a form that stays open until it is done; as in sw_store_try. */
void sw_sort_try (SwStore *store, SwSort *sort, GObject *owner, SwTryDone done);

G_END_DECLS
