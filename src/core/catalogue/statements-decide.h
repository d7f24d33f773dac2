/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the deciding round: worth, people, things sold before. Private to core/catalogue;
 * see statements.h. */
#pragma once

#define SW_DECIDE_STATEMENTS(X)                                                                    \
  /* standing price evidence of what is still Found, the older first */                            \
  X (DECIDE_PRICES, "SELECT p.item, p.kind, p.amount, p.pieces FROM price p"                       \
                    " JOIN item i ON i.id = p.item"                                                \
                    " WHERE i.state = 'found' AND p.withdrawn_us IS NULL ORDER BY p.item, p.id")   \
  /* whoever was named anywhere, in the order first named there */                                 \
  X (PEOPLE, "SELECT who FROM (SELECT person AS who, 0 AS kind, id FROM question"                  \
             " UNION ALL SELECT by_whom, 1, id FROM fact"                                          \
             " UNION ALL SELECT person, 2, item FROM claim)"                                       \
             " WHERE coalesce(who, '') <> '' GROUP BY who ORDER BY min(kind), min(id), who"        \
             " LIMIT 200")                                                                         \
  /* price and reversals of each sale (kinds of postings.h), of the latest sales under such names  \
   */                                                                                              \
  X (LIKE_THINGS,                                                                                  \
     "SELECT i.id, i.name, i.count, o.name,"                                                       \
     " (SELECT sum(p.minor) FROM posting p WHERE p.item = i.id AND p.deal = d.id"                  \
     "   AND p.kind IN (0, 2)) AS brought,"                                                        \
     " d.ended_day, iif(d.kind = 'offer', d.ended_day - d.up_day, NULL)"                           \
     " FROM item_search s JOIN item i ON i.id = s.rowid JOIN deal_item di ON di.item = i.id"       \
     " JOIN deal d ON d.id = di.deal LEFT JOIN outlet o ON o.id = d.outlet"                        \
     " WHERE item_search MATCH ?1 AND i.id <> ?2 AND d.result = 'sold' AND d.kind <> 'docket'"     \
     " AND brought > 0 ORDER BY d.ended_day DESC, i.id LIMIT 500")                                 \
  X (QUESTION_LATEST, "SELECT text, person FROM question WHERE item = ?1 AND withdrawn_us IS NULL" \
                      " ORDER BY id DESC LIMIT 1")
