/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of the family's answers. Private to core/catalogue. */
#pragma once

/* at_us: when it was given, by the clock of whoever gave it but never later than when it came. A row
 * is never changed: what is said later is another row. */
#define SW_SCHEMA_ANSWERS                                                                          \
  "CREATE TABLE answer (\n"                                                                        \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, item INTEGER NOT NULL REFERENCES item (id),\n"          \
  "  question INTEGER REFERENCES question (id), person TEXT NOT NULL CHECK (person <> ''),\n"      \
  "  says TEXT NOT NULL CHECK (says IN ('','mine','keep','sell','unsure')),\n"                     \
  "  text TEXT NOT NULL, at_us INTEGER NOT NULL, told_us INTEGER NOT NULL) STRICT;\n"              \
  "CREATE INDEX answer_item ON answer (item, person, at_us);\n"
