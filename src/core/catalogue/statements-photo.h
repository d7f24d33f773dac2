/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of photos, cameras, bring-ins and look-alikes. Private to core/catalogue; see statements.h. */
#pragma once

#define SW_PHOTO_COLUMNS                                                                           \
  "SELECT p.id, p.kind, p.format, p.file, p.stored, p.size, p.hash, coalesce(p.trip, 0),"          \
  " coalesce(p.camera, 0), coalesce(p.companion_of, 0), p.bring_in, c.label, p.clock_us,"          \
  " p.zone_offset_s, p.time_source, p.latitude, p.longitude, coalesce(p.position_error_m, 0),"     \
  " p.gps_us, p.orientation, coalesce(p.width, 0), coalesce(p.height, 0), p.remark, p.likeness,"   \
  " coalesce(p.sharpness, 0), p.aside, p.turn"                                                           \
  " FROM photo p LEFT JOIN camera c ON c.id = p.camera "

#define SW_CAMERA_COLUMNS "SELECT id, make, model, serial, label FROM camera "
#define SW_CLOCK_COLUMNS                                                                           \
  "SELECT camera, trip, shift_s, spread_s, evidence, set_by_person"                                \
  " FROM (SELECT * FROM camera_clock"                                                              \
  "  UNION ALL SELECT f.*, 0 FROM camera_clock_found f WHERE NOT EXISTS (SELECT 1"                 \
  "  FROM camera_clock c WHERE c.camera = f.camera AND c.trip = f.trip)) "

#define SW_PHOTO_STATEMENTS(X)                                                                     \
  X (PHOTO_GET, SW_PHOTO_COLUMNS "WHERE p.id = ?1")                                                \
  X (PHOTO_BY_HASH, SW_PHOTO_COLUMNS "WHERE p.hash = ?1")                                          \
  /* ?1: a trip, 0 for all, -1 for those without */                                                \
  X (PHOTO_LIST, SW_PHOTO_COLUMNS                                                                  \
     "WHERE (?1 = 0 OR p.trip = ?1 OR (?1 = -1 AND p.trip IS NULL))"                               \
     " AND (?2 OR p.aside = 0) ORDER BY p.id")                                                     \
  X (PHOTO_MOMENTS, "SELECT id, kind, file, clock_us, zone_offset_s, coalesce(camera, 0)"          \
                    " FROM photo WHERE trip = ?1 AND aside = 0 AND companion_of IS NULL"           \
                    " ORDER BY id")                                                                \
  /* ?15 and ?18 say whether what follows is a position and its error */                           \
  X (PHOTO_INSERT,                                                                                 \
     "INSERT INTO photo (kind, format, file, stored, size, hash, trip, camera, companion_of,"      \
     " bring_in, clock_us, zone_offset_s, time_source, remark, latitude, longitude,"               \
     " position_error_m, gps_us, orientation, width, height, aside, likeness, sharpness)"          \
     " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14,"                       \
     " CASE WHEN ?15 THEN ?16 END, CASE WHEN ?15 THEN ?17 END,"                                    \
     " CASE WHEN ?18 THEN ?19 END, ?20, ?21, ?22, ?23, ?24, ?25,"                                  \
     " CASE WHEN ?25 IS NOT NULL THEN ?26 END)")                                                   \
  X (PHOTO_PATH_PUT, "INSERT OR IGNORE INTO photo_path (photo, file) VALUES (?1, ?2)")             \
  X (PHOTO_PATHS, "SELECT file FROM photo_path WHERE photo = ?1 ORDER BY file")                    \
  /* BINARY collation: byte order */                                                               \
  X (PHOTO_NAME_FIRST, "UPDATE photo SET file ="                                                   \
                       " (SELECT min(file) FROM photo_path WHERE photo = ?1)"                      \
                       " WHERE id = ?1 AND file <>"                                                \
                       " (SELECT min(file) FROM photo_path WHERE photo = ?1)")                     \
  X (PHOTO_SET_ASIDE, "UPDATE photo SET aside = ?2 WHERE id = ?1 AND aside <> ?2")                 \
  X (PHOTO_SET_TRIP, "UPDATE photo SET trip = ?2 WHERE id = ?1 AND trip IS NOT ?2")                \
  X (PHOTO_SET_COMPANION,                                                                          \
     "UPDATE photo SET companion_of = ?2 WHERE id = ?1 AND companion_of IS NOT ?2")                \
  X (PHOTO_SET_LIKENESS, "UPDATE photo SET likeness = ?2, sharpness = ?3,"                         \
                         " width = coalesce(?4, width), height = coalesce(?5, height)"             \
                         " WHERE id = ?1")                                                         \
  X (PHOTO_ITEMS, "SELECT item FROM item_photo WHERE photo = ?1 ORDER BY also, item")              \
  X (PHOTO_NO_ITEM, "SELECT 1 FROM photo_no_item WHERE photo = ?1")                                \
  X (PHOTO_ITEM_PAIRS, "SELECT photo, item, also FROM item_photo ORDER BY photo, also, item")      \
  X (PHOTO_NO_ITEM_LIST, "SELECT photo FROM photo_no_item ORDER BY photo")                         \
  X (CAMERA_GET, SW_CAMERA_COLUMNS "WHERE id = ?1")                                                \
  X (CAMERA_BY_PARTS, "SELECT id FROM camera WHERE make = ?1 AND model = ?2 AND serial = ?3")      \
  X (CAMERA_BY_LABEL, "SELECT id FROM camera WHERE label = ?1")                                    \
  X (CAMERA_LIST, SW_CAMERA_COLUMNS "ORDER BY id")                                                 \
  X (CAMERA_INSERT, "INSERT INTO camera (make, model, serial, label) VALUES (?1, ?2, ?3, ?4)")     \
  X (CLOCK_GET, SW_CLOCK_COLUMNS "WHERE camera = ?1 AND trip = ?2")                                \
  X (CLOCK_LIST, SW_CLOCK_COLUMNS "ORDER BY camera, trip")                                         \
  X (CLOCK_PUT, "INSERT INTO camera_clock (camera, trip, shift_s, spread_s, evidence,"             \
                " set_by_person) VALUES (?1, ?2, ?3, ?4, ?5, 1)"                                   \
                " ON CONFLICT (camera, trip) DO UPDATE SET shift_s = excluded.shift_s,"            \
                " spread_s = excluded.spread_s, evidence = excluded.evidence")                     \
  X (CLOCK_FOUND_PUT, "INSERT INTO camera_clock_found (camera, trip, shift_s, spread_s, evidence)" \
                      " VALUES (?1, ?2, ?3, ?4, ?5)"                                               \
                      " ON CONFLICT (camera, trip) DO UPDATE SET shift_s = excluded.shift_s,"      \
                      " spread_s = excluded.spread_s, evidence = excluded.evidence")               \
  X (CLOCK_FOUND_DROP, "DELETE FROM camera_clock_found WHERE camera = ?1 AND trip = ?2")           \
  X (CLOCK_DROP, "DELETE FROM camera_clock WHERE camera = ?1 AND trip = ?2")                       \
  X (BRING_IN_OPEN, "INSERT INTO bring_in (opened_us, source) VALUES (?1, ?2)")                    \
  X (BRING_IN_CLOSE, "UPDATE bring_in SET closed_us = ?2 WHERE id = ?1 AND closed_us IS NULL")     \
  X (BRING_IN_STATE, "SELECT closed_us IS NULL FROM bring_in WHERE id = ?1")                       \
  X (BRING_IN_ANY_OPEN, "SELECT 1 FROM bring_in WHERE closed_us IS NULL LIMIT 1")                  \
  X (LOOK_ALIKE_PUT, "INSERT OR IGNORE INTO look_alike (a, b) VALUES (?1, ?2)")                    \
  X (LOOK_ALIKE_LIST, "SELECT a, b FROM look_alike ORDER BY a, b")
