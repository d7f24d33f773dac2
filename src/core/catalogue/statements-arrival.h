/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of arrivals: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_ARRIVAL_STATEMENTS(X)                                                                   \
  X (ARRIVAL_LIST, "SELECT id, size, hash, stored, kind, coalesce(trip, 0), bring_in, aside, remark FROM photo")   \
  X (ARRIVAL_OPEN, "SELECT id FROM bring_in WHERE closed_us IS NULL ORDER BY id LIMIT 1")          \
  X (ARRIVAL_TAKE_BACK, "UPDATE photo SET aside = 0, bring_in = ?2 WHERE id = ?1")
