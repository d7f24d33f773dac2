/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The catalogue thread of the window: the only user of its SwCatalogue, with a queue by rank.
 * Catalogue layer; GLib only. Closures get the catalogue and return a plain result; their callback runs in the main context that
 * was the thread default when they were pushed. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct _SwWorker SwWorker;

typedef enum
{
  SW_RANK_KEY,     /* what the person waits for */
  SW_RANK_VISIBLE, /* what is on screen */
  SW_RANK_SEARCH,
  SW_RANK_BATCH, /* bring-in and proposals: pieces of at most 20 ms */
} SwRank;

/* Runs on the catalogue thread. Returns a result (freed by the task's destroy notify) or NULL with *error. */
typedef gpointer (*SwWorkFunc) (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable,
                                GError **error);

/* Starts the thread, which opens the catalogue there; where it cannot be written, for reading only. Never fails: where it cannot be opened
 * each piece of work ends with that error. Transfer full. */
SwWorker *sw_worker_new (const char *folder);
/* Finishes what is queued at rank KEY, drops the rest (CANCELLED), joins. Callbacks still come, from the main context; notices do not. In the
 * main context. */
void sw_worker_free (SwWorker *worker);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwWorker, sw_worker_free)

/* Queues. data is freed by destroy after the work, on either thread. The callback gets a GTask: sw_worker_finish. Equal ranks run in order.
 * Cancelled before its turn: CANCELLED; later the work looks at the cancellable itself. From any thread. */
void sw_worker_push (SwWorker *worker, SwRank rank, SwWorkFunc work, gpointer data,
                     GDestroyNotify destroy, GDestroyNotify destroy_result, GCancellable *cancellable,
                     GAsyncReadyCallback callback, gpointer user_data);
/* What the work returned, transfer full. worker is not looked at (it may be gone). */
gpointer sw_worker_finish (SwWorker *worker, GAsyncResult *result, GError **error);

/* Change notices, delivered in the main context that called: tables changed by this process's acts or (polled four times a second
 * by data_version) by another's (then tables is NULL: read again all that is shown). */
typedef void (*SwWorkerChangedFunc) (SwWorker *worker, const char *const *tables, gpointer data);
void sw_worker_set_changed (SwWorker *worker, SwWorkerChangedFunc changed, gpointer data);

G_END_DECLS
