/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of an item and what is still to be asked, with a row to add to it. Sends acts; which
 * sources there are and what an answer means is core's. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_FACT_BOX (sw_fact_box_get_type ())
G_DECLARE_FINAL_TYPE (SwFactBox, sw_fact_box, SW, FACT_BOX, GtkBox)

GtkWidget *sw_fact_box_new (void);
void sw_fact_box_set_store (SwFactBox *self, SwStore *store);
/* Shows the facts (SwFact) and questions (SwQuestion) of the item; nothing of them is kept. What is
 * being typed stays while the item is the same. */
void sw_fact_box_show (SwFactBox *self, gint64 item, const GPtrArray *facts,
                       const GPtrArray *questions);

G_END_DECLS
