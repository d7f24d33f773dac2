/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the boxes of the plan stand. Numbers in, numbers out: no widget, no catalogue. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Width of the plan in plan units; its height is what the boxes need, at least
 * SW_PLAN_LEAST_HEIGHT. */
#define SW_PLAN_WIDTH 1000
#define SW_PLAN_LEAST_HEIGHT 420

typedef struct
{
  gint64 id, parent; /* parent 0: stands by itself */
  gboolean off_property;
  gboolean stored; /* x to h are what the person drew */
  int x, y, w, h;  /* plan units */
  char *name, *standing, *money;
  char *sentence; /* what a screen reader says */
  double left;    /* 0 to 1: the part that still stands; below 0: nothing found here yet */
} SwPlanBox;

void sw_plan_box_clear (SwPlanBox *box);

/* Gives each box that the person has not drawn its own slot: a grid in the order given, those off
 * the property in rows below it, places inside a place in the lower part of its box. A slot depends
 * on the list alone, so that dragging one box moves no other. Parents come before their children in
 * the list or after; both work. */
void sw_plan_layout (SwPlanBox *boxes, guint n);

/* Height in plan units that shows all boxes. */
int sw_plan_height (const SwPlanBox *boxes, guint n);

G_END_DECLS
