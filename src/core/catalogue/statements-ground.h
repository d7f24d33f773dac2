/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the ground plan, what its boxes show, and the walk. Private to core/catalogue; see
 * statements.h. */
#pragma once

/* An item counts where it stands now; the walk led to where it was found. */
#define SW_FOUND_AT "coalesce(i.found_place, i.place)"

#define SW_GROUND_STATEMENTS(X)                                                                    \
  X (GROUND_LAST, "SELECT coalesce(max(walk_order), 0) FROM place"                                 \
                  " WHERE coalesce(parent, 0) = ?1 AND id <> ?2")                                  \
  /* the first thing in the way of taking it away, in words */                                     \
  X (GROUND_HOLDS,                                                                                 \
     "SELECT 'items' FROM item WHERE place = ?1 OR found_place = ?1"                               \
     " UNION ALL SELECT 'places inside it' FROM place WHERE parent = ?1"                           \
     " UNION ALL SELECT 'photos' FROM place_photo WHERE place = ?1"                                \
     " UNION ALL SELECT 'field notes' FROM field_note WHERE place = ?1"                            \
     " UNION ALL SELECT 'jobs' FROM job WHERE place = ?1"                                          \
     " UNION ALL SELECT 'facts' FROM fact WHERE place = ?1"                                        \
     " UNION ALL SELECT 'lines of a docket' FROM docket_line WHERE place = ?1"                     \
     " UNION ALL SELECT 'money booked' FROM posting WHERE place = ?1 LIMIT 1")                     \
  /* proposals are worked out again */                                                             \
  X (GROUND_STOPS_FORGET, "UPDATE walk_stop SET place = NULL WHERE place = ?1")                    \
  X (GROUND_REMOVE, "DELETE FROM place WHERE id = ?1")                                             \
  X (GROUND_SET_WALKED, "UPDATE place SET walked = ?2 WHERE id = ?1")                              \
  X (GROUND_SET_OFF, "UPDATE place SET off_property = ?3"                                          \
                     " WHERE id = ?1 OR substr(path, 1, length(?2)) = ?2")                         \
  X (GROUND_SCALE, "SELECT um_per_unit FROM plan_scale")                                           \
  X (GROUND_SET_SCALE, "INSERT INTO plan_scale (id, um_per_unit) VALUES (1, ?1)"                   \
                       " ON CONFLICT (id) DO UPDATE SET um_per_unit = excluded.um_per_unit")       \
  X (GROUND_FIXES,                                                                                 \
     "SELECT p.latitude, p.longitude FROM photo p WHERE p.aside = 0 AND p.latitude IS NOT NULL"    \
     " AND coalesce(p.position_error_m, 0) <= ?2"                                                  \
     " AND (p.id IN (SELECT photo FROM place_photo WHERE place = ?1)"                              \
     "  OR p.id IN (SELECT ip.photo FROM item i JOIN item_photo ip ON ip.item = i.id"              \
     "   WHERE ip.also = 0 AND " SW_FOUND_AT " = ?1)) ORDER BY p.id")                              \
  /* one pass over the items; a photo to take is one that is missing or was asked for */           \
  X (FIGURES_ITEMS,                                                                                \
     "SELECT i.place, i.state, count(*), sum(i.asking), sum(i.mass_ug),"                           \
     " sum(NOT EXISTS (SELECT 1 FROM item_photo ip JOIN photo p ON p.id = ip.photo"                \
     "   AND p.aside = 0 WHERE ip.item = i.id)"                                                    \
     "  OR EXISTS (SELECT 1 FROM job j WHERE j.item = i.id AND j.kind = 'photograph'"              \
     "   AND j.done = 0 AND j.withdrawn_us IS NULL))"                                              \
     " FROM item i GROUP BY i.place, i.state ORDER BY i.place")                                    \
  X (FIGURES_PHOTOS, "SELECT i.place, count(DISTINCT ip.photo) FROM item i"                        \
                     " JOIN item_photo ip ON ip.item = i.id"                                       \
                     " JOIN photo p ON p.id = ip.photo AND p.aside = 0"                            \
                     " GROUP BY i.place ORDER BY i.place")                                         \
  X (FIGURES_WALKED, "SELECT id FROM place WHERE walked = 1"                                       \
                     " UNION SELECT place FROM place_photo"                                        \
                     " UNION SELECT found_place FROM item WHERE found_place IS NOT NULL"           \
                     " UNION SELECT place FROM field_note WHERE place IS NOT NULL"                 \
                     " UNION SELECT place FROM walk_stop WHERE place IS NOT NULL ORDER BY 1")      \
  /* what a person decided first, then what the place itself shows, then what is proposed */       \
  X (WALK_PHOTO_PLACES,                                                                            \
     "SELECT ip.photo, " SW_FOUND_AT ", ip.also AS rank FROM photo p"                              \
     " JOIN item_photo ip ON ip.photo = p.id JOIN item i ON i.id = ip.item"                        \
     " WHERE p.trip = ?1 AND p.aside = 0"                                                          \
     " UNION ALL SELECT pp.photo, pp.place, 2 FROM photo p"                                        \
     " JOIN place_photo pp ON pp.photo = p.id WHERE p.trip = ?1 AND p.aside = 0"                   \
     " UNION ALL SELECT wp.photo, coalesce(" SW_FOUND_AT ", w.place), 3 FROM walk_stop w"          \
     " JOIN walk_stop_photo wp ON wp.stop = w.first LEFT JOIN item i ON i.id = w.item"             \
     " WHERE w.trip = ?1 AND (i.id IS NOT NULL OR w.place IS NOT NULL)"                            \
     " ORDER BY 1, 3, 2")
