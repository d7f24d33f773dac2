/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of trips. Private to core/catalogue; see statements.h. */
#pragma once

#define SW_TRIP_COLUMNS "SELECT id, title, note, first_day, last_day FROM trip "

#define SW_TRIP_STATEMENTS(X)                                                                      \
  X (TRIP_GET, SW_TRIP_COLUMNS "WHERE id = ?1")                                                    \
  X (TRIP_LIST, SW_TRIP_COLUMNS "ORDER BY id")                                                     \
  X (TRIP_OVERLAPS, SW_TRIP_COLUMNS "WHERE first_day <= ?2 AND last_day >= ?1 AND id <> ?3"        \
                                    " ORDER BY id")                                                \
  X (TRIP_INSERT, "INSERT INTO trip (title, first_day, last_day) VALUES (?1, ?2, ?3)")             \
  X (TRIP_UPDATE, "UPDATE trip SET title = ?2, note = ?3, first_day = ?4, last_day = ?5"           \
                  " WHERE id = ?1")                                                                \
  X (TRIP_OF_DAY, "SELECT id FROM trip WHERE first_day <= ?1 AND last_day >= ?1 ORDER BY id")
