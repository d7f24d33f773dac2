/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of what people ask of a running offer, and how a payment was made. Private to
 * core/catalogue. Only adds. */
#pragma once

/* person NULL: not named, or removed for good. held_until: days since 1970-01-01. */
#define SW_SCHEMA_ENQUIRIES                                                                        \
  "CREATE TABLE enquiry (\n"                                                                       \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, deal INTEGER NOT NULL REFERENCES deal (id),\n"          \
  "  at_us INTEGER NOT NULL, person INTEGER REFERENCES person (id),\n"                             \
  "  amount INTEGER CHECK (amount >= 0), remark TEXT NOT NULL DEFAULT '',\n"                       \
  "  held_until INTEGER,\n"                                                                        \
  "  outcome TEXT NOT NULL CHECK (outcome IN ('asked','held','no-show')),\n"                       \
  "  CHECK (outcome <> 'held' OR held_until IS NOT NULL)) STRICT;\n"                               \
  "CREATE INDEX enquiry_deal ON enquiry (deal, at_us);\n"                                          \
  "CREATE INDEX enquiry_person ON enquiry (person) WHERE person IS NOT NULL;\n"                    \
  "ALTER TABLE payment ADD COLUMN how TEXT NOT NULL DEFAULT '';\n"                                 \
  "ALTER TABLE payment ADD COLUMN to_whom TEXT NOT NULL DEFAULT '';\n"
