/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of enquiries, changed prices of running offers, how payments were made, and of the
 * removal of a buyer's data: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_ENQUIRY_STATEMENTS(X)                                                                   \
  X (ENQUIRY_ADD, "INSERT INTO enquiry (deal, at_us, person, amount, remark, outcome)"             \
                  " VALUES (?1, ?2, (SELECT id FROM person WHERE name = ?3), ?4, ?5, 'asked')")    \
  X (ENQUIRY_LIST, "SELECT e.id, e.deal, e.at_us, p.name, e.amount, e.remark, e.held_until,"       \
                   " e.outcome FROM enquiry e LEFT JOIN person p ON p.id = e.person"               \
                   " WHERE e.deal = ?1 ORDER BY e.at_us, e.id")                                    \
  X (ENQUIRY_GET, "SELECT e.id, e.deal, e.at_us, p.name, e.amount, e.remark, e.held_until,"        \
                  " e.outcome FROM enquiry e LEFT JOIN person p ON p.id = e.person"                \
                  " WHERE e.id = ?1")                                                              \
  X (ENQUIRY_SET, "UPDATE enquiry SET outcome = ?2, held_until = ?3 WHERE id = ?1")                \
  X (DEAL_SET_START, "UPDATE deal SET start = ?2 WHERE id = ?1")                                   \
  X (PAYMENT_TELL, "UPDATE payment SET how = ?2, to_whom = ?3"                                     \
                   " WHERE id = (SELECT max (id) FROM payment WHERE deal = ?1)")                   \
  X (PAYMENT_TOLD, "SELECT day, amount, how, to_whom FROM payment WHERE deal = ?1"                 \
                   " ORDER BY day, id")                                                            \
  X (BUYER_NAMES, "SELECT name FROM person UNION SELECT hold_for FROM item"                        \
                  " WHERE coalesce(hold_for, '') <> '' ORDER BY 1")                                \
  X (BUYER_ID, "SELECT id FROM person WHERE name = ?1")                                            \
  X (BUYER_DEALS, "UPDATE deal SET buyer = NULL"                                                   \
                  " WHERE buyer = (SELECT id FROM person WHERE name = ?1)")                        \
  X (BUYER_ENQUIRIES, "DELETE FROM enquiry"                                                        \
                      " WHERE person = (SELECT id FROM person WHERE name = ?1)")                   \
  X (BUYER_HOLDS, "UPDATE item SET hold_for = NULL WHERE hold_for = ?1")                           \
  X (BUYER_REMOVE, "DELETE FROM person WHERE name = ?1")                                           \
  X (BUYER_IN_EVENTS, "SELECT id, sentence FROM event WHERE instr (sentence, ?1) > 0")             \
  X (BUYER_EVENT_SET, "UPDATE event SET sentence = ?2 WHERE id = ?1")                              \
  X (BUYER_IN_ACTS, "SELECT id, sentence FROM act WHERE instr (sentence, ?1) > 0")                 \
  X (BUYER_ACT_SET, "UPDATE act SET sentence = ?2 WHERE id = ?1")                                  \
  X (BUYER_CHANGESETS, "DELETE FROM changeset WHERE instr (data, ?1) > 0")                         \
  X (BUYER_ENQUIRY_IDS, "SELECT id FROM enquiry"                                                   \
                        " WHERE person = (SELECT id FROM person WHERE name = ?1)")                 \
  X (CHANGESETS_OF_ENQUIRIES, "SELECT act, data FROM changeset"                                    \
                              " WHERE instr (data, CAST ('enquiry' AS BLOB)) > 0")                 \
  X (CHANGESET_DROP, "DELETE FROM changeset WHERE act = ?1")
