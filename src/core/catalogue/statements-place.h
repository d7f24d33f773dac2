/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the place records: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_PLACE_STATEMENTS(X)
