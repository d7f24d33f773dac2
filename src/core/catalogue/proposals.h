/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stored proposals: the stops of a trip and what each is thought to show. Records of the catalogue
 * layer; the match layer makes them. A proposal holds nothing: what a person decided stands in the
 * items' photos and in the cuts. Stops are known by their first photo; they are no part of an act's
 * changeset, since they can be worked out again. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* What a person said of a photo beside the numbers of items. */
enum
{
  SW_STOP_NO_ITEM = 0,
  SW_STOP_OPEN = -1, /* nothing yet */
};

/* Another thing that one of a stop's photos shows beside the stop's own. */
typedef struct
{
  gint64 photo;
  gint64 item; /* 0: the thing of the tag, which is no item yet */
  gint64 tag;  /* 0: it is not a tag that tells */
  char *name;  /* the item's, or "tag N" */
  char *reason;
} SwStopAlso;
SwStopAlso *sw_stop_also_new (gint64 photo, gint64 item, gint64 tag, const char *name,
                              const char *reason);
void sw_stop_also_free (SwStopAlso *also);

typedef struct
{
  gint64 trip;
  int position; /* read only: 1, 2, 3 along the trip, the stop's number */
  gboolean timed;
  gint64 start_us;  /* property time of its first photo, as if in UTC; only where timed */
  gint64 item;      /* 0: a new thing, or no item where !is_new */
  gboolean is_new;  /* a new item would be made on accepting */
  char *name;       /* the item's, or the neutral name of a new one; NULL for no item */
  gint64 place;     /* 0: unknown */
  char *place_path; /* read only; NULL where unknown */
  double probability;
  char *band; /* sure, doubtful, unknown */
  char *reason;
  GArray *photos;  /* gint64 numbers in time order, at least one; the first is the stop's key */
  GPtrArray *also; /* SwStopAlso, in the order given: proposed, and not taken over yet */
  /* read only: */
  GArray *decided;    /* gint64, beside photos: an item, SW_STOP_NO_ITEM or SW_STOP_OPEN */
  int n_open;         /* photos that nobody decided yet; 0: nothing left to accept */
  char *decided_name; /* of the first item that was decided; NULL: none */
  char *no_item_kind; /* building, paper, receipt, mistake or ""; NULL: no photo without an item */
  gboolean has_cost;  /* a cost was entered from one of its photos */
} SwStopRecord;
SwStopRecord *sw_stop_record_new (void);
void sw_stop_record_free (SwStopRecord *stop);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwStopRecord, sw_stop_record_free)

/* The number of the stop's first photo. */
gint64 sw_stop_key (const SwStopRecord *stop);

/* The trip's stops by position; empty where none are stored. GPtrArray of SwStopRecord, transfer
 * full. */
GPtrArray *sw_proposal_list (SwCatalogue *catalogue, gint64 trip, GError **error);
/* Puts these in place of the trip's stored ones, touching the rows that differ. *out_changed:
 * whether any did. Tells nothing and is not for undo. */
gboolean sw_proposal_replace (SwCatalogue *catalogue, gint64 trip, GPtrArray *stops,
                              gboolean *out_changed, GError **error);
/* The stop's new thing has become an item. Tells nothing. */
gboolean sw_proposal_set_item (SwCatalogue *catalogue, gint64 stop, gint64 item, GError **error);

/* What a person said of the gap between two photos: it holds through every later proposal, also
 * where a clock put right sets them farther apart or the other way round. */
typedef enum
{
  SW_CUT_JOIN = -1, /* the later photo goes on with the stop of the earlier */
  SW_CUT_OPEN = 0,  /* nothing: the machine decides */
  SW_CUT_APART = 1, /* they are of two stops */
} SwCutKind;
typedef struct
{
  gint64 before; /* the other side of the gap; 0: whichever photo comes before */
  gint64 photo;
  SwCutKind cut;
} SwCut;
/* before: the photo on the other side of the gap, 0 where there is none. What was said of the gap
 * before 'photo' until now is replaced. Part of the caller's act, which tells it. NOT_FOUND is left
 * to the database. */
gboolean sw_cut_set (SwCatalogue *catalogue, gint64 before, gint64 photo, SwCutKind cut,
                     GError **error);
/* GArray of SwCut, by photo. Transfer full. */
GArray *sw_cut_list (SwCatalogue *catalogue, gint64 trip, GError **error);

G_END_DECLS
