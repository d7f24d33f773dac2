/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads the directories of a TIFF structure wherever they lie and gathers the tags that a bring-in
 * wants into one small block of the same byte order. TIFF 6.0 (1992), section 2: header, entries of
 * 12 bytes, values of at most 4 bytes in place. No chain of directories is followed further than to
 * the second, and else only the pointers to the Exif and GPS ones, so that a loop cannot arise. */
#include "core/intake/container.h"

#include <string.h>

#define MAX_ENTRIES 4096
/* No text or number that we read is longer. */
#define MAX_VALUE 1024

enum
{
  TAG_WIDTH = 0x0100,
  TAG_HEIGHT = 0x0101,
  TAG_STRIP_OFFSETS = 0x0111,
  TAG_TILE_OFFSETS = 0x0144,
  TAG_SMALL_OFFSET = 0x0201,
  TAG_SMALL_LENGTH = 0x0202,
  TAG_EXIF_IFD = 0x8769,
  TAG_GPS_IFD = 0x8825,
};

static const guint16 wanted_main[] = {
  TAG_WIDTH, TAG_HEIGHT, 0x010F, 0x0110, 0x0112, TAG_STRIP_OFFSETS, 0x0132, TAG_TILE_OFFSETS, 0,
};
static const guint16 wanted_exif[] = {
  0x9003, 0x9004, 0x9010, 0x9011, 0x9012, 0x9290, 0x9291, 0x9292, 0xA002, 0xA003, 0xA431, 0,
};
static const guint16 wanted_gps[] = {
  0x0001, 0x0002, 0x0003, 0x0004, 0x0007, 0x0009, 0x001D, 0x001F, 0,
};

/* Bytes of one value of each type, TIFF 6.0 and Exif 3.0 (129 = UTF-8). */
static guint
type_size (guint type)
{
  static const guint8 sizes[] = { 0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8 };

  if (type == 129)
    return 1;
  return type < G_N_ELEMENTS (sizes) ? sizes[type] : 0;
}

typedef struct
{
  const SwPeek *peek;
  guint64 base;
  gboolean big;      /* big-endian */
  gboolean cut;      /* something lies past the end of the file */
  guint32 exif, gps; /* pointers met in the first directory */
  guint width, height;
} Reader;

static guint
get16 (const Reader *r, const guint8 *p)
{
  return r->big ? (guint)p[0] << 8 | p[1] : (guint)p[1] << 8 | p[0];
}

static guint32
get32 (const Reader *r, const guint8 *p)
{
  return r->big ? (guint32)p[0] << 24 | (guint32)p[1] << 16 | (guint32)p[2] << 8 | p[3]
                : (guint32)p[3] << 24 | (guint32)p[2] << 16 | (guint32)p[1] << 8 | p[0];
}

static void
put16 (const Reader *r, guint8 *p, guint v)
{
  p[r->big ? 0 : 1] = (guint8)(v >> 8);
  p[r->big ? 1 : 0] = (guint8)v;
}

static void
put32 (const Reader *r, guint8 *p, guint32 v)
{
  for (int i = 0; i < 4; i++)
    p[r->big ? i : 3 - i] = (guint8)(v >> (24 - 8 * i));
}

static gboolean
is_wanted (const guint16 *wanted, guint tag)
{
  for (; *wanted != 0; wanted++)
    if (*wanted == tag)
      return TRUE;
  return FALSE;
}

/* One directory on its way into the new block: its entries, and the values that do not fit them. */
typedef struct
{
  GByteArray *entries;
  GByteArray *values; /* entries with long values hold offsets into this until placed */
  guint n;
} Gathered;

static void
add_entry (const Reader *r, Gathered *g, const guint8 *entry)
{
  guint type = get16 (r, entry + 2);
  guint64 bytes = (guint64)type_size (type) * get32 (r, entry + 4);
  guint8 copy[12];
  g_autofree guint8 *value = NULL;

  memcpy (copy, entry, sizeof copy);
  if (bytes > MAX_VALUE)
    {
      bytes = MAX_VALUE;
      put32 (r, copy + 4, MAX_VALUE / MAX (type_size (type), 1));
    }
  if (bytes > 4)
    {
      value = g_malloc (bytes);
      if (!sw_peek_read (r->peek, r->base + get32 (r, entry + 8), value, bytes))
        return;
      put32 (r, copy + 8, g->values->len);
      g_byte_array_append (g->values, value, (guint)bytes);
      if (bytes & 1)
        g_byte_array_append (g->values, (const guint8 *)"", 1);
    }
  g_byte_array_append (g->entries, copy, sizeof copy);
  g->n++;
}

static guint32
number_of (const Reader *r, const guint8 *entry)
{
  return get16 (r, entry + 2) == 3 ? get16 (r, entry + 8) : get32 (r, entry + 8);
}

static void
note_entry (Reader *r, const guint8 *entry)
{
  switch (get16 (r, entry))
    {
    case TAG_WIDTH:
      r->width = number_of (r, entry);
      break;
    case TAG_HEIGHT:
      r->height = number_of (r, entry);
      break;
    case TAG_EXIF_IFD:
      r->exif = get32 (r, entry + 8);
      break;
    case TAG_GPS_IFD:
      r->gps = get32 (r, entry + 8);
      break;
    case TAG_STRIP_OFFSETS:
    case TAG_TILE_OFFSETS:
      if (get32 (r, entry + 4) == 1 && r->base + number_of (r, entry) > r->peek->size)
        r->cut = TRUE;
      break;
    default:
      break;
    }
}

/* Gathers one directory; an unreachable one leaves 'g' empty. */
static void
gather_directory (Reader *r, guint32 offset, const guint16 *wanted, gboolean is_main, Gathered *g)
{
  guint8 count[2];
  guint n;

  if (offset == 0 || !sw_peek_read (r->peek, r->base + offset, count, 2))
    {
      r->cut = r->cut || offset != 0;
      return;
    }
  n = MIN (get16 (r, count), MAX_ENTRIES);
  for (guint i = 0; i < n; i++)
    {
      guint8 entry[12];

      if (!sw_peek_read (r->peek, r->base + offset + 2 + 12 * (guint64)i, entry, sizeof entry))
        {
          r->cut = TRUE;
          return;
        }
      if (is_main)
        note_entry (r, entry);
      if (is_wanted (wanted, get16 (r, entry)))
        add_entry (r, g, entry);
    }
}

static void
add_pointer (const Reader *r, Gathered *g, guint tag, guint32 offset)
{
  guint8 entry[12];

  put16 (r, entry, tag);
  put16 (r, entry + 2, 4);
  put32 (r, entry + 4, 1);
  put32 (r, entry + 8, offset);
  g_byte_array_append (g->entries, entry, sizeof entry);
  g->n++;
}

static guint32
length_of (const Gathered *g)
{
  return 2 + g->entries->len + 4 + g->values->len;
}

/* Writes a directory at the end of 'block', turning offsets into its values into offsets into the
 * block. */
static void
place_directory (const Reader *r, GByteArray *block, Gathered *g)
{
  guint32 values_at = block->len + 2 + g->entries->len + 4;
  guint8 b[4];

  put16 (r, b, g->n);
  g_byte_array_append (block, b, 2);
  for (guint i = 0; i < g->n; i++)
    {
      guint8 *entry = g->entries->data + 12 * i;
      guint64 bytes = (guint64)type_size (get16 (r, entry + 2)) * get32 (r, entry + 4);

      if (bytes > 4)
        put32 (r, entry + 8, get32 (r, entry + 8) + values_at);
    }
  if (g->n > 0)
    g_byte_array_append (block, g->entries->data, g->entries->len);
  put32 (r, b, 0);
  g_byte_array_append (block, b, 4);
  if (g->values->len > 0)
    g_byte_array_append (block, g->values->data, g->values->len);
}

static void
gathered_init (Gathered *g)
{
  g->entries = g_byte_array_new ();
  g->values = g_byte_array_new ();
  g->n = 0;
}

static void
gathered_clear (Gathered *g)
{
  g_byte_array_unref (g->entries);
  g_byte_array_unref (g->values);
}

static gboolean
begin (Reader *r, guint8 header[8])
{
  if (!sw_peek_read (r->peek, r->base, header, 8) || header[0] != header[1]
      || (header[0] != 'I' && header[0] != 'M'))
    return FALSE;
  r->big = header[0] == 'M';
  return TRUE;
}

GBytes *
sw_tiff_gather (const SwPeek *peek, guint64 base, guint *out_width, guint *out_height,
                gboolean *out_cut_short)
{
  Reader r = { .peek = peek, .base = base };
  Gathered all[3];
  GByteArray *block;
  guint8 header[8];
  guint32 at;

  if (!begin (&r, header))
    return NULL;
  put16 (&r, header + 2, 42);
  for (guint i = 0; i < 3; i++)
    gathered_init (&all[i]);
  gather_directory (&r, get32 (&r, header + 4), wanted_main, TRUE, &all[0]);
  gather_directory (&r, r.exif, wanted_exif, FALSE, &all[1]);
  gather_directory (&r, r.gps, wanted_gps, FALSE, &all[2]);

  put32 (&r, header + 4, 8);
  at = 8 + length_of (&all[0]) + 24;
  add_pointer (&r, &all[0], TAG_EXIF_IFD, at);
  add_pointer (&r, &all[0], TAG_GPS_IFD, at + length_of (&all[1]));
  block = g_byte_array_new ();
  g_byte_array_append (block, header, 8);
  for (guint i = 0; i < 3; i++)
    {
      place_directory (&r, block, &all[i]);
      gathered_clear (&all[i]);
    }
  *out_width = r.width;
  *out_height = r.height;
  *out_cut_short = r.cut;
  return g_byte_array_free_to_bytes (block);
}

/* The offset behind the entries of a directory: that of the next one. 0 where there is none. */
static guint32
following (const Reader *r, guint32 offset)
{
  guint8 b[4];

  if (offset == 0 || !sw_peek_read (r->peek, r->base + offset, b, 2)
      || !sw_peek_read (r->peek, r->base + offset + 2 + 12 * (guint64)get16 (r, b), b, 4))
    return 0;
  return get32 (r, b);
}

gboolean
sw_tiff_find_small (const SwPeek *peek, guint64 base, guint64 *out_at, guint32 *out_length)
{
  Reader r = { .peek = peek, .base = base };
  guint8 header[8], count[2];
  guint32 second, at = 0, length = 0;
  guint n;

  if (!begin (&r, header))
    return FALSE;
  second = following (&r, get32 (&r, header + 4));
  if (second == 0 || !sw_peek_read (peek, base + second, count, 2))
    return FALSE;
  n = MIN (get16 (&r, count), MAX_ENTRIES);
  for (guint i = 0; i < n; i++)
    {
      guint8 entry[12];

      if (!sw_peek_read (peek, base + second + 2 + 12 * (guint64)i, entry, sizeof entry))
        return FALSE;
      if (get16 (&r, entry) == TAG_SMALL_OFFSET)
        at = number_of (&r, entry);
      else if (get16 (&r, entry) == TAG_SMALL_LENGTH)
        length = number_of (&r, entry);
    }
  if (at == 0 || length == 0 || base + at > peek->size || length > peek->size - base - at)
    return FALSE;
  *out_at = base + at;
  *out_length = length;
  return TRUE;
}
