/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of yards that fetch scrap themselves. rate: for 1000 kg of the class, from its day
 * on; least_ug: so much of all that the yard would fetch at one go. Private to core/catalogue. Only
 * adds. */
#pragma once

#define SW_SCHEMA_YARDS                                                                            \
  "CREATE TABLE collected_rate (\n"                                                                \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, outlet INTEGER NOT NULL REFERENCES outlet (id),\n"      \
  "  class TEXT NOT NULL, from_day INTEGER NOT NULL, rate INTEGER NOT NULL CHECK (rate >= 0),\n"   \
  "  least_ug INTEGER NOT NULL CHECK (least_ug >= 0),\n"                                           \
  "  UNIQUE (outlet, class, from_day)) STRICT;\n"
