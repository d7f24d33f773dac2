/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands on photos: bring them in, list them. */
#include "cli/command.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/trips.h"
#include "core/intake/bring-in.h"

static char *bring_trip;
static gboolean bring_strict;

static const GOptionEntry bring_options[] = {
  { "trip", 0, 0, G_OPTION_ARG_FILENAME, &bring_trip,
    N_ ("All belong to this trip (else to the trip whose days hold them)"), "N" },
  { "strict", 0, 0, G_OPTION_ARG_NONE, &bring_strict, N_ ("Exit 1 on any remark"), NULL },
  { NULL },
};

static void
remarks_to_json (JsonBuilder *builder, const char *name, const GPtrArray *remarks)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_array (builder);
  for (guint i = 0; i < remarks->len; i++)
    {
      const SwBringInRemark *remark = g_ptr_array_index (remarks, i);
      json_builder_begin_object (builder);
      sw_json_text (builder, "file", remark->file);
      sw_json_text (builder, "remark", remark->remark);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
report_to_json (const SwBringInReport *report)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  sw_json_int (builder, "taken", report->taken);
  sw_json_int (builder, "already_there", report->already_there);
  sw_json_int (builder, "not_photos", report->not_photos);
  sw_json_int (builder, "companions", report->companions);
  remarks_to_json (builder, "remarked", report->remarked);
  remarks_to_json (builder, "refused", report->refused);
  json_builder_set_member_name (builder, "look_alikes");
  json_builder_begin_array (builder);
  for (guint i = 0; i < report->look_alikes->len; i++)
    {
      const SwBringInPair *pair = g_ptr_array_index (report->look_alikes, i);
      g_autofree char *a = g_utf8_make_valid (pair->a, -1);
      g_autofree char *b = g_utf8_make_valid (pair->b, -1);
      json_builder_begin_array (builder);
      json_builder_add_string_value (builder, a);
      json_builder_add_string_value (builder, b);
      json_builder_end_array (builder);
    }
  json_builder_end_array (builder);
  sw_json_bool (builder, "card_may_be_cleared", report->card_may_be_cleared);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

static void
report_to_text (const SwBringInReport *report)
{
  sw_out_line (_ ("Taken: %" PRId64 " photos, %" PRId64 " companions; there already: %" PRId64
                  "; not photos: %" PRId64 "."),
               report->taken, report->companions, report->already_there, report->not_photos);
  for (guint i = 0; i < report->remarked->len; i++)
    {
      const SwBringInRemark *remark = g_ptr_array_index (report->remarked, i);
      sw_out_line (_ ("Remark: %s: %s"), remark->file, remark->remark);
    }
  for (guint i = 0; i < report->refused->len; i++)
    {
      const SwBringInRemark *remark = g_ptr_array_index (report->refused, i);
      sw_out_line (_ ("Refused: %s: %s"), remark->file, remark->remark);
    }
  for (guint i = 0; i < report->look_alikes->len; i++)
    {
      const SwBringInPair *pair = g_ptr_array_index (report->look_alikes, i);
      sw_out_line (_ ("Looks the same, taken at the same moment: %s and %s"), pair->a, pair->b);
    }
  if (report->card_may_be_cleared)
    sw_out_line (_ ("The memory card may be cleared now."));
  else if (report->why_not != NULL)
    sw_out_line (_ ("Do not clear the memory card yet: %s"), report->why_not);
}

static int
run_bring_in (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwBringInReport) report = sw_bring_in_report_new ();
  SwBringInOptions options = { 0 };
  gboolean done;

  if (bring_trip != NULL && !sw_call_number (bring_trip, _ ("The trip"), 1, &options.trip, error))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL)
    return SW_EXIT_REFUSED;
  done = sw_bring_in_run (catalogue, (const char *const *)call->operands + 1, &options, NULL, NULL,
                          report, error);
  if (done || report->bring_in != 0)
    {
      if (call->json)
        report_to_json (report);
      else
        report_to_text (report);
    }
  if (!done)
    return SW_EXIT_REFUSED;
  if (bring_strict && report->remarked->len + report->refused->len > 0)
    return SW_EXIT_REFUSED;
  return SW_EXIT_STANDS;
}

static char *photos_trip;

static const GOptionEntry photos_options[] = {
  { "trip", 0, 0, G_OPTION_ARG_FILENAME, &photos_trip, N_ ("Only of this trip"), "N" },
  { NULL },
};

/* +12:00 */
static char *
offset_text (const SwPhoto *photo)
{
  int minutes = ABS (photo->zone_offset_s) / 60;

  if (!photo->has_offset)
    return NULL;
  return g_strdup_printf ("%c%02d:%02d", photo->zone_offset_s < 0 ? '-' : '+', minutes / 60,
                          minutes % 60);
}

/* What the camera wrote; the file's own time is not that. */
static char *
clock_text (const SwPhoto *photo)
{
  if (!photo->has_clock || g_str_equal (photo->time_source, "file"))
    return NULL;
  return sw_civil_to_text (sw_civil_from_us (photo->clock_us));
}

static char *
property_text (SwCatalogue *catalogue, const GArray *clocks, const SwPhoto *photo)
{
  SwInstant instant;

  if (!sw_photo_property_time (catalogue, clocks, photo, &instant, NULL))
    return NULL;
  return sw_instant_to_text (instant, sw_catalogue_zone (catalogue));
}

static gboolean
photo_to_json (SwCatalogue *catalogue, const GArray *clocks, JsonBuilder *builder,
               const SwPhoto *photo, GError **error)
{
  g_autoptr (GArray) items = sw_photo_items (catalogue, photo->id, NULL, error);
  g_autofree char *clock = clock_text (photo);
  g_autofree char *offset = offset_text (photo);
  g_autofree char *property = property_text (catalogue, clocks, photo);

  if (items == NULL)
    return FALSE;
  json_builder_begin_object (builder);
  sw_json_int (builder, "photo", photo->id);
  sw_json_text (builder, "file", photo->file);
  sw_json_text (builder, "camera", photo->camera_label);
  sw_json_text (builder, "clock_time", clock);
  sw_json_text (builder, "zone_offset", offset);
  sw_json_text (builder, "time_source", photo->time_source);
  sw_json_text (builder, "property_time", property);
  sw_json_double_or_null (builder, "latitude", photo->has_position, photo->latitude);
  sw_json_double_or_null (builder, "longitude", photo->has_position, photo->longitude);
  sw_json_int (builder, "orientation", photo->orientation);
  sw_json_int_or_null (builder, "trip", photo->trip != 0, photo->trip);
  sw_json_ints (builder, "items", items);
  json_builder_end_object (builder);
  return TRUE;
}

static gboolean
is_photo (const SwPhoto *photo)
{
  return g_str_equal (photo->kind, "photo");
}

static int
print_photos_json (SwCatalogue *catalogue, const GArray *clocks, const GPtrArray *photos,
                   GError **error)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_array (builder);
  for (guint i = 0; i < photos->len; i++)
    {
      const SwPhoto *photo = g_ptr_array_index (photos, i);
      if (is_photo (photo) && !photo_to_json (catalogue, clocks, builder, photo, error))
        return SW_EXIT_REFUSED;
    }
  json_builder_end_array (builder);
  sw_out_json (builder);
  return SW_EXIT_STANDS;
}

static void
print_photos (SwCatalogue *catalogue, const GArray *clocks, const GPtrArray *photos)
{
  static const char *const header[] = { "photo", "property time", "camera", "file", NULL };
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);

  g_ptr_array_add (rows, g_strdupv ((char **)header));
  for (guint i = 0; i < photos->len; i++)
    {
      const SwPhoto *photo = g_ptr_array_index (photos, i);
      char **cells;
      if (!is_photo (photo))
        continue;
      cells = g_new0 (char *, 5);
      cells[0] = g_strdup_printf ("%" G_GINT64_FORMAT, photo->id);
      cells[1] = property_text (catalogue, clocks, photo);
      if (cells[1] == NULL)
        cells[1] = g_strdup ("unknown");
      cells[2] = g_strdup (photo->camera_label != NULL ? photo->camera_label : "");
      cells[3] = g_strdup (photo->file);
      g_ptr_array_add (rows, cells);
    }
  if (rows->len == 1)
    sw_out_line (_ ("No photos."));
  else
    sw_out_table (rows, 1u << 0);
}

static int
run_photos (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (GArray) clocks = NULL;
  g_autoptr (GPtrArray) photos = NULL;
  gint64 trip = 0;

  if (photos_trip != NULL && !sw_call_number (photos_trip, _ ("The trip"), 1, &trip, error))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  if (catalogue == NULL)
    return SW_EXIT_REFUSED;
  if (trip != 0)
    {
      g_autoptr (SwTrip) found = sw_trip_get (catalogue, trip, error);
      if (found == NULL)
        return SW_EXIT_REFUSED;
    }
  clocks = sw_camera_clock_list (catalogue, error);
  photos = clocks != NULL ? sw_photo_list (catalogue, trip, FALSE, error) : NULL;
  if (photos == NULL)
    return SW_EXIT_REFUSED;
  if (call->json)
    return print_photos_json (catalogue, clocks, photos, error);
  print_photos (catalogue, clocks, photos);
  return SW_EXIT_STANDS;
}

const SwCommand sw_photo_commands[] = {
  { "bring-in", "CAT FOLDER...", 2, -1,
    N_ ("Copy the photos of a memory card or folder into the catalogue"),
    N_ ("Nothing on the card is changed; the same photo is never taken twice. An interrupted "
        "bring-in "
        "is\n"
        "run again and ends as if it had not been interrupted."),
    run_bring_in, bring_options },
  { "photos", "CAT", 1, 1, N_ ("List photos with their times and positions"), NULL, run_photos,
    photos_options },
  { NULL },
};
