/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be done to several chosen items at once: a row of buttons, each with its little form. */
#pragma once

#include <gtk/gtk.h>

#include "app/say.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_BATCH_BAR (sw_batch_bar_get_type ())
G_DECLARE_FINAL_TYPE (SwBatchBar, sw_batch_bar, SW, BATCH_BAR, GtkBox)

/* Once, before anything is shown. */
void sw_batch_bar_set_store (SwBatchBar *self, SwStore *store);
/* items: gint64; seen only where there are two or more. */
void sw_batch_bar_set_items (SwBatchBar *self, const GArray *items);

G_END_DECLS
