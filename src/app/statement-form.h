/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A statement of an outlet: chosen as a file, its columns told once an outlet, held against the
 * books, its differences shown, and entered once the person says so. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* Asks for the file, then opens the window. Never blocks; what cannot be read is told. */
void sw_statement_form_ask (GtkWindow *parent, SwStore *store);

G_END_DECLS
