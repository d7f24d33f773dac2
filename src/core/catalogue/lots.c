/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lots of items: rows and their rules. */
#include "core/catalogue/lots.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/db.h"
#include "core/catalogue/said.h"

static gboolean
put (SwCatalogue *catalogue, SwAct *act, gint64 lot, const char *name, gint64 number,
     GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL)
    return FALSE;
  if (item->lot != 0 && item->lot != lot)
    g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                 _ ("Item %" PRId64 " '%s' is in the lot '%s' already; take it out first, or give "
                    "that name to put the others into it."),
                 number, item->name, item->lot_name);
  else if (item->lot == lot)
    return TRUE;
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

/* The lot of that name that some of the items are in, and how many of them; 0: none. */
static gboolean
find_lot (SwCatalogue *catalogue, const char *name, const gint64 *items, gsize n, gint64 *out_lot,
          gsize *out_inside, GError **error)
{
  *out_lot = 0;
  *out_inside = 0;
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (SwItem) item = sw_item_get (catalogue, items[i], error);
      if (item == NULL)
        return FALSE;
      if (item->lot == 0 || !sw_text_same_name (item->lot_name, name))
        continue;
      *out_lot = item->lot;
      (*out_inside)++;
    }
  return TRUE;
}

/* What is on offer stays what it was offered as. */
static gboolean
may_grow (SwCatalogue *catalogue, gint64 lot, const char *name, GError **error)
{
  SwItemFilter filter = { .lot = lot };
  g_autoptr (GPtrArray) inside = sw_item_list (catalogue, &filter, error);

  for (guint i = 0; inside != NULL && i < inside->len; i++)
    {
      SwState state = ((const SwItem *)g_ptr_array_index (inside, i))->state;
      if (state != SW_STATE_ON_OFFER && state != SW_STATE_ON_HOLD)
        continue;
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("The lot '%s' is on offer; withdraw it before more is put into it."), name);
      return FALSE;
    }
  return inside != NULL;
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
  g_autofree char *sentence = NULL;
  gint64 lot = 0;
  gsize inside = 0;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error)
      || !find_lot (catalogue, tidy, items, n, &lot, &inside, error))
    return FALSE;
  if (lot != 0)
    {
      if (!may_grow (catalogue, lot, tidy, error))
        return FALSE;
      sentence = sw_text_counted ((gint64)(n - inside), "%zu item more in the lot '%s'",
                                  "%zu items more in the lot '%s'", n - inside, tidy);
    }
  else
    {
      if (!sw_db_run (catalogue, error, SW_STMT_LOT_INSERT, "t", tidy))
        return FALSE;
      lot = sw_db_last_id (catalogue);
      sentence = g_strdup_printf (_ ("Lot '%s' of %zu items"), tidy, n);
    }
  for (gsize i = 0; i < n; i++)
    if (!put (catalogue, &act, lot, tidy, items[i], error))
      return FALSE;
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_lot != NULL)
    *out_lot = lot;
  return TRUE;
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
