/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "exif-writer.h"

#include <string.h>
#include <turbojpeg.h>
#include <webp/encode.h>
#include <zlib.h>

const char *const form_extensions[N_FORMS] = { "jpg", "png", "tif", "webp", "heic" };

typedef struct
{
  GByteArray *entries, *values;
  guint n;
} Ifd;

static void
add_n (GByteArray *to, gboolean big, guint64 v, guint bytes)
{
  for (guint i = 0; i < bytes; i++)
    {
      guint8 b = (guint8)(v >> 8 * (big ? bytes - 1 - i : i));

      g_byte_array_append (to, &b, 1);
    }
}

static void
add_text (GByteArray *to, const char *text, gsize n)
{
  g_byte_array_append (to, (const guint8 *)text, (guint)n);
}

/* Entries must be added in the order of their tags; 'base' is where the values will begin. */
static void
entry (Ifd *ifd, gboolean big, guint tag, guint type, guint count, const GByteArray *value)
{
  add_n (ifd->entries, big, tag, 2);
  add_n (ifd->entries, big, type, 2);
  add_n (ifd->entries, big, count, 4);
  if (value->len <= 4)
    {
      g_byte_array_append (ifd->entries, value->data, value->len);
      add_n (ifd->entries, big, 0, 4 - value->len);
    }
  else
    {
      add_n (ifd->entries, big, 0x80000000u + ifd->values->len, 4);
      g_byte_array_append (ifd->values, value->data, value->len);
      if (value->len & 1)
        add_n (ifd->values, big, 0, 1);
    }
  ifd->n++;
}

static void
ascii (Ifd *ifd, gboolean big, guint tag, const char *text)
{
  g_autoptr (GByteArray) v = g_byte_array_new ();

  if (text == NULL)
    return;
  add_text (v, text, strlen (text) + 1);
  entry (ifd, big, tag, 2, v->len, v);
}

static void
number (Ifd *ifd, gboolean big, guint tag, guint type, guint32 value)
{
  g_autoptr (GByteArray) v = g_byte_array_new ();

  add_n (v, big, value, type == 3 ? 2 : 4);
  entry (ifd, big, tag, type, 1, v);
}

static void
rationals (Ifd *ifd, gboolean big, guint tag, const guint32 *pairs, guint n)
{
  g_autoptr (GByteArray) v = g_byte_array_new ();

  for (guint i = 0; i < 2 * n; i++)
    add_n (v, big, pairs[i], 4);
  entry (ifd, big, tag, 5, n, v);
}

static guint
ifd_length (const Ifd *ifd)
{
  return ifd->n == 0 ? 0 : 2 + ifd->entries->len + 4 + ifd->values->len;
}

static void
place (GByteArray *out, Ifd *ifd, gboolean big)
{
  guint32 values_at = out->len + 2 + ifd->entries->len + 4;

  if (ifd->n == 0)
    return;
  add_n (out, big, ifd->n, 2);
  for (guint i = 0; i < ifd->n; i++)
    {
      guint8 *p = ifd->entries->data + 12 * i + 8;
      guint32 v = 0;

      for (guint j = 0; j < 4; j++)
        v |= (guint32)p[j] << 8 * (big ? 3 - j : j);
      if (!(v & 0x80000000u))
        continue;
      v = (v & 0x7FFFFFFFu) + values_at;
      for (guint j = 0; j < 4; j++)
        p[j] = (guint8)(v >> 8 * (big ? 3 - j : j));
    }
  g_byte_array_append (out, ifd->entries->data, ifd->entries->len);
  add_n (out, big, 0, 4);
  g_byte_array_append (out, ifd->values->data, ifd->values->len);
}

static Ifd
ifd_new (void)
{
  return (Ifd){ g_byte_array_new (), g_byte_array_new (), 0 };
}

static void
ifd_free (Ifd *ifd)
{
  g_byte_array_unref (ifd->entries);
  g_byte_array_unref (ifd->values);
}

static void
fill_exif (Ifd *ifd, const ExifFields *f)
{
  gboolean big = f->big_endian;

  ascii (ifd, big, 0x9003, f->original);
  ascii (ifd, big, 0x9004, f->digitized);
  ascii (ifd, big, 0x9010, f->modified_offset);
  ascii (ifd, big, 0x9011, f->original_offset);
  ascii (ifd, big, 0x9012, f->digitized_offset);
  ascii (ifd, big, 0x9290, f->modified_sub);
  ascii (ifd, big, 0x9291, f->original_sub);
  ascii (ifd, big, 0x9292, f->digitized_sub);
  ascii (ifd, big, 0xA431, f->serial);
}

static void
fill_gps (Ifd *ifd, const ExifFields *f)
{
  gboolean big = f->big_endian;

  if (f->latitude_ref == NULL)
    return;
  ascii (ifd, big, 1, f->latitude_ref);
  rationals (ifd, big, 2, f->latitude, 3);
  ascii (ifd, big, 3, f->longitude_ref);
  rationals (ifd, big, 4, f->longitude, 3);
  if (f->has_error)
    rationals (ifd, big, 0x1F, f->error, 1);
}

/* The first directory; as a file it also describes a picture of 2 x 1 black pixels in one strip. */
static void
fill_main (Ifd *ifd, const ExifFields *f, gboolean as_file, guint32 strip, guint32 exif,
           guint32 gps)
{
  gboolean big = f->big_endian;

  if (as_file)
    {
      number (ifd, big, 0x0100, 3, 2);
      number (ifd, big, 0x0101, 3, 1);
      number (ifd, big, 0x0102, 3, 8);
      number (ifd, big, 0x0103, 3, 1);
      number (ifd, big, 0x0106, 3, 1);
    }
  ascii (ifd, big, 0x010F, f->make);
  ascii (ifd, big, 0x0110, f->model);
  if (as_file)
    number (ifd, big, 0x0111, 4, strip);
  if (f->orientation >= 0)
    number (ifd, big, 0x0112, 3, (guint32)f->orientation);
  if (as_file)
    {
      number (ifd, big, 0x0115, 3, 1);
      number (ifd, big, 0x0116, 3, 1);
      number (ifd, big, 0x0117, 4, 2);
    }
  ascii (ifd, big, 0x0132, f->modified);
  if (exif != 0)
    number (ifd, big, 0x8769, 4, exif);
  if (gps != 0)
    number (ifd, big, 0x8825, 4, gps);
}

GByteArray *
exif_block_write (const ExifFields *f, gboolean as_tiff_file)
{
  GByteArray *out = g_byte_array_new ();
  gboolean big = f->big_endian;
  Ifd exif = ifd_new (), gps = ifd_new (), main_ifd = ifd_new ();
  guint32 start = as_tiff_file ? 12 : 8, exif_at, gps_at;

  fill_exif (&exif, f);
  fill_gps (&gps, f);
  fill_main (&main_ifd, f, as_tiff_file, 8, exif.n, gps.n);
  exif_at = start + ifd_length (&main_ifd);
  gps_at = exif_at + ifd_length (&exif);
  ifd_free (&main_ifd);
  main_ifd = ifd_new ();
  fill_main (&main_ifd, f, as_tiff_file, 8, exif.n > 0 ? exif_at : 0, gps.n > 0 ? gps_at : 0);

  add_text (out, big ? "MM\0*" : "II*\0", 4);
  add_n (out, big, start, 4);
  if (as_tiff_file)
    add_n (out, big, 0, 4);
  place (out, &main_ifd, big);
  place (out, &exif, big);
  place (out, &gps, big);
  ifd_free (&main_ifd);
  ifd_free (&exif);
  ifd_free (&gps);
  return out;
}

static const guint8 grey[48] = { 128 };

GByteArray *
photo_jpeg_write (const GByteArray *block, const guint8 *rgb, int width, int height, int quality)
{
  GByteArray *out = g_byte_array_new ();
  tjhandle tj = tjInitCompress ();
  unsigned char *jpeg = NULL;
  unsigned long size = 0;

  tjCompress2 (tj, rgb, width, 0, height, TJPF_RGB, &jpeg, &size, TJSAMP_420, quality, 0);
  add_text (out, "\xFF\xD8\xFF\xE1", 4);
  add_n (out, TRUE, block->len + 8, 2);
  add_text (out, "Exif\0\0", 6);
  g_byte_array_append (out, block->data, block->len);
  g_byte_array_append (out, jpeg + 2, (guint)size - 2);
  tjFree (jpeg);
  tjDestroy (tj);
  return out;
}

static void
png_chunk (GByteArray *out, const char *type, const guint8 *data, guint length)
{
  uLong crc = crc32 (0, (const Bytef *)type, 4);

  add_n (out, TRUE, length, 4);
  add_text (out, type, 4);
  if (length > 0)
    {
      g_byte_array_append (out, data, length);
      crc = crc32 (crc, data, length);
    }
  add_n (out, TRUE, crc, 4);
}

static GByteArray *
write_png (const GByteArray *block)
{
  static const guint8 header[13] = { 0, 0, 0, 1, 0, 0, 0, 1, 8, 0, 0, 0, 0 };
  static const guint8 row[2] = { 0, 128 };
  GByteArray *out = g_byte_array_new ();
  Bytef packed[64];
  uLongf n = sizeof packed;

  compress (packed, &n, row, sizeof row);
  add_text (out, "\x89PNG\r\n\x1A\n", 8);
  png_chunk (out, "IHDR", header, sizeof header);
  png_chunk (out, "eXIf", block->data, block->len);
  png_chunk (out, "IDAT", packed, (guint)n);
  png_chunk (out, "IEND", NULL, 0);
  return out;
}

static void
riff_chunk (GByteArray *out, const char *type, const guint8 *data, guint length)
{
  add_text (out, type, 4);
  add_n (out, FALSE, length, 4);
  g_byte_array_append (out, data, length);
  if (length & 1)
    add_n (out, FALSE, 0, 1);
}

static GByteArray *
write_webp (const GByteArray *block)
{
  static const guint8 extended[10] = { 0x08, 0, 0, 0, 3, 0, 0, 3, 0, 0 }; /* Exif flag; 4 x 4 */
  GByteArray *out = g_byte_array_new ();
  guint8 *coded = NULL;
  gsize n = WebPEncodeRGB (grey, 4, 4, 12, 80, &coded);
  guint32 length;

  add_text (out, "RIFF\0\0\0\0WEBP", 12);
  riff_chunk (out, "VP8X", extended, sizeof extended);
  g_byte_array_append (out, coded + 12, (guint)n - 12);
  riff_chunk (out, "EXIF", block->data, block->len);
  WebPFree (coded);
  length = out->len - 8;
  for (guint i = 0; i < 4; i++)
    out->data[4 + i] = (guint8)(length >> 8 * i);
  return out;
}

static void
begin_box (GByteArray *out, const char *type, guint *mark)
{
  *mark = out->len;
  add_n (out, TRUE, 0, 4);
  add_text (out, type, 4);
}

static void
end_box (GByteArray *out, guint mark)
{
  guint32 n = out->len - mark;

  for (guint i = 0; i < 4; i++)
    out->data[mark + i] = (guint8)(n >> 8 * (3 - i));
}

static void
infe (GByteArray *out, guint id, const char *type)
{
  guint mark;

  begin_box (out, "infe", &mark);
  add_n (out, TRUE, 2u << 24, 4);
  add_n (out, TRUE, id, 2);
  add_n (out, TRUE, 0, 2);
  add_text (out, type, 4);
  add_n (out, TRUE, 0, 1);
  end_box (out, mark);
}

static void
iloc_item (GByteArray *out, guint id, guint32 offset, guint32 length)
{
  add_n (out, TRUE, id, 2);
  add_n (out, TRUE, 0, 2);
  add_n (out, TRUE, 1, 2);
  add_n (out, TRUE, offset, 4);
  add_n (out, TRUE, length, 4);
}

/* The meta box with two items: 1 the picture, 2 its Exif block at the given offset in the file. */
static void
heic_meta (GByteArray *out, guint32 data_at, guint32 exif_length)
{
  guint meta, box, inner;

  begin_box (out, "meta", &meta);
  add_n (out, TRUE, 0, 4);
  begin_box (out, "hdlr", &box);
  add_n (out, TRUE, 0, 8);
  add_text (out, "pict\0\0\0\0\0\0\0\0\0\0\0\0", 17);
  end_box (out, box);
  begin_box (out, "pitm", &box);
  add_n (out, TRUE, 0, 4);
  add_n (out, TRUE, 1, 2);
  end_box (out, box);
  begin_box (out, "iinf", &box);
  add_n (out, TRUE, 0, 4);
  add_n (out, TRUE, 2, 2);
  infe (out, 1, "hvc1");
  infe (out, 2, "Exif");
  end_box (out, box);
  begin_box (out, "iloc", &box);
  add_n (out, TRUE, 0, 4);
  add_n (out, TRUE, 0x4400, 2);
  add_n (out, TRUE, 2, 2);
  iloc_item (out, 1, data_at, 4);
  iloc_item (out, 2, data_at + 4, exif_length);
  end_box (out, box);
  begin_box (out, "iprp", &box);
  begin_box (out, "ipco", &inner);
  add_n (out, TRUE, 20, 4);
  add_text (out, "ispe\0\0\0\0\0\0\0\x04\0\0\0\x03", 16);
  end_box (out, inner);
  begin_box (out, "ipma", &inner);
  add_n (out, TRUE, 0, 4);
  add_n (out, TRUE, 1, 4);
  add_n (out, TRUE, 1, 2);
  add_n (out, TRUE, 1, 1);
  add_n (out, TRUE, 1, 1);
  end_box (out, inner);
  end_box (out, box);
  end_box (out, meta);
}

static GByteArray *
write_heic (const GByteArray *block)
{
  GByteArray *out = g_byte_array_new ();
  guint32 exif_length = 4 + 6 + block->len, data_at = 0;

  /* twice: the second time the offset of the data is known */
  for (int pass = 0; pass < 2; pass++)
    {
      guint box;

      g_byte_array_set_size (out, 0);
      begin_box (out, "ftyp", &box);
      add_text (out, "heic\0\0\0\0mif1heic", 16);
      end_box (out, box);
      heic_meta (out, data_at, exif_length);
      begin_box (out, "mdat", &box);
      data_at = out->len;
      add_n (out, TRUE, 0, 4);
      add_n (out, TRUE, 6, 4); /* exif_tiff_header_offset: "Exif\0\0" comes first */
      add_text (out, "Exif\0\0", 6);
      g_byte_array_append (out, block->data, block->len);
      end_box (out, box);
    }
  return out;
}

GByteArray *
photo_file_write (FileForm form, const ExifFields *fields)
{
  g_autoptr (GByteArray) block = exif_block_write (fields, form == FORM_TIFF);

  switch (form)
    {
    case FORM_JPEG:
      return photo_jpeg_write (block, grey, 4, 4, 80);
    case FORM_PNG:
      return write_png (block);
    case FORM_WEBP:
      return write_webp (block);
    case FORM_HEIC:
      return write_heic (block);
    case FORM_TIFF:
    case N_FORMS:
      break;
    }
  return g_steal_pointer (&block);
}
