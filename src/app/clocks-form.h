/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The clocks of a trip's cameras: what is added to each, how sure that is and what speaks for it;
 * what a change would do to the order of the photos; set by the person or left to the program.
 * Works nothing out. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_CLOCKS_FORM (sw_clocks_form_get_type ())
G_DECLARE_FINAL_TYPE (SwClocksForm, sw_clocks_form, SW, CLOCKS_FORM, GtkBox)

/* Signal "leave" (): the person wants back to the photos. */
void sw_clocks_form_set_store (SwClocksForm *self, SwStore *store, SwPictures *pictures);
/* Shows that trip's clocks and follows the store; photo (0: none): the one to begin with. */
void sw_clocks_form_open (SwClocksForm *self, gint64 trip, gint64 photo);
/* Shows nothing more and reads nothing. */
void sw_clocks_form_close (SwClocksForm *self);
/* Nothing is being read. */
gboolean sw_clocks_form_is_settled (SwClocksForm *self);

G_END_DECLS
