/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as what a decode helper answers: one that was taken over by the picture that it reads.
 * The first byte says what was asked for; of small pictures several replies may follow each other.
 */
#include "target.h"

#include <math.h>
#include <stdlib.h>
#include <sys/socket.h>
#include <unistd.h>

#include "core/intake/decode-reply.h"

#define SIDE 64

/* What the window and the database may lean on. */
static void
judge (const SwDecodeRequest *request, const SwPicture *picture)
{
  const SwPhotoQuality *q = &picture->quality;

  if (picture->width < 1 || picture->width > SIDE || picture->height < 1 || picture->height > SIDE
      || g_bytes_get_size (picture->rgb) != (gsize)picture->width * picture->height * 3)
    abort ();
  if (picture->full_width < 1 || picture->full_width > SW_DECODE_MAX_SIDE
      || picture->full_height < 1 || picture->full_height > SW_DECODE_MAX_SIDE
      || picture->scaled_width > SW_DECODE_MAX_SIDE || picture->scaled_height > SW_DECODE_MAX_SIDE)
    abort ();
  if (!isfinite (q->sharpness) || !isfinite (q->focus) || q->sharpness < 0 || q->focus < 0
      || q->mean < 0 || q->mean > 255 || q->dark < 0 || q->dark > 1000 || q->covered < 0
      || q->covered > 1000)
    abort ();
  if ((picture->codes != NULL) != (request->want_codes == 1))
    abort ();
  for (guint i = 0; picture->codes != NULL && i < picture->codes->len; i++)
    {
      const SwPhotoCode *code = picture->codes->pdata[i];

      if (!g_utf8_validate (code->text, -1, NULL) || code->share < 0 || code->share > 1000)
        abort ();
    }
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  SwDecodeRequest request = { .magic = SW_DECODE_MAGIC, .max_side = SIDE };
  gboolean alive = TRUE;
  guint asked;
  int ends[2];

  if (size < 1 || size > 100000)
    return 0;
  request.want_codes = data[0] & 1;
  request.want_part = data[0] >> 1 & 1;
  request.want_small = data[0] >> 2 & 1;
  request.width = request.height = SIDE;
  asked = request.want_small ? SW_DECODE_AHEAD : 1;
  if (socketpair (AF_UNIX, SOCK_STREAM, 0, ends) != 0
      || send (ends[1], data + 1, size - 1, MSG_NOSIGNAL) != (ssize_t)size - 1)
    abort ();
  close (ends[1]);
  for (guint i = 0; alive && i < asked; i++)
    {
      SwDecodeStatus status = SW_DECODE_OK;
      SwPicture *picture = sw_decode_reply_take (
          ends[0], &request, g_get_monotonic_time () + G_USEC_PER_SEC, NULL, &status, &alive);

      if ((picture != NULL) != (status == SW_DECODE_OK) || (picture != NULL && !alive))
        abort ();
      if (picture != NULL)
        judge (&request, picture);
      sw_picture_free (picture);
    }
  close (ends[0]);
  return 0;
}
