/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes rows as a table and hands it to booking. */
#include "core/trade/slip.h"

#include <string.h>

#include "core/base/error.h"
#include "core/catalogue/act.h"
#include "core/trade/book.h"

struct _SwSlip
{
  SwCatalogue *catalogue;
  GPtrArray *rows; /* char *[SW_N_COLUMNS] */
  char *names[SW_N_COLUMNS];
};

static void
free_row (gpointer data)
{
  char **cells = data;
  for (int c = 0; c < SW_N_COLUMNS; c++)
    g_free (cells[c]);
  g_free (cells);
}

SwSlip *
sw_slip_new (SwCatalogue *catalogue)
{
  SwSlip *slip = g_new0 (SwSlip, 1);
  slip->catalogue = catalogue;
  slip->rows = g_ptr_array_new_with_free_func (free_row);
  return slip;
}

void
sw_slip_free (SwSlip *slip)
{
  if (slip == NULL)
    return;
  g_ptr_array_unref (slip->rows);
  for (int c = 0; c < SW_N_COLUMNS; c++)
    g_free (slip->names[c]);
  g_free (slip);
}

static void
take_cell (SwSlip *slip, SwColumn column, char *text)
{
  g_return_if_fail (slip->rows->len > 0);
  char **cells = g_ptr_array_index (slip->rows, slip->rows->len - 1);
  g_free (cells[column]);
  cells[column] = text;
}

void
sw_slip_row (SwSlip *slip, SwRowKind kind)
{
  g_ptr_array_add (slip->rows, g_new0 (char *, SW_N_COLUMNS));
  sw_slip_text (slip, SW_COLUMN_WHAT, sw_row_kind_word (kind));
}

void
sw_slip_text (SwSlip *slip, SwColumn column, const char *text)
{
  take_cell (slip, column, g_strdup (text));
}

void
sw_slip_number (SwSlip *slip, SwColumn column, gint64 number)
{
  take_cell (slip, column, g_strdup_printf ("%" G_GINT64_FORMAT, number));
}

void
sw_slip_money (SwSlip *slip, SwColumn column, gboolean has, SwMoney money)
{
  if (has)
    take_cell (slip, column, sw_money_to_plain (money, sw_catalogue_currency (slip->catalogue)));
}

void
sw_slip_day (SwSlip *slip, SwColumn column, SwDay day)
{
  take_cell (slip, column, sw_day_to_text (day));
}

void
sw_slip_instant (SwSlip *slip, SwColumn column, SwInstant instant)
{
  take_cell (slip, column, sw_instant_to_text (instant, sw_catalogue_zone (slip->catalogue)));
}

void
sw_slip_name (SwSlip *slip, SwColumn column, const char *name)
{
  g_free (slip->names[column]);
  slip->names[column] = g_strdup (name);
}

static GBytes *
table_of (const SwSlip *slip)
{
  GString *csv = g_string_new (NULL);
  for (int c = 0; c < SW_N_COLUMNS; c++)
    g_string_append_printf (csv, "%s%s", c > 0 ? "," : "", sw_column_name ((SwColumn)c));
  for (guint i = 0; i < slip->rows->len; i++)
    {
      char **cells = g_ptr_array_index (slip->rows, i);
      for (int c = 0; c < SW_N_COLUMNS; c++)
        {
          g_string_append (csv, c > 0 ? "," : "\n");
          sw_table_append_cell (csv, cells[c] != NULL ? cells[c] : "", FALSE);
        }
    }
  g_string_append_c (csv, '\n');
  return g_string_free_to_bytes (csv);
}

/* The fault behind "COLUMN: ", with *out_name the name that was given to the column; else as it is.
 */
static const char *
behind_column (const SwSlip *slip, const char *fault, const char **out_name)
{
  for (int c = 0; c < SW_N_COLUMNS; c++)
    {
      const char *name = sw_column_name ((SwColumn)c);
      gsize length = strlen (name);
      if (slip->names[c] == NULL || !g_str_has_prefix (fault, name)
          || !g_str_has_prefix (fault + length, ": "))
        continue;
      *out_name = slip->names[c];
      return fault + length + strlen (": ");
    }
  return fault;
}

/* "line 3: what is wrong." -> "What is wrong."; "line 3: tiers: what is wrong." -> "Percent: what
 * is wrong." Transfer full. */
static char *
without_line (const SwSlip *slip, const char *fault)
{
  const char *colon = strstr (fault, ": ");
  const char *name = NULL, *own = behind_column (slip, colon != NULL ? colon + 2 : fault, &name);
  if (name != NULL)
    return g_strdup_printf ("%s: %s", name, own);
  g_autofree char *first = g_utf8_substring (own, 0, 1);
  g_autofree char *capital = g_utf8_strup (first, -1);
  return g_strconcat (capital, g_utf8_next_char (own), NULL);
}

static GPtrArray *
remarks_of (const SwSlip *slip, const SwBookReport *report)
{
  GPtrArray *remarks = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; report->remarks != NULL && i < report->remarks->len; i++)
    g_ptr_array_add (remarks, without_line (slip, g_ptr_array_index (report->remarks, i)));
  return remarks;
}

static gboolean
fail (const SwSlip *slip, const SwBookReport *report, GError *reason, GError **error)
{
  if (report->faults == NULL || report->faults->len == 0)
    {
      g_propagate_error (error, reason);
      return FALSE;
    }
  g_autofree char *sentence = without_line (slip, g_ptr_array_index (report->faults, 0));
  g_set_error_literal (error, SW_ERROR, reason->code, sentence);
  g_error_free (reason);
  return FALSE;
}

gboolean
sw_slip_book (SwSlip *slip, const char *sentence, GPtrArray **out_remarks, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_auto (SwBookReport) report = { 0 };
  g_autoptr (GBytes) table = table_of (slip);
  GError *reason = NULL;
  if (!sw_act_begin (&act, slip->catalogue, error))
    return FALSE;
  if (!sw_book_bytes (slip->catalogue, table, "this", &report, &reason))
    return fail (slip, &report, reason, error);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_remarks != NULL)
    *out_remarks = remarks_of (slip, &report);
  return TRUE;
}
