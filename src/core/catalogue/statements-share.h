/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the family's account and of the columns of outlets' statements: X (TAG, "SQL").
 * Private to core/catalogue. */
#pragma once

#define SW_SHARE_STATEMENTS(X)                                                                     \
  X (SHARE_PUT, "INSERT INTO share (person, part) VALUES (?1, ?2)"                                 \
                " ON CONFLICT (person) DO UPDATE SET part = ?2")                                   \
  X (SHARE_LIST, "SELECT id, person, part FROM share WHERE part > 0 ORDER BY id")                  \
  X (FAMILY_ADD, "INSERT INTO family_entry (person, kind, day, amount, item, remark)"              \
                 " VALUES (?1, ?2, ?3, ?4, ?5, ?6)")                                               \
  X (FAMILY_WITHDRAW,                                                                              \
     "UPDATE family_entry SET withdrawn_us = ?2 WHERE id = ?1 AND withdrawn_us IS NULL")           \
  X (FAMILY_HAS, "SELECT 1 FROM family_entry WHERE id = ?1")                                       \
  X (FAMILY_LIST, "SELECT id, person, kind, day, amount, item, remark FROM family_entry"           \
                  " WHERE withdrawn_us IS NULL ORDER BY day, id")                                  \
  X (STATEMENT_COLUMN_PUT, "INSERT INTO statement_column (outlet, field, heading)"                 \
                           " VALUES (?1, ?2, ?3) ON CONFLICT (outlet, field) DO UPDATE SET"        \
                           " heading = ?3")                                                        \
  X (STATEMENT_COLUMN_GET,                                                                         \
     "SELECT heading FROM statement_column WHERE outlet = ?1 AND field = ?2")                      \
  X (DEALS_OF_OUTLET, "SELECT" SW_DEAL_COLUMNS "WHERE d.outlet = ?1 AND d.kind <> 'docket'"        \
                      " ORDER BY d.id")
