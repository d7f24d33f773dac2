/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/handout/receipt.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/handout/paper.h"
#include "core/handout/target.h"
#include "core/trade/sales.h"

#define BLANK "______________________________"

/* ---- the sale ---- */

static const SwSale *
find_sale (const GPtrArray *sales, const char *ref, GError **error)
{
  g_autofree char *shown = sw_text_quote (ref);

  for (guint i = 0; i < sales->len; i++)
    {
      const SwSale *sale = g_ptr_array_index (sales, i);

      if (strcmp (sale->deal->ref, ref) != 0)
        continue;
      if (!sale->fell_through)
        return sale;
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED, _ ("The sale %s fell through."), shown);
      return NULL;
    }
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("Nothing is sold under the ref %s."), shown);
  return NULL;
}

/* ---- the page ---- */

static void
add_row (GPtrArray *rows, const char *what, const char *figure)
{
  char *cells[] = { (char *)what, (char *)figure, NULL };

  g_ptr_array_add (rows, g_strdupv (cells));
}

static gboolean
set_things (SwCatalogue *catalogue, SwPaper *paper, const SwSale *sale, GPtrArray *cautions,
            GError **error)
{
  g_autoptr (GArray) numbers = sw_deal_item_numbers (catalogue, sale->deal->id, error);
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);

  add_row (rows, _ ("What"), _ ("Count"));
  for (guint i = 0; numbers != NULL && i < numbers->len; i++)
    {
      gint64 number = g_array_index (numbers, gint64, i);
      g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
      g_autoptr (GPtrArray) facts = item != NULL ? sw_fact_list (catalogue, number, error) : NULL;
      g_autofree char *count = NULL, *name = NULL;

      if (facts == NULL)
        return FALSE;
      count = g_strdup_printf ("%" G_GINT64_FORMAT, item->count);
      name = g_strdup_printf ("%" G_GINT64_FORMAT "  %s", number, item->name);
      add_row (rows, name, count);
      for (guint k = 0; k < facts->len; k++)
        {
          const SwFact *fact = g_ptr_array_index (facts, k);
          const SwDanger *danger = sw_danger_of_fact (fact);

          if (danger != NULL)
            g_ptr_array_add (cautions, g_strdup_printf ("%s, %s: %s", item->name, _ (danger->word),
                                                        _ (danger->caution)));
        }
    }
  if (numbers != NULL)
    sw_paper_table (paper, (char **const *)rows->pdata, rows->len, 2, 1u << 1, FALSE);
  return numbers != NULL;
}

static void
set_money (SwPaper *paper, const SwSale *sale, SwCurrency currency)
{
  const struct
  {
    const char *what;
    SwMoney amount;
    gboolean shown;
  } lines[] = {
    { _ ("Amount"), sale->price, TRUE },
    { _ ("Paid"), sale->paid, TRUE },
    { _ ("Given back"), sale->taken_back, sale->taken_back.minor != 0 },
    { _ ("Still owed"), sale->owed, sale->owed.minor != 0 },
  };
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);

  add_row (rows, _ ("Money"), currency.code);
  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    if (lines[i].shown)
      {
        g_autofree char *amount = sw_money_to_person (lines[i].amount, currency);
        add_row (rows, lines[i].what, amount);
      }
  sw_paper_table (paper, (char **const *)rows->pdata, rows->len, 2, 1u << 1, FALSE);
}

static void
set_cautions (SwPaper *paper, const GPtrArray *cautions)
{
  if (cautions->len == 0)
    return;
  sw_paper_heading (paper, _ ("Cautions"));
  for (guint i = 0; i < cautions->len; i++)
    sw_paper_line (paper, g_ptr_array_index (cautions, i));
}

static void
set_hands (SwPaper *paper, const SwDeal *deal, gboolean with_buyer)
{
  g_autofree char *day = deal->has_collected ? sw_day_to_person (deal->collected) : g_strdup (BLANK);
  g_autofree char *handed = g_strdup_printf (_ ("Handed over on: %s"), day);
  g_autofree char *buyer
      = g_strdup_printf (_ ("Buyer: %s"), with_buyer && deal->buyer != NULL ? deal->buyer : BLANK);

  sw_paper_gap (paper);
  sw_paper_line (paper, handed);
  sw_paper_line (paper, buyer);
  for (int i = 0; i < 2; i++)
    {
      sw_paper_gap (paper);
      sw_paper_gap (paper);
      sw_paper_line (paper, i == 0 ? _ ("Signed, who hands over: ______________________________")
                                   : _ ("Signed, who receives: ______________________________"));
    }
}

static SwPaper *
lay_out (SwCatalogue *catalogue, const SwSale *sale, gboolean with_buyer, GError **error)
{
  g_autofree char *title = g_strdup_printf (_ ("Receipt %s"), sale->deal->ref);
  g_autoptr (SwPaper) paper = sw_paper_new (title);
  g_autoptr (GPtrArray) cautions = g_ptr_array_new_with_free_func (g_free);

  sw_paper_heading (paper, title);
  if (!set_things (catalogue, paper, sale, cautions, error))
    return NULL;
  set_money (paper, sale, sw_catalogue_currency (catalogue));
  set_cautions (paper, cautions);
  set_hands (paper, sale->deal, with_buyer);
  return g_steal_pointer (&paper);
}

gboolean
sw_receipt_write (SwCatalogue *catalogue, const char *ref, gboolean with_buyer, const char *path,
                  int *out_pages, GError **error)
{
  g_autoptr (GPtrArray) sales = NULL;
  const SwSale *sale;
  g_autoptr (SwPaper) paper = NULL;
  g_autoptr (GBytes) pdf = NULL;

  if (!sw_target_is_outside (sw_catalogue_folder (catalogue), path, error)
      || (sales = sw_sale_list (catalogue, error)) == NULL
      || (sale = find_sale (sales, ref, error)) == NULL)
    return FALSE;
  paper = lay_out (catalogue, sale, with_buyer, error);
  pdf = paper != NULL ? sw_paper_pdf (paper, out_pages, error) : NULL;
  return pdf != NULL && sw_paper_write_file (path, ".pdf", pdf, _ ("The receipt"), error);
}
