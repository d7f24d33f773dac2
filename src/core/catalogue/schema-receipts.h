/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of receipts: which photos show what a cost was for. Private to core/catalogue. */
#pragma once

/* A receipt may be on several photos, and one photo may show several receipts. */
#define SW_SCHEMA_RECEIPTS                                                                         \
  "CREATE TABLE cost_photo (cost INTEGER NOT NULL REFERENCES cost (id),\n"                         \
  "  photo INTEGER NOT NULL REFERENCES photo (id), PRIMARY KEY (cost, photo)) STRICT, WITHOUT "    \
  "ROWID;\n"                                                                                       \
  "CREATE INDEX cost_photo_photo ON cost_photo (photo);\n"
