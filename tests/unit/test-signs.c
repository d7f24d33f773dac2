/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the codes on one photo mean together: whose card, which tag, and what is said of those that
 * count for nothing. */
#include "sw-records.h"

#include "core/catalogue/photo-codes.h"
#include "core/match/codes.h"
#include "core/match/signs.h"

typedef enum
{
  OURS,
  ANOTHERS,
  SPOILT, /* one character is another */
  LATER,  /* of a later form */
  FOREIGN,
} Whose;

typedef struct
{
  Whose whose;
  SwCodeKind kind;
  gint64 number; /* 0: no code */
  int share;
} Found;

typedef struct
{
  const char *label;
  Found codes[3];
  gint64 place, tag;
  gboolean card;
  guint n_seen;
  const char *remark; /* within it; NULL: none */
} Row;

/* Places 1 and 2 are there. */
static const Row rows[] = {
  { "a card", { { OURS, SW_CODE_PLACE, 1, 500 } }, 1, 0, TRUE, 0, NULL },
  { "a card far behind a thing", { { OURS, SW_CODE_PLACE, 2, 20 } }, 2, 0, FALSE, 0, NULL },
  { "a tag", { { OURS, SW_CODE_TAG, 7, 100 } }, 0, 7, FALSE, 1, NULL },
  { "a card with a tag",
    { { OURS, SW_CODE_PLACE, 1, 300 }, { OURS, SW_CODE_TAG, 7, 100 } },
    1,
    7,
    TRUE,
    1,
    NULL },
  { "a tag near and one behind",
    { { OURS, SW_CODE_TAG, 9, 40 }, { OURS, SW_CODE_TAG, 7, 200 } },
    0,
    7,
    FALSE,
    2,
    NULL },
  { "two tags as near",
    { { OURS, SW_CODE_TAG, 9, 100 }, { OURS, SW_CODE_TAG, 7, 100 } },
    0,
    0,
    FALSE,
    2,
    "several tags, none of them nearest" },
  { "the cards of two places",
    { { OURS, SW_CODE_PLACE, 1, 300 }, { OURS, SW_CODE_PLACE, 2, 300 } },
    0,
    0,
    FALSE,
    0,
    "the cards of several places; none of them counts" },
  { "the card of a place that is gone",
    { { OURS, SW_CODE_PLACE, 3, 300 } },
    0,
    0,
    FALSE,
    0,
    "a place that is not there any more" },
  { "another property's card",
    { { ANOTHERS, SW_CODE_PLACE, 1, 300 } },
    0,
    0,
    FALSE,
    0,
    "a place card of another property" },
  { "another property's tag beside ours",
    { { ANOTHERS, SW_CODE_TAG, 9, 300 }, { OURS, SW_CODE_TAG, 7, 100 } },
    0,
    7,
    FALSE,
    1,
    "a tag of another property" },
  { "a card that was read wrong",
    { { SPOILT, SW_CODE_PLACE, 1, 300 } },
    0,
    0,
    FALSE,
    0,
    "whose check characters do not fit" },
  { "a card of a later program",
    { { LATER, SW_CODE_PLACE, 1, 300 } },
    0,
    0,
    FALSE,
    0,
    "a card or tag of a later Shedwalk" },
  { "a code of anybody's",
    { { FOREIGN, SW_CODE_PLACE, 1, 300 } },
    0,
    0,
    FALSE,
    0,
    "a code that is not one of ours" },
};

static char *
text_of (SwCatalogue *catalogue, const Found *found)
{
  SwCode code = { .kind = found->kind, .number = found->number };
  char *text;

  if (found->whose == FOREIGN)
    return g_strdup ("a box of nails");
  assert_true (sw_code_catalogue (catalogue, code.catalogue, NULL));
  if (found->whose == ANOTHERS)
    code.catalogue[0] = code.catalogue[0] == '0' ? '1' : '0';
  text = sw_code_format (&code);
  if (found->whose == LATER)
    text[strlen ("SW")]++;
  if (found->whose == SPOILT)
    text[strlen (text) - 1] = text[strlen (text) - 1] == 'A' ? 'B' : 'A';
  return text;
}

static void
means (void **state)
{
  const Row *row = *state;
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) codes = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_photo_code_free);
  g_autoptr (GPtrArray) signs = NULL;
  gint64 photo = records_photo (&records, "a.jpg"), bare = records_photo (&records, "b.jpg");
  const SwSign *sign;

  assert_i64_equal (records_place (&records, "Press house"), 1);
  assert_i64_equal (records_place (&records, "Packing shed"), 2);
  for (gsize k = 0; k < G_N_ELEMENTS (row->codes) && row->codes[k].number != 0; k++)
    {
      SwPhotoCode *code = g_new0 (SwPhotoCode, 1);

      code->text = text_of (records.catalogue, &row->codes[k]);
      code->share = row->codes[k].share;
      g_ptr_array_add (codes, code);
    }
  assert_true (sw_photo_codes_put (records.catalogue, photo, 1, codes, &error));
  signs = sw_signs_load (records.catalogue, 0, &error);
  assert_no_error (error);
  assert_null (sw_signs_find (signs, bare));
  sign = sw_signs_find (signs, photo);
  assert_non_null (sign);
  assert_i64_equal (sign->place, row->place);
  assert_i64_equal (sign->tag, row->tag);
  assert_i64_equal (sign->card, row->card);
  assert_i64_equal (sign->seen->len, row->n_seen);
  if (row->remark == NULL)
    assert_null (sign->remark);
  else
    assert_contains (sign->remark, row->remark);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST_ROWS (tests, means, rows);
  return sw_tests_run (tests, "signs");
}
