/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finds the Exif block and the size of the picture in JPEG, PNG and WebP files, and hands TIFF and
 * HEIF to their own readers. Each walk is bounded by a count of steps, so that a lying length costs
 * little. */
#include "core/intake/container.h"

#include <errno.h>
#include <string.h>
#include <unistd.h>

#define MAX_STEPS 512

static guint
be16 (const guint8 *p)
{
  return (guint)p[0] << 8 | p[1];
}

static guint32
be32 (const guint8 *p)
{
  return (guint32)p[0] << 24 | (guint32)p[1] << 16 | (guint32)p[2] << 8 | p[3];
}

static guint32
le32 (const guint8 *p)
{
  return (guint32)p[3] << 24 | (guint32)p[2] << 16 | (guint32)p[1] << 8 | p[0];
}

gboolean
sw_peek_read (const SwPeek *peek, guint64 offset, void *out, gsize length)
{
  guint8 *to = out;

  if (offset > peek->size || length > peek->size - offset)
    return FALSE;
  if (length <= peek->head_length && offset <= peek->head_length - length)
    {
      memcpy (out, peek->head + offset, length);
      return TRUE;
    }
  if (peek->fd < 0)
    return FALSE;
  while (length > 0)
    {
      ssize_t n = pread (peek->fd, to, length, (off_t)offset);

      if (n < 0 && errno == EINTR)
        continue;
      if (n <= 0)
        return FALSE;
      to += n;
      offset += (guint64)n;
      length -= (gsize)n;
    }
  return TRUE;
}

void
sw_container_take_exif (const SwPeek *peek, guint64 offset, guint64 length, SwContainer *out)
{
  SwPeek block = *peek; /* offsets must not lead out of the block */
  guint8 start[6];
  guint width, height;
  gboolean cut = FALSE;

  if (out->exif != NULL)
    return;
  if (length >= 14 && sw_peek_read (peek, offset, start, 6) && memcmp (start, "Exif\0\0", 6) == 0)
    {
      offset += 6;
      length -= 6;
    }
  if (length < 8 || offset > peek->size)
    {
      out->exif_broken = TRUE;
      return;
    }
  if (length > peek->size - offset)
    out->cut_short = TRUE;
  else
    block.size = offset + length;
  out->exif_at = offset;
  out->exif_end = block.size;
  out->exif = sw_tiff_gather (&block, offset, &width, &height, &cut);
  out->exif_broken = out->exif == NULL || cut;
}

static gboolean
is_frame_header (guint marker)
{
  return marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC;
}

/* One segment of a JPEG whose length field has been read. FALSE ends the walk. */
static gboolean
read_segment (const SwPeek *peek, guint marker, guint64 offset, guint length, SwContainer *out)
{
  guint8 b[6];

  if (marker == 0xE1 && length >= 8 && sw_peek_read (peek, offset, b, 6)
      && memcmp (b, "Exif\0", 5) == 0)
    sw_container_take_exif (peek, offset + 6, length - 6, out);
  if (is_frame_header (marker) && length >= 6 && sw_peek_read (peek, offset, b, 5))
    {
      out->height = be16 (b + 1);
      out->width = be16 (b + 3);
    }
  return marker != 0xDA;
}

/* ITU-T T.81 Annex B: markers, lengths big-endian and counting themselves. Fill bytes before a
 * marker allowed. */
static void
read_jpeg (const SwPeek *peek, SwContainer *out)
{
  guint64 offset = 2;
  gboolean scan_found = FALSE;

  for (int step = 0; step < MAX_STEPS; step++)
    {
      guint8 b[4];
      guint length;

      if (!sw_peek_read (peek, offset, b, 2))
        break;
      if (b[0] != 0xFF)
        break;
      if (b[1] == 0xFF || b[1] == 0x01 || (b[1] >= 0xD0 && b[1] <= 0xD8))
        {
          offset += b[1] == 0xFF ? 1 : 2;
          continue;
        }
      if (b[1] == 0xD9 || !sw_peek_read (peek, offset, b, 4))
        break;
      length = be16 (b + 2);
      if (length < 2)
        break;
      if (!read_segment (peek, b[1], offset + 4, length - 2, out))
        {
          scan_found = TRUE;
          out->pixels_at = offset;
          break;
        }
      offset += 2 + (guint64)length;
    }
  out->no_picture = !scan_found;
  if (offset > peek->size)
    out->cut_short = TRUE;
}

/* ISO/IEC 15948 (PNG), 5.3: length, type, data, CRC; eXIf anywhere between IHDR and IEND. */
static void
read_png (const SwPeek *peek, SwContainer *out)
{
  guint64 offset = 8;
  gboolean data_found = FALSE;

  for (int step = 0; step < 64 * MAX_STEPS; step++)
    {
      guint8 b[16];
      guint32 length;

      if (!sw_peek_read (peek, offset, b, 8))
        {
          out->cut_short = TRUE;
          break;
        }
      length = be32 (b);
      if (memcmp (b + 4, "IHDR", 4) == 0 && length >= 8
          && sw_peek_read (peek, offset + 8, b + 8, 8))
        {
          out->width = be32 (b + 8);
          out->height = be32 (b + 12);
        }
      else if (memcmp (b + 4, "eXIf", 4) == 0)
        sw_container_take_exif (peek, offset + 8, length, out);
      else if (memcmp (b + 4, "IDAT", 4) == 0)
        data_found = TRUE;
      else if (memcmp (b + 4, "IEND", 4) == 0)
        break;
      offset += 12 + (guint64)length;
    }
  out->no_picture = !data_found;
}

/* WebP container specification (RFC 9649), section 2: RIFF chunks, little-endian, padded to even
 * length. */
static void
read_webp (const SwPeek *peek, SwContainer *out)
{
  guint64 offset = 12;

  out->no_picture = TRUE;
  for (int step = 0; step < MAX_STEPS; step++)
    {
      guint8 b[18];
      guint32 length;

      if (!sw_peek_read (peek, offset, b, 8))
        break;
      length = le32 (b + 4);
      if (memcmp (b, "VP8X", 4) == 0 && sw_peek_read (peek, offset + 8, b + 8, 10))
        {
          out->width = ((guint)b[12] | (guint)b[13] << 8 | (guint)b[14] << 16) + 1;
          out->height = ((guint)b[15] | (guint)b[16] << 8 | (guint)b[17] << 16) + 1;
        }
      else if (memcmp (b, "EXIF", 4) == 0)
        sw_container_take_exif (peek, offset + 8, length, out);
      else if (memcmp (b, "VP8 ", 4) == 0 || memcmp (b, "VP8L", 4) == 0
               || memcmp (b, "ANMF", 4) == 0)
        {
          out->no_picture = FALSE;
          out->cut_short = offset + 8 + (guint64)length > peek->size;
        }
      if (memcmp (b, "VP8 ", 4) == 0 && out->width == 0
          && sw_peek_read (peek, offset + 8, b + 8, 10))
        {
          out->width = ((guint)b[14] | (guint)b[15] << 8) & 0x3FFF;
          out->height = ((guint)b[16] | (guint)b[17] << 8) & 0x3FFF;
        }
      else if (memcmp (b, "VP8L", 4) == 0 && out->width == 0
               && sw_peek_read (peek, offset + 8, b + 8, 5))
        {
          guint32 bits = le32 (b + 9);

          out->width = (bits & 0x3FFF) + 1;
          out->height = (bits >> 14 & 0x3FFF) + 1;
        }
      offset += 8 + (guint64)length + (length & 1);
    }
}

void
sw_container_read (const SwPeek *peek, SwFileKind kind, SwContainer *out)
{
  memset (out, 0, sizeof *out);
  switch (kind)
    {
    case SW_FILE_JPEG:
      read_jpeg (peek, out);
      break;
    case SW_FILE_PNG:
      read_png (peek, out);
      break;
    case SW_FILE_WEBP:
      read_webp (peek, out);
      break;
    case SW_FILE_TIFF:
    case SW_FILE_RAW:
      out->exif = sw_tiff_gather (peek, 0, &out->width, &out->height, &out->cut_short);
      break;
    case SW_FILE_HEIF:
      sw_heif_read (peek, out);
      break;
    case SW_FILE_OTHER:
    case SW_FILE_EMPTY:
    case SW_FILE_CLIP:
    case SW_FILE_MEMO:
      break;
    }
}

void
sw_container_clear (SwContainer *container)
{
  g_clear_pointer (&container->exif, g_bytes_unref);
}
