/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of rounds, notes of offers and caught results: X (TAG, "SQL"). Private to
 * core/catalogue. */
#pragma once

#define SW_OFFER_STATEMENTS(X)                                                                     \
  X (OFFER_NOTE_SET,                                                                               \
     "UPDATE deal SET hoped = CASE ?2 WHEN 1 THEN ?3 ELSE hoped END,"                              \
     " round = CASE ?4 WHEN 1 THEN nullif (?5, 0) ELSE round END,"                                 \
     " own_ref = CASE WHEN ?6 IS NULL THEN own_ref ELSE nullif (?6, '') END,"                      \
     " title = coalesce (?7, title), text = coalesce (?8, text), extra = coalesce (?9, extra)"     \
     " WHERE id = ?1")                                                                             \
  X (OFFER_NOTE_GET, "SELECT d.hoped, d.round, r.title, d.own_ref, d.title, d.text, d.extra"       \
                     " FROM deal d LEFT JOIN round r ON r.id = d.round WHERE d.id = ?1")           \
  X (OFFER_BEFORE,                                                                                 \
     "SELECT d.id FROM deal_item i JOIN deal d ON d.id = i.deal"                                   \
     " WHERE i.item = (SELECT min (item) FROM deal_item WHERE deal = ?1) AND d.kind = 'offer'"     \
     " AND d.id <> ?1 AND NOT EXISTS (SELECT item FROM deal_item WHERE deal = d.id"                \
     " EXCEPT SELECT item FROM deal_item WHERE deal = ?1)"                                         \
     " AND NOT EXISTS (SELECT item FROM deal_item WHERE deal = ?1"                                 \
     " EXCEPT SELECT item FROM deal_item WHERE deal = d.id)"                                       \
     " ORDER BY d.up_day DESC, d.id DESC LIMIT 1")                                                 \
  X (OFFER_BY_OWN_REF, "SELECT id FROM deal WHERE own_ref = ?2 COLLATE NOCASE"                     \
                       " AND result = 'running' AND (?1 = 0 OR outlet = ?1) ORDER BY id")          \
  X (ROUND_ENSURE, "INSERT INTO round (title, made_us) VALUES (?1, ?2)"                            \
                   " ON CONFLICT (title) DO NOTHING")                                              \
  X (ROUND_ID, "SELECT id FROM round WHERE title = ?1")                                            \
  X (ROUND_TITLE, "SELECT title FROM round WHERE id = ?1")                                         \
  X (ROUND_LIST,                                                                                   \
     "SELECT r.id, r.title, count (d.id), coalesce (sum (d.result = 'sold'), 0),"                  \
     " coalesce (sum (d.result = 'no sale'), 0), coalesce (sum (d.result = 'withdrawn'), 0),"      \
     " min (d.up_day) FROM round r LEFT JOIN deal d ON d.round = r.id GROUP BY r.id ORDER BY "     \
     "r.id")                                                                                       \
  X (CAUGHT_PUT, "INSERT INTO caught (deal, result, amount, verdict, at_us)"                       \
                 " VALUES (?1, ?2, ?3, ?4, ?5) ON CONFLICT (deal) DO UPDATE SET"                   \
                 " result = ?2, amount = ?3, verdict = ?4, at_us = ?5")                            \
  X (CAUGHT_REMOVE, "DELETE FROM caught WHERE deal = ?1")                                          \
  X (CAUGHT_GET, "SELECT result, amount, verdict, at_us FROM caught WHERE deal = ?1")              \
  X (CAUGHT_LIST, "SELECT c.deal FROM caught c JOIN deal d ON d.id = c.deal"                       \
                  " ORDER BY d.closes_us IS NULL, d.closes_us, d.ref")                             \
  X (DEALS_CLOSING, "SELECT" SW_DEAL_COLUMNS "WHERE d.kind = 'offer' AND d.closes_us >= ?1"        \
                    " AND d.closes_us < ?2 ORDER BY d.closes_us, d.ref")                           \
  X (DEAL_LAST_ID, "SELECT coalesce (max (id), 0) FROM deal")
