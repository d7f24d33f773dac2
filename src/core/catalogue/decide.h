/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The deciding round: which finds are left, in what order they come, what was put off, and where
 * the person stood. Records of the catalogue layer; the fields of one find are in decide-fields.h.
 */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* X (tag, key). */
#define SW_DECIDE_ORDERS(X)                                                                        \
  X (PLACE, "place") /* the places in walking order, then by number */                             \
  X (WORTH, "worth") /* the dearest first: the asking price, else what price evidence says */      \
  X (DUE, "due")     /* what must be up soonest to be paid before the next trip */
#define SW_DECIDE_ORDER_AS_ENUM(tag, key) SW_DECIDE_BY_##tag,
typedef enum
{
  SW_DECIDE_ORDERS (SW_DECIDE_ORDER_AS_ENUM) SW_N_DECIDE_ORDERS
} SwDecideOrder;

/* Why a find waits; the first that holds. What waits comes after what does not. */
typedef enum
{
  SW_PUT_OFF_NOT,
  SW_PUT_OFF_LATER,
  SW_PUT_OFF_PRICE, /* to be priced */
  SW_PUT_OFF_ASK,   /* a question or a claim is open */
  SW_PUT_OFF_JOB,   /* something is to be done on site first */
  SW_N_PUT_OFFS,
} SwPutOff;
SwPutOff sw_put_off_of (const SwItem *item);

typedef struct
{
  gint64 item;
  SwPutOff put_off;
  gboolean has_worth, has_due;
  SwMoney worth; /* of the whole count */
  SwDay due;     /* last day on which it can go up */
} SwDecideItem;

typedef struct
{
  GArray *items;                /* SwDecideItem in the order they come */
  guint waiting[SW_N_PUT_OFFS]; /* by why; [NOT] counts those that are left to decide */
  gboolean has_trip;            /* a next trip is entered */
  SwDay next_trip;              /* its first day */
} SwDecideRound;
void sw_decide_free (SwDecideRound *round);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwDecideRound, sw_decide_free)

/* The finds (state Found) of the place with the places inside it, and of the trip; 0: all.
 * An outlet's offers must be up as many days before the next trip as it runs and pays; where no
 * outlet is said, the slowest outlet is taken, so that nothing is late for having waited. Transfer
 * full. */
SwDecideRound *sw_decide_read (SwCatalogue *catalogue, gint64 place, gint64 trip,
                               SwDecideOrder order, GError **error);

/* Where the person stood, kept over restarts; settings, so no act and no undo. */
typedef struct
{
  SwDecideOrder order;
  gint64 item;   /* 0: none */
  gint64 before; /* the one decided before it, whose values can be repeated; 0: none */
} SwDecideMark;
gboolean sw_decide_mark_get (SwCatalogue *catalogue, SwDecideMark *out_mark, GError **error);
gboolean sw_decide_mark_put (SwCatalogue *catalogue, const SwDecideMark *mark, GError **error);

/* Whoever was named in questions, facts and claims, in the order first named; at most 200. Transfer
 * full GPtrArray of char *. */
GPtrArray *sw_people (SwCatalogue *catalogue, GError **error);

G_END_DECLS
