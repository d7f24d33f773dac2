/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Walks the boxes on disk, sixteen bytes a box: the movie box may lie behind gigabytes of media. */
#include "core/intake/movie-time.h"

#include <string.h>

/* More boxes side by side than any recorder writes; ends a walk through hostile ones. */
#define MAX_BOXES 4096

/* From 1904-01-01T00:00:00Z to 1970-01-01T00:00:00Z: 66 years, 17 of them leap years. */
#define SECONDS_1904_TO_1970 G_GUINT64_CONSTANT (2082844800)

typedef struct
{
  guint64 at, end; /* of what is inside the box */
} Span;

static guint64
big_endian (const guint8 *p, guint n)
{
  guint64 v = 0;

  for (guint i = 0; i < n; i++)
    v = v << 8 | p[i];
  return v;
}

/* The box that begins at 'at' and ends at 'end' at the latest. */
static gboolean
read_box (const SwPeek *peek, guint64 at, guint64 end, char *out_type, Span *out)
{
  guint8 head[16];
  guint64 size, header = 8;

  if (end - at < 8 || !sw_peek_read (peek, at, head, 8))
    return FALSE;
  size = big_endian (head, 4);
  memcpy (out_type, head + 4, 4);
  if (size == 1)
    {
      if (end - at < 16 || !sw_peek_read (peek, at + 8, head + 8, 8))
        return FALSE;
      size = big_endian (head + 8, 8);
      header = 16;
    }
  else if (size == 0) /* to the end */
    size = end - at;
  if (size < header || size > end - at)
    return FALSE;
  *out = (Span){ at + header, at + size };
  return TRUE;
}

static gboolean
find_box (const SwPeek *peek, Span in, const char *type, Span *out)
{
  guint64 at = in.at;

  for (guint i = 0; i < MAX_BOXES && at < in.end; i++)
    {
      char found[4];
      Span box;

      if (!read_box (peek, at, in.end, found, &box))
        return FALSE;
      if (memcmp (found, type, 4) == 0)
        {
          *out = box;
          return TRUE;
        }
      at = box.end;
    }
  return FALSE;
}

gboolean
sw_movie_time_read (const SwPeek *peek, SwInstant *out_made)
{
  Span file = { 0, peek->size }, movie, header;
  guint8 head[12];
  guint length; /* of the creation time, after version and flags */
  guint64 seconds;

  if (!find_box (peek, file, "moov", &movie) || !find_box (peek, movie, "mvhd", &header)
      || header.end - header.at < sizeof head || !sw_peek_read (peek, header.at, head, sizeof head))
    return FALSE;
  length = head[0] == 1 ? 8 : 4;
  seconds = big_endian (head + 4, length);
  if (seconds < SECONDS_1904_TO_1970 || seconds - SECONDS_1904_TO_1970 > G_MAXUINT32)
    return FALSE;
  *out_made = (SwInstant){ (gint64)(seconds - SECONDS_1904_TO_1970) * SW_US_PER_SECOND };
  return TRUE;
}
