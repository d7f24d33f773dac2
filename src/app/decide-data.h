/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All that the deciding round shows of one find, read in one go on the catalogue thread, and the
 * acts it sends. Plain data; no widget, no rule. */
#pragma once

#include "app/sheet-data.h"
#include "app/store.h"
#include "core/catalogue/decide-fields.h"
#include "core/catalogue/decide.h"

G_BEGIN_DECLS

typedef struct
{
  SwSheetData *sheet; /* its photos with the first one first; NULL: there is no find */
  SwDecideValue values[SW_N_DECIDE_FIELDS];
  char *lacks;   /* what Ready still needs, in words; NULL: nothing */
  char *blocked; /* why it may not become Ready although it lacks nothing; NULL: it may */
  SwDecideMark mark;
  SwDecideRound *round;
  gboolean widened;   /* the place or trip asked for has no finds left: these are all of them */
  GPtrArray *like;    /* SwLikeThing */
  GPtrArray *outlets; /* SwOutlet by name */
  GPtrArray *people;  /* char * */
  /* the person's own words, char *; NULL where they were not asked for */
  GPtrArray *names, *conditions, *faults;
} SwDecideData;
void sw_decide_data_free (gpointer data);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwDecideData, sw_decide_data_free)

typedef struct
{
  gint64 item;         /* 0: where the person stood, else the first */
  gint64 place, trip;  /* of the finds gone through; 0: all */
  int order;           /* SwDecideOrder; -1: as it was kept */
  gboolean with_words; /* the person's own words too */
} SwDecideWish;
/* An SwWorkFunc; data is an SwDecideWish. */
gpointer sw_decide_data_read (SwCatalogue *catalogue, gpointer wish, GCancellable *cancellable,
                              GError **error);

/* Sets a field; value and was are copied, was may be NULL. owner and done as in sw_store_act. */
void sw_decide_send (SwStore *store, gint64 item, SwDecideField field, const SwDecideValue *value,
                     const SwDecideValue *was, GObject *owner, SwActDone done);
void sw_decide_send_repeat (SwStore *store, gint64 item, gint64 from, guint fields, GObject *owner,
                            SwActDone done);
/* Puts it off till later, or marks it to be priced; NOT takes that back. */
void sw_decide_send_waits (SwStore *store, gint64 item, SwWaits waits, GObject *owner,
                           SwActDone done);
void sw_decide_send_ready (SwStore *store, gint64 item, GObject *owner, SwActDone done);
/* Keeps where the person stands; no act. */
void sw_decide_send_mark (SwStore *store, const SwDecideMark *mark);
void sw_decide_value_copy (SwDecideValue *to, const SwDecideValue *from);

G_END_DECLS
