/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables as text. libcsv takes the cells apart; what it does not know stands here: encodings, line
 * numbers, which delimiter a file uses, and where a quotation mark went wrong. Knows no column of
 * any table. */
#include "core/base/table.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

#include <csv.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

typedef struct
{
  int line;
  GPtrArray *cells; /* of char *, owned */
} Row;

struct _SwTable
{
  GPtrArray *rows; /* of Row *; the first is the header */
};

static void
row_free (Row *row)
{
  g_ptr_array_unref (row->cells);
  g_free (row);
}

static gboolean
fail_line (int line, const char *why, GError **error)
{
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("Line %d of the table %s."), line, why);
  return FALSE;
}

/* Decoding. */

/* The line that 'end' lies on, counted from 1; LF, CRLF and CR each end a line. */
static int
line_of (const char *start, const char *end)
{
  int line = 1;
  for (const char *p = start; p < end; p++)
    if (*p == '\n' || (*p == '\r' && !(p + 1 < end && p[1] == '\n')))
      line++;
  return line;
}

static char *
decode_utf8 (const char *data, gsize length, gsize *out_length, GError **error)
{
  const char *bad = NULL;
  if (!g_utf8_validate_len (data, length, &bad))
    {
      fail_line (line_of (data, bad),
                 *bad == '\0'
                     ? _ ("holds a zero byte, so this is no table; save it as CSV in UTF-8")
                     : _ ("is not UTF-8 text; save the table as CSV in UTF-8"),
                 error);
      return NULL;
    }
  *out_length = length;
  return g_strndup (data, length);
}

static guint16
unit_at (const guint8 *data, gsize i, gboolean big_endian)
{
  guint8 first = data[2 * i], second = data[2 * i + 1];
  return (guint16)(big_endian ? first << 8 | second : second << 8 | first);
}

/* UTF-16 after its byte order mark: RFC 2781 (Hoffman and Yergeau, 2000), 2.2. */
static char *
decode_utf16 (const guint8 *data, gsize length, gboolean big_endian, gsize *out_length,
              GError **error)
{
  g_autoptr (GString) text = g_string_sized_new (length);
  gsize n = length / 2;
  for (gsize i = 0; i < n; i++)
    {
      gunichar c = unit_at (data, i, big_endian);
      if (c >= 0xd800 && c < 0xdc00 && i + 1 < n)
        {
          gunichar low = unit_at (data, i + 1, big_endian);
          if (low >= 0xdc00 && low < 0xe000)
            {
              c = 0x10000 + ((c - 0xd800) << 10) + (low - 0xdc00);
              i++;
            }
        }
      if (c == 0 || (c >= 0xd800 && c < 0xe000))
        {
          fail_line (line_of (text->str, text->str + text->len),
                     _ ("is not UTF-16 text; save the table as CSV in UTF-8"), error);
          return NULL;
        }
      g_string_append_unichar (text, c);
    }
  if (length % 2 != 0)
    {
      fail_line (line_of (text->str, text->str + text->len),
                 _ ("breaks off within a character; save the table as CSV in UTF-8"), error);
      return NULL;
    }
  *out_length = text->len;
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
sw_table_decode (GBytes *bytes, gsize *out_length, GError **error)
{
  g_return_val_if_fail (bytes != NULL, NULL);
  gsize length = 0, n = 0;
  const guint8 *data = g_bytes_get_data (bytes, &length);
  char *text = NULL;
  if (length >= 2 && data[0] == 0xff && data[1] == 0xfe)
    text = decode_utf16 (data + 2, length - 2, FALSE, &n, error);
  else if (length >= 2 && data[0] == 0xfe && data[1] == 0xff)
    text = decode_utf16 (data + 2, length - 2, TRUE, &n, error);
  else
    {
      gsize skip = length >= 3 && memcmp (data, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
      text = decode_utf8 (length > 0 ? (const char *)data + skip : "", length - skip, &n, error);
    }
  if (text != NULL && out_length != NULL)
    *out_length = n;
  return text;
}

/* Finding the records. */

/* One record: a row with its line breaks inside quotation marks. */
typedef struct
{
  const char *p, *end;
  char delimiter;
  int line;
} Scanner;

static gboolean
is_blank (char c, char delimiter)
{
  return c == ' ' || (c == '\t' && delimiter != '\t');
}

/* Steps over one line break, whichever of the three it is. */
static void
skip_break (Scanner *s)
{
  s->p += *s->p == '\r' && s->p + 1 < s->end && s->p[1] == '\n' ? 2 : 1;
  s->line++;
}

static gboolean
at_break (const Scanner *s)
{
  return s->p < s->end && (*s->p == '\n' || *s->p == '\r');
}

static gboolean
at_cell_end (const Scanner *s)
{
  return s->p >= s->end || *s->p == s->delimiter || at_break (s);
}

/* From an opening quotation mark to the end of its cell. A lone mark that does not close a cell is
 * refused: read on in good faith it would swallow the rows after it. */
static gboolean
scan_quoted (Scanner *s, GError **error)
{
  int first = s->line;
  const char *start = ++s->p;
  for (;;)
    {
      if (s->p >= s->end)
        return fail_line (
            first, _ ("begins a cell with a quotation mark that is never closed; close it"), error);
      if (s->p - start > 2 * SW_TABLE_CELL_MAX)
        return fail_line (
            first, _ ("begins a cell that is too long; look for a missing quotation mark"), error);
      if (at_break (s))
        {
          skip_break (s);
          continue;
        }
      if (*s->p++ != '"')
        continue;
      if (s->p < s->end && *s->p == '"')
        {
          s->p++;
          continue;
        }
      while (s->p < s->end && is_blank (*s->p, s->delimiter))
        s->p++;
      if (at_cell_end (s))
        return TRUE;
      return fail_line (
          s->line, _ ("has text after a closing quotation mark; double the marks inside the cell"),
          error);
    }
}

/* Over one record, up to and with its line break. */
static gboolean
scan_record (Scanner *s, GError **error)
{
  for (;;)
    {
      while (s->p < s->end && is_blank (*s->p, s->delimiter))
        s->p++;
      if (s->p < s->end && *s->p == '"')
        {
          if (!scan_quoted (s, error))
            return FALSE;
        }
      else
        while (!at_cell_end (s))
          s->p++;
      if (s->p >= s->end)
        return TRUE;
      if (at_break (s))
        {
          skip_break (s);
          return TRUE;
        }
      s->p++; /* the delimiter */
    }
}

static const char delimiters[] = { ',', ';', '\t' };

static gboolean
is_delimiter (char c)
{
  return memchr (delimiters, c, sizeof delimiters) != NULL;
}

/* The end of the quoted cell that opens at p, or of the text. */
static const char *
skip_quoted (const char *p, const char *end)
{
  for (p++; p < end; p++)
    if (*p == '"')
      {
        if (p + 1 >= end || p[1] != '"')
          return p + 1;
        p++;
      }
  return end;
}

/* The mark that parts the first line best, outside quoted cells; where two are even, the first of
 * the list. A quotation mark opens a cell only where one can begin. */
static char
pick_delimiter (const char *text, gsize length)
{
  gsize counts[G_N_ELEMENTS (delimiters)] = { 0 };
  const char *end = text + length;
  gboolean at_start = TRUE, seen = FALSE;
  for (const char *p = text; p < end;)
    {
      if (*p == '"' && at_start)
        {
          p = skip_quoted (p, end);
          at_start = FALSE;
          seen = TRUE;
          continue;
        }
      if ((*p == '\n' || *p == '\r') && seen)
        break;
      for (gsize k = 0; k < G_N_ELEMENTS (delimiters); k++)
        counts[k] += *p == delimiters[k];
      seen = seen || !g_ascii_isspace (*p);
      at_start = is_delimiter (*p) || (at_start && g_ascii_isspace (*p));
      p++;
    }
  gsize best = 0;
  for (gsize k = 1; k < G_N_ELEMENTS (delimiters); k++)
    if (counts[k] > counts[best])
      best = k;
  return delimiters[best];
}

/* Taking the cells apart. */

typedef struct
{
  struct csv_parser parser;
  GPtrArray *cells; /* of the record being read */
  gboolean too_long;
} Reader;

/* Trimmed, and with plain newlines however the file breaks its lines. */
static char *
clean_cell (const char *data, gsize length)
{
  GString *cell = g_string_sized_new (length);
  for (gsize i = 0; i < length; i++)
    if (data[i] != '\r')
      g_string_append_c (cell, data[i]);
    else if (i + 1 >= length || data[i + 1] != '\n')
      g_string_append_c (cell, '\n');
  const char *start = cell->str;
  while (*start != '\0' && g_unichar_isspace (g_utf8_get_char (start)))
    start = g_utf8_next_char (start);
  const char *end = cell->str + cell->len;
  while (end > start)
    {
      const char *last = g_utf8_prev_char (end);
      if (!g_unichar_isspace (g_utf8_get_char (last)))
        break;
      end = last;
    }
  char *clean = g_strndup (start, (gsize)(end - start));
  g_string_free (cell, TRUE);
  return clean;
}

static void
on_cell (void *data, size_t length, void *user_data)
{
  Reader *reader = user_data;
  if (length > SW_TABLE_CELL_MAX)
    reader->too_long = TRUE;
  else
    g_ptr_array_add (reader->cells, clean_cell (data, length));
}

static void
on_record (int terminator, void *user_data)
{
}

static void
reader_clear (Reader *reader)
{
  csv_free (&reader->parser);
  g_clear_pointer (&reader->cells, g_ptr_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Reader, reader_clear)

/* Whole records only, so that the parser is between records before and after. */
static gboolean
read_record (Reader *reader, const char *start, gsize length, int line, SwTable *table,
             GError **error)
{
  g_clear_pointer (&reader->cells, g_ptr_array_unref);
  reader->cells = g_ptr_array_new_with_free_func (g_free);
  if (csv_parse (&reader->parser, start, length, on_cell, on_record, reader) != length
      || csv_fini (&reader->parser, on_cell, on_record, reader) != 0)
    return fail_line (line, _ ("cannot be taken apart into cells; check its quotation marks"),
                      error);
  if (reader->too_long)
    return fail_line (line, _ ("has a cell that is too long; look for a missing quotation mark"),
                      error);
  gboolean empty = TRUE;
  for (guint i = 0; i < reader->cells->len && empty; i++)
    empty = *(const char *)g_ptr_array_index (reader->cells, i) == '\0';
  if (empty)
    return TRUE;
  Row *row = g_new0 (Row, 1);
  row->line = line;
  row->cells = g_steal_pointer (&reader->cells);
  g_ptr_array_add (table->rows, row);
  return TRUE;
}

SwTable *
sw_table_read (GBytes *bytes, GError **error)
{
  gsize length = 0;
  g_autofree char *text = sw_table_decode (bytes, &length, error);
  if (text == NULL)
    return NULL;
  g_autoptr (SwTable) table = g_new0 (SwTable, 1);
  table->rows = g_ptr_array_new_with_free_func ((GDestroyNotify)row_free);
  g_auto (Reader) reader = { 0 };
  if (csv_init (&reader.parser, CSV_STRICT_FINI) != 0)
    g_error ("csv_init cannot fail without CSV_EMPTY_IS_NULL");
  Scanner scanner = { text, text + length, pick_delimiter (text, length), 1 };
  csv_set_delim (&reader.parser, (unsigned char)scanner.delimiter);
  while (scanner.p < scanner.end)
    {
      const char *start = scanner.p;
      int line = scanner.line;
      if (!scan_record (&scanner, error)
          || !read_record (&reader, start, (gsize)(scanner.p - start), line, table, error))
        return NULL;
    }
  if (table->rows->len > 0)
    return g_steal_pointer (&table);
  g_set_error_literal (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                       _ ("The table is empty; its first line must name the columns."));
  return NULL;
}

static GBytes *
read_whole (const char *path, GError **error)
{
  g_autofree char *name = g_filename_display_name (path);
  g_autofree char *shown = sw_text_quote (name);
  g_autofree char *what = g_strdup_printf (_ ("The table %s could not be read"), shown);
  int fd = open (path, O_RDONLY | O_CLOEXEC);
  if (fd < 0)
    {
      sw_error_from_errno (error, errno, what);
      return NULL;
    }
  g_autoptr (GByteArray) data = g_byte_array_new ();
  guint8 buffer[65536];
  gssize n;
  while ((n = TEMP_FAILURE_RETRY (read (fd, buffer, sizeof buffer))) > 0
         && data->len <= SW_TABLE_FILE_MAX)
    g_byte_array_append (data, buffer, (guint)n);
  int errsv = errno;
  close (fd);
  if (n < 0)
    {
      sw_error_from_errno (error, errsv, what);
      return NULL;
    }
  if (data->len > SW_TABLE_FILE_MAX)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("%s: it is larger than 100 MB; split it."), what);
      return NULL;
    }
  return g_byte_array_free_to_bytes (g_steal_pointer (&data));
}

SwTable *
sw_table_read_file (const char *path, GError **error)
{
  g_return_val_if_fail (path != NULL, NULL);
  g_autoptr (GBytes) bytes = read_whole (path, error);
  return bytes != NULL ? sw_table_read (bytes, error) : NULL;
}

void
sw_table_free (SwTable *table)
{
  if (table == NULL)
    return;
  g_clear_pointer (&table->rows, g_ptr_array_unref);
  g_free (table);
}

/* Looking things up. */

static const Row *
header_of (const SwTable *table)
{
  return g_ptr_array_index (table->rows, 0);
}

static const Row *
row_of (const SwTable *table, gsize row)
{
  g_return_val_if_fail (row < sw_table_n_rows (table), NULL);
  return g_ptr_array_index (table->rows, row + 1);
}

gsize
sw_table_n_rows (const SwTable *table)
{
  return table->rows->len - 1;
}

gsize
sw_table_n_columns (const SwTable *table)
{
  return header_of (table)->cells->len;
}

const char *
sw_table_column_name (const SwTable *table, gsize column)
{
  g_return_val_if_fail (column < sw_table_n_columns (table), "");
  return g_ptr_array_index (header_of (table)->cells, column);
}

int
sw_table_find_column (const SwTable *table, const char *name)
{
  for (gsize i = 0; i < sw_table_n_columns (table); i++)
    if (sw_text_same_name (sw_table_column_name (table, i), name))
      return (int)i;
  return -1;
}

int
sw_table_line (const SwTable *table, gsize row)
{
  const Row *found = row_of (table, row);
  return found != NULL ? found->line : 0;
}

gsize
sw_table_n_cells (const SwTable *table, gsize row)
{
  const Row *found = row_of (table, row);
  return found != NULL ? found->cells->len : 0;
}

const char *
sw_table_cell (const SwTable *table, gsize row, int column)
{
  const Row *found = row_of (table, row);
  if (found == NULL || column < 0 || (guint)column >= found->cells->len)
    return "";
  return g_ptr_array_index (found->cells, (guint)column);
}

/* Writing. */

/* What a spreadsheet takes for the start of a formula: OWASP, "CSV Injection" (undated community
 * page, from memory), with the full-width forms that some programs fold to ASCII. */
static const char *const formula_starts[] = {
  "=",
  "+",
  "-",
  "@",
  "\t",
  "\r",
  "\n",
  "\xef\xbc\x9d",
  "\xef\xbc\x8b",
  "\xef\xbc\x8d",
  "\xef\xbc\xa0",
};

static gboolean
begins_formula (const char *text)
{
  for (gsize i = 0; i < G_N_ELEMENTS (formula_starts); i++)
    if (g_str_has_prefix (text, formula_starts[i]))
      return TRUE;
  return FALSE;
}

void
sw_table_append_cell (GString *line, const char *text, gboolean guard)
{
  g_return_if_fail (line != NULL);
  if (text == NULL)
    text = "";
  const char *apostrophe = guard && begins_formula (text) ? "'" : "";
  /* RFC 4180 (Shafranovich, 2005), section 2, rules 6 and 7. */
  if (strpbrk (text, ",\"\r\n") == NULL)
    {
      g_string_append (line, apostrophe);
      g_string_append (line, text);
      return;
    }
  g_string_append_c (line, '"');
  g_string_append (line, apostrophe);
  for (const char *p = text; *p != '\0'; p++)
    {
      if (*p == '"')
        g_string_append_c (line, '"');
      g_string_append_c (line, *p);
    }
  g_string_append_c (line, '"');
}
