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
/* What a person set goes before what was found. from_photo 0: from the camera's first photo on. */
#define SW_CLOCK_COLUMNS                                                                           \
  "SELECT camera, trip, shift_s, spread_s, evidence, set_by_person, from_photo, from_file,"        \
  " drift_s_day, drift_from_us, other_s, other_share, notes, faces, fixes, beside FROM ("          \
  " SELECT camera, trip, shift_s, spread_s, evidence, 1 AS set_by_person, 0 AS from_photo,"        \
  "  '' AS from_file, 0.0 AS drift_s_day, 0 AS drift_from_us, 0.0 AS other_s, 0.0 AS other_share," \
  "  0 AS notes, 0 AS faces, 0 AS fixes, 0 AS beside FROM camera_clock"                            \
  " UNION ALL SELECT f.camera, f.trip, f.shift_s, f.spread_s, f.evidence, 0, 0, '',"               \
  "  f.drift_s_day, f.drift_from_us, f.other_s, f.other_share, f.notes, f.faces, f.fixes,"         \
  "  f.beside FROM camera_clock_found f WHERE NOT EXISTS (SELECT 1 FROM camera_clock c"            \
  "  WHERE c.camera = f.camera AND c.trip = f.trip)"                                               \
  " UNION ALL SELECT p.camera, p.trip, p.shift_s, p.spread_s, p.evidence, 0, p.from_photo, h.file," \
  "  p.drift_s_day, p.drift_from_us, 0.0, 0.0, 0, 0, 0, 0"                                         \
  "  FROM camera_clock_part p JOIN photo h ON h.id = p.from_photo"                                 \
  "  WHERE NOT EXISTS (SELECT 1 FROM camera_clock c WHERE c.camera = p.camera"                     \
  "   AND c.trip = p.trip) AND NOT EXISTS (SELECT 1 FROM camera_clock_set s"                       \
  "   WHERE s.camera = p.camera AND s.trip = p.trip AND s.from_photo = p.from_photo)"              \
  " UNION ALL SELECT s.camera, s.trip, s.shift_s, 0.0, 0, 1, s.from_photo, h.file, 0.0, 0, 0.0,"   \
  "  0.0, 0, 0, 0, 0 FROM camera_clock_set s JOIN photo h ON h.id = s.from_photo) "

#define SW_PHOTO_STATEMENTS(X)                                                                     \
  X (PHOTO_GET, SW_PHOTO_COLUMNS "WHERE p.id = ?1")                                                \
  X (PHOTO_BY_HASH, SW_PHOTO_COLUMNS "WHERE p.hash = ?1")                                          \
  /* ?1: a trip, 0 for all, -1 for those without */                                                \
  X (PHOTO_LIST, SW_PHOTO_COLUMNS                                                                  \
     "WHERE (?1 = 0 OR p.trip = ?1 OR (?1 = -1 AND p.trip IS NULL))"                               \
     " AND (?2 OR p.aside = 0) ORDER BY p.id")                                                     \
  X (PHOTO_FILES, "SELECT id, coalesce(trip, 0), hash, stored, orientation, turn, aside,"          \
                  " likeness IS NOT NULL, kind = 'photo' FROM photo"                               \
                  " WHERE ?1 = 0 OR (trip = ?1 AND aside = 0) ORDER BY id")                        \
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
  /* BINARY collation: byte order */                                                               \
  X (PHOTO_NAME_FIRST, "UPDATE photo SET file ="                                                   \
                       " (SELECT min(file) FROM photo_path WHERE photo = ?1)"                      \
                       " WHERE id = ?1 AND file <>"                                                \
                       " (SELECT min(file) FROM photo_path WHERE photo = ?1)")                     \
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
  X (CLOCK_GET, SW_CLOCK_COLUMNS "WHERE camera = ?1 AND trip = ?2 AND from_photo = 0")                                \
  X (CLOCK_LIST, SW_CLOCK_COLUMNS "ORDER BY camera, trip, from_file, from_photo")                                         \
  X (CLOCK_PUT, "INSERT INTO camera_clock (camera, trip, shift_s, spread_s, evidence,"             \
                " set_by_person) VALUES (?1, ?2, ?3, ?4, ?5, 1)"                                   \
                " ON CONFLICT (camera, trip) DO UPDATE SET shift_s = excluded.shift_s,"            \
                " spread_s = excluded.spread_s, evidence = excluded.evidence")                     \
  /* ?3 the photo's file, ?4 its number */                                                         \
  X (CLOCK_FOUND_PUT,                                                                              \
     "INSERT OR REPLACE INTO camera_clock_found (camera, trip, shift_s, spread_s, evidence,"       \
     " drift_s_day, drift_from_us, other_s, other_share, notes, faces, fixes, beside)"             \
     " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13)")                           \
  X (CLOCK_PART_PUT,                                                                               \
     "INSERT OR REPLACE INTO camera_clock_part (camera, trip, from_photo, shift_s, spread_s,"      \
     " evidence, drift_s_day, drift_from_us) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)")             \
  X (CLOCK_PARTS_DROP, "DELETE FROM camera_clock_part WHERE camera = ?1 AND trip = ?2")            \
  X (CLOCK_SET_PUT,                                                                                \
     "INSERT INTO camera_clock_set (camera, trip, from_photo, shift_s) VALUES (?1, ?2, ?3, ?4)"    \
     " ON CONFLICT (camera, trip, from_photo) DO UPDATE SET shift_s = excluded.shift_s")           \
  X (CLOCK_SET_DROP,                                                                               \
     "DELETE FROM camera_clock_set WHERE camera = ?1 AND trip = ?2 AND (?3 = 0 OR from_photo = ?3)") \
  X (FACE_PUT, "INSERT INTO clock_face (photo, seen_us, resolution_s, dated)"                      \
               " VALUES (?1, ?2, ?3, ?4) ON CONFLICT (photo) DO UPDATE SET"                        \
               " seen_us = excluded.seen_us, resolution_s = excluded.resolution_s,"                \
               " dated = excluded.dated")                                                          \
  X (FACE_DROP, "DELETE FROM clock_face WHERE photo = ?1")                                         \
  X (FACE_LIST, "SELECT f.photo, f.seen_us, f.resolution_s, f.dated FROM clock_face f"             \
                " JOIN photo p ON p.id = f.photo WHERE p.trip = ?1 ORDER BY f.photo")              \
  X (CLOCK_FOUND_DROP, "DELETE FROM camera_clock_found WHERE camera = ?1 AND trip = ?2")           \
  X (CLOCK_DROP, "DELETE FROM camera_clock WHERE camera = ?1 AND trip = ?2")                       \
  X (BRING_IN_OPEN, "INSERT INTO bring_in (opened_us, source) VALUES (?1, ?2)")                    \
  X (BRING_IN_CLOSE, "UPDATE bring_in SET closed_us = ?2 WHERE id = ?1 AND closed_us IS NULL")     \
  X (BRING_IN_STATE, "SELECT closed_us IS NULL FROM bring_in WHERE id = ?1")                       \
  X (BRING_IN_ANY_OPEN, "SELECT 1 FROM bring_in WHERE closed_us IS NULL LIMIT 1")                  \
  X (LOOK_ALIKE_PUT, "INSERT OR IGNORE INTO look_alike (a, b) VALUES (?1, ?2)")                    \
  X (LOOK_ALIKE_FILES, "SELECT p.file FROM look_alike l JOIN photo p ON p.id = l.a + l.b - ?1"     \
                       " WHERE (l.a = ?1 OR l.b = ?1) AND p.aside = 0 ORDER BY p.id")
