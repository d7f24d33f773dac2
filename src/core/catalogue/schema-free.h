/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of the offers of a month that are free: each charge that fell on an ended offer keeps
 * what it comes to, whether it is due at all, how many offers of a month its terms let go free, and
 * whether this offer is one of them (waived). So the free ones can be counted again, by the terms
 * of then, when offers of the same month are entered later. Rows that older versions left out
 * because nothing was due are added as not due: they count, and cost nothing. Private to
 * core/catalogue. */
#pragma once

#define SW_SCHEMA_FREE                                                                             \
  "ALTER TABLE fee_computed ADD COLUMN due INTEGER NOT NULL DEFAULT 1 CHECK (due IN (0, 1));\n"    \
  "ALTER TABLE fee_computed ADD COLUMN free_offers INTEGER NOT NULL DEFAULT 0"                     \
  " CHECK (free_offers >= 0);\n"                                                                   \
  "ALTER TABLE fee_computed ADD COLUMN waived INTEGER NOT NULL DEFAULT 0"                          \
  " CHECK (waived IN (0, 1));\n"                                                                   \
  "CREATE INDEX fee_computed_free ON fee_computed (deal) WHERE free_offers > 0;\n"                 \
  "INSERT INTO fee_computed (deal, charge, amount, tax, due, free_offers)"                         \
  " SELECT d.id, c.name, 0, 0, 0, c.free_offers FROM deal d JOIN charge c ON c.outlet = d.outlet"  \
  " WHERE d.kind = 'offer' AND d.result <> 'running' AND c.basis IS NOT NULL"                      \
  " AND c.from_day = (SELECT max (e.from_day) FROM charge e WHERE e.outlet = c.outlet"             \
  " AND e.name = c.name AND e.from_day <= d.up_day)"                                               \
  " AND NOT EXISTS (SELECT 1 FROM fee_computed f WHERE f.deal = d.id AND f.charge = c.name);\n"    \
  "UPDATE fee_computed SET free_offers = coalesce ((SELECT c.free_offers FROM deal d"              \
  " JOIN charge c ON c.outlet = d.outlet WHERE d.id = fee_computed.deal AND d.kind = 'offer'"      \
  " AND c.name = fee_computed.charge AND c.from_day <= d.up_day"                                   \
  " ORDER BY c.from_day DESC LIMIT 1), 0) WHERE due = 1;\n"
