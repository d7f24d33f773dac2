/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the site: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_SITE_STATEMENTS(X)                                                                      \
  X (TRIP_HOURS_PUT, "INSERT INTO trip_hours (trip, hours) VALUES (?1, ?2)"                        \
                     " ON CONFLICT (trip) DO UPDATE SET hours = ?2")                               \
  X (TRIP_HOURS_GET, "SELECT hours FROM trip_hours WHERE trip = ?1")                               \
  X (SITE_GET, "SELECT way, last_day FROM site")                                                   \
  X (SITE_WAY_PUT, "INSERT INTO site (id, way) VALUES (1, ?1)"                                     \
                   " ON CONFLICT (id) DO UPDATE SET way = ?1")                                     \
  X (SITE_LAST_DAY_PUT, "INSERT INTO site (id, last_day) VALUES (1, ?1)"                           \
                        " ON CONFLICT (id) DO UPDATE SET last_day = ?1")
