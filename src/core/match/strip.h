/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A trip laid along its time: photos, clips and memos in property time with the stops they belong
 * to. Match layer; read in one go for whoever shows it, with no record read one by one. */
#pragma once

#include "core/catalogue/catalogue.h"
#include "core/catalogue/proposals.h"

G_BEGIN_DECLS

typedef enum
{
  SW_STRIP_PHOTO,
  SW_STRIP_RAW, /* without a photo it belongs to */
  SW_STRIP_CLIP,
  SW_STRIP_MEMO,
} SwStripKind;

typedef struct
{
  gint64 photo; /* its number */
  SwStripKind kind;
  gboolean timed;
  gint64 t_us;      /* property time as if in UTC; 0 where !timed */
  int stop;         /* index into stops, -1: in none */
  int n_in_stop;    /* photos only: which of the stop's photos, from 1; 0: in none */
  gint64 decided;   /* an item, SW_STOP_NO_ITEM or SW_STOP_OPEN */
  guint marks;      /* SwPhotoMark: what makes the photo poor */
  const char *file; /* what is no photo: its name; else NULL */
} SwStripUnit;

/* What is left to do. */
typedef struct
{
  int stops, open, sure, doubtful, unknown; /* the last three: of the open ones */
} SwStripLeft;

typedef struct
{
  gint64 trip;
  GArray *units; /* SwStripUnit: stop after stop, what belongs to none between them by its time */
  GPtrArray *stops; /* SwStopRecord, by position */
  GArray *begins;   /* guint: the unit each stop begins with */
  SwStripLeft left;
  GStringChunk *names; /* owns the files */
} SwStrip;
void sw_strip_free (SwStrip *strip);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwStrip, sw_strip_free)

/* Transfer full. Errors: those of the database. */
SwStrip *sw_strip_read (SwCatalogue *catalogue, gint64 trip, GError **error);

/* Index of the unit that begins after the longest pause within a stop (an index into stops): where
 * it most likely is two things. -1 for a stop of one photo, or without times. */
int sw_strip_longest_pause (const SwStrip *strip, int stop);

/* Decided to be a receipt, and no cost entered from it yet. */
gboolean sw_strip_wants_cost (const SwStopRecord *stop);

/* What came of a trip, once it is sorted (and before). */
typedef struct
{
  int items_new;       /* items with photos of the trip that were found on it */
  int items_known;     /* the others with photos of the trip */
  int unnamed;         /* of the new ones, those with a neutral name */
  int without_item;    /* photos that show no item */
  int receipts_open;   /* stops of receipts whose cost was not entered */
  GPtrArray *one_poor; /* char *: names of items of the trip whose only photo is a poor one */
  GPtrArray *not_seen; /* char *: paths of places on the property without a photo of the trip, nor
                          in a place inside them; rooms of such a building are left out */
} SwStripSum;
void sw_strip_sum_free (SwStripSum *sum);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwStripSum, sw_strip_sum_free)
/* Transfer full. */
SwStripSum *sw_strip_sum_read (SwCatalogue *catalogue, gint64 trip, GError **error);

G_END_DECLS
