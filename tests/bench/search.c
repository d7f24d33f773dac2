/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For tests/bench/run: CPU time of the search over items, key by key, as the window asks for it,
 * and beside each a LIKE scan of the same rows in the same run; then that of listing all items and
 * all photos with their whole rows. Prints a line each: what, worst milliseconds. search-speed
 * CATALOGUE WORDS... */
#include <stdio.h>
#include <string.h>
#include <time.h>

#include "core/catalogue/db.h"
#include "core/catalogue/items.h"
#include "core/catalogue/photos.h"

/* Of so many timings the least: other programs on the machine only ever add. */
#define ROUNDS 5

static double
cpu_ms (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double)now.tv_sec * 1e3 + (double)now.tv_nsec / 1e6;
}

/* The rows that have these letters anywhere in name or place, all columns of a row read. */
static int
scan_like (SwCatalogue *catalogue, const char *letters)
{
  static const char sql[] = "SELECT i.* FROM item i LEFT JOIN place p ON p.id = i.place"
                            " WHERE i.name LIKE ?1 OR p.path LIKE ?1 ORDER BY i.id";
  g_autofree char *pattern = g_strdup_printf ("%%%s%%", letters);
  sqlite3_stmt *statement = NULL;
  int found = 0;

  g_assert (sqlite3_prepare_v2 (sw_db_handle (catalogue), sql, -1, &statement, NULL) == SQLITE_OK);
  sqlite3_bind_text (statement, 1, pattern, -1, SQLITE_STATIC);
  while (sqlite3_step (statement) == SQLITE_ROW)
    {
      for (int i = 0; i < sqlite3_column_count (statement); i++)
        sqlite3_column_text (statement, i);
      found++;
    }
  sqlite3_finalize (statement);
  return found;
}

/* What the window asks for at a key: the numbers of all that is found, and the rows it begins with.
 */
static int
search (SwCatalogue *catalogue, const char *letters)
{
  SwItemFilter filter = { .search = letters };
  g_autoptr (GArray) numbers = sw_item_numbers (catalogue, &filter, NULL);
  g_autoptr (GPtrArray) first = NULL;

  g_assert (numbers != NULL);
  first = sw_item_rows (catalogue, (const gint64 *)(gconstpointer)numbers->data,
                        MIN (numbers->len, SW_ITEM_ROWS_AT_ONCE), NULL);
  g_assert (first != NULL);
  return (int)numbers->len;
}

static int
list_items (SwCatalogue *catalogue, const char *unused)
{
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, NULL, NULL);

  g_assert (items != NULL);
  return (int)items->len;
}

static int
list_photos (SwCatalogue *catalogue, const char *unused)
{
  g_autoptr (GPtrArray) photos = sw_photo_list (catalogue, 0, FALSE, NULL);

  g_assert (photos != NULL);
  return (int)photos->len;
}

typedef int (*Work) (SwCatalogue *catalogue, const char *letters);

static double
least_ms (Work work, SwCatalogue *catalogue, const char *letters, int *out_rows)
{
  double least = G_MAXDOUBLE;

  for (int i = 0; i < ROUNDS; i++)
    {
      double start = cpu_ms ();

      *out_rows = work (catalogue, letters);
      least = MIN (least, cpu_ms () - start);
    }
  return least;
}

/* The words typed letter by letter; what each costs at its worst key. */
static void
type_words (SwCatalogue *catalogue, const char *words)
{
  double ours = 0, like = 0;
  int ours_rows = 0, like_rows = 0;

  for (gsize n = 1; n <= strlen (words); n++)
    {
      g_autofree char *letters = g_strndup (words, n);
      int rows;
      double ms = least_ms (search, catalogue, letters, &rows);

      ours_rows = ms > ours ? rows : ours_rows;
      ours = MAX (ours, ms);
      ms = least_ms (scan_like, catalogue, letters, &rows);
      like_rows = ms > like ? rows : like_rows;
      like = MAX (like, ms);
    }
  printf ("search\t%s\t%.3f\t%d\t%.3f\t%d\n", words, ours, ours_rows, like, like_rows);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwCatalogue) catalogue = NULL;
  int rows;
  double ms;

  if (argc < 2)
    return 2;
  catalogue = sw_catalogue_open (argv[1], SW_OPEN_READ_ONLY, &error);
  if (catalogue == NULL)
    {
      fprintf (stderr, "%s\n", error->message);
      return 1;
    }
  for (int i = 2; i < argc; i++)
    type_words (catalogue, argv[i]);
  ms = least_ms (list_items, catalogue, NULL, &rows);
  printf ("items\t\t%.3f\t%d\n", ms, rows);
  ms = least_ms (list_photos, catalogue, NULL, &rows);
  printf ("photos\t\t%.3f\t%d\n", ms, rows);
  return 0;
}
