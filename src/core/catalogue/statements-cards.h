/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of codes found on photos and of tags. Private to core/catalogue; see statements.h. */
#pragma once

#define SW_CARDS_STATEMENTS(X)                                                                     \
  X (CODE_CLEAR, "DELETE FROM photo_code WHERE photo = ?1")                                        \
  X (CODE_PUT, "INSERT INTO photo_code (photo, text, share) VALUES (?1, ?2, ?3)"                   \
               " ON CONFLICT (photo, text) DO UPDATE SET share = max (share, excluded.share)")     \
  X (CODE_READ_PUT, "INSERT INTO photo_codes_read (photo, reader) VALUES (?1, ?2)"                 \
                    " ON CONFLICT (photo) DO UPDATE SET reader = excluded.reader")                 \
  X (CODE_READ_LIST, "SELECT photo FROM photo_codes_read WHERE reader >= ?1 ORDER BY photo")       \
  X (CODE_LIST, "SELECT c.photo, c.text, c.share FROM photo_code c JOIN photo p ON p.id = c.photo" \
                " WHERE p.aside = 0 AND (?1 = 0 OR p.trip = ?1) ORDER BY c.photo, c.text")         \
  X (TAG_ITEM, "SELECT item FROM item_tag WHERE tag = ?1")                                         \
  X (TAG_PUT, "INSERT INTO item_tag (tag, item) VALUES (?1, ?2)")                                  \
  X (TAG_DROP, "DELETE FROM item_tag WHERE tag = ?1")                                              \
  X (TAG_LIST, "SELECT tag, item FROM item_tag ORDER BY tag")
