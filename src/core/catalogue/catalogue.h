/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A catalogue: the folder NAME.shedwalk/ with catalogue.db, photos/, thumbs.db and backups/.
 * Owns the process's only connection to catalogue.db; to be used on one thread (see worker.h for the window).
 * The only layer that knows SQL. May use base alone. */
#pragma once

#include <gio/gio.h>

#include "core/base/civil.h"
#include "core/base/money.h"

G_BEGIN_DECLS

/* What a catalogue is made of is for its owner alone, where the file system knows modes: the photos
 * show a property that stands empty. Folders, then files. */
#define SW_FOLDER_MODE 0700
#define SW_FILE_MODE 0600
/* The records, inside the folder. */
#define SW_DATABASE_NAME "catalogue.db"

typedef struct _SwCatalogue SwCatalogue;

typedef enum
{
  SW_OPEN_READ_WRITE, /* a read-only folder or file is an error READ_ONLY */
  SW_OPEN_READ_ONLY,  /* never writes, not even a schema step: an older schema is refused */
} SwOpenMode;

/* Makes the folder (its name must end in .shedwalk and not be there, or be an empty folder) and a catalogue in it,
 * readable by its owner alone (SW_FOLDER_MODE).
 * Errors: REFUSED (something is there), BAD_INPUT (name, currency, zone), errno ones. A failed try leaves nothing behind. */
SwCatalogue *sw_catalogue_create (const char *folder, const char *name, const char *currency,
                                  const char *zone, GError **error);

/* Opens, checks application_id and user_version, runs schema steps still missing (each after a backup) and prepares every
 * statement. Errors: NOT_FOUND, REFUSED (no catalogue), NEWER_SCHEMA, DAMAGED (names what to do: restore), READ_ONLY,
 * BUSY. */
SwCatalogue *sw_catalogue_open (const char *folder, SwOpenMode mode, GError **error);

/* Ends its connection. NULL is allowed; no statement and no act may be under way. */
void sw_catalogue_close (SwCatalogue *catalogue);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwCatalogue, sw_catalogue_close)

/* What was said at its making. Transfer none, valid until close. */
const char *sw_catalogue_name (SwCatalogue *catalogue);
const char *sw_catalogue_folder (SwCatalogue *catalogue); /* absolute */
/* A random UUID given at its making, the same in its second home. NULL with an error of the database. Transfer full. */
char *sw_catalogue_id (SwCatalogue *catalogue, GError **error);
SwCurrency sw_catalogue_currency (SwCatalogue *catalogue);
const SwZone *sw_catalogue_zone (SwCatalogue *catalogue);
gboolean sw_catalogue_is_read_only (SwCatalogue *catalogue);

/* The clock of events, for tests: NULL is the system's. */
typedef SwInstant (*SwClockFunc) (gpointer data);
void sw_catalogue_set_clock (SwCatalogue *catalogue, SwClockFunc now, gpointer data);
SwInstant sw_catalogue_now (SwCatalogue *catalogue);

/* A path inside the catalogue's folder. Transfer full. */
char *sw_catalogue_path (SwCatalogue *catalogue, const char *relative);

/* Cheap: TRUE when another process (or connection) has written since the last call (PRAGMA data_version). */
gboolean sw_catalogue_changed_elsewhere (SwCatalogue *catalogue);

/* Change notices: after each outermost commit, undo and redo of this connection, on the catalogue's thread, one call with the names
 * of the tables that changed (NULL-terminated, transfer none). */
typedef void (*SwChangedFunc) (SwCatalogue *catalogue, const char *const *tables, gpointer data);
void sw_catalogue_set_changed (SwCatalogue *catalogue, SwChangedFunc changed, gpointer data);

G_END_DECLS
