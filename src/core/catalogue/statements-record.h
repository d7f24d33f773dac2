/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the record of ended offers: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_KIND_OF(item)                                                                           \
  "(SELECT f.text FROM fact f WHERE f.item = " item " AND f.kind = 'kind'"                         \
  " AND f.withdrawn_us IS NULL ORDER BY f.id DESC LIMIT 1)"
#define SW_LATEST_OF(column)                                                                       \
  "(SELECT n." column " FROM interest n WHERE n.deal = d.id AND n." column                         \
  " IS NOT NULL ORDER BY n.at_us DESC, n.id DESC LIMIT 1)"

#define SW_RECORD_STATEMENTS(X)                                                                    \
  X (PAST_OFFERS,                                                                                  \
     "SELECT d.id, d.outlet, min (di.item), d.result = 'sold' AND NOT EXISTS (SELECT 1"            \
     " FROM reversal r WHERE r.deal = d.id AND r.whole = 1), d.amount,"                            \
     " CASE WHEN count (*) = count (i.asking) THEN sum (i.asking) END, d.start, "                  \
     "i.name," SW_KIND_OF ("di.item") ", " SW_LATEST_OF ("looks") ", " SW_LATEST_OF (              \
         "followers") ", " SW_LATEST_OF ("bids") " FROM deal d JOIN deal_item di ON di.deal = "    \
                                                 "d.id JOIN item i ON i.id = di.item"              \
                                                 " WHERE d.kind = 'offer' AND d.result IN "        \
                                                 "('sold', 'no sale') AND d.outlet IS NOT NULL"    \
                                                 " GROUP BY d.id ORDER BY d.ended_us, d.id")       \
  X (PAST_INTEREST,                                                                                \
     "SELECT n.looks, n.followers, n.bids FROM interest n JOIN deal_item di ON di.deal = n.deal"   \
     " WHERE di.item = ?1 ORDER BY n.at_us DESC, n.id DESC LIMIT 1")                               \
  X (PAST_KIND, "SELECT " SW_KIND_OF ("?1"))
