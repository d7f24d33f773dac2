/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The last phase of booking: the money of every deal that was touched. Weights and charges of what
 * ended here are fixed, the free offers of a month counted again, then all is posted. */
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/postings.h"
#include "core/trade/book-private.h"
#include "core/trade/free-offers.h"
#include "core/trade/settle.h"

typedef struct
{
  gint64 size;
  gboolean overflow;
} Total;

static int
compare_ids (gconstpointer a, gconstpointer b)
{
  gint64 x = **(gint64 *const *)a, y = **(gint64 *const *)b;
  return x < y ? -1 : x > y;
}

static GPtrArray *
sorted_ids (GHashTable *table)
{
  GPtrArray *ids = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer id;
  g_hash_table_iter_init (&iter, table);
  while (g_hash_table_iter_next (&iter, &id, NULL))
    g_ptr_array_add (ids, id);
  g_ptr_array_sort (ids, compare_ids);
  return ids;
}

/* What is at fault with the money of a deal is said at the line that touched it last. */
static gboolean
take_money_fault (SwBook *book, int line, GError *fault, GError **error)
{
  gboolean of_row = sw_book_is_of_row (fault);
  if (of_row)
    sw_book_fault (book, line, fault->message);
  else
    g_propagate_error (error, g_steal_pointer (&fault));
  g_clear_error (&fault);
  return of_row;
}

static gboolean
each_touched (SwBook *book, gboolean only_ended,
              gboolean (*settle) (SwCatalogue *catalogue, gint64 deal, GError **error),
              GError **error)
{
  g_autoptr (GPtrArray) ids = sorted_ids (book->touched);
  for (guint i = 0; i < ids->len; i++)
    {
      const gint64 *deal = g_ptr_array_index (ids, i);
      const SwTouched *touched = g_hash_table_lookup (book->touched, deal);
      GError *fault = NULL;
      if ((touched->ended_now || !only_ended) && !settle (book->catalogue, *deal, &fault)
          && !take_money_fault (book, touched->line, fault, error))
        return FALSE;
    }
  return TRUE;
}

/* Offers that ended in an earlier act say in their own history why their fee is another now. */
static gboolean
take_change (SwBook *book, SwAct *act, const SwFreeChange *change, GError **error)
{
  const SwTouched *touched = g_hash_table_lookup (book->touched, &change->deal);
  if (touched != NULL && touched->ended_now)
    return TRUE;
  if (touched == NULL)
    sw_book_touch (book, change->deal, FALSE);
  g_autofree char *sentence
      = change->waived ? g_strdup_printf (
            _ ("%s: %s is waived, the offer is among the free ones of its month"), change->ref,
            change->charge)
                       : g_strdup_printf (
                           _ ("%s: %s is due, the offer is not among the free ones of its month"),
                           change->ref, change->charge);
  return sw_act_tell (act, SW_SUBJECT_OFFER, change->deal, "offer.fee", &change->ended, sentence,
                      error);
}

static gboolean
count_free (SwBook *book, SwAct *act, GError **error)
{
  g_autoptr (GPtrArray) outlets = sorted_ids (book->counted);
  for (guint i = 0; i < outlets->len; i++)
    {
      const gint64 *outlet = g_ptr_array_index (outlets, i);
      g_autoptr (GPtrArray) changes = sw_free_offers_recount (book->catalogue, *outlet, error);
      if (changes == NULL)
        return FALSE;
      for (guint k = 0; k < changes->len; k++)
        if (!take_change (book, act, g_ptr_array_index (changes, k), error))
          return FALSE;
    }
  return TRUE;
}

static void
add_size (const SwPosting *posting, gpointer data)
{
  Total *total = data;
  gint64 size = ABS (posting->minor);
  total->overflow = total->overflow || __builtin_add_overflow (total->size, size, &total->size);
}

/* If all amounts together fit whatever their signs, every sum of some of them does too: no row of
 * the takings can overflow later. */
static gboolean
check_total (SwBook *book, GError **error)
{
  Total total = { 0, FALSE };
  g_autoptr (GPtrArray) costs = sw_cost_list (book->catalogue, error);
  if (costs == NULL || !sw_posting_each (book->catalogue, add_size, &total, error))
    return FALSE;
  for (guint i = 0; i < costs->len; i++)
    total.overflow = total.overflow
                     || __builtin_add_overflow (
                         total.size, ((const SwCost *)g_ptr_array_index (costs, i))->amount.minor,
                         &total.size);
  if (total.overflow)
    sw_book_fault (
        book, book->line,
        _ ("with this row the money of all rows grows too large to be added up; look for a "
           "figure with too many digits."));
  return TRUE;
}

gboolean
sw_book_settle (SwBook *book, SwAct *act, GError **error)
{
  return each_touched (book, TRUE, sw_settle_fix, error) && count_free (book, act, error)
         && each_touched (book, FALSE, sw_settle, error) && check_total (book, error);
}
