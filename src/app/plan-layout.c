/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plan's default places: a grid that stays the same whatever the person drags. Draws nothing.
 */
#include "app/plan-layout.h"

#define MARGIN 20
#define GAP 20
#define PLAIN_H 116
#define PARENT_H 206
#define HEAD_H 88

void
sw_plan_box_clear (SwPlanBox *box)
{
  g_clear_pointer (&box->name, g_free);
  g_clear_pointer (&box->standing, g_free);
  g_clear_pointer (&box->money, g_free);
  g_clear_pointer (&box->sentence, g_free);
}

static gboolean
is_known (const SwPlanBox *boxes, guint n, gint64 id)
{
  for (guint i = 0; i < n; i++)
    if (boxes[i].id == id)
      return TRUE;
  return FALSE;
}

static guint
count_inside (const SwPlanBox *boxes, guint n, gint64 parent)
{
  guint count = 0;

  for (guint i = 0; i < n; i++)
    count += boxes[i].parent == parent;
  return count;
}

static int
columns_for (guint n)
{
  if (n <= 3)
    return 3;
  return n <= 12 ? 4 : 5;
}

/* One grid of those that stand by themselves, on or off the property; returns the y below it. */
static int
lay_grid (SwPlanBox *boxes, guint n, gboolean off_property, int y)
{
  guint count = 0;
  int columns, width, column = 0, row_h = 0;

  for (guint i = 0; i < n; i++)
    count += boxes[i].parent == 0 && boxes[i].off_property == off_property;
  if (count == 0)
    return y;
  columns = columns_for (count);
  width = (SW_PLAN_WIDTH - 2 * MARGIN - (columns - 1) * GAP) / columns;
  for (guint i = 0; i < n; i++)
    {
      SwPlanBox *box = &boxes[i];
      int height = count_inside (boxes, n, box->id) > 0 ? PARENT_H : PLAIN_H;
      if (box->parent != 0 || box->off_property != off_property)
        continue;
      if (column == columns)
        {
          y += row_h + GAP;
          column = row_h = 0;
        }
      if (!box->stored)
        {
          box->x = MARGIN + column * (width + GAP);
          box->y = y;
          box->w = width;
          box->h = height;
        }
      row_h = MAX (row_h, height);
      column++;
    }
  return y + row_h + GAP;
}

/* Places inside 'parent' share the lower part of its box. */
static void
lay_inside (SwPlanBox *boxes, guint n, const SwPlanBox *parent, int depth)
{
  guint count = count_inside (boxes, n, parent->id), at = 0;
  int width;

  if (count == 0 || depth > 8)
    return;
  width = (parent->w - 12 - (int)count * 12) / (int)count;
  for (guint i = 0; i < n; i++)
    {
      SwPlanBox *box = &boxes[i];
      if (box->parent != parent->id || box->id == parent->id)
        continue;
      if (!box->stored)
        {
          int head = MIN (HEAD_H, parent->h / 2);
          box->x = parent->x + 12 + (int)at * (width + 12);
          box->y = parent->y + head;
          box->w = MAX (40, width);
          box->h = MAX (30, parent->h - head - 16);
        }
      at++;
      lay_inside (boxes, n, box, depth + 1);
    }
}

void
sw_plan_layout (SwPlanBox *boxes, guint n)
{
  int y;

  for (guint i = 0; i < n; i++)
    if (boxes[i].parent != 0 && !is_known (boxes, n, boxes[i].parent))
      boxes[i].parent = 0;
  y = lay_grid (boxes, n, FALSE, MARGIN);
  lay_grid (boxes, n, TRUE, y);
  for (guint i = 0; i < n; i++)
    if (boxes[i].parent == 0)
      lay_inside (boxes, n, &boxes[i], 0);
}

int
sw_plan_height (const SwPlanBox *boxes, guint n)
{
  int bottom = SW_PLAN_LEAST_HEIGHT - MARGIN;

  for (guint i = 0; i < n; i++)
    bottom = MAX (bottom, boxes[i].y + boxes[i].h);
  return bottom + MARGIN;
}
