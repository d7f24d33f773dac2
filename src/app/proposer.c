/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One run at a time, one request waiting. Shows nothing: what it stored comes with the store's
 * "changed". */
#include "app/proposer.h"

struct _SwProposer
{
  GObject parent;
  SwStore *store;
  GCancellable *cancellable; /* of the run; NULL: none */
  gint64 waiting;            /* trip of the next run; 0: none */
  GHashTable *others;        /* sw_pairing_draft_others of the last; NULL: none yet */
};

enum
{
  RESTED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwProposer, sw_proposer, G_TYPE_OBJECT)

static void start (SwProposer *self, gint64 trip);

/* The run is over, whichever way. */
static void
end_run (SwProposer *self)
{
  gint64 next = self->waiting;

  g_clear_object (&self->cancellable);
  self->waiting = 0;
  if (next != 0 && self->store != NULL)
    start (self, next);
  else
    g_signal_emit (self, signals[RESTED], 0);
}

static gboolean
is_over (SwProposer *self)
{
  return self->store == NULL || g_cancellable_is_cancelled (self->cancellable);
}

/* ---- storing ---- */

static gpointer
store_run (SwCatalogue *catalogue, gpointer draft, GCancellable *cancellable, GError **error)
{
  gboolean stored = FALSE;

  return GINT_TO_POINTER (sw_pairing_draft_store (draft, catalogue, &stored, error));
}

static void
on_stored (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwProposer) self = data;

  if (self->store != NULL)
    sw_store_finish (self->store, result, NULL); /* the next decision asks again */
  end_run (self);
}

/* ---- thinking ---- */

static void
think_thread (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  if (!g_cancellable_is_cancelled (cancellable))
    sw_pairing_draft_think (data);
  g_task_return_pointer (task, sw_pairing_draft_others (data), (GDestroyNotify)g_hash_table_unref);
}

static void
free_draft (gpointer draft)
{
  sw_pairing_draft_free (draft);
}

/* The task gives its draft away to the store's work. */
static void
on_thought (GObject *object, GAsyncResult *result, gpointer data)
{
  SwProposer *self = SW_PROPOSER (object);
  SwPairingDraft **slot = data;
  g_autoptr (SwPairingDraft) draft = *slot;
  g_autoptr (GHashTable) others = g_task_propagate_pointer (G_TASK (result), NULL);

  g_free (slot);
  if (is_over (self))
    {
      end_run (self);
      return;
    }
  g_clear_pointer (&self->others, g_hash_table_unref);
  self->others = g_steal_pointer (&others);
  sw_store_read (self->store, SW_RANK_SEARCH, store_run, g_steal_pointer (&draft), free_draft, NULL,
                 self->cancellable, on_stored, g_object_ref (self));
}

/* ---- reading ---- */

static gpointer
read_run (SwCatalogue *catalogue, gpointer trip, GCancellable *cancellable, GError **error)
{
  return sw_pairing_draft_new (catalogue, *(const gint64 *)trip, error);
}

static void
on_read (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwProposer) self = data;
  SwPairingDraft *draft = self->store != NULL ? sw_store_finish (self->store, result, NULL) : NULL;
  SwPairingDraft **slot;
  g_autoptr (GTask) task = NULL;

  if (draft == NULL || is_over (self))
    {
      sw_pairing_draft_free (draft);
      end_run (self);
      return;
    }
  slot = g_new (SwPairingDraft *, 1);
  *slot = draft;
  task = g_task_new (self, self->cancellable, on_thought, slot);
  g_task_set_check_cancellable (task, FALSE);
  g_task_set_task_data (task, draft, NULL);
  g_task_run_in_thread (task, think_thread);
}

static void
start (SwProposer *self, gint64 trip)
{
  self->cancellable = g_cancellable_new ();
  sw_store_read (self->store, SW_RANK_SEARCH, read_run, g_memdup2 (&trip, sizeof trip), g_free,
                 free_draft, self->cancellable, on_read, g_object_ref (self));
}

/* ---- object ---- */

static void
sw_proposer_dispose (GObject *object)
{
  SwProposer *self = SW_PROPOSER (object);

  sw_proposer_stop (self);
  g_clear_pointer (&self->others, g_hash_table_unref);
  g_clear_object (&self->store);
  G_OBJECT_CLASS (sw_proposer_parent_class)->dispose (object);
}

static void
sw_proposer_class_init (SwProposerClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_proposer_dispose;
  signals[RESTED] = g_signal_new ("rested", SW_TYPE_PROPOSER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
}

static void
sw_proposer_init (SwProposer *self)
{
}

SwProposer *
sw_proposer_new (SwStore *store)
{
  SwProposer *self = g_object_new (SW_TYPE_PROPOSER, NULL);

  self->store = g_object_ref (store);
  return self;
}

void
sw_proposer_request (SwProposer *self, gint64 trip)
{
  if (self->cancellable == NULL)
    {
      start (self, trip);
      return;
    }
  /* what runs was read before this decision */
  g_cancellable_cancel (self->cancellable);
  self->waiting = trip;
}

void
sw_proposer_stop (SwProposer *self)
{
  self->waiting = 0;
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
}

const SwPairingOther *
sw_proposer_other (SwProposer *self, gint64 stop)
{
  return self->others != NULL ? g_hash_table_lookup (self->others, &stop) : NULL;
}

gboolean
sw_proposer_is_busy (SwProposer *self)
{
  return self->cancellable != NULL;
}
