/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looks at folders and file numbers alone. Must not part the photos: whoever asks decides. */
#include "core/match/camera-series.h"

#include <string.h>

/* A counter that starts again in a new folder jumps back once. */
#define JUMPS_LEAST 2

typedef struct
{
  gint64 clock_us, number;
  guint series; /* index into the names of series */
  int photo;
} Entry;

/* The digits that end the name without its ending: "IMG_0412.jpg" is 412. */
static gboolean
file_number (const char *file, gint64 *out_number)
{
  const char *slash = strrchr (file, '/'), *name = slash ? slash + 1 : file;
  const char *dot = strrchr (name, '.'), *end = dot ? dot : name + strlen (name), *digits = end;
  g_autofree char *text = NULL;

  while (digits > name && g_ascii_isdigit (digits[-1]))
    digits--;
  text = g_strndup (digits, (gsize)(end - digits));
  return g_ascii_string_to_signed (text, 10, 0, 999999999, out_number, NULL);
}

static guint
series_of (GHashTable *series, const SwSeriesPhoto *photo)
{
  g_autofree char *folder = g_path_get_dirname (photo->file);
  char *key = g_strdup_printf ("%" G_GINT64_FORMAT " %s", photo->bring_in, folder);
  gpointer index = NULL;

  if (g_hash_table_lookup_extended (series, key, NULL, &index))
    {
      g_free (key);
      return GPOINTER_TO_UINT (index);
    }
  g_hash_table_insert (series, key, GUINT_TO_POINTER (g_hash_table_size (series)));
  return g_hash_table_size (series) - 1;
}

static int
compare_entries (gconstpointer a, gconstpointer b)
{
  const Entry *x = a, *y = b;

  if (x->clock_us != y->clock_us)
    return x->clock_us < y->clock_us ? -1 : 1;
  return (x->number > y->number) - (x->number < y->number);
}

static GArray *
in_time_order (const SwSeriesPhoto *photos, gsize n, guint *out_series)
{
  g_autoptr (GHashTable) series = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  GArray *entries = g_array_new (FALSE, FALSE, sizeof (Entry));

  for (gsize k = 0; k < n; k++)
    {
      Entry entry = { .clock_us = photos[k].clock_us, .photo = (int)k };

      if (!file_number (photos[k].file, &entry.number))
        continue;
      entry.series = series_of (series, &photos[k]);
      g_array_append_val (entries, entry);
    }
  g_array_sort (entries, compare_entries);
  *out_series = g_hash_table_size (series);
  return entries;
}

int
sw_camera_series_second (const SwSeriesPhoto *photos, gsize n)
{
  guint n_series = 0;
  g_autoptr (GArray) entries = in_time_order (photos, n, &n_series);
  g_autofree int *first = g_new (int, n_series + 1);
  g_autofree gint64 *last = g_new (gint64, n_series + 1);
  int between = 0, within = 0, second = -1;

  for (guint s = 0; s < n_series; s++)
    {
      first[s] = -1;
      last[s] = -1;
    }
  for (guint k = 0; k < entries->len; k++)
    {
      const Entry *here = &g_array_index (entries, Entry, k);
      const Entry *before = k > 0 ? here - 1 : NULL;

      within += here->number < last[here->series];
      last[here->series] = here->number;
      if (first[here->series] < 0)
        first[here->series] = (int)k;
      if (before == NULL || before->series == here->series || before->number < here->number)
        continue;
      if (second < 0)
        second = first[here->series] > first[before->series] ? first[here->series]
                                                             : first[before->series];
      between++;
    }
  return between >= JUMPS_LEAST && between > 2 * within
             ? g_array_index (entries, Entry, second).photo
             : -1;
}
