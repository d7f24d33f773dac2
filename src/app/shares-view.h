/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The family's account: who has which share, what each paid, got and holds, and who pays whom.
 * Shows what core/trade/account.h worked out. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_SHARES_VIEW (sw_shares_view_get_type ())
G_DECLARE_FINAL_TYPE (SwSharesView, sw_shares_view, SW, SHARES_VIEW, GtkBox)

/* Transfer floating. */
GtkWidget *sw_shares_view_new (SwStore *store);

G_END_DECLS
