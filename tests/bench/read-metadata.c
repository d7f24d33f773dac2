/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For tests/bench/run: reads the metadata of all files of a folder, as the look before a bring-in
 * does, and prints a line each; or makes the thumbnails of a catalogue. */
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

int
main (int argc, char **argv)
{
  if (argc == 4 && strcmp (argv[1], "--thumbs") == 0)
    return make_thumbs (argv[2], argv[3]);
  return argc == 2 ? read_folder (argv[1]) : 2;
}
