/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the van and what it loads: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_VAN_STATEMENTS(X)                                                                       \
  X (VAN_PUT, "INSERT INTO van (id, payload, length, width, height, door_width, door_height)"      \
              " VALUES (1, ?1, ?2, ?3, ?4, ?5, ?6) ON CONFLICT (id) DO UPDATE SET payload = ?1,"   \
              " length = ?2, width = ?3, height = ?4, door_width = ?5, door_height = ?6")          \
  X (VAN_GET, "SELECT payload, length, width, height, door_width, door_height FROM van")           \
  X (TRIP_LOAD_PUT, "INSERT INTO trip_load (trip, runs, kept_mass) VALUES (?1, ?2, ?3)"            \
                    " ON CONFLICT (trip) DO UPDATE SET runs = ?2, kept_mass = ?3")                 \
  X (TRIP_LOAD_GET, "SELECT runs, kept_mass FROM trip_load WHERE trip = ?1")                       \
  X (LOAD_WISH_PUT, "INSERT INTO load_wish (trip, item, wish) VALUES (?1, ?2, ?3)"                 \
                    " ON CONFLICT (trip, item) DO UPDATE SET wish = ?3")                           \
  X (LOAD_WISH_DROP, "DELETE FROM load_wish WHERE trip = ?1 AND item = ?2")                        \
  X (LOAD_WISH_LIST, "SELECT item, wish FROM load_wish WHERE trip = ?1 ORDER BY item")
