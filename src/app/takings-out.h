/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The takings for others: on paper, as a sheet, as a table. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* Asks for a file and writes the sheet (PDF) or the table (CSV) of that grouping in the store's
 * credit view; what came of it is told. Never blocks. */
void sw_takings_save_ask (GtkWindow *parent, SwStore *store, SwGrouping grouping,
                          gboolean as_table);
/* Opens the system's print window with the sheet. */
void sw_takings_print (GtkWindow *parent, SwStore *store, SwGrouping grouping);

G_END_DECLS
