/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The small pictures that cameras put into the headers of their photos, read through the fenced
 * helper: which are shown, how they are cut and turned, and which are left alone. Exif 2.32 (CIPA
 * DC-008, 2019): 4.5.5 (where they lie), 4.6.4 (the tags, and orientation: where row 0 and column 0
 * lie). Shape: 160 x 120 whatever the photo's, with black bars (DCF 2.0, CIPA DC-009, 2010). */
#include "sw-test.h"

#include <sys/socket.h>
#include <sys/stat.h>
#include <turbojpeg.h>
#include <unistd.h>

#include "core/catalogue/thumb-store.h"
#include "core/intake/decode-helper.h"
#include "core/intake/decoder.h"
#include "core/intake/thumbs.h"
#include "exif-writer.h"

typedef enum
{
  AS_IS,
  NO_BLOCK, /* no small picture is named */
  CUT,      /* its last half is zeros */
  NO_JPEG,  /* other bytes */
  TOO_LONG, /* said to end one byte after its block */
  TOO_FAR,  /* said to begin beyond it */
  EMPTY,    /* said to have no bytes */
  LOOPING,  /* the second directory is the first again */
} Flaw;

typedef struct
{
  const char *label;
  int full_w, full_h; /* the photo, as stored */
  int w, h;           /* the small picture, as stored */
  int bar_x, bar_y;   /* black, on either side */
  int orientation;
  Flaw flaw;
  guint max_side;
  int want_w, want_h; /* 0: left alone */
} Case;

static const Case cases[] = {
  { "of the photo's shape", 800, 600, 160, 120, 0, 0, 1, AS_IS, 160, 160, 120 },
  { "asked for smaller", 800, 600, 160, 120, 0, 0, 1, AS_IS, 80, 80, 60 },
  { "larger, as phones write it", 1600, 1200, 512, 384, 0, 0, 1, AS_IS, 160, 160, 120 },
  { "never enlarged", 1600, 1200, 160, 120, 0, 0, 1, AS_IS, 640, 160, 120 },
  { "16:9 in its own shape", 1600, 900, 160, 90, 0, 0, 1, AS_IS, 160, 160, 90 },
  { "rounded to even lines", 1500, 1000, 160, 106, 0, 0, 1, AS_IS, 160, 160, 106 },
  { "3:2 between bars", 1500, 1000, 160, 120, 0, 7, 1, AS_IS, 160, 160, 106 },
  { "3:2 between bars of whole blocks", 1500, 1000, 160, 120, 0, 8, 1, AS_IS, 160, 160, 104 },
  { "16:9 between bars", 1600, 900, 160, 120, 0, 15, 1, AS_IS, 160, 160, 90 },
  { "square between bars", 900, 900, 160, 120, 20, 0, 1, AS_IS, 160, 120, 120 },
  { "upright between bars", 900, 1200, 160, 120, 35, 0, 1, AS_IS, 160, 90, 120 },
  { "turned", 800, 600, 160, 120, 0, 0, 6, AS_IS, 160, 120, 160 },
  { "turned the other way", 800, 600, 160, 120, 0, 0, 8, AS_IS, 160, 120, 160 },
  { "upside down", 800, 600, 160, 120, 0, 0, 3, AS_IS, 160, 160, 120 },
  { "mirrored", 800, 600, 160, 120, 0, 0, 2, AS_IS, 160, 160, 120 },
  { "turned, between bars", 1500, 1000, 160, 120, 0, 7, 6, AS_IS, 160, 106, 160 },
  { "none", 800, 600, 160, 120, 0, 0, 1, NO_BLOCK, 160, 0, 0 },
  { "of another shape", 1500, 1000, 160, 120, 0, 0, 1, AS_IS, 160, 0, 0 },
  { "of a shape close by", 1280, 1024, 160, 120, 0, 0, 1, AS_IS, 160, 0, 0 },
  { "of a photo that was cut square", 600, 600, 160, 120, 0, 0, 1, AS_IS, 160, 0, 0 },
  { "of a photo that was turned since", 600, 800, 160, 120, 0, 0, 1, AS_IS, 160, 0, 0 },
  { "bars too narrow", 1600, 900, 160, 120, 0, 7, 1, AS_IS, 160, 0, 0 },
  { "bars on the wrong sides", 900, 1200, 160, 120, 0, 35, 1, AS_IS, 160, 0, 0 },
  { "cut short", 800, 600, 160, 120, 0, 0, 1, CUT, 160, 0, 0 },
  { "no JPEG", 800, 600, 160, 120, 0, 0, 1, NO_JPEG, 160, 0, 0 },
  { "too long for its block", 800, 600, 160, 120, 0, 0, 1, TOO_LONG, 160, 0, 0 },
  { "beyond its block", 800, 600, 160, 120, 0, 0, 1, TOO_FAR, 160, 0, 0 },
  { "without bytes", 800, 600, 160, 120, 0, 0, 1, EMPTY, 160, 0, 0 },
  { "in a loop of directories", 800, 600, 160, 120, 0, 0, 1, LOOPING, 160, 0, 0 },
  { "no larger than a blot", 800, 600, 16, 12, 0, 0, 1, AS_IS, 160, 0, 0 },
  { "larger than any camera makes it", 4000, 3000, 1600, 1200, 0, 0, 1, AS_IS, 160, 0, 0 },
  { "larger than the photo", 120, 90, 160, 120, 0, 0, 1, AS_IS, 160, 0, 0 },
};

/* Quarters, red, green over blue, white, between black bars: every corner tells where it came
 * from. */
static guint8 *
quarters (int w, int h, int bar_x, int bar_y)
{
  static const guint8 colours[4][3]
      = { { 220, 20, 20 }, { 20, 220, 20 }, { 20, 20, 220 }, { 240, 240, 240 } };
  guint8 *rgb = g_malloc0 ((gsize)w * h * 3);

  for (int y = bar_y; y < h - bar_y; y++)
    for (int x = bar_x; x < w - bar_x; x++)
      memcpy (rgb + ((gsize)y * w + x) * 3, colours[(y >= h / 2) * 2 + (x >= w / 2)], 3);
  return rgb;
}

static void
put (GByteArray *to, gboolean big, guint32 v, guint bytes)
{
  for (guint i = 0; i < bytes; i++)
    {
      guint8 b = (guint8)(v >> 8 * (big ? bytes - 1 - i : i));
      g_byte_array_append (to, &b, 1);
    }
}

static void
put_entry (GByteArray *to, gboolean big, guint tag, guint type, guint32 value)
{
  put (to, big, tag, 2);
  put (to, big, type, 2);
  put (to, big, 1, 4);
  put (to, big, value, type == 3 ? 2 : 4);
  if (type == 3)
    put (to, big, 0, 2);
}

/* A first directory of one tag, a second that names the small picture, and that. */
static GByteArray *
block_with (const Case *c, gboolean big, const guint8 *jpeg, guint32 n)
{
  GByteArray *b = g_byte_array_new ();
  guint32 first = 8, second = first + 2 + 12 + 4, at = second + 2 + 3 * 12 + 4;
  guint32 following = c->flaw == NO_BLOCK ? 0 : c->flaw == LOOPING ? first : second;

  g_byte_array_append (b, (const guint8 *)(big ? "MM\0*" : "II*\0"), 4);
  put (b, big, first, 4);
  put (b, big, 1, 2);
  put_entry (b, big, 0x0112, 3, (guint32)c->orientation);
  put (b, big, following, 4);
  put (b, big, 3, 2);
  put_entry (b, big, 0x0103, 3, 6);
  put_entry (b, big, 0x0201, 4, c->flaw == TOO_FAR ? 0xFFFFFF00u : at);
  put_entry (b, big, 0x0202, 4, c->flaw == TOO_LONG ? n + 1 : c->flaw == EMPTY ? 0 : n);
  put (b, big, 0, 4);
  assert_i64_equal (b->len, at);
  g_byte_array_append (b, jpeg, n);
  return b;
}

static GByteArray *
photo_with (const Case *c, gboolean big)
{
  g_autofree guint8 *small = quarters (c->w, c->h, c->bar_x, c->bar_y);
  g_autofree guint8 *grey = g_malloc ((gsize)c->full_w * c->full_h * 3);
  g_autoptr (GByteArray) block = NULL;
  tjhandle tj = tjInitCompress ();
  unsigned char *jpeg = NULL;
  unsigned long n = 0;
  GByteArray *file;

  memset (grey, 110, (gsize)c->full_w * c->full_h * 3);
  assert_int_equal (tjCompress2 (tj, small, c->w, 0, c->h, TJPF_RGB, &jpeg, &n, TJSAMP_420, 75, 0),
                    0);
  if (c->flaw == CUT)
    memset (jpeg + n / 2, 0, n - n / 2);
  if (c->flaw == NO_JPEG)
    memset (jpeg, 'x', 3);
  block = block_with (c, big, jpeg, (guint32)n);
  file = photo_jpeg_write (block, grey, c->full_w, c->full_h, 80);
  tjFree (jpeg);
  tjDestroy (tj);
  return file;
}

static char *
write_photo (const char *folder, const char *name, const Case *c, gboolean big)
{
  char *path = g_build_filename (folder, name, NULL);
  g_autoptr (GByteArray) file = photo_with (c, big);

  assert_true (g_file_set_contents (path, (const char *)file->data, (gssize)file->len, NULL));
  return path;
}

static char *
new_folder (void)
{
  char *folder = g_dir_make_tmp ("sw-small-XXXXXX", NULL);

  assert_non_null (folder);
  return folder;
}

static void
remove_folder (const char *folder)
{
  const char *argv[] = { "rm", "-rf", folder, NULL };

  assert_true (g_spawn_sync (NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL,
                             NULL, NULL));
}

static int
quarter_at (const SwPicture *p, guint x, guint y)
{
  const guint8 *at
      = (const guint8 *)g_bytes_get_data (p->rgb, NULL) + ((gsize)y * p->width + x) * 3;

  if (at[0] > 150 && at[1] > 150 && at[2] > 150)
    return 3;
  return at[0] > 150 ? 0 : at[1] > 150 ? 1 : at[2] > 150 ? 2 : -1;
}

/* Which quarter stands top left, top right, bottom left, bottom right once upright, by the
 * standard's table. */
static const int upright[9][4] = {
  { 0 },          { 0, 1, 2, 3 }, { 1, 0, 3, 2 }, { 3, 2, 1, 0 }, { 2, 3, 0, 1 },
  { 0, 2, 1, 3 }, { 2, 0, 3, 1 }, { 3, 1, 2, 0 }, { 1, 3, 0, 2 },
};

/* Two pixels in from each corner: where a bar was left the corner is black. */
static void
check_corners (const SwPicture *p, int orientation)
{
  guint in = 2, w = p->width, h = p->height;

  assert_i64_equal (quarter_at (p, in, in), upright[orientation][0]);
  assert_i64_equal (quarter_at (p, w - 1 - in, in), upright[orientation][1]);
  assert_i64_equal (quarter_at (p, in, h - 1 - in), upright[orientation][2]);
  assert_i64_equal (quarter_at (p, w - 1 - in, h - 1 - in), upright[orientation][3]);
}

static void
is_shown_or_left_alone (void **state)
{
  const Case *c = *state;
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 1);
  g_autofree char *folder = new_folder ();

  for (int big = 0; big < 2; big++)
    {
      g_autofree char *path = write_photo (folder, "a.jpg", c, big);
      SwSmallWish wish = { path, c->orientation, NULL };

      sw_decoder_read_small (decoder, &wish, 1, c->max_side);
      assert_int_equal (wish.picture != NULL, c->want_w > 0);
      if (wish.picture != NULL)
        {
          assert_i64_equal (wish.picture->width, c->want_w);
          assert_i64_equal (wish.picture->height, c->want_h);
          assert_i64_equal (wish.picture->full_width, c->orientation >= 5 ? c->full_h : c->full_w);
          assert_true (wish.picture->dhash == 0); /* nothing is measured on it */
          check_corners (wish.picture, c->orientation);
        }
      sw_picture_free (wish.picture);
    }
  remove_folder (folder);
}

/* A night between bars: the bars are cut by the sum, not by where it becomes light. */
static void
a_dark_one_keeps_its_shape (void **state)
{
  Case c = { "", 1500, 1000, 160, 120, 80, 60, 1, AS_IS, 160, 0, 0 }; /* all of it black */
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 1);
  g_autofree char *folder = new_folder ();
  g_autofree char *path = write_photo (folder, "a.jpg", &c, FALSE);
  SwSmallWish wish = { path, 1, NULL };

  sw_decoder_read_small (decoder, &wish, 1, 160);
  assert_non_null (wish.picture);
  assert_i64_equal (wish.picture->width, 160);
  assert_in_range (wish.picture->height, 102, 108);
  sw_picture_free (wish.picture);
  remove_folder (folder);
}

/* ---- many at once ---- */

#define MANY 50

static void
many_come_in_their_order (void **state)
{
  Case c = cases[0];
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 1);
  g_autofree char *folder = new_folder ();
  SwSmallWish wishes[MANY];

  for (int i = 0; i < MANY; i++)
    {
      g_autofree char *name = g_strdup_printf ("%d.jpg", i);

      c.orientation = 1 + i % 8;
      wishes[i] = (SwSmallWish){ write_photo (folder, name, &c, FALSE), c.orientation, NULL };
      if (i % 10 == 3)
        assert_true (g_file_set_contents (wishes[i].path, "a text", -1, NULL));
      if (i % 10 == 7)
        assert_int_equal (g_unlink (wishes[i].path), 0);
    }
  sw_decoder_read_small (decoder, wishes, MANY, 160);
  for (int i = 0; i < MANY; i++)
    {
      assert_int_equal (wishes[i].picture != NULL, i % 10 != 3 && i % 10 != 7);
      if (wishes[i].picture != NULL)
        check_corners (wishes[i].picture, wishes[i].orientation);
      sw_picture_free (wishes[i].picture);
      g_free ((char *)wishes[i].path);
    }
  remove_folder (folder);
}

/* A helper for the test alone: it dies of a file whose last byte is 'X', and answers any other with
 * one pixel. */
static int
deadly_helper (void)
{
  for (;;)
    {
      union
      {
        char room[CMSG_SPACE (sizeof (int))];
        struct cmsghdr align;
      } control;
      SwDecodeRequest request;
      SwDecodeReply reply = {
        .magic = SW_DECODE_MAGIC, .width = 1, .height = 1, .full_width = 1, .full_height = 1
      };
      struct iovec io = { &request, sizeof request };
      struct msghdr message = { .msg_iov = &io,
                                .msg_iovlen = 1,
                                .msg_control = control.room,
                                .msg_controllen = sizeof control.room };
      struct stat st;
      char last = 0;
      int fd;

      const struct cmsghdr *c;

      if (recvmsg (0, &message, MSG_WAITALL) != (ssize_t)sizeof request
          || (c = CMSG_FIRSTHDR (&message)) == NULL)
        return 0;
      memcpy (&fd, CMSG_DATA (c), sizeof fd);
      if (fstat (fd, &st) != 0 || pread (fd, &last, 1, st.st_size - 1) != 1 || last == 'X')
        return 1;
      close (fd);
      if (send (1, &reply, sizeof reply, 0) != (ssize_t)sizeof reply || send (1, "rgb", 3, 0) != 3)
        return 1;
    }
}

static void
a_death_costs_one_picture (void **state)
{
  static const guint8 jpeg[] = { 0xFF, 0xD8, 0xFF, 0xE0, 0, 0 };
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *folder = new_folder ();
  g_autofree char *program = g_build_filename (folder, "deadly", NULL);
  g_autofree char *script = g_strdup_printf ("#!/bin/sh\nexec '%s' --deadly\n", self);
  g_autoptr (SwDecoder) decoder = sw_decoder_new (program, 1);
  SwSmallWish wishes[MANY];

  assert_true (
      g_file_set_contents_full (program, script, -1, G_FILE_SET_CONTENTS_NONE, 0700, NULL));
  for (int i = 0; i < MANY; i++)
    {
      g_autofree char *name = g_strdup_printf ("%d.jpg", i);
      guint8 bytes[sizeof jpeg + 1];

      memcpy (bytes, jpeg, sizeof jpeg);
      bytes[sizeof jpeg] = i == 0 || i == 20 || i == 21 || i == MANY - 1 ? 'X' : 0;
      wishes[i] = (SwSmallWish){ g_build_filename (folder, name, NULL), 1, NULL };
      assert_true (g_file_set_contents (wishes[i].path, (const char *)bytes, sizeof bytes, NULL));
    }
  sw_decoder_read_small (decoder, wishes, MANY, 160);
  for (int i = 0; i < MANY; i++)
    {
      assert_int_equal (wishes[i].picture != NULL, i != 0 && i != 20 && i != 21 && i != MANY - 1);
      sw_picture_free (wishes[i].picture);
      g_free ((char *)wishes[i].path);
    }
  remove_folder (folder);
}

static void
without_a_helper_there_are_none (void **state)
{
  g_autofree char *folder = new_folder ();
  g_autofree char *path = write_photo (folder, "a.jpg", &cases[0], FALSE);
  static const char *const programs[] = { "/bin/false", "/nowhere/shedwalk" };

  for (gsize i = 0; i < G_N_ELEMENTS (programs); i++)
    {
      g_autoptr (SwDecoder) decoder = sw_decoder_new (programs[i], 1);
      SwSmallWish wishes[] = { { path, 1, NULL }, { path, 1, NULL } };

      sw_decoder_read_small (decoder, wishes, 2, 160);
      assert_null (wishes[0].picture);
      assert_null (wishes[1].picture);
    }
  remove_folder (folder);
}

/* ---- as what stands in ---- */

static void
nothing_of_it_is_stored (void **state)
{
  g_autofree char *folder = new_folder ();
  g_autofree char *path = write_photo (folder, "a.jpg", &cases[0], FALSE);
  g_autofree char *store_path = g_build_filename (folder, "thumbs.db", NULL);
  SwThumbFirst first = { .hash = "aa", .stored = "a.jpg", .orientation = 1 };
  SwThumbs *thumbs = sw_thumbs_new (folder, NULL);
  g_autoptr (GBytes) full = NULL;
  g_autoptr (GBytes) kept = NULL;
  SwThumbStore *store;

  for (int i = 0; i < 2; i++)
    {
      sw_thumbs_first (thumbs, &first, 1, SW_THUMB_SMALL);
      assert_null (first.jpeg);
      assert_false (first.failed);
      assert_non_null (first.stand_in);
      check_corners (first.stand_in, 1);
      g_clear_pointer (&first.stand_in, sw_picture_free);
    }
  store = sw_thumb_store_new (store_path);
  assert_null (sw_thumb_store_get (store, "aa", 160, SW_THUMBS_VERSION));
  assert_null (sw_thumb_store_get (store, "aa", 640, SW_THUMBS_VERSION));
  sw_thumb_store_free (store);

  /* and once the photo's own is there, that is what comes first */
  full = sw_thumbs_get (thumbs, "aa", "a.jpg", 1, SW_THUMB_SMALL, NULL, NULL, NULL);
  assert_non_null (full);
  sw_thumbs_first (thumbs, &first, 1, SW_THUMB_SMALL);
  kept = first.jpeg;
  assert_true (kept != NULL && g_bytes_equal (kept, full));
  assert_null (first.stand_in);
  sw_thumbs_free (thumbs);
  remove_folder (folder);
}

static void
what_cannot_be_made_is_said (void **state)
{
  g_autofree char *folder = new_folder ();
  g_autofree char *path = g_build_filename (folder, "a.jpg", NULL);
  SwThumbFirst first = { .hash = "aa", .stored = "a.jpg", .orientation = 1 };
  SwThumbs *thumbs = sw_thumbs_new (folder, NULL);

  assert_true (g_file_set_contents (path, "\xFF\xD8\xFF\xE0 no more", -1, NULL));
  sw_thumbs_first (thumbs, &first, 1, SW_THUMB_SMALL);
  assert_false (first.failed);
  assert_null (sw_thumbs_get (thumbs, "aa", "a.jpg", 1, SW_THUMB_SMALL, NULL, NULL, NULL));
  sw_thumbs_first (thumbs, &first, 1, SW_THUMB_SMALL);
  assert_true (first.failed);
  assert_null (first.jpeg);
  assert_null (first.stand_in);
  sw_thumbs_free (thumbs);
  remove_folder (folder);
}

int
main (int argc, char **argv)
{
  SwTests *tests;

  /* the decoder starts this very program */
  if (argc == 2 && strcmp (argv[1], "--decode") == 0)
    return sw_decode_helper_main (0, 1);
  if (argc == 2 && strcmp (argv[1], "--deadly") == 0)
    return deadly_helper ();
  tests = sw_tests_new ();
  SW_TEST_ROWS (tests, is_shown_or_left_alone, cases);
  SW_TEST (tests, a_dark_one_keeps_its_shape);
  SW_TEST (tests, many_come_in_their_order);
  SW_TEST (tests, a_death_costs_one_picture);
  SW_TEST (tests, without_a_helper_there_are_none);
  SW_TEST (tests, nothing_of_it_is_stored);
  SW_TEST (tests, what_cannot_be_made_is_said);
  return sw_tests_run (tests, "small-picture");
}
