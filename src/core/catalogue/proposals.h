/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stored proposals: the stops of a trip and what each is thought to show. Records of the catalogue
 * layer; the match layer makes them. A proposal holds nothing: what a person decided stands in the
 * items' photos. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 trip;
  int position;     /* 1, 2, 3 along the trip: the stop's number */
  gint64 item;      /* 0: a new thing, or no item where !is_new */
  gboolean is_new;  /* a new item would be made on accepting */
  char *name;       /* the item's, or the neutral name of a new one; NULL for no item */
  gint64 place;     /* 0: unknown */
  char *place_path; /* read only; NULL where unknown */
  double probability;
  char *band; /* sure, doubtful, unknown */
  char *reason;
  GArray *photos; /* gint64 numbers in time order */
  int n_open;     /* read only: photos that nobody decided yet; 0: nothing left to accept */
} SwStopRecord;
SwStopRecord *sw_stop_record_new (void);
void sw_stop_record_free (SwStopRecord *stop);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwStopRecord, sw_stop_record_free)

/* The trip's stops by position; empty where none are stored. GPtrArray of SwStopRecord, transfer
 * full. */
GPtrArray *sw_proposal_list (SwCatalogue *catalogue, gint64 trip, GError **error);
/* Puts these in place of the trip's stored ones; positions are given by the order. *out_changed:
 * whether anything differs now. Writes nothing where all is the same. Tells nothing: the caller's
 * act names it. */
gboolean sw_proposal_replace (SwCatalogue *catalogue, gint64 trip, GPtrArray *stops,
                              gboolean *out_changed, GError **error);
/* The stop's new thing has become an item. Tells nothing. */
gboolean sw_proposal_set_item (SwCatalogue *catalogue, gint64 trip, int position, gint64 item,
                               GError **error);

G_END_DECLS
