/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Showing things to relatives: one after another over the whole screen, with name, place and state;
 * what somebody says of one is taken on the spot. */
#pragma once

#include "app/store.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Asks which things and who answers, then shows them. Keys while showing: Right, Space and Page
 * Down go on, Left and Page Up back; m mine, k keep, s sell, d don't know, where somebody is named;
 * Ctrl+Z takes the last back; Escape leaves. */
void sw_slide_show_ask (GtkWindow *parent, SwStore *store);

G_END_DECLS
