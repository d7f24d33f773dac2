/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The closing night at the keys: the cursor, what is on its way, the countdown, and a scripted
 * person in compressed time. All times are made up here; no clock is asked. */
#include "app/night.h"
#include "sw-test.h"

#define S(seconds) ((gint64)((seconds)*1e6))

static GPtrArray *
rows_new (guint n, gint64 step_us)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_run_row_free);
  for (guint i = 0; i < n; i++)
    {
      SwRunRow *row = g_new0 (SwRunRow, 1);
      row->deal = 100 + i;
      row->items = g_strdup_printf ("Thing %u", i);
      row->has_closes = TRUE;
      row->closes.us = S (1000) + (gint64)i * step_us;
      g_ptr_array_add (rows, row);
    }
  return rows;
}

static SwNight *
night_new (guint n, gint64 step_us)
{
  SwNight *night = sw_night_new ();
  g_autoptr (GPtrArray) rows = rows_new (n, step_us);
  sw_night_set_rows (night, rows, sw_night_begin_read (night));
  return night;
}

static void
test_cursor (void **state)
{
  (void)state;
  g_autoptr (SwNight) night = night_new (3, S (20));
  assert_i64_equal (sw_night_get_cursor (night), 100);
  assert_true (sw_night_catch (night, 100, SW_RESULT_SOLD, sw_money (500)) != 0);
  assert_i64_equal (sw_night_get_cursor (night), 101);
  /* one key says no sale and what becomes of it */
  assert_true (sw_night_verdict (night, 101, SW_VERDICT_KEEP) != 0);
  assert_i64_equal (sw_night_get_cursor (night), 102);
  sw_night_catch (night, 102, SW_RESULT_NO_SALE, SW_MONEY_ZERO);
  assert_i64_equal (sw_night_get_cursor (night), 102); /* none is open */
  SwNightCounts counts = sw_night_counts (night);
  assert_int_equal (counts.sold, 1);
  assert_int_equal (counts.no_sale, 2);
  assert_int_equal (counts.open, 0);
  assert_int_equal (counts.unconfirmed, 3);
  /* an earlier one that is open is the next */
  assert_true (sw_night_take_back (night, 100) != 0);
  assert_i64_equal (sw_night_get_cursor (night), 100);
  assert_int_equal (sw_night_counts (night).open, 1);
}

static void
test_second_pass (void **state)
{
  (void)state;
  g_autoptr (SwNight) night = night_new (4, S (20));
  sw_night_catch (night, 100, SW_RESULT_NO_SALE, SW_MONEY_ZERO);
  sw_night_catch (night, 101, SW_RESULT_SOLD, sw_money (1));
  sw_night_catch (night, 102, SW_RESULT_NO_SALE, SW_MONEY_ZERO);
  sw_night_catch (night, 103, SW_RESULT_NO_SALE, SW_MONEY_ZERO);
  sw_night_set_cursor (night, 100);
  sw_night_verdict (night, 100, SW_VERDICT_AGAIN);
  assert_i64_equal (sw_night_get_cursor (night), 102); /* the sold one lacks no verdict */
  sw_night_verdict (night, 102, SW_VERDICT_FOR_SCRAP);
  assert_i64_equal (sw_night_get_cursor (night), 103);
  /* none for a sold one, nothing to take back from a running one */
  assert_int_equal (sw_night_verdict (night, 101, SW_VERDICT_KEEP), 0);
  g_autoptr (SwNight) fresh = night_new (1, 0);
  assert_int_equal (sw_night_take_back (fresh, 100), 0);
  assert_int_equal (sw_night_catch (fresh, 7, SW_RESULT_SOLD, SW_MONEY_ZERO), 0); /* no such row */
}

/* What was typed stays seen until a read that began after it landed; a refused key is gone. */
static void
test_on_its_way (void **state)
{
  (void)state;
  g_autoptr (SwNight) night = night_new (2, S (20));
  g_autoptr (GPtrArray) old = rows_new (2, S (20));
  guint before = sw_night_begin_read (night);
  guint ticket = sw_night_catch (night, 100, SW_RESULT_SOLD, sw_money (900));
  sw_night_landed (night, ticket, TRUE);
  sw_night_set_rows (night, old, before); /* read before: it knows nothing of the key */
  assert_money_equal (sw_night_stand (night, 0).amount, 900);
  g_autoptr (GPtrArray) fresh = rows_new (2, S (20));
  SwRunRow *row = g_ptr_array_index (fresh, 0);
  row->has_caught = TRUE;
  row->caught.result = SW_RESULT_SOLD;
  row->caught.amount = sw_money (900);
  sw_night_set_rows (night, fresh, sw_night_begin_read (night));
  assert_false (sw_night_stand (night, 0).on_its_way);
  assert_money_equal (sw_night_stand (night, 0).amount, 900);
  ticket = sw_night_catch (night, 101, SW_RESULT_NO_SALE, SW_MONEY_ZERO);
  assert_true (sw_night_stand (night, 1).caught);
  sw_night_landed (night, ticket, FALSE);
  assert_false (sw_night_stand (night, 1).caught);
  /* a booked row takes no key, whatever was on its way */
  row->result = SW_RESULT_SOLD;
  row->amount = sw_money (950);
  assert_int_equal (sw_night_catch (night, 100, SW_RESULT_NO_SALE, SW_MONEY_ZERO), 0);
  assert_money_equal (sw_night_stand (night, 0).amount, 950);
}

static const struct
{
  const char *label;
  double left; /* seconds */
  const char *text, *words;
  guint tick;
} countdowns[] = {
  { "over", 0, "closed", "closed", 0 },
  { "long over", -9e6, "closed", "closed", 0 },
  { "the second that runs counts", 0.2, "0:01", "closes in 1 second", 1 },
  { "seconds", 12, "0:12", "closes in 12 seconds", 1 },
  { "minutes", 61, "1:01", "closes in 1 minute 1 second", 1 },
  { "an hour", 3600, "60:00", "closes in 60 minutes 0 seconds", 1 },
  { "more", 3 * 3600 + 300, "3 h 05 min", "closes in 3 h 05 min", 10 },
  { "days", 3 * 86400, "3 days", "closes in 3 days", 10 },
};

static void
test_countdown (void **state)
{
  guint i = (guint)GPOINTER_TO_UINT (*state);
  SwInstant closes = { S (1000) };
  SwInstant now = { S (1000) - S (countdowns[i].left) };
  g_autofree char *text = sw_night_countdown (closes, now);
  g_autofree char *words = sw_night_countdown_words (closes, now);
  g_autoptr (SwNight) night = night_new (1, 0);
  assert_string_equal (text, countdowns[i].text);
  assert_string_equal (words, countdowns[i].words);
  assert_int_equal (sw_night_next_tick (night, now), countdowns[i].tick);
}

/* ---- a scripted person ---- */

#define KEY_US S (0.25)
#define LANDS_US S (3) /* a slow disk: what is typed lands this much later */

typedef struct
{
  SwNight *night;
  GQueue *sent; /* tickets and times, in turn */
  gint64 now;
  guint worst; /* most rows that had closed and were neither caught nor being typed */
  guint most_keys;
} Person;

static void
land_what_is_due (Person *person)
{
  while (!g_queue_is_empty (person->sent)
         && *(const gint64 *)g_queue_peek_head (person->sent) + LANDS_US <= person->now)
    {
      g_autofree gint64 *at = g_queue_pop_head (person->sent);
      sw_night_landed (person->night, (guint)at[1], TRUE);
    }
}

/* Closed rows without a result beside the one at hand. */
static guint
behind (const Person *person)
{
  guint n = 0;
  for (guint i = 0; i < sw_night_count (person->night); i++)
    n += sw_night_row (person->night, i)->closes.us <= person->now
         && sw_night_stand (person->night, i).result == SW_RESULT_RUNNING
         && sw_night_row (person->night, i)->deal != sw_night_get_cursor (person->night);
  return n;
}

static void
strike (Person *person)
{
  person->now += KEY_US;
  land_what_is_due (person);
  person->worst = MAX (person->worst, behind (person));
}

/* Two of three sold: "1234.5" and Enter are seven keys; the third is one key. */
static void
see_to_row (Person *person, int i)
{
  gint64 deal = sw_night_get_cursor (person->night);
  guint keys = i % 3 == 2 ? 1 : 7, ticket;
  for (guint k = 0; k < keys; k++)
    strike (person);
  person->most_keys = MAX (person->most_keys, keys);
  ticket = keys == 1 ? sw_night_catch (person->night, deal, SW_RESULT_NO_SALE, SW_MONEY_ZERO)
                     : sw_night_catch (person->night, deal, SW_RESULT_SOLD, sw_money (123450));
  assert_true (ticket != 0);
  gint64 sent[] = { person->now, ticket };
  g_queue_push_tail (person->sent, g_memdup2 (sent, sizeof sent));
}

/* 60 rows that close 20 s apart, 0.25 s a key. 'late' seconds after the first close the person sits
 * down. */
static void
play (double late, guint allowed)
{
  g_autoptr (SwNight) night = night_new (60, S (20));
  Person person = { night, g_queue_new (), S (1000) + S (late), 0, 0 };
  for (int n = 0; n < 60; n++)
    {
      int i = sw_night_find (night, sw_night_get_cursor (night));
      person.now = MAX (person.now, sw_night_row (night, (guint)i)->closes.us);
      if (n == 0)
        person.worst = behind (&person);
      see_to_row (&person, i);
    }
  assert_int_equal (sw_night_counts (night).open, 0);
  assert_int_equal (sw_night_counts (night).sold, 40);
  assert_true (person.worst <= allowed);
  assert_true (person.most_keys <= 7);
  /* a minute after the last close at the latest, though he began late */
  assert_true (person.now <= sw_night_row (night, 59)->closes.us + S (60));
  g_queue_free_full (person.sent, g_free);
}

static void
test_person_keeps_up (void **state)
{
  (void)state;
  play (0, 1);
}

static void
test_person_catches_up (void **state)
{
  (void)state;
  play (600, 31);
}

int
main (void)
{
  struct CMUnitTest tests[5 + G_N_ELEMENTS (countdowns)] = {
    cmocka_unit_test (test_cursor),
    cmocka_unit_test (test_second_pass),
    cmocka_unit_test (test_on_its_way),
    cmocka_unit_test (test_person_keeps_up),
    cmocka_unit_test (test_person_catches_up),
  };
  for (guint i = 0; i < G_N_ELEMENTS (countdowns); i++)
    tests[5 + i] = (struct CMUnitTest){ .name = countdowns[i].label,
                                        .test_func = test_countdown,
                                        .initial_state = GUINT_TO_POINTER (i) };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
