/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days typed into forms, read as core reads what a person types, seen from today at the property.
 */
#pragma once

#include "core/base/plain-time.h"
#include "core/catalogue/catalogue.h"
#include "core/trade/slip.h"

G_BEGIN_DECLS

/* What an empty field says of how a day is typed. */
#define SW_DAY_HINT N_ ("30 Nov, or with the year")
#define SW_DAY_HINT_TODAY N_ ("today, else like 30 Nov")

/* On the catalogue thread. Error: BAD_INPUT with an example. */
gboolean sw_typed_day (SwCatalogue *catalogue, const char *text, SwDayLean lean, SwDay *out_day,
                       GError **error);
/* The same into a cell of the row that the slip is at; a moment of ISO 8601 stays one. Left empty
 * it is this moment, so that two equal payments of one day are two. FALSE with an error. */
gboolean sw_typed_moment_into (SwSlip *slip, SwColumn column, SwCatalogue *catalogue,
                               const char *typed, SwInstant now, GError **error);
/* The same, but left empty it is the day of this moment. */
gboolean sw_typed_day_into (SwSlip *slip, SwColumn column, SwCatalogue *catalogue,
                            const char *typed, SwInstant now, GError **error);

/* Whether it is a day at all, said before anything is sent: for the main thread, which has no zone.
 */
gboolean sw_typed_day_check (const char *text, GError **error);

G_END_DECLS
