/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The family's answers: pasted or out of a file, taken in as one act, and who said what when. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* Beside the main window, which stays usable. */
void sw_answers_form_open (GtkWindow *parent, SwStore *store);

G_END_DECLS
