/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Joins the rows of a table: which are booked already, which belong together by ref, and in which
 * order they are booked.
 *
 * The order: by day; within a day no row before the one it refers to, else by the rank of its kind,
 * then by ref. A row that refers to a later one (a deposit before the sale) is booked on that one's
 * day, which changes no date of its own. */
#include "core/trade/book-private.h"
#include "core/base/language.h"

#include <string.h>

#include "core/base/text.h"

void
sw_ref_free (SwRef *ref)
{
  g_ptr_array_unref (ref->lines);
  g_free (ref);
}

SwRef *
sw_book_ref (SwBook *book, const char *ref)
{
  SwRef *found = g_hash_table_lookup (book->refs, ref);
  if (found == NULL)
    {
      found = g_new0 (SwRef, 1);
      found->lines = g_ptr_array_new ();
      g_hash_table_insert (book->refs, g_strdup (ref), found);
    }
  return found;
}

/* --- booked already --- */

/* Outlets and charges are compared with what holds now, not with what was once booked. */
static gboolean
is_counted (const SwRow *row)
{
  return row->known && row->kind != SW_ROW_OUTLET && row->kind != SW_ROW_CHARGE;
}

/* Equal rows are told apart by their number alone: of three in the table and two booked, one is
 * new. */
static gboolean
pass_over_booked (SwBook *book, GError **error)
{
  g_autoptr (GHashTable) left = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < book->rows->len; i++)
    {
      SwRow *row = g_ptr_array_index (book->rows, i);
      if (!is_counted (row))
        continue;
      g_autofree char *content = sw_row_content (row);
      gpointer known = NULL;
      gint64 n = 0;
      if (g_hash_table_lookup_extended (left, content, NULL, &known))
        n = GPOINTER_TO_INT (known);
      else if (!sw_booked_count (book->catalogue, content, &n, error))
        return FALSE;
      row->done = n > 0;
      if (row->done)
        book->report->already++;
      n = MIN (n, G_MAXINT);
      g_hash_table_insert (left, g_steal_pointer (&content),
                           GINT_TO_POINTER ((int)(n > 0 ? n - 1 : 0)));
    }
  return TRUE;
}

/* --- by ref --- */

static gboolean
opens_deal (SwRowKind kind)
{
  return kind == SW_ROW_OFFER || kind == SW_ROW_SALE || kind == SW_ROW_DOCKET;
}

static void
set_once (SwBook *book, SwRow **place, SwRow *row, const char *what)
{
  if (*place == NULL)
    {
      *place = row;
      return;
    }
  g_autofree char *shown = sw_text_quote (row->text[SW_COLUMN_REF]);
  g_autofree char *sentence = g_strdup_printf (_ ("%s %s stands on line %d too; keep one of them."),
                                               shown, what, (*place)->line);
  sw_book_fault (book, row->line, sentence);
  row->failed = TRUE;
}

static void
join_row (SwBook *book, SwRow *row)
{
  if (row->text[SW_COLUMN_REF] == NULL)
    return;
  SwRef *ref = sw_book_ref (book, row->text[SW_COLUMN_REF]);
  if (opens_deal (row->kind))
    set_once (book, &ref->opens, row, _ ("as offer, sale or docket"));
  else if (row->kind == SW_ROW_RESULT)
    set_once (book, &ref->result, row, _ ("with its result"));
  else if (row->kind == SW_ROW_COLLECTED)
    set_once (book, &ref->collected, row, _ ("as collected"));
  else if (row->kind == SW_ROW_DOCKET_LINE && !row->done)
    g_ptr_array_add (ref->lines, row);
}

static void
spoil (SwBook *book, const SwRow *row)
{
  if (row->kind == SW_ROW_OUTLET && row->text[SW_COLUMN_OUTLET] != NULL)
    g_hash_table_add (book->spoilt_outlets, g_strdup (row->text[SW_COLUMN_OUTLET]));
  if (row->text[SW_COLUMN_REF] != NULL)
    sw_book_ref (book, row->text[SW_COLUMN_REF])->spoilt = TRUE;
}

/* What must be booked before the row: the sale for what is said of a sale, else what opens the
 * deal. */
static SwRow *
refers_to (SwBook *book, const SwRow *row)
{
  if (row->text[SW_COLUMN_REF] == NULL || opens_deal (row->kind))
    return NULL;
  const SwRef *ref = sw_book_ref (book, row->text[SW_COLUMN_REF]);
  gboolean of_sale = row->kind == SW_ROW_PAYMENT || row->kind == SW_ROW_PAID_BACK
                     || row->kind == SW_ROW_COLLECTED || row->kind == SW_ROW_REVERSAL;
  SwRow *other = of_sale && ref->result != NULL ? ref->result : ref->opens;
  return other != NULL && !other->done && !other->failed ? other : NULL;
}

static void
refuse_orphan_lines (SwBook *book)
{
  GHashTableIter iter;
  gpointer name, data;
  g_hash_table_iter_init (&iter, book->refs);
  while (g_hash_table_iter_next (&iter, &name, &data))
    {
      const SwRef *ref = data;
      gboolean has_docket = ref->opens != NULL && ref->opens->kind == SW_ROW_DOCKET;
      for (guint i = 0; !ref->spoilt && i < ref->lines->len; i++)
        {
          SwRow *line = g_ptr_array_index (ref->lines, i);
          g_autofree char *shown = sw_text_quote (name);
          g_autofree char *sentence = NULL;
          if (!has_docket)
            sentence
                = g_strdup_printf (_ ("There is no docket %s in the table for this line."), shown);
          else if (ref->opens->done)
            sentence
                = g_strdup_printf (_ ("The docket %s is booked already, with other lines."), shown);
          if (sentence != NULL)
            sw_book_fault (book, line->line, sentence);
        }
    }
}

gboolean
sw_book_join (SwBook *book, GError **error)
{
  if (!pass_over_booked (book, error))
    return FALSE;
  for (guint i = 0; i < book->rows->len; i++)
    {
      SwRow *row = g_ptr_array_index (book->rows, i);
      if (row->known)
        join_row (book, row);
      else
        spoil (book, row);
    }
  for (guint i = 0; i < book->rows->len; i++)
    {
      SwRow *row = g_ptr_array_index (book->rows, i);
      if (row->known && !row->done)
        row->waits_for = refers_to (book, row);
    }
  refuse_orphan_lines (book);
  return TRUE;
}

/* --- order --- */

static gboolean
is_dated (const SwRow *row)
{
  return row->known && !row->done && !row->failed && row->kind != SW_ROW_OUTLET
         && row->kind != SW_ROW_CHARGE && row->kind != SW_ROW_DOCKET_LINE;
}

/* At most two steps deep: a payment waits for a result, that for its offer. */
static SwDay
order_day (const SwRow *row)
{
  SwDay day = row->day;
  if (row->waits_for != NULL)
    day.n = MAX (day.n, order_day (row->waits_for).n);
  return day;
}

static int
compare_texts (const char *a, const char *b)
{
  return strcmp (a != NULL ? a : "", b != NULL ? b : "");
}

static int
compare_rows (gconstpointer a, gconstpointer b, gpointer data)
{
  const SwRow *x = a, *y = b;
  int rank = sw_row_kind_rank (x->kind) - sw_row_kind_rank (y->kind);
  if (rank != 0)
    return rank;
  int ref = compare_texts (x->text[SW_COLUMN_REF], y->text[SW_COLUMN_REF]);
  if (ref != 0)
    return ref;
  /* A part taken back comes before the whole. */
  if (x->kind == SW_ROW_REVERSAL && sw_row_has (x, AMOUNT) != sw_row_has (y, AMOUNT))
    return sw_row_has (x, AMOUNT) ? -1 : 1;
  return x->line - y->line;
}

static int
compare_days (gconstpointer a, gconstpointer b)
{
  const SwRow *x = *(SwRow *const *)a, *y = *(SwRow *const *)b;
  if (x->order_day.n != y->order_day.n)
    return x->order_day.n < y->order_day.n ? -1 : 1;
  return x->line - y->line;
}

static gboolean
waits_today (const SwRow *row)
{
  return row->waits_for != NULL && row->waits_for->order_day.n == row->order_day.n;
}

/* Of the rows that wait for none, always the first by rank and ref. */
static void
order_of_day (SwRow *const *rows, guint n, GPtrArray *ordered)
{
  g_autoptr (GSequence) ready = g_sequence_new (NULL);
  for (guint i = 0; i < n; i++)
    {
      SwRow *row = rows[i];
      if (!waits_today (row))
        {
          g_sequence_insert_sorted (ready, row, compare_rows, NULL);
          continue;
        }
      if (row->waits_for->waiters == NULL)
        row->waits_for->waiters = g_ptr_array_new ();
      g_ptr_array_add (row->waits_for->waiters, row);
    }
  while (!g_sequence_is_empty (ready))
    {
      GSequenceIter *first = g_sequence_get_begin_iter (ready);
      SwRow *row = g_sequence_get (first);
      g_sequence_remove (first);
      g_ptr_array_add (ordered, row);
      for (guint i = 0; row->waiters != NULL && i < row->waiters->len; i++)
        g_sequence_insert_sorted (ready, g_ptr_array_index (row->waiters, i), compare_rows, NULL);
    }
}

GPtrArray *
sw_book_order (SwBook *book)
{
  g_autoptr (GPtrArray) dated = g_ptr_array_new ();
  for (guint i = 0; i < book->rows->len; i++)
    {
      SwRow *row = g_ptr_array_index (book->rows, i);
      if (!is_dated (row))
        continue;
      row->order_day = order_day (row);
      g_ptr_array_add (dated, row);
    }
  g_ptr_array_sort (dated, compare_days);
  GPtrArray *ordered = g_ptr_array_sized_new (dated->len);
  for (guint i = 0; i < dated->len;)
    {
      SwRow **rows = (SwRow **)dated->pdata + i;
      guint n = 1;
      while (i + n < dated->len && rows[n]->order_day.n == rows[0]->order_day.n)
        n++;
      order_of_day (rows, n, ordered);
      i += n;
    }
  return ordered;
}
