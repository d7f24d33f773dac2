/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A fresh catalogue in a folder of its own, with what records tests need around it: a clock that
 * moves only when told, places, trips, photos by one call each. Belongs to the tests of the
 * catalogue's records. */
#pragma once

#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/items.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/places.h"
#include "core/catalogue/steps.h"
#include "core/catalogue/trips.h"
#include "sw-test-catalogue.h"

typedef struct
{
  char *folder, *path;
  SwCatalogue *catalogue;
} Records;

/* 2026-04-10T00:00:00Z, noon of the same day in the zone used. */
#define RECORDS_NOW ((SwInstant){ G_GINT64_CONSTANT (1775779200) * SW_US_PER_SECOND })

static inline SwInstant
records_now (gpointer data)
{
  return RECORDS_NOW;
}

static inline void
records_open (Records *records)
{
  GError *error = NULL;
  records->catalogue = sw_catalogue_open (records->path, SW_OPEN_READ_WRITE, &error);
  assert_no_error (error);
  sw_catalogue_set_clock (records->catalogue, records_now, NULL);
}

static inline Records
records_new (void)
{
  GError *error = NULL;
  Records records = { 0 };
  records.folder = g_dir_make_tmp ("records-XXXXXX", &error);
  assert_no_error (error);
  records.path = g_build_filename (records.folder, "Cider works.shedwalk", NULL);
  records.catalogue
      = sw_catalogue_create (records.path, "Cider works", "NZD", "Pacific/Auckland", &error);
  assert_no_error (error);
  sw_catalogue_set_clock (records.catalogue, records_now, NULL);
  return records;
}

static inline void
records_reopen (Records *records)
{
  g_clear_pointer (&records->catalogue, sw_catalogue_close);
  records_open (records);
}

static inline void
records_clear (Records *records)
{
  g_clear_pointer (&records->catalogue, sw_catalogue_close);
  sw_test_remove_tree (records->folder);
  g_clear_pointer (&records->folder, g_free);
  g_clear_pointer (&records->path, g_free);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Records, records_clear)

static inline SwDay
records_day (const char *text)
{
  GError *error = NULL;
  SwDay day = { 0 };
  sw_day_parse (text, &day, &error);
  assert_no_error (error);
  return day;
}

static inline gint64
records_place (Records *records, const char *path)
{
  GError *error = NULL;
  gint64 id = 0;
  sw_place_ensure (records->catalogue, path, &id, NULL, &error);
  assert_no_error (error);
  return id;
}

static inline gint64
records_trip (Records *records, const char *first, const char *last)
{
  GError *error = NULL;
  gint64 number = 0;
  sw_trip_add (records->catalogue, "A stay", records_day (first), records_day (last), &number,
               &error);
  assert_no_error (error);
  return number;
}

/* In 'Press house', without a trip; asking < 0 for none. */
static inline gint64
records_item (Records *records, const char *name, gint64 count, gint64 asking)
{
  GError *error = NULL;
  gint64 number = 0;
  SwMoney money = sw_money (asking);
  SwItemNew item = { .name = name,
                     .place = records_place (records, "Press house"),
                     .count = count,
                     .asking = asking >= 0 ? &money : NULL };
  sw_item_add (records->catalogue, &item, &number, &error);
  assert_no_error (error);
  return number;
}

static inline SwItem *
records_get (Records *records, gint64 number)
{
  GError *error = NULL;
  SwItem *item = sw_item_get (records->catalogue, number, &error);
  assert_no_error (error);
  return item;
}

/* A photo without bytes of its own: hash and stored path follow from 'file'. */
static inline gint64
records_photo (Records *records, const char *file)
{
  GError *error = NULL;
  g_autofree char *hash = g_compute_checksum_for_string (G_CHECKSUM_MD5, file, -1);
  g_autofree char *stored = g_strdup_printf ("photos/trip-00/%s.jpg", hash);
  gint64 bring_in = 0;
  sw_bring_in_open (records->catalogue, "/media/card", &bring_in, &error);
  assert_no_error (error);
  SwPhoto photo = { .kind = (char *)"photo",
                    .format = (char *)"jpeg",
                    .file = (char *)file,
                    .stored = stored,
                    .size = 3,
                    .hash = hash,
                    .bring_in = bring_in,
                    .time_source = (char *)"file",
                    .orientation = 1,
                    .remark = (char *)"" };
  sw_photo_add (records->catalogue, &photo, &error);
  assert_no_error (error);
  return photo.id;
}

/* As a bring-in that was taken back leaves its photos. */
static inline void
records_put_aside (Records *records, gint64 photo)
{
  g_autofree char *sql = g_strdup_printf ("UPDATE photo SET aside = 1 WHERE id = %" PRId64, photo);
  sw_test_exec (records->catalogue, sql);
}
