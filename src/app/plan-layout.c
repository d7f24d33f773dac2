/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plan's default places: a grid that stays the same whatever the person drags; and what a box
 * lies in. Draws nothing. */
#include "app/plan-layout.h"

#define MARGIN 20
#define GAP 20
#define PLAIN_H 168
#define PARENT_H 300
#define HEAD_H 150 /* of a box with others in it: its own text */
#define ASIDE_HEAD 44

void
sw_plan_box_clear (SwPlanBox *box)
{
  g_clear_pointer (&box->name, g_free);
  g_clear_pointer (&box->standing, g_free);
  g_clear_pointer (&box->worth, g_free);
  g_clear_pointer (&box->waits, g_free);
  g_clear_pointer (&box->sentence, g_free);
}

static const SwPlanBox *
find (const SwPlanBox *boxes, guint n, gint64 id)
{
  for (guint i = 0; i < n; i++)
    if (boxes[i].id == id)
      return &boxes[i];
  return NULL;
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
  if (n <= 9)
    return 3;
  return n <= 16 ? 4 : 5;
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

static int
bottom_of (const SwPlanBox *boxes, guint n)
{
  int bottom = 0;

  for (guint i = 0; i < n; i++)
    if (!boxes[i].off_property)
      bottom = MAX (bottom, boxes[i].y + boxes[i].h);
  return bottom;
}

static void
lay_all_inside (SwPlanBox *boxes, guint n, gboolean off_property)
{
  for (guint i = 0; i < n; i++)
    if (boxes[i].parent == 0 && boxes[i].off_property == off_property)
      lay_inside (boxes, n, &boxes[i], 0);
}

/* What lies inside a place off the property is off it too. */
static void
spread_off_property (SwPlanBox *boxes, guint n)
{
  gboolean more = TRUE;

  while (more)
    {
      more = FALSE;
      for (guint i = 0; i < n; i++)
        {
          const SwPlanBox *parent = find (boxes, n, boxes[i].parent);
          if (parent != NULL && parent->off_property && !boxes[i].off_property)
            more = boxes[i].off_property = TRUE;
        }
    }
}

void
sw_plan_layout (SwPlanBox *boxes, guint n)
{
  spread_off_property (boxes, n);
  for (guint i = 0; i < n; i++)
    {
      if (boxes[i].parent != 0 && find (boxes, n, boxes[i].parent) == NULL)
        boxes[i].parent = 0;
      if (boxes[i].off_property)
        boxes[i].stored = FALSE;
    }
  lay_grid (boxes, n, FALSE, MARGIN);
  lay_all_inside (boxes, n, FALSE);
  lay_grid (boxes, n, TRUE, MAX (MARGIN, bottom_of (boxes, n) + GAP) + ASIDE_HEAD);
  lay_all_inside (boxes, n, TRUE);
}

int
sw_plan_height (const SwPlanBox *boxes, guint n)
{
  int bottom = SW_PLAN_LEAST_HEIGHT - MARGIN;

  for (guint i = 0; i < n; i++)
    bottom = MAX (bottom, boxes[i].y + boxes[i].h);
  return bottom + MARGIN;
}

int
sw_plan_aside (const SwPlanBox *boxes, guint n)
{
  int top = 0;

  for (guint i = 0; i < n; i++)
    if (boxes[i].off_property && (top == 0 || boxes[i].y < top))
      top = boxes[i].y;
  return top > 0 ? top - ASIDE_HEAD : 0;
}

/* ---- what lies in what ---- */

static int
snapped (double units)
{
  return (int)(units / SW_PLAN_SNAP + (units < 0 ? -0.5 : 0.5)) * SW_PLAN_SNAP;
}

void
sw_plan_fit (SwPlanBox *box, double x, double y, double w, double h)
{
  box->w = CLAMP (snapped (w), SW_PLAN_LEAST_W, SW_PLAN_WIDTH);
  box->h = CLAMP (snapped (h), SW_PLAN_LEAST_H, SW_PLAN_WIDTH);
  box->x = CLAMP (snapped (x), 0, SW_PLAN_WIDTH - box->w);
  box->y = CLAMP (snapped (y), 0, 4 * SW_PLAN_WIDTH);
}

gboolean
sw_plan_is_inside (const SwPlanBox *boxes, guint n, gint64 id, gint64 outer)
{
  const SwPlanBox *box = find (boxes, n, id);

  for (guint depth = 0; box != NULL && depth <= n; depth++)
    {
      if (box->parent == outer && outer != 0)
        return TRUE;
      box = find (boxes, n, box->parent);
    }
  return FALSE;
}

static gboolean
holds (const SwPlanBox *outer, const SwPlanBox *inner)
{
  return inner->x >= outer->x && inner->y >= outer->y && inner->x + inner->w <= outer->x + outer->w
         && inner->y + inner->h <= outer->y + outer->h;
}

static gboolean
touches (const SwPlanBox *a, const SwPlanBox *b)
{
  return a->x < b->x + b->w && b->x < a->x + a->w && a->y < b->y + b->h && b->y < a->y + a->h;
}

gint64
sw_plan_holder (const SwPlanBox *boxes, guint n, const SwPlanBox *box)
{
  gint64 holder = 0;

  /* those inside come after what they are in: the last one is the innermost */
  for (guint i = 0; i < n; i++)
    if (!boxes[i].off_property && holds (&boxes[i], box)
        && (box->id == 0
            || (boxes[i].id != box->id && !sw_plan_is_inside (boxes, n, boxes[i].id, box->id))))
      holder = boxes[i].id;
  return holder;
}

gint64
sw_plan_parent_after_move (const SwPlanBox *boxes, guint n, const SwPlanBox *box)
{
  const SwPlanBox *parent = find (boxes, n, box->parent);
  gint64 holder = sw_plan_holder (boxes, n, box);

  return holder == 0 && parent != NULL && touches (parent, box) ? parent->id : holder;
}

static gboolean
is_free (const SwPlanBox *boxes, guint n, gint64 parent, const SwPlanBox *box)
{
  for (guint i = 0; i < n; i++)
    if (boxes[i].parent == parent && !boxes[i].off_property && touches (&boxes[i], box))
      return FALSE;
  return TRUE;
}

/* The first free spot of that size in an area, row by row. */
static gboolean
look_for_room (const SwPlanBox *boxes, guint n, gint64 parent, const SwPlanBox *area,
               SwPlanBox *box)
{
  for (box->y = area->y; box->y + box->h <= area->y + area->h; box->y += MARGIN)
    for (box->x = area->x; box->x + box->w <= area->x + area->w; box->x += MARGIN)
      if (is_free (boxes, n, parent, box))
        return TRUE;
  return FALSE;
}

void
sw_plan_free_slot (const SwPlanBox *boxes, guint n, gint64 parent, SwPlanBox *out_box)
{
  const SwPlanBox *outer = find (boxes, n, parent);
  SwPlanBox area = { .x = MARGIN, .y = MARGIN, .w = SW_PLAN_WIDTH - 2 * MARGIN };

  area.h = bottom_of (boxes, n) + 2 * PLAIN_H; /* below all others there always is room */
  out_box->w = 300;
  out_box->h = PLAIN_H;
  if (outer != NULL)
    {
      int head = MIN (HEAD_H, outer->h / 2);
      area = (SwPlanBox){
        .x = outer->x + 12, .y = outer->y + head, .w = outer->w - 24, .h = outer->h - head - 12
      };
      out_box->w = MAX (SW_PLAN_LEAST_W, (area.w - 12) / 2);
      out_box->h = MAX (SW_PLAN_LEAST_H, area.h);
    }
  if (!look_for_room (boxes, n, parent, &area, out_box))
    sw_plan_fit (out_box, area.x, area.y, out_box->w, out_box->h);
  else
    sw_plan_fit (out_box, out_box->x, out_box->y, out_box->w, out_box->h);
}
