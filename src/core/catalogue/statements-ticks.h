/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the lines of a trip's sheet: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_TICKS_STATEMENTS(X)                                                                     \
  X (TRIP_LINE_DROP, "DELETE FROM trip_line WHERE trip = ?1")                                      \
  X (TRIP_LINE_ADD, "INSERT INTO trip_line (trip, number, part, subject, item, pieces, tick,"      \
                    " broken, due, taken) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)")       \
  X (TRIP_LINE_LIST, "SELECT number, part, subject, item, pieces, tick, broken, due, taken"        \
                     " FROM trip_line WHERE trip = ?1 ORDER BY number")                            \
  X (TRIP_LINE_TICK, "UPDATE trip_line SET tick = ?3, broken = ?4, due = ?5, taken = ?6"           \
                     " WHERE trip = ?1 AND number = ?2")                                           \
  X (TRIP_CASH_PUT, "INSERT INTO trip_cash (trip, counted) VALUES (?1, ?2)"                        \
                    " ON CONFLICT (trip) DO UPDATE SET counted = ?2")                              \
  X (TRIP_CASH_GET, "SELECT counted FROM trip_cash WHERE trip = ?1")
