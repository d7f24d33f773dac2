/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items, sales and events as tables for other programs: each as CSV (RFC 4180) and as JSON. Handout
 * layer.
 *
 * The folder that is made holds items.csv, items.json, sales.csv, sales.json, events.csv and
 * events.json. Columns are the same in both: money in CSV has a decimal point, in JSON it is a
 * whole number of the currency's minor unit, and the JSON file says which currency and how many
 * digits. Cells that begin with a formula character get an apostrophe in CSV. Days are YYYY-MM-DD,
 * times ISO 8601 with their offset, masses kilograms, lengths millimetres. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  int items, sales, events;
} SwTablesReport;

/* Makes the folder 'path', whole or not at all. Buyers' names are in it only where asked for; in
 * sentences of events "a buyer" stands for them. Errors: REFUSED (something is there, inside the
 * catalogue), NO_SPACE, READ_ONLY, errno ones. */
gboolean sw_tables_write (SwCatalogue *catalogue, const char *path, gboolean buyers,
                          SwTablesReport *out_report, GError **error);

G_END_DECLS
