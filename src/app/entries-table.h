/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sales and costs that a row of the takings is made of, as a table. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_ENTRIES_TABLE (sw_entries_table_get_type ())
G_DECLARE_FINAL_TYPE (SwEntriesTable, sw_entries_table, SW, ENTRIES_TABLE, GtkTreeView)

/* entries: SwTakingsEntry; NULL shows none. */
void sw_entries_table_show (SwEntriesTable *self, SwStore *store, const GPtrArray *entries);

G_END_DECLS
