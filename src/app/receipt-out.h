/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The receipt of a hand-over as a PDF, for both to sign. */
#pragma once

#include "app/store.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Asks whether the buyer's name is to be in it, then for the file. */
void sw_receipt_out_ask (GtkWindow *parent, SwStore *store, const char *ref);

G_END_DECLS
