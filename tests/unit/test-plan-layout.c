/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the boxes of the plan stand by default. */
#include "app/plan-layout.h"

#include "sw-test.h"

static gboolean
overlap (const SwPlanBox *a, const SwPlanBox *b)
{
  return a->x < b->x + b->w && b->x < a->x + a->w && a->y < b->y + b->h && b->y < a->y + a->h;
}

static gboolean
lies_inside (const SwPlanBox *inner, const SwPlanBox *outer)
{
  return inner->x >= outer->x && inner->y >= outer->y && inner->x + inner->w <= outer->x + outer->w
         && inner->y + inner->h <= outer->y + outer->h;
}

/* n places by themselves, every third with two inside it, every seventh off the property. */
static GArray *
make_boxes (guint n)
{
  GArray *boxes = g_array_new (FALSE, TRUE, sizeof (SwPlanBox));
  gint64 id = 0;

  for (guint i = 0; i < n; i++)
    {
      SwPlanBox box = { .id = ++id, .off_property = i % 7 == 6 };
      g_array_append_val (boxes, box);
      for (int k = 0; i % 3 == 0 && k < 2; k++)
        {
          SwPlanBox inner = { .id = ++id, .parent = box.id };
          g_array_append_val (boxes, inner);
        }
    }
  return boxes;
}

static const SwPlanBox *
parent_of (const GArray *boxes, const SwPlanBox *box)
{
  for (guint i = 0; i < boxes->len; i++)
    if (g_array_index (boxes, SwPlanBox, i).id == box->parent)
      return &g_array_index (boxes, SwPlanBox, i);
  g_assert_not_reached ();
}

static void
test_no_two_overlap (void **state)
{
  for (guint n = 0; n <= 40; n++)
    {
      g_autoptr (GArray) boxes = make_boxes (n);
      SwPlanBox *all = (SwPlanBox *)(gpointer)boxes->data;
      sw_plan_layout (all, boxes->len);
      for (guint i = 0; i < boxes->len; i++)
        {
          assert_true (all[i].x >= 0 && all[i].x + all[i].w <= SW_PLAN_WIDTH);
          assert_true (all[i].y + all[i].h <= sw_plan_height (all, boxes->len));
          if (all[i].parent != 0)
            assert_true (lies_inside (&all[i], parent_of (boxes, &all[i])));
          for (guint k = i + 1; k < boxes->len; k++)
            if (all[i].parent == all[k].parent)
              assert_false (overlap (&all[i], &all[k]));
        }
    }
}

static void
test_drawn_box_moves_no_other (void **state)
{
  g_autoptr (GArray) before = make_boxes (10);
  g_autoptr (GArray) after = make_boxes (10);
  SwPlanBox *a = (SwPlanBox *)(gpointer)before->data, *b = (SwPlanBox *)(gpointer)after->data;

  b[4].stored = TRUE; /* one that stands by itself, without places inside it */
  b[4].x = 700;
  b[4].y = 900;
  b[4].w = 200;
  b[4].h = 90;
  sw_plan_layout (a, before->len);
  sw_plan_layout (b, after->len);
  for (guint i = 0; i < before->len; i++)
    if (i != 4)
      assert_true (a[i].x == b[i].x && a[i].y == b[i].y && a[i].w == b[i].w && a[i].h == b[i].h);
  assert_true (b[4].x == 700 && b[4].y == 900 && b[4].w == 200 && b[4].h == 90);
  assert_true (sw_plan_height (b, after->len) >= 990);
}

static void
test_places_follow_the_one_they_are_in (void **state)
{
  SwPlanBox boxes[] = {
    { .id = 1, .stored = TRUE, .x = 500, .y = 300, .w = 300, .h = 220 },
    { .id = 2, .parent = 1 },
    { .id = 3, .parent = 99 }, /* its place is not on the list: it stands by itself */
  };

  sw_plan_layout (boxes, G_N_ELEMENTS (boxes));
  assert_true (lies_inside (&boxes[1], &boxes[0]));
  assert_true (boxes[2].parent == 0 && boxes[2].w > 0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_no_two_overlap),
    cmocka_unit_test (test_drawn_box_moves_no_other),
    cmocka_unit_test (test_places_follow_the_one_they_are_in),
  };

  return cmocka_run_group_tests (tests, NULL, NULL);
}
