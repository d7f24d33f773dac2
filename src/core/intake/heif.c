/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Boxes of HEIF files: ISO/IEC 14496-12 (box structure, meta, iinf, iloc) and ISO/IEC 23008-12
 * (ispe, Annex A.2.1: the Exif item). Reads the meta box whole into memory, bounded, and walks it
 * there; touches no pixels. */
#include "core/intake/container.h"
#include "core/base/language.h"

#include <string.h>

#define MAX_META (8u << 20)
#define MAX_BOXES 65536
#define MAX_EXIF_ITEM (1u << 20)

/* A stretch of memory that is read from the front; 'bad' once anything was missing. */
typedef struct
{
  const guint8 *p;
  gsize left;
  gboolean bad;
} Cursor;

static const guint8 *
take (Cursor *c, gsize n)
{
  const guint8 *p = c->p;

  if (c->bad || n > c->left)
    {
      c->bad = TRUE;
      return NULL;
    }
  c->p += n;
  c->left -= n;
  return p;
}

/* Big-endian number of 0 to 8 bytes; 0 once the cursor is bad. */
static guint64
take_n (Cursor *c, guint n)
{
  const guint8 *p = take (c, n);
  guint64 v = 0;

  for (guint i = 0; p != NULL && i < n; i++)
    v = v << 8 | p[i];
  return v;
}

typedef struct
{
  char type[4];
  Cursor body;
} Box;

static gboolean
next_box (Cursor *c, Box *out)
{
  guint64 size;
  gsize header = 8;
  const guint8 *p;

  if (c->bad || c->left < 8)
    return FALSE;
  size = take_n (c, 4);
  p = take (c, 4);
  if (p == NULL)
    return FALSE;
  memcpy (out->type, p, 4);
  if (size == 1)
    {
      size = take_n (c, 8);
      header = 16;
    }
  else if (size == 0)
    size = header + c->left;
  if (c->bad || size < header || size - header > c->left)
    return FALSE;
  out->body = (Cursor){ c->p, (gsize)(size - header), FALSE };
  take (c, (gsize)(size - header));
  return TRUE;
}

static gboolean
is_type (const Box *box, const char *type)
{
  return memcmp (box->type, type, 4) == 0;
}

static gboolean
find_box (Cursor in, const char *type, Cursor *out)
{
  Box box;

  for (int i = 0; i < MAX_BOXES && next_box (&in, &box); i++)
    if (is_type (&box, type))
      {
        *out = box.body;
        return TRUE;
      }
  return FALSE;
}

/* The id of the first item of type Exif; 0 where there is none. */
static guint32
exif_item (Cursor meta)
{
  Cursor iinf;
  guint version;
  Box box;

  if (!find_box (meta, "iinf", &iinf))
    return 0;
  version = (guint)take_n (&iinf, 1);
  take (&iinf, 3);
  take (&iinf, version == 0 ? 2 : 4);
  for (int i = 0; i < MAX_BOXES && next_box (&iinf, &box); i++)
    {
      guint32 id;
      const guint8 *type;

      if (!is_type (&box, "infe"))
        continue;
      version = (guint)take_n (&box.body, 1);
      take (&box.body, 3);
      if (version < 2)
        continue;
      id = (guint32)take_n (&box.body, version == 2 ? 2 : 4);
      take (&box.body, 2);
      type = take (&box.body, 4);
      if (type != NULL && memcmp (type, "Exif", 4) == 0)
        return id;
    }
  return 0;
}

/* Field sizes of an iloc box, in bytes. */
typedef struct
{
  guint version, offset, length, base, index;
} IlocForm;

/* Adds the bytes of one extent to 'data'. */
static gboolean
read_extent (const SwPeek *peek, const Cursor *idat, guint method, guint64 offset, guint64 length,
             GByteArray *data)
{
  guint old = data->len;

  if (length > MAX_EXIF_ITEM - old)
    return FALSE;
  g_byte_array_set_size (data, old + (guint)length);
  if (method == 0)
    return sw_peek_read (peek, offset, data->data + old, (gsize)length);
  if (method != 1 || idat->p == NULL || offset > idat->left || length > idat->left - offset)
    return FALSE;
  memcpy (data->data + old, idat->p + offset, (gsize)length);
  return TRUE;
}

/* Reads one item of iloc; its bytes go to 'data' if it is the wanted one. */
static gboolean
read_item (const SwPeek *peek, const Cursor *idat, const IlocForm *form, guint32 wanted,
           Cursor *iloc, GByteArray *data)
{
  guint32 id = (guint32)take_n (iloc, form->version < 2 ? 2 : 4);
  guint method = form->version > 0 ? (guint)take_n (iloc, 2) & 0xF : 0;
  guint64 base;
  guint n;

  take (iloc, 2);
  base = take_n (iloc, form->base);
  n = (guint)take_n (iloc, 2);
  for (guint i = 0; i < n && !iloc->bad; i++)
    {
      guint64 offset, length;

      take (iloc, form->version > 0 ? form->index : 0);
      offset = take_n (iloc, form->offset);
      length = take_n (iloc, form->length);
      if (id == wanted && !iloc->bad
          && (offset > G_MAXUINT64 - base
              || !read_extent (peek, idat, method, base + offset, length, data)))
        return FALSE;
    }
  return !iloc->bad;
}

static gboolean
read_exif_item (const SwPeek *peek, Cursor meta, guint32 wanted, GByteArray *data)
{
  Cursor iloc, idat = { NULL, 0, FALSE };
  IlocForm form;
  guint sizes;
  guint32 n;

  if (!find_box (meta, "iloc", &iloc))
    return FALSE;
  if (!find_box (meta, "idat", &idat))
    idat.p = NULL;
  form.version = (guint)take_n (&iloc, 1);
  take (&iloc, 3);
  sizes = (guint)take_n (&iloc, 2);
  form.offset = MIN (sizes >> 12 & 0xF, 8);
  form.length = MIN (sizes >> 8 & 0xF, 8);
  form.base = MIN (sizes >> 4 & 0xF, 8);
  form.index = MIN (sizes & 0xF, 8);
  n = (guint32)take_n (&iloc, form.version < 2 ? 2 : 4);
  for (guint32 i = 0; i < n && !iloc.bad; i++)
    if (!read_item (peek, &idat, &form, wanted, &iloc, data))
      return FALSE;
  return data->len > 0;
}

static guint32
primary_item (Cursor meta)
{
  Cursor pitm;
  guint version;

  if (!find_box (meta, "pitm", &pitm))
    return 0;
  version = (guint)take_n (&pitm, 1);
  take (&pitm, 3);
  return (guint32)take_n (&pitm, version == 0 ? 2 : 4);
}

/* Whether property 'index' (from 1) of ipco is an image size, and which. */
static gboolean
size_property (Cursor ipco, guint index, SwContainer *out)
{
  Box box;

  for (guint i = 1; i <= index && next_box (&ipco, &box); i++)
    if (i == index && is_type (&box, "ispe"))
      {
        take (&box.body, 4);
        out->width = (guint)take_n (&box.body, 4);
        out->height = (guint)take_n (&box.body, 4);
        return TRUE;
      }
  return FALSE;
}

/* Follows ipma from the primary item to its ispe. */
static void
read_size (Cursor meta, SwContainer *out)
{
  guint32 primary = primary_item (meta), n;
  Cursor iprp, ipco, ipma;
  guint version, flags;

  if (!find_box (meta, "iprp", &iprp) || !find_box (iprp, "ipco", &ipco)
      || !find_box (iprp, "ipma", &ipma))
    return;
  version = (guint)take_n (&ipma, 1);
  flags = (guint)take_n (&ipma, 3);
  n = (guint32)take_n (&ipma, 4);
  for (guint32 i = 0; i < n && !ipma.bad; i++)
    {
      guint32 id = (guint32)take_n (&ipma, version == 0 ? 2 : 4);
      guint links = (guint)take_n (&ipma, 1);

      for (guint j = 0; j < links && !ipma.bad; j++)
        {
          guint index = (guint)take_n (&ipma, flags & 1 ? 2 : 1) & (flags & 1 ? 0x7FFF : 0x7F);

          if (id == primary && size_property (ipco, index, out))
            return;
        }
    }
}

static void
take_exif_item (const SwPeek *peek, Cursor meta, guint32 id, SwContainer *out)
{
  g_autoptr (GByteArray) data = g_byte_array_new ();
  SwPeek inside = { .fd = -1 };
  guint64 start;

  if (!read_exif_item (peek, meta, id, data) || data->len < 12)
    {
      out->exif_broken = TRUE;
      return;
    }
  inside.head = data->data;
  inside.head_length = inside.size = data->len;
  start = 4
          + (guint64)((guint32)data->data[0] << 24 | (guint32)data->data[1] << 16
                      | (guint32)data->data[2] << 8 | data->data[3]);
  if (start > data->len)
    out->exif_broken = TRUE;
  else
    sw_container_take_exif (&inside, start, data->len - start, out);
}

/* Reads the header of the top-level box at 'offset'; its whole size and the length of the header
 * come back. */
static gboolean
top_box (const SwPeek *peek, guint64 offset, char type[4], guint64 *out_size, guint *out_header)
{
  guint8 b[16];
  Cursor c = { b, 16, FALSE };
  guint64 size;

  if (!sw_peek_read (peek, offset, b, 8))
    return FALSE;
  size = take_n (&c, 4);
  memcpy (type, b + 4, 4);
  *out_header = 8;
  if (size == 1)
    {
      if (!sw_peek_read (peek, offset, b, 16))
        return FALSE;
      size = take_n (&c, 8);
      *out_header = 16;
    }
  else if (size == 0)
    size = peek->size - offset;
  *out_size = size;
  return size >= *out_header;
}

static void
read_meta (const SwPeek *peek, guint64 offset, guint64 length, SwContainer *out)
{
  g_autofree guint8 *data = NULL;
  Cursor meta;
  guint32 id;

  if (length > MAX_META || length < 4)
    return;
  data = g_malloc (length);
  if (!sw_peek_read (peek, offset, data, (gsize)length))
    {
      out->cut_short = TRUE;
      return;
    }
  meta = (Cursor){ data + 4, (gsize)length - 4, FALSE };
  read_size (meta, out);
  id = exif_item (meta);
  if (id != 0)
    take_exif_item (peek, meta, id, out);
}

void
sw_heif_read (const SwPeek *peek, SwContainer *out)
{
  guint64 offset = 0;
  gboolean data_found = FALSE;

  for (int i = 0; i < 256 && offset < peek->size; i++)
    {
      char type[4];
      guint64 size;
      guint header;

      if (!top_box (peek, offset, type, &size, &header))
        break;
      if (memcmp (type, "meta", 4) == 0)
        read_meta (peek, offset + header, size - header, out);
      else if (memcmp (type, "mdat", 4) == 0)
        data_found = TRUE;
      if (size > peek->size - offset)
        {
          out->cut_short = TRUE;
          break;
        }
      offset += size;
    }
  out->no_picture = !data_found;
}
