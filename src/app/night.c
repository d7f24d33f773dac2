/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays what was typed over what was read, and moves the cursor on. */
#include "app/night.h"

#include "app/text.h"

/* What a key did to one offer, newest last; the newest of an offer counts. */
typedef struct
{
  guint ticket;
  gint64 deal;
  guint with_read; /* the first read that is sure to hold it; 0: not landed yet */
  SwNightStand stand;
} Overlay;

struct _SwNight
{
  GPtrArray *rows; /* SwRunRow */
  GArray *overlays;
  guint tickets, reads;
  gint64 cursor;
};

SwNight *
sw_night_new (void)
{
  SwNight *night = g_new0 (SwNight, 1);
  night->rows = g_ptr_array_new ();
  night->overlays = g_array_new (FALSE, FALSE, sizeof (Overlay));
  return night;
}

void
sw_night_free (SwNight *night)
{
  if (night == NULL)
    return;
  g_ptr_array_unref (night->rows);
  g_array_unref (night->overlays);
  g_free (night);
}

guint
sw_night_count (const SwNight *night)
{
  return night->rows->len;
}

const SwRunRow *
sw_night_row (const SwNight *night, guint i)
{
  return g_ptr_array_index (night->rows, i);
}

int
sw_night_find (const SwNight *night, gint64 deal)
{
  for (guint i = 0; i < night->rows->len; i++)
    if (sw_night_row (night, i)->deal == deal)
      return (int)i;
  return -1;
}

/* ---- how a row stands ---- */

static SwNightStand
stand_as_read (const SwRunRow *row)
{
  SwNightStand stand = { .booked = row->result != SW_RESULT_RUNNING,
                         .result = row->result,
                         .amount = row->amount };
  if (stand.booked || !row->has_caught)
    return stand;
  stand.caught = TRUE;
  stand.result = row->caught.result;
  stand.amount = row->caught.amount;
  stand.has_verdict = sw_verdict_parse (row->caught.verdict, &stand.verdict);
  return stand;
}

SwNightStand
sw_night_stand (const SwNight *night, guint i)
{
  const SwRunRow *row = sw_night_row (night, i);

  for (guint at = night->overlays->len; at-- > 0;)
    {
      const Overlay *overlay = &g_array_index (night->overlays, Overlay, at);
      if (overlay->deal == row->deal && row->result == SW_RESULT_RUNNING)
        return overlay->stand;
    }
  return stand_as_read (row);
}

SwNightCounts
sw_night_counts (const SwNight *night)
{
  SwNightCounts counts = { .offers = night->rows->len };

  for (guint i = 0; i < night->rows->len; i++)
    {
      SwNightStand stand = sw_night_stand (night, i);
      counts.sold += stand.result == SW_RESULT_SOLD;
      counts.no_sale += stand.result == SW_RESULT_NO_SALE;
      counts.open += stand.result == SW_RESULT_RUNNING;
      counts.unconfirmed += stand.caught;
    }
  return counts;
}

/* ---- the cursor ---- */

static gboolean
is_open (SwNightStand stand)
{
  return stand.result == SW_RESULT_RUNNING;
}

static gboolean
lacks_verdict (SwNightStand stand)
{
  return stand.caught && stand.result == SW_RESULT_NO_SALE && !stand.has_verdict;
}

/* The first row after 'from' that is so, else the first of all; -1 for none. */
static int
next_that (const SwNight *night, int from, gboolean (*is_so) (SwNightStand stand))
{
  int n = (int)night->rows->len;

  for (int step = 1; step <= n; step++)
    {
      int i = (from + step) % n;
      if (is_so (sw_night_stand (night, (guint)i)))
        return i;
    }
  return -1;
}

static void
go_on (SwNight *night, int from, gboolean (*is_so) (SwNightStand stand))
{
  int to = next_that (night, from, is_so);
  if (to >= 0)
    night->cursor = sw_night_row (night, (guint)to)->deal;
}

gint64
sw_night_get_cursor (const SwNight *night)
{
  return night->cursor;
}

void
sw_night_set_cursor (SwNight *night, gint64 deal)
{
  if (sw_night_find (night, deal) >= 0)
    night->cursor = deal;
}

/* ---- reads ---- */

guint
sw_night_begin_read (SwNight *night)
{
  return ++night->reads;
}

void
sw_night_set_rows (SwNight *night, GPtrArray *rows, guint read)
{
  g_ptr_array_ref (rows);
  g_ptr_array_unref (night->rows);
  night->rows = rows;
  for (guint i = night->overlays->len; i-- > 0;)
    {
      const Overlay *overlay = &g_array_index (night->overlays, Overlay, i);
      if (overlay->with_read != 0 && overlay->with_read <= read)
        g_array_remove_index (night->overlays, i);
    }
  if (sw_night_find (night, night->cursor) < 0)
    {
      night->cursor = rows->len > 0 ? sw_night_row (night, 0)->deal : 0;
      if (rows->len > 0)
        go_on (night, -1, is_open);
    }
}

/* ---- keys ---- */

static guint
lay_over (SwNight *night, gint64 deal, SwNightStand stand)
{
  Overlay overlay = { .ticket = ++night->tickets, .deal = deal, .stand = stand };

  overlay.stand.on_its_way = TRUE;
  g_array_append_val (night->overlays, overlay);
  return overlay.ticket;
}

static gboolean
can_change (const SwNight *night, gint64 deal, int *out_i, SwNightStand *out_stand)
{
  *out_i = sw_night_find (night, deal);
  if (*out_i < 0)
    return FALSE;
  *out_stand = sw_night_stand (night, (guint)*out_i);
  return !out_stand->booked;
}

guint
sw_night_catch (SwNight *night, gint64 deal, SwResult result, SwMoney amount)
{
  SwNightStand stand;
  guint ticket;
  int i;

  if (!can_change (night, deal, &i, &stand))
    return 0;
  ticket = lay_over (night, deal,
                     (SwNightStand){ .caught = TRUE, .result = result, .amount = amount });
  go_on (night, i, is_open);
  return ticket;
}

guint
sw_night_verdict (SwNight *night, gint64 deal, SwVerdict verdict)
{
  SwNightStand stand;
  guint ticket;
  int i;

  if (!can_change (night, deal, &i, &stand) || (stand.caught && stand.result == SW_RESULT_SOLD))
    return 0;
  ticket = lay_over (
      night, deal,
      (SwNightStand){
          .caught = TRUE, .result = SW_RESULT_NO_SALE, .has_verdict = TRUE, .verdict = verdict });
  go_on (night, i, stand.caught ? lacks_verdict : is_open);
  return ticket;
}

guint
sw_night_take_back (SwNight *night, gint64 deal)
{
  SwNightStand stand;
  int i;

  if (!can_change (night, deal, &i, &stand) || !stand.caught)
    return 0;
  night->cursor = deal;
  return lay_over (night, deal, (SwNightStand){ .result = SW_RESULT_RUNNING });
}

void
sw_night_landed (SwNight *night, guint ticket, gboolean taken)
{
  for (guint i = 0; i < night->overlays->len; i++)
    {
      Overlay *overlay = &g_array_index (night->overlays, Overlay, i);
      if (overlay->ticket != ticket)
        continue;
      if (taken)
        {
          overlay->with_read = night->reads + 1;
          overlay->stand.on_its_way = FALSE;
        }
      else
        g_array_remove_index (night->overlays, i);
      return;
    }
}

/* ---- time ---- */

#define MINUTE 60
#define HOUR (60 * MINUTE)
#define DAY (24 * HOUR)
/* The longest that a countdown stands while nothing says that the clock jumped. */
#define LONGEST_TICK 10

/* Whole seconds left, the one that runs counted; 0: it is over. */
static gint64
seconds_left (SwInstant closes, SwInstant now)
{
  gint64 us = closes.us - now.us;
  return us > 0 ? (us + SW_US_PER_SECOND - 1) / SW_US_PER_SECOND : 0;
}

guint
sw_night_next_tick (const SwNight *night, SwInstant now)
{
  guint tick = 0;

  for (guint i = 0; i < night->rows->len; i++)
    {
      const SwRunRow *row = sw_night_row (night, i);
      gint64 left = row->has_closes ? seconds_left (row->closes, now) : 0;
      if (left > HOUR + LONGEST_TICK)
        tick = tick == 0 ? LONGEST_TICK : tick;
      else if (left > 0)
        return 1;
    }
  return tick;
}

char *
sw_night_countdown (SwInstant closes, SwInstant now)
{
  gint64 left = seconds_left (closes, now);

  if (left == 0)
    return g_strdup (_ ("closed"));
  if (left <= HOUR)
    return g_strdup_printf ("%d:%02d", (int)(left / MINUTE), (int)(left % MINUTE));
  if (left < 2 * DAY)
    return g_strdup_printf (_ ("%d h %02d min"), (int)(left / HOUR), (int)(left % HOUR / MINUTE));
  return g_strdup_printf (_ ("%d days"), (int)(left / DAY));
}

char *
sw_night_countdown_words (SwInstant closes, SwInstant now)
{
  gint64 left = seconds_left (closes, now);
  g_autofree char *text = sw_night_countdown (closes, now);
  g_autofree char *minutes = sw_text_count (left / MINUTE, "%d minute", "%d minutes");
  g_autofree char *seconds = sw_text_count (left % MINUTE, "%d second", "%d seconds");

  if (left == 0)
    return g_steal_pointer (&text);
  if (left > HOUR)
    return g_strdup_printf (_ ("closes in %s"), text);
  if (left >= MINUTE)
    return g_strdup_printf (_ ("closes in %s %s"), minutes, seconds);
  return g_strdup_printf (_ ("closes in %s"), seconds);
}

/* ---- letters ---- */

static const char verdict_keys[SW_N_VERDICTS] = {
  [SW_VERDICT_AGAIN] = 'a',     [SW_VERDICT_ELSEWHERE] = 'e', [SW_VERDICT_BRING_HOME] = 'h',
  [SW_VERDICT_FOR_SCRAP] = 's', [SW_VERDICT_BREAK_UP] = 'b',  [SW_VERDICT_KEEP] = 'k',
  [SW_VERDICT_GIVE_AWAY] = 'g', [SW_VERDICT_LATER] = 'l',
};

gboolean
sw_night_verdict_of_key (guint letter, SwVerdict *out_verdict)
{
  for (int i = 0; i < SW_N_VERDICTS; i++)
    if ((guint)verdict_keys[i] == letter)
      {
        *out_verdict = (SwVerdict)i;
        return TRUE;
      }
  return FALSE;
}

char
sw_night_key_of_verdict (SwVerdict verdict)
{
  return verdict_keys[verdict];
}
