/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the boxes of the plan stand. Numbers in, numbers out: no widget, no catalogue. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Width of the plan in plan units; its height is what the boxes need, at least
 * SW_PLAN_LEAST_HEIGHT. */
#define SW_PLAN_WIDTH 1000
#define SW_PLAN_LEAST_HEIGHT 420
/* The least box that is drawn, and the grid all boxes stand on. */
#define SW_PLAN_LEAST_W 60
#define SW_PLAN_LEAST_H 48
#define SW_PLAN_SNAP 4

typedef struct
{
  gint64 id, parent; /* parent 0: stands by itself */
  gboolean off_property;
  gboolean stored; /* x to h are what the person drew */
  int x, y, w, h;  /* plan units */
  char *name, *standing, *worth, *waits;
  const char *icon; /* whether it is walked or empty; static */
  char *sentence;   /* what a screen reader says */
  double left;      /* 0 to 1: the part that still stands; below 0: nothing found here yet */
} SwPlanBox;

void sw_plan_box_clear (SwPlanBox *box);

/* Gives each box that the person has not drawn its own slot: a grid in the order given, places
 * inside a place in the lower part of its box. A slot depends on the list alone, so that dragging
 * one box moves no other. Those off the property stand aside in rows below all others, whatever was
 * stored for them. Each box comes before those inside it. */
void sw_plan_layout (SwPlanBox *boxes, guint n);

/* Height in plan units that shows all boxes. */
int sw_plan_height (const SwPlanBox *boxes, guint n);
/* Where the strip of those off the property begins; 0: there is none. */
int sw_plan_aside (const SwPlanBox *boxes, guint n);

/* A box of plan units on the grid, at least the least size, within the plan's width and not above
 * it. */
void sw_plan_fit (SwPlanBox *box, double x, double y, double w, double h);
/* The innermost place on the property whose box holds the whole of 'box', other than itself and
 * what is inside it; 0: none. */
gint64 sw_plan_holder (const SwPlanBox *boxes, guint n, const SwPlanBox *box);
/* Where a box belongs that was moved: into its holder; what sticks out of the place it belongs to
 * still belongs to it as long as the two touch. */
gint64 sw_plan_parent_after_move (const SwPlanBox *boxes, guint n, const SwPlanBox *box);
/* 'id' is inside 'outer', at whatever depth. */
gboolean sw_plan_is_inside (const SwPlanBox *boxes, guint n, gint64 id, gint64 outer);
/* Room for a new box: inside 'parent', or (0) beside all others. Sets x to h of out_box. */
void sw_plan_free_slot (const SwPlanBox *boxes, guint n, gint64 parent, SwPlanBox *out_box);

G_END_DECLS
