/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CPU time of a proposal (clocks, stops, pairing) against the number of photos, on invented walks
 * in memory, and beside reading the thumbnails of as many photos out of their store. Judges
 * nothing. Run by hand: proposal-speed [--out tests/bench/RESULTS.md]. */
#include "core/catalogue/thumb-store.h"
#include "core/match/stops.h"
#include "walkgen.h"

#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <turbojpeg.h>

#define SECTION "## Pairing"
#define SEED 20261127
/* Of this many timings the least: other programs on the machine only ever add. */
#define ROUNDS 3

static char *out_file;

static const GOptionEntry entries[] = {
  { "out", 0, 0, G_OPTION_ARG_FILENAME, &out_file, "Put the section into FILE", "FILE" },
  { NULL },
};

static double
cpu_s (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

/* A stay of some days with n photos, a tenth as many noted things; one camera, its clock off. */
static TrueWalk *
long_walk (gsize n, gboolean senses)
{
  WalkKind kind = { .noted = 0.5,
                    .cameras = 1,
                    .things = (int)n / 3,
                    .days = (int)n / 450 + 1,
                    .clock_faults = TRUE,
                    .note_faults = TRUE,
                    .pictures = senses,
                    .positions = senses };
  TrueWalk *truth = true_walk_new (SEED, &kind);
  gint64 end;
  gsize kept = 0;

  g_assert (truth->walk.n_photos >= n);
  truth->walk.n_photos = n;
  end = truth->true_us[n - 1] + 600 * SW_US_PER_SECOND;
  for (gsize k = 0; k < truth->walk.n_notes; k++)
    if (truth->notes[k].time_us < end)
      truth->notes[kept++] = truth->notes[k];
  truth->walk.n_notes = kept;
  return truth;
}

static double
time_proposal (const TrueWalk *truth, gsize *out_stops)
{
  double least = G_MAXDOUBLE;

  for (int k = 0; k < ROUNDS; k++)
    {
      double start = cpu_s ();
      g_autoptr (SwProposal) proposal = sw_stops_propose (&truth->walk);

      least = MIN (least, cpu_s () - start);
      *out_stops = proposal->n_stops;
    }
  return least;
}

static void
tell_curve (GString *text)
{
  static const gsize sizes[] = { 1000, 2000, 5000, 10000, 20000 };

  g_string_append (text, "| photos | notes | stops | proposal | a photo | with pictures and "
                         "positions | a photo |\n|---|---|---|---|---|---|---|\n");
  for (gsize k = 0; k < G_N_ELEMENTS (sizes); k++)
    {
      g_autoptr (TrueWalk) times = long_walk (sizes[k], FALSE);
      g_autoptr (TrueWalk) senses = long_walk (sizes[k], TRUE);
      gsize stops, more_stops;
      double bare_s = time_proposal (times, &stops), all_s = time_proposal (senses, &more_stops);

      g_string_append_printf (text, "| %zu | %zu | %zu | %.2f s | %.0f us | %.2f s | %.0f us |\n",
                              sizes[k], times->walk.n_notes, stops, bare_s,
                              bare_s / (double)sizes[k] * 1e6, all_s,
                              all_s / (double)sizes[k] * 1e6);
    }
}

/* --- thumbnails --- */

enum
{
  WIDTH = 160,
  HEIGHT = 120,
};

/* A picture with about as much in it as a photo has. */
static GBytes *
draw_thumbnail (tjhandle handle, Dice *dice)
{
  g_autofree guint8 *rgb = g_new (guint8, WIDTH * HEIGHT * 3);
  unsigned char *jpeg = NULL;
  unsigned long size = 0;
  int fields[10][8];
  GBytes *bytes;

  for (int y = 0; y < 8; y++)
    for (int x = 0; x < 10; x++)
      fields[x][y] = dice_range (dice, 30, 210);
  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      for (int c = 0; c < 3; c++)
        rgb[(y * WIDTH + x) * 3 + c]
            = (guint8)(fields[x * 10 / WIDTH][y * 8 / HEIGHT] + dice_range (dice, 0, 40));
  g_assert (tjCompress2 (handle, rgb, WIDTH, 0, HEIGHT, TJPF_RGB, &jpeg, &size, TJSAMP_420, 85, 0)
            == 0);
  bytes = g_bytes_new (jpeg, size);
  tjFree (jpeg);
  return bytes;
}

static void
fill_store (SwThumbStore *store, int n)
{
  Dice dice = dice_new (SEED, 1);
  tjhandle handle = tjInitCompress ();

  for (int k = 0; k < n; k++)
    {
      g_autofree char *hash = g_strdup_printf ("%032x", k);
      g_autoptr (GBytes) jpeg = draw_thumbnail (handle, &dice);

      sw_thumb_store_put (store, hash, WIDTH, 1, jpeg);
    }
  tjDestroy (handle);
}

/* CPU seconds of reading n thumbnails, and of decoding them besides. */
static double
read_store (SwThumbStore *store, int n, gboolean decode)
{
  g_autofree guint8 *rgb = g_new (guint8, WIDTH * HEIGHT * 3);
  tjhandle handle = tjInitDecompress ();
  double start = cpu_s ();

  for (int k = 0; k < n; k++)
    {
      g_autofree char *hash = g_strdup_printf ("%032x", k);
      g_autoptr (GBytes) jpeg = sw_thumb_store_get (store, hash, WIDTH, 1);

      g_assert (jpeg != NULL);
      if (decode)
        g_assert (tjDecompress2 (handle, g_bytes_get_data (jpeg, NULL), g_bytes_get_size (jpeg),
                                 rgb, WIDTH, 0, HEIGHT, TJPF_RGB, 0)
                  == 0);
    }
  start = cpu_s () - start;
  tjDestroy (handle);
  return start;
}

static void
tell_thumbnails (GString *text)
{
  enum
  {
    N = 5000,
  };
  g_autofree char *folder = g_dir_make_tmp ("proposal-speed-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "thumbs.db", NULL);
  g_autoptr (SwThumbStore) store = sw_thumb_store_new (path);
  g_autoptr (TrueWalk) truth = long_walk (N, TRUE);
  gsize stops;

  fill_store (store, N);
  g_string_append_printf (
      text,
      "\n%d photos, %zu notes: proposal %.2f s; their thumbnails (%d x %d) read out of the store "
      "%.2f s, read and decoded %.2f s. Making them takes some 36 ms each.\n",
      N, truth->walk.n_notes, time_proposal (truth, &stops), WIDTH, HEIGHT,
      read_store (store, N, FALSE), read_store (store, N, TRUE));
  g_clear_pointer (&store, sw_thumb_store_free);
  g_unlink (path);
  g_rmdir (folder);
}

/* The file's text with this section in place of the old one. */
static char *
put_section (const char *old, const char *section)
{
  const char *from = strstr (old, SECTION), *upto = from ? strstr (from + 3, "\n## ") : NULL;

  if (from == NULL)
    return g_strconcat (old, "\n", section, NULL);
  g_autofree char *before = g_strndup (old, (gsize)(from - old));

  return g_strconcat (before, section, upto ? upto : "", NULL);
}

static gboolean
write_section (const char *section, GError **error)
{
  g_autofree char *old = NULL, *text = NULL;

  if (!g_file_get_contents (out_file, &old, NULL, NULL))
    old = g_strdup ("# What benches measured\n\nCPU times on the machine at hand: ratios hold, the "
                    "times themselves do not.\n");
  text = put_section (old, section);
  return g_file_set_contents (out_file, text, -1, error);
}

int
main (int argc, char **argv)
{
  g_autoptr (GOptionContext) context = g_option_context_new ("- time of a proposal");
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) text = g_string_new (SECTION "\n\n");
  g_autoptr (GDateTime) now = g_date_time_new_now_utc ();
  g_autofree char *date = g_date_time_format (now, "%Y-%m-%d");

  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      fprintf (stderr, "%s\n", error->message);
      return 2;
    }
  g_string_append_printf (text,
                          "%s, `proposal-speed`: one core, invented walks, a note to every tenth "
                          "photo or so, the clock searched for.\n\n",
                          date);
  tell_curve (text);
  tell_thumbnails (text);
  printf ("%s", text->str);
  if (out_file != NULL && !write_section (text->str, &error))
    {
      fprintf (stderr, "%s\n", error->message);
      return 1;
    }
  g_free (out_file);
  return 0;
}
