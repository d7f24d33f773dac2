/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Acts on offers as the window sends them to the catalogue thread. What may be done and how it is
 * said is core's business; the answer comes with the store's "told". Owners and callbacks as in
 * store.h. */
#pragma once

#include "app/store.h"
#include "core/trade/interest-table.h"
#include "core/trade/run-sheet.h"

G_BEGIN_DECLS

/* Keys of the closing night. Acts run in the order sent and answer in it, so that the n-th answer
 * is that of the n-th key. */
void sw_act_catch (SwStore *store, gint64 deal, SwResult result, SwMoney amount, GObject *owner,
                   SwActDone done);
void sw_act_verdict (SwStore *store, gint64 deal, SwVerdict verdict, GObject *owner,
                     SwActDone done);
void sw_act_take_back (SwStore *store, gint64 deal, GObject *owner, SwActDone done);

/* Books what was caught of these offers; what was not taken as wished is told afterwards. */
void sw_act_confirm (SwStore *store, const gint64 *deals, guint n);
void sw_act_interest (SwStore *store, const SwDealInterest *rows, guint n);
/* What becomes of an item that did not sell. */
void sw_act_decide (SwStore *store, gint64 item, SwVerdict verdict);
/* Takes the running offer back today. */
void sw_act_withdraw (SwStore *store, gint64 deal);
/* NULL: stays as it is; own_ref "": not known any more. */
void sw_act_offer_note (SwStore *store, gint64 deal, const char *own_ref, const char *title,
                        const char *text, const char *extra);

G_END_DECLS
