/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files and folders that are there whole or not at all, whoever kills the program and whenever the
 * power goes. Catalogue layer.
 *
 * The power-safe order, wherever something new is put on a disk:
 *
 *  1. Its bytes go under another name in the same folder: NAME.part, .incoming-N.part for photos,
 *     .new-HASH-N.part for a whole folder.
 *  2. They are flushed: a file by fsync, a batch of photos by one syncfs, whose descriptor was open
 *     before the batch, so that it tells of errors in writing it.
 *  3. It is renamed into its place. One that replaces another is at any moment the old or the new.
 *  4. The folder of the name is flushed, and each folder that was made on the way there, up to one
 *     that was there before (sw_folder_flush_up). A file's flush does not keep its name.
 *  5. Only then comes the row that speaks of it: a commit by rollback journal with synchronous =
 *     EXTRA, which flushes the folder once more when the journal is gone (db.c).
 *  6. Only then it is said to be done.
 *
 * So there is no row without its file. What a death leaves goes by the name of step 1 alone, and
 * the next run of the same command takes it away; what is taken away so is flushed before the
 * bring-in that it belonged to is closed. In a second home the photos come first and the database
 * last, so that it is a whole earlier one or a whole later one. tests/fault holds all of this. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* FALSE unless nothing is at 'folder', or an empty folder. Error: REFUSED. */
gboolean sw_folder_is_free (const char *folder, GError **error);
/* Makes the folder beside 'folder' in which it is made until it is whole, and removes those that
 * killed tries at the same folder left. *out_lock (-1 where the file system has no locks) is closed
 * once it stands in its place. NULL on error; transfer full. */
char *sw_folder_part_make (const char *folder, int *out_lock, GError **error);
/* Puts 'part' in the place of 'folder' and flushes the folder around it; closes the lock. On an
 * error nothing of it is left. */
gboolean sw_folder_part_place (const char *part, int lock, const char *folder, GError **error);
/* After a failed try: closes the lock, removes 'part', and lets *error name 'folder' instead.
 * Returns FALSE. */
gboolean sw_folder_part_fail (const char *part, int lock, const char *folder, GError **error);
/* Whether a photo's 'stored' lies in the catalogue's photos/, whatever a catalogue from elsewhere
 * says. */
gboolean sw_stored_is_safe (const char *stored);
/* Flushes a folder; a file system that cannot (FAT) is no error. */
gboolean sw_folder_flush (const char *path, GError **error);
/* The same for 'path' and the folders around it, up to and with 'top', which it lies in or is. */
gboolean sw_folder_flush_up (const char *path, const char *top, GError **error);
/* Writes a file in the power-safe order, in place of the one that may be there; 'mode' as for
 * open(), 'what' begins the sentence of an error. A failed try leaves nothing, one that was killed
 * PATH.part, which the next one takes. */
gboolean sw_file_put (const char *path, const void *bytes, gsize n, int mode, const char *what,
                      GError **error);
/* Best effort, for what a failed try left behind. Never follows links. */
void sw_folder_remove (const char *path);

G_END_DECLS
