/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The site: when somebody is there during a trip, the way to the gate, and the property's last day.
 * Hours and way say when nobody is there and how to get in: no hand-out carries them unless the
 * person asks for it. Records of the catalogue layer; each change is an act. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* In the person's words ("Saturday 10 to 16"), one line; "" for none. NOT_FOUND (the trip),
 * BAD_INPUT. */
gboolean sw_site_set_hours (SwCatalogue *catalogue, gint64 trip, const char *hours, GError **error);
/* "" where nothing was said. Transfer full. */
char *sw_site_hours (SwCatalogue *catalogue, gint64 trip, GError **error);

/* How one finds the gate and gets in, several lines; "" for not said. */
gboolean sw_site_set_way (SwCatalogue *catalogue, const char *way, GError **error);
char *sw_site_way (SwCatalogue *catalogue, GError **error);

/* The day by which everything must be gone; NULL: not known any more. */
gboolean sw_site_set_last_day (SwCatalogue *catalogue, const SwDay *day, GError **error);
gboolean sw_site_last_day (SwCatalogue *catalogue, gboolean *out_known, SwDay *out_day,
                           GError **error);

G_END_DECLS
