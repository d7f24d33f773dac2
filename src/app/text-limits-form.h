/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long titles and texts may be at an outlet. */
#pragma once

#include "app/store.h"
#include "core/catalogue/going-out.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* 'limits' as they stand. */
void sw_text_limits_form_show (GtkWindow *parent, SwStore *store, gint64 outlet,
                               const SwTextLimits *limits);

G_END_DECLS
