/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A hand-out that takes its time: begun on the catalogue thread, finished on a thread of its own,
 * with a small window that shows how far it is and cancels. What came of it is told. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* Shared by the threads; done and total are read and written atomically. */
typedef struct
{
  int done, total; /* total 0: not known */
} SwOutProgress;

typedef struct
{
  const char *title; /* "Family choice" */
  /* On the catalogue thread: what the rest needs, NULL with *error. */
  gpointer (*begin) (SwCatalogue *catalogue, gpointer data, SwOutProgress *progress,
                     GError **error);
  GDestroyNotify free_begun;
  /* On its own thread: the sentence that is told (transfer full), NULL with *error. */
  char *(*finish) (gpointer begun, gpointer data, SwOutProgress *progress,
                   GCancellable *cancellable, GError **error);
} SwOutKind;

/* 'kind' is static; data is freed by destroy when all is over. */
void sw_out_job_run (GtkWindow *parent, SwStore *store, const SwOutKind *kind, gpointer data,
                     GDestroyNotify destroy);

G_END_DECLS
