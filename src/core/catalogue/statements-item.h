/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the item records: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_ITEM_STATEMENTS(X)
