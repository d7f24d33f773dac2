/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What there is to hand out from the menu, and what comes back: one table. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* Opens the small window of that key ("family"); an unknown one does nothing. */
void sw_hand_out_open (GtkWindow *parent, SwStore *store, const char *key);

G_END_DECLS
