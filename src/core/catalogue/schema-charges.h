/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of classes that a yard takes only against a charge: a rate below zero. Makes the two
 * tables of rates anew without the bound; nothing refers to them. Private to core/catalogue. */
#pragma once

#define SW_SCHEMA_CHARGES                                                                          \
  "CREATE TABLE yard_rate_new (\n"                                                                 \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, outlet INTEGER NOT NULL REFERENCES outlet (id),\n"      \
  "  class TEXT NOT NULL, from_day INTEGER NOT NULL, rate INTEGER NOT NULL,\n"                     \
  "  UNIQUE (outlet, class, from_day)) STRICT;\n"                                                  \
  "INSERT INTO yard_rate_new SELECT id, outlet, class, from_day, rate FROM yard_rate;\n"           \
  "DROP TABLE yard_rate;\n"                                                                        \
  "ALTER TABLE yard_rate_new RENAME TO yard_rate;\n"                                               \
  "CREATE TABLE collected_rate_new (\n"                                                            \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, outlet INTEGER NOT NULL REFERENCES outlet (id),\n"      \
  "  class TEXT NOT NULL, from_day INTEGER NOT NULL, rate INTEGER NOT NULL,\n"                     \
  "  least_ug INTEGER NOT NULL CHECK (least_ug >= 0),\n"                                           \
  "  UNIQUE (outlet, class, from_day)) STRICT;\n"                                                  \
  "INSERT INTO collected_rate_new SELECT id, outlet, class, from_day, rate, least_ug"              \
  " FROM collected_rate;\n"                                                                        \
  "DROP TABLE collected_rate;\n"                                                                   \
  "ALTER TABLE collected_rate_new RENAME TO collected_rate;\n"
