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
  " i.revision"                                                                                    \
  " FROM item i JOIN place pl ON pl.id = i.place "

#define SW_ITEM_STATEMENTS(X)                                                                      \
  X (ITEM_GET, SW_ITEM_COLUMNS "WHERE i.id = ?1")                                                  \
  /* index item_name; the caller keeps those that are equal to the letter */                       \
  X (ITEM_NAMED, "SELECT id, name, coalesce(origin, 0) FROM item"                                  \
                 " WHERE name = ?1 COLLATE NOCASE ORDER BY id")                                    \
  X (ITEM_NAMES, "SELECT DISTINCT name FROM item ORDER BY name")                                   \
  X (ITEM_NAMES_IN_PLACE, "SELECT id, name FROM item WHERE place = ?1 ORDER BY id")                \
  X (ITEM_LIST, SW_ITEM_COLUMNS                                                                    \
     "WHERE (?1 = 0 OR i.place = ?1 OR (?2 AND substr(pl.path, 1, length(?3)) = ?3))"              \
     " AND (?4 = 0 OR i.trip = ?4) AND (?5 IS NULL OR i.state = ?5) ORDER BY i.id")                \
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
  X (ITEM_SET_STATE, "UPDATE item SET state = ?2, hold_until = ?3, hold_for = ?4,"                 \
                     " revision = revision + 1 WHERE id = ?1")                                     \
  X (ITEM_SET_REST, "UPDATE item SET count = ?2, asking = ?3, mass_ug = ?4,"                       \
                    " revision = revision + 1 WHERE id = ?1")                                      \
  X (ITEM_INSERT_PART,                                                                             \
     "INSERT INTO item (name, neutral, place, trip, state, count, asking, mass_ug, mass_source,"   \
     " origin, claim, claim_by, never_offer, hold_until, hold_for, cover, found_place, added_us)"  \
     " SELECT name, neutral, place, trip, state, ?2, ?3, ?4, mass_source, id, claim, claim_by,"    \
     " never_offer, hold_until, hold_for, cover, found_place, ?5 FROM item WHERE id = ?1")         \
  X (ITEM_COPY_PHOTOS, "INSERT INTO item_photo (item, photo, position, also)"                      \
                       " SELECT ?2, photo, position, also FROM item_photo WHERE item = ?1")        \
  X (ITEM_COPY_FACTS, "INSERT INTO fact (item, kind, text, source, by_whom, at_us)"                \
                      " SELECT ?2, kind, text, source, by_whom, at_us FROM fact"                   \
                      " WHERE item = ?1 ORDER BY id")                                              \
  X (ITEM_PHOTOS, "SELECT ip.photo FROM item_photo ip JOIN photo p ON p.id = ip.photo"             \
                  " WHERE ip.item = ?1 AND p.aside = 0 ORDER BY ip.also, ip.position, ip.photo")   \
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
  X (NO_ITEM_DROP, "DELETE FROM photo_no_item WHERE photo = ?1")                                   \
  X (FACT_INSERT, "INSERT INTO fact (item, kind, text, source, by_whom, at_us)"                    \
                  " VALUES (?1, ?2, ?3, ?4, ?5, ?6)")                                              \
  X (FACT_LIST, "SELECT id, item, kind, text, source, by_whom FROM fact"                           \
                " WHERE item = ?1 ORDER BY id")                                                    \
  X (QUESTION_INSERT, "INSERT INTO question (item, text, person, by_day) VALUES (?1, ?2, ?3, ?4)") \
  /* ?1 = 0: of every item */                                                                      \
  X (QUESTION_LIST, "SELECT id, item, text, person, by_day, answer FROM question"                  \
                    " WHERE ?1 = 0 OR item = ?1 ORDER BY id")                                      \
  X (QUESTION_GET, "SELECT id, item, text, person, by_day, answer FROM question WHERE id = ?1")    \
  X (QUESTION_ANSWER, "UPDATE question SET answer = ?2 WHERE id = ?1")                             \
  X (JOB_INSERT, "INSERT INTO job (item, place, kind, text) VALUES (?1, ?2, ?3, ?4)")              \
  /* ?1 = 0: the jobs of every item and place */                                                   \
  X (JOB_LIST, "SELECT id, coalesce(item, 0), coalesce(place, 0), kind, text, done FROM job"       \
               " WHERE ?1 = 0 OR item = ?1 ORDER BY id")                                           \
  X (JOB_GET, "SELECT id, coalesce(item, 0), coalesce(place, 0), kind, text, done FROM job"        \
              " WHERE id = ?1")                                                                    \
  X (JOB_SET_DONE, "UPDATE job SET done = ?2 WHERE id = ?1")
