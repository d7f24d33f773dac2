/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Settling: what a deal's rows come to, item by item, brought into its postings. Trade layer. */
#pragma once

#include "core/catalogue/deals.h"

G_BEGIN_DECLS

/* Holds the ranks of each outlet's offers for one act. */
typedef struct _SwSettling SwSettling;
SwSettling *sw_settling_new (SwCatalogue *catalogue);
void sw_settling_free (SwSettling *settling);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwSettling, sw_settling_free)

/* Brings the postings of the deal to what its rows say now. ended_now: the deal ended in this act,
 * so weights of the split and computed fees are fixed here, by the terms, asking prices and masses
 * of this moment; they never change again. What is posted stays; differences are added. Within an
 * act of the caller. Errors: BAD_INPUT on overflow. */
gboolean sw_settle (SwSettling *settling, gint64 deal, gboolean ended_now, GError **error);

/* Whether the postings of the deal are what its rows say; writes nothing. Weights of a split and
 * computed fees are taken as they were fixed. */
gboolean sw_settle_check (SwCatalogue *catalogue, gint64 deal, gboolean *out_sound, GError **error);

G_END_DECLS
