/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Acts of forms that stay open until the act was taken: why it was refused is said in the form, see
 * sw_store_try. */
#pragma once

#include "app/store.h"
#include "core/catalogue/set-up.h"

G_BEGIN_DECLS

/* All places of an indented list that are not there yet, as one act. */
void sw_form_act_places (SwStore *store, const char *outline, GObject *owner, SwTryDone done);
/* One place, 'A > B'. */
void sw_form_act_place (SwStore *store, const char *path, gboolean off_property, GObject *owner,
                        SwTryDone done);
/* trip 0: a new one, else what that one is from now on. Days as typed. Photos of those days that
 * belong to no trip yet are taken along. */
void sw_form_act_trip (SwStore *store, gint64 trip, const char *title, const char *first,
                       const char *last, GObject *owner, SwTryDone done);
/* Keeps how far the set-up has come; no act. */
void sw_form_keep_set_up (SwStore *store, const SwSetUp *set_up);

G_END_DECLS
