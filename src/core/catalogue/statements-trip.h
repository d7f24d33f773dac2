/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the trip records: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_TRIP_STATEMENTS(X)
