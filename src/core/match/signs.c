/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the texts of codes to what they mean here. Must not weigh: a sign says what is to be seen.
 */
#include "core/match/signs.h"
#include "core/base/language.h"

#include "core/catalogue/photo-codes.h"
#include "core/catalogue/places.h"
#include "core/match/codes.h"

#include <string.h>

/* A card that takes up less of the photo than this (in thousandths of its long side) hangs in the
 * background of something else. A judgement: a card held into the picture takes a fifth and more.
 */
#define CARD_LEAST 80
/* Of several tags the photo is of the one that is so much larger than the next; the others hang on
 * things behind it. A judgement: a tag twice as far off is half as large. */
#define TAG_NEARER 1.5

static void
sign_free (gpointer data)
{
  SwSign *sign = data;

  g_array_unref (sign->seen);
  g_free (sign->remark);
  g_free (sign);
}

/* The first remark stands: one line a photo is enough. */
static void
remark (SwSign *sign, const char *text)
{
  if (sign->remark == NULL)
    sign->remark = g_strdup (text);
}

static const char *
verdict_remark (SwCodeVerdict verdict)
{
  switch (verdict)
    {
    case SW_CODE_FOREIGN:
      return _ ("shows a code that is not one of ours; it is ignored");
    case SW_CODE_LATER:
      return _ ("shows a card or tag of a later Shedwalk; it is ignored");
    case SW_CODE_SPOILT:
      return _ ("shows a card or tag whose check characters do not fit; it is ignored");
    default:
      return NULL;
    }
}

/* What is being made out of one photo's codes. */
typedef struct
{
  SwSign *sign;
  GHashTable *places;
  gboolean two_places;
  int nearest, next; /* shares of the two largest tags */
} Reading;

static void
take_tag (Reading *reading, gint64 tag, int share)
{
  for (guint k = 0; k < reading->sign->seen->len; k++)
    if (g_array_index (reading->sign->seen, gint64, k) == tag)
      return;
  g_array_append_val (reading->sign->seen, tag);
  if (share > reading->nearest)
    {
      reading->next = reading->nearest;
      reading->nearest = share;
      reading->sign->tag = tag;
    }
  else
    reading->next = MAX (reading->next, share);
}

/* What one of ours says. Two cards contradict each other: neither counts. */
static void
take_code (Reading *reading, const SwCode *code, int share)
{
  SwSign *sign = reading->sign;

  if (code->kind == SW_CODE_TAG)
    {
      take_tag (reading, code->number, share);
      return;
    }
  if (!g_hash_table_contains (reading->places, &code->number))
    {
      remark (sign, _ ("shows a card of a place that is not there any more; it is ignored"));
      return;
    }
  reading->two_places |= sign->place != 0 && sign->place != code->number;
  sign->place = code->number;
  sign->card = share >= CARD_LEAST;
}

static int
compare_tags (gconstpointer a, gconstpointer b)
{
  gint64 x = *(const gint64 *)a, y = *(const gint64 *)b;

  return (x > y) - (x < y);
}

static SwSign *
sign_of (const GPtrArray *codes, guint from, guint end, const char *catalogue, GHashTable *places)
{
  SwSign *sign = g_new0 (SwSign, 1);
  Reading reading = { sign, places };

  sign->seen = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (guint k = from; k < end; k++)
    {
      const SwPhotoCode *found = g_ptr_array_index (codes, k);
      SwCode code;
      SwCodeVerdict verdict = sw_code_parse (found->text, &code);

      sign->photo = found->photo;
      if (verdict != SW_CODE_READ)
        remark (sign, verdict_remark (verdict));
      else if (strcmp (code.catalogue, catalogue) != 0)
        remark (sign, code.kind == SW_CODE_PLACE
                          ? _ ("shows a place card of another property; it is ignored")
                          : _ ("shows a tag of another property; it is ignored"));
      else
        take_code (&reading, &code, found->share);
    }
  if (reading.two_places)
    {
      sign->place = 0;
      sign->card = FALSE;
      remark (sign, _ ("shows the cards of several places; none of them counts"));
    }
  if (sign->seen->len > 1 && reading.nearest < TAG_NEARER * reading.next)
    {
      sign->tag = 0;
      remark (sign, _ ("shows several tags, none of them nearest; it names no stop"));
    }
  g_array_sort (sign->seen, compare_tags);
  return sign;
}

GPtrArray *
sw_signs_load (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autoptr (GPtrArray) codes = sw_photo_code_list (catalogue, trip, error);
  g_autoptr (GPtrArray) places = sw_place_list (catalogue, error);
  g_autoptr (GHashTable) numbers = g_hash_table_new (g_int64_hash, g_int64_equal);
  g_autoptr (GPtrArray) signs = g_ptr_array_new_with_free_func (sign_free);
  char id[SW_CODE_CATALOGUE_LENGTH + 1];

  if (codes == NULL || places == NULL || !sw_code_catalogue (catalogue, id, error))
    return NULL;
  for (guint k = 0; k < places->len; k++)
    g_hash_table_add (numbers, &((SwPlace *)g_ptr_array_index (places, k))->id);
  for (guint k = 0; k < codes->len;)
    {
      gint64 photo = ((SwPhotoCode *)g_ptr_array_index (codes, k))->photo;
      guint end = k;

      while (end < codes->len && ((SwPhotoCode *)g_ptr_array_index (codes, end))->photo == photo)
        end++;
      g_ptr_array_add (signs, sign_of (codes, k, end, id, numbers));
      k = end;
    }
  return g_steal_pointer (&signs);
}

const SwSign *
sw_signs_find (const GPtrArray *signs, gint64 photo)
{
  guint low = 0, high = signs->len;

  while (low < high)
    {
      guint mid = (low + high) / 2;
      const SwSign *sign = g_ptr_array_index (signs, mid);

      if (sign->photo == photo)
        return sign;
      if (sign->photo < photo)
        low = mid + 1;
      else
        high = mid;
    }
  return NULL;
}
