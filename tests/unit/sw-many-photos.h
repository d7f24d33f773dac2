/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A long trip made through core: as many photos as wanted, without pixels, in stops of one to nine,
 * on walks of two hours; a note to each of some of the things. The same each time. */
#pragma once

#include "core/catalogue/items.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/trips.h"
#include "core/match/notes.h"
#include "sw-test-catalogue.h"

static inline void
sw_many_photos_note (SwTestBed *bed, gint64 trip, GString *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
  SwNotesReport *report = NULL;

  sw_notes_read_bytes (bed->catalogue, trip, bytes, "walk.txt", TRUE, &report, &error);
  assert_no_error (error);
  sw_notes_report_free (report);
}

/* The trip's number. One note for each of the first n_notes stops that are not every seventh. */
static inline gint64
sw_many_photos (SwTestBed *bed, int n, int n_notes)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GRand) dice = g_rand_new_with_seed (2026);
  g_autoptr (GString) notes = g_string_new ("time,place,item\n");
  g_auto (SwAct) act = SW_ACT_INIT;
  SwCivil ten = { 2026, 6, 1, 10, 0, 0, 0 };
  gint64 trip = 0, camera = 0, bring_in = 0, at = sw_civil_to_us (ten);
  int left = 0, stop = 0;

  sw_trip_add (bed->catalogue, "A long stay", sw_day_from_ymd (2026, 6, 1),
               sw_day_from_ymd (2026, 12, 1), &trip, &error);
  assert_no_error (error);
  sw_camera_ensure (bed->catalogue, "Orchard", "Pocket", "", &camera, &error);
  assert_no_error (error);
  sw_bring_in_open (bed->catalogue, "/card", &bring_in, &error);
  assert_no_error (error);
  assert_true (sw_act_begin (&act, bed->catalogue, &error));
  for (int k = 0; k < n; k++)
    {
      g_autofree char *hash = g_strdup_printf ("%032x", k + 1);
      g_autofree char *file = g_strdup_printf ("card/P%06d.jpg", k + 1);

      if (left-- == 0)
        {
          left = g_rand_int_range (dice, 0, 9);
          at += g_rand_int_range (dice, 25, 240) * SW_US_PER_SECOND;
          stop++;
          /* Two hours a walk, then the next day. */
          if (stop % 50 == 0)
            at += 22 * 3600 * SW_US_PER_SECOND;
          if (n_notes > 0 && stop % 7 != 0)
            {
              SwCivil then = sw_civil_from_us (at);
              g_string_append_printf (notes, "%04d-%02d-%02d %02d:%02d:%02d,Shed %d,Thing %d\n",
                                      then.year, then.month, then.day, then.hour, then.minute,
                                      then.second, stop / 20 % 6 + 1, stop);
              n_notes--;
            }
        }
      else
        at += g_rand_int_range (dice, 2, 14) * SW_US_PER_SECOND;
      SwPhoto photo = { .kind = (char *)"photo",
                        .format = (char *)"jpeg",
                        .file = file,
                        .stored = file,
                        .size = 1,
                        .hash = hash,
                        .trip = trip,
                        .camera = camera,
                        .bring_in = bring_in,
                        .has_clock = TRUE,
                        .clock_us = at,
                        .time_source = (char *)"original",
                        .orientation = 1,
                        .remark = (char *)"" };
      sw_photo_add (bed->catalogue, &photo, &error);
      assert_no_error (error);
    }
  sw_act_commit (&act, "Photos", &error);
  assert_no_error (error);
  if (notes->len > 20)
    sw_many_photos_note (bed, trip, notes);
  return trip;
}
