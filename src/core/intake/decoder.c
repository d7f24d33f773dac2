/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parent's side of the decode helpers: starts them when needed, hands each one picture at a
 * time, and replaces one that died or took too long. Looks at no pixel itself. */
#include "core/intake/decoder.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/intake/decode-helper.h"
#include "core/intake/decode-reply.h"
#include "core/intake/sniff.h"

#define PICTURE_TIMEOUT_US (60 * G_USEC_PER_SEC)

typedef struct
{
  GPid pid; /* 0: not running */
  int fd;
  gboolean busy;
} Helper;

struct _SwDecoder
{
  char *program;
  GMutex lock;
  GCond freed;
  Helper *helpers;
  guint n;
  gint64 patience_us; /* for one picture */
};

void
sw_picture_free (SwPicture *picture)
{
  if (picture == NULL)
    return;
  g_clear_pointer (&picture->rgb, g_bytes_unref);
  g_clear_pointer (&picture->codes, g_ptr_array_unref);
  g_free (picture);
}

/* /proc/self/exe is resolved in the child between fork and exec, where it still is this program. */
static char *usual_program;

void
sw_decoder_set_program (const char *program)
{
  g_free (usual_program);
  usual_program = g_strdup (program);
}

SwDecoder *
sw_decoder_new (const char *program, guint n_helpers)
{
  SwDecoder *decoder = g_new0 (SwDecoder, 1);

  decoder->patience_us = PICTURE_TIMEOUT_US;
  if (program == NULL)
    program = usual_program != NULL ? usual_program : "/proc/self/exe";
  decoder->program = g_strdup (program);
  decoder->n = n_helpers > 0 ? n_helpers : MAX (g_get_num_processors (), 1);
  decoder->helpers = g_new0 (Helper, decoder->n);
  g_mutex_init (&decoder->lock);
  g_cond_init (&decoder->freed);
  return decoder;
}

void
sw_decoder_set_patience (SwDecoder *decoder, gint64 patience_us)
{
  decoder->patience_us = patience_us;
}

guint
sw_decoder_n_helpers (const SwDecoder *decoder)
{
  return decoder->n;
}

static void
stop_helper (Helper *helper, gboolean at_once)
{
  if (helper->pid == 0)
    return;
  close (helper->fd);
  if (at_once)
    kill (helper->pid, SIGKILL);
  while (waitpid (helper->pid, NULL, 0) < 0 && errno == EINTR)
    continue;
  helper->pid = 0;
}

void
sw_decoder_free (SwDecoder *decoder)
{
  if (decoder == NULL)
    return;
  for (guint i = 0; i < decoder->n; i++)
    stop_helper (&decoder->helpers[i], FALSE);
  g_mutex_clear (&decoder->lock);
  g_cond_clear (&decoder->freed);
  g_free (decoder->helpers);
  g_free (decoder->program);
  g_free (decoder);
}

static gboolean
start_helper (SwDecoder *decoder, Helper *helper, GError **error)
{
  const char *argv[] = { decoder->program, "--decode", NULL };
  g_autoptr (GError) spawn_error = NULL;
  int ends[2];
  gboolean started;

  if (helper->pid != 0)
    return TRUE;
  if (socketpair (AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, ends) != 0)
    return sw_error_from_errno (error, errno,
                                _ ("The helper that decodes pictures could not start"));
  started = g_spawn_async_with_pipes_and_fds (
      NULL, argv, NULL, G_SPAWN_DO_NOT_REAP_CHILD | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, ends[1],
      ends[1], -1, NULL, NULL, 0, &helper->pid, NULL, NULL, NULL, &spawn_error);
  close (ends[1]);
  if (!started)
    {
      close (ends[0]);
      helper->pid = 0;
      g_set_error (error, SW_ERROR, SW_ERROR_FAILED,
                   _ ("The helper that decodes pictures could not start: %s."),
                   spawn_error->message);
      return FALSE;
    }
  helper->fd = ends[0];
  return TRUE;
}

static Helper *
take_helper (SwDecoder *decoder)
{
  Helper *found = NULL;

  g_mutex_lock (&decoder->lock);
  while (found == NULL)
    {
      for (guint i = 0; i < decoder->n && found == NULL; i++)
        if (!decoder->helpers[i].busy)
          found = &decoder->helpers[i];
      if (found == NULL)
        g_cond_wait (&decoder->freed, &decoder->lock);
    }
  found->busy = TRUE;
  g_mutex_unlock (&decoder->lock);
  return found;
}

static void
give_helper (SwDecoder *decoder, Helper *helper)
{
  g_mutex_lock (&decoder->lock);
  helper->busy = FALSE;
  g_cond_signal (&decoder->freed);
  g_mutex_unlock (&decoder->lock);
}

static gboolean
send_request (int socket_fd, const SwDecodeRequest *request, int fd)
{
  union
  {
    char room[CMSG_SPACE (sizeof (int))];
    struct cmsghdr align;
  } control = { 0 };
  struct iovec io = { (void *)request, sizeof *request };
  struct msghdr message = { .msg_iov = &io,
                            .msg_iovlen = 1,
                            .msg_control = control.room,
                            .msg_controllen = sizeof control.room };
  struct cmsghdr *c = CMSG_FIRSTHDR (&message);
  ssize_t n;

  c->cmsg_level = SOL_SOCKET;
  c->cmsg_type = SCM_RIGHTS;
  c->cmsg_len = CMSG_LEN (sizeof (int));
  memcpy (CMSG_DATA (c), &fd, sizeof (int));
  do
    n = sendmsg (socket_fd, &message, MSG_NOSIGNAL);
  while (n < 0 && errno == EINTR);
  return n == (ssize_t)sizeof *request;
}

/* One exchange; what it gives back is that of sw_decode_reply_take. */
static SwPicture *
exchange (SwDecoder *decoder, Helper *helper, const SwDecodeRequest *request, int fd,
          GCancellable *cancellable, SwDecodeStatus *out_status, gboolean *out_alive)
{
  gint64 deadline = g_get_monotonic_time () + decoder->patience_us;

  *out_alive = FALSE;
  *out_status = SW_DECODE_BAD;
  return send_request (helper->fd, request, fd) ? sw_decode_reply_take (
             helper->fd, request, deadline, cancellable, out_status, out_alive)
                                                : NULL;
}

static void
set_decode_error (const char *path, SwDecodeStatus status, GCancellable *cancellable,
                  GError **error)
{
  g_autofree char *base = g_path_get_basename (path);
  g_autofree char *name = sw_text_printable (base, -1);

  if (g_cancellable_is_cancelled (cancellable))
    g_set_error_literal (error, SW_ERROR, SW_ERROR_CANCELLED,
                         _ ("Stopped before all was decoded."));
  else if (status == SW_DECODE_TOO_LARGE)
    g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                 _ ("%s says it is larger than 250 megapixels and is not shown; the file is kept."),
                 name);
  else
    g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                 _ ("No picture can be made of %s: it is damaged; the file is kept."), name);
}

/* 'request' is whole but for the kind of file. */
static SwPicture *
decode_open_file (SwDecoder *decoder, int fd, const char *path, SwDecodeRequest *request,
                  GCancellable *cancellable, GError **error)
{
  guint8 head[SW_SNIFF_BYTES];
  ssize_t n = pread (fd, head, sizeof head, 0);
  SwDecodeStatus status = SW_DECODE_BAD;
  SwPicture *picture = NULL;
  gboolean alive = FALSE;
  Helper *helper;

  request->kind = (guint32)sw_sniff (head, n > 0 ? (gsize)n : 0, path);
  if (!sw_file_kind_is_photo ((SwFileKind)request->kind))
    {
      set_decode_error (path, status, NULL, error);
      return NULL;
    }
  helper = take_helper (decoder);
  if (!start_helper (decoder, helper, error))
    {
      give_helper (decoder, helper);
      return NULL;
    }
  picture = exchange (decoder, helper, request, fd, cancellable, &status, &alive);
  if (!alive)
    stop_helper (helper, TRUE);
  if (!alive && request->want_codes && !g_cancellable_is_cancelled (cancellable))
    {
      request->want_codes = 0;
      if (start_helper (decoder, helper, NULL))
        picture = exchange (decoder, helper, request, fd, cancellable, &status, &alive);
      if (!alive)
        stop_helper (helper, TRUE);
    }
  give_helper (decoder, helper);
  if (picture == NULL)
    set_decode_error (path, status, cancellable, error);
  return picture;
}

static int
open_photo (const char *path)
{
  return open (path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY);
}

static SwPicture *
decode_path (SwDecoder *decoder, const char *path, SwDecodeRequest *request,
             GCancellable *cancellable, GError **error)
{
  int fd = open_photo (path);
  SwPicture *picture;

  if (fd < 0)
    {
      g_autofree char *name = sw_text_printable (path, -1);
      g_autofree char *what = g_strdup_printf (_ ("The photo %s could not be read"), name);

      sw_error_from_errno (error, errno, what);
      return NULL;
    }
  request->magic = SW_DECODE_MAGIC;
  request->max_side = CLAMP (request->max_side, 1, SW_DECODE_MAX_SIDE);
  picture = decode_open_file (decoder, fd, path, request, cancellable, error);
  close (fd);
  return picture;
}

SwPicture *
sw_decoder_decode (SwDecoder *decoder, const char *path, int orientation, guint max_side,
                   GCancellable *cancellable, GError **error)
{
  SwDecodeRequest request = { .orientation = (guint32)orientation, .max_side = max_side };

  return decode_path (decoder, path, &request, cancellable, error);
}

SwPicture *
sw_decoder_decode_with_codes (SwDecoder *decoder, const char *path, int orientation, guint max_side,
                              GCancellable *cancellable, GError **error)
{
  SwDecodeRequest request
      = { .orientation = (guint32)orientation, .max_side = max_side, .want_codes = 1 };

  return decode_path (decoder, path, &request, cancellable, error);
}

SwPicture *
sw_decoder_decode_part (SwDecoder *decoder, const char *path, const SwDecodePart *part,
                        GCancellable *cancellable, GError **error)
{
  SwDecodeRequest request = { .orientation = (guint32)part->orientation,
                              .turn = (guint32)part->turn,
                              .max_side = part->max_side,
                              .want_part = 1,
                              .x = part->x,
                              .y = part->y,
                              .width = part->width,
                              .height = part->height };

  return decode_path (decoder, path, &request, cancellable, error);
}

/* ---- small pictures, several to an exchange ---- */

typedef struct
{
  SwSmallWish *wishes;
  int fds[SW_DECODE_AHEAD]; /* -1: not to be asked for */
  guint n;
  guint32 max_side;
} Run;

static SwDecodeRequest
small_request (const Run *run, guint i)
{
  return (SwDecodeRequest){ .magic = SW_DECODE_MAGIC,
                            .kind = SW_FILE_JPEG,
                            .max_side = run->max_side,
                            .orientation = (guint32)run->wishes[i].orientation,
                            .want_small = 1 };
}

static int
open_jpeg (const char *path)
{
  guint8 head[SW_SNIFF_BYTES];
  int fd = open_photo (path);
  ssize_t n = fd >= 0 ? pread (fd, head, sizeof head, 0) : 0;

  if (fd >= 0 && sw_sniff (head, n > 0 ? (gsize)n : 0, path) != SW_FILE_JPEG)
    {
      close (fd);
      fd = -1;
    }
  return fd;
}

/* Asks for all from 'at' on, then takes the replies. Returns the first one that has not got its
 * own, or n. */
static guint
ask_ahead (SwDecoder *decoder, Helper *helper, Run *run, guint at)
{
  guint sent = at;

  for (gboolean good = TRUE; good && sent < run->n; sent += good ? 1 : 0)
    if (run->fds[sent] >= 0)
      {
        SwDecodeRequest request = small_request (run, sent);
        good = send_request (helper->fd, &request, run->fds[sent]);
      }
  for (; at < sent; at++)
    {
      SwDecodeRequest request = small_request (run, at);
      gint64 deadline = g_get_monotonic_time () + decoder->patience_us;
      SwDecodeStatus status;
      gboolean alive = TRUE;

      if (run->fds[at] >= 0)
        run->wishes[at].picture
            = sw_decode_reply_take (helper->fd, &request, deadline, NULL, &status, &alive);
      if (!alive)
        break;
    }
  return at;
}

/* A helper that dies costs the picture that it owes; the others are asked for again. */
static void
read_run (SwDecoder *decoder, Run *run)
{
  Helper *helper = take_helper (decoder);

  for (guint at = 0; at < run->n && start_helper (decoder, helper, NULL); at++)
    {
      at = ask_ahead (decoder, helper, run, at);
      if (at < run->n)
        stop_helper (helper, TRUE);
    }
  give_helper (decoder, helper);
}

void
sw_decoder_read_small (SwDecoder *decoder, SwSmallWish *wishes, guint n, guint max_side)
{
  for (guint from = 0; from < n; from += SW_DECODE_AHEAD)
    {
      Run run = { .wishes = wishes + from,
                  .n = MIN (n - from, SW_DECODE_AHEAD),
                  .max_side = CLAMP (max_side, 1, SW_DECODE_MAX_SIDE) };
      gboolean any = FALSE;

      for (guint i = 0; i < run.n; i++)
        {
          run.wishes[i].picture = NULL;
          run.fds[i] = open_jpeg (run.wishes[i].path);
          any = any || run.fds[i] >= 0;
        }
      if (any)
        read_run (decoder, &run);
      for (guint i = 0; i < run.n; i++)
        if (run.fds[i] >= 0)
          close (run.fds[i]);
    }
}

guint
sw_dhash_distance (guint64 a, guint64 b)
{
  return (guint)__builtin_popcountll (a ^ b);
}

GBytes *
sw_likeness_pack (const SwPicture *picture)
{
  guint8 packed[72];

  for (int i = 0; i < 8; i++)
    packed[i] = (guint8)(picture->dhash >> (56 - 8 * i));
  memcpy (packed + 8, picture->grid, 64);
  return g_bytes_new (packed, sizeof packed);
}

gboolean
sw_likeness_unpack (GBytes *likeness, guint64 *out_dhash, guint8 out_grid[64])
{
  gsize n = 0;
  const guint8 *p = likeness != NULL ? g_bytes_get_data (likeness, &n) : NULL;

  if (n != 72)
    return FALSE;
  *out_dhash = 0;
  for (int i = 0; i < 8; i++)
    *out_dhash = *out_dhash << 8 | p[i];
  memcpy (out_grid, p + 8, 64);
  return TRUE;
}
