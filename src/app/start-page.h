/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is seen while no catalogue is open: open one, make one, or take a recent one. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SW_TYPE_START_PAGE (sw_start_page_get_type ())
G_DECLARE_FINAL_TYPE (SwStartPage, sw_start_page, SW, START_PAGE, GtkBox)

/* Signal "open" (const char *folder). */

/* A sentence above the choices; NULL: none. */
void sw_start_page_set_problem (SwStartPage *self, const char *sentence);
/* NULL: none is shown. */
const char *sw_start_page_get_problem (SwStartPage *self);
/* Reads the recent ones again. */
void sw_start_page_refresh (SwStartPage *self);

G_END_DECLS
