/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema: what the plan knows besides its boxes. walked: a person said that the place was looked
 * through, whatever was found there. plan_scale has one row or none. Private to core/catalogue. */
#pragma once

#define SW_SCHEMA_PLAN                                                                             \
  "ALTER TABLE place ADD COLUMN walked INTEGER NOT NULL DEFAULT 0 CHECK (walked IN (0, 1));\n"     \
  "CREATE TABLE plan_scale (id INTEGER PRIMARY KEY CHECK (id = 1),\n"                              \
  "  um_per_unit INTEGER NOT NULL CHECK (um_per_unit > 0)) STRICT;\n"
