/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fields of one saying (say.h), opened in place under its heading. What is saved while it is
 * typed goes out a moment after the last key, and when the form is left; what is not, with its
 * button or Enter. */
#pragma once

#include "app/say.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SW_TYPE_SAY_FORM (sw_say_form_get_type ())
G_DECLARE_FINAL_TYPE (SwSayForm, sw_say_form, SW, SAY_FORM, GtkBox)

/* Signal "closed": it was confirmed, withdrawn or left with Escape; the owner removes it. */

/* begun: the saying to change, its values filled in; or a new one, with what is known already.
 * Counted. Transfer floating. */
GtkWidget *sw_say_form_new (SwStore *store, SwSay *begun);
/* Sends what was typed and not sent yet. */
void sw_say_form_flush (SwSayForm *self);
/* The keyboard into its first field that is empty. */
void sw_say_form_focus (SwSayForm *self);

G_END_DECLS
