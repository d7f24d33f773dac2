/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A catalogue with a walk to pair: three things of three photos each, notes in a line. */
#pragma once

#include "sw-test-catalogue.h"

#include "core/catalogue/items.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/places.h"
#include "core/catalogue/trips.h"
#include "core/match/notes.h"
#include "core/match/pairing.h"

typedef struct
{
  SwTestBed bed;
  gint64 trip, camera;
  gint64 bring_in;
  int n;
} SwTestWalk;

/* The trip and its camera in the catalogue that is there. */
static inline void
sw_test_walk_begin (SwTestWalk *walk)
{
  g_autoptr (GError) error = NULL;

  sw_trip_add (walk->bed.catalogue, "Second walk", sw_day_from_ymd (2026, 6, 20),
               sw_day_from_ymd (2026, 6, 22), &walk->trip, &error);
  assert_no_error (error);
  sw_camera_ensure (walk->bed.catalogue, "Orchard", "Pocket", "", &walk->camera, &error);
  assert_no_error (error);
  sw_bring_in_open (walk->bed.catalogue, "/card", &walk->bring_in, &error);
  assert_no_error (error);
}

static inline void
sw_test_walk_init (SwTestWalk *walk)
{
  *walk = (SwTestWalk){ .bed = sw_test_bed_new () };
  sw_test_walk_begin (walk);
}

static inline gint64
sw_test_walk_photo (SwTestWalk *walk, int seconds)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *hash = g_strdup_printf ("%032x", ++walk->n);
  g_autofree char *file = g_strdup_printf ("card/P%04d.jpg", walk->n);
  SwCivil ten = { 2026, 6, 20, 10, 0, 0, 0 };
  SwPhoto photo = { .kind = (char *)"photo",
                    .format = (char *)"jpeg",
                    .file = file,
                    .stored = file,
                    .size = 1,
                    .hash = hash,
                    .trip = walk->trip,
                    .camera = walk->camera,
                    .bring_in = walk->bring_in,
                    .has_clock = TRUE,
                    .clock_us = sw_civil_to_us (ten) + seconds * SW_US_PER_SECOND,
                    .time_source = (char *)"original",
                    .orientation = 1,
                    .remark = (char *)"" };

  sw_photo_add (walk->bed.catalogue, &photo, &error);
  assert_no_error (error);
  return photo.id;
}

/* Three things at 10:00, 10:02 and 10:04, three photos each, by a clock that is 'fast' seconds
 * ahead. */
static inline void
sw_test_walk_three_things (SwTestWalk *walk, int fast)
{
  static const int times[] = { 0, 6, 12, 120, 127, 133, 250, 255, 262 };

  for (gsize k = 0; k < G_N_ELEMENTS (times); k++)
    sw_test_walk_photo (walk, times[k] + fast);
}

static inline void
sw_test_walk_notes (SwTestWalk *walk, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  SwNotesReport *report = NULL;

  sw_notes_read_bytes (walk->bed.catalogue, walk->trip, bytes, "walk.txt", TRUE, &report, &error);
  assert_no_error (error);
  sw_notes_report_free (report);
}

static inline SwPairing *
sw_test_walk_pair (SwTestWalk *walk)
{
  g_autoptr (GError) error = NULL;
  SwPairing *pairing = sw_pairing_run (walk->bed.catalogue, walk->trip, NULL, &error);

  assert_no_error (error);
  assert_non_null (pairing);
  return pairing;
}

#define THREE_NOTES                                                                                \
  "10:00:30 Loft: ladder\n10:02:28 Loft: basket\n10:04:40 Press house: screw press\n"
