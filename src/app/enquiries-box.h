/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Who asked for an offer, line by line, with what can be done about each: hold it for them, or say
 * that they did not come. Empty and hidden where nobody asked. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_ENQUIRIES_BOX (sw_enquiries_box_get_type ())
G_DECLARE_FINAL_TYPE (SwEnquiriesBox, sw_enquiries_box, SW, ENQUIRIES_BOX, GtkBox)

/* enquiries: GPtrArray of SwEnquiry, kept (counted); NULL: none. items: what the offer is of. */
void sw_enquiries_box_show (SwEnquiriesBox *self, SwStore *store, GPtrArray *enquiries,
                            const char *items);

G_END_DECLS
