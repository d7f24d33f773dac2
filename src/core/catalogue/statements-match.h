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
  /* an item that an undo took away meanwhile is a new thing again */                              \
  X (STOP_LIST,                                                                                    \
     "SELECT s.first, s.start_us, coalesce(i.id, 0),"                                              \
     " s.is_new OR (s.item IS NOT NULL AND i.id IS NULL), coalesce(i.name, s.name),"               \
     " coalesce(p.id, 0), p.path, s.probability, s.band, s.reason"                                 \
     " FROM walk_stop s LEFT JOIN item i ON i.id = s.item LEFT JOIN place p ON p.id = s.place"     \
     " WHERE s.trip = ?1 ORDER BY s.start_us IS NULL, s.start_us, s.first")                        \
  X (STOP_PHOTO_LIST,                                                                              \
     "SELECT s.first, w.photo, i.id, i.name, n.kind,"                                              \
     " EXISTS (SELECT 1 FROM cost_photo c WHERE c.photo = w.photo)"                                \
     " FROM walk_stop s JOIN walk_stop_photo w ON w.stop = s.first"                                \
     " LEFT JOIN item i ON i.id = (SELECT min(ip.item) FROM item_photo ip"                         \
     " WHERE ip.photo = w.photo AND ip.also = 0)"                                                  \
     " LEFT JOIN photo_no_item n ON n.photo = w.photo"                                             \
     " WHERE s.trip = ?1 ORDER BY s.start_us IS NULL, s.start_us, s.first, w.place_in_stop")       \
  X (STOP_PHOTO_CLEAR, "DELETE FROM walk_stop_photo WHERE stop = ?1")                              \
  X (STOP_PHOTO_DROP, "DELETE FROM walk_stop_photo WHERE photo = ?1")                              \
  X (STOP_CLEAR, "DELETE FROM walk_stop WHERE first = ?1")                                         \
  X (STOP_INSERT,                                                                                  \
     "INSERT OR REPLACE INTO walk_stop (first, trip, start_us, item, is_new, name, place,"         \
     " probability, band, reason) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)")               \
  X (STOP_PHOTO_INSERT,                                                                            \
     "INSERT INTO walk_stop_photo (photo, stop, place_in_stop) VALUES (?1, ?2, ?3)")               \
  X (ALSO_LIST,                                                                                    \
     "SELECT a.stop, a.photo, a.item, a.tag, coalesce(i.name, a.name), a.reason"                   \
     " FROM walk_stop s JOIN walk_also a ON a.stop = s.first LEFT JOIN item i ON i.id = a.item"    \
     " WHERE s.trip = ?1 AND (a.item = 0 OR i.id IS NOT NULL)"                                     \
     " AND NOT EXISTS (SELECT 1 FROM item_photo ip WHERE ip.photo = a.photo AND ip.item = a.item)" \
     " ORDER BY s.start_us IS NULL, s.start_us, s.first, a.place_in_stop")                         \
  X (ALSO_CLEAR, "DELETE FROM walk_also WHERE stop = ?1")                                          \
  X (ALSO_INSERT,                                                                                  \
     "INSERT OR REPLACE INTO walk_also (photo, item, tag, stop, place_in_stop, name, reason)"      \
     " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)")                                                       \
  X (STOP_SET_ITEM, "UPDATE walk_stop SET item = ?2, is_new = 0 WHERE first = ?1")                 \
  X (CUT_PUT,                                                                                      \
     "INSERT INTO photo_cut (photo, cut, beside) VALUES (?1, ?2, nullif (?3, 0))"                  \
     " ON CONFLICT (photo) DO UPDATE SET cut = excluded.cut, beside = excluded.beside"             \
     " WHERE cut <> excluded.cut OR beside IS NOT excluded.beside")                                \
  X (CUT_DROP, "DELETE FROM photo_cut WHERE photo = ?1")                                           \
  X (CUT_LIST, "SELECT c.photo, c.cut, c.beside FROM photo_cut c JOIN photo p ON p.id = c.photo"   \
               " WHERE p.trip = ?1 ORDER BY c.photo")
