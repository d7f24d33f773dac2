/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The same work for many things, in a few threads. Base layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The work for thing 'i'. FALSE: no further ones are begun. Called by several threads at once. */
typedef gboolean (*SwEachFunc) (guint i, gpointer data);

/* Does it for 0 to n - 1, in no certain order, and returns when all threads have ended. n_threads
 * at most; with one or none, or one thing, on the calling thread. */
void sw_each (guint n, guint n_threads, SwEachFunc func, gpointer data);

G_END_DECLS
