/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looks through the folders of a bring-in before anything is copied: scan, then the tags and three
 * short pieces of each file in a few threads, then what is here already, then look-alikes. Sums are
 * in preview-sum.c. */
#include "core/intake/preview.h"

#include <fcntl.h>
#include <string.h>
#include <unistd.h>
#include <xxhash.h>

#include "core/base/each.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/intake/bring-in-private.h"
#include "core/intake/look-alikes.h"
#include "core/intake/preview-private.h"

#define PIECE 4096
/* Read to the end to be certain; behind that the three pieces must do. */
#define EXACT_BYTES (64 << 20)
/* Pictures decoded in search of look-alikes: some ten seconds. */
#define MOST_PICTURES 400
/* Number that stands for this bring-in, which has none yet. */
#define NOT_YET (-1)

SwPreviewBase *
sw_preview_base_read (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (SwPreviewBase) base = g_new0 (SwPreviewBase, 1);

  base->folder = g_strdup (sw_catalogue_folder (catalogue));
  base->now = sw_catalogue_now (catalogue);
  base->zone = sw_zone_new (sw_zone_name (sw_catalogue_zone (catalogue)), error);
  base->arrivals = base->zone != NULL ? sw_arrival_list (catalogue, error) : NULL;
  base->photos = base->arrivals != NULL ? sw_photo_list (catalogue, 0, FALSE, error) : NULL;
  base->cameras = base->photos != NULL ? sw_camera_list (catalogue, error) : NULL;
  return base->cameras != NULL ? g_steal_pointer (&base) : NULL;
}

void
sw_preview_base_free (SwPreviewBase *base)
{
  if (base == NULL)
    return;
  g_free (base->folder);
  sw_zone_free (base->zone);
  g_clear_pointer (&base->arrivals, g_ptr_array_unref);
  g_clear_pointer (&base->photos, g_ptr_array_unref);
  g_clear_pointer (&base->cameras, g_ptr_array_unref);
  g_free (base);
}

gint64
sw_preview_camera (const SwPreviewBase *base, const SwPhotoMeta *meta)
{
  for (guint i = 0; i < base->cameras->len; i++)
    {
      const SwCamera *camera = base->cameras->pdata[i];

      if (g_strcmp0 (camera->make, meta->make != NULL ? meta->make : "") == 0
          && g_strcmp0 (camera->model, meta->model != NULL ? meta->model : "") == 0
          && g_strcmp0 (camera->serial, meta->serial != NULL ? meta->serial : "") == 0)
        return camera->id;
    }
  return 0;
}

/* --- reading --- */

/* A number made of the size and of the first, middle and last piece; 0 where the file cannot be
 * read. */
static guint64
print_of (int fd, guint64 size)
{
  guint8 pieces[3 * PIECE];
  const guint64 at[3] = { 0, size / 2, size > PIECE ? size - PIECE : 0 };
  gsize have = 0;
  guint64 print;

  for (int i = 0; i < 3; i++)
    {
      ssize_t n = pread (fd, pieces + have, PIECE, (off_t)at[i]);

      if (n < 0)
        return 0;
      have += (gsize)n;
    }
  print = XXH3_64bits_withSeed (pieces, have, size);
  return print != 0 ? print : 1;
}

static guint64
print_of_path (const char *path, guint64 size)
{
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY);
  guint64 print = fd >= 0 ? print_of (fd, size) : 0;

  if (fd >= 0)
    close (fd);
  return print;
}

static void
read_entry (SwPreviewRun *run, SwPreviewEntry *entry)
{
  const SwScanFile *source = entry->source;
  SwCivilKind kind;

  if (!sw_photo_meta_read_file (source->path, run->base->zone, run->base->now, &entry->meta, NULL))
    {
      entry->fate = SW_PREVIEW_UNREADABLE;
      return;
    }
  entry->day = sw_day_of_instant (sw_photo_meta_instant (&entry->meta, run->base->zone, &kind),
                                  run->base->zone);
  if (entry->is_shared)
    entry->print = print_of_path (source->path, source->size);
}

static gboolean
read_one (guint i, gpointer data)
{
  SwPreviewRun *run = data;

  if (g_cancellable_is_cancelled (run->cancellable))
    return FALSE;
  read_entry (run, &run->entries[i]);
  g_atomic_int_inc (&run->progress->done);
  return TRUE;
}

static void
read_all (SwPreviewRun *run)
{
  g_atomic_int_set (&run->progress->total, (int)run->n);
  g_atomic_int_set (&run->progress->stage, SW_PREVIEW_READING);
  sw_each (run->n, SW_META_THREADS, read_one, run);
}

/* --- what has the size of something else --- */

/* Tables from a number (a size, a print) to what has it. */
static GHashTable *
same_table_new (void)
{
  return g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free,
                                (GDestroyNotify)g_ptr_array_unref);
}

static GPtrArray *
same_as (GHashTable *table, guint64 number)
{
  return g_hash_table_lookup (table, &number);
}

static void
add_same (GHashTable *table, guint64 number, gpointer what)
{
  GPtrArray *same = same_as (table, number);

  if (same == NULL)
    {
      same = g_ptr_array_new ();
      g_hash_table_insert (table, g_memdup2 (&number, sizeof number), same);
    }
  g_ptr_array_add (same, what);
}

static void
make_entries (SwPreviewRun *run)
{
  run->n = run->scan->files->len;
  run->entries = g_new0 (SwPreviewEntry, run->n);
  for (guint i = 0; i < run->base->arrivals->len; i++)
    {
      SwArrival *arrival = run->base->arrivals->pdata[i];

      add_same (run->here, (guint64)arrival->size, arrival);
    }
  for (guint i = 0; i < run->n; i++)
    {
      run->entries[i].source = run->scan->files->pdata[i];
      add_same (run->found, run->entries[i].source->size, &run->entries[i]);
    }
  for (guint i = 0; i < run->n; i++)
    {
      guint64 size = run->entries[i].source->size;

      run->entries[i].is_shared
          = same_as (run->here, size) != NULL || same_as (run->found, size)->len > 1;
    }
}

/* The fingerprint of a whole file, NULL where it cannot be read or too much has been read already;
 * then the count is no longer exact. */
static const char *
hash_of (SwPreviewRun *run, SwPreviewEntry *entry)
{
  int fd;

  if (*entry->hash != '\0')
    return entry->hash;
  if (run->bytes_left < entry->source->size)
    {
      run->preview->is_exact = FALSE;
      return NULL;
    }
  run->bytes_left -= entry->source->size;
  fd = open (entry->source->path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY);
  if (fd < 0 || !sw_hash_file (fd, entry->hash))
    {
      *entry->hash = '\0';
      run->preview->is_exact = FALSE;
    }
  if (fd >= 0)
    close (fd);
  return *entry->hash != '\0' ? entry->hash : NULL;
}

/* Those of the catalogue that have the size of something found, by size and print. */
static void
print_arrivals (SwPreviewRun *run)
{
  for (guint i = 0; i < run->base->arrivals->len; i++)
    {
      SwArrival *arrival = run->base->arrivals->pdata[i];
      g_autofree char *path = NULL;

      if (same_as (run->found, (guint64)arrival->size) == NULL)
        continue;
      if (g_cancellable_is_cancelled (run->cancellable))
        return;
      path = g_build_filename (run->base->folder, arrival->stored, NULL);
      add_same (run->here_prints, print_of_path (path, (guint64)arrival->size), arrival);
    }
}

static const SwArrival *
find_here (SwPreviewRun *run, SwPreviewEntry *entry)
{
  const GPtrArray *same = same_as (run->here_prints, entry->print);

  for (guint i = 0; same != NULL && i < same->len; i++)
    {
      const SwArrival *arrival = same->pdata[i];
      const char *hash = hash_of (run, entry);

      if (hash == NULL || strncmp (hash, arrival->hash, 32) == 0)
        return arrival;
    }
  return NULL;
}

/* Whether one of those met before has the same bytes; if not, it is one of them now. */
static gboolean
came_before (SwPreviewRun *run, SwPreviewEntry *entry)
{
  const GPtrArray *same = same_as (run->found_prints, entry->print);

  for (guint i = 0; same != NULL && i < same->len; i++)
    {
      const char *mine = hash_of (run, entry);
      const char *other = mine != NULL ? hash_of (run, same->pdata[i]) : NULL;

      if (other == NULL || strcmp (mine, other) == 0)
        return TRUE;
    }
  add_same (run->found_prints, entry->print, entry);
  return FALSE;
}

static void
judge_all (SwPreviewRun *run)
{
  print_arrivals (run);
  for (guint i = 0; i < run->n && !g_cancellable_is_cancelled (run->cancellable); i++)
    {
      SwPreviewEntry *entry = &run->entries[i];
      gboolean has_print = entry->print != 0;
      const SwArrival *arrival = has_print ? find_here (run, entry) : NULL;

      if (entry->fate == SW_PREVIEW_UNREADABLE)
        continue;
      if (arrival != NULL)
        entry->fate = arrival->aside ? SW_PREVIEW_ASIDE : SW_PREVIEW_THERE;
      else if (has_print && came_before (run, entry))
        entry->fate = SW_PREVIEW_TWICE;
    }
}

/* --- look-alikes --- */

/* As the row that a bring-in would make, as far as the comparison reads it. */
static SwPhoto *
photo_of (SwPreviewRun *run, const SwPreviewEntry *entry, gint64 number)
{
  SwPhoto *photo = g_new0 (SwPhoto, 1);

  photo->id = number;
  photo->kind = g_strdup ("photo");
  photo->file = g_strdup (entry->source->file);
  photo->stored = g_canonicalize_filename (entry->source->path, NULL);
  photo->bring_in = NOT_YET;
  photo->camera = sw_preview_camera (run->base, &entry->meta);
  photo->has_clock = entry->meta.has_clock;
  photo->clock_us = sw_civil_to_us (entry->meta.clock);
  photo->time_source = g_strdup (sw_time_source_word (entry->meta.time_source));
  photo->orientation = entry->meta.orientation;
  photo->width = (int)MIN (entry->meta.width, G_MAXINT);
  photo->height = (int)MIN (entry->meta.height, G_MAXINT);
  return photo;
}

static void
note_pair (const SwPhoto *a, const SwPhoto *b, gpointer data)
{
  SwPreviewRun *run = data;
  gboolean swap = a->bring_in != NOT_YET;
  SwBringInPair *pair = g_new0 (SwBringInPair, 1);

  pair->a = g_strdup (swap ? b->file : a->file);
  pair->b = g_strdup (swap ? a->file : b->file);
  g_ptr_array_add (run->preview->look_alikes, pair);
}

static void
compare_all (SwPreviewRun *run, const char *program)
{
  g_autoptr (GPtrArray) photos = g_ptr_array_new ();
  g_autoptr (GPtrArray) own = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_photo_free);
  g_autoptr (SwDecoder) decoder = sw_decoder_new (program, 1);
  SwLookAlikeSearch search = { .folder = run->base->folder,
                               .decoder = decoder,
                               .cancellable = run->cancellable,
                               .bring_in = NOT_YET,
                               .most = MOST_PICTURES,
                               .found = note_pair,
                               .data = run };

  g_atomic_int_set (&run->progress->stage, SW_PREVIEW_COMPARING);
  for (guint i = 0; i < run->base->photos->len; i++)
    g_ptr_array_add (photos, run->base->photos->pdata[i]);
  for (guint i = 0; i < run->n; i++)
    if (run->entries[i].fate == SW_PREVIEW_NEW
        && sw_file_kind_is_photo (run->entries[i].source->kind))
      {
        SwPhoto *photo = photo_of (run, &run->entries[i], G_MAXINT32 + (gint64)i);

        g_ptr_array_add (own, photo);
        g_ptr_array_add (photos, photo);
      }
  run->preview->look_alikes_are_all = sw_look_alikes_find (photos, &search);
}

/* --- the run --- */

static gboolean
scan_all (SwPreviewRun *run, const char *const *folders, GError **error)
{
  run->scan->seen = &run->progress->seen;
  for (const char *const *folder = folders; *folder != NULL; folder++)
    if (!sw_scan_add (run->scan, *folder, run->base->folder, run->cancellable, error))
      return FALSE;
  sw_scan_finish (run->scan);
  return TRUE;
}

static gboolean
check_still_there (SwPreviewRun *run, const char *const *folders, GError **error)
{
  if (g_cancellable_is_cancelled (run->cancellable))
    {
      g_set_error_literal (error, SW_ERROR, SW_ERROR_CANCELLED, _ ("Stopped; nothing was taken."));
      return FALSE;
    }
  for (const char *const *folder = folders; *folder != NULL; folder++)
    if (access (*folder, F_OK) != 0)
      {
        g_set_error_literal (
            error, SW_ERROR, SW_ERROR_FAILED,
            _ ("The folder with the photos went away; nothing was taken. Put the card "
               "back and choose it again."));
        return FALSE;
      }
  /* a stick pulled out leaves an empty folder where it was mounted */
  for (guint i = 0; i < run->n; i++)
    if (run->entries[i].fate == SW_PREVIEW_UNREADABLE
        && access (run->entries[i].source->path, F_OK) != 0)
      {
        g_set_error_literal (
            error, SW_ERROR, SW_ERROR_FAILED,
            _ ("Photos went away while they were looked at; nothing was taken. Put "
               "the card back and choose it again."));
        return FALSE;
      }
  return TRUE;
}

static gboolean
run_all (SwPreviewRun *run, const char *const *folders, const char *program, GError **error)
{
  if (!scan_all (run, folders, error))
    return FALSE;
  make_entries (run);
  read_all (run);
  if (!check_still_there (run, folders, error))
    return FALSE;
  judge_all (run);
  sw_preview_sum (run);
  if (run->preview->there + run->preview->twice + run->preview->to_take == 0)
    return sw_refuse_nothing (folders, run->preview->refused, error);
  compare_all (run, program);
  return check_still_there (run, folders, error);
}

static void
run_clear (SwPreviewRun *run)
{
  for (guint i = 0; i < run->n; i++)
    sw_photo_meta_clear (&run->entries[i].meta);
  g_free (run->entries);
  sw_scan_free (run->scan);
  g_hash_table_unref (run->here);
  g_hash_table_unref (run->found);
  g_hash_table_unref (run->here_prints);
  g_hash_table_unref (run->found_prints);
}

SwPreview *
sw_preview_run (const SwPreviewBase *base, const char *const *folders, const char *program,
                SwPreviewProgress *progress, GCancellable *cancellable, GError **error)
{
  SwPreviewProgress unseen = { 0 };
  g_autoptr (SwPreview) preview = sw_preview_new ();
  SwPreviewRun run = { .base = base,
                       .progress = progress != NULL ? progress : &unseen,
                       .cancellable = cancellable,
                       .preview = preview,
                       .scan = sw_scan_new (),
                       .here = same_table_new (),
                       .found = same_table_new (),
                       .here_prints = same_table_new (),
                       .found_prints = same_table_new (),
                       .bytes_left = EXACT_BYTES };
  gboolean good = run_all (&run, folders, program, error);

  run_clear (&run);
  return good ? g_steal_pointer (&preview) : NULL;
}
