/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Costs entered from photos of receipts. Two receipts of one amount on one day are two costs: what
 * a table of costs would hold once is not looked for here. */
#include "core/catalogue/receipts.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/items.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/trips.h"

/* Of the first photo with a time, else the trip's first. */
static gboolean
find_day (SwCatalogue *catalogue, const SwTrip *trip, const gint64 *photos, gsize n, SwDay *out_day,
          GError **error)
{
  g_autoptr (GArray) clocks = sw_camera_clock_list (catalogue, error);
  gboolean found = FALSE;

  if (clocks == NULL)
    return FALSE;
  *out_day = trip->first;
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (SwPhoto) photo = sw_photo_get (catalogue, photos[i], error);
      SwInstant at;

      if (photo == NULL)
        return FALSE;
      if (found || !sw_photo_property_time (catalogue, clocks, photo, &at, NULL))
        continue;
      *out_day = sw_day_of_instant (at, sw_catalogue_zone (catalogue));
      found = TRUE;
    }
  return TRUE;
}

static gboolean
check (const gint64 *photos, gsize n, SwMoney amount, const char *remark, GError **error)
{
  if (n == 0)
    g_set_error_literal (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                         _ ("Choose the photo of the receipt first."));
  else if (amount.minor < 0)
    g_set_error_literal (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                         _ ("A cost is zero or more; leave out the minus sign."));
  else
    return photos != NULL
           && sw_text_check (remark, _ ("What the cost was for"), FALSE, TRUE, error);
  return FALSE;
}

static gboolean
add_cost (SwCatalogue *catalogue, const SwCost *cost, const gint64 *photos, gsize n, GError **error)
{
  if (!sw_cost_add (catalogue, cost, error))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  for (gsize i = 0; i < n; i++)
    if (!sw_db_run (catalogue, error, SW_STMT_RECEIPT_PHOTO_ADD, "ii", id, photos[i]))
      return FALSE;
  return TRUE;
}

char *
sw_receipt_sentence (SwCatalogue *catalogue, SwMoney amount, const char *remark)
{
  g_autofree char *text = sw_text_tidy (remark);
  g_autofree char *money = sw_money_to_person (amount, sw_catalogue_currency (catalogue));

  return g_strdup_printf (_ ("Cost of %s%s%s, from its receipt"), money, *text != '\0' ? ": " : "",
                          text);
}

gboolean
sw_receipt_enter (SwCatalogue *catalogue, gint64 trip, const gint64 *photos, gsize n,
                  SwMoney amount, const char *remark, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *text = sw_text_tidy (remark);
  SwCost cost = { .trip = trip, .amount = amount, .remark = text };

  if (!check (photos, n, amount, remark, error) || !sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwTrip) known = sw_trip_get (catalogue, trip, error);
  if (known == NULL || !find_day (catalogue, known, photos, n, &cost.day, error)
      || !add_cost (catalogue, &cost, photos, n, error))
    return FALSE;
  g_autofree char *sentence = sw_receipt_sentence (catalogue, amount, text);
  return sw_act_tell (&act, SW_SUBJECT_TRIP, trip, "cost.entered", &cost.day, sentence, error)
         && sw_act_commit (&act, sentence, error);
}
