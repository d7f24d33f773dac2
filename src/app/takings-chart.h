/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A chart of takings: for each row a bar of what it raised (proceeds as its frame) and a line of
 * the running total. Shows what core/trade worked out; the table beside it says the same in
 * figures. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_TAKINGS_CHART (sw_takings_chart_get_type ())
G_DECLARE_FINAL_TYPE (SwTakingsChart, sw_takings_chart, SW, TAKINGS_CHART, GtkDrawingArea)

/* The takings are copied as far as they are drawn; store for its currency. */
void sw_takings_chart_show (SwTakingsChart *self, SwStore *store, const SwTakings *takings,
                            SwGrouping grouping);
/* The row drawn as chosen; -1: none. */
void sw_takings_chart_choose (SwTakingsChart *self, int row);

G_END_DECLS
