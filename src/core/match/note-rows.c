/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layout of notes files: tables by their columns, plain lines by their marks. Must not know the
 * catalogue. */
#include "core/match/note-rows.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/table.h"
#include "core/base/text.h"

#include <string.h>

void
sw_note_row_free (SwNoteRow *row)
{
  if (row == NULL)
    return;
  g_free (row->time);
  g_free (row->place);
  g_free (row->item);
  g_free (row->count);
  g_free (row->remark);
  g_free (row);
}

static char *
trimmed (const char *text)
{
  return g_strstrip (g_strdup (text));
}

/* Takes the strings; missing ones become empty. */
static SwNoteRow *
row_new (int line, char *time, char *place, char *item, char *count, char *remark)
{
  SwNoteRow *row = g_new0 (SwNoteRow, 1);

  row->line = line;
  row->time = time ? time : g_strdup ("");
  row->place = place ? place : g_strdup ("");
  row->item = item ? item : g_strdup ("");
  row->count = count ? count : g_strdup ("");
  row->remark = remark ? remark : g_strdup ("");
  return row;
}

static char *
first_line (const char *text)
{
  while (*text == '\n' || *text == '\r' || *text == ' ' || *text == '\t')
    text++;
  return g_strndup (text, strcspn (text, "\r\n"));
}

/* A table's first line has a cell that says 'time'. */
static gboolean
looks_like_table (const char *text)
{
  g_autofree char *line = first_line (text);
  g_auto (GStrv) cells = g_strsplit_set (line, ",;\t", -1);

  for (char **cell = cells; *cell != NULL; cell++)
    {
      g_autofree char *bare = trimmed (*cell);
      gsize length = strlen (bare);

      if (length >= 2 && bare[0] == '"' && bare[length - 1] == '"')
        {
          bare[length - 1] = '\0';
          memmove (bare, bare + 1, length - 1);
          g_strstrip (bare);
        }
      if (g_ascii_strcasecmp (bare, "time") == 0)
        return TRUE;
    }
  return FALSE;
}

static GPtrArray *
read_table (GBytes *bytes, const char *name, GError **error)
{
  g_autoptr (SwTable) table = sw_table_read (bytes, error);
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_note_row_free);
  int time, place, item, count, remark;

  if (table == NULL)
    {
      g_prefix_error (error, "%s: ", name);
      return NULL;
    }
  time = sw_table_find_column (table, "time");
  place = sw_table_find_column (table, "place");
  item = sw_table_find_column (table, "item");
  count = sw_table_find_column (table, "count");
  remark = sw_table_find_column (table, "remark");
  if (time < 0 || (place < 0 && item < 0))
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_BAD_INPUT,
          _ ("%s: a notes table needs a column 'time' and one of 'place' and 'item'; name them "
             "in its first line."),
          name);
      return NULL;
    }
  for (gsize k = 0; k < sw_table_n_rows (table); k++)
    g_ptr_array_add (rows, row_new (sw_table_line (table, k),
                                    sw_text_tidy (sw_table_cell (table, k, time)),
                                    sw_text_tidy (sw_table_cell (table, k, place)),
                                    sw_text_tidy (sw_table_cell (table, k, item)),
                                    trimmed (sw_table_cell (table, k, count)),
                                    trimmed (sw_table_cell (table, k, remark))));
  return g_steal_pointer (&rows);
}

static gboolean
is_digits (const char *text)
{
  return *text != '\0' && text[strspn (text, "0123456789")] == '\0';
}

/* "screw press x2", "screw press x 2", "2 x screw press", "2x screw press": cuts the count out of
 * the item. */
static char *
take_count (char *item)
{
  g_autofree char *text = trimmed (item);
  gsize length = strlen (text), digits = strspn (text, "0123456789");
  const char *rest = text + digits;
  const char *mark = strrchr (text, 'x');

  while (digits > 0 && *rest == ' ')
    rest++;
  if (digits > 0 && digits < 7 && rest[0] == 'x' && rest[1] == ' ')
    {
      char *count = g_strndup (text, digits);

      strcpy (item, rest + 2);
      g_strstrip (item);
      return count;
    }
  if (mark == NULL || mark == text || mark[-1] != ' ' || (gsize)(mark - text) + 1 == length)
    return NULL;
  g_autofree char *count = trimmed (mark + 1);
  if (!is_digits (count) || strlen (count) > 6)
    return NULL;
  item[mark - text] = '\0';
  g_strstrip (item);
  return g_steal_pointer (&count);
}

/* place, item, count, remark parted by one mark; a third part that is no number begins the remark.
 */
static SwNoteRow *
read_parts (int line, char *time, const char *rest, const char *mark)
{
  g_auto (GStrv) parts = g_strsplit (rest, mark, 4);
  guint n = g_strv_length (parts);
  g_autofree char *third = n > 2 ? trimmed (parts[2]) : NULL;
  g_autofree char *remark = NULL;

  if (third != NULL && *third != '\0' && !is_digits (third))
    {
      remark = n > 3 ? g_strconcat (third, mark, parts[3], NULL) : g_strdup (third);
      g_clear_pointer (&third, g_free);
    }
  else if (n > 3)
    remark = g_strdup (parts[3]);
  return row_new (line, time, sw_text_tidy (parts[0]), n > 1 ? sw_text_tidy (parts[1]) : NULL,
                  g_steal_pointer (&third), remark ? trimmed (remark) : NULL);
}

/* "Packing shed: screw press x2, handle bent" */
static SwNoteRow *
read_colon (int line, char *time, const char *rest, const char *colon)
{
  g_autofree char *place = g_strndup (rest, (gsize)(colon - rest));
  const char *comma = strchr (colon + 1, ',');
  g_autofree char *item
      = comma ? g_strndup (colon + 1, (gsize)(comma - colon - 1)) : g_strdup (colon + 1);
  char *count;

  g_strstrip (item);
  count = take_count (item);
  return row_new (line, time, sw_text_tidy (place), sw_text_tidy (item), count,
                  comma ? trimmed (comma + 1) : NULL);
}

static const char *
find_colon (const char *text)
{
  for (const char *colon = strchr (text, ':'); colon != NULL; colon = strchr (colon + 1, ':'))
    if (colon[1] == ' ' || colon[1] == '\0')
      return colon;
  return NULL;
}

/* Length of the time at the line's start: one word, or a day and a time with a blank between. */
static gsize
time_length (const char *text)
{
  gsize first = strcspn (text, " ,;\t");

  if (first == 10 && text[4] == '-' && text[first] == ' ' && g_ascii_isdigit (text[first + 1]))
    {
      gsize second = strcspn (text + first + 1, " ,;\t");

      if (memchr (text + first + 1, ':', second) != NULL)
        return first + 1 + second;
    }
  return first;
}

static SwNoteRow *
read_line (int line, const char *text)
{
  gsize length = time_length (text);
  char *time = g_strndup (text, length);
  const char *rest = text + length;
  const char *colon;

  /* "10:42: Packing shed" */
  if (length > 1 && time[length - 1] == ':')
    time[length - 1] = '\0';
  while (*rest == ' ' || *rest == ',' || *rest == ';' || *rest == '\t')
    rest++;
  colon = find_colon (rest);
  if (strchr (rest, ';') != NULL)
    return read_parts (line, time, rest, ";");
  if (strchr (rest, '\t') != NULL)
    return read_parts (line, time, rest, "\t");
  if (colon != NULL)
    return read_colon (line, time, rest, colon);
  return read_parts (line, time, rest, ",");
}

static GPtrArray *
read_lines (const char *text)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_note_row_free);
  int number = 0;

  while (*text != '\0')
    {
      gsize length = strcspn (text, "\r\n");
      g_autofree char *line = g_strndup (text, length);

      number++;
      g_strstrip (line);
      if (*line != '\0' && *line != '#')
        g_ptr_array_add (rows, read_line (number, line));
      text += length;
      if (text[0] == '\r' && text[1] == '\n')
        text++;
      if (*text != '\0')
        text++;
    }
  return rows;
}

GPtrArray *
sw_note_rows_read (GBytes *bytes, const char *name, GError **error)
{
  g_autofree char *text = sw_table_decode (bytes, NULL, error);

  if (text == NULL)
    {
      g_prefix_error (error, "%s: ", name);
      return NULL;
    }
  return looks_like_table (text) ? read_table (bytes, name, error) : read_lines (text);
}

/* Two digits (one allowed where 'least' is 1) below 'limit'; moves *text on. */
static gboolean
read_number (const char **text, int least, int limit, int *out)
{
  int digits = 0, value = 0;

  while (digits < 2 && g_ascii_isdigit ((*text)[digits]))
    value = value * 10 + ((*text)[digits++] - '0');
  if (digits < least || value >= limit)
    return FALSE;
  *text += digits;
  *out = value;
  return TRUE;
}

static gboolean
read_clock (const char *text, SwNoteTime *time)
{
  int hour, minute, second = 0;

  time->resolution_s = 60;
  if (!read_number (&text, 1, 24, &hour) || *text++ != ':' || !read_number (&text, 2, 60, &minute))
    return FALSE;
  if (*text == ':')
    {
      text++;
      time->resolution_s = 1;
      if (!read_number (&text, 2, 60, &second))
        return FALSE;
    }
  if (*text != '\0')
    return FALSE;
  time->second = hour * 3600 + minute * 60 + second;
  time->kind = SW_NOTE_TIME_CLOCK;
  return TRUE;
}

SwNoteTime
sw_note_time_read (const char *text, const SwZone *zone)
{
  SwNoteTime time = { SW_NOTE_TIME_BAD };
  gboolean day_only = FALSE;

  if (read_clock (text, &time))
    return time;
  if (!sw_moment_parse (text, zone, &time.moment, &day_only, NULL))
    return (SwNoteTime){ SW_NOTE_TIME_BAD };
  if (day_only)
    {
      time.kind = SW_NOTE_TIME_DAY;
      time.day = sw_day_of_instant (time.moment, zone);
      return time;
    }
  time.kind = SW_NOTE_TIME_MOMENT;
  /* YYYY-MM-DDTHH:MM is 16 characters; seconds follow after another colon. */
  time.resolution_s = strlen (text) > 16 && text[16] == ':' ? 1 : 60;
  return time;
}
