/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of what is said of items: facts, questions, claims, jobs, prices, lots, rates, and the search. Private to
 * core/catalogue; see statements.h. */
#pragma once

#include "core/catalogue/schema-items.h"

#define SW_FACT_COLUMNS                                                                            \
  "SELECT f.id, f.item, f.kind, f.text, f.source, f.by_whom, coalesce(f.place, 0), pl.path,"       \
  " f.withdrawn_us FROM fact f LEFT JOIN place pl ON pl.id = f.place "
#define SW_QUESTION_COLUMNS                                                                        \
  "SELECT q.id, q.item, q.text, q.person, q.by_day, q.answer, q.asked_us, q.answered_us,"          \
  " q.answered_by, q.withdrawn_us, i.name, pl.path FROM question q"                                \
  " JOIN item i ON i.id = q.item JOIN place pl ON pl.id = i.place "
#define SW_JOB_COLUMNS                                                                             \
  "SELECT j.id, coalesce(j.item, 0), coalesce(j.place, 0), j.kind, j.text, j.done, j.tools,"       \
  " j.hands, coalesce(i.name, pl.path) FROM job j LEFT JOIN item i ON i.id = j.item"               \
  " LEFT JOIN place pl ON pl.id = j.place WHERE j.withdrawn_us IS NULL "
#define SW_PRICE_COLUMNS                                                                           \
  "SELECT id, item, kind, amount, pieces, day, source, remark, withdrawn_us FROM price "

#define SW_SAID_STATEMENTS(X)                                                                      \
  X (FACT_INSERT, "INSERT INTO fact (item, kind, text, source, by_whom, at_us)"                    \
                  " VALUES (?1, ?2, ?3, ?4, ?5, ?6)")                                              \
  X (FACT_LIST, SW_FACT_COLUMNS "WHERE f.item = ?1 AND f.withdrawn_us IS NULL ORDER BY f.id")      \
  X (FACT_GET, SW_FACT_COLUMNS "WHERE f.id = ?1")                                                  \
  X (FACT_OF_KIND, "SELECT id FROM fact WHERE item = ?1 AND kind = ?2 AND withdrawn_us IS NULL"    \
                   " ORDER BY id DESC")                                                            \
  X (FACT_UPDATE, "UPDATE fact SET text = ?2, source = ?3, by_whom = ?4 WHERE id = ?1")            \
  X (FACT_SET_PLACE, "UPDATE fact SET place = ?2 WHERE id = ?1")                                   \
  X (FACT_WITHDRAW, "UPDATE fact SET withdrawn_us = ?2 WHERE id = ?1")                             \
  X (FACT_TEXTS, "SELECT text FROM fact WHERE kind = ?1 AND withdrawn_us IS NULL GROUP BY text"    \
                 " ORDER BY count(*) DESC, text LIMIT 200")                                        \
  X (QUESTION_INSERT, "INSERT INTO question (item, text, person, by_day) VALUES (?1, ?2, ?3, ?4)") \
  /* ?1 = 0: of every item */                                                                      \
  X (QUESTION_LIST, SW_QUESTION_COLUMNS                                                            \
     "WHERE (?1 = 0 OR q.item = ?1) AND q.withdrawn_us IS NULL ORDER BY q.id")                     \
  X (QUESTION_OPEN, SW_QUESTION_COLUMNS                                                            \
     "WHERE q.answer IS NULL AND q.withdrawn_us IS NULL"                                           \
     " AND (?1 IS NULL OR coalesce(q.person, '') = ?1)"                                            \
     " ORDER BY q.person IS NULL, q.person, q.by_day IS NULL, q.by_day, pl.path, q.id")            \
  X (QUESTION_GET, SW_QUESTION_COLUMNS "WHERE q.id = ?1")                                          \
  X (QUESTION_ANSWER, "UPDATE question SET answer = ?2, answered_us = ?3, answered_by = ?4"        \
                      " WHERE id = ?1")                                                            \
  X (QUESTION_SET_ASKED, "UPDATE question SET asked_us = ?2 WHERE id = ?1")                        \
  X (QUESTION_WITHDRAW, "UPDATE question SET withdrawn_us = ?2 WHERE id = ?1")                     \
  X (CLAIM_LIST, "SELECT c.item, c.person, c.says, c.at_us, i.name, pl.path FROM claim c"          \
                 " JOIN item i ON i.id = c.item JOIN place pl ON pl.id = i.place"                  \
                 " WHERE ?1 = 0 OR c.item = ?1 ORDER BY c.item, CASE c.says WHEN 'mine' THEN 0"    \
                 " WHEN 'open' THEN 1 ELSE 2 END, c.at_us, c.person")                              \
  X (CLAIM_CLASHES, "SELECT item FROM claim WHERE says = 'mine' GROUP BY item HAVING count(*) > 1" \
                    " ORDER BY item")                                                              \
  /* who says the same again said it first when he did */                                          \
  X (CLAIM_PUT, "INSERT INTO claim (item, person, says, at_us) VALUES (?1, ?2, ?3, ?4)"            \
                " ON CONFLICT (item, person) DO UPDATE SET says = excluded.says,"                  \
                " at_us = excluded.at_us WHERE says <> excluded.says")                             \
  X (CLAIM_SETTLE, "UPDATE claim SET says = 'none', at_us = ?2 WHERE item = ?1 AND says <> 'none'") \
  X (CLAIMS_DROP, "DELETE FROM claim WHERE item = ?1")                                             \
  X (JOB_INSERT, "INSERT INTO job (item, place, kind, text, tools, hands)"                         \
                 " VALUES (?1, ?2, ?3, ?4, ?5, ?6)")                                               \
  /* ?1 = 0: the jobs of every item and place */                                                   \
  X (JOB_LIST, SW_JOB_COLUMNS "AND (?1 = 0 OR j.item = ?1) ORDER BY j.id")                         \
  X (JOB_GET, SW_JOB_COLUMNS "AND j.id = ?1")                                                      \
  X (JOB_SET_DONE, "UPDATE job SET done = ?2, done_us = ?3 WHERE id = ?1")                         \
  X (JOB_WITHDRAW, "UPDATE job SET withdrawn_us = ?2 WHERE id = ?1")                               \
  X (PRICE_INSERT, "INSERT INTO price (item, kind, amount, pieces, day, source, remark, at_us)"    \
                   " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)")                                     \
  X (PRICE_LIST, SW_PRICE_COLUMNS "WHERE item = ?1 AND withdrawn_us IS NULL ORDER BY id")          \
  X (PRICE_GET, SW_PRICE_COLUMNS "WHERE id = ?1")                                                  \
  X (PRICE_UPDATE, "UPDATE price SET kind = ?2, amount = ?3, pieces = ?4, day = ?5, source = ?6,"  \
                   " remark = ?7 WHERE id = ?1")                                                   \
  X (PRICE_WITHDRAW, "UPDATE price SET withdrawn_us = ?2 WHERE id = ?1")                           \
  X (LOT_INSERT, "INSERT INTO lot (name) VALUES (?1)")                                             \
  X (OUTLET_NAME, "SELECT name FROM outlet WHERE id = ?1")                                         \
  X (SEARCH_DROP, "DELETE FROM item_search WHERE rowid = ?1")                                      \
  X (SEARCH_PUT, SW_SEARCH_ROW "WHERE i.id = ?1")                                                  \
  X (SEARCH_OF_PLACE, "SELECT id FROM item WHERE place = ?1")
