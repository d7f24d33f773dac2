/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A booked docket as it reads: what was weighed as what, what the yard took as another class than
 * it was marked as, and what it charged. Trade layer. */
#pragma once

#include "core/catalogue/deals.h"

G_BEGIN_DECLS

typedef struct
{
  char *lines;       /* "cast iron 410 kg, light steel 60 kg" */
  char *other_class; /* "Pump marked as heavy steel, taken as light steel; ..."; NULL: none */
  SwMoney charges;   /* of the yard, all that stand */
} SwDocketSheet;
void sw_docket_sheet_clear (SwDocketSheet *sheet);

/* An item without a class of its own was not marked as any. Errors: NOT_FOUND, BAD_INPUT on
 * overflow. */
gboolean sw_docket_sheet_read (SwCatalogue *catalogue, gint64 deal, SwDocketSheet *out_sheet,
                               GError **error);

G_END_DECLS
