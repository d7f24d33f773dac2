/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the check: X (TAG, "SQL"); each finds what should not be. Private to core/catalogue. */
#pragma once

#define SW_CHECK_STATEMENTS(X)                                                                     \
  X (CHECK_INTEGRITY, "PRAGMA integrity_check (20)")                                               \
  X (CHECK_LINKS, "SELECT \"table\", rowid, parent FROM pragma_foreign_key_check LIMIT 100")       \
  X (CHECK_PHOTOS, "SELECT id, file, stored, size, hash FROM photo ORDER BY id")                   \
  X (CHECK_BRING_INS, "SELECT source FROM bring_in WHERE closed_us IS NULL ORDER BY id")           \
  X (CHECK_ITEMS, "SELECT id, name, state, hold_until IS NULL"                                     \
                  " FROM item ORDER BY id")                                                        \
  X (CHECK_PLACES, "SELECT p.path FROM place p LEFT JOIN place q ON q.id = p.parent"               \
                   " WHERE p.path <> CASE WHEN p.parent IS NULL THEN p.name"                       \
                   " ELSE coalesce (q.path, '') || ' > ' || p.name END ORDER BY p.id")             \
  X (CHECK_UNDONE, "SELECT a.id, a.sentence FROM act a JOIN act u ON u.id = a.undone_by"           \
                   " WHERE u.id <= a.id OR u.kind <> CASE WHEN a.kind = 'undo' THEN 'redo'"        \
                   " ELSE 'undo' END OR a.kind NOT IN ('act','bring-in','undo')"                   \
                   " OR (u.kind = 'undo' AND u.refers IS NOT a.id) ORDER BY a.id")                 \
  X (CHECK_CHANGESETS, "SELECT c.act, c.data, a.sentence FROM changeset c"                         \
                       " JOIN act a ON a.id = c.act ORDER BY c.act")
