/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shortest way past all places: an open path from the first one (where the person arrives).
 * Exact for up to SW_WALK_EXACT places (Held, M. & Karp, R. M., 1962, A dynamic programming
 * approach to sequencing problems, J. SIAM 10, 196-210); beyond that bettered from the order given
 * by turning stretches round and moving them (Lin, S., 1965, Computer solutions of the traveling
 * salesman problem, Bell System Technical Journal 44, 2245-2269; Or, I., 1976), so that it is never
 * longer than that. Trip layer, pure. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define SW_WALK_EXACT 12

/* ways[a * n + b]: from a to b in whole millimetres, >= 0, the same both ways. order: n indices,
 * in: the order that is walked now; out: the shortest found, beginning with the same one. Ties keep
 * what was given. The same input gives the same order. */
void sw_walking_order (const gint64 *ways, gsize n, guint *order);
/* The length of an order, millimetres. */
gint64 sw_walking_length (const gint64 *ways, gsize n, const guint *order);

G_END_DECLS
