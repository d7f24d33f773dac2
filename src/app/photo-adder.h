/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A popover with the photos of a trip that nothing is decided of, to give to one item: those taken
 * nearest in time first. Stays open, so that several go in one after the other. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_PHOTO_ADDER (sw_photo_adder_get_type ())
G_DECLARE_FINAL_TYPE (SwPhotoAdder, sw_photo_adder, SW, PHOTO_ADDER, GtkPopover)

/* Each photo taken is an act of its own. */
GtkWidget *sw_photo_adder_new (GtkWidget *relative_to, SwStore *store, SwPictures *pictures);
/* Reads and opens. */
void sw_photo_adder_ask (SwPhotoAdder *self, gint64 item);

G_END_DECLS
