/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of what is said of items: size, reserve, lots, claims of several people, price evidence, yard rates, what
 * was withdrawn, and the search. Private to core/catalogue. Only adds: no table is made anew. */
#pragma once

/* One row of the search, worked out from the rows of the item; feed it wherever they change. */
#define SW_SEARCH_ROW                                                                              \
  "INSERT INTO item_search (rowid, number, name, place, facts, tags)"                              \
  " SELECT i.id, i.id, i.name, p.path,"                                                            \
  " (SELECT group_concat (f.kind || ' ' || f.text, ' ; ') FROM fact f"                             \
  "   WHERE f.item = i.id AND f.withdrawn_us IS NULL),"                                            \
  " (SELECT group_concat (t.tag, ' ') FROM item_tag t WHERE t.item = i.id)"                        \
  " FROM item i JOIN place p ON p.id = i.place "

/* mass_source NULL beside a mass: guessed. mass_how: what it was worked out from, in words. */
#define SW_SCHEMA_ITEMS                                                                            \
  "CREATE TABLE lot (id INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL) STRICT;\n"          \
  "ALTER TABLE item ADD COLUMN size_class TEXT"                                                    \
  " CHECK (size_class IN ('hand','two people','machine'));\n"                                      \
  "ALTER TABLE item ADD COLUMN stows TEXT CHECK (stows IN ('shelf','floor','roof','trailer'));\n"  \
  "ALTER TABLE item ADD COLUMN length_mm INTEGER CHECK (length_mm > 0);\n"                         \
  "ALTER TABLE item ADD COLUMN width_mm INTEGER CHECK (width_mm > 0);\n"                           \
  "ALTER TABLE item ADD COLUMN height_mm INTEGER CHECK (height_mm > 0);\n"                         \
  "ALTER TABLE item ADD COLUMN size_guessed INTEGER NOT NULL DEFAULT 0"                            \
  " CHECK (size_guessed IN (0, 1));\n"                                                             \
  "ALTER TABLE item ADD COLUMN mass_how TEXT;\n"                                                   \
  "ALTER TABLE item ADD COLUMN reserve INTEGER CHECK (reserve >= 0);\n"                            \
  "ALTER TABLE item ADD COLUMN outlet INTEGER REFERENCES outlet (id);\n"                           \
  "ALTER TABLE item ADD COLUMN lot INTEGER REFERENCES lot (id);\n"                                 \
  "ALTER TABLE item ADD COLUMN scrap_class TEXT;\n"                                                \
  "ALTER TABLE item ADD COLUMN waits TEXT CHECK (waits IN ('price','later'));\n"                   \
  "CREATE INDEX item_lot ON item (lot) WHERE lot IS NOT NULL;\n"                                   \
  "ALTER TABLE fact ADD COLUMN place INTEGER REFERENCES place (id);\n"                             \
  "ALTER TABLE fact ADD COLUMN withdrawn_us INTEGER;\n"                                            \
  "ALTER TABLE question ADD COLUMN asked_us INTEGER;\n"                                            \
  "ALTER TABLE question ADD COLUMN answered_us INTEGER;\n"                                         \
  "ALTER TABLE question ADD COLUMN answered_by TEXT;\n"                                            \
  "ALTER TABLE question ADD COLUMN withdrawn_us INTEGER;\n"                                        \
  "ALTER TABLE job ADD COLUMN tools TEXT NOT NULL DEFAULT '';\n"                                   \
  "ALTER TABLE job ADD COLUMN hands INTEGER NOT NULL DEFAULT 1 CHECK (hands > 0);\n"               \
  "ALTER TABLE job ADD COLUMN done_us INTEGER;\n"                                                  \
  "ALTER TABLE job ADD COLUMN withdrawn_us INTEGER;\n"                                             \
  /* what each person says; item.claim and claim_by are its summary: the strongest and earliest */ \
  "CREATE TABLE claim (\n"                                                                         \
  "  item INTEGER NOT NULL REFERENCES item (id), person TEXT NOT NULL,\n"                          \
  "  says TEXT NOT NULL CHECK (says IN ('none','open','mine')), at_us INTEGER NOT NULL,\n"         \
  "  PRIMARY KEY (item, person)) STRICT, WITHOUT ROWID;\n"                                         \
  "INSERT INTO claim (item, person, says, at_us)"                                                  \
  " SELECT id, coalesce (claim_by, ''), claim, added_us FROM item WHERE claim <> 'none';\n"        \
  /* amount is for 'pieces' of it, so that it means the same after a split */                      \
  "CREATE TABLE price (\n"                                                                         \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, item INTEGER NOT NULL REFERENCES item (id),\n"          \
  "  kind TEXT NOT NULL CHECK (kind IN ('paid','new','like things','guessed')),\n"                 \
  "  amount INTEGER NOT NULL CHECK (amount >= 0), pieces INTEGER NOT NULL CHECK (pieces > 0),\n"   \
  "  day INTEGER, source TEXT NOT NULL DEFAULT '', remark TEXT NOT NULL DEFAULT '',\n"             \
  "  at_us INTEGER NOT NULL, withdrawn_us INTEGER) STRICT;\n"                                      \
  "CREATE INDEX price_item ON price (item);\n"                                                     \
  /* where a number went that was joined with another item */                                      \
  "CREATE TABLE item_joined (item INTEGER PRIMARY KEY,\n"                                          \
  "  into_item INTEGER NOT NULL) STRICT;\n"                                                        \
  /* rate: for 1000 kg of the class, from its day on */                                            \
  "CREATE TABLE yard_rate (\n"                                                                     \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, outlet INTEGER NOT NULL REFERENCES outlet (id),\n"      \
  "  class TEXT NOT NULL, from_day INTEGER NOT NULL, rate INTEGER NOT NULL CHECK (rate >= 0),\n"   \
  "  UNIQUE (outlet, class, from_day)) STRICT;\n"                                                  \
  /* the load that the scrap floors assume: the latest row */                                      \
  "CREATE TABLE scrap_load (\n"                                                                    \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, cartage INTEGER NOT NULL CHECK (cartage >= 0),\n"       \
  "  mass_ug INTEGER NOT NULL CHECK (mass_ug > 0)) STRICT;\n"                                      \
  "CREATE VIRTUAL TABLE item_search USING fts5 (number, name, place, facts, tags,"                 \
  " tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3');\n" SW_SEARCH_ROW ";\n"
