/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trips: rows, their days, the period each money day falls into. Knows nothing of costs or takings.
 */
#include "core/catalogue/trips.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"

void
sw_trip_free (SwTrip *trip)
{
  if (trip == NULL)
    return;
  g_free (trip->title);
  g_free (trip->note);
  g_free (trip);
}

static SwTrip *
trip_from_row (const SwUse *use)
{
  SwTrip *trip = g_new0 (SwTrip, 1);
  trip->id = sw_col_int (use, 0);
  trip->title = sw_col_text (use, 1);
  trip->note = sw_col_text (use, 2);
  trip->first = (SwDay){ (gint32)sw_col_int (use, 3) };
  trip->last = (SwDay){ (gint32)sw_col_int (use, 4) };
  return trip;
}

/* 'self' may overlap itself; 0 for a new one. */
static gboolean
refuse_overlap (SwCatalogue *catalogue, gint64 self, SwDay first, SwDay last, GError **error)
{
  g_auto (SwUse) use
      = sw_db_use (catalogue, SW_STMT_TRIP_OVERLAPS, "iii", (gint64)first.n, (gint64)last.n, self);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  if (!row)
    return TRUE;
  g_autoptr (SwTrip) other = trip_from_row (&use);
  g_autofree char *other_first = sw_day_to_person (other->first);
  g_autofree char *other_last = sw_day_to_person (other->last);
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("These days overlap trip %" PRId64 " '%s' (%s to %s); a day belongs to one "
                  "trip, so give days outside it."),
               other->id, other->title, other_first, other_last);
  return FALSE;
}

static gboolean
check_days (SwDay first, SwDay last, GError **error)
{
  if (last.n >= first.n)
    return TRUE;
  g_autofree char *first_text = sw_day_to_person (first);
  g_autofree char *last_text = sw_day_to_person (last);
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("The last day %s is before the first day %s; give them the other way round."),
               last_text, first_text);
  return FALSE;
}

gboolean
sw_trip_add (SwCatalogue *catalogue, const char *title, SwDay first, SwDay last, gint64 *out_number,
             GError **error)
{
  if (!sw_text_check (title, _ ("The title of the trip"), FALSE, FALSE, error)
      || !check_days (first, last, error))
    return FALSE;
  g_autofree char *tidy = sw_text_tidy (title);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error) || !refuse_overlap (catalogue, 0, first, last, error)
      || !sw_db_run (catalogue, error, SW_STMT_TRIP_INSERT, "tii", tidy, (gint64)first.n,
                     (gint64)last.n))
    return FALSE;
  gint64 number = sw_db_last_id (catalogue);
  g_autofree char *first_text = sw_day_to_person (first);
  g_autofree char *last_text = sw_day_to_person (last);
  g_autofree char *sentence = g_strdup_printf (_ ("Trip %" PRId64 " '%s' added: %s to %s"), number,
                                               tidy, first_text, last_text);
  if (!sw_act_tell (&act, SW_SUBJECT_TRIP, number, "trip.added", NULL, sentence, error)
      || !sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_number != NULL)
    *out_number = number;
  return TRUE;
}

static void
take_text (char **field, char *text)
{
  g_free (*field);
  *field = text;
}

/* "Trip 2 'May' changed: 2026-05-01 to 2026-05-03". */
static gboolean
write_change (SwCatalogue *catalogue, SwAct *act, const SwTrip *trip, GError **error)
{
  if (!sw_db_run (catalogue, error, SW_STMT_TRIP_UPDATE, "ittii", trip->id, trip->title, trip->note,
                  (gint64)trip->first.n, (gint64)trip->last.n))
    return FALSE;
  g_autofree char *first = sw_day_to_person (trip->first);
  g_autofree char *last = sw_day_to_person (trip->last);
  g_autofree char *sentence = g_strdup_printf (_ ("Trip %" PRId64 " '%s' changed: %s to %s"),
                                               trip->id, trip->title, first, last);
  return sw_act_tell (act, SW_SUBJECT_TRIP, trip->id, "trip.changed", NULL, sentence, error)
         && sw_act_commit (act, sentence, error);
}

gboolean
sw_trip_change (SwCatalogue *catalogue, gint64 number, const SwTripChange *change, GError **error)
{
  if ((change->title != NULL
       && !sw_text_check (change->title, _ ("The title of the trip"), FALSE, FALSE, error))
      || (change->note != NULL
          && !sw_text_check (change->note, _ ("The note of the trip"), TRUE, TRUE, error)))
    return FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwTrip) trip = sw_trip_get (catalogue, number, error);
  if (trip == NULL)
    return FALSE;
  if (change->title != NULL)
    take_text (&trip->title, sw_text_tidy (change->title));
  if (change->note != NULL)
    take_text (&trip->note, g_strdup (change->note));
  trip->first = change->first != NULL ? *change->first : trip->first;
  trip->last = change->last != NULL ? *change->last : trip->last;
  return check_days (trip->first, trip->last, error)
         && refuse_overlap (catalogue, number, trip->first, trip->last, error)
         && write_change (catalogue, &act, trip, error);
}

static void
set_no_trip (SwCatalogue *catalogue, gint64 number, GError **error)
{
  g_autoptr (GPtrArray) trips = sw_trip_list (catalogue, error);
  if (trips == NULL)
    return;
  if (trips->len == 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                   _ ("There is no trip %" PRId64 ": the catalogue has no trips yet; add one "
                      "with its first and last day."),
                   number);
      return;
    }
  g_autoptr (GString) names = g_string_new (NULL);
  for (guint i = 0; i < trips->len && i < 12; i++)
    {
      const SwTrip *trip = g_ptr_array_index (trips, i);
      g_string_append_printf (names, "%s%" G_GINT64_FORMAT " '%s'", i == 0 ? "" : ", ", trip->id,
                              trip->title);
    }
  if (trips->len > 12)
    g_string_append (names, _ (" and more"));
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
               _ ("There is no trip %" PRId64 "; there are: %s."), number, names->str);
}

SwTrip *
sw_trip_get (SwCatalogue *catalogue, gint64 number, GError **error)
{
  {
    g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_TRIP_GET, "i", number);
    gboolean row = FALSE;
    if (!sw_db_step (catalogue, &use, &row, error))
      return NULL;
    if (row)
      return trip_from_row (&use);
  }
  set_no_trip (catalogue, number, error);
  return NULL;
}

GPtrArray *
sw_trip_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_TRIP_LIST, "");
  return sw_db_collect (catalogue, &use, (SwRowFunc)trip_from_row, (GDestroyNotify)sw_trip_free,
                        error);
}

gboolean
sw_trip_of_day (SwCatalogue *catalogue, SwDay day, gint64 *out_number, GError **error)
{
  gint64 number = 0;
  gboolean found = FALSE;
  if (!sw_db_get_int (catalogue, &number, &found, error, SW_STMT_TRIP_OF_DAY, "i", (gint64)day.n))
    return FALSE;
  *out_number = found ? number : 0;
  return TRUE;
}

gint64
sw_trip_period (const GPtrArray *trips, SwDay day)
{
  const SwTrip *latest = NULL;
  for (guint i = 0; i < trips->len; i++)
    {
      const SwTrip *trip = g_ptr_array_index (trips, i);
      if (trip->first.n <= day.n && (latest == NULL || trip->first.n > latest->first.n))
        latest = trip;
    }
  return latest != NULL ? latest->id : 0;
}

const SwTrip *
sw_trip_next (const GPtrArray *trips, SwDay day)
{
  const SwTrip *next = NULL;

  for (guint i = 0; i < trips->len; i++)
    {
      const SwTrip *trip = g_ptr_array_index (trips, i);
      if (trip->first.n > day.n && (next == NULL || trip->first.n < next->first.n))
        next = trip;
    }
  return next;
}

gboolean
sw_trip_at_hand (SwCatalogue *catalogue, SwDay day, gint64 *out_number, GError **error)
{
  g_autoptr (GPtrArray) trips = NULL;
  const SwTrip *next;

  if (!sw_trip_of_day (catalogue, day, out_number, error))
    return FALSE;
  if (*out_number != 0)
    return TRUE;
  trips = sw_trip_list (catalogue, error);
  if (trips == NULL)
    return FALSE;
  next = sw_trip_next (trips, day);
  *out_number = next != NULL ? next->id : 0;
  return TRUE;
}
