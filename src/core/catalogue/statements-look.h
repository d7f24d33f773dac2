/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of turned photos and of what was measured on them. Private to core/catalogue; see statements.h. */
#pragma once

#define SW_QUALITY_COLUMNS                                                                         \
  "SELECT q.photo, q.sharpness, q.focus, q.mean, q.dark, q.bright, q.covered, q.marks"             \
  " FROM photo_quality q "

#define SW_LOOK_STATEMENTS(X)                                                                      \
  X (PHOTO_SET_TURN, "UPDATE photo SET turn = ?2 WHERE id = ?1 AND turn <> ?2")                    \
  X (QUALITY_PUT, "INSERT INTO photo_quality (photo, measure, sharpness, focus, mean, dark,"       \
                  " bright, covered, marks) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)"           \
                  " ON CONFLICT (photo) DO UPDATE SET measure = excluded.measure,"                 \
                  " sharpness = excluded.sharpness, focus = excluded.focus, mean = excluded.mean," \
                  " dark = excluded.dark, bright = excluded.bright, covered = excluded.covered,"   \
                  " marks = excluded.marks")                                                       \
  X (QUALITY_GET, SW_QUALITY_COLUMNS "WHERE q.photo = ?1")                                         \
  X (QUALITY_LIST, SW_QUALITY_COLUMNS "JOIN photo p ON p.id = q.photo"                             \
                                      " WHERE p.aside = 0 AND (?1 = 0 OR p.trip = ?1)"             \
                                      " ORDER BY q.photo")                                         \
  X (QUALITY_MEASURED, "SELECT photo FROM photo_quality WHERE measure >= ?1 ORDER BY photo")
