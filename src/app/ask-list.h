/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What there is to ask, by person: a call list to copy, and answers entered in one pass: Enter
 * saves one and goes to the next. Claims that two people have on one item stand above. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_ASK_LIST (sw_ask_list_get_type ())
G_DECLARE_FINAL_TYPE (SwAskList, sw_ask_list, SW, ASK_LIST, GtkBox)

/* Once, before anything is shown. */
void sw_ask_list_set_store (SwAskList *self, SwStore *store);
/* Reads anew what there is to ask. */
void sw_ask_list_load (SwAskList *self);

G_END_DECLS
