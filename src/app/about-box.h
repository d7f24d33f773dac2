/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of an item, in four groups: about it, its worth, to find out, to do on site. What is
 * there reads as lines, each opens its form; what is not there is a row of 'add' buttons. */
#pragma once

#include <gtk/gtk.h>

#include "app/say.h"
#include "app/sheet-data.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_ABOUT_BOX (sw_about_box_get_type ())
G_DECLARE_FINAL_TYPE (SwAboutBox, sw_about_box, SW, ABOUT_BOX, GtkBox)

/* Once, before anything is shown. */
void sw_about_box_set_store (SwAboutBox *self, SwStore *store);
/* Shows what was read; valid until the next call. A form that is open for the same item stays open.
 */
void sw_about_box_show (SwAboutBox *self, const SwSheetData *data);
/* Sends what was typed and closes the form: before another item is shown. */
void sw_about_box_leave (SwAboutBox *self);
/* Opens the form of a kind, for what is begun elsewhere (break up). */
void sw_about_box_open (SwAboutBox *self, SwSay *begun);

G_END_DECLS
