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
    if (i != 4 && !a[i].off_property)
      assert_true (a[i].x == b[i].x && a[i].y == b[i].y && a[i].w == b[i].w && a[i].h == b[i].h);
  assert_true (b[4].x == 700 && b[4].y == 900 && b[4].w == 200 && b[4].h == 90);
  assert_true (sw_plan_height (b, after->len) >= 990);
}

/* Whatever was drawn, those off the property are below it, rooms and all. */
static void
test_off_property_stands_aside (void **state)
{
  SwPlanBox boxes[] = {
    { .id = 1, .stored = TRUE, .x = 40, .y = 900, .w = 300, .h = 220 },
    { .id = 2, .off_property = TRUE, .stored = TRUE, .x = 40, .y = 40, .w = 100, .h = 100 },
    { .id = 3,
      .parent = 2,
      .off_property = TRUE,
      .stored = TRUE,
      .x = 500,
      .y = 10,
      .w = 60,
      .h = 60 },
  };

  assert_int_equal (sw_plan_aside (boxes, 1), 0);
  sw_plan_layout (boxes, G_N_ELEMENTS (boxes));
  assert_true (sw_plan_aside (boxes, 3) > 1120);
  assert_true (boxes[1].y > sw_plan_aside (boxes, 3));
  assert_true (lies_inside (&boxes[2], &boxes[1]));
  assert_true (sw_plan_height (boxes, 3) >= boxes[1].y + boxes[1].h);
}

static void
test_what_a_box_lies_in (void **state)
{
  SwPlanBox boxes[] = {
    { .id = 1, .stored = TRUE, .x = 100, .y = 100, .w = 400, .h = 300 },
    { .id = 2, .parent = 1, .stored = TRUE, .x = 120, .y = 200, .w = 200, .h = 160 },
    { .id = 3, .stored = TRUE, .x = 600, .y = 100, .w = 300, .h = 300 },
    { .id = 4, .off_property = TRUE },
  };
  const guint n = G_N_ELEMENTS (boxes);
  static const struct
  {
    SwPlanBox box;
    gint64 holder, parent;
  } rows[] = {
    { { .x = 130, .y = 210, .w = 60, .h = 60 }, 2, 2 },            /* new, in the room */
    { { .x = 400, .y = 120, .w = 60, .h = 60 }, 1, 1 },            /* new, beside it */
    { { .x = 480, .y = 120, .w = 60, .h = 60 }, 0, 0 },            /* sticks out: by itself */
    { { .id = 1, .x = 0, .y = 0, .w = 900, .h = 900 }, 0, 0 },     /* never in itself */
    { { .id = 1, .x = 620, .y = 120, .w = 100, .h = 100 }, 3, 3 }, /* into another */
    { { .id = 2, .parent = 1, .x = 450, .y = 200, .w = 100, .h = 60 }, 0, 1 }, /* half out */
    { { .id = 2, .parent = 1, .x = 520, .y = 450, .w = 60, .h = 60 }, 0, 0 },  /* out of it */
    { { .id = 1, .x = 130, .y = 210, .w = 60, .h = 60 }, 0, 0 }, /* its own room is no holder */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      assert_i64_equal (sw_plan_holder (boxes, n, &rows[i].box), rows[i].holder);
      assert_i64_equal (sw_plan_parent_after_move (boxes, n, &rows[i].box), rows[i].parent);
    }
  assert_true (sw_plan_is_inside (boxes, n, 2, 1));
  assert_false (sw_plan_is_inside (boxes, n, 1, 2));
  assert_false (sw_plan_is_inside (boxes, n, 1, 0));
}

static void
test_room_for_a_new_one (void **state)
{
  SwPlanBox boxes[] = {
    { .id = 1, .stored = TRUE, .x = 20, .y = 20, .w = 400, .h = 300 },
    { .id = 2, .parent = 1, .stored = TRUE, .x = 32, .y = 170, .w = 180, .h = 100 },
  };
  SwPlanBox fresh = { 0 }, room = { .parent = 1 };

  sw_plan_free_slot (boxes, 2, 0, &fresh);
  assert_false (overlap (&fresh, &boxes[0]));
  assert_true (fresh.x >= 0 && fresh.x + fresh.w <= SW_PLAN_WIDTH);
  sw_plan_free_slot (boxes, 2, 1, &room);
  assert_true (lies_inside (&room, &boxes[0]));
  assert_false (overlap (&room, &boxes[1]));
  sw_plan_free_slot (NULL, 0, 0, &fresh);
  assert_true (fresh.w >= SW_PLAN_LEAST_W && fresh.h >= SW_PLAN_LEAST_H);
}

static void
test_fitted_to_the_grid (void **state)
{
  SwPlanBox box = { 0 };

  sw_plan_fit (&box, -30, -5, 1, 1);
  assert_true (box.x == 0 && box.y == 0 && box.w == SW_PLAN_LEAST_W && box.h == SW_PLAN_LEAST_H);
  sw_plan_fit (&box, 990, 101.9, 201, 5000);
  assert_true (box.x == SW_PLAN_WIDTH - 200 && box.y == 100 && box.w == 200);
  assert_true (box.h == SW_PLAN_WIDTH);
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
    cmocka_unit_test (test_off_property_stands_aside),
    cmocka_unit_test (test_what_a_box_lies_in),
    cmocka_unit_test (test_room_for_a_new_one),
    cmocka_unit_test (test_fitted_to_the_grid),
  };

  return cmocka_run_group_tests (tests, NULL, NULL);
}
