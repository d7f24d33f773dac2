/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of what yards pay and of the planned load: X (TAG, "SQL"). Private to core/catalogue.
 */
#pragma once

#define SW_YARD_STATEMENTS(X)                                                                      \
  X (COLLECTED_RATE_PUT, "INSERT INTO collected_rate (outlet, class, from_day, rate, least_ug)"    \
                         " VALUES (?1, ?2, ?3, ?4, ?5) ON CONFLICT (outlet, class, from_day)"      \
                         " DO UPDATE SET rate = excluded.rate, least_ug = excluded.least_ug")      \
  X (COLLECTED_RATES_ON,                                                                           \
     "SELECT r.outlet, o.name, r.class, r.from_day, r.rate, r.least_ug FROM collected_rate r"      \
     " JOIN outlet o ON o.id = r.outlet WHERE r.from_day = (SELECT max (s.from_day)"               \
     "  FROM collected_rate s WHERE s.outlet = r.outlet AND s.class = r.class"                     \
     "  AND s.from_day <= ?1) ORDER BY r.class, r.rate DESC, o.name")                              \
  X (YARD_RATE_PUT,                                                                                \
     "INSERT INTO yard_rate (outlet, class, from_day, rate) VALUES (?1, ?2, ?3, ?4)"               \
     " ON CONFLICT (outlet, class, from_day) DO UPDATE SET rate = excluded.rate")                  \
  X (YARD_RATE_BEST, "SELECT r.rate, r.from_day, o.name FROM yard_rate r"                          \
                     " JOIN outlet o ON o.id = r.outlet"                                           \
                     " WHERE r.class = ?1 AND r.from_day = (SELECT max(s.from_day)"                \
                     "  FROM yard_rate s WHERE s.outlet = r.outlet AND s.class = ?1"               \
                     "  AND s.from_day <= ?2) ORDER BY r.rate DESC, r.id LIMIT 1")                 \
  X (YARD_RATE_DOCKET, "SELECT l.rate, d.up_day, NULL FROM docket_line l"                          \
                       " JOIN deal d ON d.id = l.deal WHERE l.class = ?1 AND l.rate IS NOT NULL"   \
                       " AND d.up_day <= ?2 ORDER BY d.up_day DESC, l.id DESC LIMIT 1")            \
  X (SCRAP_LOAD_ADD, "INSERT INTO scrap_load (cartage, mass_ug) VALUES (?1, ?2)")                  \
  X (SCRAP_LOAD_GET, "SELECT cartage, mass_ug FROM scrap_load ORDER BY id DESC LIMIT 1")
