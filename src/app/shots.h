/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures of the real window, page by page, for the README and for looking at it in CI. */
#pragma once

#include <gtk/gtk.h>

#include "app/window.h"

G_BEGIN_DECLS

/* Sizes the window by SHEDWALK_SIZE (WIDTHxHEIGHT), waits until each page has all it shows, writes
 * NAME.png into dir, and quits the application. folder NULL: only
 * the start view and the first step. SHEDWALK_CARD names a folder of photos to be looked at for one
 * of them. */
void sw_shots_start (GApplication *app, SwWindow *window, const char *dir, const char *folder);
/* 1 after a picture could not be written, else 0. */
int sw_shots_status (void);

G_END_DECLS
