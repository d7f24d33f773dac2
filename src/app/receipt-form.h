/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A popover that asks what a receipt in a photo came to, and enters the cost with its photos. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_RECEIPT_FORM (sw_receipt_form_get_type ())
G_DECLARE_FINAL_TYPE (SwReceiptForm, sw_receipt_form, SW, RECEIPT_FORM, GtkPopover)

/* Signal "entered" (): the cost was taken; it has closed by then. What is refused is said in it. */
GtkWidget *sw_receipt_form_new (GtkWidget *relative_to, SwStore *store);
/* Empties the fields and opens. photos: gint64, transfer full. when: the day, as it is shown. */
void sw_receipt_form_ask (SwReceiptForm *self, gint64 trip, GArray *photos, const char *when);

G_END_DECLS
