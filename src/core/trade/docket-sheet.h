/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Booked dockets as they read: what was weighed as what, what the yard took as another class than
 * it was marked as, and what it charged. Trade layer. */
#pragma once

#include "core/catalogue/deals.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 deal;
  char *ref, *outlet_name; /* outlet_name NULL: none */
  SwDay day;
  SwMoney amount;
  char *lines;       /* "cast iron 410 kg, light steel 60 kg" */
  char *other_class; /* "Pump marked as heavy steel, taken as light steel; ..."; NULL: none */
  SwMoney charges;   /* of the yard, all that stand */
} SwDocketSheet;
void sw_docket_sheet_free (SwDocketSheet *sheet);

/* Of all dockets, read in one pass, the latest first; an item without a class of its own was not
 * marked as any. GPtrArray of SwDocketSheet, transfer full. */
GPtrArray *sw_docket_sheets (SwCatalogue *catalogue, GError **error);

G_END_DECLS
