/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The clocks of a trip's cameras: what is added to each, how sure that is and what speaks for it;
 * set by the person or left to the program. Works nothing out. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_CLOCKS_FORM (sw_clocks_form_get_type ())
G_DECLARE_FINAL_TYPE (SwClocksForm, sw_clocks_form, SW, CLOCKS_FORM, GtkPopover)

/* Opens at 'button' for the trip; follows the store while open and destroys itself when closed. */
void sw_clocks_form_open (GtkWidget *button, SwStore *store, gint64 trip);

G_END_DECLS
