/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of items, their photos, facts, questions and jobs. Private to core/catalogue; see
 * statements.h. */
#pragma once

/* Photos set aside do not count. The first photo is the cover a person chose, else the one that the
 * rule of photo-quality.h proposes: a photo not measured counts as unmarked and well in focus. */
#define SW_ITEM_COVER_PROPOSED                                                                     \
  "(SELECT ip.photo FROM item_photo ip JOIN photo p ON p.id = ip.photo AND p.aside = 0"            \
  " LEFT JOIN photo_quality q ON q.photo = ip.photo WHERE ip.item = i.id"                          \
  " ORDER BY ip.also, coalesce(q.marks, 0) <> 0, CASE WHEN q.marks <> 0 THEN -q.focus END,"        \
  " coalesce(q.focus * 3 < (SELECT max(b.focus) FROM item_photo ib"                                \
  "   JOIN photo_quality b ON b.photo = ib.photo"                                                  \
  "   WHERE ib.item = ip.item AND ib.also = 0 AND b.marks = 0), 0),"                               \
  " ip.position, ip.photo LIMIT 1)"

#define SW_ITEM_COLUMNS                                                                            \
  "SELECT i.id, i.name, i.neutral, i.place, coalesce(i.trip, 0), pl.path, i.state, i.count,"       \
  " i.asking, i.mass_ug, i.mass_source, coalesce(i.origin, 0), i.claim, i.claim_by,"               \
  " i.never_offer, i.hold_until, i.hold_for, coalesce(i.cover, 0),"                                \
  " (SELECT count(*) FROM item_photo ip JOIN photo p ON p.id = ip.photo AND p.aside = 0"           \
  "   WHERE ip.item = i.id),"                                                                      \
  " coalesce(i.cover, " SW_ITEM_COVER_PROPOSED ", 0),"                                             \
  " i.revision, i.mass_how, i.size_class, i.stows, i.length_mm, i.width_mm, i.height_mm,"          \
  " i.size_guessed, i.reserve, coalesce(i.outlet, 0),"                                             \
  " (SELECT o.name FROM outlet o WHERE o.id = i.outlet), coalesce(i.lot, 0),"                      \
  " (SELECT l.name FROM lot l WHERE l.id = i.lot), i.scrap_class, i.waits,"                        \
  " (SELECT count(*) FROM fact f WHERE f.item = i.id AND f.kind = 'danger'"                        \
  "   AND f.withdrawn_us IS NULL),"                                                                \
  " (SELECT count(*) FROM question q WHERE q.item = i.id AND q.answer IS NULL"                     \
  "   AND q.withdrawn_us IS NULL),"                                                                \
  " (SELECT count(*) FROM job j WHERE j.item = i.id AND j.done = 0 AND j.withdrawn_us IS NULL),"   \
  " (SELECT count(*) > 1 FROM claim c WHERE c.item = i.id AND c.says = 'mine') "

/* Of a list that is wanted: the number, and what it is ordered by (?8) as a text or a number. The
 * rows themselves are read when they are looked at. */
#define SW_ITEM_NUMBER_COLUMNS                                                                     \
  "SELECT i.id, CASE ?8 WHEN 'name' THEN i.name WHEN 'state' THEN i.state"                         \
  " WHEN 'place' THEN (SELECT path FROM place WHERE id = i.place) END,"                            \
  " CASE ?8 WHEN 'count' THEN i.count WHEN 'asking' THEN i.asking WHEN 'mass' THEN i.mass_ug"      \
  " WHEN 'trip' THEN i.trip END, CASE WHEN ?9 & 8 THEN i.state END "

/* ?9: bits of SwItemNeed; ?10 to ?13: bounds, none where NULL. Of TO_BE_PRICED the caller looks at
 * the state, whose meaning stands in states.h. */
#define SW_ITEM_NARROWED                                                                           \
  "(?1 = 0 OR i.place = ?1 OR (?2 AND (SELECT substr(path, 1, length(?3)) = ?3 FROM place"         \
  "   WHERE id = i.place)))"                                                                       \
  " AND (?4 = 0 OR i.trip = ?4) AND (?5 IS NULL OR i.state = ?5)"                                  \
  " AND (?6 = 0 OR i.outlet = ?6) AND (?7 = 0 OR i.lot = ?7)"                                      \
  " AND (NOT ?9 & 1 OR EXISTS (SELECT 1 FROM fact f WHERE f.item = i.id AND f.kind = 'danger'"     \
  "   AND f.withdrawn_us IS NULL))"                                                                \
  " AND (NOT ?9 & 2 OR EXISTS (SELECT 1 FROM question q WHERE q.item = i.id AND q.answer IS NULL"  \
  "   AND q.withdrawn_us IS NULL))"                                                                \
  " AND (NOT ?9 & 4 OR EXISTS (SELECT 1 FROM job j WHERE j.item = i.id AND j.done = 0"             \
  "   AND j.withdrawn_us IS NULL))"                                                                \
  " AND (NOT ?9 & 8 OR i.asking IS NULL)"                                                          \
  " AND (NOT ?9 & 16 OR NOT EXISTS (SELECT 1 FROM item_photo ip"                                   \
  "   JOIN photo p ON p.id = ip.photo AND p.aside = 0 WHERE ip.item = i.id))"                      \
  " AND (NOT ?9 & 32 OR coalesce(i.size_class, i.length_mm, i.width_mm, i.height_mm) IS NULL)"     \
  " AND (NOT ?9 & 64 OR i.claim <> 'none') AND (NOT ?9 & 128 OR i.waits = 'later')"                \
  " AND (?10 IS NULL OR i.asking >= ?10) AND (?11 IS NULL OR i.asking <= ?11)"                     \
  " AND (?12 IS NULL OR i.mass_ug >= ?12) AND (?13 IS NULL OR i.mass_ug <= ?13)"

#define SW_ITEM_STATEMENTS(X)                                                                      \
  X (ITEM_GET, SW_ITEM_COLUMNS                                                                     \
     "FROM item i JOIN place pl ON pl.id = i.place WHERE i.id = ?1")                               \
  /* in the order of the numbers, which lead */                                                    \
  X (ITEM_ROWS, SW_ITEM_COLUMNS "FROM json_each (?1) n CROSS JOIN item i ON i.id = n.value"        \
                                " JOIN place pl ON pl.id = i.place ORDER BY n.key")                \
  /* index item_name; the caller keeps those that are equal to the letter */                       \
  X (ITEM_NAMED, "SELECT id, name, coalesce(origin, 0) FROM item"                                  \
                 " WHERE name = ?1 COLLATE NOCASE ORDER BY id")                                    \
  X (ITEM_NAMES, "SELECT DISTINCT name FROM item ORDER BY name")                                   \
  X (ITEM_NAMES_IN_PLACE, "SELECT id, name FROM item WHERE place = ?1 ORDER BY id")                \
  X (ITEM_NUMBERS, SW_ITEM_NUMBER_COLUMNS "FROM item i WHERE " SW_ITEM_NARROWED " ORDER BY i.id")    \
  /* a search finds few: its rows lead, and those of the items are looked up */                    \
  X (ITEM_NUMBERS_FOUND, SW_ITEM_NUMBER_COLUMNS                                                    \
     "FROM item_search s CROSS JOIN item i ON i.id = s.rowid"                                      \
     " WHERE item_search MATCH ?14 AND " SW_ITEM_NARROWED " ORDER BY s.rowid")                     \
  X (ITEM_LAST, "SELECT max(id) FROM item")                                                        \
  X (ITEM_INSERT, "INSERT INTO item (name, neutral, place, trip, count, asking, added_us)"         \
                  " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)")                                          \
  X (ITEM_UPDATE,                                                                                  \
     "UPDATE item SET name = ?2, neutral = ?3, place = ?4, count = ?5, asking = ?6,"               \
     " mass_ug = ?7, mass_source = ?8, claim = ?9, claim_by = ?10,"                                \
     " never_offer = ?11, cover = ?12, trip = ?13," /* off the property it is kept where it was    \
                                                       found; a move within it puts that right */  \
     " found_place = CASE WHEN (SELECT off_property FROM place WHERE id = ?4) = 0 THEN NULL"       \
     " WHEN (SELECT off_property FROM place WHERE id = item.place) = 0 THEN place"                 \
     " ELSE found_place END, revision = revision + 1 WHERE id = ?1")                               \
  X (ITEM_STATES, "SELECT state, count(*) FROM item GROUP BY state")                               \
  X (ITEM_SET_STATE, "UPDATE item SET state = ?2, hold_until = ?3, hold_for = ?4,"                 \
                     " revision = revision + 1 WHERE id = ?1")                                     \
  X (ITEM_UPDATE_MORE,                                                                             \
     "UPDATE item SET mass_how = ?2, size_class = ?3, stows = ?4, length_mm = ?5, width_mm = ?6,"  \
     " height_mm = ?7, size_guessed = ?8, reserve = ?9, outlet = ?10, scrap_class = ?11,"          \
     " waits = ?12 WHERE id = ?1")                                                                 \
  X (ITEM_TOUCH, "UPDATE item SET revision = revision + 1 WHERE id = ?1")                          \
  X (ITEM_SET_LOT, "UPDATE item SET lot = ?2, revision = revision + 1 WHERE id = ?1")              \
  X (ITEM_SET_ORIGIN, "UPDATE item SET origin = ?2 WHERE id = ?1")                                 \
  X (ITEM_SET_REST, "UPDATE item SET count = ?2, asking = ?3, mass_ug = ?4, reserve = ?5,"         \
                    " mass_source = CASE WHEN ?4 IS NULL THEN NULL ELSE mass_source END,"          \
                    " revision = revision + 1 WHERE id = ?1")                                      \
  X (ITEM_INSERT_PART,                                                                             \
     "INSERT INTO item (name, neutral, place, trip, state, count, asking, mass_ug, mass_source,"   \
     " origin, claim, claim_by, never_offer, hold_until, hold_for, cover, found_place, added_us,"  \
     " reserve, mass_how, size_class, stows, length_mm, width_mm, height_mm, size_guessed, outlet," \
     " scrap_class, waits)"                                                                        \
     " SELECT name, neutral, place, trip, state, ?2, ?3, ?4, iif(?4 IS NULL, NULL, mass_source),"  \
     " id, claim, claim_by,"                                                                       \
     " never_offer, hold_until, hold_for, cover, found_place, ?6, ?5, mass_how, size_class,"       \
     " stows, length_mm, width_mm, height_mm, size_guessed, outlet, scrap_class, waits"            \
     " FROM item WHERE id = ?1")                                                                   \
  X (ITEM_COPY_PHOTOS, "INSERT INTO item_photo (item, photo, position, also)"                      \
                       " SELECT ?2, photo, position, also FROM item_photo WHERE item = ?1")        \
  X (ITEM_COPY_FACTS, "INSERT INTO fact (item, kind, text, source, by_whom, at_us, place)"         \
                      " SELECT ?2, kind, text, source, by_whom, at_us, place FROM fact"            \
                      " WHERE item = ?1 AND withdrawn_us IS NULL ORDER BY id")                     \
  X (ITEM_COPY_CLAIMS, "INSERT INTO claim (item, person, says, at_us)"                             \
                       " SELECT ?2, person, says, at_us FROM claim WHERE item = ?1")               \
  X (ITEM_COPY_PRICES,                                                                             \
     "INSERT INTO price (item, kind, amount, pieces, day, source, remark, at_us)"                  \
     " SELECT ?2, kind, amount, pieces, day, source, remark, at_us FROM price"                     \
     " WHERE item = ?1 AND withdrawn_us IS NULL ORDER BY id")                                      \
  X (ITEM_PHOTOS_DROP, "DELETE FROM item_photo WHERE item = ?1")                                   \
  X (ITEM_NO_COVER, "UPDATE item SET cover = NULL WHERE id = ?1")                                  \
  X (ITEM_DELETE, "DELETE FROM item WHERE id = ?1")                                                \
  X (ITEM_JOINED_ADD, "INSERT INTO item_joined (item, into_item) VALUES (?1, ?2)")                 \
  X (ITEM_JOINED_INTO, "SELECT into_item FROM item_joined WHERE item = ?1")                        \
  X (ITEM_DEALINGS, "SELECT (SELECT count(*) FROM deal_item WHERE item = ?1)"                      \
                    " + (SELECT count(*) FROM docket_line_item WHERE item = ?1)"                   \
                    " + (SELECT count(*) FROM posting WHERE item = ?1)")                           \
  /* the rows of ?2 go over to ?1; those that both have stay with ?2 and are dropped with it */    \
  X (JOIN_PHOTOS, "UPDATE OR IGNORE item_photo SET item = ?1, position = position"                 \
                  " + (SELECT coalesce(max(position), 0) FROM item_photo WHERE item = ?1)"         \
                  " WHERE item = ?2")                                                              \
  X (JOIN_FACTS, "UPDATE fact SET item = ?1 WHERE item = ?2")                                      \
  X (JOIN_QUESTIONS, "UPDATE question SET item = ?1 WHERE item = ?2")                              \
  X (JOIN_JOBS, "UPDATE job SET item = ?1 WHERE item = ?2")                                        \
  X (JOIN_PRICES, "UPDATE price SET item = ?1 WHERE item = ?2")                                    \
  X (JOIN_CLAIMS, "UPDATE OR IGNORE claim SET item = ?1 WHERE item = ?2")                          \
  X (JOIN_TAGS, "UPDATE item_tag SET item = ?1 WHERE item = ?2")                                   \
  X (JOIN_NOTES, "UPDATE field_note SET item = ?1 WHERE item = ?2")                                \
  X (JOIN_ORIGIN, "UPDATE item SET origin = CASE WHEN id = ?1 THEN NULL ELSE ?1 END"               \
                  " WHERE origin = ?2")                                                            \
  X (ITEM_PHOTOS, "SELECT ip.photo FROM item_photo ip JOIN photo p ON p.id = ip.photo"             \
                  " WHERE ip.item = ?1 AND p.aside = 0 ORDER BY ip.also, ip.position, ip.photo")   \
  X (ITEM_PHOTOS_OWN, "SELECT count(*) FROM item_photo ip JOIN photo p ON p.id = ip.photo"         \
                      " WHERE ip.item = ?1 AND p.aside = 0 AND ip.also = 0")                       \
  X (ITEM_PHOTO_AT, "UPDATE item_photo SET position = ?3 WHERE item = ?1 AND photo = ?2"           \
                    " AND position <> ?3")                                                         \
  X (ITEM_PHOTO_HAS, "SELECT 1 FROM item_photo WHERE item = ?1 AND photo = ?2")                    \
  X (ITEM_PHOTO_PUT,                                                                               \
     "INSERT INTO item_photo (item, photo, position, also) VALUES (?1, ?2,"                        \
     " (SELECT coalesce(max(position), 0) + 1 FROM item_photo WHERE item = ?1), ?3)"               \
     " ON CONFLICT (item, photo) DO UPDATE SET also = excluded.also"                               \
     " WHERE also <> excluded.also")                                                               \
  X (ITEM_PHOTO_OWNERS, "SELECT item FROM item_photo WHERE photo = ?1 AND item <> ?2"              \
                        " AND also = 0 ORDER BY item")                                             \
  X (ITEM_PHOTO_OWNERS_ALL, "SELECT item FROM item_photo WHERE photo = ?1 ORDER BY item")          \
  X (ITEM_PHOTO_DROP, "DELETE FROM item_photo WHERE item = ?1 AND photo = ?2")                     \
  X (ITEM_COVER_DROP, "UPDATE item SET cover = NULL, revision = revision + 1"                      \
                      " WHERE id = ?1 AND cover = ?2")                                             \
  X (NO_ITEM_PUT, "INSERT INTO photo_no_item (photo, kind) VALUES (?1, ?2)"                        \
                  " ON CONFLICT (photo) DO UPDATE SET kind = excluded.kind"                        \
                  " WHERE kind <> excluded.kind")                                                  \
  X (NO_ITEM_DROP, "DELETE FROM photo_no_item WHERE photo = ?1")
