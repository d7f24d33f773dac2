/* SPDX-License-Identifier: GPL-3.0-or-later */
/* File kinds by first bytes, and times in names. Signatures: ITU-T T.81 (JPEG), ISO/IEC 15948
 * (PNG), TIFF 6.0, ISO/IEC 14496-12 (ftyp), ISO/IEC 23008-12 (HEIF brands), RFC 9649 (WebP). Names:
 * common practice of phones. */
#include "sw-test.h"

#include "core/base/civil.h"
#include "core/intake/metadata.h"

typedef struct
{
  const char *bytes;
  gsize length;
  const char *name;
  SwFileKind kind;
} Row;

#define B(text) text, sizeof (text) - 1

static const Row rows[] = {
  { B (""), "a.jpg", SW_FILE_EMPTY },
  { B ("\xFF\xD8\xFF\xE1\0\0"), "press.txt", SW_FILE_JPEG },
  { B ("\xFF\xD8\xFF"), NULL, SW_FILE_JPEG },
  { B ("\xFF\xD8"), "a.jpg", SW_FILE_OTHER },
  { B ("\x89PNG\r\n\x1A\n"), "a", SW_FILE_PNG },
  { B ("\x89PNG\n"), "a.png", SW_FILE_OTHER },
  { B ("II*\0\x08\0\0\0"), "a.tif", SW_FILE_TIFF },
  { B ("MM\0*\0\0\0\x08"), "a.jpg", SW_FILE_TIFF },
  { B ("II*\0\x08\0\0\0"), "a.DNG", SW_FILE_RAW },
  { B ("II*\0\x10\0\0\0CR\2\0"), "a", SW_FILE_RAW },
  { B ("MM\0*\0\0\0\x08"), "a.nef", SW_FILE_RAW },
  { B ("IIU\0\x18\0\0\0"), "a.rw2", SW_FILE_RAW },
  { B ("\0\0\0\x18"
       "ftypheic\0\0\0\0"),
    "a", SW_FILE_HEIF },
  { B ("\0\0\0\x18"
       "ftypheix\0\0\0\0"),
    "a", SW_FILE_HEIF },
  { B ("\0\0\0\x18"
       "ftypmif1\0\0\0\0"),
    "a", SW_FILE_HEIF },
  { B ("\0\0\0\x18"
       "ftypcrx \0\0\0\1"),
    "a.cr3", SW_FILE_RAW },
  { B ("\0\0\0\x18"
       "ftypqt  \0\0\0\0"),
    "a.mov", SW_FILE_CLIP },
  { B ("\0\0\0\x18"
       "ftypmp42\0\0\0\0"),
    "a.mp4", SW_FILE_CLIP },
  { B ("\0\0\0\x18"
       "ftypmp42\0\0\0\0"),
    "a.m4a", SW_FILE_MEMO },
  { B ("\0\0\0\x18"
       "ftypM4A \0\0\0\0"),
    "a", SW_FILE_MEMO },
  { B ("RIFF\x10\0\0\0WEBPVP8 "), "a", SW_FILE_WEBP },
  { B ("RIFF\x10\0\0\0WAVEfmt "), "a", SW_FILE_MEMO },
  { B ("RIFF\x10\0\0\0AVI LIST"), "a", SW_FILE_CLIP },
  { B ("#!AMR\n"), "a", SW_FILE_MEMO },
  { B ("\xFF\xF1\x50\x80"), "a.aac", SW_FILE_MEMO },
  { B ("\xFF\xF1\x50\x80"), "a.bin", SW_FILE_OTHER },
  { B ("12:40 press house"), "notes.jpg", SW_FILE_OTHER },
};

static void
kinds_by_first_bytes (void **state)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      SwFileKind kind = sw_sniff ((const guint8 *)rows[i].bytes, rows[i].length, rows[i].name);

      if (kind != rows[i].kind)
        print_error ("row %zu: %s, expected %s\n", i, sw_file_kind_word (kind),
                     sw_file_kind_word (rows[i].kind));
      assert_true (kind == rows[i].kind);
    }
}

static const struct
{
  const char *name, *time; /* NULL: none */
  gboolean day_only;
} names[] = {
  { "IMG_20260405_101530.jpg", "2026-04-05T10:15:30", FALSE },
  { "PXL_20260405_101530123.jpg", "2026-04-05T10:15:30.123", FALSE },
  { "20260405_101530.jpg", "2026-04-05T10:15:30", FALSE },
  { "20260405_101530(1).jpg", "2026-04-05T10:15:30", FALSE },
  { "2026-04-05 10.15.30.jpg", "2026-04-05T10:15:30", FALSE },
  { "Photo 2026-04-05 at 10-15-30.png", "2026-04-05T10:15:30", FALSE },
  { "20260405101530.heic", "2026-04-05T10:15:30", FALSE },
  { "VID_20260405_101530.mp4", "2026-04-05T10:15:30", FALSE },
  { "P_20260405_10_15_30_Pro.jpg", "2026-04-05T10:15:30", FALSE },
  { "IMG-20260405-WA0003.jpg", "2026-04-05T12:00:00", TRUE },
  { "20260405_101530/IMG_0042.jpg", NULL, FALSE },
  { "IMG_20260230_101530.jpg", NULL, FALSE },
  { "IMG_20260405_251530.jpg", "2026-04-05T12:00:00", TRUE },
  { "IMG_0042.jpg", NULL, FALSE },
  { "DSC01234567890123456789.jpg", NULL, FALSE },
  { "", NULL, FALSE },
};

static void
times_in_names (void **state)
{
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      SwCivil c;
      gboolean day_only = FALSE;
      gboolean found = sw_name_time_parse (names[i].name, &c, &day_only);
      g_autofree char *text = found ? sw_civil_to_text (c) : NULL;

      if (g_strcmp0 (text, names[i].time) != 0)
        print_error ("%s: %s\n", names[i].name, text);
      assert_true (g_strcmp0 (text, names[i].time) == 0);
      assert_int_equal (day_only, names[i].day_only);
    }
}

static const struct
{
  const char *text;
  gboolean good;
  int seconds;
} offsets[] = {
  { "+12:00", TRUE, 43200 }, { "-03:30", TRUE, -12600 }, { "+00:00", TRUE, 0 },
  { "   :  ", FALSE, 0 },    { "      ", FALSE, 0 },     { "12:00", FALSE, 0 },
  { "+1200", FALSE, 0 },     { "+99:00", FALSE, 0 },     { "+12:75", FALSE, 0 },
};

static void
offsets_of_exif (void **state)
{
  for (gsize i = 0; i < G_N_ELEMENTS (offsets); i++)
    {
      int seconds = 0;

      assert_int_equal (sw_exif_offset_parse (offsets[i].text, &seconds), offsets[i].good);
      assert_int_equal (seconds, offsets[i].seconds);
    }
}

/* The choice where the tags are silent: the name, and the file's own time when the name has only
 * the day. */
static void
settled_times (void **state)
{
  static const struct
  {
    const char *name, *time;
    SwTimeSource source;
  } settle[] = {
    { "IMG_20260405_101530.jpg", "2026-04-05T10:15:30", SW_TIME_NAME },
    { "IMG_0042.jpg", "2026-04-05T21:04:07", SW_TIME_FILE },
    { "IMG-20260405-WA0003.jpg", "2026-04-05T21:04:07", SW_TIME_FILE },
    { "IMG-20260401-WA0003.jpg", "2026-04-01T12:00:00", SW_TIME_NAME },
    { "IMG_20991231_101530.jpg", "2026-04-05T21:04:07", SW_TIME_FILE },
  };
  g_autoptr (SwZone) zone = sw_zone_new ("Pacific/Auckland", NULL);
  SwInstant now = { G_GINT64_CONSTANT (1795608000000000) };
  SwInstant file = sw_civil_at_offset ((SwCivil){ 2026, 4, 5, 9, 4, 7, 0 }, 0);

  assert_non_null (zone);
  for (gsize i = 0; i < G_N_ELEMENTS (settle); i++)
    {
      SwPeek nothing = { NULL, 0, -1, 0 };
      g_auto (SwPhotoMeta) meta = { 0 };
      g_autofree char *text = NULL;

      sw_photo_meta_read (&nothing, SW_FILE_JPEG, now, &meta);
      sw_photo_meta_settle_time (&meta, settle[i].name, file, zone, now);
      text = sw_civil_to_text (meta.clock);
      assert_string_equal (text, settle[i].time);
      assert_int_equal (meta.time_source, settle[i].source);
      assert_false (meta.has_offset);
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (kinds_by_first_bytes),
    cmocka_unit_test (times_in_names),
    cmocka_unit_test (offsets_of_exif),
    cmocka_unit_test (settled_times),
  };

  return cmocka_run_group_tests_name ("sniff", tests, NULL, NULL);
}
