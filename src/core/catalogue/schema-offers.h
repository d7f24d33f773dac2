/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of what the window knows of an offer beyond the money table: rounds, texts, the
 * outlet's own reference, and results caught on a closing night that nobody confirmed yet. Private
 * to core/catalogue. Only adds. */
#pragma once

#define SW_SCHEMA_OFFERS                                                                           \
  "CREATE TABLE round (id INTEGER PRIMARY KEY AUTOINCREMENT, title TEXT NOT NULL UNIQUE,\n"        \
  "  made_us INTEGER NOT NULL) STRICT;\n"                                                          \
  "ALTER TABLE deal ADD COLUMN hoped INTEGER CHECK (hoped >= 0);\n"                                \
  "ALTER TABLE deal ADD COLUMN round INTEGER REFERENCES round (id);\n" /* what the outlet calls    \
                                                                          the offer; unique only   \
                                                                          within the outlet, and   \
                                                                          it may be mistyped */    \
  "ALTER TABLE deal ADD COLUMN own_ref TEXT;\n"                                                    \
  "ALTER TABLE deal ADD COLUMN title TEXT NOT NULL DEFAULT '';\n"                                  \
  "ALTER TABLE deal ADD COLUMN text TEXT NOT NULL DEFAULT '';\n" /* also to be had with it */      \
  "ALTER TABLE deal ADD COLUMN extra TEXT NOT NULL DEFAULT '';\n"                                  \
  "CREATE INDEX deal_round ON deal (round) WHERE round IS NOT NULL;\n"                             \
  "CREATE INDEX deal_own_ref ON deal (own_ref) WHERE own_ref IS NOT NULL;\n"                       \
  "CREATE TABLE caught (\n"                                                                        \
  "  deal INTEGER PRIMARY KEY REFERENCES deal (id),\n"                                             \
  "  result TEXT NOT NULL CHECK (result IN ('sold','no sale')),\n"                                 \
  "  amount INTEGER NOT NULL DEFAULT 0 CHECK (amount >= 0),\n"                                     \
  "  verdict TEXT, at_us INTEGER NOT NULL) STRICT;\n"
