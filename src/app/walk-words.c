/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads a trip's walk on the catalogue thread and puts its times into words. */
#include "app/walk-words.h"

#include "app/text.h"
#include "core/catalogue/walk-line.h"

/* A place that was passed more often is named by its first times. */
#define MOST_TIMES 3

void
sw_walk_words_free (SwWalkWords *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->places);
  g_hash_table_unref (self->times);
  g_free (self);
}

static char *
time_of (SwCatalogue *catalogue, SwInstant at)
{
  SwCivil civil = sw_civil_from_instant (at, sw_catalogue_zone (catalogue), NULL);
  g_autoptr (GDateTime) when = g_date_time_new_utc (civil.year, civil.month, civil.day, civil.hour,
                                                    civil.minute, civil.second);

  return when != NULL ? g_date_time_format (when, "%a %-H:%M") : g_strdup ("");
}

static void
add_time (GHashTable *times, gint64 place, const char *time, guint nth)
{
  const char *so_far = g_hash_table_lookup (times, &place);

  if (nth > MOST_TIMES + 1)
    return;
  g_hash_table_insert (times, g_memdup2 (&place, sizeof place),
                       so_far == NULL     ? g_strdup (time)
                       : nth > MOST_TIMES ? g_strdup_printf (_ ("%s and more"), so_far)
                                          : g_strdup_printf ("%s, %s", so_far, time));
}

static guint
count_before (const GArray *places, gint64 place)
{
  guint n = 0;

  for (guint i = 0; i < places->len; i++)
    n += g_array_index (places, gint64, i) == place;
  return n;
}

gpointer
sw_walk_words_read (SwCatalogue *catalogue, gpointer trip, GCancellable *cancellable,
                    GError **error)
{
  g_autoptr (GArray) legs = sw_walk_line (catalogue, *(const gint64 *)trip, error);
  SwWalkWords *self;

  if (legs == NULL)
    return NULL;
  self = g_new0 (SwWalkWords, 1);
  self->places = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->times = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  for (guint i = 0; i < legs->len; i++)
    {
      const SwWalkLeg *leg = &g_array_index (legs, SwWalkLeg, i);
      g_autofree char *time = time_of (catalogue, leg->from);
      g_array_append_val (self->places, leg->place);
      add_time (self->times, leg->place, time, count_before (self->places, leg->place));
    }
  return self;
}

const char *
sw_walk_words_of (const SwWalkWords *self, gint64 place)
{
  return self != NULL ? g_hash_table_lookup (self->times, &place) : NULL;
}
