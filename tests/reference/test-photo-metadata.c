/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photo metadata against the outside: files written here tag by tag, and real files of many
 * cameras, read by us, by exiftool (Phil Harvey, 12.57 of Debian 12) and by exiv2 (0.27 of Debian
 * 12): times, offsets, orientation and position must be equal. Which date counts as missing is
 * judged here by the calendar alone. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/intake/metadata.h"
#include "exif-writer.h"

/* 2026-11-25T12:00:00Z: fixed, so that no test depends on the day it runs. */
static const SwInstant now = { G_GINT64_CONSTANT (1795608000000000) };

typedef struct
{
  char *folder;
  SwZone *zone;
  guint n;
} Matrix;

static void
write_case (Matrix *m, FileForm form, const ExifFields *fields)
{
  g_autoptr (GByteArray) file = photo_file_write (form, fields);
  g_autofree char *path = g_strdup_printf ("%s/c%05u.%s", m->folder, m->n++, form_extensions[form]);

  assert_true (g_file_set_contents (path, (const char *)file->data, file->len, NULL));
}

#define BASE .orientation = 1, .make = "Kettle & Lamp", .model = "KL-7", .serial = "0042-b"

static void
write_orientations (Matrix *m)
{
  for (int form = 0; form < N_FORMS; form++)
    for (int big = 0; big < 2; big++)
      for (int o = -1; o <= 9; o++)
        {
          ExifFields f = { BASE, .original = "2026:04:05 10:15:30" };

          f.big_endian = big;
          f.orientation = o;
          write_case (m, (FileForm)form, &f);
        }
}

/* Every set of the three times with every set of the three offsets and of the three subseconds. */
static void
write_times (Matrix *m)
{
  for (int bits = 0; bits < 512; bits++)
    {
      ExifFields f = { BASE };

      f.big_endian = bits & 1;
      f.original = bits & 1 ? "2026:04:05 10:15:30" : NULL;
      f.digitized = bits & 2 ? "2026:04:05 11:16:31" : NULL;
      f.modified = bits & 4 ? "2026:04:06 12:17:32" : NULL;
      f.original_offset = bits & 8 ? "+12:00" : NULL;
      f.digitized_offset = bits & 16 ? "-03:30" : NULL;
      f.modified_offset = bits & 32 ? "+05:45" : NULL;
      f.original_sub = bits & 64 ? "5" : NULL;
      f.digitized_sub = bits & 128 ? "050" : NULL;
      f.modified_sub = bits & 256 ? "123456" : NULL;
      write_case (m, bits % 3 == 0 ? FORM_TIFF : bits % 3 == 1 ? FORM_JPEG : FORM_HEIC, &f);
    }
}

static const char *const bad_dates[] = {
  "    :  :     :  :  ", "                   ", "0000:00:00 00:00:00", "2026:02:30 10:00:00",
  "2026:13:01 10:00:00", "2026:00:10 10:00:00", "2026:04:00 10:00:00", "2026:04:05 24:00:00",
  "2026:04:05 10:60:00", "2025:02:29 10:00:00", "Sunday, 11am",        "",
  "2126:04:05 10:15:30", "2024:02:29 23:59:59", "2026:11:25 12:00:00",
};

static void
write_bad_dates (Matrix *m)
{
  for (gsize i = 0; i < G_N_ELEMENTS (bad_dates); i++)
    for (int form = 0; form < N_FORMS; form++)
      {
        ExifFields alone = { BASE, .original = bad_dates[i] };
        ExifFields fallback = { BASE, .original = bad_dates[i], .digitized = bad_dates[i],
                                .modified = "2026:04:06 12:17:32" };

        write_case (m, (FileForm)form, &alone);
        write_case (m, (FileForm)form, &fallback);
      }
}

static void
write_positions (Matrix *m)
{
  static const char *const refs[][2] = { { "N", "E" }, { "N", "W" }, { "S", "E" }, { "S", "W" } };

  for (int form = 0; form < N_FORMS; form++)
    for (int big = 0; big < 2; big++)
      for (gsize q = 0; q < G_N_ELEMENTS (refs); q++)
        {
          ExifFields f = { BASE, .latitude = { 47, 1, 42, 1, 1133, 100 },
                           .longitude = { 122, 1, 7, 1, 4141, 100 }, .has_error = TRUE,
                           .error = { 4813, 1000 } };

          f.big_endian = big;
          f.latitude_ref = refs[q][0];
          f.longitude_ref = refs[q][1];
          write_case (m, (FileForm)form, &f);
        }
}

/* ---- what exiftool says, as our words ---- */

static const char *
member (JsonObject *o, const char *name)
{
  JsonNode *node = json_object_get_member (o, name);

  if (node == NULL || !JSON_NODE_HOLDS_VALUE (node))
    return NULL;
  return json_node_get_value_type (node) == G_TYPE_STRING ? json_node_get_string (node) : NULL;
}

static gboolean
member_number (JsonObject *o, const char *name, double *out)
{
  JsonNode *node = json_object_get_member (o, name);

  if (node == NULL || !JSON_NODE_HOLDS_VALUE (node)
      || json_node_get_value_type (node) == G_TYPE_STRING)
    return FALSE;
  *out = json_node_get_double (node);
  return TRUE;
}

/* A date that the calendar has, not before 1900 and not after the day after 'now'. */
static gboolean
real_date (const char *text, SwCivil *out)
{
  SwCivil c = { 0 };
  char rest;
  g_autoptr (GDateTime) t = NULL;

  if (text == NULL
      || sscanf (text, "%4d%*[:/-]%2d%*[:/-]%2d %2d:%2d:%2d%c", &c.year, &c.month, &c.day, &c.hour,
                 &c.minute, &c.second, &rest)
             < 6)
    return FALSE;
  t = c.year >= 1900 ? g_date_time_new_utc (c.year, c.month, c.day, c.hour, c.minute, c.second)
                     : NULL;
  if (t == NULL || g_date_time_to_unix (t) > now.us / 1000000 + 38 * 3600)
    return FALSE;
  *out = c;
  return TRUE;
}

static const struct
{
  const char *time, *sub, *offset, *word;
} rows[] = {
  { "ExifIFD:DateTimeOriginal", "ExifIFD:SubSecTimeOriginal", "ExifIFD:OffsetTimeOriginal",
    "original" },
  { "ExifIFD:CreateDate", "ExifIFD:SubSecTimeDigitized", "ExifIFD:OffsetTimeDigitized",
    "digitized" },
  { "IFD0:ModifyDate", "ExifIFD:SubSecTime", "ExifIFD:OffsetTime", "modified" },
};

static int
fraction_of (JsonObject *o, const char *name)
{
  JsonNode *node = json_object_get_member (o, name);
  g_autofree char *text = NULL;
  g_autofree char *padded = NULL;

  if (node == NULL)
    return 0;
  /* exiftool prints digits as a number unless a zero leads */
  text = json_node_get_value_type (node) == G_TYPE_STRING
             ? json_node_dup_string (node)
             : g_strdup_printf ("%" G_GINT64_FORMAT, json_node_get_int (node));
  if (!g_ascii_isdigit (*text))
    return 0;
  padded = g_strdup_printf ("%.*s000000", (int)strspn (text, "0123456789"), text);
  padded[6] = '\0';
  return atoi (padded);
}

#define SAY(file, ...) (print_error ("%s: ", file), print_error (__VA_ARGS__), print_error ("\n"))

static int
compare_time (const char *file, JsonObject *o, const SwPhotoMeta *ours)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      SwCivil c;
      const char *offset;
      int h, min;
      char sign;
      gboolean has_offset;

      if (!real_date (member (o, rows[i].time), &c))
        continue;
      c.micro = fraction_of (o, rows[i].sub);
      if (!ours->has_clock || sw_civil_to_us (c) != sw_civil_to_us (ours->clock)
          || strcmp (rows[i].word, sw_time_source_word (ours->time_source)) != 0)
        {
          g_autofree char *text = sw_civil_to_text (ours->clock);

          SAY (file, "exiftool has %s %s, we have %s %s", rows[i].word, member (o, rows[i].time),
               sw_time_source_word (ours->time_source), text);
          return 1;
        }
      offset = member (o, rows[i].offset);
      has_offset = offset != NULL && sscanf (offset, "%c%2d:%2d", &sign, &h, &min) == 3;
      if (has_offset != ours->has_offset
          || (has_offset && (h * 3600 + min * 60) * (sign == '-' ? -1 : 1) != ours->offset_s))
        {
          SAY (file, "exiftool has offset %s, we have %d", offset, ours->offset_s);
          return 1;
        }
      return 0;
    }
  if (ours->has_clock)
    {
      SAY (file, "exiftool has no date, we have one");
      return 1;
    }
  return 0;
}

static int
compare_rest (const char *file, JsonObject *o, const SwPhotoMeta *ours)
{
  double v = 1, latitude, longitude;
  const char *ns = member (o, "GPS:GPSLatitudeRef"), *ew = member (o, "GPS:GPSLongitudeRef");
  gboolean has;

  if (!member_number (o, "IFD0:Orientation", &v) || v < 1 || v > 8)
    v = 1;
  if ((int)v != ours->orientation)
    {
      SAY (file, "exiftool has orientation %d, we have %d", (int)v, ours->orientation);
      return 1;
    }
  has = ns != NULL && *ns != '\0' && ew != NULL && *ew != '\0'
        && member_number (o, "GPS:GPSLatitude", &latitude)
        && member_number (o, "GPS:GPSLongitude", &longitude) && (latitude != 0 || longitude != 0);
  if (has != ours->has_position)
    {
      SAY (file, "exiftool has %s position, we have %s", has ? "a" : "no",
           ours->has_position ? "one" : "none");
      return 1;
    }
  if (has
      && (fabs ((*ns == 'S' ? -latitude : latitude) - ours->latitude) > 1e-9
          || fabs ((*ew == 'W' ? -longitude : longitude) - ours->longitude) > 1e-9))
    {
      SAY (file, "exiftool has %.9f %.9f, we have %.9f %.9f", latitude, longitude, ours->latitude,
           ours->longitude);
      return 1;
    }
  if (member_number (o, "GPS:GPSHPositioningError", &v)
      && (!ours->has_position_error || fabs (v - ours->position_error_m) > 1e-9) && has)
    {
      SAY (file, "exiftool has error %f m, we have %f", v, ours->position_error_m);
      return 1;
    }
  return 0;
}

static JsonNode *
run_exiftool (const char *folder)
{
  const char *argv[] = { "exiftool",     "-q",        "-q",       "-m",   "-j",
                         "-n",           "-r",        "-G1",      "-api", "StructFormat=JSONQ",
                         "-ExifIFD:all", "-IFD0:all", "-GPS:all", folder, NULL };
  g_autofree char *out = NULL;
  g_autoptr (JsonParser) parser = json_parser_new ();

  assert_true (g_spawn_sync (NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, NULL,
                             NULL, NULL));
  /* JSON-GLib wants UTF-8; broken files hold anything */
  g_autofree char *valid = g_utf8_make_valid (out, -1);
  assert_true (json_parser_load_from_data (parser, valid, -1, NULL));
  return json_parser_steal_root (parser);
}

static int
compare_file (const char *path, JsonObject *o)
{
  g_autofree char *bytes = NULL;
  g_auto (SwPhotoMeta) ours = { 0 };
  gsize n;
  SwPeek peek;
  SwFileKind kind;

  assert_true (g_file_get_contents (path, &bytes, &n, NULL));
  kind = sw_sniff ((guint8 *)bytes, MIN (n, SW_SNIFF_BYTES), path);
  if (!sw_file_kind_is_photo (kind))
    return 0;
  peek = (SwPeek){ (const guint8 *)bytes, n, -1, n };
  sw_photo_meta_read (&peek, kind, now, &ours);
  return compare_time (path, o, &ours) + compare_rest (path, o, &ours);
}

/* exiftool gives up on a JPEG that breaks off inside a later segment, before it looks into the Exif
 * one. Such a file is shown to it as its first segment and an end marker; we read the file as it
 * is. */
static gboolean
write_header_only (const char *path, const char *folder, guint number)
{
  g_autofree char *bytes = NULL;
  g_autofree char *copy = g_strdup_printf ("%s/h%05u.jpg", folder, number);
  gsize n, end;

  assert_true (g_file_get_contents (path, &bytes, &n, NULL));
  if (n < 16 || memcmp (bytes, "\xFF\xD8\xFF\xE1", 4) != 0)
    return FALSE;
  end = 4 + (gsize)(guint8)bytes[4] * 256 + (guint8)bytes[5];
  if (end + 2 > n)
    return FALSE;
  memcpy (bytes + end, "\xFF\xD9", 2);
  return g_file_set_contents (copy, bytes, (gssize)end + 2, NULL);
}

static int
compare_broken (GPtrArray *paths)
{
  g_autofree char *folder = g_dir_make_tmp ("sw-headers-XXXXXX", NULL);
  g_autoptr (JsonNode) root = NULL;
  JsonArray *files;
  int faults = 0;

  for (guint i = 0; i < paths->len; i++)
    write_header_only (paths->pdata[i], folder, i);
  root = run_exiftool (folder);
  files = root != NULL ? json_node_get_array (root) : NULL;
  for (guint i = 0; files != NULL && i < json_array_get_length (files); i++)
    {
      JsonObject *o = json_array_get_object_element (files, i);
      const char *copy = json_object_get_string_member (o, "SourceFile");

      faults += compare_file (paths->pdata[atoi (strrchr (copy, '/') + 2)], o);
      g_unlink (copy);
    }
  g_rmdir (folder);
  return faults;
}

/* Reads every file that exiftool lists below the folder; returns how many differ. */
static int
compare_folder (const char *folder, guint *out_n)
{
  g_autoptr (JsonNode) root = run_exiftool (folder);
  g_autoptr (GPtrArray) broken = g_ptr_array_new_with_free_func (g_free);
  JsonArray *files = json_node_get_array (root);
  int faults = 0;

  *out_n = json_array_get_length (files);
  for (guint i = 0; i < *out_n; i++)
    {
      JsonObject *o = json_array_get_object_element (files, i);
      const char *path = json_object_get_string_member (o, "SourceFile");

      if (json_object_get_size (o) == 1)
        g_ptr_array_add (broken, g_strdup (path));
      else
        faults += compare_file (path, o);
    }
  return broken->len > 0 ? faults + compare_broken (broken) : faults;
}

static int
setup (void **state)
{
  Matrix *m = g_new0 (Matrix, 1);

  m->folder = g_dir_make_tmp ("sw-matrix-XXXXXX", NULL);
  m->zone = sw_zone_new ("Pacific/Auckland", NULL);
  write_orientations (m);
  write_times (m);
  write_bad_dates (m);
  write_positions (m);
  *state = m;
  return m->folder == NULL || m->zone == NULL;
}

static int
teardown (void **state)
{
  Matrix *m = *state;
  g_autoptr (GDir) dir = g_dir_open (m->folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (m->folder, name, NULL);

      g_unlink (path);
    }
  g_rmdir (m->folder);
  g_free (m->folder);
  sw_zone_free (m->zone);
  g_free (m);
  return 0;
}

static void
matrix_equals_exiftool (void **state)
{
  Matrix *m = *state;
  guint n;

  assert_int_equal (compare_folder (m->folder, &n), 0);
  assert_int_equal (n, m->n);
}

/* What exiv2 says of each file: name to (key to value). Its lines: name, key, value. */
static GHashTable *
run_exiv2 (const char *folder)
{
  g_autofree char *command = g_strdup_printf (
      "cd '%s' && exiv2 -q -g Exif.Image.Orientation -g Exif.Image.Ma -g Exif.Image.Mo"
      " -g Exif.Photo.DateTimeOriginal -g Exif.Photo.SubSecTimeOriginal"
      " -g Exif.Photo.OffsetTimeOriginal -g Exif.GPSInfo -Pkv pr * 2>/dev/null",
      folder);
  const char *argv[] = { "sh", "-c", command, NULL };
  g_autofree char *out = NULL;
  g_auto (GStrv) lines = NULL;
  GHashTable *files
      = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_hash_table_unref);

  assert_true (g_spawn_sync (NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, NULL,
                             NULL, NULL));
  lines = g_strsplit (out, "\n", -1);
  for (char **line = lines; *line != NULL; line++)
    {
      char *at = strstr (*line, "Exif.");
      g_autofree char *file = NULL;
      GHashTable *values;
      gsize n;

      if (at == NULL || !g_str_has_prefix (*line, "c"))
        continue;
      file = g_strndup (*line, strcspn (*line, " \t"));
      values = g_hash_table_lookup (files, file);
      if (values == NULL)
        {
          values = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
          g_hash_table_insert (files, g_steal_pointer (&file), values);
        }
      n = strcspn (at, " \t");
      g_hash_table_insert (values, g_strndup (at, n), g_strdup (g_strstrip (at + n)));
    }
  return files;
}

/* "47/1 42/1 1133/100" in degrees; FALSE where a denominator is 0. */
static gboolean
exiv2_degrees (const char *text, double *out)
{
  double n[3], d[3];

  if (text == NULL
      || sscanf (text, "%lf/%lf %lf/%lf %lf/%lf", &n[0], &d[0], &n[1], &d[1], &n[2], &d[2]) != 6
      || d[0] == 0 || d[1] == 0 || d[2] == 0)
    return FALSE;
  *out = n[0] / d[0] + n[1] / d[1] / 60 + n[2] / d[2] / 3600;
  return TRUE;
}

static void
compare_exiv2_time (GHashTable *values, const SwPhotoMeta *ours, guint *compared)
{
  const char *time = g_hash_table_lookup (values, "Exif.Photo.DateTimeOriginal");
  const char *fraction = g_hash_table_lookup (values, "Exif.Photo.SubSecTimeOriginal");
  const char *offset = g_hash_table_lookup (values, "Exif.Photo.OffsetTimeOriginal");
  SwCivil c;
  int hours, minutes;
  char sign;

  if (time == NULL || !real_date (time, &c))
    return;
  assert_int_equal (ours->time_source, SW_TIME_ORIGINAL);
  if (fraction != NULL && g_ascii_isdigit (*fraction))
    {
      g_autofree char *decimal = g_strdup_printf ("0.%s", fraction);
      c.micro = (int)floor (g_ascii_strtod (decimal, NULL) * 1e6 + 1e-3);
    }
  assert_int_equal (sw_civil_to_us (c), sw_civil_to_us (ours->clock));
  if (offset != NULL && sscanf (offset, "%c%2d:%2d", &sign, &hours, &minutes) == 3 && hours < 15)
    {
      assert_true (ours->has_offset);
      assert_int_equal (ours->offset_s, (sign == '-' ? -1 : 1) * (hours * 3600 + minutes * 60));
      *compared += 1;
    }
  *compared += 1;
}

static void
compare_exiv2_position (GHashTable *values, const SwPhotoMeta *ours, guint *compared)
{
  const char *ns = g_hash_table_lookup (values, "Exif.GPSInfo.GPSLatitudeRef");
  const char *ew = g_hash_table_lookup (values, "Exif.GPSInfo.GPSLongitudeRef");
  double latitude, longitude;

  if (ns == NULL || ew == NULL || !ours->has_position
      || !exiv2_degrees (g_hash_table_lookup (values, "Exif.GPSInfo.GPSLatitude"), &latitude)
      || !exiv2_degrees (g_hash_table_lookup (values, "Exif.GPSInfo.GPSLongitude"), &longitude))
    return;
  assert_true (fabs ((*ns == 'S' ? -latitude : latitude) - ours->latitude) < 1e-9);
  assert_true (fabs ((*ew == 'W' ? -longitude : longitude) - ours->longitude) < 1e-9);
  *compared += 1;
}

/* exiv2 0.27.6 must agree on every file of the matrix it can open. */
static void
matrix_equals_exiv2 (void **state)
{
  Matrix *m = *state;
  g_autoptr (GHashTable) files = run_exiv2 (m->folder);
  guint orientations = 0, times = 0, positions = 0;
  GHashTableIter iter;
  gpointer file, values;

  g_hash_table_iter_init (&iter, files);
  while (g_hash_table_iter_next (&iter, &file, &values))
    {
      g_autofree char *path = g_build_filename (m->folder, file, NULL);
      g_auto (SwPhotoMeta) ours = { 0 };
      const char *turn = g_hash_table_lookup (values, "Exif.Image.Orientation");
      int v = turn != NULL ? atoi (turn) : 1;

      assert_true (sw_photo_meta_read_file (path, m->zone, now, &ours, NULL));
      if ((v >= 1 && v <= 8 ? v : 1) != ours.orientation)
        SAY ((const char *)file, "exiv2 has orientation %s, we have %d", turn, ours.orientation);
      assert_int_equal (v >= 1 && v <= 8 ? v : 1, ours.orientation);
      orientations += turn != NULL;
      compare_exiv2_time (values, &ours, &times);
      compare_exiv2_position (values, &ours, &positions);
    }
  print_message ("exiv2 agrees on %u orientations, %u times and offsets, %u positions\n",
                 orientations, times, positions);
  assert_true (orientations > 30 && times > 100 && positions > 3);
}

/* Debian's package golang-github-rwcarlsen-goexif-dev: photos of some 60 cameras, corrupt ones
 * among them. */
#define REAL_FILES "/usr/share/gocode/src/github.com/rwcarlsen/goexif/exif"

static void
real_files_equal_exiftool (void **state)
{
  guint n;

  if (!g_file_test (REAL_FILES, G_FILE_TEST_IS_DIR))
    {
      print_message ("not installed: golang-github-rwcarlsen-goexif-dev\n");
      skip ();
    }
  assert_int_equal (compare_folder (REAL_FILES, &n), 0);
  assert_true (n > 50);
}

/* More folders of real photos, named in SHEDWALK_REAL_PHOTOS and separated by colons. */
static void
more_real_files_equal_exiftool (void **state)
{
  const char *more = g_getenv ("SHEDWALK_REAL_PHOTOS");
  g_auto (GStrv) folders = NULL;

  if (more == NULL)
    skip ();
  folders = g_strsplit (more, ":", -1);
  for (char **f = folders; *f != NULL; f++)
    {
      guint n;

      assert_int_equal (compare_folder (*f, &n), 0);
      assert_true (n > 0);
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (matrix_equals_exiftool),
    cmocka_unit_test (matrix_equals_exiv2),
    cmocka_unit_test (real_files_equal_exiftool),
    cmocka_unit_test (more_real_files_equal_exiftool),
  };

  return cmocka_run_group_tests_name ("photo-metadata", tests, setup, teardown);
}
