/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The phases of booking, all in one act: read the table, join its rows, enter outlets and charges,
 * enter the dated rows in order, work out the postings of every deal that was touched. A fault in
 * one row does not hide the faults of others: each row is entered in a savepoint of its own, and
 * only a table without any fault is committed. */
#include "core/trade/book-private.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

/* So many faults stand in the sentence of the error; the report holds all. */
#define FAULTS_NAMED 20

void
sw_book_report_clear (SwBookReport *report)
{
  g_clear_pointer (&report->remarks, g_ptr_array_unref);
  g_clear_pointer (&report->faults, g_ptr_array_unref);
}

static void
add_line (GPtrArray *list, int line, const char *sentence)
{
  g_autofree char *safe = sw_text_printable (sentence, -1);
  g_ptr_array_add (list, g_strdup_printf (_ ("line %d: %s"), line, safe));
}

void
sw_book_fault (SwBook *book, int line, const char *sentence)
{
  add_line (book->report->faults, line, sentence);
}

void
sw_book_remark (SwBook *book, int line, const char *sentence)
{
  add_line (book->report->remarks, line, sentence);
}

void
sw_book_touch (SwBook *book, gint64 deal, gboolean ended_now)
{
  SwTouched *touched = g_hash_table_lookup (book->touched, &deal);
  if (touched == NULL)
    {
      touched = g_new0 (SwTouched, 1);
      g_hash_table_insert (book->touched, g_memdup2 (&deal, sizeof deal), touched);
    }
  touched->line = book->line;
  touched->ended_now = touched->ended_now || ended_now;
}

void
sw_book_count_free (SwBook *book, gint64 outlet)
{
  g_hash_table_add (book->counted, g_memdup2 (&outlet, sizeof outlet));
}

gboolean
sw_book_refuse (GError **error, const char *format, ...)
{
  va_list list;
  va_start (list, format);
  g_autofree char *sentence = g_strdup_vprintf (format, list);
  va_end (list);
  g_set_error_literal (error, SW_ERROR, SW_ERROR_REFUSED, sentence);
  return FALSE;
}

/* --- entering rows --- */

static gboolean (*const enter_row[SW_N_ROW_KINDS]) (SwBook *book, SwRow *row, GError **error) = {
  [SW_ROW_OUTLET] = sw_book_outlet,
  [SW_ROW_CHARGE] = sw_book_charge,
  [SW_ROW_OFFER] = sw_book_offer,
  [SW_ROW_INTEREST] = sw_book_interest,
  [SW_ROW_RESULT] = sw_book_result,
  [SW_ROW_HOLD] = sw_book_hold,
  [SW_ROW_SALE] = sw_book_sale,
  [SW_ROW_PAYMENT] = sw_book_payment,
  [SW_ROW_PAID_BACK] = sw_book_paid_back,
  [SW_ROW_COLLECTED] = sw_book_collected,
  [SW_ROW_REVERSAL] = sw_book_reversal,
  [SW_ROW_FEE] = sw_book_fee,
  [SW_ROW_COST] = sw_book_cost,
  [SW_ROW_DOCKET] = sw_book_docket,
};

gboolean
sw_book_is_of_row (const GError *error)
{
  return g_error_matches (error, SW_ERROR, SW_ERROR_REFUSED)
         || g_error_matches (error, SW_ERROR, SW_ERROR_NOT_FOUND)
         || g_error_matches (error, SW_ERROR, SW_ERROR_BAD_INPUT);
}

/* The row is at fault: named, and what refers to it passed over. */
static gboolean
take_fault (SwBook *book, SwRow *row, GError *fault, GError **error)
{
  if (!sw_book_is_of_row (fault))
    {
      g_propagate_error (error, fault);
      return FALSE;
    }
  if (row->kind == SW_ROW_HOLD && !row->deferred)
    {
      row->deferred = TRUE;
      g_error_free (fault);
      return TRUE;
    }
  sw_book_fault (book, book->line, fault->message);
  g_error_free (fault);
  row->failed = TRUE;
  gboolean bears_others = row->kind == SW_ROW_OFFER || row->kind == SW_ROW_SALE
                          || row->kind == SW_ROW_DOCKET || row->kind == SW_ROW_RESULT;
  if (bears_others)
    sw_book_ref (book, row->text[SW_COLUMN_REF])->spoilt = TRUE;
  if (row->kind == SW_ROW_OUTLET)
    g_hash_table_add (book->spoilt_outlets, g_strdup (row->text[SW_COLUMN_OUTLET]));
  return TRUE;
}

static gboolean
is_passed_over (SwBook *book, const SwRow *row)
{
  const char *ref = row->text[SW_COLUMN_REF], *outlet = row->text[SW_COLUMN_OUTLET];
  if (row->failed || (ref != NULL && sw_book_ref (book, ref)->spoilt))
    return TRUE;
  return outlet != NULL && row->kind != SW_ROW_OUTLET
         && g_hash_table_contains (book->spoilt_outlets, outlet);
}

/* FALSE only where booking cannot go on. */
static gboolean
enter (SwBook *book, SwRow *row, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  GError *fault = NULL;
  book->line = row->line;
  book->row_remark = row->text[SW_COLUMN_REMARK];
  if (!sw_act_begin (&act, book->catalogue, error))
    return FALSE;
  if (!enter_row[row->kind](book, row, &fault))
    return take_fault (book, row, fault, error);
  return sw_act_commit (&act, _ ("A row booked"), error);
}

static gboolean
refuse_twice (SwBook *book, GHashTable *seen, SwRow *row)
{
  g_autofree char *key = row->kind == SW_ROW_OUTLET
                             ? g_strdup (row->text[SW_COLUMN_OUTLET])
                             : g_strdup_printf ("%s\n%s\n%d", row->text[SW_COLUMN_OUTLET],
                                                row->text[SW_COLUMN_CHARGE], row->day.n);
  const SwRow *other = g_hash_table_lookup (seen, key);
  if (other == NULL)
    {
      g_hash_table_insert (seen, g_steal_pointer (&key), row);
      return FALSE;
    }
  g_autofree char *sentence = g_strdup_printf (
      _ ("The %s stands on line %d too%s; keep one of them."), _ (sw_row_kind_word (row->kind)),
      other->line, row->kind == SW_ROW_CHARGE ? _ (", from the same day") : "");
  sw_book_fault (book, row->line, sentence);
  row->failed = TRUE;
  return TRUE;
}

static int
compare_charges (gconstpointer a, gconstpointer b)
{
  const SwRow *x = *(SwRow *const *)a, *y = *(SwRow *const *)b;
  return x->day.n != y->day.n ? (x->day.n < y->day.n ? -1 : 1) : x->line - y->line;
}

/* Outlets first, then charges by day, so that what ends one finds it. */
static gboolean
enter_terms (SwBook *book, SwRowKind kind, GError **error)
{
  g_autoptr (GPtrArray) rows = g_ptr_array_new ();
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < book->rows->len; i++)
    {
      SwRow *row = g_ptr_array_index (book->rows, i);
      if (row->known && row->kind == kind && !refuse_twice (book, seen, row))
        g_ptr_array_add (rows, row);
    }
  if (kind == SW_ROW_CHARGE)
    g_ptr_array_sort (rows, compare_charges);
  for (guint i = 0; i < rows->len; i++)
    {
      SwRow *row = g_ptr_array_index (rows, i);
      if (!is_passed_over (book, row) && !enter (book, row, error))
        return FALSE;
      if (row->done)
        book->report->already++;
    }
  return TRUE;
}

/* --- counts --- */

static gboolean
needs_split (const SwRow *row)
{
  return (row->kind == SW_ROW_OFFER || row->kind == SW_ROW_SALE) && sw_row_has (row, COUNT)
         && !row->split;
}

static int
compare_refs (gconstpointer a, gconstpointer b)
{
  const SwRow *x = *(SwRow *const *)a, *y = *(SwRow *const *)b;
  return strcmp (x->text[SW_COLUMN_REF], y->text[SW_COLUMN_REF]);
}

static gboolean
split_one (SwBook *book, SwRow *row, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  GError *fault = NULL;
  book->line = row->line;
  if (!sw_act_begin (&act, book->catalogue, error))
    return FALSE;
  if (!sw_book_split_count (book, row, &fault))
    return take_fault (book, row, fault, error);
  return sw_act_commit (&act, _ ("Split"), error);
}

/* Parts get their numbers by date, then ref: those of one day are split off together, before the
 * first of them is needed. */
static gboolean
split_day (SwBook *book, const GPtrArray *ordered, guint from, GError **error)
{
  g_autoptr (GPtrArray) rows = g_ptr_array_new ();
  const SwRow *first = g_ptr_array_index (ordered, from);
  for (guint i = from; i < ordered->len; i++)
    {
      SwRow *row = g_ptr_array_index (ordered, i);
      if (row->order_day.n != first->order_day.n)
        break;
      if (needs_split (row) && !is_passed_over (book, row))
        g_ptr_array_add (rows, row);
    }
  g_ptr_array_sort (rows, compare_refs);
  for (guint i = 0; i < rows->len; i++)
    if (!split_one (book, g_ptr_array_index (rows, i), error))
      return FALSE;
  return TRUE;
}

/* --- dated rows --- */

/* A hold that came too early in its day (after a sale fell through, say) is tried again as the
 * day's last row. */
static void
put_off (GPtrArray *ordered, guint at)
{
  SwRow *row = g_ptr_array_index (ordered, at);
  guint end = at + 1;
  while (end < ordered->len
         && ((SwRow *)g_ptr_array_index (ordered, end))->order_day.n == row->order_day.n)
    end++;
  g_ptr_array_insert (ordered, (gint)end, row);
}

static gboolean
enter_dated (SwBook *book, GPtrArray *ordered, GError **error)
{
  for (guint i = 0; i < ordered->len; i++)
    {
      SwRow *row = g_ptr_array_index (ordered, i);
      gboolean before = row->deferred;
      if (needs_split (row) && !split_day (book, ordered, i, error))
        return FALSE;
      if (is_passed_over (book, row))
        continue;
      if (!enter (book, row, error))
        return FALSE;
      if (row->deferred && !before)
        put_off (ordered, i);
    }
  return TRUE;
}

/* --- the whole --- */

static gboolean
remember_rows (SwBook *book, GError **error)
{
  for (guint i = 0; i < book->rows->len; i++)
    {
      const SwRow *row = g_ptr_array_index (book->rows, i);
      if (row->done)
        continue;
      book->report->booked++;
      if (row->kind == SW_ROW_OUTLET || row->kind == SW_ROW_CHARGE)
        continue;
      g_autofree char *content = sw_row_content (row);
      if (!sw_booked_add (book->catalogue, content, error))
        return FALSE;
    }
  return TRUE;
}

/* "line 3: ...; line 8: ... and 4 more." */
static gboolean
fail_with_faults (const SwBookReport *report, const char *name, GError **error)
{
  g_autoptr (GString) text = g_string_new (NULL);
  guint n = report->faults->len;
  for (guint i = 0; i < MIN (n, FAULTS_NAMED); i++)
    {
      g_autofree char *fault = g_strdup (g_ptr_array_index (report->faults, i));
      gsize length = strlen (fault);
      if (length > 0 && fault[length - 1] == '.')
        fault[length - 1] = '\0';
      g_string_append_printf (text, "%s%s", i > 0 ? "; " : "", fault);
    }
  if (n > FAULTS_NAMED)
    g_string_append_printf (text, _ ("; and %u more"), n - FAULTS_NAMED);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("Nothing of %s was booked: %s."), name,
               text->str);
  return FALSE;
}

static int
line_of (const char *text)
{
  return atoi (text + strcspn (text, "0123456789"));
}

static int
compare_lines (gconstpointer a, gconstpointer b)
{
  return line_of (*(char *const *)a) - line_of (*(char *const *)b);
}

static gboolean
enter_all (SwBook *book, SwAct *act, GError **error)
{
  if (!sw_book_join (book, error) || !enter_terms (book, SW_ROW_OUTLET, error)
      || !enter_terms (book, SW_ROW_CHARGE, error))
    return FALSE;
  g_autoptr (GPtrArray) ordered = sw_book_order (book);
  if (!enter_dated (book, ordered, error))
    return FALSE;
  return book->report->faults->len > 0
         || (sw_book_settle (book, act, error) && remember_rows (book, error));
}

static gboolean
book_rows (SwBook *book, const char *name, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, book->catalogue, error) || !enter_all (book, &act, error))
    return FALSE;
  g_ptr_array_sort (book->report->faults, compare_lines);
  g_ptr_array_sort (book->report->remarks, compare_lines);
  if (book->report->faults->len > 0)
    return fail_with_faults (book->report, name, error);
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s booked (%d rows)"), name, book->report->booked);
  return sw_act_commit (&act, sentence, error);
}

static void
say_fault (int line, const char *sentence, gpointer data)
{
  sw_book_fault (data, line, sentence);
}

static void
say_remark (int line, const char *sentence, gpointer data)
{
  sw_book_remark (data, line, sentence);
}

static gboolean
book_table (SwBook *book, const SwTable *table, const char *name, GError **error)
{
  book->rows = sw_rows_read (table, book->currency, book->zone, say_fault, say_remark, book, error);
  if (book->rows == NULL)
    return FALSE;
  book->report->rows = (int)book->rows->len;
  gboolean ok = book_rows (book, name, error);
  if (!ok)
    book->report->booked = book->report->already = 0;
  return ok;
}

static void
clear_book (SwBook *book)
{
  g_clear_pointer (&book->rows, g_ptr_array_unref);
  g_clear_pointer (&book->refs, g_hash_table_unref);
  g_clear_pointer (&book->spoilt_outlets, g_hash_table_unref);
  g_clear_pointer (&book->touched, g_hash_table_unref);
  g_clear_pointer (&book->counted, g_hash_table_unref);
}

static gboolean
book_named (SwCatalogue *catalogue, const SwTable *table, const char *name,
            SwBookReport *out_report, GError **error)
{
  g_auto (SwBookReport) own = { 0 };
  SwBookReport *report = out_report != NULL ? out_report : &own;
  report->remarks = g_ptr_array_new_with_free_func (g_free);
  report->faults = g_ptr_array_new_with_free_func (g_free);
  SwBook book = {
    .catalogue = catalogue,
    .zone = sw_catalogue_zone (catalogue),
    .currency = sw_catalogue_currency (catalogue),
    .report = report,
    .refs = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify)sw_ref_free),
    .spoilt_outlets = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL),
    .touched = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free),
    .counted = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL),
  };
  g_autofree char *safe = sw_text_printable (name, -1);
  gboolean ok = book_table (&book, table, safe, error);
  clear_book (&book);
  return ok;
}

gboolean
sw_book_file (SwCatalogue *catalogue, const char *path, SwBookReport *out_report, GError **error)
{
  g_autoptr (SwTable) table = sw_table_read_file (path, error);
  if (table == NULL)
    return FALSE;
  g_autofree char *name = g_path_get_basename (path);
  return book_named (catalogue, table, name, out_report, error);
}

gboolean
sw_book_bytes (SwCatalogue *catalogue, GBytes *bytes, const char *name, SwBookReport *out_report,
               GError **error)
{
  g_autoptr (SwTable) table = sw_table_read (bytes, error);
  if (table == NULL)
    return FALSE;
  return book_named (catalogue, table, name, out_report, error);
}
