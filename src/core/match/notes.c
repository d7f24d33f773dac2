/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of a notes file become field notes and items, each row in a savepoint of its own, so that a
 * bad one leaves nothing. Must not know the file's layout (note-rows.c) nor SQL. */
#include "core/match/notes.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/items.h"
#include "core/catalogue/notes.h"
#include "core/catalogue/places.h"
#include "core/catalogue/trips.h"
#include "core/match/note-rows.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

/* A time of day this much before the last one belongs to the next day. */
#define BACKWARDS_S (3 * 3600)
#define COUNT_MOST 1000000
/* Bytes of a notes file. */
#define FILE_MOST (20u << 20)
/* Lines that a refusal names. */
#define NAMED_MOST 5

const char *
sw_notes_help (void)
{
  return _ (
      "A table (CSV; comma, semicolon or tab) whose first line names its columns, in any "
      "order:\n"
      "\n"
      "  time,place,item,count,remark\n"
      "  10:42,Packing shed,screw press,2,handle bent\n"
      "  10:55,Cold store,,,\n"
      "\n"
      "or plain lines that begin with a time:\n"
      "\n"
      "  2026-06-20\n"
      "  10:42 Packing shed: screw press x2, handle bent\n"
      "  10:47:30 Packing shed > Loft; crates; 12; two are cracked\n"
      "  10:55 Cold store\n"
      "\n"
      "A time is 10:42, 10:42:07 or ISO 8601 (2026-06-20T10:42, with or without a zone). A bare "
      "time\n"
      "of day belongs to the trip's first day, and to the next day whenever the times run "
      "backwards by\n"
      "more than three hours; a line with a day alone (2026-06-20) sets the day of those below "
      "it.\n"
      "A place without an item says 'I am here now'; a row without a place is where the one "
      "before\n"
      "it was. In plain lines the parts are place, item, count, remark, parted by ; or tab or "
      "comma,\n"
      "or written 'place: item xCOUNT, remark'; lines that begin with # are skipped.\n"
      "Each item is made, in Found, unless its place has one of that name. Places not known yet "
      "are\n"
      "made and named. Reading the same file again adds nothing.\n");
}

static void
remark_free (gpointer data)
{
  SwNotesRemark *remark = data;

  g_free (remark->text);
  g_free (remark);
}

static SwNotesReport *
report_new (void)
{
  SwNotesReport *report = g_new0 (SwNotesReport, 1);

  report->places_made = g_ptr_array_new_with_free_func (g_free);
  report->remarks = g_ptr_array_new_with_free_func (remark_free);
  return report;
}

void
sw_notes_report_free (SwNotesReport *report)
{
  if (report == NULL)
    return;
  g_ptr_array_unref (report->places_made);
  g_ptr_array_unref (report->remarks);
  g_free (report);
}

typedef struct
{
  SwCatalogue *catalogue;
  const SwZone *zone;
  gint64 trip;
  SwDay day;        /* of bare times */
  int last_s;       /* the last time of day, -1: none on this day */
  char *last_place; /* where the row before was; NULL: nowhere yet */
  SwNotesReport *report;
} Reading;

static void
reading_clear (Reading *reading)
{
  g_free (reading->last_place);
  sw_notes_report_free (reading->report);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Reading, reading_clear)

static void
remark_line (Reading *reading, int line, const char *text)
{
  SwNotesRemark *remark = g_new0 (SwNotesRemark, 1);

  remark->line = line;
  remark->text = g_strdup (text);
  g_ptr_array_add (reading->report->remarks, remark);
}

static int
second_of_day (SwInstant instant, const SwZone *zone)
{
  SwCivil civil = sw_civil_from_instant (instant, zone, NULL);

  return civil.hour * 3600 + civil.minute * 60 + civil.second;
}

/* The row's moment; moves the reading's day on. */
static SwInstant
settle_time (Reading *reading, const SwNoteTime *time)
{
  SwCivil civil = { 0 };

  if (time->kind == SW_NOTE_TIME_MOMENT)
    {
      reading->day = sw_day_of_instant (time->moment, reading->zone);
      reading->last_s = second_of_day (time->moment, reading->zone);
      return time->moment;
    }
  if (reading->last_s >= 0 && reading->last_s - time->second > BACKWARDS_S)
    reading->day.n++;
  reading->last_s = time->second;
  sw_day_to_ymd (reading->day, &civil.year, &civil.month, &civil.day);
  civil.hour = time->second / 3600;
  civil.minute = time->second / 60 % 60;
  civil.second = time->second % 60;
  return sw_civil_to_instant (civil, reading->zone, NULL);
}

static gboolean
read_count (const char *text, gint64 *out_count, GError **error)
{
  gint64 count = 0;

  if (*text == '\0')
    {
      *out_count = 0;
      return TRUE;
    }
  if (g_ascii_string_to_signed (text, 10, 1, COUNT_MOST, &count, NULL))
    {
      *out_count = count;
      return TRUE;
    }
  g_autofree char *shown = sw_text_printable (text, -1);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("The count '%s' is no whole number from 1 to %d."), shown, COUNT_MOST);
  return FALSE;
}

static gboolean
ensure_item (Reading *reading, const SwNoteRow *row, SwNote *note, gboolean *out_made,
             GError **error)
{
  SwItemNew item
      = { .name = row->item, .place = note->place, .trip = reading->trip, .count = note->count };

  *out_made = FALSE;
  if (*row->item == '\0')
    return TRUE;
  if (!sw_item_in_place (reading->catalogue, note->place, row->item, &note->item, error))
    return FALSE;
  if (note->item != 0)
    return TRUE;
  *out_made = TRUE;
  return sw_item_add (reading->catalogue, &item, &note->item, error);
}

/* The row as a note: place, item, note and, where the item is new, its remark as a fact. */
static gboolean
store_row (Reading *reading, const SwNoteRow *row, SwInstant at, int resolution_s, GError **error)
{
  SwNotesReport *report = reading->report;
  const char *path = *row->place != '\0' ? row->place : reading->last_place;
  g_auto (SwAct) act = SW_ACT_INIT;
  SwNote note = { .trip = reading->trip,
                  .at = at,
                  .resolution_s = resolution_s,
                  .what = row->item,
                  .remark = row->remark };
  gboolean place_made = FALSE, item_made = FALSE, added = FALSE;

  if (path == NULL)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("The row names no place and none was named before it; say where it was."));
      return FALSE;
    }
  if (!read_count (row->count, &note.count, error)
      || !sw_act_begin (&act, reading->catalogue, error)
      || !sw_place_ensure (reading->catalogue, path, &note.place, &place_made, error)
      || !ensure_item (reading, row, &note, &item_made, error)
      || !sw_note_add (reading->catalogue, &note, &added, error))
    return FALSE;
  if (added && note.item != 0 && *row->remark != '\0'
      && !sw_fact_add (reading->catalogue, note.item, SW_FACT_REMARK, row->remark, "seen", NULL,
                       NULL, error))
    return FALSE;
  if (!sw_act_commit (&act, _ ("Note read"), error))
    return FALSE;
  report->rows++;
  report->notes_added += added;
  report->already_there += !added;
  report->items_added += item_made;
  if (place_made)
    g_ptr_array_add (report->places_made, g_strdup (path));
  if (path != reading->last_place)
    {
      g_free (reading->last_place);
      reading->last_place = g_strdup (path);
    }
  return TRUE;
}

static gboolean
is_bad_row (const GError *error)
{
  return error->domain == SW_ERROR
         && (error->code == SW_ERROR_BAD_INPUT || error->code == SW_ERROR_REFUSED);
}

/* FALSE only for errors of the catalogue; a bad row is remarked. */
static gboolean
read_row (Reading *reading, const SwNoteRow *row, GError **error)
{
  SwNoteTime time = sw_note_time_read (row->time, reading->zone);
  gboolean empty = *row->place == '\0' && *row->item == '\0' && *row->remark == '\0';
  g_autoptr (GError) problem = NULL;
  g_autofree char *shown = NULL, *text = NULL;

  if (time.kind == SW_NOTE_TIME_DAY && empty)
    {
      reading->day = time.day;
      reading->last_s = -1;
      return TRUE;
    }
  if (time.kind == SW_NOTE_TIME_BAD || time.kind == SW_NOTE_TIME_DAY)
    {
      shown = sw_text_printable (row->time, MIN (strlen (row->time), 40));
      text = *row->time == '\0'
                 ? g_strdup (_ ("The row has no time; begin it with one such as 10:42."))
                 : g_strdup_printf (_ ("'%s' is no time of day; write it as 10:42, 10:42:07 or "
                                       "2026-06-20T10:42."),
                                    shown);
      remark_line (reading, row->line, text);
      return TRUE;
    }
  if (*row->place == '\0' && *row->item == '\0')
    {
      remark_line (reading, row->line, _ ("The row names neither a place nor an item."));
      return TRUE;
    }
  /* A bad row still tells the day. */
  SwInstant at = settle_time (reading, &time);
  if (store_row (reading, row, at, time.resolution_s, &problem))
    return TRUE;
  if (!is_bad_row (problem))
    {
      g_propagate_error (error, g_steal_pointer (&problem));
      return FALSE;
    }
  remark_line (reading, row->line, problem->message);
  return TRUE;
}

/* The refusal of a whole file: its first bad lines. */
static gboolean
refuse_lines (const Reading *reading, const char *name, const char *ending, GError **error)
{
  g_autoptr (GString) lines = g_string_new (NULL);
  const GPtrArray *remarks = reading->report->remarks;

  for (guint k = 0; k < MIN (remarks->len, NAMED_MOST); k++)
    {
      const SwNotesRemark *remark = g_ptr_array_index (remarks, k);

      g_string_append_printf (lines, _ (" Line %d: %s"), remark->line, remark->text);
    }
  if (remarks->len > NAMED_MOST)
    g_string_append_printf (lines, _ (" And %u more."), remarks->len - NAMED_MOST);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, "%s: %s%s", name, ending, lines->str);
  return FALSE;
}

static gboolean
read_all (Reading *reading, GPtrArray *rows, const char *name, gboolean strict, GError **error)
{
  for (guint k = 0; k < rows->len; k++)
    if (!read_row (reading, g_ptr_array_index (rows, k), error))
      return FALSE;
  if (strict && reading->report->remarks->len > 0)
    return refuse_lines (reading, name,
                         _ ("nothing was read, since not every row can be understood."), error);
  if (reading->report->rows > 0)
    return TRUE;
  if (reading->report->remarks->len > 0)
    return refuse_lines (reading, name, _ ("no row can be understood."), error);
  g_set_error (
      error, SW_ERROR, SW_ERROR_BAD_INPUT,
      _ ("%s holds no note; each begins with a time, such as '10:42 Packing shed: screw press'."),
      name);
  return FALSE;
}

gboolean
sw_notes_read_bytes (SwCatalogue *catalogue, gint64 trip_number, GBytes *bytes, const char *name,
                     gboolean strict, SwNotesReport **out_report, GError **error)
{
  g_autofree char *shown = sw_text_printable (name, -1);
  g_autoptr (SwTrip) trip = sw_trip_get (catalogue, trip_number, error);
  g_autoptr (GPtrArray) rows = trip ? sw_note_rows_read (bytes, shown, error) : NULL;
  g_auto (Reading) reading = { .catalogue = catalogue,
                               .zone = sw_catalogue_zone (catalogue),
                               .trip = trip_number,
                               .last_s = -1,
                               .report = report_new () };
  g_auto (SwAct) act = SW_ACT_INIT;

  if (rows == NULL)
    return FALSE;
  reading.day = trip->first;
  if (!sw_act_begin (&act, catalogue, error) || !read_all (&reading, rows, shown, strict, error))
    return FALSE;
  g_autofree char *sentence
      = g_strdup_printf (_ ("%d notes of trip %" PRId64 " read, %d items found"),
                         reading.report->notes_added, trip_number, reading.report->items_added);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  *out_report = g_steal_pointer (&reading.report);
  return TRUE;
}

/* The whole file, capped: notes are kilobytes. Transfer full. */
static GBytes *
read_file (const char *path, GError **error)
{
  g_autofree char *shown = sw_text_printable (path, -1);
  g_autofree char *what = g_strdup_printf (_ ("The notes %s could not be read"), shown);
  g_autoptr (GByteArray) data = g_byte_array_new ();
  guint8 buffer[65536];
  int fd = open (path, O_RDONLY | O_CLOEXEC), problem;
  gssize n;

  if (fd < 0)
    {
      sw_error_from_errno (error, errno, what);
      return NULL;
    }
  while ((n = TEMP_FAILURE_RETRY (read (fd, buffer, sizeof buffer))) > 0 && data->len <= FILE_MOST)
    g_byte_array_append (data, buffer, (guint)n);
  problem = errno;
  close (fd);
  if (n < 0)
    {
      sw_error_from_errno (error, problem, what);
      return NULL;
    }
  if (data->len > FILE_MOST)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("%s: it is larger than 20 MB; split it."), what);
      return NULL;
    }
  return g_byte_array_free_to_bytes (g_steal_pointer (&data));
}

gboolean
sw_notes_read (SwCatalogue *catalogue, gint64 trip, const char *path, gboolean strict,
               SwNotesReport **out_report, GError **error)
{
  g_autoptr (GBytes) bytes = read_file (path, error);

  return bytes != NULL
         && sw_notes_read_bytes (catalogue, trip, bytes, path, strict, out_report, error);
}
