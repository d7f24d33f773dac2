/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gathers what an offer's pack holds, and writes it. */
#include "core/handout/pack.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/folder.h"
#include "core/catalogue/items.h"
#include "core/catalogue/offer-notes.h"
#include "core/catalogue/outlets.h"
#include "core/handout/target.h"
#include "core/trade/offer-text.h"

#define JPEG_QUALITY 90

void
sw_pack_free (SwPack *pack)
{
  if (pack == NULL)
    return;
  g_free (pack->folder);
  g_free (pack->stem);
  g_free (pack->title);
  g_free (pack->text);
  g_free (pack->price_label);
  g_free (pack->price);
  g_free (pack->currency);
  g_clear_pointer (&pack->names, g_ptr_array_unref);
  g_clear_pointer (&pack->photos, g_ptr_array_unref);
  g_free (pack);
}

/* ---- what may go ---- */

static gboolean
may_leave (SwCatalogue *catalogue, const GArray *items, GError **error)
{
  for (guint i = 0; i < items->len; i++)
    {
      g_autoptr (SwItem) item = sw_item_get (catalogue, g_array_index (items, gint64, i), error);

      if (item == NULL)
        return FALSE;
      if (!item->never_offer && item->claim == SW_CLAIM_NONE)
        continue;
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   item->never_offer
                       ? _ ("%s is not to be offered before somebody licensed has cleared it.")
                       : _ ("%s is claimed: settle that before a pack of it goes out."),
                   item->name);
      return FALSE;
    }
  return TRUE;
}

/* ---- title and text ---- */

static gboolean
is_too_long (const char *text, gint64 most)
{
  return most > 0 && g_utf8_strlen (text, -1) > most;
}

/* What a person wrote is never cut: it must be as short as the outlet wants it. */
static gboolean
check_lengths (const SwOfferNote *note, const SwTextLimits *limits, GError **error)
{
  if (is_too_long (note->title, limits->title))
    g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                 _ ("The title as it was written has %ld characters and the outlet takes "
                    "%" PRId64 ": shorten it."),
                 g_utf8_strlen (note->title, -1), limits->title);
  else if (is_too_long (note->text, limits->text))
    g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                 _ ("The text as it was written has %ld characters and the outlet takes "
                    "%" PRId64 ": shorten it."),
                 g_utf8_strlen (note->text, -1), limits->text);
  else
    return TRUE;
  return FALSE;
}

/* What a person wrote counts, the rest is composed. */
static gboolean
set_words (SwCatalogue *catalogue, SwPack *pack, const GArray *items, const SwOutlet *outlet,
           const SwOfferNote *note, GError **error)
{
  SwTextLimits limits = { 0 };
  g_auto (SwOfferText) made = { 0 };
  gboolean own_title = note != NULL && *note->title != '\0';
  gboolean own_text = note != NULL && *note->text != '\0';

  if (!sw_text_limits_get (catalogue, outlet != NULL ? outlet->id : 0, &limits, error)
      || (note != NULL && !check_lengths (note, &limits, error)))
    return FALSE;
  if (own_text)
    limits.text = 0; /* what is composed is not used */
  if (!sw_offer_text_of_items (catalogue, items, outlet != NULL ? outlet->name : NULL,
                               note != NULL ? note->extra : "", &limits, &made, error))
    return FALSE;
  pack->title = own_title ? g_strdup (note->title) : g_steal_pointer (&made.title);
  pack->text = own_text ? g_strdup (note->text) : g_steal_pointer (&made.text);
  pack->left_out = own_text ? 0 : made.left_out;
  return TRUE;
}

static gboolean
find_names (SwCatalogue *catalogue, SwPack *pack, GError **error)
{
  g_autoptr (GPtrArray) kept = sw_names_kept (catalogue, error);
  g_autofree char *both = g_strdup_printf ("%s\n%s", pack->title, pack->text);

  if (kept != NULL)
    pack->names = sw_names_in_text (kept, both);
  return kept != NULL;
}

static void
set_price (SwCatalogue *catalogue, SwPack *pack, const SwOutlet *outlet, gboolean has_price,
           SwMoney price)
{
  SwCurrency currency = sw_catalogue_currency (catalogue);

  pack->currency = g_strdup (currency.code);
  if (!has_price)
    return;
  pack->price = sw_money_to_plain (price, currency);
  pack->price_label = g_strdup (
      outlet != NULL && outlet->has_kind && outlet->kind == SW_OUTLET_AUCTION ? _ ("Start price")
                                                                              : _ ("Asking price"));
}

static SwPack *
make_pack (SwCatalogue *catalogue, const GArray *items, const char *outlet_name,
           const SwOfferNote *note, gboolean has_price, SwMoney price, GError **error)
{
  g_autoptr (SwPack) pack = g_new0 (SwPack, 1);
  g_autoptr (SwOutlet) outlet = NULL;

  if (!may_leave (catalogue, items, error)
      || (outlet_name != NULL && !sw_outlet_find (catalogue, outlet_name, &outlet, error))
      || !set_words (catalogue, pack, items, outlet, note, error)
      || !find_names (catalogue, pack, error))
    return NULL;
  set_price (catalogue, pack, outlet, has_price, price);
  pack->photos = sw_out_photos (catalogue, items, 0, error);
  pack->folder = g_strdup (sw_catalogue_folder (catalogue));
  pack->stem = sw_text_safe_stem (pack->title);
  return pack->photos != NULL ? g_steal_pointer (&pack) : NULL;
}

SwPack *
sw_pack_of_offer (SwCatalogue *catalogue, const char *ref, GError **error)
{
  g_autofree char *shown = sw_text_quote (ref);
  g_autoptr (SwDeal) deal = NULL;
  g_autoptr (SwOfferNote) note = NULL;
  g_autoptr (GArray) items = NULL;

  if (!sw_deal_find (catalogue, ref, &deal, error))
    return NULL;
  if (deal == NULL || deal->kind != SW_DEAL_OFFER)
    {
      g_set_error (error, SW_ERROR, deal == NULL ? SW_ERROR_NOT_FOUND : SW_ERROR_REFUSED,
                   deal == NULL ? _ ("There is no offer %s.") : _ ("%s is no offer."), shown);
      return NULL;
    }
  items = sw_deal_item_numbers (catalogue, deal->id, error);
  note = items != NULL ? sw_offer_note_get (catalogue, deal->id, error) : NULL;
  return note != NULL ? make_pack (catalogue, items, deal->outlet_name, note, deal->has_start,
                                   deal->start, error)
                      : NULL;
}

/* What several things come to together: with a price where each has one. */
typedef struct
{
  GArray *items; /* gint64 */
  gboolean has_price;
  SwMoney price;
  char *outlet; /* of the first that names one; NULL: none does */
} Together;

static void
together_clear (Together *together)
{
  g_clear_pointer (&together->items, g_array_unref);
  g_clear_pointer (&together->outlet, g_free);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Together, together_clear)

static gboolean
add_to (Together *together, const SwItem *item, GError **error)
{
  g_array_append_val (together->items, item->id);
  together->has_price = together->has_price && item->has_asking;
  if (together->outlet == NULL)
    together->outlet = g_strdup (item->outlet_name);
  return !item->has_asking || sw_money_add (together->price, item->asking, &together->price, error);
}

static gboolean
gather_lot (SwCatalogue *catalogue, gint64 lot, Together *together, GError **error)
{
  const SwItemFilter filter = { .lot = lot };
  g_autoptr (GPtrArray) all = sw_item_list (catalogue, &filter, error);

  for (guint i = 0; all != NULL && i < all->len; i++)
    if (!add_to (together, g_ptr_array_index (all, i), error))
      return FALSE;
  return all != NULL;
}

static gboolean
gather_items (SwCatalogue *catalogue, const gint64 *items, gsize n, Together *together,
              GError **error)
{
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (SwItem) item = sw_item_get (catalogue, items[i], error);

      if (item == NULL || !add_to (together, item, error))
        return FALSE;
    }
  return TRUE;
}

static SwPack *
pack_together (SwCatalogue *catalogue, const Together *together, const char *outlet, GError **error)
{
  return make_pack (catalogue, together->items, outlet != NULL ? outlet : together->outlet, NULL,
                    together->has_price, together->price, error);
}

SwPack *
sw_pack_of_item (SwCatalogue *catalogue, gint64 number, GError **error)
{
  return sw_pack_of_items (catalogue, &number, 1, NULL, error);
}

SwPack *
sw_pack_of_items (SwCatalogue *catalogue, const gint64 *items, gsize n, const char *outlet,
                  GError **error)
{
  g_auto (Together) together
      = { g_array_new (FALSE, FALSE, sizeof (gint64)), TRUE, SW_MONEY_ZERO, NULL };
  g_autoptr (SwItem) first = n > 0 ? sw_item_get (catalogue, items[0], error) : NULL;

  if (n == 0)
    g_set_error_literal (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                         _ ("Nothing is chosen for the pack."));
  if (first == NULL)
    return NULL;
  if (n == 1 && first->lot != 0)
    {
      together.outlet = g_strdup (first->outlet_name);
      if (!gather_lot (catalogue, first->lot, &together, error))
        return NULL;
    }
  else if (!gather_items (catalogue, items, n, &together, error))
    return NULL;
  return pack_together (catalogue, &together, outlet, error);
}

/* ---- writing ---- */

static gboolean
add_file (const char *folder, const char *name, const void *bytes, gsize n, GError **error)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autofree char *what = g_strdup_printf (_ ("%s could not be written"), name);

  return sw_file_put (path, bytes, n, 0666, what, error);
}

static gboolean
add_text (const char *folder, const char *name, char *text, GError **error)
{
  gboolean good = add_file (folder, name, text, strlen (text), error);

  g_free (text);
  return good;
}

static gboolean
add_photos (const SwPack *pack, SwDecoder *decoder, const gboolean *keep, const char *folder,
            GPtrArray *names, int *done, GCancellable *cancellable, SwPackReport *report,
            GError **error)
{
  for (guint i = 0; i < pack->photos->len; i++)
    {
      g_autoptr (SwOutPicture) picture = NULL;
      g_autofree char *name = g_strdup_printf ("photo-%02u.jpg", names->len + 1);

      if (keep != NULL && !keep[i])
        continue;
      if (!sw_out_photo_make (g_ptr_array_index (pack->photos, i), decoder, SW_PACK_SIDE,
                              JPEG_QUALITY, cancellable, &picture, error))
        return FALSE;
      if (done != NULL)
        g_atomic_int_inc (done);
      if (picture == NULL)
        {
          report->missing++;
          continue;
        }
      if (!add_file (folder, name, g_bytes_get_data (picture->jpeg, NULL),
                     g_bytes_get_size (picture->jpeg), error))
        return FALSE;
      g_ptr_array_add (names, g_steal_pointer (&name));
      report->photos++;
    }
  return TRUE;
}

static gboolean
fill (const SwPack *pack, SwDecoder *decoder, const gboolean *keep, const char *folder, int *done,
      GCancellable *cancellable, SwPackReport *report, GError **error)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

  if (!add_photos (pack, decoder, keep, folder, names, done, cancellable, report, error)
      || !add_text (folder, "offer.txt", sw_pack_plain (pack), error)
      || !add_text (folder, "offer.html", sw_pack_html (pack, names), error)
      || !add_text (folder, "offer.csv", sw_pack_csv (pack, names), error))
    return FALSE;
  if (!g_cancellable_is_cancelled (cancellable))
    return TRUE;
  return sw_target_stopped (error);
}

gboolean
sw_pack_write (const SwPack *pack, SwDecoder *decoder, const gboolean *keep, const char *path,
               int *done, GCancellable *cancellable, SwPackReport *out_report, GError **error)
{
  g_autofree char *folder = g_canonicalize_filename (path, NULL), *part = NULL;
  SwPackReport report = { 0 };
  int lock = -1;

  if (!sw_target_is_outside (pack->folder, folder, error) || !sw_folder_is_free (folder, error)
      || (part = sw_folder_part_make (folder, &lock, error)) == NULL)
    return FALSE;
  if (!fill (pack, decoder, keep, part, done, cancellable, &report, error))
    return sw_folder_part_fail (part, lock, folder, error);
  if (!sw_folder_part_place (part, lock, folder, error))
    return FALSE;
  if (out_report != NULL)
    *out_report = report;
  return TRUE;
}
