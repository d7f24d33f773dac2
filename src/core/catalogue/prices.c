/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Price evidence of items: rows and their checks. Works out no price. */
#include "core/catalogue/prices.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/db.h"
#include "core/catalogue/said.h"

static const char *const kinds[] = { N_ ("paid"), N_ ("new"), N_ ("like things"), N_ ("guessed") };

void
sw_price_free (SwPrice *price)
{
  if (price == NULL)
    return;
  g_free (price->kind);
  g_free (price->source);
  g_free (price->remark);
  g_free (price);
}

static SwPrice *
price_from_row (const SwUse *use)
{
  SwPrice *price = g_new0 (SwPrice, 1);
  price->id = sw_col_int (use, 0);
  price->item = sw_col_int (use, 1);
  price->kind = sw_col_text (use, 2);
  price->amount = sw_money (sw_col_int (use, 3));
  price->pieces = sw_col_int (use, 4);
  price->has_day = !sw_col_is_null (use, 5);
  price->day = (SwDay){ (gint32)sw_col_int (use, 5) };
  price->source = sw_col_text (use, 6);
  price->remark = sw_col_text (use, 7);
  return price;
}

static gboolean
check_price (const SwPriceSaid *said, GError **error)
{
  if (!sw_said_is_one_of (said->kind, kinds, G_N_ELEMENTS (kinds), _ ("A price"), error)
      || (said->source != NULL
          && !sw_text_check (said->source, _ ("The source"), FALSE, TRUE, error))
      || (said->remark != NULL
          && !sw_text_check (said->remark, _ ("The remark"), TRUE, TRUE, error)))
    return FALSE;
  if (said->amount.minor >= 0 && said->pieces >= 0)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("A price is not below zero."));
  return FALSE;
}

/* "Screw press: paid 120.00 for 4, by the bill". Transfer full. */
static char *
price_sentence (SwCatalogue *catalogue, const SwItem *item, const SwPriceSaid *said, gint64 pieces)
{
  g_autofree char *amount = sw_money_to_plain (said->amount, sw_catalogue_currency (catalogue));
  g_autoptr (GString) text = g_string_new (NULL);
  g_string_printf (text, "%s: %s %s", item->name, said->kind, amount);
  if (pieces > 1)
    g_string_append_printf (text, _ (" for %" PRId64), pieces);
  if (said->source != NULL && *said->source != '\0')
    g_string_append_printf (text, ", %s", said->source);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static const char *
or_empty (const char *text)
{
  return text != NULL ? text : "";
}

gboolean
sw_price_add (SwCatalogue *catalogue, gint64 number, const SwPriceSaid *said, gint64 *out_id,
              GError **error)
{
  if (!check_price (said, error))
    return FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL)
    return FALSE;
  gint64 pieces = said->pieces != 0 ? said->pieces : item->count;
  if (!sw_db_run (catalogue, error, SW_STMT_PRICE_INSERT, "itiiItti", number, said->kind,
                  said->amount.minor, pieces, said->day != NULL,
                  (gint64)(said->day != NULL ? said->day->n : 0), or_empty (said->source),
                  or_empty (said->remark), sw_catalogue_now (catalogue).us))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  g_autofree char *sentence = price_sentence (catalogue, item, said, pieces);
  if (!sw_said_commit (&act, number, "item.price", sentence, error))
    return FALSE;
  if (out_id != NULL)
    *out_id = id;
  return TRUE;
}

/* *out_withdrawn FALSE where it stands. */
static SwPrice *
price_get (SwCatalogue *catalogue, gint64 id, gboolean *out_withdrawn, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PRICE_GET, "i", id);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  if (row)
    {
      *out_withdrawn = !sw_col_is_null (&use, 8);
      return price_from_row (&use);
    }
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no price %" PRId64 "."), id);
  return NULL;
}

gboolean
sw_price_edit (SwCatalogue *catalogue, gint64 id, const SwPriceSaid *said, GError **error)
{
  gboolean withdrawn = FALSE;
  if (!check_price (said, error))
    return FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwPrice) price = price_get (catalogue, id, &withdrawn, error);
  g_autoptr (SwItem) item = price != NULL ? sw_item_get (catalogue, price->item, error) : NULL;
  if (item == NULL)
    return FALSE;
  if (withdrawn)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("That price was withdrawn meanwhile; add it anew to say it again."));
      return FALSE;
    }
  gint64 pieces = said->pieces != 0 ? said->pieces : price->pieces;
  g_autofree char *was = sw_money_to_plain (price->amount, sw_catalogue_currency (catalogue));
  g_autofree char *now = price_sentence (catalogue, item, said, pieces);
  g_autofree char *sentence = g_strdup_printf (_ ("%s, was: %s"), now, was);
  return sw_db_run (catalogue, error, SW_STMT_PRICE_UPDATE, "itiiItt", id, said->kind,
                    said->amount.minor, pieces, said->day != NULL,
                    (gint64)(said->day != NULL ? said->day->n : 0), or_empty (said->source),
                    or_empty (said->remark))
         && sw_said_commit (&act, item->id, "item.price", sentence, error);
}

gboolean
sw_price_withdraw (SwCatalogue *catalogue, gint64 id, GError **error)
{
  gboolean withdrawn = FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwPrice) price = price_get (catalogue, id, &withdrawn, error);
  g_autoptr (SwItem) item = price != NULL ? sw_item_get (catalogue, price->item, error) : NULL;
  if (item == NULL)
    return FALSE;
  if (withdrawn)
    return TRUE;
  SwPriceSaid said = { .kind = price->kind, .amount = price->amount, .source = price->source };
  g_autofree char *was = price_sentence (catalogue, item, &said, price->pieces);
  g_autofree char *sentence = g_strdup_printf (_ ("%s: withdrawn"), was);
  return sw_db_run (catalogue, error, SW_STMT_PRICE_WITHDRAW, "ii", id,
                    sw_catalogue_now (catalogue).us)
         && sw_said_commit (&act, item->id, "item.price", sentence, error);
}

GPtrArray *
sw_price_list (SwCatalogue *catalogue, gint64 item, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PRICE_LIST, "i", item);
  return sw_db_collect (catalogue, &use, (SwRowFunc)price_from_row, (GDestroyNotify)sw_price_free,
                        error);
}
