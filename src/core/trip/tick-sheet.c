/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trip/tick-sheet.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/items.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/places.h"
#include "core/catalogue/questions.h"
#include "core/trade/sales.h"

/* ---- words ---- */

static const char *const words[] = {
#define AS_WORD(tag, word) word,
  SW_TICKS (AS_WORD)
#undef AS_WORD
};

const char *
sw_tick_word (SwTick tick)
{
  return words[tick];
}

gboolean
sw_tick_parse (const char *word, SwTick *out_tick, GError **error)
{
  g_autofree char *folded = g_strdelimit (g_strdup (word), "-_", ' ');
  g_autofree char *shown = NULL;

  for (int i = 0; i < SW_N_TICKS; i++)
    if (sw_text_same_name (words[i], folded))
      {
        *out_tick = (SwTick)i;
        return TRUE;
      }
  shown = sw_text_quote (word);
  g_set_error (
      error, SW_ERROR, SW_ERROR_BAD_INPUT,
      _ ("A line is handed over, brought home, scrapped, done, not found or broken, not %s."),
      shown);
  return FALSE;
}

/* ---- what may be said of a part's lines ---- */

#define TICK(tag) (1u << SW_TICK_##tag)

static const guint may_of_part[SW_N_TRIP_PARTS] = {
  [SW_TRIP_HAND_OVER] = TICK (HANDED_OVER) | TICK (NOT_FOUND) | TICK (BROKEN),
  [SW_TRIP_LOAD] = TICK (LOADED) | TICK (NOT_FOUND) | TICK (BROKEN),
  [SW_TRIP_SCRAP] = TICK (SCRAPPED) | TICK (NOT_FOUND) | TICK (BROKEN),
  [SW_TRIP_JOB] = TICK (DONE) | TICK (NOT_FOUND) | TICK (BROKEN),
  [SW_TRIP_LOOK] = TICK (DONE),
  [SW_TRIP_ASK] = TICK (DONE),
};
#define TICKS_OF_A_THING (TICK (NOT_FOUND) | TICK (BROKEN))

/* ---- lines ---- */

/* All records that lines speak of, each list read once. */
typedef struct
{
  SwCatalogue *catalogue;
  GPtrArray *sales, *jobs, *questions;
} Records;

static void
line_free (gpointer data)
{
  SwTickLine *line = data;

  g_free (line->what);
  g_free (line->place);
  g_free (line->who);
  g_free (line->state);
  g_free (line);
}

void
sw_tick_sheet_free (SwTickSheet *sheet)
{
  if (sheet == NULL)
    return;
  g_clear_pointer (&sheet->lines, g_ptr_array_unref);
  sw_trip_free (sheet->trip);
  g_free (sheet);
}

static void
read_sale (const Records *records, SwTickLine *line)
{
  for (guint i = 0; i < records->sales->len; i++)
    {
      const SwSale *sale = g_ptr_array_index (records->sales, i);

      if (sale->deal->id != line->row.subject)
        continue;
      line->who = g_strdup (sale->deal->buyer != NULL && *sale->deal->buyer != '\0'
                                ? sale->deal->buyer
                                : _ ("buyer not named"));
      if (line->row.tick == NULL)
        line->row.due = sale->owed;
      line->settled = sale->deal->has_collected || sale->fell_through;
    }
}

static void
read_job (const Records *records, SwTickLine *line)
{
  for (guint i = 0; i < records->jobs->len; i++)
    {
      const SwJob *job = g_ptr_array_index (records->jobs, i);

      if (job->id != line->row.subject)
        continue;
      g_free (line->what);
      line->what = g_strdup (job->subject);
      line->who = sw_job_words (job);
      line->settled = job->done;
      return;
    }
  line->settled = TRUE; /* withdrawn */
}

static void
read_question (const Records *records, SwTickLine *line)
{
  for (guint i = 0; i < records->questions->len; i++)
    {
      const SwQuestion *question = g_ptr_array_index (records->questions, i);

      if (question->id != line->row.subject)
        continue;
      line->who = g_strdup_printf (
          "%s: %s", question->person != NULL ? question->person : _ ("whoever knows"),
          question->text);
      line->settled = question->has_answered;
      return;
    }
  line->settled = TRUE; /* withdrawn */
}

static gboolean
read_place (const Records *records, SwTickLine *line, GError **error)
{
  g_autoptr (GError) why = NULL;
  g_autoptr (SwPlace) place = sw_place_get (records->catalogue, line->row.subject, &why);

  if (place == NULL && g_error_matches (why, SW_ERROR, SW_ERROR_NOT_FOUND))
    {
      line->what = g_strdup (_ ("a place that was taken off the plan"));
      line->settled = TRUE;
      return TRUE;
    }
  if (place == NULL)
    {
      g_propagate_error (error, g_steal_pointer (&why));
      return FALSE;
    }
  line->what = g_strdup (place->path);
  line->settled = place->walked;
  return TRUE;
}

/* Whether the thing left the state that brought it onto the sheet. */
static gboolean
thing_is_settled (const SwTickLine *line, SwState state)
{
  return line->part == SW_TRIP_LOAD    ? state == SW_STATE_AT_HOME || !sw_state_stands (state)
         : line->part == SW_TRIP_SCRAP ? state != SW_STATE_FOR_SCRAP
                                       : state == SW_STATE_MISSING;
}

static gboolean
read_item (const Records *records, SwTickLine *line, GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (records->catalogue, line->row.item, error);
  gint64 pieces;

  if (item == NULL)
    return FALSE;
  pieces = line->row.pieces > 0 && line->row.pieces < item->count ? line->row.pieces : item->count;
  line->what = pieces > 1 ? g_strdup_printf ("%" G_GINT64_FORMAT " x %s", pieces, item->name)
                          : g_strdup (item->name);
  line->place = g_strdup (item->place_path);
  line->state = g_strdup (sw_state_word (item->state));
  line->settled = thing_is_settled (line, item->state);
  return TRUE;
}

static SwTickLine *
read_line (const Records *records, const SwTripLineRow *row, GError **error)
{
  SwTickLine *line = g_new0 (SwTickLine, 1);
  gboolean was_settled;

  line->row = *row;
  while (g_strcmp0 (sw_trip_part_word (line->part), row->part) != 0)
    line->part++;
  line->may = may_of_part[line->part] & ~(row->item == 0 ? TICKS_OF_A_THING : 0u);
  if ((row->item != 0 && !read_item (records, line, error))
      || (line->part == SW_TRIP_LOOK && !read_place (records, line, error)))
    {
      line_free (line);
      return NULL;
    }
  was_settled = line->settled;
  if (line->part == SW_TRIP_HAND_OVER)
    read_sale (records, line);
  else if (line->part == SW_TRIP_JOB)
    read_job (records, line);
  else if (line->part == SW_TRIP_ASK)
    read_question (records, line);
  line->settled = line->settled || was_settled || row->tick != NULL;
  return line;
}

/* What was taken too much and given back out of the cash box lies there no more. */
static gboolean
add_taken (SwCatalogue *catalogue, SwTickSheet *sheet, const SwTripLineRow *row, GError **error)
{
  SwMoney back = SW_MONEY_ZERO;

  if (row->taken.minor > 0 && !sw_paid_back_cash (catalogue, row->subject, &back, error))
    return FALSE;
  back.minor = MIN (back.minor, row->taken.minor);
  return sw_money_add (sheet->taken, sw_money (row->taken.minor - back.minor), &sheet->taken,
                       error);
}

static gboolean
add_line (SwCatalogue *catalogue, SwTickSheet *sheet, SwTickLine *line, GError **error)
{
  const char *tick = line->row.tick;

  g_ptr_array_add (sheet->lines, line);
  sheet->open += !line->settled;
  if (g_strcmp0 (tick, words[SW_TICK_SCRAPPED]) == 0
      && g_strcmp0 (line->state, sw_state_word (SW_STATE_FOR_SCRAP)) == 0)
    sheet->dockets++;
  return g_strcmp0 (tick, words[SW_TICK_HANDED_OVER]) != 0
         || (sw_money_add (sheet->due, line->row.due, &sheet->due, error)
             && add_taken (catalogue, sheet, &line->row, error));
}

/* ---- the sheet ---- */

static SwTripLineRow *
row_like (GArray *rows, guint n, const SwTripLineRow *wanted)
{
  for (guint i = 0; i < n; i++)
    {
      SwTripLineRow *row = &g_array_index (rows, SwTripLineRow, i);

      if (row->subject == wanted->subject && row->item == wanted->item
          && g_strcmp0 (row->part, wanted->part) == 0)
        return row;
    }
  return NULL;
}

/* The thing lies there as before: its docket is what takes the step. After any other tick a line
 * that comes again is a new errand. */
static gboolean
stays_ticked (const SwTripLineRow *row)
{
  return g_strcmp0 (row->tick, words[SW_TICK_SCRAPPED]) == 0;
}

void
sw_trip_rows_carry_over (GArray *rows, const GArray *earlier)
{
  const guint n = rows->len;
  int last = 0;

  for (guint i = 0; i < n; i++)
    last = MAX (last, g_array_index (rows, SwTripLineRow, i).number);
  for (guint i = 0; i < earlier->len; i++)
    {
      SwTripLineRow row = g_array_index (earlier, SwTripLineRow, i);
      SwTripLineRow *again = row_like (rows, n, &row);

      if (again != NULL)
        again->broken = again->broken || row.broken;
      if (again != NULL && stays_ticked (&row))
        again->tick = row.tick;
      else if (row.tick != NULL)
        {
          row.number = ++last;
          g_array_append_val (rows, row);
        }
    }
}

GArray *
sw_trip_sheet_rows (const SwTripSheet *sheet)
{
  GArray *rows = g_array_new (FALSE, TRUE, sizeof (SwTripLineRow));

  for (guint i = 0; i < sheet->lines->len; i++)
    {
      const SwTripLine *line = g_ptr_array_index (sheet->lines, i);
      SwTripLineRow row = { .number = line->number,
                            .part = sw_trip_part_word (line->part),
                            .subject = line->subject,
                            .item = line->item,
                            .pieces = line->pieces };

      g_array_append_val (rows, row);
    }
  return rows;
}

/* Those kept, else those of today. */
static GArray *
rows_of (SwCatalogue *catalogue, SwTickSheet *sheet, int milliseconds, GCancellable *cancellable,
         GError **error)
{
  g_autoptr (GArray) rows = sw_trip_lines_list (catalogue, sheet->trip->id, error);
  g_autoptr (SwTripSheet) now = NULL;

  if (rows == NULL)
    return NULL;
  sheet->kept = rows->len > 0;
  if (sheet->kept)
    return g_steal_pointer (&rows);
  now = sw_trip_sheet (catalogue, sheet->trip->id, milliseconds, cancellable, error);
  return now != NULL ? sw_trip_sheet_rows (now) : NULL;
}

SwTickSheet *
sw_tick_sheet (SwCatalogue *catalogue, gint64 trip, int milliseconds, GCancellable *cancellable,
               GError **error)
{
  g_autoptr (SwTickSheet) sheet = g_new0 (SwTickSheet, 1);
  g_autoptr (GArray) rows = NULL;
  g_autoptr (GPtrArray) sales = NULL, jobs = NULL, questions = NULL;
  Records records;

  sheet->lines = g_ptr_array_new_with_free_func (line_free);
  if ((sheet->trip = sw_trip_get (catalogue, trip, error)) == NULL
      || (rows = rows_of (catalogue, sheet, milliseconds, cancellable, error)) == NULL
      || (sales = sw_sale_list (catalogue, error)) == NULL
      || (jobs = sw_job_list (catalogue, 0, error)) == NULL
      || (questions = sw_question_list (catalogue, 0, error)) == NULL
      || !sw_trip_cash_get (catalogue, trip, &sheet->has_counted, &sheet->counted, error))
    return NULL;
  records = (Records){ catalogue, sales, jobs, questions };
  for (guint i = 0; i < rows->len; i++)
    {
      SwTickLine *line = read_line (&records, &g_array_index (rows, SwTripLineRow, i), error);

      if (line == NULL || !add_line (catalogue, sheet, line, error))
        return NULL;
    }
  return g_steal_pointer (&sheet);
}

gboolean
sw_tick_trip (SwCatalogue *catalogue, SwDay day, gint64 *out_trip, GError **error)
{
  g_autoptr (GPtrArray) trips = sw_trip_list (catalogue, error);

  if (trips == NULL)
    return FALSE;
  *out_trip = sw_trip_period (trips, day);
  return TRUE;
}
