/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What items.c, item-list.c and item-change.c share. Private to core/catalogue. */
#pragma once

#include "core/catalogue/db.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* In the order of SwWaits. */
extern const char *const sw_item_waits_keys[SW_N_WAITS];
/* A mass without a source in the database. */
#define SW_MASS_GUESSED "guessed"

/* Of the columns that the statements of items share. Transfer full. */
SwItem *sw_item_from_row (const SwUse *use);

/* Errors: BAD_INPUT with what may be. asking may be NULL. */
gboolean sw_item_check_count (gint64 count, GError **error);
gboolean sw_item_check_asking (const SwMoney *asking, GError **error);
/* Errors: NOT_FOUND. trip 0: none, and well. */
gboolean sw_item_place_exists (SwCatalogue *catalogue, gint64 place, GError **error);
gboolean sw_item_trip_exists (SwCatalogue *catalogue, gint64 trip, GError **error);

G_END_DECLS
