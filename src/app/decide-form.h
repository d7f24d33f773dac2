/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fields of the deciding round in their fixed order, each with its key: typed, or set by one
 * more key from what is offered for it. Saved as they are typed; what somebody else changed
 * meanwhile is shown and never overwritten unseen. */
#pragma once

#include "app/decide-data.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SW_TYPE_DECIDE_FORM (sw_decide_form_get_type ())
G_DECLARE_FINAL_TYPE (SwDecideForm, sw_decide_form, SW, DECIDE_FORM, GtkBox)

/* Signals: "done" (): the last field was left with Enter. "left" (): Escape in a field.
 *
 * In a field: Enter and Down go on to the next, Up to the one before; 1 to 9 and 0 set what is
 * offered, where nothing was typed; '=' takes over what the find before said; F2 to F5 say that it
 * was seen, tried, told or guessed. */

/* Once, before anything is shown. */
void sw_decide_form_set_store (SwDecideForm *self, SwStore *store);
/* data stays valid until the next call; another item than before begins anew. NULL: nothing. */
void sw_decide_form_show (SwDecideForm *self, const SwDecideData *data);
/* Sends what was typed and not sent yet. */
void sw_decide_form_flush (SwDecideForm *self);
/* The keyboard into the field of that key; FALSE where there is none. */
gboolean sw_decide_form_go (SwDecideForm *self, guint32 letter);
/* The keyboard into the first field that says nothing yet. */
void sw_decide_form_begin (SwDecideForm *self);
/* Everything that is empty (but name, count, what is wrong, whom to ask and price) as the find
 * before. */
void sw_decide_form_repeat (SwDecideForm *self);
/* F2 to F5 for the field with the keyboard; FALSE for another key. */
gboolean sw_decide_form_source_key (SwDecideForm *self, guint keyval);

G_END_DECLS
