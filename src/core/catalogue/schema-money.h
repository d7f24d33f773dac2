/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of the money: outlets and their charges, deals with what was said of them, costs,
 * postings. Private to core/catalogue. Units: day = days since 1970-01-01; *_us = microseconds
 * since 1970-01-01T00:00:00Z; money in minor units; mass in micrograms. Postings are only ever
 * added; a difference is a further row. */
#pragma once

#define SW_SCHEMA_MONEY                                                                            \
  "CREATE TABLE outlet (\n"                                                                        \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL UNIQUE, kind TEXT,\n"                \
  "  running_days INTEGER CHECK (running_days >= 0), pay_days INTEGER CHECK (pay_days >= 0),\n"    \
  "  collect_days INTEGER CHECK (collect_days >= 0),\n"                                            \
  "  rounding TEXT NOT NULL CHECK (rounding IN ('half-up','half-even'))) STRICT;\n" /* a version   \
                                                                                       holds from  \
                                                                                       its day     \
                                                                                       until the   \
                                                                                       next of the \
                                                                                       same outlet \
                                                                                       and name;   \
                                                                                       basis NULL  \
                                                                                       ends it */  \
  "CREATE TABLE charge (\n"                                                                        \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, outlet INTEGER NOT NULL REFERENCES outlet (id),\n"      \
  "  name TEXT NOT NULL, from_day INTEGER NOT NULL,\n"                                             \
  "  basis TEXT CHECK (basis IN ('offer','sale','price','price+delivery')),\n"                     \
  "  flat INTEGER CHECK (flat >= 0), tiers TEXT, least INTEGER CHECK (least >= 0),\n"              \
  "  most INTEGER CHECK (most >= 0), tax TEXT,\n"                                                  \
  "  free_offers INTEGER NOT NULL DEFAULT 0 CHECK (free_offers >= 0),\n"                           \
  "  CHECK ((coalesce (basis, '') IN ('offer','sale')) = (flat IS NOT NULL)),\n"                   \
  "  CHECK ((coalesce (basis, '') IN ('price','price+delivery')) = (tiers IS NOT NULL)),\n"        \
  "  UNIQUE (outlet, name, from_day)) STRICT;\n" /* what a ref names: an offer, a sale without     \
                                                    one, a docket */                               \
  "CREATE TABLE deal (\n"                                                                          \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, ref TEXT NOT NULL UNIQUE,\n"                            \
  "  kind TEXT NOT NULL CHECK (kind IN ('offer','sale','docket')),\n"                              \
  "  outlet INTEGER REFERENCES outlet (id), up_day INTEGER NOT NULL, closes_us INTEGER,\n"         \
  "  start INTEGER CHECK (start >= 0), reserve INTEGER CHECK (reserve >= 0),\n"                    \
  "  result TEXT NOT NULL CHECK (result IN ('running','sold','no sale','withdrawn')),\n"           \
  "  ended_day INTEGER, ended_us INTEGER,\n"                                                       \
  "  amount INTEGER NOT NULL DEFAULT 0 CHECK (amount >= 0),\n"                                     \
  "  delivery INTEGER NOT NULL DEFAULT 0 CHECK (delivery >= 0),\n"                                 \
  "  buyer INTEGER REFERENCES person (id), collected_day INTEGER,\n"                               \
  "  gross_ug INTEGER CHECK (gross_ug >= 0), tare_ug INTEGER CHECK (tare_ug >= 0),\n"              \
  "  split_rule TEXT CHECK (split_rule IN ('asking','mass','equally')),\n"                         \
  "  CHECK ((result = 'running') = (ended_day IS NULL)),\n"                                        \
  "  CHECK (kind <> 'docket' OR (gross_ug IS NOT NULL AND tare_ug IS NOT NULL))) STRICT;\n"        \
  "CREATE INDEX deal_outlet ON deal (outlet, kind);\n"                                             \
  "CREATE INDEX deal_result ON deal (kind, result, closes_us);\n" /* the items of a deal (several: \
                                                                     a lot); weight of the split,  \
                                                                     fixed when it ended */        \
  "CREATE TABLE deal_item (\n"                                                                     \
  "  deal INTEGER NOT NULL REFERENCES deal (id), item INTEGER NOT NULL REFERENCES item (id),\n"    \
  "  before TEXT NOT NULL, weight INTEGER CHECK (weight >= 0),\n"                                  \
  "  PRIMARY KEY (deal, item)) STRICT, WITHOUT ROWID;\n"                                           \
  "CREATE INDEX deal_item_item ON deal_item (item, deal);\n"                                       \
  "CREATE TABLE interest (\n"                                                                      \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, deal INTEGER NOT NULL REFERENCES deal (id),\n"          \
  "  at_us INTEGER NOT NULL, looks INTEGER CHECK (looks >= 0),\n"                                  \
  "  followers INTEGER CHECK (followers >= 0), bids INTEGER CHECK (bids >= 0),\n"                  \
  "  amount INTEGER CHECK (amount >= 0)) STRICT;\n"                                                \
  "CREATE INDEX interest_deal ON interest (deal, at_us);\n" /* as worked out by the terms when the \
                                                               deal ended */                       \
  "CREATE TABLE fee_computed (\n"                                                                  \
  "  deal INTEGER NOT NULL REFERENCES deal (id), charge TEXT NOT NULL,\n"                          \
  "  amount INTEGER NOT NULL CHECK (amount >= 0), tax INTEGER NOT NULL CHECK (tax >= 0),\n"        \
  "  PRIMARY KEY (deal, charge)) STRICT, WITHOUT ROWID;\n" /* as charged by the outlet, tax        \
                                                              included; of one charge the latest   \
                                                              day counts */                        \
  "CREATE TABLE fee_charged (\n"                                                                   \
  "  deal INTEGER NOT NULL REFERENCES deal (id), charge TEXT NOT NULL, day INTEGER NOT NULL,\n"    \
  "  amount INTEGER NOT NULL CHECK (amount >= 0),\n"                                               \
  "  PRIMARY KEY (deal, charge, day)) STRICT, WITHOUT ROWID;\n"                                    \
  "CREATE TABLE payment (\n"                                                                       \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, deal INTEGER NOT NULL REFERENCES deal (id),\n"          \
  "  day INTEGER NOT NULL, amount INTEGER NOT NULL CHECK (amount >= 0)) STRICT;\n"                 \
  "CREATE INDEX payment_deal ON payment (deal, day);\n" /* whole: the rest of the sale fell        \
                                                           through; amount is what was left of it  \
                                                           then */                                 \
  "CREATE TABLE reversal (\n"                                                                      \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, deal INTEGER NOT NULL REFERENCES deal (id),\n"          \
  "  day INTEGER NOT NULL, amount INTEGER NOT NULL CHECK (amount >= 0),\n"                         \
  "  whole INTEGER NOT NULL CHECK (whole IN (0, 1))) STRICT;\n"                                    \
  "CREATE INDEX reversal_deal ON reversal (deal, day);\n"                                          \
  "CREATE TABLE docket_line (\n"                                                                   \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, deal INTEGER NOT NULL REFERENCES deal (id),\n"          \
  "  class TEXT NOT NULL, net_ug INTEGER NOT NULL CHECK (net_ug >= 0),\n"                          \
  "  rate INTEGER CHECK (rate >= 0), amount INTEGER NOT NULL CHECK (amount >= 0),\n"               \
  "  place INTEGER REFERENCES place (id)) STRICT;\n"                                               \
  "CREATE INDEX docket_line_deal ON docket_line (deal);\n"                                         \
  "CREATE TABLE docket_line_item (\n"                                                              \
  "  line INTEGER NOT NULL REFERENCES docket_line (id),\n"                                         \
  "  item INTEGER NOT NULL REFERENCES item (id), weight INTEGER CHECK (weight >= 0),\n"            \
  "  PRIMARY KEY (line, item)) STRICT, WITHOUT ROWID;\n"                                           \
  "CREATE INDEX docket_line_item_item ON docket_line_item (item);\n"                               \
  "CREATE TABLE cost (\n"                                                                          \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, trip INTEGER REFERENCES trip (id),\n"                   \
  "  day INTEGER NOT NULL, amount INTEGER NOT NULL CHECK (amount >= 0),\n"                         \
  "  remark TEXT NOT NULL DEFAULT '') STRICT;\n"                                                   \
  "CREATE INDEX cost_trip ON cost (trip);\n"                                                       \
  "CREATE TABLE posting (\n"                                                                       \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, deal INTEGER NOT NULL REFERENCES deal (id),\n"          \
  "  item INTEGER REFERENCES item (id), place INTEGER REFERENCES place (id),\n"                    \
  "  kind INTEGER NOT NULL CHECK (kind BETWEEN 0 AND 4), charge TEXT NOT NULL DEFAULT '',\n"       \
  "  day INTEGER NOT NULL, minor INTEGER NOT NULL CHECK (minor <> 0)) STRICT;\n" /* all that the   \
                                                                                    takings read,  \
                                                                                    so that they   \
                                                                                    step over this \
                                                                                    alone */       \
  "CREATE INDEX posting_takings ON posting (deal, item, place, kind, day, minor);\n"               \
  "CREATE INDEX posting_item ON posting (item);\n" /* rows of the money table that are booked, in  \
                                                      their settled form */                        \
  "CREATE TABLE booked (\n"                                                                        \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, content TEXT NOT NULL) STRICT;\n"                       \
  "CREATE INDEX booked_content ON booked (content);\n"
