/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What codes say and which are ours; tags given out and borne; codes of photos kept.
 * Check characters: ISO/IEC 7064:2003, MOD 1271-36; its own example ISO79 with 3W is from memory,
 * and the defining congruence is worked out here another way. */
#include "sw-records.h"
#include "sw-test-catalogue.h"

#include "core/catalogue/check.h"
#include "core/catalogue/photo-codes.h"
#include "core/catalogue/tags.h"
#include "core/match/codes.h"

static void
check_characters_of_the_standard (void **state)
{
  char check[3];

  assert_true (sw_code_check_characters ("ISO79", check));
  assert_string_equal (check, "3W");
  assert_false (sw_code_check_characters ("iso79", check));
  assert_false (sw_code_check_characters ("ISO 79", check));
}

/* The sum of value times weight, weights 36^(position - 1) from the right, is 1 modulo 1271. */
static guint
congruence (const char *text)
{
  guint sum = 0, weight = 1;

  for (gsize k = strlen (text); k-- > 0; weight = weight * 36 % 1271)
    sum = (sum + (guint)g_ascii_digit_value (text[k]) * weight) % 1271;
  return sum;
}

static void
check_characters_fit (void **state)
{
  for (int k = 0; k < 2000; k++)
    {
      g_autofree char *text = g_strdup_printf ("%d", k * 7919);
      char check[3];
      guint sum;

      assert_true (sw_code_check_characters (text, check));
      /* digits only, so that GLib gives their values; the two check characters are shifted in */
      sum = congruence (text) * 36 % 1271 * 36 % 1271;
      for (int c = 0; c < 2; c++)
        {
          guint value
              = g_ascii_isdigit (check[c]) ? (guint)(check[c] - '0') : (guint)(check[c] - 'A' + 10);
          sum = (sum + value * (c == 0 ? 36 : 1)) % 1271;
        }
      assert_i64_equal (sum, 1);
    }
}

static SwCode
code_of (SwCodeKind kind, gint64 number)
{
  SwCode code = { .kind = kind, .number = number };

  g_strlcpy (code.catalogue, "3F09A1B2C4D5", sizeof code.catalogue);
  return code;
}

static void
there_and_back (void **state)
{
  static const gint64 numbers[] = { 1, 9, 10, 12, 99, 2400, 123456, SW_CODE_NUMBER_MAX };

  for (gsize k = 0; k < G_N_ELEMENTS (numbers); k++)
    for (int kind = 0; kind < SW_N_CODE_KINDS; kind++)
      {
        SwCode code = code_of ((SwCodeKind)kind, numbers[k]), read = { 0 };
        g_autofree char *text = sw_code_format (&code);

        assert_true (strlen (text) < SW_PHOTO_CODE_MAX);
        assert_i64_equal (sw_code_parse (text, &read), SW_CODE_READ);
        assert_i64_equal (read.kind, kind);
        assert_i64_equal (read.number, numbers[k]);
        assert_string_equal (read.catalogue, "3F09A1B2C4D5");
      }
}

/* Every wrong character and every swap of neighbours is seen: the text is not read at all, or it
 * reads as what it was. */
static void
every_slip_is_seen (void **state)
{
  static const char characters[] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ:";
  SwCode code = code_of (SW_CODE_TAG, 2417), read;
  g_autofree char *text = sw_code_format (&code);

  for (gsize at = 0; text[at] != '\0'; at++)
    {
      g_autofree char *other = g_strdup (text);

      for (const char *c = characters; *c != '\0'; c++)
        {
          other[at] = *c;
          assert_true ((sw_code_parse (other, &read) == SW_CODE_READ)
                       == (strcmp (other, text) == 0));
        }
      other[at] = text[at + 1];
      if (text[at + 1] == '\0')
        continue;
      other[at + 1] = text[at];
      assert_true ((sw_code_parse (other, &read) == SW_CODE_READ) == (strcmp (other, text) == 0));
    }
}

typedef struct
{
  const char *label, *text;
  SwCodeVerdict verdict;
} ForeignRow;

static const ForeignRow foreign_rows[] = {
  { "nothing", "", SW_CODE_FOREIGN },
  { "none", NULL, SW_CODE_FOREIGN },
  { "a link", "https://example.org/x?y=SW1:P", SW_CODE_FOREIGN },
  { "the letters alone", "SW1", SW_CODE_FOREIGN },
  { "letters and colon", "SW1:", SW_CODE_FOREIGN },
  { "wrong check", "SW1:P:3F09A1B2C4D5:12:AC", SW_CODE_SPOILT },
  { "good, with a tail", "SW1:P:3F09A1B2C4D5:12:AB?", SW_CODE_SPOILT },
  { "good, with a part more", "SW1:P:3F09A1B2C4D5:12:AB:", SW_CODE_FOREIGN },
  { "blank before", " SW1:P:3F09A1B2C4D5:12:AB", SW_CODE_FOREIGN },
  { "small letters", "sw1:p:3f09a1b2c4d5:12:ab", SW_CODE_FOREIGN },
  { "leading zero", "SW1:P:3F09A1B2C4D5:012:AB", SW_CODE_FOREIGN },
  { "number zero", "SW1:P:3F09A1B2C4D5:0:AB", SW_CODE_FOREIGN },
  { "negative", "SW1:P:3F09A1B2C4D5:-1:AB", SW_CODE_FOREIGN },
  { "too large a number", "SW1:P:3F09A1B2C4D5:1000000000:AB", SW_CODE_FOREIGN },
  { "other kind", "SW1:Q:3F09A1B2C4D5:12:AB", SW_CODE_FOREIGN },
  { "long kind", "SW1:PP:3F09A1B2C4D5:12:AB", SW_CODE_FOREIGN },
  { "short catalogue", "SW1:P:3F09A1B2C4D:12:AB", SW_CODE_FOREIGN },
  { "catalogue not hex", "SW1:P:3F09A1B2C4DG:12:AB", SW_CODE_FOREIGN },
  { "a later form", "SW2:P:3F09A1B2C4D5:12:ANYTHING", SW_CODE_LATER },
  { "form zero", "SW0:P:3F09A1B2C4D5:12:AB", SW_CODE_FOREIGN },
  { "long", "SW1:P:3F09A1B2C4D5:12:AB                                              ",
    SW_CODE_FOREIGN },
  { "bytes", "\xFF\xFE:\x01", SW_CODE_FOREIGN },
};

static void
not_ours (void **state)
{
  const ForeignRow *row = *state;
  SwCode code = { .number = -5 };

  assert_i64_equal (sw_code_parse (row->text, &code), row->verdict);
  assert_i64_equal (code.number, -5);
}

static void
a_catalogue_keeps_its_own (void **state)
{
  g_auto (SwTestBed) bed = sw_test_bed_new (), other = sw_test_bed_new ();
  char one[SW_CODE_CATALOGUE_LENGTH + 1], two[SW_CODE_CATALOGUE_LENGTH + 1];

  assert_true (sw_code_catalogue (bed.catalogue, one, NULL));
  assert_true (sw_code_catalogue (other.catalogue, two, NULL));
  assert_string_not_equal (one, two);
  sw_test_reopen (&bed);
  assert_true (sw_code_catalogue (bed.catalogue, two, NULL));
  assert_string_equal (one, two);
}

static void
numbers_are_given_out_once (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  gint64 first = 0;

  assert_true (sw_tags_take (records.catalogue, 24, &first, NULL));
  assert_i64_equal (first, 1);
  gint64 item = records_item (&records, "Vat", 1, 0);
  /* what is undone is the item, for the paper is out of the house */
  assert_true (sw_tags_take (records.catalogue, 1, &first, NULL));
  assert_i64_equal (first, 25);
  assert_true (sw_undo (records.catalogue, NULL, NULL));
  assert_true (sw_tags_take (records.catalogue, 2, &first, NULL));
  assert_i64_equal (first, 26);
  assert_false (sw_tags_take (records.catalogue, 0, &first, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  assert_false (sw_tags_take (records.catalogue, SW_TAGS_AT_ONCE + 1, &first, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_i64_equal (first, 26);
  g_autoptr (GPtrArray) events = sw_events_of (records.catalogue, SW_SUBJECT_CATALOGUE, 0, NULL);
  assert_string_equal (((SwEvent *)g_ptr_array_index (events, 0))->sentence,
                       "Tags 26 to 27 printed");
  assert_true (item > 0);
}

static void
a_tag_is_on_one_item (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  gint64 vat = records_item (&records, "Vat", 1, 0), press = records_item (&records, "Press", 1, 0);
  gint64 item = -1;

  assert_true (sw_tag_item (records.catalogue, 12, &item, NULL));
  assert_i64_equal (item, 0);
  assert_true (sw_tag_set (records.catalogue, 12, vat, NULL));
  assert_true (sw_tag_set (records.catalogue, 12, vat, NULL));
  assert_true (sw_tag_set (records.catalogue, 13, vat, NULL));
  assert_false (sw_tag_set (records.catalogue, 12, press, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "12");
  g_clear_error (&error);
  assert_false (sw_tag_set (records.catalogue, 14, 999, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  assert_true (sw_undo (records.catalogue, NULL, NULL));
  g_autoptr (GArray) tags = sw_tag_list (records.catalogue, NULL);
  assert_i64_equal (tags->len, 1);
  assert_i64_equal (g_array_index (tags, SwTag, 0).tag, 12);
  assert_i64_equal (g_array_index (tags, SwTag, 0).item, vat);
  assert_true (sw_tag_drop (records.catalogue, 12, NULL));
  assert_true (sw_tag_drop (records.catalogue, 12, NULL));
  assert_true (sw_tag_set (records.catalogue, 12, press, NULL));
  g_auto (SwCheckReport) report = { 0 };
  assert_true (sw_check_run (records.catalogue, NULL, &report, NULL));
  assert_i64_equal (report.faults->len, 0);
}

static void
add_code (GPtrArray *codes, const char *text, int share)
{
  SwPhotoCode *code = g_new0 (SwPhotoCode, 1);

  code->text = g_strdup (text);
  code->share = share;
  g_ptr_array_add (codes, code);
}

static void
codes_are_kept_cut_and_harmless (void **state)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GPtrArray) codes = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_photo_code_free);
  g_autofree char *long_text = g_strnfill (2000, 'x');
  SwCode read;

  sw_test_add_photo (bed.catalogue, "a.jpg");
  sw_test_add_photo (bed.catalogue, "b.jpg");
  add_code (codes, "SW1:P:3F09A1B2C4D5:12:AB", 300);
  add_code (codes, "SW1:P:3F09A1B2C4D5:12:AB", 200); /* twice on one photo: the larger */
  add_code (codes, long_text, 4000);
  add_code (codes, "\x1b[31m\xff", -3);
  assert_true (sw_photo_codes_put (bed.catalogue, 1, 1, codes, NULL));
  g_autoptr (GPtrArray) kept = sw_photo_code_list (bed.catalogue, 0, NULL);
  assert_i64_equal (kept->len, 3);
  for (guint k = 0; k < kept->len; k++)
    {
      const SwPhotoCode *code = g_ptr_array_index (kept, k);
      gboolean ours = sw_code_parse (code->text, &read) == SW_CODE_READ;

      assert_true (strlen (code->text) <= SW_PHOTO_CODE_MAX);
      assert_true (g_utf8_validate (code->text, -1, NULL));
      assert_null (strpbrk (code->text, "\x1b\xff"));
      assert_true (code->share >= 0 && code->share <= 1000);
      if (ours)
        assert_i64_equal (code->share, 300);
    }
  g_autoptr (GArray) read_by_one = sw_photo_codes_read (bed.catalogue, 1, NULL);
  g_autoptr (GArray) read_by_two = sw_photo_codes_read (bed.catalogue, 2, NULL);
  assert_i64_equal (read_by_one->len, 1);
  assert_i64_equal (read_by_two->len, 0);
  /* looked at again: what was there before is replaced */
  g_ptr_array_set_size (codes, 0);
  assert_true (sw_photo_codes_put (bed.catalogue, 1, 2, codes, NULL));
  g_autoptr (GPtrArray) none = sw_photo_code_list (bed.catalogue, 0, NULL);
  assert_i64_equal (none->len, 0);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST (tests, check_characters_of_the_standard);
  SW_TEST (tests, check_characters_fit);
  SW_TEST (tests, there_and_back);
  SW_TEST (tests, every_slip_is_seen);
  SW_TEST_ROWS (tests, not_ours, foreign_rows);
  SW_TEST (tests, a_catalogue_keeps_its_own);
  SW_TEST (tests, numbers_are_given_out_once);
  SW_TEST (tests, a_tag_is_on_one_item);
  SW_TEST (tests, codes_are_kept_cut_and_harmless);
  return sw_tests_run (tests, "codes");
}
