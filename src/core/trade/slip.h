/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of the money table made by the program itself: what the window enters goes by the same rules
 * as `book`, to the cent. Trade layer. */
#pragma once

#include "core/trade/rows.h"
#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct _SwSlip SwSlip;
/* Without rows. The catalogue is borrowed. Transfer full. */
SwSlip *sw_slip_new (SwCatalogue *catalogue);
void sw_slip_free (SwSlip *slip);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwSlip, sw_slip_free)

/* Begins a row; the cells that follow are its own. */
void sw_slip_row (SwSlip *slip, SwRowKind kind);
/* Cells of the row begun last. NULL and FALSE leave the cell empty. */
void sw_slip_text (SwSlip *slip, SwColumn column, const char *text);
void sw_slip_number (SwSlip *slip, SwColumn column, gint64 number);
void sw_slip_money (SwSlip *slip, SwColumn column, gboolean has, SwMoney money);
void sw_slip_day (SwSlip *slip, SwColumn column, SwDay day);
/* With its time and the offset of the catalogue's zone. */
void sw_slip_instant (SwSlip *slip, SwColumn column, SwInstant instant);

/* What the person calls a column where a cell of it is at fault, in place of its name in the table:
 * the field it was typed into. It holds for all rows. */
void sw_slip_name (SwSlip *slip, SwColumn column, const char *name);

/* Books all rows as one act named 'sentence', or nothing. The error is the first fault's own
 * sentence, without a line number. *out_remarks (may be NULL): GPtrArray of char *, what was taken
 * although something about it is odd; transfer full. Errors: as sw_book_bytes. */
gboolean sw_slip_book (SwSlip *slip, const char *sentence, GPtrArray **out_remarks, GError **error);

G_END_DECLS
