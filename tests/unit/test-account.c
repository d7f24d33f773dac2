/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The family's account: shares, entries, dues and transfers. Amounts are worked by hand. The
 * apportionment by largest remainder is that of Balinski and Young, Fair Representation (1982);
 * 100.00 over three equal shares gives the odd cent to the one entered first. */
#include "core/catalogue/steps.h"
#include "core/trade/account.h"
#include "sw-test-money.h"

static void
share (SwTestBed *bed, const char *person, const char *percent)
{
  g_autoptr (GError) error = NULL;
  gint64 part = 0;
  assert_true (sw_share_parse (percent, &part, &error));
  assert_true (sw_share_set (bed->catalogue, person, part, &error));
}

static gint64
entry (SwTestBed *bed, const char *person, SwFamilyKind kind, gint64 amount)
{
  g_autoptr (GError) error = NULL;
  gint64 id = 0;
  const SwFamilyEntry made = { .person = (char *)person,
                               .kind = kind,
                               .day = sw_test_day ("2026-04-30"),
                               .amount = sw_money (amount) };
  sw_family_entry_add (bed->catalogue, &made, &id, &error);
  assert_no_error (error);
  return id;
}

static SwAccount
read_account (SwTestBed *bed)
{
  g_autoptr (GError) error = NULL;
  SwAccount account = { 0 };
  sw_account_read (bed->catalogue, &account, &error);
  assert_no_error (error);
  return account;
}

static const SwAccountRow *
row (const SwAccount *account, const char *person)
{
  for (guint i = 0; i < account->rows->len; i++)
    if (g_str_equal (((const SwAccountRow *)g_ptr_array_index (account->rows, i))->person, person))
      return g_ptr_array_index (account->rows, i);
  fail_msg ("%s has no row", person);
  return NULL;
}

/* "Ann>till 1000 | till>Ben 250" */
static char *
transfers (const SwAccount *account)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < account->transfers->len; i++)
    {
      const SwTransfer *transfer = g_ptr_array_index (account->transfers, i);
      g_string_append_printf (text, "%s%s>%s %" G_GINT64_FORMAT, i > 0 ? " | " : "",
                              transfer->from != NULL ? transfer->from : "till",
                              transfer->to != NULL ? transfer->to : "till", transfer->amount.minor);
    }
  return g_string_free (text, FALSE);
}

/* Takings 182.70, costs 12.70, a ladder taken at 30.00: 200.00 to share. */
static SwTestBed
with_press (void)
{
  SwTestBed bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL PRESS "cost|trip=1|at=2026-04-11|amount=12.70\n", NULL);
  return bed;
}

static void
test_dues (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = with_press ();
  share (&bed, "Ben", "50%");
  share (&bed, "Ann", "30");
  share (&bed, "Cleo", "20 %");
  entry (&bed, "Ann", SW_FAMILY_TAKEN, 3000);
  entry (&bed, "Ben", SW_FAMILY_ADVANCE, 2500);
  entry (&bed, "Cleo", SW_FAMILY_COST, 1270);
  entry (&bed, "Cleo", SW_FAMILY_HOLDS, 20000);
  entry (&bed, "Ben", SW_FAMILY_PAYOUT, 1000);
  g_auto (SwAccount) account = read_account (&bed);
  assert_money_equal (account.takings, 18270);
  assert_money_equal (account.costs, 1270);
  assert_money_equal (account.taken, 3000);
  assert_money_equal (account.to_share, 20000);
  assert_money_equal (row (&account, "Ben")->due, 10000 - 2500 - 1000);
  assert_money_equal (row (&account, "Ann")->due, 6000 - 3000);
  assert_money_equal (row (&account, "Cleo")->due, 4000 + 1270);
  assert_money_equal (account.in_till, 6500 + 3000 + 5270 - 20000);
  /* in the order in which they were entered */
  assert_string_equal (((SwAccountRow *)g_ptr_array_index (account.rows, 0))->person, "Ben");
  g_autofree char *text = transfers (&account);
  assert_string_equal (text, "Cleo>Ben 6500 | Cleo>till 5230 | Cleo>Ann 3000");
}

/* Seven things stand, the sold one too until it is fetched; then it is gone and owed for; then all
 * is paid. */
static void
test_final (void **state)
{
  (void)state;
  static const SwCurrency currency = { "NZD", 2 };
  g_autoptr (GError) error = NULL;
  g_auto (SwTestBed) bed = with_press ();
  share (&bed, "Ann", "100%");
  {
    g_auto (SwAccount) account = read_account (&bed);
    g_autofree char *words = sw_account_final_words (&account, currency);
    assert_string_equal (words,
                         "Not final yet: 7 things still stand, and buyers still owe 200.00 NZD.");
  }
  for (gint64 item = 2; item <= 7; item++)
    if (!sw_item_move (bed.catalogue, item, SW_STATE_KEPT, NULL, NULL, NULL, &error))
      assert_no_error (error);
  sw_test_book (bed.catalogue, "collected|ref=A1|at=2026-05-09\n", NULL);
  {
    g_auto (SwAccount) account = read_account (&bed);
    g_autofree char *words = sw_account_final_words (&account, currency);
    assert_string_equal (words, "Not final yet: buyers still owe 200.00 NZD.");
  }
  sw_test_book (bed.catalogue, "payment|ref=A1|at=2026-05-09|amount=200.00\n", NULL);
  {
    g_auto (SwAccount) account = read_account (&bed);
    g_autofree char *words = sw_account_final_words (&account, currency);
    assert_string_equal (words, "These are the final figures: nothing stands any more, and buyers "
                                "have paid all. What each one still gets is to be paid out.");
    assert_int_equal (account.transfers->len, 1);
    entry (&bed, "Ann", SW_FAMILY_PAYOUT, row (&account, "Ann")->due.minor);
  }
  g_auto (SwAccount) account = read_account (&bed);
  g_autofree char *words = sw_account_final_words (&account, currency);
  assert_int_equal (account.transfers->len, 0);
  assert_string_equal (words,
                       "This is the final account: nothing stands any more, buyers have paid "
                       "all, and everybody has what is due.");
}

static void
test_odd_cents (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, "sale|ref=S1|item=Ladder|at=2026-04-12|amount=100.00\n", NULL);
  share (&bed, "Zoe", "33.3333");
  share (&bed, "Ann", "33.3333");
  share (&bed, "Ben", "33.3334");
  g_auto (SwAccount) account = read_account (&bed);
  assert_money_equal (row (&account, "Zoe")->part, 3333);
  assert_money_equal (row (&account, "Ann")->part, 3333);
  assert_money_equal (row (&account, "Ben")->part, 3334);
  share (&bed, "Ben", "0");
  share (&bed, "Zoe", "50");
  share (&bed, "Ann", "50");
  sw_test_book (bed.catalogue, "sale|ref=S2|item=Scales|at=2026-05-09|amount=0.01\n", NULL);
  g_auto (SwAccount) two = read_account (&bed);
  assert_money_equal (row (&two, "Zoe")->part, 5001);
  assert_money_equal (row (&two, "Ann")->part, 5000);
  assert_int_equal (two.rows->len, 2);
}

/* A trip that cost more than it raised. */
static void
test_loss (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, "cost|trip=1|at=2026-04-11|amount=10.00\n", NULL);
  share (&bed, "Ann", "75");
  share (&bed, "Ben", "25");
  entry (&bed, "Ann", SW_FAMILY_COST, 1000);
  g_auto (SwAccount) account = read_account (&bed);
  assert_money_equal (account.to_share, -1000);
  assert_money_equal (row (&account, "Ann")->due, -750 + 1000);
  assert_money_equal (row (&account, "Ben")->due, -250);
  g_autofree char *text = transfers (&account);
  assert_string_equal (text, "Ben>Ann 250");
}

static void
test_withdrawn (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = with_press ();
  g_autoptr (GError) error = NULL;
  share (&bed, "Ann", "100");
  gint64 id = entry (&bed, "Friend", SW_FAMILY_HOLDS, 500);
  g_auto (SwAccount) before = read_account (&bed);
  assert_money_equal (row (&before, "Friend")->holds, 500);
  assert_true (sw_family_entry_withdraw (bed.catalogue, id, &error));
  assert_true (sw_family_entry_withdraw (bed.catalogue, id, &error));
  g_auto (SwAccount) after = read_account (&bed);
  assert_int_equal (after.rows->len, 1);
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  g_auto (SwAccount) undone = read_account (&bed);
  assert_int_equal (undone.rows->len, 2);
  assert_false (sw_family_entry_withdraw (bed.catalogue, 99, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

typedef struct
{
  const char *label;
  const char *says;
  const char *first, *second; /* shares of Ann and Ben; NULL: none */
} RefusedRow;

static const RefusedRow refused_rows[] = {
  { "nobody", "Nobody has a share yet", NULL, NULL },
  { "too little", "add up to 90 %", "50", "40" },
  { "too much", "add up to 100.0001 %", "50", "50.0001" },
};

static void
test_refused (void **state)
{
  const RefusedRow *refused = *state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_auto (SwAccount) account = { 0 };
  g_autoptr (GError) error = NULL;
  if (refused->first != NULL)
    share (&bed, "Ann", refused->first);
  if (refused->second != NULL)
    share (&bed, "Ben", refused->second);
  assert_false (sw_account_read (bed.catalogue, &account, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, refused->says);
}

typedef struct
{
  const char *label;
  const char *text;
  gint64 part; /* -1: refused */
  const char *shown;
} PercentRow;

static const PercentRow percent_rows[] = {
  { "whole", "100", 1000000, "100" },
  { "a third", "33.3333 %", 333333, "33.3333" },
  { "short", "12.5%", 125000, "12.5" },
  { "nothing", "0", 0, "0" },
  { "zeros behind", "7.1000", 71000, "7.1" },
  { "over all", "100.0001", -1, NULL },
  { "five decimals", "33.33333", -1, NULL },
  { "a sign", "-5", -1, NULL },
  { "two points", "1.2.3", -1, NULL },
  { "blank", " ", -1, NULL },
  { "sign alone", "%", -1, NULL },
  { "words", "half", -1, NULL },
  { "huge", "99999999999999999999", -1, NULL },
};

static void
test_percent (void **state)
{
  const PercentRow *percent = *state;
  g_autoptr (GError) error = NULL;
  gint64 part = 0;
  gboolean ok = sw_share_parse (percent->text, &part, &error);
  assert_int_equal (ok, percent->part >= 0);
  if (!ok)
    {
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      return;
    }
  assert_i64_equal (part, percent->part);
  g_autofree char *shown = sw_share_to_text (part);
  assert_string_equal (shown, percent->shown);
}

/* Whatever the shares and entries: parts add up to what is shared, and after the transfers nobody
 * is owed anything. */
static void
test_random (void **state)
{
  (void)state;
  static const char *const people[] = { "Ann", "Ben", "Cleo", "Dora" };
  g_autoptr (GRand) dice = g_rand_new_with_seed (11);
  for (int round = 0; round < 20; round++)
    {
      g_auto (SwTestBed) bed = with_press ();
      g_autoptr (GError) error = NULL;
      gint64 left = SW_SHARE_WHOLE;
      for (int i = 0; i < 4; i++)
        {
          gint64 part = i < 3 ? g_rand_int_range (dice, 0, (gint32)left + 1) : left;
          assert_true (sw_share_set (bed.catalogue, people[i], part, &error));
          left -= part;
        }
      for (int i = 0; i < 12; i++)
        entry (&bed, people[g_rand_int_range (dice, 0, 4)],
               (SwFamilyKind)g_rand_int_range (dice, 0, SW_N_FAMILY_KINDS),
               g_rand_int_range (dice, 0, 30000));
      g_auto (SwAccount) account = read_account (&bed);
      gint64 parts = 0, till = -account.in_till.minor;
      g_autoptr (GHashTable) open = g_hash_table_new (g_str_hash, g_str_equal);
      for (guint i = 0; i < account.rows->len; i++)
        {
          const SwAccountRow *one = g_ptr_array_index (account.rows, i);
          parts += one->part.minor;
          g_hash_table_insert (open, one->person,
                               GINT_TO_POINTER ((int)(one->due.minor - one->holds.minor)));
        }
      assert_i64_equal (parts, account.to_share.minor);
      assert_true (account.transfers->len <= account.rows->len);
      for (guint i = 0; i < account.transfers->len; i++)
        {
          const SwTransfer *transfer = g_ptr_array_index (account.transfers, i);
          int amount = (int)transfer->amount.minor;
          assert_true (amount > 0);
          if (transfer->from == NULL)
            till += amount;
          else
            g_hash_table_insert (
                open, transfer->from,
                GINT_TO_POINTER (GPOINTER_TO_INT (g_hash_table_lookup (open, transfer->from))
                                 + amount));
          if (transfer->to == NULL)
            till -= amount;
          else
            g_hash_table_insert (
                open, transfer->to,
                GINT_TO_POINTER (GPOINTER_TO_INT (g_hash_table_lookup (open, transfer->to))
                                 - amount));
        }
      assert_i64_equal (till, 0);
      for (guint i = 0; i < account.rows->len; i++)
        assert_int_equal (GPOINTER_TO_INT (g_hash_table_lookup (
                              open, ((SwAccountRow *)g_ptr_array_index (account.rows, i))->person)),
                          0);
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_dues);
  SW_TEST (tests, test_final);
  SW_TEST (tests, test_odd_cents);
  SW_TEST (tests, test_loss);
  SW_TEST (tests, test_withdrawn);
  SW_TEST_ROWS (tests, test_refused, refused_rows);
  SW_TEST_ROWS (tests, test_percent, percent_rows);
  SW_TEST (tests, test_random);
  int failed = sw_tests_run (tests, "account");
  sw_test_property_end ();
  return failed;
}
