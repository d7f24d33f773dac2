/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of receipts: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_RECEIPT_STATEMENTS(X)                                                                   \
  X (RECEIPT_PHOTO_ADD, "INSERT OR IGNORE INTO cost_photo (cost, photo) VALUES (?1, ?2)")          \
  X (RECEIPT_LIST, "SELECT l.photo, c.id, c.day, c.amount, c.remark FROM cost_photo l"             \
                   " JOIN cost c ON c.id = l.cost JOIN photo p ON p.id = l.photo"                  \
                   " WHERE ?1 = 0 OR p.trip = ?1 ORDER BY l.photo, c.id")
