/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of the family's account: who has which share of the takings, and what each has paid,
 * taken and holds; and of the columns of outlets' statements. Private to core/catalogue. Only adds.
 */
#pragma once

/* part: ten-thousandths of a percent. family_entry.kind: see shares.h. */
#define SW_SCHEMA_SHARES                                                                           \
  "CREATE TABLE share (id INTEGER PRIMARY KEY AUTOINCREMENT, person TEXT NOT NULL UNIQUE,\n"       \
  "  part INTEGER NOT NULL CHECK (part BETWEEN 0 AND 1000000)) STRICT;\n"                          \
  "CREATE TABLE family_entry (\n"                                                                  \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, person TEXT NOT NULL,\n"                                \
  "  kind TEXT NOT NULL CHECK (kind IN ('advance','cost','taken','payout','holds')),\n"            \
  "  day INTEGER NOT NULL, amount INTEGER NOT NULL CHECK (amount >= 0),\n"                         \
  "  item INTEGER REFERENCES item (id), remark TEXT NOT NULL DEFAULT '',\n"                        \
  "  withdrawn_us INTEGER) STRICT;\n"                                                              \
  "CREATE INDEX family_entry_person ON family_entry (person);\n"                                   \
  "CREATE TABLE statement_column (\n"                                                              \
  "  outlet INTEGER NOT NULL REFERENCES outlet (id), field TEXT NOT NULL,\n"                       \
  "  heading TEXT NOT NULL, PRIMARY KEY (outlet, field)) STRICT, WITHOUT ROWID;\n"
