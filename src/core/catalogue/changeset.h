/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether bytes are a changeset of SQLite's session extension. Private to core/catalogue. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Reads it through: table headers and changes as the comment "CHANGESET FORMAT" of SQLite's ext/session/sqlite3session.c lays them down.
 * To be asked before SQLite gets the bytes: its reader (3.40.1) never returns from a header that is cut off. */
gboolean sw_changeset_is_sound (GBytes *bytes);

G_END_DECLS
