/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The time in a clip's or memo's header. Layout: ISO/IEC 14496-12:2015, 4.2 (boxes: 32-bit size, 1
 * for a 64-bit one, 0 for "to the end") and 8.2.2 (movie header: version 0 with 32-bit times, 1
 * with 64-bit ones, seconds since 1904-01-01T00:00:00Z), from memory. That 2082844800 s lie between
 * 1904 and 1970 is checked by the calendar below. */
#include "sw-test.h"

#include "core/intake/metadata.h"
#include "core/intake/movie-time.h"

typedef struct
{
  const char *label;
  const char *bytes;
  gsize length;
  gint64 seconds; /* since 1970; -1: none */
} Row;

#define B(text) text, sizeof (text) - 1
#define FTYP                                                                                       \
  "\0\0\0\x0C"                                                                                     \
  "ftypM4A "
/* 2026-09-05T09:51:08Z is 1788601868 since 1970, 3871446668 = 0xE6C1968C since 1904 */
#define MVHD                                                                                       \
  "\0\0\0\x14"                                                                                     \
  "mvhd"                                                                                           \
  "\0\0\0\0"                                                                                       \
  "\xE6\xC1\x96\x8C"                                                                               \
  "\0\0\0\0"
#define MVHD_64                                                                                    \
  "\0\0\0\x1C"                                                                                     \
  "mvhd"                                                                                           \
  "\1\0\0\0"                                                                                       \
  "\0\0\0\0\xE6\xC1\x96\x8C"                                                                       \
  "\0\0\0\0\0\0\0\0"
#define MOMENT G_GINT64_CONSTANT (1788601868)

static const Row rows[] = {
  { "movie first",
    B (FTYP "\0\0\0\x1C"
            "moov" MVHD),
    MOMENT },
  { "behind the media",
    B (FTYP "\0\0\0\x0C"
            "mdatabcd"
            "\0\0\0\x1C"
            "moov" MVHD),
    MOMENT },
  { "behind media with a long size",
    B (FTYP "\0\0\0\1"
            "mdat"
            "\0\0\0\0\0\0\0\x14"
            "abcd"
            "\0\0\0\x1C"
            "moov" MVHD),
    MOMENT },
  { "to the end of the file",
    B (FTYP "\0\0\0\0"
            "moov" MVHD),
    MOMENT },
  { "another box before the header",
    B (FTYP "\0\0\0\x24"
            "moov"
            "\0\0\0\x08"
            "free" MVHD),
    MOMENT },
  { "64-bit times",
    B (FTYP "\0\0\0\x24"
            "moov" MVHD_64),
    MOMENT },
  { "no movie box",
    B (FTYP "\0\0\0\x0C"
            "mdatabcd"),
    -1 },
  { "no header",
    B (FTYP "\0\0\0\x10"
            "moov"
            "\0\0\0\x08"
            "free"),
    -1 },
  { "never set",
    B (FTYP "\0\0\0\x1C"
            "moov"
            "\0\0\0\x14"
            "mvhd"
            "\0\0\0\0"
            "\0\0\0\0"
            "\0\0\0\0"),
    -1 },
  { "before 1970",
    B (FTYP "\0\0\0\x1C"
            "moov"
            "\0\0\0\x14"
            "mvhd"
            "\0\0\0\0"
            "\0\0\0\1"
            "\0\0\0\0"),
    -1 },
  { "header cut off",
    B (FTYP "\0\0\0\x1C"
            "moov"
            "\0\0\0\x14"
            "mvhd"
            "\0\0"),
    -1 },
  { "header too short",
    B (FTYP "\0\0\0\x12"
            "moov"
            "\0\0\0\x0A"
            "mvhd"
            "\0\0" MVHD),
    -1 },
  { "larger than the file",
    B (FTYP "\x7F\xFF\xFF\xFF"
            "moov" MVHD),
    -1 },
  { "a size below its own header",
    B (FTYP "\0\0\0\4"
            "moov" MVHD),
    -1 },
  { "a long size that overflows",
    B (FTYP "\0\0\0\1"
            "mdat"
            "\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF"
            "\0\0\0\x1C"
            "moov" MVHD),
    -1 },
  { "empty", B (""), -1 },
};

static void
reads_the_header (void **state)
{
  const Row *row = *state;
  SwPeek peek = { (const guint8 *)row->bytes, row->length, -1, row->length };
  SwInstant made = { -1 };

  assert_int_equal (sw_movie_time_read (&peek, &made), row->seconds >= 0);
  assert_i64_equal (made.us, row->seconds >= 0 ? row->seconds * SW_US_PER_SECOND : -1);
}

static void
the_epochs_lie_that_far_apart (void **state)
{
  gint64 days = sw_day_from_ymd (1970, 1, 1).n - sw_day_from_ymd (1904, 1, 1).n;

  assert_i64_equal (days * 86400, G_GINT64_CONSTANT (2082844800));
}

/* A name with a time of day is in local time and goes first; then the header; then the file. */
static void
settles_in_order (void **state)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwZone) zone = sw_zone_new ("Pacific/Auckland", &error);
  SwPeek peek = { (const guint8 *)rows[0].bytes, rows[0].length, -1, rows[0].length };
  SwInstant now = { (MOMENT + 100 * 86400) * SW_US_PER_SECOND };
  static const struct
  {
    const char *name, *clock, *source;
  } cases[] = {
    { "VID_20260905_215000.mp4", "2026-09-05T21:50:00", "name" },
    { "memo 001.m4a", "2026-09-05T21:51:08", "original" }, /* +12:00: summer time begins later */
  };

  assert_no_error (error);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (SwPhotoMeta) meta = { 0 };
      g_autofree char *clock = NULL;

      sw_photo_meta_read (&peek, SW_FILE_MEMO, now, &meta);
      sw_photo_meta_settle_time (&meta, cases[i].name, now, zone, now);
      clock = sw_civil_to_text (meta.clock);
      assert_string_equal (clock, cases[i].clock);
      assert_string_equal (sw_time_source_word (meta.time_source), cases[i].source);
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, reads_the_header, rows);
  SW_TEST (tests, the_epochs_lie_that_far_apart);
  SW_TEST (tests, settles_in_order);
  return sw_tests_run (tests, "movie-time");
}
