/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/trip-acts.h"

#include "app/ask-form.h"
#include "app/file-out.h"
#include "app/text.h"
#include "app/typed-day.h"
#include "core/catalogue/act.h"
#include "core/catalogue/site.h"
#include "core/handout/trip-paper.h"
#include "core/trip/trip-sheet.h"

typedef struct
{
  gint64 trip, item;
  SwWish wish;
} Wish;

static gboolean
do_wish (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;

  return sw_load_wish_set (catalogue, wish->trip, wish->item, wish->wish, error);
}

void
sw_trip_act_wish (SwStore *store, gint64 trip, gint64 item, SwWish wish)
{
  Wish *sent = g_new0 (Wish, 1);

  *sent = (Wish){ trip, item, wish };
  sw_store_act (store, do_wish, sent, g_free, NULL, NULL);
}

typedef struct
{
  gint64 trip;
  SwVan van;
  SwTripLoad load;
} VanLoad;

static gboolean
do_van (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const VanLoad *sent = data;
  g_auto (SwAct) act = SW_ACT_INIT;

  return sw_act_begin (&act, catalogue, error) && sw_van_set (catalogue, &sent->van, error)
         && sw_trip_load_set (catalogue, sent->trip, &sent->load, error)
         && sw_act_commit (&act, _ ("The van and its runs entered"), error);
}

void
sw_trip_act_van (SwStore *store, gint64 trip, const SwVan *van, const SwTripLoad *load,
                 GObject *owner, SwTryDone done)
{
  VanLoad *sent = g_new0 (VanLoad, 1);

  *sent = (VanLoad){ trip, *van, *load };
  sw_store_try (store, do_van, sent, g_free, owner, done);
}

static gboolean
do_walk (SwCatalogue *catalogue, gpointer data, GError **error)
{
  g_autoptr (SwTripSheet) sheet = sw_trip_sheet (catalogue, *(const gint64 *)data, 0, NULL, error);

  return sheet != NULL && sw_walk_take (catalogue, sheet->walk, error);
}

void
sw_trip_act_walk (SwStore *store, gint64 trip)
{
  sw_store_act (store, do_walk, g_memdup2 (&trip, sizeof trip), g_free, NULL, NULL);
}

/* ---- the last day ---- */

static const SwAskSpec last_day_spec = {
  N_ ("The property’s last day"),
  N_ ("_Keep"),
  { { SW_FIELD_TEXT, N_ ("_Everything gone by"), N_ ("like 30 Nov; empty: not known"), NULL },
    { SW_FIELD_END } },
};

static gboolean
do_last_day (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const char *text = data;
  SwDay day;

  if (*text == '\0')
    return sw_site_set_last_day (catalogue, NULL, error);
  return sw_typed_day (catalogue, text, SW_DAY_AHEAD, &day, error)
         && sw_site_set_last_day (catalogue, &day, error);
}

static void
send_last_day (SwStore *store, char **values, gpointer data, GObject *owner, SwTryDone done)
{
  sw_store_try (store, do_last_day, g_strdup (values[0]), g_free, owner, done);
}

void
sw_trip_ask_last_day (GtkWindow *parent, SwStore *store, const SwDay *begun)
{
  g_autofree char *day = begun != NULL ? sw_day_written (*begun) : NULL;
  const char *values[] = { day };
  const SwAsk ask = { .spec = &last_day_spec, .begun = values, .send = send_last_day };

  sw_ask_form_show (parent, store, &ask);
}

/* ---- paper ---- */

typedef struct
{
  SwStore *store;
  gint64 trip;
  char *path;
} Paper;

static void
paper_free (gpointer data)
{
  Paper *paper = data;

  g_clear_object (&paper->store);
  g_free (paper->path);
  g_free (paper);
}

/* The sentence that tells of it; NULL where it failed. */
static char *
write_file (SwCatalogue *catalogue, const Paper *paper, GError **error)
{
  g_autofree char *name = g_path_get_basename (paper->path), *count = NULL;
  int pages = 0;

  if (!sw_trip_paper_write (catalogue, paper->trip, paper->path, &pages, error))
    return NULL;
  count = sw_text_count (pages, "%d page", "%d pages");
  return g_strdup_printf (_ ("%s written: the trip sheet, %s"), name, count);
}

/* Its lines are kept with the numbers on it. */
static gboolean
do_paper (SwCatalogue *catalogue, gpointer data, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence = NULL;

  return sw_act_begin (&act, catalogue, error)
         && (sentence = write_file (catalogue, data, error)) != NULL
         && sw_act_commit (&act, sentence, error);
}

static gpointer
read_paper (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  return write_file (catalogue, data, error);
}

static void
on_written (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwStore) store = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = sw_store_finish (store, result, &error);

  sw_store_tell (store, sentence != NULL ? sentence : error->message, sentence == NULL);
}

static void
on_path (char *path, gpointer data)
{
  Paper *paper = data;
  g_autoptr (SwStore) store = g_steal_pointer (&paper->store); /* stays on this thread */

  paper->path = path;
  if (path == NULL)
    paper_free (paper);
  else if (sw_store_overview (store)->read_only)
    sw_store_read (store, SW_RANK_VISIBLE, read_paper, paper, paper_free, g_free, NULL, on_written,
                   g_object_ref (store));
  else
    sw_store_act (store, do_paper, paper, paper_free, NULL, NULL);
}

void
sw_trip_ask_paper (GtkWindow *parent, SwStore *store, gint64 trip)
{
  Paper *paper = g_new0 (Paper, 1);

  paper->store = g_object_ref (store);
  paper->trip = trip;
  sw_file_out_ask_path (parent, _ ("Write the trip sheet"), _ ("trip-sheet.pdf"), ".pdf", on_path,
                        paper);
}
