/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The small windows of what leaves as a whole: the family choice, tables, an archive. None blocks;
 * what came of it is told. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* Whose questions, of which place, with prices or not; then as a page or on paper. */
void sw_family_form_open (GtkWindow *parent, SwStore *store);
/* With buyers' names or not; then where to. */
void sw_tables_form_open (GtkWindow *parent, SwStore *store);
/* Where to. */
void sw_archive_form_open (GtkWindow *parent, SwStore *store);

G_END_DECLS
