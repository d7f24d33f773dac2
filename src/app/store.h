/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An open catalogue as the window sees it: read models made on the catalogue thread, and acts sent
 * to it. Holds no SQL and no sums; touches no widget. Every call belongs on the main thread. */
#pragma once

#include "app/picture-source.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/place-figures.h"
#include "core/catalogue/places.h"
#include "core/catalogue/set-up.h"
#include "core/catalogue/trips.h"
#include "core/catalogue/worker.h"
#include "core/trade/takings.h"

G_BEGIN_DECLS

/* What every page shows some part of; immutable, read anew after each change. */
typedef struct
{
  char *name, *folder;
  SwCurrency currency;
  gboolean read_only;
  GPtrArray *places;  /* SwPlace */
  GArray *summaries;  /* SwPlaceSummary, one a place */
  gint64 um_per_unit; /* the plan's scale; 0: not set */
  GPtrArray *trips;   /* SwTrip */
  char *undo, *redo;  /* sentences; NULL: nothing to undo */
  SwTakings takings;  /* by trip, in the store's credit view */
  guint n_photos;
  gint64 latest_trip; /* the latest trip with photos; 0: none */
  SwSetUp *set_up;    /* how far a new catalogue's set-up has come */
} SwOverview;

#define SW_TYPE_STORE (sw_store_get_type ())
G_DECLARE_FINAL_TYPE (SwStore, sw_store, SW, STORE, GObject)

/* Signals:
 * "opened" (const char *problem): once; NULL when it is open, else a sentence and the store is of
 * no use. "changed" (): the overview is a new one; read again what is shown. The first comes just
 * before "opened", so that what is made then reads once. "told" (const char *sentence, gboolean
 * can_undo, gboolean is_problem): a line for the person. "settle" (): what was done and waits for
 * the keys to rest is sent now, since undo is to take back that and not what was before it.
 * Transfer full. */
SwStore *sw_store_new (const char *folder);

/* Begins to open it; once. Reads and acts belong after "opened". */
void sw_store_open (SwStore *self);

/* NULL until it is open; valid until the next "changed". */
const SwOverview *sw_store_overview (SwStore *self);
const char *sw_store_folder (SwStore *self);

/* The catalogue thread for work that may outlast the store (a bring-in that is being stopped while
 * its window closes). The last one to release it ends the thread. Transfer full; release with
 * sw_worker_hold_release. */
typedef struct
{
  SwWorker *worker;
} SwWorkerHold;
SwWorkerHold *sw_store_hold_worker (SwStore *self);
void sw_worker_hold_release (SwWorkerHold *hold);

/* The summary / place / trip with that number, NULL for none. */
const SwPlaceSummary *sw_store_summary (SwStore *self, gint64 place);
const SwPlace *sw_store_place (SwStore *self, gint64 place);
const SwTrip *sw_store_trip (SwStore *self, gint64 trip);

/* The credit view of the panel and of the page. */
SwCredit sw_store_get_credit (SwStore *self);
void sw_store_set_credit (SwStore *self, SwCredit credit);

/* Reads on the catalogue thread; see sw_worker_push. Finish with sw_store_finish. */
void sw_store_read (SwStore *self, SwRank rank, SwWorkFunc work, gpointer data,
                    GDestroyNotify destroy, GDestroyNotify destroy_result,
                    GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user_data);

/* NULL with a G_IO_ERROR_CANCELLED once the cancellable is cancelled, however far the read had
 * come, and when the catalogue was closed meanwhile. Where error is NULL, what keeps the catalogue
 * from being read (a damaged database, a disk that is gone) is told as a problem; what is shown
 * stays as it was. */
gpointer sw_store_finish (SwStore *self, GAsyncResult *result, GError **error);

/* What an act does on the catalogue thread; FALSE with *error where it is refused. */
typedef gboolean (*SwActFunc) (SwCatalogue *catalogue, gpointer data, GError **error);
/* Sends an act. Its sentence, or why it was refused, comes with "told". 'done' (may be NULL) is
 * called on the main thread afterwards unless 'owner' (may be NULL: the store) is gone by then.
 * data is freed by destroy after the work. */
typedef void (*SwActDone) (gpointer owner, gboolean done);
void sw_store_act (SwStore *self, SwActFunc act, gpointer data, GDestroyNotify destroy,
                   GObject *owner, SwActDone done);
/* The same for a form that stays open until it is done: a refusal is not told but handed to 'done'.
 * Once 'owner' is gone, 'done' is not called and a refusal is told. problem NULL: it is done. */
typedef void (*SwTryDone) (gpointer owner, const char *problem);
void sw_store_try (SwStore *self, SwActFunc act, gpointer data, GDestroyNotify destroy,
                   GObject *owner, SwTryDone done);
void sw_store_undo (SwStore *self);
void sw_store_redo (SwStore *self);
/* Says a line as if it came from an act. */
void sw_store_tell (SwStore *self, const char *sentence, gboolean is_problem);

/* Acts and reads that have not come back yet. */
gboolean sw_store_is_busy (SwStore *self);

/* Amounts as the person writes them, without the currency. Transfer full. */
char *sw_store_money (SwStore *self, SwMoney amount);
/* With the currency's code behind. */
char *sw_store_money_with_code (SwStore *self, SwMoney amount);

/* Reads an amount as the person writes it. Error: BAD_INPUT. */
gboolean sw_store_parse_money (SwStore *self, const char *text, SwMoney *out_amount,
                               GError **error);

/* Transfer none. */
SwPictureSource *sw_store_picture_source (SwStore *self);

G_END_DECLS
