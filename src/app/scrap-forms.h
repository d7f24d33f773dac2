/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small windows for what a yard pays, and for the load that is planned. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* yards: names of scrap yards, NULL-terminated, copied by the form; begins with today. */
void sw_rate_form_show (GtkWindow *parent, SwStore *store, const char *const *yards);
/* begun: cartage and mass as typed, NULL for none; see SwAsk. */
void sw_load_form_show (GtkWindow *parent, SwStore *store, const char *const *begun);

G_END_DECLS
