/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Asks how many tags go with the place cards, and prints both or writes them as a PDF. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* Never blocks. What came of it is said by the store. */
void sw_cards_form_open (GtkWindow *parent, SwStore *store);

G_END_DECLS
