/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The process that decodes pictures for its parent. It opens nothing: files come as descriptors
 * over the socket, pixels go back over it. Whatever a hostile picture does to it, the parent loses
 * this one picture and starts another helper. */
#include "core/intake/decode-helper.h"

#include <errno.h>
#include <signal.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/intake/code-reader.h"
#include "core/intake/decode-fence.h"
#include "core/intake/decode-formats.h"
#include "core/intake/quality.h"
#include "core/intake/small-picture.h"

#define CPU_SECONDS_A_PICTURE 40
/* A hundred times what looking for codes takes. A picture made of their corners would take hours:
 * the parent then asks for it again without them. */
#define CPU_SECONDS_CODES 5
#define FILE_LIMIT (G_GINT64_CONSTANT (2) << 30)

/* A fresh allowance of processor time. */
static void
allow_cpu (guint seconds)
{
  struct rusage used;
  struct rlimit r = { RLIM_INFINITY, RLIM_INFINITY };

  if (getrusage (RUSAGE_SELF, &used) != 0)
    return;
  r.rlim_cur = (rlim_t)(used.ru_utime.tv_sec + used.ru_stime.tv_sec + seconds);
  setrlimit (RLIMIT_CPU, &r);
}

/* Receives a request and its descriptor. FALSE when the parent has hung up or speaks nonsense. */
static gboolean
receive (int fd_in, SwDecodeRequest *request, int *out_fd)
{
  union
  {
    char room[CMSG_SPACE (sizeof (int))];
    struct cmsghdr align;
  } control;
  struct iovec io = { request, sizeof *request };
  struct msghdr message = { .msg_iov = &io,
                            .msg_iovlen = 1,
                            .msg_control = control.room,
                            .msg_controllen = sizeof control.room };
  struct cmsghdr *c;
  ssize_t n;

  do
    n = recvmsg (fd_in, &message, MSG_CMSG_CLOEXEC | MSG_WAITALL);
  while (n < 0 && errno == EINTR);
  c = n > 0 ? CMSG_FIRSTHDR (&message) : NULL;
  if (c == NULL || c->cmsg_level != SOL_SOCKET || c->cmsg_type != SCM_RIGHTS
      || c->cmsg_len != CMSG_LEN (sizeof (int)))
    return FALSE;
  memcpy (out_fd, CMSG_DATA (c), sizeof (int));
  return n == (ssize_t)sizeof *request && request->magic == SW_DECODE_MAGIC
         && request->max_side >= 1 && request->max_side <= SW_DECODE_MAX_SIDE;
}

static gboolean
send_all (int fd, const void *data, gsize n)
{
  const guint8 *p = data;

  while (n > 0)
    {
      ssize_t sent = send (fd, p, n, MSG_NOSIGNAL);

      if (sent < 0 && errno == EINTR)
        continue;
      if (sent <= 0)
        return FALSE;
      p += sent;
      n -= (gsize)sent;
    }
  return TRUE;
}

/* What is measured of a picture for later comparing. */
static void
measure (const SwPixels *picture, SwDecodeReply *reply)
{
  g_auto (SwPixels) small = { 0 };
  guint w, h;

  reply->dhash = sw_pixels_dhash (picture);
  sw_pixels_grid (picture, reply->grid);
  sw_pixels_fit (picture->width, picture->height, SW_QUALITY_SIDE, &w, &h);
  if (w == picture->width && h == picture->height)
    {
      sw_quality_measure (picture, &reply->quality);
      return;
    }
  small = sw_pixels_shrink (picture, w, h);
  sw_quality_measure (&small, &reply->quality);
}

/* Scaled, upright; measured, or cut to the part that is wanted. */
static gboolean
finish (const SwDecodeRequest *request, SwPixels *decoded, SwDecodeReply *reply, SwPixels *out)
{
  int orientation = request->kind == SW_FILE_HEIF ? 1 : (int)request->orientation;
  gboolean swap;
  guint w, h;

  orientation = sw_orientation_turned (orientation, (int)request->turn);
  swap = orientation >= 5;
  if (MAX (decoded->width, decoded->height) > request->max_side)
    {
      SwPixels small;
      sw_pixels_fit (decoded->width, decoded->height, request->max_side, &w, &h);
      small = sw_pixels_shrink (decoded, w, h);
      sw_pixels_clear (decoded);
      *decoded = small;
    }
  if (swap)
    {
      guint32 width = reply->full_width;

      reply->full_width = reply->full_height;
      reply->full_height = width;
    }
  reply->scaled_width = swap ? decoded->height : decoded->width;
  reply->scaled_height = swap ? decoded->width : decoded->height;
  if (!request->want_part)
    *out = sw_pixels_upright (decoded, orientation);
  else if (request->x < reply->scaled_width && request->y < reply->scaled_height)
    *out = sw_pixels_upright_part (decoded, orientation, request->x, request->y, request->width,
                                   request->height);
  else
    return FALSE;
  reply->width = out->width;
  reply->height = out->height;
  if (!request->want_part && !request->want_small)
    measure (out, reply);
  return TRUE;
}

/* Reads no more than the head of the file. */
static void
decode_small (const SwDecodeRequest *request, int fd, guint64 size, SwDecodeReply *reply,
              SwPixels *decoded)
{
  g_autofree guint8 *head = g_malloc (SW_SMALL_PICTURE_HEAD);
  ssize_t n = pread (fd, head, SW_SMALL_PICTURE_HEAD, 0);
  SwPeek peek = { head, (gsize)MAX (n, 0), fd, size };

  reply->status = request->kind == SW_FILE_JPEG ? sw_small_picture_read (
                      &peek, request->max_side, decoded, &reply->full_width, &reply->full_height)
                                                : SW_DECODE_BAD;
}

/* Its own pixels, all of them. */
static void
decode_whole (const SwDecodeRequest *request, int fd, gsize size, SwDecodeReply *reply,
              SwPixels *decoded)
{
  guint side
      = request->want_codes ? MAX (request->max_side, SW_CODE_READER_SIDE) : request->max_side;
  void *map = mmap (NULL, size, PROT_READ, MAP_PRIVATE, fd, 0);

  if (map == MAP_FAILED)
    return;
  reply->status = sw_decode_bytes (map, size, (SwFileKind)request->kind, side, decoded,
                                   &reply->full_width, &reply->full_height);
  munmap (map, size);
  if (reply->status != SW_DECODE_OK || !request->want_codes)
    return;
  allow_cpu (CPU_SECONDS_CODES);
  reply->n_codes = sw_code_reader_read (decoded, reply->codes);
  allow_cpu (CPU_SECONDS_A_PICTURE);
}

static void
decode (const SwDecodeRequest *request, int fd, SwDecodeReply *reply, SwPixels *out)
{
  g_auto (SwPixels) decoded = { 0 };
  struct stat st;

  reply->status = SW_DECODE_BAD;
  if (fstat (fd, &st) != 0 || !S_ISREG (st.st_mode) || st.st_size <= 0 || st.st_size > FILE_LIMIT)
    return;
  if (request->want_small)
    decode_small (request, fd, (guint64)st.st_size, reply, &decoded);
  else
    decode_whole (request, fd, (gsize)st.st_size, reply, &decoded);
  if (reply->status != SW_DECODE_OK)
    return;
  if (!finish (request, &decoded, reply, out))
    reply->status = SW_DECODE_BAD;
}

int
sw_decode_helper_main (int fd_in, int fd_out)
{
  SwDecodeRequest request;
  int fd = -1;

  signal (SIGINT, SIG_IGN); /* the parent decides when we end */
  sw_decode_fence ();
  while (receive (fd_in, &request, &fd))
    {
      SwDecodeReply reply = { .magic = SW_DECODE_MAGIC };
      g_auto (SwPixels) pixels = { 0 };
      gboolean sent;

      allow_cpu (CPU_SECONDS_A_PICTURE);
      decode (&request, fd, &reply, &pixels);
      close (fd);
      fd = -1;
      sent = send_all (fd_out, &reply, sizeof reply);
      if (sent && reply.status == SW_DECODE_OK)
        sent = send_all (fd_out, pixels.rgb, (gsize)pixels.width * pixels.height * 3);
      if (!sent)
        break;
    }
  if (fd >= 0)
    close (fd);
  return 0;
}
