/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writing a file that a person names: the chooser, the work off the main thread, and the line that
 * tells what came of it. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* One kind of file; static. */
typedef struct
{
  const char *title;  /* of the chooser; translated when shown, as is the name */
  const char *name;   /* proposed, with its suffix */
  const char *suffix; /* added where the person left it off */
  /* On the catalogue's thread. Without 'write' it writes the file and returns the sentence that
   * tells so; else what 'write' needs. NULL with *error. */
  gpointer (*read) (SwCatalogue *catalogue, gconstpointer wish, const char *path, GError **error);
  GDestroyNotify free_what; /* of what 'read' gave; NULL: g_free */
  /* On a thread of its own, for what takes long (pictures); takes 'what'. NULL: see above. */
  char *(*write) (gpointer what, const char *path, GError **error);
} SwFileOut;

/* Asks for a name and has the file written; wish (may be NULL) is freed with free_wish. */
void sw_file_out_ask (GtkWindow *parent, SwStore *store, const SwFileOut *kind, gpointer wish,
                      GDestroyNotify free_wish);
/* Asks for a path alone; 'suffix' is put behind a name without it ("" for a folder, which may not
 * be there yet). 'chosen' gets the path (transfer full), NULL where it was left. */
typedef void (*SwFileOutChosen) (char *path, gpointer data);
void sw_file_out_ask_path (GtkWindow *parent, const char *title, const char *name,
                           const char *suffix, SwFileOutChosen chosen, gpointer data);
/* "takings.pdf written." Transfer full. */
char *sw_file_out_sentence (const char *path);

G_END_DECLS
