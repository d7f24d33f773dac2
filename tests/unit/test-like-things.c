/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Like things of the past, from sales as the money table books them. The property is that of
 * sw-test-money.h. */
#include "sw-test-money.h"

#include "core/catalogue/like-things.h"

static gint64
add (SwCatalogue *catalogue, const char *name, gboolean neutral)
{
  g_autoptr (GError) error = NULL;
  gint64 place = 0, number = 0;
  SwItemNew item = { .name = name, .neutral = neutral };
  assert_true (sw_place_ensure (catalogue, "Cooperage", &place, NULL, &error));
  item.place = place;
  assert_true (sw_item_add (catalogue, &item, &number, &error));
  return number;
}

/* "Screw press x1 20000 at Hill Road after 12 | ..." */
static char *
like (SwCatalogue *catalogue, gint64 item, guint most)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) things = sw_like_things (catalogue, item, most, &error);
  GString *text = g_string_new (NULL);
  assert_no_error (error);
  for (guint i = 0; i < things->len; i++)
    {
      const SwLikeThing *thing = g_ptr_array_index (things, i);
      g_string_append_printf (
          text, "%s%s x%" G_GINT64_FORMAT " %" G_GINT64_FORMAT " at %s after %" G_GINT64_FORMAT,
          i > 0 ? " | " : "", thing->name, thing->count, thing->price.minor,
          thing->outlet != NULL ? thing->outlet : "none", thing->days);
    }
  return g_string_free (text, FALSE);
}

typedef struct
{
  const char *label, *name, *likes;
} Row;

/* Sold: the press at Hill Road after 12 days, 4 of the crates for cash, the ladder likewise but
 * fallen through; the pump as scrap. */
#define BOOKED                                                                                     \
  HILL PRESS YARD "sale|ref=S1|item=Crates|count=4|at=2026-05-01|amount=24.00\n"                   \
                  "sale|ref=S2|item=Ladder|at=2026-05-02|amount=40.00\n"                           \
                  "reversal|ref=S2|at=2026-05-03\n"                                                \
                  "offer|ref=A2|outlet=Hill Road|item=Scales|up=2026-05-02\n"                      \
                  "result|ref=A2|at=2026-05-09|result=sold|amount=60.00|delivery=5.00\n"           \
                  "reversal|ref=A2|at=2026-05-11|amount=6.50\n"

static const Row rows[] = {
  { "the same name", "Screw press", "Screw press x1 20000 at Hill Road after 12" },
  { "the kind of thing", "Basket press", "Screw press x1 20000 at Hill Road after 12" },
  { "one for many", "Apple crate", "Crates x4 2400 at none after -1" },
  { "many for one", "Presses", "" }, /* an ending -es is no plural here: 'presse' */
  { "without its accent", "Scr\xC3\xA9w driver", "Screw press x1 20000 at Hill Road after 12" },
  /* 60.00 less what was given back later, 6.50; delivery apart: worked by hand */
  { "given back in part", "Kitchen scales", "Scales x1 5350 at Hill Road after 7" },
  { "fell through", "Long ladder", "" },
  { "no like thing", "Wheel hoe", "" },
  { "no word long enough", "XY 7", "" },
  { "a query's own words", "\"press OR NEAR(", "Screw press x1 20000 at Hill Road after 12" },
  /* both words before one, though the scales were sold later */
  { "more in common first", "Press scales",
    "Scales x1 5350 at Hill Road after 7 | Screw press x1 20000 at Hill Road after 12" },
};

static void
test_like (void **state)
{
  const Row *row = *state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, BOOKED, NULL);
  gint64 item = add (bed.catalogue, row->name, FALSE);
  g_autofree char *got = like (bed.catalogue, item, 9);
  assert_string_equal (got, row->likes);
}

static void
test_a_neutral_name_is_like_nothing (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, BOOKED, NULL);
  g_autofree char *neutral = like (bed.catalogue, add (bed.catalogue, "Press 3", TRUE), 9);
  assert_string_equal (neutral, "");
  /* itself is none either, and no more than wanted */
  g_autofree char *itself = like (bed.catalogue, 1, 9);
  assert_string_equal (itself, "");
  gint64 two = add (bed.catalogue, "Press scales", FALSE);
  g_autofree char *one = like (bed.catalogue, two, 1);
  assert_string_equal (one, "Scales x1 5350 at Hill Road after 7");
}

static void
test_it_follows_undo (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  gint64 item = add (bed.catalogue, "Basket press", FALSE);
  sw_test_book (bed.catalogue, HILL PRESS, NULL);
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  g_autofree char *got = like (bed.catalogue, item, 9);
  assert_string_equal (got, "");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_like, rows);
  SW_TEST (tests, test_a_neutral_name_is_like_nothing);
  SW_TEST (tests, test_it_follows_undo);
  int failed = sw_tests_run (tests, "like-things");
  sw_test_property_end ();
  return failed;
}
