/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Damaged photo files: every cut and every flipped byte of each container is read to its end
 * without a crash (run it under the sanitizers), and what the reader returns stays within its own
 * bounds. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>
#include <string.h>

#include "core/intake/metadata.h"
#include "exif-writer.h"

static const SwInstant now = { G_GINT64_CONSTANT (1795608000000000) };

static const ExifFields full = {
  .orientation = 6,
  .make = "Kettle & Lamp",
  .model = "KL-7",
  .serial = "0042-b",
  .original = "2026:04:05 10:15:30",
  .original_offset = "+12:00",
  .original_sub = "25",
  .latitude_ref = "S",
  .longitude_ref = "E",
  .latitude = { 47, 1, 42, 1, 1133, 100 },
  .longitude = { 122, 1, 7, 1, 4141, 100 },
  .has_error = TRUE,
  .error = { 4813, 1000 },
};

static void
read_all (const guint8 *bytes, gsize n)
{
  g_auto (SwPhotoMeta) meta = { 0 };
  /* a copy of the exact length, so that a read past the end shows */
  g_autofree guint8 *copy = g_memdup2 (bytes, n);
  SwPeek peek = { copy, n, -1, n };

  sw_photo_meta_read (&peek, sw_sniff (copy, MIN (n, SW_SNIFF_BYTES), "a"), now, &meta);
  assert_in_range (meta.orientation, 1, 8);
  if (meta.has_clock)
    assert_true (sw_civil_valid (meta.clock));
  if (meta.has_position)
    assert_true (meta.latitude >= -90 && meta.latitude <= 90 && meta.longitude >= -180
                 && meta.longitude <= 180);
}

static void
cut_anywhere (void **state)
{
  for (int form = 0; form < N_FORMS; form++)
    {
      g_autoptr (GByteArray) file = photo_file_write ((FileForm)form, &full);

      for (gsize n = 0; n <= file->len; n++)
        read_all (file->data, n);
    }
}

static void
flip_any_byte (void **state)
{
  static const guint8 values[] = { 0x00, 0x01, 0x7F, 0x80, 0xFF };

  for (int form = 0; form < N_FORMS; form++)
    {
      g_autoptr (GByteArray) file = photo_file_write ((FileForm)form, &full);

      for (gsize i = 0; i < file->len; i++)
        for (gsize v = 0; v < G_N_ELEMENTS (values); v++)
          {
            guint8 kept = file->data[i];

            file->data[i] = values[v];
            read_all (file->data, file->len);
            file->data[i] = kept;
          }
    }
}

/* A header is enough: the tags come out of a file that ends behind them, with a remark. */
static void
header_without_picture (void **state)
{
  g_autoptr (GByteArray) block = exif_block_write (&full, FALSE);
  g_autoptr (GByteArray) file = photo_file_write (FORM_JPEG, &full);
  g_auto (SwPhotoMeta) meta = { 0 };
  gsize n = 12 + block->len;
  SwPeek peek = { file->data, n, -1, n };

  sw_photo_meta_read (&peek, SW_FILE_JPEG, now, &meta);
  assert_true (meta.has_clock && meta.has_offset && meta.has_position);
  assert_int_equal (meta.offset_s, 43200);
  assert_int_equal (meta.orientation, 6);
  assert_int_equal (meta.clock.micro, 250000);
  assert_string_equal (meta.make, "Kettle & Lamp");
  assert_string_equal (meta.serial, "0042-b");
  assert_int_equal (meta.remarks->len, 1);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (cut_anywhere),
    cmocka_unit_test (flip_any_byte),
    cmocka_unit_test (header_without_picture),
  };

  return cmocka_run_group_tests_name ("hostile-photos", tests, NULL, NULL);
}
