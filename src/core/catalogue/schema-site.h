/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema: when somebody is on site during a trip, the way to the gate, and the property's last day.
 * site has one row or none. Private to core/catalogue. */
#pragma once

#define SW_SCHEMA_SITE                                                                             \
  "CREATE TABLE trip_hours (trip INTEGER PRIMARY KEY REFERENCES trip (id),\n"                      \
  "  hours TEXT NOT NULL) STRICT;\n"                                                               \
  "CREATE TABLE site (id INTEGER PRIMARY KEY CHECK (id = 1),\n"                                    \
  "  way TEXT NOT NULL DEFAULT '', last_day INTEGER) STRICT;\n"
