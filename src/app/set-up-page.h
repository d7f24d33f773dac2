/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first start: the property, its places, a trip. Each step can be left and taken up again; the
 * catalogue exists after the first one, and what is typed in the others is kept in it as it is
 * typed. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_SET_UP_PAGE (sw_set_up_page_get_type ())
G_DECLARE_FINAL_TYPE (SwSetUpPage, sw_set_up_page, SW, SET_UP_PAGE, GtkBox)

/* Signals: "made" (const char *folder): the catalogue is made, to be opened. "left" (): back from
 * the first step, nothing is made. "plan" (): the person goes on by sketching. "photos" (): the
 * steps are through, photos come next. */
GtkWidget *sw_set_up_page_new (void);
/* The first step, for a new catalogue. */
void sw_set_up_page_begin (SwSetUpPage *self);
/* The catalogue that is open; NULL: none. Not owned longer than it is open. */
void sw_set_up_page_set_store (SwSetUpPage *self, SwStore *store);
/* Goes on where it was left, or from the places once more where it was through. */
void sw_set_up_page_resume (SwSetUpPage *self);

G_END_DECLS
