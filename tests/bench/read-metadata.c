/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For tests/bench/run: reads the metadata of all files of a folder, as the look before a bring-in
 * does, and prints a line each; or makes the thumbnails of a catalogue, or gets what there is to
 * show of its photos at once, as the window's cells do. */
#include <stdio.h>
#include <string.h>

#include "core/base/each.h"
#include "core/catalogue/catalogue.h"
#include "core/intake/metadata.h"
#include "core/intake/thumbs.h"

typedef struct
{
  const char *folder;
  GPtrArray *names;
  SwZone *zone;
  SwInstant now;
  SwPhotoMeta *metas;
} Reading;

static gboolean
read_one (guint i, gpointer data)
{
  Reading *r = data;
  g_autofree char *path = g_build_filename (r->folder, r->names->pdata[i], NULL);

  sw_photo_meta_read_file (path, r->zone, r->now, &r->metas[i], NULL);
  return TRUE;
}

static void
print_one (const char *name, const SwPhotoMeta *meta)
{
  const SwCivil *c = &meta->clock;

  printf ("%s\t%04d-%02d-%02dT%02d:%02d:%02d.%06d\t%d\t%s\t%s\t%d\t%.6f\t%.6f\n", name, c->year,
          c->month, c->day, c->hour, c->minute, c->second, c->micro, meta->offset_s,
          meta->make != NULL ? meta->make : "", meta->model != NULL ? meta->model : "",
          meta->orientation, meta->latitude, meta->longitude);
}

static int
read_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (SwZone) zone = sw_zone_new ("Pacific/Auckland", NULL);
  Reading r = { folder, names, zone, { g_get_real_time () }, NULL };
  const char *name;

  if (dir == NULL || zone == NULL)
    return 1;
  while ((name = g_dir_read_name (dir)) != NULL)
    g_ptr_array_add (names, g_strdup (name));
  r.metas = g_new0 (SwPhotoMeta, names->len);
  sw_each (names->len, SW_META_THREADS, read_one, &r);
  for (guint i = 0; i < names->len; i++)
    {
      print_one (names->pdata[i], &r.metas[i]);
      sw_photo_meta_clear (&r.metas[i]);
    }
  g_free (r.metas);
  return 0;
}

static int
make_thumbs (const char *program, const char *folder)
{
  g_autoptr (SwCatalogue) catalogue = sw_catalogue_open (folder, SW_OPEN_READ_WRITE, NULL);
  g_autoptr (SwThumbs) thumbs = sw_thumbs_new (folder, program);
  int made = 0;

  if (catalogue == NULL
      || !sw_thumbs_make_missing (thumbs, catalogue, 0, NULL, NULL, NULL, &made, NULL))
    return 1;
  printf ("%d\n", made);
  return 0;
}

/* As many as the window asks for at a time (see app/pictures.c), by as many threads. */
#define RUN 16
/* Few photos are shown again and again: nothing of them is stored, so that it is the same work. */
#define LEAST_SHOWN 1000

typedef struct
{
  SwThumbs *thumbs;
  GPtrArray *photos; /* of SwPhoto */
  int shown;         /* atomic: got something to show, and of it what stands in */
  int standing_in;
} Showing;

static gboolean
show_run (guint i, gpointer data)
{
  Showing *s = data;
  SwThumbFirst first[RUN] = { 0 };
  guint n = MIN (s->photos->len - i * RUN, RUN);

  for (guint k = 0; k < n; k++)
    {
      const SwPhoto *photo = s->photos->pdata[i * RUN + k];

      first[k] = (SwThumbFirst){ .hash = photo->hash,
                                 .stored = photo->stored,
                                 .orientation = photo->orientation };
    }
  sw_thumbs_first (s->thumbs, first, n, SW_THUMB_SMALL);
  for (guint k = 0; k < n; k++)
    {
      g_atomic_int_add (&s->shown, first[k].jpeg != NULL || first[k].stand_in != NULL);
      g_atomic_int_add (&s->standing_in, first[k].stand_in != NULL);
      g_clear_pointer (&first[k].jpeg, g_bytes_unref);
      g_clear_pointer (&first[k].stand_in, sw_picture_free);
    }
  return TRUE;
}

/* Prints how many were shown a second, the helper's start counted in; fails unless every photo has
 * something to show, and all of that stands in. */
static int
show_first (const char *program, const char *folder)
{
  g_autoptr (SwCatalogue) catalogue = sw_catalogue_open (folder, SW_OPEN_READ_ONLY, NULL);
  g_autoptr (GPtrArray) photos
      = catalogue != NULL ? sw_photo_list (catalogue, 0, FALSE, NULL) : NULL;
  g_autoptr (SwThumbs) thumbs = sw_thumbs_new (folder, program);
  Showing s = { thumbs, photos, 0, 0 };
  gint64 begun = g_get_monotonic_time ();
  int asked = 0;

  if (photos == NULL || photos->len == 0)
    return 1;
  for (; asked < LEAST_SHOWN; asked += (int)photos->len)
    sw_each ((photos->len + RUN - 1) / RUN, CLAMP (g_get_num_processors (), 1, 4), show_run, &s);
  printf ("%.1f\n", asked * (double)G_USEC_PER_SEC / (double)(g_get_monotonic_time () - begun));
  return s.shown == asked && s.standing_in == asked ? 0 : 1;
}

int
main (int argc, char **argv)
{
  if (argc == 4 && strcmp (argv[1], "--first") == 0)
    return show_first (argv[2], argv[3]);
  if (argc == 4 && strcmp (argv[1], "--thumbs") == 0)
    return make_thumbs (argv[2], argv[3]);
  return argc == 2 ? read_folder (argv[1]) : 2;
}
