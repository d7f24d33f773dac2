/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/intake/decode-reply.h"

#include <errno.h>
#include <math.h>
#include <poll.h>
#include <string.h>
#include <sys/socket.h>

#include "core/base/text.h"

#define POLL_MS 100

/* Receives exactly n bytes; FALSE on a dead helper, after the deadline, or when cancelled. */
static gboolean
receive (int fd, void *to, gsize n, gint64 deadline, GCancellable *cancellable)
{
  guint8 *p = to;

  while (n > 0)
    {
      struct pollfd wait = { fd, POLLIN, 0 };
      int ready = poll (&wait, 1, POLL_MS);
      ssize_t got;

      if (g_cancellable_is_cancelled (cancellable) || g_get_monotonic_time () > deadline)
        return FALSE;
      if (ready <= 0)
        continue;
      got = recv (fd, p, n, MSG_DONTWAIT);
      if (got < 0 && (errno == EINTR || errno == EAGAIN))
        continue;
      if (got <= 0)
        return FALSE;
      p += got;
      n -= (gsize)got;
    }
  return TRUE;
}

static GPtrArray *
codes_of (const SwDecodeReply *reply)
{
  GPtrArray *codes = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_photo_code_free);

  for (guint k = 0; k < MIN (reply->n_codes, SW_DECODE_CODES); k++)
    {
      SwPhotoCode *code = g_new0 (SwPhotoCode, 1);
      g_autofree char *text = g_strndup (reply->codes[k].text, SW_DECODE_CODE_MAX - 1);

      code->text = sw_text_printable (text, -1);
      code->share = (int)MIN (reply->codes[k].share, 1000);
      g_ptr_array_add (codes, code);
    }
  return codes;
}

/* It gets no more memory out of us than was asked for, and no size that cannot be reckoned with. */
static gboolean
is_sane_size (const SwDecodeRequest *request, const SwDecodeReply *reply)
{
  guint32 most_w = request->want_part ? request->width : request->max_side;
  guint32 most_h = request->want_part ? request->height : request->max_side;

  return reply->width >= 1 && reply->height >= 1 && reply->width <= most_w
         && reply->height <= most_h && (guint64)reply->width * reply->height <= SW_DECODE_MAX_PIXELS
         && reply->full_width >= 1 && reply->full_height >= 1
         && reply->full_width <= SW_DECODE_MAX_SIDE && reply->full_height <= SW_DECODE_MAX_SIDE
         && reply->scaled_width <= SW_DECODE_MAX_SIDE && reply->scaled_height <= SW_DECODE_MAX_SIDE;
}

static SwPhotoQuality
sane_quality (const SwPhotoQuality *said)
{
  return (SwPhotoQuality){
    .sharpness = isfinite (said->sharpness) ? MAX (said->sharpness, 0) : 0,
    .focus = isfinite (said->focus) ? MAX (said->focus, 0) : 0,
    .mean = CLAMP (said->mean, 0, 255),
    .dark = CLAMP (said->dark, 0, 1000),
    .bright = CLAMP (said->bright, 0, 1000),
    .covered = CLAMP (said->covered, 0, 1000),
  };
}

static SwPicture *
picture_of (const SwDecodeRequest *request, const SwDecodeReply *reply, guint8 *rgb_taken, gsize n)
{
  SwPicture *picture = g_new0 (SwPicture, 1);

  picture->width = reply->width;
  picture->height = reply->height;
  picture->full_width = reply->full_width;
  picture->full_height = reply->full_height;
  picture->rgb = g_bytes_new_take (rgb_taken, n);
  picture->dhash = reply->dhash;
  picture->scaled_width = reply->scaled_width;
  picture->scaled_height = reply->scaled_height;
  picture->quality = sane_quality (&reply->quality);
  memcpy (picture->grid, reply->grid, sizeof picture->grid);
  if (request->want_codes)
    picture->codes = codes_of (reply);
  return picture;
}

SwPicture *
sw_decode_reply_take (int fd, const SwDecodeRequest *request, gint64 deadline,
                      GCancellable *cancellable, SwDecodeStatus *out_status, gboolean *out_alive)
{
  SwDecodeReply reply;
  g_autofree guint8 *rgb = NULL;
  gsize n;

  *out_alive = FALSE;
  *out_status = SW_DECODE_BAD;
  if (!receive (fd, &reply, sizeof reply, deadline, cancellable) || reply.magic != SW_DECODE_MAGIC)
    return NULL;
  if (reply.status != SW_DECODE_OK)
    {
      *out_alive = TRUE;
      *out_status = reply.status == SW_DECODE_TOO_LARGE ? SW_DECODE_TOO_LARGE : SW_DECODE_BAD;
      return NULL;
    }
  if (!is_sane_size (request, &reply))
    return NULL;
  n = (gsize)reply.width * reply.height * 3;
  rgb = g_try_malloc (n);
  if (rgb == NULL || !receive (fd, rgb, n, deadline, cancellable))
    return NULL;
  *out_alive = TRUE;
  *out_status = SW_DECODE_OK;
  return picture_of (request, &reply, g_steal_pointer (&rgb), n);
}
