/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A catalogue with two trips and a memory card beside it, for the tests of what brings photos in.
 * Belongs to the tests alone. */
#pragma once

#include "sw-test-catalogue.h"

#include "core/catalogue/trips.h"
#include "core/intake/bring-in.h"
#include "exif-writer.h"

typedef struct
{
  SwTestBed bed;
  char *card;
  SwBringInReport *report;
} Bed;

static inline SwInstant
fixed_clock (gpointer data)
{
  return (SwInstant){ G_GINT64_CONSTANT (1795608000000000) }; /* 2026-11-25T12:00:00Z */
}

static inline Bed *
sw_test_card_new (void)
{
  Bed *b = g_new0 (Bed, 1);
  g_autoptr (GError) error = NULL;

  b->bed = sw_test_bed_new ();
  sw_catalogue_set_clock (b->bed.catalogue, fixed_clock, NULL);
  b->card = g_build_filename (b->bed.folder, "card", NULL);
  assert_int_equal (g_mkdir (b->card, 0755), 0);
  assert_true (sw_trip_add (b->bed.catalogue, "First", sw_day_from_ymd (2026, 4, 3),
                            sw_day_from_ymd (2026, 4, 6), NULL, &error));
  assert_true (sw_trip_add (b->bed.catalogue, "Second", sw_day_from_ymd (2026, 5, 1),
                            sw_day_from_ymd (2026, 5, 4), NULL, &error));
  return b;
}

static inline void
sw_test_card_free (Bed *b)
{
  sw_bring_in_report_free (b->report);
  sw_test_bed_clear (&b->bed);
  g_free (b->card);
  g_free (b);
}

static inline void
put (Bed *b, const char *name, const void *bytes, gsize n)
{
  g_autofree char *path = g_build_filename (b->card, name, NULL);
  g_autofree char *folder = g_path_get_dirname (path);
  FILE *file;

  assert_int_equal (g_mkdir_with_parents (folder, 0755), 0);
  file = fopen (path,
                "wb"); /* not by way of a longer temporary name: names are tried to their limit */
  assert_non_null (file);
  assert_int_equal (fwrite (bytes, 1, n, file), n);
  assert_int_equal (fclose (file), 0);
}

/* A photo that differs from every other by its serial. */
static inline void
photo (Bed *b, const char *name, const char *time, int serial)
{
  g_autofree char *text = g_strdup_printf ("s%d", serial);
  ExifFields f = { .orientation = 1, .make = "Kettle & Lamp", .model = "KL-7", .original = time };
  g_autoptr (GByteArray) file = NULL;

  f.original_sub = text + 1; /* keeps the bytes apart without a second camera */
  file = photo_file_write (FORM_JPEG, &f);
  put (b, name, file->data, file->len);
}

/* A picture: scene 1 or another, at a quality. */
static inline void
put_scene (Bed *b, const char *name, int scene, int quality, const char *time)
{
  g_autofree guint8 *rgb = g_malloc0 (96 * 96 * 3);
  ExifFields f = { .orientation = 1, .original = time };
  g_autoptr (GByteArray) block = exif_block_write (&f, FALSE);
  g_autoptr (GByteArray) file = NULL;

  for (int i = 0; i < 96 * 96; i++)
    {
      int x = i % 96, y = i / 96;
      guint8 v
          = (guint8)(scene == 1 ? 40 + (x / 12 * 37 + y / 12 * 61) % 180 : 250 - (x * y) % 200);

      memset (rgb + 3 * i, v, 3);
    }
  file = photo_jpeg_write (block, rgb, 96, 96, quality);
  put (b, name, file->data, file->len);
}
