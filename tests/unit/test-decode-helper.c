/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The decode helper from within, in a thread of the test: what its client never sends, and what it
 * answers. Without its fence, which would shut the test in with it; what that keeps off is tried in
 * test-decode-fence, and the helper behind it in test-decoder. */
#include "sw-test.h"

#include <errno.h>
#include <fcntl.h>
#include <png.h>
#include <sys/socket.h>
#include <unistd.h>

#include "core/intake/decode-fence.h"
#include "core/intake/decode-helper.h"
#include "core/intake/sniff.h"

#define W 96
#define H 64

/* Linked in its place. */
guint __wrap_sw_decode_fence (void);
guint
__wrap_sw_decode_fence (void)
{
  return 0;
}

/* ---- a helper and the test's end of its socket ---- */

typedef struct
{
  int fd;
  int theirs;
  GThread *thread;
} Helper;

static gpointer
serve (gpointer data)
{
  int fd = ((Helper *)data)->theirs, status = sw_decode_helper_main (fd, fd);

  close (fd);
  return GINT_TO_POINTER (status);
}

static Helper *
helper_new (void)
{
  Helper *helper = g_new0 (Helper, 1);
  int pair[2];

  assert_int_equal (socketpair (AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, pair), 0);
  helper->fd = pair[0];
  helper->theirs = pair[1];
  helper->thread = g_thread_new ("helper", serve, helper);
  return helper;
}

/* Hangs up and waits for its end, which is in good order. */
static void
helper_free (Helper *helper)
{
  if (helper->fd >= 0)
    close (helper->fd);
  assert_int_equal (GPOINTER_TO_INT (g_thread_join (helper->thread)), 0);
  g_free (helper);
}

static SwDecodeRequest
request_of (SwFileKind kind, guint32 max_side)
{
  return (SwDecodeRequest){
    .magic = SW_DECODE_MAGIC, .kind = kind, .max_side = max_side, .orientation = 1
  };
}

static void
send_message (const Helper *helper, const void *bytes, gsize n, const int *fds, guint n_fds)
{
  union
  {
    char room[CMSG_SPACE (2 * sizeof (int))];
    struct cmsghdr align;
  } control = { { 0 } };
  struct iovec io = { (void *)bytes, n };
  struct msghdr message = { .msg_iov = &io, .msg_iovlen = 1 };

  if (n_fds > 0)
    {
      struct cmsghdr *c;

      message.msg_control = control.room;
      message.msg_controllen = CMSG_SPACE (n_fds * sizeof (int));
      c = CMSG_FIRSTHDR (&message);
      c->cmsg_level = SOL_SOCKET;
      c->cmsg_type = SCM_RIGHTS;
      c->cmsg_len = CMSG_LEN (n_fds * sizeof (int));
      memcpy (CMSG_DATA (c), fds, n_fds * sizeof (int));
    }
  assert_i64_equal (sendmsg (helper->fd, &message, MSG_NOSIGNAL), n);
}

/* FALSE where the helper hung up instead. */
static gboolean
take (const Helper *helper, void *to, gsize n)
{
  guint8 *p = to;

  while (n > 0)
    {
      ssize_t got = recv (helper->fd, p, n, 0);

      if (got < 0 && errno == EINTR)
        continue;
      if (got <= 0)
        return FALSE;
      p += got;
      n -= (gsize)got;
    }
  return TRUE;
}

/* Asks and takes the answer, its pixels into *out_rgb where there are any. */
static SwDecodeReply
ask (const Helper *helper, const SwDecodeRequest *request, int fd, guint8 **out_rgb)
{
  SwDecodeReply reply;

  send_message (helper, request, sizeof *request, &fd, 1);
  assert_true (take (helper, &reply, sizeof reply));
  assert_true (reply.magic == SW_DECODE_MAGIC);
  if (reply.status == SW_DECODE_OK)
    {
      gsize n = (gsize)reply.width * reply.height * 3;
      g_autofree guint8 *rgb = g_malloc (n);

      assert_true (take (helper, rgb, n));
      if (out_rgb != NULL)
        *out_rgb = g_steal_pointer (&rgb);
    }
  return reply;
}

/* A descriptor of a file of these bytes that has no name. */
static int
file_of (const void *bytes, gsize n)
{
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "sw-helper-XXXXXX", NULL);
  int fd = g_mkstemp_full (path, O_RDWR | O_CLOEXEC, 0600);

  assert_true (fd >= 0);
  assert_int_equal (g_unlink (path), 0);
  assert_i64_equal (write (fd, bytes, n), n);
  return fd;
}

/* ---- what it is asked ---- */

typedef enum
{
  NO_FILE,    /* no descriptor beside the message */
  TWO_FILES,  /* two of them */
  CUT_SHORT,  /* the message ends early */
  OTHER_MAKE, /* of another version of the program */
  NO_SIDE,
  HUGE_SIDE,
} Nonsense;

typedef struct
{
  const char *label;
  Nonsense what;
} NonsenseRow;

static const NonsenseRow nonsense_rows[] = {
  { "no descriptor", NO_FILE },     { "two descriptors", TWO_FILES },
  { "a cut message", CUT_SHORT },   { "another version", OTHER_MAKE },
  { "a side of nothing", NO_SIDE }, { "a side beyond any picture", HUGE_SIDE },
};

/* It hangs up without an answer and keeps no file open. */
static void
nonsense_ends_it (void **state)
{
  const NonsenseRow *row = *state;
  Helper *helper = helper_new ();
  SwDecodeRequest request = request_of (SW_FILE_PNG, 100);
  int pipe_fds[2], fds[2];
  guint8 byte;

  assert_int_equal (pipe (pipe_fds), 0);
  fds[0] = fds[1] = pipe_fds[1];
  if (row->what == OTHER_MAKE)
    request.magic++;
  if (row->what == NO_SIDE || row->what == HUGE_SIDE)
    request.max_side = row->what == NO_SIDE ? 0 : SW_DECODE_MAX_SIDE + 1;
  send_message (helper, &request, sizeof request - (row->what == CUT_SHORT ? 4 : 0), fds,
                row->what == NO_FILE     ? 0
                : row->what == TWO_FILES ? 2
                                         : 1);
  if (row->what == CUT_SHORT)
    assert_int_equal (shutdown (helper->fd, SHUT_WR), 0);
  assert_false (take (helper, &byte, 1));
  helper_free (helper);
  /* the writing end of the pipe that it was given is closed, so that the reading end sees its end
   */
  close (pipe_fds[1]);
  if (row->what != TWO_FILES)
    assert_i64_equal (read (pipe_fds[0], &byte, 1), 0);
  close (pipe_fds[0]);
}

typedef struct
{
  const char *label;
  SwFileKind kind;
  gint64 size; /* of a file of zeros; -1: a pipe */
} NoPictureRow;

static const NoPictureRow no_picture_rows[] = {
  { "a pipe", SW_FILE_JPEG, -1 },
  { "an empty file", SW_FILE_JPEG, 0 },
  { "a file over 2 GB", SW_FILE_JPEG, (G_GINT64_CONSTANT (2) << 30) + 1 },
  { "zeros said to be a JPEG", SW_FILE_JPEG, 4096 },
  { "zeros said to be a PNG", SW_FILE_PNG, 4096 },
  { "zeros said to be a TIFF", SW_FILE_TIFF, 4096 },
  { "zeros said to be a HEIC", SW_FILE_HEIF, 4096 },
  { "zeros said to be a WebP", SW_FILE_WEBP, 4096 },
  { "a clip", SW_FILE_CLIP, 4096 },
  { "a kind that is none", (SwFileKind)999, 4096 },
};

/* Its left half is black, its right half white. */
static int
grey_png (guint width, guint height)
{
  png_image image = {
    .version = PNG_IMAGE_VERSION, .width = width, .height = height, .format = PNG_FORMAT_GRAY
  };
  png_alloc_size_t n = 0;
  g_autofree guint8 *grey = g_malloc ((gsize)width * height);
  g_autofree guint8 *bytes = NULL;

  for (gsize i = 0; i < (gsize)width * height; i++)
    grey[i] = i % width < width / 2 ? 0 : 255;
  assert_true (png_image_write_to_memory (&image, NULL, &n, 0, grey, 0, NULL));
  bytes = g_malloc (n);
  assert_true (png_image_write_to_memory (&image, bytes, &n, 0, grey, 0, NULL));
  return file_of (bytes, n);
}

/* What is no picture is answered so, and the next one is decoded by the same helper. */
static void
no_picture_costs_itself_alone (void **state)
{
  const NoPictureRow *row = *state;
  Helper *helper = helper_new ();
  SwDecodeRequest request = request_of (row->kind, 100), good = request_of (SW_FILE_PNG, 100);
  int fds[2] = { -1, -1 }, fd, png = grey_png (W, H);

  if (row->size < 0)
    assert_int_equal (pipe (fds), 0);
  fd = row->size < 0 ? fds[0] : file_of ("", 0);
  if (row->size > 0)
    assert_int_equal (ftruncate (fd, row->size), 0);
  assert_i64_equal (ask (helper, &request, fd, NULL).status, SW_DECODE_BAD);
  assert_i64_equal (ask (helper, &good, png, NULL).status, SW_DECODE_OK);
  close (fd);
  if (fds[1] >= 0)
    close (fds[1]);
  close (png);
  helper_free (helper);
}

static void
a_small_picture_is_of_a_jpeg (void **state)
{
  Helper *helper = helper_new ();
  SwDecodeRequest request = request_of (SW_FILE_PNG, 100);
  int png = grey_png (W, H);

  request.want_small = 1;
  assert_i64_equal (ask (helper, &request, png, NULL).status, SW_DECODE_BAD);
  close (png);
  helper_free (helper);
}

/* A client that goes away before it read its picture: the helper ends too, and without a signal. */
static void
it_ends_with_its_client (void **state)
{
  Helper *helper = helper_new ();
  guint side = 2000; /* more pixels than a socket holds */
  SwDecodeRequest request = request_of (SW_FILE_PNG, side);
  int png = grey_png (side, side);
  SwDecodeReply reply;

  send_message (helper, &request, sizeof request, &png, 1);
  assert_true (take (helper, &reply, sizeof reply));
  assert_i64_equal (reply.status, SW_DECODE_OK);
  close (png);
  helper_free (helper);
}

/* ---- what it answers ---- */

/* All at once is asked of it: scaled, turned, measured. A quarter turn clockwise brings the black
 * left half to the top. */
static void
a_picture_is_scaled_turned_and_measured (void **state)
{
  Helper *helper = helper_new ();
  SwDecodeRequest request = request_of (SW_FILE_PNG, W / 2);
  g_autofree guint8 *rgb = NULL;
  int png = grey_png (W, H);
  SwDecodeReply reply;

  request.orientation = 6;
  request.want_codes = 1;
  reply = ask (helper, &request, png, &rgb);
  assert_i64_equal (reply.status, SW_DECODE_OK);
  assert_i64_equal (reply.width, H / 2);
  assert_i64_equal (reply.height, W / 2);
  assert_i64_equal (reply.full_width, H);
  assert_i64_equal (reply.full_height, W);
  assert_i64_equal (rgb[0], 0);
  assert_i64_equal (rgb[reply.width * reply.height * 3 - 1], 255);
  assert_i64_equal (reply.grid[0], 0);
  assert_i64_equal (reply.grid[63], 255);
  assert_in_range (reply.quality.mean, 126, 129);
  assert_i64_equal (reply.n_codes, 0);
  close (png);
  helper_free (helper);
}

/* A photo larger than measures are taken at has the measures of its smaller self. */
static void
measures_are_taken_at_one_size (void **state)
{
  Helper *helper = helper_new ();
  SwDecodeRequest large = request_of (SW_FILE_PNG, 1280), small = request_of (SW_FILE_PNG, 640);
  int png = grey_png (1280, 640);
  SwDecodeReply of_large = ask (helper, &large, png, NULL);
  SwDecodeReply of_small = ask (helper, &small, png, NULL);

  assert_i64_equal (of_large.width, 1280);
  assert_i64_equal (of_small.width, 640);
  assert_true (of_large.quality.sharpness == of_small.quality.sharpness);
  assert_true (of_large.quality.focus == of_small.quality.focus);
  close (png);
  helper_free (helper);
}

typedef struct
{
  const char *label;
  guint32 x, y, width, height, want_width, want_height; /* 0: refused */
} PartRow;

static const PartRow part_rows[] = {
  { "within", 10, 10, 20, 20, 20, 20 },
  { "over the edge", W - 5, H - 7, 20, 20, 5, 7 },
  { "all of it", 0, 0, W, H, W, H },
  { "right of it", W, 0, 20, 20, 0, 0 },
  { "below it", 0, H, 20, 20, 0, 0 },
  { "far away", G_MAXUINT32, G_MAXUINT32, G_MAXUINT32, G_MAXUINT32, 0, 0 },
};

static void
a_part_is_cut (void **state)
{
  const PartRow *row = *state;
  Helper *helper = helper_new ();
  SwDecodeRequest request = request_of (SW_FILE_PNG, W);
  int png = grey_png (W, H);
  SwDecodeReply reply;

  request.want_part = 1;
  request.x = row->x;
  request.y = row->y;
  request.width = row->width;
  request.height = row->height;
  reply = ask (helper, &request, png, NULL);
  assert_i64_equal (reply.status, row->want_width > 0 ? SW_DECODE_OK : SW_DECODE_BAD);
  assert_i64_equal (reply.width, row->want_width);
  assert_i64_equal (reply.height, row->want_height);
  close (png);
  helper_free (helper);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST_ROWS (tests, nonsense_ends_it, nonsense_rows);
  SW_TEST_ROWS (tests, no_picture_costs_itself_alone, no_picture_rows);
  SW_TEST (tests, a_small_picture_is_of_a_jpeg);
  SW_TEST (tests, it_ends_with_its_client);
  SW_TEST (tests, a_picture_is_scaled_turned_and_measured);
  SW_TEST (tests, measures_are_taken_at_one_size);
  SW_TEST_ROWS (tests, a_part_is_cut, part_rows);
  return sw_tests_run (tests, "decode-helper");
}
