/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes photo files for tests, tag by tag and byte by byte, after Exif 2.32 (CIPA DC-008, 2019),
 * TIFF 6.0 (1992), PNG (third edition, 2025), RFC 9649 (WebP) and ISO/IEC 23008-12 (HEIF).
 * Independent of the readers in src. */
#pragma once

#include <glib.h>

/* NULL texts and negative numbers are left out. */
typedef struct
{
  gboolean big_endian;
  int orientation;
  const char *make, *model, *serial;
  const char *original, *digitized, *modified;
  const char *original_offset, *digitized_offset, *modified_offset;
  const char *original_sub, *digitized_sub, *modified_sub;
  const char *latitude_ref, *longitude_ref;
  guint32 latitude[6], longitude[6]; /* numerator, denominator of degrees, minutes, seconds */
  gboolean has_error;
  guint32 error[2];
} ExifFields;

typedef enum
{
  FORM_JPEG,
  FORM_PNG,
  FORM_TIFF,
  FORM_WEBP,
  FORM_HEIC,
  N_FORMS,
} FileForm;

extern const char *const form_extensions[N_FORMS];

GByteArray *exif_block_write (const ExifFields *fields, gboolean as_tiff_file);
/* A whole file with one small picture (HEIC: a placeholder for its pixels). */
GByteArray *photo_file_write (FileForm form, const ExifFields *fields);
/* A JPEG of these pixels with the block in its APP1 segment. */
GByteArray *photo_jpeg_write (const GByteArray *block, const guint8 *rgb, int width, int height,
                              int quality);
