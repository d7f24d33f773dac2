/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of what a buyer paid too much and got back. cash: out of the cash box. Private to
 * core/catalogue. */
#pragma once

#define SW_SCHEMA_PAID_BACK                                                                        \
  "CREATE TABLE paid_back (\n"                                                                     \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, deal INTEGER NOT NULL REFERENCES deal (id),\n"          \
  "  day INTEGER NOT NULL, amount INTEGER NOT NULL CHECK (amount >= 0),\n"                         \
  "  cash INTEGER NOT NULL DEFAULT 0 CHECK (cash IN (0, 1))) STRICT;\n"                            \
  "CREATE INDEX paid_back_deal ON paid_back (deal, day);\n"
