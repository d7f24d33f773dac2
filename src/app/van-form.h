/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the van may carry, its floor and door, and how often it goes on the trip. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"
#include "core/trip/load-sheet.h"

G_BEGIN_DECLS

/* Filled in with what the sheet knows. */
void sw_van_form_show (GtkWindow *parent, SwStore *store, const SwLoadSheet *sheet);

G_END_DECLS
