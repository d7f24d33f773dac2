/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the next window takes over from the last: its size, and whether the takings are open. Kept
 * by GSettings; where its schema is not installed nothing is kept. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Before the window is shown: gives it the size of the last, and keeps its own when it goes. */
void sw_remembered_follow (GtkWindow *window);

/* Whether the panel of the takings is folded out. */
gboolean sw_remembered_get_takings_open (void);
void sw_remembered_set_takings_open (gboolean open);

G_END_DECLS
