/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A valued inventory with photos, for an executor or an insurer: what still stands, place by place,
 * each with its condition, its worth as the catalogue has it and what that rests on. Handout layer.
 * Neither buyers nor who said what are in it. */
#pragma once

#include "core/handout/out-photos.h"
#include "core/trade/valued.h"

G_BEGIN_DECLS

typedef struct _SwInventory SwInventory;

/* On the catalogue's thread. Transfer full. Errors: BAD_INPUT on overflow. */
SwInventory *sw_inventory_read (SwCatalogue *catalogue, SwDay today, GError **error);
void sw_inventory_free (SwInventory *inventory);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwInventory, sw_inventory_free)

typedef struct
{
  guint items, pictures, missing;
  int pages;
} SwInventoryReport;

/* Makes the pictures and writes the PDF, whole or not at all. Any thread but the catalogue's. *done
 * (atomic, may be NULL) counts items. Errors: those of sw_paper_write_file, REFUSED inside the
 * catalogue, CANCELLED. */
gboolean sw_inventory_write (const SwInventory *inventory, SwDecoder *decoder, const char *path,
                             int *done, GCancellable *cancellable, SwInventoryReport *out_report,
                             GError **error);

G_END_DECLS
