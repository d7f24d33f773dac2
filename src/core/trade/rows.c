/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads the cells of the money table. Everything here is a matter of one row; nothing is looked up.
 */
#include "core/trade/rows.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/mass.h"
#include "core/base/text.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/outlets.h"
#include "core/trade/clock-change.h"
#include "core/trade/terms.h"

/* Beyond these a number is a slip of the keys. */
#define NUMBER_MAX G_GINT64_CONSTANT (1000000000)

typedef enum
{
  CELL_TEXT,
  CELL_NUMBER,
  CELL_MONEY,
  CELL_MOMENT,
  CELL_KG,
  CELL_PERCENT,
  CELL_TIERS,
} CellType;

typedef struct
{
  const char *name;
  CellType type;
} ColumnRow;

#define AS_COLUMN_ROW(tag, name, type) { name, CELL_##type },
static const ColumnRow column_rows[SW_N_COLUMNS] = { SW_COLUMNS (AS_COLUMN_ROW) };

typedef struct
{
  const char *word;
  guint64 reads, needs;
  int rank;
} KindRow;

#define AS_KIND_ROW(tag, word, reads, needs, rank) { word, reads, needs, rank },
static const KindRow kind_rows[SW_N_ROW_KINDS] = { SW_ROW_KINDS (AS_KIND_ROW) };

const char *
sw_column_name (SwColumn column)
{
  g_return_val_if_fail (column >= 0 && column < SW_N_COLUMNS, "");
  return column_rows[column].name;
}

const char *
sw_row_kind_word (SwRowKind kind)
{
  g_return_val_if_fail (kind >= 0 && kind < SW_N_ROW_KINDS, "");
  return kind_rows[kind].word;
}

int
sw_row_kind_rank (SwRowKind kind)
{
  g_return_val_if_fail (kind >= 0 && kind < SW_N_ROW_KINDS, 0);
  return kind_rows[kind].rank;
}

void
sw_row_free (SwRow *row)
{
  if (row == NULL)
    return;
  for (int i = 0; i < SW_N_COLUMNS; i++)
    g_free (row->text[i]);
  g_clear_pointer (&row->waiters, g_ptr_array_unref);
  g_free (row);
}

/* --- cells --- */

static gboolean
fail_cell (GError **error, const char *cell, const char *how)
{
  g_autofree char *shown = sw_text_quote (cell);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, "%s %s.", shown, how);
  return FALSE;
}

static gboolean
read_number (const char *cell, gint64 *out, GError **error)
{
  guint64 value = 0;
  if (!g_ascii_string_to_unsigned (cell, 10, 0, NUMBER_MAX, &value, NULL))
    return fail_cell (error, cell, _ ("is no whole number from 0 to 1000000000"));
  *out = (gint64)value;
  return TRUE;
}

/* A bare number of kilograms: a unit in the cell would be a second opinion. */
static gboolean
read_kg (const char *cell, gint64 *out, GError **error)
{
  SwMass mass;
  if (strspn (cell, "0123456789.") != strlen (cell))
    return fail_cell (error, cell, _ ("is no number of kilograms; write it like 1240 or 12.5"));
  if (!sw_mass_parse (cell, &mass, error))
    return FALSE;
  *out = mass.ug;
  return TRUE;
}

typedef struct
{
  SwCurrency currency;
  const SwZone *zone;
} Reading;

static gboolean
read_moment (const Reading *reading, const char *cell, gint64 *out, GError **error)
{
  SwInstant instant;
  if (!sw_moment_parse (cell, reading->zone, &instant, NULL, error))
    return FALSE;
  *out = instant.us;
  return TRUE;
}

/* Percents and tiers are kept as text in their shortest form. */
static gboolean
replace_text (char **text, char *with)
{
  if (with == NULL)
    return FALSE;
  g_free (*text);
  *text = with;
  return TRUE;
}

static gboolean
read_tiers (const Reading *reading, char **text, GError **error)
{
  g_autoptr (SwTiers) tiers = sw_tiers_parse (*text, reading->currency, error);
  return tiers != NULL && replace_text (text, sw_tiers_to_text (tiers, reading->currency));
}

static gboolean
read_cell (const Reading *reading, SwRow *row, SwColumn column, const char *cell, GError **error)
{
  g_autofree char *what = g_strdup_printf (_ ("The %s"), column_rows[column].name);
  if (!sw_text_check (cell, what, FALSE, TRUE, error))
    return FALSE;
  char **text = &row->text[column];
  gint64 *value = &row->value[column];
  *text = sw_text_tidy (cell);
  SwMoney money = SW_MONEY_ZERO;
  switch (column_rows[column].type)
    {
    case CELL_TEXT:
      return TRUE;
    case CELL_NUMBER:
      return read_number (*text, value, error);
    case CELL_KG:
      return read_kg (*text, value, error);
    case CELL_MOMENT:
      return read_moment (reading, *text, value, error);
    case CELL_PERCENT:
      return replace_text (text, sw_percent_parse (*text, error));
    case CELL_TIERS:
      return read_tiers (reading, text, error);
    case CELL_MONEY:
      if (!sw_money_parse_plain (*text, reading->currency, FALSE, &money, error))
        return FALSE;
      *value = money.minor;
      return TRUE;
    }
  return TRUE;
}

/* --- rules of one row --- */

static gboolean
fail (GError **error, const char *sentence)
{
  g_set_error_literal (error, SW_ERROR, SW_ERROR_BAD_INPUT, sentence);
  return FALSE;
}

static gboolean
check_outlet (const SwRow *row, GError **error)
{
  SwOutletKind kind;
  const char *rounding = row->text[SW_COLUMN_ROUNDING];
  if (sw_row_has (row, KIND) && !sw_outlet_kind_parse (row->text[SW_COLUMN_KIND], &kind))
    return fail_cell (
        error, row->text[SW_COLUMN_KIND],
        _ ("is no kind of outlet: auction, priced ad, shop floor, dealer, scrap yard or "
           "gift"));
  if (rounding != NULL && !sw_text_same_name (rounding, "half-up")
      && !sw_text_same_name (rounding, "half-even"))
    return fail_cell (error, rounding, _ ("is no rounding: half-up or half-even"));
  return TRUE;
}

static gboolean
check_charge (const SwRow *row, GError **error)
{
  SwChargeBasis basis = SW_CHARGE_OFFER;
  if (!sw_row_has (row, FLAT) && !sw_row_has (row, TIERS))
    return TRUE; /* ends the charge */
  if (sw_row_has (row, FLAT) && sw_row_has (row, TIERS))
    return fail (error, _ ("A charge is flat or in tiers, not both; make it two charges."));
  if (!sw_row_has (row, ON) || !sw_charge_basis_parse (row->text[SW_COLUMN_ON], &basis))
    return fail (error, _ ("A charge needs what it is on: offer, sale, price or price+delivery."));
  gboolean flat = basis == SW_CHARGE_OFFER || basis == SW_CHARGE_SALE;
  if (flat && !sw_row_has (row, FLAT))
    return fail (error, _ ("A charge on an offer or a sale needs its money in 'flat'."));
  if (!flat && !sw_row_has (row, TIERS))
    return fail (error, _ ("A charge on the price needs its percentages in 'tiers'."));
  if (sw_row_has (row, LEAST) && sw_row_has (row, MOST)
      && row->value[SW_COLUMN_LEAST] > row->value[SW_COLUMN_MOST])
    return fail (error, _ ("The least of the charge is more than its most."));
  return TRUE;
}

static gboolean
check_count (const SwRow *row, GError **error)
{
  if (sw_row_has (row, COUNT) && row->value[SW_COLUMN_COUNT] == 0)
    return fail (error, _ ("The count is at least 1; leave it empty for all that is left."));
  return TRUE;
}

static gboolean
check_result (const SwRow *row, GError **error)
{
  SwResult result;
  if (!sw_result_parse (row->text[SW_COLUMN_RESULT], &result))
    return fail_cell (error, row->text[SW_COLUMN_RESULT],
                      _ ("is no result: sold, no sale or withdrawn"));
  if (result == SW_RESULT_SOLD && !sw_row_has (row, AMOUNT))
    return fail (error, _ ("A sold result needs its amount (0 for nothing)."));
  if (result != SW_RESULT_SOLD
      && (row->value[SW_COLUMN_AMOUNT] != 0 || row->value[SW_COLUMN_DELIVERY] != 0))
    return fail (error, _ ("Only a sold result has an amount or delivery; give the best bid in an "
                           "interest row."));
  return TRUE;
}

static gboolean
check_docket (const SwRow *row, GError **error)
{
  if (row->value[SW_COLUMN_TARE] > row->value[SW_COLUMN_GROSS])
    return fail (error, _ ("The tare of the docket is more than its gross."));
  return TRUE;
}

static gboolean
check_docket_line (const SwRow *row, GError **error)
{
  if (!sw_row_has (row, AMOUNT) && !sw_row_has (row, RATE))
    return fail (error, _ ("A docket line needs its rate or its amount."));
  return TRUE;
}

static gboolean
check_trip (const SwRow *row, GError **error)
{
  if (sw_row_has (row, TRIP) && row->value[SW_COLUMN_TRIP] == 0)
    return fail (error, _ ("Trips are numbered from 1; leave the cell empty for none."));
  return TRUE;
}

static gboolean (*const row_checks[SW_N_ROW_KINDS]) (const SwRow *row, GError **error) = {
  [SW_ROW_OUTLET] = check_outlet, [SW_ROW_CHARGE] = check_charge,
  [SW_ROW_OFFER] = check_count,   [SW_ROW_SALE] = check_count,
  [SW_ROW_RESULT] = check_result, [SW_ROW_DOCKET] = check_docket,
  [SW_ROW_COST] = check_trip,     [SW_ROW_DOCKET_LINE] = check_docket_line,
};

/* --- rows --- */

typedef struct
{
  const SwTable *table;
  int columns[SW_N_COLUMNS];
  Reading reading;
  SwRowSayFunc fault, remark;
  gpointer data;
} Reader;

static gboolean
find_kind (const char *word, SwRowKind *out_kind)
{
  g_autofree char *folded = g_strdelimit (g_strdup (word), "-_", ' ');
  for (int i = 0; i < SW_N_ROW_KINDS; i++)
    if (sw_text_same_name (kind_rows[i].word, folded))
      {
        *out_kind = (SwRowKind)i;
        return TRUE;
      }
  return FALSE;
}

static void
say_unknown_kind (const Reader *reader, const SwRow *row, const char *what)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *shown = sw_text_quote (what);
  if (*what == '\0')
    g_string_append (text, _ ("'what' is empty; it says which fact the row is: "));
  else
    g_string_append_printf (text, _ ("%s in 'what' is not known; known are "), shown);
  for (int i = 0; i < SW_N_ROW_KINDS; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? ", " : "", kind_rows[i].word);
  g_string_append_c (text, '.');
  reader->fault (row->line, text->str, reader->data);
}

static void
read_columns (const Reader *reader, gsize index, SwRow *row)
{
  const KindRow *kind = &kind_rows[row->kind];
  /* A remark may stand in any row: it goes into the history. */
  guint64 reads = kind->reads | SW_COL (REMARK);
  for (int i = SW_COLUMN_WHAT + 1; i < SW_N_COLUMNS; i++)
    {
      guint64 bit = G_GUINT64_CONSTANT (1) << i;
      const char *cell = sw_table_cell (reader->table, index, reader->columns[i]);
      g_autoptr (GError) error = NULL;
      g_autofree char *text = NULL;
      if (*cell == '\0' && (kind->needs & bit) != 0)
        text = g_strdup_printf (_ ("the %s has no '%s'."), kind->word, column_rows[i].name);
      else if (*cell != '\0' && (reads & bit) != 0
               && !read_cell (&reader->reading, row, (SwColumn)i, cell, &error))
        text = g_strdup_printf ("%s: %s", column_rows[i].name, error->message);
      if (text != NULL)
        {
          row->known = FALSE;
          reader->fault (row->line, text, reader->data);
        }
      else if (*cell != '\0' && (reads & bit) == 0)
        {
          text = g_strdup_printf (_ ("a row of '%s' does not read '%s'; the cell was passed over."),
                                  kind->word, column_rows[i].name);
          reader->remark (row->line, text, reader->data);
        }
    }
}

static void
set_day (const Reader *reader, SwRow *row)
{
  SwColumn column = row->kind == SW_ROW_OFFER    ? SW_COLUMN_UP
                    : row->kind == SW_ROW_CHARGE ? SW_COLUMN_FROM
                                                 : SW_COLUMN_AT;
  if (row->text[column] != NULL)
    row->day = sw_day_of_instant ((SwInstant){ row->value[column] }, reader->reading.zone);
}

static void
remark_clock_changes (const Reader *reader, const SwRow *row)
{
  for (int i = 0; i < SW_N_COLUMNS; i++)
    {
      if (column_rows[i].type != CELL_MOMENT || row->text[i] == NULL)
        continue;
      g_autofree char *sentence = sw_clock_change_sentence (
          row->text[i], (SwInstant){ row->value[i] }, reader->reading.zone);
      if (sentence != NULL)
        reader->remark (row->line, sentence, reader->data);
    }
}

static SwRow *
read_row (const Reader *reader, gsize index)
{
  SwRow *row = g_new0 (SwRow, 1);
  row->line = sw_table_line (reader->table, index);
  const char *what = sw_table_cell (reader->table, index, reader->columns[SW_COLUMN_WHAT]);
  if (!find_kind (what, &row->kind))
    {
      say_unknown_kind (reader, row, what);
      row->kind = SW_N_ROW_KINDS;
      /* What speaks of its ref must not be called an orphan as well. */
      row->text[SW_COLUMN_REF]
          = sw_text_tidy (sw_table_cell (reader->table, index, reader->columns[SW_COLUMN_REF]));
      return row;
    }
  row->known = TRUE;
  read_columns (reader, index, row);
  if (!row->known)
    return row;
  set_day (reader, row);
  remark_clock_changes (reader, row);
  g_autoptr (GError) error = NULL;
  if (row_checks[row->kind] != NULL && !row_checks[row->kind](row, &error))
    {
      row->known = FALSE;
      reader->fault (row->line, error->message, reader->data);
    }
  return row;
}

/* --- the header line --- */

static int
column_of (const char *name)
{
  for (int i = 0; i < SW_N_COLUMNS; i++)
    if (sw_text_same_name (column_rows[i].name, name))
      return i;
  return -1;
}

static gboolean
read_header (Reader *reader, GError **error)
{
  for (int i = 0; i < SW_N_COLUMNS; i++)
    reader->columns[i] = -1;
  for (gsize i = 0; i < sw_table_n_columns (reader->table); i++)
    {
      const char *name = sw_table_column_name (reader->table, i);
      g_autofree char *shown = sw_text_quote (name);
      int column = column_of (name);
      if (column >= 0 && reader->columns[column] >= 0)
        {
          g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                       _ ("The header line names the column %s twice; keep one of them."), shown);
          return FALSE;
        }
      if (column >= 0)
        reader->columns[column] = (int)i;
      else if (*name != '\0')
        {
          g_autofree char *text
              = g_strdup_printf (_ ("the column %s is not known and was passed over."), shown);
          reader->remark (1, text, reader->data);
        }
    }
  if (reader->columns[SW_COLUMN_WHAT] >= 0)
    return TRUE;
  return fail (
      error,
      _ ("The table has no column 'what' in its first line; see the example of book --help."));
}

GPtrArray *
sw_rows_read (const SwTable *table, SwCurrency currency, const SwZone *zone, SwRowSayFunc fault,
              SwRowSayFunc remark, gpointer data, GError **error)
{
  Reader reader = { table, { 0 }, { currency, zone }, fault, remark, data };
  if (!read_header (&reader, error))
    return NULL;
  GPtrArray *rows = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_row_free);
  for (gsize i = 0; i < sw_table_n_rows (table); i++)
    g_ptr_array_add (rows, read_row (&reader, i));
  return rows;
}

char *
sw_row_content (const SwRow *row)
{
  g_autoptr (GString) content = g_string_new (kind_rows[row->kind].word);
  for (int i = 0; i < SW_N_COLUMNS; i++)
    {
      gboolean counts = (kind_rows[row->kind].reads & (G_GUINT64_CONSTANT (1) << i)) != 0;
      if (row->text[i] == NULL || !counts)
        continue;
      CellType type = column_rows[i].type;
      gboolean as_text = type == CELL_TEXT || type == CELL_PERCENT || type == CELL_TIERS;
      /* No cell holds a line break, so it parts them safely. */
      g_string_append_printf (content, "\n%s=", column_rows[i].name);
      if (as_text)
        g_string_append (content, row->text[i]);
      else
        g_string_append_printf (content, "%" G_GINT64_FORMAT, row->value[i]);
    }
  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, content->str, (gssize)content->len);
}
