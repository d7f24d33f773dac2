/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a step needs besides a click: for On hold until when and for whom, for Sold the money. A
 * popover that asks it. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"
#include "core/catalogue/states.h"

G_BEGIN_DECLS

#define SW_TYPE_STEP_FORM (sw_step_form_get_type ())
G_DECLARE_FINAL_TYPE (SwStepForm, sw_step_form, SW, STEP_FORM, GtkPopover)

/* TRUE where the step asks for something. */
gboolean sw_step_form_is_for (SwState to);
/* Opens inside 'around' at the place of 'button' (which may be replaced while the form is open);
 * when filled in, the step is taken. count 0: all. Destroys itself when closed. */
void sw_step_form_ask (GtkWidget *around, GtkWidget *button, SwStore *store, gint64 item,
                       gint64 count, SwState to);

G_END_DECLS
