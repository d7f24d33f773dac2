/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of receipts: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_RECEIPT_STATEMENTS(X)                                                                   \
  X (RECEIPT_PHOTO_ADD, "INSERT OR IGNORE INTO cost_photo (cost, photo) VALUES (?1, ?2)")
