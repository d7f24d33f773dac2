/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What goes into the van: door, floor, height, payload, roof and trailer; and what is not known. */
#include "core/trade/van-fit.h"
#include "sw-test.h"

static const SwVan van = { { 850 * SW_UG_PER_KG }, 2600, 1300, 1400, 1200, 1300 };
static const SwVan bare = { { 850 * SW_UG_PER_KG }, 0, 0, 0, 0, 0 }; /* nothing was measured */

typedef struct
{
  const char *label;
  const SwVan *van;
  SwStows stows;
  gint64 length, width, height, kg;
  SwVanFit fit;
} Row;

static const Row rows[] = {
  { "goes in", &van, SW_STOWS_FLOOR, 1100, 600, 900, 120, SW_VAN_FIT_YES },
  { "just", &van, SW_STOWS_FLOOR, 2600, 1200, 1300, 850, SW_VAN_FIT_YES },
  { "lies the other way", &van, SW_STOWS_FLOOR, 600, 2600, 400, 40, SW_VAN_FIT_YES },
  { "its smaller sides pass", &van, SW_STOWS_FLOOR, 2500, 1250, 1190, 0, SW_VAN_FIT_YES },
  { "too wide for the door", &van, SW_STOWS_FLOOR, 1250, 1250, 1250, 0, SW_VAN_FIT_DOOR },
  { "too high for the door", &van, SW_STOWS_FLOOR, 1350, 1300, 1310, 0, SW_VAN_FIT_DOOR },
  { "too long", &van, SW_STOWS_FLOOR, 2601, 300, 300, 20, SW_VAN_FIT_SPACE },
  { "too high inside", &van, SW_STOWS_FLOOR, 500, 500, 1401, 20, SW_VAN_FIT_SPACE },
  { "too heavy", &van, SW_STOWS_FLOOR, 500, 500, 500, 851, SW_VAN_FIT_PAYLOAD },
  { "long on the roof", &van, SW_STOWS_ROOF, 5000, 300, 100, 30, SW_VAN_FIT_YES },
  { "too heavy for the roof too", &van, SW_STOWS_ROOF, 500, 500, 500, 900, SW_VAN_FIT_PAYLOAD },
  { "on a trailer, whatever it is", &van, SW_STOWS_TRAILER, 100, 100, 100, 1, SW_VAN_FIT_TRAILER },
  { "of its mass alone", &van, SW_STOWS_UNKNOWN, 0, 0, 0, 90, SW_VAN_FIT_YES },
  { "nothing known", &van, SW_STOWS_UNKNOWN, 0, 0, 0, 0, SW_VAN_FIT_UNKNOWN },
  { "no van", NULL, SW_STOWS_FLOOR, 1100, 600, 900, 120, SW_VAN_FIT_UNKNOWN },
  { "no van, but a trailer", NULL, SW_STOWS_TRAILER, 0, 0, 0, 0, SW_VAN_FIT_TRAILER },
  { "a van nobody measured", &bare, SW_STOWS_FLOOR, 9000, 9000, 9000, 120, SW_VAN_FIT_YES },
  { "its payload is known", &bare, SW_STOWS_FLOOR, 0, 0, 0, 900, SW_VAN_FIT_PAYLOAD },
};

static void
test_fit (void **state)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      const Row *row = &rows[i];
      SwItem item = { .stows = row->stows,
                      .length_mm = row->length,
                      .width_mm = row->width,
                      .height_mm = row->height };

      print_message ("%s\n", row->label);
      assert_int_equal (sw_van_fit (row->van, &item, (SwMass){ row->kg * SW_UG_PER_KG }), row->fit);
    }
}

static void
test_words (void **state)
{
  assert_null (sw_van_fit_words (SW_VAN_FIT_YES));
  for (int fit = SW_VAN_FIT_UNKNOWN; fit < SW_N_VAN_FITS; fit++)
    assert_non_null (sw_van_fit_words ((SwVanFit)fit));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_fit),
    cmocka_unit_test (test_words),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
