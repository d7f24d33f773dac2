/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A catalogue out of what is left of a damaged one: its newest safety copy that is sound, and its
 * photos. Catalogue layer. */
#pragma once

#include "core/catalogue/backup.h"

G_BEGIN_DECLS

typedef struct
{
  char *safety_copy; /* its name in backups/ */
  SwBackupReport copied;
  GPtrArray *later; /* char *: whole paths of files in the damaged one's photos/ that the copy does
                       not know, in byte order; to be brought in anew */
} SwRescueReport;
void sw_rescue_report_clear (SwRescueReport *report);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwRescueReport, sw_rescue_report_clear)

/* Whether 'folder' is what is left of a catalogue, and no second home. */
gboolean sw_rescue_is_for (const char *folder);

/* Makes 'folder' (must not be there, or be empty) as sw_restore does. 'damaged' is not changed. Of
 * what was entered after the safety copy nothing comes back but the photos named in 'later'.
 * Errors: DAMAGED where no safety copy is sound; and, when all else stands in 'folder' and the
 * report is filled, where photos are missing or changed: it names them. */
gboolean sw_rescue (const char *damaged, const char *folder, GCancellable *cancellable,
                    SwRescueReport *out_report, GError **error);

G_END_DECLS
