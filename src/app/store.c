/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's side of the catalogue thread. Every read and every act goes through SwWorker; what
 * comes back is a plain snapshot. Touches no widget, adds nothing up. */
#include "app/store.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/ground.h"

struct _SwStore
{
  GObject parent;
  char *folder;
  SwWorkerHold *hold; /* of 'worker'; NULL once disposed */
  SwWorker *worker;   /* NULL until opening begins and once disposed */
  SwOverview *overview;
  SwCredit credit;
  SwNumberStyle style;
  SwPictureSource *source;
  int pending;
  gboolean loading, load_again, opened;
  gboolean photos_changed; /* since they were read last */
};

enum
{
  OPENED,
  CHANGED,
  TOLD,
  SETTLE,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwStore, sw_store, G_TYPE_OBJECT)

/* ---- the overview, made on the catalogue thread ---- */

static void
overview_free (gpointer data)
{
  SwOverview *overview = data;

  if (overview == NULL)
    return;
  g_free (overview->name);
  g_free (overview->folder);
  g_free (overview->undo);
  g_free (overview->redo);
  sw_set_up_free (overview->set_up);
  g_clear_pointer (&overview->places, g_ptr_array_unref);
  g_clear_pointer (&overview->summaries, g_array_unref);
  g_clear_pointer (&overview->trips, g_ptr_array_unref);
  sw_takings_clear (&overview->takings);
  g_free (overview);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwOverview, overview_free)

typedef struct
{
  SwCredit credit;
  SwPictureSource *source;
  gboolean photos; /* whether to read them; else what was known of them: */
  guint n_photos;
  gint64 latest_trip;
} Wish;

static void
wish_free (gpointer data)
{
  Wish *wish = data;
  sw_picture_source_unref (wish->source);
  g_free (wish);
}

typedef struct
{
  SwPictureSource *source;
  SwOverview *overview;
} Counting;

static void
count_photo (const SwPhotoFile *file, gpointer data)
{
  const Counting *counting = data;

  sw_picture_source_set_photo (counting->source, file);
  counting->overview->n_photos++;
  counting->overview->latest_trip = MAX (counting->overview->latest_trip, file->trip);
}

/* Thousands of rows: only where photos changed, not after each decision about them. */
static gboolean
read_photos (SwCatalogue *catalogue, const Wish *wish, SwOverview *overview, GError **error)
{
  Counting counting = { wish->source, overview };

  overview->n_photos = wish->n_photos;
  overview->latest_trip = wish->latest_trip;
  if (!wish->photos)
    return TRUE;
  overview->n_photos = 0;
  overview->latest_trip = 0;
  return sw_photo_files_each (catalogue, 0, count_photo, &counting, error);
}

static gpointer
read_overview (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Wish *wish = data;
  g_autoptr (SwOverview) overview = g_new0 (SwOverview, 1);

  overview->name = g_strdup (sw_catalogue_name (catalogue));
  overview->folder = g_strdup (sw_catalogue_folder (catalogue));
  overview->currency = sw_catalogue_currency (catalogue);
  overview->read_only = sw_catalogue_is_read_only (catalogue);
  overview->places = sw_place_list (catalogue, error);
  if (overview->places == NULL)
    return NULL;
  overview->summaries = sw_place_summaries (catalogue, error);
  if (overview->summaries == NULL || !sw_ground_scale (catalogue, &overview->um_per_unit, error))
    return NULL;
  overview->trips = sw_trip_list (catalogue, error);
  if (overview->trips == NULL)
    return NULL;
  if (!sw_takings_read (catalogue, wish->credit, SW_BY_TRIP, &overview->takings, error))
    return NULL;
  if (!read_photos (catalogue, wish, overview, error))
    return NULL;
  overview->set_up = sw_set_up_get (catalogue, error);
  if (overview->set_up == NULL)
    return NULL;
  overview->undo = sw_undo_sentence (catalogue);
  overview->redo = sw_redo_sentence (catalogue);
  return g_steal_pointer (&overview);
}

static void load (SwStore *self);

static void
on_overview (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwStore) self = data;
  g_autoptr (GError) error = NULL;
  SwOverview *overview;
  gboolean first = !self->opened;

  self->pending--;
  self->loading = FALSE;
  if (self->worker == NULL)
    return; /* disposed meanwhile */
  overview = sw_worker_finish (self->worker, result, &error);
  self->opened = TRUE;
  if (overview != NULL)
    {
      overview_free (self->overview);
      self->overview = overview;
    }
  else
    self->photos_changed = TRUE; /* what was to be read was not */
  if (overview != NULL)
    g_signal_emit (self, signals[CHANGED], 0);
  if (first)
    g_signal_emit (self, signals[OPENED], 0, error != NULL ? error->message : NULL);
  else if (error != NULL && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    sw_store_tell (self, error->message, TRUE);
  if (self->load_again)
    load (self);
}

/* One read at a time: changes that come meanwhile cause one more, however many they were. */
static void
load (SwStore *self)
{
  Wish *wish;

  if (self->loading)
    {
      self->load_again = TRUE;
      return;
    }
  self->loading = TRUE;
  self->load_again = FALSE;
  wish = g_new0 (Wish, 1);
  wish->credit = self->credit;
  wish->source = sw_picture_source_ref (self->source);
  wish->photos = self->photos_changed || self->overview == NULL;
  self->photos_changed = FALSE;
  if (self->overview != NULL)
    {
      wish->n_photos = self->overview->n_photos;
      wish->latest_trip = self->overview->latest_trip;
    }
  self->pending++;
  sw_worker_push (self->worker, SW_RANK_VISIBLE, read_overview, wish, wish_free, overview_free,
                  NULL, on_overview, g_object_ref (self));
}

static void
on_changed (SwWorker *worker, const char *const *tables, gpointer data)
{
  SwStore *self = data;

  if (self->worker == NULL)
    return;
  self->photos_changed |= tables == NULL || g_strv_contains (tables, "photo");
  load (self);
  if (tables == NULL)
    sw_store_tell (self, _ ("Another program changed the catalogue; what is shown follows."),
                   FALSE);
}

/* ---- object ---- */

static void
sw_store_dispose (GObject *object)
{
  SwStore *self = SW_STORE (object);

  if (self->worker != NULL)
    sw_worker_set_changed (self->worker, NULL, NULL);
  self->worker = NULL;
  g_clear_pointer (&self->hold, sw_worker_hold_release);
  g_clear_pointer (&self->overview, overview_free);
  g_clear_pointer (&self->source, sw_picture_source_unref);
  g_clear_pointer (&self->folder, g_free);
  G_OBJECT_CLASS (sw_store_parent_class)->dispose (object);
}

static void
sw_store_class_init (SwStoreClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_store_dispose;
  signals[OPENED] = g_signal_new ("opened", SW_TYPE_STORE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[CHANGED] = g_signal_new ("changed", SW_TYPE_STORE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 0);
  signals[TOLD] = g_signal_new ("told", SW_TYPE_STORE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 3, G_TYPE_STRING, G_TYPE_BOOLEAN, G_TYPE_BOOLEAN);
  signals[SETTLE] = g_signal_new ("settle", SW_TYPE_STORE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 0);
}

static void
sw_store_init (SwStore *self)
{
  self->style = sw_number_style ();
  self->credit = SW_CREDIT_FOUND;
}

SwStore *
sw_store_new (const char *folder)
{
  SwStore *self = g_object_new (SW_TYPE_STORE, NULL);

  self->folder = g_strdup (folder);
  self->source = sw_picture_source_new (folder);
  self->hold = g_atomic_rc_box_new0 (SwWorkerHold);
  return self;
}

void
sw_store_open (SwStore *self)
{
  g_return_if_fail (self->worker == NULL && self->hold != NULL);
  self->hold->worker = self->worker = sw_worker_new (self->folder);
  sw_worker_set_changed (self->worker, on_changed, self);
  load (self);
}

const SwOverview *
sw_store_overview (SwStore *self)
{
  return self->overview;
}

const char *
sw_store_folder (SwStore *self)
{
  return self->folder;
}

SwWorkerHold *
sw_store_hold_worker (SwStore *self)
{
  return g_atomic_rc_box_acquire (self->hold);
}

static void
hold_free (gpointer data)
{
  sw_worker_free (((SwWorkerHold *)data)->worker);
}

void
sw_worker_hold_release (SwWorkerHold *hold)
{
  g_atomic_rc_box_release_full (hold, hold_free);
}

const SwPlaceSummary *
sw_store_summary (SwStore *self, gint64 place)
{
  for (guint i = 0; self->overview != NULL && i < self->overview->summaries->len; i++)
    {
      const SwPlaceSummary *summary = &g_array_index (self->overview->summaries, SwPlaceSummary, i);
      if (summary->place == place)
        return summary;
    }
  return NULL;
}

const SwPlace *
sw_store_place (SwStore *self, gint64 place)
{
  for (guint i = 0; self->overview != NULL && i < self->overview->places->len; i++)
    {
      const SwPlace *each = g_ptr_array_index (self->overview->places, i);
      if (each->id == place)
        return each;
    }
  return NULL;
}

const SwTrip *
sw_store_trip (SwStore *self, gint64 trip)
{
  for (guint i = 0; self->overview != NULL && i < self->overview->trips->len; i++)
    {
      const SwTrip *each = g_ptr_array_index (self->overview->trips, i);
      if (each->id == trip)
        return each;
    }
  return NULL;
}

SwCredit
sw_store_get_credit (SwStore *self)
{
  return self->credit;
}

void
sw_store_set_credit (SwStore *self, SwCredit credit)
{
  if (self->credit == credit)
    return;
  self->credit = credit;
  load (self);
}

/* ---- reads ---- */

typedef struct
{
  SwStore *store;
  GAsyncReadyCallback callback;
  gpointer user_data;
} Read;

static void
on_read (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autofree Read *read = data;
  g_autoptr (SwStore) self = read->store;

  self->pending--;
  /* Nobody waits any more for what was cancelled, also where it was read before that: what shows it
   * has gone on to something else. */
  g_task_set_check_cancellable (G_TASK (result), TRUE);
  read->callback (object, result, read->user_data);
}

void
sw_store_read (SwStore *self, SwRank rank, SwWorkFunc work, gpointer data, GDestroyNotify destroy,
               GDestroyNotify destroy_result, GCancellable *cancellable,
               GAsyncReadyCallback callback, gpointer user_data)
{
  Read *read = g_new0 (Read, 1);

  read->store = g_object_ref (self);
  read->callback = callback;
  read->user_data = user_data;
  self->pending++;
  sw_worker_push (self->worker, rank, work, data, destroy, destroy_result, cancellable, on_read,
                  read);
}

/* A thing that is gone meanwhile, or a question that has no answer, is no trouble. */
static gboolean
is_trouble (const GError *error)
{
  return error != NULL && error->domain == SW_ERROR && error->code != SW_ERROR_NOT_FOUND
         && error->code != SW_ERROR_REFUSED && error->code != SW_ERROR_BAD_INPUT
         && error->code != SW_ERROR_CANCELLED;
}

static gpointer
finish_and_tell (SwStore *self, GAsyncResult *result)
{
  g_autoptr (GError) error = NULL;
  gpointer read = sw_worker_finish (self->worker, result, &error);

  if (is_trouble (error))
    sw_store_tell (self, error->message, TRUE);
  return read;
}

gpointer
sw_store_finish (SwStore *self, GAsyncResult *result, GError **error)
{
  if (self->worker != NULL)
    return error != NULL ? sw_worker_finish (self->worker, result, error)
                         : finish_and_tell (self, result);
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _ ("The catalogue was closed."));
  return NULL;
}

/* ---- acts ---- */

typedef struct
{
  SwActFunc act;
  gpointer data;
  GDestroyNotify destroy;
} Act;

static void
act_free (gpointer data)
{
  Act *act = data;
  if (act->destroy != NULL)
    act->destroy (act->data);
  g_free (act);
}

/* The sentence of the act is the one that undo would name now. */
static gpointer
run_act (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Act *act = data;
  g_autofree char *after = NULL;

  if (!act->act (catalogue, act->data, error))
    return NULL;
  after = sw_undo_sentence (catalogue);
  return after != NULL ? g_steal_pointer (&after) : g_strdup ("");
}

typedef struct
{
  SwStore *store;
  GWeakRef owner;
  gboolean has_owner;
  SwActDone done;
  SwTryDone tried; /* instead of 'done': it is handed the refusal */
} Sent;

static void
on_act (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autofree Sent *sent = data;
  g_autoptr (SwStore) self = sent->store;
  g_autoptr (GObject) owner = g_weak_ref_get (&sent->owner);
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = NULL;

  g_weak_ref_clear (&sent->owner);
  self->pending--;
  if (self->worker == NULL)
    return;
  sentence = sw_worker_finish (self->worker, result, &error);
  if (sentence == NULL && (sent->tried == NULL || owner == NULL))
    sw_store_tell (self, error != NULL ? error->message : _ ("It was not done."), TRUE);
  else if (sentence != NULL && *sentence != '\0')
    g_signal_emit (self, signals[TOLD], 0, sentence, TRUE, FALSE);
  if (sent->tried != NULL && owner != NULL)
    sent->tried (owner, error != NULL ? error->message : NULL);
  if (sent->done != NULL && (owner != NULL || !sent->has_owner))
    sent->done (sent->has_owner ? (gpointer)owner : self, sentence != NULL);
}

static void
send (SwStore *self, SwActFunc act, gpointer data, GDestroyNotify destroy, GObject *owner,
      SwActDone done, SwTryDone tried)
{
  Act *work = g_new0 (Act, 1);
  Sent *sent = g_new0 (Sent, 1);

  work->act = act;
  work->data = data;
  work->destroy = destroy;
  sent->store = g_object_ref (self);
  sent->done = done;
  sent->tried = tried;
  sent->has_owner = owner != NULL;
  g_weak_ref_init (&sent->owner, owner);
  self->pending++;
  sw_worker_push (self->worker, SW_RANK_KEY, run_act, work, act_free, g_free, NULL, on_act, sent);
}

void
sw_store_act (SwStore *self, SwActFunc act, gpointer data, GDestroyNotify destroy, GObject *owner,
              SwActDone done)
{
  send (self, act, data, destroy, owner, done, NULL);
}

void
sw_store_try (SwStore *self, SwActFunc act, gpointer data, GDestroyNotify destroy, GObject *owner,
              SwTryDone done)
{
  send (self, act, data, destroy, owner, NULL, done);
}

static gpointer
run_undo (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  gboolean redo = GPOINTER_TO_INT (data);
  g_autofree char *sentence = NULL;

  if (!(redo ? sw_redo (catalogue, &sentence, error) : sw_undo (catalogue, &sentence, error)))
    return NULL;
  return g_strdup_printf (redo ? _ ("Done again: %s") : _ ("Undone: %s"),
                          sentence != NULL ? sentence : "");
}

static void
on_undo (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwStore) self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = NULL;

  self->pending--;
  if (self->worker == NULL)
    return;
  sentence = sw_worker_finish (self->worker, result, &error);
  sw_store_tell (self, sentence != NULL ? sentence : error->message, sentence == NULL);
}

static void
push_undo (SwStore *self, gboolean redo)
{
  g_signal_emit (self, signals[SETTLE], 0);
  self->pending++;
  sw_worker_push (self->worker, SW_RANK_KEY, run_undo, GINT_TO_POINTER (redo), NULL, g_free, NULL,
                  on_undo, g_object_ref (self));
}

void
sw_store_undo (SwStore *self)
{
  push_undo (self, FALSE);
}

void
sw_store_redo (SwStore *self)
{
  push_undo (self, TRUE);
}

void
sw_store_tell (SwStore *self, const char *sentence, gboolean is_problem)
{
  g_signal_emit (self, signals[TOLD], 0, sentence, FALSE, is_problem);
}

gboolean
sw_store_is_busy (SwStore *self)
{
  return self->pending > 0 || self->load_again;
}

/* ---- money ---- */

char *
sw_store_money (SwStore *self, SwMoney amount)
{
  if (self->overview == NULL)
    return g_strdup ("");
  return sw_money_to_local (amount, self->overview->currency, self->style);
}

char *
sw_store_money_with_code (SwStore *self, SwMoney amount)
{
  g_autofree char *text = sw_store_money (self, amount);
  return g_strdup_printf ("%s\u00a0%s", text,
                          self->overview != NULL ? self->overview->currency.code : "");
}

gboolean
sw_store_parse_money (SwStore *self, const char *text, SwMoney *out_amount, GError **error)
{
  return sw_money_parse_local (text, self->overview->currency, self->style, out_amount, error);
}

SwPictureSource *
sw_store_picture_source (SwStore *self)
{
  return self->source;
}
