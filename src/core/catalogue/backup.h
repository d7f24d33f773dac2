/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Safety copies: SQLite's online backup inside backups/ (the last ten), the second home on another
 * disk, and back. Catalogue layer. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* How many safety copies are kept; older ones go as new ones come. */
#define SW_BACKUPS_KEPT 10

/* backups/<UTC time>-<why>.db by the online backup, flushed, checked; keeps the last ten, and
 * all from before the schema steps of one day. */
gboolean sw_backup_database (SwCatalogue *catalogue, const char *why, GError **error);

typedef struct
{
  gint64 photos_copied, photos_there, bytes_copied;
} SwBackupReport;
/* Database and photos to the folder 'target' (made if missing; refused inside the catalogue, or
 * where it holds another catalogue), only what is new, then verified by reading back. Readable by
 * its owner alone, like the catalogue. Interrupted and run again it completes. */
gboolean sw_backup_to (SwCatalogue *catalogue, const char *target, GCancellable *cancellable,
                       SwBackupReport *out_report, GError **error);
/* Makes 'folder' (must not be there, or be empty) from a second home, and verifies it. */
gboolean sw_restore (const char *target, const char *folder, GCancellable *cancellable,
                     SwBackupReport *out_report, GError **error);
/* The two halves of it, for what is no second home (rescue.h): whether a backup was made to the
 * folder; and a catalogue of a database and the photos below 'home', all read back. *out_stands and
 * *out_report are set once it stands; it may stand and photos be missing, which is DAMAGED. */
gboolean sw_is_second_home (const char *folder);
gboolean sw_restore_from (const char *home, const char *database, const char *to,
                          GCancellable *cancellable, SwBackupReport *out_report,
                          gboolean *out_stands, GError **error);
/* When the last backup_to was, FALSE for never. */
gboolean sw_backup_last (SwCatalogue *catalogue, SwInstant *out_at, char **out_target);

G_END_DECLS
