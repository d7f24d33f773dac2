/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Folders that are made whole or not at all: filled beside their place under another name, then
 * renamed. Catalogue layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

gboolean sw_folder_is_empty (const char *path);
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
/* Best effort, for what a failed try left behind. Never follows links. */
void sw_folder_remove (const char *path);

G_END_DECLS
