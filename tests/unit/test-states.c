/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Holds the table of states to the rules that stand above it. */
#include "sw-test.h"

#include "core/catalogue/states.h"

static const SwState ends[] = {
  SW_STATE_SCRAPPED, SW_STATE_KEPT, SW_STATE_GIVEN_AWAY, SW_STATE_DISPOSED, SW_STATE_BROKEN_UP,
};

static gboolean
is_end (SwState state)
{
  for (gsize i = 0; i < G_N_ELEMENTS (ends); i++)
    if (ends[i] == state)
      return TRUE;
  return FALSE;
}

static void
every_state_is_reachable (void **data)
{
  guint reached = 1u << SW_STATE_FOUND;
  for (int round = 0; round < SW_N_STATES; round++)
    for (guint s = 0; s < SW_N_STATES; s++)
      if (reached & (1u << s))
        reached |= sw_state_next (s);
  assert_i64_equal (reached, (1u << SW_N_STATES) - 1);
}

static void
only_ends_lead_nowhere (void **data)
{
  for (guint s = 0; s < SW_N_STATES; s++)
    {
      assert_true ((sw_state_next (s) == 0) == is_end (s));
      assert_true ((sw_state_next (s) & (1u << s)) == 0);
      assert_true ((sw_state_next (s) >> SW_N_STATES) == 0);
    }
}

static void
names_differ_and_lead_back (void **data)
{
  for (guint s = 0; s < SW_N_STATES; s++)
    {
      SwState found = SW_N_STATES;
      assert_true (sw_state_from_key (sw_state_key (s), &found) && found == s);
      found = SW_N_STATES;
      assert_true (sw_state_parse (sw_state_word (s), &found, NULL) && found == s);
      for (guint t = 0; t < s; t++)
        assert_string_not_equal (sw_state_icon (s), sw_state_icon (t));
      assert_true (g_str_has_suffix (sw_state_icon (s), "-symbolic"));
    }
}

static void
words_are_read_as_typed (void **data)
{
  SwState state = SW_N_STATES;
  assert_true (sw_state_parse ("  on   OFFER ", &state, NULL));
  assert_i64_equal (state, SW_STATE_ON_OFFER);
  g_autoptr (GError) error = NULL;
  assert_false (sw_state_parse ("sol\x1b[31md", &state, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, "Given away");
  assert_null (strchr (error->message, '\x1b'));
  assert_i64_equal (state, SW_STATE_ON_OFFER);
  assert_false (sw_state_from_key ("On offer", NULL));
}

/* The machine as a person tells it; read against the table by its words. */
typedef struct
{
  const char *label, *next;
  SwState state;
  gboolean stands;
} NextRow;
static const NextRow next_rows[] = {
  { "Found",
    "Ready, On hold, Sold, Bring home, For scrap, Missing, Kept, Given away, Disposed or "
    "Broken up",
    SW_STATE_FOUND, TRUE },
  { "On offer", "Ready, On hold, Sold, No sale, At home or Missing", SW_STATE_ON_OFFER, TRUE },
  { "Sold", "No sale or Handed over", SW_STATE_SOLD, TRUE },
  { "Missing", "Found or Disposed", SW_STATE_MISSING, FALSE },
  { "Handed over", "No sale", SW_STATE_HANDED_OVER, FALSE },
  { "For scrap", "Found, Ready, Sold, Missing, Scrapped, Kept, Given away or Disposed",
    SW_STATE_FOR_SCRAP, TRUE },
  { "Kept", "", SW_STATE_KEPT, FALSE },
};

static void
next_words (void **data)
{
  const NextRow *row = *data;
  g_autofree char *words = sw_state_next_words (row->state);
  assert_string_equal (sw_state_word (row->state), row->label);
  assert_string_equal (words, row->next);
  assert_i64_equal (sw_state_stands (row->state), row->stands);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, every_state_is_reachable);
  SW_TEST (tests, only_ends_lead_nowhere);
  SW_TEST (tests, names_differ_and_lead_back);
  SW_TEST (tests, words_are_read_as_typed);
  SW_TEST_ROWS (tests, next_words, next_rows);
  return sw_tests_run (tests, "states");
}
