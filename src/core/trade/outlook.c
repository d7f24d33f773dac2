/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Turns the record of ended offers into cases of the model, and its guesses into money. */
#include "core/trade/outlook.h"

#include <math.h>
#include <string.h>

#include "core/catalogue/past-offers.h"
#include "core/catalogue/yard-rates.h"
#include "core/trade/outlook-model.h"
#include "core/trade/quote.h"

/* Kinds that are told apart: the ones met most often. */
#define KINDS_MOST 40
/* A kind met once tells nothing of the next. */
#define KIND_CASES_LEAST 2
/* Estimates become money by a ratio in millionths, so that amounts stay integers. */
#define MILLION 1000000.0
/* Prices against asking beyond e^2 either way are slips or another thing. */
#define RATIO_MOST 2.0

struct _SwOutlookBook
{
  SwCatalogue *catalogue;
  GPtrArray *outlets; /* SwOutlet, those that sell */
  GPtrArray *charges; /* GPtrArray of SwCharge, beside outlets */
  GHashTable *kinds;  /* folded word -> 1 + index */
  int *sold;          /* beside outlets */
  gboolean has_load;
  SwMoney cartage;
  SwMass load;
  SwOutlookModel *model;
};

void
sw_outlook_free (SwOutlook *outlook)
{
  if (outlook == NULL)
    return;
  g_free (outlook->name);
  g_free (outlook);
}

void
sw_outlook_book_free (SwOutlookBook *book)
{
  if (book == NULL)
    return;
  g_clear_pointer (&book->outlets, g_ptr_array_unref);
  g_clear_pointer (&book->charges, g_ptr_array_unref);
  g_clear_pointer (&book->kinds, g_hash_table_unref);
  g_clear_pointer (&book->model, sw_outlook_model_free);
  g_free (book->sold);
  g_free (book);
}

/* --- kinds of things --- */

/* The kind as the person said it; else the last word of the name, which names the thing in most
 * names ("Screw press"). Folded. Transfer full. */
static char *
kind_word (const char *kind, const char *name)
{
  if (kind != NULL)
    return g_utf8_casefold (kind, -1);
  const char *blank = strrchr (name, ' ');
  return g_utf8_casefold (blank != NULL ? blank + 1 : name, -1);
}

typedef struct
{
  const char *word;
  int n;
} KindCount;

static int
compare_counts (gconstpointer a, gconstpointer b)
{
  const KindCount *x = a, *y = b;
  return x->n != y->n ? y->n - x->n : strcmp (x->word, y->word);
}

static GHashTable *
count_words (const GPtrArray *words)
{
  GHashTable *counts = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < words->len; i++)
    {
      gpointer word = g_ptr_array_index (words, i);
      g_hash_table_insert (
          counts, word, GINT_TO_POINTER (GPOINTER_TO_INT (g_hash_table_lookup (counts, word)) + 1));
    }
  return counts;
}

static GHashTable *
kinds_of (const GPtrArray *words)
{
  g_autoptr (GHashTable) counts = count_words (words);
  g_autoptr (GArray) sorted = g_array_new (FALSE, FALSE, sizeof (KindCount));
  GHashTableIter each;
  gpointer word, n;
  g_hash_table_iter_init (&each, counts);
  while (g_hash_table_iter_next (&each, &word, &n))
    if (GPOINTER_TO_INT (n) >= KIND_CASES_LEAST)
      {
        KindCount count = { word, GPOINTER_TO_INT (n) };
        g_array_append_val (sorted, count);
      }
  g_array_sort (sorted, compare_counts);
  GHashTable *kinds = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < MIN (sorted->len, KINDS_MOST); i++)
    g_hash_table_insert (kinds, g_strdup (g_array_index (sorted, KindCount, i).word),
                         GINT_TO_POINTER ((int)i + 1));
  return kinds;
}

static int
kind_index (const SwOutlookBook *book, const char *word)
{
  return GPOINTER_TO_INT (g_hash_table_lookup (book->kinds, word)) - 1;
}

/* --- cases --- */

static int
outlet_index (const SwOutlookBook *book, gint64 id)
{
  for (guint i = 0; i < book->outlets->len; i++)
    if (((const SwOutlet *)g_ptr_array_index (book->outlets, i))->id == id)
      return (int)i;
  return -1;
}

static double
log_ratio (SwMoney a, SwMoney b)
{
  double ratio = log ((double)a.minor / (double)b.minor);
  return CLAMP (ratio, -RATIO_MOST, RATIO_MOST);
}

static SwOutlookCase
case_of (SwOutlookBook *book, const SwPastOffer *offer, const char *kind, double interest_before)
{
  SwOutlookCase made = { .outlet = outlet_index (book, offer->outlet),
                         .kind = kind_index (book, kind),
                         .interest = interest_before,
                         .sold = offer->sold };
  gboolean priced = offer->has_asking && offer->asking.minor > 0;
  if (priced && offer->has_start && offer->start.minor > 0)
    made.price = log_ratio (offer->start, offer->asking);
  made.has_ratio = offer->sold && priced && offer->amount.minor > 0;
  if (made.has_ratio)
    made.ratio = log_ratio (offer->amount, offer->asking);
  return made;
}

static GPtrArray *
words_of (const GPtrArray *offers)
{
  GPtrArray *words = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < offers->len; i++)
    {
      const SwPastOffer *offer = g_ptr_array_index (offers, i);
      g_ptr_array_add (words, kind_word (offer->kind, offer->name));
    }
  return words;
}

/* What an offer itself drew ends with its result, so a case knows only the interest of the item's
 * offer before: as it will be when the outlook is asked. */
static GArray *
cases_of (SwOutlookBook *book, const GPtrArray *offers, const GPtrArray *words)
{
  g_autoptr (GHashTable) before = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, g_free);
  GArray *cases = g_array_new (FALSE, FALSE, sizeof (SwOutlookCase));
  for (guint i = 0; i < offers->len; i++)
    {
      SwPastOffer *offer = g_ptr_array_index (offers, i);
      if (outlet_index (book, offer->outlet) < 0)
        continue;
      const double *last = g_hash_table_lookup (before, &offer->item);
      SwOutlookCase made
          = case_of (book, offer, g_ptr_array_index (words, i), last != NULL ? *last : 0);
      g_array_append_val (cases, made);
      double drew = sw_outlook_interest (offer->looks, offer->followers, offer->bids);
      g_hash_table_insert (before, &offer->item, g_memdup2 (&drew, sizeof drew));
      book->sold[made.outlet] += offer->sold;
    }
  return cases;
}

/* --- learning --- */

static gboolean
sells (const SwOutlet *outlet)
{
  return !outlet->has_kind
         || (outlet->kind != SW_OUTLET_SCRAP_YARD && outlet->kind != SW_OUTLET_GIFT);
}

static gboolean
read_outlets (SwOutlookBook *book, GError **error)
{
  g_autoptr (GPtrArray) all = sw_outlet_list (book->catalogue, error);
  if (all == NULL)
    return FALSE;
  g_ptr_array_set_free_func (all, NULL);
  for (guint i = 0; i < all->len; i++)
    {
      SwOutlet *outlet = g_ptr_array_index (all, i);
      if (sells (outlet))
        g_ptr_array_add (book->outlets, outlet);
      else
        sw_outlet_free (outlet);
    }
  for (guint i = 0; i < book->outlets->len; i++)
    {
      const SwOutlet *outlet = g_ptr_array_index (book->outlets, i);
      GPtrArray *charges = sw_charge_list (book->catalogue, outlet->id, error);
      if (charges == NULL)
        return FALSE;
      g_ptr_array_add (book->charges, charges);
    }
  book->sold = g_new0 (int, (gsize)book->outlets->len + 1);
  return sw_scrap_load_get (book->catalogue, &book->has_load, &book->cartage, &book->load, error);
}

SwOutlookBook *
sw_outlook_learn (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (SwOutlookBook) book = g_new0 (SwOutlookBook, 1);
  book->catalogue = catalogue;
  book->outlets = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_outlet_free);
  book->charges = g_ptr_array_new_with_free_func ((GDestroyNotify)g_ptr_array_unref);
  g_autoptr (GPtrArray) offers = sw_past_offers (catalogue, error);
  if (offers == NULL || !read_outlets (book, error))
    return NULL;
  g_autoptr (GPtrArray) words = words_of (offers);
  book->kinds = kinds_of (words);
  g_autoptr (GArray) cases = cases_of (book, offers, words);
  book->model
      = sw_outlook_model_fit ((const SwOutlookCase *)(void *)cases->data, cases->len,
                              (int)book->outlets->len, (int)g_hash_table_size (book->kinds));
  return g_steal_pointer (&book);
}

/* --- one item --- */

static gboolean
share_of (SwMoney amount, double share, SwMoney *out, GError **error)
{
  return sw_money_scale (amount, (gint64)llround (share * MILLION), (gint64)MILLION,
                         SW_ROUND_HALF_UP, out, error);
}

/* A shop and a dealer are gone to; at an auction or by an ad the buyer collects. */
static gboolean
read_cartage (const SwOutlookBook *book, const SwOutlet *outlet, const SwItem *item,
              SwMoney *out_cartage, GError **error)
{
  *out_cartage = SW_MONEY_ZERO;
  gboolean carried = outlet->has_kind
                     && (outlet->kind == SW_OUTLET_SHOP_FLOOR || outlet->kind == SW_OUTLET_DEALER);
  if (!carried || !book->has_load || !item->has_mass || item->state == SW_STATE_AT_HOME)
    return TRUE;
  return sw_money_scale (book->cartage, item->mass.ug, book->load.ug, SW_ROUND_HALF_UP, out_cartage,
                         error);
}

static gboolean
expect (SwOutlook *outlook, GError **error)
{
  SwMoney when_sold, sold, unsold;
  return sw_money_sub (outlook->price, outlook->fees, &when_sold, error)
         && sw_money_sub (when_sold, outlook->cartage, &when_sold, error)
         && share_of (when_sold, outlook->chance, &sold, error)
         && share_of (outlook->unsold_fees, 1 - outlook->chance, &unsold, error)
         && sw_money_sub (sold, unsold, &outlook->expected, error);
}

static gboolean
fill_money (const SwOutlookBook *book, guint at, const SwItem *item, double ratio,
            SwOutlook *outlook, GError **error)
{
  const SwOutlet *outlet = g_ptr_array_index (book->outlets, at);
  const GPtrArray *charges = g_ptr_array_index (book->charges, at);
  SwCurrency currency = sw_catalogue_currency (book->catalogue);
  SwDay today
      = sw_day_of_instant (sw_catalogue_now (book->catalogue), sw_catalogue_zone (book->catalogue));
  SwQuote sold, unsold;
  if (!share_of (item->asking, ratio, &outlook->price, error)
      || !sw_quote_sold (outlet, charges, today, outlook->price, currency, &sold, error)
      || !sw_quote_no_sale (outlet, charges, today, currency, &unsold, error)
      || !read_cartage (book, outlet, item, &outlook->cartage, error))
    return FALSE;
  outlook->fees = sold.fees;
  outlook->unsold_fees = unsold.fees;
  outlook->has_money = TRUE;
  return expect (outlook, error);
}

static SwOutlook *
outlook_at (const SwOutlookBook *book, guint at, const SwItem *item, SwOutlookCase what,
            GError **error)
{
  const SwOutlet *outlet = g_ptr_array_index (book->outlets, at);
  SwOutlookGuess guess;
  what.outlet = (int)at;
  sw_outlook_model_guess (book->model, &what, &guess);
  SwOutlook *outlook = g_new0 (SwOutlook, 1);
  outlook->outlet = outlet->id;
  outlook->name = g_strdup (outlet->name);
  outlook->cases = guess.cases;
  outlook->sold = book->sold[at];
  outlook->few = guess.cases < SW_OUTLOOK_FEW;
  outlook->chance = guess.chance;
  outlook->low = guess.low;
  outlook->high = guess.high;
  if (item->has_asking && !fill_money (book, at, item, guess.ratio, outlook, error))
    {
      sw_outlook_free (outlook);
      return NULL;
    }
  return outlook;
}

static int
compare_outlooks (gconstpointer a, gconstpointer b)
{
  const SwOutlook *x = *(SwOutlook *const *)a, *y = *(SwOutlook *const *)b;
  if (x->has_money && y->has_money && x->expected.minor != y->expected.minor)
    return x->expected.minor > y->expected.minor ? -1 : 1;
  return strcmp (x->name, y->name);
}

GPtrArray *
sw_outlook_of (SwOutlookBook *book, const SwItem *item, GError **error)
{
  gint64 looks, followers, bids;
  g_autofree char *kind = NULL;
  if (!sw_past_interest (book->catalogue, item->id, &looks, &followers, &bids, error)
      || !sw_past_kind (book->catalogue, item->id, &kind, error))
    return NULL;
  g_autofree char *word = kind_word (kind, item->name);
  const SwOutlookCase what = { .kind = kind_index (book, word),
                               .interest = sw_outlook_interest (looks, followers, bids) };
  g_autoptr (GPtrArray) outlooks = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_outlook_free);
  for (guint i = 0; i < book->outlets->len; i++)
    {
      SwOutlook *outlook = outlook_at (book, i, item, what, error);
      if (outlook == NULL)
        return NULL;
      g_ptr_array_add (outlooks, outlook);
    }
  g_ptr_array_sort (outlooks, compare_outlooks);
  return g_steal_pointer (&outlooks);
}
