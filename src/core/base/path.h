/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a path lies. Base layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Whether 'path', there or not yet, lies in 'folder' or is it, also by another name of either (a
 * link, ".."). */
gboolean sw_path_lies_inside (const char *path, const char *folder);
/* For what leaves: FALSE where it lies in the catalogue's own folder. Error: REFUSED. */
gboolean sw_path_check_outside (const char *path, const char *folder, GError **error);

G_END_DECLS
