/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What texts keep to before they leave: limits of outlets, names that stay at home; sheets of
 * labels by their measure. */
#include "core/base/error.h"
#include "core/catalogue/going-out.h"
#include "core/catalogue/outlets.h"
#include "core/handout/labels.h"
#include "core/trade/offer-text.h"
#include "sw-test-money.h"

static void
assert_names (const char *text, const char *found)
{
  const char *const known[] = { "Ada", "Bea Buyer", "Émile", "Press" };
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  g_autoptr (GPtrArray) in = NULL;
  g_autoptr (GString) joined = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (known); i++)
    g_ptr_array_add (names, (gpointer)known[i]);
  in = sw_names_in_text (names, text);
  for (guint i = 0; i < in->len; i++)
    g_string_append_printf (joined, "%s%s", i > 0 ? "," : "",
                            (const char *)g_ptr_array_index (in, i));
  assert_string_equal (joined->str, found);
}

static void
test_names (void **state)
{
  assert_names ("A ladder.", "");
  assert_names ("Adam's ladder of the Adamses", "");
  assert_names ("ask ADA, not Adam", "Ada");
  assert_names ("(bea buyer)", "Bea Buyer");
  assert_names ("Cafés and ÉMILE", "Émile");
  assert_names ("Presses; a press", "Press");
  assert_names ("Ada Press", "Ada,Press");
}

static void
test_limits (void **state)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GError) error = NULL;
  SwTextLimits limits = { 7, 7 };
  gint64 id = 0;
  const SwOutlet outlet
      = { .name = (char *)"Board", .running_days = -1, .pay_days = -1, .collect_days = -1 };

  assert_true (sw_outlet_put (bed.catalogue, &outlet, &id, &error));
  assert_true (sw_text_limits_get (bed.catalogue, id, &limits, &error));
  assert_true (limits.title == 0 && limits.text == 0);
  limits = (SwTextLimits){ 60, 2000 };
  assert_true (sw_text_limits_set (bed.catalogue, id, &limits, &error));
  sw_test_reopen (&bed);
  limits = (SwTextLimits){ 0 };
  assert_true (sw_text_limits_get (bed.catalogue, id, &limits, &error));
  assert_true (limits.title == 60 && limits.text == 2000);
  limits.title = -1;
  assert_false (sw_text_limits_set (bed.catalogue, id, &limits, &error));
  assert_true (g_error_matches (error, SW_ERROR, SW_ERROR_BAD_INPUT));
  g_clear_error (&error);
  limits = (SwTextLimits){ 1, SW_TEXT_LIMIT_MOST + 1 };
  assert_false (sw_text_limits_set (bed.catalogue, id, &limits, &error));
  g_clear_error (&error);
  limits = (SwTextLimits){ 1, 1 };
  assert_false (sw_text_limits_set (bed.catalogue, 99, &limits, &error));
  assert_true (g_error_matches (error, SW_ERROR, SW_ERROR_NOT_FOUND));
}

/* Titles are cut by characters, not bytes, and between words. */
static void
test_title_is_cut (void **state)
{
  static const struct
  {
    gint64 most;
    const char *title;
  } cases[] = {
    { 0, "Äpfel crates, old, and more" },
    { 27, "Äpfel crates, old, and more" },
    { 26, "Äpfel crates, old, and" },
    { 18, "Äpfel crates, old" },
    { 13, "Äpfel crates" },
    { 12, "Äpfel crates" },
    { 11, "Äpfel" },
    { 5, "Äpfel" },
    { 3, "Äpf" },
  };
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GError) error = NULL;
  gint64 place = 0, item = 0;

  assert_true (sw_place_add (bed.catalogue, "Packing shed", FALSE, NULL, NULL, &place, &error));
  assert_true (sw_item_add (bed.catalogue,
                            &(SwItemNew){ .name = "Äpfel crates, old, and more", .place = place },
                            &item, &error));
  g_array_append_val (items, item);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const SwTextLimits limits = { cases[i].most, 0 };
      g_auto (SwOfferText) made = { 0 };

      assert_true (sw_offer_text_of_items (bed.catalogue, items, NULL, "", &limits, &made, &error));
      assert_string_equal (made.title, cases[i].title);
    }
}

static void
test_label_sheets (void **state)
{
  gsize n = 0;
  const SwLabelSheet *all = sw_label_sheets (&n);

  assert_true (n > 1);
  for (gsize i = 0; i < n; i++)
    {
      char measure[9][G_ASCII_DTOSTR_BUF_SIZE];
      const double parts[] = { all[i].left,    all[i].top,   all[i].pitch_x,
                               all[i].pitch_y, all[i].width, all[i].height };
      g_autoptr (GString) text = g_string_new (NULL);
      g_autoptr (GError) error = NULL;
      SwLabelSheet read = { 0 };

      g_string_append_printf (text, "%dx%d", all[i].columns, all[i].rows);
      for (gsize k = 0; k < G_N_ELEMENTS (parts); k++)
        g_string_append_printf (text, ",%s",
                                g_ascii_dtostr (measure[k], sizeof measure[k], parts[k]));
      /* each sheet of the table holds to the rules that a typed one must */
      assert_true (sw_label_sheet_parse (text->str, &read, &error));
      assert_int_equal (read.rows, all[i].rows);
      assert_true (sw_label_sheet_parse (all[i].name, &read, &error));
      assert_string_equal (read.name, all[i].name);
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_names),
    cmocka_unit_test (test_limits),
    cmocka_unit_test (test_title_is_cut),
    cmocka_unit_test (test_label_sheets),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
