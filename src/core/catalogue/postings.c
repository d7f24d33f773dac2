/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of postings and what stands beside them when they are added up. Adds nothing up but one
 * deal's. */
#include "core/catalogue/postings.h"
#include "core/base/language.h"

#include "core/catalogue/act.h"
#include "core/catalogue/db.h"

gboolean
sw_posting_add (SwCatalogue *catalogue, const SwPosting *postings, gsize n, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    {
      const SwPosting *p = &postings[i];
      if (p->minor != 0
          && !sw_db_run (catalogue, error, SW_STMT_POSTING_ADD, "iIIitii", p->deal, p->item != 0,
                         p->item, p->place != 0, p->place, (gint64)p->kind,
                         p->charge != NULL ? p->charge : "", (gint64)p->day.n, p->minor))
        return FALSE;
    }
  return sw_act_commit (&act, _ ("Posted"), error);
}

static SwPosting
posting_from_row (const SwUse *use)
{
  return (SwPosting){
    .deal = sw_col_int (use, 0),
    .item = sw_col_int (use, 1),
    .place = sw_col_int (use, 2),
    .kind = (SwPostingKind)sw_col_int (use, 3),
    .charge = "",
    .day = { (gint32)sw_col_int (use, 4) },
    .minor = sw_col_int (use, 5),
  };
}

gboolean
sw_posting_each (SwCatalogue *catalogue, SwPostingFunc func, gpointer data, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_POSTING_EACH, "");
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      SwPosting posting = posting_from_row (&use);
      func (&posting, data);
    }
  return ok;
}

gboolean
sw_posting_sums (SwCatalogue *catalogue, gint64 deal, SwPostingFunc func, gpointer data,
                 GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_POSTING_SUMS, "i", deal);
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      SwPosting posting = posting_from_row (&use);
      g_autofree char *charge = sw_col_text (&use, 6);
      posting.charge = charge;
      func (&posting, data);
    }
  return ok;
}

static void
fill_item (const SwUse *use, gpointer out)
{
  *(SwCreditItem *)out
      = (SwCreditItem){ sw_col_int (use, 0), sw_col_int (use, 1), sw_col_int (use, 2) };
}

GArray *
sw_credit_items (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CREDIT_ITEMS, "");
  return sw_db_collect_plain (catalogue, &use, sizeof (SwCreditItem), fill_item, error);
}

static void
fill_deal (const SwUse *use, gpointer out)
{
  *(SwCreditDeal *)out
      = (SwCreditDeal){ sw_col_int (use, 0),      sw_col_int (use, 1),
                        sw_col_int (use, 4),      sw_col_int (use, 2) != 0,
                        !sw_col_is_null (use, 3), { (gint32)sw_col_int (use, 3) } };
}

GArray *
sw_credit_deals (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CREDIT_DEALS, "");
  return sw_db_collect_plain (catalogue, &use, sizeof (SwCreditDeal), fill_deal, error);
}
