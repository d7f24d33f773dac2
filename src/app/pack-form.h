/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pack of an offer: each photo is looked at before any of it leaves, then the pack is written
 * into a new folder. */
#pragma once

#include "app/store.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Opens the window for an offer. Keys: m lets a photo go, l leaves it out, Left goes back; once
 * each is looked at the pack is written to a folder that is asked for. Closing it while it is
 * written stops that, and nothing is left behind. */
void sw_pack_form_open (GtkWindow *parent, SwStore *store, const char *ref);
/* The same before anything is put up: for one item (in a lot: for the lot), or for several that are
 * to go as one. outlet: by name, whose limits hold for the text; NULL: that of the first which
 * names one. items and outlet are copied. */
void sw_pack_form_open_items (GtkWindow *parent, SwStore *store, const gint64 *items, guint n,
                              const char *outlet);

G_END_DECLS
