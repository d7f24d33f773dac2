/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lots of items: rows and their rules. */
#include "core/catalogue/lots.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/db.h"
#include "core/catalogue/said.h"

void
sw_lot_free (SwLot *lot)
{
  if (lot == NULL)
    return;
  g_free (lot->name);
  g_free (lot);
}

static gpointer
lot_from_row (const SwUse *use)
{
  SwLot *lot = g_new0 (SwLot, 1);
  lot->id = sw_col_int (use, 0);
  lot->name = sw_col_text (use, 1);
  lot->n_items = sw_col_int (use, 2);
  return lot;
}

/* Names may repeat: then the older one first. */
static int
by_name (gconstpointer a, gconstpointer b)
{
  const SwLot *one = *(SwLot *const *)a, *other = *(SwLot *const *)b;
  int order = g_utf8_collate (one->name, other->name);

  return order != 0 ? order : (one->id > other->id) - (one->id < other->id);
}

GPtrArray *
sw_lot_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_LOT_LIST, "");
  GPtrArray *lots
      = sw_db_collect (catalogue, &use, lot_from_row, (GDestroyNotify)sw_lot_free, error);

  if (lots != NULL)
    g_ptr_array_sort (lots, by_name);
  return lots;
}

static gboolean
put (SwCatalogue *catalogue, SwAct *act, gint64 lot, const char *name, gint64 number,
     GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL)
    return FALSE;
  if (item->lot != 0 && item->lot != lot)
    g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                 _ ("Item %" PRId64 " '%s' is in the lot '%s' already; take it out first."), number,
                 item->name, item->lot_name);
  else if (!sw_state_stands (item->state) || item->state == SW_STATE_SOLD)
    g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                 _ ("Item %" PRId64 " '%s' is %s: it cannot be offered in a lot."), number,
                 item->name, _ (sw_state_word (item->state)));
  else
    {
      g_autofree char *sentence = g_strdup_printf (_ ("%s: into the lot '%s'"), item->name, name);
      return sw_db_run (catalogue, error, SW_STMT_ITEM_SET_LOT, "iI", number, TRUE, lot)
             && sw_act_tell (act, SW_SUBJECT_ITEM, number, "item.lot", NULL, sentence, error);
    }
  return FALSE;
}

gboolean
sw_lot_make (SwCatalogue *catalogue, const char *name, const gint64 *items, gsize n,
             gint64 *out_lot, GError **error)
{
  if (!sw_text_check (name, _ ("The name of the lot"), FALSE, FALSE, error))
    return FALSE;
  if (n < 2)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("A lot is of two items or more."));
      return FALSE;
    }
  g_autofree char *tidy = sw_text_tidy (name);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error)
      || !sw_db_run (catalogue, error, SW_STMT_LOT_INSERT, "t", tidy))
    return FALSE;
  gint64 lot = sw_db_last_id (catalogue);
  for (gsize i = 0; i < n; i++)
    if (!put (catalogue, &act, lot, tidy, items[i], error))
      return FALSE;
  g_autofree char *sentence = g_strdup_printf (_ ("Lot '%s' of %zu items"), tidy, n);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_lot != NULL)
    *out_lot = lot;
  return TRUE;
}

gboolean
sw_lot_add (SwCatalogue *catalogue, gint64 lot, gint64 item, GError **error)
{
  g_autofree char *name = NULL;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  {
    g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_LOT_NAME, "i", lot);
    gboolean row = FALSE;
    if (!sw_db_step (catalogue, &use, &row, error))
      return FALSE;
    name = row ? sw_col_text (&use, 0) : NULL;
  }
  if (name == NULL)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no lot %" PRId64 "."), lot);
      return FALSE;
    }
  g_autofree char *sentence = g_strdup_printf (_ ("One more item into the lot '%s'"), name);
  return put (catalogue, &act, lot, name, item, error) && sw_act_commit (&act, sentence, error);
}

gboolean
sw_lot_leave (SwCatalogue *catalogue, gint64 number, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL)
    return FALSE;
  if (item->lot == 0)
    return TRUE;
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: out of the lot '%s'"), item->name, item->lot_name);
  return sw_db_run (catalogue, error, SW_STMT_ITEM_SET_LOT, "iI", number, FALSE, (gint64)0)
         && sw_said_commit (&act, number, "item.lot", sentence, error);
}
