/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of outlets, deals, costs and postings: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_DEAL_COLUMNS                                                                            \
  " d.id, d.ref, d.kind, d.outlet, o.name, d.up_day, d.closes_us, d.start, d.reserve, d.result,"   \
  " d.ended_day, d.ended_us, d.amount, d.delivery, p.name, d.collected_day, d.gross_ug,"           \
  " d.tare_ug, d.split_rule"                                                                       \
  " FROM deal d LEFT JOIN outlet o ON o.id = d.outlet LEFT JOIN person p ON p.id = d.buyer "

#define SW_MONEY_STATEMENTS(X)                                                                     \
  X (OUTLET_PUT, "INSERT INTO outlet (name, kind, running_days, pay_days, collect_days, rounding)" \
                 " VALUES (?1, ?2, ?3, ?4, ?5, ?6) ON CONFLICT (name) DO UPDATE SET"               \
                 " kind = ?2, running_days = ?3, pay_days = ?4, collect_days = ?5, rounding = ?6") \
  X (OUTLET_FIND, "SELECT id, name, kind, running_days, pay_days, collect_days, rounding"          \
                  " FROM outlet WHERE name = ?1")                                                  \
  X (OUTLET_LIST, "SELECT id, name, kind, running_days, pay_days, collect_days, rounding"          \
                  " FROM outlet")                                                                  \
  X (CHARGE_PUT, "INSERT INTO charge (outlet, name, from_day, basis, flat, tiers, least, most,"    \
                 " tax, free_offers) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)"             \
                 " ON CONFLICT (outlet, name, from_day) DO UPDATE SET basis = ?4, flat = ?5,"      \
                 " tiers = ?6, least = ?7, most = ?8, tax = ?9, free_offers = ?10")                \
  X (CHARGE_LIST, "SELECT id, outlet, name, from_day, basis, flat, tiers, least, most, tax,"       \
                  " free_offers FROM charge WHERE outlet = ?1 ORDER BY name, from_day")            \
  X (DEAL_ADD, "INSERT INTO deal (ref, kind, outlet, up_day, closes_us, start, reserve, result,"   \
               " ended_day, ended_us, amount, delivery, buyer, collected_day, gross_ug, tare_ug)"  \
               " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12,"                       \
               " (SELECT id FROM person WHERE name = ?13), ?14, ?15, ?16)")                        \
  X (DEAL_FIND, "SELECT" SW_DEAL_COLUMNS "WHERE d.ref = ?1")                                       \
  X (DEAL_GET, "SELECT" SW_DEAL_COLUMNS "WHERE d.id = ?1")                                         \
  X (DEAL_LIST, "SELECT" SW_DEAL_COLUMNS "ORDER BY d.id")                                          \
  X (DEAL_LIST_RUNNING, "SELECT" SW_DEAL_COLUMNS "WHERE d.kind = 'offer' AND d.result = 'running'" \
                        " ORDER BY d.closes_us IS NULL, d.closes_us, d.ref")                       \
  X (DEAL_END, "UPDATE deal SET result = ?2, ended_day = ?3, ended_us = ?4, amount = ?5,"          \
               " delivery = ?6, buyer = (SELECT id FROM person WHERE name = ?7) WHERE id = ?1")    \
  X (DEAL_SET_COLLECTED, "UPDATE deal SET collected_day = ?2 WHERE id = ?1")                       \
  X (DEAL_SET_RULE, "UPDATE deal SET split_rule = ?2 WHERE id = ?1")                               \
  X (DEAL_CLOSINGS,                                                                                \
     "SELECT d.id, d.ref, coalesce (d.closes_us, d.ended_us), min (i.item), d.up_day,"             \
     " d.result = 'running'"                                                                       \
     " FROM deal d JOIN deal_item i ON i.deal = d.id"                                              \
     " WHERE d.outlet = ?1 AND d.kind = 'offer'"                                                   \
     " AND coalesce (d.closes_us, d.ended_us) IS NOT NULL GROUP BY d.id")                          \
  X (DEAL_ITEM_ADD, "INSERT INTO deal_item (deal, item, before) VALUES (?1, ?2, ?3)")              \
  X (DEAL_ITEMS, "SELECT di.item, di.before, di.weight, i.state, i.asking, i.mass_ug, i.name"      \
                 " FROM deal_item di JOIN item i ON i.id = di.item WHERE di.deal = ?1"             \
                 " ORDER BY di.item")                                                              \
  X (DEAL_LABELS, "SELECT d.id, d.ref, coalesce (d.ended_day, d.up_day), i.name FROM deal d"       \
                  " LEFT JOIN deal_item di ON di.deal = d.id LEFT JOIN item i ON i.id = di.item"   \
                  " ORDER BY d.id, di.item")                                                       \
  X (DEAL_ITEM_SET_WEIGHT, "UPDATE deal_item SET weight = ?3 WHERE deal = ?1 AND item = ?2")       \
  X (DEAL_RUNNING, "SELECT d.id FROM deal_item di JOIN deal d ON d.id = di.deal"                   \
                   " WHERE di.item = ?1 AND d.result = 'running' ORDER BY d.id")                   \
  X (DEAL_OF_ITEM, "SELECT deal FROM deal_item WHERE item = ?1 ORDER BY deal")                     \
  X (DEAL_STANDING, "SELECT d.id FROM deal_item di JOIN deal d ON d.id = di.deal"                  \
                    " WHERE di.item = ?1 AND d.result = 'sold' AND NOT EXISTS (SELECT 1"           \
                    " FROM reversal r WHERE r.deal = d.id AND r.whole = 1) ORDER BY d.id")         \
  X (DEAL_GONE_ITEMS,                                                                              \
     "SELECT di.item, d.kind = 'docket', d.ended_day, i.scrap_class, i.mass_ug"                    \
     " FROM deal d JOIN deal_item di ON di.deal = d.id JOIN item i ON i.id = di.item"              \
     " WHERE d.result = 'sold' AND NOT EXISTS (SELECT 1 FROM reversal r WHERE r.deal = d.id"       \
     " AND r.whole = 1) ORDER BY di.item, d.ended_us DESC, d.id DESC")                             \
  X (FEE_ADD_COMPUTED, "INSERT INTO fee_computed (deal, charge, amount, tax, due, free_offers)"    \
                       " VALUES (?1, ?2, ?3, ?4, ?5, ?6)")                                         \
  X (FEE_ANY_FREE, "SELECT EXISTS (SELECT 1 FROM fee_computed f JOIN deal d ON d.id = f.deal"      \
                   " WHERE f.free_offers > 0 AND d.outlet = ?1)")                                  \
  X (FEE_COUNTED, "SELECT f.deal, f.charge, f.due, f.free_offers, f.waived, d.ended_day"           \
                  " FROM deal d JOIN fee_computed f ON f.deal = d.id"                              \
                  " WHERE d.outlet = ?1 AND d.kind = 'offer' ORDER BY f.charge, f.deal")           \
  X (FEE_SET_WAIVED, "UPDATE fee_computed SET waived = ?3 WHERE deal = ?1 AND charge = ?2")        \
  X (FEE_ADD_CHARGED,                                                                              \
     "INSERT INTO fee_charged (deal, charge, day, amount) VALUES (?1, ?2, ?3, ?4)")                \
  X (FEE_COMPUTED, "SELECT charge, amount, tax, 0 FROM fee_computed WHERE deal = ?1"               \
                   " AND due = 1 AND waived = 0 ORDER BY charge")                                  \
  X (FEE_CHARGED, "SELECT charge, amount, 0, day FROM fee_charged WHERE deal = ?1"                 \
                  " ORDER BY charge, day")                                                         \
  X (PAYMENT_ADD, "INSERT INTO payment (deal, day, amount) VALUES (?1, ?2, ?3)")                   \
  X (PAYMENT_LIST, "SELECT day, amount, 0 FROM payment WHERE deal = ?1 ORDER BY day, id")          \
  X (PAID_BACK_ADD, "INSERT INTO paid_back (deal, day, amount) VALUES (?1, ?2, ?3)")               \
  X (PAID_BACK_IN_CASH, "UPDATE paid_back SET cash = 1"                                            \
                        " WHERE id = (SELECT max (id) FROM paid_back WHERE deal = ?1)")            \
  X (PAID_BACK_LIST, "SELECT day, amount, 0 FROM paid_back WHERE deal = ?1 ORDER BY day, id")      \
  X (PAID_BACK_CASH, "SELECT coalesce (sum (amount), 0) FROM paid_back WHERE deal = ?1 AND cash")  \
  X (REVERSAL_ADD, "INSERT INTO reversal (deal, day, amount, whole) VALUES (?1, ?2, ?3, ?4)")      \
  X (REVERSAL_LIST, "SELECT day, amount, whole FROM reversal WHERE deal = ?1"                      \
                    " ORDER BY whole, day, id")                                                    \
  X (INTEREST_ADD, "INSERT INTO interest (deal, at_us, looks, followers, bids, amount)"            \
                   " VALUES (?1, ?2, ?3, ?4, ?5, ?6)")                                             \
  X (INTEREST_LIST, "SELECT at_us, looks, followers, bids, amount FROM interest WHERE deal = ?1"   \
                    " ORDER BY at_us, id")                                                         \
  X (DOCKET_LINE_ADD, "INSERT INTO docket_line (deal, class, net_ug, rate, amount, place)"         \
                      " VALUES (?1, ?2, ?3, ?4, ?5, ?6)")                                          \
  X (DOCKET_LINES, "SELECT l.id, l.class, l.net_ug, l.rate, l.amount, l.place, i.item, i.weight"   \
                   " FROM docket_line l LEFT JOIN docket_line_item i ON i.line = l.id"             \
                   " WHERE l.deal = ?1 ORDER BY l.id, i.item")                                     \
  X (DOCKET_WEIGHED,                                                                               \
     "SELECT d.id, d.ref, o.name, d.ended_day, d.amount, (SELECT coalesce (sum (minor), 0) FROM "  \
     "posting p WHERE p.deal = d.id AND p.kind = ?1), l.id, l.class, l.net_ug, i.name, "           \
     "i.scrap_class FROM deal d LEFT JOIN outlet o ON o.id = d.outlet JOIN docket_line l ON "      \
     "l.deal = d.id LEFT JOIN docket_line_item li ON li.line = l.id LEFT JOIN item i ON i.id = "   \
     "li.item WHERE d.kind = 'docket' ORDER BY d.id DESC, l.id, li.item")                          \
  X (DOCKET_LINE_ITEM_ADD, "INSERT INTO docket_line_item (line, item) VALUES (?1, ?2)")            \
  X (DOCKET_LINE_ITEM_SET_WEIGHT,                                                                  \
     "UPDATE docket_line_item SET weight = ?3 WHERE line = ?1 AND item = ?2")                      \
  X (COST_ADD, "INSERT INTO cost (trip, day, amount, remark) VALUES (?1, ?2, ?3, ?4)")             \
  X (COST_LIST, "SELECT id, trip, day, amount, remark FROM cost ORDER BY id")                      \
  X (BUYER_ENSURE, "INSERT INTO person (name) VALUES (?1) ON CONFLICT (name) DO NOTHING")          \
  X (BOOKED_COUNT, "SELECT count(*) FROM booked WHERE content = ?1")                               \
  X (BOOKED_ADD, "INSERT INTO booked (content) VALUES (?1)")                                       \
  X (POSTING_ADD, "INSERT INTO posting (deal, item, place, kind, charge, day, minor)"              \
                  " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)")                                          \
  X (POSTING_EACH, "SELECT deal, item, place, kind, day, minor FROM posting"                       \
                   " INDEXED BY posting_takings ORDER BY deal, item, place, kind, day, minor")     \
  X (POSTING_SUMS, "SELECT deal, item, place, kind, day, sum (minor), charge FROM posting"         \
                   " WHERE deal = ?1 GROUP BY item, place, kind, charge, day")                     \
  X (CREDIT_ITEMS, "SELECT id, trip, coalesce (found_place, place) FROM item ORDER BY id")         \
  X (CREDIT_DEALS, "SELECT id, outlet, result = 'sold', collected_day, round FROM deal ORDER BY "  \
                   "id")
