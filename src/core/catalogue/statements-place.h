/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of places. Private to core/catalogue; see statements.h. */
#pragma once

#define SW_PLACE_COLUMNS                                                                           \
  "SELECT id, coalesce(parent, 0), name, path, off_property, latitude, longitude,"                 \
  " box_x, box_y, box_w, box_h, walk_order, walked FROM place "

#define SW_PLACE_STATEMENTS(X)                                                                     \
  X (PLACE_GET, SW_PLACE_COLUMNS "WHERE id = ?1")                                                  \
  X (PLACE_BY_PATH, SW_PLACE_COLUMNS "WHERE path = ?1")                                            \
  X (PLACE_LIST, SW_PLACE_COLUMNS "ORDER BY walk_order, path")                                     \
  /* ?5 says whether ?6 and ?7 are a position */                                                   \
  X (PLACE_INSERT, "INSERT INTO place (parent, name, path, off_property, latitude, longitude)"     \
                   " VALUES (?1, ?2, ?3, ?4, CASE WHEN ?5 THEN ?6 END, CASE WHEN ?5 THEN ?7 END)") \
  X (PLACE_SET_BOX,                                                                                \
     "UPDATE place SET box_x = ?2, box_y = ?3, box_w = ?4, box_h = ?5 WHERE id = ?1")              \
  X (PLACE_SET_POSITION, "UPDATE place SET latitude = ?2, longitude = ?3 WHERE id = ?1")           \
  X (PLACE_SET_WALK_ORDER, "UPDATE place SET walk_order = ?2 WHERE id = ?1")                       \
  X (PLACE_SET_PARENT, "UPDATE place SET parent = ?2 WHERE id = ?1")                               \
  X (PLACE_DEPTH_INSIDE, "SELECT max((length(path) - length(replace(path, ' > ', ''))) / 3)"       \
                         " FROM place WHERE substr(path, 1, length(?1)) = ?1")                     \
  X (PLACE_RENAME, "UPDATE place SET name = ?2, path = ?3 WHERE id = ?1")                          \
  /* ?1 the old path and ?2 the new one, both with ' > ' behind */                                 \
  X (PLACE_RENAME_INSIDE, "UPDATE place SET path = ?2 || substr(path, length(?1) + 1)"             \
                          " WHERE substr(path, 1, length(?1)) = ?1")                               \
  X (PLACE_PHOTO_PUT, "INSERT OR IGNORE INTO place_photo (place, photo) VALUES (?1, ?2)")          \
  X (PLACE_PHOTO_LEAVE, "DELETE FROM place_photo WHERE photo = ?1 AND place <> ?2")                \
  X (PLACE_PHOTO_ALL, "SELECT l.photo, l.place FROM place_photo l JOIN photo p ON p.id = l.photo"  \
                      " WHERE p.trip = ?1 ORDER BY l.photo, l.place")
