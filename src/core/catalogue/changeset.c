/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Walks over a changeset without acting on it; every length is checked against what is left. */
#include "core/catalogue/changeset.h"

#include <string.h>

/* Operations are SQLite's authorizer codes; value types are its datatype codes, 0 for 'not
 * changed'. */
enum
{
  OP_DELETE = 9,
  OP_INSERT = 18,
  OP_UPDATE = 23,
};
enum
{
  VALUE_UNDEFINED,
  VALUE_INTEGER,
  VALUE_FLOAT,
  VALUE_TEXT,
  VALUE_BLOB,
  VALUE_NULL,
};

#define COLUMNS_AT_MOST 2000

typedef struct
{
  const guint8 *at, *end;
} Reader;

static gboolean
take (Reader *reader, guint64 n)
{
  if ((guint64)(reader->end - reader->at) < n)
    return FALSE;
  reader->at += n;
  return TRUE;
}

static gboolean
take_byte (Reader *reader, guint8 *out)
{
  if (reader->at == reader->end)
    return FALSE;
  *out = *reader->at++;
  return TRUE;
}

/* SQLite's variable-length integer, of which nothing over 32 bits may occur here: at most five
 * bytes, high one first. */
static gboolean
take_varint (Reader *reader, guint64 *out)
{
  guint64 value = 0;
  for (int i = 0; i < 5; i++)
    {
      guint8 byte;
      if (!take_byte (reader, &byte))
        return FALSE;
      value = value << 7 | (byte & 0x7f);
      if ((byte & 0x80) == 0)
        {
          *out = value;
          return value <= G_MAXINT32;
        }
    }
  return FALSE;
}

static gboolean
take_value (Reader *reader)
{
  guint8 type;
  guint64 length;
  if (!take_byte (reader, &type))
    return FALSE;
  switch (type)
    {
    case VALUE_UNDEFINED:
    case VALUE_NULL:
      return TRUE;
    case VALUE_INTEGER:
    case VALUE_FLOAT:
      return take (reader, 8);
    case VALUE_TEXT:
    case VALUE_BLOB:
      return take_varint (reader, &length) && take (reader, length);
    default:
      return FALSE;
    }
}

static gboolean
take_record (Reader *reader, guint64 columns)
{
  for (guint64 i = 0; i < columns; i++)
    if (!take_value (reader))
      return FALSE;
  return TRUE;
}

/* 'T', the number of columns, a byte for each that says whether it is of the key, the table's name
 * ended by NUL. */
static gboolean
take_header (Reader *reader, guint64 *out_columns)
{
  if (!take_varint (reader, out_columns) || *out_columns == 0 || *out_columns > COLUMNS_AT_MOST
      || !take (reader, *out_columns))
    return FALSE;
  const guint8 *nul = memchr (reader->at, 0, (gsize)(reader->end - reader->at));
  return nul != NULL && take (reader, (guint64)(nul - reader->at) + 1);
}

static gboolean
take_change (Reader *reader, guint8 op, guint64 columns)
{
  if (columns == 0 || !take (reader, 1))
    return FALSE;
  if (op == OP_UPDATE)
    return take_record (reader, columns) && take_record (reader, columns);
  return (op == OP_INSERT || op == OP_DELETE) && take_record (reader, columns);
}

gboolean
sw_changeset_is_sound (GBytes *bytes)
{
  gsize size = 0;
  const guint8 *data = g_bytes_get_data (bytes, &size);
  Reader reader = { data, data + size };
  guint64 columns = 0;
  guint8 op;
  while (take_byte (&reader, &op))
    if (op == 'T' ? !take_header (&reader, &columns) : !take_change (&reader, op, columns))
      return FALSE;
  return size > 0 && size <= G_MAXINT32;
}
