/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets of the whole catalogue that a person hands out from the menu. */
#pragma once

#include "app/file-out.h"

G_BEGIN_DECLS

/* Where things stand, for whoever takes over. */
void sw_standing_ask (GtkWindow *parent, SwStore *store);
/* The valued inventory with photos. */
void sw_inventory_ask (GtkWindow *parent, SwStore *store);

G_END_DECLS
