/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of acts, events and undo, and the transaction's own: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

/* What undo may take back, and what stops it. */
#define SW_ACT_KINDS_UNDO "('act','bring-in','barrier')"

#define SW_ACT_STATEMENTS(X)                                                                       \
  X (ACT_BEGIN, "BEGIN IMMEDIATE")                                                                 \
  X (ACT_COMMIT, "COMMIT")                                                                         \
  X (ACT_ROLLBACK, "ROLLBACK")                                                                     \
  X (ACT_SAVEPOINT, "SAVEPOINT act")                                                               \
  X (ACT_RELEASE, "RELEASE act")                                                                   \
  X (ACT_ROLLBACK_TO, "ROLLBACK TO act")                                                           \
  X (ACT_ADD, "INSERT INTO act (at_us, author, kind, sentence) VALUES (?1, ?2, 'act', '')")        \
  X (ACT_DROP, "DELETE FROM act WHERE id = ?1")                                                    \
  X (ACT_NAME, "UPDATE act SET kind = ?2, sentence = ?3, bring_in = ?4, refers = ?5 WHERE id = ?1") \
  X (ACT_MARK_UNDONE, "UPDATE act SET undone_by = ?2 WHERE id = ?1")                               \
  X (ACT_CHANGESET_ADD, "INSERT INTO changeset (act, data) VALUES (?1, ?2)")                       \
  X (ACT_CHANGESET, "SELECT data FROM changeset WHERE act = ?1")                                   \
  X (ACT_LAST_TOLD, "SELECT act FROM event ORDER BY id DESC LIMIT 1")                              \
  X (ACT_TO_UNDO, "SELECT id, kind, sentence, bring_in FROM act"                                   \
                  " WHERE undone_by IS NULL AND id < ?1 AND kind IN " SW_ACT_KINDS_UNDO            \
                  " ORDER BY id DESC LIMIT 1")                                                     \
  /* the latest undo that stands, unless an act came after it */                                   \
  X (ACT_TO_REDO, "SELECT a.id, a.kind, a.sentence, a.bring_in, u.id FROM act u"                   \
                  " JOIN act a ON a.id = u.refers WHERE u.id ="                                    \
                  " (SELECT max (id) FROM act WHERE kind = 'undo' AND undone_by IS NULL"           \
                  "  AND id < ?1)"                                                                 \
                  " AND NOT EXISTS (SELECT 1 FROM act n WHERE n.id > u.id AND n.id < ?1"           \
                  "  AND n.kind IN " SW_ACT_KINDS_UNDO ")")                                        \
  X (ACT_BRING_IN_USED, "SELECT p.file FROM photo p WHERE p.bring_in = ?1 AND p.aside = 0"         \
                        " AND (EXISTS (SELECT 1 FROM item_photo i WHERE i.photo = p.id)"           \
                        " OR EXISTS (SELECT 1 FROM photo_no_item n WHERE n.photo = p.id)"          \
                        " OR EXISTS (SELECT 1 FROM place_photo l WHERE l.photo = p.id)"            \
                        " OR EXISTS (SELECT 1 FROM cost_photo c WHERE c.photo = p.id))"            \
                        " ORDER BY p.id LIMIT 1")                                                  \
  X (ACT_BRING_IN_ASIDE, "UPDATE photo SET aside = ?2 WHERE bring_in = ?1 AND aside <> ?2")        \
  X (ACT_TELL, "INSERT INTO event (act, subject, subject_id, verb, day, sentence)"                 \
               " VALUES (?1, ?2, ?3, ?4, ?5, ?6)")                                                 \
  X (ACT_TELL_AGAIN, "INSERT INTO event (act, subject, subject_id, verb, day, sentence)"           \
                     " SELECT ?2, subject, subject_id, ?3, NULL, ?4 || sentence"                   \
                     " FROM event WHERE act = ?1 ORDER BY id")                                     \
  X (ACT_EVENTS_OF, "SELECT e.id, e.act, a.at_us, e.day, a.author, e.verb, e.sentence,"            \
                    " a.undone_by IS NOT NULL, e.subject, e.subject_id"                            \
                    " FROM event e JOIN act a ON a.id = e.act WHERE e.subject = ?1 AND e.subject_id = ?2 ORDER BY e.id DESC")              \
  X (ACT_EVENT_LIST, "SELECT e.id, e.act, a.at_us, e.day, a.author, e.verb, e.sentence,"           \
                     " a.undone_by IS NOT NULL, e.subject, e.subject_id"                           \
                     " FROM event e JOIN act a ON a.id = e.act ORDER BY e.id")              \
  X (ACT_LATEST, "SELECT coalesce(max(id), 0) FROM act")
