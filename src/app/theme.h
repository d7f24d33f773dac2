/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Style sheet, and light or dark as the desktop asks for it. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Loads the style and follows the settings portal from now on. SHEDWALK_THEME=light|dark in the
 * environment overrides. */
void sw_theme_start (void);

G_END_DECLS
