/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos of the same moment that look the same: sent through a messenger, saved again, re-encoded.
 * They are only pointed out. Pictures are decoded for photos of one and the same second alone, so
 * that a bring-in is not held up. */
#include "core/intake/look-alikes.h"

#include <string.h>

#include "core/intake/bring-in-private.h"

#define COMPARE_SIDE 320
/* A second with more photos than this is no moment but a clock that stood still. */
#define MAX_OF_ONE_SECOND 24

/* How alike two pictures must be: a judgement, wide enough for re-encoded copies at half and
 * quarter size in the tests. One camera's pictures of one size may be a quick series, so those must
 * be nearer. A still burst without subseconds can be pointed out wrongly; it is only a suggestion.
 */
static const struct
{
  guint bits;  /* of 64 in the difference hash */
  double luma; /* mean difference of the grid, of 255 */
} limits[] = { { 12, 4.0 }, { 6, 1.5 } };

typedef struct
{
  const SwPhoto *photo;
  gboolean known;
  guint64 dhash;
  guint8 grid[64];
} Look;

typedef struct
{
  const SwLookAlikeSearch *search;
  guint looked_at;
} Walk;

static gboolean
has_moment (const SwPhoto *photo)
{
  return strcmp (photo->kind, "photo") == 0 && photo->has_clock
         && strcmp (photo->time_source, "file") != 0;
}

static gboolean
may_be_one_moment (const SwPhoto *a, const SwPhoto *b)
{
  gint64 fraction_a = a->clock_us % SW_US_PER_SECOND, fraction_b = b->clock_us % SW_US_PER_SECOND;

  return fraction_a == fraction_b || fraction_a == 0 || fraction_b == 0;
}

static void
look_at (Walk *walk, const SwPhoto *photo, Look *out)
{
  const SwLookAlikeSearch *search = walk->search;
  g_autofree char *path = g_path_is_absolute (photo->stored)
                              ? g_strdup (photo->stored)
                              : g_build_filename (search->folder, photo->stored, NULL);
  g_autoptr (SwPicture) picture = NULL;

  out->photo = photo;
  if (sw_likeness_unpack (photo->likeness, &out->dhash, out->grid))
    {
      out->known = TRUE;
      return;
    }
  walk->looked_at++;
  picture = sw_decoder_decode (search->decoder, path, photo->orientation, COMPARE_SIDE,
                               search->cancellable, NULL);
  if (picture == NULL)
    return;
  out->known = TRUE;
  out->dhash = picture->dhash;
  memcpy (out->grid, picture->grid, sizeof out->grid);
}

static gboolean
look_the_same (const Look *a, const Look *b)
{
  const SwPhoto *x = a->photo, *y = b->photo;
  int nearer
      = x->camera != 0 && x->camera == y->camera && x->width == y->width && x->height == y->height;
  guint sum = 0;

  for (int i = 0; i < 64; i++)
    sum += (guint)ABS ((int)a->grid[i] - (int)b->grid[i]);
  return sw_dhash_distance (a->dhash, b->dhash) <= limits[nearer].bits
         && sum <= limits[nearer].luma * 64;
}

/* The photos of one second, by number; at least one of them is of this bring-in. */
static void
compare_second (Walk *walk, SwPhoto *const *photos, guint n)
{
  const SwLookAlikeSearch *search = walk->search;
  g_autofree Look *looks = g_new0 (Look, n);

  for (guint i = 0; i < n; i++)
    look_at (walk, photos[i], &looks[i]);
  for (guint i = 0; i < n; i++)
    for (guint j = i + 1; j < n; j++)
      if (looks[i].known && looks[j].known
          && (photos[i]->bring_in == search->bring_in || photos[j]->bring_in == search->bring_in)
          && may_be_one_moment (photos[i], photos[j]) && look_the_same (&looks[i], &looks[j]))
        search->found (photos[i], photos[j], search->data);
}

static int
by_second (gconstpointer a, gconstpointer b)
{
  const SwPhoto *x = *(SwPhoto *const *)a, *y = *(SwPhoto *const *)b;
  gint64 s = x->clock_us / SW_US_PER_SECOND, t = y->clock_us / SW_US_PER_SECOND;

  if (s != t)
    return s < t ? -1 : 1;
  return x->id < y->id ? -1 : x->id > y->id;
}

static gboolean
any_is_new (const SwLookAlikeSearch *search, SwPhoto *const *photos, guint n)
{
  for (guint i = 0; i < n; i++)
    if (photos[i]->bring_in == search->bring_in)
      return TRUE;
  return FALSE;
}

gboolean
sw_look_alikes_find (const GPtrArray *photos, const SwLookAlikeSearch *search)
{
  g_autoptr (GPtrArray) timed = g_ptr_array_new ();
  Walk walk = { search, 0 };

  for (guint i = 0; i < photos->len; i++)
    if (has_moment (photos->pdata[i]))
      g_ptr_array_add (timed, photos->pdata[i]);
  g_ptr_array_sort (timed, by_second);
  for (guint i = 0, end; i < timed->len; i = end)
    {
      SwPhoto **same = (SwPhoto **)timed->pdata + i;
      guint n;

      for (end = i + 1; end < timed->len
                        && ((SwPhoto *)timed->pdata[end])->clock_us / SW_US_PER_SECOND
                               == same[0]->clock_us / SW_US_PER_SECOND;
           end++)
        continue;
      n = end - i;
      if (n < 2 || n > MAX_OF_ONE_SECOND || !any_is_new (search, same, n))
        continue;
      if (g_cancellable_is_cancelled (search->cancellable)
          || (search->most > 0 && walk.looked_at + n > search->most))
        return FALSE;
      compare_second (&walk, same, n);
    }
  return TRUE;
}

/* --- for a bring-in --- */

static void
add_pair (const SwPhoto *a, const SwPhoto *b, gpointer data)
{
  SwRun *run = data;
  SwLookAlike pair = { MIN (a->id, b->id), MAX (a->id, b->id) };
  SwBringInPair *files = g_new0 (SwBringInPair, 1);

  g_array_append_val (run->pairs, pair);
  files->a = g_strdup (a->id < b->id ? a->file : b->file);
  files->b = g_strdup (a->id < b->id ? b->file : a->file);
  g_ptr_array_add (run->report->look_alikes, files);
}

void
sw_run_compare (SwRun *run)
{
  g_autoptr (SwDecoder) decoder = sw_decoder_new (run->options->program, 1);
  SwLookAlikeSearch search = { .folder = run->catalogue,
                               .decoder = decoder,
                               .cancellable = run->cancellable,
                               .bring_in = run->bring_in,
                               .found = add_pair,
                               .data = run };

  sw_look_alikes_find (run->shown, &search);
}
