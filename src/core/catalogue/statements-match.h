/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of field notes and stored proposals. Private to core/catalogue; see statements.h. */
#pragma once

#define SW_MATCH_STATEMENTS(X)                                                                     \
  X (NOTE_SAME, "SELECT id FROM field_note WHERE trip = ?1 AND at_us = ?2 AND place IS ?3"         \
                " AND what = ?4 COLLATE NOCASE AND count = ?5 AND remark = ?6")                    \
  X (NOTE_INSERT, "INSERT INTO field_note (trip, at_us, resolution_s, place, item, what, count,"   \
                  " remark) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)")                              \
  X (NOTE_LIST, "SELECT n.id, n.trip, n.at_us, n.resolution_s, coalesce(n.place, 0),"              \
                " coalesce(n.item, 0), p.path, n.what, n.count, n.remark"                          \
                " FROM field_note n LEFT JOIN place p ON p.id = n.place"                           \
                " WHERE n.trip = ?1 ORDER BY n.at_us, n.id")                                       \
  X (STOP_LIST,                                                                                    \
     "SELECT s.position, coalesce(s.item, 0), s.is_new, coalesce(i.name, s.name),"                 \
     " coalesce(s.place, 0), p.path, s.probability, s.band, s.reason"                              \
     " FROM stop s LEFT JOIN item i ON i.id = s.item LEFT JOIN place p ON p.id = s.place"          \
     " WHERE s.trip = ?1 ORDER BY s.position")                                                     \
  X (STOP_PHOTO_LIST,                                                                              \
     "SELECT position, photo,"                                                                     \
     " NOT EXISTS (SELECT 1 FROM item_photo ip WHERE ip.photo = s.photo AND ip.also = 0)"          \
     " AND NOT EXISTS (SELECT 1 FROM photo_no_item n WHERE n.photo = s.photo)"                     \
     " FROM stop_photo s WHERE trip = ?1 ORDER BY position, place_in_stop")                        \
  X (STOP_PHOTO_CLEAR, "DELETE FROM stop_photo WHERE trip = ?1")                                   \
  X (STOP_PHOTO_DROP, "DELETE FROM stop_photo WHERE photo = ?1")                                   \
  X (STOP_CLEAR, "DELETE FROM stop WHERE trip = ?1")                                               \
  X (STOP_INSERT,                                                                                  \
     "INSERT INTO stop (trip, position, item, is_new, name, place, probability, band,"             \
     " reason) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)")                                       \
  X (STOP_PHOTO_INSERT, "INSERT INTO stop_photo (photo, trip, position, place_in_stop)"            \
                        " VALUES (?1, ?2, ?3, ?4)")                                                \
  X (STOP_SET_ITEM, "UPDATE stop SET item = ?3, is_new = 0 WHERE trip = ?1 AND position = ?2")
