/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A docket with its lines into the catalogue: weights that agree, money of each line, items
 * scrapped. */
#include "core/trade/book-private.h"
#include "core/base/error.h"
#include "core/base/language.h"

#include "core/base/text.h"
#include "core/catalogue/places.h"

/* Rates are per tonne. */
#define UG_PER_TONNE (1000 * SW_UG_PER_KG)

static gboolean
check_weights (const SwRow *row, const SwRef *ref, GError **error)
{
  gint64 nets = 0;
  SwMass load = { row->value[SW_COLUMN_GROSS] - row->value[SW_COLUMN_TARE] };
  if (ref->lines->len == 0)
    return sw_book_refuse (error,
                           _ ("The docket has no lines; add them as rows of 'docket line'."));
  for (guint i = 0; i < ref->lines->len; i++)
    {
      const SwRow *line = g_ptr_array_index (ref->lines, i);
      if (__builtin_add_overflow (nets, line->value[SW_COLUMN_NET], &nets))
        return sw_book_refuse (error, _ ("The nets of the docket are too large to be added up."));
    }
  if (nets == load.ug)
    return TRUE;
  g_autofree char *left = sw_mass_to_text (load);
  g_autofree char *sum = sw_mass_to_text ((SwMass){ nets });
  return sw_book_refuse (
      error, _ ("Gross less tare is %s, but the nets of its lines add up to %s."), left, sum);
}

static gboolean
money_of_line (const SwRow *row, SwRounding rounding, SwMoney *out, GError **error)
{
  /* a yard's charge may stand on a line of its own, with an amount and no mass */
  if (!sw_row_has (row, AMOUNT) && row->value[SW_COLUMN_NET] == 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("A line of 0 kg of %s is worth nothing at its rate; give the net mass, or "
                      "leave the line out."),
                   row->text[SW_COLUMN_CLASS]);
      return FALSE;
    }
  if (!sw_row_has (row, AMOUNT))
    return sw_money_scale (sw_row_money (row, RATE), row->value[SW_COLUMN_NET], UG_PER_TONNE,
                           rounding, out, error);
  *out = sw_row_money (row, AMOUNT);
  return TRUE;
}

static gboolean
place_of_line (SwBook *book, const SwRow *row, gint64 *out_place, GError **error)
{
  *out_place = 0;
  if (sw_row_has (row, ITEM) || !sw_row_has (row, PLACE))
    return TRUE;
  g_autoptr (SwPlace) place = sw_place_find (book->catalogue, row->text[SW_COLUMN_PLACE], error);
  if (place == NULL)
    return FALSE;
  *out_place = place->id;
  return TRUE;
}

static SwDocketLine *
read_line (SwBook *book, const SwRow *row, SwRounding rounding, GError **error)
{
  g_autoptr (SwDocketLine) line = g_new0 (SwDocketLine, 1);
  line->class_name = g_strdup (row->text[SW_COLUMN_CLASS]);
  line->net = (SwMass){ row->value[SW_COLUMN_NET] };
  line->has_rate = sw_row_has (row, RATE);
  line->rate = sw_row_money (row, RATE);
  if (!money_of_line (row, rounding, &line->amount, error)
      || !place_of_line (book, row, &line->place, error))
    return NULL;
  line->items = g_array_new (FALSE, FALSE, sizeof (SwDocketItem));
  if (!sw_row_has (row, ITEM))
    return g_steal_pointer (&line);
  g_autoptr (GArray) numbers = sw_book_find_items (book, row->text[SW_COLUMN_ITEM], error);
  for (guint i = 0; numbers != NULL && i < numbers->len; i++)
    {
      SwDocketItem item = { g_array_index (numbers, gint64, i), -1 };
      g_array_append_val (line->items, item);
    }
  return numbers != NULL ? g_steal_pointer (&line) : NULL;
}

static void
add_numbers (GArray *all, const GArray *items)
{
  for (guint i = 0; i < items->len; i++)
    {
      gint64 number = g_array_index (items, SwDocketItem, i).item;
      gboolean known = FALSE;
      for (guint k = 0; k < all->len; k++)
        known = known || g_array_index (all, gint64, k) == number;
      if (!known)
        g_array_append_val (all, number);
    }
}

/* All lines, or NULL with book->line at the faulty one. */
static GPtrArray *
read_lines (SwBook *book, const SwRef *ref, SwRounding rounding, GArray *numbers, SwMoney *out_sum,
            GError **error)
{
  g_autoptr (GPtrArray) lines
      = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_docket_line_free);
  *out_sum = SW_MONEY_ZERO;
  for (guint i = 0; i < ref->lines->len; i++)
    {
      const SwRow *row = g_ptr_array_index (ref->lines, i);
      book->line = row->line;
      SwDocketLine *line = read_line (book, row, rounding, error);
      if (line == NULL)
        return NULL;
      g_ptr_array_add (lines, line);
      if (!sw_money_add (*out_sum, line->amount, out_sum, error))
        return NULL;
      add_numbers (numbers, line->items);
    }
  return g_steal_pointer (&lines);
}

static SwDeal
docket_of (const SwRow *row, gint64 outlet, SwMoney amount)
{
  return (SwDeal){ .ref = row->text[SW_COLUMN_REF],
                   .kind = SW_DEAL_DOCKET,
                   .outlet = outlet,
                   .up = row->day,
                   .result = SW_RESULT_SOLD,
                   .ended = row->day,
                   .ended_at = { row->value[SW_COLUMN_AT] },
                   .amount = amount,
                   .has_collected = TRUE,
                   .collected = row->day,
                   .gross = { row->value[SW_COLUMN_GROSS] },
                   .tare = { row->value[SW_COLUMN_TARE] } };
}

static gboolean
write_docket (SwBook *book, SwRow *row, const SwDeal *deal, const GPtrArray *lines,
              const GArray *numbers, gint64 *out_id, GError **error)
{
  g_autoptr (GArray) items = sw_book_deal_items (book, numbers, error);
  if (items == NULL
      || !sw_deal_add (book->catalogue, deal, (const SwDealItem *)(gpointer)items->data, items->len,
                       out_id, error))
    return FALSE;
  for (guint i = 0; i < lines->len; i++)
    if (!sw_docket_line_add (book->catalogue, *out_id, g_ptr_array_index (lines, i), error))
      return FALSE;
  for (guint i = 0; i < items->len; i++)
    if (!sw_book_walk (book, g_array_index (items, SwDealItem, i).item, SW_STATE_SCRAPPED, row->day,
                       error))
      return FALSE;
  return TRUE;
}

gboolean
sw_book_docket (SwBook *book, SwRow *row, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwOutlet) outlet = NULL;
  const SwRef *ref = sw_book_ref (book, row->text[SW_COLUMN_REF]);
  if (!sw_act_begin (&act, book->catalogue, error) || !sw_book_check_new (book, row, error)
      || !check_weights (row, ref, error) || !sw_book_find_outlet (book, row, &outlet, error))
    return FALSE;
  g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (gint64));
  SwMoney sum;
  gint64 id = 0;
  g_autoptr (GPtrArray) lines = read_lines (book, ref, outlet->rounding, numbers, &sum, error);
  if (lines == NULL)
    return FALSE;
  book->line = row->line;
  SwDeal deal = docket_of (row, outlet->id, sum);
  if (!write_docket (book, row, &deal, lines, numbers, &id, error))
    return FALSE;
  sw_book_touch (book, id, TRUE);
  g_autofree char *amount = sw_money_to_person (sum, book->currency);
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: docket of %s, %s"), deal.ref, outlet->name, amount);
  return sw_act_tell (&act, SW_SUBJECT_DOCKET, id, "docket.entered", &row->day, sentence, error)
         && sw_act_commit (&act, sentence, error);
}
