/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Threads that take the next number until there is none. */
#include "core/base/each.h"

typedef struct
{
  guint n;
  guint next; /* atomic */
  int stopped;
  SwEachFunc func;
  gpointer data;
} Each;

static gpointer
run (gpointer data)
{
  Each *each = data;
  guint i;

  while (g_atomic_int_get (&each->stopped) == 0
         && (i = g_atomic_int_add (&each->next, 1)) < each->n)
    if (!each->func (i, each->data))
      g_atomic_int_set (&each->stopped, 1);
  return NULL;
}

void
sw_each (guint n, guint n_threads, SwEachFunc func, gpointer data)
{
  Each each = { .n = n, .func = func, .data = data };
  guint others = MIN (n_threads, n) > 0 ? MIN (n_threads, n) - 1 : 0;
  g_autofree GThread **threads = g_new0 (GThread *, others + 1);

  for (guint i = 0; i < others; i++)
    threads[i] = g_thread_try_new ("each", run, &each, NULL); /* too few threads are no fault */
  run (&each);
  for (guint i = 0; i < others; i++)
    if (threads[i] != NULL)
      g_thread_join (threads[i]);
}
