/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The panel at the foot of every page: what each trip raised, by the chosen view, in a table and in
 * words. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_TAKINGS_PANEL (sw_takings_panel_get_type ())
G_DECLARE_FINAL_TYPE (SwTakingsPanel, sw_takings_panel, SW, TAKINGS_PANEL, GtkRevealer)

/* Follows the store from here on; NULL: none is open. */
void sw_takings_panel_set_store (SwTakingsPanel *self, SwStore *store);

G_END_DECLS
