/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema: how long an outlet lets title and text be, in characters; 0: no limit. Private to
 * core/catalogue. Only adds. */
#pragma once

#define SW_SCHEMA_LIMITS                                                                           \
  "CREATE TABLE text_limit (outlet INTEGER PRIMARY KEY REFERENCES outlet (id),\n"                  \
  "  title INTEGER NOT NULL CHECK (title BETWEEN 0 AND 1000),\n"                                   \
  "  body INTEGER NOT NULL CHECK (body BETWEEN 0 AND 100000)) STRICT;\n"
