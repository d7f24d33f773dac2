/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The photos of an offer as files to upload: drawn anew, so that camera, serial and position stay
 * at home. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* Asks for a folder and writes the photos of the offer's items there as REF-01.jpg and so on, at
 * most 2,048 pixels on the long side. Files of those names that are there already are left alone
 * and the whole is refused. Never blocks; what came of it is told. */
void sw_photo_saver_ask (GtkWindow *parent, SwStore *store, gint64 deal, const char *ref);

G_END_DECLS
