/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The removal of a buyer's data for good. Records of the catalogue layer. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* Takes the name off every offer, sale and hold, removes the person's enquiries, writes "(removed)"
 * for it in the history, and drops every changeset that holds the name or one of the enquiries, so
 * that those acts cannot be undone any more and no undo brings it back. The money stays. What the
 * database gave free is overwritten. Safety copies made before keep it until newer ones take their
 * place (sw_buyer_copies). An entry of the history that is not for undo. Errors: NOT_FOUND (nobody
 * of that exact name bought or asked), BUSY, READ_ONLY. */
gboolean sw_buyer_remove (SwCatalogue *catalogue, const char *name, GError **error);

/* The files that hold the name besides the catalogue's database, oldest first: safety copies in
 * backups/, then the database of the second home. GPtrArray of paths, transfer full. *out_unseen:
 * the second home's folder where it is not there now and may hold it, else NULL. Reads each copy
 * through. */
GPtrArray *sw_buyer_copies (SwCatalogue *catalogue, const char *name, char **out_unseen);

/* Everybody who bought or asked, or for whom something is held, by name. GPtrArray of char *,
 * transfer full. */
GPtrArray *sw_buyer_names (SwCatalogue *catalogue, GError **error);

/* "Ada" as a word of its own becomes 'by'; "Adam" stays. Transfer full; NULL where nothing changes.
 */
char *sw_buyer_blot (const char *sentence, const char *name, const char *by);

G_END_DECLS
