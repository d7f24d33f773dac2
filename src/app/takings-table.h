/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A table of takings: what each trip, place, outlet, month or round brought. Shows what core/trade
 * worked out and adds nothing up. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_TAKINGS_TABLE (sw_takings_table_get_type ())
G_DECLARE_FINAL_TYPE (SwTakingsTable, sw_takings_table, SW, TAKINGS_TABLE, GtkTreeView)

/* 'with_costs' FALSE leaves that column out (the panel). The store gives names and writes money. */
void sw_takings_table_set_with_costs (SwTakingsTable *self, gboolean with_costs);
/* The key of the chosen row as core/trade gives it, and its place among the rows (-1: none, or the
 * total). Transfer full; NULL for none. */
char *sw_takings_table_chosen (SwTakingsTable *self, int *out_row);
void sw_takings_table_show (SwTakingsTable *self, SwStore *store, const SwTakings *takings,
                            SwGrouping grouping);

/* "Before the first trip", "Trip 2, Spring stay", "No outlet": what a row is called. Transfer full.
 */
char *sw_takings_row_name (SwStore *store, const SwTakingsRow *row, SwGrouping grouping);

G_END_DECLS
