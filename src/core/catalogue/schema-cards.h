/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of cards and tags: what codes the photos show, and which item bears which tag. Private to
 * core/catalogue. */
#pragma once

/* photo_code is worked out from the pixels; photo_codes_read says which photos were looked at, and by which
 * version of the reader. */
#define SW_SCHEMA_CARDS                                                                            \
  "CREATE TABLE photo_code (\n"                                                                    \
  "  photo INTEGER NOT NULL REFERENCES photo (id), text TEXT NOT NULL,\n"                          \
  "  share INTEGER NOT NULL CHECK (share BETWEEN 0 AND 1000),\n"                                   \
  "  PRIMARY KEY (photo, text)) STRICT, WITHOUT ROWID;\n"                                          \
  "CREATE TABLE photo_codes_read (\n"                                                              \
  "  photo INTEGER PRIMARY KEY REFERENCES photo (id), reader INTEGER NOT NULL) STRICT;\n"          \
  "CREATE TABLE item_tag (\n"                                                                      \
  "  tag INTEGER PRIMARY KEY CHECK (tag > 0),\n"                                                   \
  "  item INTEGER NOT NULL REFERENCES item (id)) STRICT;\n"                                        \
  "CREATE INDEX item_tag_item ON item_tag (item);\n"
