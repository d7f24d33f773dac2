/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a look before a bring-in found, as lines for the person. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"
#include "core/intake/preview.h"

G_BEGIN_DECLS

/* "412 photos to bring in". Transfer full. */
char *sw_preview_title (const SwPreview *preview);
/* Fills the box anew; what was typed for a trip that is still offered stays. Days that no trip has
 * get a title and a button that makes the trip. */
void sw_preview_rows_fill (GtkWidget *box, SwStore *store, const SwPreview *preview);

G_END_DECLS
