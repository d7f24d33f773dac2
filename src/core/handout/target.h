/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a hand-out may be written. Handout layer. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* FALSE where 'path' lies in the catalogue's folder, also by another name of it (a link, "..");
 * what is in there is the catalogue's own. 'folder' is the catalogue's. Error: REFUSED. */
gboolean sw_target_is_outside (const char *folder, const char *path, GError **error);

/* Sets CANCELLED with its sentence: a hand-out is written as a whole or not at all. Always FALSE.
 */
gboolean sw_target_stopped (GError **error);

G_END_DECLS
